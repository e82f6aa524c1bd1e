/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/shape.h"

#include <math.h>
#include <string.h>

#include "shape_build_internal.h"

/* Layers are what was given; the rim is their true boundary, each ring with the region on its right. */
struct girdle_region {
  girdle_allocator memory;
  girdle_layer *layers;
  uint64_t layer_count;
  girdle_path *rim;
  double area_mm2, centre_x, centre_y;
  uint64_t holes;
};

/* ---- inside or not */

static int in_layer(const girdle_layer *layer, double x, double y) {
  int32_t winding = girdle_path_winding(layer->outline, x, y);
  return layer->rule == GIRDLE_EVENODD ? winding & 1 : winding != 0;
}

int32_t girdle_region_contains(const girdle_region *region, double x_mm, double y_mm) {
  if (!in_layer(&region->layers[0], x_mm, y_mm)) return 0;
  for (uint64_t i = 1; i < region->layer_count; i++)
    if (in_layer(&region->layers[i], x_mm, y_mm)) return 0;
  return 1;
}

double girdle_region_depth_mm(const girdle_region *region, double x_mm, double y_mm) {
  uint64_t piece;
  double t, distance;
  girdle_path_near(region->rim, x_mm, y_mm, &piece, &t, &distance);
  return girdle_region_contains(region, x_mm, y_mm) ? distance : -distance;
}

/* ---- the rim */

/* 1 when the region lies right of the piece alone, -1 when left, 0 when on both sides or none. */
static int side_of(const girdle_region *region, const girdle_piece *piece, double step) {
  double point[2], along[2];
  int right, left;
  girdle_piece_at(piece, 0.5, point, NULL, NULL);
  girdle_piece_direction(piece, 0.5, 1, along);
  right = girdle_region_contains(region, point[0] - step * along[1], point[1] + step * along[0]);
  left = girdle_region_contains(region, point[0] + step * along[1], point[1] - step * along[0]);
  return right - left;
}

static void draw_ring(girdle_strokes *strokes, const girdle_piece *pieces, uint64_t count, int forwards) {
  for (uint64_t i = 0; i < count; i++) {
    girdle_piece piece = pieces[forwards ? i : count - 1 - i];
    if (!forwards) girdle_piece_reverse(&piece);
    if (i == 0) girdle_strokes_move(strokes, piece.x[0], piece.y[0]);
    girdle_strokes_piece(strokes, &piece);
  }
  girdle_strokes_close(strokes);
}

static int32_t find_rim(girdle_call *call, girdle_region *region) {
  girdle_strokes strokes;
  const girdle_box *box = &region->layers[0].outline->tree[1];
  double step = 1e-7 * fmax(box->right_mm - box->left_mm, box->bottom_mm - box->top_mm);
  girdle_strokes_begin(&strokes, call);
  for (uint64_t l = 0; l < region->layer_count; l++) {
    const girdle_path *path = region->layers[l].outline;
    for (uint64_t p = 0; p < path->part_count; p++) {
      const girdle_piece *pieces = path->pieces + path->parts[p].first;
      int side = side_of(region, pieces, step);
      if (side) draw_ring(&strokes, pieces, path->parts[p].count, side > 0);
    }
  }
  if (!strokes.status && strokes.path->piece_count == 0)
    strokes.status = girdle_common_fail(call, GIRDLE_GEOMETRY, "region", "the outline encloses no area");
  return girdle_strokes_finish(&strokes, &region->rim);
}

static void measure(girdle_region *region) {
  const girdle_path *rim = region->rim;
  const girdle_box *box = &rim->tree[1];
  double x = (box->left_mm + box->right_mm) / 2, y = (box->top_mm + box->bottom_mm) / 2, sums[3] = {0, 0, 0};
  for (uint64_t p = 0; p < rim->part_count; p++) {
    double before = sums[0];
    for (uint64_t i = 0; i < rim->parts[p].count; i++)
      girdle_piece_moments(&rim->pieces[rim->parts[p].first + i], x, y, sums);
    if (sums[0] < before) region->holes++;
  }
  region->area_mm2 = sums[0];
  region->centre_x = x + sums[1] / sums[0];
  region->centre_y = y + sums[2] / sums[0];
}

/* ---- making */

static int32_t begin_region(girdle_call *call, uint64_t layers, girdle_region **out) {
  girdle_region *region = girdle_common_new(call, sizeof *region);
  if (!region) return GIRDLE_MEMORY;
  region->memory = girdle_common_memory(call);
  region->layers = girdle_common_new(call, layers * sizeof region->layers[0]);
  region->layer_count = layers;
  *out = region;
  if (region->layers) return GIRDLE_OK;
  girdle_region_free(region);
  return GIRDLE_MEMORY;
}

void girdle_region_free(girdle_region *region) {
  girdle_allocator memory;
  if (!region) return;
  memory = region->memory;
  for (uint64_t i = 0; region->layers && i < region->layer_count; i++)
    girdle_path_free((girdle_path *)region->layers[i].outline);
  girdle_common_release(&memory, region->layers, region->layer_count * sizeof region->layers[0]);
  girdle_path_free(region->rim);
  girdle_common_release(&memory, region, sizeof *region);
}

static int32_t copy_layer(girdle_call *call, const girdle_path *from, const double *matrix, int32_t rule,
                          girdle_layer *out) {
  static const double same[6] = {1, 0, 0, 1, 0, 0};
  girdle_path *closed = NULL;
  girdle_strokes strokes;
  girdle_strokes_begin(&strokes, call);
  for (uint64_t p = 0; p < from->part_count; p++)
    draw_ring(&strokes, from->pieces + from->parts[p].first, from->parts[p].count, 1);
  GIRDLE_TRY(girdle_strokes_finish(&strokes, &closed));
  out->rule = rule;
  if (!matrix) matrix = same;
  if (matrix != same) {
    girdle_path *image = NULL;
    int32_t status = girdle_path_transformed(call, closed, matrix, &image);
    girdle_path_free(closed);
    GIRDLE_TRY(status);
    closed = image;
  }
  out->outline = closed;
  return GIRDLE_OK;
}

static int32_t finish_region(girdle_call *call, girdle_region *region, int32_t status, girdle_region **out) {
  if (!status) status = find_rim(call, region);
  if (!status) measure(region);
  if (!status && !(region->area_mm2 > 0))
    status = girdle_common_fail(call, GIRDLE_GEOMETRY, "region", "the outline encloses no area");
  if (status)
    girdle_region_free(region);
  else
    *out = region;
  return status;
}

int32_t girdle_region_new(girdle_call *call, const girdle_path *outline, int32_t rule, girdle_region **out) {
  girdle_region *region = NULL;
  if (rule != GIRDLE_NONZERO && rule != GIRDLE_EVENODD)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "rule", "fill rule %d is not known", (int)rule);
  GIRDLE_TRY(begin_region(call, 1, &region));
  return finish_region(call, region, copy_layer(call, outline, NULL, rule, &region->layers[0]), out);
}

int32_t girdle_region_transformed(girdle_call *call, const girdle_region *region, const double matrix[6],
                                  girdle_region **out) {
  girdle_region *image = NULL;
  int32_t status;
  GIRDLE_TRY(begin_region(call, region->layer_count, &image));
  status = GIRDLE_OK;
  for (uint64_t i = 0; i < region->layer_count && !status; i++)
    status = copy_layer(call, region->layers[i].outline, matrix, region->layers[i].rule, &image->layers[i]);
  return finish_region(call, image, status, out);
}

/* What is left out of the area left out comes back as a layer of its own only when it has none: layers do not nest. */
int32_t girdle_region_without(girdle_call *call, const girdle_region *region, const girdle_region *left_out,
                              girdle_region **out) {
  girdle_region *rest = NULL;
  int32_t status;
  uint64_t kept = region->layer_count;
  GIRDLE_TRY(begin_region(call, kept + 1, &rest));
  status = GIRDLE_OK;
  for (uint64_t i = 0; i < kept && !status; i++)
    status = copy_layer(call, region->layers[i].outline, NULL, region->layers[i].rule, &rest->layers[i]);
  if (!status) status = copy_layer(call, left_out->rim, NULL, GIRDLE_NONZERO, &rest->layers[kept]);
  return finish_region(call, rest, status, out);
}

/* ---- what a region says of itself */

double girdle_region_area_mm2(const girdle_region *region) {
  return region->area_mm2;
}

double girdle_region_perimeter_mm(const girdle_region *region) {
  return region->rim->length_mm;
}

uint64_t girdle_region_holes(const girdle_region *region) {
  return region->holes;
}

void girdle_region_centroid(const girdle_region *region, double *x_mm, double *y_mm) {
  *x_mm = region->centre_x;
  *y_mm = region->centre_y;
}

void girdle_region_box(const girdle_region *region, girdle_box *out) {
  *out = region->rim->tree[1];
}

const girdle_layer *girdle_region_layers(const girdle_region *region, uint64_t *count) {
  *count = region->layer_count;
  return region->layers;
}

int32_t girdle_region_rim(girdle_call *call, const girdle_region *region, girdle_path **out) {
  girdle_layer copy;
  GIRDLE_TRY(copy_layer(call, region->rim, NULL, GIRDLE_NONZERO, &copy));
  *out = (girdle_path *)copy.outline;
  return GIRDLE_OK;
}
