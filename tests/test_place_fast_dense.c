/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_support.h"

/* A dense scatter: stones of one size beside each other. */

static const char *const shapes[] = {"oval 120 mm x 80 mm", "rectangle 90 mm x 70 mm",
                                     "M0 0C150 0 -50 100 100 100C60 160 20 120 0 100Z"};

static girdle_placement *dense(const char *shape, girdle_scatter_options *options) {
  girdle_region *region = test_region(shape);
  girdle_placement *placement = NULL;
  options->flags |= GIRDLE_DENSE;
  assert_int_equal(girdle_scatter(NULL, region, options, &placement), GIRDLE_OK);
  girdle_region_free(region);
  return placement;
}

static void dense_scatter_keeps_gap_and_margin(void **state) {
  girdle_stone stone = test_round(3);
  (void)state;
  for (size_t i = 0; i < sizeof shapes / sizeof *shapes; i++)
    for (uint64_t seed = 0; seed < 5; seed++) {
      girdle_scatter_options options = test_scatter(&stone, 1, 0.4);
      girdle_region *region = test_region(shapes[i]);
      girdle_placement *placement;
      options.seed = seed;
      options.margin_mm = 0.5;
      placement = dense(shapes[i], &options);
      assert_true(test_least_gap(placement) >= 0.4 - TOLERANCE);
      assert_true(test_least_margin(placement, region) >= 0.5 - TOLERANCE);
      girdle_placement_free(placement);
      girdle_region_free(region);
    }
}

/* No place is left for one more, as a thousand throws a shape find. */
static void dense_scatter_is_maximal(void **state) {
  girdle_stone stone = test_round(3);
  uint64_t random = 3;
  (void)state;
  for (size_t i = 0; i < sizeof shapes / sizeof *shapes; i++) {
    girdle_scatter_options options = test_scatter(&stone, 1, 0.4);
    girdle_region *region = test_region(shapes[i]);
    girdle_placement *placement = dense(shapes[i], &options);
    int64_t count;
    const girdle_placed *records = test_records(placement, &count);
    girdle_notes notes = test_notes(placement);
    assert_true(notes.flags & GIRDLE_NOTE_MAXIMAL);
    assert_true(notes.undecided_mm2 <= 1e-6 * 3.4 * 3.4);
    for (int tried = 0; tried < 1000; tried++) {
      double x = test_uniform(&random) * 260 - 130, y = test_uniform(&random) * 320 - 160, nearest = INFINITY;
      for (int64_t k = 0; k < count; k++)
        nearest = fmin(nearest, hypot(records[k].x_mm - x, records[k].y_mm - y));
      if (nearest >= 3.4) assert_true(girdle_region_depth_mm(region, x, y) < 1.5);
    }
    girdle_placement_free(placement);
    girdle_region_free(region);
  }
}

/* Discs of half the distance about the centres, over the area: from two squares, so that the edges cancel. */
static void dense_scatter_covers_more_than_one_at_random(void **state) {
  girdle_stone stone = test_round(2);
  girdle_scatter_options options = test_scatter(&stone, 1, 0.5);
  girdle_placement *small = dense("rectangle 200 mm x 200 mm", &options);
  girdle_placement *large = dense("rectangle 400 mm x 400 mm", &options);
  /* a count is a A + b P + c; the corners are the same four */
  double area = (double)(test_count(large) - 2 * test_count(small)) / (400 * 400 - 2 * 200 * 200);
  double packing = area * 3.14159265358979 / 4 * 2.5 * 2.5;
  (void)state;
  print_message("packing of a dense scatter: %.4f\n", packing);
  assert_true(packing >= 0.66 && packing < 0.9069);
  girdle_placement_free(small);
  girdle_placement_free(large);
}

static void dense_scatter_goes_by_its_seed(void **state) {
  girdle_stone stone = test_round(3);
  girdle_scatter_options options = test_scatter(&stone, 1, 0.4);
  girdle_placement *one = dense(shapes[0], &options), *again = dense(shapes[0], &options), *other;
  (void)state;
  assert_true(test_same(one, again));
  options.seed = 8;
  other = dense(shapes[0], &options);
  assert_false(test_same(one, other));
  girdle_placement_free(one);
  girdle_placement_free(again);
  girdle_placement_free(other);
}

static void dense_scatter_stays_clear_of_what_is_there(void **state) {
  girdle_stone large = test_round(8), small = test_round(2);
  girdle_scatter_options options = test_scatter(&large, 1, 6);
  girdle_placement *there = dense(shapes[0], &options), *placement, *both = NULL;
  (void)state;
  options = test_scatter(&small, 1, 0.4);
  options.around = there;
  placement = dense(shapes[0], &options);
  assert_int_equal(girdle_placement_joined(NULL, there, placement, &both), GIRDLE_OK);
  assert_true(test_least_gap(both) >= 0.4 - TOLERANCE);
  girdle_placement_free(both);
  girdle_placement_free(placement);
  girdle_placement_free(there);
}

static void dense_scatter_is_of_one_size_without_a_count(void **state) {
  girdle_stone stones[2] = {test_round(3), test_round(2)};
  girdle_region *region = test_region(shapes[0]);
  girdle_scatter_options options = test_scatter(stones, 2, 0.4);
  girdle_placement *placement = NULL;
  test_call test;
  (void)state;
  test_begin(&test);
  options.flags = GIRDLE_DENSE;
  assert_status(&test, girdle_scatter(&test.call, region, &options, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.message,
                      "dense is for stones of one size, and for as many as fit: leave out dense, or all sizes but one");
  test_again(&test);
  options.stone_count = 1;
  options.count = 20;
  assert_status(&test, girdle_scatter(&test.call, region, &options, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.message,
                      "dense is for stones of one size, and for as many as fit: leave out the count");
  assert_int_equal(test.live_bytes, 0);
  girdle_region_free(region);
}

static int32_t sweep_dense(girdle_call *call) {
  girdle_stone stone = test_round(6);
  girdle_scatter_options options = test_scatter(&stone, 1, 0.4);
  girdle_region *region = NULL;
  girdle_placement *placement = NULL;
  int32_t status = girdle_region_oval(call, 60, 40, &region);
  options.flags = GIRDLE_DENSE;
  if (!status) status = girdle_scatter(call, region, &options, &placement);
  girdle_placement_free(placement);
  girdle_region_free(region);
  return status;
}

static void dense_scatter_survives_failed_allocations(void **state) {
  (void)state;
  test_sweep_allocations(sweep_dense);
}

int main(void) {
  const struct CMUnitTest tests[] = {cmocka_unit_test(dense_scatter_keeps_gap_and_margin),
                                     cmocka_unit_test(dense_scatter_is_maximal),
                                     cmocka_unit_test(dense_scatter_covers_more_than_one_at_random),
                                     cmocka_unit_test(dense_scatter_goes_by_its_seed),
                                     cmocka_unit_test(dense_scatter_stays_clear_of_what_is_there),
                                     cmocka_unit_test(dense_scatter_is_of_one_size_without_a_count),
                                     cmocka_unit_test(dense_scatter_survives_failed_allocations)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
