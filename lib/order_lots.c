/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "order_plan_internal.h"
#include "sort_internal.h"

/* What is left of a lot of stone number `stone`. */
typedef struct lot_left {
  uint64_t stone;
  int64_t pieces, held;
  const char *name;
  int32_t bought;
  uint64_t index;
} lot_left;

typedef struct line_to_work {
  const girdle_tally_line *line;
  uint64_t stone, index;
} line_to_work;

typedef struct storeroom {
  girdle_call *call;
  lot_left *lots;      /* by stone, the largest first */
  line_to_work *lines; /* by stone, the most visible first */
  uint64_t lot_count, lot_capacity, line_count;
} storeroom;

/* ---- lots */

/* Rows of one stone and lot are one. */
static void add_lot(storeroom *room, uint64_t stone, const char *name, int64_t pieces, int32_t bought) {
  if (pieces <= 0) return;
  for (uint64_t i = 0; i < room->lot_count; i++) {
    lot_left *lot = &room->lots[i];
    if (lot->stone != stone || lot->bought != bought || strcmp(lot->name, name) != 0) continue;
    lot->pieces += pieces; /* the order's stock was checked to fit */
    lot->held += pieces;
    return;
  }
  room->lots[room->lot_count] = (lot_left){stone, pieces, pieces, name, bought, room->lot_count};
  room->lot_count++;
}

static int compare_lots(const void *a, const void *b) {
  const lot_left *one = a, *two = b;
  if (one->stone != two->stone) return one->stone < two->stone ? -1 : 1;
  if (one->held != two->held) return one->held > two->held ? -1 : 1;
  return one->index < two->index ? -1 : one->index > two->index;
}

static void list_lots(storeroom *room, const girdle_order *order, const girdle_order_options *options) {
  for (uint64_t i = 0; i < options->stock_count; i++) {
    const uint64_t stone = girdle_order_find(order, &options->stock[i].stone);
    if (stone < order->stone_count) add_lot(room, stone, options->stock[i].lot, options->stock[i].pieces, 0);
  }
  for (uint64_t i = 0; i < order->stone_count; i++)
    add_lot(room, i, "", order->stones[i].bought, 1);
  girdle_sort(room->lots, room->lot_count, sizeof *room->lots, compare_lots);
}

/* ---- lines */

static int hiddenness(const girdle_tally_line *line) {
  return strcmp(line->side, "front") == 0 ? 0 : strcmp(line->side, "back") == 0 ? 2 : 1;
}

static int compare_lines(const void *a, const void *b) {
  const line_to_work *one = a, *two = b;
  const int hidden = hiddenness(one->line) - hiddenness(two->line);
  if (one->stone != two->stone) return one->stone < two->stone ? -1 : 1;
  if (hidden) return hidden;
  if (one->line->count != two->line->count) return one->line->count > two->line->count ? -1 : 1;
  return one->index < two->index ? -1 : one->index > two->index;
}

static void list_lines(storeroom *room, const girdle_order *order, const girdle_tally_line *lines, uint64_t count) {
  for (uint64_t i = 0; i < count; i++)
    room->lines[i] = (line_to_work){&lines[i], girdle_order_find(order, &lines[i].stone), i};
  room->line_count = count;
  girdle_sort(room->lines, count, sizeof *room->lines, compare_lines);
}

/* ---- sharing out */

static void describe(const line_to_work *work, const lot_left *lot, int mixed, girdle_lot_use *use) {
  memset(use, 0, sizeof *use);
  girdle_common_text(use->tag, sizeof use->tag, work->line->tag);
  girdle_common_text(use->zone, sizeof use->zone, work->line->zone);
  girdle_common_text(use->side, sizeof use->side, work->line->side);
  if (lot) girdle_common_text(use->lot, sizeof use->lot, lot->name);
  use->stone = work->line->stone;
  use->pieces = work->line->count;
  use->bought = lot ? lot->bought : 0;
  use->mixed = mixed;
}

/* The first of lots [first, end) that holds enough; when none does, NULL. */
static lot_left *lot_with(storeroom *room, uint64_t first, uint64_t end, int64_t pieces) {
  for (uint64_t i = first; i < end; i++)
    if (room->lots[i].pieces >= pieces) return &room->lots[i];
  return NULL;
}

/* Takes what there is from one lot after the other. The first with anything left gives the use its name. */
static const lot_left *take_from_several(storeroom *room, uint64_t first, uint64_t end, int64_t pieces) {
  const lot_left *named = NULL;
  for (uint64_t i = first; i < end && pieces > 0; i++) {
    const int64_t taken = room->lots[i].pieces < pieces ? room->lots[i].pieces : pieces;
    if (taken > 0 && !named) named = &room->lots[i];
    room->lots[i].pieces -= taken;
    pieces -= taken;
  }
  return named;
}

static void share_out(storeroom *room, girdle_lot_use *uses, uint64_t capacity) {
  uint64_t first = 0, end = 0;
  for (uint64_t i = 0; i < room->line_count; i++) {
    const line_to_work *work = &room->lines[i];
    const lot_left *from;
    lot_left *whole;
    for (; first < room->lot_count && room->lots[first].stone < work->stone; first++)
      end = first + 1;
    for (end = end < first ? first : end; end < room->lot_count && room->lots[end].stone == work->stone;)
      end++;
    whole = lot_with(room, first, end, work->line->count);
    if (whole) whole->pieces -= work->line->count;
    from = whole ? whole : take_from_several(room, first, end, work->line->count);
    if (work->index < capacity) describe(work, from, !whole, &uses[work->index]);
  }
}

int32_t girdle_order_lots(girdle_call *call, const girdle_order *order, const girdle_tally *needs,
                          const girdle_order_options *options, girdle_lot_use *uses, uint64_t capacity,
                          uint64_t *count) {
  const girdle_allocator memory = girdle_common_memory(call);
  girdle_order_options own;
  storeroom room = {.call = call};
  uint64_t line_count, lot_bytes, line_bytes;
  const girdle_tally_line *lines = girdle_tally_lines(needs, &line_count);
  int32_t status = GIRDLE_MEMORY;
  girdle_order_options_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, options);
  lot_bytes = (own.stock_count + order->stone_count + 1) * sizeof *room.lots;
  line_bytes = (line_count + 1) * sizeof *room.lines;
  room.lots = girdle_common_new(call, lot_bytes);
  room.lines = girdle_common_new(call, line_bytes);
  if (room.lots && room.lines) {
    list_lots(&room, order, &own);
    list_lines(&room, order, lines, line_count);
    share_out(&room, uses, capacity);
    *count = line_count;
    status = GIRDLE_OK;
  }
  girdle_common_release(&memory, room.lots, lot_bytes);
  girdle_common_release(&memory, room.lines, line_bytes);
  return status;
}
