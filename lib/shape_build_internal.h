/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_SHAPE_BUILD_INTERNAL_H
#define GIRDLE_SHAPE_BUILD_INTERNAL_H

/* What the files of shape share among themselves: the inside of a path, drawing a new one stroke by stroke, and the
 * geometry of single pieces. */

#include <math.h>

#include "common.h"
#include "shape_internal.h"

/* Length of (x, y). Coordinates lie between 1e-9 and 1e9, whose squares a double holds, so hypot's care is not needed.
 */
static inline double girdle_norm(double x, double y) {
  return sqrt(x * x + y * y);
}

struct girdle_path {
  girdle_allocator memory;
  girdle_piece *pieces;
  girdle_subpath *parts;
  girdle_knot *knots;
  girdle_box *tree; /* 2 x piece_count boxes: node i covers nodes 2i and 2i+1, piece k is node piece_count + k */
  uint64_t piece_count, piece_capacity, part_count, part_capacity, knot_count, knot_capacity;
  double length_mm;
};

/* Coordinates beyond this are refused: what is left of a double there is finer than 1e-6 mm. */
#define GIRDLE_FARTHEST_MM 1e9

/* A path being drawn. The first failure sticks, so that drawing code is a plain list of strokes; finish reports it. */
typedef struct girdle_strokes {
  girdle_call *call;
  girdle_path *path;
  double start_x, start_y, at_x, at_y;
  int32_t drawing, status;
} girdle_strokes;

void girdle_strokes_begin(girdle_strokes *strokes, girdle_call *call);
void girdle_strokes_move(girdle_strokes *strokes, double x, double y);
void girdle_strokes_line(girdle_strokes *strokes, double x, double y);
void girdle_strokes_quadratic(girdle_strokes *strokes, double x1, double y1, double x, double y);
void girdle_strokes_cubic(girdle_strokes *strokes, double x1, double y1, double x2, double y2, double x, double y);
/* An arc as SVG writes it; one of more than a third of a turn is drawn in parts. */
void girdle_strokes_arc(girdle_strokes *strokes, double radius_x, double radius_y, double tilt_deg, int large,
                        int sweep, double x, double y);
/* A piece like this one from where the pen is, which must be its start. */
void girdle_strokes_piece(girdle_strokes *strokes, const girdle_piece *piece);
void girdle_strokes_close(girdle_strokes *strokes);
/* As above, but a gap up to slack_mm is taken for rounding: the last piece then ends at the start. */
void girdle_strokes_close_within(girdle_strokes *strokes, double slack_mm);
/* Measures the path and gives it out, or frees it and returns the first failure. */
int32_t girdle_strokes_finish(girdle_strokes *strokes, girdle_path **out);

/* An arc from its ends and SVG's parameters (SVG 2, B.2.4 and B.2.5); a line when a radius is 0. The parameters stay in
 * x[2..3], y[2..3], so that it is written as it was read. */
void girdle_piece_set_arc(girdle_piece *piece, const double ends[4], double radius_x, double radius_y, double tilt_deg,
                          int large, int sweep);
uint64_t girdle_piece_points(const girdle_piece *piece); /* 2, 3 or 4; 2 for an arc */
void girdle_piece_cut(const girdle_piece *piece, double from, double to, girdle_piece *out);
void girdle_piece_reverse(girdle_piece *piece);
/* The first derivative of one coordinate of a curve: out[0] + out[1] t + out[2] t^2. */
void girdle_curve_derivative(const double *control, int kind, double out[3]);
/* The piece's length; writes the ends of the stretches over which it is smooth, none (*count 0) for lines and circles.
 */
enum { GIRDLE_MOST_KNOTS = 256 };
double girdle_piece_measure(const girdle_piece *piece, girdle_knot knots[GIRDLE_MOST_KNOTS], int *count);
double girdle_piece_between_mm(const girdle_piece *piece, double from, double to);
/* Unit direction at t, just before (side -1) or just after it (side 1) where the curve stands still. */
void girdle_piece_direction(const girdle_piece *piece, double t, int side, double out[2]);
/* Largest size of the second derivative by t. */
double girdle_piece_bend(const girdle_piece *piece);
/* Parameters inside (0, 1) at which the piece turns back (a cusp); returns how many, at most 4. */
int girdle_piece_cusps(const girdle_piece *piece, double t[4]);
/* Lowers *best_mm and sets *t where the piece is nearer than that to the point; returns 1 when it did. */
int girdle_piece_nearest(const girdle_piece *piece, double x, double y, double *best_mm, double *t);
/* How often the piece passes a ray from the point to the right: downwards counts 1, upwards -1. */
int32_t girdle_piece_winding(const girdle_piece *piece, double x, double y);
/* Adds the piece's share of area and of the first moments of area about the origin (x, y), by Green's theorem. */
void girdle_piece_moments(const girdle_piece *piece, double x, double y, double moments[3]);

/* Distance from a point to a line or to an arc of a circle. */
double girdle_piece_distance(const girdle_piece *piece, double x, double y);

int32_t girdle_path_winding(const girdle_path *path, double x, double y);
/* As girdle_path_nearest, without a call. */
void girdle_path_near(const girdle_path *path, double x, double y, uint64_t *piece, double *t, double *distance_mm);

/* The path in lines and arcs of circles, no farther than tolerance_mm from it, tangents kept; steps of less than
 * shortest_mm are passed over. */
int32_t girdle_path_as_arcs(girdle_call *call, const girdle_path *path, double tolerance_mm, double shortest_mm,
                            girdle_path **out);

/* Draws loose pieces as subpaths: each goes on with the piece that begins within slack_mm of its end; rings are closed,
 * and of pieces that coincide one is drawn. With `hug`, for pieces with a region on their right, where several go on
 * from a point the one is taken that keeps to the same part of the region. */
void girdle_strokes_chains(girdle_strokes *strokes, const girdle_piece *pieces, uint64_t count, double slack_mm,
                           int hug);

/* Where two pieces come within slack of each other: piece numbers and parameters on the first and the second path. */
typedef struct girdle_hit {
  uint64_t piece[2];
  double t[2], along[2], x, y;
} girdle_hit;
typedef struct girdle_hits {
  girdle_allocator memory;
  girdle_hit *items;
  uint64_t count, capacity;
} girdle_hits;

/* All places where a path comes within slack_mm of another (or of itself when other is the same), joints of its own
 * left out, in order along the first, near ones merged. Freed with girdle_hits_free by the caller, also on failure. */
int32_t girdle_path_hits(girdle_call *call, const girdle_path *path, const girdle_path *other, double slack_mm,
                         girdle_hits *out);
/* The same of a path that must not cross itself. The fault is its first crossing, or one of them when it has a
 * thousand; with more touches than 16 times its pieces and 65536 it is one of these; else its along[0] is NaN. */
int32_t girdle_path_touches(girdle_call *call, const girdle_path *path, double slack_mm, girdle_hits *out,
                            girdle_hit *fault);
void girdle_hits_free(girdle_hits *hits);
/* 1 when the paths pass to each other's other side there, 0 when they only touch. */
int girdle_hit_crosses(const girdle_path *path, const girdle_path *other, const girdle_hit *hit, double slack_mm);
/* What is less than this is rounding in a shape of this box. */
double girdle_shape_slack(const girdle_box *box);

/* Layers as a region has them: is a point inside, and their true boundary, each ring with the region on its right.
 * `checked`: an outline that crosses itself is refused, naming the place. */
int girdle_layers_contain(const girdle_layer *layers, uint64_t count, double x, double y);
int32_t girdle_layers_rim(girdle_call *call, const girdle_layer *layers, uint64_t count, int checked,
                          girdle_path **out);
/* A closed subpath of these pieces, walked forwards or backwards. */
void girdle_strokes_ring(girdle_strokes *strokes, const girdle_piece *pieces, uint64_t count, int forwards);
/* A region from closed rings of our own making, without crossings and with the region on their right; takes the path
 * over, also when it fails. */
int32_t girdle_region_of_rim(girdle_call *call, girdle_path *rim, girdle_region **out);

#endif
