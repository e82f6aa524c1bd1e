/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "draft.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

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
  row->of = from;
}

static void add_zone(draft *to, const girdle_zone *from) {
  to->last_placed = to->row_count;
  to->rows[to->row_count++] = (draft_row){from->name, from->side, to->count, 1, from};
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
      to->rows[to->row_count++] = (draft_row){from->name, from->side, to->count++, 1, from};
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

void draft_of(const girdle_job *job, draft *out) {
  uint64_t count, most;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  memset(out, 0, sizeof *out);
  most = rows_most(zones, count);
  out->rows = command_new(most * sizeof *out->rows);
  out->zones = command_new(most * sizeof *out->zones);
  out->planned = command_new(most * sizeof *out->planned);
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

/* ---- what is planned */

/* How many of which kind the beginning of a zone's sequence holds. */
static void count_kinds(const girdle_plan_zone *zone, int64_t each, planned_zone *to) {
  girdle_stone *kinds = command_new(zone->stone_count * sizeof *kinds);
  int64_t length = (int64_t)zone->stone_count;
  to->pieces = command_new(zone->stone_count * sizeof *to->pieces);
  for (int64_t at = 0; at < length && at < each; at++) {
    uint64_t kind = 0;
    while (kind < to->kind_count && !girdle_stone_equal(&kinds[kind], &zone->stones[at]))
      kind++;
    if (kind == to->kind_count) kinds[to->kind_count++] = zone->stones[at];
    to->pieces[kind] += each / length + (at < each % length);
  }
  to->kinds = kinds;
}

int64_t draft_each(const draft *of, uint64_t zone) {
  return of->counts[zone] / (of->zones[zone].alike > 1 ? of->zones[zone].alike : 1);
}

static void planned_release(planned_zone *of) {
  free((girdle_stone *)of->kinds);
  free(of->pieces);
}

void draft_plan(draft *of) {
  for (uint64_t at = 0; at < of->row_count; at++) {
    const draft_row *row = &of->rows[at];
    planned_zone *to = &of->planned[row->zone];
    if (of->is_by_eye[row->zone] || to->name) continue; /* the other half of a pair */
    to->name = row->name;
    to->side = of->zones[row->zone].side;
    to->as_written = row->of;
    to->each = draft_each(of, row->zone);
    count_kinds(&of->zones[row->zone], to->each, to);
  }
}

/* ---- the mix of the areas, following what is in the drawer */

/* Of a stone, what the zones that come before take. */
static int64_t taken_before(const draft *of, int32_t priority, const girdle_stone *stone) {
  int64_t taken = 0;
  for (uint64_t at = 0; at < of->count; at++) {
    planned_zone use = {0};
    if (of->zones[at].priority >= priority) continue;
    count_kinds(&of->zones[at], draft_each(of, at), &use);
    for (uint64_t kind = 0; kind < use.kind_count; kind++)
      if (girdle_stone_equal(&use.kinds[kind], stone))
        taken += use.pieces[kind] * (of->zones[at].alike > 1 ? of->zones[at].alike : 1);
    planned_release(&use);
  }
  return taken;
}

static int64_t left_in_drawer(const girdle_club *club, const draft *of, int32_t priority, const girdle_stone *stone) {
  uint64_t count;
  const girdle_stock_row *rows = girdle_club_stock(club, &count);
  int64_t pieces = -taken_before(of, priority, stone);
  for (uint64_t at = 0; at < count; at++)
    if (girdle_stone_equal(&rows[at].stone, stone)) pieces += rows[at].pieces;
  return pieces > 0 ? pieces : 0;
}

/* Shares the stones of one size of a zone among their kinds by what is left of each. */
static int32_t share_size(program *with, planned_zone *mix, uint64_t first, const int64_t *left, int *is_other) {
  int64_t *weights = command_new(mix->kind_count * sizeof *weights);
  int64_t *parts = command_new(mix->kind_count * sizeof *parts);
  int64_t wanted = 0, there = 0;
  int32_t status = GIRDLE_OK;
  for (uint64_t kind = first; kind < mix->kind_count; kind++) {
    if (!girdle_stone_same_place(&mix->kinds[first], &mix->kinds[kind])) continue;
    wanted += mix->pieces[kind];
    there += weights[kind] = left[kind];
  }
  if (there) status = girdle_money_split(&with->call, wanted, weights, mix->kind_count, parts);
  for (uint64_t kind = first; kind < mix->kind_count && there && !status; kind++) {
    if (!girdle_stone_same_place(&mix->kinds[first], &mix->kinds[kind])) continue;
    *is_other |= mix->pieces[kind] != parts[kind];
    mix->pieces[kind] = parts[kind];
  }
  free(weights);
  free(parts);
  return status;
}

static int is_first_of_size(const planned_zone *mix, uint64_t kind) {
  for (uint64_t before = 0; before < kind; before++)
    if (girdle_stone_same_place(&mix->kinds[before], &mix->kinds[kind])) return 0;
  return 1;
}

static int32_t follow_in_zone(program *with, const girdle_club *club, draft *of, uint64_t which) {
  girdle_plan_zone *zone = &of->zones[which];
  planned_zone mix = {0};
  int64_t total = (int64_t)zone->stone_count, *placed, *left;
  girdle_stone *sequence = (girdle_stone *)zone->stones;
  int32_t status = GIRDLE_OK;
  int is_other = 0;
  count_kinds(zone, total, &mix);
  left = command_new((mix.kind_count + 1) * sizeof *left);
  placed = command_new((mix.kind_count + 1) * sizeof *placed);
  for (uint64_t kind = 0; kind < mix.kind_count; kind++)
    left[kind] = left_in_drawer(club, of, zone->priority, &mix.kinds[kind]);
  for (uint64_t kind = 0; kind < mix.kind_count && !status; kind++)
    if (is_first_of_size(&mix, kind)) status = share_size(with, &mix, kind, left, &is_other);
  for (int64_t at = 0; at < total && is_other && !status; at++)
    sequence[at] = mix.kinds[furthest_behind(mix.pieces, placed, (uint32_t)mix.kind_count, total, at)];
  free(left);
  free(placed);
  planned_release(&mix);
  return status;
}

/* The zones that are ranked and the edges are planned first; the areas mix the kinds of one size as the rest has them.
 */
int32_t draft_follow_drawer(program *with, const girdle_club *club, draft *of) {
  int64_t *most = command_new((of->count + 1) * sizeof *most);
  girdle_plan_sum sum;
  int32_t status;
  for (uint64_t at = 0; at < of->count; at++) {
    most[at] = of->zones[at].most;
    if (!of->is_edge[at]) of->zones[at].most = 0;
  }
  status = girdle_club_plan(&with->call, club, of->zones, of->count, GIRDLE_PLAN_STOCK, 0, of->counts, &sum);
  for (uint64_t at = 0; at < of->count; at++)
    of->zones[at].most = most[at];
  for (uint64_t at = 0; at < of->count && !status; at++)
    if (!of->is_edge[at]) status = follow_in_zone(with, club, of, at);
  free(most);
  return status;
}

void draft_free(draft *of) {
  for (uint64_t at = 0; at < of->count; at++) {
    free((girdle_stone *)of->zones[at].stones);
    planned_release(&of->planned[at]);
  }
  for (int which = 0; which < RICHNESSES; which++)
    free(of->by[which].counts);
  free(of->rows);
  free(of->zones);
  free(of->planned);
  free(of->counts);
  free(of->is_edge);
  free(of->is_by_eye);
}
