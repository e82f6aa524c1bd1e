/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

/* A pair, each half of 3 red and 2 clear stones worked twice, with 4 red ones by eye; and a zone of clear ones. */
static int32_t dress(girdle_call *call, girdle_job **out) {
  const girdle_stone stones[2] = {stone_of("ss20 red"), stone_of("ss20 clear")}, red = stones[0];
  const girdle_placed records[5] = {
      {0, 0, 0, 0, 0}, {10, 0, 0, 1, 0}, {20, 0, 0, 0, 0}, {30, 0, 0, 1, 0}, {40, 0, 0, 0, 0}};
  const int64_t four = 4;
  girdle_job_head head;
  girdle_zone zone;
  girdle_placement *placement = NULL;
  int32_t status;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "A");
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "cuff");
  zone.flags = GIRDLE_ZONE_PAIR;
  zone.times = 2;
  zone.already = &red;
  zone.already_pieces = &four;
  zone.already_count = 1;
  status = girdle_job_new(call, &head, out);
  if (!status) status = girdle_placement_new(call, stones, 2, records, 5, &placement);
  zone.placement = placement;
  if (!status) status = girdle_job_add_zone(call, *out, &zone);
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "by eye");
  zone.already = &stones[1];
  zone.already_pieces = &four;
  zone.already_count = 1;
  if (!status) status = girdle_job_add_zone(call, *out, &zone);
  girdle_placement_free(placement);
  return status;
}

static int64_t count_of(const girdle_job *job, const char *text) {
  girdle_stone stone = stone_of(text);
  girdle_tally *tally;
  const girdle_tally_line *lines;
  uint64_t count;
  int64_t sum = 0;
  assert_int_equal(girdle_job_tally(NULL, job, &tally), GIRDLE_OK);
  lines = girdle_tally_lines(tally, &count);
  for (uint64_t i = 0; i < count; i++)
    if (girdle_stone_equal(&lines[i].stone, &stone)) sum += lines[i].count;
  girdle_tally_free(tally);
  return sum;
}

static void job_substitute_takes_all_of_a_stone(void **state) {
  girdle_stone red = stone_of("ss20 red"), gold = stone_of("ss20 gold"), clear = stone_of("ss20 clear");
  girdle_job *job;
  int64_t pieces = -1;
  (void)state;
  assert_int_equal(dress(NULL, &job), GIRDLE_OK);
  assert_int_equal(count_of(job, "ss20 red"), 28); /* left and right, twice 3 placed and 4 by eye */
  assert_int_equal(girdle_job_substitute(NULL, job, &red, &gold, &pieces), GIRDLE_OK);
  assert_int_equal(pieces, 28);
  assert_int_equal(count_of(job, "ss20 red"), 0);
  assert_int_equal(count_of(job, "ss20 gold"), 28);
  assert_int_equal(count_of(job, "ss20 clear"), 12);
  assert_int_equal(girdle_job_substitute(NULL, job, &red, &gold, &pieces), GIRDLE_OK);
  assert_int_equal(pieces, 0);
  /* what is there already takes them in */
  assert_int_equal(girdle_job_substitute(NULL, job, &gold, &clear, &pieces), GIRDLE_OK);
  assert_int_equal(count_of(job, "ss20 clear"), 40);
  girdle_job_free(job);
}

static void job_substitute_refuses_another_size_or_outline(void **state) {
  girdle_stone red = stone_of("ss20 red"), small = stone_of("ss16 red"), oval = stone_of("ss20 red oval");
  girdle_job *job;
  int64_t pieces;
  test_call test;
  (void)state;
  test_begin(&test);
  assert_ok(&test, dress(&test.call, &job));
  assert_status(&test, girdle_job_substitute(&test.call, job, &red, &small, &pieces), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "instead");
  assert_non_null(strstr(test.error.message, "ss16 red"));
  test_again(&test);
  assert_status(&test, girdle_job_substitute(&test.call, job, &red, &oval, &pieces), GIRDLE_ARGUMENT);
  assert_int_equal(count_of(job, "ss20 red"), 28);
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
}

static int32_t substitute_some(girdle_call *call) {
  girdle_stone red = stone_of("ss20 red"), gold = stone_of("ss20 gold");
  girdle_job *job = NULL;
  int64_t pieces;
  int32_t status = dress(call, &job);
  if (!status) status = girdle_job_substitute(call, job, &red, &gold, &pieces);
  girdle_job_free(job);
  return status;
}

static void job_substitute_survives_refused_memory(void **state) {
  (void)state;
  test_sweep_allocations(substitute_some);
}

/* By text and by fields, and never twice over. */
static void catalogue_swaps_stones_wherever_they_are_made(void **state) {
  girdle_stone swapped[2], instead[2], stone;
  girdle_catalogue own = {.struct_bytes = sizeof own, .swapped = swapped, .instead = instead, .swap_count = 2};
  girdle_stone_spec spec;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_stone_parse(&test.call, "ss20 red", &swapped[0]));
  assert_ok(&test, girdle_stone_parse(&test.call, "ss16 red", &instead[0]));
  swapped[1] = instead[0];
  assert_ok(&test, girdle_stone_parse(&test.call, "ss12 red", &instead[1]));
  test.call.own = &own;
  assert_ok(&test, girdle_stone_parse(&test.call, "20ss red", &stone));
  assert_true(girdle_stone_equal(&stone, &instead[0]));
  assert_ok(&test, girdle_stone_parse(&test.call, "ss16 red", &stone));
  assert_true(girdle_stone_equal(&stone, &instead[1]));
  assert_ok(&test, girdle_stone_parse(&test.call, "ss20 blue", &stone));
  assert_string_equal(stone.colour, "blue");
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = "ss20";
  spec.colour = "red";
  spec.own = &own;
  assert_ok(&test, girdle_stone_make(&test.call, &spec, &stone));
  assert_true(girdle_stone_equal(&stone, &instead[0]));
  own.struct_bytes = offsetof(girdle_catalogue, swapped); /* of an older caller */
  assert_ok(&test, girdle_stone_parse(&test.call, "ss20 red", &stone));
  assert_true(girdle_stone_equal(&stone, &swapped[0]));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(catalogue_swaps_stones_wherever_they_are_made),
      cmocka_unit_test(job_substitute_takes_all_of_a_stone),
      cmocka_unit_test(job_substitute_refuses_another_size_or_outline),
      cmocka_unit_test(job_substitute_survives_refused_memory),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
