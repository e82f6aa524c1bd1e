/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <time.h>

#include "support.h"

#include "shape_internal.h"

/* What nobody should draw and somebody will: each gives a status with a reason, or the right answer. */

static girdle_path *read_path(test_call *test, const char *text) {
  girdle_path *path = NULL;
  assert_ok(test, girdle_path_from_text(&test->call, text, &path));
  return path;
}

static void numbers_out_of_range_are_refused(void **state) {
  static const double bad[] = {NAN, INFINITY, -INFINITY, -1, 0, 1e300};
  test_call test;
  girdle_path *line, *path = NULL;
  girdle_region *region = NULL, *square = NULL;
  (void)state;
  line = (test_begin(&test), read_path(&test, "line 100 mm"));
  assert_ok(&test, girdle_region_rectangle(&test.call, 10, 10, &square));
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    double v = bad[i], widths[3] = {10, v, 10};
    girdle_point_on at;
    assert_status(&test, girdle_path_line(test_again(&test), v, &path), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, "length");
    assert_status(&test, girdle_path_loop(test_again(&test), v, &path), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_region_rectangle(test_again(&test), v, 5, &region), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_region_oval(test_again(&test), 5, v, &region), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, "height");
    assert_status(&test, girdle_region_trapezoid(test_again(&test), 5, v, 5, &region), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_region_strip(test_again(&test), 5, v, &region), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_region_skirt(test_again(&test), 5, 5, v, &region), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_region_area(test_again(&test), v, &region), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_region_panel(test_again(&test), 10, widths, 3, &region), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_region_panel(test_again(&test), v, widths, 1, &region), GIRDLE_ARGUMENT);
    if (v == 0) continue;
    assert_status(&test, girdle_path_at(test_again(&test), line, v, &at), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_path_part(test_again(&test), line, v, 50, &path), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_path_part(test_again(&test), line, 0, v, &path), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_path_set_in(test_again(&test), line, v, &path), GIRDLE_ARGUMENT);
    if (v == -1) continue;
    assert_status(&test, girdle_path_offset(test_again(&test), line, v, &path), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_region_inset(test_again(&test), square, v, &region), GIRDLE_ARGUMENT);
  }
  assert_null(path);
  assert_null(region);
  girdle_path_free(line);
  girdle_region_free(square);
  assert_int_equal(test.live_bytes, 0);
}

static void matrices_that_press_flat_are_refused(void **state) {
  static const double matrices[][6] = {{1, 0, 0, 0, 0, 0},   {0, 0, 0, 0, 0, 0},        {1, 2, 2, 4, 0, 0},
                                       {NAN, 0, 0, 1, 0, 0}, {1, 0, 0, 1, INFINITY, 0}, {1, 0, 0, 1, 0, 1e10}};
  test_call test;
  girdle_path *line = (test_begin(&test), read_path(&test, "loop 100 mm")), *out = NULL;
  (void)state;
  for (size_t i = 0; i < sizeof matrices / sizeof matrices[0]; i++)
    assert_status(&test, girdle_path_transformed(test_again(&test), line, matrices[i], &out), GIRDLE_ARGUMENT);
  assert_null(out);
  girdle_path_free(line);
}

static void path_parse_survives_any_bytes(void **state) {
  static const char letters[] = "MmLlHhVvCcSsQqTtAaZz0123456789.,-+eE \n\0x";
  uint64_t seed = 11;
  (void)state;
  for (int i = 0; i < 20000; i++) {
    test_call test;
    char data[60];
    uint64_t length = test_random(&seed) % sizeof data;
    girdle_path *path = NULL;
    int32_t status;
    data[0] = 'M';
    for (uint64_t k = 1; k < length; k++)
      data[k] = letters[test_random(&seed) % (sizeof letters - 1)];
    status = girdle_path_parse(test_begin(&test), data, length, &path);
    assert_true(status == GIRDLE_OK || status == GIRDLE_SYNTAX || status == GIRDLE_GEOMETRY ||
                status == GIRDLE_ARGUMENT || status == GIRDLE_OVERFLOW);
    assert_true((status == GIRDLE_OK) == (path != NULL));
    if (path) assert_true(girdle_path_length_mm(path) > 0 && isfinite(girdle_path_length_mm(path)));
    girdle_path_free(path);
    assert_int_equal(test.live_bytes, 0);
  }
}

static void tiny_and_huge_coordinates_are_measured(void **state) {
  static const struct {
    const char *data;
    double length;
  } cases[] = {
      {"M0 0L3e-9 4e-9", 5e-9},
      {"M0 0C0 1e-7 1e-7 1e-7 1e-7 0", 2e-7},
      {"M-1e9 0L1e9 0", 2e9},
      {"M0 0C0 1e9 1e9 1e9 1e9 0", 2e9},
      {"M0 0A1e-9 1e-9 0 0 1 2e-9 0", 3.141592653589793e-9},
      {"M0 0A1e9 1e9 0 0 1 1e9 1e9", 1.5707963267948966e9},
      {"M1e9 1e9L1000000001 1e9", -1},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_path *path = NULL;
    int32_t status = girdle_path_parse(test_begin(&test), cases[i].data, strlen(cases[i].data), &path);
    assert_int_equal(status, cases[i].length > 0 ? GIRDLE_OK : GIRDLE_ARGUMENT);
    if (path) assert_near(girdle_path_length_mm(path) / cases[i].length, 1, 1e-9);
    girdle_path_free(path);
    assert_int_equal(test.live_bytes, 0);
  }
}

static void points_spikes_and_duplicates_are_answered(void **state) {
  static const struct {
    const char *data;
    int32_t path, region;
  } cases[] = {
      {"M1 1", GIRDLE_GEOMETRY, GIRDLE_GEOMETRY},
      {"M1 1Z", GIRDLE_GEOMETRY, GIRDLE_GEOMETRY},
      {"M1 1L1 1", GIRDLE_GEOMETRY, GIRDLE_GEOMETRY},
      {"M1 1C1 1 1 1 1 1", GIRDLE_GEOMETRY, GIRDLE_GEOMETRY},
      {"M1 1A5 5 0 0 1 1 1", GIRDLE_GEOMETRY, GIRDLE_GEOMETRY},
      {"M0 0L10 0", GIRDLE_OK, GIRDLE_GEOMETRY},
      {"M0 0L10 0L0 0", GIRDLE_OK, GIRDLE_GEOMETRY},
      {"M0 0L10 0L5 0L7 0Z", GIRDLE_OK, GIRDLE_GEOMETRY},
      {"M0 0L0 0L10 0L10 0L10 10L10 10L0 10L0 10Z", GIRDLE_OK, GIRDLE_OK},
      {"M0 0L10 0L10 10L10 20L10 10L0 10Z", GIRDLE_OK, GIRDLE_OK},
      {"M0 0C10 0 10 0 10 10L0 10Z", GIRDLE_OK, GIRDLE_OK},
      {"M0 0C50 0 100 0-50 0", GIRDLE_OK, GIRDLE_GEOMETRY},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_path *path = NULL;
    girdle_region *region = NULL;
    int32_t status = girdle_path_parse(test_begin(&test), cases[i].data, strlen(cases[i].data), &path);
    if (status != cases[i].path) print_error("%s: %s\n", cases[i].data, test.error.message);
    assert_int_equal(status, cases[i].path);
    status = girdle_region_from_text(test_again(&test), cases[i].data, &region);
    if (status != cases[i].region) print_error("%s: %s\n", cases[i].data, test.error.message);
    assert_int_equal(status, cases[i].region);
    girdle_path_free(path);
    girdle_region_free(region);
    assert_int_equal(test.live_bytes, 0);
  }
}

/* A ring of many short edges. */
static char *many_edges(int count) {
  char *data = malloc((size_t)count * 40 + 100), *at = data;
  for (int i = 0; i < count; i++) {
    double angle = 6.283185307179586 * i / count, radius = 1000 + 5 * sin(40 * angle);
    at += sprintf(at, "%c%.6f %.6f", i ? 'L' : 'M', radius * cos(angle), radius * sin(angle));
  }
  sprintf(at, "Z");
  return data;
}

static void a_million_edges_are_no_trouble(void **state) {
  int count = getenv("GIRDLE_PROOF") ? 1000000 : 200000;
  test_call test;
  char *data = many_edges(count);
  girdle_region *region = NULL;
  girdle_path *path = NULL;
  double along, distance;
  (void)state;
  assert_ok(&test, girdle_path_parse(test_begin(&test), data, strlen(data), &path));
  assert_ok(&test, girdle_region_new(&test.call, path, GIRDLE_EVENODD, &region));
  assert_near(girdle_region_area_mm2(region) / 3.14163192e6, 1, 1e-4);
  assert_near(girdle_region_depth_mm(region, 0, 0), 995, 1e-2);
  assert_ok(&test, girdle_path_nearest(&test.call, path, 2000, 0, &along, &distance));
  girdle_region_free(region);
  girdle_path_free(path);
  free(data);
  assert_int_equal(test.live_bytes, 0);
}

static int32_t stop_at_once(void *context, uint64_t steps, double done) {
  (void)context;
  (void)steps;
  (void)done;
  return 1;
}

static void long_work_stops_when_it_is_told_to(void **state) {
  test_call test;
  char *data = many_edges(20000);
  girdle_path *path = NULL, *out = NULL;
  girdle_region *region = NULL;
  (void)state;
  assert_ok(&test, girdle_path_parse(test_begin(&test), data, strlen(data), &path));
  test.call.watch.tick = stop_at_once;
  assert_status(&test, girdle_path_offset(&test.call, path, 3, &out), GIRDLE_STOPPED);
  assert_status(&test, girdle_region_new(test_again(&test), path, GIRDLE_NONZERO, &region), GIRDLE_STOPPED);
  assert_status(&test, girdle_path_parse(test_again(&test), data, strlen(data), &out), GIRDLE_STOPPED);
  girdle_path_free(path);
  assert_null(out);
  free(data);
  assert_int_equal(test.live_bytes, 0);
}

/* ---- every allocation refused once */

static int32_t work_on_paths(girdle_call *call) {
  static const char data[] = "M0 0C40 90 90 -70 120 30L150 30A40 20 10 0 1 200 60Q230 90 180 100M1 1H5V5Z";
  static const double matrix[6] = {1, 0.2, 0, 1.1, 3, 4};
  static const girdle_lie flat = {0, 0}, board = {0.1, 0};
  girdle_path *path = NULL, *out[10] = {NULL};
  girdle_meeting meetings[4];
  uint64_t count;
  int32_t status = girdle_path_parse(call, data, sizeof data - 1, &path);
  if (!status) status = girdle_path_transformed(call, path, matrix, &out[0]);
  if (!status) status = girdle_path_reversed(call, path, &out[1]);
  if (!status) status = girdle_path_part(call, path, 10, 60, &out[2]);
  if (!status) status = girdle_path_joined(call, path, out[1], &out[3]);
  if (!status) status = girdle_path_offset(call, path, 4, &out[4]);
  if (!status) status = girdle_path_flattened(call, path, 0.1, &out[5]);
  if (!status) status = girdle_path_split(call, path, 50, &out[6], &out[7]);
  if (!status) status = girdle_path_fitted(call, path, 380, NAN, NAN, &out[8]);
  if (!status) status = girdle_path_stretched(call, path, &flat, &board, &out[9]);
  if (!status) status = girdle_path_meetings(call, path, out[0], meetings, 4, &count);
  girdle_path_free(path);
  for (int i = 0; i < 10; i++)
    girdle_path_free(out[i]);
  return status;
}

static int32_t work_on_tapes(girdle_call *call) {
  static const double widths[] = {0, 30, 40, 20};
  girdle_path *path[4] = {NULL};
  girdle_region *region[3] = {NULL};
  girdle_tape tape;
  int32_t status = girdle_path_line(call, 100, &path[0]);
  if (!status) status = girdle_path_loop(call, 100, &path[1]);
  if (!status) status = girdle_path_set_in(call, path[1], 2, &path[2]);
  if (!status) status = girdle_path_from_text(call, "yoke 40 cm x 90 cm x 12 cm", &path[3]);
  if (!status) status = girdle_region_skirt(call, 660, 350, 0.5, &region[0]);
  if (!status) status = girdle_region_panel(call, 50, widths, 4, &region[1]);
  if (!status) status = girdle_region_area(call, 25000, &region[2]);
  for (uint64_t i = 0; girdle_tape_info(i, &tape) && !status; i++) {
    girdle_region *one = NULL;
    girdle_path *same = NULL;
    status = girdle_path_from_text(call, strcmp(tape.word, "area") == 0 ? "line 1 cm" : tape.example, &same);
    if (!status && strcmp(tape.word, "line") != 0) status = girdle_region_from_text(call, tape.example, &one);
    girdle_path_free(same);
    girdle_region_free(one);
  }
  for (int i = 0; i < 4; i++)
    girdle_path_free(path[i]);
  for (int i = 0; i < 3; i++)
    girdle_region_free(region[i]);
  return status;
}

static int32_t work_on_regions(girdle_call *call) {
  static const double matrix[6] = {1, 0, 0, 1, 50, 5};
  girdle_region *square = NULL, *drop = NULL, *moved = NULL, *rest = NULL, *less = NULL, *fitted = NULL;
  girdle_path *rim = NULL;
  int32_t status = girdle_region_rectangle(call, 100, 80, &square);
  if (!status) status = girdle_region_from_text(call, "teardrop 6 cm x 10 cm", &drop);
  if (!status) status = girdle_region_transformed(call, drop, matrix, &moved);
  if (!status) status = girdle_region_without(call, square, moved, &rest);
  if (!status) status = girdle_region_inset(call, rest, 3, &less);
  if (!status) status = girdle_region_fitted(call, rest, 50, NAN, &fitted);
  if (!status) status = girdle_region_rim(call, rest, &rim);
  girdle_region_free(square);
  girdle_region_free(drop);
  girdle_region_free(moved);
  girdle_region_free(rest);
  girdle_region_free(less);
  girdle_region_free(fitted);
  girdle_path_free(rim);
  return status;
}

/* The parallel of a crescent stays open at its tip, and that of a spiked curve falls into two parts. */
static int32_t work_on_slivers(girdle_call *call) {
  static const char *const slivers[2] = {"M26 -6Q18 -7 312 28Z", "M3 -4Q17 4122.11 11 656.606l-0.8 335.868Z"};
  static const double distances[2] = {0.0084121688287565957, 2.0809007106870179};
  int32_t status = GIRDLE_OK;
  for (int i = 0; i < 2 && !status; i++) {
    girdle_region *region = NULL, *inner = NULL;
    status = girdle_region_from_text(call, slivers[i], &region);
    if (!status) status = girdle_region_inset(call, region, distances[i], &inner);
    girdle_region_free(region);
    girdle_region_free(inner);
  }
  return status;
}

static void path_offset_says_when_it_would_take_forever(void **state) {
  enum { EDGES = 30000 };
  char *data = malloc(EDGES * 12 + 20), *at = data + sprintf(data, "M0 0");
  girdle_path *path = NULL, *out = NULL;
  test_call test;
  (void)state;
  for (int i = 0; i < EDGES; i++)
    at += sprintf(at, i % 2 ? "L0 0" : "L1e-6 0");
  assert_ok(&test, girdle_path_parse(test_begin(&test), data, strlen(data), &path));
  assert_status(&test, girdle_path_offset(&test.call, path, 1, &out), GIRDLE_LIMIT); /* in seconds */
  assert_non_null(strstr(test.error.message, "too many edges lie within this distance of each other"));
  girdle_path_free(path);
  free(data);
  assert_int_equal(test.live_bytes, 0);
}

/* An outline of thousands of edges that lie over each other or cross is refused at the first fault. */
static int32_t make_outline(test_call *test, uint64_t count,
                            void (*point)(uint64_t i, uint64_t *chance, double at[2])) {
  char *data = malloc(count * 60), *end = data;
  girdle_region *region = NULL;
  uint64_t chance = 11;
  int32_t status;
  for (uint64_t i = 0; i < count; i++) {
    double at[2];
    point(i, &chance, at);
    end += sprintf(end, "%c%.6f %.6f", i ? 'L' : 'M', at[0], at[1]);
  }
  status = girdle_region_from_text(test_again(test), data, &region);
  free(data);
  girdle_region_free(region);
  assert_int_equal(test->live_bytes, 0);
  return status;
}

static void put_spike(uint64_t i, uint64_t *chance, double at[2]) {
  (void)chance;
  at[0] = (double)(i % 2);
  at[1] = 0;
}

static void put_comb(uint64_t i, uint64_t *chance, double at[2]) {
  (void)chance;
  at[0] = i % 2 ? 1 : 0;
  at[1] = i < 4000 ? 0 : 3;
}

static void put_anywhere(uint64_t i, uint64_t *chance, double at[2]) {
  (void)i;
  at[0] = 1000 * test_uniform(chance);
  at[1] = 1000 * test_uniform(chance);
}

static void put_on_grid(uint64_t i, uint64_t *chance, double at[2]) {
  put_anywhere(i, chance, at);
  at[0] = floor(at[0] / 50);
  at[1] = floor(at[1] / 50);
}

static void outlines_that_cross_everywhere_are_refused_at_once(void **state) {
  test_call test;
  clock_t start = clock();
  (void)state;
  test_begin(&test);
  assert_status(&test, make_outline(&test, 2000, put_spike), GIRDLE_GEOMETRY);
  assert_status(&test, make_outline(&test, 4001, put_comb), GIRDLE_GEOMETRY);
  assert_status(&test, make_outline(&test, 20000, put_anywhere), GIRDLE_GEOMETRY);
  assert_non_null(strstr(test.error.message, "crosses itself at x "));
  assert_status(&test, make_outline(&test, 20000, put_on_grid), GIRDLE_GEOMETRY);
  assert_true((double)(clock() - start) < 5.0 * CLOCKS_PER_SEC); /* a tenth of a second without a sanitizer */
}

static void region_without_the_same_twice_is_exact(void **state) {
  girdle_region *square = NULL, *oval = NULL, *once = NULL, *twice = NULL;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_region_from_text(&test.call, "rectangle 100 mm x 100 mm", &square));
  assert_ok(&test, girdle_region_from_text(&test.call, "oval 50 mm x 50 mm", &oval));
  assert_ok(&test, girdle_region_without(&test.call, square, oval, &once));
  assert_ok(&test, girdle_region_without(&test.call, once, oval, &twice));
  assert_near(girdle_region_area_mm2(twice), girdle_region_area_mm2(once), 1e-9);
  assert_int_equal(girdle_region_holes(twice), girdle_region_holes(once));
  girdle_region_free(square);
  girdle_region_free(oval);
  girdle_region_free(once);
  girdle_region_free(twice);
  assert_int_equal(test.live_bytes, 0);
}

static void points_that_are_no_numbers_are_answered_at_once(void **state) {
  static const double bad[] = {NAN, INFINITY, -INFINITY};
  static const char *const shapes[] = {"rectangle 10 cm x 20 cm", "teardrop 6 cm x 10 cm", "oval 4 cm x 6 cm"};
  test_call test;
  (void)state;
  test_begin(&test);
  for (int i = 0; i < 3; i++) {
    girdle_region *region = NULL;
    girdle_path *rim = NULL;
    assert_ok(&test, girdle_region_from_text(&test.call, shapes[i], &region));
    assert_ok(&test, girdle_region_rim(&test.call, region, &rim));
    for (int k = 0; k < 3; k++) {
      double along, distance;
      assert_true(isnan(girdle_region_depth_mm(region, bad[k], 0)));
      assert_true(isnan(girdle_region_depth_mm(region, 0, bad[k])));
      assert_int_equal(girdle_region_contains(region, bad[k], 1), 0);
      assert_int_equal(girdle_region_contains(region, 1, bad[k]), 0);
      test_again(&test);
      assert_status(&test, girdle_path_nearest(&test.call, rim, bad[k], 0, &along, &distance), GIRDLE_ARGUMENT);
      test_again(&test);
      assert_status(&test, girdle_path_nearest(&test.call, rim, 0, bad[k], &along, &distance), GIRDLE_ARGUMENT);
    }
    test_again(&test);
    girdle_region_free(region);
    girdle_path_free(rim);
  }
}

static girdle_region *region_of_data(test_call *test, const char *data) {
  girdle_region *region = NULL;
  girdle_path *path = NULL;
  int32_t status;
  assert_ok(test, girdle_path_parse(&test->call, data, strlen(data), &path));
  status = girdle_region_new(&test->call, path, GIRDLE_EVENODD, &region);
  girdle_path_free(path);
  return status ? NULL : region;
}

/* The last curve sets out with no speed, where all of its parts are within rounding of each other. */
static void region_new_ends_where_a_curve_stands_still(void **state) {
  test_call test;
  (void)state;
  test_begin(&test);
  assert_null(region_of_data(&test, "M0 32 20 0T40 0S1 2 3 3"));
  assert_non_null(strstr(test.error.message, "crosses itself"));
}

/* Rims that do not close are made anew with more slack; what was made before is given back once. */
static void region_new_gives_back_once_what_it_makes_anew(void **state) {
  girdle_region *region;
  test_call test;
  (void)state;
  test_begin(&test);
  region = region_of_data(&test, "M0 0Q16201500 30 4051 0S1 2 3 4");
  girdle_region_free(region);
  assert_int_equal(test.live_bytes, 0);
}

/* Each of two areas that share a corner is inset on its own. */
static void region_inset_keeps_apart_what_shares_a_corner(void **state) {
  static const struct {
    const char *data;
    double inset_area;
  } cases[] = {{"M0 0H40V30H0Z M0 0H-20V-10H0Z", 38 * 28 + 18 * 8},
               {"M0 0H40V30H0V0L-20 0 -20 -10 0 -10Z", 38 * 28 + 18 * 8},
               {"M0 0H40V30H0Z M0 0L-3 0 0 -1Z", 38 * 28},
               /* triangles: what is left is alike, smaller by the distance over the radius of the inscribed circle */
               {"M0 0L24 -30 180 -5 0 0 12 1 12 20Z", 2343.059476067}};
  test_call test;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_region *region = region_of_data(&test, cases[i].data), *inner = NULL;
    assert_non_null(region);
    assert_ok(&test, girdle_region_inset(&test.call, region, 1, &inner));
    assert_near(girdle_region_area_mm2(inner), cases[i].inset_area, 1e-3);
    girdle_region_free(inner);
    girdle_region_free(region);
  }
  assert_int_equal(test.live_bytes, 0);
}

static void region_inset_refuses_curves_of_kilometres(void **state) {
  girdle_region *inner = NULL, *region;
  test_call test;
  (void)state;
  test_begin(&test);
  region = region_of_data(&test, "m1-12a7 4-5 00 0-77540310e0");
  assert_non_null(region);
  assert_status(&test, girdle_region_inset(&test.call, region, 1.2, &inner), GIRDLE_LIMIT);
  assert_non_null(strstr(test.error.message, "too large"));
  girdle_region_free(region);
  assert_int_equal(test.live_bytes, 0);
}

static void refused_memory_leaves_nothing_behind(void **state) {
  (void)state;
  test_sweep_allocations(work_on_paths);
  test_sweep_allocations(work_on_tapes);
  test_sweep_allocations(work_on_regions);
  test_sweep_allocations(work_on_slivers);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(numbers_out_of_range_are_refused),
      cmocka_unit_test(matrices_that_press_flat_are_refused),
      cmocka_unit_test(path_parse_survives_any_bytes),
      cmocka_unit_test(tiny_and_huge_coordinates_are_measured),
      cmocka_unit_test(points_spikes_and_duplicates_are_answered),
      cmocka_unit_test(a_million_edges_are_no_trouble),
      cmocka_unit_test(long_work_stops_when_it_is_told_to),
      cmocka_unit_test(path_offset_says_when_it_would_take_forever),
      cmocka_unit_test(outlines_that_cross_everywhere_are_refused_at_once),
      cmocka_unit_test(region_without_the_same_twice_is_exact),
      cmocka_unit_test(points_that_are_no_numbers_are_answered_at_once),
      cmocka_unit_test(region_new_ends_where_a_curve_stands_still),
      cmocka_unit_test(region_new_gives_back_once_what_it_makes_anew),
      cmocka_unit_test(region_inset_keeps_apart_what_shares_a_corner),
      cmocka_unit_test(region_inset_refuses_curves_of_kilometres),
      cmocka_unit_test(refused_memory_leaves_nothing_behind),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
