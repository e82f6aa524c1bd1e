/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* Any bytes as what people write in a field: quantities, pieces, money, dates, sizes, stones, lines and areas. What is
 * read and has a writing of its own reads back the same. The first byte says which field. */

#include "fuzz.h"

#include "girdle/price.h"
#include "girdle/shape.h"
#include "girdle/stone.h"
#include "girdle/work.h"

static void read_quantity(int32_t kind, const char *text) {
  fuzz_call with;
  double value = 0;
  int32_t status = girdle_quantity_parse(fuzz_begin(&with, 1 << 16), text, kind, &value);
  fuzz_status(&with, status);
  if (!status) FUZZ_HOLDS(value - value == 0);
}

static void read_pieces(const char *text) {
  fuzz_call with;
  char again[64];
  int64_t pieces = 0, second = -1;
  int32_t status = girdle_pieces_parse(fuzz_begin(&with, 1 << 16), text, &pieces);
  fuzz_status(&with, status);
  if (status) return;
  FUZZ_HOLDS(pieces >= 0 && girdle_pieces_text(pieces, again, sizeof again) < sizeof again);
  FUZZ_HOLDS(girdle_pieces_parse(NULL, again, &second) == GIRDLE_OK && second == pieces);
}

static void read_money(int32_t exponent, const char *text) {
  fuzz_call with;
  char again[64];
  girdle_currency currency = {"EUR", 0};
  int64_t minor = 0, second = -1;
  int32_t status;
  currency.exponent = exponent;
  status = girdle_money_parse(fuzz_begin(&with, 1 << 16), text, &currency, &minor);
  fuzz_status(&with, status);
  if (status) return;
  FUZZ_HOLDS(girdle_money_text(minor, &currency, 1, again, sizeof again) < sizeof again);
  FUZZ_HOLDS(girdle_money_parse(NULL, again, &currency, &second) == GIRDLE_OK && second == minor);
}

static void read_day(const char *text) {
  fuzz_call with;
  char again[64];
  int64_t day = 0, second = -1;
  int32_t status = girdle_date_parse(fuzz_begin(&with, 1 << 16), text, &day);
  fuzz_status(&with, status);
  if (status) return;
  girdle_date_text(day, again, sizeof again);
  FUZZ_HOLDS(girdle_date_parse(NULL, again, &second) == GIRDLE_OK && second == day);
}

static void read_stone(const char *text) {
  fuzz_call with;
  girdle_stone stone, second;
  char again[512];
  int32_t status = girdle_stone_parse(fuzz_begin(&with, 1 << 16), text, &stone);
  fuzz_status(&with, status);
  if (status) return;
  FUZZ_HOLDS(stone.diameter_mm[1] > 0 && girdle_stone_text(&stone, again, sizeof again) < sizeof again);
  FUZZ_HOLDS(girdle_stone_parse(NULL, again, &second) == GIRDLE_OK && girdle_stone_equal(&stone, &second));
}

static void read_size(const char *text) {
  fuzz_call with;
  girdle_size size;
  int32_t status = girdle_size_parse(fuzz_begin(&with, 1 << 16), text, &size);
  fuzz_status(&with, status);
  if (!status) FUZZ_HOLDS(size.diameter_mm[0] <= size.diameter_mm[1] && size.diameter_mm[1] <= size.diameter_mm[2]);
}

static void read_shapes(const char *text) {
  fuzz_call with;
  girdle_path *path = NULL;
  girdle_region *region = NULL;
  int32_t status = girdle_path_from_text(fuzz_begin(&with, 1 << 16), text, &path);
  fuzz_status(&with, status);
  if (!status) FUZZ_HOLDS(girdle_path_length_mm(path) > 0);
  status = girdle_region_from_text(fuzz_begin(&with, 1 << 16), text, &region);
  fuzz_status(&with, status);
  if (!status) FUZZ_HOLDS(girdle_region_area_mm2(region) >= 0);
  girdle_path_free(path);
  girdle_region_free(region);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  char text[600];
  int kind;
  if (size < 1 || size > sizeof text) return 0;
  kind = data[0] % (GIRDLE_QUANTITY_END + 10);
  memcpy(text, data + 1, size - 1);
  text[size - 1] = '\0';
  if (kind < GIRDLE_QUANTITY_END) read_quantity(kind, text);
  kind -= GIRDLE_QUANTITY_END;
  if (kind >= 0 && kind <= 4) read_money(kind, text);
  if (kind == 5) read_pieces(text);
  if (kind == 6) read_day(text);
  if (kind == 7) read_stone(text);
  if (kind == 8) read_size(text);
  if (kind == 9) read_shapes(text);
  return 0;
}
