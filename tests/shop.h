/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TESTS_SHOP_H
#define GIRDLE_TESTS_SHOP_H

/* A small market to order in, put together row by row, so that a test says only what it is about. */

#include "support.h"

enum { SHOP_ROWS = 80, SHOP_SUPPLIERS = 33, SHOP_STOCK = 8 };

typedef struct shop {
  girdle_tally *tally;
  girdle_price_row rows[SHOP_ROWS];
  girdle_supplier suppliers[SHOP_SUPPLIERS];
  girdle_stock_row stock[SHOP_STOCK];
  girdle_order_options options;
  girdle_order *order; /* of shop_plan */
} shop;

static inline girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

/* Without spares, so that what is ordered is what the test says. */
static inline void shop_open(shop *of) {
  memset(of, 0, sizeof *of);
  assert_int_equal(girdle_tally_new(NULL, &of->tally), GIRDLE_OK);
  girdle_order_options_init(&of->options, sizeof of->options);
  of->options.lost_share = 0;
  of->options.kit_pieces = 0;
  of->options.confidence = 0;
  of->options.prices = of->rows;
  of->options.suppliers = of->suppliers;
  of->options.stock = of->stock;
}

static inline void shop_close(shop *of) {
  girdle_order_free(of->order);
  girdle_tally_free(of->tally);
}

/* Pieces for one line of the tally. */
static inline void shop_line(shop *of, const char *tag, const char *zone, const char *side, const char *text,
                             int64_t pieces) {
  girdle_stone stone = stone_of(text);
  assert_int_equal(girdle_tally_add_pieces(NULL, of->tally, tag, zone, side, &stone, pieces), GIRDLE_OK);
}

static inline void shop_need(shop *of, const char *tag, const char *text, int64_t pieces) {
  shop_line(of, tag, "front", "", text, pieces);
}

static inline girdle_supplier *shop_supplier(shop *of, const char *name, int64_t shipping, int64_t free_from,
                                             int64_t least) {
  girdle_supplier *made = &of->suppliers[of->options.supplier_count++];
  snprintf(made->name, sizeof made->name, "%s", name);
  assert_int_equal(girdle_currency_parse(NULL, "EUR", &made->currency), GIRDLE_OK);
  made->shipping_minor = shipping;
  made->free_from_minor = free_from;
  made->least_order_minor = least;
  made->delivery_days = 4;
  return made;
}

static inline girdle_price_row *shop_price(shop *of, const char *from, const char *text, int64_t pieces,
                                           int64_t minor) {
  girdle_price_row *row = &of->rows[of->options.price_count++];
  snprintf(row->supplier, sizeof row->supplier, "%s", from);
  snprintf(row->pack, sizeof row->pack, "%d", (int)pieces);
  row->stone = stone_of(text);
  row->pack_pieces = pieces;
  row->price_minor = minor;
  row->at_most = -1;
  return row;
}

static inline void shop_stock(shop *of, const char *text, int64_t pieces, const char *lot) {
  girdle_stock_row *row = &of->stock[of->options.stock_count++];
  row->stone = stone_of(text);
  row->pieces = pieces;
  snprintf(row->lot, sizeof row->lot, "%s", lot);
}

/* Plans what the shop holds by now, in place of an earlier plan. */
static inline const girdle_order *shop_plan(shop *of) {
  test_call test;
  girdle_order_free(of->order);
  of->order = NULL;
  test_begin(&test);
  test.call.memory.resize = NULL;
  assert_ok(&test, girdle_order_plan(&test.call, of->tally, &of->options, &of->order));
  return of->order;
}

static inline girdle_order_total sum_of(const girdle_order *order) {
  girdle_order_total total;
  girdle_order_sum(order, &total);
  return total;
}

/* A shop for a test of cmocka, opened before it and closed behind it: *state is the shop. */
static inline int shop_setup(void **state) {
  *state = calloc(1, sizeof(shop));
  if (!*state) return 1;
  shop_open(*state);
  return 0;
}

static inline int shop_teardown(void **state) {
  shop_close(*state);
  free(*state);
  return 0;
}

#endif
