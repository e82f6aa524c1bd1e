/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/quote.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "common.h"
#include "price_internal.h"
#include "work_internal.h"

enum { MILLION = 1000000, GROSS = 144 };

void girdle_quote_rates_init(girdle_quote_rates *rates, uint32_t struct_bytes) {
  girdle_quote_rates own = {.struct_bytes = struct_bytes,
                            .labour_by = GIRDLE_BY_GROSS,
                            .currency = {"EUR", 2},
                            .self_pace_millionths = 3 * MILLION,
                            .valid_days = 30};
  memset(rates, 0, struct_bytes);
  memcpy(rates, &own, struct_bytes < sizeof own ? struct_bytes : sizeof own);
}

void girdle_quote_input_init(girdle_quote_input *input, uint32_t struct_bytes) {
  girdle_quote_input own = {.struct_bytes = struct_bytes, .quoted_day = INT64_MIN};
  memset(input, 0, struct_bytes);
  memcpy(input, &own, struct_bytes < sizeof own ? struct_bytes : sizeof own);
}

void girdle_quote_self_input_init(girdle_quote_self_input *input, uint32_t struct_bytes) {
  girdle_quote_self_input own = {.struct_bytes = struct_bytes, .evening_s = 7200};
  memset(input, 0, struct_bytes);
  memcpy(input, &own, struct_bytes < sizeof own ? struct_bytes : sizeof own);
}

int32_t girdle_labour_by_gross(girdle_call *call, int64_t pieces, int64_t rate_minor, int64_t *out_minor) {
  return girdle_money_share(call, rate_minor, pieces, GROSS, out_minor);
}

/* ---- checking */

/* A whole number that may not be negative, and most of which lies below `most`. */
static int32_t check(girdle_call *call, const char *field, int64_t value, int64_t most) {
  if (value >= 0 && value <= most) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, field, "%s must be 0 to %lld, not %lld", field, (long long)most,
                            (long long)value);
}

static int32_t check_rates(girdle_call *call, const girdle_quote_rates *rates) {
  const int64_t most = INT64_MAX, share = 100 * (int64_t)MILLION;
  if (rates->labour_by < GIRDLE_BY_GROSS || rates->labour_by > GIRDLE_BY_HOUR)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "labour_by", "labour is by gross, stone or hour, not by %d",
                              (int)rates->labour_by);
  GIRDLE_TRY(check(call, "labour", rates->labour_minor, most));
  GIRDLE_TRY(check(call, "adhesive", rates->adhesive_minor, most));
  GIRDLE_TRY(check(call, "consumables", rates->consumables_minor, most));
  GIRDLE_TRY(check(call, "overhead", rates->overhead_millionths, share));
  GIRDLE_TRY(check(call, "margin", rates->margin_millionths, MILLION - 1));
  GIRDLE_TRY(check(call, "mark-up", rates->markup_millionths, share));
  GIRDLE_TRY(check(call, "tax", rates->tax_millionths, share));
  GIRDLE_TRY(check(call, "deposit", rates->deposit_millionths, MILLION));
  GIRDLE_TRY(check(call, "rush", rates->rush_millionths, share));
  GIRDLE_TRY(check(call, "extra gross", rates->extra_gross_minor, most));
  GIRDLE_TRY(check(call, "own stones", rates->own_gross_minor, most));
  GIRDLE_TRY(check(call, "rounding", rates->round_to_minor, most));
  GIRDLE_TRY(check(call, "tools", rates->tools_minor, most));
  GIRDLE_TRY(check(call, "own pace", rates->self_pace_millionths, share));
  GIRDLE_TRY(check(call, "valid days", rates->valid_days, 36600));
  if (rates->margin_millionths && rates->markup_millionths)
    return girdle_common_fail(
        call, GIRDLE_ARGUMENT, "margin",
        "a quote takes a margin (a share of the price) or a mark-up (a share of the cost), not both");
  return GIRDLE_OK;
}

static int32_t check_work(girdle_call *call, const girdle_work *work) {
  if (!work) return girdle_common_fail(call, GIRDLE_ARGUMENT, "work", "a quote needs the work it is for");
  GIRDLE_TRY(girdle_common_range(call, "minutes", work->minutes, 0, 1e12, "min"));
  GIRDLE_TRY(check(call, "tubes", work->tubes, INT64_MAX));
  GIRDLE_TRY(check(call, "back's share", work->back_millionths, MILLION - 1));
  return check(call, "adhesive used", work->tube_millionths, INT64_MAX);
}

static int32_t check_input(girdle_call *call, const girdle_quote_input *input) {
  const int64_t pieces = 1000000000000;
  GIRDLE_TRY(check(call, "stones", input->stones, pieces));
  GIRDLE_TRY(check(call, "materials", input->materials_minor, INT64_MAX));
  GIRDLE_TRY(check(call, "shipping", input->shipping_minor, INT64_MAX));
  GIRDLE_TRY(check(call, "unpriced", input->unpriced, INT64_MAX));
  GIRDLE_TRY(check(call, "own stones", input->own_stones, pieces));
  GIRDLE_TRY(check(call, "extra stones", input->extra_stones, pieces));
  if (input->quoted_day != INT64_MIN)
    GIRDLE_TRY(girdle_common_range(call, "quoted_day", (double)input->quoted_day, -4000000, 4000000, ""));
  return check_work(call, input->work);
}

/* ---- lines */

/* Adds a line and its amount to *sum. Lines of nothing are left out. */
static int32_t add(girdle_call *call, girdle_quote *quote, const char *label, const char *detail, int64_t amount_minor,
                   int64_t *sum) {
  girdle_quote_line *line = &quote->lines[quote->line_count];
  if (amount_minor == 0) return GIRDLE_OK;
  GIRDLE_TRY(girdle_price_add(call, label, *sum, amount_minor, sum));
  girdle_common_text(line->label, sizeof line->label, label);
  girdle_common_text(line->detail, sizeof line->detail, detail);
  line->amount_minor = amount_minor;
  quote->line_count++;
  return GIRDLE_OK;
}

/* Adds `of` x millionths / `denominator` as a line whose detail is the percentage. */
static int32_t add_share(girdle_call *call, girdle_quote *quote, const char *label, const char *what, int64_t of,
                         int64_t millionths, int64_t denominator, int64_t *sum) {
  char percent[32], detail[64];
  int64_t amount;
  GIRDLE_TRY(girdle_money_share(call, of, millionths, denominator, &amount));
  girdle_number_text((double)millionths / 1e4, 4, percent, sizeof percent);
  snprintf(detail, sizeof detail, "%s %% %s", percent, what);
  return add(call, quote, label, detail, amount, sum);
}

static int64_t whole_minutes(const girdle_work *work) {
  return (int64_t)nearbyint(work->minutes);
}

static int32_t add_labour(girdle_call *call, girdle_quote *quote, const girdle_quote_input *input,
                          const girdle_quote_rates *rates, int64_t *sum) {
  static const char *const by[] = {"a gross", "a stone", "an hour"};
  char rate[40], detail[96], worked[40];
  int64_t amount;
  long long minutes = (long long)whole_minutes(input->work);
  girdle_money_text(rates->labour_minor, &rates->currency, 1, rate, sizeof rate);
  if (rates->labour_by == GIRDLE_BY_HOUR) {
    snprintf(worked, sizeof worked, "%lld h %02lld min", minutes / 60, minutes % 60);
    GIRDLE_TRY(girdle_money_share(call, rates->labour_minor, minutes, 60, &amount));
  } else {
    snprintf(worked, sizeof worked, "%lld stones", (long long)input->stones);
    GIRDLE_TRY(girdle_money_share(call, rates->labour_minor, input->stones,
                                  rates->labour_by == GIRDLE_BY_GROSS ? GROSS : 1, &amount));
  }
  snprintf(detail, sizeof detail, "%s at %s %s", worked, rate, by[rates->labour_by]);
  return add(call, quote, "Labour", detail, amount, sum);
}

/* Materials to overhead: what the costume costs its maker. */
static int32_t add_costs(girdle_call *call, girdle_quote *quote, const girdle_quote_input *input,
                         const girdle_quote_rates *rates) {
  int64_t adhesive, own, *sum = &quote->cost_minor;
  char detail[64];
  const char *missing = input->unpriced ? "incomplete: some stones have no price" : "";
  GIRDLE_TRY(girdle_money_share(call, rates->adhesive_minor, input->work->tube_millionths, MILLION, &adhesive));
  GIRDLE_TRY(girdle_labour_by_gross(call, input->own_stones, rates->own_gross_minor, &own));
  snprintf(detail, sizeof detail, "%lld stones of the customer's own", (long long)input->own_stones);
  GIRDLE_TRY(add(call, quote, "Stones", missing, input->materials_minor, sum));
  GIRDLE_TRY(add(call, quote, "Shipping", "", input->shipping_minor, sum));
  GIRDLE_TRY(add(call, quote, "Adhesive", "", adhesive, sum));
  GIRDLE_TRY(add(call, quote, "Consumables", "", rates->consumables_minor, sum));
  GIRDLE_TRY(add_labour(call, quote, input, rates, sum));
  GIRDLE_TRY(add(call, quote, "Checking and sorting", detail, own, sum));
  return add_share(call, quote, "Overhead", "of the above", *sum, rates->overhead_millionths, MILLION, sum);
}

static int32_t add_rounding(girdle_call *call, girdle_quote *quote, int64_t to_minor, int64_t *sum) {
  int64_t over = to_minor ? *sum % to_minor : 0;
  return add(call, quote, "Rounding", "", over ? to_minor - over : 0, sum);
}

/* From cost to the price before tax. A margin is a share of the price, a mark-up a share of the cost. */
static int32_t add_price(girdle_call *call, girdle_quote *quote, const girdle_quote_input *input,
                         const girdle_quote_rates *rates) {
  int64_t extra, *sum = &quote->net_minor;
  char detail[64];
  *sum = quote->cost_minor;
  GIRDLE_TRY(add_share(call, quote, "Margin", "of the price before tax", *sum, rates->margin_millionths,
                       MILLION - rates->margin_millionths, sum));
  GIRDLE_TRY(add_share(call, quote, "Mark-up", "of the cost", *sum, rates->markup_millionths, MILLION, sum));
  if (input->rush)
    GIRDLE_TRY(add_share(call, quote, "Rush", "of the above", *sum, rates->rush_millionths, MILLION, sum));
  GIRDLE_TRY(girdle_labour_by_gross(call, input->extra_stones, rates->extra_gross_minor, &extra));
  snprintf(detail, sizeof detail, "%lld stones added after the deposit", (long long)input->extra_stones);
  GIRDLE_TRY(add(call, quote, "Extra stones", detail, extra, sum));
  return add_rounding(call, quote, rates->round_to_minor, sum);
}

static int32_t total_up(girdle_call *call, girdle_quote *quote, const girdle_quote_input *input,
                        const girdle_quote_rates *rates) {
  GIRDLE_TRY(add_costs(call, quote, input, rates));
  GIRDLE_TRY(add_price(call, quote, input, rates));
  quote->total_minor = quote->net_minor;
  GIRDLE_TRY(add_share(call, quote, "Tax", "of the price before tax", quote->net_minor, rates->tax_millionths, MILLION,
                       &quote->total_minor));
  quote->tax_minor = quote->total_minor - quote->net_minor;
  return GIRDLE_OK;
}

/* Stones that were added after the deposit change nothing of it. */
static int32_t take_deposit(girdle_call *call, girdle_quote *quote, const girdle_quote_input *input,
                            const girdle_quote_rates *rates) {
  girdle_quote before = {.struct_bytes = sizeof before};
  girdle_quote_input less = *input;
  less.extra_stones = 0;
  GIRDLE_TRY(total_up(call, &before, &less, rates));
  GIRDLE_TRY(girdle_money_share(call, before.total_minor, rates->deposit_millionths, MILLION, &quote->deposit_minor));
  quote->balance_minor = quote->total_minor - quote->deposit_minor;
  return GIRDLE_OK;
}

int32_t girdle_quote_make(girdle_call *call, const girdle_quote_input *input, const girdle_quote_rates *rates,
                          girdle_quote *out) {
  GIRDLE_GIVEN(call, input, out);
  girdle_quote quote = {.struct_bytes = sizeof quote, .valid_until_day = INT64_MIN};
  girdle_quote_rates own;
  girdle_quote_input given;
  girdle_quote_rates_init(&own, sizeof own);
  girdle_quote_input_init(&given, sizeof given);
  girdle_common_options(&own, sizeof own, rates);
  girdle_common_options(&given, sizeof given, input);
  GIRDLE_TRY(check_rates(call, &own));
  GIRDLE_TRY(check_input(call, &given));
  quote.currency = own.currency;
  quote.incomplete = given.unpriced > 0;
  GIRDLE_TRY(total_up(call, &quote, &given, &own));
  GIRDLE_TRY(take_deposit(call, &quote, &given, &own));
  if (given.quoted_day != INT64_MIN) quote.valid_until_day = given.quoted_day + own.valid_days;
  *out = quote;
  return GIRDLE_OK;
}

/* ---- gluing it oneself */

static int32_t add_up(girdle_call *call, girdle_quote_self *self) {
  const int64_t parts[] = {self->shipping_minor, self->adhesive_minor, self->consumables_minor, self->tools_minor};
  self->total_minor = self->materials_minor;
  for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
    GIRDLE_TRY(girdle_price_add(call, "total", self->total_minor, parts[i], &self->total_minor));
  return GIRDLE_OK;
}

int32_t girdle_quote_self_make(girdle_call *call, const girdle_quote_self_input *input, const girdle_quote_rates *rates,
                               girdle_quote_self *out) {
  GIRDLE_GIVEN(call, input, out);
  girdle_quote_self self = {.struct_bytes = sizeof self};
  girdle_quote_rates own;
  girdle_quote_self_input given;
  girdle_quote_rates_init(&own, sizeof own);
  girdle_quote_self_input_init(&given, sizeof given);
  girdle_common_options(&own, sizeof own, rates);
  girdle_common_options(&given, sizeof given, input);
  GIRDLE_TRY(check_rates(call, &own));
  GIRDLE_TRY(check_work(call, given.work));
  GIRDLE_TRY(check(call, "materials", given.materials_minor, INT64_MAX));
  GIRDLE_TRY(check(call, "shipping", given.shipping_minor, INT64_MAX));
  GIRDLE_TRY(check(call, "left over", given.left_over, INT64_MAX));
  GIRDLE_TRY(girdle_common_range(call, "evening", given.evening_s, 60, 86400, "s"));
  self.incomplete = given.unpriced > 0;
  self.materials_minor = given.materials_minor;
  self.shipping_minor = given.shipping_minor;
  self.consumables_minor = own.consumables_minor;
  self.tools_minor = own.tools_minor;
  self.left_over = given.left_over;
  self.minutes = given.work->minutes * ((double)own.self_pace_millionths / MILLION);
  self.evenings =
      girdle_work_evenings(60 * self.minutes, given.work->sides, given.work->back_millionths, given.evening_s);
  GIRDLE_TRY(girdle_price_times(call, "adhesive", own.adhesive_minor, given.work->tubes, &self.adhesive_minor));
  GIRDLE_TRY(add_up(call, &self));
  *out = self;
  return GIRDLE_OK;
}
