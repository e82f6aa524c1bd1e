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
} band;

/* One row: which sequence, how far from the path, and its number in the placement. */
typedef struct row {
  const girdle_stone *stones;
  uint64_t count, number;
  double offset_mm;
} row;

static double half_height(const girdle_stone *stones, uint64_t count) {
  double most = 0;
  for (uint64_t i = 0; i < count; i++)
    most = fmax(most, girdle_place_width(&stones[i]) / 2);
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
    here.offset_mm += half_height(here.stones, here.count) + row_gap(options);
    here.stones += options->row_counts[i];
    here.count = options->row_counts[i + 1];
    here.offset_mm += half_height(here.stones, here.count);
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

/* Stretches to be left lie along the path itself; on a parallel, what stands nearest to them is left out. */
static int32_t drop_left(band *work, girdle_placement *placed) {
  uint64_t bytes = placed->count + 1;
  uint8_t *kept = girdle_common_new(work->call, bytes);
  int32_t status = GIRDLE_OK;
  if (!kept) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < placed->count && !status; i++) {
    const girdle_placed *record = &placed->records[i];
    double along, distance, half = girdle_place_radius(&placed->stones[record->stone]) - GIRDLE_TOLERANCE_MM;
    status = girdle_path_nearest(work->call, work->along, record->x_mm, record->y_mm, &along, &distance);
    kept[i] = 1;
    for (uint64_t k = 0; k < work->options.leave_count; k++)
      if (along + half > work->options.leave[k].from_mm && along - half < work->options.leave[k].to_mm) kept[i] = 0;
  }
  if (!status) girdle_place_keep(placed, kept);
  girdle_common_release(&placed->memory, kept, bytes);
  return status;
}

static int32_t run_row(band *work, const row *here, int64_t count, girdle_placement **out) {
  girdle_run_options run = run_of(&work->options, here, count);
  girdle_path *parallel = NULL;
  int32_t status;
  if (here->offset_mm == 0) {
    run.leave = work->options.leave;
    run.leave_count = work->options.leave_count;
    return girdle_run(work->call, work->along, &run, out);
  }
  GIRDLE_TRY(girdle_path_offset(work->call, work->along, here->offset_mm, &parallel));
  status = girdle_run(work->call, parallel, &run, out);
  girdle_path_free(parallel);
  if (!status && work->options.leave_count) status = drop_left(work, *out);
  return status;
}

static int32_t add_row(band *work, const row *here, int64_t count) {
  girdle_placement *placed = NULL, *joined = NULL;
  double least = fmin(row_gap(&work->options), work->options.gap_mm);
  int32_t status = run_row(work, here, count, &placed);
  if (!status) status = girdle_place_clear(work->call, placed, work->placement, least);
  for (uint64_t i = 0; !status && i < placed->count; i++)
    placed->records[i].row = 0;
  if (!status) status = girdle_placement_joined(work->call, work->placement, placed, &joined);
  girdle_placement_free(placed);
  if (status) return status;
  girdle_placement_free(work->placement);
  work->placement = joined;
  return GIRDLE_OK;
}

/* ---- exactly so many: each row gets its share of the count by what it holds at the wished gap */

static int32_t usual_counts(band *work, double *weights) {
  for (uint64_t i = 0; i < rows_of(&work->options); i++) {
    row here = row_at(&work->options, i);
    girdle_placement *placed = NULL;
    GIRDLE_TRY(run_row(work, &here, 0, &placed));
    weights[i] = (double)placed->count;
    girdle_placement_free(placed);
  }
  return GIRDLE_OK;
}

static int32_t add_rows(band *work, const uint64_t *counts) {
  for (uint64_t i = 0; i < rows_of(&work->options); i++) {
    row here = row_at(&work->options, i);
    if (!counts || counts[i]) GIRDLE_TRY(add_row(work, &here, counts ? (int64_t)counts[i] : 0));
  }
  if (counts && work->placement->notes.left_out)
    return girdle_common_fail(work->call, GIRDLE_GEOMETRY, "count",
                              "%lld stones do not fit in this band; %lld do, without the rows lying on each other",
                              (long long)work->options.count, (long long)work->placement->count);
  return GIRDLE_OK;
}

static int32_t add_counted_rows(band *work) {
  girdle_allocator memory = girdle_common_memory(work->call);
  uint64_t rows = rows_of(&work->options), *counts;
  double *weights = girdle_common_new(work->call, rows * sizeof *weights);
  int32_t status = GIRDLE_MEMORY;
  if (!weights) return GIRDLE_MEMORY;
  counts = girdle_common_new(work->call, rows * sizeof *counts);
  if (counts) status = usual_counts(work, weights);
  if (!status) {
    girdle_apportion(weights, rows, (uint64_t)work->options.count, counts);
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

int32_t girdle_band(girdle_call *call, const girdle_path *along, const girdle_band_options *options,
                    girdle_placement **out) {
  band work;
  int32_t status;
  memset(&work, 0, sizeof work);
  work.call = call;
  work.along = along;
  girdle_band_options_init(&work.options, sizeof work.options);
  girdle_common_options(&work.options, sizeof work.options, options);
  GIRDLE_TRY(check(call, &work.options));
  GIRDLE_TRY(girdle_place_new(call, 0, &work.placement));
  status = work.options.count ? add_counted_rows(&work) : add_rows(&work, NULL);
  if (!status && work.options.clear_of)
    status = girdle_place_clear(call, work.placement, work.options.clear_of, work.options.gap_mm);
  return girdle_place_finish(work.placement, status, out);
}
