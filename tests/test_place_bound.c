/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_internal.h"
#include "place_support.h"

/* The line and the loop of the run tests, and the numbers of stones on either side of the wish. */
static void count_along_counts_as_run_counts(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_count count;
  (void)state;
  assert_int_equal(girdle_count_along(NULL, 300, 0, &stone, 1, 0.5, &count), GIRDLE_OK);
  assert_int_equal(count.expected, 59);
  assert_int_equal(count.least, 58);
  assert_int_equal(count.most, 59);
  assert_near(count.gap_mm, 300 / 58.0 - 4.7, 1e-9);
  assert_int_equal(girdle_count_along(NULL, 340, 1, &stone, 1, 0.5, &count), GIRDLE_OK);
  assert_int_equal(count.expected, 65);
  assert_int_equal(count.least, 65);
  assert_int_equal(count.most, 66);
  assert_near(count.gap_mm, 0.52873, 1e-5);
}

static void count_along_falls_with_the_gap(void **state) {
  girdle_stone stone = test_stone("ss16");
  uint64_t random = 1;
  (void)state;
  for (int64_t i = 0; i < test_cases(1); i++) {
    double length = 50 + 500 * test_uniform(&random), gap = 3 * test_uniform(&random),
           wider = gap + test_uniform(&random);
    girdle_count narrow, wide;
    assert_int_equal(girdle_count_along(NULL, length, 0, &stone, 1, gap, &narrow), GIRDLE_OK);
    assert_int_equal(girdle_count_along(NULL, length, 0, &stone, 1, wider, &wide), GIRDLE_OK);
    assert_true(wide.expected <= narrow.expected);
  }
}

/* No cover of a region goes beyond the bounds that its area, perimeter and holes give. */
static void count_over_bounds_every_cover(void **state) {
  static const char *const shapes[] = {"rectangle 100 mm x 60 mm",      "oval 80 mm x 50 mm",
                                       "M0 0H90V70H0ZM20 20V50H50V20Z", "M0 0C60 -40 90 80 40 70S-20 60 0 0Z",
                                       "M0 0H80V20H20V60H0Z",           "M0 0H200V7H0Z"};
  static const double gaps[] = {0, 1, 6};
  girdle_stone stone = test_stone("ss16");
  (void)state;
  for (int shape = 0; shape < 6; shape++)
    for (int k = 0; k < 3; k++)
      for (int32_t setting = GIRDLE_HONEYCOMB; setting <= GIRDLE_SQUARE_ROWS; setting++) {
        girdle_region *region = test_region(shapes[shape]);
        girdle_cover_options options = test_cover(&stone, 1, gaps[k]);
        girdle_placement *placement = NULL;
        girdle_count count;
        options.setting = setting;
        assert_int_equal(girdle_cover(NULL, region, &options, &placement), GIRDLE_OK);
        assert_int_equal(girdle_count_over(NULL, girdle_region_area_mm2(region), girdle_region_perimeter_mm(region),
                                           (int64_t)girdle_region_holes(region), &stone, gaps[k], setting, &count),
                         GIRDLE_OK);
        assert_true(test_count(placement) >= count.least);
        assert_true(test_count(placement) <= count.most);
        assert_true(count.least <= count.expected && count.expected <= count.most);
        assert_near((double)count.expected, (double)test_count(placement), 2 + 0.2 * (double)test_count(placement));
        girdle_placement_free(placement);
        girdle_region_free(region);
      }
}

/* A hexagon whose side is k stones' distances and a rim of stones about it: 3 k (k + 1) + 1 stand in it, and Groemer's
 * bound is met but for the tolerance; without knowing that it is convex the bound is wider. */
static void count_over_is_nearer_when_convex(void **state) {
  girdle_stone stone = test_round(4);
  (void)state;
  for (int k = 1; k < 12; k++) {
    double side = 4 * k + 4 / sqrt(3), area = 1.5 * sqrt(3) * side * side;
    int64_t stands = 3 * k * (k + 1) + 1;
    girdle_count convex, any;
    assert_int_equal(girdle_count_over(NULL, area, 6 * side, GIRDLE_CONVEX, &stone, 0, 0, &convex), GIRDLE_OK);
    assert_int_equal(girdle_count_over(NULL, area, 6 * side, 0, &stone, 0, 0, &any), GIRDLE_OK);
    assert_true(stands <= convex.most && convex.most < any.most);
    assert_true(convex.most <= stands + 2);
    assert_int_equal(convex.least, any.least);
  }
}

/* A convex strip 1.5 mm wide holds no stone of 4 mm; centres that may lie on the rim are bounded all the same. */
static void bound_most_knows_narrow_and_open_rims(void **state) {
  (void)state;
  assert_int_equal(girdle_bound_most(150, 203, 4, 2, 1), 0);
  assert_int_equal(girdle_bound_most(16, 16, 4, 0, 1), 4); /* the corners of a square, one distance wide */
  assert_true(girdle_bound_most(16, 16, 4, 0, 0) >= 4);
  assert_int_equal(girdle_bound_least(150, 203, 0, 4, 2, GIRDLE_HONEYCOMB), 0);
}

static void count_refuses_by_name(void **state) {
  girdle_stone stone = test_stone("ss16");
  girdle_count count;
  test_call test;
  (void)state;
  test_begin(&test);
  assert_status(&test, girdle_count_over(&test.call, -1, 10, 0, &stone, 0, 0, &count), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "area");
  assert_status(&test, girdle_count_over(test_again(&test), 100, 10, 0, &stone, 0, 0, &count), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "perimeter");
  assert_status(&test, girdle_count_over(test_again(&test), 100, 40, -2, &stone, 0, 0, &count), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_count_over(test_again(&test), 100, 40, 0, &stone, NAN, 0, &count), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_count_over(test_again(&test), 100, 40, 0, &stone, 0, 5, &count), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_count_along(test_again(&test), NAN, 0, &stone, 1, 0, &count), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_count_along(test_again(&test), 30, 0, &stone, 1, 40, &count), GIRDLE_GEOMETRY);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(count_along_counts_as_run_counts),      cmocka_unit_test(count_along_falls_with_the_gap),
      cmocka_unit_test(count_over_bounds_every_cover),         cmocka_unit_test(count_over_is_nearer_when_convex),
      cmocka_unit_test(bound_most_knows_narrow_and_open_rims), cmocka_unit_test(count_refuses_by_name),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
