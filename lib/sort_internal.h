/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_SORT_INTERNAL_H
#define GIRDLE_SORT_INTERNAL_H

#include <stdint.h>

/* Sorts in place and without any memory, unlike the C library's, whose order of equals and whose allocations are its
 * own. `compare` must tell any two items apart, else their order is not defined. */
void girdle_sort(void *items, uint64_t count, uint64_t item_bytes, int (*compare)(const void *a, const void *b));

#endif
