/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_ORDER_H
#define GIRDLE_ORDER_H

/* order: what to buy. Needs + spares - stock, covered by packs at the least cost, over suppliers with shipping.
 * NULL as base.h says. */

#include "girdle/price.h"
#include "girdle/tally.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The cheapest packs that cover a need of one stone: exact. packs_out[i] tells how many of pack i. Among equal costs
 * the one with the fewest pieces left over, then the fewest packs, then more of the earlier packs.
 * at_most[i] < 0, or at_most NULL: no limit. GIRDLE_GEOMETRY when limits leave the need uncovered, GIRDLE_LIMIT for
 * more than 64 packs. */
GIRDLE_API int32_t girdle_packs_cheapest(girdle_call *call, int64_t need, const int64_t *pack_pieces,
                                         const int64_t *price_minor, const int64_t *at_most, uint64_t packs,
                                         int64_t *packs_out, int64_t *cost_minor);

typedef struct girdle_order_options {
  uint32_t struct_bytes, flags;
  double lost_share;  /* 0.05: spares for stones lost while working (common practice, no source) */
  int64_t kit_pieces; /* 3: repair kit, pieces of each stone kept with each costume (common practice, no source) */
  const girdle_price_row *prices;
  uint64_t price_count;
  const girdle_supplier *suppliers; /* all in one currency */
  uint64_t supplier_count;
  const girdle_stock_row *stock;
  uint64_t stock_count;
  int64_t most_labels;  /* the search stops here and prints its bound; 0: the default, 5000000 */
  double confidence;    /* 0.95: as many spares as suffice 19 times in 20, each stone lost with a chance of lost_share;
                           0: lost_share of the pieces, rounded up */
  int64_t learned_jobs; /* 0: of so many jobs lost_share was learned; without any it is an assumption */
} girdle_order_options;
enum {
  GIRDLE_ORDER_SPLIT = 1, /* one stone may come from several suppliers, each line of the tally from one */
  GIRDLE_ORDER_ALIKE = 2  /* every costume pays the same share, whatever it takes */
};

typedef struct girdle_order_line {
  char supplier[48], pack[32], item[48];
  girdle_stone stone;
  int64_t pack_pieces, packs, price_minor, cost_minor;
} girdle_order_line;

/* What becomes of one stone. needed + lost + kit - from_stock <= bought, unless unpriced. from_stock may be less than
 * there is on hand, since a lot serves whole lines of the tally only. */
typedef struct girdle_order_stone {
  girdle_stone stone;
  int64_t needed, lost, kit, on_hand, from_stock, bought, left_over;
  int64_t cost_minor;
  int32_t unpriced, reserved; /* 1: no supplier offers enough; the order is incomplete */
  double chance_short;        /* of losing more while working than there will be beside the needs and the kits */
} girdle_order_stone;

typedef struct girdle_order_supplier {
  char supplier[48];
  int64_t goods_minor, shipping_minor;
  int32_t delivery_days, reserved;
} girdle_order_supplier;

typedef struct girdle_order_total {
  girdle_currency currency;
  int64_t goods_minor, shipping_minor, total_minor;
  int64_t bound_minor;     /* no order costs less; equal to total_minor when proved cheapest */
  int64_t unpriced_stones; /* 0: the order is complete */
} girdle_order_total;

/* What one costume bears of an order. The shares add up to the order's goods and shipping to the last minor unit
 * (largest remainder): a stone's cost is split by the pieces each costume needs of it, shipping by what those come to.
 */
typedef struct girdle_order_share {
  char tag[32];
  int64_t stones; /* pieces needed, without spares */
  int64_t materials_minor, shipping_minor;
  int64_t unpriced; /* pieces needed that have no price */
} girdle_order_share;

/* What an order's spares rest on, to be said beside it. */
typedef struct girdle_order_basis {
  double lost_share, confidence;
  int64_t kit_pieces, learned_jobs; /* learned_jobs 0: lost_share is an assumption */
  double most_chance_short;         /* the highest chance_short of a stone that is priced */
} girdle_order_basis;

/* In what a stone that could stand in for another differs from it; all else is equal. */
enum { GIRDLE_OTHER_SIZE = 1, GIRDLE_OTHER_COLOUR, GIRDLE_OTHER_MATERIAL };

/* What would change if another stone took the place of one of the order's. It is shown, never taken. */
typedef struct girdle_substitute {
  girdle_stone stone;
  int32_t kind, reserved;
  int64_t pieces;           /* instead of needed + lost + kit; a size changes it, see girdle_order_substitutes */
  int64_t added_pieces;     /* compared with the stone it stands in for */
  double added_mass_mg;     /* nominal, of the pieces needed on the costumes alone */
  int64_t cost_minor;       /* of the cheapest cover by one supplier, without shipping or stock */
  int64_t added_cost_minor; /* compared with a cover of as much of the stone itself; INT64_MIN when that has no price */
  char supplier[48];
} girdle_substitute;

/* How a line of the tally is worked from a lot. */
enum {
  GIRDLE_LOT_WHOLE,  /* all of it from this one */
  GIRDLE_LOT_MIXED,  /* a part of it: of a split stone, stock whose lot is not known is in it; or lots do not come out
                        even */
  GIRDLE_LOT_LONGER, /* a part of it: no lot holds as many pieces as it takes */
  GIRDLE_LOT_MISSING /* pieces that nobody has */
};
/* From which lot a line of the tally is worked. Lots of one colour can differ in shade, so a line is worked from one,
 * wherever one lot can hold it: a lot in stock is planned with only as far as it serves whole lines, and of a split
 * stone each line with its spares is one supplier's. Stock of which no lot is known is a lot as well; with
 * GIRDLE_ORDER_SPLIT it fills up any line, piece by piece. */
typedef struct girdle_lot_use {
  char tag[32], zone[64], side[16],
      lot[32]; /* lot: as in the stock; when bought empty, or the supplier when several sell it */
  girdle_stone stone;
  int64_t pieces;        /* of the line, or of the part that is worked from this lot */
  int32_t bought, mixed; /* mixed: GIRDLE_LOT_* */
} girdle_lot_use;

typedef struct girdle_order girdle_order;

/* Fills in the defaults that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_order_options_init(girdle_order_options *options, uint32_t struct_bytes);
/* Plans one order for everything in a tally; costumes (for the repair kits) are told apart by tag. GIRDLE_LIMIT when
 * one supplier offers a stone in more than 64 packs (a split one: all suppliers together). options NULL: the defaults,
 * so that nothing is on sale. */
GIRDLE_API int32_t girdle_order_plan(girdle_call *call, const girdle_tally *needs, const girdle_order_options *options,
                                     girdle_order **out);
GIRDLE_API void girdle_order_free(girdle_order *order); /* NULL is fine */
/* The packs to buy; *count may be 0. Valid as long as the order, like all that it gives. */
GIRDLE_API const girdle_order_line *girdle_order_lines(const girdle_order *order, uint64_t *count);
/* What becomes of each stone, in the order of the tally by stone. */
GIRDLE_API const girdle_order_stone *girdle_order_stones(const girdle_order *order, uint64_t *count);
/* The shares and numbers by which its spares were reckoned. */
GIRDLE_API void girdle_order_spares(const girdle_order *order, girdle_order_basis *out);
/* The suppliers that are bought from. */
GIRDLE_API const girdle_order_supplier *girdle_order_suppliers(const girdle_order *order, uint64_t *count);
/* One for each tag, in the order the tally first names them. */
GIRDLE_API const girdle_order_share *girdle_order_shares(const girdle_order *order, uint64_t *count);
/* What could stand in for stone number `at` of the order: every stone of the price book that differs from it in its
 * size alone (at most a quarter wider or narrower), its colour alone or its material alone, and can be had; cheapest
 * first. For another size the pieces follow the width, as along a line of stones side by side; over an area they would
 * follow its square. Two-call buffer: *count receives how many there are, at most `capacity` are written. Give the
 * options the order was planned with (NULL: the defaults, so that nothing can be had). GIRDLE_ARGUMENT when there is no
 * such stone, GIRDLE_LIMIT when one supplier offers a stone that could stand in, or the stone itself, in more than 64
 * packs. */
GIRDLE_API int32_t girdle_order_substitutes(girdle_call *call, const girdle_order *order, uint64_t at,
                                            const girdle_order_options *options, girdle_substitute *substitutes,
                                            uint64_t capacity, uint64_t *count);
/* From which lot each line of the tally is worked, in its order; a line that is worked from several has one use for
 * each. Lots are those in stock, and what the order buys as one more (of a split stone one for each supplier). The
 * lines that show most (front before side before back, larger before smaller) are worked from the lot that holds most
 * of the stone, so that a second one goes where it shows least. */
GIRDLE_API const girdle_lot_use *girdle_order_uses(const girdle_order *order, uint64_t *count);
/* Copies the same. Two-call buffer as above. The tally and the options are not looked at and may be NULL. */
GIRDLE_API int32_t girdle_order_lots(girdle_call *call, const girdle_order *order, const girdle_tally *needs,
                                     const girdle_order_options *options, girdle_lot_use *uses, uint64_t capacity,
                                     uint64_t *count);
/* What it comes to, and the bound that tells how near it is to the cheapest. */
GIRDLE_API void girdle_order_sum(const girdle_order *order, girdle_order_total *out);

#ifdef __cplusplus
}
#endif
#endif
