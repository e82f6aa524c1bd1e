/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"
#include "shape_build_internal.h"

/* A region as straight chords, none farther than GIRDLE_FLAT_MM from its curve. A point whose distance from every chord
 * is known to be at least r is wholly inside or outside; which of the two, its winding about each layer says. Corners
 * of the chords lie on a grid of a millionth of a millimetre, so that a libm that differs in the last digit changes
 * nothing.
 *
 * So fine a curve has thousands of chords, of which few ever matter. Where only depths are asked for, an edge stands
 * for a stretch of up to LONGEST of them: each lies within `sag_mm` of the edge, which settles nearly every question.
 * The chords themselves are worked out when something comes that near, and give the same answers to the last bit. */

#define EDGES_MOST 1e8
#define TIDIED_MM 2e-6 /* more than corners move to their grid */
enum { LONGEST = 32 };

void girdle_field_free(girdle_field *field) {
  const girdle_allocator *memory = &field->memory;
  girdle_common_release(memory, field->edges, field->capacity * sizeof *field->edges);
  girdle_common_release(memory, field->stretches, field->stretch_capacity * sizeof *field->stretches);
  girdle_common_release(memory, field->corners, field->corner_count * sizeof *field->corners);
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

static int32_t add_edge(girdle_call *call, girdle_field *field, girdle_corner from, girdle_corner to, uint32_t layer) {
  girdle_edge edge = {from.x, from.y, to.x, to.y, to.x - from.x, to.y - from.y, 0, layer, 0};
  double length = sqrt(edge.way_x * edge.way_x + edge.way_y * edge.way_y);
  if (!(length > 0)) return GIRDLE_OK;
  if (edge.way_y != 0) edge.per_y = 1 / edge.way_y;
  edge.way_x /= length;
  edge.way_y /= length;
  GIRDLE_TRY(girdle_common_grow(call, &field->memory, (void **)&field->edges, &field->capacity, field->count + 1,
                                sizeof edge));
  field->edges[field->count++] = edge;
  girdle_box_take(&field->box, from.x, from.y);
  girdle_box_take(&field->box, to.x, to.y);
  return GIRDLE_OK;
}

/* Notes what the edge last added stands for. */
static int32_t note_stretch(girdle_call *call, girdle_field *field, const girdle_chords *stretch) {
  GIRDLE_TRY(girdle_common_grow(call, &field->memory, (void **)&field->stretches, &field->stretch_capacity,
                                field->count, sizeof *stretch));
  field->stretches[field->count - 1] = *stretch;
  field->stretches[field->count - 1].corner = field->corner_count;
  field->corner_count += stretch->count + 1;
  return GIRDLE_OK;
}

static double tidy(double mm) {
  return nearbyint(mm * 1e6) / 1e6;
}

/* Where a chord of a piece begins. */
static girdle_corner corner_at(const girdle_piece *piece, double chord, double chords) {
  double point[2];
  girdle_corner corner;
  girdle_piece_at(piece, chord / chords, point, NULL, NULL);
  corner.x = tidy(point[0]);
  corner.y = tidy(point[1]);
  return corner;
}

static int32_t add_stretch(girdle_call *call, girdle_field *field, const girdle_chords *stretch, uint32_t layer,
                           girdle_corner from, girdle_corner to) {
  uint64_t before = field->count;
  GIRDLE_TRY(add_edge(call, field, from, to, layer));
  return field->sag_mm > 0 && field->count > before ? note_stretch(call, field, stretch) : GIRDLE_OK;
}

/* A chord over a step h of t lies within h^2 / 8 of the second derivative from the curve. An edge stands for one chord
 * only where one for more would have no length. */
static int32_t add_piece(girdle_call *call, girdle_field *field, const girdle_piece *piece, double flat_mm,
                         uint32_t layer, girdle_corner *last) {
  double chords = fmax(ceil(sqrt(girdle_piece_bend(piece) / (8 * flat_mm))), 1);
  girdle_chords next = {piece, chords, 0, 0, 0, 0};
  if (chords + (double)(field->count + field->corner_count) > EDGES_MOST)
    return girdle_common_fail(call, GIRDLE_LIMIT, "within", "the outline is too long for its smallest details");
  for (; next.first < chords; next.first += next.count) {
    girdle_corner end;
    next.count = field->sag_mm > 0 ? (uint32_t)fmin(chords - next.first, LONGEST) : 1;
    end = corner_at(piece, next.first + next.count, chords);
    if (next.count > 1 && end.x == last->x && end.y == last->y) {
      next.count = 1;
      end = corner_at(piece, next.first + 1, chords);
    }
    GIRDLE_TRY(add_stretch(call, field, &next, layer, *last, end));
    *last = end;
    if (next.first / 4096 != (next.first + next.count) / 4096) GIRDLE_TRY(girdle_common_tick(call, 4096, -1));
  }
  return GIRDLE_OK;
}

static int32_t add_outline(girdle_call *call, girdle_field *field, const girdle_path *outline, int closes,
                           double flat_mm, uint32_t layer) {
  uint64_t count, piece_count;
  const girdle_subpath *parts = girdle_path_parts(outline, &count);
  const girdle_piece *pieces = girdle_path_pieces(outline, &piece_count);
  for (const girdle_subpath *part = parts; part < parts + count; part++) {
    girdle_corner first = corner_at(&pieces[part->first], 0, 1), last = first;
    girdle_chords straight = {NULL, 1, 0, 1, 0, 0};
    for (uint64_t i = 0; i < part->count; i++)
      GIRDLE_TRY(add_piece(call, field, &pieces[part->first + i], flat_mm, layer, &last));
    if (closes) GIRDLE_TRY(add_stretch(call, field, &straight, layer, last, first));
  }
  return GIRDLE_OK;
}

static int32_t add_region(girdle_call *call, girdle_field *field, const girdle_region *region, double flat_mm) {
  uint64_t count;
  const girdle_layer *layers = girdle_region_layers(region, &count);
  for (uint64_t i = 0; i < count; i++) {
    field->rules[i] = layers[i].rule;
    GIRDLE_TRY(add_outline(call, field, layers[i].outline, 1, flat_mm, (uint32_t)i));
  }
  if (field->count) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_GEOMETRY, "within", "the region has no extent");
}

int32_t girdle_field_new(girdle_call *call, const girdle_region *region, double flat_mm, girdle_field *out) {
  uint64_t layers;
  int32_t status;
  girdle_region_layers(region, &layers);
  status = begin(call, out, layers);
  if (!status) status = add_region(call, out, region, flat_mm);
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
    girdle_corner start = {cosine * edge->x0 - sine * edge->y0, sine * edge->x0 + cosine * edge->y0};
    girdle_corner end = {cosine * edge->x1 - sine * edge->y1, sine * edge->x1 + cosine * edge->y1};
    status = add_edge(call, out, start, end, edge->layer);
  }
  if (status) girdle_field_free(out);
  return status;
}

/* ---- stretches */

/* The corners of an edge's chords, worked out when first asked for. */
static const girdle_corner *corners_of(const girdle_field *field, uint32_t at) {
  const girdle_edge *edge = &field->edges[at];
  girdle_chords *stretch = &field->stretches[at];
  girdle_corner *corners = field->corners + stretch->corner;
  girdle_corner first = {edge->x0, edge->y0}, last = {edge->x1, edge->y1};
  if (stretch->known) return corners;
  corners[0] = first;
  for (uint32_t i = 1; i < stretch->count; i++)
    corners[i] = corner_at(stretch->piece, stretch->first + i, stretch->chords);
  corners[stretch->count] = last;
  stretch->known = 1;
  return corners;
}

static uint32_t chords_of(const girdle_field *field, uint32_t at) {
  return field->sag_mm > 0 ? field->stretches[at].count : 1;
}

/* The box holds the chords, so only those matter that may reach out of it as far as it is known. */
static void settle_box(girdle_field *field) {
  for (uint32_t at = 0; at < field->count; at++) {
    const girdle_edge *edge = &field->edges[at];
    const girdle_box *box = &field->box;
    double sag = field->sag_mm;
    if (chords_of(field, at) == 1 ||
        (fmin(edge->x0, edge->x1) - sag > box->left_mm && fmax(edge->x0, edge->x1) + sag < box->right_mm &&
         fmin(edge->y0, edge->y1) - sag > box->top_mm && fmax(edge->y0, edge->y1) + sag < box->bottom_mm))
      continue;
    for (const girdle_corner *corner = corners_of(field, at), *end = corner + chords_of(field, at); corner < end;
         corner++)
      girdle_box_take(&field->box, corner->x, corner->y);
  }
}

/* Each of the LONGEST chords lies within flat_mm of the curve, and the edge for all of them within as much times their
 * number squared. */
int32_t girdle_field_for_depths(girdle_call *call, const girdle_region *region, double flat_mm, girdle_field *out) {
  uint64_t layers;
  int32_t status;
  girdle_region_layers(region, &layers);
  status = begin(call, out, layers);
  out->sag_mm = LONGEST * LONGEST * flat_mm + TIDIED_MM;
  if (!status) status = add_region(call, out, region, flat_mm);
  if (!status) {
    out->corners = girdle_common_new(call, out->corner_count * sizeof *out->corners);
    status = out->corners ? GIRDLE_OK : GIRDLE_MEMORY;
  }
  if (status)
    girdle_field_free(out);
  else
    settle_box(out);
  return status;
}

/* ---- bands */

uint64_t girdle_field_band(const girdle_field *field, double y) {
  double band = (y - field->box.top_mm) / field->band_mm;
  return band <= 0 ? 0 : band >= (double)field->bands - 1 ? field->bands - 1 : (uint64_t)(int64_t)band;
}

static uint64_t last_band_of(const girdle_field *field, const girdle_edge *edge) {
  return girdle_field_band(field, fmax(edge->y0, edge->y1) + field->sag_mm);
}

/* How far an edge reaches with all that it stands for. */
static double left_of(const girdle_field *field, uint32_t at) {
  const girdle_edge *edge = &field->edges[at];
  return (edge->x0 < edge->x1 ? edge->x0 : edge->x1) - field->sag_mm;
}

static double right_of(const girdle_field *field, uint32_t at) {
  const girdle_edge *edge = &field->edges[at];
  return (edge->x0 < edge->x1 ? edge->x1 : edge->x0) + field->sag_mm;
}

static void order_band(girdle_field *field, girdle_span *room, uint32_t first, uint32_t end) {
  for (uint32_t i = first; i < end; i++) {
    girdle_span item = {left_of(field, field->band_edges[i]), 0, field->band_edges[i], 0};
    room[i - first] = item;
  }
  girdle_place_sort(room, end - first);
  for (uint32_t i = first; i < end; i++) {
    double right = right_of(field, room[i - first].layer);
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
    edge->band = (uint32_t)girdle_field_band(field, fmin(edge->y0, edge->y1) - field->sag_mm);
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

static int holds(int32_t rule, int32_t winding) {
  return rule == GIRDLE_EVENODD ? winding & 1 : winding != 0;
}

int girdle_field_is_inside(const girdle_field *field) {
  if (!holds(field->rules[0], field->winding[0])) return 0;
  for (uint64_t layer = 1; layer < field->layers; layer++)
    if (holds(field->rules[layer], field->winding[layer])) return 0;
  return 1;
}

static double crossing_at(girdle_corner from, girdle_corner to, double y) {
  return from.x + (to.x - from.x) * ((y - from.y) / (to.y - from.y));
}

/* By how much a chord changes the winding of a point, looking left. */
static int change_by(girdle_corner from, girdle_corner to, double x, double y) {
  int change = girdle_field_crossing(from.y, to.y, y);
  return change && crossing_at(from, to, y) < x ? change : 0;
}

/* Away from an edge its chords change the winding as it does. */
static int change_by_edge(const girdle_field *field, uint32_t at, double x, double y) {
  const girdle_edge *edge = &field->edges[at];
  girdle_corner from = {edge->x0, edge->y0}, to = {edge->x1, edge->y1};
  uint32_t count = chords_of(field, at);
  const girdle_corner *corners;
  int change = 0;
  if (count == 1 || fabs((x - from.x) * edge->way_y - (y - from.y) * edge->way_x) > field->sag_mm)
    return change_by(from, to, x, y);
  corners = corners_of(field, at);
  for (uint32_t i = 0; i < count; i++)
    change += change_by(corners[i], corners[i + 1], x, y);
  return change;
}

static int contains(const girdle_field *field, double x, double y) {
  uint64_t band = girdle_field_band(field, y);
  memset(field->winding, 0, (size_t)field->layers * sizeof *field->winding);
  for (uint64_t i = field->band_first[band]; i < field->band_first[band + 1]; i++) {
    uint32_t at = field->band_edges[i];
    if (left_of(field, at) > x) break;
    field->winding[field->edges[at].layer] += change_by_edge(field, at, x, y);
  }
  return girdle_field_is_inside(field);
}

/* ---- depth */

/* Squared distance from a point to a chord. */
static double square_to(girdle_corner from, girdle_corner to, double x, double y) {
  double ex = to.x - from.x, ey = to.y - from.y, px = x - from.x, py = y - from.y;
  double along = (px * ex + py * ey) / (ex * ex + ey * ey);
  along = along < 0 ? 0 : along > 1 ? 1 : along;
  px -= along * ex;
  py -= along * ey;
  return px * px + py * py;
}

static double square_to_edge(const girdle_edge *edge, double x, double y) {
  girdle_corner from = {edge->x0, edge->y0}, to = {edge->x1, edge->y1};
  return square_to(from, to, x, y);
}

/* The least squared distance to an edge's chords, of those that have a length. */
static double square_to_chords(const girdle_field *field, uint32_t at, double x, double y) {
  const girdle_corner *corners = corners_of(field, at);
  double least = INFINITY;
  for (uint32_t i = 0; i < chords_of(field, at); i++) {
    double square = square_to(corners[i], corners[i + 1], x, y);
    if (square < least) least = square; /* a chord without length has none */
  }
  return least;
}

/* The squared distance to what an edge stands for, when it may be under that of `reach`. */
static double square_within(const girdle_field *field, uint32_t at, double x, double y, double reach) {
  double square = square_to_edge(&field->edges[at], x, y), beyond = reach + field->sag_mm;
  return chords_of(field, at) == 1 || square >= beyond * beyond ? square : square_to_chords(field, at, x, y);
}

/* Where the edges of a band that begin right of x start. */
static uint32_t first_right_of(const girdle_field *field, uint64_t band, double x) {
  uint32_t low = field->band_first[band], high = field->band_first[band + 1];
  while (low < high) {
    uint32_t middle = low + (high - low) / 2;
    if (left_of(field, field->band_edges[middle]) > x)
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
    double square = square_within(field, field->band_edges[i], x, y, reach);
    if (square >= least) continue;
    least = square;
    reach = sqrt(least);
  }
  for (uint32_t i = start; i < field->band_first[band + 1]; i++) {
    double square;
    if (left_of(field, field->band_edges[i]) > x + reach) break;
    square = square_within(field, field->band_edges[i], x, y, reach);
    if (square >= least) continue;
    least = square;
    reach = sqrt(least);
  }
  return least;
}

/* From the point's own band outwards: a band farther off than the nearest edge so far holds no nearer one. */
double girdle_field_depth(const girdle_field *field, double x, double y, double limit_mm) {
  uint64_t own = girdle_field_band(field, y);
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

/* Whether what an edge stands for comes nearer than `reach`: the edge itself says so but for a narrow stretch. */
static int is_nearer(const girdle_field *field, uint32_t at, double x, double y, double reach) {
  double distance = sqrt(square_to_edge(&field->edges[at], x, y));
  if (chords_of(field, at) == 1 || distance >= reach + field->sag_mm) return distance < reach;
  return distance < reach - field->sag_mm || sqrt(square_to_chords(field, at, x, y)) < reach;
}

static int is_any_nearer(const girdle_field *field, double x, double y, double reach) {
  uint64_t last = girdle_field_band(field, y + reach);
  for (uint64_t band = girdle_field_band(field, y - reach); band <= last; band++)
    for (uint32_t i = first_right_of(field, band, x + reach);
         i-- > field->band_first[band] && field->band_right[i] >= x - reach;)
      if (is_nearer(field, field->band_edges[i], x, y, reach)) return 1;
  return 0;
}

int girdle_field_holds(const girdle_field *field, double x, double y, double depth_mm) {
  int is_near = is_any_nearer(field, x, y, fabs(depth_mm));
  return depth_mm > 0 ? !is_near && contains(field, x, y) : is_near || contains(field, x, y);
}
