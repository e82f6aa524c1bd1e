/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _POSIX_C_SOURCE 200809L /* getline, isatty */
#include "asking.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "common.h"

/* ---- where answers come from */

int32_t asking_begin(asking *in, program *with) {
  memset(in, 0, sizeof *in);
  in->with = with;
  in->from = stdin;
  in->from_name = "answers";
  if (with->flags.file_count) {
    in->from_name = with->flags.files[0];
    in->from = file_is_folder(in->from_name) ? NULL : fopen(in->from_name, "r");
  }
  if (!in->from)
    return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "file", "there is no file %.200s", in->from_name);
  in->at_keyboard = in->from == stdin && isatty(0);
  return GIRDLE_OK;
}

void asking_end(asking *in) {
  if (in->from && in->from != stdin) fclose(in->from);
}

static void trim(char *text) {
  size_t length = strlen(text), before = strspn(text, " \t");
  while (length && strchr(" \t\r\n", text[length - 1]))
    text[--length] = '\0';
  if (before > length) before = length;
  memmove(text, text + before, length - before + 1);
}

static int32_t failed_to_read(asking *in, const char *question) {
  if (command_interrupted) return COMMAND_INTERRUPTED;
  return girdle_common_fail(&in->with->call, GIRDLE_SYNTAX, "answers", "%.120s:%d: the answers end before \"%.100s\"",
                            in->from_name, in->line + 1, question);
}

static int32_t next_answer(asking *in, const char *question) {
  char *line = NULL;
  size_t room = 0;
  int32_t status = GIRDLE_OK;
  do {
    if (getline(&line, &room, in->from) < 0) {
      free(line);
      return failed_to_read(in, question);
    }
    in->line++;
  } while (line[0] == '#');
  trim(line);
  if (!girdle_common_text(in->answer, sizeof in->answer, line))
    status = girdle_common_fail(&in->with->call, GIRDLE_LIMIT, "answers", "%.160s:%d: an answer has at most %d bytes",
                                in->from_name, in->line, (int)sizeof in->answer - 1);
  free(line);
  return status;
}

/* ---- one question */

/* Whether it is to be asked once more: at a keyboard, and not when there is no memory. */
static int is_again(asking *in, int32_t status) {
  if (!in->at_keyboard || status == GIRDLE_MEMORY || status == GIRDLE_STOPPED) return 0;
  command_fault(in->with, status);
  in->with->faults = 0; /* the same mistake is said as often as it is made */
  return 1;
}

/* The explanations offer "nothing", so that the word will do for an empty line. */
static int is_nothing(const char *answer) {
  return strcmp(answer, "nothing") == 0 || strcmp(answer, "Nothing") == 0;
}

/* Word by word, indented by two and broken before the line is too long for a terminal. */
static void add_folded(buffer *to, const char *text) {
  enum { MOST_BYTES = 76 };
  size_t used = 0;
  while (*text) {
    size_t length = strcspn(text, " ");
    if (!used || used + 1 + length > MOST_BYTES) {
      buffer_text(to, "\n  ");
      used = 0;
    }
    buffer_text(to, "%s%.*s", used ? " " : "", (int)length, text);
    used += length + 1;
    text += length + strspn(text + length, " ");
  }
}

/* In the user's words, where it is a phrase. */
static void put_question(const asking *in, const char *question, const char *explained, const char *fallback) {
  buffer whole = {0}, below = {0};
  buffer_say(&whole, in->with, question);
  buffer_say(&below, in->with, explained);
  if (fallback[0]) buffer_text(&below, " [%s]", fallback);
  add_folded(&whole, below.bytes);
  command_say(in->with, "\n%s", whole.bytes);
  buffer_free(&below);
  buffer_free(&whole);
}

int32_t ask(asking *in, const char *question, const char *explained, const char *fallback, checker *check) {
  int32_t status;
  do {
    put_question(in, question, explained, fallback);
    GIRDLE_TRY(next_answer(in, question));
    if (in->at_keyboard && strcmp(in->answer, "?") == 0) continue;
    if (!fallback[0] && is_nothing(in->answer)) in->answer[0] = '\0';
    if (!in->answer[0]) girdle_common_text(in->answer, sizeof in->answer, fallback);
    status = in->answer[0] ? check(in) : GIRDLE_OK;
    if (!status) return GIRDLE_OK;
    if (!in->at_keyboard) girdle_common_at(&in->with->call, in->from_name, in->line, -1, -1);
    if (!is_again(in, status)) return status;
  } while (1);
}

/* ---- words to choose from */

static int32_t check_choice(asking *in) {
  for (uint64_t at = 0; at < in->choice_count; at++)
    if (strcmp(in->answer, in->choices[at]) == 0) return GIRDLE_OK;
  return girdle_common_unknown(&in->with->call, "answer", in->answer, in->choices, in->choice_count);
}

/* The next word of a list with commas between; NULL at its end. */
static const char *next_word(const char *at, char *word, size_t bytes) {
  size_t length;
  at += strspn(at, ", ");
  length = strcspn(at, ",");
  if (!length) return NULL;
  girdle_common_text(word, bytes, "");
  for (size_t i = 0; i < length && i + 1 < bytes; i++)
    word[i] = at[i], word[i + 1] = '\0';
  trim(word);
  return at + length;
}

static int32_t check_list(asking *in) {
  char word[64], whole[sizeof in->answer];
  const char *at = whole;
  memcpy(whole, in->answer, sizeof whole);
  while ((at = next_word(at, word, sizeof word)) != NULL) {
    memcpy(in->answer, word, sizeof word);
    GIRDLE_TRY(check_choice(in));
  }
  memcpy(in->answer, whole, sizeof whole);
  return GIRDLE_OK;
}

int list_has(const char *list, const char *word) {
  char one[64];
  while ((list = next_word(list, one, sizeof one)) != NULL)
    if (strcmp(one, word) == 0) return 1;
  return 0;
}

int32_t ask_choice(asking *in, const char *question, const char *explained, const char *fallback,
                   const char *const *choices, uint64_t count) {
  in->choices = choices;
  in->choice_count = count;
  return ask(in, question, explained, fallback, check_choice);
}

int32_t ask_list(asking *in, const char *question, const char *explained, const char *const *choices, uint64_t count) {
  in->choices = choices;
  in->choice_count = count;
  return ask(in, question, explained, "", check_list);
}

/* ---- stones and lengths */

int32_t check_stone(asking *in) {
  girdle_stone stone;
  return girdle_stone_parse(&in->with->call, in->answer, &stone);
}

static int32_t check_within(asking *in, const char *text, const char *field, double least, double most) {
  double mm;
  GIRDLE_TRY(girdle_quantity_parse(&in->with->call, text, GIRDLE_LENGTH, &mm));
  return girdle_common_range(&in->with->call, field, mm, least, most, "mm");
}

int32_t check_length(asking *in) {
  return check_within(in, in->answer, "length", 20, 1e4);
}

/* "2 mm worn" is a gap as it is seen on the wearer. */
int32_t check_gap(asking *in) {
  char plain[sizeof in->answer];
  char *word;
  memcpy(plain, in->answer, sizeof plain);
  word = strstr(plain, " worn");
  if (word && !word[5]) *word = '\0';
  return check_within(in, plain, "gap", 0, 1000);
}

int32_t check_ten_cm(asking *in) {
  return check_within(in, in->answer, "10 cm", 50, 500);
}

/* "18 cm to 22 cm; 30 cm to 31 cm" */
int32_t check_stretches(asking *in) {
  char text[sizeof in->answer];
  char *at = text, *end, *middle;
  memcpy(text, in->answer, sizeof text);
  for (; at; at = end) {
    end = strchr(at, ';');
    if (end) *end++ = '\0';
    middle = strstr(at, " to ");
    if (!middle)
      return girdle_common_fail(&in->with->call, GIRDLE_SYNTAX, "answer",
                                "'%.60s' is no stretch of an edge; write one like \"18 cm to 22 cm\"", at);
    *middle = '\0';
    GIRDLE_TRY(check_within(in, at, "stretch", 0, 1e4));
    GIRDLE_TRY(check_within(in, middle + 4, "stretch", 0, 1e4));
  }
  return GIRDLE_OK;
}

/* "40 ss16 clear": pieces, then a stone. */
static int32_t check_some(asking *in, char *text) {
  char *size;
  girdle_stone stone;
  int64_t count;
  trim(text);
  size = strstr(text, " ss");
  if (!size) size = strstr(text, " pp");
  if (!size)
    return girdle_common_fail(&in->with->call, GIRDLE_SYNTAX, "answer",
                              "'%.60s' is no number of stones; write one like \"40 ss16 clear\"", text);
  *size = '\0';
  GIRDLE_TRY(girdle_pieces_parse(&in->with->call, text, &count));
  return girdle_stone_parse(&in->with->call, size + 1, &stone);
}

int32_t check_by_eye(asking *in) {
  char text[sizeof in->answer];
  char *at = text, *end;
  memcpy(text, in->answer, sizeof text);
  for (; at; at = end) {
    end = strchr(at, ';');
    if (end) *end++ = '\0';
    GIRDLE_TRY(check_some(in, at));
  }
  return GIRDLE_OK;
}
