/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_SHAPE_INTERNAL_H
#define GIRDLE_SHAPE_INTERNAL_H

/* What shape shows to place, and to nobody else: the pieces a path is made of, and points on them. */

#include "girdle/shape.h"

enum { GIRDLE_PIECE_LINE, GIRDLE_PIECE_QUADRATIC, GIRDLE_PIECE_CUBIC, GIRDLE_PIECE_ARC };

/* One line, curve or elliptical arc; t runs from 0 to 1. Control points stand in x, y (2, 3 or 4 of them); an arc has
 * its ends in x[0..1], y[0..1] and is the part of an ellipse from angle `from` over `sweep` (radians, clockwise on the
 * page positive), whose axes are turned by `tilt`. Arcs span at most a third of a turn. */
typedef struct girdle_knot {
  double t, along_mm, rate, bend; /* parameter; length from the piece's start to it; dt by length, twice */
} girdle_knot;
typedef struct girdle_piece {
  int32_t kind, knot_count;
  double x[4], y[4];
  double centre_x, centre_y, radius_x, radius_y, tilt, cos_tilt, sin_tilt, from, sweep;
  const girdle_knot
      *knots; /* ends of the stretches over which length is smooth; the path's, NULL when there are none */
  double start_mm, length_mm; /* where it begins along the whole path, and its own length */
} girdle_piece;

typedef struct girdle_subpath {
  uint64_t first, count; /* its pieces; a closed one ends where it begins, a closing line being a piece of its own */
  int32_t closed, reserved;
  double start_mm, length_mm;
} girdle_subpath;

/* The pieces and subpaths a path owns. */
const girdle_piece *girdle_path_pieces(const girdle_path *path, uint64_t *count);
const girdle_subpath *girdle_path_parts(const girdle_path *path, uint64_t *count);

/* Point, first and second derivative by t of one piece; NULL results are skipped. */
void girdle_piece_at(const girdle_piece *piece, double t, double point[2], double first[2], double second[2]);
/* Length from 0 to t, and the t at a length from the piece's start. */
double girdle_piece_length_mm(const girdle_piece *piece, double t);
double girdle_piece_t_at(const girdle_piece *piece, double length_mm);
/* The piece's tight box. */
void girdle_piece_box(const girdle_piece *piece, girdle_box *out);

/* A region as place sees it: layers, each a path with a fill rule. A point is inside when it is inside the first layer
 * and inside none of the others (areas left out). Every layer's pieces are tested on their own. */
typedef struct girdle_layer {
  const girdle_path *outline;
  int32_t rule, reserved;
} girdle_layer;
const girdle_layer *girdle_region_layers(const girdle_region *region, uint64_t *count);

/* A path flattened so that no chord is farther than tolerance_mm from the curve: points in order, with the distance
 * along the true curve at each. Freed with girdle_polyline_free by the same allocator. */
typedef struct girdle_polyline {
  girdle_allocator memory;
  uint64_t count, capacity;
  struct girdle_vertex {
    double x, y, along_mm, t;
    uint64_t piece;
  } * points;
} girdle_polyline;
int32_t girdle_path_flatten(girdle_call *call, const girdle_path *path, const girdle_subpath *part, double tolerance_mm,
                            girdle_polyline *out);
void girdle_polyline_free(girdle_polyline *polyline);

/* Corners of a subpath: distances along the path where the direction jumps by more than least_turn_deg, in order. Two
 * calls: *count is how many there are, at most `capacity` are written. The start of a closed subpath counts. */
void girdle_path_corners(const girdle_path *path, const girdle_subpath *part, double least_turn_deg, double *along_mm,
                         uint64_t capacity, uint64_t *count);

#endif
