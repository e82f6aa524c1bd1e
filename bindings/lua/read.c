/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"
#include "words.h"

/* Reading values: a field of a verb and a parameter of a recipe are read by the same few functions, one a kind. Each
 * reads the value on top of the stack and leaves there what holds the result. */

enum { STEPS_OF_VALUE = 16 }; /* what reading one costs, in Lua's instructions */

typedef int32_t reader(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value);

const char *girdle_lua_type_text(lua_State *L, int index) {
  int32_t kind = girdle_lua_box_kind(L, index);
  if (kind >= 0) return lua_pushfstring(L, "a %s", girdle_lua_box_text(kind));
  switch (lua_type(L, index)) {
    case LUA_TNIL:
    case LUA_TNONE:
      return "nothing";
    case LUA_TBOOLEAN:
      return lua_toboolean(L, index) ? "true" : "false";
    case LUA_TNUMBER:
      if (lua_isinteger(L, index)) return lua_pushfstring(L, "the number %I", lua_tointeger(L, index));
      girdle_lua_push_number(L, lua_tonumber(L, index), 6);
      return lua_pushfstring(L, "the number %s", lua_tostring(L, -1));
    case LUA_TSTRING:
      return lua_rawlen(L, index) <= 60 ? lua_pushfstring(L, "the text '%s'", lua_tostring(L, index)) : "a long text";
    case LUA_TTABLE:
      return "a table";
    case LUA_TFUNCTION:
      return "a function";
    default:
      return "a value of another kind";
  }
}

static int32_t wrong(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, const char *wanted) {
  int top = lua_gettop(L);
  int32_t status = girdle_common_fail(&work->call, GIRDLE_ARGUMENT, field->name, "%s must be %s, not %s", field->name,
                                      wanted, girdle_lua_type_text(L, -1));
  lua_settop(L, top);
  return status;
}

/* The text on top, without a NUL inside; NULL with the error set. */
static const char *plain_text(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field) {
  size_t bytes;
  const char *text = lua_tolstring(L, -1, &bytes);
  if (strlen(text) == bytes) return text;
  girdle_common_fail(&work->call, GIRDLE_SYNTAX, field->name, "%s holds a NUL byte", field->name);
  return NULL;
}

static int32_t in_range(girdle_lua_work *work, const girdle_lua_field *field, double value, const char *unit) {
  if (!isfinite(value))
    return girdle_common_fail(&work->call, GIRDLE_ARGUMENT, field->name, "%s must be a finite number", field->name);
  if (unit[0] == '%' && !(value >= field->least && value <= field->most)) /* a share is written in per cent */
    return girdle_common_range(&work->call, field->name, value * 100, field->least * 100, field->most * 100, unit);
  return girdle_common_range(&work->call, field->name, value, field->least, field->most, unit);
}

/* ---- numbers with units */

static int32_t read_quantity(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                             girdle_lua_value *value, int32_t kind, const char *unit) {
  const char *text;
  if (lua_type(L, -1) == LUA_TNUMBER) {
    value->number = lua_tonumber(L, -1);
  } else if (lua_type(L, -1) == LUA_TSTRING) {
    text = plain_text(L, work, field);
    if (!text) return work->error.status;
    GIRDLE_TRY(girdle_quantity_parse(&work->call, text, kind, &value->number));
  } else {
    return wrong(L, work, field, girdle_lua_kind_text(field->kind));
  }
  return in_range(work, field, value->number, unit);
}

static int ends_with(const char *text, size_t bytes, const char *word) {
  size_t length = strlen(word);
  return bytes > length && memcmp(text + bytes - length, word, length) == 0 && text[bytes - length - 1] == ' ';
}

/* "1 mm worn" is meant as the costume is worn and becomes what that is where it is glued; "glued" is what it is. */
static int32_t read_length(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                           girdle_lua_value *value) {
  size_t bytes = 0;
  const char *text = lua_type(L, -1) == LUA_TSTRING ? lua_tolstring(L, -1, &bytes) : NULL;
  int worn = text && ends_with(text, bytes, "worn");
  if (worn || (text && ends_with(text, bytes, "glued"))) {
    lua_pushlstring(L, text, bytes - (worn ? 5 : 6));
    lua_replace(L, -2);
  }
  GIRDLE_TRY(read_quantity(L, work, field, value, GIRDLE_LENGTH, "mm"));
  if (worn) value->number *= work->context->glued_per_worn;
  return GIRDLE_OK;
}

static int32_t read_area(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  return read_quantity(L, work, field, value, GIRDLE_AREA, "mm2");
}

static int32_t read_angle(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  return read_quantity(L, work, field, value, GIRDLE_ANGLE, "deg");
}

static int32_t read_percent(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                            girdle_lua_value *value) {
  return read_quantity(L, work, field, value, GIRDLE_SHARE, "%");
}

static int32_t read_mass(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  return read_quantity(L, work, field, value, GIRDLE_MASS, "mg");
}

static int32_t read_areal_mass(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                               girdle_lua_value *value) {
  return read_quantity(L, work, field, value, GIRDLE_AREAL_MASS, "g/m2");
}

static int32_t read_number(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                           girdle_lua_value *value) {
  return read_quantity(L, work, field, value, GIRDLE_NUMBER, "");
}

static int32_t read_integer(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                            girdle_lua_value *value) {
  GIRDLE_TRY(read_quantity(L, work, field, value, GIRDLE_NUMBER, ""));
  if (value->number != floor(value->number) || fabs(value->number) > 9007199254740992.0)
    return wrong(L, work, field, "a whole number");
  value->integer = (int64_t)value->number;
  return GIRDLE_OK;
}

/* A number of pieces may be typed as people do: "2 1/2 gross". */
static int32_t read_pieces(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                           girdle_lua_value *value) {
  const char *text;
  if (lua_type(L, -1) != LUA_TSTRING) return read_integer(L, work, field, value);
  text = plain_text(L, work, field);
  if (!text) return work->error.status;
  GIRDLE_TRY(girdle_pieces_parse(&work->call, text, &value->integer));
  value->number = (double)value->integer;
  return in_range(work, field, value->number, "pieces");
}

static int32_t read_turn(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  if (lua_type(L, -1) == LUA_TSTRING && strcmp(lua_tostring(L, -1), "along") == 0) return GIRDLE_OK;
  return read_angle(L, work, field, value);
}

/* ---- words */

static int32_t choice_unknown(girdle_lua_work *work, const girdle_lua_field *field, const char *text) {
  char copy[256];
  const char *known[16];
  uint64_t count = 0;
  girdle_common_text(copy, sizeof copy, field->choices);
  for (char *at = copy; at && count < 16; count++) {
    known[count] = at;
    at = strchr(at, '|');
    if (at) *at++ = '\0';
  }
  if (girdle_nearest(text, known, count)) return girdle_common_unknown(&work->call, field->name, text, known, count);
  return girdle_common_fail(&work->call, GIRDLE_UNKNOWN, field->name, "%s must be one of %s, not '%.40s'", field->name,
                            field->choices, text);
}

static int32_t read_choice(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                           girdle_lua_value *value) {
  const char *text, *at = field->choices;
  if (lua_type(L, -1) != LUA_TSTRING) return wrong(L, work, field, "a text");
  text = plain_text(L, work, field);
  if (!text) return work->error.status;
  for (int32_t place = 0; at; place++) {
    size_t length = strcspn(at, "|");
    if (strlen(text) == length && memcmp(text, at, length) == 0) {
      value->choice = place;
      value->text = text;
      return GIRDLE_OK;
    }
    at = at[length] ? at + length + 1 : NULL;
  }
  return choice_unknown(work, field, text);
}

static int32_t read_flag(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  const char *text = lua_type(L, -1) == LUA_TSTRING ? lua_tostring(L, -1) : "";
  if (lua_type(L, -1) == LUA_TBOOLEAN)
    value->choice = lua_toboolean(L, -1);
  else if (strcmp(text, "yes") == 0 || strcmp(text, "true") == 0)
    value->choice = 1;
  else if (strcmp(text, "no") != 0 && strcmp(text, "false") != 0)
    return wrong(L, work, field, "true or false");
  return GIRDLE_OK;
}

/* A seed is a whole number or any text. */
static int32_t read_seed(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  double number;
  const char *text;
  if (lua_type(L, -1) != LUA_TSTRING) return read_integer(L, work, field, value);
  text = plain_text(L, work, field);
  if (!text) return work->error.status;
  if (girdle_number_parse(NULL, text, strlen(text), &number) == GIRDLE_OK) return read_integer(L, work, field, value);
  value->integer = (int64_t)(girdle_lua_seed_of(0, text) >> 11);
  value->number = (double)value->integer;
  return GIRDLE_OK;
}

static int32_t read_text(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  if (lua_type(L, -1) != LUA_TSTRING) return wrong(L, work, field, "a text");
  value->text = plain_text(L, work, field);
  return value->text ? GIRDLE_OK : work->error.status;
}

/* ---- shapes */

static int32_t keep_path(lua_State *L, girdle_path **path, int32_t status, girdle_lua_value *value) {
  value->handle = *path;
  lua_replace(L, -2);
  return status;
}

static int32_t read_path(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  const girdle_region *region = girdle_lua_region_at(L, -1);
  girdle_path **path;
  const char *text;
  value->handle = girdle_lua_path_at(L, -1);
  if (value->handle) return GIRDLE_OK;
  if (region) {
    path = girdle_lua_new_path(L);
    return keep_path(L, path, girdle_region_rim(&work->call, region, path), value);
  }
  if (lua_type(L, -1) != LUA_TSTRING) return wrong(L, work, field, "a path");
  text = plain_text(L, work, field);
  if (!text) return work->error.status;
  path = girdle_lua_new_path(L);
  return keep_path(L, path, girdle_path_from_text(&work->call, text, path), value);
}

static int32_t keep_region(lua_State *L, girdle_region **region, int32_t status, girdle_lua_value *value) {
  value->handle = *region;
  lua_replace(L, -2);
  return status;
}

static int32_t read_region(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                           girdle_lua_value *value) {
  const girdle_path *path = girdle_lua_path_at(L, -1);
  girdle_region **region;
  const char *text;
  value->handle = girdle_lua_region_at(L, -1);
  if (value->handle) return GIRDLE_OK;
  if (path && !girdle_path_is_closed(path))
    return girdle_common_fail(&work->call, GIRDLE_GEOMETRY, field->name, "%s must be closed: this path has two ends",
                              field->name);
  if (path) {
    region = girdle_lua_new_region(L);
    return keep_region(L, region, girdle_region_new(&work->call, path, GIRDLE_NONZERO, region), value);
  }
  if (lua_type(L, -1) != LUA_TSTRING) return wrong(L, work, field, "a region");
  text = plain_text(L, work, field);
  if (!text) return work->error.status;
  region = girdle_lua_new_region(L);
  return keep_region(L, region, girdle_region_from_text(&work->call, text, region), value);
}

static int32_t read_placement(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                              girdle_lua_value *value) {
  value->handle = girdle_lua_placement_at(L, -1);
  return value->handle ? GIRDLE_OK : wrong(L, work, field, "a placement");
}

/* ---- stones */

/* Reads the stone on top into `out`: a stone, its text, or the fields of one. */
static int32_t stone_from(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_stone *out) {
  const girdle_stone *stone = girdle_lua_stone_at(L, -1);
  const char *text;
  girdle_lua_spend(L, work->context, STEPS_OF_VALUE);
  if (stone) {
    *out = *stone;
    return GIRDLE_OK;
  }
  if (lua_type(L, -1) != LUA_TSTRING) return wrong(L, work, field, "a stone");
  text = plain_text(L, work, field);
  return text ? girdle_stone_parse(&work->call, text, out) : work->error.status;
}

static int32_t read_stone(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  girdle_stone stone;
  memset(&stone, 0, sizeof stone);
  GIRDLE_TRY(stone_from(L, work, field, &stone));
  girdle_lua_push_stone(L, &stone);
  lua_replace(L, -2);
  value->stones = lua_touserdata(L, -1);
  value->count = 1;
  return GIRDLE_OK;
}

/* Turns "ss20 black; ss20 clear" on top into a list of its texts. */
static void split_text(lua_State *L) {
  const char *at = lua_tostring(L, -1);
  girdle_lua_charge(L, lua_rawlen(L, -1));
  lua_newtable(L);
  for (int place = 1; at; place++) {
    size_t length;
    const char *end;
    while (*at == ' ')
      at++;
    length = strcspn(at, ";");
    end = at[length] ? at + length + 1 : NULL;
    while (length && at[length - 1] == ' ')
      length--;
    lua_pushlstring(L, at, length);
    lua_rawseti(L, -2, place);
    at = end;
  }
  lua_replace(L, -2);
}

static int32_t list_length(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, uint64_t *count) {
  *count = lua_rawlen(L, -1);
  if (*count >= 1 && *count <= 65535) return GIRDLE_OK;
  return girdle_common_fail(&work->call, GIRDLE_ARGUMENT, field->name, "%s must hold 1 to 65535 stones, not %llu",
                            field->name, (unsigned long long)*count);
}

/* The stone in a place of the list on top; with its weight when `weight` is wanted and given. */
static int32_t stone_in_list(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, uint64_t place,
                             girdle_stone *stone, double *weight) {
  static const girdle_lua_field weighing = {"weight", GIRDLE_KIND_NUMBER, 0, 0, 1e12, NULL, NULL, NULL, NULL};
  girdle_lua_value number;
  int32_t status;
  lua_rawgeti(L, -1, (lua_Integer)place);
  if (weight && lua_type(L, -1) == LUA_TTABLE) {
    lua_rawgeti(L, -1, 2);
    status = read_number(L, work, &weighing, &number);
    lua_pop(L, 1);
    if (status) return status;
    *weight = number.number;
    lua_rawgeti(L, -1, 1);
    lua_replace(L, -2);
  }
  status = stone_from(L, work, field, stone);
  lua_pop(L, 1);
  return status;
}

static int32_t read_list(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value,
                         int weighted) {
  girdle_stone *stones;
  double *weights;
  if (lua_type(L, -1) == LUA_TSTRING) split_text(L);
  if (girdle_lua_stone_at(L, -1)) return read_stone(L, work, field, value);
  if (lua_type(L, -1) != LUA_TTABLE) return wrong(L, work, field, "a list of stones");
  GIRDLE_TRY(list_length(L, work, field, &value->count));
  stones = lua_newuserdatauv(L, (size_t)value->count * (sizeof *stones + sizeof *weights), 0);
  weights = (double *)(void *)(stones + value->count);
  memset(stones, 0, (size_t)value->count * sizeof *stones);
  lua_insert(L, -2);
  for (uint64_t i = 0; i < value->count; i++) {
    int top = lua_gettop(L);
    weights[i] = 1;
    if (stone_in_list(L, work, field, i + 1, &stones[i], weighted ? &weights[i] : NULL)) {
      lua_settop(L, top - 1);
      return work->error.status;
    }
  }
  lua_pop(L, 1);
  value->stones = stones;
  value->numbers = weighted ? weights : NULL;
  return GIRDLE_OK;
}

static int32_t read_stones(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                           girdle_lua_value *value) {
  return read_list(L, work, field, value, 0);
}

static int32_t read_weighted(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                             girdle_lua_value *value) {
  return read_list(L, work, field, value, 1);
}

/* Rows one after another: the stones of all, and how many each has. What holds them is a table. */
static int32_t read_rows(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  uint64_t rows = lua_type(L, -1) == LUA_TTABLE ? lua_rawlen(L, -1) : 0, sum = 0, *counts;
  girdle_stone *stones;
  int list = lua_gettop(L);
  if (rows < 1 || rows > 1000) return wrong(L, work, field, "a list of 1 to 1000 rows, each a list of stones");
  luaL_checkstack(L, 8, NULL);
  lua_createtable(L, (int)rows + 2, 0);
  counts = lua_newuserdatauv(L, (size_t)rows * sizeof *counts, 0);
  lua_rawseti(L, list + 1, (lua_Integer)rows + 1);
  for (uint64_t i = 0; i < rows; i++) {
    girdle_lua_value row = {0};
    lua_rawgeti(L, list, (lua_Integer)i + 1);
    if (read_list(L, work, field, &row, 0)) {
      lua_settop(L, list);
      return work->error.status;
    }
    lua_rawseti(L, list + 1, (lua_Integer)i + 1);
    counts[i] = row.count;
    sum += row.count;
  }
  if (sum > 65535) {
    lua_settop(L, list);
    return girdle_common_fail(&work->call, GIRDLE_LIMIT, field->name, "%s hold more than 65535 stones", field->name);
  }
  stones = lua_newuserdatauv(L, (size_t)sum * sizeof *stones, 0);
  for (uint64_t i = 0, at = 0; i < rows; at += counts[i++]) {
    lua_rawgeti(L, list + 1, (lua_Integer)i + 1);
    memcpy(stones + at, lua_touserdata(L, -1), (size_t)counts[i] * sizeof *stones);
    lua_pop(L, 1);
  }
  lua_rawseti(L, list + 1, (lua_Integer)rows + 2);
  lua_replace(L, list);
  value->stones = stones;
  value->counts = counts;
  value->count = sum;
  value->rows = rows;
  return GIRDLE_OK;
}

/* ---- places */

/* What stands in the places of a row: x or from, y or to, a turn, a scale. */
static const girdle_lua_field row_fields[GIRDLE_LUA_ROW] = {
    {"a place", GIRDLE_KIND_LENGTH, 1, -1e7, 1e7, NULL, NULL, "\"12.5 mm\"", NULL},
    {"a place", GIRDLE_KIND_LENGTH, 1, -1e7, 1e7, NULL, NULL, "\"12.5 mm\"", NULL},
    {"a turn", GIRDLE_KIND_ANGLE, 0, -1e6, 1e6, NULL, NULL, "\"30 deg\"", NULL},
    {"a scale", GIRDLE_KIND_NUMBER, 0, 0.1, 100, NULL, NULL, "1.5", NULL},
};

/* One number of the row on top; what is absent and not needed stays as it is. */
static int32_t number_of_row(lua_State *L, girdle_lua_work *work, int place, double *out) {
  const girdle_lua_field *field = &row_fields[place];
  girdle_lua_value value = {0};
  int32_t status = GIRDLE_OK;
  girdle_lua_spend(L, work->context, STEPS_OF_VALUE);
  lua_rawgeti(L, -1, place + 1);
  if (!lua_isnil(L, -1) || field->needed) {
    status = field->kind == GIRDLE_KIND_ANGLE    ? read_angle(L, work, field, &value)
             : field->kind == GIRDLE_KIND_NUMBER ? read_number(L, work, field, &value)
                                                 : read_length(L, work, field, &value);
    *out = value.number;
  }
  lua_pop(L, 1);
  return status;
}

/* A list of rows of two to four numbers. */
static int32_t read_rows_of_numbers(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                                    girdle_lua_value *value, const char *wanted) {
  uint64_t count = lua_type(L, -1) == LUA_TTABLE ? lua_rawlen(L, -1) : 0;
  double *numbers;
  int32_t status = GIRDLE_OK;
  if (lua_type(L, -1) != LUA_TTABLE || count > 1000000) return wrong(L, work, field, wanted);
  numbers = lua_newuserdatauv(L, (size_t)(count + 1) * GIRDLE_LUA_ROW * sizeof *numbers, 0);
  for (uint64_t i = 0; i < count && !status; i++) {
    double *row = &numbers[GIRDLE_LUA_ROW * i];
    row[2] = 0;
    row[3] = 1;
    lua_rawgeti(L, -2, (lua_Integer)i + 1);
    if (lua_type(L, -1) != LUA_TTABLE) status = wrong(L, work, field, wanted);
    for (int place = 0; place < GIRDLE_LUA_ROW && !status; place++)
      status = number_of_row(L, work, place, &row[place]);
    lua_pop(L, 1);
  }
  lua_replace(L, -2);
  value->numbers = numbers;
  value->count = count;
  return status;
}

static int32_t read_points(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                           girdle_lua_value *value) {
  return read_rows_of_numbers(L, work, field, value, "a list of places like { {10, 20}, {30, 20, 90} }");
}

/* "18 cm to 22 cm; 30 cm to 31 cm" on top becomes a list of pairs of texts. */
static int32_t split_stretches(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field) {
  split_text(L);
  for (lua_Integer i = (lua_Integer)lua_rawlen(L, -1); i >= 1; i--) {
    const char *text, *to;
    lua_rawgeti(L, -1, i);
    text = lua_tostring(L, -1);
    to = strstr(text, " to ");
    if (!to)
      return girdle_common_fail(&work->call, GIRDLE_SYNTAX, field->name,
                                "'%.60s' is not a stretch; write one like \"18 cm to 22 cm\"", text);
    lua_createtable(L, 2, 0);
    lua_pushlstring(L, text, (size_t)(to - text));
    lua_rawseti(L, -2, 1);
    lua_pushstring(L, to + 4);
    lua_rawseti(L, -2, 2);
    lua_rawseti(L, -3, i);
    lua_pop(L, 1);
  }
  return GIRDLE_OK;
}

static int32_t read_stretches(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                              girdle_lua_value *value) {
  if (lua_type(L, -1) == LUA_TSTRING && lua_rawlen(L, -1) == 0) return GIRDLE_OK;
  if (lua_type(L, -1) == LUA_TSTRING) GIRDLE_TRY(split_stretches(L, work, field));
  return read_rows_of_numbers(L, work, field, value, "a list of stretches like { {\"18 cm\", \"22 cm\"} }");
}

/* {x, y}, or "10 mm, 20 mm" */
static int32_t read_point(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  const char *text = lua_type(L, -1) == LUA_TSTRING ? lua_tostring(L, -1) : NULL,
             *comma = text ? strchr(text, ',') : NULL;
  if (comma) {
    lua_createtable(L, 2, 0);
    lua_pushlstring(L, text, (size_t)(comma - text));
    lua_rawseti(L, -2, 1);
    lua_pushstring(L, comma + 1);
    lua_rawseti(L, -2, 2);
    lua_replace(L, -2);
  }
  if (lua_type(L, -1) != LUA_TTABLE) return wrong(L, work, field, "a place like { 10, 20 } or \"10 mm, 20 mm\"");
  GIRDLE_TRY(number_of_row(L, work, 0, &value->x_mm));
  return number_of_row(L, work, 1, &value->y_mm);
}

/* ---- others */

static int find_recipe(lua_State *L) {
  girdle_lua_context_of(L)->find(L, lua_tostring(L, 1));
  return 1;
}

/* Whether what was raised last stands where we are, not in a file that was looked into. */
static int raised_here(lua_State *L, const girdle_lua_context *context) {
  char source[sizeof context->faults[0].source];
  int32_t line = girdle_lua_where(L, source, sizeof source);
  return girdle_lua_is_raised(context, lua_tostring(L, -1)) && context->faults[0].line == line &&
         strcmp(context->faults[0].source, source) == 0;
}

/* A name that is not found is the field's fault; what goes wrong within that recipe's file is told as it is. */
static int32_t recipe_by_name(lua_State *L, girdle_lua_work *work) {
  const girdle_lua_context *context = work->context;
  lua_pushcfunction(L, find_recipe);
  lua_insert(L, -2);
  if (lua_pcall(L, 1, 1, 0) == LUA_OK) return GIRDLE_OK;
  if ((context->stopped && context->stopped(context)) || !raised_here(L, context)) lua_error(L);
  work->error = context->faults[0];
  return work->error.status;
}

static int32_t read_recipe(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                           girdle_lua_value *value) {
  if (lua_type(L, -1) == LUA_TSTRING && work->context->find) GIRDLE_TRY(recipe_by_name(L, work));
  value->handle = girdle_lua_box_at(L, -1, GIRDLE_BOX_RECIPE);
  return value->handle ? GIRDLE_OK : wrong(L, work, field, "a recipe");
}

static int32_t read_table(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  (void)value;
  return lua_type(L, -1) == LUA_TTABLE ? GIRDLE_OK : wrong(L, work, field, "a table");
}

static int32_t read_function(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field,
                             girdle_lua_value *value) {
  (void)value;
  return lua_type(L, -1) == LUA_TFUNCTION ? GIRDLE_OK : wrong(L, work, field, "a function");
}

static int32_t read_any(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  (void)L;
  (void)work;
  (void)field;
  (void)value;
  return GIRDLE_OK;
}

static const struct {
  const char *text;
  reader *read;
} kinds[GIRDLE_KIND_END] = {
    {"length", read_length},
    {"path", read_path},
    {"region", read_region},
    {"stone", read_stone},
    {"stones", read_stones},
    {"number", read_number},
    {"integer", read_integer},
    {"percent", read_percent},
    {"angle", read_angle},
    {"choice", read_choice},
    {"flag", read_flag},
    {"seed", read_seed},
    {"point", read_point},
    {"text", read_text},
    {"recipe", read_recipe},
    {"weighted stones", read_weighted},
    {"rows", read_rows},
    {"placement", read_placement},
    {"stretches", read_stretches},
    {"places", read_points},
    {"turn", read_turn},
    {"area", read_area},
    {"mass per area", read_areal_mass},
    {"mass", read_mass},
    {"pieces", read_pieces},
    {"table", read_table},
    {"function", read_function},
    {"value", read_any},
};

const char *girdle_lua_kind_text(int32_t kind) {
  return kinds[kind].text;
}

int32_t girdle_lua_kind_find(const char *name) {
  for (int32_t kind = 0; kind < GIRDLE_KIND_PARAMETERS; kind++)
    if (strcmp(kinds[kind].text, name) == 0) return kind;
  return -1;
}

int32_t girdle_lua_read(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value) {
  memset(value, 0, sizeof *value);
  value->number = NAN;
  luaL_checkstack(L, 16, NULL);
  if (lua_isnil(L, -1)) return GIRDLE_OK;
  girdle_lua_spend(L, work->context, STEPS_OF_VALUE);
  value->given = 1;
  return kinds[field->kind].read(L, work, field, value);
}
