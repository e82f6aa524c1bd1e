/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_ORDER_INTERNAL_H
#define GIRDLE_ORDER_INTERNAL_H

/* What is to be bought, in bare numbers, and the search for the cheapest way to buy it. */

#include "girdle/base.h"

typedef struct girdle_market_pack {
  int64_t pieces, price, most; /* most < 0: no limit */
  int64_t copies;              /* of the cheapest cover by this offer alone */
  int64_t row;                 /* of the price book */
} girdle_market_pack;

/* One supplier's packs of one stone. `alone` is 1 when they can cover its need; others are only there to be split over.
 */
typedef struct girdle_market_offer {
  uint64_t supplier, stone, first_pack, pack_count;
  int64_t cost, pieces; /* of the cheapest cover, when alone */
  int32_t alone, reserved;
} girdle_market_offer;

typedef struct girdle_market_stone {
  int64_t need; /* 1 or more */
  uint64_t first_offer, offer_count;
  uint64_t first_line, line_count; /* each of which one supplier's packs must serve whole */
} girdle_market_stone;

/* Suppliers stand in the order of their names, which settles ties. */
typedef struct girdle_market_supplier {
  int64_t shipping, free_from, least; /* free_from < 0: never free */
} girdle_market_supplier;

enum { GIRDLE_MARKET_SUPPLIERS_MOST = 32, GIRDLE_MARKET_PACKS_MOST = 64 /* of one offer */ };

/* All arrays belong to the caller. Offers of a stone, and packs of an offer, stand together and in order; so do the
 * lines of a stone, the largest first, of which there are any only when stones are split. */
typedef struct girdle_market {
  girdle_market_stone *stones;
  girdle_market_offer *offers;
  girdle_market_pack *packs;
  girdle_market_supplier *suppliers;
  int64_t *lines;
  uint64_t stone_count, offer_count, pack_count, supplier_count, line_count;
  int64_t most_labels;
  int split; /* 1: one stone may come from several suppliers */
} girdle_market;

/* Finds the cheapest order by (minor units, pieces, suppliers, suppliers' names stone by stone), each stone from one
 * supplier unless split. copies[pack_count] receives how many of each pack; *bound_minor what no order goes below, the
 * cost itself when that is proved. GIRDLE_GEOMETRY when the least orders cannot be met. */
int32_t girdle_market_search(girdle_call *call, const girdle_market *market, int64_t *copies, int64_t *cost_minor,
                             int64_t *bound_minor);

/* ---- lines over lots (order_fit.c) */

enum { GIRDLE_FIT_NOT, GIRDLE_FIT_ALL, GIRDLE_FIT_OPEN /* not found out within a number of steps */ };
#define GIRDLE_NO_LOT UINT64_MAX

/* Whether each of the lines (pieces, the largest first) can be served whole by one lot, of which left[lots] tell what
 * each holds: GIRDLE_FIT_*. chosen[count] receives the lots when they can; left is as before at the end. */
int girdle_lines_fit(const int64_t *lines, uint64_t count, int64_t *left, uint64_t lots, uint64_t *chosen);
/* From which lot each line is served: as few as may be from none (GIRDLE_NO_LOT), and the first lines from the first
 * lots. Lines stand those that show most first, lots the preferred first. */
int32_t girdle_lines_assign(girdle_call *call, const int64_t *lines, uint64_t count, const int64_t *lots,
                            uint64_t lot_count, uint64_t *chosen);

#endif
