/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <stdlib.h>
#include <string.h>

#include "command.h"
#include "common.h"

/* stones.csv, in a club's folder or beside a zones.csv: sizes of one's own by a caliper, cuts and materials, whose
 * names then stand wherever a stone is written. Each row is one of the three. What is not known to the last digit may
 * be a range; what a gross weighs stands in rates.csv, as of all stones.
 *
 *   size,across,least,most
 *   house20,4.9 mm,4.8 mm,5.0 mm
 *
 *   cut,facets,turned,table_ratio,height_ratio,girdle_ratio
 *   low,10,yes,40 %,28 % to 32 %,5 %
 *
 *   material,density_g_cm3,lead
 *   house resin,1.25 to 1.35,none */

enum { TABLE_BYTES = 1 << 20, MOST_ROWS = 1000 };

typedef struct own_rows {
  program *with;
  const char *path;
  const girdle_table *table;
  girdle_size *sizes;
  girdle_cut *cuts;
  girdle_material *materials;
  girdle_catalogue found;
  uint64_t row;
} own_rows;

static const char *cell(const own_rows *in, const char *column) {
  int64_t at = girdle_table_column(in->table, column);
  return at < 0 ? "" : girdle_table_cell(in->table, in->row, (uint64_t)at);
}

static int32_t take_name(own_rows *in, const char *column, char *out, size_t bytes) {
  if (girdle_common_text(out, bytes, cell(in, column))) return GIRDLE_OK;
  return girdle_common_fail(&in->with->call, GIRDLE_LIMIT, column, "'%.40s' has more than %d bytes", cell(in, column),
                            (int)bytes - 1);
}

static int32_t refuse_twice(own_rows *in, const char *column, const char *name) {
  return girdle_common_fail(&in->with->call, GIRDLE_ARGUMENT, column, "the %s '%s' is given twice", column, name);
}

/* ---- sizes */

static int32_t read_across(own_rows *in, const char *column, double fallback, double *out) {
  const char *text = cell(in, column);
  *out = fallback;
  if (!*text && fallback > 0) return GIRDLE_OK;
  GIRDLE_TRY(girdle_quantity_parse(&in->with->call, text, GIRDLE_LENGTH, out));
  return girdle_common_range(&in->with->call, column, *out, 0.5, 100, "mm");
}

/* A name of the charts would be another stone than everyone means by it. */
static int32_t check_size_name(own_rows *in) {
  const char *name = cell(in, "size");
  girdle_size known;
  if (!*name) return girdle_common_fail(&in->with->call, GIRDLE_SYNTAX, "size", "'size' is empty");
  if (girdle_size_parse(NULL, name, &known) != GIRDLE_OK) return GIRDLE_OK;
  return girdle_common_fail(&in->with->call, GIRDLE_ARGUMENT, "size",
                            "'%.40s' is a size already; give yours another name, like house20", name);
}

static int32_t read_size(own_rows *in) {
  girdle_size *out = &in->sizes[in->found.size_count];
  double *across = out->diameter_mm;
  GIRDLE_TRY(check_size_name(in));
  GIRDLE_TRY(take_name(in, "size", out->name, sizeof out->name));
  out->certainty = GIRDLE_OWN_SIZE;
  GIRDLE_TRY(read_across(in, "across", 0, &across[GIRDLE_NOMINAL]));
  GIRDLE_TRY(read_across(in, "least", across[GIRDLE_NOMINAL], &across[GIRDLE_LEAST]));
  GIRDLE_TRY(read_across(in, "most", across[GIRDLE_NOMINAL], &across[GIRDLE_MOST]));
  if (!(across[GIRDLE_LEAST] <= across[GIRDLE_NOMINAL] && across[GIRDLE_NOMINAL] <= across[GIRDLE_MOST]))
    return girdle_common_fail(&in->with->call, GIRDLE_ARGUMENT, "across", "%s: across must lie between least and most",
                              out->name);
  for (uint64_t at = 0; at < in->found.size_count; at++)
    if (strcmp(in->sizes[at].name, out->name) == 0) return refuse_twice(in, "size", out->name);
  in->found.size_count++;
  return GIRDLE_OK;
}

/* ---- ranges: "40 %" or "38 % to 42 %", whose middle is nominal */

static int32_t read_bound(own_rows *in, const char *column, const char *text, size_t length, int32_t kind,
                          double *out) {
  char bound[48];
  int32_t status;
  while (length && text[length - 1] == ' ')
    length--;
  if (!length || length >= sizeof bound)
    return girdle_common_fail(&in->with->call, GIRDLE_SYNTAX, column, "%s '%.40s' must be like %s", column, text,
                              kind == GIRDLE_SHARE ? "40 % or 38 % to 42 %" : "1.3 or 1.25 to 1.35");
  memcpy(bound, text, length);
  bound[length] = '\0';
  status = girdle_quantity_parse(&in->with->call, bound, kind, out);
  if (status) girdle_common_text(in->with->error.field, sizeof in->with->error.field, column);
  return status;
}

static int32_t read_range(own_rows *in, const char *column, int32_t kind, double out[3]) {
  const char *text = cell(in, column), *to = strstr(text, " to ");
  GIRDLE_TRY(read_bound(in, column, text, to ? (size_t)(to - text) : strlen(text), kind, &out[GIRDLE_LEAST]));
  out[GIRDLE_MOST] = out[GIRDLE_LEAST];
  if (to) GIRDLE_TRY(read_bound(in, column, to + 4, strlen(to + 4), kind, &out[GIRDLE_MOST]));
  out[GIRDLE_NOMINAL] = (out[GIRDLE_LEAST] + out[GIRDLE_MOST]) / 2;
  return GIRDLE_OK;
}

static int32_t read_yes(own_rows *in, const char *column, int32_t *out) {
  const char *text = cell(in, column);
  *out = strcmp(text, "yes") == 0;
  if (*out || !*text || strcmp(text, "no") == 0) return GIRDLE_OK;
  return girdle_common_fail(&in->with->call, GIRDLE_SYNTAX, column, "%s '%.40s' must be yes or no", column, text);
}

/* ---- cuts and materials */

static int32_t read_cut(own_rows *in) {
  girdle_cut *out = &in->cuts[in->found.cut_count];
  const girdle_catalogue alone = {.struct_bytes = sizeof alone, .cuts = out, .cut_count = 1};
  int64_t facets = 0;
  GIRDLE_TRY(take_name(in, "cut", out->name, sizeof out->name));
  GIRDLE_TRY(take_name(in, "source", out->source, sizeof out->source));
  if (*cell(in, "facets")) GIRDLE_TRY(girdle_pieces_parse(&in->with->call, cell(in, "facets"), &facets));
  out->facets = (int32_t)(facets > 1000 ? 1000 : facets);
  GIRDLE_TRY(read_yes(in, "turned", &out->turned));
  GIRDLE_TRY(read_range(in, "table_ratio", GIRDLE_SHARE, out->table_ratio));
  GIRDLE_TRY(read_range(in, "height_ratio", GIRDLE_SHARE, out->height_ratio));
  GIRDLE_TRY(read_range(in, "girdle_ratio", GIRDLE_SHARE, out->girdle_ratio));
  GIRDLE_TRY(girdle_catalogue_check(&in->with->call, &alone));
  for (uint64_t at = 0; at < in->found.cut_count; at++)
    if (strcmp(in->cuts[at].name, out->name) == 0) return refuse_twice(in, "cut", out->name);
  in->found.cut_count++;
  return GIRDLE_OK;
}

/* What is not said of lead is not known. */
static int32_t read_lead(own_rows *in, int32_t *out) {
  static const char *const words[] = {"none", "unknown", "may", "yes"}; /* in the order of GIRDLE_LEAD_* */
  const char *text = cell(in, "lead");
  *out = GIRDLE_LEAD_UNKNOWN;
  if (!*text) return GIRDLE_OK;
  for (*out = GIRDLE_LEAD_NONE; *out <= GIRDLE_LEAD_YES; ++*out)
    if (strcmp(text, words[*out]) == 0) return GIRDLE_OK;
  return girdle_common_unknown(&in->with->call, "lead", text, words, 4);
}

static int32_t read_material(own_rows *in) {
  girdle_material *out = &in->materials[in->found.material_count];
  const girdle_catalogue alone = {.struct_bytes = sizeof alone, .materials = out, .material_count = 1};
  GIRDLE_TRY(take_name(in, "material", out->name, sizeof out->name));
  GIRDLE_TRY(take_name(in, "source", out->source, sizeof out->source));
  GIRDLE_TRY(read_range(in, "density_g_cm3", GIRDLE_NUMBER, out->density_g_cm3));
  GIRDLE_TRY(read_yes(in, "minimum", &out->minimum));
  GIRDLE_TRY(read_lead(in, &out->lead));
  GIRDLE_TRY(girdle_catalogue_check(&in->with->call, &alone));
  for (uint64_t at = 0; at < in->found.material_count; at++)
    if (strcmp(in->materials[at].name, out->name) == 0) return refuse_twice(in, "material", out->name);
  in->found.material_count++;
  return GIRDLE_OK;
}

/* ---- the table */

static int32_t read_row(own_rows *in) {
  const int cut = *cell(in, "cut") != '\0', material = *cell(in, "material") != '\0';
  if (cut + material + (*cell(in, "size") != '\0') > 1)
    return girdle_common_fail(&in->with->call, GIRDLE_ARGUMENT, "size",
                              "a row is a size, a cut or a material: leave two of the three empty");
  return cut ? read_cut(in) : material ? read_material(in) : read_size(in);
}

/* A row that is refused leaves its place to the next. */
static int32_t read_rows(own_rows *in) {
  int32_t first = GIRDLE_OK;
  for (in->row = 0; in->row < girdle_table_rows(in->table); in->row++) {
    int32_t status;
    memset(&in->sizes[in->found.size_count], 0, sizeof *in->sizes);
    memset(&in->cuts[in->found.cut_count], 0, sizeof *in->cuts);
    memset(&in->materials[in->found.material_count], 0, sizeof *in->materials);
    status = read_row(in);
    if (status) girdle_common_at(&in->with->call, in->path, girdle_table_line(in->table, in->row), -1, -1);
    command_fault(in->with, status);
    if (!first) first = status;
  }
  return first;
}

static int has_columns(const girdle_table *table) {
  return (girdle_table_column(table, "size") >= 0 && girdle_table_column(table, "across") >= 0) ||
         girdle_table_column(table, "cut") >= 0 || girdle_table_column(table, "material") >= 0;
}

/* The rows belong to the program as soon as there are any, so that they are freed whatever comes. */
static int32_t take_table(own_rows *in) {
  program *with = in->with;
  uint64_t rows = girdle_table_rows(in->table);
  int32_t status;
  if (!has_columns(in->table) || rows > MOST_ROWS) {
    girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "size",
                       "the columns are size, across, least and most, or those of cuts or materials; at most %d rows",
                       MOST_ROWS);
    girdle_common_at(&with->call, in->path, 1, -1, -1);
    return GIRDLE_UNKNOWN;
  }
  stones_forget(with);
  in->found.struct_bytes = sizeof in->found;
  in->found.sizes = in->sizes = command_new((rows + 1) * sizeof *in->sizes);
  in->found.cuts = in->cuts = command_new((rows + 1) * sizeof *in->cuts);
  in->found.materials = in->materials = command_new((rows + 1) * sizeof *in->materials);
  status = read_rows(in);
  with->own = in->found;
  if (!status) with->call.own = &with->own;
  return status;
}

int32_t stones_read(program *with, const char *folder_path) {
  char path[COMMAND_PATH];
  buffer text = {0};
  girdle_table *table = NULL;
  own_rows in = {.with = with, .path = path};
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
  free((girdle_cut *)(uintptr_t)with->own.cuts);
  free((girdle_material *)(uintptr_t)with->own.materials);
  memset(&with->own, 0, sizeof with->own);
  with->call.own = NULL;
}
