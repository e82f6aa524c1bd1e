/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shop.h"

/* ---- needs, spares, stock */

static void order_plan_adds_spares_and_kits_and_takes_stock_first(void **state) {
  shop *at = *state;
  const girdle_order *order;
  const girdle_order_stone *stones;
  uint64_t count;
  at->options.lost_share = 0.05;
  at->options.kit_pieces = 3;
  shop_need(at, "A1", "ss20 black", 100);
  shop_need(at, "A2", "ss20 black", 60);
  shop_need(at, "A2", "ss16 clear", 40);
  shop_stock(at, "ss20 black", 50, "");
  shop_stock(at, "ss20 black", 14, "");
  shop_stock(at, "ss16 clear", 500, "");
  shop_stock(at, "ss30 red", 9, "");
  shop_supplier(at, "Anchor Beads", 490, -1, 0);
  shop_price(at, "Anchor Beads", "ss20 black", 144, 520);
  order = shop_plan(at);
  stones = girdle_order_stones(order, &count);
  assert_int_equal(count, 2);
  assert_int_equal(stones[0].needed, 160); /* the larger stone first */
  assert_int_equal(stones[0].lost, 8);
  assert_int_equal(stones[0].kit, 6);
  assert_int_equal(stones[0].on_hand, 64);
  assert_int_equal(stones[0].from_stock, 64);
  assert_int_equal(stones[0].bought, 144);
  assert_int_equal(stones[0].left_over, 34); /* 174 - 64 = 110 of 144 */
  assert_int_equal(stones[1].needed, 40);
  assert_int_equal(stones[1].lost, 2);
  assert_int_equal(stones[1].kit, 3);
  assert_int_equal(stones[1].from_stock, 45);
  assert_int_equal(stones[1].bought, 0);
  assert_int_equal(stones[1].unpriced, 0);
  assert_int_equal(sum_of(order).total_minor, 1010);
  assert_int_equal(sum_of(order).bound_minor, 1010);
}

static void order_plan_takes_spares_by_confidence(void **state) {
  shop *at = *state;
  const girdle_order *order;
  const girdle_order_stone *stones;
  girdle_order_basis basis;
  uint64_t count;
  at->options.lost_share = 0.05;
  at->options.confidence = 0.95;
  at->options.learned_jobs = 7;
  shop_need(at, "A1", "ss20 black", 100);
  shop_supplier(at, "Anchor Beads", 490, -1, 0);
  shop_price(at, "Anchor Beads", "ss20 black", 1, 5);
  order = shop_plan(at);
  stones = girdle_order_stones(order, &count);
  assert_int_equal(stones[0].lost, 9); /* B(100, 0.05, <= 9) = 0.9718, <= 8 0.9369: standard tables */
  assert_near(stones[0].chance_short, 1 - 0.9718, 5e-5);
  girdle_order_spares(order, &basis);
  assert_near(basis.lost_share, 0.05, 0);
  assert_near(basis.confidence, 0.95, 0);
  assert_int_equal(basis.learned_jobs, 7);
  assert_near(basis.most_chance_short, stones[0].chance_short, 0);
  at->options.supplier_count = 0;
  at->options.price_count = 0;
  shop_stock(at, "ss20 black", 99, "");
  order = shop_plan(at);
  stones = girdle_order_stones(order, &count);
  assert_near(stones[0].chance_short, 1, 0);
}

static void order_plan_flags_what_has_no_price(void **state) {
  shop *at = *state;
  const girdle_order *order;
  const girdle_order_stone *stones;
  const girdle_order_share *shares;
  uint64_t count;
  shop_need(at, "A1", "ss20 black", 100);
  shop_need(at, "A1", "ss16 clear", 40);
  shop_need(at, "A2", "ss10 red", 40);
  shop_supplier(at, "Anchor Beads", 490, -1, 0);
  shop_price(at, "Anchor Beads", "ss20 black", 144, 520);
  shop_price(at, "Anchor Beads", "ss16 clear", 144, 400)->sold_out = 1;
  shop_price(at, "Anchor Beads", "ss10 red", 20, 100)->at_most = 1;
  order = shop_plan(at);
  stones = girdle_order_stones(order, &count);
  assert_int_equal(stones[0].unpriced, 0);
  assert_int_equal(stones[1].unpriced, 1);
  assert_int_equal(stones[2].unpriced, 1);
  assert_int_equal(stones[2].bought, 0);
  assert_int_equal(sum_of(order).unpriced_stones, 2);
  assert_int_equal(sum_of(order).total_minor, 1010);
  shares = girdle_order_shares(order, &count);
  assert_int_equal(count, 2);
  assert_int_equal(shares[0].unpriced, 40);
  assert_int_equal(shares[1].unpriced, 40);
}

static void order_plan_of_nothing_is_nothing(void **state) {
  shop *at = *state;
  const girdle_order *order;
  uint64_t count;
  order = shop_plan(at);
  girdle_order_lines(order, &count);
  assert_int_equal(count, 0);
  assert_int_equal(sum_of(order).total_minor, 0);
}

/* ---- suppliers */

static void order_plan_weighs_shipping(void **state) {
  shop *at = *state;
  const girdle_order *order;
  const girdle_order_supplier *used;
  uint64_t count;
  shop_need(at, "A1", "ss20 black", 144);
  shop_need(at, "A1", "ss16 clear", 144);
  shop_supplier(at, "Anchor Beads", 500, -1, 0);
  shop_supplier(at, "Brightside", 500, -1, 0);
  shop_price(at, "Anchor Beads", "ss20 black", 144, 500);
  shop_price(at, "Anchor Beads", "ss16 clear", 144, 800);
  shop_price(at, "Brightside", "ss20 black", 144, 900);
  shop_price(at, "Brightside", "ss16 clear", 144, 400);
  order = shop_plan(at); /* both: 900 + 1000; Anchor alone 1300 + 500; Brightside alone 1300 + 500 */
  used = girdle_order_suppliers(order, &count);
  assert_int_equal(count, 1);
  assert_string_equal(used[0].supplier, "Anchor Beads"); /* the tie goes by name */
  assert_int_equal(sum_of(order).total_minor, 1800);
  assert_int_equal(used[0].delivery_days, 4);
}

static void order_plan_buys_more_to_ship_free(void **state) {
  shop *at = *state;
  const girdle_order *order;
  const girdle_order_line *lines;
  uint64_t count;
  shop_need(at, "A1", "ss20 black", 144);
  shop_supplier(at, "Anchor Beads", 600, 1000, 0);
  shop_price(at, "Anchor Beads", "ss20 black", 144, 900);
  shop_price(at, "Anchor Beads", "ss20 black", 20, 150);
  order = shop_plan(at); /* 900 + 600 shipping, or 900 + 150 and shipping is free */
  lines = girdle_order_lines(order, &count);
  assert_int_equal(count, 2);
  assert_int_equal(lines[0].packs, 1);
  assert_int_equal(lines[1].packs, 1);
  assert_int_equal(sum_of(order).total_minor, 1050);
  assert_int_equal(sum_of(order).shipping_minor, 0);
  assert_int_equal(sum_of(order).bound_minor, 1050);
}

static void order_plan_meets_least_orders_or_goes_without(void **state) {
  shop *at = *state;
  const girdle_order *order;
  shop_need(at, "A1", "ss20 black", 144);
  shop_supplier(at, "Anchor Beads", 0, -1, 2000);
  shop_supplier(at, "Brightside", 300, -1, 0);
  shop_price(at, "Anchor Beads", "ss20 black", 144, 500);
  shop_price(at, "Brightside", "ss20 black", 144, 900);
  order = shop_plan(at);
  assert_int_equal(sum_of(order).total_minor, 1200);
  at->options.supplier_count = 1;
  at->options.price_count = 1;
  order = shop_plan(at); /* four packs, since nobody else sells it */
  assert_int_equal(sum_of(order).total_minor, 2000);
  at->rows[0].at_most = 3;
  order = shop_plan(at); /* three packs are all there are: out of reach */
  assert_int_equal(sum_of(order).unpriced_stones, 1);
  assert_int_equal(sum_of(order).total_minor, 0);
}

static void order_plan_keeps_a_stone_with_one_supplier(void **state) {
  shop *at = *state;
  const girdle_order *order;
  shop_need(at, "A1", "ss20 black", 288);
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  shop_supplier(at, "Brightside", 0, -1, 0);
  shop_price(at, "Anchor Beads", "ss20 black", 144, 500)->at_most = 1;
  shop_price(at, "Brightside", "ss20 black", 144, 900);
  order = shop_plan(at);
  assert_int_equal(sum_of(order).total_minor, 1800);
}

static void order_plan_splits_a_stone_when_it_may(void **state) {
  shop *at = *state;
  const girdle_order *order;
  const girdle_order_line *lines;
  const girdle_order_stone *stones;
  uint64_t count;
  at->options.flags = GIRDLE_ORDER_SPLIT;
  shop_need(at, "A1", "ss20 black", 144);
  shop_need(at, "A2", "ss20 black", 144);
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  shop_supplier(at, "Brightside", 100, -1, 0);
  shop_price(at, "Anchor Beads", "ss20 black", 144, 500)->at_most = 1;
  shop_price(at, "Brightside", "ss20 black", 144, 900);
  order = shop_plan(at);
  lines = girdle_order_lines(order, &count);
  assert_int_equal(count, 2);
  assert_string_equal(lines[0].supplier, "Anchor Beads");
  assert_int_equal(sum_of(order).total_minor, 1500);
  assert_int_equal(sum_of(order).bound_minor, 1500);
  at->rows[1].at_most = 1; /* now neither has enough alone */
  order = shop_plan(at);
  assert_int_equal(sum_of(order).total_minor, 1500);
  shop_need(at, "A1", "ss20 black", 1);
  order = shop_plan(at); /* and now not even together */
  stones = girdle_order_stones(order, &count);
  assert_int_equal(stones[0].unpriced, 1);
  assert_int_equal(sum_of(order).total_minor, 0);
}

/* 3,000 costumes' worth: half a million pieces of each of ten stones. */
static void order_plan_takes_a_costume_house(void **state) {
  shop *at = *state;
  const girdle_order *order;
  shop_supplier(at, "Anchor Beads", 900, 50000, 0);
  shop_supplier(at, "Brightside", 500, -1, 10000);
  for (int i = 0; i < 10; i++) {
    char text[32];
    snprintf(text, sizeof text, "ss20 shade %c", 'a' + i);
    shop_need(at, "A1", text, 500000 + i);
    shop_price(at, "Anchor Beads", text, 1440, 4100);
    shop_price(at, "Anchor Beads", text, 144, 480);
    shop_price(at, "Brightside", text, 1440, 4200);
    shop_price(at, "Brightside", text, 20, 90);
  }
  order = shop_plan(at); /* 347 large packs and three of a gross, ten times over: 499,680 + 432 */
  assert_int_equal(sum_of(order).total_minor, 10 * (347 * 4100 + 3 * 480));
  assert_int_equal(sum_of(order).bound_minor, sum_of(order).total_minor);
}

/* ---- shares */

static void order_shares_add_up_to_the_order(void **state) {
  shop *at = *state;
  const girdle_order *order;
  const girdle_order_share *shares;
  int64_t materials = 0, shipping = 0;
  uint64_t count;
  shop_need(at, "A1", "ss20 black", 100);
  shop_need(at, "A2", "ss20 black", 50);
  shop_need(at, "A3", "ss16 clear", 10);
  shop_need(at, "A1", "ss16 clear", 7);
  shop_supplier(at, "Anchor Beads", 491, -1, 0);
  shop_price(at, "Anchor Beads", "ss20 black", 100, 523);
  shop_price(at, "Anchor Beads", "ss16 clear", 20, 111);
  order = shop_plan(at);
  shares = girdle_order_shares(order, &count);
  assert_int_equal(count, 3);
  assert_string_equal(shares[2].tag, "A3");
  assert_int_equal(shares[0].stones, 107);
  for (uint64_t i = 0; i < count; i++)
    materials += shares[i].materials_minor, shipping += shares[i].shipping_minor;
  assert_int_equal(materials, 2 * 523 + 111);
  assert_int_equal(shipping, 491);
  assert_int_equal(shares[1].materials_minor, 349); /* a third of 1046, 348.67 */
  at->options.flags |= GIRDLE_ORDER_ALIKE;
  order = shop_plan(at);
  shares = girdle_order_shares(order, &count);
  assert_int_equal(shares[0].materials_minor, 386); /* 1157 in three */
  assert_int_equal(shares[1].materials_minor, 386);
  assert_int_equal(shares[2].materials_minor, 385);
  assert_int_equal(shares[0].shipping_minor, 164);
  assert_int_equal(shares[2].shipping_minor, 163);
}

/* ---- bad input, limits, memory */

static void order_plan_refuses(void **state) {
  shop *at = *state;
  girdle_order *order = NULL;
  test_call test;
  shop_need(at, "A1", "ss20 black", 144);
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  shop_supplier(at, "Brightside", 0, -1, 0);
  shop_price(at, "Anchor Bead", "ss20 black", 144, 500);
  test_begin(&test);
  assert_status(&test, girdle_order_plan(&test.call, at->tally, &at->options, &order), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.nearest, "Anchor Beads");
  assert_int_equal(test.live_bytes, 0);
  snprintf(at->rows[0].supplier, sizeof at->rows[0].supplier, "Anchor Beads");
  at->rows[0].price_minor = -1;
  test_again(&test);
  assert_status(&test, girdle_order_plan(&test.call, at->tally, &at->options, &order), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "price");
  at->rows[0].price_minor = INT64_MAX / 2;
  assert_int_equal(girdle_order_plan(NULL, at->tally, &at->options, &order), GIRDLE_OVERFLOW);
  at->rows[0].price_minor = 500;
  girdle_currency_parse(NULL, "USD", &at->suppliers[1].currency);
  test_again(&test);
  assert_status(&test, girdle_order_plan(&test.call, at->tally, &at->options, &order), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "currency");
  at->suppliers[1] = at->suppliers[0];
  assert_int_equal(girdle_order_plan(NULL, at->tally, &at->options, &order), GIRDLE_ARGUMENT);
  at->options.supplier_count = 1;
  at->options.lost_share = NAN;
  assert_int_equal(girdle_order_plan(NULL, at->tally, &at->options, &order), GIRDLE_ARGUMENT);
  assert_null(order);
}

/* At the limit the order still covers everything, and says what it might be above. */
/* Every number of the options, of a supplier, a price row and the stock. */
static void order_plan_refuses_each_number_that_cannot_be(void **state) {
  (void)state;
  for (int i = 0; i < 14; i++) {
    shop at;
    girdle_order *order = NULL;
    shop_open(&at);
    shop_need(&at, "A1", "ss20 black", 144);
    shop_supplier(&at, "Anchor Beads", 0, -1, 0);
    shop_price(&at, "Anchor Beads", "ss20 black", 144, 500);
    shop_stock(&at, "ss20 black", 3, "");
    if (i == 0) at.suppliers[0].shipping_minor = -1;
    if (i == 1) at.suppliers[0].free_from_minor = -2;
    if (i == 2) at.suppliers[0].least_order_minor = -1;
    if (i == 3) at.suppliers[0].delivery_days = -1;
    if (i == 4) at.rows[0].pack_pieces = 0;
    if (i == 5) at.rows[0].at_most = -2;
    if (i == 6) at.stock[0].pieces = -1;
    if (i == 7) at.options.confidence = 1;
    if (i == 8) at.options.kit_pieces = -1;
    if (i == 9) at.options.most_labels = -1;
    if (i == 10) at.options.learned_jobs = -1;
    if (i == 11) at.options.supplier_count = 33;
    if (i == 12) at.options.lost_share = 1.5;
    if (i == 13) at.options.kit_pieces = INT64_MAX;
    if (girdle_order_plan(NULL, at.tally, &at.options, &order) != GIRDLE_ARGUMENT) fail_msg("number %d", i);
    assert_null(order);
    shop_close(&at);
  }
}

static void order_plan_prints_its_bound_at_the_limit(void **state) {
  shop *at = *state;
  const girdle_order *order;
  shop_need(at, "A1", "ss20 black", 144);
  shop_need(at, "A1", "ss16 clear", 500);
  shop_supplier(at, "Anchor Beads", 600, 3000, 0);
  shop_supplier(at, "Brightside", 500, 2500, 900);
  for (int i = 0; i < 2; i++) {
    shop_price(at, i ? "Brightside" : "Anchor Beads", "ss20 black", 144, 900 + 13 * i);
    shop_price(at, i ? "Brightside" : "Anchor Beads", "ss16 clear", 100, 310 - 17 * i);
    shop_price(at, i ? "Brightside" : "Anchor Beads", "ss16 clear", 36, 150 - 7 * i);
  }
  order = shop_plan(at);
  assert_int_equal(sum_of(order).bound_minor, sum_of(order).total_minor);
  at->options.most_labels = 8;
  order = shop_plan(at);
  assert_true(sum_of(order).bound_minor < sum_of(order).total_minor);
  assert_true(sum_of(order).bound_minor > 2000);
  assert_int_equal(sum_of(order).unpriced_stones, 0);
}

static int32_t plan_order(girdle_call *call) {
  shop at;
  uint64_t count;
  int32_t status;
  shop_open(&at);
  shop_need(&at, "A1", "ss20 black", 144);
  shop_need(&at, "A2", "ss16 clear", 500);
  shop_supplier(&at, "Anchor Beads", 600, 3000, 0);
  shop_supplier(&at, "Brightside", 500, 2500, 900);
  for (int i = 0; i < 2; i++) {
    shop_price(&at, i ? "Brightside" : "Anchor Beads", "ss20 black", 144, 900 + 13 * i);
    shop_price(&at, i ? "Brightside" : "Anchor Beads", "ss16 clear", 100, 310 - 17 * i);
    shop_price(&at, i ? "Brightside" : "Anchor Beads", "ss16 clear", 36, 150 - 7 * i);
  }
  status = girdle_order_plan(call, at.tally, &at.options, &at.order);
  if (!status) status = girdle_order_substitutes(call, at.order, 0, &at.options, NULL, 0, &count);
  shop_close(&at);
  return status;
}

static void order_plan_leaks_nothing(void **state) {
  (void)state;
  test_sweep_allocations(plan_order);
}

/* With the defaults nobody sells anything, and there are spares. */
static void order_plan_takes_the_defaults_for_no_options(void **state) {
  shop *at = *state;
  girdle_order_basis basis;
  const girdle_order_stone *stones;
  uint64_t count;
  shop_need(at, "A1", "ss20 black", 100);
  assert_int_equal(girdle_order_plan(NULL, at->tally, NULL, &at->order), GIRDLE_OK);
  stones = girdle_order_stones(at->order, &count);
  assert_int_equal(stones[0].lost, 9);
  assert_int_equal(stones[0].kit, 3);
  assert_int_equal(stones[0].unpriced, 1);
  girdle_order_spares(at->order, &basis);
  assert_near(basis.lost_share, 0.05, 0);
  girdle_order_suppliers(at->order, &count);
  assert_int_equal(count, 0);
  girdle_order_free(NULL);
}

/* As many suppliers as there may be, all alike but the last, who is the cheapest; split or not. */
static void order_plan_takes_as_many_suppliers_as_there_may_be(void **state) {
  shop *at = *state;
  at->options.most_labels = 2000;
  shop_need(at, "A1", "ss20 black", 100);
  for (int i = 0; i < 32; i++) {
    char name[24];
    snprintf(name, sizeof name, "Seller %02d", i);
    shop_supplier(at, name, 300, 5000, 0);
    shop_price(at, name, "ss20 black", 100, i == 31 ? 499 : 500);
  }
  for (uint32_t split = 0; split < 2; split++) {
    at->options.flags = split ? GIRDLE_ORDER_SPLIT : 0;
    assert_int_equal(sum_of(shop_plan(at)).total_minor, 799);
  }
  shop_supplier(at, "Seller 32", 0, -1, 0);
  assert_int_equal(girdle_order_plan(NULL, at->tally, &at->options, &(girdle_order *){NULL}), GIRDLE_ARGUMENT);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test_setup_teardown(order_plan_adds_spares_and_kits_and_takes_stock_first, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_takes_spares_by_confidence, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_flags_what_has_no_price, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_of_nothing_is_nothing, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_weighs_shipping, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_buys_more_to_ship_free, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_meets_least_orders_or_goes_without, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_keeps_a_stone_with_one_supplier, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_splits_a_stone_when_it_may, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_takes_a_costume_house, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_shares_add_up_to_the_order, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_refuses, shop_setup, shop_teardown),
      cmocka_unit_test(order_plan_refuses_each_number_that_cannot_be),
      cmocka_unit_test_setup_teardown(order_plan_prints_its_bound_at_the_limit, shop_setup, shop_teardown),
      cmocka_unit_test(order_plan_leaks_nothing),
      cmocka_unit_test_setup_teardown(order_plan_takes_the_defaults_for_no_options, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_takes_as_many_suppliers_as_there_may_be, shop_setup, shop_teardown),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
