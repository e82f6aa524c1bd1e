/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"
#include "girdle/paper.h"
#include "place_support.h"

static const char *const shapes[] = {"rectangle 100 mm x 60 mm",      "oval 80 mm x 50 mm",
                                     "M0 0H90V70H0ZM20 20V50H50V20Z", "M0 0C60 -40 90 80 40 70S-20 60 0 0Z",
                                     "M0 0H80V20H20V60H0Z",           "M0 0H300V9H0Z"};
enum { SHAPES = sizeof shapes / sizeof shapes[0] };

static girdle_placement *scatter(const char *text, const girdle_scatter_options *options) {
  test_call test;
  girdle_region *region = test_region(text);
  girdle_placement *placement = NULL;
  test_plain(&test);
  assert_ok(&test, girdle_scatter(&test.call, region, options, &placement));
  girdle_region_free(region);
  return placement;
}

static double clearance(const girdle_placement *placement, double x, double y) {
  double least = INFINITY;
  int64_t count;
  const girdle_placed *records = test_records(placement, &count);
  for (int64_t i = 0; i < count; i++)
    least = fmin(least, hypot(records[i].x_mm - x, records[i].y_mm - y) - test_diameter(placement, i) / 2);
  return least;
}

static void scatter_keeps_gap_and_margin(void **state) {
  girdle_stone stones[3] = {test_stone("ss20"), test_stone("ss12"), test_stone("ss7")};
  (void)state;
  for (int shape = 0; shape < SHAPES; shape++)
    for (uint64_t kinds = 1; kinds <= 3; kinds++)
      for (double margin = 0; margin <= 1.5; margin += 1.5) {
        girdle_region *region = test_region(shapes[shape]);
        girdle_scatter_options options = test_scatter(stones, kinds, 0.7);
        girdle_placement *placement;
        options.margin_mm = margin;
        options.seed = (uint64_t)shape;
        placement = scatter(shapes[shape], &options);
        assert_true(test_least_gap(placement) >= 0.7 - TOLERANCE);
        assert_true(test_least_margin(placement, region) >= margin - TOLERANCE);
        girdle_placement_free(placement);
        girdle_region_free(region);
      }
}

/* None of a hundred thousand places thrown at random would take one more stone. */
static void scatter_of_one_size_is_maximal(void **state) {
  girdle_stone stone = test_stone("ss20");
  double radius = stone.diameter_mm[GIRDLE_NOMINAL] / 2;
  uint64_t random = 1;
  (void)state;
  for (int shape = 0; shape < SHAPES; shape++) {
    girdle_region *region = test_region(shapes[shape]);
    girdle_scatter_options options = test_scatter(&stone, 1, 0.5);
    girdle_placement *placement = scatter(shapes[shape], &options);
    girdle_box box;
    girdle_region_box(region, &box);
    assert_true(test_notes(placement).flags & GIRDLE_NOTE_MAXIMAL);
    assert_true(test_notes(placement).undecided_mm2 <= 1e-6 * (2 * radius + 0.5) * (2 * radius + 0.5));
    for (int i = 0; i < 100000 / SHAPES; i++) {
      double x = box.left_mm + test_uniform(&random) * (box.right_mm - box.left_mm);
      double y = box.top_mm + test_uniform(&random) * (box.bottom_mm - box.top_mm);
      if (clearance(placement, x, y) < radius + 0.5) continue;
      assert_true(girdle_region_depth_mm(region, x, y) < radius);
    }
    girdle_placement_free(placement);
    girdle_region_free(region);
  }
}

static void scatter_is_the_same_for_the_same_seed(void **state) {
  girdle_stone stones[2] = {test_stone("ss16 red"), test_stone("ss12 blue")};
  girdle_scatter_options options = test_scatter(stones, 2, 0.5);
  girdle_placement *first = scatter(shapes[1], &options), *second = scatter(shapes[1], &options), *third;
  (void)state;
  options.seed = 5;
  third = scatter(shapes[1], &options);
  assert_true(test_same(first, second));
  assert_false(test_same(first, third));
  assert_int_equal(test_notes(third).seed, 5);
  girdle_placement_free(first);
  girdle_placement_free(second);
  girdle_placement_free(third);
}

static void scatter_shares_out_to_one_stone(void **state) {
  girdle_stone stones[4] = {test_stone("ss20 red"), test_stone("ss20 blue"), test_stone("ss16 red"), test_stone("ss7")};
  double weights[4] = {5, 1, 2, 2};
  (void)state;
  for (uint64_t kinds = 2; kinds <= 4; kinds++)
    for (uint64_t seed = 0; seed < 20; seed++) {
      girdle_scatter_options options = test_scatter(stones, kinds, 0.5);
      girdle_placement *placement;
      double sum = 0;
      options.weights = weights;
      options.seed = seed;
      placement = scatter("rectangle 150 mm x 150 mm", &options);
      for (uint64_t k = 0; k < kinds; k++)
        sum += weights[k];
      for (uint64_t k = 0; k < kinds; k++)
        assert_near((double)test_pieces(placement, (uint16_t)k), (double)test_count(placement) * weights[k] / sum, 1);
      girdle_placement_free(placement);
    }
}

/* The mean distance to the nearest of the same stone, over what a honeycomb of as many would have: a Poisson process of
 * points has 0.465 (Clark and Evans, 1954: half over the root of the density). */
static double nearest_spread(const girdle_placement *placement, uint16_t stone, double area) {
  int64_t count, pieces = test_pieces(placement, stone);
  const girdle_placed *records = test_records(placement, &count);
  double sum = 0;
  for (int64_t i = 0; i < count; i++) {
    double least = INFINITY;
    if (records[i].stone != stone) continue;
    for (int64_t k = 0; k < count; k++)
      if (k != i && records[k].stone == stone)
        least = fmin(least, hypot(records[i].x_mm - records[k].x_mm, records[i].y_mm - records[k].y_mm));
    sum += least;
  }
  return sum / (double)pieces / sqrt(2 * area / (sqrt(3) * (double)pieces));
}

static void scatter_spreads_each_stone_evenly(void **state) {
  girdle_stone colours[3] = {test_stone("ss12 red"), test_stone("ss12 blue"), test_stone("ss12 green")};
  girdle_stone sizes[3] = {test_stone("ss20"), test_stone("ss16"), test_stone("ss9")};
  double weights[3] = {1, 2, 5};
  (void)state;
  for (int mixed = 0; mixed < 2; mixed++) {
    girdle_scatter_options options = test_scatter(mixed ? sizes : colours, 3, 0.8);
    girdle_placement *placement;
    options.weights = weights;
    placement = scatter("rectangle 200 mm x 200 mm", &options);
    for (uint16_t k = 0; k < 3; k++)
      assert_true(nearest_spread(placement, k, 40000) > (mixed ? 0.6 : 0.7));
    girdle_placement_free(placement);
  }
}

/* Two colours by halves: taken at random each would have 0.63, and of a honeycomb no choice gives both more than its
 * nearest neighbours' 1 / sqrt(2). */
static void scatter_spreads_two_colours_alike(void **state) {
  girdle_stone colours[2] = {test_stone("ss12 red"), test_stone("ss12 blue")};
  double spread[2] = {0, 0};
  (void)state;
  for (uint64_t seed = 0; seed < 5; seed++) {
    girdle_scatter_options options = test_scatter(colours, 2, 0.8);
    girdle_placement *placement;
    options.seed = seed;
    placement = scatter("rectangle 150 mm x 150 mm", &options);
    for (uint16_t k = 0; k < 2; k++)
      spread[k] += nearest_spread(placement, k, 22500) / 5;
    girdle_placement_free(placement);
  }
  print_message("spread of two colours: %.3f and %.3f\n", spread[0], spread[1]);
  assert_true(spread[0] > 0.68 && spread[1] > 0.68);
  assert_near(spread[0], spread[1], 0.06);
}

static void scatter_fills_up_when_asked(void **state) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss7")};
  girdle_scatter_options options = test_scatter(stones, 2, 0.5);
  girdle_region *region = test_region(shapes[1]);
  double radius = stones[1].diameter_mm[GIRDLE_NOMINAL] / 2;
  uint64_t random = 3;
  girdle_placement *placement;
  (void)state;
  options.flags = GIRDLE_FILL_UP;
  placement = scatter(shapes[1], &options);
  assert_true(test_notes(placement).flags & GIRDLE_NOTE_MAXIMAL);
  for (int i = 0; i < 5000; i++) {
    double x = (test_uniform(&random) - 0.5) * 100, y = (test_uniform(&random) - 0.5) * 100;
    if (clearance(placement, x, y) >= radius + 0.5) assert_true(girdle_region_depth_mm(region, x, y) < radius);
  }
  girdle_placement_free(placement);
  girdle_region_free(region);
}

static void scatter_stays_clear_of_what_is_there(void **state) {
  girdle_stone large = test_stone("ss34"), small = test_stone("ss9");
  girdle_scatter_options options = test_scatter(&large, 1, 6);
  girdle_placement *there = scatter(shapes[0], &options), *copy = NULL, *placement, *both = NULL;
  (void)state;
  assert_int_equal(girdle_placement_copy(NULL, there, &copy), GIRDLE_OK);
  options = test_scatter(&small, 1, 0.4);
  options.around = there;
  placement = scatter(shapes[0], &options);
  assert_int_equal(girdle_placement_joined(NULL, there, placement, &both), GIRDLE_OK);
  assert_true(test_least_gap(both) >= 0.4 - TOLERANCE);
  assert_true(test_same(there, copy));
  girdle_placement_free(both);
  girdle_placement_free(placement);
  girdle_placement_free(copy);
  girdle_placement_free(there);
}

/* Stones set by eye and measured, in a table: they keep their places, and what is scattered about them its gap. */
static void scatter_stays_clear_of_a_table(void **state) {
  static const char table[] =
      "zone,row,stone,x_mm,y_mm,diameter_mm\nby eye,0,7 mm red,12.5,8,7\nby eye,0,7 mm red,40,31.25,7\n"
      "by eye,1,5 mm clear,55,10,5\n";
  girdle_job_head head;
  girdle_job *job = NULL;
  girdle_stone small = test_stone("ss9");
  girdle_scatter_options options = test_scatter(&small, 1, 0.4);
  girdle_placement *placement, *both = NULL;
  const girdle_zone *zones;
  uint64_t count;
  (void)state;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "eye");
  assert_int_equal(girdle_job_new(NULL, &head, &job), GIRDLE_OK);
  assert_int_equal(girdle_paper_read_placements(NULL, "eye.csv", table, strlen(table), job), GIRDLE_OK);
  zones = girdle_job_zones(job, &count);
  assert_int_equal(count, 1);
  options.around = zones[0].placement;
  placement = scatter("M0 0H70V40H0Z", &options);
  assert_int_equal(girdle_placement_joined(NULL, options.around, placement, &both), GIRDLE_OK);
  assert_true(test_count(placement) > 50);
  assert_true(test_least_gap(both) >= 0.4 - TOLERANCE);
  assert_int_equal(test_count(options.around), 3);
  girdle_placement_free(both);
  girdle_placement_free(placement);
  girdle_job_free(job);
}

static void scatter_counts_exactly(void **state) {
  girdle_stone stones[3] = {test_stone("ss12"), test_stone("ss9"), test_stone("ss6")};
  (void)state;
  for (int shape = 0; shape < 3; shape++)
    for (uint64_t kinds = 1; kinds <= 3; kinds += 2)
      for (int64_t count = 1; count < 150; count = 2 * count + 3) {
        girdle_region *region = test_region(shapes[shape]);
        girdle_scatter_options options = test_scatter(stones, kinds, 0.3);
        girdle_placement *placement;
        double spacing = sqrt(2 * girdle_region_area_mm2(region) / (sqrt(3) * (double)count));
        options.count = count;
        placement = scatter(shapes[shape], &options);
        assert_int_equal(test_count(placement), count);
        assert_true(test_least_gap(placement) >= 0.3 - TOLERANCE);
        if (kinds == 1 && count > 1)
          assert_true(test_least_gap(placement) + stones[0].diameter_mm[GIRDLE_NOMINAL] >= 0.6 * spacing - TOLERANCE);
        girdle_placement_free(placement);
        girdle_region_free(region);
      }
}

static void scatter_names_the_most_that_fit(void **state) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss12")};
  girdle_region *region = test_region(shapes[1]);
  (void)state;
  for (uint64_t kinds = 1; kinds <= 2; kinds++) {
    girdle_scatter_options options = test_scatter(stones, kinds, 0.5);
    girdle_placement *placement = NULL;
    test_call test;
    const char *most;
    test_begin(&test);
    options.count = 5000;
    assert_status(&test, girdle_scatter(&test.call, region, &options, &placement), GIRDLE_GEOMETRY);
    most = strstr(test.error.message, "the most found is ");
    assert_non_null(most);
    options.count = strtol(most + 18, NULL, 10);
    assert_true(options.count > 20);
    assert_ok(&test, girdle_scatter(test_again(&test), region, &options, &placement));
    assert_int_equal(test_count(placement), options.count);
    girdle_placement_free(placement);
    assert_int_equal(test.live_bytes, 0);
  }
  girdle_region_free(region);
}

static void scatter_turns_fancy_stones_by_the_seed(void **state) {
  girdle_stone stones[2] = {test_stone("5 mm navette"), test_stone("ss12")};
  girdle_scatter_options options = test_scatter(stones, 2, 0.5);
  girdle_placement *first = scatter(shapes[0], &options), *second;
  int64_t count, turned = 0;
  const girdle_placed *records = test_records(first, &count);
  (void)state;
  for (int64_t i = 0; i < count; i++) {
    if (records[i].stone == 1) assert_near((double)records[i].turn_deg, 0, 0);
    turned += records[i].turn_deg > 0;
  }
  assert_true(turned > count / 3);
  second = scatter(shapes[0], &options);
  assert_true(test_same(first, second));
  girdle_placement_free(first);
  girdle_placement_free(second);
}

static void scatter_refuses_by_name(void **state) {
  girdle_stone stone = test_stone("ss20"), huge = test_round(200), tiny = test_round(0.1);
  girdle_region *region = test_region("oval 80 mm x 50 mm"), *field = test_region("rectangle 1000 m x 1000 m");
  girdle_placement *placement = NULL;
  double none = 0, negative = -1, not_a_number = NAN;
  test_call test;
  girdle_scatter_options options = test_scatter(&stone, 1, 0.5);
  (void)state;
  test_begin(&test);
  options.weights = &none;
  assert_status(&test, girdle_scatter(&test.call, region, &options, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "weight");
  options.weights = &negative;
  assert_status(&test, girdle_scatter(test_again(&test), region, &options, &placement), GIRDLE_ARGUMENT);
  options.weights = &not_a_number;
  assert_status(&test, girdle_scatter(test_again(&test), region, &options, &placement), GIRDLE_ARGUMENT);
  options = test_scatter(&huge, 1, 0.5);
  assert_status(&test, girdle_scatter(test_again(&test), region, &options, &placement), GIRDLE_GEOMETRY);
  assert_non_null(strstr(test.error.message, "smaller stone"));
  options = test_scatter(&tiny, 1, 0);
  assert_status(&test, girdle_scatter(test_again(&test), field, &options, &placement), GIRDLE_LIMIT);
  assert_int_equal(test.live_bytes, 0);
  girdle_region_free(region);
  girdle_region_free(field);
}

static int32_t stop_at_once(void *context, uint64_t steps, double done) {
  (void)steps;
  (void)done;
  return --*(int *)context < 0;
}

static void scatter_stops_when_the_watch_says_so(void **state) {
  girdle_stone stone = test_stone("ss9");
  girdle_region *region = test_region("rectangle 300 mm x 300 mm");
  girdle_scatter_options options = test_scatter(&stone, 1, 0.5);
  (void)state;
  for (int ticks = 0; ticks < 8; ticks += 3) {
    girdle_placement *placement = NULL;
    test_call test;
    int left = ticks;
    test_begin(&test);
    test.call.watch.context = &left;
    test.call.watch.tick = stop_at_once;
    assert_status(&test, girdle_scatter(&test.call, region, &options, &placement), GIRDLE_STOPPED);
    assert_null(placement);
    assert_int_equal(test.live_bytes, 0);
  }
  girdle_region_free(region);
}

static int32_t scatter_everything(girdle_call *call) {
  girdle_region *region = NULL;
  girdle_placement *there = NULL, *placement = NULL;
  girdle_stone stones[3] = {test_stone("ss34"), test_stone("ss34 red"), test_stone("ss16")};
  girdle_scatter_options options = test_scatter(stones, 2, 0.4);
  int32_t status = girdle_region_from_text(call, "M0 0H30V40H0ZM10 10V20H20V10Z", &region);
  if (!status) status = girdle_scatter(call, region, &options, &there);
  options = test_scatter(stones, 3, 0.2);
  options.count = 5;
  if (!status) status = girdle_scatter(call, region, &options, &placement);
  girdle_placement_free(placement);
  placement = NULL;
  options = test_scatter(stones + 2, 1, 0.2);
  options.around = there;
  if (!status) status = girdle_scatter(call, region, &options, &placement);
  girdle_placement_free(there);
  girdle_placement_free(placement);
  girdle_region_free(region);
  return status;
}

static void scatter_leaks_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(scatter_everything);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(scatter_keeps_gap_and_margin),
      cmocka_unit_test(scatter_of_one_size_is_maximal),
      cmocka_unit_test(scatter_is_the_same_for_the_same_seed),
      cmocka_unit_test(scatter_shares_out_to_one_stone),
      cmocka_unit_test(scatter_spreads_each_stone_evenly),
      cmocka_unit_test(scatter_spreads_two_colours_alike),
      cmocka_unit_test(scatter_fills_up_when_asked),
      cmocka_unit_test(scatter_stays_clear_of_what_is_there),
      cmocka_unit_test(scatter_stays_clear_of_a_table),
      cmocka_unit_test(scatter_counts_exactly),
      cmocka_unit_test(scatter_names_the_most_that_fit),
      cmocka_unit_test(scatter_turns_fancy_stones_by_the_seed),
      cmocka_unit_test(scatter_refuses_by_name),
      cmocka_unit_test(scatter_stops_when_the_watch_says_so),
      cmocka_unit_test(scatter_leaks_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
