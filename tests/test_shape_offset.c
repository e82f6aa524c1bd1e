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

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(region_inset_grows_by_steiners_formula), cmocka_unit_test(region_inset_shrinks),
      cmocka_unit_test(region_inset_says_when_nothing_is_left), cmocka_unit_test(region_inset_falls_apart_at_a_waist),
      cmocka_unit_test(path_offset_lies_on_the_asked_side),     cmocka_unit_test(path_offset_of_lines_over_each_other),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
