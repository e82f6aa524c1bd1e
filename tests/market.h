/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TESTS_MARKET_H
#define GIRDLE_TESTS_MARKET_H

/* Random markets to order in, and the same question as a mixed integer program, for the tests and benchmarks that ask
 * two solvers of their own. */

#include "support.h"

enum { MARKET_STONES = 40, MARKET_SUPPLIERS = 8, MARKET_ROWS = 2000, MARKET_LINES = 12 };

typedef struct random_market {
  girdle_tally *tally;
  girdle_price_row rows[MARKET_ROWS];
  girdle_supplier suppliers[MARKET_SUPPLIERS];
  girdle_order_options options;
  int64_t needs[MARKET_STONES], lines[MARKET_STONES][MARKET_LINES]; /* a need is that of its lines */
  int stone_of[MARKET_ROWS], supplier_of[MARKET_ROWS];
  int stones, sellers, count;
  int most_lines; /* of a stone, at most MARKET_LINES; 0: 6 */
} random_market;

static inline int64_t market_between(uint64_t *seed, int64_t least, int64_t most) {
  return least + (int64_t)(test_random(seed) % (uint64_t)(most - least + 1));
}

static inline void market_supplier(random_market *market, int at, uint64_t *seed, int64_t scale) {
  girdle_supplier *made = &market->suppliers[at];
  memset(made, 0, sizeof *made);
  snprintf(made->name, sizeof made->name, "Seller %c", 'A' + at);
  girdle_currency_parse(NULL, "EUR", &made->currency);
  made->shipping_minor = market_between(seed, 290, 1290);
  made->free_from_minor = test_random(seed) % 4 ? market_between(seed, scale / 16, scale / 2) : -1;
  made->least_order_minor = test_random(seed) % 3 ? 0 : market_between(seed, scale / 64, scale / 8);
}

/* Packs of one stone at one seller: dearer a piece in small packs, now and then limited. */
static inline void market_packs(random_market *market, int stone, int seller, uint64_t *seed, int64_t each_millis) {
  static const int64_t sizes[] = {20, 36, 50, 72, 100, 144, 288, 500, 720, 1440};
  char name[32];
  for (int i = 0; i < 10; i++) {
    girdle_price_row *row = &market->rows[market->count];
    if (test_random(seed) % 10 > 2) continue;
    memset(row, 0, sizeof *row);
    snprintf(row->supplier, sizeof row->supplier, "Seller %c", 'A' + seller);
    snprintf(row->pack, sizeof row->pack, "%d", (int)sizes[i]);
    snprintf(name, sizeof name, "ss20 shade %c%c", 'a' + stone / 10, 'a' + stone % 10);
    girdle_stone_parse(NULL, name, &row->stone);
    row->pack_pieces = sizes[i];
    row->price_minor = 1 + sizes[i] * each_millis * market_between(seed, 850, 1150) / 1000000 * (1000 - 40 * i) / 1000;
    row->at_most = test_random(seed) % 8 ? -1 : market_between(seed, 0, 6);
    market->stone_of[market->count] = stone;
    market->supplier_of[market->count++] = seller;
  }
}

/* A stone's need as lines of several wearers. */
static inline void market_lines(random_market *market, int stone, const girdle_stone *of) {
  uint64_t own = (uint64_t)market->needs[stone], *seed = &own;
  const int most = market->most_lines ? market->most_lines : 6,
            parts = 2 + (int)(test_random(seed) % (uint64_t)(most - 1));
  int64_t left = market->needs[stone];
  memset(market->lines[stone], 0, sizeof market->lines[stone]);
  for (int i = 0; i < parts && left > 0; i++) {
    char tag[16];
    int64_t *line = &market->lines[stone][i];
    *line = i == parts - 1 ? left : market_between(seed, 1, 1 + left / (parts - i));
    left -= *line;
    snprintf(tag, sizeof tag, "A%d", i + 1);
    girdle_tally_add_pieces(NULL, market->tally, tag, "front", "", of, *line);
  }
}

static inline void market_make(random_market *market, uint64_t *seed, int stones, int sellers) {
  market->stones = stones;
  market->sellers = sellers;
  market->count = 0;
  girdle_tally_new(NULL, &market->tally);
  for (int s = 0; s < sellers; s++)
    market_supplier(market, s, seed, 2000 * (int64_t)stones);
  for (int i = 0; i < stones; i++) {
    girdle_stone stone;
    char name[32];
    const int64_t each_millis = market_between(seed, 2000, 9000);
    snprintf(name, sizeof name, "ss20 shade %c%c", 'a' + i / 10, 'a' + i % 10);
    girdle_stone_parse(NULL, name, &stone);
    market->needs[i] = test_random(seed) % 3 ? market_between(seed, 10, 300) : market_between(seed, 300, 2000);
    market_lines(market, i, &stone);
    for (int s = 0; s < sellers; s++)
      if (test_random(seed) % 5) market_packs(market, i, s, seed, each_millis);
  }
  girdle_order_options_init(&market->options, sizeof market->options);
  market->options.lost_share = 0;
  market->options.kit_pieces = 0;
  market->options.prices = market->rows;
  market->options.price_count = (uint64_t)market->count;
  market->options.suppliers = market->suppliers;
  market->options.supplier_count = (uint64_t)sellers;
}

/* ---- the same as a mixed integer program: minimise cost x with least <= row <= most, all columns whole */

enum { MIP_COLUMNS = 3000, MIP_ROWS = 6000, MIP_ENTRIES = 40000 };

typedef struct program {
  int columns, rows, entries;
  double cost[MIP_COLUMNS], most[MIP_COLUMNS], least[MIP_ROWS]; /* every row is at least `least` */
  int row_of[MIP_ENTRIES], column_of[MIP_ENTRIES];
  double value[MIP_ENTRIES];
} program;

static inline int mip_column(program *mip, double cost, double most) {
  mip->cost[mip->columns] = cost;
  mip->most[mip->columns] = most;
  return mip->columns++;
}

static inline int mip_row(program *mip, double least) {
  mip->least[mip->rows] = least;
  return mip->rows++;
}

static inline void mip_entry(program *mip, int row, int column, double value) {
  mip->row_of[mip->entries] = row;
  mip->column_of[mip->entries] = column;
  mip->value[mip->entries++] = value;
}

/* Used, free of shipping, least order: z, f and the goods of one seller; copies of row r are column r. */
static inline void mip_seller(program *mip, const random_market *market, int seller, int used) {
  const girdle_supplier *of = &market->suppliers[seller];
  int row;
  if (of->least_order_minor) {
    row = mip_row(mip, 0);
    for (int r = 0; r < market->count; r++)
      if (market->supplier_of[r] == seller) mip_entry(mip, row, r, (double)market->rows[r].price_minor);
    mip_entry(mip, row, used, -(double)of->least_order_minor);
  }
  if (of->free_from_minor >= 0) {
    int free = mip_column(mip, -(double)of->shipping_minor, 1);
    row = mip_row(mip, 0);
    for (int r = 0; r < market->count; r++)
      if (market->supplier_of[r] == seller) mip_entry(mip, row, r, (double)market->rows[r].price_minor);
    mip_entry(mip, row, free, -(double)of->free_from_minor);
    row = mip_row(mip, 0);
    mip_entry(mip, row, used, 1);
    mip_entry(mip, row, free, -1);
  }
}

/* One stone from one seller: chosen or not, all its packs from there. */
static inline void mip_whole_stone(program *mip, const random_market *market, int stone, const int *used) {
  int one = mip_row(mip, 1), offers = 0;
  for (int s = 0; s < market->sellers; s++) {
    int chosen = -1, cover = -1, link;
    for (int r = 0; r < market->count; r++) {
      if (market->stone_of[r] != stone || market->supplier_of[r] != s) continue;
      if (chosen < 0) {
        chosen = mip_column(mip, 0, 1);
        cover = mip_row(mip, 0);
        mip_entry(mip, cover, chosen, -(double)market->needs[stone]);
        mip_entry(mip, one, chosen, 1);
        link = mip_row(mip, 0);
        mip_entry(mip, link, used[s], 1);
        mip_entry(mip, link, chosen, -1);
        offers++;
      }
      mip_entry(mip, cover, r, (double)market->rows[r].pack_pieces);
      link = mip_row(mip, 0);
      mip_entry(mip, link, chosen, mip->most[r]);
      mip_entry(mip, link, r, -1);
    }
  }
  /* two offers of one stone are never both chosen: -sum >= -1 */
  if (offers > 1) {
    int row = mip_row(mip, -1);
    for (int e = 0, end = mip->entries; e < end; e++)
      if (mip->row_of[e] == one) mip_entry(mip, row, mip->column_of[e], -1);
  }
}

/* Each line from one seller, who has enough for all that come from there. */
static inline void mip_lines(program *mip, const random_market *market, int stone) {
  int from[MARKET_SUPPLIERS];
  for (int s = 0; s < market->sellers; s++) {
    from[s] = mip_row(mip, 0);
    for (int r = 0; r < market->count; r++)
      if (market->stone_of[r] == stone && market->supplier_of[r] == s)
        mip_entry(mip, from[s], r, (double)market->rows[r].pack_pieces);
  }
  for (int i = 0; i < MARKET_LINES && market->lines[stone][i]; i++) {
    int one = mip_row(mip, 1);
    for (int s = 0; s < market->sellers; s++) {
      int chosen = mip_column(mip, 0, 1);
      mip_entry(mip, one, chosen, 1);
      mip_entry(mip, from[s], chosen, -(double)market->lines[stone][i]);
    }
  }
}

/* One stone from all sellers together, its lines from one each. */
static inline void mip_split_stone(program *mip, const random_market *market, int stone, const int *used) {
  int cover = mip_row(mip, (double)market->needs[stone]);
  for (int r = 0; r < market->count; r++) {
    int link;
    if (market->stone_of[r] != stone) continue;
    mip_entry(mip, cover, r, (double)market->rows[r].pack_pieces);
    link = mip_row(mip, 0);
    mip_entry(mip, link, used[market->supplier_of[r]], mip->most[r]);
    mip_entry(mip, link, r, -1);
  }
  mip_lines(mip, market, stone);
}

static inline void mip_make(program *mip, const random_market *market) {
  int used[MARKET_SUPPLIERS];
  memset(mip, 0, sizeof *mip);
  for (int r = 0; r < market->count; r++) {
    const girdle_price_row *row = &market->rows[r];
    /* enough to cover the need, and more to reach the largest threshold */
    double most = (double)(market->needs[market->stone_of[r]] / row->pack_pieces + 1 + 40000 / row->price_minor);
    mip_column(mip, (double)row->price_minor,
               row->at_most >= 0 && (double)row->at_most < most ? (double)row->at_most : most);
  }
  for (int s = 0; s < market->sellers; s++)
    used[s] = mip_column(mip, (double)market->suppliers[s].shipping_minor, 1);
  for (int i = 0; i < market->stones; i++)
    if (market->options.flags & GIRDLE_ORDER_SPLIT)
      mip_split_stone(mip, market, i, used);
    else
      mip_whole_stone(mip, market, i, used);
  for (int s = 0; s < market->sellers; s++)
    mip_seller(mip, market, s, used[s]);
}

#endif
