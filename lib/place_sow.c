/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* Throwing stones at cells that might still hold one. First each cell of a tile is thrown at once, by chance, then
 * those that no stone beside them covers THROWS times over. Then, in random order, each cell still without a stone is
 * finished: it is halved, and the parts that hold nothing any more are dropped, and from the second halving on thrown
 * at, until the cell has its stone or nothing is left of it, or the parts are smaller than the grid of places. The area
 * of what is then left is known: no stone fits elsewhere. A cell takes one stone at most, so what is near to it is
 * gathered only once; tiles keep what is looked at together in memory.
 *
 * That is not quite the order of stones thrown anywhere until no more fit: tiles come one after the other, and a cell
 * is finished however little of it is open. Both pack closer, together by 0.3 % (tests/reference). With one tile over
 * all and thirty throws a cell, nothing of it is left, but two thirds of the speed are gone. */

enum { TILE = 128, DEEPEST = 25, THROWS = 4, QUICK_THROWS = 2, THROWN_FROM = 2, MANY = 5000, TICKED = 4096 };
enum { CELL_OUT, CELL_EDGE, CELL_DEEP }; /* outside, to be tested against the edge, wholly within reach of no edge */

enum { WAYS = 256, LOOKS = 24, STRIDE = 11 };
#define SNAPPED_MM 1.5e-4 /* more than snapping brings two places together */
#define FINEST_MM 1e-5    /* cells far below the grid of places are not halved further */
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
  int how;           /* GIRDLE_SOW_*; 0: only measuring what is open */
  double (*ways)[2]; /* WAYS directions, when stones are set beside each other */
} tiling;

/* ---- what may stand where */

static int holds_record(uint32_t held) {
  return held - 1 < COVERED - 1; /* neither 0 nor covered */
}

/* The cells of which a stone may be nearer than a bed's spacing to a place in the middle one, the nearest first. Only
 * of the first BESIDE may a stone be nearer than a cell is wide. A rim of as many cells about a bed holds nothing, so
 * that they need no bounds. */
enum { RIM = 2, BESIDE = 9, AROUND = GIRDLE_CELLS_AROUND };
static const int8_t around[AROUND][2] = {{0, 0},   {-1, 0}, {1, 0},  {0, -1},  {0, 1},  {-1, -1}, {1, -1},
                                         {-1, 1},  {1, 1},  {-2, 0}, {2, 0},   {0, -2}, {0, 2},   {-2, -1},
                                         {-2, 1},  {2, -1}, {2, 1},  {-1, -2}, {1, -2}, {-1, 2},  {1, 2},
                                         {-2, -2}, {2, -2}, {-2, 2}, {2, 2}};

static uint64_t cells_with_rim(const girdle_bed *bed) {
  return (bed->columns + 2 * RIM) * (bed->rows + 2 * RIM);
}

static int64_t stride_of(const girdle_bed *bed) {
  return (int64_t)bed->columns + 2 * RIM;
}

static uint32_t *cell_at(const girdle_bed *bed, int64_t column, int64_t row) {
  return &bed->cells[(row + RIM) * stride_of(bed) + column + RIM];
}

static int64_t within(double cells, uint64_t count) {
  int64_t index = (int64_t)cells;
  return index < 0 ? 0 : index < (int64_t)count ? index : (int64_t)count - 1;
}

static int64_t column_of(const girdle_sowing *sowing, const girdle_bed *bed, double x) {
  return within((x - sowing->field->box.left_mm) * bed->per_mm, bed->columns);
}

static int64_t row_of(const girdle_sowing *sowing, const girdle_bed *bed, double y) {
  return within((y - sowing->field->box.top_mm) * bed->per_mm, bed->rows);
}

/* How far the middle of a stone of `bed` must stay from those of another bed, or of its own. */
static double distance_to(const girdle_sowing *sowing, const girdle_bed *bed, const girdle_bed *other) {
  return (other == bed ? bed->spacing_mm : bed->radius + other->radius + sowing->gap_mm) - GIRDLE_NEAR_ENOUGH_MM;
}

static int is_near(const girdle_placed *record, double x, double y, double square) {
  double dx = record->x_mm - x, dy = record->y_mm - y;
  return dx * dx + dy * dy < square;
}

/* Whether none in the first `count` cells around one of a bed's is nearer to a place than `limit`. */
static int is_clear_around(const girdle_sowing *sowing, const girdle_bed *bed, const uint32_t *middle, int count,
                           double limit, double x, double y) {
  const girdle_placed *records = sowing->placement->records;
  double square = limit * limit;
  for (int i = 0; i < count; i++) {
    uint32_t held = middle[bed->around[i]];
    if (holds_record(held) && is_near(&records[held - 1], x, y, square)) return 0;
  }
  return 1;
}

/* Of all beds but the one that is being sown. Their stones are no smaller, so these keep a spacing no less than they
 * ask of others. */
static int is_clear_of_earlier(const girdle_sowing *sowing, const girdle_bed *bed, double x, double y) {
  for (const girdle_bed *other = sowing->beds; other < bed; other++) {
    double limit = distance_to(sowing, bed, other);
    const uint32_t *middle = cell_at(other, column_of(sowing, other, x), row_of(sowing, other, y));
    if (!is_clear_around(sowing, other, middle, limit < other->cell_mm ? BESIDE : AROUND, limit, x, y)) return 0;
  }
  return 1;
}

static int is_clear_of_edge(const girdle_sowing *sowing, const girdle_bed *bed, double x, double y, double slack) {
  double reach = bed->radius + sowing->margin_mm - slack - GIRDLE_TOUCH_MM;
  return girdle_field_holds(sowing->field, x, y, reach);
}

static int is_clear_of_crowd(const girdle_sowing *sowing, const girdle_bed *bed, double x, double y, double slack) {
  double needed = bed->radius + sowing->gap_mm - slack - GIRDLE_NEAR_ENOUGH_MM;
  return !sowing->around || girdle_crowd_clearance(sowing->around, x, y, needed) >= needed;
}

/* ---- one tile */

/* The most rows or columns of a tile, of so many in all. */
static uint64_t tiled(uint64_t count) {
  return count < TILE ? count : TILE;
}

static double half_diagonal(double side) {
  return side * 0.70710678118654752 + GIRDLE_TOUCH_MM;
}

static uint32_t *record_in(const tiling *work, const cell *at) {
  return cell_at(work->bed, (int64_t)(work->column + at->x), (int64_t)(work->row + at->y));
}

static int is_deep(const tiling *work, const cell *at) {
  return work->states[at->y * work->bed->columns + work->column + at->x] == CELL_DEEP;
}

static double middle_x(const tiling *work, const cell *at) {
  return work->left + (at->x + 0.5) * work->bed->cell_mm;
}

static double middle_y(const tiling *work, const cell *at) {
  return work->top + (at->y + 0.5) * work->bed->cell_mm;
}

/* Whether a stone may stand at a place, as far as edge and crowd are concerned. */
static int is_open(const tiling *work, int deep, double x, double y) {
  return (deep || is_clear_of_edge(work->sowing, work->bed, x, y, 0)) &&
         is_clear_of_crowd(work->sowing, work->bed, x, y, 0);
}

/* Notes a stone that another in the cell about a place might be too near to. */
static uint64_t note_near(neighbour *near, uint64_t count, const girdle_placed *record, double distance, double reach,
                          double x, double y) {
  neighbour found = {record->x_mm, record->y_mm, distance};
  near[count] = found;
  return count + (uint64_t)is_near(record, x, y, reach * reach);
}

/* The stones of an earlier bed. */
static int32_t gather_from(tiling *work, const girdle_bed *other, double x, double y) {
  const girdle_placed *records = work->sowing->placement->records;
  double distance = distance_to(work->sowing, work->bed, other), reach = distance + half_diagonal(work->bed->cell_mm);
  int64_t left = column_of(work->sowing, other, x - reach), right = column_of(work->sowing, other, x + reach);
  int64_t top = row_of(work->sowing, other, y - reach), bottom = row_of(work->sowing, other, y + reach);
  uint64_t count = work->near_count, most = count + (uint64_t)((right - left + 1) * (bottom - top + 1)) + AROUND;
  GIRDLE_TRY(girdle_common_grow(work->sowing->call, &work->sowing->field->memory, (void **)&work->near,
                                &work->near_capacity, most, sizeof *work->near));
  for (int64_t row = top; row <= bottom; row++)
    for (const uint32_t *held = cell_at(other, left, row), *last = held + (right - left); held <= last; held++)
      if (holds_record(*held)) count = note_near(work->near, count, &records[*held - 1], distance, reach, x, y);
  work->near_count = count;
  return GIRDLE_OK;
}

/* The stones of the own bed; the room for them was made with that for the earlier ones, or at first. */
static void gather_own(tiling *work, const cell *at, double x, double y) {
  const girdle_bed *bed = work->bed;
  const girdle_placed *records = work->sowing->placement->records;
  const uint32_t *middle = record_in(work, at);
  double distance = distance_to(work->sowing, bed, bed), reach = distance + half_diagonal(bed->cell_mm);
  neighbour *near = work->near;
  uint64_t count = work->near_count;
  for (int i = 0; i < AROUND; i++) {
    uint32_t held = middle[bed->around[i]];
    if (holds_record(held)) count = note_near(near, count, &records[held - 1], distance, reach, x, y);
  }
  work->near_count = count;
}

static int32_t gather(tiling *work, const cell *at, double x, double y) {
  work->near_count = 0;
  for (const girdle_bed *other = work->sowing->beds; other < work->bed; other++)
    GIRDLE_TRY(gather_from(work, other, x, y));
  gather_own(work, at, x, y);
  work->deep = is_deep(work, at);
  return GIRDLE_OK;
}

/* Whether a stone may stand at a place, in the cell whose neighbours were gathered, when everything is relaxed by
 * `slack`: with 0, whether it may stand there; with half the diagonal of a part about the place, whether it might stand
 * anywhere in the part. What is in the way here is likely to be in the way of the
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
  double column = floor((x - sowing->field->box.left_mm) * work->bed->per_mm);
  double row = floor((y - sowing->field->box.top_mm) * work->bed->per_mm);
  if (column < 0 || row < 0 || column >= (double)work->bed->columns || row >= (double)work->bed->rows) return GIRDLE_OK;
  GIRDLE_TRY(girdle_place_put(sowing->call, sowing->placement, x, y, 0, 0, 0));
  *cell_at(work->bed, (int64_t)column, (int64_t)row) = (uint32_t)sowing->placement->count;
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

/* Whether one stone beside a cell leaves nothing of it: so most cells end. */
static int is_covered(const tiling *work, const cell *at) {
  double limit = distance_to(work->sowing, work->bed, work->bed) - half_diagonal(work->bed->cell_mm);
  return limit > 0 && !is_clear_around(work->sowing, work->bed, record_in(work, at), BESIDE, limit, middle_x(work, at),
                                       middle_y(work, at));
}

/* What is left of a cell: its parts were kept generously, for what touches; here they are looked at exactly. */
static void note_undecided(tiling *work, double side) {
  for (uint64_t i = 0; i < work->part_count; i++) {
    double x = work->left + (work->parts[i].x + 0.5) * side, y = work->top + (work->parts[i].y + 0.5) * side;
    if (is_open_near(work, x, y, side * 0.70710678118654752 + GIRDLE_NEAR_ENOUGH_MM))
      work->undecided_mm2 += side * side;
  }
}

static int32_t finish_cell(tiling *work, const cell *at) {
  double side = work->bed->cell_mm;
  int is_taken = 0;
  if (is_covered(work, at)) return GIRDLE_OK;
  GIRDLE_TRY(gather(work, at, middle_x(work, at), middle_y(work, at)));
  work->parts[0] = *at;
  work->part_count = 1;
  for (int level = 0; work->part_count && level < DEEPEST && side > FINEST_MM; level++, side /= 2) {
    if (level >= THROWN_FROM) GIRDLE_TRY(throw_at_parts(work, side, &is_taken));
    if (is_taken) return GIRDLE_OK;
    GIRDLE_TRY(halve_parts(work, side));
  }
  note_undecided(work, side);
  return GIRDLE_OK;
}

static int may_hold(const tiling *work, const cell *at) {
  return work->states[at->y * work->bed->columns + work->column + at->x] != CELL_OUT && !*record_in(work, at);
}

/* The tile's cells in turn, from {0, 0} on; 0 behind the last. */
static int next_cell(const tiling *work, cell *at) {
  const girdle_bed *bed = work->bed;
  if (++at->x < TILE && work->column + at->x < bed->columns) return 1;
  at->x = 0;
  return ++at->y < TILE && work->row + at->y < bed->rows;
}

static void list_cells(tiling *work) {
  cell here = {0, 0};
  work->cell_count = 0;
  do
    if (may_hold(work, &here)) work->cells[work->cell_count++] = here;
  while (next_cell(work, &here));
}

/* Whichever cell comes: were each thrown at in turn, the stones would lie closer than stones thrown anywhere do. */
static int32_t throw_at_cells(tiling *work, uint64_t times) {
  double limit = distance_to(work->sowing, work->bed, work->bed);
  for (uint64_t i = 0; i < times * work->cell_count; i++) {
    const cell *at = &work->cells[girdle_random_below(&work->random, work->cell_count)];
    const uint32_t *held = record_in(work, at);
    double x, y;
    if (i % TICKED == 0) GIRDLE_TRY(girdle_common_tick(work->sowing->call, TICKED, -1));
    if (*held) continue;
    throw_into(work, at, work->bed->cell_mm, &x, &y);
    if (is_clear_around(work->sowing, work->bed, held, AROUND, limit, x, y) &&
        is_clear_of_earlier(work->sowing, work->bed, x, y) && is_open(work, is_deep(work, at), x, y))
      GIRDLE_TRY(take_place(work, x, y));
  }
  return GIRDLE_OK;
}

static void drop_covered_cells(tiling *work) {
  uint64_t listed = work->cell_count;
  work->cell_count = 0;
  for (uint64_t i = 0; i < listed; i++) {
    cell here = work->cells[i];
    if (!*record_in(work, &here) && !is_covered(work, &here)) work->cells[work->cell_count++] = here;
  }
}

/* One throw a cell finds most of the stones; the others go where there may still be room. */
static int32_t throw_at_tile(tiling *work) {
  GIRDLE_TRY(throw_at_cells(work, 1));
  drop_covered_cells(work);
  return throw_at_cells(work, work->how == GIRDLE_SOW_QUICKLY ? QUICK_THROWS : THROWS);
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

/* ---- beside each other */

/* Looks around a stone for room right beside it, in steps that nearly go into a sixth of a turn. Only the rows of the
 * tile are known, so what lies beyond them waits. */
static int32_t set_beside(tiling *work, uint64_t record) {
  const girdle_bed *bed = work->bed;
  const double step = bed->spacing_mm + SNAPPED_MM, limit = distance_to(work->sowing, bed, bed);
  uint64_t way = girdle_random_below(&work->random, WAYS);
  for (int i = 0; i < LOOKS; i++, way = (way + STRIDE) % WAYS) {
    const girdle_placed *here = &work->sowing->placement->records[record];
    double x = girdle_place_snapped(here->x_mm + step * work->ways[way][0]);
    double y = girdle_place_snapped(here->y_mm + step * work->ways[way][1]);
    double column = floor((x - work->sowing->field->box.left_mm) * bed->per_mm);
    double row = floor((y - work->sowing->field->box.top_mm) * bed->per_mm) - (double)work->row;
    const uint32_t *held;
    uint8_t state;
    if (column < 0 || row < 0 || column >= (double)bed->columns || row >= (double)tiled(bed->rows)) continue;
    state = work->states[(uint64_t)row * bed->columns + (uint64_t)column];
    held = cell_at(bed, (int64_t)column, (int64_t)row + (int64_t)work->row);
    if (state == CELL_OUT || *held || !is_clear_around(work->sowing, bed, held, AROUND, limit, x, y)) continue;
    if (is_open(work, state == CELL_DEEP, x, y)) GIRDLE_TRY(take_place(work, x, y));
  }
  return GIRDLE_OK;
}

/* From the stones that stand since `record`, and those that come beside them. */
static int32_t spread_from(tiling *work, uint64_t record) {
  for (; record < work->sowing->placement->count; record++) {
    GIRDLE_TRY(set_beside(work, record));
    if (record % TICKED == 0) GIRDLE_TRY(girdle_common_tick(work->sowing->call, TICKED, -1));
  }
  return GIRDLE_OK;
}

static int32_t sow_tile(tiling *work) {
  int is_dense = work->how == GIRDLE_SOW_DENSELY;
  list_cells(work);
  if (!is_dense) GIRDLE_TRY(throw_at_tile(work));
  if (work->how < GIRDLE_SOW_ALL) return GIRDLE_OK;
  shuffle_cells(work);
  for (uint64_t i = 0; i < work->cell_count; i++) {
    uint64_t before = work->sowing->placement->count;
    if (i % TICKED == 0) GIRDLE_TRY(girdle_common_tick(work->sowing->call, TICKED, -1));
    if (*record_in(work, &work->cells[i])) continue;
    GIRDLE_TRY(finish_cell(work, &work->cells[i]));
    if (is_dense) GIRDLE_TRY(spread_from(work, before));
  }
  return GIRDLE_OK;
}

/* When only measuring, a cell counts by its middle; those the stones leave not open are not among them. */
static void measure_tile(tiling *work) {
  cell here = {0, 0};
  work->cell_count = 0;
  do {
    if (!may_hold(work, &here)) continue;
    work->cell_count++;
    if (is_open(work, is_deep(work, &here), middle_x(work, &here), middle_y(work, &here)))
      work->undecided_mm2 += work->bed->cell_mm * work->bed->cell_mm;
  } while (next_cell(work, &here));
}

/* ---- all tiles */

/* Whether anything of a cell near the edge lies deep enough, its middle says. */
static void mark_states(const tiling *work, double middle, uint8_t *states) {
  const girdle_field *field = work->sowing->field;
  const girdle_bed *bed = work->bed;
  double least = bed->radius + work->sowing->margin_mm - half_diagonal(bed->cell_mm) - GIRDLE_TOUCH_MM;
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
      else if (girdle_field_holds(field, x, middle, least))
        states[(uint64_t)column] = CELL_EDGE;
    }
  }
}

/* Which cells of a row of tiles lie outside, deep inside or near an edge, by the middles of their rows. */
static int32_t mark_rows(tiling *work) {
  girdle_field *field = work->sowing->field;
  const girdle_bed *bed = work->bed;
  double near = bed->radius + work->sowing->margin_mm + half_diagonal(bed->cell_mm);
  memset(work->states, CELL_OUT, (size_t)(tiled(bed->rows) * bed->columns));
  for (uint64_t y = 0; y < TILE && work->row + y < bed->rows; y++) {
    double middle = field->box.top_mm + ((double)(work->row + y) + 0.5) * bed->cell_mm;
    GIRDLE_TRY(girdle_field_row(work->sowing->call, field, middle, near + field->sag_mm));
    mark_states(work, middle, work->states + y * bed->columns);
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
      if (work->how)
        GIRDLE_TRY(sow_tile(work));
      else
        measure_tile(work);
      GIRDLE_TRY(girdle_common_tick(work->sowing->call, work->cell_count + 1, -1));
    }
  }
  return GIRDLE_OK;
}

/* For one part, and the stones around a cell. */
static int32_t make_room(tiling *work) {
  const girdle_allocator *memory = &work->sowing->field->memory;
  GIRDLE_TRY(
      girdle_common_grow(work->sowing->call, memory, (void **)&work->parts, &work->part_capacity, 1, sizeof(cell)));
  return girdle_common_grow(work->sowing->call, memory, (void **)&work->near, &work->near_capacity, AROUND,
                            sizeof *work->near);
}

static int32_t list_ways(tiling *work) {
  work->ways = girdle_common_new(work->sowing->call, WAYS * sizeof *work->ways);
  for (int i = 0; work->ways && i < WAYS; i++)
    girdle_place_direction(i * (360.0 / WAYS), &work->ways[i][0], &work->ways[i][1]);
  return work->ways ? GIRDLE_OK : GIRDLE_MEMORY;
}

static int32_t work_tiles(tiling *work) {
  const girdle_allocator memory = work->sowing->field->memory;
  const girdle_bed *bed = work->bed;
  uint64_t bytes = tiled(bed->rows) * bed->columns;
  uint64_t cell_bytes = work->how ? tiled(bed->rows) * tiled(bed->columns) * sizeof(cell) : sizeof(cell);
  int32_t status = GIRDLE_MEMORY;
  work->states = girdle_common_new(work->sowing->call, bytes);
  work->cells = work->states ? girdle_common_new(work->sowing->call, cell_bytes) : NULL;
  if (work->cells) status = make_room(work);
  if (!status && work->how == GIRDLE_SOW_DENSELY) status = list_ways(work);
  if (!status) status = sow_tiles(work);
  girdle_common_release(&memory, work->ways, WAYS * sizeof *work->ways);
  girdle_common_release(&memory, work->states, bytes);
  girdle_common_release(&memory, work->cells, cell_bytes);
  girdle_common_release(&memory, work->parts, work->part_capacity * sizeof(cell));
  girdle_common_release(&memory, work->halves, work->halves_capacity * sizeof(cell));
  girdle_common_release(&memory, work->near, work->near_capacity * sizeof *work->near);
  return status;
}

/* ---- beds */

/* Marks the cells whose middles are within reach of a stone of an earlier bed, row by row. */
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
      *cell_at(bed, column, row) = COVERED;
  }
}

/* Those of which one stone leaves nothing (slack: half a diagonal), or whose middle it leaves not open (slack: 0). */
static void cover_by_earlier(const girdle_sowing *sowing, girdle_bed *bed, double slack) {
  const girdle_bed *earlier = sowing->beds;
  for (uint64_t i = 0; i < bed->first_record; i++) {
    const girdle_placed *record = &sowing->placement->records[i];
    double reach;
    while (earlier + 1 < sowing->beds + sowing->bed_count && i >= earlier[1].first_record)
      earlier++;
    reach = distance_to(sowing, bed, earlier) - slack;
    if (reach > 0) cover_cells(sowing, bed, reach, record->x_mm, record->y_mm);
  }
}

static int32_t add_bed(girdle_sowing *sowing, double radius, double spacing_mm, int measures) {
  const girdle_box *box = &sowing->field->box;
  double side = spacing_mm * 0.70710678;
  girdle_bed bed = {radius, spacing_mm, side, 1 / side, 0, 0, sowing->placement->count, NULL, {0}};
  double columns = floor((box->right_mm - box->left_mm) / bed.cell_mm) + 1;
  double rows = floor((box->bottom_mm - box->top_mm) / bed.cell_mm) + 1;
  if (columns * rows > CELLS_MOST) return girdle_place_reserve(sowing->call, sowing->placement, UINT64_MAX);
  GIRDLE_TRY(girdle_common_grow(sowing->call, &sowing->field->memory, (void **)&sowing->beds, &sowing->bed_capacity,
                                sowing->bed_count + 1, sizeof bed));
  bed.columns = (uint64_t)columns;
  bed.rows = (uint64_t)rows;
  for (int i = 0; i < AROUND; i++)
    bed.around[i] = around[i][1] * stride_of(&bed) + around[i][0];
  bed.cells = girdle_common_new(sowing->call, cells_with_rim(&bed) * sizeof *bed.cells);
  if (!bed.cells) return GIRDLE_MEMORY;
  cover_by_earlier(sowing, &bed, measures ? 0 : half_diagonal(bed.cell_mm));
  sowing->beds[sowing->bed_count++] = bed;
  return GIRDLE_OK;
}

static void forget_cells(const girdle_sowing *sowing, girdle_bed *bed) {
  girdle_common_release(&sowing->field->memory, bed->cells, cells_with_rim(bed) * sizeof *bed->cells);
  bed->cells = NULL;
}

int32_t girdle_sow(girdle_sowing *sowing, double radius, double spacing_mm, int how) {
  tiling work;
  memset(&work, 0, sizeof work);
  GIRDLE_TRY(add_bed(sowing, radius, fmax(spacing_mm, 2 * radius + sowing->gap_mm), 0));
  work.sowing = sowing;
  work.bed = &sowing->beds[sowing->bed_count - 1];
  work.how = how;
  GIRDLE_TRY(work_tiles(&work));
  sowing->undecided_mm2 = work.undecided_mm2;
  return GIRDLE_OK;
}

/* On a grid twice as fine as the stone's own, or as fine as that where so many cells are enough. */
int32_t girdle_sow_open(girdle_sowing *sowing, double radius, double *area_mm2) {
  tiling work;
  int32_t status;
  memset(&work, 0, sizeof work);
  for (uint64_t i = 0; i < sowing->bed_count; i++)
    forget_cells(sowing, &sowing->beds[i]);
  GIRDLE_TRY(add_bed(sowing, radius, (radius + sowing->gap_mm / 2) * (sowing->placement->count > MANY ? 2 : 1), 1));
  work.sowing = sowing;
  work.bed = &sowing->beds[sowing->bed_count - 1];
  status = work_tiles(&work);
  *area_mm2 = work.undecided_mm2;
  forget_cells(sowing, &sowing->beds[--sowing->bed_count]);
  return status;
}

void girdle_sow_undo(girdle_sowing *sowing) {
  girdle_bed *bed = &sowing->beds[--sowing->bed_count];
  sowing->placement->count = bed->first_record;
  forget_cells(sowing, bed);
}

void girdle_sow_free(girdle_sowing *sowing) {
  for (uint64_t i = 0; i < sowing->bed_count; i++)
    forget_cells(sowing, &sowing->beds[i]);
  girdle_common_release(&sowing->field->memory, sowing->beds, sowing->bed_capacity * sizeof *sowing->beds);
}

static uint64_t end_of(const girdle_sowing *sowing, uint64_t bed) {
  return bed + 1 < sowing->bed_count ? sowing->beds[bed + 1].first_record : sowing->placement->count;
}

static void refill(girdle_sowing *sowing, uint64_t bed) {
  girdle_bed *filled = &sowing->beds[bed];
  memset(filled->cells, 0, (size_t)cells_with_rim(filled) * sizeof *filled->cells);
  for (uint64_t i = filled->first_record; i < end_of(sowing, bed); i++) {
    const girdle_placed *record = &sowing->placement->records[i];
    *cell_at(filled, column_of(sowing, filled, record->x_mm), row_of(sowing, filled, record->y_mm)) = (uint32_t)i + 1;
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
