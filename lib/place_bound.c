/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

#define PI 3.14159265358979323846
#define SQRT3 1.73205080756887729353

static int64_t whole(double bound) {
  double rounded = floor(bound * (1 + 1e-12) + 1e-9);
  return rounded < 0 ? 0 : rounded < 9e18 ? (int64_t)rounded : INT64_MAX;
}

/* Any region. The points nearer to one centre than to the others, and nearer than pitch / sqrt(3), cover at least the
 * hexagon about a circle of half the pitch (L. Fejes Toth, 1953), and do not overlap. They reach out of the region by
 * pitch / sqrt(3) less `reach`, and a strip so wide along the rim has at most perimeter x width + pi width^2. */
static double most_by_cells(double area, double perimeter, double pitch, double reach) {
  double out = fmax(0, pitch / SQRT3 - reach);
  return (area + out * perimeter + PI * out * out) / (SQRT3 / 2 * pitch * pitch);
}

/* A convex region. N <= 2 A' / (sqrt(3) d^2) + P' / (2 d) + 1 for centres d apart in a convex region of area A' and
 * perimeter P' (Groemer, 1960; Oler, 1961). Of the region shrunk by R this is known: its perimeter is a concave
 * function of R and the inradius is at least A / P, so A' <= A - P R + (P R)^2 / (2 A); growing it by R again gives no
 * more than the region, so A' + P' R + pi R^2 <= A. The P' that makes most of both is P - pi R - P^2 R / (2 A). */
static double most_if_convex(double area, double perimeter, double pitch, double reach) {
  double lost = fmin(perimeter * reach / area, 1);
  double inner_area = area - lost * area + lost * lost * area / 2;
  double inner_perimeter = fmax(0, perimeter - PI * reach - lost * perimeter / 2);
  if (reach * perimeter > 2 * area) return 0;
  if (reach < SQRT3 * pitch / 4) inner_perimeter = fmax(inner_perimeter, perimeter - 2 * PI * reach);
  return 2 * inner_area / (SQRT3 * pitch * pitch) + inner_perimeter / (2 * pitch) + 1;
}

int64_t girdle_bound_most(double area_mm2, double perimeter_mm, double pitch_mm, double reach_mm, int convex) {
  double reach = fmax(0, reach_mm - GIRDLE_TOLERANCE_MM); /* what touches is inside */
  double most = most_by_cells(area_mm2, perimeter_mm, pitch_mm, reach), radius = fmin(reach, pitch_mm / 2);
  if (convex) most = fmin(most, most_if_convex(area_mm2, perimeter_mm, pitch_mm, reach));
  if (radius > 0) most = fmin(most, area_mm2 / (PI * radius * radius));
  return whole(most);
}

/* Of all the places of a lattice over the region some holds at least the mean, the open area over the area of a cell. A
 * strip of width R along the rim's inside has at most P R + pi R^2 for each hole. */
int64_t girdle_bound_least(double area_mm2, double perimeter_mm, int64_t holes, double pitch_mm, double reach_mm,
                           int32_t setting) {
  double open = area_mm2 - perimeter_mm * reach_mm - (double)holes * PI * reach_mm * reach_mm;
  double cell = pitch_mm * pitch_mm * (setting == GIRDLE_HONEYCOMB ? SQRT3 / 2 : 1);
  return open <= 0 ? 0 : (int64_t)fmin(ceil(open / cell * (1 - 1e-12)), 9e18);
}

/* ---- quick counts */

/* The best of many places of a lattice usually finds half of what the rim can add to the mean (by trying it out). */
static double usual_over(double area, double perimeter, double pitch, double reach, int32_t setting) {
  double open = area - perimeter * reach + PI * reach * reach, rim = fmax(0, perimeter - 2 * PI * reach);
  double cell = pitch * pitch * (setting == GIRDLE_HONEYCOMB ? SQRT3 / 2 : 1);
  return fmax(0, open) / cell + 0.5 * rim / (2 * pitch) + 0.5;
}

int32_t girdle_count_over(girdle_call *call, double area_mm2, double perimeter_mm, int64_t holes,
                          const girdle_stone *stone, double gap_mm, int32_t setting, girdle_count *out) {
  GIRDLE_GIVEN(call, stone, out);
  double pitch, reach, usual;
  GIRDLE_TRY(girdle_place_check(call, stone, 1, gap_mm, 0));
  GIRDLE_TRY(girdle_common_range(call, "area", area_mm2, 1e-6, 1e14, "mm2"));
  /* no outline of that area is shorter than a circle */
  GIRDLE_TRY(girdle_common_range(call, "perimeter", perimeter_mm, sqrt(4 * PI * area_mm2) * (1 - 1e-9), 1e12, "mm"));
  if (holes != GIRDLE_CONVEX) GIRDLE_TRY(girdle_common_range(call, "holes", (double)holes, 0, 1e9, ""));
  if (setting < GIRDLE_HONEYCOMB || setting > GIRDLE_EDGE_ROWS)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "setting", "setting %d is not known", (int)setting);
  reach = girdle_place_radius(stone);
  pitch = 2 * reach + gap_mm;
  out->gap_mm = NAN;
  out->most = girdle_bound_most(area_mm2, perimeter_mm, pitch, reach, holes == GIRDLE_CONVEX);
  out->least = girdle_bound_least(area_mm2, perimeter_mm, holes > 0 ? holes : 0, pitch, reach, setting);
  usual = nearbyint(usual_over(area_mm2, perimeter_mm, pitch, reach, setting));
  out->expected = (int64_t)fmin(fmax(usual, (double)out->least), (double)out->most);
  return GIRDLE_OK;
}

/* ---- along a line or a loop */

static int32_t count_run(girdle_call *call, const girdle_path *path, const girdle_stone *stones, uint64_t stone_count,
                         double wish_mm, girdle_count *out) {
  girdle_run_options options;
  girdle_placement *placement = NULL;
  girdle_run_options_init(&options, sizeof options);
  options.stones = stones;
  options.stone_count = stone_count;
  options.gap_mm = wish_mm;
  GIRDLE_TRY(girdle_run(call, path, &options, &placement));
  out->expected = (int64_t)placement->count;
  out->gap_mm = placement->notes.gap_mm;
  /* one stone more or fewer lies on the other side of the wish */
  out->least = out->gap_mm < wish_mm - 1e-9 ? out->expected - 1 : out->expected;
  out->most = out->gap_mm > wish_mm + 1e-9 ? out->expected + 1 : out->expected;
  girdle_placement_free(placement);
  return GIRDLE_OK;
}

int32_t girdle_count_along(girdle_call *call, double length_mm, int32_t closed, const girdle_stone *stones,
                           uint64_t stone_count, double gap_mm, girdle_count *out) {
  GIRDLE_GIVEN(call, stones || !stone_count, out);
  girdle_path *path = NULL;
  int32_t status;
  GIRDLE_TRY(closed ? girdle_path_loop(call, length_mm, &path) : girdle_path_line(call, length_mm, &path));
  status = count_run(call, path, stones, stone_count, gap_mm, out);
  girdle_path_free(path);
  return status;
}
