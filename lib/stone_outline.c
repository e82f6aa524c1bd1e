/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/stone.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "stone_internal.h"

/* Outlines are ellipses, rectangles, or made of circular arcs (our own choice of curves; makers' moulds differ little).
 * All are mirror images of themselves about the x axis, so the upper half says everything. Everything is in half
 * widths.
 *
 * The arcs meet at the widest place (c, 1), where the tangent runs along x. From there a side, an arc about (c, 1 - R),
 * falls to the tip (c + T, 0): R = (T^2 + 1) / 2. A navette has the same side again on the left, a pear a half circle,
 * a heart a lobe, half a circle about (c, 1/2) that ends in the notch (c, 0). */

static const double PI = 3.14159265358979323846;

typedef struct arcs {
  double c, tip, radius, span; /* tip: T; span: the side's angle at its centre */
} arcs;

static arcs arcs_of(int32_t outline, double ratio) {
  arcs a;
  double back = outline == GIRDLE_NAVETTE ? ratio : outline == GIRDLE_PEAR ? 1 : 0.5; /* from c to the left end */
  a.tip = 2 * ratio - back;
  a.c = back - ratio;
  a.radius = (a.tip * a.tip + 1) / 2;
  a.span = atan2(a.tip, a.radius - 1);
  return a;
}

double girdle_outline_ratio(int32_t outline) {
  static const double usual[GIRDLE_OUTLINE_END] = {1, 1.4, 1.5, 2, 1, 1.5, 1};
  return outline >= 0 && outline < GIRDLE_OUTLINE_END ? usual[outline] : 1;
}

int girdle_outline_is_even(int32_t outline) {
  return outline == GIRDLE_ROUND || outline == GIRDLE_SQUARE;
}

int32_t girdle_outline_check(girdle_call *call, int32_t outline, double length_ratio) {
  GIRDLE_TRY(girdle_common_range(call, "outline", outline, 0, GIRDLE_OUTLINE_END - 1, ""));
  return girdle_common_range(call, "length ratio", length_ratio, 1, girdle_outline_is_even(outline) ? 1 : 5, "");
}

const char *girdle_outline_text(int32_t outline) {
  static const char *const names[GIRDLE_OUTLINE_END] = {"round",  "oval",      "pear", "navette",
                                                        "square", "rectangle", "heart"};
  return outline >= 0 && outline < GIRDLE_OUTLINE_END ? names[outline] : "unknown";
}

int32_t girdle_outline_facets(int32_t outline, int32_t facets) {
  if (outline == GIRDLE_SQUARE || outline == GIRDLE_RECTANGLE) return 4;
  if (outline == GIRDLE_NAVETTE || outline == GIRDLE_HEART) facets += facets % 2;
  return facets < 3 ? 3 : facets > GIRDLE_FACETS_MOST ? GIRDLE_FACETS_MOST : facets;
}

/* ---- points */

static void side_point(const arcs *a, double along, double point[2]) {
  double angle = a->span - along / a->radius; /* from the upright at the arc's centre */
  point[0] = a->c + a->radius * sin(angle);
  point[1] = a->radius * cos(angle) - (a->radius - 1);
}

/* `along` runs from the tip over the upper side to the left end; `half` is its whole length. */
static void arcs_point(int32_t outline, const arcs *a, double along, double half, double point[2]) {
  double side = a->radius * a->span;
  if (along <= side) {
    side_point(a, along, point);
  } else if (outline == GIRDLE_NAVETTE) {
    side_point(a, half - along, point);
    point[0] = -point[0];
  } else {
    double r = outline == GIRDLE_PEAR ? 1 : 0.5, angle = (along - side) / r;
    point[0] = a->c - r * sin(angle);
    point[1] = 1 - r + r * cos(angle);
  }
}

static double arcs_half_length(int32_t outline, const arcs *a) {
  double side = a->radius * a->span;
  return outline == GIRDLE_NAVETTE ? 2 * side : side + PI / 2; /* a quarter of radius 1, or a half of radius 1/2 */
}

/* Quarters of the way are corners. */
static void rectangle_point(double ratio, double s, double point[2]) {
  static const double corner[5][2] = {{1, -1}, {1, 1}, {-1, 1}, {-1, -1}, {1, -1}};
  double way = s * 4, part;
  int side = (int)way % 4;
  part = way - floor(way);
  point[0] = ratio * (corner[side][0] + part * (corner[side + 1][0] - corner[side][0]));
  point[1] = corner[side][1] + part * (corner[side + 1][1] - corner[side][1]);
}

void girdle_outline_point(int32_t outline, double ratio, double s, double point[2]) {
  double mirrored = s > 0.5 ? 1 - s : s, sign = s > 0.5 ? -1 : 1;
  if (outline == GIRDLE_ROUND || outline == GIRDLE_OVAL) {
    point[0] = ratio * cos(2 * PI * mirrored);
    point[1] = sign * sin(2 * PI * mirrored);
  } else if (outline == GIRDLE_SQUARE || outline == GIRDLE_RECTANGLE) {
    rectangle_point(ratio, s, point);
  } else {
    arcs a = arcs_of(outline, ratio);
    double half = arcs_half_length(outline, &a);
    arcs_point(outline, &a, 2 * mirrored * half, half, point);
    point[1] *= sign;
  }
}

/* ---- the inscribed polygon */

/* Each corner of a turned table lies on the ray through the outline's point over the middle of an edge; it may move out
 * to where that ray meets the edge. */
double girdle_outline_widest_table(int32_t outline, double ratio, int32_t facets) {
  int32_t n = girdle_outline_facets(outline, facets);
  double widest = 1;
  for (int32_t i = 0; i < n; i++) {
    double a[2], b[2], over[2];
    girdle_outline_point(outline, ratio, (double)i / n, a);
    girdle_outline_point(outline, ratio, i + 1 < n ? (double)(i + 1) / n : 0, b);
    girdle_outline_point(outline, ratio, (i + 0.5) / n, over);
    widest = fmin(widest, (a[0] * b[1] - a[1] * b[0]) / (over[0] * (b[1] - a[1]) - over[1] * (b[0] - a[0])));
  }
  return widest;
}

double girdle_stone_footprint_mm2(const girdle_stone *stone) {
  int32_t facets = girdle_outline_facets(stone->outline, stone->facets ? (int32_t)stone->facets : GIRDLE_HOUSE_FACETS);
  double half = stone->diameter_mm[GIRDLE_NOMINAL] / 2, twice = 0, a[2], b[2];
  girdle_outline_point(stone->outline, stone->length_ratio, 0, a);
  for (int32_t i = 1; i <= facets; i++) {
    girdle_outline_point(stone->outline, stone->length_ratio, i < facets ? (double)i / facets : 0, b);
    twice += a[0] * b[1] - a[1] * b[0];
    memcpy(a, b, sizeof a);
  }
  return half * half * twice / 2;
}

/* ---- reach */

/* Support function in the direction (x, y), a unit vector with y >= 0. */
static double arcs_support(int32_t outline, double ratio, double x, double y) {
  arcs a = arcs_of(outline, ratio);
  if (outline == GIRDLE_NAVETTE) x = fabs(x);
  if (x < 0) return outline == GIRDLE_PEAR ? a.c * x + 1 : a.c * x + (1 + y) / 2;
  /* to the tip's side of the arc's last normal the tip itself is farthest */
  if (x * (a.radius - 1) > y * a.tip) return (a.c + a.tip) * x;
  return a.c * x - (a.radius - 1) * y + a.radius;
}

static double support(int32_t outline, double ratio, double degrees) {
  double x, y;
  if (outline == GIRDLE_ROUND) return 1;
  x = cos(degrees * (PI / 180));
  y = fabs(sin(degrees * (PI / 180)));
  if (outline == GIRDLE_OVAL) return sqrt(ratio * ratio * x * x + y * y);
  if (outline == GIRDLE_SQUARE || outline == GIRDLE_RECTANGLE) return ratio * fabs(x) + y;
  return arcs_support(outline, ratio, x, y);
}

double girdle_stone_reach_mm(const girdle_stone *stone, double turn_deg, double towards_deg) {
  return stone->diameter_mm[GIRDLE_NOMINAL] / 2 * support(stone->outline, stone->length_ratio, towards_deg - turn_deg);
}

double girdle_stone_circle_mm(const girdle_stone *stone) {
  double half = stone->diameter_mm[GIRDLE_NOMINAL] / 2, ratio = stone->length_ratio;
  if (stone->outline == GIRDLE_SQUARE || stone->outline == GIRDLE_RECTANGLE) return half * hypot(ratio, 1);
  if (stone->outline == GIRDLE_HEART) return half * fmax(hypot(ratio - 0.5, 0.5) + 0.5, ratio);
  return half * ratio; /* both ends of the length lie on the circle, and nothing lies beyond it */
}
