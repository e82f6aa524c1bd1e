/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_internal.h"
#include "place_support.h"

/* A field whose edges stand for many chords answers as the field of the chords does, to the last bit. */

static const char *const outlines[] = {
    "M0 0C40 -30 80 60 120 0S200 30 160 90Q100 140 40 100T0 0Z", /* bends both ways */
    "M0 0H100V60A50 30 20 0 1 50 110L0 80Z",                     /* lines and an arc of an ellipse */
    "M50 0A50 50 0 1 1 49.99 0ZM50 30A20 20 0 1 0 50.01 30Z",    /* a ring */
    "M20 0C120 90 -80 90 20 0Z",                                 /* a loop of one curve, whose ends meet */
    "M0 0L120 4L118 90L60 50L3 95Z",                             /* nothing to bend */
    "M0 0H50V50H0ZM10 10C10.005 10.005 9.995 10.005 10 10Z"      /* a loop of fewer chords than an edge stands for */
};

static int cases(void) {
  return getenv("GIRDLE_PROOF") ? 200000 : 10000;
}

typedef struct pair {
  girdle_region *region;
  girdle_field chords, edges;
} pair;

static pair pair_of(const char *outline) {
  pair made;
  made.region = test_region(outline);
  assert_int_equal(girdle_field_new(NULL, made.region, GIRDLE_FLAT_MM, &made.chords), GIRDLE_OK);
  assert_int_equal(girdle_field_for_depths(NULL, made.region, GIRDLE_FLAT_MM, &made.edges), GIRDLE_OK);
  assert_int_equal(girdle_field_index(NULL, &made.chords, 3), GIRDLE_OK);
  assert_int_equal(girdle_field_index(NULL, &made.edges, 5), GIRDLE_OK);
  return made;
}

static void free_pair(pair *freed) {
  girdle_field_free(&freed->chords);
  girdle_field_free(&freed->edges);
  girdle_region_free(freed->region);
}

/* A place in the box and a little around it, or one a hair from a corner of a chord. */
static void somewhere(const girdle_field *field, uint64_t *random, double *x, double *y) {
  const girdle_box *box = &field->box;
  const girdle_edge *edge = &field->edges[girdle_random_below(random, field->count)];
  double hair = girdle_random_unit(random) < 0.5 ? 0.05 : 1e-6;
  *x = edge->x0 + (girdle_random_unit(random) - 0.5) * hair;
  *y = edge->y0 + (girdle_random_unit(random) - 0.5) * hair;
  if (girdle_random_unit(random) < 0.5) return;
  *x = box->left_mm - 5 + girdle_random_unit(random) * (box->right_mm - box->left_mm + 10);
  *y = box->top_mm - 5 + girdle_random_unit(random) * (box->bottom_mm - box->top_mm + 10);
}

static void few_edges_have_the_depth_of_many_chords(void **state) {
  uint64_t random = 5;
  (void)state;
  for (size_t i = 0; i < sizeof outlines / sizeof *outlines; i++) {
    pair both = pair_of(outlines[i]);
    for (int tried = 0; tried < cases(); tried++) {
      double x, y, limit = girdle_random_unit(&random) * 20, expected, depth;
      somewhere(&both.chords, &random, &x, &y);
      expected = girdle_field_depth(&both.chords, x, y, limit);
      depth = girdle_field_depth(&both.edges, x, y, limit);
      if (depth != expected) fail_msg("outline %zu at %.9g, %.9g: %.17g, not %.17g", i, x, y, depth, expected);
    }
    free_pair(&both);
  }
}

static void holds_says_whether_a_place_is_deep_enough(void **state) {
  uint64_t random = 6;
  (void)state;
  for (size_t i = 0; i < sizeof outlines / sizeof *outlines; i++) {
    pair both = pair_of(outlines[i]);
    for (int tried = 0; tried < cases(); tried++) {
      double x, y, depth, asked;
      somewhere(&both.chords, &random, &x, &y);
      depth = girdle_field_depth(&both.chords, x, y, 1e4);
      asked = depth + (girdle_random_unit(&random) - 0.5) * (tried % 2 ? 0.04 : 20);
      if (girdle_field_holds(&both.edges, x, y, asked) != (depth >= asked) ||
          girdle_field_holds(&both.chords, x, y, asked) != (depth >= asked))
        fail_msg("outline %zu at %.9g, %.9g: depth %.17g, asked %.17g", i, x, y, depth, asked);
    }
    free_pair(&both);
  }
}

static void few_edges_have_the_box_of_many_chords(void **state) {
  (void)state;
  for (size_t i = 0; i < sizeof outlines / sizeof *outlines; i++) {
    pair both = pair_of(outlines[i]);
    assert_memory_equal(&both.chords.box, &both.edges.box, sizeof both.chords.box);
    free_pair(&both);
  }
}

static void a_bend_takes_few_edges(void **state) {
  pair both = pair_of(outlines[0]);
  (void)state;
  assert_true(both.edges.count * 25 < both.chords.count);
  free_pair(&both);
}

int main(void) {
  const struct CMUnitTest tests[] = {cmocka_unit_test(few_edges_have_the_depth_of_many_chords),
                                     cmocka_unit_test(holds_says_whether_a_place_is_deep_enough),
                                     cmocka_unit_test(few_edges_have_the_box_of_many_chords),
                                     cmocka_unit_test(a_bend_takes_few_edges)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
