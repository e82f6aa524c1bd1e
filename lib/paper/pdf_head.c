/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "pdf_internal.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double margin_mm = 10;

double girdle_pdf_head(girdle_pdf *pdf, const girdle_job *job, const char *what) {
  const girdle_job_head *head = girdle_job_head_of(job);
  char words[400], state[300], line[600];
  girdle_head_words(pdf->phrases, job, words, sizeof words);
  girdle_state_words(pdf->phrases, job, state, sizeof state);
  girdle_phrase_with(pdf->phrases, line, sizeof line, "Drawn at true size, {1}.", state);
  snprintf(line + strlen(line), sizeof line - strlen(line), " %s", girdle_phrase(pdf->phrases, what));
  girdle_pdf_text(pdf, margin_mm, 18, 8, 0, GIRDLE_ALIGN_LEFT, head->costume[0] ? head->costume : head->tag);
  girdle_pdf_text(pdf, margin_mm, 24, 2.9, 0, GIRDLE_ALIGN_LEFT, words);
  girdle_pdf_text(pdf, margin_mm, 28.4, 2.9, 0, GIRDLE_ALIGN_LEFT, line);
  girdle_pdf_line(pdf, margin_mm, 32, pdf->width_mm - margin_mm, 32, 0.35);
  return 35;
}

/* Half the room of a swatch, alike for all. */
static double swatch_mm(const girdle_kinds *kinds) {
  double reach = 3;
  for (uint64_t i = 0; i < kinds->count; i++)
    reach = fmax(reach, girdle_stone_circle_mm(&kinds->kinds[i].stone));
  return fmin(reach, 12);
}

double girdle_pdf_key(girdle_pdf *pdf, double top) {
  const girdle_kinds *kinds = pdf->kinds;
  double reach = swatch_mm(kinds), row = fmax(9, 2 * reach + 2), half = (pdf->width_mm - 2 * margin_mm) / 2, y = top;
  for (uint64_t i = 0; i < kinds->count; i++) {
    double x = margin_mm + (i % 2 ? half : 0);
    char line[160];
    if (i && i % 2 == 0) y += row;
    if (i % 2 == 0 && y + row > pdf->height_mm - margin_mm) {
      girdle_pdf_page(pdf);
      y = margin_mm + row / 2;
    }
    girdle_kind_words(pdf->phrases, &kinds->kinds[i], line, sizeof line);
    girdle_pdf_stone(pdf, i, x + reach, y, 0);
    girdle_pdf_grey(pdf, 0);
    girdle_pdf_text(pdf, x + 2 * reach + 3, y - 0.2, 3.4, 1, GIRDLE_ALIGN_LEFT, kinds->kinds[i].name);
    girdle_pdf_text(pdf, x + 2 * reach + 3, y + 3.6, 2.9, 0, GIRDLE_ALIGN_LEFT, line);
  }
  return y + row / 2;
}

void girdle_pdf_name_missing(girdle_pdf *pdf) {
  char list[500] = "", text[600];
  if (!pdf->missing_count) return;
  for (int32_t i = 0; i < pdf->missing_count; i++)
    snprintf(list + strlen(list), sizeof list - strlen(list), "%sU+%04X", i ? ", " : "", (unsigned)pdf->missing[i]);
  girdle_phrase_with(pdf->phrases, text, sizeof text, "The font lacks {1}: printed as \"?\".", list);
  girdle_pdf_text(pdf, margin_mm, pdf->height_mm - margin_mm, 2.9, 0, GIRDLE_ALIGN_LEFT, text);
}
