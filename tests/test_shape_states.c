/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

/* Fabric that lies one way and then another, and back: everything is what it was, to 1e-12 of itself. */

static double between(uint64_t *random, double from, double to) {
  return from + (to - from) * test_uniform(random);
}

static girdle_lie random_lie(uint64_t *random) {
  return (girdle_lie){between(random, -0.5, 4), between(random, -0.5, 4)};
}

static void add_point(char *text, uint64_t *random, int count) {
  for (int i = 0; i < count; i++)
    sprintf(text + strlen(text), " %d.%03d", (int)between(random, -500, 500), (int)between(random, 0, 1000));
}

/* Lines, curves and arcs; coordinates to 500 mm. */
static girdle_path *random_path(test_call *test, uint64_t *random) {
  char text[1024] = "M";
  girdle_path *path = NULL;
  int pieces = 1 + (int)(test_random(random) % 6);
  add_point(text, random, 2);
  for (int i = 0; i < pieces; i++) {
    int kind = (int)(test_random(random) % 4);
    if (kind == 3)
      sprintf(text + strlen(text), " A %d %d %d %d %d", 5 + (int)between(random, 0, 300),
              5 + (int)between(random, 0, 300), (int)between(random, 0, 180), (int)(test_random(random) % 2),
              (int)(test_random(random) % 2));
    else
      sprintf(text + strlen(text), " %c", "LQC"[kind]);
    add_point(text, random, kind == 3 ? 2 : 2 + 2 * kind);
  }
  assert_ok(test, girdle_path_parse(&test->call, text, strlen(text), &path));
  return path;
}

static void same_extent(const girdle_path *a, const girdle_path *b) {
  girdle_box was, is;
  double size;
  girdle_path_box(a, &was);
  girdle_path_box(b, &is);
  size = fmax(fmax(fabs(was.left_mm), fabs(was.right_mm)), fmax(fabs(was.top_mm), fabs(was.bottom_mm)));
  assert_near(is.left_mm, was.left_mm, 1e-12 * size);
  assert_near(is.right_mm, was.right_mm, 1e-12 * size);
  assert_near(is.top_mm, was.top_mm, 1e-12 * size);
  assert_near(is.bottom_mm, was.bottom_mm, 1e-12 * size);
}

static void path_stretched_there_and_back_over_random_paths(void **state) {
  uint64_t random = 17;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < (getenv("GIRDLE_PROOF") ? 100000 : 10000); i++) {
    girdle_path *path = random_path(&test, &random), *there = NULL, *back = NULL;
    girdle_lie one = random_lie(&random), other = random_lie(&random);
    double length = girdle_path_length_mm(path);
    assert_ok(&test, girdle_path_stretched(&test.call, path, &one, &other, &there));
    assert_ok(&test, girdle_path_stretched(&test.call, there, &other, &one, &back));
    assert_near(girdle_path_length_mm(back), length, 1e-12 * length);
    same_extent(path, back);
    girdle_path_free(path);
    girdle_path_free(there);
    girdle_path_free(back);
  }
  assert_int_equal(test.live_bytes, 0);
}

/* Areas grow by both shares, exactly; a line along the fabric by its own. */
static void region_stretched_there_and_back_over_random_ovals(void **state) {
  uint64_t random = 18;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 2000; i++) {
    girdle_region *oval = NULL, *there = NULL, *back = NULL;
    girdle_lie one = random_lie(&random), other = random_lie(&random);
    double area, grown = (1 + other.across) / (1 + one.across) * ((1 + other.along) / (1 + one.along));
    assert_ok(&test, girdle_region_oval(&test.call, between(&random, 1, 900), between(&random, 1, 900), &oval));
    area = girdle_region_area_mm2(oval);
    assert_ok(&test, girdle_region_stretched(&test.call, oval, &one, &other, &there));
    assert_near(girdle_region_area_mm2(there), area * grown, 1e-12 * area * grown);
    assert_ok(&test, girdle_region_stretched(&test.call, there, &other, &one, &back));
    assert_near(girdle_region_area_mm2(back), area, 1e-12 * area);
    girdle_region_free(oval);
    girdle_region_free(there);
    girdle_region_free(back);
  }
  assert_int_equal(test.live_bytes, 0);
}

/* A gap is clear fabric: it stretches as a line of its direction does, and comes back with its direction. */
static void gap_as_there_and_back_follows_a_line(void **state) {
  uint64_t random = 19;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 2000; i++) {
    girdle_lie one = random_lie(&random), other = random_lie(&random);
    double gap = between(&random, 0.01, 20), angle = between(&random, -180, 180), there, turned, back, again;
    double turn[6] = {cos(angle * acos(-1) / 180), sin(angle * acos(-1) / 180), 0, 0, 0, 0};
    girdle_path *line = NULL, *turned_line = NULL, *stretched = NULL;
    turn[2] = -turn[1];
    turn[3] = turn[0];
    assert_ok(&test, girdle_path_line(&test.call, gap, &line));
    assert_ok(&test, girdle_path_transformed(&test.call, line, turn, &turned_line));
    assert_ok(&test, girdle_path_stretched(&test.call, turned_line, &one, &other, &stretched));
    assert_ok(&test, girdle_gap_as(&test.call, gap, angle, &one, &other, &there));
    assert_near(there, girdle_path_length_mm(stretched), 1e-12 * there);
    assert_ok(&test, girdle_angle_as(&test.call, angle, &one, &other, &turned));
    assert_ok(&test, girdle_gap_as(&test.call, there, turned, &other, &one, &back));
    assert_ok(&test, girdle_angle_as(&test.call, turned, &other, &one, &again));
    assert_near(back, gap, 1e-12 * gap);
    assert_near(again, angle, 1e-12 * 180);
    girdle_path_free(line);
    girdle_path_free(turned_line);
    girdle_path_free(stretched);
  }
  assert_int_equal(test.live_bytes, 0);
}

/* ---- states and measures that cannot be */

static void states_out_of_range_are_refused_by_their_field(void **state) {
  static const girdle_lie flat = {0, 0};
  static const double bad[] = {-0.91, 9.01, NAN, INFINITY, -1};
  test_call test;
  girdle_path *path = NULL, *out = NULL;
  girdle_region *region = NULL, *image = NULL;
  double number;
  (void)state;
  assert_ok(&test, girdle_path_line(test_begin(&test), 100, &path));
  assert_ok(&test, girdle_region_rectangle(&test.call, 10, 10, &region));
  for (int i = 0; i < 20; i++) {
    const char *field = i % 2 ? "along" : "across";
    girdle_lie lie = {i % 2 ? 0 : bad[i / 4], i % 2 ? bad[i / 4] : 0};
    const girdle_lie *from = i % 4 < 2 ? &lie : &flat, *to = i % 4 < 2 ? &flat : &lie;
    assert_status(&test, girdle_path_stretched(test_again(&test), path, from, to, &out), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, field);
    assert_status(&test, girdle_region_stretched(test_again(&test), region, from, to, &image), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, field);
    assert_status(&test, girdle_gap_as(test_again(&test), 1, 0, from, to, &number), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, field);
    assert_status(&test, girdle_angle_as(test_again(&test), 0, from, to, &number), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, field);
  }
  assert_status(&test, girdle_gap_as(test_again(&test), NAN, 0, &flat, &flat, &number), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "gap");
  assert_status(&test, girdle_gap_as(test_again(&test), 1, NAN, &flat, &flat, &number), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "angle");
  assert_status(&test, girdle_angle_as(test_again(&test), INFINITY, &flat, &flat, &number), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "angle");
  girdle_path_free(path);
  girdle_region_free(region);
  assert_int_equal(test.live_bytes, 0);
}

/* Stretched by the least and by the most, and the other way back. */
static void states_at_their_limits_are_taken(void **state) {
  static const girdle_lie least = {-0.9, -0.9}, most = {9, 9};
  test_call test;
  girdle_region *region = NULL, *image = NULL;
  (void)state;
  assert_ok(&test, girdle_region_rectangle(test_begin(&test), 10, 20, &region));
  assert_ok(&test, girdle_region_stretched(&test.call, region, &least, &most, &image));
  assert_near(girdle_region_area_mm2(image), 200.0 * 100 * 100, 1e-6);
  girdle_region_free(image);
  assert_ok(&test, girdle_region_stretched(&test.call, region, &most, &least, &image));
  assert_near(girdle_region_area_mm2(image), 200.0 / 100 / 100, 1e-12);
  girdle_region_free(image);
  girdle_region_free(region);
}

static void path_fitted_refuses_measures_by_their_field(void **state) {
  static const struct {
    const char *path;
    double length, width, height;
    int32_t status;
    const char *field;
  } cases[] = {{"M0 0L10 10", 0, NAN, NAN, GIRDLE_ARGUMENT, "length"},
               {"M0 0L10 10", 1.1e7, NAN, NAN, GIRDLE_ARGUMENT, "length"},
               {"M0 0L10 10", 10, 10, NAN, GIRDLE_ARGUMENT, "length"},
               {"M0 0L10 10", 10, NAN, 10, GIRDLE_ARGUMENT, "length"},
               {"M0 0L10 10", NAN, -1, NAN, GIRDLE_ARGUMENT, "width"},
               {"M0 0L10 10", NAN, 1.1e7, NAN, GIRDLE_ARGUMENT, "width"},
               {"M0 0L10 10", NAN, NAN, 0, GIRDLE_ARGUMENT, "height"},
               {"M0 0L10 10", NAN, 10, INFINITY, GIRDLE_ARGUMENT, "height"},
               {"M0 0L10 10", NAN, NAN, NAN, GIRDLE_ARGUMENT, "measure"},
               {"M0 0V10", NAN, 10, NAN, GIRDLE_GEOMETRY, "width"},
               {"M0 0H10", NAN, NAN, 10, GIRDLE_GEOMETRY, "height"}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_path *path = NULL, *out = NULL;
    girdle_region *region = NULL, *image = NULL;
    assert_ok(&test, girdle_path_from_text(test_begin(&test), cases[i].path, &path));
    assert_status(&test, girdle_path_fitted(&test.call, path, cases[i].length, cases[i].width, cases[i].height, &out),
                  cases[i].status);
    assert_string_equal(test.error.field, cases[i].field);
    assert_ok(&test, girdle_region_rectangle(test_again(&test), 10, 10, &region));
    if (isnan(cases[i].length) && cases[i].status == GIRDLE_ARGUMENT) {
      assert_status(&test, girdle_region_fitted(&test.call, region, cases[i].width, cases[i].height, &image),
                    GIRDLE_ARGUMENT);
      assert_string_equal(test.error.field, cases[i].field);
    }
    assert_null(out);
    assert_null(image);
    girdle_region_free(region);
    girdle_path_free(path);
    assert_int_equal(test.live_bytes, 0);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(path_stretched_there_and_back_over_random_paths),
      cmocka_unit_test(region_stretched_there_and_back_over_random_ovals),
      cmocka_unit_test(gap_as_there_and_back_follows_a_line),
      cmocka_unit_test(states_out_of_range_are_refused_by_their_field),
      cmocka_unit_test(states_at_their_limits_are_taken),
      cmocka_unit_test(path_fitted_refuses_measures_by_their_field),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
