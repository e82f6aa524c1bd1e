/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>

#include "place_internal.h"

/* Stones that are not round. Two convex outlines lie apart by the widest strip that separates them: over all
 * directions, the greatest distance of the centres along it less how far each stone reaches along it. A heart counts as
 * its hull. */

enum { DIRECTIONS = 72 };

static double strip(const girdle_shape *a, const girdle_shape *b, double towards_deg) {
  double cosine, sine;
  girdle_place_direction(towards_deg, &cosine, &sine);
  return (b->x - a->x) * cosine + (b->y - a->y) * sine - girdle_stone_reach_mm(a->stone, a->turn_deg, towards_deg) -
         girdle_stone_reach_mm(b->stone, b->turn_deg, towards_deg + 180);
}

/* The best of evenly spaced directions, then golden sections about it. */
static double widest_strip(const girdle_shape *a, const girdle_shape *b) {
  double step = 360.0 / DIRECTIONS, best = 0, widest = -INFINITY, low, high;
  for (int i = 0; i < DIRECTIONS; i++) {
    double width = strip(a, b, i * step);
    if (width > widest) widest = width, best = i * step;
  }
  low = best - step;
  high = best + step;
  for (int i = 0; i < 40; i++) {
    double left = high - 0.6180339887498949 * (high - low), right = low + 0.6180339887498949 * (high - low);
    double at_left = strip(a, b, left), at_right = strip(a, b, right);
    if (at_left > at_right)
      high = right;
    else
      low = left;
    widest = fmax(widest, fmax(at_left, at_right));
  }
  return widest;
}

double girdle_place_apart(const girdle_shape *a, const girdle_shape *b) {
  double distance = hypot(b->x - a->x, b->y - a->y);
  if (a->stone->outline == GIRDLE_ROUND && b->stone->outline == GIRDLE_ROUND)
    return distance - girdle_place_radius(a->stone) - girdle_place_radius(b->stone);
  return widest_strip(a, b);
}

girdle_shape girdle_place_shape(const girdle_placement *placement, uint64_t record) {
  const girdle_placed *placed = &placement->records[record];
  girdle_shape shape = {placed->x_mm, placed->y_mm, (double)placed->turn_deg, &placement->stones[placed->stone]};
  return shape;
}

/* From the place as well as the seed, so that leaving out one stone turns no other. */
void girdle_place_turn_by_seed(girdle_placement *placement, uint64_t seed) {
  for (uint64_t i = 0; i < placement->count; i++) {
    girdle_placed *record = &placement->records[i];
    int64_t x = (int64_t)(record->x_mm * GIRDLE_PLACES_PER_MM), y = (int64_t)(record->y_mm * GIRDLE_PLACES_PER_MM);
    uint64_t state = girdle_random_mixed(girdle_random_mixed(seed, (uint64_t)x), (uint64_t)y);
    if (placement->stones[record->stone].outline != GIRDLE_ROUND)
      record->turn_deg = girdle_place_snapped_turn(360 * girdle_random_unit(&state));
  }
}
