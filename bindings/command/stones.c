/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <stdlib.h>
#include <string.h>

#include "command.h"
#include "common.h"

/* stones.csv, in a club's folder or beside a zones.csv: sizes of one's own, by a caliper, whose names then stand
 * wherever a stone is written. Least and most may be left out. What a gross of them weighs stands in rates.csv, as of
 * all stones.
 *
 *   size,across,least,most
 *   house20,4.9 mm,4.8 mm,5.0 mm */

enum { TABLE_BYTES = 1 << 20, MOST_SIZES = 1000 };

typedef struct own_sizes {
  program *with;
  const char *path;
  const girdle_table *table;
} own_sizes;

static const char *cell(const own_sizes *in, uint64_t row, const char *column) {
  int64_t at = girdle_table_column(in->table, column);
  return at < 0 ? "" : girdle_table_cell(in->table, row, (uint64_t)at);
}

static int32_t read_across(own_sizes *in, uint64_t row, const char *column, double fallback, double *out) {
  const char *text = cell(in, row, column);
  *out = fallback;
  if (!*text && fallback > 0) return GIRDLE_OK;
  GIRDLE_TRY(girdle_quantity_parse(&in->with->call, text, GIRDLE_LENGTH, out));
  return girdle_common_range(&in->with->call, column, *out, 0.5, 100, "mm");
}

/* A name of the charts would be another stone than everyone means by it. */
static int32_t check_name(own_sizes *in, const char *name) {
  girdle_size known;
  if (!*name) return girdle_common_fail(&in->with->call, GIRDLE_SYNTAX, "size", "'size' is empty");
  if (girdle_size_parse(NULL, name, &known) != GIRDLE_OK) return GIRDLE_OK;
  return girdle_common_fail(&in->with->call, GIRDLE_ARGUMENT, "size",
                            "'%.40s' is a size already; give yours another name, like house20", name);
}

static int32_t read_size(own_sizes *in, uint64_t row, girdle_size *out) {
  const char *name = cell(in, row, "size");
  double *across = out->diameter_mm;
  memset(out, 0, sizeof *out);
  GIRDLE_TRY(check_name(in, name));
  if (!girdle_common_text(out->name, sizeof out->name, name))
    return girdle_common_fail(&in->with->call, GIRDLE_LIMIT, "size", "'%.40s' has more than %d bytes", name,
                              (int)sizeof out->name - 1);
  out->certainty = GIRDLE_OWN_SIZE;
  GIRDLE_TRY(read_across(in, row, "across", 0, &across[GIRDLE_NOMINAL]));
  GIRDLE_TRY(read_across(in, row, "least", across[GIRDLE_NOMINAL], &across[GIRDLE_LEAST]));
  GIRDLE_TRY(read_across(in, row, "most", across[GIRDLE_NOMINAL], &across[GIRDLE_MOST]));
  if (across[GIRDLE_LEAST] <= across[GIRDLE_NOMINAL] && across[GIRDLE_NOMINAL] <= across[GIRDLE_MOST]) return GIRDLE_OK;
  return girdle_common_fail(&in->with->call, GIRDLE_ARGUMENT, "across", "%s: across must lie between least and most",
                            out->name);
}

static int32_t read_rows(own_sizes *in, girdle_size *sizes) {
  int32_t first = GIRDLE_OK;
  for (uint64_t row = 0; row < girdle_table_rows(in->table); row++) {
    int32_t status = read_size(in, row, &sizes[row]);
    for (uint64_t before = 0; before < row && !status; before++)
      if (strcmp(sizes[before].name, sizes[row].name) == 0)
        status = girdle_common_fail(&in->with->call, GIRDLE_ARGUMENT, "size", "the size '%s' is given twice",
                                    sizes[row].name);
    if (status) girdle_common_at(&in->with->call, in->path, girdle_table_line(in->table, row), -1, -1);
    command_fault(in->with, status);
    if (!first) first = status;
  }
  return first;
}

static int32_t take_table(own_sizes *in) {
  program *with = in->with;
  uint64_t rows = girdle_table_rows(in->table);
  girdle_size *sizes;
  if (girdle_table_column(in->table, "size") < 0 || girdle_table_column(in->table, "across") < 0 || rows > MOST_SIZES) {
    girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "size",
                       "the columns are size, across, least and most, with at most %d rows", MOST_SIZES);
    girdle_common_at(&with->call, in->path, 1, -1, -1);
    return GIRDLE_UNKNOWN;
  }
  sizes = command_new((rows + 1) * sizeof *sizes);
  stones_forget(with);
  with->own.struct_bytes = sizeof with->own;
  with->own.sizes = sizes;
  with->own.size_count = rows;
  GIRDLE_TRY(read_rows(in, sizes));
  with->call.own = &with->own;
  return GIRDLE_OK;
}

int32_t stones_read(program *with, const char *folder_path) {
  char path[COMMAND_PATH];
  buffer text = {0};
  girdle_table *table = NULL;
  own_sizes in = {with, path, NULL};
  int32_t status;
  GIRDLE_TRY(file_join(with, folder_path, "stones.csv", path, sizeof path));
  if (!file_exists(path)) return GIRDLE_OK;
  if (!file_stays_inside(folder_path, "stones.csv"))
    return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "size", "%.160s leads out of its folder and is not used",
                              path);
  GIRDLE_TRY(file_read(with, path, TABLE_BYTES, &text));
  status = girdle_table_read(&with->call, path, text.bytes, text.count, &table);
  in.table = table;
  if (!status) status = take_table(&in);
  girdle_table_free(table);
  buffer_free(&text);
  return status;
}

void stones_forget(program *with) {
  free((girdle_size *)(uintptr_t)with->own.sizes);
  memset(&with->own, 0, sizeof with->own);
  with->call.own = NULL;
}
