/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "text_internal.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What one costume costs, weighs and takes. */

void girdle_minutes_words(double minutes, char text[32]) {
  long long whole = (long long)nearbyint(fmin(minutes, 1e12));
  if (whole < 60)
    snprintf(text, 32, "%lld min", whole);
  else
    snprintf(text, 32, "%lld h %02lld min", whole / 60, whole % 60);
}

/* ---- quote */

typedef struct widths {
  uint64_t label, detail, amount;
} widths;

static void write_line(girdle_writer *out, const widths *wide, const char *label, const char *detail, int64_t minor,
                       const girdle_currency *currency) {
  char amount[64];
  girdle_money_text(minor, currency, 0, amount, sizeof amount);
  girdle_write_left(out, label, wide->label);
  girdle_write_left(out, detail, wide->detail);
  girdle_write_right(out, amount, wide->amount);
  girdle_write(out, "\n");
}

static widths fit(const girdle_quote *quote) {
  widths wide = {strlen("Deposit before starting"), 0, 0};
  char amount[64];
  for (uint64_t i = 0; i < quote->line_count; i++) {
    girdle_column_fit(&wide.label, quote->lines[i].label);
    girdle_column_fit(&wide.detail, quote->lines[i].detail);
    girdle_money_text(quote->lines[i].amount_minor, &quote->currency, 0, amount, sizeof amount);
    girdle_column_fit(&wide.amount, amount);
  }
  girdle_money_text(quote->total_minor, &quote->currency, 0, amount, sizeof amount);
  girdle_column_fit(&wide.amount, amount);
  return wide;
}

static void write_quote(girdle_writer *out, const girdle_quote *quote) {
  widths wide = fit(quote);
  char day[32];
  for (uint64_t i = 0; i < quote->line_count; i++)
    write_line(out, &wide, quote->lines[i].label, quote->lines[i].detail, quote->lines[i].amount_minor,
               &quote->currency);
  girdle_write_pad(out, 0, wide.label + wide.detail + 4);
  for (uint64_t i = 0; i < wide.amount; i++) girdle_write(out, "-");
  girdle_write(out, "\n");
  write_line(out, &wide, "Price", quote->currency.code, quote->total_minor, &quote->currency);
  if (quote->deposit_minor) {
    write_line(out, &wide, "Deposit before starting", "", quote->deposit_minor, &quote->currency);
    write_line(out, &wide, "Then to pay", "", quote->balance_minor, &quote->currency);
  }
  if (quote->valid_until_day != INT64_MIN) {
    girdle_day_words(quote->valid_until_day, day);
    girdle_write_format(out, "Valid until %s.\n", day);
  }
  if (quote->incomplete) girdle_write(out, "INCOMPLETE: some stones have no price yet, see the order.\n");
}

/* ---- work */

static void write_adhesive(girdle_writer *out, const girdle_work *work) {
  if (work->glued == 0) return;
  girdle_write(out, "Adhesive: about ");
  girdle_write_number(out, work->adhesive_ml, 1);
  girdle_write(out, " ml under the stones, ");
  girdle_write_number(out, work->adhesive_buy_ml, 1);
  girdle_write_format(out, " ml with what stays in the nozzle: %lld tube%s.\n", (long long)work->tubes,
                      work->tubes == 1 ? "" : "s");
  girdle_write_format(out, "Dot no more than %lld stones at a time, or the first dots skin over.\n",
                      (long long)work->dots_at_a_time);
}

static void write_work(girdle_writer *out, const girdle_work *work) {
  char time[32];
  girdle_minutes_words(work->minutes, time);
  girdle_write_format(out, "Gluing: %lld stones in about %s", (long long)work->glued, time);
  if (work->sewn) girdle_write_format(out, " (and %lld sewn on)", (long long)work->sewn);
  girdle_write_format(out, ", %lld evening%s.\n", (long long)work->evenings, work->evenings == 1 ? "" : "s");
  write_adhesive(out, work);
}

int32_t girdle_paper_cost_text(girdle_call *call, const girdle_club *club, uint64_t job,
                               const girdle_reckoning *reckoning, const girdle_sink *sink) {
  girdle_writer out;
  girdle_tally *sums;
  girdle_tally_line all;
  const girdle_job *costume = girdle_club_job(club, job);
  const girdle_quote *quote = girdle_reckoning_quote(reckoning, job);
  const girdle_work *work = girdle_reckoning_work(reckoning, job);
  if (!costume || !quote || !work)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "job", "costume %llu of %llu is asked for",
                              (unsigned long long)job + 1, (unsigned long long)girdle_club_jobs(club));
  GIRDLE_TRY(girdle_tally_of_tag(call, girdle_reckoning_tally(reckoning), girdle_job_head_of(costume)->tag, &sums));
  girdle_tally_total(sums, &all);
  girdle_tally_free(sums);
  girdle_writer_begin(&out, call, sink);
  girdle_write_job_head(&out, costume);
  write_quote(&out, quote);
  girdle_write(&out, "\n");
  write_work(&out, work);
  if (all.count) girdle_write_weight(&out, all.mass_mg);
  return girdle_writer_end(&out);
}
