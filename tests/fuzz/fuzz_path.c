/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* Any bytes as path data: what is read has a length, is written so that it reads back equal, and may be set off, inset
 * and asked for points. The first byte says how far off. */

#include "fuzz.h"

#include "girdle/shape.h"

static void write_and_read(const girdle_path *path) {
  girdle_path *again = NULL;
  uint64_t bytes = girdle_path_text(path, NULL, 0);
  char *text = malloc((size_t)bytes + 1), *second = malloc((size_t)bytes + 1);
  if (!text || !second) abort();
  girdle_path_text(path, text, bytes + 1);
  FUZZ_HOLDS(girdle_path_parse(NULL, text, bytes, &again) == GIRDLE_OK);
  FUZZ_HOLDS(girdle_path_text(again, second, bytes + 1) == bytes && strcmp(text, second) == 0);
  girdle_path_free(again);
  free(second);
  free(text);
}

static void ask_for_points(const girdle_path *path, double length_mm) {
  fuzz_call with;
  girdle_call *call = fuzz_begin(&with, 1 << 16);
  girdle_point_on point;
  for (int part = 0; part <= 4; part++) {
    int32_t status = girdle_path_at(call, path, length_mm * part / 4, &point);
    fuzz_status(&with, status);
    if (!status) FUZZ_HOLDS(point.x_mm == point.x_mm && point.y_mm == point.y_mm);
  }
}

static void set_off(const girdle_path *path, double distance_mm) {
  fuzz_call with;
  girdle_path *beside = NULL;
  girdle_region *region = NULL, *inner = NULL;
  int32_t status = girdle_path_offset(fuzz_begin(&with, 1 << 16), path, distance_mm, &beside);
  fuzz_status(&with, status);
  if (!status) FUZZ_HOLDS(girdle_path_length_mm(beside) >= 0);
  status = girdle_region_new(fuzz_begin(&with, 1 << 16), path, GIRDLE_EVENODD, &region);
  fuzz_status(&with, status);
  if (!status) {
    FUZZ_HOLDS(girdle_region_area_mm2(region) >= 0);
    status = girdle_region_inset(fuzz_begin(&with, 1 << 16), region, distance_mm, &inner);
    fuzz_status(&with, status);
  }
  girdle_region_free(inner);
  girdle_region_free(region);
  girdle_path_free(beside);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  fuzz_call with;
  girdle_path *path = NULL;
  int32_t status;
  if (size < 2 || size > 2000) return 0;
  status = girdle_path_parse(fuzz_begin(&with, 1 << 20), (const char *)data + 1, size - 1, &path);
  fuzz_status(&with, status);
  if (status) return 0;
  FUZZ_HOLDS(girdle_path_length_mm(path) > 0);
  write_and_read(path);
  ask_for_points(path, girdle_path_length_mm(path));
  set_off(path, (data[0] + 1) / 16.0);
  girdle_path_free(path);
  return 0;
}
