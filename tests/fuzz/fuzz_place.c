/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* Every verb with hostile numbers: each byte is a number of a list that holds the awkward ones. What is placed has
 * records that are numbers, stones that are its own, and no stone upon another where the verb promises it. */

#include "fuzz.h"

#include <float.h>
#include <math.h>

#include "girdle/place.h"

typedef struct bytes {
  const uint8_t *at, *end;
} bytes;

static uint8_t next_byte(bytes *from) {
  return from->at < from->end ? *from->at++ : 0;
}

static double next_number(bytes *from) {
  static const double awkward[] = {0,   -0.0, NAN,  INFINITY, -INFINITY, DBL_MIN,  DBL_MAX, -1,    1e-9,
                                   1e9, 1e12, 1e-4, 1e-5,     2e-4,      5e-5,     -1e-9,   360,   -360,
                                   90,  180,  1e7,  1e300,    5e-324,    0.123456, 1e-300,  -1e300};
  uint8_t which = next_byte(from);
  return which < sizeof awkward / sizeof awkward[0] ? awkward[which] : (which - 26) / 4.0;
}

static int64_t next_count(bytes *from) {
  static const int64_t awkward[] = {INT64_MAX, INT64_MIN, -1, 100000001, 1000000};
  uint8_t which = next_byte(from);
  return which < 5 ? awkward[which] : which < 128 ? 0 : which - 128;
}

static uint64_t next_stones(bytes *from, girdle_stone stones[4]) {
  static const char *const kinds[] = {"ss20",          "ss16 gold", "ss34",  "pp1", "5 mm",       "8 mm pear",
                                      "10 mm navette", "ss48",      "50 mm", "ss5", "6 mm heart", "ss10 blue sewn"};
  uint64_t count = next_byte(from) % 5;
  for (uint64_t at = 0; at < count; at++)
    FUZZ_HOLDS(!girdle_stone_parse(NULL, kinds[next_byte(from) % (sizeof kinds / sizeof kinds[0])], &stones[at]));
  return count;
}

static girdle_path *next_path(bytes *from) {
  static const char *const shapes[] = {"M0 0L60 0",
                                       "M0 0H40V30H0Z",
                                       "M0 0C60 40 -20 40 40 0",
                                       "M0 0A20 20 0 1 1 0 0.001",
                                       "M0 0L30 0L0 0.01L30 0.02",
                                       "M0 0L1e-9 0",
                                       "M-1e9 0L1e9 1",
                                       "M0 0Q10 30 20 0T40 0M50 0h20v20z",
                                       "M0 0h60v60h-60zM10 10v20h20v-20z",
                                       "M0 0L0 50L0.0001 0"};
  girdle_path *path = NULL;
  const char *data = shapes[next_byte(from) % (sizeof shapes / sizeof shapes[0])];
  girdle_path_parse(NULL, data, strlen(data), &path);
  return path;
}

static girdle_region *next_region(bytes *from) {
  girdle_region *region = NULL;
  girdle_path *path = next_path(from);
  if (path) girdle_region_new(NULL, path, next_byte(from) % 2, &region);
  girdle_path_free(path);
  return region;
}

static void look_at(const fuzz_call *with, int32_t status, girdle_placement *placed, int apart) {
  const girdle_placed *records = NULL;
  uint32_t stones = 0;
  int64_t count;
  uint64_t pairs = 0;
  fuzz_status(with, status);
  FUZZ_HOLDS((status == GIRDLE_OK) == (placed != NULL));
  if (!placed) return;
  count = girdle_placement_view(placed, &records, NULL, &stones);
  for (int64_t at = 0; at < count; at++)
    FUZZ_HOLDS(isfinite(records[at].x_mm) && isfinite(records[at].y_mm) && records[at].turn_deg >= 0 &&
               records[at].turn_deg < 360 && records[at].stone < stones);
  if (apart && count < 5000)
    FUZZ_HOLDS(girdle_placement_overlaps(NULL, placed, NULL, 0, &pairs) != GIRDLE_OK || pairs == 0);
  girdle_placement_free(placed);
}

enum { STEPS = 1 << 17 };

/* The fields that every verb's options have. */
#define NEXT_COMMON(options, from, kinds)             \
  do {                                                \
    (options).flags = next_byte(from) % 32;           \
    (options).stones = kinds;                         \
    (options).stone_count = next_stones(from, kinds); \
    (options).gap_mm = next_number(from);             \
    (options).count = next_count(from);               \
  } while (0)

static void fuzz_lines(bytes *from, int band) {
  fuzz_call with;
  girdle_stone stones[4];
  girdle_placement *placed = NULL;
  girdle_stretch leave[2];
  uint64_t rows[2];
  girdle_path *path = next_path(from);
  girdle_run_options run;
  girdle_band_options many;
  if (!path) return;
  girdle_run_options_init(&run, sizeof run);
  girdle_band_options_init(&many, sizeof many);
  NEXT_COMMON(run, from, stones);
  run.corner_deg = next_byte(from) < 200 ? 30 : next_number(from);
  run.turn_deg = next_byte(from) < 128 ? NAN : next_number(from);
  run.leave = leave;
  run.leave_count = next_byte(from) % 3;
  for (uint64_t at = 0; at < run.leave_count; at++)
    leave[at] = (girdle_stretch){next_number(from), next_number(from)};
  many.flags = run.flags, many.stones = stones, many.stone_count = run.stone_count, many.gap_mm = run.gap_mm;
  many.count = run.count, many.leave = leave, many.leave_count = run.leave_count;
  many.rows = 2, many.row_counts = rows, many.side = next_byte(from) % 4;
  many.row_gap_mm = next_number(from);
  rows[0] = next_byte(from) % 3, rows[1] = run.stone_count - rows[0];
  look_at(&with,
          band ? girdle_band(fuzz_begin(&with, STEPS), path, &many, &placed)
               : girdle_run(fuzz_begin(&with, STEPS), path, &run, &placed),
          placed, 0);
  girdle_path_free(path);
}

static void fuzz_cover(bytes *from) {
  fuzz_call with;
  girdle_stone stones[4];
  girdle_placement *placed = NULL;
  girdle_region *region = next_region(from);
  girdle_cover_options options;
  if (!region) return;
  girdle_cover_options_init(&options, sizeof options);
  NEXT_COMMON(options, from, stones);
  options.margin_mm = next_number(from);
  options.turn_deg = next_byte(from) < 128 ? NAN : next_number(from);
  options.setting = next_byte(from) % 4;
  look_at(&with, girdle_cover(fuzz_begin(&with, STEPS), region, &options, &placed), placed, 1);
  girdle_region_free(region);
}

static void fuzz_scatter(bytes *from) {
  fuzz_call with;
  girdle_stone stones[4];
  double weights[4];
  girdle_placement *placed = NULL;
  girdle_region *region = next_region(from);
  girdle_scatter_options options;
  if (!region) return;
  girdle_scatter_options_init(&options, sizeof options);
  NEXT_COMMON(options, from, stones);
  options.margin_mm = next_number(from);
  if (next_byte(from) < 128) options.weights = weights;
  for (int at = 0; at < 4; at++)
    weights[at] = next_number(from);
  options.seed = next_byte(from);
  look_at(&with, girdle_scatter(fuzz_begin(&with, STEPS), region, &options, &placed), placed, 1);
  girdle_region_free(region);
}

static void fuzz_grade(bytes *from) {
  fuzz_call with;
  girdle_stone stones[4];
  girdle_placement *placed = NULL;
  girdle_region *region = next_region(from);
  girdle_path *edge = next_path(from);
  girdle_grade_options options;
  girdle_grade_options_init(&options, sizeof options);
  NEXT_COMMON(options, from, stones);
  options.margin_mm = next_number(from);
  options.depth_mm = next_number(from);
  options.edge = edge;
  options.seed = next_byte(from);
  if (region && edge) look_at(&with, girdle_grade(fuzz_begin(&with, STEPS), region, &options, &placed), placed, 1);
  girdle_region_free(region);
  girdle_path_free(edge);
}

static void fuzz_fade(bytes *from) {
  fuzz_call with;
  girdle_stone stones[4];
  girdle_placement *placed = NULL;
  girdle_region *region = next_region(from);
  girdle_fade_options options;
  if (!region) return;
  girdle_fade_options_init(&options, sizeof options);
  NEXT_COMMON(options, from, stones);
  options.margin_mm = next_number(from);
  options.from_x_mm = next_number(from), options.from_y_mm = next_number(from);
  options.to_x_mm = next_number(from), options.to_y_mm = next_number(from);
  look_at(&with, girdle_fade(fuzz_begin(&with, STEPS), region, &options, &placed), placed, 1);
  girdle_region_free(region);
}

/* A few stones in places of the input's own, for the verbs that start from some. */
static girdle_placement *next_placement(bytes *from) {
  girdle_stone stones[4];
  girdle_placed records[6];
  girdle_placement *placed = NULL;
  uint64_t count = next_stones(from, stones), many = next_byte(from) % 7;
  if (!count) return NULL;
  for (uint64_t at = 0; at < many; at++)
    records[at] = (girdle_placed){next_number(from), next_number(from), (float)next_number(from),
                                  (uint16_t)(next_byte(from) % 5), next_byte(from)};
  girdle_placement_new(NULL, stones, (uint32_t)count, records, many, &placed);
  return placed;
}

static void fuzz_between(bytes *from) {
  fuzz_call with;
  girdle_stone stones[4];
  girdle_placement *placed = NULL, *around = next_placement(from);
  girdle_region *region = next_region(from);
  girdle_between_options options;
  girdle_between_options_init(&options, sizeof options);
  NEXT_COMMON(options, from, stones);
  options.margin_mm = next_number(from);
  options.around = around;
  if (region && around) look_at(&with, girdle_between(fuzz_begin(&with, STEPS), region, &options, &placed), placed, 1);
  girdle_region_free(region);
  girdle_placement_free(around);
}

static void fuzz_motif(bytes *from) {
  fuzz_call with;
  girdle_motif_place at[2];
  girdle_placement *placed = NULL, *group = next_placement(from);
  girdle_path *path = next_path(from);
  girdle_motif_options options;
  girdle_motif_options_init(&options, sizeof options);
  options.flags = next_byte(from) % 32;
  options.gap_mm = next_number(from);
  options.count = next_count(from);
  for (int which = 0; which < 2; which++)
    at[which] = (girdle_motif_place){next_number(from), next_number(from), next_number(from), next_number(from)};
  options.at = at;
  options.at_count = next_byte(from) % 3;
  if (!options.at_count) options.along = path;
  if (group && path) look_at(&with, girdle_motif(fuzz_begin(&with, STEPS), group, &options, &placed), placed, 0);
  girdle_path_free(path);
  girdle_placement_free(group);
}

static void fuzz_edits(bytes *from) {
  fuzz_call with;
  girdle_call *call = fuzz_begin(&with, STEPS);
  girdle_placement *first = next_placement(from), *second = next_placement(from), *made = NULL;
  double x = next_number(from), y = next_number(from);
  int32_t status = GIRDLE_OK;
  if (first && second) {
    int which = next_byte(from) % 6;
    if (which == 0) status = girdle_placement_joined(call, first, second, &made);
    if (which == 1) status = girdle_placement_mirrored(call, first, x, &made);
    if (which == 2) status = girdle_placement_folded(call, first, x, y, &made);
    if (which == 3) status = girdle_placement_moved(call, first, x, y, &made);
    if (which == 4) status = girdle_placement_turned(call, first, x, &made);
    if (which == 5) status = girdle_placement_clear_of(call, first, second, x, &made);
    look_at(&with, status, made, 0);
  }
  girdle_placement_free(first);
  girdle_placement_free(second);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  bytes from = {data + 1, data + size};
  if (size < 2) return 0;
  switch (data[0] % 9) {
    case 0:
      fuzz_lines(&from, 0);
      break;
    case 1:
      fuzz_lines(&from, 1);
      break;
    case 2:
      fuzz_cover(&from);
      break;
    case 3:
      fuzz_scatter(&from);
      break;
    case 4:
      fuzz_grade(&from);
      break;
    case 5:
      fuzz_fade(&from);
      break;
    case 6:
      fuzz_between(&from);
      break;
    case 7:
      fuzz_motif(&from);
      break;
    default:
      fuzz_edits(&from);
      break;
  }
  return 0;
}
