/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shape_build_internal.h"

#include <math.h>
#include <string.h>

static const double full_turn = 6.283185307179586476925;

uint64_t girdle_piece_points(const girdle_piece *piece) {
  return piece->kind == GIRDLE_PIECE_ARC ? 2 : (uint64_t)piece->kind + 2;
}

/* ---- points and derivatives */

/* De Casteljau's scheme, which meets both ends exactly; the differences of its last rows are the derivatives. */
static double mix(double a, double b, double t) {
  return a * (1 - t) + b * t;
}

static void line_at(const double *c, double t, double *value, double *first, double *second) {
  *value = mix(c[0], c[1], t);
  *first = c[1] - c[0];
  *second = 0;
}

static void quadratic_at(const double *c, double t, double *value, double *first, double *second) {
  double a = mix(c[0], c[1], t), b = mix(c[1], c[2], t);
  *value = mix(a, b, t);
  *first = 2 * (b - a);
  *second = 2 * (c[2] - 2 * c[1] + c[0]);
}

static void cubic_at(const double *c, double t, double *value, double *first, double *second) {
  double a = mix(c[0], c[1], t), b = mix(c[1], c[2], t), d = mix(c[2], c[3], t), left = mix(a, b, t),
         right = mix(b, d, t);
  *value = mix(left, right, t);
  *first = 3 * (right - left);
  *second = 6 * (d - 2 * b + a);
}

static void bezier_at(const double *control, int kind, double t, double *value, double *first, double *second) {
  if (kind == GIRDLE_PIECE_CUBIC)
    cubic_at(control, t, value, first, second);
  else if (kind == GIRDLE_PIECE_QUADRATIC)
    quadratic_at(control, t, value, first, second);
  else
    line_at(control, t, value, first, second);
}

static void arc_at(const girdle_piece *arc, double t, double p[2], double d[2], double dd[2]) {
  double angle = arc->from + arc->sweep * t, c = cos(angle), s = sin(angle);
  double ux = arc->radius_x * c, uy = arc->radius_y * s;
  double vx = -arc->radius_x * s * arc->sweep, vy = arc->radius_y * c * arc->sweep;
  double px = arc->cos_tilt * ux - arc->sin_tilt * uy, py = arc->sin_tilt * ux + arc->cos_tilt * uy;
  p[0] = t == 0 ? arc->x[0] : t == 1 ? arc->x[1] : arc->centre_x + px;
  p[1] = t == 0 ? arc->y[0] : t == 1 ? arc->y[1] : arc->centre_y + py;
  d[0] = arc->cos_tilt * vx - arc->sin_tilt * vy;
  d[1] = arc->sin_tilt * vx + arc->cos_tilt * vy;
  dd[0] = -px * arc->sweep * arc->sweep;
  dd[1] = -py * arc->sweep * arc->sweep;
}

void girdle_piece_at(const girdle_piece *piece, double t, double point[2], double first[2], double second[2]) {
  double p[2], d[2], dd[2];
  if (piece->kind == GIRDLE_PIECE_ARC) {
    arc_at(piece, t, p, d, dd);
  } else {
    bezier_at(piece->x, piece->kind, t, &p[0], &d[0], &dd[0]);
    bezier_at(piece->y, piece->kind, t, &p[1], &d[1], &dd[1]);
  }
  if (point) memcpy(point, p, sizeof p);
  if (first) memcpy(first, d, sizeof d);
  if (second) memcpy(second, dd, sizeof dd);
}

static double largest(double a, double b) {
  return a > b ? a : b;
}

double girdle_piece_bend(const girdle_piece *piece) {
  const double *x = piece->x, *y = piece->y;
  if (piece->kind == GIRDLE_PIECE_LINE) return 0;
  if (piece->kind == GIRDLE_PIECE_ARC) return largest(piece->radius_x, piece->radius_y) * piece->sweep * piece->sweep;
  double start = girdle_norm(x[2] - 2 * x[1] + x[0], y[2] - 2 * y[1] + y[0]);
  if (piece->kind == GIRDLE_PIECE_QUADRATIC) return 2 * start;
  return 6 * largest(start, girdle_norm(x[3] - 2 * x[2] + x[1], y[3] - 2 * y[2] + y[1]));
}

/* The first control point that differs from the end gives the direction where the speed is 0. */
void girdle_piece_direction(const girdle_piece *piece, double t, int side, double out[2]) {
  double d[2], dd[2], size, scale = girdle_piece_bend(piece);
  girdle_piece_at(piece, t, NULL, d, dd);
  size = girdle_norm(d[0], d[1]);
  if (!(size > 1e-7 * scale)) {
    size = girdle_norm(dd[0], dd[1]);
    d[0] = dd[0] * side;
    d[1] = dd[1] * side;
    if (!(size > 1e-7 * scale)) {
      d[0] = piece->x[3] - piece->x[0];
      d[1] = piece->y[3] - piece->y[0];
      size = girdle_norm(d[0], d[1]);
    }
  }
  out[0] = d[0] / size;
  out[1] = d[1] / size;
}

/* ---- extent */

static void widen(double value, double *least, double *most) {
  if (value < *least) *least = value;
  if (value > *most) *most = value;
}

/* Roots of a + b t + c t^2 inside (0, 1). */
static int real_roots(double a, double b, double c, double roots[2]) {
  double under = b * b - 4 * a * c, q, both[2];
  int count = 0;
  if (under < 0) return 0;
  q = -(b + copysign(sqrt(under), b)) / 2;
  both[0] = q / c;
  both[1] = a / q;
  for (int i = 0; i < 2; i++)
    if (both[i] > 0 && both[i] < 1) roots[count++] = both[i];
  return count;
}

static void bezier_extent(const double *control, int kind, double *least, double *most) {
  double derivative[3], roots[2], value, first, second;
  int count;
  widen(control[0], least, most);
  widen(control[kind + 1], least, most);
  if (kind == GIRDLE_PIECE_LINE) return;
  girdle_curve_derivative(control, kind, derivative);
  count = real_roots(derivative[0], derivative[1], derivative[2], roots);
  for (int i = 0; i < count; i++) {
    bezier_at(control, kind, roots[i], &value, &first, &second);
    widen(value, least, most);
  }
}

/* along x the ellipse is u cos a + v sin a, largest at atan2(v, u) and smallest opposite. */
static void arc_extent(const girdle_piece *arc, double u, double v, double centre, const double ends[2], double *least,
                       double *most) {
  double angle = atan2(v, u), size = girdle_norm(u, v);
  widen(ends[0], least, most);
  widen(ends[1], least, most);
  for (int side = 0; side < 2; side++) {
    double t = (angle + side * full_turn / 2 - arc->from) / arc->sweep, turn = fabs(full_turn / arc->sweep);
    t -= turn * floor(t / turn);
    if (t > 0 && t < 1) widen(side ? centre - size : centre + size, least, most);
  }
}

void girdle_piece_box(const girdle_piece *piece, girdle_box *out) {
  out->left_mm = out->top_mm = INFINITY;
  out->right_mm = out->bottom_mm = -INFINITY;
  if (piece->kind == GIRDLE_PIECE_ARC) {
    arc_extent(piece, piece->radius_x * piece->cos_tilt, -piece->radius_y * piece->sin_tilt, piece->centre_x, piece->x,
               &out->left_mm, &out->right_mm);
    arc_extent(piece, piece->radius_x * piece->sin_tilt, piece->radius_y * piece->cos_tilt, piece->centre_y, piece->y,
               &out->top_mm, &out->bottom_mm);
  } else {
    bezier_extent(piece->x, piece->kind, &out->left_mm, &out->right_mm);
    bezier_extent(piece->y, piece->kind, &out->top_mm, &out->bottom_mm);
  }
}

/* ---- cutting, turning round, arcs */

/* The blossom: control points of the part of a curve between two parameters. */
static void bezier_cut(const double *control, int degree, double from, double to, double *out) {
  for (int k = 0; k <= degree; k++) {
    double q[4];
    memcpy(q, control, ((size_t)degree + 1) * sizeof q[0]);
    for (int level = degree; level > 0; level--) {
      double t = degree - level < k ? to : from;
      for (int i = 0; i < level; i++)
        q[i] = q[i] * (1 - t) + q[i + 1] * t;
    }
    out[k] = q[0];
  }
}

void girdle_piece_cut(const girdle_piece *piece, double from, double to, girdle_piece *out) {
  girdle_piece cut = *piece;
  cut.knots = NULL;
  if (piece->kind == GIRDLE_PIECE_ARC) {
    double start[2], end[2];
    girdle_piece_at(piece, from, start, NULL, NULL);
    girdle_piece_at(piece, to, end, NULL, NULL);
    cut.x[0] = start[0];
    cut.y[0] = start[1];
    cut.x[1] = end[0];
    cut.y[1] = end[1];
    cut.from = piece->from + piece->sweep * from;
    cut.sweep = piece->sweep * (to - from);
  } else {
    bezier_cut(piece->x, piece->kind + 1, from, to, cut.x);
    bezier_cut(piece->y, piece->kind + 1, from, to, cut.y);
  }
  *out = cut;
}

static void exchange(double *a, double *b) {
  double held = *a;
  *a = *b;
  *b = held;
}

void girdle_piece_reverse(girdle_piece *piece) {
  uint64_t last = girdle_piece_points(piece) - 1;
  piece->knots = NULL;
  for (uint64_t i = 0; 2 * i < last; i++) {
    exchange(&piece->x[i], &piece->x[last - i]);
    exchange(&piece->y[i], &piece->y[last - i]);
  }
  if (piece->kind != GIRDLE_PIECE_ARC) return;
  piece->from += piece->sweep;
  piece->sweep = -piece->sweep;
  piece->y[3] = (double)((int)piece->y[3] ^ 1); /* SVG's sweep flag */
}

/* SVG 2, B.2.4: the centre in axes where the ellipse is a unit circle. Ends a diameter apart to within rounding are a
 * half ellipse, since the distance of the centre from the chord is lost there. */
static void arc_centre(girdle_piece *arc, int large, int sweep) {
  double dx = (arc->x[0] - arc->x[1]) / 2, dy = (arc->y[0] - arc->y[1]) / 2;
  double ux = (arc->cos_tilt * dx + arc->sin_tilt * dy) / arc->radius_x;
  double uy = (arc->cos_tilt * dy - arc->sin_tilt * dx) / arc->radius_y;
  double chord = ux * ux + uy * uy, height = 0, cx, cy;
  if (chord > 1 - 1e-14) {
    double scale = chord > 1 ? sqrt(chord) : 1;
    arc->radius_x *= scale;
    arc->radius_y *= scale;
    ux /= scale;
    uy /= scale;
  } else {
    height = sqrt(1 / chord - 1) * (large == sweep ? -1 : 1);
  }
  cx = height * uy;
  cy = -height * ux;
  arc->from = atan2(uy - cy, ux - cx);
  arc->sweep = 2 * atan2(1, height * (large == sweep ? -1 : 1) * (large ? -1 : 1));
  if (!sweep) arc->sweep = -arc->sweep;
  cx *= arc->radius_x;
  cy *= arc->radius_y;
  arc->centre_x = arc->cos_tilt * cx - arc->sin_tilt * cy + (arc->x[0] + arc->x[1]) / 2;
  arc->centre_y = arc->sin_tilt * cx + arc->cos_tilt * cy + (arc->y[0] + arc->y[1]) / 2;
}

void girdle_piece_set_arc(girdle_piece *piece, const double ends[4], double radius_x, double radius_y, double tilt_deg,
                          int large, int sweep) {
  memset(piece, 0, sizeof *piece);
  piece->kind = radius_x == 0 || radius_y == 0 ? GIRDLE_PIECE_LINE : GIRDLE_PIECE_ARC;
  piece->x[0] = ends[0];
  piece->y[0] = ends[1];
  piece->x[1] = ends[2];
  piece->y[1] = ends[3];
  if (piece->kind == GIRDLE_PIECE_LINE) return;
  piece->x[2] = piece->radius_x = fabs(radius_x);
  piece->y[2] = piece->radius_y = fabs(radius_y);
  piece->x[3] = tilt_deg;
  piece->y[3] = 2 * large + sweep;
  piece->tilt = fmod(tilt_deg, 360) * full_turn / 360;
  piece->cos_tilt = cos(piece->tilt);
  piece->sin_tilt = sin(piece->tilt);
  arc_centre(piece, large, sweep);
}
