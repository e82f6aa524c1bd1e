/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

/* Rows of 4 mm stones 5 mm apart: those of two rows overlap where their x differ by less than 4 mm. */
static int32_t row_of(girdle_call *call, double from_mm, double y_mm, int count, girdle_placement **out) {
  girdle_stone stone;
  girdle_placed records[64];
  memset(records, 0, sizeof records);
  girdle_stone_parse(NULL, "4 mm black", &stone);
  for (int i = 0; i < count; i++) {
    records[i].x_mm = from_mm + 5 * i;
    records[i].y_mm = y_mm;
  }
  return girdle_placement_new(call, &stone, 1, records, (uint64_t)count, out);
}

typedef struct wish {
  const char *name, *side;
  int32_t priority, flags;
  double from_mm;
  int count;
} wish;

static int32_t add(girdle_call *call, girdle_job *job, const wish *of) {
  girdle_zone zone;
  girdle_placement *placement = NULL;
  int32_t status = row_of(call, of->from_mm, 0, of->count, &placement);
  girdle_zone_init(&zone, sizeof zone);
  snprintf(zone.name, sizeof zone.name, "%s", of->name);
  snprintf(zone.side, sizeof zone.side, "%s", of->side);
  zone.priority = of->priority;
  zone.flags = (uint32_t)of->flags;
  zone.placement = placement;
  if (!status) status = girdle_job_add_zone(call, job, &zone);
  girdle_placement_free(placement);
  return status;
}

static int32_t settled(girdle_call *call, const wish *wishes, int count, girdle_job **out) {
  girdle_job_head head;
  int32_t status;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "A1");
  status = girdle_job_new(call, &head, out);
  for (int i = 0; i < count && !status; i++)
    status = add(call, *out, &wishes[i]);
  return status ? status : girdle_job_settle(call, *out);
}

static int64_t left_in(const girdle_job *job, uint64_t which) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  return girdle_placement_view(zones[which].placement, NULL, NULL, NULL);
}

enum { DRAWN = GIRDLE_ZONE_DRAWN, BOTH = GIRDLE_ZONE_DRAWN | GIRDLE_ZONE_PAIR };

static void job_settle_leaves_shared_stones_to_the_first(void **state) {
  const wish wishes[] = {{"hem", "front", 2, DRAWN, 25, 10}, {"neck", "front", 1, DRAWN, 0, 10}};
  girdle_job *job = NULL;
  uint64_t count;
  (void)state;
  assert_int_equal(settled(NULL, wishes, 2, &job), GIRDLE_OK);
  assert_int_equal(left_in(job, 1), 10);
  assert_int_equal(left_in(job, 0), 5); /* 25, 30 ... 45 are the neck's */
  assert_int_equal(girdle_job_zones(job, &count)[0].left_out, 5);
  assert_int_equal(girdle_job_settle(NULL, job), GIRDLE_OK);
  assert_int_equal(left_in(job, 0), 5);
  girdle_job_free(job);
}

static void job_settle_goes_by_rank_not_by_order(void **state) {
  /* the middle one gives up its right half, so that the last may keep what lies there alone */
  const wish wishes[] = {
      {"last", "", 3, DRAWN, 25, 5}, {"middle", "", 2, DRAWN, 0, 10}, {"first", "", 1, DRAWN, 25, 3}};
  girdle_job *job = NULL;
  (void)state;
  assert_int_equal(settled(NULL, wishes, 3, &job), GIRDLE_OK);
  assert_int_equal(left_in(job, 2), 3);
  assert_int_equal(left_in(job, 1), 7);
  assert_int_equal(left_in(job, 0), 0);
  girdle_job_free(job);
}

static void job_settle_touches_nothing_else(void **state) {
  static const struct {
    const char *why;
    wish a, b;
  } cases[] = {
      {"one rank", {"a", "front", 1, DRAWN, 0, 10}, {"b", "front", 1, DRAWN, 0, 10}},
      {"no rank", {"a", "front", 1, DRAWN, 0, 10}, {"b", "front", 0, DRAWN, 0, 10}},
      {"two sides", {"a", "front", 1, DRAWN, 0, 10}, {"b", "back", 2, DRAWN, 0, 10}},
      {"not drawn", {"a", "front", 1, DRAWN, 0, 10}, {"b", "front", 2, 0, 0, 10}},
      {"the first not drawn", {"a", "front", 1, 0, 0, 10}, {"b", "front", 2, DRAWN, 0, 10}},
      {"a pair of another side", {"a", "front", 1, DRAWN, 0, 10}, {"b", "back", 2, BOTH, 0, 10}},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    const wish wishes[] = {cases[i].a, cases[i].b};
    girdle_job *job = NULL;
    print_message("%s\n", cases[i].why);
    assert_int_equal(settled(NULL, wishes, 2, &job), GIRDLE_OK);
    assert_int_equal(left_in(job, 0), 10);
    assert_int_equal(left_in(job, 1), 10);
    girdle_job_free(job);
  }
}

static void job_settle_keeps_pairs_alike(void **state) {
  const wish wishes[] = {{"neck", "front", 1, DRAWN, 0, 5}, {"sleeve", "front", 2, BOTH, 15, 10}};
  const girdle_placed *left, *right;
  const girdle_zone *zones;
  girdle_job *job = NULL;
  uint64_t count;
  (void)state;
  assert_int_equal(settled(NULL, wishes, 2, &job), GIRDLE_OK);
  zones = girdle_job_zones(job, &count);
  assert_string_equal(zones[1].pair_side, "front");
  assert_string_equal(zones[2].side, "right");
  assert_int_equal(left_in(job, 1), 8); /* 15 and 20 are the neck's */
  assert_int_equal(left_in(job, 2), 8);
  girdle_placement_view(zones[1].placement, &left, NULL, NULL);
  girdle_placement_view(zones[2].placement, &right, NULL, NULL);
  for (int i = 0; i < 8; i++) /* mirrored about the middle of the whole row, 37.5 mm, not of what is left of it */
    assert_true(left[i].x_mm + right[i].x_mm == 75);
  girdle_job_free(job);
}

static void job_settle_empties_a_zone_that_lies_under_others(void **state) {
  const wish wishes[] = {{"neck", "", 1, DRAWN, 0, 10}, {"under", "", 2, BOTH, 0, 10}, {"last", "", 3, BOTH, 0, 3}};
  girdle_job *job = NULL;
  (void)state;
  assert_int_equal(settled(NULL, wishes, 3, &job), GIRDLE_OK);
  assert_int_equal(left_in(job, 1) + left_in(job, 2) + left_in(job, 3) + left_in(job, 4), 0);
  girdle_job_free(job);
}

static int32_t settle_some(girdle_call *call) {
  const wish wishes[] = {{"neck", "", 1, DRAWN, 0, 10}, {"sleeve", "", 2, BOTH, 25, 10}, {"hem", "", 3, DRAWN, 40, 9}};
  girdle_job *job = NULL;
  int32_t status = settled(call, wishes, 3, &job);
  girdle_job_free(job);
  return status;
}

static void job_settle_survives_refused_memory(void **state) {
  (void)state;
  test_sweep_allocations(settle_some);
}

static int32_t stop(void *context, uint64_t steps, double done) {
  (void)context, (void)steps, (void)done;
  return 1;
}

static void job_settle_can_be_stopped(void **state) {
  test_call test;
  girdle_job *job = NULL;
  const wish wishes[] = {{"neck", "", 1, DRAWN, 0, 10}, {"hem", "", 2, DRAWN, 0, 10}};
  (void)state;
  assert_int_equal(settled(NULL, wishes, 2, &job), GIRDLE_OK);
  test_begin(&test);
  test.call.watch.tick = stop;
  assert_status(&test, girdle_job_settle(&test.call, job), GIRDLE_STOPPED);
  girdle_job_free(job);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(job_settle_leaves_shared_stones_to_the_first),
      cmocka_unit_test(job_settle_goes_by_rank_not_by_order),
      cmocka_unit_test(job_settle_touches_nothing_else),
      cmocka_unit_test(job_settle_keeps_pairs_alike),
      cmocka_unit_test(job_settle_empties_a_zone_that_lies_under_others),
      cmocka_unit_test(job_settle_survives_refused_memory),
      cmocka_unit_test(job_settle_can_be_stopped),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
