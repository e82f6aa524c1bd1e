/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* A lattice laid over a region. Each edge keeps a capsule free of centres; its meeting with a row is one stretch, known
 * in closed form, and what the stretches leave of a row holds a number of stones that depends on nothing but where the
 * lattice begins. So for a turn and a row phase the best shift along the rows is found exactly, by sweeping over the
 * shifts at which a stone enters or leaves.
 *
 * Every turn and phase is first tried on a coarse copy of the region, whose chords lie within COARSE_MM of its curves,
 * with a reach smaller by as much. That finds at least as many as there truly are, so only what might still win is
 * tried on the fine copy. */

enum { TURNS = 12, PHASES = 16 };

#define COARSE_MM 0.01

static double row_shift(const girdle_lattice *work, uint64_t row) {
  return row % 2 ? work->odd_shift : 0;
}

/* ---- one turn and one row phase */

static int32_t keep_stays(girdle_lattice *work, const girdle_field *field, uint64_t row) {
  GIRDLE_TRY(girdle_common_grow(work->call, &work->memory, (void **)&work->stays, &work->stay_capacity,
                                work->stay_count + field->span_count, sizeof(girdle_span)));
  for (uint64_t i = 0; i < field->span_count; i++) {
    if (!field->spans[i].change) continue;
    work->stays[work->stay_count] = field->spans[i];
    work->stays[work->stay_count++].layer = (uint32_t)row;
  }
  return GIRDLE_OK;
}

/* The stretches of every row that are open to centres. */
static int32_t find_stays(girdle_lattice *work, girdle_field *field, double first_row, double reach) {
  double room = field->box.bottom_mm - reach - first_row;
  uint64_t rows = room < 0 ? 0 : (uint64_t)(room / work->row_pitch) + 1;
  work->stay_count = 0;
  for (uint64_t row = 0; row < rows; row++) {
    GIRDLE_TRY(girdle_field_row(work->call, field, first_row + (double)row * work->row_pitch, reach));
    GIRDLE_TRY(keep_stays(work, field, row));
    GIRDLE_TRY(girdle_common_tick(work->call, 1 + field->span_count, -1));
  }
  return GIRDLE_OK;
}

static double remainder_of(double value, double pitch) {
  double rest = value - pitch * floor(value / pitch);
  return rest < pitch ? rest : 0;
}

static int64_t first_in(const girdle_lattice *work, const girdle_span *stay, double shift) {
  return (int64_t)ceil((stay->from - row_shift(work, stay->layer) - shift) / work->pitch);
}

static int64_t last_in(const girdle_lattice *work, const girdle_span *stay, double shift) {
  return (int64_t)floor((stay->to - row_shift(work, stay->layer) - shift) / work->pitch);
}

static int64_t count_at(const girdle_lattice *work, double shift) {
  int64_t count = 0;
  for (uint64_t i = 0; i < work->stay_count; i++) {
    int64_t here = last_in(work, &work->stays[i], shift) - first_in(work, &work->stays[i], shift) + 1;
    if (here > 0) count += here;
  }
  return count;
}

static int32_t mark_shifts(girdle_lattice *work) {
  GIRDLE_TRY(girdle_common_grow(work->call, &work->memory, (void **)&work->marks, &work->mark_capacity,
                                2 * work->stay_count + 1, sizeof(girdle_span)));
  for (uint64_t i = 0; i < work->stay_count; i++) {
    const girdle_span *stay = &work->stays[i];
    double offset = row_shift(work, stay->layer);
    girdle_span enters = {remainder_of(stay->from - offset, work->pitch), 0, 0, 1};
    girdle_span leaves = {remainder_of(stay->to - offset, work->pitch), 0, 0, -1};
    work->marks[2 * i] = enters;
    work->marks[2 * i + 1] = leaves;
  }
  girdle_place_sort(work->marks, 2 * work->stay_count);
  return GIRDLE_OK;
}

/* The shift that holds most stones: the middle of the longest stretch of shifts that do. The number rises at each place
 * where a stone enters and falls just after each where one leaves; between two marks it is constant. */
static int32_t best_shift(girdle_lattice *work, double *shift, int64_t *count) {
  double longest = -1;
  uint64_t marks = 2 * work->stay_count;
  int64_t now = 0, most = 0;
  *shift = 0;
  GIRDLE_TRY(mark_shifts(work));
  for (int pass = 0; pass < 2; pass++)
    for (uint64_t i = 0; i < marks; i++) {
      double next = i + 1 < marks ? work->marks[i + 1].from : work->marks[0].from + work->pitch;
      now += work->marks[i].change;
      if (now > most) most = now, longest = -1;
      if (now < most || pass == 0 || next - work->marks[i].from <= longest) continue;
      longest = next - work->marks[i].from;
      *shift = work->marks[i].from + longest / 2;
    }
  *count = marks ? count_at(work, *shift) : 0;
  return GIRDLE_OK;
}

/* ---- every turn and row phase */

/* Brings a turned copy up to date. */
static int32_t turn_field(girdle_lattice *work, const girdle_field *field, girdle_turned *turned, double turn_deg) {
  double cosine, sine;
  if (turned->field.count && turned->turn_deg == turn_deg) return GIRDLE_OK;
  girdle_field_free(&turned->field);
  girdle_place_direction(turn_deg, &cosine, &sine);
  GIRDLE_TRY(girdle_field_turned(work->call, field, cosine, -sine, &turned->field));
  turned->turn_deg = turn_deg;
  return girdle_field_index(work->call, &turned->field, work->row_pitch);
}

/* How far the region reaches up and down when it is turned. */
static void extent(const girdle_field *field, double turn_deg, double *top, double *bottom) {
  double cosine, sine;
  girdle_place_direction(turn_deg, &cosine, &sine);
  *top = INFINITY;
  *bottom = -INFINITY;
  for (uint64_t i = 0; i < field->count; i++) {
    double y = cosine * field->edges[i].y0 - sine * field->edges[i].x0;
    if (y < *top) *top = y;
    if (y > *bottom) *bottom = y;
  }
}

/* Phase 0 lays a row through the middle of the box, 1 touching its top, 2 its bottom; the others lie evenly between.
 * The first row is the first that may hold a stone. */
static double phase_row(const girdle_lattice *work, double top, double bottom, int phase) {
  double first = top + work->reach, row_pitch = work->row_pitch;
  if (phase == 0) return first + remainder_of((top + bottom) / 2 - first, row_pitch);
  if (phase == 2) return first + remainder_of(bottom - work->reach - first, row_pitch);
  return first + (phase == 1 ? 0 : (phase - 2) * row_pitch / (PHASES - 2));
}

/* A honeycomb looks alike after 60 degrees, a square lattice after 90. */
static double turn_at(const girdle_lattice *work, int turn) {
  return isnan(work->turn_deg) ? turn * (work->odd_shift > 0 ? 60.0 : 90.0) / TURNS : work->turn_deg;
}

static int32_t try_coarse(girdle_lattice *work, girdle_span *tries, int turns) {
  for (int turn = 0; turn < turns; turn++) {
    double top, bottom;
    extent(work->fine, turn_at(work, turn), &top, &bottom);
    GIRDLE_TRY(turn_field(work, work->coarse, &work->turned_coarse, turn_at(work, turn)));
    for (int phase = 0; phase < PHASES; phase++) {
      girdle_span *tried = &tries[turn * PHASES + phase];
      double first_row = phase_row(work, top, bottom, phase), shift;
      int64_t count;
      GIRDLE_TRY(find_stays(work, &work->turned_coarse.field, first_row, fmax(work->reach - 2 * COARSE_MM, COARSE_MM)));
      GIRDLE_TRY(best_shift(work, &shift, &count));
      tried->from = -(double)count;
      tried->to = first_row;
      tried->layer = (uint32_t)turn;
      tried->change = -(turn * PHASES + phase);
    }
  }
  return GIRDLE_OK;
}

/* Most promising first, until no other can hold more, or one holds enough. */
static int32_t try_fine(girdle_lattice *work, const girdle_span *tries, int count, int64_t enough,
                        girdle_laying *best) {
  for (int i = 0; i < count && best->count < enough && -tries[i].from > (double)best->count; i++) {
    girdle_laying tried = {turn_at(work, (int)tries[i].layer), tries[i].to, 0, 0};
    GIRDLE_TRY(turn_field(work, work->fine, &work->turned_fine, tried.turn_deg));
    GIRDLE_TRY(find_stays(work, &work->turned_fine.field, tried.first_row, work->reach - GIRDLE_TOUCH_MM));
    GIRDLE_TRY(best_shift(work, &tried.shift, &tried.count));
    if (tried.count > best->count) *best = tried;
  }
  return GIRDLE_OK;
}

int32_t girdle_lattice_find(girdle_lattice *work, int64_t enough, girdle_laying *best) {
  girdle_span tries[TURNS * PHASES];
  int turns = isnan(work->turn_deg) ? TURNS : 1;
  memset(best, 0, sizeof *best);
  GIRDLE_TRY(try_coarse(work, tries, turns));
  girdle_place_sort(tries, (uint64_t)(turns * PHASES));
  if (-tries[0].from < (double)enough && enough != INT64_MAX) return GIRDLE_OK;
  return try_fine(work, tries, turns * PHASES, enough, best);
}

/* ---- laying the stones */

/* A laying's direction, and what all its stones share. */
typedef struct pattern {
  double cosine, sine;
  float turn_deg;
  const uint16_t *index;
  uint64_t kinds;
} pattern;

/* Writes a whole stretch at once. */
static int32_t put_stay(const girdle_lattice *work, const girdle_span *stay, const girdle_laying *laid,
                        const pattern *as, girdle_placement *placement) {
  int64_t first = first_in(work, stay, laid->shift), count = last_in(work, stay, laid->shift) - first + 1;
  uint64_t kind = (uint64_t)(((first % (int64_t)as->kinds) + (int64_t)as->kinds) % (int64_t)as->kinds);
  double y = laid->first_row + stay->layer * work->row_pitch, level = girdle_place_snapped(y);
  double start = row_shift(work, stay->layer) + laid->shift;
  girdle_placed *record;
  if (count <= 0) return GIRDLE_OK;
  if (stay->layer > UINT16_MAX)
    return girdle_common_fail(work->call, GIRDLE_LIMIT, "rows", "more than 65536 rows in one placement");
  GIRDLE_TRY(girdle_place_reserve(work->call, placement, placement->count + (uint64_t)count));
  record = placement->records + placement->count;
  placement->count += (uint64_t)count;
  for (int64_t i = first; i < first + count; i++, record++) {
    double x = start + (double)i * work->pitch;
    record->x_mm = girdle_place_snapped(as->cosine * x - as->sine * y);
    record->y_mm = as->sine == 0 ? level : girdle_place_snapped(as->sine * x + as->cosine * y);
    record->turn_deg = as->turn_deg;
    record->stone = as->index[kind];
    record->row = (uint16_t)stay->layer;
    if (++kind == as->kinds) kind = 0;
  }
  return GIRDLE_OK;
}

int32_t girdle_lattice_lay(girdle_lattice *work, const girdle_laying *laid, const uint16_t *index, uint64_t kinds,
                           girdle_placement *placement) {
  pattern as = {1, 0, girdle_place_snapped_turn(work->turns_stones ? laid->turn_deg : 0), index, kinds};
  girdle_place_direction(laid->turn_deg, &as.cosine, &as.sine);
  GIRDLE_TRY(turn_field(work, work->fine, &work->turned_fine, laid->turn_deg));
  GIRDLE_TRY(find_stays(work, &work->turned_fine.field, laid->first_row, work->reach - GIRDLE_TOUCH_MM));
  GIRDLE_TRY(girdle_place_reserve(work->call, placement, (uint64_t)laid->count));
  for (uint64_t i = 0; i < work->stay_count; i++)
    GIRDLE_TRY(put_stay(work, &work->stays[i], laid, &as, placement));
  return GIRDLE_OK;
}

/* ---- making */

void girdle_lattice_set(girdle_lattice *work, double radius, double gap_mm, double margin_mm, int32_t setting) {
  work->pitch = work->row_pitch = 2 * radius + gap_mm;
  work->odd_shift = 0;
  work->reach = radius + margin_mm;
  if (setting != GIRDLE_HONEYCOMB) return;
  work->row_pitch *= sqrt(0.75);
  work->odd_shift = work->pitch / 2;
}

void girdle_lattice_begin(girdle_lattice *work, girdle_call *call, const girdle_field *fine, const girdle_field *coarse,
                          double turn_deg) {
  memset(work, 0, sizeof *work);
  work->call = call;
  work->memory = girdle_common_memory(call);
  work->fine = fine;
  work->coarse = coarse;
  work->turn_deg = turn_deg;
}

double girdle_lattice_coarse_mm(void) {
  return COARSE_MM;
}

void girdle_lattice_free(girdle_lattice *work) {
  girdle_common_release(&work->memory, work->stays, work->stay_capacity * sizeof *work->stays);
  girdle_common_release(&work->memory, work->marks, work->mark_capacity * sizeof *work->marks);
  girdle_field_free(&work->turned_fine.field);
  girdle_field_free(&work->turned_coarse.field);
}
