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
                           .post_weekdays = 0x1f,
                           .syringe_ml = 3,
                           .thicken_s = 1800,
                           .residue_ml = 0.1,
                           .opened_days = 60};
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
  GIRDLE_TRY(girdle_common_range(call, "syringe", rates->syringe_ml, 0.1, 1000, "ml"));
  GIRDLE_TRY(girdle_common_range(call, "thicken", rates->thicken_s, 1, 86400, "s"));
  GIRDLE_TRY(girdle_common_range(call, "residue", rates->residue_ml, 0, 100, "ml"));
  GIRDLE_TRY(girdle_common_range(call, "opened days", rates->opened_days, 1, 3660, "days"));
  return check_weekdays(call, "post weekdays", rates->post_weekdays);
}

/* ---- adhesive and minutes */

double girdle_work_dot_seconds(const girdle_work_rates *rates, const girdle_stone *stone) {
  if (stone->fix == GIRDLE_SEW) return 0;
  return stone->diameter_mm[GIRDLE_NOMINAL] < rates->large_from_mm ? rates->small_s : rates->large_s;
}

double girdle_work_seconds(const girdle_work_rates *rates, const girdle_stone *stone) {
  return girdle_work_dot_seconds(rates, stone) + (stone->fix != GIRDLE_GLUE ? rates->sewn_s : 0);
}

/* A syringe holds no more than is used before it thickens. */
int64_t girdle_work_loads(const girdle_work_rates *rates, double adhesive_ml, double dotted_s, double *load_ml) {
  *load_ml = 0;
  if (adhesive_ml <= 0) return 0;
  *load_ml = fmin(rates->syringe_ml, adhesive_ml);
  if (dotted_s > rates->thicken_s) *load_ml = fmin(*load_ml, adhesive_ml * rates->thicken_s / dotted_s);
  return girdle_work_whole_up(adhesive_ml / *load_ml);
}

static int same_zone(const girdle_tally_line *a, const girdle_tally_line *b) {
  return strcmp(a->zone, b->zone) == 0 && strcmp(a->side, b->side) == 0 && strcmp(a->tag, b->tag) == 0;
}

/* Lines of one zone follow each other as a rule; a zone taken up again is laid out again. */
static int begins_zone(const girdle_tally_line *lines, uint64_t at) {
  return at == 0 || !same_zone(&lines[at - 1], &lines[at]);
}

typedef struct sums {
  int front, back;
  double glued_mm2, seconds, dotted_s;
  double back_s;                  /* of the seconds; what is on both sides counts half */
  double zone_mm2, zone_dotted_s; /* of the zone at hand */
} sums;

static void end_zone(const girdle_work_rates *rates, girdle_work *work, sums *sum) {
  double load_ml;
  work->loads += girdle_work_loads(rates, sum->zone_mm2 * rates->film_mm / 1000, sum->zone_dotted_s, &load_ml);
  sum->zone_mm2 = sum->zone_dotted_s = 0;
}

static void add_line(const girdle_work_rates *rates, const girdle_tally_line *line, int begins, girdle_work *work,
                     sums *sum) {
  const int glued = line->stone.fix != GIRDLE_SEW;
  const double count = (double)line->count, dotted_s = count * girdle_work_dot_seconds(rates, &line->stone);
  const double seconds = count * girdle_work_seconds(rates, &line->stone) + (begins ? rates->zone_s : rates->change_s);
  const int both = strcmp(line->side, "both") == 0, back = strcmp(line->side, "back") == 0;
  sum->front |= both || strcmp(line->side, "front") == 0;
  sum->back |= both || back;
  if (begins) end_zone(rates, work, sum);
  work->zones += begins;
  work->changes += !begins;
  work->glued += glued ? line->count : 0;
  work->sewn += line->stone.fix != GIRDLE_GLUE ? line->count : 0;
  sum->seconds += seconds;
  sum->back_s += both ? seconds / 2 : back ? seconds : 0;
  if (!glued) return;
  sum->glued_mm2 += line->covered_mm2;
  sum->zone_mm2 += line->covered_mm2;
  sum->dotted_s += dotted_s;
  sum->zone_dotted_s += dotted_s;
}

int64_t girdle_work_whole_up(double value) {
  double nearest = nearbyint(value);
  return (int64_t)(fabs(value - nearest) <= 1e-9 * (1 + nearest) ? nearest : ceil(value));
}

double girdle_work_last_side(double seconds, int32_t sides, int32_t back_millionths) {
  if (sides != 2) return seconds;
  return back_millionths ? seconds * back_millionths / 1e6 : seconds / 2;
}

/* Each side begins on an evening of its own, as in the calendar. */
int64_t girdle_work_evenings(double seconds, int32_t sides, int32_t back_millionths, double evening_s) {
  const double last_s = girdle_work_last_side(seconds, sides, back_millionths);
  return girdle_work_whole_up(last_s / evening_s) + girdle_work_whole_up((seconds - last_s) / evening_s);
}

/* The back's share of the seconds where front and back are worked: neither goes without. */
static int32_t back_share(const sums *sum) {
  return (int32_t)fmin(fmax(nearbyint(1e6 * sum->back_s / sum->seconds), 1), 999999);
}

/* The share that is wasted stands for what stays in nozzle and tube, unless so many loads leave more behind. A tube
 * that would stand open too long is not used up. */
static void finish(const girdle_work_rates *rates, const sums *sum, girdle_work *work) {
  const double pace_s = work->glued ? sum->dotted_s / (double)work->glued : 0;
  double tubes;
  work->minutes = sum->seconds / 60;
  work->sides = sum->front && sum->back ? 2 : 1;
  work->back_millionths = work->sides == 2 && sum->seconds > 0 ? back_share(sum) : 0;
  work->evenings =
      girdle_work_evenings(sum->seconds, work->sides, work->back_millionths, rates->evening_s * rates->hands);
  work->adhesive_ml = sum->glued_mm2 * rates->film_mm / 1000;
  work->residue_ml = (double)work->loads * rates->residue_ml;
  work->adhesive_buy_ml = fmax(work->adhesive_ml / (1 - rates->adhesive_waste), work->adhesive_ml + work->residue_ml);
  tubes = work->adhesive_buy_ml / rates->tube_ml;
  work->tube_millionths = girdle_work_whole_up(1e6 * tubes);
  if (work->glued) tubes = fmax(tubes, (double)work->evenings / rates->opened_days);
  work->tubes = girdle_work_whole_up(tubes);
  if (pace_s > 0) work->dots_at_a_time = (int64_t)fmax(1, floor(rates->skin_s / pace_s));
}

int32_t girdle_work_estimate(girdle_call *call, const girdle_tally *tally, const girdle_work_rates *rates,
                             girdle_work *out) {
  GIRDLE_GIVEN(call, tally, out);
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
  end_zone(&own, &work, &sum);
  /* the largest whole numbers below are counts of millionths and seconds */
  if (!(sum.seconds <= 1e12 && sum.glued_mm2 <= 1e12))
    return girdle_common_fail(call, GIRDLE_LIMIT, "work", "this is more work than can be planned");
  finish(&own, &sum, &work);
  *out = work;
  return GIRDLE_OK;
}
