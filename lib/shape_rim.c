/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "shape_build_internal.h"
#include "sort_internal.h"

/* The true boundary of layers: every outline is cut where it meets another or itself, each cut piece is looked at from
 * both sides, and those with the region on one side alone are joined, the region on their right. Outlines that meet
 * nothing are looked at once. */

typedef struct cut {
  uint64_t piece; /* counted over all layers */
  double t;
} cut;

typedef struct rim {
  girdle_call *call;
  girdle_allocator memory;
  const girdle_layer *layers;
  uint64_t layer_count;
  double drawn_slack, slack; /* what counts as touching in a drawing, and what is rounding; see girdle_layers_rim */
  cut *cuts;                 /* in order of piece and t */
  uint64_t cut_count, cut_capacity;
  girdle_piece *loose;
  uint64_t loose_count, loose_capacity, steps;
  girdle_strokes strokes;
} rim;

static int in_layer(const girdle_layer *layer, double x, double y) {
  int32_t winding = girdle_path_winding(layer->outline, x, y);
  return layer->rule == GIRDLE_EVENODD ? winding & 1 : winding != 0;
}

int girdle_layers_contain(const girdle_layer *layers, uint64_t count, double x, double y) {
  if (!in_layer(&layers[0], x, y)) return 0;
  for (uint64_t i = 1; i < count; i++)
    if (in_layer(&layers[i], x, y)) return 0;
  return 1;
}

/* 1 when the region lies right of the piece alone, -1 when left, 0 when on both sides or none. */
static int side_of(const rim *r, const girdle_piece *piece) {
  double point[2], along[2], step = r->slack / 2;
  int right, left;
  girdle_piece_at(piece, 0.5, point, NULL, NULL);
  girdle_piece_direction(piece, 0.5, 1, along);
  right = girdle_layers_contain(r->layers, r->layer_count, point[0] - step * along[1], point[1] + step * along[0]);
  left = girdle_layers_contain(r->layers, r->layer_count, point[0] + step * along[1], point[1] - step * along[0]);
  return right - left;
}

/* ---- where outlines meet */

static int32_t add_cut(rim *r, uint64_t piece, double t) {
  void *cuts = r->cuts;
  int32_t status =
      girdle_common_grow(r->call, &r->memory, &cuts, &r->cut_capacity, r->cut_count + 1, sizeof r->cuts[0]);
  r->cuts = cuts;
  GIRDLE_TRY(status);
  r->cuts[r->cut_count].piece = piece;
  r->cuts[r->cut_count++].t = t;
  return GIRDLE_OK;
}

static int32_t refuse(const rim *r, const girdle_path *outline, const girdle_hit *hit) {
  int crosses = girdle_hit_crosses(outline, outline, hit, r->drawn_slack);
  char x[32], y[32];
  girdle_number_text(hit->x, 3, x, sizeof x);
  girdle_number_text(hit->y, 3, y, sizeof y);
  return girdle_common_fail(r->call, GIRDLE_GEOMETRY, "outline", "the outline %s at x %s mm, y %s mm",
                            crosses ? "crosses itself" : "lies over itself too often, as", x, y);
}

/* 1 when the outline is one line there and back, which touches itself all along. */
static int is_flat(const rim *r, const girdle_path *outline) {
  const girdle_piece *start = outline->pieces;
  double along[2] = {0, 0}, size = 0;
  for (int pass = 0; pass < 2; pass++) {
    for (uint64_t i = 0; i < outline->piece_count; i++) {
      const girdle_piece *piece = &outline->pieces[i];
      uint64_t points = girdle_piece_points(piece);
      if (piece->kind == GIRDLE_PIECE_ARC) return 0;
      for (uint64_t k = 0; k < points; k++) {
        double dx = piece->x[k] - start->x[0], dy = piece->y[k] - start->y[0];
        if (pass == 1 && fabs(dx * along[1] - dy * along[0]) > r->slack * size) return 0;
        if (pass == 1 || girdle_norm(dx, dy) <= size) continue;
        size = girdle_norm(dx, dy);
        along[0] = dx;
        along[1] = dy;
      }
    }
  }
  return 1;
}

static int32_t no_area(const rim *r) {
  return girdle_common_fail(r->call, GIRDLE_GEOMETRY, "region", "the outline encloses no area");
}

/* An outline that someone drew must not cross itself; gives whether it touches itself. */
static int32_t check_outline(const rim *r, const girdle_path *outline, int *touches) {
  girdle_hits hits;
  girdle_hit fault = {.along = {NAN, NAN}};
  int32_t status;
  if (is_flat(r, outline)) return no_area(r);
  status = girdle_path_touches(r->call, outline, r->drawn_slack, &hits, &fault);
  if (!status && !isnan(fault.along[0])) status = refuse(r, outline, &fault);
  *touches = hits.count > 0;
  girdle_hits_free(&hits);
  return status;
}

static int32_t cut_pair(rim *r, uint64_t first, uint64_t second, const uint64_t base[2]) {
  girdle_hits hits;
  int32_t status = girdle_path_hits(r->call, r->layers[first].outline, r->layers[second].outline, r->slack, &hits);
  for (uint64_t i = 0; i < hits.count && !status; i++) {
    const girdle_hit *hit = &hits.items[i];
    status = add_cut(r, base[0] + hit->piece[0], hit->t[0]);
    if (!status) status = add_cut(r, base[1] + hit->piece[1], hit->t[1]);
  }
  girdle_hits_free(&hits);
  return status;
}

static int in_order(const void *left, const void *right) {
  const cut *a = left, *b = right;
  if (a->piece != b->piece) return a->piece < b->piece ? -1 : 1;
  return (a->t > b->t) - (a->t < b->t);
}

static int32_t find_cuts(rim *r, int checked) {
  uint64_t base[2] = {0, 0};
  for (uint64_t i = 0; i < r->layer_count; i++) {
    base[1] = base[0];
    int touches = 1;
    if (checked) GIRDLE_TRY(check_outline(r, r->layers[i].outline, &touches));
    for (uint64_t j = i; j < r->layer_count; j++) {
      if (j > i || touches) GIRDLE_TRY(cut_pair(r, i, j, base));
      base[1] += r->layers[j].outline->piece_count;
    }
    base[0] += r->layers[i].outline->piece_count;
  }
  girdle_sort(r->cuts, r->cut_count, sizeof r->cuts[0], in_order);
  return GIRDLE_OK;
}

/* The first cut at this piece or a later one. */
static uint64_t first_cut(const rim *r, uint64_t piece) {
  uint64_t low = 0, high = r->cut_count;
  while (low < high) {
    uint64_t middle = low + (high - low) / 2;
    if (r->cuts[middle].piece < piece)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

/* ---- what is boundary */

static int32_t keep_loose(rim *r, const girdle_piece *whole, double from, double to) {
  girdle_piece piece;
  void *loose = r->loose;
  int32_t status;
  int side;
  if (++r->steps % 1024 == 0) GIRDLE_TRY(girdle_common_tick(r->call, 1024, -1));
  girdle_piece_cut(whole, from, to, &piece);
  if (!(girdle_piece_between_mm(&piece, 0, 1) > r->slack)) return GIRDLE_OK;
  side = side_of(r, &piece);
  if (side == 0) return GIRDLE_OK;
  if (side < 0) girdle_piece_reverse(&piece);
  status = girdle_common_grow(r->call, &r->memory, &loose, &r->loose_capacity, r->loose_count + 1, sizeof piece);
  r->loose = loose;
  GIRDLE_TRY(status);
  r->loose[r->loose_count++] = piece;
  return GIRDLE_OK;
}

static int32_t take_apart(rim *r, const girdle_piece *pieces, uint64_t count, uint64_t base) {
  uint64_t next = first_cut(r, base);
  for (uint64_t i = 0; i < count; i++) {
    double from = 0;
    for (; next < r->cut_count && r->cuts[next].piece == base + i; next++) {
      if (!(r->cuts[next].t > from && r->cuts[next].t < 1)) continue;
      GIRDLE_TRY(keep_loose(r, &pieces[i], from, r->cuts[next].t));
      from = r->cuts[next].t;
    }
    GIRDLE_TRY(keep_loose(r, &pieces[i], from, 1));
  }
  return GIRDLE_OK;
}

void girdle_strokes_ring(girdle_strokes *strokes, const girdle_piece *pieces, uint64_t count, int forwards) {
  for (uint64_t i = 0; i < count; i++) {
    girdle_piece piece = pieces[forwards ? i : count - 1 - i];
    if (!forwards) girdle_piece_reverse(&piece);
    if (i == 0) girdle_strokes_move(strokes, piece.x[0], piece.y[0]);
    girdle_strokes_piece(strokes, &piece);
  }
  girdle_strokes_close(strokes);
}

static const girdle_piece *longest(const girdle_piece *pieces, uint64_t count) {
  const girdle_piece *best = pieces;
  for (uint64_t i = 1; i < count; i++)
    if (pieces[i].length_mm > best->length_mm) best = &pieces[i];
  return best;
}

static int32_t draw_rings(rim *r) {
  uint64_t base = 0;
  for (uint64_t l = 0; l < r->layer_count; l++) {
    const girdle_path *path = r->layers[l].outline;
    for (uint64_t p = 0; p < path->part_count; p++) {
      const girdle_piece *pieces = path->pieces + path->parts[p].first;
      uint64_t count = path->parts[p].count, next = first_cut(r, base);
      if (next < r->cut_count && r->cuts[next].piece < base + count) {
        GIRDLE_TRY(take_apart(r, pieces, count, base));
      } else {
        int side = side_of(r, longest(pieces, count));
        if (side) girdle_strokes_ring(&r->strokes, pieces, count, side > 0);
      }
      base += count;
    }
  }
  girdle_strokes_chains(&r->strokes, r->loose, r->loose_count, 4 * r->slack, 1);
  if (!r->strokes.status && r->strokes.path->piece_count == 0) return no_area(r);
  return r->strokes.status;
}

/* Coordinates are right to some 1e-16 of the largest, points of arcs to that of their radius. */
static double finest(const girdle_layer *layers, uint64_t count) {
  double farthest = 0, radius = 0;
  for (uint64_t l = 0; l < count; l++) {
    const girdle_path *path = layers[l].outline;
    const girdle_box *box = &path->tree[1];
    farthest = fmax(farthest,
                    fmax(fmax(fabs(box->left_mm), fabs(box->right_mm)), fmax(fabs(box->top_mm), fabs(box->bottom_mm))));
    for (uint64_t i = 0; i < path->piece_count; i++)
      radius = fmax(radius, fmax(path->pieces[i].radius_x, path->pieces[i].radius_y));
  }
  return fmax(1e-12 * farthest, 1e-14 * radius);
}

static int32_t rim_within(girdle_call *call, const girdle_layer *layers, uint64_t count, int checked, double slack,
                          girdle_path **out) {
  rim r = {.call = call, .layers = layers, .layer_count = count, .slack = slack};
  int32_t status;
  r.memory = girdle_common_memory(call);
  r.drawn_slack = girdle_shape_slack(&layers[0].outline->tree[1]);
  girdle_strokes_begin(&r.strokes, call);
  status = r.strokes.status ? r.strokes.status : find_cuts(&r, checked);
  if (!status) status = draw_rings(&r);
  if (!r.strokes.status) r.strokes.status = status;
  status = girdle_strokes_finish(&r.strokes, out);
  girdle_common_release(&r.memory, r.cuts, r.cut_capacity * sizeof r.cuts[0]);
  girdle_common_release(&r.memory, r.loose, r.loose_capacity * sizeof r.loose[0]);
  return status;
}

/* Touching is exact to rounding; where rounding was worse than thought the rings do not close, and are made anew. */
int32_t girdle_layers_rim(girdle_call *call, const girdle_layer *layers, uint64_t count, int checked,
                          girdle_path **out) {
  double slack = finest(layers, count);
  for (int tries = 0; tries < 3; tries++, slack *= 100) {
    GIRDLE_TRY(rim_within(call, layers, count, checked && tries == 0, slack, out));
    if (girdle_path_is_closed(*out)) return GIRDLE_OK;
    girdle_path_free(*out);
    *out = NULL;
  }
  return girdle_common_fail(call, GIRDLE_GEOMETRY, "region",
                            "the outlines lie too near to each other to be told apart");
}
