/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

/* Stones on a circle (height 1) or squeezed towards a line, starting at the right; y grows downwards. */
static int32_t ring(girdle_call *call, const char *text, int count, double height, girdle_placement **out) {
  girdle_stone stone = stone_of(text);
  girdle_placed records[128];
  memset(records, 0, sizeof records);
  for (int i = 0; i < count; i++) {
    double angle = 2 * 3.14159265358979323846 * (i + 0.25) / count;
    records[i].x_mm = 80 * cos(angle);
    records[i].y_mm = 80 * sin(angle) * height;
  }
  return girdle_placement_new(call, &stone, 1, records, (uint64_t)count, out);
}

static girdle_job *job_of(girdle_call *call, const char *tag) {
  girdle_job_head head;
  girdle_job *job;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, tag);
  head.fabric.lies_across = 0.1;
  head.fabric.worn_across = 0.21;
  assert_int_equal(girdle_job_new(call, &head, &job), GIRDLE_OK);
  return job;
}

static int32_t add_eye(girdle_call *call, girdle_job *job, const char *name, const char *side, const char *stone,
                       int64_t pieces) {
  girdle_stone already = stone_of(stone);
  girdle_zone zone;
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, name);
  strcpy(zone.side, side);
  zone.already = &already;
  zone.already_pieces = &pieces;
  zone.already_count = 1;
  zone.area_mm2 = 20000;
  zone.edge_mm = 250;
  return girdle_job_add_zone(call, job, &zone);
}

/* ---- splitting */

static void zone_split_gives_each_stone_to_one_side(void **state) {
  test_call test;
  test_begin(&test);
  (void)state;
  for (int count = 0; count < 100; count++) {
    girdle_placement *both, *front, *back;
    const girdle_placed *records;
    int64_t fronts, backs;
    assert_ok(&test, ring(&test.call, "ss20", count, 1, &both));
    assert_ok(&test, girdle_zone_split(&test.call, both, &front, &back));
    fronts = girdle_placement_view(front, &records, NULL, NULL);
    backs = girdle_placement_view(back, NULL, NULL, NULL);
    assert_int_equal(fronts + backs, count);
    assert_true(fronts - backs <= 2 && backs - fronts <= 2);
    girdle_placement_free(both);
    girdle_placement_free(front);
    girdle_placement_free(back);
  }
  assert_int_equal(test.live_bytes, 0);
}

static void zone_split_parts_what_is_drawn_flat_at_the_middle_of_its_length(void **state) {
  girdle_placement *both, *front, *back;
  const girdle_placed *records;
  int64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, ring(&test.call, "ss20", 40, 0.1, &both));
  assert_ok(&test, girdle_zone_split(&test.call, both, &front, &back));
  count = girdle_placement_view(front, &records, NULL, NULL);
  assert_int_equal(count, 20);
  for (int64_t i = 0; i < count; i++)
    assert_true(records[i].x_mm < 1);
  girdle_placement_free(both);
  girdle_placement_free(front);
  girdle_placement_free(back);
}

static void zone_split_puts_the_middle_stone_in_front(void **state) {
  static const girdle_placed flat[3] = {{0, 1, 0, 0, 0}, {10, 1, 0, 0, 0}, {20, 1, 0, 0, 0}};
  static const girdle_placed upright[3] = {{1, 0, 0, 0, 0}, {1, 10, 0, 0, 0}, {1, 20, 0, 0, 0}};
  const girdle_placed *const lines[2] = {flat, upright};
  girdle_stone stone = stone_of("ss20");
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 2; i++) {
    girdle_placement *both, *front, *back;
    assert_ok(&test, girdle_placement_new(&test.call, &stone, 1, lines[i], 3, &both));
    assert_ok(&test, girdle_zone_split(&test.call, both, &front, &back));
    assert_int_equal(girdle_placement_view(front, NULL, NULL, NULL), 2);
    girdle_placement_free(both);
    girdle_placement_free(front);
    girdle_placement_free(back);
  }
}

/* ---- weighing */

static void job_weigh_adds_up_over_zones_and_sides(void **state) {
  static const char *const resting[] = {"waist"};
  girdle_stone large = stone_of("ss34"), small = stone_of("ss16 lead crystal");
  double one_large = large.mass_mg[1], one_small = small.mass_mg[1];
  girdle_weight_options options;
  girdle_weight weight;
  girdle_zone_weight zones[8];
  girdle_placement *collar;
  girdle_zone zone;
  girdle_job *job;
  test_call test;
  test_begin(&test);
  (void)state;
  job = job_of(&test.call, "A1");
  assert_ok(&test, ring(&test.call, "ss34", 41, 1, &collar));
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "collar");
  strcpy(zone.side, "both");
  zone.placement = collar;
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  girdle_placement_free(collar);
  assert_ok(&test, add_eye(&test.call, job, "bodice", "front", "ss34", 100));
  assert_ok(&test, add_eye(&test.call, job, "wing", "left", "ss16 lead crystal", 60));
  assert_ok(&test, add_eye(&test.call, job, "wing", "right", "ss16 lead crystal", 35));
  assert_ok(&test, add_eye(&test.call, job, "waist", "", "ss16 lead crystal", 10));
  assert_ok(&test, add_eye(&test.call, job, "hem", "front", "ss34", 7));
  girdle_weight_options_init(&options, sizeof options);
  options.dress_mg = 180000;
  options.rests = resting;
  options.rest_count = 1;
  assert_ok(&test, girdle_job_weigh(&test.call, job, &options, &weight, zones, 8));
  assert_int_equal(weight.stones, 41 + 100 + 60 + 35 + 10 + 7);
  assert_near(weight.added_mg[1], 148 * one_large + 105 * one_small, 1e-6);
  assert_true(weight.added_mg[0] < weight.added_mg[1] && weight.added_mg[1] < weight.added_mg[2]);
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    assert_near(weight.dress_share[i], weight.added_mg[i] / 180000, 1e-12);
  assert_near(weight.front_mg + weight.back_mg, weight.added_mg[1], 1e-6);
  assert_near(weight.left_mg + weight.right_mg, weight.added_mg[1], 1e-6);
  assert_near(weight.left_mg - weight.right_mg, 25 * one_small, 1e-6);
  assert_near(weight.front_mg - weight.back_mg, 108 * one_large, 1e-6); /* 21 of the collar in front, 20 behind */
  assert_near(weight.hanging_mg, 180000 + weight.added_mg[1] - 10 * one_small, 1e-6);
  assert_int_equal(weight.heaviest, 1);
  assert_int_equal(weight.at_least, 1);
  assert_int_equal(weight.over, 0); /* no verdict without a limit */
  assert_string_equal(zones[2].side, "left");
  assert_near(zones[1].mass_mg[1], 100 * one_large, 1e-6);
  assert_near(zones[2].mass_mg[1], 60 * one_small, 1e-6);
  assert_near(zones[3].mass_mg[1], 35 * one_small, 1e-6);
  assert_near(zones[5].mass_mg[1], 7 * one_large, 1e-6);
  strcpy(zones[2].name, "kept");
  assert_ok(&test, girdle_job_weigh(&test.call, job, &options, &weight, zones, 2)); /* writes no more than asked */
  assert_string_equal(zones[2].name, "kept");
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
}

static void job_weigh_judges_only_against_limits(void **state) {
  girdle_weight_options options;
  girdle_weight weight;
  girdle_zone_weight zone;
  girdle_job *job;
  double grams = 100 * stone_of("ss34").mass_mg[1] / 1000;
  test_call test;
  test_begin(&test);
  (void)state;
  job = job_of(&test.call, "A1");
  assert_ok(&test, add_eye(&test.call, job, "bodice", "front", "ss34", 100)); /* on 200 cm2, along 25 cm */
  girdle_weight_options_init(&options, sizeof options);
  assert_ok(&test, girdle_job_weigh(&test.call, job, &options, &weight, &zone, 1));
  assert_near(zone.g_m2, grams / 0.02, 1e-9);
  assert_near(zone.g_cm, grams / 25, 1e-9);
  assert_true(isnan(weight.dress_share[1]));
  assert_int_equal(weight.over, 0);
  options.most_g_m2 = zone.g_m2 * 0.99;
  options.most_g_cm = zone.g_cm * 1.01;
  options.dress_mg = 1000 * grams;
  options.most_share = 0.99;
  assert_ok(&test, girdle_job_weigh(&test.call, job, &options, &weight, &zone, 1));
  assert_int_equal(zone.over, GIRDLE_OVER_AREA);
  assert_int_equal(weight.over, GIRDLE_OVER_AREA | GIRDLE_OVER_SHARE);
  options.most_g_m2 = zone.g_m2; /* at the limit is not over it */
  options.most_g_cm = zone.g_cm;
  options.most_share = weight.dress_share[1];
  assert_ok(&test, girdle_job_weigh(&test.call, job, &options, &weight, &zone, 1));
  assert_int_equal(weight.over, 0);
  options.dress_mg = 1;
  assert_ok(&test, girdle_job_weigh(&test.call, job, &options, &weight, &zone, 1));
  options.dress_mg = -1;
  assert_status(&test, girdle_job_weigh(&test.call, job, &options, &weight, &zone, 1), GIRDLE_ARGUMENT);
  girdle_job_free(job);
}

/* ss30 is the next smaller size that several charts agree on. */
static void job_weigh_tells_what_a_smaller_size_would_do(void **state) {
  girdle_weight_options options;
  girdle_weight weight;
  girdle_zone_weight zones[2];
  girdle_job *job;
  double smaller = stone_of("ss30").mass_mg[1];
  test_call test;
  test_begin(&test);
  (void)state;
  job = job_of(&test.call, "A1");
  assert_ok(&test, add_eye(&test.call, job, "bodice", "front", "ss34", 100));
  assert_ok(&test, add_eye(&test.call, job, "dust", "back", "ss2", 100));
  girdle_weight_options_init(&options, sizeof options);
  assert_ok(&test, girdle_job_weigh(&test.call, job, &options, &weight, zones, 2));
  assert_near(zones[0].smaller_mg, 100 * smaller, 1e-4);
  assert_true(isnan(zones[1].smaller_mg));
  girdle_job_free(job);
}

static void job_weigh_shows_gaps_as_glued_and_as_worn(void **state) {
  girdle_stone stone = stone_of("ss20");
  girdle_run_options run;
  girdle_path *path;
  girdle_placement *placement;
  girdle_zone zone;
  girdle_weight_options options;
  girdle_weight weight;
  girdle_zone_weight report;
  girdle_job *job;
  test_call test;
  test_begin(&test);
  (void)state;
  job = job_of(&test.call, "A1");
  assert_ok(&test, girdle_path_line(&test.call, 300, &path));
  girdle_run_options_init(&run, sizeof run);
  run.stones = &stone;
  run.stone_count = 1;
  run.gap_mm = 1;
  assert_ok(&test, girdle_run(&test.call, path, &run, &placement));
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "line");
  zone.placement = placement;
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  girdle_weight_options_init(&options, sizeof options);
  assert_ok(&test, girdle_job_weigh(&test.call, job, &options, &weight, &report, 1));
  assert_near(report.glued_gap_mm, 1, 0.1);
  assert_int_equal(report.touching, 0);
  assert_near(report.worn_gap_mm, report.glued_gap_mm * 1.21 / 1.1, 1e-12);
  girdle_placement_free(placement);
  girdle_path_free(path);
  girdle_job_free(job);
}

/* Weighs one zone of two ss20 (4.7 mm), so far apart, glued stretched by a share and worn by another. */
static girdle_zone_weight weigh_two(double apart_mm, double lies, double worn) {
  girdle_stone stone = stone_of("ss20");
  girdle_placed records[2] = {{0, 0, 0, 0, 0}, {stone.diameter_mm[GIRDLE_NOMINAL] + apart_mm, 0, 0, 0, 0}};
  girdle_fabric fabric = {NAN, lies, 0, worn, NAN};
  girdle_weight_options options;
  girdle_weight weight;
  girdle_zone_weight report;
  girdle_placement *placement;
  girdle_zone zone;
  girdle_job *job;
  test_call test;
  test_begin(&test);
  job = job_of(&test.call, "A1");
  assert_ok(&test, girdle_job_set_fabric(&test.call, job, &fabric));
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "pair");
  assert_ok(&test, girdle_placement_new(&test.call, &stone, 1, records, 2, &placement));
  zone.placement = placement;
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  girdle_weight_options_init(&options, sizeof options);
  assert_ok(&test, girdle_job_weigh(&test.call, job, &options, &weight, &report, 1));
  girdle_placement_free(placement);
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
  return report;
}

static void job_weigh_tells_stones_that_would_touch_in_either_state(void **state) {
  static const struct {
    double apart, lies, worn;
    int32_t touching;
  } cases[] = {
      {0.06, 0, NAN, 0}, {0.04, 0, NAN, 2},   /* one state alone */
      {0.06, 0.5, 0, 2}, {0.06, 0.5, 0.5, 0}, /* only as worn: 0.06 x 1 / 1.5 = 0.04 */
      {0.04, 0, 0.5, 2}, {0.06, 0, 0.5, 0},   /* only as glued: worn it is 0.06 */
      {-0.5, 0, 0.5, 2}, {0.0499, 0, NAN, 2}, /* an overlap; just nearer than the limit */
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_zone_weight report = weigh_two(cases[i].apart, cases[i].lies, cases[i].worn);
    double worn = isnan(cases[i].worn) ? cases[i].lies : cases[i].worn;
    if (report.touching != cases[i].touching) print_error("case %d\n", (int)i);
    assert_int_equal(report.touching, cases[i].touching);
    assert_near(report.glued_gap_mm, cases[i].apart, 1e-4);
    if (cases[i].apart > 0) assert_near(report.worn_gap_mm, cases[i].apart * (1 + worn) / (1 + cases[i].lies), 1e-4);
    if (cases[i].apart < 0) assert_near(report.worn_gap_mm, cases[i].apart, 1e-4); /* no fabric between them */
  }
  assert_true(isnan(weigh_two(10001, 0, NAN).glued_gap_mm)); /* nothing near enough to speak of a gap */
}

static int32_t weigh_all(girdle_call *call) {
  girdle_weight_options options;
  girdle_weight weight;
  girdle_zone_weight zones[4];
  girdle_placement *collar = NULL;
  girdle_job_head head;
  girdle_job *job = NULL;
  girdle_zone zone;
  int32_t status = ring(call, "ss20", 30, 1, &collar);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "A1");
  if (!status) status = girdle_job_new(call, &head, &job);
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "collar");
  strcpy(zone.side, "both");
  zone.placement = collar;
  if (!status) status = girdle_job_add_zone(call, job, &zone);
  girdle_weight_options_init(&options, sizeof options);
  if (!status) status = girdle_job_weigh(call, job, &options, &weight, zones, 4);
  girdle_placement_free(collar);
  girdle_job_free(job);
  return status;
}

static void job_weigh_survives_every_refused_allocation(void **state) {
  (void)state;
  test_sweep_allocations(weigh_all);
}

/* ---- openings */

/* Worked by hand: a wrist ring of 140 mm, ss20 at 1 mm, fabric that stretches by 60 % must let a hand of 190 mm
 * through. Plain it reaches 224. Each stone takes 4.7 x 0.6 = 2.82 from that, so 12 stones may stay: 224 - 33.84 =
 * 190.16. */
static void opening_try_finds_the_most_stones_that_let_a_hand_through(void **state) {
  girdle_opening opening;
  girdle_opening_check check;
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_opening_init(&opening, sizeof opening);
  opening.ring_mm = 140;
  opening.through_mm = 190;
  opening.stretch_most = 0.6;
  opening.diameter_mm = 4.7;
  opening.gap_mm = 1;
  assert_ok(&test, girdle_opening_try(&test.call, &opening, &check));
  assert_int_equal(check.passes, 0);
  assert_int_equal(check.most_stones, 12);
  assert_true(check.stones == 24 || check.stones == 25);
  assert_near(check.reach_mm, 224 - 2.82 * (double)check.stones, 1e-9);
  assert_near(check.least_gap_mm, 140.0 / 12 - 4.7, 1e-9);
  assert_near(check.open_mm, 140.0 * (double)(check.stones - 12) / (double)check.stones, 1e-9);
  opening.gap_mm = check.least_gap_mm;
  assert_ok(&test, girdle_opening_try(&test.call, &opening, &check));
  assert_int_equal(check.passes, 1);
  assert_int_equal(check.stones, 12);
  assert_true(check.open_mm == 0 && check.reach_mm >= 190);
}

/* 20 stones of 5 mm on 150 mm at 60 %: 100 mm stay, 50 mm become 80. */
static void opening_try_takes_a_number_of_stones(void **state) {
  girdle_opening opening;
  girdle_opening_check check;
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_opening_init(&opening, sizeof opening);
  opening.ring_mm = 150;
  opening.through_mm = 180;
  opening.stretch_most = 0.6;
  opening.diameter_mm = 5;
  opening.gap_mm = 1;
  opening.stones = 20;
  assert_ok(&test, girdle_opening_try(&test.call, &opening, &check));
  assert_int_equal(check.stones, 20);
  assert_near(check.reach_mm, 180, 1e-9);
  assert_int_equal(check.passes, 1);
  opening.stones = 30; /* touching */
  assert_ok(&test, girdle_opening_try(&test.call, &opening, &check));
  assert_near(check.reach_mm, 150, 1e-9);
  assert_int_equal(check.most_stones, 20);
  assert_near(check.open_mm, 50, 1e-9);
  opening.stones = 31;
  assert_status(&test, girdle_opening_try(&test.call, &opening, &check), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "stones");
}

static void opening_try_knows_rings_that_are_too_tight_or_wide_anyway(void **state) {
  girdle_opening opening;
  girdle_opening_check check;
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_opening_init(&opening, sizeof opening);
  opening.ring_mm = 140;
  opening.through_mm = 230; /* more than 140 x 1.6 */
  opening.stretch_most = 0.6;
  opening.diameter_mm = 4.7;
  assert_ok(&test, girdle_opening_try(&test.call, &opening, &check));
  assert_int_equal(check.most_stones, -1);
  assert_true(!check.passes && isnan(check.least_gap_mm) && isnan(check.open_mm));
  opening.through_mm = 140; /* passes however many stones there are */
  assert_ok(&test, girdle_opening_try(&test.call, &opening, &check));
  assert_int_equal(check.passes, 1);
  opening.lies = 0.2;
  opening.stretch_most = 0.2; /* glued at full stretch: nothing gives, stones or not */
  assert_ok(&test, girdle_opening_try(&test.call, &opening, &check));
  assert_int_equal(check.passes, 1);
  assert_near(check.reach_mm, 140, 1e-9);
  opening.through_mm = 140.1;
  assert_ok(&test, girdle_opening_try(&test.call, &opening, &check));
  assert_int_equal(check.passes, 0);
}

static void opening_try_has_a_gap_from_two_stones_on(void **state) {
  girdle_opening opening;
  girdle_opening_check check;
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_opening_init(&opening, sizeof opening);
  opening.ring_mm = 140;
  opening.stretch_most = 0.6;
  opening.diameter_mm = 5; /* each takes 3 mm from 224 */
  for (int stones = 0; stones < 5; stones++) {
    opening.through_mm = 224 - 3 * stones; /* to the hair */
    assert_ok(&test, girdle_opening_try(&test.call, &opening, &check));
    assert_int_equal(check.most_stones, stones);
    opening.through_mm = 224 - 3 * stones - 1;
    assert_ok(&test, girdle_opening_try(&test.call, &opening, &check));
    assert_int_equal(check.most_stones, stones);
    if (stones < 2)
      assert_true(isnan(check.least_gap_mm));
    else
      assert_near(check.least_gap_mm, 140.0 / stones - 5, 1e-9);
  }
}

static void opening_init_begins_flat_and_touching(void **state) {
  girdle_opening opening;
  (void)state;
  memset(&opening, 7, sizeof opening);
  girdle_opening_init(&opening, sizeof opening);
  assert_int_equal(opening.struct_bytes, sizeof opening);
  assert_true(opening.lies == 0 && opening.stretch_most == 0 && opening.gap_mm == 0 && opening.ring_mm == 0);
}

static void opening_try_refuses_bad_numbers(void **state) {
  girdle_opening good, bad;
  girdle_opening_check check;
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_opening_init(&good, sizeof good);
  good.ring_mm = 140;
  good.through_mm = 190;
  good.stretch_most = 0.6;
  good.diameter_mm = 4.7;
  for (int i = 0; i < 5; i++) {
    bad = good;
    *(i == 0   ? &bad.ring_mm
      : i == 1 ? &bad.through_mm
      : i == 2 ? &bad.stretch_most
      : i == 3 ? &bad.diameter_mm
               : &bad.gap_mm) = i % 2 ? NAN : -1;
    test_again(&test);
    assert_status(&test, girdle_opening_try(&test.call, &bad, &check), GIRDLE_ARGUMENT);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(zone_split_gives_each_stone_to_one_side),
      cmocka_unit_test(zone_split_parts_what_is_drawn_flat_at_the_middle_of_its_length),
      cmocka_unit_test(zone_split_puts_the_middle_stone_in_front),
      cmocka_unit_test(job_weigh_tells_stones_that_would_touch_in_either_state),
      cmocka_unit_test(job_weigh_adds_up_over_zones_and_sides),
      cmocka_unit_test(job_weigh_judges_only_against_limits),
      cmocka_unit_test(job_weigh_tells_what_a_smaller_size_would_do),
      cmocka_unit_test(job_weigh_shows_gaps_as_glued_and_as_worn),
      cmocka_unit_test(job_weigh_survives_every_refused_allocation),
      cmocka_unit_test(opening_try_finds_the_most_stones_that_let_a_hand_through),
      cmocka_unit_test(opening_try_takes_a_number_of_stones),
      cmocka_unit_test(opening_try_knows_rings_that_are_too_tight_or_wide_anyway),
      cmocka_unit_test(opening_try_has_a_gap_from_two_stones_on),
      cmocka_unit_test(opening_init_begins_flat_and_touching),
      cmocka_unit_test(opening_try_refuses_bad_numbers),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
