/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* A closed cover: a lattice, or rings along the edge. For an exact count the widest gap is looked for that still holds
 * so many. */

#define GAP_STEP_MM 1e-3 /* how near the widest gap is found */

typedef struct cover {
  girdle_call *call;
  girdle_cover_options options;
  const girdle_region *within;
  girdle_field fine, coarse;
  girdle_lattice lattice;
  girdle_placement *placement;
  uint16_t *index; /* of the stones in the placement */
  double gap_mm;   /* that the placement was laid with */
} cover;

static double radius_of(const cover *work) {
  return girdle_place_radius(&work->options.stones[0]);
}

/* ---- one gap */

static int32_t lay_lattice(cover *work, double gap_mm, int64_t enough) {
  girdle_laying best;
  girdle_lattice_set(&work->lattice, radius_of(work), gap_mm, work->options.margin_mm, work->options.setting);
  GIRDLE_TRY(girdle_lattice_find(&work->lattice, enough, &best));
  if (!best.count || (best.count < enough && enough < INT64_MAX)) return GIRDLE_OK;
  return girdle_lattice_lay(&work->lattice, &best, work->index, work->options.stone_count, work->placement);
}

/* Lays with a gap, and leaves out what is not clear of others; none when it is clear that fewer than `enough` would
 * stand (0: as many as go). *count is how many stand. */
static int32_t lay(cover *work, double gap_mm, int64_t enough, int64_t *count) {
  girdle_placement *placement = work->placement;
  int any = !enough || work->options.clear_of;
  placement->count = 0;
  placement->notes.left_out = 0;
  placement->notes.flags = 0;
  if (work->options.setting == GIRDLE_EDGE_ROWS)
    GIRDLE_TRY(girdle_rings_lay(work->call, work->within, &work->fine, &work->options, gap_mm, placement));
  else
    GIRDLE_TRY(lay_lattice(work, gap_mm, any ? INT64_MAX : enough));
  GIRDLE_TRY(girdle_place_clear(work->call, placement, work->options.clear_of, work->options.gap_mm));
  work->gap_mm = gap_mm;
  *count = (int64_t)placement->count;
  return GIRDLE_OK;
}

/* ---- exactly so many: the widest gap that holds them */

static int32_t does_not_fit(cover *work, int64_t most) {
  char gap[32];
  girdle_number_text(work->options.gap_mm, 4, gap, sizeof gap);
  return girdle_common_fail(work->call, GIRDLE_GEOMETRY, "count",
                            "%lld stones do not fit with a gap of %s mm; the most found is %lld",
                            (long long)work->options.count, gap, (long long)most);
}

/* As wide as the region. One stone alone holds with any gap, more never stand farther apart. */
static double widest_gap(const cover *work) {
  const girdle_box *box = &work->fine.box;
  return hypot(box->right_mm - box->left_mm, box->bottom_mm - box->top_mm) + work->options.gap_mm;
}

/* A stone has about the area over the count: from there outwards in doubling steps, until one gap holds and one does
 * not; then halving. */
static int32_t widen_gap(cover *work) {
  int64_t wanted = work->options.count, count;
  double narrow = work->options.gap_mm, step = radius_of(work) / 8, wide;
  double likely = sqrt(girdle_region_area_mm2(work->within) / ((double)wanted * sqrt(0.75))) - 2 * radius_of(work);
  for (wide = fmax(likely, narrow + step);; wide += step, step *= 2) {
    GIRDLE_TRY(lay(work, wide, wanted, &count));
    if (count < wanted) break;
    narrow = wide;
    if (narrow > widest_gap(work)) return GIRDLE_OK;
  }
  for (step = radius_of(work) / 8; wide - narrow > 2 * step; step *= 2) {
    double tried = wide - step;
    GIRDLE_TRY(lay(work, tried, wanted, &count));
    *(count < wanted ? &wide : &narrow) = tried;
  }
  while (wide - narrow > GAP_STEP_MM) {
    double middle = (narrow + wide) / 2;
    GIRDLE_TRY(lay(work, middle, wanted, &count));
    *(count < wanted ? &wide : &narrow) = middle;
  }
  return lay(work, narrow, wanted, &count);
}

static void drop_surplus(cover *work) {
  girdle_notes *notes = &work->placement->notes;
  int64_t surplus = (int64_t)work->placement->count - work->options.count;
  if (surplus <= 0) return;
  work->placement->count -= (uint64_t)surplus;
  notes->left_out += surplus;
  notes->flags |= GIRDLE_NOTE_LEFT_OUT | GIRDLE_NOTE_SURPLUS;
}

/* ---- all together */

static void note(cover *work) {
  girdle_notes *notes = &work->placement->notes;
  double area = girdle_region_area_mm2(work->within), perimeter = girdle_region_perimeter_mm(work->within);
  double pitch = 2 * radius_of(work) + work->gap_mm, reach = radius_of(work) + work->options.margin_mm;
  if (work->placement->count > 1) notes->gap_mm = work->gap_mm;
  notes->bound_most = girdle_bound_most(area, perimeter, pitch, reach, girdle_field_is_convex(&work->fine));
  if (work->options.setting != GIRDLE_EDGE_ROWS)
    notes->bound_least = girdle_bound_least(area, perimeter, (int64_t)girdle_region_holes(work->within), pitch, reach,
                                            work->options.setting);
}

static int32_t check_room(cover *work) {
  double pitch = 2 * radius_of(work) + work->options.gap_mm;
  if (girdle_region_area_mm2(work->within) / (pitch * pitch) <= GIRDLE_STONES_MOST) return GIRDLE_OK;
  return girdle_place_reserve(work->call, work->placement, UINT64_MAX);
}

static int32_t find_and_lay(cover *work) {
  int64_t count;
  GIRDLE_TRY(check_room(work));
  GIRDLE_TRY(lay(work, work->options.gap_mm, 0, &count));
  if (!count && !work->placement->notes.left_out)
    return girdle_place_too_large(work->call, radius_of(work) + work->options.margin_mm);
  if (work->options.count) {
    if (count < work->options.count) return does_not_fit(work, count);
    GIRDLE_TRY(widen_gap(work));
    drop_surplus(work);
  }
  note(work);
  return GIRDLE_OK;
}

/* ---- asking */

void girdle_cover_options_init(girdle_cover_options *options, uint32_t struct_bytes) {
  girdle_cover_options plain = {sizeof plain};
  plain.turn_deg = NAN;
  memset(options, 0, struct_bytes);
  memcpy(options, &plain, struct_bytes < sizeof plain ? struct_bytes : sizeof plain);
  options->struct_bytes = struct_bytes;
}

static int32_t check(girdle_call *call, const girdle_cover_options *options) {
  GIRDLE_TRY(girdle_place_check(call, options->stones, options->stone_count, options->gap_mm, options->count));
  GIRDLE_TRY(girdle_common_range(call, "margin", options->margin_mm, 0, GIRDLE_GAP_MOST_MM, "mm"));
  if (!isnan(options->turn_deg)) GIRDLE_TRY(girdle_common_range(call, "turn", options->turn_deg, -360, 360, "degrees"));
  if (options->setting < GIRDLE_HONEYCOMB || options->setting > GIRDLE_EDGE_ROWS)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "setting", "setting %d is not known", (int)options->setting);
  for (uint64_t i = 1; i < options->stone_count; i++)
    if (girdle_place_radius(&options->stones[i]) != girdle_place_radius(&options->stones[0]))
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "stones",
                                "a cover takes stones of one size across: %s and %s differ; scatter takes mixed sizes",
                                options->stones[0].size, options->stones[i].size);
  return GIRDLE_OK;
}

static int32_t begin(cover *work) {
  uint64_t count = work->options.stone_count;
  GIRDLE_TRY(girdle_place_new(work->call, 0, &work->placement));
  work->index = girdle_common_new(work->call, count * sizeof *work->index);
  if (!work->index) return GIRDLE_MEMORY;
  GIRDLE_TRY(girdle_place_palette(work->call, work->placement, work->options.stones, count, work->index));
  GIRDLE_TRY(girdle_field_new(work->call, work->within, GIRDLE_FLAT_MM, &work->fine));
  GIRDLE_TRY(girdle_field_new(work->call, work->within, girdle_lattice_coarse_mm(), &work->coarse));
  girdle_lattice_begin(&work->lattice, work->call, &work->fine, &work->coarse, work->options.turn_deg);
  work->lattice.turns_stones = work->options.stones[0].outline != GIRDLE_ROUND;
  return girdle_field_index(work->call, &work->fine, 2 * radius_of(work) + work->options.gap_mm);
}

int32_t girdle_cover(girdle_call *call, const girdle_region *within, const girdle_cover_options *options,
                     girdle_placement **out) {
  GIRDLE_GIVEN(call, within, options, out);
  const girdle_allocator memory = girdle_common_memory(call);
  cover work;
  int32_t status;
  memset(&work, 0, sizeof work);
  work.call = call;
  work.within = within;
  girdle_cover_options_init(&work.options, sizeof work.options);
  girdle_common_options(&work.options, sizeof work.options, options);
  GIRDLE_TRY(check(call, &work.options));
  status = begin(&work);
  if (!status) status = find_and_lay(&work);
  girdle_common_release(&memory, work.index, work.options.stone_count * sizeof *work.index);
  girdle_lattice_free(&work.lattice);
  girdle_field_free(&work.fine);
  girdle_field_free(&work.coarse);
  return girdle_place_finish(work.placement, status, out);
}
