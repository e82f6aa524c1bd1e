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

/* Whether a text holds letters, digits and the characters in `besides` alone. */
static int is_plain(const char *text, const char *besides) {
  uint64_t left = strlen(text), length;
  int control = 0;
  for (; left && !control; text += length, left -= length) {
    unsigned char c = (unsigned char)*text;
    length = girdle_common_character(text, left, &control);
    if (c < 128 && !(c >= '0' && c <= '9') && !(c >= 'a' && c <= 'z') && !(c >= 'A' && c <= 'Z') && !strchr(besides, c))
      return 0;
  }
  return !control;
}

/* A name is the file's name too, so it holds letters, digits, spaces and hyphens alone. */
static int is_name(const char *name) {
  return name[0] && strlen(name) < 60 && is_plain(name, " -");
}

static void fault_name(girdle_lua_faults *faults, const char *word) {
  girdle_lua_fault_of(faults, NULL, GIRDLE_SYNTAX,
                      "the name of a %s has 1 to 59 letters, digits, spaces and hyphens, like name = \"double row\"",
                      word);
}

static void check_name(lua_State *L, const char *name, const char *word) {
  girdle_lua_faults faults;
  girdle_lua_faults_begin(&faults, NULL);
  if (!is_name(name)) fault_name(&faults, word);
  girdle_lua_raise(L, &faults);
}

/* ---- right examples */

static const struct {
  const char *text;
  double value; /* of those that have a range, 0 otherwise */
} examples[GIRDLE_KIND_PARAMETERS] = {
    {"\"0.5 mm\"", 0.5},
    {"\"32 cm\"", 0},
    {"\"rectangle 10 cm x 20 cm\"", 0},
    {"\"ss20 black\"", 0},
    {"\"ss20 black; ss20 clear\"", 0},
    {"1.5", 1.5},
    {"3", 3},
    {"\"10 %\"", 0.1},
    {"\"30 deg\"", 30},
    {NULL, 0},
    {"true", 0},
    {"7", 7},
    {"\"10 mm, 20 mm\"", 0},
    {"\"text\"", 0},
    {"\"alternating line\"", 0},
};

static const char *example_of(int32_t kind) {
  return examples[kind].text;
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

/* Whether values of the kind are written without quotes. */
static int is_bare(int32_t kind) {
  return kind == GIRDLE_KIND_NUMBER || kind == GIRDLE_KIND_INTEGER || kind == GIRDLE_KIND_SEED;
}

static int has_range(int32_t kind) {
  return kind == GIRDLE_KIND_LENGTH || kind == GIRDLE_KIND_NUMBER || kind == GIRDLE_KIND_INTEGER ||
         kind == GIRDLE_KIND_PERCENT || kind == GIRDLE_KIND_ANGLE || kind == GIRDLE_KIND_SEED;
}

/* Puts quotes about the text on top. */
static void quote(lua_State *L) {
  lua_pushfstring(L, "\"%s\"", lua_tostring(L, -1));
  lua_replace(L, -2);
}

/* Pushes what holds an example that the field's range allows, and gives it to the field. */
static void push_example(lua_State *L, girdle_lua_field *field) {
  double value = examples[field->kind].value;
  if (field->kind == GIRDLE_KIND_CHOICE) {
    lua_pushlstring(L, field->choices, strcspn(field->choices, "|"));
    quote(L);
  } else if (has_range(field->kind) && !(value >= field->least && value <= field->most)) {
    written_number(L, isfinite(field->least) ? field->least : field->most, field->kind);
    if (!is_bare(field->kind)) quote(L);
  } else {
    lua_pushstring(L, example_of(field->kind));
  }
  field->example = lua_tostring(L, -1);
}

/* ---- parameters */

/* What is read from the rows of `takes`, one after another: all that is wrong is told together. */
typedef struct reading {
  girdle_lua_work work;
  girdle_lua_faults faults;
} reading;

static void note_fault(reading *of, const girdle_lua_field *field) {
  girdle_lua_fault(&of->faults, &of->work.error, field);
  girdle_error_init(&of->work.error, sizeof of->work.error);
}

/* Reads the bound `name` of the row at `row`, and puts it into the table at `made`. */
static double take_bound(lua_State *L, reading *of, int row, int made, int32_t kind, const char *name, double bound) {
  girdle_lua_field field = {name, kind, 0, -INFINITY, INFINITY, NULL, NULL, example_of(kind), NULL};
  girdle_lua_value value = {0};
  int top = lua_gettop(L);
  lua_pushstring(L, name);
  lua_rawget(L, row);
  if (!lua_isnil(L, -1) && !has_range(kind))
    girdle_lua_fault_of(&of->faults, NULL, GIRDLE_ARGUMENT, "%s bounds numbers and measures; a %s has no bounds", name,
                        girdle_lua_kind_text(kind));
  else if (girdle_lua_read(L, &of->work, &field, &value))
    note_fault(of, &field);
  else if (value.given)
    bound = value.number;
  lua_pushnumber(L, bound);
  lua_setfield(L, made, name);
  lua_settop(L, top);
  return bound;
}

static void take_bounds(lua_State *L, reading *of, int row, int made, girdle_lua_field *field) {
  double least = field->kind == GIRDLE_KIND_LENGTH ? 0 : -INFINITY;
  field->least = take_bound(L, of, row, made, field->kind, "from", least);
  field->most = take_bound(L, of, row, made, field->kind, "to", INFINITY);
  if (field->least <= field->most) return;
  girdle_lua_fault_of(&of->faults, NULL, GIRDLE_ARGUMENT, "from is more than to, so that nothing lies between");
  field->least = -INFINITY; /* what is wrong once is told once */
  field->most = INFINITY;
}

/* Whether the list on top holds 1 to 16 short texts. */
static int are_choices(lua_State *L) {
  lua_Integer count = lua_type(L, -1) == LUA_TTABLE ? (lua_Integer)lua_rawlen(L, -1) : 0;
  int good = count >= 1 && count <= 16;
  for (lua_Integer i = 1; i <= count && good; i++, lua_pop(L, 1))
    good = lua_rawgeti(L, -1, i) == LUA_TSTRING && lua_rawlen(L, -1) >= 1 && lua_rawlen(L, -1) <= 40 &&
           !strchr(lua_tostring(L, -1), '|');
  return good;
}

/* Turns the list {"a", "b"} on top into the text "a|b". */
static void join_choices(lua_State *L) {
  lua_Integer count = (lua_Integer)lua_rawlen(L, -1);
  luaL_Buffer out;
  int list = lua_gettop(L);
  luaL_buffinit(L, &out);
  for (lua_Integer i = 1; i <= count; i++) {
    if (i > 1) luaL_addchar(&out, '|');
    lua_rawgeti(L, list, i);
    luaL_addvalue(&out);
  }
  luaL_pushresult(&out);
  lua_replace(L, -2);
}

static void take_choices(lua_State *L, reading *of, int row, int made, girdle_lua_field *field) {
  int top = lua_gettop(L);
  lua_pushliteral(L, "choices");
  lua_rawget(L, row);
  if (field->kind != GIRDLE_KIND_CHOICE) {
    if (!lua_isnil(L, -1))
      girdle_lua_fault_of(&of->faults, NULL, GIRDLE_ARGUMENT, "choices are those of a choice, not of a %s",
                          girdle_lua_kind_text(field->kind));
  } else if (are_choices(L)) {
    join_choices(L);
    field->choices = lua_tostring(L, -1); /* held by the table */
    lua_setfield(L, made, "choices");
  } else {
    girdle_lua_fault_of(&of->faults, NULL, GIRDLE_ARGUMENT,
                        "choices are 1 to 16 texts of 1 to 40 characters without '|', like choices = { \"left\", "
                        "\"right\" }");
  }
  lua_settop(L, top);
}

/* Copies a field of the table at `from` to the one at `to`. */
static void copy_field(lua_State *L, int from, int to, const char *name) {
  lua_pushstring(L, name);
  lua_rawget(L, from);
  lua_setfield(L, to, name);
}

/* A default is what its kind wants; a recipe's name is looked up only when it is used. */
static void check_default(lua_State *L, reading *of, int row, girdle_lua_field *field) {
  girdle_lua_value value;
  int top = lua_gettop(L);
  if (field->kind == GIRDLE_KIND_RECIPE || (field->kind == GIRDLE_KIND_CHOICE && !field->choices)) return;
  push_example(L, field);
  lua_pushliteral(L, "default");
  lua_rawget(L, row);
  if (girdle_lua_read(L, &of->work, field, &value)) note_fault(of, field);
  lua_settop(L, top);
}

static int32_t take_kind(girdle_lua_faults *faults, const char *name) {
  const char *names[GIRDLE_KIND_PARAMETERS];
  int32_t kind = girdle_lua_kind_find(name);
  for (int32_t i = 0; i < GIRDLE_KIND_PARAMETERS; i++)
    names[i] = girdle_lua_kind_text(i);
  if (kind < 0) girdle_lua_fault_unknown(faults, "kind of parameter", name, names, GIRDLE_KIND_PARAMETERS);
  if (kind < 0) girdle_lua_faults_example(faults, "{ \"gap\", \"length\", default = \"0.5 mm\" }");
  return kind;
}

/* Whether a row of the list at `list`, made before, has the name. */
static int is_taken(lua_State *L, int list, const char *name) {
  int found = 0, top = lua_gettop(L);
  for (lua_Integer i = (lua_Integer)lua_rawlen(L, list); i >= 1 && !found; i--, lua_settop(L, top)) {
    lua_rawgeti(L, list, i);
    lua_rawgeti(L, -1, 1);
    found = strcmp(lua_tostring(L, -1), name) == 0;
  }
  return found;
}

static void take_name(lua_State *L, reading *of, int list, const char *name) {
  if (!name[0] || strlen(name) > 40 || !is_plain(name, "_ -"))
    girdle_lua_fault_of(&of->faults, NULL, GIRDLE_ARGUMENT,
                        "the name of a parameter has 1 to 40 characters: letters, digits, '_', '-' and spaces");
  else if (is_taken(L, list, name))
    girdle_lua_fault_of(&of->faults, NULL, GIRDLE_ARGUMENT, "%s is taken twice", name);
}

/* Checks the row on top, one parameter of `takes`, and adds to the list at `list` a row of our own, which the file can
 * no longer change. */
static void take_row(lua_State *L, reading *of, int list) {
  girdle_lua_value v[TAKES_END];
  girdle_lua_field field = {"default", -1, 0, -INFINITY, INFINITY, NULL, NULL, NULL, NULL};
  int row = lua_gettop(L), made;
  girdle_lua_gather(L, &of->work, row, girdle_fields_takes, v, &of->faults);
  if (!v[TAKES_NAME].text) return;
  take_name(L, of, list, v[TAKES_NAME].text);
  lua_createtable(L, 1, 8);
  made = lua_gettop(L);
  lua_pushstring(L, v[TAKES_NAME].text);
  lua_rawseti(L, made, 1);
  if (v[TAKES_KIND].text) field.kind = take_kind(&of->faults, v[TAKES_KIND].text);
  if (field.kind >= 0) {
    lua_pushinteger(L, field.kind);
    lua_setfield(L, made, "kind");
    take_bounds(L, of, row, made, &field);
    take_choices(L, of, row, made, &field);
    check_default(L, of, row, &field);
  }
  copy_field(L, row, made, "default");
  copy_field(L, row, made, "about");
  copy_field(L, row, made, "optional");
  lua_settop(L, made);
  lua_rawseti(L, list, (lua_Integer)lua_rawlen(L, list) + 1);
}

/* Names the faults of one row by its place and, when it has one, its name. */
static void name_row(lua_State *L, girdle_lua_faults *faults, int32_t from, lua_Integer place) {
  const char *name;
  lua_rawgeti(L, -1, 1);
  name = lua_type(L, -1) == LUA_TSTRING && lua_rawlen(L, -1) <= 40 ? lua_tostring(L, -1) : "";
  girdle_lua_faults_name(faults, from,
                         lua_pushfstring(L, *name ? "parameter %d (%s)" : "parameter %d", (int)place, name));
  lua_pop(L, 2);
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

/* What stands in `takes` by a name is in no row. */
static int is_list(lua_State *L, reading *of, int list, lua_Integer count) {
  for (lua_pushnil(L); lua_next(L, list); lua_pop(L, 1)) {
    girdle_lua_spend(L, of->work.context, 8);
    if (lua_isinteger(L, -2) && lua_tointeger(L, -2) >= 1 && lua_tointeger(L, -2) <= count) continue;
    lua_pop(L, 2);
    return 0;
  }
  return 1;
}

/* Pushes the checked copy of the list at `takes` in the table at 1. */
static void push_takes(lua_State *L, reading *of) {
  lua_Integer count = 0;
  int list, made;
  lua_pushliteral(L, "takes");
  lua_rawget(L, 1);
  list = lua_gettop(L);
  if (lua_type(L, list) == LUA_TTABLE) count = (lua_Integer)lua_rawlen(L, list);
  if (count > GIRDLE_LUA_PARAMETERS)
    girdle_lua_fail(L, GIRDLE_LIMIT, "takes", "a recipe takes at most %d parameters, not %I", GIRDLE_LUA_PARAMETERS,
                    count);
  if (lua_type(L, list) == LUA_TTABLE && !is_list(L, of, list, count))
    girdle_lua_fault_of(&of->faults, NULL, GIRDLE_ARGUMENT,
                        "takes is a list of parameters, one after another, like { { \"line\", \"path\" } }");
  lua_createtable(L, (int)count, 0);
  made = lua_gettop(L);
  for (lua_Integer i = 1; i <= count; i++, lua_settop(L, made)) {
    int32_t from = of->faults.kept;
    if (lua_rawgeti(L, list, i) == LUA_TTABLE) {
      take_row(L, of, made);
      lua_settop(L, made + 1);
      name_row(L, &of->faults, from, i);
    } else {
      girdle_lua_fault_of(&of->faults, NULL, GIRDLE_ARGUMENT,
                          "parameter %d is %s; each is a table, like { \"gap\", \"length\", default = \"0.5 mm\" }",
                          (int)i, girdle_lua_type_text(L, -1));
    }
  }
  lua_replace(L, list);
}

int girdle_lua_recipe_word(lua_State *L) {
  static const char *const kept[] = {"name", "about", "format", "place"};
  reading of;
  girdle_lua_value v[RECIPE_END];
  lua_settop(L, 1);
  check_format(L, "recipe");
  girdle_lua_faults_begin(&of.faults, "recipe");
  girdle_lua_begin(L, &of.work);
  girdle_lua_need_table(L, 1, "recipe", girdle_fields_recipe);
  girdle_lua_gather(L, &of.work, 1, girdle_fields_recipe, v, &of.faults);
  if (v[RECIPE_NAME].text && !is_name(v[RECIPE_NAME].text)) fault_name(&of.faults, "recipe");
  lua_createtable(L, 0, 5);
  for (size_t i = 0; i < 4; i++)
    copy_field(L, 1, lua_gettop(L), kept[i]);
  push_takes(L, &of);
  girdle_lua_raise(L, &of.faults);
  lua_setfield(L, -2, "takes");
  box_of_table(L, GIRDLE_BOX_RECIPE, v[RECIPE_NAME].text);
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

/* The texts among the keys of a table, in order; they stay held by the table. */
static uint64_t sorted_keys(lua_State *L, int table, const char **names, uint64_t capacity) {
  uint64_t count = 0;
  for (lua_pushnil(L); lua_next(L, table); lua_pop(L, 1))
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
  return girdle_lua_unknown(L, what, name, names, sorted_keys(L, 1, names, 128));
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

/* A parameter's default, on top of the stack, is a right example of it that lies within its range; its text is left
 * there. */
static void show_default(lua_State *L, girdle_lua_field *field) {
  girdle_lua_written(L, lua_gettop(L), field->kind);
  lua_replace(L, -2);
  if (lua_rawlen(L, -1) == 0 || lua_rawlen(L, -1) > 40) return;
  if (!is_bare(field->kind)) quote(L);
  field->example = lua_tostring(L, -1);
}

/* Reads all parameters into the tables at `into` and `into` + 1, the names that may be absent; with examples made from
 * the defaults, which takes a while, when they are wanted. */
static void fill_parameters(lua_State *L, int recipe, int given, int into, int with_examples,
                            girdle_lua_faults *faults) {
  girdle_lua_work work;
  girdle_lua_field fields[GIRDLE_LUA_PARAMETERS + 1] = {{0}};
  girdle_lua_begin(L, &work);
  faults->count = faults->kept = 0;
  for (int place = 1; place <= GIRDLE_LUA_PARAMETERS && girdle_lua_parameter(L, recipe, place, &fields[place - 1]);
       place++) {
    girdle_lua_field *field = &fields[place - 1];
    int top = lua_gettop(L);
    if (with_examples) { /* its text stays below the default */
      lua_pushvalue(L, top);
      show_default(L, field);
      if (!field->example) push_example(L, field);
      if (lua_gettop(L) > top + 1) lua_replace(L, -2);
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

void girdle_lua_check_given(lua_State *L, int recipe, int given) {
  push_given(L, recipe, given);
  lua_pop(L, 1);
}

static void refuse_result(lua_State *L, const girdle_lua_recipe *box) {
  girdle_lua_faults faults;
  girdle_lua_faults_begin(&faults, NULL);
  girdle_lua_fault_of(&faults, NULL, GIRDLE_ARGUMENT, "place of recipe '%s' must return a placement, not %s", box->name,
                      girdle_lua_type_text(L, -1));
  girdle_common_text(faults.list[0].source, sizeof faults.list[0].source, box->source);
  faults.list[0].line = box->line;
  girdle_lua_raise(L, &faults);
}

void girdle_lua_call_recipe(lua_State *L, int recipe, int given) {
  girdle_lua_context *context = girdle_lua_context_of(L);
  const girdle_lua_recipe *box = lua_touserdata(L, recipe);
  uint64_t seed = context->seed;
  int status, top = lua_gettop(L);
  if (context->depth >= GIRDLE_LUA_DEPTH)
    girdle_lua_fail(L, GIRDLE_LIMIT, NULL, "recipe '%s' lies more than %d recipes deep", box->name, GIRDLE_LUA_DEPTH);
  lua_pushcfunction(L, girdle_lua_note_place);
  lua_getiuservalue(L, recipe, 1);
  lua_getfield(L, -1, "place");
  lua_replace(L, -2);
  push_given(L, recipe, given);
  context->depth++;
  context->error_object = NULL;
  context->error_line = -1;
  context->seed = girdle_lua_seed_of(seed, box->name);
  status = lua_pcall(L, 1, 1, top + 1);
  context->depth--;
  context->seed = seed;
  if (status) lua_error(L);
  if (!girdle_lua_placement_at(L, -1)) refuse_result(L, box);
  lua_replace(L, top + 1);
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

void girdle_lua_refuse_compiled(lua_State *L, const char *file) {
  girdle_lua_fail(L, GIRDLE_SYNTAX, NULL,
                  "%s is compiled Lua, which is not read: a recipe is a text, like return recipe { format = 1, ... }",
                  file);
}

/* Loads a recipe file of one's own with the names recipe files see, in an environment of its own. */
static void load_file(lua_State *L, const char *file) {
  int status = luaL_loadfilex(L, file, "t");
  if (status == LUA_ERRFILE) girdle_lua_fail(L, GIRDLE_UNKNOWN, "file", "%s", lua_tostring(L, -1));
  if (status && strncmp(lua_tostring(L, -1), "attempt to load a binary", 24) == 0) girdle_lua_refuse_compiled(L, file);
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
    return girdle_lua_fail(L, GIRDLE_LIMIT, "file", "the name of the file's folder is longer than %d bytes",
                           (int)sizeof before - 1);
  memcpy(before, work.context->folder, sizeof before);
  snprintf(work.context->folder, sizeof before, "%.*s", (int)(name - v[0].text), v[0].text);
  load_file(L, v[0].text);
  girdle_lua_call_recipe(L, lua_gettop(L), lua_isnil(L, 2) ? 0 : 2);
  memcpy(work.context->folder, before, sizeof before);
  return 1;
}

/* ---- costumes */

const girdle_lua_field girdle_lua_measure_field = {"measure", GIRDLE_KIND_LENGTH, 1,   1e-3, 1e7, NULL,
                                                   NULL,      "\"52 cm\"",        NULL};

/* Notes what is wrong with the costume's own measures, in the order of their names. */
static void check_measures(lua_State *L, reading *of) {
  const char *names[256];
  girdle_lua_value value;
  uint64_t count;
  int nameless = 0, top = lua_gettop(L);
  lua_pushliteral(L, "measures");
  lua_rawget(L, 1);
  if (lua_type(L, -1) != LUA_TTABLE) { /* noted already, if it is there */
    lua_settop(L, top);
    return;
  }
  count = sorted_keys(L, top + 1, names, 256);
  for (uint64_t i = 0; i < count; i++, lua_settop(L, top + 1)) {
    int32_t from = of->faults.kept;
    lua_pushstring(L, names[i]);
    lua_rawget(L, top + 1);
    if (girdle_lua_read(L, &of->work, &girdle_lua_measure_field, &value)) note_fault(of, &girdle_lua_measure_field);
    girdle_lua_faults_name(&of->faults, from, lua_pushfstring(L, "measure '%s'", names[i]));
  }
  for (lua_pushnil(L); lua_next(L, top + 1); lua_pop(L, 1)) {
    girdle_lua_spend(L, of->work.context, 8);
    nameless |= lua_type(L, -2) != LUA_TSTRING;
  }
  if (nameless)
    girdle_lua_fault_of(&of->faults, NULL, GIRDLE_ARGUMENT,
                        "measures are given by name, like { neckline = \"52 cm\" }");
  lua_settop(L, top);
}

/* Notes what is wrong with the fields of the table `name` of the one at `table`, when it is there; pushes it or nil. */
static void check_inner(lua_State *L, reading *of, int table, const char *name, const girdle_lua_field *fields,
                        girdle_lua_value *v) {
  int32_t from = of->faults.kept;
  int inner = lua_gettop(L) + 1;
  lua_pushstring(L, name);
  lua_rawget(L, table);
  if (lua_type(L, inner) == LUA_TTABLE) girdle_lua_gather(L, &of->work, inner, fields, v, &of->faults);
  girdle_lua_faults_name(&of->faults, from, name);
  lua_settop(L, inner);
}

static void check_fabric(lua_State *L, reading *of) {
  girdle_lua_value v[FABRIC_END];
  int fabric = lua_gettop(L) + 1;
  check_inner(L, of, 1, "fabric", girdle_fields_fabric, v);
  if (lua_type(L, fabric) == LUA_TTABLE) {
    check_inner(L, of, fabric, "lies", girdle_fields_state, v);
    check_inner(L, of, fabric, "worn", girdle_fields_state, v);
  }
  lua_settop(L, fabric - 1);
}

int girdle_lua_costume(lua_State *L) {
  reading of;
  girdle_lua_value v[COSTUME_END];
  lua_settop(L, 1);
  check_format(L, "costume");
  girdle_lua_faults_begin(&of.faults, "costume");
  girdle_lua_begin(L, &of.work);
  girdle_lua_need_table(L, 1, "costume", girdle_fields_costume);
  girdle_lua_gather(L, &of.work, 1, girdle_fields_costume, v, &of.faults);
  if (v[COSTUME_NAME].text && !is_name(v[COSTUME_NAME].text)) fault_name(&of.faults, "costume");
  check_measures(L, &of);
  check_fabric(L, &of);
  girdle_lua_raise(L, &of.faults);
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
