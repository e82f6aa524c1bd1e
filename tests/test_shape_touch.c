/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
/* needs: libgeos-dev -lgeos_c */
#include "support.h"

#include <geos_c.h>

/* Outlines that touch, run along each other, or nearly: areas and perimeters are exact all the same. */

static const double half_turn = 3.141592653589793238463;

static int rounds(int in_check) {
  return getenv("GIRDLE_PROOF") ? 10 * in_check : in_check;
}

static girdle_region *region_of(const char *text) {
  girdle_region *region = NULL;
  assert_int_equal(girdle_region_from_text(NULL, text, &region), GIRDLE_OK);
  return region;
}

/* The first shape without the others, or NULL when nothing is left. */
static girdle_region *without_all(const char *const shapes[], int count, const double *matrix) {
  girdle_region *rest = NULL;
  for (int i = 0; i < count; i++) {
    girdle_region *shape = region_of(shapes[i]), *turned = NULL, *less = NULL;
    int32_t status;
    if (matrix) {
      assert_int_equal(girdle_region_transformed(NULL, shape, matrix, &turned), GIRDLE_OK);
      girdle_region_free(shape);
      shape = turned;
    }
    if (i == 0) {
      rest = shape;
      continue;
    }
    status = girdle_region_without(NULL, rest, shape, &less);
    girdle_region_free(rest);
    girdle_region_free(shape);
    rest = less;
    if (status) assert_int_equal(status, GIRDLE_GEOMETRY);
    if (status) return NULL;
  }
  return rest;
}

static void region_without_is_exact_where_outlines_touch(void **state) {
  static const struct {
    const char *shapes[4];
    int count;
    double area, perimeter; /* in units of half a turn, beside whole numbers */
    double area_turns, perimeter_turns;
  } cases[] = {
      {{"rectangle 100 mm x 100 mm", "oval 100 mm x 100 mm"}, 2, 10000, 400, -2500, 100},
      {{"oval 100 mm x 100 mm", "M25 50a25 25 0 0 0 50 0 25 25 0 0 0 -50 0"}, 2, 0, 0, 2500 - 625, 150},
      {{"oval 100 mm x 100 mm", "M0 50a25 25 0 0 0 50 0 25 25 0 0 0 -50 0"}, 2, 0, 0, 2500 - 625, 150},
      {{"rectangle 100 mm x 60 mm", "M0 60Q50 -60 100 60z"}, 2, 2000, 0, 0, 0},
      {{"rectangle 90 mm x 60 mm", "M0 0h30v60h-30z", "M60 0h30v60h-30z"}, 3, 1800, 180, 0, 0},
      {{"oval 100 mm x 100 mm", "M0 50A50 50 0 0 1 100 50z"}, 2, 0, 100, 1250, 50},
      {{"rectangle 40 mm x 40 mm", "M20 0L40 20 20 40 0 20z"}, 2, 800, 160 + 80 * 1.4142135623730951, 0, 0},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    double perimeter = cases[i].perimeter + cases[i].perimeter_turns * half_turn;
    girdle_region *rest = without_all(cases[i].shapes, cases[i].count, NULL);
    if (i == 3) { /* y = 60 - 2.4 x (1 - x / 100) to its vertex: the length of a parabola in closed form */
      double slope = 2.4, reach = 50 / slope;
      perimeter = 2 * 60 + 100 + reach * (slope * sqrt(1 + slope * slope) + asinh(slope));
    }
    assert_non_null(rest);
    assert_near(girdle_region_area_mm2(rest), cases[i].area + cases[i].area_turns * half_turn, 1e-8);
    assert_near(girdle_region_perimeter_mm(rest), perimeter, 1e-6);
    girdle_region_free(rest);
  }
}

static double length_left(const char *shape, double shift) {
  char moved[200];
  const char *shapes[3] = {"rectangle 100 mm x 100 mm", NULL, moved};
  girdle_region *rest;
  double length;
  shapes[1] = shape;
  snprintf(moved, sizeof moved, "M%.17g %s", 25 + shift, strchr(shape, ' ') + 1);
  rest = without_all(shapes, 3, NULL);
  assert_non_null(rest);
  length = girdle_region_perimeter_mm(rest);
  girdle_region_free(rest);
  return length;
}

static void region_without_takes_nearly_the_same_outline_twice(void **state) {
  (void)state;
  assert_near(length_left("M25 50a25 25 0 0 1 50 0a25 25 0 0 1 -50 0", 0), 400 + 50 * half_turn, 1e-9);
  for (double shift = 1e-15; shift < 1; shift *= 1000) {
    double round = 50 * half_turn + 100 * asin(shift / 50); /* of two discs joined */
    assert_near(length_left("M25 25h50v50h-50z", shift), 600 + 2 * shift, 1e-9);
    assert_near(length_left("M25 50a25 25 0 0 1 50 0a25 25 0 0 1 -50 0", shift), 400 + round, 1e-9);
  }
}

static void path_meetings_gives_each_touch_once_at_its_place(void **state) {
  static const struct {
    const char *one, *other;
    uint64_t count;
    double places[4][2];
  } cases[] = {
      {"rectangle 100 mm x 100 mm", "oval 100 mm x 100 mm", 4, {{50, 0}, {100, 50}, {50, 100}, {0, 50}}},
      {"M0 0C50 50 50 50 100 0", "M0 37.5H100", 1, {{50, 37.5}}},
      {"M0 0C0 50 50 100 100 100", "M0 0C0 50 50 100 100 100", 2, {{0, 0}, {100, 100}}},
      {"M0 0H100", "M120 0H40", 2, {{40, 0}, {100, 0}}},
      {"M0 0A50 50 0 0 1 100 0", "M0 0A50 50 0 0 1 50 -50", 2, {{0, 0}, {50, -50}}},
      {"M0 0C100 100 0 100 100 0", NULL, 0, {{0, 0}}}, /* a cusp */
      {"M0 0C30 80 70 80 100 0", "M0 120C30 40 70 40 100 120", 1, {{50, 60}}},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_path *one = NULL, *other = NULL;
    girdle_meeting found[4];
    uint64_t count;
    assert_int_equal(girdle_path_from_text(NULL, cases[i].one, &one), GIRDLE_OK);
    if (cases[i].other) assert_int_equal(girdle_path_from_text(NULL, cases[i].other, &other), GIRDLE_OK);
    assert_int_equal(girdle_path_meetings(NULL, one, other, found, 4, &count), GIRDLE_OK);
    if (count != cases[i].count) print_error("%s meets %s\n", cases[i].one, cases[i].other);
    assert_int_equal(count, cases[i].count);
    for (uint64_t k = 0; k < count; k++) {
      assert_int_equal(found[k].crosses, 0);
      assert_near(found[k].x_mm, cases[i].places[k][0], 1e-6);
      assert_near(found[k].y_mm, cases[i].places[k][1], 1e-6);
    }
    girdle_path_free(one);
    girdle_path_free(other);
  }
}

/* ---- against GEOS */

/* A polygon about a centre, on whole numbers in every other round: edges then touch and run along each other. */
static GEOSGeometry *random_polygon(GEOSContextHandle_t geos, uint64_t *seed, int whole, char *text) {
  for (;;) {
    int n = 3 + (int)(6 * test_uniform(seed));
    double x[8] = {0}, y[8] = {0}, area = 0, middle_x = 4 + floor(8 * test_uniform(seed)),
           middle_y = 4 + floor(8 * test_uniform(seed));
    GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, (unsigned)n + 1, 2);
    GEOSGeometry *polygon;
    for (int i = 0; i < n; i++) {
      double turn = 2 * half_turn * (i + 0.8 * test_uniform(seed)) / n, radius = 1 + 5 * test_uniform(seed);
      x[i] = middle_x + radius * cos(turn);
      y[i] = middle_y + radius * sin(turn);
      if (whole) x[i] = round(x[i]), y[i] = round(y[i]);
    }
    for (int i = 0; i <= n; i++)
      GEOSCoordSeq_setXY_r(geos, points, (unsigned)i, x[i % n], y[i % n]);
    polygon = GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, points), NULL, 0);
    if (GEOSisValid_r(geos, polygon) == 1 && GEOSArea_r(geos, polygon, &area) && area > 0.01) {
      for (int i = 0; i < n; i++)
        text += sprintf(text, "%c%.17g %.17g", i ? 'L' : 'M', x[i], y[i]);
      strcpy(text, "z");
      return polygon;
    }
    GEOSGeom_destroy_r(geos, polygon);
  }
}

static void region_without_agrees_with_geos_to_rounding(void **state) {
  GEOSContextHandle_t geos = GEOS_init_r();
  uint64_t seed = 11;
  (void)state;
  for (int i = 0; i < rounds(10000); i++) {
    char texts[2][1000];
    const char *const shapes[2] = {texts[0], texts[1]};
    GEOSGeometry *a = random_polygon(geos, &seed, i % 2, texts[0]), *b = random_polygon(geos, &seed, i % 2, texts[1]);
    GEOSGeometry *difference = GEOSDifference_r(geos, a, b);
    girdle_region *rest = without_all(shapes, 2, NULL);
    double area, length;
    GEOSArea_r(geos, difference, &area);
    GEOSLength_r(geos, difference, &length);
    if (!rest) assert_near(area, 0, 1e-12);
    if (rest && fabs(girdle_region_perimeter_mm(rest) - length) > 1e-9 * length)
      print_error("%s\n%s\n", texts[0], texts[1]);
    if (rest) assert_near(girdle_region_area_mm2(rest), area, 1e-9 * (1 + area));
    if (rest) assert_near(girdle_region_perimeter_mm(rest), length, 1e-9 * length);
    girdle_region_free(rest);
    GEOSGeom_destroy_r(geos, a);
    GEOSGeom_destroy_r(geos, b);
    GEOSGeom_destroy_r(geos, difference);
  }
  GEOS_finish_r(geos);
}

/* ---- curves on whole numbers, so that many touch */

static void random_shape(uint64_t *seed, char *text) {
  double x = floor(8 * test_uniform(seed)), y = floor(8 * test_uniform(seed)), w = 1 + floor(4 * test_uniform(seed)),
         h = 1 + floor(4 * test_uniform(seed));
  switch ((int)(4 * test_uniform(seed))) {
    case 0:
      sprintf(text, "M%g %gh%gv%gh%gz", x, y, 2 * w, 2 * h, -2 * w);
      break;
    case 1:
      sprintf(text, "M%g %ga%g %g 0 0 1 %g 0a%g %g 0 0 1 %g 0z", x, y, w, h, 2 * w, w, h, -2 * w);
      break;
    case 2:
      sprintf(text, "M%g %ga%g %g 0 0 1 %g 0z", x, y, w, w, 2 * w);
      break;
    default:
      sprintf(text, "M%g %gq%g %g %g 0z", x, y, w, 2 * h, 2 * w);
  }
}

/* Where curves touch and bend alike the turned ones may meet a little earlier or later: what is within 1e-12 of the
 * coordinates (here up to 24) counts as met. Circles, ellipses and parabolas of these sizes that touch in contact of
 * the third order leave each other as 3/512 of the fourth power of the way or faster (a circle of radius 4 in an
 * ellipse of 2 by 1), so that each of four ends moves by the fourth root of 24e-12 x 512/3, 0.008, at most; such are
 * rare. */
static void region_without_outlives_another_order_and_turning(void **state) {
  uint64_t seed = 12;
  int left = 0, alike = 0;
  (void)state;
  for (int i = 0; i < rounds(10000); i++) {
    double angle = 7 * test_uniform(&seed), turn[6] = {cos(angle), sin(angle), -sin(angle), cos(angle), 17, -4};
    char texts[4][200];
    const char *shapes[4] = {texts[0], texts[1], texts[2], texts[3]};
    girdle_region *rest, *other, *turned;
    for (int k = 0; k < 4; k++)
      random_shape(&seed, texts[k]);
    rest = without_all(shapes, 4, NULL);
    turned = without_all(shapes, 4, turn);
    shapes[1] = texts[3];
    shapes[3] = texts[1];
    other = without_all(shapes, 4, NULL);
    assert_int_equal(!rest, !other);
    assert_int_equal(!rest, !turned);
    if (rest) {
      double area = girdle_region_area_mm2(rest), length = girdle_region_perimeter_mm(rest);
      left++;
      assert_near(girdle_region_area_mm2(other), area, 1e-9);
      assert_near(girdle_region_perimeter_mm(other), length, 1e-9);
      assert_near(girdle_region_area_mm2(turned), area, 1e-8);
      assert_near(girdle_region_perimeter_mm(turned), length, 0.032);
      alike += fabs(girdle_region_perimeter_mm(turned) - length) > 5e-3;
    }
    girdle_region_free(rest);
    girdle_region_free(other);
    girdle_region_free(turned);
  }
  assert_true(left > rounds(10000) / 2);
  assert_true(alike <= rounds(10000) / 1000);
}

/* ---- combs, slivers and crossings at tiny angles */

/* A bar 5 mm deep with teeth so wide, so far apart and so high on it; area of the drawn numbers, shoelace by hand. */
static girdle_region *comb_of(int teeth, double wide, double apart, double high, double *area) {
  char *data = malloc((size_t)teeth * 240 + 200), *at = data;
  girdle_region *region = NULL;
  double x = 0;
  *area = 0;
  at += sprintf(at, "M0 0");
  for (int i = 0; i < teeth; i++, x += apart) {
    double right = x + wide;
    at += sprintf(at, "L%.17g 0L%.17g %.17gL%.17g %.17gL%.17g 0", x, x, -high, right, -high, right);
    *area += (right - x) * high;
    x = right;
  }
  x -= apart;
  sprintf(at, "L%.17g 5L0 5Z", x);
  *area += 5 * x;
  if (girdle_region_from_text(NULL, data, &region)) print_error("teeth of %g, %g apart\n", wide, apart);
  free(data);
  return region;
}

/* Teeth and what is between them may be far below what counts as touching; none of them crosses another. */
static void region_new_takes_combs_with_teeth_of_any_width(void **state) {
  static const struct {
    double wide, apart, high;
  } cases[] = {{1e-9, 1e-3, 1}, {1e-3, 1e-9, 1}, {1e-9, 1, 10},   {0.1, 1e-9, 10}, {1e-7, 1e-7, 10},   {1e-6, 1e-6, 10},
               {1e-4, 1e-4, 1}, {1, 1, 1e-9},    {1e-9, 1, 1e-9}, {1, 1e-9, 1},    {1e-9, 1e-9, 1e-9}, {1, 1, 1}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    double area;
    girdle_region *region = comb_of(1000, cases[i].wide, cases[i].apart, cases[i].high, &area);
    assert_non_null(region);
    assert_near(girdle_region_area_mm2(region) / area, 1, 1e-9);
    girdle_region_free(region);
  }
}

/* A line, and a parabola that crosses it at an angle of 2 high / 1000, bent by a tenth of that. */
static void path_meetings_finds_crossings_at_tiny_angles(void **state) {
  (void)state;
  for (double high = 300; high >= 1e-3; high /= 3) {
    char data[300];
    girdle_path *path = NULL;
    girdle_region *region = NULL;
    girdle_meeting found[4];
    uint64_t count;
    /* high (1 - 2 t) + 2 (high / 10) t (1 - t) = 0, that is 2 t^2 + 18 t - 10 = 0 */
    double place = 1000 * (1 - (sqrt(18 * 18 + 4 * 2 * 10) - 18) / 4);
    snprintf(data, sizeof data, "M0 0H1000V%.17gQ500 %.17g 0 %.17gZ", high, high / 10, -high);
    assert_int_equal(girdle_path_from_text(NULL, data, &path), GIRDLE_OK);
    assert_int_equal(girdle_path_meetings(NULL, path, NULL, found, 4, &count), GIRDLE_OK);
    if (count != 1 || !found[0].crosses) print_error("%s: %d meetings\n", data, (int)count);
    assert_int_equal(count, 1);
    assert_int_equal(found[0].crosses, 1);
    assert_near(found[0].x_mm, place, 1e-5 / high + 1e-9);
    assert_int_equal(girdle_region_new(NULL, path, GIRDLE_NONZERO, &region), GIRDLE_GEOMETRY);
    girdle_path_free(path);
  }
}

/* The curve leaves the line on one side, is nowhere farther than 0.006 mm from it for 0.3 m, and crosses it. */
static void region_new_tells_where_an_outline_crosses_itself_at_a_tiny_angle(void **state) {
  test_call test;
  girdle_region *region = NULL;
  (void)state;
  assert_status(&test, girdle_region_from_text(test_begin(&test), "M8955 25zl.450 0C204 0 -10 40 40 0", &region),
                GIRDLE_GEOMETRY);
  assert_non_null(strstr(test.error.message, "crosses itself at x 8639.99"));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(region_without_is_exact_where_outlines_touch),
      cmocka_unit_test(region_without_takes_nearly_the_same_outline_twice),
      cmocka_unit_test(path_meetings_gives_each_touch_once_at_its_place),
      cmocka_unit_test(region_without_agrees_with_geos_to_rounding),
      cmocka_unit_test(region_without_outlives_another_order_and_turning),
      cmocka_unit_test(region_new_takes_combs_with_teeth_of_any_width),
      cmocka_unit_test(path_meetings_finds_crossings_at_tiny_angles),
      cmocka_unit_test(region_new_tells_where_an_outline_crosses_itself_at_a_tiny_angle),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
