/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>

#include "common.h"
#include "place_internal.h"

/* A leg of a run, walked with one gap. */

#define DEGREES (180 / 3.14159265358979323846)

static const girdle_stone *stone_at(const girdle_sequence *sequence, uint64_t number) {
  return &sequence->stones[number % sequence->count];
}

/* The turn of a stone that stands at a foot. */
double girdle_leg_turn(const girdle_track *track, const girdle_foot *foot, double turn_deg) {
  double way[2];
  if (!isnan(turn_deg)) return turn_deg;
  girdle_track_direction(track, foot, way);
  return atan2(way[1], way[0]) * DEGREES;
}

typedef struct walk {
  const girdle_legs *legs;
  const girdle_leg *leg;
  const girdle_sequence *sequence;
  girdle_foot foot;
  double over; /* how far past the end of the leg, once it is passed */
} walk;

/* Moves by a straight step; past the end, straight on. */
static void go(walk *on, double step) {
  const struct girdle_vertex *end = &on->legs->track.points[on->leg->last];
  if (step <= 0) return;
  if (on->over > 0) {
    on->over += step;
  } else if (!girdle_track_step(&on->legs->track, on->leg->last, step, &on->foot)) {
    on->over = step - hypot(end->x - on->foot.x, end->y - on->foot.y);
    on->foot = girdle_track_foot(&on->legs->track, on->leg->last);
  }
}

/* ---- how far apart: half of each stone and the gap */

static double half_of(const girdle_sequence *sequence, uint64_t number) {
  return stone_at(sequence, number)->diameter_mm[GIRDLE_NOMINAL] / 2;
}

static double end_step(const walk *on, int32_t kind, uint64_t number, double gap_mm) {
  if (kind == GIRDLE_END_CENTRE) return 0;
  return half_of(on->sequence, number) + (kind == GIRDLE_END_HALF ? gap_mm / 2 : 0);
}

/* How far two stones at feet reach towards each other; a negative number stands for a bare end. */
static double reach_between(const walk *on, const girdle_foot *a, int64_t first, const girdle_foot *b, int64_t second) {
  const girdle_track *track = &on->legs->track;
  double towards = atan2(b->y - a->y, b->x - a->x) * DEGREES, reach = 0;
  if (first >= 0)
    reach += girdle_stone_reach_mm(stone_at(on->sequence, (uint64_t)first),
                                   girdle_leg_turn(track, a, on->sequence->turn_deg), towards);
  if (second >= 0)
    reach += girdle_stone_reach_mm(stone_at(on->sequence, (uint64_t)second),
                                   girdle_leg_turn(track, b, on->sequence->turn_deg), towards + 180);
  return reach;
}

/* What stones that are not round reach depends on where the step ends, so it is taken again until it stays. */
static void go_fancy(walk *on, int64_t first, int64_t second, double gap_mm) {
  double step = gap_mm + (first >= 0 ? half_of(on->sequence, (uint64_t)first) : 0) +
                (second >= 0 ? half_of(on->sequence, (uint64_t)second) : 0);
  for (int i = 0; i < 30; i++) {
    walk tried = *on;
    double next;
    go(&tried, step);
    next = gap_mm + reach_between(on, &on->foot, first, &tried.foot, second);
    if (fabs(next - step) < 1e-10 || hypot(tried.foot.x - on->foot.x, tried.foot.y - on->foot.y) <= 0) break;
    step = next;
  }
  go(on, step);
}

static void go_between(walk *on, uint64_t first, uint64_t second, double gap_mm) {
  if (on->sequence->fancy && on->over <= 0)
    go_fancy(on, (int64_t)first, (int64_t)second, gap_mm);
  else
    go(on, half_of(on->sequence, first) + half_of(on->sequence, second) + gap_mm);
}

/* From or to a bare end of the leg. */
static void go_end(walk *on, int32_t kind, uint64_t number, double gap_mm, int is_start) {
  if (kind == GIRDLE_END_CENTRE) return;
  if (on->sequence->fancy && on->over <= 0)
    go_fancy(on, is_start ? -1 : (int64_t)number, is_start ? (int64_t)number : -1,
             kind == GIRDLE_END_HALF ? gap_mm / 2 : 0);
  else
    go(on, end_step(on, kind, number, gap_mm));
}

/* The number of the i-th stone of a leg: running on, but for the one that closes the round, which is the first again.
 */
static uint64_t number_of(const girdle_leg *leg, uint64_t begins, uint64_t stones, uint64_t i) {
  return leg->closes && i + 1 == stones ? 0 : begins + i;
}

static void note_step(girdle_step *steps, uint64_t i, const walk *on, uint64_t number) {
  if (!steps) return;
  steps[i].foot = on->foot;
  steps[i].number = number;
}

double girdle_leg_walk(const girdle_legs *legs, const girdle_leg *leg, const girdle_sequence *sequence, uint64_t begins,
                       uint64_t stones, double gap_mm, girdle_step *steps) {
  walk on = {legs, leg, sequence, girdle_track_foot(&legs->track, leg->first), 0};
  uint64_t number = number_of(leg, begins, stones, 0);
  go_end(&on, leg->start, number, gap_mm, 1);
  note_step(steps, 0, &on, number);
  for (uint64_t i = 1; i < stones; i++) {
    uint64_t next = number_of(leg, begins, stones, i);
    go_between(&on, number, next, gap_mm);
    number = next;
    note_step(steps, i, &on, number);
  }
  go_end(&on, leg->end, number, gap_mm, 0);
  if (on.over > 0) return on.over;
  return girdle_track_along(&legs->track, &on.foot) - legs->track.points[leg->last].along_mm;
}

/* ---- the gap that closes */

static double gaps_of(const girdle_leg *leg, uint64_t stones) {
  return (double)stones - 1 + ((leg->start == GIRDLE_END_HALF) + (leg->end == GIRDLE_END_HALF)) / 2.0;
}

/* The gap if the leg were straight and no stone longer than it is wide: nothing needs a wider one. */
static double straight_gap(const girdle_legs *legs, const girdle_leg *leg, const girdle_sequence *sequence,
                           uint64_t begins, uint64_t stones) {
  const struct girdle_vertex *points = legs->track.points;
  double room = points[leg->last].along_mm - points[leg->first].along_mm;
  for (uint64_t i = 0; i < stones; i++) {
    double half = half_of(sequence, number_of(leg, begins, stones, i));
    if (i > 0 || leg->start != GIRDLE_END_CENTRE) room -= half;
    if (i + 1 < stones || leg->end != GIRDLE_END_CENTRE) room -= half;
  }
  return room / gaps_of(leg, stones);
}

/* Misses at two gaps, of which the first is too narrow and the second too wide. */
typedef struct bracket {
  double low, high, under, over;
} bracket;

static void narrow(bracket *between, double gap, double miss) {
  if (miss > 0) {
    between->high = gap;
    between->over = miss;
  } else {
    between->low = gap;
    between->under = miss;
  }
}

/* Each step rounds in the last place of a number as large as the leg is long, and they may all round one way. */
static double close_enough(double along_mm, uint64_t stones) {
  return 1e-9 + fmin(1e-4, (1e-14 + 1.2e-16 * (double)stones) * along_mm);
}

/* How far a walk goes past the leg's end; added up where the leg bends alike all along (radius above 0). A stone that
 * is not round is walked to several times, and each walk counts in `steps`. */
static double miss_of(const girdle_legs *legs, const girdle_leg *leg, const girdle_sequence *sequence, uint64_t begins,
                      uint64_t stones, double gap_mm, double radius, uint64_t *steps) {
  if (radius > 0) return girdle_even_miss(legs, leg, sequence, begins, stones, gap_mm, radius);
  *steps += girdle_walk_steps(sequence, stones);
  return girdle_leg_walk(legs, leg, sequence, begins, stones, gap_mm, NULL);
}

static double radius_of(const girdle_legs *legs, const girdle_leg *leg, const girdle_sequence *sequence) {
  return sequence->fancy ? 0 : girdle_even_radius(legs, leg);
}

/* The miss grows with the gap, nearly in proportion. The first guess takes it to grow by one for each gap; then the
 * secant through the last two guesses, or the middle of the bracket where that leaves it. */
double girdle_leg_gap(const girdle_legs *legs, const girdle_leg *leg, const girdle_sequence *sequence, uint64_t begins,
                      uint64_t stones, uint64_t *steps) {
  double close = close_enough(legs->track.points[leg->last].along_mm, stones), gap, miss, last_gap, last_miss, next;
  double radius = radius_of(legs, leg, sequence);
  bracket between = {0, 0, -INFINITY, 0};
  *steps = stones;
  if (stones < 1 || gaps_of(leg, stones) <= 0) return NAN;
  last_gap = straight_gap(legs, leg, sequence, begins, stones);
  if (last_gap < -1e-9) return NAN;
  between.high = last_gap = fmax(last_gap, 0);
  between.over = last_miss = miss_of(legs, leg, sequence, begins, stones, last_gap, radius, steps);
  if (fabs(last_miss) <= close) return last_gap;
  if (last_miss < 0) return NAN;
  gap = last_gap - last_miss / gaps_of(leg, stones);
  for (int i = 0; i < 100 && between.high - between.low > 1e-13; i++) {
    if (!(gap > between.low && gap < between.high) || i > 40) /* the secant may creep */
      gap = between.under > -INFINITY ? (between.low + between.high) / 2 : 0;
    miss = miss_of(legs, leg, sequence, begins, stones, gap, radius, steps);
    if (fabs(miss) <= close) return gap;
    if (gap == 0 && miss > 0) return NAN;
    narrow(&between, gap, miss);
    next = gap - miss * (gap - last_gap) / (miss - last_miss);
    last_gap = gap;
    last_miss = miss;
    gap = next;
  }
  /* where the last step is as wide as the path is, as of two stones on a circle, the end is approached but not met */
  return between.under > -GIRDLE_TOLERANCE_MM / 4 ? between.low : NAN;
}

int32_t girdle_leg_room(girdle_call *call, const girdle_legs *legs, const girdle_leg *leg,
                        const girdle_sequence *sequence, uint64_t begins, double gap_mm, uint64_t *stones) {
  walk on = {legs, leg, sequence, girdle_track_foot(&legs->track, leg->first), 0};
  double radius = radius_of(legs, leg, sequence);
  *stones = 0;
  if (radius > 0) *stones = girdle_even_room(legs, leg, sequence, begins, gap_mm, radius);
  if (radius <= 0) go_end(&on, leg->start, begins, gap_mm, 1);
  while (radius <= 0 && on.over <= 0 && *stones <= GIRDLE_STONES_MOST) {
    uint64_t number = begins + (*stones)++;
    go_between(&on, number, number + 1, gap_mm);
    if (*stones % 1024 == 0) GIRDLE_TRY(girdle_common_tick(call, girdle_walk_steps(sequence, 1024), -1));
  }
  if (*stones > GIRDLE_STONES_MOST) return girdle_place_too_many(call);
  return girdle_common_tick(call, girdle_walk_steps(sequence, *stones % 1024 + 1), -1);
}
