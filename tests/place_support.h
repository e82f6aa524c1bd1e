/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TESTS_PLACE_SUPPORT_H
#define GIRDLE_TESTS_PLACE_SUPPORT_H

/* Shapes and stones from text, and an oracle of placements that shares nothing with the engine: all pairs by brute
 * force, depth in a region by the shape room's exact distance to the true curve. */

#include "support.h"

#define TOLERANCE 2e-4

/* A call for what outlives it: malloc, and an error store. */
static inline girdle_call *test_plain(test_call *test) {
  test_begin(test);
  test->call.memory.resize = NULL;
  return &test->call;
}

static inline girdle_stone test_stone(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

static inline girdle_stone test_round(double diameter_mm) {
  girdle_stone stone = test_stone("ss20");
  for (int i = 0; i < 3; i++)
    stone.diameter_mm[i] = diameter_mm;
  snprintf(stone.size, sizeof stone.size, "%.3f mm", diameter_mm);
  return stone;
}

static inline girdle_region *test_region(const char *text) {
  girdle_region *region = NULL;
  assert_int_equal(girdle_region_from_text(NULL, text, &region), GIRDLE_OK);
  return region;
}

static inline girdle_path *test_path(const char *text) {
  girdle_path *path = NULL;
  assert_int_equal(girdle_path_from_text(NULL, text, &path), GIRDLE_OK);
  return path;
}

static inline const girdle_placed *test_records(const girdle_placement *placement, int64_t *count) {
  const girdle_placed *records;
  *count = girdle_placement_view(placement, &records, NULL, NULL);
  return records;
}

static inline int64_t test_count(const girdle_placement *placement) {
  return girdle_placement_view(placement, NULL, NULL, NULL);
}

static inline const girdle_stone *test_stone_of(const girdle_placement *placement, int64_t record) {
  const girdle_placed *records;
  const girdle_stone *stones;
  girdle_placement_view(placement, &records, &stones, NULL);
  return &stones[records[record].stone];
}

static inline double test_diameter(const girdle_placement *placement, int64_t record) {
  return test_stone_of(placement, record)->diameter_mm[GIRDLE_NOMINAL];
}

static inline girdle_notes test_notes(const girdle_placement *placement) {
  girdle_notes notes;
  notes.struct_bytes = sizeof notes;
  assert_int_equal(girdle_placement_notes(NULL, placement, &notes), GIRDLE_OK);
  return notes;
}

/* Clear fabric between two round stones. */
static inline double test_gap(const girdle_placement *placement, int64_t a, int64_t b) {
  const girdle_placed *records;
  girdle_placement_view(placement, &records, NULL, NULL);
  return hypot(records[a].x_mm - records[b].x_mm, records[a].y_mm - records[b].y_mm) -
         (test_diameter(placement, a) + test_diameter(placement, b)) / 2;
}

static inline double test_least_gap(const girdle_placement *placement) {
  double least = INFINITY;
  for (int64_t i = 0; i < test_count(placement); i++)
    for (int64_t k = 0; k < i; k++)
      least = fmin(least, test_gap(placement, i, k));
  return least;
}

/* Clear fabric between a stone's edge and the region's, the least of all. */
static inline double test_least_margin(const girdle_placement *placement, const girdle_region *region) {
  double least = INFINITY;
  int64_t count;
  const girdle_placed *records = test_records(placement, &count);
  for (int64_t i = 0; i < count; i++)
    least =
        fmin(least, girdle_region_depth_mm(region, records[i].x_mm, records[i].y_mm) - test_diameter(placement, i) / 2);
  return least;
}

static inline int64_t test_pieces(const girdle_placement *placement, uint16_t stone) {
  int64_t count, pieces = 0;
  const girdle_placed *records = test_records(placement, &count);
  for (int64_t i = 0; i < count; i++)
    pieces += records[i].stone == stone;
  return pieces;
}

static inline int test_same(const girdle_placement *a, const girdle_placement *b) {
  int64_t count, other;
  const girdle_placed *one = test_records(a, &count), *two = test_records(b, &other);
  if (count != other) return 0;
  for (int64_t i = 0; i < count; i++)
    if (one[i].x_mm != two[i].x_mm || one[i].y_mm != two[i].y_mm || one[i].turn_deg != two[i].turn_deg ||
        one[i].stone != two[i].stone || one[i].row != two[i].row)
      return 0;
  return 1;
}

static inline girdle_run_options test_run(const girdle_stone *stones, uint64_t count, double gap_mm) {
  girdle_run_options options;
  girdle_run_options_init(&options, sizeof options);
  options.stones = stones;
  options.stone_count = count;
  options.gap_mm = gap_mm;
  return options;
}

static inline girdle_cover_options test_cover(const girdle_stone *stones, uint64_t count, double gap_mm) {
  girdle_cover_options options;
  girdle_cover_options_init(&options, sizeof options);
  options.stones = stones;
  options.stone_count = count;
  options.gap_mm = gap_mm;
  return options;
}

static inline girdle_scatter_options test_scatter(const girdle_stone *stones, uint64_t count, double gap_mm) {
  girdle_scatter_options options;
  girdle_scatter_options_init(&options, sizeof options);
  options.stones = stones;
  options.stone_count = count;
  options.gap_mm = gap_mm;
  return options;
}

/* Ten thousand cases, a hundred thousand when GIRDLE_PROOF is set; `share` of them where one case costs more. */
static inline int64_t test_cases(double share) {
  return (int64_t)((getenv("GIRDLE_PROOF") ? 1e5 : 1e4) * share);
}

#endif
