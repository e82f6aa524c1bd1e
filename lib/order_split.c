/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "girdle/order.h"
#include "order_search_internal.h"

/* Orders whose stones may come from several suppliers each: for every set of suppliers the cheapest cover of each stone
 * by all their packs together. What no order of a set goes below is that, with the shipping that is never free there.
 */

typedef struct packs_on_offer {
  int64_t pieces[GIRDLE_MARKET_PACKS_MOST], prices[GIRDLE_MARKET_PACKS_MOST], most[GIRDLE_MARKET_PACKS_MOST];
  int64_t copies[GIRDLE_MARKET_PACKS_MOST];
  uint64_t pack[GIRDLE_MARKET_PACKS_MOST]; /* its place in the market */
  uint64_t count;
  int64_t held; /* pieces that can be had, no more than needed */
} packs_on_offer;

static void add_offer(const girdle_market *market, const girdle_market_offer *offer, int64_t need,
                      packs_on_offer *basket) {
  for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++) {
    const girdle_market_pack *pack = &market->packs[k];
    const uint64_t at = basket->count++;
    basket->pieces[at] = pack->pieces;
    basket->prices[at] = pack->price;
    basket->most[at] = pack->most;
    basket->pack[at] = k;
    if (basket->held >= need) continue;
    if (pack->most < 0 || pack->most > (need - basket->held) / pack->pieces)
      basket->held = need;
    else
      basket->held += pack->most * pack->pieces;
  }
}

/* Covers one stone from a set of suppliers into search->copies. *covered is 0 when they have too little. */
static int32_t cover_stone(girdle_search *search, uint32_t set, uint64_t stone, int64_t *cost, int *covered) {
  const girdle_market *market = search->market;
  const girdle_market_stone *of = &market->stones[stone];
  packs_on_offer basket = {.count = 0};
  int64_t part;
  for (uint64_t i = of->first_offer; i < of->first_offer + of->offer_count; i++) {
    const girdle_market_offer *offer = &market->offers[i];
    if (!(set >> offer->supplier & 1)) continue;
    if (basket.count + offer->pack_count > GIRDLE_MARKET_PACKS_MOST)
      return girdle_common_fail(search->call, GIRDLE_LIMIT, "packs", "a stone is offered in more than %d packs",
                                GIRDLE_MARKET_PACKS_MOST);
    add_offer(market, offer, of->need, &basket);
  }
  *covered = basket.held >= of->need;
  if (!*covered) return GIRDLE_OK;
  GIRDLE_TRY(girdle_packs_cheapest(search->call, of->need, basket.pieces, basket.prices, basket.most, basket.count,
                                   basket.copies, &part));
  for (uint64_t k = 0; k < basket.count; k++)
    search->copies[basket.pack[k]] = basket.copies[k];
  *cost += part; /* together below the highest cost that was checked to fit */
  return GIRDLE_OK;
}

/* The best plain order of a set; *bound (minor units) sinks to what its orders cost at least. */
static int32_t try_set(girdle_search *search, uint32_t set, int64_t *bound) {
  const girdle_market *market = search->market;
  int64_t cost = 0;
  int covered = 1;
  memset(search->copies, 0, market->pack_count * sizeof *search->copies);
  for (uint64_t i = 0; i < market->stone_count && covered; i++)
    GIRDLE_TRY(cover_stone(search, set, i, &cost, &covered));
  if (!covered) return GIRDLE_OK;
  GIRDLE_TRY(girdle_search_offer(search, search->copies));
  for (uint64_t s = 0; s < market->supplier_count; s++)
    if ((set >> s & 1) && market->suppliers[s].free_from < 0) cost += market->suppliers[s].shipping;
  if (cost < *bound) *bound = cost;
  return GIRDLE_OK;
}

int32_t girdle_search_split(girdle_search *search, int64_t *bound) {
  const uint64_t sets = (uint64_t)1 << search->market->supplier_count;
  int64_t unpaid = INT64_MAX; /* what all suppliers together come to, if the limit leaves sets untried */
  *bound = INT64_MAX;
  for (uint64_t set = 1; set < sets; set++) {
    GIRDLE_TRY(girdle_common_tick(search->call, 1, (double)set / (double)sets));
    search->labels += (int64_t)search->market->stone_count;
    if (search->labels > search->most_labels) break;
    GIRDLE_TRY(try_set(search, (uint32_t)set, bound));
    if (set == sets - 1) return GIRDLE_OK;
  }
  GIRDLE_TRY(try_set(search, (uint32_t)(sets - 1), &unpaid));
  for (uint64_t s = 0; s < search->market->supplier_count; s++)
    if (unpaid < INT64_MAX && search->market->suppliers[s].free_from < 0)
      unpaid -= search->market->suppliers[s].shipping;
  if (unpaid < *bound) *bound = unpaid;
  return GIRDLE_OK;
}
