/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "stone_internal.h"
#include "support.h"

/* ---- sizes */

/* Middles of the ranges of public size charts of the trade (common practice, no source). */
static void size_parse_gives_the_middle_of_the_range(void **state) {
  static const struct {
    const char *text;
    double least, nominal, most;
  } cases[] = {
      {"ss16", 3.8, 3.9, 4.0},    {"ss20", 4.6, 4.7, 4.8},   {"ss34", 7.07, 7.17, 7.27}, {"ss30", 6.32, 6.41, 6.5},
      {"ss5", 1.7, 1.8, 1.9},     {"ss000", 0.8, 0.85, 0.9}, {"ss00", 0.9, 0.95, 1.0},   {"ss0", 1.0, 1.05, 1.1},
      {"ss40", 8.41, 8.54, 8.67}, {"ss42", 9.1, 9.1, 9.1},   {"ss48", 11, 11, 11},       {"pp1", 0.8, 0.85, 0.9},
      {"pp10", 1.6, 1.65, 1.7},   {"pp24", 3.0, 3.05, 3.1},  {"5 mm", 5, 5, 5},          {"1/4 in", 6.35, 6.35, 6.35}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_size size;
    assert_ok(&test, girdle_size_parse(&test.call, cases[i].text, &size));
    assert_true(size.diameter_mm[GIRDLE_LEAST] == cases[i].least);
    assert_near(size.diameter_mm[GIRDLE_NOMINAL], cases[i].nominal, 0);
    assert_true(size.diameter_mm[GIRDLE_MOST] == cases[i].most);
  }
}

static void size_parse_takes_every_way_of_writing(void **state) {
  static const char *const cases[][2] = {
      {"SS20", "ss20"},  {"20ss", "ss20"},     {"20s", "ss20"},       {"ss 20", "ss20"},
      {"20 SS", "ss20"}, {" Ss  20 ", "ss20"}, {"ss020", "ss20"},     {"000ss", "ss000"},
      {"ss 00", "ss00"}, {"PP10", "pp10"},     {"10 pp", "pp10"},     {"pp 7", "pp7"},
      {"5mm", "5 mm"},   {"0.5 cm", "5 mm"},   {"4.70 mm", "4.7 mm"}, {"3/8 in", "9.525 mm"}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_size size;
    assert_ok(&test, girdle_size_parse(&test.call, cases[i][0], &size));
    assert_string_equal(size.name, cases[i][1]);
  }
}

static void size_parse_names_the_nearest(void **state) {
  static const char *const cases[][2] = {{"ss21x", "ss21"}, {"ss41", "ss40"},  {"ss47", "ss48"}, {"ss9999", "ss48"},
                                         {"pp25", "pp24"},  {"sss20", "ss20"}, {"xs20", "ss20"}, {"s20", "ss20"}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_size size;
    test_again(&test);
    assert_status(&test, girdle_size_parse(&test.call, cases[i][0], &size), GIRDLE_UNKNOWN);
    assert_string_equal(test.error.nearest, cases[i][1]);
    assert_string_equal(test.error.field, "size");
    assert_non_null(strstr(test.error.message, "\"ss20\" or \"5 mm\""));
    assert_non_null(strstr(test.error.message, cases[i][0]));
  }
  test_again(&test);
  assert_status(&test, girdle_size_parse(&test.call, "ss41", &(girdle_size){0}), GIRDLE_UNKNOWN);
  assert_non_null(strstr(test.error.message, "ss40 and ss42"));
}

static void size_parse_refuses_what_is_no_size(void **state) {
  static const char *const unknown[] = {
      "",      " ",    "20",   "ss",     "mm",     "5",          "nan mm", "ss-20",
      "ss2.5", "20sp", "ps20", "ss20ss", "5,5 mm", "ss20 black", "pps10",  "ss 2 0 0 0 0 0 0 0 0 0 0 0 0 0 0"};
  static const char *const out_of_range[] = {"0 mm", "-5 mm", "0.4 mm", "101 mm", "1e9 mm"};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof unknown / sizeof unknown[0]; i++) {
    test_again(&test);
    assert_status(&test, girdle_size_parse(&test.call, unknown[i], &(girdle_size){0}), GIRDLE_UNKNOWN);
    assert_non_null(strstr(test.error.message, "write one like"));
  }
  for (size_t i = 0; i < sizeof out_of_range / sizeof out_of_range[0]; i++) {
    test_again(&test);
    assert_status(&test, girdle_size_parse(&test.call, out_of_range[i], &(girdle_size){0}), GIRDLE_ARGUMENT);
  }
}

static void sizes_stand_in_order_without_gaps_or_overlaps(void **state) {
  uint64_t count;
  const girdle_size *sizes = girdle_sizes(&count);
  (void)state;
  assert_int_equal(count, 45 + 24);
  for (uint64_t i = 0; i < count; i++) {
    int first = i == 0 || sizes[i].name[0] != sizes[i - 1].name[0];
    girdle_size back;
    assert_int_equal(girdle_size_parse(NULL, sizes[i].name, &back), GIRDLE_OK);
    assert_string_equal(back.name, sizes[i].name);
    assert_true(sizes[i].diameter_mm[0] <= sizes[i].diameter_mm[1]);
    assert_true(sizes[i].diameter_mm[1] <= sizes[i].diameter_mm[2]);
    if (first || strcmp(sizes[i].name, "ss42") == 0 || strcmp(sizes[i].name, "ss48") == 0) continue;
    assert_true(sizes[i].diameter_mm[GIRDLE_LEAST] == sizes[i - 1].diameter_mm[GIRDLE_MOST]);
  }
}

/* ---- stones */

static void stone_make_takes_the_defaults(void **state) {
  girdle_stone_spec spec;
  girdle_stone stone;
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = "20ss";
  assert_ok(&test, girdle_stone_make(&test.call, &spec, &stone));
  assert_string_equal(stone.size, "ss20");
  assert_string_equal(stone.colour, "clear");
  assert_string_equal(stone.finish, "foiled");
  assert_string_equal(stone.material, "soda-lime");
  assert_string_equal(stone.cut, "14 facets");
  assert_int_equal(stone.outline, GIRDLE_ROUND);
  assert_int_equal(stone.fix, GIRDLE_GLUE);
  assert_true(stone.length_ratio == 1);
  assert_true(stone.mass_mg[0] > 0 && stone.mass_mg[0] < stone.mass_mg[1] && stone.mass_mg[1] < stone.mass_mg[2]);
}

static void stone_make_takes_a_weighed_mass_and_a_height(void **state) {
  girdle_stone_spec spec;
  girdle_stone low, high;
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = "ss20";
  spec.mass_mg[GIRDLE_NOMINAL] = 55;
  spec.mass_mg[GIRDLE_MOST] = 56;
  assert_ok(&test, girdle_stone_make(&test.call, &spec, &low));
  assert_true(low.mass_mg[0] == 55 && low.mass_mg[1] == 55 && low.mass_mg[2] == 56);
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = "ss20";
  spec.height_mm = 1.6;
  assert_ok(&test, girdle_stone_make(&test.call, &spec, &low));
  spec.height_mm = 2.4;
  assert_ok(&test, girdle_stone_make(&test.call, &spec, &high));
  assert_near(high.height_mm, 2.4, 1e-12);
  assert_true(high.mass_mg[1] > low.mass_mg[1]);
}

static void stone_make_takes_sizes_cuts_and_materials_of_ones_own(void **state) {
  static const girdle_size sizes[] = {{"No 5", {4.9, 5.0, 5.1}, GIRDLE_OWN_SIZE, 0},
                                      {"ss20", {4.7, 4.75, 4.8}, GIRDLE_OWN_SIZE, 0}};
  static const girdle_cut cuts[] = {{"Low dome", 10, 1, {0.3, 0.3, 0.3}, {0.25, 0.25, 0.25}, {0, 0, 0}, ""}};
  static const girdle_material materials[] = {
      {"House resin", {1.3, 1.3, 1.3}, 0, GIRDLE_LEAD_NONE, "weighed in water"}};
  const girdle_catalogue own = {sizeof own, 0, sizes, 2, cuts, 1, materials, 1};
  girdle_stone stone, usual, back;
  char text[256];
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_stone_parse_own(&test.call, "no 5 sea green house resin low dome", &own, &stone));
  assert_string_equal(stone.size, "No 5");
  assert_string_equal(stone.colour, "sea green");
  assert_string_equal(stone.material, "house resin");
  assert_string_equal(stone.cut, "low dome");
  assert_int_equal(stone.facets, 10);
  girdle_stone_text(&stone, text, sizeof text);
  assert_ok(&test, girdle_stone_parse_own(&test.call, text, &own, &back));
  assert_true(girdle_stone_equal(&stone, &back));
  assert_ok(&test, girdle_stone_parse_own(&test.call, "SS 20", &own, &stone));
  assert_ok(&test, girdle_stone_parse(&test.call, "ss20", &usual));
  assert_true(stone.diameter_mm[1] == 4.75 && usual.diameter_mm[1] == 4.7);
  assert_status(&test, girdle_stone_parse(&test.call, "no 5 sea green", &stone), GIRDLE_UNKNOWN);
}

static void catalogue_check_names_the_row(void **state) {
  const girdle_size size = {"house 5", {4.9, 5, 5.1}, GIRDLE_OWN_SIZE, 0};
  const girdle_cut cut = {"low", 10, 0, {0.3, 0.3, 0.3}, {0.25, 0.25, 0.25}, {0, 0, 0}, ""};
  const girdle_material material = {"resin", {1.1, 1.2, 1.3}, 0, GIRDLE_LEAD_NONE, ""};
  const girdle_stone stone = {.size = "ss20", .mass_mg = {50, 50, 50}, .flags = GIRDLE_MASS_WEIGHED};
  const girdle_catalogue good = {sizeof good, 0, &size, 1, &cut, 1, &material, 1, &stone, 1};
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_catalogue_check(&test.call, &good));
  for (int i = 0; i < 12; i++) {
    static const char *const messages[] = {
        "a size needs a name",       "size 'house 5': diameter",   "size 'house 5': diameter",
        "size 'house 5': certainty", "a cut needs a name",         "cut 'low': facets",
        "cut 'low': table ratio",    "a material needs a name",    "material 'resin': density",
        "material 'resin': lead",    "weighed stone 'ss20': mass", "weighed stone 'ss20': its"};
    girdle_size bad_size = size;
    girdle_cut bad_cut = cut;
    girdle_material bad_material = material;
    girdle_stone bad_stone = stone;
    const girdle_catalogue bad = {sizeof bad, 0, &bad_size, 1, &bad_cut, 1, &bad_material, 1, &bad_stone, 1};
    if (i == 0) bad_size.name[0] = '\0';
    if (i == 1) bad_size.diameter_mm[0] = 0.4;
    if (i == 2) bad_size.diameter_mm[2] = 4.95;
    if (i == 3) bad_size.certainty = 9;
    if (i == 4) bad_cut.name[0] = '\0';
    if (i == 5) bad_cut.facets = 2;
    if (i == 6) bad_cut.table_ratio[1] = NAN;
    if (i == 7) bad_material.name[0] = '\0';
    if (i == 8) bad_material.density_g_cm3[2] = INFINITY;
    if (i == 9) bad_material.lead = 4;
    if (i == 10) bad_stone.mass_mg[1] = -1;
    if (i == 11) bad_stone.flags = 0;
    assert_status(&test, girdle_catalogue_check(test_again(&test), &bad), GIRDLE_ARGUMENT);
    if (strncmp(test.error.message, messages[i], strlen(messages[i])) != 0) print_error("%s\n", test.error.message);
    assert_memory_equal(test.error.message, messages[i], strlen(messages[i]));
    assert_int_equal(girdle_catalogue_check(NULL, &bad), GIRDLE_ARGUMENT);
  }
}

static void stone_make_refuses_bad_numbers(void **state) {
  static const double bad[] = {-1, 0, 1e9, INFINITY, -INFINITY};
  girdle_stone untouched, stone;
  test_call test;
  test_begin(&test);
  (void)state;
  memset(&untouched, 7, sizeof untouched);
  for (int field = 0; field < 4; field++) {
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
      girdle_stone_spec spec;
      girdle_stone_spec_init(&spec, sizeof spec);
      spec.size = "ss20";
      spec.outline = GIRDLE_OVAL;
      *(field == 0   ? &spec.height_mm
        : field == 1 ? &spec.length_ratio
        : field == 2 ? &spec.diameter_mm[1]
                     : &spec.mass_mg[1]) = bad[i];
      if (field == 3 && bad[i] == 1e9) continue;
      test_again(&test);
      stone = untouched;
      assert_status(&test, girdle_stone_make(&test.call, &spec, &stone), GIRDLE_ARGUMENT);
      assert_true(test.error.field[0] && test.error.message[0]);
      assert_memory_equal(&stone, &untouched, sizeof stone);
    }
  }
}

static void stone_make_names_the_nearest_quality(void **state) {
  static const struct {
    const char *finish, *material, *cut, *nearest;
  } cases[] = {
      {"foild", NULL, NULL, "foiled"}, {NULL, "soda lime", NULL, "soda-lime"}, {NULL, NULL, "14 facet", "14 facets"}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone_spec spec;
    girdle_stone stone;
    girdle_stone_spec_init(&spec, sizeof spec);
    spec.size = "ss20";
    spec.finish = cases[i].finish;
    spec.material = cases[i].material;
    spec.cut = cases[i].cut;
    test_again(&test);
    assert_status(&test, girdle_stone_make(&test.call, &spec, &stone), GIRDLE_UNKNOWN);
    assert_string_equal(test.error.nearest, cases[i].nearest);
  }
}

static void stone_make_takes_texts_of_the_full_length(void **state) {
  girdle_stone_spec spec;
  girdle_stone stone;
  char colour[64];
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = "ss20";
  spec.colour = colour;
  for (int spaced = 0; spaced < 2; spaced++) {
    memset(colour, 'x', sizeof colour);
    if (spaced) colour[20] = ' ';
    colour[47] = '\0';
    assert_ok(&test, girdle_stone_make(&test.call, &spec, &stone));
    assert_string_equal(stone.colour, colour);
    colour[47] = 'x';
    colour[48] = '\0';
    assert_status(&test, girdle_stone_make(&test.call, &spec, &stone), GIRDLE_LIMIT);
    assert_non_null(strstr(test.error.message, "more than 47 bytes"));
    test_again(&test);
  }
}

static void stone_make_reads_colours_alike_however_they_are_spaced(void **state) {
  girdle_stone_spec spec;
  girdle_stone stone;
  (void)state;
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = "ss20";
  spec.colour = " \t Red   ROSE ";
  assert_int_equal(girdle_stone_make(NULL, &spec, &stone), GIRDLE_OK);
  assert_string_equal(stone.colour, "red rose");
  spec.colour = "   ";
  assert_int_equal(girdle_stone_make(NULL, &spec, &stone), GIRDLE_OK);
  assert_string_equal(stone.colour, "clear");
}

static void stone_make_takes_length_ratios_of_1_to_5(void **state) {
  static const struct {
    double ratio;
    int32_t status;
  } cases[] = {{1, GIRDLE_OK}, {5, GIRDLE_OK}, {5.01, GIRDLE_ARGUMENT}, {0.99, GIRDLE_ARGUMENT}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone_spec spec;
    girdle_stone stone;
    girdle_stone_spec_init(&spec, sizeof spec);
    spec.size = "ss20";
    spec.outline = GIRDLE_NAVETTE;
    spec.length_ratio = cases[i].ratio;
    assert_int_equal(girdle_stone_make(NULL, &spec, &stone), cases[i].status);
  }
}

/* ---- texts */

static void stone_parse_reads_a_size_and_a_colour(void **state) {
  static const struct {
    const char *text, *size, *colour, *finish, *material, *cut;
    int32_t outline, fix;
    double ratio;
  } cases[] = {
      {"ss20 black", "ss20", "black", "foiled", "soda-lime", "14 facets", GIRDLE_ROUND, GIRDLE_GLUE, 1},
      {"20SS  Ruby Red", "ss20", "ruby red", "foiled", "soda-lime", "14 facets", GIRDLE_ROUND, GIRDLE_GLUE, 1},
      {"ss 20", "ss20", "clear", "foiled", "soda-lime", "14 facets", GIRDLE_ROUND, GIRDLE_GLUE, 1},
      {"5 mm pale blue matt", "5 mm", "pale blue", "matt", "soda-lime", "14 facets", GIRDLE_ROUND, GIRDLE_GLUE, 1},
      {"ss12 acrylic", "ss12", "clear", "foiled", "pmma", "14 facets", GIRDLE_ROUND, GIRDLE_GLUE, 1},
      {"ss34 red full lead crystal plain pear sewn", "ss34", "red", "plain", "full lead crystal", "14 facets",
       GIRDLE_PEAR, GIRDLE_SEW, 1.5},
      {"ss34 red pear 1.6 12 facets glued and sewn", "ss34", "red", "foiled", "soda-lime", "12 facets", GIRDLE_PEAR,
       GIRDLE_GLUE_AND_SEW, 1.6},
      {"1 1/2 in gold heart", "38.1 mm", "gold", "foiled", "soda-lime", "14 facets", GIRDLE_HEART, GIRDLE_GLUE, 1},
      {"ss20 matt coated", "ss20", "matt", "coated", "soda-lime", "14 facets", GIRDLE_ROUND, GIRDLE_GLUE, 1},
      {"pp10 plain", "pp10", "clear", "plain", "soda-lime", "14 facets", GIRDLE_ROUND, GIRDLE_GLUE, 1},
      {"ss20 red 9 facets turned", "ss20", "red", "foiled", "soda-lime", "9 facets turned", GIRDLE_ROUND, GIRDLE_GLUE,
       1},
  };
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone stone;
    assert_ok(&test, girdle_stone_parse(&test.call, cases[i].text, &stone));
    assert_string_equal(stone.size, cases[i].size);
    assert_string_equal(stone.colour, cases[i].colour);
    assert_string_equal(stone.finish, cases[i].finish);
    assert_string_equal(stone.material, cases[i].material);
    assert_string_equal(stone.cut, cases[i].cut);
    assert_int_equal(stone.outline, cases[i].outline);
    assert_int_equal(stone.fix, cases[i].fix);
    assert_true(stone.length_ratio == cases[i].ratio);
  }
}

static void stone_parse_reads_width_and_length(void **state) {
  static const struct {
    const char *text, *written;
    double width_mm, ratio;
  } cases[] = {{"10 x 14 mm red oval", "10 mm red oval", 10, 1.4},
               {"14 x 10 mm red oval", "10 mm red oval", 10, 1.4},
               {"10 mm x 14 mm red oval", "10 mm red oval", 10, 1.4},
               {"10x15mm red pear", "10 mm red pear", 10, 1.5},
               {"1 X 1.6 CM red pear", "10 mm red pear 1.6", 10, 1.6},
               {"10 \303\227 20 mm red navette", "10 mm red navette", 10, 2},
               {"10\303\22720 mm red navette", "10 mm red navette", 10, 2},
               {"1 1/2 in by 2 1/4 in red rectangle", "38.1 mm red rectangle", 38.1, 1.5},
               {"7 by 10 mm red heart", "7 mm red heart 1.4286", 7, 1.4286},
               {"8 x 8 mm red square sewn", "8 mm red square sewn", 8, 1},
               {"8 x 8 mm red", "8 mm red", 8, 1}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone stone;
    char text[256];
    assert_ok(&test, girdle_stone_parse(&test.call, cases[i].text, &stone));
    assert_near(stone.diameter_mm[GIRDLE_NOMINAL], cases[i].width_mm, 1e-12);
    assert_near(stone.length_ratio, cases[i].ratio, 1e-12);
    girdle_stone_text(&stone, text, sizeof text);
    assert_string_equal(text, cases[i].written);
  }
}

static void stone_make_takes_width_and_length_as_its_size(void **state) {
  static const girdle_size sizes[] = {{"10 x 14 mm", {9.8, 9.9, 10}, GIRDLE_OWN_SIZE, 0}};
  const girdle_catalogue own = {.struct_bytes = sizeof own, .sizes = sizes, .size_count = 1};
  girdle_stone_spec spec;
  girdle_stone stone;
  test_call test;
  test_begin(&test);
  (void)state;
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = "10 x 14 mm";
  spec.outline = GIRDLE_PEAR;
  assert_ok(&test, girdle_stone_make(&test.call, &spec, &stone));
  assert_string_equal(stone.size, "10 mm");
  assert_near(stone.length_ratio, 1.4, 0);
  spec.own = &own; /* a size of that very name */
  assert_ok(&test, girdle_stone_make(&test.call, &spec, &stone));
  assert_string_equal(stone.size, "10 x 14 mm");
  assert_near(stone.length_ratio, 1.5, 0);
  assert_ok(&test, girdle_stone_parse_own(&test.call, "10 x 14 mm red", &own, &stone));
  assert_near(stone.diameter_mm[GIRDLE_NOMINAL], 9.9, 0);
  assert_string_equal(stone.colour, "red");
}

static void stone_make_refuses_materials_that_are_no_numbers(void **state) {
  static const double bad[] = {NAN, INFINITY, -1, 0};
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 12; i++) {
    girdle_material material = {"resin", {1.1, 1.2, 1.3}, 0, GIRDLE_LEAD_NONE, "weighed"};
    const girdle_catalogue own = {sizeof own, 0, NULL, 0, NULL, 0, &material, 1};
    girdle_stone stone;
    assert_ok(&test, girdle_stone_parse_own(test_again(&test), "ss20 resin", &own, &stone));
    material.density_g_cm3[i / 4] = bad[i % 4];
    assert_status(&test, girdle_stone_parse_own(test_again(&test), "ss20 resin", &own, &stone), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, "density");
  }
}

static void stone_make_refuses_ends_without_a_middle(void **state) {
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 4; i++) {
    girdle_stone_spec spec;
    girdle_stone stone;
    girdle_stone_spec_init(&spec, sizeof spec);
    spec.size = "ss20";
    (i < 2 ? spec.mass_mg : spec.diameter_mm)[i % 2 ? GIRDLE_MOST : GIRDLE_LEAST] = 5;
    assert_status(&test, girdle_stone_make(test_again(&test), &spec, &stone), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, i < 2 ? "mass" : "diameter");
  }
}

static void stone_make_names_a_size_by_its_diameter(void **state) {
  static const struct {
    const char *size;
    double diameter_mm;
    const char *name;
  } cases[] = {{"ss20", 5, "5 mm"}, {"ss20", 4.7, "ss20"}, {"house size", 5, "house size"}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 3; i++) {
    girdle_stone_spec spec;
    girdle_stone stone;
    girdle_stone_spec_init(&spec, sizeof spec);
    spec.size = cases[i].size;
    spec.diameter_mm[GIRDLE_NOMINAL] = cases[i].diameter_mm;
    assert_ok(&test, girdle_stone_make(&test.call, &spec, &stone));
    assert_string_equal(stone.size, cases[i].name);
    assert_true(stone.diameter_mm[GIRDLE_NOMINAL] == cases[i].diameter_mm);
  }
}

static void stone_parse_refuses(void **state) {
  static const struct {
    const char *text;
    int32_t status;
  } cases[] = {{"", GIRDLE_SYNTAX},
               {"black", GIRDLE_UNKNOWN},
               {"ss21x black", GIRDLE_UNKNOWN},
               {"ss 41 black", GIRDLE_UNKNOWN},
               {"20 black", GIRDLE_UNKNOWN},
               {"500 mm black", GIRDLE_ARGUMENT},
               {"ss20 bl\nack", GIRDLE_SYNTAX},
               {"ss20 oval 9", GIRDLE_ARGUMENT},
               {"ss20 65 facets", GIRDLE_ARGUMENT},
               {"ss20 black 2 facets", GIRDLE_ARGUMENT},
               {"ss20 100 facets turned sewn", GIRDLE_ARGUMENT},
               {"ss20 bl\xff", GIRDLE_SYNTAX},
               {"ss20 bl\xc0\xaf", GIRDLE_SYNTAX},
               {"ss20 bl\xed\xa0\x80", GIRDLE_SYNTAX},
               {"ss20 bl\xf4\x90\x80\x80", GIRDLE_SYNTAX},
               {"ss20 bl\xe2\x82", GIRDLE_SYNTAX},
               {"ss20 round 1.5", GIRDLE_ARGUMENT},
               {"10 x 14 mm", GIRDLE_ARGUMENT},
               {"10 x 14 mm red oval 1.4", GIRDLE_ARGUMENT},
               {"8 x 9 mm red square", GIRDLE_ARGUMENT},
               {"8 x 50 mm red oval", GIRDLE_ARGUMENT},
               {"200 x 300 mm red oval", GIRDLE_ARGUMENT},
               {"0 x 3 mm red oval", GIRDLE_ARGUMENT},
               {"10 x 14 red oval", GIRDLE_SYNTAX},
               {"10 x 14 x 3 mm red oval", GIRDLE_SYNTAX},
               {"5 mm x 3 red", GIRDLE_SYNTAX},
               {"ss20 sewn sewn", GIRDLE_SYNTAX},
               {"ss20 glued sewn", GIRDLE_SYNTAX},
               {"ss20 red matt matt", GIRDLE_SYNTAX},
               {"ss20 red pear pear 1.6", GIRDLE_SYNTAX},
               {"ss20 acrylic acrylic", GIRDLE_SYNTAX},
               {"ss20 12 facets 12 facets", GIRDLE_SYNTAX},
               {"ss20 a colour name that goes on and on and on until it is too long", GIRDLE_LIMIT},
               {"ss20 a a a a a a a a a a a a a a a a a a a a a a a a a a", GIRDLE_LIMIT}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_again(&test);
    assert_status(&test, girdle_stone_parse(&test.call, cases[i].text, &(girdle_stone){0}), cases[i].status);
    assert_true(test.error.message[0] != '\0');
  }
}

static void stone_parse_tells_what_to_leave_out(void **state) {
  static const char *const cases[][2] = {
      {"ss20 red sewn sewn", "'sewn sewn' says the same thing twice"},
      {"10 x 14 mm red oval 1.4", "leave the length ratio out"},
      {"10 x 14 mm red", "a stone of '10 x 14 mm' is not round; name its outline, like \"10 x 14 mm red oval\""},
      {"10 x 14 red oval", "'10 x 14 red' is not a width and a length"},
      {"ss20 x 3", "'x 3'"}};
  test_call test;
  girdle_stone_spec spec;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    assert_true(girdle_stone_parse(test_again(&test), cases[i][0], &(girdle_stone){0}) != GIRDLE_OK);
    assert_non_null(strstr(test.error.message, cases[i][1]));
  }
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = "10 x 14 x 3 mm";
  spec.outline = GIRDLE_OVAL;
  assert_status(&test, girdle_stone_make(test_again(&test), &spec, &(girdle_stone){0}), GIRDLE_SYNTAX);
  assert_string_equal(test.error.message,
                      "'10 x 14 x 3 mm' is not a width and a length; write one like \"10 x 14 mm\"");
  spec.size = "10 x 14 mm";
  spec.diameter_mm[GIRDLE_NOMINAL] = 10;
  assert_status(&test, girdle_stone_make(test_again(&test), &spec, &(girdle_stone){0}), GIRDLE_ARGUMENT);
  assert_non_null(strstr(test.error.message, "leave the diameter out"));
}

static void stone_text_is_short(void **state) {
  static const char *const cases[][2] = {
      {"SS20 Black", "ss20 black"},
      {"ss20", "ss20 clear"},
      {"ss20 matt foiled", "ss20 matt foiled soda-lime round 14 facets glued"},
      {"ss20 red matt matt soda-lime round 14 facets glued", "ss20 red matt matt soda-lime round 14 facets glued"},
      {"5mm red oval", "5 mm red oval"},
      {"ss20 red oval 1.40", "ss20 red oval"},
      {"ss20 red oval 1.6 sewn", "ss20 red oval 1.6 sewn"}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone stone;
    char text[256];
    assert_ok(&test, girdle_stone_parse(&test.call, cases[i][0], &stone));
    assert_int_equal(girdle_stone_text(&stone, text, sizeof text), strlen(cases[i][1]));
    assert_string_equal(text, cases[i][1]);
    assert_int_equal(girdle_stone_text(&stone, NULL, 0), strlen(cases[i][1]));
  }
}

/* Colours made of the very words that name qualities are the worst case. */
static void stone_text_reads_back_equal(void **state) {
  static const char *const words[] = {"matt",   "oval",    "2",       "14",   "facets", "sewn",  "glued",
                                      "and",    "lead",    "crystal", "full", "red",    "clear", "soda-lime",
                                      "turned", "acrylic", "1.5",     "20",   "mms",    "heart"};
  static const char *const finishes[] = {"foiled", "coated", "plain", "matt"};
  static const char *const materials[] = {"soda-lime", "lead crystal", "acrylic", "full lead crystal"};
  static const char *const cuts[] = {"14 facets", "12 facets", "17 facets turned"};
  uint64_t random = 11;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 10000; i++) {
    girdle_stone_spec spec;
    girdle_stone stone, back;
    char colour[64] = "", text[256];
    int count = (int)(test_random(&random) % 4) + 1;
    for (int k = 0; k < count; k++) {
      if (k) strcat(colour, " ");
      strcat(colour, words[test_random(&random) % 20]);
    }
    girdle_stone_spec_init(&spec, sizeof spec);
    spec.size = test_random(&random) % 2 ? "ss20" : "5 mm";
    spec.colour = colour;
    spec.finish = finishes[test_random(&random) % 4];
    spec.material = materials[test_random(&random) % 4];
    spec.cut = cuts[test_random(&random) % 3];
    spec.outline = (int32_t)(test_random(&random) % GIRDLE_OUTLINE_END);
    spec.fix = (int32_t)(test_random(&random) % GIRDLE_FIX_END);
    if (spec.outline != GIRDLE_ROUND && spec.outline != GIRDLE_SQUARE && test_random(&random) % 2)
      spec.length_ratio = 1 + 4 * test_uniform(&random);
    assert_ok(&test, girdle_stone_make(&test.call, &spec, &stone));
    girdle_stone_text(&stone, text, sizeof text);
    assert_ok(&test, girdle_stone_parse(&test.call, text, &back));
    if (!girdle_stone_equal(&stone, &back)) print_error("colour '%s', text '%s'\n", colour, text);
    assert_true(girdle_stone_equal(&stone, &back));
  }
}

/* ---- how a stone lies */

static girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

static void stone_reach_is_half_the_diameter_when_round(void **state) {
  girdle_stone stone = stone_of("ss20");
  (void)state;
  for (int i = 0; i < 360; i += 7)
    assert_true(girdle_stone_reach_mm(&stone, 3.0 * i, i) == 4.7 / 2);
  assert_true(girdle_stone_circle_mm(&stone) == 4.7 / 2);
}

static void stone_reach_knows_length_and_width(void **state) {
  static const char *const outlines[] = {"oval", "pear", "navette", "rectangle", "heart"};
  (void)state;
  for (size_t i = 0; i < sizeof outlines / sizeof outlines[0]; i++) {
    char text[64];
    girdle_stone stone;
    snprintf(text, sizeof text, "10 mm red %s 1.7", outlines[i]);
    stone = stone_of(text);
    for (int towards = 0; towards < 360; towards += 90) {
      double expected = towards % 180 ? 5 : 8.5;
      assert_near(girdle_stone_reach_mm(&stone, 0, towards), expected, 1e-12);
      assert_near(girdle_stone_reach_mm(&stone, 37, towards + 37), expected, 1e-12);
    }
  }
}

static void stone_circle_holds_the_outline_in_every_direction(void **state) {
  (void)state;
  for (int32_t outline = 0; outline < GIRDLE_OUTLINE_END; outline++) {
    for (double ratio = 1; ratio <= 3; ratio += 0.25) {
      girdle_stone stone = stone_of("10 mm");
      double widest = 0, circle;
      stone.outline = outline;
      stone.length_ratio = outline == GIRDLE_ROUND || outline == GIRDLE_SQUARE ? 1 : ratio;
      circle = girdle_stone_circle_mm(&stone);
      for (double towards = 0; towards < 360; towards += 0.01) {
        double reach = girdle_stone_reach_mm(&stone, 0, towards);
        if (reach > widest) widest = reach;
      }
      assert_near(widest, circle, 1e-6 * circle); /* touches it, and does not pass it */
    }
  }
}

/* Against the outline's own points, walked densely: nothing passes the reach, and something comes close to it. */
static void stone_reach_is_the_outlines_support(void **state) {
  (void)state;
  for (int32_t outline = 0; outline < GIRDLE_OUTLINE_END; outline++) {
    for (double ratio = 1; ratio <= 2.5; ratio += 0.5) {
      girdle_stone stone = stone_of("10 mm");
      stone.outline = outline;
      stone.length_ratio = girdle_outline_is_even(outline) ? 1 : ratio;
      for (int towards = 0; towards < 360; towards += 5) {
        double angle = towards * 3.14159265358979323846 / 180, farthest = 0;
        for (int i = 0; i < 4000; i++) {
          double point[2];
          girdle_outline_point(outline, stone.length_ratio, i / 4000.0, point);
          farthest = fmax(farthest, 5 * (point[0] * cos(angle) + point[1] * sin(angle)));
        }
        assert_near(girdle_stone_reach_mm(&stone, 0, towards), farthest, 2e-5);
        assert_true(girdle_stone_reach_mm(&stone, 0, towards) > farthest - 1e-12);
      }
    }
  }
}

static void stone_of_an_unknown_outline_harms_nothing(void **state) {
  girdle_stone stone = stone_of("ss20 red");
  char text[192];
  (void)state;
  stone.outline = 99;
  stone.fix = -7;
  girdle_stone_text(&stone, text, sizeof text);
  assert_non_null(strstr(text, "ss20 red"));
  assert_true(girdle_stone_circle_mm(&stone) > 0);
}

/* A support function's area: half the integral of h^2 - h'^2 over the circle; the heart's is its convex hull's. */
static void stone_footprint_grows_to_the_outline_with_the_facets(void **state) {
  (void)state;
  for (int32_t outline = 0; outline < GIRDLE_OUTLINE_END; outline++) {
    girdle_stone stone = stone_of("10 mm");
    double area = 0, step = 3.14159265358979323846 / 18000;
    stone.outline = outline;
    stone.length_ratio = outline == GIRDLE_ROUND || outline == GIRDLE_SQUARE ? 1 : 1.5;
    for (int i = 0; i < 36000; i++) {
      double h = girdle_stone_reach_mm(&stone, 0, (i + 0.5) / 100), a = girdle_stone_reach_mm(&stone, 0, i / 100.0),
             b = girdle_stone_reach_mm(&stone, 0, (i + 1) / 100.0), slope = (b - a) / step;
      area += (h * h - slope * slope) / 2 * step;
    }
    stone.facets = 64;
    if (outline == GIRDLE_HEART) area -= 10 * 10 * (1 - 3.14159265358979323846 / 4) / 8; /* the notch under the hull */
    assert_near(girdle_stone_footprint_mm2(&stone), area, 0.004 * area);
    assert_true(girdle_stone_footprint_mm2(&stone) < area * 1.0001);
  }
}

static void outline_text_covers_every_outline(void **state) {
  (void)state;
  for (int32_t i = 0; i < GIRDLE_OUTLINE_END; i++)
    assert_string_not_equal(girdle_outline_text(i), "unknown");
  assert_string_equal(girdle_outline_text(-1), "unknown");
  assert_string_equal(girdle_outline_text(GIRDLE_OUTLINE_END), "unknown");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(size_parse_gives_the_middle_of_the_range),
      cmocka_unit_test(size_parse_takes_every_way_of_writing),
      cmocka_unit_test(size_parse_names_the_nearest),
      cmocka_unit_test(size_parse_refuses_what_is_no_size),
      cmocka_unit_test(sizes_stand_in_order_without_gaps_or_overlaps),
      cmocka_unit_test(stone_make_takes_the_defaults),
      cmocka_unit_test(stone_make_takes_a_weighed_mass_and_a_height),
      cmocka_unit_test(stone_make_takes_sizes_cuts_and_materials_of_ones_own),
      cmocka_unit_test(catalogue_check_names_the_row),
      cmocka_unit_test(stone_make_refuses_bad_numbers),
      cmocka_unit_test(stone_make_takes_texts_of_the_full_length),
      cmocka_unit_test(stone_make_reads_colours_alike_however_they_are_spaced),
      cmocka_unit_test(stone_make_takes_length_ratios_of_1_to_5),
      cmocka_unit_test(stone_make_names_the_nearest_quality),
      cmocka_unit_test(stone_parse_reads_a_size_and_a_colour),
      cmocka_unit_test(stone_parse_reads_width_and_length),
      cmocka_unit_test(stone_make_takes_width_and_length_as_its_size),
      cmocka_unit_test(stone_parse_tells_what_to_leave_out),
      cmocka_unit_test(stone_make_refuses_materials_that_are_no_numbers),
      cmocka_unit_test(stone_make_refuses_ends_without_a_middle),
      cmocka_unit_test(stone_make_names_a_size_by_its_diameter),
      cmocka_unit_test(stone_parse_refuses),
      cmocka_unit_test(stone_text_is_short),
      cmocka_unit_test(stone_text_reads_back_equal),
      cmocka_unit_test(stone_reach_is_half_the_diameter_when_round),
      cmocka_unit_test(stone_reach_knows_length_and_width),
      cmocka_unit_test(stone_circle_holds_the_outline_in_every_direction),
      cmocka_unit_test(stone_reach_is_the_outlines_support),
      cmocka_unit_test(stone_of_an_unknown_outline_harms_nothing),
      cmocka_unit_test(stone_footprint_grows_to_the_outline_with_the_facets),
      cmocka_unit_test(outline_text_covers_every_outline),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
