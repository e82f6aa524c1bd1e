/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "stone_internal.h"
#include "support.h"

/* The far ends of what a stone may be. */

static girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

static int32_t colour_status(const char *colour) {
  girdle_stone_spec spec;
  girdle_stone stone;
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = "ss20";
  spec.colour = colour;
  return girdle_stone_make(NULL, &spec, &stone);
}

/* RFC 3629: no overlong forms, no surrogates, nothing above U+10FFFF. */
static void stone_make_takes_utf8_alone(void **state) {
  static const char *const good[] = {"\302\200",     "\337\277",     "\340\240\200",     "\355\237\277",
                                     "\356\200\200", "\357\277\277", "\360\220\200\200", "\364\217\277\277",
                                     "ros\303\251",  "\177"};
  static const char *const bad[] = {"\200",
                                    "\277a",
                                    "\300\200",
                                    "\301\277",
                                    "\302",
                                    "\302a",
                                    "\340\237\277",
                                    "\355\240\200",
                                    "\355\277\277",
                                    "\340\240",
                                    "\340\240a",
                                    "\360\217\277\277",
                                    "\364\220\200\200",
                                    "\365\200\200\200",
                                    "\377",
                                    "\360\220\200",
                                    "a\tb\nc",
                                    "\037"};
  (void)state;
  for (size_t i = 0; i < sizeof good / sizeof good[0]; i++)
    assert_int_equal(colour_status(good[i]), GIRDLE_OK);
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
    assert_int_equal(colour_status(bad[i]), GIRDLE_SYNTAX);
}

static void stone_make_tells_which_field_is_wrong(void **state) {
  static const char long_name[] = "a name that is longer than any field of a stone may ever be";
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 11; i++) {
    static const char *const fields[] = {"size",     "fix",    "fix",  "outline",        "outline",      "cut",
                                         "material", "finish", "size", "least diameter", "most diameter"};
    static const int32_t statuses[] = {GIRDLE_ARGUMENT, GIRDLE_ARGUMENT, GIRDLE_ARGUMENT, GIRDLE_ARGUMENT,
                                       GIRDLE_ARGUMENT, GIRDLE_LIMIT,    GIRDLE_LIMIT,    GIRDLE_LIMIT,
                                       GIRDLE_LIMIT,    GIRDLE_ARGUMENT, GIRDLE_ARGUMENT};
    girdle_stone_spec spec;
    girdle_stone stone;
    girdle_stone_spec_init(&spec, sizeof spec);
    spec.size = i == 0 ? NULL : "ss20";
    if (i == 1) spec.fix = -1;
    if (i == 2) spec.fix = GIRDLE_FIX_END;
    if (i == 3) spec.outline = -1;
    if (i == 4) spec.outline = GIRDLE_OUTLINE_END;
    if (i == 5) spec.cut = long_name;
    if (i == 6) spec.material = long_name;
    if (i == 7) spec.finish = long_name;
    if (i == 8) spec.size = long_name, spec.diameter_mm[GIRDLE_NOMINAL] = 5;
    if (i == 9) spec.diameter_mm[GIRDLE_LEAST] = 6, spec.diameter_mm[GIRDLE_NOMINAL] = 5;
    if (i == 10) spec.diameter_mm[GIRDLE_MOST] = 3, spec.diameter_mm[GIRDLE_NOMINAL] = 5;
    assert_status(&test, girdle_stone_make(test_again(&test), &spec, &stone), statuses[i]);
    assert_string_equal(test.error.field, fields[i]);
  }
}

static void stone_make_takes_ranges_in_order(void **state) {
  static const struct {
    double least, nominal, most;
    int32_t status;
  } cases[] = {{4.9, 5, 5.1, GIRDLE_OK},   {5, 5, 5, GIRDLE_OK},           {NAN, 5, 5.1, GIRDLE_OK},
               {4.9, 5, NAN, GIRDLE_OK},   {5.1, 5, 5.2, GIRDLE_ARGUMENT}, {4.8, 5, 4.9, GIRDLE_ARGUMENT},
               {0.5, 0.5, 100, GIRDLE_OK}, {0.4, 0.5, 1, GIRDLE_ARGUMENT}, {0.5, 100, 100.1, GIRDLE_ARGUMENT}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone_spec spec;
    girdle_stone stone;
    girdle_stone_spec_init(&spec, sizeof spec);
    spec.diameter_mm[0] = cases[i].least;
    spec.diameter_mm[1] = cases[i].nominal;
    spec.diameter_mm[2] = cases[i].most;
    assert_int_equal(girdle_stone_make(NULL, &spec, &stone), cases[i].status);
    if (cases[i].status) continue;
    assert_near(stone.diameter_mm[0], isnan(cases[i].least) ? 5 : cases[i].least, 0);
    assert_near(stone.diameter_mm[2], isnan(cases[i].most) ? 5 : cases[i].most, 0);
  }
}

static void stone_parse_reads_up_to_24_words_and_200_bytes(void **state) {
  char text[256] = "ss20";
  girdle_stone stone;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int words = 2; words <= 24; words++)
    strcat(text, " a");
  assert_ok(&test, girdle_stone_parse(&test.call, text, &stone));
  assert_int_equal(strlen(stone.colour), 45);
  strcat(text, " a");
  assert_status(&test, girdle_stone_parse(&test.call, text, &stone), GIRDLE_LIMIT);
  assert_non_null(strstr(test.error.message, "more than 24 words"));
  memset(text, 'a', sizeof text);
  memcpy(text, "ss20 ", 5);
  text[200] = '\0';
  assert_status(&test, girdle_stone_parse(test_again(&test), text, &stone), GIRDLE_LIMIT);
  assert_string_equal(test.error.field, "colour"); /* which is too long; the text is not */
  text[200] = 'a';
  text[201] = '\0';
  assert_status(&test, girdle_stone_parse(test_again(&test), text, &stone), GIRDLE_LIMIT);
  assert_non_null(strstr(test.error.message, "more than 200 bytes"));
  memset(text, 'x', 150);
  text[150] = '\0';
  assert_status(&test, girdle_stone_parse(test_again(&test), text, &stone), GIRDLE_UNKNOWN);
  assert_status(&test, girdle_stone_parse(test_again(&test), "", &stone), GIRDLE_SYNTAX);
}

static void stone_parse_tells_facets_from_colours(void **state) {
  static const struct {
    const char *text;
    int32_t status;
    const char *colour;
  } cases[] = {{"ss20 3 facets", GIRDLE_OK, "clear"},
               {"ss20 64 facets", GIRDLE_OK, "clear"},
               {"ss20 64 facets turned", GIRDLE_OK, "clear"},
               {"ss20 2 facets", GIRDLE_ARGUMENT, NULL},
               {"ss20 65 facets turned", GIRDLE_ARGUMENT, NULL},
               {"ss20 -5 facets", GIRDLE_ARGUMENT, NULL},
               {"ss20 facets", GIRDLE_OK, "facets"},
               {"ss20 many facets", GIRDLE_OK, "many facets"},
               {"ss20 65 facetsed", GIRDLE_OK, "65 facetsed"},
               {"ss20 facets turned", GIRDLE_OK, "facets turned"},
               {"ss20 2 facets 14 facets", GIRDLE_OK, "2 facets"}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone stone;
    assert_int_equal(girdle_stone_parse(NULL, cases[i].text, &stone), cases[i].status);
    if (cases[i].colour) assert_string_equal(stone.colour, cases[i].colour);
  }
}

/* Words that are no outline, finish or fix of ours are colours. */
static void stone_parse_takes_other_words_for_colours(void **state) {
  static const char *const colours[] = {"unknown", "rounded", "pears",     "1.5",
                                        "glue",    "shiny",   "facets 14", "oval blue"};
  (void)state;
  for (size_t i = 0; i < sizeof colours / sizeof colours[0]; i++) {
    char text[64];
    girdle_stone stone;
    snprintf(text, sizeof text, "ss20 %s", colours[i]);
    stone = stone_of(text);
    assert_string_equal(stone.colour, colours[i]);
    assert_int_equal(stone.outline, GIRDLE_ROUND);
  }
}

/* Several stones without what parts them would pass for one of a long colour. */
static void stone_parse_refuses_a_second_stone_in_a_colour(void **state) {
  static const char *const several[] = {"ss20 black, ss20 clear", "ss20 black ss20 clear", "ss20 black; ss20 clear",
                                        "ss20 black 5 mm clear",  "ss20 black 5mm",        "ss20 ss16",
                                        "ss20 black, matt",       "ss20 red pp14 glued",   "5 mm red ss 20"};
  static const char *const one[] = {"ss20 red 14", "ss20 red 1.5 2", "ss20 mm 5", "ss20 glass mm", "ss20 no5 2nd red"};
  test_call test;
  (void)state;
  for (size_t i = 0; i < sizeof several / sizeof several[0]; i++) {
    girdle_stone stone;
    test_begin(&test);
    assert_status(&test, girdle_stone_parse(&test.call, several[i], &stone), GIRDLE_SYNTAX);
    assert_string_equal(test.error.field, "colour");
    assert_non_null(strstr(test.error.message, "like \"ss20 black; ss20 clear\""));
  }
  for (size_t i = 0; i < sizeof one / sizeof one[0]; i++)
    stone_of(one[i]);
}

/* What is near no name is shown all of them, and a decimal comma its point. */
static void stone_make_shows_what_it_knows(void **state) {
  static const struct {
    const char *size, *finish, *material, *cut, *text;
  } cases[] = {
      {"ss20", NULL, "acryl", NULL, "unknown material 'acryl', did you mean 'acrylic'?"},
      {"ss20", NULL, "ruby", NULL, "write one like \"soda-lime\"; known: soda-lime, full lead crystal, "},
      {"ss20", NULL, NULL, "rose", "write one like \"14 facets\"; known: 14 facets, 8 facets, "},
      {"ss20", "shiny", NULL, NULL, "write one like \"foiled\"; known: foiled, coated, plain, matt"},
      {"ss20", "mat", NULL, NULL, "unknown finish 'mat', did you mean 'matt'?"},
      {"4,7 mm", NULL, NULL, NULL, "'4,7 mm' has a comma for its decimal point; write one like \"4.7 mm\""},
      {"4,7", NULL, NULL, NULL, "'4,7' has a comma for its decimal point; write one like \"4.7 mm\""},
      {"4,x", NULL, NULL, NULL, "unknown size '4,x'"},
      {"4,", NULL, NULL, NULL, "unknown size '4,'"},
      {",7", NULL, NULL, NULL, "unknown size ',7'"},
      {"123456789,5", NULL, NULL, NULL, "unknown size '123456789,5'"},
  };
  test_call test;
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone_spec spec;
    girdle_stone stone;
    test_begin(&test);
    girdle_stone_spec_init(&spec, sizeof spec);
    spec.size = cases[i].size;
    spec.finish = cases[i].finish;
    spec.material = cases[i].material;
    spec.cut = cases[i].cut;
    assert_status(&test, girdle_stone_make(&test.call, &spec, &stone), GIRDLE_UNKNOWN);
    if (!strstr(test.error.message, cases[i].text)) print_error("%s\n", test.error.message);
    assert_non_null(strstr(test.error.message, cases[i].text));
  }
}

static void stone_equal_looks_at_every_quality(void **state) {
  static const char *const others[] = {"ss16 red",      "ss20 blue",         "ss20 red matt", "ss20 red acrylic",
                                       "ss20 red oval", "ss20 red 8 facets", "ss20 red sewn"};
  girdle_stone stone = stone_of("ss20 red"), other = stone;
  (void)state;
  for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
    other = stone_of(others[i]);
    assert_int_equal(girdle_stone_equal(&stone, &other), 0);
  }
  other = stone;
  other.diameter_mm[GIRDLE_NOMINAL] = 4.75;
  assert_int_equal(girdle_stone_equal(&stone, &other), 0);
  stone = stone_of("ss20 red oval 1.5");
  other = stone_of("ss20 red oval 1.6");
  assert_int_equal(girdle_stone_equal(&stone, &other), 0);
  other = stone;
  other.mass_mg[GIRDLE_NOMINAL] += 1; /* by weighing: still the same stone */
  assert_int_equal(girdle_stone_equal(&stone, &other), 1);
}

static void stone_same_place_looks_at_size_and_outline_alone(void **state) {
  static const char *const alike[] = {"ss20 blue", "ss20 red matt", "ss20 red acrylic", "ss20 red sewn"};
  static const char *const others[] = {"ss16 red", "ss20 red oval", "ss20 red oval 1.6"};
  girdle_stone stone = stone_of("ss20 red"), other;
  (void)state;
  for (size_t i = 0; i < sizeof alike / sizeof alike[0]; i++) {
    other = stone_of(alike[i]);
    assert_int_equal(girdle_stone_same_place(&stone, &other), 1);
  }
  for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
    other = stone_of(others[i]);
    assert_int_equal(girdle_stone_same_place(&stone, &other), 0);
  }
  stone = stone_of("ss20 red oval 1.5");
  assert_int_equal(girdle_stone_same_place(&stone, &other), 0); /* of another ratio */
}

static void weighed_find_takes_stones_of_the_same_model(void **state) {
  static const struct {
    const char *text;
    int same;
  } cases[] = {{"ss20 red oval 1.5", 1},         {"ss20 blue oval 1.5 matt sewn", 1},
               {"ss16 red oval 1.5", 0},         {"ss20 red oval 1.6", 0},
               {"ss20 red pear 1.5", 0},         {"ss20 red oval 1.5 acrylic", 0},
               {"ss20 red oval 1.5 8 facets", 0}};
  const girdle_stone weighed = stone_of("ss20 clear oval 1.5");
  const girdle_catalogue own = {.struct_bytes = sizeof own, .weighed = &weighed, .weighed_count = 1};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone stone = stone_of(cases[i].text);
    assert_int_equal(girdle_weighed_find(&stone, &own) != NULL, cases[i].same);
    assert_null(girdle_weighed_find(&stone, NULL));
    if (!cases[i].same) continue;
    stone.diameter_mm[GIRDLE_NOMINAL] = 4.75;
    assert_null(girdle_weighed_find(&stone, &own));
  }
}

static void stone_weigh_at_its_limits(void **state) {
  static const struct {
    int64_t pieces;
    double mass_mg, error_mg;
    int32_t status;
  } cases[] = {{1, 1e-6, 0, GIRDLE_OK},          {1, 9e-7, 0, GIRDLE_ARGUMENT},
               {1000000000, 1e12, 0, GIRDLE_OK}, {1000000001, 1, 0, GIRDLE_ARGUMENT},
               {1, 1.1e12, 0, GIRDLE_ARGUMENT},  {10, 100, 50, GIRDLE_OK},
               {10, 100, 50.1, GIRDLE_ARGUMENT}, {10, 100, -0.1, GIRDLE_ARGUMENT},
               {0, 100, 0, GIRDLE_ARGUMENT}};
  girdle_stone stone = stone_of("ss20");
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone out;
    double off;
    assert_int_equal(girdle_stone_weigh(NULL, &stone, cases[i].pieces, cases[i].mass_mg, cases[i].error_mg, &out, &off),
                     cases[i].status);
    if (cases[i].status) continue;
    assert_near(out.mass_mg[1], cases[i].mass_mg / (double)cases[i].pieces, 0);
    assert_near(off, stone.mass_mg[1] / out.mass_mg[1] - 1, 1e-9 * fabs(off));
  }
}

/* A field is filled to its last byte and no farther, a space in front of what does not fit left out. */
static void stone_fold_fills_a_field_to_its_end(void **state) {
  static const struct {
    const char *text, *field;
    int fits;
  } cases[] = {{"a", "a", 1},   {"ab", "ab", 1}, {"abc", "ab", 0}, {"a b", "a", 0}, {" a ", "a", 1},
               {"a  ", "a", 1}, {"", "", 1},     {"   ", "", 1},   {"AB", "ab", 1}, {"ab c", "ab", 0}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char field[3] = "??";
    assert_int_equal(girdle_stone_fold(field, sizeof field, cases[i].text), cases[i].fits);
    assert_string_equal(field, cases[i].field);
  }
}

/* However a name is written, it is looked for as it is folded. */
static void stone_named_folds_as_it_goes(void **state) {
  static const char *const names[] = {
      "14 facets", "  14   FACETS \t", "14facets", "14 facet", "14 facetss", "", " ", "a", "A b", "a  b", "ab", "[z",
      "@Z",        "\303\204 x",       "a\tb"};
  (void)state;
  for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
    for (size_t k = 0; k < sizeof names / sizeof names[0]; k++) {
      char one[32], other[32];
      assert_int_equal(girdle_stone_fold(one, sizeof one, names[i]), 1);
      assert_int_equal(girdle_stone_fold(other, sizeof other, names[k]), 1);
      assert_int_equal(girdle_stone_named(names[i], other), strcmp(one, other) == 0);
    }
}

/* ---- sizes */

static void size_parse_needs_no_place_for_its_error(void **state) {
  static const char *const bad[] = {"",
                                    "ss41",
                                    "ss999999999999999999",
                                    "pp25",
                                    "zzz",
                                    "500 mm",
                                    "a size of a great many letters, more than the sixty-four that are looked at here"};
  girdle_call call;
  girdle_size size;
  (void)state;
  girdle_call_init(&call, sizeof call); /* without an error */
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    assert_int_not_equal(girdle_size_parse(NULL, bad[i], &size), GIRDLE_OK);
    assert_int_not_equal(girdle_size_parse(&call, bad[i], &size), GIRDLE_OK);
  }
}

/* What is no number of a system is told as it was written. */
static void size_parse_tells_words_from_numbers(void **state) {
  static const char *const cases[][2] = {
      {"p20", "unknown size 'p20'"},        {"20p", "unknown size '20p'"},
      {"20 q", "unknown size '20 q'"},      {"ss41", "size 'ss41' is not listed"},
      {"41s", "size 'ss41' is not listed"}, {"PP 30", "size 'pp30' is not listed"},
      {"ss20.5", "unknown size 'ss20.5'"},  {"ss43", "nearest listed: ss42 and ss48"},
      {"ss99", "nearest listed: ss48"}};
  test_call test;
  girdle_size size;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    assert_status(&test, girdle_size_parse(test_again(&test), cases[i][0], &size), GIRDLE_UNKNOWN);
    if (!strstr(test.error.message, cases[i][1])) print_error("%s\n", test.error.message);
    assert_non_null(strstr(test.error.message, cases[i][1]));
  }
}

static void size_parse_keeps_the_first_error(void **state) {
  test_call test;
  girdle_size size;
  test_begin(&test);
  (void)state;
  assert_status(&test, girdle_size_parse(&test.call, "ss41", &size), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.nearest, "ss40");
  assert_int_equal(girdle_size_parse(&test.call, "ss21x", &size), GIRDLE_UNKNOWN);
  assert_int_equal(girdle_size_parse(&test.call, "pp30", &size), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.nearest, "ss40");
}

static void size_parse_at_the_ends_of_diameters(void **state) {
  static const struct {
    const char *text;
    int32_t status;
    double mm;
  } cases[] = {{"0.5 mm", GIRDLE_OK, 0.5},       {"0.4999 mm", GIRDLE_ARGUMENT, 0}, {"100 mm", GIRDLE_OK, 100},
               {"100.1 mm", GIRDLE_ARGUMENT, 0}, {"4.70004 mm", GIRDLE_OK, 4.7},    {"4.70006 mm", GIRDLE_OK, 4.7001}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_size size;
    assert_int_equal(girdle_size_parse(NULL, cases[i].text, &size), cases[i].status);
    if (!cases[i].status) assert_near(size.diameter_mm[GIRDLE_NOMINAL], cases[i].mm, 1e-12);
  }
}

static void size_likely_at_its_limits(void **state) {
  static const struct {
    double measured_mm, error_mm;
    int32_t status;
  } cases[] = {{0.1, 0, GIRDLE_OK},         {0.09, 0, GIRDLE_ARGUMENT}, {100, 1, GIRDLE_OK},
               {100.1, 0, GIRDLE_ARGUMENT}, {5, 1.01, GIRDLE_ARGUMENT}, {5, NAN, GIRDLE_ARGUMENT}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_size found[32];
    uint64_t count;
    assert_int_equal(girdle_size_likely(NULL, cases[i].measured_mm, cases[i].error_mm, NULL, found, 32, &count),
                     cases[i].status);
  }
}

/* However few are asked for, they are the first of all. */
static void size_likely_keeps_the_most_likely(void **state) {
  girdle_size all[32], few[32];
  uint64_t count, same;
  (void)state;
  assert_int_equal(girdle_size_likely(NULL, 2.6, 0.6, NULL, all, 32, &count), GIRDLE_OK);
  assert_true(count > 10 && count <= 32);
  for (uint64_t i = 1; i < count; i++)
    assert_true(fabs(all[i - 1].diameter_mm[1] - 2.6) <= fabs(all[i].diameter_mm[1] - 2.6) + 1e-9);
  for (uint64_t capacity = 0; capacity < count; capacity++) {
    assert_int_equal(girdle_size_likely(NULL, 2.6, 0.6, NULL, few, capacity, &same), GIRDLE_OK);
    assert_int_equal(same, count);
    for (uint64_t i = 0; i < capacity; i++)
      assert_string_equal(few[i].name, all[i].name);
  }
}

/* ---- cuts and materials */

static void cut_find_reads_any_number_of_facets(void **state) {
  static const struct {
    const char *name;
    int facets, turned; /* 0: none */
  } cases[] = {{"3 facets", 3, 0},        {"64 facets", 64, 0},     {"2 facets", 0, 0},   {"65 facets", 0, 0},
               {"9 facets turned", 9, 1}, {"09 facets", 0, 0},      {"100 facets", 0, 0}, {"facets", 0, 0},
               {"9 facet", 0, 0},         {"9 facetsturned", 0, 0}, {"9", 0, 0},          {"14 facets", 14, 0}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_cut room;
    const girdle_cut *found = girdle_cut_find(cases[i].name, NULL, &room);
    assert_int_equal(found != NULL, cases[i].facets > 0);
    if (!found) continue;
    assert_int_equal(found->facets, cases[i].facets);
    assert_int_equal(found->turned, cases[i].turned);
    assert_string_equal(found->name, cases[i].name);
  }
}

static girdle_cut plain_cut(void) {
  return (girdle_cut){"plain", 14, 0, {0.5, 0.5, 0.5}, {0.4, 0.4, 0.4}, {0.06, 0.06, 0.06}, ""};
}

static void cut_check_at_its_limits(void **state) {
  (void)state;
  for (int i = 0; i < 16; i++) {
    static const int good[] = {1, 1, 0, 0, 1, 0, 1, 0, 1, 0, 1, 0, 0, 1, 0, 0};
    girdle_cut cut = plain_cut();
    if (i == 0) cut.facets = 3;
    if (i == 1) cut.facets = 64;
    if (i == 2) cut.facets = 2;
    if (i == 3) cut.facets = 65;
    if (i == 4) cut.table_ratio[2] = 1;
    if (i == 5) cut.table_ratio[2] = 1.001;
    if (i == 6) cut.table_ratio[0] = 0.001;
    if (i == 7) cut.table_ratio[0] = 0.0009;
    if (i == 8) cut.height_ratio[2] = 3;
    if (i == 9) cut.height_ratio[2] = 3.01;
    if (i == 10) cut.girdle_ratio[0] = 0;
    if (i == 11) cut.girdle_ratio[0] = -0.01;
    if (i == 12) cut.girdle_ratio[2] = 0.4;
    if (i == 13) cut.girdle_ratio[2] = 0.396;
    if (i == 14) cut.girdle_ratio[2] = 0.397;
    if (i == 15) cut.height_ratio[1] = 0.39;
    assert_int_equal(girdle_cut_check(NULL, &cut, GIRDLE_ROUND, 1), good[i] ? GIRDLE_OK : GIRDLE_ARGUMENT);
  }
}

static void material_check_at_its_limits(void **state) {
  static const struct {
    double least, nominal, most;
    int32_t lead, status;
  } cases[] = {
      {0.01, 1, 100, 0, GIRDLE_OK},          {0.009, 1, 2, 0, GIRDLE_ARGUMENT}, {1, 2, 100.5, 0, GIRDLE_ARGUMENT},
      {1, 1, 1, GIRDLE_LEAD_YES, GIRDLE_OK}, {1, 1, 1, -1, GIRDLE_ARGUMENT},    {1, 1, 1, 4, GIRDLE_ARGUMENT},
      {1, 0.9, 1, 0, GIRDLE_ARGUMENT},       {1, 1, 0.9, 0, GIRDLE_ARGUMENT},   {0, 1, 1, 0, GIRDLE_ARGUMENT}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    const girdle_material material = {"resin", {cases[i].least, cases[i].nominal, cases[i].most}, 0, cases[i].lead, ""};
    assert_int_equal(girdle_material_check(NULL, &material), cases[i].status);
  }
}

/* Heights have limits of their own before those of the cut's ratio. */
static void stone_make_takes_heights_of_its_range(void **state) {
  static const struct {
    double diameter_mm, height_mm;
    const char *field; /* NULL: taken */
  } cases[] = {{100, 300, NULL},        {100, 300.5, "height"},  {0.5, 0.0101, "girdle ratio"},
               {0.5, 0.0099, "height"}, {5, 16, "height ratio"}, {5, 15, NULL},
               {5, 0.4, NULL}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone_spec spec;
    girdle_stone stone;
    int32_t status;
    girdle_stone_spec_init(&spec, sizeof spec);
    spec.diameter_mm[GIRDLE_NOMINAL] = cases[i].diameter_mm;
    spec.height_mm = cases[i].height_mm;
    status = girdle_stone_make(test_again(&test), &spec, &stone);
    assert_int_equal(status, cases[i].field ? GIRDLE_ARGUMENT : GIRDLE_OK);
    if (cases[i].field) assert_string_equal(test.error.field, cases[i].field);
  }
}

/* What is no fix is written as the usual one. */
static void stone_text_of_an_unknown_fix_is_glued(void **state) {
  static const int32_t fixes[] = {-1, GIRDLE_FIX_END, 99};
  (void)state;
  for (int i = 0; i < 3; i++) {
    girdle_stone stone = stone_of("ss20 red");
    char text[192];
    stone.fix = fixes[i];
    girdle_stone_text(&stone, text, sizeof text);
    assert_string_equal(text, "ss20 red foiled soda-lime round 14 facets glued");
  }
}

static void lead_caution_of_an_unknown_number_is_empty(void **state) {
  (void)state;
  assert_string_equal(girdle_lead_caution(GIRDLE_LEAD_NONE), "");
  assert_string_equal(girdle_lead_caution(99), "");
}

/* A turned table may reach to the middles of the girdle's edges: the cosine of half a facet when round. */
static void cut_check_keeps_a_turned_table_within_its_girdle(void **state) {
  (void)state;
  for (int32_t facets = 3; facets <= 64; facets++) {
    double widest = cos(acos(-1) / facets);
    for (int over = 0; over < 2; over++) {
      girdle_cut cut = plain_cut();
      cut.facets = facets;
      cut.turned = 1;
      cut.table_ratio[0] = cut.table_ratio[1] = cut.table_ratio[2] = widest + (over ? 1e-9 : -1e-9);
      assert_int_equal(girdle_cut_check(NULL, &cut, GIRDLE_ROUND, 1), over ? GIRDLE_ARGUMENT : GIRDLE_OK);
      assert_int_equal(girdle_cut_check(NULL, &cut, GIRDLE_HEART, 1), GIRDLE_OK); /* never turned there */
    }
  }
}

static void stones_of_no_facets_are_cut_as_the_house_does(void **state) {
  girdle_stone stone = stone_of("ss20"), other = stone;
  (void)state;
  other.facets = 0;
  assert_near(girdle_stone_footprint_mm2(&other), girdle_stone_footprint_mm2(&stone), 0);
  assert_int_equal(girdle_outline_facets(GIRDLE_ROUND, 2), 3);
  assert_int_equal(girdle_outline_facets(GIRDLE_ROUND, 65), 64);
  assert_int_equal(girdle_outline_facets(GIRDLE_NAVETTE, 63), 64);
  assert_int_equal(girdle_outline_facets(GIRDLE_NAVETTE, 65), 64);
  assert_int_equal(girdle_outline_facets(GIRDLE_HEART, 13), 14);
  assert_int_equal(girdle_outline_facets(GIRDLE_PEAR, 13), 13);
  assert_int_equal(girdle_outline_facets(GIRDLE_SQUARE, 14), 4);
  assert_int_equal(girdle_outline_facets(GIRDLE_RECTANGLE, 14), 4);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(stone_make_takes_utf8_alone),
      cmocka_unit_test(stone_make_tells_which_field_is_wrong),
      cmocka_unit_test(stone_make_takes_ranges_in_order),
      cmocka_unit_test(stone_parse_reads_up_to_24_words_and_200_bytes),
      cmocka_unit_test(stone_parse_tells_facets_from_colours),
      cmocka_unit_test(stone_parse_takes_other_words_for_colours),
      cmocka_unit_test(stone_parse_refuses_a_second_stone_in_a_colour),
      cmocka_unit_test(stone_make_shows_what_it_knows),
      cmocka_unit_test(stone_equal_looks_at_every_quality),
      cmocka_unit_test(stone_same_place_looks_at_size_and_outline_alone),
      cmocka_unit_test(weighed_find_takes_stones_of_the_same_model),
      cmocka_unit_test(stone_weigh_at_its_limits),
      cmocka_unit_test(stone_fold_fills_a_field_to_its_end),
      cmocka_unit_test(stone_named_folds_as_it_goes),
      cmocka_unit_test(size_parse_needs_no_place_for_its_error),
      cmocka_unit_test(size_parse_tells_words_from_numbers),
      cmocka_unit_test(size_parse_keeps_the_first_error),
      cmocka_unit_test(size_parse_at_the_ends_of_diameters),
      cmocka_unit_test(size_likely_at_its_limits),
      cmocka_unit_test(size_likely_keeps_the_most_likely),
      cmocka_unit_test(cut_find_reads_any_number_of_facets),
      cmocka_unit_test(cut_check_at_its_limits),
      cmocka_unit_test(material_check_at_its_limits),
      cmocka_unit_test(stone_make_takes_heights_of_its_range),
      cmocka_unit_test(stone_text_of_an_unknown_fix_is_glued),
      cmocka_unit_test(lead_caution_of_an_unknown_number_is_empty),
      cmocka_unit_test(cut_check_keeps_a_turned_table_within_its_girdle),
      cmocka_unit_test(stones_of_no_facets_are_cut_as_the_house_does),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
