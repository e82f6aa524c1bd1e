/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* A lattice laid over a region. Each edge keeps a capsule free of centres; its meeting with a row is one stretch, known
 * in closed form, and what the stretches leave of a row holds a number of stones that depends on nothing but where the
 * lattice begins. So for a turn and a row phase the best shift along the rows is found exactly, by sweeping over the
 * shifts at which a stone enters or leaves. */

enum { TURNS = 12, PHASES = 16 };

typedef struct lattice {
  double pitch, row_pitch, odd_shift; /* centre to centre along a row, row to row, shift of every other row */
  double reach;                       /* of a stone from its centre to the edge of the region, the margin included */
} lattice;

typedef struct laying {
  double turn_deg, first_row, shift;
  int64_t count;
} laying;

typedef struct cover {
  girdle_call *call;
  girdle_cover_options options;
  const girdle_region *within;
  girdle_field field, turned; /* as it lies, and turned so that the rows lie level */
  double turned_deg;
  girdle_span *stays, *marks; /* stretches open to centres (layer: the row), shifts at which the number changes */
  uint64_t stay_count, stay_capacity, mark_capacity;
  lattice grid;
} cover;

static lattice lattice_of(const girdle_cover_options *options, double gap_mm) {
  double radius = girdle_place_radius(&options->stones[0]);
  lattice grid = {2 * radius + gap_mm, 2 * radius + gap_mm, 0, radius + options->margin_mm};
  if (options->setting == GIRDLE_HONEYCOMB) {
    grid.row_pitch *= sqrt(0.75);
    grid.odd_shift = grid.pitch / 2;
  }
  return grid;
}

/* ---- one turn and one row phase */

static double row_shift(const lattice *grid, uint64_t row) {
  return row % 2 ? grid->odd_shift : 0;
}

static uint64_t rows_from(const cover *work, double first_row) {
  double room = work->turned.box.bottom_mm - work->grid.reach + GIRDLE_TOUCH_MM - first_row;
  return room < 0 ? 0 : (uint64_t)(room / work->grid.row_pitch) + 1;
}

static int32_t keep_stays(cover *work, uint64_t row) {
  const girdle_field *field = &work->turned;
  GIRDLE_TRY(girdle_common_grow(work->call, &work->field.memory, (void **)&work->stays, &work->stay_capacity,
                                work->stay_count + field->span_count, sizeof(girdle_span)));
  for (uint64_t i = 0; i < field->span_count; i++) {
    if (!field->spans[i].change) continue;
    work->stays[work->stay_count] = field->spans[i];
    work->stays[work->stay_count++].layer = (uint32_t)row;
  }
  return GIRDLE_OK;
}

static int32_t find_stays(cover *work, double first_row) {
  uint64_t rows = rows_from(work, first_row);
  work->stay_count = 0;
  for (uint64_t row = 0; row < rows; row++) {
    double y = first_row + (double)row * work->grid.row_pitch;
    GIRDLE_TRY(girdle_field_row(work->call, &work->turned, y, work->grid.reach - GIRDLE_TOUCH_MM));
    GIRDLE_TRY(keep_stays(work, row));
    GIRDLE_TRY(girdle_common_tick(work->call, 1 + work->turned.span_count, -1));
  }
  return GIRDLE_OK;
}

static double remainder_of(double value, double pitch) {
  double rest = value - pitch * floor(value / pitch);
  return rest < pitch ? rest : 0;
}

/* How many stones a stretch from `from` to `to` holds when the lattice is shifted by `shift`: from its first, its last. */
static int64_t first_in(const lattice *grid, const girdle_span *stay, double shift) {
  return (int64_t)ceil((stay->from - row_shift(grid, stay->layer) - shift) / grid->pitch);
}

static int64_t last_in(const lattice *grid, const girdle_span *stay, double shift) {
  return (int64_t)floor((stay->to - row_shift(grid, stay->layer) - shift) / grid->pitch);
}

static int64_t count_at(const cover *work, double shift) {
  int64_t count = 0;
  for (uint64_t i = 0; i < work->stay_count; i++) {
    int64_t here = last_in(&work->grid, &work->stays[i], shift) - first_in(&work->grid, &work->stays[i], shift) + 1;
    if (here > 0) count += here;
  }
  return count;
}

static int32_t mark_shifts(cover *work) {
  GIRDLE_TRY(girdle_common_grow(work->call, &work->field.memory, (void **)&work->marks, &work->mark_capacity,
                                2 * work->stay_count + 1, sizeof(girdle_span)));
  for (uint64_t i = 0; i < work->stay_count; i++) {
    const girdle_span *stay = &work->stays[i];
    double offset = row_shift(&work->grid, stay->layer);
    girdle_span enters = {remainder_of(stay->from - offset, work->grid.pitch), 0, 0, 1};
    girdle_span leaves = {remainder_of(stay->to - offset, work->grid.pitch), 0, 0, -1};
    work->marks[2 * i] = enters;
    work->marks[2 * i + 1] = leaves;
  }
  girdle_place_sort(work->marks, 2 * work->stay_count);
  return GIRDLE_OK;
}

/* The shift that holds most stones: the middle of the longest stretch of shifts that do. The number rises at each place
 * where a stone enters and falls just after each where one leaves; between two marks it is constant. */
static int32_t best_shift(cover *work, double *shift, int64_t *count) {
  double pitch = work->grid.pitch, longest = -1;
  uint64_t marks = 2 * work->stay_count;
  int64_t now = 0, most = 0;
  *shift = 0;
  GIRDLE_TRY(mark_shifts(work));
  for (int pass = 0; pass < 2; pass++)
    for (uint64_t i = 0; i < marks; i++) {
      double next = i + 1 < marks ? work->marks[i + 1].from : work->marks[0].from + pitch;
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

static int32_t turn_field(cover *work, double turn_deg) {
  double cosine, sine;
  if (work->turned.count && work->turned_deg == turn_deg) return GIRDLE_OK;
  girdle_field_free(&work->turned);
  girdle_place_direction(turn_deg, &cosine, &sine);
  GIRDLE_TRY(girdle_field_turned(work->call, &work->field, cosine, -sine, &work->turned));
  work->turned_deg = turn_deg;
  return girdle_field_index(work->call, &work->turned, work->grid.row_pitch);
}

/* Phase 0 lays a row through the middle of the box, 1 touching its top, 2 its bottom; the others lie evenly between. The
 * first row is the first that may hold a stone. */
static double phase_row(const cover *work, int phase) {
  const girdle_box *box = &work->turned.box;
  double top = box->top_mm + work->grid.reach, row_pitch = work->grid.row_pitch;
  if (phase == 0) return top + remainder_of((box->top_mm + box->bottom_mm) / 2 - top, row_pitch);
  if (phase == 2) return top + remainder_of(box->bottom_mm - work->grid.reach - top, row_pitch);
  return top + (phase == 1 ? 0 : (phase - 2) * row_pitch / (PHASES - 2));
}

static int32_t try_turn(cover *work, double turn_deg, laying *best) {
  GIRDLE_TRY(turn_field(work, turn_deg));
  for (int phase = 0; phase < PHASES; phase++) {
    laying tried = {turn_deg, phase_row(work, phase), 0, 0};
    GIRDLE_TRY(find_stays(work, tried.first_row));
    GIRDLE_TRY(best_shift(work, &tried.shift, &tried.count));
    if (tried.count > best->count) *best = tried;
  }
  return GIRDLE_OK;
}

/* A honeycomb looks alike after 60 degrees, a square lattice after 90. */
static int32_t find_best(cover *work, laying *best) {
  double period = work->options.setting == GIRDLE_HONEYCOMB ? 60 : 90;
  memset(best, 0, sizeof *best);
  if (!isnan(work->options.turn_deg)) return try_turn(work, work->options.turn_deg, best);
  for (int turn = 0; turn < TURNS; turn++) GIRDLE_TRY(try_turn(work, turn * period / TURNS, best));
  return GIRDLE_OK;
}

/* ---- laying the stones */

static int32_t put_stay(cover *work, const girdle_span *stay, const laying *laid, const uint16_t *index,
                        girdle_placement *placement) {
  const lattice *grid = &work->grid;
  int64_t kinds = (int64_t)work->options.stone_count;
  double cosine, sine, y = laid->first_row + stay->layer * grid->row_pitch;
  girdle_place_direction(laid->turn_deg, &cosine, &sine);
  for (int64_t i = first_in(grid, stay, laid->shift); i <= last_in(grid, stay, laid->shift); i++) {
    double x = row_shift(grid, stay->layer) + laid->shift + (double)i * grid->pitch;
    GIRDLE_TRY(girdle_place_put(work->call, placement, cosine * x - sine * y, sine * x + cosine * y, laid->turn_deg,
                                index[((i % kinds) + kinds) % kinds], stay->layer));
  }
  return GIRDLE_OK;
}

static int32_t put_stays(cover *work, const laying *laid, girdle_placement *placement) {
  uint64_t bytes = work->options.stone_count * sizeof(uint16_t);
  uint16_t *index = girdle_common_new(work->call, bytes);
  int32_t status = GIRDLE_MEMORY;
  if (index)
    status = girdle_place_palette(work->call, placement, work->options.stones, work->options.stone_count, index);
  for (uint64_t i = 0; i < work->stay_count && !status; i++)
    status = put_stay(work, &work->stays[i], laid, index, placement);
  girdle_common_release(&work->field.memory, index, bytes);
  return status;
}

static int32_t lay(cover *work, const laying *laid, girdle_placement **out) {
  girdle_placement *placement = NULL;
  int32_t status;
  GIRDLE_TRY(turn_field(work, laid->turn_deg));
  GIRDLE_TRY(find_stays(work, laid->first_row));
  GIRDLE_TRY(girdle_place_new(work->call, (uint64_t)laid->count, &placement));
  status = put_stays(work, laid, placement);
  return girdle_place_finish(placement, status, out);
}

/* ---- exactly so many: the widest gap that holds them */

static int32_t does_not_fit(girdle_call *call, int64_t count, int64_t most, double gap_mm) {
  char gap[32];
  girdle_number_text(gap_mm, 4, gap, sizeof gap);
  return girdle_common_fail(call, GIRDLE_GEOMETRY, "count",
                            "%lld stones do not fit with a gap of %s mm; the most found is %lld", (long long)count, gap,
                            (long long)most);
}

static int32_t widen_gap(cover *work, laying *best) {
  double narrow = work->options.gap_mm, wide;
  wide = narrow + girdle_region_perimeter_mm(work->within);
  for (int step = 0; step < 24; step++) {
    double middle = narrow + (wide - narrow) / (step < 8 ? 8 : 2);
    laying tried;
    work->grid = lattice_of(&work->options, middle);
    GIRDLE_TRY(find_best(work, &tried));
    if (tried.count >= work->options.count)
      narrow = middle, *best = tried;
    else
      wide = middle;
  }
  work->grid = lattice_of(&work->options, narrow);
  return GIRDLE_OK;
}

static void note(cover *work, girdle_placement *placement) {
  girdle_notes *notes = &placement->notes;
  double area = girdle_region_area_mm2(work->within), perimeter = girdle_region_perimeter_mm(work->within);
  int64_t surplus = work->options.count ? (int64_t)placement->count - work->options.count : 0;
  notes->gap_mm = work->grid.pitch - 2 * girdle_place_radius(&work->options.stones[0]);
  notes->bound_most =
      girdle_bound_most(area, perimeter, work->grid.pitch, work->grid.reach, girdle_field_is_convex(&work->field));
  notes->bound_least = girdle_bound_least(area, perimeter, (int64_t)girdle_region_holes(work->within),
                                          work->grid.pitch, work->grid.reach, work->options.setting);
  if (surplus <= 0) return;
  placement->count -= (uint64_t)surplus;
  notes->left_out = surplus;
  notes->flags |= GIRDLE_NOTE_LEFT_OUT | GIRDLE_NOTE_SURPLUS;
}

static int32_t check_room(cover *work) {
  double cell = work->grid.pitch * work->grid.row_pitch;
  if (girdle_region_area_mm2(work->within) / cell > GIRDLE_STONES_MOST)
    return girdle_place_reserve(work->call, NULL, UINT64_MAX);
  return GIRDLE_OK;
}

static int32_t find_and_lay(cover *work, girdle_placement **out) {
  laying best;
  work->grid = lattice_of(&work->options, work->options.gap_mm);
  GIRDLE_TRY(check_room(work));
  GIRDLE_TRY(find_best(work, &best));
  if (!best.count) return girdle_place_too_large(work->call, work->grid.reach);
  if (work->options.count) {
    if (best.count < work->options.count)
      return does_not_fit(work->call, work->options.count, best.count, work->options.gap_mm);
    GIRDLE_TRY(widen_gap(work, &best));
  }
  GIRDLE_TRY(lay(work, &best, out));
  note(work, *out);
  return GIRDLE_OK;
}

/* ---- asking */

void girdle_cover_options_init(girdle_cover_options *options, uint32_t struct_bytes) {
  girdle_cover_options plain = {sizeof plain};
  plain.turn_deg = NAN;
  memset(options, 0, struct_bytes);
  memcpy(options, &plain, struct_bytes < sizeof plain ? struct_bytes : sizeof plain);
  options->struct_bytes = struct_bytes;
}

static int32_t check(girdle_call *call, const girdle_cover_options *options) {
  GIRDLE_TRY(girdle_place_check(call, options->stones, options->stone_count, options->gap_mm, options->count));
  GIRDLE_TRY(girdle_common_range(call, "margin", options->margin_mm, 0, GIRDLE_GAP_MOST_MM, "mm"));
  if (!isnan(options->turn_deg)) GIRDLE_TRY(girdle_common_range(call, "turn", options->turn_deg, -360, 360, "degrees"));
  if (options->setting < GIRDLE_HONEYCOMB || options->setting > GIRDLE_EDGE_ROWS)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "setting", "setting %d is not known", (int)options->setting);
  for (uint64_t i = 1; i < options->stone_count; i++)
    if (girdle_place_radius(&options->stones[i]) != girdle_place_radius(&options->stones[0]))
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "stones",
                                "a cover takes stones of one size across: %s and %s differ; scatter takes mixed sizes",
                                options->stones[0].size, options->stones[i].size);
  return GIRDLE_OK;
}

static void clean(cover *work) {
  const girdle_allocator memory = girdle_common_memory(work->call);
  girdle_common_release(&memory, work->stays, work->stay_capacity * sizeof *work->stays);
  girdle_common_release(&memory, work->marks, work->mark_capacity * sizeof *work->marks);
  if (work->turned.count) girdle_field_free(&work->turned);
  girdle_field_free(&work->field);
}

int32_t girdle_cover(girdle_call *call, const girdle_region *within, const girdle_cover_options *options,
                     girdle_placement **out) {
  cover work;
  girdle_placement *placement = NULL;
  int32_t status;
  memset(&work, 0, sizeof work);
  work.call = call;
  work.within = within;
  girdle_cover_options_init(&work.options, sizeof work.options);
  girdle_common_options(&work.options, sizeof work.options, options);
  GIRDLE_TRY(check(call, &work.options));
  GIRDLE_TRY(girdle_field_new(call, within, &work.field));
  status = find_and_lay(&work, &placement);
  if (!status && work.options.clear_of)
    status = girdle_place_clear(call, placement, work.options.clear_of, work.options.gap_mm);
  clean(&work);
  return girdle_place_finish(placement, status, out);
}
