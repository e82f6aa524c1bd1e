/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_internal.h"
#include "place_support.h"

/* Legs that bend alike all along: what is added up for them is what a walk finds. */

typedef struct scene {
  girdle_path *path;
  girdle_legs legs;
  girdle_leg leg;
  girdle_stone stones[3];
  girdle_sequence sequence;
} scene;

/* One leg over all of a path; a closed one once round, though its track goes round twice. */
static void set_scene(scene *on, const char *text) {
  uint64_t parts;
  const girdle_subpath *part;
  double end;
  memset(on, 0, sizeof *on);
  on->path = test_path(text);
  part = girdle_path_parts(on->path, &parts);
  assert_int_equal(girdle_track_new(NULL, on->path, part, NULL, 0, &on->legs.track), GIRDLE_OK);
  end = on->legs.track.points[0].along_mm + part->length_mm;
  on->leg.last = girdle_track_vertex(&on->legs.track, end - 1e-9);
  on->stones[0] = test_round(4.7);
  on->stones[1] = test_round(3.1);
  on->stones[2] = test_round(2.2);
  on->sequence.stones = on->stones;
  on->sequence.count = 3;
}

static void free_scene(scene *on) {
  girdle_track_free(&on->legs.track);
  girdle_path_free(on->path);
}

static void choose_ends(scene *on, uint64_t *random) {
  static const int32_t kinds[3] = {GIRDLE_END_CENTRE, GIRDLE_END_INSIDE, GIRDLE_END_HALF};
  on->leg.start = kinds[girdle_random_below(random, 3)];
  on->leg.end = kinds[girdle_random_below(random, 3)];
  on->leg.closes = on->leg.end == GIRDLE_END_CENTRE && girdle_random_unit(random) < 0.5;
  on->sequence.count = 1 + girdle_random_below(random, 3);
}

static const char *const even[] = {"28 cm", "loop 40 cm", "M0 0A60 60 0 0 1 60 60", "M0 0A60 60 0 1 0 60 60",
                                   "M0 0A7 7 0 1 1 1 0.1"};

static void an_added_miss_is_the_walked_one(void **state) {
  uint64_t random = 3;
  (void)state;
  for (size_t i = 0; i < sizeof even / sizeof *even; i++) {
    scene on;
    set_scene(&on, even[i]);
    for (int tried = 0; tried < 300; tried++) {
      uint64_t begins = girdle_random_below(&random, 7), stones = 1 + girdle_random_below(&random, 60);
      double gap = girdle_random_unit(&random) * 4, walked, added;
      double radius = girdle_even_radius(&on.legs, &on.leg);
      choose_ends(&on, &random);
      walked = girdle_leg_walk(&on.legs, &on.leg, &on.sequence, begins, stones, gap, NULL);
      added = girdle_even_miss(&on.legs, &on.leg, &on.sequence, begins, stones, gap, radius);
      if (walked < 0 ? fabs(added - walked) > 1e-8 : added < -1e-8) /* past the end a walk goes straight on */
        fail_msg("%s: %llu stones from %llu, gap %g: %.12g, walked %.12g", even[i], (unsigned long long)stones,
                 (unsigned long long)begins, gap, added, walked);
    }
    free_scene(&on);
  }
}

static void a_leg_that_is_added_up_closes_when_walked(void **state) {
  uint64_t random = 4;
  (void)state;
  for (size_t i = 0; i < sizeof even / sizeof *even; i++) {
    scene on;
    set_scene(&on, even[i]);
    for (int tried = 0; tried < 100; tried++) {
      uint64_t begins = girdle_random_below(&random, 7), stones = 3 + girdle_random_below(&random, 40);
      uint64_t steps;
      double gap;
      choose_ends(&on, &random);
      gap = girdle_leg_gap(&on.legs, &on.leg, &on.sequence, begins, stones, &steps);
      if (isnan(gap)) continue;
      assert_near(girdle_leg_walk(&on.legs, &on.leg, &on.sequence, begins, stones, gap, NULL), 0, 3e-9);
    }
    free_scene(&on);
  }
}

/* As many as a walk sets before it passes the end. */
static uint64_t walked_room(const scene *on, uint64_t begins, double gap) {
  girdle_leg open = on->leg;
  uint64_t stones = 0;
  open.end = GIRDLE_END_CENTRE;
  open.closes = 0;
  while (girdle_leg_walk(&on->legs, &open, &on->sequence, begins, stones + 1, gap, NULL) <= 0)
    stones++;
  return stones;
}

static void an_added_room_is_the_walked_one(void **state) {
  uint64_t random = 5;
  (void)state;
  for (size_t i = 0; i < sizeof even / sizeof *even; i++) {
    scene on;
    set_scene(&on, even[i]);
    for (int tried = 0; tried < 40; tried++) {
      uint64_t begins = girdle_random_below(&random, 7), room;
      double gap = tried == 0 ? 1000 : girdle_random_unit(&random) * 9 + 0.01;
      choose_ends(&on, &random);
      assert_int_equal(girdle_leg_room(NULL, &on.legs, &on.leg, &on.sequence, begins, gap, &room), GIRDLE_OK);
      assert_int_equal(room, walked_room(&on, begins, gap));
    }
    free_scene(&on);
  }
}

/* 56 pitches of 5 mm: the last stone stands on the very end. */
static void a_room_that_is_just_filled_counts_its_end(void **state) {
  scene on;
  uint64_t room;
  (void)state;
  set_scene(&on, "28 cm");
  on.stones[0] = test_round(4);
  on.sequence.count = 1;
  assert_int_equal(girdle_leg_room(NULL, &on.legs, &on.leg, &on.sequence, 0, 1, &room), GIRDLE_OK);
  assert_int_equal(room, 57);
  assert_int_equal(walked_room(&on, 0, 1), 57);
  free_scene(&on);
}

static double radius_of(const char *text) {
  scene on;
  double radius;
  set_scene(&on, text);
  radius = girdle_even_radius(&on.legs, &on.leg);
  free_scene(&on);
  return radius;
}

static void only_lines_and_circles_bend_alike(void **state) {
  (void)state;
  assert_true(isinf(radius_of("28 cm")));
  assert_near(radius_of("loop 314.159265358979 mm"), 50, 1e-9);
  assert_near(radius_of("loop 100 m"), 15915.494309, 1e-6);
  assert_near(radius_of("M8109.6824456280301 3699.6010333066979A5000 5000 0 0 1 6441.0498413533223 "
                        "6138.6345481374174A5000 5000 0 0 1 4182.8357145012051 7149.2486499423003"),
              5000, 1e-6);
  assert_true(radius_of("M0 0A50 50 0 0 1 100 0A50 50 0 0 1 0 0A50 50 0 0 1 100 0") == 0); /* more than once round */
  assert_true(radius_of("M0 0A60 50 0 0 1 60 60") == 0);                                   /* an ellipse */
  assert_true(radius_of("M0 0H50V50") == 0);                                               /* two lines */
  assert_true(radius_of("M0 0A50 50 0 0 1 50 50V90") == 0);                  /* on from an arc by a line */
  assert_true(radius_of("M0 0A50 50 0 0 1 50 50A40 40 0 0 1 10 90") == 0);   /* a wider circle, then a narrower */
  assert_true(radius_of("M0 0A50 50 0 0 1 50 50A50 50 0 0 0 100 100") == 0); /* the other way */
  assert_true(radius_of("M0 0C10 0 20 10 20 20") == 0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(an_added_miss_is_the_walked_one), cmocka_unit_test(a_leg_that_is_added_up_closes_when_walked),
      cmocka_unit_test(an_added_room_is_the_walked_one), cmocka_unit_test(a_room_that_is_just_filled_counts_its_end),
      cmocka_unit_test(only_lines_and_circles_bend_alike)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
