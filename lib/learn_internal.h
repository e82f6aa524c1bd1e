/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_LEARN_INTERNAL_H
#define GIRDLE_LEARN_INTERNAL_H

#include "girdle/learn.h"

/* GIRDLE_ARGUMENT when a number of the row is out of its range. */
int32_t girdle_learn_check(girdle_call *call, const girdle_log_row *row);
/* What was used; what was planned when that is not written down, 0 when neither is. */
int64_t girdle_learn_used(const girdle_log_row *row);

#endif
