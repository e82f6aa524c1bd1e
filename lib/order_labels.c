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

enum { DIMENSIONS = 4, RIVALS_MOST = 256 };

typedef struct way {
  int64_t value, shorts[DIMENSIONS];
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

typedef struct store {
  void *items;
  uint64_t count, capacity;
} store;

typedef struct chase {
  girdle_search *search;
  const girdle_plan *plan;
  int dimension_of[GIRDLE_MARKET_SUPPLIERS_MOST]; /* -1: no threshold */
  int64_t factors[DIMENSIONS];
  int dimensions, wide;                   /* wide: all covers within the slack; else the cheapest alone */
  int64_t shipping, *lower, *lower_plain; /* scaled; what the stones from each one on add at least */
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

/* 1 when nothing that begins with this label, stones from `next` on still to come, can be as good as the best. */
static int passed(const chase *hunt, const way *label, uint64_t next) {
  const int64_t value = label->value * GIRDLE_SEARCH_SCALE + hunt->shipping;
  int64_t owed = 0;
  for (int d = 0; d < hunt->dimensions; d++)
    owed += hunt->factors[d] * hunt->search->unit * label->shorts[d];
  return value + hunt->lower_plain[next] > hunt->search->best_value ||
         value + hunt->lower[next] + owed > hunt->search->best_value;
}

static int64_t least_weight(const chase *hunt, uint64_t stone, int plain) {
  const girdle_market *market = hunt->search->market;
  const girdle_market_stone *of = &market->stones[stone];
  int64_t least = INT64_MAX;
  for (uint64_t i = of->first_offer; i < of->first_offer + of->offer_count; i++) {
    const girdle_market_offer *offer = &market->offers[i];
    int64_t weight;
    if (!girdle_search_uses(hunt->plan, offer->supplier)) continue;
    weight = girdle_search_weight(hunt->search, offer, plain ? 0 : hunt->plan->factor[offer->supplier]);
    if (weight < least) least = weight;
  }
  return least;
}

static void reckon_bounds(chase *hunt) {
  for (uint64_t i = hunt->search->market->stone_count; i-- > 0;) {
    hunt->lower[i] = hunt->lower[i + 1] + least_weight(hunt, i, 0);
    hunt->lower_plain[i] = hunt->lower_plain[i + 1] + least_weight(hunt, i, 1);
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
  if (dimension < 0 || !hunt->wide) return GIRDLE_OK;
  memset(trial.copies, 0, sizeof trial.copies);
  trial.factor = hunt->factors[dimension];
  trial.most = search->best_value - hunt->plan->bound + least_weight(hunt, offer->stone, 0);
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

/* Sorts the labels from `first` on and drops those that one of less value makes needless. Looking at the cheapest
 * rivals alone keeps a needless label now and then, which costs time and nothing else. */
static void thin_labels(store *labels, uint64_t first) {
  way *items = (way *)labels->items + first;
  uint64_t kept = 0;
  girdle_sort(items, labels->count - first, sizeof(way), compare_labels);
  for (uint64_t i = 0; first + i < labels->count; i++) {
    int needless = kept > 0 && no_shorter(&items[kept - 1], &items[i]);
    for (uint64_t r = 0; r < kept && r < RIVALS_MOST && !needless; r++)
      needless = no_shorter(&items[r], &items[i]);
    if (!needless) items[kept++] = items[i];
  }
  labels->count = first + kept;
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
      GIRDLE_TRY(add_label(hunt, &from, dimension, pack->price, pack->price * hunt->search->unit + pack->pieces,
                           offer->stone + 1, &how));
    }
    thin_labels(&hunt->next, first);
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
  thin_labels(&hunt->next, first);
  return dimension < 0 ? GIRDLE_OK : add_packs(hunt, offer, dimension, first);
}

static int32_t take_stone(chase *hunt, uint64_t stone) {
  const girdle_market *market = hunt->search->market;
  const girdle_market_stone *of = &market->stones[stone];
  store empty;
  hunt->next.count = 0;
  for (uint64_t i = of->first_offer; i < of->first_offer + of->offer_count; i++)
    if (girdle_search_uses(hunt->plan, market->offers[i].supplier)) GIRDLE_TRY(take_offer(hunt, &market->offers[i]));
  thin_labels(&hunt->next, 0);
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

static int32_t walk(chase *hunt, int wide) {
  static const way complete = {0};
  hunt->wide = wide;
  GIRDLE_TRY(begin(hunt));
  for (uint64_t i = 0; i < hunt->search->market->stone_count; i++)
    GIRDLE_TRY(take_stone(hunt, i));
  for (uint64_t i = 0; i < hunt->front.count; i++) {
    const way *label = (const way *)hunt->front.items + i;
    if (no_shorter(label, &complete)) return offer_label(hunt, label);
  }
  return GIRDLE_OK;
}

/* The suppliers whose goods must come to something; 0 when they are too many to keep account of. */
static int count_dimensions(chase *hunt) {
  for (uint64_t s = 0; s < hunt->search->market->supplier_count; s++) {
    hunt->dimension_of[s] = -1;
    if (!girdle_search_uses(hunt->plan, s) || girdle_search_threshold(hunt->search, hunt->plan, s) == 0) continue;
    if (hunt->dimensions == DIMENSIONS) return 0;
    hunt->factors[hunt->dimensions] = hunt->plan->factor[s];
    hunt->dimension_of[s] = hunt->dimensions++;
  }
  return 1;
}

/* First with the cheapest covers alone, which finds a good order quickly; then with all that could beat it. */
static int32_t run(chase *hunt) {
  girdle_search *search = hunt->search;
  const uint64_t bytes = (search->market->stone_count + 1) * sizeof(int64_t);
  hunt->lower = girdle_common_new(search->call, bytes);
  hunt->lower_plain = girdle_common_new(search->call, bytes);
  if (!hunt->lower || !hunt->lower_plain) return GIRDLE_MEMORY;
  reckon_bounds(hunt);
  GIRDLE_TRY(walk(hunt, 0));
  return hunt->plan->bound > search->best_value ? GIRDLE_OK : walk(hunt, 1);
}

int32_t girdle_search_labels(girdle_search *search, const girdle_plan *plan) {
  chase hunt = {.search = search, .plan = plan, .shipping = girdle_search_shipping(search, plan)};
  const uint64_t bytes = (search->market->stone_count + 1) * sizeof(int64_t);
  int32_t status = GIRDLE_OK;
  int fits = count_dimensions(&hunt) && search->labels <= search->most_labels;
  if (fits) status = run(&hunt);
  if (!status && (!fits || search->labels > search->most_labels)) {
    search->stopped = 1;
    if (plan->bound < search->open_bound) search->open_bound = plan->bound;
  }
  girdle_common_release(&search->memory, hunt.lower, bytes);
  girdle_common_release(&search->memory, hunt.lower_plain, bytes);
  drop(&hunt, &hunt.steps, sizeof(step));
  drop(&hunt, &hunt.covers, sizeof(cover));
  drop(&hunt, &hunt.pool, sizeof(int64_t));
  drop(&hunt, &hunt.front, sizeof(way));
  drop(&hunt, &hunt.next, sizeof(way));
  return status;
}
