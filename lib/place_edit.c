/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* Placements from placements. Places are whole numbers of a grid, so that a mirror image of a mirror image is the
 * first again: the axis itself is moved onto the grid of half steps. */

/* A placement with the same stones and notes, and room for `capacity` records. */
static int32_t begin(girdle_call *call, const girdle_placement *from, uint64_t capacity, girdle_placement **out) {
  int32_t status;
  GIRDLE_TRY(girdle_place_new(call, capacity, out));
  (*out)->notes = from->notes;
  status = girdle_place_palette(call, *out, from->stones, from->stone_count, NULL);
  if (status) girdle_placement_free(*out);
  return status;
}

int32_t girdle_placement_copy(girdle_call *call, const girdle_placement *from, girdle_placement **out) {
  GIRDLE_GIVEN(call, from, out);
  girdle_placement *copy = NULL;
  GIRDLE_TRY(begin(call, from, from->count, &copy));
  if (from->count) memcpy(copy->records, from->records, (size_t)from->count * sizeof *copy->records);
  copy->count = from->count;
  *out = copy;
  return GIRDLE_OK;
}

/* ---- join */

static double least_of(double a, double b) {
  return isnan(a) || b < a ? b : a;
}

static double sum_of(double a, double b) {
  return isnan(a) ? b : isnan(b) ? a : a + b;
}

/* A bound of both together is only known when both are; 0 stands for unknown. */
void girdle_place_add_notes(girdle_notes *notes, const girdle_notes *more) {
  notes->bound_most = notes->bound_most && more->bound_most ? notes->bound_most + more->bound_most : 0;
  notes->bound_least += more->bound_least;
  notes->left_out += more->left_out;
  notes->flags = ((notes->flags | more->flags) & ~(uint32_t)GIRDLE_NOTE_MAXIMAL) |
                 (notes->flags & more->flags & GIRDLE_NOTE_MAXIMAL);
  notes->gap_mm = least_of(notes->gap_mm, more->gap_mm);
  notes->leftover_mm = sum_of(notes->leftover_mm, more->leftover_mm);
  notes->undecided_mm2 = sum_of(notes->undecided_mm2, more->undecided_mm2);
}

static uint64_t rows_of(const girdle_placement *placement) {
  uint64_t rows = 0;
  for (uint64_t i = 0; i < placement->count; i++)
    if (placement->records[i].row >= rows) rows = placement->records[i].row + 1u;
  return rows;
}

static int32_t append(girdle_call *call, girdle_placement *joined, const girdle_placement *second,
                      const uint16_t *index) {
  uint64_t rows = rows_of(joined);
  for (uint64_t i = 0; i < second->count; i++) {
    const girdle_placed *record = &second->records[i];
    GIRDLE_TRY(girdle_place_put(call, joined, record->x_mm, record->y_mm, (double)record->turn_deg,
                                index[record->stone], rows + record->row));
  }
  return GIRDLE_OK;
}

int32_t girdle_placement_joined(girdle_call *call, const girdle_placement *first, const girdle_placement *second,
                                girdle_placement **out) {
  GIRDLE_GIVEN(call, first, second, out);
  girdle_placement *joined = NULL;
  uint64_t bytes = (second->stone_count + 1) * sizeof(uint16_t);
  uint16_t *index;
  int32_t status;
  GIRDLE_TRY(girdle_placement_copy(call, first, &joined));
  index = girdle_common_new(call, bytes);
  status = index ? girdle_place_palette(call, joined, second->stones, second->stone_count, index) : GIRDLE_MEMORY;
  if (!status) status = girdle_place_reserve(call, joined, first->count + second->count);
  if (!status) status = append(call, joined, second, index);
  girdle_place_add_notes(&joined->notes, &second->notes);
  girdle_common_release(&joined->memory, index, bytes);
  return girdle_place_finish(joined, status, out);
}

/* ---- mirror, fold, move, turn */

static int is_round(const girdle_placement *placement, const girdle_placed *record) {
  return placement->stones[record->stone].outline == GIRDLE_ROUND;
}

static void mirror(const girdle_placement *placement, girdle_placed *record, double twice_axis) {
  record->x_mm = girdle_place_snapped(twice_axis - record->x_mm);
  if (!is_round(placement, record)) record->turn_deg = girdle_place_snapped_turn(180 - (double)record->turn_deg);
}

static int32_t check_shift(girdle_call *call, const char *field, double mm) {
  return girdle_common_range(call, field, mm, -1e7, 1e7, "mm");
}

int32_t girdle_placement_mirrored(girdle_call *call, const girdle_placement *from, double x_mm,
                                  girdle_placement **out) {
  GIRDLE_GIVEN(call, from, out);
  double twice_axis = girdle_place_snapped(2 * x_mm);
  GIRDLE_TRY(check_shift(call, "x", x_mm));
  GIRDLE_TRY(girdle_placement_copy(call, from, out));
  for (uint64_t i = 0; i < from->count; i++)
    mirror(*out, &(*out)->records[i], twice_axis);
  return GIRDLE_OK;
}

/* First the half as it is, those near the line on it; then the other half. */
static void fold(girdle_placement *folded, double x_mm, double snap_mm) {
  uint64_t half = folded->count;
  for (uint64_t i = 0; i < half; i++) {
    girdle_placed *record = &folded->records[i];
    if (fabs(record->x_mm - x_mm) <= snap_mm + 1e-9) {
      record->x_mm = x_mm;
    } else {
      folded->records[folded->count] = *record;
      mirror(folded, &folded->records[folded->count++], 2 * x_mm);
    }
  }
}

int32_t girdle_placement_folded(girdle_call *call, const girdle_placement *from, double x_mm, double snap_mm,
                                girdle_placement **out) {
  GIRDLE_GIVEN(call, from, out);
  girdle_placement *folded = NULL;
  int32_t status;
  GIRDLE_TRY(check_shift(call, "x", x_mm));
  GIRDLE_TRY(girdle_common_range(call, "snap", snap_mm, 0, GIRDLE_DIAMETER_MOST_MM, "mm"));
  GIRDLE_TRY(girdle_placement_copy(call, from, &folded));
  status = girdle_place_reserve(call, folded, 2 * from->count);
  if (!status) fold(folded, girdle_place_snapped(x_mm), snap_mm);
  return girdle_place_finish(folded, status, out);
}

int32_t girdle_placement_moved(girdle_call *call, const girdle_placement *from, double dx_mm, double dy_mm,
                               girdle_placement **out) {
  GIRDLE_GIVEN(call, from, out);
  double dx = girdle_place_snapped(dx_mm), dy = girdle_place_snapped(dy_mm);
  GIRDLE_TRY(check_shift(call, "dx", dx_mm));
  GIRDLE_TRY(check_shift(call, "dy", dy_mm));
  GIRDLE_TRY(girdle_placement_copy(call, from, out));
  for (uint64_t i = 0; i < from->count; i++) {
    girdle_placed *record = &(*out)->records[i];
    record->x_mm = girdle_place_snapped(record->x_mm + dx);
    record->y_mm = girdle_place_snapped(record->y_mm + dy);
  }
  return GIRDLE_OK;
}

int32_t girdle_placement_turned(girdle_call *call, const girdle_placement *from, double turn_deg,
                                girdle_placement **out) {
  GIRDLE_GIVEN(call, from, out);
  double cosine, sine;
  GIRDLE_TRY(girdle_common_range(call, "turn", turn_deg, -1e6, 1e6, "degrees"));
  GIRDLE_TRY(girdle_placement_copy(call, from, out));
  girdle_place_direction(turn_deg, &cosine, &sine);
  for (uint64_t i = 0; i < from->count; i++) {
    girdle_placed *record = &(*out)->records[i];
    double x = record->x_mm, y = record->y_mm;
    record->x_mm = girdle_place_snapped(cosine * x - sine * y);
    record->y_mm = girdle_place_snapped(sine * x + cosine * y);
    if (!is_round(*out, record)) record->turn_deg = girdle_place_snapped_turn((double)record->turn_deg + turn_deg);
  }
  return GIRDLE_OK;
}

/* ---- leave out */

/* Drops what a test does not keep, and notes how many. */
static int32_t drop(girdle_call *call, girdle_placement *placement,
                    int (*keeps)(const void *context, const girdle_shape *shape), const void *context) {
  uint64_t bytes = placement->count + 1, dropped;
  uint8_t *kept = girdle_common_new(call, bytes);
  int32_t status = GIRDLE_OK;
  if (!kept) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < placement->count && !status; i++) {
    girdle_shape shape = girdle_place_shape(placement, i);
    kept[i] = (uint8_t)keeps(context, &shape);
    if (i % 4096 == 4095) status = girdle_common_tick(call, 4096, (double)i / (double)placement->count);
  }
  dropped = status ? 0 : girdle_place_keep(placement, kept);
  placement->notes.left_out += (int64_t)dropped;
  if (dropped) placement->notes.flags |= GIRDLE_NOTE_LEFT_OUT;
  girdle_common_release(&placement->memory, kept, bytes);
  return status;
}

static int keeps_off_field(const void *context, const girdle_shape *shape) {
  double radius = girdle_place_radius(shape->stone);
  return girdle_field_depth(context, shape->x, shape->y, radius + 1) <= -radius + GIRDLE_TOLERANCE_MM;
}

int32_t girdle_placement_without(girdle_call *call, const girdle_placement *from, const girdle_region *left_out,
                                 girdle_placement **out) {
  GIRDLE_GIVEN(call, from, left_out, out);
  girdle_placement *rest = NULL;
  girdle_field field;
  int32_t status;
  GIRDLE_TRY(girdle_field_new(call, left_out, GIRDLE_FLAT_MM, &field));
  status = girdle_field_index(call, &field, 5);
  if (!status) status = girdle_placement_copy(call, from, &rest);
  if (!status) status = drop(call, rest, keeps_off_field, &field);
  girdle_field_free(&field);
  return girdle_place_finish(rest, status, out);
}

typedef struct neighbours {
  girdle_crowd crowd;
  double gap_mm;
} neighbours;

static int keeps_off_crowd(const void *context, const girdle_shape *shape) {
  const neighbours *others = context;
  return girdle_crowd_has_room(&others->crowd, shape, others->gap_mm, NULL, 0);
}

int32_t girdle_place_clear(girdle_call *call, girdle_placement *placement, const girdle_placement *other,
                           double gap_mm) {
  neighbours others;
  int32_t status;
  if (!other || !other->count) return GIRDLE_OK;
  others.gap_mm = gap_mm;
  GIRDLE_TRY(girdle_crowd_of(call, other, &others.crowd));
  status = drop(call, placement, keeps_off_crowd, &others);
  girdle_crowd_free(&others.crowd);
  return status;
}

int32_t girdle_placement_clear_of(girdle_call *call, const girdle_placement *from, const girdle_placement *other,
                                  double gap_mm, girdle_placement **out) {
  GIRDLE_GIVEN(call, from, other, out);
  girdle_placement *rest = NULL;
  int32_t status;
  GIRDLE_TRY(girdle_common_range(call, "gap", gap_mm, 0, GIRDLE_GAP_MOST_MM, "mm"));
  GIRDLE_TRY(girdle_placement_copy(call, from, &rest));
  status = girdle_place_clear(call, rest, other, gap_mm);
  return girdle_place_finish(rest, status, out);
}
