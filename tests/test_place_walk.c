/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_internal.h"
#include "place_support.h"

/* Straight steps along a path, near tangency too, and bytes that must not change from compiler to compiler. */

static girdle_track track_of(const girdle_path *path) {
  girdle_track track;
  uint64_t parts;
  assert_int_equal(girdle_track_new(NULL, path, girdle_path_parts(path, &parts), NULL, 0, &track), GIRDLE_OK);
  return track;
}

/* One step from the start; *x is NAN when the path ends before. */
static void step_from_start(const char *text, double step, double *x, double *y) {
  girdle_path *path = test_path(text);
  girdle_track track = track_of(path);
  girdle_foot foot = girdle_track_foot(&track, 0);
  if (girdle_track_step(&track, track.count - 1, step, &foot)) {
    *x = foot.x;
    *y = foot.y;
  } else {
    *x = NAN;
  }
  girdle_track_free(&track);
  girdle_path_free(path);
}

static void track_step_ends_at_the_first_crossing(void **state) {
  /* out along a line, back along a bend, out again: 5 mm are crossed three times */
  static const char *const there_and_back = "M0 0H6C7 0 7 2 6 2H3C2 2 2 4 3 4H20";
  double x, y;
  (void)state;
  step_from_start(there_and_back, 5, &x, &y);
  assert_near(x, 5, 1e-9);
  assert_near(y, 0, 1e-9);
  step_from_start(there_and_back, 12, &x, &y);
  assert_near(hypot(x, y), 12, 1e-9);
  assert_near(y, 4, 1e-9);
  step_from_start(there_and_back, 25, &x, &y);
  assert_true(isnan(x));
}

/* The path goes out, a quarter round its start at 4 mm, and out again: a step a little shorter ends before the quarter,
 * one a little longer behind it. */
static void track_step_near_tangency_goes_where_its_length_says(void **state) {
  static const char *const quarter = "M0 0H4A4 4 0 0 1 0 4V9";
  double x, y;
  (void)state;
  step_from_start(quarter, 4 - 1e-4, &x, &y);
  assert_near(x, 4 - 1e-4, 1e-9);
  step_from_start(quarter, 4 + 1e-4, &x, &y);
  assert_near(y, 4 + 1e-4, 1e-9);
  assert_near(x, 0, 1e-9);
}

/* A bulge that passes the step's length by more than GIRDLE_WALK_FLAT_MM is met; one that passes it by less may be
 * taken or passed over, but then the step ends at the next crossing, never anywhere else. */
static void track_step_may_pass_over_a_touch(void **state) {
  (void)state;
  for (double beyond = 0.0005; beyond < 0.1; beyond *= 1.7) {
    char text[120];
    double x, y;
    /* the top of the cubic lies at 3/4 of its control points: at 5 + beyond */
    snprintf(text, sizeof text, "M0 0H1C1 %.17g -1 %.17g -1 0V-20", (5 + beyond) / 0.75, (5 + beyond) / 0.75);
    step_from_start(text, 5, &x, &y);
    assert_near(hypot(x, y), 5, 1e-9);
    if (beyond > GIRDLE_WALK_FLAT_MM) assert_true(y > 4.9);
    if (y < 4.9) assert_near(x, -1, 1e-9);
  }
}

static void leg_walk_steps_are_straight_and_equal(void **state) {
  girdle_path *path = test_path("M0 0C60 90 120 -60 200 10A30 20 15 0 1 240 60Q250 120 150 95Q140 92 100 95L20 95");
  girdle_legs legs = {track_of(path), NULL, 0, 0, 0, 0};
  girdle_stone stone = test_stone("ss12");
  girdle_sequence sequence = {&stone, 1, 0.5, NAN, 0, 0, 0};
  girdle_leg leg;
  girdle_step steps[90];
  (void)state;
  memset(&leg, 0, sizeof leg);
  leg.last = legs.track.count - 1;
  girdle_leg_walk(&legs, &leg, &sequence, 0, 90, 0.5, steps);
  for (int i = 1; i < 90; i++)
    assert_near(hypot(steps[i].foot.x - steps[i - 1].foot.x, steps[i].foot.y - steps[i - 1].foot.y),
                stone.diameter_mm[GIRDLE_NOMINAL] + 0.5, 1e-9);
  girdle_track_free(&legs.track);
  girdle_path_free(path);
}

/* Parabolas, one after another: what is walked lies on them, y = 3 x (80 - x) / 160 and its mirror image. */
static void run_stands_on_parabolas(void **state) {
  girdle_path *path = test_path("M0 0Q40 60 80 0T160 0");
  girdle_stone stone = test_stone("ss12");
  girdle_run_options options = test_run(&stone, 1, 0.5);
  girdle_placement *placement = NULL;
  const girdle_placed *records;
  int64_t count;
  (void)state;
  assert_int_equal(girdle_run(NULL, path, &options, &placement), GIRDLE_OK);
  records = test_records(placement, &count);
  assert_true(count > 40);
  for (int64_t i = 0; i < count; i++) {
    double x = records[i].x_mm, y = x < 80 ? 3 * x * (80 - x) / 160 : -3 * (x - 80) * (160 - x) / 160;
    assert_near(records[i].y_mm, y, 4e-4); /* the slope is up to 1.5 */
    if (i) assert_near(test_gap(placement, i, i - 1), test_notes(placement).gap_mm, TOLERANCE);
  }
  girdle_placement_free(placement);
  girdle_path_free(path);
}

/* Where a curve begins with no speed, a stone that is not round turns the way the curve goes on. */
static void run_turns_stones_where_a_curve_has_no_speed(void **state) {
  girdle_path *path = test_path("M0 0C0 0 30 30 90 30");
  girdle_stone stone = test_stone("4 mm navette");
  girdle_run_options options = test_run(&stone, 1, 0.5);
  girdle_placement *placement = NULL;
  const girdle_placed *records;
  int64_t count;
  (void)state;
  assert_int_equal(girdle_run(NULL, path, &options, &placement), GIRDLE_OK);
  records = test_records(placement, &count);
  assert_near((double)records[0].turn_deg, 45, 1.5);
  assert_near((double)records[count - 1].turn_deg, 0, 0.02);
  girdle_placement_free(placement);
  girdle_path_free(path);
}

/* ---- the same bytes from every compiler, at every level, with and without fused multiplication */

static uint64_t hash_of(girdle_placement *placement) {
  const girdle_placed *records;
  int64_t count = girdle_placement_view(placement, &records, NULL, NULL);
  const unsigned char *bytes = (const unsigned char *)records;
  uint64_t hash = 0xcbf29ce484222325u;
  for (size_t i = 0; i < (size_t)count * sizeof *records; i++)
    hash = (hash ^ bytes[i]) * 0x100000001b3u;
  girdle_placement_free(placement);
  return hash;
}

typedef struct scene {
  girdle_stone stones[3];
  girdle_region *region;
  girdle_path *path;
} scene;

static uint64_t hash_of_scatter(const scene *on, uint64_t kinds) {
  girdle_scatter_options options = test_scatter(on->stones, kinds, 0.5);
  girdle_placement *placement = NULL;
  options.seed = kinds;
  assert_int_equal(girdle_scatter(NULL, on->region, &options, &placement), GIRDLE_OK);
  return hash_of(placement);
}

static uint64_t hash_of_cover(const scene *on, int32_t setting) {
  girdle_cover_options options = test_cover(on->stones, 1, 0.3);
  girdle_placement *placement = NULL;
  options.setting = setting;
  assert_int_equal(girdle_cover(NULL, on->region, &options, &placement), GIRDLE_OK);
  return hash_of(placement);
}

static uint64_t hash_of_run(const scene *on) {
  girdle_run_options options = test_run(on->stones, 3, 0.5);
  girdle_placement *placement = NULL;
  assert_int_equal(girdle_run(NULL, on->path, &options, &placement), GIRDLE_OK);
  return hash_of(placement);
}

static uint64_t hash_of_fade(const scene *on) {
  girdle_fade_options options;
  girdle_placement *placement = NULL;
  girdle_fade_options_init(&options, sizeof options);
  options.stones = on->stones;
  options.stone_count = 3;
  options.gap_mm = 0.5;
  options.from_x_mm = -50;
  options.to_x_mm = 50;
  assert_int_equal(girdle_fade(NULL, on->region, &options, &placement), GIRDLE_OK);
  return hash_of(placement);
}

static uint64_t hash_of_grade(const scene *on) {
  girdle_grade_options options;
  girdle_placement *placement = NULL;
  girdle_grade_options_init(&options, sizeof options);
  options.stones = on->stones;
  options.stone_count = 3;
  options.gap_mm = 0.5;
  options.edge = on->path;
  options.depth_mm = 60;
  assert_int_equal(girdle_grade(NULL, on->region, &options, &placement), GIRDLE_OK);
  return hash_of(placement);
}

static uint64_t hash_of_between(const scene *on) {
  girdle_scatter_options scattered = test_scatter(on->stones, 1, 4);
  girdle_between_options options;
  girdle_placement *around = NULL, *placement = NULL;
  uint64_t hash;
  girdle_between_options_init(&options, sizeof options);
  assert_int_equal(girdle_scatter(NULL, on->region, &scattered, &around), GIRDLE_OK);
  options.around = around;
  options.stones = on->stones + 1;
  options.stone_count = 2;
  options.gap_mm = 0.5;
  assert_int_equal(girdle_between(NULL, on->region, &options, &placement), GIRDLE_OK);
  hash = hash_of(placement);
  girdle_placement_free(around);
  return hash;
}

static void placements_keep_their_bytes(void **state) {
  scene on = {{test_round(4.7), test_round(3.1), test_round(2.2)},
              test_region("oval 120 mm x 80 mm"),
              test_path("M0 0C60 90 120 -60 200 10A30 20 15 0 1 240 60")};
  (void)state;
  assert_int_equal(hash_of_scatter(&on, 1), 0x65a92964c1e00820u);
  assert_int_equal(hash_of_scatter(&on, 2), 0x7dc77c94683bb3c1u);
  assert_int_equal(hash_of_scatter(&on, 3), 0xdd5cae4daaa4c105u);
  assert_int_equal(hash_of_cover(&on, GIRDLE_HONEYCOMB), 0xe69a761e3d912acau);
  assert_int_equal(hash_of_cover(&on, GIRDLE_SQUARE_ROWS), 0x5a2b7b8241e95e26u);
  assert_int_equal(hash_of_run(&on), 0x7196faf97a44922bu);
  assert_int_equal(hash_of_fade(&on), 0x9782f5b74fa872c1u);
  assert_int_equal(hash_of_grade(&on), 0xf341b44af8f2ab2eu);
  assert_int_equal(hash_of_between(&on), 0xe0b59546dbaca983u);
  girdle_region_free(on.region);
  girdle_path_free(on.path);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(track_step_ends_at_the_first_crossing),
      cmocka_unit_test(track_step_near_tangency_goes_where_its_length_says),
      cmocka_unit_test(track_step_may_pass_over_a_touch),
      cmocka_unit_test(leg_walk_steps_are_straight_and_equal),
      cmocka_unit_test(run_stands_on_parabolas),
      cmocka_unit_test(run_turns_stones_where_a_curve_has_no_speed),
      cmocka_unit_test(placements_keep_their_bytes),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
