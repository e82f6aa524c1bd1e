/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/shape.h"

#include <math.h>
#include <string.h>

#include "shape_build_internal.h"

static const double half_turn = 3.141592653589793238463;

/* ---- fitted to a measure */

static int32_t check_given(girdle_call *call, const char *field, double value) {
  return isnan(value) ? GIRDLE_OK : girdle_common_range(call, field, value, 1e-3, 1e7, "mm");
}

/* One given side scales both ways; the corner (x, y) stays where it is. */
static int32_t scale_about(girdle_call *call, double x, double y, double across, double down, double matrix[6]) {
  if (isnan(across) && isnan(down))
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "measure", "fitting needs a length, a width or a height");
  matrix[0] = isnan(across) ? down : across;
  matrix[3] = isnan(down) ? across : down;
  matrix[1] = matrix[2] = 0;
  matrix[4] = x - matrix[0] * x;
  matrix[5] = y - matrix[3] * y;
  return GIRDLE_OK;
}

static int32_t box_matrix(girdle_call *call, const girdle_box *box, double width_mm, double height_mm,
                          double matrix[6]) {
  double width = box->right_mm - box->left_mm, height = box->bottom_mm - box->top_mm;
  GIRDLE_TRY(check_given(call, "width", width_mm));
  GIRDLE_TRY(check_given(call, "height", height_mm));
  if (!isnan(width_mm) && !(width > 0))
    return girdle_common_fail(call, GIRDLE_GEOMETRY, "width", "an upright line has no width to fit");
  if (!isnan(height_mm) && !(height > 0))
    return girdle_common_fail(call, GIRDLE_GEOMETRY, "height", "a level line has no height to fit");
  return scale_about(call, box->left_mm, box->top_mm, width_mm / width, height_mm / height, matrix);
}

int32_t girdle_path_fitted(girdle_call *call, const girdle_path *path, double length_mm, double width_mm,
                           double height_mm, girdle_path **out) {
  GIRDLE_GIVEN(call, path, out);
  double matrix[6], ratio = length_mm / path->length_mm;
  if (!isnan(length_mm)) {
    GIRDLE_TRY(check_given(call, "length", length_mm));
    if (!isnan(width_mm) || !isnan(height_mm))
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "length", "fit a path by its length or by its box, not by both");
    GIRDLE_TRY(scale_about(call, path->pieces->x[0], path->pieces->y[0], ratio, ratio, matrix));
  } else {
    GIRDLE_TRY(box_matrix(call, &path->tree[1], width_mm, height_mm, matrix));
  }
  return girdle_path_transformed(call, path, matrix, out);
}

int32_t girdle_region_fitted(girdle_call *call, const girdle_region *region, double width_mm, double height_mm,
                             girdle_region **out) {
  GIRDLE_GIVEN(call, region, out);
  girdle_box box;
  double matrix[6];
  girdle_region_box(region, &box);
  GIRDLE_TRY(box_matrix(call, &box, width_mm, height_mm, matrix));
  return girdle_region_transformed(call, region, matrix, out);
}

/* ---- how the fabric lies */

static int32_t check_lie(girdle_call *call, const girdle_lie *lie) {
  GIRDLE_TRY(girdle_common_range(call, "across", lie->across, -0.9, 9, ""));
  return girdle_common_range(call, "along", lie->along, -0.9, 9, "");
}

static int32_t lie_matrix(girdle_call *call, const girdle_lie *from, const girdle_lie *to, double matrix[6]) {
  GIRDLE_TRY(check_lie(call, from));
  GIRDLE_TRY(check_lie(call, to));
  memset(matrix, 0, 6 * sizeof matrix[0]);
  matrix[0] = (1 + to->across) / (1 + from->across);
  matrix[3] = (1 + to->along) / (1 + from->along);
  return GIRDLE_OK;
}

int32_t girdle_path_stretched(girdle_call *call, const girdle_path *path, const girdle_lie *from, const girdle_lie *to,
                              girdle_path **out) {
  GIRDLE_GIVEN(call, path, from, to, out);
  double matrix[6];
  GIRDLE_TRY(lie_matrix(call, from, to, matrix));
  return girdle_path_transformed(call, path, matrix, out);
}

int32_t girdle_region_stretched(girdle_call *call, const girdle_region *region, const girdle_lie *from,
                                const girdle_lie *to, girdle_region **out) {
  GIRDLE_GIVEN(call, region, from, to, out);
  double matrix[6];
  GIRDLE_TRY(lie_matrix(call, from, to, matrix));
  return girdle_region_transformed(call, region, matrix, out);
}

/* The direction is the one it has where the gap is measured: lying as `from` says. */
int32_t girdle_gap_as(girdle_call *call, double gap_mm, double angle_deg, const girdle_lie *from, const girdle_lie *to,
                      double *out_mm) {
  GIRDLE_GIVEN(call, from, to, out_mm);
  double matrix[6], angle = angle_deg * half_turn / 180;
  GIRDLE_TRY(girdle_common_range(call, "gap", gap_mm, 0, 1e7, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "angle", angle_deg, -1e9, 1e9, "degrees"));
  GIRDLE_TRY(lie_matrix(call, from, to, matrix));
  *out_mm = gap_mm * girdle_norm(matrix[0] * cos(angle), matrix[3] * sin(angle));
  return GIRDLE_OK;
}

int32_t girdle_angle_as(girdle_call *call, double angle_deg, const girdle_lie *from, const girdle_lie *to,
                        double *out_deg) {
  GIRDLE_GIVEN(call, from, to, out_deg);
  double matrix[6], angle = angle_deg * half_turn / 180;
  GIRDLE_TRY(girdle_common_range(call, "angle", angle_deg, -1e9, 1e9, "degrees"));
  GIRDLE_TRY(lie_matrix(call, from, to, matrix));
  *out_deg = atan2(matrix[3] * sin(angle), matrix[0] * cos(angle)) * 180 / half_turn;
  return GIRDLE_OK;
}

/* ---- taken apart */

int32_t girdle_path_split(girdle_call *call, const girdle_path *path, double at_mm, girdle_path **head,
                          girdle_path **tail) {
  GIRDLE_GIVEN(call, path, head, tail);
  girdle_path *first = NULL;
  double slack = 1e-12 * path->length_mm;
  if (!(at_mm > slack && at_mm < path->length_mm - slack))
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "at", "a path is split between its ends, not at or beyond them");
  GIRDLE_TRY(girdle_path_part(call, path, 0, at_mm, &first));
  int32_t status = girdle_path_part(call, path, at_mm, path->length_mm, tail);
  if (status)
    girdle_path_free(first);
  else
    *head = first;
  return status;
}

int32_t girdle_path_flattened(girdle_call *call, const girdle_path *path, double tolerance_mm, girdle_path **out) {
  GIRDLE_GIVEN(call, path, out);
  girdle_strokes strokes;
  girdle_strokes_begin(&strokes, call);
  for (uint64_t p = 0; p < path->part_count && !strokes.status; p++) {
    girdle_polyline line;
    strokes.status = girdle_path_flatten(call, path, &path->parts[p], tolerance_mm, &line);
    if (strokes.status) break;
    girdle_strokes_move(&strokes, line.points[0].x, line.points[0].y);
    for (uint64_t i = 1; i < line.count; i++)
      girdle_strokes_line(&strokes, line.points[i].x, line.points[i].y);
    if (path->parts[p].closed) girdle_strokes_close(&strokes);
    girdle_polyline_free(&line);
  }
  return girdle_strokes_finish(&strokes, out);
}

/* ---- set in from an edge */

/* Twice the area that the subpath's ends enclose has the sign of its direction: clockwise on the page is positive. */
static double direction_of(const girdle_path *path) {
  double moments[3] = {0, 0, 0};
  const girdle_piece *pieces = path->pieces;
  for (uint64_t i = 0; i < path->piece_count; i++)
    girdle_piece_moments(&pieces[i], pieces->x[0], pieces->y[0], moments);
  return moments[0];
}

int32_t girdle_path_set_in(girdle_call *call, const girdle_path *path, double distance_mm, girdle_path **out) {
  GIRDLE_GIVEN(call, path, out);
  double inwards = girdle_path_is_closed(path) && direction_of(path) < 0 ? -distance_mm : distance_mm;
  GIRDLE_TRY(girdle_common_range(call, "set_in", distance_mm, 0, 1e7, "mm"));
  return girdle_path_offset(call, path, inwards, out);
}

/* ---- meetings */

static girdle_meeting meeting_at(const girdle_path *path, const girdle_path *other, const girdle_hit *hit,
                                 double slack) {
  int crosses = girdle_hit_crosses(path, other, hit, slack);
  return (girdle_meeting){hit->x, hit->y, hit->along[0], hit->along[1], crosses, 0};
}

int32_t girdle_path_meetings(girdle_call *call, const girdle_path *path, const girdle_path *other,
                             girdle_meeting *found, uint64_t capacity, uint64_t *count) {
  GIRDLE_GIVEN(call, path, found || !capacity, count);
  girdle_hits hits;
  double slack;
  int32_t status;
  if (!other) other = path;
  slack = fmax(girdle_shape_slack(&path->tree[1]), girdle_shape_slack(&other->tree[1]));
  status = girdle_path_hits(call, path, other, slack, &hits);
  if (!status) *count = hits.count;
  for (uint64_t i = 0; i < hits.count && i < capacity && !status; i++)
    found[i] = meeting_at(path, other, &hits.items[i], slack);
  girdle_hits_free(&hits);
  return status;
}
