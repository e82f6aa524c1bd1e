/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* A motif: copies of a placed group. Along a path the copies close like stones as wide as the group. */

typedef struct motif {
  girdle_call *call;
  girdle_motif_options options;
  const girdle_placement *group;
  girdle_placement *placement;
  girdle_crowd crowd; /* of the copies before */
  double middle_x, middle_y, width, height;
  double apart; /* clear fabric between copies, at least */
} motif;

static void measure(motif *work) {
  girdle_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
  for (uint64_t i = 0; i < work->group->count; i++) {
    const girdle_placed *record = &work->group->records[i];
    double radius = girdle_place_radius(&work->group->stones[record->stone]);
    box.left_mm = fmin(box.left_mm, record->x_mm - radius);
    box.right_mm = fmax(box.right_mm, record->x_mm + radius);
    box.top_mm = fmin(box.top_mm, record->y_mm - radius);
    box.bottom_mm = fmax(box.bottom_mm, record->y_mm + radius);
  }
  work->middle_x = (box.left_mm + box.right_mm) / 2;
  work->middle_y = (box.top_mm + box.bottom_mm) / 2;
  work->width = box.right_mm - box.left_mm;
  work->height = box.bottom_mm - box.top_mm;
}

/* ---- one copy */

static girdle_placed copy_of(const motif *work, const girdle_placed *record, const girdle_motif_place *at,
                             double cosine, double sine) {
  double x = (record->x_mm - work->middle_x) * at->scale, y = (record->y_mm - work->middle_y) * at->scale;
  int round = work->group->stones[record->stone].outline == GIRDLE_ROUND;
  girdle_placed copy = *record;
  copy.x_mm = girdle_place_snapped(at->x_mm + cosine * x - sine * y);
  copy.y_mm = girdle_place_snapped(at->y_mm + sine * x + cosine * y);
  if (!round) copy.turn_deg = girdle_place_snapped_turn((double)record->turn_deg + at->turn_deg);
  return copy;
}

static int has_room(const motif *work, const girdle_placed *copy) {
  double needed = girdle_place_radius(&work->group->stones[copy->stone]) + work->apart;
  return work->options.flags & GIRDLE_COLLIDE ||
         girdle_crowd_clearance(&work->crowd, copy->x_mm, copy->y_mm, needed) >= needed - GIRDLE_TOLERANCE_MM;
}

static int32_t put_copy(motif *work, const girdle_motif_place *at, double cosine, double sine, uint64_t row) {
  for (uint64_t i = 0; i < work->group->count; i++) {
    girdle_placed copy = copy_of(work, &work->group->records[i], at, cosine, sine);
    GIRDLE_TRY(
        girdle_place_put(work->call, work->placement, copy.x_mm, copy.y_mm, (double)copy.turn_deg, copy.stone, row));
    GIRDLE_TRY(girdle_crowd_add(work->call, &work->crowd, copy.x_mm, copy.y_mm,
                                girdle_place_radius(&work->group->stones[copy.stone])));
  }
  return GIRDLE_OK;
}

static int32_t add_copy(motif *work, const girdle_motif_place *at, uint64_t row) {
  double cosine, sine;
  girdle_place_direction(at->turn_deg, &cosine, &sine);
  GIRDLE_TRY(girdle_common_tick(work->call, work->group->count, -1));
  for (uint64_t i = 0; i < work->group->count; i++) {
    girdle_placed copy = copy_of(work, &work->group->records[i], at, cosine, sine);
    if (has_room(work, &copy)) continue;
    work->placement->notes.left_out += (int64_t)work->group->count;
    work->placement->notes.flags |= GIRDLE_NOTE_LEFT_OUT;
    return GIRDLE_OK;
  }
  return put_copy(work, at, cosine, sine, row);
}

/* ---- along a path: a run of ovals as wide as the group, which turn along it */

static int32_t run_copies(motif *work, girdle_placement **out) {
  girdle_stone wide;
  girdle_run_options run;
  memset(&wide, 0, sizeof wide);
  wide.outline = GIRDLE_OVAL;
  wide.length_ratio = 1;
  wide.diameter_mm[GIRDLE_NOMINAL] = work->width;
  girdle_run_options_init(&run, sizeof run);
  run.flags = GIRDLE_ENDS_INSIDE;
  run.stones = &wide;
  run.stone_count = 1;
  run.gap_mm = work->options.gap_mm;
  run.count = work->options.count;
  run.corner_deg = 180;
  return girdle_run(work->call, work->options.along, &run, out);
}

static int32_t too_wide(motif *work, double length_mm) {
  char numbers[2][32];
  girdle_number_text(work->width, 4, numbers[0], sizeof numbers[0]);
  girdle_number_text(length_mm, 4, numbers[1], sizeof numbers[1]);
  return girdle_common_fail(work->call, GIRDLE_GEOMETRY, "placement",
                            "the motif is %s mm wide, more than the path is long: %s mm; take a smaller one",
                            numbers[0], numbers[1]);
}

static int32_t place_along(motif *work) {
  double length = girdle_path_length_mm(work->options.along);
  girdle_placement *copies = NULL;
  int32_t status = work->width > length ? too_wide(work, length) : run_copies(work, &copies);
  if (status) return status;
  for (uint64_t i = 0; !status && i < copies->count; i++) {
    girdle_motif_place at = {copies->records[i].x_mm, copies->records[i].y_mm, (double)copies->records[i].turn_deg, 1};
    status = add_copy(work, &at, i);
  }
  if (!status) work->placement->notes.gap_mm = copies->notes.gap_mm;
  girdle_placement_free(copies);
  return status;
}

static int32_t place_at(motif *work) {
  for (uint64_t i = 0; i < work->options.at_count; i++) {
    const girdle_motif_place *at = &work->options.at[i];
    GIRDLE_TRY(girdle_common_range(work->call, "at", at->x_mm, -1e7, 1e7, "mm"));
    GIRDLE_TRY(girdle_common_range(work->call, "at", at->y_mm, -1e7, 1e7, "mm"));
    GIRDLE_TRY(girdle_common_range(work->call, "turn", at->turn_deg, -1e6, 1e6, "degrees"));
    GIRDLE_TRY(girdle_common_range(work->call, "scale", at->scale, 0.1, 100, ""));
    GIRDLE_TRY(add_copy(work, at, i));
  }
  return GIRDLE_OK;
}

/* ---- asking */

void girdle_motif_options_init(girdle_motif_options *options, uint32_t struct_bytes) {
  memset(options, 0, struct_bytes);
  options->struct_bytes = struct_bytes;
}

static int32_t check(girdle_call *call, const girdle_placement *group, const girdle_motif_options *options) {
  GIRDLE_TRY(girdle_common_range(call, "gap", options->gap_mm, 0, GIRDLE_GAP_MOST_MM, "mm"));
  if (!group->count) return girdle_common_fail(call, GIRDLE_ARGUMENT, "placement", "a motif needs stones");
  if (!options->along != !options->at_count) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "at", "a motif goes either along a path or at places");
}

/* The box of the crowd only has to be about right. */
static girdle_box box_for(const motif *work) {
  girdle_box box = {0, 0, 0, 0};
  if (work->options.along) girdle_path_box(work->options.along, &box);
  for (uint64_t i = 0; i < work->options.at_count; i++) {
    box.left_mm = fmin(box.left_mm, fmax(work->options.at[i].x_mm, -1e7));
    box.right_mm = fmax(box.right_mm, fmin(work->options.at[i].x_mm, 1e7));
    box.top_mm = fmin(box.top_mm, fmax(work->options.at[i].y_mm, -1e7));
    box.bottom_mm = fmax(box.bottom_mm, fmin(work->options.at[i].y_mm, 1e7));
  }
  return box;
}

static int32_t place_copies(motif *work) {
  girdle_box box = box_for(work);
  uint64_t copies = work->options.along ? (uint64_t)(girdle_path_length_mm(work->options.along) / work->width) + 1
                                        : work->options.at_count;
  GIRDLE_TRY(girdle_place_new(work->call, 0, &work->placement));
  GIRDLE_TRY(girdle_place_palette(work->call, work->placement, work->group->stones, work->group->stone_count, NULL));
  GIRDLE_TRY(girdle_crowd_new(work->call, &box, work->width / sqrt((double)work->group->count),
                              copies * work->group->count, &work->crowd));
  GIRDLE_TRY(work->options.along ? place_along(work) : place_at(work));
  return work->options.clear_of
             ? girdle_place_clear(work->call, work->placement, work->options.clear_of, work->options.gap_mm)
             : GIRDLE_OK;
}

int32_t girdle_motif(girdle_call *call, const girdle_placement *group, const girdle_motif_options *options,
                     girdle_placement **out) {
  GIRDLE_GIVEN(call, group, options, out);
  motif work;
  int32_t status;
  memset(&work, 0, sizeof work);
  work.call = call;
  work.group = group;
  girdle_motif_options_init(&work.options, sizeof work.options);
  girdle_common_options(&work.options, sizeof work.options, options);
  GIRDLE_TRY(check(call, group, &work.options));
  measure(&work);
  work.apart = work.options.along ? 0 : work.options.gap_mm;
  status = place_copies(&work);
  girdle_crowd_free(&work.crowd);
  return girdle_place_finish(work.placement, status, out);
}
