/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_PRICE_H
#define GIRDLE_PRICE_H

/* price: money, price rows, suppliers and stock. Money is a whole number of minor units and never a float. NULL
 * as base.h says. */

#include "girdle/stone.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ISO 4217 code and its exponent (how many decimals). */
typedef struct girdle_currency {
  char code[4];
  int32_t exponent;
} girdle_currency;

/* Looks up the exponent of an ISO 4217 code, three capital letters; GIRDLE_UNKNOWN names the nearest. */
GIRDLE_API int32_t girdle_currency_parse(girdle_call *call, const char *code, girdle_currency *out);

/* Reads "12.50" or "12.50 EUR" (the code must be the currency's). Too many decimals, a comma, or more than int64 holds
 * is an error. */
GIRDLE_API int32_t girdle_money_parse(girdle_call *call, const char *text, const girdle_currency *currency,
                                      int64_t *out_minor);
/* Writes "12.50" or, with_code 1, "12.50 EUR". Two-call buffer: returns the length needed without the NUL. */
GIRDLE_API uint64_t girdle_money_text(int64_t minor, const girdle_currency *currency, int32_t with_code, char *buffer,
                                      uint64_t bytes);
/* amount x numerator / denominator (denominator > 0), rounded once, half to even. GIRDLE_OVERFLOW when it does not fit.
 */
GIRDLE_API int32_t girdle_money_share(girdle_call *call, int64_t minor, int64_t numerator, int64_t denominator,
                                      int64_t *out_minor);
/* Splits an amount by weights (0 or more, not all 0) by largest remainder; the parts add up to it exactly. Ties go to
 * the earlier part. */
GIRDLE_API int32_t girdle_money_split(girdle_call *call, int64_t minor, const int64_t *weights, uint64_t count,
                                      int64_t *out_parts);

typedef struct girdle_price_row {
  char supplier[48];
  girdle_stone stone;
  char pack[32];       /* as the supplier writes it: "1 gross", "100" */
  int64_t pack_pieces; /* 1 or more */
  int64_t price_minor; /* 0 or more */
  char item[48];       /* the supplier's item code, may be empty */
  int64_t at_most;     /* packs on hand at the supplier; -1: no limit */
  int32_t sold_out, reserved;
} girdle_price_row;

typedef struct girdle_supplier {
  char name[48];
  girdle_currency currency;
  int64_t shipping_minor;
  int64_t free_from_minor;   /* goods from this value ship free; -1: never */
  int64_t least_order_minor; /* goods must come to at least this; 0: none */
  int32_t delivery_days, reserved;
} girdle_supplier;

typedef struct girdle_stock_row {
  girdle_stone stone;
  int64_t pieces;
  char lot[32];
} girdle_stock_row;

/* How many stones weigh mass_mg when `counted` (1 or more) of them, counted out and weighed, weigh counted_mg (above
 * 0): twenty are enough for a kitchen scale of 0.1 g, and one of them more or less is five per cent. Rounded down, so
 * that nobody counts on a stone that is not there. GIRDLE_ARGUMENT for what cannot be, GIRDLE_LIMIT above 1e12 pieces.
 */
GIRDLE_API int32_t girdle_stock_weighed(girdle_call *call, double mass_mg, int64_t counted, double counted_mg,
                                        int64_t *out_pieces);

#ifdef __cplusplus
}
#endif
#endif
