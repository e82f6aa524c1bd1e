/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_WORK_INTERNAL_H
#define GIRDLE_WORK_INTERNAL_H

#include "girdle/work.h"

/* The caller's rates over the defaults, each checked. */
int32_t girdle_work_read_rates(girdle_call *call, const girdle_work_rates *given, girdle_work_rates *rates);
/* Seconds for dotting and placing one stone, 0 for one that is only sewn; and for all work on it. */
double girdle_work_dot_seconds(const girdle_work_rates *rates, const girdle_stone *stone);
double girdle_work_seconds(const girdle_work_rates *rates, const girdle_stone *stone);
/* How many syringes so much adhesive takes when it is dotted within so many seconds, and how much to draw up for each.
 */
int64_t girdle_work_loads(const girdle_work_rates *rates, double adhesive_ml, double dotted_s, double *load_ml);
/* Rounds up, but not what a hair above a whole number, left by adding doubles, is. */
int64_t girdle_work_whole_up(double value);

/* Of so many seconds those on the side worked last: all of one side; of two, its share in millionths, 0 for half. */
double girdle_work_last_side(double seconds, int32_t sides, int32_t back_millionths);
/* How many evenings so much work takes, each side begun on an evening of its own. */
int64_t girdle_work_evenings(double seconds, int32_t sides, int32_t back_millionths, double evening_s);

#endif
