/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

#include "shape_internal.h"

static const double half_turn = 3.141592653589793238463;

static girdle_path *read_path(test_call *test, const char *data) {
  girdle_path *path = NULL;
  assert_ok(test, girdle_path_parse(&test->call, data, strlen(data), &path));
  return path;
}

static girdle_region *read_region(test_call *test, const char *text) {
  girdle_region *region = NULL;
  assert_ok(test, girdle_region_from_text(&test->call, text, &region));
  return region;
}

/* ---- reading path data */

static void path_parse_reads_every_command(void **state) {
  static const struct {
    const char *data, *same;
  } cases[] = {
      {"M0 0L10 0", "M0,0 10,0"},
      {"m 5 5 l 1 2 3 4", "M5 5 L 6 7 L 9 11"},
      {"M0 0h10v5h-3v-2", "M0 0L10 0L10 5L7 5L7 3"},
      {"M0 0H10V5H7V3", "M0 0L10 0L10 5L7 5L7 3"},
      {"M0 0c1 2 3 4 5 6s3 4 5 6", "M0 0C1 2 3 4 5 6C7 8 8 10 10 12"},
      {"M0 0q1 2 3 4t5 6", "M0 0Q1 2 3 4Q5 6 8 10"},
      {"M0 0t5 6", "M0 0Q0 0 5 6"},
      {"M0 0s3 4 5 6", "M0 0C0 0 3 4 5 6"},
      {"M0 0a25 25-30 01 50-25", "M0 0 A 25,25 -30 0,1 50,-25"},
      {"M0 0a5 5 0 00.5.5", "M0 0A5 5 0 0 0 .5 .5"},
      {"M1e-3.5.5-1.5E+1", "M0.001 0.5L0.5 -15"},
      {"\t\r\n\fM0 0\nL1 1 ", "M0 0L1 1"},
      {"M0 0L10 0L10 10Zl5 5", "M0 0L10 0L10 10L0 0Z M0 0L5 5"},
      {"M0 0L10 0C1 2 3 4z", "M0 0L10 0C1 2 3 4 0 0Z"},
      {"M0 0 1 1 2 0m1 1 1 1", "M0 0L1 1L2 0M3 1L4 2"},
      {"M0 0M5 5L6 6", "M5 5L6 6"},
      {"M0 0A0 5 0 0 1 4 4", "M0 0L4 4"},
      {"M0 0A-5-5 0 0 1 5 5", "M0 0A5 5 0 0 1 5 5"},
      {"M0 0L0 0L5 5L5 5", "M0 0L5 5"},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    char one[600], two[600];
    girdle_path *path, *same;
    test_begin(&test);
    path = read_path(&test, cases[i].data);
    same = read_path(&test, cases[i].same);
    girdle_path_text(path, one, sizeof one);
    girdle_path_text(same, two, sizeof two);
    assert_string_equal(one, two);
    girdle_path_free(path);
    girdle_path_free(same);
    assert_int_equal(test.live_bytes, 0);
  }
}

/* Looks that the fault is found at the byte, and that the message says so. */
static void check_byte(const char *data, int64_t byte, int32_t expected, const char *says) {
  test_call test;
  girdle_path *path = NULL;
  char where[60];
  test_begin(&test);
  snprintf(where, sizeof where, ", at byte %lld of the path data", (long long)byte);
  assert_status(&test, girdle_path_from_text(&test.call, data, &path), expected);
  if (test.error.byte != byte || !strstr(test.error.message, where) || !strstr(test.error.message, says))
    print_error("'%s': %s\n", data, test.error.message);
  assert_int_equal(test.error.byte, byte);
  assert_non_null(strstr(test.error.message, where));
  assert_non_null(strstr(test.error.message, says));
  assert_null(path);
  assert_int_equal(test.live_bytes, 0);
}

static void path_parse_says_the_byte_of_what_no_move_begins(void **state) {
  (void)state;
  check_byte("L0 0", 0, GIRDLE_SYNTAX, "must begin with M");
  check_byte("  l 1 1", 2, GIRDLE_SYNTAX, "must begin with M");
  check_byte("a5 5 0 0 0 1 1", 0, GIRDLE_SYNTAX, "must begin with M");
}

static void path_parse_says_the_byte_of_a_closing_that_comes_first(void **state) {
  (void)state;
  check_byte("Z", 0, GIRDLE_SYNTAX, "must begin with M");
  check_byte(" z M0 0L1 1", 1, GIRDLE_SYNTAX, "must begin with M");
}

static void path_parse_says_the_byte_of_empty_data(void **state) {
  (void)state;
  check_byte("", 0, GIRDLE_SYNTAX, "nothing to draw");
  check_byte("  ", 2, GIRDLE_SYNTAX, "nothing to draw");
}

static void path_parse_says_the_byte_of_a_number_too_large(void **state) {
  (void)state;
  check_byte("M0 0 L 1e999 0", 7, GIRDLE_OVERFLOW, "'1e999' is too large");
  check_byte("M0 0L1e400 1", 5, GIRDLE_OVERFLOW, "'1e400' is too large");
}

static void path_parse_says_the_byte_of_a_coordinate_out_of_range(void **state) {
  (void)state;
  check_byte("M2e9 0L1 1", 1, GIRDLE_ARGUMENT, "not 2000000000");
  check_byte("M0 0 L2e9 0 L1 1", 6, GIRDLE_ARGUMENT, "not 2000000000");
  check_byte("M0 0L1 1 2 -3e9", 9, GIRDLE_ARGUMENT, "not -3000000000");
  check_byte("M1e9 0l1 0 1 0", 7, GIRDLE_ARGUMENT, "not 1000000001");
  check_byte("M0 0A1e300 5 0 1 0 1 1", 5, GIRDLE_ARGUMENT, "not 1e300");
}

static void path_parse_says_the_byte_of_a_bad_flag(void **state) {
  (void)state;
  check_byte("M0 0A5 5 0 2 0 1 1", 11, GIRDLE_SYNTAX, "flag must be 0 or 1");
  check_byte("M0 0A5 5 0 1 7 1 1", 13, GIRDLE_SYNTAX, "flag must be 0 or 1");
  check_byte("M0 0A5 5 0 0-1 1 1", 12, GIRDLE_SYNTAX, "flag must be 0 or 1");
  check_byte("M0 0A5 5 0 1.0 0 1 1", 12, GIRDLE_SYNTAX, "flag must be 0 or 1");
  check_byte("M0 0A5 5 0 ", 11, GIRDLE_SYNTAX, "flag must be 0 or 1");
}

static void path_parse_says_the_byte_of_a_number_that_is_missing(void **state) {
  (void)state;
  check_byte("M", 1, GIRDLE_SYNTAX, "a number is missing");
  check_byte("M0", 2, GIRDLE_SYNTAX, "a number is missing");
  check_byte("M0 0L", 5, GIRDLE_SYNTAX, "a number is missing");
  check_byte("M0 0L1", 6, GIRDLE_SYNTAX, "a number is missing");
  check_byte("M0 0L,1 1", 5, GIRDLE_SYNTAX, "a number is missing");
  check_byte("M0 0L1,,1", 7, GIRDLE_SYNTAX, "a number is missing");
  check_byte("M0 0L1 nan", 7, GIRDLE_SYNTAX, "a number is missing");
  check_byte("M0 0C1 1 2 2 3", 14, GIRDLE_SYNTAX, "a number is missing");
  check_byte("M0 0L1 1 2", 10, GIRDLE_SYNTAX, "a number is missing");
  check_byte("M0 0L1 1.", 8, GIRDLE_SYNTAX, "a number is missing");
  check_byte("M0 0L1 1,", 8, GIRDLE_SYNTAX, "a comma that no number follows");
}

static void path_parse_says_the_byte_of_an_unknown_command(void **state) {
  (void)state;
  check_byte("M0 0X1 1", 4, GIRDLE_SYNTAX, "an unknown command");
  check_byte("M0 0L1 1Z2", 9, GIRDLE_SYNTAX, "an unknown command");
  check_byte("   M0 0 L1 1 #", 13, GIRDLE_SYNTAX, "an unknown command");
}

static void path_parse_says_the_byte_at_which_a_mere_point_ends(void **state) {
  (void)state;
  check_byte("M5 5", 4, GIRDLE_GEOMETRY, "only a point");
  check_byte("M5 5L5 5Z", 9, GIRDLE_GEOMETRY, "only a point");
}

/* A fault that stands in the error already is not written over, and not added to. */
static void path_parse_leaves_an_earlier_fault_alone(void **state) {
  test_call test;
  girdle_path *path = NULL;
  (void)state;
  test_begin(&test);
  test.error.status = GIRDLE_UNKNOWN;
  strcpy(test.error.message, "earlier");
  assert_int_equal(girdle_path_parse(&test.call, "Z", 1, &path), GIRDLE_SYNTAX);
  assert_string_equal(test.error.message, "earlier");
}

static void path_parse_refuses_a_point(void **state) {
  test_call test;
  girdle_path *path = NULL;
  (void)state;
  test_begin(&test);
  assert_status(&test, girdle_path_parse(&test.call, "M5 5", 4, &path), GIRDLE_GEOMETRY);
  assert_status(&test, girdle_path_parse(test_again(&test), "M5 5L5 5Z", 9, &path), GIRDLE_GEOMETRY);
  assert_status(&test, girdle_path_parse(test_again(&test), "M5 5L2e9 5", 10, &path), GIRDLE_ARGUMENT);
  assert_int_equal(test.live_bytes, 0);
}

static void path_text_reads_back_equal(void **state) {
  static const char data[] =
      "M.1.2C1e-9 2e-9 .3333333333333333 4 1e8 6Q1 2 3 4.7A25 12.3 -30.7 1 1 50 60.1L3 3ZM9 9L8 7";
  test_call test;
  char one[2000], two[2000];
  uint64_t needed;
  girdle_path *path, *back;
  (void)state;
  test_begin(&test);
  path = read_path(&test, data);
  needed = girdle_path_text(path, NULL, 0);
  assert_int_equal(girdle_path_text(path, one, sizeof one), needed);
  back = read_path(&test, one);
  girdle_path_text(back, two, sizeof two);
  assert_string_equal(one, two);
  assert_true(girdle_path_length_mm(path) == girdle_path_length_mm(back));
  girdle_path_free(path);
  girdle_path_free(back);
}

/* ---- lengths and points */

static void path_line_begins_at_the_origin(void **state) {
  test_call test;
  girdle_path *line = NULL;
  girdle_point_on at;
  (void)state;
  assert_ok(&test, girdle_path_line(test_begin(&test), 380, &line));
  assert_near(girdle_path_length_mm(line), 380, 0);
  assert_ok(&test, girdle_path_at(&test.call, line, 95, &at));
  assert_near(at.x_mm, 95, 1e-12);
  assert_near(at.y_mm, 0, 0);
  assert_near(at.angle_deg, 0, 0);
  girdle_path_free(line);
  line = NULL;
  assert_status(&test, girdle_path_line(&test.call, NAN, &line), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_path_line(test_again(&test), -1, &line), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_path_line(test_again(&test), INFINITY, &line), GIRDLE_ARGUMENT);
  assert_null(line);
}

static void path_loop_starts_at_the_top_and_goes_clockwise(void **state) {
  test_call test;
  girdle_path *loop = NULL;
  girdle_point_on at;
  double radius = 340 / (2 * half_turn);
  (void)state;
  assert_ok(&test, girdle_path_loop(test_begin(&test), 340, &loop));
  assert_near(girdle_path_length_mm(loop), 340, 1e-12);
  assert_int_equal(girdle_path_is_closed(loop), 1);
  assert_ok(&test, girdle_path_at(&test.call, loop, 0, &at));
  assert_near(at.x_mm, 0, 1e-12);
  assert_near(at.y_mm, -radius, 1e-12);
  assert_near(at.angle_deg, 0, 1e-12);
  assert_near(at.curvature_per_mm, 1 / radius, 1e-14);
  assert_ok(&test, girdle_path_at(&test.call, loop, 85, &at));
  assert_near(at.x_mm, radius, 1e-12);
  assert_near(at.y_mm, 0, 1e-12);
  assert_near(at.angle_deg, 90, 1e-12);
  girdle_path_free(loop);
}

static void path_nearest_finds_the_distance_along(void **state) {
  test_call test;
  girdle_path *path;
  girdle_point_on at;
  uint64_t seed = 3;
  (void)state;
  test_begin(&test);
  path = read_path(&test, "M0 0C40 90 90 -70 120 30L150 30A40 20 10 0 1 200 60Q230 90 180 100");
  for (int i = 0; i < 300; i++) {
    double s = test_uniform(&seed) * girdle_path_length_mm(path), along, distance, angle;
    assert_ok(&test, girdle_path_at(&test.call, path, s, &at));
    angle = at.angle_deg * half_turn / 180;
    assert_ok(&test, girdle_path_nearest(&test.call, path, at.x_mm - 0.5 * sin(angle), at.y_mm + 0.5 * cos(angle),
                                         &along, &distance));
    assert_true(distance <= 0.5 + 1e-12);
    if (distance > 0.4999) assert_near(along, s, 1e-6);
  }
  girdle_path_free(path);
}

/* M0 0C100 100 0 100 100 0 has x' = 300 (1 - 2t)^2 and y' = 300 (1 - 2t): its cusp is at t = 1/2, where it stands
 * still. Towards it the bend grows as that of x = y^2 / ... does: |x' y'' - y' x''| / |v|^3 with v = 300 (1 - 2t) (1 -
 * 2t, 1). */
static void path_at_has_no_curvature_at_a_cusp(void **state) {
  test_call test;
  girdle_path *path;
  girdle_point_on at;
  double length;
  (void)state;
  test_begin(&test);
  path = read_path(&test, "M0 0C100 100 0 100 100 0");
  length = girdle_path_length_mm(path);
  assert_ok(&test, girdle_path_at(&test.call, path, length / 2, &at));
  assert_true(isnan(at.curvature_per_mm));
  assert_near(at.x_mm, 50, 1e-9);
  assert_near(at.y_mm, 75, 1e-9);
  assert_near(at.angle_deg, -90, 1e-6);    /* it came down and goes on up */
  for (double u = 0.5; u > 1e-3; u /= 2) { /* u = 1 - 2t */
    double speed = 300 * u * sqrt(1 + u * u), turn = 300 * u * u * -600 - 300 * u * -1200 * u;
    double along = length / 2 - 50 * (pow(1 + u * u, 1.5) - 1); /* the integral of the speed from the cusp */
    assert_ok(&test, girdle_path_at(&test.call, path, along, &at));
    assert_near(at.curvature_per_mm / (turn / (speed * speed * speed)), 1, 1e-6);
  }
  girdle_path_free(path);
}

static void path_part_and_joined_are_opposites(void **state) {
  test_call test;
  girdle_path *path, *head = NULL, *tail = NULL, *whole = NULL;
  (void)state;
  test_begin(&test);
  path = read_path(&test, "M0 0C40 90 90 -70 120 30L150 30A40 20 10 0 1 200 60");
  assert_ok(&test, girdle_path_part(&test.call, path, 0, 60, &head));
  assert_ok(&test, girdle_path_part(&test.call, path, 60, girdle_path_length_mm(path), &tail));
  assert_near(girdle_path_length_mm(head), 60, 1e-9);
  assert_ok(&test, girdle_path_joined(&test.call, head, tail, &whole));
  assert_int_equal(girdle_path_subpaths(whole), 1);
  assert_near(girdle_path_length_mm(whole), girdle_path_length_mm(path), 1e-8);
  girdle_path_free(path);
  girdle_path_free(head);
  girdle_path_free(tail);
  girdle_path_free(whole);
  assert_int_equal(test.live_bytes, 0);
}

static void path_part_of_a_ring_runs_through_its_start(void **state) {
  test_call test;
  girdle_path *loop = NULL, *part = NULL;
  (void)state;
  assert_ok(&test, girdle_path_loop(test_begin(&test), 340, &loop));
  assert_ok(&test, girdle_path_part(&test.call, loop, 300, 30, &part));
  assert_near(girdle_path_length_mm(part), 70, 1e-10);
  assert_int_equal(girdle_path_subpaths(part), 1);
  girdle_path_free(part);
  girdle_path_free(loop);
}

static void path_transformed_maps_arcs_exactly(void **state) {
  static const double matrix[6] = {1.5, 0.3, -0.7, 2, 10, -20};
  test_call test;
  girdle_path *path, *image = NULL;
  uint64_t seed = 5;
  (void)state;
  test_begin(&test);
  path = read_path(&test, "M0 0A40 20 10 1 1 50 10A5 5 0 0 0 60 20");
  assert_ok(&test, girdle_path_transformed(&test.call, path, matrix, &image));
  for (int i = 0; i < 100; i++) {
    girdle_point_on at;
    double along, distance;
    assert_ok(&test, girdle_path_at(&test.call, path, test_uniform(&seed) * girdle_path_length_mm(path), &at));
    assert_ok(&test, girdle_path_nearest(&test.call, image, matrix[0] * at.x_mm + matrix[2] * at.y_mm + matrix[4],
                                         matrix[1] * at.x_mm + matrix[3] * at.y_mm + matrix[5], &along, &distance));
    assert_near(distance, 0, 1e-11);
  }
  girdle_path_free(path);
  girdle_path_free(image);
}

static void path_corners_are_where_the_direction_jumps(void **state) {
  test_call test;
  girdle_path *path;
  double along[8];
  uint64_t count, parts;
  (void)state;
  test_begin(&test);
  path = read_path(&test, "M0 0L100 0L100 50L0 50Z");
  girdle_path_corners(path, girdle_path_parts(path, &parts), 30, along, 8, &count);
  assert_int_equal(count, 4);
  assert_near(along[0], 0, 0);
  assert_near(along[3], 250, 1e-12);
  girdle_path_free(path);
  path = read_path(&test, "M0 0C100 100 0 100 100 0"); /* a cusp in the middle */
  girdle_path_corners(path, girdle_path_parts(path, &parts), 30, along, 8, &count);
  assert_int_equal(count, 1);
  assert_near(along[0], girdle_path_length_mm(path) / 2, 1e-9);
  girdle_path_free(path);
}

/* ---- regions */

static void region_without_a_hole_has_its_area(void **state) {
  test_call test;
  girdle_region *square, *hole, *rest = NULL;
  const double shift[6] = {1, 0, 0, 1, 30, 30};
  girdle_region *moved = NULL;
  double x, y;
  (void)state;
  test_begin(&test);
  square = read_region(&test, "rectangle 10 cm x 10 cm");
  hole = read_region(&test, "oval 4 cm x 2 cm");
  assert_ok(&test, girdle_region_transformed(&test.call, hole, shift, &moved));
  assert_ok(&test, girdle_region_without(&test.call, square, moved, &rest));
  assert_near(girdle_region_area_mm2(rest), 10000 - half_turn * 200, 1e-9);
  assert_int_equal(girdle_region_holes(rest), 1);
  assert_int_equal(girdle_region_contains(rest, 50, 40), 0);
  assert_int_equal(girdle_region_contains(rest, 50, 60), 1);
  assert_int_equal(girdle_region_contains(rest, -1, 60), 0);
  assert_near(girdle_region_depth_mm(rest, 50, 40), -10, 1e-12);
  assert_near(girdle_region_depth_mm(rest, 50, 60), 10, 1e-12);
  girdle_region_centroid(square, &x, &y);
  assert_near(x, 50, 1e-12);
  assert_near(y, 50, 1e-12);
  girdle_region_free(square);
  girdle_region_free(hole);
  girdle_region_free(moved);
  girdle_region_free(rest);
  assert_int_equal(test.live_bytes, 0);
}

static void region_new_follows_the_fill_rule(void **state) {
  static const char rings[] = "M0 0H100V100H0ZM20 20H80V80H20Z";
  test_call test;
  girdle_path *path;
  girdle_region *region = NULL;
  (void)state;
  test_begin(&test);
  path = read_path(&test, rings);
  assert_ok(&test, girdle_region_new(&test.call, path, GIRDLE_NONZERO, &region));
  assert_near(girdle_region_area_mm2(region), 10000, 1e-9);
  assert_int_equal(girdle_region_holes(region), 0);
  girdle_region_free(region);
  assert_ok(&test, girdle_region_new(&test.call, path, GIRDLE_EVENODD, &region));
  assert_near(girdle_region_area_mm2(region), 6400, 1e-9);
  assert_near(girdle_region_perimeter_mm(region), 640, 1e-9);
  assert_int_equal(girdle_region_holes(region), 1);
  girdle_region_free(region);
  girdle_path_free(path);
}

static void region_new_names_the_place_of_a_crossing(void **state) {
  static const struct {
    const char *data, *place;
  } cases[] = {
      {"M0 0L100 100L100 0L0 100Z", "x 50 mm, y 50 mm"},
      {"M0 0C200 100 -100 100 100 0L50 -50Z", "crosses itself at x 50 mm"},
      {"M0 0H100V100H0ZM50 50H150V60H50Z", "crosses itself at x 100 mm, y 50 mm"},
      {"M0 0H100V100H50V-50H0Z", "crosses itself at x 50 mm, y 0 mm"},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_region *region = NULL;
    test_begin(&test);
    assert_status(&test, girdle_region_from_text(&test.call, cases[i].data, &region), GIRDLE_GEOMETRY);
    if (!strstr(test.error.message, cases[i].place)) print_error("%s\n", test.error.message);
    assert_non_null(strstr(test.error.message, cases[i].place));
    assert_int_equal(test.live_bytes, 0);
  }
}

static void region_new_takes_outlines_that_touch(void **state) {
  static const struct {
    const char *data;
    double area, perimeter;
  } cases[] = {
      {"M0 0H100V100H0ZM100 0H200V100H100Z", 20000, 600}, /* neighbours share an edge */
      {"M0 0H50L50 50L50 0H100V100H0Z", 10000, 400},      /* a spike */
      {"M0 0H100V100H0ZM0 0H100V100H0Z", 10000, 400},     /* drawn twice */
      {"M0 0H100V50L50 0V100H0Z", 6250, 0},               /* a corner on an edge */
      {"M0 0H100V100H0ZM0 0V50H50V0Z", 7500, 400},        /* a hole in the corner */
      {"M0 0H100V100H0ZM300 0V50H350V0Z", 12500, 600},    /* a hole outside its ring is a ring */
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_region *region;
    test_begin(&test);
    region = read_region(&test, cases[i].data);
    assert_near(girdle_region_area_mm2(region), cases[i].area, 1e-6);
    if (cases[i].perimeter > 0) assert_near(girdle_region_perimeter_mm(region), cases[i].perimeter, 1e-6);
    girdle_region_free(region);
    assert_int_equal(test.live_bytes, 0);
  }
}

static void region_without_an_overlapping_area_is_exact(void **state) {
  static const struct {
    const char *from, *left_out;
    double area, perimeter;
  } cases[] = {
      {"rectangle 100 mm x 100 mm", "M50 -20H150V50H50Z", 7500, 400},
      {"rectangle 100 mm x 100 mm", "M50 0H100V100H50Z", 5000, 300},
      {"rectangle 100 mm x 100 mm", "M100 0H200V100H100Z", 10000, 400},
      {"rectangle 100 mm x 100 mm", "M-10 40H110V60H-10Z", 8000, 560},
      {"oval 100 mm x 100 mm", "M50 0H100V100H50Z", 3926.990816987241548, 257.07963267948966},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_region *from, *left_out, *rest = NULL;
    test_begin(&test);
    from = read_region(&test, cases[i].from);
    left_out = read_region(&test, cases[i].left_out);
    assert_ok(&test, girdle_region_without(&test.call, from, left_out, &rest));
    assert_near(girdle_region_area_mm2(rest), cases[i].area, 1e-6);
    assert_near(girdle_region_perimeter_mm(rest), cases[i].perimeter, 1e-6);
    girdle_region_free(from);
    girdle_region_free(left_out);
    girdle_region_free(rest);
    assert_int_equal(test.live_bytes, 0);
  }
}

static void region_new_refuses_a_line(void **state) {
  test_call test;
  girdle_region *region = NULL;
  (void)state;
  test_begin(&test);
  assert_status(&test, girdle_region_from_text(&test.call, "M0 0L10 0", &region), GIRDLE_GEOMETRY);
  assert_null(region);
  assert_int_equal(test.live_bytes, 0);
}

static void region_from_text_names_the_nearest_word(void **state) {
  test_call test;
  girdle_region *region = NULL;
  (void)state;
  test_begin(&test);
  assert_status(&test, girdle_region_from_text(&test.call, "rectangel 10 cm x 20 cm", &region), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.nearest, "rectangle");
  assert_status(&test, girdle_region_from_text(test_again(&test), "rectangle 10 cm", &region), GIRDLE_SYNTAX);
  assert_status(&test, girdle_region_from_text(test_again(&test), "rectangle 10 cm x 2 cm x 3 cm", &region),
                GIRDLE_SYNTAX);
  assert_status(&test, girdle_region_from_text(test_again(&test), "oval 10 cm x -2 cm", &region), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_region_from_text(test_again(&test), "", &region), GIRDLE_SYNTAX);
}

static void path_from_text_reads_what_people_write(void **state) {
  static const struct {
    const char *text;
    double length;
  } cases[] = {{"38 cm", 380},       {"line 38 cm", 380}, {"loop 34 cm", 340},
               {"12 1/2 in", 317.5}, {"M0 0H25", 25},     {"rectangle 10 cm x 20 cm", 600}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_path *path = NULL;
    assert_ok(&test, girdle_path_from_text(test_begin(&test), cases[i].text, &path));
    assert_near(girdle_path_length_mm(path), cases[i].length, 1e-9);
    girdle_path_free(path);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(path_parse_reads_every_command),
      cmocka_unit_test(path_parse_says_the_byte_of_what_no_move_begins),
      cmocka_unit_test(path_parse_says_the_byte_of_a_closing_that_comes_first),
      cmocka_unit_test(path_parse_says_the_byte_of_empty_data),
      cmocka_unit_test(path_parse_says_the_byte_of_a_number_too_large),
      cmocka_unit_test(path_parse_says_the_byte_of_a_coordinate_out_of_range),
      cmocka_unit_test(path_parse_says_the_byte_of_a_bad_flag),
      cmocka_unit_test(path_parse_says_the_byte_of_a_number_that_is_missing),
      cmocka_unit_test(path_parse_says_the_byte_of_an_unknown_command),
      cmocka_unit_test(path_parse_says_the_byte_at_which_a_mere_point_ends),
      cmocka_unit_test(path_parse_leaves_an_earlier_fault_alone),
      cmocka_unit_test(path_parse_refuses_a_point),
      cmocka_unit_test(path_text_reads_back_equal),
      cmocka_unit_test(path_line_begins_at_the_origin),
      cmocka_unit_test(path_loop_starts_at_the_top_and_goes_clockwise),
      cmocka_unit_test(path_nearest_finds_the_distance_along),
      cmocka_unit_test(path_at_has_no_curvature_at_a_cusp),
      cmocka_unit_test(path_part_and_joined_are_opposites),
      cmocka_unit_test(path_part_of_a_ring_runs_through_its_start),
      cmocka_unit_test(path_transformed_maps_arcs_exactly),
      cmocka_unit_test(path_corners_are_where_the_direction_jumps),
      cmocka_unit_test(region_without_a_hole_has_its_area),
      cmocka_unit_test(region_new_follows_the_fill_rule),
      cmocka_unit_test(region_new_names_the_place_of_a_crossing),
      cmocka_unit_test(region_new_takes_outlines_that_touch),
      cmocka_unit_test(region_without_an_overlapping_area_is_exact),
      cmocka_unit_test(region_new_refuses_a_line),
      cmocka_unit_test(region_from_text_names_the_nearest_word),
      cmocka_unit_test(path_from_text_reads_what_people_write),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
