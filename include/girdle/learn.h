/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_LEARN_H
#define GIRDLE_LEARN_H

/* learn: what the log of past jobs says about spares and pace; cautious while jobs are few. NULL as base.h
 * says. */

#include "girdle/price.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct girdle_log_row {
  int64_t day;
  char tag[32], zone[64];
  girdle_stone stone;
  int64_t planned, used, lost, fell_off; /* pieces; -1 when not written down. used: all taken, lost ones among them */
  double minutes;                        /* NaN when not written down */
} girdle_log_row;

typedef struct girdle_learned {
  int64_t jobs;           /* tags seen */
  double lost_share;      /* lost / used, drawn towards the given one while jobs are few */
  double seconds_a_stone; /* NaN when no row has minutes */
  double fell_off_share;
} girdle_learned;

/* Learns from rows; prior_lost_share is what would be used without a log, and weighs as much as prior_jobs jobs of the
 * usual size. A row that does not say what was used counts what was planned. GIRDLE_ARGUMENT for a number out of range.
 */
GIRDLE_API int32_t girdle_learn(girdle_call *call, const girdle_log_row *rows, uint64_t count, double prior_lost_share,
                                double prior_jobs, girdle_learned *out);

/* One remembered line about an old job: so many pieces, so many hours (NaN: not remembered). The stone is left empty.
 */
GIRDLE_API int32_t girdle_log_remembered(girdle_call *call, const char *tag, int64_t pieces, double hours,
                                         girdle_log_row *out);
/* A filled job card: of a stone, used = had + bought - left; what was used beyond the plan was lost. */
GIRDLE_API int32_t girdle_log_card(girdle_call *call, const char *tag, const girdle_stone *stone, int64_t planned,
                                   int64_t had, int64_t bought, int64_t left, girdle_log_row *out);

/* ---- jobs and zones, one by one */

enum { GIRDLE_UNUSUAL_LOSS = 1, GIRDLE_UNUSUAL_PACE = 2, GIRDLE_UNUSUAL_USE = 4 };

/* What the rows of one tag, or of one zone, come to. */
typedef struct girdle_learned_part {
  char name[64];                                      /* tag or zone */
  int64_t used, lost, fell_off;                       /* pieces, as far as written down */
  double lost_share, seconds_a_stone, fell_off_share; /* NaN when not written down */
  uint32_t unusual, reserved; /* of a job: GIRDLE_UNUSUAL_*, to be looked at and named; it still counts */
} girdle_learned_part;

/* The jobs (tags), or with by_zone 1 the zones, in the order they are first named. Two-call buffer: *count receives how
 * many there are, at most `capacity` are written. A job is unusual when, of five or more, its lost share (as
 * log(1 + share)) or pace (as its logarithm) lies more than 3.5 times the scaled median deviation from the median
 * (Iglewicz and Hoaglin, 1993, from memory). However few jobs there are it is unusual, too, when more than 30 % of what
 * it used, and two dozen pieces or more, were lost, or when of two dozen planned or more it used more than three times
 * as many (common practice, no source). */
GIRDLE_API int32_t girdle_learn_parts(girdle_call *call, const girdle_log_row *rows, uint64_t row_count,
                                      int32_t by_zone, girdle_learned_part *parts, uint64_t capacity, uint64_t *count);

/* ---- forecasts */

/* Between which ratios the next job is likely to lie. */
typedef struct girdle_forecast {
  double least, likely, most;
  double freedom; /* degrees of freedom behind it; below 1 there is no interval: least 0, most infinite */
  int64_t jobs;
} girdle_forecast;

/* Prediction interval for the next of a series of ratios above 0 (seconds a stone, pieces taken a piece planned),
 * confidence above 0 and below 1. Logarithms are taken as normal. The prior ratio counts as prior_jobs jobs that spread
 * by prior_spread (of the logarithm); with prior_jobs 0 this is the plain Student t interval with count - 1 degrees of
 * freedom, so while jobs are few it is wide. */
GIRDLE_API int32_t girdle_forecast_ratio(girdle_call *call, const double *ratios, uint64_t count, double prior_ratio,
                                         double prior_spread, double prior_jobs, double confidence,
                                         girdle_forecast *out);

/* ---- spares by confidence */

/* How many spares suffice with the given confidence (0 to below 1) when each of `pieces` stones is lost with a chance
 * of lost_share: the least number that a binomial count does not pass. */
GIRDLE_API int32_t girdle_spares(girdle_call *call, int64_t pieces, double lost_share, double confidence,
                                 int64_t *out_pieces);
/* The chance of running short with so many spares. */
GIRDLE_API int32_t girdle_chance_short(girdle_call *call, int64_t pieces, double lost_share, int64_t spares,
                                       double *out_chance);
/* A repair kit for so many stones of which fell_off_share come off: by confidence, but never fewer than `least` (3:
 * common practice, no source). */
GIRDLE_API int32_t girdle_repair_kit(girdle_call *call, int64_t pieces, double fell_off_share, double confidence,
                                     int64_t least, int64_t *out_pieces);
/* The confidence worth paying for, when a stone too few costs short_minor and one too many over_minor (the newsvendor's
 * critical ratio: short / (short + over)). */
GIRDLE_API int32_t girdle_worthwhile_confidence(girdle_call *call, int64_t short_minor, int64_t over_minor,
                                                double *out);

/* ---- distributions */

/* The quantile of the normal distribution with mean 0 and deviation 1, and of Student's t; probability above 0 and
 * below 1, freedom above 0; NaN outside. Correct to about 1e-10. */
GIRDLE_API double girdle_normal_quantile(double probability);
/* The same of Student's t with so many degrees of freedom. */
GIRDLE_API double girdle_student_quantile(double probability, double freedom);
/* P(X <= successes) of a binomial count of `trials` with chance `chance`; NaN for a chance outside 0 to 1. Correct
 * to about 1e-11 up to 1e5 trials, to 1e-6 at 1e9. */
GIRDLE_API double girdle_binomial_below(int64_t trials, double chance, int64_t successes);

#ifdef __cplusplus
}
#endif
#endif
