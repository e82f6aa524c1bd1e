/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/host.h"
#include "support.h"

/* How runs end: by each limit with its reason and place, by the caller's watch and sink, and by errors of any text. */

static int32_t place_text(girdle_call *call, const girdle_host_options *options, const char *body) {
  char text[4096];
  girdle_host *host = NULL;
  girdle_placement *placement = NULL;
  int32_t status = girdle_host_new(call, options, &host);
  snprintf(text, sizeof text, "return recipe { format = 1, name = 'attempt', place = function (given)\n%s\nend }\n",
           body);
  if (!status)
    status = girdle_host_add_source(call, host, GIRDLE_LAYER_COSTUME, "attempt.lua", text, (uint64_t)strlen(text));
  if (!status) status = girdle_host_place(call, host, "attempt", NULL, 0, &placement);
  girdle_placement_free(placement);
  girdle_host_free(host);
  return status;
}

static const char good[] = "return run { along = line(100), stones = 'ss20' }";

static void host_place_needs_no_call(void **state) {
  girdle_host_options options;
  (void)state;
  girdle_host_options_init(&options, sizeof options);
  options.most_seconds = 0.05;
  assert_int_equal(place_text(NULL, NULL, good), GIRDLE_OK);
  assert_int_equal(place_text(NULL, &options, "while true do end"), GIRDLE_LIMIT);
  assert_int_equal(place_text(NULL, &options, "error('end')"), GIRDLE_ARGUMENT);
  assert_int_equal(place_text(NULL, &options,
                              "print('dropped') "
                              "return run { along = line(100), stones = 'ss20' }"),
                   GIRDLE_OK);
}

static void host_place_ends_by_each_limit(void **state) {
  static const struct {
    const char *body, *field, *says;
    double most;
  } cases[] = {
      {"\nwhile true do end", "steps", "stopped: it took more than the 20000 steps it may", 20000},
      {"\nlocal t = {} for i = 1, 1e9 do t[i] = i end", "memory",
       "stopped: it asked for more memory than the 1 MiB it may use", 1 << 20},
      {"\nreturn run { along = line(1e5), stones = 'ss5' }", "stones", "", 500},
      {"\nlocal s = 'x' for i = 1, 40 do s = s .. s end", "memory", "stopped: it asked for", 1 << 20},
      {"\nfor i = 1, 100 do print('0123456789') end", "print", "more was printed than the limit allows", NAN},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_host_options options;
    test_call test;
    test_begin(&test);
    girdle_host_options_init(&options, sizeof options);
    options.most_steps = i == 0 ? 20000 : options.most_steps;
    options.most_bytes = i == 2 ? options.most_bytes : 1 << 20;
    options.most_stones = 500;
    options.most_log_bytes = 100;
    assert_status(&test, place_text(&test.call, &options, cases[i].body), GIRDLE_LIMIT);
    assert_string_equal(test.error.field, cases[i].field);
    if (!strstr(test.error.message, cases[i].says)) fail_msg("'%s' lacks '%s'", test.error.message, cases[i].says);
    assert_string_equal(test.error.source, "attempt.lua");
    assert_int_equal(test.error.line, 3);
    if (i < 2) assert_near(test.error.most, cases[i].most, 0);
    assert_int_equal(test.live_bytes, 0);
  }
}

/* A word that works too long, or asks for too much, says which numbers to change; a loop does not. */
static void host_place_says_what_takes_less(void **state) {
  static const struct {
    const char *body, *field;
  } cases[] = {{"\nreturn scatter { within = rectangle(2000, 2000), stones = 'ss5', gap = 0 }", "steps"},
               {"\nreturn run { along = line(1e7), stones = 'ss5', gap = 0 }", "memory"}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_host_options options;
    test_call test;
    test_begin(&test);
    girdle_host_options_init(&options, sizeof options);
    options.most_steps = 100000;
    options.most_bytes = 64 << 20;
    assert_status(&test, place_text(&test.call, &options, cases[i].body), GIRDLE_LIMIT);
    assert_string_equal(test.error.field, cases[i].field);
    assert_non_null(strstr(test.error.message, "(1000000 at most): a wider gap, larger ones or a smaller shape"));
    assert_null(strstr(test.error.message, "loop"));
    assert_int_equal(test.error.line, 3);
    assert_int_equal(test.live_bytes, 0);
  }
}

/* What was printed before the limit was reached has been handed on, whole lines at a time. */
static uint64_t printed;
static int32_t count_bytes(void *context, const void *bytes, uint64_t count) {
  (void)bytes;
  printed += count;
  return context != NULL;
}

static void host_place_prints_up_to_the_limit(void **state) {
  girdle_host_options options;
  test_call test;
  (void)state;
  test_begin(&test);
  girdle_host_options_init(&options, sizeof options);
  options.most_log_bytes = 22;
  options.log.write = count_bytes;
  printed = 0;
  assert_ok(&test, place_text(&test.call, &options,
                              "print('0123456789') print('0123456789') return run { along = line(100), "
                              "stones = 'ss20' }"));
  assert_int_equal(printed, 22);
  printed = 0;
  assert_status(&test, place_text(&test.call, &options, "print('0123456789') print('0123456789x')"), GIRDLE_LIMIT);
  assert_int_equal(printed, 11);
  test_again(&test);
  options.log.context = &options; /* a sink that refuses */
  assert_status(&test, place_text(&test.call, &options, "print('0')"), GIRDLE_LIMIT);
  assert_string_equal(test.error.field, "print");
}

typedef struct patience {
  uint64_t left, asked;
} patience;

static int32_t lose_patience(void *context, uint64_t steps, double done) {
  patience *with = context;
  (void)done;
  with->asked += steps;
  return with->asked > with->left;
}

static void host_place_ends_by_the_callers_watch(void **state) {
  patience with = {100000, 0};
  test_call test;
  (void)state;
  test_begin(&test);
  test.call.watch.context = &with;
  test.call.watch.tick = lose_patience;
  assert_status(&test, place_text(&test.call, NULL, "while true do pcall(function () while true do end end) end"),
                GIRDLE_STOPPED);
  assert_string_equal(test.error.message, "stopped before it was done");
  assert_int_equal(test.error.line, 2);
  assert_true(with.asked >= 100000 && with.asked < 200000);
  with.asked = 0;
  assert_ok(&test, place_text(&test.call, NULL, good));
  assert_true(with.asked > 0 && with.asked < 100000);
}

/* An error's text may begin like a place without being one; where it tells none, it is where it was raised. */
static void host_place_takes_places_out_of_errors(void **state) {
  static const struct {
    const char *body, *source, *message;
    int line;
  } cases[] = {
      {"error('a word')", "attempt.lua", "a word", 2},
      {"error('no place', 0)", "attempt.lua", "no place", 2},
      {"error('other.lua:12: moved', 0)", "other.lua", "moved", 12},
      {"error('other.lua:12:moved', 0)", "other.lua", "moved", 12},
      {"error(':12: none', 0)", "attempt.lua", ":12: none", 2},
      {"error('gap: too small', 0)", "attempt.lua", "gap: too small", 2},
      {"error('a.lua:0: x', 0)", "attempt.lua", "a.lua:0: x", 2},
      {"error('a.lua:-3: x', 0)", "attempt.lua", "a.lua:-3: x", 2},
      {"error('a.lua:1000001: x', 0)", "attempt.lua", "a.lua:1000001: x", 2},
      {"error('a.lua:12x: x', 0)", "attempt.lua", "a.lua:12x: x", 2},
      {"error('a.lua:12', 0)", "attempt.lua", "a.lua:12", 2},
      {"error(('x'):rep(64) .. ':12: y', 0)", "attempt.lua", "xxxxxxxx", 2},
      {"error({})", "attempt.lua", "the recipe raised an error that is not a text", 2},
      {"error()", "attempt.lua", "the recipe raised an error that is not a text", 2},
      {"pcall(error, 'caught', 0)\nerror('later', 0)", "attempt.lua", "later", 3},
      {"local r = recipe { format = 1, name = 'r', place = function ()\nerror('deep', 0) end }\nreturn r {}",
       "attempt.lua", "deep", 3},
      {"local r = recipe { format = 1, name = 'r', place = function ()\nerror(true) end }\nreturn r {}", "attempt.lua",
       "not a text", 4},
      {"local r = recipe { format = 1, name = 'r', place = function ()\nerror('deep', 0) end }\nlocal _, e = pcall(r, "
       "{})\nif e ~= 'deep' then error(e) end error('later', 0)",
       "attempt.lua", "later", 5},
      {"\ntable.sort { 1, 'a', {} }", "attempt.lua", "attempt to compare", 3},
      {"return 5", "attempt.lua", "place of recipe 'attempt' must return a placement, not the number 5", 1},
      {"error(12, 0)", "attempt.lua", "the recipe raised an error that is not a text", 2},
      {"error('a\\nb\\27c')", "attempt.lua", "a?b?c", 2},
      {"pcall(run, { gap = -1 }) error('later')", "attempt.lua", "later", 2},
      {"local _, e = pcall(run, { along = line(9), stones = 'ss5', gap = -1 }) error(e, 0)", "attempt.lua",
       "gap must be", 2},
      {"local x = nil return x.y", "attempt.lua", "attempt to index a nil value (local 'x')", 2},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    test_begin(&test);
    assert_status(&test, place_text(&test.call, NULL, cases[i].body), GIRDLE_ARGUMENT);
    if (strcmp(test.error.source, cases[i].source) != 0 || test.error.line != cases[i].line ||
        !strstr(test.error.message, cases[i].message))
      fail_msg("%s: %s:%d: %s", cases[i].body, test.error.source, (int)test.error.line, test.error.message);
    assert_int_equal(test.live_bytes, 0);
  }
}

typedef struct meter {
  uint64_t live, most;
} meter;

static void *metered(void *context, void *block, uint64_t old_bytes, uint64_t new_bytes) {
  meter *at = context;
  at->live += new_bytes - (block ? old_bytes : 0);
  if (at->live > at->most) at->most = at->live;
  if (new_bytes) return realloc(block, (size_t)new_bytes);
  free(block);
  return NULL;
}

/* Never more than the limit is asked of the caller's allocator, by Lua or by what it has the core make. */
static void host_place_holds_the_limit_of_memory(void **state) {
  static const char *const bodies[] = {
      "local t = {} for i = 1, 1e9 do t[i] = i end", "local t = {} for i = 1, 1e9 do t[i] = ('x'):rep(700000) end",
      "local t = {} while true do t[#t + 1] = run { along = line(1e4), stones = 'ss5' } end",
      "local p = run { along = line(1e3), stones = 'ss5' } while true do p = p + p end"};
  (void)state;
  for (size_t i = 0; i < sizeof bodies / sizeof bodies[0]; i++) {
    girdle_host_options options;
    test_call test;
    meter used = {0, 0};
    test_begin(&test);
    test.call.memory.context = &used;
    test.call.memory.resize = metered;
    girdle_host_options_init(&options, sizeof options);
    options.most_bytes = 4 << 20;
    assert_status(&test, place_text(&test.call, &options, bodies[i]), GIRDLE_LIMIT);
    assert_true(used.most > 2 << 20 && used.most < (4 << 20) + 16384); /* beside the host and its source */
    assert_int_equal(used.live, 0);
  }
}

/* A refusal has what is garbage collected and is asked once more; only a second one ends the run. */
static void host_place_collects_before_it_gives_up(void **state) {
  girdle_host_options options;
  test_call test;
  (void)state;
  test_begin(&test);
  girdle_host_options_init(&options, sizeof options);
  options.most_bytes = 700000;
  assert_ok(&test, place_text(&test.call, &options,
                              "for i = 1, 500 do local s = ('x'):rep(100000) .. i end\n"
                              "return run { along = line(100), stones = 'ss20' }"));
  assert_status(&test, place_text(&test.call, NULL, "local s = 'x' for i = 1, 40 do s = s .. s end"), GIRDLE_LIMIT);
  if (!strstr(test.error.message, "longer than the 1 MiB a text may have")) fail_msg("%s", test.error.message);
}

static void host_new_refuses_limits_that_are_none(void **state) {
  static const double seconds[] = {0, -1, INFINITY, NAN, 1e10};
  test_call test;
  girdle_host *host = NULL;
  girdle_host_options options;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof seconds / sizeof seconds[0]; i++) {
    girdle_host_options_init(&options, sizeof options);
    options.most_seconds = seconds[i];
    test_again(&test);
    assert_status(&test, girdle_host_new(&test.call, &options, &host), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, "most_seconds");
  }
  girdle_host_options_init(&options, sizeof options);
  options.most_stones = 0;
  assert_status(&test, girdle_host_new(&test.call, &options, &host), GIRDLE_ARGUMENT);
  assert_null(host);
  assert_int_equal(test.live_bytes, 0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(host_place_needs_no_call),
      cmocka_unit_test(host_place_ends_by_each_limit),
      cmocka_unit_test(host_place_says_what_takes_less),
      cmocka_unit_test(host_place_prints_up_to_the_limit),
      cmocka_unit_test(host_place_ends_by_the_callers_watch),
      cmocka_unit_test(host_place_takes_places_out_of_errors),
      cmocka_unit_test(host_place_holds_the_limit_of_memory),
      cmocka_unit_test(host_place_collects_before_it_gives_up),
      cmocka_unit_test(host_new_refuses_limits_that_are_none),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
