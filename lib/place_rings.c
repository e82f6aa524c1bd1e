/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* Rows along an edge: a run on the rim shrunk by a stone's reach, another a pitch farther in, and so on until nothing
 * is left. What would come nearer than the gap to a stone that stands is left out; since rings only meet where the
 * region narrows, that is there. */

typedef struct rings {
  girdle_call *call;
  const girdle_field *field;
  const girdle_cover_options *options;
  girdle_placement *placement;
  girdle_crowd crowd;
  double radius, gap_mm;
} rings;

static int32_t take_stones(rings *work, const girdle_placement *ring, uint64_t row) {
  double reach = work->radius + work->options->margin_mm, needed = work->radius + work->gap_mm;
  for (uint64_t i = 0; i < ring->count; i++) {
    const girdle_placed *record = &ring->records[i];
    double x = record->x_mm, y = record->y_mm;
    if (girdle_field_depth(work->field, x, y, reach + 1) < reach - GIRDLE_TOUCH_MM - 1e-4) continue;
    if (girdle_crowd_clearance(&work->crowd, x, y, needed, NULL, 0) < needed - 1e-4) continue;
    GIRDLE_TRY(girdle_crowd_add(work->call, &work->crowd, x, y, work->radius));
    /* both placements have their stones from the same sequence, hence in the same order */
    GIRDLE_TRY(girdle_place_put(work->call, work->placement, x, y, (double)record->turn_deg, record->stone, row));
  }
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
  girdle_region *inner = NULL;
  girdle_call quiet;
  double inset = work->radius + work->options->margin_mm + (double)row * (2 * work->radius + work->gap_mm);
  int32_t status;
  girdle_call_init(&quiet, sizeof quiet);
  if (work->call) quiet = *work->call;
  quiet.error = NULL;
  status = girdle_region_inset(&quiet, within, inset, &inner);
  if (status == GIRDLE_GEOMETRY) {
    *is_last = 1;
    return GIRDLE_OK;
  }
  if (status) return girdle_common_fail(work->call, status, NULL, "%s", girdle_status_text(status));
  work->call = work->call ? &quiet : NULL;
  status = run_ring(work, inner, row);
  girdle_region_free(inner);
  return status == GIRDLE_GEOMETRY ? GIRDLE_OK : status;
}

int32_t girdle_rings_lay(girdle_call *call, const girdle_region *within, const girdle_field *field,
                         const girdle_cover_options *options, double gap_mm, girdle_placement *placement) {
  rings work = {call, field, options, placement, {{0}}, girdle_place_radius(&options->stones[0]), gap_mm};
  int32_t status =
      girdle_crowd_new(call, &field->box, 2 * work.radius + gap_mm,
                       (uint64_t)(girdle_region_area_mm2(within) / pow(2 * work.radius + gap_mm, 2)) + 1, &work.crowd);
  int is_last = 0;
  for (uint64_t row = 0; !status && !is_last; row++) {
    work.call = call;
    status = lay_ring(&work, within, row, &is_last);
  }
  girdle_crowd_free(&work.crowd);
  return status ? girdle_common_fail(call, status, NULL, "%s", girdle_status_text(status)) : GIRDLE_OK;
}
