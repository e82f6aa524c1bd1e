/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
/* needs: libgsl-dev libgeos-dev -lgsl -lgslcblas -lgeos_c */
#include "support.h"

#include <geos_c.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>

#include "shape_internal.h"

/* Properties over random shapes: 10,000 each, 100,000 with GIRDLE_PROOF=1; and cross-checks with general libraries. */

static const double half_turn = 3.141592653589793238463;

static int rounds(void) {
  return getenv("GIRDLE_PROOF") ? 100000 : 10000;
}

/* ---- random curves */

static double pick(uint64_t *seed, double least, double most) {
  return least + (most - least) * test_uniform(seed);
}

/* Cubics of every temper: loose, with a loop, with a cusp or nearly, nearly straight, turning back, with hands at the
 * ends. */
static void random_cubic(uint64_t *seed, int temper, double p[8]) {
  for (int i = 0; i < 8; i++)
    p[i] = pick(seed, -100, 100);
  if (temper == 1) { /* the hands cross over: a cusp but for a small error */
    double a = pick(seed, 5, 100), b = pick(seed, 5, 100),
           off = test_uniform(seed) < 0.2 ? 0 : pow(10, pick(seed, -12, 0));
    const double cusp[8] = {0, 0, a, b + off, off, b, a, 0};
    memcpy(p, cusp, sizeof cusp);
  } else if (temper == 2) { /* nearly straight, perhaps turning back */
    double thin = pow(10, pick(seed, -14, -1));
    for (int i = 1; i < 8; i += 2)
      p[i] *= thin;
  } else if (temper == 3) { /* hands at the ends */
    p[2] = p[0];
    p[3] = p[1];
    if (test_uniform(seed) < 0.5) memcpy(p + 4, p + 6, 2 * sizeof p[0]);
  } else if (temper == 4) { /* a loop */
    const double loop[8] = {0, 0, pick(seed, 100, 300), 100, pick(seed, -300, -100), 100, 50, 0};
    memcpy(p, loop, sizeof loop);
  }
}

static void write_cubic(const double p[8], char text[400]) {
  snprintf(text, 400, "M%.17g %.17gC%.17g %.17g %.17g %.17g %.17g %.17g", p[0], p[1], p[2], p[3], p[4], p[5], p[6],
           p[7]);
}

static girdle_path *parse(const char *data) {
  girdle_path *path = NULL;
  assert_int_equal(girdle_path_parse(NULL, data, strlen(data), &path), GIRDLE_OK);
  return path;
}

/* A closed ring of smooth cubics or straight lines about a centre, without crossings. */
static girdle_path *random_ring(uint64_t *seed, double centre_x, double centre_y, int smooth) {
  char text[4000];
  int count = 3 + (int)(6 * test_uniform(seed)), length = 0;
  for (int i = 0; i < count; i++) {
    double turn = 2 * half_turn * i / count, next = 2 * half_turn * (i + 1) / count, radius = pick(seed, 20, 100), hand;
    double x = centre_x + radius * cos(turn), y = centre_y + radius * sin(turn);
    length += snprintf(text + length, sizeof text - (size_t)length,
                       i ? smooth ? " %.9g %.9g" : "L%.9g %.9g" : "M%.9g %.9g", x, y);
    if (!smooth) continue;
    hand = pick(seed, 20, 100);
    length += snprintf(text + length, sizeof text - (size_t)length, "Q%.9g %.9g",
                       centre_x + hand * cos((turn + next) / 2), centre_y + hand * sin((turn + next) / 2));
  }
  snprintf(text + length, sizeof text - (size_t)length, smooth ? "z" : "Z");
  return parse(text);
}

/* ---- length */

typedef struct control {
  const double *p;
} control;

static double speed(double t, void *context) {
  const double *p = ((const control *)context)->p;
  double u = 1 - t, a = 3 * u * u, b = 6 * u * t, c = 3 * t * t;
  return hypot(a * (p[2] - p[0]) + b * (p[4] - p[2]) + c * (p[6] - p[4]),
               a * (p[3] - p[1]) + b * (p[5] - p[3]) + c * (p[7] - p[5]));
}

/* GSL over 40 stretches and adaptively in each; it gives up at cusps, so its own estimate of error is given too. */
static double gsl_length(const double p[8], gsl_integration_workspace *space, double *doubt) {
  control c = {p};
  gsl_function f = {speed, &c};
  double sum = 0;
  *doubt = 0;
  for (int i = 0; i < 40; i++) {
    double part, error;
    gsl_integration_qag(&f, i / 40.0, (i + 1) / 40.0, 1e-13, 1e-12, 2000, GSL_INTEG_GAUSS61, space, &part, &error);
    sum += part;
    *doubt += error;
  }
  return sum;
}

static void path_length_of_any_cubic_is_right_to_1e_9(void **state) {
  gsl_integration_workspace *space = gsl_integration_workspace_alloc(2000);
  uint64_t seed = 1;
  double worst = 0;
  (void)state;
  gsl_set_error_handler_off();
  for (int i = 0; i < rounds(); i++) {
    double p[8], doubt, length, own;
    char text[400];
    girdle_path *path;
    random_cubic(&seed, i % 5, p);
    write_cubic(p, text);
    path = parse(text);
    own = girdle_path_length_mm(path);
    length = gsl_length(p, space, &doubt);
    if (fabs(own - length) > 1e-9 * length + doubt) print_error("%s: %.17g, GSL %.17g\n", text, own, length);
    assert_true(fabs(own - length) <= 1e-9 * length + doubt);
    if (doubt < 1e-11 * length) worst = fmax(worst, fabs(own / length - 1));
    girdle_path_free(path);
  }
  print_message("worst relative error %.2g\n", worst);
  gsl_integration_workspace_free(space);
}

static void path_at_stands_at_its_length(void **state) {
  uint64_t seed = 2;
  (void)state;
  for (int i = 0; i < rounds(); i++) {
    double p[8], share = test_uniform(&seed), whole, mm;
    char text[400];
    girdle_path *path, *part = NULL;
    girdle_point_on at, end;
    random_cubic(&seed, i % 5, p);
    write_cubic(p, text);
    path = parse(text);
    whole = girdle_path_length_mm(path);
    mm = share * whole;
    assert_int_equal(girdle_path_part(NULL, path, 0, mm, &part), GIRDLE_OK);
    if (fabs(girdle_path_length_mm(part) - mm) > 1e-9 * whole) print_error("%s at %.17g\n", text, mm);
    assert_near(girdle_path_length_mm(part), mm, 1e-9 * whole);
    assert_int_equal(girdle_path_at(NULL, path, mm, &at), GIRDLE_OK);
    assert_int_equal(girdle_path_at(NULL, part, girdle_path_length_mm(part), &end), GIRDLE_OK);
    assert_near(hypot(at.x_mm - end.x_mm, at.y_mm - end.y_mm), 0, 1e-9 * whole);
    girdle_path_free(path);
    girdle_path_free(part);
  }
}

static void path_length_outlives_turning_mirroring_splitting(void **state) {
  uint64_t seed = 3;
  (void)state;
  for (int i = 0; i < rounds(); i++) {
    double p[8], angle = pick(&seed, 0, 7), at, whole;
    double turn[6] = {cos(angle), sin(angle), -sin(angle), cos(angle), 3, -5}, mirror[6] = {-1, 0, 0, 1, 7, 0};
    char text[400];
    girdle_path *path, *other = NULL, *back = NULL;
    random_cubic(&seed, i % 5, p);
    write_cubic(p, text);
    strcat(text, "A30 20 40 1 0 9 11");
    path = parse(text);
    whole = girdle_path_length_mm(path);
    assert_int_equal(girdle_path_transformed(NULL, path, i % 2 ? turn : mirror, &other), GIRDLE_OK);
    assert_near(girdle_path_length_mm(other), whole, 1e-9 * whole);
    girdle_path_free(other);
    assert_int_equal(girdle_path_reversed(NULL, path, &other), GIRDLE_OK);
    assert_near(girdle_path_length_mm(other), whole, 1e-9 * whole);
    girdle_path_free(other);
    at = whole * pick(&seed, 0.01, 0.99);
    assert_int_equal(girdle_path_split(NULL, path, at, &other, &back), GIRDLE_OK);
    assert_near(girdle_path_length_mm(other), at, 1e-9 * whole);
    assert_near(girdle_path_length_mm(back), whole - at, 1e-9 * whole);
    girdle_path_free(other);
    girdle_path_free(back);
    girdle_path_free(path);
  }
}

static void path_text_of_anything_reads_back_equal(void **state) {
  uint64_t seed = 4;
  (void)state;
  for (int i = 0; i < rounds(); i++) {
    double p[8], angle = pick(&seed, 0, 7);
    double matrix[6] = {cos(angle) * 1.3, sin(angle), -sin(angle), cos(angle), 3, -5};
    char text[400], one[2000], two[2000];
    girdle_path *path, *image = NULL, *back;
    random_cubic(&seed, i % 5, p);
    write_cubic(p, text);
    strcat(text, "A30 20 40 1 0 9 11Q1 2 3 4Z");
    path = parse(text);
    assert_int_equal(girdle_path_transformed(NULL, path, matrix, &image), GIRDLE_OK);
    assert_true(girdle_path_text(image, one, sizeof one) < sizeof one);
    back = parse(one);
    girdle_path_text(back, two, sizeof two);
    assert_string_equal(one, two);
    assert_true(girdle_path_length_mm(back) == girdle_path_length_mm(image));
    girdle_path_free(path);
    girdle_path_free(image);
    girdle_path_free(back);
  }
}

/* ---- areas */

static girdle_region *fill(const girdle_path *path) {
  girdle_region *region = NULL;
  girdle_error error;
  girdle_call call;
  girdle_call_init(&call, sizeof call);
  girdle_error_init(&error, sizeof error);
  call.error = &error;
  if (girdle_region_new(&call, path, GIRDLE_NONZERO, &region)) return NULL; /* a random ring that crosses itself */
  return region;
}

static void region_area_outlives_turning_mirroring_reversing(void **state) {
  uint64_t seed = 5;
  int made = 0;
  (void)state;
  for (int i = 0; i < rounds(); i++) {
    double angle = pick(&seed, 0, 7), area;
    double turn[6] = {cos(angle), sin(angle), sin(angle), -cos(angle), 3, -5};
    girdle_path *path = random_ring(&seed, 40, -30, i % 2), *back = NULL;
    girdle_region *region = fill(path), *other = NULL;
    if (region) {
      made++;
      area = girdle_region_area_mm2(region);
      assert_true(area > 0);
      assert_int_equal(girdle_region_transformed(NULL, region, turn, &other), GIRDLE_OK);
      assert_near(girdle_region_area_mm2(other), area, 1e-11 * area);
      girdle_region_free(other);
      assert_int_equal(girdle_path_reversed(NULL, path, &back), GIRDLE_OK);
      other = fill(back);
      assert_near(girdle_region_area_mm2(other), area, 1e-11 * area);
      girdle_region_free(other);
      girdle_path_free(back);
    }
    girdle_region_free(region);
    girdle_path_free(path);
  }
  assert_true(made > rounds() / 2);
}

static void region_inset_of_convex_shapes_follows_steiner(void **state) {
  uint64_t seed = 6;
  (void)state;
  for (int i = 0; i < rounds(); i++) {
    double mm[2] = {pick(&seed, 1, 200), pick(&seed, 1, 200)}, d = pick(&seed, 0.1, 30), area, perimeter;
    const char *word = i % 25 == 0 ? "oval" : i % 2 ? "triangle" : "rectangle";
    girdle_region *region = NULL, *grown = NULL;
    assert_int_equal(girdle_region_from_tape(NULL, word, mm, 2, &region), GIRDLE_OK);
    area = girdle_region_area_mm2(region);
    perimeter = girdle_region_perimeter_mm(region);
    assert_int_equal(girdle_region_inset(NULL, region, -d, &grown), GIRDLE_OK);
    assert_near(girdle_region_area_mm2(grown), area + perimeter * d + half_turn * d * d,
                4e-6 * girdle_region_perimeter_mm(grown));
    assert_near(girdle_region_perimeter_mm(grown), perimeter + 2 * half_turn * d, 1e-6 * (perimeter + d));
    girdle_region_free(region);
    girdle_region_free(grown);
  }
}

/* ---- against GEOS */

static GEOSGeometry *polygon_of(GEOSContextHandle_t geos, const girdle_path *path, double flat_mm) {
  uint64_t parts;
  girdle_polyline line;
  GEOSCoordSequence *points;
  assert_int_equal(girdle_path_flatten(NULL, path, girdle_path_parts(path, &parts), flat_mm, &line), GIRDLE_OK);
  points = GEOSCoordSeq_create_r(geos, (unsigned)line.count, 2);
  for (unsigned i = 0; i < line.count; i++)
    GEOSCoordSeq_setXY_r(geos, points, i, line.points[i].x, line.points[i].y);
  girdle_polyline_free(&line);
  return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, points), NULL, 0);
}

/* The largest difference of depths at five places; without end where one tells another side. */
static double worst_depth(GEOSContextHandle_t geos, const GEOSGeometry *shape, const girdle_region *region,
                          uint64_t places) {
  GEOSGeometry *edge = GEOSBoundary_r(geos, shape);
  double worst = 0;
  for (int k = 0; k < 5; k++) {
    double x = pick(&places, -120, 120), y = pick(&places, -120, 120), distance,
           depth = girdle_region_depth_mm(region, x, y);
    GEOSGeometry *point = GEOSGeom_createPointFromXY_r(geos, x, y);
    GEOSDistance_r(geos, edge, point, &distance);
    worst = fmax(worst, fabs(fabs(depth) - distance));
    if (distance > 2e-3 && (depth > 0) != GEOSContains_r(geos, shape, point)) worst = INFINITY;
    assert_int_equal(girdle_region_contains(region, x, y), depth > 0);
    GEOSGeom_destroy_r(geos, point);
  }
  GEOSGeom_destroy_r(geos, edge);
  return worst;
}

/* Holds what is left of one without two (NULL: nothing) against flattened copies; gives the worst depth. */
static double compare_with_geos(GEOSContextHandle_t geos, const girdle_path *one, const girdle_path *two,
                                const girdle_region *rest, double flat_mm, uint64_t places) {
  GEOSGeometry *a = polygon_of(geos, one, flat_mm), *b = polygon_of(geos, two, flat_mm);
  GEOSGeometry *difference = GEOSDifference_r(geos, a, b);
  double area, length, worst = 0;
  GEOSArea_r(geos, difference, &area);
  GEOSLength_r(geos, difference, &length);
  if (rest) {
    assert_near(girdle_region_area_mm2(rest), area, 1e-3 * length);
    assert_near(girdle_region_perimeter_mm(rest), length, 1e-3 * length);
    worst = worst_depth(geos, difference, rest, places);
  } else {
    assert_near(area, 0, 1);
  }
  GEOSGeom_destroy_r(geos, a);
  GEOSGeom_destroy_r(geos, b);
  GEOSGeom_destroy_r(geos, difference);
  return worst;
}

/* Where two outlines cross at a small angle, the corner of flattened copies lies farther off than they are flat, by its
 * reciprocal: such are flattened finer, and held to the same. */
static void region_agrees_with_geos(void **state) {
  GEOSContextHandle_t geos = GEOS_init_r();
  uint64_t seed = 7;
  int made = 0;
  (void)state;
  for (int i = 0; i < rounds(); i++) {
    girdle_path *one = random_ring(&seed, 0, 0, i % 2), *two = random_ring(&seed, 60, 30, 1 - i % 2);
    girdle_region *first = fill(one), *second = fill(two), *rest = NULL;
    if (first && second) {
      uint64_t places = test_random(&seed);
      int32_t status = girdle_region_without(NULL, first, second, &rest);
      made++;
      assert_int_equal(status == GIRDLE_OK, rest != NULL);
      if (compare_with_geos(geos, one, two, rest, 1e-4, places) > 2e-3)
        assert_true(compare_with_geos(geos, one, two, rest, 1e-6, places) <= 2e-3);
    }
    girdle_region_free(first);
    girdle_region_free(second);
    girdle_region_free(rest);
    girdle_path_free(one);
    girdle_path_free(two);
  }
  GEOS_finish_r(geos);
  assert_true(made > rounds() / 3);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(path_length_of_any_cubic_is_right_to_1e_9),
      cmocka_unit_test(path_at_stands_at_its_length),
      cmocka_unit_test(path_length_outlives_turning_mirroring_splitting),
      cmocka_unit_test(path_text_of_anything_reads_back_equal),
      cmocka_unit_test(region_area_outlives_turning_mirroring_reversing),
      cmocka_unit_test(region_inset_of_convex_shapes_follows_steiner),
      cmocka_unit_test(region_agrees_with_geos),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
