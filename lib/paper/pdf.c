/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "pdf_internal.h"

#include <stdio.h>
#include <string.h>

void girdle_print_options_init(girdle_print_options *options, uint32_t struct_bytes) {
  girdle_print_options own = {.struct_bytes = struct_bytes, .page = GIRDLE_PAGE_A4};
  memset(options, 0, struct_bytes);
  memcpy(options, &own, struct_bytes < sizeof own ? struct_bytes : sizeof own);
}

/* ---- beginning and ending */

static int32_t check_options(girdle_call *call, const girdle_print_options *options) {
  if (options->page >= 0 && options->page < GIRDLE_PAGE_END) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "page", "paper %d is not known: A4 or Letter", (int)options->page);
}

int32_t girdle_pdf_begin(girdle_call *call, const girdle_print_options *options, const girdle_kinds *kinds,
                         const girdle_phrased *phrases, girdle_pdf *out) {
  static const double sizes[GIRDLE_PAGE_END][2] = {{210, 297}, {215.9, 279.4}};
  memset(out, 0, sizeof *out);
  out->call = call;
  out->memory = girdle_common_memory(call);
  out->kinds = kinds;
  out->phrases = phrases;
  GIRDLE_TRY(check_options(call, options));
  out->width_mm = sizes[options->page][0];
  out->height_mm = sizes[options->page][1];
  out->doc = HPDF_New(NULL, NULL);
  if (!out->doc) return girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  HPDF_SetCompressionMode(out->doc, HPDF_COMP_ALL);
  GIRDLE_TRY(girdle_pdf_fonts_begin(out, options));
  return girdle_pdf_stones_begin(out);
}

static int32_t write_stream(girdle_pdf *pdf, const girdle_sink *sink) {
  girdle_writer out;
  HPDF_BYTE piece[4096];
  girdle_writer_begin(&out, pdf->call, sink);
  if (HPDF_SaveToStream(pdf->doc) != HPDF_OK)
    return girdle_common_fail(pdf->call, GIRDLE_MEMORY, NULL, "the PDF could not be made: out of memory");
  for (;;) {
    HPDF_UINT32 bytes = sizeof piece;
    HPDF_STATUS status = HPDF_ReadFromStream(pdf->doc, piece, &bytes);
    girdle_write_bytes(&out, piece, bytes);
    if (bytes < sizeof piece || status != HPDF_OK) break;
  }
  return girdle_writer_end(&out);
}

int32_t girdle_pdf_end(girdle_pdf *pdf, int32_t status, const girdle_sink *sink) {
  if (!status) status = pdf->status;
  if (!status && HPDF_GetError(pdf->doc) != HPDF_OK)
    status = girdle_common_fail(pdf->call, GIRDLE_MEMORY, NULL, "the PDF could not be made: out of memory");
  if (!status) status = write_stream(pdf, sink);
  girdle_pdf_stones_end(pdf);
  if (pdf->doc) HPDF_Free(pdf->doc);
  return status;
}

void girdle_pdf_page(girdle_pdf *pdf) {
  if (pdf->status) return;
  pdf->status = girdle_common_tick(pdf->call, 1000, -1);
  pdf->page = HPDF_AddPage(pdf->doc);
  if (!pdf->page) {
    if (!pdf->status) pdf->status = girdle_common_fail(pdf->call, GIRDLE_MEMORY, NULL, "out of memory");
    return;
  }
  pdf->pages++;
  HPDF_Page_SetWidth(pdf->page, (HPDF_REAL)(pdf->width_mm * girdle_pt_per_mm));
  HPDF_Page_SetHeight(pdf->page, (HPDF_REAL)(pdf->height_mm * girdle_pt_per_mm));
}

/* ---- places */

static HPDF_REAL across(double mm) {
  return (HPDF_REAL)(mm * girdle_pt_per_mm);
}

static HPDF_REAL up(const girdle_pdf *pdf, double mm) {
  return (HPDF_REAL)((pdf->height_mm - mm) * girdle_pt_per_mm);
}

/* ---- lines */

void girdle_pdf_grey(girdle_pdf *pdf, double light) {
  if (!pdf->page || pdf->status) return;
  HPDF_Page_SetGrayStroke(pdf->page, (HPDF_REAL)light);
  HPDF_Page_SetGrayFill(pdf->page, (HPDF_REAL)light);
}

void girdle_pdf_line(girdle_pdf *pdf, double x1, double y1, double x2, double y2, double width_mm) {
  if (!pdf->page || pdf->status) return;
  HPDF_Page_SetLineWidth(pdf->page, across(width_mm));
  HPDF_Page_MoveTo(pdf->page, across(x1), up(pdf, y1));
  HPDF_Page_LineTo(pdf->page, across(x2), up(pdf, y2));
  HPDF_Page_Stroke(pdf->page);
}

void girdle_pdf_box(girdle_pdf *pdf, double x, double y, double wide, double high, double width_mm) {
  if (!pdf->page || pdf->status) return;
  HPDF_Page_SetLineWidth(pdf->page, across(width_mm));
  HPDF_Page_Rectangle(pdf->page, across(x), up(pdf, y + high), across(wide), across(high));
  HPDF_Page_Stroke(pdf->page);
}

void girdle_pdf_ring(girdle_pdf *pdf, double x, double y, double r) {
  if (!pdf->page || pdf->status) return;
  HPDF_Page_SetLineWidth(pdf->page, across(0.2));
  HPDF_Page_Circle(pdf->page, across(x), up(pdf, y), across(r - 0.1)); /* its outer edge is the rim */
  HPDF_Page_Stroke(pdf->page);
}

void girdle_pdf_clip(girdle_pdf *pdf, double x, double y, double wide, double high) {
  if (!pdf->page || pdf->status) return;
  HPDF_Page_GSave(pdf->page);
  HPDF_Page_Rectangle(pdf->page, across(x), up(pdf, y + high), across(wide), across(high));
  HPDF_Page_Clip(pdf->page);
  HPDF_Page_EndPath(pdf->page);
}

void girdle_pdf_unclip(girdle_pdf *pdf) {
  if (pdf->page && !pdf->status) HPDF_Page_GRestore(pdf->page);
}

void girdle_pdf_cross(girdle_pdf *pdf, double x, double y) {
  girdle_pdf_line(pdf, x - 3, y, x + 3, y, 0.15);
  girdle_pdf_line(pdf, x, y - 3, x, y + 3, 0.15);
}

void girdle_pdf_ruler(girdle_pdf *pdf, double x, double y) {
  for (int eighth = 0; eighth <= 32 && girdle_in_inches(pdf->phrases); eighth++)
    girdle_pdf_line(pdf, x + eighth * 25.4 / 8, y, x + eighth * 25.4 / 8,
                    y - (eighth % 8 == 0   ? 4
                         : eighth % 4 == 0 ? 3
                                           : 2),
                    0.15);
  girdle_pdf_line(pdf, x, y, x + 100, y, 0.2);
  for (int mm = 0; mm <= 100; mm++)
    girdle_pdf_line(pdf, x + mm, y, x + mm, y + (mm % 10 == 0 ? 4 : mm % 5 == 0 ? 3 : 2), 0.15);
  for (int cm = 0; cm <= 10; cm++) {
    char digits[16];
    snprintf(digits, sizeof digits, "%d", cm);
    girdle_pdf_text(pdf, x + cm * 10, y + 6.6, 2.3, 0, GIRDLE_ALIGN_MIDDLE, digits);
  }
}
