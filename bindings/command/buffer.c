/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "paper/paper_internal.h"

/* Nothing has taken its place on disk yet when memory runs out, so ending at once loses nothing; what lies aside is
 * swept on the way out (output.c). */
static void *need(void *block) {
  if (block) return block;
  fputs("girdle: out of memory\n", stderr);
  exit(3);
}

void *command_new(uint64_t bytes) {
  return need(calloc(1, (size_t)(bytes ? bytes : 1)));
}

void *command_grown(void *items, uint64_t count, uint64_t item_bytes) {
  if (count & (count - 1)) return items;
  return need(realloc(items, (size_t)((count ? 2 * count : 1) * item_bytes)));
}

char *command_copy(const char *text) {
  char *copy = command_new(strlen(text) + 1);
  strcpy(copy, text);
  return copy;
}

void command_release(void *block) {
  free(block);
}

static void reserve(buffer *to, uint64_t more) {
  uint64_t wanted = to->capacity ? to->capacity : 256;
  if (to->count + more < to->capacity) return;
  while (wanted <= to->count + more)
    wanted *= 2;
  to->bytes = need(realloc(to->bytes, (size_t)wanted));
  to->capacity = wanted;
}

void buffer_add(buffer *to, const void *bytes, uint64_t count) {
  reserve(to, count);
  if (count) memcpy(to->bytes + to->count, bytes, (size_t)count);
  to->count += count;
  to->bytes[to->count] = '\0';
}

void buffer_text(buffer *to, const char *format, ...) {
  va_list arguments, again;
  int length;
  va_start(arguments, format);
  va_copy(again, arguments);
  length = vsnprintf(NULL, 0, format, arguments);
  va_end(arguments);
  if (length > 0) {
    reserve(to, (uint64_t)length);
    vsnprintf(to->bytes + to->count, (size_t)length + 1, format, again);
    to->count += (uint64_t)length;
  }
  va_end(again);
}

void buffer_number(buffer *to, double value, int32_t decimals) {
  char text[64];
  girdle_number_text(value, decimals, text, sizeof text);
  buffer_add(to, text, strlen(text));
}

void buffer_csv_text(buffer *to, const char *text, const char *after) {
  int quoted = strpbrk(text, ",\"\r\n") != NULL;
  if (quoted) buffer_add(to, "\"", 1);
  if (girdle_looks_like_formula(text)) buffer_add(to, "'", 1);
  for (; *text; text++)
    buffer_add(to, *text == '"' ? "\"\"" : text, *text == '"' ? 2 : 1);
  buffer_text(to, "%s%s", quoted ? "\"" : "", after);
}

/* UTF-8 stands as it is; what JSON cannot hold as it is, is escaped. */
void buffer_json_text(buffer *to, const char *text) {
  for (; *text; text++) {
    unsigned char c = (unsigned char)*text;
    if (c == '"' || c == '\\')
      buffer_text(to, "\\%c", c);
    else if (c < 0x20)
      buffer_text(to, "\\u%04x", c);
    else
      buffer_add(to, text, 1);
  }
}

/* ---- in the user's words */

static girdle_phrased words_of(const program *with) {
  girdle_phrased words;
  memset(&words, 0, sizeof words);
  words.phrases = with->phrases;
  words.flags = (with->flags.inches ? (uint32_t)GIRDLE_PHRASED_INCHES : 0) |
                (with->flags.comma ? (uint32_t)GIRDLE_PHRASED_COMMA : 0);
  return words;
}

void buffer_say(buffer *to, const program *with, const char *english, ...) {
  const girdle_phrased words = words_of(with);
  const char *arguments[9];
  char text[1000], mark[4] = "{1}";
  uint64_t count = 0;
  va_list list;
  va_start(list, english);
  for (; count < 9 && strstr(english, mark); mark[1]++)
    arguments[count++] = va_arg(list, const char *);
  va_end(list);
  girdle_phrase_text(&words, english, arguments, count, text, sizeof text);
  buffer_add(to, text, strlen(text));
}

const char *number_words(const program *with, double value, int32_t decimals, char text[64]) {
  const girdle_phrased words = words_of(with);
  girdle_number_words(&words, value, decimals, text);
  return text;
}

const char *length_words(const program *with, double mm, int32_t decimals, char text[64]) {
  const girdle_phrased words = words_of(with);
  girdle_length_words(&words, mm, decimals, text, 64);
  return text;
}

const char *pieces_words(const program *with, int64_t pieces, char text[64]) {
  const girdle_phrased words = words_of(with);
  girdle_pieces_words(&words, pieces, text, 64);
  return text;
}

void buffer_padded(buffer *to, const char *text, int width) {
  int blank = abs(width) - (int)girdle_text_columns(text);
  if (blank > 0 && width > 0) buffer_text(to, "%*s", blank, "");
  buffer_add(to, text, strlen(text));
  if (blank > 0 && width < 0) buffer_text(to, "%*s", blank, "");
}

void buffer_say_in(buffer *to, const program *with, const char *english, int width) {
  buffer words = {0};
  buffer_say(&words, with, english);
  buffer_padded(to, words.count ? words.bytes : "", width);
  buffer_free(&words);
}

void buffer_free(buffer *to) {
  free(to->bytes);
  memset(to, 0, sizeof *to);
}

static int32_t sink_write(void *context, const void *bytes, uint64_t count) {
  buffer_add(context, bytes, count);
  return 0;
}

girdle_sink buffer_sink(buffer *to) {
  girdle_sink sink = {to, sink_write};
  return sink;
}

girdle_sink paper_sink(const program *with, buffer *to) {
  girdle_sink sink = buffer_sink(to);
  if (!to) return sink;
  to->spoken = words_of(with);
  to->spoken.sink = sink;
  return girdle_phrased_sink(&to->spoken);
}
