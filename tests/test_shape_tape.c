/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static const double half_turn = 3.141592653589793238463;

static girdle_region *read_region(test_call *test, const char *text) {
  girdle_region *region = NULL;
  assert_ok(test, girdle_region_from_text(&test->call, text, &region));
  return region;
}

static girdle_path *read_path(test_call *test, const char *text) {
  girdle_path *path = NULL;
  assert_ok(test, girdle_path_from_text(&test->call, text, &path));
  return path;
}

static void region_from_text_makes_every_shape(void **state) {
  static const struct {
    const char *text;
    double area, width, height;
  } cases[] = {
      {"rectangle 10 cm x 20 cm", 20000, 100, 200},
      {"Oval 8 cm x 6 cm", 3769.9111843077517, 80, 60},
      {"strip 60 cm x 4 cm", 24000, 600, 40},
      {"trapezoid 20 cm x 30 cm x 15 cm", 37500, 300, 150},
      {"triangle 20 cm x 15 cm", 15000, 200, 150},
      {"loop 314.1592653589793 mm", 7853.981633974483, 100, 100},
      {"teardrop 6 cm x 10 cm", 0, 60, 100},
      {"keyhole 8 cm x 14 cm x 1 cm", 0, 80, 140},
      {"yoke 40 cm x 90 cm x 12 cm", 78000, 0, 0}, /* (inner + outer) / 2 x depth */
      {"sleeve 16 cm x 30 cm x 55 cm", 126500, 0, 0},
      {"sleeve 30 cm x 30 cm x 55 cm", 165000, 300, 550},
      {"circle skirt 66 cm x 35 cm", 615845.1000649, 0, 0}, /* waist x length + pi length^2 */
      {"half circle skirt 66 cm x 35 cm", 423422.5500325, 0, 0},
      {"quarter_circle_skirt 66 cm x 35 cm", 327211.2750162, 0, 0},
      {"panel every 5 cm: 20 cm, 20 cm, 20 cm", 20000, 200, 100},
      {"panel 5 cm: 0 cm, 10 cm, 20 cm", 10000, 200, 100},
      {"area 250 cm2", 25000, 0, 0},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_region *region = (test_begin(&test), read_region(&test, cases[i].text));
    girdle_box box;
    girdle_region_box(region, &box);
    if (cases[i].area > 0) assert_near(girdle_region_area_mm2(region), cases[i].area, 1e-6);
    if (cases[i].width > 0) assert_near(box.right_mm, cases[i].width, 1e-9);
    if (cases[i].height > 0) assert_near(box.bottom_mm, cases[i].height, 1e-9);
    assert_near(box.left_mm, 0, 1e-9);
    assert_near(box.top_mm, 0, 1e-9);
    girdle_region_free(region);
    assert_int_equal(test.live_bytes, 0);
  }
}

static void region_teardrop_is_a_circle_and_two_tangents(void **state) {
  test_call test;
  girdle_region *drop = (test_begin(&test), read_region(&test, "teardrop 6 cm x 10 cm"));
  double half = acos(30.0 / 70), tangent = sqrt(70.0 * 70 - 30 * 30);
  (void)state;
  assert_near(girdle_region_area_mm2(drop), 30 * tangent + 900 * (half_turn - half), 1e-9);
  assert_near(girdle_region_perimeter_mm(drop), 2 * tangent + 60 * (half_turn - half), 1e-9);
  girdle_region_free(drop);
}

static void region_sleeve_edges_have_their_lengths(void **state) {
  test_call test;
  girdle_path *sleeve = (test_begin(&test), read_path(&test, "sleeve 16 cm x 30 cm x 55 cm"));
  girdle_turn corners[8];
  uint64_t count;
  (void)state;
  assert_ok(&test, girdle_path_turns(&test.call, sleeve, 30, corners, 8, &count));
  assert_int_equal(count, 4);
  assert_near(corners[1].along_mm, 550, 1e-9);
  assert_near(corners[2].along_mm - corners[1].along_mm, 300, 1e-9);
  assert_near(corners[3].along_mm - corners[2].along_mm, 550, 1e-9);
  assert_near(girdle_path_length_mm(sleeve) - corners[3].along_mm, 160, 1e-9);
  girdle_path_free(sleeve);
}

static void region_skirt_waist_has_its_length(void **state) {
  test_call test;
  girdle_region *skirt = NULL;
  (void)state;
  for (double fullness = 0.1; fullness <= 1; fullness += 0.15) {
    double turn = 2 * half_turn * fullness, hem = 660 + turn * 350;
    assert_ok(&test, girdle_region_skirt(test_begin(&test), 660, 350, fullness, &skirt));
    assert_near(girdle_region_perimeter_mm(skirt), 660 + hem + (fullness < 1 ? 700 : 0), 1e-8);
    assert_int_equal(girdle_region_holes(skirt), fullness == 1);
    girdle_region_free(skirt);
  }
  skirt = NULL;
  assert_status(&test, girdle_region_skirt(test_again(&test), 660, 350, 1.5, &skirt), GIRDLE_ARGUMENT);
  assert_null(skirt);
}

static void region_panel_takes_no_width_only_at_its_ends(void **state) {
  static const struct {
    double widths[3];
    const char *field;
  } cases[] = {{{0, 10, 0}, NULL},
               {{10, 0, 10}, "width 2, which is no end,"},
               {{10, 0.0009, 10}, "width 2, which is no end,"},
               {{10, 0.001, 10}, NULL},
               {{-1, 10, 10}, "width 1"},
               {{10, 10, 1.1e7}, "width 3"}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_region *panel = NULL;
    int32_t status = girdle_region_panel(test_begin(&test), 50, cases[i].widths, 3, &panel);
    assert_int_equal(status, cases[i].field ? GIRDLE_ARGUMENT : GIRDLE_OK);
    if (cases[i].field) assert_string_equal(test.error.field, cases[i].field);
    girdle_region_free(panel);
  }
}

static void region_panel_swings_no_farther_than_its_widths(void **state) {
  test_call test;
  girdle_region *panel = (test_begin(&test), read_region(&test, "panel 5 cm: 10 cm, 30 cm, 30 cm, 12 cm, 14 cm"));
  girdle_box box;
  (void)state;
  girdle_region_box(panel, &box);
  assert_near(box.right_mm - box.left_mm, 300, 1e-9);
  assert_int_equal(girdle_region_contains(panel, 150 + 59.99, 150), 1);
  assert_int_equal(girdle_region_contains(panel, 150 + 60.01, 150), 0);
  girdle_region_free(panel);
}

static void region_from_text_reads_every_cross(void **state) {
  static const char *const texts[] = {"rectangle 10 cm x 20 cm",     "rectangle 10 x 20 cm",
                                      "Rectangle 10 cm X 20 cm",     "rectangle 10cmx20cm",
                                      "rectangle 10x20 cm",          "rectangle 10 cm by 20 cm",
                                      "rectangle 10 \303\227 20 cm", "rectangle 100 mm\303\2270.2m"};
  (void)state;
  for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
    test_call test;
    girdle_region *region = (test_begin(&test), read_region(&test, texts[i]));
    girdle_box box;
    girdle_region_box(region, &box);
    assert_near(box.right_mm - box.left_mm, 100, 1e-9);
    assert_near(box.bottom_mm - box.top_mm, 200, 1e-9);
    girdle_region_free(region);
  }
}

/* A width of many digits is read or refused, never cut: that would make metres of millimetres. */
static void region_from_text_cuts_no_width(void **state) {
  (void)state;
  for (int digits = 40; digits < 120; digits++) {
    char text[200] = "panel every 5 cm: 100 mm, 100.";
    test_call test;
    girdle_region *region = NULL;
    int32_t status;
    size_t length = strlen(text);
    memset(text + length, '0', (size_t)digits);
    strcpy(text + length + (size_t)digits, " mm");
    status = girdle_region_from_text(test_begin(&test), text, &region);
    assert_int_equal(status, digits + 7 < 80 ? GIRDLE_OK : GIRDLE_SYNTAX);
    if (!status) assert_near(girdle_region_area_mm2(region), 5000, 1e-9);
    girdle_region_free(region);
  }
}

static void region_from_text_takes_an_area_alone(void **state) {
  static const char *const texts[] = {"area 25 cm2", "25 cm2", " 25 cm\302\262", "Area 2500 mm2"};
  (void)state;
  for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
    test_call test;
    girdle_region *region = (test_begin(&test), read_region(&test, texts[i]));
    assert_near(girdle_region_area_mm2(region), 2500, 1e-9);
    girdle_region_free(region);
  }
}

static void region_from_text_refuses_what_makes_no_shape(void **state) {
  static const struct {
    const char *text;
    int32_t status;
  } cases[] = {
      {"teardrop 6 cm x 6 cm", GIRDLE_GEOMETRY},
      {"keyhole 8 cm x 14 cm x 9 cm", GIRDLE_GEOMETRY},
      {"keyhole 8 cm x 7 cm x 1 cm", GIRDLE_GEOMETRY},
      {"sleeve 1 cm x 60 cm x 5 cm", GIRDLE_GEOMETRY},
      {"sleeve 16 cm x 30 cm", GIRDLE_SYNTAX},
      {"sleeve 16 cm x 30 cm x", GIRDLE_SYNTAX},
      {"sleeve", GIRDLE_SYNTAX},
      {"oval 8 x 6", GIRDLE_SYNTAX},
      {"oval 8 cm x nan", GIRDLE_SYNTAX},
      {"oval 0 cm x 6 cm", GIRDLE_ARGUMENT},
      {"oval 1e9 m x 6 cm", GIRDLE_ARGUMENT},
      {"panel 5 cm", GIRDLE_SYNTAX},
      {"panel 5 cm:", GIRDLE_SYNTAX},
      {"panel 5 cm: 10 cm", GIRDLE_ARGUMENT},
      {"panel 5 cm: 10 cm, 0 cm, 10 cm", GIRDLE_ARGUMENT},
      {"panel 5 cm: 10 cm, 12 cm,", GIRDLE_SYNTAX},
      {"area 12 cm", GIRDLE_SYNTAX},
      {"area -12 cm2", GIRDLE_ARGUMENT},
      {"half skirt 66 cm x 35 cm", GIRDLE_UNKNOWN},
      {"38 cm", GIRDLE_SYNTAX},
      {"0 cm2", GIRDLE_ARGUMENT},
      {"rectangle 10 x 20", GIRDLE_SYNTAX},
      {"rectangle 10 px x 20 px", GIRDLE_SYNTAX},
      {"rectangle 10 cm by", GIRDLE_SYNTAX},
      {"rectangle 1x1x1x1x1x1x1x1x1x1x1 cm", GIRDLE_SYNTAX},
      {"keyhole 8 x 14 cm x 1", GIRDLE_SYNTAX},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_region *region = NULL;
    int32_t status = girdle_region_from_text(test_begin(&test), cases[i].text, &region);
    if (status != cases[i].status) print_error("'%s': %s\n", cases[i].text, test.error.message);
    assert_int_equal(status, cases[i].status);
    assert_true(strlen(test.error.message) > 10);
    assert_null(region);
    assert_int_equal(test.live_bytes, 0);
  }
}

static void tape_info_examples_are_read(void **state) {
  test_call test;
  girdle_tape tape;
  uint64_t index = 0;
  (void)state;
  test_begin(&test);
  for (; girdle_tape_info(index, &tape); index++) {
    girdle_region *one = strcmp(tape.word, "line") == 0 ? NULL : read_region(&test, tape.example);
    girdle_path *path = strcmp(tape.word, "area") == 0 ? NULL : read_path(&test, tape.example);
    assert_true(one || path);
    girdle_path_free(path);
    assert_non_null(strstr(tape.example, tape.word));
    assert_non_null(tape.measures[tape.count - 1]);
    assert_true(strlen(tape.tape) > 0);
    girdle_region_free(one);
  }
  assert_int_equal(index, 16);
}

static void region_from_tape_is_region_from_text(void **state) {
  static const double mm[] = {160, 300, 550};
  test_call test;
  girdle_region *region = NULL;
  (void)state;
  assert_ok(&test, girdle_region_from_tape(test_begin(&test), "sleeve", mm, 3, &region));
  assert_near(girdle_region_area_mm2(region), 126500, 1e-6);
  girdle_region_free(region);
  region = NULL;
  assert_status(&test, girdle_region_from_tape(&test.call, "sleeve", mm, 2, &region), GIRDLE_SYNTAX);
  assert_status(&test, girdle_region_from_tape(test_again(&test), "sleve", mm, 3, &region), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.nearest, "sleeve");
}

/* ---- fitted, stretched */

static void path_fitted_has_the_measure(void **state) {
  test_call test;
  girdle_path *path = (test_begin(&test), read_path(&test, "M10 20C40 90 90 -70 120 30A20 30 10 0 1 150 60")),
              *fitted = NULL;
  girdle_box box, was;
  (void)state;
  girdle_path_box(path, &was);
  assert_ok(&test, girdle_path_fitted(&test.call, path, 380, NAN, NAN, &fitted));
  assert_near(girdle_path_length_mm(fitted), 380, 1e-9);
  girdle_path_free(fitted);
  assert_ok(&test, girdle_path_fitted(&test.call, path, NAN, 200, NAN, &fitted));
  girdle_path_box(fitted, &box);
  assert_near(box.right_mm - box.left_mm, 200, 1e-9);
  assert_near(box.left_mm, was.left_mm, 1e-9);
  assert_near((box.bottom_mm - box.top_mm) / 200, (was.bottom_mm - was.top_mm) / (was.right_mm - was.left_mm), 1e-12);
  girdle_path_free(fitted);
  assert_ok(&test, girdle_path_fitted(&test.call, path, NAN, 200, 33, &fitted));
  girdle_path_box(fitted, &box);
  assert_near(box.right_mm - box.left_mm, 200, 1e-9);
  assert_near(box.bottom_mm - box.top_mm, 33, 1e-9);
  girdle_path_free(fitted);
  fitted = NULL;
  assert_status(&test, girdle_path_fitted(&test.call, path, NAN, NAN, NAN, &fitted), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_path_fitted(test_again(&test), path, 10, 10, NAN, &fitted), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_path_fitted(test_again(&test), path, -1, NAN, NAN, &fitted), GIRDLE_ARGUMENT);
  girdle_path_free(path);
  path = read_path(&test, "line 30 cm");
  assert_status(&test, girdle_path_fitted(test_again(&test), path, NAN, NAN, 10, &fitted), GIRDLE_GEOMETRY);
  girdle_path_free(path);
  assert_null(fitted);
}

static void region_fitted_has_the_measure(void **state) {
  test_call test;
  girdle_region *drop = (test_begin(&test), read_region(&test, "teardrop 6 cm x 10 cm")), *fitted = NULL;
  double area = girdle_region_area_mm2(drop);
  (void)state;
  assert_ok(&test, girdle_region_fitted(&test.call, drop, 90, NAN, &fitted));
  assert_near(girdle_region_area_mm2(fitted), area * 2.25, 1e-8);
  girdle_region_free(fitted);
  girdle_region_free(drop);
}

static void path_stretched_there_and_back_is_the_same(void **state) {
  static const girdle_lie flat = {0, 0}, board = {0.15, 0.07};
  test_call test;
  girdle_path *path = (test_begin(&test), read_path(&test, "M10 20C40 90 90 -70 120 30A20 30 10 0 1 150 60")),
              *there = NULL, *back = NULL;
  (void)state;
  assert_ok(&test, girdle_path_stretched(&test.call, path, &flat, &board, &there));
  assert_ok(&test, girdle_path_stretched(&test.call, there, &board, &flat, &back));
  assert_near(girdle_path_length_mm(back) / girdle_path_length_mm(path), 1, 1e-12);
  for (int i = 0; i <= 50; i++) {
    girdle_point_on was, is;
    assert_ok(&test, girdle_path_at(&test.call, path, girdle_path_length_mm(path) * i / 50, &was));
    assert_ok(&test, girdle_path_at(&test.call, back, girdle_path_length_mm(back) * i / 50, &is));
    assert_near(is.x_mm, was.x_mm, 1e-10);
    assert_near(is.y_mm, was.y_mm, 1e-10);
  }
  girdle_path_free(path);
  girdle_path_free(there);
  girdle_path_free(back);
}

static void gap_as_there_and_back_is_the_same(void **state) {
  static const girdle_lie worn = {0.3, -0.05}, glued = {0.1, 0};
  uint64_t seed = 1;
  test_call test;
  double out;
  (void)state;
  test_begin(&test);
  for (int i = 0; i < 1000; i++) {
    double gap = 5 * test_uniform(&seed), angle = 360 * test_uniform(&seed), there, turned, back;
    assert_ok(&test, girdle_gap_as(&test.call, gap, angle, &glued, &worn, &there));
    assert_ok(&test, girdle_angle_as(&test.call, angle, &glued, &worn, &turned));
    assert_ok(&test, girdle_gap_as(&test.call, there, turned, &worn, &glued, &back));
    assert_near(back, gap, 1e-12 * gap);
  }
  assert_ok(&test, girdle_gap_as(&test.call, 1.1, 0, &glued, &worn, &out));
  assert_near(out, 1.3, 1e-12);
  assert_status(&test, girdle_gap_as(&test.call, -1, 0, &glued, &worn, &out), GIRDLE_ARGUMENT);
}

/* ---- apart, in, meeting */

/* A ring is cut where it is split and where it begins: two open halves that join to the ring again. */
static void path_split_cuts_a_closed_ring_in_two(void **state) {
  static const char *const rings[] = {"loop 34 cm", "M0 0H100V80H0Z", "M0 0C0 90 120 90 120 0S0 -90 0 0Z",
                                      "oval 8 cm x 5 cm"};
  (void)state;
  for (size_t i = 0; i < sizeof rings / sizeof rings[0]; i++) {
    test_call test;
    girdle_path *ring = (test_begin(&test), read_path(&test, rings[i])), *head = NULL, *tail = NULL, *whole = NULL;
    double length = girdle_path_length_mm(ring);
    girdle_point_on start, cut, at;
    for (double share = 0.1; share < 1; share += 0.2) {
      assert_ok(&test, girdle_path_split(&test.call, ring, share * length, &head, &tail));
      assert_int_equal(girdle_path_is_closed(head) + girdle_path_is_closed(tail), 0);
      assert_near(girdle_path_length_mm(head), share * length, 1e-9 * length);
      assert_near(girdle_path_length_mm(head) + girdle_path_length_mm(tail), length, 1e-9 * length);
      assert_ok(&test, girdle_path_at(&test.call, ring, 0, &start));
      assert_ok(&test, girdle_path_at(&test.call, ring, share * length, &cut));
      assert_ok(&test, girdle_path_at(&test.call, tail, 0, &at));
      assert_near(at.x_mm, cut.x_mm, 1e-9);
      assert_near(at.y_mm, cut.y_mm, 1e-9);
      assert_ok(&test, girdle_path_at(&test.call, tail, girdle_path_length_mm(tail), &at));
      assert_near(at.x_mm, start.x_mm, 1e-9);
      assert_near(at.y_mm, start.y_mm, 1e-9);
      assert_ok(&test, girdle_path_joined(&test.call, head, tail, &whole));
      assert_int_equal(girdle_path_subpaths(whole), 1);
      assert_near(girdle_path_length_mm(whole), length, 1e-9 * length);
      girdle_path_free(head);
      girdle_path_free(tail);
      girdle_path_free(whole);
    }
    assert_status(&test, girdle_path_split(&test.call, ring, 0, &head, &tail), GIRDLE_ARGUMENT);
    assert_status(&test, girdle_path_split(test_again(&test), ring, length, &head, &tail), GIRDLE_ARGUMENT);
    girdle_path_free(ring);
    assert_int_equal(test.live_bytes, 0);
  }
}

static void path_split_gives_head_and_tail(void **state) {
  test_call test;
  girdle_path *path = (test_begin(&test), read_path(&test, "loop 34 cm")), *head = NULL, *tail = NULL;
  (void)state;
  assert_ok(&test, girdle_path_split(&test.call, path, 100, &head, &tail));
  assert_near(girdle_path_length_mm(head), 100, 1e-10);
  assert_near(girdle_path_length_mm(tail), 240, 1e-10);
  girdle_path_free(head);
  girdle_path_free(tail);
  head = tail = NULL;
  assert_status(&test, girdle_path_split(&test.call, path, 0, &head, &tail), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_path_split(test_again(&test), path, 340, &head, &tail), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_path_split(test_again(&test), path, NAN, &head, &tail), GIRDLE_ARGUMENT);
  assert_null(head);
  assert_null(tail);
  girdle_path_free(path);
  assert_int_equal(test.live_bytes, 0);
}

static void path_flattened_stays_within_the_tolerance(void **state) {
  test_call test;
  girdle_path *path = (test_begin(&test), read_path(&test, "M10 20C40 90 90 -70 120 30A20 30 10 0 1 150 60")),
              *flat = NULL;
  (void)state;
  for (double tolerance = 1; tolerance > 1e-5; tolerance /= 10) {
    assert_ok(&test, girdle_path_flattened(&test.call, path, tolerance, &flat));
    for (int i = 0; i <= 200; i++) {
      girdle_point_on at;
      double along, distance;
      assert_ok(&test, girdle_path_at(&test.call, path, girdle_path_length_mm(path) * i / 200, &at));
      assert_ok(&test, girdle_path_nearest(&test.call, flat, at.x_mm, at.y_mm, &along, &distance));
      assert_true(distance <= tolerance);
    }
    girdle_path_free(flat);
  }
  flat = NULL;
  assert_status(&test, girdle_path_flattened(&test.call, path, 0, &flat), GIRDLE_ARGUMENT);
  assert_status(&test, girdle_path_flattened(test_again(&test), path, NAN, &flat), GIRDLE_ARGUMENT);
  girdle_path_free(path);
}

static void path_turns_have_their_sign(void **state) {
  test_call test;
  girdle_path *path = (test_begin(&test), read_path(&test, "M0 0H10V10H20L10 10"));
  girdle_turn found[4];
  uint64_t count;
  (void)state;
  assert_ok(&test, girdle_path_turns(&test.call, path, 30, found, 4, &count));
  assert_int_equal(count, 3);
  assert_near(found[0].turn_deg, 90, 1e-12);
  assert_near(found[1].turn_deg, -90, 1e-12);
  assert_near(fabs(found[2].turn_deg), 180, 1e-12);
  assert_near(found[2].along_mm, 30, 1e-12);
  assert_near(found[2].x_mm, 20, 1e-12);
  assert_ok(&test, girdle_path_turns(&test.call, path, 30, NULL, 0, &count));
  assert_int_equal(count, 3);
  girdle_path_free(path);
}

static void path_set_in_goes_inside_whichever_way_it_runs(void **state) {
  static const char *const rings[] = {"M0 0H100V60H0Z", "M0 0V60H100V0Z"};
  (void)state;
  for (int i = 0; i < 2; i++) {
    test_call test;
    girdle_path *path = (test_begin(&test), read_path(&test, rings[i])), *in = NULL;
    assert_ok(&test, girdle_path_set_in(&test.call, path, 5, &in));
    assert_near(girdle_path_length_mm(in), 2 * (90 + 50), 1e-8);
    girdle_path_free(path);
    girdle_path_free(in);
  }
}

static void path_meetings_tell_crossing_from_touching(void **state) {
  static const struct {
    const char *one, *other;
    uint64_t count;
    int crosses;
    double x, y;
  } cases[] = {
      {"M0 0L100 100", "M0 100L100 0", 1, 1, 50, 50},     {"M0 0L100 0", "M50 0L50 80", 1, 0, 50, 0},
      {"M0 0L100 0", "M0 50L50 0L100 50", 1, 0, 50, 0},   {"M0 0L100 0", "M0 50L50 0L100 -50", 1, 1, 50, 0},
      {"M0 0C200 100 -100 100 100 0", NULL, 1, 1, 50, 0}, {"M0 0L100 0L100 50L50 50L50 -50", NULL, 1, 1, 50, 0},
      {"M0 0L100 0", "M0 1L100 1", 0, 0, 0, 0},           {"M0 0A50 50 0 0 1 100 0", "M0 -50H100", 1, 0, 50, -50},
      {"M0 0Q50 100 100 0", "M50 0V100", 1, 1, 50, 50},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_path *one = (test_begin(&test), read_path(&test, cases[i].one));
    girdle_path *other = cases[i].other ? read_path(&test, cases[i].other) : NULL;
    girdle_meeting found[8];
    uint64_t count;
    assert_ok(&test, girdle_path_meetings(&test.call, one, other, found, 8, &count));
    if (count != cases[i].count) print_error("%s with %s\n", cases[i].one, cases[i].other);
    assert_int_equal(count, cases[i].count);
    if (count) {
      assert_int_equal(found[0].crosses, cases[i].crosses);
      assert_near(found[0].x_mm, cases[i].x, 1e-3);
      if (cases[i].other) assert_near(found[0].y_mm, cases[i].y, 1e-6);
    }
    girdle_path_free(one);
    girdle_path_free(other);
    assert_int_equal(test.live_bytes, 0);
  }
}

/* ---- body measures: limits from H. Ozturk et al. (2017) and C. Gordon et al. (2014), named beside the table */

static void measure_find_takes_names_as_people_write_them(void **state) {
  static const char *const same[][2] = {
      {"wrist", "Wrist girth"},       {"neck-base", "neck_base"}, {"minimum-leg", "Minimum leg girth"},
      {"leg opening", "LEG-OPENING"}, {"body loop", "body_loop"}, {"hip", "hips"},
      {"hip", "Seat girth"},          {"upper-arm", "biceps"},    {"leg opening", "leg_hole"}};
  test_call test;
  uint64_t one, two;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
    assert_ok(&test, girdle_measure_find(&test.call, same[i][0], &one));
    assert_ok(&test, girdle_measure_find(&test.call, same[i][1], &two));
    assert_int_equal(one, two);
    assert_string_equal(girdle_measure_name(one), same[i][0]);
  }
  assert_status(&test, girdle_measure_find(&test.call, "writs", &one), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.nearest, "wrist");
  assert_status(&test, girdle_measure_find(test_again(&test), "wrist girthy", &one), GIRDLE_UNKNOWN);
  assert_null(girdle_measure_name(23));
}

static void measure_plausible_warns_only_far_outside(void **state) {
  static const struct {
    const char *name;
    double mm;
    int plausible;
  } cases[] = {{"wrist", 140, 1}, {"wrist", 96.8, 0}, {"wrist", 97, 1},  {"wrist", 211.8, 1},  {"wrist", 212, 0},
               {"neck", 501, 0},  {"neck", 500, 1},   {"waist", 20, 1},  {"waist", 1387.5, 0}, {"body loop", 3000, 1},
               {"head", 640, 0},  {"chest", 1408, 1}, {"bust", 1409, 0}, {"neckline", 1200, 1}};
  test_call test;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    uint64_t index;
    assert_ok(&test, girdle_measure_find(&test.call, cases[i].name, &index));
    assert_int_equal(girdle_measure_plausible(index, cases[i].mm, NULL, NULL), cases[i].plausible);
  }
}

static void measure_warning_tells_limits_and_tape(void **state) {
  static const struct {
    const char *name;
    double mm;
    const char *text;
  } cases[] = {{"wrist", 140, ""},
               {"wrist", 50,
                "a wrist of 5 cm is far below what is usual, 9.7 to 21.2 cm; measure again, round the wrist, over its "
                "bones"},
               {"hip", 2000,
                "a hip of 200 cm is far above what is usual, at most 132.6 cm; measure again, level round the fullest "
                "part of the seat"},
               {"ankle", 1000,
                "an ankle of 100 cm is far above what is usual, at most 28.8 cm; measure again, round the ankle, over "
                "its bones"},
               {"hip", 10, ""}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    uint64_t index;
    char text[256], shorter[8];
    assert_int_equal(girdle_measure_find(NULL, cases[i].name, &index), GIRDLE_OK);
    assert_int_equal(girdle_measure_warning(index, cases[i].mm, text, sizeof text), strlen(cases[i].text));
    assert_string_equal(text, cases[i].text);
    assert_int_equal(girdle_measure_warning(index, cases[i].mm, shorter, sizeof shorter), strlen(cases[i].text));
    assert_memory_equal(shorter, text, strlen(shorter));
  }
  assert_int_equal(girdle_measure_warning(99, 5, NULL, 0), 0);
}

static void measure_tape_is_told_for_every_measure(void **state) {
  uint64_t index = 0;
  (void)state;
  for (; girdle_measure_name(index); index++)
    assert_true(strlen(girdle_measure_tape(index)) > 10);
  assert_null(girdle_measure_tape(index));
  for (uint64_t i = 0; i < index; i++) { /* the longest warning fits */
    char text[256];
    assert_true(girdle_measure_warning(i, 1e7, text, sizeof text) < sizeof text - 1);
  }
}

/* What is not read, as a path and as a region, and what is said. */
static void from_text_says_what_is_wrong(void **state) {
  static const struct {
    const char *text;
    int32_t path, region;
    const char *says; /* of the region */
  } cases[] = {
      {"area 250 cm2", GIRDLE_UNKNOWN, GIRDLE_OK, ""},
      {"area 250 cm", GIRDLE_UNKNOWN, GIRDLE_SYNTAX, "is not an area"},
      {"line 38 cm", GIRDLE_OK, GIRDLE_UNKNOWN, "unknown shape 'line'"},
      {"line 38", GIRDLE_SYNTAX, GIRDLE_UNKNOWN, "unknown shape 'line'"},
      {"LOOP  34 cm", GIRDLE_OK, GIRDLE_OK, ""},
      {"loop 34 cm x 2 cm", GIRDLE_SYNTAX, GIRDLE_SYNTAX, "a loop takes 1 measure;"},
      {"oval 8 cm", GIRDLE_SYNTAX, GIRDLE_SYNTAX, "an oval takes 2 measures"},
      {"sleeve 16 cm x 30 cm", GIRDLE_SYNTAX, GIRDLE_SYNTAX, "a sleeve takes 3 measures"},
      {"loop", GIRDLE_SYNTAX, GIRDLE_SYNTAX, "a loop takes 1 measure;"},
      {"half_circle_skirt 66 cm x 35 cm", GIRDLE_OK, GIRDLE_OK, ""},
      {"half  circle\tskirt 66 cm x 35 cm", GIRDLE_OK, GIRDLE_OK, ""},
      {"a shape whose name has more letters than any that we know 1 cm", GIRDLE_UNKNOWN, GIRDLE_UNKNOWN,
       "unknown shape 'a shape whose name has more letters than any th'"},
      {"panel every 5 cm", GIRDLE_SYNTAX, GIRDLE_SYNTAX, "a panel takes a step, a colon and widths"},
      {"panel every 5: 20 cm, 24 cm", GIRDLE_SYNTAX, GIRDLE_SYNTAX, "its unit is missing"},
      {"panel every 5 cm: 20 cm, 24", GIRDLE_SYNTAX, GIRDLE_SYNTAX, "its unit is missing"},
      {"panel every 5 cm: 20 cm", GIRDLE_ARGUMENT, GIRDLE_ARGUMENT, "a panel takes 2 to 10000 widths"},
      {"panel every 2 km: 20 cm, 20 cm", GIRDLE_SYNTAX, GIRDLE_SYNTAX, "there is no unit 'km'"},
      {"panel every 5 cm                                                                 : 20 cm, 24 cm", GIRDLE_SYNTAX,
       GIRDLE_SYNTAX, "a panel takes a step"},
      {"panel every 5 cm: 20 cm, 24                                                                              cm",
       GIRDLE_SYNTAX, GIRDLE_SYNTAX, "is too long for a length"},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_path *path = NULL;
    girdle_region *region = NULL;
    int32_t first = girdle_path_from_text(test_begin(&test), cases[i].text, &path);
    int32_t second = girdle_region_from_text(test_again(&test), cases[i].text, &region);
    if (first != cases[i].path || second != cases[i].region || !strstr(test.error.message, cases[i].says))
      print_error("%s: %s, %s: %s\n", cases[i].text, girdle_status_text(first), girdle_status_text(second),
                  test.error.message);
    assert_int_equal(first, cases[i].path);
    assert_int_equal(second, cases[i].region);
    assert_non_null(strstr(test.error.message, cases[i].says));
    girdle_path_free(path);
    girdle_region_free(region);
    assert_int_equal(test.live_bytes, 0);
  }
}

static void from_text_takes_no_more_widths_than_a_text_holds(void **state) {
  (void)state;
  for (int count = 200; count <= 201; count++) {
    test_call test;
    char text[4000] = "panel every 5 cm: 10 cm";
    girdle_region *region = NULL;
    for (int i = 1; i < count; i++)
      strcat(text, ", 10 cm");
    assert_status(&test, girdle_region_from_text(test_begin(&test), text, &region),
                  count == 200 ? GIRDLE_OK : GIRDLE_LIMIT);
    girdle_region_free(region);
  }
}

static void region_skirt_and_new_refuse_by_their_field(void **state) {
  test_call test;
  girdle_path *path = NULL;
  girdle_region *region = NULL;
  (void)state;
  assert_status(&test, girdle_region_skirt(test_begin(&test), 0, 100, 1, &region), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "waist");
  assert_status(&test, girdle_region_skirt(test_again(&test), 100, 0, 1, &region), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "length");
  assert_status(&test, girdle_region_skirt(test_again(&test), 100, 100, 1.01, &region), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "fullness");
  assert_ok(&test, girdle_path_from_text(test_again(&test), "M0 0H10V10H0Z", &path));
  for (int32_t rule = -1; rule <= 2; rule += 3) {
    assert_status(&test, girdle_region_new(test_again(&test), path, rule, &region), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, "rule");
  }
  assert_null(region);
  girdle_path_free(path);
  assert_int_equal(test.live_bytes, 0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(region_from_text_makes_every_shape),
      cmocka_unit_test(region_teardrop_is_a_circle_and_two_tangents),
      cmocka_unit_test(region_sleeve_edges_have_their_lengths),
      cmocka_unit_test(region_skirt_waist_has_its_length),
      cmocka_unit_test(region_panel_takes_no_width_only_at_its_ends),
      cmocka_unit_test(region_panel_swings_no_farther_than_its_widths),
      cmocka_unit_test(region_from_text_reads_every_cross),
      cmocka_unit_test(region_from_text_cuts_no_width),
      cmocka_unit_test(region_from_text_takes_an_area_alone),
      cmocka_unit_test(region_from_text_refuses_what_makes_no_shape),
      cmocka_unit_test(tape_info_examples_are_read),
      cmocka_unit_test(region_from_tape_is_region_from_text),
      cmocka_unit_test(path_fitted_has_the_measure),
      cmocka_unit_test(region_fitted_has_the_measure),
      cmocka_unit_test(path_stretched_there_and_back_is_the_same),
      cmocka_unit_test(gap_as_there_and_back_is_the_same),
      cmocka_unit_test(path_split_cuts_a_closed_ring_in_two),
      cmocka_unit_test(path_split_gives_head_and_tail),
      cmocka_unit_test(path_flattened_stays_within_the_tolerance),
      cmocka_unit_test(path_turns_have_their_sign),
      cmocka_unit_test(path_set_in_goes_inside_whichever_way_it_runs),
      cmocka_unit_test(path_meetings_tell_crossing_from_touching),
      cmocka_unit_test(measure_find_takes_names_as_people_write_them),
      cmocka_unit_test(measure_warning_tells_limits_and_tape),
      cmocka_unit_test(measure_tape_is_told_for_every_measure),
      cmocka_unit_test(measure_plausible_warns_only_far_outside),
      cmocka_unit_test(from_text_says_what_is_wrong),
      cmocka_unit_test(from_text_takes_no_more_widths_than_a_text_holds),
      cmocka_unit_test(region_skirt_and_new_refuse_by_their_field),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
