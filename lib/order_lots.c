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

/* A use of a lot and the line of the tally it is for. */
typedef struct turn {
  uint64_t line, use;
} turn;

struct girdle_storeroom {
  girdle_call *call;
  girdle_allocator memory;
  lot_left *lots;       /* by stone, the largest first */
  line_to_work *lines;  /* by stone, the most visible first */
  girdle_lot_use *uses; /* as they are found */
  turn *turns;
  int splits; /* then stock of which no lot is known fills up any line, piece by piece */
  uint64_t lot_count, lot_capacity, line_count, line_capacity, use_count, use_capacity, turn_capacity;
};
typedef struct girdle_storeroom storeroom;

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

static int serves_whole(const storeroom *room, const lot_left *lot) {
  return lot->name[0] || !room->splits;
}

/* The first of lots [first, end) that serves whole lines and holds enough; when none does, NULL. */
static lot_left *lot_with(storeroom *room, uint64_t first, uint64_t end, int64_t pieces) {
  for (uint64_t i = first; i < end; i++)
    if (room->lots[i].pieces >= pieces && serves_whole(room, &room->lots[i])) return &room->lots[i];
  return NULL;
}

/* Lets the lots of one stone serve whole lines of [begin, stop): when the largest holds most of what is needed,
 * the lines that show most, else those that show least. Returns the pieces. */
static int64_t serve_stone(storeroom *room, uint64_t begin, uint64_t stop) {
  int64_t needed = 0, largest = 0, served = 0;
  uint64_t first, end;
  find_lots(room, room->lines[begin].stone, &first, &end);
  for (uint64_t i = begin; i < stop; i++)
    needed += room->lines[i].line->count;
  for (uint64_t i = first; i < end; i++)
    if (serves_whole(room, &room->lots[i]) && room->lots[i].held > largest) largest = room->lots[i].held;
  for (uint64_t i = begin; i < stop && largest; i++) {
    line_to_work *work = &room->lines[2 * largest >= needed ? i : stop - 1 - (i - begin)];
    lot_left *lot = lot_with(room, first, end, work->line->count);
    if (!lot) continue;
    work->from = lot->name;
    lot->pieces -= work->line->count;
    served += work->line->count;
  }
  return served;
}

/* The same for all stones; served[stone] receives each one's pieces. */
static void serve(storeroom *room, int64_t *served) {
  for (uint64_t begin = 0, stop; begin < room->line_count; begin = stop) {
    for (stop = begin + 1; stop < room->line_count && room->lines[stop].stone == room->lines[begin].stone;)
      stop++;
    served[room->lines[begin].stone] = serve_stone(room, begin, stop);
  }
}

/* ---- sharing out */

/* The lines of one stone that no lot in stock serves whole, those that show most first, and its lots. */
typedef struct sharing {
  uint64_t first, end; /* lots */
  uint64_t begin, count;
  int64_t *pieces, *left;
  uint64_t *lines, *chosen; /* lines: their places in the storeroom */
  int64_t longest;          /* what one lot holds at most */
} sharing;

static int32_t add_use(storeroom *room, const line_to_work *work, const char *lot, int32_t bought, int64_t pieces,
                       int32_t mixed) {
  girdle_lot_use *use;
  GIRDLE_TRY(girdle_common_grow(room->call, &room->memory, (void **)&room->turns, &room->turn_capacity,
                                room->use_count + 1, sizeof *room->turns));
  GIRDLE_TRY(girdle_common_grow(room->call, &room->memory, (void **)&room->uses, &room->use_capacity,
                                room->use_count + 1, sizeof *room->uses));
  use = &room->uses[room->use_count];
  memset(use, 0, sizeof *use);
  girdle_common_text(use->tag, sizeof use->tag, work->line->tag);
  girdle_common_text(use->zone, sizeof use->zone, work->line->zone);
  girdle_common_text(use->side, sizeof use->side, work->line->side);
  girdle_common_text(use->lot, sizeof use->lot, lot);
  use->stone = work->line->stone;
  use->pieces = pieces;
  use->bought = bought;
  use->mixed = mixed;
  room->turns[room->use_count] = (turn){work->index, room->use_count};
  room->use_count++;
  return GIRDLE_OK;
}

/* A line that no lot can serve whole takes what there is from one after the other. */
static int32_t take_from_several(storeroom *room, const sharing *of, const line_to_work *work) {
  int64_t pieces = work->line->count;
  const int32_t mixed = pieces > of->longest ? GIRDLE_LOT_LONGER : GIRDLE_LOT_MIXED;
  for (uint64_t i = of->first; i < of->end && pieces > 0; i++) {
    const int64_t taken = room->lots[i].pieces < pieces ? room->lots[i].pieces : pieces;
    if (taken == 0) continue;
    room->lots[i].pieces -= taken;
    pieces -= taken;
    GIRDLE_TRY(add_use(room, work, room->lots[i].name, room->lots[i].bought, taken, mixed));
  }
  return pieces > 0 ? add_use(room, work, "", 0, pieces, GIRDLE_LOT_MISSING) : GIRDLE_OK;
}

static int32_t write_down(storeroom *room, const sharing *of) {
  for (uint64_t i = 0; i < of->count; i++) {
    const line_to_work *work = &room->lines[of->lines[i]];
    lot_left *from;
    if (of->chosen[i] == GIRDLE_NO_LOT) continue;
    from = &room->lots[of->first + of->chosen[i]];
    from->pieces -= of->pieces[i];
    GIRDLE_TRY(add_use(room, work, from->name, from->bought, of->pieces[i], GIRDLE_LOT_WHOLE));
  }
  for (uint64_t i = 0; i < of->count; i++)
    if (of->chosen[i] == GIRDLE_NO_LOT) GIRDLE_TRY(take_from_several(room, of, &room->lines[of->lines[i]]));
  return GIRDLE_OK;
}

/* The lines [begin, stop) are of one stone. */
static int32_t share_stone(storeroom *room, sharing *of, uint64_t begin, uint64_t stop) {
  find_lots(room, room->lines[begin].stone, &of->first, &of->end);
  of->count = 0;
  of->longest = 0;
  for (uint64_t i = of->first; i < of->end; i++) {
    of->left[i - of->first] = room->lots[i].pieces;
    if (room->lots[i].held > of->longest) of->longest = room->lots[i].held;
  }
  for (uint64_t i = begin; i < stop; i++) {
    const line_to_work *work = &room->lines[i];
    if (work->from) {
      GIRDLE_TRY(add_use(room, work, work->from, 0, work->line->count, GIRDLE_LOT_WHOLE));
      continue;
    }
    of->lines[of->count] = i;
    of->pieces[of->count++] = work->line->count;
  }
  GIRDLE_TRY(girdle_lines_assign(room->call, of->pieces, of->count, of->left, of->end - of->first, of->chosen));
  return write_down(room, of);
}

static int compare_turns(const void *a, const void *b) {
  const turn *one = a, *two = b;
  if (one->line != two->line) return one->line < two->line ? -1 : 1;
  return one->use < two->use ? -1 : one->use > two->use;
}

/* The uses in the order of the tally. */
static void hand_over(storeroom *room, girdle_lot_use *uses) {
  girdle_sort(room->turns, room->use_count, sizeof *room->turns, compare_turns);
  for (uint64_t i = 0; i < room->use_count; i++)
    uses[i] = room->uses[room->turns[i].use];
}

static int32_t share_out(storeroom *room) {
  const uint64_t numbers = 3 * room->line_count + room->lot_count + 1, bytes = numbers * sizeof(int64_t);
  int64_t *room_for = girdle_common_new(room->call, bytes);
  sharing of = {0};
  int32_t status = room_for ? GIRDLE_OK : GIRDLE_MEMORY;
  if (status) return status;
  of.pieces = room_for;
  of.lines = (uint64_t *)(room_for + room->line_count);
  of.chosen = of.lines + room->line_count;
  of.left = room_for + 3 * room->line_count;
  for (uint64_t begin = 0, stop; begin < room->line_count && !status; begin = stop) {
    for (stop = begin + 1; stop < room->line_count && room->lines[stop].stone == room->lines[begin].stone;)
      stop++;
    status = share_stone(room, &of, begin, stop);
  }
  girdle_common_release(&room->memory, room_for, bytes);
  return status;
}

/* ---- the room */

static int32_t open_room(storeroom *room, const girdle_order *order, const girdle_tally *needs,
                         const girdle_order_options *options) {
  const girdle_tally_line *lines = girdle_tally_lines(needs, &room->line_count);
  room->memory = girdle_common_memory(room->call);
  room->splits = (options->flags & GIRDLE_ORDER_SPLIT) != 0;
  room->lot_capacity = options->stock_count + 1;
  room->line_capacity = room->line_count + 1;
  room->lots = girdle_common_new(room->call, room->lot_capacity * sizeof *room->lots);
  room->lines = girdle_common_new(room->call, room->line_capacity * sizeof *room->lines);
  if (!room->lots || !room->lines) return GIRDLE_MEMORY;
  list_stock(room, order, options);
  list_lines(room, order, lines, room->line_count);
  return GIRDLE_OK;
}

int32_t girdle_order_serve(girdle_ordering *ordering, const girdle_tally *needs, int64_t *served) {
  storeroom *room = girdle_common_new(ordering->call, sizeof *room);
  if (!room) return GIRDLE_MEMORY;
  ordering->room = room;
  room->call = ordering->call;
  GIRDLE_TRY(open_room(room, ordering->order, needs, ordering->options));
  serve(room, served);
  for (uint64_t i = 0; i < room->line_count; i++)
    if (!room->lines[i].from)
      ordering->lines[ordering->line_count++] = (girdle_order_row){room->lines[i].stone, room->lines[i].line->count};
  return GIRDLE_OK;
}

int32_t girdle_order_share_out(girdle_ordering *ordering) {
  storeroom *room = ordering->room;
  girdle_order *order = ordering->order;
  GIRDLE_TRY(girdle_common_grow(room->call, &room->memory, (void **)&room->lots, &room->lot_capacity,
                                room->lot_count + order->stone_count + order->line_count, sizeof *room->lots));
  list_bought(room, order);
  girdle_sort(room->lots, room->lot_count, sizeof *room->lots, compare_lots);
  GIRDLE_TRY(share_out(room));
  order->uses = girdle_common_new(ordering->call, (room->use_count + 1) * sizeof *order->uses);
  if (!order->uses) return GIRDLE_MEMORY;
  order->use_count = room->use_count;
  hand_over(room, order->uses);
  return GIRDLE_OK;
}

void girdle_order_close_room(girdle_ordering *ordering) {
  const storeroom *room = ordering->room;
  if (!room) return;
  girdle_common_release(&room->memory, room->lots, room->lot_capacity * sizeof *room->lots);
  girdle_common_release(&room->memory, room->lines, room->line_capacity * sizeof *room->lines);
  girdle_common_release(&room->memory, room->uses, room->use_capacity * sizeof *room->uses);
  girdle_common_release(&room->memory, room->turns, room->turn_capacity * sizeof *room->turns);
  girdle_common_release(&ordering->memory, ordering->room, sizeof *room);
}

const girdle_lot_use *girdle_order_uses(const girdle_order *order, uint64_t *count) {
  *count = order->use_count;
  return order->uses;
}

int32_t girdle_order_lots(girdle_call *call, const girdle_order *order, const girdle_tally *needs,
                          const girdle_order_options *options, girdle_lot_use *uses, uint64_t capacity,
                          uint64_t *count) {
  GIRDLE_GIVEN(call, order, uses || !capacity, count);
  (void)call, (void)needs, (void)options;
  for (uint64_t i = 0; i < order->use_count && i < capacity; i++)
    uses[i] = order->uses[i];
  *count = order->use_count;
  return GIRDLE_OK;
}
