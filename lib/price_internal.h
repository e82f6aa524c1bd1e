/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_PRICE_INTERNAL_H
#define GIRDLE_PRICE_INTERNAL_H

/* Whole-number arithmetic that never overflows unseen, for the rooms that reckon with money. */

#include "girdle/base.h"

/* a x b / divisor (above 0) with its remainder, exactly; 0 when the quotient needs more than 64 bits. */
int girdle_price_divide(uint64_t a, uint64_t b, uint64_t divisor, uint64_t *quotient, uint64_t *remainder);

/* Compares a x b with c x d, exactly: below, at or above 0. */
int girdle_price_compare(uint64_t a, uint64_t b, uint64_t c, uint64_t d);

/* a + b and a x b, or GIRDLE_OVERFLOW naming `field` (may be NULL). *out may be a or b. */
int32_t girdle_price_add(girdle_call *call, const char *field, int64_t a, int64_t b, int64_t *out);
int32_t girdle_price_times(girdle_call *call, const char *field, int64_t a, int64_t b, int64_t *out);

#endif
