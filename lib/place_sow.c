/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* Throwing stones at cells that might still hold one. First the cells of a tile are thrown at THROWS times over. Then,
 * in random order, each cell still without a stone is finished: it is thrown at and halved, and the parts that hold
 * nothing any more are dropped, until it has its stone or nothing is left of it, or the parts are smaller than the grid
 * of places. The area of what is then left is known: no stone fits elsewhere. A cell takes one stone at most, so what
 * is near to it is gathered only once; tiles keep what is looked at together in memory. */

enum { TILE = 64, DEEPEST = 25, THROWS = 3 };
enum { CELL_OUT, CELL_EDGE, CELL_DEEP }; /* outside, to be tested against the edge, wholly within reach of no edge */

#define FINEST_MM 1e-5 /* cells far below the grid of places are not halved further */
#define CELLS_MOST 1e9
#define COVERED UINT32_MAX /* a cell that earlier beds leave nothing of */

/* A cell of a tile, or a part of it: its place in units of its side. */
typedef struct cell {
  uint32_t x, y;
} cell;

/* A stone near a cell, and how far another must stay from it. */
typedef struct neighbour {
  double x, y, distance;
} neighbour;

typedef struct tiling {
  girdle_sowing *sowing;
  girdle_bed *bed;
  uint8_t *states; /* CELL_* of TILE rows of cells */
  cell *cells;     /* of the tile */
  uint64_t cell_count;
  uint64_t column, row; /* the tile's first */
  double left, top;
  cell *parts, *halves; /* of the cell that is being finished */
  uint64_t part_count, part_capacity, halves_capacity;
  neighbour *near; /* to that cell */
  uint64_t near_count, near_capacity;
  int deep; /* whether its edge may be forgotten */
  uint64_t random;
  double undecided_mm2;
  int throws; /* GIRDLE_SOW_*; 0: only measuring what is open */
} tiling;

/* ---- what may stand where */

static int holds_record(uint32_t held) {
  return held - 1 < COVERED - 1; /* neither 0 nor covered */
}

static int64_t column_of(const girdle_sowing *sowing, const girdle_bed *bed, double x) {
  int64_t column = (int64_t)((x - sowing->field->box.left_mm) / bed->cell_mm);
  return column < 0 ? 0 : column < (int64_t)bed->columns ? column : (int64_t)bed->columns - 1;
}

static int64_t row_of(const girdle_sowing *sowing, const girdle_bed *bed, double y) {
  int64_t row = (int64_t)((y - sowing->field->box.top_mm) / bed->cell_mm);
  return row < 0 ? 0 : row < (int64_t)bed->rows ? row : (int64_t)bed->rows - 1;
}

/* How far the middle of a stone of `bed` must stay from those of another bed, or of its own. */
static double distance_to(const girdle_sowing *sowing, const girdle_bed *bed, const girdle_bed *other) {
  return (other == bed ? bed->spacing_mm : bed->radius + other->radius + sowing->gap_mm) - GIRDLE_NEAR_ENOUGH_MM;
}

static int is_clear_of(const girdle_sowing *sowing, const girdle_bed *bed, double limit, double x, double y) {
  const girdle_placed *records = sowing->placement->records;
  int64_t left = column_of(sowing, bed, x - limit), right = column_of(sowing, bed, x + limit);
  int64_t top = row_of(sowing, bed, y - limit), bottom = row_of(sowing, bed, y + limit);
  double square = limit * limit;
  for (int64_t row = top; row <= bottom; row++) {
    const uint32_t *cells = bed->cell + row * (int64_t)bed->columns;
    for (int64_t column = left; column <= right; column++) {
      double dx, dy;
      if (!holds_record(cells[column])) continue;
      dx = records[cells[column] - 1].x_mm - x;
      dy = records[cells[column] - 1].y_mm - y;
      if (dx * dx + dy * dy < square) return 0;
    }
  }
  return 1;
}

static int is_clear_of_beds(const girdle_sowing *sowing, const girdle_bed *bed, double x, double y, double slack) {
  for (const girdle_bed *other = sowing->beds; other < sowing->beds + sowing->bed_count; other++) {
    double limit = distance_to(sowing, bed, other) - slack;
    if (limit > 0 && !is_clear_of(sowing, other, limit, x, y)) return 0;
  }
  return 1;
}

static int is_clear_of_edge(const girdle_sowing *sowing, const girdle_bed *bed, double x, double y, double slack) {
  double reach = bed->radius + sowing->margin_mm - slack - GIRDLE_TOUCH_MM;
  return girdle_field_holds(sowing->field, x, y, reach);
}

static int is_clear_of_crowd(const girdle_sowing *sowing, const girdle_bed *bed, double x, double y, double slack) {
  double needed = bed->radius + sowing->gap_mm - slack - GIRDLE_NEAR_ENOUGH_MM;
  return !sowing->around || girdle_crowd_clearance(sowing->around, x, y, needed, NULL, 0) >= needed;
}

/* Whether a stone may stand at a place when everything is relaxed by `slack`: with 0, whether it may stand there; with
 * half the diagonal of a cell about the place, whether it might stand anywhere in the cell. */
static int is_open(const girdle_sowing *sowing, const girdle_bed *bed, double x, double y, double slack, int deep) {
  return is_clear_of_beds(sowing, bed, x, y, slack) && (deep || is_clear_of_edge(sowing, bed, x, y, slack)) &&
         is_clear_of_crowd(sowing, bed, x, y, slack);
}

/* ---- one tile */

static double half_diagonal(double side) {
  return side * 0.70710678118654752 + GIRDLE_TOUCH_MM;
}

/* The stones that another in the cell might be too near to. */
static int32_t gather_from(tiling *work, const girdle_bed *other, double x, double y) {
  const girdle_placed *records = work->sowing->placement->records;
  double distance = distance_to(work->sowing, work->bed, other), reach = distance + half_diagonal(work->bed->cell_mm);
  int64_t left = column_of(work->sowing, other, x - reach), right = column_of(work->sowing, other, x + reach);
  int64_t top = row_of(work->sowing, other, y - reach), bottom = row_of(work->sowing, other, y + reach);
  uint64_t most = work->near_count + (uint64_t)((right - left + 1) * (bottom - top + 1));
  GIRDLE_TRY(girdle_common_grow(work->sowing->call, &work->sowing->field->memory, (void **)&work->near,
                                &work->near_capacity, most, sizeof *work->near));
  for (int64_t row = top; row <= bottom; row++)
    for (const uint32_t *at = other->cell + row * (int64_t)other->columns + left, *end = at + (right - left); at <= end;
         at++) {
      neighbour found;
      if (!holds_record(*at)) continue;
      found.x = records[*at - 1].x_mm;
      found.y = records[*at - 1].y_mm;
      found.distance = distance;
      if ((found.x - x) * (found.x - x) + (found.y - y) * (found.y - y) < reach * reach)
        work->near[work->near_count++] = found;
    }
  return GIRDLE_OK;
}

static int32_t gather(tiling *work, const cell *at) {
  double x = work->left + (at->x + 0.5) * work->bed->cell_mm, y = work->top + (at->y + 0.5) * work->bed->cell_mm;
  work->near_count = 0;
  for (uint64_t i = 0; i < work->sowing->bed_count; i++)
    GIRDLE_TRY(gather_from(work, &work->sowing->beds[i], x, y));
  work->deep = work->states[at->y * work->bed->columns + work->column + at->x] == CELL_DEEP;
  return GIRDLE_OK;
}

/* As is_open, within the cell whose neighbours were gathered. What is in the way here is likely to be in the way of the
 * next place too and goes to the front. */
static int is_open_near(tiling *work, double x, double y, double slack) {
  neighbour *near = work->near;
  for (uint64_t i = 0; i < work->near_count; i++) {
    double dx = near[i].x - x, dy = near[i].y - y, limit = near[i].distance - slack;
    if (limit > 0 && dx * dx + dy * dy < limit * limit) {
      neighbour held = near[0];
      near[0] = near[i];
      near[i] = held;
      return 0;
    }
  }
  return (work->deep || is_clear_of_edge(work->sowing, work->bed, x, y, slack)) &&
         is_clear_of_crowd(work->sowing, work->bed, x, y, slack);
}

/* Keeps a part that might hold a stone. */
static void keep_part(tiling *work, cell *list, uint64_t *count, uint32_t x, uint32_t y, double side) {
  cell kept = {x, y};
  if (is_open_near(work, work->left + (x + 0.5) * side, work->top + (y + 0.5) * side, half_diagonal(side)))
    list[(*count)++] = kept;
}

static int32_t halve_parts(tiling *work, double side) {
  cell *held = work->parts;
  uint64_t count = 0, capacity = work->part_capacity;
  GIRDLE_TRY(girdle_common_grow(work->sowing->call, &work->sowing->field->memory, (void **)&work->halves,
                                &work->halves_capacity, 4 * work->part_count, sizeof(cell)));
  for (uint64_t i = 0; i < work->part_count; i++)
    for (uint32_t k = 0; k < 4; k++)
      keep_part(work, work->halves, &count, 2 * work->parts[i].x + (k & 1), 2 * work->parts[i].y + (k >> 1), side / 2);
  work->parts = work->halves;
  work->part_capacity = work->halves_capacity;
  work->part_count = count;
  work->halves = held;
  work->halves_capacity = capacity;
  return GIRDLE_OK;
}

/* A place snapped out of the grid of cells is not taken. */
static int32_t take_place(tiling *work, double x, double y) {
  girdle_sowing *sowing = work->sowing;
  double column = floor((x - sowing->field->box.left_mm) / work->bed->cell_mm);
  double row = floor((y - sowing->field->box.top_mm) / work->bed->cell_mm);
  if (column < 0 || row < 0 || column >= (double)work->bed->columns || row >= (double)work->bed->rows) return GIRDLE_OK;
  GIRDLE_TRY(girdle_place_put(sowing->call, sowing->placement, x, y, 0, 0, 0));
  work->bed->cell[(uint64_t)row * work->bed->columns + (uint64_t)column] = (uint32_t)sowing->placement->count;
  return GIRDLE_OK;
}

static void throw_into(tiling *work, const cell *at, double side, double *x, double *y) {
  *x = girdle_place_snapped(work->left + (at->x + girdle_random_unit(&work->random)) * side);
  *y = girdle_place_snapped(work->top + (at->y + girdle_random_unit(&work->random)) * side);
}

/* As many throws as there are parts, each at one of them; at most one stone finds place. */
static int32_t throw_at_parts(tiling *work, double side, int *is_taken) {
  for (uint64_t i = 0; i < work->part_count && !*is_taken; i++) {
    double x, y;
    throw_into(work, &work->parts[girdle_random_below(&work->random, work->part_count)], side, &x, &y);
    if (!is_open_near(work, x, y, 0)) continue;
    *is_taken = 1;
    GIRDLE_TRY(take_place(work, x, y));
  }
  return GIRDLE_OK;
}

static int32_t finish_cell(tiling *work, const cell *at) {
  double side = work->bed->cell_mm;
  int is_taken = 0;
  GIRDLE_TRY(gather(work, at));
  GIRDLE_TRY(girdle_common_grow(work->sowing->call, &work->sowing->field->memory, (void **)&work->parts,
                                &work->part_capacity, 1, sizeof(cell)));
  work->part_count = 0;
  keep_part(work, work->parts, &work->part_count, at->x, at->y, side);
  for (int level = 0; work->part_count && level < DEEPEST && side > FINEST_MM; level++, side /= 2) {
    GIRDLE_TRY(throw_at_parts(work, side, &is_taken));
    if (is_taken) return GIRDLE_OK;
    GIRDLE_TRY(halve_parts(work, side));
  }
  work->undecided_mm2 += (double)work->part_count * side * side;
  return GIRDLE_OK;
}

static uint32_t *record_in(const tiling *work, const cell *at) {
  return &work->bed->cell[(work->row + at->y) * work->bed->columns + work->column + at->x];
}

static void list_cells(tiling *work) {
  const girdle_bed *bed = work->bed;
  work->cell_count = 0;
  for (uint64_t y = 0; y < TILE && work->row + y < bed->rows; y++)
    for (uint64_t x = 0; x < TILE && work->column + x < bed->columns; x++) {
      cell here = {(uint32_t)x, (uint32_t)y};
      if (work->states[y * bed->columns + work->column + x] != CELL_OUT && !*record_in(work, &here))
        work->cells[work->cell_count++] = here;
    }
}

/* Whichever cell comes: were each thrown at in turn, the stones would lie closer than stones thrown anywhere do. */
static int32_t throw_at_cells(tiling *work) {
  for (uint64_t i = 0; i < THROWS * work->cell_count; i++) {
    const cell *at = &work->cells[girdle_random_below(&work->random, work->cell_count)];
    double x, y;
    if (*record_in(work, at)) continue;
    throw_into(work, at, work->bed->cell_mm, &x, &y);
    if (is_open(work->sowing, work->bed, x, y, 0,
                work->states[at->y * work->bed->columns + work->column + at->x] == CELL_DEEP))
      GIRDLE_TRY(take_place(work, x, y));
  }
  return GIRDLE_OK;
}

/* What is left is finished in random order. */
static void shuffle_cells(tiling *work) {
  for (uint64_t i = 0; i + 1 < work->cell_count; i++) {
    uint64_t other = i + girdle_random_below(&work->random, work->cell_count - i);
    cell held = work->cells[i];
    work->cells[i] = work->cells[other];
    work->cells[other] = held;
  }
}

static int32_t sow_tile(tiling *work) {
  GIRDLE_TRY(throw_at_cells(work));
  if (work->throws == GIRDLE_SOW_QUICKLY) return GIRDLE_OK;
  shuffle_cells(work);
  for (uint64_t i = 0; i < work->cell_count; i++)
    if (!*record_in(work, &work->cells[i])) GIRDLE_TRY(finish_cell(work, &work->cells[i]));
  return GIRDLE_OK;
}

/* When only measuring, a cell counts by its middle. */
static void measure_tile(tiling *work) {
  double side = work->bed->cell_mm;
  for (uint64_t i = 0; i < work->cell_count; i++) {
    const cell *at = &work->cells[i];
    int deep = work->states[at->y * work->bed->columns + work->column + at->x] == CELL_DEEP;
    if (is_open(work->sowing, work->bed, work->left + (at->x + 0.5) * side, work->top + (at->y + 0.5) * side, 0, deep))
      work->undecided_mm2 += side * side;
  }
}

/* ---- all tiles */

/* A row of the field lies as near as its edges do to what they stand for: whether a cell near them is wholly outside,
 * its middle says. */
static void mark_states(const tiling *work, double middle, double near, uint8_t *states) {
  const girdle_field *field = work->sowing->field;
  const girdle_bed *bed = work->bed;
  for (uint64_t i = 0; i < field->span_count; i++) {
    const girdle_span *span = &field->spans[i];
    double first = ceil((span->from - field->box.left_mm) / bed->cell_mm - 0.5);
    double last = floor((span->to - field->box.left_mm) / bed->cell_mm - 0.5);
    first = fmax(first, 0);
    last = fmin(last, (double)bed->columns - 1);
    for (double column = first; column <= last; column++) {
      double x = field->box.left_mm + (column + 0.5) * bed->cell_mm;
      if (span->change)
        states[(uint64_t)column] = CELL_DEEP;
      else if (field->sag_mm == 0 || girdle_field_holds(field, x, middle, -near))
        states[(uint64_t)column] = CELL_EDGE;
    }
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
    GIRDLE_TRY(girdle_field_row(work->sowing->call, field, middle, near + field->sag_mm));
    mark_states(work, middle, near, work->states + y * bed->columns);
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
      list_cells(work);
      if (work->throws)
        GIRDLE_TRY(sow_tile(work));
      else
        measure_tile(work);
      GIRDLE_TRY(girdle_common_tick(work->sowing->call, work->cell_count + 1, -1));
    }
  }
  return GIRDLE_OK;
}

static int32_t work_tiles(tiling *work) {
  const girdle_allocator memory = work->sowing->field->memory;
  uint64_t bytes = TILE * work->bed->columns, cell_bytes = TILE * TILE * sizeof(cell);
  int32_t status = GIRDLE_MEMORY;
  work->states = girdle_common_new(work->sowing->call, bytes);
  work->cells = work->states ? girdle_common_new(work->sowing->call, cell_bytes) : NULL;
  if (work->cells) status = sow_tiles(work);
  girdle_common_release(&memory, work->states, bytes);
  girdle_common_release(&memory, work->cells, cell_bytes);
  girdle_common_release(&memory, work->parts, work->part_capacity * sizeof(cell));
  girdle_common_release(&memory, work->halves, work->halves_capacity * sizeof(cell));
  girdle_common_release(&memory, work->near, work->near_capacity * sizeof *work->near);
  return status;
}

/* ---- beds */

/* Marks the cells of which one stone of an earlier bed leaves nothing, row by row. */
static void cover_cells(const girdle_sowing *sowing, girdle_bed *bed, double reach, double x, double y) {
  double left = x - sowing->field->box.left_mm, top = y - sowing->field->box.top_mm, side = bed->cell_mm;
  int64_t last = (int64_t)floor((top + reach) / side - 0.5);
  for (int64_t row = (int64_t)ceil((top - reach) / side - 0.5); row <= last; row++) {
    double away = ((double)row + 0.5) * side - top, half = sqrt(fmax(0, reach * reach - away * away));
    int64_t first = (int64_t)ceil((left - half) / side - 0.5), end = (int64_t)floor((left + half) / side - 0.5);
    if (row < 0 || row >= (int64_t)bed->rows) continue;
    if (first < 0) first = 0;
    if (end >= (int64_t)bed->columns) end = (int64_t)bed->columns - 1;
    for (int64_t column = first; column <= end; column++)
      bed->cell[row * (int64_t)bed->columns + column] = COVERED;
  }
}

static void cover_by_earlier(const girdle_sowing *sowing, girdle_bed *bed) {
  const girdle_bed *earlier = sowing->beds;
  for (uint64_t i = 0; i < bed->first_record; i++) {
    const girdle_placed *record = &sowing->placement->records[i];
    double reach;
    while (earlier + 1 < sowing->beds + sowing->bed_count && i >= earlier[1].first_record)
      earlier++;
    reach = distance_to(sowing, bed, earlier) - half_diagonal(bed->cell_mm);
    if (reach > 0) cover_cells(sowing, bed, reach, record->x_mm, record->y_mm);
  }
}

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
  cover_by_earlier(sowing, &bed);
  sowing->beds[sowing->bed_count++] = bed;
  return GIRDLE_OK;
}

static void free_bed(const girdle_sowing *sowing, const girdle_bed *bed) {
  girdle_common_release(&sowing->field->memory, bed->cell, bed->columns * bed->rows * sizeof *bed->cell);
}

int32_t girdle_sow(girdle_sowing *sowing, double radius, double spacing_mm, int how) {
  tiling work;
  memset(&work, 0, sizeof work);
  GIRDLE_TRY(add_bed(sowing, radius, fmax(spacing_mm, 2 * radius + sowing->gap_mm)));
  work.sowing = sowing;
  work.bed = &sowing->beds[sowing->bed_count - 1];
  work.throws = how;
  GIRDLE_TRY(work_tiles(&work));
  sowing->undecided_mm2 = work.undecided_mm2;
  return GIRDLE_OK;
}

/* On a grid twice as fine as the stone's own. */
int32_t girdle_sow_open(girdle_sowing *sowing, double radius, double *area_mm2) {
  tiling work;
  int32_t status;
  memset(&work, 0, sizeof work);
  GIRDLE_TRY(add_bed(sowing, radius, radius + sowing->gap_mm / 2));
  work.sowing = sowing;
  work.bed = &sowing->beds[sowing->bed_count - 1];
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
