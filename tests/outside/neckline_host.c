/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* girdle from C, with a recipe: one neckline placed by the host, its count, mass, order and quote.
 * cc -std=c11 neckline_host.c $(pkg-config --cflags --libs girdle-host) */

#include <stdio.h>
#include <string.h>

#include <girdle/girdle.h>
#include <girdle/host.h>

static const char recipe[] =
    "return recipe { format = 1, name = 'one row', takes = { { 'line', 'path' }, { 'one', 'stone' }, { 'gap', 'length' "
    "} },\n"
    "  place = function (given) return run { along = given.line, stones = { given.one }, gap = given.gap } end }";

/* The stones of the neckline, in a tally that is the caller's to free. */
static int32_t count(girdle_call *call, girdle_tally **tally) {
  const girdle_given given[] = {{"line", "loop 34 cm"}, {"one", "ss20 black"}, {"gap", "0.5 mm"}};
  girdle_host_options options;
  girdle_host *host = NULL;
  girdle_placement *stones = NULL;
  int32_t status;
  girdle_host_options_init(&options, sizeof options);
  status = girdle_host_new(call, &options, &host);
  if (!status)
    status = girdle_host_add_source(call, host, GIRDLE_LAYER_HOUSE, "one_row.lua", recipe, sizeof recipe - 1);
  if (!status) status = girdle_host_place(call, host, "one row", given, 3, &stones);
  if (!status) status = girdle_tally_new(call, tally);
  if (!status) status = girdle_tally_add(call, *tally, "one", "neckline", "", 1, stones);
  girdle_placement_free(stones);
  girdle_host_free(host);
  return status;
}

static int32_t buy(girdle_call *call, const girdle_tally *tally, girdle_order_total *cost) {
  girdle_supplier supplier = {
      .name = "Invented Stones", .currency = {"EUR", 2}, .shipping_minor = 450, .free_from_minor = -1};
  girdle_price_row price = {
      .supplier = "Invented Stones", .pack = "1 gross", .pack_pieces = 144, .price_minor = 950, .at_most = -1};
  girdle_order_options options;
  girdle_order *order = NULL;
  int32_t status = girdle_stone_parse(call, "ss20 black", &price.stone);
  girdle_order_options_init(&options, sizeof options);
  options.prices = &price, options.price_count = 1, options.suppliers = &supplier, options.supplier_count = 1;
  if (!status) status = girdle_order_plan(call, tally, &options, &order);
  if (!status) girdle_order_sum(order, cost);
  girdle_order_free(order);
  return status;
}

static int32_t charge(girdle_call *call, const girdle_tally *tally, const girdle_order_total *cost, int64_t stones,
                      girdle_quote *quote) {
  girdle_work_rates pace;
  girdle_work work;
  girdle_quote_rates rates;
  girdle_quote_input input;
  int32_t status;
  girdle_work_rates_init(&pace, sizeof pace);
  girdle_quote_rates_init(&rates, sizeof rates);
  girdle_quote_input_init(&input, sizeof input);
  rates.currency = cost->currency, rates.labour_minor = 5000;
  input.stones = stones, input.materials_minor = cost->goods_minor, input.shipping_minor = cost->shipping_minor;
  input.work = &work;
  status = girdle_work_estimate(call, tally, &pace, &work);
  return status ? status : girdle_quote_make(call, &input, &rates, quote);
}

int main(void) {
  girdle_call call;
  girdle_error error;
  girdle_tally *tally = NULL;
  girdle_tally_line all;
  girdle_order_total cost;
  girdle_quote quote;
  int32_t status;
  girdle_call_init(&call, sizeof call);
  girdle_error_init(&error, sizeof error);
  call.error = &error;
  status = count(&call, &tally);
  if (!status) girdle_tally_total(tally, &all);
  if (!status) status = buy(&call, tally, &cost);
  if (!status) status = charge(&call, tally, &cost, all.count, &quote);
  girdle_tally_free(tally);
  if (status) return fprintf(stderr, "%s\n", error.message), 1;
  printf("count %lld\nmass_mg %.0f\norder_minor %lld\nquote_minor %lld\n", (long long)all.count,
         all.mass_mg[GIRDLE_NOMINAL], (long long)cost.total_minor, (long long)quote.total_minor);
  return 0;
}
