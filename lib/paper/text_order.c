/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "text_internal.h"

#include <stdio.h>
#include <string.h>

/* The order by supplier, and what becomes of each stone. */

typedef struct widths {
  uint64_t packs, pack, stone, item, cost;
} widths;

static widths fit(const girdle_phrased *phrases, const girdle_order_line *lines, uint64_t count,
                  const girdle_order_total *total) {
  widths wide = {1, 4, 5, 0, 4};
  char text[GIRDLE_STONE_TEXT];
  for (uint64_t i = 0; i < count; i++) {
    girdle_whole_words(lines[i].packs, text);
    girdle_column_fit(&wide.packs, text);
    girdle_column_fit(&wide.pack, lines[i].pack);
    girdle_column_fit(&wide.item, lines[i].item);
    girdle_stone_text(&lines[i].stone, text, GIRDLE_STONE_TEXT);
    girdle_column_fit(&wide.stone, text);
  }
  girdle_money_words(phrases, total->total_minor, &total->currency, 0, text);
  girdle_column_fit(&wide.cost, text);
  return wide;
}

static void write_line(girdle_writer *out, const widths *wide, const girdle_order_line *line,
                       const girdle_currency *currency) {
  char text[GIRDLE_STONE_TEXT];
  girdle_write(out, "  ");
  girdle_whole_words(line->packs, text);
  girdle_write_right(out, text, wide->packs);
  girdle_write(out, " \303\227 ");
  girdle_write_left(out, line->pack, wide->pack);
  girdle_stone_text(&line->stone, text, GIRDLE_STONE_TEXT);
  girdle_write_left(out, text, wide->stone);
  if (wide->item) girdle_write_left(out, line->item, wide->item);
  girdle_money_words(out->phrases, line->cost_minor, currency, 0, text);
  girdle_write_right(out, text, wide->cost);
  girdle_write(out, "\n");
}

/* A label to the left and an amount under the lines' costs. */
static void write_sum(girdle_writer *out, const widths *wide, uint64_t indent, const char *phrase, int64_t minor,
                      const girdle_currency *currency) {
  char text[64], label[120];
  uint64_t before = 2 + wide->packs + 3 + wide->pack + 2 + wide->stone + 2 + (wide->item ? wide->item + 2 : 0);
  girdle_phrase_with(out->phrases, label, sizeof label, phrase, currency->code);
  girdle_write_pad(out, 0, indent);
  girdle_write(out, label);
  girdle_write_pad(out, indent + girdle_text_columns(label), before);
  girdle_money_words(out->phrases, minor, currency, 0, text);
  girdle_write_right(out, text, wide->cost);
  girdle_write(out, "\n");
}

static void write_supplier(girdle_writer *out, const widths *wide, const girdle_order *order,
                           const girdle_order_supplier *supplier, const girdle_currency *currency) {
  uint64_t count;
  const girdle_order_line *lines = girdle_order_lines(order, &count);
  char days[24], words[160];
  girdle_whole_words(supplier->delivery_days, days);
  girdle_phrase_with(out->phrases, words, sizeof words,
                     supplier->delivery_days == 1 ? "{1}, delivers in {2} day" : "{1}, delivers in {2} days",
                     supplier->supplier, days);
  girdle_write_plain(out, supplier->delivery_days ? words : supplier->supplier);
  girdle_write(out, "\n");
  for (uint64_t i = 0; i < count; i++)
    if (strcmp(lines[i].supplier, supplier->supplier) == 0) write_line(out, wide, &lines[i], currency);
  if (supplier->shipping_minor) write_sum(out, wide, 2, "shipping", supplier->shipping_minor, currency);
  write_sum(out, wide, 2, "to pay there", supplier->goods_minor + supplier->shipping_minor, currency);
  girdle_write(out, "\n");
}

static void write_total(girdle_writer *out, const widths *wide, const girdle_order_total *total) {
  char text[64];
  write_sum(out, wide, 0, "The whole order, {1}", total->total_minor, &total->currency);
  if (total->bound_minor == total->total_minor) {
    girdle_say(out, "This is the cheapest order for these prices.");
    girdle_write(out, "\n");
    return;
  }
  girdle_money_words(out->phrases, total->total_minor - total->bound_minor, &total->currency, 1, text);
  girdle_say_with(out, "At most {1} could still be saved; whether it can was not settled.", text);
  girdle_write(out, "\n");
}

/* ---- what becomes of each stone */

enum { FIGURES = 7 };

static void figures_of(const girdle_order_stone *stone, int64_t figures[FIGURES]) {
  const int64_t own[FIGURES] = {stone->needed,     stone->lost,   stone->kit,      stone->on_hand,
                                stone->from_stock, stone->bought, stone->left_over};
  memcpy(figures, own, sizeof own);
}

static void write_stones(girdle_writer *out, const girdle_order *order) {
  static const char *const phrases[FIGURES] = {"needed",     "spares", "repair kit", "on hand",
                                               "from stock", "bought", "left over"};
  const char *headings[FIGURES];
  uint64_t count, wide = 0;
  const girdle_order_stone *stones = girdle_order_stones(order, &count);
  char text[GIRDLE_STONE_TEXT];
  for (uint64_t i = 0; i < count; i++) {
    girdle_stone_text(&stones[i].stone, text, GIRDLE_STONE_TEXT);
    girdle_column_fit(&wide, text);
  }
  girdle_column_fit(&wide, girdle_phrase(out->phrases, "stone"));
  for (int k = 0; k < FIGURES; k++)
    headings[k] = girdle_phrase(out->phrases, phrases[k]);
  girdle_write(out, "\n");
  girdle_write_left(out, girdle_phrase(out->phrases, "stone"), wide);
  for (int k = 0; k < FIGURES; k++)
    girdle_write_right(out, headings[k], girdle_text_columns(headings[k]) + (k ? 2 : 0));
  girdle_write(out, "\n");
  for (uint64_t i = 0; i < count && !out->status; i++) {
    int64_t figures[FIGURES];
    girdle_stone_text(&stones[i].stone, text, GIRDLE_STONE_TEXT);
    girdle_write_left(out, text, wide);
    figures_of(&stones[i], figures);
    for (int k = 0; k < FIGURES; k++) {
      girdle_whole_words(figures[k], text);
      girdle_write_right(out, text, girdle_text_columns(headings[k]) + (k ? 2 : 0));
    }
    if (stones[i].unpriced) {
      girdle_write(out, "  ");
      girdle_say(out, "no supplier offers enough");
    }
    girdle_write(out, "\n");
  }
}

static void write_gaps(girdle_writer *out, uint64_t lines, int64_t unpriced) {
  char text[200];
  girdle_count_words(out->phrases, unpriced, "INCOMPLETE: no supplier offers enough of {1} kind of stone.",
                     "INCOMPLETE: no supplier offers enough of {1} kinds of stone.", text, sizeof text);
  if (!lines) {
    girdle_say(out, "Nothing is to be ordered.");
    girdle_write(out, "\n");
  }
  if (unpriced) {
    girdle_write(out, text);
    girdle_write(out, "\n");
  }
}

void girdle_basis_words(const girdle_phrased *phrases, const girdle_order *order, char *text, uint64_t bytes) {
  girdle_order_basis basis;
  char share[64], jobs[24];
  girdle_order_spares(order, &basis);
  girdle_number_words(phrases, 100 * basis.lost_share, 1, share);
  girdle_whole_words(basis.learned_jobs, jobs);
  girdle_phrase_with(
      phrases, text, bytes,
      basis.learned_jobs == 0
          ? "Spares: {1} % of each stone is taken to be lost while working: an assumption, until there is a log."
      : basis.learned_jobs == 1 ? "Spares: {1} % of each stone is taken to be lost while working, learned from {2} job "
                                  "of the log beside the rate."
                                : "Spares: {1} % of each stone is taken to be lost while working, learned from {2} "
                                  "jobs of the log beside the rate.",
      share, jobs);
}

/* What the spares rest on. */
static void write_basis(girdle_writer *out, const girdle_order *order) {
  girdle_order_basis basis;
  girdle_order_total total;
  char chance[64], kit[24], words[240];
  girdle_order_sum(order, &total);
  girdle_order_spares(order, &basis);
  girdle_number_words(out->phrases, 100 * basis.most_chance_short, 1, chance);
  girdle_whole_words(basis.kit_pieces, kit);
  girdle_basis_words(out->phrases, order, words, sizeof words);
  girdle_write(out, "\n");
  girdle_write(out, words);
  girdle_write(out, "\n");
  if (total.unpriced_stones)
    girdle_say_with(
        out,
        "Stones are lacking, so there is not enough whatever is lost; the repair kit is to hold {1} of each "
        "stone a costume.",
        kit);
  else if (!(basis.lost_share > 0))
    girdle_say_with(
        out,
        "No stone is taken to be lost while working, so one that is lost may be one too few; the repair kit "
        "holds {1} of each stone a costume.",
        kit);
  else
    girdle_say_with(out,
                    "With them the chance of running short of a stone is at most {1} %; the repair kit holds {2} of "
                    "each stone a costume.",
                    chance, kit);
  girdle_write(out, "\n");
}

/* Whether more of a stone lies there than is used of it, although it is wanted. */
static int keeps_lots_apart(const girdle_order *order) {
  uint64_t count;
  const girdle_order_stone *stones = girdle_order_stones(order, &count);
  for (uint64_t i = 0; i < count; i++)
    if (stones[i].from_stock < stones[i].on_hand && stones[i].bought > 0) return 1;
  return 0;
}

static void write_lots(girdle_writer *out, const girdle_order *order) {
  if (keeps_lots_apart(order)) {
    girdle_say(out, "Stock of one lot serves whole zones only, since lots can differ in shade.");
    girdle_write(out, "\n");
  }
  girdle_write_lots(out, order);
}

int32_t girdle_paper_order_text(girdle_call *call, const girdle_order *order, const girdle_sink *sink) {
  GIRDLE_GIVEN(call, order, sink);
  girdle_writer out;
  girdle_order_total total;
  uint64_t lines, suppliers;
  const girdle_order_supplier *supplier = girdle_order_suppliers(order, &suppliers);
  const girdle_order_line *line = girdle_order_lines(order, &lines);
  widths wide;
  girdle_order_sum(order, &total);
  girdle_writer_begin(&out, call, sink);
  wide = fit(out.phrases, line, lines, &total);
  for (uint64_t i = 0; i < suppliers && !out.status; i++)
    write_supplier(&out, &wide, order, &supplier[i], &total.currency);
  if (lines) write_total(&out, &wide, &total);
  write_gaps(&out, lines, total.unpriced_stones);
  write_stones(&out, order);
  write_basis(&out, order);
  write_lots(&out, order);
  return girdle_writer_end(&out);
}
