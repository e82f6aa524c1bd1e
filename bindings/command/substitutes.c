/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "command.h"
#include "common.h"

/* substitutes.csv, in a club's folder: a stone that cannot be had, and what is taken instead by every costume of a
 * routine, or, with no routine, of the club; never by one costume alone, since they stand side by side.
 *
 *   routine,stone,instead
 *   Hearth,ss20 red,ss20 orange */

enum { TABLE_BYTES = 1 << 20 };

typedef struct substitutes {
  program *with;
  const girdle_club *club;
  const girdle_table *table;
  const char *path;
} substitutes;

static const char *cell(const substitutes *in, uint64_t row, const char *column) {
  int64_t at = girdle_table_column(in->table, column);
  return at < 0 ? "" : girdle_table_cell(in->table, row, (uint64_t)at);
}

static int is_of(const girdle_job *job, const char *routine) {
  return !*routine || strcmp(girdle_job_head_of(job)->routine, routine) == 0;
}

static int32_t check_routine(substitutes *in, const char *routine) {
  const char *known[64];
  uint64_t count = 0;
  for (uint64_t at = 0; at < girdle_club_jobs(in->club); at++) {
    const girdle_job *job = girdle_club_job(in->club, at);
    if (is_of(job, routine)) return GIRDLE_OK;
    if (count < 64) known[count++] = girdle_job_head_of(job)->routine;
  }
  return girdle_common_unknown(&in->with->call, "routine", routine, known, count);
}

/* The jobs that are worked take it; that of others is looked at as well. */
static int32_t take_row(substitutes *in, uint64_t row) {
  girdle_call *call = &in->with->call;
  const char *routine = cell(in, row, "routine");
  girdle_stone stone, instead;
  int64_t pieces = 0, more;
  uint64_t idle = 0, count;
  GIRDLE_TRY(check_routine(in, routine));
  GIRDLE_TRY(girdle_stone_parse(call, cell(in, row, "stone"), &stone));
  GIRDLE_TRY(girdle_stone_parse(call, cell(in, row, "instead"), &instead));
  for (uint64_t at = 0; at < girdle_club_jobs(in->club); at++) {
    girdle_job *job = girdle_club_job(in->club, at);
    if (!is_of(job, routine)) continue;
    GIRDLE_TRY(girdle_job_substitute(call, job, &stone, &instead, &more));
    girdle_job_zones(job, &count);
    idle += count == 0;
    pieces += more;
  }
  if (!idle && !pieces)
    command_say(in->with, "girdle: %s:%d: nobody wears %s, so nothing is taken instead", in->path,
                (int)girdle_table_line(in->table, row), cell(in, row, "stone"));
  return GIRDLE_OK;
}

static int32_t take_rows(substitutes *in) {
  int32_t first = GIRDLE_OK;
  if (girdle_table_column(in->table, "stone") < 0 || girdle_table_column(in->table, "instead") < 0) {
    girdle_common_fail(&in->with->call, GIRDLE_UNKNOWN, "stone", "the columns are routine, stone and instead");
    girdle_common_at(&in->with->call, in->path, 1, -1, -1);
    return GIRDLE_UNKNOWN;
  }
  for (uint64_t row = 0; row < girdle_table_rows(in->table); row++) {
    int32_t status = take_row(in, row);
    if (status) girdle_common_at(&in->with->call, in->path, girdle_table_line(in->table, row), -1, -1);
    command_fault(in->with, status);
    if (!first) first = status;
  }
  return first;
}

int32_t substitutes_take(program *with, const char *folder_path, const girdle_club *club) {
  char path[COMMAND_PATH];
  buffer text = {0};
  girdle_table *table = NULL;
  substitutes in = {with, club, NULL, path};
  int32_t status;
  GIRDLE_TRY(file_join(with, folder_path, "substitutes.csv", path, sizeof path));
  if (!file_exists(path)) return GIRDLE_OK;
  GIRDLE_TRY(file_read(with, path, TABLE_BYTES, &text));
  status = girdle_table_read(&with->call, path, text.bytes, text.count, &table);
  in.table = table;
  if (!status) status = take_rows(&in);
  girdle_table_free(table);
  buffer_free(&text);
  return status;
}

/* ---- what could be taken, where an order lacks a stone */

static void order_options(const girdle_club *club, const girdle_reckoning *of, girdle_order_options *out) {
  girdle_order_options_init(out, sizeof *out);
  out->lost_share = girdle_reckoning_learned(of)->lost_share;
  out->prices = girdle_club_prices(club, &out->price_count);
  out->suppliers = girdle_club_suppliers(club, &out->supplier_count);
  out->stock = girdle_club_stock(club, &out->stock_count);
}

static void say_one(const girdle_stone *lacking, const girdle_substitute *of, buffer *to) {
  char was[160], is[160];
  girdle_stone_text(lacking, was, sizeof was);
  girdle_stone_text(&of->stone, is, sizeof is);
  buffer_text(to, "  %s: %s could stand in, from %s\n", was, is, of->supplier);
}

/* Those of its size alone, which can be taken without placing anew. */
int32_t substitutes_say(program *with, const girdle_club *club, const girdle_reckoning *of) {
  enum { SHOWN = 8 };
  girdle_order_options options;
  uint64_t count, found, said = 0;
  const girdle_order *order = girdle_reckoning_order(of);
  const girdle_order_stone *stones = girdle_order_stones(order, &count);
  order_options(club, of, &options);
  for (uint64_t at = 0; at < count; at++) {
    girdle_substitute all[SHOWN];
    if (!stones[at].unpriced) continue;
    GIRDLE_TRY(girdle_order_substitutes(&with->call, order, at, &options, all, SHOWN, &found));
    for (uint64_t each = 0; each < found && each < SHOWN; each++) {
      if (all[each].kind == GIRDLE_OTHER_SIZE) continue;
      if (!said++)
        buffer_text(&with->result,
                    "\nWhat is taken instead goes into substitutes.csv (routine, stone, instead), for all "
                    "of a routine or for none:\n");
      say_one(&stones[at].stone, &all[each], &with->result);
    }
  }
  return GIRDLE_OK;
}
