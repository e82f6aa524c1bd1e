/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shape_build_internal.h"
#include "sort_internal.h"

#include <math.h>

/* Loose pieces joined to chains. Starts are sorted by x, so that those near a point are found in a narrow window. */

#define NONE UINT64_MAX

typedef struct start {
  double x;
  uint64_t piece;
} start;

typedef struct link {
  uint64_t next, before;
  int drawn;
} link;

typedef struct chains {
  const girdle_piece *pieces;
  uint64_t count;
  double slack;
  start *starts;
  link *links;
} chains;

static int in_order(const void *left, const void *right) {
  const start *a = left, *b = right;
  if (a->x != b->x) return a->x < b->x ? -1 : 1;
  return (a->piece > b->piece) - (a->piece < b->piece);
}

/* The first start whose x is at least this. */
static uint64_t window(const chains *c, double x) {
  uint64_t low = 0, high = c->count;
  while (low < high) {
    uint64_t middle = low + (high - low) / 2;
    if (c->starts[middle].x < x)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
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

static int coincide(const girdle_piece *a, const girdle_piece *b, double slack) {
  double p[2], q[2];
  if (girdle_norm(a->x[0] - b->x[0], a->y[0] - b->y[0]) > slack) return 0;
  end_of(a, p);
  end_of(b, q);
  if (girdle_norm(p[0] - q[0], p[1] - q[1]) > slack) return 0;
  girdle_piece_at(a, 0.5, p, NULL, NULL);
  girdle_piece_at(b, 0.5, q, NULL, NULL);
  return girdle_norm(p[0] - q[0], p[1] - q[1]) <= slack;
}

/* Of pieces that coincide the first stays; the others count as drawn. */
static void drop_twins(chains *c) {
  for (uint64_t i = 0; i < c->count; i++) {
    const start *own = &c->starts[i];
    for (uint64_t j = i + 1; j < c->count && c->starts[j].x <= own->x + c->slack; j++) {
      uint64_t one = own->piece, other = c->starts[j].piece, later = one > other ? one : other;
      if (c->links[one].drawn || c->links[other].drawn) continue;
      if (coincide(&c->pieces[one], &c->pieces[other], c->slack)) c->links[later].drawn = 1;
    }
  }
}

static int may_follow(const chains *c, uint64_t piece) {
  return !c->links[piece].drawn && c->links[piece].before == NONE;
}

static uint64_t follower(const chains *c, uint64_t piece) {
  double end[2], best = c->slack;
  uint64_t found = NONE;
  if (piece + 1 < c->count && may_follow(c, piece + 1) &&
      gap_between(&c->pieces[piece], &c->pieces[piece + 1]) <= c->slack)
    return piece + 1;
  end_of(&c->pieces[piece], end);
  for (uint64_t i = window(c, end[0] - c->slack); i < c->count && c->starts[i].x <= end[0] + c->slack; i++) {
    uint64_t other = c->starts[i].piece;
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

void girdle_strokes_chains(girdle_strokes *strokes, const girdle_piece *pieces, uint64_t count, double slack_mm) {
  chains c = {pieces, count, slack_mm, NULL, NULL};
  girdle_allocator memory = girdle_common_memory(strokes->call);
  if (strokes->status || count == 0) return;
  c.starts = girdle_common_new(strokes->call, count * sizeof c.starts[0]);
  c.links = girdle_common_new(strokes->call, count * sizeof c.links[0]);
  if (c.starts && c.links) {
    for (uint64_t i = 0; i < count; i++) {
      c.starts[i].x = pieces[i].x[0];
      c.starts[i].piece = i;
      c.links[i].next = c.links[i].before = NONE;
    }
    girdle_sort(c.starts, count, sizeof c.starts[0], in_order);
    drop_twins(&c);
    link_all(&c);
    for (uint64_t i = 0; i < count; i++)
      if (!c.links[i].drawn) draw_chain(strokes, &c, head_of(&c, i));
  } else {
    strokes->status = GIRDLE_MEMORY;
  }
  girdle_common_release(&memory, c.starts, count * sizeof c.starts[0]);
  girdle_common_release(&memory, c.links, count * sizeof c.links[0]);
}
