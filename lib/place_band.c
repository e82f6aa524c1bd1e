/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* A band: runs on the path and on its parallels, one after another, each clear of those before. */

typedef struct band {
  girdle_call *call;
  girdle_band_options options;
  const girdle_path *along;
  girdle_placement *placement;
  girdle_crowd crowd; /* of the rows before */
} band;

/* One row: which sequence, how far from the path, and its number in the placement. */
typedef struct row {
  const girdle_stone *stones;
  uint64_t count, number;
  double offset_mm;
} row;

/* How far a row's stones reach across it: half their width when they turn along the path, at most the circle about them
 * when they do not. */
static double half_height(const girdle_band_options *options, const row *here) {
  double most = 0;
  for (const girdle_stone *stone = here->stones; stone < here->stones + here->count; stone++)
    most = fmax(most, isnan(options->turn_deg) ? girdle_place_width(stone) / 2 : girdle_place_radius(stone));
  return most;
}

static double row_gap(const girdle_band_options *options) {
  return isnan(options->row_gap_mm) ? options->gap_mm : options->row_gap_mm;
}

static uint64_t rows_of(const girdle_band_options *options) {
  return options->side == GIRDLE_SIDE_BOTH ? 2 * options->rows - 1 : options->rows;
}

/* Row 0 lies on the path. On both sides, rows 1 and 2 are the second sequence right and left, 3 and 4 the third. */
static row row_at(const girdle_band_options *options, uint64_t number) {
  int both = options->side == GIRDLE_SIDE_BOTH;
  uint64_t level = both ? (number + 1) / 2 : number;
  row here = {options->stones, options->row_counts[0], number, 0};
  for (uint64_t i = 0; i < level; i++) {
    here.offset_mm += half_height(options, &here) + row_gap(options);
    here.stones += options->row_counts[i];
    here.count = options->row_counts[i + 1];
    here.offset_mm += half_height(options, &here);
  }
  if (both ? number % 2 == 0 : options->side == GIRDLE_SIDE_LEFT) here.offset_mm = -here.offset_mm;
  return here;
}

static girdle_run_options run_of(const girdle_band_options *options, const row *here, int64_t count) {
  girdle_run_options run;
  girdle_run_options_init(&run, sizeof run);
  run.flags = options->flags & (GIRDLE_ENDS_INSIDE | GIRDLE_WHOLE);
  /* on both sides the first rows right and left are shifted alike */
  if (options->flags & GIRDLE_STAGGER) {
    uint64_t level = options->side == GIRDLE_SIDE_BOTH ? (here->number + 1) / 2 : here->number;
    if (level % 2) run.flags |= GIRDLE_STAGGER;
  }
  run.stones = here->stones;
  run.stone_count = here->count;
  run.gap_mm = options->gap_mm;
  run.count = count;
  run.corner_deg = options->corner_deg;
  run.turn_deg = options->turn_deg;
  return run;
}

/* ---- stretches to be left: they lie along the path itself, and across it on its parallels */

/* Where on the parallel what stands square to a place of the path is met. */
static int32_t meet(band *work, const girdle_path *parallel, double offset_mm, double along_mm, double *met_mm) {
  girdle_point_on at;
  double cosine, sine, distance;
  GIRDLE_TRY(girdle_path_at(work->call, work->along, fmin(along_mm, girdle_path_length_mm(work->along)), &at));
  girdle_place_direction(at.angle_deg, &cosine, &sine);
  return girdle_path_nearest(work->call, parallel, at.x_mm - offset_mm * sine, at.y_mm + offset_mm * cosine, met_mm,
                             &distance);
}

static double forward(double from, double to, double round_mm) {
  return to < from ? to + round_mm - from : to - from;
}

/* The stretches on a parallel. One that a bend has taken off the parallel is met nowhere, but its ends may be met in
 * either order: it is not that long. */
static int32_t move_leaves(band *work, const girdle_path *parallel, double offset_mm, girdle_stretch *moved,
                           uint64_t *count) {
  double round_mm = girdle_path_length_mm(work->along), parallel_mm = girdle_path_length_mm(parallel);
  int ring = girdle_path_is_closed(parallel) && girdle_path_subpaths(parallel) == 1;
  *count = 0;
  for (uint64_t i = 0; i < work->options.leave_count; i++) {
    const girdle_stretch *leave = &work->options.leave[i];
    girdle_stretch here;
    GIRDLE_TRY(meet(work, parallel, offset_mm, leave->from_mm, &here.from_mm));
    GIRDLE_TRY(meet(work, parallel, offset_mm, leave->to_mm, &here.to_mm));
    if (here.to_mm < here.from_mm && !ring) continue;
    if (forward(here.from_mm, here.to_mm, parallel_mm) <=
        forward(leave->from_mm, leave->to_mm, round_mm) + 7 * fabs(offset_mm))
      moved[(*count)++] = here;
  }
  return GIRDLE_OK;
}

static int is_left(const girdle_stretch *leave, double along_mm) {
  int behind = along_mm > leave->from_mm + 1e-3, before = along_mm < leave->to_mm - 1e-3;
  return leave->from_mm > leave->to_mm ? behind || before : behind && before;
}

/* Where bends have left no place on the parallel to begin a stretch at, stones may still stand beside it. */
static int32_t drop_left(band *work, girdle_placement *placed) {
  uint64_t bytes = placed->count + 1;
  uint8_t *kept = girdle_common_new(work->call, bytes);
  int32_t status = GIRDLE_OK;
  if (!kept) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < placed->count && !status; i++) {
    const girdle_placed *record = &placed->records[i];
    double along, distance;
    status = girdle_path_nearest(work->call, work->along, record->x_mm, record->y_mm, &along, &distance);
    kept[i] = 1;
    for (uint64_t k = 0; k < work->options.leave_count; k++)
      if (is_left(&work->options.leave[k], along)) kept[i] = 0;
  }
  if (!status) placed->notes.left_out += (int64_t)girdle_place_keep(placed, kept);
  if (placed->notes.left_out) placed->notes.flags |= GIRDLE_NOTE_LEFT_OUT;
  girdle_common_release(&placed->memory, kept, bytes);
  return status;
}

static int32_t run_along(band *work, const girdle_path *parallel, double offset_mm, girdle_run_options *run,
                         girdle_placement **out) {
  girdle_allocator memory = girdle_common_memory(work->call);
  uint64_t bytes = work->options.leave_count * sizeof(girdle_stretch);
  girdle_stretch *moved = bytes ? girdle_common_new(work->call, bytes) : NULL;
  int32_t status = bytes && !moved ? GIRDLE_MEMORY : move_leaves(work, parallel, offset_mm, moved, &run->leave_count);
  run->leave = moved;
  if (!status) status = girdle_run(work->call, parallel, run, out);
  girdle_common_release(&memory, moved, bytes);
  if (!status && bytes) status = drop_left(work, *out);
  return status;
}

static int32_t run_parallel(band *work, double offset_mm, girdle_run_options *run, girdle_placement **out) {
  girdle_path *parallel = NULL;
  int32_t status;
  GIRDLE_TRY(girdle_path_offset(work->call, work->along, offset_mm, &parallel));
  status = run_along(work, parallel, offset_mm, run, out);
  girdle_path_free(parallel);
  return status;
}

/* A parallel of which nothing is left, or too little for a stone, is an empty row. What is called is kept from
 * reporting that. */
static int32_t run_row(band *work, const row *here, int64_t count, girdle_placement **out) {
  girdle_run_options run = run_of(&work->options, here, count);
  girdle_call quiet, *loud = work->call;
  int32_t status;
  if (here->offset_mm == 0) {
    run.leave = work->options.leave;
    run.leave_count = work->options.leave_count;
    return girdle_run(work->call, work->along, &run, out);
  }
  girdle_call_init(&quiet, sizeof quiet);
  if (loud) quiet = *loud;
  quiet.error = NULL;
  work->call = &quiet;
  status = run_parallel(work, here->offset_mm, &run, out);
  work->call = loud;
  if (status == GIRDLE_GEOMETRY && !count) return girdle_place_new(work->call, 0, out);
  if (status)
    return girdle_common_fail(work->call, status, "count", "row %llu: %s", (unsigned long long)here->number + 1,
                              girdle_status_text(status));
  return GIRDLE_OK;
}

/* Takes over what stays clear of the rows before; within a row the run has seen to it. */
static int32_t take_stones(band *work, const girdle_placement *placed, const uint16_t *index, uint64_t number) {
  double least = fmin(row_gap(&work->options), work->options.gap_mm);
  uint64_t before = work->placement->count;
  for (uint64_t i = 0; i < placed->count; i++) {
    girdle_shape shape = girdle_place_shape(placed, i);
    if (!girdle_crowd_has_room(&work->crowd, &shape, least, NULL, 0))
      work->placement->notes.left_out++;
    else
      GIRDLE_TRY(girdle_place_put(work->call, work->placement, shape.x, shape.y, shape.turn_deg,
                                  index[placed->records[i].stone], number));
  }
  if (work->placement->notes.left_out) work->placement->notes.flags |= GIRDLE_NOTE_LEFT_OUT;
  for (uint64_t i = before; i < work->placement->count; i++) {
    girdle_shape shape = girdle_place_shape(work->placement, i);
    GIRDLE_TRY(girdle_crowd_add_stone(work->call, &work->crowd, &shape));
  }
  return GIRDLE_OK;
}

static int32_t add_row(band *work, const row *here, int64_t count) {
  girdle_placement *placed = NULL;
  uint64_t bytes = here->count * sizeof(uint16_t);
  uint16_t *index = girdle_common_new(work->call, bytes);
  int32_t status = index ? run_row(work, here, count, &placed) : GIRDLE_MEMORY;
  if (!status) status = girdle_place_palette(work->call, work->placement, placed->stones, placed->stone_count, index);
  if (!status) status = take_stones(work, placed, index, here->number);
  if (!status) girdle_place_add_notes(&work->placement->notes, &placed->notes);
  girdle_common_release(&work->placement->memory, index, bytes);
  girdle_placement_free(placed);
  return status;
}

/* ---- exactly so many: each row gets its share of the count by what it holds at the wished gap */

static int32_t usual_counts(band *work, double *weights) {
  double sum = 0;
  for (uint64_t i = 0; i < rows_of(&work->options); i++) {
    row here = row_at(&work->options, i);
    girdle_placement *placed = NULL;
    GIRDLE_TRY(run_row(work, &here, 0, &placed));
    weights[i] = (double)placed->count;
    sum += weights[i];
    girdle_placement_free(placed);
  }
  return sum > 0 ? GIRDLE_OK : GIRDLE_GEOMETRY;
}

static int32_t add_rows(band *work, const uint64_t *counts) {
  for (uint64_t i = 0; i < rows_of(&work->options); i++) {
    row here = row_at(&work->options, i);
    if (!counts || counts[i]) GIRDLE_TRY(add_row(work, &here, counts ? (int64_t)counts[i] : 0));
  }
  return GIRDLE_OK;
}

static int32_t add_counted_rows(band *work, int64_t count) {
  girdle_allocator memory = girdle_common_memory(work->call);
  uint64_t rows = rows_of(&work->options), *counts;
  double *weights = girdle_common_new(work->call, rows * sizeof *weights);
  int32_t status = GIRDLE_MEMORY;
  if (!weights) return GIRDLE_MEMORY;
  counts = girdle_common_new(work->call, rows * sizeof *counts);
  if (counts) status = usual_counts(work, weights);
  if (!status) {
    girdle_apportion(weights, rows, (uint64_t)count, counts);
    status = add_rows(work, counts);
  }
  girdle_common_release(&memory, counts, rows * sizeof *counts);
  girdle_common_release(&memory, weights, rows * sizeof *weights);
  return status;
}

/* ---- asking */

void girdle_band_options_init(girdle_band_options *options, uint32_t struct_bytes) {
  girdle_band_options plain = {sizeof plain};
  plain.corner_deg = 30;
  plain.turn_deg = plain.row_gap_mm = NAN;
  memset(options, 0, struct_bytes);
  memcpy(options, &plain, struct_bytes < sizeof plain ? struct_bytes : sizeof plain);
  options->struct_bytes = struct_bytes;
}

static int32_t check(girdle_call *call, const girdle_band_options *options) {
  uint64_t sum = 0;
  GIRDLE_TRY(girdle_place_check(call, options->stones, options->stone_count, options->gap_mm, options->count));
  if (options->flags & GIRDLE_WHOLE && options->count)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "whole", "a band has whole sequences by the gap, not by a count");
  GIRDLE_TRY(girdle_common_range(call, "rows", (double)options->rows, 1, 1000, ""));
  if (!isnan(options->row_gap_mm))
    GIRDLE_TRY(girdle_common_range(call, "row_gap", options->row_gap_mm, 0, GIRDLE_GAP_MOST_MM, "mm"));
  if (options->side < GIRDLE_SIDE_LEFT || options->side > GIRDLE_SIDE_BOTH)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "side", "side %d is not known", (int)options->side);
  for (uint64_t i = 0; i < options->rows; i++) {
    uint64_t here = options->row_counts ? options->row_counts[i] : 0;
    if (here < 1 || here > options->stone_count - sum)
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "rows", "row %llu must have a sequence of 1 stone or more",
                                (unsigned long long)i + 1);
    sum += here;
  }
  if (sum == options->stone_count) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "rows", "the rows' sequences have %llu stones together, not %llu",
                            (unsigned long long)sum, (unsigned long long)options->stone_count);
}

/* All stones at once, so that those the crowd points at stay where they are. */
static int32_t begin(band *work) {
  const girdle_band_options *options = &work->options;
  row outermost = row_at(options, rows_of(options) - 1);
  double far = fabs(outermost.offset_mm), least = INFINITY;
  girdle_box box;
  GIRDLE_TRY(girdle_place_new(work->call, 0, &work->placement));
  GIRDLE_TRY(girdle_place_palette(work->call, work->placement, options->stones, options->stone_count, NULL));
  for (uint64_t i = 0; i < options->stone_count; i++)
    least = fmin(least, girdle_place_width(&options->stones[i]));
  girdle_path_box(work->along, &box);
  box.left_mm -= far;
  box.right_mm += far;
  box.top_mm -= far;
  box.bottom_mm += far;
  return girdle_crowd_new(work->call, &box, least + options->gap_mm,
                          (uint64_t)(girdle_path_length_mm(work->along) / least) * rows_of(options) + 1, &work->crowd);
}

static int32_t lay(girdle_call *call, const girdle_path *along, const girdle_band_options *options, int64_t count,
                   girdle_placement **out) {
  band work;
  int32_t status;
  memset(&work, 0, sizeof work);
  work.call = call;
  work.along = along;
  work.options = *options;
  status = begin(&work);
  if (!status) status = count ? add_counted_rows(&work, count) : add_rows(&work, NULL);
  girdle_crowd_free(&work.crowd);
  if (!status && !work.placement->count)
    status = girdle_common_fail(call, GIRDLE_GEOMETRY, "along", "no row holds a stone; take smaller stones or gaps");
  if (!status) status = girdle_place_clear(call, work.placement, options->clear_of, options->gap_mm);
  if (!status && count && work.placement->notes.left_out) status = GIRDLE_GEOMETRY;
  return girdle_place_finish(work.placement, status, out);
}

typedef struct ask {
  const girdle_path *along;
  const girdle_band_options *options;
} ask;

static int32_t fits(girdle_call *call, const void *context, int64_t count, int *answer) {
  const ask *asked = context;
  girdle_placement *placement = NULL;
  int32_t status = lay(call, asked->along, asked->options, count, &placement);
  girdle_placement_free(placement);
  *answer = status == GIRDLE_OK;
  return status == GIRDLE_GEOMETRY ? GIRDLE_OK : status;
}

static int32_t name_another(girdle_call *call, girdle_call *quiet, const ask *asked) {
  girdle_fitting fit = {quiet, fits, asked, asked->options->gap_mm, 1};
  girdle_placement *placement = NULL;
  int32_t status = lay(quiet, asked->along, asked->options, 0, &placement);
  int64_t likely = placement ? (int64_t)(placement->count + asked->options->stone_count) : 0;
  if (placement) likely += placement->notes.left_out;
  girdle_placement_free(placement);
  if (status && status != GIRDLE_GEOMETRY)
    return girdle_common_fail(call, status, NULL, "%s", girdle_status_text(status));
  return girdle_place_does_not_fit(call, &fit, asked->options->count, likely);
}

static int32_t lay_count(girdle_call *call, const girdle_path *along, const girdle_band_options *options,
                         girdle_placement **out) {
  ask asked = {along, options};
  girdle_call quiet;
  int32_t status;
  girdle_call_init(&quiet, sizeof quiet);
  if (call) quiet = *call;
  quiet.error = NULL;
  status = lay(&quiet, along, options, options->count, out);
  if (status == GIRDLE_GEOMETRY) return name_another(call, &quiet, &asked);
  return status ? girdle_common_fail(call, status, NULL, "%s", girdle_status_text(status)) : GIRDLE_OK;
}

int32_t girdle_band(girdle_call *call, const girdle_path *along, const girdle_band_options *options,
                    girdle_placement **out) {
  GIRDLE_GIVEN(call, along, options, out);
  girdle_band_options own;
  girdle_band_options_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, options);
  GIRDLE_TRY(check(call, &own));
  return own.count ? lay_count(call, along, &own, out) : lay(call, along, &own, 0, out);
}
