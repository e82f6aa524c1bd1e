/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* Rows across a field: where a stone of some reach may stand along a level line. */

static void widen(girdle_span *span, double from, double to) {
  if (from < span->from) span->from = from;
  if (to > span->to) span->to = to;
}

/* The points of the row at y that are nearer than `radius` to the edge: one stretch, since such points form a convex
 * capsule. Its ends lie on the half discs about the edge's ends or on the two straight sides. */
static int capsule(const girdle_edge *edge, double y, double radius, girdle_span *out) {
  double from_first = y - edge->y0, from_second = y - edge->y1, half;
  if ((from_first >= radius && from_second >= radius) || (from_first <= -radius && from_second <= -radius)) return 0;
  out->from = INFINITY;
  out->to = -INFINITY;
  if (fabs(from_first) < radius) {
    half = sqrt(radius * radius - from_first * from_first);
    widen(out, edge->x0 - half, edge->x0 + half);
  }
  if (fabs(from_second) < radius) {
    half = sqrt(radius * radius - from_second * from_second);
    widen(out, edge->x1 - half, edge->x1 + half);
  }
  for (double side = -radius; edge->per_y != 0 && side <= radius; side += 2 * radius) {
    /* The side's straight line meets the row where it is `along` of the way from one end to the other. */
    double along = (from_first - side * edge->way_x) * edge->per_y;
    double x = edge->x0 + along * (edge->x1 - edge->x0) - side * edge->way_y;
    if (along >= 0 && along <= 1) widen(out, x, x);
  }
  return out->from < out->to;
}

static int32_t gather(girdle_call *call, girdle_field *field, double y, double radius, uint64_t *count) {
  uint64_t first = girdle_field_band(field, y - radius), last = girdle_field_band(field, y + radius);
  *count = 0;
  GIRDLE_TRY(girdle_common_grow(call, &field->memory, (void **)&field->scratch, &field->scratch_capacity,
                                field->band_first[last + 1] - field->band_first[first], sizeof(girdle_span)));
  for (uint64_t band = first; band <= last; band++)
    for (uint64_t i = field->band_first[band]; i < field->band_first[band + 1]; i++) {
      const girdle_edge *edge = &field->edges[field->band_edges[i]];
      girdle_span *span = &field->scratch[*count];
      /* An edge of several bands is taken in the first of them that is looked at. */
      if (band != (edge->band > first ? edge->band : first) || !capsule(edge, y, radius, span)) continue;
      span->layer = edge->layer;
      span->change = girdle_field_crossing(edge->y0, edge->y1, y);
      ++*count;
    }
  girdle_place_sort(field->scratch, *count);
  return GIRDLE_OK;
}

static void emit(girdle_field *field, double from, double to, int inside) {
  girdle_span span = {from, to, 0, inside};
  field->spans[field->span_count++] = span;
}

/* The winding only changes within capsules, since an edge lies in its own. */
int32_t girdle_field_row(girdle_call *call, girdle_field *field, double y, double radius_mm) {
  uint64_t count, i = 0;
  double reach = -INFINITY, start;
  field->span_count = 0;
  GIRDLE_TRY(gather(call, field, y, radius_mm, &count));
  GIRDLE_TRY(girdle_common_grow(call, &field->memory, (void **)&field->spans, &field->span_capacity, 2 * count + 1,
                                sizeof(girdle_span)));
  memset(field->winding, 0, (size_t)field->layers * sizeof *field->winding);
  while (i < count) {
    start = field->scratch[i].from;
    if (girdle_field_is_inside(field)) emit(field, reach, start, 1);
    for (reach = start; i < count && field->scratch[i].from <= reach + 1e-9; i++) { /* the first always is */
      if (field->scratch[i].to > reach) reach = field->scratch[i].to;
      field->winding[field->scratch[i].layer] += field->scratch[i].change;
    }
    emit(field, start, reach, 0);
  }
  return GIRDLE_OK;
}

/* ---- convex or not */

/* One ring that turns one way all along, but for what the grid of the corners may do to nearly straight places.
 * Outlines that cross themselves are no regions, so it goes round once. */
int girdle_field_is_convex(const girdle_field *field) {
  int turns = 0;
  for (uint64_t i = 0; i < field->count; i++) {
    const girdle_edge *a = &field->edges[i], *b = &field->edges[(i + 1) % field->count];
    double ax = a->x1 - a->x0, ay = a->y1 - a->y0, bx = b->x1 - b->x0, by = b->y1 - b->y0;
    double cross = ax * by - ay * bx, slack = 4e-6 * (fabs(ax) + fabs(ay) + fabs(bx) + fabs(by));
    if (a->x1 != b->x0 || a->y1 != b->y0) return 0;
    turns |= cross > slack ? 1 : cross < -slack ? 2 : 0;
  }
  return turns != 3;
}
