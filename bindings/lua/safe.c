/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <lualib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "words.h"

/* What recipe and costume files see beside the words. The environment is built by copying names in; nothing in it can
 * reach a file, the system or the state's own tables. What loops charges its steps and caps its input. */

static const char limited_key = 0;

/* ---- base */

/* Free of addresses. */
static int safe_tostring(lua_State *L) {
  luaL_checkany(L, 1);
  switch (lua_type(L, 1)) {
    case LUA_TTABLE:
    case LUA_TFUNCTION:
    case LUA_TTHREAD:
    case LUA_TLIGHTUSERDATA:
      lua_pushstring(L, luaL_typename(L, 1));
      break;
    default:
      luaL_tolstring(L, 1, NULL);
  }
  return 1;
}

/* A stop cannot be caught. */
static int safe_pcall(lua_State *L) {
  const girdle_lua_context *context = girdle_lua_context_of(L);
  int status;
  luaL_checkany(L, 1);
  status = lua_pcall(L, lua_gettop(L) - 1, LUA_MULTRET, 0);
  if (status && context->stopped && context->stopped(context)) return lua_error(L);
  lua_pushboolean(L, status == LUA_OK);
  lua_insert(L, 1);
  return lua_gettop(L);
}

/* Control characters but tab and line end are written as \ddd, byte by byte, so that nothing can disguise itself. */
static void add_escaped(luaL_Buffer *out, const char *text, size_t bytes) {
  char escape[8];
  uint64_t length;
  int control;
  for (; bytes; text += length, bytes -= (size_t)length) {
    length = girdle_common_character(text, bytes, &control);
    if (!control || *text == '\n' || *text == '\t') {
      luaL_addlstring(out, text, (size_t)length);
      continue;
    }
    for (uint64_t i = 0; i < length; i++) {
      snprintf(escape, sizeof escape, "\\%03u", (unsigned char)text[i]);
      luaL_addstring(out, escape);
    }
  }
}

static int safe_print(lua_State *L) {
  girdle_lua_context *context = girdle_lua_context_of(L);
  int count = lua_gettop(L);
  luaL_Buffer out;
  size_t bytes;
  const char *text;
  for (int i = 1; i <= count; i++) {
    lua_pushcfunction(L, safe_tostring);
    lua_pushvalue(L, i);
    lua_call(L, 1, 1);
    lua_replace(L, i);
  }
  luaL_buffinit(L, &out);
  for (int i = 1; i <= count; i++) {
    if (i > 1) luaL_addchar(&out, '\t');
    text = lua_tolstring(L, i, &bytes);
    girdle_lua_charge(L, bytes);
    add_escaped(&out, text, bytes);
  }
  luaL_addchar(&out, '\n');
  luaL_pushresult(&out);
  text = lua_tolstring(L, -1, &bytes);
  if (!context->limited) {
    fwrite(text, 1, bytes, stdout);
  } else if (context->print && context->print(context, text, bytes)) {
    return girdle_lua_fail(L, GIRDLE_LIMIT, "print", "more was printed than the limit allows");
  }
  return 0;
}

/* The tables of the environment have metatables; those of recipes have none, or are what a recipe is given. */
static void own_table(lua_State *L) {
  luaL_checktype(L, 1, LUA_TTABLE);
  if (girdle_lua_context_of(L)->limited && lua_getmetatable(L, 1))
    girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "this table cannot be changed");
}

/* ---- sorting */

typedef int less_than(lua_State *L); /* of the two values on top; pops them */

static int natural_less(lua_State *L) {
  int less = lua_compare(L, -2, -1, LUA_OPLT);
  if (lua_type(L, -1) == LUA_TSTRING) girdle_lua_charge(L, lua_rawlen(L, -1) / 64);
  lua_pop(L, 2);
  return less;
}

/* By the function at 2. */
static int called_less(lua_State *L) {
  int less;
  lua_pushvalue(L, 2);
  lua_insert(L, -3);
  lua_call(L, 2, 1);
  less = lua_toboolean(L, -1);
  lua_pop(L, 1);
  return less;
}

/* Numbers, then texts by their bytes, then false and true. */
static int key_less(lua_State *L) {
  int a = lua_type(L, -2), b = lua_type(L, -1), less;
  size_t a_bytes, b_bytes;
  if (a != b) {
    less = a == LUA_TNUMBER || (a == LUA_TSTRING && b == LUA_TBOOLEAN);
  } else if (a == LUA_TNUMBER) {
    less = lua_compare(L, -2, -1, LUA_OPLT);
  } else if (a == LUA_TBOOLEAN) {
    less = lua_toboolean(L, -2) < lua_toboolean(L, -1);
  } else {
    const char *a_text = lua_tolstring(L, -2, &a_bytes), *b_text = lua_tolstring(L, -1, &b_bytes);
    int order = memcmp(a_text, b_text, a_bytes < b_bytes ? a_bytes : b_bytes);
    less = order ? order < 0 : a_bytes < b_bytes;
  }
  lua_pop(L, 2);
  return less;
}

static int less_at(lua_State *L, int list, lua_Integer a, lua_Integer b, less_than *less) {
  lua_rawgeti(L, list, a);
  lua_rawgeti(L, list, b);
  return less(L);
}

static void swap_at(lua_State *L, int list, lua_Integer a, lua_Integer b) {
  lua_rawgeti(L, list, a);
  lua_rawgeti(L, list, b);
  lua_rawseti(L, list, a);
  lua_rawseti(L, list, b);
}

static void sift_down(lua_State *L, int list, lua_Integer root, lua_Integer count, less_than *less) {
  for (;;) {
    lua_Integer child = 2 * root;
    if (child > count) return;
    girdle_lua_charge(L, 8);
    if (child < count && less_at(L, list, child, child + 1, less)) child++;
    if (!less_at(L, list, root, child, less)) return;
    swap_at(L, list, root, child);
    root = child;
  }
}

/* Heapsort on raw slots: no order that a comparison claims can lead it outside the list, or on for ever. */
static void sort_list(lua_State *L, int list, less_than *less) {
  lua_Integer count = (lua_Integer)lua_rawlen(L, list);
  luaL_checkstack(L, 8, NULL);
  for (lua_Integer root = count / 2; root >= 1; root--)
    sift_down(L, list, root, count, less);
  for (lua_Integer last = count; last > 1; last--) {
    swap_at(L, list, 1, last);
    sift_down(L, list, 1, last - 1, less);
  }
}

static int safe_sort(lua_State *L) {
  own_table(L);
  if (!lua_isnoneornil(L, 2)) luaL_checktype(L, 2, LUA_TFUNCTION);
  lua_settop(L, 2);
  sort_list(L, 1, lua_isnil(L, 2) ? natural_less : called_less);
  return 0;
}

/* ---- pairs, in an order that is the same on every run */

/* The walk is a table { table, sorted keys, place }. */
static int pairs_next(lua_State *L) {
  lua_Integer place;
  luaL_checktype(L, 1, LUA_TTABLE);
  lua_settop(L, 1);
  lua_rawgeti(L, 1, 1);
  lua_rawgeti(L, 1, 2);
  lua_rawgeti(L, 1, 3);
  place = lua_tointeger(L, -1);
  if (lua_type(L, 2) != LUA_TTABLE || lua_type(L, 3) != LUA_TTABLE) return 0;
  for (;;) {
    lua_settop(L, 3);
    if (lua_rawgeti(L, 3, place = (lua_Integer)((lua_Unsigned)place + 1)) == LUA_TNIL) return 0;
    lua_pushvalue(L, -1);
    if (lua_rawget(L, 2) != LUA_TNIL) break; /* else taken away on the way */
    girdle_lua_charge(L, 1);
  }
  lua_pushinteger(L, place);
  lua_rawseti(L, 1, 3);
  return 2;
}

static int safe_pairs(lua_State *L) {
  lua_Integer count = 0;
  luaL_checktype(L, 1, LUA_TTABLE);
  lua_settop(L, 1);
  lua_newtable(L);
  for (lua_pushnil(L); lua_next(L, 1); lua_pop(L, 1)) {
    int type = lua_type(L, -2);
    if (type != LUA_TNUMBER && type != LUA_TSTRING && type != LUA_TBOOLEAN)
      return girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL,
                             "pairs walks tables whose keys are numbers, texts, true or false; use tostring(key)");
    lua_pushvalue(L, -2);
    lua_rawseti(L, 2, ++count);
    if (count % 1024 == 0) girdle_lua_charge(L, 1024);
  }
  sort_list(L, 2, key_less);
  lua_pushcfunction(L, pairs_next);
  lua_createtable(L, 3, 0);
  lua_pushvalue(L, 1);
  lua_rawseti(L, -2, 1);
  lua_pushvalue(L, 2);
  lua_rawseti(L, -2, 2);
  lua_pushinteger(L, 0);
  lua_rawseti(L, -2, 3);
  return 2;
}

/* ---- string */

static void cap_string(lua_State *L, uint64_t bytes) {
  if (bytes > GIRDLE_LUA_STRING_BYTES) girdle_lua_fail(L, GIRDLE_LIMIT, "text", "a text would be longer than 1 MiB");
  girdle_lua_charge(L, bytes / 16);
}

static int safe_rep(lua_State *L) {
  size_t bytes, between_bytes;
  const char *text = luaL_checklstring(L, 1, &bytes);
  lua_Integer times = luaL_checkinteger(L, 2);
  const char *between = luaL_optlstring(L, 3, "", &between_bytes);
  luaL_Buffer out;
  if (times > GIRDLE_LUA_STRING_BYTES && bytes + between_bytes > 0) times = GIRDLE_LUA_STRING_BYTES + 1;
  if (times <= 0 || bytes + between_bytes == 0) {
    lua_pushliteral(L, "");
    return 1;
  }
  cap_string(L, (uint64_t)times * (bytes + between_bytes));
  luaL_buffinit(L, &out);
  for (lua_Integer i = 0; i < times; i++) {
    if (i > 0) luaL_addlstring(&out, between, between_bytes);
    luaL_addlstring(&out, text, bytes);
  }
  luaL_pushresult(&out);
  return 1;
}

/* Where a short text stands in a longer one; NULL when it does not. */
static const char *find_plain(lua_State *L, const char *text, size_t bytes, const char *wanted, size_t wanted_bytes) {
  const char *end;
  if (wanted_bytes > 1000) girdle_lua_fail(L, GIRDLE_LIMIT, "find", "a text of at most 1000 characters can be found");
  girdle_lua_charge(L, bytes / 16 * (wanted_bytes / 16 + 1));
  if (wanted_bytes == 0) return text;
  if (wanted_bytes > bytes) return NULL;
  for (end = text + bytes - wanted_bytes + 1; text < end; text++) {
    text = memchr(text, wanted[0], (size_t)(end - text));
    if (!text) return NULL;
    if (memcmp(text, wanted, wanted_bytes) == 0) return text;
  }
  return NULL;
}

static int safe_find(lua_State *L) {
  size_t bytes, wanted_bytes;
  const char *text = luaL_checklstring(L, 1, &bytes), *wanted = luaL_checklstring(L, 2, &wanted_bytes), *found;
  lua_Integer from = luaL_optinteger(L, 3, 1);
  if (from < 0) from += (lua_Integer)bytes + 1; /* from the end */
  if (from < 1) from = 1;
  found = (lua_Unsigned)from > bytes + 1
              ? NULL
              : find_plain(L, text + from - 1, bytes - (size_t)from + 1, wanted, wanted_bytes);
  if (!found) {
    lua_pushnil(L);
    return 1;
  }
  lua_pushinteger(L, found - text + 1);
  lua_pushinteger(L, found - text + (lua_Integer)wanted_bytes);
  return 2;
}

static int safe_split(lua_State *L) {
  size_t bytes, between_bytes;
  const char *text = luaL_checklstring(L, 1, &bytes), *between = luaL_checklstring(L, 2, &between_bytes), *found;
  const char *end = text + bytes;
  if (between_bytes == 0)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "split", "split needs what stands between the parts");
  lua_newtable(L);
  for (lua_Integer place = 1;; place++) {
    found = find_plain(L, text, (size_t)(end - text), between, between_bytes);
    lua_pushlstring(L, text, (size_t)((found ? found : end) - text));
    lua_rawseti(L, -2, place);
    if (!found) return 1;
    text = found + between_bytes;
  }
}

static int is_space(char c) {
  return c == ' ' || (c >= '\t' && c <= '\r');
}

static int safe_trim(lua_State *L) {
  size_t bytes;
  const char *text = luaL_checklstring(L, 1, &bytes), *end = text + bytes;
  while (text < end && is_space(*text))
    text++;
  while (end > text && is_space(end[-1]))
    end--;
  lua_pushlstring(L, text, (size_t)(end - text));
  return 1;
}

/* The stock functions that our own call. */
enum { FORMAT, LOWER, UPPER, REVERSE, SUB, BYTE, CODEPOINT, UTF8_LEN, OFFSET };

/* Calls a function of the stock libraries that reads a whole text, and charges for that. */
static int charged(lua_State *L, int which) {
  const girdle_lua_context *context = girdle_lua_context_of(L);
  if (lua_type(L, 1) == LUA_TSTRING) girdle_lua_charge(L, lua_rawlen(L, 1) / 16);
  return context->stock[which](L);
}

static int safe_lower(lua_State *L) {
  return charged(L, LOWER);
}

static int safe_upper(lua_State *L) {
  return charged(L, UPPER);
}

static int safe_reverse(lua_State *L) {
  return charged(L, REVERSE);
}

static int safe_sub(lua_State *L) {
  return charged(L, SUB);
}

static int safe_byte(lua_State *L) {
  return charged(L, BYTE);
}

static int safe_codepoint(lua_State *L) {
  return charged(L, CODEPOINT);
}

static int safe_utf8_len(lua_State *L) {
  return charged(L, UTF8_LEN);
}

static int safe_offset(lua_State *L) {
  return charged(L, OFFSET);
}

/* %p would show addresses. */
static void check_format_text(lua_State *L, const char *text) {
  for (; (text = strchr(text, '%')) != NULL; text++) {
    text += 1 + strspn(text + 1, "-+ #0123456789.");
    if (*text == 'p') girdle_lua_fail(L, GIRDLE_ARGUMENT, "format", "format does not know %%p");
    if (!*text) return;
  }
}

static int safe_format(lua_State *L) {
  int count = lua_gettop(L);
  uint64_t bytes = 0;
  check_format_text(L, luaL_checkstring(L, 1));
  luaL_checkstack(L, 4, NULL);
  for (int i = 1; i <= count; i++) {
    int type = lua_type(L, i);
    if (type == LUA_TSTRING) bytes += lua_rawlen(L, i);
    if (type != LUA_TTABLE && type != LUA_TFUNCTION) continue;
    lua_pushstring(L, luaL_typename(L, i));
    lua_replace(L, i);
  }
  cap_string(L, bytes);
  return charged(L, FORMAT);
}

/* ---- table */

static int safe_insert(lua_State *L) {
  lua_Integer count, place;
  own_table(L);
  count = (lua_Integer)lua_rawlen(L, 1) + 1;
  if (lua_gettop(L) != 2 && lua_gettop(L) != 3)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "insert", "insert takes a table, perhaps a place, and a value");
  place = lua_gettop(L) == 3 ? luaL_checkinteger(L, 2) : count;
  luaL_argcheck(L, place >= 1 && place <= count, 2, "place out of the list");
  girdle_lua_charge(L, (uint64_t)(count - place));
  for (lua_Integer i = count; i > place; i--) {
    lua_rawgeti(L, 1, i - 1);
    lua_rawseti(L, 1, i);
  }
  lua_rawseti(L, 1, place);
  return 0;
}

static int safe_remove(lua_State *L) {
  lua_Integer count, place;
  own_table(L);
  count = (lua_Integer)lua_rawlen(L, 1);
  place = luaL_optinteger(L, 2, count);
  if (count == 0 && place == 0) place = 1; /* nothing is there to be removed */
  luaL_argcheck(L, place >= 1 && place <= count + 1, 2, "place out of the list");
  girdle_lua_charge(L, (uint64_t)(count + 1 - place));
  lua_rawgeti(L, 1, place);
  for (; place < count; place++) {
    lua_rawgeti(L, 1, place + 1);
    lua_rawseti(L, 1, place);
  }
  lua_pushnil(L);
  lua_rawseti(L, 1, place);
  return 1;
}

static int safe_unpack(lua_State *L) {
  lua_Integer from = luaL_optinteger(L, 2, 1), to;
  luaL_checktype(L, 1, LUA_TTABLE);
  to = luaL_optinteger(L, 3, (lua_Integer)lua_rawlen(L, 1));
  if (from > to) return 0;
  if ((lua_Unsigned)to - (lua_Unsigned)from >= 10000)
    return girdle_lua_fail(L, GIRDLE_LIMIT, "unpack", "unpack gives at most 10000 values");
  luaL_checkstack(L, (int)(to - from + 1), NULL);
  girdle_lua_charge(L, (uint64_t)(to - from + 1));
  for (lua_Integer i = from; i < to; i++)
    lua_rawgeti(L, 1, i);
  lua_rawgeti(L, 1, to);
  return (int)(to - from + 1);
}

static int safe_concat(lua_State *L) {
  size_t between_bytes;
  const char *between;
  lua_Integer from = luaL_optinteger(L, 3, 1), to;
  uint64_t bytes = 0;
  luaL_Buffer out;
  luaL_checktype(L, 1, LUA_TTABLE);
  between = luaL_optlstring(L, 2, "", &between_bytes);
  to = luaL_optinteger(L, 4, (lua_Integer)lua_rawlen(L, 1));
  luaL_buffinit(L, &out);
  for (lua_Integer i = from; i <= to; i++) {
    lua_rawgeti(L, 1, i);
    if (!lua_isstring(L, -1))
      return girdle_lua_fail(L, GIRDLE_ARGUMENT, "concat", "concat joins texts and numbers, and place %I holds %s", i,
                             luaL_typename(L, -1));
    bytes += (lua_type(L, -1) == LUA_TSTRING ? lua_rawlen(L, -1) : 24) + between_bytes;
    if (bytes > GIRDLE_LUA_STRING_BYTES) cap_string(L, bytes);
    girdle_lua_charge(L, 1);
    luaL_addvalue(&out);
    if (i < to) luaL_addlstring(&out, between, between_bytes);
    if (i == LUA_MAXINTEGER) break;
  }
  luaL_pushresult(&out);
  return 1;
}

/* ---- the environment */

/* Every name beside the words: a function of our own or, where there is none, the stock one. */
static const struct {
  const char *library, *name;
  lua_CFunction own;
} entries[] = {
    [FORMAT] = {"string", "format", safe_format},
    [LOWER] = {"string", "lower", safe_lower},
    [UPPER] = {"string", "upper", safe_upper},
    [REVERSE] = {"string", "reverse", safe_reverse},
    [SUB] = {"string", "sub", safe_sub},
    [BYTE] = {"string", "byte", safe_byte},
    [CODEPOINT] = {"utf8", "codepoint", safe_codepoint},
    [UTF8_LEN] = {"utf8", "len", safe_utf8_len},
    [OFFSET] = {"utf8", "offset", safe_offset},
    {"string", "char", NULL},
    {"string", "len", NULL},
    {"string", "rep", safe_rep},
    {"string", "find", safe_find},
    {"string", "split", safe_split},
    {"string", "trim", safe_trim},
    {"utf8", "char", NULL},
    {"utf8", "codes", NULL},
    {"table", "pack", NULL},
    {"table", "concat", safe_concat},
    {"table", "unpack", safe_unpack},
    {"table", "insert", safe_insert},
    {"table", "remove", safe_remove},
    {"table", "sort", safe_sort},
    {"math", "abs", NULL},
    {"math", "acos", NULL},
    {"math", "asin", NULL},
    {"math", "atan", NULL},
    {"math", "ceil", NULL},
    {"math", "cos", NULL},
    {"math", "deg", NULL},
    {"math", "exp", NULL},
    {"math", "floor", NULL},
    {"math", "fmod", NULL},
    {"math", "log", NULL},
    {"math", "max", NULL},
    {"math", "min", NULL},
    {"math", "modf", NULL},
    {"math", "rad", NULL},
    {"math", "sin", NULL},
    {"math", "sqrt", NULL},
    {"math", "tan", NULL},
    {"math", "tointeger", NULL},
    {"math", "type", NULL},
    {"math", "ult", NULL},
    {"_G", "assert", NULL},
    {"_G", "error", NULL},
    {"_G", "ipairs", NULL},
    {"_G", "select", NULL},
    {"_G", "tonumber", NULL},
    {"_G", "type", NULL},
    {"_G", "rawequal", NULL},
    {"_G", "rawlen", NULL},
    {"_G", "tostring", safe_tostring},
    {"_G", "pcall", safe_pcall},
    {"_G", "print", safe_print},
    {"_G", "pairs", safe_pairs},
};
enum { ENTRIES = sizeof entries / sizeof entries[0] };
_Static_assert((int)ENTRIES <= (int)GIRDLE_LUA_STOCK, "the context holds the stock functions");

enum { STRING, TABLE, MATH, UTF8, LIBRARIES };
static const char *const libraries[LIBRARIES] = {"string", "table", "math", "utf8"};

/* The library that is loaded already, or in a new state opens it. Pushes its table or nil. */
static void push_stock(lua_State *L, const char *name) {
  static const luaL_Reg openers[] = {{"_G", luaopen_base},
                                     {"string", luaopen_string},
                                     {"table", luaopen_table},
                                     {"math", luaopen_math},
                                     {"utf8", luaopen_utf8}};
  luaL_getsubtable(L, LUA_REGISTRYINDEX, LUA_LOADED_TABLE);
  for (size_t i = 0; i < sizeof openers / sizeof openers[0]; i++)
    if (strcmp(openers[i].name, name) == 0 && lua_getfield(L, -1, name) != LUA_TTABLE) {
      lua_pop(L, 1);
      luaL_requiref(L, name, openers[i].func, 0);
    } else if (strcmp(openers[i].name, name) == 0) {
      break;
    }
  lua_replace(L, -2);
}

void girdle_lua_find_stock(lua_State *L, lua_CFunction *stock) {
  for (size_t i = 0; i < ENTRIES; i++) {
    push_stock(L, entries[i].library);
    lua_getfield(L, -1, entries[i].name);
    stock[i] = lua_tocfunction(L, -1);
    lua_pop(L, 2);
  }
}

static int count_library(const char *library) {
  int count = strcmp(library, libraries[MATH]) == 0 ? 4 : 0; /* its constants */
  for (size_t i = 0; i < ENTRIES; i++)
    count += strcmp(entries[i].library, library) == 0;
  return count;
}

static lua_CFunction function_of(const girdle_lua_context *context, size_t i) {
  return entries[i].own ? entries[i].own : context->stock[i];
}

/* Puts the names of a library into the table on top. */
static void put_library(lua_State *L, const char *library) {
  const girdle_lua_context *context = girdle_lua_context_of(L);
  for (size_t i = 0; i < ENTRIES; i++) {
    lua_CFunction function = function_of(context, i);
    if (!function || strcmp(entries[i].library, library) != 0) continue;
    lua_pushcfunction(L, function);
    lua_setfield(L, -2, entries[i].name);
  }
}

static void put_constants(lua_State *L) {
  lua_pushnumber(L, 3.14159265358979323846);
  lua_setfield(L, -2, "pi");
  lua_pushnumber(L, HUGE_VAL);
  lua_setfield(L, -2, "huge");
  lua_pushinteger(L, LUA_MAXINTEGER);
  lua_setfield(L, -2, "maxinteger");
  lua_pushinteger(L, LUA_MININTEGER);
  lua_setfield(L, -2, "mininteger");
}

static int unknown_name(lua_State *L) {
  const char *names[160], *name = lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : "";
  uint64_t count = girdle_lua_names(GIRDLE_OF_ALL, names, 96);
  for (size_t i = 0; i < ENTRIES; i++)
    if (strcmp(entries[i].library, "_G") == 0) names[count++] = entries[i].name;
  for (size_t i = 0; i < LIBRARIES; i++)
    names[count++] = libraries[i];
  return girdle_lua_unknown(L, "name", name, names, count);
}

static int refuse_global(lua_State *L) {
  const char *name = lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : "";
  return girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "'%s' would be a global; write: local %s = ...", name, name);
}

static int refuse_change(lua_State *L) {
  return girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "the libraries cannot be changed");
}

/* Pushes an empty table through which the one on top is read, and which it replaces: nothing can be written to it, and
 * its metatable cannot be seen. */
static void guard(lua_State *L, lua_CFunction newindex) {
  lua_createtable(L, 0, 0);
  lua_createtable(L, 0, 3);
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  lua_pushcfunction(L, newindex);
  lua_setfield(L, -2, "__newindex");
  lua_pushvalue(L, -3);
  lua_setfield(L, -2, "__index");
  lua_setmetatable(L, -2);
  lua_replace(L, -2);
}

/* Pushes a library's own table, which no file gets to see without its guard. */
static void push_library(lua_State *L, size_t place) {
  if (lua_rawgetp(L, LUA_REGISTRYINDEX, &libraries[place]) == LUA_TTABLE) return;
  lua_pop(L, 1);
  lua_createtable(L, 0, count_library(libraries[place]));
  put_library(L, libraries[place]);
  if (place == MATH) put_constants(L);
  lua_pushvalue(L, -1);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &libraries[place]);
}

static int text_method(lua_State *L) {
  push_library(L, STRING);
  lua_pushvalue(L, 2);
  lua_rawget(L, -2);
  return 1;
}

/* The methods of texts are the names of the string library. */
static void guard_texts(lua_State *L) {
  lua_pushliteral(L, "");
  lua_createtable(L, 0, 2);
  lua_pushcfunction(L, text_method);
  lua_setfield(L, -2, "__index");
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  lua_setmetatable(L, -2);
  lua_pop(L, 1);
}

/* Pushes what a name stands for; returns 0, with nothing pushed, for a name that stands for nothing. */
static int push_named(lua_State *L, const char *name) {
  const girdle_lua_word *word = girdle_lua_word_of(GIRDLE_OF_ALL, name);
  lua_CFunction function = word ? word->function : NULL;
  for (size_t i = 0; i < LIBRARIES; i++) {
    if (strcmp(libraries[i], name) != 0) continue;
    push_library(L, i);
    guard(L, refuse_change);
    return 1;
  }
  for (size_t i = 0; i < ENTRIES && !function; i++)
    if (strcmp(entries[i].library, "_G") == 0 && strcmp(entries[i].name, name) == 0)
      function = function_of(girdle_lua_context_of(L), i);
  if (function) lua_pushcfunction(L, function);
  return function != NULL;
}

/* A name that was not asked for yet is put into the table at 1; what is not put in cannot be had. */
static int find_name(lua_State *L) {
  if (lua_type(L, 2) != LUA_TSTRING || !push_named(L, lua_tostring(L, 2))) return unknown_name(L);
  lua_pushvalue(L, 2);
  lua_pushvalue(L, -2);
  lua_rawset(L, 1);
  return 1;
}

/* The names all files share lie in the registry; a file reaches them through its own environment. They are put in as
 * they are asked for: most recipes use few of them. */
static void push_names(lua_State *L) {
  if (lua_rawgetp(L, LUA_REGISTRYINDEX, &limited_key) == LUA_TTABLE) return;
  lua_pop(L, 1);
  if (girdle_lua_context_of(L)->limited) guard_texts(L);
  lua_newtable(L);
  lua_createtable(L, 0, 2);
  lua_pushcfunction(L, find_name);
  lua_setfield(L, -2, "__index");
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  lua_setmetatable(L, -2);
  lua_pushvalue(L, -1);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &limited_key);
}

void girdle_lua_push_environment(lua_State *L) {
  luaL_checkstack(L, 12, NULL);
  push_names(L);
  guard(L, refuse_global);
}
