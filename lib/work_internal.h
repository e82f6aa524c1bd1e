/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_WORK_INTERNAL_H
#define GIRDLE_WORK_INTERNAL_H

#include "girdle/work.h"

/* The caller's rates over the defaults, each checked. */
int32_t girdle_work_read_rates(girdle_call *call, const girdle_work_rates *given, girdle_work_rates *rates);

#endif
