/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

#define PI 3.14159265358979323846

/* Stones in the gaps, the widest gap first. How large a stone may stand at a place changes by no more than one walks,
 * so the middle of a square cell and its half diagonal bound what the whole cell may hold. The most promising cell is
 * halved until its bound is met, and the largest stone that fits is set there. */

#define NEAR_MM 0.02      /* how far from the middle of a gap a stone may stand */
#define SNAPPED_MM 7.2e-5 /* no farther does snapping move a place */
#define DIAGONAL 1.41421356237309515

typedef struct cell {
  double bound, x, y, half;
  double depth;  /* no place in it lies less deep */
  uint64_t seen; /* how many stones its bound knows of */
} cell;

typedef struct filling {
  girdle_call *call;
  girdle_between_options options;
  girdle_field field;
  girdle_crowd crowd;
  girdle_placement *placement;
  girdle_span *sizes; /* from: the radius, falling; layer: the stone in the placement */
  uint64_t size_count;
  double most, least; /* radii */
  cell *heap;
  uint64_t heap_count, heap_capacity;
} filling;

/* ---- the heap of cells, the most promising on top */

static int above(const cell *a, const cell *b) {
  if (a->bound != b->bound) return a->bound > b->bound;
  return a->y < b->y || (a->y == b->y && a->x < b->x);
}

static void rise(filling *work, uint64_t at, const cell *rising) {
  for (; at > 0 && above(rising, &work->heap[(at - 1) / 2]); at = (at - 1) / 2)
    work->heap[at] = work->heap[(at - 1) / 2];
  work->heap[at] = *rising;
}

/* The last cell takes the place of the first: the hole goes all the way down, which asks half as much, and the cell,
 * one of the least promising, rises from there hardly ever. */
static cell pop(filling *work) {
  cell top = work->heap[0], last = work->heap[--work->heap_count];
  uint64_t at = 0, child;
  for (; (child = 2 * at + 2) < work->heap_count; at = child) {
    if (above(&work->heap[child - 1], &work->heap[child])) child--;
    work->heap[at] = work->heap[child];
  }
  if (child == work->heap_count) {
    work->heap[at] = work->heap[child - 1];
    at = child - 1;
  }
  rise(work, at, &last);
  return top;
}

static int32_t push(filling *work, const cell *pushed) {
  uint64_t at = work->heap_count;
  GIRDLE_TRY(girdle_common_grow(work->call, &work->field.memory, (void **)&work->heap, &work->heap_capacity, at + 1,
                                sizeof *pushed));
  work->heap_count++;
  rise(work, at, pushed);
  return GIRDLE_OK;
}

/* ---- how large a stone may stand at a place; more than the largest is not told apart */

/* How much of the edge's distance a stone may use, up to the most that is told apart; where all of a cell is known to
 * lie deep enough, nothing is looked for. */
static double inside_at(const filling *work, cell *at) {
  double limit = 2 * work->most, margin = work->options.margin_mm, diagonal = at->half * DIAGONAL, depth;
  if (at->depth >= limit + margin) return limit;
  depth = girdle_field_depth(&work->field, at->x, at->y, limit + margin + diagonal);
  at->depth = depth - diagonal;
  return fmin(depth - margin, limit);
}

/* Nothing is looked for farther off than the edge is, or than `known`, which the room is known not to exceed. */
static double room_at(const filling *work, cell *at, double known) {
  double limit = 2 * work->most, gap = work->options.gap_mm, inside = inside_at(work, at);
  if (inside < -limit) return inside;
  limit = fmin(limit, fmax(fmin(inside, known + GIRDLE_TOUCH_MM), 0));
  return fmin(inside, girdle_crowd_clearance(&work->crowd, at->x, at->y, limit + gap) - gap);
}

static int32_t push_cell(filling *work, double x, double y, double half, double known, double depth) {
  cell pushed = {0, x, y, half, depth, work->crowd.count};
  pushed.bound = room_at(work, &pushed, known) + half * DIAGONAL;
  return pushed.bound + GIRDLE_TOUCH_MM < work->least ? GIRDLE_OK : push(work, &pushed);
}

static int32_t push_cells(filling *work) {
  const girdle_box *box = &work->field.box;
  double side = fmax(work->most, 1e-4 * (box->bottom_mm - box->top_mm + box->right_mm - box->left_mm));
  for (double y = box->top_mm; y < box->bottom_mm; y += side) {
    for (double x = box->left_mm; x < box->right_mm; x += side)
      GIRDLE_TRY(push_cell(work, x + side / 2, y + side / 2, side / 2, INFINITY, -INFINITY));
    GIRDLE_TRY(girdle_common_tick(work->call, (uint64_t)((box->right_mm - box->left_mm) / side) + 1, -1));
  }
  return GIRDLE_OK;
}

/* ---- setting */

static int32_t set_largest(filling *work, double x, double y, double room) {
  const girdle_span *size = work->sizes;
  while (size->from > room + GIRDLE_TOUCH_MM)
    size++;
  GIRDLE_TRY(girdle_crowd_add(work->call, &work->crowd, x, y, size->from));
  return girdle_place_put(work->call, work->placement, x, y, 0, size->layer, 0);
}

static int32_t halve(filling *work, const cell *top) {
  double half = top->half / 2;
  for (int k = 0; k < 4; k++)
    GIRDLE_TRY(push_cell(work, top->x + (k & 1 ? half : -half), top->y + (k & 2 ? half : -half), half, top->bound,
                         top->depth));
  return GIRDLE_OK;
}

/* The room at the middle as the grid of places has it; where the middle's own is too little, so is that. */
static int may_stand(const filling *work, const cell *top, cell *place, double *room) {
  double enough = fmin(2 * work->most, top->bound - NEAR_MM), middle = top->bound - top->half * DIAGONAL;
  if (middle + SNAPPED_MM + GIRDLE_TOUCH_MM < enough) return 0;
  *place = *top;
  place->half = 0;
  place->x = girdle_place_snapped(top->x);
  place->y = girdle_place_snapped(top->y);
  *room = room_at(work, place, INFINITY);
  return *room + GIRDLE_TOUCH_MM >= enough && *room + GIRDLE_TOUCH_MM >= work->least;
}

/* What was set since may have taken the cell's room: its bound is worked out afresh before it is believed. */
static int32_t look_at(filling *work, cell *top) {
  cell place;
  double room;
  if (top->seen < work->crowd.count) {
    double bound = room_at(work, top, top->bound) + top->half * DIAGONAL;
    int lower = bound < top->bound - GIRDLE_TOUCH_MM;
    top->seen = work->crowd.count;
    if (bound + GIRDLE_TOUCH_MM < work->least) return GIRDLE_OK;
    top->bound = lower ? bound : fmin(bound, top->bound);
    if (lower) return push(work, top);
  }
  if (may_stand(work, top, &place, &room)) {
    GIRDLE_TRY(set_largest(work, place.x, place.y, room));
    return push(work, top); /* it may hold another */
  }
  if (top->half > NEAR_MM / 4) return halve(work, top);
  work->placement->notes.undecided_mm2 += 4 * top->half * top->half;
  return GIRDLE_OK;
}

static int32_t fill(filling *work) {
  uint64_t most = work->options.count ? (uint64_t)work->options.count : UINT64_MAX;
  work->placement->notes.undecided_mm2 = 0;
  work->placement->notes.gap_mm = work->options.gap_mm;
  GIRDLE_TRY(push_cells(work));
  for (uint64_t step = 0; work->heap_count && work->placement->count < most; step++) {
    cell top = pop(work);
    GIRDLE_TRY(look_at(work, &top));
    if (step % 1024 == 0) GIRDLE_TRY(girdle_common_tick(work->call, 1024, -1));
  }
  if (!work->heap_count) work->placement->notes.flags |= GIRDLE_NOTE_MAXIMAL;
  return GIRDLE_OK;
}

/* ---- asking */

void girdle_between_options_init(girdle_between_options *options, uint32_t struct_bytes) {
  memset(options, 0, struct_bytes);
  options->struct_bytes = struct_bytes;
}

static int32_t check(girdle_call *call, const girdle_between_options *options) {
  GIRDLE_TRY(girdle_place_check(call, options->stones, options->stone_count, options->gap_mm, options->count));
  GIRDLE_TRY(girdle_common_range(call, "margin", options->margin_mm, 0, GIRDLE_GAP_MOST_MM, "mm"));
  if (options->around) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "around", "between needs the stones that are there");
}

static int32_t list_sizes(filling *work) {
  uint64_t count = work->options.stone_count;
  uint16_t *index = girdle_common_new(work->call, count * sizeof *index);
  int32_t status = GIRDLE_MEMORY;
  work->sizes = girdle_common_new(work->call, count * sizeof *work->sizes);
  if (index && work->sizes)
    status = girdle_place_palette(work->call, work->placement, work->options.stones, count, index);
  for (uint64_t i = 0; i < count && !status; i++) {
    girdle_span size = {-girdle_place_radius(&work->options.stones[i]), 0, index[i], -(int32_t)i};
    work->sizes[i] = size;
  }
  if (!status) girdle_place_sort(work->sizes, count);
  for (uint64_t i = 0; i < count && !status; i++)
    work->sizes[i].from = -work->sizes[i].from;
  girdle_common_release(&work->field.memory, index, count * sizeof *index);
  return status;
}

static int32_t add_crowd(filling *work, const girdle_placement *there) {
  for (uint64_t i = 0; there && i < there->count; i++) {
    const girdle_placed *record = &there->records[i];
    GIRDLE_TRY(girdle_crowd_add(work->call, &work->crowd, record->x_mm, record->y_mm,
                                girdle_place_radius(&there->stones[record->stone])));
  }
  return GIRDLE_OK;
}

/* Each stone, set or there before, keeps no more from the middle of the smallest than a disc about it, and nothing is
 * left over: so many find place at least, however they come to lie. */
static int32_t check_room(const filling *work, const girdle_region *within) {
  double reach = work->least + work->options.margin_mm, each = work->most + work->least + work->options.gap_mm;
  double open = girdle_region_area_mm2(within) - girdle_region_perimeter_mm(within) * reach -
                (double)girdle_region_holes(within) * PI * reach * reach;
  for (uint64_t i = 0; i < work->crowd.count; i++) {
    double kept = work->crowd.discs[i].radius + work->least + work->options.gap_mm;
    open -= PI * kept * kept;
  }
  if (work->options.count || open <= GIRDLE_STONES_MOST * PI * each * each) return GIRDLE_OK;
  return girdle_place_reserve(work->call, work->placement, UINT64_MAX);
}

static int32_t begin(filling *work) {
  const girdle_placement *around = work->options.around, *clear_of = work->options.clear_of;
  uint64_t there = around->count + (clear_of ? clear_of->count : 0);
  GIRDLE_TRY(girdle_place_new(work->call, 0, &work->placement));
  GIRDLE_TRY(list_sizes(work));
  work->most = work->sizes[0].from;
  work->least = work->sizes[work->options.stone_count - 1].from;
  GIRDLE_TRY(girdle_field_index(work->call, &work->field, 2 * work->most));
  GIRDLE_TRY(girdle_crowd_new(work->call, &work->field.box, 3 * work->most, 2 * there + 1024, &work->crowd));
  GIRDLE_TRY(add_crowd(work, around));
  return add_crowd(work, clear_of);
}

static void clean(filling *work) {
  girdle_common_release(&work->field.memory, work->sizes, work->options.stone_count * sizeof *work->sizes);
  girdle_common_release(&work->field.memory, work->heap, work->heap_capacity * sizeof *work->heap);
  girdle_crowd_free(&work->crowd);
  girdle_field_free(&work->field);
}

int32_t girdle_between(girdle_call *call, const girdle_region *within, const girdle_between_options *options,
                       girdle_placement **out) {
  GIRDLE_GIVEN(call, within, options, out);
  filling work;
  int32_t status;
  memset(&work, 0, sizeof work);
  work.call = call;
  girdle_between_options_init(&work.options, sizeof work.options);
  girdle_common_options(&work.options, sizeof work.options, options);
  GIRDLE_TRY(check(call, &work.options));
  GIRDLE_TRY(girdle_field_for_depths(call, within, GIRDLE_FLAT_MM, &work.field));
  status = begin(&work);
  if (!status) status = check_room(&work, within);
  if (!status) status = fill(&work);
  clean(&work);
  return girdle_place_finish(work.placement, status, out);
}
