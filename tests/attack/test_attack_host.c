/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <time.h>

#include "girdle/host.h"
#include "support.h"

/* Recipes that mean harm: each ends within its limits, with the right reason, and leaves nothing behind. */

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

static double wall_s(void) {
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
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
  if (seconds > 3) fail_msg("%s took %g s", one->name, seconds);
}

static void try_all(const attack *attacks, size_t count) {
  static char text[8192];
  for (size_t i = 0; i < count; i++) {
    girdle_error error;
    double start = wall_s();
    int32_t status;
    snprintf(text, sizeof text, "return recipe { format = 1, name = 'attempt', place = function (given)\n%s\nend }\n",
             attacks[i].code);
    status = run_text(text, strlen(text), &error);
    expect(&attacks[i], status, &error, wall_s() - start);
  }
}

#define TRY(list) try_all(list, sizeof list / sizeof list[0])

static void loops_end(void **state) {
  static const attack attacks[] = {
      {"while", "while true do end", LIMIT, "seconds"},
      {"goto", "::again:: goto again", LIMIT, NULL},
      {"numeric for", "for i = 1, math.huge do end", LIMIT, NULL},
      {"integer for", "for i = 1, math.maxinteger do end", LIMIT, NULL},
      {"recursion", "local function f() return f() end f()", LIMIT, NULL},
      {"pcall in a loop", "while true do pcall(function () while true do end end) end", LIMIT, NULL},
      {"pcall of itself", "local function f() pcall(f) while true do pcall(f) end end f()", LIMIT, NULL},
      {"pcall of error", "while true do pcall(error) end", LIMIT, NULL},
      {"pcall of a word", "while true do pcall(run, {}) end", LIMIT, NULL},
      {"deep recursion", "local function f() return 1 + f() end f()", ARGUMENT | LIMIT, NULL},
      {"deep pcall", "local function f() pcall(f) end f() error('end')", ARGUMENT | LIMIT, NULL},
      {"nested pcall", "pcall(pcall, pcall, pcall, pcall, error) error('end')", ARGUMENT, "end"},
      {"a recipe in itself", "return use('attempt', {})", LIMIT | ARGUMENT, NULL},
      {"a comparison that loops", "local t = { 3, 2, 1 } table.sort(t, function () while true do end end)", LIMIT,
       NULL},
      {"a comparison that lies",
       "local t = {} for i = 1, 1000 do t[i] = i end table.sort(t, function () return true end) error('end')", ARGUMENT,
       "end"},
      {"a walk that loops", "for x in function () return 1 end do end", LIMIT, NULL},
      {"pairs while growing", "local t = {1} for k in pairs(t) do t[#t + 1] = k end error('end')", ARGUMENT, "end"},
      {"pairs by hand", "local f, s = pairs { 1 } for i = 1, 1e9 do f(s) f({ {}, {}, math.maxinteger }) end", LIMIT,
       NULL},
  };
  (void)state;
  TRY(attacks);
}

static void memory_ends(void **state) {
  static const attack attacks[] = {
      {"a table", "local t = {} for i = 1, 1e9 do t[i] = i end", LIMIT, "memory"},
      {"doubling", "local s = 'x' while true do s = s .. s end", LIMIT, "memory"},
      {"doubling in pcall", "local s = 'x' while true do pcall(function () s = s .. s end) end", LIMIT, "memory"},
      {"many texts", "local t = {} for i = 1, 1e9 do t[i] = ('x'):rep(1e5) .. i end", LIMIT, NULL},
      {"10 GB", "return ('x'):rep(10 * 1024 * 1024 * 1024)", LIMIT, "1 MiB"},
      {"rep of nothing", "for i = 1, 1e9 do (''):rep(math.maxinteger) end", LIMIT, NULL},
      {"rep overflow", "return ('xx'):rep(math.maxinteger, 'y')", LIMIT, "1 MiB"},
      {"concat", "local t = {} for i = 1, 100 do t[i] = ('x'):rep(1e6) end return table.concat(t)", LIMIT, NULL},
      {"concat far", "return table.concat({}, ',', 1, math.maxinteger)", ARGUMENT, NULL},
      {"concat of a few for ever", "local s = ('x'):rep(1000) while true do local t = s .. s end", LIMIT, NULL},
      {"unpack", "return table.unpack({}, 1, 1e8)", LIMIT, "unpack"},
      {"unpack over", "return table.unpack({}, math.mininteger, math.maxinteger)", LIMIT, "unpack"},
      {"format", "return ('%99.99f'):rep(1000):format(1)", ARGUMENT, NULL},
      {"format wide", "return ('%999d'):format(1)", ARGUMENT, NULL},
      {"format far", "local s = ('x'):rep(1e6) return ('%s%s%s'):format(s, s, s)", LIMIT, "1 MiB"},
      {"insert far", "local t = {} for i = 1, 1e9 do table.insert(t, 1, i) end", LIMIT, NULL},
      {"select", "return select(math.mininteger)", ARGUMENT, NULL},
      {"closures", "local t = {} while true do t[#t + 1] = function () return t end end", LIMIT, "memory"},
      {"placements", "local t = {} while true do t[#t + 1] = run { along = line(1e4), stones = 'ss5' } end", LIMIT,
       NULL},
      {"garbage placements", "local p while true do p = run { along = line(1e3), stones = 'ss5' } end", LIMIT,
       "seconds"},
      {"split", "local t = {} while true do t[#t + 1] = (','):rep(1e5):split(',') end", LIMIT, NULL},
      {"find", "local s = ('a'):rep(1e6) while true do s:find(('a'):rep(999) .. 'b') end", LIMIT, NULL},
      {"find with a long text", "local s = ('a'):rep(1e6) return s:find(('a'):rep(1e5) .. 'b')", LIMIT, NULL},
      {"upper", "local s = ('a'):rep(1e6) while true do s:upper() end", LIMIT, NULL},
      {"comparing", "local a, b = ('a'):rep(1e6), ('a'):rep(1e6) .. 'b' while true do local c = a < b end", LIMIT,
       NULL},
      {"sorting long texts",
       "local t = {} for i = 1, 20 do t[i] = ('a'):rep(1e6) .. i end while true do table.sort(t) end", LIMIT, NULL},
      {"byte", "return (('a'):rep(1e6)):byte(1, -1)", ARGUMENT | LIMIT, NULL},
      {"utf8", "local s = ('a'):rep(1e6) while true do utf8.len(s) end", LIMIT, NULL},
      {"print", "while true do print(('x'):rep(1000)) end", LIMIT, "print"},
      {"print far", "print(('\\1'):rep(1e6))", LIMIT, NULL},
  };
  (void)state;
  TRY(attacks);
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
  static const attack attacks[] = {
      {"a global", "total = 1", ARGUMENT, "local total"},
      {"a word", "run = nil", ARGUMENT, "local run"},
      {"the environment", "_ENV.total = 1", ARGUMENT, "local total"},
      {"its metatable", "return #_ENV .. getmetatable(_ENV)", UNKNOWN, "getmetatable"},
      {"the text's methods", "('').rep = nil", ARGUMENT, NULL},
      {"a library", "string.rep = function () return 'own' end", ARGUMENT, "cannot be changed"},
      {"insert into a library", "table.insert(string, 1)", ARGUMENT, "cannot be changed"},
      {"insert into the environment", "table.insert(_ENV, 1)", ARGUMENT, "cannot be changed"},
      {"remove from a library", "table.remove(math)", ARGUMENT, "cannot be changed"},
      {"sort a library", "table.sort(math)", ARGUMENT, "cannot be changed"},
      {"a method", "line(10).length = nil", ARGUMENT, NULL},
      {"a stone", "stone('ss20').size = 'ss5'", ARGUMENT, NULL},
      {"a table for a metatable",
       "local t = { __gc = function () while true do end end, __index = _ENV } t = nil error('end')", ARGUMENT, "end"},
      {"a method of another kind", "return line(10).length('x')", ARGUMENT, "works on a path"},
      {"a method of another box", "return line(10).area(stone 'ss20')", ARGUMENT, "works on a path"},
      {"a placement's method on a path", "local p = run { along = line(10), stones = 'ss5' } return p.each(line(10))",
       ARGUMENT, NULL},
      {"a walk on something else", "local p = run { along = line(10), stones = 'ss5' } local f = p:each() return f(p)",
       ARGUMENT, "for loops"},
      {"a walk on a stone",
       "local p = run { along = line(10), stones = 'ss5' } local f = p:each() return f(stone 'ss20')", ARGUMENT,
       "for loops"},
      {"what is given", "return run { along = line(10), stones = 'ss5' }, given.anything", UNKNOWN | ARGUMENT, NULL},
  };
  (void)state;
  TRY(attacks);
}

static void nothing_shows_an_address(void **state) {
  static const attack attacks[] = {
      {"tostring", "error(tostring({}) .. tostring(print) .. tostring(function () end))", ARGUMENT,
       "tablefunctionfunction"},
      {"format", "error(('%s %s'):format({}, print))", ARGUMENT, "table function"},
      {"format %p", "return ('%p'):format({})", ARGUMENT, "%p"},
      {"boxes", "error(tostring(line(10)) .. ', ' .. tostring(stream(1)))", ARGUMENT, "path of 10 mm, stream"},
      {"an error that is a table", "error({})", ARGUMENT, "not a text"},
      {"an error that is a box", "error(line(10))", ARGUMENT, "not a text"},
      {"an error that is nothing", "error()", ARGUMENT, "not a text"},
  };
  (void)state;
  TRY(attacks);
}

static void verbs_end(void **state) {
  static const attack attacks[] = {
      {"a long run", "return run { along = line(1e12), stones = 'ss5', gap = 0 }", ARGUMENT, "length"},
      {"a run by scaling",
       "return run { along = line(1e7):fitted { length = 1e7 }:stretched { across = 10 }:stretched { across = 10 }"
       ":stretched { across = 10 }:stretched { across = 10 }, stones = 'pp1', gap = 0 }",
       LIMIT | ARGUMENT | GEOMETRY, NULL},
      {"the longest run", "return run { along = line(1e7), stones = 'pp1', gap = 0 }", LIMIT, NULL},
      {"a run of tiny stones", "return run { along = line(1e6), stones = stone { diameter_mm = 1e-9 } }", ARGUMENT,
       NULL},
      {"runs without end", "local p = run { along = line(1000), stones = 'ss5' } while true do p = p + p end", LIMIT,
       NULL},
      {"a large cover", "return cover { within = rectangle(1e5, 1e5), stones = 'pp1', gap = 0 }", LIMIT, NULL},
      {"a count", "return run { along = line(100), stones = 'ss5', count = 1e18 }", ARGUMENT | LIMIT, "count"},
      {"an infinite gap", "return run { along = line(100), stones = 'ss5', gap = 1 / 0 }", ARGUMENT, "gap"},
      {"a gap that is no number", "return run { along = line(100), stones = 'ss5', gap = 0 / 0 }", ARGUMENT, "gap"},
      {"a million stones in the sequence",
       "local t = {} for i = 1, 1e5 do t[i] = 'ss5' end return run { along = line(10), stones = t }", ARGUMENT | LIMIT,
       NULL},
      {"a million fields", "local t = {} for i = 1, 1e5 do t['f' .. i] = i end return run(t)",
       UNKNOWN | ARGUMENT | LIMIT, NULL},
      {"a million stretches",
       "local t = {} for i = 1, 1e5 do t[i] = { i, i } end return run { along = line(10), stones = 'ss5', leave = t }",
       ARGUMENT | LIMIT | GEOMETRY | DONE, NULL},
      {"a curved hedgehog",
       "local t = {} for i = 1, 3000 do t[i] = 'C' .. i .. ' 1e3 ' .. -i .. ' -1e3 ' .. i .. ' 0' end "
       "local p = path('M0 0' .. table.concat(t)) return run { along = p, stones = 'pp1' }",
       LIMIT | DONE | GEOMETRY | ARGUMENT, NULL},
      {"a hedgehog's inset",
       "local t = {} for i = 1, 3000 do t[i] = 'L' .. i .. ' ' .. (i % 2 * 1000) end "
       "return run { along = path('M0 0' .. table.concat(t)):offset(5), stones = 'pp1' }",
       LIMIT | DONE | GEOMETRY, NULL},
      {"a region that crosses itself", "return cover { within = 'M0 0 L100 100 L100 0 L0 100 Z', stones = 'ss20' }",
       GEOMETRY | DONE | ARGUMENT, NULL},
      {"an empty region", "return cover { within = 'M0 0 Z', stones = 'ss20' }", GEOMETRY | SYNTAX | ARGUMENT | DONE,
       NULL},
      {"NUL in a text", "return run { along = '38\\0 cm', stones = 'ss20' }", SYNTAX, "NUL"},
      {"a name with control characters", "return use('\\27[31m', {})", UNKNOWN, "?[31m"},
      {"a name outside", "return use('../attempt', {})", UNKNOWN, NULL},
      {"a file", "return use('/etc/passwd', {})", UNKNOWN, NULL},
      {"a million parameters",
       "local t = {} for i = 1, 1e5 do t[i] = { 'p' .. i, 'length' } end "
       "return recipe { format = 1, name = 'x', takes = t, place = print }",
       LIMIT, "takes"},
      {"huge numbers in a stone", "return stone { diameter_mm = 1e300 }", ARGUMENT, "diameter_mm"},
      {"a box without end", "while true do line(10):moved(1, 1) end", LIMIT, "seconds"},
  };
  (void)state;
  TRY(attacks);
}

static void scatters_end(void **state) {
  static const attack attacks[] = {
      {"a fine scatter", "return scatter { within = rectangle(1000, 1000), stones = 'pp1', gap = '0.000001 mm' }",
       LIMIT, NULL},
      {"tiny stones",
       "return scatter { within = rectangle(1000, 1000), stones = stone { diameter_mm = 0.5 }, gap = 0 }", LIMIT, NULL},
      {"a large scatter", "return scatter { within = rectangle(1e6, 1e6), stones = 'ss20', gap = 0 }", LIMIT, NULL},
      {"a thin region", "return scatter { within = rectangle(1e7, 0.001), stones = 'ss20', gap = 0 }",
       DONE | GEOMETRY | LIMIT, NULL},
      {"weights", "return scatter { within = rectangle(100, 100), stones = { {'ss20', 0}, {'ss12', 0} }, gap = 1 }",
       ARGUMENT, NULL},
      {"a weight that is no number",
       "return scatter { within = rectangle(100, 100), stones = { {'ss20', 0 / 0} }, gap = 1 }", ARGUMENT, "weight"},
      {"a graded sea",
       "return grade { within = rectangle(1e6, 1e6), edge = line(1e6), stones = { 'ss6', 'ss5' }, depth = 1e6, gap = 0 "
       "}",
       LIMIT, NULL},
  };
  (void)state;
  TRY(attacks);
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
    double start = wall_s();
    int32_t status = run_repeated(cases[i].before, cases[i].unit, cases[i].times, cases[i].after, &error);
    attack one = {cases[i].name, "", cases[i].expected, NULL};
    expect(&one, status, &error, wall_s() - start);
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
