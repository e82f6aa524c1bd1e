/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <stdio.h>
#include <string.h>

#include "common.h"

/* The verbs that reckon money and draw maps: cost, map and club. */

/* ---- files of one costume */

static int32_t map_pdf(program *with, const girdle_job *job, buffer *to) {
  girdle_print_options options;
  girdle_sink sink = paper_sink(with, to);
  GIRDLE_TRY(flags_print(with, &options));
  return girdle_paper_map_pdf(&with->call, job, &options, &sink);
}

static int32_t map_svg(program *with, const girdle_job *job, buffer *to) {
  girdle_print_options options;
  girdle_sink sink = paper_sink(with, to);
  girdle_print_options_init(&options, sizeof options);
  options.flags = with->flags.mirrored ? GIRDLE_PRINT_MIRRORED : 0;
  return girdle_paper_map_svg_with(&with->call, job, &options, &sink);
}

static int32_t map_files(program *with, const girdle_job *job) {
  const char *tag = girdle_job_head_of(job)->tag;
  char name[64];
  buffer *file;
  girdle_sink sink;
  GIRDLE_TRY(output_name_check(with, tag));
  snprintf(name, sizeof name, "%s.svg", tag);
  if (!(file = output_add(with, name))) return GIRDLE_ARGUMENT;
  GIRDLE_TRY(map_svg(with, job, file));
  snprintf(name, sizeof name, "%s.csv", tag);
  if (!(file = output_add(with, name))) return GIRDLE_ARGUMENT;
  sink = paper_sink(with, file);
  GIRDLE_TRY(girdle_paper_placements_csv(&with->call, job, &sink));
  if (!with->flags.pdf) return GIRDLE_OK;
  snprintf(name, sizeof name, "%s.pdf", tag);
  return (file = output_add(with, name)) != NULL ? map_pdf(with, job, file) : GIRDLE_ARGUMENT;
}

static int32_t table_files(program *with, const girdle_reckoning *of) {
  const girdle_order *order = girdle_reckoning_order(of);
  buffer *file = output_add(with, "counts.csv");
  girdle_sink sink = paper_sink(with, file);
  GIRDLE_TRY(girdle_paper_counts_csv(&with->call, girdle_reckoning_tally(of), &sink));
  if (!order) return GIRDLE_OK;
  file = output_add(with, "order.csv");
  sink = paper_sink(with, file);
  GIRDLE_TRY(girdle_paper_order_csv(&with->call, order, &sink));
  file = output_add(with, "lots.csv");
  sink = paper_sink(with, file);
  return girdle_paper_lots_csv(&with->call, order, &sink);
}

/* ---- map */

static int32_t one_map(program *with, const girdle_job *job) {
  girdle_sink sink = paper_sink(with, &with->result);
  if (with->flags.pdf) return map_pdf(with, job, &with->result);
  if (with->flags.csv) return girdle_paper_placements_csv(&with->call, job, &sink);
  if (with->flags.json) {
    places_json(job, &with->result);
    buffer_text(&with->result, "\n");
    return GIRDLE_OK;
  }
  return map_svg(with, job, &with->result);
}

static int32_t maps(program *with, const girdle_club *club) {
  uint64_t from, to;
  GIRDLE_TRY(work_chosen(with, club, &from, &to));
  if (!with->flags.out && to - from > 1)
    return command_usage(with, "a club has many maps: give --out FOLDER, or choose one with tag=TAG");
  for (uint64_t at = from; at < to; at++) {
    if (!with->flags.out) return one_map(with, girdle_club_job(club, at));
    GIRDLE_TRY(map_files(with, girdle_club_job(club, at)));
  }
  snprintf(with->closing, sizeof with->closing, "%llu map%s, with the list%s of places, in %.150s",
           (unsigned long long)(to - from), to - from == 1 ? "" : "s", to - from == 1 ? "" : "s", with->flags.out);
  return GIRDLE_OK;
}

int32_t verb_map(program *with) {
  girdle_club *club = NULL;
  int32_t status;
  if (!with->flags.file_count) return command_usage(with, "which FILE?");
  GIRDLE_TRY(work_file(with, with->flags.files[0], WORK_CHOSEN, &club));
  status = maps(with, club);
  girdle_club_free(club);
  return status;
}

/* ---- cost */

static int32_t quotes(program *with, const girdle_club *club, const girdle_reckoning *of) {
  girdle_sink sink = paper_sink(with, &with->result);
  uint64_t from, to;
  GIRDLE_TRY(work_chosen(with, club, &from, &to));
  for (uint64_t at = from; at < to; at++) {
    GIRDLE_TRY(girdle_paper_cost_text(&with->call, club, at, of, &sink));
    buffer_text(&with->result, "\n");
  }
  return GIRDLE_OK;
}

static int32_t reckon(program *with, int how, girdle_club **club, girdle_reckoning **out) {
  char table[COMMAND_PATH];
  int32_t status;
  if (!with->flags.file_count) return command_usage(with, "which FILE?");
  GIRDLE_TRY(work_file(with, with->flags.files[0], how, club));
  status = girdle_club_reckon(&with->call, *club, with->today, out);
  if (status == GIRDLE_OVERFLOW && !file_join(with, with->flags.files[0], "prices.csv", table, sizeof table))
    girdle_common_at(&with->call, table, -1, -1, -1); /* rates are limited as they are read */
  return status;
}

/* The order; without prices there is none, and what is to be bought is what is counted. */
static int32_t as_table(program *with, const girdle_reckoning *of) {
  girdle_sink sink = paper_sink(with, &with->result);
  if (girdle_reckoning_order(of)) return girdle_paper_order_csv(&with->call, girdle_reckoning_order(of), &sink);
  return girdle_paper_counts_csv(&with->call, girdle_reckoning_tally(of), &sink);
}

static int32_t as_json(program *with, const girdle_club *club, const girdle_reckoning *of) {
  girdle_sink sink = paper_sink(with, &with->result);
  return girdle_paper_club_json(&with->call, club, of, &sink);
}

static int32_t order_text(program *with, const girdle_club *club, const girdle_reckoning *of) {
  girdle_sink sink = paper_sink(with, &with->result);
  GIRDLE_TRY(girdle_paper_order_text(&with->call, girdle_reckoning_order(of), &sink));
  return substitutes_say(with, club, of);
}

void note_lacking(program *with, const girdle_reckoning *of) {
  girdle_order_total total;
  if (!girdle_reckoning_order(of)) return;
  girdle_order_sum(girdle_reckoning_order(of), &total);
  if (total.unpriced_stones == 0) return;
  with->lacks = COMMAND_LACKING;
  command_say(with, "girdle: the order is not complete: no supplier offers enough of %lld kind%s of stone",
              (long long)total.unpriced_stones, total.unpriced_stones == 1 ? "" : "s");
}

/* The order is one for all, so a tag would choose nothing of it; one that no wearer has is complained of first. */
static int32_t whole_club(program *with) {
  girdle_club *club = NULL;
  uint64_t from, to;
  int32_t status;
  if (!with->flags.file_count || !work_is_club(with, with->flags.files[0]) || !flags_given(with, "tag"))
    return GIRDLE_OK;
  GIRDLE_TRY(work_wearers(with, with->flags.files[0], &club));
  status = work_chosen(with, club, &from, &to);
  girdle_club_free(club);
  if (status) return status;
  return command_usage(with,
                       "the order is one for the whole club: leave out tag=; the quote of one is "
                       "`girdle cost CLUB tag=TAG`, without --csv or --json");
}

static int32_t no_prices(program *with) {
  char path[COMMAND_PATH];
  const char *file = with->flags.files[0];
  const int is_there =
      !work_is_club(with, file) || (!file_join(with, file, "prices.csv", path, sizeof path) && file_exists(path));
  return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "prices",
                            is_there ? "prices.csv has headings but no row; give it a row for each pack that is sold"
                                     : "the club has no prices.csv");
}

/* Of one wearer's quote only her own stones count. */
static int is_complete(const girdle_reckoning *of, const girdle_club *club, const char *tag) {
  for (uint64_t at = 0; tag && at < girdle_club_jobs(club); at++)
    if (strcmp(girdle_job_head_of(girdle_club_job(club, at))->tag, tag) == 0)
      return !girdle_reckoning_quote(of, at)->incomplete;
  return 0;
}

/* cost and order are one work said in two ways. */
static int32_t priced(program *with, int32_t (*text)(program *, const girdle_club *, const girdle_reckoning *)) {
  girdle_club *club = NULL;
  girdle_reckoning *of = NULL;
  int32_t status = text != quotes || with->flags.csv || with->flags.json ? whole_club(with) : GIRDLE_OK;
  int one = with->flags.file_count && work_is_club(with, with->flags.files[0]) && flags_given(with, "tag");
  if (!status) status = reckon(with, WORK_PRICES, &club, &of);
  if (!status && !girdle_reckoning_order(of)) status = no_prices(with);
  if (!status && with->flags.json) status = as_json(with, club, of);
  if (!status && with->flags.csv) status = as_table(with, of);
  if (!status && !with->flags.json && !with->flags.csv) status = text(with, club, of);
  if (!status && with->flags.out && !one) status = table_files(with, of);
  if (!status && !(one && is_complete(of, club, flags_given(with, "tag")))) note_lacking(with, of);
  girdle_reckoning_free(of);
  girdle_club_free(club);
  return status;
}

int32_t verb_cost(program *with) {
  return priced(with, quotes);
}

int32_t verb_order(program *with) {
  return priced(with, order_text);
}

/* ---- club */

/* What all costumes take together, in whole tubes: each alone rounds up. */
static void adhesive_text(const program *with, const girdle_club *club, const girdle_reckoning *of, buffer *to) {
  double ml = 0;
  int64_t millionths = 0, tubes;
  char number[2][64];
  buffer whole = {0};
  for (uint64_t at = 0; at < girdle_club_jobs(club); at++) {
    ml += girdle_reckoning_work(of, at)->adhesive_buy_ml;
    millionths += girdle_reckoning_work(of, at)->tube_millionths;
  }
  tubes = (millionths + 999999) / 1000000;
  if (!tubes || girdle_club_jobs(club) < 2) return;
  buffer_say(&whole, with, tubes == 1 ? "{1} tube" : "{1} tubes", number_words(with, (double)tubes, 0, number[0]));
  buffer_say(to, with, "Adhesive for all together: about {1} ml, {2} when they are used up one after the other.",
             number_words(with, ml, 0, number[1]), whole.bytes);
  buffer_text(to, "\n\n");
  buffer_free(&whole);
}

static int32_t season_text(program *with, const girdle_club *club, const girdle_reckoning *of) {
  girdle_sink sink = paper_sink(with, &with->result);
  const girdle_calendar *calendar = girdle_reckoning_calendar(of);
  GIRDLE_TRY(quotes(with, club, of));
  adhesive_text(with, club, of, &with->result);
  if (girdle_reckoning_order(of)) {
    GIRDLE_TRY(girdle_paper_order_text(&with->call, girdle_reckoning_order(of), &sink));
    buffer_text(&with->result, "\n");
  }
  if (calendar) {
    GIRDLE_TRY(girdle_paper_calendar_text(&with->call, calendar, &sink));
    buffer_text(&with->result, "\n");
  }
  return girdle_paper_cautions_text(&with->call, girdle_reckoning_tally(of), &sink);
}

static int32_t season_files(program *with, const girdle_club *club, const girdle_reckoning *of) {
  GIRDLE_TRY(table_files(with, of));
  for (uint64_t at = 0; at < girdle_club_jobs(club); at++)
    GIRDLE_TRY(map_files(with, girdle_club_job(club, at)));
  return GIRDLE_OK;
}

int32_t verb_club(program *with) {
  girdle_club *club = NULL;
  girdle_reckoning *of = NULL;
  int32_t status;
  if (with->flags.file_count && !work_is_club(with, with->flags.files[0]))
    return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "club",
                              "%.120s is no club's folder: there is no club.csv in it", with->flags.files[0]);
  GIRDLE_TRY(whole_club(with));
  status = reckon(with, WORK_PRICES, &club, &of);
  if (!status && with->flags.json) status = as_json(with, club, of);
  if (!status && with->flags.csv) status = as_table(with, of);
  if (!status && !with->flags.json && !with->flags.csv) status = season_text(with, club, of);
  if (!status && with->flags.out) status = season_files(with, club, of);
  if (!status) note_lacking(with, of);
  girdle_reckoning_free(of);
  girdle_club_free(club);
  return status;
}
