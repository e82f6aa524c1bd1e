/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

/* ---- from a caliper reading to a size */

static void size_likely_names_the_sizes_that_fit(void **state) {
  static const struct {
    double measured_mm, error_mm;
    const char *expected;
  } cases[] = {
      {4.7, 0, "ss20"},          {4.68, 0.05, "ss20"},  {4.8, 0, "ss21 ss20"}, {3.9, 0.02, "ss16"},
      {2.0, 0, "ss6 pp13 pp14"}, {1.38, 0, "pp7 ss3"},  {8.9, 0, "ss42"},      {11.2, 0.05, "ss48"},
      {60, 0.05, "ss48"},        {0.5, 0, "ss000 pp1"}, {9.05, 0.1, "ss42"},   {6.5, 0.02, "ss30 ss31"},
  };
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_size sizes[8];
    char found[128] = "";
    uint64_t count;
    assert_ok(&test, girdle_size_likely(&test.call, cases[i].measured_mm, cases[i].error_mm, NULL, sizes, 8, &count));
    assert_true(count <= 8);
    for (uint64_t k = 0; k < count; k++) {
      if (k) strcat(found, " ");
      strcat(found, sizes[k].name);
    }
    assert_string_equal(found, cases[i].expected);
  }
}

/* The nearest size is named for a reading of 50 mm, too; that it does not fit is then to be seen. */
static void size_outside_tells_whether_a_size_fits(void **state) {
  static const struct {
    double measured_mm, outside_mm;
  } cases[] = {{4.7, 0}, {4.6, 0}, {4.8, 0}, {4.5, 0.1}, {5, 0.2}, {50, 45.2}, {-1, 5.6}};
  girdle_size size, likely[4];
  uint64_t count;
  (void)state;
  assert_int_equal(girdle_size_parse(NULL, "ss20", &size), GIRDLE_OK);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
    assert_near(girdle_size_outside_mm(&size, cases[i].measured_mm), cases[i].outside_mm, 1e-12);
  assert_true(isnan(girdle_size_outside_mm(&size, NAN)));
  assert_int_equal(girdle_size_likely(NULL, 50, 0.05, NULL, likely, 4, &count), GIRDLE_OK);
  assert_int_equal(count, 1);
  assert_string_equal(likely[0].name, "ss48");
  assert_near(girdle_size_outside_mm(&likely[0], 50), 39, 1e-12);
}

/* Every stone of a listed size is known again, wherever in its range it lies. */
static void size_likely_gives_back_every_listed_size(void **state) {
  uint64_t count, found;
  const girdle_size *sizes = girdle_sizes(&count);
  test_call test;
  test_begin(&test);
  (void)state;
  for (uint64_t i = 0; i < count; i++)
    for (int k = GIRDLE_LEAST; k <= GIRDLE_MOST; k++) {
      girdle_size likely[16];
      int there = 0;
      assert_ok(&test, girdle_size_likely(&test.call, sizes[i].diameter_mm[k], 0, NULL, likely, 16, &found));
      for (uint64_t n = 0; n < found; n++)
        there |= strcmp(likely[n].name, sizes[i].name) == 0;
      assert_true(there);
    }
}

static void size_likely_looks_at_ones_own_sizes_and_counts_what_does_not_fit(void **state) {
  static const girdle_size mine = {"house 5", {4.9, 5.0, 5.1}, GIRDLE_OWN_SIZE, 0};
  const girdle_catalogue own = {.struct_bytes = sizeof own, .sizes = &mine, .size_count = 1};
  girdle_size best;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_size_likely(&test.call, 5.02, 0.05, &own, &best, 1, &count));
  assert_string_equal(best.name, "house 5"); /* ss22 has the same middle and comes after it */
  assert_int_equal(count, 2);
  assert_ok(&test, girdle_size_likely(&test.call, 5.02, 0.05, &own, NULL, 0, &count));
  assert_int_equal(count, 2);
  assert_ok(&test, girdle_size_likely(&test.call, 3.05, 0, &own, &best, 1, &count));
  assert_string_equal(best.name, "pp24"); /* the last of the table is still looked at */
  assert_status(&test, girdle_size_likely(&test.call, NAN, 0, NULL, &best, 1, &count), GIRDLE_ARGUMENT);
  test_again(&test);
  assert_status(&test, girdle_size_likely(&test.call, 5, -1, NULL, &best, 1, &count), GIRDLE_ARGUMENT);
}

static void certainty_text_covers_every_certainty(void **state) {
  (void)state;
  for (int32_t i = 0; i <= GIRDLE_OWN_SIZE; i++)
    assert_string_not_equal(girdle_certainty_text(i), "not known");
  assert_string_equal(girdle_certainty_text(GIRDLE_OWN_SIZE + 1), "not known");
  assert_string_equal(girdle_certainty_text(-1), "not known");
}

/* Public charts of the trade (common practice, no source): how many agree on each. */
static void sizes_say_how_well_they_are_known(void **state) {
  static const struct {
    const char *size;
    int32_t certainty;
  } cases[] = {{"ss20", GIRDLE_SEVERAL_CHARTS}, {"ss21", GIRDLE_ONE_CHART},   {"ss14", GIRDLE_INTERPOLATED},
               {"ss11", GIRDLE_INTERPOLATED},   {"pp22", GIRDLE_UNCONFIRMED}, {"ss40", GIRDLE_UNCONFIRMED},
               {"ss48", GIRDLE_ONE_CHART},      {"5 mm", GIRDLE_OWN_SIZE}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_size size;
    assert_int_equal(girdle_size_parse(NULL, cases[i].size, &size), GIRDLE_OK);
    assert_int_equal(size.certainty, cases[i].certainty);
  }
}

static void cuts_say_that_they_are_common_practice(void **state) {
  uint64_t count;
  const girdle_cut *cuts = girdle_cuts(&count);
  static const int32_t sold[] = {8, 12, 14, 16};
  (void)state;
  for (uint64_t i = 0; i < count; i++)
    assert_string_equal(cuts[i].source, "common practice, no source");
  for (size_t k = 0; k < 4; k++) {
    int there = 0;
    for (uint64_t i = 0; i < count; i++)
      there |= cuts[i].facets == sold[k];
    assert_true(there);
  }
}

/* ---- weighing */

static void stone_weigh_overrides_and_tells_how_far_the_model_was_off(void **state) {
  girdle_stone stone = stone_of("ss20 black"), weighed;
  double off, modelled = stone.mass_mg[GIRDLE_NOMINAL];
  test_call test;
  test_begin(&test);
  (void)state;
  assert_int_equal(stone.flags & GIRDLE_MASS_WEIGHED, 0);
  assert_ok(&test, girdle_stone_weigh(&test.call, &stone, 144, 144 * modelled / 1.25, 100, &weighed, &off));
  assert_near(off, 0.25, 1e-12);
  assert_near(weighed.mass_mg[GIRDLE_NOMINAL], modelled / 1.25, 1e-9);
  assert_near(weighed.mass_mg[GIRDLE_MOST] - weighed.mass_mg[GIRDLE_LEAST], 200.0 / 144, 1e-9);
  assert_int_equal(weighed.flags, GIRDLE_MASS_WEIGHED);
  assert_true(girdle_stone_equal(&stone, &weighed));
}

static void stone_weigh_reaches_every_colour_of_the_size(void **state) {
  girdle_stone stone = stone_of("ss20 black"), weighed, other;
  girdle_catalogue own = {.struct_bytes = sizeof own, .weighed = &weighed, .weighed_count = 1};
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_stone_weigh(&test.call, &stone, 144, 7000, 100, &weighed, NULL));
  assert_ok(&test, girdle_stone_parse_own(&test.call, "20ss red matt sewn", &own, &other));
  assert_near(other.mass_mg[GIRDLE_NOMINAL], 7000.0 / 144, 1e-12);
  assert_int_equal(other.flags, GIRDLE_MASS_WEIGHED);
  assert_ok(&test, girdle_stone_parse_own(&test.call, "ss20 red pmma", &own, &other));
  assert_true(other.mass_mg[GIRDLE_NOMINAL] < 30);
  assert_ok(&test, girdle_stone_parse_own(&test.call, "ss16 red", &own, &other));
  assert_int_equal(other.flags, 0);
}

static void stone_weigh_refuses(void **state) {
  girdle_stone stone = stone_of("ss20"), out;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_status(&test, girdle_stone_weigh(&test.call, &stone, 0, 7000, 0, &out, NULL), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_stone_weigh(&test.call, &stone, 144, NAN, 0, &out, NULL), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_stone_weigh(&test.call, &stone, 144, -7000, 0, &out, NULL), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_stone_weigh(&test.call, &stone, 144, 7000, 7000, &out, NULL), GIRDLE_ARGUMENT);
}

/* ---- lead */

static void lead_caution_follows_the_material(void **state) {
  static const struct {
    const char *text;
    uint32_t lead;
  } cases[] = {{"ss20 full lead crystal", GIRDLE_LEAD_YES},
               {"ss20 lead crystal", GIRDLE_LEAD_YES},
               {"ss20 crystallin", GIRDLE_LEAD_MAY},
               {"ss20 crystal glass", GIRDLE_LEAD_MAY},
               {"ss20 soda-lime", GIRDLE_LEAD_UNKNOWN},
               {"ss20", GIRDLE_LEAD_UNKNOWN},
               {"ss20 acrylic", GIRDLE_LEAD_NONE},
               {"ss20 polystyrene", GIRDLE_LEAD_NONE},
               {"ss20 epoxy", GIRDLE_LEAD_NONE}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone stone = stone_of(cases[i].text);
    assert_int_equal(stone.lead, cases[i].lead);
    assert_int_equal(girdle_lead_caution(stone.lead)[0] == '\0', cases[i].lead == GIRDLE_LEAD_NONE);
  }
}

static void lead_caution_does_not_look_at_the_colours_name(void **state) {
  (void)state;
  assert_int_equal(stone_of("ss20 leaden crystal pmma").lead, GIRDLE_LEAD_NONE);
  assert_int_equal(stone_of("ss20 lead crystal pmma").lead,
                   GIRDLE_LEAD_NONE); /* read as a colour: pmma is the material */
  assert_string_equal(stone_of("ss20 lead crystal pmma").colour, "lead crystal");
}

static void mass_of_the_directives_classes_is_a_lower_bound(void **state) {
  (void)state;
  assert_int_equal(stone_of("ss20 lead crystal").flags, GIRDLE_MASS_AT_LEAST);
  assert_int_equal(stone_of("ss20 crystal glass").flags, GIRDLE_MASS_AT_LEAST);
  assert_int_equal(stone_of("ss20 soda-lime").flags, 0);
  assert_int_equal(stone_of("ss20 pmma").flags, 0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(size_likely_names_the_sizes_that_fit),
      cmocka_unit_test(size_outside_tells_whether_a_size_fits),
      cmocka_unit_test(size_likely_gives_back_every_listed_size),
      cmocka_unit_test(size_likely_looks_at_ones_own_sizes_and_counts_what_does_not_fit),
      cmocka_unit_test(certainty_text_covers_every_certainty),
      cmocka_unit_test(sizes_say_how_well_they_are_known),
      cmocka_unit_test(cuts_say_that_they_are_common_practice),
      cmocka_unit_test(stone_weigh_overrides_and_tells_how_far_the_model_was_off),
      cmocka_unit_test(stone_weigh_reaches_every_colour_of_the_size),
      cmocka_unit_test(stone_weigh_refuses),
      cmocka_unit_test(lead_caution_follows_the_material),
      cmocka_unit_test(lead_caution_does_not_look_at_the_colours_name),
      cmocka_unit_test(mass_of_the_directives_classes_is_a_lower_bound),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
