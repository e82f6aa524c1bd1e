/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "draft.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

/* plan: a costume from a total: so many pieces, so much money, so many evenings, or what is in the drawer. Its zones as
 * they are written are the most there can be; those ranked 1 are filled first, then 2 and so on, then the edges that
 * have no priority, and the areas share what remains. Stones set by eye take their turn as an edge does.
 *
 * Beside it stand what makers call light, medium and full: the edges alone; the edges, and half of what the areas hold;
 * all of it. A costume that is all edges or all areas has no such parts: there they are a third, two thirds and all, by
 * priority. */

static const char *const richness_words[RICHNESSES] = {"light", "medium", "full"};

typedef struct wish {
  int32_t kind;
  int64_t amount;
} wish;

/* ---- what was wished for */

static int32_t read_money(program *with, const girdle_club *club, const char *amount, int64_t *out) {
  int32_t status = girdle_money_parse(&with->call, amount, &girdle_club_quote_rates(club)->currency, out);
  girdle_common_at(&with->call, "money", -1, -1, -1);
  return status;
}

static int32_t read_evenings(program *with, const char *text, int64_t *out) {
  double evenings = -1;
  if (!girdle_number_parse(NULL, text, strlen(text), &evenings) && evenings >= 0 && evenings <= 1e6 &&
      evenings == floor(evenings)) {
    *out = (int64_t)evenings;
    return GIRDLE_OK;
  }
  girdle_common_fail(&with->call, GIRDLE_SYNTAX, NULL,
                     "'%.60s' is not a number of whole evenings; write one like \"3\"", text);
  girdle_common_at(&with->call, "evenings", -1, -1, -1);
  return GIRDLE_SYNTAX;
}

typedef struct wishes {
  const char *pieces, *money, *evenings, *drawer;
} wishes;

/* Taken out of the parameters before the costume is read, which would take them for measures. */
static int32_t take_wishes(program *with, wishes *out) {
  out->pieces = flags_take(with, "pieces");
  out->money = flags_take(with, "money");
  out->evenings = flags_take(with, "evenings");
  out->drawer = flags_take(with, "drawer");
  if (!!out->pieces + !!out->money + !!out->evenings + !!out->drawer != 1)
    return command_usage(with, "one total is wanted: pieces=\"12 gross\", money=\"60.00\", evenings=3 or drawer=all");
  if (out->drawer && strcmp(out->drawer, "all") != 0) return command_usage(with, "what is in the drawer is drawer=all");
  return GIRDLE_OK;
}

static int32_t read_wish(program *with, const girdle_club *club, const wishes *of, wish *out) {
  out->kind = of->pieces     ? GIRDLE_PLAN_PIECES
              : of->money    ? GIRDLE_PLAN_MONEY
              : of->evenings ? GIRDLE_PLAN_EVENINGS
                             : GIRDLE_PLAN_STOCK;
  out->amount = 0;
  if (of->pieces) return girdle_pieces_parse(&with->call, of->pieces, &out->amount);
  if (of->money) return read_money(with, club, of->money, &out->amount);
  return of->evenings ? read_evenings(with, of->evenings, &out->amount) : GIRDLE_OK;
}

/* ---- light, medium and full */

static int64_t most_of(const draft *of, int is_edge) {
  int64_t most = 0;
  for (uint64_t at = 0; at < of->count; at++)
    if (of->is_edge[at] == is_edge) most += of->zones[at].most;
  return most;
}

/* The edges in their order, and after all of them the areas, alike. */
static girdle_plan_zone *edges_first(const draft *of) {
  girdle_plan_zone *zones = command_new((of->count + 1) * sizeof *zones);
  for (uint64_t at = 0; at < of->count; at++) {
    zones[at] = of->zones[at];
    if (!of->is_edge[at]) zones[at].priority = INT32_MAX;
  }
  return zones;
}

static int32_t plan_richness(program *with, const girdle_club *club, const girdle_plan_zone *zones, uint64_t count,
                             int64_t pieces, rich *out) {
  out->counts = command_new((count + 1) * sizeof *out->counts);
  return girdle_club_plan(&with->call, club, zones, count, GIRDLE_PLAN_PIECES, pieces, out->counts, &out->sum);
}

/* Where there are no edges but what is set by eye, there is no light of edges alone. */
static int has_parts(const draft *of) {
  int edges = 0, areas = 0;
  for (uint64_t at = 0; at < of->count; at++) {
    edges |= of->is_edge[at] && !of->is_by_eye[at];
    areas |= !of->is_edge[at];
  }
  return edges && areas;
}

static int32_t plan_richnesses(program *with, const girdle_club *club, draft *of) {
  int64_t edges = most_of(of, 1), areas = most_of(of, 0), all = edges + areas;
  int parts = has_parts(of);
  const int64_t pieces[RICHNESSES] = {parts ? edges : all / 3, parts ? edges + areas / 2 : all * 2 / 3, all};
  girdle_plan_zone *zones = parts ? edges_first(of) : NULL;
  int32_t status = GIRDLE_OK;
  for (int which = 0; which < RICHNESSES && !status; which++)
    status = plan_richness(with, club, parts ? zones : of->zones, of->count, pieces[which], &of->by[which]);
  free(zones);
  return status;
}

/* ---- what it means on the costume */

static int32_t write_planned(planned *in, const draft *of) {
  planned_eye *eyes = command_new((of->row_count + 1) * sizeof *eyes);
  uint64_t count = 0;
  int32_t status;
  for (uint64_t at = 0; at < of->row_count; at++) {
    const draft_row *row = &of->rows[at];
    if (of->is_by_eye[row->zone])
      eyes[count++] = (planned_eye){row->name, row->side, of->zones[row->zone].stones, draft_each(of, row->zone)};
  }
  status = planned_write(in, eyes, count);
  free(eyes);
  return status;
}

/* Finds the gaps, and with --out writes the table that has them. */
static int32_t find_planned(program *with, const girdle_job *job, draft *of) {
  planned in;
  int32_t status;
  memset(&in, 0, sizeof in);
  in.with = with;
  in.job = job;
  in.zones = of->planned;
  in.zone_count = of->count;
  draft_plan(of);
  status = planned_find(&in, with->flags.files[0]);
  if (!status && with->flags.out) status = write_planned(&in, of);
  planned_free(&in);
  return status;
}

/* ---- in each form */

static void say_sum(program *with, const girdle_club *club, const girdle_plan_sum *sum, buffer *to) {
  char pieces[64], money[48], numbers[4][64];
  buffer evenings = {0};
  girdle_pieces_text(sum->pieces, pieces, sizeof pieces);
  buffer_say(&evenings, with, sum->evenings == 1 ? "{1} evening" : "{1} evenings",
             number_words(with, (double)sum->evenings, 0, numbers[0]));
  buffer_say(to, with, "together {1} of {2} ({3}), about {4} minutes, {5}",
             number_words(with, (double)sum->pieces, 0, numbers[1]),
             number_words(with, (double)sum->pieces_most, 0, numbers[2]), pieces,
             number_words(with, floor(sum->minutes + 0.5), 0, numbers[3]), evenings.bytes);
  buffer_free(&evenings);
  if (sum->cost_minor >= 0) {
    girdle_money_text(sum->cost_minor, &girdle_club_quote_rates(club)->currency, 1, money, sizeof money);
    buffer_say(to, with, ", the order {1}", money);
  }
  buffer_text(to, "\n");
}

static long long of_row(const draft_row *row, const int64_t *counts) {
  return (long long)(counts[row->zone] / row->parts);
}

/* The gap to leave, and in how many rows; nothing for stones that are set by eye. */
static void say_gap(const program *with, const planned_zone *zone, buffer *to) {
  char number[64], rows[24] = "";
  buffer words = {0};
  if (zone->is_as_written) buffer_say(&words, with, "as written");
  if (isfinite(zone->gap_mm)) {
    buffer_text(&words, "%s%s ", zone->is_about ? "~" : "",
                number_words(with, zone->gap_mm, zone->is_about ? 1 : 3, number));
    buffer_say(&words, with, "mm");
  }
  if (zone->rows > 0) snprintf(rows, sizeof rows, "%lld", (long long)zone->rows);
  buffer_text(to, "%14s%5s ", words.count ? words.bytes : "", rows);
  buffer_free(&words);
}

static void say_text(program *with, const draft *of, buffer *to) {
  static const char *const headings[] = {"zone", "planned", "gap", "rows", "light", "medium", "full"};
  static const int widths[] = {-26, 9, 14, 5, 10, 9, 9};
  for (int at = 0; at < 7; at++)
    buffer_say_in(to, with, headings[at], widths[at]);
  buffer_text(to, "\n");
  for (uint64_t at = 0; at < of->row_count; at++) {
    const draft_row *row = &of->rows[at];
    buffer_padded(to, row->name, -19);
    buffer_say_in(to, with, row->side, -7);
    buffer_text(to, " %8lld", of_row(row, of->counts));
    say_gap(with, &of->planned[row->zone], to);
    for (int which = 0; which < RICHNESSES; which++)
      buffer_text(to, " %8lld", of_row(row, of->by[which].counts));
    buffer_text(to, "\n");
  }
}

/* Where no gap gives just so many. */
static void say_surplus(const program *with, const draft *of, buffer *to) {
  char number[64];
  for (uint64_t at = 0; at < of->count; at++) {
    const planned_zone *zone = &of->planned[at];
    if (!zone->name || zone->left_out <= 0) continue;
    buffer_say(to, with, "{1}: leave {2} of the stones out that this gap lays out", zone->name,
               number_words(with, (double)zone->left_out, 0, number));
    buffer_text(to, "\n");
  }
}

/* Why a zone is not at its most, when the drawer is used up. */
static void say_lacking(program *with, const draft *of, buffer *to) {
  char stone[160];
  for (uint64_t at = 0; at < of->count; at++) {
    const girdle_plan_zone *zone = &of->zones[at];
    if (of->counts[at] == zone->most) continue;
    girdle_stone_text(&zone->stones[draft_each(of, at) % (int64_t)zone->stone_count], stone, sizeof stone);
    buffer_say(to, with, "{1} stops for want of {2}", zone->name, stone);
    buffer_text(to, "\n");
  }
}

/* Whether stones go on the front and on the back. */
static int has_two_sides(const draft *of) {
  int front = 0, back = 0;
  for (uint64_t at = 0; at < of->count; at++) {
    const char *side = of->zones[at].side;
    int both = strcmp(side, "both") == 0;
    front |= both || strcmp(side, "front") == 0;
    back |= both || strcmp(side, "back") == 0;
  }
  return front && back;
}

static void say_sums(program *with, const girdle_club *club, const draft *of, const girdle_plan_sum *sum, buffer *to) {
  buffer_text(to, "\n");
  buffer_say_in(to, with, "planned", -8);
  say_sum(with, club, sum, to);
  for (int which = 0; which < RICHNESSES; which++) {
    buffer_say_in(to, with, richness_words[which], -8);
    say_sum(with, club, &of->by[which].sum, to);
  }
  buffer_text(to, "\n");
  buffer_say(to, with,
             most_of(of, 1) && most_of(of, 0)
                 ? "Light is the edges alone; medium the edges, and half of what the areas hold; full is all of it."
                 : "Light, medium and full are a third, two thirds and all of what there can be.");
  buffer_text(to, "\n");
}

static void say_csv(const draft *of, buffer *to) {
  buffer_text(to, "zone,side,planned,at_most,light,medium,gap_mm,rows\r\n");
  for (uint64_t at = 0; at < of->row_count; at++) {
    const draft_row *row = &of->rows[at];
    const planned_zone *zone = &of->planned[row->zone];
    buffer_csv_text(to, row->name, ",");
    buffer_csv_text(to, row->side, ",");
    buffer_text(to, "%lld,%lld,%lld,%lld,", of_row(row, of->counts), of_row(row, of->by[FULL].counts),
                of_row(row, of->by[LIGHT].counts), of_row(row, of->by[MEDIUM].counts));
    if (isfinite(zone->gap_mm)) buffer_number(to, zone->gap_mm, 3);
    buffer_text(to, zone->rows > 0 ? ",%lld\r\n" : ",\r\n", (long long)zone->rows);
  }
}

static void json_sum(const girdle_plan_sum *sum, buffer *to) {
  buffer_text(to, "\"pieces\":%lld,\"pieces_most\":%lld,\"cost_minor\":", (long long)sum->pieces,
              (long long)sum->pieces_most);
  buffer_text(to, sum->cost_minor < 0 ? "null" : "%lld", (long long)sum->cost_minor);
  buffer_text(to, ",\"minutes\":");
  buffer_number(to, sum->minutes, 1);
  buffer_text(to, ",\"evenings\":%lld", (long long)sum->evenings);
}

static void json_row(const draft *of, uint64_t at, buffer *to) {
  const draft_row *row = &of->rows[at];
  const planned_zone *zone = &of->planned[row->zone];
  buffer_text(to, "%s{\"zone\":\"", at ? "," : "");
  buffer_json_text(to, row->name);
  buffer_text(to, "\",\"side\":\"%s\",\"planned\":%lld,\"most\":%lld", row->side, of_row(row, of->counts),
              of_row(row, of->by[FULL].counts));
  buffer_text(to, ",\"light\":%lld,\"medium\":%lld,\"gap_mm\":", of_row(row, of->by[LIGHT].counts),
              of_row(row, of->by[MEDIUM].counts));
  if (isfinite(zone->gap_mm))
    buffer_number(to, zone->gap_mm, 3);
  else
    buffer_text(to, "null");
  buffer_text(to, ",\"rows\":%lld}", (long long)zone->rows);
}

static void say_json(const draft *of, const girdle_plan_sum *sum, buffer *to) {
  buffer_text(to, "{");
  json_sum(sum, to);
  for (int which = 0; which < RICHNESSES; which++) {
    buffer_text(to, ",\"%s\":{", richness_words[which]);
    json_sum(&of->by[which].sum, to);
    buffer_text(to, "}");
  }
  buffer_text(to, ",\"zones\":[");
  for (uint64_t at = 0; at < of->row_count; at++)
    json_row(of, at, to);
  buffer_text(to, "]}\n");
}

static int32_t say_plan(program *with, const girdle_club *club, const girdle_job *job, draft *of, const wish *wanted) {
  girdle_plan_sum sum;
  if (wanted->kind == GIRDLE_PLAN_STOCK) GIRDLE_TRY(draft_follow_drawer(with, club, of));
  GIRDLE_TRY(girdle_club_plan(&with->call, club, of->zones, of->count, wanted->kind, wanted->amount, of->counts, &sum));
  GIRDLE_TRY(plan_richnesses(with, club, of));
  GIRDLE_TRY(find_planned(with, job, of));
  if (with->flags.csv)
    say_csv(of, &with->result);
  else if (with->flags.json)
    say_json(of, &sum, &with->result);
  else
    say_text(with, of, &with->result);
  if (with->flags.csv || with->flags.json) return GIRDLE_OK;
  say_surplus(with, of, &with->result);
  if (wanted->kind == GIRDLE_PLAN_STOCK) say_lacking(with, of, &with->result);
  if (wanted->kind == GIRDLE_PLAN_EVENINGS && wanted->amount == 1 && has_two_sides(of)) {
    buffer_say(&with->result, with,
               "Front and back each begin on an evening of their own: evenings=2 has room for both.");
    buffer_text(&with->result, "\n");
  }
  say_sums(with, club, of, &sum, &with->result);
  return GIRDLE_OK;
}

int32_t verb_plan(program *with) {
  girdle_club *club = NULL;
  wishes asked;
  wish wanted;
  draft of;
  uint64_t from, to;
  int32_t status;
  if (!with->flags.file_count) return command_usage(with, "which FILE?");
  GIRDLE_TRY(take_wishes(with, &asked));
  GIRDLE_TRY(work_file(with, with->flags.files[0],
                       WORK_CHOSEN | (!asked.pieces || with->flags.prices ? WORK_PRICES : 0), &club));
  status = work_chosen(with, club, &from, &to);
  if (!status && to - from > 1) status = command_usage(with, "a club has many costumes: choose one with tag=TAG");
  if (!status) status = read_wish(with, club, &asked, &wanted);
  if (!status) {
    draft_of(girdle_club_job(club, from), &of);
    status = say_plan(with, club, girdle_club_job(club, from), &of, &wanted);
    draft_free(&of);
  }
  girdle_club_free(club);
  return status;
}
