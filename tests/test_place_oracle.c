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

/* ---- overlaps of stones that are not round, against GEOS's intersections of their outlines */

static girdle_stone fancy(int32_t kind, double ratio, double width_mm) {
  girdle_stone_spec spec;
  girdle_stone stone;
  char size[32];
  snprintf(size, sizeof size, "%.4f mm", width_mm);
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = size;
  spec.outline = kind;
  spec.length_ratio = ratio;
  assert_int_equal(girdle_stone_make(NULL, &spec, &stone), GIRDLE_OK);
  return stone;
}

/* A circle, an ellipse, a lens of two arcs, or a box, turned about its middle. */
static GEOSGeometry *outline_of(const girdle_stone *stone, const girdle_placed *at) {
  enum { STEPS = 240 };
  GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, STEPS + 1, 2);
  double half = stone->diameter_mm[GIRDLE_NOMINAL] / 2, length = half * stone->length_ratio;
  double turn = (double)at->turn_deg * 0.017453292519943295;
  for (unsigned i = 0; i <= STEPS; i++) {
    double angle = 6.283185307179586 * (i % STEPS) / STEPS, x = cos(angle), y = sin(angle);
    if (stone->outline == GIRDLE_NAVETTE) { /* arcs of radius r through the tips, their middles `half` from the axis */
      double r = (length * length + half * half) / (2 * half);
      x = length * (1 - 4.0 * fabs((i % STEPS) / (double)STEPS - 0.5));
      y = (i % STEPS < STEPS / 2 ? 1 : -1) * (sqrt(r * r - x * x) - (r - half));
    } else if (stone->outline == GIRDLE_RECTANGLE || stone->outline == GIRDLE_SQUARE) {
      double most = fmax(fabs(x), fabs(y));
      x *= length / most;
      y *= half / most;
    } else {
      x *= stone->outline == GIRDLE_ROUND ? half : length;
      y *= half;
    }
    GEOSCoordSeq_setXY_r(geos, points, i, at->x_mm + x * cos(turn) - y * sin(turn),
                         at->y_mm + x * sin(turn) + y * cos(turn));
  }
  return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, points), NULL, 0);
}

static double common_area(const GEOSGeometry *a, const GEOSGeometry *b) {
  GEOSGeometry *both = GEOSIntersection_r(geos, a, b);
  double area = 0;
  if (both) GEOSArea_r(geos, both, &area);
  GEOSGeom_destroy_r(geos, both);
  return area;
}

/* What touches by less than the tolerance is no overlap: a strip so narrow has next to no area. */
static void overlaps_are_those_of_the_true_outlines(void **state) {
  static const int32_t outlines[] = {GIRDLE_ROUND, GIRDLE_OVAL, GIRDLE_NAVETTE, GIRDLE_RECTANGLE, GIRDLE_SQUARE};
  enum { STONES = 4 };
  uint64_t random = 22;
  int64_t overlapping = 0, clear = 0;
  (void)state;
  for (int64_t i = 0; i < test_cases(0.2); i++) {
    girdle_stone stones[STONES];
    girdle_placed records[STONES];
    GEOSGeometry *shapes[STONES];
    girdle_overlap pairs[STONES * STONES];
    girdle_placement *placement = NULL;
    const girdle_placed *snapped;
    int64_t snapped_count;
    uint64_t count, found = 0;
    memset(records, 0, sizeof records);
    for (uint16_t k = 0; k < STONES; k++) {
      int32_t kind = outlines[test_random(&random) % 5];
      double ratio = kind == GIRDLE_ROUND || kind == GIRDLE_SQUARE ? 1 : 1.2 + test_uniform(&random);
      stones[k] = fancy(kind, ratio, 2 + 4 * test_uniform(&random));
      records[k].x_mm = 10 * test_uniform(&random);
      records[k].y_mm = 10 * test_uniform(&random);
      records[k].turn_deg = (float)(360 * test_uniform(&random));
      records[k].stone = k;
    }
    assert_int_equal(girdle_placement_new(NULL, stones, STONES, records, STONES, &placement), GIRDLE_OK);
    assert_int_equal(girdle_placement_overlaps(NULL, placement, pairs, STONES * STONES, &count), GIRDLE_OK);
    snapped = test_records(placement, &snapped_count);
    for (uint16_t k = 0; k < STONES; k++)
      shapes[k] = outline_of(test_stone_of(placement, k), &snapped[k]);
    for (uint64_t a = 0; a < STONES; a++)
      for (uint64_t b = a + 1; b < STONES; b++) {
        int reported = found < count && pairs[found].first == a && pairs[found].second == b;
        double area = common_area(shapes[a], shapes[b]);
        if (!reported) assert_true(area < 5e-3);
        if (reported && pairs[found].depth_mm > 5e-3) assert_true(area > 0);
        found += (uint64_t)reported;
        overlapping += area > 5e-3;
        clear += area <= 0;
      }
    assert_int_equal(found, count);
    for (int k = 0; k < STONES; k++)
      GEOSGeom_destroy_r(geos, shapes[k]);
    girdle_placement_free(placement);
  }
  assert_true(overlapping > test_cases(0.2) && clear > test_cases(0.2));
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

/* Rows beside the first keep their distance from the true curve, on both of its sides. */
static void bands_lie_on_true_parallels(void **state) {
  static char text[20000];
  uint64_t random = 23;
  int64_t beside = 0;
  (void)state;
  for (int64_t i = 0; i < test_cases(0.003); i++) {
    outline shape = random_outline(&random);
    girdle_stone stones[2] = {test_round(2 + 2 * test_uniform(&random)), test_round(1 + 2 * test_uniform(&random))};
    uint64_t rows[2] = {1, 1};
    girdle_band_options options;
    girdle_placement *placement = NULL;
    girdle_path *path;
    int64_t count;
    const girdle_placed *records;
    girdle_band_options_init(&options, sizeof options);
    options.stones = stones;
    options.row_counts = rows;
    options.stone_count = options.rows = 2;
    options.gap_mm = test_uniform(&random);
    options.row_gap_mm = 2 * test_uniform(&random);
    options.side = GIRDLE_SIDE_BOTH;
    write_outline(&shape, text);
    path = test_path(text);
    assert_int_equal(girdle_band(NULL, path, &options, &placement), GIRDLE_OK);
    records = test_records(placement, &count);
    for (int64_t k = 0; k < count; k++) {
      double far = records[k].row ? (stones[0].diameter_mm[1] + stones[1].diameter_mm[1]) / 2 + options.row_gap_mm : 0;
      assert_near(distance_from(&shape, records[k].x_mm, records[k].y_mm), far, TOLERANCE);
      beside += records[k].row > 0;
    }
    assert_true(test_least_gap(placement) >= -TOLERANCE);
    girdle_placement_free(placement);
    girdle_path_free(path);
  }
  assert_true(beside > test_cases(0.1));
}

/* ---- the best laying of a lattice in a convex polygon, worked out from GEOS's inset, in which a row is one stretch */

enum { CORNERS = 9, ROWS = 400 };

typedef struct polygon {
  int count;
  double x[2 * CORNERS], y[2 * CORNERS];
} polygon;

/* Corners on an ellipse. */
static polygon random_polygon(uint64_t *random) {
  polygon shape = {CORNERS, {0}, {0}};
  double wide = 12 + 20 * test_uniform(random), high = 12 + 20 * test_uniform(random);
  for (int i = 0; i < CORNERS; i++) {
    double angle = 6.283185307179586 * (i + 0.8 * test_uniform(random)) / CORNERS;
    shape.x[i] = wide * cos(angle);
    shape.y[i] = high * sin(angle);
  }
  return shape;
}

static polygon inset_of(const polygon *shape, double distance) {
  polygon inner = {0, {0}, {0}};
  GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, (unsigned)shape->count + 1, 2);
  const GEOSCoordSequence *kept;
  GEOSGeometry *outer, *buffer;
  unsigned count = 0;
  for (int i = 0; i <= shape->count; i++)
    GEOSCoordSeq_setXY_r(geos, points, (unsigned)i, shape->x[i % shape->count], shape->y[i % shape->count]);
  outer = GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, points), NULL, 0);
  buffer = GEOSBufferWithStyle_r(geos, outer, -distance, 1, GEOSBUF_CAP_FLAT, GEOSBUF_JOIN_MITRE, 1000);
  if (!GEOSisEmpty_r(geos, buffer)) {
    kept = GEOSGeom_getCoordSeq_r(geos, GEOSGetExteriorRing_r(geos, buffer));
    GEOSCoordSeq_getSize_r(geos, kept, &count);
    for (inner.count = 0; inner.count + 1 < (int)count; inner.count++)
      GEOSCoordSeq_getXY_r(geos, kept, (unsigned)inner.count, &inner.x[inner.count], &inner.y[inner.count]);
  }
  GEOSGeom_destroy_r(geos, outer);
  GEOSGeom_destroy_r(geos, buffer);
  return inner;
}

static polygon turned_back(const polygon *shape, double turn_deg) {
  double cosine = cos(turn_deg * 0.017453292519943295), sine = sin(turn_deg * 0.017453292519943295);
  polygon level = {shape->count, {0}, {0}};
  for (int i = 0; i < shape->count; i++) {
    level.x[i] = cosine * shape->x[i] + sine * shape->y[i];
    level.y[i] = cosine * shape->y[i] - sine * shape->x[i];
  }
  return level;
}

static int cut_row(const polygon *shape, double y, double *from, double *to) {
  *from = INFINITY;
  *to = -INFINITY;
  for (int i = 0; i < shape->count; i++) {
    int next = (i + 1) % shape->count;
    double low = fmin(shape->y[i], shape->y[next]), high = fmax(shape->y[i], shape->y[next]), x;
    if (y < low || y > high) continue;
    x = high > low ? shape->x[i] + (shape->x[next] - shape->x[i]) * (y - shape->y[i]) / (shape->y[next] - shape->y[i])
                   : shape->x[i];
    *from = fmin(*from, x);
    *to = fmax(*to, x);
  }
  return *from <= *to;
}

/* The most that any shift along the rows holds: one of those at which a row's stretch begins with a stone. */
static int most_of_shifts(const polygon *inner, double first_row, double pitch, double row_pitch, double odd_shift) {
  double from[ROWS], to[ROWS];
  int rows = 0, most = 0;
  for (int row = 0; row < ROWS; row++)
    if (cut_row(inner, first_row + row * row_pitch, &from[rows], &to[rows])) {
      from[rows] -= row % 2 * odd_shift;
      to[rows++] -= row % 2 * odd_shift;
    }
  for (int tried = 0; tried < rows; tried++) {
    int count = 0;
    for (int row = 0; row < rows; row++)
      count +=
          (int)floor((to[row] - from[tried]) / pitch + 1e-9) - (int)ceil((from[row] - from[tried]) / pitch - 1e-9) + 1;
    if (count > most) most = count;
  }
  return most;
}

/* A row through the box's middle, one touching its top, one its bottom, and thirteen more between two rows. */
static int most_of_phases(const polygon *shape, double reach, double pitch, int honeycomb, double turn_deg) {
  polygon inset = inset_of(shape, reach), inner = turned_back(&inset, turn_deg), outer = turned_back(shape, turn_deg);
  double top = INFINITY, bottom = -INFINITY, row_pitch = honeycomb ? pitch * sqrt(0.75) : pitch, first;
  int most = 0;
  for (int i = 0; i < outer.count; i++) {
    top = fmin(top, outer.y[i]);
    bottom = fmax(bottom, outer.y[i]);
  }
  first = top + reach;
  for (int phase = 0; phase < 16; phase++) {
    double to_middle = (top + bottom) / 2 - first, to_bottom = bottom - reach - first;
    double start = phase == 14   ? to_middle - row_pitch * floor(to_middle / row_pitch)
                   : phase == 15 ? to_bottom - row_pitch * floor(to_bottom / row_pitch)
                                 : phase * row_pitch / 14;
    int here = most_of_shifts(&inner, first + start, pitch, row_pitch, honeycomb ? pitch / 2 : 0);
    if (here > most) most = here;
  }
  return most;
}

static int most_of_turns(const polygon *shape, double reach, double pitch, int honeycomb, int turns) {
  int most = 0;
  for (int turn = 0; turn < turns; turn++) {
    int here = most_of_phases(shape, reach, pitch, honeycomb, turn * (honeycomb ? 60.0 : 90.0) / turns);
    if (here > most) most = here;
  }
  return most;
}

/* What touches is inside, within the tolerance of the edge's chords. */
static void covers_find_the_best_laying(void **state) {
  uint64_t random = 21;
  (void)state;
  for (int64_t i = 0; i < test_cases(0.03); i++) {
    polygon shape = random_polygon(&random);
    girdle_stone stone = test_round(2 + 3 * test_uniform(&random));
    girdle_cover_options options = test_cover(&stone, 1, test_uniform(&random));
    double margin = test_random(&random) % 2 ? test_uniform(&random) : 0, reach = stone.diameter_mm[1] / 2 + margin;
    double pitch = stone.diameter_mm[1] + options.gap_mm;
    int honeycomb = (int)(test_random(&random) % 2), turns = test_random(&random) % 4 ? 12 : 1;
    girdle_placement *placement = NULL;
    girdle_region *region;
    char text[1000], *end = text;
    for (int k = 0; k < shape.count; k++)
      end += sprintf(end, "%s%.17g %.17g", k ? "L" : "M", shape.x[k], shape.y[k]);
    sprintf(end, "Z");
    region = test_region(text);
    options.margin_mm = margin;
    options.setting = honeycomb ? GIRDLE_HONEYCOMB : GIRDLE_SQUARE_ROWS;
    if (turns == 1) options.turn_deg = 0;
    assert_int_equal(girdle_cover(NULL, region, &options, &placement), GIRDLE_OK);
    assert_true(test_count(placement) >= most_of_turns(&shape, reach, pitch, honeycomb, turns));
    assert_true(test_count(placement) <= most_of_turns(&shape, reach - 7e-5, pitch, honeycomb, turns));
    girdle_placement_free(placement);
    girdle_region_free(region);
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
    assert_int_equal(girdle_scatter(NULL, region, &options, &again), GIRDLE_OK);
    assert_true(test_same(placement, again));
    girdle_placement_free(again);
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
      cmocka_unit_test(overlaps_are_those_of_the_true_outlines),
      cmocka_unit_test(runs_stand_on_the_true_curve),
      cmocka_unit_test(bands_lie_on_true_parallels),
      cmocka_unit_test(covers_find_the_best_laying),
      cmocka_unit_test(counts_are_exact_or_name_the_most),
      cmocka_unit_test(small_scatters_never_fail_their_promises),
  };
  return cmocka_run_group_tests(tests, begin, end);
}
