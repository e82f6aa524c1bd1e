/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* Throwing stones at cells that might still hold one. What is thrown where every cell is taken or covered is lost, so
 * the cells that are left are halved again and again, and those that hold nothing any more are dropped, until none is
 * left or they are smaller than the grid of places. The area of what is then left is known: no stone fits elsewhere.
 * The region is worked through tile by tile, so that what is looked at lies together in memory. */

enum { TILE = 64, DEEPEST = 25 };
enum { CELL_OUT, CELL_EDGE, CELL_DEEP }; /* outside, to be tested against the edge, wholly within reach of no edge */

#define FINEST_MM 4e-5 /* cells below the grid of places are not halved further */
#define CELLS_MOST 1e9

/* A cell of a tile: its place in units of its side, and whether the edge may be forgotten. */
typedef struct cell {
  uint32_t x, y, state;
} cell;

typedef struct tiling {
  girdle_sowing *sowing;
  girdle_bed *bed;
  uint8_t *states; /* of TILE rows of base cells */
  cell *active, *halved;
  uint64_t active_count, active_capacity, halved_capacity, random;
  double left, top; /* of the tile */
  uint64_t stone, column, row;
  double undecided_mm2;
  int throws; /* 0: only measuring what is open, to `deepest` */
  int deepest;
} tiling;

/* ---- what may stand where */

static int is_clear_of(const girdle_sowing *sowing, const girdle_bed *bed, double limit, double x, double y) {
  const girdle_placed *records = sowing->placement->records;
  int64_t column = (int64_t)floor((x - sowing->field->box.left_mm) / bed->cell_mm);
  int64_t row = (int64_t)floor((y - sowing->field->box.top_mm) / bed->cell_mm);
  int64_t reach = (int64_t)(limit / bed->cell_mm) + 1;
  int64_t left = column > reach ? column - reach : 0, top = row > reach ? row - reach : 0;
  int64_t right = column + reach < (int64_t)bed->columns ? column + reach : (int64_t)bed->columns - 1;
  int64_t bottom = row + reach < (int64_t)bed->rows ? row + reach : (int64_t)bed->rows - 1;
  for (int64_t r = top; r <= bottom; r++) {
    const uint32_t *cells = bed->cell + r * (int64_t)bed->columns;
    for (int64_t c = left; c <= right; c++) {
      double dx, dy;
      if (!cells[c]) continue;
      dx = records[cells[c] - 1].x_mm - x;
      dy = records[cells[c] - 1].y_mm - y;
      if (dx * dx + dy * dy < limit * limit) return 0;
    }
  }
  return 1;
}

/* Whether a stone may stand at a place when everything is relaxed by `slack`: with 0, whether it may stand there; with
 * half the diagonal of a cell about the place, whether it might stand anywhere in the cell. */
static int is_open(const girdle_sowing *sowing, const girdle_bed *bed, double x, double y, double slack, int deep) {
  double reach = bed->radius + sowing->margin_mm - slack - GIRDLE_TOUCH_MM;
  double needed = bed->radius + sowing->gap_mm - slack - GIRDLE_TOUCH_MM;
  if (!deep && girdle_field_depth(sowing->field, x, y, fabs(reach) + 1e-3) < reach) return 0;
  for (const girdle_bed *other = sowing->beds; other < sowing->beds + sowing->bed_count; other++) {
    double limit = other == bed ? bed->spacing_mm - slack - GIRDLE_TOUCH_MM : needed + other->radius;
    if (limit > 0 && !is_clear_of(sowing, other, limit, x, y)) return 0;
  }
  return !sowing->around || girdle_crowd_clearance(sowing->around, x, y, needed, NULL, 0) >= needed;
}

/* ---- one tile */

static double half_diagonal(double side) {
  return side * 0.70710678118654752 + GIRDLE_TOUCH_MM;
}

static int32_t keep_cell(tiling *work, cell **list, uint64_t *count, uint64_t *capacity, uint32_t x, uint32_t y,
                         uint32_t state, double side) {
  double middle_x = work->left + (x + 0.5) * side, middle_y = work->top + (y + 0.5) * side;
  cell kept = {x, y, state};
  if (!is_open(work->sowing, work->bed, middle_x, middle_y, half_diagonal(side), state == CELL_DEEP)) return GIRDLE_OK;
  GIRDLE_TRY(girdle_common_grow(work->sowing->call, &work->sowing->field->memory, (void **)list, capacity, *count + 1,
                                sizeof kept));
  (*list)[(*count)++] = kept;
  return GIRDLE_OK;
}

static uint32_t *base_of(const tiling *work, const cell *at, int level) {
  return &work->bed->cell[(work->row + (at->y >> level)) * work->bed->columns + work->column + (at->x >> level)];
}

static int32_t list_cells(tiling *work) {
  const girdle_bed *bed = work->bed;
  work->active_count = 0;
  for (uint64_t y = 0; y < TILE && work->row + y < bed->rows; y++)
    for (uint64_t x = 0; x < TILE && work->column + x < bed->columns; x++) {
      uint8_t state = work->states[y * bed->columns + work->column + x];
      if (state != CELL_OUT && !bed->cell[(work->row + y) * bed->columns + work->column + x])
        GIRDLE_TRY(keep_cell(work, &work->active, &work->active_count, &work->active_capacity, (uint32_t)x, (uint32_t)y,
                             state, bed->cell_mm));
    }
  return GIRDLE_OK;
}

/* A place snapped out of the grid is not taken. */
static int32_t take_place(tiling *work, double x, double y) {
  girdle_sowing *sowing = work->sowing;
  double column = floor((x - sowing->field->box.left_mm) / work->bed->cell_mm);
  double row = floor((y - sowing->field->box.top_mm) / work->bed->cell_mm);
  if (column < 0 || row < 0 || column >= (double)work->bed->columns || row >= (double)work->bed->rows) return GIRDLE_OK;
  GIRDLE_TRY(girdle_place_put(sowing->call, sowing->placement, x, y, 0, work->stone, 0));
  work->bed->cell[(uint64_t)row * work->bed->columns + (uint64_t)column] = (uint32_t)sowing->placement->count;
  return GIRDLE_OK;
}

/* As many throws as there are cells, each at one of them. */
static int32_t throw_stones(tiling *work, int level, double side) {
  for (uint64_t i = 0; i < work->active_count; i++) {
    const cell *at = &work->active[girdle_random_below(&work->random, work->active_count)];
    double x = work->left + (at->x + girdle_random_unit(&work->random)) * side;
    double y = work->top + (at->y + girdle_random_unit(&work->random)) * side;
    if (*base_of(work, at, level)) continue;
    x = girdle_place_snapped(x);
    y = girdle_place_snapped(y);
    if (is_open(work->sowing, work->bed, x, y, 0, at->state == CELL_DEEP)) GIRDLE_TRY(take_place(work, x, y));
  }
  return GIRDLE_OK;
}

static int32_t halve_cells(tiling *work, int level, double side) {
  uint64_t count = 0, capacity = work->active_capacity;
  cell *parents = work->active;
  for (uint64_t i = 0; i < work->active_count; i++) {
    const cell *at = &parents[i];
    if (*base_of(work, at, level)) continue;
    for (uint32_t k = 0; k < 4; k++)
      GIRDLE_TRY(keep_cell(work, &work->halved, &count, &work->halved_capacity, 2 * at->x + (k & 1),
                           2 * at->y + (k >> 1), at->state, side / 2));
  }
  work->active = work->halved;
  work->active_capacity = work->halved_capacity;
  work->active_count = count;
  work->halved = parents;
  work->halved_capacity = capacity;
  return GIRDLE_OK;
}

static int32_t sow_tile(tiling *work) {
  double side = work->bed->cell_mm;
  int level = 0;
  GIRDLE_TRY(list_cells(work));
  for (; work->active_count && level < work->deepest && side > FINEST_MM; level++, side /= 2) {
    if (work->throws) GIRDLE_TRY(throw_stones(work, level, side));
    GIRDLE_TRY(girdle_common_tick(work->sowing->call, work->active_count, -1));
    GIRDLE_TRY(halve_cells(work, level, side));
  }
  work->undecided_mm2 += (double)work->active_count * side * side;
  return GIRDLE_OK;
}

/* ---- all tiles */

static void mark_states(const girdle_field *field, const girdle_bed *bed, uint8_t *states) {
  for (uint64_t i = 0; i < field->span_count; i++) {
    const girdle_span *span = &field->spans[i];
    double first = ceil((span->from - field->box.left_mm) / bed->cell_mm - 0.5);
    double last = floor((span->to - field->box.left_mm) / bed->cell_mm - 0.5);
    first = fmax(first, 0);
    last = fmin(last, (double)bed->columns - 1);
    for (double column = first; column <= last; column++)
      states[(uint64_t)column] = span->change ? CELL_DEEP : CELL_EDGE;
  }
}

/* Which cells of a row of tiles lie outside, deep inside or near an edge, by the middles of their rows. */
static int32_t mark_rows(tiling *work) {
  girdle_field *field = work->sowing->field;
  const girdle_bed *bed = work->bed;
  double near = bed->radius + work->sowing->margin_mm + half_diagonal(bed->cell_mm);
  memset(work->states, CELL_OUT, (size_t)(TILE * bed->columns));
  for (uint64_t y = 0; y < TILE && work->row + y < bed->rows; y++) {
    double middle = field->box.top_mm + ((double)(work->row + y) + 0.5) * bed->cell_mm;
    GIRDLE_TRY(girdle_field_row(work->sowing->call, field, middle, near));
    mark_states(field, bed, work->states + y * bed->columns);
  }
  return GIRDLE_OK;
}

static int32_t sow_tiles(tiling *work) {
  const girdle_bed *bed = work->bed;
  uint64_t tile = 0;
  for (work->row = 0; work->row < bed->rows; work->row += TILE) {
    GIRDLE_TRY(mark_rows(work));
    for (work->column = 0; work->column < bed->columns; work->column += TILE) {
      work->left = work->sowing->field->box.left_mm + (double)work->column * bed->cell_mm;
      work->top = work->sowing->field->box.top_mm + (double)work->row * bed->cell_mm;
      work->random = girdle_random_mixed(girdle_random_mixed(work->sowing->seed, work->sowing->bed_count), tile++);
      GIRDLE_TRY(sow_tile(work));
    }
  }
  return GIRDLE_OK;
}

static int32_t work_tiles(tiling *work) {
  const girdle_allocator memory = work->sowing->field->memory;
  uint64_t bytes = TILE * work->bed->columns;
  int32_t status;
  work->states = girdle_common_new(work->sowing->call, bytes);
  if (!work->states) return GIRDLE_MEMORY;
  status = sow_tiles(work);
  girdle_common_release(&memory, work->states, bytes);
  girdle_common_release(&memory, work->active, work->active_capacity * sizeof *work->active);
  girdle_common_release(&memory, work->halved, work->halved_capacity * sizeof *work->halved);
  return status;
}

/* ---- beds */

static int32_t add_bed(girdle_sowing *sowing, double radius, double spacing_mm) {
  const girdle_box *box = &sowing->field->box;
  girdle_bed bed = {radius, spacing_mm, spacing_mm * 0.70710678, 0, 0, sowing->placement->count, NULL};
  double columns = floor((box->right_mm - box->left_mm) / bed.cell_mm) + 1;
  double rows = floor((box->bottom_mm - box->top_mm) / bed.cell_mm) + 1;
  if (columns * rows > CELLS_MOST) return girdle_place_reserve(sowing->call, sowing->placement, UINT64_MAX);
  GIRDLE_TRY(girdle_common_grow(sowing->call, &sowing->field->memory, (void **)&sowing->beds, &sowing->bed_capacity,
                                sowing->bed_count + 1, sizeof bed));
  bed.columns = (uint64_t)columns;
  bed.rows = (uint64_t)rows;
  bed.cell = girdle_common_new(sowing->call, bed.columns * bed.rows * sizeof *bed.cell);
  if (!bed.cell) return GIRDLE_MEMORY;
  sowing->beds[sowing->bed_count++] = bed;
  return GIRDLE_OK;
}

static void free_bed(const girdle_sowing *sowing, const girdle_bed *bed) {
  girdle_common_release(&sowing->field->memory, bed->cell, bed->columns * bed->rows * sizeof *bed->cell);
}

int32_t girdle_sow(girdle_sowing *sowing, double radius, double spacing_mm, uint64_t stone) {
  tiling work;
  memset(&work, 0, sizeof work);
  GIRDLE_TRY(add_bed(sowing, radius, fmax(spacing_mm, 2 * radius + sowing->gap_mm)));
  work.sowing = sowing;
  work.bed = &sowing->beds[sowing->bed_count - 1];
  work.stone = stone;
  work.throws = 1;
  work.deepest = DEEPEST;
  GIRDLE_TRY(work_tiles(&work));
  sowing->undecided_mm2 = work.undecided_mm2;
  return GIRDLE_OK;
}

/* Cells a sixty-fourth of the stone's own, counted by whether they might hold its middle. */
int32_t girdle_sow_open(girdle_sowing *sowing, double radius, double *area_mm2) {
  tiling work;
  int32_t status;
  memset(&work, 0, sizeof work);
  GIRDLE_TRY(add_bed(sowing, radius, 2 * radius + sowing->gap_mm));
  work.sowing = sowing;
  work.bed = &sowing->beds[sowing->bed_count - 1];
  work.deepest = 6;
  status = work_tiles(&work);
  *area_mm2 = work.undecided_mm2;
  free_bed(sowing, &sowing->beds[--sowing->bed_count]);
  return status;
}

void girdle_sow_undo(girdle_sowing *sowing) {
  const girdle_bed *bed = &sowing->beds[--sowing->bed_count];
  sowing->placement->count = bed->first_record;
  free_bed(sowing, bed);
}

void girdle_sow_free(girdle_sowing *sowing) {
  for (uint64_t i = 0; i < sowing->bed_count; i++)
    free_bed(sowing, &sowing->beds[i]);
  girdle_common_release(&sowing->field->memory, sowing->beds, sowing->bed_capacity * sizeof *sowing->beds);
}

static uint64_t end_of(const girdle_sowing *sowing, uint64_t bed) {
  return bed + 1 < sowing->bed_count ? sowing->beds[bed + 1].first_record : sowing->placement->count;
}

static void refill(girdle_sowing *sowing, uint64_t bed) {
  girdle_bed *filled = &sowing->beds[bed];
  memset(filled->cell, 0, (size_t)(filled->columns * filled->rows) * sizeof *filled->cell);
  for (uint64_t i = filled->first_record; i < end_of(sowing, bed); i++) {
    const girdle_placed *record = &sowing->placement->records[i];
    uint64_t column = (uint64_t)((record->x_mm - sowing->field->box.left_mm) / filled->cell_mm);
    uint64_t row = (uint64_t)((record->y_mm - sowing->field->box.top_mm) / filled->cell_mm);
    filled->cell[row * filled->columns + column] = (uint32_t)i + 1;
  }
}

/* The records of the beds follow each other; those of later beds move up. */
int32_t girdle_sow_thin(girdle_sowing *sowing, uint64_t bed, uint64_t keep, double area_mm2) {
  girdle_placement *placement = sowing->placement;
  girdle_bed *thinned = &sowing->beds[bed];
  uint64_t first = thinned->first_record, bytes = placement->count + 1, count;
  uint8_t *kept = girdle_common_new(sowing->call, bytes);
  int32_t status;
  if (!kept) return GIRDLE_MEMORY;
  count = end_of(sowing, bed) - first;
  memset(kept, 1, (size_t)placement->count);
  status = girdle_thin(sowing->call, placement->records + first, count, keep, area_mm2, kept + first);
  if (!status) girdle_place_keep(placement, kept);
  for (uint64_t later = bed + 1; later < sowing->bed_count && !status; later++)
    sowing->beds[later].first_record -= count - keep;
  for (uint64_t moved = bed; moved < sowing->bed_count && !status; moved++)
    refill(sowing, moved);
  girdle_common_release(&placement->memory, kept, bytes);
  return status;
}
