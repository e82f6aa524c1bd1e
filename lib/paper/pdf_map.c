/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "pdf_internal.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The map over pages: a first page to find one's way, then every block page by page. */

static const double margin_mm = 10, strip_mm = 13, overlap_mm = 15;

typedef struct map {
  girdle_pdf pdf;
  girdle_kinds kinds;
  girdle_pages pages;
  const girdle_job *job;
  int mirrored;
} map;

/* ---- one zone in a window */

/* A zone is mirrored within its own box, so that it stays at its place of the page. */
static void draw_stones(map *m, const girdle_slot *slot, const girdle_sorted *sorted, double x, double y) {
  for (uint64_t stone = 0; stone < sorted->stone_count; stone++) {
    uint64_t kind = girdle_kinds_find(&m->kinds, &sorted->stones[stone]);
    double reach = girdle_stone_circle_mm(&sorted->stones[stone]);
    for (uint64_t i = sorted->starts[stone]; i < sorted->starts[stone + 1] && kind < m->kinds.count; i++) {
      const girdle_placed at = girdle_slot_place(slot, &sorted->records[sorted->order[i]], m->mirrored);
      double px = at.x_mm + x, py = at.y_mm + y;
      if (px + reach < margin_mm || px - reach > m->pdf.width_mm - margin_mm) continue;
      if (py + reach < margin_mm || py - reach > m->pdf.height_mm - margin_mm - strip_mm) continue;
      girdle_pdf_stone(&m->pdf, kind, px, py, (double)at.turn_deg);
    }
  }
}

/* Corners round the stones, as on the SVG map. */
static void draw_corners(girdle_pdf *pdf, const girdle_slot *slot, double x, double y) {
  const double left = slot->box.left_mm + x - 1.5, right = slot->box.right_mm + x + 1.5;
  const double top = slot->box.top_mm + y - 1.5, bottom = slot->box.bottom_mm + y + 1.5;
  girdle_pdf_grey(pdf, 0.55);
  girdle_pdf_line(pdf, left, top, left + 3, top, 0.2);
  girdle_pdf_line(pdf, left, top, left, top + 3, 0.2);
  girdle_pdf_line(pdf, right, top, right - 3, top, 0.2);
  girdle_pdf_line(pdf, right, top, right, top + 3, 0.2);
  girdle_pdf_line(pdf, left, bottom, left + 3, bottom, 0.2);
  girdle_pdf_line(pdf, left, bottom, left, bottom - 3, 0.2);
  girdle_pdf_line(pdf, right, bottom, right - 3, bottom, 0.2);
  girdle_pdf_line(pdf, right, bottom, right, bottom - 3, 0.2);
  girdle_pdf_grey(pdf, 0);
}

/* left, top: where the block's window begins. */
static int32_t draw_slot(map *m, const girdle_slot *slot, double left, double top) {
  double x = margin_mm + slot->left_mm - left, y = margin_mm + slot->top_mm - top;
  girdle_sorted sorted;
  girdle_pdf_text(&m->pdf, x, y - 11, 4.4, 1, GIRDLE_ALIGN_LEFT, slot->name);
  girdle_pdf_text(&m->pdf, x, y - 7, 2.9, 0, GIRDLE_ALIGN_LEFT, slot->caption[0]);
  girdle_pdf_text(&m->pdf, x, y - 3.2, 2.9, 0, GIRDLE_ALIGN_LEFT, slot->caption[1]);
  draw_corners(&m->pdf, slot, x - slot->box.left_mm, y - slot->box.top_mm);
  GIRDLE_TRY(girdle_sorted_make(m->pdf.call, slot->zone->placement, &sorted));
  draw_stones(m, slot, &sorted, x - slot->box.left_mm, y - slot->box.top_mm);
  girdle_sorted_free(&sorted);
  return m->pdf.status;
}

/* ---- one page of a block */

/* Crosses in the middle of each overlap, so that every one is on all the pages that share it. */
static void draw_crosses(map *m, const girdle_block *block, double left, double top) {
  double wide = m->pages.wide_mm - overlap_mm, high = m->pages.high_mm - overlap_mm;
  for (int32_t column = 0; column <= block->columns; column++) {
    for (int32_t row = 0; row <= block->rows; row++) {
      double x = column * wide + overlap_mm / 2 - left, y = row * high + overlap_mm / 2 - top;
      int shared = (column > 0 && column < block->columns) || (row > 0 && row < block->rows);
      int inside = x >= 0 && x <= m->pages.wide_mm && y >= 0 && y <= m->pages.high_mm;
      if (shared && inside) girdle_pdf_cross(&m->pdf, margin_mm + x, margin_mm + y);
    }
  }
}

static void name_neighbour(girdle_pdf *pdf, double x, double y, int32_t page) {
  char text[120], number[16];
  snprintf(number, sizeof number, "%d", (int)page + 2);
  girdle_phrase_with(pdf->phrases, text, sizeof text, "goes on on page {1}", number);
  girdle_pdf_text(pdf, x, y, 2.3, 0, GIRDLE_ALIGN_MIDDLE, text);
}

static void draw_neighbours(map *m, const girdle_block *block, int32_t column, int32_t row) {
  girdle_pdf *pdf = &m->pdf;
  int32_t page = block->first_page + row * block->columns + column;
  double bottom = pdf->height_mm - margin_mm - strip_mm;
  girdle_pdf_grey(pdf, 0.45);
  if (column > 0) name_neighbour(pdf, margin_mm + 22, margin_mm - 2, page - 1);
  if (column + 1 < block->columns) name_neighbour(pdf, pdf->width_mm - margin_mm - 22, margin_mm - 2, page + 1);
  if (row > 0) name_neighbour(pdf, pdf->width_mm / 2, margin_mm - 2, page - block->columns);
  if (row + 1 < block->rows) name_neighbour(pdf, pdf->width_mm / 2, bottom + 2.6, page + block->columns);
  girdle_pdf_grey(pdf, 0);
}

static void draw_foot(map *m, const girdle_block *block, int32_t column, int32_t row) {
  const girdle_job_head *head = girdle_job_head_of(m->job);
  girdle_pdf *pdf = &m->pdf;
  char text[300], this_page[16], all_pages[16];
  double y = pdf->height_mm - margin_mm;
  int32_t page = block->first_page + row * block->columns + column;
  snprintf(this_page, sizeof this_page, "%d", (int)page + 2);
  snprintf(all_pages, sizeof all_pages, "%d", (int)m->pages.pages + 1);
  if (strcmp(head->costume, head->tag) == 0)
    girdle_phrase_with(pdf->phrases, text, sizeof text, "{1} \302\267 page {2} of {3}", head->tag, this_page,
                       all_pages);
  else
    girdle_phrase_with(pdf->phrases, text, sizeof text, "{1}, {2} \302\267 page {3} of {4}", head->costume, head->tag,
                       this_page, all_pages);
  girdle_pdf_ruler(pdf, margin_mm, y - 6);
  girdle_pdf_text(pdf, pdf->width_mm - margin_mm, y - 3.4, 2.9, 0, GIRDLE_ALIGN_RIGHT, text);
  if (m->mirrored)
    girdle_pdf_say(pdf, pdf->width_mm - margin_mm, y, 2.9, 1, GIRDLE_ALIGN_RIGHT,
                   "MIRRORED, for the back of the fabric");
}

static int32_t draw_page(map *m, uint64_t number, int32_t column, int32_t row) {
  const girdle_block *block = &m->pages.blocks[number];
  double left, top;
  int32_t status = GIRDLE_OK;
  girdle_pages_window(&m->pages, column, row, &left, &top);
  girdle_pdf_page(&m->pdf);
  girdle_pdf_clip(&m->pdf, margin_mm - 2, margin_mm - 2, m->pages.wide_mm + 4, m->pages.high_mm + 2);
  for (uint64_t i = 0; i < m->pages.layout.count && !status; i++)
    if (m->pages.layout.slots[i].block == number) status = draw_slot(m, &m->pages.layout.slots[i], left, top);
  girdle_pdf_unclip(&m->pdf);
  draw_crosses(m, block, left, top);
  draw_neighbours(m, block, column, row);
  draw_foot(m, block, column, row);
  return status;
}

static int32_t draw_blocks(map *m) {
  for (uint64_t number = 0; number < m->pages.count; number++)
    for (int32_t row = 0; row < m->pages.blocks[number].rows; row++)
      for (int32_t column = 0; column < m->pages.blocks[number].columns; column++)
        GIRDLE_TRY(draw_page(m, number, column, row));
  return m->pdf.status;
}

/* ---- the first page: how the pages lie to each other */

typedef struct small {
  map *m;
  double scale, x, y, high; /* where the next block goes; the highest of its row */
} small;

static double small_wide(const small *s, const girdle_block *block) {
  return s->scale * (block->columns * (s->m->pages.wide_mm - overlap_mm) + overlap_mm);
}

static double small_high(const small *s, const girdle_block *block) {
  return s->scale * (block->rows * (s->m->pages.high_mm - overlap_mm) + overlap_mm);
}

static void draw_small(const small *s, uint64_t number) {
  const girdle_pages *pages = &s->m->pages;
  const girdle_block *block = &pages->blocks[number];
  girdle_pdf *pdf = &s->m->pdf;
  for (uint64_t i = 0; i < pages->layout.count; i++) {
    const girdle_slot *slot = &pages->layout.slots[i];
    if (slot->block != number) continue;
    girdle_pdf_grey(pdf, 0.7);
    girdle_pdf_box(pdf, s->x + s->scale * slot->left_mm, s->y + s->scale * slot->top_mm,
                   s->scale * (slot->box.right_mm - slot->box.left_mm),
                   s->scale * (slot->box.bottom_mm - slot->box.top_mm), 0.5);
    girdle_pdf_grey(pdf, 0);
  }
  for (int32_t i = 0; i < block->columns * block->rows; i++) {
    char text[16];
    double left, top;
    girdle_pages_window(pages, i % block->columns, i / block->columns, &left, &top);
    snprintf(text, sizeof text, "%d", (int)(block->first_page + i) + 2);
    girdle_pdf_box(pdf, s->x + s->scale * left, s->y + s->scale * top, s->scale * pages->wide_mm,
                   s->scale * pages->high_mm, 0.15);
    girdle_pdf_text(pdf, s->x + s->scale * (left + pages->wide_mm / 2),
                    s->y + s->scale * (top + pages->high_mm / 2) + 1, 3, 1, GIRDLE_ALIGN_MIDDLE, text);
  }
}

/* Goes over the blocks in rows; draws them, or only finds out how far down they come. */
static double small_pages(map *m, double scale, double top, int draw) {
  small s = {m, scale, margin_mm, top, 0};
  for (uint64_t i = 0; i < m->pages.count; i++) {
    double wide = small_wide(&s, &m->pages.blocks[i]), high = small_high(&s, &m->pages.blocks[i]);
    if (s.x > margin_mm && s.x + wide > m->pdf.width_mm - margin_mm) {
      s.x = margin_mm;
      s.y += s.high + 4;
      s.high = 0;
    }
    if (draw) draw_small(&s, i);
    s.x += wide + 4;
    s.high = fmax(s.high, high);
  }
  return s.y + s.high;
}

/* Words that stand on later pages are looked at here, so that what the font lacks can be named on the first. */
static void look_at_words(map *m) {
  for (uint64_t i = 0; i < m->pages.layout.count; i++) {
    girdle_pdf_text_wide(&m->pdf, 3, 0, m->pages.layout.slots[i].name);
    girdle_pdf_text_wide(&m->pdf, 3, 0, m->pages.layout.slots[i].caption[1]);
  }
}

static void draw_first(map *m) {
  static const char *const advice[] = {
      "Print at 100 %, without fitting to the page, and lay a ruler on this one first.",
      "Pages of one zone overlap: lay cross on cross, then tape them together."};
  girdle_pdf *pdf = &m->pdf;
  double y, scale = 0.16, bottom = pdf->height_mm - margin_mm - 16;
  girdle_pdf_page(pdf);
  y = girdle_pdf_head(pdf, m->job, m->mirrored ? "Mirrored, for working from the back of the fabric." : "");
  girdle_pdf_ruler(pdf, margin_mm, y + 3);
  for (int i = 0; i < 2; i++)
    girdle_pdf_say(pdf, margin_mm, y + 15 + 4 * i, 2.9, 0, GIRDLE_ALIGN_LEFT, advice[i]);
  y = girdle_pdf_key(pdf, y + 31);
  if (y > bottom - 40) {
    girdle_pdf_page(pdf);
    y = margin_mm + 4;
  }
  girdle_pdf_say(pdf, margin_mm, y + 6, 4.4, 1, GIRDLE_ALIGN_LEFT, "The pages");
  while (scale > 0.004 && small_pages(m, scale, y + 10, 0) > bottom)
    scale *= 0.85;
  small_pages(m, scale, y + 10, 1);
  look_at_words(m);
  girdle_pdf_name_missing(pdf);
}

/* ---- the whole */

static int32_t draw_map(map *m) {
  int32_t status;
  GIRDLE_TRY(girdle_pages_make(m->pdf.call, m->job, m->pdf.phrases, m->pdf.width_mm - 2 * margin_mm,
                               m->pdf.height_mm - 2 * margin_mm - strip_mm, overlap_mm, &m->pages));
  draw_first(m);
  status = draw_blocks(m);
  girdle_pages_free(&m->pages);
  return status;
}

int32_t girdle_paper_map_pdf(girdle_call *call, const girdle_job *job, const girdle_print_options *options,
                             const girdle_sink *sink) {
  GIRDLE_GIVEN(call, job, sink);
  girdle_print_options own;
  map m;
  int32_t status;
  memset(&m, 0, sizeof m);
  girdle_print_options_init(&own, sizeof own);
  if (options) girdle_common_options(&own, sizeof own, options);
  m.job = job;
  m.mirrored = (own.flags & GIRDLE_PRINT_MIRRORED) != 0;
  GIRDLE_TRY(girdle_kinds_make(call, job, &m.kinds));
  status = girdle_pdf_begin(call, &own, &m.kinds, girdle_sink_phrases(sink), &m.pdf);
  if (!status) status = draw_map(&m);
  status = girdle_pdf_end(&m.pdf, status, sink);
  girdle_kinds_free(&m.kinds);
  return status;
}
