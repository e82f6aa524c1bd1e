/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_BASE_CROSS_INTERNAL_H
#define GIRDLE_BASE_CROSS_INTERNAL_H

/* Lengths with crosses between, as people write a size: "10 cm x 20 cm", "10 x 14 mm", "10 × 14 mm", "10 by 14 mm". */

#include "girdle/base.h"

/* The first cross of a text: an x, a multiplication sign or "by" with a number behind it, and what stands behind it;
 * both NULL when there is none. */
const char *girdle_cross_find(const char *text, const char **behind);

/* Reads at most `capacity` of them, in mm; *count is how many there are, or capacity + 1 when there are more. A number
 * without a unit takes the unit of the next one that has one. */
int32_t girdle_cross_parse(girdle_call *call, const char *text, double *out_mm, uint64_t capacity, uint64_t *count);

#endif
