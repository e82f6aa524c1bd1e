/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

#include <string.h>

/* CSV after RFC 4180, with what people's spreadsheets do besides: a byte order mark, any line ending, semicolons or
 * tabs, rows of nothing but separators. Outer spaces of a field without quotes are taken off. */

typedef struct cell {
  uint64_t offset; /* into the text */
  int32_t line, column;
} cell;

/* The first row of cells is the headings. */
struct girdle_table {
  girdle_allocator memory;
  char *text;
  cell *cells;
  uint64_t text_bytes, cell_capacity, cell_count, columns, rows;
};

enum { MOST_BYTES = 1 << 30 };

typedef struct reader {
  girdle_call *call;
  girdle_faults faults;
  girdle_table *table;
  const char *at, *end;
  uint64_t used;  /* of the table's text */
  uint64_t width; /* the first line's fields, empty ones at its end too */
  int32_t line, column;
  char separator;
} reader;

void girdle_table_free(girdle_table *table) {
  girdle_allocator memory;
  if (!table) return;
  memory = table->memory;
  girdle_common_release(&memory, table->cells, table->cell_capacity * sizeof(cell));
  girdle_common_release(&memory, table->text, table->text_bytes);
  girdle_common_release(&memory, table, sizeof *table);
}

/* ---- the bytes as a whole */

static int32_t check_whole(girdle_call *call, const char *text, uint64_t bytes) {
  int wide = bytes >= 2 && (memcmp(text, "\xff\xfe", 2) == 0 || memcmp(text, "\xfe\xff", 2) == 0);
  wide |= bytes >= 2 && (text[0] == 0) != (text[1] == 0);
  if (wide) return girdle_common_fail(call, GIRDLE_SYNTAX, NULL, "the table is UTF-16; save it again as UTF-8");
  if (bytes <= MOST_BYTES) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_LIMIT, NULL, "the table has more than 1 GiB");
}

/* Whether all is UTF-8 without a NUL, which nearly every file is: eight bytes of ASCII at a time. */
static int is_clean(const char *at, const char *end) {
  while (at < end) {
    uint64_t word, length;
    uint32_t character;
    for (; end - at >= 8; at += 8) {
      memcpy(&word, at, 8);
      /* a byte above 127, or one that is 0 and borrows */
      if ((word | (word - 0x0101010101010101u)) & 0x8080808080808080u) break;
    }
    if (at == end) break;
    length = girdle_utf8_read(at, (uint64_t)(end - at), &character);
    if (length == 0 || character == 0) return 0;
    at += length;
  }
  return 1;
}

/* One fault a line that is not UTF-8. */
static void check_characters(reader *in) {
  const char *at = in->at;
  int32_t line = 1, column = 1, faulty = 0;
  while (at < in->end) {
    uint32_t character;
    uint64_t length = girdle_utf8_read(at, (uint64_t)(in->end - at), &character);
    if ((length == 0 || character == 0) && faulty != line) {
      int32_t status =
          girdle_common_fail(in->call, GIRDLE_SYNTAX, NULL,
                             "the byte %d is not UTF-8 text; save the table again as UTF-8", (int)(unsigned char)*at);
      if (girdle_faults_take(&in->faults, status, line, column)) return;
      faulty = line;
    }
    column++;
    if (*at == '\n') {
      line++;
      column = 1;
    }
    at += length + !length;
  }
}

static int64_t count_outside_quotes(const char *at, const char *end, char wanted) {
  int64_t count = 0;
  int quoted = 0;
  for (; at < end && (quoted || (*at != '\n' && *at != '\r')); at++) {
    quoted ^= *at == '"';
    count += !quoted && *at == wanted;
  }
  return count;
}

/* The separator is the one that the headings hold most of. */
static char find_separator(const char *at, const char *end) {
  static const char candidates[] = {',', ';', '\t'};
  char best = ',';
  int64_t most = 0;
  for (size_t i = 0; i < sizeof candidates; i++) {
    int64_t count = count_outside_quotes(at, end, candidates[i]);
    if (count <= most) continue;
    most = count;
    best = candidates[i];
  }
  return best;
}

/* ---- cells */

static void step(reader *in) {
  if (*in->at == '\n') {
    in->line++;
    in->column = 1;
  } else if (((unsigned char)*in->at & 0xc0) != 0x80) {
    in->column++;
  }
  in->at++;
}

static int at_line_end(const reader *in) {
  return in->at == in->end || *in->at == '\n' || *in->at == '\r';
}

static int at_cell_end(const reader *in) {
  return at_line_end(in) || *in->at == in->separator;
}

static int at_space(const reader *in) {
  return in->at < in->end && *in->at != in->separator && (*in->at == ' ' || *in->at == '\t');
}

static void keep(reader *in, char c) {
  in->table->text[in->used++] = c;
}

/* What stands after the closing quote up to the separator is a fault, but spaces. */
static int32_t read_quoted(reader *in) {
  int32_t line = in->line, column = in->column, closed = 0, status = GIRDLE_OK;
  step(in);
  while (in->at < in->end && !closed) {
    closed = *in->at == '"' && (in->at + 1 == in->end || in->at[1] != '"');
    if (*in->at == '"' && !closed) step(in);
    if (!closed) keep(in, *in->at);
    step(in);
  }
  if (!closed) {
    status = girdle_common_fail(in->call, GIRDLE_SYNTAX, NULL, "a quote is opened here and never closed");
    girdle_common_at(in->call, NULL, line, column, -1);
    return status;
  }
  while (at_space(in))
    step(in);
  if (at_cell_end(in)) return GIRDLE_OK;
  return girdle_common_fail(in->call, GIRDLE_SYNTAX, NULL,
                            "text follows a closing quote; a quote inside a quoted field is written twice");
}

/* Nothing in such a cell needs changing, so it is copied in one piece. */
static void read_plain(reader *in) {
  const char *start = in->at, *at = start;
  char separator = in->separator;
  int32_t characters = 0;
  for (; at < in->end && *at != separator && *at != '\n' && *at != '\r'; at++)
    characters += ((unsigned char)*at & 0xc0) != 0x80;
  in->column += characters;
  in->at = at;
  while (at > start && (at[-1] == ' ' || at[-1] == '\t'))
    at--;
  memcpy(in->table->text + in->used, start, (size_t)(at - start));
  in->used += (uint64_t)(at - start);
}

static int32_t read_cell(reader *in) {
  girdle_table *table = in->table;
  cell *made;
  while (at_space(in))
    step(in);
  GIRDLE_TRY(girdle_common_grow(in->call, &table->memory, (void **)&table->cells, &table->cell_capacity,
                                table->cell_count + 1, sizeof(cell)));
  made = &table->cells[table->cell_count];
  made->offset = in->used;
  made->line = in->line;
  made->column = in->column;
  if (in->at < in->end && *in->at == '"')
    GIRDLE_TRY(read_quoted(in));
  else
    read_plain(in);
  keep(in, '\0');
  if (table->text[made->offset] == '\'' && girdle_looks_like_formula(table->text + made->offset)) made->offset++;
  table->cell_count++;
  return GIRDLE_OK;
}

/* ---- rows */

static void end_line(reader *in) {
  while (!at_line_end(in))
    step(in);
  if (in->at < in->end && *in->at == '\r') {
    in->at++;
    if (in->at == in->end || *in->at != '\n') { /* a lone carriage return ends a line, too */
      in->line++;
      in->column = 1;
    }
  }
  if (in->at < in->end && *in->at == '\n') step(in);
}

static int is_empty(const girdle_table *table, uint64_t index) {
  return table->text[table->cells[index].offset] == '\0';
}

/* Empty cells at the end of a row, which spreadsheets add, do not count beyond the headings. */
static void drop_empty_tail(girdle_table *table, uint64_t first, uint64_t wanted) {
  while (table->cell_count > first + wanted && is_empty(table, table->cell_count - 1))
    table->cell_count--;
}

static int is_blank(const girdle_table *table, uint64_t first) {
  for (uint64_t i = first; i < table->cell_count; i++)
    if (!is_empty(table, i)) return 0;
  return 1;
}

static int32_t read_cells(reader *in) {
  for (;;) {
    GIRDLE_TRY(read_cell(in));
    if (at_line_end(in)) return GIRDLE_OK;
    step(in);
  }
}

static const char *text_of(const girdle_table *table, uint64_t index) {
  return table->text + table->cells[index].offset;
}

/* Where a decimal comma without quotes has made two fields of one number, "1" and "5 mm"; returns the first one's place
 * in the row, UINT64_MAX for none. Two whole numbers beside each other may well be two columns, so the one with a unit
 * counts before those. */
static uint64_t split_number(const reader *in, uint64_t first) {
  const girdle_table *table = in->table;
  uint64_t bare = UINT64_MAX;
  if (in->separator != ',') return UINT64_MAX;
  for (uint64_t i = first; i + 1 < table->cell_count; i++) {
    const char *left = text_of(table, i), *right = text_of(table, i + 1);
    size_t end = strspn(left, "0123456789"), more = strspn(right, "0123456789");
    if (!end || left[end] || !more) continue;
    if (right[more]) return i - first;
    if (bare == UINT64_MAX) bare = i - first;
  }
  return bare;
}

/* Empty fields beyond the headings are too many as well: a number cut in two pushes the row's empty ones there. */
static int32_t too_wide(reader *in, uint64_t first) {
  const girdle_table *table = in->table;
  uint64_t have = table->cell_count - first, split = split_number(in, first);
  if (split == UINT64_MAX)
    return girdle_common_fail(in->call, GIRDLE_SYNTAX, NULL,
                              "the row has %llu fields and the headings are %llu; a field with a separator in it needs "
                              "quotes round it",
                              (unsigned long long)have, (unsigned long long)in->width);
  return girdle_common_fail(in->call, GIRDLE_SYNTAX, NULL,
                            "the row has %llu fields and the headings are %llu; if '%.20s,%.20s' is one number, write "
                            "a point for its decimal comma or quotes round it",
                            (unsigned long long)have, (unsigned long long)in->width, text_of(table, first + split),
                            text_of(table, first + split + 1));
}

static int32_t check_width(reader *in, uint64_t first) {
  girdle_table *table = in->table;
  uint64_t have;
  if (table->cell_count - first > in->width) return too_wide(in, first);
  drop_empty_tail(table, first, table->columns);
  have = table->cell_count - first;
  if (have == table->columns) return GIRDLE_OK;
  return girdle_common_fail(in->call, GIRDLE_SYNTAX, NULL, "the row has %llu field%s and the headings are %llu",
                            (unsigned long long)have, have == 1 ? "" : "s", (unsigned long long)table->columns);
}

static int read_row(reader *in) {
  girdle_table *table = in->table;
  uint64_t first = table->cell_count, used = in->used;
  int32_t line = in->line, column = in->column, status = read_cells(in);
  int stop = 0;
  if (status) {
    stop = girdle_faults_take(&in->faults, status, in->line, in->column);
  } else if (!is_blank(table, first)) {
    status = check_width(in, first);
    stop = girdle_faults_take(&in->faults, status, line, column);
    if (!status) {
      table->rows++;
      end_line(in);
      return stop;
    }
  }
  table->cell_count = first;
  in->used = used;
  end_line(in);
  return stop;
}

void girdle_table_fold(char *text) {
  for (; *text; text++) {
    if (*text >= 'A' && *text <= 'Z') *text = (char)(*text - 'A' + 'a');
    if (*text == ' ' || *text == '\t' || *text == '\n' || *text == '\r') *text = '_';
  }
}

static int32_t check_heading(reader *in, uint64_t column) {
  const girdle_table *table = in->table;
  const char *text = text_of(table, column);
  if (!*text)
    return girdle_common_fail(in->call, GIRDLE_SYNTAX, NULL, "column %llu has no heading",
                              (unsigned long long)column + 1);
  for (uint64_t i = 0; i < column; i++)
    if (strcmp(text_of(table, i), text) == 0)
      return girdle_common_fail(in->call, GIRDLE_SYNTAX, text, "two columns are headed '%.60s'", text);
  return GIRDLE_OK;
}

static void read_headings(reader *in) {
  girdle_table *table = in->table;
  int32_t status = GIRDLE_OK;
  while (in->at < in->end && at_line_end(in))
    end_line(in);
  if (in->at < in->end) status = read_cells(in);
  in->width = table->cell_count;
  drop_empty_tail(table, 0, 0);
  if (!status && table->cell_count == 0)
    status = girdle_common_fail(in->call, GIRDLE_SYNTAX, NULL, "the table is empty; its first line holds the headings");
  if (!status && table->cell_count > GIRDLE_MOST_COLUMNS)
    status =
        girdle_common_fail(in->call, GIRDLE_LIMIT, NULL, "the table has more than %d columns", GIRDLE_MOST_COLUMNS);
  if (girdle_faults_take(&in->faults, status, in->line, in->column) || status) return;
  table->columns = table->cell_count;
  for (uint64_t i = 0; i < table->columns; i++)
    girdle_table_fold(table->text + table->cells[i].offset);
  for (uint64_t i = 0; i < table->columns; i++)
    girdle_faults_take(&in->faults, check_heading(in, i), table->cells[i].line, table->cells[i].column);
  end_line(in);
}

static void read_all(reader *in) {
  uint64_t rows = 0;
  read_headings(in);
  if (in->table->columns == 0) return;
  while (in->at < in->end) {
    if (read_row(in)) return;
    if (++rows % 1024 == 0 && girdle_faults_take(&in->faults, girdle_common_tick(in->call, 1024, -1), -1, -1)) return;
  }
}

static int32_t make_table(girdle_call *call, uint64_t bytes, girdle_table **out) {
  girdle_table *table = girdle_common_new(call, sizeof *table);
  if (!table) return GIRDLE_MEMORY;
  table->memory = girdle_common_memory(call);
  table->text = girdle_common_new(call, bytes + 1);
  if (!table->text) {
    girdle_table_free(table);
    return GIRDLE_MEMORY;
  }
  table->text_bytes = bytes + 1;
  *out = table;
  return GIRDLE_OK;
}

int32_t girdle_table_read(girdle_call *call, const char *source, const char *text, uint64_t bytes, girdle_table **out) {
  GIRDLE_GIVEN(call, text || !bytes, out);
  reader in = {.call = call, .at = text, .end = text + bytes, .line = 1, .column = 1};
  int32_t status = check_whole(call, text, bytes);
  girdle_faults_begin(&in.faults, call, source);
  if (!status) status = make_table(call, bytes, &in.table);
  if (status) {
    girdle_faults_take(&in.faults, status, 1, 1);
    return girdle_faults_end(&in.faults);
  }
  if (bytes >= 3 && memcmp(text, "\xef\xbb\xbf", 3) == 0) in.at += 3;
  if (!is_clean(in.at, in.end)) check_characters(&in);
  in.separator = find_separator(in.at, in.end);
  if (!in.faults.status) read_all(&in);
  status = girdle_faults_end(&in.faults);
  if (status)
    girdle_table_free(in.table);
  else
    *out = in.table;
  return status;
}

/* ---- looking */

uint64_t girdle_table_rows(const girdle_table *table) {
  return table->rows;
}

uint64_t girdle_table_columns(const girdle_table *table) {
  return table->columns;
}

const char *girdle_table_heading(const girdle_table *table, uint64_t column) {
  return column < table->columns ? text_of(table, column) : NULL;
}

int64_t girdle_table_column(const girdle_table *table, const char *heading) {
  for (uint64_t i = 0; heading && i < table->columns; i++)
    if (strcmp(text_of(table, i), heading) == 0) return (int64_t)i;
  return -1;
}

const char *girdle_table_cell(const girdle_table *table, uint64_t row, uint64_t column) {
  if (row >= table->rows || column >= table->columns) return "";
  return text_of(table, (row + 1) * table->columns + column);
}

void girdle_table_place(const girdle_table *table, uint64_t row, uint64_t column, int32_t *line, int32_t *character) {
  const cell *at = &table->cells[(row + 1) * table->columns + column]; /* UINT64_MAX + 1 is the headings' row */
  *line = at->line;
  *character = at->column;
}

int32_t girdle_table_line(const girdle_table *table, uint64_t row) {
  return row < table->rows ? table->cells[(row + 1) * table->columns].line : -1;
}
