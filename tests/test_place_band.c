/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_support.h"

static girdle_band_options band_of(const girdle_stone *stones, const uint64_t *counts, uint64_t rows, double gap_mm) {
  girdle_band_options options;
  girdle_band_options_init(&options, sizeof options);
  options.stones = stones;
  options.row_counts = counts;
  options.rows = rows;
  for (uint64_t i = 0; i < rows; i++)
    options.stone_count += counts[i];
  options.gap_mm = gap_mm;
  options.side = GIRDLE_SIDE_RIGHT;
  return options;
}

static girdle_placement *band(const char *text, const girdle_band_options *options) {
  test_call test;
  girdle_path *path = test_path(text);
  girdle_placement *placement = NULL;
  test_plain(&test);
  assert_ok(&test, girdle_band(&test.call, path, options, &placement));
  girdle_path_free(path);
  return placement;
}

static int64_t pieces_in_row(const girdle_placement *placement, uint16_t row) {
  int64_t count, pieces = 0;
  const girdle_placed *records = test_records(placement, &count);
  for (int64_t i = 0; i < count; i++)
    pieces += records[i].row == row;
  return pieces;
}

/* Distance of every stone of a row from the path, signed by the side. */
static void assert_row_lies_at(const girdle_placement *placement, const char *text, uint16_t row, double distance_mm) {
  girdle_path *path = test_path(text);
  int64_t count;
  const girdle_placed *records = test_records(placement, &count);
  for (int64_t i = 0; i < count; i++) {
    double along, distance;
    if (records[i].row != row) continue;
    assert_int_equal(girdle_path_nearest(NULL, path, records[i].x_mm, records[i].y_mm, &along, &distance), GIRDLE_OK);
    assert_near(distance, distance_mm, TOLERANCE);
  }
  girdle_path_free(path);
}

static void band_lays_rows_on_parallels(void **state) {
  static const char *const paths[] = {"300 mm", "loop 34 cm", "M0 0C60 90 120 -60 200 10", "M0 0H100V80"};
  girdle_stone stones[3] = {test_stone("ss20"), test_stone("ss16"), test_stone("ss12")};
  uint64_t counts[3] = {1, 1, 1};
  girdle_band_options options = band_of(stones, counts, 3, 0.5);
  double far[3] = {0, 0, 0};
  (void)state;
  options.row_gap_mm = 1.25;
  for (int k = 1; k < 3; k++)
    far[k] = far[k - 1] + (stones[k - 1].diameter_mm[1] + stones[k].diameter_mm[1]) / 2 + 1.25;
  for (options.side = GIRDLE_SIDE_LEFT; options.side <= GIRDLE_SIDE_BOTH; options.side++)
    for (int i = 0; i < 4; i++) {
      girdle_placement *placement = band(paths[i], &options);
      uint16_t rows = options.side == GIRDLE_SIDE_BOTH ? 5 : 3;
      for (uint16_t row = 0; row < rows; row++) {
        assert_true(pieces_in_row(placement, row) > 20);
        assert_row_lies_at(placement, paths[i], row, far[rows == 5 ? (row + 1) / 2 : row]);
      }
      assert_true(test_least_gap(placement) >= -TOLERANCE);
      girdle_placement_free(placement);
    }
}

static void band_staggers_by_half_a_pitch(void **state) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss20")};
  uint64_t counts[2] = {1, 1};
  girdle_band_options options = band_of(stones, counts, 2, 0.5);
  girdle_placement *placement;
  int64_t count;
  const girdle_placed *records;
  (void)state;
  placement = band("300 mm", &options);
  records = test_records(placement, &count);
  assert_int_equal(count, 118);
  for (int i = 0; i < 59; i++)
    assert_near(records[59 + i].x_mm, records[i].x_mm, TOLERANCE);
  girdle_placement_free(placement);
  options.flags = GIRDLE_STAGGER;
  placement = band("300 mm", &options);
  records = test_records(placement, &count);
  assert_int_equal(count, 117);
  for (int i = 0; i < 58; i++)
    assert_near(records[59 + i].x_mm, (records[i].x_mm + records[i + 1].x_mm) / 2, TOLERANCE);
  girdle_placement_free(placement);
}

static void band_loses_stones_inside_a_bend(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_stone stones[4] = {stone, stone, stone, stone};
  uint64_t counts[4] = {1, 1, 1, 1};
  girdle_band_options options = band_of(stones, counts, 4, 0.3);
  girdle_placement *placement = band("loop 20 cm", &options); /* clockwise: right is inside */
  (void)state;
  for (uint16_t row = 1; row < 4; row++)
    assert_true(pieces_in_row(placement, row) < pieces_in_row(placement, (uint16_t)(row - 1)));
  assert_true(test_least_gap(placement) >= -TOLERANCE);
  girdle_placement_free(placement);
  placement = band("M0 0L60 4L0 8", &options);
  assert_true(test_least_gap(placement) >= -TOLERANCE);
  assert_true(test_notes(placement).left_out > 0);
  girdle_placement_free(placement);
}

static void band_counts_exactly(void **state) {
  girdle_stone stones[3] = {test_stone("ss20"), test_stone("ss16"), test_stone("ss16")};
  uint64_t counts[2] = {1, 2};
  girdle_band_options options = band_of(stones, counts, 2, 0.2);
  (void)state;
  for (options.count = 40; options.count < 100; options.count += 17) {
    girdle_placement *placement = band("M0 0C60 90 120 -60 200 10", &options);
    assert_int_equal(test_count(placement), options.count);
    assert_true(test_notes(placement).gap_mm >= 0.2);
    girdle_placement_free(placement);
  }
}

static void band_names_the_most_that_fit(void **state) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss16")};
  uint64_t counts[2] = {1, 1};
  girdle_band_options options = band_of(stones, counts, 2, 0.5);
  girdle_path *path = test_path("300 mm");
  girdle_placement *placement = NULL;
  const char *most;
  test_call test;
  (void)state;
  test_begin(&test);
  options.count = 1000;
  assert_status(&test, girdle_band(&test.call, path, &options, &placement), GIRDLE_GEOMETRY);
  most = strstr(test.error.message, "the most that do are ");
  assert_non_null(most);
  options.count = strtol(most + 21, NULL, 10);
  assert_true(options.count > 120);
  assert_ok(&test, girdle_band(test_again(&test), path, &options, &placement));
  assert_int_equal(test_count(placement), options.count);
  girdle_placement_free(placement);
  girdle_path_free(path);
  assert_int_equal(test.live_bytes, 0);
}

/* Every row leaves the same stretch, which is seen as a wedge: no stone's edge reaches over either of its sides, and
 * one stone stands at each of them, whether it runs across the start of a loop, up to it, or lies elsewhere. */
static void band_leaves_stretches_in_every_row(void **state) {
  static const girdle_stretch leaves[] = {{320, 20}, {320, 340}, {0, 20}, {100, 140}};
  const double round = 340, radius = round / 6.283185307179586;
  girdle_stone stones[3] = {test_stone("ss20"), test_stone("ss16"), test_stone("ss12")};
  uint64_t counts[3] = {1, 1, 1};
  girdle_path *path = test_path("loop 34 cm");
  (void)state;
  for (int i = 0; i < 4; i++)
    for (int64_t exactly = 0; exactly <= 200; exactly += 200) {
      girdle_band_options options = band_of(stones, counts, 3, 0.5);
      girdle_placement *placement;
      int64_t count, beside[5] = {0};
      const girdle_placed *records;
      girdle_point_on sides[2];
      options.side = GIRDLE_SIDE_BOTH;
      options.leave = &leaves[i];
      options.leave_count = 1;
      options.count = exactly;
      placement = band("loop 34 cm", &options);
      records = test_records(placement, &count);
      assert_int_equal(girdle_path_at(NULL, path, leaves[i].from_mm, &sides[0]), GIRDLE_OK);
      assert_int_equal(girdle_path_at(NULL, path, leaves[i].to_mm, &sides[1]), GIRDLE_OK);
      for (int64_t k = 0; k < count; k++)
        for (int side = 0; side < 2; side++) {
          /* ahead of the side as the walker goes, from the ray on which the side's stones would stand */
          double angle = sides[side].angle_deg * 3.14159265358979 / 180;
          double ahead =
              (records[k].x_mm - sides[side].x_mm) * cos(angle) + (records[k].y_mm - sides[side].y_mm) * sin(angle);
          double across = fabs((records[k].y_mm - sides[side].y_mm) * cos(angle) -
                               (records[k].x_mm - sides[side].x_mm) * sin(angle));
          double free = test_diameter(placement, k) / 2 - fabs(ahead);
          if (across > radius) continue; /* the far half of the loop */
          assert_true(free < 0.06);      /* at the end of a row the stone's edge is met along the curve */
          beside[records[k].row] += free > -0.06;
        }
      for (int row = 0; row < 5; row++)
        assert_int_equal(beside[row], 2);
      if (exactly) assert_int_equal(count, exactly);
      assert_int_equal(test_notes(placement).left_out, 0);
      girdle_placement_free(placement);
    }
  girdle_path_free(path);
}

/* The stretch lies round a corner that the inner rows cut off: what still stands beside it is left out, and counted. */
static void band_notes_what_it_leaves(void **state) {
  static const struct {
    const char *path;
    girdle_stretch leave;
  } cases[] = {{"M0 0H100V100", {90, 110}},
               {"M0 0L100 30L0 60", {100, 109}},
               {"M0 0L100 30L0 60", {60, 100}},
               {"M0 0L40 12L0 24", {33, 50}}};
  girdle_stone stones[4] = {test_stone("ss20"), test_stone("ss20"), test_stone("ss20"), test_stone("ss20")};
  uint64_t counts[4] = {1, 1, 1, 1};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_band_options options = band_of(stones, counts, 4, 0.5), free = options;
    girdle_placement *placement, *whole;
    girdle_path *path = test_path(cases[i].path);
    int64_t count;
    const girdle_placed *records;
    options.leave = &cases[i].leave;
    options.leave_count = 1;
    placement = band(cases[i].path, &options);
    whole = band(cases[i].path, &free);
    records = test_records(placement, &count);
    assert_true(count < test_count(whole) && count > test_count(whole) / 2);
    for (int64_t k = 0; k < count; k++) {
      double along, distance;
      assert_int_equal(girdle_path_nearest(NULL, path, records[k].x_mm, records[k].y_mm, &along, &distance), GIRDLE_OK);
      assert_true(along <= cases[i].leave.from_mm + 2e-3 || along >= cases[i].leave.to_mm - 2e-3);
    }
    girdle_placement_free(whole);
    girdle_placement_free(placement);
    girdle_path_free(path);
  }
}

/* On the inner side of a bend the ends of a stretch may be met in the other order, or nowhere; on a loop a stretch may
 * run across the start. Every row lies clear of it all the same, and what lies elsewhere stays. */
static void band_leaves_stretches_that_bends_take(void **state) {
  static const struct {
    const char *path;
    girdle_stretch leave;
    int32_t side;
    int64_t least;
  } cases[] = {{"M0 0C15 -22 15 22 0 9", {28, 32}, GIRDLE_SIDE_RIGHT, 8},
               {"M0 0L12 -4L9 -8", {16, 17}, GIRDLE_SIDE_BOTH, 15},
               {"M26 21L0 58L0 0Z", {125, 6}, GIRDLE_SIDE_BOTH, 92}};
  girdle_stone stones[3] = {test_stone("ss20"), test_stone("ss20"), test_stone("ss20")};
  uint64_t counts[3] = {1, 1, 1};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_band_options options = band_of(stones, counts, 3, 0.5);
    const girdle_stretch *leave = &cases[i].leave;
    girdle_placement *placement;
    girdle_path *path = test_path(cases[i].path);
    int64_t count;
    const girdle_placed *records;
    options.leave = leave;
    options.leave_count = 1;
    options.side = cases[i].side;
    placement = band(cases[i].path, &options);
    records = test_records(placement, &count);
    assert_true(count >= cases[i].least);
    for (int64_t k = 0; k < count; k++) {
      double along, distance;
      assert_int_equal(girdle_path_nearest(NULL, path, records[k].x_mm, records[k].y_mm, &along, &distance), GIRDLE_OK);
      if (leave->from_mm < leave->to_mm)
        assert_true(along <= leave->from_mm + 2e-3 || along >= leave->to_mm - 2e-3);
      else
        assert_true(along <= leave->from_mm + 2e-3 && along >= leave->to_mm - 2e-3);
    }
    girdle_placement_free(placement);
    girdle_path_free(path);
  }
}

static void band_counts_clear_of_others(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_stone stones[2] = {stone, stone};
  uint64_t counts[2] = {1, 1};
  girdle_placed there[1] = {{100, 0, 0, 0, 0}};
  girdle_band_options options = band_of(stones, counts, 2, 0.5);
  girdle_placement *others = NULL, *placement;
  girdle_path *path = test_path("300 mm");
  test_call test;
  (void)state;
  assert_int_equal(girdle_placement_new(NULL, &stone, 1, there, 1, &others), GIRDLE_OK);
  options.clear_of = others;
  placement = band("300 mm", &options);
  assert_int_equal(test_count(placement) + test_notes(placement).left_out, 118);
  assert_true(test_notes(placement).left_out > 0);
  girdle_placement_free(placement);
  test_begin(&test);
  options.count = 62;
  assert_status(&test, girdle_band(&test.call, path, &options, &placement), GIRDLE_GEOMETRY);
  options.count = strtol(strstr(test.error.message, "that do are ") + 12, NULL, 10);
  assert_ok(&test, girdle_band(test_again(&test), path, &options, &placement));
  assert_int_equal(test_count(placement), options.count);
  assert_int_equal(test_notes(placement).left_out, 0);
  girdle_placement_free(placement);
  girdle_placement_free(others);
  girdle_path_free(path);
}

static void band_refuses_by_name(void **state) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss16")};
  uint64_t counts[2] = {1, 1}, none[2] = {0, 2};
  girdle_path *path = test_path("300 mm");
  girdle_placement *placement = NULL;
  girdle_band_options options = band_of(stones, counts, 2, 0.2), rows = options, sum = options, side = options,
                      empty = options, whole = options;
  test_call test;
  (void)state;
  test_begin(&test);
  rows.rows = 0;
  sum.rows = 1;
  side.side = 7;
  empty.row_counts = none;
  assert_status(&test, girdle_band(&test.call, path, &rows, &placement), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_band(test_again(&test), path, &sum, &placement), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_band(test_again(&test), path, &side, &placement), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_band(test_again(&test), path, &empty, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "rows");
  whole.flags = GIRDLE_WHOLE;
  whole.count = 12;
  assert_status(&test, girdle_band(test_again(&test), path, &whole, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "whole");
  girdle_path_free(path);
}

static void band_refuses_what_no_row_holds(void **state) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss16")};
  uint64_t counts[2] = {1, 1};
  girdle_path *path = test_path("60 mm");
  girdle_stretch all = {0, 60};
  girdle_placement *placement = NULL;
  girdle_band_options options = band_of(stones, counts, 2, 0.2), gap = options;
  test_call test;
  (void)state;
  test_begin(&test);
  options.leave = &all;
  options.leave_count = 1;
  assert_status(&test, girdle_band(&test.call, path, &options, &placement), GIRDLE_GEOMETRY);
  assert_string_equal(test.error.field, "along");
  options.count = 7;
  assert_status(&test, girdle_band(test_again(&test), path, &options, &placement), GIRDLE_GEOMETRY);
  assert_string_equal(test.error.field, "count");
  gap.row_gap_mm = -1;
  assert_status(&test, girdle_band(test_again(&test), path, &gap, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "row_gap");
  gap.row_gap_mm = NAN;
  gap.row_counts = NULL;
  assert_status(&test, girdle_band(test_again(&test), path, &gap, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "rows");
  assert_int_equal(test.live_bytes, 0);
  girdle_path_free(path);
}

static int32_t stop_at_last(void *context, uint64_t steps, double done) {
  (void)steps;
  (void)done;
  return --*(int *)context < 0;
}

/* Wherever it is stopped, nothing is kept; in the second row the message says so. */
static void band_names_the_row_that_was_stopped(void **state) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss16")};
  uint64_t counts[2] = {1, 1};
  girdle_path *path = test_path("loop 20 cm");
  girdle_band_options options = band_of(stones, counts, 2, 0.2);
  int32_t status = GIRDLE_STOPPED;
  int second = 0;
  (void)state;
  for (int ticks = 0; status == GIRDLE_STOPPED; ticks++) {
    girdle_placement *placement = NULL;
    test_call test;
    int left = ticks;
    test_begin(&test);
    test.call.watch.context = &left;
    test.call.watch.tick = stop_at_last;
    status = girdle_band(&test.call, path, &options, &placement);
    if (status) assert_null(placement);
    second += status && strstr(test.error.message, "row 2: ") != NULL;
    girdle_placement_free(placement);
    assert_int_equal(test.live_bytes, 0);
  }
  assert_int_equal(status, GIRDLE_OK);
  assert_true(second > 0);
  girdle_path_free(path);
}

/* On both sides the rows beside the first are shifted alike; stones that do not turn keep the circle about them. */
static void band_staggers_both_sides_alike(void **state) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("5 mm navette")};
  uint64_t counts[2] = {1, 1};
  girdle_band_options options = band_of(stones, counts, 2, 0.5);
  girdle_placement *placement;
  int64_t count, upper = 0, lower = 0;
  const girdle_placed *records;
  double far, x[2][200];
  (void)state;
  options.side = GIRDLE_SIDE_BOTH;
  options.flags = GIRDLE_STAGGER;
  options.turn_deg = 0;
  far = girdle_stone_circle_mm(&stones[0]) + 0.5 + girdle_stone_circle_mm(&stones[1]);
  placement = band("300 mm", &options);
  records = test_records(placement, &count);
  for (int64_t i = 0; i < count; i++) {
    if (records[i].row == 0) continue;
    assert_near(fabs(records[i].y_mm), far, TOLERANCE);
    if (records[i].y_mm > 0)
      x[0][lower++] = records[i].x_mm;
    else
      x[1][upper++] = records[i].x_mm;
  }
  assert_true(lower > 20 && lower == upper);
  for (int64_t i = 0; i < lower; i++)
    assert_near(x[0][i], x[1][i], TOLERANCE);
  assert_true(x[0][0] > 1);
  girdle_placement_free(placement);
}

/* ---- stones that are not round */

static girdle_stone fancy(int32_t outline, double ratio, double width_mm) {
  girdle_stone_spec spec;
  girdle_stone stone;
  char size[32];
  snprintf(size, sizeof size, "%g mm", width_mm);
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = size;
  spec.outline = outline;
  spec.length_ratio = ratio;
  assert_int_equal(girdle_stone_make(NULL, &spec, &stone), GIRDLE_OK);
  return stone;
}

/* On a straight line navettes 4 mm by 8 mm stand 8.5 mm apart along it, 4.5 mm apart when turned across it. */
static void run_reaches_by_the_outline_along_the_path(void **state) {
  girdle_stone navette = fancy(GIRDLE_NAVETTE, 2, 4);
  girdle_path *path = test_path("M0 0L0 170");
  girdle_run_options options = test_run(&navette, 1, 0.5);
  girdle_placement *placement = NULL;
  int64_t count;
  const girdle_placed *records;
  uint64_t overlaps;
  (void)state;
  assert_int_equal(girdle_run(NULL, path, &options, &placement), GIRDLE_OK);
  records = test_records(placement, &count);
  assert_int_equal(count, 21);
  for (int64_t i = 0; i < count; i++)
    assert_near((double)records[i].turn_deg, 90, 0.01);
  girdle_placement_free(placement);
  options.turn_deg = 0;
  assert_int_equal(girdle_run(NULL, path, &options, &placement), GIRDLE_OK);
  records = test_records(placement, &count);
  assert_int_equal(count, 39); /* 170 / 4.5 = 37.8 */
  for (int64_t i = 0; i < count; i++)
    assert_near((double)records[i].turn_deg, 0, 0);
  assert_int_equal(girdle_placement_overlaps(NULL, placement, NULL, 0, &overlaps), GIRDLE_OK);
  assert_int_equal(overlaps, 0);
  girdle_placement_free(placement);
  girdle_path_free(path);
}

static void band_of_fancy_stones_never_overlaps(void **state) {
  static const char *const paths[] = {"300 mm", "loop 34 cm", "M0 0C60 90 120 -60 200 10", "M0 0H100V80"};
  (void)state;
  for (int32_t outline = GIRDLE_OVAL; outline < GIRDLE_OUTLINE_END; outline++)
    for (int i = 0; i < 4; i++) {
      double ratio = outline == GIRDLE_SQUARE || outline == GIRDLE_HEART ? 1 : 1.8;
      girdle_stone stones[3] = {fancy(outline, ratio, 4), test_stone("ss12"), fancy(outline, ratio, 3)};
      uint64_t counts[2] = {2, 1}, overlaps;
      girdle_band_options options = band_of(stones, counts, 2, 0.5);
      girdle_placement *placement = band(paths[i], &options);
      assert_true(test_count(placement) > 40);
      assert_int_equal(girdle_placement_overlaps(NULL, placement, NULL, 0, &overlaps), GIRDLE_OK);
      assert_int_equal(overlaps, 0);
      girdle_placement_free(placement);
    }
}

static int32_t band_everything(girdle_call *call) {
  girdle_stone stones[3] = {test_stone("ss20"), test_stone("ss16"), test_stone("ss12")};
  uint64_t counts[2] = {1, 2};
  girdle_band_options options = band_of(stones, counts, 2, 0.4);
  girdle_stretch leave = {20, 30};
  girdle_path *path = NULL;
  girdle_placement *placement = NULL;
  int32_t status = girdle_path_parse(call, "M0 0H60V30", 10, &path);
  options.side = GIRDLE_SIDE_BOTH;
  options.leave = &leave;
  options.leave_count = 1;
  if (!status) status = girdle_band(call, path, &options, &placement);
  girdle_placement_free(placement);
  placement = NULL;
  options.leave_count = 0;
  options.count = 30;
  if (!status) status = girdle_band(call, path, &options, &placement);
  girdle_placement_free(placement);
  girdle_path_free(path);
  return status;
}

static void band_leaks_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(band_everything);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(band_lays_rows_on_parallels),
      cmocka_unit_test(band_staggers_by_half_a_pitch),
      cmocka_unit_test(band_loses_stones_inside_a_bend),
      cmocka_unit_test(band_counts_exactly),
      cmocka_unit_test(band_names_the_most_that_fit),
      cmocka_unit_test(band_leaves_stretches_in_every_row),
      cmocka_unit_test(band_notes_what_it_leaves),
      cmocka_unit_test(band_leaves_stretches_that_bends_take),
      cmocka_unit_test(band_counts_clear_of_others),
      cmocka_unit_test(band_refuses_by_name),
      cmocka_unit_test(band_refuses_what_no_row_holds),
      cmocka_unit_test(band_names_the_row_that_was_stopped),
      cmocka_unit_test(band_staggers_both_sides_alike),
      cmocka_unit_test(run_reaches_by_the_outline_along_the_path),
      cmocka_unit_test(band_of_fancy_stones_never_overlaps),
      cmocka_unit_test(band_leaks_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
