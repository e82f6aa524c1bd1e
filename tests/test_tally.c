/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

/* `ones` records of the first stone, then `twos` of the second. */
static int32_t two_stones(girdle_call *call, int64_t ones, int64_t twos, girdle_placement **out) {
  girdle_stone stones[2] = {stone_of("ss20 black"), stone_of("ss16")};
  girdle_placed records[64];
  memset(records, 0, sizeof records);
  for (int64_t i = 0; i < ones + twos; i++) {
    records[i].x_mm = 10 * (double)i;
    records[i].stone = i >= ones;
  }
  return girdle_placement_new(call, stones, 2, records, (uint64_t)(ones + twos), out);
}

static void tally_add_counts_and_multiplies_by_times(void **state) {
  girdle_tally *tally;
  girdle_placement *placement;
  const girdle_tally_line *lines;
  girdle_stone black = stone_of("ss20 black");
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_tally_new(&test.call, &tally));
  assert_ok(&test, two_stones(&test.call, 7, 3, &placement));
  assert_ok(&test, girdle_tally_add(&test.call, tally, "A1", "cuffs", "left", 2, placement));
  assert_ok(&test, girdle_tally_add(&test.call, tally, "A1", "cuffs", "left", 1, placement));
  assert_ok(&test, girdle_tally_add(&test.call, tally, "A1", "cuffs", "right", 1, placement));
  lines = girdle_tally_lines(tally, &count);
  assert_int_equal(count, 4);
  assert_int_equal(lines[0].count, 21);
  assert_int_equal(lines[1].count, 9);
  assert_int_equal(lines[2].count, 7);
  assert_string_equal(lines[2].side, "right");
  assert_near(lines[0].mass_mg[GIRDLE_NOMINAL], 21 * black.mass_mg[GIRDLE_NOMINAL], 1e-9);
  assert_near(lines[0].covered_mm2, 21 * girdle_stone_footprint_mm2(&black), 1e-9);
  girdle_placement_free(placement);
  girdle_tally_free(tally);
  assert_int_equal(test.live_bytes, 0);
}

static void tally_add_leaves_out_stones_that_are_not_placed(void **state) {
  girdle_tally *tally;
  girdle_placement *placement;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_tally_new(&test.call, &tally));
  assert_ok(&test, two_stones(&test.call, 5, 0, &placement));
  assert_ok(&test, girdle_tally_add(&test.call, tally, "A1", "hem", "", 1, placement));
  girdle_tally_lines(tally, &count);
  assert_int_equal(count, 1);
  girdle_placement_free(placement);
  girdle_tally_free(tally);
}

static void tally_by_stone_puts_the_largest_first(void **state) {
  static const char *const expected[] = {"ss34 red", "ss20 black", "ss20 clear", "ss16 clear"};
  girdle_tally *tally, *sums;
  const girdle_tally_line *lines;
  girdle_stone stones[4];
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 4; i++)
    stones[i] = stone_of(expected[3 - i]);
  assert_ok(&test, girdle_tally_new(&test.call, &tally));
  for (int zone = 0; zone < 20; zone++) {
    char name[24];
    snprintf(name, sizeof name, "zone %d", zone);
    for (int i = 0; i < 4; i++)
      assert_ok(&test, girdle_tally_add_pieces(&test.call, tally, i % 2 ? "A1" : "B2", name,
                                               zone % 2 ? "front" : "back", &stones[i], zone + i));
  }
  assert_ok(&test, girdle_tally_by_stone(&test.call, tally, &sums));
  lines = girdle_tally_lines(sums, &count);
  assert_int_equal(count, 4);
  for (int i = 0; i < 4; i++) {
    char text[64];
    girdle_stone_text(&lines[i].stone, text, sizeof text);
    assert_string_equal(text, expected[i]);
    assert_int_equal(lines[i].count, 190 + 20 * (3 - i));
    assert_string_equal(lines[i].tag, "");
    assert_string_equal(lines[i].zone, "");
    assert_string_equal(lines[i].side, "");
  }
  girdle_tally_free(sums);
  girdle_tally_free(tally);
  assert_int_equal(test.live_bytes, 0);
}

/* Every order of adding comes to the same order of lines. */
static void tally_by_stone_sorts_whatever_came_first(void **state) {
  static const char *const expected[] = {"ss48 gold", "ss40 clear", "ss34 blue",  "ss34 red",   "ss30 clear",
                                         "ss20 aqua", "ss20 red",   "ss16 clear", "ss12 clear", "ss5 black"};
  uint64_t random = 21;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int round = 0; round < 200; round++) {
    int order[10];
    girdle_tally *tally, *sums;
    const girdle_tally_line *lines;
    uint64_t count;
    for (int i = 0; i < 10; i++)
      order[i] = i;
    for (int i = 9; i > 0; i--) {
      int k = (int)(test_random(&random) % (uint64_t)(i + 1)), kept = order[i];
      order[i] = order[k];
      order[k] = kept;
    }
    assert_ok(&test, girdle_tally_new(&test.call, &tally));
    for (int i = 0; i < 10; i++) {
      girdle_stone stone = stone_of(expected[order[i]]);
      assert_ok(&test, girdle_tally_add_pieces(&test.call, tally, "A1", "hem", "", &stone, 1 + order[i]));
    }
    assert_ok(&test, girdle_tally_by_stone(&test.call, tally, &sums));
    lines = girdle_tally_lines(sums, &count);
    assert_int_equal(count, 10);
    for (int i = 0; i < 10; i++) {
      char text[64];
      girdle_stone_text(&lines[i].stone, text, sizeof text);
      assert_string_equal(text, expected[i]);
      assert_int_equal(lines[i].count, 1 + i);
    }
    girdle_tally_free(sums);
    girdle_tally_free(tally);
  }
}

static void tally_add_all_refuses_whole(void **state) {
  girdle_tally *tally, *more;
  girdle_tally_line total;
  girdle_stone black = stone_of("ss20 black"), clear = stone_of("ss16");
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_tally_new(&test.call, &tally));
  assert_ok(&test, girdle_tally_new(&test.call, &more));
  assert_ok(&test, girdle_tally_add_pieces(&test.call, tally, "A1", "a", "", &black, 1000000000000));
  assert_ok(&test, girdle_tally_add_pieces(&test.call, more, "A1", "a", "", &black, 1));
  assert_ok(&test, girdle_tally_add_pieces(&test.call, more, "A1", "b", "", &clear, 5));
  assert_status(&test, girdle_tally_add_all(&test.call, tally, more), GIRDLE_LIMIT);
  girdle_tally_total(tally, &total);
  assert_int_equal(total.count, 1000000000000);
  girdle_tally_free(more);
  girdle_tally_free(tally);
}

static void tally_total_adds_all_lines(void **state) {
  girdle_tally *tally, *more;
  girdle_tally_line total, twice;
  girdle_stone black = stone_of("ss20 black"), clear = stone_of("ss16");
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_tally_new(&test.call, &tally));
  assert_ok(&test, girdle_tally_new(&test.call, &more));
  assert_ok(&test, girdle_tally_add_pieces(&test.call, tally, "A1", "a", "", &black, 144));
  assert_ok(&test, girdle_tally_add_pieces(&test.call, tally, "A2", "b", "", &clear, 40));
  girdle_tally_total(tally, &total);
  assert_int_equal(total.count, 184);
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    assert_near(total.mass_mg[i], 144 * black.mass_mg[i] + 40 * clear.mass_mg[i], 1e-9);
  assert_string_equal(total.stone.size, "");
  assert_ok(&test, girdle_tally_add_all(&test.call, more, tally));
  assert_ok(&test, girdle_tally_add_all(&test.call, more, tally));
  assert_ok(&test, girdle_tally_add_all(&test.call, more, more)); /* to itself as well */
  girdle_tally_total(more, &twice);
  assert_int_equal(twice.count, 4 * 184);
  girdle_tally_free(more);
  girdle_tally_free(tally);
  assert_int_equal(test.live_bytes, 0);
}

static void tally_compare_says_what_to_add_and_take_off(void **state) {
  girdle_tally *before, *after, *add, *take_off;
  girdle_stone black = stone_of("ss20 black"), red = stone_of("ss20 red"), clear = stone_of("ss16");
  const girdle_tally_line *lines;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_tally_new(&test.call, &before));
  assert_ok(&test, girdle_tally_new(&test.call, &after));
  assert_ok(&test, girdle_tally_compare(&test.call, before, after, &add, &take_off)); /* nothing at all */
  girdle_tally_free(add);
  girdle_tally_free(take_off);
  assert_ok(&test, girdle_tally_add_pieces(&test.call, before, "A1", "hem", "", &black, 100));
  assert_ok(&test, girdle_tally_add_pieces(&test.call, before, "A1", "cuff", "left", &clear, 40));
  assert_ok(&test, girdle_tally_add_pieces(&test.call, after, "A1", "hem", "", &red, 100)); /* recoloured */
  assert_ok(&test, girdle_tally_add_pieces(&test.call, after, "A1", "cuff", "left", &clear, 47));
  assert_ok(&test, girdle_tally_add_pieces(&test.call, before, "A1", "belt", "", &clear, 9));
  assert_ok(&test, girdle_tally_add_pieces(&test.call, after, "A1", "belt", "", &clear, 10)); /* one more */
  assert_ok(&test, girdle_tally_compare(&test.call, before, after, &add, &take_off));
  lines = girdle_tally_lines(add, &count);
  assert_int_equal(count, 3);
  assert_int_equal(lines[2].count, 1);
  assert_string_equal(lines[0].stone.colour, "red");
  assert_int_equal(lines[0].count, 100);
  assert_int_equal(lines[1].count, 7);
  assert_near(lines[1].mass_mg[1], 7 * clear.mass_mg[1], 1e-9);
  lines = girdle_tally_lines(take_off, &count);
  assert_int_equal(count, 1);
  assert_string_equal(lines[0].stone.colour, "black");
  assert_int_equal(lines[0].count, 100);
  girdle_tally_free(add);
  girdle_tally_free(take_off);
  girdle_tally_free(before);
  girdle_tally_free(after);
  assert_int_equal(test.live_bytes, 0);
}

static void tally_add_refuses_and_changes_nothing(void **state) {
  static const char long_name[] = "a name of a zone that has very many more letters than any zone of any costume has";
  girdle_tally *tally;
  girdle_placement *placement;
  girdle_tally_line total;
  girdle_stone black = stone_of("ss20 black");
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_tally_new(&test.call, &tally));
  assert_ok(&test, two_stones(&test.call, 2, 2, &placement));
  assert_ok(&test, girdle_tally_add_pieces(&test.call, tally, "A1", "a", "", &black, 1000000000000 - 1));
  assert_status(&test, girdle_tally_add(&test.call, tally, "A1", "a", "", 1, placement), GIRDLE_LIMIT);
  test_again(&test);
  assert_status(&test, girdle_tally_add(&test.call, tally, "A1", "b", "", 0, placement), GIRDLE_ARGUMENT);
  test_again(&test);
  assert_status(&test, girdle_tally_add(&test.call, tally, "A1", long_name, "", 1, placement), GIRDLE_LIMIT);
  test_again(&test);
  assert_status(&test, girdle_tally_add_pieces(&test.call, tally, "A1", "b", "", &black, -1), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "pieces");
  girdle_tally_total(tally, &total);
  assert_int_equal(total.count, 1000000000000 - 1);
  girdle_placement_free(placement);
  girdle_tally_free(tally);
}

/* A thousand costumes in one tally: found by hash, so that this takes no time. */
static void tally_add_finds_lines_among_many(void **state) {
  girdle_tally *tally;
  girdle_stone black = stone_of("ss20 black");
  girdle_tally_line total;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_tally_new(&test.call, &tally));
  for (int round = 0; round < 2; round++) {
    for (int i = 0; i < 20000; i++) {
      char tag[24];
      snprintf(tag, sizeof tag, "T%d", i);
      assert_ok(&test, girdle_tally_add_pieces(&test.call, tally, tag, "hem", "front", &black, i % 7 + 1));
    }
  }
  girdle_tally_lines(tally, &count);
  assert_int_equal(count, 20000);
  girdle_tally_total(tally, &total);
  assert_int_equal(total.count, 2 * 79997); /* 2857 whole weeks of 28, and 1 */
  girdle_tally_free(tally);
}

static int32_t all_of_it(girdle_call *call) {
  girdle_tally *tally = NULL, *copy = NULL, *sums = NULL, *add = NULL, *take_off = NULL;
  girdle_placement *placement = NULL;
  girdle_stone black = stone_of("ss20 black");
  int64_t pieces;
  int32_t status = girdle_tally_new(call, &tally);
  if (!status) status = girdle_tally_new(call, &copy);
  if (!status) status = two_stones(call, 9, 9, &placement);
  for (int i = 0; i < 20 && !status; i++) {
    char name[24];
    snprintf(name, sizeof name, "zone %d", i);
    status = girdle_tally_add(call, tally, "A1", name, "", 1, placement);
    if (!status) status = girdle_tally_add_pieces(call, tally, "A1", name, "", &black, 3);
  }
  if (!status) status = girdle_tally_add_all(call, copy, tally);
  if (!status) status = girdle_tally_by_stone(call, copy, &sums);
  if (!status) status = girdle_tally_compare(call, tally, sums, &add, &take_off);
  if (!status) status = girdle_stone_pieces_parse(call, "9 ss20 black", &black, &pieces);
  girdle_tally_free(add);
  girdle_tally_free(take_off);
  girdle_placement_free(placement);
  girdle_tally_free(sums);
  girdle_tally_free(copy);
  girdle_tally_free(tally);
  return status;
}

static void tally_survives_every_refused_allocation(void **state) {
  (void)state;
  test_sweep_allocations(all_of_it);
}

static void stone_pieces_parse_reads_every_name_of_a_size(void **state) {
  const girdle_size size = {.name = "house20", .diameter_mm = {4.8, 4.9, 5}, .certainty = GIRDLE_OWN_SIZE};
  const girdle_catalogue own = {.struct_bytes = sizeof own, .sizes = &size, .size_count = 1};
  static const struct {
    const char *text;
    int64_t pieces;
    const char *stone;
  } good[] = {
      {"120 ss16 clear", 120, "ss16"},
      {"12 4 mm black", 12, "4 mm black"},
      {"2 1/2 gross ss20 red", 360, "ss20 red"},
      {"3 dozen 20ss", 36, "ss20"},
      {"40 SS 16", 40, "ss16"},
      {"1 gross and 6 pp24", 150, "pp24"},
      {"  7   5.5 mm red", 7, "5.5 mm red"},
      {"24 house20 red", 24, "house20 red"},
      {"0 ss20", 0, "ss20"},
      {"4 gross + 30 10 x 7 mm pear", 606, "10 x 7 mm pear"},
  };
  static const struct {
    const char *text, *message;
    int32_t status;
  } bad[] = {
      {"", "must be a number and a stone, like 12 ss34 red", GIRDLE_SYNTAX},
      {"ss20", "must be a number and a stone", GIRDLE_SYNTAX},
      {"12 pearls", "'12 pearls' must be a number and a stone", GIRDLE_SYNTAX},
      {"many ss20", "'many' is not a number of pieces", GIRDLE_SYNTAX},
      {"12 ss99", "ss99", GIRDLE_UNKNOWN},
      {"2 1/2 gross ss99", "ss99", GIRDLE_UNKNOWN},
      {"-5 ss16", "-5", GIRDLE_SYNTAX},
  };
  girdle_stone stone, expected;
  int64_t pieces;
  test_call test;
  (void)state;
  test_begin(&test);
  test.call.own = &own;
  for (size_t i = 0; i < sizeof good / sizeof good[0]; i++) {
    assert_ok(&test, girdle_stone_pieces_parse(&test.call, good[i].text, &stone, &pieces));
    assert_ok(&test, girdle_stone_parse(&test.call, good[i].stone, &expected));
    assert_true(girdle_stone_equal(&stone, &expected));
    assert_int_equal(pieces, good[i].pieces);
  }
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    test_again(&test);
    assert_int_equal(girdle_stone_pieces_parse(&test.call, bad[i].text, &stone, &pieces), bad[i].status);
    assert_non_null(strstr(test.error.message, bad[i].message));
  }
  assert_int_equal(girdle_stone_pieces_parse(NULL, "24 house20", &stone, &pieces), GIRDLE_UNKNOWN);
}

/* One stone is counted; so many times that a line would pass its limit, none is. */
static void tally_add_takes_one_stone_and_minds_the_limit_of_a_line(void **state) {
  const girdle_placed records[2] = {{0, 0, 0, 0, 0}, {10, 0, 0, 0, 0}};
  girdle_stone black = stone_of("ss20 black");
  girdle_placement *one, *two;
  girdle_tally *tally;
  girdle_tally_line total;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_placement_new(&test.call, &black, 1, records, 1, &one));
  assert_ok(&test, girdle_placement_new(&test.call, &black, 1, records, 2, &two));
  assert_ok(&test, girdle_tally_new(&test.call, &tally));
  assert_ok(&test, girdle_tally_add(&test.call, tally, "A1", "neck", "", 1, one));
  girdle_tally_total(tally, &total);
  assert_int_equal(total.count, 1);
  assert_ok(&test, girdle_tally_add_pieces(&test.call, tally, "A1", "neck", "", &black, 1000000000000 - 8));
  assert_status(&test, girdle_tally_add(&test.call, tally, "A1", "neck", "", 4, two), GIRDLE_LIMIT);
  girdle_tally_total(tally, &total);
  assert_int_equal(total.count, 1000000000000 - 7);
  girdle_placement_free(one);
  girdle_placement_free(two);
  girdle_tally_free(tally);
  assert_int_equal(test.live_bytes, 0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(tally_add_takes_one_stone_and_minds_the_limit_of_a_line),
      cmocka_unit_test(stone_pieces_parse_reads_every_name_of_a_size),
      cmocka_unit_test(tally_add_counts_and_multiplies_by_times),
      cmocka_unit_test(tally_add_leaves_out_stones_that_are_not_placed),
      cmocka_unit_test(tally_by_stone_puts_the_largest_first),
      cmocka_unit_test(tally_by_stone_sorts_whatever_came_first),
      cmocka_unit_test(tally_add_all_refuses_whole),
      cmocka_unit_test(tally_total_adds_all_lines),
      cmocka_unit_test(tally_compare_says_what_to_add_and_take_off),
      cmocka_unit_test(tally_add_refuses_and_changes_nothing),
      cmocka_unit_test(tally_add_finds_lines_among_many),
      cmocka_unit_test(tally_survives_every_refused_allocation),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
