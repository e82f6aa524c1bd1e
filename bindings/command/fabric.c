/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "rings.h"

/* fabric.csv, beside a zones.csv: how the fabric lies while it is glued, how it is worn, how far it stretches at most,
 * what it weighs, and how far it is round what must pass through its rings of stones. One row each, all of them
 * optional:
 *
 *   fabric,value
 *   lies across,10 %
 *   stretches,60 % */

enum { TABLE_BYTES = 64 * 1024 };

typedef struct quality {
  const char *name;
  int32_t kind;
  double least, most;
  const char *unit;
} quality;

enum { MASS, LIES_ACROSS, LIES_ALONG, WORN_ACROSS, WORN_ALONG, STRETCHES, ROUND, QUALITIES = ROUND + GIRTHS };

/* The limits of girdle_job_set_fabric and girdle_opening_try. */
static const quality qualities[QUALITIES] = {
    {"mass", GIRDLE_AREAL_MASS, 1, 1e5, "g/m2"}, {"lies across", GIRDLE_SHARE, -0.5, 4, ""},
    {"lies along", GIRDLE_SHARE, -0.5, 4, ""},   {"worn across", GIRDLE_SHARE, -0.5, 4, ""},
    {"worn along", GIRDLE_SHARE, -0.5, 4, ""},   {"stretches", GIRDLE_SHARE, 0, 4, ""},
    {"head", GIRDLE_LENGTH, 1, 1e5, "mm"},       {"hand", GIRDLE_LENGTH, 1, 1e5, "mm"},
    {"hips", GIRDLE_LENGTH, 1, 1e5, "mm"},       {"foot", GIRDLE_LENGTH, 1, 1e5, "mm"},
};

typedef struct reading {
  program *with;
  const char *path;
  const girdle_table *table;
  double values[QUALITIES];
  int32_t lines[QUALITIES]; /* where each was given; 0: not */
} reading;

static int32_t which_quality(program *with, const char *name, int *out) {
  const char *known[QUALITIES];
  for (*out = 0; *out < QUALITIES; ++*out) {
    if (strcmp(qualities[*out].name, name) == 0) return GIRDLE_OK;
    known[*out] = qualities[*out].name;
  }
  return girdle_common_unknown(&with->call, "fabric", name, known, QUALITIES);
}

static int32_t read_row(reading *in, uint64_t row, int64_t name_column, int64_t value_column) {
  girdle_call *call = &in->with->call;
  const char *name = girdle_table_cell(in->table, row, (uint64_t)name_column);
  int which;
  GIRDLE_TRY(which_quality(in->with, name, &which));
  if (in->lines[which])
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "fabric", "'%s' is given twice; line %d has it", name,
                              (int)in->lines[which]);
  in->lines[which] = girdle_table_line(in->table, row);
  GIRDLE_TRY(girdle_quantity_parse(call, girdle_table_cell(in->table, row, (uint64_t)value_column),
                                   qualities[which].kind, &in->values[which]));
  return girdle_common_range(call, name, in->values[which], qualities[which].least, qualities[which].most,
                             qualities[which].unit);
}

/* Every row is looked at, so that all faults are said at once. */
static int32_t read_rows(reading *in) {
  int64_t name = girdle_table_column(in->table, "fabric"), value = girdle_table_column(in->table, "value");
  int32_t first = GIRDLE_OK;
  if (name < 0 || value < 0) {
    girdle_common_fail(&in->with->call, GIRDLE_UNKNOWN, "fabric", "the columns are fabric and value");
    girdle_common_at(&in->with->call, in->path, 1, -1, -1);
    return GIRDLE_UNKNOWN;
  }
  for (uint64_t row = 0; row < girdle_table_rows(in->table); row++) {
    int32_t status = read_row(in, row, name, value);
    if (status) girdle_common_at(&in->with->call, in->path, girdle_table_line(in->table, row), -1, -1);
    command_fault(in->with, status);
    if (!first) first = status;
  }
  return first;
}

static void take(const reading *in, costume *to) {
  const double *values = in->values;
  to->fabric = (girdle_fabric){NAN, values[LIES_ACROSS], values[LIES_ALONG], NAN, NAN};
  if (in->lines[MASS]) to->fabric.mass_g_m2 = values[MASS];
  if (in->lines[WORN_ACROSS]) to->fabric.worn_across = values[WORN_ACROSS];
  if (in->lines[WORN_ALONG]) to->fabric.worn_along = values[WORN_ALONG];
  to->stretch_most = in->lines[STRETCHES] ? values[STRETCHES] : NAN;
  for (int at = 0; at < GIRTHS; at++)
    to->girth_mm[at] = in->lines[ROUND + at] ? values[ROUND + at] : NAN;
  to->has_fabric = 1;
}

int32_t fabric_read(program *with, const char *path, costume *to) {
  reading in = {with, path, NULL, {0}, {0}};
  girdle_table *table = NULL;
  buffer text = {0};
  int32_t status;
  GIRDLE_TRY(file_read(with, path, TABLE_BYTES, &text));
  status = girdle_table_read(&with->call, path, text.bytes, text.count, &table);
  in.table = table;
  if (!status) status = read_rows(&in);
  if (!status) take(&in, to);
  girdle_table_free(table);
  buffer_free(&text);
  return status;
}
