/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* ---- the grid of places and turns */

float girdle_place_snapped_turn(double turn_deg) {
  double hundredths;
  if (turn_deg == 0) return 0;
  hundredths = fmod(nearbyint(fmod(turn_deg, 360) * 100), 36000);
  return (float)((hundredths < 0 ? hundredths + 36000 : hundredths) / 100 + 0.0);
}

/* Taylor's series up to 45 degrees, where the term after the last is below 1e-18. */
static void small_direction(double radians, double *cosine, double *sine) {
  double square = radians * radians;
  *cosine = 1;
  *sine = 1;
  for (int k = 18; k > 0; k -= 2) {
    *cosine = 1 - *cosine * square / (k * (k - 1));
    *sine = 1 - *sine * square / (k * (k + 1));
  }
  *sine *= radians;
}

void girdle_place_direction(double turn_deg, double *cosine, double *sine) {
  double turn = fmod(turn_deg, 360), quarter = nearbyint(turn / 90), c, s;
  small_direction((turn - 90 * quarter) * 0.017453292519943295769, &c, &s);
  switch (((int)quarter + 8) % 4) {
    case 0:
      *cosine = c, *sine = s;
      break;
    case 1:
      *cosine = -s, *sine = c;
      break;
    case 2:
      *cosine = -c, *sine = -s;
      break;
    default:
      *cosine = s, *sine = -c;
      break;
  }
}

/* ---- making */

int32_t girdle_place_new(girdle_call *call, uint64_t capacity, girdle_placement **out) {
  girdle_placement *placement = girdle_common_new(call, sizeof *placement);
  int32_t status;
  if (!placement) return GIRDLE_MEMORY;
  placement->memory = girdle_common_memory(call);
  placement->notes.struct_bytes = sizeof placement->notes;
  placement->notes.gap_mm = placement->notes.leftover_mm = placement->notes.undecided_mm2 = NAN;
  status = girdle_place_reserve(call, placement, capacity);
  if (status)
    girdle_placement_free(placement);
  else
    *out = placement;
  return status;
}

int32_t girdle_place_too_many(girdle_call *call) {
  return girdle_common_fail(call, GIRDLE_LIMIT, "count",
                            "more than %d stones in one placement; take larger stones, a wider gap or a smaller shape",
                            GIRDLE_STONES_MOST);
}

/* Exactly so much: who knows the number asks once; girdle_place_put doubles. */
int32_t girdle_place_reserve(girdle_call *call, girdle_placement *placement, uint64_t capacity) {
  uint64_t bytes = sizeof *placement->records;
  void *moved;
  if (capacity > GIRDLE_STONES_MOST) return girdle_place_too_many(call);
  if (capacity <= placement->capacity) return GIRDLE_OK;
  moved = girdle_common_resize(&placement->memory, placement->records, placement->capacity * bytes, capacity * bytes);
  if (!moved) return girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  placement->records = moved;
  placement->capacity = capacity;
  return GIRDLE_OK;
}

static int32_t make_room(girdle_call *call, girdle_placement *placement) {
  uint64_t doubled = 2 * placement->capacity + 8;
  if (placement->count >= GIRDLE_STONES_MOST) return girdle_place_too_many(call);
  return girdle_place_reserve(call, placement, doubled < GIRDLE_STONES_MOST ? doubled : GIRDLE_STONES_MOST);
}

int32_t girdle_place_too_large(girdle_call *call, double reach_mm) {
  char reach[32];
  girdle_number_text(reach_mm, 4, reach, sizeof reach);
  return girdle_common_fail(
      call, GIRDLE_GEOMETRY, "within",
      "no stone fits: the region holds no circle of radius %s mm (half the stone and the margin); "
      "take a smaller stone, a smaller margin or a larger region",
      reach);
}

int32_t girdle_place_put(girdle_call *call, girdle_placement *placement, double x_mm, double y_mm, double turn_deg,
                         uint64_t stone, uint64_t row) {
  girdle_placed *record;
  if (row > UINT16_MAX) return girdle_common_fail(call, GIRDLE_LIMIT, "rows", "more than 65536 rows in one placement");
  if (placement->count == placement->capacity) GIRDLE_TRY(make_room(call, placement));
  record = &placement->records[placement->count++];
  record->x_mm = girdle_place_snapped(x_mm);
  record->y_mm = girdle_place_snapped(y_mm);
  record->turn_deg = girdle_place_snapped_turn(turn_deg);
  record->stone = (uint16_t)stone;
  record->row = (uint16_t)row;
  return GIRDLE_OK;
}

/* Gives back what is not used; shrinking never fails. */
static void trim(girdle_placement *placement) {
  uint64_t bytes = sizeof *placement->records;
  placement->records = girdle_common_resize(&placement->memory, placement->records, placement->capacity * bytes,
                                            placement->count * bytes);
  placement->capacity = placement->count;
}

int32_t girdle_place_finish(girdle_placement *placement, int32_t status, girdle_placement **out) {
  if (status) {
    girdle_placement_free(placement);
    return status;
  }
  if (placement->capacity > placement->count) trim(placement);
  *out = placement;
  return status;
}

uint64_t girdle_place_keep(girdle_placement *placement, const uint8_t *kept) {
  uint64_t count = 0, before = placement->count;
  for (uint64_t i = 0; i < before; i++)
    if (kept[i]) placement->records[count++] = placement->records[i];
  placement->count = count;
  return before - count;
}

/* ---- stones: each different one once, found by a hash of what makes stones equal */

static uint64_t hash_text(uint64_t hash, const char *text) {
  for (; *text; text++)
    hash = (hash ^ (unsigned char)*text) * 0x100000001b3u;
  return hash * 0x100000001b3u;
}

static uint64_t hash_stone(const girdle_stone *stone) {
  uint64_t hash = hash_text(0xcbf29ce484222325u, stone->size);
  hash = hash_text(hash_text(hash_text(hash_text(hash, stone->colour), stone->finish), stone->material), stone->cut);
  return girdle_random_mixed(hash, (uint64_t)(stone->diameter_mm[GIRDLE_NOMINAL] * 1e6));
}

typedef struct palette {
  girdle_placement *placement;
  uint32_t *slots; /* 1 + a stone, 0 for none; twice as many as there may be stones */
  uint64_t mask;
} palette;

static int32_t look_up(girdle_call *call, palette *table, const girdle_stone *stone, uint64_t *found) {
  girdle_placement *placement = table->placement;
  uint64_t slot = hash_stone(stone) & table->mask;
  for (; table->slots[slot]; slot = (slot + 1) & table->mask) {
    *found = table->slots[slot] - 1;
    if (girdle_stone_equal(&placement->stones[*found], stone)) return GIRDLE_OK;
  }
  if (placement->stone_count > UINT16_MAX)
    return girdle_common_fail(call, GIRDLE_LIMIT, "stones", "more than 65536 different stones in one placement");
  GIRDLE_TRY(girdle_common_grow(call, &placement->memory, (void **)&placement->stones, &placement->stone_capacity,
                                placement->stone_count + 1, sizeof *stone));
  *found = placement->stone_count++;
  placement->stones[*found] = *stone;
  table->slots[slot] = (uint32_t)*found + 1;
  return GIRDLE_OK;
}

int32_t girdle_place_palette(girdle_call *call, girdle_placement *placement, const girdle_stone *stones, uint64_t count,
                             uint16_t *index) {
  palette table = {placement, NULL, 15};
  uint64_t already = placement->stone_count, found = 0;
  int32_t status = GIRDLE_OK;
  while (table.mask < 2 * (already + count))
    table.mask = 2 * table.mask + 1;
  table.slots = girdle_common_new(call, (table.mask + 1) * sizeof *table.slots);
  if (!table.slots) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < already; i++) {
    uint64_t slot = hash_stone(&placement->stones[i]) & table.mask;
    while (table.slots[slot])
      slot = (slot + 1) & table.mask;
    table.slots[slot] = (uint32_t)i + 1;
  }
  for (uint64_t i = 0; i < count && !status; i++) {
    status = look_up(call, &table, &stones[i], &found);
    if (index) index[i] = (uint16_t)found;
  }
  girdle_common_release(&placement->memory, table.slots, (table.mask + 1) * sizeof *table.slots);
  return status;
}

double girdle_place_radius(const girdle_stone *stone) {
  return girdle_stone_circle_mm(stone);
}

double girdle_place_width(const girdle_stone *stone) {
  return stone->diameter_mm[GIRDLE_NOMINAL];
}

/* ---- what every verb's options begin with */

int32_t girdle_place_check(girdle_call *call, const girdle_stone *stones, uint64_t stone_count, double gap_mm,
                           int64_t count) {
  if (!stones || stone_count < 1 || stone_count > UINT16_MAX)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "stones", "stones must be a sequence of 1 to 65535 stones");
  for (uint64_t i = 0; i < stone_count; i++)
    GIRDLE_TRY(girdle_common_range(call, "diameter", stones[i].diameter_mm[GIRDLE_NOMINAL], 0.1,
                                   GIRDLE_DIAMETER_MOST_MM, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "gap", gap_mm, 0, GIRDLE_GAP_MOST_MM, "mm"));
  if (count > GIRDLE_STONES_MOST)
    return girdle_common_range(call, "count", (double)count, 0, GIRDLE_STONES_MOST, "stones");
  return girdle_common_range(call, "count", (double)count, 0, GIRDLE_STONES_MOST, "");
}

/* ---- a number of stones that fits */

enum { TRIES = 64 };

/* Between a number that does not fit and one that does, in whole steps; either may be the greater. */
static int32_t halve(const girdle_fitting *fit, int64_t fails, int64_t *fits) {
  while (fails - *fits > fit->step || *fits - fails > fit->step) {
    int64_t middle = fails + (*fits - fails) / fit->step / 2 * fit->step;
    int answer = 0;
    GIRDLE_TRY(fit->fits(fit->call, fit->context, middle, &answer));
    *(answer ? fits : &fails) = middle;
  }
  return GIRDLE_OK;
}

/* The greatest that fits, 0 when none is found: from the likely one downwards, the first TRIES one by one, then half of
 * what is left each time. */
static int32_t find_most(const girdle_fitting *fit, int64_t likely, int64_t *most) {
  int64_t steps = likely / fit->step, fails = (steps + 1) * fit->step;
  for (int tried = 1; steps > 0; tried++) {
    int answer = 0;
    GIRDLE_TRY(fit->fits(fit->call, fit->context, steps * fit->step, &answer));
    if (answer) {
      *most = steps * fit->step;
      return halve(fit, fails, most);
    }
    fails = steps * fit->step;
    steps = tried < TRIES ? steps - 1 : steps / 2;
  }
  *most = 0;
  return GIRDLE_OK;
}

int32_t girdle_place_does_not_fit(girdle_call *call, const girdle_fitting *fit, int64_t count, int64_t likely) {
  const char *what = "the most that do are";
  char gap[32];
  int64_t other = 0;
  int32_t status = find_most(fit, likely, &other);
  if (!status && other > count) {
    what = "the next number that does is";
    status = halve(fit, count, &other);
  }
  if (status) return girdle_common_fail(call, status, NULL, "%s", girdle_status_text(status));
  girdle_number_text(fit->gap_mm, 4, gap, sizeof gap);
  return girdle_common_fail(call, GIRDLE_GEOMETRY, "count", "%lld stones do not fit with a gap of %s mm; %s %lld",
                            (long long)count, gap, what, (long long)other);
}

/* ---- reading */

int64_t girdle_placement_view(const girdle_placement *placement, const girdle_placed **records,
                              const girdle_stone **stones, uint32_t *stone_count) {
  if (records) *records = placement->records;
  if (stones) *stones = placement->stones;
  if (stone_count) *stone_count = (uint32_t)placement->stone_count;
  return (int64_t)placement->count;
}

int64_t girdle_placement_pieces(const girdle_placement *placement, const girdle_stone *stone) {
  int64_t found = 0;
  for (uint64_t i = 0; i < placement->count; i++)
    found += girdle_stone_equal(&placement->stones[placement->records[i].stone], stone);
  return found;
}

int32_t girdle_placement_notes(girdle_call *call, const girdle_placement *placement, girdle_notes *notes) {
  GIRDLE_GIVEN(call, placement, notes);
  uint32_t bytes = notes->struct_bytes;
  if (bytes < sizeof bytes)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "struct_bytes", "notes must say their size in struct_bytes");
  memcpy(notes, &placement->notes, bytes < sizeof *notes ? bytes : sizeof *notes);
  notes->struct_bytes = bytes;
  return GIRDLE_OK;
}

void girdle_placement_free(girdle_placement *placement) {
  girdle_allocator memory;
  if (!placement) return;
  memory = placement->memory;
  girdle_common_release(&memory, placement->stones, placement->stone_capacity * sizeof *placement->stones);
  girdle_common_release(&memory, placement->records, placement->capacity * sizeof *placement->records);
  girdle_common_release(&memory, placement, sizeof *placement);
}

/* ---- from records */

static int32_t check_record(girdle_call *call, const girdle_placed *record, uint64_t stone_count) {
  GIRDLE_TRY(girdle_common_range(call, "x", record->x_mm, -1e8, 1e8, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "y", record->y_mm, -1e8, 1e8, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "turn", (double)record->turn_deg, -1e6, 1e6, "degrees"));
  return girdle_common_range(call, "stone", record->stone, 0, (double)stone_count - 1, "");
}

static int32_t put_records(girdle_call *call, girdle_placement *placement, const girdle_placed *records, uint64_t count,
                           const uint16_t *index, uint64_t stone_count) {
  for (uint64_t i = 0; i < count; i++) {
    const girdle_placed *record = &records[i];
    GIRDLE_TRY(check_record(call, record, stone_count));
    GIRDLE_TRY(girdle_place_put(call, placement, record->x_mm, record->y_mm, (double)record->turn_deg,
                                index[record->stone], record->row));
  }
  return GIRDLE_OK;
}

int32_t girdle_placement_new(girdle_call *call, const girdle_stone *stones, uint32_t stone_count,
                             const girdle_placed *records, uint64_t record_count, girdle_placement **out) {
  GIRDLE_GIVEN(call, stones || !stone_count, records || !record_count, out);
  girdle_placement *placement = NULL;
  uint16_t *index;
  int32_t status;
  if (stone_count) GIRDLE_TRY(girdle_place_check(call, stones, stone_count, 0, 0));
  GIRDLE_TRY(girdle_place_new(call, record_count, &placement));
  index = girdle_common_new(call, (stone_count + 1) * sizeof *index);
  status = index ? girdle_place_palette(call, placement, stones, stone_count, index) : GIRDLE_MEMORY;
  if (!status) status = put_records(call, placement, records, record_count, index, stone_count);
  girdle_common_release(&placement->memory, index, (stone_count + 1) * sizeof *index);
  return girdle_place_finish(placement, status, out);
}
