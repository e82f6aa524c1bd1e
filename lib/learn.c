/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/learn.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "learn_internal.h"

enum { DAYS_MOST = 4000000 };

/* What a log comes to before anything is drawn from it. */
typedef struct sums {
  double jobs, used, lost, used_with_lost, fell_off, used_with_fell_off, seconds, used_with_minutes;
} sums;

static int32_t check_pieces(girdle_call *call, const char *field, int64_t pieces) {
  return girdle_common_range(call, field, (double)pieces, -1, 1e12, "pieces");
}

int32_t girdle_learn_check(girdle_call *call, const girdle_log_row *row) {
  GIRDLE_TRY(girdle_common_range(call, "day", (double)row->day, -DAYS_MOST, DAYS_MOST, ""));
  GIRDLE_TRY(check_pieces(call, "planned", row->planned));
  GIRDLE_TRY(check_pieces(call, "used", row->used));
  GIRDLE_TRY(check_pieces(call, "lost", row->lost));
  GIRDLE_TRY(check_pieces(call, "fell_off", row->fell_off));
  return isnan(row->minutes) ? GIRDLE_OK : girdle_common_range(call, "minutes", row->minutes, 0, 1e9, "min");
}

int64_t girdle_learn_used(const girdle_log_row *row) {
  return row->used >= 0 ? row->used : row->planned >= 0 ? row->planned : 0;
}

static int first_of_its_tag(const girdle_log_row *rows, uint64_t at) {
  for (uint64_t i = at; i-- > 0;)
    if (strcmp(rows[i].tag, rows[at].tag) == 0) return 0;
  return 1;
}

static void add_row(sums *sum, const girdle_log_row *row) {
  const double used = (double)girdle_learn_used(row);
  sum->used += used;
  if (row->lost >= 0) {
    sum->lost += (double)row->lost;
    sum->used_with_lost += used;
  }
  if (row->fell_off >= 0) {
    sum->fell_off += (double)row->fell_off;
    sum->used_with_fell_off += used;
  }
  if (!isnan(row->minutes)) {
    sum->seconds += 60 * row->minutes;
    sum->used_with_minutes += used;
  }
}

/* The share seen, drawn towards `prior`, which weighs as much as prior_jobs jobs of the usual size. */
static double drawn(double part, double whole, double prior, double prior_weight) {
  double weight = whole + prior_weight;
  return weight > 0 ? (part + prior * prior_weight) / weight : prior;
}

int32_t girdle_learn(girdle_call *call, const girdle_log_row *rows, uint64_t count, double prior_lost_share,
                     double prior_jobs, girdle_learned *out) {
  GIRDLE_GIVEN(call, rows || !count, out);
  sums sum = {0};
  double weight;
  GIRDLE_TRY(girdle_common_range(call, "prior_lost_share", prior_lost_share, 0, 1, ""));
  GIRDLE_TRY(girdle_common_range(call, "prior_jobs", prior_jobs, 0, 1e6, "jobs"));
  for (uint64_t i = 0; i < count; i++) {
    GIRDLE_TRY(girdle_common_tick(call, i + 1, -1));
    GIRDLE_TRY(girdle_learn_check(call, &rows[i]));
    sum.jobs += first_of_its_tag(rows, i);
    add_row(&sum, &rows[i]);
  }
  weight = sum.jobs > 0 ? prior_jobs * sum.used / sum.jobs : 0;
  memset(out, 0, sizeof *out);
  out->jobs = (int64_t)sum.jobs;
  out->lost_share = drawn(sum.lost, sum.used_with_lost, prior_lost_share, weight);
  out->seconds_a_stone = sum.used_with_minutes > 0 ? sum.seconds / sum.used_with_minutes : NAN;
  out->fell_off_share = sum.used_with_fell_off > 0 ? sum.fell_off / sum.used_with_fell_off : 0;
  return GIRDLE_OK;
}

/* ---- rows from what people remember or write on a card */

static void empty_row(girdle_log_row *row, const char *tag) {
  memset(row, 0, sizeof *row);
  girdle_common_text(row->tag, sizeof row->tag, tag);
  row->planned = row->used = row->lost = row->fell_off = -1;
  row->minutes = NAN;
}

int32_t girdle_log_remembered(girdle_call *call, const char *tag, int64_t pieces, double hours, girdle_log_row *out) {
  GIRDLE_GIVEN(call, tag, out);
  GIRDLE_TRY(girdle_common_range(call, "pieces", (double)pieces, 1, 1e12, "pieces"));
  if (!isnan(hours)) GIRDLE_TRY(girdle_common_range(call, "hours", hours, 0, 1e7, "h"));
  empty_row(out, tag);
  out->used = pieces;
  out->minutes = 60 * hours;
  return GIRDLE_OK;
}

int32_t girdle_log_card(girdle_call *call, const char *tag, const girdle_stone *stone, int64_t planned, int64_t had,
                        int64_t bought, int64_t left, girdle_log_row *out) {
  GIRDLE_GIVEN(call, tag, stone, out);
  int64_t taken;
  GIRDLE_TRY(girdle_common_range(call, "planned", (double)planned, 0, 1e12, "pieces"));
  GIRDLE_TRY(girdle_common_range(call, "had", (double)had, 0, 1e12, "pieces"));
  GIRDLE_TRY(girdle_common_range(call, "bought", (double)bought, 0, 1e12, "pieces"));
  GIRDLE_TRY(girdle_common_range(call, "left", (double)left, 0, (double)(had + bought), "pieces"));
  taken = had + bought - left;
  empty_row(out, tag);
  out->stone = *stone;
  out->planned = planned;
  out->used = taken;
  out->lost = taken > planned ? taken - planned : 0;
  return GIRDLE_OK;
}
