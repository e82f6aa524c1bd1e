/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/shape.h"

#include <math.h>
#include <string.h>

#include "shape_build_internal.h"

static const double half_turn = 3.141592653589793238463;

/* ---- from a tape measure */

int32_t girdle_path_line(girdle_call *call, double length_mm, girdle_path **out) {
  GIRDLE_GIVEN(call, out);
  girdle_strokes strokes;
  GIRDLE_TRY(girdle_common_range(call, "length", length_mm, 1e-3, 1e7, "mm"));
  girdle_strokes_begin(&strokes, call);
  girdle_strokes_move(&strokes, 0, 0);
  girdle_strokes_line(&strokes, length_mm, 0);
  return girdle_strokes_finish(&strokes, out);
}

int32_t girdle_path_loop(girdle_call *call, double girth_mm, girdle_path **out) {
  GIRDLE_GIVEN(call, out);
  girdle_strokes strokes;
  double radius = girth_mm / (2 * half_turn);
  GIRDLE_TRY(girdle_common_range(call, "girth", girth_mm, 1e-3, 1e7, "mm"));
  girdle_strokes_begin(&strokes, call);
  girdle_strokes_move(&strokes, 0, -radius);
  girdle_strokes_arc(&strokes, radius, radius, 0, 0, 1, radius, 0);
  girdle_strokes_arc(&strokes, radius, radius, 0, 0, 1, 0, radius);
  girdle_strokes_arc(&strokes, radius, radius, 0, 0, 1, -radius, 0);
  girdle_strokes_arc(&strokes, radius, radius, 0, 0, 1, 0, -radius);
  girdle_strokes_close(&strokes);
  return girdle_strokes_finish(&strokes, out);
}

/* ---- what a path says of itself */

double girdle_path_length_mm(const girdle_path *path) {
  return path->length_mm;
}

int32_t girdle_path_is_closed(const girdle_path *path) {
  for (uint64_t i = 0; i < path->part_count; i++)
    if (!path->parts[i].closed) return 0;
  return 1;
}

uint64_t girdle_path_subpaths(const girdle_path *path) {
  return path->part_count;
}

void girdle_path_box(const girdle_path *path, girdle_box *out) {
  *out = path->tree[1];
}

const girdle_piece *girdle_path_pieces(const girdle_path *path, uint64_t *count) {
  *count = path->piece_count;
  return path->pieces;
}

const girdle_subpath *girdle_path_parts(const girdle_path *path, uint64_t *count) {
  *count = path->part_count;
  return path->parts;
}

/* ---- points at distances */

/* The piece that holds a distance; of two that meet there, the later. */
static uint64_t piece_at(const girdle_path *path, double distance_mm) {
  uint64_t low = 0;
  for (uint64_t left = path->piece_count; left > 1;) {
    uint64_t half = left / 2;
    low += path->pieces[low + half].start_mm <= distance_mm ? half : 0;
    left -= half;
  }
  return low;
}

/* A distance computed elsewhere may pass an end by rounding. */
static int32_t check_distance(girdle_call *call, const girdle_path *path, const char *field, double *distance_mm) {
  double length = path->length_mm, slack = 1e-9 * length;
  if (*distance_mm >= 0 && *distance_mm <= length) return GIRDLE_OK;
  if (!(*distance_mm >= -slack && *distance_mm <= length + slack))
    return girdle_common_range(call, field, *distance_mm, 0, length, "mm");
  *distance_mm = *distance_mm < 0 ? 0 : length;
  return GIRDLE_OK;
}

int32_t girdle_path_at(girdle_call *call, const girdle_path *path, double distance_mm, girdle_point_on *out) {
  GIRDLE_GIVEN(call, path, out);
  const girdle_piece *piece;
  double t, point[2], d[2], dd[2], speed;
  GIRDLE_TRY(check_distance(call, path, "distance", &distance_mm));
  piece = &path->pieces[piece_at(path, distance_mm)];
  t = girdle_piece_t_at(piece, distance_mm - piece->start_mm);
  girdle_piece_at(piece, t, point, d, dd);
  speed = sqrt(d[0] * d[0] + d[1] * d[1]);
  out->x_mm = point[0];
  out->y_mm = point[1];
  out->curvature_per_mm = (d[0] * dd[1] - d[1] * dd[0]) / (speed * speed * speed);
  if (!(speed > 1e-6 * piece->length_mm)) girdle_piece_direction(piece, t, t < 1 ? 1 : -1, d); /* a cusp, or nearly */
  out->angle_deg = atan2(d[1], d[0]) * 180 / half_turn;
  return GIRDLE_OK;
}

int32_t girdle_path_nearest(girdle_call *call, const girdle_path *path, double x_mm, double y_mm, double *along_mm,
                            double *distance_mm) {
  GIRDLE_GIVEN(call, path, along_mm, distance_mm);
  uint64_t piece = 0;
  double t = 0;
  GIRDLE_TRY(girdle_common_range(call, "x", x_mm, -GIRDLE_FARTHEST_MM, GIRDLE_FARTHEST_MM, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "y", y_mm, -GIRDLE_FARTHEST_MM, GIRDLE_FARTHEST_MM, "mm"));
  girdle_path_near(path, x_mm, y_mm, &piece, &t, distance_mm);
  *along_mm = path->pieces[piece].start_mm + girdle_piece_length_mm(&path->pieces[piece], t);
  return GIRDLE_OK;
}

/* ---- paths from paths */

static void draw_part(girdle_strokes *strokes, const girdle_path *path, const girdle_subpath *part) {
  const girdle_piece *piece = path->pieces + part->first;
  girdle_strokes_move(strokes, piece->x[0], piece->y[0]);
  for (uint64_t i = 0; i < part->count; i++)
    girdle_strokes_piece(strokes, piece + i);
  if (part->closed) girdle_strokes_close(strokes);
}

static void map_point(const double m[6], double *x, double *y) {
  double old_x = *x, old_y = *y;
  *x = m[0] * old_x + m[2] * old_y + m[4];
  *y = m[1] * old_x + m[3] * old_y + m[5];
}

/* The image of an ellipse: the axes of the matrix that makes it from a unit circle. */
static void map_arc(const double m[6], girdle_piece *arc) {
  double ux = (m[0] * arc->cos_tilt + m[2] * arc->sin_tilt) * arc->radius_x;
  double uy = (m[1] * arc->cos_tilt + m[3] * arc->sin_tilt) * arc->radius_x;
  double vx = (m[2] * arc->cos_tilt - m[0] * arc->sin_tilt) * arc->radius_y;
  double vy = (m[3] * arc->cos_tilt - m[1] * arc->sin_tilt) * arc->radius_y;
  double determinant = ux * vy - uy * vx;
  double across = 2 * (ux * uy + vx * vy), along = ux * ux + vx * vx - uy * uy - vy * vy;
  double size = ux * ux + vx * vx + uy * uy + vy * vy;
  double tilt = girdle_norm(across, along) > 1e-15 * size ? atan2(across, along) / 2 : 0;
  double radius = girdle_norm(ux * cos(tilt) + uy * sin(tilt), vx * cos(tilt) + vy * sin(tilt));
  double other = fabs(determinant) / radius;
  arc->x[2] = radius;
  arc->y[2] = fabs(radius - other) <= 1e-15 * radius ? radius : other;
  arc->x[3] = tilt * 180 / half_turn;
  if (determinant < 0) arc->sweep = -arc->sweep;
}

static girdle_piece mapped(const double m[6], const girdle_piece *piece) {
  girdle_piece image = *piece;
  uint64_t points = girdle_piece_points(piece);
  for (uint64_t i = 0; i < points; i++)
    map_point(m, &image.x[i], &image.y[i]);
  if (piece->kind == GIRDLE_PIECE_ARC) map_arc(m, &image);
  return image;
}

static int32_t check_matrix(girdle_call *call, const double m[6]) {
  static const char *const names[6] = {"a", "b", "c", "d", "e", "f"};
  double determinant = m[0] * m[3] - m[1] * m[2];
  double size = m[0] * m[0] + m[1] * m[1] + m[2] * m[2] + m[3] * m[3];
  for (int i = 0; i < 6; i++)
    GIRDLE_TRY(girdle_common_range(call, names[i], m[i], -GIRDLE_FARTHEST_MM, GIRDLE_FARTHEST_MM, ""));
  if (fabs(determinant) > 1e-12 * size) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "matrix", "the matrix presses the shape flat: a d - b c is 0");
}

int32_t girdle_path_transformed(girdle_call *call, const girdle_path *path, const double matrix[6], girdle_path **out) {
  GIRDLE_GIVEN(call, path, matrix, out);
  girdle_strokes strokes;
  GIRDLE_TRY(check_matrix(call, matrix));
  girdle_strokes_begin(&strokes, call);
  for (uint64_t p = 0; p < path->part_count; p++) {
    const girdle_subpath *part = &path->parts[p];
    for (uint64_t i = 0; i < part->count; i++) {
      girdle_piece image = mapped(matrix, &path->pieces[part->first + i]);
      if (i == 0) girdle_strokes_move(&strokes, image.x[0], image.y[0]);
      girdle_strokes_piece(&strokes, &image);
    }
    if (part->closed) girdle_strokes_close(&strokes);
  }
  return girdle_strokes_finish(&strokes, out);
}

int32_t girdle_path_reversed(girdle_call *call, const girdle_path *path, girdle_path **out) {
  GIRDLE_GIVEN(call, path, out);
  girdle_strokes strokes;
  girdle_strokes_begin(&strokes, call);
  for (uint64_t p = path->part_count; p-- > 0;) {
    const girdle_subpath *part = &path->parts[p];
    for (uint64_t i = part->count; i-- > 0;) {
      girdle_piece turned = path->pieces[part->first + i];
      girdle_piece_reverse(&turned);
      if (i == part->count - 1) girdle_strokes_move(&strokes, turned.x[0], turned.y[0]);
      girdle_strokes_piece(&strokes, &turned);
    }
    if (part->closed) girdle_strokes_close(&strokes);
  }
  return girdle_strokes_finish(&strokes, out);
}

static void draw_cut(girdle_strokes *strokes, const girdle_piece *piece, double from_mm, double to_mm, int *moved) {
  double from = girdle_piece_t_at(piece, from_mm - piece->start_mm),
         to = girdle_piece_t_at(piece, to_mm - piece->start_mm);
  girdle_piece cut;
  if (!(from < to)) return;
  girdle_piece_cut(piece, from, to, &cut);
  if (!*moved) girdle_strokes_move(strokes, cut.x[0], cut.y[0]);
  *moved = 1;
  girdle_strokes_piece(strokes, &cut);
}

/* `moved` tells whether the pen is already where the stretch begins. */
static void draw_stretch(girdle_strokes *strokes, const girdle_path *path, double from_mm, double to_mm, int moved) {
  for (uint64_t p = 0; p < path->part_count; p++) {
    const girdle_subpath *part = &path->parts[p];
    if (from_mm <= part->start_mm && to_mm >= part->start_mm + part->length_mm && !moved) {
      draw_part(strokes, path, part);
      continue;
    }
    for (uint64_t i = 0; i < part->count; i++)
      draw_cut(strokes, &path->pieces[part->first + i], from_mm, to_mm, &moved);
    moved = 0;
  }
}

int32_t girdle_path_part(girdle_call *call, const girdle_path *path, double from_mm, double to_mm, girdle_path **out) {
  GIRDLE_GIVEN(call, path, out);
  girdle_strokes strokes;
  int ring = path->part_count == 1 && path->parts[0].closed;
  GIRDLE_TRY(check_distance(call, path, "from", &from_mm));
  GIRDLE_TRY(check_distance(call, path, "to", &to_mm));
  if (from_mm >= to_mm && !ring)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "to", "a part must end after it begins: from is not before to");
  girdle_strokes_begin(&strokes, call);
  if (from_mm < to_mm) {
    draw_stretch(&strokes, path, from_mm, to_mm, 0);
  } else {
    draw_stretch(&strokes, path, from_mm, path->length_mm, 0);
    draw_stretch(&strokes, path, 0, to_mm, strokes.drawing);
  }
  return girdle_strokes_finish(&strokes, out);
}

int32_t girdle_path_joined(girdle_call *call, const girdle_path *first, const girdle_path *second, girdle_path **out) {
  GIRDLE_GIVEN(call, first, second, out);
  const girdle_piece *start = second->pieces;
  const girdle_subpath *last = &first->parts[first->part_count - 1];
  girdle_strokes strokes;
  girdle_strokes_begin(&strokes, call);
  for (uint64_t p = 0; p < first->part_count; p++)
    draw_part(&strokes, first, &first->parts[p]);
  for (uint64_t p = 0; p < second->part_count; p++) {
    const girdle_subpath *part = &second->parts[p];
    double gap = girdle_norm(strokes.at_x - start->x[0], strokes.at_y - start->y[0]);
    if (p > 0 || last->closed || part->closed || gap > 1e-9 * (first->length_mm + second->length_mm)) {
      draw_part(&strokes, second, part);
      continue;
    }
    for (uint64_t i = 0; i < part->count; i++)
      girdle_strokes_piece(&strokes, &second->pieces[part->first + i]);
  }
  return girdle_strokes_finish(&strokes, out);
}

/* ---- flattened */

enum { MOST_CHORDS = 100000000 };

static int32_t add_vertex(girdle_call *call, girdle_polyline *line, const girdle_piece *piece, uint64_t index, double t,
                          double along_mm) {
  struct girdle_vertex *vertex;
  double point[2];
  void *points = line->points;
  int32_t status =
      girdle_common_grow(call, &line->memory, &points, &line->capacity, line->count + 1, sizeof line->points[0]);
  line->points = points;
  GIRDLE_TRY(status);
  girdle_piece_at(piece, t, point, NULL, NULL);
  vertex = &line->points[line->count++];
  vertex->x = point[0];
  vertex->y = point[1];
  vertex->along_mm = along_mm;
  vertex->t = t;
  vertex->piece = index;
  return GIRDLE_OK;
}

static int32_t flatten_piece(girdle_call *call, const girdle_piece *piece, uint64_t index, double tolerance_mm,
                             girdle_polyline *out) {
  double chords = ceil(sqrt(girdle_piece_bend(piece) / (8 * tolerance_mm))), along = piece->start_mm, t = 0;
  if (chords < 1) chords = 1;
  if (chords + (double)out->count > MOST_CHORDS)
    return girdle_common_fail(call, GIRDLE_LIMIT, "tolerance", "the curve needs more than 1e8 chords");
  for (double i = 1; i <= chords; i++) {
    double next = i / chords;
    if (fmod(i, 1024) == 0) GIRDLE_TRY(girdle_common_tick(call, 1024, -1));
    along = i < chords ? along + girdle_piece_between_mm(piece, t, next) : piece->start_mm + piece->length_mm;
    t = next;
    GIRDLE_TRY(add_vertex(call, out, piece, index, t, along));
  }
  return GIRDLE_OK;
}

int32_t girdle_path_flatten(girdle_call *call, const girdle_path *path, const girdle_subpath *part, double tolerance_mm,
                            girdle_polyline *out) {
  uint64_t first = part ? part->first : 0, count = part ? part->count : path->piece_count;
  int32_t status;
  memset(out, 0, sizeof *out);
  GIRDLE_TRY(girdle_common_range(call, "tolerance", tolerance_mm, 1e-12, INFINITY, "mm"));
  out->memory = girdle_common_memory(call);
  status = add_vertex(call, out, &path->pieces[first], first, 0, path->pieces[first].start_mm);
  for (uint64_t i = first; i < first + count && !status; i++)
    status = flatten_piece(call, &path->pieces[i], i, tolerance_mm, out);
  if (status) girdle_polyline_free(out);
  return status;
}

void girdle_polyline_free(girdle_polyline *polyline) {
  girdle_common_release(&polyline->memory, polyline->points, polyline->capacity * sizeof polyline->points[0]);
  memset(polyline, 0, sizeof *polyline);
}

/* ---- corners */

/* From -180 to 180, positive clockwise; 180 where the path turns straight back. */
static double turn_deg(const double before[2], const double after[2]) {
  double cross = before[0] * after[1] - before[1] * after[0], dot = before[0] * after[0] + before[1] * after[1];
  return atan2(cross, dot) * 180 / half_turn;
}

typedef struct turn_list {
  double least_turn_deg;
  girdle_turn *found; /* what is wanted of the two; the other is NULL */
  double *along_mm;
  uint64_t capacity, count;
} turn_list;

static void note_turn(turn_list *list, const girdle_piece *before, double t, const girdle_piece *after, double next_t,
                      double along_mm) {
  double in[2], out[2], turn, point[2];
  girdle_piece_direction(before, t, -1, in);
  girdle_piece_direction(after, next_t, 1, out);
  turn = turn_deg(in, out);
  if (!(fabs(turn) > list->least_turn_deg)) return;
  if (list->count++ >= list->capacity) return;
  girdle_piece_at(after, next_t, point, NULL, NULL);
  if (list->found) list->found[list->count - 1] = (girdle_turn){along_mm, point[0], point[1], turn};
  if (list->along_mm) list->along_mm[list->count - 1] = along_mm;
}

static void find_turns(const girdle_path *path, const girdle_subpath *part, turn_list *list) {
  const girdle_piece *pieces = path->pieces + part->first, *last = pieces + part->count - 1;
  if (part->closed) note_turn(list, last, 1, pieces, 0, part->start_mm);
  for (const girdle_piece *piece = pieces; piece <= last; piece++) {
    double cusps[4];
    int count = girdle_piece_cusps(piece, cusps);
    for (int i = 0; i < count; i++)
      note_turn(list, piece, cusps[i], piece, cusps[i], piece->start_mm + girdle_piece_between_mm(piece, 0, cusps[i]));
    if (piece < last) note_turn(list, piece, 1, piece + 1, 0, piece[1].start_mm);
  }
}

void girdle_path_corners(const girdle_path *path, const girdle_subpath *part, double least_turn_deg, double *along_mm,
                         uint64_t capacity, uint64_t *count) {
  turn_list list = {least_turn_deg, NULL, along_mm, capacity, 0};
  find_turns(path, part, &list);
  *count = list.count;
}

int32_t girdle_path_turns(girdle_call *call, const girdle_path *path, double least_turn_deg, girdle_turn *found,
                          uint64_t capacity, uint64_t *count) {
  GIRDLE_GIVEN(call, path, found || !capacity, count);
  turn_list list = {least_turn_deg, found, NULL, capacity, 0};
  GIRDLE_TRY(girdle_common_range(call, "turn", least_turn_deg, 0, 180, "degrees"));
  for (uint64_t p = 0; p < path->part_count; p++)
    find_turns(path, &path->parts[p], &list);
  *count = list.count;
  return GIRDLE_OK;
}
