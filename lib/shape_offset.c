/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/shape.h"

#include <math.h>
#include <string.h>

#include "shape_build_internal.h"

/* The parallel of a path of lines and arcs: every edge moved sideways, and an arc round every corner that opens to that
 * side. What lies nearer than the distance to any edge is cut away: the points within a distance of an edge are its
 * capsule, whose outline is made of lines and arcs too, so that every cut is found in closed form. What remains is at
 * the distance from its own edge and no nearer to any other; the remains are joined. */

enum { MOST_CUTS = 16 };

typedef struct interval {
  double from, to;
} interval;

typedef struct parallel {
  girdle_call *call;
  girdle_allocator memory;
  const girdle_path *edges;
  double side_mm, reach_mm; /* signed: to the right is positive; and its size */
  double slack_mm;          /* what is less is rounding */
  interval *removed;        /* of the piece at hand */
  uint64_t removed_count, removed_capacity;
  const girdle_piece *killer; /* the edge that removed a piece whole last, tried first on the next */
  girdle_piece *kept;
  uint64_t kept_count, kept_capacity;
} parallel;

/* ---- where a line or an arc meets the outline of a capsule */

typedef struct cuts {
  const girdle_piece *piece;
  int count;
  double t[MOST_CUTS];
} cuts;

static void add_cut(cuts *c, double t) {
  int i;
  if (!(t > 0 && t < 1) || c->count == MOST_CUTS) return;
  for (i = c->count++; i > 0 && c->t[i - 1] > t; i--)
    c->t[i] = c->t[i - 1];
  c->t[i] = t;
}

static void add_angle(cuts *c, double angle) {
  static const double full_turn = 6.283185307179586476925;
  double turn = (angle - c->piece->from) * (c->piece->sweep < 0 ? -1 : 1);
  turn -= full_turn * floor(turn / full_turn);
  add_cut(c, turn / fabs(c->piece->sweep));
}

/* Cuts with the line through a point with a unit normal. */
static void cut_by_line(cuts *c, double x, double y, const double normal[2]) {
  const girdle_piece *piece = c->piece;
  if (piece->kind == GIRDLE_PIECE_ARC) {
    double height = (x - piece->centre_x) * normal[0] + (y - piece->centre_y) * normal[1];
    double middle, half;
    if (!(fabs(height) <= piece->radius_x)) return;
    middle = atan2(normal[1], normal[0]);
    half = acos(height / piece->radius_x);
    add_angle(c, middle - half);
    add_angle(c, middle + half);
  } else {
    double start = (piece->x[0] - x) * normal[0] + (piece->y[0] - y) * normal[1];
    double end = (piece->x[1] - x) * normal[0] + (piece->y[1] - y) * normal[1];
    if (start != end) add_cut(c, start / (start - end));
  }
}

static void cut_line_by_circle(cuts *c, double x, double y, double radius) {
  const girdle_piece *line = c->piece;
  double dx = line->x[1] - line->x[0], dy = line->y[1] - line->y[0], size = dx * dx + dy * dy;
  double middle = ((x - line->x[0]) * dx + (y - line->y[0]) * dy) / size;
  double height = (line->x[0] - x) * dy - (line->y[0] - y) * dx;
  double under = radius * radius - height * height / size, half;
  if (under < 0) return;
  half = sqrt(under / size);
  add_cut(c, middle - half);
  add_cut(c, middle + half);
}

static void cut_by_circle(cuts *c, double x, double y, double radius) {
  const girdle_piece *arc = c->piece;
  double dx = x - arc->centre_x, dy = y - arc->centre_y, apart = dx * dx + dy * dy, cosine, middle, half;
  if (arc->kind != GIRDLE_PIECE_ARC) {
    cut_line_by_circle(c, x, y, radius);
    return;
  }
  cosine = (apart + arc->radius_x * arc->radius_x - radius * radius) / (2 * sqrt(apart) * arc->radius_x);
  if (!(fabs(cosine) <= 1)) return;
  middle = atan2(dy, dx);
  half = acos(cosine);
  add_angle(c, middle - half);
  add_angle(c, middle + half);
}

/* Where the piece is just `reach` from the edge, among others: whole lines and circles stand for their parts. */
static void find_cuts(cuts *c, const girdle_piece *edge, double reach) {
  c->count = 0;
  if (edge->kind == GIRDLE_PIECE_ARC) {
    cut_by_circle(c, edge->centre_x, edge->centre_y, edge->radius_x + reach);
    cut_by_circle(c, edge->centre_x, edge->centre_y, fabs(edge->radius_x - reach));
  } else {
    double dx = edge->x[1] - edge->x[0], dy = edge->y[1] - edge->y[0], size = sqrt(dx * dx + dy * dy);
    double normal[2] = {-dy / size, dx / size};
    cut_by_line(c, edge->x[0] + reach * normal[0], edge->y[0] + reach * normal[1], normal);
    cut_by_line(c, edge->x[0] - reach * normal[0], edge->y[0] - reach * normal[1], normal);
  }
  cut_by_circle(c, edge->x[0], edge->y[0], reach);
  cut_by_circle(c, edge->x[1], edge->y[1], reach);
}

/* ---- cutting away */

static int32_t remove_between(parallel *p, double from, double to) {
  void *removed = p->removed;
  int32_t status;
  if (p->removed_count && p->removed[p->removed_count - 1].to == from) {
    p->removed[p->removed_count - 1].to = to;
    return GIRDLE_OK;
  }
  status = girdle_common_grow(p->call, &p->memory, &removed, &p->removed_capacity, p->removed_count + 1,
                              sizeof p->removed[0]);
  p->removed = removed;
  GIRDLE_TRY(status);
  p->removed[p->removed_count].from = from;
  p->removed[p->removed_count++].to = to;
  return GIRDLE_OK;
}

/* The piece being cut, with what every comparison asks of it. */
typedef struct victim {
  girdle_piece piece;
  double middle[2], half_mm, bulge_mm;
} victim;

static double bulge_of(const girdle_piece *piece) {
  return girdle_piece_bend(piece) / 8;
}

static double distance_at(const girdle_piece *piece, double t, const girdle_piece *edge) {
  double point[2];
  girdle_piece_at(piece, t, point, NULL, NULL);
  return girdle_piece_distance(edge, point[0], point[1]);
}

/* Square of the distance from a point to a piece's chord. */
static double chord_gap(const girdle_piece *piece, double x, double y) {
  double ax = x - piece->x[0], ay = y - piece->y[0], bx = x - piece->x[1], by = y - piece->y[1];
  double dx = piece->x[1] - piece->x[0], dy = piece->y[1] - piece->y[0], across = ax * dy - ay * dx;
  if (ax * dx + ay * dy <= 0) return ax * ax + ay * ay;
  if (bx * dx + by * dy >= 0) return bx * bx + by * by;
  return across * across / (dx * dx + dy * dy);
}

/* 1 when no point of one is within `nearest` of the other, given that they do not cross: chords are nearest at an end,
 * and a piece leaves its chord by its bulge at most. */
static int stays_away(const victim *v, const girdle_piece *edge, double nearest) {
  const girdle_piece *piece = &v->piece;
  double limit = nearest + v->bulge_mm + bulge_of(edge);
  limit *= limit;
  return chord_gap(edge, piece->x[0], piece->y[0]) >= limit && chord_gap(edge, piece->x[1], piece->y[1]) >= limit &&
         chord_gap(piece, edge->x[0], edge->y[0]) >= limit && chord_gap(piece, edge->x[1], edge->y[1]) >= limit;
}

/* Removes what is in the edge's capsule. Distance changes no faster than the point moves, which decides most pairs at
 * the piece's middle. */
static int32_t subtract(parallel *p, const victim *v, const girdle_piece *edge) {
  double middle = girdle_piece_distance(edge, v->middle[0], v->middle[1]), nearest = p->reach_mm - p->slack_mm;
  cuts c = {.piece = &v->piece};
  double from = 0;
  if (middle - v->half_mm >= nearest) return GIRDLE_OK;
  if (middle + v->half_mm < nearest) {
    p->killer = edge;
    return remove_between(p, 0, 1);
  }
  if (middle > v->half_mm && stays_away(v, edge, nearest)) return GIRDLE_OK;
  find_cuts(&c, edge, p->reach_mm);
  for (int i = 0; i <= c.count; i++) {
    double to = i < c.count ? c.t[i] : 1;
    if (distance_at(&v->piece, (from + to) / 2, edge) < nearest) GIRDLE_TRY(remove_between(p, from, to));
    from = to;
  }
  return GIRDLE_OK;
}

static int removed_whole(const parallel *p) {
  const interval *last;
  if (!p->removed_count) return 0;
  last = &p->removed[p->removed_count - 1];
  return last->from == 0 && last->to == 1;
}

/* Square of the distance between two boxes; 0 when they overlap. */
static double box_gap(const girdle_box *a, const girdle_box *b) {
  double left = a->left_mm - b->right_mm, right = b->left_mm - a->right_mm, dx = left > right ? left : right;
  double above = a->top_mm - b->bottom_mm, below = b->top_mm - a->bottom_mm, dy = above > below ? above : below;
  if (dx < 0) dx = 0;
  if (dy < 0) dy = 0;
  return dx * dx + dy * dy;
}

/* Nearer halves first: what is removed is mostly removed whole by the first capsules. */
static int32_t subtract_all(parallel *p, const victim *v) {
  const girdle_path *edges = p->edges;
  uint64_t stack[160], n = edges->piece_count;
  double nearest = p->reach_mm - p->slack_mm, limit = nearest * nearest;
  girdle_box box;
  int depth = 1;
  p->removed_count = 0;
  if (p->killer && girdle_piece_distance(p->killer, v->middle[0], v->middle[1]) + v->half_mm < nearest)
    return remove_between(p, 0, 1);
  girdle_piece_box(&v->piece, &box);
  stack[0] = 1;
  while (depth > 0) {
    uint64_t node = stack[--depth];
    if (node >= n) {
      GIRDLE_TRY(subtract(p, v, &edges->pieces[node - n]));
      if (removed_whole(p)) return GIRDLE_OK;
    } else {
      double first = box_gap(&box, &edges->tree[2 * node]), second = box_gap(&box, &edges->tree[2 * node + 1]);
      int swap = first < second;
      if (!swap && first < limit) stack[depth++] = 2 * node;
      if (second < limit) stack[depth++] = 2 * node + 1;
      if (swap && first < limit) stack[depth++] = 2 * node;
    }
  }
  return GIRDLE_OK;
}

static void sort_removed(parallel *p) {
  for (uint64_t i = 1; i < p->removed_count; i++) {
    interval held = p->removed[i];
    uint64_t j = i;
    for (; j > 0 && p->removed[j - 1].from > held.from; j--)
      p->removed[j] = p->removed[j - 1];
    p->removed[j] = held;
  }
}

static int32_t keep_between(parallel *p, const girdle_piece *piece, double from, double to) {
  void *kept = p->kept;
  int32_t status;
  if ((to - from) * piece->length_mm <= p->slack_mm) return GIRDLE_OK;
  status = girdle_common_grow(p->call, &p->memory, &kept, &p->kept_capacity, p->kept_count + 1, sizeof *piece);
  p->kept = kept;
  GIRDLE_TRY(status);
  girdle_piece_cut(piece, from, to, &p->kept[p->kept_count++]);
  return GIRDLE_OK;
}

static int32_t keep_rest(parallel *p, const girdle_piece *piece) {
  victim v = {.piece = *piece};
  double reached = 0;
  v.piece.length_mm = girdle_piece_between_mm(piece, 0, 1);
  if (v.piece.length_mm <= p->slack_mm) return GIRDLE_OK;
  v.half_mm = v.piece.length_mm / 2;
  v.bulge_mm = bulge_of(piece);
  girdle_piece_at(piece, 0.5, v.middle, NULL, NULL);
  GIRDLE_TRY(subtract_all(p, &v));
  sort_removed(p);
  for (uint64_t i = 0; i < p->removed_count; i++) {
    if (p->removed[i].from > reached) GIRDLE_TRY(keep_between(p, &v.piece, reached, p->removed[i].from));
    reached = fmax(reached, p->removed[i].to);
  }
  return keep_between(p, &v.piece, reached, 1);
}

/* ---- the edges moved sideways */

static void set_arc(girdle_piece *arc, double x, double y, double radius, double from, double sweep) {
  memset(arc, 0, sizeof *arc);
  arc->kind = GIRDLE_PIECE_ARC;
  arc->centre_x = x;
  arc->centre_y = y;
  arc->radius_x = arc->radius_y = arc->x[2] = arc->y[2] = radius;
  arc->cos_tilt = 1;
  arc->from = from;
  arc->sweep = sweep;
  arc->y[3] = sweep > 0;
  arc->x[0] = x + radius * cos(from);
  arc->y[0] = y + radius * sin(from);
  arc->x[1] = x + radius * cos(from + sweep);
  arc->y[1] = y + radius * sin(from + sweep);
}

/* On the inner side of an arc whose radius is not larger than the distance nothing is at that distance. */
static int32_t move_edge(parallel *p, const girdle_piece *edge) {
  girdle_piece moved = *edge;
  if (edge->kind == GIRDLE_PIECE_ARC) {
    double radius = edge->radius_x - (edge->sweep > 0 ? p->side_mm : -p->side_mm);
    if (radius <= p->slack_mm) return GIRDLE_OK;
    set_arc(&moved, edge->centre_x, edge->centre_y, radius, edge->tilt + edge->from, edge->sweep);
  } else {
    double dx = edge->x[1] - edge->x[0], dy = edge->y[1] - edge->y[0], size = girdle_norm(dx, dy);
    for (int i = 0; i < 2; i++) {
      moved.x[i] -= p->side_mm * dy / size;
      moved.y[i] += p->side_mm * dx / size;
    }
  }
  return keep_rest(p, &moved);
}

/* An arc about a corner that opens to the wanted side, in parts of at most a third of a turn. */
static int32_t round_corner(parallel *p, const girdle_piece *before, const girdle_piece *after) {
  double in[2], out[2], turn, from;
  int parts;
  girdle_piece_direction(before, 1, -1, in);
  girdle_piece_direction(after, 0, 1, out);
  turn = atan2(in[0] * out[1] - in[1] * out[0], in[0] * out[0] + in[1] * out[1]);
  if (fabs(turn) > 3.14159265358979) turn = p->side_mm > 0 ? -fabs(turn) : fabs(turn);
  if (turn * p->side_mm >= 0) return GIRDLE_OK;
  from = p->side_mm > 0 ? atan2(in[0], -in[1]) : atan2(-in[0], in[1]);
  parts = (int)ceil(fabs(turn) / 2);
  for (int i = 0; i < parts; i++) {
    girdle_piece arc;
    set_arc(&arc, after->x[0], after->y[0], p->reach_mm, from + turn * i / parts, turn / parts);
    GIRDLE_TRY(keep_rest(p, &arc));
  }
  return GIRDLE_OK;
}

static int32_t move_part(parallel *p, const girdle_subpath *part) {
  const girdle_piece *pieces = p->edges->pieces + part->first;
  for (uint64_t i = 0; i < part->count; i++) {
    if (i % 64 == 63)
      GIRDLE_TRY(girdle_common_tick(p->call, 64, (double)(part->first + i) / (double)p->edges->piece_count));
    if (i > 0 || part->closed) GIRDLE_TRY(round_corner(p, &pieces[i > 0 ? i - 1 : part->count - 1], &pieces[i]));
    GIRDLE_TRY(move_edge(p, &pieces[i]));
  }
  return GIRDLE_OK;
}

/* ---- a path moved sideways */

static const double curve_tolerance_mm = 5e-6;

static int made_of_arcs(const girdle_path *path) {
  for (uint64_t i = 0; i < path->piece_count; i++) {
    const girdle_piece *piece = &path->pieces[i];
    if (piece->kind != GIRDLE_PIECE_LINE && (piece->kind != GIRDLE_PIECE_ARC || piece->radius_x != piece->radius_y))
      return 0;
  }
  return 1;
}

static int32_t move_all(parallel *p) {
  const girdle_box *box = &p->edges->tree[1];
  double extent = fmax(box->right_mm - box->left_mm, box->bottom_mm - box->top_mm);
  p->slack_mm = 1e-9 * (extent + p->reach_mm);
  for (uint64_t i = 0; i < p->edges->part_count; i++)
    GIRDLE_TRY(move_part(p, &p->edges->parts[i]));
  return GIRDLE_OK;
}

static int32_t nothing_left(girdle_call *call, double distance_mm) {
  char number[32];
  girdle_number_text(fabs(distance_mm), 4, number, sizeof number);
  return girdle_common_fail(call, GIRDLE_GEOMETRY, "distance", "nothing is left at a distance of %s mm", number);
}

static int32_t join_kept(parallel *p, girdle_path **out) {
  girdle_strokes strokes;
  if (p->kept_count == 0) return nothing_left(p->call, p->side_mm);
  girdle_strokes_begin(&strokes, p->call);
  girdle_strokes_chains(&strokes, p->kept, p->kept_count, 64 * p->slack_mm);
  return girdle_strokes_finish(&strokes, out);
}

static int32_t offset_of(girdle_call *call, const girdle_path *path, double distance_mm, girdle_path **out) {
  parallel p = {.call = call, .side_mm = distance_mm, .reach_mm = fabs(distance_mm)};
  girdle_path *arcs = NULL;
  int32_t status = GIRDLE_OK;
  p.memory = girdle_common_memory(call);
  if (!made_of_arcs(path)) status = girdle_path_as_arcs(call, path, curve_tolerance_mm, &arcs);
  p.edges = arcs ? arcs : path;
  if (!status) status = move_all(&p);
  if (!status) status = join_kept(&p, out);
  girdle_common_release(&p.memory, p.kept, p.kept_capacity * sizeof p.kept[0]);
  girdle_common_release(&p.memory, p.removed, p.removed_capacity * sizeof p.removed[0]);
  girdle_path_free(arcs);
  return status;
}

int32_t girdle_path_offset(girdle_call *call, const girdle_path *path, double distance_mm, girdle_path **out) {
  static const double same[6] = {1, 0, 0, 1, 0, 0};
  GIRDLE_TRY(girdle_common_range(call, "distance", distance_mm, -1e7, 1e7, "mm"));
  if (distance_mm == 0) return girdle_path_transformed(call, path, same, out);
  return offset_of(call, path, distance_mm, out);
}

int32_t girdle_region_inset(girdle_call *call, const girdle_region *region, double distance_mm, girdle_region **out) {
  girdle_path *rim = NULL, *rings = NULL;
  int32_t status;
  GIRDLE_TRY(girdle_common_range(call, "distance", distance_mm, -1e7, 1e7, "mm"));
  GIRDLE_TRY(girdle_region_rim(call, region, &rim));
  status = girdle_path_offset(call, rim, distance_mm, &rings);
  girdle_path_free(rim);
  GIRDLE_TRY(status);
  if (girdle_path_is_closed(rings)) return girdle_region_of_rim(call, rings, out);
  girdle_path_free(rings);
  return girdle_common_fail(call, GIRDLE_INTERNAL, "distance", "the inset's rings did not close");
}
