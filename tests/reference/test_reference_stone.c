/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static const double PI = 3.14159265358979323846;

static girdle_cut cut_of(int32_t facets, double table, double height, double girdle) {
  girdle_cut cut = {.name = "reference", .facets = facets};
  for (int i = 0; i < 3; i++) {
    cut.table_ratio[i] = table;
    cut.height_ratio[i] = height;
    cut.girdle_ratio[i] = girdle;
  }
  return cut;
}

static girdle_solid_sums sums_of(const girdle_cut *cut, int32_t outline, double diameter_mm) {
  girdle_solid *solid;
  girdle_solid_sums sums;
  assert_int_equal(girdle_solid_new(NULL, cut, GIRDLE_NOMINAL, outline, 1, diameter_mm, &solid), GIRDLE_OK);
  girdle_solid_sum(solid, &sums);
  girdle_solid_free(solid);
  return sums;
}

/* Moscow Mathematical Papyrus, problem 14 (about 1850 BC): a truncated square pyramid of base 4, top 2 and height 6
 * holds 56. */
static void solid_holds_the_papyrus_pyramid(void **state) {
  girdle_cut cut = cut_of(4, 0.5, 1.5, 0);
  (void)state;
  assert_near(sums_of(&cut, GIRDLE_SQUARE, 4).volume_mm3, 56, 1e-12);
}

/* Area of a regular polygon inscribed in a circle of radius 1: (n / 2) sin(2 pi / n), elementary. */
static void footprint_is_the_inscribed_polygons(void **state) {
  static const struct {
    int32_t facets;
    double area;
  } cases[] = {{6, 2.5980762114}, {8, 2.8284271247}, {12, 3}, {16, 3.0614674589}, {32, 3.1214451523}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_cut cut = cut_of(cases[i].facets, 0.5, 0.4, 0.06);
    assert_near(sums_of(&cut, GIRDLE_ROUND, 2).area_mm2[GIRDLE_FACET_BACK], cases[i].area, 6e-11);
  }
}

/* Frustum of similar bases: h (A1 + sqrt(A1 A2) + A2) / 3, elementary (Heron, Metrica). */
static void solid_is_herons_frustum(void **state) {
  (void)state;
  for (int32_t n = 3; n <= 64; n++) {
    girdle_cut cut = cut_of(n, 0.6, 0.5, 0);
    double base = n / 2.0 * sin(2 * PI / n), top = 0.36 * base;
    assert_near(sums_of(&cut, GIRDLE_ROUND, 2).volume_mm3, 1.0 / 3 * (base + sqrt(base * top) + top), 1e-13);
  }
}

/* M. Tolkowsky, Diamond Design (1919): table 53 %, crown 34.5 degrees, pavilion 40.75 degrees; crown height 16.2 % and
 * pavilion depth 43.1 % to the three figures given. As cone and frustum of revolution V / D^3 is 0.18936156 (derived).
 * A solid of 64 facets is smaller by the ratio of polygon to circle; the pavilion is a cone without its tip. */
static void solid_adds_up_to_tolkowskys_brilliant(void **state) {
  double crown = (1 - 0.53) / 2 * tan(34.5 * PI / 180), pavilion = tan(40.75 * PI / 180) / 2, tip = 0.01;
  double polygon = 32 * sin(2 * PI / 64) / PI, volume;
  girdle_cut upper = cut_of(64, 0.53, crown, 0), lower = cut_of(64, tip, pavilion * (1 - tip), 0);
  (void)state;
  assert_near(crown, 0.162, 0.0005);
  assert_near(pavilion, 0.431, 0.0005);
  volume =
      sums_of(&upper, GIRDLE_ROUND, 1).volume_mm3 + sums_of(&lower, GIRDLE_ROUND, 1).volume_mm3 / (1 - tip * tip * tip);
  assert_near(volume / polygon, 0.18936156, 5e-9);
}

/* Council Directive 69/493/EEC, Annex I: least densities of the four classes of crystal glass. EN 572-1: soda-lime 2500
 * kg/m3. PMMA 1.17 to 1.20, usually 1.19 (ISO 1183, as quoted in polymer tables). Polystyrene 1.04 to 1.07 (1.05),
 * epoxy resin 1.12 to 1.18 (tables citing the CRC Handbook of Chemistry and Physics, 97th edition). */
static void materials_have_the_published_densities(void **state) {
  static const struct {
    const char *name;
    double least, nominal, most;
    int32_t minimum;
  } cases[] = {{"full lead crystal", 3.0, 3.0, 3.0, 1}, {"lead crystal", 2.9, 2.9, 2.9, 1},
               {"crystallin", 2.45, 2.45, 2.45, 1},     {"crystal glass", 2.4, 2.4, 2.4, 1},
               {"soda-lime", 2.4, 2.5, 2.53, 0},        {"pmma", 1.17, 1.19, 1.2, 0},
               {"polystyrene", 1.04, 1.05, 1.07, 0},    {"epoxy", 1.12, 1.15, 1.18, 0}};
  uint64_t count;
  const girdle_material *rows = girdle_materials(&count);
  (void)state;
  assert_int_equal(count, sizeof cases / sizeof cases[0]);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    const girdle_material *found = NULL;
    for (uint64_t k = 0; k < count; k++)
      if (strcmp(rows[k].name, cases[i].name) == 0) found = &rows[k];
    assert_non_null(found);
    assert_true(found->density_g_cm3[0] == cases[i].least && found->density_g_cm3[1] == cases[i].nominal &&
                found->density_g_cm3[2] == cases[i].most);
    assert_int_equal(found->minimum, cases[i].minimum);
    assert_true(found->source[0] != '\0');
  }
}

/* Grams a gross as truncated cones on a girdle of 0.06 of the diameter, height 0.34 to 0.44, table 0.45 to 0.60, glass
 * of 2.5 g/cm3: derived by arithmetic, no source; to be weighed. Our stones are polygons of 14, smaller by 14 / 2 sin(2
 * pi / 14) / pi. */
static void mass_is_the_truncated_cones_but_for_the_facets(void **state) {
  static const struct {
    const char *size;
    double least_g, most_g, rounding_g;
  } cases[] = {{"ss10", 1.3, 1.9, 0.05}, {"ss12", 1.8, 2.6, 0.05}, {"ss16", 3.6, 5.2, 0.05}, {"ss20", 6.3, 9.0, 0.051},
               {"ss30", 16, 23, 0.5},    {"ss34", 22, 32, 0.5},    {"ss40", 38, 54, 0.5},    {"ss48", 81, 116, 0.5}};
  double polygon = 7 * sin(2 * PI / 14) / PI;
  uint64_t count;
  const girdle_cut *house = girdle_cuts(&count);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_size size;
    girdle_solid *solid;
    girdle_solid_sums least, most;
    assert_int_equal(girdle_size_parse(NULL, cases[i].size, &size), GIRDLE_OK);
    assert_int_equal(girdle_solid_new(NULL, house, GIRDLE_LEAST, GIRDLE_ROUND, 1, size.diameter_mm[1], &solid),
                     GIRDLE_OK);
    girdle_solid_sum(solid, &least);
    girdle_solid_free(solid);
    assert_int_equal(girdle_solid_new(NULL, house, GIRDLE_MOST, GIRDLE_ROUND, 1, size.diameter_mm[1], &solid),
                     GIRDLE_OK);
    girdle_solid_sum(solid, &most);
    girdle_solid_free(solid);
    assert_near(least.volume_mm3 / polygon * 2.5 * 144 / 1000, cases[i].least_g, cases[i].rounding_g);
    assert_near(most.volume_mm3 / polygon * 2.5 * 144 / 1000, cases[i].most_g, cases[i].rounding_g);
  }
}

/* Mass goes with the cube of the diameter: ss34 about 3.5 times ss20, ss20 about 1.75 times ss16 (derived). */
static void mass_grows_with_the_cube_of_the_diameter(void **state) {
  girdle_stone small, middle, large;
  (void)state;
  assert_int_equal(girdle_stone_parse(NULL, "ss16", &small), GIRDLE_OK);
  assert_int_equal(girdle_stone_parse(NULL, "ss20", &middle), GIRDLE_OK);
  assert_int_equal(girdle_stone_parse(NULL, "ss34", &large), GIRDLE_OK);
  assert_near(large.mass_mg[1] / middle.mass_mg[1], 3.5, 0.06);
  assert_near(middle.mass_mg[1] / small.mass_mg[1], 1.75, 0.005);
}

/* News reports tell of competition leotards of more than 10,000 stones and about a pound, garment included: no stone of
 * a mixture of ss10 to ss16 may then weigh more than 45 mg. */
static void mass_of_small_stones_fits_a_reported_leotard(void **state) {
  static const char *const sizes[] = {"ss10", "ss12", "ss16"};
  (void)state;
  for (int i = 0; i < 3; i++) {
    girdle_stone stone;
    assert_int_equal(girdle_stone_parse(NULL, sizes[i], &stone), GIRDLE_OK);
    assert_true(stone.mass_mg[GIRDLE_MOST] < 45);
  }
}

/* Touching stones per square inch in square rows, as four public tables have them: 67.14, 42.41, 29.20, 15.68. */
static void sizes_give_the_published_stones_a_square_inch(void **state) {
  static const struct {
    const char *size;
    double published;
  } cases[] = {{"ss12", 67.14}, {"ss16", 42.41}, {"ss20", 29.20}, {"ss30", 15.68}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_size size;
    assert_int_equal(girdle_size_parse(NULL, cases[i].size, &size), GIRDLE_OK);
    assert_near(25.4 * 25.4 / (size.diameter_mm[1] * size.diameter_mm[1]), cases[i].published, 0.03);
  }
}

/* Single values of other public charts lie within our ranges or on their ends (common practice, no source). */
static void sizes_hold_other_charts_single_values(void **state) {
  static const struct {
    const char *size;
    double value_mm;
  } cases[] = {{"ss5", 1.8},  {"ss6", 2.0},  {"ss8", 2.3},  {"ss9", 2.6},  {"ss10", 2.8},
               {"ss12", 3.0}, {"ss16", 4.0}, {"ss20", 4.7}, {"ss30", 6.4}, {"ss34", 7.1},
               {"ss40", 8.5}, {"ss40", 8.6}, {"ss42", 9.1}, {"ss48", 11.0}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_size size;
    assert_int_equal(girdle_size_parse(NULL, cases[i].size, &size), GIRDLE_OK);
    assert_true(size.diameter_mm[0] <= cases[i].value_mm && cases[i].value_mm <= size.diameter_mm[2]);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(solid_holds_the_papyrus_pyramid),
      cmocka_unit_test(footprint_is_the_inscribed_polygons),
      cmocka_unit_test(solid_is_herons_frustum),
      cmocka_unit_test(solid_adds_up_to_tolkowskys_brilliant),
      cmocka_unit_test(materials_have_the_published_densities),
      cmocka_unit_test(mass_is_the_truncated_cones_but_for_the_facets),
      cmocka_unit_test(mass_grows_with_the_cube_of_the_diameter),
      cmocka_unit_test(mass_of_small_stones_fits_a_reported_leotard),
      cmocka_unit_test(sizes_give_the_published_stones_a_square_inch),
      cmocka_unit_test(sizes_hold_other_charts_single_values),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
