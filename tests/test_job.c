/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

static int32_t new_job(girdle_call *call, const char *tag, girdle_job **out) {
  girdle_job_head head;
  girdle_job_head_init(&head, sizeof head);
  snprintf(head.tag, sizeof head.tag, "%s", tag);
  return girdle_job_new(call, &head, out);
}

/* A crooked row of three stones, the last a larger one. */
static int32_t crooked_row(girdle_call *call, girdle_placement **out) {
  girdle_stone stones[2] = {stone_of("4 mm black"), stone_of("6 mm")};
  const girdle_placed records[3] = {{10, 5, 0, 0, 0}, {20, 6, 0, 0, 0}, {33, 9, 0, 1, 0}};
  return girdle_placement_new(call, stones, 2, records, 3, out);
}

static void job_head_init_knows_nothing_yet(void **state) {
  girdle_job_head head;
  (void)state;
  girdle_job_head_init(&head, sizeof head);
  assert_true(head.needed_by_day == INT64_MIN);
  assert_true(isnan(head.fabric.mass_g_m2) && isnan(head.fabric.worn_across) && isnan(head.fabric.worn_along));
  assert_true(head.fabric.lies_across == 0 && head.fabric.lies_along == 0);
}

static void job_new_wants_a_tag_and_a_sound_fabric(void **state) {
  girdle_job_head head;
  girdle_job *job = NULL;
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_job_head_init(&head, sizeof head);
  assert_status(&test, girdle_job_new(&test.call, &head, &job), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "tag");
  strcpy(head.tag, "A"); /* one letter is enough */
  head.fabric.lies_across = INFINITY;
  test_again(&test);
  assert_status(&test, girdle_job_new(&test.call, &head, &job), GIRDLE_ARGUMENT);
  head.fabric.lies_across = 0.1;
  test_again(&test);
  assert_ok(&test, girdle_job_new(&test.call, &head, &job));
  head.fabric.mass_g_m2 = -200;
  assert_status(&test, girdle_job_set_fabric(&test.call, job, &head.fabric), GIRDLE_ARGUMENT);
  assert_true(girdle_job_head_of(job)->fabric.lies_across == 0.1);
  head.fabric.mass_g_m2 = 200;
  test_again(&test);
  assert_ok(&test, girdle_job_set_fabric(&test.call, job, &head.fabric));
  assert_true(girdle_job_head_of(job)->fabric.mass_g_m2 == 200);
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
}

static void job_set_fabric_checks_every_share(void **state) {
  girdle_job *job;
  girdle_fabric good = {.mass_g_m2 = 200, .worn_across = 0.2, .worn_along = NAN};
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, new_job(&test.call, "A1", &job));
  for (int field = 0; field < 5; field++) {
    static const double bad[2][5] = {{-1, -0.6, -0.6, -0.6, -0.6}, {2e5, 4.5, 4.5, 4.5, 4.5}};
    for (int k = 0; k < 2; k++) {
      girdle_fabric fabric = good;
      double *const at[5] = {&fabric.mass_g_m2, &fabric.lies_across, &fabric.lies_along, &fabric.worn_across,
                             &fabric.worn_along};
      *at[field] = bad[k][field];
      test_again(&test);
      assert_status(&test, girdle_job_set_fabric(&test.call, job, &fabric), GIRDLE_ARGUMENT);
    }
  }
  test_again(&test);
  assert_ok(&test, girdle_job_set_fabric(&test.call, job, &good));
  girdle_job_free(job);
}

static void job_set_measure_replaces_one_of_the_same_name(void **state) {
  girdle_job *job;
  const girdle_measure *measures;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, new_job(&test.call, "A1", &job));
  assert_ok(&test, girdle_job_set_measure(&test.call, job, "neckline", 520));
  assert_ok(&test, girdle_job_set_measure(&test.call, job, "upper arm", 240));
  assert_ok(&test, girdle_job_set_measure(&test.call, job, "neckline", 540));
  measures = girdle_job_measures(job, &count);
  assert_int_equal(count, 2);
  assert_string_equal(measures[0].name, "neckline");
  assert_true(measures[0].mm == 540);
  assert_status(&test, girdle_job_set_measure(&test.call, job, "wrist", -14), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "wrist");
  test_again(&test);
  assert_status(&test, girdle_job_set_measure(&test.call, job, "wrist", NAN), GIRDLE_ARGUMENT);
  test_again(&test);
  assert_status(&test, girdle_job_set_measure(&test.call, job, "", 140), GIRDLE_LIMIT);
  girdle_job_free(job);
}

static void job_add_zone_mirrors_the_second_of_a_pair(void **state) {
  /* the box runs from 10 - 2 to 33 + 3, so its middle is 22 */
  static const double mirrored[] = {34, 24, 11};
  girdle_job *job;
  girdle_placement *placement;
  girdle_zone zone;
  const girdle_zone *zones;
  const girdle_placed *left, *right;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, new_job(&test.call, "A1", &job));
  assert_ok(&test, crooked_row(&test.call, &placement));
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "cuffs");
  zone.flags = GIRDLE_ZONE_PAIR;
  zone.placement = placement;
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  girdle_placement_free(placement); /* the job has its own copies */
  zones = girdle_job_zones(job, &count);
  assert_int_equal(count, 2);
  assert_string_equal(zones[0].name, "cuffs");
  assert_string_equal(zones[1].name, "cuffs");
  assert_string_equal(zones[0].side, "left");
  assert_string_equal(zones[1].side, "right");
  assert_int_equal(girdle_placement_view(zones[0].placement, &left, NULL, NULL), 3);
  assert_int_equal(girdle_placement_view(zones[1].placement, &right, NULL, NULL), 3);
  assert_true(left[0].x_mm == 10 && left[2].x_mm == 33);
  for (int i = 0; i < 3; i++) {
    double found = 0;
    for (int k = 0; k < 3; k++)
      if (fabs(right[k].x_mm - mirrored[i]) < 1e-9 && right[k].y_mm == left[i].y_mm) found++;
    assert_true(found == 1);
  }
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
}

static void job_add_zone_refuses(void **state) {
  girdle_stone already[2] = {stone_of("ss16"), stone_of("ss20")};
  girdle_job *job;
  girdle_zone zone;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, new_job(&test.call, "A1", &job));
  girdle_zone_init(&zone, sizeof zone);
  assert_status(&test, girdle_job_add_zone(&test.call, job, &zone), GIRDLE_ARGUMENT);
  strcpy(zone.name, "collar");
  strcpy(zone.side, "frnt");
  test_again(&test);
  assert_status(&test, girdle_job_add_zone(&test.call, job, &zone), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.nearest, "front");
  strcpy(zone.side, "x");
  test_again(&test);
  assert_status(&test, girdle_job_add_zone(&test.call, job, &zone), GIRDLE_UNKNOWN);
  strcpy(zone.side, "front");
  zone.times = 0;
  test_again(&test);
  assert_status(&test, girdle_job_add_zone(&test.call, job, &zone), GIRDLE_ARGUMENT);
  zone.times = 1;
  zone.already = already;
  zone.already_count = 2;
  for (int i = 0; i < 2; i++) {
    const int64_t pieces[2] = {i ? 5 : -1, i ? -1 : 5};
    zone.already_pieces = pieces;
    test_again(&test);
    assert_status(&test, girdle_job_add_zone(&test.call, job, &zone), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, "already");
  }
  zone.already_count = 0;
  test_again(&test);
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  assert_status(&test, girdle_job_add_zone(&test.call, job, &zone), GIRDLE_ARGUMENT);
  assert_non_null(strstr(test.error.message, "there already"));
  strcpy(zone.side, "back");
  test_again(&test);
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  strcpy(zone.side, "right");
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  zone.flags = GIRDLE_ZONE_PAIR; /* its right half is there already */
  assert_status(&test, girdle_job_add_zone(&test.call, job, &zone), GIRDLE_ARGUMENT);
  girdle_job_zones(job, &count);
  assert_int_equal(count, 3);
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
}

static void job_add_zone_takes_both_for_front_and_back(void **state) {
  static const char *const sides[][2] = {{"both", "front"}, {"both", "back"}, {"front", "both"}, {"back", "both"}};
  (void)state;
  for (size_t i = 0; i < sizeof sides / sizeof sides[0]; i++) {
    girdle_job *job;
    girdle_zone zone;
    test_call test;
    test_begin(&test);
    assert_ok(&test, new_job(&test.call, "A1", &job));
    girdle_zone_init(&zone, sizeof zone);
    strcpy(zone.name, "collar");
    strcpy(zone.side, sides[i][0]);
    assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
    strcpy(zone.side, "left");
    assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
    strcpy(zone.side, sides[i][1]);
    assert_status(&test, girdle_job_add_zone(&test.call, job, &zone), GIRDLE_ARGUMENT);
    strcpy(zone.name, "hem");
    test_again(&test);
    assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
    girdle_job_free(job);
    assert_int_equal(test.live_bytes, 0);
  }
}

/* A ring of eight: three stones lie below its middle, one on it, four above; what is set by eye stays on both. */
static void job_tally_splits_a_ring_at_its_side_seams(void **state) {
  const girdle_placed records[8] = {{0, 50, 0, 0, 0},   {30, 90, 0, 1, 0}, {50, 100, 0, 0, 0}, {70, 90, 0, 1, 0},
                                    {100, 45, 0, 0, 0}, {70, 10, 0, 1, 0}, {50, 0, 0, 0, 0},   {30, 10, 0, 1, 0}};
  const struct {
    const char *side;
    int colour, count;
  } expected[] = {{"front", 0, 2}, {"front", 1, 2}, {"back", 0, 2}, {"back", 1, 2}, {"both", 0, 7}};
  girdle_stone stones[2] = {stone_of("4 mm black"), stone_of("4 mm red")};
  const int64_t pieces = 7;
  const girdle_tally_line *lines;
  girdle_placement *placement;
  girdle_tally *tally;
  girdle_zone zone;
  girdle_job *job;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, new_job(&test.call, "A1", &job));
  assert_ok(&test, girdle_placement_new(&test.call, stones, 2, records, 8, &placement));
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "waist");
  strcpy(zone.side, "both");
  zone.times = 3;
  zone.placement = placement;
  zone.already = stones;
  zone.already_pieces = &pieces;
  zone.already_count = 1;
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  assert_ok(&test, girdle_job_tally(&test.call, job, &tally));
  lines = girdle_tally_lines(tally, &count);
  assert_int_equal(count, 5);
  for (uint64_t i = 0; i < count; i++) {
    assert_string_equal(lines[i].side, expected[i].side);
    assert_true(girdle_stone_equal(&lines[i].stone, &stones[expected[i].colour]));
    assert_int_equal(lines[i].count, 3 * expected[i].count);
  }
  girdle_tally_free(tally);
  girdle_placement_free(placement);
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
}

static void job_tally_counts_placed_and_set_by_eye(void **state) {
  girdle_stone already[2] = {stone_of("ss16"), stone_of("4 mm black")};
  const int64_t pieces[2] = {120, 5};
  girdle_job *job;
  girdle_placement *placement;
  girdle_zone zone;
  girdle_tally *tally;
  girdle_tally_line total;
  const girdle_tally_line *lines;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, new_job(&test.call, "A7", &job));
  assert_ok(&test, crooked_row(&test.call, &placement));
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "bows");
  zone.times = 4;
  zone.placement = placement;
  zone.already = already;
  zone.already_pieces = pieces;
  zone.already_count = 2;
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  strcpy(zone.name, "sleeves");
  zone.flags = GIRDLE_ZONE_PAIR;
  zone.times = 1;
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  girdle_placement_free(placement);
  assert_ok(&test, girdle_job_tally(&test.call, job, &tally));
  girdle_tally_total(tally, &total);
  assert_int_equal(total.count, (4 + 2) * (3 + 125));
  lines = girdle_tally_lines(tally, &count);
  assert_int_equal(count, 9);
  for (uint64_t i = 0; i < count; i++)
    assert_string_equal(lines[i].tag, "A7");
  assert_int_equal(lines[0].count, 4 * (2 + 5)); /* placed and set by eye are one line */
  girdle_tally_free(tally);
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
}

static int32_t whole_job(girdle_call *call) {
  girdle_stone already = stone_of("ss16");
  const int64_t pieces = 7;
  girdle_job *job = NULL;
  girdle_placement *placement = NULL;
  girdle_tally *tally = NULL;
  girdle_zone zone;
  int32_t status = new_job(call, "A1", &job);
  if (!status) status = crooked_row(call, &placement);
  girdle_zone_init(&zone, sizeof zone);
  zone.placement = placement;
  zone.already = &already;
  zone.already_pieces = &pieces;
  zone.already_count = 1;
  for (int i = 0; i < 6 && !status; i++) {
    zone.flags = i % 2 ? 0 : GIRDLE_ZONE_PAIR;
    strcpy(zone.side, i % 2 ? "both" : "");
    snprintf(zone.name, sizeof zone.name, "zone %d", i);
    status = girdle_job_add_zone(call, job, &zone);
    if (!status) status = girdle_job_set_measure(call, job, zone.name, 10 + i);
  }
  if (!status) status = girdle_job_tally(call, job, &tally);
  girdle_tally_free(tally);
  girdle_placement_free(placement);
  girdle_job_free(job);
  return status;
}

static void job_survives_every_refused_allocation(void **state) {
  (void)state;
  test_sweep_allocations(whole_job);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(job_head_init_knows_nothing_yet),
      cmocka_unit_test(job_new_wants_a_tag_and_a_sound_fabric),
      cmocka_unit_test(job_set_fabric_checks_every_share),
      cmocka_unit_test(job_set_measure_replaces_one_of_the_same_name),
      cmocka_unit_test(job_add_zone_mirrors_the_second_of_a_pair),
      cmocka_unit_test(job_add_zone_refuses),
      cmocka_unit_test(job_add_zone_takes_both_for_front_and_back),
      cmocka_unit_test(job_tally_splits_a_ring_at_its_side_seams),
      cmocka_unit_test(job_tally_counts_placed_and_set_by_eye),
      cmocka_unit_test(job_survives_every_refused_allocation),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
