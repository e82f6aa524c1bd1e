/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "text_internal.h"

#include <stdio.h>
#include <string.h>

/* The order by supplier, and what becomes of each stone. */

typedef struct widths {
  uint64_t packs, pack, stone, item, cost;
} widths;

static void money(int64_t minor, const girdle_currency *currency, char text[64]) {
  girdle_money_text(minor, currency, 0, text, 64);
}

static void whole(int64_t value, char text[24]) {
  girdle_number_text((double)value, 0, text, 24);
}

static widths fit(const girdle_order_line *lines, uint64_t count, const girdle_order_total *total) {
  widths wide = {1, 4, 5, 0, 4};
  char text[GIRDLE_STONE_TEXT];
  for (uint64_t i = 0; i < count; i++) {
    whole(lines[i].packs, text);
    girdle_column_fit(&wide.packs, text);
    girdle_column_fit(&wide.pack, lines[i].pack);
    girdle_column_fit(&wide.item, lines[i].item);
    girdle_stone_words(&lines[i].stone, text);
    girdle_column_fit(&wide.stone, text);
  }
  money(total->total_minor, &total->currency, text);
  girdle_column_fit(&wide.cost, text);
  return wide;
}

static void write_line(girdle_writer *out, const widths *wide, const girdle_order_line *line,
                       const girdle_currency *currency) {
  char text[GIRDLE_STONE_TEXT];
  girdle_write(out, "  ");
  whole(line->packs, text);
  girdle_write_right(out, text, wide->packs);
  girdle_write(out, " \303\227 ");
  girdle_write_left(out, line->pack, wide->pack);
  girdle_stone_words(&line->stone, text);
  girdle_write_left(out, text, wide->stone);
  if (wide->item) girdle_write_left(out, line->item, wide->item);
  money(line->cost_minor, currency, text);
  girdle_write_right(out, text, wide->cost);
  girdle_write(out, "\n");
}

/* A label to the left and an amount under the lines' costs. */
static void write_sum(girdle_writer *out, const widths *wide, const char *label, int64_t minor,
                      const girdle_currency *currency) {
  char text[64];
  uint64_t before = 2 + wide->packs + 3 + wide->pack + 2 + wide->stone + 2 + (wide->item ? wide->item + 2 : 0);
  girdle_write(out, label);
  girdle_write_pad(out, girdle_text_columns(label), before);
  money(minor, currency, text);
  girdle_write_right(out, text, wide->cost);
  girdle_write(out, "\n");
}

static void write_supplier(girdle_writer *out, const widths *wide, const girdle_order *order,
                           const girdle_order_supplier *supplier, const girdle_currency *currency) {
  uint64_t count;
  const girdle_order_line *lines = girdle_order_lines(order, &count);
  girdle_write_plain(out, supplier->supplier);
  if (supplier->delivery_days)
    girdle_write_format(out, ", delivers in %d day%s", (int)supplier->delivery_days,
                        supplier->delivery_days == 1 ? "" : "s");
  girdle_write(out, "\n");
  for (uint64_t i = 0; i < count; i++)
    if (strcmp(lines[i].supplier, supplier->supplier) == 0) write_line(out, wide, &lines[i], currency);
  if (supplier->shipping_minor) write_sum(out, wide, "  shipping", supplier->shipping_minor, currency);
  write_sum(out, wide, "  to pay there", supplier->goods_minor + supplier->shipping_minor, currency);
  girdle_write(out, "\n");
}

static void write_total(girdle_writer *out, const widths *wide, const girdle_order_total *total) {
  char label[48], text[64];
  snprintf(label, sizeof label, "The whole order, %s", total->currency.code);
  write_sum(out, wide, label, total->total_minor, &total->currency);
  if (total->bound_minor == total->total_minor) {
    girdle_write(out, "This is the cheapest order for these prices.\n");
    return;
  }
  girdle_money_text(total->total_minor - total->bound_minor, &total->currency, 1, text, sizeof text);
  girdle_write_format(out, "At most %s could still be saved; whether it can was not settled.\n", text);
}

/* ---- what becomes of each stone */

enum { FIGURES = 7 };

static void figures_of(const girdle_order_stone *stone, int64_t figures[FIGURES]) {
  const int64_t own[FIGURES] = {stone->needed,     stone->lost,   stone->kit,      stone->on_hand,
                                stone->from_stock, stone->bought, stone->left_over};
  memcpy(figures, own, sizeof own);
}

static void write_stones(girdle_writer *out, const girdle_order *order) {
  static const char *const headings[FIGURES] = {"needed",     "spares", "repair kit", "on hand",
                                                "from stock", "bought", "left over"};
  uint64_t count, wide = 5;
  const girdle_order_stone *stones = girdle_order_stones(order, &count);
  char text[GIRDLE_STONE_TEXT];
  for (uint64_t i = 0; i < count; i++) {
    girdle_stone_words(&stones[i].stone, text);
    girdle_column_fit(&wide, text);
  }
  girdle_write(out, "\n");
  girdle_write_left(out, "stone", wide);
  for (int k = 0; k < FIGURES; k++) girdle_write_right(out, headings[k], strlen(headings[k]) + (k ? 2 : 0));
  girdle_write(out, "\n");
  for (uint64_t i = 0; i < count && !out->status; i++) {
    int64_t figures[FIGURES];
    girdle_stone_words(&stones[i].stone, text);
    girdle_write_left(out, text, wide);
    figures_of(&stones[i], figures);
    for (int k = 0; k < FIGURES; k++) {
      whole(figures[k], text);
      girdle_write_right(out, text, strlen(headings[k]) + (k ? 2 : 0));
    }
    girdle_write(out, stones[i].unpriced ? "  no supplier offers enough\n" : "\n");
  }
}

int32_t girdle_paper_order_text(girdle_call *call, const girdle_order *order, const girdle_sink *sink) {
  girdle_writer out;
  girdle_order_total total;
  uint64_t lines, suppliers;
  const girdle_order_supplier *supplier = girdle_order_suppliers(order, &suppliers);
  const girdle_order_line *line = girdle_order_lines(order, &lines);
  widths wide;
  girdle_order_sum(order, &total);
  wide = fit(line, lines, &total);
  girdle_writer_begin(&out, call, sink);
  for (uint64_t i = 0; i < suppliers && !out.status; i++)
    write_supplier(&out, &wide, order, &supplier[i], &total.currency);
  if (lines) write_total(&out, &wide, &total);
  if (!lines) girdle_write(&out, "Nothing is to be ordered.\n");
  if (total.unpriced_stones)
    girdle_write_format(&out, "INCOMPLETE: no supplier offers enough of %lld kind%s of stone.\n",
                        (long long)total.unpriced_stones, total.unpriced_stones == 1 ? "" : "s");
  write_stones(&out, order);
  return girdle_writer_end(&out);
}
