/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* Walking a path in straight steps of given lengths. The path is followed on a copy flattened to within
 * GIRDLE_WALK_FLAT_MM whose vertices lie on the true curve; the first vertex a step away or farther closes a bracket in
 * which the step is solved on the true curve. So a step ends at the first crossing, but for one thing: where the curve
 * swings out to the step's length and back again between two neighbouring vertices (near tangency, by less than
 * GIRDLE_WALK_FLAT_MM), that touch is passed over. */

void girdle_track_free(girdle_track *track) {
  girdle_common_release(&track->memory, track->points, track->capacity * sizeof *track->points);
  memset(track, 0, sizeof *track);
}

static int32_t add_point(girdle_call *call, girdle_track *track, const struct girdle_vertex *point) {
  void *points = track->points;
  int32_t status =
      girdle_common_grow(call, &track->memory, &points, &track->capacity, track->count + 1, sizeof *track->points);
  track->points = points;
  if (!status) track->points[track->count++] = *point;
  return status;
}

/* A vertex on the piece that leads to `next`, at a distance along. */
static int32_t add_mark(girdle_call *call, girdle_track *track, const struct girdle_vertex *next, double along_mm) {
  const girdle_piece *piece = &track->pieces[next->piece];
  struct girdle_vertex vertex = *next;
  double point[2];
  vertex.along_mm = along_mm;
  vertex.t = girdle_piece_t_at(piece, along_mm - piece->start_mm);
  girdle_piece_at(piece, vertex.t, point, NULL, NULL);
  vertex.x = point[0];
  vertex.y = point[1];
  return add_point(call, track, &vertex);
}

static int32_t add_points(girdle_call *call, girdle_track *track, const girdle_polyline *line, const double *marks,
                          uint64_t count) {
  uint64_t mark = 0;
  for (uint64_t i = 0; i < line->count; i++) {
    const struct girdle_vertex *point = &line->points[i];
    for (; mark < count && marks[mark] < point->along_mm - 1e-9; mark++)
      if (i && marks[mark] > line->points[i - 1].along_mm + 1e-9) GIRDLE_TRY(add_mark(call, track, point, marks[mark]));
    GIRDLE_TRY(add_point(call, track, point));
  }
  return GIRDLE_OK;
}

/* Once more round, so that a stretch may pass the start. */
static int32_t add_second_round(girdle_call *call, girdle_track *track, double length_mm) {
  uint64_t count = track->count;
  for (uint64_t i = 1; i < count; i++) {
    struct girdle_vertex point = track->points[i];
    point.along_mm += length_mm;
    GIRDLE_TRY(add_point(call, track, &point));
  }
  return GIRDLE_OK;
}

int32_t girdle_track_new(girdle_call *call, const girdle_path *path, const girdle_subpath *part, const double *marks,
                         uint64_t mark_count, girdle_track *out) {
  girdle_polyline line;
  uint64_t pieces;
  int32_t status;
  memset(out, 0, sizeof *out);
  out->memory = girdle_common_memory(call);
  out->pieces = girdle_path_pieces(path, &pieces);
  GIRDLE_TRY(girdle_path_flatten(call, path, part, GIRDLE_WALK_FLAT_MM, &line));
  status = add_points(call, out, &line, marks, mark_count);
  girdle_polyline_free(&line);
  if (!status && part->closed) status = add_second_round(call, out, part->length_mm);
  if (status) girdle_track_free(out);
  return status;
}

uint64_t girdle_track_vertex(const girdle_track *track, double along_mm) {
  uint64_t low = 0, high = track->count - 1;
  while (low < high) {
    uint64_t middle = (low + high) / 2;
    if (track->points[middle].along_mm < along_mm - 1e-9)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

girdle_foot girdle_track_foot(const girdle_track *track, uint64_t vertex) {
  const struct girdle_vertex *point = &track->points[vertex];
  girdle_foot foot = {point->x, point->y, point->t, vertex};
  return foot;
}

/* The curve's parameter where the stretch that begins at a vertex begins. */
static double start_t(const girdle_track *track, uint64_t vertex) {
  return track->points[vertex].piece == track->points[vertex + 1].piece ? track->points[vertex].t : 0;
}

double girdle_track_along(const girdle_track *track, const girdle_foot *foot) {
  const struct girdle_vertex *from = &track->points[foot->at], *to = from + 1;
  double t0;
  if (foot->at + 1 == track->count) return from->along_mm;
  if (foot->x == from->x && foot->y == from->y) return from->along_mm;
  t0 = start_t(track, foot->at);
  return from->along_mm + (to->along_mm - from->along_mm) * (foot->t - t0) / (to->t - t0);
}

/* Adds the unit direction of a stretch at a parameter. */
static void add_direction(const girdle_track *track, uint64_t vertex, double t, double sum[2]) {
  const struct girdle_vertex *from = &track->points[vertex], *to = from + 1;
  double way[2], speed;
  girdle_piece_at(&track->pieces[to->piece], t, NULL, way, NULL);
  speed = hypot(way[0], way[1]);
  if (speed < 1e-6) {
    way[0] = to->x - from->x;
    way[1] = to->y - from->y;
    speed = hypot(way[0], way[1]);
  }
  if (speed <= 0) return;
  sum[0] += way[0] / speed;
  sum[1] += way[1] / speed;
}

/* On a vertex, halfway between the directions before and after it. */
void girdle_track_direction(const girdle_track *track, const girdle_foot *foot, double out[2]) {
  const struct girdle_vertex *vertex = &track->points[foot->at];
  int on_vertex = foot->x == vertex->x && foot->y == vertex->y, is_last = foot->at + 1 == track->count;
  out[0] = out[1] = 0;
  if (on_vertex && foot->at > 0) add_direction(track, foot->at - 1, vertex->t, out);
  if (!is_last) add_direction(track, foot->at, on_vertex ? start_t(track, foot->at) : foot->t, out);
}

static double square_from(const girdle_foot *centre, double x, double y) {
  double dx = x - centre->x, dy = y - centre->y;
  return dx * dx + dy * dy;
}

/* Where a straight piece leaves the circle: the farther root of a quadratic, without cancellation. */
static double leave_line(const girdle_piece *line, const girdle_foot *centre, double step) {
  double dx = line->x[1] - line->x[0], dy = line->y[1] - line->y[0];
  double px = line->x[0] - centre->x, py = line->y[0] - centre->y;
  double square = dx * dx + dy * dy, half = px * dx + py * dy;
  double across = px * dy - py * dx, root = sqrt(fmax(0, square * step * step - across * across));
  return (root - half) / square;
}

/* A Bezier curve as a polynomial in t, x and y side by side; arcs go to the shape room. */
typedef struct curve {
  const girdle_piece *arc; /* NULL for a polynomial */
  double x[4], y[4];
} curve;

static void to_powers(const double *p, int32_t kind, double out[4]) {
  out[0] = p[0];
  if (kind == GIRDLE_PIECE_QUADRATIC) {
    out[1] = 2 * (p[1] - p[0]);
    out[2] = p[2] - 2 * p[1] + p[0];
    out[3] = 0;
  } else {
    out[1] = 3 * (p[1] - p[0]);
    out[2] = 3 * (p[2] - 2 * p[1] + p[0]);
    out[3] = p[3] - p[0] + 3 * (p[1] - p[2]);
  }
}

static curve curve_of(const girdle_piece *piece) {
  curve way = {piece, {0}, {0}};
  if (piece->kind == GIRDLE_PIECE_ARC) return way;
  way.arc = NULL;
  to_powers(piece->x, piece->kind, way.x);
  to_powers(piece->y, piece->kind, way.y);
  return way;
}

static inline void curve_at(const curve *way, double t, double point[2], double speed[2]) {
  if (way->arc) {
    girdle_piece_at(way->arc, t, point, speed, NULL);
    return;
  }
  point[0] = ((way->x[3] * t + way->x[2]) * t + way->x[1]) * t + way->x[0];
  point[1] = ((way->y[3] * t + way->y[2]) * t + way->y[1]) * t + way->y[0];
  speed[0] = (3 * way->x[3] * t + 2 * way->x[2]) * t + way->x[1];
  speed[1] = (3 * way->y[3] * t + 2 * way->y[2]) * t + way->y[1];
}

/* Newton's steps on the squared distance, kept between two parameters of which the first is inside the circle. Moves
 * the foot to where the curve leaves the circle about it. */
static void leave_curve(const girdle_piece *piece, double step, double inside, double outside, double guess,
                        girdle_foot *foot) {
  curve way = curve_of(piece);
  double t = guess, point[2], speed[2];
  for (int i = 0; i < 60; i++) {
    double dx, dy, miss, next;
    curve_at(&way, t, point, speed);
    dx = point[0] - foot->x;
    dy = point[1] - foot->y;
    miss = dx * dx + dy * dy - step * step;
    if (fabs(miss) <= 1e-10 * step) break;
    *(miss < 0 ? &inside : &outside) = t;
    next = t - miss / (2 * (dx * speed[0] + dy * speed[1]));
    if (!(next > inside && next < outside)) next = (inside + outside) / 2;
    if (next == t) break;
    t = next;
  }
  foot->t = t;
  foot->x = point[0];
  foot->y = point[1];
}

/* The curve's parameter at the foot on the stretch it stands on. */
static double foot_t(const girdle_track *track, const girdle_foot *foot) {
  const struct girdle_vertex *vertex = &track->points[foot->at];
  return foot->x == vertex->x && foot->y == vertex->y ? start_t(track, foot->at) : foot->t;
}

/* Along a circle a chord spans an angle; nothing has to be searched for. */
static int stays_on_circle(const girdle_track *track, uint64_t vertex, const girdle_foot *foot) {
  const girdle_piece *piece = &track->pieces[track->points[vertex + 1].piece];
  return piece->kind == GIRDLE_PIECE_ARC && piece->radius_x == piece->radius_y &&
         track->points[foot->at + 1].piece == track->points[vertex + 1].piece;
}

static void leave_on_circle(const girdle_piece *piece, double step, double start, girdle_foot *foot) {
  double point[2];
  foot->t = start + 2 * asin(fmin(step / (2 * piece->radius_x), 1)) / fabs(piece->sweep);
  girdle_piece_at(piece, foot->t, point, NULL, NULL);
  foot->x = point[0];
  foot->y = point[1];
}

static void leave_on_line(const girdle_piece *piece, double step, girdle_foot *foot) {
  foot->t = leave_line(piece, foot, step);
  foot->x = piece->x[0] + foot->t * (piece->x[1] - piece->x[0]);
  foot->y = piece->y[0] + foot->t * (piece->y[1] - piece->y[0]);
}

/* The first guess is as far along the stretch as its chord says. */
static void leave_on_curve(const girdle_track *track, uint64_t vertex, double step, girdle_foot *foot) {
  const struct girdle_vertex *from = &track->points[vertex], *to = from + 1;
  double near = vertex == foot->at ? 0 : sqrt(square_from(foot, from->x, from->y));
  double start = vertex == foot->at ? foot_t(track, foot) : start_t(track, vertex);
  double guess = start + (to->t - start) * (step - near) / (sqrt(square_from(foot, to->x, to->y)) - near);
  leave_curve(&track->pieces[to->piece], step, start, to->t, guess, foot);
}

static void stand_on(const girdle_track *track, uint64_t vertex, double step, girdle_foot *foot) {
  const girdle_piece *piece = &track->pieces[track->points[vertex + 1].piece];
  if (piece->kind == GIRDLE_PIECE_LINE)
    leave_on_line(piece, step, foot);
  else if (stays_on_circle(track, vertex, foot))
    leave_on_circle(piece, step, foot_t(track, foot), foot);
  else
    leave_on_curve(track, vertex, step, foot);
  foot->at = vertex;
}

int girdle_track_step(const girdle_track *track, uint64_t last, double step, girdle_foot *foot) {
  for (uint64_t vertex = foot->at; vertex < last; vertex++) {
    const struct girdle_vertex *to = &track->points[vertex + 1];
    if (square_from(foot, to->x, to->y) < step * step) continue;
    stand_on(track, vertex, step, foot);
    return 1;
  }
  return 0;
}
