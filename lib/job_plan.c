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
  int64_t *held; /* of each zone: it cannot grow beyond so many, as its next stone does not fit; -1: it can */
} planning;

/* ---- sharing a number of pieces out */

/* So many stones a zone grows by at a time. */
static int64_t step_of(const planning *p, uint64_t zone) {
  return p->zones[zone].alike > 1 ? p->zones[zone].alike : 1;
}

static int grows(const planning *p, uint64_t zone, int64_t priority) {
  return p->zones[zone].priority == priority && p->held[zone] < 0;
}

/* The next priority above `after`, and the sum of the most of its zones that can grow; returns 0 when there is none. */
static int next_tier(const planning *p, int64_t after, int32_t *priority, int64_t *sum) {
  int64_t best = INT64_MAX;
  *sum = 0;
  for (uint64_t i = 0; i < p->zone_count; i++)
    if (p->zones[i].priority > after && p->zones[i].priority < best) best = p->zones[i].priority;
  for (uint64_t i = 0; i < p->zone_count; i++)
    if (grows(p, i, best)) *sum += p->zones[i].most;
  *priority = (int32_t)best;
  return best != INT64_MAX;
}

/* The zone of a tier that is next to grow: the greatest most / (2 count + step), the earlier of equals. */
static uint64_t next_zone(const planning *p, int32_t priority) {
  uint64_t best = p->zone_count;
  for (uint64_t i = 0; i < p->zone_count; i++) {
    if (!grows(p, i, priority)) continue;
    if (best == p->zone_count || p->zones[i].most * (2 * p->counts[best] + step_of(p, best)) >
                                     p->zones[best].most * (2 * p->counts[i] + step_of(p, i)))
      best = i;
  }
  return best;
}

/* Begins where the divisor of a few pieces less stands, which Sainte-Lague's way passes through, and grows from there
 * as long as the next zone's step is left. */
static void share_tier(const planning *p, int32_t priority, int64_t sum, int64_t pieces) {
  int64_t few = pieces, left = pieces;
  uint64_t next;
  for (uint64_t i = 0; i < p->zone_count; i++)
    few -= step_of(p, i);
  for (uint64_t i = 0; i < p->zone_count; i++) {
    int64_t step = step_of(p, i);
    if (!grows(p, i, priority)) continue;
    p->counts[i] = few > 0 ? step * ((2 * p->zones[i].most * few + step * sum) / (2 * step * sum)) : 0;
    left -= p->counts[i];
  }
  while (left > 0 && (next = next_zone(p, priority), left >= step_of(p, next))) {
    p->counts[next] += step_of(p, next);
    left -= step_of(p, next);
  }
}

static void share_out(const planning *p, int64_t pieces) {
  int32_t priority;
  int64_t after = INT64_MIN, sum;
  for (uint64_t i = 0; i < p->zone_count; i++) {
    p->counts[i] = p->held[i] < 0 ? 0 : p->held[i];
    pieces -= p->counts[i];
  }
  while (pieces > 0 && next_tier(p, after, &priority, &sum)) {
    if (sum) share_tier(p, priority, sum, pieces < sum ? pieces : sum);
    pieces -= sum; /* a tier that is not full ends it */
    after = priority;
  }
}

/* ---- what a number of pieces comes to */

/* Of each of the pieces that are alike the stones `from` to `to` of a sequence without end. The first of the sequence
 * are one more where it does not end whole. */
static int32_t add_side(girdle_call *call, const girdle_plan_zone *zone, const char *side, int64_t pieces, int64_t from,
                        int64_t to, girdle_tally *tally) {
  int64_t length = (int64_t)zone->stone_count;
  for (int64_t i = 0; i < length && i < to; i++) {
    int64_t each = to / length + (i < to % length) - from / length - (i < from % length);
    GIRDLE_TRY(girdle_tally_add_pieces(call, tally, "plan", zone->name, side, &zone->stones[i], pieces * each));
  }
  return GIRDLE_OK;
}

/* As the costume's own tally would have it: a pair is two zones, and a ring is counted on front and back, which have
 * half of it each, since where its seams lie is known only once it is placed. */
static int32_t add_zone(girdle_call *call, const girdle_plan_zone *zone, int64_t step, int64_t count,
                        girdle_tally *tally) {
  int64_t each = count / step, half = (each + 1) / 2;
  if (strcmp(zone->side, "pair") == 0) {
    GIRDLE_TRY(add_side(call, zone, "left", step / 2, 0, each, tally));
    return add_side(call, zone, "right", step / 2, 0, each, tally);
  }
  if (strcmp(zone->side, "both") != 0) return add_side(call, zone, zone->side, step, 0, each, tally);
  GIRDLE_TRY(add_side(call, zone, "front", step, 0, half, tally));
  return add_side(call, zone, "back", step, half, each, tally);
}

static int32_t tally_of(girdle_call *call, const planning *p, int64_t pieces, girdle_tally **out) {
  girdle_tally *tally = NULL;
  int32_t status = girdle_tally_new(call, &tally);
  share_out(p, pieces);
  for (uint64_t i = 0; i < p->zone_count && !status; i++)
    status = add_zone(call, &p->zones[i], step_of(p, i), p->counts[i], tally);
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
  GIRDLE_TRY(girdle_job_learn(call, p->club, &learned, &rates));
  girdle_job_order_options(p->club, &learned, &options);
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
  GIRDLE_TRY(girdle_job_learn(call, p->club, &learned, &rates));
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
  *fits = cost >= 0 && cost <= p->amount; /* of a stone that has a price, no supplier may offer enough */
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

/* `least` is known to fit. Between a number that fits and one that does not: more pieces never cost less, so halving
 * finds the edge. */
static int32_t greatest(girdle_call *call, const planning *p, int64_t least, int64_t most, int64_t *out) {
  int64_t low = least, high = most + 1;
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

/* How many there can be when what is held stays as it is. */
static int64_t most_of(const planning *p) {
  int64_t sum = 0;
  for (uint64_t i = 0; i < p->zone_count; i++)
    sum += p->held[i] < 0 ? p->zones[i].most : p->held[i];
  return sum;
}

static int64_t sum_of(const int64_t *counts, uint64_t count) {
  int64_t sum = 0;
  for (uint64_t i = 0; i < count; i++)
    sum += counts[i];
  return sum;
}

/* Holds the zone that would get the next stones, and returns how many stones there are without them, which are fewer
 * than `pieces` where pieces that are alike wait for more; `room` is for their counts. */
static int64_t hold_next(const planning *p, int64_t pieces, int64_t *room) {
  share_out(p, pieces);
  memcpy(room, p->counts, p->zone_count * sizeof *room);
  share_out(p, pieces + 1);
  for (uint64_t i = 0; i < p->zone_count; i++)
    if (p->counts[i] > room[i]) p->held[i] = room[i];
  return sum_of(room, p->zone_count);
}

/* In a drawer one kind may be used up while others are left, and the evenings of one side of the dress while the other
 * side's have room: the zone whose next stone does not fit stays as it is, and the others go on from where they are.
 * Divisors give the same to the rest as if it had never been there. */
static int others_go_on(const planning *p) {
  return p->kind == GIRDLE_PLAN_STOCK || p->kind == GIRDLE_PLAN_EVENINGS;
}

static int32_t use_up(girdle_call *call, const planning *p, int64_t *room, int64_t *pieces) {
  int64_t most = most_of(p);
  GIRDLE_TRY(greatest(call, p, 0, most, pieces));
  while (others_go_on(p) && *pieces < most) {
    int64_t least = hold_next(p, *pieces, room);
    most = most_of(p);
    GIRDLE_TRY(greatest(call, p, least, most, pieces));
  }
  share_out(p, *pieces);
  *pieces = sum_of(p->counts, p->zone_count);
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
    GIRDLE_TRY(girdle_common_range(call, "alike", p->zones[i].alike, 0, 2e6, "pieces"));
    if (strcmp(p->zones[i].side, "pair") == 0 && (p->zones[i].alike < 2 || p->zones[i].alike % 2))
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "alike", "%s: the pieces of a pair are 2, 4 and so on, not %d",
                                p->zones[i].name, (int)p->zones[i].alike);
    if (p->zones[i].most % step_of(p, i))
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "most", "%s: %lld stones cannot be shared by %d pieces alike",
                                p->zones[i].name, (long long)p->zones[i].most, (int)p->zones[i].alike);
    *most += p->zones[i].most;
  }
  return girdle_common_range(call, "most of all zones", (double)*most, 0, (double)PIECES_MOST, "pieces");
}

/* Money wants a price for every stone. */
static int32_t check_price(girdle_call *call, const girdle_club *club, const girdle_stone *stone) {
  const girdle_price_row *rows = club->prices.items;
  char text[160];
  for (uint64_t i = 0; i < club->prices.count; i++)
    if (girdle_stone_equal(&rows[i].stone, stone)) return GIRDLE_OK;
  if (in_stock(club, stone)) return GIRDLE_OK;
  girdle_stone_text(stone, text, sizeof text);
  return girdle_common_fail(call, GIRDLE_GEOMETRY, "price", "money cannot be planned with: %s has no price", text);
}

static int32_t check_prices(girdle_call *call, const planning *p) {
  girdle_tally *all;
  const girdle_tally_line *lines;
  uint64_t count;
  int32_t status = GIRDLE_OK;
  GIRDLE_TRY(tally_of(call, p, most_of(p), &all));
  lines = girdle_tally_lines(all, &count);
  for (uint64_t i = 0; i < count && !status; i++)
    status = check_price(call, p->club, &lines[i].stone);
  girdle_tally_free(all);
  return status;
}

static int32_t plan_with(girdle_call *call, planning *p, int64_t *room, girdle_plan_sum *plan) {
  p->held = room;
  for (uint64_t i = 0; i < p->zone_count; i++)
    p->held[i] = -1;
  if (p->kind == GIRDLE_PLAN_MONEY) GIRDLE_TRY(check_prices(call, p));
  GIRDLE_TRY(use_up(call, p, room + p->zone_count, &plan->pieces));
  return describe(call, p, plan);
}

int32_t girdle_club_plan(girdle_call *call, const girdle_club *club, const girdle_plan_zone *zones, uint64_t zone_count,
                         int32_t kind, int64_t amount, int64_t *counts, girdle_plan_sum *out) {
  GIRDLE_GIVEN(call, club, zones || !zone_count, counts || !zone_count, out);
  girdle_allocator memory = girdle_common_memory(call);
  planning p = {club, zones, zone_count, kind, amount, counts, NULL};
  uint64_t bytes = 2 * zone_count * sizeof(int64_t);
  girdle_plan_sum plan;
  int64_t *room;
  int32_t status;
  memset(&plan, 0, sizeof plan);
  GIRDLE_TRY(check(call, &p, &plan.pieces_most));
  room = girdle_common_new(call, bytes);
  if (!room) return GIRDLE_MEMORY;
  status = plan_with(call, &p, room, &plan);
  girdle_common_release(&memory, room, bytes);
  if (!status) *out = plan;
  return status;
}
