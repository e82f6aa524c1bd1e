/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static void status_text_covers_every_status(void **state) {
  (void)state;
  for (int32_t status = 0; status < GIRDLE_STATUS_END; status++)
    assert_string_not_equal(girdle_status_text(status), "unknown status");
  assert_string_equal(girdle_status_text(GIRDLE_STATUS_END), "unknown status");
  assert_string_equal(girdle_status_text(-1), "unknown status");
}

/* NIST Handbook 44, Appendix C: the inch is 25.4 mm, the avoirdupois ounce 28.349523125 g, the US fluid ounce
 * 29.5735295625 ml. 4th CGPM (1907): the metric carat is 200 mg. */
static void quantity_parse_reads_units(void **state) {
  static const struct {
    const char *text;
    int32_t kind;
    double expected;
  } cases[] = {
      {"12.5 mm", GIRDLE_LENGTH, 12.5},
      {"1 1/2 in", GIRDLE_LENGTH, 38.1},
      {"3/8 in", GIRDLE_LENGTH, 9.525},
      {"12\"", GIRDLE_LENGTH, 304.8},
      {"38 cm", GIRDLE_LENGTH, 380},
      {"-2mm", GIRDLE_LENGTH, -2},
      {"1e-3 m", GIRDLE_LENGTH, 1},
      {"-1 1/2 in", GIRDLE_LENGTH, -38.1},
      {"1 oz", GIRDLE_MASS, 28349.523125},
      {"10 %", GIRDLE_SHARE, 0.1},
      {"1 floz", GIRDLE_VOLUME, 29.5735295625},
      {"1 ct", GIRDLE_MASS, 200},
      {"200 g/m2", GIRDLE_AREAL_MASS, 200},
      {"24 h", GIRDLE_TIME, 86400},
      {" .5 cm ", GIRDLE_LENGTH, 5},
      {"1 in2", GIRDLE_AREA, 645.16},
      {"90 deg", GIRDLE_ANGLE, 90},
      {"7", GIRDLE_NUMBER, 7},
  };
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    double value;
    assert_ok(&test, girdle_quantity_parse(&test.call, cases[i].text, cases[i].kind, &value));
    assert_near(value, cases[i].expected, 1e-12 * fabs(cases[i].expected));
  }
}

/* A decimal comma is asked back as a point, where that gives a quantity. */
static void quantity_parse_asks_for_a_point(void **state) {
  static const char *const bad[][2] = {{"0,5 mm", "0.5 mm"}, {" 1,5 cm", " 1.5 cm"},
                                       {"1,5", ""},          {"1,5,5 mm", ""},
                                       {"1,500.5 mm", ""},   {"0,0000000000000000000000000000000000000000005 mm", ""}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    double value = 42;
    char asked[80];
    test_again(&test);
    assert_status(&test, girdle_quantity_parse(&test.call, bad[i][0], GIRDLE_LENGTH, &value), GIRDLE_SYNTAX);
    assert_string_equal(test.error.nearest, bad[i][1]);
    snprintf(asked, sizeof asked, "the decimal mark is a point, did you mean '%s'?", bad[i][1]);
    assert_int_equal(bad[i][1][0] != 0, strstr(test.error.message, asked) != NULL);
    assert_int_equal(girdle_quantity_parse(NULL, bad[i][0], GIRDLE_LENGTH, &value), GIRDLE_SYNTAX);
    assert_true(value == 42);
  }
}

static void quantity_parse_names_the_units_that_there_are(void **state) {
  static const struct {
    const char *text;
    int32_t kind;
    const char *says;
  } cases[] = {{"10 Q", GIRDLE_LENGTH, "there is no unit 'Q', but mm, cm, m, in, inch, ft, yd;"},
               {"10 acres", GIRDLE_AREA, "there is no unit 'acres', but mm2, cm2, m2, in2;"},
               {"10 rad", GIRDLE_ANGLE, "there is no unit 'rad', but deg;"},
               {"10 st", GIRDLE_MASS, "there is no unit 'st', but mg, g, kg, oz, lb, ct;"},
               {"10 weeks", GIRDLE_TIME, "there is no unit 'weeks', but s, min, h, days, day;"},
               {"10 mm", GIRDLE_NUMBER, "a plain number has no unit;"},
               {"10 a unit whose name has no end at all", GIRDLE_VOLUME,
                "there is no unit 'a unit whose name ha', but "
                "ml, l, floz;"}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    double value;
    assert_status(&test, girdle_quantity_parse(test_begin(&test), cases[i].text, cases[i].kind, &value), GIRDLE_SYNTAX);
    if (!strstr(test.error.message, cases[i].says)) print_error("%s\n", test.error.message);
    assert_non_null(strstr(test.error.message, cases[i].says));
  }
}

static void quantity_parse_refuses_with_an_example(void **state) {
  static const char *const bad[] = {"12",     "12,5 mm", "1,5 cm",   "nan mm", "inf mm", "0x10 mm",    "",       "mm",
                                    "1/0 in", "1 mm mm", "1e400 mm", "3 ss",   "--1 mm", "1 1 1/2 in", "1/-2 in"};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    double value = 42;
    test_again(&test);
    assert_status(&test, girdle_quantity_parse(&test.call, bad[i], GIRDLE_LENGTH, &value), GIRDLE_SYNTAX);
    assert_non_null(strstr(test.error.message, "12.5 mm"));
    assert_true(value == 42);
  }
}

/* The bytes behind a number that is not ended by NUL must not be looked at: each copy has just its own size. */
static void number_parse_stays_within_its_bytes(void **state) {
  static const struct {
    const char *text;
    double expected; /* NaN: refused */
  } cases[] = {{"7", 7},       {"-7", -7},     {"+7", 7},    {"1.", 1},  {".5", 0.5},    {"1e2", 100},
               {"1E-2", 0.01}, {"1e", NAN},    {"1e+", NAN}, {"-", NAN}, {".", NAN},     {"e5", NAN},
               {"", NAN},      {" 1", NAN},    {"1 ", NAN},  {"1e0", 1}, {"1e22", 1e22}, {"5e-22", 5e-22},
               {"12e-1", 1.2}, {"1.5.2", NAN}, {"-0", 0}};
  test_call test;
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    size_t length = strlen(cases[i].text);
    char *copy = malloc(length ? length : 1);
    double value = NAN;
    memcpy(copy, cases[i].text, length);
    test_begin(&test);
    assert_int_equal(girdle_number_parse(&test.call, copy, length, &value),
                     isnan(cases[i].expected) ? GIRDLE_SYNTAX : GIRDLE_OK);
    if (!isnan(cases[i].expected)) assert_true(value == cases[i].expected);
    free(copy);
  }
}

static void number_parse_quotes_what_it_refuses(void **state) {
  char longest[41 + 8], many[1200];
  test_call test;
  test_begin(&test);
  (void)state;
  memset(longest, 'x', sizeof longest);
  assert_status(&test, girdle_number_parse(&test.call, longest, sizeof longest, &(double){0}), GIRDLE_SYNTAX);
  assert_string_equal(test.error.message,
                      "'xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx' is not a number; write one like 12.5");
  memset(many, '1', sizeof many);
  test_again(&test);
  assert_status(&test, girdle_number_parse(&test.call, many, 1001, &(double){0}), GIRDLE_LIMIT);
  test_again(&test);
  assert_status(&test, girdle_number_parse(&test.call, many, 1000, &(double){0}), GIRDLE_OVERFLOW);
}

static void number_parse_rounds_correctly(void **state) {
  static const char *const texts[] = {"0.1",
                                      "1e23",
                                      "9007199254740993",
                                      "2.2250738585072011e-308",
                                      "123456789.123456789",
                                      "1.7976931348623157e308",
                                      "-0.3",
                                      "5e-324",
                                      "00000000000000000000001.5",
                                      "3.14159265358979323846264338327950288"};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
    double value;
    assert_ok(&test, girdle_number_parse(&test.call, texts[i], strlen(texts[i]), &value));
    assert_true(value == strtod(texts[i], NULL)); /* the C library as reference, in the C locale */
  }
}

static void number_text_writes_short_and_plain(void **state) {
  static const struct {
    double value;
    int32_t decimals;
    const char *expected;
  } cases[] = {{1.5, 4, "1.5"},
               {-0.00001, 4, "0"},
               {120, 4, "120"},
               {0.5287, 4, "0.5287"},
               {NAN, 2, "nan"},
               {1e20, 0, "100000000000000000000"},
               {-2.25, 1, "-2.2"},
               {1.5, -1, "2"},
               {INFINITY, 1, "inf"},
               {-INFINITY, 1, "-inf"},
               {1.0 / 3, 99, "0.33333333333333331"},
               {-0.5, 1, "-0.5"},
               {10, 0, "10"}};
  char text[64];
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    uint64_t length = girdle_number_text(cases[i].value, cases[i].decimals, text, sizeof text);
    assert_string_equal(text, cases[i].expected);
    assert_int_equal(length, strlen(cases[i].expected));
  }
  assert_int_equal(girdle_number_text(123.456, 3, text, 4), 7);
  assert_string_equal(text, "123");
}

/* A dozen is 12, a gross 144, a great gross 1728 (en.wikipedia "Gross (unit)", citing Schwartzman 1996). */
static void pieces_parse_counts_in_gross(void **state) {
  static const struct {
    const char *text;
    int64_t expected;
  } cases[] = {{"1 gross", 144},
               {"1 great gross", 1728},
               {"2 1/2 gross", 360},
               {"3 dozen", 36},
               {"40", 40},
               {"1/3 gross", 48},
               {"0", 0},
               {"120 stones", 120},
               {"1.5 gross", 216},
               {"2 dozens", 24},
               {"1 doz", 12},
               {"5 pieces", 5},
               {"5 pcs", 5},
               {"1 piece", 1},
               {"1 stone", 1},
               {"1e12", 1000000000000},
               {" 7 ", 7},
               {"4 gross + 2 gross + 1/2 gross + 30", 966},
               {"6 gross and 102", 966}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    int64_t pieces;
    assert_ok(&test, girdle_pieces_parse(&test.call, cases[i].text, &pieces));
    assert_int_equal(pieces, cases[i].expected);
  }
}

static void pieces_parse_refuses_what_is_not_whole(void **state) {
  static const char *const bad[] = {"1.3", "-3", "gross", "12 grams", "3 dozen eggs", "", "1 +", "1/7 gross"};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    int64_t pieces;
    test_again(&test);
    assert_status(&test, girdle_pieces_parse(&test.call, bad[i], &pieces), GIRDLE_SYNTAX);
  }
  test_again(&test);
  assert_status(&test, girdle_pieces_parse(&test.call, "1e13", &(int64_t){0}), GIRDLE_LIMIT);
}

static void pieces_text_says_gross_and_odd(void **state) {
  char text[64];
  (void)state;
  girdle_pieces_text(966, text, sizeof text);
  assert_string_equal(text, "6 gross and 102");
  girdle_pieces_text(288, text, sizeof text);
  assert_string_equal(text, "2 gross");
  girdle_pieces_text(40, text, sizeof text);
  assert_string_equal(text, "40");
}

static void nearest_finds_what_was_meant(void **state) {
  static const char *const known[] = {"gap", "along", "stones", "row_gap", "ends"};
  (void)state;
  assert_string_equal(girdle_nearest("gpa", known, 5), "gap");
  assert_string_equal(girdle_nearest("stone", known, 5), "stones");
  assert_string_equal(girdle_nearest("row gap", known, 5), "row_gap");
  assert_null(girdle_nearest("temperature", known, 5));
  assert_null(girdle_nearest("", known, 5));
  assert_string_equal(girdle_nearest("GAP", known, 5), "gap");
  assert_string_equal(girdle_nearest("ROW_GAP", known, 5), "row_gap");
  assert_string_equal(girdle_nearest("alnog", known, 5), "along"); /* two neighbours exchanged count once */
  assert_null(girdle_nearest("zzp", known, 5));
}

static void nearest_allows_more_slips_in_longer_words(void **state) {
  static const char *const known[] = {"e", "honeycomb", "abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstu"};
  char word[49];
  (void)state;
  assert_null(girdle_nearest("f", known, 1)); /* nothing of it is left */
  assert_string_equal(girdle_nearest("honycmb", known, 3), "honeycomb");
  assert_null(girdle_nearest("hncmb", known, 3));
  strcpy(word, known[2]);
  word[0] = 'z';
  assert_string_equal(girdle_nearest(word, known, 3), known[2]);
  strcat(word, "v");
  assert_null(girdle_nearest(word, known, 3)); /* longer than any word of ours */
}

static void call_init_asks_for_malloc_and_no_limits(void **state) {
  girdle_call call;
  memset(&call, 1, sizeof call);
  girdle_call_init(&call, sizeof call);
  (void)state;
  assert_int_equal(call.struct_bytes, sizeof call);
  assert_null(call.memory.resize);
  assert_null(call.watch.tick);
  assert_null(call.error);
}

static void error_init_says_no_error(void **state) {
  girdle_error error;
  girdle_error_init(&error, sizeof error);
  (void)state;
  assert_int_equal(error.status, GIRDLE_OK);
  assert_int_equal(error.line, -1);
  assert_int_equal(error.column, -1);
  assert_int_equal(error.byte, -1);
  assert_true(isnan(error.value) && isnan(error.least) && isnan(error.most));
}

static void version_has_three_numbers(void **state) {
  int a, b, c, length = 0;
  (void)state;
  assert_int_equal(sscanf(girdle_version(), "%d.%d.%d%n", &a, &b, &c, &length), 3);
  assert_int_equal(length, strlen(girdle_version()));
}

static void limits_are_told_in_few_digits(void **state) {
  girdle_path *path = NULL, *flat = NULL;
  double mm;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_status(&test, girdle_path_line(&test.call, 1e300, &path), GIRDLE_ARGUMENT);
  assert_non_null(strstr(test.error.message, "not 1e300"));
  assert_ok(&test, girdle_path_line(test_again(&test), 100, &path));
  assert_status(&test, girdle_path_flattened(&test.call, path, 0, &flat), GIRDLE_ARGUMENT);
  assert_non_null(strstr(test.error.message, "must be more than 0 mm, not 0"));
  girdle_path_free(path);
  assert_status(&test, girdle_quantity_parse(test_again(&test), "many", GIRDLE_AREA, &mm), GIRDLE_SYNTAX);
  assert_non_null(strstr(test.error.message, "is not an area"));
  assert_status(&test, girdle_quantity_parse(test_again(&test), "many", GIRDLE_LENGTH, &mm), GIRDLE_SYNTAX);
  assert_non_null(strstr(test.error.message, "is not a length"));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(status_text_covers_every_status),
      cmocka_unit_test(quantity_parse_reads_units),
      cmocka_unit_test(quantity_parse_names_the_units_that_there_are),
      cmocka_unit_test(quantity_parse_refuses_with_an_example),
      cmocka_unit_test(quantity_parse_asks_for_a_point),
      cmocka_unit_test(call_init_asks_for_malloc_and_no_limits),
      cmocka_unit_test(error_init_says_no_error),
      cmocka_unit_test(limits_are_told_in_few_digits),
      cmocka_unit_test(version_has_three_numbers),
      cmocka_unit_test(nearest_allows_more_slips_in_longer_words),
      cmocka_unit_test(number_parse_stays_within_its_bytes),
      cmocka_unit_test(number_parse_quotes_what_it_refuses),
      cmocka_unit_test(number_parse_rounds_correctly),
      cmocka_unit_test(number_text_writes_short_and_plain),
      cmocka_unit_test(pieces_parse_counts_in_gross),
      cmocka_unit_test(pieces_parse_refuses_what_is_not_whole),
      cmocka_unit_test(pieces_text_says_gross_and_odd),
      cmocka_unit_test(nearest_finds_what_was_meant),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
