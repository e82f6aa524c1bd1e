/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shop.h"

static const char *const zones[] = {"zone a", "zone b", "zone c", "zone d", "zone e", "zone f",
                                    "zone g", "zone h", "zone i", "zone j", "zone k", "zone l"};

/* A supplier that ships for nothing and has packs of "ss20 black". */
static girdle_price_row *sold_by(shop *at, const char *name, int64_t pieces, int64_t minor, int64_t at_most) {
  girdle_price_row *row = shop_price(at, name, "ss20 black", pieces, minor);
  row->at_most = at_most;
  return row;
}

static void black_line(shop *at, int zone, const char *side, int64_t pieces) {
  shop_line(at, "A1", zones[zone], side, "ss20 black", pieces);
}

static void order_uses_put_a_second_lot_where_it_shows_least(void **state) {
  shop *at = *state;
  const girdle_lot_use *uses;
  uint64_t count;
  black_line(at, 0, "back", 60);
  black_line(at, 1, "front", 100);
  black_line(at, 2, "left", 30);
  black_line(at, 3, "front", 90);
  shop_stock(at, "ss20 black", 70, "old tin");
  shop_stock(at, "ss20 black", 30, "old tin");
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  sold_by(at, "Anchor Beads", 70, 300, -1);
  uses = girdle_order_uses(shop_plan(at), &count); /* 280 needed, 100 there, 210 bought */
  assert_int_equal(count, 4);
  for (uint64_t i = 0; i < count; i++)
    assert_int_equal(uses[i].mixed, GIRDLE_LOT_WHOLE);
  assert_int_equal(uses[1].bought, 1); /* 210: both fronts, 190 */
  assert_int_equal(uses[3].bought, 1);
  assert_int_equal(uses[2].bought, 0); /* 30 of the 100 */
  assert_string_equal(uses[2].lot, "old tin");
  assert_int_equal(uses[0].bought, 0); /* the back, 60 of the 70 left */
  assert_int_equal(uses[0].pieces, 60);
}

static void order_uses_take_all_from_what_is_bought_where_nothing_lies(void **state) {
  shop *at = *state;
  const girdle_lot_use *uses;
  uint64_t count;
  black_line(at, 0, "back", 60);
  black_line(at, 1, "front", 100);
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  sold_by(at, "Anchor Beads", 160, 300, -1);
  uses = girdle_order_uses(shop_plan(at), &count);
  assert_int_equal(count, 2);
  for (uint64_t i = 0; i < count; i++)
    assert_true(uses[i].bought && uses[i].lot[0] == 0 && uses[i].mixed == GIRDLE_LOT_WHOLE);
}

/* What nobody has is told in pieces, beside what there is. */
static void order_uses_tell_what_is_missing(void **state) {
  shop *at = *state;
  const girdle_lot_use *uses;
  uint64_t count;
  black_line(at, 0, "front", 100);
  black_line(at, 1, "back", 20);
  shop_stock(at, "ss20 black", 90, "old tin");
  uses = girdle_order_uses(shop_plan(at), &count);
  assert_int_equal(count, 3);
  assert_int_equal(uses[0].pieces, 70); /* what the back leaves of the 90 */
  assert_string_equal(uses[0].lot, "old tin");
  assert_int_equal(uses[0].mixed, GIRDLE_LOT_LONGER);
  assert_int_equal(uses[1].pieces, 30);
  assert_int_equal(uses[1].mixed, GIRDLE_LOT_MISSING);
  assert_string_equal(uses[1].lot, "");
  assert_int_equal(uses[2].pieces, 20);
  assert_int_equal(uses[2].mixed, GIRDLE_LOT_WHOLE);
}

/* Stock whose lot is not known is a lot as well: too little for any line, it only spares what is lost. */
static void order_uses_take_whole_lines_of_stock_of_no_known_lot(void **state) {
  shop *at = *state;
  const girdle_order *order;
  const girdle_lot_use *uses;
  uint64_t count;
  black_line(at, 0, "front", 106);
  shop_stock(at, "ss20 black", 25, "");
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  sold_by(at, "Anchor Beads", 1, 6, -1);
  order = shop_plan(at);
  uses = girdle_order_uses(order, &count);
  assert_int_equal(count, 1);
  assert_true(uses[0].bought && uses[0].mixed == GIRDLE_LOT_WHOLE && uses[0].pieces == 106);
  assert_int_equal(girdle_order_stones(order, &count)[0].bought, 106);
  shop_stock(at, "ss20 black", 81, ""); /* with those there is enough of them */
  order = shop_plan(at);
  uses = girdle_order_uses(order, &count);
  assert_int_equal(count, 1);
  assert_true(!uses[0].bought && uses[0].mixed == GIRDLE_LOT_WHOLE && uses[0].pieces == 106);
  assert_int_equal(girdle_order_stones(order, &count)[0].bought, 0);
}

/* Where lines may be split it counts piece by piece, and the line it ends in is told to be mixed. */
static void order_uses_tell_where_stock_of_no_known_lot_is_mixed_in(void **state) {
  shop *at = *state;
  const girdle_lot_use *uses;
  uint64_t count;
  black_line(at, 0, "front", 100);
  black_line(at, 1, "back", 100);
  at->options.flags = GIRDLE_ORDER_SPLIT;
  shop_stock(at, "ss20 black", 50, "");
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  sold_by(at, "Anchor Beads", 150, 300, -1);
  uses = girdle_order_uses(shop_plan(at), &count);
  assert_int_equal(count, 3);
  assert_true(uses[0].bought && uses[0].mixed == GIRDLE_LOT_WHOLE && uses[0].pieces == 100);
  assert_true(uses[1].bought && uses[1].mixed == GIRDLE_LOT_MIXED && uses[1].pieces == 50);
  assert_true(!uses[2].bought && uses[2].mixed == GIRDLE_LOT_MIXED && uses[2].pieces == 50);
  assert_string_equal(uses[2].zone, "zone b");
}

/* Whatever the lines and the named lots: what is planned serves every line from one lot, and no lot gives more than it
 * holds. */
static void order_uses_never_mix_within_a_line(void **state) {
  static const char *const sides[] = {"back", "front", "left", "both"}, *const names[] = {"a", "b", "c"};
  uint64_t seed = 61;
  (void)state;
  for (int round = 0; round < 400; round++) {
    shop at;
    const girdle_order *order;
    const girdle_lot_use *uses;
    const girdle_order_stone *stones;
    int64_t left[4];
    uint64_t count;
    const int lines = 1 + (int)(test_random(&seed) % 12), lots = (int)(test_random(&seed) % 4);
    shop_open(&at);
    at.options.lost_share = round % 2 ? 0.1 : 0;
    for (int i = 0; i < lines; i++)
      black_line(&at, i, sides[test_random(&seed) % 4], 1 + (int64_t)(test_random(&seed) % 100));
    for (int i = 0; i < lots; i++) {
      left[i] = (int64_t)(test_random(&seed) % 300);
      shop_stock(&at, "ss20 black", left[i], names[i]);
    }
    shop_supplier(&at, "Anchor Beads", 0, -1, 0);
    sold_by(&at, "Anchor Beads", 7, 30, -1);
    order = shop_plan(&at);
    stones = girdle_order_stones(order, &count);
    left[3] = stones[0].bought;
    uses = girdle_order_uses(order, &count);
    assert_int_equal(count, lines);
    for (uint64_t i = 0; i < count; i++) {
      assert_int_equal(uses[i].mixed, 0);
      left[uses[i].bought ? 3 : uses[i].lot[0] - 'a'] -= uses[i].pieces;
    }
    for (int i = 0; i < 4; i++)
      assert_true(left[i] >= 0 || (i >= lots && i < 3));
    shop_close(&at);
  }
}

/* ---- split stones: a lot for each supplier */

static void two_sellers(shop *at) {
  shop_supplier(at, "Anchor Beads", 0, -1, 0);
  shop_supplier(at, "Bell Glass", 0, -1, 0);
  at->options.flags = GIRDLE_ORDER_SPLIT;
}

static void order_uses_keep_the_suppliers_of_a_split_stone_apart(void **state) {
  shop *at = *state;
  const girdle_lot_use *uses;
  uint64_t count;
  two_sellers(at);
  black_line(at, 0, "front", 100);
  black_line(at, 1, "back", 50);
  sold_by(at, "Anchor Beads", 100, 300, 1);
  sold_by(at, "Bell Glass", 50, 200, 1);
  uses = girdle_order_uses(shop_plan(at), &count);
  assert_int_equal(count, 2);
  assert_string_equal(uses[0].lot, "Anchor Beads");
  assert_string_equal(uses[1].lot, "Bell Glass");
  assert_true(uses[0].bought && uses[1].bought && !uses[0].mixed && !uses[1].mixed);
}

/* 100 of one and 50 of the other would be cheapest, but the larger line is longer than either. */
static void order_plan_rather_buys_dearer_than_mix_within_a_line(void **state) {
  shop *at = *state;
  const girdle_order *order;
  const girdle_lot_use *uses;
  uint64_t count;
  two_sellers(at);
  black_line(at, 0, "front", 120);
  black_line(at, 1, "back", 30);
  sold_by(at, "Anchor Beads", 100, 300, 1);
  sold_by(at, "Bell Glass", 50, 250, -1);
  order = shop_plan(at); /* three of 50 for both, as dear as two packs of 100 were there more than one */
  uses = girdle_order_uses(order, &count);
  assert_int_equal(count, 2);
  assert_int_equal(sum_of(order).total_minor, 750);
  assert_true(uses[0].mixed == GIRDLE_LOT_WHOLE && uses[1].mixed == GIRDLE_LOT_WHOLE);
}

/* Lines of 140 and 30: three packs of 50 and one of 20 would hold 170, but only a second one of 20 serves both whole.
 */
static void order_plan_buys_a_pack_more_than_covers_so_that_lines_come_whole(void **state) {
  shop *at = *state;
  const girdle_order *order;
  two_sellers(at);
  black_line(at, 0, "front", 140);
  black_line(at, 1, "back", 30);
  sold_by(at, "Anchor Beads", 20, 110, -1);
  sold_by(at, "Bell Glass", 50, 250, -1);
  order = shop_plan(at); /* nine of 20: 990; four of 50: 1000 */
  assert_int_equal(sum_of(order).total_minor, 3 * 250 + 2 * 110);
  assert_int_equal(sum_of(order).bound_minor, sum_of(order).total_minor);
}

static void order_uses_tell_a_line_that_is_longer_than_any_lot(void **state) {
  shop *at = *state;
  const girdle_order *order;
  const girdle_lot_use *uses;
  uint64_t count;
  two_sellers(at);
  black_line(at, 0, "front", 120);
  black_line(at, 1, "back", 30);
  sold_by(at, "Anchor Beads", 100, 300, 1);
  sold_by(at, "Bell Glass", 50, 250, 1);
  order = shop_plan(at);
  uses = girdle_order_uses(order, &count);
  assert_int_equal(sum_of(order).total_minor, 550);
  assert_int_equal(count, 3);
  assert_true(uses[0].mixed == GIRDLE_LOT_LONGER && uses[0].pieces == 70);
  assert_string_equal(uses[0].lot, "Anchor Beads");
  assert_true(uses[1].mixed == GIRDLE_LOT_LONGER && uses[1].pieces == 50);
  assert_string_equal(uses[1].lot, "Bell Glass");
  assert_true(uses[2].mixed == GIRDLE_LOT_WHOLE && uses[2].pieces == 30);
  assert_string_equal(uses[2].lot, "Anchor Beads");
}

/* Whether lines [at, count) fit, by trying every lot for each. */
static int can_fit(const int64_t *lines, int at, int count, int64_t *left, int lots) {
  if (at == count) return 1;
  for (int lot = 0; lot < lots; lot++) {
    int fits;
    if (left[lot] < lines[at]) continue;
    left[lot] -= lines[at];
    fits = can_fit(lines, at + 1, count, left, lots);
    left[lot] += lines[at];
    if (fits) return 1;
  }
  return 0;
}

/* Three suppliers with one pack each, all of which it takes: whenever the lines can come whole, they do; and when not,
 * no more than there is is handed out, and every piece is. */
static void order_uses_find_a_way_wherever_there_is_one(void **state) {
  static const char *const names[] = {"Anchor Beads", "Bell Glass", "Coral Lane"};
  uint64_t seed = 62;
  int whole = 0, mixed = 0;
  (void)state;
  for (int round = 0; round < 600; round++) {
    shop at;
    const girdle_lot_use *uses;
    int64_t lines[8], left[3] = {0}, sum = 0, served = 0;
    const int count_of_lines = 2 + (int)(test_random(&seed) % 7);
    int some_mixed = 0;
    uint64_t count;
    shop_open(&at);
    at.options.flags = GIRDLE_ORDER_SPLIT;
    for (int i = 0; i < count_of_lines; i++) {
      lines[i] = 1 + (int64_t)(test_random(&seed) % 40);
      left[test_random(&seed) % 3] += lines[i]; /* so that they often just fit */
      sum += lines[i];
      black_line(&at, i, "front", lines[i]);
    }
    if (round % 2) left[0] += left[0] > left[1] ? -1 : 1, left[1] += left[0] >= left[1] ? 1 : -1;
    for (int i = 0; i < 3; i++) {
      shop_supplier(&at, names[i], 0, -1, 0);
      if (left[i] > 0) sold_by(&at, names[i], left[i], 100, 1);
    }
    uses = girdle_order_uses(shop_plan(&at), &count);
    for (uint64_t i = 0; i < count; i++) {
      some_mixed |= uses[i].mixed;
      served += uses[i].pieces;
    }
    assert_int_equal(served, sum);
    if (left[0] + left[1] + left[2] >= sum && left[0] >= 0 && left[1] >= 0)
      assert_int_equal(!some_mixed, can_fit(lines, 0, count_of_lines, left, 3));
    whole += !some_mixed;
    mixed += some_mixed != 0;
    for (uint64_t i = 0; i < count; i++)
      for (int lot = 0; lot < 3; lot++)
        if (strcmp(uses[i].lot, names[lot]) == 0) left[lot] -= uses[i].pieces;
    for (int lot = 0; lot < 3; lot++)
      assert_true(left[lot] >= 0);
    shop_close(&at);
  }
  assert_true(whole > 100 && mixed > 50);
}

/* ---- copies */

static void order_lots_copies_the_uses(void **state) {
  shop *at = *state;
  girdle_lot_use copied[2] = {0};
  const girdle_lot_use *uses;
  uint64_t count;
  two_sellers(at);
  black_line(at, 0, "front", 100);
  black_line(at, 1, "back", 50);
  sold_by(at, "Anchor Beads", 10, 30, -1);
  assert_int_equal(girdle_order_lots(NULL, shop_plan(at), NULL, NULL, copied, 1, &count), GIRDLE_OK);
  assert_int_equal(count, 2);
  uses = girdle_order_uses(at->order, &count);
  assert_memory_equal(copied, uses, sizeof *uses);
  assert_int_equal(copied[1].pieces, 0);
}

static int32_t plan_lots(girdle_call *call) {
  shop at;
  uint64_t count;
  int32_t status;
  shop_open(&at);
  two_sellers(&at);
  for (int i = 0; i < 6; i++)
    black_line(&at, i, i % 2 ? "front" : "back", 30 + i);
  shop_stock(&at, "ss20 black", 40, "old tin");
  sold_by(&at, "Anchor Beads", 70, 300, 1);
  sold_by(&at, "Bell Glass", 70, 250, 1);
  status = girdle_order_plan(call, at.tally, &at.options, &at.order);
  if (!status) status = girdle_order_lots(call, at.order, at.tally, &at.options, NULL, 0, &count);
  shop_close(&at);
  return status;
}

static void order_uses_leak_nothing(void **state) {
  (void)state;
  test_sweep_allocations(plan_lots);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test_setup_teardown(order_uses_put_a_second_lot_where_it_shows_least, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_uses_take_all_from_what_is_bought_where_nothing_lies, shop_setup,
                                      shop_teardown),
      cmocka_unit_test_setup_teardown(order_uses_tell_what_is_missing, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_uses_take_whole_lines_of_stock_of_no_known_lot, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_uses_tell_where_stock_of_no_known_lot_is_mixed_in, shop_setup,
                                      shop_teardown),
      cmocka_unit_test(order_uses_never_mix_within_a_line),
      cmocka_unit_test_setup_teardown(order_uses_keep_the_suppliers_of_a_split_stone_apart, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_rather_buys_dearer_than_mix_within_a_line, shop_setup, shop_teardown),
      cmocka_unit_test_setup_teardown(order_plan_buys_a_pack_more_than_covers_so_that_lines_come_whole, shop_setup,
                                      shop_teardown),
      cmocka_unit_test_setup_teardown(order_uses_tell_a_line_that_is_longer_than_any_lot, shop_setup, shop_teardown),
      cmocka_unit_test(order_uses_find_a_way_wherever_there_is_one),
      cmocka_unit_test_setup_teardown(order_lots_copies_the_uses, shop_setup, shop_teardown),
      cmocka_unit_test(order_uses_leak_nothing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
