/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "limited_state.h"

#include <lualib.h>

/* What a recipe sees of Lua's own libraries, held against the libraries themselves: each line gives the same values in
 * both, or is an error in both. */

static const char *const alike[] = {
    /* find is plain in a recipe, so the other one is told to be */
    "('abcabc'):find('c', 1, true)",
    "('abcabc'):find('c', 4, true)",
    "('abcabc'):find('c', -1, true)",
    "('abcabc'):find('c', -3, true)",
    "('abcabc'):find('abc', -3, true)",
    "('abcabc'):find('a', -99, true)",
    "('abcabc'):find('', 1, true)",
    "('abcabc'):find('', 7, true)",
    "('abcabc'):find('', 8, true)",
    "('abcabc'):find('cab', 1, true)",
    "('abcabc'):find('cac', 1, true)",
    "('abcabc'):find('abcabca', 1, true)",
    "('a.c%'):find('.', 1, true)",
    "('a\\0b'):find('\\0b', 1, true)",
    "('aab'):find('ab', 0, true)",
    "('x'):find()",
    "('ab'):rep(3)",
    "('ab'):rep(3, ', ')",
    "('ab'):rep(1, ', ')",
    "('ab'):rep(0)",
    "('ab'):rep(-1)",
    "(''):rep(5)",
    "(''):rep(3, ',')",
    "('x'):rep('2')",
    "('x'):rep(1.5)",
    "('AbÇ'):lower(), ('AbÇ'):upper(), ('abc'):reverse(), ('abc'):len(), #'abc'",
    "('abcdef'):sub(2, 4), ('abcdef'):sub(-2), ('abcdef'):sub(0), ('abcdef'):sub(9), ('abcdef'):sub(4, 2)",
    "('abc'):byte(), ('abc'):byte(2), ('abc'):byte(-1), ('abc'):byte(9)",
    "('abc'):byte(1, -1)",
    "string.char(65, 66), string.char(), utf8.char(228, 8364)",
    "('%d %5.2f %s %q %x %g %i %c %%'):format(3, 2.5, 'x', 'a\"b', 255, 0.1, 7, 65)",
    "('%s %s'):format(nil, true)",
    "('%d'):format('x')",
    "('%d'):format(1.5)",
    "('%y'):format(1)",
    "('%'):format(1)",
    "('%s'):format()",
    "utf8.len('ä€'), utf8.codepoint('ä€', 1, -1)",
    "utf8.len('\\xff'), utf8.offset('ä€x', 3), utf8.offset('ä€x', -1)",
    "(function () local t = {} for p, c in utf8.codes('ä€x') do t[#t + 1] = p + c end return t end)()",
    "table.concat({ 1, 2.5, 'x' }), table.concat({ 1, 2, 3 }, ', '), table.concat({}, ', ')",
    "table.concat({ 1, 2, 3 }, '-', 2), table.concat({ 1, 2, 3 }, '-', 2, 2), table.concat({ 1, 2 }, '-', 2, 1)",
    "table.concat({ 1, {} })",
    "table.concat({ 1, 2 }, ',', 1, 3)",
    "table.concat({ 1, true })",
    "table.unpack({ 1, 2, 3 })",
    "table.unpack({ 1, 2, 3 }, 2)",
    "table.unpack({ 1, 2, 3 }, 2, 5)",
    "table.unpack({ 1, 2, 3 }, 3, 2)",
    "table.unpack({ 1, 2, 3 }, -1, 1)",
    "table.remove({}, 0), table.remove({}, 1)",
    "table.pack(1, nil, 3), table.pack()",
    "(function () local t = { 1, 2, 3 } table.insert(t, 9) table.insert(t, 1, 8) table.insert(t, 6, 7) table.insert(t, "
    "3, 0) "
    "return t end)()",
    "table.insert({ 1 }, 3, 0)",
    "table.insert({ 1 }, 0, 0)",
    "table.insert({ 1 })",
    "table.insert({ 1 }, 1, 2, 3)",
    "table.insert(5, 1)",
    "(function () local t = { 1, 2, 3, 4 } return table.remove(t), table.remove(t, 1), table.remove(t, 2), t end)()",
    "(function () local t = { 1, 2 } return table.remove(t, 3), t end)()",
    "table.remove({})",
    "table.remove({ 1 }, 3)",
    "table.remove({ 1 }, 0)",
    "(function () local t = { 3, 1, 2, 5, 4, 9, 8, 7, 6, 0, 2, 2 } table.sort(t) return t end)()",
    "(function () local t = { 'b', 'a', 'B', 'ab', '' } table.sort(t) return t end)()",
    "(function () local t = { 3, 1, 2, 5, 4 } table.sort(t, function (a, b) return a > b end) return t end)()",
    "(function () local t = {} for i = 1, 100 do t[i] = i * 37 % 101 end table.sort(t) return t end)()",
    "(function () local t = { 1 } table.sort(t) table.sort({}) return t end)()",
    "table.sort({ 1, 'a' })",
    "table.sort({ 2, 1 }, 5)",
    "table.sort({ {}, {} })",
    "math.abs(-3), math.ceil(1.2), math.floor(-1.2), math.max(3, 9, 2), math.min(3, 9, 2), math.fmod(-7, 3)",
    "math.modf(3.7), math.tointeger(3.0), math.type(1), math.type(1.0), math.ult(1, -1), math.huge, math.pi",
    "math.sin(1), math.cos(1), math.tan(1), math.asin(0.5), math.acos(0.5), math.atan(1, 2), math.exp(1), math.log(8, "
    "2)",
    "math.deg(1), math.rad(180), math.sqrt(2), math.maxinteger, math.mininteger",
    "select('#', 1, nil, 3), select(2, 'a', 'b', 'c')",
    "select(-1, 'a', 'b'), select(0)",
    "tonumber('0x10'), tonumber(' 12 '), tonumber('z', 36), tonumber('x'), tonumber('1e1'), tonumber('8', 8)",
    "tostring(1), tostring(1.5), tostring(nil), tostring(true), tostring('x'), tostring(1e15), tostring(-0.0)",
    "type(nil), type(1), type('x'), type({}), type(print), rawequal('a', 'a'), rawlen({ 1, 2 }), rawlen('abc')",
    "pcall(error, 'x'), pcall(error)",
    "select('#', pcall(error, nil)), pcall(function (...) return ... end, 1, nil, 3)",
    "pcall(function () error({ 'kept' }) end)",
    "pcall()",
    "assert(1, 'not told'), pcall(assert, false, 'told'), pcall(assert, nil)",
    "(function () local t = {} for i, v in ipairs { 5, 6, nil, 8 } do t[i] = v end return t end)()",
    "(function () local t = {} for k, v in pairs { 5, 6, 7 } do t[k] = v end return t end)()",
    "ipairs()",
};

/* What recipes alone have, or have otherwise, with what it gives. */
static const char *const own[][2] = {
    {"('a, b,c'):split(',')", "{'a',' b','c',}"},
    {"('a::b::'):split('::')", "{'a','b','',}"},
    {"(''):split(',')", "{'',}"},
    {"('abc'):split('abcd')", "{'abc',}"},
    {"(' \\t a b \\r\\n'):trim(), ('   '):trim(), (''):trim(), ('x'):trim()", "'a b' '' '' 'x'"},
    {"('\\v\\fx\\14'):trim()", "'x\016'"},
    {"(function () local t = {} for k in pairs { [true] = 1, b = 1, a = 1, aa = 1, [2] = 1, [-1.5] = 1, [1] = 1, "
     "[false] = 1 } "
     "do t[#t + 1] = tostring(k) end return table.concat(t, ' ') end)()",
     "'-1.5 1 2 a aa b false true'"},
    {"(function () local t, n = { a = 1, b = 2, c = 3 }, 0 for k in pairs(t) do t.b = nil n = n + 1 end return n "
     "end)()",
     "2"},
    {"(function () local s = 0 for k, v in pairs { a = 1, b = 2 } do s = s + v end return s end)()", "3"},
    {"tostring({}), tostring(print), ('%s'):format({}), ('%s'):format(print)", "'table' 'function' 'table' 'function'"},
    {"pairs { [print] = 1 }", NULL},
    {"pairs(5)", NULL},
    {"table.unpack('x')", NULL},
    {"('x'):split('')", NULL},
    {"('%p'):format('x')", NULL},
    {"('%-5p'):format('x')", NULL},
    {"('%%p'):format()", "'%p'"},
};

static void show(lua_State *L, int index, char *text, size_t bytes) {
  size_t used = strlen(text);
  if (lua_type(L, index) == LUA_TTABLE) {
    snprintf(text + used, bytes - used, "{");
    for (lua_Integer i = 1; i <= (lua_Integer)lua_rawlen(L, index); i++, lua_pop(L, 1)) {
      lua_rawgeti(L, index, i);
      show(L, lua_gettop(L), text, bytes);
      strcat(text, ",");
    }
    lua_getfield(L, index, "n"); /* of pack */
    if (!lua_isnil(L, -1)) show(L, lua_gettop(L), text, bytes);
    lua_pop(L, 1);
    strcat(text, "}");
  } else if (lua_type(L, index) == LUA_TSTRING) {
    snprintf(text + used, bytes - used, "'%s'", lua_tostring(L, index));
  } else if (lua_type(L, index) == LUA_TNUMBER && !lua_isinteger(L, index)) {
    snprintf(text + used, bytes - used, "%.17gf", lua_tonumber(L, index));
  } else if (lua_type(L, index) == LUA_TNUMBER) {
    snprintf(text + used, bytes - used, "%lld", (long long)lua_tointeger(L, index));
  } else {
    snprintf(text + used, bytes - used, "%s",
             lua_type(L, index) == LUA_TBOOLEAN ? lua_toboolean(L, index) ? "true" : "false" : luaL_typename(L, index));
  }
}

/* What an expression gives, as text; "an error" when it raises one. */
static void value_of(lua_State *L, int limited, const char *expression, char *text, size_t bytes) {
  int top = lua_gettop(L);
  text[0] = '\0';
  lua_pushfstring(L, "return %s", expression);
  assert_int_equal(luaL_loadstring(L, lua_tostring(L, -1)), LUA_OK);
  if (limited) girdle_lua_push_environment(L);
  if (limited) lua_setupvalue(L, -2, 1);
  if (lua_pcall(L, 0, LUA_MULTRET, 0)) {
    snprintf(text, bytes, "an error");
  } else {
    for (int i = top + 2; i <= lua_gettop(L); i++) {
      if (i > top + 2) strcat(text, " ");
      show(L, i, text, bytes);
    }
  }
  lua_settop(L, top);
}

static void library_gives_what_the_stock_one_gives(void **state) {
  girdle_lua_context context;
  lua_State *L = limited_state(&context), *stock = luaL_newstate();
  char ours[4096], theirs[4096];
  int differ = 0;
  (void)state;
  luaL_openlibs(stock);
  for (size_t i = 0; i < sizeof alike / sizeof alike[0]; i++) {
    value_of(L, 1, alike[i], ours, sizeof ours);
    value_of(stock, 0, alike[i], theirs, sizeof theirs);
    if (strcmp(ours, theirs) == 0) continue;
    print_error("%s gives %s, stock Lua %s\n", alike[i], ours, theirs);
    differ++;
  }
  assert_int_equal(differ, 0);
  lua_close(stock);
  lua_close(L);
}

static void library_gives_what_is_its_own(void **state) {
  girdle_lua_context context;
  lua_State *L = limited_state(&context);
  char text[4096];
  (void)state;
  for (size_t i = 0; i < sizeof own / sizeof own[0]; i++) {
    value_of(L, 1, own[i][0], text, sizeof text);
    if (strcmp(text, own[i][1] ? own[i][1] : "an error") != 0) fail_msg("%s gives %s", own[i][0], text);
  }
  lua_close(L);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(library_gives_what_the_stock_one_gives),
      cmocka_unit_test(library_gives_what_is_its_own),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
