/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "common.h"
#include "sort_internal.h"
#include "support.h"

/* What every room does alike: memory, failing, ticking, sorting; and the far ends of numbers. */

/* ---- memory */

/* Refuses whatever is asked, shrinking too. */
static void *refuse(void *context, void *block, uint64_t old_bytes, uint64_t new_bytes) {
  (void)block;
  (void)old_bytes;
  ++*(int *)context;
  (void)new_bytes;
  return NULL;
}

static void resize_never_fails_to_shrink(void **state) {
  int calls = 0;
  char block[8];
  const girdle_allocator none = {&calls, refuse};
  (void)state;
  assert_ptr_equal(girdle_common_resize(&none, block, 8, 4), block);
  assert_ptr_equal(girdle_common_resize(&none, block, 8, 8), block);
  assert_null(girdle_common_resize(&none, block, 8, 9));
  assert_null(girdle_common_resize(&none, block, 8, 0));
  assert_int_equal(calls, 4);
  girdle_common_release(&none, NULL, 8);
  assert_int_equal(calls, 4); /* nothing to free */
  girdle_common_release(&none, block, 8);
  assert_int_equal(calls, 5);
}

static void memory_is_mallocs_unless_the_call_has_its_own(void **state) {
  girdle_allocator plain = girdle_common_memory(NULL), mine;
  girdle_call call;
  test_call test;
  char *block;
  (void)state;
  girdle_call_init(&call, sizeof call);
  assert_ptr_equal(girdle_common_memory(&call).resize, plain.resize);
  test_begin(&test);
  mine = girdle_common_memory(&test.call);
  assert_ptr_equal(mine.context, &test);
  block = girdle_common_resize(&plain, NULL, 0, 16);
  assert_non_null(block);
  block = girdle_common_resize(&plain, block, 16, 32);
  assert_null(girdle_common_resize(&plain, NULL, 0, UINT64_MAX - 4)); /* more than there can be */
  girdle_common_release(&plain, block, 32);
}

static void copy_and_new_say_when_memory_is_out(void **state) {
  static const char text[] = "abc";
  test_call test;
  char *copy;
  test_begin(&test);
  (void)state;
  copy = girdle_common_copy(&test.call, text, sizeof text);
  assert_string_equal(copy, "abc");
  girdle_common_release(&test.call.memory, copy, sizeof text);
  test.refuse_at = 1;
  assert_null(girdle_common_copy(&test.call, text, sizeof text));
  assert_int_equal(test.error.status, GIRDLE_MEMORY);
  assert_int_equal(test.live_bytes, 0);
}

static void grow_doubles_and_keeps_all_or_nothing(void **state) {
  test_call test;
  double *items = NULL;
  void *at = NULL;
  uint64_t capacity = 0;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_common_grow(&test.call, &test.call.memory, &at, &capacity, 1, sizeof *items));
  assert_int_equal(capacity, 8);
  assert_ok(&test, girdle_common_grow(&test.call, &test.call.memory, &at, &capacity, 8, sizeof *items));
  assert_int_equal(capacity, 8);
  assert_ok(&test, girdle_common_grow(&test.call, &test.call.memory, &at, &capacity, 9, sizeof *items));
  assert_int_equal(capacity, 16);
  assert_ok(&test, girdle_common_grow(&test.call, &test.call.memory, &at, &capacity, 100, sizeof *items));
  assert_int_equal(capacity, 128);
  assert_int_equal(test.live_bytes, 128 * sizeof *items);
  items = at;
  assert_status(&test, girdle_common_grow(&test.call, &test.call.memory, &at, &capacity, UINT64_MAX / 16, 16),
                GIRDLE_MEMORY);
  test.refuse_at = test.allocations + 1;
  assert_status(&test, girdle_common_grow(test_again(&test), &test.call.memory, &at, &capacity, 129, sizeof *items),
                GIRDLE_MEMORY);
  assert_ptr_equal(at, items);
  assert_int_equal(capacity, 128);
  girdle_common_release(&test.call.memory, at, 128 * sizeof *items);
  assert_int_equal(test.live_bytes, 0);
}

/* ---- failing */

static void fail_keeps_the_first_error(void **state) {
  test_call test;
  test_begin(&test);
  (void)state;
  assert_int_equal(girdle_common_fail(&test.call, GIRDLE_SYNTAX, NULL, "first %d", 1), GIRDLE_SYNTAX);
  assert_int_equal(girdle_common_fail(&test.call, GIRDLE_LIMIT, "second", "second"), GIRDLE_LIMIT);
  assert_int_equal(test.error.status, GIRDLE_SYNTAX);
  assert_string_equal(test.error.message, "first 1");
  assert_string_equal(test.error.field, "");
  assert_int_equal(girdle_common_range(&test.call, "gap", 9, 0, 1, "mm"), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.message, "first 1");
  assert_true(isnan(test.error.value));
  assert_int_equal(girdle_common_fail(NULL, GIRDLE_LIMIT, "x", "x"), GIRDLE_LIMIT);
}

static void range_tells_value_and_limits(void **state) {
  static const struct {
    double value, least, most;
    const char *unit, *message;
  } cases[] = {{25, 0, 20, "mm", "gap must be 0 to 20 mm, not 25"},
               {25, 0, 20, "", "gap must be 0 to 20, not 25"},
               {25, -INFINITY, 20, "mm", "gap must be at most 20 mm, not 25"},
               {-1, 0, INFINITY, "mm", "gap must be at least 0 mm, not -1"},
               {0, 1e-9, INFINITY, "mm", "gap must be more than 0 mm, not 0"},
               {0, 1e-9, 5, "mm", "gap must be more than 0 to 5 mm, not 0"},
               {1e300, 0, 999999999999999, "mm", "gap must be 0 to 999999999999999 mm, not 1e300"},
               {-2.5e15, 0, 1e15, "", "gap must be 0 to 1e15, not -2.5e15"},
               {-INFINITY, 0, 1, "", "gap must be 0 to 1, not -inf"},
               {NAN, 0, 1, "", "gap must be 0 to 1, not nan"}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    assert_int_equal(
        girdle_common_range(test_again(&test), "gap", cases[i].value, cases[i].least, cases[i].most, cases[i].unit),
        GIRDLE_ARGUMENT);
    assert_string_equal(test.error.message, cases[i].message);
    assert_true(test.error.value == cases[i].value || isnan(cases[i].value));
    assert_true(test.error.least == cases[i].least && test.error.most == cases[i].most);
  }
  assert_int_equal(girdle_common_range(test_again(&test), "gap", 20, 0, 20, "mm"), GIRDLE_OK);
  assert_int_equal(girdle_common_range(&test.call, "gap", 0, 0, 20, "mm"), GIRDLE_OK);
  assert_int_equal(girdle_common_range(NULL, "gap", 21, 0, 20, "mm"), GIRDLE_ARGUMENT);
  assert_int_equal(test.error.status, GIRDLE_OK);
}

static void unknown_names_the_nearest_once(void **state) {
  static const char *const known[] = {"left", "right"};
  test_call test;
  test_begin(&test);
  (void)state;
  assert_int_equal(girdle_common_unknown(&test.call, "side", "lefd", known, 2), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.message, "unknown side 'lefd', did you mean 'left'?");
  assert_string_equal(test.error.nearest, "left");
  assert_int_equal(girdle_common_unknown(&test.call, "side", "rigt", known, 2), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.nearest, "left"); /* the first error stays */
  assert_int_equal(girdle_common_unknown(test_again(&test), "side", "upwards", known, 2), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.message, "unknown side 'upwards'; known are left, right");
  assert_int_equal(girdle_common_unknown(NULL, "side", "lefd", known, 2), GIRDLE_UNKNOWN);
}

static void at_places_an_error_that_has_no_place(void **state) {
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_common_at(NULL, "a", 1, 2, 3);
  girdle_common_at(&test.call, "a", 1, 2, 3);
  assert_int_equal(test.error.line, -1); /* no error, no place */
  girdle_common_fail(&test.call, GIRDLE_SYNTAX, NULL, "bad");
  girdle_common_at(&test.call, NULL, -1, 7, -1);
  assert_string_equal(test.error.source, "");
  assert_int_equal(test.error.column, 7);
  girdle_common_at(&test.call, "a", 5, 9, 11);
  girdle_common_at(&test.call, "b", 6, 10, 12);
  assert_string_equal(test.error.source, "a");
  assert_int_equal(test.error.line, 5);
  assert_int_equal(test.error.column, 7);
  assert_int_equal(test.error.byte, 11);
}

static void note_fault(void *context, const girdle_error *error) {
  strcat(context, error->message);
}

static void report_gives_each_fault_and_clears_it(void **state) {
  char heard[64] = "";
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_common_report(NULL);
  girdle_common_report(&test.call);
  girdle_common_fail(&test.call, GIRDLE_SYNTAX, NULL, "lost");
  girdle_common_report(&test.call); /* nobody listens */
  assert_int_equal(test.error.status, GIRDLE_OK);
  test.call.report.fault = note_fault;
  test.call.report.context = heard;
  girdle_common_report(&test.call);
  girdle_common_fail(&test.call, GIRDLE_SYNTAX, NULL, "one;");
  girdle_common_report(&test.call);
  girdle_common_fail(&test.call, GIRDLE_LIMIT, NULL, "two;");
  girdle_common_report(&test.call);
  assert_string_equal(heard, "one;two;");
  assert_int_equal(test.error.struct_bytes, sizeof test.error);
}

static int32_t stop_at_three(void *context, uint64_t steps, double done) {
  (void)done;
  return (*(uint64_t *)context += steps) >= 3;
}

static void tick_stops_when_the_watch_says_so(void **state) {
  uint64_t steps = 0;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_int_equal(girdle_common_tick(NULL, 1, 0), GIRDLE_OK);
  assert_ok(&test, girdle_common_tick(&test.call, 1, 0));
  test.call.watch.tick = stop_at_three;
  test.call.watch.context = &steps;
  assert_ok(&test, girdle_common_tick(&test.call, 2, 0.5));
  assert_status(&test, girdle_common_tick(&test.call, 1, 0.6), GIRDLE_STOPPED);
  assert_string_equal(test.error.message, "stopped before it was done");
}

/* ---- texts and options */

static void text_is_cut_at_a_whole_character(void **state) {
  char field[5];
  (void)state;
  assert_int_equal(girdle_common_text(field, sizeof field, "abcd"), 1);
  assert_string_equal(field, "abcd");
  assert_int_equal(girdle_common_text(field, sizeof field, "abcde"), 0);
  assert_string_equal(field, "abcd");
  assert_int_equal(girdle_common_text(field, sizeof field, "abc\303\251"), 0);
  assert_string_equal(field, "abc");
  assert_int_equal(girdle_common_text(field, sizeof field, "a\342\202\254bc"), 0);
  assert_string_equal(field, "a\342\202\254");
  assert_int_equal(girdle_common_text(field, sizeof field, "\200\200\200\200\200"), 0);
  assert_string_equal(field, "");
}

static void character_knows_what_could_drive_a_terminal(void **state) {
  static const struct {
    const char *text;
    uint64_t length;
    int control;
  } cases[] = {{"a", 1, 0},
               {"", 1, 1},
               {"\x1b[31m", 1, 1},
               {"\x7f", 1, 1},
               {"\n", 1, 1},
               {" ", 1, 0},
               {"~", 1, 0},
               {"\xc2\x80", 2, 1},
               {"\xc2\x9f", 2, 1},
               {"\xc2\xa0", 2, 0},
               {"\xc3\x80", 2, 0},
               {"\x9b", 1, 1},
               {"\xa0", 1, 0},
               {"\xc2", 1, 0},
               {"\xe2\x80\xa9", 3, 0},
               {"\xe2\x80\xaa", 3, 1},
               {"\xe2\x80\xae", 3, 1},
               {"\xe2\x80\xaf", 3, 0},
               {"\xe2\x81\xa5", 3, 0},
               {"\xe2\x81\xa6", 3, 1},
               {"\xe2\x81\xa9", 3, 1},
               {"\xe2\x81\xaa", 3, 0},
               {"\xe3\x80\xaa", 3, 0},
               {"\xe2\x80x", 1, 0},
               {"\xf0\x9f\x92\x8e", 4, 0},
               {"\xf5\x9f\x92\x8e", 1, 0}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    uint64_t bytes = strlen(cases[i].text);
    int control = -1;
    uint64_t length = girdle_common_character(cases[i].text, bytes ? bytes : 1, &control);
    if (length != cases[i].length || control != cases[i].control)
      fail_msg("case %d: %d bytes, control %d", (int)i, (int)length, control);
  }
  {
    int control;
    assert_int_equal(girdle_common_character("\xe2\x80\xae", 2, &control), 1);
  }
}

static void clean_leaves_all_but_what_could_drive_a_terminal(void **state) {
  char text[] =
      "a\x1b[1m \xc2\x9b"
      "b\xe2\x80\xae\xc3\xa9\x9f\n\xf0\x9f\x92\x8e";
  (void)state;
  girdle_common_clean(text, '?');
  assert_string_equal(text, "a?[1m ?b?\xc3\xa9??\xf0\x9f\x92\x8e");
}

static void options_take_what_both_have(void **state) {
  struct {
    uint32_t bytes, a, b;
  } own = {12, 1, 2};
  const uint32_t shorter[] = {8, 7, 9}, longer[] = {16, 5, 6, 8};
  (void)state;
  girdle_common_options(&own, sizeof own, shorter);
  assert_true(own.a == 7 && own.b == 2);
  girdle_common_options(&own, sizeof own, longer);
  assert_true(own.a == 5 && own.b == 6);
}

/* ---- sorting */

typedef struct wide {
  int key;
  char rest[137]; /* more than is swapped at a time */
} wide;

static int by_key(const void *a, const void *b) {
  const wide *one = a, *two = b;
  return (one->key > two->key) - (one->key < two->key);
}

static int by_number(const void *a, const void *b) {
  int one = *(const int *)a, two = *(const int *)b;
  return (one > two) - (one < two);
}

static void sort_orders_items_of_any_size(void **state) {
  uint64_t random = 5;
  (void)state;
  for (uint64_t count = 0; count < 60; count++) {
    int numbers[60], sums[2] = {0, 0};
    wide wides[60];
    for (uint64_t i = 0; i < count; i++) {
      numbers[i] = (int)(test_random(&random) % 40);
      wides[i].key = numbers[i];
      memset(wides[i].rest, numbers[i], sizeof wides[i].rest);
      sums[0] += numbers[i];
    }
    girdle_sort(numbers, count, sizeof numbers[0], by_number);
    girdle_sort(wides, count, sizeof wides[0], by_key);
    for (uint64_t i = 0; i < count; i++) {
      sums[1] += numbers[i];
      assert_int_equal(wides[i].key, numbers[i]);
      assert_int_equal(wides[i].rest[0], numbers[i]);
      assert_int_equal(wides[i].rest[136], numbers[i]);
      if (i) assert_true(numbers[i - 1] <= numbers[i]);
    }
    assert_int_equal(sums[0], sums[1]);
  }
}

/* Comparisons stay within n log n even where a quicksort is at its worst. */
static int compared;
static int counting(const void *a, const void *b) {
  compared++;
  return by_number(a, b);
}

static void sort_takes_n_log_n_whatever_the_order(void **state) {
  enum { COUNT = 4096 };
  static int numbers[COUNT];
  (void)state;
  for (int kind = 0; kind < 4; kind++) {
    for (int i = 0; i < COUNT; i++)
      numbers[i] = kind == 0 ? i : kind == 1 ? COUNT - i : kind == 2 ? 7 : i % 3;
    compared = 0;
    girdle_sort(numbers, COUNT, sizeof numbers[0], counting);
    assert_true(compared <= 2 * COUNT * 12 + 3 * COUNT);
    for (int i = 1; i < COUNT; i++)
      assert_true(numbers[i - 1] <= numbers[i]);
  }
}

/* An order made up while it is asked for, the worst for any choice of a middle one (M. D. McIlroy, "A killer adversary
 * for quicksort", Software: Practice and Experience 29, 1999): what need not be told apart yet is larger than all. */
static struct { int values[4096], known, candidate; } adversary;

static int by_adversary(const void *a, const void *b) {
  int x = *(const int *)a, y = *(const int *)b, open = 4096;
  compared++;
  if (adversary.values[x] == open && adversary.values[y] == open)
    adversary.values[x == adversary.candidate ? x : y] = adversary.known++;
  if (adversary.values[x] == open)
    adversary.candidate = x;
  else if (adversary.values[y] == open)
    adversary.candidate = y;
  return (adversary.values[x] > adversary.values[y]) - (adversary.values[x] < adversary.values[y]);
}

static void sort_takes_n_log_n_against_an_adversary(void **state) {
  enum { COUNT = 4096 };
  static int items[COUNT];
  (void)state;
  for (int i = 0; i < COUNT; i++) {
    items[i] = i;
    adversary.values[i] = COUNT;
  }
  adversary.known = adversary.candidate = compared = 0;
  girdle_sort(items, COUNT, sizeof items[0], by_adversary);
  assert_true(compared <= 5 * COUNT * 12); /* a square of them would be 140 times as many */
  for (int i = 1; i < COUNT; i++)
    assert_true(adversary.values[items[i - 1]] <= adversary.values[items[i]]);
}

/* ---- the far ends of numbers */

static void number_parse_at_its_ends(void **state) {
  static const struct {
    const char *text;
    double value; /* NaN: refused */
  } cases[] = {{"1e-22", 1e-22},
               {"1e-23", 1e-23},
               {"1e23", 1e23},
               {"9007199254740992", 9007199254740992.0},
               {"9007199254740993", 9007199254740992.0},
               {"1000000000000000000", 1e18},
               {"10000000000000000000", 1e19},
               {"9999999999999999999", 1e19},
               {"12345678901234567890123", 12345678901234567890123.0},
               {"0.00000000000000000000000000000001", 1e-32},
               {"1e000000000000000000002", 100},
               {"1e-99999999999", 0},
               {"1e", NAN},
               {"1e-", NAN},
               {"1e308", 1e308},
               {"-1.5e+2", -150},
               {"1E+0", 1},
               {"12345678901234567890.5", 12345678901234567890.5},
               {"0.10000000000000000000", 0.1}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    double value = NAN;
    int32_t status = girdle_number_parse(NULL, cases[i].text, strlen(cases[i].text), &value);
    assert_int_equal(status, isnan(cases[i].value) ? GIRDLE_SYNTAX : GIRDLE_OK);
    if (!status) assert_true(value == cases[i].value);
  }
  assert_int_equal(girdle_number_parse(NULL, "1e309", 5, &(double){0}), GIRDLE_OVERFLOW);
  assert_int_equal(girdle_number_parse(NULL, "1e99999999999", 13, &(double){0}), GIRDLE_OVERFLOW);
}

static void number_text_needs_no_room_to_tell_its_length(void **state) {
  char text[4] = "xyz";
  (void)state;
  assert_int_equal(girdle_number_text(12.5, 1, NULL, 0), 4);
  assert_int_equal(girdle_number_text(12.5, 1, text, 1), 4);
  assert_string_equal(text, "");
  assert_int_equal(girdle_pieces_text(966, NULL, 0), 15);
}

static void quantity_parse_at_its_ends(void **state) {
  static const struct {
    const char *text;
    int32_t kind, status;
    double value;
  } cases[] = {{"1e308 m", GIRDLE_LENGTH, GIRDLE_SYNTAX, 0},
               {"5", GIRDLE_QUANTITY_END, GIRDLE_ARGUMENT, 0},
               {"5", -1, GIRDLE_ARGUMENT, 0},
               {"\t 5\tmm \t", GIRDLE_LENGTH, GIRDLE_OK, 5},
               {"1 2/4 cm", GIRDLE_LENGTH, GIRDLE_OK, 15},
               {"1 2 cm", GIRDLE_LENGTH, GIRDLE_SYNTAX, 0},
               {"1 2. cm", GIRDLE_LENGTH, GIRDLE_SYNTAX, 0},
               {"1/ cm", GIRDLE_LENGTH, GIRDLE_SYNTAX, 0},
               {"100 %", GIRDLE_SHARE, GIRDLE_OK, 1},
               {"1 lb", GIRDLE_MASS, GIRDLE_OK, 453592.37},
               {"2 days", GIRDLE_TIME, GIRDLE_OK, 172800},
               {"1 l", GIRDLE_VOLUME, GIRDLE_OK, 1000},
               {"1 yd", GIRDLE_LENGTH, GIRDLE_OK, 914.4},
               {"1 ft", GIRDLE_LENGTH, GIRDLE_OK, 304.8}};
  char longest[260], mark[80];
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    double value = 0;
    assert_int_equal(girdle_quantity_parse(NULL, cases[i].text, cases[i].kind, &value), cases[i].status);
    assert_near(value, cases[i].value, 1e-12 * cases[i].value);
  }
  memset(longest, ' ', sizeof longest);
  strcpy(longest + 196, "5 mm"); /* 200 bytes are read, one more is too many */
  assert_int_equal(girdle_quantity_parse(NULL, longest, GIRDLE_LENGTH, &(double){0}), GIRDLE_OK);
  memset(longest, ' ', sizeof longest);
  strcpy(longest + 197, "5 mm");
  assert_int_equal(girdle_quantity_parse(NULL, longest, GIRDLE_LENGTH, &(double){0}), GIRDLE_SYNTAX);
  memset(mark, '1', sizeof mark);
  strcpy(mark + 60, ",5 mm");
  assert_int_equal(girdle_quantity_parse(NULL, mark, GIRDLE_LENGTH, &(double){0}), GIRDLE_SYNTAX);
}

static void pieces_parse_at_its_ends(void **state) {
  char text[260];
  int64_t pieces;
  (void)state;
  memset(text, ' ', sizeof text);
  strcpy(text + 199, "5");
  assert_int_equal(girdle_pieces_parse(NULL, text, &pieces), GIRDLE_OK);
  assert_int_equal(pieces, 5);
  text[199] = ' ';
  strcpy(text + 200, "5");
  assert_int_equal(girdle_pieces_parse(NULL, text, &pieces), GIRDLE_SYNTAX);
  assert_int_equal(girdle_pieces_parse(NULL, "1e12 + 1", &pieces), GIRDLE_LIMIT);
  assert_int_equal(girdle_pieces_parse(NULL, "5e11 + 5e11", &pieces), GIRDLE_OK);
  assert_int_equal(pieces, 1000000000000);
  assert_int_equal(girdle_pieces_parse(NULL, "1 gross +", &pieces), GIRDLE_SYNTAX);
  assert_int_equal(girdle_pieces_parse(NULL, "1 + x", &pieces), GIRDLE_SYNTAX);
}

static void nearest_passes_over_longer_words_than_it_bears(void **state) {
  char long_word[64];
  const char *known[] = {long_word, "gap"};
  (void)state;
  memset(long_word, 'a', sizeof long_word);
  long_word[48] = '\0';
  assert_string_equal(girdle_nearest("gpa", known, 2), "gap");
  assert_null(girdle_nearest("aaaaaaaaaaaaaaaa", known, 1));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(resize_never_fails_to_shrink),
      cmocka_unit_test(memory_is_mallocs_unless_the_call_has_its_own),
      cmocka_unit_test(copy_and_new_say_when_memory_is_out),
      cmocka_unit_test(grow_doubles_and_keeps_all_or_nothing),
      cmocka_unit_test(fail_keeps_the_first_error),
      cmocka_unit_test(range_tells_value_and_limits),
      cmocka_unit_test(unknown_names_the_nearest_once),
      cmocka_unit_test(at_places_an_error_that_has_no_place),
      cmocka_unit_test(report_gives_each_fault_and_clears_it),
      cmocka_unit_test(tick_stops_when_the_watch_says_so),
      cmocka_unit_test(text_is_cut_at_a_whole_character),
      cmocka_unit_test(character_knows_what_could_drive_a_terminal),
      cmocka_unit_test(clean_leaves_all_but_what_could_drive_a_terminal),
      cmocka_unit_test(options_take_what_both_have),
      cmocka_unit_test(sort_orders_items_of_any_size),
      cmocka_unit_test(sort_takes_n_log_n_whatever_the_order),
      cmocka_unit_test(sort_takes_n_log_n_against_an_adversary),
      cmocka_unit_test(number_parse_at_its_ends),
      cmocka_unit_test(number_text_needs_no_room_to_tell_its_length),
      cmocka_unit_test(quantity_parse_at_its_ends),
      cmocka_unit_test(pieces_parse_at_its_ends),
      cmocka_unit_test(nearest_passes_over_longer_words_than_it_bears),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
