/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "base_cross_internal.h"
#include "support.h"

static void cross_find_needs_a_number_behind(void **state) {
  static const struct {
    const char *text;
    int at, bytes; /* -1: none */
  } cases[] = {{"10 x 14", 3, 1},  {"10 X 14", 3, 1},         {"10x14", 2, 1},        {"10 by 14", 3, 2},
               {"10 BY 14", 3, 2}, {"10bY14", 2, 2},          {"10\303\22714", 2, 2}, {"10 \303\227 .5", 3, 2},
               {"10 x -1", 3, 1},  {"10 x -.5", 3, 1},        {"10 x\t14", 3, 1},     {"10 x", -1, 0},
               {"10 by", -1, 0},   {"10 x mm", -1, 0},        {"10 px x 20", 6, 1},   {"black", -1, 0},
               {"", -1, 0},        {"10 x -", -1, 0},         {"10 x .", -1, 0},      {"10 b 14", -1, 0},
               {"10 y 14", -1, 0}, {"10 \303\224 14", -1, 0}, {"x 3", 0, 1},          {"10 x:14", -1, 0},
               {"10 x/14", -1, 0}, {"10 x0", 3, 1},           {"10 x9", 3, 1}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    const char *behind = cases[i].text, *found = girdle_cross_find(cases[i].text, &behind);
    if ((cases[i].at < 0) != !found) print_error("%s\n", cases[i].text);
    assert_int_equal(found ? found - cases[i].text : -1, cases[i].at);
    if (found)
      assert_int_equal(behind - found, cases[i].bytes);
    else
      assert_null(behind);
  }
}

static void cross_parse_gives_units_to_those_without(void **state) {
  static const struct {
    const char *text;
    uint64_t count;
    double mm[3];
  } cases[] = {{"10 cm", 1, {100}},
               {"10 x 14 mm", 2, {10, 14}},
               {"10 x 14mm", 2, {10, 14}},
               {"10 x14 mm", 2, {10, 14}},
               {"10\t x14 mm ", 2, {10, 14}},
               {"10x 14 mm", 2, {10, 14}},
               {"10 mm x 14 cm", 2, {10, 140}},
               {"1 1/2 x 2 in", 2, {38.1, 50.8}},
               {"1. x 2 mm", 2, {1, 2}},
               {"3/8 x 1/2\"", 2, {9.525, 12.7}},
               {"1 x 2 x 3 cm", 3, {10, 20, 30}},
               {"1 x 2 cm x 3 mm", 3, {10, 20, 3}},
               {"1 cm x 2 x 3 mm", 3, {10, 2, 3}},
               {"-1 x -2 mm", 2, {-1, -2}}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    double mm[3] = {0, 0, 0};
    uint64_t count;
    assert_ok(&test, girdle_cross_parse(&test.call, cases[i].text, mm, 3, &count));
    assert_int_equal(count, cases[i].count);
    for (uint64_t k = 0; k < count; k++)
      assert_near(mm[k], cases[i].mm[k], 1e-12 * fabs(cases[i].mm[k]));
  }
}

static void cross_parse_stops_behind_what_is_wanted(void **state) {
  double mm[3] = {0, 0, -7};
  uint64_t count;
  (void)state;
  assert_int_equal(girdle_cross_parse(NULL, "1 x 2 mm x 3 mm x 4 px", mm, 2, &count), GIRDLE_OK);
  assert_int_equal(count, 3);
  assert_true(mm[0] == 1 && mm[1] == 2 && mm[2] == -7);
  assert_int_equal(girdle_cross_parse(NULL, "1 mm", mm, 0, &count), GIRDLE_OK);
  assert_int_equal(count, 1);
}

static void cross_parse_refuses(void **state) {
  static const char *const bad[] = {
      "", "10", "10 x 14", "10 x 14 px", "10 px x 14 mm", "ten x 14 mm", "10 x 14 mm x 5", "10 x 14 mm,"};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    double mm[3];
    uint64_t count = 55;
    assert_status(&test, girdle_cross_parse(test_again(&test), bad[i], mm, 3, &count), GIRDLE_SYNTAX);
    assert_int_equal(count, 55);
  }
}

/* A part of 79 bytes with its unit is the longest; nothing is cut, which could make metres of millimetres. */
static void cross_parse_cuts_nothing(void **state) {
  static const size_t lengths[] = {60, 75, 76, 77, 78, 79, 80, 81, 200, 100000};
  (void)state;
  for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++) {
    for (int bare = 0; bare < 2; bare++) {
      char *text = malloc(lengths[i] + 16);
      double mm[2];
      uint64_t count;
      int32_t status;
      memset(text, '0', lengths[i]);
      memcpy(text, "1.", 2);
      if (!bare) memcpy(text + lengths[i] - 2, "mm", 2);
      strcpy(text + lengths[i], "x2 mm");
      status = girdle_cross_parse(NULL, text, mm, 2, &count);
      assert_int_equal(status, lengths[i] + (bare ? 3 : 0) < 80 ? GIRDLE_OK : GIRDLE_SYNTAX);
      if (!status) assert_true(mm[0] == 1 && mm[1] == 2);
      free(text);
    }
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(cross_find_needs_a_number_behind),
      cmocka_unit_test(cross_parse_gives_units_to_those_without),
      cmocka_unit_test(cross_parse_stops_behind_what_is_wanted),
      cmocka_unit_test(cross_parse_refuses),
      cmocka_unit_test(cross_parse_cuts_nothing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
