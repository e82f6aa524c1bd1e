/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* Thinning: of the stones still there the most crowded one goes, again and again, until so many are left as are wanted.
 * How crowded a stone is, is a sum over its neighbours that falls with the eighth power of their distance, up to the
 * distance that the wanted number would have in a honeycomb (C. Yuksel, Sample elimination for generating Poisson disk
 * sample sets, 2015, from memory). */

typedef struct thinning {
  girdle_allocator memory;
  const girdle_placed *records;
  uint64_t count, cells;
  double reach, near; /* where neighbours end; nearer than this is no worse */
  double left, top;
  uint64_t columns, rows;
  uint32_t *first, *order; /* records by cells */
  uint32_t *heap, *place;  /* the most crowded on top; where a record is in the heap */
  double *crowding;
  uint64_t heaped;
} thinning;

/* ---- neighbours */

static uint64_t cell_of(const thinning *work, const girdle_placed *record) {
  uint64_t column = (uint64_t)((record->x_mm - work->left) / work->reach);
  uint64_t row = (uint64_t)((record->y_mm - work->top) / work->reach);
  return row * work->columns + column;
}

static int32_t set_grid(girdle_call *call, thinning *work) {
  double right = -INFINITY, bottom = -INFINITY, cells;
  work->left = work->top = INFINITY;
  for (uint64_t i = 0; i < work->count; i++) {
    work->left = fmin(work->left, work->records[i].x_mm);
    work->top = fmin(work->top, work->records[i].y_mm);
    right = fmax(right, work->records[i].x_mm);
    bottom = fmax(bottom, work->records[i].y_mm);
  }
  cells = (floor((right - work->left) / work->reach) + 1) * (floor((bottom - work->top) / work->reach) + 1);
  if (cells > 4.0 * (double)work->count + 1e6) /* a thin shape in a large box: wider cells find the same neighbours */
    work->reach *= sqrt(cells / (4.0 * (double)work->count + 1e6));
  work->columns = (uint64_t)((right - work->left) / work->reach) + 1;
  work->rows = (uint64_t)((bottom - work->top) / work->reach) + 1;
  work->cells = work->columns * work->rows;
  work->first = girdle_common_new(call, (work->cells + 1) * sizeof *work->first);
  return work->first ? GIRDLE_OK : GIRDLE_MEMORY;
}

/* Counting sort by cells. */
static void fill_grid(thinning *work) {
  for (uint64_t i = 0; i < work->count; i++)
    work->first[cell_of(work, &work->records[i])]++;
  for (uint64_t cell = 0; cell < work->cells; cell++)
    work->first[cell + 1] += work->first[cell];
  for (uint64_t i = work->count; i-- > 0;)
    work->order[--work->first[cell_of(work, &work->records[i])]] = (uint32_t)i;
}

static double weight(const thinning *work, double distance) {
  double far = 1 - fmax(distance, work->near) / work->reach;
  if (far <= 0) return 0;
  far *= far;
  far *= far;
  return far * far;
}

static void sift(thinning *work, uint64_t at);

/* Adds up a record's neighbours that are still there, or takes the record out of theirs. */
static double visit(thinning *work, uint32_t record, int leaves) {
  const girdle_placed *here = &work->records[record];
  uint64_t cell = cell_of(work, here), column = cell % work->columns, row = cell / work->columns;
  double sum = 0;
  for (uint64_t r = row ? row - 1 : 0; r <= row + 1 && r < work->rows; r++)
    for (uint64_t c = column ? column - 1 : 0; c <= column + 1 && c < work->columns; c++)
      for (uint64_t i = work->first[r * work->columns + c]; i < work->first[r * work->columns + c + 1]; i++) {
        uint32_t other = work->order[i];
        double dx = work->records[other].x_mm - here->x_mm, dy = work->records[other].y_mm - here->y_mm, added;
        if (other == record || work->place[other] == UINT32_MAX) continue;
        if (dx * dx + dy * dy >= work->reach * work->reach) continue;
        added = weight(work, sqrt(dx * dx + dy * dy));
        sum += added;
        if (!leaves) continue;
        work->crowding[other] -= added;
        sift(work, work->place[other]);
      }
  return sum;
}

/* ---- the heap */

static int above(const thinning *work, uint32_t a, uint32_t b) {
  return work->crowding[a] > work->crowding[b] || (work->crowding[a] == work->crowding[b] && a < b);
}

static void sift(thinning *work, uint64_t at) {
  uint32_t moving = work->heap[at];
  for (uint64_t child; (child = 2 * at + 1) < work->heaped; at = child) {
    if (child + 1 < work->heaped && above(work, work->heap[child + 1], work->heap[child])) child++;
    if (!above(work, work->heap[child], moving)) break;
    work->heap[at] = work->heap[child];
    work->place[work->heap[at]] = (uint32_t)at;
  }
  work->heap[at] = moving;
  work->place[moving] = (uint32_t)at;
}

static void set_heap(thinning *work) {
  for (uint64_t i = 0; i < work->count; i++)
    work->crowding[i] = visit(work, (uint32_t)i, 0);
  for (uint64_t i = 0; i < work->count; i++)
    work->heap[i] = work->place[i] = (uint32_t)i;
  work->heaped = work->count;
  for (uint64_t i = work->count / 2; i-- > 0;)
    sift(work, i);
}

static uint32_t pop(thinning *work) {
  uint32_t top = work->heap[0];
  work->place[top] = UINT32_MAX;
  work->heap[0] = work->heap[--work->heaped];
  if (work->heaped) sift(work, 0);
  return top;
}

/* ---- thinning */

static int32_t begin(girdle_call *call, thinning *work, uint64_t keep, double area_mm2) {
  double share = (double)keep / (double)work->count;
  work->memory = girdle_common_memory(call);
  work->reach = sqrt(2 * area_mm2 / (sqrt(3.0) * (double)(keep ? keep : 1)));
  work->near = work->reach * 0.65 * (1 - share * sqrt(share));
  GIRDLE_TRY(set_grid(call, work));
  work->order = girdle_common_new(call, work->count * sizeof *work->order);
  work->heap = work->order ? girdle_common_new(call, work->count * sizeof *work->heap) : NULL;
  work->place = work->heap ? girdle_common_new(call, work->count * sizeof *work->place) : NULL;
  work->crowding = work->place ? girdle_common_new(call, work->count * sizeof *work->crowding) : NULL;
  return work->crowding ? GIRDLE_OK : GIRDLE_MEMORY;
}

static void clean(thinning *work) {
  girdle_common_release(&work->memory, work->first, (work->cells + 1) * sizeof *work->first);
  girdle_common_release(&work->memory, work->order, work->count * sizeof *work->order);
  girdle_common_release(&work->memory, work->heap, work->count * sizeof *work->heap);
  girdle_common_release(&work->memory, work->place, work->count * sizeof *work->place);
  girdle_common_release(&work->memory, work->crowding, work->count * sizeof *work->crowding);
}

static int32_t eliminate(girdle_call *call, thinning *work, uint64_t keep, uint8_t *kept) {
  fill_grid(work);
  set_heap(work);
  for (uint64_t gone = 0; work->heaped > keep; gone++) {
    uint32_t top = pop(work);
    kept[top] = 0;
    visit(work, top, 1);
    if (gone % 1024 == 0) GIRDLE_TRY(girdle_common_tick(call, 1024, -1));
  }
  return GIRDLE_OK;
}

int32_t girdle_thin(girdle_call *call, const girdle_placed *records, uint64_t count, uint64_t keep, double area_mm2,
                    uint8_t *kept) {
  thinning work;
  int32_t status;
  memset(kept, 1, (size_t)count);
  if (keep >= count) return GIRDLE_OK;
  memset(&work, 0, sizeof work);
  work.records = records;
  work.count = count;
  status = begin(call, &work, keep, area_mm2);
  if (!status) status = eliminate(call, &work, keep, kept);
  clean(&work);
  return status;
}
