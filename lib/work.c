/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/work.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "work_internal.h"

void girdle_work_rates_init(girdle_work_rates *rates, uint32_t struct_bytes) {
  girdle_work_rates own = {.struct_bytes = struct_bytes,
                           .film_mm = 0.3,
                           .adhesive_waste = 0.25,
                           .skin_s = 300,
                           .tube_ml = 30,
                           .small_s = 12,
                           .large_s = 10,
                           .large_from_mm = 5,
                           .sewn_s = 60,
                           .change_s = 60,
                           .zone_s = 600,
                           .evening_s = 7200,
                           .dry_s = 86400,
                           .cure_s = 259200,
                           .hands = 1,
                           .places_to_dry = 2,
                           .alteration_days = 2,
                           .swatch_days = 1,
                           .try_on_days = 1,
                           .spare_days = 3,
                           .glue_weekdays = 0x7f,
                           .post_weekdays = 0x1f};
  memset(rates, 0, struct_bytes);
  memcpy(rates, &own, struct_bytes < sizeof own ? struct_bytes : sizeof own);
}

static int32_t check_weekdays(girdle_call *call, const char *field, uint32_t weekdays) {
  return girdle_common_range(call, field, (double)weekdays, 1, 0x7f, "");
}

int32_t girdle_work_read_rates(girdle_call *call, const girdle_work_rates *given, girdle_work_rates *rates) {
  girdle_work_rates_init(rates, sizeof *rates);
  girdle_common_options(rates, sizeof *rates, given);
  GIRDLE_TRY(girdle_common_range(call, "film", rates->film_mm, 0, 5, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "adhesive waste", rates->adhesive_waste, 0, 0.95, ""));
  GIRDLE_TRY(girdle_common_range(call, "skin", rates->skin_s, 1, 86400, "s"));
  GIRDLE_TRY(girdle_common_range(call, "tube", rates->tube_ml, 0.1, 1e6, "ml"));
  GIRDLE_TRY(girdle_common_range(call, "small stone", rates->small_s, 0, 3600, "s"));
  GIRDLE_TRY(girdle_common_range(call, "large stone", rates->large_s, 0, 3600, "s"));
  GIRDLE_TRY(girdle_common_range(call, "large from", rates->large_from_mm, 0, 1000, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "sewn stone", rates->sewn_s, 0, 86400, "s"));
  GIRDLE_TRY(girdle_common_range(call, "change", rates->change_s, 0, 86400, "s"));
  GIRDLE_TRY(girdle_common_range(call, "zone", rates->zone_s, 0, 864000, "s"));
  GIRDLE_TRY(girdle_common_range(call, "evening", rates->evening_s, 60, 86400, "s"));
  GIRDLE_TRY(girdle_common_range(call, "dry", rates->dry_s, 0, 30 * 86400, "s"));
  GIRDLE_TRY(girdle_common_range(call, "cure", rates->cure_s, 0, 60 * 86400, "s"));
  GIRDLE_TRY(girdle_common_range(call, "hands", rates->hands, 1, 1000, ""));
  GIRDLE_TRY(girdle_common_range(call, "places to dry", rates->places_to_dry, 1, 10000, ""));
  GIRDLE_TRY(girdle_common_range(call, "alteration days", rates->alteration_days, 0, 366, "days"));
  GIRDLE_TRY(girdle_common_range(call, "swatch days", rates->swatch_days, 0, 366, "days"));
  GIRDLE_TRY(girdle_common_range(call, "try-on days", rates->try_on_days, 0, 366, "days"));
  GIRDLE_TRY(girdle_common_range(call, "spare days", rates->spare_days, 0, 366, "days"));
  GIRDLE_TRY(check_weekdays(call, "glue weekdays", rates->glue_weekdays));
  return check_weekdays(call, "post weekdays", rates->post_weekdays);
}

/* ---- adhesive and minutes */

static double seconds_a_stone(const girdle_work_rates *rates, const girdle_stone *stone) {
  if (stone->fix == GIRDLE_SEW) return rates->sewn_s;
  return (stone->diameter_mm[GIRDLE_NOMINAL] < rates->large_from_mm ? rates->small_s : rates->large_s) +
         (stone->fix == GIRDLE_GLUE_AND_SEW ? rates->sewn_s : 0);
}

static int same_zone(const girdle_tally_line *a, const girdle_tally_line *b) {
  return strcmp(a->zone, b->zone) == 0 && strcmp(a->side, b->side) == 0 && strcmp(a->tag, b->tag) == 0;
}

/* Lines of one zone follow each other as a rule; a zone taken up again is laid out again. */
static int begins_zone(const girdle_tally_line *lines, uint64_t at) {
  return at == 0 || !same_zone(&lines[at - 1], &lines[at]);
}

typedef struct sums {
  double glued_mm2, seconds, dotted_s;
} sums;

static void add_line(const girdle_work_rates *rates, const girdle_tally_line *line, int begins, girdle_work *work,
                     sums *sum) {
  int glued = line->stone.fix != GIRDLE_SEW;
  double seconds = (double)line->count * seconds_a_stone(rates, &line->stone);
  work->zones += begins;
  work->changes += !begins;
  work->glued += glued ? line->count : 0;
  work->sewn += line->stone.fix != GIRDLE_GLUE ? line->count : 0;
  sum->seconds += seconds + (begins ? rates->zone_s : rates->change_s);
  if (!glued) return;
  sum->glued_mm2 += line->covered_mm2;
  sum->dotted_s += seconds;
}

/* Rounds up what a hair above a whole number, left by adding doubles, must not. */
static int64_t whole_up(double value) {
  double nearest = nearbyint(value);
  return (int64_t)(fabs(value - nearest) <= 1e-9 * (1 + nearest) ? nearest : ceil(value));
}

static void finish(const girdle_work_rates *rates, const sums *sum, girdle_work *work) {
  double pace_s = work->glued ? sum->dotted_s / (double)work->glued : 0, tubes;
  work->adhesive_ml = sum->glued_mm2 * rates->film_mm / 1000;
  work->adhesive_buy_ml = work->adhesive_ml / (1 - rates->adhesive_waste);
  tubes = work->adhesive_buy_ml / rates->tube_ml;
  work->tubes = whole_up(tubes);
  work->tube_millionths = whole_up(1e6 * tubes);
  if (pace_s > 0) work->dots_at_a_time = (int64_t)fmax(1, floor(rates->skin_s / pace_s));
  work->minutes = sum->seconds / 60;
  work->evenings = whole_up(sum->seconds / (rates->evening_s * rates->hands));
}

int32_t girdle_work_estimate(girdle_call *call, const girdle_tally *tally, const girdle_work_rates *rates,
                             girdle_work *out) {
  girdle_work work = {0};
  girdle_work_rates own;
  sums sum = {0};
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &count);
  GIRDLE_TRY(girdle_work_read_rates(call, rates, &own));
  for (uint64_t i = 0; i < count; i++) {
    GIRDLE_TRY(girdle_common_tick(call, 1, (double)i / (double)count));
    add_line(&own, &lines[i], begins_zone(lines, i), &work, &sum);
  }
  /* the largest whole numbers below are counts of millionths and seconds */
  if (!(sum.seconds <= 1e12 && sum.glued_mm2 <= 1e12))
    return girdle_common_fail(call, GIRDLE_LIMIT, "work", "this is more work than can be planned");
  finish(&own, &sum, &work);
  *out = work;
  return GIRDLE_OK;
}
