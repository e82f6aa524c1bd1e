/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

#include <stdio.h>
#include <string.h>

struct girdle_zone_rows {
  girdle_allocator memory;
  girdle_zone_row *rows;
  uint64_t capacity, count;
};

static const char *const known[] = {"zone",   "side",   "pair", "times",   "priority", "shape", "length", "width",
                                    "recipe", "stones", "gap",  "already", "leave",    "given", "alike",  "pieces"};

void girdle_zone_rows_free(girdle_zone_rows *rows) {
  girdle_allocator memory;
  if (!rows) return;
  memory = rows->memory;
  girdle_common_release(&memory, rows->rows, rows->capacity * sizeof *rows->rows);
  girdle_common_release(&memory, rows, sizeof *rows);
}

const girdle_zone_row *girdle_zone_rows_view(const girdle_zone_rows *rows, uint64_t *count) {
  *count = rows->count;
  return rows->rows;
}

static int is_number(const char *text) {
  double value;
  return girdle_number_parse(NULL, text, strlen(text), &value) == GIRDLE_OK;
}

/* The unit of the column for "length": "cm" when it is headed "length_cm", NULL when plain. */
static const char *unit_of_column(const girdle_table *table, const char *wanted) {
  for (uint64_t i = 0; i < girdle_table_columns(table); i++) {
    uint64_t stem;
    const char *heading = girdle_table_heading(table, i), *unit = girdle_heading_unit(heading, &stem);
    if (unit && stem == strlen(wanted) && memcmp(heading, wanted, stem) == 0) return unit;
  }
  return NULL;
}

/* Without what says how a length is meant: "1 mm worn" is "1 mm". */
static void plain_length(const char *text, char *out, uint64_t bytes) {
  static const char *const meanings[] = {" worn", " glued"};
  girdle_common_text(out, bytes, text);
  for (size_t i = 0; i < 2; i++) {
    size_t length = strlen(out), tail = strlen(meanings[i]);
    if (length > tail && strcmp(out + length - tail, meanings[i]) == 0) out[length - tail] = '\0';
  }
}

/* A number with one word behind it is a length; a name may begin with a number too, as in "2nd waist". */
static int is_length(const char *text) {
  size_t number = strspn(text, "0123456789.,/ ");
  return number > 0 && text[0] != ' ' && text[number] && !strchr(text + number, ' ');
}

/* A length may also be the name of a measure ("neckline"), which is known only when a wearer is. A bare number takes
 * the unit of its heading, and without one it is refused. */
static void read_length(girdle_rows *in, const char *heading, char *field, uint64_t bytes) {
  const char *unit = unit_of_column(in->table, heading), *text = girdle_rows_cell(in, heading);
  char plain[64];
  double value;
  if (!girdle_rows_text(in, heading, field, bytes, 0)) return;
  plain_length(text, plain, sizeof plain);
  if (is_number(text) && unit) {
    if ((uint64_t)snprintf(field, (size_t)bytes, "%s %s", text, unit) >= bytes)
      girdle_rows_check(in, heading, girdle_common_fail(in->call, GIRDLE_LIMIT, heading, "'%.40s' is too long", text));
  } else if (is_number(text) || is_length(plain)) {
    girdle_rows_check(in, heading, girdle_quantity_parse(in->call, plain, GIRDLE_LENGTH, &value));
  }
}

static void read_side(girdle_rows *in, girdle_zone_row *row) {
  static const char *const sides[] = {"front", "back", "left", "right", "both"};
  if (!girdle_rows_text(in, "side", row->side, sizeof row->side, 0) || !row->side[0]) return;
  for (size_t i = 0; i < 5; i++)
    if (strcmp(row->side, sides[i]) == 0) return;
  girdle_rows_check(in, "side", girdle_common_unknown(in->call, "side", row->side, sides, 5));
}

/* What stays alike over the sizes: the gap when nothing is said; "count", or "count 93" when it is settled. */
static void read_alike(girdle_rows *in, girdle_zone_row *row) {
  static const char *const words[GIRDLE_ALIKE_END] = {"gap", "count", "picture"};
  const char *word = girdle_rows_cell(in, "alike");
  int64_t pieces;
  if (strncmp(word, "count ", 6) == 0) {
    int32_t status = girdle_pieces_parse(in->call, word + 6, &pieces);
    if (!status) status = girdle_common_range(in->call, "alike", (double)pieces, 1, 1e6, "stones");
    if (girdle_rows_check(in, "alike", status)) row->alike = GIRDLE_ALIKE_COUNT, row->alike_count = (int32_t)pieces;
    return;
  }
  for (int32_t i = 0; i < GIRDLE_ALIKE_END; i++)
    if (strcmp(word, words[i]) == 0) row->alike = i;
  if (*word && strcmp(word, words[row->alike]) != 0)
    girdle_rows_check(in, "alike", girdle_common_unknown(in->call, "alike", word, words, GIRDLE_ALIKE_END));
}

/* A zone is worked by a recipe on a shape, or its stones are set by eye; one of both must be said. */
static void check_filled(girdle_rows *in, const girdle_zone_row *row) {
  int32_t status = GIRDLE_OK;
  int missing = girdle_table_column(in->table, "recipe") < 0 && !row->already[0];
  in->stop |= missing; /* one word for all rows */
  if (missing)
    status = girdle_common_fail(in->call, GIRDLE_UNKNOWN, "recipe", "the column 'recipe' is missing");
  else if (!row->recipe[0] && !row->already[0])
    status = girdle_common_fail(in->call, GIRDLE_SYNTAX, "recipe",
                                "the zone needs a recipe, or stones set by eye under 'already'");
  girdle_rows_check(in, "recipe", status);
}

/* A count that is sought and one that is given would be two. */
static void check_pieces(girdle_rows *in, const girdle_zone_row *row) {
  int32_t status = GIRDLE_OK;
  if (row->pieces[0] && (row->alike != GIRDLE_ALIKE_GAP || !row->recipe[0]))
    status =
        girdle_common_fail(in->call, GIRDLE_ARGUMENT, "pieces",
                           row->recipe[0] ? "'pieces' says how many there are: leave 'alike' empty"
                                          : "'pieces' are what stays of a recipe's stones: write 'already' instead");
  girdle_rows_check(in, "pieces", status);
}

static void read_row(girdle_rows *in, girdle_zone_row *row) {
  int64_t priority = 0;
  row->line = girdle_table_line(in->table, in->row);
  girdle_rows_text(in, "zone", row->name, sizeof row->name, 1);
  read_side(in, row);
  girdle_rows_yes(in, "pair", &row->pair);
  girdle_rows_whole(in, "times", 1, 1000000, 1, &row->times);
  girdle_rows_whole(in, "priority", -1000000, 1000000, 0, &priority);
  row->priority = (int32_t)priority;
  girdle_rows_text(in, "recipe", row->recipe, sizeof row->recipe, 0);
  girdle_rows_text(in, "shape", row->shape, sizeof row->shape, 0);
  read_length(in, "length", row->length, sizeof row->length);
  read_length(in, "width", row->width, sizeof row->width);
  read_length(in, "gap", row->gap, sizeof row->gap);
  girdle_rows_text(in, "stones", row->stones, sizeof row->stones, 0);
  girdle_rows_text(in, "already", row->already, sizeof row->already, 0);
  girdle_rows_text(in, "leave", row->leave, sizeof row->leave, 0);
  girdle_rows_text(in, "given", row->given, sizeof row->given, 0);
  girdle_rows_text(in, "pieces", row->pieces, sizeof row->pieces, 0);
  row->need_shape = 1;
  read_alike(in, row);
  check_filled(in, row);
  check_pieces(in, row);
}

static int32_t read_rows(girdle_call *call, const char *source, const girdle_table *table, girdle_zone_rows *rows) {
  girdle_rows in;
  girdle_rows_begin(&in, call, source, table);
  girdle_rows_headings(&in, known, sizeof known / sizeof known[0], 1, 0);
  for (; in.row < rows->count && !in.stop; in.row++)
    read_row(&in, &rows->rows[in.row]);
  return girdle_faults_end(&in.faults);
}

static int32_t make_rows(girdle_call *call, uint64_t count, girdle_zone_rows **out) {
  girdle_zone_rows *rows = girdle_common_new(call, sizeof *rows);
  if (!rows) return GIRDLE_MEMORY;
  rows->memory = girdle_common_memory(call);
  rows->capacity = count ? count : 1;
  rows->rows = girdle_common_new(call, rows->capacity * sizeof *rows->rows);
  if (!rows->rows) {
    girdle_zone_rows_free(rows);
    return GIRDLE_MEMORY;
  }
  rows->count = count;
  *out = rows;
  return GIRDLE_OK;
}

int32_t girdle_paper_read_zones(girdle_call *call, const char *source, const char *text, uint64_t bytes,
                                girdle_zone_rows **out) {
  GIRDLE_GIVEN(call, text || !bytes, out);
  girdle_table *table;
  girdle_zone_rows *rows = NULL;
  int32_t status;
  GIRDLE_TRY(girdle_table_read(call, source, text, bytes, &table));
  status = make_rows(call, girdle_table_rows(table), &rows);
  if (!status) status = read_rows(call, source, table, rows);
  girdle_table_free(table);
  if (status)
    girdle_zone_rows_free(rows);
  else
    *out = rows;
  return status;
}
