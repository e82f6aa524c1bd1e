/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TESTS_FUZZ_H
#define GIRDLE_TESTS_FUZZ_H

/* What clang's fuzzer calls, and what its programs share. `make fuzz` builds and runs them all; tests/fuzz/corpus holds
 * what each begins from. A finding is kept in tests/fuzz/corpus and as a named test of its room. */

#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "girdle/base.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* A promise that must hold whatever the input. */
#define FUZZ_HOLDS(promise) ((promise) ? (void)0 : abort())

/* A call that stops after so many steps, so that one input cannot take long. */
typedef struct fuzz_call {
  girdle_call call;
  girdle_error error;
  uint64_t steps_left;
} fuzz_call;

static inline int32_t fuzz_tick(void *context, uint64_t steps, double done) {
  fuzz_call *of = context;
  (void)done;
  if (steps >= of->steps_left) return 1;
  of->steps_left -= steps;
  return 0;
}

static inline girdle_call *fuzz_begin(fuzz_call *to, uint64_t most_steps) {
  girdle_call_init(&to->call, sizeof to->call);
  girdle_error_init(&to->error, sizeof to->error);
  to->steps_left = most_steps;
  to->call.error = &to->error;
  to->call.watch.context = to;
  to->call.watch.tick = fuzz_tick;
  return &to->call;
}

/* A status and the error it left: both say the same, a refusal has its words, and none blames the library. */
static inline void fuzz_status(const fuzz_call *of, int32_t status) {
  FUZZ_HOLDS(status >= GIRDLE_OK && status < GIRDLE_STATUS_END && status != GIRDLE_INTERNAL);
  if (status) FUZZ_HOLDS(of->error.status == status && of->error.message[0]);
}

#endif
