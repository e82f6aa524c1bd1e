/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
/* needs: libqhull-dev -lqhull_r */
#include "support.h"

#include <libqhull_r/qhull_ra.h>

/* Volume and surface of the convex hull of points, by an independent library. */
static void hull_of(const double *points, uint64_t count, double *volume, double *surface) {
  qhT hull;
  char options[] = "qhull FA Pp";
  coordT *copy = malloc(count * 3 * sizeof *copy);
  int long_left, blocks;
  memcpy(copy, points, count * 3 * sizeof *copy);
  qh_zero(&hull, stderr);
  assert_int_equal(qh_new_qhull(&hull, 3, (int)count, copy, False, options, NULL, stderr), 0);
  qh_getarea(&hull, hull.facet_list);
  *volume = hull.totvol;
  *surface = hull.totarea;
  qh_freeqhull(&hull, !qh_ALL);
  qh_memfreeshort(&hull, &long_left, &blocks);
  assert_int_equal(long_left, 0);
  free(copy);
}

static girdle_cut random_cut(uint64_t *random) {
  girdle_cut cut = {.name = "random"};
  double height = 0.1 + test_uniform(random), table = 0.1 + 0.9 * test_uniform(random);
  cut.facets = 3 + (int32_t)(test_random(random) % 62);
  cut.turned = (int32_t)(test_random(random) % 2);
  for (int i = 0; i < 3; i++) {
    cut.height_ratio[i] = height;
    cut.table_ratio[i] = table;
    cut.girdle_ratio[i] = test_random(random) % 4 ? 0.9 * height * test_uniform(random) : 0;
  }
  cut.girdle_ratio[0] = cut.girdle_ratio[2] = cut.girdle_ratio[1];
  return cut;
}

static int rounds(void) {
  return getenv("GIRDLE_PROOF") ? 100000 : 10000;
}

static double random_ratio(uint64_t *random, int32_t outline) {
  return outline == GIRDLE_ROUND || outline == GIRDLE_SQUARE ? 1 : 1 + 2 * test_uniform(random);
}

static double surface_of(const girdle_solid_sums *sums) {
  double surface = 0;
  for (int i = 0; i < GIRDLE_FACET_END; i++)
    surface += sums->area_mm2[i];
  return surface;
}

/* 0 when the table would hang over the girdle, which is refused. */
static int new_solid(test_call *test, const girdle_cut *cut, int32_t outline, double ratio, girdle_solid **out) {
  int32_t status = girdle_solid_new(test_again(test), cut, GIRDLE_NOMINAL, outline, ratio, 5, out);
  if (!status) return 1;
  assert_status(test, status, GIRDLE_ARGUMENT);
  assert_string_equal(test->error.field, "table ratio");
  assert_true(cut->turned && cut->table_ratio[1] > 0.4);
  return 0;
}

static void solid_new_agrees_with_a_convex_hull(void **state) {
  uint64_t random = 3;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < rounds(); i++) {
    int32_t outline = (int32_t)(test_random(&random) % (GIRDLE_OUTLINE_END - 1)); /* the heart is not convex */
    double ratio = random_ratio(&random, outline), volume, surface;
    girdle_cut cut = random_cut(&random);
    girdle_solid *solid;
    girdle_solid_sums sums;
    uint64_t count;
    const double *vertices;
    if (!new_solid(&test, &cut, outline, ratio, &solid)) continue;
    girdle_solid_sum(solid, &sums);
    vertices = girdle_solid_vertices(solid, &count);
    hull_of(vertices, count, &volume, &surface);
    assert_near(sums.volume_mm3, volume, 1e-11 * volume);
    assert_near(surface_of(&sums), surface, 1e-11 * surface);
    girdle_solid_free(solid);
  }
  assert_int_equal(test.live_bytes, 0);
}

/* A heart is two convex halves, mirror images of each other. */
static void solid_new_agrees_with_two_hulls_of_half_a_heart(void **state) {
  uint64_t random = 4;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < rounds(); i++) {
    double ratio = 1 + test_uniform(&random), half[3 * 3 * 64], volume, surface;
    girdle_cut cut = random_cut(&random);
    girdle_solid *solid;
    girdle_solid_sums sums;
    uint64_t count, kept = 0;
    const double *vertices;
    assert_ok(&test, girdle_solid_new(&test.call, &cut, GIRDLE_NOMINAL, GIRDLE_HEART, ratio, 5, &solid));
    girdle_solid_sum(solid, &sums);
    vertices = girdle_solid_vertices(solid, &count);
    for (uint64_t k = 0; k < count; k++) {
      if (vertices[3 * k + 1] < -1e-9) continue;
      memcpy(half + 3 * kept++, vertices + 3 * k, 3 * sizeof *half);
    }
    hull_of(half, kept, &volume, &surface);
    assert_near(sums.volume_mm3, 2 * volume, 1e-11 * volume);
    girdle_solid_free(solid);
  }
}

/* ---- the prismatoid rule, exact for a body between two parallel polygons */

static double area_between(const double *a, const double *b, uint64_t count, int turned) {
  double twice = 0, x[2] = {0, 0}, y[2] = {0, 0};
  uint64_t steps = turned ? 2 * count : count;
  for (uint64_t i = 0; i <= steps; i++) {
    /* halfway along each crown edge: from girdle i (or i + 1) to table i */
    uint64_t low = turned ? ((i + 1) / 2) % count : i % count, high = turned ? (i / 2) % count : i % count;
    x[1] = (a[3 * low] + b[3 * high]) / 2;
    y[1] = (a[3 * low + 1] + b[3 * high + 1]) / 2;
    if (i) twice += x[0] * y[1] - x[1] * y[0];
    x[0] = x[1];
    y[0] = y[1];
  }
  return twice / 2;
}

static void solid_sum_agrees_with_the_prismatoid_rule(void **state) {
  uint64_t random = 5;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 1000; i++) {
    int32_t outline = (int32_t)(test_random(&random) % GIRDLE_OUTLINE_END);
    double ratio = random_ratio(&random, outline);
    girdle_cut cut = random_cut(&random);
    girdle_solid *solid;
    girdle_solid_sums sums;
    uint64_t count, n;
    const double *vertices, *low, *high;
    double bottom, middle, top, girdle = cut.girdle_ratio[1] * 5,
                                crown = (cut.height_ratio[1] - cut.girdle_ratio[1]) * 5, volume, moment;
    int turned = cut.turned && outline != GIRDLE_HEART;
    if (!new_solid(&test, &cut, outline, ratio, &solid)) continue;
    girdle_solid_sum(solid, &sums);
    vertices = girdle_solid_vertices(solid, &count);
    n = (uint64_t)sums.facets;
    low = vertices + 3 * (count - 2 * n);
    high = vertices + 3 * (count - n);
    bottom = area_between(low, low, n, 0);
    middle = area_between(low, high, n, turned);
    top = area_between(high, high, n, 0);
    volume = bottom * girdle + crown / 6 * (bottom + 4 * middle + top);
    moment = bottom * girdle * girdle / 2 +
             crown / 6 * (bottom * girdle + 4 * middle * (girdle + crown / 2) + top * (girdle + crown));
    assert_near(sums.volume_mm3, volume, 1e-12 * volume);
    assert_near(sums.centre_mm, moment / volume, 1e-12 * sums.height_mm);
    assert_near(sums.area_mm2[GIRDLE_FACET_BACK], bottom, 1e-12 * bottom);
    assert_near(sums.area_mm2[GIRDLE_FACET_TABLE], top, 1e-12 * bottom);
    girdle_solid_free(solid);
  }
}

/* ---- the surface closes */

static int64_t edge_uses(const girdle_facet *facets, uint64_t count, const int32_t *corners, int32_t from, int32_t to) {
  int64_t uses = 0;
  for (uint64_t f = 0; f < count; f++)
    for (int32_t i = 0; i < facets[f].corner_count; i++) {
      const int32_t *corner = corners + facets[f].first_corner;
      uses += corner[i] == from && corner[(i + 1) % facets[f].corner_count] == to;
    }
  return uses;
}

static void solid_facets_close_and_lie_flat(void **state) {
  uint64_t random = 6;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int round = 0; round < 60; round++) {
    int32_t outline = (int32_t)(test_random(&random) % GIRDLE_OUTLINE_END);
    girdle_cut cut = random_cut(&random);
    girdle_solid *solid;
    uint64_t vertex_count, facet_count, corner_count;
    const double *v;
    const girdle_facet *facets;
    const int32_t *corners;
    cut.facets = 3 + cut.facets % 14;
    for (int i = 0; i < 3; i++)
      cut.table_ratio[i] = 0.4;
    assert_ok(&test,
              girdle_solid_new(&test.call, &cut, GIRDLE_NOMINAL, outline, random_ratio(&random, outline), 5, &solid));
    v = girdle_solid_vertices(solid, &vertex_count);
    facets = girdle_solid_facets(solid, &facet_count);
    corners = girdle_solid_corners(solid, &corner_count);
    assert_int_equal(vertex_count - corner_count / 2 + facet_count, 2); /* Euler: V - E + F */
    for (uint64_t f = 0; f < facet_count; f++) {
      const int32_t *c = corners + facets[f].first_corner;
      for (int32_t i = 0; i < facets[f].corner_count; i++) {
        assert_int_equal(edge_uses(facets, facet_count, corners, c[i], c[(i + 1) % facets[f].corner_count]), 1);
        assert_int_equal(edge_uses(facets, facet_count, corners, c[(i + 1) % facets[f].corner_count], c[i]), 1);
      }
      if (facets[f].corner_count != 4) continue;
      double edge[3][3], off = 0;
      for (int k = 0; k < 3; k++)
        for (int x = 0; x < 3; x++)
          edge[k][x] = v[3 * c[k + 1] + x] - v[3 * c[0] + x];
      for (int x = 0; x < 3; x++)
        off += edge[2][x] * (edge[0][(x + 1) % 3] * edge[1][(x + 2) % 3] - edge[0][(x + 2) % 3] * edge[1][(x + 1) % 3]);
      assert_near(off, 0, 1e-11);
    }
    girdle_solid_free(solid);
  }
}

static void solid_has_as_many_facets_as_its_cut_says(void **state) {
  static const struct {
    const char *text;
    int32_t facets, in_all;
  } cases[] = {{"ss20 14 facets", 14, 2 + 14 + 14},
               {"ss20 14 facets turned", 14, 2 + 14 + 28},
               {"ss20 9 facets", 9, 2 + 9 + 9},
               {"8 mm rectangle 12 facets", 4, 2 + 4 + 4},
               {"8 mm navette 9 facets", 10, 2 + 10 + 10},
               {"8 mm heart 14 facets turned", 14, 2 + 14 + 14},
               {"8 mm pear 11 facets turned", 11, 2 + 11 + 22}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_stone stone;
    girdle_solid *solid;
    girdle_solid_sums sums;
    assert_ok(&test, girdle_stone_parse(&test.call, cases[i].text, &stone));
    assert_ok(&test, girdle_solid_of(&test.call, &stone, NULL, &solid));
    girdle_solid_sum(solid, &sums);
    assert_int_equal(sums.facets, cases[i].facets);
    assert_int_equal(sums.facet_count, cases[i].in_all);
    girdle_solid_free(solid);
  }
}

static void solid_new_keeps_tips_and_widths(void **state) {
  test_call test;
  uint64_t cut_count;
  const girdle_cut *cut = girdle_cuts(&cut_count);
  test_begin(&test);
  (void)state;
  for (int32_t outline = GIRDLE_PEAR; outline < GIRDLE_OUTLINE_END; outline++) {
    girdle_solid *solid;
    uint64_t count;
    const double *v;
    double most = 0, ratio = outline == GIRDLE_SQUARE ? 1 : 1.5;
    assert_ok(&test, girdle_solid_new(&test.call, cut, GIRDLE_NOMINAL, outline, ratio, 6, &solid));
    v = girdle_solid_vertices(solid, &count);
    for (uint64_t i = 0; i < count; i++)
      most = fmax(most, v[3 * i]);
    assert_near(most, 3 * ratio, 1e-12);
    girdle_solid_free(solid);
  }
}

static void solid_of_a_stone_weighs_what_the_stone_weighs(void **state) {
  static const char *const texts[] = {"ss20", "ss34 red 16 facets turned", "8 mm pear 1.7 8 facets",
                                      "10 mm heart pmma"};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
    girdle_stone stone;
    girdle_solid *solid;
    girdle_solid_sums sums;
    double density;
    assert_ok(&test, girdle_stone_parse(&test.call, texts[i], &stone));
    density = strcmp(stone.material, "pmma") == 0 ? 1.19 : 2.5;
    assert_ok(&test, girdle_solid_of(&test.call, &stone, NULL, &solid));
    girdle_solid_sum(solid, &sums);
    assert_near(stone.mass_mg[GIRDLE_NOMINAL], sums.volume_mm3 * density, 1e-6);
    assert_near(girdle_stone_footprint_mm2(&stone), sums.area_mm2[GIRDLE_FACET_BACK], 1e-12 * sums.volume_mm3);
    assert_true(sums.height_mm == stone.height_mm);
    girdle_solid_free(solid);
  }
}

/* The mass comes by the closed form, the volume by the facets. */
static void mass_is_that_of_the_solid_in_every_cut(void **state) {
  uint64_t random = 7;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 1000; i++) {
    int32_t outline = (int32_t)(test_random(&random) % GIRDLE_OUTLINE_END);
    girdle_cut cut = random_cut(&random);
    girdle_catalogue own = {.struct_bytes = sizeof own, .cuts = &cut, .cut_count = 1};
    girdle_stone_spec spec;
    girdle_stone stone;
    girdle_solid *solid;
    girdle_solid_sums sums;
    girdle_stone_spec_init(&spec, sizeof spec);
    spec.size = "5 mm";
    spec.cut = cut.name;
    spec.outline = outline;
    spec.length_ratio = random_ratio(&random, outline);
    spec.own = &own;
    if (!new_solid(&test, &cut, outline, spec.length_ratio, &solid)) continue;
    girdle_solid_sum(solid, &sums);
    girdle_solid_free(solid);
    assert_ok(&test, girdle_stone_make(&test.call, &spec, &stone));
    assert_near(stone.mass_mg[GIRDLE_NOMINAL], sums.volume_mm3 * 2.5, 6e-7);
  }
}

static void solid_new_refuses(void **state) {
  const girdle_cut good = {"good", 14, 0, {0.5, 0.5, 0.5}, {0.4, 0.4, 0.4}, {0.06, 0.06, 0.06}};
  girdle_cut bad[6];
  girdle_solid *solid = NULL;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int i = 0; i < 6; i++)
    bad[i] = good;
  bad[0].facets = 2;
  bad[1].facets = 65;
  bad[2].table_ratio[1] = NAN;
  bad[3].table_ratio[2] = 0.4;                                                    /* falls from nominal to most */
  bad[4].girdle_ratio[0] = bad[4].girdle_ratio[1] = bad[4].girdle_ratio[2] = 0.4; /* no room for a crown */
  bad[5].height_ratio[2] = INFINITY;
  for (int i = 0; i < 6; i++) {
    test_again(&test);
    assert_status(&test, girdle_solid_new(&test.call, &bad[i], 1, GIRDLE_ROUND, 1, 5, &solid), GIRDLE_ARGUMENT);
    assert_true(test.error.field[0] != '\0');
  }
  test_again(&test);
  assert_status(&test, girdle_solid_new(&test.call, &good, 3, GIRDLE_ROUND, 1, 5, &solid), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_solid_new(&test.call, &good, 1, GIRDLE_OUTLINE_END, 1, 5, &solid), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_solid_new(&test.call, &good, 1, GIRDLE_OVAL, 0.9, 5, &solid), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_solid_new(&test.call, &good, 1, GIRDLE_ROUND, 1, -5, &solid), GIRDLE_ARGUMENT);
  assert_null(solid);
}

static int32_t make_solid(girdle_call *call) {
  girdle_solid *solid = NULL;
  girdle_stone stone;
  int32_t status = girdle_stone_parse(call, "ss20 red pear 2", &stone);
  if (!status) status = girdle_solid_of(call, &stone, NULL, &solid);
  girdle_solid_free(solid);
  return status;
}

static void solid_survives_every_refused_allocation(void **state) {
  (void)state;
  test_sweep_allocations(make_solid);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(solid_new_agrees_with_a_convex_hull),
      cmocka_unit_test(solid_new_agrees_with_two_hulls_of_half_a_heart),
      cmocka_unit_test(solid_sum_agrees_with_the_prismatoid_rule),
      cmocka_unit_test(solid_facets_close_and_lie_flat),
      cmocka_unit_test(solid_has_as_many_facets_as_its_cut_says),
      cmocka_unit_test(solid_new_keeps_tips_and_widths),
      cmocka_unit_test(solid_of_a_stone_weighs_what_the_stone_weighs),
      cmocka_unit_test(mass_is_that_of_the_solid_in_every_cut),
      cmocka_unit_test(solid_new_refuses),
      cmocka_unit_test(solid_survives_every_refused_allocation),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
