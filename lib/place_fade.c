/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* A fade: places are scattered as for the widest stone, put in order along the ramp, and given their stones one after
 * another so that no stone is ever a whole one ahead of or behind its due. Two ends of a stretch are each within one,
 * so a stretch is within two.
 *
 * With shares that change along the way, taking whichever is farthest behind is not enough. Of the stones that are due
 * before long the one whose due comes first is taken (R. Tijdeman, The chairman assignment problem, 1980): with K
 * stones none is then off by more than 1 - 1 / (2 K - 2). */

typedef struct ramp {
  double from_x, from_y, way_x, way_y, square;
  uint64_t steps; /* stones less one */
} ramp;

typedef struct fade {
  girdle_call *call;
  girdle_placement *placement;
  girdle_span *order; /* from: how far along the ramp; layer: the record */
  double *due;        /* of each stone so far */
  uint64_t *given;
  uint64_t stones;
  const uint16_t *number; /* of each stone in the placement */
  ramp along;
} fade;

/* How far along the ramp a record stands, in steps: 0 at the first stone, `steps` at the last. */
static double step_at(const ramp *along, double x, double y) {
  double share = ((x - along->from_x) * along->way_x + (y - along->from_y) * along->way_y) / along->square;
  return fmin(fmax(share, 0), 1) * (double)along->steps;
}

/* A place's share of a stone: 1 where the ramp stands at it, falling to 0 at its neighbours. */
static double share_of(double step, uint64_t stone) {
  return fmax(0, 1 - fabs(step - (double)stone));
}

/* The place, from `at` on, at which the stone's due reaches what it must not exceed unserved; far ones are all alike.
 */
static uint64_t deadline(const fade *work, uint64_t at, uint64_t stone, double slack) {
  double due = work->due[stone], most = (double)work->given[stone] + slack;
  uint64_t far = at + 32 * work->stones, end = far < work->placement->count ? far : work->placement->count;
  while (due < most && ++at < end)
    due += share_of(work->order[at].from, stone);
  return at;
}

static uint64_t next_stone(const fade *work, uint64_t at) {
  double slack = work->stones > 1 ? 1 / (2.0 * (double)work->stones - 2) : 1;
  uint64_t best = work->stones, soonest = UINT64_MAX, behind = 0;
  for (uint64_t k = 0; k < work->stones; k++) {
    double lack = work->due[k] - (double)work->given[k];
    uint64_t last;
    if (lack > work->due[behind] - (double)work->given[behind]) behind = k;
    if (lack < slack - 1e-9) continue;
    last = deadline(work, at, k, 1 - slack);
    if (last < soonest) soonest = last, best = k;
  }
  return best < work->stones ? best : behind;
}

static int32_t give_stones(fade *work) {
  for (uint64_t at = 0; at < work->placement->count; at++) {
    uint64_t chosen;
    for (uint64_t k = 0; k < work->stones; k++)
      work->due[k] += share_of(work->order[at].from, k);
    chosen = next_stone(work, at);
    work->given[chosen]++;
    work->placement->records[work->order[at].layer].stone = work->number[chosen];
    if (at % 1024 == 0) GIRDLE_TRY(girdle_common_tick(work->call, 1024, (double)at / (double)work->placement->count));
  }
  return GIRDLE_OK;
}

static void order_places(fade *work) {
  for (uint64_t i = 0; i < work->placement->count; i++) {
    const girdle_placed *record = &work->placement->records[i];
    girdle_span item = {step_at(&work->along, record->x_mm, record->y_mm), 0, (uint32_t)i, -(int32_t)i};
    work->order[i] = item;
  }
  girdle_place_sort(work->order, work->placement->count);
}

static int32_t shade(fade *work) {
  girdle_allocator memory = girdle_common_memory(work->call);
  uint64_t order_bytes = (work->placement->count + 1) * sizeof *work->order, bytes = work->stones * sizeof(double);
  int32_t status = GIRDLE_MEMORY;
  work->order = girdle_common_new(work->call, order_bytes);
  work->due = work->order ? girdle_common_new(work->call, bytes) : NULL;
  work->given = work->due ? girdle_common_new(work->call, bytes) : NULL;
  if (work->given) {
    order_places(work);
    status = give_stones(work);
  }
  girdle_common_release(&memory, work->order, order_bytes);
  girdle_common_release(&memory, work->due, bytes);
  girdle_common_release(&memory, work->given, bytes);
  return status;
}

/* ---- places */

static int32_t scatter_places(girdle_call *call, const girdle_region *within, const girdle_fade_options *options,
                              girdle_placement **out) {
  girdle_scatter_options scatter;
  const girdle_stone *widest = options->stones;
  for (uint64_t i = 1; i < options->stone_count; i++)
    if (girdle_place_radius(&options->stones[i]) > girdle_place_radius(widest)) widest = &options->stones[i];
  girdle_scatter_options_init(&scatter, sizeof scatter);
  scatter.stones = widest;
  scatter.stone_count = 1;
  scatter.gap_mm = options->gap_mm;
  scatter.count = options->count;
  scatter.clear_of = options->clear_of;
  scatter.margin_mm = options->margin_mm;
  scatter.seed = options->seed;
  return girdle_scatter(call, within, &scatter, out);
}

static int32_t check(girdle_call *call, const girdle_fade_options *options) {
  double way_x = options->to_x_mm - options->from_x_mm, way_y = options->to_y_mm - options->from_y_mm;
  GIRDLE_TRY(girdle_place_check(call, options->stones, options->stone_count, options->gap_mm, options->count));
  if (options->stone_count < 2)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "stones", "a fade needs 2 stones or more");
  GIRDLE_TRY(girdle_common_range(call, "from", hypot(options->from_x_mm, options->from_y_mm), 0, 1e8, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "to", hypot(options->to_x_mm, options->to_y_mm), 0, 1e8, "mm"));
  if (hypot(way_x, way_y) >= 1e-3) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "to", "a fade needs two different places, from and to");
}

void girdle_fade_options_init(girdle_fade_options *options, uint32_t struct_bytes) {
  memset(options, 0, struct_bytes);
  options->struct_bytes = struct_bytes;
}

static int32_t fade_places(fade *work, const girdle_fade_options *options) {
  girdle_allocator memory = girdle_common_memory(work->call);
  uint64_t bytes = options->stone_count * sizeof(uint16_t);
  uint16_t *number = girdle_common_new(work->call, bytes);
  int32_t status = GIRDLE_MEMORY;
  if (number) {
    work->placement->stone_count = 0;
    status = girdle_place_palette(work->call, work->placement, options->stones, options->stone_count, number);
  }
  work->number = number;
  if (!status) status = shade(work);
  if (!status) girdle_place_turn_by_seed(work->placement, options->seed);
  work->placement->notes.flags &= ~(uint32_t)GIRDLE_NOTE_MAXIMAL;
  girdle_common_release(&memory, number, bytes);
  return status;
}

int32_t girdle_fade(girdle_call *call, const girdle_region *within, const girdle_fade_options *options,
                    girdle_placement **out) {
  GIRDLE_GIVEN(call, within, options, out);
  girdle_fade_options own;
  fade work;
  int32_t status;
  memset(&work, 0, sizeof work);
  girdle_fade_options_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, options);
  GIRDLE_TRY(check(call, &own));
  GIRDLE_TRY(scatter_places(call, within, &own, &work.placement));
  work.call = call;
  work.stones = own.stone_count;
  work.along.from_x = own.from_x_mm;
  work.along.from_y = own.from_y_mm;
  work.along.way_x = own.to_x_mm - own.from_x_mm;
  work.along.way_y = own.to_y_mm - own.from_y_mm;
  work.along.square = work.along.way_x * work.along.way_x + work.along.way_y * work.along.way_y;
  work.along.steps = own.stone_count - 1;
  status = fade_places(&work, &own);
  return girdle_place_finish(work.placement, status, out);
}
