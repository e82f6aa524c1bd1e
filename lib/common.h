/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_COMMON_H
#define GIRDLE_COMMON_H

/* common: memory, failing and ticking, as every room and each outer library does it. Hidden; compiled into each shared
 * library. Handles keep a copy of the allocator they were made with, and the size of every block they own. */

#include <stddef.h>
#include <stdint.h>

#include "girdle/base.h"

#if defined(__GNUC__)
#define GIRDLE_PRINTF(text, first) __attribute__((format(printf, text, first)))
#else
#define GIRDLE_PRINTF(text, first)
#endif

/* For branches that only a fault of our own could reach: kept as a guard, left out of coverage. */
#ifdef GIRDLE_COVERAGE
#define GIRDLE_NEVER(condition) 0
#else
#define GIRDLE_NEVER(condition) (condition)
#endif

/* Returns from the calling function when `expression` is a status other than GIRDLE_OK. Only where there is nothing to
 * free; otherwise write the cleaning out. */
#define GIRDLE_TRY(expression)                       \
  do {                                               \
    int32_t girdle_try_status = (expression);        \
    if (girdle_try_status) return girdle_try_status; \
  } while (0)

/* GIRDLE_ARGUMENT from the calling function, naming the first of these that is NULL: GIRDLE_GIVEN(call, path, out).
 * What may be NULL where nothing is counted is written so: GIRDLE_GIVEN(call, rows || !count). */
#define GIRDLE_GIVEN(call, ...)                                                                  \
  do {                                                                                           \
    const _Bool girdle_there[] = {__VA_ARGS__};                                                  \
    for (uint64_t girdle_at = 0; girdle_at < sizeof girdle_there; girdle_at++)                   \
      if (!girdle_there[girdle_at]) return girdle_common_missing(call, #__VA_ARGS__, girdle_at); \
  } while (0)

/* The allocator of a call; malloc's for NULL or a call without one. */
girdle_allocator girdle_common_memory(const girdle_call *call);

/* Lua's contract; never NULL when shrinking. */
void *girdle_common_resize(const girdle_allocator *memory, void *block, uint64_t old_bytes, uint64_t new_bytes);
void girdle_common_release(const girdle_allocator *memory, void *block, uint64_t bytes);

/* Zeroed memory from the call's allocator, or NULL with the error set to GIRDLE_MEMORY. */
void *girdle_common_new(girdle_call *call, uint64_t bytes);

/* A copy of `bytes` bytes of `from`; NULL with the error set when refused. */
void *girdle_common_copy(girdle_call *call, const void *from, uint64_t bytes);

/* Makes room for at least `needed` items in an array that grows by doubling. *items and *capacity change together, or
 * not at all. */
int32_t girdle_common_grow(girdle_call *call, const girdle_allocator *memory, void **items, uint64_t *capacity,
                           uint64_t needed, uint64_t item_bytes);

/* Sets the error (unless it is set already) and returns `status`. `field` may be NULL. The format must not hold %f, %e
 * or %g, whose separator depends on the locale: numbers go through girdle_number_text. */
int32_t girdle_common_fail(girdle_call *call, int32_t status, const char *field, const char *format, ...)
    GIRDLE_PRINTF(4, 5);

/* GIRDLE_ARGUMENT unless least <= value <= most (a NaN is outside): "gap must be 0 to 20 mm, not 25 mm". `unit` may be
 * "". */
int32_t girdle_common_range(girdle_call *call, const char *field, double value, double least, double most,
                            const char *unit);

/* GIRDLE_ARGUMENT naming a parameter that must not be NULL: the one that begins item `index` of a list with commas. */
int32_t girdle_common_missing(girdle_call *call, const char *list, uint64_t index);

/* GIRDLE_UNKNOWN naming the word and the nearest known one: "unknown setting 'honycomb', did you mean 'honeycomb'?";
 * with none near, the known ones when they are 2 to 8: "unknown side 'x'; known are left, right". */
int32_t girdle_common_unknown(girdle_call *call, const char *field, const char *word, const char *const *known,
                              uint64_t count);

/* Where a fault stands; sets the error's place when an error is set and has none. */
void girdle_common_at(girdle_call *call, const char *source, int32_t line, int32_t column, int64_t byte);

/* Reports the call's current error as one fault of several and clears it, so that reading can go on. */
void girdle_common_report(girdle_call *call);

/* GIRDLE_STOPPED with the error set when the watch says so. */
int32_t girdle_common_tick(girdle_call *call, uint64_t steps, double done);

/* Copies text into a field of `bytes` bytes, cut at a whole UTF-8 character; returns 1 when it fitted. */
int girdle_common_text(char *field, uint64_t bytes, const char *text);

/* How many bytes the UTF-8 character at `text` has, of which `bytes` (at least 1) are left; a byte that begins none is
 * one of its own. *control: whether it could disguise a line or drive a terminal, as control characters (C0, DEL and
 * C1, U+0080 to U+009F) and those that turn the direction of writing (U+202A to U+202E, U+2066 to U+2069) could. */
uint64_t girdle_common_character(const char *text, uint64_t bytes, int *control);

/* Puts `instead` in the place of each such character. */
void girdle_common_clean(char *text, char instead);

/* The reading side of "options begin with their own size": copies what the caller's struct has over defaults. */
void girdle_common_options(void *own, uint64_t own_bytes, const void *given);

#endif
