/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "girdle/order.h"
#include "order_search_internal.h"

/* Stones that may come from several suppliers each: all packs of a stone at the used suppliers are covered with as if
 * one supplier sold them, which bounds what it costs when each line of the tally is one supplier's. */

enum { LABELS_A_COVER = 64 }; /* so many labels take about as long */

int32_t girdle_split_covering(girdle_search *search, const girdle_plan *plan, uint64_t stone,
                              girdle_covering *covering) {
  const girdle_market *market = search->market;
  const girdle_market_stone *of = &market->stones[stone];
  covering->search = search;
  covering->need = of->need;
  covering->count = 0;
  for (uint64_t i = of->first_offer; i < of->first_offer + of->offer_count; i++) {
    const girdle_market_offer *offer = &market->offers[i];
    if (!girdle_search_uses(plan, offer->supplier)) continue;
    if (covering->count + offer->pack_count > GIRDLE_MARKET_PACKS_MOST)
      return girdle_common_fail(search->call, GIRDLE_LIMIT, "packs", "a stone is offered in more than %d packs",
                                GIRDLE_MARKET_PACKS_MOST);
    for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++) {
      covering->weights[covering->count] =
          market->packs[k].price * (GIRDLE_SEARCH_SCALE - plan->factor[offer->supplier]);
      covering->packs[covering->count++] = k;
    }
  }
  return GIRDLE_OK;
}

/* Whether the packs hold what is needed. */
static int reaches(const girdle_covering *covering) {
  int64_t held = 0;
  for (uint64_t k = 0; k < covering->count && held < covering->need; k++) {
    const girdle_market_pack *pack = &covering->search->market->packs[covering->packs[k]];
    /* enough is enough: the sum stops growing there, so it cannot overflow */
    if (pack->most < 0 || pack->most > (covering->need - held) / pack->pieces) return 1;
    held += pack->most * pack->pieces;
  }
  return held >= covering->need;
}

/* Which supplier offers each pack of a covering is found along the stone's offers, which stand in the same order. */
static void take(girdle_covering *covering, uint64_t stone, int64_t *goods, int64_t *pieces) {
  const girdle_market *market = covering->search->market;
  uint64_t offer = market->stones[stone].first_offer;
  for (uint64_t k = 0; k < covering->count; k++) {
    const girdle_market_pack *pack = &market->packs[covering->packs[k]];
    while (covering->packs[k] >= market->offers[offer].first_pack + market->offers[offer].pack_count)
      offer++;
    covering->search->copies[covering->packs[k]] = covering->copies[k];
    goods[market->offers[offer].supplier] += covering->copies[k] * pack->price;
    *pieces += covering->copies[k] * pack->pieces;
  }
}

int32_t girdle_split_cheapest(girdle_search *search, const girdle_plan *plan, uint64_t stone, int64_t *goods,
                              int64_t *weight, int *covered) {
  girdle_covering covering;
  int64_t pieces[GIRDLE_MARKET_PACKS_MOST], most[GIRDLE_MARKET_PACKS_MOST], least, bought = 0;
  int free = 0;
  GIRDLE_TRY(girdle_split_covering(search, plan, stone, &covering));
  *covered = reaches(&covering);
  if (!*covered) return GIRDLE_OK;
  for (uint64_t k = 0; k < covering.count; k++) {
    pieces[k] = search->market->packs[covering.packs[k]].pieces;
    most[k] = search->market->packs[covering.packs[k]].most;
  }
  search->labels += LABELS_A_COVER;
  GIRDLE_TRY(girdle_packs_cheapest(search->call, covering.need, pieces, covering.weights, most, covering.count,
                                   covering.copies, &least));
  take(&covering, stone, goods, &bought);
  for (uint64_t s = 0; s < search->market->supplier_count; s++)
    free |= plan->factor[s] > 0;
  *weight = least * search->unit + (free ? covering.need : bought) * GIRDLE_SEARCH_SCALE;
  return GIRDLE_OK;
}

/* ---- lines */

int girdle_split_serves(girdle_search *search, uint64_t stone, int64_t *held) {
  const girdle_market *market = search->market;
  const girdle_market_stone *of = &market->stones[stone];
  const int fit =
      girdle_lines_fit(market->lines + of->first_line, of->line_count, held, market->supplier_count, search->places);
  if (fit != GIRDLE_FIT_OPEN) return fit == GIRDLE_FIT_ALL;
  search->stopped = 1;
  if (search->least_bound < search->open_bound) search->open_bound = search->least_bound;
  return 0;
}

int girdle_split_serves_all(girdle_search *search, const int64_t *copies) {
  const girdle_market *market = search->market;
  for (uint64_t i = 0; i < market->stone_count; i++) {
    const girdle_market_stone *of = &market->stones[i];
    int64_t held[GIRDLE_MARKET_SUPPLIERS_MOST] = {0};
    for (uint64_t o = of->first_offer; o < of->first_offer + of->offer_count; o++) {
      const girdle_market_offer *offer = &market->offers[o];
      for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++)
        held[offer->supplier] += copies[k] * market->packs[k].pieces;
    }
    if (!girdle_split_serves(search, i, held)) return 0;
  }
  return 1;
}

static const girdle_market_offer *cheapest_alone(const girdle_market *market, const girdle_market_stone *of) {
  const girdle_market_offer *best = NULL;
  for (uint64_t o = of->first_offer; o < of->first_offer + of->offer_count; o++)
    if (market->offers[o].alone && (!best || market->offers[o].cost < best->cost)) best = &market->offers[o];
  return best;
}

int32_t girdle_split_begin(girdle_search *search) {
  const girdle_market *market = search->market;
  memset(search->copies, 0, market->pack_count * sizeof *search->copies);
  for (uint64_t i = 0; i < market->stone_count; i++) {
    const girdle_market_stone *of = &market->stones[i];
    const girdle_market_offer *alone = cheapest_alone(market, of), *first = &market->offers[of->first_offer];
    const girdle_market_offer *from = alone ? alone : first, *end = alone ? alone + 1 : first + of->offer_count;
    for (; from < end; from++)
      for (uint64_t k = from->first_pack; k < from->first_pack + from->pack_count; k++)
        search->copies[k] =
            alone ? market->packs[k].copies : market->packs[k].most; /* else there is no pack to spare */
  }
  return girdle_search_offer(search, search->copies);
}
