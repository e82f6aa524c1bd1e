/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"
#include "shape_internal.h"

/* A region as straight edges, none farther than GIRDLE_FLAT_MM from its curve. A point whose distance from every edge
 * is known to be at least r is wholly inside or outside; which of the two, its winding about each layer says. Corners
 * of the edges lie on a grid of a millionth of a millimetre, so that a libm that differs in the last digit changes
 * nothing. */

#define EDGES_MOST 1e8

void girdle_field_free(girdle_field *field) {
  const girdle_allocator *memory = &field->memory;
  girdle_common_release(memory, field->edges, field->capacity * sizeof *field->edges);
  girdle_common_release(memory, field->rules, field->layers * sizeof *field->rules);
  girdle_common_release(memory, field->winding, field->layers * sizeof *field->winding);
  girdle_common_release(memory, field->band_first, (field->bands + 1) * sizeof *field->band_first);
  girdle_common_release(memory, field->band_edges, field->band_edge_count * sizeof *field->band_edges);
  girdle_common_release(memory, field->band_right, (field->band_edge_count + 1) * sizeof *field->band_right);
  girdle_common_release(memory, field->scratch, field->scratch_capacity * sizeof *field->scratch);
  girdle_common_release(memory, field->spans, field->span_capacity * sizeof *field->spans);
  memset(field, 0, sizeof *field);
}

/* ---- making */

static int32_t begin(girdle_call *call, girdle_field *field, uint64_t layers) {
  girdle_box nowhere = {INFINITY, INFINITY, -INFINITY, -INFINITY};
  memset(field, 0, sizeof *field);
  field->memory = girdle_common_memory(call);
  field->box = nowhere;
  field->rules = girdle_common_new(call, layers * sizeof *field->rules);
  if (!field->rules) return GIRDLE_MEMORY;
  field->layers = layers;
  field->winding = girdle_common_new(call, layers * sizeof *field->winding);
  return field->winding ? GIRDLE_OK : GIRDLE_MEMORY;
}

static int32_t add_edge(girdle_call *call, girdle_field *field, double x0, double y0, double x1, double y1,
                        uint32_t layer) {
  girdle_edge edge = {x0, y0, x1, y1, x1 - x0, y1 - y0, 0, layer, 0};
  double length = sqrt(edge.way_x * edge.way_x + edge.way_y * edge.way_y);
  if (!(length > 0)) return GIRDLE_OK;
  if (edge.way_y != 0) edge.per_y = 1 / edge.way_y;
  edge.way_x /= length;
  edge.way_y /= length;
  GIRDLE_TRY(girdle_common_grow(call, &field->memory, (void **)&field->edges, &field->capacity, field->count + 1,
                                sizeof edge));
  field->edges[field->count++] = edge;
  field->box.left_mm = fmin(field->box.left_mm, fmin(x0, x1));
  field->box.right_mm = fmax(field->box.right_mm, fmax(x0, x1));
  field->box.top_mm = fmin(field->box.top_mm, fmin(y0, y1));
  field->box.bottom_mm = fmax(field->box.bottom_mm, fmax(y0, y1));
  return GIRDLE_OK;
}

static double tidy(double mm) {
  return nearbyint(mm * 1e6) / 1e6;
}

/* A bound on the second derivative by t: a chord over a step h of t lies within h^2 / 8 of it from the curve. */
static double bend_of(const girdle_piece *piece) {
  const double *x = piece->x, *y = piece->y;
  double start, end;
  if (piece->kind == GIRDLE_PIECE_LINE) return 0;
  if (piece->kind == GIRDLE_PIECE_ARC) return fmax(piece->radius_x, piece->radius_y) * piece->sweep * piece->sweep;
  start = hypot(x[2] - 2 * x[1] + x[0], y[2] - 2 * y[1] + y[0]);
  if (piece->kind == GIRDLE_PIECE_QUADRATIC) return 2 * start;
  end = hypot(x[3] - 2 * x[2] + x[1], y[3] - 2 * y[2] + y[1]);
  return 6 * fmax(start, end);
}

static int32_t add_piece(girdle_call *call, girdle_field *field, const girdle_piece *piece, double flat_mm,
                         uint32_t layer, double last[2]) {
  double chords = fmax(ceil(sqrt(bend_of(piece) / (8 * flat_mm))), 1);
  if (chords + (double)field->count > EDGES_MOST)
    return girdle_common_fail(call, GIRDLE_LIMIT, "within", "the outline is too long for its smallest details");
  for (double i = 1; i <= chords; i++) {
    double point[2];
    girdle_piece_at(piece, i / chords, point, NULL, NULL);
    point[0] = tidy(point[0]);
    point[1] = tidy(point[1]);
    GIRDLE_TRY(add_edge(call, field, last[0], last[1], point[0], point[1], layer));
    last[0] = point[0];
    last[1] = point[1];
    if (fmod(i, 4096) == 0) GIRDLE_TRY(girdle_common_tick(call, 4096, -1));
  }
  return GIRDLE_OK;
}

static int32_t add_outline(girdle_call *call, girdle_field *field, const girdle_path *outline, int closes,
                           double flat_mm, uint32_t layer) {
  uint64_t count, piece_count;
  const girdle_subpath *parts = girdle_path_parts(outline, &count);
  const girdle_piece *pieces = girdle_path_pieces(outline, &piece_count);
  for (const girdle_subpath *part = parts; part < parts + count; part++) {
    double first[2], last[2];
    girdle_piece_at(&pieces[part->first], 0, first, NULL, NULL);
    first[0] = last[0] = tidy(first[0]);
    first[1] = last[1] = tidy(first[1]);
    for (uint64_t i = 0; i < part->count; i++)
      GIRDLE_TRY(add_piece(call, field, &pieces[part->first + i], flat_mm, layer, last));
    if (closes) GIRDLE_TRY(add_edge(call, field, last[0], last[1], first[0], first[1], layer));
  }
  return GIRDLE_OK;
}

int32_t girdle_field_new(girdle_call *call, const girdle_region *region, double flat_mm, girdle_field *out) {
  uint64_t count;
  const girdle_layer *layers = girdle_region_layers(region, &count);
  int32_t status = begin(call, out, count);
  for (uint64_t i = 0; i < count && !status; i++) {
    out->rules[i] = layers[i].rule;
    status = add_outline(call, out, layers[i].outline, 1, flat_mm, (uint32_t)i);
  }
  if (!status && !out->count) status = girdle_common_fail(call, GIRDLE_GEOMETRY, "within", "the region has no extent");
  if (status) girdle_field_free(out);
  return status;
}

int32_t girdle_field_of_path(girdle_call *call, const girdle_path *path, double flat_mm, girdle_field *out) {
  int32_t status = begin(call, out, 1);
  if (!status) status = add_outline(call, out, path, 0, flat_mm, 0);
  if (!status && !out->count) status = girdle_common_fail(call, GIRDLE_GEOMETRY, "edge", "the path has no length");
  if (status) girdle_field_free(out);
  return status;
}

int32_t girdle_field_turned(girdle_call *call, const girdle_field *from, double cosine, double sine,
                            girdle_field *out) {
  int32_t status = begin(call, out, from->layers);
  if (!status) memcpy(out->rules, from->rules, (size_t)from->layers * sizeof *out->rules);
  for (uint64_t i = 0; i < from->count && !status; i++) {
    const girdle_edge *edge = &from->edges[i];
    status = add_edge(call, out, cosine * edge->x0 - sine * edge->y0, sine * edge->x0 + cosine * edge->y0,
                      cosine * edge->x1 - sine * edge->y1, sine * edge->x1 + cosine * edge->y1, edge->layer);
  }
  if (status) girdle_field_free(out);
  return status;
}

/* ---- bands */

static uint64_t band_of(const girdle_field *field, double y) {
  double band = floor((y - field->box.top_mm) / field->band_mm);
  return band <= 0 ? 0 : band >= (double)field->bands - 1 ? field->bands - 1 : (uint64_t)band;
}

static uint64_t last_band_of(const girdle_field *field, const girdle_edge *edge) {
  return band_of(field, fmax(edge->y0, edge->y1));
}

static double left_of(const girdle_edge *edge) {
  return edge->x0 < edge->x1 ? edge->x0 : edge->x1;
}

static double right_of(const girdle_edge *edge) {
  return edge->x0 < edge->x1 ? edge->x1 : edge->x0;
}

static void order_band(girdle_field *field, girdle_span *room, uint32_t first, uint32_t end) {
  for (uint32_t i = first; i < end; i++) {
    girdle_span item = {left_of(&field->edges[field->band_edges[i]]), 0, field->band_edges[i], 0};
    room[i - first] = item;
  }
  girdle_place_sort(room, end - first);
  for (uint32_t i = first; i < end; i++) {
    double right = right_of(&field->edges[room[i - first].layer]);
    field->band_edges[i] = room[i - first].layer;
    field->band_right[i] = i > first ? fmax(right, field->band_right[i - 1]) : right;
  }
}

/* So that of a long flat hem only the edges above or below a point are looked at. */
static int32_t order_bands(girdle_call *call, girdle_field *field) {
  uint32_t most = 1;
  girdle_span *room;
  for (uint64_t band = 0; band < field->bands; band++)
    if (field->band_first[band + 1] - field->band_first[band] > most)
      most = field->band_first[band + 1] - field->band_first[band];
  field->band_right = girdle_common_new(call, (field->band_edge_count + 1) * sizeof *field->band_right);
  room = field->band_right ? girdle_common_new(call, most * sizeof *room) : NULL;
  if (!room) return GIRDLE_MEMORY;
  for (uint64_t band = 0; band < field->bands; band++)
    order_band(field, room, field->band_first[band], field->band_first[band + 1]);
  girdle_common_release(&field->memory, room, most * sizeof *room);
  return GIRDLE_OK;
}

/* Counting sort: how many edges a band has, where each band begins, and the edges in their places. */
int32_t girdle_field_index(girdle_call *call, girdle_field *field, double height_mm) {
  double height = field->box.bottom_mm - field->box.top_mm;
  double bands = fmin(floor(height / height_mm) + 1, 4.0 * (double)field->count + 4096);
  field->bands = (uint64_t)bands;
  field->band_mm = fmax(height / bands, 1e-6);
  field->band_first = girdle_common_new(call, (field->bands + 1) * sizeof *field->band_first);
  if (!field->band_first) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < field->count; i++) {
    girdle_edge *edge = &field->edges[i];
    edge->band = (uint32_t)band_of(field, fmin(edge->y0, edge->y1));
    for (uint64_t band = edge->band; band <= last_band_of(field, edge); band++)
      field->band_first[band + 1]++;
  }
  for (uint64_t band = 0; band < field->bands; band++)
    field->band_first[band + 1] += field->band_first[band];
  field->band_edge_count = field->band_first[field->bands];
  field->band_edges = girdle_common_new(call, field->band_edge_count * sizeof *field->band_edges);
  if (!field->band_edges) return GIRDLE_MEMORY;
  for (uint64_t i = field->count; i-- > 0;) {
    const girdle_edge *edge = &field->edges[i];
    for (uint64_t band = edge->band; band <= last_band_of(field, edge); band++)
      field->band_edges[--field->band_first[band + 1]] = (uint32_t)i;
  }
  /* Each start was counted down to where its band begins, one place too far right. */
  memmove(field->band_first, field->band_first + 1, (size_t)field->bands * sizeof *field->band_first);
  field->band_first[field->bands] = (uint32_t)field->band_edge_count;
  return order_bands(call, field);
}

/* ---- inside or outside */

/* Whether an edge passes the row at y, and which way; an end on the row belongs to the side below. */
static int crossing(const girdle_edge *edge, double y) {
  return (edge->y0 <= y) - (edge->y1 <= y);
}

static double crossing_at(const girdle_edge *edge, double y) {
  return edge->x0 + (edge->x1 - edge->x0) * ((y - edge->y0) / (edge->y1 - edge->y0));
}

static int holds(int32_t rule, int32_t winding) {
  return rule == GIRDLE_EVENODD ? winding & 1 : winding != 0;
}

/* Inside the first layer and inside none of those left out. */
static int is_inside(const girdle_field *field) {
  if (!holds(field->rules[0], field->winding[0])) return 0;
  for (uint64_t layer = 1; layer < field->layers; layer++)
    if (holds(field->rules[layer], field->winding[layer])) return 0;
  return 1;
}

static int contains(const girdle_field *field, double x, double y) {
  uint64_t band = band_of(field, y);
  memset(field->winding, 0, (size_t)field->layers * sizeof *field->winding);
  for (uint64_t i = field->band_first[band]; i < field->band_first[band + 1]; i++) {
    const girdle_edge *edge = &field->edges[field->band_edges[i]];
    int change = crossing(edge, y);
    if (left_of(edge) > x) break;
    if (change && crossing_at(edge, y) < x) field->winding[edge->layer] += change;
  }
  return is_inside(field);
}

/* Squared distance from a point to an edge. */
static double square_to(const girdle_edge *edge, double x, double y) {
  double ex = edge->x1 - edge->x0, ey = edge->y1 - edge->y0, px = x - edge->x0, py = y - edge->y0;
  double along = (px * ex + py * ey) / (ex * ex + ey * ey);
  along = along < 0 ? 0 : along > 1 ? 1 : along;
  px -= along * ex;
  py -= along * ey;
  return px * px + py * py;
}

/* Where the edges of a band that begin right of x start. */
static uint32_t first_right_of(const girdle_field *field, uint64_t band, double x) {
  uint32_t low = field->band_first[band], high = field->band_first[band + 1];
  while (low < high) {
    uint32_t middle = low + (high - low) / 2;
    if (left_of(&field->edges[field->band_edges[middle]]) > x)
      high = middle;
    else
      low = middle + 1;
  }
  return low;
}

/* The least squared distance to the edges of one band, if it is under `least`: leftwards from those that begin at the
 * point, until no edge reaches far enough right, then rightwards until they begin too far off. */
static double nearest_in(const girdle_field *field, uint64_t band, double x, double y, double least) {
  uint32_t start = first_right_of(field, band, x);
  double reach = sqrt(least);
  for (uint32_t i = start; i-- > field->band_first[band] && field->band_right[i] >= x - reach;) {
    double square = square_to(&field->edges[field->band_edges[i]], x, y);
    if (square >= least) continue;
    least = square;
    reach = sqrt(least);
  }
  for (uint32_t i = start; i < field->band_first[band + 1]; i++) {
    const girdle_edge *edge = &field->edges[field->band_edges[i]];
    double square;
    if (left_of(edge) > x + reach) break;
    square = square_to(edge, x, y);
    if (square >= least) continue;
    least = square;
    reach = sqrt(least);
  }
  return least;
}

/* From the point's own band outwards: a band farther off than the nearest edge so far holds no nearer one. */
double girdle_field_depth(const girdle_field *field, double x, double y, double limit_mm) {
  uint64_t own = band_of(field, y);
  double least = nearest_in(field, own, x, y, limit_mm * limit_mm), depth;
  int up = 1, down = 1;
  for (uint64_t step = 1; up || down; step++) {
    double above = y - (field->box.top_mm + (double)(own - step + 1) * field->band_mm);
    double below = field->box.top_mm + (double)(own + step) * field->band_mm - y;
    up = up && step <= own && (above <= 0 || above * above < least);
    down = down && own + step < field->bands && (below <= 0 || below * below < least);
    if (up) least = nearest_in(field, own - step, x, y, least);
    if (down) least = nearest_in(field, own + step, x, y, least);
  }
  depth = sqrt(least);
  return contains(field, x, y) ? depth : -depth;
}

/* ---- rows */

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
  uint64_t first = band_of(field, y - radius), last = band_of(field, y + radius);
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
      span->change = crossing(edge, y);
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
    if (is_inside(field)) emit(field, reach, start, 1);
    for (reach = start; i < count && field->scratch[i].from < reach + 1e-9; i++) {
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
