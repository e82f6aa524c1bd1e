/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

/* ---- a small market to order in */

enum { ROWS = 80, SUPPLIERS = 6, STOCK = 8 };

typedef struct market {
  girdle_tally *tally;
  girdle_price_row rows[ROWS];
  girdle_supplier suppliers[SUPPLIERS];
  girdle_stock_row stock[STOCK];
  girdle_order_options options;
} market;

static girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

/* Without spares, so that what is ordered is what the test says. */
static void open_shop(market *shop) {
  memset(shop, 0, sizeof *shop);
  assert_int_equal(girdle_tally_new(NULL, &shop->tally), GIRDLE_OK);
  girdle_order_options_init(&shop->options, sizeof shop->options);
  shop->options.lost_share = 0;
  shop->options.kit_pieces = 0;
  shop->options.confidence = 0;
  shop->options.prices = shop->rows;
  shop->options.suppliers = shop->suppliers;
  shop->options.stock = shop->stock;
}

static void need(market *shop, const char *tag, const char *text, int64_t pieces) {
  girdle_stone stone = stone_of(text);
  assert_int_equal(girdle_tally_add_pieces(NULL, shop->tally, tag, "front", "", &stone, pieces), GIRDLE_OK);
}

static girdle_supplier *supplier(market *shop, const char *name, int64_t shipping, int64_t free_from, int64_t least) {
  girdle_supplier *made = &shop->suppliers[shop->options.supplier_count++];
  snprintf(made->name, sizeof made->name, "%s", name);
  assert_int_equal(girdle_currency_parse(NULL, "EUR", &made->currency), GIRDLE_OK);
  made->shipping_minor = shipping;
  made->free_from_minor = free_from;
  made->least_order_minor = least;
  made->delivery_days = 4;
  return made;
}

static girdle_price_row *price(market *shop, const char *from, const char *text, int64_t pieces, int64_t minor) {
  girdle_price_row *row = &shop->rows[shop->options.price_count++];
  snprintf(row->supplier, sizeof row->supplier, "%s", from);
  snprintf(row->pack, sizeof row->pack, "%d", (int)pieces);
  row->stone = stone_of(text);
  row->pack_pieces = pieces;
  row->price_minor = minor;
  row->at_most = -1;
  return row;
}

static void stock(market *shop, const char *text, int64_t pieces) {
  girdle_stock_row *row = &shop->stock[shop->options.stock_count++];
  row->stone = stone_of(text);
  row->pieces = pieces;
}

static girdle_order *plan(market *shop) {
  test_call test;
  girdle_order *order = NULL;
  test_begin(&test);
  test.call.memory.resize = NULL;
  assert_ok(&test, girdle_order_plan(&test.call, shop->tally, &shop->options, &order));
  return order;
}

static void close_shop(market *shop, girdle_order *order) {
  girdle_order_free(order);
  girdle_tally_free(shop->tally);
}

static girdle_order_total sum_of(const girdle_order *order) {
  girdle_order_total total;
  girdle_order_sum(order, &total);
  return total;
}

/* ---- needs, spares, stock */

static void order_plan_adds_spares_and_kits_and_takes_stock_first(void **state) {
  market shop;
  girdle_order *order;
  const girdle_order_stone *stones;
  uint64_t count;
  (void)state;
  open_shop(&shop);
  shop.options.lost_share = 0.05;
  shop.options.kit_pieces = 3;
  need(&shop, "A1", "ss20 black", 100);
  need(&shop, "A2", "ss20 black", 60);
  need(&shop, "A2", "ss16 clear", 40);
  stock(&shop, "ss20 black", 50);
  stock(&shop, "ss20 black", 14);
  stock(&shop, "ss16 clear", 500);
  stock(&shop, "ss30 red", 9);
  supplier(&shop, "Anchor Beads", 490, -1, 0);
  price(&shop, "Anchor Beads", "ss20 black", 144, 520);
  order = plan(&shop);
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
  close_shop(&shop, order);
}

static void order_plan_takes_spares_by_confidence(void **state) {
  market shop;
  girdle_order *order;
  const girdle_order_stone *stones;
  girdle_order_basis basis;
  uint64_t count;
  (void)state;
  open_shop(&shop);
  shop.options.lost_share = 0.05;
  shop.options.confidence = 0.95;
  shop.options.learned_jobs = 7;
  need(&shop, "A1", "ss20 black", 100);
  supplier(&shop, "Anchor Beads", 490, -1, 0);
  price(&shop, "Anchor Beads", "ss20 black", 1, 5);
  order = plan(&shop);
  stones = girdle_order_stones(order, &count);
  assert_int_equal(stones[0].lost, 9); /* B(100, 0.05, <= 9) = 0.9718, <= 8 0.9369: standard tables */
  assert_near(stones[0].chance_short, 1 - 0.9718, 5e-5);
  girdle_order_spares(order, &basis);
  assert_near(basis.lost_share, 0.05, 0);
  assert_near(basis.confidence, 0.95, 0);
  assert_int_equal(basis.learned_jobs, 7);
  assert_near(basis.most_chance_short, stones[0].chance_short, 0);
  girdle_order_free(order);
  shop.options.supplier_count = 0;
  shop.options.price_count = 0;
  stock(&shop, "ss20 black", 99);
  order = plan(&shop);
  stones = girdle_order_stones(order, &count);
  assert_near(stones[0].chance_short, 1, 0);
  close_shop(&shop, order);
}

static void order_plan_flags_what_has_no_price(void **state) {
  market shop;
  girdle_order *order;
  const girdle_order_stone *stones;
  const girdle_order_share *shares;
  uint64_t count;
  (void)state;
  open_shop(&shop);
  need(&shop, "A1", "ss20 black", 100);
  need(&shop, "A1", "ss16 clear", 40);
  need(&shop, "A2", "ss10 red", 40);
  supplier(&shop, "Anchor Beads", 490, -1, 0);
  price(&shop, "Anchor Beads", "ss20 black", 144, 520);
  price(&shop, "Anchor Beads", "ss16 clear", 144, 400)->sold_out = 1;
  price(&shop, "Anchor Beads", "ss10 red", 20, 100)->at_most = 1;
  order = plan(&shop);
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
  close_shop(&shop, order);
}

static void order_plan_of_nothing_is_nothing(void **state) {
  market shop;
  girdle_order *order;
  uint64_t count;
  (void)state;
  open_shop(&shop);
  order = plan(&shop);
  girdle_order_lines(order, &count);
  assert_int_equal(count, 0);
  assert_int_equal(sum_of(order).total_minor, 0);
  close_shop(&shop, order);
}

/* ---- suppliers */

static void order_plan_weighs_shipping(void **state) {
  market shop;
  girdle_order *order;
  const girdle_order_supplier *used;
  uint64_t count;
  (void)state;
  open_shop(&shop);
  need(&shop, "A1", "ss20 black", 144);
  need(&shop, "A1", "ss16 clear", 144);
  supplier(&shop, "Anchor Beads", 500, -1, 0);
  supplier(&shop, "Brightside", 500, -1, 0);
  price(&shop, "Anchor Beads", "ss20 black", 144, 500);
  price(&shop, "Anchor Beads", "ss16 clear", 144, 800);
  price(&shop, "Brightside", "ss20 black", 144, 900);
  price(&shop, "Brightside", "ss16 clear", 144, 400);
  order = plan(&shop); /* both: 900 + 1000; Anchor alone 1300 + 500; Brightside alone 1300 + 500 */
  used = girdle_order_suppliers(order, &count);
  assert_int_equal(count, 1);
  assert_string_equal(used[0].supplier, "Anchor Beads"); /* the tie goes by name */
  assert_int_equal(sum_of(order).total_minor, 1800);
  assert_int_equal(used[0].delivery_days, 4);
  close_shop(&shop, order);
}

static void order_plan_buys_more_to_ship_free(void **state) {
  market shop;
  girdle_order *order;
  const girdle_order_line *lines;
  uint64_t count;
  (void)state;
  open_shop(&shop);
  need(&shop, "A1", "ss20 black", 144);
  supplier(&shop, "Anchor Beads", 600, 1000, 0);
  price(&shop, "Anchor Beads", "ss20 black", 144, 900);
  price(&shop, "Anchor Beads", "ss20 black", 20, 150);
  order = plan(&shop); /* 900 + 600 shipping, or 900 + 150 and shipping is free */
  lines = girdle_order_lines(order, &count);
  assert_int_equal(count, 2);
  assert_int_equal(lines[0].packs, 1);
  assert_int_equal(lines[1].packs, 1);
  assert_int_equal(sum_of(order).total_minor, 1050);
  assert_int_equal(sum_of(order).shipping_minor, 0);
  assert_int_equal(sum_of(order).bound_minor, 1050);
  close_shop(&shop, order);
}

static void order_plan_meets_least_orders_or_goes_without(void **state) {
  market shop;
  girdle_order *order;
  (void)state;
  open_shop(&shop);
  need(&shop, "A1", "ss20 black", 144);
  supplier(&shop, "Anchor Beads", 0, -1, 2000);
  supplier(&shop, "Brightside", 300, -1, 0);
  price(&shop, "Anchor Beads", "ss20 black", 144, 500);
  price(&shop, "Brightside", "ss20 black", 144, 900);
  order = plan(&shop);
  assert_int_equal(sum_of(order).total_minor, 1200);
  girdle_order_free(order);
  shop.options.supplier_count = 1;
  shop.options.price_count = 1;
  order = plan(&shop); /* four packs, since nobody else sells it */
  assert_int_equal(sum_of(order).total_minor, 2000);
  girdle_order_free(order);
  shop.rows[0].at_most = 3;
  order = plan(&shop); /* three packs are all there are: out of reach */
  assert_int_equal(sum_of(order).unpriced_stones, 1);
  assert_int_equal(sum_of(order).total_minor, 0);
  close_shop(&shop, order);
}

static void order_plan_keeps_a_stone_with_one_supplier(void **state) {
  market shop;
  girdle_order *order;
  (void)state;
  open_shop(&shop);
  need(&shop, "A1", "ss20 black", 288);
  supplier(&shop, "Anchor Beads", 0, -1, 0);
  supplier(&shop, "Brightside", 0, -1, 0);
  price(&shop, "Anchor Beads", "ss20 black", 144, 500)->at_most = 1;
  price(&shop, "Brightside", "ss20 black", 144, 900);
  order = plan(&shop);
  assert_int_equal(sum_of(order).total_minor, 1800);
  close_shop(&shop, order);
}

static void order_plan_splits_a_stone_when_it_may(void **state) {
  market shop;
  girdle_order *order;
  const girdle_order_line *lines;
  const girdle_order_stone *stones;
  uint64_t count;
  (void)state;
  open_shop(&shop);
  shop.options.flags = GIRDLE_ORDER_SPLIT;
  need(&shop, "A1", "ss20 black", 288);
  supplier(&shop, "Anchor Beads", 0, -1, 0);
  supplier(&shop, "Brightside", 100, -1, 0);
  price(&shop, "Anchor Beads", "ss20 black", 144, 500)->at_most = 1;
  price(&shop, "Brightside", "ss20 black", 144, 900);
  order = plan(&shop);
  lines = girdle_order_lines(order, &count);
  assert_int_equal(count, 2);
  assert_string_equal(lines[0].supplier, "Anchor Beads");
  assert_int_equal(sum_of(order).total_minor, 1500);
  assert_int_equal(sum_of(order).bound_minor, 1500);
  girdle_order_free(order);
  shop.rows[1].at_most = 1; /* now neither has enough alone */
  order = plan(&shop);
  assert_int_equal(sum_of(order).total_minor, 1500);
  girdle_order_free(order);
  need(&shop, "A1", "ss20 black", 1);
  order = plan(&shop); /* and now not even together */
  stones = girdle_order_stones(order, &count);
  assert_int_equal(stones[0].unpriced, 1);
  assert_int_equal(sum_of(order).total_minor, 0);
  close_shop(&shop, order);
}

/* 3,000 costumes' worth: half a million pieces of each of ten stones. */
static void order_plan_takes_a_costume_house(void **state) {
  market shop;
  girdle_order *order;
  (void)state;
  open_shop(&shop);
  supplier(&shop, "Anchor Beads", 900, 50000, 0);
  supplier(&shop, "Brightside", 500, -1, 10000);
  for (int i = 0; i < 10; i++) {
    char text[32];
    snprintf(text, sizeof text, "ss20 shade %c", 'a' + i);
    need(&shop, "A1", text, 500000 + i);
    price(&shop, "Anchor Beads", text, 1440, 4100);
    price(&shop, "Anchor Beads", text, 144, 480);
    price(&shop, "Brightside", text, 1440, 4200);
    price(&shop, "Brightside", text, 20, 90);
  }
  order = plan(&shop); /* 347 large packs and three of a gross, ten times over: 499,680 + 432 */
  assert_int_equal(sum_of(order).total_minor, 10 * (347 * 4100 + 3 * 480));
  assert_int_equal(sum_of(order).bound_minor, sum_of(order).total_minor);
  close_shop(&shop, order);
}

/* ---- shares */

static void order_shares_add_up_to_the_order(void **state) {
  market shop;
  girdle_order *order;
  const girdle_order_share *shares;
  int64_t materials = 0, shipping = 0;
  uint64_t count;
  (void)state;
  open_shop(&shop);
  need(&shop, "A1", "ss20 black", 100);
  need(&shop, "A2", "ss20 black", 50);
  need(&shop, "A3", "ss16 clear", 10);
  need(&shop, "A1", "ss16 clear", 7);
  supplier(&shop, "Anchor Beads", 491, -1, 0);
  price(&shop, "Anchor Beads", "ss20 black", 100, 523);
  price(&shop, "Anchor Beads", "ss16 clear", 20, 111);
  order = plan(&shop);
  shares = girdle_order_shares(order, &count);
  assert_int_equal(count, 3);
  assert_string_equal(shares[2].tag, "A3");
  assert_int_equal(shares[0].stones, 107);
  for (uint64_t i = 0; i < count; i++)
    materials += shares[i].materials_minor, shipping += shares[i].shipping_minor;
  assert_int_equal(materials, 2 * 523 + 111);
  assert_int_equal(shipping, 491);
  assert_int_equal(shares[1].materials_minor, 349); /* a third of 1046, 348.67 */
  girdle_order_free(order);
  shop.options.flags |= GIRDLE_ORDER_ALIKE;
  order = plan(&shop);
  shares = girdle_order_shares(order, &count);
  assert_int_equal(shares[0].materials_minor, 386); /* 1157 in three */
  assert_int_equal(shares[1].materials_minor, 386);
  assert_int_equal(shares[2].materials_minor, 385);
  assert_int_equal(shares[0].shipping_minor, 164);
  assert_int_equal(shares[2].shipping_minor, 163);
  close_shop(&shop, order);
}

/* ---- lots */

static void order_lots_put_the_second_where_it_shows_least(void **state) {
  static const char *const sides[] = {"back", "front", "left", "front"};
  static const int64_t pieces[] = {60, 100, 30, 90};
  market shop;
  girdle_order *order;
  girdle_lot_use uses[8];
  girdle_stone stone = stone_of("ss20 black");
  uint64_t count;
  (void)state;
  open_shop(&shop);
  for (int i = 0; i < 4; i++) {
    char zone[24];
    snprintf(zone, sizeof zone, "zone %d", i);
    assert_int_equal(girdle_tally_add_pieces(NULL, shop.tally, "A1", zone, sides[i], &stone, pieces[i]), GIRDLE_OK);
  }
  stock(&shop, "ss20 black", 70);
  stock(&shop, "ss20 black", 30);
  for (int i = 0; i < 2; i++)
    snprintf(shop.stock[i].lot, sizeof shop.stock[i].lot, "old tin");
  supplier(&shop, "Anchor Beads", 0, -1, 0);
  price(&shop, "Anchor Beads", "ss20 black", 70, 300);
  order = plan(&shop); /* 280 needed, 100 there, 210 bought */
  assert_int_equal(girdle_order_lots(NULL, order, shop.tally, &shop.options, uses, 8, &count), GIRDLE_OK);
  assert_int_equal(count, 4);
  for (uint64_t i = 0; i < count; i++)
    assert_int_equal(uses[i].mixed, 0);
  assert_int_equal(uses[1].bought, 1); /* 210: both fronts, 190 */
  assert_int_equal(uses[3].bought, 1);
  assert_int_equal(uses[2].bought, 0); /* 30 of the 100 */
  assert_string_equal(uses[2].lot, "old tin");
  assert_int_equal(uses[0].bought, 0); /* the back, 60 of the 70 left */
  assert_int_equal(uses[0].pieces, 60);
  girdle_order_free(order);
  shop.rows[0].sold_out = 1; /* then no lot holds enough for the larger front */
  shop.stock[0].pieces = 60;
  order = plan(&shop);
  assert_int_equal(girdle_order_lots(NULL, order, shop.tally, &shop.options, uses, 8, &count), GIRDLE_OK);
  assert_int_equal(uses[1].mixed, 1);
  assert_string_equal(uses[1].lot, "");
  girdle_order_free(order);
  shop.rows[0].sold_out = 0;
  shop.options.stock_count = 0;
  shop.rows[0].pack_pieces = 280;
  order = plan(&shop);
  assert_int_equal(girdle_order_lots(NULL, order, shop.tally, &shop.options, uses, 8, &count), GIRDLE_OK);
  for (uint64_t i = 0; i < count; i++)
    assert_int_equal(uses[i].bought, 1);
  close_shop(&shop, order);
}

/* ---- substitutes */

/* Whatever the lines and the named lots: what is planned serves every line from one lot, and no lot gives more than it
 * holds. */
static void order_lots_never_mix_within_a_line(void **state) {
  static const char *const sides[] = {"back", "front", "left", "both"};
  uint64_t seed = 61;
  (void)state;
  for (int round = 0; round < 400; round++) {
    market shop;
    girdle_order *order;
    girdle_lot_use uses[12];
    girdle_stone stone = stone_of("ss20 black");
    const girdle_order_stone *stones;
    int64_t left[4];
    uint64_t count;
    const int lines = 1 + (int)(test_random(&seed) % 12), lots = (int)(test_random(&seed) % 4);
    open_shop(&shop);
    shop.options.lost_share = round % 2 ? 0.1 : 0;
    for (int i = 0; i < lines; i++) {
      char zone[24];
      snprintf(zone, sizeof zone, "zone %d", i);
      girdle_tally_add_pieces(NULL, shop.tally, "A1", zone, sides[test_random(&seed) % 4], &stone,
                              1 + (int64_t)(test_random(&seed) % 100));
    }
    for (int i = 0; i < lots; i++) {
      left[i] = (int64_t)(test_random(&seed) % 300);
      stock(&shop, "ss20 black", left[i]);
      snprintf(shop.stock[i].lot, sizeof shop.stock[i].lot, "%c", 'a' + i);
    }
    supplier(&shop, "Anchor Beads", 0, -1, 0);
    price(&shop, "Anchor Beads", "ss20 black", 7, 30);
    order = plan(&shop);
    stones = girdle_order_stones(order, &count);
    left[3] = stones[0].bought;
    assert_int_equal(girdle_order_lots(NULL, order, shop.tally, &shop.options, uses, 12, &count), GIRDLE_OK);
    assert_int_equal(count, lines);
    for (uint64_t i = 0; i < count; i++) {
      assert_int_equal(uses[i].mixed, 0);
      left[uses[i].bought ? 3 : uses[i].lot[0] - 'a'] -= uses[i].pieces;
    }
    for (int i = 0; i < 4; i++)
      assert_true(left[i] >= 0 || (i >= lots && i < 3));
    close_shop(&shop, order);
  }
}

/* A stone that is split over suppliers comes in a lot for each. */
static void order_lots_keep_the_suppliers_of_a_split_stone_apart(void **state) {
  market shop;
  girdle_order *order;
  girdle_lot_use uses[2];
  girdle_stone stone = stone_of("ss20 black");
  uint64_t count;
  (void)state;
  open_shop(&shop);
  girdle_tally_add_pieces(NULL, shop.tally, "A1", "collar", "front", &stone, 100);
  girdle_tally_add_pieces(NULL, shop.tally, "A1", "seat", "back", &stone, 50);
  supplier(&shop, "Anchor Beads", 0, -1, 0);
  supplier(&shop, "Bell Glass", 0, -1, 0);
  price(&shop, "Anchor Beads", "ss20 black", 100, 300)->at_most = 1;
  price(&shop, "Bell Glass", "ss20 black", 50, 200)->at_most = 1;
  shop.options.flags = GIRDLE_ORDER_SPLIT;
  order = plan(&shop);
  assert_int_equal(girdle_order_lots(NULL, order, shop.tally, &shop.options, uses, 2, &count), GIRDLE_OK);
  assert_string_equal(uses[0].lot, "Anchor Beads");
  assert_string_equal(uses[1].lot, "Bell Glass");
  assert_true(uses[0].bought && uses[1].bought && !uses[0].mixed && !uses[1].mixed);
  close_shop(&shop, order);
}

static void order_substitutes_show_their_effect(void **state) {
  market shop;
  girdle_order *order;
  girdle_substitute other[8];
  const girdle_order_stone *stones;
  uint64_t count;
  (void)state;
  open_shop(&shop);
  need(&shop, "A1", "ss20 black", 144);
  supplier(&shop, "Anchor Beads", 0, -1, 0);
  supplier(&shop, "Brightside", 0, -1, 0);
  price(&shop, "Anchor Beads", "ss20 black", 144, 500);
  price(&shop, "Anchor Beads", "ss20 jet grey", 144, 450);
  price(&shop, "Brightside", "ss20 jet grey", 144, 430);
  price(&shop, "Brightside", "ss16 black", 10, 30);
  price(&shop, "Brightside", "ss34 black", 10, 1);    /* too wide to stand in */
  price(&shop, "Brightside", "ss16 jet grey", 10, 1); /* differs in two things */
  price(&shop, "Brightside", "ss20 red", 144, 1)->sold_out = 1;
  order = plan(&shop);
  stones = girdle_order_stones(order, &count);
  assert_int_equal(stones[0].bought, 144); /* nothing was taken */
  assert_int_equal(girdle_order_substitutes(NULL, order, 0, &shop.options, other, 8, &count), GIRDLE_OK);
  assert_int_equal(count, 2);
  assert_int_equal(other[0].kind, GIRDLE_OTHER_COLOUR);
  assert_string_equal(other[0].supplier, "Brightside");
  assert_int_equal(other[0].added_pieces, 0);
  assert_int_equal(other[0].added_cost_minor, -70);
  assert_int_equal(other[1].kind, GIRDLE_OTHER_SIZE);
  assert_int_equal(other[1].pieces, 174);          /* 144 x 4.7 / 3.9 = 173.5 */
  assert_int_equal(other[1].added_cost_minor, 40); /* 18 packs of 10 at 0.30 */
  assert_true(other[1].added_mass_mg < 0);
  assert_int_equal(girdle_order_substitutes(NULL, order, 1, &shop.options, other, 8, &count), GIRDLE_ARGUMENT);
  close_shop(&shop, order);
}

/* ---- bad input, limits, memory */

/* The first row of the book may be the one that can stand in; a cover of just what is needed leaves nothing out; and of
 * the rows of one stone no more are looked at than one offer may have. */
static void order_substitutes_look_at_every_row(void **state) {
  market shop;
  girdle_order *order;
  girdle_substitute other[4];
  uint64_t count;
  (void)state;
  open_shop(&shop);
  need(&shop, "A1", "ss20 black", 140);
  supplier(&shop, "Anchor Beads", 0, -1, 0);
  for (int i = 0; i < 64; i++)
    price(&shop, "Anchor Beads", "ss20 jet grey", 70, 450 - i)->at_most = 1;
  price(&shop, "Anchor Beads", "ss20 black", 140, 500);
  price(&shop, "Anchor Beads", "ss20 jet grey", 70, 1);
  order = plan(&shop);
  assert_int_equal(girdle_order_substitutes(NULL, order, 0, &shop.options, other, 4, &count), GIRDLE_OK);
  assert_int_equal(count, 1);
  assert_int_equal(other[0].cost_minor, 387 + 388);
  girdle_order_free(order);
  shop.options.price_count = 2;
  shop.rows[1] = shop.rows[64];
  shop.rows[0].at_most = 2; /* 140 pieces, just enough */
  order = plan(&shop);
  assert_int_equal(girdle_order_substitutes(NULL, order, 0, &shop.options, other, 4, &count), GIRDLE_OK);
  assert_int_equal(count, 1);
  assert_int_equal(other[0].cost_minor, 900);
  close_shop(&shop, order);
}

static void order_plan_refuses(void **state) {
  market shop;
  girdle_order *order = NULL;
  test_call test;
  (void)state;
  open_shop(&shop);
  need(&shop, "A1", "ss20 black", 144);
  supplier(&shop, "Anchor Beads", 0, -1, 0);
  supplier(&shop, "Brightside", 0, -1, 0);
  price(&shop, "Anchor Bead", "ss20 black", 144, 500);
  test_begin(&test);
  assert_status(&test, girdle_order_plan(&test.call, shop.tally, &shop.options, &order), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.nearest, "Anchor Beads");
  assert_int_equal(test.live_bytes, 0);
  snprintf(shop.rows[0].supplier, sizeof shop.rows[0].supplier, "Anchor Beads");
  shop.rows[0].price_minor = -1;
  test_again(&test);
  assert_status(&test, girdle_order_plan(&test.call, shop.tally, &shop.options, &order), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "price");
  shop.rows[0].price_minor = INT64_MAX / 2;
  assert_int_equal(girdle_order_plan(NULL, shop.tally, &shop.options, &order), GIRDLE_OVERFLOW);
  shop.rows[0].price_minor = 500;
  girdle_currency_parse(NULL, "USD", &shop.suppliers[1].currency);
  test_again(&test);
  assert_status(&test, girdle_order_plan(&test.call, shop.tally, &shop.options, &order), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "currency");
  shop.suppliers[1] = shop.suppliers[0];
  assert_int_equal(girdle_order_plan(NULL, shop.tally, &shop.options, &order), GIRDLE_ARGUMENT);
  shop.options.supplier_count = 1;
  shop.options.lost_share = NAN;
  assert_int_equal(girdle_order_plan(NULL, shop.tally, &shop.options, &order), GIRDLE_ARGUMENT);
  assert_null(order);
  close_shop(&shop, order);
}

/* At the limit the order still covers everything, and says what it might be above. */
/* Every number of the options, of a supplier, a price row and the stock. */
static void order_plan_refuses_each_number_that_cannot_be(void **state) {
  (void)state;
  for (int i = 0; i < 14; i++) {
    market shop;
    girdle_order *order = NULL;
    open_shop(&shop);
    need(&shop, "A1", "ss20 black", 144);
    supplier(&shop, "Anchor Beads", 0, -1, 0);
    price(&shop, "Anchor Beads", "ss20 black", 144, 500);
    stock(&shop, "ss20 black", 3);
    if (i == 0) shop.suppliers[0].shipping_minor = -1;
    if (i == 1) shop.suppliers[0].free_from_minor = -2;
    if (i == 2) shop.suppliers[0].least_order_minor = -1;
    if (i == 3) shop.suppliers[0].delivery_days = -1;
    if (i == 4) shop.rows[0].pack_pieces = 0;
    if (i == 5) shop.rows[0].at_most = -2;
    if (i == 6) shop.stock[0].pieces = -1;
    if (i == 7) shop.options.confidence = 1;
    if (i == 8) shop.options.kit_pieces = -1;
    if (i == 9) shop.options.most_labels = -1;
    if (i == 10) shop.options.learned_jobs = -1;
    if (i == 11) shop.options.supplier_count = 33;
    if (i == 12) shop.options.lost_share = 1.5;
    if (i == 13) shop.options.kit_pieces = INT64_MAX;
    if (girdle_order_plan(NULL, shop.tally, &shop.options, &order) != GIRDLE_ARGUMENT) fail_msg("number %d", i);
    assert_null(order);
    close_shop(&shop, NULL);
  }
}

static void order_plan_prints_its_bound_at_the_limit(void **state) {
  market shop;
  girdle_order *order;
  (void)state;
  open_shop(&shop);
  need(&shop, "A1", "ss20 black", 144);
  need(&shop, "A1", "ss16 clear", 500);
  supplier(&shop, "Anchor Beads", 600, 3000, 0);
  supplier(&shop, "Brightside", 500, 2500, 900);
  for (int i = 0; i < 2; i++) {
    price(&shop, i ? "Brightside" : "Anchor Beads", "ss20 black", 144, 900 + 13 * i);
    price(&shop, i ? "Brightside" : "Anchor Beads", "ss16 clear", 100, 310 - 17 * i);
    price(&shop, i ? "Brightside" : "Anchor Beads", "ss16 clear", 36, 150 - 7 * i);
  }
  order = plan(&shop);
  assert_int_equal(sum_of(order).bound_minor, sum_of(order).total_minor);
  girdle_order_free(order);
  shop.options.most_labels = 8;
  order = plan(&shop);
  assert_true(sum_of(order).bound_minor < sum_of(order).total_minor);
  assert_true(sum_of(order).bound_minor > 2000);
  assert_int_equal(sum_of(order).unpriced_stones, 0);
  close_shop(&shop, order);
}

static int32_t plan_order(girdle_call *call) {
  market shop;
  uint64_t count;
  girdle_order *order = NULL;
  int32_t status;
  open_shop(&shop);
  need(&shop, "A1", "ss20 black", 144);
  need(&shop, "A2", "ss16 clear", 500);
  supplier(&shop, "Anchor Beads", 600, 3000, 0);
  supplier(&shop, "Brightside", 500, 2500, 900);
  for (int i = 0; i < 2; i++) {
    price(&shop, i ? "Brightside" : "Anchor Beads", "ss20 black", 144, 900 + 13 * i);
    price(&shop, i ? "Brightside" : "Anchor Beads", "ss16 clear", 100, 310 - 17 * i);
    price(&shop, i ? "Brightside" : "Anchor Beads", "ss16 clear", 36, 150 - 7 * i);
  }
  status = girdle_order_plan(call, shop.tally, &shop.options, &order);
  if (!status) status = girdle_order_substitutes(call, order, 0, &shop.options, NULL, 0, &count);
  if (!status) status = girdle_order_lots(call, order, shop.tally, &shop.options, NULL, 0, &count);
  close_shop(&shop, order);
  return status;
}

static void order_plan_leaks_nothing(void **state) {
  (void)state;
  test_sweep_allocations(plan_order);
}

/* ---- against every combination */

typedef struct trial {
  const market *shop;
  uint64_t rows;
  int64_t packs[ROWS], needs[4];
  int64_t cost, left, suppliers;
  int found;
} trial;

/* The number in a stone's colour is its place in needs. */
static int place_of(const girdle_price_row *row) {
  return row->stone.colour[strlen(row->stone.colour) - 1] - 'a';
}

static int one_supplier_a_stone(const trial *brute) {
  const char *from[4] = {0};
  for (uint64_t r = 0; r < brute->rows; r++) {
    const girdle_price_row *row = &brute->shop->rows[r];
    int place = place_of(row);
    if (brute->packs[r] == 0) continue;
    if (from[place] && strcmp(from[place], row->supplier) != 0) return 0;
    from[place] = row->supplier;
  }
  return 1;
}

static void weigh(trial *brute, int stones) {
  int64_t held[4] = {0}, cost = 0, left = 0, suppliers = 0;
  if (!(brute->shop->options.flags & GIRDLE_ORDER_SPLIT) && !one_supplier_a_stone(brute)) return;
  for (uint64_t s = 0; s < brute->shop->options.supplier_count; s++) {
    const girdle_supplier *of = &brute->shop->suppliers[s];
    int64_t goods = 0, packs = 0;
    for (uint64_t r = 0; r < brute->rows; r++) {
      const girdle_price_row *row = &brute->shop->rows[r];
      if (strcmp(row->supplier, of->name) != 0) continue;
      goods += brute->packs[r] * row->price_minor;
      packs += brute->packs[r];
      held[place_of(row)] += brute->packs[r] * row->pack_pieces;
    }
    if (packs == 0) continue;
    if (goods < of->least_order_minor) return;
    suppliers++;
    cost += goods + (of->free_from_minor >= 0 && goods >= of->free_from_minor ? 0 : of->shipping_minor);
  }
  for (int i = 0; i < stones; i++) {
    if (held[i] < brute->needs[i]) return;
    left += held[i] - brute->needs[i];
  }
  if (brute->found && (cost > brute->cost || (cost == brute->cost && left > brute->left) ||
                       (cost == brute->cost && left == brute->left && suppliers >= brute->suppliers)))
    return;
  brute->found = 1;
  brute->cost = cost;
  brute->left = left;
  brute->suppliers = suppliers;
}

/* Five packs of 15 or more come to the largest threshold, 75, and cover the largest need, 15, by threes. */
static void try_packs(trial *brute, uint64_t row, int stones) {
  int64_t most;
  if (row == brute->rows) {
    weigh(brute, stones);
    return;
  }
  most = brute->shop->rows[row].at_most < 0 ? 5 : brute->shop->rows[row].at_most;
  for (int64_t n = 0; n <= most; n++) {
    brute->packs[row] = n;
    try_packs(brute, row + 1, stones);
  }
}

static void random_shop(market *shop, uint64_t *seed, int stones, int64_t *needs) {
  static const char *const colours[] = {"ss20 shade a", "ss16 shade b", "ss10 shade c"};
  static const char *const names[] = {"Anchor Beads", "Brightside", "Coral Lane"};
  const int sellers = 1 + (int)(test_random(seed) % 3);
  open_shop(shop);
  for (int s = 0; s < sellers; s++)
    supplier(shop, names[s], (int64_t)(test_random(seed) % 60),
             test_random(seed) % 3 ? (int64_t)(test_random(seed) % 75) : -1,
             test_random(seed) % 3 ? 0 : (int64_t)(test_random(seed) % 60));
  for (int i = 0; i < stones; i++) {
    needs[i] = 1 + (int64_t)(test_random(seed) % 15);
    need(shop, "A1", colours[i], needs[i]);
    for (int s = 0; s < sellers; s++)
      if (shop->options.price_count < 6 && test_random(seed) % 5)
        price(shop, names[s], colours[i], 3 + (int64_t)(test_random(seed) % 9), 15 + (int64_t)(test_random(seed) % 40))
            ->at_most = test_random(seed) % 3 ? -1 : (int64_t)(test_random(seed) % 5);
  }
}

static void order_plan_agrees_with_every_combination(void **state) {
  uint64_t seed = 77;
  int compared = 0, bound_by_thresholds = 0;
  (void)state;
  for (int round = 0; round < 1500; round++) {
    market shop;
    trial brute = {.shop = &shop};
    int stones = 1 + (int)(test_random(&seed) % 3);
    girdle_order *order;
    girdle_order_total total;
    const girdle_order_stone *of;
    int64_t left = 0;
    uint64_t count;
    random_shop(&shop, &seed, stones, brute.needs);
    brute.rows = shop.options.price_count;
    try_packs(&brute, 0, stones);
    order = plan(&shop);
    total = sum_of(order);
    of = girdle_order_stones(order, &count);
    for (uint64_t i = 0; i < count; i++)
      left += of[i].left_over;
    if (brute.found) {
      compared++;
      bound_by_thresholds += total.shipping_minor == 0;
      assert_int_equal(total.unpriced_stones, 0);
      assert_int_equal(total.total_minor, brute.cost);
      assert_int_equal(total.bound_minor, brute.cost);
      assert_int_equal(left, brute.left);
      girdle_order_suppliers(order, &count);
      assert_int_equal(count, brute.suppliers);
    }
    close_shop(&shop, order);
  }
  assert_true(compared > 700);
  assert_true(bound_by_thresholds > 100);
}

/* Split stones: never dearer than the bound says, never below it, and mostly proved. */
static void order_plan_of_split_stones_keeps_its_bound(void **state) {
  uint64_t seed = 78;
  int compared = 0, proved = 0;
  (void)state;
  for (int round = 0; round < 500; round++) {
    market shop;
    trial brute = {.shop = &shop};
    int stones = 1 + (int)(test_random(&seed) % 3);
    girdle_order *order;
    girdle_order_total total;
    random_shop(&shop, &seed, stones, brute.needs);
    shop.options.flags = GIRDLE_ORDER_SPLIT;
    brute.rows = shop.options.price_count;
    try_packs(&brute, 0, stones);
    order = plan(&shop);
    total = sum_of(order);
    if (brute.found && total.unpriced_stones == 0) {
      compared++;
      proved += total.bound_minor == total.total_minor;
      assert_int_equal(brute.cost, total.total_minor);
    }
    close_shop(&shop, order);
  }
  assert_true(compared > 200);
  assert_int_equal(proved, compared);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(order_plan_adds_spares_and_kits_and_takes_stock_first),
      cmocka_unit_test(order_plan_takes_spares_by_confidence),
      cmocka_unit_test(order_plan_flags_what_has_no_price),
      cmocka_unit_test(order_plan_of_nothing_is_nothing),
      cmocka_unit_test(order_plan_weighs_shipping),
      cmocka_unit_test(order_plan_buys_more_to_ship_free),
      cmocka_unit_test(order_plan_meets_least_orders_or_goes_without),
      cmocka_unit_test(order_plan_keeps_a_stone_with_one_supplier),
      cmocka_unit_test(order_plan_splits_a_stone_when_it_may),
      cmocka_unit_test(order_plan_takes_a_costume_house),
      cmocka_unit_test(order_shares_add_up_to_the_order),
      cmocka_unit_test(order_lots_put_the_second_where_it_shows_least),
      cmocka_unit_test(order_lots_never_mix_within_a_line),
      cmocka_unit_test(order_lots_keep_the_suppliers_of_a_split_stone_apart),
      cmocka_unit_test(order_substitutes_show_their_effect),
      cmocka_unit_test(order_plan_refuses),
      cmocka_unit_test(order_plan_prints_its_bound_at_the_limit),
      cmocka_unit_test(order_plan_leaks_nothing),
      cmocka_unit_test(order_plan_agrees_with_every_combination),
      cmocka_unit_test(order_plan_of_split_stones_keeps_its_bound),
      cmocka_unit_test(order_plan_refuses_each_number_that_cannot_be),
      cmocka_unit_test(order_substitutes_look_at_every_row),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
