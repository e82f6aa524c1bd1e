/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "order_search_internal.h"
#include "sort_internal.h"

/* Buying more than is needed from one supplier, so that its goods reach a threshold. Each stone bought there may be
 * covered in a dearer way (another cover that needs all its packs), and further packs may be added to any of them. What
 * that adds to the goods is a sum of whole numbers, so a table over those sums tells the smallest that will do, and the
 * fewest pieces with which it is reached. */

enum { CELLS_MOST = 1 << 22, CELLS_A_LABEL = 256 };
#define NONE (INT64_MAX / 2)

/* ---- covers of one stone by one offer */

static int32_t keep_cover(girdle_covering *covering) {
  girdle_pads *pads = covering->context;
  const girdle_market *market = pads->search->market;
  const girdle_market_offer *offer = &market->offers[pads->listed];
  girdle_pad_cover made = {-offer->cost, -offer->pieces, pads->pool_count};
  GIRDLE_TRY(girdle_common_grow(pads->search->call, &pads->search->memory, (void **)&pads->pool, &pads->pool_capacity,
                                pads->pool_count + covering->count, sizeof *pads->pool));
  GIRDLE_TRY(girdle_common_grow(pads->search->call, &pads->search->memory, (void **)&pads->covers,
                                &pads->cover_capacity, pads->cover_count + 1, sizeof *pads->covers));
  for (uint64_t k = 0; k < covering->count; k++) {
    made.added += covering->copies[k] * market->packs[covering->packs[k]].price;
    made.pieces += covering->copies[k] * market->packs[covering->packs[k]].pieces;
    pads->pool[pads->pool_count++] = covering->copies[k];
  }
  pads->covers[pads->cover_count++] = made;
  return GIRDLE_OK;
}

static int compare_covers(const void *a, const void *b) {
  const girdle_pad_cover *one = a, *two = b;
  if (one->added != two->added) return one->added < two->added ? -1 : 1;
  if (one->pieces != two->pieces) return one->pieces < two->pieces ? -1 : 1;
  return one->copies < two->copies ? -1 : 1;
}

/* Of covers that cost the same the one with the fewest pieces does. */
static void thin_covers(girdle_pads *pads, uint64_t first) {
  girdle_pad_cover *covers;
  uint64_t kept = 0;
  if (pads->cover_count == first) return;
  covers = pads->covers + first;
  girdle_sort(covers, pads->cover_count - first, sizeof *covers, compare_covers);
  for (uint64_t i = 0; first + i < pads->cover_count; i++)
    if (kept == 0 || covers[i].added != covers[kept - 1].added) covers[kept++] = covers[i];
  pads->cover_count = first + kept;
}

/* Lists the covers by an offer that cost at most `reach` more than its cheapest, unless they are listed already. */
static int32_t list_covers(girdle_pads *pads, uint64_t offer, int64_t reach) {
  const girdle_market *market = pads->search->market;
  const girdle_market_offer *of = &market->offers[offer];
  girdle_pad_menu *menu = &pads->menus[offer];
  girdle_covering covering = {.search = pads->search, .keep = keep_cover, .context = pads};
  if (menu->count && menu->reach >= reach) return GIRDLE_OK;
  covering.need = market->stones[of->stone].need;
  covering.most = of->cost + reach;
  for (uint64_t k = of->first_pack; k < of->first_pack + of->pack_count; k++) {
    covering.weights[covering.count] = market->packs[k].price;
    covering.packs[covering.count++] = k;
  }
  pads->listed = offer;
  *menu = (girdle_pad_menu){pads->cover_count, 0, reach};
  GIRDLE_TRY(girdle_covers_list(&covering));
  thin_covers(pads, menu->first);
  menu->count = pads->cover_count - menu->first;
  return GIRDLE_OK;
}

/* ---- the table */

/* A row of the table: one stone's covers (pack < 0), or one more pack any number of times. */
typedef struct stage {
  uint64_t offer;
  int64_t pack;
} stage;

/* What is asked of the table: all sums are in units of a common divisor. */
typedef struct question {
  girdle_pads *pads;
  const stage *stages;
  uint64_t stage_count;
  int64_t divisor, wanted, most;
} question;

static int32_t add_stage(girdle_pads *pads, uint64_t offer, int64_t pack) {
  stage *stages;
  GIRDLE_TRY(girdle_common_grow(pads->search->call, &pads->search->memory, &pads->stages, &pads->stage_capacity,
                                pads->stage_count + 1, sizeof *stages));
  stages = pads->stages;
  stages[pads->stage_count++] = (stage){offer, pack};
  return GIRDLE_OK;
}

static int32_t add_covers(girdle_pads *pads, uint64_t offer, int64_t reach, int64_t *divisor) {
  const girdle_pad_menu *menu = &pads->menus[offer];
  GIRDLE_TRY(list_covers(pads, offer, reach));
  for (uint64_t c = menu->first; c < menu->first + menu->count; c++)
    *divisor = girdle_covers_divisor(*divisor, pads->covers[c].added);
  return menu->count > 1 ? add_stage(pads, offer, -1) : GIRDLE_OK;
}

static int32_t add_packs(girdle_pads *pads, uint64_t offer, int64_t *divisor) {
  const girdle_market *market = pads->search->market;
  const girdle_market_offer *of = &market->offers[offer];
  for (uint64_t k = of->first_pack; k < of->first_pack + of->pack_count; k++) {
    if (market->packs[k].most >= 0 || market->packs[k].price == 0) continue;
    GIRDLE_TRY(add_stage(pads, offer, (int64_t)k));
    *divisor = girdle_covers_divisor(*divisor, market->packs[k].price);
  }
  return GIRDLE_OK;
}

/* Covers and further packs of what is bought from the supplier, and what all their prices are multiples of. */
static int32_t list_stages(girdle_pads *pads, uint64_t supplier, int64_t reach, const uint64_t *chosen,
                           int64_t *divisor) {
  const girdle_market *market = pads->search->market;
  pads->stage_count = 0;
  *divisor = 0;
  for (uint64_t i = 0; i < market->offer_count; i++) {
    if (market->offers[i].supplier != supplier || (chosen && chosen[market->offers[i].stone] != i)) continue;
    if (chosen) GIRDLE_TRY(add_covers(pads, i, reach, divisor));
    GIRDLE_TRY(add_packs(pads, i, divisor));
  }
  return GIRDLE_OK;
}

static void fill_covers(const question *ask, const girdle_pad_menu *menu, const int64_t *before, int64_t *after) {
  for (int64_t e = 0; e <= ask->most; e++)
    after[e] = NONE;
  for (uint64_t c = menu->first; c < menu->first + menu->count; c++) {
    const girdle_pad_cover *cover = &ask->pads->covers[c];
    const int64_t added = cover->added / ask->divisor;
    for (int64_t e = added; e <= ask->most; e++)
      if (before[e - added] < NONE && before[e - added] + cover->pieces < after[e])
        after[e] = before[e - added] + cover->pieces;
  }
}

static void fill_packs(const question *ask, const girdle_market_pack *pack, const int64_t *before, int64_t *after) {
  const int64_t added = pack->price / ask->divisor;
  memcpy(after, before, (size_t)(ask->most + 1) * sizeof *after);
  for (int64_t e = added; e <= ask->most; e++)
    if (after[e - added] < NONE && after[e - added] + pack->pieces < after[e])
      after[e] = after[e - added] + pack->pieces;
}

static int64_t *row_of(const question *ask, uint64_t row) {
  return ask->pads->cells + row * (uint64_t)(ask->most + 1);
}

static void fill(const question *ask) {
  int64_t *first = row_of(ask, 0);
  for (int64_t e = 1; e <= ask->most; e++)
    first[e] = NONE;
  first[0] = 0;
  for (uint64_t i = 0; i < ask->stage_count; i++) {
    const stage *at = &ask->stages[i];
    if (at->pack < 0)
      fill_covers(ask, &ask->pads->menus[at->offer], row_of(ask, i), row_of(ask, i + 1));
    else
      fill_packs(ask, &ask->pads->search->market->packs[at->pack], row_of(ask, i), row_of(ask, i + 1));
  }
}

/* Which cover a stage took to come to a sum; returns the sum that was there before. */
static int64_t take_cover(const question *ask, uint64_t at, int64_t sum) {
  const girdle_pads *pads = ask->pads;
  const uint64_t offer = ask->stages[at].offer;
  const girdle_market_offer *of = &pads->search->market->offers[offer];
  const int64_t *before = row_of(ask, at), *after = row_of(ask, at + 1);
  for (uint64_t c = pads->menus[offer].first; c < pads->menus[offer].first + pads->menus[offer].count; c++) {
    const girdle_pad_cover *cover = &pads->covers[c];
    const int64_t from = sum - cover->added / ask->divisor;
    if (from < 0 || before[from] >= NONE || before[from] + cover->pieces != after[sum]) continue;
    for (uint64_t k = 0; k < of->pack_count; k++) /* besides the further packs that are there by now */
      pads->search->copies[of->first_pack + k] +=
          pads->pool[cover->copies + k] - pads->search->market->packs[of->first_pack + k].copies;
    return from;
  }
  return sum;
}

static int64_t take_packs(const question *ask, uint64_t at, int64_t sum) {
  const girdle_search *search = ask->pads->search;
  const int64_t pack = ask->stages[at].pack, added = search->market->packs[pack].price / ask->divisor;
  const int64_t *before = row_of(ask, at), *after = row_of(ask, at + 1);
  for (; after[sum] != before[sum]; sum -= added)
    search->copies[pack]++;
  return sum;
}

static void read_back(const question *ask, int64_t sum) {
  for (uint64_t i = ask->stage_count; i-- > 0;)
    sum = ask->stages[i].pack < 0 ? take_cover(ask, i, sum) : take_packs(ask, i, sum);
}

int32_t girdle_pads_add(girdle_pads *pads, uint64_t supplier, const uint64_t *chosen, int64_t wanted, int64_t most,
                        int64_t *added) {
  question ask = {.pads = pads};
  int64_t cells;
  *added = -1;
  GIRDLE_TRY(list_stages(pads, supplier, most, chosen, &ask.divisor));
  if (ask.divisor == 0 || pads->search->labels > pads->search->most_labels) return GIRDLE_OK;
  ask.stages = pads->stages;
  ask.stage_count = pads->stage_count;
  ask.wanted = (wanted - 1) / ask.divisor + 1;
  ask.most = most / ask.divisor;
  if (ask.most < ask.wanted) return GIRDLE_OK;
  if (ask.most >= CELLS_MOST / (int64_t)(ask.stage_count + 1)) {
    pads->search->labels = pads->search->most_labels + 1; /* more than can be looked at */
    return GIRDLE_OK;
  }
  cells = (ask.most + 1) * (int64_t)(ask.stage_count + 1);
  pads->search->labels += 1 + cells / CELLS_A_LABEL;
  GIRDLE_TRY(girdle_common_grow(pads->search->call, &pads->search->memory, (void **)&pads->cells, &pads->cell_capacity,
                                (uint64_t)cells, sizeof *pads->cells));
  fill(&ask);
  for (int64_t sum = ask.wanted; sum <= ask.most; sum++) {
    if (row_of(&ask, ask.stage_count)[sum] >= NONE) continue;
    read_back(&ask, sum);
    *added = sum * ask.divisor;
    return GIRDLE_OK;
  }
  return GIRDLE_OK;
}

/* ---- */

int32_t girdle_pads_new(girdle_search *search, girdle_pads *pads) {
  memset(pads, 0, sizeof *pads);
  pads->search = search;
  pads->menus = girdle_common_new(search->call, search->market->offer_count * sizeof *pads->menus);
  return pads->menus ? GIRDLE_OK : GIRDLE_MEMORY;
}

void girdle_pads_free(girdle_pads *pads) {
  const girdle_allocator *memory = &pads->search->memory;
  girdle_common_release(memory, pads->menus, pads->search->market->offer_count * sizeof *pads->menus);
  girdle_common_release(memory, pads->covers, pads->cover_capacity * sizeof *pads->covers);
  girdle_common_release(memory, pads->pool, pads->pool_capacity * sizeof *pads->pool);
  girdle_common_release(memory, pads->cells, pads->cell_capacity * sizeof *pads->cells);
  girdle_common_release(memory, pads->stages, pads->stage_capacity * sizeof(stage));
}
