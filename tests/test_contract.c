/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

#include "girdle/host.h"
#include "girdle/paper.h"

/* What holds for all rooms alike: structs that begin with their own size, and handles that may be NULL when freed. */

/* ---- structs of callers older or newer than the library */

typedef struct sized {
  const char *name;
  void (*init)(void *at, uint32_t bytes);
  uint32_t bytes;
} sized;

static void any_girdle_band_options_init(void *at, uint32_t bytes) {
  girdle_band_options_init(at, bytes);
}
static void any_girdle_between_options_init(void *at, uint32_t bytes) {
  girdle_between_options_init(at, bytes);
}
static void any_girdle_calendar_options_init(void *at, uint32_t bytes) {
  girdle_calendar_options_init(at, bytes);
}
static void any_girdle_call_init(void *at, uint32_t bytes) {
  girdle_call_init(at, bytes);
}
static void any_girdle_cover_options_init(void *at, uint32_t bytes) {
  girdle_cover_options_init(at, bytes);
}
static void any_girdle_error_init(void *at, uint32_t bytes) {
  girdle_error_init(at, bytes);
}
static void any_girdle_fade_options_init(void *at, uint32_t bytes) {
  girdle_fade_options_init(at, bytes);
}
static void any_girdle_grade_options_init(void *at, uint32_t bytes) {
  girdle_grade_options_init(at, bytes);
}
static void any_girdle_host_options_init(void *at, uint32_t bytes) {
  girdle_host_options_init(at, bytes);
}
static void any_girdle_job_head_init(void *at, uint32_t bytes) {
  girdle_job_head_init(at, bytes);
}
static void any_girdle_motif_options_init(void *at, uint32_t bytes) {
  girdle_motif_options_init(at, bytes);
}
static void any_girdle_opening_init(void *at, uint32_t bytes) {
  girdle_opening_init(at, bytes);
}
static void any_girdle_order_options_init(void *at, uint32_t bytes) {
  girdle_order_options_init(at, bytes);
}
static void any_girdle_print_options_init(void *at, uint32_t bytes) {
  girdle_print_options_init(at, bytes);
}
static void any_girdle_quote_input_init(void *at, uint32_t bytes) {
  girdle_quote_input_init(at, bytes);
}
static void any_girdle_quote_rates_init(void *at, uint32_t bytes) {
  girdle_quote_rates_init(at, bytes);
}
static void any_girdle_quote_self_input_init(void *at, uint32_t bytes) {
  girdle_quote_self_input_init(at, bytes);
}
static void any_girdle_run_options_init(void *at, uint32_t bytes) {
  girdle_run_options_init(at, bytes);
}
static void any_girdle_scatter_options_init(void *at, uint32_t bytes) {
  girdle_scatter_options_init(at, bytes);
}
static void any_girdle_sheet_options_init(void *at, uint32_t bytes) {
  girdle_sheet_options_init(at, bytes);
}
static void any_girdle_stone_spec_init(void *at, uint32_t bytes) {
  girdle_stone_spec_init(at, bytes);
}
static void any_girdle_tables_options_init(void *at, uint32_t bytes) {
  girdle_tables_options_init(at, bytes);
}
static void any_girdle_weight_options_init(void *at, uint32_t bytes) {
  girdle_weight_options_init(at, bytes);
}
static void any_girdle_work_rates_init(void *at, uint32_t bytes) {
  girdle_work_rates_init(at, bytes);
}
static void any_girdle_zone_init(void *at, uint32_t bytes) {
  girdle_zone_init(at, bytes);
}

#define SIZED(type) \
  { "girdle_" #type, any_girdle_##type##_init, sizeof(girdle_##type) }
static const sized structs[] = {
    SIZED(band_options),
    SIZED(between_options),
    SIZED(calendar_options),
    SIZED(call),
    SIZED(cover_options),
    SIZED(error),
    SIZED(fade_options),
    SIZED(grade_options),
    SIZED(host_options),
    SIZED(job_head),
    SIZED(motif_options),
    SIZED(opening),
    SIZED(order_options),
    SIZED(print_options),
    SIZED(quote_input),
    SIZED(quote_rates),
    SIZED(quote_self_input),
    SIZED(run_options),
    SIZED(scatter_options),
    SIZED(sheet_options),
    SIZED(stone_spec),
    SIZED(tables_options),
    SIZED(weight_options),
    SIZED(work_rates),
    SIZED(zone),
};

enum { STRUCTS = sizeof structs / sizeof structs[0], ROOM = 4096, UNTOUCHED = 0xA5 };

/* Fills `bytes` and looks that no byte behind them was touched. */
static void init_within(const sized *one, unsigned char *room, uint32_t bytes) {
  uint32_t told;
  memset(room, UNTOUCHED, ROOM);
  one->init(room, bytes);
  for (uint32_t i = bytes; i < ROOM; i++)
    if (room[i] != UNTOUCHED) fail_msg("%s: byte %u of %u was written", one->name, i, bytes);
  memcpy(&told, room, sizeof told);
  if (told != bytes) fail_msg("%s: says %u bytes, not %u", one->name, told, bytes);
}

static void init_fills_an_older_callers_bytes_alone(void **state) {
  static unsigned char room[ROOM], whole[ROOM];
  (void)state;
  for (size_t i = 0; i < STRUCTS; i++) {
    init_within(&structs[i], whole, structs[i].bytes);
    for (uint32_t bytes = 8; bytes < structs[i].bytes; bytes += 8) {
      init_within(&structs[i], room, bytes);
      if (memcmp(room + 4, whole + 4, bytes - 4) != 0)
        fail_msg("%s: other defaults at %u bytes", structs[i].name, bytes);
    }
  }
}

static void init_zeroes_what_a_newer_caller_has_more(void **state) {
  static unsigned char room[ROOM];
  (void)state;
  for (size_t i = 0; i < STRUCTS; i++) {
    uint32_t bytes = structs[i].bytes;
    init_within(&structs[i], room, bytes + 64);
    for (uint32_t at = bytes; at < bytes + 64; at++)
      assert_int_equal(room[at], 0);
  }
}

/* What an older header could have held: the gap, and nothing after it. */
typedef struct older_run_options {
  uint32_t struct_bytes, flags;
  const girdle_stone *stones;
  uint64_t stone_count;
  double gap_mm;
} older_run_options;

static void run_options_of_an_older_caller_are_read(void **state) {
  test_call test;
  girdle_call *call = test_begin(&test);
  girdle_stone stone;
  girdle_run_options whole, *read_as;
  older_run_options older;
  girdle_path *path;
  girdle_placement *with_all, *with_few;
  (void)state;
  assert_ok(&test, girdle_stone_parse(call, "ss20 black", &stone));
  assert_ok(&test, girdle_path_from_text(call, "loop 34 cm", &path));
  girdle_run_options_init(&whole, sizeof whole);
  read_as = (void *)&older;
  girdle_run_options_init(read_as, sizeof older);
  whole.stones = older.stones = &stone;
  whole.stone_count = older.stone_count = 1;
  whole.gap_mm = older.gap_mm = 0.5;
  assert_ok(&test, girdle_run(call, path, &whole, &with_all));
  assert_ok(&test, girdle_run(call, path, read_as, &with_few));
  assert_int_equal(girdle_placement_view(with_few, NULL, NULL, NULL),
                   girdle_placement_view(with_all, NULL, NULL, NULL));
  girdle_placement_free(with_few);
  girdle_placement_free(with_all);
  girdle_path_free(path);
  assert_int_equal(test.live_bytes, 0);
}

/* ---- handles */

static void free_takes_null(void **state) {
  (void)state;
  girdle_calendar_free(NULL);
  girdle_club_free(NULL);
  girdle_drawing_free(NULL);
  girdle_host_free(NULL);
  girdle_job_free(NULL);
  girdle_order_free(NULL);
  girdle_path_free(NULL);
  girdle_placement_free(NULL);
  girdle_recipe_sheet_free(NULL);
  girdle_reckoning_free(NULL);
  girdle_region_free(NULL);
  girdle_solid_free(NULL);
  girdle_table_free(NULL);
  girdle_tally_free(NULL);
  girdle_zone_rows_free(NULL);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(init_fills_an_older_callers_bytes_alone),
      cmocka_unit_test(init_zeroes_what_a_newer_caller_has_more),
      cmocka_unit_test(run_options_of_an_older_caller_are_read),
      cmocka_unit_test(free_takes_null),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
