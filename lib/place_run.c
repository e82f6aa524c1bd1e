/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* A run: each subpath is cut into legs at its corners and at the stretches to be left, the legs' numbers are chosen
 * together, and the stones are set one after another, leaving out any that would stand on an earlier one. */

/* ---- legs */

static int32_t add_leg(girdle_call *call, girdle_legs *legs, double from, double to, int32_t start, int32_t end,
                       int joined) {
  girdle_leg leg;
  if (to - from < 1e-6) return GIRDLE_OK;
  memset(&leg, 0, sizeof leg);
  leg.first = girdle_track_vertex(&legs->track, from);
  leg.last = girdle_track_vertex(&legs->track, to);
  leg.start = start;
  leg.end = end;
  leg.joined = joined;
  GIRDLE_TRY(girdle_common_grow(call, &legs->track.memory, (void **)&legs->items, &legs->capacity, legs->count + 1,
                                sizeof leg));
  legs->items[legs->count++] = leg;
  return GIRDLE_OK;
}

void girdle_legs_free(girdle_legs *legs) {
  girdle_common_release(&legs->track.memory, legs->items, legs->capacity * sizeof *legs->items);
  girdle_track_free(&legs->track);
}

/* What interrupts a subpath, in order: a corner (from == to), or a stretch to be left. */
typedef struct stops {
  girdle_span *items;
  uint64_t count, capacity;
  double *marks; /* every end of every stop */
  uint64_t mark_count;
} stops;

static int32_t add_stop(girdle_call *call, stops *list, double from, double to) {
  girdle_allocator memory = girdle_common_memory(call);
  girdle_span stop = {from, to, 0, 0};
  GIRDLE_TRY(girdle_common_grow(call, &memory, (void **)&list->items, &list->capacity, list->count + 1, sizeof stop));
  list->items[list->count++] = stop;
  return GIRDLE_OK;
}

static int32_t add_leaves(girdle_call *call, const girdle_subpath *part, const girdle_run_options *options,
                          stops *list) {
  double end = part->start_mm + part->length_mm;
  for (uint64_t i = 0; i < options->leave_count; i++) {
    double from = fmax(options->leave[i].from_mm, part->start_mm), to = fmin(options->leave[i].to_mm, end);
    if (options->leave[i].from_mm > options->leave[i].to_mm) { /* across the start of a ring */
      if (to > part->start_mm) GIRDLE_TRY(add_stop(call, list, part->start_mm, to));
      to = end;
    }
    if (from < to) GIRDLE_TRY(add_stop(call, list, from, to));
  }
  return GIRDLE_OK;
}

static int32_t add_corners(girdle_call *call, const girdle_path *path, const girdle_subpath *part, double corner_deg,
                           stops *list) {
  girdle_allocator memory = girdle_common_memory(call);
  uint64_t count, again;
  double *along;
  int32_t status = GIRDLE_OK;
  girdle_path_corners(path, part, corner_deg, NULL, 0, &count);
  if (!count) return GIRDLE_OK;
  along = girdle_common_new(call, count * sizeof *along);
  if (!along) return GIRDLE_MEMORY;
  girdle_path_corners(path, part, corner_deg, along, count, &again);
  for (uint64_t i = 0; i < count && !status; i++)
    status = add_stop(call, list, along[i], along[i]);
  girdle_common_release(&memory, along, count * sizeof *along);
  return status;
}

/* In order, what overlaps as one: a corner within a stretch to be left is none. */
static void merge_stops(stops *list) {
  uint64_t count = 0;
  girdle_place_sort(list->items, list->count);
  for (uint64_t i = 0; i < list->count; i++) {
    girdle_span *last = count ? &list->items[count - 1] : NULL;
    if (last && list->items[i].from <= last->to + 1e-9)
      last->to = fmax(last->to, list->items[i].to);
    else
      list->items[count++] = list->items[i];
  }
  list->count = count;
}

static int32_t find_stops(girdle_call *call, const girdle_path *path, const girdle_subpath *part,
                          const girdle_run_options *options, stops *list) {
  GIRDLE_TRY(add_leaves(call, part, options, list));
  GIRDLE_TRY(add_corners(call, path, part, options->corner_deg, list));
  merge_stops(list);
  list->marks = girdle_common_new(call, (2 * list->count + 1) * sizeof *list->marks);
  if (!list->marks) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < list->count; i++) {
    list->marks[list->mark_count++] = list->items[i].from;
    if (list->items[i].to > list->items[i].from) list->marks[list->mark_count++] = list->items[i].to;
  }
  return GIRDLE_OK;
}

static void free_stops(girdle_call *call, stops *list) {
  girdle_allocator memory = girdle_common_memory(call);
  if (list->marks) girdle_common_release(&memory, list->marks, (2 * list->count + 1) * sizeof *list->marks);
  girdle_common_release(&memory, list->items, list->capacity * sizeof *list->items);
}

typedef struct ends {
  int32_t open, corner; /* GIRDLE_END_* at the ends of the path and at its corners */
} ends;

/* Legs from `from`, over the stops from number `first` on (once round when closed), to `to`. */
static int32_t cut_legs(girdle_call *call, girdle_legs *legs, const stops *list, uint64_t first, double from, double to,
                        int32_t start, int32_t end, int32_t corner, double round_mm) {
  int joined = 0;
  for (uint64_t i = 0; i < list->count; i++) {
    girdle_span stop = list->items[(first + i) % list->count];
    int is_corner = stop.from == stop.to;
    if (first + i >= list->count) stop.from += round_mm, stop.to += round_mm;
    if (stop.from >= to - 1e-9) break;
    GIRDLE_TRY(add_leg(call, legs, from, stop.from, start, is_corner ? corner : GIRDLE_END_INSIDE, joined));
    from = stop.to;
    start = is_corner ? corner : GIRDLE_END_INSIDE;
    joined = is_corner && corner == GIRDLE_END_CENTRE;
  }
  return add_leg(call, legs, from, to, start, end, joined);
}

/* A closed subpath begins behind its first stretch to be left, else at its first corner, else at its start. */
static int32_t cut_closed(girdle_call *call, girdle_legs *legs, const stops *list, const girdle_subpath *part,
                          int32_t corner, double shift_mm) {
  double length = part->length_mm, from = part->start_mm + shift_mm;
  uint64_t first = 0;
  while (first < list->count && list->items[first].from == list->items[first].to)
    first++;
  if (first < list->count)
    return cut_legs(call, legs, list, first + 1, list->items[first].to, list->items[first].from + length,
                    GIRDLE_END_INSIDE, GIRDLE_END_INSIDE, corner, length);
  if (list->count) {
    from = list->items[0].from;
    GIRDLE_TRY(cut_legs(call, legs, list, 1, from, from + length, corner, corner, corner, length));
  } else {
    GIRDLE_TRY(add_leg(call, legs, from, from + length, GIRDLE_END_CENTRE, GIRDLE_END_CENTRE, 0));
  }
  if (legs->count && (!list->count || corner == GIRDLE_END_CENTRE)) legs->items[legs->count - 1].closes = 1;
  return GIRDLE_OK;
}

static int32_t cut(girdle_call *call, const girdle_path *path, const girdle_subpath *part,
                   const girdle_run_options *options, ends kinds, double shift_mm, girdle_legs *out) {
  stops list = {NULL, 0, 0, NULL, 0};
  int32_t status = find_stops(call, path, part, options, &list);
  double begin = part->start_mm, shifted = begin + shift_mm;
  int shifts = part->closed && !list.count && shift_mm > 0;
  memset(out, 0, sizeof *out);
  out->track.memory = girdle_common_memory(call);
  out->anchored = list.count > 0;
  if (!status)
    status =
        girdle_track_new(call, path, part, shifts ? &shifted : list.marks, shifts ? 1 : list.mark_count, &out->track);
  if (!status && part->closed) status = cut_closed(call, out, &list, part, kinds.corner, shifts ? shift_mm : 0);
  if (!status && !part->closed)
    status = cut_legs(call, out, &list, 0, begin, begin + part->length_mm, kinds.open, kinds.open, kinds.corner, 0);
  free_stops(call, &list);
  return status;
}

/* ---- setting the stones */

typedef struct run {
  girdle_call *call;
  girdle_run_options options;
  girdle_sequence sequence;
  girdle_placement *placement;
  uint16_t *index; /* of the sequence's stones in the placement */
  girdle_crowd crowd;
  double least_gap_mm; /* between stones that are not neighbours: the wish, or with a count the leg's own */
  uint64_t row;
} run;

/* Disc numbers of the last stones set, for pardoning: a stone's neighbour, and behind an anchor the one before it,
 * need only not overlap. */
typedef struct tail {
  uint64_t first, second, last, before_last; /* UINT64_MAX: none, or left out */
  int past_anchor, first_is_anchor;
  const girdle_leg *closing; /* bears the last stone before the first again; NULL when the legs do not close */
} tail;

static int32_t set_stone(run *work, const girdle_legs *legs, const girdle_step *step, const uint64_t *near,
                         int near_count, uint64_t *disc) {
  uint64_t place = step->number % work->sequence.count;
  const girdle_stone *stone = &work->sequence.stones[place];
  girdle_shape shape = {girdle_place_snapped(step->foot.x), girdle_place_snapped(step->foot.y), 0, stone};
  if (stone->outline != GIRDLE_ROUND)
    shape.turn_deg = girdle_leg_turn(&legs->track, &step->foot, work->sequence.turn_deg);
  *disc = UINT64_MAX;
  if (!girdle_crowd_has_room(&work->crowd, &shape, work->least_gap_mm, near, near_count)) {
    work->placement->notes.left_out++;
    work->placement->notes.flags |= GIRDLE_NOTE_LEFT_OUT;
    return GIRDLE_OK;
  }
  *disc = work->crowd.count;
  GIRDLE_TRY(girdle_crowd_add_stone(work->call, &work->crowd, &shape));
  return girdle_place_put(work->call, work->placement, shape.x, shape.y, shape.turn_deg, work->index[place], work->row);
}

/* Sets the stones of one leg; those shared with the leg before or with the start are there already. */
static int32_t set_leg(run *work, const girdle_legs *legs, const girdle_leg *leg, const girdle_step *steps,
                       tail *behind) {
  uint64_t end = leg->stones - (uint64_t)leg->closes;
  if (!leg->joined) behind->last = behind->before_last = UINT64_MAX, behind->past_anchor = 0;
  for (uint64_t i = (uint64_t)leg->joined; i < end; i++) {
    uint64_t near[4], disc, count = 0;
    int closing = leg == behind->closing && i + 1 == end, opening = behind->first == UINT64_MAX;
    if (behind->last != UINT64_MAX) near[count++] = behind->last;
    if (behind->past_anchor && behind->before_last != UINT64_MAX) near[count++] = behind->before_last;
    if (closing && behind->first != UINT64_MAX) near[count++] = behind->first;
    if (closing && behind->first_is_anchor && behind->second != UINT64_MAX) near[count++] = behind->second;
    GIRDLE_TRY(set_stone(work, legs, &steps[i], near, (int)count, &disc));
    if (opening)
      behind->first = disc;
    else if (behind->second == UINT64_MAX)
      behind->second = disc;
    behind->before_last = behind->last;
    behind->last = disc;
    behind->past_anchor = 0;
    if (i % 1024 == 0) GIRDLE_TRY(girdle_common_tick(work->call, 1024, -1));
  }
  behind->past_anchor = 1;
  return GIRDLE_OK;
}

static void note_leg(run *work, const girdle_legs *legs, const girdle_leg *leg, const girdle_step *steps) {
  girdle_notes *notes = &work->placement->notes;
  if (!(notes->gap_mm <= leg->gap_mm) && leg->stones > 1) notes->gap_mm = leg->gap_mm;
  if (!leg->uneven) return;
  notes->flags |= GIRDLE_NOTE_UNEVEN;
  notes->leftover_mm = isnan(notes->leftover_mm) ? 0 : notes->leftover_mm;
  if (leg->stones) {
    const girdle_step *last = &steps[leg->stones - 1];
    notes->leftover_mm += legs->track.points[leg->last].along_mm - girdle_track_along(&legs->track, &last->foot);
    if (leg->end != GIRDLE_END_CENTRE)
      notes->leftover_mm -= girdle_place_width(&work->sequence.stones[last->number % work->sequence.count]) / 2;
  }
}

static int32_t lay_leg(run *work, const girdle_legs *legs, const girdle_leg *leg, tail *behind) {
  uint64_t bytes = leg->stones * sizeof(girdle_step);
  girdle_step *steps;
  int32_t status;
  if (!leg->stones) return GIRDLE_OK;
  if (work->options.count) work->least_gap_mm = leg->gap_mm;
  steps = girdle_common_new(work->call, bytes);
  if (!steps) return GIRDLE_MEMORY;
  girdle_leg_walk(legs, leg, &work->sequence, leg->begins, leg->stones, leg->gap_mm, steps);
  note_leg(work, legs, leg, steps);
  /* what closes stands on the end exactly; what does not still bears a stone there */
  if (leg->end == GIRDLE_END_CENTRE) steps[leg->stones - 1].foot = girdle_track_foot(&legs->track, leg->last);
  status = set_leg(work, legs, leg, steps, behind);
  girdle_common_release(&legs->track.memory, steps, bytes);
  return status;
}

/* A leg from corner to corner may bear no stones but those of its ends. */
static const girdle_leg *closing_leg(const girdle_legs *legs) {
  const girdle_leg *leg = &legs->items[legs->count - 1];
  if (!leg->closes) return NULL;
  while (leg > legs->items && leg->stones <= (uint64_t)(leg->closes + leg->joined))
    leg--;
  return leg;
}

static int32_t lay_legs(run *work, const girdle_legs *legs) {
  tail behind = {UINT64_MAX, UINT64_MAX, UINT64_MAX, UINT64_MAX, 0, legs->anchored, closing_leg(legs)};
  for (uint64_t i = 0; i < legs->count; i++)
    GIRDLE_TRY(lay_leg(work, legs, &legs->items[i], &behind));
  return GIRDLE_OK;
}

/* ---- one subpath */

/* The ends of staggered rows lie half a pitch in, and so do the stones beside a corner; a closed row without corners
 * begins half a pitch later. */
static ends kinds_of(const run *work) {
  ends kinds = {GIRDLE_END_CENTRE, GIRDLE_END_CENTRE};
  if (work->options.flags & GIRDLE_ENDS_INSIDE) kinds.open = GIRDLE_END_INSIDE;
  if (work->options.flags & GIRDLE_STAGGER) kinds.open = kinds.corner = GIRDLE_END_HALF;
  return kinds;
}

static double shift_of(const run *work) {
  const girdle_stone *stones = work->sequence.stones;
  double widths = girdle_place_width(&stones[0]) + girdle_place_width(&stones[work->sequence.count > 1]);
  return work->options.flags & GIRDLE_STAGGER ? widths / 4 + work->sequence.gap_mm / 2 : 0;
}

static double least_gap(const girdle_legs *legs) {
  double least = INFINITY;
  for (uint64_t i = 0; i < legs->count; i++)
    least = fmin(least, legs->items[i].gap_mm);
  return least;
}

static int32_t not_whole(girdle_call *call) {
  return girdle_common_fail(call, GIRDLE_GEOMETRY, "whole",
                            "no whole number of sequences closes this path; take a shorter sequence or a smaller gap");
}

static int32_t lay_part(run *work, const girdle_path *along, const girdle_subpath *part, int64_t count) {
  girdle_legs legs;
  int32_t status = cut(work->call, along, part, &work->options, kinds_of(work), shift_of(work), &legs);
  if (!status && !legs.count && count) status = GIRDLE_GEOMETRY; /* all of it is left */
  if (!status && legs.count) {
    status = girdle_legs_choose(work->call, &legs, &work->sequence, count);
    if (status == GIRDLE_GEOMETRY && !count) not_whole(work->call);
    if (!status && count && least_gap(&legs) < work->sequence.gap_mm - 1e-9) status = GIRDLE_GEOMETRY;
    if (!status) status = lay_legs(work, &legs);
  }
  girdle_legs_free(&legs);
  return status;
}

/* ---- the whole path */

static int32_t begin(run *work, const girdle_path *along) {
  girdle_box box;
  double most = girdle_path_length_mm(along), least = INFINITY;
  for (uint64_t i = 0; i < work->sequence.count; i++)
    least = fmin(least, girdle_place_width(&work->sequence.stones[i]));
  most /= least + work->sequence.gap_mm;
  work->index = girdle_common_new(work->call, work->sequence.count * sizeof *work->index);
  if (!work->index) return GIRDLE_MEMORY;
  GIRDLE_TRY(
      girdle_place_palette(work->call, work->placement, work->sequence.stones, work->sequence.count, work->index));
  GIRDLE_TRY(girdle_place_reserve(work->call, work->placement, (uint64_t)most + 1));
  girdle_path_box(along, &box);
  return girdle_crowd_new(work->call, &box, least + work->sequence.gap_mm, (uint64_t)most + 1, &work->crowd);
}

/* Only so many at a time can be asked for. */
static int64_t step_of(const girdle_run_options *options) {
  return options->flags & GIRDLE_WHOLE ? (int64_t)options->stone_count : 1;
}

/* An exact count is shared out over the subpaths by their lengths, to the last stone (or whole sequence). */
static int32_t lay_parts(run *work, const girdle_path *along) {
  uint64_t parts;
  const girdle_subpath *part = girdle_path_parts(along, &parts);
  double length = girdle_path_length_mm(along);
  int64_t step = step_of(&work->options), count = work->options.count / step;
  int32_t status = begin(work, along);
  for (uint64_t i = 0; i < parts && !status; i++) {
    int64_t before = (int64_t)nearbyint((double)count * (part[i].start_mm / length));
    int64_t after = (int64_t)nearbyint((double)count * ((part[i].start_mm + part[i].length_mm) / length));
    if (!count || after > before) status = lay_part(work, along, &part[i], (after - before) * step);
  }
  girdle_common_release(&work->placement->memory, work->index, work->sequence.count * sizeof *work->index);
  girdle_crowd_free(&work->crowd);
  return status;
}

static int32_t lay_path(girdle_call *call, const girdle_path *along, const girdle_run_options *options,
                        girdle_placement **out) {
  run work;
  int32_t status;
  memset(&work, 0, sizeof work);
  work.call = call;
  work.options = *options;
  work.sequence.stones = options->stones;
  work.sequence.count = options->stone_count;
  work.sequence.gap_mm = work.least_gap_mm = options->gap_mm;
  work.sequence.turn_deg = options->turn_deg;
  work.sequence.whole = (options->flags & GIRDLE_WHOLE) != 0;
  for (uint64_t i = 0; i < options->stone_count; i++)
    work.sequence.fancy |= options->stones[i].outline != GIRDLE_ROUND;
  work.sequence.at_least = (options->flags & GIRDLE_AT_LEAST) != 0;
  GIRDLE_TRY(girdle_place_new(call, 0, &work.placement));
  status = lay_parts(&work, along);
  if (!status) status = girdle_place_clear(call, work.placement, options->clear_of, options->gap_mm);
  if (!status && options->count && work.placement->notes.left_out) status = GIRDLE_GEOMETRY;
  return girdle_place_finish(work.placement, status, out);
}

/* ---- exactly so many, or the most that fit */

typedef struct ask {
  const girdle_path *along;
  const girdle_run_options *options;
} ask;

static int32_t fits(girdle_call *call, const void *context, int64_t count, int *answer) {
  const ask *asked = context;
  girdle_run_options options = *asked->options;
  girdle_placement *placement = NULL;
  int32_t status;
  options.count = count;
  status = lay_path(call, asked->along, &options, &placement);
  girdle_placement_free(placement);
  *answer = status == GIRDLE_OK;
  return status == GIRDLE_GEOMETRY ? GIRDLE_OK : status;
}

/* About so many stand by the gap alone; where the sequence's stones differ, a few more may. */
static int32_t likely_most(girdle_call *quiet, const ask *asked, int64_t *likely) {
  girdle_run_options options = *asked->options;
  girdle_placement *placement = NULL;
  int32_t status;
  options.count = 0;
  status = lay_path(quiet, asked->along, &options, &placement);
  *likely = 0;
  if (placement) *likely = (int64_t)(placement->count + options.stone_count) + placement->notes.left_out;
  girdle_placement_free(placement);
  return status == GIRDLE_GEOMETRY ? GIRDLE_OK : status;
}

static int32_t name_another(girdle_call *call, girdle_call *quiet, const ask *asked) {
  girdle_fitting fit = {quiet, fits, asked, asked->options->gap_mm, step_of(asked->options)};
  int64_t likely;
  int32_t status = likely_most(quiet, asked, &likely);
  if (status) return girdle_common_fail(call, status, NULL, "%s", girdle_status_text(status));
  return girdle_place_does_not_fit(call, &fit, asked->options->count, likely);
}

static int32_t lay_count(girdle_call *call, const girdle_path *along, const girdle_run_options *options,
                         girdle_placement **out) {
  girdle_call quiet;
  int32_t status;
  girdle_call_init(&quiet, sizeof quiet);
  if (call) quiet = *call;
  quiet.error = NULL;
  status = lay_path(&quiet, along, options, out);
  if (status == GIRDLE_GEOMETRY) {
    ask asked = {along, options};
    return name_another(call, &quiet, &asked);
  }
  return status ? girdle_common_fail(call, status, NULL, "%s", girdle_status_text(status)) : GIRDLE_OK;
}

/* ---- asking */

void girdle_run_options_init(girdle_run_options *options, uint32_t struct_bytes) {
  girdle_run_options plain = {sizeof plain};
  plain.corner_deg = 30;
  plain.turn_deg = NAN;
  memset(options, 0, struct_bytes);
  memcpy(options, &plain, struct_bytes < sizeof plain ? struct_bytes : sizeof plain);
  options->struct_bytes = struct_bytes;
}

static int32_t refuse_backwards(girdle_call *call, const girdle_stretch *leave) {
  char numbers[2][32];
  girdle_number_text(leave->from_mm, 4, numbers[0], sizeof numbers[0]);
  girdle_number_text(leave->to_mm, 4, numbers[1], sizeof numbers[1]);
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "leave",
                            "leave runs from %s mm back to %s mm; across its start only a single loop can be left",
                            numbers[0], numbers[1]);
}

static int32_t check_leaves(girdle_call *call, const girdle_path *along, const girdle_run_options *options) {
  double length = girdle_path_length_mm(along);
  int ring = girdle_path_is_closed(along) && girdle_path_subpaths(along) == 1;
  for (uint64_t i = 0; i < options->leave_count; i++) {
    const girdle_stretch *leave = &options->leave[i];
    GIRDLE_TRY(girdle_common_range(call, "leave", leave->from_mm, 0, length, "mm"));
    GIRDLE_TRY(girdle_common_range(call, "leave", leave->to_mm, 0, length + 1e-6, "mm"));
    if (leave->from_mm > leave->to_mm && !ring) return refuse_backwards(call, leave);
  }
  return GIRDLE_OK;
}

static int32_t too_short(girdle_call *call, const char *field, const char *what, double mm, double length_mm) {
  char numbers[2][32];
  girdle_number_text(mm, 4, numbers[0], sizeof numbers[0]);
  girdle_number_text(length_mm, 4, numbers[1], sizeof numbers[1]);
  return girdle_common_fail(call, GIRDLE_GEOMETRY, field,
                            "a %s of %s mm is more than the path has: %s mm; make it smaller", what, numbers[0],
                            numbers[1]);
}

static int32_t check_whole(girdle_call *call, const girdle_run_options *options) {
  int64_t step = step_of(options), over = options->count % step;
  if (!over) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "count", "%lld stones are not whole sequences of %lld; %lld are",
                            (long long)options->count, (long long)step, (long long)(options->count - over + step));
}

static int32_t check(girdle_call *call, const girdle_path *along, const girdle_run_options *options) {
  double length = girdle_path_length_mm(along);
  GIRDLE_TRY(girdle_place_check(call, options->stones, options->stone_count, options->gap_mm, options->count));
  GIRDLE_TRY(girdle_common_range(call, "corners", options->corner_deg, 0, 180, "degrees"));
  if (!isnan(options->turn_deg)) GIRDLE_TRY(girdle_common_range(call, "turn", options->turn_deg, -360, 360, "degrees"));
  GIRDLE_TRY(check_whole(call, options));
  GIRDLE_TRY(check_leaves(call, along, options));
  if (options->gap_mm > length) return too_short(call, "gap", "gap", options->gap_mm, length);
  for (uint64_t i = 0; i < options->stone_count; i++)
    if (girdle_place_width(&options->stones[i]) > length)
      return too_short(call, "stones", "stone", girdle_place_width(&options->stones[i]), length);
  return GIRDLE_OK;
}

int32_t girdle_run(girdle_call *call, const girdle_path *along, const girdle_run_options *options,
                   girdle_placement **out) {
  GIRDLE_GIVEN(call, along, options, out);
  girdle_run_options own;
  girdle_run_options_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, options);
  GIRDLE_TRY(check(call, along, &own));
  return own.count ? lay_count(call, along, &own, out) : lay_path(call, along, &own, out);
}
