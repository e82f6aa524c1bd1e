/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

/* The lower edge of regions whose edges are known. */

static girdle_path *edge_of(test_call *test, const char *text) {
  girdle_region *region = NULL;
  girdle_path *edge = NULL;
  assert_ok(test, girdle_region_from_text(&test->call, text, &region));
  assert_ok(test, girdle_region_lower_edge(&test->call, region, &edge));
  girdle_region_free(region);
  return edge;
}

static void assert_at(const girdle_path *path, double along_mm, double x_mm, double y_mm, const char *what) {
  girdle_point_on at;
  assert_int_equal(girdle_path_at(NULL, path, along_mm, &at), GIRDLE_OK);
  if (hypot(at.x_mm - x_mm, at.y_mm - y_mm) > 1e-9)
    fail_msg("%s: at %g mm it is at %.12g, %.12g, not at %g, %g", what, along_mm, at.x_mm, at.y_mm, x_mm, y_mm);
}

/* Walked with the fabric on the right: along the bottom from right to left, however the outline was drawn. */
static void region_lower_edge_leads_from_corner_to_corner(void **state) {
  static const struct {
    const char *text;
    double from_x, from_y, to_x, to_y, length_mm;
  } cases[] = {
      {"rectangle 30 mm x 20 mm", 30, 20, 0, 20, 30},
      {"M0 0 V20 H30 V0 Z", 30, 20, 0, 20, 30},                      /* drawn the other way round */
      {"M15 20 H0 V0 H30 V20 Z", 30, 20, 0, 20, 30},                 /* begun in the middle of the edge */
      {"M0 20 V0 H30 V20 Z", 30, 20, 0, 20, 30},                     /* begun at its end */
      {"M30 20 H0 V0 H30 Z", 30, 20, 0, 20, 30},                     /* begun at its start */
      {"M0 0 H80 V20 L40 29 L0 20 Z", 80, 20, 0, 20, 82},            /* a turn of 25 degrees is no corner */
      {"M0 0 H30 V20 H20 V15 H10 V20 H0 Z", 30, 20, 20, 20, 10},     /* two as low: the first from where it begins */
      {"M0 0 H30 V20 H0 Z M40 0 H50 V21 H40 Z", 50, 21, 40, 21, 10}, /* of two parts the lower one */
      {"M40 0 H50 V21 H40 Z M0 0 H30 V20 H0 Z", 50, 21, 40, 21, 10},
      {"M0 0 H30 V20 H0 Z M5 5 V15 H25 V5 Z", 30, 20, 0, 20, 30}, /* a hole */
      {"M0 0 H30 V20 H0 Z M5 5 V20 L25 5 Z", 30, 20, 5, 20, 25},  /* a hole that touches the edge */
      {"M0 0 H30 L15 20 Z", 30, 0, 15, 20, 25},                   /* of two flanks as low the first */
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_path *edge = (test_begin(&test), edge_of(&test, cases[i].text));
    assert_at(edge, 0, cases[i].from_x, cases[i].from_y, cases[i].text);
    assert_at(edge, girdle_path_length_mm(edge), cases[i].to_x, cases[i].to_y, cases[i].text);
    assert_near(girdle_path_length_mm(edge), cases[i].length_mm, 1e-9);
    assert_false(girdle_path_is_closed(edge));
    girdle_path_free(edge);
    assert_int_equal(test.live_bytes, 0);
  }
}

/* A sleeve's wrist and a skirt's hem have the length they were made from. */
static void region_lower_edge_is_as_long_as_the_tape_measured(void **state) {
  static const double pi = 3.14159265358979323846;
  const struct {
    const char *text;
    double length_mm;
  } cases[] = {{"sleeve 16 cm x 30 cm x 55 cm", 160},
               {"strip 60 cm x 4 cm", 600},
               {"half circle skirt 66 cm x 35 cm", 660 + pi * 350},
               {"quarter circle skirt 66 cm x 35 cm", 660 + pi * 175}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_path *edge = (test_begin(&test), edge_of(&test, cases[i].text));
    assert_near(girdle_path_length_mm(edge), cases[i].length_mm, 1e-6);
    girdle_path_free(edge);
    assert_int_equal(test.live_bytes, 0);
  }
}

static void region_lower_edge_without_corners_is_the_whole_ring(void **state) {
  test_call test;
  girdle_path *edge = (test_begin(&test), edge_of(&test, "loop 340 mm"));
  (void)state;
  assert_near(girdle_path_length_mm(edge), 340, 1e-9);
  assert_true(girdle_path_is_closed(edge));
  girdle_path_free(edge);
  assert_int_equal(test.live_bytes, 0);
}

/* A teardrop has one corner, wherever it is begun. */
static void region_lower_edge_of_one_corner_is_the_whole_ring(void **state) {
  static const char *const texts[] = {"M0 0 L20 0 C60 0 60 60 20 60 C-20 60 0 30 0 0 Z",
                                      "M20 0 C60 0 60 60 20 60 C-20 60 0 30 0 0 Z"};
  (void)state;
  for (int i = 0; i < 2; i++) {
    test_call test;
    girdle_path *edge = (test_begin(&test), edge_of(&test, texts[i]));
    assert_true(girdle_path_is_closed(edge));
    girdle_path_free(edge);
    assert_int_equal(test.live_bytes, 0);
  }
}

static int32_t lower_edge_work(girdle_call *call) {
  girdle_region *region = NULL;
  girdle_path *edge = NULL;
  int32_t status = girdle_region_from_text(call, "M15 20 H0 V0 H30 V20 Z M5 5 V15 H25 V5 Z", &region);
  if (!status) status = girdle_region_lower_edge(call, region, &edge);
  girdle_region_free(region);
  girdle_path_free(edge);
  return status;
}

static void region_lower_edge_survives_refusals(void **state) {
  (void)state;
  test_sweep_allocations(lower_edge_work);
}

static int32_t stop_at_once(void *context, uint64_t steps, double done) {
  (void)context;
  (void)steps;
  (void)done;
  return 1;
}

static void region_lower_edge_stops_when_it_is_told_to(void **state) {
  test_call test;
  girdle_region *region = NULL;
  girdle_path *edge = NULL;
  (void)state;
  test_begin(&test);
  assert_ok(&test, girdle_region_rectangle(&test.call, 30, 20, &region));
  test.call.watch.tick = stop_at_once;
  assert_status(&test, girdle_region_lower_edge(&test.call, region, &edge), GIRDLE_STOPPED);
  assert_null(edge);
  girdle_region_free(region);
  assert_int_equal(test.live_bytes, 0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(region_lower_edge_leads_from_corner_to_corner),
      cmocka_unit_test(region_lower_edge_is_as_long_as_the_tape_measured),
      cmocka_unit_test(region_lower_edge_without_corners_is_the_whole_ring),
      cmocka_unit_test(region_lower_edge_of_one_corner_is_the_whole_ring),
      cmocka_unit_test(region_lower_edge_survives_refusals),
      cmocka_unit_test(region_lower_edge_stops_when_it_is_told_to),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
