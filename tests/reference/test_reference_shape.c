/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

/* Lengths and areas against published values; each test names its source. */

static const double half_turn = 3.141592653589793238463;

static girdle_path *read_path(test_call *test, const char *data) {
  girdle_path *path = NULL;
  assert_ok(test, girdle_path_parse(&test->call, data, strlen(data), &path));
  return path;
}

static double length_of(const char *data) {
  test_call test;
  girdle_path *path = (test_begin(&test), read_path(&test, data));
  double length = girdle_path_length_mm(path);
  girdle_path_free(path);
  return length;
}

static double area_of(const char *data) {
  test_call test;
  girdle_region *region = NULL;
  double area;
  assert_ok(&test, girdle_region_from_text(test_begin(&test), data, &region));
  area = girdle_region_area_mm2(region);
  girdle_region_free(region);
  return area;
}

static double oval_perimeter(double a, double b) {
  test_call test;
  girdle_region *oval = NULL;
  double perimeter;
  assert_ok(&test, girdle_region_oval(test_begin(&test), 2 * a, 2 * b, &oval));
  perimeter = girdle_region_perimeter_mm(oval);
  girdle_region_free(oval);
  return perimeter;
}

/* Abramowitz & Stegun (1964), table 17.1: complete elliptic integral E of the parameter m. A quarter of the perimeter
 * of an ellipse of half axes 1 and sqrt(1 - m). */
static void region_oval_perimeter_gives_elliptic_integrals(void **state) {
  static const double table[][2] = {
      {0, 1.570796326794896619},    {0.1, 1.530757636897763202}, {0.2, 1.489035058095852929},
      {0.25, 1.467462209339427155}, {0.3, 1.445363064412665262}, {0.4, 1.399392138897432250},
      {0.5, 1.350643881047675503},  {0.6, 1.298428035046913168}, {0.7, 1.241670567945822751},
      {0.75, 1.211056027568459525}, {0.8, 1.178489924327838523}, {0.9, 1.104774732704073326},
      {0.99, 1.015993545025223936}};
  (void)state;
  for (size_t i = 0; i < sizeof table / sizeof table[0]; i++)
    assert_near(oval_perimeter(100, 100 * sqrt(1 - table[i][0])) / 400, table[i][1], 2e-11);
  assert_near(oval_perimeter(1000, 1e-3) / 4000, 1, 1e-9); /* E(1) = 1 */
}

/* The same by the modulus k: test data published with the Boost.Math library (ellint_2_data). */
static void region_oval_perimeter_gives_elliptic_integrals_by_modulus(void **state) {
  static const double table[][2] = {{0.2, 1.554968546242529283}, {0.3, 1.534833464923249042},
                                    {0.4, 1.505941612360040352}, {0.6, 1.418083394448724232},
                                    {0.8, 1.276349943169906423}, {0.9, 1.171697052781614141}};
  (void)state;
  for (size_t i = 0; i < sizeof table / sizeof table[0]; i++)
    assert_near(oval_perimeter(100, 100 * sqrt(1 - table[i][0] * table[i][0])) / 400, table[i][1], 2e-11);
}

/* Ten figures from a published test table ("Circumference of an ellipse", Code Golf Stack Exchange), more digits by
 * 4 a E(1 - b^2/a^2) recomputed in high precision; the published 6.925791195 for (1.2, 1) is cut off. */
static void region_oval_perimeter_is_that_of_an_ellipse(void **state) {
  static const double table[][4] = {
      {1, 1, 6.283185307179586, 1e-11}, {1.2, 1, 6.92579119580968, 1e-11}, {1.5, 1, 7.932719795, 1e-9},
      {2, 1, 9.68844822054768, 1e-11},  {3, 1, 13.3648932205553, 1e-11},   {5, 1, 21.0100445396890, 1e-11},
      {20, 10, 96.88448220, 1e-8},      {123, 45, 556.6359936, 1e-7},      {10, 5, 48.4422411027384, 1e-11},
      {4, 3, 22.1034921607095, 1e-11},  {5, 3, 25.5269988633981, 1e-11},   {10, 1, 40.6397418010090, 1e-11}};
  (void)state;
  for (size_t i = 0; i < sizeof table / sizeof table[0]; i++)
    assert_near(oval_perimeter(table[i][0], table[i][1]), table[i][2], table[i][3]);
}

/* Closed form by asinh; the control points and values stand in the docstrings of fontTools, misc/bezierTools. */
static void path_length_of_quadratics(void **state) {
  (void)state;
  assert_near(length_of("M0 0Q0 100 100 0"), 154.02976155645263, 1e-11);
  assert_near(length_of("M0 0Q0 50 100 0"), 120.21581243984076, 1e-11);
  assert_near(length_of("M0 0Q50-10 80 50"), 102.53273816445825, 1e-11);
  assert_near(length_of("M0 0Q50 20 100 40"), 107.70329614269008, 1e-11);
  assert_near(length_of("M0 0Q40 0-40 0"), 66.66666666666667, 1e-11);
  assert_near(length_of("M0 0Q40 0 0 0"), 40, 1e-11);
  assert_near(length_of("M210 333Q289 333 326.5 290.5"), 127.92252850725, 1e-10);
  assert_near(length_of("M0 0Q.5 0 1 1"), sqrt(5) / 2 + asinh(2) / 4, 1e-12); /* y = x^2 */
}

/* Control points from the docstrings of fontTools, misc/bezierTools, whose own figures are 5-point approximations
 * (190.0433, 154.8852, 136.93); the true lengths were recomputed with 2e5 panels of Simpson's rule. The first is a
 * Pythagorean hodograph of speed 300 (1 - 2 t (1 - t)), whose length is 200 exactly. */
static void path_length_of_cubics(void **state) {
  (void)state;
  assert_near(length_of("M0 0C0 100 100 100 100 0"), 200, 1e-11);
  assert_near(length_of("M0 0C25 100 75 100 100 0"), 190.833315125123, 1e-10);
  assert_near(length_of("M0 0C50 0 100 50 100 100"), 154.886798803181, 1e-10);
  assert_near(length_of("M120 160C35 200 220 260 220 40"), 272.870029782103, 1e-10);
  assert_near(length_of("M0 0C50 0 100 0 150 0"), 150, 1e-11);
  assert_near(length_of("M0 0C50 0 100 0-50 0"), 150, 1e-9);
}

static const char four_cubics[] =
    "M1 0C1 .5522847498307936 .5522847498307936 1 0 1C-.5522847498307936 1-1 .5522847498307936-1 0"
    "C-1-.5522847498307936-.5522847498307936-1 0-1C.5522847498307936-1 1-.5522847498307936 1 0Z";

/* S. Mortensen, "Approximate a circle with cubic Bezier curves": 4 (sqrt 2 - 1) / 3, largest drift 0.027253 %, never
 * inside; length and area recomputed. */
static void path_of_four_cubics_is_nearly_a_circle(void **state) {
  test_call test;
  girdle_path *path;
  double most = 0, least = 2;
  (void)state;
  assert_near(length_of(four_cubics), 6.28406679, 1e-8);
  assert_near(area_of(four_cubics), 3.1424723327, 1e-9);
  test_begin(&test);
  path = read_path(&test, four_cubics);
  for (int i = 0; i < 4000; i++) {
    girdle_point_on at;
    assert_ok(&test, girdle_path_at(&test.call, path, girdle_path_length_mm(path) * i / 4000, &at));
    most = fmax(most, hypot(at.x_mm, at.y_mm));
    least = fmin(least, hypot(at.x_mm, at.y_mm));
  }
  assert_near(most, 1.00027253, 2e-8);
  assert_true(least >= 1 - 1e-12);
  girdle_path_free(path);
}

/* The same source's best-fit constant 0.551915024494; relative length and area recomputed. */
static void path_of_four_cubics_of_best_fit(void **state) {
  static const char data[] =
      "M1 0C1 .551915024494 .551915024494 1 0 1C-.551915024494 1-1 .551915024494-1 0"
      "C-1-.551915024494-.551915024494-1 0-1C.551915024494-1 1-.551915024494 1 0Z";
  (void)state;
  assert_near(length_of(data) / (2 * half_turn) - 1, 3.810e-5, 5e-9);
  assert_near(area_of(data) / half_turn - 1, 7.553e-5, 5e-9);
}

/* ArcTest of the svgpathtools library (centres, angles); algorithm: SVG 2, appendix B.2.4 and B.2.5. The four arcs from
 * (0, 0) to (100, 50) of radii 100 and 50. */
static void path_parse_finds_the_centre_of_arcs(void **state) {
  static const struct {
    const char *data;
    double centre_x, centre_y, middle_x, middle_y, turn_deg;
  } cases[] = {{"M0 0A100 50 0 0 0 100 50", 100, 0, 29.2893218813, 35.3553390593, -90},
               {"M0 0A100 50 0 1 0 100 50", 0, 50, -70.7106781187, 85.3553390593, -270},
               {"M0 0A100 50 0 0 1 100 50", 0, 50, 70.7106781187, 14.6446609407, 90},
               {"M0 0A100 50 0 1 1 100 50", 100, 0, 170.710678119, -35.3553390593, 270}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_path *path;
    double along, distance, whole;
    test_begin(&test);
    path = read_path(&test, cases[i].data);
    assert_ok(&test, girdle_path_nearest(&test.call, path, cases[i].middle_x, cases[i].middle_y, &along, &distance));
    assert_near(distance, 0, 1e-8);
    for (int k = 0; k <= 40; k++) {
      girdle_point_on at;
      assert_ok(&test, girdle_path_at(&test.call, path, girdle_path_length_mm(path) * k / 40, &at));
      assert_near(hypot((at.x_mm - cases[i].centre_x) / 100, (at.y_mm - cases[i].centre_y) / 50), 1, 1e-12);
    }
    whole = oval_perimeter(100, 50);
    assert_near(girdle_path_length_mm(path), whole * fabs(cases[i].turn_deg) / 360, 1e-9);
    girdle_path_free(path);
  }
}

/* The rule r <- sqrt(Lambda) r of SVG 2, B.2.5, for an arc of SVG 1.1, 8.3.8: the chord is longer than the diameter. */
static void path_parse_corrects_radii_that_are_too_small(void **state) {
  double chord = hypot(50, 25);
  (void)state;
  assert_near(chord, 55.9016994375, 1e-10);
  assert_near(length_of("M0 0a25,25 -30 0,1 50,-25"), half_turn * chord / 2, 1e-11);
  assert_near(length_of("M0 0a25,25 -30 0,1 50,-25"), 87.81, 5e-3);
}

/* CSS Values and Units 3, 5.2: an inch is 25.4 mm, and so are 2.54 cm. */
static void path_from_text_reads_the_inch(void **state) {
  static const char *const texts[] = {"line 1 in", "line 2.54 cm", "line 25.4 mm"};
  (void)state;
  for (int i = 0; i < 3; i++) {
    test_call test;
    girdle_path *path = NULL;
    assert_ok(&test, girdle_path_from_text(test_begin(&test), texts[i], &path));
    assert_near(girdle_path_length_mm(path), 25.4, 1e-13);
    girdle_path_free(path);
  }
}

/* Rosetta Code, "Shoelace formula for polygonal area". */
static void region_area_by_the_shoelace(void **state) {
  (void)state;
  assert_near(area_of("M3 4L5 11L12 8L9 5L5 6Z"), 30, 1e-12);
}

/* K. Rutanen, "Area of a Closed Bezier Curve": 20 times the area from the twelve coefficients. */
static void region_area_of_cubics(void **state) {
  (void)state;
  assert_near(area_of("M0 0C0 100 100 100 100 0Z"), 6000, 1e-10);
  assert_near(area_of("M0 0C25 100 75 100 100 0Z"), 5250, 1e-10);
  assert_near(area_of("M0 0L1 0C1 .5522847498307936 .5522847498307936 1 0 1Z") * 4, 3.1424723327, 1e-9);
}

/* Archimedes, Quadrature of the Parabola: two thirds of the control triangle (from memory). */
static void region_area_of_a_parabola(void **state) {
  (void)state;
  assert_near(area_of("M0 0Q50 100 100 0Z"), 3333.3333333333333, 1e-10);
}

/* J. Steiner's formula for convex sets, A + P d + pi d^2 and P + 2 pi d (as quoted by L. Santalo's followers). */
static void region_inset_follows_steiner(void **state) {
  static const struct {
    const char *text;
    double grow, area, perimeter;
  } cases[] = {{"M0 0H1V1H0Z", 0.5, 3.7853981634, 7.1415926536},
               {"M0 0H3L0 4Z", 1, 21.1415926536, 18.2831853072},
               {"rectangle 10 mm x 20 mm", 2, 332.5663706144, 72.5663706144}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_region *region = NULL, *grown = NULL;
    assert_ok(&test, girdle_region_from_text(test_begin(&test), cases[i].text, &region));
    assert_ok(&test, girdle_region_inset(&test.call, region, -cases[i].grow, &grown));
    assert_near(girdle_region_area_mm2(grown), cases[i].area, 2e-7);
    assert_near(girdle_region_perimeter_mm(grown), cases[i].perimeter, 2e-7);
    girdle_region_free(region);
    girdle_region_free(grown);
  }
}

/* Inwards a polygon keeps its corners: 10 x 20 less 2 is 6 x 16, unlike a smooth outline, whose area follows the
 * formula with a negative distance. */
static void region_inset_of_a_polygon_is_no_steiner(void **state) {
  test_call test;
  girdle_region *region = NULL, *less = NULL;
  (void)state;
  assert_ok(&test, girdle_region_rectangle(test_begin(&test), 10, 20, &region));
  assert_ok(&test, girdle_region_inset(&test.call, region, 2, &less));
  assert_near(girdle_region_area_mm2(less), 96, 1e-9);
  assert_near(girdle_region_perimeter_mm(less), 44, 1e-9);
  girdle_region_free(region);
  girdle_region_free(less);
  assert_ok(&test, girdle_region_oval(test_again(&test), 60, 40, &region));
  assert_ok(&test, girdle_region_inset(&test.call, region, 3, &less));
  assert_near(girdle_region_area_mm2(less),
              girdle_region_area_mm2(region) - 3 * girdle_region_perimeter_mm(region) + 9 * half_turn, 1e-3);
  girdle_region_free(region);
  girdle_region_free(less);
}

/* pi a b. */
static void region_area_of_an_oval(void **state) {
  test_call test;
  girdle_region *oval = NULL;
  (void)state;
  assert_ok(&test, girdle_region_oval(test_begin(&test), 10, 6, &oval));
  assert_near(girdle_region_area_mm2(oval), 47.1238898038469, 1e-12);
  girdle_region_free(oval);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(region_oval_perimeter_gives_elliptic_integrals),
      cmocka_unit_test(region_oval_perimeter_gives_elliptic_integrals_by_modulus),
      cmocka_unit_test(region_oval_perimeter_is_that_of_an_ellipse),
      cmocka_unit_test(path_length_of_quadratics),
      cmocka_unit_test(path_length_of_cubics),
      cmocka_unit_test(path_of_four_cubics_is_nearly_a_circle),
      cmocka_unit_test(path_of_four_cubics_of_best_fit),
      cmocka_unit_test(path_parse_finds_the_centre_of_arcs),
      cmocka_unit_test(path_parse_corrects_radii_that_are_too_small),
      cmocka_unit_test(path_from_text_reads_the_inch),
      cmocka_unit_test(region_area_by_the_shoelace),
      cmocka_unit_test(region_area_of_cubics),
      cmocka_unit_test(region_area_of_a_parabola),
      cmocka_unit_test(region_inset_follows_steiner),
      cmocka_unit_test(region_inset_of_a_polygon_is_no_steiner),
      cmocka_unit_test(region_area_of_an_oval),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
