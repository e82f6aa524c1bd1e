/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "order_internal.h"

#include <string.h>

#include "common.h"
#include "order_search_internal.h"
#include "price_internal.h"
#include "sort_internal.h"

/* A supplier is left out, used with its shipping paid, or used above the value from which shipping is free. Each way of
 * choosing that for all suppliers ("plan") leaves a problem without shipping in it: every stone goes to one of the used
 * suppliers, and the goods at some of them must reach a threshold (free shipping, or the least order).
 *
 * 1. Every plan is priced with each stone where it is cheapest. If that meets the thresholds it is the best of the
 * plan.
 * 2. Otherwise a plan gets a lower bound: goods at supplier s are made cheaper by a factor, and what the threshold is
 *    worth at that factor is added (Lagrangian relaxation; any factor in 0..SCALE gives a valid bound).
 * 3. Plans are searched in the order of their bounds until the bound passes the best order found (order_assign.c).
 *
 * Costs are ordered as (minor units, pieces), kept in one number: minor units x unit + pieces, times SCALE. */

static const int64_t LABELS_DEFAULT = 5000000;
enum { CLIMB_ROUNDS = 60 };

/* ---- orders as wholes */

typedef struct outcome {
  int64_t minor, pieces, suppliers;
} outcome;

static int32_t shipping_of(girdle_call *call, const girdle_market_supplier *supplier, int64_t goods, outcome *sum,
                           int *allowed) {
  int free = supplier->free_from >= 0 && goods >= supplier->free_from;
  sum->suppliers++;
  *allowed &= goods >= supplier->least;
  GIRDLE_TRY(girdle_price_add(call, "goods", sum->minor, goods, &sum->minor));
  return girdle_price_add(call, "shipping", sum->minor, free ? 0 : supplier->shipping, &sum->minor);
}

/* What an order comes to, and whether every least order is met. */
static int32_t add_up(girdle_call *call, const girdle_market *market, const int64_t *copies, outcome *sum,
                      int *allowed) {
  int64_t goods[GIRDLE_MARKET_SUPPLIERS_MOST] = {0}, part;
  int used[GIRDLE_MARKET_SUPPLIERS_MOST] = {0};
  memset(sum, 0, sizeof *sum);
  *allowed = 1;
  for (uint64_t i = 0; i < market->offer_count; i++) {
    const girdle_market_offer *offer = &market->offers[i];
    for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++) {
      if (copies[k] == 0) continue;
      used[offer->supplier] = 1;
      GIRDLE_TRY(girdle_price_times(call, "price", copies[k], market->packs[k].price, &part));
      GIRDLE_TRY(girdle_price_add(call, "goods", goods[offer->supplier], part, &goods[offer->supplier]));
      sum->pieces += copies[k] * market->packs[k].pieces;
    }
  }
  for (uint64_t s = 0; s < market->supplier_count; s++)
    if (used[s]) GIRDLE_TRY(shipping_of(call, &market->suppliers[s], goods[s], sum, allowed));
  return GIRDLE_OK;
}

/* Of orders that cost the same: offers stand by stone and then by supplier's name, so the first that differs decides.
 */
static int comes_first(const girdle_market *market, const int64_t *a, const int64_t *b) {
  for (uint64_t k = 0; k < market->pack_count; k++)
    if (a[k] != b[k]) return a[k] > b[k];
  return 0;
}

static int better(const girdle_search *search, const outcome *one, const int64_t *copies) {
  const outcome two = {search->best_minor, search->best_pieces, search->best_suppliers};
  if (!search->found) return 1;
  if (one->minor != two.minor) return one->minor < two.minor;
  if (one->pieces != two.pieces) return one->pieces < two.pieces;
  if (one->suppliers != two.suppliers) return one->suppliers < two.suppliers;
  return comes_first(search->market, copies, search->best);
}

int32_t girdle_search_offer(girdle_search *search, const int64_t *copies) {
  outcome sum;
  int allowed;
  GIRDLE_TRY(add_up(search->call, search->market, copies, &sum, &allowed));
  if (!allowed || !better(search, &sum, copies)) return GIRDLE_OK;
  if (search->split && !girdle_split_serves_all(search, copies)) return GIRDLE_OK;
  search->found = 1;
  search->best_minor = sum.minor;
  search->best_pieces = sum.pieces;
  search->best_suppliers = sum.suppliers;
  memcpy(search->best, copies, search->market->pack_count * sizeof *copies);
  search->best_value = (sum.minor * search->unit + sum.pieces) * GIRDLE_SEARCH_SCALE;
  return GIRDLE_OK;
}

/* ---- a plan */

int girdle_search_uses(const girdle_plan *plan, uint64_t supplier) {
  return (int)((plan->paid | plan->free) >> supplier & 1);
}

int64_t girdle_search_threshold(const girdle_search *search, const girdle_plan *plan, uint64_t supplier) {
  const girdle_market_supplier *of = &search->market->suppliers[supplier];
  int64_t least = plan->free >> supplier & 1 ? of->free_from : 0;
  return of->least > least ? of->least : least;
}

int64_t girdle_search_shipping(const girdle_search *search, const girdle_plan *plan) {
  int64_t sum = 0;
  for (uint64_t s = 0; s < search->market->supplier_count; s++)
    if (plan->paid >> s & 1) sum += search->market->suppliers[s].shipping;
  return sum * search->unit * GIRDLE_SEARCH_SCALE;
}

/* With a factor above 0 the fewest pieces that could do stand for the pieces, so that this stays a lower bound. */
int64_t girdle_search_weight(const girdle_search *search, const girdle_market_offer *offer, int64_t factor) {
  int64_t pieces = factor ? search->market->stones[offer->stone].need : offer->pieces;
  return offer->cost * search->unit * (GIRDLE_SEARCH_SCALE - factor) + pieces * GIRDLE_SEARCH_SCALE;
}

const girdle_market_offer *girdle_search_cheapest(const girdle_search *search, const girdle_plan *plan,
                                                  uint64_t stone) {
  const girdle_market_stone *of = &search->market->stones[stone];
  const girdle_market_offer *best = NULL;
  int64_t least = INT64_MAX;
  for (uint64_t i = of->first_offer; i < of->first_offer + of->offer_count; i++) {
    const girdle_market_offer *offer = &search->market->offers[i];
    int64_t weight;
    if (!offer->alone || !girdle_search_uses(plan, offer->supplier)) continue;
    weight = girdle_search_weight(search, offer, plan->factor[offer->supplier]);
    if (weight >= least) continue;
    least = weight;
    best = offer;
  }
  return best;
}

/* Adds the cheapest cover of a stone to the goods and to the bound. */
static int32_t relax_stone(girdle_search *search, const girdle_plan *plan, uint64_t stone, int64_t *goods,
                           int64_t *bound, int *covered) {
  const girdle_market_offer *offer;
  int64_t weight = 0;
  if (search->split) {
    if (girdle_parts_listed(search, stone))
      girdle_parts_cheapest(search, plan, stone, goods, &weight, covered);
    else
      GIRDLE_TRY(girdle_split_cheapest(search, plan, stone, goods, &weight, covered));
    if (!*covered) return GIRDLE_OK;
    *bound += weight;
    return GIRDLE_OK;
  }
  offer = girdle_search_cheapest(search, plan, stone);
  *covered = offer != NULL;
  if (!offer) return GIRDLE_OK;
  goods[offer->supplier] += offer->cost;
  *bound += girdle_search_weight(search, offer, plan->factor[offer->supplier]);
  return GIRDLE_OK;
}

/* The goods each supplier gets, and the bound that follows. *covered is 0 when a stone has no supplier. */
static int32_t relax(girdle_search *search, const girdle_plan *plan, int64_t *goods, int64_t *bound, int *covered) {
  const girdle_market *market = search->market;
  memset(goods, 0, market->supplier_count * sizeof *goods);
  if (search->split) memset(search->copies, 0, market->pack_count * sizeof *search->copies);
  *bound = girdle_search_shipping(search, plan);
  *covered = 1;
  for (uint64_t i = 0; i < market->stone_count && *covered; i++)
    GIRDLE_TRY(relax_stone(search, plan, i, goods, bound, covered));
  for (uint64_t s = 0; s < market->supplier_count; s++)
    if (girdle_search_uses(plan, s))
      *bound += plan->factor[s] * search->unit * girdle_search_threshold(search, plan, s);
  return GIRDLE_OK;
}

/* Goods at a supplier only grow with its factor, and the bound grows until they reach the threshold. */
static int32_t raise_factor(girdle_search *search, girdle_plan *plan, uint64_t supplier) {
  int64_t goods[GIRDLE_MARKET_SUPPLIERS_MOST], low = 0, high = GIRDLE_SEARCH_SCALE, bound, below;
  const int64_t wanted = girdle_search_threshold(search, plan, supplier);
  int covered;
  while (low < high) {
    plan->factor[supplier] = (low + high) / 2;
    GIRDLE_TRY(relax(search, plan, goods, &bound, &covered));
    if (goods[supplier] >= wanted)
      high = plan->factor[supplier];
    else
      low = plan->factor[supplier] + 1;
  }
  plan->factor[supplier] = low;
  GIRDLE_TRY(relax(search, plan, goods, &bound, &covered));
  if (low == 0) return GIRDLE_OK;
  plan->factor[supplier] = low - 1;
  GIRDLE_TRY(relax(search, plan, goods, &below, &covered));
  if (below < bound) plan->factor[supplier] = low;
  return GIRDLE_OK;
}

/* Raises the bound, one supplier's factor after the other, a few times round. */
static int32_t raise_bound(girdle_search *search, girdle_plan *plan) {
  int64_t goods[GIRDLE_MARKET_SUPPLIERS_MOST], before = plan->bound, bound;
  int covered;
  for (int round = 0; round < 4; round++) {
    for (uint64_t s = 0; s < search->market->supplier_count; s++)
      if (girdle_search_uses(plan, s) && girdle_search_threshold(search, plan, s) > 0)
        GIRDLE_TRY(raise_factor(search, plan, s));
    GIRDLE_TRY(relax(search, plan, goods, &bound, &covered));
    plan->bound = bound > plan->bound ? bound : plan->bound;
    if (plan->bound == before) return GIRDLE_OK;
    before = plan->bound;
  }
  return GIRDLE_OK;
}

/* Moves the factors along what each threshold lacks (the subgradient), by a part of the step that would close the gap
 * if all went well. 0 when there is nowhere to go. */
static int step_up(const girdle_search *search, const girdle_plan *plan, const int64_t *goods, double stride,
                   girdle_plan *at) {
  const double gap = (double)(search->best_value - plan->bound) / (double)search->unit;
  double lacks[GIRDLE_MARKET_SUPPLIERS_MOST] = {0}, squares = 0;
  for (uint64_t s = 0; s < search->market->supplier_count; s++) {
    const int64_t threshold = girdle_search_uses(plan, s) ? girdle_search_threshold(search, plan, s) : 0;
    if (threshold) lacks[s] = (double)(threshold - goods[s]);
    squares += lacks[s] * lacks[s];
  }
  if (squares <= 0 || gap <= 0) return 0;
  for (uint64_t s = 0; s < search->market->supplier_count; s++) {
    const double factor = (double)at->factor[s] + stride * gap * lacks[s] / squares;
    at->factor[s] = factor < 0 ? 0 : factor < (double)GIRDLE_SEARCH_SCALE ? (int64_t)factor : GIRDLE_SEARCH_SCALE;
  }
  return 1;
}

/* Raises the bound further: where several thresholds hold each other back, one factor after the other does not come to
 * the best ones. */
static int32_t climb(girdle_search *search, girdle_plan *plan) {
  int64_t goods[GIRDLE_MARKET_SUPPLIERS_MOST];
  girdle_plan at = *plan;
  double stride = 1;
  int covered;
  for (int round = 0; round < CLIMB_ROUNDS && plan->bound <= search->best_value; round++) {
    GIRDLE_TRY(relax(search, &at, goods, &at.bound, &covered));
    if (search->split) {
      GIRDLE_TRY(girdle_parts_copies(search));
      GIRDLE_TRY(girdle_search_offer(search, search->copies));
    }
    if (at.bound > plan->bound)
      *plan = at;
    else
      stride *= 0.9;
    if (!step_up(search, plan, goods, stride, &at)) break;
  }
  return GIRDLE_OK;
}

/* ---- all plans */

static void copy_cover(const girdle_market *market, const girdle_market_offer *offer, int64_t *copies) {
  for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++)
    copies[k] = market->packs[k].copies;
}

static int meets_thresholds(const girdle_search *search, const girdle_plan *plan, const int64_t *goods) {
  for (uint64_t s = 0; s < search->market->supplier_count; s++)
    if (girdle_search_uses(plan, s) && goods[s] < girdle_search_threshold(search, plan, s)) return 0;
  return 1;
}

/* Prices a plan with each stone where it is cheapest, and keeps the plan when only a search can tell more. */
static int32_t price_plan(girdle_search *search, girdle_plan *plan) {
  const girdle_market *market = search->market;
  int64_t goods[GIRDLE_MARKET_SUPPLIERS_MOST];
  int covered;
  memset(search->copies, 0, market->pack_count * sizeof *search->copies);
  GIRDLE_TRY(relax(search, plan, goods, &plan->bound, &covered));
  if (!covered) return GIRDLE_OK;
  for (uint64_t i = 0; i < market->stone_count && !search->split; i++)
    copy_cover(market, girdle_search_cheapest(search, plan, i), search->copies);
  if (search->split) GIRDLE_TRY(girdle_parts_copies(search));
  GIRDLE_TRY(girdle_search_offer(search, search->copies));
  if (meets_thresholds(search, plan, goods) && (!search->split || girdle_split_serves_all(search, search->copies)))
    return GIRDLE_OK;
  if (!search->split) GIRDLE_TRY(raise_bound(search, plan));
  if (search->found && plan->bound > search->best_value) return GIRDLE_OK;
  GIRDLE_TRY(girdle_common_grow(search->call, &search->memory, (void **)&search->plans, &search->plan_capacity,
                                search->plan_count + 1, sizeof *search->plans));
  search->plans[search->plan_count++] = *plan;
  return GIRDLE_OK;
}

/* Whether no order is good enough even if suppliers from `next` on may still be used, for nothing. */
static int32_t look_ahead(girdle_search *search, const girdle_plan *plan, uint64_t next, int *hopeless) {
  int64_t goods[GIRDLE_MARKET_SUPPLIERS_MOST], bound;
  girdle_plan open = *plan;
  int covered;
  open.free |= (uint32_t)(((uint64_t)1 << search->market->supplier_count) - ((uint64_t)1 << next));
  GIRDLE_TRY(relax(search, &open, goods, &bound, &covered));
  *hopeless = !covered || (search->found && bound > search->best_value);
  return GIRDLE_OK;
}

static int32_t give_up(girdle_search *search, int64_t bound) {
  search->stopped = 1;
  if (bound < search->open_bound) search->open_bound = bound;
  return GIRDLE_OK;
}

/* Goes through every way to use the suppliers from `next` on. */
static int32_t choose_plans(girdle_search *search, const girdle_plan *plan, uint64_t next) {
  const girdle_market_supplier *supplier = &search->market->suppliers[next];
  girdle_plan with = *plan;
  int hopeless;
  GIRDLE_TRY(girdle_common_tick(search->call, 1, -1));
  GIRDLE_TRY(look_ahead(search, plan, next, &hopeless));
  if (hopeless) return GIRDLE_OK;
  if (++search->labels > search->most_labels) return give_up(search, search->least_bound);
  if (next == search->market->supplier_count) return price_plan(search, &with);
  GIRDLE_TRY(choose_plans(search, plan, next + 1));
  with.paid |= (uint32_t)1 << next;
  GIRDLE_TRY(choose_plans(search, &with, next + 1));
  if (supplier->shipping == 0 || supplier->free_from < 0) return GIRDLE_OK;
  with.paid = plan->paid;
  with.free |= (uint32_t)1 << next;
  return choose_plans(search, &with, next + 1);
}

static int compare_plans(const void *a, const void *b) {
  const girdle_plan *one = a, *two = b;
  if (one->bound != two->bound) return one->bound < two->bound ? -1 : 1;
  if (one->paid != two->paid) return one->paid < two->paid ? -1 : 1;
  return one->free < two->free ? -1 : 1;
}

/* Small changes from one beginning can end in a poor order; while the best stays far above the plan's bound, others are
 * tried, in which goods towards the thresholds are worth more. */
static int32_t polish_plan(girdle_search *search, const girdle_plan *plan) {
  for (int64_t times = 1; times <= 4; times++) {
    girdle_plan begin = *plan;
    for (uint64_t s = 0; s < search->market->supplier_count; s++)
      begin.factor[s] = plan->factor[s] * times < GIRDLE_SEARCH_SCALE ? plan->factor[s] * times : GIRDLE_SEARCH_SCALE;
    GIRDLE_TRY(girdle_search_polish(search, &begin));
    if (search->best_value - plan->bound < search->best_value / 256) break;
  }
  return GIRDLE_OK;
}

static int32_t search_plans(girdle_search *search) {
  girdle_plan none = {0};
  int64_t goods[GIRDLE_MARKET_SUPPLIERS_MOST];
  girdle_plan every = {.paid = 0, .free = (uint32_t)(((uint64_t)1 << search->market->supplier_count) - 1)};
  int covered;
  GIRDLE_TRY(relax(search, &every, goods, &search->least_bound, &covered));
  GIRDLE_TRY(choose_plans(search, &none, 0));
  girdle_sort(search->plans, search->plan_count, sizeof(girdle_plan), compare_plans);
  for (uint64_t i = 0; i < search->plan_count; i++) {
    girdle_plan *plan = &search->plans[i];
    if (search->found && plan->bound > search->best_value) break;
    GIRDLE_TRY(climb(search, plan));
    if (!search->split && plan->bound <= search->best_value) GIRDLE_TRY(polish_plan(search, plan));
    if (plan->bound <= search->best_value) GIRDLE_TRY(girdle_search_assign(search, plan));
  }
  return GIRDLE_OK;
}

/* ---- the search */

/* What a stone costs at most, by the dearest offer that covers it or by all packs of those that do not; and the most
 * pieces that a cover leaves over: less than its largest pack holds, and when lines are to come whole of split stones,
 * less than the largest of each supplier's. */
static int32_t add_highest(girdle_call *call, const girdle_market *market, const girdle_market_stone *stone,
                           int64_t *minor, int64_t *left) {
  int64_t dearest = 0, together = 0, over = 0, part;
  for (uint64_t i = stone->first_offer; i < stone->first_offer + stone->offer_count; i++) {
    const girdle_market_offer *offer = &market->offers[i];
    int64_t largest = 0;
    if (offer->alone && offer->cost > dearest) dearest = offer->cost;
    for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++) {
      const girdle_market_pack *pack = &market->packs[k];
      if (pack->pieces > largest) largest = pack->pieces;
      if (offer->alone) continue;
      GIRDLE_TRY(girdle_price_times(call, "price", pack->price, pack->most, &part));
      GIRDLE_TRY(girdle_price_add(call, "price", together, part, &together));
    }
    if (!market->split && over > largest) largest = over;
    GIRDLE_TRY(girdle_price_add(call, "pieces", market->split ? over : 0, largest, &over));
  }
  GIRDLE_TRY(girdle_price_add(call, "pieces", *left, over, left));
  GIRDLE_TRY(girdle_price_add(call, "price", *minor, together, minor));
  return girdle_price_add(call, "price", *minor, dearest, minor);
}

/* What no sensible order passes: each stone by its dearest offer, all shipping paid and every threshold reached; the
 * pieces left over then; and the most pieces that a minor unit buys anywhere. */
static int32_t highest(girdle_call *call, const girdle_market *market, int64_t *minor, int64_t *left, int64_t *ratio) {
  *minor = *left = *ratio = 1;
  for (uint64_t i = 0; i < market->stone_count; i++)
    GIRDLE_TRY(add_highest(call, market, &market->stones[i], minor, left));
  for (uint64_t s = 0; s < market->supplier_count; s++) {
    const girdle_market_supplier *supplier = &market->suppliers[s];
    GIRDLE_TRY(girdle_price_add(call, "shipping", *minor, supplier->shipping, minor));
    GIRDLE_TRY(girdle_price_add(call, "least order", *minor, supplier->least, minor));
    if (supplier->free_from > 0) GIRDLE_TRY(girdle_price_add(call, "free from", *minor, supplier->free_from, minor));
  }
  for (uint64_t k = 0; k < market->pack_count; k++) {
    const girdle_market_pack *pack = &market->packs[k];
    if (pack->price && pack->pieces / pack->price >= *ratio) *ratio = pack->pieces / pack->price + 1;
  }
  return GIRDLE_OK;
}

/* A minor unit weighs more than all pieces that an order can leave over; if numbers so large do not fit, at least more
 * than those of the dearest offers four times over. */
static int32_t choose_unit(girdle_search *search) {
  int64_t minor, left, ratio, least, most;
  GIRDLE_TRY(highest(search->call, search->market, &minor, &left, &ratio));
  for (uint64_t i = 0; i < search->market->stone_count; i++)
    search->needed += search->market->stones[i].need;
  GIRDLE_TRY(girdle_price_times(search->call, "pieces", left, 4, &least));
  search->unit = minor < INT64_MAX / 4 / ratio - least ? minor * ratio + least : INT64_MAX / 4;
  while (search->unit > least && search->unit > INT64_MAX / 8 / GIRDLE_SEARCH_SCALE / minor)
    search->unit /= 2;
  if (search->unit < least) search->unit = least;
  GIRDLE_TRY(girdle_price_times(search->call, "price", minor, search->unit, &most));
  GIRDLE_TRY(girdle_price_add(search->call, "pieces", most, search->needed, &most));
  GIRDLE_TRY(girdle_price_times(search->call, "price", most, 4 * GIRDLE_SEARCH_SCALE, &most));
  search->best_value = most / 4;
  return GIRDLE_OK;
}

/* A bound on the scaled cost in whole minor units. Of what it says, the pieces needed are no money, and those left over
 * weigh less than one unit. */
static int64_t minor_bound(const girdle_search *search) {
  int64_t bound;
  if (!search->stopped || search->open_bound >= search->best_value) return search->best_minor;
  bound = (search->open_bound / GIRDLE_SEARCH_SCALE - search->needed) / search->unit;
  return bound < search->best_minor ? bound : search->best_minor;
}

/* Whether every stone can come from one supplier. */
static int can_stay_whole(const girdle_market *market) {
  for (uint64_t i = 0; i < market->stone_count; i++) {
    const girdle_market_stone *stone = &market->stones[i];
    int any = 0;
    for (uint64_t k = 0; k < stone->offer_count; k++)
      any |= market->offers[stone->first_offer + k].alone;
    if (!any) return 0;
  }
  return 1;
}

/* The best order of whole stones is quickly found, and gives the search for split ones something to beat. */
static int32_t search_split(girdle_search *search) {
  if (can_stay_whole(search->market)) GIRDLE_TRY(search_plans(search));
  search->split = 1;
  search->stopped = 0;
  search->labels = 0;
  search->plan_count = 0;
  search->open_bound = INT64_MAX;
  GIRDLE_TRY(girdle_split_begin(search));
  GIRDLE_TRY(girdle_parts_list(search));
  return search_plans(search);
}

static int32_t run(girdle_search *search) {
  const uint64_t bytes = search->market->pack_count * sizeof *search->best;
  GIRDLE_TRY(choose_unit(search));
  search->best = girdle_common_new(search->call, bytes);
  search->copies = girdle_common_new(search->call, bytes);
  search->places = girdle_common_new(search->call, (search->market->line_count + 1) * sizeof *search->places);
  if (!search->best || !search->copies || !search->places) return GIRDLE_MEMORY;
  GIRDLE_TRY(search->market->split ? search_split(search) : search_plans(search));
  return search->found ? GIRDLE_OK
                       : girdle_common_fail(search->call, search->stopped ? GIRDLE_LIMIT : GIRDLE_GEOMETRY,
                                            "least_order", "the suppliers' least orders cannot be met");
}

int32_t girdle_market_search(girdle_call *call, const girdle_market *market, int64_t *copies, int64_t *cost_minor,
                             int64_t *bound_minor) {
  girdle_search search = {.call = call,
                          .memory = girdle_common_memory(call),
                          .market = market,
                          .open_bound = INT64_MAX,
                          .most_labels = market->most_labels ? market->most_labels : LABELS_DEFAULT};
  const uint64_t bytes = market->pack_count * sizeof *copies;
  int32_t status = run(&search);
  if (!status) {
    memcpy(copies, search.best, bytes);
    *cost_minor = search.best_minor;
    *bound_minor = minor_bound(&search);
  }
  girdle_common_release(&search.memory, search.best, bytes);
  girdle_common_release(&search.memory, search.copies, bytes);
  girdle_parts_free(&search);
  girdle_common_release(&search.memory, search.places, (market->line_count + 1) * sizeof *search.places);
  girdle_common_release(&search.memory, search.plans, search.plan_capacity * sizeof(girdle_plan));
  return status;
}
