/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

/* phrases: all that papers say, to be put in other words. tables: how many stones a length and an area take, for sizes and gaps. Figures far from any edge: a line takes
 * 1 / (d + gap), square rows 1 / (d + gap)^2, honeycomb 2 / sqrt(3) times as many. */

typedef struct row {
  girdle_size size;
  double gap_mm;
} row;

static const double inch_mm = 25.4; /* exactly: NIST Handbook 44, Appendix C */

static double in_line(const row *of, double length_mm) {
  return length_mm / (of->size.diameter_mm[GIRDLE_NOMINAL] + of->gap_mm);
}

static double in_square(const row *of, double side_mm) {
  return in_line(of, side_mm) * in_line(of, side_mm);
}

static double in_honeycomb(const row *of, double side_mm) {
  return in_square(of, side_mm) * 2 / sqrt(3);
}

/* ---- one row in each form */

/* With all its decimals, so that the points stand below each other. */
static void cell(buffer *to, double value, int decimals, int width) {
  char text[48];
  long long scale = decimals == 2 ? 100 : decimals == 1 ? 10 : 1, scaled = llround(value * (double)scale);
  if (decimals)
    snprintf(text, sizeof text, "%lld.%0*lld", scaled / scale, decimals, scaled % scale);
  else
    snprintf(text, sizeof text, "%lld", scaled);
  buffer_text(to, " %*s", width, text);
}

static void text_row(const row *of, buffer *to) {
  buffer_text(to, "%-6s", of->size.name);
  cell(to, of->size.diameter_mm[GIRDLE_NOMINAL], 2, 6);
  cell(to, of->gap_mm, 2, 5);
  cell(to, in_line(of, 100), 1, 8);
  cell(to, in_honeycomb(of, 100), 0, 10);
  cell(to, in_square(of, 100), 0, 8);
  cell(to, in_line(of, inch_mm), 1, 8);
  cell(to, in_honeycomb(of, inch_mm), 1, 10);
  cell(to, in_square(of, inch_mm), 1, 8);
  buffer_text(to, "\n");
}

static void number(buffer *to, const char *before, double value) {
  buffer_text(to, "%s", before);
  buffer_number(to, value, 4);
}

static void csv_row(const row *of, buffer *to) {
  buffer_text(to, "%s", of->size.name);
  number(to, ",", of->size.diameter_mm[GIRDLE_NOMINAL]);
  number(to, ",", of->gap_mm);
  number(to, ",", in_line(of, 100));
  number(to, ",", in_honeycomb(of, 100));
  number(to, ",", in_square(of, 100));
  number(to, ",", in_line(of, inch_mm));
  number(to, ",", in_honeycomb(of, inch_mm));
  number(to, ",", in_square(of, inch_mm));
  buffer_text(to, "\r\n");
}

static void json_row(const row *of, buffer *to) {
  buffer_text(to, "%s{\"size\":\"%s\"", to->count > 1 ? ",\n" : "", of->size.name);
  number(to, ",\"diameter_mm\":", of->size.diameter_mm[GIRDLE_NOMINAL]);
  number(to, ",\"gap_mm\":", of->gap_mm);
  number(to, ",\"line_10_cm\":", in_line(of, 100));
  number(to, ",\"honeycomb_10_cm_square\":", in_honeycomb(of, 100));
  number(to, ",\"square_10_cm_square\":", in_square(of, 100));
  number(to, ",\"line_1_in\":", in_line(of, inch_mm));
  number(to, ",\"honeycomb_1_in_square\":", in_honeycomb(of, inch_mm));
  number(to, ",\"square_1_in_square\":", in_square(of, inch_mm));
  buffer_text(to, "}");
}

static void head(const program *with, buffer *to) {
  if (with->flags.csv)
    buffer_text(to,
                "size,diameter_mm,gap_mm,line_10_cm,honeycomb_10_cm_square,square_10_cm_square,line_1_in,"
                "honeycomb_1_in_square,square_1_in_square\r\n");
  else if (with->flags.json)
    buffer_text(to, "[");
  else
    buffer_text(to,
                "       across   gap    10 cm  ------ 10 x 10 cm   1 inch  --- 1 square inch\n"
                "size       mm    mm     line  honeycomb   square     line  honeycomb   square\n");
}

static void foot(const program *with, buffer *to) {
  if (with->flags.json) buffer_text(to, "]\n");
  if (with->flags.csv || with->flags.json) return;
  buffer_text(to, "A closed cover, far from its edges; near an edge stones are left out. A scatter takes far fewer.\n");
}

static void one_row(const program *with, const row *of, buffer *to) {
  if (with->flags.csv)
    csv_row(of, to);
  else if (with->flags.json)
    json_row(of, to);
  else
    text_row(of, to);
}

/* ---- the lists that were asked for */

/* Calls `take` with each part of "a; b; c". */
static int32_t each_part(program *with, const char *text, int32_t (*take)(program *, const char *, void *), void *to) {
  char *copy = command_copy(text), *end;
  int32_t status = GIRDLE_OK;
  for (char *at = copy; at && !status; at = end) {
    end = strchr(at, ';');
    if (end) *end++ = '\0';
    while (*at == ' ')
      at++;
    for (size_t length = strlen(at); length && at[length - 1] == ' ';)
      at[--length] = '\0';
    status = take(with, at, to);
  }
  free(copy);
  return status;
}

enum { MOST = 100 };
typedef struct wanted {
  girdle_size sizes[MOST];
  double gaps[MOST];
  uint64_t size_count, gap_count;
} wanted;

static int32_t too_many(program *with, const char *name) {
  return girdle_common_fail(&with->call, GIRDLE_LIMIT, name, "%s: more than %d of them", name, MOST);
}

static int32_t take_size(program *with, const char *text, void *to) {
  wanted *all = to;
  int32_t status;
  if (all->size_count == MOST) return too_many(with, "stones");
  status = girdle_size_parse(&with->call, text, &all->sizes[all->size_count++]);
  girdle_common_at(&with->call, "stones", -1, -1, -1);
  return status;
}

static int32_t take_gap(program *with, const char *text, void *to) {
  wanted *all = to;
  int32_t status;
  if (all->gap_count == MOST) return too_many(with, "gap");
  status = girdle_quantity_parse(&with->call, text, GIRDLE_LENGTH, &all->gaps[all->gap_count]);
  if (!status) status = girdle_common_range(&with->call, "gap", all->gaps[all->gap_count], 0, 1000, "mm");
  girdle_common_at(&with->call, "gap", -1, -1, -1);
  all->gap_count++;
  return status;
}

/* ---- phrases */

int32_t verb_phrases(program *with) {
  uint64_t count;
  const char *const *english = girdle_paper_phrases(&count);
  GIRDLE_TRY(flags_only(with, NULL, 0));
  buffer_text(&with->result, "english,own\r\n");
  for (uint64_t at = 0; at < count; at++)
    buffer_csv_text(&with->result, english[at], ",\r\n");
  return GIRDLE_OK;
}

/* ---- tables */

int32_t verb_tables(program *with) {
  static const char *const known[] = {"stones", "gap"};
  const char *sizes = flags_given(with, "stones"), *gaps = flags_given(with, "gap");
  wanted *all = command_new(sizeof *all);
  int32_t status = flags_only(with, known, 2);
  if (!status)
    status = each_part(with, sizes ? sizes : "ss6; ss10; ss12; ss16; ss20; ss30; ss34; ss40", take_size, all);
  if (!status) status = each_part(with, gaps ? gaps : "0 mm; 1 mm; 2 mm", take_gap, all);
  if (!status) head(with, &with->result);
  for (uint64_t at = 0; at < all->size_count && !status; at++)
    for (uint64_t gap = 0; gap < all->gap_count; gap++) {
      row one = {all->sizes[at], all->gaps[gap]};
      one_row(with, &one, &with->result);
    }
  if (!status) foot(with, &with->result);
  free(all);
  return status;
}
