/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "text_internal.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What one costume costs, weighs and takes. */

void girdle_whole_words(int64_t value, char text[24]) {
  girdle_number_text((double)value, 0, text, 24);
}

void girdle_minutes_words(const girdle_phrased *phrases, double minutes, char text[64]) {
  int64_t whole = (int64_t)nearbyint(fmin(minutes, 1e12));
  char hours[24], rest[24];
  girdle_whole_words(whole / 60, hours);
  snprintf(rest, sizeof rest, whole < 60 ? "%d" : "%02d", (int)(whole % 60));
  if (whole < 60)
    girdle_phrase_with(phrases, text, 64, "{1} min", rest);
  else
    girdle_phrase_with(phrases, text, 64, "{1} h {2} min", hours, rest);
}

void girdle_count_words(const girdle_phrased *phrases, int64_t count, const char *one, const char *several, char *text,
                        uint64_t bytes) {
  char number[24];
  girdle_whole_words(count, number);
  girdle_phrase_with(phrases, text, bytes, count == 1 ? one : several, number);
}

/* ---- quote */

typedef struct widths {
  uint64_t label, detail, amount;
} widths;

void girdle_money_words(const girdle_phrased *phrases, int64_t minor, const girdle_currency *currency,
                        int32_t with_code, char text[64]) {
  char plain[64], *point;
  girdle_money_text(minor, currency, with_code, plain, sizeof plain);
  point = strchr(plain, '.');
  if (point) *point++ = '\0';
  snprintf(text, 64, "%.40s%.8s%.12s", plain, point ? girdle_phrase(phrases, ".") : "", point ? point : "");
}

static void write_line(girdle_writer *out, const widths *wide, const char *label, const char *detail, int64_t minor,
                       const girdle_currency *currency) {
  char amount[64], words[160];
  girdle_money_words(out->phrases, minor, currency, 0, amount);
  girdle_write_left(out, girdle_phrase(out->phrases, label), wide->label);
  girdle_phrase_again(out->phrases, words, sizeof words, detail);
  girdle_write_left(out, words, wide->detail);
  girdle_write_right(out, amount, wide->amount);
  girdle_write(out, "\n");
}

static widths fit(const girdle_phrased *phrases, const girdle_quote *quote) {
  widths wide = {0, 0, 0};
  char amount[64], words[160];
  girdle_column_fit(&wide.label, girdle_phrase(phrases, "Deposit before starting"));
  for (uint64_t i = 0; i < quote->line_count; i++) {
    girdle_column_fit(&wide.label, girdle_phrase(phrases, quote->lines[i].label));
    girdle_phrase_again(phrases, words, sizeof words, quote->lines[i].detail);
    girdle_column_fit(&wide.detail, words);
    girdle_money_words(phrases, quote->lines[i].amount_minor, &quote->currency, 0, amount);
    girdle_column_fit(&wide.amount, amount);
  }
  girdle_money_words(phrases, quote->total_minor, &quote->currency, 0, amount);
  girdle_column_fit(&wide.amount, amount);
  return wide;
}

static void write_quote(girdle_writer *out, const girdle_quote *quote) {
  widths wide = fit(out->phrases, quote);
  char day[64];
  for (uint64_t i = 0; i < quote->line_count; i++)
    write_line(out, &wide, quote->lines[i].label, quote->lines[i].detail, quote->lines[i].amount_minor,
               &quote->currency);
  girdle_write_pad(out, 0, wide.label + wide.detail + 4);
  for (uint64_t i = 0; i < wide.amount; i++)
    girdle_write(out, "-");
  girdle_write(out, "\n");
  write_line(out, &wide, "Price", quote->currency.code, quote->total_minor, &quote->currency);
  if (quote->deposit_minor) {
    write_line(out, &wide, "Deposit before starting", "", quote->deposit_minor, &quote->currency);
    write_line(out, &wide, "Then to pay", "", quote->balance_minor, &quote->currency);
  }
  if (quote->valid_until_day != INT64_MIN) {
    girdle_day_words(out->phrases, quote->valid_until_day, day);
    girdle_say_with(out, "Valid until {1}.", day);
    girdle_write(out, "\n");
  }
  if (!quote->incomplete) return;
  girdle_say(out, "INCOMPLETE: some stones have no price yet, see the order.");
  girdle_write(out, "\n");
}

/* ---- work */

static void write_adhesive(girdle_writer *out, const girdle_work *work) {
  char under[48], all[48], tubes[48], dots[24];
  if (work->glued == 0) return;
  girdle_number_words(out->phrases, work->adhesive_ml, 1, under);
  girdle_number_words(out->phrases, work->adhesive_buy_ml, 1, all);
  girdle_count_words(out->phrases, work->tubes, "{1} tube", "{1} tubes", tubes, sizeof tubes);
  girdle_whole_words(work->dots_at_a_time, dots);
  girdle_say_with(out, "Adhesive: about {1} ml under the stones, {2} ml with what stays in the nozzle: {3}.", under,
                  all, tubes);
  girdle_write(out, "\n");
  girdle_say_with(out, "Dot no more than {1} stones at a time, or the first dots skin over.", dots);
  girdle_write(out, "\n");
}

static void write_work(girdle_writer *out, const girdle_work *work) {
  char time[64], glued[24], sewn[24], evenings[64];
  girdle_minutes_words(out->phrases, work->minutes, time);
  girdle_whole_words(work->glued, glued);
  girdle_whole_words(work->sewn, sewn);
  girdle_count_words(out->phrases, work->evenings, "{1} evening", "{1} evenings", evenings, sizeof evenings);
  if (work->sewn)
    girdle_say_with(out, "Gluing: {1} stones in about {2} (and {3} sewn on), {4}.", glued, time, sewn, evenings);
  else
    girdle_say_with(out, "Gluing: {1} stones in about {2}, {3}.", glued, time, evenings);
  girdle_write(out, "\n");
  write_adhesive(out, work);
}

int32_t girdle_paper_cost_text(girdle_call *call, const girdle_club *club, uint64_t job,
                               const girdle_reckoning *reckoning, const girdle_sink *sink) {
  GIRDLE_GIVEN(call, club, reckoning, sink);
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
