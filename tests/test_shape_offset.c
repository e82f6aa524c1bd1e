/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

#include "shape_internal.h"

static const double half_turn = 3.141592653589793238463;

static girdle_region *read_region(test_call *test, const char *text) {
  girdle_region *region = NULL;
  assert_ok(test, girdle_region_from_text(&test->call, text, &region));
  return region;
}

static girdle_path *read_path(test_call *test, const char *text) {
  girdle_path *path = NULL;
  assert_ok(test, girdle_path_from_text(&test->call, text, &path));
  return path;
}

/* J. Steiner's formula for convex sets: area A + P d + pi d^2, perimeter P + 2 pi d. */
static void region_inset_grows_by_steiners_formula(void **state) {
  static const struct {
    const char *text;
    double grow, tolerance;
  } cases[] = {
      {"rectangle 1 mm x 1 mm", 0.5, 1e-9}, {"M0 0L3 0L0 4Z", 1, 1e-8},       {"rectangle 10 mm x 20 mm", 2, 1e-7},
      {"oval 60 mm x 60 mm", 7, 1e-6},      {"oval 80 mm x 30 mm", 12, 1e-2}, {"M0 0Q50 100 100 0Z", 5, 1e-2},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_region *region, *grown = NULL;
    double area, perimeter, d = cases[i].grow;
    test_begin(&test);
    region = read_region(&test, cases[i].text);
    area = girdle_region_area_mm2(region);
    perimeter = girdle_region_perimeter_mm(region);
    assert_ok(&test, girdle_region_inset(&test.call, region, -d, &grown));
    assert_near(girdle_region_area_mm2(grown), area + perimeter * d + half_turn * d * d, cases[i].tolerance);
    assert_near(girdle_region_perimeter_mm(grown), perimeter + 2 * half_turn * d, cases[i].tolerance);
    girdle_region_free(region);
    girdle_region_free(grown);
    assert_int_equal(test.live_bytes, 0);
  }
}

static void region_inset_shrinks(void **state) {
  static const struct {
    const char *text;
    double inset, area, perimeter, tolerance;
  } cases[] = {
      {"rectangle 10 mm x 20 mm", 2, 96, 44, 1e-8},
      {"oval 60 mm x 60 mm", 7, half_turn * 23 * 23, half_turn * 46, 1e-8},
      {"M0 0H100V60H60V30H40V60H0Z", 10, 80 * 10 + 2 * 20 * 30 + 2 * (100 - half_turn * 100 / 4), 0, 1e-7},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_region *region, *inset = NULL;
    test_begin(&test);
    region = read_region(&test, cases[i].text);
    assert_ok(&test, girdle_region_inset(&test.call, region, cases[i].inset, &inset));
    assert_near(girdle_region_area_mm2(inset), cases[i].area, cases[i].tolerance);
    if (cases[i].perimeter > 0) assert_near(girdle_region_perimeter_mm(inset), cases[i].perimeter, cases[i].tolerance);
    girdle_region_free(region);
    girdle_region_free(inset);
  }
}

static void region_inset_says_when_nothing_is_left(void **state) {
  test_call test;
  girdle_region *region, *inset = NULL;
  (void)state;
  test_begin(&test);
  region = read_region(&test, "rectangle 10 mm x 20 mm");
  assert_status(&test, girdle_region_inset(&test.call, region, 5.1, &inset), GIRDLE_GEOMETRY);
  assert_status(&test, girdle_region_inset(test_again(&test), region, 5, &inset), GIRDLE_GEOMETRY);
  assert_status(&test, girdle_region_inset(test_again(&test), region, NAN, &inset), GIRDLE_ARGUMENT);
  assert_null(inset);
  girdle_region_free(region);
  assert_int_equal(test.live_bytes, 0);
}

static void region_inset_falls_apart_at_a_waist(void **state) {
  test_call test;
  girdle_region *region, *inset = NULL;
  (void)state;
  test_begin(&test);
  region = read_region(&test, "M0 0H40V18H60V0H100V40H60V22H40V40H0Z");
  assert_ok(&test, girdle_region_inset(&test.call, region, 5, &inset));
  /* two squares, and where each looks into the waist the bow left by the discs about its two corners */
  assert_near(girdle_region_area_mm2(inset), 2 * (30 * 30) + 2 * (20 - 2 * sqrt(21) - 25 * asin(0.4)), 1e-7);
  girdle_region_free(inset);
  girdle_region_free(region);
}

static void path_offset_lies_on_the_asked_side(void **state) {
  test_call test;
  girdle_path *line, *loop, *out = NULL;
  girdle_point_on at;
  (void)state;
  test_begin(&test);
  line = read_path(&test, "line 100 mm");
  loop = read_path(&test, "loop 100 mm");
  assert_ok(&test, girdle_path_offset(&test.call, line, 5, &out));
  assert_near(girdle_path_length_mm(out), 100, 1e-12);
  assert_ok(&test, girdle_path_at(&test.call, out, 10, &at));
  assert_near(at.x_mm, 10, 1e-12);
  assert_near(at.y_mm, 5, 1e-12);
  girdle_path_free(out);
  assert_ok(&test, girdle_path_offset(&test.call, loop, 5, &out));
  assert_near(girdle_path_length_mm(out), 100 - 10 * half_turn, 1e-7);
  assert_int_equal(girdle_path_is_closed(out), 1);
  girdle_path_free(out);
  assert_ok(&test, girdle_path_offset(&test.call, loop, -5, &out));
  assert_near(girdle_path_length_mm(out), 100 + 10 * half_turn, 1e-7);
  girdle_path_free(out);
  out = NULL;
  assert_status(&test, girdle_path_offset(&test.call, loop, 16, &out), GIRDLE_GEOMETRY);
  assert_null(out);
  girdle_path_free(line);
  girdle_path_free(loop);
}

static void path_offset_by_nothing_is_the_same_path(void **state) {
  static const char data[] = "M 1 2L 30 4C 40 5 60 7 80 9Q 90 -10 100 11A 20 20 0 0 1 120 31L 1 2Z";
  test_call test;
  girdle_path *path = (test_begin(&test), read_path(&test, data)), *same = NULL;
  char text[200];
  (void)state;
  assert_ok(&test, girdle_path_offset(&test.call, path, 0, &same));
  girdle_path_text(same, text, sizeof text);
  assert_string_equal(text, data);
  girdle_path_free(path);
  girdle_path_free(same);
}

static void path_offset_of_lines_over_each_other(void **state) {
  static const struct {
    const char *data;
    double distance, length;
    uint64_t parts;
  } cases[] = {
      {"M0 0H100M0 0H100", 5, 100, 1},                   /* drawn twice */
      {"M0 0H50H100", 5, 100, 1},                        /* a joint that is no corner */
      {"M0 0H100H0", 5, 200 + 5 * 3.141592653589793, 1}, /* there and back */
      {"M0 0H100M100 0H0", 5, 200, 2},                   /* both ways */
      {"M0 0H100V6H0", 5, 0, 0},                         /* nothing fits between */
      {"M0 0H100V6H0", 3, 194, 1},                       /* the middle line, met from both sides: there and back */
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_path *path = (test_begin(&test), read_path(&test, cases[i].data)), *out = NULL;
    int32_t status = girdle_path_offset(&test.call, path, cases[i].distance, &out);
    assert_status(&test, status, cases[i].parts ? GIRDLE_OK : GIRDLE_GEOMETRY);
    if (out) assert_near(girdle_path_length_mm(out), cases[i].length, 1e-8);
    if (out) assert_int_equal(girdle_path_subpaths(out), cases[i].parts);
    girdle_path_free(path);
    girdle_path_free(out);
  }
}

static void path_offset_of_a_smooth_curve_has_no_corner(void **state) {
  test_call test;
  girdle_path *path = NULL;
  (void)state;
  test_begin(&test);
  assert_ok(&test, girdle_path_from_text(&test.call, "M0 0C60 90 120 -60 200 10", &path));
  for (double distance = -6; distance < 7; distance += 0.5) {
    girdle_path *out = NULL;
    uint64_t corners;
    assert_ok(&test, girdle_path_offset(&test.call, path, distance, &out));
    assert_ok(&test, girdle_path_turns(&test.call, out, 0.1, NULL, 0, &corners));
    assert_int_equal(corners, 0);
    assert_int_equal(girdle_path_subpaths(out), 1);
    girdle_path_free(out);
  }
  girdle_path_free(path);
  assert_int_equal(test.live_bytes, 0);
}

/* A circle of so many corners, each rounded to nine digits, so that it bends in and out. */
static girdle_region *rounded_circle(test_call *test, int corners) {
  char *text = malloc((size_t)corners * 48 + 8), *at = text;
  girdle_path *path = NULL;
  girdle_region *region = NULL;
  for (int i = 0; i < corners; i++)
    at += sprintf(at, "%c%.9g %.9g", i ? 'L' : 'M', 1000 * cos(2 * half_turn * i / corners),
                  1000 * sin(2 * half_turn * i / corners));
  strcpy(at, "z");
  assert_ok(test, girdle_path_parse(&test->call, text, strlen(text), &path));
  assert_ok(test, girdle_region_new(&test->call, path, GIRDLE_NONZERO, &region));
  girdle_path_free(path);
  free(text);
  return region;
}

static void region_inset_of_a_circle_of_many_corners_closes(void **state) {
  static const double distances[] = {10, -10, 500, 990};
  static const int corners[] = {1000, 10000, 50000, 1000000};
  int sizes = getenv("GIRDLE_PROOF") ? 4 : 3;
  (void)state;
  for (int k = 0; k < sizes; k++) {
    test_call test;
    girdle_region *region = (test_begin(&test), rounded_circle(&test, corners[k]));
    for (int i = 0; i < (k < 2 ? 4 : 2); i++) {
      girdle_region *in = NULL;
      double radius = 1000 - distances[i], flat = pow(2 * half_turn / corners[k], 2); /* corners lie inside the arc */
      assert_ok(&test, girdle_region_inset(&test.call, region, distances[i], &in));
      assert_near(girdle_region_perimeter_mm(in), 2 * half_turn * radius, 2 * half_turn * 1000 * flat + 1e-4);
      assert_near(girdle_region_area_mm2(in), half_turn * radius * radius,
                  2 * half_turn * radius * (1000 * flat + 1e-5));
      assert_int_equal(girdle_region_holes(in), 0);
      girdle_region_free(in);
    }
    girdle_region_free(region);
    assert_int_equal(test.live_bytes, 0);
  }
}

/* Steps of 1e-9 mm: what is so fine is passed over, but not the line it makes. */
static void path_offset_of_many_tiny_steps_is_quick_and_whole(void **state) {
  enum { STEPS = 100000 };
  char *text = malloc((size_t)STEPS * 24 + 8), *at = text;
  test_call test;
  girdle_path *path = NULL, *out = NULL;
  (void)state;
  test_begin(&test);
  at += sprintf(at, "M0 0");
  for (int i = 1; i <= STEPS; i++)
    at += sprintf(at, "L%.10g 0", i * 1e-9);
  assert_ok(&test, girdle_path_parse(&test.call, text, strlen(text), &path));
  free(text);
  assert_ok(&test, girdle_path_offset(&test.call, path, 1, &out));
  assert_near(girdle_path_length_mm(out), STEPS * 1e-9, 1e-15);
  girdle_path_free(out);
  assert_ok(&test, girdle_path_offset(&test.call, path, 1e-9, &out));
  assert_near(girdle_path_length_mm(out), STEPS * 1e-9, 1e-15);
  girdle_path_free(out);
  girdle_path_free(path);
  assert_int_equal(test.live_bytes, 0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(region_inset_grows_by_steiners_formula),
      cmocka_unit_test(region_inset_shrinks),
      cmocka_unit_test(region_inset_says_when_nothing_is_left),
      cmocka_unit_test(region_inset_falls_apart_at_a_waist),
      cmocka_unit_test(path_offset_lies_on_the_asked_side),
      cmocka_unit_test(path_offset_by_nothing_is_the_same_path),
      cmocka_unit_test(path_offset_of_lines_over_each_other),
      cmocka_unit_test(path_offset_of_a_smooth_curve_has_no_corner),
      cmocka_unit_test(region_inset_of_a_circle_of_many_corners_closes),
      cmocka_unit_test(path_offset_of_many_tiny_steps_is_quick_and_whole),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
