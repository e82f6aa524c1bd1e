/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shape_build_internal.h"

#include <math.h>
#include <string.h>

/* Loose pieces joined to chains. Starts are sorted into slices across a slanted direction, as many as there are pieces,
 * so that those near a point are found in a few. */

#define NONE UINT64_MAX

typedef struct link {
  uint64_t next, before;
  int drawn;
} link;

typedef struct chains {
  const girdle_piece *pieces;
  uint64_t count;
  double slack, least_key, slices_per_mm;
  int hug;          /* where several go on from a point, take the sharpest turn to the right */
  uint64_t *slices; /* where each slice begins in `starts`, and the end of the last */
  uint64_t *starts; /* numbers of pieces, slice by slice */
  link *links;
} chains;

/* Along a direction in which, unlike across and along the page, drawings seldom have edges. */
static double key_of(double x, double y) {
  return 0.85261 * x + 0.52255 * y;
}

static uint64_t slice_of(const chains *c, double key) {
  double slice = (key - c->least_key) * c->slices_per_mm;
  return slice >= (double)c->count ? c->count - 1 : slice > 0 ? (uint64_t)slice : 0;
}

static uint64_t slice_of_start(const chains *c, uint64_t piece) {
  return slice_of(c, key_of(c->pieces[piece].x[0], c->pieces[piece].y[0]));
}

/* A counting sort. Slices are no narrower than the slack. */
static void sort_starts(chains *c) {
  double most = -INFINITY;
  c->least_key = INFINITY;
  for (uint64_t i = 0; i < c->count; i++) {
    double key = key_of(c->pieces[i].x[0], c->pieces[i].y[0]);
    c->least_key = fmin(c->least_key, key);
    most = fmax(most, key);
  }
  c->slices_per_mm = fmin((double)c->count / (most - c->least_key), 1 / c->slack);
  memset(c->slices, 0, (c->count + 1) * sizeof c->slices[0]);
  for (uint64_t i = 0; i < c->count; i++)
    c->slices[slice_of_start(c, i)]++;
  for (uint64_t i = 1; i <= c->count; i++)
    c->slices[i] += c->slices[i - 1];
  for (uint64_t i = c->count; i-- > 0;)
    c->starts[--c->slices[slice_of_start(c, i)]] = i;
}

/* From the first to behind the last of the starts that may lie within the slack of a point. */
static void window(const chains *c, double x, double y, uint64_t *from, uint64_t *to) {
  double key = key_of(x, y);
  *from = c->slices[slice_of(c, key - c->slack)];
  *to = c->slices[slice_of(c, key + c->slack) + 1];
}

static void end_of(const girdle_piece *piece, double end[2]) {
  uint64_t last = girdle_piece_points(piece) - 1;
  end[0] = piece->x[last];
  end[1] = piece->y[last];
}

static double gap_between(const girdle_piece *before, const girdle_piece *after) {
  double end[2];
  end_of(before, end);
  return girdle_norm(after->x[0] - end[0], after->y[0] - end[1]);
}

/* Pieces shorter than the slack are told apart by a share of their chord. */
static int coincide(const girdle_piece *a, const girdle_piece *b, double slack) {
  double p[2], q[2], near_mm;
  end_of(a, p);
  end_of(b, q);
  near_mm = fmin(slack, girdle_norm(p[0] - a->x[0], p[1] - a->y[0]) / 8);
  if (girdle_norm(a->x[0] - b->x[0], a->y[0] - b->y[0]) > near_mm) return 0;
  if (girdle_norm(p[0] - q[0], p[1] - q[1]) > near_mm) return 0;
  girdle_piece_at(a, 0.5, p, NULL, NULL);
  girdle_piece_at(b, 0.5, q, NULL, NULL);
  return girdle_norm(p[0] - q[0], p[1] - q[1]) <= near_mm;
}

/* Of pieces that coincide the first stays; the others count as drawn. */
static void drop_twins(chains *c) {
  for (uint64_t i = 0; i < c->count; i++) {
    uint64_t at, to;
    if (c->links[i].drawn) continue;
    for (window(c, c->pieces[i].x[0], c->pieces[i].y[0], &at, &to); at < to; at++) {
      uint64_t other = c->starts[at];
      if (other > i && coincide(&c->pieces[i], &c->pieces[other], c->slack)) c->links[other].drawn = 1;
    }
  }
}

static int may_follow(const chains *c, uint64_t piece) {
  return !c->links[piece].drawn && c->links[piece].before == NONE;
}

/* How far to the right the way turns from the end of one piece into the next: half a turn at most, in radians. */
static double turn_into(const girdle_piece *before, const girdle_piece *after) {
  double arrives[2], leaves[2];
  girdle_piece_direction(before, 1, -1, arrives);
  girdle_piece_direction(after, 0, 1, leaves);
  return atan2(arrives[0] * leaves[1] - arrives[1] * leaves[0], arrives[0] * leaves[0] + arrives[1] * leaves[1]);
}

/* Of the pieces that go on from a point the one that turns most to the right, for the sake of what lies there. */
static uint64_t sharpest(const chains *c, uint64_t piece) {
  double end[2], most = -INFINITY;
  uint64_t found = NONE, at, to;
  end_of(&c->pieces[piece], end);
  for (window(c, end[0], end[1], &at, &to); at < to; at++) {
    uint64_t other = c->starts[at];
    double turn;
    if (!may_follow(c, other) || gap_between(&c->pieces[piece], &c->pieces[other]) > c->slack) continue;
    if (other == piece && girdle_piece_between_mm(&c->pieces[piece], 0, 1) <= 4 * c->slack)
      continue; /* no ring alone */
    turn = turn_into(&c->pieces[piece], &c->pieces[other]);
    if (turn <= most) continue;
    most = turn;
    found = other;
  }
  return found;
}

static uint64_t follower(const chains *c, uint64_t piece) {
  double end[2], best = c->slack;
  uint64_t found = NONE, at, to;
  if (c->hug) return sharpest(c, piece);
  if (piece + 1 < c->count && may_follow(c, piece + 1) &&
      gap_between(&c->pieces[piece], &c->pieces[piece + 1]) <= c->slack)
    return piece + 1;
  end_of(&c->pieces[piece], end);
  for (window(c, end[0], end[1], &at, &to); at < to; at++) {
    uint64_t other = c->starts[at];
    double gap = gap_between(&c->pieces[piece], &c->pieces[other]);
    if (gap > best || other == piece || !may_follow(c, other)) continue;
    best = gap;
    found = other;
  }
  return found;
}

static void link_all(chains *c) {
  for (uint64_t i = 0; i < c->count; i++) {
    uint64_t next = c->links[i].drawn ? NONE : follower(c, i);
    c->links[i].next = next;
    if (next != NONE) c->links[next].before = i;
  }
}

/* The first piece of the chain that holds this one; of a ring, the piece itself. */
static uint64_t head_of(const chains *c, uint64_t piece) {
  uint64_t at = piece;
  while (c->links[at].before != NONE && c->links[at].before != piece)
    at = c->links[at].before;
  return c->links[at].before == NONE ? at : piece;
}

static void draw_chain(girdle_strokes *strokes, chains *c, uint64_t head) {
  uint64_t at = head;
  girdle_strokes_move(strokes, c->pieces[head].x[0], c->pieces[head].y[0]);
  for (; at != NONE && !c->links[at].drawn; at = c->links[at].next) {
    c->links[at].drawn = 1;
    girdle_strokes_piece(strokes, &c->pieces[at]);
  }
  if (at == head) girdle_strokes_close_within(strokes, c->slack);
}

static int prepare(girdle_strokes *strokes, chains *c) {
  c->slices = girdle_common_new(strokes->call, (c->count + 1) * sizeof c->slices[0]);
  c->starts = girdle_common_new(strokes->call, c->count * sizeof c->starts[0]);
  c->links = girdle_common_new(strokes->call, c->count * sizeof c->links[0]);
  if (!c->slices || !c->starts || !c->links) return 0;
  for (uint64_t i = 0; i < c->count; i++)
    c->links[i].next = c->links[i].before = NONE;
  sort_starts(c);
  return 1;
}

void girdle_strokes_chains(girdle_strokes *strokes, const girdle_piece *pieces, uint64_t count, double slack_mm,
                           int hug) {
  chains c = {.pieces = pieces, .count = count, .slack = slack_mm, .hug = hug};
  girdle_allocator memory = girdle_common_memory(strokes->call);
  if (strokes->status || count == 0) return;
  if (prepare(strokes, &c)) {
    drop_twins(&c);
    link_all(&c);
    for (uint64_t i = 0; i < count; i++)
      if (!c.links[i].drawn) draw_chain(strokes, &c, head_of(&c, i));
  } else {
    strokes->status = GIRDLE_MEMORY;
  }
  girdle_common_release(&memory, c.slices, (count + 1) * sizeof c.slices[0]);
  girdle_common_release(&memory, c.starts, count * sizeof c.starts[0]);
  girdle_common_release(&memory, c.links, count * sizeof c.links[0]);
}
