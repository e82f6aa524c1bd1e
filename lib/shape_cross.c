/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/shape.h"

#include <math.h>
#include <string.h>

#include "shape_build_internal.h"
#include "sort_internal.h"

/* Where paths cross or touch. Boxes that are apart are left out pair by pair; of what remains, stretches of curves are
 * halved until they are straight to within the slack, and straight stretches are compared in closed form. */

enum { DEEPEST = 48, ENOUGH = -1, FEW = 1000, ALONG = 11 }; /* ENOUGH: a search that stops early has what it needs */

typedef struct stretch {
  double from, to, x[2], y[2], bulge;
} stretch;

typedef struct search {
  girdle_call *call;
  const girdle_path *paths[2];
  double slack;
  girdle_hits *hits;
  uint64_t pieces[2]; /* the pair at hand */
  uint64_t steps;
  uint64_t most;  /* so many hits are enough, or too many */
  int for_faults; /* stop at the first crossing */
} search;

double girdle_shape_slack(const girdle_box *box) {
  return 1e-8 * fmax(box->right_mm - box->left_mm, box->bottom_mm - box->top_mm);
}

static const girdle_piece *piece_of(const search *s, int which) {
  return &s->paths[which]->pieces[s->pieces[which]];
}

static stretch stretch_of(const girdle_piece *piece, double from, double to) {
  double start[2], end[2];
  stretch part;
  girdle_piece_at(piece, from, start, NULL, NULL);
  girdle_piece_at(piece, to, end, NULL, NULL);
  part.from = from;
  part.to = to;
  part.x[0] = start[0];
  part.y[0] = start[1];
  part.x[1] = end[0];
  part.y[1] = end[1];
  part.bulge = girdle_piece_bend(piece) * (to - from) * (to - from) / 8;
  return part;
}

/* ---- noting */

static uint64_t part_of(const girdle_path *path, uint64_t piece) {
  uint64_t low = 0, high = path->part_count;
  while (high - low > 1) {
    uint64_t middle = low + (high - low) / 2;
    *(path->parts[middle].first <= piece ? &low : &high) = middle;
  }
  return low;
}

/* The one place seen from two pieces that follow each other. */
static int is_joint(const girdle_path *path, const girdle_hit *hit, double slack) {
  const girdle_subpath *part = &path->parts[part_of(path, hit->piece[0])];
  double apart_mm = fabs(hit->along[1] - hit->along[0]);
  if (part != &path->parts[part_of(path, hit->piece[1])]) return 0;
  return apart_mm <= 8 * slack || (part->closed && part->length_mm - apart_mm <= 8 * slack);
}

/* The start of a closed subpath is its end as well. */
static double along_at(const search *s, int which, double t) {
  const girdle_path *path = s->paths[which];
  const girdle_piece *piece = piece_of(s, which);
  const girdle_subpath *part = &path->parts[part_of(path, s->pieces[which])];
  double along_mm = piece->start_mm + girdle_piece_length_mm(piece, t);
  return part->closed && part->start_mm + part->length_mm - along_mm <= s->slack ? part->start_mm : along_mm;
}

static int32_t note(search *s, double t, double u) {
  void *items = s->hits->items;
  girdle_hit hit = {{s->pieces[0], s->pieces[1]}, {t, u}, {0, 0}, 0, 0};
  double point[2];
  int32_t status =
      girdle_common_grow(s->call, &s->hits->memory, &items, &s->hits->capacity, s->hits->count + 1, sizeof hit);
  s->hits->items = items;
  GIRDLE_TRY(status);
  girdle_piece_at(piece_of(s, 0), t, point, NULL, NULL);
  hit.x = point[0];
  hit.y = point[1];
  for (int i = 0; i < 2; i++)
    hit.along[i] = along_at(s, i, hit.t[i]);
  if (s->paths[0] == s->paths[1] && is_joint(s->paths[0], &hit, s->slack)) return GIRDLE_OK;
  s->hits->items[s->hits->count++] = hit;
  if (s->hits->count < s->most) return GIRDLE_OK;
  if (s->for_faults) return ENOUGH;
  return girdle_common_fail(s->call, GIRDLE_LIMIT, "path", "the outlines meet in more than %llu places",
                            (unsigned long long)s->most);
}

/* A search for faults stops at a crossing, but not among the first: of few the first along is told. */
static int32_t weigh(const search *s, uint64_t before) {
  if (!s->for_faults || s->hits->count < FEW || s->hits->count == before) return GIRDLE_OK;
  return girdle_hit_crosses(s->paths[0], s->paths[1], &s->hits->items[before], s->slack) ? ENOUGH : GIRDLE_OK;
}

static double clamp(double value, double low, double high) {
  return value < low ? low : value > high ? high : value;
}

static int32_t note_and_weigh(search *s, double t, double u) {
  uint64_t before = s->hits->count;
  GIRDLE_TRY(note(s, t, u));
  return weigh(s, before);
}

/* ---- solving for one place on two curves */

typedef struct places {
  double p[2], dp[2], ddp[2], q[2], dq[2],
      ddq[2]; /* points, first and second derivatives on the first and the second */
} places;

static void look(const search *s, double t, double u, places *at) {
  girdle_piece_at(piece_of(s, 0), t, at->p, at->dp, at->ddp);
  girdle_piece_at(piece_of(s, 1), u, at->q, at->dq, at->ddq);
}

static double cross(const double a[2], const double b[2]) {
  return a[0] * b[1] - a[1] * b[0];
}

static double dot(const double a[2], const double b[2]) {
  return a[0] * b[0] + a[1] * b[1];
}

/* Newton's step towards a point on both; 0 when it leads nowhere, as where they are parallel. */
static int step_together(const places *at, double step[2]) {
  double gap[2] = {at->q[0] - at->p[0], at->q[1] - at->p[1]}, determinant = cross(at->dp, at->dq);
  step[0] = cross(gap, at->dq) / determinant;
  step[1] = cross(gap, at->dp) / determinant;
  return determinant != 0;
}

/* Newton's step towards where they are nearest side by side: tangents parallel, the gap across them. It leads nowhere
 * where both bend alike. */
static int step_parallel(const places *at, double step[2]) {
  double gap[2] = {at->p[0] - at->q[0], at->p[1] - at->q[1]};
  double turn = cross(at->dp, at->dq), turn_t = cross(at->ddp, at->dq), turn_u = cross(at->dp, at->ddq);
  double slope = dot(gap, at->dp), slope_t = dot(at->dp, at->dp) + dot(gap, at->ddp), slope_u = -dot(at->dq, at->dp);
  double determinant = turn_t * slope_u - turn_u * slope_t;
  step[0] = (turn_u * slope - turn * slope_u) / determinant;
  step[1] = (turn * slope_t - turn_t * slope) / determinant;
  return fabs(determinant) > 1e-9 * (fabs(turn_t * slope_u) + fabs(turn_u * slope_t));
}

/* 1 when the steps come to rest beside the stretch. */
static int at_rest(const stretch *part, double t, double step) {
  double width = part->to - part->from;
  return fabs(step) <= 1e-3 * width && t >= part->from - 0.01 * width && t <= part->to + 0.01 * width;
}

/* Solves from t, u on; 1 when that ends where the curves are within the slack of each other. */
static int solve(const search *s, const stretch *a, const stretch *b, int (*step_of)(const places *at, double step[2]),
                 double *t, double *u) {
  double step[2] = {1, 1};
  places at;
  look(s, *t, *u, &at);
  for (int i = 0; i < 24 && (step[0] != 0 || step[1] != 0); i++) {
    double old_t = *t, old_u = *u;
    if (!step_of(&at, step)) return 0;
    *t = clamp(old_t + step[0], fmax(2 * a->from - a->to, 0), fmin(2 * a->to - a->from, 1));
    *u = clamp(old_u + step[1], fmax(2 * b->from - b->to, 0), fmin(2 * b->to - b->from, 1));
    step[0] = *t - old_t;
    step[1] = *u - old_u;
    look(s, *t, *u, &at);
  }
  return at_rest(a, *t, step[0]) && at_rest(b, *u, step[1]) &&
         girdle_norm(at.p[0] - at.q[0], at.p[1] - at.q[1]) <= s->slack;
}

/* ---- straight stretches */

static double share_along(const stretch *line, double x, double y, double *distance) {
  double dx = line->x[1] - line->x[0], dy = line->y[1] - line->y[0], size = dx * dx + dy * dy;
  double share = size > 0 ? clamp(((x - line->x[0]) * dx + (y - line->y[0]) * dy) / size, 0, 1) : 0;
  *distance = girdle_norm(line->x[0] + share * dx - x, line->y[0] + share * dy - y);
  return share;
}

static double at_share(const stretch *part, double share) {
  return share == 1 ? part->to : part->from + share * (part->to - part->from);
}

/* Ends of the pieces, not of the stretches, which lie on the other. */
static int32_t compare_ends(search *s, const stretch *a, const stretch *b) {
  double distance, share;
  for (int end = 0; end < 2; end++) {
    if ((end ? a->to : a->from) == end) {
      share = share_along(b, a->x[end], a->y[end], &distance);
      if (distance <= s->slack) GIRDLE_TRY(note(s, end, at_share(b, share)));
    }
    if ((end ? b->to : b->from) == end) {
      share = share_along(a, b->x[end], b->y[end], &distance);
      if (distance <= s->slack) GIRDLE_TRY(note(s, at_share(a, share), end));
    }
  }
  return GIRDLE_OK;
}

/* The share of a at which the chords' lines meet; 0 when they are parallel but for the slack, or but for rounding where
 * they are parts of curves: those may cross all the same, farther apart in front and behind. `inside`: on both, beyond
 * the slack of every end. */
static int chords_meet(const stretch *a, const stretch *b, double slack, double *share, int *inside) {
  double ax = a->x[1] - a->x[0], ay = a->y[1] - a->y[0], bx = b->x[1] - b->x[0], by = b->y[1] - b->y[0];
  double gx = b->x[0] - a->x[0], gy = b->y[0] - a->y[0], turn = ax * by - ay * bx;
  double t = (gx * by - gy * bx) / turn, u = (gx * ay - gy * ax) / turn;
  double size_a = girdle_norm(ax, ay), size_b = girdle_norm(bx, by);
  *share = clamp(t, 0, 1);
  *inside = t * size_a > slack && (1 - t) * size_a > slack && u * size_b > slack && (1 - u) * size_b > slack;
  return fabs(turn) > (a->bulge > 0 || b->bulge > 0 ? 1e-12 * size_a * size_b : slack * fmax(size_a, size_b));
}

/* Where curves touch their chords may cross or not, so that a touch is looked for first. What is curved may also meet
 * where a stretch ends. */
static int32_t compare_straight(search *s, const stretch *a, const stretch *b) {
  double t = (a->from + a->to) / 2, u = (b->from + b->to) / 2, share, distance, known_t, known_u;
  int curved = a->bulge > 0 || b->bulge > 0, inside;
  GIRDLE_TRY(compare_ends(s, a, b));
  if (curved && solve(s, a, b, step_parallel, &t, &u)) return note(s, t, u);
  if (!chords_meet(a, b, s->slack, &share, &inside) || !(inside || curved)) return GIRDLE_OK;
  t = known_t = at_share(a, share);
  u = share_along(b, a->x[0] + share * (a->x[1] - a->x[0]), a->y[0] + share * (a->y[1] - a->y[0]), &distance);
  u = known_u = at_share(b, u);
  if (solve(s, a, b, step_together, &t, &u)) return note_and_weigh(s, t, u);
  return inside ? note_and_weigh(s, known_t, known_u) : GIRDLE_OK;
}

/* ---- pieces that run along each other */

/* 1 when the piece comes within a quarter of the slack of the point; gives where. */
static int lies_on(const search *s, int which, double x, double y, double *t) {
  double near_mm = s->slack / 4;
  return girdle_piece_nearest(piece_of(s, which), x, y, &near_mm, t);
}

static int runs_along(const search *s, double from, double to) {
  double point[2], u;
  for (int i = 1; i < ALONG; i++) {
    girdle_piece_at(piece_of(s, 0), from + (to - from) * i / ALONG, point, NULL, NULL);
    if (!lies_on(s, 1, point[0], point[1], &u)) return 0;
  }
  return 1;
}

/* Two pieces that share a stretch share one that ends where one of them does, and two curves of degree 3 or less that
 * meet in more than nine points are one. Notes the ends of that stretch. */
static int32_t compare_along(search *s, int *along) {
  double from[2] = {2, 0}, to[2] = {-1, 0};
  for (int i = 0; i < 4; i++) {
    const girdle_piece *piece = piece_of(s, i & 1);
    uint64_t end = i < 2 ? 0 : girdle_piece_points(piece) - 1;
    double at[2];
    at[i & 1] = i < 2 ? 0 : 1;
    if (!lies_on(s, !(i & 1), piece->x[end], piece->y[end], &at[!(i & 1)])) continue;
    if (at[0] < from[0]) memcpy(from, at, sizeof at);
    if (at[0] > to[0]) memcpy(to, at, sizeof at);
  }
  *along = to[0] > from[0] && girdle_piece_between_mm(piece_of(s, 0), from[0], to[0]) > s->slack &&
           runs_along(s, from[0], to[0]);
  if (!*along) return GIRDLE_OK;
  GIRDLE_TRY(note(s, from[0], from[1]));
  return note(s, to[0], to[1]);
}

/* ---- pairs of pieces */

static int boxes_of_ends_apart(const stretch *a, const stretch *b, double reach) {
  return fmin(a->x[0], a->x[1]) > fmax(b->x[0], b->x[1]) + reach ||
         fmin(b->x[0], b->x[1]) > fmax(a->x[0], a->x[1]) + reach ||
         fmin(a->y[0], a->y[1]) > fmax(b->y[0], b->y[1]) + reach ||
         fmin(b->y[0], b->y[1]) > fmax(a->y[0], a->y[1]) + reach;
}

/* 1 when the part lies on one side of the line, farther than the reach. */
static int beside(const stretch *line, const stretch *part, double reach) {
  double dx = line->x[1] - line->x[0], dy = line->y[1] - line->y[0], limit = reach * girdle_norm(dx, dy);
  double start = dx * (part->y[0] - line->y[0]) - dy * (part->x[0] - line->x[0]);
  double end = dx * (part->y[1] - line->y[0]) - dy * (part->x[1] - line->x[0]);
  return (start > limit && end > limit) || (start < -limit && end < -limit);
}

static int apart(const stretch *a, const stretch *b, double slack) {
  double reach = a->bulge + b->bulge + slack;
  return boxes_of_ends_apart(a, b, reach) || beside(a, b, reach) || beside(b, a, reach);
}

static int32_t compare(search *s, const stretch *a, const stretch *b, int depth) {
  if (apart(a, b, s->slack)) return GIRDLE_OK;
  if (++s->steps % 65536 == 0) GIRDLE_TRY(girdle_common_tick(s->call, 65536, -1));
  if ((a->bulge <= s->slack / 4 && b->bulge <= s->slack / 4) || depth >= DEEPEST) return compare_straight(s, a, b);
  int cut_a = a->bulge >= b->bulge;
  const stretch *cut = cut_a ? a : b;
  double middle = (cut->from + cut->to) / 2;
  for (int half = 0; half < 2; half++) {
    stretch part = stretch_of(piece_of(s, !cut_a), half ? middle : cut->from, half ? cut->to : middle);
    GIRDLE_TRY(cut_a ? compare(s, &part, b, depth + 1) : compare(s, a, &part, depth + 1));
  }
  return GIRDLE_OK;
}

/* A cubic may meet itself: halves against each other, until a stretch turns too little to come back. */
static int32_t compare_self(search *s, const stretch *whole, int depth) {
  double middle = (whole->from + whole->to) / 2;
  stretch head, tail;
  if (4 * whole->bulge < girdle_norm(whole->x[1] - whole->x[0], whole->y[1] - whole->y[0]) || depth > 12)
    return GIRDLE_OK;
  head = stretch_of(piece_of(s, 0), whole->from, middle);
  tail = stretch_of(piece_of(s, 0), middle, whole->to);
  GIRDLE_TRY(compare(s, &head, &tail, 0));
  GIRDLE_TRY(compare_self(s, &head, depth + 1));
  return compare_self(s, &tail, depth + 1);
}

/* 1 when two pieces lie so near to each other along one subpath that wherever they meet is a joint. */
static int within_a_joint(const search *s) {
  const girdle_piece *a = piece_of(s, 0), *b = piece_of(s, 1);
  double start = fmin(a->start_mm, b->start_mm), end = fmax(a->start_mm + a->length_mm, b->start_mm + b->length_mm);
  return s->paths[0] == s->paths[1] && end - start <= 4 * s->slack &&
         part_of(s->paths[0], s->pieces[0]) == part_of(s->paths[0], s->pieces[1]);
}

static int32_t compare_pieces(search *s, uint64_t first, uint64_t second) {
  stretch a, b;
  int along = 0;
  s->pieces[0] = first;
  s->pieces[1] = second;
  if (within_a_joint(s)) return GIRDLE_OK;
  a = stretch_of(piece_of(s, 0), 0, 1);
  if (s->paths[0] == s->paths[1] && first == second)
    return piece_of(s, 0)->kind == GIRDLE_PIECE_CUBIC ? compare_self(s, &a, 0) : GIRDLE_OK;
  b = stretch_of(piece_of(s, 1), 0, 1);
  if (a.bulge > 0 || b.bulge > 0) GIRDLE_TRY(compare_along(s, &along));
  return along ? GIRDLE_OK : compare(s, &a, &b, 0);
}

/* ---- pairs of boxes */

static int boxes_apart(const girdle_box *a, const girdle_box *b, double slack) {
  return a->left_mm > b->right_mm + slack || b->left_mm > a->right_mm + slack || a->top_mm > b->bottom_mm + slack ||
         b->top_mm > a->bottom_mm + slack;
}

typedef struct node_pair {
  uint64_t a, b;
} node_pair;

static int push_pair(node_pair *stack, int depth, uint64_t a, uint64_t b) {
  stack[depth].a = a;
  stack[depth].b = b;
  return depth + 1;
}

static int32_t compare_trees(search *s) {
  const girdle_path *first = s->paths[0], *second = s->paths[1];
  node_pair stack[512];
  int depth = push_pair(stack, 0, 1, 1), self = first == second;
  while (depth > 0) {
    node_pair at = stack[--depth];
    int leaf_a = at.a >= first->piece_count, leaf_b = at.b >= second->piece_count;
    if (boxes_apart(&first->tree[at.a], &second->tree[at.b], s->slack)) continue;
    if (++s->steps % 65536 == 0) GIRDLE_TRY(girdle_common_tick(s->call, 65536, -1));
    if (leaf_a && leaf_b) {
      uint64_t a = at.a - first->piece_count, b = at.b - second->piece_count;
      GIRDLE_TRY(self && b < a ? compare_pieces(s, b, a) : compare_pieces(s, a, b));
    } else if (self && at.a == at.b) {
      depth = push_pair(stack, depth, 2 * at.a, 2 * at.a);
      depth = push_pair(stack, depth, 2 * at.a + 1, 2 * at.a + 1);
      depth = push_pair(stack, depth, 2 * at.a, 2 * at.a + 1);
    } else if (leaf_b || (!leaf_a && at.a < at.b)) {
      depth = push_pair(stack, depth, 2 * at.a, at.b);
      depth = push_pair(stack, depth, 2 * at.a + 1, at.b);
    } else {
      depth = push_pair(stack, depth, at.a, 2 * at.b);
      depth = push_pair(stack, depth, at.a, 2 * at.b + 1);
    }
  }
  return GIRDLE_OK;
}

/* ---- sorting out */

static int in_order(const void *left, const void *right) {
  const girdle_hit *a = left, *b = right;
  for (int i = 0; i < 2; i++)
    if (a->along[i] != b->along[i]) return a->along[i] < b->along[i] ? -1 : 1;
  for (int i = 0; i < 2; i++)
    if (a->piece[i] != b->piece[i]) return a->piece[i] < b->piece[i] ? -1 : 1;
  return 0;
}

static int same_place(const girdle_hit *a, const girdle_hit *b, double slack) {
  return fabs(a->along[0] - b->along[0]) <= 8 * slack && fabs(a->along[1] - b->along[1]) <= 8 * slack;
}

/* Of hits at one place the first stays. */
static void tidy(search *s) {
  girdle_hits *hits = s->hits;
  uint64_t kept = 0;
  for (uint64_t i = 0; i < hits->count; i++) {
    int known = 0;
    for (uint64_t j = kept; j-- > 0 && !known;) {
      if (hits->items[i].along[0] - hits->items[j].along[0] > 8 * s->slack) break;
      known = same_place(&hits->items[i], &hits->items[j], s->slack);
    }
    if (!known) hits->items[kept++] = hits->items[i];
  }
  hits->count = kept;
}

static int32_t find(search *s) {
  s->most = 65536 + 8 * (s->paths[0]->piece_count + s->paths[1]->piece_count);
  memset(s->hits, 0, sizeof *s->hits);
  s->hits->memory = girdle_common_memory(s->call);
  GIRDLE_TRY(compare_trees(s));
  girdle_sort(s->hits->items, s->hits->count, sizeof s->hits->items[0], in_order);
  tidy(s);
  return GIRDLE_OK;
}

int32_t girdle_path_hits(girdle_call *call, const girdle_path *path, const girdle_path *other, double slack_mm,
                         girdle_hits *out) {
  search s = {.call = call, .paths = {path, other}, .slack = slack_mm, .hits = out};
  return find(&s);
}

int32_t girdle_path_touches(girdle_call *call, const girdle_path *path, double slack_mm, girdle_hits *out,
                            girdle_hit *fault) {
  search s = {.call = call, .paths = {path, path}, .slack = slack_mm, .hits = out, .for_faults = 1};
  int32_t status;
  fault->along[0] = NAN;
  status = find(&s);
  if (status == ENOUGH) {
    *fault = out->items[out->count - 1];
    return GIRDLE_OK;
  }
  for (uint64_t i = 0; i < out->count && !status && isnan(fault->along[0]); i++)
    if (girdle_hit_crosses(path, path, &out->items[i], slack_mm)) *fault = out->items[i];
  return status;
}

void girdle_hits_free(girdle_hits *hits) {
  girdle_common_release(&hits->memory, hits->items, hits->capacity * sizeof hits->items[0]);
  memset(hits, 0, sizeof *hits);
}

/* ---- crossing or touching */

/* The direction from the hit to the point a step before or behind it; 0 when an open path ends before. Takes the point
 * into the least distance. */
static int branch(const girdle_path *path, const girdle_hit *hit, int which, double step, double *angle,
                  double *least) {
  const girdle_subpath *part = &path->parts[part_of(path, hit->piece[which])];
  double along = hit->along[which] + step - part->start_mm;
  girdle_point_on at;
  if (part->closed) along -= part->length_mm * floor(along / part->length_mm);
  if (!(along >= 0 && along <= part->length_mm)) return 0;
  girdle_path_at(NULL, path, part->start_mm + along, &at);
  *angle = atan2(at.y_mm - hit->y, at.x_mm - hit->x);
  *least = fmin(*least, girdle_norm(at.y_mm - hit->y, at.x_mm - hit->x));
  return 1;
}

/* How far branches can be followed: where they are the two ends of one loop, they meet in its middle. */
static double farthest_step(const girdle_path *path, const girdle_path *other, const girdle_hit *hit) {
  uint64_t part = part_of(path, hit->piece[0]);
  double most = fmin(path->length_mm, other->length_mm) / 8, loop = fabs(hit->along[1] - hit->along[0]);
  if (path != other || part != part_of(path, hit->piece[1])) return most;
  if (path->parts[part].closed) loop = fmin(loop, path->parts[part].length_mm - loop);
  return fmin(most, loop / 2);
}

static double turned(double angle) {
  static const double full_turn = 6.283185307179586476925;
  return angle - full_turn * floor(angle / full_turn);
}

/* Branches that leave in nearly one direction are looked at again farther out. */
int girdle_hit_crosses(const girdle_path *path, const girdle_path *other, const girdle_hit *hit, double slack_mm) {
  double most = farthest_step(path, other, hit);
  for (double step = 64 * slack_mm; step <= most; step *= 8) {
    double out, in, left, right, least = step, blur;
    if (!branch(path, hit, 0, step, &out, &least) || !branch(path, hit, 0, -step, &in, &least) ||
        !branch(other, hit, 1, step, &left, &least) || !branch(other, hit, 1, -step, &right, &least))
      return 0;
    blur = 16 * slack_mm / least;
    in = turned(in - out);
    left = turned(left - out);
    right = turned(right - out);
    if (fmin(left, 6.283 - left) < blur || fmin(right, 6.283 - right) < blur || fabs(left - in) < blur ||
        fabs(right - in) < blur)
      continue;
    return (left < in) != (right < in);
  }
  return 0;
}
