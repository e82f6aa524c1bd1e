/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "map_internal.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The sheet from top to bottom: whose costume and in which state; the key to the stones; the zones side by side; the
 * ruler. Everything is in millimetres. */

static const double edge_mm = 14, head_mm = 27, foot_mm = 26, least_wide_mm = 200;

typedef struct map {
  girdle_writer *out;
  const girdle_job *job;
  const girdle_kinds *kinds;
  const girdle_layout *layout;
  double width_mm;
  uint64_t key_columns;
  int mirrored;
} map;

/* ---- small parts */

static void number(girdle_writer *out, const char *name, double value) {
  girdle_write_format(out, " %s=\"", name);
  girdle_write_number(out, value, 3);
  girdle_write(out, "\"");
}

static void text_at(girdle_writer *out, const char *style, double x, double y, const char *text) {
  girdle_write_format(out, "<text class=\"%s\"", style);
  number(out, "x", x);
  number(out, "y", y);
  girdle_write(out, ">");
  girdle_write_xml(out, text);
  girdle_write(out, "</text>\n");
}

static void line_at(girdle_writer *out, const char *style, double x1, double y1, double x2, double y2) {
  girdle_write_format(out, "<line class=\"%s\"", style);
  number(out, "x1", x1);
  number(out, "y1", y1);
  number(out, "x2", x2);
  number(out, "y2", y2);
  girdle_write(out, "/>\n");
}

/* ---- head */

static void write_head(const map *m) {
  const girdle_job_head *head = girdle_job_head_of(m->job);
  char words[400], state[300], line[400];
  const char *seen =
      m->mirrored ? girdle_phrase(m->out->phrases, "Mirrored, for working from the back of the fabric.") : "";
  girdle_head_words(m->out->phrases, m->job, words, sizeof words);
  girdle_state_words(m->out->phrases, m->job, state, sizeof state);
  girdle_phrase_with(m->out->phrases, line, sizeof line, "Drawn at true size, {1}.", state);
  text_at(m->out, "name", edge_mm, edge_mm + 7, head->costume[0] ? head->costume : head->tag);
  text_at(m->out, "small", edge_mm, edge_mm + 13, words);
  text_at(m->out, "small", edge_mm, edge_mm + 17.5, line);
  if (m->mirrored) text_at(m->out, "seen", m->width_mm - edge_mm, edge_mm + 7, seen);
  line_at(m->out, "rule", edge_mm, edge_mm + 21, m->width_mm - edge_mm, edge_mm + 21);
}

/* ---- key */

/* Half the room that every swatch gets, so that the words stand in line. */
static double swatch_mm(const map *m) {
  double reach = 3;
  for (uint64_t i = 0; i < m->kinds->count; i++)
    reach = fmax(reach, girdle_stone_circle_mm(&m->kinds->kinds[i].stone));
  return fmin(reach, 12);
}

static double key_row_mm(const map *m) {
  double high = 9;
  for (uint64_t i = 0; i < m->kinds->count; i++)
    high = fmax(high, m->kinds->kinds[i].stone.diameter_mm[GIRDLE_NOMINAL] + 3);
  return high;
}

/* The widest entry: a character of the bold words is at most about 2.4 mm wide, of the small ones 1.75 mm. */
static double key_wide_mm(const map *m) {
  double wide = 30;
  for (uint64_t i = 0; i < m->kinds->count; i++) {
    char line[160];
    girdle_kind_words(m->out->phrases, &m->kinds->kinds[i], line, sizeof line);
    wide = fmax(wide, 2.4 * (double)girdle_text_columns(m->kinds->kinds[i].name));
    wide = fmax(wide, 1.75 * (double)girdle_text_columns(line));
  }
  return wide + 2 * swatch_mm(m) + 7;
}

static double key_high_mm(const map *m) {
  uint64_t rows = (m->kinds->count + m->key_columns - 1) / m->key_columns;
  return (double)rows * key_row_mm(m) + 6;
}

static void write_entry(const map *m, uint64_t index, double x, double y) {
  const girdle_kind *kind = &m->kinds->kinds[index];
  const girdle_stone *stone = &kind->stone;
  double reach = swatch_mm(m), left = x + 2 * reach + 3;
  char line[160];
  girdle_kind_words(m->out->phrases, kind, line, sizeof line);
  girdle_svg_begin_kind(m->out, kind, index);
  girdle_svg_write_stone(m->out, stone, index, NULL, x + reach, y, 0);
  girdle_write(m->out, "</g>\n");
  text_at(m->out, "word", left, y - 0.4, kind->name);
  text_at(m->out, "small", left, y + 3.6, line);
}

static void write_key(const map *m, double top) {
  double row = key_row_mm(m), wide = (m->width_mm - 2 * edge_mm) / (double)m->key_columns;
  girdle_write(m->out, "<g id=\"key\">\n");
  for (uint64_t i = 0; i < m->kinds->count; i++)
    write_entry(m, i, edge_mm + wide * (double)(i % m->key_columns), top + row * ((double)(i / m->key_columns) + 0.5));
  girdle_write(m->out, "</g>\n");
}

/* ---- zones */

/* Four corners round the stones, so that a print can be checked against the size in the caption. */
static void write_corners(const map *m, const girdle_slot *slot) {
  double gap = 1.5, arm = 3, left = slot->box.left_mm - gap, top = slot->box.top_mm - gap;
  double right = slot->box.right_mm + gap, bottom = slot->box.bottom_mm + gap;
  const double corners[4][4] = {{left, top, 1, 1}, {right, top, -1, 1}, {right, bottom, -1, -1}, {left, bottom, 1, -1}};
  girdle_write(m->out, "<path class=\"corner\" d=\"");
  for (int i = 0; i < 4; i++) {
    const double *c = corners[i];
    const double numbers[6] = {c[0] + arm * c[2], c[1], c[0], c[1], c[0], c[1] + arm * c[3]};
    girdle_write(m->out, "M");
    for (int k = 0; k < 6; k++) {
      if (k) girdle_write(m->out, " ");
      girdle_write_number(m->out, numbers[k], 3);
    }
  }
  girdle_write(m->out, "\"/>\n");
}

static int32_t write_slot(const map *m, const girdle_slot *slot, double top) {
  double x = edge_mm + slot->left_mm, y = top + slot->top_mm;
  girdle_write(m->out, "<g class=\"zone\"><title>");
  girdle_write_xml(m->out, slot->name);
  girdle_write(m->out, "</title>\n");
  text_at(m->out, "zone-name", x, y - 11, slot->name);
  text_at(m->out, "small", x, y - 7, slot->caption[0]);
  text_at(m->out, "small", x, y - 3.2, slot->caption[1]);
  girdle_write(m->out, "<g transform=\"translate(");
  girdle_write_number(m->out, x - slot->box.left_mm, 4);
  girdle_write(m->out, " ");
  girdle_write_number(m->out, y - slot->box.top_mm, 4);
  girdle_write(m->out, ")\">\n");
  if (slot->count) write_corners(m, slot);
  GIRDLE_TRY(girdle_svg_write_zone(m->out, slot, m->kinds, m->mirrored));
  girdle_write(m->out, "</g>\n</g>\n");
  return m->out->status;
}

/* ---- ruler */

/* Four inches above the line, an eighth at a time. */
static void write_inches(const map *m, double top) {
  girdle_write(m->out, "<path id=\"inches\" class=\"tick\" d=\"");
  for (int eighth = 0; eighth <= 32; eighth++) {
    girdle_write(m->out, "M");
    girdle_write_number(m->out, edge_mm + eighth * 25.4 / 8, 3);
    girdle_write(m->out, " ");
    girdle_write_number(m->out, top, 3);
    girdle_write(m->out, eighth % 8 == 0 ? "v-6" : eighth % 4 == 0 ? "v-4.2" : "v-2.6");
  }
  girdle_write(m->out, "\"/>\n");
}

static void write_ruler(const map *m, double top) {
  int inches = girdle_in_inches(m->out->phrases);
  girdle_write(m->out, "<g id=\"ruler\">\n<path class=\"tick\" d=\"");
  for (int mm = 0; mm <= 100; mm++) {
    double high = mm % 10 == 0 ? 6 : mm % 5 == 0 ? 4.2 : 2.6;
    girdle_write(m->out, "M");
    girdle_write_number(m->out, edge_mm + mm, 3);
    girdle_write(m->out, " ");
    girdle_write_number(m->out, top, 3);
    girdle_write(m->out, "v");
    girdle_write_number(m->out, high, 3);
  }
  girdle_write(m->out, "M");
  girdle_write_number(m->out, edge_mm, 3);
  girdle_write(m->out, " ");
  girdle_write_number(m->out, top, 3);
  girdle_write(m->out, "h100\"/>\n");
  for (int cm = 0; cm <= 10; cm++) {
    char digits[16];
    snprintf(digits, sizeof digits, "%d", cm);
    text_at(m->out, "tick-name", edge_mm + cm * 10, top + 9.4, digits);
  }
  if (inches) write_inches(m, top);
  text_at(m->out, "small", edge_mm + 106, top + 3.6,
          girdle_phrase(m->out->phrases, inches ? "100 mm and 4 in: lay a ruler here before you trust the print;"
                                                : "100 mm: lay a ruler here before you trust the print;"));
  text_at(m->out, "small", edge_mm + 106, top + 7.6,
          girdle_phrase(m->out->phrases, "when it differs, print again at 100 % without fitting."));
  girdle_write(m->out, "</g>\n");
}

/* ---- the sheet */

static const char style[] =
    "<style>\n"
    "text{font-family:sans-serif;font-size:3px;fill:#26262b}\n"
    ".name{font-family:serif;font-size:8px}\n"
    ".zone-name{font-family:serif;font-size:4.4px}\n"
    ".word{font-size:3.4px;font-weight:bold}\n"
    ".seen{font-size:3.4px;font-weight:bold;text-anchor:end}\n"
    ".small{font-size:2.9px;fill:#55555e}\n"
    ".tick-name{font-size:2.6px;text-anchor:middle}\n"
    ".rule{stroke:#26262b;stroke-width:.35}\n"
    ".corner{fill:none;stroke:#9a9aa3;stroke-width:.2}\n"
    ".tick{fill:none;stroke:#26262b;stroke-width:.18}\n"
    "circle,use{stroke-width:.12}\n"
    "</style>\n";

static void write_top(const map *m, double height) {
  const girdle_job_head *head = girdle_job_head_of(m->job);
  girdle_write(m->out, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"");
  girdle_write_number(m->out, m->width_mm, 3);
  girdle_write(m->out, "mm\" height=\"");
  girdle_write_number(m->out, height, 3);
  girdle_write(m->out, "mm\" viewBox=\"0 0 ");
  girdle_write_number(m->out, m->width_mm, 3);
  girdle_write(m->out, " ");
  girdle_write_number(m->out, height, 3);
  girdle_write(m->out, "\">\n<title>");
  girdle_write_xml(m->out, head->costume);
  girdle_write(m->out, head->costume[0] && head->tag[0] ? ", " : "");
  girdle_write_xml(m->out, head->tag);
  girdle_write(m->out, "</title>\n");
  girdle_write(m->out, style);
  girdle_write(m->out, "<defs>\n");
  girdle_svg_write_kinds(m->out, m->kinds);
  girdle_write(m->out, "</defs>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n");
}

static int32_t write_map(map *m) {
  double zones_top = edge_mm + head_mm, ruler_top;
  m->width_mm = fmax(ceil(m->layout->width_mm), least_wide_mm) + 2 * edge_mm;
  m->key_columns = (uint64_t)fmax(1, (m->width_mm - 2 * edge_mm) / key_wide_mm(m));
  zones_top += key_high_mm(m);
  ruler_top = ceil(zones_top + m->layout->height_mm + 12);
  write_top(m, ruler_top + foot_mm);
  write_head(m);
  write_key(m, edge_mm + head_mm - 2);
  for (uint64_t i = 0; i < m->layout->count && !m->out->status; i++)
    GIRDLE_TRY(write_slot(m, &m->layout->slots[i], zones_top));
  write_ruler(m, ruler_top);
  girdle_write(m->out, "</svg>\n");
  return m->out->status;
}

int32_t girdle_paper_map_svg(girdle_call *call, const girdle_job *job, const girdle_sink *sink) {
  return girdle_paper_map_svg_with(call, job, NULL, sink);
}

int32_t girdle_paper_map_svg_with(girdle_call *call, const girdle_job *job, const girdle_print_options *options,
                                  const girdle_sink *sink) {
  GIRDLE_GIVEN(call, job, sink);
  girdle_writer out;
  girdle_kinds kinds;
  girdle_layout layout;
  map m = {.out = &out, .job = job, .kinds = &kinds, .layout = &layout};
  girdle_print_options own;
  int32_t status;
  girdle_print_options_init(&own, sizeof own);
  if (options) girdle_common_options(&own, sizeof own, options);
  m.mirrored = (own.flags & GIRDLE_PRINT_MIRRORED) != 0;
  GIRDLE_TRY(girdle_kinds_make(call, job, &kinds));
  status = girdle_layout_make(call, job, girdle_sink_phrases(sink), least_wide_mm, &layout);
  girdle_writer_begin(&out, call, sink);
  if (!status) status = write_map(&m);
  if (!status) status = girdle_writer_end(&out);
  girdle_layout_free(&layout);
  girdle_kinds_free(&kinds);
  return status;
}
