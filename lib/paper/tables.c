/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "pdf_internal.h"
#include "text_internal.h"

#include <math.h>
#include <string.h>

/* How many stones a length and an area take, far from any edge: a line takes 1 / (d + gap), square rows its square,
 * honeycomb 2 / sqrt(3) times as many as those. */

static const double inch_mm = 25.4; /* exactly: NIST Handbook 44, Appendix C */

enum { MOST_ROWS = 10000 };

typedef struct row {
  const girdle_size *size;
  double gap_mm;
} row;

static double across_mm(const row *of) {
  return of->size->diameter_mm[GIRDLE_NOMINAL];
}

static double in_line(const row *of, double length_mm) {
  return length_mm / (across_mm(of) + of->gap_mm);
}

static double in_square(const row *of, double side_mm) {
  return in_line(of, side_mm) * in_line(of, side_mm);
}

static double in_honeycomb(const row *of, double side_mm) {
  return in_square(of, side_mm) * 2 / sqrt(3);
}

/* The six figures of a row: 10 cm, then an inch; each as a line, in honeycomb, in square rows. */
enum { FIGURES = 6 };
static void reckon(const row *of, double out[FIGURES]) {
  for (int i = 0; i < 2; i++) {
    double side_mm = i ? inch_mm : 100;
    out[3 * i] = in_line(of, side_mm);
    out[3 * i + 1] = in_honeycomb(of, side_mm);
    out[3 * i + 2] = in_square(of, side_mm);
  }
}

static const int32_t figure_decimals[FIGURES] = {1, 0, 0, 1, 1, 1};

/* All decimals, so that the points stand below each other. */
static void figure_words(const girdle_phrased *phrases, double value, int32_t decimals, char text[48]) {
  char fixed[33];
  char *point;
  fixed[girdle_fixed_text(value, decimals, fixed)] = '\0';
  point = strchr(fixed, '.');
  if (point) *point = '\0';
  girdle_common_text(text, 48, fixed);
  if (!point) return;
  girdle_common_text(text + strlen(text), 48 - strlen(text), girdle_phrase(phrases, "."));
  girdle_common_text(text + strlen(text), 48 - strlen(text), point + 1);
}

/* ---- for people, as text */

enum { COLUMNS = 3 + FIGURES };

/* The words over the columns, in two lines. */
static const char *const above[COLUMNS] = {"",           "across", "gap",           "10 cm",        "10 x 10 cm",
                                           "10 x 10 cm", "1 inch", "1 square inch", "1 square inch"};
static const char *const below[COLUMNS] = {"size",   "mm",   "mm",        "line",  "honeycomb",
                                           "square", "line", "honeycomb", "square"};

static const char *below_of(const girdle_phrased *phrases, int column) {
  int lengths = column == 1 || column == 2;
  return girdle_phrase(phrases, lengths && girdle_in_inches(phrases) ? "in" : below[column]);
}

static void cell_words(const girdle_phrased *phrases, const row *of, int column, char text[48]) {
  double figures[FIGURES];
  int inches = girdle_in_inches(phrases);
  reckon(of, figures);
  if (column == 0)
    girdle_common_text(text, 48, of->size->name);
  else if (column < 3)
    figure_words(phrases, (column == 1 ? across_mm(of) : of->gap_mm) / (inches ? inch_mm : 1), inches ? 3 : 2, text);
  else
    figure_words(phrases, figures[column - 3], figure_decimals[column - 3], text);
}

/* Calls `with` for each size and gap, sizes first. */
static int32_t each_row(const girdle_tables_options *options, void (*with)(void *, const row *), void *context,
                        const int32_t *status) {
  for (uint64_t i = 0; i < options->size_count; i++)
    for (uint64_t k = 0; k < options->gap_count && !*status; k++) {
      const row of = {&options->sizes[i], options->gaps_mm[k]};
      with(context, &of);
    }
  return *status;
}

typedef struct text_table {
  girdle_writer *out;
  uint64_t wide[COLUMNS];
} text_table;

static void fit_row(void *context, const row *of) {
  text_table *t = context;
  for (int i = 0; i < COLUMNS; i++) {
    char text[48];
    cell_words(t->out->phrases, of, i, text);
    girdle_column_fit(&t->wide[i], text);
  }
}

static void text_cell(text_table *t, int column, const char *text) {
  if (column == 0)
    girdle_write_left(t->out, text, t->wide[0]);
  else
    girdle_write_right(t->out, text, t->wide[column]);
  girdle_write(t->out, column + 1 == COLUMNS ? "\n" : column ? "  " : "");
}

static void text_row(void *context, const row *of) {
  text_table *t = context;
  for (int i = 0; i < COLUMNS; i++) {
    char text[48];
    cell_words(t->out->phrases, of, i, text);
    text_cell(t, i, text);
  }
}

static int32_t write_text(girdle_writer *out, const girdle_tables_options *options) {
  text_table t = {.out = out};
  for (int i = 0; i < COLUMNS; i++) {
    girdle_column_fit(&t.wide[i], girdle_phrase(out->phrases, above[i]));
    girdle_column_fit(&t.wide[i], below_of(out->phrases, i));
  }
  each_row(options, fit_row, &t, &out->status);
  for (int i = 0; i < COLUMNS; i++)
    text_cell(&t, i, girdle_phrase(out->phrases, above[i]));
  for (int i = 0; i < COLUMNS; i++)
    text_cell(&t, i, below_of(out->phrases, i));
  each_row(options, text_row, &t, &out->status);
  girdle_say(out, "A closed cover, far from its edges; near an edge stones are left out.");
  girdle_write(out, " ");
  girdle_say(out, "A scatter takes far fewer.");
  girdle_write(out, "\n");
  return girdle_writer_end(out);
}

/* ---- for programs */

static const char *const fields[COLUMNS] = {"size",
                                            "diameter_mm",
                                            "gap_mm",
                                            "line_10_cm",
                                            "honeycomb_10_cm_square",
                                            "square_10_cm_square",
                                            "line_1_in",
                                            "honeycomb_1_in_square",
                                            "square_1_in_square"};

static double field_of(const row *of, int column) {
  double figures[FIGURES];
  reckon(of, figures);
  return column == 1 ? across_mm(of) : column == 2 ? of->gap_mm : figures[column - 3];
}

static void csv_row(void *context, const row *of) {
  girdle_writer *out = context;
  girdle_write_cell(out, of->size->name);
  for (int i = 1; i < COLUMNS; i++) {
    girdle_write(out, ",");
    girdle_write_number(out, field_of(of, i), 4);
  }
  girdle_write(out, "\r\n");
}

static int32_t write_csv(girdle_writer *out, const girdle_tables_options *options) {
  for (int i = 0; i < COLUMNS; i++) {
    girdle_write(out, fields[i]);
    girdle_write(out, i + 1 == COLUMNS ? "\r\n" : ",");
  }
  each_row(options, csv_row, out, &out->status);
  return girdle_writer_end(out);
}

typedef struct json_list {
  girdle_writer *out;
  int64_t count;
} json_list;

/* A size's name is letters, digits and points. */
static void json_row(void *context, const row *of) {
  json_list *list = context;
  girdle_write(list->out, list->count++ ? ",\n{\"size\":\"" : "{\"size\":\"");
  girdle_write(list->out, of->size->name);
  girdle_write(list->out, "\"");
  for (int i = 1; i < COLUMNS; i++) {
    girdle_write_format(list->out, ",\"%s\":", fields[i]);
    girdle_write_number(list->out, field_of(of, i), 4);
  }
  girdle_write(list->out, "}");
}

static int32_t write_json(girdle_writer *out, const girdle_tables_options *options) {
  json_list list = {out, 0};
  girdle_write(out, "[");
  each_row(options, json_row, &list, &out->status);
  girdle_write(out, "]\n");
  return girdle_writer_end(out);
}

/* ---- a page to pin up: each size drawn as large as it is */

typedef struct page {
  girdle_pdf *pdf;
  double y;
  const girdle_size *last; /* of the row before */
} page;

static const double margin_mm = 14;
static const double right_mm[COLUMNS] = {18, 44, 58, 80, 104, 124, 144, 166, 182};

static void page_cell(const page *p, int column, double y, double size_mm, int bold, const char *text) {
  girdle_pdf_text(p->pdf, margin_mm + right_mm[column], y, size_mm, bold,
                  column ? GIRDLE_ALIGN_RIGHT : GIRDLE_ALIGN_LEFT, text);
}

static void page_head(page *p) {
  girdle_pdf *pdf = p->pdf;
  for (int i = 0; i < COLUMNS; i++) {
    /* two columns of an area share the words above them */
    if (i != 5 && i != 8) page_cell(p, i, p->y, 2.9, 0, girdle_phrase(pdf->phrases, above[i]));
    page_cell(p, i, p->y + 4.4, 2.9, 0, below_of(pdf->phrases, i));
  }
  girdle_pdf_line(pdf, margin_mm, p->y + 6.4, pdf->width_mm - margin_mm, p->y + 6.4, 0.3);
  p->y += 7.4;
}

static void page_row(void *context, const row *of) {
  page *p = context;
  girdle_pdf *pdf = p->pdf;
  int first = p->last != of->size;
  double high = first ? fmax(6.2, across_mm(of) + 1.6) : 5;
  if (p->y + high > pdf->height_mm - margin_mm - 8) {
    girdle_pdf_page(pdf);
    p->y = margin_mm + 4;
    page_head(p);
    first = 1;
  }
  if (first && p->last) {
    girdle_pdf_grey(pdf, 0.75);
    girdle_pdf_line(pdf, margin_mm, p->y, pdf->width_mm - margin_mm, p->y, 0.1);
    girdle_pdf_grey(pdf, 0);
  }
  if (first) girdle_pdf_ring(pdf, margin_mm + 8, p->y + high / 2, across_mm(of) / 2);
  for (int i = 0; i < COLUMNS; i++) {
    char text[48];
    cell_words(pdf->phrases, of, i, text);
    if (i > 1 || first) page_cell(p, i, p->y + high / 2 + 1.1, 3.1, i == 0, text);
  }
  p->y += high;
  p->last = of->size;
}

static void draw_page(girdle_pdf *pdf, const girdle_tables_options *options) {
  page p = {pdf, 46, NULL};
  girdle_pdf_page(pdf);
  girdle_pdf_say(pdf, margin_mm, 20, 7, 0, GIRDLE_ALIGN_LEFT, "How many stones");
  girdle_pdf_say(pdf, margin_mm, 26, 2.9, 0, GIRDLE_ALIGN_LEFT,
                 "A closed cover, far from its edges; near an edge stones are left out.");
  girdle_pdf_say(pdf, margin_mm, 30.4, 2.9, 0, GIRDLE_ALIGN_LEFT, "A scatter takes far fewer.");
  girdle_pdf_say(pdf, margin_mm, 34.8, 2.9, 0, GIRDLE_ALIGN_LEFT,
                 "Rings are as large as the stones: print at 100 %, without fitting to the page.");
  page_head(&p);
  each_row(options, page_row, &p, &pdf->status);
  if (p.y + 14 > pdf->height_mm - margin_mm) {
    girdle_pdf_page(pdf);
    p.y = margin_mm;
  }
  girdle_pdf_ruler(pdf, margin_mm, p.y + 5);
}

static int32_t write_pdf(girdle_call *call, const girdle_tables_options *options, const girdle_sink *sink) {
  const girdle_kinds none = {.memory = girdle_common_memory(call)};
  girdle_print_options print;
  girdle_pdf pdf;
  int32_t status;
  girdle_print_options_init(&print, sizeof print);
  if (options->print) girdle_common_options(&print, sizeof print, options->print);
  status = girdle_pdf_begin(call, &print, &none, girdle_sink_phrases(sink), &pdf);
  if (!status) draw_page(&pdf, options);
  return girdle_pdf_end(&pdf, status, sink);
}

/* ---- what was asked */

void girdle_tables_options_init(girdle_tables_options *options, uint32_t struct_bytes) {
  memset(options, 0, struct_bytes);
  if (struct_bytes >= sizeof options->struct_bytes) options->struct_bytes = struct_bytes;
}

static int32_t check_options(girdle_call *call, const girdle_tables_options *options) {
  uint64_t rows = options->gap_count ? options->size_count * options->gap_count : 0;
  if (options->form < 0 || options->form >= GIRDLE_FORM_END)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "form", "form %d is not known", (int)options->form);
  if (options->size_count > MOST_ROWS || rows > MOST_ROWS)
    return girdle_common_fail(call, GIRDLE_LIMIT, "sizes", "a table has at most %d rows", (int)MOST_ROWS);
  for (uint64_t i = 0; i < options->size_count; i++)
    GIRDLE_TRY(girdle_common_range(call, "sizes", options->sizes[i].diameter_mm[GIRDLE_NOMINAL], 0.1, 1000, "mm"));
  for (uint64_t i = 0; i < options->gap_count; i++)
    GIRDLE_TRY(girdle_common_range(call, "gap", options->gaps_mm[i], 0, 1000, "mm"));
  return GIRDLE_OK;
}

int32_t girdle_paper_tables(girdle_call *call, const girdle_tables_options *options, const girdle_sink *sink) {
  GIRDLE_GIVEN(call, sink);
  girdle_tables_options own;
  girdle_writer out;
  girdle_tables_options_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, options);
  GIRDLE_TRY(check_options(call, &own));
  if (own.form == GIRDLE_FORM_PDF) return write_pdf(call, &own, sink);
  girdle_writer_begin(&out, call, sink);
  return own.form == GIRDLE_FORM_CSV    ? write_csv(&out, &own)
         : own.form == GIRDLE_FORM_JSON ? write_json(&out, &own)
                                        : write_text(&out, &own);
}
