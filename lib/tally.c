/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/tally.h"

#include <string.h>

#include "common.h"
#include "stone_internal.h"

/* No more pieces on one line, so that sums of a million lines stay within int64. */
static const int64_t PIECES_MOST = 1000000000000;

struct girdle_tally {
  girdle_allocator memory;
  girdle_tally_line *lines;
  uint64_t count, capacity;
  uint64_t *slots; /* hash table of line numbers from 1; 0 is empty */
  uint64_t slot_count;
};

int32_t girdle_tally_new(girdle_call *call, girdle_tally **out) {
  GIRDLE_GIVEN(call, out);
  girdle_tally *tally = girdle_common_new(call, sizeof *tally);
  if (!tally) return GIRDLE_MEMORY;
  tally->memory = girdle_common_memory(call);
  *out = tally;
  return GIRDLE_OK;
}

void girdle_tally_free(girdle_tally *tally) {
  girdle_allocator memory;
  if (!tally) return;
  memory = tally->memory;
  girdle_common_release(&memory, tally->lines, tally->capacity * sizeof *tally->lines);
  girdle_common_release(&memory, tally->slots, tally->slot_count * sizeof *tally->slots);
  girdle_common_release(&memory, tally, sizeof *tally);
}

/* ---- reading a stone and its pieces */

/* Reads what stands before the blank at `at`. */
static int32_t pieces_before(girdle_call *call, const char *text, size_t at, int64_t *pieces) {
  char number[128];
  for (; at && *text == ' '; at--)
    text++;
  while (at && text[at - 1] == ' ')
    at--;
  if (at >= sizeof number) at = 0;
  memcpy(number, text, at);
  number[at] = '\0';
  return girdle_pieces_parse(call, number, pieces);
}

/* What is wrong: the stone, where a number stands before it; the number, where a stone stands behind it; else all. */
static int32_t refuse_pieces(girdle_call *call, const char *text, size_t number_ends, size_t stone_begins) {
  girdle_stone stone;
  int64_t pieces;
  if (number_ends && text[number_ends + strcspn(text + number_ends, "0123456789")])
    return girdle_stone_parse(call, text + number_ends + 1, &stone);
  if (stone_begins) return pieces_before(call, text, stone_begins, &pieces);
  return girdle_common_fail(call, GIRDLE_SYNTAX, "pieces", "'%.60s' must be a number and a stone, like 12 ss34 red",
                            text);
}

/* The longest number that leaves a stone is meant: "2 1/2 gross ss20", "12 4 mm black". */
int32_t girdle_stone_pieces_parse(girdle_call *call, const char *text, girdle_stone *stone, int64_t *pieces) {
  GIRDLE_GIVEN(call, text, stone, pieces);
  const girdle_catalogue *own = call && call->struct_bytes >= sizeof *call ? call->own : NULL;
  size_t number_ends = 0, stone_begins = 0;
  for (size_t at = strlen(text); at > 0; at--) {
    girdle_stone found;
    int64_t number;
    int is_number, is_stone;
    if (text[at] != ' ' || text[at + 1] == ' ') continue;
    is_number = pieces_before(NULL, text, at, &number) == GIRDLE_OK;
    is_stone = girdle_stone_parse_own(NULL, text + at + 1, own, &found) == GIRDLE_OK;
    if (is_number && !number_ends) number_ends = at;
    if (is_stone) stone_begins = at;
    if (!is_number || !is_stone) continue;
    *stone = found;
    *pieces = number;
    return GIRDLE_OK;
  }
  return refuse_pieces(call, text, number_ends, stone_begins);
}

/* ---- finding a line */

static uint64_t mix(uint64_t hash, const char *text) {
  for (; *text; text++)
    hash = (hash ^ (unsigned char)*text) * 0x100000001b3u; /* FNV-1a */
  return (hash ^ 0xff) * 0x100000001b3u;
}

static uint64_t hash_of(const girdle_tally_line *line) {
  uint64_t hash = mix(0xcbf29ce484222325u, line->tag);
  hash = mix(mix(hash, line->zone), line->side);
  return mix(mix(hash, line->stone.size), line->stone.colour);
}

static int same_line(const girdle_tally_line *a, const girdle_tally_line *b) {
  return strcmp(a->tag, b->tag) == 0 && strcmp(a->zone, b->zone) == 0 && strcmp(a->side, b->side) == 0 &&
         girdle_stone_equal(&a->stone, &b->stone);
}

/* The slot of the line like `line`, or the empty one where it belongs. slot_count is a power of two. */
static uint64_t *slot_of(const girdle_tally *tally, const girdle_tally_line *line) {
  uint64_t at = hash_of(line) & (tally->slot_count - 1);
  while (tally->slots[at] && !same_line(&tally->lines[tally->slots[at] - 1], line))
    at = (at + 1) & (tally->slot_count - 1);
  return &tally->slots[at];
}

static int32_t rehash(girdle_call *call, girdle_tally *tally, uint64_t slot_count) {
  uint64_t *old = tally->slots, old_count = tally->slot_count;
  uint64_t *slots = girdle_common_resize(&tally->memory, NULL, 0, slot_count * sizeof *slots);
  if (!slots) return girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  memset(slots, 0, slot_count * sizeof *slots);
  tally->slots = slots;
  tally->slot_count = slot_count;
  for (uint64_t i = 0; i < tally->count; i++)
    *slot_of(tally, &tally->lines[i]) = i + 1;
  girdle_common_release(&tally->memory, old, old_count * sizeof *old);
  return GIRDLE_OK;
}

/* Room for `more` lines, so that adding them cannot fail half-way. At most half of the slots are used. */
static int32_t reserve(girdle_call *call, girdle_tally *tally, uint64_t more) {
  uint64_t needed = tally->count + more, slots = tally->slot_count ? tally->slot_count : 16;
  void *lines = tally->lines;
  int32_t status = girdle_common_grow(call, &tally->memory, &lines, &tally->capacity, needed, sizeof *tally->lines);
  tally->lines = lines;
  if (status) return status;
  while (slots < 2 * needed)
    slots *= 2;
  return slots > tally->slot_count ? rehash(call, tally, slots) : GIRDLE_OK;
}

/* ---- adding */

static int32_t set_names(girdle_call *call, girdle_tally_line *line, const char *tag, const char *zone,
                         const char *side) {
  memset(line, 0, sizeof *line);
  if (girdle_common_text(line->tag, sizeof line->tag, tag ? tag : "") &&
      girdle_common_text(line->zone, sizeof line->zone, zone ? zone : "") &&
      girdle_common_text(line->side, sizeof line->side, side ? side : ""))
    return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_LIMIT, "zone",
                            "tag, zone or side is too long (31, 63 and 15 bytes): %.40s %.80s %.20s", tag ? tag : "",
                            zone ? zone : "", side ? side : "");
}

static void set_pieces(girdle_tally_line *line, const girdle_stone *stone, int64_t pieces) {
  line->stone = *stone;
  line->count = pieces;
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    line->mass_mg[i] = (double)pieces * stone->mass_mg[i];
  line->covered_mm2 = (double)pieces * girdle_stone_footprint_mm2(stone);
}

static void sum_into(girdle_tally_line *sum, const girdle_tally_line *line) {
  sum->count += line->count;
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    sum->mass_mg[i] += line->mass_mg[i];
  sum->covered_mm2 += line->covered_mm2;
}

/* GIRDLE_LIMIT when the line's count would pass the limit. There is room for one more slot. */
static int32_t check_line(girdle_call *call, const girdle_tally *tally, const girdle_tally_line *line) {
  uint64_t number = *slot_of(tally, line);
  int64_t there = number ? tally->lines[number - 1].count : 0;
  if (line->count <= PIECES_MOST - there) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_LIMIT, "count", "more than 1e12 pieces of one stone in zone '%s'", line->zone);
}

/* There is room. */
static void add_line(girdle_tally *tally, const girdle_tally_line *line) {
  uint64_t *slot = slot_of(tally, line);
  if (line->count == 0) return;
  if (*slot) {
    sum_into(&tally->lines[*slot - 1], line);
    return;
  }
  tally->lines[tally->count++] = *line;
  *slot = tally->count;
}

int32_t girdle_tally_add_pieces(girdle_call *call, girdle_tally *tally, const char *tag, const char *zone,
                                const char *side, const girdle_stone *stone, int64_t pieces) {
  GIRDLE_GIVEN(call, tally, stone);
  girdle_tally_line line;
  GIRDLE_TRY(set_names(call, &line, tag, zone, side));
  GIRDLE_TRY(girdle_common_range(call, "pieces", (double)pieces, 0, (double)PIECES_MOST, ""));
  set_pieces(&line, stone, pieces);
  GIRDLE_TRY(reserve(call, tally, 1));
  GIRDLE_TRY(check_line(call, tally, &line));
  add_line(tally, &line);
  return GIRDLE_OK;
}

/* Equal stones of one placement could pass the limit together, so the sum of all its records is what is checked. */
static int32_t add_counts(girdle_call *call, girdle_tally *tally, girdle_tally_line *line, const girdle_stone *stones,
                          uint32_t stone_count, const int64_t *counts, int64_t all) {
  GIRDLE_TRY(reserve(call, tally, stone_count));
  for (uint32_t i = 0; i < stone_count; i++) {
    set_pieces(line, &stones[i], all);
    if (counts[i]) GIRDLE_TRY(check_line(call, tally, line));
  }
  for (uint32_t i = 0; i < stone_count; i++) {
    set_pieces(line, &stones[i], counts[i]);
    add_line(tally, line);
  }
  return GIRDLE_OK;
}

int32_t girdle_tally_add(girdle_call *call, girdle_tally *tally, const char *tag, const char *zone, const char *side,
                         int64_t times, const girdle_placement *placement) {
  GIRDLE_GIVEN(call, tally, placement);
  girdle_allocator memory = girdle_common_memory(call);
  girdle_tally_line line;
  const girdle_placed *records;
  const girdle_stone *stones;
  uint32_t stone_count;
  int64_t count = girdle_placement_view(placement, &records, &stones, &stone_count), *counts;
  int32_t status;
  GIRDLE_TRY(set_names(call, &line, tag, zone, side));
  GIRDLE_TRY(girdle_common_range(call, "times", (double)times, 1, 1e6, ""));
  if (count > PIECES_MOST / times)
    return girdle_common_fail(call, GIRDLE_LIMIT, "times", "more than 1e12 pieces in zone '%s'", line.zone);
  if (count == 0) return GIRDLE_OK;
  counts = girdle_common_new(call, stone_count * sizeof *counts);
  if (!counts) return GIRDLE_MEMORY;
  for (int64_t i = 0; i < count; i++)
    counts[records[i].stone] += times;
  status = add_counts(call, tally, &line, stones, stone_count, counts, count * times);
  girdle_common_release(&memory, counts, stone_count * sizeof *counts);
  return status;
}

int32_t girdle_tally_add_all(girdle_call *call, girdle_tally *tally, const girdle_tally *from) {
  GIRDLE_GIVEN(call, tally, from);
  uint64_t count = from->count;
  GIRDLE_TRY(reserve(call, tally, count));
  for (uint64_t i = 0; i < count; i++)
    GIRDLE_TRY(check_line(call, tally, &from->lines[i]));
  for (uint64_t i = 0; i < count; i++)
    add_line(tally, &from->lines[i]);
  return GIRDLE_OK;
}

void girdle_tally_reweigh(girdle_tally *tally, const girdle_stone *weighed, uint64_t weighed_count) {
  girdle_catalogue own = {.struct_bytes = sizeof own, .weighed = weighed, .weighed_count = weighed_count};
  for (uint64_t i = 0; i < tally->count; i++) {
    girdle_tally_line *line = &tally->lines[i];
    const girdle_stone *found = girdle_weighed_find(&line->stone, &own);
    girdle_stone stone = line->stone;
    if (!found) continue;
    memcpy(stone.mass_mg, found->mass_mg, sizeof stone.mass_mg);
    stone.flags = found->flags;
    set_pieces(line, &stone, line->count);
  }
}

/* ---- comparing */

static int64_t count_of(const girdle_tally *tally, const girdle_tally_line *line) {
  uint64_t number = tally->slot_count ? *slot_of(tally, line) : 0;
  return number ? tally->lines[number - 1].count : 0;
}

/* Adds what `more` has above `less`, line by line. */
static int32_t add_surplus(girdle_call *call, girdle_tally *out, const girdle_tally *more, const girdle_tally *less) {
  for (uint64_t i = 0; i < more->count; i++) {
    girdle_tally_line line = more->lines[i];
    int64_t surplus = line.count - count_of(less, &line);
    if (surplus <= 0) continue;
    set_pieces(&line, &more->lines[i].stone, surplus);
    GIRDLE_TRY(reserve(call, out, 1));
    add_line(out, &line);
  }
  return GIRDLE_OK;
}

int32_t girdle_tally_compare(girdle_call *call, const girdle_tally *before, const girdle_tally *after,
                             girdle_tally **add, girdle_tally **take_off) {
  GIRDLE_GIVEN(call, before, after, add, take_off);
  girdle_tally *more = NULL, *less = NULL;
  int32_t status = girdle_tally_new(call, &more);
  if (!status) status = girdle_tally_new(call, &less);
  if (!status) status = add_surplus(call, more, after, before);
  if (!status) status = add_surplus(call, less, before, after);
  if (status) {
    girdle_tally_free(more);
    girdle_tally_free(less);
    return status;
  }
  *add = more;
  *take_off = less;
  return GIRDLE_OK;
}

/* ---- looking */

const girdle_tally_line *girdle_tally_lines(const girdle_tally *tally, uint64_t *count) {
  *count = tally->count;
  return tally->lines;
}

void girdle_tally_total(const girdle_tally *tally, girdle_tally_line *out) {
  memset(out, 0, sizeof *out);
  for (uint64_t i = 0; i < tally->count; i++)
    sum_into(out, &tally->lines[i]);
}

/* ---- one line a stone */

typedef struct sort_key {
  double diameter_mm;
  char text[192]; /* no stone's text is longer */
} sort_key;

static int comes_before(const sort_key *a, const sort_key *b) {
  if (a->diameter_mm != b->diameter_mm) return a->diameter_mm > b->diameter_mm;
  return strcmp(a->text, b->text) < 0;
}

/* Binary insertion of indices: the stones of a club are few. */
static void sort_order(const sort_key *keys, uint64_t *order, uint64_t count) {
  for (uint64_t i = 0; i < count; i++) {
    uint64_t low = 0, high = i;
    while (low < high) {
      uint64_t middle = (low + high) / 2;
      if (comes_before(&keys[i], &keys[order[middle]]))
        high = middle;
      else
        low = middle + 1;
    }
    memmove(order + low + 1, order + low, (i - low) * sizeof *order);
    order[low] = i;
  }
}

static int32_t sorted(girdle_call *call, const girdle_tally *tally, girdle_tally *out) {
  girdle_allocator memory = girdle_common_memory(call);
  uint64_t count = tally->count, *order = girdle_common_new(call, (count + 1) * sizeof *order);
  sort_key *keys = order ? girdle_common_new(call, (count + 1) * sizeof *keys) : NULL;
  int32_t status = keys ? reserve(call, out, count) : GIRDLE_MEMORY;
  for (uint64_t i = 0; i < count && !status; i++) {
    keys[i].diameter_mm = tally->lines[i].stone.diameter_mm[GIRDLE_NOMINAL];
    girdle_stone_text(&tally->lines[i].stone, keys[i].text, sizeof keys[i].text);
  }
  if (!status) sort_order(keys, order, count);
  for (uint64_t i = 0; i < count && !status; i++)
    add_line(out, &tally->lines[order[i]]);
  girdle_common_release(&memory, keys, (count + 1) * sizeof *keys);
  girdle_common_release(&memory, order, (count + 1) * sizeof *order);
  return status;
}

/* Adds every line under empty names. */
static int32_t merged(girdle_call *call, const girdle_tally *tally, girdle_tally *out) {
  for (uint64_t i = 0; i < tally->count; i++) {
    girdle_tally_line line = tally->lines[i];
    line.tag[0] = line.zone[0] = line.side[0] = '\0';
    GIRDLE_TRY(reserve(call, out, 1));
    GIRDLE_TRY(check_line(call, out, &line));
    add_line(out, &line);
  }
  return GIRDLE_OK;
}

int32_t girdle_tally_by_stone(girdle_call *call, const girdle_tally *tally, girdle_tally **out) {
  GIRDLE_GIVEN(call, tally, out);
  girdle_tally *loose = NULL, *result = NULL;
  int32_t status = girdle_tally_new(call, &loose);
  if (!status) status = girdle_tally_new(call, &result);
  if (!status) status = merged(call, tally, loose);
  if (!status) status = sorted(call, loose, result);
  girdle_tally_free(loose);
  if (status)
    girdle_tally_free(result);
  else
    *out = result;
  return status;
}
