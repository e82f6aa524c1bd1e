/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "pdf_internal.h"

#include <hpdf_doc.h>
#include <hpdf_fontdef.h>
#include <hpdf_streams.h>
#include <string.h>

/* Text in a PDF: in a font that is given, with a second one for what the first lacks; or in one that every reader has,
 * which has Latin letters only. */

enum { MOST_CHARACTERS = 500, RUN_BYTES = 4 * MOST_CHARACTERS + 1 };

static HPDF_REAL points(double mm) {
  return (HPDF_REAL)(mm * girdle_pt_per_mm);
}

/* ---- fonts */

/* What a font's codes are as Unicode, for search and copying: themselves, as libharu writes UTF-8 text. It writes such
 * a table, too, but with ranges of glyphs where ranges of characters are wanted (PDF 32000-1, section 9.10.3), which
 * readers complain about and pass over. A range may differ in its last byte only, and a list has at most 100. */
static void write_unicode(girdle_writer *out) {
  girdle_write(out,
               "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CMapName /girdle def\n"
               "/CMapType 2 def\n1 begincodespacerange\n<0000> <ffff>\nendcodespacerange\n");
  for (int high = 0; high < 256; high++) {
    if (high % 64 == 0) girdle_write(out, "64 beginbfrange\n");
    girdle_write_format(out, "<%02x00> <%02xff> <%02x00>\n", (unsigned)high, (unsigned)high, (unsigned)high);
    if (high % 64 == 63) girdle_write(out, "endbfrange\n");
  }
  girdle_write(out, "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
}

static void add_unicode(girdle_pdf *pdf, HPDF_Font font) {
  HPDF_Dict table = HPDF_DictStream_New(pdf->doc->mmgr, pdf->doc->xref);
  girdle_sink sink = {NULL, girdle_pdf_write_stream};
  girdle_writer out;
  if (!table) return;
  table->filter = HPDF_STREAM_FILTER_FLATE_DECODE;
  sink.context = table->stream;
  girdle_writer_begin(&out, pdf->call, &sink);
  write_unicode(&out);
  if (!girdle_writer_end(&out)) HPDF_Dict_Add(font, "ToUnicode", table);
}

/* libharu reads fonts from files only; this is what it does inside, from memory. */
static void load_font(girdle_pdf *pdf, int which, const void *bytes, uint64_t count) {
  static const char *const tags[] = {"GIRDLE", "GIRDLF"};
  HPDF_Stream stream = HPDF_MemStream_New(pdf->doc->mmgr, 65536);
  HPDF_FontDef def;
  if (!stream) return;
  if (HPDF_Stream_Write(stream, bytes, (HPDF_UINT)count) != HPDF_OK) {
    HPDF_Stream_Free(stream);
    return;
  }
  def = HPDF_TTFontDef_Load(pdf->doc->mmgr, stream, HPDF_TRUE); /* takes the stream over */
  if (!def) return;
  if (HPDF_Doc_RegisterFontDef(pdf->doc, def) != HPDF_OK) return;
  HPDF_TTFontDef_SetTagName(def, (char *)tags[which]);
  if (which == 0) HPDF_UseUTFEncodings(pdf->doc); /* once a document */
  pdf->given[which] = def;
  pdf->font[which] = HPDF_GetFont(pdf->doc, def->base_font, "UTF-8");
  if (pdf->font[which]) add_unicode(pdf, pdf->font[which]);
}

static int32_t bad_font(girdle_call *call, const char *field) {
  return girdle_common_fail(call, GIRDLE_SYNTAX, field, "the font is not a TrueType font that can be embedded");
}

int32_t girdle_pdf_fonts_begin(girdle_pdf *pdf, const girdle_print_options *options) {
  if (options->font) {
    load_font(pdf, 0, options->font, options->font_bytes);
    pdf->other_bytes = options->other_font;
    pdf->other_count = options->other_font_bytes;
    return pdf->font[0] ? GIRDLE_OK : bad_font(pdf->call, "font");
  }
  pdf->font[0] = HPDF_GetFont(pdf->doc, "Helvetica", "WinAnsiEncoding");
  pdf->bold = HPDF_GetFont(pdf->doc, "Helvetica-Bold", "WinAnsiEncoding");
  return pdf->font[0] && pdf->bold ? GIRDLE_OK : girdle_common_fail(pdf->call, GIRDLE_MEMORY, NULL, "out of memory");
}

/* The second font is large, and read only once a character needs it. */
static void need_other(girdle_pdf *pdf) {
  if (!pdf->other_bytes) return;
  load_font(pdf, 1, pdf->other_bytes, pdf->other_count);
  pdf->other_bytes = NULL;
  if (!pdf->font[1] && !pdf->status) pdf->status = bad_font(pdf->call, "other_font");
}

static int in_font(const girdle_pdf *pdf, int which, uint32_t character) {
  return pdf->font[which] && pdf->given[which] && character >= 0x20 && character <= 0xffff &&
         HPDF_TTFontDef_GetGlyphid(pdf->given[which], (HPDF_UINT16)character) > 0;
}

/* The font of a character, -1 when none has it. WinAnsi is Latin-1 but for 0x80 to 0x9f, which are left out. */
static int font_of(girdle_pdf *pdf, uint32_t character) {
  if (!pdf->given[0])
    return (character >= 0x20 && character < 0x7f) || (character >= 0xa0 && character <= 0xff) ? 0 : -1;
  if (in_font(pdf, 0, character)) return 0;
  need_other(pdf);
  return in_font(pdf, 1, character) ? 1 : -1;
}

static void remember_missing(girdle_pdf *pdf, uint32_t character) {
  for (int32_t i = 0; i < pdf->missing_count; i++)
    if (pdf->missing[i] == character) return;
  if (pdf->missing_count < GIRDLE_MISSING_MOST) pdf->missing[pdf->missing_count++] = character;
}

/* ---- characters in the order in which they stand */

static size_t decode(const char *text, uint32_t out[MOST_CHARACTERS]) {
  uint64_t left = strlen(text);
  size_t count = 0;
  while (left && count < MOST_CHARACTERS) {
    uint64_t length = girdle_utf8_read(text, left, &out[count]);
    if (!length) out[count] = '?';
    length += !length;
    text += length;
    left -= length;
    count++;
  }
  return count;
}

/* Hebrew, Arabic and their like, with the Arabic presentation forms (Unicode 15, blocks). */
static int is_leftward(uint32_t c) {
  return (c >= 0x590 && c <= 0x8ff) || (c >= 0xfb1d && c <= 0xfdff) || (c >= 0xfe70 && c <= 0xfeff);
}

static void reverse(uint32_t *first, uint32_t *end) {
  while (first + 1 < end) {
    uint32_t kept = *first;
    *first++ = *--end;
    *end = kept;
  }
}

/* Stretches that are written from right to left stand so: their words' characters and the spaces between them turned
 * about. Letters stay unjoined. */
static void turn_leftward(uint32_t *characters, size_t count) {
  for (size_t i = 0; i < count; i++) {
    size_t end = i;
    for (size_t k = i; k < count && (is_leftward(characters[k]) || characters[k] == ' '); k++)
      if (is_leftward(characters[k])) end = k + 1;
    if (end == i) continue;
    reverse(characters + i, characters + end);
    i = end - 1;
  }
}

/* ---- runs of one font */

typedef struct run {
  int font;
  char text[RUN_BYTES];
} run;

static size_t put_utf8(uint32_t c, char *out) {
  size_t more = c < 0x80 ? 0 : c < 0x800 ? 1 : 2;
  static const unsigned char leads[] = {0, 0xc0, 0xe0};
  out[0] = (char)(leads[more] | c >> (6 * more));
  for (size_t i = 1; i <= more; i++)
    out[i] = (char)(0x80 | (c >> (6 * (more - i)) & 0x3f));
  return more + 1;
}

static size_t put_character(const girdle_pdf *pdf, uint32_t character, char *out) {
  if (pdf->given[0]) return put_utf8(character, out);
  *out = (char)character;
  return 1;
}

/* Takes the characters from `at` that one font has; returns how many. A character that none has becomes "?". */
static size_t take_run(girdle_pdf *pdf, const uint32_t *at, size_t left, run *out) {
  size_t taken = 0, used = 0;
  out->font = 0;
  for (; taken < left; taken++) {
    uint32_t character = at[taken];
    int font = font_of(pdf, character);
    if (font < 0) remember_missing(pdf, character);
    if (font < 0) character = '?';
    if (taken && (font == 1) != out->font) break;
    out->font = font == 1;
    used += put_character(pdf, character, out->text + used);
  }
  out->text[used] = '\0';
  return taken;
}

static void set_font(girdle_pdf *pdf, int which, double size_mm, int bold) {
  HPDF_Page_SetFontAndSize(pdf->page, bold && pdf->bold ? pdf->bold : pdf->font[which], points(size_mm));
}

/* A font that is given has no bold one beside it: its letters are drawn with a rim. */
static void set_weight(girdle_pdf *pdf, double size_mm, int bold) {
  if (pdf->bold) return;
  HPDF_Page_SetTextRenderingMode(pdf->page, bold ? HPDF_FILL_THEN_STROKE : HPDF_FILL);
  if (bold) HPDF_Page_SetLineWidth(pdf->page, points(size_mm * 0.03));
}

/* ---- text */

double girdle_pdf_text_wide(girdle_pdf *pdf, double size_mm, int bold, const char *text) {
  uint32_t characters[MOST_CHARACTERS];
  size_t count = decode(text, characters);
  double wide = 0;
  run one;
  if (!pdf->page || pdf->status) return 0;
  for (size_t at = 0; at < count;) {
    at += take_run(pdf, characters + at, count - at, &one);
    set_font(pdf, one.font, size_mm, bold);
    wide += (double)HPDF_Page_TextWidth(pdf->page, one.text) / girdle_pt_per_mm;
  }
  return wide;
}

void girdle_pdf_text(girdle_pdf *pdf, double x, double y, double size_mm, int bold, int align, const char *text) {
  uint32_t characters[MOST_CHARACTERS];
  size_t count = decode(text, characters);
  double wide = align == GIRDLE_ALIGN_LEFT ? 0 : girdle_pdf_text_wide(pdf, size_mm, bold, text);
  run one;
  if (!pdf->page || pdf->status || !*text) return;
  turn_leftward(characters, count);
  x -= align == GIRDLE_ALIGN_MIDDLE ? wide / 2 : wide;
  HPDF_Page_BeginText(pdf->page);
  HPDF_Page_MoveTextPos(pdf->page, points(x), points(pdf->height_mm - y));
  set_weight(pdf, size_mm, bold);
  for (size_t at = 0; at < count;) {
    at += take_run(pdf, characters + at, count - at, &one);
    set_font(pdf, one.font, size_mm, bold);
    HPDF_Page_ShowText(pdf->page, one.text);
  }
  set_weight(pdf, size_mm, 0);
  HPDF_Page_EndText(pdf->page);
}

void girdle_pdf_say(girdle_pdf *pdf, double x, double y, double size_mm, int bold, int align, const char *english) {
  girdle_pdf_text(pdf, x, y, size_mm, bold, align, girdle_phrase(pdf->phrases, english));
}
