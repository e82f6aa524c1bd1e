/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shape_build_internal.h"

#include <math.h>

/* Curves as arcs of circles: two arcs that meet with one tangent (a biarc) stand for a stretch of a curve, and the
 * stretch is halved until they are near enough. The error falls with the cube of the step. */

enum { SAMPLES = 8, DEEPEST = 48 };

typedef struct span {
  const girdle_piece *piece;
  double from, to, start[2], end[2], start_along[2], end_along[2];
} span;

static double dot(const double a[2], const double b[2]) {
  return a[0] * b[0] + a[1] * b[1];
}

static double cross(const double a[2], const double b[2]) {
  return a[0] * b[1] - a[1] * b[0];
}

/* 1 when the point, seen from the centre, lies between the arc's ends (less than half a turn apart). */
static int beside_arc(const girdle_piece *arc, double dx, double dy) {
  double start[2] = {arc->x[0] - arc->centre_x, arc->y[0] - arc->centre_y};
  double end[2] = {arc->x[1] - arc->centre_x, arc->y[1] - arc->centre_y}, ray[2] = {dx, dy};
  double sign = arc->sweep < 0 ? -1 : 1;
  return sign * cross(start, ray) >= 0 && sign * cross(ray, end) >= 0;
}

double girdle_piece_distance(const girdle_piece *piece, double x, double y) {
  double ax = x - piece->x[0], ay = y - piece->y[0], bx = x - piece->x[1], by = y - piece->y[1];
  if (piece->kind == GIRDLE_PIECE_ARC) {
    double dx = x - piece->centre_x, dy = y - piece->centre_y;
    /* |d|^2 - r^2 from the arc's start, which is on it: the centre of a flat arc is far away and known badly */
    double away = ax * (ax - 2 * (piece->centre_x - piece->x[0])) + ay * (ay - 2 * (piece->centre_y - piece->y[0]));
    if (beside_arc(piece, dx, dy)) return fabs(away) / (sqrt(dx * dx + dy * dy) + piece->radius_x);
  } else {
    double dx = piece->x[1] - piece->x[0], dy = piece->y[1] - piece->y[0];
    if (ax * dx + ay * dy > 0 && bx * dx + by * dy < 0) return fabs(ax * dy - ay * dx) / sqrt(dx * dx + dy * dy);
  }
  return sqrt(fmin(ax * ax + ay * ay, bx * bx + by * by));
}

/* The arc over a chord that makes the sine `bend` (chord length times it) with the tangent; a line when nearly none. */
static girdle_piece arc_over(const double from[2], const double to[2], double bend) {
  double ends[4] = {from[0], from[1], to[0], to[1]}, chord = girdle_norm(to[0] - from[0], to[1] - from[1]);
  double radius = chord * chord / (2 * fabs(bend));
  girdle_piece piece;
  if (!(radius < 1e7) || fabs(bend) < 1e-12 * chord) radius = 0;
  girdle_piece_set_arc(&piece, ends, radius, radius, 0, 0, bend > 0);
  return piece;
}

/* Both handles alike: |end - start - d (t0 + t1)| = 2 d. */
static int biarc(const span *s, girdle_piece arcs[2]) {
  double chord[2] = {s->end[0] - s->start[0], s->end[1] - s->start[1]}, joint[2], half[2];
  double sum[2] = {s->start_along[0] + s->end_along[0], s->start_along[1] + s->end_along[1]};
  double opened = 1 - dot(s->start_along, s->end_along), size = dot(chord, chord), b = dot(chord, sum), handle;
  if (!(opened < 0.5) || !(dot(chord, s->start_along) > 0) || !(dot(chord, s->end_along) > 0)) return 0;
  handle = size / (b + sqrt(b * b + 2 * opened * size));
  for (int i = 0; i < 2; i++)
    joint[i] = (s->start[i] + s->end[i] + handle * (s->start_along[i] - s->end_along[i])) / 2;
  half[0] = joint[0] - s->start[0];
  half[1] = joint[1] - s->start[1];
  arcs[0] = arc_over(s->start, joint, cross(s->start_along, half));
  half[0] = s->end[0] - joint[0];
  half[1] = s->end[1] - joint[1];
  arcs[1] = arc_over(joint, s->end, cross(half, s->end_along));
  return 1;
}

static int near_enough(const span *s, const girdle_piece arcs[2], double tolerance) {
  for (int i = 1; i < SAMPLES; i++) {
    double point[2];
    girdle_piece_at(s->piece, s->from + (s->to - s->from) * i / SAMPLES, point, NULL, NULL);
    if (girdle_piece_distance(&arcs[0], point[0], point[1]) > tolerance &&
        girdle_piece_distance(&arcs[1], point[0], point[1]) > tolerance)
      return 0;
  }
  return 1;
}

static void set_middle(const span *whole, span halves[2]) {
  double middle = (whole->from + whole->to) / 2;
  halves[0] = halves[1] = *whole;
  halves[0].to = halves[1].from = middle;
  girdle_piece_at(whole->piece, middle, halves[0].end, NULL, NULL);
  girdle_piece_direction(whole->piece, middle, -1, halves[0].end_along);
  girdle_piece_direction(whole->piece, middle, 1, halves[1].start_along);
  halves[1].start[0] = halves[0].end[0];
  halves[1].start[1] = halves[0].end[1];
}

enum { MOST_ARCS = 4000000 };

/* Curves of kilometres would take more arcs than memory holds; the watch is asked on the way. */
static int may_go_on(girdle_strokes *strokes) {
  uint64_t drawn;
  if (strokes->status) return 0;
  drawn = strokes->path->piece_count;
  if (drawn > MOST_ARCS)
    strokes->status =
        girdle_common_fail(strokes->call, GIRDLE_LIMIT, "path",
                           "the path is too large to be followed: its curves take more than %d arcs", (int)MOST_ARCS);
  if (!strokes->status && drawn % 4096 == 0) strokes->status = girdle_common_tick(strokes->call, 4096, -1);
  return strokes->status == GIRDLE_OK;
}

static void draw_span(girdle_strokes *strokes, const span *s, double tolerance, int depth) {
  girdle_piece arcs[2];
  span halves[2];
  if (!may_go_on(strokes)) return;
  if (girdle_norm(s->end[0] - s->start[0], s->end[1] - s->start[1]) < tolerance / 16 && depth > 4) {
    girdle_strokes_line(strokes, s->end[0], s->end[1]);
  } else if (depth >= DEEPEST || (biarc(s, arcs) && near_enough(s, arcs, tolerance))) {
    if (depth >= DEEPEST) arcs[0] = arcs[1] = arc_over(s->start, s->end, 0);
    girdle_strokes_piece(strokes, &arcs[0]);
    girdle_strokes_piece(strokes, &arcs[1]);
  } else {
    set_middle(s, halves);
    draw_span(strokes, &halves[0], tolerance, depth + 1);
    draw_span(strokes, &halves[1], tolerance, depth + 1);
  }
}

static void draw_between(girdle_strokes *strokes, const girdle_piece *piece, double from, double to, double tolerance) {
  span s = {.piece = piece, .from = from, .to = to};
  girdle_piece_at(piece, from, s.start, NULL, NULL);
  girdle_piece_at(piece, to, s.end, NULL, NULL);
  girdle_piece_direction(piece, from, 1, s.start_along);
  girdle_piece_direction(piece, to, -1, s.end_along);
  draw_span(strokes, &s, tolerance, 0);
}

static void draw_as_arcs(girdle_strokes *strokes, const girdle_piece *piece, double tolerance) {
  double cusps[4], from = 0;
  int count = girdle_piece_cusps(piece, cusps);
  if (piece->kind == GIRDLE_PIECE_LINE || (piece->kind == GIRDLE_PIECE_ARC && piece->radius_x == piece->radius_y)) {
    girdle_strokes_piece(strokes, piece);
    return;
  }
  for (int i = 0; i < count; i++) {
    draw_between(strokes, piece, from, cusps[i], tolerance);
    from = cusps[i];
  }
  draw_between(strokes, piece, from, 1, tolerance);
}

/* Too short to matter, and not the last: the next piece then begins where the pen is. */
static int passed_over(const girdle_strokes *strokes, const girdle_piece *piece, double shortest) {
  uint64_t end = girdle_piece_points(piece) - 1;
  return piece->length_mm < shortest &&
         girdle_norm(piece->x[end] - strokes->at_x, piece->y[end] - strokes->at_y) < shortest;
}

int32_t girdle_path_as_arcs(girdle_call *call, const girdle_path *path, double tolerance_mm, double shortest_mm,
                            girdle_path **out) {
  girdle_strokes strokes;
  girdle_strokes_begin(&strokes, call);
  for (uint64_t p = 0; p < path->part_count; p++) {
    const girdle_subpath *part = &path->parts[p];
    const girdle_piece *pieces = path->pieces + part->first;
    double shortest = fmin(shortest_mm, part->length_mm / 64); /* what is small as a whole keeps its shape */
    girdle_strokes_move(&strokes, pieces->x[0], pieces->y[0]);
    for (uint64_t i = 0; i < part->count; i++)
      if (i == part->count - 1 || !passed_over(&strokes, &pieces[i], shortest))
        draw_as_arcs(&strokes, &pieces[i], tolerance_mm);
    if (part->closed) girdle_strokes_close(&strokes);
  }
  return girdle_strokes_finish(&strokes, out);
}
