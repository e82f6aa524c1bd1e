/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"
#include "fields.h"
#include "words.h"

/* recipe, costume and zone: what files give back, checked when the file is run; and how a recipe is called. */

enum { FORMAT = 1 };

/* Looked at before all else in the table at 1: what a file of another format has besides need not be known here. */
static void check_format(lua_State *L, const char *word) {
  lua_Integer format;
  int whole;
  if (lua_type(L, 1) != LUA_TTABLE) return;
  lua_pushliteral(L, "format");
  lua_rawget(L, 1);
  format = lua_tointegerx(L, -1, &whole);
  lua_pop(L, 1);
  if (!whole || format == FORMAT) return; /* what is no number, the fields refuse */
  girdle_lua_fail(L, GIRDLE_ARGUMENT, "format", "this %s is of format %I; this version of girdle reads format %d", word,
                  format, FORMAT);
}

/* Makes the box whose user value is the table on top, which it takes. */
static void box_of_table(lua_State *L, int32_t kind, const char *name) {
  girdle_lua_recipe *box = girdle_lua_box(L, kind, sizeof *box);
  girdle_common_text(box->name, sizeof box->name, name);
  box->line = girdle_lua_where(L, box->source, sizeof box->source);
  lua_insert(L, -2);
  lua_setiuservalue(L, -2, 1);
}

/* A name is the file's name too, so it holds letters, digits and spaces alone. */
static void check_name(lua_State *L, const char *name, const char *word) {
  size_t length = strlen(name);
  int good = length > 0 && length < 60;
  for (size_t i = 0; i < length && good; i++) {
    unsigned char c = (unsigned char)name[i];
    good =
        c >= 128 || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == ' ' || c == '-';
  }
  if (!good)
    girdle_lua_fail(L, GIRDLE_SYNTAX, "name",
                    "the name of a %s has 1 to 59 letters, digits, spaces and hyphens, like name = \"double row\"",
                    word);
}

/* ---- parameters */

static void raise_fault(lua_State *L, const char *word, const girdle_error *error, const girdle_lua_field *field) {
  girdle_lua_faults faults;
  faults.word = word;
  faults.count = faults.kept = 0;
  girdle_lua_fault(&faults, error, field);
  girdle_lua_raise(L, &faults);
}

/* The range of a parameter, read by its kind; absent bounds are infinite. */
static double bound_of(lua_State *L, girdle_lua_work *work, int32_t kind, const char *name, double otherwise) {
  girdle_lua_field field = {name, kind, 0, -INFINITY, INFINITY, NULL, NULL, "\"20 mm\"", NULL};
  girdle_lua_value value;
  if (girdle_lua_read(L, work, &field, &value)) raise_fault(L, "takes", &work->error, &field);
  lua_pop(L, 1);
  return value.given && !isnan(value.number) ? value.number : otherwise;
}

static double least_of_kind(int32_t kind) {
  return kind == GIRDLE_KIND_LENGTH ? 0 : -INFINITY;
}

/* Turns the list {"a", "b"} on top into the text "a|b". */
static void join_choices(lua_State *L) {
  luaL_Buffer out;
  lua_Integer count = lua_type(L, -1) == LUA_TTABLE ? (lua_Integer)lua_rawlen(L, -1) : 0;
  int list = lua_gettop(L);
  if (count < 1 || count > 16)
    girdle_lua_fail(L, GIRDLE_ARGUMENT, "choices",
                    "a choice has 1 to 16 texts, like choices = { \"left\", \"right\" }");
  luaL_buffinit(L, &out);
  for (lua_Integer i = 1; i <= count; i++) {
    if (i > 1) luaL_addchar(&out, '|');
    if (lua_rawgeti(L, list, i) != LUA_TSTRING || lua_rawlen(L, -1) > 40 || strchr(lua_tostring(L, -1), '|'))
      girdle_lua_fail(L, GIRDLE_ARGUMENT, "choices", "each choice is a text of at most 40 characters without '|'");
    luaL_addvalue(&out);
  }
  luaL_pushresult(&out);
  lua_replace(L, -2);
}

/* Copies a field of the table at `from` to the one at `to`. */
static void copy_field(lua_State *L, int from, int to, const char *name) {
  lua_pushstring(L, name);
  lua_rawget(L, from);
  lua_setfield(L, to, name);
}

static void set_bound(lua_State *L, girdle_lua_work *work, int row, int made, int32_t kind, const char *name,
                      double otherwise) {
  lua_pushstring(L, name);
  lua_rawget(L, row);
  lua_pushnumber(L, bound_of(L, work, kind, name, otherwise));
  lua_setfield(L, made, name);
}

static int32_t kind_of_row(lua_State *L, const char *name) {
  const char *names[GIRDLE_KIND_PARAMETERS];
  int32_t kind = girdle_lua_kind_find(name);
  for (int32_t i = 0; i < GIRDLE_KIND_PARAMETERS; i++)
    names[i] = girdle_lua_kind_text(i);
  if (kind < 0) girdle_lua_unknown(L, "kind of parameter", name, names, GIRDLE_KIND_PARAMETERS);
  return kind;
}

/* Checks the row on top, one parameter of `takes`, and puts in its place a row of our own, which the file can no longer
 * change. */
static void check_parameter(lua_State *L, girdle_lua_work *work) {
  girdle_lua_value v[TAKES_END];
  int row = lua_gettop(L), made;
  int32_t kind;
  girdle_lua_fields(L, work, row, "takes", girdle_fields_takes, v);
  if (strlen(v[TAKES_NAME].text) > 40 || !v[TAKES_NAME].text[0])
    girdle_lua_fail(L, GIRDLE_ARGUMENT, "name", "the name of a parameter has 1 to 40 characters");
  kind = kind_of_row(L, v[TAKES_KIND].text);
  lua_createtable(L, 1, 8);
  made = lua_gettop(L);
  lua_pushstring(L, v[TAKES_NAME].text);
  lua_rawseti(L, made, 1);
  lua_pushinteger(L, kind);
  lua_setfield(L, made, "kind");
  set_bound(L, work, row, made, kind, "from", least_of_kind(kind));
  set_bound(L, work, row, made, kind, "to", INFINITY);
  copy_field(L, row, made, "default");
  copy_field(L, row, made, "about");
  copy_field(L, row, made, "optional");
  if (kind == GIRDLE_KIND_CHOICE) {
    lua_pushliteral(L, "choices");
    lua_rawget(L, row);
    join_choices(L);
    lua_setfield(L, made, "choices");
  }
  lua_copy(L, made, row);
  lua_settop(L, row);
}

static const char *text_of_row(lua_State *L, const char *name) {
  const char *text;
  lua_getfield(L, -1, name);
  text = lua_type(L, -1) == LUA_TSTRING ? lua_tostring(L, -1) : NULL;
  lua_pop(L, 1);
  return text;
}

static double number_of_row(lua_State *L, const char *name) {
  double number;
  lua_getfield(L, -1, name);
  number = lua_tonumber(L, -1);
  lua_pop(L, 1);
  return number;
}

static int truth_of_row(lua_State *L, int row, const char *name) {
  int truth;
  lua_getfield(L, row, name);
  truth = lua_toboolean(L, -1);
  lua_pop(L, 1);
  return truth;
}

int girdle_lua_parameter(lua_State *L, int index, int place, girdle_lua_field *field) {
  memset(field, 0, sizeof *field);
  lua_getiuservalue(L, index, 1);
  lua_getfield(L, -1, "takes");
  if (lua_rawgeti(L, -1, place) != LUA_TTABLE) {
    lua_pop(L, 3);
    return 0;
  }
  lua_rawgeti(L, -1, 1);
  field->name = lua_tostring(L, -1);
  lua_pop(L, 1);
  field->kind = (int32_t)number_of_row(L, "kind");
  field->least = number_of_row(L, "from");
  field->most = number_of_row(L, "to");
  field->choices = text_of_row(L, "choices");
  field->about = text_of_row(L, "about");
  lua_getfield(L, -1, "default");
  field->needed = lua_isnil(L, -1) && !truth_of_row(L, -2, "optional");
  lua_replace(L, -4);
  lua_pop(L, 2);
  return 1;
}

/* Pushes the checked copy of the list at `takes` in the table at 1. */
static void push_takes(lua_State *L, girdle_lua_work *work) {
  lua_Unsigned count;
  int list, made;
  lua_pushliteral(L, "takes");
  lua_rawget(L, 1);
  list = lua_gettop(L);
  count = lua_isnil(L, list) ? 0 : lua_rawlen(L, list);
  if (count > GIRDLE_LUA_PARAMETERS)
    girdle_lua_fail(L, GIRDLE_LIMIT, "takes", "a recipe takes at most %d parameters, not %I", GIRDLE_LUA_PARAMETERS,
                    (lua_Integer)count);
  lua_createtable(L, (int)count, 0);
  made = lua_gettop(L);
  for (lua_Integer i = 1; i <= (lua_Integer)count; i++) {
    if (lua_rawgeti(L, list, i) != LUA_TTABLE)
      girdle_lua_fail(L, GIRDLE_ARGUMENT, "takes",
                      "each parameter is a table, like { \"gap\", \"length\", default = \"0.5 mm\" }");
    check_parameter(L, work);
    lua_rawseti(L, made, i);
  }
  lua_replace(L, list);
}

static void fault_twice(girdle_lua_faults *faults, const girdle_lua_field *field) {
  girdle_error error;
  girdle_call call;
  girdle_error_init(&error, sizeof error);
  girdle_call_init(&call, sizeof call);
  call.error = &error;
  girdle_common_fail(&call, GIRDLE_ARGUMENT, field->name, "%s is taken twice", field->name);
  girdle_lua_fault(faults, &error, field);
}

/* The defaults of the recipe on top are what their kinds want; a recipe's name is looked up only when it is used. */
static void check_defaults(lua_State *L, girdle_lua_work *work) {
  int box = lua_gettop(L);
  girdle_lua_faults faults = {((girdle_lua_recipe *)lua_touserdata(L, box))->name, 0, 0, {{0}}};
  const char *names[GIRDLE_LUA_PARAMETERS];
  girdle_lua_field field;
  girdle_lua_value value;
  for (int place = 1; place <= GIRDLE_LUA_PARAMETERS && girdle_lua_parameter(L, box, place, &field);
       place++, lua_settop(L, box)) {
    names[place - 1] = field.name;
    for (int i = 0; i < place - 1; i++)
      if (strcmp(names[i], field.name) == 0) fault_twice(&faults, &field);
    if (field.kind == GIRDLE_KIND_RECIPE || !girdle_lua_read(L, work, &field, &value)) continue;
    girdle_lua_fault(&faults, &work->error, &field);
    girdle_error_init(&work->error, sizeof work->error);
  }
  girdle_lua_raise(L, &faults);
}

int girdle_lua_recipe_word(lua_State *L) {
  static const char *const kept[] = {"name", "about", "format", "place"};
  girdle_lua_work work;
  girdle_lua_value v[RECIPE_END];
  lua_settop(L, 1);
  check_format(L, "recipe");
  girdle_lua_fields(L, &work, 1, "recipe", girdle_fields_recipe, v);
  check_name(L, v[RECIPE_NAME].text, "recipe");
  lua_createtable(L, 0, 5);
  for (size_t i = 0; i < 4; i++)
    copy_field(L, 1, lua_gettop(L), kept[i]);
  push_takes(L, &work);
  lua_setfield(L, -2, "takes");
  box_of_table(L, GIRDLE_BOX_RECIPE, v[RECIPE_NAME].text);
  check_defaults(L, &work);
  return 1;
}

int girdle_lua_recipe_index(lua_State *L) {
  static const char *const names[] = {"name", "about", "format"};
  const char *name = lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : "";
  girdle_lua_box_need(L, 1, GIRDLE_BOX_RECIPE, "recipe");
  for (size_t i = 0; i < 3; i++) {
    if (strcmp(name, names[i]) != 0) continue;
    lua_getiuservalue(L, 1, 1);
    lua_getfield(L, -1, name);
    return 1;
  }
  return girdle_lua_unknown(L, "field of a recipe", name, names, 3);
}

/* ---- calling */

static int by_text(const void *a, const void *b) {
  return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* The texts among the keys of the table at 1, in order; they stay held by the table. */
static uint64_t sorted_keys(lua_State *L, const char **names, uint64_t capacity) {
  uint64_t count = 0;
  for (lua_pushnil(L); lua_next(L, 1); lua_pop(L, 1))
    if (lua_type(L, -2) == LUA_TSTRING && count < capacity) names[count++] = lua_tostring(L, -2);
  qsort(names, (size_t)count, sizeof *names, by_text);
  return count;
}

/* Reached only by names that are not there. The metatable holds what they are, and which may be absent. */
static int unknown_key(lua_State *L) {
  const char *names[128], *name = lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : "", *what;
  if (lua_type(L, 1) != LUA_TTABLE || !lua_getmetatable(L, 1)) return 0;
  lua_rawgeti(L, -1, 1);
  what = lua_tostring(L, -1);
  lua_rawgeti(L, -2, 2);
  for (lua_Integer i = 1; lua_type(L, -1) == LUA_TTABLE && i <= (lua_Integer)lua_rawlen(L, -1); i++) {
    lua_rawgeti(L, -1, i);
    if (lua_rawequal(L, -1, 2)) return 0;
    lua_pop(L, 1);
  }
  return girdle_lua_unknown(L, what, name, names, sorted_keys(L, names, 128));
}

void girdle_lua_make_strict(lua_State *L, const char *what, int absent) {
  lua_createtable(L, 2, 2);
  lua_pushstring(L, what);
  lua_rawseti(L, -2, 1);
  if (absent) {
    lua_pushvalue(L, absent);
    lua_rawseti(L, -2, 2);
  }
  lua_pushcfunction(L, unknown_key);
  lua_setfield(L, -2, "__index");
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  lua_setmetatable(L, -2);
}

/* "-3 cm" is refused as -30 mm: what was typed stands beside it. */
static void show_typed(girdle_error *error, const char *typed) {
  size_t length = strlen(error->message);
  if (!typed || strchr(error->message, '\'')) return; /* quoted already */
  snprintf(error->message + length, sizeof error->message - length, " (given as '%.60s')", typed);
}

/* Reads one parameter from the table at `given` (0: none) or its default, and puts it into the table at `into`. */
static void fill_parameter(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, int given, int into,
                           girdle_lua_faults *faults) {
  girdle_lua_value value;
  const char *typed = NULL; /* held by the table */
  if (given) {
    lua_pushstring(L, field->name);
    lua_rawget(L, given);
    if (lua_type(L, -1) == LUA_TSTRING) typed = lua_tostring(L, -1);
    if (lua_isnil(L, -1))
      lua_pop(L, 1);
    else
      lua_replace(L, -2);
  }
  if (girdle_lua_read(L, work, field, &value)) {
    show_typed(&work->error, typed);
    girdle_lua_fault(faults, &work->error, field);
    girdle_error_init(&work->error, sizeof work->error);
  } else if (!value.given && field->needed) {
    girdle_common_fail(&work->call, GIRDLE_ARGUMENT, field->name, "%s (%s) is missing", field->name,
                       girdle_lua_kind_text(field->kind));
    girdle_lua_fault(faults, &work->error, field);
    girdle_error_init(&work->error, sizeof work->error);
  } else {
    girdle_lua_seen(L, field->kind, &value);
    lua_setfield(L, into, field->name);
  }
}

static const char *example_of(int32_t kind) {
  static const char *const examples[GIRDLE_KIND_PARAMETERS] = {"\"0.5 mm\"",
                                                               "\"32 cm\"",
                                                               "\"rectangle 10 cm x 20 cm\"",
                                                               "\"ss20 black\"",
                                                               "\"ss20 black; ss20 clear\"",
                                                               "1.5",
                                                               "3",
                                                               "\"10 %\"",
                                                               "\"30 deg\"",
                                                               NULL,
                                                               "true",
                                                               "7",
                                                               "{ 10, 20 }",
                                                               "\"text\"",
                                                               "\"alternating line\""};
  return examples[kind];
}

/* A parameter's default, on top of the stack, is a right example of it that lies within its range; its text is left
 * there. */
static void show_default(lua_State *L, girdle_lua_field *field) {
  int bare = field->kind == GIRDLE_KIND_NUMBER || field->kind == GIRDLE_KIND_INTEGER || field->kind == GIRDLE_KIND_SEED;
  girdle_lua_written(L, lua_gettop(L), field->kind);
  lua_replace(L, -2);
  if (lua_rawlen(L, -1) == 0 || lua_rawlen(L, -1) > 40) return;
  if (!bare) lua_pushfstring(L, "\"%s\"", lua_tostring(L, -1));
  if (!bare) lua_replace(L, -2);
  field->example = lua_tostring(L, -1);
}

/* Reads all parameters into the tables at `into` and `into` + 1, the names that may be absent; with examples made from
 * the defaults, which takes a while, when they are wanted. */
static void fill_parameters(lua_State *L, int recipe, int given, int into, int examples, girdle_lua_faults *faults) {
  girdle_lua_work work;
  girdle_lua_field fields[GIRDLE_LUA_PARAMETERS + 1] = {{0}};
  girdle_lua_begin(L, &work);
  faults->count = faults->kept = 0;
  for (int place = 1; place <= GIRDLE_LUA_PARAMETERS && girdle_lua_parameter(L, recipe, place, &fields[place - 1]);
       place++) {
    girdle_lua_field *field = &fields[place - 1];
    int top = lua_gettop(L);
    field->example = example_of(field->kind);
    if (examples) { /* its text stays below the default */
      lua_pushvalue(L, top);
      show_default(L, field);
      lua_insert(L, top++);
    }
    fill_parameter(L, &work, field, given, into, faults);
    lua_settop(L, top - 1);
    lua_pushstring(L, field->name);
    lua_rawseti(L, into + 1, place);
  }
  if (given) girdle_lua_unknown_keys(L, given, "parameter", fields, faults);
}

/* Pushes the table a recipe gets, filled from `given` and the defaults. */
static void push_given(lua_State *L, int recipe, int given) {
  girdle_lua_faults faults;
  int into = lua_gettop(L) + 1, absent = into + 1;
  faults.word = ((girdle_lua_recipe *)lua_touserdata(L, recipe))->name;
  luaL_checkstack(L, 20 + GIRDLE_LUA_PARAMETERS, NULL);
  lua_newtable(L);
  lua_newtable(L);
  fill_parameters(L, recipe, given, into, 0, &faults);
  if (faults.count) fill_parameters(L, recipe, given, into, 1, &faults);
  girdle_lua_raise(L, &faults);
  lua_pushvalue(L, into);
  girdle_lua_make_strict(L, "parameter", absent);
  lua_settop(L, into);
}

void girdle_lua_call_recipe(lua_State *L, int recipe, int given) {
  girdle_lua_context *context = girdle_lua_context_of(L);
  const girdle_lua_recipe *box = lua_touserdata(L, recipe);
  uint64_t seed = context->seed;
  int status, top = lua_gettop(L);
  if (context->depth >= GIRDLE_LUA_DEPTH)
    girdle_lua_fail(L, GIRDLE_LIMIT, NULL, "recipe '%s' lies more than %d recipes deep", box->name, GIRDLE_LUA_DEPTH);
  lua_getiuservalue(L, recipe, 1);
  lua_getfield(L, -1, "place");
  lua_replace(L, -2);
  push_given(L, recipe, given);
  context->depth++;
  context->seed = girdle_lua_seed_of(seed, box->name);
  status = lua_pcall(L, 1, 1, 0);
  context->depth--;
  context->seed = seed;
  if (status) lua_error(L);
  if (!girdle_lua_placement_at(L, top + 1))
    girdle_lua_fail(L, GIRDLE_ARGUMENT, "place", "place of recipe '%s' must return a placement, not %s", box->name,
                    girdle_lua_type_text(L, top + 1));
}

int girdle_lua_recipe_called(lua_State *L) {
  girdle_lua_box_need(L, 1, GIRDLE_BOX_RECIPE, "recipe");
  if (!lua_isnoneornil(L, 2) && lua_type(L, 2) != LUA_TTABLE)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "a recipe takes one table of parameters, not %s",
                           girdle_lua_type_text(L, 2));
  lua_settop(L, 2);
  girdle_lua_call_recipe(L, 1, lua_isnil(L, 2) ? 0 : 2);
  return 1;
}

/* ---- files */

void girdle_lua_run_file(lua_State *L, int32_t kind, const char *file) {
  int32_t given;
  lua_call(L, 0, 1);
  given = girdle_lua_box_kind(L, -1);
  if (kind >= 0 ? given == kind : given == GIRDLE_BOX_RECIPE || given == GIRDLE_BOX_COSTUME) return;
  girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "%s must end with: return %s { format = 1, name = ..., ... }; it gives %s",
                  file, kind < 0 ? "recipe" : girdle_lua_box_text(kind), girdle_lua_type_text(L, -1));
}

/* Loads a recipe file of one's own with the names recipe files see, in an environment of its own. */
static void load_file(lua_State *L, const char *file) {
  int status = luaL_loadfilex(L, file, "t");
  if (status == LUA_ERRFILE) girdle_lua_fail(L, GIRDLE_UNKNOWN, "file", "%s", lua_tostring(L, -1));
  if (status) lua_error(L);
  girdle_lua_push_environment(L);
  lua_setupvalue(L, -2, 1);
  girdle_lua_run_file(L, GIRDLE_BOX_RECIPE, file);
}

/* In own scripts: a recipe by its name, from the folder of the file that is being used, and from nowhere else. */
void girdle_lua_find_beside(lua_State *L, const char *name) {
  const girdle_lua_context *context = girdle_lua_context_of(L);
  char file[sizeof context->folder + 80];
  size_t length;
  check_name(L, name, "recipe");
  snprintf(file, sizeof file, "%s%s.lua", context->folder, name);
  length = strlen(context->folder);
  for (char *at = file + length; *at; at++)
    if (*at == ' ') *at = '_';
  load_file(L, file);
}

/* use(name, given) */
int girdle_lua_use(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[2];
  lua_settop(L, 2);
  girdle_lua_places(L, &work, 1, "use", girdle_fields_use, v);
  if (!work.context->find) return girdle_lua_unknown(L, "recipe", v[0].text, NULL, 0);
  work.context->find(L, v[0].text);
  girdle_lua_call_recipe(L, lua_gettop(L), lua_isnil(L, 2) ? 0 : 2);
  return 1;
}

/* girdle.use(file, given) */
int girdle_lua_use_file(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[2];
  const char *name;
  char before[sizeof work.context->folder];
  lua_settop(L, 2);
  girdle_lua_places(L, &work, 1, "use", girdle_fields_use_file, v);
  name = strrchr(v[0].text, '/');
  name = name ? name + 1 : v[0].text;
  if ((size_t)(name - v[0].text) >= sizeof before)
    return girdle_lua_fail(L, GIRDLE_LIMIT, "file", "the folder of '%s' has too long a name", v[0].text);
  memcpy(before, work.context->folder, sizeof before);
  snprintf(work.context->folder, sizeof before, "%.*s", (int)(name - v[0].text), v[0].text);
  load_file(L, v[0].text);
  girdle_lua_call_recipe(L, lua_gettop(L), lua_isnil(L, 2) ? 0 : 2);
  memcpy(work.context->folder, before, sizeof before);
  return 1;
}

/* ---- costumes */

int girdle_lua_costume(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[COSTUME_END];
  lua_settop(L, 1);
  check_format(L, "costume");
  girdle_lua_fields(L, &work, 1, "costume", girdle_fields_costume, v);
  check_name(L, v[COSTUME_NAME].text, "costume");
  lua_pushvalue(L, 1);
  box_of_table(L, GIRDLE_BOX_COSTUME, v[COSTUME_NAME].text);
  return 1;
}

int girdle_lua_zone(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[ZONE_END];
  lua_settop(L, 1);
  girdle_lua_fields(L, &work, 1, "zone", girdle_fields_zone, v);
  if (strlen(v[ZONE_NAME].text) > 63 || !v[ZONE_NAME].text[0])
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "name",
                           "the name of a zone has 1 to 63 characters, like zone { \"collar\", ... }");
  if (v[ZONE_RECIPE].given && v[ZONE_PLACEMENT].given)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "placement", "zone '%s' takes a recipe or a placement, not both",
                           v[ZONE_NAME].text);
  if (!v[ZONE_RECIPE].given && !v[ZONE_PLACEMENT].given && !v[ZONE_ALREADY].given)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "recipe", "zone '%s' needs a recipe, like recipe = \"alternating line\"",
                           v[ZONE_NAME].text);
  lua_pushvalue(L, 1);
  box_of_table(L, GIRDLE_BOX_ZONE, v[ZONE_NAME].text);
  return 1;
}

/* ---- values as people write them */

static void written_list(lua_State *L, int index, int32_t kind) {
  luaL_Buffer out;
  lua_Integer count = (lua_Integer)lua_rawlen(L, index);
  luaL_buffinit(L, &out);
  for (lua_Integer i = 1; i <= count && i <= 100; i++) {
    if (i > 1) luaL_addstring(&out, kind == GIRDLE_KIND_POINT ? ", " : "; ");
    lua_rawgeti(L, index, i);
    girdle_lua_written(L, lua_gettop(L), kind == GIRDLE_KIND_POINT ? GIRDLE_KIND_LENGTH : GIRDLE_KIND_STONE);
    lua_replace(L, -2);
    luaL_addvalue(&out);
  }
  luaL_pushresult(&out);
}

static void written_number(lua_State *L, double value, int32_t kind) {
  const char *unit = kind == GIRDLE_KIND_LENGTH    ? " mm"
                     : kind == GIRDLE_KIND_ANGLE   ? " deg"
                     : kind == GIRDLE_KIND_PERCENT ? " %"
                                                   : "";
  girdle_lua_push_number(L, kind == GIRDLE_KIND_PERCENT ? value * 100 : value, 6);
  lua_pushstring(L, unit);
  lua_concat(L, 2);
}

static void written_path(lua_State *L, const girdle_path *path) {
  uint64_t bytes = girdle_path_text(path, NULL, 0) + 1;
  char *text = lua_newuserdatauv(L, (size_t)bytes, 0);
  girdle_path_text(path, text, bytes);
  lua_pushstring(L, text);
  lua_replace(L, -2);
}

void girdle_lua_written(lua_State *L, int index, int32_t kind) {
  luaL_checkstack(L, 10, NULL);
  if (girdle_lua_path_at(L, index))
    written_path(L, girdle_lua_path_at(L, index));
  else if (lua_type(L, index) == LUA_TNUMBER)
    written_number(L, lua_tonumber(L, index), kind);
  else if (lua_type(L, index) == LUA_TBOOLEAN)
    lua_pushstring(L, lua_toboolean(L, index) ? "yes" : "no");
  else if (lua_type(L, index) == LUA_TTABLE)
    written_list(L, index, kind);
  else if (lua_type(L, index) == LUA_TSTRING)
    lua_pushvalue(L, index);
  else if (girdle_lua_box_at(L, index, GIRDLE_BOX_RECIPE))
    lua_pushstring(L, ((girdle_lua_recipe *)lua_touserdata(L, index))->name);
  else if (lua_type(L, index) == LUA_TUSERDATA)
    luaL_tolstring(L, index, NULL);
  else
    lua_pushliteral(L, "");
}
