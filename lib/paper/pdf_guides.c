/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "pdf_internal.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Guides for a dress that no map can be laid under: for a line of stones a strip to lay along the seam, for an area a
 * card that shows how dense it is meant. Both are drawn at true size from the placement itself. */

static const double margin_mm = 10, strip_high_mm = 30, card_mm = 100;

typedef struct guides {
  girdle_pdf pdf;
  girdle_kinds kinds;
  const girdle_job *job;
  double y; /* where the next guide goes */
} guides;

/* One zone's records. */
typedef struct zone_view {
  const char *name;
  const girdle_placed *records;
  const girdle_stone *stones;
  int64_t count;
} zone_view;

static double gap_behind(const zone_view *zone, int64_t i) {
  const girdle_placed *a = &zone->records[i], *b = &zone->records[i + 1];
  return hypot(b->x_mm - a->x_mm, b->y_mm - a->y_mm) - zone->stones[a->stone].diameter_mm[GIRDLE_NOMINAL] / 2 -
         zone->stones[b->stone].diameter_mm[GIRDLE_NOMINAL] / 2;
}

static int by_value(const void *a, const void *b) {
  double first = *(const double *)a, second = *(const double *)b;
  return first < second ? -1 : first > second;
}

/* A zone is a line when its first row's stones follow each other at nearly one gap, and it has few rows; *gap is the
 * middle one of the gaps. */
static int is_line(const zone_view *zone, double *gap) {
  enum { MOST = 400 };
  double gaps[MOST];
  int64_t count = 0, alike = 0, rows = 0;
  for (int64_t i = 0; i < zone->count; i++)
    if (zone->records[i].row > rows) rows = zone->records[i].row;
  for (int64_t i = 0; i + 1 < zone->count && count < MOST && zone->records[i + 1].row == zone->records[0].row; i++)
    gaps[count++] = gap_behind(zone, i);
  if (count < 2 || rows > 5) return 0;
  qsort(gaps, (size_t)count, sizeof *gaps, by_value);
  *gap = gaps[count / 2];
  for (int64_t i = 0; i < count; i++)
    alike += fabs(gaps[i] - *gap) < 0.25;
  return *gap > -0.01 && alike * 5 >= count * 4;
}

static void make_room(guides *g, double high) {
  if (g->y + high <= g->pdf.height_mm - margin_mm) return;
  girdle_pdf_page(&g->pdf);
  g->y = margin_mm + 4;
}

/* ---- strips */

static void say_sequence(const girdle_phrased *phrases, const zone_view *zone, double gap, char *text, size_t bytes) {
  const girdle_stone *a = &zone->stones[zone->records[0].stone], *b = &zone->stones[zone->records[1].stone];
  char edge[48], centre[48];
  girdle_number_words(phrases, gap, 1, edge);
  girdle_number_words(phrases, gap + a->diameter_mm[GIRDLE_NOMINAL] / 2 + b->diameter_mm[GIRDLE_NOMINAL] / 2, 1,
                      centre);
  girdle_phrase_with(phrases, text, bytes, "{1} mm edge to edge, {2} mm centre to centre", edge, centre);
}

static void draw_strip(guides *g, const zone_view *zone, double gap) {
  girdle_pdf *pdf = &g->pdf;
  double x = margin_mm + 4, end = pdf->width_mm - margin_mm - 4, middle;
  char words[160], title[GIRDLE_ZONE_TEXT + 32];
  make_room(g, strip_high_mm + 6);
  middle = g->y + 18;
  girdle_phrase_with(pdf->phrases, title, sizeof title, "{1}: strip", zone->name);
  say_sequence(pdf->phrases, zone, gap, words, sizeof words);
  girdle_pdf_grey(pdf, 0.6);
  girdle_pdf_box(pdf, margin_mm, g->y, pdf->width_mm - 2 * margin_mm, strip_high_mm, 0.15);
  girdle_pdf_grey(pdf, 0);
  girdle_pdf_text(pdf, margin_mm + 3, g->y + 5, 3.6, 1, GIRDLE_ALIGN_LEFT, title);
  girdle_pdf_text(pdf, pdf->width_mm - margin_mm - 3, g->y + 5, 2.9, 0, GIRDLE_ALIGN_RIGHT, words);
  for (int64_t i = 0; i < zone->count && zone->records[i].row == zone->records[0].row; i++) {
    const girdle_stone *stone = &zone->stones[zone->records[i].stone];
    double r = stone->diameter_mm[GIRDLE_NOMINAL] / 2;
    if (x + 2 * r > end) break;
    girdle_pdf_stone(pdf, girdle_kinds_find(&g->kinds, stone), x + r, middle, 90);
    girdle_pdf_grey(pdf, 0);
    girdle_pdf_line(pdf, x + r, g->y + strip_high_mm - 4, x + r, g->y + strip_high_mm, 0.2); /* the edge at the seam */
    x += 2 * r + gap;
  }
  g->y += strip_high_mm + 6;
}

/* ---- cards */

static int is_in(const girdle_placed *record, double x, double y) {
  return record->x_mm >= x && record->x_mm < x + card_mm && record->y_mm >= y && record->y_mm < y + card_mm;
}

static int64_t count_in(const zone_view *zone, double x, double y) {
  int64_t count = 0;
  for (int64_t i = 0; i < zone->count; i++)
    count += is_in(&zone->records[i], x, y);
  return count;
}

/* The square with most stones of those about a sample of them. */
static void find_square(const zone_view *zone, double *x, double *y) {
  int64_t most = -1, step = zone->count / 100 + 1;
  for (int64_t i = 0; i < zone->count; i += step) {
    double left = zone->records[i].x_mm - card_mm / 2, top = zone->records[i].y_mm - card_mm / 2;
    int64_t count = count_in(zone, left, top);
    if (count <= most) continue;
    most = count;
    *x = left;
    *y = top;
  }
}

static void draw_counts(guides *g, const zone_view *zone, double left, double top) {
  double x = margin_mm + card_mm + 6, y = g->y + 16;
  for (uint64_t kind = 0; kind < g->kinds.count; kind++) {
    char text[GIRDLE_STONE_TEXT + 32];
    int64_t count = 0;
    for (int64_t i = 0; i < zone->count; i++)
      count += is_in(&zone->records[i], left, top) &&
               girdle_stone_equal(&zone->stones[zone->records[i].stone], &g->kinds.kinds[kind].stone);
    if (!count) continue;
    snprintf(text, sizeof text, "%lld \303\227 %s", (long long)count, g->kinds.kinds[kind].name);
    girdle_pdf_text(&g->pdf, x, y, 3.6, 0, GIRDLE_ALIGN_LEFT, text);
    y += 6;
  }
}

static void draw_card(guides *g, const zone_view *zone) {
  girdle_pdf *pdf = &g->pdf;
  double left = 0, top = 0;
  char title[GIRDLE_ZONE_TEXT + 32];
  make_room(g, card_mm + 10);
  find_square(zone, &left, &top);
  girdle_phrase_with(pdf->phrases, title, sizeof title, "{1}: card", zone->name);
  girdle_pdf_text(pdf, margin_mm + card_mm + 6, g->y + 4, 3.6, 1, GIRDLE_ALIGN_LEFT, title);
  girdle_pdf_say(pdf, margin_mm + card_mm + 6, g->y + 9, 2.9, 0, GIRDLE_ALIGN_LEFT, "in a square of 10 cm:");
  draw_counts(g, zone, left, top);
  girdle_pdf_box(pdf, margin_mm, g->y, card_mm, card_mm, 0.2);
  girdle_pdf_clip(pdf, margin_mm, g->y, card_mm, card_mm);
  for (int64_t i = 0; i < zone->count; i++) {
    const girdle_placed *at = &zone->records[i];
    if (is_in(at, left, top))
      girdle_pdf_stone(pdf, girdle_kinds_find(&g->kinds, &zone->stones[at->stone]), margin_mm + at->x_mm - left,
                       g->y + at->y_mm - top, (double)at->turn_deg);
  }
  girdle_pdf_unclip(pdf);
  girdle_pdf_grey(pdf, 0);
  g->y += card_mm + 10;
}

/* ---- the whole */

static int32_t draw_guides(guides *g) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(g->job, &count);
  girdle_pdf_page(&g->pdf);
  g->y = girdle_pdf_head(&g->pdf, g->job, "Guides to cut out and lay on.") + 3;
  girdle_pdf_ruler(&g->pdf, margin_mm, g->y);
  g->y += 14;
  for (uint64_t i = 0; i < count && !g->pdf.status; i++) {
    char name[GIRDLE_ZONE_TEXT];
    zone_view zone = {.name = name};
    double gap;
    girdle_zone_words(g->pdf.phrases, zones, count, i, name);
    if (zones[i].placement) zone.count = girdle_placement_view(zones[i].placement, &zone.records, &zone.stones, NULL);
    if (!zone.count) continue;
    if (is_line(&zone, &gap))
      draw_strip(g, &zone, gap);
    else
      draw_card(g, &zone);
  }
  return g->pdf.status;
}

int32_t girdle_paper_guides_pdf(girdle_call *call, const girdle_job *job, const girdle_print_options *options,
                                const girdle_sink *sink) {
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
