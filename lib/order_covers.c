/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "common.h"
#include "order_search_internal.h"
#include "price_internal.h"

/* Packs are tried one after the other, each with every number of copies. What the packs still to come weigh at least
 * for what is left is known from a table, made from the last pack to the first, so that hardly a step leads nowhere;
 * where the table would be too large, the pack that is lightest a piece stands for it. */

enum { CELLS_MOST = 1 << 19, CELLS_A_LABEL = 256 };
#define NONE (INT64_MAX / 2)

static const girdle_market_pack *pack_at(const girdle_covering *covering, uint64_t at) {
  return &covering->search->market->packs[covering->packs[at]];
}

/* ---- what is still to come weighs at least */

int64_t girdle_covers_divisor(int64_t a, int64_t b) {
  while (b) {
    const int64_t rest = a % b;
    a = b;
    b = rest;
  }
  return a;
}

static int64_t rounded_up(int64_t value, int64_t divisor) {
  return value > 0 ? (value - 1) / divisor + 1 : 0;
}

/* The row of the table for the packs from `at` on: a number for each number of units left. */
static int64_t *row_of(const girdle_covering *covering, uint64_t at) {
  return covering->table + at * (uint64_t)(covering->units + 1);
}

/* A pack without a limit, or with one that is no hindrance. */
static void fill_free(const girdle_covering *covering, uint64_t at, int64_t pack_units) {
  const int64_t *after = row_of(covering, at + 1);
  int64_t *row = row_of(covering, at);
  for (int64_t left = 1; left <= covering->units; left++) {
    const int64_t with = row[left > pack_units ? left - pack_units : 0] + covering->weights[at];
    row[left] = with < after[left] ? with : after[left];
  }
}

static void fill_limited(const girdle_covering *covering, uint64_t at, int64_t pack_units, int64_t most) {
  const int64_t *after = row_of(covering, at + 1);
  int64_t *row = row_of(covering, at);
  for (int64_t left = 1; left <= covering->units; left++) {
    row[left] = after[left];
    for (int64_t n = 1; n <= most && (n - 1) * pack_units < left; n++) {
      const int64_t rest = left - n * pack_units, with = after[rest > 0 ? rest : 0] + n * covering->weights[at];
      if (with < row[left]) row[left] = with;
    }
  }
}

static void fill_table(girdle_covering *covering) {
  int64_t *last = row_of(covering, covering->count);
  for (int64_t left = 1; left <= covering->units; left++)
    last[left] = NONE;
  for (uint64_t at = covering->count; at-- > 0;) {
    const girdle_market_pack *pack = pack_at(covering, at);
    const int64_t units = pack->pieces / covering->divisor;
    if (pack->most < 0 || pack->most >= rounded_up(covering->units, units))
      fill_free(covering, at, units);
    else
      fill_limited(covering, at, units, pack->most);
  }
}

static int64_t weighs_at_least(const girdle_covering *covering, uint64_t at, int64_t left) {
  if (left <= 0) return 0;
  if (covering->table) return row_of(covering, at)[rounded_up(left, covering->divisor)];
  return left / covering->per_pieces * covering->per_weight;
}

/* ---- the covers */

/* Every choice of copies of the packs from `at` on. `smallest` is the smallest of those taken that have no limit. */
static int32_t try_copies(girdle_covering *covering, uint64_t at, int64_t left, int64_t weight, int64_t smallest) {
  const girdle_market_pack *pack;
  int64_t most;
  if (-left >= smallest || weight + weighs_at_least(covering, at, left) > covering->most) return GIRDLE_OK;
  if (++covering->search->labels > covering->search->most_labels) return GIRDLE_OK;
  if (at == covering->count) return left <= 0 ? covering->keep(covering) : GIRDLE_OK;
  pack = pack_at(covering, at);
  most = rounded_up(left, pack->pieces);
  if (pack->most >= 0 && (covering->weights[at] > 0 || pack->most < most)) most = pack->most;
  for (int64_t n = 0; n <= most && weight <= covering->most; n++, left -= pack->pieces) {
    const int64_t least = n && pack->most < 0 && pack->pieces < smallest ? pack->pieces : smallest;
    covering->copies[at] = n;
    GIRDLE_TRY(try_copies(covering, at + 1, left, weight, least));
    weight += covering->weights[at];
  }
  covering->copies[at] = 0;
  return GIRDLE_OK;
}

static void find_lightest_piece(girdle_covering *covering) {
  covering->per_pieces = 0;
  for (uint64_t k = 0; k < covering->count; k++) {
    const int64_t pieces = pack_at(covering, k)->pieces;
    if (covering->per_pieces && girdle_price_compare((uint64_t)covering->weights[k], (uint64_t)covering->per_pieces,
                                                     (uint64_t)covering->per_weight, (uint64_t)pieces) >= 0)
      continue;
    covering->per_weight = covering->weights[k];
    covering->per_pieces = pieces;
  }
}

uint64_t girdle_covers_measure(girdle_covering *covering) {
  covering->divisor = 0;
  for (uint64_t k = 0; k < covering->count; k++)
    covering->divisor = girdle_covers_divisor(covering->divisor, pack_at(covering, k)->pieces);
  covering->units = rounded_up(covering->need, covering->divisor);
  covering->table = NULL;
  find_lightest_piece(covering);
  return (uint64_t)(covering->units + 1) * (covering->count + 1);
}

int32_t girdle_covers_prepare(girdle_covering *covering) {
  covering->table = girdle_common_new(covering->search->call, girdle_covers_measure(covering) * sizeof(int64_t));
  if (!covering->table) return GIRDLE_MEMORY;
  fill_table(covering);
  return GIRDLE_OK;
}

void girdle_covers_release(const girdle_covering *covering) {
  girdle_common_release(&covering->search->memory, covering->table,
                        (uint64_t)(covering->units + 1) * (covering->count + 1) * sizeof *covering->table);
}

int64_t girdle_covers_least(const girdle_covering *covering, int64_t pieces) {
  return weighs_at_least(covering, 0, pieces);
}

int32_t girdle_covers_each(girdle_covering *covering) {
  return try_copies(covering, 0, covering->need, 0, INT64_MAX);
}

int32_t girdle_covers_list(girdle_covering *covering) {
  const uint64_t cells = girdle_covers_measure(covering);
  int32_t status;
  if (covering->units < CELLS_MOST / (int64_t)(covering->count + 1)) {
    covering->search->labels += (int64_t)cells / CELLS_A_LABEL;
    GIRDLE_TRY(girdle_covers_prepare(covering));
  }
  status = girdle_covers_each(covering);
  if (covering->table) girdle_covers_release(covering);
  return status;
}
