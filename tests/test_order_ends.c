/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shop.h"
#include "stops.h"

/* Orders that end before they are done: stopped, refused memory, at the limit of labels, or of numbers. */

static const char *const zones[] = {"a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "l"};

/* Two suppliers whose thresholds bind, and two stones. */
static void open_sellers(shop *at) {
  shop_open(at);
  shop_supplier(at, "Anchor Beads", 600, 3000, 0);
  shop_supplier(at, "Brightside", 500, 2500, 900);
  for (int i = 0; i < 2; i++) {
    const char *seller = i ? "Brightside" : "Anchor Beads";
    shop_price(at, seller, "ss20 black", 144, 900 + 13 * i);
    shop_price(at, seller, "ss16 clear", 100, 310 - 17 * i);
    shop_price(at, seller, "ss16 clear", 36, 150 - 7 * i)->at_most = i ? 6 : -1;
  }
}

static void open_whole(shop *at) {
  open_sellers(at);
  shop_need(at, "A1", "ss20 black", 144);
  shop_need(at, "A2", "ss16 clear", 500);
}

static void open_split(shop *at) {
  open_sellers(at);
  at->options.flags = GIRDLE_ORDER_SPLIT;
  shop_stock(at, "ss16 clear", 40, "old tin");
  shop_need(at, "A1", "ss20 black", 144);
  for (int i = 0; i < 4; i++)
    shop_line(at, "A2", zones[i], "front", "ss16 clear", 90 + 7 * i);
}

/* The lines can be parted in more ways than are listed. */
static void open_many_lines(shop *at) {
  open_sellers(at);
  shop_supplier(at, "Coral Lane", 300, -1, 0);
  shop_price(at, "Coral Lane", "ss16 clear", 50, 170);
  at->options.flags = GIRDLE_ORDER_SPLIT;
  for (int i = 0; i < 12; i++)
    shop_line(at, "A2", zones[i], "front", "ss16 clear", 10 + 3 * i);
}

/* Three packs that hold all lines if they are parted well, or all but `short_by` pieces. */
static void open_packs(shop *at, int64_t short_by) {
  static const char *const sellers[] = {"Anchor Beads", "Brightside", "Coral Lane"};
  shop_open(at);
  at->options.flags = GIRDLE_ORDER_SPLIT;
  for (int i = 0; i < 9; i++)
    shop_line(at, "A2", zones[i], i % 2 ? "front" : "back", "ss16 clear", 20 + i);
  for (int i = 0; i < 3; i++) {
    shop_supplier(at, sellers[i], 0, -1, 0);
    shop_price(at, sellers[i], "ss16 clear", i ? 72 : 72 - short_by, 100)->at_most = 1;
  }
}

static void open_tight_packs(shop *at) {
  open_packs(at, 0);
}

static void open_short_packs(shop *at) {
  open_packs(at, 1);
  shop_stock(at, "ss16 clear", 1, "");
}

/* Packs of 99 for lines of 50: each serves one whole, and the others must be mixed. */
static void open_wasteful_packs(shop *at) {
  shop_open(at);
  at->options.flags = GIRDLE_ORDER_SPLIT;
  for (int i = 0; i < 10; i++)
    shop_line(at, "A2", zones[i], i % 2 ? "front" : "back", "ss16 clear", 50);
  for (int i = 0; i < 6; i++) {
    char name[32];
    snprintf(name, sizeof name, "Seller %d", i);
    shop_supplier(at, name, 0, -1, 0);
    shop_price(at, name, "ss16 clear", i ? 99 : 10, 100)->at_most = 1;
  }
}

static void (*const opened[])(shop *at) = {open_whole,       open_split,       open_many_lines,
                                           open_tight_packs, open_short_packs, open_wasteful_packs};
static int scene; /* of plan_scene, which a sweep calls without a word */

static int32_t plan_scene(girdle_call *call) {
  shop at;
  int32_t status;
  opened[scene](&at);
  status = girdle_order_plan(call, at.tally, &at.options, &at.order);
  shop_close(&at);
  return status;
}

static void order_plan_stops_wherever_it_is(void **state) {
  (void)state;
  for (scene = 0; scene < 6; scene++)
    test_sweep_stops(plan_scene);
}

static void order_plan_leaks_nothing_wherever_memory_ends(void **state) {
  (void)state;
  for (scene = 0; scene < 6; scene++)
    test_sweep_many_allocations(plan_scene);
}

/* 20 + 24 + 28, 21 + 25 + 26 and 22 + 23 + 27 are 72 each; the first that come to hand are not. */
static void order_uses_part_what_only_just_fits(void **state) {
  (void)state;
  for (int64_t short_by = 0; short_by < 2; short_by++) {
    shop at;
    const girdle_lot_use *uses;
    uint64_t count;
    int64_t mixed = 0;
    open_packs(&at, short_by);
    if (short_by) shop_stock(&at, "ss16 clear", 1, "");
    uses = girdle_order_uses(shop_plan(&at), &count);
    for (uint64_t i = 0; i < count; i++)
      mixed += uses[i].mixed != GIRDLE_LOT_WHOLE;
    assert_int_equal(mixed != 0, short_by);
    assert_true(mixed <= 4); /* one line alone, of the four lots at the most */
    shop_close(&at);
  }
}

static void order_uses_keep_as_many_lines_whole_as_lots_can(void **state) {
  shop at;
  const girdle_lot_use *uses;
  uint64_t count;
  int64_t whole = 0, front = 0, pieces = 0;
  (void)state;
  open_wasteful_packs(&at);
  uses = girdle_order_uses(shop_plan(&at), &count);
  for (uint64_t i = 0; i < count; i++) {
    pieces += uses[i].pieces;
    whole += uses[i].mixed == GIRDLE_LOT_WHOLE;
    front += uses[i].mixed == GIRDLE_LOT_WHOLE && strcmp(uses[i].side, "front") == 0;
  }
  assert_int_equal(pieces, 500);
  assert_int_equal(whole, 5);
  assert_int_equal(front, 5); /* those that show */
  shop_close(&at);
}

/* At every limit the order covers everything, is bounded, and is no dearer than at a lower one; in the end it is
 * proved. */
static void order_plan_keeps_its_bound_at_every_limit(void **state) {
  (void)state;
  for (scene = 0; scene < 3; scene++) {
    int64_t before = INT64_MAX, least = 0;
    int proved = 0;
    for (int64_t labels = 1; !proved; labels *= 2) {
      shop at;
      girdle_order_total total;
      int32_t status;
      opened[scene](&at);
      at.options.most_labels = labels;
      status = girdle_order_plan(NULL, at.tally, &at.options, &at.order);
      if (status == GIRDLE_OK) {
        girdle_order_sum(at.order, &total);
        assert_int_equal(total.unpriced_stones, 0);
        assert_true(total.bound_minor <= total.total_minor);
        assert_true(total.total_minor <= before);
        assert_true(total.bound_minor >= least);
        before = total.total_minor;
        least = total.bound_minor / 2; /* what was searched differs, so the bound may waver, but not far */
        proved = total.bound_minor == total.total_minor;
      } else {
        assert_int_equal(status, GIRDLE_LIMIT); /* nothing was found yet */
        assert_true(before == INT64_MAX);
      }
      shop_close(&at);
      assert_true(labels < INT64_C(1) << 30);
    }
  }
}

/* A pack that no stone needs, but of which there are few, may be what brings a supplier to its least order. */
static void order_plan_pads_a_split_stone_with_limited_packs(void **state) {
  shop at;
  const girdle_order *order;
  (void)state;
  shop_open(&at);
  at.options.flags = GIRDLE_ORDER_SPLIT;
  shop_need(&at, "A1", "ss20 black", 5);
  shop_need(&at, "A1", "ss16 clear", 8);
  shop_supplier(&at, "Anchor Beads", 47, 42, 58);
  shop_supplier(&at, "Brightside", 2, 23, 0);
  shop_price(&at, "Anchor Beads", "ss20 black", 9, 42);
  shop_price(&at, "Anchor Beads", "ss16 clear", 3, 40)->at_most = 4;
  shop_price(&at, "Brightside", "ss16 clear", 10, 50);
  order = shop_plan(&at); /* 42 + 40 at the first, 50 at the second, both free of shipping */
  assert_int_equal(sum_of(order).total_minor, 132);
  assert_int_equal(sum_of(order).bound_minor, 132);
  shop_close(&at);
}

/* Prices and thresholds beyond what int64 holds, each in turn. */
static void order_plan_says_so_when_a_sum_does_not_fit(void **state) {
  (void)state;
  for (int i = 0; i < 7; i++) {
    shop at;
    int32_t status;
    open_split(&at);
    if (i == 0) at.rows[0].price_minor = INT64_MAX;
    if (i == 1) at.rows[0].price_minor = INT64_MAX / 3;
    if (i == 2) at.suppliers[0].shipping_minor = INT64_MAX;
    if (i == 3) at.suppliers[1].least_order_minor = INT64_MAX;
    if (i == 4) at.suppliers[0].free_from_minor = INT64_MAX;
    if (i == 5) at.rows[5].at_most = 1, at.rows[5].price_minor = INT64_MAX; /* an offer that does not do alone */
    if (i == 6) at.rows[1].pack_pieces = INT64_MAX;
    status = girdle_order_plan(NULL, at.tally, &at.options, &at.order);
    if (status != GIRDLE_OVERFLOW && status != GIRDLE_ARGUMENT)
      fail_msg("number %d: %s", i, girdle_status_text(status));
    assert_null(at.order);
    shop_close(&at);
  }
}

/* A split stone may be offered in as many packs as can be looked at, by all suppliers together. */
static void order_plan_refuses_more_packs_than_can_be_looked_at(void **state) {
  (void)state;
  for (int split = 0; split < 2; split++) {
    shop at;
    test_call test;
    shop_open(&at);
    at.options.flags = split ? GIRDLE_ORDER_SPLIT : 0;
    shop_need(&at, "A1", "ss20 black", 100);
    shop_supplier(&at, "Anchor Beads", 0, -1, 0);
    shop_supplier(&at, "Brightside", 0, -1, 0);
    for (int i = 0; i < 65; i++)
      shop_price(&at, split && i % 2 ? "Brightside" : "Anchor Beads", "ss20 black", 100 + i, 500 + i);
    test_begin(&test);
    assert_status(&test, girdle_order_plan(&test.call, at.tally, &at.options, &at.order), GIRDLE_LIMIT);
    assert_non_null(strstr(test.error.message, "more than 64 packs"));
    assert_int_equal(test.live_bytes, 0);
    shop_close(&at);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(order_plan_stops_wherever_it_is),
      cmocka_unit_test(order_plan_leaks_nothing_wherever_memory_ends),
      cmocka_unit_test(order_uses_part_what_only_just_fits),
      cmocka_unit_test(order_uses_keep_as_many_lines_whole_as_lots_can),
      cmocka_unit_test(order_plan_keeps_its_bound_at_every_limit),
      cmocka_unit_test(order_plan_pads_a_split_stone_with_limited_packs),
      cmocka_unit_test(order_plan_says_so_when_a_sum_does_not_fit),
      cmocka_unit_test(order_plan_refuses_more_packs_than_can_be_looked_at),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
