/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "shape_build_internal.h"

/* Length of curves. Squared speed is a polynomial (for an ellipse: a trigonometric one) whose complex roots are where
 * the speed stops being analytic. Between the roots' real parts stretches are halved until every root lies well outside
 * the ellipse whose foci are the stretch's ends; there a 16-point Gauss rule is right to about r^-32 of the stretch, r
 * the sum of the half axes of the largest such ellipse, in units of half the stretch (Trefethen, Approximation Theory
 * and Approximation Practice, theorem 19.3). */

enum { GAUSS = 8, MOST_ROOTS = 8, DEEPEST = 64 };

static const double full_turn = 6.283185307179586476925;

static const double gauss_at[GAUSS] = {0.09501250983763744019, 0.28160355077925891323, 0.45801677765722738634,
                                       0.61787624440264374845, 0.75540440835500303390, 0.86563120238783174388,
                                       0.94457502307323257608, 0.98940093499164993260};
static const double gauss_weight[GAUSS] = {0.18945061045506849629, 0.18260341504492358887, 0.16915651939500253819,
                                           0.14959598881657673208, 0.12462897125553387205, 0.09515851168249278481,
                                           0.06225352393864789286, 0.02715245941175409485};

/* A root this near to the line is a cusp, where |t - re| needs no stretches: what that neglects is its square. */
static const double cusp_width = 1e-7;

/* Distances of a root from both ends of a stretch, added and divided by half the stretch: r + 1/r, r = 1.86. */
static const double far_enough = 2.4;

typedef struct speed {
  const girdle_piece *piece;
  double x[3], y[3]; /* derivative of a curve: x[0] + x[1] t + x[2] t^2 */
  int roots;
  double re[MOST_ROOTS], im[MOST_ROOTS];
} speed;

/* ---- roots */

static void add_root(speed *s, double re, double im) {
  im = fabs(im);
  if (!(re > -8 && re < 9 && im < 8) || s->roots == MOST_ROOTS) return;
  s->re[s->roots] = re;
  s->im[s->roots++] = im;
}

/* Square root of re + i im with a real part of at least 0. */
static void complex_root(double re, double im, double *root_re, double *root_im) {
  double size = sqrt(re * re + im * im);
  double a = sqrt((size + fabs(re)) / 2), b = a > 0 ? fabs(im) / (2 * a) : 0;
  *root_re = re >= 0 ? a : b;
  *root_im = (re >= 0 ? b : a) * (im < 0 ? -1 : 1);
}

static void add_quotient(speed *s, double ar, double ai, double br, double bi) {
  double size = br * br + bi * bi;
  add_root(s, (ar * br + ai * bi) / size, (ai * br - ar * bi) / size);
}

/* Roots of the derivative read as one complex polynomial x + i y; the other roots of the speed are their mirror. */
static void curve_roots(speed *s) {
  const double *x = s->x, *y = s->y;
  double re, im, qr, qi;
  if (x[2] == 0 && y[2] == 0) {
    add_quotient(s, -x[0], -y[0], x[1], y[1]);
    return;
  }
  complex_root(x[1] * x[1] - y[1] * y[1] - 4 * (x[0] * x[2] - y[0] * y[2]),
               2 * x[1] * y[1] - 4 * (x[0] * y[2] + y[0] * x[2]), &re, &im);
  if (re * x[1] + im * y[1] < 0) {
    re = -re;
    im = -im;
  }
  qr = -(x[1] + re) / 2;
  qi = -(y[1] + im) / 2;
  add_quotient(s, qr, qi, x[2], y[2]);
  if (qr == 0 && qi == 0)
    add_root(s, 0, 0);
  else
    add_quotient(s, x[0], y[0], qr, qi);
}

/* An ellipse's speed has its roots beside every other end of an axis, at artanh(minor / major). */
static void arc_roots(speed *s) {
  const girdle_piece *arc = s->piece;
  int wide = arc->radius_x > arc->radius_y;
  double half_width = wide ? atanh(arc->radius_y / arc->radius_x) : atanh(arc->radius_x / arc->radius_y);
  double vertex = wide ? 0 : full_turn / 4;
  double nearest = vertex + full_turn / 2 * floor((arc->from - vertex) / (full_turn / 2));
  for (int k = -3; k <= 3; k++)
    add_root(s, (nearest + k * full_turn / 2 - arc->from) / arc->sweep, half_width / arc->sweep);
}

void girdle_curve_derivative(const double *p, int kind, double out[3]) {
  if (kind == GIRDLE_PIECE_QUADRATIC) {
    out[0] = 2 * (p[1] - p[0]);
    out[1] = 2 * (p[2] - 2 * p[1] + p[0]);
    out[2] = 0;
  } else {
    out[0] = 3 * (p[1] - p[0]);
    out[1] = 6 * (p[2] - 2 * p[1] + p[0]);
    out[2] = 3 * (p[3] - 3 * p[2] + 3 * p[1] - p[0]);
  }
}

/* The derivative alone, for where the stretches are known. */
static void speed_begin(const girdle_piece *piece, speed *s) {
  s->piece = piece;
  s->roots = 0;
  if (piece->kind == GIRDLE_PIECE_ARC) return;
  girdle_curve_derivative(piece->x, piece->kind, s->x);
  girdle_curve_derivative(piece->y, piece->kind, s->y);
}

static void speed_of(const girdle_piece *piece, speed *s) {
  speed_begin(piece, s);
  if (piece->kind == GIRDLE_PIECE_ARC)
    arc_roots(s);
  else
    curve_roots(s);
}

/* ---- speed and its sum */

/* Squared speed, and half of how fast it changes. */
static double squared_speed(const speed *s, double t, double *half_change) {
  double x, y, dx, dy;
  if (s->piece->kind == GIRDLE_PIECE_ARC) { /* in the axes of the ellipse, turned by a quarter */
    double sweep = s->piece->sweep, angle = s->piece->from + sweep * t, c = cos(angle), r = sin(angle);
    x = sweep * s->piece->radius_x * r;
    y = sweep * s->piece->radius_y * c;
    dx = sweep * sweep * s->piece->radius_x * c;
    dy = -sweep * sweep * s->piece->radius_y * r;
  } else {
    x = s->x[0] + t * (s->x[1] + t * s->x[2]);
    y = s->y[0] + t * (s->y[1] + t * s->y[2]);
    dx = s->x[1] + 2 * t * s->x[2];
    dy = s->y[1] + 2 * t * s->y[2];
  }
  *half_change = x * dx + y * dy;
  return x * x + y * y;
}

static double sum_of(const double v[GAUSS]) {
  return ((v[0] + v[1]) + (v[2] + v[3])) + ((v[4] + v[5]) + (v[6] + v[7]));
}

static double gauss_arc(const girdle_piece *arc, double middle, double half) {
  double v[GAUSS], rx2 = arc->radius_x * arc->radius_x, ry2 = arc->radius_y * arc->radius_y;
  for (int i = 0; i < GAUSS; i++) {
    double a = arc->from + arc->sweep * (middle - half * gauss_at[i]);
    double b = arc->from + arc->sweep * (middle + half * gauss_at[i]);
    double sa = sin(a), ca = cos(a), sb = sin(b), cb = cos(b);
    v[i] = gauss_weight[i] * (sqrt(rx2 * sa * sa + ry2 * ca * ca) + sqrt(rx2 * sb * sb + ry2 * cb * cb));
  }
  return fabs(arc->sweep) * half * sum_of(v);
}

/* Plain loops over small arrays, which compilers turn into vectors; the order of adding is fixed. */
static double gauss_curve(const speed *s, double middle, double half) {
  double v[GAUSS];
  const double x0 = s->x[0], x1 = s->x[1], x2 = s->x[2], y0 = s->y[0], y1 = s->y[1], y2 = s->y[2];
  for (int i = 0; i < GAUSS; i++) {
    double step = half * gauss_at[i], a = middle - step, b = middle + step;
    double ax = x0 + a * (x1 + a * x2), ay = y0 + a * (y1 + a * y2);
    double bx = x0 + b * (x1 + b * x2), by = y0 + b * (y1 + b * y2);
    v[i] = gauss_weight[i] * (sqrt(ax * ax + ay * ay) + sqrt(bx * bx + by * by));
  }
  return half * sum_of(v);
}

static double gauss(const speed *s, double from, double to) {
  double middle = (from + to) / 2, half = (to - from) / 2;
  return s->piece->kind == GIRDLE_PIECE_ARC ? gauss_arc(s->piece, middle, half) : gauss_curve(s, middle, half);
}

/* Half of half a stretch needs half the points: there r is 3.7 at least, and what is neglected 1e-9 of that little. */
enum { FEWER = 4 };
static const double fewer_at[FEWER] = {0.18343464249564980494, 0.52553240991632898582, 0.79666647741362673959,
                                       0.96028985649753623168};
static const double fewer_weight[FEWER] = {0.36268378337836198297, 0.31370664587788728734, 0.22238103445337447054,
                                           0.10122853629037625915};

static double gauss_short(const speed *s, double from, double to) {
  double middle = (from + to) / 2, half = (to - from) / 2, v[FEWER];
  const double x0 = s->x[0], x1 = s->x[1], x2 = s->x[2], y0 = s->y[0], y1 = s->y[1], y2 = s->y[2];
  if (s->piece->kind == GIRDLE_PIECE_ARC) return gauss_arc(s->piece, middle, half);
  for (int i = 0; i < FEWER; i++) {
    double step = half * fewer_at[i], a = middle - step, b = middle + step;
    double ax = x0 + a * (x1 + a * x2), ay = y0 + a * (y1 + a * y2);
    double bx = x0 + b * (x1 + b * x2), by = y0 + b * (y1 + b * y2);
    v[i] = fewer_weight[i] * (sqrt(ax * ax + ay * ay) + sqrt(bx * bx + by * by));
  }
  return half * ((v[0] + v[1]) + (v[2] + v[3]));
}

/* ---- stretches */

typedef struct knots {
  girdle_knot *items; /* NULL when nobody asks */
  int count;
  double along_mm;
} knots;

static void add_knot(knots *k, const speed *s, double t, double length_mm) {
  double half_change, square;
  k->along_mm += length_mm;
  if (!k->items) return;
  if (k->count == GIRDLE_MOST_KNOTS) k->count--; /* no curve has so many; were there one, its last stretches are one */
  square = squared_speed(s, t, &half_change);
  k->items[k->count++] = (girdle_knot){t, k->along_mm, 1 / sqrt(square), -half_change / (square * square)};
}

/* Half a stretch is guessed 64 times as well, and mostly needs but one step then. */
static void add_middle(knots *k, const speed *s, double from, double to) {
  double whole_mm = k->along_mm, middle = (from + to) / 2;
  add_knot(k, s, middle, gauss(s, from, middle));
  k->along_mm = whole_mm;
}

/* Where to cut the stretch because of this root; NaN when it may stay whole. */
static double cut_for(double re, double im, double from, double to) {
  int inside = re > from && re < to;
  double half = (to - from) / 2, a = re - from, b = re - to;
  if (im < cusp_width) return inside ? re : NAN;
  if (sqrt(a * a + im * im) + sqrt(b * b + im * im) >= far_enough * half) return NAN;
  return inside ? re : from + half;
}

static void measure_between(const speed *s, double from, double to, int depth, knots *k) {
  for (int i = 0; i < s->roots && depth < DEEPEST; i++) {
    double cut = cut_for(s->re[i], s->im[i], from, to);
    if (!(cut > from && cut < to)) continue;
    measure_between(s, from, cut, depth + 1, k);
    measure_between(s, cut, to, depth + 1, k);
    return;
  }
  if (k->items) add_middle(k, s, from, to);
  add_knot(k, s, to, gauss(s, from, to));
}

/* Lines and arcs of circles: length goes with the parameter. */
static int is_even(const girdle_piece *piece) {
  return piece->kind == GIRDLE_PIECE_LINE || (piece->kind == GIRDLE_PIECE_ARC && piece->radius_x == piece->radius_y);
}

static double even_length(const girdle_piece *piece) {
  if (piece->kind == GIRDLE_PIECE_ARC) return piece->radius_x * fabs(piece->sweep);
  double dx = piece->x[1] - piece->x[0], dy = piece->y[1] - piece->y[0];
  return sqrt(dx * dx + dy * dy);
}

double girdle_piece_measure(const girdle_piece *piece, girdle_knot items[GIRDLE_MOST_KNOTS], int *count) {
  speed s;
  knots k = {items, 0, 0};
  *count = 0;
  if (is_even(piece)) return even_length(piece);
  speed_of(piece, &s);
  add_knot(&k, &s, 0, 0);
  measure_between(&s, 0, 1, 0, &k);
  *count = k.count;
  return k.along_mm;
}

double girdle_piece_between_mm(const girdle_piece *piece, double from, double to) {
  speed s;
  knots k = {NULL, 0, 0};
  if (to < from) return -girdle_piece_between_mm(piece, to, from);
  if (is_even(piece)) return even_length(piece) * (to - from);
  speed_of(piece, &s);
  measure_between(&s, from, to, 0, &k);
  return k.along_mm;
}

double girdle_piece_length_mm(const girdle_piece *piece, double t) {
  const girdle_knot *knot = piece->knots;
  speed s;
  if (t >= 1) return piece->length_mm;
  if (!knot) return girdle_piece_between_mm(piece, 0, t);
  while (knot[1].t <= t)
    knot++;
  speed_begin(piece, &s);
  return knot->along_mm + gauss(&s, knot->t, t);
}

/* ---- the parameter at a length */

static double held_rising(double slope) {
  return slope < 3 ? slope : 3;
}

/* The polynomial that has the ends of the wanted inverse and its first two derivatives there; beside a cusp, where they
 * grow without limit, a cubic that rises. */
static double first_guess(const girdle_knot *knot, double width, double whole, double x) {
  double scale = whole / width, start = knot->rate * scale, end = knot[1].rate * scale, rest = 1 - x, cube = x * x * x;
  if (start < 4 && end < 4) {
    double start_bend = knot->bend * whole * scale / 2, end_bend = knot[1].bend * whole * scale / 2;
    double corner = rest * rest * rest;
    return knot->t + width * (x * corner * (start * (1 + 3 * x) + start_bend * x) +
                              cube * (10 + x * (6 * x - 15) - rest * (end * (4 - 3 * x) - end_bend * rest)));
  }
  return knot->t + width * x * (rest * rest * held_rising(start) + x * (3 - 2 * x - rest * held_rising(end)));
}

/* Steps of third order (Newton's, bent by the change of speed) from the nearer end of the stretch: an error becomes its
 * cube, and the step tells what is left. */
static double solve_stretch(const girdle_piece *piece, const girdle_knot *knot, double length_mm) {
  double width = knot[1].t - knot->t, whole = knot[1].along_mm - knot->along_mm, wanted = length_mm - knot->along_mm;
  double low = knot->t, high = knot[1].t, t = first_guess(knot, width, whole, wanted / whole);
  speed s;
  speed_begin(piece, &s);
  for (int i = 0; i < 100; i++) {
    int behind = t - knot->t <= width / 2;
    double reached = behind ? gauss_short(&s, knot->t, t) : whole - gauss_short(&s, t, knot[1].t), half_change;
    double square = squared_speed(&s, t, &half_change), miss = reached - wanted, inverse = 1 / square;
    double step = miss * sqrt(square) * inverse, bent = step * half_change * inverse / 2;
    if (miss == 0) break;
    *(miss > 0 ? &high : &low) = t;
    if (fabs(bent) < 0.3) step *= 1 + bent + bent * bent;
    if (!(t - step >= low && t - step <= high)) step = t - (low + high) / 2;
    t -= step;
    if (fabs(step) * (bent * bent + step * step / (width * width)) < 1e-9 * width) break;
  }
  return t;
}

static double solve(const girdle_piece *piece, const girdle_knot *knot, int count, double length_mm) {
  for (int left = count - 1; left > 1;) { /* the last knot at or before the length; without a branch to guess */
    int half = left / 2;
    knot += knot[half].along_mm <= length_mm ? half : 0;
    left -= half;
  }
  return solve_stretch(piece, knot, length_mm);
}

double girdle_piece_t_at(const girdle_piece *piece, double length_mm) {
  girdle_knot own[GIRDLE_MOST_KNOTS];
  double t = length_mm / piece->length_mm;
  int count;
  if (!(t > 0)) return 0;
  if (t >= 1) return 1;
  if (is_even(piece)) return t;
  if (piece->knots) return solve(piece, piece->knots, piece->knot_count, length_mm);
  girdle_piece_measure(piece, own, &count);
  return solve(piece, own, count, length_mm);
}

int girdle_piece_cusps(const girdle_piece *piece, double t[4]) {
  speed s;
  int count = 0;
  if (piece->kind != GIRDLE_PIECE_QUADRATIC && piece->kind != GIRDLE_PIECE_CUBIC) return 0;
  speed_of(piece, &s);
  for (int i = 0; i < s.roots; i++)
    if (s.im[i] < cusp_width && s.re[i] > 0 && s.re[i] < 1 && count < 4) t[count++] = s.re[i];
  if (count == 2 && t[0] > t[1]) {
    double swap = t[0];
    t[0] = t[1];
    t[1] = swap;
  }
  return count;
}
