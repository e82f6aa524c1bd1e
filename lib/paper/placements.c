/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

#include <math.h>
#include <string.h>

/* Placements read back from the table that girdle_paper_placements_csv writes. A file as it was written, of plain cells
 * in that order, is read in one go; any other (reordered, quoted, saved by a spreadsheet, faulty) goes through the
 * reader of tables, which finds every fault with its place. */

static const char *const columns[] = {"zone", "row", "stone", "x_mm", "y_mm", "diameter_mm", "turn_deg"};
enum { COLUMNS = sizeof columns / sizeof columns[0], CELL_MOST = 250, ZONE_MOST = 63 };

/* A stone of the open zone, with the cells that stood for it. */
typedef struct kind {
  girdle_stone stone;
  char name[CELL_MOST + 2], across[40]; /* each with the comma behind */
  uint64_t name_bytes, across_bytes;
} kind;

/* Zones follow each other; what belongs to one lies side by side. */
typedef struct span {
  char name[ZONE_MOST + 2]; /* with the comma behind */
  uint64_t name_bytes, first_record, first_kind;
} span;

typedef struct reader {
  girdle_call *call;
  girdle_allocator memory;
  girdle_placed *records;
  kind *kinds;
  span *spans;
  uint64_t record_count, record_capacity, kind_count, kind_capacity, span_count, span_capacity;
  uint64_t last;  /* the kind of the record before */
  int32_t status; /* of what cannot be helped by reading it as a table */
} reader;

static void release(reader *in) {
  girdle_common_release(&in->memory, in->records, in->record_capacity * sizeof *in->records);
  girdle_common_release(&in->memory, in->kinds, in->kind_capacity * sizeof *in->kinds);
  girdle_common_release(&in->memory, in->spans, in->span_capacity * sizeof *in->spans);
}

static void begin(reader *in, girdle_call *call) {
  memset(in, 0, sizeof *in);
  in->call = call;
  in->memory = girdle_common_memory(call);
}

/* ---- zones and stones */

static int32_t open_span(reader *in, const char *name, uint64_t bytes) {
  span *added;
  for (uint64_t i = 0; i < in->span_count; i++)
    if (in->spans[i].name_bytes == bytes + 1 && memcmp(in->spans[i].name, name, (size_t)bytes) == 0)
      return girdle_common_fail(in->call, GIRDLE_SYNTAX, "zone",
                                "the zone '%.*s' goes on after another; its rows "
                                "belong together",
                                (int)bytes, name);
  GIRDLE_TRY(girdle_common_grow(in->call, &in->memory, (void **)&in->spans, &in->span_capacity, in->span_count + 1,
                                sizeof *in->spans));
  added = &in->spans[in->span_count++];
  memset(added, 0, sizeof *added);
  memcpy(added->name, name, (size_t)bytes);
  added->name[bytes] = ',';
  added->name_bytes = bytes + 1;
  added->first_record = in->record_count;
  added->first_kind = in->kind_count;
  in->last = in->kind_count;
  return GIRDLE_OK;
}

static int32_t check_across(reader *in, const girdle_stone *stone, double across_mm) {
  double known = stone->diameter_mm[GIRDLE_NOMINAL];
  if (fabs(known - across_mm) <= 1e-4) return GIRDLE_OK;
  return girdle_common_fail(in->call, GIRDLE_ARGUMENT, "diameter_mm", "%s is not as large as this row says",
                            stone->size);
}

/* Adds a stone to the open zone; `across` is its cell as it is written. */
static int32_t add_kind(reader *in, const char *name, uint64_t bytes, const char *across, uint64_t across_bytes) {
  enum { MOST_KINDS = 65535 };
  char text[CELL_MOST + 1];
  kind *added;
  if (in->kind_count - in->spans[in->span_count - 1].first_kind == MOST_KINDS)
    return girdle_common_fail(in->call, GIRDLE_LIMIT, "stone", "a zone has more than %d kinds of stone", MOST_KINDS);
  GIRDLE_TRY(girdle_common_grow(in->call, &in->memory, (void **)&in->kinds, &in->kind_capacity, in->kind_count + 1,
                                sizeof *in->kinds));
  added = &in->kinds[in->kind_count];
  memset(added, 0, sizeof *added);
  memcpy(text, name, (size_t)bytes);
  text[bytes] = '\0';
  GIRDLE_TRY(girdle_stone_parse(in->call, text, &added->stone));
  memcpy(added->name, name, (size_t)bytes);
  added->name[bytes] = ',';
  added->name_bytes = bytes + 1;
  if (across_bytes < sizeof added->across) {
    memcpy(added->across, across, (size_t)across_bytes);
    added->across[across_bytes] = ',';
    added->across_bytes = across_bytes + 1;
  }
  in->last = in->kind_count++;
  return GIRDLE_OK;
}

static int32_t add_record(reader *in, const girdle_placed *record) {
  if (in->record_count == in->record_capacity)
    GIRDLE_TRY(girdle_common_grow(in->call, &in->memory, (void **)&in->records, &in->record_capacity,
                                  in->record_count + 1, sizeof *in->records));
  in->records[in->record_count++] = *record;
  return GIRDLE_OK;
}

/* ---- a file as it was written */

/* A decimal of at most 15 digits up to `stop`; both its digits and its power of ten are exact doubles, so one division
 * rounds correctly (Clinger 1990). Returns what follows the stop, or NULL. */
static const char *plain_number(const char *at, char stop, double *out) {
  static const double tens[] = {1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
  int negative = *at == '-';
  const char *start = at += negative, *behind;
  uint64_t digits = 0;
  unsigned digit;
  for (; (digit = (unsigned)(unsigned char)*at - '0') < 10; at++)
    digits = digits * 10 + digit;
  behind = at;
  if (*at == '.')
    for (behind = ++at; (digit = (unsigned)(unsigned char)*at - '0') < 10; at++)
      digits = digits * 10 + digit;
  if (*at != stop || at == start || at - start > 15 || start[0] == '.') return NULL;
  *out = (double)digits;
  if (at > behind) *out /= tens[at - behind];
  if (negative) *out = -*out;
  return at + 1;
}

/* The bytes of a cell without quotes, apostrophe or outer spaces, up to a comma; 0 when it is another one. */
static uint64_t plain_cell(const char *at, const char *end, uint64_t most) {
  const char *start = at;
  if (*at == '\'' || *at == ' ' || *at == '\t') return 0;
  while (at < end && *at != ',' && *at != '"' && (unsigned char)*at >= ' ')
    at++;
  return at < end && *at == ',' && at[-1] != ' ' && (uint64_t)(at - start) <= most ? (uint64_t)(at - start) : 0;
}

/* The kind whose cell stands at `at`: mostly the one before, or the one after that, as sequences go; else `kind_count`.
 */
static uint64_t guess_kind(const reader *in, const char *at, const char *end) {
  uint64_t first = in->spans[in->span_count - 1].first_kind, count = in->kind_count - first;
  for (uint64_t tried = 0; tried < count; tried++) {
    uint64_t i = in->last + tried < in->kind_count ? in->last + tried : first + (in->last + tried - in->kind_count);
    const kind *one = &in->kinds[i];
    if ((uint64_t)(end - at) > one->name_bytes && memcmp(at, one->name, (size_t)one->name_bytes) == 0) return i;
  }
  return in->kind_count;
}

static int starts_with(const char *at, const char *end, const char *text, uint64_t bytes) {
  return (uint64_t)(end - at) > bytes && memcmp(at, text, (size_t)bytes) == 0;
}

enum { PLAIN, NOT_PLAIN, FAILED };

/* The stone's cell, its place and its diameter. */
static int read_stone(reader *in, const char **from, const char *end, girdle_placed *record) {
  const char *at = *from, *name = at, *across;
  uint64_t i = guess_kind(in, at, end),
           bytes = i < in->kind_count ? in->kinds[i].name_bytes - 1 : plain_cell(at, end, CELL_MOST);
  double across_mm;
  if (!bytes) return NOT_PLAIN;
  at = plain_number(at + bytes + 1, ',', &record->x_mm);
  if (at) at = plain_number(at, ',', &record->y_mm);
  if (!at) return NOT_PLAIN;
  across = at;
  if (i < in->kind_count && starts_with(at, end, in->kinds[i].across, in->kinds[i].across_bytes)) {
    *from = at + in->kinds[i].across_bytes;
    in->last = i;
  } else {
    if (i < in->kind_count || !(at = plain_number(at, ',', &across_mm))) return NOT_PLAIN;
    *from = at;
    if (add_kind(in, name, bytes, across, (uint64_t)(at - 1 - across))) return NOT_PLAIN;
    if (check_across(in, &in->kinds[in->last].stone, across_mm)) return NOT_PLAIN;
  }
  record->stone = (uint16_t)(in->last - in->spans[in->span_count - 1].first_kind);
  return PLAIN;
}

static int read_zone(reader *in, const char **from, const char *end) {
  const span *open = in->span_count ? &in->spans[in->span_count - 1] : NULL;
  uint64_t bytes;
  if (open && starts_with(*from, end, open->name, open->name_bytes)) {
    *from += open->name_bytes;
    return PLAIN;
  }
  bytes = plain_cell(*from, end, ZONE_MOST);
  if (!bytes || open_span(in, *from, bytes)) return NOT_PLAIN;
  *from += bytes + 1;
  return PLAIN;
}

/* One line with its end; `end` is the text's last line feed, so that no scan runs beyond. */
static int read_line(reader *in, const char **from, const char *end) {
  girdle_placed record;
  double number;
  const char *at = *from;
  memset(&record, 0, sizeof record);
  if (read_zone(in, &at, end)) return NOT_PLAIN;
  at = plain_number(at, ',', &number);
  if (!at || !(number >= 0 && number <= 65535) || number != (double)(uint16_t)number) return NOT_PLAIN;
  record.row = (uint16_t)number;
  if (read_stone(in, &at, end, &record)) return NOT_PLAIN;
  at = plain_number(at, '\n', &number);
  if (!at) return NOT_PLAIN;
  record.turn_deg = (float)number;
  *from = at;
  in->status = add_record(in, &record);
  return in->status ? FAILED : PLAIN;
}

static const char heading[] = "zone,row,stone,x_mm,y_mm,diameter_mm,turn_deg\n";

/* As many records as the file has lines, if they are all as long as the first; so memory is asked for once. */
static int32_t make_room(reader *in, const char *at, const char *end) {
  const char *line = at < end ? memchr(at, '\n', (size_t)(end - at)) : NULL;
  uint64_t lines = line ? (uint64_t)(end - at) / (uint64_t)(line + 1 - at) + 1 : 0;
  in->records = girdle_common_resize(&in->memory, NULL, 0, (lines + 1) * sizeof *in->records);
  in->record_capacity = in->records ? lines + 1 : 0;
  return in->records ? GIRDLE_OK : girdle_common_fail(in->call, GIRDLE_MEMORY, NULL, "out of memory");
}

static int read_plain(reader *in, const char *text, uint64_t bytes) {
  const char *at = text + sizeof heading - 1, *end = text + bytes;
  int done = PLAIN;
  if (bytes < sizeof heading || memcmp(text, heading, sizeof heading - 1) != 0 || end[-1] != '\n') return NOT_PLAIN;
  in->status = make_room(in, at, end);
  for (uint64_t lines = 0; at < end && !done; lines++) {
    if (lines % 4096 == 4095) in->status = girdle_common_tick(in->call, 4096, -1);
    done = in->status ? FAILED : read_line(in, &at, end);
  }
  return done;
}

/* ---- any table */

static int take_number(girdle_rows *rows, const char *column, double *out) {
  const char *cell = girdle_rows_cell(rows, column);
  return girdle_rows_check(rows, column, girdle_number_parse(rows->call, cell, strlen(cell), out));
}

static int take_zone(reader *in, girdle_rows *rows) {
  const span *open = in->span_count ? &in->spans[in->span_count - 1] : NULL;
  char name[ZONE_MOST + 1];
  uint64_t bytes;
  if (!girdle_rows_text(rows, "zone", name, sizeof name, 1)) return 0;
  bytes = strlen(name);
  if (open && open->name_bytes == bytes + 1 && memcmp(open->name, name, (size_t)bytes) == 0) return 1;
  return girdle_rows_check(rows, "zone", open_span(in, name, bytes));
}

static int take_stone(reader *in, girdle_rows *rows, girdle_placed *record) {
  char name[CELL_MOST + 1], cell[CELL_MOST + 2];
  uint64_t bytes;
  double across_mm;
  if (!girdle_rows_text(rows, "stone", name, sizeof name, 1) || !take_number(rows, "diameter_mm", &across_mm)) return 0;
  bytes = strlen(name);
  memcpy(cell, name, (size_t)bytes);
  memcpy(cell + bytes, ",", 2);
  in->last = guess_kind(in, cell, cell + bytes + 2);
  if (in->last == in->kind_count) {
    in->last = in->spans[in->span_count - 1].first_kind;
    if (!girdle_rows_check(rows, "stone", add_kind(in, name, bytes, "", 0))) return 0;
  }
  if (!girdle_rows_check(rows, "diameter_mm", check_across(in, &in->kinds[in->last].stone, across_mm))) return 0;
  record->stone = (uint16_t)(in->last - in->spans[in->span_count - 1].first_kind);
  return 1;
}

static void take_row(reader *in, girdle_rows *rows) {
  girdle_placed record;
  int64_t row = 0;
  double turn_deg = 0;
  memset(&record, 0, sizeof record);
  if (!take_zone(in, rows)) return;
  if (!girdle_rows_whole(rows, "row", 0, 65535, 0, &row) || !take_stone(in, rows, &record)) return;
  if (!take_number(rows, "x_mm", &record.x_mm) || !take_number(rows, "y_mm", &record.y_mm)) return;
  if (*girdle_rows_cell(rows, "turn_deg") && !take_number(rows, "turn_deg", &turn_deg)) return;
  record.row = (uint16_t)row;
  record.turn_deg = (float)turn_deg;
  girdle_rows_check(rows, "zone", add_record(in, &record));
}

static int32_t read_table(reader *in, const char *source, const char *text, uint64_t bytes) {
  girdle_table *table;
  girdle_rows rows;
  GIRDLE_TRY(girdle_table_read(in->call, source, text, bytes, &table));
  girdle_rows_begin(&rows, in->call, source, table);
  girdle_rows_headings(&rows, columns, COLUMNS, COLUMNS - 1, 0);
  for (; rows.row < girdle_table_rows(table) && !rows.stop; rows.row++)
    take_row(in, &rows);
  girdle_table_free(table);
  return girdle_faults_end(&rows.faults);
}

/* ---- zones of a job */

static int32_t add_zone(reader *in, uint64_t index, girdle_job *job) {
  const span *of = &in->spans[index], *next = index + 1 < in->span_count ? of + 1 : NULL;
  uint64_t count = (next ? next->first_record : in->record_count) - of->first_record;
  uint64_t kinds = (next ? next->first_kind : in->kind_count) - of->first_kind;
  girdle_stone *stones = girdle_common_new(in->call, (kinds + 1) * sizeof *stones);
  girdle_placement *placement = NULL;
  girdle_zone zone;
  int32_t status = stones ? GIRDLE_OK : GIRDLE_MEMORY;
  for (uint64_t i = 0; i < kinds && !status; i++)
    stones[i] = in->kinds[of->first_kind + i].stone;
  if (!status)
    status = girdle_placement_new(in->call, stones, (uint32_t)kinds, in->records + of->first_record, count, &placement);
  if (stones) girdle_common_release(&in->memory, stones, (kinds + 1) * sizeof *stones);
  girdle_zone_init(&zone, sizeof zone);
  memcpy(zone.name, of->name, (size_t)of->name_bytes - 1);
  zone.placement = placement;
  if (!status) status = girdle_job_add_zone(in->call, job, &zone);
  girdle_placement_free(placement);
  return status;
}

int32_t girdle_paper_read_placements(girdle_call *call, const char *source, const char *text, uint64_t bytes,
                                     girdle_job *job) {
  GIRDLE_GIVEN(call, text || !bytes, job);
  reader in;
  int32_t status;
  begin(&in, call);
  if (read_plain(&in, text, bytes) == NOT_PLAIN) {
    release(&in);
    begin(&in, call);
    in.status = read_table(&in, source, text, bytes);
  }
  status = in.status;
  for (uint64_t i = 0; i < in.span_count && !status; i++)
    status = add_zone(&in, i, job);
  release(&in);
  return status;
}
