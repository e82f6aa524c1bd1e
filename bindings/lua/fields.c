/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <stdio.h>
#include <string.h>

#include "common.h"
#include "words.h"

/* All fields of a word together: what is unknown, missing or wrong is gathered and raised at once. */

static uint64_t field_names(const girdle_lua_field *fields, const char **names) {
  uint64_t count = 0;
  for (; fields[count].name && count < GIRDLE_LUA_PARAMETERS; count++)
    names[count] = fields[count].name;
  return count;
}

/* A field named "1" is the value in that place. */
static int place_of(const char *name) {
  return name[0] >= '1' && name[0] <= '9' && !name[1] ? name[0] - '0' : 0;
}

static int is_field(lua_State *L, int key, const char *const *names, uint64_t count) {
  if (lua_type(L, key) == LUA_TNUMBER) {
    lua_Integer place = lua_isinteger(L, key) ? lua_tointeger(L, key) : 0;
    for (uint64_t i = 0; i < count; i++)
      if (place && place_of(names[i]) == place) return 1;
    return 0;
  }
  for (uint64_t i = 0; lua_type(L, key) == LUA_TSTRING && i < count; i++)
    if (strcmp(lua_tostring(L, key), names[i]) == 0) return 1;
  return 0;
}

/* The alphabetically next unknown key of a table after `last`; 0 when there is none. */
static int next_unknown(lua_State *L, int index, const char *const *names, uint64_t count, const char *last,
                        char next[48]) {
  const girdle_lua_context *context = girdle_lua_context_of(L);
  int found = 0;
  for (lua_pushnil(L); lua_next(L, index); lua_pop(L, 1)) {
    char name[48];
    girdle_lua_spend(L, context, 8 + count);
    if (is_field(L, -2, names, count)) continue;
    girdle_common_text(name, sizeof name, lua_type(L, -2) == LUA_TSTRING ? lua_tostring(L, -2) : "1");
    if ((last[0] && strcmp(name, last) <= 0) || (found && strcmp(name, next) >= 0)) continue;
    memcpy(next, name, sizeof name);
    found = 1;
  }
  return found;
}

/* What is right: the nearest field with its example; with none near, the names there are. */
static void show_right(girdle_error *error, const girdle_lua_field *fields) {
  size_t used = strlen(error->message), bytes = sizeof error->message;
  if (strstr(error->message, "; known are ")) return;
  for (uint64_t i = 0; fields[i].name; i++) {
    if (error->nearest[0] && strcmp(error->nearest, fields[i].name) == 0 && fields[i].example)
      snprintf(error->message + used, bytes - used, " For example %s = %s", fields[i].name, fields[i].example);
    if (error->nearest[0] || place_of(fields[i].name)) continue;
    snprintf(error->message + used, bytes - used, "%s%s", strstr(error->message, "; known ") ? ", " : "; known are ",
             fields[i].name);
    used = strlen(error->message);
  }
}

/* In the order of the alphabet, so that messages do not depend on how a table is stored. */
void girdle_lua_unknown_keys(lua_State *L, int index, const char *what, const girdle_lua_field *fields,
                             girdle_lua_faults *faults) {
  char last[48] = "", next[48];
  const char *names[GIRDLE_LUA_PARAMETERS];
  uint64_t count = field_names(fields, names);
  while (faults->kept < GIRDLE_LUA_FAULTS && next_unknown(L, index, names, count, last, next)) {
    girdle_lua_fault_unknown(faults, place_of(next) ? "value without a name" : what, next, names, count);
    show_right(&faults->list[faults->kept - 1], fields);
    memcpy(last, next, sizeof last);
    if (!last[0]) return;
  }
}

/* Reads the value on top as a field; leaves what holds it. */
static void read_field(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value,
                       girdle_lua_faults *faults) {
  int top = lua_gettop(L);
  if (girdle_lua_read(L, work, field, value)) {
    girdle_lua_fault(faults, &work->error, field);
    girdle_error_init(&work->error, sizeof work->error);
  } else if (!value->given && field->needed) {
    girdle_lua_fault_of(faults, field, GIRDLE_ARGUMENT, "%s is missing", field->name);
  }
  lua_settop(L, top);
}

void girdle_lua_need_table(lua_State *L, int index, const char *word, const girdle_lua_field *fields) {
  if (lua_type(L, index) == LUA_TTABLE) return;
  girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "%s takes one table, like %s { %s = %s, ... }, not %s", word, word,
                  fields[0].name, fields[0].example ? fields[0].example : "...", girdle_lua_type_text(L, index));
}

void girdle_lua_gather(lua_State *L, girdle_lua_work *work, int index, const girdle_lua_field *fields,
                       girdle_lua_value *values, girdle_lua_faults *faults) {
  luaL_checkstack(L, 2 * GIRDLE_LUA_PLACES, NULL);
  for (uint64_t i = 0; fields[i].name; i++) {
    if (place_of(fields[i].name)) {
      lua_rawgeti(L, index, place_of(fields[i].name));
    } else {
      lua_pushstring(L, fields[i].name);
      lua_rawget(L, index);
    }
    read_field(L, work, &fields[i], &values[i], faults);
  }
  girdle_lua_unknown_keys(L, index, "field", fields, faults);
}

void girdle_lua_fields(lua_State *L, girdle_lua_work *work, int index, const char *word, const girdle_lua_field *fields,
                       girdle_lua_value *values) {
  girdle_lua_faults faults;
  girdle_lua_faults_begin(&faults, word);
  girdle_lua_begin(L, work);
  girdle_lua_need_table(L, index, word, fields);
  girdle_lua_gather(L, work, index, fields, values, &faults);
  girdle_lua_raise(L, &faults);
}

void girdle_lua_places(lua_State *L, girdle_lua_work *work, int index, const char *word, const girdle_lua_field *fields,
                       girdle_lua_value *values) {
  girdle_lua_faults faults;
  int given = lua_gettop(L), place = 0;
  girdle_lua_faults_begin(&faults, word);
  girdle_lua_begin(L, work);
  luaL_checkstack(L, 2 * GIRDLE_LUA_PLACES, NULL);
  for (; fields[place].name; place++) {
    if (index + place <= given)
      lua_pushvalue(L, index + place);
    else
      lua_pushnil(L);
    read_field(L, work, &fields[place], &values[place], &faults);
  }
  if (given >= index + place)
    girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "%s takes at most %d values, not %d", word, place, given - index + 1);
  girdle_lua_raise(L, &faults);
}

/* ---- what recipes see, and what people write */

void girdle_lua_seen(lua_State *L, int32_t kind, const girdle_lua_value *value) {
  if (!value->given) return;
  switch (kind) {
    case GIRDLE_KIND_LENGTH:
    case GIRDLE_KIND_NUMBER:
    case GIRDLE_KIND_PERCENT:
    case GIRDLE_KIND_ANGLE:
      lua_pushnumber(L, value->number);
      break;
    case GIRDLE_KIND_INTEGER:
    case GIRDLE_KIND_SEED:
      lua_pushinteger(L, (lua_Integer)value->integer);
      break;
    case GIRDLE_KIND_FLAG:
      lua_pushboolean(L, value->choice);
      break;
    case GIRDLE_KIND_STONES:
      lua_createtable(L, (int)value->count, 0);
      for (uint64_t i = 0; i < value->count; i++) {
        girdle_lua_push_stone(L, &value->stones[i]);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
      }
      break;
    case GIRDLE_KIND_POINT:
      lua_createtable(L, 2, 0);
      lua_pushnumber(L, value->x_mm);
      lua_rawseti(L, -2, 1);
      lua_pushnumber(L, value->y_mm);
      lua_rawseti(L, -2, 2);
      break;
    default:
      return;
  }
  lua_replace(L, -2);
}
