/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "pdf_internal.h"

#include <hpdf_doc.h>
#include <hpdf_pages.h>
#include <hpdf_streams.h>
#include <math.h>
#include <string.h>

/* Stones in a PDF. A kind is drawn once, about (0, 0), as a form; each of its stones is that form put in its place: a
 * line of some 40 bytes, written to the page's own stream, where libharu's calls would take twenty lines a stone. */

static const double pi = 3.14159265358979323846;

/* ---- outlines */

typedef struct outline_text {
  char text[400];
  uint64_t used;
} outline_text;

static int32_t take_outline(void *context, const void *bytes, uint64_t count) {
  outline_text *all = context;
  if (all->used + count >= sizeof all->text) return 1;
  memcpy(all->text + all->used, bytes, (size_t)count);
  all->used += count;
  return 0;
}

static int32_t sample_outline(girdle_call *call, const girdle_stone *stone, girdle_pdf_kind *out) {
  outline_text data = {.used = 0};
  const girdle_sink sink = {&data, take_outline};
  girdle_writer writer;
  girdle_path *path;
  int32_t status = GIRDLE_OK;
  girdle_writer_begin(&writer, call, &sink);
  girdle_svg_write_outline(&writer, stone);
  GIRDLE_TRY(girdle_writer_end(&writer));
  GIRDLE_TRY(girdle_path_parse(call, data.text, data.used, &path));
  for (int i = 0; i < GIRDLE_OUTLINE_POINTS && !status; i++) {
    girdle_point_on at;
    status = girdle_path_at(call, path, girdle_path_length_mm(path) * i / GIRDLE_OUTLINE_POINTS, &at);
    out->x[i] = at.x_mm;
    out->y[i] = at.y_mm;
  }
  girdle_path_free(path);
  out->count = status ? 0 : GIRDLE_OUTLINE_POINTS;
  return status;
}

int32_t girdle_pdf_stones_begin(girdle_pdf *pdf) {
  uint64_t count = pdf->kinds->count;
  pdf->forms = girdle_common_new(pdf->call, (count + 1) * sizeof *pdf->forms);
  if (!pdf->forms) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < count; i++)
    if (pdf->kinds->kinds[i].stone.outline != GIRDLE_ROUND)
      GIRDLE_TRY(sample_outline(pdf->call, &pdf->kinds->kinds[i].stone, &pdf->forms[i]));
  return GIRDLE_OK;
}

void girdle_pdf_stones_end(girdle_pdf *pdf) {
  if (pdf->forms) girdle_common_release(&pdf->memory, pdf->forms, (pdf->kinds->count + 1) * sizeof *pdf->forms);
}

/* ---- a form's content: y goes up, lengths are given in millimetres */

static void number(girdle_writer *out, double value) {
  girdle_write_number(out, value, 3);
  girdle_write(out, " ");
}

static void point(girdle_writer *out, double x, double y, const char *operation) {
  number(out, x * girdle_pt_per_mm);
  number(out, -y * girdle_pt_per_mm);
  girdle_write(out, operation);
}

static void color(girdle_writer *out, const uint8_t rgb[3], const char *operation) {
  for (int i = 0; i < 3; i++)
    number(out, rgb[i] / 255.0);
  girdle_write(out, operation);
}

/* Four cubics; the handle of a quarter of a circle is 4/3 (sqrt(2) - 1) of its radius. */
static void circle_path(girdle_writer *out, double r) {
  double h = r * (4.0 / 3 * (sqrt(2) - 1));
  const double quarters[4][6] = {
      {r, h, h, r, 0, r}, {-h, r, -r, h, -r, 0}, {-r, -h, -h, -r, 0, -r}, {h, -r, r, -h, r, 0}};
  point(out, r, 0, "m\n");
  for (int i = 0; i < 4; i++)
    for (int k = 0; k < 3; k++)
      point(out, quarters[i][2 * k], quarters[i][2 * k + 1], k == 2 ? "c\n" : "");
  girdle_write(out, "h\n");
}

static void outline_path(girdle_writer *out, const girdle_pdf_kind *form) {
  for (uint64_t i = 0; i < form->count; i++)
    point(out, form->x[i], form->y[i], i ? "l\n" : "m\n");
  girdle_write(out, "h\n");
}

/* A band of a straight pattern: from a share of the way across to its end, the way turned by an angle. */
static void band_path(girdle_writer *out, double r, double from, double degrees) {
  double sine = sin(degrees * (pi / 180)), cosine = cos(degrees * (pi / 180));
  const double corners[4][2] = {{2 * from - 1, -1}, {1, -1}, {1, 1}, {2 * from - 1, 1}};
  for (int i = 0; i < 4; i++) {
    double along = corners[i][0] * r, beside = corners[i][1] * r;
    point(out, cosine * along - sine * beside, sine * along + cosine * beside, i ? "l\n" : "m\n");
  }
  girdle_write(out, "h\n");
}

/* The marks over the fill, within the clip of the stone's outline. */
static void write_marks(girdle_writer *out, const girdle_ink *ink, const girdle_pattern *pattern, double r) {
  for (int32_t i = 0; i < pattern->stop_count; i++) {
    color(out, i % 2 == 0 ? ink->mark : ink->fill, "rg\n");
    if (pattern->round)
      circle_path(out, r * (1 - pattern->stops[i]));
    else
      band_path(out, r, pattern->stops[i], pattern->angle_deg);
    girdle_write(out, "f\n");
  }
}

static void stone_path(girdle_writer *out, const girdle_kind *of, const girdle_pdf_kind *form) {
  if (form->count)
    outline_path(out, form);
  else
    circle_path(out, of->stone.diameter_mm[GIRDLE_NOMINAL] / 2);
}

static void write_content(girdle_writer *out, const girdle_kind *of, uint64_t kind, const girdle_pdf_kind *form) {
  girdle_write(out, "q\n");
  color(out, of->ink.fill, "rg\n");
  stone_path(out, of, form);
  girdle_write(out, "W f\n");
  write_marks(out, &of->ink, girdle_pattern_of(kind), girdle_stone_circle_mm(&of->stone));
  girdle_write(out, "Q\n");
  color(out, of->ink.edge, "RG\n");
  number(out, 0.12 * girdle_pt_per_mm);
  girdle_write(out, "w\n");
  stone_path(out, of, form);
  girdle_write(out, "S\n");
}

/* ---- forms */

int32_t girdle_pdf_write_stream(void *context, const void *bytes, uint64_t count) {
  return HPDF_Stream_Write(context, bytes, (HPDF_UINT)count) != HPDF_OK;
}

/* libharu has forms inside only: a dictionary with a stream, as it makes for images. */
static HPDF_XObject new_form(girdle_pdf *pdf, uint64_t kind) {
  HPDF_MMgr memory = pdf->doc->mmgr;
  const girdle_kind *of = &pdf->kinds->kinds[kind];
  float reach = (float)((girdle_stone_circle_mm(&of->stone) + 0.2) * girdle_pt_per_mm);
  const HPDF_Box box = {-reach, -reach, reach, reach};
  HPDF_XObject form = HPDF_DictStream_New(memory, pdf->doc->xref);
  girdle_sink sink;
  girdle_writer out;
  if (!form) return NULL;
  form->header.obj_class |= HPDF_OSUBCLASS_XOBJECT;
  form->filter = HPDF_STREAM_FILTER_FLATE_DECODE;
  HPDF_Dict_AddName(form, "Type", "XObject");
  HPDF_Dict_AddName(form, "Subtype", "Form");
  HPDF_Dict_Add(form, "BBox", HPDF_Box_Array_New(memory, box));
  HPDF_Dict_Add(form, "Resources", HPDF_Dict_New(memory));
  sink.context = form->stream;
  sink.write = girdle_pdf_write_stream;
  girdle_writer_begin(&out, pdf->call, &sink);
  write_content(&out, of, kind, &pdf->forms[kind]);
  return girdle_writer_end(&out) ? NULL : form;
}

/* The name of a kind's form on the present page; NULL when there is no memory for one. */
static const char *name_of(girdle_pdf *pdf, uint64_t kind) {
  girdle_pdf_kind *form = &pdf->forms[kind];
  if (form->page == pdf->pages) return form->name;
  if (!form->form) form->form = new_form(pdf, kind);
  if (!form->form) return NULL;
  form->name = HPDF_Page_GetXObjectName(pdf->page, form->form);
  form->page = pdf->pages;
  return form->name;
}

/* ---- stones in their places */

static char *put_number(char *at, double value, int32_t decimals) {
  at += girdle_fixed_text(value, decimals, at);
  *at++ = ' ';
  return at;
}

static char *put_text(char *at, const char *text) {
  size_t length = strlen(text);
  memcpy(at, text, length);
  return at + length;
}

/* Round stones stand upright, so that a pattern is the same everywhere. The page's y goes up, angles the other way. */
static char *put_turn(char *at, const girdle_pdf_kind *form, double turn_deg) {
  double sine = sin(turn_deg * (pi / 180)), cosine = cos(turn_deg * (pi / 180));
  if (!form->count) return put_text(at, "q 1 0 0 1 ");
  at = put_text(at, "q ");
  at = put_number(at, cosine, 6);
  at = put_number(at, -sine, 6);
  at = put_number(at, sine, 6);
  return put_number(at, cosine, 6);
}

void girdle_pdf_stone(girdle_pdf *pdf, uint64_t kind, double x, double y, double turn_deg) {
  char line[256], *at = line;
  const char *name;
  if (!pdf->page || pdf->status) return;
  name = name_of(pdf, kind);
  if (!name) {
    pdf->status = girdle_common_fail(pdf->call, GIRDLE_MEMORY, NULL, "out of memory");
    return;
  }
  at = put_turn(at, &pdf->forms[kind], turn_deg);
  at = put_number(at, x * girdle_pt_per_mm, 3);
  at = put_number(at, (pdf->height_mm - y) * girdle_pt_per_mm, 3);
  at = put_text(at, "cm /");
  at = put_text(at, name);
  at = put_text(at, " Do Q\n");
  HPDF_Stream_Write(((HPDF_PageAttr)pdf->page->attr)->stream, (const HPDF_BYTE *)line, (HPDF_UINT)(at - line));
}
