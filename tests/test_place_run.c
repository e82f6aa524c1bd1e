/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_support.h"

static girdle_placement *run(const char *text, const girdle_run_options *options) {
  test_call test;
  girdle_path *path = test_path(text);
  girdle_placement *placement = NULL;
  test_plain(&test);
  assert_ok(&test, girdle_run(&test.call, path, options, &placement));
  girdle_path_free(path);
  return placement;
}

/* Every neighbouring pair of a leg has the leg's one gap. */
static void assert_even(const girdle_placement *placement, int64_t from, int64_t to, double gap_mm) {
  for (int64_t i = from + 1; i <= to; i++)
    assert_near(test_gap(placement, i, i - 1), gap_mm, TOLERANCE);
}

/* Worked out by hand: 340 mm / 65 = 5.2308 mm of arc, a chord of 2 R sin(pi / 65) = 5.2287 mm, less 4.7 mm. */
static void run_closes_a_loop(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_run_options options = test_run(&stone, 1, 0.5);
  girdle_placement *placement = run("loop 34 cm", &options);
  (void)state;
  assert_int_equal(test_count(placement), 65);
  assert_even(placement, 0, 64, 0.52873);
  assert_near(test_gap(placement, 64, 0), 0.52873, TOLERANCE);
  assert_near(test_notes(placement).gap_mm, 2 * (340 / 6.283185307179586) * sin(3.141592653589793 / 65) - 4.7, 1e-8);
  girdle_placement_free(placement);
}

/* 300 mm / 58 - 4.7 mm = 0.4724 mm; with 57 gaps it would be 0.5632 mm, farther from the wish. */
static void run_sets_a_stone_on_each_end(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_run_options options = test_run(&stone, 1, 0.5);
  girdle_placement *placement = run("300 mm", &options);
  int64_t count;
  const girdle_placed *records = test_records(placement, &count);
  (void)state;
  assert_int_equal(count, 59);
  assert_near(records[0].x_mm, 0, 0);
  assert_near(records[58].x_mm, 300, 0);
  assert_even(placement, 0, 58, 300 / 58.0 - 4.7);
  girdle_placement_free(placement);
}

/* Thousands of steps each round; the gap nearest to the wish must be found all the same. */
static void run_finds_the_nearest_gap_of_long_lines(void **state) {
  static const struct {
    const char *line;
    double gap_mm;
    int64_t count; /* gaps + 1 for the number of gaps whose gap is nearest */
  } cases[] = {
      {"9 m", 0.5, 1732}, {"11 m", 0.5, 2116}, {"12345 mm", 0.5, 2375}, {"12 m", 0.5, 2309}, {"100 m", 0.5, 19232}};
  girdle_stone stone = test_stone("ss20");
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_run_options options = test_run(&stone, 1, cases[i].gap_mm);
    girdle_placement *placement = run(cases[i].line, &options);
    assert_int_equal(test_count(placement), cases[i].count);
    girdle_placement_free(placement);
  }
}

static void run_keeps_inside_the_ends(void **state) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss10")};
  girdle_run_options options = test_run(stones, 2, 0.5);
  girdle_placement *placement;
  int64_t count;
  const girdle_placed *records;
  (void)state;
  options.flags = GIRDLE_ENDS_INSIDE;
  placement = run("300 mm", &options);
  records = test_records(placement, &count);
  assert_near(records[0].x_mm, test_diameter(placement, 0) / 2, TOLERANCE);
  assert_near(records[count - 1].x_mm, 300 - test_diameter(placement, count - 1) / 2, TOLERANCE);
  assert_even(placement, 0, count - 1, test_notes(placement).gap_mm);
  girdle_placement_free(placement);
}

static void run_bears_a_stone_on_each_corner(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_run_options options = test_run(&stone, 1, 0.5);
  girdle_placement *placement = run("M0 0H100V50H0Z", &options);
  static const double corners[4][2] = {{0, 0}, {100, 0}, {100, 50}, {0, 50}};
  int64_t count;
  const girdle_placed *records = test_records(placement, &count);
  (void)state;
  for (int k = 0; k < 4; k++) {
    int found = 0;
    for (int64_t i = 0; i < count; i++)
      found += records[i].x_mm == corners[k][0] && records[i].y_mm == corners[k][1];
    assert_int_equal(found, 1);
  }
  assert_int_equal(count, 2 * (19 + 10)); /* 100 / 19 - 4.7 = 0.563; 50 / 10 - 4.7 = 0.3 against 50 / 9 - 4.7 = 0.86 */
  girdle_placement_free(placement);
  options.corner_deg = 100;
  placement = run("M0 0H100V50H0Z", &options);
  assert_int_equal(test_notes(placement).left_out, 0);
  assert_true(test_least_gap(placement) > 0);
  girdle_placement_free(placement);
}

static void run_alternates_in_order_through_corners(void **state) {
  girdle_stone stones[3] = {test_stone("ss20 red"), test_stone("ss16 blue"), test_stone("ss12 green")};
  girdle_run_options options = test_run(stones, 3, 0.5);
  girdle_placement *placement = run("M0 0 L70 0 L70 61 L-20 80", &options);
  int64_t count;
  const girdle_placed *records = test_records(placement, &count);
  (void)state;
  assert_int_equal(test_notes(placement).left_out, 0);
  for (int64_t i = 0; i < count; i++)
    assert_int_equal(records[i].stone, i % 3);
  girdle_placement_free(placement);
}

static void run_sets_whole_sequences_only(void **state) {
  girdle_stone stones[3] = {test_stone("ss20 red"), test_stone("ss16 blue"), test_stone("ss16 green")};
  girdle_run_options options = test_run(stones, 3, 0.5);
  static const char *const paths[] = {"loop 34 cm", "300 mm", "M0 0H100V50H0Z", "M0 0C50 90 100 -50 200 10"};
  (void)state;
  options.flags = GIRDLE_WHOLE;
  for (size_t i = 0; i < 4; i++) {
    girdle_placement *placement = run(paths[i], &options);
    assert_int_equal(test_count(placement) % 3, 0);
    assert_int_equal(test_notes(placement).left_out, 0);
    girdle_placement_free(placement);
  }
}

/* 320 mm to 20 mm is 320 mm to the end and the start to 20 mm. */
static void run_leaves_a_stretch_across_the_start(void **state) {
  static const girdle_stretch across = {320, 20}, halves[2] = {{320, 340}, {0, 20}};
  girdle_stone stone = test_stone("ss16");
  girdle_run_options options = test_run(&stone, 1, 0.5);
  girdle_placement *one, *two;
  girdle_path *path = test_path("loop 34 cm");
  const girdle_placed *records, *same;
  int64_t count, same_count;
  int near = 0;
  (void)state;
  options.leave = &across;
  options.leave_count = 1;
  one = run("loop 34 cm", &options);
  options.leave = halves;
  options.leave_count = 2;
  two = run("loop 34 cm", &options);
  records = test_records(one, &count);
  same = test_records(two, &same_count);
  assert_true(count > 50 && count == same_count);
  for (int64_t i = 0; i < count; i++) {
    double along, distance, half = test_diameter(one, i) / 2;
    assert_int_equal(girdle_path_nearest(NULL, path, records[i].x_mm, records[i].y_mm, &along, &distance), GIRDLE_OK);
    assert_true(along - half > 20 - 0.02 && along + half < 320 + 0.02);
    near += along - half < 20.02 || along + half > 319.98;
    assert_near(records[i].x_mm, same[i].x_mm, 1e-9);
  }
  assert_int_equal(near, 2); /* a stone's edge on each end */
  girdle_placement_free(one);
  girdle_placement_free(two);
  girdle_path_free(path);
}

static void run_leaves_stretches_free(void **state) {
  girdle_stone stone = test_stone("ss16");
  girdle_stretch leave[2] = {{180, 220}, {250, 260}};
  girdle_run_options options = test_run(&stone, 1, 0.5);
  girdle_placement *placement;
  girdle_path *path = test_path("loop 52 cm");
  int64_t count, beside = 0;
  const girdle_placed *records;
  (void)state;
  options.leave = leave;
  options.leave_count = 2;
  placement = run("loop 52 cm", &options);
  records = test_records(placement, &count);
  for (int64_t i = 0; i < count; i++) {
    double along, distance, half = test_diameter(placement, i) / 2;
    assert_int_equal(girdle_path_nearest(NULL, path, records[i].x_mm, records[i].y_mm, &along, &distance), GIRDLE_OK);
    for (int k = 0; k < 2; k++) {
      assert_true(along < leave[k].from_mm - half + 0.02 || along > leave[k].to_mm + half - 0.02);
      if (fabs(along - (leave[k].from_mm - half)) < 0.02 || fabs(along - (leave[k].to_mm + half)) < 0.02) beside++;
    }
  }
  assert_int_equal(beside, 4); /* a stone's edge on each end of both */
  girdle_path_free(path);
  girdle_placement_free(placement);
}

static void run_counts_exactly(void **state) {
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss10")};
  girdle_run_options options = test_run(stones, 2, 0.2);
  static const char *const paths[] = {"loop 34 cm", "300 mm", "M0 0H100V50H0Z", "M0 0C50 90 100 -50 200 10"};
  (void)state;
  for (size_t i = 0; i < 4; i++)
    for (options.count = 12; options.count < 40; options.count += 9) {
      girdle_placement *placement = run(paths[i], &options);
      assert_int_equal(test_count(placement), options.count);
      assert_true(test_notes(placement).gap_mm >= 0.2);
      girdle_placement_free(placement);
    }
}

static void run_counts_stones_that_touch_all_along(void **state) {
  static const char *const sizes[] = {"ss5", "ss9", "ss12", "ss16", "ss20", "ss34"};
  (void)state;
  for (size_t i = 0; i < 6; i++) {
    girdle_stone stone = test_stone(sizes[i]);
    girdle_run_options options = test_run(&stone, 1, 0);
    for (options.count = 2; options.count <= 60; options.count++) {
      girdle_path *path = NULL;
      girdle_placement *placement = NULL;
      test_call test;
      test_begin(&test);
      assert_ok(&test,
                girdle_path_line(&test.call, stone.diameter_mm[GIRDLE_NOMINAL] * (double)(options.count - 1), &path));
      assert_ok(&test, girdle_run(&test.call, path, &options, &placement));
      assert_int_equal(test_count(placement), options.count);
      girdle_placement_free(placement);
      girdle_path_free(path);
    }
  }
}

static int32_t stop_at_a_million(void *context, uint64_t steps, double done) {
  uint64_t *sum = context;
  (void)done;
  *sum += steps;
  return *sum > 1000000;
}

/* Millions of pears round a bend would be walked to, one by one. */
static void run_of_fancy_stones_stops_on_the_way(void **state) {
  girdle_stone stone = test_stone("8 mm pear");
  girdle_run_options options = test_run(&stone, 1, 0);
  girdle_path *path = test_path("M0 0C0 4e7 4e7 4e7 4e7 0");
  girdle_placement *placement = NULL;
  uint64_t sum = 0;
  test_call test;
  (void)state;
  test_begin(&test);
  test.call.watch = (girdle_watch){&sum, stop_at_a_million};
  assert_status(&test, girdle_run(&test.call, path, &options, &placement), GIRDLE_STOPPED);
  assert_true(sum < 2000000);
  girdle_path_free(path);
}

static void run_names_the_most_that_fit(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_run_options options = test_run(&stone, 1, 0.5);
  girdle_path *path = test_path("300 mm");
  girdle_placement *placement = NULL;
  test_call test;
  (void)state;
  test_begin(&test);
  options.count = 70;
  assert_status(&test, girdle_run(&test.call, path, &options, &placement), GIRDLE_GEOMETRY);
  assert_non_null(strstr(test.error.message, "the most that do are 58"));
  options.count = 58;
  assert_ok(&test, girdle_run(test_again(&test), path, &options, &placement));
  assert_int_equal(test_count(placement), 58);
  girdle_placement_free(placement);
  girdle_path_free(path);
  assert_int_equal(test.live_bytes, 0);
}

/* A tight V and a keyhole come back near themselves. */
/* Too few for the corners, too many for the gap, no whole sequences, or in the way of each other: the number that does
 * fit is named, and it does. */
static void run_names_a_number_that_fits(void **state) {
  static const struct {
    const char *path;
    int64_t count, fits;
    const char *words;
    uint32_t flags;
    int sequence;
  } cases[] = {
      {"M0 0H100V50H0Z", 3, 4, "the next number that does is 4", 0, 1},
      {"M0 0H100V50H0Z", 1000, 60, "the most that do are 60", 0, 1},
      {"300 mm", 1, 2, "the next number that does is 2", 0, 1},
      {"loop 30 cm", 1, 2, "the next number that does is 2", 0, 1},
      {"M0 0L60 4L0 8", 40, 3, "the most that do are 3", 0, 1}, /* the more would stand nearer across than along */
      {"300 mm", 900, 60, "the most that do are 60", GIRDLE_WHOLE, 3},
      {"300 mm", 40, 42, "40 stones are not whole sequences of 3; 42 are", GIRDLE_WHOLE, 3},
      {"300 mm", 2, 3, "2 stones are not whole sequences of 3; 3 are", GIRDLE_WHOLE, 3},
      {"M0 0H100M0 50H200", 7, 7, NULL, 0, 1},
  };
  girdle_stone stones[3] = {test_stone("ss20 red"), test_stone("ss20 blue"), test_stone("ss20 green")};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_path *path = test_path(cases[i].path);
    girdle_run_options options = test_run(stones, (uint64_t)cases[i].sequence, 0.3);
    girdle_placement *placement = NULL;
    test_call test;
    test_plain(&test);
    options.flags = cases[i].flags;
    options.count = cases[i].count;
    if (girdle_run(&test.call, path, &options, &placement)) {
      print_message("%s\n", test.error.message);
      assert_string_equal(test.error.field, "count");
      assert_true(cases[i].words && strstr(test.error.message, cases[i].words));
      options.count = cases[i].fits;
      assert_ok(&test, girdle_run(test_again(&test), path, &options, &placement));
    }
    assert_int_equal(test_count(placement), cases[i].fits);
    girdle_placement_free(placement);
    girdle_path_free(path);
  }
}

/* With a count, stones in the way of what is kept clear of do not fit; by the gap they are left out and noted. */
static void run_counts_clear_of_others(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_placed there[1] = {{100, 0, 0, 0, 0}};
  girdle_run_options options = test_run(&stone, 1, 0.5);
  girdle_placement *others = NULL, *placement;
  girdle_path *path = test_path("300 mm");
  test_call test;
  (void)state;
  assert_int_equal(girdle_placement_new(NULL, &stone, 1, there, 1, &others), GIRDLE_OK);
  options.clear_of = others;
  placement = run("300 mm", &options);
  assert_int_equal(test_count(placement) + test_notes(placement).left_out, 59);
  assert_true(test_notes(placement).left_out > 0);
  girdle_placement_free(placement);
  test_begin(&test);
  options.count = 31; /* every 10 mm, one on the other */
  assert_status(&test, girdle_run(&test.call, path, &options, &placement), GIRDLE_GEOMETRY);
  options.count = strtol(strstr(test.error.message, "that do are ") + 12, NULL, 10);
  assert_ok(&test, girdle_run(test_again(&test), path, &options, &placement));
  assert_int_equal(test_count(placement), options.count);
  assert_int_equal(test_notes(placement).left_out, 0);
  girdle_placement_free(placement);
  girdle_placement_free(others);
  girdle_path_free(path);
}

/* The last leg bears no stones but those of its two corners; they are neighbours, nearer than the wish. */
static void run_closes_with_a_leg_of_two_stones(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_run_options options = test_run(&stone, 1, 0.5);
  girdle_placement *placement = run("M0 0H50L25 40L0 5Z", &options);
  int64_t count;
  const girdle_placed *records = test_records(placement, &count);
  (void)state;
  assert_int_equal(test_notes(placement).left_out, 0);
  assert_near(records[count - 1].y_mm, 5, 0);
  assert_near(test_gap(placement, count - 1, 0), 0.3, TOLERANCE);
  girdle_placement_free(placement);
}

/* The two stones beside a corner of 56 degrees stand 2 x 5.2 mm x sin 28 degrees = 4.88 mm apart, nearer than the gap;
 * they do not overlap and both stay, whether the path begins at that corner or elsewhere. */
static void run_keeps_both_stones_beside_a_sharp_corner(void **state) {
  static const char *const from[] = {"M0 0L45.91 24.41L45.91 -24.41Z", "M45.91 24.41L45.91 -24.41L0 0Z"};
  girdle_stone stone = test_stone("ss20");
  girdle_run_options options = test_run(&stone, 1, 0.5);
  (void)state;
  for (int i = 0; i < 2; i++) {
    girdle_placement *placement = run(from[i], &options);
    assert_int_equal(test_notes(placement).left_out, 0);
    assert_true(test_least_gap(placement) > 0.1 && test_least_gap(placement) < 0.25);
    girdle_placement_free(placement);
  }
}

/* One stone has no gap. */
static void run_of_one_stone_notes_no_gap(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_run_options options = test_run(&stone, 1, 0.5);
  girdle_placement *placement;
  (void)state;
  options.flags = GIRDLE_ENDS_INSIDE;
  placement = run("6 mm", &options);
  assert_int_equal(test_count(placement), 1);
  assert_true(isnan(test_notes(placement).gap_mm));
  assert_near(test_notes(placement).leftover_mm, 6 - 4.7, 1e-6);
  girdle_placement_free(placement);
}

static void run_never_overlaps_where_a_path_returns(void **state) {
  static const char *const paths[] = {
      "M0 0L100 5L0 10",         "M0 0L100 1L0 2",          "M0 0A20 20 0 1 1 4 0L4 60L0 60Z",
      "M0 0 L100 0 L100 3 L0 3", "M0 0C200 0 -100 1 100 1", "M0 0L50 50M50 0L0 50"};
  girdle_stone stones[2] = {test_stone("ss20"), test_stone("ss12")};
  (void)state;
  for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++)
    for (uint64_t kinds = 1; kinds <= 2; kinds++) {
      girdle_run_options options = test_run(stones, kinds, 0.3);
      girdle_placement *placement = run(paths[i], &options);
      assert_true(test_count(placement) > 10);
      assert_true(test_least_gap(placement) >= -TOLERANCE);
      girdle_placement_free(placement);
    }
}

/* ---- the choice of counts, against every other choice on straight legs */

typedef struct legs {
  int count;
  double length[4], width[3];           /* legs, of which one is spare, sequence */
  int sequence, whole, closed, exactly; /* 0: as many as the wish says */
  double least;
} legs;

static double leg_gap(const legs *l, int leg, int begins, int stones) {
  double room = l->length[leg];
  for (int i = 0; i + 1 < stones; i++) {
    int last = l->closed && leg + 1 == l->count && i + 2 == stones;
    room -= (l->width[(begins + i) % l->sequence] + l->width[last ? 0 : (begins + i + 1) % l->sequence]) / 2;
  }
  return room / (stones - 1);
}

static void try_all(const legs *l, double wish, int leg, int begins, double worst, double squares, double best[3]) {
  if (leg == l->count) {
    int total = begins + !l->closed;
    if (l->whole && total % l->sequence) return;
    if (l->exactly && total != l->exactly) return;
    if (worst > best[0] + 1e-9) return;
    if (worst > best[0] - 1e-9 && squares > best[1] + 1e-12) return;
    if (worst > best[0] - 1e-9 && squares > best[1] - 1e-12 && total >= best[2]) return;
    best[0] = worst, best[1] = squares, best[2] = total;
    return;
  }
  for (int stones = 2;; stones++) {
    double gap = leg_gap(l, leg, begins, stones);
    if (gap < l->least) break;
    try_all(l, wish, leg + 1, begins + stones - 1, fmax(worst, fabs(gap - wish)), squares + (gap - wish) * (gap - wish),
            best);
  }
}

static void write_legs(const legs *l, char *text, size_t bytes) {
  if (l->closed) /* a triangle */
    snprintf(
        text, bytes, "M0 0H%.17gL%.17g %.17gZ", l->length[0],
        (l->length[0] * l->length[0] + l->length[2] * l->length[2] - l->length[1] * l->length[1]) / (2 * l->length[0]),
        sqrt(l->length[2] * l->length[2] -
             pow((l->length[0] * l->length[0] + l->length[2] * l->length[2] - l->length[1] * l->length[1]) /
                     (2 * l->length[0]),
                 2)));
  else
    snprintf(text, bytes, "M0 0H%.17gV%.17gH%.17g", l->length[0], l->length[1],
             l->count > 2 ? l->length[0] + l->length[2] : l->length[0]);
}

/* What the placement itself says: its legs end at the stones on the corners, every gap of a leg is the leg's. */
static void measure(const girdle_placement *placement, const legs *l, double wish, double found[2]) {
  int64_t count = test_count(placement), first = 0, last = l->closed ? count : count - 1;
  found[0] = found[1] = 0;
  for (int leg = 0; leg < l->count; leg++) {
    int64_t end = first;
    double along = 0, gap;
    for (; end < last && along < l->length[leg] - 1e-2; end++)
      along += test_gap(placement, end, (end + 1) % count) +
               (test_diameter(placement, end) + test_diameter(placement, (end + 1) % count)) / 2;
    assert_near(along, l->length[leg], 1e-2);
    gap = leg_gap(l, leg, (int)first, (int)(end - first) + 1);
    for (int64_t i = first; i < end; i++)
      assert_near(test_gap(placement, i, (i + 1) % count), gap, TOLERANCE);
    found[0] = fmax(found[0], fabs(gap - wish));
    found[1] += (gap - wish) * (gap - wish);
    first = end;
  }
  assert_int_equal(first, last);
}

/* Legs at right angles, up and on again, or a triangle, and a sequence for them. */
static legs random_legs(uint64_t *random, girdle_stone stones[3]) {
  legs l = {2 + (int)(test_random(random) % 2), {0}, {0}, 1 + (int)(test_random(random) % 3),
            (int)(test_random(random) % 2),     0,   0,   0};
  l.closed = l.count == 3 && test_random(random) % 2;
  for (int k = 0; k < 3; k++) {
    l.length[k] = 25 + 10 * test_uniform(random);
    l.width[k] = 2 + 3 * test_uniform(random);
    stones[k] = test_round(l.width[k]);
  }
  return l;
}

static void run_chooses_as_well_as_every_other_choice(void **state) {
  uint64_t random = 7;
  int64_t cases = test_cases(1), measured = 0;
  (void)state;
  for (int64_t i = 0; i < cases; i++) {
    girdle_stone stones[3];
    legs l = random_legs(&random, stones);
    girdle_run_options options;
    girdle_placement *placement;
    double best[3] = {INFINITY, INFINITY, INFINITY}, wish = test_uniform(&random) * 2, found[2];
    char text[200];
    try_all(&l, wish, 0, 0, 0, 0, best);
    if (best[0] == INFINITY) continue;
    write_legs(&l, text, sizeof text);
    options = test_run(stones, (uint64_t)l.sequence, wish);
    if (l.whole) options.flags = GIRDLE_WHOLE;
    placement = run(text, &options);
    if ((double)(test_count(placement) + test_notes(placement).left_out) != best[2])
      print_error("%s, %d stones, wish %.17g, whole %d: %g %g\n", text, l.sequence, wish, l.whole, best[0], best[1]);
    assert_int_equal(test_count(placement) + test_notes(placement).left_out, best[2]);
    if (!test_notes(placement).left_out) {
      measure(placement, &l, wish, found);
      assert_near(found[0], best[0], TOLERANCE);
      assert_near(found[1], best[1], 3 * TOLERANCE * (1 + 2 * best[0]));
      measured++;
    }
    girdle_placement_free(placement);
  }
  assert_true(measured > cases / 4);
}

/* With a count the wish is what one gap for all would be. Whatever the others do, none is below the least. */
static void run_counts_as_well_as_every_other_choice(void **state) {
  uint64_t random = 17;
  int64_t cases = test_cases(1), refused = 0, tight = 0;
  (void)state;
  for (int64_t i = 0; i < cases; i++) {
    girdle_stone stones[3];
    legs l = random_legs(&random, stones);
    girdle_run_options options;
    girdle_placement *placement = NULL;
    girdle_path *path;
    double best[3] = {INFINITY, INFINITY, INFINITY}, room = 0, wish, found[2];
    char text[200];
    test_call test;
    l.closed = l.whole = 0; /* so that no leg comes near another */
    l.exactly = l.count + 1 + (int)(test_uniform(&random) * 6 * l.count);
    for (int k = 0; k < l.count; k++)
      room += l.length[k];
    for (int k = 0; k < l.exactly; k++)
      room -= l.width[k % l.sequence] / (k == 0 || k + 1 == l.exactly ? 2 : 1);
    wish = room / (l.exactly - 1);
    l.least = fmax(0, wish - test_uniform(&random)); /* often such that only some choices keep it */
    if (wish >= 0) try_all(&l, wish, 0, 0, 0, 0, best);
    write_legs(&l, text, sizeof text);
    path = test_path(text);
    options = test_run(stones, (uint64_t)l.sequence, l.least);
    options.count = l.exactly;
    test_plain(&test);
    if (girdle_run(&test.call, path, &options, &placement)) {
      assert_true(best[0] == INFINITY);
      refused++;
    } else {
      assert_int_equal(test_count(placement), l.exactly);
      measure(placement, &l, wish, found);
      assert_near(found[0], best[0], TOLERANCE);
      assert_near(found[1], best[1], 3 * TOLERANCE * (1 + 2 * best[0]));
      assert_true(test_notes(placement).gap_mm >= l.least - 1e-9);
      tight += best[0] > wish - l.least;
    }
    girdle_placement_free(placement);
    girdle_path_free(path);
  }
  assert_true(refused > cases / 20 && tight > cases / 50);
}

/* ---- asks that cannot be met */

static void run_refuses_by_name(void **state) {
  girdle_stone stone = test_stone("ss20"), broken = stone;
  girdle_path *path = test_path("30 mm");
  static const struct {
    double gap;
    int64_t count;
    double corner, from, to;
    int stones;
    const char *field;
    int32_t status;
  } cases[] = {
      {-1, 0, 30, 0, 0, 1, "gap", GIRDLE_ARGUMENT},       {NAN, 0, 30, 0, 0, 1, "gap", GIRDLE_ARGUMENT},
      {INFINITY, 0, 30, 0, 0, 1, "gap", GIRDLE_ARGUMENT}, {31, 0, 30, 0, 0, 1, "gap", GIRDLE_GEOMETRY},
      {1, -1, 30, 0, 0, 1, "count", GIRDLE_ARGUMENT},     {1, INT64_MAX, 30, 0, 0, 1, "count", GIRDLE_ARGUMENT},
      {1, 0, NAN, 0, 0, 1, "corners", GIRDLE_ARGUMENT},   {1, 0, 30, 20, 10, 1, "leave", GIRDLE_ARGUMENT},
      {1, 0, 30, 0, 40, 1, "leave", GIRDLE_ARGUMENT},     {1, 0, 30, 0, 0, 0, "stones", GIRDLE_ARGUMENT}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_placement *placement = NULL;
    girdle_stretch leave = {cases[i].from, cases[i].to};
    girdle_run_options options = test_run(&stone, (uint64_t)cases[i].stones, cases[i].gap);
    test_begin(&test);
    options.count = cases[i].count;
    options.corner_deg = cases[i].corner;
    options.leave = &leave;
    options.leave_count = cases[i].to > 0;
    assert_status(&test, girdle_run(&test.call, path, &options, &placement), cases[i].status);
    assert_string_equal(test.error.field, cases[i].field);
    assert_null(placement);
    assert_int_equal(test.live_bytes, 0);
  }
  for (int i = 0; i < 3; i++) {
    test_call test;
    girdle_placement *placement = NULL;
    girdle_run_options options = test_run(&broken, 1, 1);
    test_begin(&test);
    broken.diameter_mm[GIRDLE_NOMINAL] = i == 0 ? NAN : i == 1 ? -1 : 31;
    assert_status(&test, girdle_run(&test.call, path, &options, &placement),
                  i == 2 ? GIRDLE_GEOMETRY : GIRDLE_ARGUMENT);
  }
  girdle_path_free(path);
}

static void run_refuses_what_leaves_no_choice(void **state) {
  girdle_stone stones[3] = {test_stone("ss20"), test_stone("ss16"), test_stone("ss12")};
  girdle_path *path = test_path("12 mm");
  girdle_stretch all = {0, 12};
  girdle_placement *placement = NULL;
  girdle_run_options options = test_run(stones, 3, 0.1);
  test_call test;
  (void)state;
  test_begin(&test);
  options.flags = GIRDLE_WHOLE; /* one sequence of two closes; of the three after that none does */
  options.gap_mm = 11;
  options.stone_count = 2;
  assert_ok(&test, girdle_run(&test.call, path, &options, &placement));
  assert_int_equal(test_count(placement), 2);
  girdle_placement_free(placement);
  placement = NULL;
  options.stone_count = 3;
  stones[1] = stones[2] = stones[0];
  stones[1].diameter_mm[GIRDLE_NOMINAL] = 9;
  assert_status(&test, girdle_run(test_again(&test), path, &options, &placement), GIRDLE_GEOMETRY);
  assert_string_equal(test.error.field, "whole");
  options = test_run(stones, 1, 0.1);
  options.leave = &all;
  options.leave_count = 1;
  assert_ok(&test, girdle_run(test_again(&test), path, &options, &placement));
  assert_int_equal(test_count(placement), 0);
  girdle_placement_free(placement);
  placement = NULL;
  options.count = 2;
  assert_status(&test, girdle_run(test_again(&test), path, &options, &placement), GIRDLE_GEOMETRY);
  assert_string_equal(test.error.field, "count");
  options = test_run(stones, 1, 0.1);
  options.turn_deg = 400;
  assert_status(&test, girdle_run(test_again(&test), path, &options, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "turn");
  assert_int_equal(test.live_bytes, 0);
  girdle_path_free(path);
}

static void run_refuses_more_than_the_limit(void **state) {
  test_call test;
  girdle_stone stone = test_stone("pp5");
  girdle_path *path = test_path("M0 0H1e7M0 9H1e7M0 18H1e7");
  girdle_placement *placement = NULL;
  girdle_run_options options = test_run(&stone, 1, 0);
  (void)state;
  test_begin(&test);
  assert_status(&test, girdle_run(&test.call, path, &options, &placement), GIRDLE_LIMIT);
  girdle_path_free(path);
}

static int32_t run_everything(girdle_call *call) {
  girdle_stone stones[2] = {0};
  girdle_path *path = NULL;
  girdle_placement *placement = NULL;
  girdle_stretch leave = {20, 30};
  girdle_run_options options = test_run(stones, 2, 0.4);
  int32_t status = girdle_path_parse(call, "M0 0H60V30C10 50 -10 0 0 0Z", 27, &path);
  stones[0] = test_stone("ss20");
  stones[1] = test_stone("ss12");
  options.leave = &leave;
  options.leave_count = 1;
  if (!status) status = girdle_run(call, path, &options, &placement);
  girdle_placement_free(placement);
  placement = NULL;
  options.leave_count = 0;
  options.count = 21;
  if (!status) status = girdle_run(call, path, &options, &placement);
  girdle_placement_free(placement);
  girdle_path_free(path);
  return status;
}

static void run_leaks_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(run_everything);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(run_closes_a_loop),
      cmocka_unit_test(run_sets_a_stone_on_each_end),
      cmocka_unit_test(run_finds_the_nearest_gap_of_long_lines),
      cmocka_unit_test(run_keeps_inside_the_ends),
      cmocka_unit_test(run_bears_a_stone_on_each_corner),
      cmocka_unit_test(run_alternates_in_order_through_corners),
      cmocka_unit_test(run_sets_whole_sequences_only),
      cmocka_unit_test(run_leaves_a_stretch_across_the_start),
      cmocka_unit_test(run_leaves_stretches_free),
      cmocka_unit_test(run_counts_exactly),
      cmocka_unit_test(run_counts_stones_that_touch_all_along),
      cmocka_unit_test(run_of_fancy_stones_stops_on_the_way),
      cmocka_unit_test(run_names_the_most_that_fit),
      cmocka_unit_test(run_names_a_number_that_fits),
      cmocka_unit_test(run_counts_clear_of_others),
      cmocka_unit_test(run_closes_with_a_leg_of_two_stones),
      cmocka_unit_test(run_keeps_both_stones_beside_a_sharp_corner),
      cmocka_unit_test(run_of_one_stone_notes_no_gap),
      cmocka_unit_test(run_never_overlaps_where_a_path_returns),
      cmocka_unit_test(run_chooses_as_well_as_every_other_choice),
      cmocka_unit_test(run_counts_as_well_as_every_other_choice),
      cmocka_unit_test(run_refuses_by_name),
      cmocka_unit_test(run_refuses_what_leaves_no_choice),
      cmocka_unit_test(run_refuses_more_than_the_limit),
      cmocka_unit_test(run_leaks_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
