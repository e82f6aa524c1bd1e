/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* ---- the sink */

void girdle_writer_begin(girdle_writer *writer, girdle_call *call, const girdle_sink *sink) {
  writer->call = call;
  writer->sink = sink;
  writer->phrases = girdle_sink_phrases(sink);
  writer->status = GIRDLE_OK;
  writer->used = 0;
}

static void hand_over(girdle_writer *writer) {
  const girdle_sink *sink = writer->sink;
  uint64_t used = writer->used;
  writer->used = 0;
  if (writer->status || used == 0) return;
  writer->status = girdle_common_tick(writer->call, used / 64 + 1, -1);
  if (!writer->status && sink->write(sink->context, writer->buffer, used))
    writer->status = girdle_common_fail(writer->call, GIRDLE_STOPPED, NULL, "the output could not be written");
}

int32_t girdle_writer_end(girdle_writer *writer) {
  hand_over(writer);
  return writer->status;
}

void girdle_write_bytes(girdle_writer *writer, const void *bytes, uint64_t count) {
  const char *from = bytes;
  if (count < sizeof writer->buffer - writer->used) {
    memcpy(writer->buffer + writer->used, from, (size_t)count);
    writer->used += count;
    return;
  }
  while (count) {
    uint64_t room = sizeof writer->buffer - writer->used, take = count < room ? count : room;
    memcpy(writer->buffer + writer->used, from, (size_t)take);
    writer->used += take;
    from += take;
    count -= take;
    if (writer->used == sizeof writer->buffer) hand_over(writer);
  }
}

char *girdle_writer_room(girdle_writer *writer, uint64_t bytes) {
  if (sizeof writer->buffer - writer->used <= bytes) hand_over(writer);
  return writer->buffer + writer->used;
}

void girdle_writer_take(girdle_writer *writer, uint64_t bytes) {
  writer->used += bytes;
}

void girdle_write(girdle_writer *writer, const char *text) {
  girdle_write_bytes(writer, text, strlen(text));
}

void girdle_write_format(girdle_writer *writer, const char *format, ...) {
  char text[1000];
  va_list arguments;
  va_start(arguments, format);
  vsnprintf(text, sizeof text, format, arguments);
  va_end(arguments);
  girdle_write(writer, text);
}

/* ---- numbers */

/* The digits of a number, written backwards from `end`, two at a time; returns where they begin. */
static char *digits_before(char *end, uint64_t value) {
  static const char pairs[] =
      "0001020304050607080910111213141516171819202122232425262728293031323334353637383940414243444546474849505152535455"
      "5657"
      "585960616263646566676869707172737475767778798081828384858687888990919293949596979899";
  for (; value >= 100; value /= 100) {
    end -= 2;
    memcpy(end, pairs + value % 100 * 2, 2);
  }
  if (value < 10) {
    *--end = (char)('0' + value);
    return end;
  }
  end -= 2;
  memcpy(end, pairs + value * 2, 2);
  return end;
}

void girdle_write_whole(girdle_writer *writer, int64_t value) {
  char text[24], *at = digits_before(text + sizeof text, value < 0 ? 0 - (uint64_t)value : (uint64_t)value);
  if (value < 0) *--at = '-';
  girdle_write_bytes(writer, at, (uint64_t)(text + sizeof text - at));
}

static int digits_of(uint64_t value) {
  int digits = 1;
  for (uint64_t least = 10; value >= least && digits < 19; least *= 10)
    digits++;
  return digits;
}

uint64_t girdle_fixed_text(double value, int32_t decimals, char text[32]) {
  static const double scales[] = {1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};
  static const uint64_t ones[] = {1, 10, 100, 1000, 10000, 100000, 1000000};
  const uint64_t scaled = (uint64_t)(fabs(value) * scales[decimals] + 0.5), one = ones[decimals];
  const uint64_t whole = decimals == 4 ? scaled / 10000 : scaled / one; /* dividing by what is known is quicker */
  char *at = text, *point;
  if (value < 0 && scaled) *at++ = '-';
  point = at + digits_of(whole);
  digits_before(point, whole);
  if (!decimals) return (uint64_t)(point - text);
  digits_before(point + 1 + decimals, scaled - whole * one + one); /* the one in front keeps the zeros */
  *point = '.';
  return (uint64_t)(point + 1 + decimals - text);
}

uint64_t girdle_short_text(double value, int32_t decimals, char text[32]) {
  uint64_t length = girdle_fixed_text(value, decimals, text);
  if (!decimals) return length;
  while (text[length - 1] == '0')
    length--;
  return length - (text[length - 1] == '.');
}

void girdle_write_fixed(girdle_writer *writer, double value, int32_t decimals) {
  char text[32];
  girdle_write_bytes(writer, text, girdle_fixed_text(value, decimals, text));
}

void girdle_write_number(girdle_writer *writer, double value, int32_t decimals) {
  char text[400];
  if (!(fabs(value) < 1e9) || decimals > 6) {
    girdle_number_text(value, decimals, text, sizeof text);
    girdle_write(writer, text);
    return;
  }
  girdle_write_bytes(writer, text, girdle_short_text(value, decimals, text));
}

/* ---- text */

/* Control characters that XML 1.0 forbids are left out; a line feed would be lost in an attribute, so it is written by
 * number. */
static const char *xml_name(char c) {
  switch (c) {
    case '&':
      return "&amp;";
    case '<':
      return "&lt;";
    case '>':
      return "&gt;";
    case '"':
      return "&quot;";
    case '\'':
      return "&#39;";
    case '\n':
      return "&#10;";
    case '\t':
      return "&#9;";
    default:
      return (unsigned char)c < 0x20 ? "" : NULL;
  }
}

void girdle_write_xml(girdle_writer *writer, const char *text) {
  for (; *text; text++) {
    const char *name = xml_name(*text);
    if (name)
      girdle_write(writer, name);
    else
      girdle_write_bytes(writer, text, 1);
  }
}

int girdle_looks_like_formula(const char *text) {
  while (*text == '\'')
    text++;
  return *text && strchr("=+-@\t\r", *text) != NULL;
}

void girdle_write_cell(girdle_writer *writer, const char *text) {
  uint64_t length = strlen(text);
  int formula = girdle_looks_like_formula(text);
  /* outer spaces are quoted too, because reading takes unquoted ones off */
  int quoted = strpbrk(text, ",;\t\"\r\n") || (length && (text[0] == ' ' || text[length - 1] == ' '));
  if (quoted) girdle_write(writer, "\"");
  if (formula) girdle_write(writer, "'");
  for (; *text; text++) {
    if (*text == '"') girdle_write(writer, "\"");
    girdle_write_bytes(writer, text, 1);
  }
  if (quoted) girdle_write(writer, "\"");
}

uint64_t girdle_utf8_read(const char *text, uint64_t bytes, uint32_t *character) {
  static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  unsigned char lead = bytes ? (unsigned char)text[0] : 0xff;
  uint64_t length = lead < 0x80 ? 1 : lead >> 5 == 6 ? 2 : lead >> 4 == 14 ? 3 : lead >> 3 == 30 ? 4 : 0;
  uint32_t value = length == 1 ? lead : lead & (0x7fu >> length);
  if (length == 0 || length > bytes) return 0;
  for (uint64_t i = 1; i < length; i++) {
    if (((unsigned char)text[i] & 0xc0) != 0x80) return 0;
    value = value << 6 | ((unsigned char)text[i] & 0x3f);
  }
  if (value < least[length] || value > 0x10ffff || (value >= 0xd800 && value <= 0xdfff)) return 0;
  *character = value;
  return length;
}

typedef struct span {
  uint32_t first, last;
} span;

static int within(const span *spans, size_t count, uint32_t character) {
  for (size_t i = 0; i < count; i++)
    if (character >= spans[i].first && character <= spans[i].last) return 1;
  return 0;
}

/* Widths after Unicode's East Asian Width (UAX 11), in whole blocks: W and F are two columns, marks and joiners none.
 */
static uint64_t columns_of(uint32_t character) {
  static const span none[] = {{0x300, 0x36f},   {0x483, 0x489},   {0x591, 0x5bd},   {0x610, 0x61a},   {0x64b, 0x65f},
                              {0x6d6, 0x6dc},   {0x1ab0, 0x1aff}, {0x1dc0, 0x1dff}, {0x200b, 0x200f}, {0x202a, 0x202e},
                              {0x20d0, 0x20ff}, {0xfe00, 0xfe0f}, {0xfe20, 0xfe2f}};
  static const span two[] = {{0x1100, 0x115f},   {0x2e80, 0x303e},  {0x3041, 0x33ff}, {0x3400, 0x4dbf},
                             {0x4e00, 0x9fff},   {0xa000, 0xa4cf},  {0xac00, 0xd7a3}, {0xf900, 0xfaff},
                             {0xfe30, 0xfe4f},   {0xff00, 0xff60},  {0xffe0, 0xffe6}, {0x1f300, 0x1f64f},
                             {0x1f900, 0x1f9ff}, {0x20000, 0x3fffd}};
  if (within(none, sizeof none / sizeof none[0], character)) return 0;
  return within(two, sizeof two / sizeof two[0], character) ? 2 : 1;
}

uint64_t girdle_text_columns(const char *text) {
  uint64_t left = strlen(text), columns = 0;
  while (left) {
    uint32_t character;
    uint64_t length = girdle_utf8_read(text, left, &character);
    columns += length ? columns_of(character) : 1;
    length += !length;
    text += length;
    left -= length;
  }
  return columns;
}

void girdle_write_pad(girdle_writer *writer, uint64_t have, uint64_t width) {
  for (; have < width; have++)
    girdle_write(writer, " ");
}

/* ---- phrases */

void girdle_say(girdle_writer *writer, const char *english) {
  girdle_write(writer, girdle_phrase(writer->phrases, english));
}

void girdle_say_xml(girdle_writer *writer, const char *english) {
  girdle_write_xml(writer, girdle_phrase(writer->phrases, english));
}

void girdle_say_with(girdle_writer *writer, const char *english, ...) {
  char text[1000];
  va_list list;
  va_start(list, english);
  girdle_phrase_list(writer->phrases, text, sizeof text, english, list);
  va_end(list);
  girdle_write(writer, text);
}

void girdle_say_xml_with(girdle_writer *writer, const char *english, ...) {
  char text[1000];
  va_list list;
  va_start(list, english);
  girdle_phrase_list(writer->phrases, text, sizeof text, english, list);
  va_end(list);
  girdle_write_xml(writer, text);
}

/* ---- names */

static void name_zone(const girdle_zone *zones, uint64_t count, uint64_t index, const char *side,
                      char text[GIRDLE_ZONE_TEXT]) {
  int several = 0;
  for (uint64_t i = 0; i < count && !several; i++)
    several = i != index && strcmp(zones[i].name, zones[index].name) == 0;
  if (several && side[0])
    snprintf(text, GIRDLE_ZONE_TEXT, "%s %s", zones[index].name, side);
  else
    snprintf(text, GIRDLE_ZONE_TEXT, "%s", zones[index].name);
}

void girdle_zone_text(const girdle_zone *zones, uint64_t count, uint64_t index, char text[GIRDLE_ZONE_TEXT]) {
  name_zone(zones, count, index, zones[index].side, text);
}

void girdle_zone_words(const girdle_phrased *phrases, const girdle_zone *zones, uint64_t count, uint64_t index,
                       char text[GIRDLE_ZONE_TEXT]) {
  name_zone(zones, count, index, girdle_phrase(phrases, zones[index].side), text);
}

const char *girdle_side_words(const girdle_phrased *phrases, const char *side) {
  return girdle_phrase(phrases, strcmp(side, "both") == 0 ? "front and back" : side);
}
