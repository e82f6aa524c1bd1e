/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _POSIX_C_SOURCE 200809L /* getline, isatty */
#include "command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "common.h"

/* ask: asks about a dress in plain words, writes its zones.csv and counts it. Answers come from the keyboard, or one a
 * line from a file; an answer that cannot be read is asked for again at a keyboard, and ends the work in a file. */

typedef struct asking {
  program *with;
  FILE *from;
  const char *from_name;
  int line, at_keyboard;
  char answer[256];
  char fullness[16], first[112], stones[256], gap[48];
  buffer table;
  uint64_t zones;
} asking;

/* ---- one question */

static int32_t ended(asking *in, const char *question) {
  return girdle_common_fail(&in->with->call, GIRDLE_SYNTAX, "answers", "%s:%d: the answers end before \"%.120s\"",
                            in->from_name, in->line + 1, question);
}

static void trim(char *text) {
  size_t length = strlen(text), before = strspn(text, " \t");
  while (length && strchr(" \t\r\n", text[length - 1]))
    text[--length] = '\0';
  if (before > length) before = length;
  memmove(text, text + before, length - before + 1);
}

static int32_t next_answer(asking *in, const char *question) {
  char *line = NULL;
  size_t room = 0;
  int32_t status = GIRDLE_OK;
  if (getline(&line, &room, in->from) < 0) {
    free(line);
    return command_interrupted ? COMMAND_INTERRUPTED : ended(in, question);
  }
  in->line++;
  trim(line);
  if (!girdle_common_text(in->answer, sizeof in->answer, line))
    status = girdle_common_fail(&in->with->call, GIRDLE_LIMIT, "answers", "%s:%d: the answer is too long",
                                in->from_name, in->line);
  free(line);
  return status;
}

/* Reads an answer; 1 when it can be used, with the call's error set otherwise. */
typedef int32_t checker(asking *in);

static int32_t ask(asking *in, const char *question, const char *explained, const char *fallback, checker *check) {
  for (;;) {
    int32_t status;
    command_say(in->with, "%s\n  %s%s%s%s", question, explained, fallback[0] ? " [" : "", fallback,
                fallback[0] ? "]" : "");
    GIRDLE_TRY(next_answer(in, question));
    if (!in->answer[0]) girdle_common_text(in->answer, sizeof in->answer, fallback);
    status = in->answer[0] || fallback[0] ? check(in) : GIRDLE_OK;
    if (!status) return GIRDLE_OK;
    if (!in->at_keyboard) girdle_common_at(&in->with->call, in->from_name, in->line, -1, -1);
    if (!in->at_keyboard || status == GIRDLE_MEMORY || status == GIRDLE_STOPPED) return status;
    command_fault(in->with, status);
  }
}

/* ---- what an answer may be */

static int32_t check_fullness(asking *in) {
  static const char *const known[] = {"light", "medium", "full"};
  for (int at = 0; at < 3; at++)
    if (strcmp(in->answer, known[at]) == 0) return GIRDLE_OK;
  return girdle_common_unknown(&in->with->call, "answer", in->answer, known, 3);
}

static int32_t check_stone(asking *in) {
  girdle_stone stone;
  return girdle_stone_parse(&in->with->call, in->answer, &stone);
}

static int32_t check_length(asking *in) {
  double mm;
  GIRDLE_TRY(girdle_quantity_parse(&in->with->call, in->answer, GIRDLE_LENGTH, &mm));
  return girdle_common_range(&in->with->call, "length", mm, 20, 1e4, "mm");
}

static int32_t check_gap(asking *in) {
  double mm;
  GIRDLE_TRY(girdle_quantity_parse(&in->with->call, in->answer, GIRDLE_LENGTH, &mm));
  return girdle_common_range(&in->with->call, "gap", mm, 0, 1000, "mm");
}

/* "40 ss16 clear; 2 gross ss20": pieces, then a stone. */
static int32_t check_by_eye(asking *in) {
  const char *size = strstr(in->answer, " ss");
  char pieces[64];
  girdle_stone stone;
  int64_t count;
  if (!size || size - in->answer >= (ptrdiff_t)sizeof pieces)
    return girdle_common_fail(&in->with->call, GIRDLE_SYNTAX, "answer",
                              "'%.60s' is no number of stones; write one like \"40 ss16 clear\"", in->answer);
  memcpy(pieces, in->answer, (size_t)(size - in->answer));
  pieces[size - in->answer] = '\0';
  GIRDLE_TRY(girdle_pieces_parse(&in->with->call, pieces, &count));
  return girdle_stone_parse(&in->with->call, size + 1, &stone);
}

/* ---- the zones */

typedef struct edge {
  const char *zone, *side, *pair, *times, *shape, *question, *explained;
} edge;

static const edge edges[] = {
    {"neckline", "front", "", "1", "line", "How long is the neckline?",
     "lay the tape along the edge that gets stones, such as 38 cm; nothing leaves it plain"},
    {"waist", "both", "", "1", "loop", "How far is it round the waist?", "such as 62 cm; nothing leaves it plain"},
    {"wrist", "", "yes", "1", "loop", "How far is it round one wrist, over the sleeve?",
     "such as 15 cm; both wrists get the same; nothing leaves them plain"},
    {"leg opening", "", "yes", "1", "loop", "How far is it round one leg opening?",
     "such as 46 cm; both get the same; nothing leaves them plain"},
    {"strap", "back", "", "2", "line", "How long is one strap?",
     "such as 34 cm; two straps are reckoned; nothing leaves them plain"},
    {"hem", "both", "", "1", "loop", "How far is it round the hem of the skirt?",
     "such as 140 cm; nothing leaves it plain"},
};

static void zone_row(asking *in, const edge *of, const char *length, const char *width, const char *recipe,
                     const char *stones) {
  buffer_csv_text(&in->table, of->zone, ",");
  buffer_csv_text(&in->table, of->side, ",");
  buffer_csv_text(&in->table, of->pair, ",");
  buffer_csv_text(&in->table, of->times, ",");
  buffer_csv_text(&in->table, of->question ? "1" : "", ","); /* in a plan edges come first, the area has what remains */
  buffer_csv_text(&in->table, of->shape, ",");
  buffer_csv_text(&in->table, length, ",");
  buffer_csv_text(&in->table, width, ",");
  buffer_csv_text(&in->table, recipe, ",");
  buffer_csv_text(&in->table, stones, ",");
  buffer_csv_text(&in->table, in->gap, ",\n");
  in->zones++;
}

static int32_t ask_edge(asking *in, const edge *of) {
  int rich = strcmp(in->fullness, "full") == 0;
  GIRDLE_TRY(ask(in, of->question, of->explained, "", check_length));
  if (in->answer[0]) zone_row(in, of, in->answer, "", rich ? "double row" : "alternating line", in->stones);
  return GIRDLE_OK;
}

static int32_t ask_area(asking *in) {
  static const edge front = {"front", "front", "", "1", "oval", NULL, NULL};
  char width[48];
  GIRDLE_TRY(ask(in, "Is there an area on the front to scatter stones over? How wide is it?",
                 "such as 16 cm; nothing when there is none", "", check_length));
  if (!in->answer[0]) return GIRDLE_OK;
  girdle_common_text(width, sizeof width, in->answer);
  GIRDLE_TRY(ask(in, "And how deep, from top to bottom?", "such as 12 cm", "12 cm", check_length));
  zone_row(in, &front, width, in->answer, "even scatter", in->first);
  return GIRDLE_OK;
}

static int32_t ask_by_eye(asking *in) {
  GIRDLE_TRY(ask(in, "Are there stones you set by eye, that are only to be counted?",
                 "such as 40 ss16 clear; nothing when there are none", "", check_by_eye));
  if (!in->answer[0]) return GIRDLE_OK;
  buffer_text(&in->table, "by eye,,,1,,,,,,,,");
  buffer_csv_text(&in->table, in->answer, "\n");
  in->zones++;
  return GIRDLE_OK;
}

/* ---- the stones and how close they stand */

static int32_t ask_stones(asking *in) {
  GIRDLE_TRY(ask(in, "How richly is it to be stoned?",
                 "light: single stones well apart; medium: a line; full: two rows close together", "medium",
                 check_fullness));
  girdle_common_text(in->fullness, sizeof in->fullness, in->answer);
  GIRDLE_TRY(ask(in, "Which stone?", "a size and a colour, such as ss20 black", "ss20 clear", check_stone));
  girdle_common_text(in->first, sizeof in->first, in->answer);
  GIRDLE_TRY(ask(in, "And a second stone, in turn with the first?", "such as ss16 clear; nothing for one kind", "",
                 check_stone));
  if (strlen(in->first) + strlen(in->answer) + 8 > sizeof in->stones)
    return girdle_common_fail(&in->with->call, GIRDLE_LIMIT, "answer", "the stones' names are too long");
  snprintf(in->stones, sizeof in->stones, "%.111s; %.130s", in->first, in->answer[0] ? in->answer : in->first);
  GIRDLE_TRY(ask(in, "How far apart, from the edge of one stone to the edge of the next?", "such as 1.5 mm",
                 in->fullness[0] == 'l'   ? "8 mm"
                 : in->fullness[0] == 'm' ? "2 mm"
                                          : "0.5 mm",
                 check_gap));
  girdle_common_text(in->gap, sizeof in->gap, in->answer);
  return GIRDLE_OK;
}

static int32_t ask_all(asking *in) {
  buffer_text(&in->table, "zone,side,pair,times,priority,shape,length,width,recipe,stones,gap,already\n");
  GIRDLE_TRY(ask_stones(in));
  for (size_t at = 0; at < sizeof edges / sizeof edges[0]; at++)
    GIRDLE_TRY(ask_edge(in, &edges[at]));
  GIRDLE_TRY(ask_area(in));
  GIRDLE_TRY(ask_by_eye(in));
  if (in->zones) return GIRDLE_OK;
  return girdle_common_fail(&in->with->call, GIRDLE_ARGUMENT, "answers", "nothing gets stones, so nothing is written");
}

/* ---- what comes of it */

/* Counted from the very table that is written. */
static int32_t count_table(program *with, const buffer *written) {
  girdle_zone_rows *rows = NULL;
  girdle_job *job = NULL;
  girdle_tally *tally = NULL;
  girdle_sink sink = paper_sink(with, &with->result);
  char name[64];
  int32_t status = girdle_paper_read_zones(&with->call, "zones.csv", written->bytes, written->count, &rows);
  file_base_name(with->flags.out, name, sizeof name);
  if (!status) status = work_zone_rows(with, name, rows, &job);
  if (!status) status = girdle_job_tally(&with->call, job, &tally);
  if (!status) status = girdle_paper_counts_text(&with->call, job, tally, &sink);
  girdle_tally_free(tally);
  girdle_job_free(job);
  girdle_zone_rows_free(rows);
  return status;
}

static int32_t answers_from(asking *in) {
  program *with = in->with;
  in->from = stdin;
  in->from_name = "answers";
  if (with->flags.file_count) {
    in->from_name = with->flags.files[0];
    in->from = fopen(in->from_name, "r");
  }
  if (!in->from)
    return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "file", "there is no file %.200s", in->from_name);
  in->at_keyboard = in->from == stdin && isatty(0);
  return GIRDLE_OK;
}

static int32_t refuse_existing(program *with) {
  char path[COMMAND_PATH];
  GIRDLE_TRY(file_join(with, with->flags.out, "zones.csv", path, sizeof path));
  if (!file_exists(path)) return GIRDLE_OK;
  return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "out",
                            "%.160s is there already and is not written over; choose another folder", path);
}

int32_t verb_ask(program *with) {
  asking in;
  int32_t status;
  memset(&in, 0, sizeof in);
  in.with = with;
  if (!with->flags.out) return command_usage(with, "say where the costume is to go, such as --out frost");
  if (with->flags.given_count) return command_usage(with, "ask takes no name=value");
  GIRDLE_TRY(refuse_existing(with));
  GIRDLE_TRY(answers_from(&in));
  status = ask_all(&in);
  if (!status) status = count_table(with, &in.table);
  if (!status) {
    buffer *file = output_add(with, "zones.csv");
    buffer_add(file, in.table.bytes, in.table.count);
    buffer_text(&with->result,
                "\n%s/zones.csv holds the costume: change it in any spreadsheet, then `girdle count %s`\n",
                with->flags.out, with->flags.out);
  }
  if (in.from != stdin) fclose(in.from);
  buffer_free(&in.table);
  return status;
}
