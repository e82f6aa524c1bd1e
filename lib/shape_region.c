/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/shape.h"

#include <math.h>
#include <string.h>

#include "shape_build_internal.h"

/* Layers are what was given; the rim is their true boundary, each ring with the region on its right. A lone layer that
 * is drawn so already is its own rim. */
struct girdle_region {
  girdle_allocator memory;
  girdle_layer *layers;
  uint64_t layer_count;
  girdle_path *rim;
  double area_mm2, centre_x, centre_y;
  uint64_t holes;
};

/* ---- inside or not */

int32_t girdle_region_contains(const girdle_region *region, double x_mm, double y_mm) {
  return isfinite(x_mm) && isfinite(y_mm) && girdle_layers_contain(region->layers, region->layer_count, x_mm, y_mm);
}

double girdle_region_depth_mm(const girdle_region *region, double x_mm, double y_mm) {
  uint64_t piece;
  double t, distance;
  if (!isfinite(x_mm) || !isfinite(y_mm)) return NAN;
  girdle_path_near(region->rim, x_mm, y_mm, &piece, &t, &distance);
  return girdle_region_contains(region, x_mm, y_mm) ? distance : -distance;
}

/* ---- measures */

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

static int is_own_rim(const girdle_region *region) {
  return region->rim == region->layers[0].outline;
}

void girdle_region_free(girdle_region *region) {
  girdle_allocator memory;
  if (!region) return;
  memory = region->memory;
  if (region->layers && !is_own_rim(region)) girdle_path_free(region->rim);
  for (uint64_t i = 0; region->layers && i < region->layer_count; i++)
    girdle_path_free((girdle_path *)region->layers[i].outline);
  girdle_common_release(&memory, region->layers, region->layer_count * sizeof region->layers[0]);
  girdle_common_release(&memory, region, sizeof *region);
}

/* Every subpath closed. */
static int32_t close_outline(girdle_call *call, const girdle_path *from, girdle_path **out) {
  girdle_strokes strokes;
  girdle_strokes_begin(&strokes, call);
  for (uint64_t p = 0; p < from->part_count; p++)
    girdle_strokes_ring(&strokes, from->pieces + from->parts[p].first, from->parts[p].count, 1);
  return girdle_strokes_finish(&strokes, out);
}

static int32_t set_layer(girdle_call *call, const girdle_path *from, int32_t rule, girdle_layer *out) {
  girdle_path *outline = NULL;
  GIRDLE_TRY(close_outline(call, from, &outline));
  out->outline = outline;
  out->rule = rule;
  return GIRDLE_OK;
}

static int32_t finish_region(girdle_call *call, girdle_region *region, int32_t status, int checked,
                             girdle_region **out) {
  if (!status && !region->rim)
    status = girdle_layers_rim(call, region->layers, region->layer_count, checked, &region->rim);
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
  GIRDLE_GIVEN(call, outline, out);
  girdle_region *region = NULL;
  if (rule != GIRDLE_NONZERO && rule != GIRDLE_EVENODD)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "rule", "fill rule %d is not known", (int)rule);
  GIRDLE_TRY(begin_region(call, 1, &region));
  return finish_region(call, region, set_layer(call, outline, rule, &region->layers[0]), 1, out);
}

int32_t girdle_region_of_rim(girdle_call *call, girdle_path *rim, girdle_region **out) {
  girdle_region *region = NULL;
  int32_t status = begin_region(call, 1, &region);
  if (status) {
    girdle_path_free(rim);
    return status;
  }
  region->layers[0].outline = region->rim = rim;
  return finish_region(call, region, GIRDLE_OK, 0, out);
}

/* The image of a rim; a mirror image is walked the other way, so that the region stays on the right. */
static int32_t map_rim(girdle_call *call, const girdle_path *rim, const double m[6], girdle_path **out) {
  girdle_path *image = NULL;
  int32_t status = girdle_path_transformed(call, rim, m, &image);
  if (!status && m[0] * m[3] - m[1] * m[2] < 0) {
    status = girdle_path_reversed(call, image, out);
    girdle_path_free(image);
  } else {
    *out = image;
  }
  return status;
}

int32_t girdle_region_transformed(girdle_call *call, const girdle_region *region, const double matrix[6],
                                  girdle_region **out) {
  GIRDLE_GIVEN(call, region, matrix, out);
  girdle_region *image = NULL;
  girdle_path *rim = NULL;
  int32_t status = map_rim(call, region->rim, matrix, &rim);
  if (status) return status;
  if (is_own_rim(region)) return girdle_region_of_rim(call, rim, out);
  status = begin_region(call, region->layer_count, &image);
  if (status) {
    girdle_path_free(rim);
    return status;
  }
  image->rim = rim;
  for (uint64_t i = 0; i < region->layer_count && !status; i++) {
    girdle_path *outline = NULL;
    status = girdle_path_transformed(call, region->layers[i].outline, matrix, &outline);
    image->layers[i].outline = outline;
    image->layers[i].rule = region->layers[i].rule;
  }
  return finish_region(call, image, status, 0, out);
}

static int same_pieces(const girdle_path *a, const girdle_path *b) {
  if (a->piece_count != b->piece_count || a->part_count != b->part_count) return 0;
  for (uint64_t p = 0; p < a->part_count; p++)
    if (a->parts[p].first != b->parts[p].first) return 0;
  for (uint64_t i = 0; i < a->piece_count; i++) {
    const girdle_piece *one = &a->pieces[i], *two = &b->pieces[i];
    if (one->kind != two->kind || memcmp(one->x, two->x, sizeof one->x) != 0 ||
        memcmp(one->y, two->y, sizeof one->y) != 0 || one->sweep != two->sweep || one->radius_x != two->radius_x ||
        one->radius_y != two->radius_y || one->tilt != two->tilt)
      return 0;
  }
  return 1;
}

/* What is left out twice is left out once: the two outlines would meet all along. */
static int leaves_out(const girdle_region *region, const girdle_path *rim) {
  for (uint64_t i = 1; i < region->layer_count; i++)
    if (region->layers[i].rule == GIRDLE_NONZERO && same_pieces(region->layers[i].outline, rim)) return 1;
  return 0;
}

int32_t girdle_region_without(girdle_call *call, const girdle_region *region, const girdle_region *left_out,
                              girdle_region **out) {
  GIRDLE_GIVEN(call, region, left_out, out);
  girdle_region *rest = NULL;
  uint64_t kept = region->layer_count;
  int known = leaves_out(region, left_out->rim);
  int32_t status = begin_region(call, kept + !known, &rest);
  if (status) return status;
  for (uint64_t i = 0; i < kept && !status; i++)
    status = set_layer(call, region->layers[i].outline, region->layers[i].rule, &rest->layers[i]);
  if (!status && !known) status = set_layer(call, left_out->rim, GIRDLE_NONZERO, &rest->layers[kept]);
  return finish_region(call, rest, status, 0, out);
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
  GIRDLE_GIVEN(call, region, out);
  return close_outline(call, region->rim, out);
}
