/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_ORDER_PLAN_INTERNAL_H
#define GIRDLE_ORDER_PLAN_INTERNAL_H

/* An order in the making: needs (order.c), lots (order_lots.c), the market and what is bought (order_market.c). */

#include "girdle/order.h"
#include "order_internal.h"

struct girdle_order {
  girdle_allocator memory;
  girdle_order_line *lines;
  girdle_order_stone *stones;
  girdle_order_supplier *suppliers;
  girdle_order_share *shares;
  girdle_lot_use *uses;
  uint64_t line_count, line_capacity, stone_count, supplier_count, supplier_capacity, share_count, share_capacity,
      use_count;
  girdle_order_total total;
  girdle_order_basis basis;
};

/* Pieces of one stone that one costume needs; stone and tag are places in order->stones and order->shares. */
typedef struct girdle_order_need {
  uint64_t stone, tag;
  int64_t pieces;
} girdle_order_need;

/* Pieces of one stone in one line of the tally. */
typedef struct girdle_order_row {
  uint64_t stone;
  int64_t pieces;
} girdle_order_row;

typedef struct girdle_ordering {
  girdle_call *call;
  girdle_allocator memory;
  const girdle_order_options *options;
  girdle_order *order;
  girdle_order_need *needs; /* by stone, then by tag */
  girdle_order_row *lines;  /* of the tally that no lot in stock serves whole: by stone, those that show most first */
  uint64_t need_count, need_capacity, line_count;
  uint64_t *slots, slot_count;                        /* hash table of tags: places from 1, 0 is empty */
  uint64_t supplier_at[GIRDLE_MARKET_SUPPLIERS_MOST]; /* the market's supplier in the options, by name */
  uint64_t *stone_at;                                 /* the market's stone in order->stones */
  girdle_market market;
  girdle_market_supplier suppliers[GIRDLE_MARKET_SUPPLIERS_MOST];
  uint64_t offer_capacity, pack_capacity;
  int64_t *copies;
  struct girdle_storeroom *room; /* from girdle_order_serve on */
} girdle_ordering;

/* The place of a stone in order->stones; stone_count when it is not there. */
uint64_t girdle_order_find(const girdle_order *order, const girdle_stone *stone);
/* GIRDLE_LIMIT when a supplier offers a stone in more packs than can be looked at. */
int32_t girdle_order_check_packs(girdle_call *call, uint64_t packs, const girdle_stone *stone, const char *supplier);
/* How many pieces of each stone the lots in stock serve in whole lines of the tally, and which lines they leave; opens
 * the storeroom, which what is bought is added to (order_lots.c). */
int32_t girdle_order_serve(girdle_ordering *ordering, const girdle_tally *needs, int64_t *served);
/* Fills the order's uses of lots, once everything is bought (order_lots.c). */
int32_t girdle_order_share_out(girdle_ordering *ordering);
void girdle_order_close_room(girdle_ordering *ordering);
/* Buys what the stones of the order still lack: fills lines, suppliers, total, and what was bought of each stone. */
int32_t girdle_order_buy(girdle_ordering *ordering);

#endif
