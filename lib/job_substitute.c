/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"

#include <string.h>

#include "common.h"
#include "job_internal.h"

/* One stone in the place of another, in every zone of a job. */

static int32_t check_size(girdle_call *call, const girdle_stone *stone, const girdle_stone *instead) {
  char was[160], is[160];
  if (girdle_stone_same_place(stone, instead)) return GIRDLE_OK;
  girdle_stone_text(stone, was, sizeof was);
  girdle_stone_text(instead, is, sizeof is);
  return girdle_common_fail(
      call, GIRDLE_ARGUMENT, "instead",
      "'%.60s' cannot stand where '%.60s' does: another size or outline has another place; change "
      "the costume",
      is, was);
}

static void replace(girdle_stone *stones, uint64_t count, const girdle_stone *stone, const girdle_stone *instead) {
  for (uint64_t i = 0; i < count; i++)
    if (girdle_stone_equal(&stones[i], stone)) stones[i] = *instead;
}

static int32_t with_other(girdle_call *call, const girdle_placement *of, const girdle_stone *stone,
                          const girdle_stone *instead, girdle_placement **out) {
  girdle_allocator memory = girdle_common_memory(call);
  const girdle_placed *records;
  const girdle_stone *stones;
  uint32_t kinds;
  int64_t count = girdle_placement_view(of, &records, &stones, &kinds);
  girdle_stone *own = girdle_common_copy(call, stones, kinds * sizeof *own);
  int32_t status;
  if (!own) return GIRDLE_MEMORY;
  replace(own, kinds, stone, instead);
  status = girdle_placement_new(call, own, kinds, records, (uint64_t)count, out);
  girdle_common_release(&memory, own, kinds * sizeof *own);
  return status;
}

static int32_t in_zone(girdle_call *call, girdle_zone *zone, const girdle_stone *stone, const girdle_stone *instead,
                       int64_t *pieces) {
  int64_t placed = zone->placement ? girdle_placement_pieces(zone->placement, stone) : 0;
  girdle_placement *made;
  if (placed) {
    GIRDLE_TRY(with_other(call, zone->placement, stone, instead, &made));
    girdle_placement_free((girdle_placement *)(uintptr_t)zone->placement); /* the job's own copy */
    zone->placement = made;
  }
  for (uint64_t i = 0; i < zone->already_count; i++)
    if (girdle_stone_equal(&zone->already[i], stone)) placed += zone->already_pieces[i];
  replace((girdle_stone *)(uintptr_t)zone->already, zone->already_count, stone, instead);
  *pieces += placed * zone->times;
  return GIRDLE_OK;
}

int32_t girdle_job_substitute(girdle_call *call, girdle_job *job, const girdle_stone *stone,
                              const girdle_stone *instead, int64_t *pieces) {
  GIRDLE_GIVEN(call, job, stone, instead, pieces);
  uint64_t count;
  girdle_zone *zones = girdle_job_own_zones(job, &count);
  *pieces = 0;
  GIRDLE_TRY(check_size(call, stone, instead));
  for (uint64_t i = 0; i < count; i++)
    GIRDLE_TRY(in_zone(call, &zones[i], stone, instead, pieces));
  return GIRDLE_OK;
}
