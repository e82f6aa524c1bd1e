/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <math.h>
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

enum { LIGHT, MEDIUM, FULL, RICHNESSES };
static const char *const richness_words[RICHNESSES] = {"light", "medium", "full"};

typedef struct rich {
  int64_t *counts; /* of each zone */
  girdle_plan_sum sum;
} rich;

typedef struct wish {
  int32_t kind;
  int64_t amount;
} wish;

/* A line of the plan: one half of a pair has half of what its zone is given. */
typedef struct draft_row {
  const char *name, *side;
  uint64_t zone;
  int64_t parts;
} draft_row;

typedef struct draft {
  draft_row *rows;
  uint64_t row_count, last_placed; /* the row of the zone that was placed last */
  girdle_plan_zone *zones;
  int64_t *counts;
  uint64_t count;
  int *is_edge, *is_by_eye;
  rich by[RICHNESSES];
} draft;

/* ---- what was wished for */

static int32_t read_money(program *with, const girdle_club *club, const char *amount, int64_t *out) {
  int32_t status = girdle_money_parse(&with->call, amount, &girdle_club_quote_rates(club)->currency, out);
  girdle_common_at(&with->call, "money", -1, -1, -1);
  return status;
}

static int32_t read_evenings(program *with, const char *text, int64_t *out) {
  int32_t status = girdle_pieces_parse(&with->call, text, out);
  girdle_common_at(&with->call, "evenings", -1, -1, -1);
  return status;
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

/* ---- a zone as a sequence that keeps its mix */

/* The next stone is the one that is furthest behind its share, so that any beginning of the sequence has the zone's
 * mix. */
static uint32_t furthest_behind(const int64_t *wanted, int64_t *placed, uint32_t kinds, int64_t total, int64_t at) {
  uint32_t best = 0;
  int64_t worst = INT64_MIN;
  for (uint32_t kind = 0; kind < kinds; kind++) {
    int64_t behind = wanted[kind] * (at + 1) - placed[kind] * total;
    if (behind > worst) worst = behind, best = kind;
  }
  placed[best]++;
  return best;
}

static void fill_zone(const girdle_zone *from, girdle_plan_zone *to) {
  const girdle_placed *records = NULL;
  const girdle_stone *stones = NULL;
  uint32_t kinds = 0;
  int64_t total = from->placement ? girdle_placement_view(from->placement, &records, &stones, &kinds) : 0;
  int64_t *wanted = command_new((kinds + 1) * sizeof *wanted), *placed = command_new((kinds + 1) * sizeof *placed);
  int64_t length = total < 65535 ? total : 65535;
  girdle_stone *sequence = command_new((uint64_t)length * sizeof *sequence);
  for (int64_t at = 0; at < total; at++)
    wanted[records[at].stone]++;
  for (int64_t at = 0; at < length; at++)
    sequence[at] = stones[furthest_behind(wanted, placed, kinds, total, at)];
  girdle_common_text(to->name, sizeof to->name, from->name);
  girdle_common_text(to->side, sizeof to->side, from->side);
  to->priority = from->priority ? from->priority : isfinite(from->edge_mm) ? INT32_MAX - 1 : INT32_MAX;
  to->most = total * from->times;
  to->alike = (int32_t)from->times;
  to->stones = sequence;
  to->stone_count = (uint64_t)length;
  free(wanted);
  free(placed);
}

static int64_t stones_of(const girdle_zone *zone) {
  return zone->placement ? girdle_placement_view(zone->placement, NULL, NULL, NULL) : 0;
}

/* Left and right, one after the other, are planned as one zone. */
static int is_second_half(const girdle_zone *zones, uint64_t at) {
  return at > 0 && strcmp(zones[at].name, zones[at - 1].name) == 0 && strcmp(zones[at].side, "right") == 0 &&
         strcmp(zones[at - 1].side, "left") == 0 && zones[at].times == zones[at - 1].times &&
         stones_of(&zones[at]) == stones_of(&zones[at - 1]);
}

static void add_half(draft *to, const girdle_zone *from) {
  draft_row *first = &to->rows[to->last_placed], *row = &to->rows[to->row_count++];
  girdle_plan_zone *zone = &to->zones[first->zone];
  zone->most *= 2;
  zone->alike *= 2;
  girdle_common_text(zone->side, sizeof zone->side, "pair");
  first->parts = 2;
  *row = *first;
  row->side = from->side;
}

static void add_zone(draft *to, const girdle_zone *from) {
  to->last_placed = to->row_count;
  to->rows[to->row_count++] = (draft_row){from->name, from->side, to->count, 1};
  to->is_edge[to->count] = isfinite(from->edge_mm);
  fill_zone(from, &to->zones[to->count++]);
}

/* Of stones set by eye each kind is a zone of its own. */
static void add_by_eye(draft *to, const girdle_zone *from) {
  for (uint64_t at = 0; at < from->already_count; at++) {
    girdle_plan_zone *zone = &to->zones[to->count];
    girdle_stone *stone = command_new(sizeof *stone);
    if (from->already_pieces[at] > 0) {
      *stone = from->already[at];
      girdle_common_text(zone->name, sizeof zone->name, from->name);
      girdle_common_text(zone->side, sizeof zone->side, from->side);
      zone->priority = from->priority ? from->priority : INT32_MAX - 1;
      zone->alike = (int32_t)from->times;
      zone->most = from->already_pieces[at] * from->times;
      zone->stones = stone;
      zone->stone_count = 1;
      to->is_edge[to->count] = to->is_by_eye[to->count] = 1;
      to->rows[to->row_count++] = (draft_row){from->name, from->side, to->count++, 1};
    } else {
      command_release(stone);
    }
  }
}

static uint64_t rows_most(const girdle_zone *zones, uint64_t count) {
  uint64_t most = count + 1;
  for (uint64_t at = 0; at < count; at++)
    most += zones[at].already_count;
  return most;
}

static void draft_of(const girdle_job *job, draft *out) {
  uint64_t count, most;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  memset(out, 0, sizeof *out);
  most = rows_most(zones, count);
  out->rows = command_new(most * sizeof *out->rows);
  out->zones = command_new(most * sizeof *out->zones);
  out->counts = command_new(most * sizeof *out->counts);
  out->is_edge = command_new(most * sizeof *out->is_edge);
  out->is_by_eye = command_new(most * sizeof *out->is_by_eye);
  for (uint64_t at = 0; at < count; at++) {
    add_by_eye(out, &zones[at]);
    if (!stones_of(&zones[at])) continue;
    if (is_second_half(zones, at))
      add_half(out, &zones[at]);
    else
      add_zone(out, &zones[at]);
  }
}

static void draft_free(draft *of) {
  for (uint64_t at = 0; at < of->count; at++)
    free((girdle_stone *)of->zones[at].stones);
  for (int which = 0; which < RICHNESSES; which++)
    free(of->by[which].counts);
  free(of->rows);
  free(of->zones);
  free(of->counts);
  free(of->is_edge);
  free(of->is_by_eye);
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

static void say_text(program *with, const draft *of, buffer *to) {
  static const char *const headings[] = {"zone", "planned", "light", "medium", "full"};
  static const int widths[] = {-26, 9, 11, 9, 9};
  for (int at = 0; at < 5; at++)
    buffer_say_in(to, with, headings[at], widths[at]);
  buffer_text(to, "\n");
  for (uint64_t at = 0; at < of->row_count; at++) {
    const draft_row *row = &of->rows[at];
    buffer_padded(to, row->name, -19);
    buffer_say_in(to, with, row->side, -7);
    buffer_text(to, " %8lld  ", of_row(row, of->counts));
    for (int which = 0; which < RICHNESSES; which++)
      buffer_text(to, " %8lld", of_row(row, of->by[which].counts));
    buffer_text(to, "\n");
  }
}

/* Why a zone is not at its most, when the drawer is used up. */
static void say_lacking(program *with, const draft *of, buffer *to) {
  char stone[160];
  for (uint64_t at = 0; at < of->count; at++) {
    const girdle_plan_zone *zone = &of->zones[at];
    int64_t each = of->counts[at] / (zone->alike > 1 ? zone->alike : 1);
    if (of->counts[at] == zone->most) continue;
    girdle_stone_text(&zone->stones[each % (int64_t)zone->stone_count], stone, sizeof stone);
    buffer_say(to, with, "{1} stops for want of {2}", zone->name, stone);
    buffer_text(to, "\n");
  }
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
  buffer_text(to, "zone,side,planned,at_most,light,medium\r\n");
  for (uint64_t at = 0; at < of->row_count; at++) {
    const draft_row *row = &of->rows[at];
    buffer_csv_text(to, row->name, ",");
    buffer_csv_text(to, row->side, ",");
    buffer_text(to, "%lld,%lld,%lld,%lld\r\n", of_row(row, of->counts), of_row(row, of->by[FULL].counts),
                of_row(row, of->by[LIGHT].counts), of_row(row, of->by[MEDIUM].counts));
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
  buffer_text(to, "%s{\"zone\":\"", at ? "," : "");
  buffer_json_text(to, row->name);
  buffer_text(to, "\",\"side\":\"%s\",\"planned\":%lld,\"most\":%lld", row->side, of_row(row, of->counts),
              of_row(row, of->by[FULL].counts));
  buffer_text(to, ",\"light\":%lld,\"medium\":%lld}", of_row(row, of->by[LIGHT].counts),
              of_row(row, of->by[MEDIUM].counts));
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

static int32_t say_plan(program *with, const girdle_club *club, draft *of, const wish *wanted) {
  girdle_plan_sum sum;
  GIRDLE_TRY(girdle_club_plan(&with->call, club, of->zones, of->count, wanted->kind, wanted->amount, of->counts, &sum));
  GIRDLE_TRY(plan_richnesses(with, club, of));
  if (with->flags.csv)
    say_csv(of, &with->result);
  else if (with->flags.json)
    say_json(of, &sum, &with->result);
  else
    say_text(with, of, &with->result);
  if (with->flags.csv || with->flags.json) return GIRDLE_OK;
  if (wanted->kind == GIRDLE_PLAN_STOCK) say_lacking(with, of, &with->result);
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
    status = say_plan(with, club, &of, &wanted);
    draft_free(&of);
  }
  girdle_club_free(club);
  return status;
}
