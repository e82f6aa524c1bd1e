/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "learn.h"

#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include "common.h"
#include "paper/paper_internal.h"

/* The one place where an existing club's folder is changed. The folder itself is locked meanwhile (the system lets go
 * of that lock when a run is killed); a table is written aside, and takes the old one's place when it is whole; the old
 * one stays as a .bak. */

enum { TABLE_BYTES = 256 << 20 };

/* One table of the folder, as it is and as it will be. */
typedef struct change {
  char path[COMMAND_PATH], aside[COMMAND_PATH + 8], backup[COMMAND_PATH + 8];
  buffer before, after;
  girdle_table *table;  /* NULL when the file is not there */
  const char *headings; /* of a new file */
  const char *line_end;
  char separator;
  int is_placed;
} change;

/* ---- files */

static int32_t write_whole(program *with, const char *path, const buffer *from) {
  const int file = open(path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
  uint64_t done = 0;
  int good = file >= 0;
  while (good && done < from->count) {
    const ssize_t wrote = write(file, from->bytes + done, from->count - done);
    good = wrote > 0;
    done += good ? (uint64_t)wrote : 0;
  }
  good = good && fsync(file) == 0;
  if (file >= 0) good &= close(file) == 0;
  return good ? GIRDLE_OK : command_disk(with, path, "write");
}

static int32_t put_in_place(program *with, const char *aside, const char *path) {
  return rename(aside, path) == 0 ? GIRDLE_OK : command_disk(with, path, "replace");
}

/* ---- tables as text */

/* The character that stands between the cells of the first line, and the line's ending. */
static void look_at_style(change *of) {
  const char *line = of->before.bytes ? of->before.bytes : "";
  const size_t length = strcspn(line, "\n");
  of->separator = ',';
  if (!memchr(line, ',', length))
    of->separator = memchr(line, ';', length) ? ';' : memchr(line, '\t', length) ? '\t' : ',';
  of->line_end = length && line[length] == '\n' && line[length - 1] == '\r' ? "\r\n" : "\n";
}

static int32_t open_change(program *with, const char *club_path, const char *name, const char *headings, change *out) {
  memset(out, 0, sizeof *out);
  out->headings = headings;
  GIRDLE_TRY(file_join(with, club_path, name, out->path, sizeof out->path));
  snprintf(out->aside, sizeof out->aside, "%s.new", out->path);
  snprintf(out->backup, sizeof out->backup, "%s.bak", out->path);
  if (file_exists(out->path)) {
    GIRDLE_TRY(file_read(with, out->path, TABLE_BYTES, &out->before));
    GIRDLE_TRY(girdle_table_read(&with->call, out->path, out->before.bytes, out->before.count, &out->table));
  }
  look_at_style(out);
  return GIRDLE_OK;
}

static void close_change(change *of) {
  girdle_table_free(of->table);
  buffer_free(&of->before);
  buffer_free(&of->after);
}

/* Writes the old one's copy and the new one aside. */
static int32_t prepare(program *with, const change *of) {
  if (of->before.count) {
    GIRDLE_TRY(write_whole(with, of->aside, &of->before));
    GIRDLE_TRY(put_in_place(with, of->aside, of->backup));
  }
  return write_whole(with, of->aside, &of->after);
}

/* As papers write a cell: what a spreadsheet would take for a formula is defused, and reading takes that off. */
static void write_cell(change *of, const char *text) {
  const girdle_sink sink = buffer_sink(&of->after);
  girdle_writer cell;
  girdle_writer_begin(&cell, NULL, &sink);
  girdle_write_cell(&cell, text);
  girdle_writer_end(&cell); /* a buffer takes all */
}

/* A row whose cells are told by the heading of their column. */
static void write_row(change *of, void (*tell)(const void *row, const char *heading, char *out, uint64_t bytes),
                      const void *row) {
  char text[256], heading[64];
  const char *names = of->headings;
  for (uint64_t c = 0; of->table ? c < girdle_table_columns(of->table) : *names != '\0'; c++) {
    const size_t length = strcspn(names, ",");
    if (!of->table) snprintf(heading, sizeof heading, "%.*s", (int)length, names);
    names += length + (names[length] == ',');
    if (c) buffer_add(&of->after, &of->separator, 1);
    tell(row, of->table ? girdle_table_heading(of->table, c) : heading, text, sizeof text);
    write_cell(of, text);
  }
  buffer_text(&of->after, "%s", of->line_end);
}

/* The old rows as they are, the last one ended. */
static void copy_before(change *of) {
  if (!of->table) {
    buffer_text(&of->after, "%s%s", of->headings, of->line_end);
    return;
  }
  buffer_add(&of->after, of->before.bytes, of->before.count);
  if (of->before.count && of->before.bytes[of->before.count - 1] != '\n') buffer_text(&of->after, "%s", of->line_end);
}

/* ---- log.csv */

typedef struct logged {
  const girdle_log_row *row;
  const char *stone;
} logged;

static void whole(int64_t value, char *out, uint64_t bytes) {
  snprintf(out, bytes, "%lld", (long long)value);
}

static void tell_logged(const void *of, const char *heading, char *out, uint64_t bytes) {
  const logged *at = of;
  const girdle_log_row *row = at->row;
  const struct {
    const char *heading;
    int64_t pieces;
  } counts[] = {{"planned", row->planned}, {"used", row->used}, {"lost", row->lost}, {"fell_off", row->fell_off}};
  *out = '\0';
  if (strcmp(heading, "date") == 0) girdle_date_text(row->day, out, bytes);
  if (strcmp(heading, "tag") == 0) girdle_common_text(out, bytes, row->tag);
  if (strcmp(heading, "stone") == 0) girdle_common_text(out, bytes, at->stone);
  if (strcmp(heading, "minutes") == 0 && !isnan(row->minutes)) girdle_number_text(row->minutes, 1, out, bytes);
  for (size_t i = 0; i < sizeof counts / sizeof counts[0]; i++)
    if (strcmp(heading, counts[i].heading) == 0 && counts[i].pieces >= 0) whole(counts[i].pieces, out, bytes);
}

static const char *cell_of(const girdle_table *table, uint64_t row, const char *heading) {
  const int64_t column = girdle_table_column(table, heading);
  return column < 0 ? "" : girdle_table_cell(table, row, (uint64_t)column);
}

/* Whether the log has a row of this date, tag and stone. */
static int is_logged(const girdle_table *table, const logged *of) {
  char day[24];
  girdle_date_text(of->row->day, day, sizeof day);
  for (uint64_t r = 0; table && r < girdle_table_rows(table); r++)
    if (strcmp(cell_of(table, r, "date"), day) == 0 && strcmp(cell_of(table, r, "tag"), of->row->tag) == 0 &&
        strcmp(cell_of(table, r, "stone"), of->stone) == 0)
      return 1;
  return 0;
}

static uint64_t append_log(change *log, const lesson *of) {
  uint64_t added = 0;
  copy_before(log);
  for (uint64_t i = 0; i < of->row_count; i++) {
    const logged row = {&of->rows[i], of->stones[i]};
    if (is_logged(log->table, &row)) continue;
    write_row(log, tell_logged, &row);
    added++;
  }
  return added;
}

/* ---- stock.csv */

static void tell_leftover(const void *of, const char *heading, char *out, uint64_t bytes) {
  const leftover *at = of;
  *out = '\0';
  if (strcmp(heading, "stone") == 0) girdle_common_text(out, bytes, at->name);
  if (strcmp(heading, "on_hand") == 0) whole(at->left, out, bytes);
  if (strcmp(heading, "lot") == 0) girdle_common_text(out, bytes, at->lot);
}

/* A row of the table from which so many pieces were taken. */
typedef struct old_row {
  const girdle_table *table;
  uint64_t row;
  const girdle_stock_row *before;
  int64_t pieces; /* that are left */
} old_row;

/* What lies there by weight stays so, less what the pieces that were taken weigh: by the twenty that were counted, else
 * nominally. Its number is guessed by the heaviest stone whenever it is read, so to write that down would lose some. */
static int grams_left(const old_row *at, char *out, uint64_t bytes) {
  const char *twenty = cell_of(at->table, at->row, "twenty");
  double mg, each = at->before->stone.mass_mg[GIRDLE_NOMINAL], twenty_mg;
  char grams[32];
  if (girdle_quantity_parse(NULL, cell_of(at->table, at->row, "on_hand"), GIRDLE_MASS, &mg)) return 0;
  if (*twenty && !girdle_quantity_parse(NULL, twenty, GIRDLE_MASS, &twenty_mg)) each = twenty_mg / 20;
  mg = fmax(mg - each * (double)(at->before->pieces - at->pieces), 0);
  girdle_number_text(at->pieces > 0 ? mg / 1000 : 0, 2, grams, sizeof grams);
  snprintf(out, bytes, "%s g", grams);
  return 1;
}

static void tell_old(const void *of, const char *heading, char *out, uint64_t bytes) {
  const old_row *at = of;
  girdle_common_text(out, bytes, cell_of(at->table, at->row, heading));
  if (strcmp(heading, "on_hand") == 0 && !grams_left(at, out, bytes)) whole(at->pieces, out, bytes);
}

/* Whether what is left of this card stands in the stock already: its lot bears the job's name and day. */
static int is_stocked(const girdle_stock_row *rows, uint64_t count, const leftover *of) {
  for (uint64_t i = 0; i < count; i++)
    if (strcmp(rows[i].lot, of->lot) == 0 && girdle_stone_equal(&rows[i].stone, &of->stone)) return 1;
  return 0;
}

/* Takes what the card had out of the rows of its stone, first row first. */
static void take_out(int64_t *pieces, const girdle_stock_row *rows, uint64_t count, const leftover *of) {
  int64_t had = of->had;
  for (uint64_t i = 0; i < count && had > 0; i++) {
    const int64_t taken = pieces[i] < had ? pieces[i] : had;
    if (!girdle_stone_equal(&rows[i].stone, &of->stone)) continue;
    pieces[i] -= taken;
    had -= taken;
  }
}

/* The row of a named lot that holds all of what the card had, when nothing was bought beside it: then what is left is
 * of that lot still, and stays in its row. -1: there is none. */
static int64_t lot_of(const int64_t *pieces, const girdle_stock_row *rows, uint64_t count, const leftover *of) {
  if (of->bought || !of->had) return -1;
  for (uint64_t i = 0; i < count; i++)
    if (pieces[i] > 0 && girdle_stone_equal(&rows[i].stone, &of->stone))
      return rows[i].lot[0] && pieces[i] >= of->had ? (int64_t)i : -1;
  return -1;
}

/* A run that was cut off after the stock took its place and before the log did: the log it had ready is there, whole,
 * and the stock it had ready is not. */
static int is_half_done(program *with, const change *log, const change *stock) {
  buffer ready = {0};
  int same;
  if (!file_exists(log->aside) || file_exists(stock->aside) || file_read(with, log->aside, TABLE_BYTES, &ready))
    return 0;
  same = ready.count == log->after.count && memcmp(ready.bytes, log->after.bytes, ready.count) == 0;
  buffer_free(&ready);
  return same;
}

static int is_blank(const char *line, const char *next) {
  while (line < next && (*line == '\r' || *line == '\n'))
    line++;
  return line == next;
}

/* The lines of the table as they are, but for rows of which something was taken. A row may go over several lines. */
static void copy_stock(change *stock, const girdle_stock_row *rows, const int64_t *pieces) {
  const char *line = stock->before.bytes, *end = line + stock->before.count;
  const uint64_t count = girdle_table_rows(stock->table);
  int rewritten = 0;
  uint64_t row = 0;
  for (int32_t number = 1; line < end; number++) {
    const char *stop = memchr(line, '\n', (size_t)(end - line)), *next = stop ? stop + 1 : end;
    const int begins = row < count && girdle_table_line(stock->table, row) == number;
    if (begins) rewritten = pieces[row] != rows[row].pieces;
    if (begins && rewritten) write_row(stock, tell_old, &(old_row){stock->table, row, &rows[row], pieces[row]});
    if (!rewritten || (!begins && is_blank(line, next))) buffer_add(&stock->after, line, (uint64_t)(next - line));
    if (!rewritten && !stop) buffer_text(&stock->after, "%s", stock->line_end);
    row += (uint64_t)begins;
    line = next;
  }
}

/* Takes what the card had out of its rows; made[i]: what is left of leftover i makes a row of its own. What stays in
 * the row of its lot leaves no other trace there, so the log tells whether it was taken already. Returns how many rows
 * of lots were changed. */
static uint64_t take_all(program *with, int64_t *pieces, const girdle_stock_row *rows, uint64_t count, const lesson *of,
                         const change *log, const change *stock, char *made) {
  const int half_done = is_half_done(with, log, stock);
  uint64_t changed = 0;
  for (uint64_t i = 0; i < of->leftover_count; i++) {
    const leftover *each = &of->leftovers[i];
    const int64_t lot = lot_of(pieces, rows, count, each);
    if (is_stocked(rows, count, each)) continue;
    if (!each->bought && (half_done || is_logged(log->table, &(logged){&of->rows[i], of->stones[i]}))) continue;
    made[i] = lot < 0;
    if (lot < 0) {
      take_out(pieces, rows, count, each);
    } else {
      pieces[lot] -= each->had - each->left;
      changed += each->had > each->left;
    }
  }
  return changed;
}

/* Takes out what the card had; what is left of several lots, or was bought, is a lot of its own. */
static uint64_t change_stock(program *with, change *stock, const change *log, const girdle_stock_row *rows,
                             uint64_t count, const lesson *of) {
  int64_t *pieces = command_new((count + 1) * sizeof *pieces);
  char *made = command_new(of->leftover_count + 1);
  uint64_t added;
  for (uint64_t i = 0; i < count; i++)
    pieces[i] = rows[i].pieces;
  added = take_all(with, pieces, rows, count, of, log, stock, made);
  if (stock->table)
    copy_stock(stock, rows, pieces);
  else
    copy_before(stock);
  for (uint64_t i = 0; i < of->leftover_count; i++) {
    if (!made[i]) continue;
    write_row(stock, tell_leftover, &of->leftovers[i]);
    added++;
  }
  free(pieces);
  free(made);
  return added;
}

/* ---- both */

static void say_written(const program *with, uint64_t added, uint64_t stocked) {
  char more[64], kept[64];
  buffer words = {0};
  buffer_say(&words, with,
             added == 1 ? "log.csv: {1} row more; stock.csv: {2}" : "log.csv: {1} rows more; stock.csv: {2}",
             number_words(with, (double)added, 0, more), number_words(with, (double)stocked, 0, kept));
  command_say(with, "%s", words.bytes);
  buffer_free(&words);
}

static int32_t change_both(program *with, const char *club_path, const lesson *of, const girdle_club *club, change *log,
                           change *stock) {
  uint64_t count, added, stocked = 0;
  const girdle_stock_row *rows = girdle_club_stock(club, &count);
  GIRDLE_TRY(open_change(with, club_path, "log.csv", "date,tag,zone,stone,planned,used,lost,fell_off,minutes", log));
  added = append_log(log, of);
  if (of->leftover_count) {
    GIRDLE_TRY(open_change(with, club_path, "stock.csv", "stone,on_hand,lot", stock));
    if (stock->table && girdle_table_column(stock->table, "lot") < 0)
      return girdle_common_fail(
          &with->call, GIRDLE_ARGUMENT, "lot",
          "stock.csv has no column 'lot'; give it one, so that what is left can bear the job's name");
    stocked = change_stock(with, stock, log, rows, count, of);
  }
  if (!added && !stocked)
    return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "write",
                              "log.csv has rows of this date, tag and stone already");
  if (stocked) GIRDLE_TRY(prepare(with, stock));
  if (added) GIRDLE_TRY(prepare(with, log));
  if (stocked) GIRDLE_TRY(put_in_place(with, stock->aside, stock->path));
  if (stocked) stock->is_placed = 1;
  if (added) GIRDLE_TRY(put_in_place(with, log->aside, log->path));
  say_written(with, added, stocked);
  return GIRDLE_OK;
}

int32_t lesson_write(program *with, const char *club_path, const lesson *of) {
  change log = {.table = NULL}, stock = {.table = NULL};
  girdle_club *club = NULL;
  const int lock = open(club_path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  int32_t status = lock >= 0 && flock(lock, LOCK_EX) == 0 ? GIRDLE_OK : command_disk(with, club_path, "lock");
  if (!status) status = work_tables(with, club_path, &club); /* as they are now that nobody else writes */
  if (!status) status = change_both(with, club_path, of, club, &log, &stock);
  if (status && log.aside[0] && !stock.is_placed) unlink(log.aside);
  if (status && stock.aside[0]) unlink(stock.aside);
  girdle_club_free(club);
  close_change(&log);
  close_change(&stock);
  if (lock >= 0) close(lock); /* and with it the lock */
  return status;
}
