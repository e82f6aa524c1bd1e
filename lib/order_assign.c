/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "order_search_internal.h"
#include "sort_internal.h"

/* The best order of a plan whose thresholds bind. An order costs the goods at each supplier and the shipping; goods
 * beyond the cheapest covers, by whichever packs, cost what they add. So a choice of one offer for each stone costs at
 * least the shipping and, for each supplier, its goods or its threshold, whichever is more; how much more it must be
 * depends on how finely packs can be added (order_pad.c).
 *
 * The plan's factors make one offer of each stone the cheapest, and every other one dearer by a known amount. An order
 * no worse than the best found departs from the cheapest offers only as far as those amounts together stay within the
 * distance from the plan's bound to the best. All such departures are gone through, those of the stones with the
 * smallest amounts first; a label is one of them. */

enum { VIEWS_MOST = GIRDLE_MARKET_SUPPLIERS_MOST + 1, LABELS_A_WAY = 16 /* of a split stone: for the room it takes */ };

/* A way to buy one stone: by one offer, or, when stones are split, by a cover of several. Its goods stand in a row of
 * numbers, one for each supplier, and the copies of its packs in another. */
typedef struct way {
  uint64_t offer; /* not of a split one */
  uint64_t goods, copies;
  int64_t pieces, dearer; /* dearer: than the stone's cheapest, scaled */
  uint64_t towards;
} way;

/* A stone and its ways, which stand together, the cheapest first. least: how much dearer the next one is. */
typedef struct stone_ways {
  uint64_t stone, first, count;
  int64_t least;
} stone_ways;

/* Other factors than the plan's, which may tell sooner that a beginning goes too far. All numbers are scaled. */
typedef struct view {
  int64_t factor[GIRDLE_MARKET_SUPPLIERS_MOST];
  int64_t settled;   /* what the stones with one way come to, with shipping and thresholds */
  int64_t *stay;     /* what the undecided stones before each one come to when they stay; one number more than stones */
  int64_t *least;    /* what those from each one on come to at least; likewise */
  int64_t *comes_to; /* what each way comes to */
} view;

typedef struct assignment {
  girdle_search *search;
  const girdle_plan *plan;
  int64_t limit; /* scaled: departures go no further than this */
  girdle_pads pads;
  int64_t goods[GIRDLE_MARKET_SUPPLIERS_MOST]; /* by the chosen ways */
  int64_t thresholds[GIRDLE_MARKET_SUPPLIERS_MOST];
  int64_t pieces, shipping;  /* shipping in minor units */
  uint64_t *chosen, *offers; /* the way of each stone, and its offer */
  way *ways;
  stone_ways *stones, *undecided; /* all of them, and those with more ways than one, the smallest amounts first */
  uint64_t way_count, way_capacity, undecided_count;
  int64_t *pool; /* rows of goods and of copies */
  uint64_t pool_count, pool_capacity;
  view views[VIEWS_MOST];
  uint64_t view_count;
  int64_t *numbers; /* of all views, then two rows of sums by view for each departure taken */
  uint64_t number_count, sum_at;
} assignment;

/* ---- one choice of ways */

/* The packs of one stone stand together in the market. */
static uint64_t first_pack(const girdle_market *market, uint64_t stone) {
  return market->offers[market->stones[stone].first_offer].first_pack;
}

static uint64_t pack_count(const girdle_market *market, uint64_t stone) {
  const girdle_market_stone *of = &market->stones[stone];
  const girdle_market_offer *last = &market->offers[of->first_offer + of->offer_count - 1];
  return last->first_pack + last->pack_count - first_pack(market, stone);
}

/* Adds a way to the goods and pieces, or with -1 takes it away. */
static void count_way(assignment *work, const way *of, int64_t sign) {
  const int64_t *goods = work->pool + of->goods;
  for (uint64_t s = 0; s < work->search->market->supplier_count; s++)
    work->goods[s] += sign * goods[s];
  work->pieces += sign * of->pieces;
}

static void choose(assignment *work, uint64_t stone, uint64_t taken) {
  count_way(work, &work->ways[work->chosen[stone]], -1);
  count_way(work, &work->ways[taken], 1);
  work->chosen[stone] = taken;
  work->offers[stone] = work->ways[taken].offer;
}

/* What the goods at a supplier lack. */
static int64_t lacks(const assignment *work, uint64_t supplier) {
  return work->thresholds[supplier] - work->goods[supplier];
}

/* The value that an order of the chosen ways has at least. */
static int64_t least_value(const assignment *work) {
  int64_t minor = work->shipping;
  int lacking = 0;
  for (uint64_t s = 0; s < work->search->market->supplier_count; s++) {
    lacking |= lacks(work, s) > 0;
    minor += lacks(work, s) > 0 ? work->thresholds[s] : work->goods[s];
  }
  return minor * work->search->unit + (lacking ? work->search->needed : work->pieces);
}

static void copy_covers(const assignment *work) {
  const girdle_market *market = work->search->market;
  for (uint64_t i = 0; i < market->stone_count; i++)
    memcpy(work->search->copies + first_pack(market, i), work->pool + work->ways[work->chosen[i]].copies,
           pack_count(market, i) * sizeof *work->pool);
}

/* Adds what is lacking, and keeps the order when it is the best. */
static int32_t offer_choice(assignment *work) {
  girdle_search *search = work->search;
  const int64_t least = least_value(work), best = search->best_value / GIRDLE_SEARCH_SCALE;
  int64_t room = (best - least) / search->unit, added;
  if (least > best) return GIRDLE_OK;
  copy_covers(work);
  for (uint64_t s = 0; s < search->market->supplier_count; s++) {
    const int64_t wanted = lacks(work, s);
    if (wanted <= 0) continue;
    GIRDLE_TRY(girdle_pads_add(&work->pads, s, search->split ? NULL : work->offers, wanted, wanted + room, &added));
    if (added < 0) return GIRDLE_OK;
    room -= added - wanted;
  }
  return girdle_search_offer(search, search->copies);
}

/* ---- all choices */

/* Brings what the decided stones come to in each view from stone `from` to stone `to`, those between staying. 0 when a
 * view tells that no order so begun is good enough. */
static int stay(const assignment *work, uint64_t from, uint64_t to, const int64_t *decided, int64_t *after) {
  for (uint64_t v = 0; v < work->view_count; v++) {
    const view *by = &work->views[v];
    after[v] = decided[v] + by->stay[to] - by->stay[from];
    if (after[v] + by->least[to] > work->search->best_value) return 0;
  }
  return 1;
}

/* The same when stone `at` takes a departure. */
static int leave(const assignment *work, uint64_t at, uint64_t taken, const int64_t *decided, int64_t *after) {
  for (uint64_t v = 0; v < work->view_count; v++) {
    const view *by = &work->views[v];
    after[v] = decided[v] + by->comes_to[taken];
    if (after[v] + by->least[at + 1] > work->search->best_value) return 0;
  }
  return 1;
}

/* Goes through the departures of the stones from `next` on, `taken` before. `bound` is the plan's with those; in the
 * first of their two rows stands what the stones before come to in each view. */
static int32_t depart(assignment *work, uint64_t next, int64_t bound, uint64_t taken) {
  girdle_search *search = work->search;
  const int64_t *decided = work->numbers + work->sum_at + 2 * taken * work->view_count;
  int64_t *here = work->numbers + work->sum_at + (2 * taken + 1) * work->view_count;
  for (uint64_t i = next; i < work->undecided_count && bound + work->undecided[i].least <= work->limit; i++) {
    const stone_ways *of = &work->undecided[i];
    if (!stay(work, next, i, decided, here)) return GIRDLE_OK;
    for (uint64_t w = of->first + 1; w < of->first + of->count; w++) {
      const int64_t with = bound + work->ways[w].dearer;
      if (with > work->limit || with > search->best_value) break;
      if (++search->labels > search->most_labels) return GIRDLE_OK;
      GIRDLE_TRY(girdle_common_tick(search->call, 1, -1));
      if (!leave(work, i, w, here, here + work->view_count)) continue;
      choose(work, of->stone, w);
      GIRDLE_TRY(offer_choice(work));
      GIRDLE_TRY(depart(work, i + 1, with, taken + 1));
    }
    choose(work, of->stone, of->first);
  }
  return GIRDLE_OK;
}

/* ---- ways */

static int64_t weight_by(const assignment *work, const int64_t *factor, uint64_t stone, const way *of) {
  const girdle_search *search = work->search;
  const int64_t *goods = work->pool + of->goods;
  int64_t sum = 0;
  int free = 0;
  for (uint64_t s = 0; s < search->market->supplier_count; s++) {
    sum += goods[s] * (GIRDLE_SEARCH_SCALE - factor[s]);
    free |= goods[s] && factor[s];
  }
  /* as girdle_search_weight: goods towards a threshold may be of other packs, so the need stands for the pieces */
  return sum * search->unit + (free ? search->market->stones[stone].need : of->pieces) * GIRDLE_SEARCH_SCALE;
}

/* Adds a way with empty rows. The pool may move. */
static int32_t add_way(assignment *work, uint64_t stone, way **out) {
  const girdle_market *market = work->search->market;
  const uint64_t numbers = market->supplier_count + pack_count(market, stone);
  way *made;
  GIRDLE_TRY(girdle_common_grow(work->search->call, &work->search->memory, (void **)&work->pool, &work->pool_capacity,
                                work->pool_count + numbers, sizeof *work->pool));
  GIRDLE_TRY(girdle_common_grow(work->search->call, &work->search->memory, (void **)&work->ways, &work->way_capacity,
                                work->way_count + 1, sizeof *work->ways));
  made = &work->ways[work->way_count++];
  *made = (way){0, work->pool_count, work->pool_count + market->supplier_count, 0, 0, 0};
  memset(work->pool + work->pool_count, 0, numbers * sizeof *work->pool);
  work->pool_count += numbers;
  *out = made;
  return GIRDLE_OK;
}

static int32_t add_offer(assignment *work, uint64_t offer) {
  const girdle_market *market = work->search->market;
  const girdle_market_offer *of = &market->offers[offer];
  way *made;
  GIRDLE_TRY(add_way(work, of->stone, &made));
  made->offer = offer;
  made->pieces = of->pieces;
  work->pool[made->goods + of->supplier] = of->cost;
  for (uint64_t k = of->first_pack; k < of->first_pack + of->pack_count; k++)
    work->pool[made->copies + k - first_pack(market, of->stone)] = market->packs[k].copies;
  made->dearer = weight_by(work, work->plan->factor, of->stone, made);
  return GIRDLE_OK;
}

/* What the listings of a split stone's ways are told. */
typedef struct split_stone {
  assignment *work;
  uint64_t stone;
} split_stone;

/* Adds the packs of a split stone that are in search->copies. */
static int32_t keep_way(void *context) {
  const split_stone *of = context;
  assignment *work = of->work;
  girdle_search *search = work->search;
  const girdle_market *market = search->market;
  const girdle_market_stone *stone = &market->stones[of->stone];
  way *made;
  search->labels += LABELS_A_WAY;
  GIRDLE_TRY(add_way(work, of->stone, &made));
  for (uint64_t o = stone->first_offer; o < stone->first_offer + stone->offer_count; o++) {
    const girdle_market_offer *offer = &market->offers[o];
    for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++) {
      work->pool[made->goods + offer->supplier] += search->copies[k] * market->packs[k].price;
      work->pool[made->copies + k - first_pack(market, of->stone)] = search->copies[k];
      made->pieces += search->copies[k] * market->packs[k].pieces;
    }
  }
  made->dearer = weight_by(work, work->plan->factor, of->stone, made);
  return GIRDLE_OK;
}

/* Keeps the packs at hand as a way when they serve each line whole. */
static int32_t keep_serving(girdle_covering *covering, int *serves) {
  split_stone *of = covering->context;
  girdle_search *search = covering->search;
  const girdle_market *market = search->market;
  const girdle_market_stone *stone = &market->stones[of->stone];
  int64_t held[GIRDLE_MARKET_SUPPLIERS_MOST] = {0};
  memset(search->copies + first_pack(market, of->stone), 0, pack_count(market, of->stone) * sizeof *search->copies);
  for (uint64_t k = 0; k < covering->count; k++)
    search->copies[covering->packs[k]] = covering->copies[k];
  for (uint64_t o = stone->first_offer; o < stone->first_offer + stone->offer_count; o++)
    for (uint64_t k = market->offers[o].first_pack; k < market->offers[o].first_pack + market->offers[o].pack_count;
         k++)
      held[market->offers[o].supplier] += search->copies[k] * market->packs[k].pieces;
  search->labels++;
  *serves = girdle_split_serves(search, of->stone, held);
  return *serves ? keep_way(of) : GIRDLE_OK;
}

/* What does not serve as it is may do with further packs, of those from `at` on. */
static int32_t add_further(girdle_covering *covering, uint64_t at, int64_t weight) {
  girdle_search *search = covering->search;
  const int64_t before = covering->copies[at], most = search->market->packs[covering->packs[at]].most;
  int serves = 0;
  for (; !serves && search->labels <= search->most_labels; covering->copies[at]++, weight += covering->weights[at]) {
    if (weight > covering->most || (most >= 0 && covering->copies[at] > most)) break;
    if (covering->copies[at] > before) GIRDLE_TRY(keep_serving(covering, &serves));
    if (!serves && at + 1 < covering->count) GIRDLE_TRY(add_further(covering, at + 1, weight));
  }
  covering->copies[at] = before;
  return GIRDLE_OK;
}

static int32_t keep_split(girdle_covering *covering) {
  int64_t weight = 0;
  int serves;
  GIRDLE_TRY(keep_serving(covering, &serves));
  for (uint64_t k = 0; k < covering->count; k++)
    weight += covering->copies[k] * covering->weights[k];
  return serves ? GIRDLE_OK : add_further(covering, 0, weight);
}

/* Every cover that serves its lines, over all suppliers used, that an order no worse than the best can hold. */
static int32_t add_splits(assignment *work, uint64_t stone) {
  girdle_search *search = work->search;
  split_stone of = {work, stone};
  girdle_covering covering = {.keep = keep_split, .context = &of};
  int64_t goods[GIRDLE_MARKET_SUPPLIERS_MOST] = {0}, least;
  int covered;
  if (girdle_parts_listed(search, stone)) {
    girdle_parts_cheapest(search, work->plan, stone, goods, &least, &covered);
    return girdle_parts_each(search, work->plan, stone, least + work->limit - work->plan->bound, keep_way, &of);
  }
  GIRDLE_TRY(girdle_split_cheapest(search, work->plan, stone, goods, &least, &covered));
  GIRDLE_TRY(girdle_split_covering(search, work->plan, stone, &covering));
  /* all pieces together weigh less than one minor unit */
  covering.most = least / search->unit + (work->limit - work->plan->bound) / search->unit + GIRDLE_SEARCH_SCALE;
  return girdle_covers_list(&covering);
}

static int compare_ways(const void *a, const void *b) {
  const way *one = a, *two = b;
  if (one->dearer != two->dearer) return one->dearer < two->dearer ? -1 : 1;
  if (one->pieces != two->pieces) return one->pieces < two->pieces ? -1 : 1;
  return one->copies < two->copies ? -1 : 1;
}

/* Ways that give the same goods to each supplier with a threshold stand together, the cheapest first. */
static int compare_towards(const void *a, const void *b) {
  const way *one = a, *two = b;
  if (one->towards != two->towards) return one->towards < two->towards ? -1 : 1;
  return compare_ways(a, b);
}

/* A number for the goods that count towards thresholds, alike for like goods. */
static uint64_t towards_of(const assignment *work, const way *of) {
  uint64_t hash = 0xcbf29ce484222325u;
  for (uint64_t s = 0; s < work->search->market->supplier_count; s++)
    if (work->thresholds[s]) hash = (hash ^ (uint64_t)work->pool[of->goods + s]) * 0x100000001b3u; /* FNV-1a */
  return hash;
}

static int is_towards(const assignment *work, const way *of) {
  return work->thresholds[work->search->market->offers[of->offer].supplier] > 0;
}

/* Whether two ways give the same goods to each supplier with a threshold, or with `all` to each supplier. Of a stone
 * that is not split it also matters of which offer there is more to be bought. */
static int gives_the_same(const assignment *work, const way *one, const way *two, int all) {
  if (!work->search->split && one->offer != two->offer && (is_towards(work, one) || is_towards(work, two))) return 0;
  for (uint64_t s = 0; s < work->search->market->supplier_count; s++)
    if ((all || work->thresholds[s]) && work->pool[one->goods + s] != work->pool[two->goods + s]) return 0;
  return 1;
}

/* Of ways with the same goods towards thresholds the cheapest with the fewest pieces do; of equals with all the same
 * goods one does. */
static void thin_out(assignment *work, uint64_t first) {
  way *ways = work->ways + first;
  const uint64_t count = work->way_count - first;
  uint64_t kept = 0, best = 0;
  for (uint64_t i = 0; i < count; i++)
    ways[i].towards = towards_of(work, &ways[i]);
  girdle_sort(ways, count, sizeof(way), compare_towards);
  for (uint64_t i = 0; i < count; i++) {
    const way at = ways[i];
    int needless = 0;
    if (kept && gives_the_same(work, &ways[best], &at, 0)) {
      needless = at.dearer > ways[best].dearer || at.pieces > ways[best].pieces;
      for (uint64_t k = best; k < kept && !needless; k++)
        needless = gives_the_same(work, &ways[k], &at, 1);
    } else {
      best = kept;
    }
    ways[kept] = at;
    kept += !needless;
  }
  work->way_count = first + kept;
}

/* Puts the ways of a stone in order, drops those that cannot matter, and takes the first. */
static void settle(assignment *work, uint64_t stone, uint64_t first) {
  way *ways = work->ways + first;
  stone_ways *of = &work->stones[stone];
  uint64_t kept = 0;
  thin_out(work, first);
  girdle_sort(ways, work->way_count - first, sizeof(way), compare_ways);
  for (uint64_t i = 0; first + i < work->way_count; i++) {
    const way at = ways[i];
    if (work->plan->bound + at.dearer - ways[0].dearer > work->limit) break;
    ways[kept++] = at;
  }
  work->way_count = first + kept;
  for (uint64_t i = kept; i-- > 0;)
    ways[i].dearer -= ways[0].dearer;
  *of = (stone_ways){stone, first, kept, kept > 1 ? ways[1].dearer : 0};
  work->chosen[stone] = first;
  work->offers[stone] = ways[0].offer;
  count_way(work, &ways[0], 1);
}

static int32_t list_ways(assignment *work, uint64_t stone) {
  const girdle_market *market = work->search->market;
  const girdle_market_stone *of = &market->stones[stone];
  const uint64_t first = work->way_count;
  if (work->search->split) {
    GIRDLE_TRY(add_splits(work, stone));
  } else {
    for (uint64_t i = of->first_offer; i < of->first_offer + of->offer_count; i++)
      if (market->offers[i].alone && girdle_search_uses(work->plan, market->offers[i].supplier))
        GIRDLE_TRY(add_offer(work, i));
  }
  if (work->way_count > first) settle(work, stone, first);
  return GIRDLE_OK;
}

static int compare_undecided(const void *a, const void *b) {
  const stone_ways *one = a, *two = b;
  if (one->least != two->least) return one->least < two->least ? -1 : 1;
  return one->stone < two->stone ? -1 : 1;
}

/* *out_of_reach is 1 when no way of some stone is near enough. */
static int32_t list_all_ways(assignment *work, int *out_of_reach) {
  const uint64_t count = work->search->market->stone_count;
  for (uint64_t i = 0; i < count && work->search->labels <= work->search->most_labels; i++) {
    GIRDLE_TRY(list_ways(work, i));
    if (work->stones[i].count) continue;
    *out_of_reach = 1;
    return GIRDLE_OK;
  }
  for (uint64_t i = 0; i < count; i++)
    if (work->stones[i].count > 1) work->undecided[work->undecided_count++] = work->stones[i];
  girdle_sort(work->undecided, work->undecided_count, sizeof(stone_ways), compare_undecided);
  return GIRDLE_OK;
}

/* ---- views */

/* What all stones come to by a view while none departs, with shipping and thresholds. */
static int64_t sum_by(const assignment *work, const int64_t *factor) {
  const girdle_market *market = work->search->market;
  int64_t sum = girdle_search_shipping(work->search, work->plan);
  for (uint64_t s = 0; s < market->supplier_count; s++)
    sum += factor[s] * work->search->unit * work->thresholds[s];
  for (uint64_t i = 0; i < market->stone_count; i++)
    sum += weight_by(work, factor, i, &work->ways[work->chosen[i]]);
  return sum;
}

static void look(assignment *work, view *by) {
  for (uint64_t i = 0; i < work->undecided_count; i++) {
    const stone_ways *of = &work->undecided[i];
    for (uint64_t w = of->first; w < of->first + of->count; w++)
      by->comes_to[w] = weight_by(work, by->factor, of->stone, &work->ways[w]);
    by->stay[i + 1] = by->stay[i] + by->comes_to[of->first];
  }
  by->settled = sum_by(work, by->factor) - by->stay[work->undecided_count];
  for (uint64_t i = work->undecided_count; i-- > 0;) {
    const stone_ways *of = &work->undecided[i];
    int64_t least = by->comes_to[of->first];
    for (uint64_t w = of->first + 1; w < of->first + of->count; w++)
      if (by->comes_to[w] < least) least = by->comes_to[w];
    by->least[i] = by->least[i + 1] + least;
  }
}

/* The plan's factors with that of supplier `doubled` doubled, or of all when that is none. A factor of 0 becomes one.
 */
static void add_view(assignment *work, uint64_t doubled) {
  const uint64_t suppliers = work->search->market->supplier_count;
  view *made = &work->views[work->view_count++];
  memcpy(made->factor, work->plan->factor, sizeof made->factor);
  for (uint64_t s = 0; s < suppliers; s++) {
    const int64_t twice = made->factor[s] ? 2 * made->factor[s] : GIRDLE_SEARCH_SCALE / 16;
    if (work->thresholds[s] == 0 || (doubled < suppliers && s != doubled)) continue;
    made->factor[s] = twice < GIRDLE_SEARCH_SCALE ? twice : GIRDLE_SEARCH_SCALE;
  }
}

static int32_t make_views(assignment *work) {
  const uint64_t suppliers = work->search->market->supplier_count, stones = work->undecided_count + 1;
  const uint64_t row = 2 * stones + work->way_count;
  for (uint64_t s = 0; s <= suppliers; s++)
    if (s == suppliers || work->thresholds[s]) add_view(work, s);
  work->sum_at = row * work->view_count;
  work->number_count = work->sum_at + 2 * stones * work->view_count;
  work->numbers = girdle_common_new(work->search->call, work->number_count * sizeof *work->numbers);
  if (!work->numbers) return GIRDLE_MEMORY;
  for (uint64_t v = 0; v < work->view_count; v++) {
    view *made = &work->views[v];
    made->stay = work->numbers + v * row;
    made->least = made->stay + stones;
    made->comes_to = made->least + stones;
    look(work, made);
    work->numbers[work->sum_at + v] = made->settled;
  }
  return GIRDLE_OK;
}

/* ---- the plan */

static int32_t run(assignment *work) {
  girdle_search *search = work->search;
  int out_of_reach = 0;
  for (uint64_t s = 0; s < search->market->supplier_count; s++) {
    work->thresholds[s] = girdle_search_uses(work->plan, s) ? girdle_search_threshold(search, work->plan, s) : 0;
    work->shipping += work->plan->paid >> s & 1 ? search->market->suppliers[s].shipping : 0;
  }
  GIRDLE_TRY(list_all_ways(work, &out_of_reach));
  if (out_of_reach || search->labels > search->most_labels) return GIRDLE_OK;
  GIRDLE_TRY(make_views(work));
  memset(search->copies, 0, search->market->pack_count * sizeof *search->copies);
  GIRDLE_TRY(offer_choice(work));
  return depart(work, 0, sum_by(work, work->plan->factor), 0);
}

static int32_t make_room(assignment *work) {
  girdle_call *call = work->search->call;
  const uint64_t stones = work->search->market->stone_count;
  GIRDLE_TRY(girdle_pads_new(work->search, &work->pads));
  work->chosen = girdle_common_new(call, 2 * stones * sizeof *work->chosen);
  work->stones = girdle_common_new(call, 2 * stones * sizeof *work->stones);
  if (!work->chosen || !work->stones) return GIRDLE_MEMORY;
  work->offers = work->chosen + stones;
  work->undecided = work->stones + stones;
  return GIRDLE_OK;
}

/* Departures that go no further than `limit`. */
static int32_t go_through(girdle_search *search, const girdle_plan *plan, int64_t limit) {
  const uint64_t stones = search->market->stone_count;
  assignment work = {.search = search, .plan = plan, .limit = limit};
  int32_t status = make_room(&work);
  if (!status) status = run(&work);
  girdle_common_release(&search->memory, work.chosen, 2 * stones * sizeof *work.chosen);
  girdle_common_release(&search->memory, work.stones, 2 * stones * sizeof *work.stones);
  girdle_common_release(&search->memory, work.ways, work.way_capacity * sizeof *work.ways);
  girdle_common_release(&search->memory, work.pool, work.pool_capacity * sizeof *work.pool);
  girdle_common_release(&search->memory, work.numbers, work.number_count * sizeof *work.numbers);
  girdle_pads_free(&work.pads);
  return status;
}

/* Split stones have many ways, and nothing polished to beat: there a little is gone through first, and then more. */
int32_t girdle_search_assign(girdle_search *search, const girdle_plan *plan) {
  int64_t reach = search->best_value - plan->bound;
  if (search->split) reach = reach / 64 + search->unit * GIRDLE_SEARCH_SCALE;
  for (int done = 0; !done && search->labels <= search->most_labels; reach *= 4) {
    done = reach >= search->best_value - plan->bound;
    GIRDLE_TRY(go_through(search, plan, done ? search->best_value : plan->bound + reach));
  }
  if (search->labels <= search->most_labels) return GIRDLE_OK;
  search->stopped = 1;
  if (plan->bound < search->open_bound) search->open_bound = plan->bound;
  return GIRDLE_OK;
}
