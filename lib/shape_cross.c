/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/shape.h"

#include <math.h>
#include <string.h>

#include "shape_build_internal.h"
#include "sort_internal.h"

/* Where paths cross or touch. Boxes that are apart are left out pair by pair; of what remains, stretches of curves are
 * halved until they are straight to within the slack, and straight stretches are compared in closed form. */

enum { DEEPEST = 40, ENOUGH = -1, FEW = 1000 }; /* ENOUGH: a search that stops early has what it needs */

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
  uint64_t most; /* not 0: stop at the first crossing, and after so many touches */
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
    hit.along[i] = piece_of(s, i)->start_mm + girdle_piece_length_mm(piece_of(s, i), hit.t[i]);
  if (s->paths[0] == s->paths[1] && is_joint(s->paths[0], &hit, s->slack)) return GIRDLE_OK;
  s->hits->items[s->hits->count++] = hit;
  return s->most && s->hits->count >= s->most ? ENOUGH : GIRDLE_OK;
}

/* A search for faults stops at a crossing, but not among the first: of few the first along is told. */
static int32_t weigh(const search *s, uint64_t before) {
  if (!s->most || s->hits->count < FEW || s->hits->count == before) return GIRDLE_OK;
  return girdle_hit_crosses(s->paths[0], s->paths[1], &s->hits->items[before], s->slack) ? ENOUGH : GIRDLE_OK;
}

static double clamp(double value, double low, double high) {
  return value < low ? low : value > high ? high : value;
}

/* Newton's steps for the point common to both curves, kept within the stretches. */
static int32_t note_refined(search *s, const stretch *a, const stretch *b, double t, double u) {
  uint64_t before = s->hits->count;
  for (int i = 0; i < 6; i++) {
    double p[2], q[2], dp[2], dq[2], determinant, gap[2], next_t, next_u;
    girdle_piece_at(piece_of(s, 0), t, p, dp, NULL);
    girdle_piece_at(piece_of(s, 1), u, q, dq, NULL);
    determinant = dp[1] * dq[0] - dp[0] * dq[1];
    if (determinant == 0) break;
    gap[0] = q[0] - p[0];
    gap[1] = q[1] - p[1];
    next_t = clamp(t + (gap[1] * dq[0] - gap[0] * dq[1]) / determinant, a->from, a->to);
    next_u = clamp(u + (gap[1] * dp[0] - gap[0] * dp[1]) / determinant, b->from, b->to);
    if (next_t == t && next_u == u) break;
    t = next_t;
    u = next_u;
  }
  GIRDLE_TRY(note(s, t, u));
  return weigh(s, before);
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

/* Two segments that do not cross are nearest at an end of one of them. */
static int32_t compare_ends(search *s, const stretch *a, const stretch *b) {
  double distance, share;
  for (int end = 0; end < 2; end++) {
    share = share_along(b, a->x[end], a->y[end], &distance);
    if (distance <= s->slack) GIRDLE_TRY(note(s, end ? a->to : a->from, at_share(b, share)));
    share = share_along(a, b->x[end], b->y[end], &distance);
    if (distance <= s->slack) GIRDLE_TRY(note(s, at_share(a, share), end ? b->to : b->from));
  }
  return GIRDLE_OK;
}

static int32_t compare_straight(search *s, const stretch *a, const stretch *b) {
  double ax = a->x[1] - a->x[0], ay = a->y[1] - a->y[0], bx = b->x[1] - b->x[0], by = b->y[1] - b->y[0];
  double gx = b->x[0] - a->x[0], gy = b->y[0] - a->y[0], turn = ax * by - ay * bx;
  double t = (gx * by - gy * bx) / turn, u = (gx * ay - gy * ax) / turn;
  double size_a = girdle_norm(ax, ay), size_b = girdle_norm(bx, by);
  if (t * size_a > s->slack && (1 - t) * size_a > s->slack && u * size_b > s->slack && (1 - u) * size_b > s->slack)
    return note_refined(s, a, b, at_share(a, t), at_share(b, u));
  return compare_ends(s, a, b);
}

/* ---- pairs of pieces */

static int apart(const stretch *a, const stretch *b, double slack) {
  double reach = a->bulge + b->bulge + slack;
  return fmin(a->x[0], a->x[1]) > fmax(b->x[0], b->x[1]) + reach ||
         fmin(b->x[0], b->x[1]) > fmax(a->x[0], a->x[1]) + reach ||
         fmin(a->y[0], a->y[1]) > fmax(b->y[0], b->y[1]) + reach ||
         fmin(b->y[0], b->y[1]) > fmax(a->y[0], a->y[1]) + reach;
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

static int32_t compare_pieces(search *s, uint64_t first, uint64_t second) {
  stretch a, b;
  s->pieces[0] = first;
  s->pieces[1] = second;
  a = stretch_of(piece_of(s, 0), 0, 1);
  if (s->paths[0] == s->paths[1] && first == second)
    return piece_of(s, 0)->kind == GIRDLE_PIECE_CUBIC ? compare_self(s, &a, 0) : GIRDLE_OK;
  b = stretch_of(piece_of(s, 1), 0, 1);
  return compare(s, &a, &b, 0);
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
  search s = {.call = call, .paths = {path, path}, .slack = slack_mm, .hits = out, .most = 65536};
  int32_t status;
  s.most += 8 * path->piece_count;
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

/* The direction from the hit to the point a step before or behind it; 0 when an open path ends before. */
static int branch(const girdle_path *path, const girdle_hit *hit, int which, double step, double *angle) {
  const girdle_subpath *part = &path->parts[part_of(path, hit->piece[which])];
  double along = hit->along[which] + step - part->start_mm;
  girdle_point_on at;
  if (part->closed) along -= part->length_mm * floor(along / part->length_mm);
  if (!(along >= 0 && along <= part->length_mm)) return 0;
  girdle_path_at(NULL, path, part->start_mm + along, &at);
  *angle = atan2(at.y_mm - hit->y, at.x_mm - hit->x);
  return 1;
}

static double turned(double angle) {
  static const double full_turn = 6.283185307179586476925;
  return angle - full_turn * floor(angle / full_turn);
}

/* Branches that leave in nearly one direction are looked at again farther out. */
int girdle_hit_crosses(const girdle_path *path, const girdle_path *other, const girdle_hit *hit, double slack_mm) {
  double most = fmin(path->length_mm, other->length_mm) / 50;
  for (double step = 1e3 * slack_mm; step <= most; step *= 8) {
    double out, in, left, right, blur = 16 * slack_mm / step;
    if (!branch(path, hit, 0, step, &out) || !branch(path, hit, 0, -step, &in) || !branch(other, hit, 1, step, &left) ||
        !branch(other, hit, 1, -step, &right))
      return 0;
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
