/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* A graded edge: the area is cut into strips that follow the edge. Strip by strip, each stone gets as many more as
 * bring its number to the whole nearest to what is wanted so far, the largest first, each at the roomiest of a few
 * places. What does not fit in a strip is owed to the next. */

#define DENSITY 0.45 /* of a stone a square of its pitch: about two thirds of what places taken at random can hold */
#define CELLS_MOST 5e7
enum { PLACES = 6, TRIES = 400 };

typedef struct spot {
  double x, y, from_edge, depth;
} spot;

typedef struct grade {
  girdle_call *call;
  girdle_allocator memory;
  girdle_grade_options options;
  girdle_field field, edge;
  girdle_crowd crowd;
  girdle_placement *placement;
  uint16_t *number;
  spot *spots;
  girdle_span *order; /* spots by their distance from the edge */
  uint64_t spot_count, spot_capacity;
  double side; /* of a cell about a spot */
  double *wanted;
  uint64_t *set;
  uint64_t random;
} grade;

static double reach_of(const grade *work, uint64_t stone) {
  return girdle_place_radius(&work->options.stones[stone]) + work->options.margin_mm;
}

static double pitch_of(const grade *work, uint64_t stone) {
  return 2 * girdle_place_radius(&work->options.stones[stone]) + work->options.gap_mm;
}

/* ---- spots */

static int32_t add_spot(grade *work, double x, double y) {
  spot here = {x, y, 0, 0};
  double most = reach_of(work, 0), far = work->options.depth_mm;
  here.depth = girdle_field_depth(&work->field, x, y, most + 1);
  if (here.depth <= 0) return GIRDLE_OK;
  here.from_edge = fabs(girdle_field_depth(&work->edge, x, y, far + work->side));
  if (here.from_edge > far) return GIRDLE_OK;
  GIRDLE_TRY(girdle_common_grow(work->call, &work->memory, (void **)&work->spots, &work->spot_capacity,
                                work->spot_count + 1, sizeof here));
  work->spots[work->spot_count++] = here;
  return GIRDLE_OK;
}

static int32_t find_spots(grade *work) {
  const girdle_box *box = &work->field.box;
  double columns = ceil((box->right_mm - box->left_mm) / work->side),
         rows = ceil((box->bottom_mm - box->top_mm) / work->side);
  if (columns * rows > CELLS_MOST) return girdle_place_reserve(work->call, work->placement, UINT64_MAX);
  for (double row = 0; row < rows; row++) {
    for (double column = 0; column < columns; column++)
      GIRDLE_TRY(add_spot(work, box->left_mm + (column + 0.5) * work->side, box->top_mm + (row + 0.5) * work->side));
    GIRDLE_TRY(girdle_common_tick(work->call, (uint64_t)columns, -1));
  }
  work->order = girdle_common_new(work->call, (work->spot_count + 1) * sizeof *work->order);
  if (!work->order) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < work->spot_count; i++) {
    girdle_span item = {work->spots[i].from_edge, 0, (uint32_t)i, -(int32_t)i};
    work->order[i] = item;
  }
  girdle_place_sort(work->order, work->spot_count);
  return GIRDLE_OK;
}

/* ---- what is wanted */

static double mix(const grade *work, uint64_t stone, double share) {
  double steps = (double)work->options.stone_count - 1;
  if (steps == 0) return 1 - share;
  return fmax(0, 1 - fabs(share * steps - (double)stone));
}

/* How much of a spot's cell a stone's middle may lie in, by the depth of the cell's middle. */
static double open_share(const grade *work, const spot *here, uint64_t stone) {
  return fmin(fmax((here->depth - reach_of(work, stone)) / work->side + 0.5, 0), 1);
}

static void want(grade *work, uint64_t from, uint64_t to) {
  for (uint64_t i = from; i < to; i++) {
    const spot *here = &work->spots[work->order[i].layer];
    for (uint64_t k = 0; k < work->options.stone_count; k++) {
      double cells = work->side / pitch_of(work, k);
      work->wanted[k] +=
          DENSITY * mix(work, k, here->from_edge / work->options.depth_mm) * open_share(work, here, k) * cells * cells;
    }
  }
}

/* ---- setting */

/* A random place near a random spot of the strip; how much clear fabric it has beyond the gap, or below 0. */
static double try_place(grade *work, uint64_t from, uint64_t to, uint64_t stone, double *x, double *y) {
  const spot *near = &work->spots[work->order[from + girdle_random_below(&work->random, to - from)].layer];
  double radius = girdle_place_radius(&work->options.stones[stone]), least = radius + work->options.gap_mm;
  double reach = reach_of(work, stone);
  *x = girdle_place_snapped(near->x + (girdle_random_unit(&work->random) - 0.5) * work->side);
  *y = girdle_place_snapped(near->y + (girdle_random_unit(&work->random) - 0.5) * work->side);
  if (near->depth < reach - work->side) return -1;
  if (girdle_field_depth(&work->field, *x, *y, reach + 1e-3) < reach - GIRDLE_TOUCH_MM) return -1;
  return girdle_crowd_clearance(&work->crowd, *x, *y, least + 2 * radius) - least + GIRDLE_TOUCH_MM;
}

static int32_t set_one(grade *work, uint64_t from, uint64_t to, uint64_t stone, int *is_set) {
  double best = -1, at_x = 0, at_y = 0;
  for (int tried = 0, found = 0; tried < TRIES && found < PLACES; tried++) {
    double x, y, room = try_place(work, from, to, stone, &x, &y);
    if (room < 0) continue;
    found++;
    if (room > best) best = room, at_x = x, at_y = y;
  }
  *is_set = best >= 0;
  if (best < 0) return GIRDLE_OK;
  GIRDLE_TRY(girdle_crowd_add(work->call, &work->crowd, at_x, at_y, girdle_place_radius(&work->options.stones[stone])));
  return girdle_place_put(work->call, work->placement, at_x, at_y, 0, work->number[stone], 0);
}

static int32_t set_strip(grade *work, uint64_t from, uint64_t to) {
  want(work, from, to);
  for (uint64_t k = 0; k < work->options.stone_count; k++)
    for (int is_set = 1; is_set && (double)work->set[k] + 0.5 <= work->wanted[k];) {
      GIRDLE_TRY(set_one(work, from, to, k, &is_set));
      work->set[k] += (uint64_t)is_set;
    }
  return girdle_common_tick(work->call, to - from, (double)to / (double)work->spot_count);
}

static int32_t set_strips(grade *work) {
  double wide = work->side;
  for (uint64_t from = 0, to; from < work->spot_count; from = to) {
    double end = work->order[from].from + wide;
    for (to = from; to < work->spot_count && work->order[to].from < end;)
      to++;
    GIRDLE_TRY(set_strip(work, from, to));
  }
  return GIRDLE_OK;
}

static void note(grade *work) {
  girdle_notes *notes = &work->placement->notes;
  notes->gap_mm = work->options.gap_mm;
  notes->seed = work->options.seed;
  for (uint64_t k = 0; k < work->options.stone_count; k++)
    notes->left_out += (int64_t)fmax(0, nearbyint(work->wanted[k]) - (double)work->set[k]);
  if (notes->left_out) notes->flags |= GIRDLE_NOTE_LEFT_OUT;
}

/* ---- asking */

void girdle_grade_options_init(girdle_grade_options *options, uint32_t struct_bytes) {
  memset(options, 0, struct_bytes);
  options->struct_bytes = struct_bytes;
}

static int32_t check(girdle_call *call, const girdle_grade_options *options) {
  GIRDLE_TRY(girdle_place_check(call, options->stones, options->stone_count, options->gap_mm, options->count));
  if (options->count) return girdle_common_range(call, "count", (double)options->count, 0, 0, "");
  if (options->stone_count > 100) return girdle_common_range(call, "stones", (double)options->stone_count, 1, 100, "");
  GIRDLE_TRY(girdle_common_range(call, "margin", options->margin_mm, 0, GIRDLE_GAP_MOST_MM, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "depth", options->depth_mm, 1e-3, 1e7, "mm"));
  if (!options->edge) return girdle_common_fail(call, GIRDLE_ARGUMENT, "edge", "a grade needs the edge it follows");
  for (uint64_t i = 1; i < options->stone_count; i++)
    if (girdle_place_radius(&options->stones[i]) > girdle_place_radius(&options->stones[i - 1]))
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "stones",
                                "stones go from the largest to the smallest: %s is larger than %s",
                                options->stones[i].size, options->stones[i - 1].size);
  return GIRDLE_OK;
}

static int32_t begin(grade *work) {
  uint64_t count = work->options.stone_count;
  double smallest = pitch_of(work, count - 1);
  work->side = smallest / 4;
  work->random = girdle_random_mixed(work->options.seed, count);
  GIRDLE_TRY(girdle_place_new(work->call, 0, &work->placement));
  work->number = girdle_common_new(work->call, count * sizeof *work->number);
  work->wanted = work->number ? girdle_common_new(work->call, count * sizeof *work->wanted) : NULL;
  work->set = work->wanted ? girdle_common_new(work->call, count * sizeof *work->set) : NULL;
  if (!work->set) return GIRDLE_MEMORY;
  GIRDLE_TRY(girdle_place_palette(work->call, work->placement, work->options.stones, count, work->number));
  GIRDLE_TRY(girdle_field_index(work->call, &work->field, smallest));
  GIRDLE_TRY(girdle_field_of_path(work->call, work->options.edge, 0.01, &work->edge));
  GIRDLE_TRY(girdle_field_index(work->call, &work->edge, smallest));
  GIRDLE_TRY(find_spots(work));
  return girdle_crowd_new(work->call, &work->field.box, smallest, work->spot_count / 16 + 1, &work->crowd);
}

static void clean(grade *work) {
  uint64_t count = work->options.stone_count;
  girdle_common_release(&work->memory, work->number, count * sizeof *work->number);
  girdle_common_release(&work->memory, work->wanted, count * sizeof *work->wanted);
  girdle_common_release(&work->memory, work->set, count * sizeof *work->set);
  girdle_common_release(&work->memory, work->spots, work->spot_capacity * sizeof *work->spots);
  girdle_common_release(&work->memory, work->order, (work->spot_count + 1) * sizeof *work->order);
  if (work->crowd.memory.resize) girdle_crowd_free(&work->crowd);
  if (work->edge.memory.resize) girdle_field_free(&work->edge);
  girdle_field_free(&work->field);
}

static int32_t nothing_fits(const grade *work) {
  char depth[32], reach[32];
  girdle_number_text(work->options.depth_mm, 4, depth, sizeof depth);
  girdle_number_text(reach_of(work, work->options.stone_count - 1), 4, reach, sizeof reach);
  return girdle_common_fail(work->call, GIRDLE_GEOMETRY, "depth",
                            "no stone fits within %s mm of the edge and %s mm (half a stone and the margin) inside the "
                            "region; take a greater "
                            "depth, a nearer edge, a smaller stone or margin",
                            depth, reach);
}

static int32_t set_all(grade *work) {
  GIRDLE_TRY(begin(work));
  GIRDLE_TRY(set_strips(work));
  if (!work->placement->count) return nothing_fits(work);
  note(work);
  girdle_place_turn_by_seed(work->placement, work->options.seed);
  return work->options.clear_of
             ? girdle_place_clear(work->call, work->placement, work->options.clear_of, work->options.gap_mm)
             : GIRDLE_OK;
}

int32_t girdle_grade(girdle_call *call, const girdle_region *within, const girdle_grade_options *options,
                     girdle_placement **out) {
  GIRDLE_GIVEN(call, within, options, out);
  grade work;
  int32_t status;
  memset(&work, 0, sizeof work);
  work.call = call;
  work.memory = girdle_common_memory(call);
  girdle_grade_options_init(&work.options, sizeof work.options);
  girdle_common_options(&work.options, sizeof work.options, options);
  GIRDLE_TRY(check(call, &work.options));
  GIRDLE_TRY(girdle_field_for_depths(call, within, GIRDLE_FLAT_MM, &work.field));
  status = set_all(&work);
  clean(&work);
  return girdle_place_finish(work.placement, status, out);
}
