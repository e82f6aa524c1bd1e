/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "html_internal.h"

#include <string.h>

#include "common.h"

/* The order has so many spares of each stone; bags and sheets hold those and no more. */

typedef struct sharing {
  girdle_call *call;
  const girdle_tally_line *lines;
  uint64_t count;
  int64_t *weights, *parts;
} sharing;

static int32_t share_stone(const sharing *s, const girdle_order_stone *stone, int64_t *spares) {
  if (stone->needed <= 0) return GIRDLE_OK;
  for (uint64_t i = 0; i < s->count; i++)
    s->weights[i] = girdle_stone_equal(&s->lines[i].stone, &stone->stone) ? s->lines[i].count : 0;
  GIRDLE_TRY(girdle_money_split(s->call, stone->lost, s->weights, s->count, s->parts));
  for (uint64_t i = 0; i < s->count; i++)
    spares[i] += s->parts[i];
  return girdle_common_tick(s->call, s->count, -1);
}

static int32_t share_all(girdle_call *call, const girdle_tally *tally, const girdle_order *order, int64_t *room,
                         girdle_spare_parts *out) {
  uint64_t stone_count;
  const girdle_order_stone *stones = girdle_order_stones(order, &stone_count);
  sharing s = {call, NULL, 0, room, room};
  s.lines = girdle_tally_lines(tally, &s.count);
  s.parts = room + s.count;
  for (uint64_t i = 0; i < stone_count; i++)
    GIRDLE_TRY(share_stone(&s, &stones[i], out->of_line));
  return GIRDLE_OK;
}

int32_t girdle_spare_parts_make(girdle_call *call, const girdle_reckoning *reckoning, girdle_spare_parts *out) {
  const girdle_order *order = girdle_reckoning_order(reckoning);
  const girdle_allocator memory = girdle_common_memory(call);
  int64_t *room;
  uint64_t bytes;
  int32_t status = GIRDLE_OK;
  out->memory = memory;
  out->lines = girdle_tally_lines(girdle_reckoning_tally(reckoning), &out->count);
  out->of_line = girdle_common_new(call, (out->count + 1) * sizeof *out->of_line);
  if (!out->of_line) return GIRDLE_MEMORY;
  if (!order || !out->count) return GIRDLE_OK;
  bytes = 2 * out->count * sizeof *room;
  room = girdle_common_new(call, bytes);
  status = room ? share_all(call, girdle_reckoning_tally(reckoning), order, room, out) : GIRDLE_MEMORY;
  girdle_common_release(&memory, room, bytes);
  return status;
}

void girdle_spare_parts_free(girdle_spare_parts *of) {
  girdle_common_release(&of->memory, of->of_line, (of->count + 1) * sizeof *of->of_line);
  of->of_line = NULL;
}

int64_t girdle_spare_parts_of(const girdle_spare_parts *of, const char *tag, const girdle_stone *stone) {
  int64_t sum = 0;
  for (uint64_t i = 0; i < of->count; i++)
    if (strcmp(of->lines[i].tag, tag) == 0 && girdle_stone_equal(&of->lines[i].stone, stone)) sum += of->of_line[i];
  return sum;
}
