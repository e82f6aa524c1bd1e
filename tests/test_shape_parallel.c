/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
/* needs: libgeos-dev -lgeos_c */
#include "support.h"

#include <geos_c.h>

#include "shape_internal.h"

/* The parallel of many curves at three distances, sampled densely: no point nearer to the curve than the distance, none
 * missing of those straight off the curve that are no nearer to another part of it; and, for every fourteenth curve
 * (all with GIRDLE_PROOF=1), within reach of the outline of an independent buffer (GEOS) of a finely flattened copy. */

static const double half_turn = 3.141592653589793238463;

enum { CURVES = 70, GEOS_SAMPLES = 500 };

/* Over both sides and three distances 10,000 samples a curve; with GIRDLE_PROOF=1 as many for each. */
static int samples(void) {
  return getenv("GIRDLE_PROOF") ? 10000 : 1700;
}

/* ---- random curves */

typedef struct text {
  char bytes[8000];
  size_t length;
} text;

static void add(text *t, const char *command, const double *numbers, int count) {
  t->length += (size_t)snprintf(t->bytes + t->length, sizeof t->bytes - t->length, "%s", command);
  for (int i = 0; i < count; i++)
    t->length += (size_t)snprintf(t->bytes + t->length, sizeof t->bytes - t->length, " %.6f", numbers[i]);
}

/* Points about a centre (a ring) or along a line, joined by cubics with a common tangent or by straight lines. */
static void knot(uint64_t *seed, int i, int count, int ring, double out[2]) {
  double turn = 2 * half_turn * i / count, radius = 40 * (0.4 + test_uniform(seed));
  out[0] = ring ? radius * cos(turn) : 20.0 * i + 12 * test_uniform(seed);
  out[1] = ring ? radius * sin(turn) : 50 * test_uniform(seed);
}

static void random_curve(uint64_t *seed, int ring, int smooth, text *out) {
  double knots[40][2], tangents[40][2];
  int count = 5 + (int)(test_uniform(seed) * 12);
  out->length = 0;
  for (int i = 0; i < count; i++)
    knot(seed, i, count, ring, knots[i]);
  for (int i = 0; i < count; i++)
    for (int k = 0; k < 2; k++)
      tangents[i][k] =
          (knots[(i + 1) % count][k] - knots[(i + count - 1) % count][k]) / 6 * (ring || (i && i < count - 1));
  add(out, "M", knots[0], 2);
  for (int i = 1; i < count + ring; i++) {
    double *from = knots[i - 1], *to = knots[i % count], *out_of = tangents[i - 1], *into = tangents[i % count];
    double control[6] = {from[0] + out_of[0], from[1] + out_of[1], to[0] - into[0], to[1] - into[1], to[0], to[1]};
    if (smooth)
      add(out, "C", control, 6);
    else
      add(out, "L", to, 2);
  }
  if (ring) add(out, "Z", NULL, 0);
}

/* Cubics with hands anywhere: loops, cusps or nearly, corners, parts that run back over others. GEOS simplifies such
 * turns by up to a hundredth of the distance and is no measure for them (its outline comes nearer as the copy is
 * flattened finer: 0.031, 0.0078 and 0.0008 mm off at 1e-4, 1e-5 and 1e-6), so they are held against the curve alone.
 */
static void wild_curve(uint64_t *seed, text *out) {
  out->length = 0;
  for (int i = 0; i < 4; i++) {
    double numbers[6];
    for (int k = 0; k < 6; k++)
      numbers[k] = 60 * test_uniform(seed);
    if (i % 3 == 2) memcpy(numbers + 2, numbers + 4, 2 * sizeof numbers[0]);
    add(out, i ? "C" : "M", numbers + (i ? 0 : 4), i ? 6 : 2);
  }
}

static double smallest_radius(const girdle_path *path) {
  double least = 1e9;
  for (int i = 0; i < 2000; i++) {
    girdle_point_on at;
    girdle_path_at(NULL, path, girdle_path_length_mm(path) * i / 2000, &at);
    if (fabs(at.curvature_per_mm) > 0) least = fmin(least, 1 / fabs(at.curvature_per_mm));
  }
  return least < 0.5 ? 0.5 : least > 12 ? 12 : least;
}

/* ---- the independent outline */

static GEOSGeometry *outline_of(GEOSContextHandle_t geos, const girdle_path *path, double distance) {
  uint64_t parts;
  girdle_polyline line;
  GEOSCoordSequence *points;
  GEOSGeometry *curve, *buffer, *outline;
  assert_int_equal(girdle_path_flatten(NULL, path, girdle_path_parts(path, &parts), 1e-4, &line), GIRDLE_OK);
  points = GEOSCoordSeq_create_r(geos, (unsigned)line.count, 2);
  for (unsigned i = 0; i < line.count; i++) {
    GEOSCoordSeq_setX_r(geos, points, i, line.points[i].x);
    GEOSCoordSeq_setY_r(geos, points, i, line.points[i].y);
  }
  curve = GEOSGeom_createLineString_r(geos, points);
  buffer = GEOSBuffer_r(geos, curve, distance, 120);
  outline = GEOSBoundary_r(geos, buffer);
  GEOSGeom_destroy_r(geos, curve);
  GEOSGeom_destroy_r(geos, buffer);
  girdle_polyline_free(&line);
  return outline;
}

/* Points of the outline whose nearest point on the curve is an open end are the round caps, which a parallel has not.
 */
static int on_cap(const girdle_path *path, double x, double y) {
  double along, distance, length = girdle_path_length_mm(path);
  girdle_path_nearest(NULL, path, x, y, &along, &distance);
  return !girdle_path_is_closed(path) && (along < 1e-3 || along > length - 1e-3);
}

typedef struct tally {
  double nearest, missing, astray;
} tally;

static void check_ring(GEOSContextHandle_t geos, const GEOSGeometry *ring, const girdle_path *path,
                       girdle_path *const sides[2], tally *t) {
  const GEOSCoordSequence *points = GEOSGeom_getCoordSeq_r(geos, ring);
  unsigned count;
  GEOSCoordSeq_getSize_r(geos, points, &count);
  for (unsigned i = 0; i < count; i += 1 + count / 2000) {
    double x, y, along, distance, best = 1e9;
    GEOSCoordSeq_getX_r(geos, points, i, &x);
    GEOSCoordSeq_getY_r(geos, points, i, &y);
    for (int side = 0; side < 2; side++) {
      if (!sides[side]) continue;
      girdle_path_nearest(NULL, sides[side], x, y, &along, &distance);
      best = fmin(best, distance);
    }
    if (best > t->missing && !on_cap(path, x, y)) t->missing = best;
  }
}

static void check_own(const girdle_path *path, const girdle_path *side, double reach, tally *t) {
  double length = girdle_path_length_mm(side);
  int count = samples();
  for (int i = 0; i < count; i++) {
    girdle_point_on at;
    double along, distance;
    girdle_path_at(NULL, side, length * (i + 0.5) / count, &at);
    girdle_path_nearest(NULL, path, at.x_mm, at.y_mm, &along, &distance);
    t->nearest = fmin(t->nearest, distance - reach);
  }
}

/* Points straight off the curve, on the side of the sign of `reach`. */
static void check_missing(const girdle_path *path, const girdle_path *side, double reach, tally *t) {
  double length = girdle_path_length_mm(path);
  int count = samples() / 4;
  for (int i = 0; i < count; i++) {
    girdle_point_on at;
    double along, distance, angle, x, y;
    girdle_path_at(NULL, path, length * (i + 0.5) / count, &at);
    angle = at.angle_deg * half_turn / 180;
    x = at.x_mm - reach * sin(angle);
    y = at.y_mm + reach * cos(angle);
    girdle_path_nearest(NULL, path, x, y, &along, &distance);
    if (distance < fabs(reach) - 1e-9) continue;
    distance = INFINITY;
    if (side) girdle_path_nearest(NULL, side, x, y, &along, &distance);
    t->missing = fmax(t->missing, distance);
  }
}

static void check_astray(GEOSContextHandle_t geos, const GEOSPreparedGeometry *outline, const girdle_path *side,
                         tally *t) {
  for (int i = 0; i < GEOS_SAMPLES; i++) {
    girdle_point_on at;
    double gap = 0;
    GEOSGeometry *point;
    girdle_path_at(NULL, side, girdle_path_length_mm(side) * (i + 0.5) / GEOS_SAMPLES, &at);
    point = GEOSGeom_createPointFromXY_r(geos, at.x_mm, at.y_mm);
    GEOSPreparedDistance_r(geos, outline, point, &gap);
    GEOSGeom_destroy_r(geos, point);
    t->astray = fmax(t->astray, gap);
  }
}

static void check_buffer(GEOSContextHandle_t geos, const girdle_path *path, girdle_path *const sides[2], double reach,
                         tally *t) {
  GEOSGeometry *outline = outline_of(geos, path, reach);
  const GEOSPreparedGeometry *prepared = GEOSPrepare_r(geos, outline);
  int rings = GEOSGetNumGeometries_r(geos, outline);
  for (int side = 0; side < 2; side++)
    if (sides[side]) check_astray(geos, prepared, sides[side], t);
  for (int i = 0; i < rings; i++)
    check_ring(geos, GEOSGetGeometryN_r(geos, outline, i), path, sides, t);
  GEOSPreparedGeom_destroy_r(geos, prepared);
  GEOSGeom_destroy_r(geos, outline);
}

static void check_distance(GEOSContextHandle_t geos, const girdle_path *path, double reach, const char *data,
                           tally *t) {
  girdle_path *sides[2] = {NULL, NULL};
  test_call tests[2]; /* outlive the paths */
  tally own = {0, 0, 0};
  for (int side = 0; side < 2; side++) {
    double signed_reach = side ? reach : -reach;
    int32_t status = girdle_path_offset(test_begin(&tests[side]), path, signed_reach, &sides[side]);
    if (status != GIRDLE_GEOMETRY) assert_status(&tests[side], status, GIRDLE_OK);
    if (sides[side]) check_own(path, sides[side], reach, &own);
    check_missing(path, sides[side], signed_reach, &own);
  }
  if (geos) check_buffer(geos, path, sides, reach, &own);
  if (own.nearest < -1e-3 || own.missing > 2e-3 || own.astray > 2e-3)
    print_message("%.9g %.9g %.9g at %.9g: %s\n", own.nearest, own.missing, own.astray, reach, data);
  t->nearest = fmin(t->nearest, own.nearest);
  t->missing = fmax(t->missing, own.missing);
  t->astray = fmax(t->astray, own.astray);
  girdle_path_free(sides[0]);
  girdle_path_free(sides[1]);
}

enum { STRAIGHT, SMOOTH, WILD };

static void check_kind(int ring, int kind) {
  GEOSContextHandle_t geos = GEOS_init_r();
  tally worst = {0, 0, 0};
  uint64_t seed = (uint64_t)(ring * 2 + kind + 1);
  for (int i = 0; i < CURVES; i++) {
    GEOSContextHandle_t at_hand = kind != WILD && (i % 14 == 0 || getenv("GIRDLE_PROOF")) ? geos : NULL;
    test_call test;
    text data;
    girdle_path *path = NULL;
    double radius;
    if (kind == WILD)
      wild_curve(&seed, &data);
    else
      random_curve(&seed, ring, kind == SMOOTH, &data);
    assert_ok(&test, girdle_path_parse(test_begin(&test), data.bytes, data.length, &path));
    radius = kind == STRAIGHT ? 5 : smallest_radius(path);
    check_distance(at_hand, path, 0.2 * radius, data.bytes, &worst);
    check_distance(at_hand, path, radius, data.bytes, &worst);
    check_distance(at_hand, path, 3 * radius, data.bytes, &worst);
    girdle_path_free(path);
  }
  GEOS_finish_r(geos);
  print_message("%d curves: nearest %g, missing %g, astray %g mm\n", CURVES, worst.nearest, worst.missing,
                worst.astray);
  assert_true(worst.nearest >= -1e-3);
  assert_true(worst.missing <= 2e-3);
  assert_true(worst.astray <= 2e-3);
}

static void path_offset_of_smooth_rings_has_no_fault(void **state) {
  (void)state;
  check_kind(1, SMOOTH);
}

static void path_offset_of_polygons_has_no_fault(void **state) {
  (void)state;
  check_kind(1, STRAIGHT);
}

static void path_offset_of_smooth_lines_has_no_fault(void **state) {
  (void)state;
  check_kind(0, SMOOTH);
}

static void path_offset_of_wild_curves_has_no_fault(void **state) {
  (void)state;
  check_kind(0, WILD);
}

/* ---- insets of what no one would draw: slivers, and edges that meet at tiny angles */

static double wild_number(uint64_t *seed) {
  double kind = test_uniform(seed);
  if (kind < 0.4) return floor(test_uniform(seed) * 40) - 10;
  return kind < 0.7 ? floor(test_uniform(seed) * 400) : kind < 0.9 ? test_uniform(seed) * 9000 : test_uniform(seed);
}

static void wild_ring(uint64_t *seed, text *out) {
  static const struct {
    const char *command;
    int count;
  } kinds[] = {{"L", 2}, {"C", 6}, {"Q", 4}, {"l", 2}};
  double numbers[6] = {wild_number(seed), wild_number(seed)};
  out->length = 0;
  add(out, "M", numbers, 2);
  for (int left = 1 + (int)(4 * test_uniform(seed)); left > 0; left--) {
    int kind = (int)(4 * test_uniform(seed));
    for (int i = 0; i < kinds[kind].count; i++)
      numbers[i] = wild_number(seed) * (kind == 3 ? 0.1 : 1);
    add(out, kinds[kind].command, numbers, kinds[kind].count);
  }
  add(out, "Z", numbers, 0);
}

/* Every point of the inset's rim lies as deep in the region as it should, and what is deeper is inside. */
static void check_depth(const girdle_region *region, const girdle_region *inner, double distance, uint64_t *seed) {
  girdle_path *rim = NULL;
  girdle_box box;
  girdle_region_box(region, &box);
  for (int i = 0; i < 100; i++) {
    double x = box.left_mm + test_uniform(seed) * (box.right_mm - box.left_mm);
    double y = box.top_mm + test_uniform(seed) * (box.bottom_mm - box.top_mm);
    double deeper = girdle_region_depth_mm(region, x, y) - distance;
    if (fabs(deeper) > 1e-3) assert_int_equal(inner && girdle_region_contains(inner, x, y), deeper > 0);
  }
  if (!inner) return;
  assert_int_equal(girdle_region_rim(NULL, inner, &rim), GIRDLE_OK);
  for (int i = 0; i < 100; i++) {
    girdle_point_on at;
    assert_int_equal(girdle_path_at(NULL, rim, girdle_path_length_mm(rim) * i / 100, &at), GIRDLE_OK);
    assert_near(girdle_region_depth_mm(region, at.x_mm, at.y_mm), distance, 1e-3);
  }
  girdle_path_free(rim);
}

/* At a share of twice the area over the perimeter, where much of it is gone. Gives 1 when something is left. */
static int check_inset(const char *data, double share, uint64_t *seed) {
  girdle_region *region = NULL, *inner = NULL;
  girdle_error error;
  girdle_call call;
  double distance;
  int32_t status;
  int left;
  if (girdle_region_from_text(NULL, data, &region)) return 0;
  girdle_call_init(&call, sizeof call);
  girdle_error_init(&error, sizeof error);
  call.error = &error;
  distance = share * 2 * girdle_region_area_mm2(region) / girdle_region_perimeter_mm(region);
  status = girdle_region_inset(&call, region, distance, &inner);
  if (status && status != GIRDLE_GEOMETRY) print_error("%s at %.17g: %s\n", data, distance, error.message);
  assert_true(status == GIRDLE_OK || status == GIRDLE_GEOMETRY);
  check_depth(region, inner, distance, seed);
  left = inner != NULL;
  girdle_region_free(region);
  girdle_region_free(inner);
  return left;
}

static void region_inset_is_whole_where_edges_meet_at_tiny_angles(void **state) {
  /* a crescent; curves that return beside their chords; spikes: rounding leaves their parallels open at the tips */
  static const char *const slivers[] = {"M26 -6Q18 -7 312 28Z",
                                        "M3789.72 17C0 -4 -7 117 0.272 -4Z",
                                        "M24 0.387C6968.42 -10 80 8 212 5Z",
                                        "M3 -4Q17 4122.11 11 656.606l-0.8 335.868Z",
                                        "M4911.96 0.081C22 0.334 7244.68 22 3 0.412Z",
                                        "M246 11C121 757.84 246 11 386 3465.53Z"};
  uint64_t seed = 5;
  int left = 0, cases = getenv("GIRDLE_PROOF") ? 100000 : 10000;
  (void)state;
  for (size_t i = 0; i < 10 * sizeof slivers / sizeof slivers[0]; i++)
    check_inset(slivers[i / 10], 0.1 * (double)(i % 10) + 0.05, &seed);
  for (int i = 0; i < cases; i++) {
    text ring;
    wild_ring(&seed, &ring);
    left += check_inset(ring.bytes, test_uniform(&seed), &seed);
  }
  assert_true(left > cases / 10);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(path_offset_of_smooth_rings_has_no_fault),
      cmocka_unit_test(path_offset_of_polygons_has_no_fault),
      cmocka_unit_test(path_offset_of_smooth_lines_has_no_fault),
      cmocka_unit_test(path_offset_of_wild_curves_has_no_fault),
      cmocka_unit_test(region_inset_is_whole_where_edges_meet_at_tiny_angles),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
