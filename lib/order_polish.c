/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "order_search_internal.h"

/* Makes a good order from a plan's cheapest offers, so that the search has something to beat: one or two changes at a
 * time, as long as they help. A change takes a stone to another offer, or buys one more pack of what is bought. Least
 * orders that are not met cost far more than anything else, so they are met first. */

enum { CHANGES_MOST = 4096, ROUNDS_MOST = 64 };

/* What a change does to the supplier it leaves and the one it comes to (the same for a further pack). */
typedef struct swap {
  uint64_t stone, offer;
  int64_t pack; /* one more of it; -1: another offer */
  uint64_t from, to;
  int64_t less, more, pieces;
  int64_t stones; /* that leave `from` for `to`: 1 or 0 */
} swap;

typedef struct goods {
  int64_t goods, stones;
} goods;

typedef struct polisher {
  girdle_search *search;
  uint64_t *chosen;               /* the offer of each stone */
  int64_t *bought, *stone_pieces; /* each stone's goods and pieces */
  goods shelves[GIRDLE_MARKET_SUPPLIERS_MOST];
  swap *changes;
  uint64_t count;
} polisher;

/* ---- costs */

static int64_t shelf_cost(const polisher *polish, uint64_t supplier, const goods *shelf) {
  const girdle_market_supplier *of = &polish->search->market->suppliers[supplier];
  int64_t cost = shelf->goods;
  if (shelf->stones == 0) return 0;
  if (of->free_from < 0 || cost < of->free_from) cost += of->shipping;
  /* each minor unit that a least order lacks counts eight times, so that coming nearer helps already */
  if (shelf->goods < of->least) cost += 8 * (of->least - shelf->goods) + of->least;
  return cost * polish->search->unit;
}

static void apply(goods *shelves, const swap *change) {
  shelves[change->from].goods -= change->less;
  shelves[change->from].stones -= change->stones;
  shelves[change->to].goods += change->more;
  shelves[change->to].stones += change->stones;
}

/* By how much one change, or two (`two` may be NULL), make the order dearer. */
static int64_t difference(const polisher *polish, const swap *one, const swap *two) {
  const uint64_t touched[] = {one->from, one->to, two ? two->from : one->from, two ? two->to : one->to};
  int64_t sum = one->pieces + (two ? two->pieces : 0);
  for (int i = 0; i < 4; i++) {
    goods after = polish->shelves[touched[i]];
    int seen = 0;
    for (int k = 0; k < i; k++)
      seen |= touched[k] == touched[i];
    if (seen) continue;
    for (int k = 0; k < 2; k++) {
      const swap *by = k ? two : one;
      if (!by) continue;
      if (by->from == touched[i]) after.goods -= by->less, after.stones -= by->stones;
      if (by->to == touched[i]) after.goods += by->more, after.stones += by->stones;
    }
    sum += shelf_cost(polish, touched[i], &after) - shelf_cost(polish, touched[i], &polish->shelves[touched[i]]);
  }
  return sum;
}

/* ---- changes */

static void list_moves(polisher *polish, uint64_t stone) {
  const girdle_market *market = polish->search->market;
  const girdle_market_stone *of = &market->stones[stone];
  const girdle_market_offer *now = &market->offers[polish->chosen[stone]];
  for (uint64_t i = of->first_offer; i < of->first_offer + of->offer_count && polish->count < CHANGES_MOST; i++) {
    const girdle_market_offer *offer = &market->offers[i];
    if (!offer->alone) continue;
    if (i == polish->chosen[stone] && offer->cost == polish->bought[stone]) continue;
    polish->changes[polish->count++] = (swap){stone,
                                              i,
                                              -1,
                                              now->supplier,
                                              offer->supplier,
                                              polish->bought[stone],
                                              offer->cost,
                                              offer->pieces - polish->stone_pieces[stone],
                                              1};
  }
  for (uint64_t k = now->first_pack; k < now->first_pack + now->pack_count && polish->count < CHANGES_MOST; k++) {
    const girdle_market_pack *pack = &market->packs[k];
    if (pack->most >= 0 || pack->price == 0) continue;
    polish->changes[polish->count++] =
        (swap){stone, polish->chosen[stone], (int64_t)k, now->supplier, now->supplier, 0, pack->price, pack->pieces, 0};
  }
}

/* The change, or the two, that help most; 0 when none does. */
static int find_best(const polisher *polish, const swap **one, const swap **two) {
  int64_t best = 0;
  for (uint64_t a = 0; a < polish->count; a++) {
    const swap *first = &polish->changes[a];
    int64_t alone = difference(polish, first, NULL);
    if (alone < best) best = alone, *one = first, *two = NULL;
    for (uint64_t b = a + 1; b < polish->count; b++) {
      const swap *second = &polish->changes[b];
      int64_t both;
      if (second->stone == first->stone && (first->pack < 0 || second->pack < 0)) continue;
      both = difference(polish, first, second);
      if (both < best) best = both, *one = first, *two = second;
    }
  }
  return best < 0;
}

static void make(polisher *polish, const swap *change) {
  girdle_search *search = polish->search;
  const girdle_market *market = search->market;
  const girdle_market_offer *before = &market->offers[polish->chosen[change->stone]];
  const girdle_market_offer *offer = &market->offers[change->offer];
  apply(polish->shelves, change);
  polish->bought[change->stone] += change->more - change->less;
  polish->stone_pieces[change->stone] += change->pieces;
  polish->chosen[change->stone] = change->offer;
  if (change->pack >= 0) {
    search->copies[change->pack]++;
    return;
  }
  memset(search->copies + before->first_pack, 0, before->pack_count * sizeof *search->copies);
  for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++)
    search->copies[k] = market->packs[k].copies;
}

/* ---- polishing */

static void begin(polisher *polish, const girdle_plan *plan) {
  const girdle_market *market = polish->search->market;
  memset(polish->search->copies, 0, market->pack_count * sizeof *polish->search->copies);
  for (uint64_t i = 0; i < market->stone_count; i++) {
    const girdle_market_offer *offer = girdle_search_cheapest(polish->search, plan, i);
    polish->chosen[i] = (uint64_t)(offer - market->offers);
    polish->bought[i] = offer->cost;
    polish->stone_pieces[i] = offer->pieces;
    polish->shelves[offer->supplier].goods += offer->cost;
    polish->shelves[offer->supplier].stones++;
    for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++)
      polish->search->copies[k] = market->packs[k].copies;
  }
}

static int32_t run(polisher *polish) {
  const swap *one = NULL, *two = NULL;
  for (int round = 0; round < ROUNDS_MOST; round++) {
    polish->count = 0;
    for (uint64_t i = 0; i < polish->search->market->stone_count; i++)
      list_moves(polish, i);
    GIRDLE_TRY(girdle_common_tick(polish->search->call, polish->count + 1, -1));
    if (!find_best(polish, &one, &two)) break;
    make(polish, one);
    if (two) make(polish, two);
  }
  return girdle_search_offer(polish->search, polish->search->copies);
}

int32_t girdle_search_polish(girdle_search *search, const girdle_plan *plan) {
  polisher polish = {.search = search};
  const uint64_t bytes = search->market->stone_count * sizeof(int64_t);
  int32_t status = GIRDLE_MEMORY;
  polish.chosen = girdle_common_new(search->call, bytes);
  polish.bought = girdle_common_new(search->call, bytes);
  polish.stone_pieces = girdle_common_new(search->call, bytes);
  polish.changes = girdle_common_new(search->call, CHANGES_MOST * sizeof(swap));
  if (polish.chosen && polish.bought && polish.stone_pieces && polish.changes) {
    begin(&polish, plan);
    status = run(&polish);
  }
  girdle_common_release(&search->memory, polish.chosen, bytes);
  girdle_common_release(&search->memory, polish.bought, bytes);
  girdle_common_release(&search->memory, polish.stone_pieces, bytes);
  girdle_common_release(&search->memory, polish.changes, CHANGES_MOST * sizeof(swap));
  return status;
}
