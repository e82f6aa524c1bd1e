/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TESTS_SUPPORT_H
#define GIRDLE_TESTS_SUPPORT_H

/* What every C test uses: cmocka, a call with an error store and a counting, failing allocator, near equality. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "girdle/girdle.h"

/* A call whose allocator counts live bytes and refuses the allocation number `refuse_at` (from 1; 0: none) and all
 * after. */
typedef struct test_call {
  girdle_call call;
  girdle_error error;
  int64_t live_bytes, allocations, refuse_at;
} test_call;

static inline void *test_resize(void *context, void *block, uint64_t old_bytes, uint64_t new_bytes) {
  test_call *test = context;
  void *moved;
  if (new_bytes == 0) {
    if (block) test->live_bytes -= (int64_t)old_bytes;
    free(block);
    return NULL;
  }
  if (new_bytes > old_bytes || !block) {
    test->allocations++;
    if (test->refuse_at && test->allocations >= test->refuse_at) return NULL;
  }
  moved = realloc(block, (size_t)new_bytes);
  if (moved) test->live_bytes += (int64_t)new_bytes - (block ? (int64_t)old_bytes : 0);
  return moved;
}

static inline girdle_call *test_begin(test_call *test) {
  memset(test, 0, sizeof *test);
  girdle_call_init(&test->call, sizeof test->call);
  girdle_error_init(&test->error, sizeof test->error);
  test->call.error = &test->error;
  test->call.memory.context = test;
  test->call.memory.resize = test_resize;
  return &test->call;
}

/* Clears the error so that the call can be used again. */
static inline girdle_call *test_again(test_call *test) {
  girdle_error_init(&test->error, sizeof test->error);
  return &test->call;
}

#define assert_near(actual, expected, tolerance) \
  test_assert_near((actual), (expected), (tolerance), #actual, __FILE__, __LINE__)

static inline void test_assert_near(double actual, double expected, double tolerance, const char *what,
                                    const char *file, int line) {
  if (fabs(actual - expected) <= tolerance) return;
  print_error("%s is %.17g, expected %.17g within %g (off by %g)\n", what, actual, expected, tolerance,
              actual - expected);
  _fail(file, line);
}

#define assert_ok(test, expression) \
  test_assert_status((expression), GIRDLE_OK, &(test)->error, #expression, __FILE__, __LINE__)
#define assert_status(test, expression, expected) \
  test_assert_status((expression), (expected), &(test)->error, #expression, __FILE__, __LINE__)

static inline void test_assert_status(int32_t status, int32_t expected, const girdle_error *error, const char *what,
                                      const char *file, int line) {
  if (status == expected) return;
  print_error("%s gave %s, expected %s: %s\n", what, girdle_status_text(status), girdle_status_text(expected),
              error->message);
  _fail(file, line);
}

/* Runs `work` with the allocator refusing the 1st, 2nd, ... allocation until one run succeeds: every failure must be
 * GIRDLE_MEMORY and leave nothing behind. `work` frees what it makes. */
static inline void test_sweep_allocations(int32_t (*work)(girdle_call *call)) {
  test_call test;
  int32_t status = GIRDLE_MEMORY;
  for (int64_t refuse_at = 1; status != GIRDLE_OK; refuse_at++) {
    test_begin(&test);
    test.refuse_at = refuse_at;
    status = work(&test.call);
    if (status != GIRDLE_OK) assert_status(&test, status, GIRDLE_MEMORY);
    assert_int_equal(test.live_bytes, 0);
    assert_true(refuse_at < 100000);
  }
}

/* A repeatable stream for property tests (splitmix64), and a double in [0, 1). */
static inline uint64_t test_random(uint64_t *state) {
  uint64_t z = (*state += 0x9e3779b97f4a7c15u);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}
static inline double test_uniform(uint64_t *state) {
  return (double)(test_random(state) >> 11) * 0x1p-53;
}

#endif
