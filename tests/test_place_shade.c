/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_support.h"

enum { SEEDS = 20 };

/* ---- fade */

static girdle_fade_options fade_of(const girdle_stone *stones, uint64_t count, double to_x) {
  girdle_fade_options options;
  girdle_fade_options_init(&options, sizeof options);
  options.stones = stones;
  options.stone_count = count;
  options.gap_mm = 0.6;
  options.to_x_mm = to_x;
  return options;
}

typedef struct mark {
  double step;
  uint16_t stone;
} mark;

static int by_step(const void *a, const void *b) {
  double x = ((const mark *)a)->step, y = ((const mark *)b)->step;
  return (x > y) - (x < y);
}

/* In any stretch of the ramp each stone's number is within 2 of the ramp's: the most by which the running difference
 * rises or falls between any two places. */
static double worst_stretch(const girdle_placement *placement, const girdle_fade_options *options) {
  int64_t count;
  const girdle_placed *records = test_records(placement, &count);
  mark *marks = malloc((size_t)count * sizeof *marks);
  double worst = 0, steps = (double)options->stone_count - 1;
  double way_x = options->to_x_mm - options->from_x_mm, way_y = options->to_y_mm - options->from_y_mm;
  for (int64_t i = 0; i < count; i++) {
    double share = ((records[i].x_mm - options->from_x_mm) * way_x + (records[i].y_mm - options->from_y_mm) * way_y) /
                   (way_x * way_x + way_y * way_y);
    marks[i].step = fmin(fmax(share, 0), 1) * steps;
    marks[i].stone = records[i].stone;
  }
  qsort(marks, (size_t)count, sizeof *marks, by_step);
  for (uint64_t k = 0; k < options->stone_count; k++) {
    double running = 0, least = 0, most = 0;
    for (int64_t i = 0; i < count; i++) {
      running += (marks[i].stone == k) - fmax(0, 1 - fabs(marks[i].step - (double)k));
      if (i + 1 < count && marks[i + 1].step == marks[i].step) continue; /* a stretch ends between places */
      worst = fmax(worst, fmax(running - least, most - running));
      least = fmin(least, running);
      most = fmax(most, running);
    }
  }
  free(marks);
  return worst;
}

static void fade_follows_the_ramp(void **state) {
  girdle_stone stones[5] = {test_stone("ss12 red"), test_stone("ss12 rose"), test_stone("ss12 pink"),
                            test_stone("ss10 white"), test_stone("ss9 clear")};
  girdle_region *region = test_region("rectangle 150 mm x 120 mm");
  (void)state;
  for (uint64_t kinds = 2; kinds <= 5; kinds++)
    for (uint64_t seed = 0; seed < SEEDS; seed++) {
      girdle_fade_options options = fade_of(stones, kinds, 130);
      girdle_placement *placement = NULL;
      options.seed = seed;
      options.from_x_mm = 20;
      options.to_y_mm = 60;
      assert_int_equal(girdle_fade(NULL, region, &options, &placement), GIRDLE_OK);
      assert_true(worst_stretch(placement, &options) <= 2);
      if (seed == 0) assert_true(test_least_gap(placement) >= 0.6 - TOLERANCE);
      girdle_placement_free(placement);
    }
  girdle_region_free(region);
}

static void fade_counts_exactly(void **state) {
  girdle_stone stones[2] = {test_stone("ss12 red"), test_stone("ss12 rose")};
  girdle_region *region = test_region("oval 150 mm x 120 mm");
  girdle_fade_options options = fade_of(stones, 2, 150);
  girdle_placement *placement = NULL;
  (void)state;
  options.count = 321;
  assert_int_equal(girdle_fade(NULL, region, &options, &placement), GIRDLE_OK);
  assert_int_equal(test_count(placement), 321);
  girdle_placement_free(placement);
  girdle_region_free(region);
}

/* ---- grade */

static girdle_grade_options grade_of(const girdle_stone *stones, uint64_t count, const girdle_path *edge,
                                     double depth_mm) {
  girdle_grade_options options;
  girdle_grade_options_init(&options, sizeof options);
  options.stones = stones;
  options.stone_count = count;
  options.gap_mm = 0.6;
  options.edge = edge;
  options.depth_mm = depth_mm;
  return options;
}

/* What a stretch between two depths under the straight upper edge of a rectangle wants of a stone, integrated by the
 * midpoint rule. */
static double wanted(const girdle_grade_options *options, uint64_t stone, double width, double height, double from,
                     double to) {
  double diameter = options->stones[stone].diameter_mm[GIRDLE_NOMINAL], pitch = diameter + options->gap_mm, sum = 0;
  double steps = (double)options->stone_count - 1;
  for (int i = 0; i < 2000; i++) {
    double depth = from + (to - from) * (i + 0.5) / 2000, u = depth / options->depth_mm;
    if (depth < diameter / 2 || depth > height - diameter / 2 || u > 1) continue;
    sum += 0.45 / (pitch * pitch) * (options->stone_count == 1 ? 1 - u : fmax(0, 1 - fabs(u * steps - (double)stone))) *
           (width - diameter) * (to - from) / 2000;
  }
  return sum;
}

static void grade_meets_each_stretch(void **state) {
  girdle_stone stones[3] = {test_stone("ss20"), test_stone("ss16"), test_stone("ss9")};
  girdle_region *region = test_region("rectangle 160 mm x 100 mm");
  girdle_box box;
  girdle_path *edge;
  char text[80];
  (void)state;
  girdle_region_box(region, &box);
  snprintf(text, sizeof text, "M%g %gH%g", box.left_mm, box.top_mm, box.right_mm);
  edge = test_path(text);
  for (uint64_t kinds = 1; kinds <= 3; kinds++)
    for (uint64_t seed = 0; seed < SEEDS; seed++) {
      girdle_grade_options options = grade_of(stones, kinds, edge, 80);
      girdle_placement *placement = NULL;
      int64_t count;
      const girdle_placed *records;
      double pitch = stones[0].diameter_mm[GIRDLE_NOMINAL] + 0.6;
      options.seed = seed;
      assert_int_equal(girdle_grade(NULL, region, &options, &placement), GIRDLE_OK);
      records = test_records(placement, &count);
      assert_true(count > 60);
      assert_int_equal(test_notes(placement).left_out, 0);
      for (double from = 0; from < 80; from += 7)
        for (double to = from + 2 * pitch; to < 85; to += 9)
          for (uint64_t k = 0; k < kinds; k++) {
            double n = wanted(&options, k, 160, 100, from, to), found = 0;
            for (int64_t i = 0; i < count; i++)
              found +=
                  records[i].stone == k && records[i].y_mm - box.top_mm >= from && records[i].y_mm - box.top_mm < to;
            assert_near(found, n, 2 + sqrt(n) / 2);
          }
      if (seed == 0) assert_true(test_least_gap(placement) >= 0.6 - TOLERANCE);
      if (seed == 0) assert_true(test_least_margin(placement, region) >= -TOLERANCE);
      girdle_placement_free(placement);
    }
  girdle_path_free(edge);
  girdle_region_free(region);
}

/* ---- between */

static void between_sets_one_stone_in_every_gap(void **state) {
  girdle_stone large = test_round(10), small = test_round(1.5);
  girdle_region *region = test_region("rectangle 100 mm x 100 mm");
  girdle_cover_options cover = test_cover(&large, 1, 0);
  girdle_between_options options;
  girdle_placement *there = NULL, *placement = NULL, *both = NULL;
  (void)state;
  cover.setting = GIRDLE_SQUARE_ROWS;
  cover.turn_deg = 0;
  assert_int_equal(girdle_cover(NULL, region, &cover, &there), GIRDLE_OK);
  assert_int_equal(test_count(there), 100);
  girdle_between_options_init(&options, sizeof options);
  options.stones = &small;
  options.stone_count = 1;
  options.around = there;
  options.gap_mm =
      1.3; /* a gap of the square holds a circle of radius 5 (sqrt 2 - 1) = 2.07 mm: 0.75 + 1.3 fits once */
  assert_int_equal(girdle_between(NULL, region, &options, &placement), GIRDLE_OK);
  assert_int_equal(test_count(placement), 81);
  assert_int_equal(girdle_placement_joined(NULL, there, placement, &both), GIRDLE_OK);
  for (int64_t i = 100; i < 181; i++)
    for (int64_t k = 0; k < i; k++)
      assert_true(test_gap(both, i, k) >= 1.3 - TOLERANCE);
  assert_true(test_notes(placement).flags & GIRDLE_NOTE_MAXIMAL);
  girdle_placement_free(there);
  girdle_placement_free(placement);
  girdle_placement_free(both);
  girdle_region_free(region);
}

static void between_takes_the_largest_that_fits(void **state) {
  girdle_stone large = test_stone("ss34"), stones[3] = {test_stone("ss6"), test_stone("ss16"), test_stone("ss10")};
  girdle_region *region = test_region("oval 120 mm x 80 mm");
  girdle_scatter_options scatter = test_scatter(&large, 1, 1);
  girdle_between_options options;
  girdle_placement *there = NULL, *placement = NULL, *both = NULL;
  uint64_t random = 9;
  double least = stones[0].diameter_mm[GIRDLE_NOMINAL] / 2;
  (void)state;
  assert_int_equal(girdle_scatter(NULL, region, &scatter, &there), GIRDLE_OK);
  girdle_between_options_init(&options, sizeof options);
  options.stones = stones;
  options.stone_count = 3;
  options.around = there;
  options.gap_mm = 0.4;
  options.margin_mm = 1;
  assert_int_equal(girdle_between(NULL, region, &options, &placement), GIRDLE_OK);
  assert_int_equal(girdle_placement_joined(NULL, there, placement, &both), GIRDLE_OK);
  assert_true(test_least_gap(both) >= 0.4 - TOLERANCE);
  assert_true(test_least_margin(placement, region) >= 1 - TOLERANCE);
  for (uint16_t k = 0; k < 3; k++)
    assert_true(test_pieces(placement, k) > 0);
  for (int i = 0; i < 20000; i++) { /* nothing more than a few hundredths of a millimetre wider is left open */
    double x = (test_uniform(&random) - 0.5) * 120, y = (test_uniform(&random) - 0.5) * 80, room = INFINITY;
    int64_t count;
    const girdle_placed *records = test_records(both, &count);
    for (int64_t k = 0; k < count; k++)
      room = fmin(room, hypot(records[k].x_mm - x, records[k].y_mm - y) - test_diameter(both, k) / 2 - 0.4);
    if (room > least + 0.03) assert_true(girdle_region_depth_mm(region, x, y) < least + 1 + 0.03);
  }
  girdle_placement_free(there);
  girdle_placement_free(placement);
  girdle_placement_free(both);
  girdle_region_free(region);
}

static void between_holds_over_many_seeds(void **state) {
  girdle_stone large[2] = {test_stone("ss34"), test_stone("ss20")}, small[2] = {test_stone("ss10"), test_stone("ss6")};
  girdle_region *region = test_region("M0 0H70V50H0ZM20 15V30H35V15Z");
  double least = small[1].diameter_mm[GIRDLE_NOMINAL] / 2;
  uint64_t random = 19;
  (void)state;
  for (uint64_t seed = 0; seed < SEEDS; seed++) {
    girdle_scatter_options scatter = test_scatter(large, 2, 1);
    girdle_between_options options;
    girdle_placement *there = NULL, *placement = NULL, *both = NULL;
    const girdle_placed *records;
    int64_t count;
    scatter.seed = seed;
    assert_int_equal(girdle_scatter(NULL, region, &scatter, &there), GIRDLE_OK);
    girdle_between_options_init(&options, sizeof options);
    options.stones = small;
    options.stone_count = 2;
    options.around = there;
    options.gap_mm = 0.1 * (double)(seed % 5);
    assert_int_equal(girdle_between(NULL, region, &options, &placement), GIRDLE_OK);
    assert_int_equal(girdle_placement_joined(NULL, there, placement, &both), GIRDLE_OK);
    assert_true(test_least_gap(both) >= options.gap_mm - TOLERANCE);
    assert_true(test_least_margin(placement, region) >= -TOLERANCE);
    assert_true(test_notes(placement).flags & GIRDLE_NOTE_MAXIMAL);
    assert_true(test_notes(placement).undecided_mm2 < 1);
    records = test_records(both, &count);
    for (int i = 0; i < 2000; i++) {
      double x = test_uniform(&random) * 70, y = test_uniform(&random) * 50, room = INFINITY;
      for (int64_t k = 0; k < count; k++)
        room = fmin(room, hypot(records[k].x_mm - x, records[k].y_mm - y) - test_diameter(both, k) / 2);
      if (room - options.gap_mm > least + 0.03) assert_true(girdle_region_depth_mm(region, x, y) < least + 0.03);
    }
    girdle_placement_free(there);
    girdle_placement_free(placement);
    girdle_placement_free(both);
  }
  girdle_region_free(region);
}

/* ---- motif */

static girdle_placement *flower(void) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss12")};
  girdle_placed records[7] = {{0, 0, 0, 0, 0}};
  girdle_placement *placement = NULL;
  for (int i = 1; i < 7; i++) {
    records[i].x_mm = 4.5 * cos(i * 1.0471975512);
    records[i].y_mm = 4.5 * sin(i * 1.0471975512);
    records[i].stone = 1;
  }
  assert_int_equal(girdle_placement_new(NULL, stones, 2, records, 7, &placement), GIRDLE_OK);
  return placement;
}

static void motif_repeats_along_a_path(void **state) {
  girdle_placement *group = flower(), *placement = NULL;
  girdle_motif_options options;
  girdle_path *path = test_path("loop 60 cm");
  (void)state;
  girdle_motif_options_init(&options, sizeof options);
  options.along = path;
  options.gap_mm = 2;
  assert_int_equal(girdle_motif(NULL, group, &options, &placement), GIRDLE_OK);
  assert_true(test_count(placement) > 7 * 40);
  assert_int_equal(test_count(placement) % 7, 0);
  assert_int_equal(test_notes(placement).left_out, 0);
  assert_true(test_least_gap(placement) > -TOLERANCE);
  girdle_placement_free(placement);
  options.count = 12;
  assert_int_equal(girdle_motif(NULL, group, &options, &placement), GIRDLE_OK);
  assert_int_equal(test_count(placement), 84);
  girdle_placement_free(placement);
  girdle_placement_free(group);
  girdle_path_free(path);
}

static void motif_turns_and_grows_but_its_stones_do_not(void **state) {
  girdle_placement *group = flower(), *placement = NULL;
  girdle_motif_place at[3] = {{0, 0, 0, 1}, {100, 0, 30, 2}, {104, 0, 0, 1}};
  girdle_motif_options options;
  int64_t count;
  const girdle_placed *records;
  (void)state;
  girdle_motif_options_init(&options, sizeof options);
  options.at = at;
  options.at_count = 3;
  assert_int_equal(girdle_motif(NULL, group, &options, &placement), GIRDLE_OK);
  records = test_records(placement, &count);
  assert_int_equal(count, 14); /* the third would lie on the second */
  assert_int_equal(test_notes(placement).left_out, 7);
  assert_near(records[8].x_mm, 100 + 9 * cos(1.5707963268), 1e-3);
  assert_near(records[8].y_mm, 9 * sin(1.5707963268), 1e-3);
  assert_near(test_diameter(placement, 8), test_diameter(group, 1), 0);
  girdle_placement_free(placement);
  options.flags = GIRDLE_COLLIDE;
  assert_int_equal(girdle_motif(NULL, group, &options, &placement), GIRDLE_OK);
  assert_int_equal(test_count(placement), 21);
  girdle_placement_free(placement);
  girdle_placement_free(group);
}

/* Every copy is the group again, turned: all its distances are the group's. */
static void motif_repeats_over_many_seeds(void **state) {
  girdle_stone stones[3] = {test_stone("ss16"), test_stone("ss9"), test_stone("5 mm navette")};
  girdle_region *spot = test_region("oval 24 mm x 16 mm");
  girdle_path *path = test_path("M0 0C90 120 160 -90 300 20");
  (void)state;
  for (uint64_t seed = 0; seed < SEEDS; seed++) {
    girdle_scatter_options scatter = test_scatter(stones, 1 + seed % 3, 0.5);
    girdle_motif_options options;
    girdle_placement *group = NULL, *placement = NULL;
    const girdle_placed *records, *first;
    int64_t count, size;
    scatter.seed = seed;
    assert_int_equal(girdle_scatter(NULL, spot, &scatter, &group), GIRDLE_OK);
    girdle_motif_options_init(&options, sizeof options);
    options.along = path;
    options.gap_mm = 1;
    options.count = seed % 2 ? 6 : 0;
    assert_int_equal(girdle_motif(NULL, group, &options, &placement), GIRDLE_OK);
    first = test_records(group, &size);
    records = test_records(placement, &count);
    assert_int_equal(count % size, 0);
    assert_int_equal(test_notes(placement).left_out % size, 0);
    if (options.count) assert_int_equal(count + test_notes(placement).left_out, 6 * size);
    assert_true(test_least_gap(placement) >= -TOLERANCE);
    for (int64_t copy = 0; copy < count; copy += size)
      for (int64_t i = 0; i < size; i++) {
        assert_int_equal(records[copy + i].stone, first[i].stone);
        assert_near(hypot(records[copy + i].x_mm - records[copy].x_mm, records[copy + i].y_mm - records[copy].y_mm),
                    hypot(first[i].x_mm - first[0].x_mm, first[i].y_mm - first[0].y_mm), TOLERANCE);
      }
    girdle_placement_free(group);
    girdle_placement_free(placement);
  }
  girdle_path_free(path);
  girdle_region_free(spot);
}

/* ---- asks that cannot be met, and memory */

static void motif_refuses_by_name(void **state) {
  static const struct {
    girdle_motif_place at;
    const char *field;
  } cases[] = {{{NAN, 0, 0, 1}, "at"}, {{0, 1e9, 0, 1}, "at"}, {{0, 0, NAN, 1}, "turn"}, {{0, 0, 0, 0.01}, "scale"}};
  girdle_placement *group = flower(), *none = NULL, *placement = NULL;
  girdle_motif_options options;
  test_call test;
  (void)state;
  test_begin(&test);
  girdle_motif_options_init(&options, sizeof options);
  options.at_count = 1;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    options.at = &cases[i].at;
    assert_status(&test, girdle_motif(test_again(&test), group, &options, &placement), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, cases[i].field);
  }
  options.gap_mm = -1;
  assert_status(&test, girdle_motif(test_again(&test), group, &options, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "gap");
  options.gap_mm = 0;
  assert_int_equal(girdle_placement_new(NULL, NULL, 0, NULL, 0, &none), GIRDLE_OK);
  assert_status(&test, girdle_motif(test_again(&test), none, &options, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "placement");
  assert_int_equal(test.live_bytes, 0);
  girdle_placement_free(none);
  girdle_placement_free(group);
}

/* What comes too near to others is left out of the copies, and noted. */
static void motif_stays_clear_of_others(void **state) {
  girdle_placement *group = flower(), *placement = NULL, *both = NULL;
  girdle_motif_place at[2] = {{3, 0, 0, 1}, {60, 0, 0, 1}};
  girdle_motif_options options;
  (void)state;
  girdle_motif_options_init(&options, sizeof options);
  options.at = at;
  options.at_count = 2;
  options.gap_mm = 0.5;
  options.clear_of = group;
  assert_int_equal(girdle_motif(NULL, group, &options, &placement), GIRDLE_OK);
  assert_int_equal(test_count(placement) + test_notes(placement).left_out, 14);
  assert_true(test_notes(placement).left_out > 0 && test_notes(placement).left_out <= 7);
  assert_int_equal(girdle_placement_joined(NULL, placement, group, &both), GIRDLE_OK);
  for (int64_t i = 0; i < test_count(placement); i++)
    for (int64_t k = test_count(placement); k < test_count(both); k++)
      assert_true(test_gap(both, i, k) >= 0.5 - TOLERANCE);
  girdle_placement_free(both);
  girdle_placement_free(placement);
  girdle_placement_free(group);
}

/* The region has room for the stone; what is asked for has not. */
static void grade_names_the_depth_where_nothing_lies_within_it(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_region *region = test_region("rectangle 100 mm x 100 mm");
  static const char *const edges[] = {"M0 -60H100", "M0 0H100"};
  static const double depths_mm[] = {50, 1};
  (void)state;
  for (int i = 0; i < 2; i++) {
    girdle_path *edge = test_path(edges[i]);
    girdle_grade_options options = grade_of(&stone, 1, edge, depths_mm[i]);
    girdle_placement *placement = NULL;
    test_call test;
    test_begin(&test);
    assert_status(&test, girdle_grade(&test.call, region, &options, &placement), GIRDLE_GEOMETRY);
    assert_string_equal(test.error.field, "depth");
    assert_non_null(strstr(test.error.message, "smaller stone or margin"));
    girdle_path_free(edge);
  }
  girdle_region_free(region);
}

/* Millions of millions of gaps are not looked at one by one before the limit is told. */
static void shades_refuse_what_is_too_large(void **state) {
  girdle_stone tiny = test_round(0.5);
  girdle_placement *group = flower(), *placement = NULL;
  girdle_region *hall = test_region("rectangle 100 m x 100 m");
  girdle_path *path = test_path("10 mm");
  girdle_between_options between;
  girdle_motif_options motif;
  test_call test;
  (void)state;
  test_begin(&test);
  girdle_between_options_init(&between, sizeof between);
  between.stones = &tiny;
  between.stone_count = 1;
  between.around = group;
  assert_status(&test, girdle_between(&test.call, hall, &between, &placement), GIRDLE_LIMIT);
  girdle_motif_options_init(&motif, sizeof motif);
  motif.along = path;
  assert_status(&test, girdle_motif(test_again(&test), group, &motif, &placement), GIRDLE_GEOMETRY);
  assert_string_equal(test.error.field, "placement");
  assert_non_null(strstr(test.error.message, "smaller"));
  assert_int_equal(test.live_bytes, 0);
  girdle_placement_free(group);
  girdle_path_free(path);
  girdle_region_free(hall);
}

static void shades_refuse_by_name(void **state) {
  girdle_stone stones[2] = {test_stone("ss9"), test_stone("ss20")};
  girdle_region *region = test_region("rectangle 50 mm x 50 mm");
  girdle_path *edge = test_path("50 mm");
  girdle_placement *placement = NULL, *group = flower();
  girdle_fade_options fade = fade_of(stones, 1, 10), nowhere = fade_of(stones, 2, 0), far = fade_of(stones, 2, NAN);
  girdle_grade_options wrong = grade_of(stones, 2, edge, 30), without = grade_of(stones, 1, NULL, 30),
                       flat = grade_of(stones, 1, edge, 0);
  girdle_between_options between;
  girdle_motif_options motif;
  test_call test;
  (void)state;
  test_begin(&test);
  girdle_between_options_init(&between, sizeof between);
  between.stones = stones;
  between.stone_count = 1;
  girdle_motif_options_init(&motif, sizeof motif);
  assert_status(&test, girdle_fade(&test.call, region, &fade, &placement), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_fade(test_again(&test), region, &nowhere, &placement), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_fade(test_again(&test), region, &far, &placement), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_grade(test_again(&test), region, &wrong, &placement), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_grade(test_again(&test), region, &without, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "edge");
  assert_status(&test, girdle_grade(test_again(&test), region, &flat, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "depth");
  assert_status(&test, girdle_between(test_again(&test), region, &between, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "around");
  assert_status(&test, girdle_motif(test_again(&test), group, &motif, &placement), GIRDLE_ARGUMENT);
  assert_int_equal(test.live_bytes, 0);
  girdle_placement_free(group);
  girdle_path_free(edge);
  girdle_region_free(region);
}

static int32_t shade_everything(girdle_call *call) {
  girdle_stone stones[2] = {test_stone("ss34"), test_stone("ss20")};
  girdle_region *region = NULL;
  girdle_path *edge = NULL;
  girdle_placement *made[4] = {NULL};
  girdle_fade_options fade = fade_of(stones, 2, 20);
  girdle_grade_options grade;
  girdle_between_options between;
  girdle_motif_options motif;
  int32_t status = girdle_region_from_text(call, "rectangle 30 mm x 30 mm", &region);
  if (!status) status = girdle_path_line(call, 60, &edge);
  grade = grade_of(stones, 2, edge, 30);
  if (!status) status = girdle_fade(call, region, &fade, &made[0]);
  if (!status) status = girdle_grade(call, region, &grade, &made[1]);
  girdle_between_options_init(&between, sizeof between);
  between.stones = stones + 1;
  between.stone_count = 1;
  between.around = made[0];
  if (!status) status = girdle_between(call, region, &between, &made[2]);
  girdle_motif_options_init(&motif, sizeof motif);
  motif.along = edge;
  if (!status) status = girdle_motif(call, made[0], &motif, &made[3]);
  for (int i = 0; i < 4; i++)
    girdle_placement_free(made[i]);
  girdle_path_free(edge);
  girdle_region_free(region);
  return status;
}

static void shades_leak_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(shade_everything);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(fade_follows_the_ramp),
      cmocka_unit_test(fade_counts_exactly),
      cmocka_unit_test(grade_meets_each_stretch),
      cmocka_unit_test(between_sets_one_stone_in_every_gap),
      cmocka_unit_test(between_takes_the_largest_that_fits),
      cmocka_unit_test(between_holds_over_many_seeds),
      cmocka_unit_test(motif_repeats_along_a_path),
      cmocka_unit_test(motif_repeats_over_many_seeds),
      cmocka_unit_test(motif_refuses_by_name),
      cmocka_unit_test(motif_stays_clear_of_others),
      cmocka_unit_test(grade_names_the_depth_where_nothing_lies_within_it),
      cmocka_unit_test(shades_refuse_what_is_too_large),
      cmocka_unit_test(motif_turns_and_grows_but_its_stones_do_not),
      cmocka_unit_test(shades_refuse_by_name),
      cmocka_unit_test(shades_leak_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
