/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "text_internal.h"

#include <string.h>

/* From which lot or supplier each line is worked. */

/* The lot's name, or the supplier's: of what is bought a use says it only when there are several, and as much as fits.
 */
static const char *name_of(const girdle_order *order, const girdle_lot_use *use) {
  uint64_t count;
  const girdle_order_line *lines = girdle_order_lines(order, &count);
  for (uint64_t i = 0; i < count && use->bought; i++)
    if (girdle_stone_equal(&lines[i].stone, &use->stone) && strncmp(lines[i].supplier, use->lot, strlen(use->lot)) == 0)
      return lines[i].supplier;
  return use->lot;
}

void girdle_lot_words(const girdle_phrased *phrases, const girdle_order *order, const girdle_lot_use *use, char *text,
                      uint64_t bytes) {
  const char *english = use->lot[0] ? "lot {1}, in stock" : "in stock, its lot not known";
  if (use->bought) english = "bought from {1}";
  if (use->mixed == GIRDLE_LOT_MISSING) english = "not to be had";
  girdle_phrase_with(phrases, text, bytes, english, name_of(order, use));
}

const char *girdle_line_words(const girdle_lot_use *use) {
  static const char *const words[] = {"whole", "mixed", "longer than any lot", "missing"};
  return words[use->mixed];
}

uint64_t girdle_lot_uses_of(const girdle_order *order, const girdle_tally_line *line, uint64_t at) {
  uint64_t count, end = at;
  const girdle_lot_use *uses = girdle_order_uses(order, &count);
  for (int64_t pieces = line->count; end < count && pieces > 0; end++)
    pieces -= uses[end].pieces;
  return end - at;
}

/* Whether all of a stone is worked from one lot. */
static int is_of_one_lot(const girdle_lot_use *uses, uint64_t count, const girdle_stone *stone) {
  const girdle_lot_use *first = NULL;
  for (uint64_t i = 0; i < count; i++) {
    if (!girdle_stone_equal(&uses[i].stone, stone)) continue;
    if (!first) first = &uses[i];
    if (uses[i].bought != first->bought || uses[i].mixed || strcmp(uses[i].lot, first->lot) != 0) return 0;
  }
  return 1;
}

static void write_use(girdle_writer *out, const girdle_order *order, const girdle_lot_use *use, uint64_t wide) {
  char lot[120], pieces[24];
  girdle_lot_words(out->phrases, order, use, lot, sizeof lot);
  girdle_whole_words(use->pieces, pieces);
  girdle_write(out, "  ");
  girdle_write_right(out, pieces, 6);
  girdle_write(out, "  ");
  girdle_write_left(out, lot, wide);
  girdle_write_plain(out, use->tag);
  girdle_write(out, use->tag[0] && use->zone[0] ? ", " : "");
  girdle_write_plain(out, use->zone);
  girdle_write(out, use->side[0] ? ", " : "");
  girdle_write(out, use->side[0] ? girdle_side_words(out->phrases, use->side) : "");
  if (use->mixed == GIRDLE_LOT_LONGER || use->mixed == GIRDLE_LOT_MIXED) {
    girdle_write(out, ": ");
    girdle_say(out, use->mixed == GIRDLE_LOT_LONGER ? "a part, for it is longer than any lot"
                                                    : "a part, mixed with another lot");
  }
  girdle_write(out, "\n");
}

static void write_stone(girdle_writer *out, const girdle_order *order, const girdle_stone *stone) {
  uint64_t count, wide = 0;
  const girdle_lot_use *uses = girdle_order_uses(order, &count);
  char text[GIRDLE_STONE_TEXT];
  girdle_stone_text(stone, text, GIRDLE_STONE_TEXT);
  girdle_write(out, text);
  girdle_write(out, "\n");
  for (uint64_t i = 0; i < count; i++) {
    if (!girdle_stone_equal(&uses[i].stone, stone)) continue;
    girdle_lot_words(out->phrases, order, &uses[i], text, sizeof text);
    girdle_column_fit(&wide, text);
  }
  for (uint64_t i = 0; i < count && !out->status; i++)
    if (girdle_stone_equal(&uses[i].stone, stone)) write_use(out, order, &uses[i], wide);
}

/* Where a stone has more than one. */
void girdle_write_lots(girdle_writer *out, const girdle_order *order) {
  uint64_t count, stone_count, said = 0;
  const girdle_lot_use *uses = girdle_order_uses(order, &count);
  const girdle_order_stone *stones = girdle_order_stones(order, &stone_count);
  for (uint64_t i = 0; i < stone_count && !out->status; i++) {
    if (is_of_one_lot(uses, count, &stones[i].stone)) continue;
    if (!said++) {
      girdle_write(out, "\n");
      girdle_say(out, "Lots can differ in shade. Work each zone from the lot or supplier that is said here:");
      girdle_write(out, "\n");
    }
    write_stone(out, order, &stones[i].stone);
  }
}

/* ---- as a table */

static void text_cell(girdle_writer *out, const char *text) {
  girdle_write_cell(out, text);
  girdle_write(out, ",");
}

int32_t girdle_paper_lots_csv(girdle_call *call, const girdle_order *order, const girdle_sink *sink) {
  GIRDLE_GIVEN(call, order, sink);
  girdle_writer out;
  uint64_t count;
  const girdle_lot_use *uses = girdle_order_uses(order, &count);
  girdle_writer_begin(&out, call, sink);
  girdle_write(&out, "tag,zone,side,stone,pieces,from,lot,line\n");
  for (uint64_t i = 0; i < count && !out.status; i++) {
    char stone[GIRDLE_STONE_TEXT];
    girdle_stone_text(&uses[i].stone, stone, GIRDLE_STONE_TEXT);
    text_cell(&out, uses[i].tag);
    text_cell(&out, uses[i].zone);
    text_cell(&out, uses[i].side);
    text_cell(&out, stone);
    girdle_write_whole(&out, uses[i].pieces);
    girdle_write(&out, uses[i].mixed == GIRDLE_LOT_MISSING ? ",," : uses[i].bought ? ",bought," : ",stock,");
    text_cell(&out, name_of(order, &uses[i]));
    girdle_write(&out, girdle_line_words(&uses[i]));
    girdle_write(&out, "\n");
  }
  return girdle_writer_end(&out);
}
