/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_support.h"

static const char *const shapes[] = {"rectangle 100 mm x 60 mm",
                                     "oval 80 mm x 50 mm",
                                     "trapezoid 30 mm x 90 mm x 60 mm",
                                     "M0 0H90V70H0ZM20 20V50H50V20Z",
                                     "M0 0C60 -40 90 80 40 70S-20 60 0 0Z",
                                     "M0 0H80V20H20V60H0Z"};
enum { SHAPES = sizeof shapes / sizeof shapes[0] };

static girdle_placement *cover(const char *text, const girdle_cover_options *options) {
  test_call test;
  girdle_region *region = test_region(text);
  girdle_placement *placement = NULL;
  test_plain(&test);
  assert_ok(&test, girdle_cover(&test.call, region, options, &placement));
  girdle_region_free(region);
  return placement;
}

/* Worked out by hand: 24 rows of 21 and 20 in turn, since 95.3 mm hold 20 pitches of 4.7 mm along and 23 of 4.07 mm
 * across. */
static void cover_fills_a_square(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_cover_options options = test_cover(&stone, 1, 0);
  girdle_placement *placement = cover("rectangle 100 mm x 100 mm", &options);
  (void)state;
  assert_true(test_count(placement) >= 492);
  assert_true(test_count(placement) <= test_notes(placement).bound_most);
  assert_true(test_least_gap(placement) >= -TOLERANCE);
  girdle_placement_free(placement);
}

static void cover_keeps_gap_and_margin(void **state) {
  static const double gaps[] = {0, 0.5, 3}, margins[] = {0, 2};
  girdle_stone stone = test_stone("ss12");
  (void)state;
  for (int shape = 0; shape < SHAPES; shape++)
    for (int k = 0; k < 3; k++)
      for (int m = 0; m < 2; m++)
        for (int32_t setting = GIRDLE_HONEYCOMB; setting <= GIRDLE_EDGE_ROWS; setting++) {
          girdle_region *region = test_region(shapes[shape]);
          girdle_cover_options options = test_cover(&stone, 1, gaps[k]);
          girdle_placement *placement;
          options.margin_mm = margins[m];
          options.setting = setting;
          placement = cover(shapes[shape], &options);
          assert_true(test_least_gap(placement) >= gaps[k] - TOLERANCE);
          assert_true(test_least_margin(placement, region) >= margins[m] - TOLERANCE);
          assert_true(test_count(placement) <= test_notes(placement).bound_most);
          girdle_placement_free(placement);
          girdle_region_free(region);
        }
}

/* Where a step of 1e-9 mm is lost in the rounding of coordinates. */
static void cover_fills_a_square_as_far_away_as_a_path_may_lie(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_cover_options options = test_cover(&stone, 1, 0.5);
  girdle_placement *near = cover("M100 100h-100v-100h100z", &options);
  (void)state;
  static const char *const far[] = {"M1.2e7 1.2e7h-100v-100h100z", "M5e7 -5e7h-100v-100h100z",
                                    "M9.9e8 9.9e8h-100v-100h100z"};
  for (size_t i = 0; i < 3; i++) {
    girdle_placement *placement = cover(far[i], &options);
    assert_int_equal(test_count(placement), test_count(near));
    girdle_placement_free(placement);
  }
  girdle_placement_free(near);
}

static void cover_holds_a_stone_that_touches_all_round(void **state) {
  girdle_stone stone = test_round(10);
  girdle_cover_options options = test_cover(&stone, 1, 0);
  static const char *const tight[] = {"rectangle 10 mm x 10 mm", "rectangle 30 mm x 10 mm",
                                      "M0 0A5 5 0 0 1 10 0A5 5 0 0 1 0 0Z"};
  static const int64_t counts[] = {1, 3, 1};
  (void)state;
  for (int i = 0; i < 3; i++) {
    girdle_placement *placement = cover(tight[i], &options);
    assert_int_equal(test_count(placement), counts[i]);
    girdle_placement_free(placement);
  }
}

static void cover_alternates_along_rows(void **state) {
  girdle_stone stones[2] = {test_stone("ss20 red"), test_stone("ss20 blue")};
  girdle_cover_options options = test_cover(stones, 2, 0.5);
  girdle_placement *placement;
  int64_t count;
  const girdle_placed *records;
  (void)state;
  options.turn_deg = 0;
  placement = cover("rectangle 100 mm x 60 mm", &options);
  records = test_records(placement, &count);
  for (int64_t i = 1; i < count; i++)
    if (records[i].row == records[i - 1].row) assert_int_not_equal(records[i].stone, records[i - 1].stone);
  girdle_placement_free(placement);
}

static void cover_turns_as_told(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_cover_options options = test_cover(&stone, 1, 0.5);
  girdle_placement *placement;
  int64_t count;
  const girdle_placed *records;
  (void)state;
  options.turn_deg = 25;
  placement = cover("oval 80 mm x 50 mm", &options);
  records = test_records(placement, &count);
  for (int64_t i = 1; i < count; i++)
    if (records[i].row == records[i - 1].row)
      assert_near(atan2(records[i].y_mm - records[i - 1].y_mm, records[i].x_mm - records[i - 1].x_mm),
                  25 * 3.14159265358979 / 180, 1e-3);
  girdle_placement_free(placement);
}

/* The best of all turns is no worse than turn 0, a free shift no worse than any of many tried. */
static void cover_finds_the_best_shift(void **state) {
  girdle_stone stone = test_stone("ss16");
  girdle_cover_options options = test_cover(&stone, 1, 0.3);
  double pitch = stone.diameter_mm[GIRDLE_NOMINAL] + 0.3, reach = stone.diameter_mm[GIRDLE_NOMINAL] / 2;
  (void)state;
  for (int shape = 0; shape < SHAPES; shape++) {
    girdle_region *region = test_region(shapes[shape]);
    girdle_placement *level, *best = cover(shapes[shape], &options);
    girdle_box box;
    int64_t most = 0;
    options.turn_deg = 0;
    level = cover(shapes[shape], &options);
    options.turn_deg = NAN;
    girdle_region_box(region, &box);
    for (int k = 0; k < 40; k++) { /* a row touching the top: one of the phases that are tried */
      int64_t here = 0;
      for (int row = 0; row < 60; row++)
        for (int column = -1; column < 60; column++)
          here += girdle_region_depth_mm(region, box.left_mm + (column + k / 40.0 + row % 2 / 2.0) * pitch,
                                         box.top_mm + reach + row * pitch * sqrt(0.75)) >= reach;
      if (here > most) most = here;
    }
    assert_true(test_count(level) >= most);
    assert_true(test_count(best) >= test_count(level));
    girdle_placement_free(level);
    girdle_placement_free(best);
    girdle_region_free(region);
  }
}

/* A single stone holds with any gap. */
static void cover_counts_one_stone(void **state) {
  girdle_stone stone = test_stone("ss16");
  girdle_cover_options options = test_cover(&stone, 1, 0.2);
  (void)state;
  options.count = 1;
  for (int shape = 0; shape < SHAPES; shape++)
    for (options.setting = GIRDLE_HONEYCOMB; options.setting <= GIRDLE_EDGE_ROWS; options.setting++) {
      girdle_placement *placement = cover(shapes[shape], &options);
      assert_int_equal(test_count(placement), 1);
      assert_true(isnan(test_notes(placement).gap_mm));
      girdle_placement_free(placement);
    }
}

static void cover_counts_exactly(void **state) {
  girdle_stone stone = test_stone("ss16");
  girdle_cover_options options = test_cover(&stone, 1, 0.2);
  (void)state;
  for (options.count = 5; options.count < 200; options.count += 61) {
    girdle_placement *placement = cover("oval 80 mm x 50 mm", &options);
    assert_int_equal(test_count(placement), options.count);
    assert_true(test_least_gap(placement) >= test_notes(placement).gap_mm - TOLERANCE);
    girdle_placement_free(placement);
  }
}

/* What would come nearer than the gap to others is not among those asked for. */
static void cover_counts_clear_of_others(void **state) {
  girdle_stone stone = test_stone("ss16"), large = test_stone("ss34");
  girdle_placed there[2] = {{0, 0, 0, 0, 0}, {20, 5, 0, 0, 0}};
  girdle_placement *others = NULL;
  (void)state;
  assert_int_equal(girdle_placement_new(NULL, &large, 1, there, 2, &others), GIRDLE_OK);
  for (int32_t setting = GIRDLE_HONEYCOMB; setting <= GIRDLE_EDGE_ROWS; setting++)
    for (int64_t exactly = 0; exactly < 120; exactly += 59) {
      girdle_cover_options options = test_cover(&stone, 1, 0.5);
      girdle_placement *placement, *both = NULL;
      int64_t count;
      options.setting = setting;
      options.clear_of = others;
      options.count = exactly;
      placement = cover("oval 80 mm x 50 mm", &options);
      count = test_count(placement);
      if (exactly) assert_int_equal(count, exactly);
      assert_true(test_notes(placement).left_out > 0);
      assert_int_equal(girdle_placement_joined(NULL, placement, others, &both), GIRDLE_OK);
      for (int64_t i = 0; i < count; i++)
        for (int64_t k = count; k < count + 2; k++)
          assert_true(test_gap(both, i, k) >= 0.5 - TOLERANCE);
      girdle_placement_free(placement);
      girdle_placement_free(both);
    }
  girdle_placement_free(others);
}

/* Where the rings of a waist meet, stones are left out; none goes without a note. Rows on both sides of a slot 9 mm
 * wide lie on one line each, of two ways: the second finds every place taken. */
static void cover_notes_what_rows_along_the_edge_lose(void **state) {
  girdle_stone stone = test_round(4);
  girdle_cover_options options = test_cover(&stone, 1, 0.5);
  girdle_placement *placement;
  (void)state;
  options.setting = GIRDLE_EDGE_ROWS;
  placement = cover("M0 0H40V40H0ZM40 16H80V22H40Z", &options);
  assert_true(test_notes(placement).flags & GIRDLE_NOTE_LEFT_OUT);
  assert_true(test_notes(placement).left_out > 0);
  assert_true(test_least_gap(placement) >= 0.5 - TOLERANCE);
  girdle_placement_free(placement);
  placement = cover("rectangle 40 mm x 40 mm", &options);
  assert_int_equal(test_notes(placement).left_out, 0);
  girdle_placement_free(placement);
}

static void cover_refuses_by_name(void **state) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss16")}, huge = test_round(200), tiny = test_round(0.1);
  girdle_region *region = test_region("oval 80 mm x 50 mm"), *field = test_region("rectangle 100 m x 100 m");
  girdle_placement *placement = NULL;
  girdle_cover_options mixed = test_cover(stones, 2, 1), large = test_cover(&huge, 1, 1),
                       many = test_cover(&tiny, 1, 0), counted = test_cover(stones, 1, 1), margin = counted,
                       setting = counted;
  test_call test;
  (void)state;
  test_begin(&test);
  counted.count = 100000;
  margin.margin_mm = NAN;
  setting.setting = 9;
  assert_status(&test, girdle_cover(&test.call, region, &mixed, &placement), GIRDLE_ARGUMENT);
  assert_non_null(strstr(test.error.message, "ss16"));
  assert_status(&test, girdle_cover(test_again(&test), region, &large, &placement), GIRDLE_GEOMETRY);
  assert_status(&test, girdle_cover(test_again(&test), field, &many, &placement), GIRDLE_LIMIT);
  assert_status(&test, girdle_cover(test_again(&test), region, &counted, &placement), GIRDLE_GEOMETRY);
  assert_string_equal(test.error.field, "count");
  assert_status(&test, girdle_cover(test_again(&test), region, &margin, &placement), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_cover(test_again(&test), region, &setting, &placement), GIRDLE_ARGUMENT);
  assert_int_equal(test.live_bytes, 0);
  girdle_region_free(region);
  girdle_region_free(field);
}

static int32_t cover_everything(girdle_call *call) {
  girdle_region *region = NULL;
  girdle_placement *first = NULL, *placement = NULL;
  girdle_stone stone = test_stone("ss34");
  girdle_cover_options options = test_cover(&stone, 1, 0.4);
  int32_t status = girdle_region_from_text(call, "M0 0H30V40H0ZM10 10V20H20V10Z", &region);
  options.turn_deg = 0;
  if (!status) status = girdle_cover(call, region, &options, &first);
  options.setting = GIRDLE_EDGE_ROWS;
  options.clear_of = first;
  if (!status) status = girdle_cover(call, region, &options, &placement);
  girdle_placement_free(first);
  girdle_placement_free(placement);
  girdle_region_free(region);
  return status;
}

static void cover_leaks_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(cover_everything);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(cover_fills_a_square),
      cmocka_unit_test(cover_keeps_gap_and_margin),
      cmocka_unit_test(cover_fills_a_square_as_far_away_as_a_path_may_lie),
      cmocka_unit_test(cover_holds_a_stone_that_touches_all_round),
      cmocka_unit_test(cover_alternates_along_rows),
      cmocka_unit_test(cover_turns_as_told),
      cmocka_unit_test(cover_finds_the_best_shift),
      cmocka_unit_test(cover_counts_one_stone),
      cmocka_unit_test(cover_counts_exactly),
      cmocka_unit_test(cover_counts_clear_of_others),
      cmocka_unit_test(cover_notes_what_rows_along_the_edge_lose),
      cmocka_unit_test(cover_refuses_by_name),
      cmocka_unit_test(cover_leaks_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
