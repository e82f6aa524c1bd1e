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
  const char *from; /* the lot in stock that serves all of it; NULL: none does */
  int64_t pieces;
  int32_t hidden; /* how little the line's side shows */
} line_to_work;

typedef struct storeroom {
  girdle_call *call;
  lot_left *lots;      /* by stone, the largest first */
  line_to_work *lines; /* by stone, the most visible first */
  uint64_t lot_count, lot_capacity, line_count, line_capacity;
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

static void list_stock(storeroom *room, const girdle_order *order, const girdle_order_options *options) {
  for (uint64_t i = 0; i < options->stock_count; i++) {
    const uint64_t stone = girdle_order_find(order, &options->stock[i].stone);
    if (stone < order->stone_count) add_lot(room, stone, options->stock[i].lot, options->stock[i].pieces, 0);
  }
  girdle_sort(room->lots, room->lot_count, sizeof *room->lots, compare_lots);
}

/* What is bought of a stone is a lot for each supplier, which bears its name when there are several. */
static void list_bought(storeroom *room, const girdle_order *order) {
  for (uint64_t i = 0; i < order->stone_count; i++) {
    const girdle_order_stone *stone = &order->stones[i];
    const char *only = NULL;
    int several = 0;
    for (uint64_t k = 0; k < order->line_count; k++) {
      if (!girdle_stone_equal(&order->lines[k].stone, &stone->stone)) continue;
      several |= only && strcmp(only, order->lines[k].supplier) != 0;
      only = order->lines[k].supplier;
    }
    if (!several) add_lot(room, i, "", stone->bought, 1);
    for (uint64_t k = 0; k < order->line_count && several; k++)
      if (girdle_stone_equal(&order->lines[k].stone, &stone->stone))
        add_lot(room, i, order->lines[k].supplier, order->lines[k].packs * order->lines[k].pack_pieces, 1);
  }
}

/* ---- lines */

static int32_t hiddenness(const girdle_tally_line *line) {
  return strcmp(line->side, "front") == 0 ? 0 : strcmp(line->side, "back") == 0 ? 2 : 1;
}

static int compare_lines(const void *a, const void *b) {
  const line_to_work *one = a, *two = b;
  if (one->stone != two->stone) return one->stone < two->stone ? -1 : 1;
  if (one->hidden != two->hidden) return one->hidden - two->hidden;
  if (one->pieces != two->pieces) return one->pieces > two->pieces ? -1 : 1;
  return one->index < two->index ? -1 : one->index > two->index;
}

static void list_lines(storeroom *room, const girdle_order *order, const girdle_tally_line *lines, uint64_t count) {
  for (uint64_t i = 0; i < count; i++)
    room->lines[i] = (line_to_work){
        &lines[i], girdle_order_find(order, &lines[i].stone), i, NULL, lines[i].count, hiddenness(&lines[i])};
  room->line_count = count;
  girdle_sort(room->lines, count, sizeof *room->lines, compare_lines);
}

/* ---- whole lines from stock */

/* The lots [first, end) of a stone. Lots in stock stand by stone. */
static void find_lots(const storeroom *room, uint64_t stone, uint64_t *first, uint64_t *end) {
  for (*first = 0; *first < room->lot_count && room->lots[*first].stone != stone;)
    ++*first;
  for (*end = *first; *end < room->lot_count && room->lots[*end].stone == stone;)
    ++*end;
}

/* The first of lots [first, end) that holds enough; when none does, NULL. With `named` those with a name alone. */
static lot_left *lot_with(storeroom *room, uint64_t first, uint64_t end, int64_t pieces, int named) {
  for (uint64_t i = first; i < end; i++)
    if (room->lots[i].pieces >= pieces && (!named || room->lots[i].name[0])) return &room->lots[i];
  return NULL;
}

/* Lets the named lots of one stone serve whole lines of [begin, stop): when the largest holds most of what is needed,
 * the lines that show most, else those that show least. Returns the pieces. */
static int64_t serve_stone(storeroom *room, uint64_t begin, uint64_t stop) {
  int64_t needed = 0, largest = 0, served = 0;
  uint64_t first, end;
  find_lots(room, room->lines[begin].stone, &first, &end);
  for (uint64_t i = begin; i < stop; i++)
    needed += room->lines[i].line->count;
  for (uint64_t i = first; i < end; i++)
    if (room->lots[i].name[0] && room->lots[i].held > largest) largest = room->lots[i].held;
  for (uint64_t i = begin; i < stop && largest; i++) {
    line_to_work *work = &room->lines[2 * largest >= needed ? i : stop - 1 - (i - begin)];
    lot_left *lot = lot_with(room, first, end, work->line->count, 1);
    if (!lot) continue;
    work->from = lot->name;
    lot->pieces -= work->line->count;
    served += work->line->count;
  }
  return served;
}

/* The same for all stones; served[stone], when not NULL, receives each one's pieces. */
static void serve(storeroom *room, int64_t *served) {
  for (uint64_t begin = 0, stop; begin < room->line_count; begin = stop) {
    int64_t pieces;
    for (stop = begin + 1; stop < room->line_count && room->lines[stop].stone == room->lines[begin].stone;)
      stop++;
    pieces = serve_stone(room, begin, stop);
    if (served) served[room->lines[begin].stone] = pieces;
  }
}

/* ---- sharing out */

static void describe(const line_to_work *work, const char *lot, int32_t bought, int32_t mixed, girdle_lot_use *use) {
  memset(use, 0, sizeof *use);
  girdle_common_text(use->tag, sizeof use->tag, work->line->tag);
  girdle_common_text(use->zone, sizeof use->zone, work->line->zone);
  girdle_common_text(use->side, sizeof use->side, work->line->side);
  girdle_common_text(use->lot, sizeof use->lot, lot);
  use->stone = work->line->stone;
  use->pieces = work->line->count;
  use->bought = bought;
  use->mixed = mixed;
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

/* What no lot in stock serves whole comes from what is bought, or from stock whose lot is not known. */
static void share_out(storeroom *room, girdle_lot_use *uses, uint64_t capacity) {
  uint64_t first = 0, end = 0;
  girdle_lot_use ignored;
  for (uint64_t i = 0; i < room->line_count; i++) {
    const line_to_work *work = &room->lines[i];
    girdle_lot_use *use = work->index < capacity ? &uses[work->index] : &ignored;
    const lot_left *from;
    lot_left *whole;
    if (i == 0 || room->lines[i - 1].stone != work->stone) find_lots(room, work->stone, &first, &end);
    if (work->from) {
      describe(work, work->from, 0, 0, use);
      continue;
    }
    whole = lot_with(room, first, end, work->line->count, 0);
    if (whole) whole->pieces -= work->line->count;
    from = whole ? whole : take_from_several(room, first, end, work->line->count);
    describe(work, from ? from->name : "", from ? from->bought : 0, !whole, use);
  }
}

static int32_t open_room(girdle_call *call, const girdle_order *order, const girdle_tally *needs,
                         const girdle_order_options *options, storeroom *room) {
  const girdle_tally_line *lines = girdle_tally_lines(needs, &room->line_count);
  room->call = call;
  room->lot_capacity = options->stock_count + order->stone_count + order->line_count + 1;
  room->line_capacity = room->line_count + 1;
  room->lots = girdle_common_new(call, room->lot_capacity * sizeof *room->lots);
  room->lines = girdle_common_new(call, room->line_capacity * sizeof *room->lines);
  if (!room->lots || !room->lines) return GIRDLE_MEMORY;
  list_stock(room, order, options);
  list_lines(room, order, lines, room->line_count);
  return GIRDLE_OK;
}

static void close_room(const storeroom *room) {
  const girdle_allocator memory = girdle_common_memory(room->call);
  girdle_common_release(&memory, room->lots, room->lot_capacity * sizeof *room->lots);
  girdle_common_release(&memory, room->lines, room->line_capacity * sizeof *room->lines);
}

int32_t girdle_order_serve(girdle_call *call, const girdle_order *order, const girdle_tally *needs,
                           const girdle_order_options *options, int64_t *served) {
  storeroom room = {.call = call};
  const int32_t status = open_room(call, order, needs, options, &room);
  if (!status) serve(&room, served);
  close_room(&room);
  return status;
}

int32_t girdle_order_lots(girdle_call *call, const girdle_order *order, const girdle_tally *needs,
                          const girdle_order_options *options, girdle_lot_use *uses, uint64_t capacity,
                          uint64_t *count) {
  girdle_order_options own;
  storeroom room = {.call = call};
  int32_t status;
  girdle_order_options_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, options);
  status = open_room(call, order, needs, &own, &room);
  if (!status) {
    serve(&room, NULL);
    list_bought(&room, order);
    girdle_sort(room.lots, room.lot_count, sizeof *room.lots, compare_lots);
    share_out(&room, uses, capacity);
    *count = room.line_count;
  }
  close_room(&room);
  return status;
}
