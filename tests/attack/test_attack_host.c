/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <lauxlib.h>
#include <time.h>

#include "girdle/host.h"
#include "support.h"

/* Recipes that mean harm: each ends within its limits, with the right reason, and leaves nothing behind. Those that are
 * the body of a placing function stand in attacks.lua. */

enum { REASONS = 1 << GIRDLE_LIMIT | 1 << GIRDLE_ARGUMENT | 1 << GIRDLE_UNKNOWN | 1 << GIRDLE_SYNTAX };
#define LIMIT (1 << GIRDLE_LIMIT)
#define UNKNOWN (1 << GIRDLE_UNKNOWN)
#define ARGUMENT (1 << GIRDLE_ARGUMENT)
#define SYNTAX (1 << GIRDLE_SYNTAX)
#define GEOMETRY (1 << GIRDLE_GEOMETRY)
#define DONE (1 << GIRDLE_OK)

#ifdef __SANITIZE_ADDRESS__ /* all is slower, and memory must still end first where it is what ends */
static const double most_seconds = 0.5;
#else
static const double most_seconds = 0.1;
#endif

static double processor_s(void) {
  struct timespec now;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static int32_t run_text(const char *text, uint64_t bytes, girdle_error *error) {
  test_call test;
  girdle_host_options options;
  girdle_host *host;
  girdle_placement *placement = NULL;
  int32_t status;
  test_begin(&test);
  girdle_host_options_init(&options, sizeof options);
  options.most_seconds = most_seconds;
  options.most_bytes = 32 << 20;
  options.most_stones = 100000;
  assert_ok(&test, girdle_host_new(&test.call, &options, &host));
  status = girdle_host_add_source(&test.call, host, GIRDLE_LAYER_COSTUME, "attempt.lua", text, bytes);
  if (!status) status = girdle_host_place(&test.call, host, "attempt", NULL, 0, &placement);
  girdle_placement_free(placement);
  girdle_host_free(host);
  assert_int_equal(test.live_bytes, 0);
  *error = test.error;
  return status;
}

typedef struct attack {
  const char *name, *code;
  int32_t expected; /* the statuses that are right */
  const char *says; /* in field or message; NULL: anything */
} attack;

static void expect(const attack *one, int32_t status, const girdle_error *error, double seconds) {
  if (!(one->expected & 1 << status)) fail_msg("%s gave %s: %s", one->name, girdle_status_text(status), error->message);
  if (status && !error->message[0]) fail_msg("%s: no message", one->name);
  if (one->says && !strstr(error->message, one->says) && !strstr(error->field, one->says))
    fail_msg("%s: '%s' is not in '%s' (%s)", one->name, one->says, error->message, error->field);
  if (seconds > 3) fail_msg("%s took %g s of processor time", one->name, seconds);
}

static void try_all(const attack *attacks, size_t count) {
  static char text[8192];
  for (size_t i = 0; i < count; i++) {
    girdle_error error;
    double start = processor_s();
    int32_t status;
    snprintf(text, sizeof text, "return recipe { format = 1, name = 'attempt', place = function (given)\n%s\nend }\n",
             attacks[i].code);
    status = run_text(text, strlen(text), &error);
    expect(&attacks[i], status, &error, processor_s() - start);
  }
}

/* ---- the list of attacks */

static int32_t statuses_of(const char *words) {
  static const struct {
    const char *word;
    int32_t bit;
  } known[] = {{"limit", LIMIT},   {"argument", ARGUMENT}, {"unknown", UNKNOWN},
               {"syntax", SYNTAX}, {"geometry", GEOMETRY}, {"done", DONE}};
  int32_t bits = 0;
  for (size_t length; *words; words += length + (words[length] == ' ')) {
    int32_t before = bits;
    length = strcspn(words, " ");
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
      if (strlen(known[i].word) == length && strncmp(known[i].word, words, length) == 0) bits |= known[i].bit;
    if (bits == before) fail_msg("status '%s' is not known", words);
  }
  return bits;
}

/* Tries the attacks of a group of attacks.lua: the table of groups is at 1. */
static void try_list(lua_State *L, const char *wanted) {
  size_t tried = 0;
  for (lua_Integer g = 1; lua_rawgeti(L, 1, g) == LUA_TTABLE; g++, lua_settop(L, 1)) {
    lua_getfield(L, 2, "group");
    if (strcmp(lua_tostring(L, -1), wanted) != 0) continue;
    for (lua_Integer i = 1; lua_rawgeti(L, 2, i) == LUA_TTABLE; i++, lua_settop(L, 3), tried++) {
      attack one;
      for (int k = 1; k <= 4; k++)
        lua_rawgeti(L, 4, k);
      one = (attack){lua_tostring(L, 5), lua_tostring(L, 6), statuses_of(lua_tostring(L, 7)), lua_tostring(L, 8)};
      try_all(&one, 1);
    }
  }
  assert_true(tried > 0);
}

static void try_group(const char *wanted) {
  lua_State *L = luaL_newstate();
  assert_non_null(L);
  if (luaL_dofile(L, "tests/attack/attacks.lua")) fail_msg("%s", lua_tostring(L, -1));
  lua_settop(L, 1);
  try_list(L, wanted);
  lua_close(L);
}

static void loops_end(void **state) {
  (void)state;
  try_group("loops_end");
}

static void memory_ends(void **state) {
  (void)state;
  try_group("memory_ends");
}

static void what_is_not_offered_is_unknown(void **state) {
  static const char *const names[] = {"load",         "loadstring",   "loadfile", "dofile", "require", "collectgarbage",
                                      "getmetatable", "setmetatable", "rawget",   "rawset", "xpcall",  "warn",
                                      "coroutine",    "debug",        "io",       "os",     "package", "_G",
                                      "_VERSION",     "next"};
  static const char *const fields[] = {"string.dump",  "string.pack",     "string.unpack",    "string.packsize",
                                       "string.match", "string.gmatch",   "string.gsub",      "table.move",
                                       "math.random",  "math.randomseed", "utf8.charpattern", "('').gsub",
                                       "('').match",   "('').dump",       "('').pack"};
  (void)state;
  for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
    char code[128];
    attack one = {names[i], code, UNKNOWN, "unknown name"};
    snprintf(code, sizeof code, "return %s", names[i]);
    try_all(&one, 1);
  }
  for (size_t i = 0; i < sizeof fields / sizeof fields[0]; i++) {
    char code[128];
    attack one = {fields[i], code, ARGUMENT, "end"};
    snprintf(code, sizeof code, "assert(%s == nil) error('end')", fields[i]);
    try_all(&one, 1);
  }
}

static void nothing_can_be_changed_for_others(void **state) {
  (void)state;
  try_group("nothing_can_be_changed_for_others");
}

static void nothing_shows_an_address(void **state) {
  (void)state;
  try_group("nothing_shows_an_address");
}

static void verbs_end(void **state) {
  (void)state;
  try_group("verbs_end");
}

static void scatters_end(void **state) {
  (void)state;
  try_group("scatters_end");
}

/* ---- sources */

static int32_t run_repeated(const char *before, const char *unit, size_t times, const char *after,
                            girdle_error *error) {
  size_t bytes = strlen(before) + times * strlen(unit) + strlen(after);
  char *text = malloc(bytes + 1), *at = text;
  int32_t status;
  assert_non_null(text);
  at = stpcpy(at, before);
  for (size_t i = 0; i < times; i++)
    at = stpcpy(at, unit);
  stpcpy(at, after);
  status = run_text(text, bytes, error);
  free(text);
  return status;
}

static void sources_end(void **state) {
  static const struct {
    const char *name, *before, *unit, *after;
    size_t times;
    int32_t expected;
  } cases[] = {
      {"a chain of fields", "local a = {} return a", ".a", "", 32000, REASONS},
      {"brackets", "return ", "(", "", 60000, SYNTAX | ARGUMENT},
      {"braces", "return ", "{", "", 60000, SYNTAX | ARGUMENT},
      {"nested functions", "", "return function () ", "", 3000, SYNTAX | ARGUMENT},
      {"minus signs", "return ", "- ", "1", 30000, SYNTAX | ARGUMENT},
      {"locals", "", "local a = 1 ", "", 5000, SYNTAX},
      {"labels", "", "do goto a ::a:: end ", "", 3000, ARGUMENT},
      {"a long name", "return ", "x", "", 60000, REASONS},
      {"a long text", "return '", "x", "'", 60000, ARGUMENT},
      {"concatenations", "return 'x'", "..'x'", "", 12000, SYNTAX | ARGUMENT},
      {"comparisons", "return 1", "<1", "", 30000, ARGUMENT | SYNTAX},
      {"60 KB of path data",
       "return recipe { format = 1, name = 'attempt', place = function () return run { stones = 'pp1', along = path "
       "'M0 0",
       " 1 2", "' } end }", 15000, LIMIT | DONE | GEOMETRY},
      {"60 KB of arcs",
       "return recipe { format = 1, name = 'attempt', place = function () return run { stones = 'pp1', along = path "
       "'M0 0",
       "a1 1 0 0 1 9 9", "' } end }", 4000, LIMIT | DONE | GEOMETRY | SYNTAX},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_error error;
    double start = processor_s();
    int32_t status = run_repeated(cases[i].before, cases[i].unit, cases[i].times, cases[i].after, &error);
    attack one = {cases[i].name, "", cases[i].expected, NULL};
    expect(&one, status, &error, processor_s() - start);
  }
}

static void sources_that_are_not_text_are_refused(void **state) {
  static const char binary[] = "\033Lua\x54\0\x19\x93\r\n\x1a\n";
  static const char *const others[] = {"",
                                       "return 5",
                                       "return {}",
                                       "return recipe",
                                       "return nil, recipe",
                                       "while true do end",
                                       "local function f() return f() end f()",
                                       "return recipe { format = 1 }",
                                       "\xef\xbb\xbfreturn",
                                       "return zone { 'a', recipe = 'b' }",
                                       "return recipe { format = 1, name = 'other', place = function () end }",
                                       "return recipe { format = 1, name = '\27[31m', place = function () end }",
                                       "return recipe { format = 1, name = '../up', place = function () end }"};
  girdle_error error;
  (void)state;
  assert_int_equal(run_text(binary, sizeof binary - 1, &error), GIRDLE_SYNTAX);
  assert_string_equal(error.message,
                      "attempt.lua is compiled Lua, which is not read: a recipe is a text, like return "
                      "recipe { format = 1, ... }");
  for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
    int32_t status = run_text(others[i], strlen(others[i]), &error);
    attack one = {others[i], "", REASONS, NULL};
    expect(&one, status, &error, 0);
  }
}

/* Any bytes at all. */
static void random_sources_end(void **state) {
  static const char *const words[] = {"return ",
                                      "recipe ",
                                      "{ ",
                                      "} ",
                                      "( ",
                                      ") ",
                                      "format = 1, ",
                                      "name = 'attempt', ",
                                      "place = ",
                                      "function () ",
                                      "end ",
                                      "run ",
                                      "line(10) ",
                                      "'ss20' ",
                                      "1e308 ",
                                      "= ",
                                      ".",
                                      "..",
                                      ", ",
                                      "local x ",
                                      "for i = 1, 3 do ",
                                      "if x then ",
                                      "stones = ",
                                      "along = ",
                                      "\n",
                                      "[[",
                                      "]]",
                                      "--",
                                      "\\",
                                      "\0"};
  uint64_t seed = 1;
  (void)state;
  for (int round = 0; round < 300; round++) {
    char text[512];
    size_t used = 0;
    girdle_error error;
    while (used < 400) {
      const char *word = words[test_random(&seed) % (sizeof words / sizeof words[0])];
      memcpy(text + used, word, strlen(word) + 1);
      used += strlen(word) ? strlen(word) : 1;
    }
    run_text(text, used, &error);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(loops_end),
      cmocka_unit_test(memory_ends),
      cmocka_unit_test(what_is_not_offered_is_unknown),
      cmocka_unit_test(nothing_can_be_changed_for_others),
      cmocka_unit_test(nothing_shows_an_address),
      cmocka_unit_test(verbs_end),
      cmocka_unit_test(scatters_end),
      cmocka_unit_test(sources_end),
      cmocka_unit_test(sources_that_are_not_text_are_refused),
      cmocka_unit_test(random_sources_end),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
