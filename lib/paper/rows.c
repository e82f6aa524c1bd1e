/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

#include <string.h>

#include "girdle/work.h"

void girdle_rows_begin(girdle_rows *rows, girdle_call *call, const char *source, const girdle_table *table) {
  memset(rows, 0, sizeof *rows);
  rows->call = call;
  rows->table = table;
  girdle_faults_begin(&rows->faults, call, source);
}

/* ---- headings */

/* A heading may end in a unit: "length_cm" stands for "length". */
static int is_headed(const girdle_table *table, uint64_t column, const char *wanted) {
  const char *heading = girdle_table_heading(table, column);
  uint64_t stem, length = strlen(wanted);
  if (strcmp(heading, wanted) == 0) return 1;
  return girdle_heading_unit(heading, &stem) && stem == length && memcmp(heading, wanted, length) == 0;
}

static int64_t find_column(const girdle_table *table, const char *wanted) {
  for (uint64_t i = 0; i < girdle_table_columns(table); i++)
    if (is_headed(table, i, wanted)) return (int64_t)i;
  return -1;
}

static int32_t missing(girdle_call *call, const girdle_table *table, const char *wanted) {
  const char *seen[GIRDLE_MOST_COLUMNS], *nearest;
  uint64_t count = girdle_table_columns(table);
  for (uint64_t i = 0; i < count; i++)
    seen[i] = girdle_table_heading(table, i);
  nearest = girdle_nearest(wanted, seen, count);
  if (!nearest)
    return girdle_common_fail(call, GIRDLE_UNKNOWN, wanted, "the column '%s' is missing; the first one is '%.60s'",
                              wanted, seen[0]);
  girdle_common_fail(call, GIRDLE_UNKNOWN, wanted, "the column '%s' is missing; is '%.60s' meant for it?", wanted,
                     nearest);
  if (call && call->error) girdle_common_text(call->error->nearest, sizeof call->error->nearest, nearest);
  return GIRDLE_UNKNOWN;
}

static int is_known(const girdle_table *table, uint64_t column, const char *const *known, uint64_t count) {
  for (uint64_t i = 0; i < count; i++)
    if (is_headed(table, column, known[i])) return 1;
  return strncmp(girdle_table_heading(table, column), "note", 4) == 0;
}

static void take_heading(girdle_rows *rows, uint64_t column, int32_t status) {
  int32_t line, character;
  girdle_table_place(rows->table, UINT64_MAX, column, &line, &character);
  rows->stop |= girdle_faults_take(&rows->faults, status, line, character);
}

void girdle_rows_headings(girdle_rows *rows, const char *const *known, uint64_t count, uint64_t required,
                          int others_allowed) {
  for (uint64_t i = 0; i < required; i++)
    if (find_column(rows->table, known[i]) < 0) take_heading(rows, 0, missing(rows->call, rows->table, known[i]));
  if (rows->faults.status) rows->stop = 1; /* without its columns no row can be read */
  for (uint64_t i = 0; i < girdle_table_columns(rows->table) && !others_allowed && !rows->stop; i++) {
    const char *heading = girdle_table_heading(rows->table, i);
    if (!is_known(rows->table, i, known, count) && girdle_nearest(heading, known, count))
      take_heading(rows, i, girdle_common_unknown(rows->call, "column", heading, known, count));
  }
}

const char *girdle_heading_unit(const char *heading, uint64_t *stem_bytes) {
  static const char *const units[] = {"mm", "cm", "m", "in", "ft", "yd"};
  const char *last = strrchr(heading, '_');
  if (!last || last == heading) return NULL;
  for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
    if (strcmp(last + 1, units[i]) != 0) continue;
    *stem_bytes = (uint64_t)(last - heading);
    return units[i];
  }
  return NULL;
}

/* ---- cells */

const char *girdle_rows_cell(const girdle_rows *rows, const char *heading) {
  int64_t column = find_column(rows->table, heading);
  return column < 0 ? "" : girdle_table_cell(rows->table, rows->row, (uint64_t)column);
}

int girdle_rows_check(girdle_rows *rows, const char *heading, int32_t status) {
  girdle_error *error = rows->call ? rows->call->error : NULL;
  int64_t column = find_column(rows->table, heading);
  int32_t line = girdle_table_line(rows->table, rows->row), character = 1;
  if (status == GIRDLE_OK) return 1;
  if (error) girdle_common_text(error->field, sizeof error->field, heading);
  if (column >= 0) girdle_table_place(rows->table, rows->row, (uint64_t)column, &line, &character);
  /* what a parser found out about its own text (a byte of it) is not a place in the file */
  if (error) error->line = error->column = -1;
  rows->stop |= girdle_faults_take(&rows->faults, status, line, character);
  return 0;
}

static int32_t required_text(girdle_call *call, const char *heading) {
  return girdle_common_fail(call, GIRDLE_SYNTAX, heading, "'%s' is empty", heading);
}

int girdle_rows_text(girdle_rows *rows, const char *heading, char *field, uint64_t bytes, int required) {
  const char *text = girdle_rows_cell(rows, heading);
  int32_t status = GIRDLE_OK;
  if (required && !*text)
    status = required_text(rows->call, heading);
  else if (!girdle_common_text(field, bytes, text))
    status = girdle_common_fail(rows->call, GIRDLE_ARGUMENT, heading, "'%.40s...' is longer than %llu bytes", text,
                                (unsigned long long)bytes - 1);
  return girdle_rows_check(rows, heading, status);
}

int girdle_rows_whole(girdle_rows *rows, const char *heading, int64_t least, int64_t most, int64_t fallback,
                      int64_t *out) {
  const char *text = girdle_rows_cell(rows, heading);
  double value = (double)fallback;
  int32_t status = GIRDLE_OK;
  *out = fallback;
  if (!*text) return 1;
  status = girdle_number_parse(rows->call, text, strlen(text), &value);
  if (!status) status = girdle_common_range(rows->call, heading, value, (double)least, (double)most, "");
  if (!status && value != (double)(int64_t)value)
    status = girdle_common_fail(rows->call, GIRDLE_SYNTAX, heading, "'%.40s' is not a whole number", text);
  if (!status) *out = (int64_t)value;
  return girdle_rows_check(rows, heading, status);
}

int girdle_rows_yes(girdle_rows *rows, const char *heading, int32_t *out) {
  static const char *const words[] = {"", "no", "0", "false", "yes", "1", "true"};
  const char *text = girdle_rows_cell(rows, heading);
  *out = 0;
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
    if (strcmp(text, words[i]) != 0) continue;
    *out = i >= 4;
    return 1;
  }
  return girdle_rows_check(
      rows, heading,
      girdle_common_fail(rows->call, GIRDLE_SYNTAX, heading,
                         "'%s' says yes or no, or stays empty; it cannot be '%.40s'", heading, text));
}

/* ---- dates */

static int digits(const char **at) {
  int count = 0;
  for (; **at >= '0' && **at <= '9'; (*at)++)
    count++;
  return count;
}

static int whole(const char *at) {
  int value = 0;
  for (; *at >= '0' && *at <= '9'; at++)
    value = 10 * value + *at - '0';
  return value;
}

enum { ISO_OR_NONE, ONE_DATE, TWO_DATES };

/* "03/04/2031", "3.4.31" and the like: which one is the month cannot be known unless one is greater than 12, or
 * both are the same. */
static int kind_of_date(const char *text) {
  const char *start = text, *middle;
  int first = digits(&text), second, third;
  char separator = *text;
  if (first < 1 || first > 2 || !separator || !strchr("/.-", separator)) return ISO_OR_NONE;
  middle = ++text;
  second = digits(&text);
  if (second < 1 || second > 2 || *text != separator) return ISO_OR_NONE;
  text++;
  third = digits(&text);
  if (*text || third < 2) return ISO_OR_NONE;
  /* two digits at the end may be the day or the year, so only a whole year tells */
  return third == 4 && (whole(start) > 12 || whole(middle) > 12 || whole(start) == whole(middle)) ? ONE_DATE
                                                                                                  : TWO_DATES;
}

int girdle_rows_date(girdle_rows *rows, const char *heading, int64_t fallback, int64_t *out) {
  const char *text = girdle_rows_cell(rows, heading);
  int32_t status, kind = kind_of_date(text);
  *out = fallback;
  if (!*text) return 1;
  if (kind == ONE_DATE)
    status = girdle_common_fail(rows->call, GIRDLE_SYNTAX, heading,
                                "'%s' is not written year-month-day, like 2031-03-14", text);
  else if (kind == TWO_DATES)
    status = girdle_common_fail(rows->call, GIRDLE_SYNTAX, heading,
                                "'%s' can be read as two dates; write year-month-day, like 2031-04-03", text);
  else
    status = girdle_date_parse(rows->call, text, out);
  return girdle_rows_check(rows, heading, status);
}

int girdle_rows_stone(girdle_rows *rows, const char *heading, girdle_stone *out) {
  const char *text = girdle_rows_cell(rows, heading);
  int32_t status = *text ? girdle_stone_parse(rows->call, text, out) : required_text(rows->call, heading);
  return girdle_rows_check(rows, heading, status);
}
