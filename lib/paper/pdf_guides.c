/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "pdf_internal.h"
#include "text_internal.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Guides for a dress that no map can be laid under: for a line of stones a strip to lay along the seam, for an area a
 * card that shows how dense it is meant. Both are drawn at true size from the placement itself. */

static const double margin_mm = 10, strip_high_mm = 30;

typedef struct guides {
  girdle_pdf pdf;
  girdle_kinds kinds;
  const girdle_job *job;
  double y;       /* where the next guide goes */
  double card_mm; /* the side of a card's square: 10 cm, or 4 inches */
} guides;

/* One zone's records, and which of them a card must show because no strip does. */
typedef struct zone_view {
  const char *name;
  const girdle_placed *records;
  const girdle_stone *stones;
  int64_t count;
  double area_mm2; /* NaN: not known */
  girdle_box box;  /* of its shape; NaN: not known */
  unsigned char *on_card;
} zone_view;

static void make_room(guides *g, double high) {
  if (g->y + high <= g->pdf.height_mm - margin_mm) return;
  girdle_pdf_page(&g->pdf);
  g->y = margin_mm + 4;
}

/* ---- lines: which rows of a zone follow one rhythm */

/* A row whose stones follow each other at nearly one gap: its first record, how many there are, the middle one of its
 * gaps, and how many rows of the zone are like it. */
typedef struct line {
  int64_t first, count, alike;
  double gap_mm;
} line;

enum { MOST_LINES = 64, MOST_ALIKE = 6 };

static double gap_behind(const zone_view *zone, int64_t i) {
  const girdle_placed *a = &zone->records[i], *b = &zone->records[i + 1];
  return hypot(b->x_mm - a->x_mm, b->y_mm - a->y_mm) - zone->stones[a->stone].diameter_mm[GIRDLE_NOMINAL] / 2 -
         zone->stones[b->stone].diameter_mm[GIRDLE_NOMINAL] / 2;
}

static int by_value(const void *a, const void *b) {
  double first = *(const double *)a, second = *(const double *)b;
  return first < second ? -1 : first > second;
}

/* Four of five gaps lie within 0.25 mm of the middle one; a row of two is none. */
static int is_line(const zone_view *zone, line *of) {
  enum { MOST_GAPS = 400 };
  double gaps[MOST_GAPS];
  int64_t count = of->count - 1 < MOST_GAPS ? of->count - 1 : MOST_GAPS, alike = 0;
  if (count < 2) return 0;
  for (int64_t i = 0; i < count; i++)
    gaps[i] = gap_behind(zone, of->first + i);
  qsort(gaps, (size_t)count, sizeof *gaps, by_value);
  of->gap_mm = gaps[count / 2];
  for (int64_t i = 0; i < count; i++)
    alike += fabs(gaps[i] - of->gap_mm) < 0.25;
  return of->gap_mm > -0.01 && alike * 5 >= count * 4;
}

static int has_stone(const zone_view *zone, const line *of, const girdle_stone *stone) {
  int found = 0;
  for (int64_t i = 0; i < 2; i++)
    found |= girdle_stone_equal(&zone->stones[zone->records[of->first + i].stone], stone);
  return found;
}

/* The same first two stones, in either order, at nearly the same gap. */
static int are_alike(const zone_view *zone, const line *a, const line *b) {
  const girdle_placed *records = &zone->records[b->first];
  return fabs(a->gap_mm - b->gap_mm) < 0.15 && has_stone(zone, a, &zone->stones[records[0].stone]) &&
         has_stone(zone, a, &zone->stones[records[1].stone]);
}

/* The line of a list that another is like; `count` when none is. */
static int64_t find_alike(const zone_view *zone, const line *lines, int64_t count, const line *of) {
  int64_t i = 0;
  while (i < count && !are_alike(zone, &lines[i], of))
    i++;
  return i;
}

/* The row that begins at a record. */
static line row_at(const zone_view *zone, int64_t first) {
  line of = {first, 1, 1, 0};
  while (first + of.count < zone->count && zone->records[first + of.count].row == zone->records[first].row)
    of.count++;
  return of;
}

/* Gathers the rhythms of a zone, the first row of each. Rows beyond the list go on the card. */
static int64_t find_lines(const zone_view *zone, line lines[MOST_LINES]) {
  int64_t found = 0;
  line of;
  for (int64_t i = 0; i < zone->count; i += of.count) {
    int64_t like;
    of = row_at(zone, i);
    if (!is_line(zone, &of)) continue;
    like = find_alike(zone, lines, found, &of);
    if (like < found)
      lines[like].alike++;
    else if (found < MOST_LINES)
      lines[found++] = of;
  }
  return found;
}

/* Many rows of one rhythm fill an area, and an area is shown by a card. */
static int is_strip(const line *of) {
  return of->alike <= MOST_ALIKE;
}

static int64_t mark_card(const zone_view *zone, const line *lines, int64_t line_count) {
  int64_t marked = 0;
  line of;
  for (int64_t i = 0; i < zone->count; i += of.count) {
    int64_t like = line_count;
    of = row_at(zone, i);
    if (is_line(zone, &of)) like = find_alike(zone, lines, line_count, &of);
    if (like < line_count && is_strip(&lines[like])) continue;
    memset(zone->on_card + i, 1, (size_t)of.count);
    marked += of.count;
  }
  return marked;
}

/* ---- strips */

static void say_sequence(const girdle_phrased *phrases, const zone_view *zone, const line *of, char *text,
                         size_t bytes) {
  const girdle_placed *records = &zone->records[of->first];
  double halves = (zone->stones[records[0].stone].diameter_mm[GIRDLE_NOMINAL] +
                   zone->stones[records[1].stone].diameter_mm[GIRDLE_NOMINAL]) /
                  2;
  char edge[64], centre[64];
  girdle_length_words(phrases, of->gap_mm, 1, edge, sizeof edge);
  girdle_length_words(phrases, of->gap_mm + halves, 1, centre, sizeof centre);
  girdle_phrase_with(phrases, text, bytes, "{1} edge to edge, {2} centre to centre", edge, centre);
}

/* "ss20 red, ss20 gold": the stones in their order, as far as they are different. */
static void say_stones(const zone_view *zone, const line *of, char *text, size_t bytes) {
  const girdle_stone *said[4];
  size_t count = 0;
  text[0] = '\0';
  for (int64_t i = 0; i < of->count && count < 4; i++) {
    const girdle_stone *stone = &zone->stones[zone->records[of->first + i].stone];
    char name[GIRDLE_STONE_TEXT];
    size_t k = 0;
    while (k < count && !girdle_stone_equal(said[k], stone))
      k++;
    if (k < count) continue;
    said[count++] = stone;
    girdle_stone_text(stone, name, sizeof name);
    snprintf(text + strlen(text), bytes - strlen(text), "%s%s", count > 1 ? ", " : "", name);
  }
}

/* The stones of a strip, each with a tick at the edge that lies at the seam. */
static void draw_sequence(guides *g, const zone_view *zone, const line *of, double bottom) {
  girdle_pdf *pdf = &g->pdf;
  double x = margin_mm + 4, end = pdf->width_mm - margin_mm - 4;
  for (int64_t i = 0; i < of->count; i++) {
    const girdle_stone *stone = &zone->stones[zone->records[of->first + i].stone];
    double r = stone->diameter_mm[GIRDLE_NOMINAL] / 2;
    if (x + 2 * r > end) break;
    girdle_pdf_stone(pdf, girdle_kinds_find(&g->kinds, stone), x + r, bottom - 4 - fmax(r, 6), 90);
    girdle_pdf_line(pdf, x + r, bottom - 4, x + r, bottom, 0.2);
    x += 2 * r + of->gap_mm;
  }
}

static void draw_strip(guides *g, const zone_view *zone, const line *of) {
  girdle_pdf *pdf = &g->pdf;
  char words[200], stones[4 * GIRDLE_STONE_TEXT], title[GIRDLE_ZONE_TEXT + 32];
  make_room(g, strip_high_mm + 6);
  girdle_phrase_with(pdf->phrases, title, sizeof title, "{1}: strip", zone->name);
  say_sequence(pdf->phrases, zone, of, words, sizeof words);
  say_stones(zone, of, stones, sizeof stones);
  girdle_pdf_grey(pdf, 0.6);
  girdle_pdf_box(pdf, margin_mm, g->y, pdf->width_mm - 2 * margin_mm, strip_high_mm, 0.15);
  girdle_pdf_grey(pdf, 0);
  girdle_pdf_text(pdf, margin_mm + 3, g->y + 5, 3.6, 1, GIRDLE_ALIGN_LEFT, title);
  girdle_pdf_text(pdf, margin_mm + 3, g->y + 9.4, 2.9, 0, GIRDLE_ALIGN_LEFT, stones);
  girdle_pdf_text(pdf, pdf->width_mm - margin_mm - 3, g->y + 5, 2.9, 0, GIRDLE_ALIGN_RIGHT, words);
  draw_sequence(g, zone, of, g->y + strip_high_mm);
  g->y += strip_high_mm + 6;
}

/* ---- cards */

/* A square of a zone by its left and top. */
typedef struct square {
  double left_mm, top_mm, side_mm;
} square;

static int is_in(const zone_view *zone, int64_t i, const square *of) {
  const girdle_placed *at = &zone->records[i];
  return zone->on_card[i] && at->x_mm >= of->left_mm && at->x_mm < of->left_mm + of->side_mm &&
         at->y_mm >= of->top_mm && at->y_mm < of->top_mm + of->side_mm;
}

static int64_t count_in(const zone_view *zone, const square *of) {
  int64_t count = 0;
  for (int64_t i = 0; i < zone->count; i++)
    count += is_in(zone, i, of);
  return count;
}

/* Which share of all its stones a square has when they are spread as they are bagged: by area, for a square from the
 * middle has more, and would not last to the edges. 1 where the area is not known, or no larger than the square. */
static double share_of(const zone_view *zone, double side_mm) {
  return zone->area_mm2 > side_mm * side_mm ? side_mm * side_mm / zone->area_mm2 : 1;
}

/* Moves a square back into the zone where there is room for it. */
static void move_inside(const zone_view *zone, square *of) {
  const girdle_box *box = &zone->box;
  if (box->right_mm - box->left_mm >= of->side_mm)
    of->left_mm = fmin(fmax(of->left_mm, box->left_mm), box->right_mm - of->side_mm);
  if (box->bottom_mm - box->top_mm >= of->side_mm)
    of->top_mm = fmin(fmax(of->top_mm, box->top_mm), box->bottom_mm - of->side_mm);
}

/* Of the squares about a sample of the stones that one which holds nearest to so many. */
static void find_square(const zone_view *zone, double wanted, square *out) {
  double nearest = INFINITY;
  int64_t step = zone->count / 100 + 1;
  for (int64_t i = 0; i < zone->count; i += step) {
    square here = {zone->records[i].x_mm - out->side_mm / 2, zone->records[i].y_mm - out->side_mm / 2, out->side_mm};
    double off;
    move_inside(zone, &here);
    off = fabs((double)count_in(zone, &here) - wanted);
    if (off >= nearest) continue;
    nearest = off;
    *out = here;
  }
}

/* Stones of a kind within a square, or of the whole card for NULL. */
static int64_t count_kind(const zone_view *zone, const girdle_stone *stone, const square *within) {
  int64_t count = 0;
  for (int64_t i = 0; i < zone->count; i++)
    count += zone->on_card[i] && (!within || is_in(zone, i, within)) &&
             girdle_stone_equal(&zone->stones[zone->records[i].stone], stone);
  return count;
}

/* What belongs in a square: the share of all; where that is not known, what is drawn. */
static void draw_counts(guides *g, const zone_view *zone, double share, const square *of) {
  double x = margin_mm + of->side_mm + 6, y = g->y + 16;
  char number[48], text[GIRDLE_STONE_TEXT + 60];
  for (uint64_t kind = 0; kind < g->kinds.count; kind++) {
    const girdle_kind *one = &g->kinds.kinds[kind];
    double count = share * (double)count_kind(zone, &one->stone, share < 1 ? NULL : of);
    if (count <= 0) continue;
    girdle_number_words(g->pdf.phrases, count, count < 9.95 ? 1 : 0, number);
    snprintf(text, sizeof text, "%s \303\227 %s", number, one->name);
    girdle_pdf_text(&g->pdf, x, y, 3.6, 0, GIRDLE_ALIGN_LEFT, text);
    y += 6;
  }
  girdle_whole_words(count_in(zone, of), number);
  girdle_phrase_with(g->pdf.phrases, text, sizeof text, "drawn here: {1}", number);
  if (share < 1) girdle_pdf_text(&g->pdf, x, y, 2.9, 0, GIRDLE_ALIGN_LEFT, text);
}

/* What the numbers of a card are of. */
static const char *card_words(const guides *g, double share) {
  const int inches = girdle_in_inches(g->pdf.phrases);
  if (share < 1) return inches ? "on average in a square of 4 in:" : "on average in a square of 10 cm:";
  return inches ? "in a square of 4 in:" : "in a square of 10 cm:";
}

static void draw_square(guides *g, const zone_view *zone, const square *of) {
  girdle_pdf *pdf = &g->pdf;
  girdle_pdf_box(pdf, margin_mm, g->y, of->side_mm, of->side_mm, 0.2);
  girdle_pdf_clip(pdf, margin_mm, g->y, of->side_mm, of->side_mm);
  for (int64_t i = 0; i < zone->count; i++) {
    const girdle_placed *at = &zone->records[i];
    if (is_in(zone, i, of))
      girdle_pdf_stone(pdf, girdle_kinds_find(&g->kinds, &zone->stones[at->stone]), margin_mm + at->x_mm - of->left_mm,
                       g->y + at->y_mm - of->top_mm, (double)at->turn_deg);
  }
  girdle_pdf_unclip(pdf);
}

static void draw_card(guides *g, const zone_view *zone, int64_t stones) {
  girdle_pdf *pdf = &g->pdf;
  const double share = share_of(zone, g->card_mm);
  square of = {0, 0, g->card_mm};
  char title[GIRDLE_ZONE_TEXT + 32];
  make_room(g, g->card_mm + 10);
  find_square(zone, share * (double)stones, &of);
  girdle_phrase_with(pdf->phrases, title, sizeof title, "{1}: card", zone->name);
  girdle_pdf_text(pdf, margin_mm + g->card_mm + 6, g->y + 4, 3.6, 1, GIRDLE_ALIGN_LEFT, title);
  girdle_pdf_say(pdf, margin_mm + g->card_mm + 6, g->y + 9, 2.9, 0, GIRDLE_ALIGN_LEFT, card_words(g, share));
  draw_counts(g, zone, share, &of);
  draw_square(g, zone, &of);
  g->y += g->card_mm + 10;
}

/* ---- the whole */

/* Strips for the lines of a zone, then one card for all its other stones. */
static int32_t draw_zone(guides *g, zone_view *zone) {
  line lines[MOST_LINES];
  int64_t count = find_lines(zone, lines), on_card;
  zone->on_card = girdle_common_new(g->pdf.call, (uint64_t)zone->count);
  if (!zone->on_card) return GIRDLE_MEMORY;
  for (int64_t i = 0; i < count; i++)
    if (is_strip(&lines[i])) draw_strip(g, zone, &lines[i]);
  on_card = mark_card(zone, lines, count);
  if (on_card) draw_card(g, zone, on_card);
  girdle_common_release(&g->pdf.memory, zone->on_card, (uint64_t)zone->count);
  return g->pdf.status;
}

static int32_t draw_guides(guides *g) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(g->job, &count);
  g->card_mm = girdle_in_inches(g->pdf.phrases) ? 101.6 : 100;
  girdle_pdf_page(&g->pdf);
  g->y = girdle_pdf_head(&g->pdf, g->job, "Guides to cut out and lay on.") + 6;
  girdle_pdf_ruler(&g->pdf, margin_mm, g->y);
  g->y += 14;
  for (uint64_t i = 0; i < count && !g->pdf.status; i++) {
    char name[GIRDLE_ZONE_TEXT];
    zone_view zone = {.name = name, .area_mm2 = zones[i].area_mm2, .box = zones[i].box};
    girdle_zone_words(g->pdf.phrases, zones, count, i, name);
    if (zones[i].placement) zone.count = girdle_placement_view(zones[i].placement, &zone.records, &zone.stones, NULL);
    if (zone.count) GIRDLE_TRY(draw_zone(g, &zone));
  }
  make_room(g, 5);
  girdle_pdf_name_missing(&g->pdf);
  return g->pdf.status;
}

int32_t girdle_paper_guides_pdf(girdle_call *call, const girdle_job *job, const girdle_print_options *options,
                                const girdle_sink *sink) {
  GIRDLE_GIVEN(call, job, sink);
  girdle_print_options own;
  guides g;
  int32_t status;
  memset(&g, 0, sizeof g);
  girdle_print_options_init(&own, sizeof own);
  if (options) girdle_common_options(&own, sizeof own, options);
  g.job = job;
  GIRDLE_TRY(girdle_kinds_make(call, job, &g.kinds));
  status = girdle_pdf_begin(call, &own, &g.kinds, girdle_sink_phrases(sink), &g.pdf);
  if (!status) status = draw_guides(&g);
  status = girdle_pdf_end(&g.pdf, status, sink);
  girdle_kinds_free(&g.kinds);
  return status;
}
