/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_internal.h"
#include "place_support.h"

/* Overlapping stones, held against all pairs by brute force. */

enum { MOST_PAIRS = 20000 };

typedef struct scene {
  girdle_stone stones[12];
  girdle_placed records[900];
  uint64_t stone_count, count;
  girdle_placement *placement;
} scene;

typedef struct range {
  double least, most, side;
  uint64_t stones;
} range;

/* Sizes spread evenly over their logarithm; the last of the palette stands nowhere. */
static void set_scene(scene *on, uint64_t *random, const range *of) {
  memset(on, 0, sizeof *on);
  on->stone_count = 2 + girdle_random_below(random, 11);
  on->count = 1 + girdle_random_below(random, of->stones);
  for (uint64_t i = 0; i < on->stone_count; i++)
    on->stones[i] = test_round(of->least * pow(of->most / of->least, girdle_random_unit(random)));
  for (uint64_t i = 0; i < on->count; i++) {
    on->records[i].x_mm = girdle_place_snapped(girdle_random_unit(random) * of->side);
    on->records[i].y_mm = girdle_place_snapped(girdle_random_unit(random) * of->side);
    on->records[i].stone = (uint16_t)girdle_random_below(random, on->stone_count - 1);
  }
  assert_int_equal(
      girdle_placement_new(NULL, on->stones, (uint32_t)on->stone_count, on->records, on->count, &on->placement),
      GIRDLE_OK);
}

static uint64_t pairs_by_force(const scene *on, girdle_overlap *pairs) {
  uint64_t found = 0;
  for (uint64_t a = 0; a < on->count; a++)
    for (uint64_t b = a + 1; b < on->count; b++) {
      double gap = test_gap(on->placement, (int64_t)a, (int64_t)b);
      girdle_overlap pair = {a, b, -gap};
      if (gap >= -TOLERANCE) continue;
      assert_in_range(found, 0, MOST_PAIRS - 1);
      pairs[found++] = pair;
    }
  return found;
}

static void check_pairs(const scene *on) {
  static girdle_overlap expected[MOST_PAIRS], pairs[MOST_PAIRS];
  uint64_t count = pairs_by_force(on, expected), counted, listed, first;
  assert_int_equal(girdle_placement_overlaps(NULL, on->placement, NULL, 0, &counted), GIRDLE_OK);
  assert_int_equal(counted, count);
  assert_int_equal(girdle_placement_overlaps(NULL, on->placement, pairs, MOST_PAIRS, &listed), GIRDLE_OK);
  assert_int_equal(listed, count);
  for (uint64_t i = 0; i < count; i++) {
    assert_int_equal(pairs[i].first, expected[i].first);
    assert_int_equal(pairs[i].second, expected[i].second);
    assert_near(pairs[i].depth_mm, expected[i].depth_mm, 1e-9);
  }
  assert_int_equal(girdle_placement_overlaps(NULL, on->placement, pairs, 3, &first), GIRDLE_OK);
  assert_int_equal(first, count);
  for (uint64_t i = 0; i < count && i < 3; i++)
    assert_int_equal(pairs[i].second, expected[i].second);
}

static void overlaps_are_those_found_by_brute_force(void **state) {
  static const range ranges[] = {{2, 2, 60, 900},       {2, 7, 90, 900},   {1, 12, 200, 900},
                                 {0.5, 300, 3000, 900}, {2, 3, 5000, 900}, {0.2, 0.9, 0.5, 100} /* on one heap */};
  uint64_t random = 9;
  (void)state;
  for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++)
    for (int round = 0; round < 12; round++) {
      scene on;
      set_scene(&on, &random, &ranges[i]);
      check_pairs(&on);
      girdle_placement_free(on.placement);
    }
}

/* A row, a column and a single stone: grids one cell wide or high. */
static void overlaps_are_found_in_narrow_grids(void **state) {
  (void)state;
  for (int shape = 0; shape < 3; shape++) {
    scene on;
    memset(&on, 0, sizeof on);
    on.stones[0] = test_round(4);
    on.stone_count = 1;
    on.count = shape == 2 ? 1 : 200;
    for (uint64_t i = 0; i < on.count; i++) {
      on.records[i].x_mm = shape == 0 ? (double)i * 3.9 : 0;
      on.records[i].y_mm = shape == 1 ? (double)i * 3.9 : 0;
    }
    assert_int_equal(girdle_placement_new(NULL, on.stones, 1, on.records, on.count, &on.placement), GIRDLE_OK);
    check_pairs(&on);
    girdle_placement_free(on.placement);
  }
}

static void no_stones_overlap_nowhere(void **state) {
  girdle_stone stone = test_round(4);
  girdle_placement *placement = NULL;
  uint64_t count = 7;
  (void)state;
  assert_int_equal(girdle_placement_new(NULL, &stone, 1, NULL, 0, &placement), GIRDLE_OK);
  assert_int_equal(girdle_placement_overlaps(NULL, placement, NULL, 0, &count), GIRDLE_OK);
  assert_int_equal(count, 0);
  girdle_placement_free(placement);
}

int main(void) {
  const struct CMUnitTest tests[] = {cmocka_unit_test(overlaps_are_those_found_by_brute_force),
                                     cmocka_unit_test(overlaps_are_found_in_narrow_grids),
                                     cmocka_unit_test(no_stones_overlap_nowhere)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
