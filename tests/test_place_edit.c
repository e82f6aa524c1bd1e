/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_support.h"

/* A placement of round and fancy stones at random. */
static girdle_placement *random_placement(uint64_t *random, uint64_t count, double size_mm) {
  girdle_stone stones[4] = {test_stone("ss20"), test_stone("ss6"), test_stone("6 mm navette"), test_stone("5 mm pear")};
  girdle_placed *records = calloc(count + 1, sizeof *records);
  girdle_placement *placement = NULL;
  for (uint64_t i = 0; i < count; i++) {
    records[i].x_mm = (test_uniform(random) - 0.5) * size_mm;
    records[i].y_mm = (test_uniform(random) - 0.5) * size_mm;
    records[i].turn_deg = (float)(test_uniform(random) * 360);
    records[i].stone = (uint16_t)(test_random(random) % 4);
    records[i].row = (uint16_t)(i % 7);
  }
  assert_int_equal(girdle_placement_new(NULL, stones, 4, records, count, &placement), GIRDLE_OK);
  free(records);
  return placement;
}

static int is_whole(double value, double unit) {
  return fabs(value / unit - nearbyint(value / unit)) < 1e-6;
}

static void placement_new_snaps_to_the_grid(void **state) {
  uint64_t random = 1;
  girdle_placement *placement = random_placement(&random, 500, 300);
  int64_t count;
  const girdle_placed *records = test_records(placement, &count);
  (void)state;
  assert_int_equal(sizeof(girdle_placed), 24);
  for (int64_t i = 0; i < count; i++) {
    assert_true(is_whole(records[i].x_mm, 1e-4) && is_whole(records[i].y_mm, 1e-4));
    assert_true(records[i].turn_deg >= 0 && records[i].turn_deg < 360);
    assert_true(fabs((double)records[i].turn_deg * 100 - nearbyint((double)records[i].turn_deg * 100)) < 2e-3);
  }
  girdle_placement_free(placement);
}

static void placement_new_refuses_by_name(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_placed record = {0, 0, 0, 1, 0};
  girdle_placement *placement = NULL;
  test_call test;
  (void)state;
  test_begin(&test);
  assert_status(&test, girdle_placement_new(&test.call, &stone, 1, &record, 1, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "stone");
  record.stone = 0;
  record.x_mm = NAN;
  assert_status(&test, girdle_placement_new(test_again(&test), &stone, 1, &record, 1, &placement), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "x");
  assert_int_equal(test.live_bytes, 0);
}

static void placement_mirrored_twice_is_the_identity(void **state) {
  uint64_t random = 2;
  (void)state;
  for (int64_t i = 0; i < test_cases(1); i++) {
    girdle_placement *placement = random_placement(&random, 40, 300), *once = NULL, *twice = NULL;
    double axis = (test_uniform(&random) - 0.5) * 100;
    assert_int_equal(girdle_placement_mirrored(NULL, placement, axis, &once), GIRDLE_OK);
    assert_int_equal(girdle_placement_mirrored(NULL, once, axis, &twice), GIRDLE_OK);
    assert_true(test_same(placement, twice));
    assert_false(test_same(placement, once));
    girdle_placement_free(placement);
    girdle_placement_free(once);
    girdle_placement_free(twice);
  }
}

static void placement_moved_there_and_back_is_the_identity(void **state) {
  uint64_t random = 3;
  girdle_placement *placement = random_placement(&random, 100, 300), *there = NULL, *back = NULL;
  (void)state;
  assert_int_equal(girdle_placement_moved(NULL, placement, 12.34567, -7.1, &there), GIRDLE_OK);
  assert_int_equal(girdle_placement_moved(NULL, there, -12.34567, 7.1, &back), GIRDLE_OK);
  assert_true(test_same(placement, back));
  girdle_placement_free(placement);
  girdle_placement_free(there);
  girdle_placement_free(back);
}

static void placement_turned_by_quarters_is_exact(void **state) {
  uint64_t random = 4;
  girdle_placement *placement = random_placement(&random, 100, 300), *turned = NULL;
  int64_t count;
  const girdle_placed *before = test_records(placement, &count), *after;
  (void)state;
  assert_int_equal(girdle_placement_turned(NULL, placement, 90, &turned), GIRDLE_OK);
  after = test_records(turned, &count);
  for (int64_t i = 0; i < count; i++) { /* clockwise on the page, y down: (x, y) goes to (-y, x) */
    assert_near(after[i].x_mm, -before[i].y_mm, 0);
    assert_near(after[i].y_mm, before[i].x_mm, 0);
  }
  girdle_placement_free(turned);
  assert_int_equal(girdle_placement_turned(NULL, placement, 33, &turned), GIRDLE_OK);
  after = test_records(turned, &count);
  for (int64_t i = 0; i < count; i++)
    assert_near(after[i].x_mm,
                before[i].x_mm * cos(33 * 0.017453292519943295) - before[i].y_mm * sin(33 * 0.017453292519943295),
                1e-4);
  girdle_placement_free(turned);
  girdle_placement_free(placement);
}

static void placement_folded_makes_both_halves(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_placed records[3] = {{10, 0, 0, 0, 0}, {50.05, 5, 0, 0, 0}, {30, 9, 0, 0, 0}};
  girdle_placement *half = NULL, *both = NULL;
  int64_t count;
  const girdle_placed *folded;
  (void)state;
  assert_int_equal(girdle_placement_new(NULL, &stone, 1, records, 3, &half), GIRDLE_OK);
  assert_int_equal(girdle_placement_folded(NULL, half, 50, 0.1, &both), GIRDLE_OK);
  folded = test_records(both, &count);
  assert_int_equal(count, 5);
  assert_near(folded[1].x_mm, 50, 0);
  assert_near(folded[3].x_mm, 90, 0);
  assert_near(folded[4].x_mm, 70, 0);
  girdle_placement_free(both);
  girdle_placement_free(half);
}

static void placement_joined_makes_equal_stones_one(void **state) {
  girdle_stone ab[2] = {test_stone("ss20 red"), test_stone("ss20 blue")},
               ba[2] = {test_stone("ss20 blue"), test_stone("ss16")};
  girdle_placed records[2] = {{0, 0, 0, 0, 0}, {10, 0, 0, 1, 3}};
  girdle_placement *first = NULL, *second = NULL, *joined = NULL;
  const girdle_placed *view;
  const girdle_stone *stones;
  uint32_t stone_count;
  (void)state;
  assert_int_equal(girdle_placement_new(NULL, ab, 2, records, 2, &first), GIRDLE_OK);
  assert_int_equal(girdle_placement_new(NULL, ba, 2, records, 2, &second), GIRDLE_OK);
  assert_int_equal(girdle_placement_joined(NULL, first, second, &joined), GIRDLE_OK);
  assert_int_equal(girdle_placement_view(joined, &view, &stones, &stone_count), 4);
  assert_int_equal(stone_count, 3);
  assert_int_equal(view[2].stone, 1);
  assert_string_equal(stones[view[3].stone].size, "ss16");
  assert_int_equal(view[2].row, 4);
  assert_int_equal(view[3].row, 7);
  girdle_placement_free(first);
  girdle_placement_free(second);
  girdle_placement_free(joined);
}

static void placement_pieces_counts_equal_stones_wherever_they_stand(void **state) {
  girdle_stone stones[3] = {test_stone("ss20 red"), test_stone("ss20 blue"), test_stone("ss20 red")};
  girdle_stone none = test_stone("ss16 red");
  girdle_placed records[4] = {{0, 0, 0, 0, 0}, {10, 0, 0, 1, 0}, {20, 0, 0, 2, 0}, {30, 0, 0, 0, 1}};
  girdle_placement *placement = NULL;
  (void)state;
  assert_int_equal(girdle_placement_new(NULL, stones, 3, records, 4, &placement), GIRDLE_OK);
  assert_int_equal(girdle_placement_pieces(placement, &stones[0]), 3);
  assert_int_equal(girdle_placement_pieces(placement, &stones[1]), 1);
  assert_int_equal(girdle_placement_pieces(placement, &none), 0);
  girdle_placement_free(placement);
}

static void placement_without_drops_what_reaches_in(void **state) {
  girdle_stone stone = test_round(4);
  girdle_placed records[5] = {
      {-2, 5, 0, 0, 0}, {-1.9, 5, 0, 0, 0}, {5, 5, 0, 0, 0}, {12, 5, 0, 0, 0}, {-1.42, -1.42, 0, 0, 0}};
  girdle_region *square = test_region("M0 0H10V10H0Z");
  girdle_placement *placement = NULL, *rest = NULL;
  int64_t count;
  const girdle_placed *kept;
  (void)state;
  assert_int_equal(girdle_placement_new(NULL, &stone, 1, records, 5, &placement), GIRDLE_OK);
  assert_int_equal(girdle_placement_without(NULL, placement, square, &rest), GIRDLE_OK);
  kept = test_records(rest, &count);
  assert_int_equal(count, 3); /* the first touches and stays; the last passes the corner */
  assert_near(kept[0].x_mm, -2, 0);
  assert_near(kept[1].x_mm, 12, 0);
  assert_int_equal(test_notes(rest).left_out, 2);
  girdle_region_free(square);
  girdle_placement_free(placement);
  girdle_placement_free(rest);
}

static void placement_clear_of_keeps_the_gap(void **state) {
  girdle_stone stone = test_stone("ss12"), other = test_stone("ss20");
  girdle_region *region = test_region("rectangle 60 mm x 60 mm");
  girdle_cover_options options = test_cover(&stone, 1, 0.5), few = test_cover(&other, 1, 15);
  girdle_placement *dense = NULL, *there = NULL, *rest = NULL, *both = NULL;
  (void)state;
  assert_int_equal(girdle_cover(NULL, region, &options, &dense), GIRDLE_OK);
  assert_int_equal(girdle_cover(NULL, region, &few, &there), GIRDLE_OK);
  assert_int_equal(girdle_placement_clear_of(NULL, dense, there, 1, &rest), GIRDLE_OK);
  assert_int_equal(test_count(dense) - test_count(rest), test_notes(rest).left_out);
  assert_true(test_notes(rest).left_out > 0);
  assert_int_equal(girdle_placement_joined(NULL, rest, there, &both), GIRDLE_OK);
  for (int64_t i = 0; i < test_count(rest); i++)
    for (int64_t k = test_count(rest); k < test_count(both); k++)
      assert_true(test_gap(both, i, k) >= 1 - TOLERANCE);
  girdle_region_free(region);
  girdle_placement_free(dense);
  girdle_placement_free(there);
  girdle_placement_free(rest);
  girdle_placement_free(both);
}

/* ---- overlaps, against all pairs */

static void placement_overlaps_finds_every_pair(void **state) {
  uint64_t random = 5;
  (void)state;
  for (int64_t i = 0; i < test_cases(1); i++) {
    uint64_t stones_count = 1 + test_random(&random) % 6, records_count = test_random(&random) % 60, count = 99,
             found = 0;
    girdle_stone stones[6];
    girdle_placed records[60];
    girdle_overlap pairs[2000];
    girdle_placement *placement = NULL;
    for (uint64_t k = 0; k < 6; k++)
      stones[k] = test_round(pow(10, test_uniform(&random) * 2 - 0.5));
    memset(records, 0, sizeof records);
    for (uint64_t k = 0; k < records_count; k++) {
      records[k].x_mm = test_uniform(&random) * 80;
      records[k].y_mm = test_uniform(&random) * 80;
      records[k].stone = (uint16_t)(test_random(&random) % stones_count);
    }
    assert_int_equal(girdle_placement_new(NULL, stones, (uint32_t)stones_count, records, records_count, &placement),
                     GIRDLE_OK);
    assert_int_equal(girdle_placement_overlaps(NULL, placement, pairs, 2000, &count), GIRDLE_OK);
    for (int64_t a = 0; a < (int64_t)records_count; a++)
      for (int64_t b = a + 1; b < (int64_t)records_count; b++) {
        if (test_gap(placement, a, b) >= -TOLERANCE) continue;
        assert_true(found < count);
        assert_int_equal(pairs[found].first, a);
        assert_int_equal(pairs[found].second, b);
        assert_near(pairs[found].depth_mm, -test_gap(placement, a, b), 1e-9);
        found++;
      }
    assert_int_equal(found, count);
    girdle_placement_free(placement);
  }
}

static void placement_overlaps_writes_the_first_that_fit(void **state) {
  uint64_t random = 6, count, again;
  girdle_placement *placement = random_placement(&random, 400, 60);
  girdle_overlap *all = calloc(100000, sizeof *all), few[10];
  (void)state;
  assert_int_equal(girdle_placement_overlaps(NULL, placement, all, 100000, &count), GIRDLE_OK);
  assert_int_equal(girdle_placement_overlaps(NULL, placement, few, 10, &again), GIRDLE_OK);
  assert_int_equal(count, again);
  assert_true(count > 100);
  assert_memory_equal(all, few, sizeof few);
  assert_int_equal(girdle_placement_overlaps(NULL, placement, NULL, 0, &again), GIRDLE_OK);
  assert_int_equal(count, again);
  free(all);
  girdle_placement_free(placement);
}

/* Two long ovals side by side are clear of each other though the circles about them are not; end to end they overlap.
 */
static void placement_overlaps_knows_true_outlines(void **state) {
  girdle_stone_spec spec;
  girdle_stone oval;
  uint64_t count;
  girdle_placement *placement = NULL;
  girdle_placed beside[2] = {{0, 0, 0, 0, 0}, {0, 4.1, 0, 0, 0}}, across[2] = {{0, 0, 0, 0, 0}, {0, 4.1, 90, 0, 0}};
  girdle_overlap pair;
  (void)state;
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = "4 mm";
  spec.outline = GIRDLE_OVAL;
  spec.length_ratio = 2;
  assert_int_equal(girdle_stone_make(NULL, &spec, &oval), GIRDLE_OK);
  assert_int_equal(girdle_placement_new(NULL, &oval, 1, beside, 2, &placement), GIRDLE_OK);
  assert_int_equal(girdle_placement_overlaps(NULL, placement, &pair, 1, &count), GIRDLE_OK);
  assert_int_equal(count, 0);
  girdle_placement_free(placement);
  assert_int_equal(girdle_placement_new(NULL, &oval, 1, across, 2, &placement), GIRDLE_OK);
  assert_int_equal(girdle_placement_overlaps(NULL, placement, &pair, 1, &count), GIRDLE_OK);
  assert_int_equal(count, 1);
  assert_near(pair.depth_mm, 2 + 4 - 4.1, 0.01);
  girdle_placement_free(placement);
}

static void edit_refuses_by_name(void **state) {
  girdle_stone stone = test_stone("ss20");
  girdle_placed record = {0, 0, 0, 0, 0};
  girdle_placement *from = NULL, *out = NULL;
  girdle_notes notes = {0};
  test_call test;
  (void)state;
  assert_int_equal(girdle_placement_new(NULL, &stone, 1, &record, 1, &from), GIRDLE_OK);
  test_begin(&test);
#define REFUSES(name, ask)                      \
  assert_status(&test, (ask), GIRDLE_ARGUMENT); \
  assert_string_equal(test.error.field, name);  \
  assert_null(out);                             \
  test_again(&test)
  REFUSES("x", girdle_placement_mirrored(&test.call, from, NAN, &out));
  REFUSES("x", girdle_placement_folded(&test.call, from, 1e9, 0.1, &out));
  REFUSES("snap", girdle_placement_folded(&test.call, from, 1, -0.1, &out));
  REFUSES("dx", girdle_placement_moved(&test.call, from, INFINITY, 0, &out));
  REFUSES("dy", girdle_placement_moved(&test.call, from, 0, NAN, &out));
  REFUSES("turn", girdle_placement_turned(&test.call, from, 1e7, &out));
  REFUSES("gap", girdle_placement_clear_of(&test.call, from, from, -1, &out));
  REFUSES("struct_bytes", girdle_placement_notes(&test.call, from, &notes));
  record.y_mm = INFINITY;
  REFUSES("y", girdle_placement_new(&test.call, &stone, 1, &record, 1, &out));
  record.y_mm = 0;
  record.turn_deg = (float)NAN;
  REFUSES("turn", girdle_placement_new(&test.call, &stone, 1, &record, 1, &out));
  stone.diameter_mm[GIRDLE_NOMINAL] = 0;
  REFUSES("diameter", girdle_placement_new(&test.call, &stone, 1, &record, 0, &out));
#undef REFUSES
  assert_int_equal(test.live_bytes, 0);
  girdle_placement_free(from);
}

/* What has no stones can be joined, copied and looked at. */
static void edit_takes_empty_placements(void **state) {
  girdle_placement *none = NULL, *copy = NULL, *joined = NULL;
  (void)state;
  assert_int_equal(girdle_placement_new(NULL, NULL, 0, NULL, 0, &none), GIRDLE_OK);
  assert_int_equal(girdle_placement_copy(NULL, none, &copy), GIRDLE_OK);
  assert_int_equal(girdle_placement_joined(NULL, none, copy, &joined), GIRDLE_OK);
  assert_int_equal(test_count(joined), 0);
  girdle_placement_free(none);
  girdle_placement_free(copy);
  girdle_placement_free(joined);
}

/* Stones are numbered in 16 bits, rows too. */
static void placement_joined_refuses_more_than_it_can_number(void **state) {
  enum { EACH = 40000 };
  girdle_stone *stones = calloc(EACH, sizeof *stones), one = test_stone("ss20");
  girdle_placed high = {0, 0, 0, 0, UINT16_MAX};
  girdle_placement *made[2] = {NULL}, *joined = NULL, *row = NULL;
  test_call test;
  (void)state;
  for (int half = 0; half < 2; half++) {
    for (int i = 0; i < EACH; i++) {
      stones[i] = one;
      stones[i].diameter_mm[GIRDLE_NOMINAL] = 1 + 1e-4 * (i + half * EACH);
    }
    assert_int_equal(girdle_placement_new(NULL, stones, EACH, NULL, 0, &made[half]), GIRDLE_OK);
  }
  test_begin(&test);
  assert_status(&test, girdle_placement_joined(&test.call, made[0], made[1], &joined), GIRDLE_LIMIT);
  assert_string_equal(test.error.field, "stones");
  assert_int_equal(girdle_placement_new(NULL, &one, 1, &high, 1, &row), GIRDLE_OK);
  assert_status(&test, girdle_placement_joined(test_again(&test), row, row, &joined), GIRDLE_LIMIT);
  assert_string_equal(test.error.field, "rows");
  assert_null(joined);
  assert_int_equal(test.live_bytes, 0);
  girdle_placement_free(made[0]);
  girdle_placement_free(made[1]);
  girdle_placement_free(row);
  free(stones);
}

static int32_t edit_everything(girdle_call *call) {
  girdle_stone stones[3] = {test_stone("ss20"), test_stone("ss6"), test_stone("ss48")};
  girdle_placed records[6] = {{0, 0, 0, 0, 0}, {7, 3, 0, 1, 0},  {2, 1, 0, 2, 0},
                              {9, 9, 0, 1, 1}, {30, 1, 0, 0, 1}, {31, 1, 0, 1, 1}};
  girdle_placement *made[9] = {NULL};
  girdle_region *region = NULL;
  girdle_overlap pairs[3];
  uint64_t count;
  int32_t status = girdle_placement_new(call, stones, 3, records, 6, &made[0]);
  if (!status) status = girdle_region_from_text(call, "rectangle 5 mm x 5 mm", &region);
  if (!status) status = girdle_placement_copy(call, made[0], &made[1]);
  if (!status) status = girdle_placement_joined(call, made[0], made[1], &made[2]);
  if (!status) status = girdle_placement_mirrored(call, made[0], 3, &made[3]);
  if (!status) status = girdle_placement_folded(call, made[0], 3, 0.1, &made[4]);
  if (!status) status = girdle_placement_moved(call, made[0], 3, 1, &made[5]);
  if (!status) status = girdle_placement_turned(call, made[0], 30, &made[6]);
  if (!status) status = girdle_placement_without(call, made[0], region, &made[7]);
  if (!status) status = girdle_placement_clear_of(call, made[0], made[5], 0.1, &made[8]);
  if (!status) status = girdle_placement_overlaps(call, made[2], pairs, 3, &count);
  for (int i = 0; i < 9; i++)
    girdle_placement_free(made[i]);
  girdle_region_free(region);
  return status;
}

static void edit_leaks_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(edit_everything);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(placement_new_snaps_to_the_grid),
      cmocka_unit_test(placement_new_refuses_by_name),
      cmocka_unit_test(placement_mirrored_twice_is_the_identity),
      cmocka_unit_test(placement_moved_there_and_back_is_the_identity),
      cmocka_unit_test(placement_turned_by_quarters_is_exact),
      cmocka_unit_test(placement_folded_makes_both_halves),
      cmocka_unit_test(placement_joined_makes_equal_stones_one),
      cmocka_unit_test(placement_pieces_counts_equal_stones_wherever_they_stand),
      cmocka_unit_test(placement_without_drops_what_reaches_in),
      cmocka_unit_test(placement_clear_of_keeps_the_gap),
      cmocka_unit_test(placement_overlaps_finds_every_pair),
      cmocka_unit_test(placement_overlaps_writes_the_first_that_fit),
      cmocka_unit_test(placement_overlaps_knows_true_outlines),
      cmocka_unit_test(edit_refuses_by_name),
      cmocka_unit_test(edit_takes_empty_placements),
      cmocka_unit_test(placement_joined_refuses_more_than_it_can_number),
      cmocka_unit_test(edit_leaks_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
