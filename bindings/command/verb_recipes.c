/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <string.h>

#include "common.h"

/* ---- as text */

/* "  (0 mm to 20 mm)", "  (at least 1)", "  (left, right)" */
static void range_text(const program *with, const girdle_parameter *of, buffer *to) {
  if (of->least[0] || of->most[0]) buffer_text(to, "  ");
  if (of->least[0] && of->most[0])
    buffer_say(to, with, "({1} to {2})", of->least, of->most);
  else if (of->least[0])
    buffer_say(to, with, "(at least {1})", of->least);
  else if (of->most[0])
    buffer_say(to, with, "(at most {1})", of->most);
  for (const char *at = of->choices; *at; at += strcspn(at, "|"), at += *at == '|')
    buffer_text(to, "%s%.*s", at == of->choices ? "  (" : ", ", (int)strcspn(at, "|"), at);
  if (of->choices[0]) buffer_text(to, ")");
}

static void parameter_text(const program *with, const girdle_parameter *of, buffer *to) {
  buffer_text(to, "  %-14s %-9s ", of->name, of->kind);
  if (of->required)
    buffer_say(to, with, "must be given");
  else if (of->fallback[0])
    buffer_text(to, "%s", of->fallback);
  else
    buffer_say(to, with, "may be left out");
  range_text(with, of, to);
  buffer_text(to, "\n");
  if (of->about[0]) buffer_text(to, "  %-14s %-9s %s\n", "", "", of->about);
}

/* Which column of zones.csv fills a parameter; where no shape does, lengths are filled by length and width. */
enum { COLUMN_SHAPE, COLUMN_LENGTH, COLUMN_WIDTH, COLUMN_STONES, COLUMN_GAP, COLUMN_LEAVE, COLUMN_GIVEN, COLUMNS };

static int is_shape(const girdle_parameter *of) {
  return strcmp(of->kind, "path") == 0 || strcmp(of->kind, "region") == 0;
}

static int column_of(const girdle_parameter *of, int has_shape, const int *taken) {
  if (is_shape(of) && !taken[COLUMN_SHAPE]) return COLUMN_SHAPE;
  if (strcmp(of->kind, "stone") == 0 || strcmp(of->kind, "stones") == 0) return COLUMN_STONES;
  if (strcmp(of->name, "gap") == 0) return COLUMN_GAP;
  if (strcmp(of->name, "leave") == 0) return COLUMN_LEAVE;
  if (has_shape || strcmp(of->kind, "length") != 0) return COLUMN_GIVEN;
  if (strcmp(of->name, "width") == 0) return COLUMN_WIDTH;
  return taken[COLUMN_LENGTH] ? COLUMN_GIVEN : COLUMN_LENGTH;
}

/* "  stones   one; two", and under given what has no column, with its default. */
static void column_text(const sheet *of, int column, int has_shape, buffer *to) {
  static const char *const names[COLUMNS] = {"shape", "length", "width", "stones", "gap", "leave", "given"};
  int taken[COLUMNS] = {0}, any = 0;
  for (uint64_t at = 0; at < of->parameter_count; at++) {
    const girdle_parameter *one = &of->parameters[at];
    int its = column_of(one, has_shape, taken);
    taken[its] = 1;
    if (its != column) continue;
    if (any) buffer_text(to, "; ");
    if (!any) buffer_text(to, "  %-14s ", names[column]);
    buffer_text(to, "%s", one->name);
    if (column == COLUMN_GIVEN) buffer_text(to, " = %s", one->fallback[0] ? one->fallback : "...");
    any = 1;
  }
  if (any) buffer_text(to, "\n");
}

static void zones_text(const program *with, const sheet *of, buffer *to) {
  int has_shape = 0;
  for (uint64_t at = 0; at < of->parameter_count; at++)
    has_shape |= is_shape(&of->parameters[at]) && of->parameters[at].required;
  buffer_say(to, with, "in a row of zones.csv");
  buffer_text(to, "\n");
  for (int column = 0; column < COLUMNS; column++)
    column_text(of, column, has_shape, to);
}

void sheet_text(const program *with, const sheet *of, buffer *to) {
  buffer_say(to, with, of->kind == GIRDLE_SOURCE_COSTUME ? "{1}: a costume" : "{1}: a recipe", of->name);
  buffer_text(to, "\n%s%s", of->about, of->about[0] ? "\n" : "");
  if (of->outlines[0]) buffer_say(to, with, "its outlines are in {1}", of->outlines), buffer_text(to, "\n");
  buffer_say(to, with, of->parameter_count ? "takes" : "takes nothing");
  buffer_text(to, "\n");
  for (uint64_t at = 0; at < of->parameter_count; at++)
    parameter_text(with, &of->parameters[at], to);
  if (of->kind == GIRDLE_SOURCE_RECIPE && of->parameter_count) zones_text(with, of, to);
}

/* ---- as a table */

static void sheet_csv(const sheet *of, buffer *to) {
  for (uint64_t at = 0; at < of->parameter_count; at++) {
    const girdle_parameter *one = &of->parameters[at];
    buffer_csv_text(to, of->name, ",");
    buffer_csv_text(to, one->name, ",");
    buffer_csv_text(to, one->kind, ",");
    buffer_csv_text(to, one->required ? "" : one->fallback, ",");
    buffer_csv_text(to, one->least, ",");
    buffer_csv_text(to, one->most, ",");
    buffer_csv_text(to, one->about, "\r\n");
  }
}

/* ---- as JSON */

static void json_field(buffer *to, const char *before, const char *name, const char *text) {
  buffer_text(to, "%s\"%s\":\"", before, name);
  buffer_json_text(to, text);
  buffer_text(to, "\"");
}

static void sheet_json(const sheet *of, buffer *to) {
  json_field(to, "{", "name", of->name);
  json_field(to, ",", "is", of->kind == GIRDLE_SOURCE_COSTUME ? "costume" : "recipe");
  json_field(to, ",", "about", of->about);
  buffer_text(to, ",\"takes\":[");
  for (uint64_t at = 0; at < of->parameter_count; at++) {
    const girdle_parameter *one = &of->parameters[at];
    json_field(to, at ? ",{" : "{", "name", one->name);
    json_field(to, ",", "kind", one->kind);
    if (!one->required) json_field(to, ",", "default", one->fallback);
    if (one->least[0]) json_field(to, ",", "from", one->least);
    if (one->most[0]) json_field(to, ",", "to", one->most);
    if (one->choices[0]) json_field(to, ",", "choices", one->choices);
    json_field(to, ",", "about", one->about);
    buffer_text(to, "}");
  }
  buffer_text(to, "]}");
}

/* ---- the verb */

static void show(program *with, const sheet *of, int first) {
  buffer *to = &with->result;
  if (with->flags.csv) {
    sheet_csv(of, to);
  } else if (with->flags.json) {
    if (!first) buffer_text(to, ",\n");
    sheet_json(of, to);
  } else if (with->flags.file_count) {
    sheet_text(with, of, to);
  } else {
    buffer_text(to, "%-22s %s\n", of->name, of->about);
  }
}

typedef struct listing {
  program *with;
  char (*names)[64];
  uint64_t count;
} listing;

static int listing_task(void *context, uint64_t index, task *out) {
  listing *all = context;
  if (index == all->count) return 0;
  out->kind = TASK_DESCRIBE;
  out->name = all->names[index];
  return 1;
}

static int32_t listing_done(void *context, uint64_t index, const char *answer, uint64_t bytes) {
  listing *all = context;
  sheet of = {0};
  task what;
  int32_t status;
  memset(&what, 0, sizeof what);
  listing_task(context, index, &what);
  status = pool_answer(all->with, &what, answer, bytes, &of);
  if (!status) show(all->with, &of, index == 0);
  sheet_free(&of);
  return status;
}

static int32_t list_house(program *with) {
  listing all = {with, NULL, 0};
  task_list list = {&all, 0, -1, listing_task, listing_done};
  int32_t status;
  GIRDLE_TRY(source_house(with));
  all.count = list.most = with->house.source_count;
  all.names = command_new((all.count + 1) * sizeof *all.names);
  for (uint64_t at = 0; at < all.count; at++)
    source_recipe_name(with->house.sources[at].file, all.names[at], sizeof all.names[at]);
  status = pool_run(with, &list);
  command_release(all.names);
  return status;
}

static int32_t show_one(program *with) {
  sheet of = {0};
  int32_t status = work_describe(with, with->flags.files[0], &of);
  if (!status) show(with, &of, 1);
  sheet_free(&of);
  return status;
}

int32_t verb_recipes(program *with) {
  int32_t status;
  if (with->flags.given_count) return command_usage(with, "recipes takes no name=value");
  if (with->flags.csv) buffer_text(&with->result, "recipe,parameter,kind,default,from,to,about\r\n");
  if (with->flags.json && !with->flags.file_count) buffer_text(&with->result, "[");
  status = with->flags.file_count ? show_one(with) : list_house(with);
  if (with->flags.json) buffer_text(&with->result, with->flags.file_count ? "\n" : "]\n");
  return status;
}
