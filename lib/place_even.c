/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>

#include "common.h"
#include "place_internal.h"

/* Legs that bend alike all along: a straight line, or an arc of one circle. What a straight step takes of such a leg is
 * known, so the steps of a walk only have to be added up, one round of the sequence for all rounds. */

static int is_same_circle(const girdle_piece *a, const girdle_piece *b) {
  return b->kind == GIRDLE_PIECE_ARC && b->radius_x == a->radius_x && b->radius_y == a->radius_x &&
         fabs(b->centre_x - a->centre_x) <= 1e-10 * a->radius_x &&
         fabs(b->centre_y - a->centre_y) <= 1e-10 * a->radius_x && b->sweep * a->sweep > 0;
}

double girdle_even_radius(const girdle_legs *legs, const girdle_leg *leg) {
  const struct girdle_vertex *points = legs->track.points;
  const girdle_piece *piece = &legs->track.pieces[points[leg->first + 1].piece];
  double length = points[leg->last].along_mm - points[leg->first].along_mm;
  if (piece->kind == GIRDLE_PIECE_LINE) return points[leg->last].piece == points[leg->first + 1].piece ? INFINITY : 0;
  for (uint64_t i = leg->first + 1; i <= leg->last; i++)
    if (!is_same_circle(piece, &legs->track.pieces[points[i].piece])) return 0;
  return length < 6.3 * piece->radius_x ? piece->radius_x : 0;
}

/* How much of the leg a straight step takes. */
static double along(double radius, double step) {
  if (isinf(radius)) return step;
  return step < 2 * radius ? 2 * radius * asin(step / (2 * radius)) : INFINITY;
}

static double half_of(const girdle_sequence *sequence, uint64_t number) {
  return sequence->stones[number % sequence->count].diameter_mm[GIRDLE_NOMINAL] / 2;
}

/* From a bare end of the leg to a stone. */
static double along_end(double radius, int32_t kind, double half, double gap_mm) {
  return kind == GIRDLE_END_CENTRE ? 0 : along(radius, half + (kind == GIRDLE_END_HALF ? gap_mm / 2 : 0));
}

static double along_step(double radius, const girdle_sequence *sequence, uint64_t number, uint64_t next,
                         double gap_mm) {
  return along(radius, half_of(sequence, number) + half_of(sequence, next) + gap_mm);
}

double girdle_even_miss(const girdle_legs *legs, const girdle_leg *leg, const girdle_sequence *sequence,
                        uint64_t begins, uint64_t stones, double gap_mm, double radius) {
  const struct girdle_vertex *points = legs->track.points;
  int closes = leg->closes && stones > 1;
  uint64_t steps = stones - 1 - (uint64_t)closes, last = leg->closes ? 0 : begins + stones - 1;
  double sum = along_end(radius, leg->start, half_of(sequence, stones > 1 ? begins : last), gap_mm) +
               along_end(radius, leg->end, half_of(sequence, last), gap_mm);
  for (uint64_t i = 0; i < sequence->count && i < steps; i++) {
    uint64_t times = (steps - 1 - i) / sequence->count + 1;
    sum += (double)times * along_step(radius, sequence, begins + i, begins + i + 1, gap_mm);
  }
  if (closes) sum += along_step(radius, sequence, begins + steps, 0, gap_mm);
  return sum - (points[leg->last].along_mm - points[leg->first].along_mm);
}

uint64_t girdle_even_room(const girdle_legs *legs, const girdle_leg *leg, const girdle_sequence *sequence,
                          uint64_t begins, double gap_mm, double radius) {
  const struct girdle_vertex *points = legs->track.points;
  double room = points[leg->last].along_mm - points[leg->first].along_mm, round = 0;
  uint64_t stones = 0;
  room -= along_end(radius, leg->start, half_of(sequence, begins), gap_mm);
  for (uint64_t i = 0; i < sequence->count; i++)
    round += along_step(radius, sequence, begins + i, begins + i + 1, gap_mm);
  if (room > round) {
    double rounds = floor(room / round);
    stones = (uint64_t)rounds * sequence->count;
    room -= rounds * round;
  }
  for (; room >= 0; stones++)
    room -= along_step(radius, sequence, begins + stones, begins + stones + 1, gap_mm);
  return stones;
}
