/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_LEARN_H
#define GIRDLE_LEARN_H

/* learn: what the log of past jobs says about spares and pace; cautious while jobs are few. */

#include "girdle/price.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct girdle_log_row {
  int64_t day;
  char tag[32], zone[64];
  girdle_stone stone;
  int64_t planned, used, lost, fell_off; /* pieces; -1 when not written down */
  double minutes;                        /* NaN when not written down */
} girdle_log_row;

typedef struct girdle_learned {
  int64_t jobs;          /* tags seen */
  double lost_share;     /* lost / used, drawn towards the given one while jobs are few */
  double seconds_a_stone; /* NaN when no row has minutes */
  double fell_off_share;
} girdle_learned;

/* Learns from rows; prior_lost_share is what would be used without a log, and weighs as much as prior_jobs jobs. */
GIRDLE_API int32_t girdle_learn(girdle_call *call, const girdle_log_row *rows, uint64_t count, double prior_lost_share,
                                double prior_jobs, girdle_learned *out);

#ifdef __cplusplus
}
#endif
#endif
