/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "learn.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"
#include "paper/paper_internal.h"

enum { CARD_BYTES = 16 << 20 };

/* ---- rows */

static girdle_log_row *add_row(lesson *to, const char *stone) {
  to->rows = command_grown(to->rows, to->row_count, sizeof *to->rows);
  to->stones = command_grown(to->stones, to->row_count, sizeof *to->stones);
  girdle_common_text(to->stones[to->row_count], sizeof to->stones[0], stone);
  return &to->rows[to->row_count++];
}

void lesson_free(lesson *of) {
  free(of->rows);
  free(of->stones);
  free(of->leftovers);
  memset(of, 0, sizeof *of);
}

/* ---- a card */

typedef struct card {
  program *with;
  const girdle_table *table;
  const char *path;
  uint64_t row;
  double evening_s; /* of all hands together */
} card;

/* A heading as the sheet prints it in the user's words, where "left" is not the side. */
static void own_heading(const program *with, const char *heading, char own[200]) {
  const girdle_phrased words = {.phrases = with->phrases};
  girdle_phrase_text(&words, strcmp(heading, "left") == 0 ? "left over" : heading, NULL, 0, own, 200);
  girdle_table_fold(own);
}

static int64_t column_of(const card *of, const char *heading) {
  const int64_t column = girdle_table_column(of->table, heading);
  char own[200];
  own_heading(of->with, heading, own);
  return column < 0 ? girdle_table_column(of->table, own) : column;
}

static const char *cell(const card *of, const char *heading) {
  const int64_t column = column_of(of, heading);
  return column < 0 ? "" : girdle_table_cell(of->table, of->row, (uint64_t)column);
}

/* A fault of the current row. */
static int32_t at_row(const card *of, int32_t status) {
  if (status) girdle_common_at(&of->with->call, of->path, girdle_table_line(of->table, of->row), -1, -1);
  return status;
}

static int32_t read_pieces(const card *of, const char *heading, int64_t *out) {
  if (!*cell(of, heading))
    return girdle_common_fail(&of->with->call, GIRDLE_SYNTAX, heading, "'%s' is empty; write 0 for none", heading);
  return girdle_pieces_parse(&of->with->call, cell(of, heading), out);
}

/* Evenings, or minutes; NaN when neither is written down. */
static int32_t read_minutes(const card *of, double *out) {
  girdle_call *call = &of->with->call;
  const char *evenings = cell(of, "evenings"), *minutes = cell(of, "minutes");
  *out = NAN;
  if (*evenings && *minutes)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "minutes", "give evenings or minutes, not both");
  if (*minutes) GIRDLE_TRY(girdle_number_parse(call, minutes, strlen(minutes), out));
  if (*evenings) {
    GIRDLE_TRY(girdle_number_parse(call, evenings, strlen(evenings), out));
    *out *= of->evening_s / 60;
  }
  return isnan(*out) ? GIRDLE_OK : girdle_common_range(call, "minutes", *out, 0, 1e6, "minutes");
}

static void keep_leftover(lesson *to, const girdle_log_row *row, const char *stone, int64_t had, int64_t bought,
                          int64_t left) {
  leftover *made;
  to->leftovers = command_grown(to->leftovers, to->leftover_count, sizeof *to->leftovers);
  made = &to->leftovers[to->leftover_count++];
  memset(made, 0, sizeof *made);
  made->stone = row->stone;
  made->had = had;
  made->bought = bought;
  made->left = left;
  girdle_common_text(made->name, sizeof made->name, stone);
}

/* ---- the day of a job: that of any of its rows */

static int64_t day_of(const lesson *of, const char *tag) {
  for (uint64_t i = 0; i < of->row_count; i++)
    if (of->rows[i].day != INT64_MIN && strcmp(of->rows[i].tag, tag) == 0) return of->rows[i].day;
  return INT64_MIN;
}

static int32_t read_day(const card *of, const lesson *before, const char *tag, int64_t *out) {
  girdle_call *call = &of->with->call;
  const char *date = cell(of, "date");
  const int64_t known = day_of(before, tag);
  char day[24];
  *out = known;
  if (!*date) return GIRDLE_OK;
  GIRDLE_TRY(girdle_date_parse(call, date, out));
  if (known == INT64_MIN || known == *out) return GIRDLE_OK;
  girdle_date_text(known, day, sizeof day);
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "date", "a job has one date: a row above says %s, this one %.20s",
                            day, date);
}

/* Each row is of a stone, and so is each leftover. */
static void settle_days(lesson *of, int64_t today) {
  char day[24];
  for (uint64_t i = 0; i < of->row_count; i++) {
    girdle_log_row *row = &of->rows[i];
    row->day = day_of(of, row->tag);
    if (row->day == INT64_MIN) row->day = today;
    girdle_date_text(row->day, day, sizeof day);
    snprintf(of->leftovers[i].lot, sizeof of->leftovers[i].lot, "%.20s %.10s", row->tag, day);
  }
}

/* ---- its rows */

static int32_t read_row(const card *of, lesson *to) {
  girdle_call *call = &of->with->call;
  const char *stone = cell(of, "stone"), *tag = cell(of, "tag");
  int64_t planned, had, bought, left, day;
  girdle_stone parsed;
  girdle_log_row *row;
  double minutes;
  if (!*tag || strlen(tag) > 31) return girdle_common_fail(call, GIRDLE_SYNTAX, "tag", "a tag has 1 to 31 characters");
  GIRDLE_TRY(girdle_stone_parse(call, stone, &parsed));
  GIRDLE_TRY(read_pieces(of, "planned", &planned));
  GIRDLE_TRY(read_pieces(of, "had", &had));
  GIRDLE_TRY(read_pieces(of, "bought", &bought));
  GIRDLE_TRY(read_pieces(of, "left", &left));
  GIRDLE_TRY(read_minutes(of, &minutes));
  GIRDLE_TRY(read_day(of, to, tag, &day));
  row = add_row(to, stone);
  GIRDLE_TRY(girdle_log_card(call, tag, &parsed, planned, had, bought, left, row));
  row->day = day;
  row->minutes = minutes;
  keep_leftover(to, row, stone, had, bought, left);
  return GIRDLE_OK;
}

/* The time of a whole job stands in one row alone; it is shared out over all its rows by what they used, so that every
 * stone of it is timed alike. */
static void gather_minutes(lesson *of) {
  const uint64_t count = of->row_count;
  for (uint64_t i = 0; i < count; i++) {
    int64_t used = 0;
    double minutes = of->rows[i].minutes;
    uint64_t others = 0;
    for (uint64_t k = 0; k < count; k++) {
      if (strcmp(of->rows[k].tag, of->rows[i].tag) != 0) continue;
      used += of->rows[k].used;
      others += k != i && !isnan(of->rows[k].minutes);
    }
    if (isnan(minutes) || others || used == of->rows[i].used) continue;
    for (uint64_t k = 0; k < count; k++)
      if (strcmp(of->rows[k].tag, of->rows[i].tag) == 0)
        of->rows[k].minutes = minutes * (double)of->rows[k].used / (double)used;
  }
}

static int is_heading(const program *with, const char *written, const char *heading) {
  char own[200];
  own_heading(with, heading, own);
  return strcmp(written, heading) == 0 || strcmp(written, own) == 0;
}

static int32_t check_headings(const card *of) {
  static const char *const known[] = {"tag",  "stone",    "planned", "had", "bought",
                                      "left", "evenings", "minutes", "date"};
  program *with = of->with;
  const girdle_table *table = of->table;
  enum { REQUIRED = 6, KNOWN = sizeof known / sizeof known[0] };
  for (int i = 0; i < REQUIRED; i++)
    if (column_of(of, known[i]) < 0) {
      girdle_common_fail(&with->call, GIRDLE_SYNTAX, known[i], "the card has no column '%s'", known[i]);
      girdle_common_at(&with->call, of->path, 1, -1, -1);
      return GIRDLE_SYNTAX;
    }
  for (uint64_t c = 0; c < girdle_table_columns(table); c++) {
    int there = 0;
    for (int i = 0; i < KNOWN; i++)
      there |= is_heading(with, girdle_table_heading(table, c), known[i]);
    if (there) continue;
    girdle_common_unknown(&with->call, "column", girdle_table_heading(table, c), known, KNOWN);
    girdle_common_at(&with->call, of->path, 1, -1, -1);
    return GIRDLE_UNKNOWN;
  }
  return GIRDLE_OK;
}

static int32_t read_card(program *with, const char *path, double evening_s, lesson *out) {
  buffer text = {0};
  girdle_table *table = NULL;
  card of = {with, NULL, path, 0, evening_s};
  int32_t status;
  GIRDLE_TRY(file_read(with, path, CARD_BYTES, &text));
  status = girdle_table_read(&with->call, path, text.bytes, text.count, &table);
  buffer_free(&text);
  GIRDLE_TRY(status);
  of.table = table;
  status = check_headings(&of);
  for (; of.row < girdle_table_rows(table) && !status; of.row++)
    status = at_row(&of, read_row(&of, out));
  girdle_table_free(table);
  if (!status && out->row_count == 0)
    status = girdle_common_fail(&with->call, GIRDLE_SYNTAX, "card", "%.160s has no row", path);
  if (!status) settle_days(out, with->today);
  if (!status) gather_minutes(out);
  return status;
}

/* ---- what is remembered */

static int32_t read_remembered(program *with, lesson *out) {
  static const char *const known[] = {"tag", "gross", "hours"};
  const char *tag = flags_given(with, "tag"), *gross = flags_given(with, "gross"), *hours = flags_given(with, "hours");
  char pieces_text[64];
  int64_t pieces;
  double spent = NAN;
  girdle_log_row *row;
  GIRDLE_TRY(flags_only(with, known, 3));
  if (!tag || !gross)
    return command_usage(with, "what is remembered of a job is tag=TAG gross=N, and hours=H if known");
  if (!*tag || strlen(tag) > 31) return command_usage(with, "a tag has 1 to 31 characters");
  snprintf(pieces_text, sizeof pieces_text, "%.40s gross", gross);
  GIRDLE_TRY(girdle_pieces_parse(&with->call, pieces_text, &pieces));
  if (hours) GIRDLE_TRY(girdle_number_parse(&with->call, hours, strlen(hours), &spent));
  if (spent == 0)
    return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "hours",
                              "hours must be above 0; leave them out when they are not known");
  row = add_row(out, "");
  GIRDLE_TRY(girdle_log_remembered(&with->call, tag, pieces, spent, row));
  row->day = with->today;
  return GIRDLE_OK;
}

int32_t lesson_read(program *with, double evening_s, lesson *out) {
  memset(out, 0, sizeof *out);
  if (with->flags.file_count > 1 && with->flags.given_count)
    return command_usage(with, "give a card or what is remembered, not both");
  if (with->flags.file_count > 1) return read_card(with, with->flags.files[1], evening_s, out);
  return with->flags.given_count ? read_remembered(with, out) : GIRDLE_OK;
}
