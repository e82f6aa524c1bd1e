/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_QUOTE_H
#define GIRDLE_QUOTE_H

/* quote: what one costume's stones come to. Line amounts add up to the total to the last minor unit. */

#include "girdle/price.h"
#include "girdle/work.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GIRDLE_BY_GROSS, GIRDLE_BY_STONE, GIRDLE_BY_HOUR };

/* Shares are whole millionths (12.5 % is 125000), so percents are exact. */
typedef struct girdle_quote_rates {
  uint32_t struct_bytes;
  int32_t labour_by;        /* GIRDLE_BY_GROSS */
  girdle_currency currency;
  int64_t labour_minor;     /* a gross, a stone or an hour; default 0 */
  int64_t adhesive_minor;   /* a tube */
  int64_t consumables_minor; /* a costume: wax, tips, barrier card */
  int64_t overhead_millionths;  /* on materials and labour */
  int64_t margin_millionths;    /* of the price before tax: price = cost / (1 - margin); below 1,000,000 */
  int64_t markup_millionths;    /* on cost; a quote takes a margin or a mark-up, not both */
  int64_t tax_millionths;
  int64_t deposit_millionths;   /* of the total */
} girdle_quote_rates;

typedef struct girdle_quote_line {
  char label[48], detail[64];
  int64_t amount_minor;
} girdle_quote_line;

typedef struct girdle_quote_input {
  uint32_t struct_bytes, reserved;
  int64_t stones;            /* pieces worked */
  int64_t materials_minor;   /* this costume's share of the order */
  int64_t shipping_minor;    /* its share of the shipping */
  int64_t unpriced;          /* stones without a price: the quote says it is incomplete */
  const girdle_work *work;
} girdle_quote_input;

typedef struct girdle_quote {
  uint32_t struct_bytes;
  int32_t incomplete;
  girdle_currency currency;
  girdle_quote_line lines[12];
  uint64_t line_count;
  int64_t net_minor, tax_minor, total_minor, deposit_minor;
} girdle_quote;

GIRDLE_API void girdle_quote_rates_init(girdle_quote_rates *rates, uint32_t struct_bytes);
GIRDLE_API void girdle_quote_input_init(girdle_quote_input *input, uint32_t struct_bytes);
GIRDLE_API int32_t girdle_quote_make(girdle_call *call, const girdle_quote_input *input,
                                     const girdle_quote_rates *rates, girdle_quote *out);
/* pieces x rate a gross, rounded half to even: 2 1/2 gross at 50.00 are 125.00. */
GIRDLE_API int32_t girdle_labour_by_gross(girdle_call *call, int64_t pieces, int64_t rate_minor, int64_t *out_minor);

#ifdef __cplusplus
}
#endif
#endif
