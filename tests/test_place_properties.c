/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_internal.h"
#include "place_support.h"

/* Small random asks by the ten thousand. The outlines are polygons with holes, so that what is inside and how far from
 * the edge is worked out here from their corners, and the stones are few, so that all pairs are looked at. */

enum { CORNERS = 12, HOLES = 3 };

typedef struct ring {
  int count;
  double x[CORNERS], y[CORNERS];
} ring;

typedef struct shape {
  int rings;
  ring ring[1 + HOLES]; /* the outline, then the holes */
  int convex;
} shape;

/* ---- the oracle */

static double distance_to_edge(double x0, double y0, double x1, double y1, double x, double y) {
  double dx = x1 - x0, dy = y1 - y0, t = ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy);
  t = fmin(fmax(t, 0), 1);
  return hypot(x0 + t * dx - x, y0 + t * dy - y);
}

/* Distance from all edges, negative outside. */
static double depth_in(const shape *on, double x, double y) {
  double least = INFINITY;
  int inside = 0;
  for (int r = 0; r < on->rings; r++) {
    const ring *at = &on->ring[r];
    for (int i = 0, k = at->count - 1; i < at->count; k = i++) {
      least = fmin(least, distance_to_edge(at->x[k], at->y[k], at->x[i], at->y[i], x, y));
      if ((at->y[i] > y) != (at->y[k] > y) &&
          x < (at->x[k] - at->x[i]) * (y - at->y[i]) / (at->y[k] - at->y[i]) + at->x[i])
        inside = !inside;
    }
  }
  return inside ? least : -least;
}

static double area_of(const shape *on) {
  double area = 0;
  for (int r = 0; r < on->rings; r++) {
    const ring *at = &on->ring[r];
    double twice = 0;
    for (int i = 0, k = at->count - 1; i < at->count; k = i++)
      twice += at->x[k] * at->y[i] - at->x[i] * at->y[k];
    area += (r ? -1 : 1) * fabs(twice) / 2;
  }
  return area;
}

static double perimeter_of(const shape *on) {
  double perimeter = 0;
  for (int r = 0; r < on->rings; r++)
    for (int i = 0, k = on->ring[r].count - 1; i < on->ring[r].count; k = i++)
      perimeter += hypot(on->ring[r].x[i] - on->ring[r].x[k], on->ring[r].y[i] - on->ring[r].y[k]);
  return perimeter;
}

static void assert_holds(const girdle_placement *placement, const shape *on, double gap_mm, double margin_mm) {
  int64_t count;
  const girdle_placed *records = test_records(placement, &count);
  for (int64_t i = 0; i < count; i++)
    assert_true(depth_in(on, records[i].x_mm, records[i].y_mm) >=
                test_diameter(placement, i) / 2 + margin_mm - TOLERANCE);
  assert_true(count < 2 || test_least_gap(placement) >= gap_mm - TOLERANCE);
}

/* ---- what is asked */

static ring random_ring(uint64_t *random, double x, double y, double size, double deep) {
  ring made = {3 + (int)(test_random(random) % (CORNERS - 2)), {0}, {0}};
  double stretch = 0.5 + test_uniform(random);
  for (int i = 0; i < made.count; i++) {
    double angle = 6.283185307179586 * (i + 0.6 * test_uniform(random)) / made.count;
    double r = size * (1 - deep * test_uniform(random));
    made.x[i] = x + r * cos(angle) * stretch;
    made.y[i] = y + r * sin(angle);
  }
  return made;
}

/* Corners on an ellipse, or in and out of it; holes well within it and apart from each other. */
static shape random_shape(uint64_t *random, double size) {
  shape made = {1, {{0, {0}, {0}}}, (int)(test_random(random) % 2)};
  int holes = made.convex ? 0 : (int)(test_random(random) % (HOLES + 1));
  made.ring[0] = random_ring(random, 0, 0, size, made.convex ? 0 : 0.6);
  for (int tried = 0; tried < 20 && made.rings <= holes; tried++) {
    double x = (2 * test_uniform(random) - 1) * size, y = (2 * test_uniform(random) - 1) * size;
    double room = depth_in(&made, x, y), hole = room * (0.2 + 0.4 * test_uniform(random));
    if (room > size / 10) made.ring[made.rings++] = random_ring(random, x, y, hole, 0.5);
  }
  return made;
}

static void write_shape(const shape *on, char *text) {
  for (int r = 0; r < on->rings; r++) {
    for (int i = 0; i < on->ring[r].count; i++)
      text += sprintf(text, "%s%.17g %.17g", i ? "L" : "M", on->ring[r].x[i], on->ring[r].y[i]);
    text += sprintf(text, "Z");
  }
}

static girdle_region *region_of(const shape *on) {
  static char text[4000];
  girdle_path *rings;
  girdle_region *region = NULL;
  write_shape(on, text);
  rings = test_path(text);
  assert_int_equal(girdle_region_new(NULL, rings, GIRDLE_EVENODD, &region), GIRDLE_OK);
  girdle_path_free(rings);
  return region;
}

/* A count that does not fit names one that does; 0 says that none does. */
static int64_t named_count(const girdle_error *error) {
  const char *named = strstr(error->message, "; the ");
  assert_string_equal(error->field, "count");
  assert_non_null(named);
  return strtol(named + strcspn(named, "0123456789"), NULL, 10);
}

/* ---- covers and scatters (ten thousand more scatters, in rectangles, stand beside the oracle of curves) */

static void covers_hold_their_promises(void **state) {
  uint64_t random = 31;
  int64_t laid = 0;
  (void)state;
  for (int64_t i = 0; i < test_cases(1); i++) {
    shape on = random_shape(&random, 6 + 14 * test_uniform(&random));
    girdle_region *region = region_of(&on);
    girdle_stone stone = test_round(1.5 + 4 * test_uniform(&random));
    girdle_cover_options options = test_cover(&stone, 1, test_uniform(&random));
    girdle_placement *placement = NULL;
    test_call test;
    int32_t status;
    options.margin_mm = test_random(&random) % 2 ? test_uniform(&random) : 0;
    options.setting = (int32_t)(test_random(&random) % 2);
    options.turn_deg = test_random(&random) % 8 ? 90 * test_uniform(&random) : NAN;
    if (test_random(&random) % 20 == 0) options.setting = GIRDLE_EDGE_ROWS;
    if (test_random(&random) % 4 == 0) options.count = 1 + (int64_t)(test_random(&random) % 30);
    test_plain(&test);
    status = girdle_cover(&test.call, region, &options, &placement);
    if (status && options.count && strcmp(test.error.field, "count") == 0) {
      options.count = named_count(&test.error);
      status = girdle_cover(test_again(&test), region, &options, &placement);
    }
    if (!status) {
      if (options.count) assert_int_equal(test_count(placement), options.count);
      assert_holds(placement, &on, test_notes(placement).gap_mm, options.margin_mm);
      assert_true(test_count(placement) < 2 || test_notes(placement).gap_mm >= options.gap_mm);
      assert_true(test_count(placement) <= test_notes(placement).bound_most);
      laid++;
    } else {
      assert_int_equal(status, GIRDLE_GEOMETRY); /* too large */
      assert_non_null(strstr(test.error.message, "smaller stone"));
    }
    girdle_placement_free(placement);
    girdle_region_free(region);
  }
  assert_true(laid > test_cases(0.7));
}

static void scatters_hold_their_promises(void **state) {
  uint64_t random = 32;
  int64_t laid = 0;
  (void)state;
  for (int64_t i = 0; i < test_cases(1); i++) {
    shape on = random_shape(&random, 5 + 9 * test_uniform(&random));
    girdle_region *region = region_of(&on);
    girdle_stone stones[3] = {test_round(1.5 + 3 * test_uniform(&random)), test_round(1.2 + test_uniform(&random)),
                              test_round(1.5)};
    girdle_scatter_options options = test_scatter(stones, 1 + test_random(&random) % 3, test_uniform(&random));
    girdle_placement *placement = NULL, *again = NULL;
    test_call test;
    int32_t status;
    options.margin_mm = test_random(&random) % 2 ? test_uniform(&random) : 0;
    options.seed = test_random(&random);
    if (test_random(&random) % 2) options.count = 1 + (int64_t)(test_random(&random) % 30);
    test_plain(&test);
    status = girdle_scatter(&test.call, region, &options, &placement);
    if (status && options.count && strcmp(test.error.field, "count") == 0 &&
        (options.count = named_count(&test.error)) > 0)
      status = girdle_scatter(test_again(&test), region, &options, &placement);
    if (!status) {
      if (options.count) assert_int_equal(test_count(placement), options.count);
      assert_holds(placement, &on, options.gap_mm, options.margin_mm);
      if (i % 10 == 0) {
        assert_int_equal(girdle_scatter(NULL, region, &options, &again), GIRDLE_OK);
        assert_true(test_same(placement, again));
      }
      laid++;
    } else {
      assert_int_equal(status, GIRDLE_GEOMETRY);
    }
    girdle_placement_free(placement);
    girdle_placement_free(again);
    girdle_region_free(region);
  }
  assert_true(laid > test_cases(0.7));
}

/* ---- runs and bands */

/* Lines of so many corners at most, that turn at random and may cross each other. */
static int random_line(uint64_t *random, char *text, int most, double x[CORNERS], double y[CORNERS]) {
  int count = 2 + (int)(test_random(random) % (uint64_t)(most - 2));
  double way = 6.283185307179586 * test_uniform(random);
  x[0] = y[0] = 0;
  text += sprintf(text, "M0 0");
  for (int i = 1; i < count; i++) {
    double length = 6 + 20 * test_uniform(random);
    x[i] = x[i - 1] + length * cos(way);
    y[i] = y[i - 1] + length * sin(way);
    way += 4 * (test_uniform(random) - 0.5);
    text += sprintf(text, "L%.17g %.17g", x[i], y[i]);
  }
  return count;
}

static void runs_hold_their_promises(void **state) {
  uint64_t random = 33;
  int64_t counted = 0;
  (void)state;
  for (int64_t i = 0; i < test_cases(1); i++) {
    double x[CORNERS], y[CORNERS];
    char text[1000];
    int corners = random_line(&random, text, CORNERS, x, y);
    girdle_path *path = test_path(text);
    girdle_stone stones[2] = {test_round(1.5 + 3 * test_uniform(&random)), test_round(1.5 + 3 * test_uniform(&random))};
    girdle_run_options options = test_run(stones, 1 + test_random(&random) % 2, 2 * test_uniform(&random));
    girdle_placement *placement = NULL;
    const girdle_placed *records;
    int64_t count;
    test_call test;
    if (test_random(&random) % 2) options.flags = GIRDLE_ENDS_INSIDE;
    if (test_random(&random) % 8 == 0) options.count = 1 + (int64_t)(test_random(&random) % 40);
    test_plain(&test);
    if (girdle_run(&test.call, path, &options, &placement)) {
      assert_true(options.count > 0 || stones[0].diameter_mm[1] > 5);
      if (options.count && strcmp(test.error.field, "count") == 0 && (options.count = named_count(&test.error)) > 0)
        assert_ok(&test, girdle_run(test_again(&test), path, &options, &placement));
    }
    if (placement) {
      records = test_records(placement, &count);
      if (options.count) {
        assert_int_equal(count, options.count);
        assert_true(test_notes(placement).gap_mm >= options.gap_mm - 1e-9);
        counted++;
      }
      assert_true(count < 2 || test_least_gap(placement) >= -TOLERANCE);
      for (int64_t k = 0; k < count; k++) {
        double least = INFINITY;
        for (int c = 1; c < corners; c++)
          least = fmin(least, distance_to_edge(x[c - 1], y[c - 1], x[c], y[c], records[k].x_mm, records[k].y_mm));
        assert_true(least <= 1e-4);
      }
    }
    girdle_placement_free(placement);
    girdle_path_free(path);
  }
  assert_true(counted > test_cases(0.06));
}

static void bands_never_overlap(void **state) {
  uint64_t random = 34;
  int64_t counted = 0, losing = 0;
  (void)state;
  for (int64_t i = 0; i < test_cases(1); i++) {
    double x[CORNERS], y[CORNERS];
    char text[1000];
    girdle_path *path;
    girdle_stone stones[3] = {test_round(1.5 + 3 * test_uniform(&random)), test_round(1.5 + 3 * test_uniform(&random)),
                              test_round(2)};
    uint64_t rows[3] = {1, 1, 1};
    girdle_band_options options;
    girdle_placement *placement = NULL;
    test_call test;
    random_line(&random, text, 5, x, y);
    path = test_path(text);
    girdle_band_options_init(&options, sizeof options);
    options.stones = stones;
    options.row_counts = rows;
    options.rows = options.stone_count = 1 + test_random(&random) % 3;
    options.gap_mm = test_uniform(&random);
    options.side = (int32_t)(test_random(&random) % 3);
    if (test_random(&random) % 2) options.flags = GIRDLE_STAGGER;
    if (test_random(&random) % 20 == 0) options.count = 1 + (int64_t)(test_random(&random) % 60);
    test_plain(&test);
    if (girdle_band(&test.call, path, &options, &placement) && options.count &&
        (options.count = named_count(&test.error)) > 0)
      assert_ok(&test, girdle_band(test_again(&test), path, &options, &placement));
    if (placement) {
      if (options.count) assert_int_equal(test_count(placement), options.count);
      assert_true(test_count(placement) < 2 || test_least_gap(placement) >= -TOLERANCE);
      counted += options.count > 0;
      losing += test_notes(placement).left_out > 0;
    }
    girdle_placement_free(placement);
    girdle_path_free(path);
  }
  assert_true(counted > test_cases(0.01) && losing > test_cases(0.1));
}

/* ---- bounds */

/* How many places of a lattice hold a stone; a place of it lies at the middle, or anywhere. */
static int64_t lattice_count(const shape *on, double size, double pitch, double reach, int honeycomb, double shift[2]) {
  double row_pitch = honeycomb ? pitch * sqrt(0.75) : pitch;
  int rows = (int)(size / row_pitch) + 2, columns = (int)(1.5 * size / pitch) + 2;
  int64_t count = 0;
  for (int row = -rows; row <= rows; row++)
    for (int column = -columns; column <= columns; column++)
      count += depth_in(on, shift[0] + (column + (honeycomb && row % 2 ? 0.5 : 0)) * pitch,
                        shift[1] + row * row_pitch) >= reach;
  return count;
}

static void bounds_are_never_passed(void **state) {
  uint64_t random = 35;
  int64_t close = 0;
  (void)state;
  for (int64_t i = 0; i < test_cases(1); i++) {
    girdle_stone stone = test_round(4);
    double gap = test_random(&random) % 2 ? 2 * test_uniform(&random) : 0, pitch = 4 + gap;
    double size = 2 + 18 * test_uniform(&random) * test_uniform(&random);
    shape on = random_shape(&random, size);
    double area = area_of(&on), perimeter = perimeter_of(&on), shift[2] = {0, 0};
    int32_t setting = (int32_t)(test_random(&random) % 2);
    girdle_count count;
    int64_t most = 0;
    for (int tried = 0; tried < 4; tried++) {
      int64_t here = lattice_count(&on, size, pitch, 2, setting == GIRDLE_HONEYCOMB, shift);
      if (here > most) most = here;
      shift[0] = pitch * test_uniform(&random);
      shift[1] = pitch * test_uniform(&random);
    }
    assert_int_equal(girdle_count_over(NULL, area, perimeter, on.rings - 1, &stone, gap, setting, &count), GIRDLE_OK);
    assert_true(most <= count.most);
    assert_true(count.least <= count.expected && count.expected <= count.most);
    if (on.convex) {
      assert_int_equal(girdle_count_over(NULL, area, perimeter, GIRDLE_CONVEX, &stone, gap, setting, &count),
                       GIRDLE_OK);
      assert_true(most <= count.most);
    }
    close += most > 0 && most >= count.most / 2;
  }
  assert_true(close > test_cases(0.1));
}

/* The mean over all places of the lattice is the open area over a cell: some place holds as many as the mean, and the
 * mean is not below the bound. */
static void bounds_promise_no_more_than_a_lattice_holds(void **state) {
  uint64_t random = 36;
  int64_t promised = 0;
  (void)state;
  for (int64_t i = 0; i < test_cases(0.005); i++) {
    girdle_stone stone = test_round(4);
    double size = 10 + 15 * test_uniform(&random), sum = 0, shift[2], pitch = 4 + test_uniform(&random);
    shape on = random_shape(&random, size);
    int32_t setting = (int32_t)(test_random(&random) % 2);
    double row_pitch = setting == GIRDLE_HONEYCOMB ? pitch * sqrt(0.75) : pitch;
    girdle_count count;
    enum { STEPS = 20 };
    for (int k = 0; k < STEPS * STEPS; k++) {
      shift[0] = pitch * (k % STEPS) / STEPS;
      shift[1] = 2 * row_pitch * (k / STEPS) / STEPS;
      sum += (double)lattice_count(&on, size, pitch, 2, setting == GIRDLE_HONEYCOMB, shift);
    }
    assert_int_equal(
        girdle_count_over(NULL, area_of(&on), perimeter_of(&on), on.rings - 1, &stone, pitch - 4, setting, &count),
        GIRDLE_OK);
    assert_true((double)count.least <= ceil(sum / STEPS / STEPS + 0.1));
    promised += count.least > 0;
  }
  assert_true(promised > test_cases(0.001));
}

/* ---- straight runs */

static int64_t run_count(const girdle_path *path, const girdle_stone *stones, uint64_t kinds, double gap_mm) {
  girdle_run_options options = test_run(stones, kinds, gap_mm);
  girdle_placement *placement = NULL;
  int64_t count;
  assert_int_equal(girdle_run(NULL, path, &options, &placement), GIRDLE_OK);
  count = test_count(placement);
  girdle_placement_free(placement);
  return count;
}

static void straight_runs_fall_with_the_gap(void **state) {
  uint64_t random = 37;
  int64_t fewer = 0;
  (void)state;
  for (int64_t i = 0; i < test_cases(1); i++) {
    girdle_stone stones[2] = {test_round(1.5 + 3 * test_uniform(&random)), test_round(1.5 + 3 * test_uniform(&random))};
    uint64_t kinds = 1 + test_random(&random) % 2;
    double length = 20 + 100 * test_uniform(&random), gap = 3 * test_uniform(&random), wider;
    girdle_path *path = NULL;
    int64_t many, few;
    wider = gap + test_uniform(&random);
    assert_int_equal(girdle_path_line(NULL, length, &path), GIRDLE_OK);
    many = run_count(path, stones, kinds, gap);
    few = run_count(path, stones, kinds, wider);
    assert_true(few <= many);
    fewer += few < many;
    girdle_path_free(path);
  }
  assert_true(fewer > test_cases(0.5));
}

static void counts_along_fall_with_the_gap(void **state) {
  uint64_t random = 37;
  (void)state;
  for (int64_t i = 0; i < test_cases(1); i++) {
    girdle_stone stones[2] = {test_round(1.5 + 3 * test_uniform(&random)), test_round(1.5 + 3 * test_uniform(&random))};
    uint64_t kinds = 1 + test_random(&random) % 2;
    double length = 20 + 100 * test_uniform(&random), gap = 3 * test_uniform(&random);
    int32_t closed = (int32_t)(test_random(&random) % 2);
    girdle_count narrow, wide;
    assert_int_equal(girdle_count_along(NULL, length, closed, stones, kinds, gap, &narrow), GIRDLE_OK);
    assert_int_equal(girdle_count_along(NULL, length, closed, stones, kinds, gap + test_uniform(&random), &wide),
                     GIRDLE_OK);
    assert_true(wide.expected <= narrow.expected);
    assert_true(narrow.least <= narrow.expected && narrow.expected <= narrow.most);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(covers_hold_their_promises),      cmocka_unit_test(scatters_hold_their_promises),
      cmocka_unit_test(runs_hold_their_promises),        cmocka_unit_test(bands_never_overlap),
      cmocka_unit_test(bounds_are_never_passed),         cmocka_unit_test(bounds_promise_no_more_than_a_lattice_holds),
      cmocka_unit_test(straight_runs_fall_with_the_gap), cmocka_unit_test(counts_along_fall_with_the_gap),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
