/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "limited_state.h"

#include <lualib.h>

/* Everything a recipe file can reach, walked from its environment, the methods of texts and the metatables of values,
 * and compared with the list in tests/attack/names.txt. A new name is a decision: write it into the list. Names are
 * put in as they are asked for, so before the walk all are asked for that the words, Lua's own libraries and our own
 * ones beside them have. */

typedef struct names {
  char *lines[2048];
  size_t count;
  const void *seen[512]; /* tables on the way */
  size_t depth;
} names;

static void add_line(names *all, const char *path, const char *kind) {
  char line[256];
  assert_true(all->count < 2048);
  snprintf(line, sizeof line, "%s %s", path, kind);
  all->lines[all->count] = malloc(strlen(line) + 1);
  strcpy(all->lines[all->count++], line);
}

static void walk(lua_State *L, names *all, const char *path);

static void walk_entries(lua_State *L, names *all, const char *path) {
  for (lua_pushnil(L); lua_next(L, -2); lua_pop(L, 1)) {
    char inner[200], key[64];
    if (lua_type(L, -2) == LUA_TSTRING)
      snprintf(key, sizeof key, "%s", lua_tostring(L, -2));
    else
      snprintf(key, sizeof key, "[%s]", luaL_typename(L, -2));
    snprintf(inner, sizeof inner, "%s%s%s", path, path[0] ? "." : "", key);
    walk(L, all, inner);
  }
}

/* The value on top and, for a table, what it holds and what its metatable leads to. */
static void walk(lua_State *L, names *all, const char *path) {
  const void *here = lua_topointer(L, -1);
  luaL_checkstack(L, 10, NULL);
  if (lua_iscfunction(L, -1) && lua_getupvalue(L, -1, 1)) fail_msg("%s is no light function", path);
  add_line(all, path, luaL_typename(L, -1));
  if (lua_type(L, -1) != LUA_TTABLE) return;
  for (size_t i = 0; i < all->depth; i++)
    if (all->seen[i] == here) return;
  all->seen[all->depth++] = here;
  walk_entries(L, all, path);
  if (lua_getmetatable(L, -1)) {
    char inner[200];
    snprintf(inner, sizeof inner, "%s<meta>", path);
    walk_entries(L, all, inner);
    lua_pop(L, 1);
  }
  all->depth--;
}

static int by_text(const void *a, const void *b) {
  return strcmp(*(char *const *)a, *(char *const *)b);
}

static int get_field(lua_State *L) {
  lua_gettable(L, 1);
  return 1;
}

/* Reads a name of the value on top as a recipe would; 1 when there is something. */
static int ask(lua_State *L, const char *name) {
  int found;
  lua_pushcfunction(L, get_field);
  lua_pushvalue(L, -2);
  lua_pushstring(L, name);
  found = lua_pcall(L, 2, 1, 0) == LUA_OK && !lua_isnil(L, -1);
  lua_pop(L, 1);
  return found;
}

static const char *const own_names[] = {"split", "trim", "", "_G", "_ENV", "string", "table", "math", "utf8"};

/* Asks the value on top of `L` for the names of the table on top of a stock state, of the tables in it, and our own. */
static void ask_stock(lua_State *L, lua_State *stock) {
  for (lua_pushnil(stock); lua_next(stock, -2); lua_pop(stock, 1)) {
    if (lua_type(stock, -2) != LUA_TSTRING) continue;
    ask(L, lua_tostring(stock, -2));
    if (lua_istable(stock, -1) && strcmp(lua_tostring(stock, -2), "_G") != 0 &&
        strcmp(lua_tostring(stock, -2), "loaded") != 0 && strcmp(lua_tostring(stock, -2), "package") != 0)
      ask_stock(L, stock);
  }
}

static void ask_all(lua_State *L) {
  uint64_t count;
  const girdle_lua_word *words = girdle_lua_words(&count);
  lua_State *stock = luaL_newstate();
  assert_non_null(stock);
  luaL_openlibs(stock);
  lua_pushglobaltable(stock);
  ask_stock(L, stock);
  lua_close(stock);
  for (uint64_t i = 0; i < count; i++)
    ask(L, words[i].name);
  for (size_t i = 0; i < sizeof own_names / sizeof own_names[0]; i++)
    ask(L, own_names[i]);
}

/* The methods of texts are found by a function, so that what it finds is written down here. */
static void walk_texts(lua_State *L, names *all) {
  lua_State *stock = luaL_newstate();
  assert_non_null(stock);
  luaL_openlibs(stock);
  lua_pushglobaltable(stock);
  lua_pushliteral(L, "");
  assert_true(lua_getmetatable(L, -1));
  walk_entries(L, all, "text<meta>");
  lua_pop(L, 1);
  lua_getglobal(stock, "string");
  for (lua_pushnil(stock); lua_next(stock, -2); lua_pop(stock, 1)) {
    char path[200];
    snprintf(path, sizeof path, "text<meta>.__index.%s", lua_tostring(stock, -2));
    if (ask(L, lua_tostring(stock, -2))) add_line(all, path, "function");
  }
  for (size_t i = 0; i < 2; i++) {
    char path[200];
    snprintf(path, sizeof path, "text<meta>.__index.%s", own_names[i]);
    if (ask(L, own_names[i])) add_line(all, path, "function");
  }
  lua_close(stock);
}

static void collect(lua_State *L, names *all) {
  static const char *const values[] = {"line(10)",
                                       "rectangle(10, 10)",
                                       "run { along = line(10), stones = 'ss5' }",
                                       "stone 'ss20'",
                                       "stream(1)",
                                       "catalogue {}",
                                       "recipe { format = 1, name = 'a', place = print }",
                                       "costume { format = 1, name = 'a', zones = print }",
                                       "zone { 'a', recipe = 'b' }"};
  girdle_lua_push_environment(L);
  ask_all(L);
  walk(L, all, "");
  walk_texts(L, all);
  for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
    char code[128], path[64];
    snprintf(code, sizeof code, "return %s", values[i]);
    assert_int_equal(luaL_loadstring(L, code), LUA_OK);
    girdle_lua_push_environment(L);
    lua_setupvalue(L, -2, 1);
    assert_int_equal(lua_pcall(L, 0, 1, 0), LUA_OK);
    ask_all(L);
    snprintf(path, sizeof path, "%s<meta>", girdle_lua_box_text(girdle_lua_box_kind(L, -1)));
    assert_true(lua_getmetatable(L, -1));
    walk_entries(L, all, path);
  }
  qsort(all->lines, all->count, sizeof all->lines[0], by_text);
}

static void environment_holds_the_names_of_the_list_alone(void **state) {
  static names all;
  girdle_lua_context context;
  lua_State *L = limited_state(&context);
  FILE *list = fopen("tests/attack/names.txt", "r");
  const char *write = getenv("GIRDLE_WRITE_NAMES");
  char line[256];
  size_t at = 0;
  (void)state;
  collect(L, &all);
  if (write) {
    if (list) fclose(list);
    list = fopen(write, "w");
    assert_non_null(list);
    for (size_t i = 0; i < all.count; i++)
      fprintf(list, "%s\n", all.lines[i]);
    fclose(list);
    list = fopen(write, "r");
  }
  assert_non_null(list);
  for (; fgets(line, sizeof line, list); at++) {
    line[strcspn(line, "\n")] = '\0';
    if (at < all.count && strcmp(line, all.lines[at]) == 0) continue;
    fail_msg("the list has '%s' where a recipe sees '%s'", line, at < all.count ? all.lines[at] : "nothing");
  }
  if (at != all.count) fail_msg("a recipe sees '%s', which is not in the list", all.lines[at]);
  fclose(list);
  for (size_t i = 0; i < all.count; i++)
    free(all.lines[i]);
  lua_close(L);
}

/* Refuses each allocation of Lua's once: the answer is a full collection before the block is given, so that whatever is
 * not held by then is gone. */
static void *cruel_resize(void *context, void *block, size_t old_bytes, size_t new_bytes) {
  int *refused = context;
  if (new_bytes > (block ? old_bytes : 0) && (*refused = !*refused) != 0) return NULL;
  if (new_bytes && block == NULL) {
    block = malloc(new_bytes);
    if (block) memset(block, 0xa5, new_bytes);
    return block;
  }
  if (new_bytes == 0 && block) memset(block, 0x5a, old_bytes);
  return plain_resize(NULL, block, old_bytes, new_bytes);
}

static int run_example(lua_State *L) {
  if (luaL_loadstring(L, lua_tostring(L, 1)) != LUA_OK) lua_error(L);
  girdle_lua_push_environment(L);
  lua_setupvalue(L, -2, 1);
  lua_call(L, 0, 0);
  return 0;
}

static void words_hold_what_they_use_when_the_collector_is_cruel(void **state) {
  int refused = 0;
  uint64_t count;
  const girdle_lua_word *words = girdle_lua_words(&count);
  girdle_lua_context context;
  lua_State *L = limited_state(&context);
  (void)state;
  lua_setallocf(L, cruel_resize, &refused);
  for (uint64_t i = 0; i < count; i++) {
    if (!words[i].example || words[i].owner == GIRDLE_OF_SCRIPT) continue;
    lua_pushcfunction(L, run_example);
    lua_pushstring(L, words[i].example);
    if (lua_pcall(L, 1, 0, 0)) fail_msg("%s: %s", words[i].name, lua_tostring(L, -1));
  }
  lua_close(L);
}

/* As above, with errors on the way: nothing that a fault names may be gone before it is told. */
static void faults_hold_what_they_name_when_the_collector_is_cruel(void **state) {
  static const char *const faulty[] = {
      "run { along = 5, stnes = 'ss20', gap = -1, gpa = '1', count = {}, [1] = 2, [{}] = 3 }",
      "local r = recipe { format = 1, name = 'a', takes = { {'l', 'path'}, {'g', 'length', from = '1 mm', to = '2 mm'} "
      "}, "
      "place = function (given) return given.k end } r { g = '5 mm', x = 1, y = 2 }",
      "local r = recipe { format = 1, name = 'a', place = function (given) return given.k end } r {}",
      "scatter { within = oval(10, 10), stones = { {'ss20', 'x'}, {'ss21x', 1} } }",
      "zone { 'a', side = 'lefd', given = 1 }",
      "recipe { format = 1, name = 'a', takes = { {'l', 'pth'} }, place = print }",
      "recipe { format = 1, name = 'a*', plce = 1, takes = { {'c', 'choice', choices = { 'x', 'y' }, default = 'z'} } "
      "}",
      "recipe { format = 1, name = 'a', place = print, takes = { {'g', 'length', from = '1 cm', default = '2 mm'}, "
      "{'g', "
      "'angle', to = 'x'}, 5 } }",
      "local r = recipe { format = 1, name = 'a', takes = { {'c', 'choice', choices = { 'x', 'y' }}, {'g', 'length', "
      "from = '1 cm'} }, place = print } r { c = 'z', g = '1 mm' }",
      "band { along = line(10), rows = { {'ss20'}, {'ss2o'} } }",
      "motif { }",
      "line(30):ofset(3)",
      "unknown_word()",
      "recipe { format = 1, name = 'a', takes = { {'l', 'choice', choices = { 'a', 'b', {} } } }, place = print }"};
  int refused = 0;
  girdle_lua_context context;
  lua_State *L = limited_state(&context);
  (void)state;
  lua_setallocf(L, cruel_resize, &refused);
  for (size_t i = 0; i < sizeof faulty / sizeof faulty[0]; i++) {
    lua_pushcfunction(L, run_example);
    lua_pushstring(L, faulty[i]);
    assert_int_equal(lua_pcall(L, 1, 0, 0), LUA_ERRRUN);
    for (const char *at = lua_tostring(L, -1); *at; at++)
      assert_true((unsigned char)*at != 0xa5 && (unsigned char)*at != 0x5a);
    lua_settop(L, 0);
  }
  lua_close(L);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(environment_holds_the_names_of_the_list_alone),
      cmocka_unit_test(words_hold_what_they_use_when_the_collector_is_cruel),
      cmocka_unit_test(faults_hold_what_they_name_when_the_collector_is_cruel),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
