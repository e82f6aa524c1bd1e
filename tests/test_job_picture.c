/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

enum { MOST = 200 };
static const double deg = 0.017453292519943295;

typedef struct drawn {
  girdle_placed records[MOST];
  int count;
} drawn;

static void add(drawn *to, double x_mm, double y_mm, int row, int stone) {
  girdle_placed *record = &to->records[to->count++];
  memset(record, 0, sizeof *record);
  record->x_mm = x_mm;
  record->y_mm = y_mm;
  record->row = (uint16_t)row;
  record->stone = (uint16_t)stone;
}

static int32_t made(girdle_call *call, const drawn *of, girdle_placement **out) {
  girdle_stone stones[2];
  girdle_stone_parse(NULL, "4 mm black", &stones[0]);
  girdle_stone_parse(NULL, "2 mm red", &stones[1]);
  return girdle_placement_new(call, stones, 2, of->records, (uint64_t)of->count, out);
}

static int32_t carried(girdle_call *call, const drawn *of, girdle_box from, girdle_box onto, int64_t *closed_up,
                       girdle_placement **out) {
  girdle_placement *picture = NULL;
  int32_t status = made(call, of, &picture);
  if (!status) status = girdle_picture_carry(call, picture, &from, &onto, closed_up, out);
  girdle_placement_free(picture);
  return status;
}

static uint64_t overlaps(const girdle_placement *of) {
  uint64_t count;
  assert_int_equal(girdle_placement_overlaps(NULL, of, NULL, 0, &count), GIRDLE_OK);
  return count;
}

/* Stones of 4 mm, 5 mm apart, on a line of 100 mm. */
static drawn line_of_21(void) {
  drawn row = {.count = 0};
  for (int i = 0; i < 21; i++)
    add(&row, 5 * i, 0, 0, 0);
  return row;
}

static void picture_carry_moves_and_stretches(void **state) {
  drawn row = line_of_21();
  const girdle_placed *records;
  girdle_placement *out;
  int64_t closed_up = -1;
  (void)state;
  assert_int_equal(carried(NULL, &row, (girdle_box){0, 0, 100, 0}, (girdle_box){10, 7, 130, 7}, &closed_up, &out), 0);
  assert_int_equal(girdle_placement_view(out, &records, NULL, NULL), 21);
  for (int i = 0; i < 21; i++) {
    assert_near(records[i].x_mm, 10 + 6 * i, 1e-4);
    assert_near(records[i].y_mm, 7, 1e-4);
  }
  assert_int_equal(closed_up, 0);
  girdle_placement_free(out);
}

/* Three of 4 mm in 1 mm: one stays. */
static void picture_carry_leaves_one_where_no_two_fit(void **state) {
  drawn row = {.count = 0};
  girdle_placement *out;
  int64_t closed_up;
  (void)state;
  for (int i = 0; i < 3; i++)
    add(&row, 10 * i, 0, 0, 0);
  assert_int_equal(carried(NULL, &row, (girdle_box){0, 0, 20, 0}, (girdle_box){0, 0, 1, 0}, &closed_up, &out), 0);
  assert_int_equal(girdle_placement_view(out, NULL, NULL, NULL), 1);
  assert_int_equal(closed_up, 1);
  girdle_placement_free(out);
}

/* Four in a ring, on a square of 10 mm that becomes one of 3 mm: two across it do not touch, as 4.24 mm are between. */
static void picture_carry_knows_a_ring_of_four(void **state) {
  drawn ring = {.count = 0};
  const girdle_placed *records;
  girdle_placement *out;
  int64_t closed_up;
  (void)state;
  add(&ring, 0, 0, 0, 0);
  add(&ring, 10, 0, 0, 0);
  add(&ring, 10, 10, 0, 0);
  add(&ring, 0, 10, 0, 0);
  assert_int_equal(carried(NULL, &ring, (girdle_box){0, 0, 10, 10}, (girdle_box){0, 0, 3, 3}, &closed_up, &out), 0);
  assert_int_equal(girdle_placement_view(out, &records, NULL, NULL), 2);
  assert_near(hypot(records[1].x_mm - records[0].x_mm, records[1].y_mm - records[0].y_mm), 3 * sqrt(2), 1e-3);
  girdle_placement_free(out);
}

static void picture_carry_closes_up_to_touching_before_it_drops(void **state) {
  drawn row = line_of_21();
  const girdle_placed *records;
  girdle_placement *out;
  int64_t closed_up;
  (void)state;
  /* 80 mm between the first and the last: just room for 21 of 4 mm */
  assert_int_equal(carried(NULL, &row, (girdle_box){0, 0, 100, 0}, (girdle_box){0, 0, 80, 0}, &closed_up, &out), 0);
  assert_int_equal(girdle_placement_view(out, NULL, NULL, NULL), 21);
  assert_int_equal(closed_up, 0);
  girdle_placement_free(out);
  /* in 70 mm there is room for 18: 17 steps of 70 / 17 mm; both ends stay */
  assert_int_equal(carried(NULL, &row, (girdle_box){0, 0, 100, 0}, (girdle_box){0, 0, 70, 0}, &closed_up, &out), 0);
  assert_int_equal(girdle_placement_view(out, &records, NULL, NULL), 18);
  assert_int_equal(closed_up, 18);
  for (int i = 0; i < 18; i++)
    assert_near(records[i].x_mm, i * 70.0 / 17, 1e-3);
  assert_int_equal(overlaps(out), 0);
  girdle_placement_free(out);
}

static void picture_carry_keeps_a_ring_closed(void **state) {
  drawn ring = {.count = 0};
  const girdle_placed *records;
  girdle_placement *out;
  int64_t closed_up;
  (void)state;
  for (int i = 0; i < 60; i++) /* 60 stones of 4 mm round 300 mm */
    add(&ring, 50 + 47.746 * cos(i * 6 * deg), 50 + 47.746 * sin(i * 6 * deg), 0, 0);
  assert_int_equal(carried(NULL, &ring, (girdle_box){0, 0, 100, 100}, (girdle_box){0, 0, 72, 72}, &closed_up, &out), 0);
  /* 300 * 0.72 = 216 mm: 54 stones of 4 mm would fill the arc, a chord takes one of them */
  assert_in_range(girdle_placement_view(out, &records, NULL, NULL), 52, 53);
  for (int i = 0; i < 52; i++) /* on the ring, but for what a chord of the 60 lies inside it */
    assert_near(hypot(records[i].x_mm - 36, records[i].y_mm - 36), 34.377, 0.06);
  assert_int_equal(overlaps(out), 0);
  girdle_placement_free(out);
}

static void picture_carry_drops_what_overlaps_across_rows(void **state) {
  drawn rows = {.count = 0};
  const girdle_placed *records;
  girdle_placement *out;
  int64_t closed_up;
  (void)state;
  for (int i = 0; i < 10; i++)
    add(&rows, 10 * i, 0, 0, 0);
  for (int i = 0; i < 10; i++)
    add(&rows, 10 * i, 5, 1, 0);
  assert_int_equal(carried(NULL, &rows, (girdle_box){0, 0, 90, 5}, (girdle_box){0, 0, 90, 3}, &closed_up, &out), 0);
  assert_int_equal(girdle_placement_view(out, &records, NULL, NULL), 10); /* the second row lies on the first */
  for (int i = 0; i < 10; i++)
    assert_true(records[i].y_mm == 0);
  assert_int_equal(closed_up, 0);
  girdle_placement_free(out);
}

static void picture_carry_never_overlaps(void **state) {
  uint64_t random = 11;
  (void)state;
  for (int round = 0; round < 200; round++) {
    drawn any = {.count = 0};
    double wide = 20 + 100 * test_uniform(&random), high = 20 + 100 * test_uniform(&random);
    girdle_box from = {0, 0, 100, 100}, onto = {-5, 3, wide - 5, high + 3};
    girdle_placement *out;
    int64_t closed_up;
    for (int i = 0; i < 120; i++)
      if (i % 20 < 12 && any.count)
        add(&any, any.records[any.count - 1].x_mm + 4.5, any.records[any.count - 1].y_mm + 1, i / 20, i % 2);
      else
        add(&any, 60 * test_uniform(&random), 100 * test_uniform(&random), i / 20, 0);
    assert_int_equal(carried(NULL, &any, from, onto, &closed_up, &out), 0);
    assert_int_equal(overlaps(out), 0);
    assert_true(girdle_placement_view(out, NULL, NULL, NULL) > 0);
    girdle_placement_free(out);
  }
}

static void picture_carry_refuses(void **state) {
  drawn row = line_of_21();
  girdle_placement *out = NULL;
  int64_t closed_up;
  test_call test;
  (void)state;
  test_begin(&test);
  assert_status(&test,
                carried(&test.call, &row, (girdle_box){0, 0, NAN, 0}, (girdle_box){0, 0, 1, 1}, &closed_up, &out),
                GIRDLE_ARGUMENT);
  test_again(&test);
  assert_status(&test,
                carried(&test.call, &row, (girdle_box){0, 0, 1, 0}, (girdle_box){0, 0, 1, 1e9}, &closed_up, &out),
                GIRDLE_ARGUMENT);
  test_again(&test);
  assert_status(&test, carried(&test.call, &row, (girdle_box){0, 0, 1, 0}, (girdle_box){0, 0, -1, 1}, &closed_up, &out),
                GIRDLE_ARGUMENT);
  assert_int_equal(test.live_bytes, 0);
}

/* ---- the zones of a costume */

static int32_t job_of(girdle_call *call, const char *tag, double length_mm, int32_t alike, int pair, girdle_job **out) {
  girdle_job_head head;
  girdle_zone zone;
  drawn row = {.count = 0};
  girdle_placement *placement = NULL;
  int32_t status;
  for (int i = 0; i <= (int)(length_mm / 5); i++)
    add(&row, 5 * i, 0, 0, i % 2);
  girdle_job_head_init(&head, sizeof head);
  snprintf(head.tag, sizeof head.tag, "%s", tag);
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "waist");
  zone.alike = alike;
  zone.flags = pair ? GIRDLE_ZONE_PAIR : 0;
  if (!pair) zone.box = (girdle_box){0, 0, length_mm, 0};
  status = girdle_job_new(call, &head, out);
  if (!status) status = made(call, &row, &placement);
  zone.placement = placement;
  if (!status) status = girdle_job_add_zone(call, *out, &zone);
  girdle_placement_free(placement);
  return status;
}

static int64_t stones_in(const girdle_job *job, uint64_t which) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  return zones[which].placement ? girdle_placement_view(zones[which].placement, NULL, NULL, NULL) : -1;
}

static void job_keep_picture_gives_the_samples_stones(void **state) {
  girdle_job *sample, *small, *own;
  uint64_t count;
  (void)state;
  assert_int_equal(job_of(NULL, "m", 100, GIRDLE_ALIKE_PICTURE, 0, &sample), 0);
  assert_int_equal(job_of(NULL, "s", 80, GIRDLE_ALIKE_PICTURE, 0, &small), 0);
  assert_int_equal(job_of(NULL, "x", 80, GIRDLE_ALIKE_GAP, 0, &own), 0);
  assert_int_equal(girdle_job_keep_picture(NULL, small, sample), GIRDLE_OK);
  assert_int_equal(stones_in(small, 0), 21); /* of 4 and 2 mm: 3 mm from point to point is enough */
  assert_int_equal(girdle_job_zones(small, &count)[0].dropped, 0);
  assert_int_equal(girdle_job_keep_picture(NULL, own, sample), GIRDLE_OK);
  assert_int_equal(stones_in(own, 0), 17);
  assert_int_equal(girdle_job_keep_picture(NULL, sample, sample), GIRDLE_OK);
  assert_int_equal(stones_in(sample, 0), 21);
  girdle_job_free(small);
  assert_int_equal(job_of(NULL, "t", 40, GIRDLE_ALIKE_PICTURE, 0, &small), 0);
  assert_int_equal(girdle_job_keep_picture(NULL, small, sample), GIRDLE_OK);
  assert_true(stones_in(small, 0) < 21 && girdle_job_zones(small, &count)[0].dropped == 21 - stones_in(small, 0));
  assert_int_equal(girdle_job_zones(small, &count)[0].closed_up, stones_in(small, 0));
  girdle_job_free(small);
  girdle_job_free(own);
  girdle_job_free(sample);
}

static void job_keep_picture_mirrors_pairs(void **state) {
  girdle_job *sample, *small;
  const girdle_placed *left, *right;
  const girdle_zone *zones;
  uint64_t count;
  (void)state;
  assert_int_equal(job_of(NULL, "m", 100, GIRDLE_ALIKE_PICTURE, 1, &sample), 0);
  assert_int_equal(job_of(NULL, "s", 45, GIRDLE_ALIKE_PICTURE, 1, &small), 0);
  assert_int_equal(girdle_job_keep_picture(NULL, small, sample), GIRDLE_OK);
  zones = girdle_job_zones(small, &count);
  assert_int_equal(stones_in(small, 0), stones_in(small, 1));
  girdle_placement_view(zones[0].placement, &left, NULL, NULL);
  girdle_placement_view(zones[1].placement, &right, NULL, NULL);
  for (int64_t i = 0; i < stones_in(small, 0); i++)
    assert_near(left[i].x_mm + right[i].x_mm, left[0].x_mm + right[0].x_mm, 3e-4);
  girdle_job_free(small);
  girdle_job_free(sample);
}

static void job_set_placement_replaces_and_refuses(void **state) {
  girdle_job *job;
  girdle_placement *other;
  drawn row = line_of_21();
  test_call test;
  (void)state;
  test_begin(&test);
  assert_ok(&test, job_of(&test.call, "m", 40, 0, 0, &job));
  assert_ok(&test, made(&test.call, &row, &other));
  assert_ok(&test, girdle_job_set_placement(&test.call, job, 0, other));
  girdle_placement_free(other);
  assert_int_equal(stones_in(job, 0), 21);
  assert_ok(&test, girdle_job_set_placement(&test.call, job, 0, NULL));
  assert_int_equal(stones_in(job, 0), -1);
  assert_status(&test, girdle_job_set_placement(&test.call, job, 1, NULL), GIRDLE_ARGUMENT);
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
}

static int32_t carry_one(girdle_call *call) {
  const girdle_box from = {0, 0, 100, 0}, onto = {0, 0, 70, 0};
  drawn row = line_of_21();
  girdle_placement *picture = NULL, *out = NULL;
  int64_t closed_up;
  int32_t status = made(call, &row, &picture);
  if (!status) status = girdle_picture_carry(call, picture, &from, &onto, &closed_up, &out);
  girdle_placement_free(picture);
  girdle_placement_free(out);
  return status;
}

static int32_t keep_some(girdle_call *call) {
  girdle_job *sample = NULL, *small = NULL;
  int32_t status = job_of(call, "m", 100, GIRDLE_ALIKE_PICTURE, 1, &sample);
  if (!status) status = job_of(call, "s", 45, GIRDLE_ALIKE_PICTURE, 1, &small);
  if (!status) status = girdle_job_keep_picture(call, small, sample);
  if (!status) status = girdle_job_set_placement(call, small, 0, NULL);
  if (!status) status = carry_one(call);
  girdle_job_free(small);
  girdle_job_free(sample);
  return status;
}

static void pictures_survive_refused_memory(void **state) {
  (void)state;
  test_sweep_allocations(keep_some);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(picture_carry_moves_and_stretches),
      cmocka_unit_test(picture_carry_leaves_one_where_no_two_fit),
      cmocka_unit_test(picture_carry_knows_a_ring_of_four),
      cmocka_unit_test(picture_carry_closes_up_to_touching_before_it_drops),
      cmocka_unit_test(picture_carry_keeps_a_ring_closed),
      cmocka_unit_test(picture_carry_drops_what_overlaps_across_rows),
      cmocka_unit_test(picture_carry_never_overlaps),
      cmocka_unit_test(picture_carry_refuses),
      cmocka_unit_test(job_keep_picture_gives_the_samples_stones),
      cmocka_unit_test(job_keep_picture_mirrors_pairs),
      cmocka_unit_test(job_set_placement_replaces_and_refuses),
      cmocka_unit_test(pictures_survive_refused_memory),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
