/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shape_build_internal.h"

#include <float.h>
#include <math.h>

/* ---- the hull of part of a piece
 *
 * Searches cut a piece in halves and leave out what cannot matter. A part is hemmed by its chord grown by how far it
 * can bend away from it: a curve of parameter width w leaves its chord by at most w^2 / 8 times its second derivative.
 */

typedef struct stretch {
  double from, to, x[2], y[2];
} stretch;

static stretch whole_of(const girdle_piece *piece) {
  uint64_t last = girdle_piece_points(piece) - 1;
  stretch whole = {0, 1, {piece->x[0], piece->x[last]}, {piece->y[0], piece->y[last]}};
  return whole;
}

static void halve(const girdle_piece *piece, const stretch *part, stretch halves[2]) {
  double middle = (part->from + part->to) / 2, point[2];
  girdle_piece_at(piece, middle, point, NULL, NULL);
  halves[0] = halves[1] = *part;
  halves[0].to = halves[1].from = middle;
  halves[0].x[1] = halves[1].x[0] = point[0];
  halves[0].y[1] = halves[1].y[0] = point[1];
}

static void exchange(stretch *a, stretch *b) {
  stretch held = *a;
  *a = *b;
  *b = held;
}

static double bulge_of(const stretch *part, double bend) {
  double width = part->to - part->from;
  return bend * width * width / 8;
}

/* ---- nearest point */

static double chord_distance(const stretch *part, double x, double y, double *share) {
  double dx = part->x[1] - part->x[0], dy = part->y[1] - part->y[0], size = dx * dx + dy * dy;
  double t = size > 0 ? ((x - part->x[0]) * dx + (y - part->y[0]) * dy) / size : 0;
  t = t < 0 ? 0 : t > 1 ? 1 : t;
  *share = t;
  return girdle_norm(part->x[0] + t * dx - x, part->y[0] + t * dy - y);
}

static void take_if_nearer(const girdle_piece *piece, double t, double x, double y, double *best, double *best_t,
                           int *found) {
  double point[2], distance;
  girdle_piece_at(piece, t, point, NULL, NULL);
  distance = girdle_norm(point[0] - x, point[1] - y);
  if (!(distance < *best)) return;
  *best = distance;
  *best_t = t;
  *found = 1;
}

/* Newton's steps on the derivative of the squared distance, from a start that is nearly right. */
static double polish(const girdle_piece *piece, double t, double low, double high, double x, double y) {
  for (int i = 0; i < 8; i++) {
    double p[2], d[2], dd[2], slope, bend, next;
    girdle_piece_at(piece, t, p, d, dd);
    slope = (p[0] - x) * d[0] + (p[1] - y) * d[1];
    bend = d[0] * d[0] + d[1] * d[1] + (p[0] - x) * dd[0] + (p[1] - y) * dd[1];
    if (!(bend > 0)) break;
    next = t - slope / bend;
    next = next < low ? low : next > high ? high : next;
    if (fabs(next - t) < 1e-9) return next; /* what is left is its square */
    t = next;
  }
  return t;
}

/* Where speed squared exceeds distance times the second derivative, the squared distance is convex: Newton's steps find
 * its one minimum. `farthest` bounds the distance of every point of the part. */
static int is_convex(const stretch *part, double bend, double farthest) {
  double width = part->to - part->from, chord = girdle_norm(part->x[1] - part->x[0], part->y[1] - part->y[0]);
  double slowest = chord / width - bend * width / 2;
  return slowest > 0 && slowest * slowest > farthest * bend;
}

/* Beside a centre of curvature nothing is convex; there a part this flat is near enough to its chord. */
static const double flat_share = 1e-7;

/* The angle of the point seen from the centre, as a share of the arc; its nearer end when it is beside the arc. */
static double share_of_circle(const girdle_piece *arc, double x, double y) {
  static const double full_turn = 6.283185307179586476925;
  double dx = x - arc->centre_x, dy = y - arc->centre_y, sign = arc->sweep < 0 ? -1 : 1;
  double turn = sign * (atan2(dy, dx) - arc->tilt - arc->from), beyond;
  turn -= full_turn * floor(turn / full_turn);
  beyond = turn - fabs(arc->sweep);
  if (beyond <= 0) return turn / fabs(arc->sweep);
  return beyond < full_turn - turn ? 1 : 0;
}

/* What rounding may move a point of the stretch by: where a curve stands still, parts of it cannot be told apart. */
static double rounding_of(const stretch *part) {
  return 4 * DBL_EPSILON * fmax(fmax(fabs(part->x[0]), fabs(part->x[1])), fmax(fabs(part->y[0]), fabs(part->y[1])));
}

int girdle_piece_nearest(const girdle_piece *piece, double x, double y, double *best_mm, double *t) {
  stretch stack[64], part;
  double bend = girdle_piece_bend(piece), share;
  int depth = 1, found = 0;
  if (piece->kind == GIRDLE_PIECE_ARC && piece->radius_x == piece->radius_y) {
    take_if_nearer(piece, share_of_circle(piece, x, y), x, y, best_mm, t, &found);
    return found;
  }
  stack[0] = whole_of(piece);
  while (depth > 0) {
    double bulge, distance, farthest;
    part = stack[--depth];
    bulge = bulge_of(&part, bend);
    distance = chord_distance(&part, x, y, &share);
    if (distance - bulge >= *best_mm) continue;
    farthest = bulge + fmax(girdle_norm(part.x[0] - x, part.y[0] - y), girdle_norm(part.x[1] - x, part.y[1] - y));
    if (bulge <= flat_share * distance || bulge <= rounding_of(&part) || is_convex(&part, bend, farthest) ||
        depth > 60) {
      share = part.from + share * (part.to - part.from);
      take_if_nearer(piece, polish(piece, share, part.from, part.to, x, y), x, y, best_mm, t, &found);
    } else {
      take_if_nearer(piece, part.from + share * (part.to - part.from), x, y, best_mm, t, &found);
      halve(piece, &part, stack + depth);
      if (share < 0.5) exchange(&stack[depth], &stack[depth + 1]);
      depth += 2;
    }
  }
  return found;
}

/* Distance from a point to a box, 0 inside. */
static double box_distance(const girdle_box *box, double x, double y) {
  double dx = x < box->left_mm ? box->left_mm - x : x > box->right_mm ? x - box->right_mm : 0;
  double dy = y < box->top_mm ? box->top_mm - y : y > box->bottom_mm ? y - box->bottom_mm : 0;
  return dx > 0 && dy > 0 ? girdle_norm(dx, dy) : dx + dy;
}

static void push_nearer_last(const girdle_path *path, uint64_t node, double x, double y, uint64_t *stack, int *depth) {
  int swap = box_distance(&path->tree[2 * node], x, y) < box_distance(&path->tree[2 * node + 1], x, y);
  stack[(*depth)++] = 2 * node + (swap ? 1 : 0);
  stack[(*depth)++] = 2 * node + (swap ? 0 : 1);
}

void girdle_path_near(const girdle_path *path, double x, double y, uint64_t *piece, double *t, double *distance_mm) {
  uint64_t stack[160];
  int depth = 1;
  stack[0] = 1;
  *distance_mm = INFINITY;
  while (depth > 0) {
    uint64_t node = stack[--depth];
    if (box_distance(&path->tree[node], x, y) >= *distance_mm) continue;
    if (node < path->piece_count)
      push_nearer_last(path, node, x, y, stack, &depth);
    else if (girdle_piece_nearest(&path->pieces[node - path->piece_count], x, y, distance_mm, t))
      *piece = node - path->piece_count;
  }
}

/* ---- winding
 *
 * A part wholly left of the point cannot meet the ray; one wholly right of it meets it as often as its ends lie on two
 * sides, a point on the ray's line counting as below. Whatever is neither is halved. */

static int32_t crossing(const stretch *part, double y) {
  return (part->y[1] > y) - (part->y[0] > y);
}

static double least(double a, double b) {
  return a < b ? a : b;
}

static double most(double a, double b) {
  return a > b ? a : b;
}

/* 1: counted into *sum; 0: undecided. */
static int decided(const stretch *part, double bulge, double x, double y, int32_t *sum) {
  if (y < least(part->y[0], part->y[1]) - bulge || y > most(part->y[0], part->y[1]) + bulge) return 1;
  if (most(part->x[0], part->x[1]) + bulge < x) return 1;
  if (least(part->x[0], part->x[1]) - bulge < x) return 0;
  *sum += crossing(part, y);
  return 1;
}

static int32_t chord_crossing(const stretch *part, double x, double y) {
  double side = (part->x[1] - part->x[0]) * (y - part->y[0]) - (part->y[1] - part->y[0]) * (x - part->x[0]);
  int32_t passes = crossing(part, y);
  return passes * side > 0 ? passes : 0;
}

int32_t girdle_piece_winding(const girdle_piece *piece, double x, double y) {
  stretch stack[64], part;
  double bend = girdle_piece_bend(piece);
  int depth = 1;
  int32_t sum = 0;
  stack[0] = whole_of(piece);
  while (depth > 0) {
    double bulge;
    part = stack[--depth];
    bulge = bulge_of(&part, bend);
    if (decided(&part, bulge, x, y, &sum)) continue;
    if (bend == 0 || part.to - part.from < 1e-12 || depth > 60) {
      sum += chord_crossing(&part, x, y);
    } else {
      halve(piece, &part, stack + depth);
      depth += 2;
    }
  }
  return sum;
}

/* The first and the last piece below a node; the first is the later one where the run goes on over the path's end. */
static void run_of(const girdle_path *path, uint64_t node, const girdle_piece **first, const girdle_piece **last) {
  uint64_t low = node, high = node, n = path->piece_count;
  while (low < n)
    low *= 2;
  while (high < n)
    high = 2 * high + 1;
  *first = &path->pieces[low - n];
  *last = &path->pieces[high - n];
}

static int in_one_part(const girdle_path *path, const girdle_piece *first, const girdle_piece *last) {
  uint64_t low = 0, high = path->part_count, from = (uint64_t)(first - path->pieces),
           to = (uint64_t)(last - path->pieces);
  while (high - low > 1) {
    uint64_t middle = low + (high - low) / 2;
    *(path->parts[middle].first <= from ? &low : &high) = middle;
  }
  if (to < from) return path->part_count == 1 && path->parts[0].closed;
  return to < path->parts[low].first + path->parts[low].count;
}

/* Pieces that follow each other and lie wholly right of the point pass the ray as often as the first start and the last
 * end lie on two sides. 1 when that is all there is below the node. */
static int passes_as_one(const girdle_path *path, uint64_t node, double y, int32_t *sum) {
  const girdle_piece *first, *last;
  run_of(path, node, &first, &last);
  if (!in_one_part(path, first, last)) return 0;
  *sum += (last->y[girdle_piece_points(last) - 1] > y) - (first->y[0] > y);
  return 1;
}

int32_t girdle_path_winding(const girdle_path *path, double x, double y) {
  uint64_t stack[160];
  int depth = 1;
  int32_t sum = 0;
  stack[0] = 1;
  while (depth > 0) {
    uint64_t node = stack[--depth];
    const girdle_box *box = &path->tree[node];
    if (y < box->top_mm || y > box->bottom_mm || x > box->right_mm) continue;
    if (x < box->left_mm && passes_as_one(path, node, y, &sum)) continue;
    if (node < path->piece_count) {
      stack[depth++] = 2 * node;
      stack[depth++] = 2 * node + 1;
    } else {
      sum += girdle_piece_winding(&path->pieces[node - path->piece_count], x, y);
    }
  }
  return sum;
}

/* ---- area */

enum { GAUSS = 5 };
static const double gauss_at[GAUSS] = {0.14887433898163121088, 0.43339539412924719080, 0.67940956829902440623,
                                       0.86506336668898451073, 0.97390652851717172008};
static const double gauss_weight[GAUSS] = {0.29552422471475287017, 0.26926671930999635509, 0.21908636251598204400,
                                           0.14945134915058059315, 0.06667134430868813759};

static void add_moments(const girdle_piece *piece, double t, double weight, double x, double y, double sums[3]) {
  double p[2], d[2];
  girdle_piece_at(piece, t, p, d, NULL);
  p[0] -= x;
  p[1] -= y;
  sums[0] += weight * (p[0] * d[1] - p[1] * d[0]) / 2;
  sums[1] += weight * p[0] * p[0] * d[1] / 2;
  sums[2] -= weight * p[1] * p[1] * d[0] / 2;
}

/* Ten-point Gauss is exact to degree 19, and moments of a cubic have degree 8; over a third of a turn of an ellipse its
 * error is below 1e-16. */
void girdle_piece_moments(const girdle_piece *piece, double x, double y, double moments[3]) {
  for (int i = 0; i < GAUSS; i++) {
    add_moments(piece, (1 - gauss_at[i]) / 2, gauss_weight[i] / 2, x, y, moments);
    add_moments(piece, (1 + gauss_at[i]) / 2, gauss_weight[i] / 2, x, y, moments);
  }
}
