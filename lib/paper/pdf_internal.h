/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_PDF_INTERNAL_H
#define GIRDLE_PDF_INTERNAL_H

/* A PDF being drawn with libharu, in millimetres from the top left corner of a page. All places are worked out in
 * doubles and become libharu's floats only as points of a page. The first error stays, later calls do nothing, so only
 * the end needs looking at. libharu's own memory is malloc's: its allocator has no context. */

#include <hpdf.h>
#include <hpdf_objects.h>

#include "map_internal.h"

enum { GIRDLE_OUTLINE_POINTS = 120, GIRDLE_MISSING_MOST = 24 };

static const double girdle_pt_per_mm = 72 / 25.4;

/* How a kind is drawn: the outline about its point (count 0 for round ones), its form once it was needed, and the
 * form's name on the page that used it last. */
typedef struct girdle_pdf_kind {
  uint64_t count;
  double x[GIRDLE_OUTLINE_POINTS], y[GIRDLE_OUTLINE_POINTS];
  HPDF_Dict form;
  const char *name;
  int32_t page, reserved;
} girdle_pdf_kind;

typedef struct girdle_pdf {
  girdle_call *call;
  const girdle_phrased *phrases;
  HPDF_Doc doc;
  HPDF_Page page;
  HPDF_Font font[2], bold; /* the second, of what the first lacks, once it was needed; bold NULL: as a rim */
  HPDF_FontDef given[2];   /* TrueType fonts of the caller's, or NULL */
  const void *other_bytes; /* of the second font, until it was needed */
  uint64_t other_count;
  double width_mm, height_mm; /* of a page */
  int32_t status, pages;
  uint32_t missing[GIRDLE_MISSING_MOST]; /* characters that the font lacks */
  int32_t missing_count, reserved;
  girdle_allocator memory;
  const girdle_kinds *kinds;
  girdle_pdf_kind *forms; /* one a kind */
} girdle_pdf;

enum { GIRDLE_ALIGN_LEFT, GIRDLE_ALIGN_MIDDLE, GIRDLE_ALIGN_RIGHT };

int32_t girdle_pdf_begin(girdle_call *call, const girdle_print_options *options, const girdle_kinds *kinds,
                         const girdle_phrased *phrases, girdle_pdf *out);
/* Writes the document to the sink and frees it; frees it as well when `status` is an error already. */
int32_t girdle_pdf_end(girdle_pdf *pdf, int32_t status, const girdle_sink *sink);
void girdle_pdf_page(girdle_pdf *pdf);
int32_t girdle_pdf_fonts_begin(girdle_pdf *pdf, const girdle_print_options *options);
int32_t girdle_pdf_stones_begin(girdle_pdf *pdf);
void girdle_pdf_stones_end(girdle_pdf *pdf);
/* A sink's write into an HPDF_Stream. */
int32_t girdle_pdf_write_stream(void *stream, const void *bytes, uint64_t count);

/* Text on its base line; a character the font lacks becomes "?" and is remembered. */
void girdle_pdf_text(girdle_pdf *pdf, double x, double y, double size_mm, int bold, int align, const char *text);
/* The same of a phrase. */
void girdle_pdf_say(girdle_pdf *pdf, double x, double y, double size_mm, int bold, int align, const char *english);
double girdle_pdf_text_wide(girdle_pdf *pdf, double size_mm, int bold, const char *text);
void girdle_pdf_line(girdle_pdf *pdf, double x1, double y1, double x2, double y2, double width_mm);
void girdle_pdf_box(girdle_pdf *pdf, double x, double y, double wide, double high, double width_mm);
void girdle_pdf_grey(girdle_pdf *pdf, double light); /* of lines and text: 0 black, 1 white */
/* Everything until girdle_pdf_unclip stays within a box. */
void girdle_pdf_clip(girdle_pdf *pdf, double x, double y, double wide, double high);
void girdle_pdf_unclip(girdle_pdf *pdf);
/* One stone of a kind. */
void girdle_pdf_stone(girdle_pdf *pdf, uint64_t kind, double x, double y, double turn_deg);
/* A plain ring: the rim of a stone of no colour. */
void girdle_pdf_ring(girdle_pdf *pdf, double x, double y, double r);
/* A cross of 6 mm, and a ruler of 100 mm with its numbers. */
void girdle_pdf_cross(girdle_pdf *pdf, double x, double y);
void girdle_pdf_ruler(girdle_pdf *pdf, double x, double y);
/* Whose costume, in which state, and the key to the stones; returns how far down it came. */
double girdle_pdf_head(girdle_pdf *pdf, const girdle_job *job, const char *what);
double girdle_pdf_key(girdle_pdf *pdf, double top);
/* At the foot of the page: which characters the font lacked so far. */
void girdle_pdf_name_missing(girdle_pdf *pdf);

#endif
