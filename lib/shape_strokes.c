/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shape_build_internal.h"

#include <math.h>
#include <string.h>

static const double half_turn = 3.141592653589793238463;

/* A closing gap of less than this share of the outline's extent is rounding, and no edge. */
static const double closing_share = 1e-9;

static void fail(girdle_strokes *strokes, int32_t status) {
  if (!strokes->status) strokes->status = status;
}

static int in_range(girdle_strokes *strokes, double x, double y) {
  if (strokes->status) return 0;
  if (fabs(x) <= GIRDLE_FARTHEST_MM && fabs(y) <= GIRDLE_FARTHEST_MM) return 1;
  fail(strokes, girdle_common_range(strokes->call, "coordinate", fabs(x) <= GIRDLE_FARTHEST_MM ? y : x,
                                    -GIRDLE_FARTHEST_MM, GIRDLE_FARTHEST_MM, "mm"));
  return 0;
}

void girdle_strokes_begin(girdle_strokes *strokes, girdle_call *call) {
  memset(strokes, 0, sizeof *strokes);
  strokes->call = call;
  strokes->path = girdle_common_new(call, sizeof *strokes->path);
  if (strokes->path)
    strokes->path->memory = girdle_common_memory(call);
  else
    fail(strokes, GIRDLE_MEMORY);
}

void girdle_strokes_move(girdle_strokes *strokes, double x, double y) {
  if (!in_range(strokes, x, y)) return;
  strokes->start_x = strokes->at_x = x;
  strokes->start_y = strokes->at_y = y;
  strokes->drawing = 0;
}

static int begin_part(girdle_strokes *strokes) {
  girdle_path *path = strokes->path;
  void *parts = path->parts;
  girdle_subpath part = {path->piece_count, 0, 0, 0, 0, 0};
  int32_t status =
      girdle_common_grow(strokes->call, &path->memory, &parts, &path->part_capacity, path->part_count + 1, sizeof part);
  path->parts = parts;
  fail(strokes, status);
  if (status) return 0;
  path->parts[path->part_count++] = part;
  strokes->drawing = 1;
  return 1;
}

static int stands_still(const girdle_piece *piece) {
  uint64_t points = girdle_piece_points(piece);
  for (uint64_t i = 1; i < points; i++)
    if (piece->x[i] != piece->x[0] || piece->y[i] != piece->y[0]) return 0;
  return 1;
}

/* A piece that goes nowhere is left out: it has no direction and no length. */
static void append(girdle_strokes *strokes, const girdle_piece *piece) {
  girdle_path *path = strokes->path;
  uint64_t last = girdle_piece_points(piece) - 1;
  void *pieces;
  int32_t status;
  if (!in_range(strokes, piece->x[last], piece->y[last]) || stands_still(piece)) return;
  if (!strokes->drawing && !begin_part(strokes)) return;
  pieces = path->pieces;
  status = girdle_common_grow(strokes->call, &path->memory, &pieces, &path->piece_capacity, path->piece_count + 1,
                              sizeof *piece);
  path->pieces = pieces;
  fail(strokes, status);
  if (status) return;
  path->pieces[path->piece_count++] = *piece;
  path->parts[path->part_count - 1].count++;
  strokes->at_x = piece->x[last];
  strokes->at_y = piece->y[last];
}

void girdle_strokes_line(girdle_strokes *strokes, double x, double y) {
  girdle_piece piece = {.kind = GIRDLE_PIECE_LINE, .x = {strokes->at_x, x}, .y = {strokes->at_y, y}};
  append(strokes, &piece);
}

void girdle_strokes_quadratic(girdle_strokes *strokes, double x1, double y1, double x, double y) {
  girdle_piece piece = {.kind = GIRDLE_PIECE_QUADRATIC, .x = {strokes->at_x, x1, x}, .y = {strokes->at_y, y1, y}};
  if (in_range(strokes, x1, y1)) append(strokes, &piece);
}

void girdle_strokes_cubic(girdle_strokes *strokes, double x1, double y1, double x2, double y2, double x, double y) {
  girdle_piece piece = {.kind = GIRDLE_PIECE_CUBIC, .x = {strokes->at_x, x1, x2, x}, .y = {strokes->at_y, y1, y2, y}};
  if (in_range(strokes, x1, y1) && in_range(strokes, x2, y2)) append(strokes, &piece);
}

void girdle_strokes_arc(girdle_strokes *strokes, double radius_x, double radius_y, double tilt_deg, int large,
                        int sweep, double x, double y) {
  girdle_piece whole, part;
  double ends[4] = {strokes->at_x, strokes->at_y, x, y}, end[2];
  int parts;
  if (!in_range(strokes, radius_x, radius_y) || (x == ends[0] && y == ends[1])) return;
  if (!isfinite(tilt_deg)) {
    fail(strokes, girdle_common_range(strokes->call, "angle", tilt_deg, -1e9, 1e9, "degrees"));
    return;
  }
  girdle_piece_set_arc(&whole, ends, radius_x, radius_y, tilt_deg, large, sweep);
  /* the ends of a longer arc hold its centre badly; the slack lets a third of a turn be read back whole */
  parts = whole.kind == GIRDLE_PIECE_LINE ? 1 : (int)ceil(fabs(whole.sweep) / (half_turn * 2 / 3) - 1e-9);
  if (parts <= 1) {
    append(strokes, &whole);
    return;
  }
  for (int i = 1; i <= parts && !strokes->status; i++) {
    girdle_piece_at(&whole, (double)i / parts, end, NULL, NULL);
    memcpy(ends + 2, end, sizeof end);
    girdle_piece_set_arc(&part, ends, whole.radius_x, whole.radius_y, tilt_deg, 0, sweep);
    append(strokes, &part);
    memcpy(ends, end, sizeof end);
  }
}

void girdle_strokes_piece(girdle_strokes *strokes, const girdle_piece *piece) {
  const double *x = piece->x, *y = piece->y;
  switch (piece->kind) {
    case GIRDLE_PIECE_LINE:
      girdle_strokes_line(strokes, x[1], y[1]);
      break;
    case GIRDLE_PIECE_QUADRATIC:
      girdle_strokes_quadratic(strokes, x[1], y[1], x[2], y[2]);
      break;
    case GIRDLE_PIECE_CUBIC:
      girdle_strokes_cubic(strokes, x[1], y[1], x[2], y[2], x[3], y[3]);
      break;
    default:
      girdle_strokes_arc(strokes, x[2], y[2], x[3], 0, piece->sweep > 0, x[1], y[1]);
  }
}

static double extent_of(const girdle_piece *pieces, uint64_t count) {
  double least_x = INFINITY, most_x = -INFINITY, least_y = INFINITY, most_y = -INFINITY;
  for (uint64_t i = 0; i < count; i++) {
    least_x = fmin(least_x, pieces[i].x[0]);
    most_x = fmax(most_x, pieces[i].x[0]);
    least_y = fmin(least_y, pieces[i].y[0]);
    most_y = fmax(most_y, pieces[i].y[0]);
  }
  return fmax(most_x - least_x, most_y - least_y);
}

static void move_end(girdle_piece *piece, double x, double y) {
  uint64_t last = girdle_piece_points(piece) - 1;
  double ends[4] = {piece->x[0], piece->y[0], x, y};
  if (piece->kind == GIRDLE_PIECE_ARC) {
    girdle_piece_set_arc(piece, ends, piece->x[2], piece->y[2], piece->x[3], 0, piece->sweep > 0);
  } else {
    piece->x[last] = x;
    piece->y[last] = y;
  }
}

void girdle_strokes_close_within(girdle_strokes *strokes, double slack_mm) {
  double gap = girdle_norm(strokes->at_x - strokes->start_x, strokes->at_y - strokes->start_y);
  if (strokes->status || !strokes->drawing) return;
  if (gap > slack_mm)
    girdle_strokes_line(strokes, strokes->start_x, strokes->start_y);
  else if (gap > 0)
    move_end(&strokes->path->pieces[strokes->path->piece_count - 1], strokes->start_x, strokes->start_y);
  if (strokes->status) return;
  strokes->path->parts[strokes->path->part_count - 1].closed = 1;
  girdle_strokes_move(strokes, strokes->start_x, strokes->start_y);
}

void girdle_strokes_close(girdle_strokes *strokes) {
  const girdle_path *path = strokes->path;
  const girdle_subpath *part;
  if (strokes->status || !strokes->drawing) return;
  part = &path->parts[path->part_count - 1];
  girdle_strokes_close_within(strokes, closing_share * extent_of(path->pieces + part->first, part->count));
}

/* ---- finishing */

static int32_t keep_knots(girdle_strokes *strokes, const girdle_knot *knots, int count) {
  girdle_path *path = strokes->path;
  void *all = path->knots;
  int32_t status;
  if (count == 0) return GIRDLE_OK;
  status = girdle_common_grow(strokes->call, &path->memory, &all, &path->knot_capacity,
                              path->knot_count + (uint64_t)count, sizeof knots[0]);
  path->knots = all;
  GIRDLE_TRY(status);
  memcpy(path->knots + path->knot_count, knots, (size_t)count * sizeof knots[0]);
  path->knot_count += (uint64_t)count;
  return GIRDLE_OK;
}

static int32_t measure_piece(girdle_strokes *strokes, girdle_piece *piece) {
  girdle_path *path = strokes->path;
  girdle_knot knots[GIRDLE_MOST_KNOTS];
  int count;
  piece->length_mm = girdle_piece_measure(piece, knots, &count);
  piece->start_mm = path->length_mm;
  piece->knot_count = count;
  path->length_mm += piece->length_mm;
  return keep_knots(strokes, knots, count);
}

static int32_t measure(girdle_strokes *strokes) {
  girdle_path *path = strokes->path;
  const girdle_knot *knots;
  for (uint64_t p = 0; p < path->part_count; p++) {
    girdle_subpath *part = &path->parts[p];
    part->start_mm = path->length_mm;
    for (uint64_t i = 0; i < part->count; i++) {
      if (i % 1024 == 1023) GIRDLE_TRY(girdle_common_tick(strokes->call, 1024, -1));
      GIRDLE_TRY(measure_piece(strokes, &path->pieces[part->first + i]));
    }
    part->length_mm = path->length_mm - part->start_mm;
  }
  knots = path->knots; /* which no longer moves */
  for (uint64_t i = 0; i < path->piece_count; i++) {
    path->pieces[i].knots = NULL;
    if (path->pieces[i].knot_count == 0) continue;
    path->pieces[i].knots = knots;
    knots += path->pieces[i].knot_count;
  }
  if (path->length_mm > 0) return GIRDLE_OK;
  return girdle_common_fail(strokes->call, GIRDLE_GEOMETRY, "path", "the path is only a point: it has no length");
}

static girdle_box both(const girdle_box *a, const girdle_box *b) {
  girdle_box sum = {fmin(a->left_mm, b->left_mm), fmin(a->top_mm, b->top_mm), fmax(a->right_mm, b->right_mm),
                    fmax(a->bottom_mm, b->bottom_mm)};
  return sum;
}

static int32_t plant(girdle_strokes *strokes) {
  girdle_path *path = strokes->path;
  uint64_t n = path->piece_count;
  path->tree = girdle_common_new(strokes->call, 2 * n * sizeof *path->tree);
  if (!path->tree) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < n; i++)
    girdle_piece_box(&path->pieces[i], &path->tree[n + i]);
  for (uint64_t i = n - 1; i > 0; i--)
    path->tree[i] = both(&path->tree[2 * i], &path->tree[2 * i + 1]);
  return GIRDLE_OK;
}

int32_t girdle_strokes_finish(girdle_strokes *strokes, girdle_path **out) {
  if (!strokes->status) fail(strokes, measure(strokes));
  if (!strokes->status) fail(strokes, plant(strokes));
  if (strokes->status)
    girdle_path_free(strokes->path);
  else
    *out = strokes->path;
  return strokes->status;
}

void girdle_path_free(girdle_path *path) {
  girdle_allocator memory;
  if (!path) return;
  memory = path->memory;
  girdle_common_release(&memory, path->tree, 2 * path->piece_count * sizeof *path->tree);
  girdle_common_release(&memory, path->knots, path->knot_capacity * sizeof *path->knots);
  girdle_common_release(&memory, path->pieces, path->piece_capacity * sizeof *path->pieces);
  girdle_common_release(&memory, path->parts, path->part_capacity * sizeof *path->parts);
  girdle_common_release(&memory, path, sizeof *path);
}
