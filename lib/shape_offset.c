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

enum { MOST_CUTS = 16, MOST_LOOKS = 50000000, MOST_LOOKS_EACH = 500 };

typedef struct interval {
  double from, to;
} interval;

typedef struct parallel {
  girdle_call *call;
  girdle_allocator memory;
  const girdle_path *edges;
  double side_mm, reach_mm; /* signed: to the right is positive; and its size */
  double blur_mm;           /* distances are right to this */
  double slack_mm;          /* what is shorter is left out, and joined over */
  interval *rest;           /* what is left of the piece at hand, in order */
  uint64_t rest_count, rest_capacity;
  const girdle_piece *killer; /* the edge that removed a piece whole last, tried first on the next */
  girdle_piece *kept;
  uint64_t kept_count, kept_capacity, looks;
} parallel;

/* ---- where a line or an arc meets the outline of a capsule */

typedef struct cuts {
  const girdle_piece *piece;
  double from, to; /* only those between are wanted */
  int count;
  double t[MOST_CUTS];
} cuts;

static void add_cut(cuts *c, double t) {
  int i;
  if (!(t > c->from && t < c->to) || c->count == MOST_CUTS) return;
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

static int32_t split_rest(parallel *p, uint64_t at, double from, double to) {
  void *rest = p->rest;
  int32_t status =
      girdle_common_grow(p->call, &p->memory, &rest, &p->rest_capacity, p->rest_count + 1, sizeof p->rest[0]);
  p->rest = rest;
  GIRDLE_TRY(status);
  memmove(p->rest + at + 1, p->rest + at, (size_t)(p->rest_count++ - at) * sizeof p->rest[0]);
  p->rest[at].to = from;
  p->rest[at + 1].from = to;
  return GIRDLE_OK;
}

static int32_t take_out(parallel *p, double from, double to) {
  uint64_t kept = 0;
  for (uint64_t i = 0; i < p->rest_count; i++) {
    interval part = p->rest[i];
    if (part.from < from && to < part.to) return split_rest(p, i, from, to);
    if (part.from < to && part.from >= from) part.from = to;
    if (part.to > from && part.to <= to) part.to = from;
    if (part.from < part.to) p->rest[kept++] = part;
  }
  p->rest_count = kept;
  return GIRDLE_OK;
}

/* The piece being cut, and what every comparison asks of the stretch that holds what is left of it. */
typedef struct victim {
  girdle_piece piece;
  double length_mm, from, to, start[2], end[2], middle[2], half_mm, bulge_mm;
  girdle_box box;
} victim;

static double bulge_of(const girdle_piece *piece) {
  return girdle_piece_bend(piece) / 8;
}

/* Lines and arcs of circles go evenly along. */
static void look_at(victim *v, double from, double to) {
  v->from = from;
  v->to = to;
  v->half_mm = v->length_mm * (to - from) / 2;
  v->bulge_mm = bulge_of(&v->piece) * (to - from) * (to - from);
  girdle_piece_at(&v->piece, from, v->start, NULL, NULL);
  girdle_piece_at(&v->piece, to, v->end, NULL, NULL);
  girdle_piece_at(&v->piece, (from + to) / 2, v->middle, NULL, NULL);
  v->box.left_mm = fmin(v->start[0], v->end[0]) - v->bulge_mm;
  v->box.right_mm = fmax(v->start[0], v->end[0]) + v->bulge_mm;
  v->box.top_mm = fmin(v->start[1], v->end[1]) - v->bulge_mm;
  v->box.bottom_mm = fmax(v->start[1], v->end[1]) + v->bulge_mm;
}

static double distance_at(const girdle_piece *piece, double t, const girdle_piece *edge) {
  double point[2];
  girdle_piece_at(piece, t, point, NULL, NULL);
  return girdle_piece_distance(edge, point[0], point[1]);
}

/* Square of the distance from a point to the chord from (x0, y0) to (x1, y1). */
static double chord_gap(double x0, double y0, double x1, double y1, const double point[2]) {
  double ax = point[0] - x0, ay = point[1] - y0, bx = point[0] - x1, by = point[1] - y1;
  double dx = x1 - x0, dy = y1 - y0, across = ax * dy - ay * dx;
  if (ax * dx + ay * dy <= 0) return ax * ax + ay * ay;
  if (bx * dx + by * dy >= 0) return bx * bx + by * by;
  return across * across / (dx * dx + dy * dy);
}

/* 1 when no point of one is within `nearest` of the other, given that they do not cross: chords are nearest at an end,
 * and a piece leaves its chord by its bulge at most. */
static int stays_away(const victim *v, const girdle_piece *edge, double nearest) {
  const double *x = edge->x, *y = edge->y, first[2] = {x[0], y[0]}, last[2] = {x[1], y[1]};
  double limit = nearest + v->bulge_mm + bulge_of(edge);
  limit *= limit;
  return chord_gap(x[0], y[0], x[1], y[1], v->start) >= limit && chord_gap(x[0], y[0], x[1], y[1], v->end) >= limit &&
         chord_gap(v->start[0], v->start[1], v->end[0], v->end[1], first) >= limit &&
         chord_gap(v->start[0], v->start[1], v->end[0], v->end[1], last) >= limit;
}

/* Square of the distance from the middle of what is left to an edge. */
static double middle_gap(const victim *v, const girdle_piece *edge) {
  double distance;
  if (edge->kind != GIRDLE_PIECE_ARC) return chord_gap(edge->x[0], edge->y[0], edge->x[1], edge->y[1], v->middle);
  distance = girdle_piece_distance(edge, v->middle[0], v->middle[1]);
  return distance * distance;
}

static int32_t cut_out(parallel *p, victim *v, const girdle_piece *edge, double nearest) {
  cuts c = {.piece = &v->piece, .from = v->from, .to = v->to};
  double from = v->from;
  find_cuts(&c, edge, p->reach_mm);
  for (int i = 0; i <= c.count; i++) {
    double to = i < c.count ? c.t[i] : v->to;
    if (distance_at(&v->piece, (from + to) / 2, edge) < nearest) GIRDLE_TRY(take_out(p, from, to));
    from = to;
  }
  if (p->rest_count == 0) return GIRDLE_OK;
  if (p->rest[p->rest_count - 1].to - p->rest[0].from < 0.75 * (v->to - v->from))
    look_at(v, p->rest[0].from, p->rest[p->rest_count - 1].to);
  return GIRDLE_OK;
}

/* Removes what is in the edge's capsule. Distance changes no faster than the point moves, which decides most pairs at
 * the middle. */
static int32_t subtract(parallel *p, victim *v, const girdle_piece *edge) {
  double nearest = p->reach_mm - p->blur_mm - 1e-15 * (v->piece.radius_x + edge->radius_x);
  double gap = middle_gap(v, edge), beyond = nearest + v->half_mm, within = nearest - v->half_mm;
  if (gap >= beyond * beyond) return GIRDLE_OK;
  if (within > 0 && gap < within * within) {
    p->killer = edge;
    p->rest_count = 0;
    return GIRDLE_OK;
  }
  if (gap > v->half_mm * v->half_mm && stays_away(v, edge, nearest)) return GIRDLE_OK;
  return cut_out(p, v, edge, nearest);
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
static int32_t subtract_all(parallel *p, victim *v) {
  const girdle_path *edges = p->edges;
  uint64_t stack[160], n = edges->piece_count;
  double nearest = p->reach_mm - p->blur_mm, limit = nearest * nearest;
  int depth = 1;
  stack[0] = 1;
  while (depth > 0 && p->rest_count > 0) {
    uint64_t node = stack[--depth];
    if (++p->looks % 8192 == 0) GIRDLE_TRY(girdle_common_tick(p->call, 1024, -1));
    if (node >= n) {
      GIRDLE_TRY(subtract(p, v, &edges->pieces[node - n]));
    } else {
      double first = box_gap(&v->box, &edges->tree[2 * node]), second = box_gap(&v->box, &edges->tree[2 * node + 1]);
      int swap = first < second;
      if (!swap && first < limit) stack[depth++] = 2 * node;
      if (second < limit) stack[depth++] = 2 * node + 1;
      if (swap && first < limit) stack[depth++] = 2 * node;
    }
  }
  return GIRDLE_OK;
}

/* What is cut off short is left out, but not a piece that was short before. */
static int32_t keep_between(parallel *p, const girdle_piece *piece, double from, double to) {
  void *kept = p->kept;
  int32_t status;
  if (to - from < 1 && (to - from) * piece->length_mm <= p->slack_mm) return GIRDLE_OK;
  status = girdle_common_grow(p->call, &p->memory, &kept, &p->kept_capacity, p->kept_count + 1, sizeof *piece);
  p->kept = kept;
  GIRDLE_TRY(status);
  girdle_piece_cut(piece, from, to, &p->kept[p->kept_count++]);
  return GIRDLE_OK;
}

/* Keeps what no capsule holds of a piece. */
static int32_t keep_rest(parallel *p, const girdle_piece *piece) {
  victim v = {.piece = *piece};
  v.piece.length_mm = v.length_mm = girdle_piece_between_mm(piece, 0, 1);
  if (v.length_mm == 0) return GIRDLE_OK;
  look_at(&v, 0, 1);
  p->rest[0].from = 0;
  p->rest[0].to = 1;
  p->rest_count = 1;
  if (p->killer) GIRDLE_TRY(subtract(p, &v, p->killer)); /* likely removes this one, too */
  GIRDLE_TRY(subtract_all(p, &v));
  for (uint64_t i = 0; i < p->rest_count; i++)
    GIRDLE_TRY(keep_between(p, &v.piece, p->rest[i].from, p->rest[i].to));
  return GIRDLE_OK;
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

/* The turn at a corner that opens to the wanted side, else 0. What turns straight back opens to both. */
static double opening(const parallel *p, const double in[2], const double out[2]) {
  double sine = in[0] * out[1] - in[1] * out[0], cosine = in[0] * out[0] + in[1] * out[1], turn;
  if (sine * p->side_mm >= 0 && !(cosine < 0 && fabs(sine) < 3e-15)) return 0;
  turn = fabs(atan2(sine, cosine));
  return p->side_mm > 0 ? -turn : turn;
}

/* An arc about a corner that opens, in parts of at most a third of a turn. */
static int32_t round_corner(parallel *p, const girdle_piece *before, const girdle_piece *after) {
  double in[2], out[2], turn, from;
  int parts;
  girdle_piece_direction(before, 1, -1, in);
  girdle_piece_direction(after, 0, 1, out);
  turn = opening(p, in, out);
  if (turn == 0) return GIRDLE_OK;
  from = p->side_mm > 0 ? atan2(in[0], -in[1]) : atan2(-in[0], in[1]);
  parts = (int)ceil(fabs(turn) / 2);
  if (fabs(turn) * p->reach_mm <= p->slack_mm) return GIRDLE_OK; /* tangents that are one but for rounding */
  for (int i = 0; i < parts; i++) {
    girdle_piece arc;
    set_arc(&arc, after->x[0], after->y[0], p->reach_mm, from + turn * i / parts, turn / parts);
    GIRDLE_TRY(keep_rest(p, &arc));
  }
  return GIRDLE_OK;
}

/* Where most edges lie within the distance of most others, the work grows with their square. */
static int32_t check_work(parallel *p, uint64_t done) {
  GIRDLE_TRY(girdle_common_tick(p->call, 64, (double)done / (double)p->edges->piece_count));
  if (p->looks <= MOST_LOOKS + MOST_LOOKS_EACH * p->edges->piece_count) return GIRDLE_OK;
  return girdle_common_fail(p->call, GIRDLE_LIMIT, "distance", "too many edges lie within this distance of each other");
}

static int32_t move_part(parallel *p, const girdle_subpath *part) {
  const girdle_piece *pieces = p->edges->pieces + part->first;
  for (uint64_t i = 0; i < part->count; i++) {
    if (i % 64 == 63) GIRDLE_TRY(check_work(p, part->first + i));
    if (i > 0 || part->closed) GIRDLE_TRY(round_corner(p, &pieces[i > 0 ? i - 1 : part->count - 1], &pieces[i]));
    GIRDLE_TRY(move_edge(p, &pieces[i]));
  }
  return GIRDLE_OK;
}

/* ---- a path moved sideways */

static const double curve_tolerance_mm = 5e-6;

/* Edges this much shorter than the distance make only noise and work. */
static const double shortest_share = 1e-6, shortest_most_mm = 1e-6;

static int made_of_arcs(const girdle_path *path, double shortest_mm) {
  for (uint64_t i = 0; i < path->piece_count; i++) {
    const girdle_piece *piece = &path->pieces[i];
    if (piece->length_mm < shortest_mm) return 0;
    if (piece->kind != GIRDLE_PIECE_LINE && (piece->kind != GIRDLE_PIECE_ARC || piece->radius_x != piece->radius_y))
      return 0;
  }
  return 1;
}

static int32_t first_rest(parallel *p) {
  void *rest = NULL;
  int32_t status = girdle_common_grow(p->call, &p->memory, &rest, &p->rest_capacity, 1, sizeof p->rest[0]);
  p->rest = rest;
  return status;
}

static int32_t move_all(parallel *p) {
  const girdle_box *box = &p->edges->tree[1];
  double extent = fmax(box->right_mm - box->left_mm, box->bottom_mm - box->top_mm);
  double farthest = fmax(fmax(fabs(box->left_mm), fabs(box->right_mm)), fmax(fabs(box->top_mm), fabs(box->bottom_mm)));
  p->slack_mm = 1e-9 * (extent + p->reach_mm);
  p->blur_mm = 3e-15 * (farthest + p->reach_mm);
  GIRDLE_TRY(first_rest(p));
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
  /* two pieces that cross so flatly that neither leaves the other by more than the blur overlap by this much */
  double overlap = 4 * sqrt(p->reach_mm * p->blur_mm);
  if (p->kept_count == 0) return nothing_left(p->call, p->side_mm);
  girdle_strokes_begin(&strokes, p->call);
  girdle_strokes_chains(&strokes, p->kept, p->kept_count, 64 * p->slack_mm + overlap, 0);
  return girdle_strokes_finish(&strokes, out);
}

static int32_t offset_of(girdle_call *call, const girdle_path *path, double distance_mm, girdle_path **out) {
  parallel p = {.call = call, .side_mm = distance_mm, .reach_mm = fabs(distance_mm)};
  double shortest_mm = fmin(shortest_most_mm, shortest_share * p.reach_mm);
  girdle_path *arcs = NULL;
  int32_t status = GIRDLE_OK;
  p.memory = girdle_common_memory(call);
  if (!made_of_arcs(path, shortest_mm))
    status = girdle_path_as_arcs(call, path, curve_tolerance_mm, shortest_mm, &arcs);
  p.edges = arcs ? arcs : path;
  if (!status) status = move_all(&p);
  if (!status) status = join_kept(&p, out);
  girdle_common_release(&p.memory, p.kept, p.kept_capacity * sizeof p.kept[0]);
  girdle_common_release(&p.memory, p.rest, p.rest_capacity * sizeof p.rest[0]);
  girdle_path_free(arcs);
  return status;
}

int32_t girdle_path_offset(girdle_call *call, const girdle_path *path, double distance_mm, girdle_path **out) {
  GIRDLE_GIVEN(call, path, out);
  static const double same[6] = {1, 0, 0, 1, 0, 0};
  GIRDLE_TRY(girdle_common_range(call, "distance", distance_mm, -1e7, 1e7, "mm"));
  if (distance_mm == 0) return girdle_path_transformed(call, path, same, out);
  return offset_of(call, path, distance_mm, out);
}

/* ---- rings, where rounding left their parallel open */

/* Where two edges meet at an angle a, what is right to a blur is right to blur / a along them: so much too little may
 * be cut away, or too much. The parallel is known by its depth in the region. */
static const double ring_tolerance_mm = 1e-3;

typedef struct mending {
  girdle_call *call;
  const girdle_region *region;
  double distance_mm;
  double open[2];          /* where a parallel stays open */
  const girdle_path *path; /* the parallel at hand */
  char *done;              /* its parts that are in a ring, or noise */
} mending;

static int on_parallel(const mending *m, double x, double y) {
  return fabs(girdle_region_depth_mm(m->region, x, y) - m->distance_mm) <= ring_tolerance_mm / 2;
}

static void end_of(const mending *m, uint64_t part, double out[2]) {
  const girdle_subpath *of = &m->path->parts[part];
  const girdle_piece *last = &m->path->pieces[of->first + of->count - 1];
  out[0] = last->x[girdle_piece_points(last) - 1];
  out[1] = last->y[girdle_piece_points(last) - 1];
}

static void start_of(const mending *m, uint64_t part, double out[2]) {
  const girdle_piece *first = &m->path->pieces[m->path->parts[part].first];
  out[0] = first->x[0];
  out[1] = first->y[0];
}

/* 1 when the straight way from one place to the other is nowhere farther from the parallel than it may be: depth
 * changes no faster than the place. */
static int can_bridge(const mending *m, const double from[2], const double to[2]) {
  double dx = to[0] - from[0], dy = to[1] - from[1], steps = ceil(girdle_norm(dx, dy) / ring_tolerance_mm);
  if (steps > 1000) return 0;
  for (double i = 0; i <= steps; i++)
    if (!on_parallel(m, from[0] + dx * i / steps, from[1] + dy * i / steps)) return 0;
  return 1;
}

static int is_noise(const mending *m, const girdle_subpath *part) {
  girdle_point_on at;
  if (part->length_mm <= ring_tolerance_mm) return 1;
  girdle_path_at(NULL, m->path, part->start_mm + part->length_mm / 2, &at);
  return !on_parallel(m, at.x_mm, at.y_mm);
}

/* The open part, or the first of the ring, that begins nearest to a place. */
static uint64_t part_after(const mending *m, const double end[2], uint64_t first) {
  uint64_t best = first;
  double start[2], nearest;
  start_of(m, first, start);
  nearest = girdle_norm(start[0] - end[0], start[1] - end[1]);
  for (uint64_t i = first + 1; i < m->path->part_count; i++) {
    double gap;
    if (m->done[i] || m->path->parts[i].closed) continue;
    start_of(m, i, start);
    gap = girdle_norm(start[0] - end[0], start[1] - end[1]);
    if (gap >= nearest) continue;
    nearest = gap;
    best = i;
  }
  return best;
}

/* Draws the ring that begins with a part; 0 when it stays open. */
static int draw_ring(mending *m, girdle_strokes *strokes, uint64_t first) {
  uint64_t at = first, next;
  double end[2], start[2];
  start_of(m, first, start);
  girdle_strokes_move(strokes, start[0], start[1]);
  do {
    const girdle_subpath *part = &m->path->parts[at];
    for (uint64_t k = 0; k < part->count; k++)
      girdle_strokes_piece(strokes, &m->path->pieces[part->first + k]);
    m->done[at] = 1;
    end_of(m, at, end);
    next = part->closed ? first : part_after(m, end, first);
    start_of(m, next, start);
    if (!part->closed && !can_bridge(m, end, start)) {
      memcpy(m->open, end, sizeof end);
      return 0;
    }
    if (next != first) girdle_strokes_line(strokes, start[0], start[1]);
    at = next;
  } while (at != first);
  girdle_strokes_close(strokes);
  return 1;
}

/* The rings of a path whose parts should all close; none when one stays open. */
static int32_t draw_rings(mending *m, girdle_path **out) {
  girdle_strokes strokes;
  int closed = 1, rings = 0;
  for (uint64_t i = 0; i < m->path->part_count; i++)
    m->done[i] = !m->path->parts[i].closed && is_noise(m, &m->path->parts[i]);
  girdle_strokes_begin(&strokes, m->call);
  for (uint64_t i = 0; i < m->path->part_count && closed && !strokes.status; i++) {
    if (m->done[i]) continue;
    closed = draw_ring(m, &strokes, i);
    rings++;
  }
  if (closed && rings > 0) return girdle_strokes_finish(&strokes, out);
  girdle_path_free(strokes.path);
  if (strokes.status || !closed) return strokes.status;
  return nothing_left(m->call, m->distance_mm);
}

static int32_t mend(mending *m, const girdle_path *path, girdle_path **out) {
  girdle_allocator memory = girdle_common_memory(m->call);
  int32_t status;
  m->path = path;
  m->done = girdle_common_new(m->call, path->part_count);
  if (!m->done) return GIRDLE_MEMORY;
  status = draw_rings(m, out);
  girdle_common_release(&memory, m->done, path->part_count);
  return status;
}

/* The rim's parallel at a distance, when its pieces close or can be closed; else none. */
static int32_t closed_parallel(mending *m, const girdle_path *rim, double distance_mm, girdle_path **out) {
  girdle_path *drawn = NULL;
  int32_t status;
  GIRDLE_TRY(girdle_path_offset(m->call, rim, distance_mm, &drawn));
  if (girdle_path_is_closed(drawn)) {
    *out = drawn;
    return GIRDLE_OK;
  }
  status = mend(m, drawn, out);
  girdle_path_free(drawn);
  return status;
}

/* Where an outline touches itself, parallels of several parts may meet in one point and not be told apart; a hair
 * farther in they are: for shapes of up to a metre 1e-4 mm at most, for others in proportion. */
static int32_t nearest_closed_parallel(mending *m, const girdle_path *rim, girdle_path **out) {
  static const double farther_mm[] = {0, 1e-6, 3e-6, 1e-5, 3e-5, 1e-4};
  girdle_box box;
  double extent_m;
  char x[32], y[32];
  girdle_path_box(rim, &box);
  extent_m = fmax(1, fmax(box.right_mm - box.left_mm, box.bottom_mm - box.top_mm) / 1e3);
  *out = NULL;
  for (size_t i = 0; !*out && i < sizeof farther_mm / sizeof farther_mm[0]; i++)
    GIRDLE_TRY(closed_parallel(m, rim, m->distance_mm + farther_mm[i] * extent_m, out));
  if (*out) return GIRDLE_OK;
  girdle_number_text(m->open[0], 3, x, sizeof x);
  girdle_number_text(m->open[1], 3, y, sizeof y);
  return girdle_common_fail(m->call, GIRDLE_LIMIT, "distance",
                            "the outline meets itself too closely for this distance: its parallel does not close at "
                            "x %s mm, y %s mm",
                            x, y);
}

int32_t girdle_region_inset(girdle_call *call, const girdle_region *region, double distance_mm, girdle_region **out) {
  GIRDLE_GIVEN(call, region, out);
  mending m = {.call = call, .region = region, .distance_mm = distance_mm};
  girdle_path *rim = NULL, *rings = NULL;
  int32_t status;
  GIRDLE_TRY(girdle_common_range(call, "distance", distance_mm, -1e7, 1e7, "mm"));
  GIRDLE_TRY(girdle_region_rim(call, region, &rim));
  status = nearest_closed_parallel(&m, rim, &rings);
  girdle_path_free(rim);
  return status ? status : girdle_region_of_rim(call, rings, out);
}
