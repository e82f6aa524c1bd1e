/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shape_build_internal.h"

/* The lower edge of a region: of a skirt its hem, of a cuff the wrist. */

static double area_mm2(const girdle_path *path, const girdle_subpath *ring) {
  double sums[3] = {0, 0, 0};
  const girdle_piece *first = &path->pieces[ring->first];
  for (uint64_t i = 0; i < ring->count; i++)
    girdle_piece_moments(&first[i], first->x[0], first->y[0], sums);
  return sums[0];
}

static double bottom_of(const girdle_path *path, const girdle_subpath *ring) {
  double bottom = -INFINITY;
  for (uint64_t i = 0; i < ring->count; i++) {
    girdle_box box;
    girdle_piece_box(&path->pieces[ring->first + i], &box);
    bottom = fmax(bottom, box.bottom_mm);
  }
  return bottom;
}

/* The ring that reaches lowest, the first of several. Those of holes, which run the other way, reach no lower. */
static const girdle_subpath *lowest_ring(const girdle_path *rim) {
  const girdle_subpath *lowest = NULL;
  double lowest_mm = 0;
  for (uint64_t p = 0; p < rim->part_count; p++) {
    double bottom = bottom_of(rim, &rim->parts[p]);
    if ((lowest && bottom <= lowest_mm) || area_mm2(rim, &rim->parts[p]) < 0) continue;
    lowest = &rim->parts[p];
    lowest_mm = bottom;
  }
  return lowest;
}

/* A stretch of a ring from one corner to the next; `to` is beyond the ring's end where it leads over its start. */
typedef struct stretch {
  double from, to;
} stretch;

/* Finds the stretch whose middle lies lowest, the first of several. */
static int32_t lowest_stretch(girdle_call *call, const girdle_path *ring, const double *corners, uint64_t count,
                              stretch *out) {
  double lowest_mm = -INFINITY;
  for (uint64_t i = 0; i < count; i++) {
    double from = corners[i], to = i + 1 < count ? corners[i + 1] : corners[0] + ring->length_mm;
    girdle_point_on middle;
    GIRDLE_TRY(girdle_common_tick(call, 8, -1));
    GIRDLE_TRY(girdle_path_at(call, ring, fmod((from + to) / 2, ring->length_mm), &middle));
    if (middle.y_mm <= lowest_mm) continue;
    lowest_mm = middle.y_mm;
    *out = (stretch){from, to};
  }
  return GIRDLE_OK;
}

/* A closed ring is one line, so that its end and its start are joined where the stretch leads over them. */
static int32_t cut_stretch(girdle_call *call, const girdle_path *ring, stretch of, girdle_path **out) {
  girdle_path *before = NULL, *after = NULL;
  int32_t status;
  if (of.to <= ring->length_mm) return girdle_path_part(call, ring, of.from, of.to, out);
  status = girdle_path_part(call, ring, of.from, ring->length_mm, &before);
  if (!status) status = girdle_path_part(call, ring, 0, of.to - ring->length_mm, &after);
  if (!status) status = girdle_path_joined(call, before, after, out);
  girdle_path_free(before);
  girdle_path_free(after);
  return status;
}

/* The edge of a ring, which is taken over where no two corners part it. */
static int32_t edge_of_ring(girdle_call *call, girdle_path **ring, girdle_path **out) {
  enum { CORNER_DEG = 30 };
  girdle_allocator memory = girdle_common_memory(call);
  uint64_t count = 0;
  double *corners;
  stretch lowest = {0, 0};
  int32_t status;
  girdle_path_corners(*ring, (*ring)->parts, CORNER_DEG, NULL, 0, &count);
  if (count < 2) {
    *out = *ring;
    *ring = NULL;
    return GIRDLE_OK;
  }
  corners = girdle_common_new(call, count * sizeof *corners);
  if (!corners) return GIRDLE_MEMORY;
  girdle_path_corners(*ring, (*ring)->parts, CORNER_DEG, corners, count, &count);
  status = lowest_stretch(call, *ring, corners, count, &lowest);
  girdle_common_release(&memory, corners, count * sizeof *corners);
  return status ? status : cut_stretch(call, *ring, lowest, out);
}

int32_t girdle_region_lower_edge(girdle_call *call, const girdle_region *region, girdle_path **out) {
  GIRDLE_GIVEN(call, region, out);
  girdle_path *rim = NULL, *ring = NULL;
  girdle_strokes strokes;
  const girdle_subpath *lowest;
  int32_t status;
  GIRDLE_TRY(girdle_region_rim(call, region, &rim));
  lowest = lowest_ring(rim);
  girdle_strokes_begin(&strokes, call);
  girdle_strokes_ring(&strokes, rim->pieces + lowest->first, lowest->count, 1);
  status = girdle_strokes_finish(&strokes, &ring);
  if (!status) status = girdle_common_tick(call, rim->piece_count, -1);
  if (!status) status = edge_of_ring(call, &ring, out);
  girdle_path_free(ring);
  girdle_path_free(rim);
  return status;
}
