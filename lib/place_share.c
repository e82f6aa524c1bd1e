/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* Which stone stands at which place, so that each is itself evenly spread. First each takes its number from what is
 * left, thinned evenly, the rarest first. That leaves the last what nobody wanted; so then neighbours of different
 * stones change places wherever that makes both stones' crowds thinner. */

/* ---- how many of each */

void girdle_apportion(const double *weights, uint64_t kinds, uint64_t n, uint64_t *counts) {
  double sum = 0;
  uint64_t given = 0;
  for (uint64_t k = 0; k < kinds; k++)
    sum += weights ? weights[k] : 1;
  for (uint64_t k = 0; k < kinds; k++) {
    counts[k] = (uint64_t)floor((double)n * ((weights ? weights[k] : 1) / sum) + 1e-9);
    given += counts[k];
  }
  for (; given < n; given++) {
    uint64_t most = kinds;
    double lack = -INFINITY;
    for (uint64_t k = 0; k < kinds; k++) {
      double here = (double)n * ((weights ? weights[k] : 1) / sum) - (double)counts[k];
      if (here > lack + 1e-9) lack = here, most = k;
    }
    counts[most]++;
  }
}

/* ---- taking from what is left */

/* Brings the kept records to the front; both parts keep their order as far as they may. */
static void part(girdle_placed *records, const uint8_t *kept, uint64_t keep) {
  uint64_t behind = keep;
  for (uint64_t i = 0; i < keep; i++) {
    girdle_placed held = records[i];
    if (kept[i]) continue;
    while (!kept[behind])
      behind++;
    records[i] = records[behind];
    records[behind++] = held;
  }
}

/* The rarest stone first, from all that are left: what is left over goes to the commonest. */
static uint64_t rarest(const uint64_t *counts, const uint8_t *done, uint64_t kinds) {
  uint64_t best = kinds;
  for (uint64_t k = 0; k < kinds; k++)
    if (!done[k] && (best == kinds || counts[k] < counts[best])) best = k;
  return best;
}

static int32_t share_kinds(girdle_call *call, girdle_placed *records, uint64_t count, const uint64_t *counts,
                           const uint16_t *numbers, uint64_t kinds, double area_mm2, uint8_t *kept, uint8_t *done) {
  for (uint64_t given = 0, round = 0; round < kinds; round++) {
    uint64_t k = rarest(counts, done, kinds);
    if (counts[k]) {
      GIRDLE_TRY(girdle_thin(call, records + given, count - given, counts[k], area_mm2, kept));
      part(records + given, kept, counts[k]);
    }
    for (uint64_t i = 0; i < counts[k]; i++)
      records[given++].stone = numbers[k];
    done[k] = 1;
  }
  return GIRDLE_OK;
}

/* ---- changing places */

enum { ROUNDS = 2, RARE = 4 }; /* stones spread RARE times wider than all are stay as they were taken */

#define CROWDED 0.05 /* a stone less crowded than this by its own kind looks for no change */

typedef struct trade {
  girdle_placed *records;
  uint64_t count;
  double *reach;    /* by stone: the honeycomb's distance for its number; 0 for a rare one */
  double *crowding; /* by record: how crowded it is by its own kind */
  uint8_t *settled; /* by record: has found no change, and nothing near has changed since */
  double most_reach;
  double beside;      /* neighbours that may change places are nearer than this */
  girdle_crowd crowd; /* of all records, in order */
} trade;

static double weight(double distance, double reach) {
  double far = 1 - distance / reach;
  return far > 0 ? far * far * far : 0;
}

static double square_between(const trade *work, uint64_t a, uint64_t b) {
  double dx = work->records[a].x_mm - work->records[b].x_mm, dy = work->records[a].y_mm - work->records[b].y_mm;
  return dx * dx + dy * dy;
}

static girdle_cells cells_about(const trade *work, uint64_t at, double reach) {
  return girdle_crowd_cells(&work->crowd, work->records[at].x_mm, work->records[at].y_mm, reach);
}

/* How crowded a place is by a stone of one kind, but for two records. */
static double crowding(const trade *work, uint64_t at, uint16_t stone, uint64_t but) {
  double reach = work->reach[stone], sum = 0;
  girdle_cells cells = cells_about(work, at, reach);
  for (uint32_t link; (link = girdle_crowd_next(&work->crowd, &cells)) != 0;) {
    double square;
    if (work->records[link - 1].stone != stone || link - 1 == at || link - 1 == but) continue;
    square = square_between(work, at, link - 1);
    if (square < reach * reach) sum += weight(sqrt(square), reach);
  }
  return sum;
}

/* The neighbour with whom a change gains most; the record itself when none does. No change gains more than what both
 * are crowded by now. */
static uint64_t best_partner(const trade *work, uint64_t at) {
  uint16_t stone = work->records[at].stone;
  girdle_cells cells = cells_about(work, at, work->beside);
  uint64_t best = at;
  double most = 1e-9;
  for (uint32_t link; (link = girdle_crowd_next(&work->crowd, &cells)) != 0;) {
    uint64_t other = link - 1;
    uint16_t its = work->records[other].stone;
    double gained = work->crowding[at] + work->crowding[other];
    if (its == stone || work->reach[its] <= 0 || gained <= most) continue;
    if (square_between(work, at, other) > work->beside * work->beside) continue;
    gained -= crowding(work, at, its, other);
    if (gained > most) gained -= crowding(work, other, stone, at);
    if (gained > most) most = gained, best = other;
  }
  return best;
}

/* What a stone that comes to a place (or goes, `sign` -1) adds to the crowding of its kind, and whom it may unsettle.
 */
static void tell_neighbours(trade *work, uint64_t at, double sign) {
  uint16_t stone = work->records[at].stone;
  double reach = work->reach[stone];
  girdle_cells cells = cells_about(work, at, work->most_reach);
  for (uint32_t link; (link = girdle_crowd_next(&work->crowd, &cells)) != 0;) {
    double square = square_between(work, at, link - 1);
    if (square >= work->most_reach * work->most_reach) continue;
    work->settled[link - 1] = 0;
    if (work->records[link - 1].stone == stone && link - 1 != at && square < reach * reach)
      work->crowding[link - 1] += sign * weight(sqrt(square), reach);
  }
}

static void change_places(trade *work, uint64_t a, uint64_t b) {
  uint16_t stone = work->records[a].stone;
  tell_neighbours(work, a, -1);
  tell_neighbours(work, b, -1);
  work->records[a].stone = work->records[b].stone;
  work->records[b].stone = stone;
  tell_neighbours(work, a, 1);
  tell_neighbours(work, b, 1);
  work->crowding[a] = crowding(work, a, work->records[a].stone, a);
  work->crowding[b] = crowding(work, b, work->records[b].stone, b);
}

static int32_t trade_places(girdle_call *call, trade *work) {
  for (uint64_t i = 0; i < work->count; i++)
    if (work->reach[work->records[i].stone] > 0) work->crowding[i] = crowding(work, i, work->records[i].stone, i);
  for (int round = 0; round < ROUNDS; round++)
    for (uint64_t i = 0; i < work->count; i++) {
      uint64_t partner;
      if (i % 1024 == 0) GIRDLE_TRY(girdle_common_tick(call, 1024, -1));
      if (work->settled[i] || work->crowding[i] < CROWDED) continue;
      partner = best_partner(work, i);
      if (partner == i)
        work->settled[i] = 1;
      else
        change_places(work, i, partner);
    }
  return GIRDLE_OK;
}

static double honeycomb_distance(double area_mm2, uint64_t count) {
  return sqrt(2 * area_mm2 / (sqrt(3.0) * (double)count));
}

static int32_t begin_trade(girdle_call *call, trade *work, const uint64_t *counts, const uint16_t *numbers,
                           uint64_t kinds, double area_mm2) {
  girdle_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
  double all = honeycomb_distance(area_mm2, work->count), most = all;
  for (uint64_t k = 0; k < kinds; k++) {
    double reach = counts[k] ? honeycomb_distance(area_mm2, counts[k]) : INFINITY;
    work->reach[numbers[k]] = reach < RARE * all ? reach : 0;
    most = fmax(most, work->reach[numbers[k]]);
  }
  work->beside = 1.6 * all;
  work->most_reach = fmax(most, work->beside);
  for (uint64_t i = 0; i < work->count; i++) {
    const girdle_placed *record = &work->records[i];
    girdle_box_take(&box, record->x_mm, record->y_mm);
  }
  GIRDLE_TRY(girdle_crowd_new(call, &box, most / 2, work->count, &work->crowd));
  for (uint64_t i = 0; i < work->count; i++)
    GIRDLE_TRY(girdle_crowd_add(call, &work->crowd, work->records[i].x_mm, work->records[i].y_mm, 0));
  return GIRDLE_OK;
}

/* One for each number that a stone may have. */
static uint64_t reaches(const uint16_t *numbers, uint64_t kinds) {
  uint64_t most = 0;
  for (uint64_t k = 0; k < kinds; k++)
    if (numbers[k] > most) most = numbers[k];
  return most + 1;
}

static int32_t refine(girdle_call *call, girdle_placed *records, uint64_t count, const uint64_t *counts,
                      const uint16_t *numbers, uint64_t kinds, double area_mm2) {
  const girdle_allocator memory = girdle_common_memory(call);
  uint64_t bytes = reaches(numbers, kinds) * sizeof(double);
  trade work;
  int32_t status = GIRDLE_MEMORY;
  memset(&work, 0, sizeof work);
  work.records = records;
  work.count = count;
  work.reach = girdle_common_new(call, bytes);
  work.crowding = work.reach ? girdle_common_new(call, count * sizeof(double)) : NULL;
  work.settled = work.crowding ? girdle_common_new(call, count) : NULL;
  if (work.settled) status = begin_trade(call, &work, counts, numbers, kinds, area_mm2);
  if (!status) status = trade_places(call, &work);
  girdle_crowd_free(&work.crowd);
  girdle_common_release(&memory, work.settled, count);
  girdle_common_release(&memory, work.crowding, count * sizeof(double));
  girdle_common_release(&memory, work.reach, bytes);
  return status;
}

/* ---- both */

int32_t girdle_share(girdle_call *call, girdle_placed *records, uint64_t count, const uint64_t *counts,
                     const uint16_t *numbers, uint64_t kinds, double area_mm2) {
  girdle_allocator memory = girdle_common_memory(call);
  uint8_t *kept = girdle_common_new(call, count + 1), *done = kept ? girdle_common_new(call, kinds) : NULL;
  int32_t status = GIRDLE_MEMORY;
  if (done) status = share_kinds(call, records, count, counts, numbers, kinds, area_mm2, kept, done);
  girdle_common_release(&memory, kept, count + 1);
  girdle_common_release(&memory, done, kinds);
  if (!status && kinds > 1 && count > 1) status = refine(call, records, count, counts, numbers, kinds, area_mm2);
  return status;
}
