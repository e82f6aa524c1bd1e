/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/order.h"

#include <string.h>

#include "common.h"
#include "price_internal.h"
#include "sort_internal.h"

/* The cheapest packs for one stone: dynamic programming over the pieces still to cover, counted in units of the packs'
 * common divisor. Two facts keep the table small however large the need is. Let pack j cost no more a piece than those
 * after it ("worse" ones), of a units. Among any a worse packs some together make a whole multiple of a units, and
 * copies of j would do as well or better. So either j is nearly used up, or fewer than a worse packs are bought; both
 * tell how many of j are bought at least, and only the rest goes through the table. */

enum { PACKS_MOST = 64, CELLS_MOST = 1 << 26 };
#define PIECES_MOST INT64_C(1000000000000)
#define NONE (INT64_MAX / 2)

typedef struct kind {
  int64_t units, price, most; /* most < 0: no limit */
  int64_t surely, more;       /* copies bought at least; copies that the table chose besides */
  uint64_t index;             /* in the caller's arrays */
} kind;

/* Cheapest first, then what is left over, then the number of packs: rest = units over x rest_scale + packs. */
typedef struct cell {
  int64_t cost, rest;
} cell;

/* One pass over the table: a pack without a limit, or `copies` of one taken together or not at all. */
typedef struct pass {
  uint64_t pack;
  int64_t copies, units, price;
  int free; /* as many as wanted */
} pass;

typedef struct packing {
  girdle_call *call;
  girdle_allocator memory;
  kind packs[PACKS_MOST];
  uint64_t count;
  int64_t divisor, need; /* need in units */
  int64_t rest_scale;
  pass *stages;
  uint64_t stage_count, stage_capacity;
  cell *cells;         /* need + 1 of them */
  unsigned char *took; /* a row of need + 1 for each stage */
} packing;

/* ---- reading */

static int64_t common_divisor(int64_t a, int64_t b) {
  while (b) {
    int64_t rest = a % b;
    a = b;
    b = rest;
  }
  return a;
}

static int32_t check_pack(girdle_call *call, uint64_t index, int64_t pieces, int64_t price) {
  if (pieces < 1 || pieces > PIECES_MOST)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "pack_pieces",
                              "pack %llu must hold 1 to 1000000000000 pieces, not %lld", (unsigned long long)index + 1,
                              (long long)pieces);
  if (price < 0)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "price_minor",
                              "the price of pack %llu must be 0 or more, not %lld", (unsigned long long)index + 1,
                              (long long)price);
  return GIRDLE_OK;
}

/* Keeps the packs that can be bought, in pieces. */
static int32_t read_packs(packing *problem, const int64_t *pieces, const int64_t *prices, const int64_t *at_most,
                          uint64_t packs) {
  for (uint64_t i = 0; i < packs; i++) {
    kind read = {pieces[i], prices[i], at_most ? at_most[i] : -1, 0, 0, i};
    GIRDLE_TRY(check_pack(problem->call, i, pieces[i], prices[i]));
    if (read.most == 0) continue;
    if (problem->count == PACKS_MOST)
      return girdle_common_fail(problem->call, GIRDLE_LIMIT, "packs", "a stone is offered in more than %d packs",
                                PACKS_MOST);
    problem->packs[problem->count++] = read;
    problem->divisor = common_divisor(problem->divisor, pieces[i]);
  }
  return GIRDLE_OK;
}

static int64_t rounded_up(int64_t value, int64_t divisor) {
  return value > 0 ? (value - 1) / divisor + 1 : 0;
}

/* a x b, or `most` when that is less. Both are 0 or more. */
static int64_t times_at_most(int64_t a, int64_t b, int64_t most) {
  return a && b > most / a ? most : a * b;
}

/* Units that packs [0, end) hold together, at most the need. */
static int64_t units_before(const packing *problem, uint64_t end) {
  int64_t sum = 0;
  for (uint64_t i = 0; i < end; i++) {
    const kind *pack = &problem->packs[i];
    int64_t held = pack->most < 0 ? problem->need : times_at_most(pack->most, pack->units, problem->need);
    if (held >= problem->need - sum) return problem->need;
    sum += held;
  }
  return sum;
}

static int32_t to_units(packing *problem, int64_t need) {
  problem->need = rounded_up(need, problem->divisor);
  for (uint64_t i = 0; i < problem->count; i++)
    problem->packs[i].units /= problem->divisor;
  if (units_before(problem, problem->count) == problem->need) return GIRDLE_OK;
  return girdle_common_fail(problem->call, GIRDLE_GEOMETRY, "at_most",
                            "no more than %lld pieces can be bought, and %lld are needed",
                            (long long)(units_before(problem, problem->count) * problem->divisor), (long long)need);
}

/* ---- what is surely bought */

/* Less a piece first; of equal ones the larger pack, then the earlier. */
static int compare_packs(const void *a, const void *b) {
  const kind *one = a, *two = b;
  int by_price =
      girdle_price_compare((uint64_t)one->price, (uint64_t)two->units, (uint64_t)two->price, (uint64_t)one->units);
  if (by_price) return by_price;
  if (one->units != two->units) return one->units > two->units ? -1 : 1;
  return one->index < two->index ? -1 : 1;
}

static int compare_indices(const void *a, const void *b) {
  const kind *one = a, *two = b;
  return one->index < two->index ? -1 : 1;
}

/* The packs stand in order of price a piece. */
static int64_t surely(const packing *problem, uint64_t at) {
  const kind *pack = &problem->packs[at];
  int64_t largest = 0, by_need, worse;
  for (uint64_t i = at + 1; i < problem->count; i++)
    if (problem->packs[i].units > largest) largest = problem->packs[i].units;
  worse = times_at_most(pack->units - 1, largest, problem->need);
  by_need = problem->need - units_before(problem, at) - worse;
  by_need = rounded_up(by_need, pack->units);
  if (pack->most < 0) return by_need;
  if (largest && pack->most - largest + 1 < by_need) by_need = pack->most - largest + 1;
  return by_need < 0 ? 0 : by_need > pack->most ? pack->most : by_need;
}

static void take_what_is_sure(packing *problem) {
  int64_t taken = 0;
  girdle_sort(problem->packs, problem->count, sizeof(kind), compare_packs);
  for (uint64_t i = 0; i < problem->count; i++)
    problem->packs[i].surely = surely(problem, i);
  for (uint64_t i = 0; i < problem->count; i++) {
    kind *pack = &problem->packs[i];
    taken += times_at_most(pack->surely, pack->units, problem->need - taken);
    if (pack->most >= 0) pack->most -= pack->surely;
  }
  problem->need -= taken;
  girdle_sort(problem->packs, problem->count, sizeof(kind), compare_indices);
}

/* ---- the table */

/* Passes run from the last pack to the first, so that on the way back the earlier packs choose first. */
static void add_stages(packing *problem, uint64_t index) {
  const kind *pack = &problem->packs[index];
  int64_t wanted = rounded_up(problem->need, pack->units);
  if (pack->most < 0 || pack->most >= wanted) {
    pass all = {index, 1, pack->units, pack->price, 1};
    problem->stages[problem->stage_count++] = all;
    return;
  }
  for (int64_t left = pack->most, copies = 1; left > 0; left -= copies, copies *= 2) {
    pass some = {index, copies < left ? copies : left, 0, 0, 0};
    some.units = some.copies * pack->units; /* below need + units, and priced below the sum that was checked */
    some.price = some.copies * pack->price;
    problem->stages[problem->stage_count++] = some;
    copies = some.copies;
  }
}

/* No sum in the table, nor one more step, may overflow. */
static int32_t check_sums(packing *problem) {
  int64_t sum = 0, most;
  for (uint64_t i = 0; i < problem->count; i++) {
    const kind *pack = &problem->packs[i];
    GIRDLE_TRY(
        girdle_price_times(problem->call, "price", pack->price, rounded_up(problem->need, pack->units) + 1, &most));
    GIRDLE_TRY(girdle_price_add(problem->call, "price", sum, most, &sum));
  }
  return sum < NONE ? GIRDLE_OK
                    : girdle_common_fail(problem->call, GIRDLE_OVERFLOW, "price", "the prices are too large to add up");
}

/* A limit of n takes at most as many passes as n has bits. */
static uint64_t stages_wanted(const packing *problem) {
  uint64_t sum = 0;
  for (uint64_t i = 0; i < problem->count; i++) {
    int64_t most = problem->packs[i].most;
    for (sum += most<0; most> 0; most /= 2)
      sum++;
  }
  return sum;
}

static int32_t make_table(packing *problem) {
  problem->stage_capacity = stages_wanted(problem);
  problem->stages = girdle_common_new(problem->call, problem->stage_capacity * sizeof(pass));
  if (!problem->stages) return GIRDLE_MEMORY;
  for (uint64_t i = problem->count; i-- > 0;)
    add_stages(problem, i);
  if (problem->need >= CELLS_MOST / (int64_t)(problem->stage_count + sizeof(cell)))
    return girdle_common_fail(problem->call, GIRDLE_LIMIT, "packs",
                              "packs of these sizes have too many combinations for a need so large");
  problem->rest_scale = problem->need + 2;
  problem->cells = girdle_common_new(problem->call, (uint64_t)(problem->need + 1) * sizeof(cell));
  problem->took = girdle_common_new(problem->call, (uint64_t)(problem->need + 1) * problem->stage_count);
  return problem->cells && problem->took ? GIRDLE_OK : GIRDLE_MEMORY;
}

static void free_table(packing *problem) {
  uint64_t rows = (uint64_t)(problem->need + 1);
  girdle_common_release(&problem->memory, problem->stages, problem->stage_capacity * sizeof(pass));
  girdle_common_release(&problem->memory, problem->cells, rows * sizeof(cell));
  girdle_common_release(&problem->memory, problem->took, rows * problem->stage_count);
}

/* Takes the stage at `at` when that is no worse: equal ones go to the earlier pack. */
static void improve(cell *cells, unsigned char *took, int64_t at, const pass *stage, int64_t rest_scale) {
  int64_t over = stage->units - at;
  const cell *from = &cells[over > 0 ? 0 : -over];
  cell with = {from->cost + stage->price, from->rest + stage->copies + (over > 0 ? over * rest_scale : 0)};
  cell *best = &cells[at];
  if (with.cost > best->cost || (with.cost == best->cost && with.rest > best->rest)) return;
  *best = with;
  took[at] = 1;
}

static int32_t fill_table(packing *problem) {
  for (int64_t at = 1; at <= problem->need; at++)
    problem->cells[at].cost = NONE;
  for (uint64_t i = 0; i < problem->stage_count; i++) {
    const pass *stage = &problem->stages[i];
    unsigned char *took = problem->took + i * (uint64_t)(problem->need + 1);
    GIRDLE_TRY(girdle_common_tick(problem->call, (uint64_t)problem->need, (double)i / (double)problem->stage_count));
    if (stage->free)
      for (int64_t at = 1; at <= problem->need; at++)
        improve(problem->cells, took, at, stage, problem->rest_scale);
    else
      for (int64_t at = problem->need; at >= 1; at--)
        improve(problem->cells, took, at, stage, problem->rest_scale);
  }
  return GIRDLE_OK;
}

static void read_back(packing *problem) {
  int64_t at = problem->need;
  for (uint64_t i = problem->stage_count; i-- > 0;) {
    const pass *stage = &problem->stages[i];
    const unsigned char *took = problem->took + i * (uint64_t)(problem->need + 1);
    while (at > 0 && took[at]) {
      problem->packs[stage->pack].more += stage->copies;
      at = at > stage->units ? at - stage->units : 0;
      if (!stage->free) break;
    }
  }
}

static int32_t solve(packing *problem, int64_t need, uint64_t packs, int64_t *packs_out, int64_t *cost_minor) {
  int64_t cost = 0, part;
  GIRDLE_TRY(to_units(problem, need));
  take_what_is_sure(problem);
  GIRDLE_TRY(check_sums(problem));
  if (problem->need > 0) {
    GIRDLE_TRY(make_table(problem));
    GIRDLE_TRY(fill_table(problem));
    read_back(problem);
  }
  for (uint64_t i = 0; i < problem->count; i++) {
    const kind *pack = &problem->packs[i];
    GIRDLE_TRY(girdle_price_times(problem->call, "price", pack->price, pack->surely + pack->more, &part));
    GIRDLE_TRY(girdle_price_add(problem->call, "price", cost, part, &cost));
  }
  memset(packs_out, 0, packs * sizeof *packs_out);
  for (uint64_t i = 0; i < problem->count; i++)
    packs_out[problem->packs[i].index] = problem->packs[i].surely + problem->packs[i].more;
  *cost_minor = cost;
  return GIRDLE_OK;
}

int32_t girdle_packs_cheapest(girdle_call *call, int64_t need, const int64_t *pack_pieces, const int64_t *price_minor,
                              const int64_t *at_most, uint64_t packs, int64_t *packs_out, int64_t *cost_minor) {
  GIRDLE_GIVEN(call, pack_pieces || !packs, price_minor || !packs, packs_out || !packs, cost_minor);
  packing *problem;
  int32_t status;
  if (need < 0 || need > PIECES_MOST)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "need", "need must be 0 to 1000000000000 pieces, not %lld",
                              (long long)need);
  problem = girdle_common_new(call, sizeof *problem);
  if (!problem) return GIRDLE_MEMORY;
  problem->call = call;
  problem->memory = girdle_common_memory(call);
  status = read_packs(problem, pack_pieces, price_minor, at_most, packs);
  if (!status && problem->count == 0 && need > 0)
    status = girdle_common_fail(call, GIRDLE_GEOMETRY, "at_most", "no pack can be bought");
  if (!status && need == 0) {
    if (packs) memset(packs_out, 0, packs * sizeof *packs_out);
    *cost_minor = 0;
  } else if (!status) {
    status = solve(problem, need, packs, packs_out, cost_minor);
    free_table(problem);
  }
  girdle_common_release(&problem->memory, problem, sizeof *problem);
  return status;
}
