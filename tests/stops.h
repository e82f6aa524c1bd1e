/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TESTS_STOPS_H
#define GIRDLE_TESTS_STOPS_H

/* Work that is stopped by its watch, or refused memory, wherever it may be. */

#include "support.h"

typedef struct stop_at {
  int64_t left; /* ticks that are still let pass */
} stop_at;

static inline int32_t stop_tick(void *context, uint64_t steps, double done) {
  stop_at *at = context;
  (void)steps, (void)done;
  return --at->left < 0;
}

/* Stops the work at its 1st, 2nd, ... tick, later ones with growing steps, until one run succeeds: every stop must be
 * told, and leave nothing behind. `work` frees what it makes. */
static inline void test_sweep_stops(int32_t (*work)(girdle_call *call)) {
  int32_t status = GIRDLE_STOPPED;
  for (int64_t ticks = 0; status != GIRDLE_OK; ticks += 1 + ticks / 16) {
    test_call test;
    stop_at at = {ticks};
    test_begin(&test);
    test.call.watch = (girdle_watch){&at, stop_tick};
    status = work(&test.call);
    if (status != GIRDLE_OK) assert_status(&test, status, GIRDLE_STOPPED);
    assert_int_equal(test.live_bytes, 0);
  }
}

/* As test_sweep_allocations, later allocations with growing steps. */
static inline void test_sweep_many_allocations(int32_t (*work)(girdle_call *call)) {
  int32_t status = GIRDLE_MEMORY;
  for (int64_t refuse_at = 1; status != GIRDLE_OK; refuse_at += 1 + refuse_at / 16) {
    test_call test;
    test_begin(&test);
    test.refuse_at = refuse_at;
    status = work(&test.call);
    if (status != GIRDLE_OK) assert_status(&test, status, GIRDLE_MEMORY);
    assert_int_equal(test.live_bytes, 0);
  }
}

#endif
