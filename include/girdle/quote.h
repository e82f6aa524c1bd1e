/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_QUOTE_H
#define GIRDLE_QUOTE_H

/* quote: what one costume's stones come to. Line amounts add up to the total to the last minor unit. NULL as base.h
 * says. */

#include "girdle/price.h"
#include "girdle/work.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GIRDLE_BY_GROSS, GIRDLE_BY_STONE, GIRDLE_BY_HOUR };

/* Shares are whole millionths (12.5 % is 125000), so percents are exact. */
typedef struct girdle_quote_rates {
  uint32_t struct_bytes;
  int32_t labour_by; /* GIRDLE_BY_GROSS */
  girdle_currency currency;
  int64_t labour_minor;        /* a gross, a stone or an hour; default 0 */
  int64_t adhesive_minor;      /* a tube */
  int64_t consumables_minor;   /* a costume: wax, tips, barrier card */
  int64_t overhead_millionths; /* on materials and labour */
  int64_t margin_millionths;   /* of the price before tax: price = cost / (1 - margin); below 1,000,000 */
  int64_t markup_millionths;   /* on cost; a quote takes a margin or a mark-up, not both */
  int64_t tax_millionths;
  int64_t deposit_millionths;   /* of the total without the extra stones */
  int64_t rush_millionths;      /* added to the price before tax when the input says rush */
  int64_t extra_gross_minor;    /* a gross added after the deposit, all in */
  int64_t own_gross_minor;      /* a gross of the customer's own stones: checking and sorting them */
  int64_t round_to_minor;       /* the price before tax is brought up to a whole multiple of it; 0: as it comes */
  int64_t tools_minor;          /* what someone who glues for the first time buys besides: pick-up tool, tips, mat */
  int64_t self_pace_millionths; /* 3000000: a first-timer takes three times as long (common practice, no source) */
  int32_t valid_days;           /* 30: the quote holds so long */
  int32_t reserved;
} girdle_quote_rates;

typedef struct girdle_quote_line {
  char label[48], detail[64];
  int64_t amount_minor;
} girdle_quote_line;

typedef struct girdle_quote_input {
  uint32_t struct_bytes, reserved;
  int64_t stones;          /* pieces worked */
  int64_t materials_minor; /* this costume's share of the order */
  int64_t shipping_minor;  /* its share of the shipping */
  int64_t unpriced;        /* stones without a price: the quote says it is incomplete */
  const girdle_work *work;
  int64_t own_stones;      /* pieces the customer brings: worked and glued, but no material of ours */
  int64_t extra_stones;    /* pieces added after the deposit was paid, charged by extra_gross_minor alone */
  int32_t rush, reserved2; /* 1: the rush share is added */
  int64_t quoted_day;      /* days since 1970-01-01; INT64_MIN, the default: not dated */
} girdle_quote_input;

typedef struct girdle_quote {
  uint32_t struct_bytes;
  int32_t incomplete;
  girdle_currency currency;
  girdle_quote_line lines[12];
  uint64_t line_count;
  int64_t net_minor, tax_minor, total_minor, deposit_minor;
  int64_t balance_minor;   /* total less deposit */
  int64_t cost_minor;      /* materials to overhead: what it costs the maker */
  int64_t valid_until_day; /* INT64_MIN when not dated */
} girdle_quote;

/* Gluing it oneself, to be shown beside a quote: whole packs and tubes, first-time tools, and the hours. */
typedef struct girdle_quote_self {
  uint32_t struct_bytes;
  int32_t incomplete;
  int64_t materials_minor, shipping_minor, adhesive_minor, consumables_minor, tools_minor, total_minor;
  int64_t left_over; /* pieces that stay when it is done */
  double minutes;    /* at a first-timer's pace */
  int64_t evenings;
} girdle_quote_self;

typedef struct girdle_quote_self_input {
  uint32_t struct_bytes, reserved;
  int64_t materials_minor, shipping_minor; /* of an order for this costume alone */
  int64_t left_over;                       /* pieces it leaves over, spares included */
  int64_t unpriced;
  const girdle_work *work;
  double evening_s; /* work in one evening, 7200 */
} girdle_quote_self_input;

/* Fills in the defaults that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_quote_rates_init(girdle_quote_rates *rates, uint32_t struct_bytes);
/* Fills in the defaults of an input, its work wanting; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_quote_input_init(girdle_quote_input *input, uint32_t struct_bytes);
/* Reckons a quote. The lines are, where they are not 0: materials, shipping, adhesive (as much of a tube as is used),
 * consumables, labour (always), handling of the customer's own stones, overhead, margin or mark-up, rush, extra stones,
 * rounding, tax; each is rounded once, half to even. GIRDLE_ARGUMENT for negative figures, or a margin beside a
 * mark-up; GIRDLE_OVERFLOW when a sum does not fit. `out` may begin uninitialised. rates NULL: the defaults; an input
 * without its work, NULL among them, is GIRDLE_ARGUMENT. */
GIRDLE_API int32_t girdle_quote_make(girdle_call *call, const girdle_quote_input *input,
                                     const girdle_quote_rates *rates, girdle_quote *out);
/* Fills in the defaults that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_quote_self_input_init(girdle_quote_self_input *input, uint32_t struct_bytes);
/* What gluing it oneself comes to. Uses the adhesive, consumables, tools and pace of the rates, and no labour. NULL
 * as above. */
GIRDLE_API int32_t girdle_quote_self_make(girdle_call *call, const girdle_quote_self_input *input,
                                          const girdle_quote_rates *rates, girdle_quote_self *out);
/* pieces x rate a gross, rounded half to even: 2 1/2 gross at 50.00 are 125.00. */
GIRDLE_API int32_t girdle_labour_by_gross(girdle_call *call, int64_t pieces, int64_t rate_minor, int64_t *out_minor);

#ifdef __cplusplus
}
#endif
#endif
