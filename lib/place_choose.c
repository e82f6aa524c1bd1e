/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <float.h>
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* How many stones each leg bears, chosen for all legs together. Going from leg to leg, a state is the number of stones
 * so far, of which only what matters is kept: all of it when an exact count is asked for, its place in the sequence
 * when the sequence must close or its stones differ in width, else nothing. Dynamic programming over the states finds
 * the least worst difference between a leg's gap and the wish; a second pass, through choices no worse than that, the
 * least sum of squares, and of those the fewest stones. */

#define SAME 1e-9 /* differences of gaps below this are none */

typedef struct option {
  uint64_t stones;
  double gap_mm;
  int32_t uneven, reserved;
} option;

typedef struct state {
  uint64_t key, total;
  double worst, squares;
  uint64_t before; /* the state it came from */
  option taken;
} state;

typedef struct known_gap {
  uint64_t leg, begins, stones; /* stones 0: an empty slot */
  double gap_mm;
} known_gap;

typedef struct chooser {
  girdle_call *call;
  girdle_allocator memory;
  girdle_legs *legs;
  const girdle_sequence *sequence;
  uint64_t count, modulus; /* modulus 0: the number itself */
  double wish, limit;      /* options farther than the limit from the wish are passed over */
  double least;            /* and so are gaps below this */
  uint64_t span;           /* but for so many around the wish, while no limit is known */
  int by_squares;
  option *options;
  uint64_t option_count, option_capacity;
  state *states;
  uint64_t state_count, state_capacity;
  uint64_t *first; /* of each leg's states; one more at the end */
  known_gap *known;
  uint64_t known_count, known_slots;
  uint32_t *slot; /* 1 + the state of a key, while a leg is worked on */
  uint64_t slots;
} chooser;

/* ---- gaps, worked out once each */

static known_gap *slot_of(known_gap *known, uint64_t slots, uint64_t leg, uint64_t begins, uint64_t stones) {
  uint64_t slot = girdle_random_mixed(girdle_random_mixed(leg, begins), stones) % slots;
  while (known[slot].stones &&
         !(known[slot].leg == leg && known[slot].begins == begins && known[slot].stones == stones))
    slot = (slot + 1) % slots;
  return &known[slot];
}

static int32_t make_room(chooser *work) {
  uint64_t slots = work->known_slots ? 2 * work->known_slots : 64;
  known_gap *moved;
  if (2 * work->known_count < work->known_slots) return GIRDLE_OK;
  moved = girdle_common_new(work->call, slots * sizeof *moved);
  if (!moved) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < work->known_slots; i++)
    if (work->known[i].stones)
      *slot_of(moved, slots, work->known[i].leg, work->known[i].begins, work->known[i].stones) = work->known[i];
  girdle_common_release(&work->memory, work->known, work->known_slots * sizeof *moved);
  work->known = moved;
  work->known_slots = slots;
  return GIRDLE_OK;
}

static int32_t gap_for(chooser *work, uint64_t leg, uint64_t begins, uint64_t stones, double *gap_mm) {
  known_gap *slot;
  GIRDLE_TRY(make_room(work));
  slot = slot_of(work->known, work->known_slots, leg, begins, stones);
  if (!slot->stones) {
    known_gap found = {leg, begins, stones, 0};
    uint64_t steps;
    found.gap_mm = girdle_leg_gap(work->legs, &work->legs->items[leg], work->sequence, begins, stones, &steps);
    GIRDLE_TRY(girdle_common_tick(work->call, steps, -1));
    *slot = found;
    work->known_count++;
  }
  *gap_mm = slot->gap_mm;
  return GIRDLE_OK;
}

/* ---- the options of one leg from one state */

static int32_t offer(chooser *work, uint64_t stones, double gap_mm, int uneven) {
  option offered = {stones, gap_mm, uneven, 0};
  GIRDLE_TRY(girdle_common_grow(work->call, &work->memory, (void **)&work->options, &work->option_capacity,
                                work->option_count + 1, sizeof offered));
  work->options[work->option_count++] = offered;
  return GIRDLE_OK;
}

/* From `stones` on, one more or one fewer each time: while no limit is known as many as the span, then as long as the
 * gaps are within the limit. Where a bend leaves a number without a gap, the next may still have one. */
static int32_t offer_from(chooser *work, uint64_t leg, uint64_t begins, uint64_t stones, int step, int *closes) {
  for (uint64_t tried = 0; stones > 0; stones += (uint64_t)(int64_t)step, tried++) {
    double gap, miss;
    int beyond; /* on the way from the wish: fewer stones have wider gaps, more have narrower ones */
    if (work->limit < 0 && *closes && tried > work->span) break;
    GIRDLE_TRY(gap_for(work, leg, begins, stones, &gap));
    if (work->sequence->at_least && gap < work->wish - SAME) gap = NAN;
    miss = isnan(gap) ? INFINITY : fabs(gap - work->wish);
    if (!isnan(gap)) *closes = 1;
    if (gap >= work->least - SAME && miss <= (work->limit < 0 ? DBL_MAX : work->limit + SAME))
      GIRDLE_TRY(offer(work, stones, gap, 0));
    beyond = miss < INFINITY && work->limit >= 0 && (step < 0) == (gap > work->wish);
    if (miss > work->limit + SAME && (tried > work->span + 1 || beyond)) break;
  }
  return GIRDLE_OK;
}

static int32_t list_options(chooser *work, uint64_t leg, uint64_t begins) {
  const girdle_leg *item = &work->legs->items[leg];
  uint64_t room;
  int closes = 0;
  GIRDLE_TRY(girdle_leg_room(work->call, work->legs, item, work->sequence, begins, work->wish, &room));
  work->option_count = 0;
  GIRDLE_TRY(offer_from(work, leg, begins, room, -1, &closes));
  GIRDLE_TRY(offer_from(work, leg, begins, room + 1, 1, &closes));
  if (closes) return GIRDLE_OK;
  /* the wish is kept; of a leg between two stones the last stands on its end whatever is left before it */
  return offer(work, item->end == GIRDLE_END_CENTRE && room < 2 ? 2 : room, work->wish, 1);
}

/* ---- states */

static int better(const chooser *work, const state *a, const state *b) {
  if (!work->by_squares) return a->worst < b->worst;
  if (fabs(a->squares - b->squares) > SAME * SAME) return a->squares < b->squares;
  return a->total < b->total;
}

static state after(const chooser *work, uint64_t from, const girdle_leg *leg, const option *taken) {
  const state *before = &work->states[from];
  double miss = taken->uneven ? 0 : fabs(taken->gap_mm - work->wish);
  uint64_t added = taken->stones - (uint64_t)(leg->joined && taken->stones) - (uint64_t)leg->closes;
  state next = {before->key + added,
                before->total + added,
                fmax(before->worst, miss),
                before->squares + miss * miss,
                from,
                *taken};
  if (work->modulus) next.key %= work->modulus;
  return next;
}

static int32_t enter(chooser *work, const state *next) {
  uint32_t *slot;
  if (next->key >= work->slots) return GIRDLE_OK; /* more than are asked for */
  slot = &work->slot[next->key];
  if (*slot) {
    if (better(work, next, &work->states[*slot - 1])) work->states[*slot - 1] = *next;
    return GIRDLE_OK;
  }
  GIRDLE_TRY(girdle_common_grow(work->call, &work->memory, (void **)&work->states, &work->state_capacity,
                                work->state_count + 1, sizeof *next));
  work->states[work->state_count++] = *next;
  *slot = (uint32_t)work->state_count;
  return GIRDLE_OK;
}

static int32_t pass_leg(chooser *work, uint64_t leg) {
  const girdle_leg *item = &work->legs->items[leg];
  uint64_t first = work->first[leg], end = work->state_count;
  work->first[leg + 1] = end;
  for (uint64_t from = first; from < end; from++) {
    /* a joined leg begins with the stone the leg before ended with */
    uint64_t key = work->states[from].key, begins = key - (uint64_t)item->joined;
    if (item->joined && key == 0) begins = work->modulus - 1;
    GIRDLE_TRY(list_options(work, leg, begins));
    for (uint64_t i = 0; i < work->option_count; i++) {
      state next = after(work, from, item, &work->options[i]);
      GIRDLE_TRY(enter(work, &next));
    }
  }
  for (uint64_t i = end; i < work->state_count; i++)
    work->slot[work->states[i].key] = 0;
  return GIRDLE_OK;
}

/* One pass over all legs; *best is the best final state, UINT64_MAX when there is none. */
static int32_t pass(chooser *work, uint64_t *best) {
  state nothing;
  memset(&nothing, 0, sizeof nothing);
  work->state_count = 0;
  work->first[0] = 0;
  GIRDLE_TRY(enter(work, &nothing));
  work->slot[0] = 0;
  for (uint64_t leg = 0; leg < work->legs->count; leg++)
    GIRDLE_TRY(pass_leg(work, leg));
  *best = UINT64_MAX;
  for (uint64_t i = work->first[work->legs->count]; i < work->state_count; i++) {
    const state *last = &work->states[i];
    if (work->count ? last->total != work->count : work->sequence->whole && last->key != 0) continue;
    if (*best == UINT64_MAX || better(work, last, &work->states[*best])) *best = i;
  }
  return GIRDLE_OK;
}

static void take(chooser *work, uint64_t best) {
  for (uint64_t leg = work->legs->count; leg-- > 0; best = work->states[best].before) {
    const state *chosen = &work->states[best];
    girdle_leg *item = &work->legs->items[leg];
    item->stones = chosen->taken.stones;
    item->gap_mm = chosen->taken.gap_mm;
    item->uneven = chosen->taken.uneven;
    item->begins = work->states[chosen->before].total - (uint64_t)(item->joined && work->states[chosen->before].total);
  }
}

/* First around the wish, in growing spans until some choice closes; then once more with that choice's worst difference
 * as the limit, so that nothing as good is missed; then by squares. */
static int32_t search(chooser *work, uint64_t most_span) {
  uint64_t best;
  work->limit = -1;
  work->by_squares = 0;
  for (work->span = 0;; work->span = 2 * work->span + 1) {
    GIRDLE_TRY(pass(work, &best));
    if (best != UINT64_MAX) break;
    if (work->span > most_span) return GIRDLE_GEOMETRY;
  }
  work->limit = work->states[best].worst;
  work->span = 0;
  GIRDLE_TRY(pass(work, &best));
  if (best == UINT64_MAX) return GIRDLE_GEOMETRY;
  work->limit = work->states[best].worst;
  work->by_squares = 1;
  GIRDLE_TRY(pass(work, &best));
  if (best == UINT64_MAX) return GIRDLE_GEOMETRY;
  take(work, best);
  return GIRDLE_OK;
}

/* ---- the wish when a count is asked for: what one gap for all would be if everything were straight */

static int alike(const girdle_sequence *sequence) {
  const girdle_stone *first = &sequence->stones[0];
  for (const girdle_stone *other = first + 1; other < first + sequence->count; other++)
    if (girdle_place_width(other) != girdle_place_width(first) || other->outline != first->outline ||
        other->length_ratio != first->length_ratio)
      return 0;
  return 1;
}

static double width_of(const girdle_sequence *sequence, uint64_t stones) {
  uint64_t rounds = stones / sequence->count, rest = stones % sequence->count;
  double width = 0;
  for (uint64_t i = 0; i < sequence->count; i++)
    width += girdle_place_width(&sequence->stones[i]) * (double)(rounds + (i < rest));
  return width;
}

static double wish_for(const girdle_legs *legs, const girdle_sequence *sequence, uint64_t count) {
  const girdle_leg *first = &legs->items[0], *last = first + (legs->count - 1);
  double room = -width_of(sequence, count), gaps = (double)count;
  for (const girdle_leg *leg = first; leg <= last; leg++) {
    room += legs->track.points[leg->last].along_mm - legs->track.points[leg->first].along_mm;
    gaps += leg->joined + leg->closes - 1 + ((leg->start == GIRDLE_END_HALF) + (leg->end == GIRDLE_END_HALF)) / 2.0;
  }
  if (first->start == GIRDLE_END_CENTRE && !last->closes) room += girdle_place_width(&sequence->stones[0]) / 2;
  if (last->end == GIRDLE_END_CENTRE && !last->closes)
    room += girdle_place_width(&sequence->stones[(count - 1) % sequence->count]) / 2;
  room /= gaps > 0 ? gaps : NAN;
  return room < 0 && room > -SAME ? 0 : room; /* stones that just fit, but for the rounding of their widths */
}

static int32_t begin(chooser *work, int64_t count) {
  const girdle_sequence *sequence = work->sequence;
  work->memory = girdle_common_memory(work->call);
  work->count = (uint64_t)count;
  work->wish = count ? wish_for(work->legs, sequence, work->count) : sequence->gap_mm;
  if (!(work->wish >= 0)) return GIRDLE_GEOMETRY;
  if (!count) work->modulus = sequence->whole || !alike(sequence) ? sequence->count : 1;
  work->slots = count ? work->count + 1 : work->modulus;
  work->slot = girdle_common_new(work->call, work->slots * sizeof *work->slot);
  if (!work->slot) return GIRDLE_MEMORY;
  work->first = girdle_common_new(work->call, (work->legs->count + 1) * sizeof *work->first);
  return work->first ? GIRDLE_OK : GIRDLE_MEMORY;
}

/* With a count the wish is only what all gaps would like to be. If that takes one below the least that is allowed,
 * another choice may still keep them all above: no leg is then more than a stone a leg away from the wish. */
static int32_t search_counted(chooser *work) {
  const girdle_legs *legs = work->legs;
  GIRDLE_TRY(search(work, work->count));
  for (uint64_t i = 0; i < legs->count && work->least <= 0; i++)
    if (legs->items[i].gap_mm < work->sequence->gap_mm - SAME) work->least = work->sequence->gap_mm;
  return work->least > 0 ? search(work, legs->count + work->sequence->count) : GIRDLE_OK;
}

int32_t girdle_legs_choose(girdle_call *call, girdle_legs *legs, const girdle_sequence *sequence, int64_t count) {
  chooser work;
  int32_t status;
  memset(&work, 0, sizeof work);
  work.call = call;
  work.legs = legs;
  work.sequence = sequence;
  status = begin(&work, count);
  if (!status) status = count ? search_counted(&work) : search(&work, 2 * sequence->count);
  girdle_common_release(&work.memory, work.options, work.option_capacity * sizeof *work.options);
  girdle_common_release(&work.memory, work.states, work.state_capacity * sizeof *work.states);
  girdle_common_release(&work.memory, work.first, (legs->count + 1) * sizeof *work.first);
  girdle_common_release(&work.memory, work.known, work.known_slots * sizeof *work.known);
  girdle_common_release(&work.memory, work.slot, work.slots * sizeof *work.slot);
  return status;
}
