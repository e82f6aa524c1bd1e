/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "html_internal.h"

#include <stdio.h>
#include <string.h>

/* A club's bags: a picking list stone by stone, and a label for every bag to cut out. Tags only, never names. */

static const char style[] =
    ".labels{display:grid;grid-template-columns:repeat(auto-fill,minmax(58mm,1fr));gap:3mm}\n"
    ".label{background:#fff;color:#000;border:1px dashed #777;border-radius:2mm;padding:3mm;min-height:32mm;"
    "break-inside:avoid;font-size:10pt;line-height:1.35}\n"
    ".label b{font-size:13pt}.label .n{font-size:15pt;font-weight:bold}\n"
    "@media (max-width:34rem){th,td{font-size:.7rem;padding-right:.2rem}td:nth-child(7),thead "
    "th{overflow-wrap:anywhere}}\n"
    "td:last-child{padding-left:.6rem}@media print{td{padding-top:.1rem;padding-bottom:.1rem}}\n"
    "tr:has(th[scope=rowgroup]){break-after:avoid}tr{break-inside:avoid}\n"
    "tbody th{color:var(--ink);font-size:1rem;padding-top:1rem}\n";

typedef struct bags {
  girdle_writer *out;
  const girdle_order *order; /* NULL: nothing is ordered */
  const girdle_tally *tally;
  girdle_spare_parts spares;
} bags;

/* What a kitchen scale still tells: common practice, no source. */
static const double least_weighed_g = 1;

/* Grams of so many pieces, by the nominal mass of one, filled into a phrase; what is too light for a scale is counted.
 */
static void grams_words(const girdle_phrased *phrases, const girdle_stone *stone, int64_t pieces, const char *phrase,
                        char text[120]) {
  const double grams = (double)pieces * stone->mass_mg[GIRDLE_NOMINAL] / 1000;
  char number[48], words[80];
  girdle_number_words(phrases, grams, 1, number);
  girdle_phrase_with(phrases, words, sizeof words, "{1} g", number);
  if (grams < least_weighed_g)
    girdle_common_text(text, 120, girdle_phrase(phrases, "count them"));
  else
    girdle_phrase_with(phrases, text, 120, phrase, words);
}

/* ---- picking list */

static void cell(girdle_writer *out, const char *class_name, const char *text) {
  girdle_write_format(out, "<td%s>", class_name);
  girdle_write_xml(out, text);
  girdle_write(out, "</td>");
}

static void whole_cell(girdle_writer *out, int64_t value) {
  girdle_write(out, "<td class=\"n\">");
  girdle_write_whole(out, value);
  girdle_write(out, "</td>");
}

/* From which lot the line is worked, or of each how many; `use` is its first one. */
static void lots_cell(const bags *b, const girdle_tally_line *line, uint64_t use) {
  const uint64_t count = b->order ? girdle_lot_uses_of(b->order, line, use) : 0;
  uint64_t all;
  const girdle_lot_use *uses = b->order ? girdle_order_uses(b->order, &all) + use : NULL;
  girdle_write(b->out, "<td>");
  for (uint64_t i = 0; i < count; i++) {
    char lot[120];
    girdle_lot_words(b->out->phrases, b->order, &uses[i], lot, sizeof lot);
    if (i) girdle_write(b->out, "<br>");
    if (count > 1) girdle_write_format(b->out, "%lld \303\227 ", (long long)uses[i].pieces);
    girdle_write_xml(b->out, lot);
  }
  girdle_write(b->out, "</td>");
}

static void write_pick(const bags *b, const girdle_tally_line *line, int64_t spares, uint64_t use) {
  char grams[120];
  grams_words(b->out->phrases, &line->stone, line->count + spares, "{1}", grams);
  girdle_write(b->out, "<tr>");
  cell(b->out, "", line->tag);
  cell(b->out, "", line->zone);
  cell(b->out, "", girdle_side_words(b->out->phrases, line->side));
  whole_cell(b->out, line->count);
  whole_cell(b->out, spares);
  cell(b->out, " class=\"n\"", grams);
  lots_cell(b, line, use);
  cell(b->out, "", "\342\230\220");
  girdle_write(b->out, "</tr>\n");
}

static void write_stone(const bags *b, const girdle_tally_line *sum) {
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(b->tally, &count);
  char name[GIRDLE_STONE_TEXT], number[24], pieces[120];
  girdle_stone_text(&sum->stone, name, GIRDLE_STONE_TEXT);
  girdle_whole_words(sum->count, number);
  girdle_pieces_words(b->out->phrases, sum->count, pieces, sizeof pieces);
  girdle_write(b->out, "<tr><th colspan=\"8\" scope=\"rowgroup\">");
  girdle_say_xml_with(b->out, sum->count >= 144 ? "{1}: {2} ({3})" : "{1}: {2}", name, number, pieces);
  girdle_write(b->out, "</th></tr>\n");
  for (uint64_t i = 0, use = 0; i < count && !b->out->status; i++) {
    if (girdle_stone_equal(&lines[i].stone, &sum->stone)) write_pick(b, &lines[i], b->spares.of_line[i], use);
    use += b->order ? girdle_lot_uses_of(b->order, &lines[i], use) : 0;
  }
}

static int32_t write_list(const bags *b) {
  static const char *const columns[] = {"tag", "zone", "side", "pieces", "spares", "by scale", "lot", "in the bag"};
  girdle_tally *sums;
  uint64_t count;
  const girdle_tally_line *lines;
  GIRDLE_TRY(girdle_tally_by_stone(b->out->call, b->tally, &sums));
  lines = girdle_tally_lines(sums, &count);
  girdle_html_section(b->out, "picking", "Picking list");
  girdle_write(b->out, "<table><thead><tr>");
  for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
    girdle_html_say(b->out, i >= 3 && i <= 5 ? "th class=\"n\"" : "th", columns[i]);
  girdle_write(b->out, "</tr></thead><tbody>\n");
  for (uint64_t i = 0; i < count && !b->out->status; i++)
    write_stone(b, &lines[i]);
  girdle_write(b->out, "</tbody></table>\n");
  girdle_tally_free(sums);
  return b->out->status;
}

/* ---- labels */

static void write_label(const bags *b, const girdle_tally_line *line, int64_t spares) {
  char name[GIRDLE_STONE_TEXT], grams[120], number[24];
  girdle_stone_text(&line->stone, name, GIRDLE_STONE_TEXT);
  grams_words(b->out->phrases, &line->stone, line->count + spares, "fill to about {1}", grams);
  girdle_write(b->out, "<div class=\"label\"><b>");
  girdle_write_xml(b->out, line->tag);
  girdle_write(b->out, "</b> ");
  girdle_write_xml(b->out, line->zone);
  girdle_write(b->out, line->side[0] ? ", " : "");
  girdle_write_xml(b->out, girdle_side_words(b->out->phrases, line->side));
  girdle_write_format(b->out, "<br><span class=\"n\">%lld</span> \303\227 ", (long long)line->count);
  girdle_write_xml(b->out, name);
  girdle_write(b->out, "<br>");
  girdle_whole_words(spares, number);
  if (spares) girdle_say_xml_with(b->out, "and {1} as spares", number);
  if (spares) girdle_write(b->out, "<br>");
  girdle_write_xml(b->out, grams);
  girdle_write(b->out, "<br>");
  girdle_say_xml(b->out, "not for children under three");
  girdle_write(b->out, "</div>\n");
}

static void write_labels(const bags *b) {
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(b->tally, &count);
  girdle_html_section(b->out, "labels", "Bag labels");
  girdle_write(b->out, "<div class=\"labels\">\n");
  for (uint64_t i = 0; i < count && !b->out->status; i++)
    write_label(b, &lines[i], b->spares.of_line[i]);
  girdle_write(b->out, "</div>\n");
}

static int32_t write_bags(const bags *b) {
  girdle_html_begin(b->out, girdle_phrase(b->out->phrases, "Bags"), style);
  girdle_html_say(b->out, "h1", "Bags");
  girdle_html_say(b->out, "p class=\"soft\"",
                  "Grams are estimates: count one gross, weigh it, and trust that scale before these numbers.");
  if (b->order) {
    char basis[240];
    girdle_basis_words(b->out->phrases, b->order, basis, sizeof basis);
    girdle_html_element(b->out, "p class=\"soft\"", basis);
  }
  GIRDLE_TRY(write_list(b));
  write_labels(b);
  girdle_html_end(b->out, NULL);
  return girdle_writer_end(b->out);
}

int32_t girdle_paper_bags_html(girdle_call *call, const girdle_reckoning *reckoning, const girdle_sink *sink) {
  GIRDLE_GIVEN(call, reckoning, sink);
  girdle_writer out;
  bags b = {.out = &out, .order = girdle_reckoning_order(reckoning), .tally = girdle_reckoning_tally(reckoning)};
  int32_t status = girdle_spare_parts_make(call, reckoning, &b.spares);
  girdle_writer_begin(&out, call, sink);
  if (!status) status = write_bags(&b);
  girdle_spare_parts_free(&b.spares);
  return status;
}
