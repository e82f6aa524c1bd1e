/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
/* needs: libgsl-dev libgeos-dev -lgeos_c -lgsl -lgslcblas -lm */

/* Placements of random shapes against an oracle that shares nothing with girdle: all pairs by brute force, inside-ness
 * and distance from the edge by GEOS on a densely sampled outline, distance from the true curve by GSL's minimizer. The
 * outlines are made here, so that their formulas are known. */

#include <geos_c.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_min.h>

#include "place_support.h"

enum { SAMPLES = 4000 };

/* A wavy closed outline in polar form, given to girdle as cubics through its own points and tangents. The oracle only
 * uses the cubics. */
typedef struct outline {
  int cubics;
  double x[40][4], y[40][4];
} outline;

static GEOSContextHandle_t geos;

static outline random_outline(uint64_t *random) {
  outline shape = {6 + (int)(test_random(random) % 10), {{0}}, {{0}}};
  double size = 20 + 30 * test_uniform(random), deep = 0.35 * test_uniform(random), phase = test_uniform(random) * 6;
  int waves = 2 + (int)(test_random(random) % 3);
  double step = 6.283185307179586 / shape.cubics;
  for (int i = 0; i < shape.cubics; i++)
    for (int end = 0; end < 2; end++) {
      double angle = (i + end) % shape.cubics * step, r = size * (1 + deep * sin(waves * angle + phase));
      double slope = size * deep * waves * cos(waves * angle + phase);
      double dx = slope * cos(angle) - r * sin(angle), dy = slope * sin(angle) + r * cos(angle);
      shape.x[i][3 * end] = r * cos(angle);
      shape.y[i][3 * end] = r * sin(angle);
      shape.x[i][1 + end] = r * cos(angle) + (end ? -1 : 1) * dx * step / 3;
      shape.y[i][1 + end] = r * sin(angle) + (end ? -1 : 1) * dy * step / 3;
    }
  return shape;
}

static void write_outline(const outline *shape, char *text) {
  text += sprintf(text, "M%.17g %.17g", shape->x[0][0], shape->y[0][0]);
  for (int i = 0; i < shape->cubics; i++)
    text += sprintf(text, "C%.17g %.17g %.17g %.17g %.17g %.17g", shape->x[i][1], shape->y[i][1], shape->x[i][2],
                    shape->y[i][2], shape->x[i][3], shape->y[i][3]);
  sprintf(text, "Z");
}

static void point_on(const outline *shape, int cubic, double t, double *x, double *y) {
  double a = (1 - t) * (1 - t) * (1 - t), b = 3 * t * (1 - t) * (1 - t), c = 3 * t * t * (1 - t), d = t * t * t;
  *x = a * shape->x[cubic][0] + b * shape->x[cubic][1] + c * shape->x[cubic][2] + d * shape->x[cubic][3];
  *y = a * shape->y[cubic][0] + b * shape->y[cubic][1] + c * shape->y[cubic][2] + d * shape->y[cubic][3];
}

static GEOSGeometry *sampled(const outline *shape) {
  GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, SAMPLES + 1, 2);
  for (unsigned i = 0; i <= SAMPLES; i++) {
    double at = (double)(i % SAMPLES) * shape->cubics / SAMPLES, x, y;
    point_on(shape, (int)at, at - floor(at), &x, &y);
    GEOSCoordSeq_setXY_r(geos, points, i, x, y);
  }
  return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, points), NULL, 0);
}

/* ---- distance from the true curve */

typedef struct probe {
  const outline *shape;
  double x, y;
} probe;

static double squared_at(double at, void *context) {
  const probe *from = context;
  double wrapped = at - from->shape->cubics * floor(at / from->shape->cubics), x, y;
  int cubic = (int)wrapped < from->shape->cubics ? (int)wrapped : from->shape->cubics - 1;
  point_on(from->shape, cubic, wrapped - cubic, &x, &y);
  return (x - from->x) * (x - from->x) + (y - from->y) * (y - from->y);
}

/* The nearest of many points, then Brent's minimizer between its neighbours. */
static double distance_from(const outline *shape, double x, double y) {
  probe from = {shape, x, y};
  gsl_function function = {squared_at, &from};
  gsl_min_fminimizer *minimizer = gsl_min_fminimizer_alloc(gsl_min_fminimizer_brent);
  double best = 0, least = INFINITY, step = shape->cubics / 400.0;
  for (int i = 0; i < 400; i++) {
    double here = squared_at(i * step, &from);
    if (here < least) least = here, best = i * step;
  }
  if (!gsl_min_fminimizer_set(minimizer, &function, best, best - step, best + step))
    for (int i = 0; i < 60; i++) {
      gsl_min_fminimizer_iterate(minimizer);
      least = fmin(least, gsl_min_fminimizer_f_minimum(minimizer));
    }
  gsl_min_fminimizer_free(minimizer);
  return sqrt(least);
}

/* ---- what every placement in a region must hold */

static void assert_inside(const girdle_placement *placement, const outline *shape, double margin_mm) {
  GEOSGeometry *polygon = sampled(shape);
  const GEOSPreparedGeometry *prepared = GEOSPrepare_r(geos, polygon);
  int64_t count;
  const girdle_placed *records = test_records(placement, &count);
  for (int64_t i = 0; i < count; i++) {
    GEOSGeometry *point = GEOSGeom_createPointFromXY_r(geos, records[i].x_mm, records[i].y_mm);
    double least = test_diameter(placement, i) / 2 + margin_mm, rough;
    assert_int_equal(GEOSPreparedContains_r(geos, prepared, point), 1);
    GEOSDistance_r(geos, GEOSGetExteriorRing_r(geos, polygon), point, &rough);
    assert_true(rough >= least - 0.02);
    if (rough < least + 0.02) assert_true(distance_from(shape, records[i].x_mm, records[i].y_mm) >= least - TOLERANCE);
    GEOSGeom_destroy_r(geos, point);
  }
  GEOSPreparedGeom_destroy_r(geos, prepared);
  GEOSGeom_destroy_r(geos, polygon);
}

static girdle_region *region_of(const outline *shape) {
  static char text[20000];
  write_outline(shape, text);
  return test_region(text);
}

static void covers_hold_on_the_true_curve(void **state) {
  uint64_t random = 11;
  (void)state;
  for (int64_t i = 0; i < test_cases(0.003); i++) {
    outline shape = random_outline(&random);
    girdle_region *region = region_of(&shape);
    girdle_stone stone = test_round(2 + 4 * test_uniform(&random));
    girdle_cover_options options = test_cover(&stone, 1, 2 * test_uniform(&random));
    girdle_placement *placement = NULL;
    options.margin_mm = test_random(&random) % 2 ? test_uniform(&random) : 0;
    options.setting = (int32_t)(test_random(&random) % 3);
    assert_int_equal(girdle_cover(NULL, region, &options, &placement), GIRDLE_OK);
    assert_inside(placement, &shape, options.margin_mm);
    assert_true(test_count(placement) < 2 || test_least_gap(placement) >= options.gap_mm - TOLERANCE);
    assert_true(test_count(placement) <= test_notes(placement).bound_most);
    girdle_placement_free(placement);
    girdle_region_free(region);
  }
}

static void scatters_hold_on_the_true_curve(void **state) {
  uint64_t random = 12;
  (void)state;
  for (int64_t i = 0; i < test_cases(0.004); i++) {
    outline shape = random_outline(&random);
    girdle_region *region = region_of(&shape);
    girdle_stone stones[3] = {test_round(2 + 2 * test_uniform(&random)), test_round(2), test_round(1.3)};
    girdle_scatter_options options = test_scatter(stones, 1 + test_random(&random) % 3, 2 * test_uniform(&random));
    girdle_placement *placement = NULL;
    options.margin_mm = test_random(&random) % 2 ? test_uniform(&random) : 0;
    options.seed = test_random(&random);
    assert_int_equal(girdle_scatter(NULL, region, &options, &placement), GIRDLE_OK);
    assert_inside(placement, &shape, options.margin_mm);
    assert_true(test_least_gap(placement) >= options.gap_mm - TOLERANCE);
    girdle_placement_free(placement);
    girdle_region_free(region);
  }
}

/* A run stands on the curve, its neighbours one gap apart, nothing on top of another. */
static void runs_stand_on_the_true_curve(void **state) {
  static char text[20000];
  uint64_t random = 13;
  (void)state;
  for (int64_t i = 0; i < test_cases(0.01); i++) {
    outline shape = random_outline(&random);
    girdle_stone stones[2] = {test_round(2 + 2 * test_uniform(&random)), test_round(1 + 2 * test_uniform(&random))};
    girdle_run_options options = test_run(stones, 1 + test_random(&random) % 2, 2 * test_uniform(&random));
    girdle_placement *placement = NULL;
    girdle_path *path;
    girdle_notes notes;
    int64_t count;
    const girdle_placed *records;
    write_outline(&shape, text);
    path = test_path(text);
    assert_int_equal(girdle_run(NULL, path, &options, &placement), GIRDLE_OK);
    notes = test_notes(placement);
    records = test_records(placement, &count);
    for (int64_t k = 0; k < count; k++) {
      assert_true(distance_from(&shape, records[k].x_mm, records[k].y_mm) <= TOLERANCE);
      if (!notes.left_out) assert_near(test_gap(placement, k, (k + 1) % count), notes.gap_mm, TOLERANCE);
    }
    assert_true(test_least_gap(placement) >= -TOLERANCE);
    girdle_placement_free(placement);
    girdle_path_free(path);
  }
}

/* `count =` gives exactly that count or names the most that fits. */
static void counts_are_exact_or_name_the_most(void **state) {
  uint64_t random = 14;
  (void)state;
  for (int64_t i = 0; i < test_cases(0.003); i++) {
    outline shape = random_outline(&random);
    girdle_region *region = region_of(&shape);
    girdle_stone stone = test_round(3 + 3 * test_uniform(&random));
    girdle_scatter_options options = test_scatter(&stone, 1, test_uniform(&random));
    girdle_placement *placement = NULL;
    test_call test;
    test_plain(&test);
    options.count = 1 + (int64_t)(test_uniform(&random) * 200);
    if (girdle_scatter(&test.call, region, &options, &placement)) {
      const char *most = strstr(test.error.message, "the most found is ");
      assert_non_null(most);
      options.count = strtol(most + 18, NULL, 10);
      assert_ok(&test, girdle_scatter(test_again(&test), region, &options, &placement));
    }
    assert_int_equal(test_count(placement), options.count);
    assert_inside(placement, &shape, 0);
    girdle_placement_free(placement);
    girdle_region_free(region);
  }
}

/* Small random asks by the ten thousand: never an overlap, never a stone outside, the same bytes for the same seed. */
static void small_scatters_never_fail_their_promises(void **state) {
  uint64_t random = 15;
  (void)state;
  for (int64_t i = 0; i < test_cases(1); i++) {
    double width = 5 + 15 * test_uniform(&random), height = 5 + 15 * test_uniform(&random);
    girdle_region *region = NULL;
    girdle_stone stones[2] = {test_round(1.5 + 3 * test_uniform(&random)), test_round(1.5 + 2 * test_uniform(&random))};
    girdle_scatter_options options = test_scatter(stones, 1 + test_random(&random) % 2, test_uniform(&random));
    girdle_placement *placement = NULL, *again = NULL;
    int64_t count;
    const girdle_placed *records;
    options.seed = test_random(&random);
    assert_int_equal(girdle_region_rectangle(NULL, width, height, &region), GIRDLE_OK);
    assert_int_equal(girdle_scatter(NULL, region, &options, &placement), GIRDLE_OK);
    records = test_records(placement, &count);
    assert_true(count < 2 || test_least_gap(placement) >= options.gap_mm - TOLERANCE);
    for (int64_t k = 0; k < count; k++) {
      girdle_box box;
      double radius = test_diameter(placement, k) / 2 - TOLERANCE;
      girdle_region_box(region, &box);
      assert_true(records[k].x_mm >= box.left_mm + radius && records[k].x_mm <= box.right_mm - radius);
      assert_true(records[k].y_mm >= box.top_mm + radius && records[k].y_mm <= box.bottom_mm - radius);
    }
    if (i % 10 == 0) {
      assert_int_equal(girdle_scatter(NULL, region, &options, &again), GIRDLE_OK);
      assert_true(test_same(placement, again));
      girdle_placement_free(again);
    }
    girdle_placement_free(placement);
    girdle_region_free(region);
  }
}

static int begin(void **state) {
  (void)state;
  geos = GEOS_init_r();
  gsl_set_error_handler_off();
  return 0;
}

static int end(void **state) {
  (void)state;
  GEOS_finish_r(geos);
  return 0;
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(covers_hold_on_the_true_curve),
      cmocka_unit_test(scatters_hold_on_the_true_curve),
      cmocka_unit_test(runs_stand_on_the_true_curve),
      cmocka_unit_test(counts_are_exact_or_name_the_most),
      cmocka_unit_test(small_scatters_never_fail_their_promises),
  };
  return cmocka_run_group_tests(tests, begin, end);
}
