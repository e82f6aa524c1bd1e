/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "map_internal.h"

#include <string.h>

enum { MOST_KINDS = 1000 };

void girdle_kinds_free(girdle_kinds *kinds) {
  girdle_common_release(&kinds->memory, kinds->kinds, kinds->capacity * sizeof *kinds->kinds);
}

uint64_t girdle_kinds_find(const girdle_kinds *kinds, const girdle_stone *stone) {
  uint64_t i = 0;
  while (i < kinds->count && !girdle_stone_equal(&kinds->kinds[i].stone, stone))
    i++;
  return i;
}

static int32_t add_kinds(girdle_call *call, const girdle_tally *by_stone, girdle_kinds *out) {
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(by_stone, &count);
  if (count > MOST_KINDS)
    return girdle_common_fail(call, GIRDLE_LIMIT, "stone", "a sheet shows at most %d kinds of stone, not %llu",
                              MOST_KINDS, (unsigned long long)count);
  GIRDLE_TRY(girdle_common_grow(call, &out->memory, (void **)&out->kinds, &out->capacity, count, sizeof *out->kinds));
  for (uint64_t i = 0; i < count; i++) {
    girdle_kind *kind = &out->kinds[i];
    memset(kind, 0, sizeof *kind);
    kind->stone = lines[i].stone;
    kind->count = lines[i].count;
    girdle_stone_text(&kind->stone, kind->name, GIRDLE_STONE_TEXT);
    girdle_ink_of(kind->stone.colour, &kind->ink);
  }
  out->count = count;
  return GIRDLE_OK;
}

int32_t girdle_kinds_of(girdle_call *call, const girdle_tally *tally, girdle_kinds *out) {
  girdle_tally *by_stone;
  int32_t status;
  memset(out, 0, sizeof *out);
  out->memory = girdle_common_memory(call);
  GIRDLE_TRY(girdle_tally_by_stone(call, tally, &by_stone));
  status = add_kinds(call, by_stone, out);
  girdle_tally_free(by_stone);
  if (!status) return GIRDLE_OK;
  girdle_kinds_free(out);
  memset(out, 0, sizeof *out);
  out->memory = girdle_common_memory(call);
  return status;
}

int32_t girdle_kinds_make(girdle_call *call, const girdle_job *job, girdle_kinds *out) {
  girdle_tally *tally;
  int32_t status;
  memset(out, 0, sizeof *out);
  out->memory = girdle_common_memory(call);
  GIRDLE_TRY(girdle_job_tally(call, job, &tally));
  status = girdle_kinds_of(call, tally, out);
  girdle_tally_free(tally);
  return status;
}

/* ---- records by their stones */

void girdle_sorted_free(girdle_sorted *sorted) {
  girdle_common_release(&sorted->memory, sorted->order, (sorted->count + 1) * sizeof *sorted->order);
  girdle_common_release(&sorted->memory, sorted->starts, (sorted->stone_count + 1) * sizeof *sorted->starts);
}

/* A counting sort keeps the records' own order within each stone. */
int32_t girdle_sorted_make(girdle_call *call, const girdle_placement *placement, girdle_sorted *out) {
  uint32_t stone_count = 0;
  memset(out, 0, sizeof *out);
  out->memory = girdle_common_memory(call);
  if (placement) out->count = (uint64_t)girdle_placement_view(placement, &out->records, &out->stones, &stone_count);
  out->stone_count = stone_count;
  if (out->count >= UINT32_MAX)
    return girdle_common_fail(call, GIRDLE_LIMIT, NULL, "a zone has too many stones to draw");
  out->order = girdle_common_new(call, (out->count + 1) * sizeof *out->order);
  out->starts = girdle_common_new(call, (out->stone_count + 1) * sizeof *out->starts);
  if (!out->order || !out->starts) {
    girdle_sorted_free(out);
    return GIRDLE_MEMORY;
  }
  for (uint64_t i = 0; i < out->count; i++)
    out->starts[out->records[i].stone]++;
  for (uint64_t i = 0, sum = 0; i <= out->stone_count; i++) {
    sum += out->starts[i];
    out->starts[i] = sum; /* one past the stone's last; counted down to its first below */
  }
  for (uint64_t i = out->count; i-- > 0;)
    out->order[--out->starts[out->records[i].stone]] = (uint32_t)i;
  return GIRDLE_OK;
}
