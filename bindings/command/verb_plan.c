/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <stdlib.h>
#include <string.h>

#include "common.h"

/* plan: a costume from a total: so many pieces, so much money, so many evenings, or what is in the drawer. Its zones as
 * they are written are the most there can be; those ranked 1 are filled first, then 2 and so on, and those without a
 * priority share what remains. */

typedef struct wish {
  int32_t kind;
  int64_t amount;
} wish;

typedef struct draft {
  girdle_plan_zone *zones;
  int64_t *counts;
  uint64_t count;
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
  to->priority = from->priority ? from->priority : INT32_MAX;
  to->most = total * from->times;
  to->stones = sequence;
  to->stone_count = (uint64_t)length;
  free(wanted);
  free(placed);
}

/* Stones set by eye are there already, and are left out. */
static void draft_of(const girdle_job *job, draft *out) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  out->zones = command_new((count + 1) * sizeof *out->zones);
  out->counts = command_new((count + 1) * sizeof *out->counts);
  out->count = 0;
  for (uint64_t at = 0; at < count; at++)
    if (zones[at].placement && girdle_placement_view(zones[at].placement, NULL, NULL, NULL) > 0)
      fill_zone(&zones[at], &out->zones[out->count++]);
}

static void draft_free(draft *of) {
  for (uint64_t at = 0; at < of->count; at++)
    free((girdle_stone *)of->zones[at].stones);
  free(of->zones);
  free(of->counts);
}

/* ---- in each form */

static void say_sum(const girdle_club *club, const girdle_plan_sum *sum, buffer *to) {
  char pieces[64], money[48];
  girdle_pieces_text(sum->pieces, pieces, sizeof pieces);
  buffer_text(to, "together %lld of %lld (%s), about %lld minutes, %lld evening%s", (long long)sum->pieces,
              (long long)sum->pieces_most, pieces, (long long)(sum->minutes + 0.5), (long long)sum->evenings,
              sum->evenings == 1 ? "" : "s");
  if (sum->cost_minor >= 0) {
    girdle_money_text(sum->cost_minor, &girdle_club_quote_rates(club)->currency, 1, money, sizeof money);
    buffer_text(to, ", the order %s", money);
  }
  buffer_text(to, "\n");
}

static void say_text(const draft *of, buffer *to) {
  buffer_text(to, "%-26s %8s %8s\n", "zone", "planned", "at most");
  for (uint64_t at = 0; at < of->count; at++)
    buffer_text(to, "%-18s %-7s %8lld %8lld\n", of->zones[at].name, of->zones[at].side, (long long)of->counts[at],
                (long long)of->zones[at].most);
}

static void say_csv(const draft *of, buffer *to) {
  buffer_text(to, "zone,side,planned,at_most\r\n");
  for (uint64_t at = 0; at < of->count; at++) {
    buffer_csv_text(to, of->zones[at].name, ",");
    buffer_csv_text(to, of->zones[at].side, ",");
    buffer_text(to, "%lld,%lld\r\n", (long long)of->counts[at], (long long)of->zones[at].most);
  }
}

static void say_json(const draft *of, const girdle_plan_sum *sum, buffer *to) {
  buffer_text(to, "{\"pieces\":%lld,\"pieces_most\":%lld,\"cost_minor\":", (long long)sum->pieces,
              (long long)sum->pieces_most);
  buffer_text(to, sum->cost_minor < 0 ? "null" : "%lld", (long long)sum->cost_minor);
  buffer_text(to, ",\"minutes\":");
  buffer_number(to, sum->minutes, 1);
  buffer_text(to, ",\"evenings\":%lld,\"zones\":[", (long long)sum->evenings);
  for (uint64_t at = 0; at < of->count; at++) {
    buffer_text(to, "%s{\"zone\":\"", at ? "," : "");
    buffer_json_text(to, of->zones[at].name);
    buffer_text(to, "\",\"side\":\"%s\",\"planned\":%lld,\"most\":%lld}", of->zones[at].side, (long long)of->counts[at],
                (long long)of->zones[at].most);
  }
  buffer_text(to, "]}\n");
}

static int32_t plan(program *with, const girdle_club *club, const draft *of, const wish *wanted, girdle_plan_sum *sum) {
  return girdle_club_plan(&with->call, club, of->zones, of->count, wanted->kind, wanted->amount, of->counts, sum);
}

/* Light, medium and full: a third of what there can be, two thirds, and all. */
static int32_t say_side_by_side(program *with, const girdle_club *club, const draft *of, int64_t most) {
  static const char *const words[] = {"light", "medium", "full"};
  for (int third = 1; third <= 3; third++) {
    wish wanted = {GIRDLE_PLAN_PIECES, most * third / 3};
    girdle_plan_sum sum;
    GIRDLE_TRY(plan(with, club, of, &wanted, &sum));
    buffer_text(&with->result, "%-7s", words[third - 1]);
    say_sum(club, &sum, &with->result);
  }
  return GIRDLE_OK;
}

static int32_t say_plan(program *with, const girdle_club *club, const draft *of, const wish *wanted) {
  girdle_plan_sum sum;
  GIRDLE_TRY(plan(with, club, of, wanted, &sum));
  if (with->flags.csv) {
    say_csv(of, &with->result);
    return GIRDLE_OK;
  }
  if (with->flags.json) {
    say_json(of, &sum, &with->result);
    return GIRDLE_OK;
  }
  say_text(of, &with->result);
  say_sum(club, &sum, &with->result);
  buffer_text(&with->result, "\nBeside it, at a third, two thirds and all of what there can be:\n");
  return say_side_by_side(with, club, of, sum.pieces_most);
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
