/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* Rows along an edge: a run on the rim shrunk by a stone's reach, another a pitch farther in, and so on until nothing
 * is left. What would come nearer than the gap to a stone that stands is left out and noted; since rings only meet
 * where the region narrows, that is there. */

typedef struct rings {
  girdle_call *call;
  const girdle_field *field;
  const girdle_cover_options *options;
  girdle_placement *placement;
  girdle_crowd crowd;
  double radius, gap_mm;
  int stuck; /* the row's place could not be worked out */
} rings;

static int32_t take_stones(rings *work, const girdle_placement *ring, uint64_t row) {
  double reach = work->radius + work->options->margin_mm, needed = work->radius + work->gap_mm;
  for (uint64_t i = 0; i < ring->count; i++) {
    const girdle_placed *record = &ring->records[i];
    double x = record->x_mm, y = record->y_mm;
    if (girdle_field_depth(work->field, x, y, reach + 1) < reach - GIRDLE_TOUCH_MM - 1e-4 ||
        girdle_crowd_clearance(&work->crowd, x, y, needed) < needed - 1e-4) {
      work->placement->notes.left_out++;
      continue;
    }
    GIRDLE_TRY(girdle_crowd_add(work->call, &work->crowd, x, y, work->radius));
    /* both placements have their stones from the same sequence, hence in the same order */
    GIRDLE_TRY(girdle_place_put(work->call, work->placement, x, y, (double)record->turn_deg, record->stone, row));
  }
  work->placement->notes.left_out += ring->notes.left_out;
  if (work->placement->notes.left_out) work->placement->notes.flags |= GIRDLE_NOTE_LEFT_OUT;
  return GIRDLE_OK;
}

static int32_t run_ring(rings *work, const girdle_region *inner, uint64_t row) {
  girdle_path *rim = NULL;
  girdle_placement *ring = NULL;
  girdle_run_options run;
  int32_t status;
  GIRDLE_TRY(girdle_region_rim(work->call, inner, &rim));
  girdle_run_options_init(&run, sizeof run);
  run.flags = GIRDLE_AT_LEAST;
  run.stones = work->options->stones;
  run.stone_count = work->options->stone_count;
  run.gap_mm = work->gap_mm;
  status = girdle_run(work->call, rim, &run, &ring);
  if (!status) status = take_stones(work, ring, row);
  girdle_placement_free(ring);
  girdle_path_free(rim);
  return status;
}

/* A ring too short for a stone is none. */
static int32_t lay_ring(rings *work, const girdle_region *within, uint64_t row, int *is_last) {
  double reach = work->radius + work->options->margin_mm;
  girdle_region *inner = NULL;
  int32_t status =
      girdle_region_inset(work->call, within, reach + (double)row * (2 * work->radius + work->gap_mm), &inner);
  *is_last = status == GIRDLE_GEOMETRY;
  work->stuck = status == GIRDLE_LIMIT;
  if (*is_last) return GIRDLE_OK;
  GIRDLE_TRY(status);
  status = run_ring(work, inner, row);
  girdle_region_free(inner);
  return status == GIRDLE_GEOMETRY ? GIRDLE_OK : status;
}

/* Rings that end in failures of their own are part of the way, so what is called is kept from reporting them. */
int32_t girdle_rings_lay(girdle_call *call, const girdle_region *within, const girdle_field *field,
                         const girdle_cover_options *options, double gap_mm, girdle_placement *placement) {
  double radius = girdle_place_radius(&options->stones[0]), pitch = 2 * radius + gap_mm;
  girdle_call quiet;
  rings work = {&quiet, field, options, placement, {{0}}, radius, gap_mm};
  int32_t status;
  int is_last = 0;
  girdle_call_init(&quiet, sizeof quiet);
  if (call) quiet = *call;
  quiet.error = NULL;
  status = girdle_crowd_new(&quiet, &field->box, pitch,
                            (uint64_t)(girdle_region_area_mm2(within) / (pitch * pitch)) + 1, &work.crowd);
  for (uint64_t row = 0; !status && !is_last; row++)
    status = lay_ring(&work, within, row, &is_last);
  girdle_crowd_free(&work.crowd);
  if (work.stuck)
    return girdle_common_fail(call, status, "setting", "a row along the edge cannot be worked out; take another gap");
  return status ? girdle_common_fail(call, status, NULL, "%s", girdle_status_text(status)) : GIRDLE_OK;
}
