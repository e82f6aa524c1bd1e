/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "order_search_internal.h"
#include "price_internal.h"
#include "sort_internal.h"

/* The best order of a plan whose thresholds bind. Stones are taken one after the other; a label is one way to have
 * bought those so far: its value, and how much the goods at each supplier with a threshold still fall short. A label is
 * dropped when another costs no more and falls short of nothing further, or when what is still to come, by the plan's
 * bound, would bring it above the best order found. What a stone adds is a cover that needs all its packs, and then any
 * number of further packs of the same offer, bought only to reach the threshold. */

enum { DIMENSIONS = 4, RIVALS_MOST = 64, STEPS = 7, VIEWS_MOST = 2401 /* STEPS to the power of DIMENSIONS */ };

typedef struct way {
  int64_t value, shorts[DIMENSIONS];
  int64_t bound;   /* scaled: no order that begins so costs less */
  int64_t promise; /* scaled: what such an order may come to */
  uint64_t step;
} way;

/* How a label was reached: step 0 is the beginning. */
typedef struct step {
  uint64_t before;
  uint64_t offer;
  int64_t pack, cover; /* one more of a pack, or, with pack < 0, a cover */
} step;

/* A cover by one offer; its copies stand in the pool. */
typedef struct cover {
  int64_t goods, value;
  uint64_t copies;
} cover;

/* One choice of factors for the suppliers with a threshold: each gives bounds that are valid, and which is the best
 * depends on how far a label still falls short. */
typedef struct view {
  int64_t factors[DIMENSIONS];
} view;

/* How a walk over the stones goes. */
typedef struct gait {
  int wide;      /* 1: all covers within the slack; 0: the cheapest alone */
  int wary;      /* 1: labels that fall behind are less promising */
  uint64_t beam; /* the most labels kept after a stone */
} gait;

typedef struct store {
  void *items;
  uint64_t count, capacity;
} store;

typedef struct chase {
  girdle_search *search;
  const girdle_plan *plan;
  int dimension_of[GIRDLE_MARKET_SUPPLIERS_MOST]; /* -1: no threshold */
  int dimensions;
  gait gait;
  int narrowed;           /* labels were left out of the beam */
  int64_t shipping;       /* scaled */
  view views[VIEWS_MOST]; /* the first holds the plan's factors */
  uint64_t view_count, keenest;
  int64_t *lower; /* scaled: what the stones from each one on add at least, by each view */
  int64_t *goods; /* what they bring to each threshold, each stone where it is cheapest by the first view */
  store steps, covers, pool, front, next;
} chase;

/* ---- lists */

static int32_t push(chase *hunt, store *list, const void *item, uint64_t bytes) {
  GIRDLE_TRY(girdle_common_grow(hunt->search->call, &hunt->search->memory, &list->items, &list->capacity,
                                list->count + 1, bytes));
  memcpy((char *)list->items + list->count * bytes, item, bytes);
  list->count++;
  return GIRDLE_OK;
}

static void drop(chase *hunt, store *list, uint64_t bytes) {
  girdle_common_release(&hunt->search->memory, list->items, list->capacity * bytes);
}

/* ---- bounds */

static int64_t bound_by(const chase *hunt, const way *label, uint64_t next, uint64_t by) {
  int64_t owed = 0;
  for (int d = 0; d < hunt->dimensions; d++)
    owed += hunt->views[by].factors[d] * label->shorts[d];
  return label->value * GIRDLE_SEARCH_SCALE + hunt->shipping + owed * hunt->search->unit +
         hunt->lower[next * hunt->view_count + by];
}

/* 1 when nothing that begins with this label, stones from `next` on still to come, is as good as the best. The view
 * that told so last is asked first. */
static int passed(chase *hunt, way *label, uint64_t next) {
  const int64_t best = hunt->search->best_value;
  label->bound = bound_by(hunt, label, next, hunt->keenest);
  for (uint64_t v = 0; v < hunt->view_count && label->bound <= best; v++) {
    int64_t bound = bound_by(hunt, label, next, v);
    if (bound > best) hunt->keenest = v;
    if (bound > label->bound) label->bound = bound;
  }
  return label->bound > best;
}

/* How promising a label is: one that falls further behind than the stones to come will bring must pay for that. */
static int64_t promise_of(const chase *hunt, const way *label, uint64_t next) {
  const int64_t *goods = hunt->goods + next * DIMENSIONS;
  int64_t behind = 0;
  for (int d = 0; d < hunt->dimensions; d++)
    if (label->shorts[d] > goods[d])
      behind += (label->shorts[d] - goods[d]) * (GIRDLE_SEARCH_SCALE - hunt->views[0].factors[d]);
  return label->bound + (hunt->gait.wary ? behind * hunt->search->unit : 0);
}

static int64_t least_weight(const chase *hunt, const girdle_plan *plan, uint64_t stone) {
  const girdle_market_offer *offer = girdle_search_cheapest(hunt->search, plan, stone);
  return girdle_search_weight(hunt->search, offer, plan->factor[offer->supplier]);
}

static void add_goods(chase *hunt, uint64_t stone) {
  const girdle_market_offer *offer = girdle_search_cheapest(hunt->search, hunt->plan, stone);
  int64_t *goods = hunt->goods + stone * DIMENSIONS;
  memcpy(goods, goods + DIMENSIONS, DIMENSIONS * sizeof *goods);
  if (hunt->dimension_of[offer->supplier] >= 0) goods[hunt->dimension_of[offer->supplier]] += offer->cost;
}

static void look_ahead(chase *hunt) {
  girdle_plan plan = *hunt->plan;
  for (uint64_t v = 0; v < hunt->view_count; v++) {
    for (uint64_t s = 0; s < hunt->search->market->supplier_count; s++)
      plan.factor[s] = hunt->dimension_of[s] < 0 ? 0 : hunt->views[v].factors[hunt->dimension_of[s]];
    for (uint64_t i = hunt->search->market->stone_count; i-- > 0;)
      hunt->lower[i * hunt->view_count + v] =
          hunt->lower[(i + 1) * hunt->view_count + v] + least_weight(hunt, &plan, i);
  }
  for (uint64_t i = hunt->search->market->stone_count; i-- > 0;)
    add_goods(hunt, i);
}

/* The plan's factors first; then each threshold's factor times 0, 1/2, 3/4, 1, 5/4, 3/2 or 2, in every combination. */
static void choose_views(chase *hunt) {
  hunt->view_count = 1;
  for (int d = 0; d < hunt->dimensions; d++)
    hunt->view_count *= STEPS;
  for (uint64_t v = 1; v < hunt->view_count; v++) {
    uint64_t digits = v;
    for (int d = 0; d < hunt->dimensions; d++, digits /= STEPS) {
      const int64_t factor = hunt->views[0].factors[d] ? hunt->views[0].factors[d] : GIRDLE_SEARCH_SCALE / 16;
      const int64_t times[STEPS] = {0, factor, factor / 2, 2 * factor, factor * 3 / 4, factor * 5 / 4, factor * 3 / 2};
      hunt->views[v].factors[d] =
          times[digits % STEPS] < GIRDLE_SEARCH_SCALE ? times[digits % STEPS] : GIRDLE_SEARCH_SCALE;
    }
  }
}

/* ---- covers of one stone by one offer */

typedef struct sample {
  const girdle_market_offer *offer;
  int64_t need, factor;
  int64_t most;                  /* scaled weight of a cover that can still matter */
  int64_t per_piece, per_pieces; /* the pack that is cheapest a piece: its weight and pieces */
  int64_t copies[GIRDLE_MARKET_PACKS_MOST];
} sample;

static int64_t pack_weight(const chase *hunt, const girdle_market_pack *pack, int64_t factor) {
  return pack->price * hunt->search->unit * (GIRDLE_SEARCH_SCALE - factor) + pack->pieces * GIRDLE_SEARCH_SCALE;
}

static int32_t keep_cover(chase *hunt, const sample *trial) {
  const girdle_market_pack *packs = hunt->search->market->packs + trial->offer->first_pack;
  cover made = {0, 0, hunt->pool.count};
  for (uint64_t k = 0; k < trial->offer->pack_count; k++) {
    made.goods += trial->copies[k] * packs[k].price;
    made.value += trial->copies[k] * (packs[k].price * hunt->search->unit + packs[k].pieces);
    GIRDLE_TRY(push(hunt, &hunt->pool, &trial->copies[k], sizeof trial->copies[k]));
  }
  return push(hunt, &hunt->covers, &made, sizeof made);
}

/* Every choice of copies of the packs from `at` on. Of packs without a limit no more is taken than the cover needs;
 * further ones are added to labels. `smallest` is the smallest of those taken. */
static int32_t try_copies(chase *hunt, sample *trial, uint64_t at, int64_t left, int64_t weight, int64_t smallest) {
  const girdle_market_pack *pack = &hunt->search->market->packs[trial->offer->first_pack + at];
  int64_t most, each;
  if (weight + (left > 0 ? left / trial->per_pieces * trial->per_piece : 0) > trial->most) return GIRDLE_OK;
  if (++hunt->search->labels > hunt->search->most_labels) return GIRDLE_OK;
  if (at == trial->offer->pack_count) return left <= 0 && -left < smallest ? keep_cover(hunt, trial) : GIRDLE_OK;
  most = left > 0 ? (left - 1) / pack->pieces + 1 : 0;
  if (pack->most >= 0) most = pack->most;
  each = pack_weight(hunt, pack, trial->factor);
  for (int64_t n = 0; n <= most && weight <= trial->most; n++, weight += each, left -= pack->pieces) {
    int64_t least = n && pack->most < 0 && pack->pieces < smallest ? pack->pieces : smallest;
    trial->copies[at] = n;
    GIRDLE_TRY(try_copies(hunt, trial, at + 1, left, weight, least));
  }
  trial->copies[at] = 0;
  return GIRDLE_OK;
}

static int compare_covers(const void *a, const void *b) {
  const cover *one = a, *two = b;
  if (one->value != two->value) return one->value < two->value ? -1 : 1;
  return one->copies < two->copies ? -1 : 1;
}

/* Covers with the same goods differ only in pieces: the one with the fewest does. */
static void thin_covers(store *covers, uint64_t first) {
  cover *items = (cover *)covers->items + first;
  uint64_t kept = 0;
  girdle_sort(items, covers->count - first, sizeof(cover), compare_covers);
  for (uint64_t i = 0; first + i < covers->count; i++)
    if (i == 0 || items[i].goods != items[kept - 1].goods) items[kept++] = items[i];
  covers->count = first + kept;
}

static void find_cheapest_piece(const chase *hunt, sample *trial) {
  trial->per_pieces = 0;
  for (uint64_t k = 0; k < trial->offer->pack_count; k++) {
    const girdle_market_pack *pack = &hunt->search->market->packs[trial->offer->first_pack + k];
    int64_t weight = pack_weight(hunt, pack, trial->factor);
    if (trial->per_pieces && girdle_price_compare((uint64_t)weight, (uint64_t)trial->per_pieces,
                                                  (uint64_t)trial->per_piece, (uint64_t)pack->pieces) >= 0)
      continue;
    trial->per_piece = weight;
    trial->per_pieces = pack->pieces;
  }
}

/* Lists the covers by an offer that an order no worse than the best can hold. */
static int32_t list_covers(chase *hunt, const girdle_market_offer *offer, int dimension) {
  const girdle_search *search = hunt->search;
  sample trial = {.offer = offer, .need = search->market->stones[offer->stone].need};
  const uint64_t first = hunt->covers.count;
  for (uint64_t k = 0; k < offer->pack_count; k++)
    trial.copies[k] = search->market->packs[offer->first_pack + k].copies;
  GIRDLE_TRY(keep_cover(hunt, &trial));
  if (dimension < 0 || !hunt->gait.wide) return GIRDLE_OK;
  memset(trial.copies, 0, sizeof trial.copies);
  trial.factor = hunt->views[0].factors[dimension];
  trial.most = search->best_value - hunt->plan->bound + least_weight(hunt, hunt->plan, offer->stone);
  find_cheapest_piece(hunt, &trial);
  GIRDLE_TRY(try_copies(hunt, &trial, 0, trial.need, 0, INT64_MAX));
  thin_covers(&hunt->covers, first);
  return GIRDLE_OK;
}

/* ---- labels */

static int32_t add_label(chase *hunt, const way *from, int dimension, int64_t goods, int64_t value, uint64_t next,
                         const step *how) {
  way made = *from;
  made.value += value;
  if (dimension >= 0) made.shorts[dimension] = goods < made.shorts[dimension] ? made.shorts[dimension] - goods : 0;
  if (passed(hunt, &made, next)) return GIRDLE_OK;
  if (++hunt->search->labels > hunt->search->most_labels) return GIRDLE_OK;
  made.promise = promise_of(hunt, &made, next);
  made.step = hunt->steps.count;
  GIRDLE_TRY(push(hunt, &hunt->steps, how, sizeof *how));
  return push(hunt, &hunt->next, &made, sizeof made);
}

static int compare_labels(const void *a, const void *b) {
  const way *one = a, *two = b;
  if (one->value != two->value) return one->value < two->value ? -1 : 1;
  for (int d = 0; d < DIMENSIONS; d++)
    if (one->shorts[d] != two->shorts[d]) return one->shorts[d] < two->shorts[d] ? -1 : 1;
  return one->step < two->step ? -1 : 1;
}

static int no_shorter(const way *one, const way *two) {
  for (int d = 0; d < DIMENSIONS; d++)
    if (one->shorts[d] > two->shorts[d]) return 0;
  return 1;
}

/* Sorts the labels from `first` on and drops those that one of less value makes needless. With one threshold the last
 * one kept falls short of the least; with more, looking at the cheapest rivals alone keeps a needless label now and
 * then, which costs time and nothing else. */
static void thin_labels(const chase *hunt, store *labels, uint64_t first) {
  const uint64_t rivals = hunt->dimensions > 1 ? RIVALS_MOST : 0;
  way *items = (way *)labels->items + first;
  uint64_t kept = 0;
  girdle_sort(items, labels->count - first, sizeof(way), compare_labels);
  for (uint64_t i = 0; first + i < labels->count; i++) {
    int needless = kept > 0 && no_shorter(&items[kept - 1], &items[i]);
    for (uint64_t r = 0; r < kept && r < rivals && !needless; r++)
      needless = no_shorter(&items[r], &items[i]);
    if (!needless) items[kept++] = items[i];
  }
  labels->count = first + kept;
}

static int compare_promises(const void *a, const void *b) {
  const way *one = a, *two = b;
  if (one->promise != two->promise) return one->promise < two->promise ? -1 : 1;
  return compare_labels(a, b);
}

/* Keeps the most promising of the labels from `first` on when there are more than the beam is wide. */
static void narrow(chase *hunt, uint64_t first) {
  if (hunt->next.count - first <= hunt->gait.beam) return;
  girdle_sort((way *)hunt->next.items + first, hunt->next.count - first, sizeof(way), compare_promises);
  hunt->next.count = first + hunt->gait.beam;
  hunt->narrowed = 1;
}

/* Each label with each number of further packs, as long as it falls short. A label that grew grows on when its turn
 * comes, since the list is walked to its moving end. */
static int32_t add_packs(chase *hunt, const girdle_market_offer *offer, int dimension, uint64_t first) {
  for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++) {
    const girdle_market_pack *pack = &hunt->search->market->packs[k];
    if (pack->most >= 0 || pack->price == 0) continue;
    for (uint64_t i = first; i < hunt->next.count; i++) {
      const way from = ((way *)hunt->next.items)[i];
      const step how = {from.step, (uint64_t)(offer - hunt->search->market->offers), (int64_t)k, -1};
      if (from.shorts[dimension] == 0) continue;
      if ((i - first) / 4 > hunt->gait.beam) {
        hunt->narrowed = 1;
        break;
      }
      GIRDLE_TRY(add_label(hunt, &from, dimension, pack->price, pack->price * hunt->search->unit + pack->pieces,
                           offer->stone + 1, &how));
    }
    thin_labels(hunt, &hunt->next, first);
    narrow(hunt, first);
  }
  return GIRDLE_OK;
}

static int32_t take_offer(chase *hunt, const girdle_market_offer *offer) {
  const int dimension = hunt->dimension_of[offer->supplier];
  const uint64_t first_cover = hunt->covers.count, first = hunt->next.count;
  GIRDLE_TRY(list_covers(hunt, offer, dimension));
  for (uint64_t i = 0; i < hunt->front.count; i++)
    for (uint64_t c = first_cover; c < hunt->covers.count; c++) {
      const way *from = (const way *)hunt->front.items + i;
      const cover *by = (const cover *)hunt->covers.items + c;
      const step how = {from->step, (uint64_t)(offer - hunt->search->market->offers), -1, (int64_t)c};
      GIRDLE_TRY(add_label(hunt, from, dimension, by->goods, by->value, offer->stone + 1, &how));
      if (dimension < 0 || from->shorts[dimension] == 0) break; /* the cheapest cover comes first */
    }
  thin_labels(hunt, &hunt->next, first);
  narrow(hunt, first);
  return dimension < 0 ? GIRDLE_OK : add_packs(hunt, offer, dimension, first);
}

static int32_t take_stone(chase *hunt, uint64_t stone) {
  const girdle_market *market = hunt->search->market;
  const girdle_market_stone *of = &market->stones[stone];
  store empty;
  hunt->next.count = 0;
  for (uint64_t i = of->first_offer; i < of->first_offer + of->offer_count; i++)
    if (market->offers[i].alone && girdle_search_uses(hunt->plan, market->offers[i].supplier))
      GIRDLE_TRY(take_offer(hunt, &market->offers[i]));
  thin_labels(hunt, &hunt->next, 0);
  narrow(hunt, 0);
  empty = hunt->front;
  hunt->front = hunt->next;
  hunt->next = empty;
  return girdle_common_tick(hunt->search->call, hunt->front.count + 1, -1);
}

/* ---- the hunt */

static int32_t offer_label(chase *hunt, const way *label) {
  girdle_search *search = hunt->search;
  const step *steps = hunt->steps.items;
  const cover *covers = hunt->covers.items;
  const int64_t *pool = hunt->pool.items;
  memset(search->copies, 0, search->market->pack_count * sizeof *search->copies);
  for (uint64_t at = label->step; at; at = steps[at].before) {
    const girdle_market_offer *offer = &search->market->offers[steps[at].offer];
    if (steps[at].pack >= 0) {
      search->copies[steps[at].pack]++;
      continue;
    }
    for (uint64_t k = 0; k < offer->pack_count; k++)
      search->copies[offer->first_pack + k] += pool[covers[steps[at].cover].copies + k];
  }
  return girdle_search_offer(search, search->copies);
}

static int32_t begin(chase *hunt) {
  const step none = {0, 0, -1, -1};
  way empty = {0};
  for (uint64_t s = 0; s < hunt->search->market->supplier_count; s++)
    if (hunt->dimension_of[s] >= 0)
      empty.shorts[hunt->dimension_of[s]] = girdle_search_threshold(hunt->search, hunt->plan, s);
  hunt->steps.count = hunt->covers.count = hunt->pool.count = hunt->front.count = 0;
  GIRDLE_TRY(push(hunt, &hunt->steps, &none, sizeof none));
  return push(hunt, &hunt->front, &empty, sizeof empty);
}

static int32_t walk(chase *hunt, const gait *how) {
  static const way complete = {0};
  hunt->gait = *how;
  hunt->narrowed = 0;
  GIRDLE_TRY(begin(hunt));
  for (uint64_t i = 0; i < hunt->search->market->stone_count; i++)
    GIRDLE_TRY(take_stone(hunt, i));
  for (uint64_t i = 0; i < hunt->front.count; i++) {
    const way *label = (const way *)hunt->front.items + i;
    if (no_shorter(label, &complete)) GIRDLE_TRY(offer_label(hunt, label));
  }
  return GIRDLE_OK;
}

/* The suppliers whose goods must come to something; 0 when they are too many to keep account of. */
static int count_dimensions(chase *hunt) {
  for (uint64_t s = 0; s < hunt->search->market->supplier_count; s++) {
    hunt->dimension_of[s] = -1;
    if (!girdle_search_uses(hunt->plan, s) || girdle_search_threshold(hunt->search, hunt->plan, s) == 0) continue;
    if (hunt->dimensions == DIMENSIONS) return 0;
    hunt->views[0].factors[hunt->dimensions] = hunt->plan->factor[s];
    hunt->dimension_of[s] = hunt->dimensions++;
  }
  return 1;
}

/* First with few labels and the cheapest covers alone, which finds a good order quickly; then with more and more of all
 * that could beat it, until nothing had to be left out. */
static int32_t run(chase *hunt) {
  girdle_search *search = hunt->search;
  static const gait gaits[] = {{0, 1, 64}, {1, 0, 64}, {1, 0, UINT64_MAX}};
  const uint64_t rows = search->market->stone_count + 1;
  choose_views(hunt);
  hunt->lower = girdle_common_new(search->call, rows * hunt->view_count * sizeof *hunt->lower);
  hunt->goods = girdle_common_new(search->call, rows * DIMENSIONS * sizeof *hunt->goods);
  if (!hunt->lower || !hunt->goods) return GIRDLE_MEMORY;
  look_ahead(hunt);
  for (size_t i = 0; i < sizeof gaits / sizeof gaits[0] && hunt->plan->bound <= search->best_value; i++) {
    GIRDLE_TRY(walk(hunt, &gaits[i]));
    if (gaits[i].wide && !hunt->narrowed) break;
  }
  return GIRDLE_OK;
}

int32_t girdle_search_labels(girdle_search *search, const girdle_plan *plan) {
  chase hunt = {.search = search, .plan = plan, .shipping = girdle_search_shipping(search, plan)};
  const uint64_t rows = search->market->stone_count + 1;
  int32_t status = GIRDLE_OK;
  int fits = count_dimensions(&hunt) && search->labels <= search->most_labels;
  if (fits) status = run(&hunt);
  if (!status && (!fits || search->labels > search->most_labels)) {
    search->stopped = 1;
    if (plan->bound < search->open_bound) search->open_bound = plan->bound;
  }
  girdle_common_release(&search->memory, hunt.lower, rows * hunt.view_count * sizeof *hunt.lower);
  girdle_common_release(&search->memory, hunt.goods, rows * DIMENSIONS * sizeof *hunt.goods);
  drop(&hunt, &hunt.steps, sizeof(step));
  drop(&hunt, &hunt.covers, sizeof(cover));
  drop(&hunt, &hunt.pool, sizeof(int64_t));
  drop(&hunt, &hunt.front, sizeof(way));
  drop(&hunt, &hunt.next, sizeof(way));
  return status;
}
