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

enum { VIEWS_MOST = GIRDLE_MARKET_SUPPLIERS_MOST + 1 };

/* Another offer than the cheapest. */
typedef struct departure {
  uint64_t offer;
  int64_t dearer; /* scaled */
} departure;

/* A stone that may depart; its departures stand together, the least dear first. */
typedef struct undecided {
  uint64_t stone, first, count;
  int64_t least;
} undecided;

/* Other factors than the plan's, which may tell sooner that a beginning goes too far. All numbers are scaled. */
typedef struct view {
  int64_t factor[GIRDLE_MARKET_SUPPLIERS_MOST];
  int64_t settled; /* what the stones without a departure come to, with shipping and thresholds */
  int64_t *stay;   /* what the undecided stones before each one come to when they stay; one number more than stones */
  int64_t *least;  /* what those from each one on come to at least; likewise */
  int64_t *leave;  /* what each departure comes to */
} view;

typedef struct assignment {
  girdle_search *search;
  const girdle_plan *plan;
  girdle_pads pads;
  int64_t goods[GIRDLE_MARKET_SUPPLIERS_MOST], pieces[GIRDLE_MARKET_SUPPLIERS_MOST]; /* by the chosen offers */
  int64_t needs[GIRDLE_MARKET_SUPPLIERS_MOST];
  int64_t thresholds[GIRDLE_MARKET_SUPPLIERS_MOST];
  int64_t shipping; /* minor units */
  uint64_t *chosen; /* the offer of each stone */
  departure *departures;
  undecided *stones;
  uint64_t departure_count, stone_count;
  view views[VIEWS_MOST];
  uint64_t view_count;
  int64_t *numbers; /* of all views, then two rows of sums by view for each departure taken */
  uint64_t number_count, sum_at;
} assignment;

/* ---- one choice of offers */

/* Moves a stone to an offer. */
static void move(assignment *work, uint64_t offer) {
  const girdle_market *market = work->search->market;
  const girdle_market_offer *to = &market->offers[offer];
  const girdle_market_offer *from = &market->offers[work->chosen[to->stone]];
  const int64_t need = market->stones[to->stone].need;
  work->goods[from->supplier] -= from->cost;
  work->pieces[from->supplier] -= from->pieces;
  work->needs[from->supplier] -= need;
  work->goods[to->supplier] += to->cost;
  work->pieces[to->supplier] += to->pieces;
  work->needs[to->supplier] += need;
  work->chosen[to->stone] = offer;
}

/* What the goods at a supplier lack. */
static int64_t lacks(const assignment *work, uint64_t supplier) {
  return work->thresholds[supplier] - work->goods[supplier];
}

/* The value that an order of the chosen offers has at least. */
static int64_t least_value(const assignment *work) {
  int64_t minor = work->shipping, pieces = 0;
  for (uint64_t s = 0; s < work->search->market->supplier_count; s++) {
    const int lacking = lacks(work, s) > 0;
    minor += lacking ? work->thresholds[s] : work->goods[s];
    pieces += lacking ? work->needs[s] : work->pieces[s];
  }
  return minor * work->search->unit + pieces;
}

static void copy_covers(const assignment *work) {
  const girdle_market *market = work->search->market;
  memset(work->search->copies, 0, market->pack_count * sizeof *work->search->copies);
  for (uint64_t i = 0; i < market->stone_count; i++) {
    const girdle_market_offer *offer = &market->offers[work->chosen[i]];
    for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++)
      work->search->copies[k] = market->packs[k].copies;
  }
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
    GIRDLE_TRY(girdle_pads_add(&work->pads, s, work->chosen, wanted, wanted + room, &added));
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
    after[v] = decided[v] + by->leave[taken];
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
  for (uint64_t i = next; i < work->stone_count && bound + work->stones[i].least <= search->best_value; i++) {
    const undecided *of = &work->stones[i];
    const uint64_t before = work->chosen[of->stone];
    if (!stay(work, next, i, decided, here)) return GIRDLE_OK;
    for (uint64_t d = of->first; d < of->first + of->count; d++) {
      const departure *by = &work->departures[d];
      if (bound + by->dearer > search->best_value) break;
      if (++search->labels > search->most_labels) return GIRDLE_OK;
      GIRDLE_TRY(girdle_common_tick(search->call, 1, -1));
      if (!leave(work, i, d, here, here + work->view_count)) continue;
      move(work, by->offer);
      GIRDLE_TRY(offer_choice(work));
      GIRDLE_TRY(depart(work, i + 1, bound + by->dearer, taken + 1));
    }
    move(work, before);
  }
  return GIRDLE_OK;
}

/* ---- departures */

static int compare_departures(const void *a, const void *b) {
  const departure *one = a, *two = b;
  if (one->dearer != two->dearer) return one->dearer < two->dearer ? -1 : 1;
  return one->offer < two->offer ? -1 : 1;
}

static int compare_undecided(const void *a, const void *b) {
  const undecided *one = a, *two = b;
  if (one->least != two->least) return one->least < two->least ? -1 : 1;
  return one->stone < two->stone ? -1 : 1;
}

/* Chooses the cheapest offer of a stone, and lists the others that could still matter. */
static void list_stone(assignment *work, uint64_t stone) {
  const girdle_search *search = work->search;
  const girdle_market_stone *of = &search->market->stones[stone];
  const girdle_market_offer *cheapest = girdle_search_cheapest(search, work->plan, stone);
  const int64_t least = girdle_search_weight(search, cheapest, work->plan->factor[cheapest->supplier]);
  undecided made = {stone, work->departure_count, 0, 0};
  work->chosen[stone] = (uint64_t)(cheapest - search->market->offers);
  work->goods[cheapest->supplier] += cheapest->cost;
  work->pieces[cheapest->supplier] += cheapest->pieces;
  work->needs[cheapest->supplier] += of->need;
  for (uint64_t i = of->first_offer; i < of->first_offer + of->offer_count; i++) {
    const girdle_market_offer *offer = &search->market->offers[i];
    departure other = {i, 0};
    if (!offer->alone || offer == cheapest || !girdle_search_uses(work->plan, offer->supplier)) continue;
    other.dearer = girdle_search_weight(search, offer, work->plan->factor[offer->supplier]) - least;
    if (work->plan->bound + other.dearer <= search->best_value) work->departures[work->departure_count++] = other;
  }
  made.count = work->departure_count - made.first;
  if (made.count == 0) return;
  girdle_sort(work->departures + made.first, made.count, sizeof(departure), compare_departures);
  made.least = work->departures[made.first].dearer;
  work->stones[work->stone_count++] = made;
}

/* ---- views */

static int64_t weight_by(const assignment *work, const view *by, uint64_t offer) {
  const girdle_market_offer *of = &work->search->market->offers[offer];
  return girdle_search_weight(work->search, of, by->factor[of->supplier]);
}

/* What all stones come to by a view while none departs, with shipping and thresholds. */
static int64_t sum_by(const assignment *work, const view *by) {
  const girdle_market *market = work->search->market;
  int64_t sum = girdle_search_shipping(work->search, work->plan);
  for (uint64_t s = 0; s < market->supplier_count; s++)
    sum += by->factor[s] * work->search->unit * work->thresholds[s];
  for (uint64_t i = 0; i < market->stone_count; i++)
    sum += weight_by(work, by, work->chosen[i]);
  return sum;
}

static void look(assignment *work, view *by) {
  for (uint64_t i = 0; i < work->stone_count; i++)
    by->stay[i + 1] = by->stay[i] + weight_by(work, by, work->chosen[work->stones[i].stone]);
  by->settled = sum_by(work, by) - by->stay[work->stone_count];
  for (uint64_t i = work->stone_count; i-- > 0;) {
    const undecided *of = &work->stones[i];
    int64_t least = by->stay[i + 1] - by->stay[i];
    for (uint64_t d = of->first; d < of->first + of->count; d++) {
      by->leave[d] = weight_by(work, by, work->departures[d].offer);
      if (by->leave[d] < least) least = by->leave[d];
    }
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
  const uint64_t suppliers = work->search->market->supplier_count;
  const uint64_t row = 2 * (work->stone_count + 1) + work->departure_count;
  for (uint64_t s = 0; s <= suppliers; s++)
    if (s == suppliers || work->thresholds[s]) add_view(work, s);
  work->sum_at = row * work->view_count;
  work->number_count = work->sum_at + 2 * (work->stone_count + 1) * work->view_count;
  work->numbers = girdle_common_new(work->search->call, work->number_count * sizeof *work->numbers);
  if (!work->numbers) return GIRDLE_MEMORY;
  for (uint64_t v = 0; v < work->view_count; v++) {
    view *made = &work->views[v];
    made->stay = work->numbers + v * row;
    made->least = made->stay + work->stone_count + 1;
    made->leave = made->least + work->stone_count + 1;
    look(work, made);
  }
  return GIRDLE_OK;
}

/* ---- the plan */

static int32_t run(assignment *work) {
  girdle_search *search = work->search;
  for (uint64_t s = 0; s < search->market->supplier_count; s++) {
    work->thresholds[s] = girdle_search_uses(work->plan, s) ? girdle_search_threshold(search, work->plan, s) : 0;
    work->shipping += work->plan->paid >> s & 1 ? search->market->suppliers[s].shipping : 0;
  }
  for (uint64_t i = 0; i < search->market->stone_count; i++)
    list_stone(work, i);
  girdle_sort(work->stones, work->stone_count, sizeof(undecided), compare_undecided);
  GIRDLE_TRY(make_views(work));
  for (uint64_t v = 0; v < work->view_count; v++)
    work->numbers[work->sum_at + v] = work->views[v].settled;
  GIRDLE_TRY(offer_choice(work));
  return depart(work, 0, work->plan->bound, 0);
}

int32_t girdle_search_assign(girdle_search *search, const girdle_plan *plan) {
  const girdle_market *market = search->market;
  const uint64_t stone_bytes = market->stone_count * sizeof(undecided);
  const uint64_t offer_bytes = market->offer_count * sizeof(departure);
  assignment work = {.search = search, .plan = plan};
  int32_t status = girdle_pads_new(search, &work.pads);
  if (!status) {
    work.chosen = girdle_common_new(search->call, market->stone_count * sizeof *work.chosen);
    work.stones = girdle_common_new(search->call, stone_bytes);
    work.departures = girdle_common_new(search->call, offer_bytes);
    status = work.chosen && work.stones && work.departures ? run(&work) : GIRDLE_MEMORY;
  }
  if (!status && search->labels > search->most_labels) {
    search->stopped = 1;
    if (plan->bound < search->open_bound) search->open_bound = plan->bound;
  }
  girdle_common_release(&search->memory, work.chosen, market->stone_count * sizeof *work.chosen);
  girdle_common_release(&search->memory, work.stones, stone_bytes);
  girdle_common_release(&search->memory, work.departures, offer_bytes);
  girdle_common_release(&search->memory, work.numbers, work.number_count * sizeof *work.numbers);
  girdle_pads_free(&work.pads);
  return status;
}
