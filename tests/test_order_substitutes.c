/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shop.h"
#include "stops.h"

static void order_substitutes_show_their_effect(void **state) {
  shop *at = *state;
  const girdle_order *order;
  girdle_substitute other[8];
  const girdle_order_stone *stones;
  uint64_t count;
  shop_need(at, "A1", "ss20 black", 144);
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  shop_supplier(at, "Brightside", 0, -1, 0);
  shop_price(at, "Anchor Beads", "ss20 black", 144, 500);
  shop_price(at, "Anchor Beads", "ss20 jet grey", 144, 450);
  shop_price(at, "Brightside", "ss20 jet grey", 144, 430);
  shop_price(at, "Brightside", "ss16 black", 10, 30);
  shop_price(at, "Brightside", "ss34 black", 10, 1);    /* too wide to stand in */
  shop_price(at, "Brightside", "ss16 jet grey", 10, 1); /* differs in two things */
  shop_price(at, "Brightside", "ss20 red", 144, 1)->sold_out = 1;
  order = shop_plan(at);
  stones = girdle_order_stones(order, &count);
  assert_int_equal(stones[0].bought, 144); /* nothing was taken */
  assert_int_equal(girdle_order_substitutes(NULL, order, 0, &at->options, other, 8, &count), GIRDLE_OK);
  assert_int_equal(count, 2);
  assert_int_equal(other[0].kind, GIRDLE_OTHER_COLOUR);
  assert_string_equal(other[0].supplier, "Brightside");
  assert_int_equal(other[0].added_pieces, 0);
  assert_int_equal(other[0].added_cost_minor, -70);
  assert_int_equal(other[1].kind, GIRDLE_OTHER_SIZE);
  assert_int_equal(other[1].pieces, 174);          /* 144 x 4.7 / 3.9 = 173.5 */
  assert_int_equal(other[1].added_cost_minor, 40); /* 18 packs of 10 at 0.30 */
  assert_true(other[1].added_mass_mg < 0);
  assert_int_equal(girdle_order_substitutes(NULL, order, 1, &at->options, other, 8, &count), GIRDLE_ARGUMENT);
}

/* The first row of the book may be the one that can stand in, and the last of many the cheapest; a cover of just what
 * is needed leaves nothing out. */
static void order_substitutes_look_at_every_row(void **state) {
  shop *at = *state;
  girdle_substitute other[4];
  test_call test;
  uint64_t count;
  shop_need(at, "A1", "ss20 black", 140);
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  for (int i = 0; i < 64; i++)
    shop_price(at, "Anchor Beads", "ss20 jet grey", 70, 450 - i)->at_most = 1;
  shop_price(at, "Anchor Beads", "ss20 black", 140, 500);
  shop_plan(at);
  assert_int_equal(girdle_order_substitutes(NULL, at->order, 0, &at->options, other, 4, &count), GIRDLE_OK);
  assert_int_equal(count, 1);
  assert_int_equal(other[0].cost_minor, 387 + 388);
  shop_price(at, "Anchor Beads", "ss20 jet grey", 70, 1); /* one pack more than can be looked at is told */
  test_begin(&test);
  assert_status(&test, girdle_order_substitutes(&test.call, at->order, 0, &at->options, other, 4, &count),
                GIRDLE_LIMIT);
  assert_string_equal(test.error.message, "'Anchor Beads' offers 'ss20 jet grey' in more than 64 packs");
  at->options.price_count = 2;
  at->rows[1] = at->rows[64];
  at->rows[0].at_most = 2; /* 140 pieces, just enough */
  shop_plan(at);
  assert_int_equal(girdle_order_substitutes(NULL, at->order, 0, &at->options, other, 4, &count), GIRDLE_OK);
  assert_int_equal(count, 1);
  assert_int_equal(other[0].cost_minor, 900);
}

/* Of what one supplier alone has enough, in the order of the list; and the material is a difference, too. */
static void order_substitutes_differ_in_one_thing(void **state) {
  shop *at = *state;
  girdle_substitute other[4];
  uint64_t count;
  shop_need(at, "A1", "ss20 black", 100);
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  shop_supplier(at, "Brightside", 0, -1, 0);
  shop_price(at, "Anchor Beads", "ss20 black acrylic", 100, 300);
  shop_price(at, "Brightside", "ss20 black acrylic", 100, 300); /* as cheap: the first in the list */
  shop_price(at, "Anchor Beads", "ss20 red", 60, 100)->at_most = 1;
  shop_price(at, "Brightside", "ss20 red", 40, 100)->at_most = 1; /* together enough, but neither alone */
  shop_plan(at);
  assert_int_equal(girdle_order_substitutes(NULL, at->order, 0, &at->options, other, 4, &count), GIRDLE_OK);
  assert_int_equal(count, 1);
  assert_int_equal(other[0].kind, GIRDLE_OTHER_MATERIAL);
  assert_string_equal(other[0].supplier, "Anchor Beads");
  assert_true(other[0].added_cost_minor == INT64_MIN); /* the stone itself has no price */
  assert_true(other[0].added_mass_mg < 0);
  assert_int_equal(girdle_order_substitutes(NULL, at->order, 0, NULL, other, 4, &count), GIRDLE_OK);
  assert_int_equal(count, 0);
}

/* Finish, cut, outline and fix must be the same, and the width within a quarter either way. */
static void order_substitutes_keep_what_they_must(void **state) {
  static const char *const others[] = {"ss20 red matt",   "ss20 red coated", "ss20 red sewn",
                                       "oval 6x4 mm red", "ss34 black",      "ss10 black"};
  shop *at = *state;
  girdle_substitute other[4];
  uint64_t count, seen = 0;
  shop_need(at, "A1", "ss20 black", 100);
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
    girdle_stone stone;
    if (girdle_stone_parse(NULL, others[i], &stone)) continue;
    shop_price(at, "Anchor Beads", others[i], 100, 300);
    seen++;
  }
  assert_true(seen >= 4);
  shop_plan(at);
  assert_int_equal(girdle_order_substitutes(NULL, at->order, 0, &at->options, other, 4, &count), GIRDLE_OK);
  assert_int_equal(count, 0);
  shop_price(at, "Anchor Beads", "ss20 red", 100, 300); /* but for its colour it is alike */
  shop_price(at, "Anchor Beads", "ss20 gold", 100, 300);
  shop_price(at, "Anchor Beads", "ss20 blue", 100, 300)->at_most = 0;
  shop_price(at, "Nobody", "ss20 green", 100, 300);
  at->options.price_count--;
  assert_int_equal(girdle_order_substitutes(NULL, at->order, 0, &at->options, other, 1, &count), GIRDLE_OK);
  assert_int_equal(count, 2);
  assert_string_equal(other[0].stone.colour, "gold"); /* of equals by name, and no more than there is room for */
}

static int32_t list_substitutes(girdle_call *call) {
  shop at;
  uint64_t count;
  int32_t status;
  shop_open(&at);
  shop_need(&at, "A1", "ss20 black", 100);
  shop_supplier(&at, "Anchor Beads", 0, -1, 0);
  shop_price(&at, "Anchor Beads", "ss20 black", 100, 300);
  shop_price(&at, "Anchor Beads", "ss20 red", 100, 300);
  shop_plan(&at);
  status = girdle_order_substitutes(call, at.order, 0, &at.options, NULL, 0, &count);
  shop_close(&at);
  return status;
}

static void order_substitutes_stop_and_leak_nothing(void **state) {
  (void)state;
  test_sweep_stops(list_substitutes);
  test_sweep_allocations(list_substitutes);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test_setup_teardown(order_substitutes_show_their_effect, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_substitutes_look_at_every_row, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_substitutes_differ_in_one_thing, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_substitutes_keep_what_they_must, shop_setup, shop_teardown),
      cmocka_unit_test(order_substitutes_stop_and_leak_nothing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
