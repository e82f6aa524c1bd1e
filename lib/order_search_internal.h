/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_ORDER_SEARCH_INTERNAL_H
#define GIRDLE_ORDER_SEARCH_INTERNAL_H

/* What the two halves of the search share: plans and their bounds (order_search.c), choices (order_assign.c). */

#include "girdle/order.h"
#include "order_internal.h"

#define GIRDLE_SEARCH_SCALE INT64_C(4096)

/* How each supplier is used: bit s of paid or of free, or of neither. */
typedef struct girdle_plan {
  uint32_t paid, free;
  int64_t bound;                                /* scaled */
  int64_t factor[GIRDLE_MARKET_SUPPLIERS_MOST]; /* 0 to SCALE: what goods towards a threshold are worth */
} girdle_plan;

/* Ways to part the lines of split stones (order_parts.c): one parting for each stone, a table for each offer. */
typedef struct girdle_parting girdle_parting;
typedef struct girdle_parts {
  girdle_parting *of;
  int64_t **tables, *pool;
  uint64_t pool_count, pool_capacity;
} girdle_parts;

typedef struct girdle_search {
  girdle_call *call;
  girdle_allocator memory;
  const girdle_market *market;
  int split;      /* 1: stones may come from several suppliers each */
  int64_t unit;   /* value = minor x unit + pieces; scaled = value x SCALE */
  int64_t needed; /* pieces of all stones together */
  int found, stopped;
  int64_t best_minor, best_pieces, best_suppliers, best_value; /* best_value is scaled */
  int64_t *best, *copies;
  uint64_t *places; /* of girdle_lines_fit: room for all lines */
  girdle_parts parts;
  girdle_plan *plans;
  uint64_t plan_count, plan_capacity;
  int64_t labels, most_labels;
  int64_t least_bound, open_bound; /* scaled: of any order, and of what was not searched */
} girdle_search;

int girdle_search_uses(const girdle_plan *plan, uint64_t supplier);
/* The goods that a used supplier must come to; 0 for none. */
int64_t girdle_search_threshold(const girdle_search *search, const girdle_plan *plan, uint64_t supplier);
/* The shipping of a plan, scaled. */
int64_t girdle_search_shipping(const girdle_search *search, const girdle_plan *plan);
/* The least that a cover by an offer adds, scaled, when goods at its supplier are worth `factor`. */
int64_t girdle_search_weight(const girdle_search *search, const girdle_market_offer *offer, int64_t factor);
/* The offer by which a stone is cheapest under a plan's factors; NULL when no used supplier offers it. */
const girdle_market_offer *girdle_search_cheapest(const girdle_search *search, const girdle_plan *plan, uint64_t stone);
/* Keeps an order when it is allowed and better than the best so far. */
int32_t girdle_search_offer(girdle_search *search, const int64_t *copies);
/* Offers a good order made from a plan's cheapest offers by small changes (order_polish.c). */
int32_t girdle_search_polish(girdle_search *search, const girdle_plan *plan);
/* Finds the best order of a plan whose thresholds bind, or gives up at the limit of labels (order_assign.c). */
int32_t girdle_search_assign(girdle_search *search, const girdle_plan *plan);

/* ---- covers of one stone (order_covers.c) */

/* Which covers to look for: of which packs, and how heavy they may be. */
typedef struct girdle_covering {
  girdle_search *search;
  uint64_t packs[GIRDLE_MARKET_PACKS_MOST]; /* their places in the market */
  int64_t weights[GIRDLE_MARKET_PACKS_MOST];
  int64_t copies[GIRDLE_MARKET_PACKS_MOST]; /* of the cover at hand */
  uint64_t count;
  int64_t need, most; /* most: the weight */
  int32_t (*keep)(struct girdle_covering *covering);
  void *context;                  /* of keep */
  int64_t per_weight, per_pieces; /* the pack that is lightest a piece */
  int64_t *table, divisor, units; /* what packs still to come weigh at least; units: the need, in common divisors */
} girdle_covering;

/* Calls keep for every cover that is not too heavy and needs each of its packs that have no limit; of those with one
 * any number is taken. Stops without an error at the limit of labels. */
int32_t girdle_covers_list(girdle_covering *covering);
/* The largest number that divides both; b when a is 0. */
int64_t girdle_covers_divisor(int64_t a, int64_t b);
/* The steps of that, for a table that serves many needs up to the one it was made for: how many cells it has, making
 * it, the covers of a need, what they weigh at least (more than anything when there is none), and letting go of it. */
uint64_t girdle_covers_measure(girdle_covering *covering);
int32_t girdle_covers_prepare(girdle_covering *covering);
int32_t girdle_covers_each(girdle_covering *covering);
int64_t girdle_covers_least(const girdle_covering *covering, int64_t pieces);
void girdle_covers_release(const girdle_covering *covering);

/* ---- stones split over suppliers (order_split.c) */

/* The cover of a stone that is cheapest under a plan's factors, by the packs of all used suppliers together: its copies
 * go into search->copies, what it adds to each supplier's goods into `goods`, the least that it adds, scaled, into
 * *weight. *covered is 0 when there are too few. */
int32_t girdle_split_cheapest(girdle_search *search, const girdle_plan *plan, uint64_t stone, int64_t *goods,
                              int64_t *weight, int *covered);
/* Whether the lines of a stone can be served whole when each supplier's packs of it hold so many pieces: GIRDLE_FIT_*.
 * What stays open keeps the search from proving its best. */
int girdle_split_serves(girdle_search *search, uint64_t stone, int64_t *held);
/* Whether the copies serve the lines of all stones. */
int girdle_split_serves_all(girdle_search *search, const int64_t *copies);
/* An order in which every line is served whole, however dear, into search->copies: so that there is one to beat. */
int32_t girdle_split_begin(girdle_search *search);
/* Fills a covering with the packs of all used suppliers, their weights those under the plan's factors (1 minor unit is
 * SCALE). */
int32_t girdle_split_covering(girdle_search *search, const girdle_plan *plan, uint64_t stone,
                              girdle_covering *covering);

/* ---- partings of the lines of split stones (order_parts.c) */

/* Lists them for all stones, as far as they can be in an order no worse than the best. */
int32_t girdle_parts_list(girdle_search *search);
void girdle_parts_free(girdle_search *search);
/* Whether the partings of a stone are listed; where there are too many they are not. */
int girdle_parts_listed(const girdle_search *search, uint64_t stone);
/* The cheapest under a plan's factors, as girdle_split_cheapest tells it; girdle_parts_copies puts the packs of those
 * found last, for all stones that are listed, into search->copies. */
void girdle_parts_cheapest(girdle_search *search, const girdle_plan *plan, uint64_t stone, int64_t *goods,
                           int64_t *weight, int *covered);
int32_t girdle_parts_copies(girdle_search *search);
/* Calls keep for every way that weighs at most `most`, scaled, its packs in search->copies. */
int32_t girdle_parts_each(girdle_search *search, const girdle_plan *plan, uint64_t stone, int64_t most,
                          int32_t (*keep)(void *context), void *context);

/* ---- buying more than is needed (order_pad.c) */

/* A cover of one stone by one offer, beside that offer's cheapest; its copies stand in the pool. */
typedef struct girdle_pad_cover {
  int64_t added, pieces; /* minor units and pieces more */
  uint64_t copies;
} girdle_pad_cover;

/* The covers by one offer that cost at most `reach` more than the cheapest. */
typedef struct girdle_pad_menu {
  uint64_t first, count;
  int64_t reach;
} girdle_pad_menu;

typedef struct girdle_pads {
  girdle_search *search;
  girdle_pad_menu *menus; /* one for each offer */
  girdle_pad_cover *covers;
  int64_t *pool, *cells;
  void *stages;
  uint64_t listed; /* the offer whose covers are being listed */
  uint64_t cover_count, cover_capacity, pool_count, pool_capacity, cell_capacity, stage_count, stage_capacity;
} girdle_pads;

int32_t girdle_pads_new(girdle_search *search, girdle_pads *pads);
void girdle_pads_free(girdle_pads *pads);
/* Adds to search->copies what brings the goods of a supplier up by at least `wanted` (1 or more) and at most `most`
 * minor units: by as little as can be, then with the fewest pieces. chosen[stone] is the offer by which each stone is
 * covered as cheaply as by that offer; NULL when stones are split, and then further packs of any of its offers will do.
 * *added receives by how much, -1 when nothing does. */
int32_t girdle_pads_add(girdle_pads *pads, uint64_t supplier, const uint64_t *chosen, int64_t wanted, int64_t most,
                        int64_t *added);

#endif
