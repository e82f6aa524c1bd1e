/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "order_search_internal.h"
#include "price_internal.h"
#include "sort_internal.h"

/* Ways to part the lines of a split stone over its offers, each line whole. What each offer then has to hold is covered
 * by its packs alone, so the cheapest covers of all parts together are the cheapest way of that parting; goods towards
 * a threshold are worth the same in all packs of an offer, so they stay that under any factors. Where there are too
 * many partings the stone has none, and order_split.c bounds it by covers that look at no lines. */

enum { PARTINGS_MOST = 20000, CELLS_MOST = 1 << 17, CELLS_A_LABEL = 256 };

/* A row of the pool: for each offer what it is to hold and what that costs, then the pieces of all. */
enum { HOLDS, GOODS, PER_OFFER };

struct girdle_parting {
  uint64_t first, count, width; /* rows, the cheapest first */
  uint64_t leading;             /* of those the first ones alone can be the cheapest under some factors */
  const int64_t *picked;        /* the cheapest of girdle_parts_cheapest */
};

static const int64_t *row_of(const girdle_search *search, const girdle_parting *of, uint64_t row) {
  return search->parts.pool + of->first + row * of->width;
}

static const girdle_market_offer *offer_of(const girdle_search *search, uint64_t stone, uint64_t at) {
  return &search->market->offers[search->market->stones[stone].first_offer + at];
}

static uint64_t offers_of(const girdle_search *search, uint64_t stone) {
  return search->market->stones[stone].offer_count;
}

/* ---- covers of one offer; a cover weighs its minor units x unit and its pieces */

static void fill_covering(girdle_search *search, const girdle_market_offer *offer, girdle_covering *covering) {
  memset(covering, 0, sizeof *covering);
  covering->search = search;
  covering->need = search->market->stones[offer->stone].need;
  for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++) {
    const girdle_market_pack *pack = &search->market->packs[k];
    covering->weights[covering->count] = pack->price * search->unit + pack->pieces;
    covering->packs[covering->count++] = k;
  }
}

/* The same with the table that was made for it. */
static void find_covering(girdle_search *search, const girdle_market_offer *offer, girdle_covering *covering) {
  fill_covering(search, offer, covering);
  girdle_covers_measure(covering);
  covering->table = search->parts.tables[offer - search->market->offers];
}

/* Makes the tables of a stone's offers, unless one would be too large. */
static int32_t make_tables(girdle_search *search, uint64_t stone, int *made) {
  girdle_covering covering;
  *made = 1;
  for (uint64_t i = 0; i < offers_of(search, stone) && *made; i++) {
    const girdle_market_offer *offer = offer_of(search, stone, i);
    uint64_t cells;
    fill_covering(search, offer, &covering);
    cells = girdle_covers_measure(&covering);
    *made = cells <= CELLS_MOST;
    if (!*made) return GIRDLE_OK;
    search->labels += (int64_t)(cells / CELLS_A_LABEL);
    GIRDLE_TRY(girdle_covers_prepare(&covering));
    search->parts.tables[offer - search->market->offers] = covering.table;
  }
  return GIRDLE_OK;
}

/* ---- listing the partings of a stone */

typedef struct listing {
  girdle_search *search;
  uint64_t stone, offers;
  const int64_t *lines;
  uint64_t line_count;
  int64_t holds[GIRDLE_MARKET_SUPPLIERS_MOST];
  girdle_covering coverings[GIRDLE_MARKET_SUPPLIERS_MOST];
  int64_t most; /* of what a way may weigh */
} listing;

/* The partings of lines among so many offers, lines of one length being alike: of each length, combinations with
 * repetition. More than PARTINGS_MOST is not counted further. */
static int64_t count_partings(const int64_t *lines, uint64_t count, int64_t offers) {
  int64_t all = 1;
  for (uint64_t i = 0, alike = 1; i < count && all <= PARTINGS_MOST; i++, alike++) {
    if (i && lines[i] != lines[i - 1]) alike = 1;
    /* C(n + k - 1, k) from C(n + k - 2, k - 1) */
    all = all * (offers + (int64_t)alike - 1) / (int64_t)alike;
  }
  return all;
}

static int32_t add_row(listing *of) {
  girdle_search *search = of->search;
  girdle_parting *parting = &search->parts.of[of->stone];
  int64_t value = 0, pieces = 0, *row;
  GIRDLE_TRY(girdle_common_grow(search->call, &search->memory, (void **)&search->parts.pool,
                                &search->parts.pool_capacity, search->parts.pool_count + parting->width,
                                sizeof *search->parts.pool));
  row = search->parts.pool + search->parts.pool_count;
  for (uint64_t i = 0; i < of->offers; i++) {
    const int64_t least = girdle_covers_least(&of->coverings[i], of->holds[i]);
    if (least > of->most - value) return GIRDLE_OK;
    value += least;
    pieces += of->holds[i] + (least - of->holds[i]) % search->unit; /* what is left over weighs less than a unit */
    row[PER_OFFER * i + HOLDS] = of->holds[i];
    row[PER_OFFER * i + GOODS] = (least - of->holds[i]) / search->unit;
  }
  row[PER_OFFER * of->offers] = pieces;
  search->parts.pool_count += parting->width;
  parting->count++;
  return GIRDLE_OK;
}

/* Every way to give the lines from `line` on to offers, equal ones in the order of the offers. */
static int32_t part_lines(listing *of, uint64_t line, uint64_t from) {
  if (line == of->line_count) return add_row(of);
  if (line && of->lines[line] != of->lines[line - 1]) from = 0;
  GIRDLE_TRY(girdle_common_tick(of->search->call, 1, -1));
  for (uint64_t i = from; i < of->offers; i++) {
    of->holds[i] += of->lines[line];
    GIRDLE_TRY(part_lines(of, line + 1, i));
    of->holds[i] -= of->lines[line];
  }
  return GIRDLE_OK;
}

/* ---- in order */

typedef struct ranked {
  int64_t goods, pieces;
  uint64_t row;
} ranked;

static int compare_ranked(const void *a, const void *b) {
  const ranked *one = a, *two = b;
  if (one->goods != two->goods) return one->goods < two->goods ? -1 : 1;
  if (one->pieces != two->pieces) return one->pieces < two->pieces ? -1 : 1;
  return one->row < two->row ? -1 : one->row > two->row;
}

/* Whether a way is as cheap as another at each offer, and uses no other offers. */
static int does_as_well(const int64_t *one, const int64_t *two, uint64_t offers) {
  for (uint64_t i = 0; i < offers; i++, one += PER_OFFER, two += PER_OFFER)
    if (one[GOODS] > two[GOODS] || (one[HOLDS] && !two[HOLDS])) return 0;
  return 1;
}

/* Copies rows in their order to `to`: those that can be the cheapest, then the others. */
static void put_in_order(const girdle_search *search, girdle_parting *of, const ranked *order, uint64_t offers,
                         int64_t *to) {
  uint64_t behind = of->count;
  for (uint64_t i = 0; i < of->count; i++) {
    const int64_t *row = row_of(search, of, order[i].row);
    int leads = 1;
    for (uint64_t k = 0; k < of->leading && leads; k++)
      leads = !does_as_well(to + k * of->width, row, offers);
    memcpy(to + (leads ? of->leading++ : --behind) * of->width, row, of->width * sizeof *row);
  }
}

static int32_t rank(girdle_search *search, girdle_parting *of, uint64_t offers) {
  const uint64_t rank_bytes = (of->count + 1) * sizeof(ranked), bytes = (of->count * of->width + 1) * sizeof(int64_t);
  ranked *order = girdle_common_new(search->call, rank_bytes);
  int64_t *rows = order ? girdle_common_new(search->call, bytes) : NULL;
  for (uint64_t i = 0; i < of->count && rows; i++) {
    const int64_t *row = row_of(search, of, i);
    order[i] = (ranked){0, row[PER_OFFER * offers], i};
    for (uint64_t k = 0; k < offers; k++)
      order[i].goods += row[PER_OFFER * k + GOODS];
  }
  if (rows) {
    girdle_sort(order, of->count, sizeof *order, compare_ranked);
    put_in_order(search, of, order, offers, rows);
    memcpy(search->parts.pool + of->first, rows, of->count * of->width * sizeof *rows);
  }
  girdle_common_release(&search->memory, rows, bytes);
  girdle_common_release(&search->memory, order, rank_bytes);
  return rows ? GIRDLE_OK : GIRDLE_MEMORY;
}

/* ---- all stones */

/* `most` is what the ways of this stone weigh at most in an order no worse than the best. */
static int32_t list_stone(girdle_search *search, uint64_t stone, int64_t most) {
  const girdle_market_stone *of = &search->market->stones[stone];
  girdle_parting *parting = &search->parts.of[stone];
  listing all = {
      .search = search, .stone = stone, .offers = of->offer_count, .line_count = of->line_count, .most = most};
  int64_t needed = 0;
  int made;
  all.lines = search->market->lines + of->first_line;
  for (uint64_t i = 0; i < of->line_count; i++)
    needed += all.lines[i];
  if (needed != of->need || count_partings(all.lines, all.line_count, (int64_t)all.offers) > PARTINGS_MOST)
    return GIRDLE_OK;
  GIRDLE_TRY(make_tables(search, stone, &made));
  if (!made) return GIRDLE_OK;
  for (uint64_t i = 0; i < all.offers; i++)
    find_covering(search, offer_of(search, stone, i), &all.coverings[i]);
  parting->first = search->parts.pool_count;
  parting->width = PER_OFFER * all.offers + 1;
  GIRDLE_TRY(part_lines(&all, 0, 0));
  return rank(search, parting, all.offers);
}

int32_t girdle_parts_list(girdle_search *search) {
  const girdle_market *market = search->market;
  const girdle_plan every = {.free = (uint32_t)(((uint64_t)1 << market->supplier_count) - 1)};
  int64_t goods[GIRDLE_MARKET_SUPPLIERS_MOST] = {0}, least, slack = search->best_value;
  int covered;
  search->parts.of = girdle_common_new(search->call, market->stone_count * sizeof *search->parts.of);
  search->parts.tables = girdle_common_new(search->call, market->offer_count * sizeof *search->parts.tables);
  if (!search->parts.of || !search->parts.tables) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < market->stone_count; i++) {
    GIRDLE_TRY(girdle_split_cheapest(search, &every, i, goods, &least, &covered));
    slack -= least;
  }
  for (uint64_t i = 0; i < market->stone_count; i++) {
    GIRDLE_TRY(girdle_split_cheapest(search, &every, i, goods, &least, &covered));
    GIRDLE_TRY(list_stone(search, i, (least + slack) / GIRDLE_SEARCH_SCALE));
  }
  return GIRDLE_OK;
}

void girdle_parts_free(girdle_search *search) {
  const girdle_market *market = search->market;
  for (uint64_t i = 0; i < market->offer_count && search->parts.tables; i++) {
    girdle_covering covering;
    if (!search->parts.tables[i]) continue;
    find_covering(search, &market->offers[i], &covering);
    girdle_covers_release(&covering);
  }
  girdle_common_release(&search->memory, search->parts.of, market->stone_count * sizeof *search->parts.of);
  girdle_common_release(&search->memory, search->parts.tables, market->offer_count * sizeof *search->parts.tables);
  girdle_common_release(&search->memory, search->parts.pool, search->parts.pool_capacity * sizeof(int64_t));
}

int girdle_parts_listed(const girdle_search *search, uint64_t stone) {
  return search->parts.of && search->parts.of[stone].width > 0;
}

/* ---- the cheapest under a plan */

/* What a parting weighs, scaled; INT64_MAX when it needs a supplier that is not used. */
static int64_t weigh(const girdle_search *search, const girdle_plan *plan, uint64_t stone, const int64_t *row) {
  const uint64_t offers = offers_of(search, stone);
  int64_t sum = 0, pieces = row[PER_OFFER * offers];
  for (uint64_t i = 0; i < offers; i++, row += PER_OFFER) {
    const uint64_t supplier = offer_of(search, stone, i)->supplier;
    if (row[HOLDS] == 0) continue;
    if (!girdle_search_uses(plan, supplier)) return INT64_MAX;
    sum += row[GOODS] * (GIRDLE_SEARCH_SCALE - plan->factor[supplier]);
    if (plan->factor[supplier]) pieces = search->market->stones[stone].need; /* as girdle_search_weight */
  }
  return sum * search->unit + pieces * GIRDLE_SEARCH_SCALE;
}

void girdle_parts_cheapest(girdle_search *search, const girdle_plan *plan, uint64_t stone, int64_t *goods,
                           int64_t *weight, int *covered) {
  girdle_parting *of = &search->parts.of[stone];
  const int64_t *best = NULL;
  *weight = INT64_MAX;
  for (uint64_t i = 0; i < of->leading; i++) {
    const int64_t *row = row_of(search, of, i), here = weigh(search, plan, stone, row);
    if (here < *weight) *weight = here, best = row;
  }
  of->picked = best;
  *covered = best != NULL;
  for (uint64_t i = 0; i < offers_of(search, stone) && best; i++)
    goods[offer_of(search, stone, i)->supplier] += best[PER_OFFER * i + GOODS];
}

static int32_t copy_part(girdle_search *search, const girdle_market_offer *offer, int64_t holds) {
  int64_t pieces[GIRDLE_MARKET_PACKS_MOST], prices[GIRDLE_MARKET_PACKS_MOST], most[GIRDLE_MARKET_PACKS_MOST], cost;
  for (uint64_t k = 0; k < offer->pack_count; k++) {
    const girdle_market_pack *pack = &search->market->packs[offer->first_pack + k];
    pieces[k] = pack->pieces;
    prices[k] = pack->price;
    most[k] = pack->most;
  }
  return girdle_packs_cheapest(search->call, holds, pieces, prices, most, offer->pack_count,
                               search->copies + offer->first_pack, &cost);
}

int32_t girdle_parts_copies(girdle_search *search) {
  for (uint64_t i = 0; i < search->market->stone_count; i++) {
    const int64_t *picked = girdle_parts_listed(search, i) ? search->parts.of[i].picked : NULL;
    for (uint64_t k = 0; k < offers_of(search, i) && picked; k++)
      if (picked[PER_OFFER * k + HOLDS])
        GIRDLE_TRY(copy_part(search, offer_of(search, i, k), picked[PER_OFFER * k + HOLDS]));
  }
  return GIRDLE_OK;
}

/* ---- every way that is near the cheapest */

typedef struct nearing {
  girdle_search *search;
  const girdle_plan *plan;
  uint64_t stone;
  const int64_t *row;
  int64_t room; /* scaled: by how much the covers may still be dearer than the cheapest */
  int32_t (*keep)(void *context);
  void *context;
  uint64_t at; /* the offer whose covers are being listed */
} nearing;

static int32_t cover_from(nearing *of, uint64_t at);

static int32_t keep_part(girdle_covering *covering) {
  nearing *of = covering->context;
  girdle_search *search = of->search;
  const uint64_t at = of->at;
  const int64_t *part = of->row + PER_OFFER * at, before = of->room;
  int64_t goods = 0;
  int32_t status;
  for (uint64_t k = 0; k < covering->count; k++) {
    search->copies[covering->packs[k]] = covering->copies[k];
    goods += covering->copies[k] * search->market->packs[covering->packs[k]].price;
  }
  of->room -= (goods - part[GOODS]) *
              (GIRDLE_SEARCH_SCALE - of->plan->factor[offer_of(search, of->stone, at)->supplier]) * search->unit;
  status = of->room >= 0 ? cover_from(of, at + 1) : GIRDLE_OK;
  of->room = before;
  of->at = at;
  return status;
}

/* Whether an offer that is to hold nothing may be bought from all the same: packs with a limit, to reach a threshold.
 * Those without are left to order_pad.c. */
static int may_pad(const nearing *of, const girdle_market_offer *offer) {
  int limited = 0;
  for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++)
    limited |= of->search->market->packs[k].most >= 0;
  return limited && girdle_search_uses(of->plan, offer->supplier) &&
         girdle_search_threshold(of->search, of->plan, offer->supplier) > 0;
}

/* Covers the parts of the offers from `at` on in every way there is room for. */
static int32_t cover_from(nearing *of, uint64_t at) {
  girdle_search *search = of->search;
  const girdle_market_offer *offer;
  girdle_covering covering;
  int64_t share;
  for (; at < offers_of(search, of->stone) && of->row[PER_OFFER * at + HOLDS] == 0; at++) {
    offer = offer_of(search, of->stone, at);
    if (may_pad(of, offer)) break;
    memset(search->copies + offer->first_pack, 0, offer->pack_count * sizeof *search->copies);
  }
  if (at == offers_of(search, of->stone)) return of->keep(of->context);
  offer = offer_of(search, of->stone, at);
  find_covering(search, offer, &covering);
  covering.need = of->row[PER_OFFER * at + HOLDS];
  share = GIRDLE_SEARCH_SCALE - of->plan->factor[offer->supplier];
  covering.most = girdle_covers_least(&covering, covering.need) + search->unit; /* what all pieces weigh at most */
  covering.most = share == 0 ? INT64_MAX / 4 : covering.most + of->room / share;
  covering.keep = keep_part;
  covering.context = of;
  of->at = at;
  return girdle_covers_each(&covering);
}

int32_t girdle_parts_each(girdle_search *search, const girdle_plan *plan, uint64_t stone, int64_t most,
                          int32_t (*keep)(void *context), void *context) {
  const girdle_parting *parting = &search->parts.of[stone];
  for (uint64_t i = 0; i < parting->count && search->labels <= search->most_labels; i++) {
    nearing of = {search, plan, stone, row_of(search, parting, i), 0, keep, context, 0};
    const int64_t weight = weigh(search, plan, stone, of.row);
    if (weight == INT64_MAX) continue;
    of.room = most - weight + search->unit * GIRDLE_SEARCH_SCALE; /* padded, fewer pieces may count */
    if (of.room < 0) continue;
    GIRDLE_TRY(cover_from(&of, 0));
  }
  return GIRDLE_OK;
}
