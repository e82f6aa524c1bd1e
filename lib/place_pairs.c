/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* Stones that overlap. Stones whose radii lie within a factor of four form a class with a grid of its own, whose cells
 * are as wide as its largest stone; records are brought into the order of the cells by a counting sort, so that
 * neighbouring cells of a row are one stretch of memory. Each stone looks only to its own class and to those of smaller
 * stones, and within its class only forward, so that every pair is met once. How many of a stretch are near is counted
 * without asking of each, since the answer cannot be foreseen; few stretches hold any. */

enum { CLASSES = 24 };
#define CLASS_RANGE 4.0

typedef struct dot {
  double x, y, radius;
  uint32_t record, fancy;
} dot;

typedef struct class_grid {
  dot *dots;
  uint32_t *first;
  uint64_t count, columns, rows;
  double left, top, right, bottom, cell, per_cell, most_radius; /* per_cell: 1 / cell */
} class_grid;

/* What matters of a stone. */
typedef struct sort {
  double radius;
  int32_t class, fancy;
} sort;

typedef struct pairing {
  girdle_call *call;
  girdle_allocator memory;
  const girdle_placement *placement;
  sort *sorts; /* of the placement's stones */
  int asks;    /* whether each pair near enough must be looked at: to be listed, or since outlines are not round */
  class_grid classes[CLASSES];
  girdle_overlap *pairs; /* the caller's: a heap, its last pair in order on top */
  uint64_t capacity, kept, count;
} pairing;

/* ---- grids */

/* A class begins with the largest stone that is not in one. */
static int32_t sort_stones(pairing *work) {
  uint64_t count = work->placement->stone_count, bytes = (count + 1) * sizeof(girdle_span);
  girdle_span *order = girdle_common_new(work->call, bytes);
  double largest = INFINITY;
  int32_t class = -1;
  if (!order) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < count; i++) {
    girdle_span item = {-girdle_place_radius(&work->placement->stones[i]), 0, (uint32_t)i, 0};
    order[i] = item;
  }
  girdle_place_sort(order, count);
  for (uint64_t i = 0; i < count; i++) {
    sort here = {-order[i].from, 0, work->placement->stones[order[i].layer].outline != GIRDLE_ROUND};
    if ((here.radius * CLASS_RANGE < largest || class < 0) && class < CLASSES - 1) {
      largest = here.radius;
      class ++;
    }
    here.class = class;
    work->asks |= here.fancy;
    work->sorts[order[i].layer] = here;
  }
  girdle_common_release(&work->memory, order, bytes);
  return GIRDLE_OK;
}

static void measure(pairing *work) {
  for (int k = 0; k < CLASSES; k++) {
    class_grid *grid = &work->classes[k];
    grid->left = grid->top = INFINITY;
    grid->right = grid->bottom = -INFINITY;
  }
  for (uint64_t i = 0; i < work->placement->count; i++) {
    const girdle_placed *record = &work->placement->records[i];
    const sort *stone = &work->sorts[record->stone];
    class_grid *grid = &work->classes[stone->class];
    grid->count++;
    if (record->x_mm < grid->left) grid->left = record->x_mm;
    if (record->x_mm > grid->right) grid->right = record->x_mm;
    if (record->y_mm < grid->top) grid->top = record->y_mm;
    if (record->y_mm > grid->bottom) grid->bottom = record->y_mm;
    if (stone->radius > grid->most_radius) grid->most_radius = stone->radius;
  }
}

static int32_t make_grid(pairing *work, class_grid *grid) {
  double width = grid->right - grid->left, height = grid->bottom - grid->top;
  if (!grid->count) return GIRDLE_OK;
  grid->cell = 2 * grid->most_radius;
  while ((width / grid->cell + 1) * (height / grid->cell + 1) > 4.0 * (double)grid->count + 64)
    grid->cell *= 1.5;
  grid->per_cell = 1 / grid->cell;
  grid->columns = (uint64_t)(width * grid->per_cell) + 1;
  grid->rows = (uint64_t)(height * grid->per_cell) + 1;
  grid->dots = girdle_common_new(work->call, grid->count * sizeof *grid->dots);
  if (!grid->dots) return GIRDLE_MEMORY;
  grid->first = girdle_common_new(work->call, (grid->columns * grid->rows + 1) * sizeof *grid->first);
  return grid->first ? GIRDLE_OK : GIRDLE_MEMORY;
}

static inline int64_t clamped(double cells, uint64_t count) {
  int64_t index = (int64_t)cells;
  return index < 0 ? 0 : index >= (int64_t)count ? (int64_t)count - 1 : index;
}

static inline int64_t column_of(const class_grid *grid, double x) {
  return clamped((x - grid->left) * grid->per_cell, grid->columns);
}

static inline int64_t row_of(const class_grid *grid, double y) {
  return clamped((y - grid->top) * grid->per_cell, grid->rows);
}

static inline uint64_t cell_of(const class_grid *grid, double x, double y) {
  return (uint64_t)(row_of(grid, y) * (int64_t)grid->columns + column_of(grid, x));
}

static void fill_grids(pairing *work) {
  const girdle_placement *placement = work->placement;
  for (uint64_t i = 0; i < placement->count; i++) {
    const girdle_placed *record = &placement->records[i];
    class_grid *grid = &work->classes[work->sorts[record->stone].class];
    grid->first[cell_of(grid, record->x_mm, record->y_mm)]++;
  }
  for (int k = 0; k < CLASSES; k++)
    for (uint64_t cell = 0; cell < work->classes[k].columns * work->classes[k].rows; cell++)
      work->classes[k].first[cell + 1] += work->classes[k].first[cell];
  for (uint64_t i = placement->count; i-- > 0;) {
    const girdle_placed *record = &placement->records[i];
    const sort *stone = &work->sorts[record->stone];
    dot one = {record->x_mm, record->y_mm, stone->radius, (uint32_t)i, (uint32_t)stone->fancy};
    class_grid *grid = &work->classes[stone->class];
    grid->dots[--grid->first[cell_of(grid, one.x, one.y)]] = one;
  }
}

/* ---- pairs, the first `capacity` of them in order */

static int later(const girdle_overlap *a, const girdle_overlap *b) {
  return a->first > b->first || (a->first == b->first && a->second > b->second);
}

static void sift_down(girdle_overlap *pairs, uint64_t at, uint64_t count) {
  girdle_overlap moving = pairs[at];
  for (uint64_t child; (child = 2 * at + 1) < count; at = child) {
    if (child + 1 < count && later(&pairs[child + 1], &pairs[child])) child++;
    if (!later(&pairs[child], &moving)) break;
    pairs[at] = pairs[child];
  }
  pairs[at] = moving;
}

static void keep_pair(pairing *work, const girdle_overlap *pair) {
  uint64_t at = work->kept;
  work->count++;
  if (work->kept == work->capacity) {
    if (!work->capacity || !later(&work->pairs[0], pair)) return;
    work->pairs[0] = *pair;
    sift_down(work->pairs, 0, work->kept);
    return;
  }
  for (work->kept++; at > 0 && later(pair, &work->pairs[(at - 1) / 2]); at = (at - 1) / 2)
    work->pairs[at] = work->pairs[(at - 1) / 2];
  work->pairs[at] = *pair;
}

static void sort_pairs(pairing *work) {
  for (uint64_t last = work->kept; last-- > 1;) {
    girdle_overlap top = work->pairs[0];
    work->pairs[0] = work->pairs[last];
    work->pairs[last] = top;
    sift_down(work->pairs, 0, last);
  }
}

static double depth_of(const girdle_placement *placement, const dot *a, const dot *b) {
  girdle_shape one = girdle_place_shape(placement, a->record), other = girdle_place_shape(placement, b->record);
  return -girdle_place_apart(&one, &other);
}

/* The circles about them overlap. */
static void note_pair(pairing *work, const dot *a, const dot *b) {
  girdle_overlap pair = {a->record < b->record ? a->record : b->record, a->record < b->record ? b->record : a->record,
                         0};
  pair.depth_mm = depth_of(work->placement, a, b);
  if (pair.depth_mm > GIRDLE_TOLERANCE_MM) keep_pair(work, &pair);
}

static inline int is_near(const dot *a, const dot *b) {
  double dx = a->x - b->x, dy = a->y - b->y, touch = a->radius + b->radius - GIRDLE_TOLERANCE_MM;
  return dx * dx + dy * dy < touch * touch;
}

/* ---- looking */

/* Meets the dots of a stretch. */
static inline void look_at(pairing *work, const dot *one, const dot *from, const dot *end) {
  uint64_t near = 0;
  for (const dot *other = from; other < end; other++)
    near += (uint64_t)is_near(one, other);
  if (!work->asks) {
    work->count += near;
    return;
  }
  if (!near) return;
  for (const dot *other = from; other < end; other++)
    if (is_near(one, other)) note_pair(work, one, other);
}

/* The rest of the own cell with the next, and three cells of the row below: as wide as any two reach. */
static void look_from(pairing *work, const class_grid *grid, uint64_t column, uint64_t row) {
  const uint32_t *first = grid->first + row * grid->columns, *below = first + grid->columns;
  uint64_t right = column + 1 < grid->columns ? column + 1 : column, left = column ? column - 1 : 0;
  const dot *dots = grid->dots, *end = dots + first[column + 1];
  for (const dot *one = dots + first[column]; one < end; one++) {
    look_at(work, one, one + 1, dots + first[right + 1]);
    if (row + 1 < grid->rows) look_at(work, one, dots + below[left], dots + below[right + 1]);
  }
}

static void look_around(pairing *work, const class_grid *grid, const dot *one) {
  double reach = one->radius + grid->most_radius;
  int64_t left = column_of(grid, one->x - reach), right = column_of(grid, one->x + reach);
  int64_t bottom = row_of(grid, one->y + reach);
  for (int64_t row = row_of(grid, one->y - reach); row <= bottom; row++) {
    const uint32_t *first = grid->first + row * (int64_t)grid->columns;
    look_at(work, one, grid->dots + first[left], grid->dots + first[right + 1]);
  }
}

/* Within a class, row by row of its grid. */
static int32_t look_within(pairing *work, const class_grid *grid) {
  for (uint64_t row = 0; row < grid->rows && grid->count; row++) {
    const uint32_t *first = grid->first + row * grid->columns;
    for (uint64_t column = 0; column < grid->columns; column++)
      if (first[column] < first[column + 1]) look_from(work, grid, column, row);
    GIRDLE_TRY(girdle_common_tick(work->call, 1 + first[grid->columns] - first[0], -1));
  }
  return GIRDLE_OK;
}

/* From each stone of a class to those of a smaller one. */
static int32_t look_down(pairing *work, const class_grid *own, const class_grid *smaller) {
  for (uint64_t i = 0; i < own->count; i++) {
    look_around(work, smaller, &own->dots[i]);
    if (i % 4096 == 0) GIRDLE_TRY(girdle_common_tick(work->call, 4096, -1));
  }
  return GIRDLE_OK;
}

static int32_t look(pairing *work) {
  for (int k = 0; k < CLASSES; k++) {
    GIRDLE_TRY(look_within(work, &work->classes[k]));
    for (int smaller = k + 1; smaller < CLASSES; smaller++)
      if (work->classes[smaller].count) GIRDLE_TRY(look_down(work, &work->classes[k], &work->classes[smaller]));
  }
  return GIRDLE_OK;
}

static int32_t find_pairs(pairing *work) {
  work->sorts = girdle_common_new(work->call, (work->placement->stone_count + 1) * sizeof *work->sorts);
  if (!work->sorts) return GIRDLE_MEMORY;
  GIRDLE_TRY(sort_stones(work));
  measure(work);
  for (int k = 0; k < CLASSES; k++)
    GIRDLE_TRY(make_grid(work, &work->classes[k]));
  fill_grids(work);
  GIRDLE_TRY(look(work));
  sort_pairs(work);
  return GIRDLE_OK;
}

int32_t girdle_placement_overlaps(girdle_call *call, const girdle_placement *placement, girdle_overlap *pairs,
                                  uint64_t capacity, uint64_t *count) {
  GIRDLE_GIVEN(call, placement, pairs || !capacity, count);
  pairing work;
  int32_t status;
  memset(&work, 0, sizeof work);
  work.call = call;
  work.memory = girdle_common_memory(call);
  work.placement = placement;
  work.pairs = pairs;
  work.capacity = pairs ? capacity : 0;
  work.asks = work.capacity > 0;
  status = find_pairs(&work);
  for (int k = 0; k < CLASSES; k++) {
    class_grid *grid = &work.classes[k];
    girdle_common_release(&work.memory, grid->dots, grid->count * sizeof *grid->dots);
    girdle_common_release(&work.memory, grid->first, (grid->columns * grid->rows + 1) * sizeof *grid->first);
  }
  girdle_common_release(&work.memory, work.sorts, (placement->stone_count + 1) * sizeof *work.sorts);
  if (!status) *count = work.count;
  return status;
}
