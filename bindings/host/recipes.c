/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "limited.h"

/* Finding a recipe's file, reading what it takes, and placing by it. */

/* ---- files */

/* A recipe is also known by its file's spelling, with _ for spaces. */
static int is_named(const girdle_source *source, const char *name) {
  const char *at = source->name;
  for (; *at && (*name == '_' ? ' ' : *name) == *at; at++)
    name++;
  return *at == *name;
}

const girdle_source *girdle_host_source(lua_State *L, const girdle_host *host, const char *name) {
  const girdle_source *found = NULL;
  const char *names[256];
  uint64_t count = 0;
  for (uint64_t i = 0; i < host->source_count; i++) {
    const girdle_source *source = &host->sources[i];
    if (count < 256) names[count++] = source->name;
    if (!is_named(source, name)) continue;
    if (found)
      girdle_lua_fail(L, GIRDLE_ARGUMENT, "recipe",
                      "%s is there twice, in the costume's folder and among the house "
                      "recipes; rename one",
                      source->file);
    found = source;
  }
  if (!found) girdle_lua_unknown(L, "recipe", name, names, count);
  return found;
}

static const char loaded_key = 0;

/* Pushes the table of what was run already, by name. */
static void push_loaded(lua_State *L) {
  if (lua_rawgetp(L, LUA_REGISTRYINDEX, &loaded_key) == LUA_TTABLE) return;
  lua_pop(L, 1);
  lua_newtable(L);
  lua_pushvalue(L, -1);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &loaded_key);
}

/* A costume's folder may be copied under another name, so costume.lua gives any. */
static void check_name(lua_State *L, const girdle_source *source) {
  const girdle_lua_recipe *box = lua_touserdata(L, -1);
  if (strcmp(box->name, source->name) != 0 && strcmp(source->file, "costume.lua") != 0)
    girdle_lua_fail(L, GIRDLE_ARGUMENT, "name",
                    "%s gives the name '%s'; a file is named as its recipe, with _ for spaces", source->file,
                    box->name);
}

/* What the parser says already names file and line. */
static void raise_syntax(lua_State *L) {
  girdle_lua_faults faults;
  girdle_error error;
  girdle_lua_faults_begin(&faults, NULL);
  girdle_error_init(&error, sizeof error);
  error.status = GIRDLE_SYNTAX;
  girdle_common_text(error.message, sizeof error.message, girdle_limited_split(lua_tostring(L, -1), &error));
  girdle_lua_fault(&faults, &error, NULL);
  girdle_lua_raise(L, &faults);
}

static void load_source(lua_State *L, const girdle_source *source) {
  char chunk[72] = "@";
  int status;
  if (source->text[0] == LUA_SIGNATURE[0]) girdle_lua_refuse_compiled(L, source->file);
  strcat(chunk, source->file);
  status = luaL_loadbufferx(L, source->text, (size_t)source->bytes, chunk, "t");
  if (status == LUA_ERRSYNTAX) raise_syntax(L);
  if (status) lua_error(L);
  girdle_lua_push_environment(L);
  lua_setupvalue(L, -2, 1);
}

void girdle_host_push_file(lua_State *L, const char *name, int32_t kind) {
  girdle_limited *run = girdle_limited_of(L);
  const girdle_source *source = girdle_host_source(L, run->host, name);
  luaL_checkstack(L, 10, NULL);
  push_loaded(L);
  lua_pushstring(L, source->name);
  if (lua_rawget(L, -2) == LUA_TNIL) {
    lua_pop(L, 1);
    lua_pushboolean(L, 0); /* being run */
    lua_setfield(L, -2, source->name);
    load_source(L, source);
    girdle_lua_run_file(L, kind, source->file);
    check_name(L, source);
    lua_pushvalue(L, -1);
    lua_setfield(L, -3, source->name);
  } else if (lua_type(L, -1) == LUA_TBOOLEAN) {
    girdle_lua_fail(L, GIRDLE_ARGUMENT, "recipe", "%s needs itself", source->file);
  } else if (kind >= 0 && !girdle_lua_box_at(L, -1, kind)) {
    girdle_lua_fail(L, GIRDLE_ARGUMENT, "recipe", "%s is a %s, not a %s", source->file,
                    girdle_lua_box_text(girdle_lua_box_kind(L, -1)), girdle_lua_box_text(kind));
  }
  lua_replace(L, -2);
}

void girdle_host_find_recipe(lua_State *L, const char *name) {
  girdle_host_push_file(L, name, GIRDLE_BOX_RECIPE);
}

/* ---- placing */

typedef struct place_job {
  const char *recipe;
  const girdle_given *given;
  uint64_t count;
  const girdle_placement *placed; /* held by the state */
  girdle_placement **out;
} place_job;

static int place_work(lua_State *L) {
  girdle_limited *run = girdle_limited_of(L);
  place_job *job = run->job;
  run->words.find = girdle_host_find_recipe;
  girdle_host_find_recipe(L, job->recipe);
  lua_createtable(L, 0, (int)job->count);
  for (uint64_t i = 0; i < job->count; i++) {
    lua_pushstring(L, job->given[i].value);
    lua_setfield(L, 2, job->given[i].name);
  }
  girdle_lua_call_recipe(L, 1, 2);
  job->placed = girdle_lua_placement_at(L, -1);
  return 1;
}

static int32_t take_placement(girdle_limited *run) {
  const place_job *job = run->job;
  return girdle_placement_copy(run->call, job->placed, job->out);
}

int32_t girdle_host_place(girdle_call *call, girdle_host *host, const char *recipe, const girdle_given *given,
                          uint64_t count, girdle_placement **out) {
  GIRDLE_GIVEN(call, host, recipe, given || !count, out);
  place_job job = {recipe, given, count, NULL, out};
  if (count > 1000) return girdle_common_fail(call, GIRDLE_LIMIT, "given", "more than 1000 values are given");
  return girdle_limited_run(host, call, &host->options, place_work, take_placement, &job);
}

/* ---- what a recipe takes */

struct girdle_recipe_sheet {
  girdle_allocator memory;
  int32_t kind, reserved;
  char name[64], about[256], outlines[64];
  girdle_parameter *parameters;
  uint64_t count;
};

typedef struct describe_job {
  const char *name;
  girdle_recipe_sheet sheet; /* its parameters are held by the state */
  girdle_recipe_sheet **out;
} describe_job;

static void copy_text(lua_State *L, int index, const char *name, char *field, size_t bytes) {
  lua_getfield(L, index, name);
  if (lua_type(L, -1) == LUA_TSTRING) girdle_common_text(field, bytes, lua_tostring(L, -1));
  lua_pop(L, 1);
}

static void bound_text(double value, int32_t kind, char *text, size_t bytes) {
  const char *unit = kind == GIRDLE_KIND_LENGTH    ? " mm"
                     : kind == GIRDLE_KIND_ANGLE   ? " deg"
                     : kind == GIRDLE_KIND_PERCENT ? " %"
                                                   : "";
  uint64_t length;
  if (!isfinite(value)) return;
  length = girdle_number_text(kind == GIRDLE_KIND_PERCENT ? value * 100 : value, 6, text, bytes - 5);
  if (length < bytes - 5) strcat(text, unit);
}

/* Fills a parameter from its field and the default on top of the stack. */
static void fill_parameter(lua_State *L, const girdle_lua_field *field, girdle_parameter *out) {
  girdle_common_text(out->name, sizeof out->name, field->name);
  girdle_common_text(out->kind, sizeof out->kind, girdle_lua_kind_text(field->kind));
  if (field->about) girdle_common_text(out->about, sizeof out->about, field->about);
  if (field->choices) girdle_common_text(out->choices, sizeof out->choices, field->choices);
  bound_text(field->least, field->kind, out->least, sizeof out->least);
  bound_text(field->most, field->kind, out->most, sizeof out->most);
  out->required = field->needed;
  girdle_lua_written(L, lua_gettop(L), field->kind);
  girdle_common_text(out->fallback, sizeof out->fallback, lua_tostring(L, -1));
  lua_pop(L, 1);
}

static void describe_recipe(lua_State *L, girdle_recipe_sheet *sheet) {
  girdle_parameter *list;
  girdle_lua_field field;
  int count = 0;
  for (; girdle_lua_parameter(L, 1, count + 1, &field); count++)
    lua_pop(L, 1);
  list = lua_newuserdatauv(L, (size_t)(count + 1) * sizeof *list, 0);
  memset(list, 0, (size_t)(count + 1) * sizeof *list);
  sheet->parameters = list;
  for (; girdle_lua_parameter(L, 1, (int)sheet->count + 1, &field); lua_pop(L, 1))
    fill_parameter(L, &field, &list[sheet->count++]);
}

static int describe_work(lua_State *L) {
  girdle_limited *run = girdle_limited_of(L);
  describe_job *job = run->job;
  girdle_recipe_sheet *sheet = &job->sheet;
  run->words.find = girdle_host_find_recipe;
  girdle_host_push_file(L, job->name, -1);
  sheet->kind = girdle_lua_box_at(L, 1, GIRDLE_BOX_COSTUME) ? GIRDLE_SOURCE_COSTUME : GIRDLE_SOURCE_RECIPE;
  girdle_common_text(sheet->name, sizeof sheet->name, ((girdle_lua_recipe *)lua_touserdata(L, 1))->name);
  lua_getiuservalue(L, 1, 1);
  copy_text(L, 2, "about", sheet->about, sizeof sheet->about);
  if (sheet->kind == GIRDLE_SOURCE_COSTUME) copy_text(L, 2, "outlines", sheet->outlines, sizeof sheet->outlines);
  if (sheet->kind == GIRDLE_SOURCE_RECIPE) describe_recipe(L, sheet);
  return 1;
}

static int32_t take_sheet(girdle_limited *run) {
  const describe_job *job = run->job;
  girdle_recipe_sheet *sheet = girdle_common_copy(run->call, &job->sheet, sizeof *sheet);
  if (!sheet) return GIRDLE_MEMORY;
  sheet->memory = girdle_common_memory(run->call);
  if (sheet->count) {
    sheet->parameters = girdle_common_copy(run->call, job->sheet.parameters, sheet->count * sizeof *sheet->parameters);
    if (!sheet->parameters) {
      girdle_common_release(&sheet->memory, sheet, sizeof *sheet);
      return GIRDLE_MEMORY;
    }
  }
  *job->out = sheet;
  return GIRDLE_OK;
}

/* Listing runs the file, never its placing function, so little is enough. */
int32_t girdle_host_describe(girdle_call *call, girdle_host *host, const char *name, girdle_recipe_sheet **out) {
  GIRDLE_GIVEN(call, host, name, out);
  girdle_host_options tiny = host->options;
  describe_job job;
  memset(&job, 0, sizeof job);
  job.name = name;
  job.out = out;
  tiny.most_seconds = fmin(tiny.most_seconds, 0.25);
  tiny.most_bytes = tiny.most_bytes < (16u << 20) ? tiny.most_bytes : 16u << 20;
  tiny.most_steps = tiny.most_steps < 1000000 ? tiny.most_steps : 1000000;
  return girdle_limited_run(host, call, &tiny, describe_work, take_sheet, &job);
}

void girdle_recipe_sheet_free(girdle_recipe_sheet *sheet) {
  girdle_allocator memory;
  if (!sheet) return;
  memory = sheet->memory;
  if (sheet->count) girdle_common_release(&memory, sheet->parameters, sheet->count * sizeof *sheet->parameters);
  girdle_common_release(&memory, sheet, sizeof *sheet);
}

int32_t girdle_recipe_sheet_kind(const girdle_recipe_sheet *sheet) {
  return sheet->kind;
}

const char *girdle_recipe_sheet_name(const girdle_recipe_sheet *sheet) {
  return sheet->name;
}

const char *girdle_recipe_sheet_about(const girdle_recipe_sheet *sheet) {
  return sheet->about;
}

const char *girdle_recipe_sheet_outlines(const girdle_recipe_sheet *sheet) {
  return sheet->outlines;
}

const girdle_parameter *girdle_recipe_sheet_parameters(const girdle_recipe_sheet *sheet, uint64_t *count) {
  *count = sheet->count;
  return sheet->count ? sheet->parameters : NULL;
}
