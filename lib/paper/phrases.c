/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ARGUMENTS = 6 };

/* ---- phrases of one's own */

typedef struct pair {
  const char *english, *own;
} pair;

struct girdle_phrases {
  girdle_allocator memory;
  girdle_table *table; /* holds the texts of one's own */
  pair *pairs;         /* in order of the English */
  uint64_t count, room;
};

void girdle_phrases_free(girdle_phrases *phrases) {
  girdle_allocator memory;
  if (!phrases) return;
  memory = phrases->memory;
  girdle_table_free(phrases->table);
  girdle_common_release(&memory, phrases->pairs, phrases->room * sizeof *phrases->pairs);
  girdle_common_release(&memory, phrases, sizeof *phrases);
}

static int by_english(const void *a, const void *b) {
  return strcmp(((const pair *)a)->english, ((const pair *)b)->english);
}

static const char *find_english(const char *text) {
  for (size_t i = 0; i < girdle_english_count; i++)
    if (strcmp(girdle_english[i], text) == 0) return girdle_english[i];
  return NULL;
}

static int32_t highest_place(const char *text) {
  int32_t highest = 0;
  for (; (text = strchr(text, '{')) != NULL; text++)
    if (text[1] >= '1' && text[1] <= '9' && text[2] == '}' && text[1] - '0' > highest) highest = text[1] - '0';
  return highest;
}

static int32_t check_own(girdle_call *call, const char *known, const char *own) {
  for (const char *at = own; *at; at++)
    if ((unsigned char)*at < 0x20 || *at == 0x7f)
      return girdle_common_fail(call, GIRDLE_SYNTAX, "own", "a phrase may not hold line breaks or control characters");
  if (highest_place(own) <= highest_place(known)) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_SYNTAX, "own", "'%.60s' asks for {%d}, but the English has only %d to fill in",
                            own, (int)highest_place(own), (int)highest_place(known));
}

static int32_t unknown_phrase(girdle_call *call, const char *text) {
  const char *nearest = girdle_nearest(text, girdle_english, girdle_english_count);
  if (!nearest) return girdle_common_fail(call, GIRDLE_UNKNOWN, "english", "there is no phrase '%.60s'", text);
  girdle_common_fail(call, GIRDLE_UNKNOWN, "english", "there is no phrase '%.60s', did you mean '%.60s'?", text,
                     nearest);
  if (call && call->error) girdle_common_text(call->error->nearest, sizeof call->error->nearest, nearest);
  return GIRDLE_UNKNOWN;
}

static void read_row(girdle_rows *in, girdle_phrases *out) {
  const char *text = girdle_rows_cell(in, "english"), *own = girdle_rows_cell(in, "own");
  const char *known = find_english(text);
  if (!known) {
    girdle_rows_check(in, "english", unknown_phrase(in->call, text));
    return;
  }
  if (!*own || !girdle_rows_check(in, "own", check_own(in->call, known, own))) return;
  out->pairs[out->count++] = (pair){known, own};
}

static int32_t read_rows(girdle_call *call, const char *source, girdle_phrases *out) {
  static const char *const columns[] = {"english", "own"};
  girdle_rows in;
  out->room = girdle_table_rows(out->table) + 1;
  out->pairs = girdle_common_new(call, out->room * sizeof *out->pairs);
  if (!out->pairs) return GIRDLE_MEMORY;
  girdle_rows_begin(&in, call, source, out->table);
  girdle_rows_headings(&in, columns, 2, 2, 0);
  for (; in.row < girdle_table_rows(out->table) && !in.stop; in.row++)
    read_row(&in, out);
  if (out->count) qsort(out->pairs, (size_t)out->count, sizeof *out->pairs, by_english);
  return girdle_faults_end(&in.faults);
}

int32_t girdle_paper_read_phrases(girdle_call *call, const char *source, const char *text, uint64_t bytes,
                                  girdle_phrases **out) {
  GIRDLE_GIVEN(call, text || !bytes, out);
  girdle_phrases *phrases = girdle_common_new(call, sizeof *phrases);
  int32_t status;
  if (!phrases) return GIRDLE_MEMORY;
  phrases->memory = girdle_common_memory(call);
  status = girdle_table_read(call, source, text, bytes, &phrases->table);
  if (!status) status = read_rows(call, source, phrases);
  if (status)
    girdle_phrases_free(phrases);
  else
    *out = phrases;
  return status;
}

/* ---- a sink that knows them */

static int32_t write_through(void *context, const void *bytes, uint64_t count) {
  const girdle_phrased *with = context;
  return with->sink.write(with->sink.context, bytes, count);
}

girdle_sink girdle_phrased_sink(girdle_phrased *with) {
  girdle_sink sink = {with, write_through};
  return sink;
}

const girdle_phrased *girdle_sink_phrases(const girdle_sink *sink) {
  return sink->write == write_through ? sink->context : NULL;
}

/* ---- saying */

const char *girdle_phrase(const girdle_phrased *phrases, const char *text) {
  const girdle_phrases *own = phrases ? phrases->phrases : NULL;
  const pair key = {text, NULL}, *found = NULL;
  if (own && own->count) found = bsearch(&key, own->pairs, (size_t)own->count, sizeof key, by_english);
  if (found) return found->own;
  return phrases && phrases->flags & GIRDLE_PHRASED_COMMA && strcmp(text, ".") == 0 ? "," : text;
}

int girdle_in_inches(const girdle_phrased *phrases) {
  return phrases && phrases->flags & GIRDLE_PHRASED_INCHES;
}

static void fill_in(char *out, uint64_t bytes, const char *phrase, const char *const *arguments) {
  uint64_t used = 0;
  for (const char *at = phrase; *at && used + 1 < bytes; at++) {
    const char *argument = NULL;
    if (*at == '{' && at[1] >= '1' && at[1] <= '9' && at[2] == '}') argument = arguments[at[1] - '1'];
    if (!argument) {
      out[used++] = *at;
      continue;
    }
    girdle_common_text(out + used, bytes - used, argument);
    used += strlen(out + used);
    at += 2;
  }
  out[used] = '\0';
}

void girdle_phrase_list(const girdle_phrased *phrases, char *out, uint64_t bytes, const char *text, va_list list) {
  const char *arguments[9] = {NULL};
  int32_t count = highest_place(text);
  for (int32_t i = 0; i < count && i < MOST_ARGUMENTS; i++)
    arguments[i] = va_arg(list, const char *);
  fill_in(out, bytes, girdle_phrase(phrases, text), arguments);
}

void girdle_phrase_with(const girdle_phrased *phrases, char *out, uint64_t bytes, const char *text, ...) {
  va_list list;
  va_start(list, text);
  girdle_phrase_list(phrases, out, bytes, text, list);
  va_end(list);
}

uint64_t girdle_phrase_text(const girdle_phrased *with, const char *text, const char *const *arguments, uint64_t count,
                            char *buffer, uint64_t bytes) {
  const char *filled[9] = {NULL};
  char whole[1000];
  for (uint64_t i = 0; i < count && i < 9; i++)
    filled[i] = arguments[i];
  fill_in(whole, sizeof whole, girdle_phrase(with, text), filled);
  if (bytes) girdle_common_text(buffer, bytes, whole);
  return strlen(whole);
}

/* ---- texts that other rooms made: their English is taken apart again */

/* Splits a text by a pattern: what stands at its places goes into `pieces`. Each place takes as little as it can. */
static int take_apart(const char *pattern, const char *text, char pieces[MOST_ARGUMENTS][64]) {
  while (*pattern) {
    const char *rest, *next;
    size_t length;
    if (*pattern != '{') {
      if (*pattern++ != *text++) return 0;
      continue;
    }
    rest = pattern + 3;
    length = strcspn(rest, "{");
    next = *rest ? text : text + strlen(text);
    while (*rest && *next && strncmp(next, rest, length) != 0)
      next++;
    if ((*rest && !*next) || next == text || next - text > 63) return 0;
    memcpy(pieces[pattern[1] - '1'], text, (size_t)(next - text));
    pieces[pattern[1] - '1'][next - text] = '\0';
    pattern = rest;
    text = next;
  }
  return *text == '\0';
}

/* A number of another room's text gets one's own decimal mark. */
static void mark_decimals(const girdle_phrased *phrases, char piece[64]) {
  const char *mark = girdle_phrase(phrases, ".");
  size_t mark_bytes = strlen(mark);
  for (char *at = strchr(piece, '.'); at; at = strchr(at + 1, '.')) {
    size_t rest = strlen(at);
    if (at == piece || !strchr("0123456789", at[-1]) || !at[1] || !strchr("0123456789", at[1])) continue;
    if ((size_t)(at - piece) + mark_bytes + rest > 63) return;
    memmove(at + mark_bytes, at + 1, rest);
    memcpy(at, mark, mark_bytes);
  }
}

void girdle_phrase_again(const girdle_phrased *phrases, char *out, uint64_t bytes, const char *text) {
  static const char *const patterns[] = {"{1} stones at {2} a gross",
                                         "{1} stones at {2} a stone",
                                         "{1} at {2} an hour",
                                         "{1} % of the price before tax",
                                         "{1} % of the cost",
                                         "{1} % of the above",
                                         "{1} stones of the customer's own",
                                         "{1} stones added after the deposit"};
  char pieces[MOST_ARGUMENTS][64];
  const char *arguments[9] = {pieces[0], pieces[1], pieces[2]};
  for (size_t i = 0; phrases && i < sizeof patterns / sizeof patterns[0]; i++) {
    if (!take_apart(patterns[i], text, pieces)) continue;
    for (int32_t k = 0; k < highest_place(patterns[i]); k++)
      mark_decimals(phrases, pieces[k]);
    fill_in(out, bytes, girdle_phrase(phrases, patterns[i]), arguments);
    return;
  }
  girdle_common_text(out, bytes, girdle_phrase(phrases, text));
}

/* ---- numbers and pieces as people write them */

void girdle_number_words(const girdle_phrased *phrases, double value, int32_t decimals, char text[48]) {
  char plain[400], *point;
  const char *mark = girdle_phrase(phrases, ".");
  girdle_number_text(value, decimals, plain, sizeof plain);
  point = strchr(plain, '.');
  if (point) *point++ = '\0';
  girdle_common_text(text, 48, plain);
  if (!point || strlen(plain) + strlen(mark) + strlen(point) >= 48) return;
  strcat(text, mark);
  strcat(text, point);
}

static const double inch_mm = 25.4; /* exactly: NIST Handbook 44, Appendix C */

/* Three decimals of an inch, where two of a millimetre are asked for. */
void girdle_length_words(const girdle_phrased *phrases, double mm, int32_t decimals, char *text, uint64_t bytes) {
  int inches = girdle_in_inches(phrases);
  char number[48];
  girdle_number_words(phrases, inches ? mm / inch_mm : mm, inches ? decimals + 1 : decimals, number);
  girdle_phrase_with(phrases, text, bytes, inches ? "{1} in" : "{1} mm", number);
}

void girdle_extent_words(const girdle_phrased *phrases, double wide_mm, double high_mm, char *text, uint64_t bytes) {
  int inches = girdle_in_inches(phrases);
  double unit_mm = inches ? inch_mm : 10;
  char wide[48], high[48];
  girdle_number_words(phrases, wide_mm / unit_mm, 1, wide);
  girdle_number_words(phrases, high_mm / unit_mm, 1, high);
  girdle_phrase_with(phrases, text, bytes, inches ? "{1} \303\227 {2} in" : "{1} \303\227 {2} cm", wide, high);
}

void girdle_pieces_words(const girdle_phrased *phrases, int64_t pieces, char *text, uint64_t bytes) {
  char gross[24], odd[24];
  girdle_number_text((double)(pieces / 144), 0, gross, sizeof gross);
  girdle_number_text((double)(pieces % 144), 0, odd, sizeof odd);
  if (pieces < 144)
    girdle_common_text(text, bytes, odd);
  else if (pieces % 144 == 0)
    girdle_phrase_with(phrases, text, bytes, "{1} gross", gross);
  else
    girdle_phrase_with(phrases, text, bytes, "{1} gross and {2}", gross, odd);
}
