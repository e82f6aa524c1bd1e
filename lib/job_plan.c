/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"

#include <string.h>

#include "common.h"
#include "job_internal.h"

static const int64_t PIECES_MOST = 1000000000;

typedef struct planning {
  const girdle_club *club;
  const girdle_plan_zone *zones;
  uint64_t zone_count;
  int32_t kind;
  int64_t amount, *counts;
} planning;

/* ---- sharing a number of pieces out */

/* The next priority above `after`, and the sum of the most of its zones; returns 0 when there is none. */
static int next_tier(const planning *p, int64_t after, int32_t *priority, int64_t *sum) {
  int64_t best = INT64_MAX;
  *sum = 0;
  for (uint64_t i = 0; i < p->zone_count; i++)
    if (p->zones[i].priority > after && p->zones[i].priority < best) best = p->zones[i].priority;
  for (uint64_t i = 0; i < p->zone_count; i++)
    if (p->zones[i].priority == best) *sum += p->zones[i].most;
  *priority = (int32_t)best;
  return best != INT64_MAX;
}

/* The zone of a tier that is next to grow: the greatest most / (2 count + 1), the earlier of equals. */
static uint64_t next_zone(const planning *p, int32_t priority) {
  uint64_t best = p->zone_count;
  for (uint64_t i = 0; i < p->zone_count; i++) {
    if (p->zones[i].priority != priority) continue;
    if (best == p->zone_count ||
        p->zones[i].most * (2 * p->counts[best] + 1) > p->zones[best].most * (2 * p->counts[i] + 1))
      best = i;
  }
  return best;
}

/* Begins where the divisor of a few pieces less stands, which Sainte-Lague's way passes through, and grows from there.
 */
static void share_tier(const planning *p, int32_t priority, int64_t sum, int64_t pieces) {
  int64_t few = pieces - (int64_t)p->zone_count, left = pieces;
  for (uint64_t i = 0; i < p->zone_count; i++) {
    if (p->zones[i].priority != priority) continue;
    p->counts[i] = few > 0 ? (2 * p->zones[i].most * few + sum) / (2 * sum) : 0;
    left -= p->counts[i];
  }
  for (; left > 0; left--)
    p->counts[next_zone(p, priority)]++;
}

static void share_out(const planning *p, int64_t pieces) {
  int32_t priority;
  int64_t after = INT64_MIN, sum;
  memset(p->counts, 0, p->zone_count * sizeof *p->counts);
  while (pieces > 0 && next_tier(p, after, &priority, &sum)) {
    int64_t taken = pieces < sum ? pieces : sum;
    if (taken) share_tier(p, priority, sum, taken);
    pieces -= taken;
    after = priority;
  }
}

/* ---- what a number of pieces comes to */

/* The first stones of a sequence are one more where it does not end whole. */
static int32_t add_zone(girdle_call *call, const girdle_plan_zone *zone, int64_t count, girdle_tally *tally) {
  int64_t length = (int64_t)zone->stone_count;
  for (int64_t i = 0; i < length && i < count; i++)
    GIRDLE_TRY(girdle_tally_add_pieces(call, tally, "plan", zone->name, zone->side, &zone->stones[i],
                                       count / length + (i < count % length)));
  return GIRDLE_OK;
}

static int32_t tally_of(girdle_call *call, const planning *p, int64_t pieces, girdle_tally **out) {
  girdle_tally *tally = NULL;
  int32_t status = girdle_tally_new(call, &tally);
  share_out(p, pieces);
  for (uint64_t i = 0; i < p->zone_count && !status; i++)
    status = add_zone(call, &p->zones[i], p->counts[i], tally);
  if (status)
    girdle_tally_free(tally);
  else
    *out = tally;
  return status;
}

/* -1 without prices, or where one is missing. */
static int32_t cost_of(girdle_call *call, const planning *p, const girdle_tally *tally, int64_t *cost_minor) {
  girdle_order_options options;
  girdle_order_total total;
  girdle_order *order;
  girdle_learned learned;
  girdle_work_rates rates;
  *cost_minor = -1;
  if (p->club->prices.count == 0) return GIRDLE_OK;
  GIRDLE_TRY(girdle_job_learn(call, p->club, tally, &learned, &rates));
  girdle_job_order_options(p->club, learned.lost_share, &options);
  GIRDLE_TRY(girdle_order_plan(call, tally, &options, &order));
  girdle_order_sum(order, &total);
  girdle_order_free(order);
  if (total.unpriced_stones == 0) *cost_minor = total.total_minor;
  return GIRDLE_OK;
}

static int64_t in_stock(const girdle_club *club, const girdle_stone *stone) {
  const girdle_stock_row *rows = club->stock.items;
  int64_t pieces = 0;
  for (uint64_t i = 0; i < club->stock.count; i++)
    if (girdle_stone_equal(&rows[i].stone, stone)) pieces += rows[i].pieces;
  return pieces;
}

static int32_t stock_holds(girdle_call *call, const planning *p, const girdle_tally *tally, int *fits) {
  girdle_tally *sums;
  const girdle_tally_line *lines;
  uint64_t count;
  GIRDLE_TRY(girdle_tally_by_stone(call, tally, &sums));
  lines = girdle_tally_lines(sums, &count);
  *fits = 1;
  for (uint64_t i = 0; i < count; i++)
    *fits &= lines[i].count <= in_stock(p->club, &lines[i].stone);
  girdle_tally_free(sums);
  return GIRDLE_OK;
}

static int32_t work_of(girdle_call *call, const planning *p, const girdle_tally *tally, girdle_work *out) {
  girdle_learned learned;
  girdle_work_rates rates;
  GIRDLE_TRY(girdle_job_learn(call, p->club, tally, &learned, &rates));
  return girdle_work_estimate(call, tally, &rates, out);
}

static int32_t tally_fits(girdle_call *call, const planning *p, const girdle_tally *tally, int *fits) {
  girdle_work work;
  int64_t cost;
  if (p->kind == GIRDLE_PLAN_STOCK) return stock_holds(call, p, tally, fits);
  if (p->kind == GIRDLE_PLAN_EVENINGS) {
    GIRDLE_TRY(work_of(call, p, tally, &work));
    *fits = work.evenings <= p->amount;
    return GIRDLE_OK;
  }
  GIRDLE_TRY(cost_of(call, p, tally, &cost));
  if (cost < 0)
    return girdle_common_fail(call, GIRDLE_GEOMETRY, "price", "money cannot be planned with: a stone has no price");
  *fits = cost <= p->amount;
  return GIRDLE_OK;
}

static int32_t pieces_fit(girdle_call *call, const planning *p, int64_t pieces, int *fits) {
  girdle_tally *tally;
  int32_t status;
  GIRDLE_TRY(girdle_common_tick(call, p->zone_count + 1, -1));
  *fits = p->kind != GIRDLE_PLAN_PIECES || pieces <= p->amount;
  if (pieces == 0 || p->kind == GIRDLE_PLAN_PIECES) return GIRDLE_OK;
  GIRDLE_TRY(tally_of(call, p, pieces, &tally));
  status = tally_fits(call, p, tally, fits);
  girdle_tally_free(tally);
  return status;
}

/* ---- the greatest plan */

/* Between a number that fits and one that does not. More pieces never cost less, so halving finds the edge. */
static int32_t greatest(girdle_call *call, const planning *p, int64_t most, int64_t *out) {
  int64_t low = 0, high = most + 1;
  while (high - low > 1) {
    int64_t middle = low + (high - low) / 2;
    int fits;
    GIRDLE_TRY(pieces_fit(call, p, middle, &fits));
    if (fits)
      low = middle;
    else
      high = middle;
  }
  *out = low;
  return GIRDLE_OK;
}

static int32_t describe(girdle_call *call, const planning *p, girdle_plan_sum *plan) {
  girdle_work work;
  girdle_tally *tally;
  int32_t status;
  GIRDLE_TRY(tally_of(call, p, plan->pieces, &tally));
  status = work_of(call, p, tally, &work);
  if (!status) status = cost_of(call, p, tally, &plan->cost_minor);
  girdle_tally_free(tally);
  if (status) return status;
  plan->minutes = work.minutes;
  plan->evenings = work.evenings;
  return GIRDLE_OK;
}

static int32_t check(girdle_call *call, const planning *p, int64_t *most) {
  *most = 0;
  GIRDLE_TRY(girdle_common_range(call, "kind", p->kind, 0, GIRDLE_PLAN_END - 1, ""));
  GIRDLE_TRY(girdle_common_range(call, "amount", (double)p->amount, 0, 1e15, ""));
  GIRDLE_TRY(girdle_common_range(call, "zones", (double)p->zone_count, 1, 1000, ""));
  for (uint64_t i = 0; i < p->zone_count; i++) {
    GIRDLE_TRY(girdle_common_range(call, "most", (double)p->zones[i].most, 0, (double)PIECES_MOST, "pieces"));
    GIRDLE_TRY(girdle_common_range(call, "stones", (double)p->zones[i].stone_count, 1, 65535, ""));
    *most += p->zones[i].most;
  }
  return girdle_common_range(call, "most of all zones", (double)*most, 0, (double)PIECES_MOST, "pieces");
}

int32_t girdle_club_plan(girdle_call *call, const girdle_club *club, const girdle_plan_zone *zones, uint64_t zone_count,
                         int32_t kind, int64_t amount, int64_t *counts, girdle_plan_sum *out) {
  planning p = {club, zones, zone_count, kind, amount, counts};
  girdle_plan_sum plan;
  memset(&plan, 0, sizeof plan);
  GIRDLE_TRY(check(call, &p, &plan.pieces_most));
  GIRDLE_TRY(greatest(call, &p, plan.pieces_most, &plan.pieces));
  GIRDLE_TRY(describe(call, &p, &plan));
  *out = plan;
  return GIRDLE_OK;
}
