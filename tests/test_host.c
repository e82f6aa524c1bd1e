/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/host.h"
#include "support.h"

/* The host: recipes and costumes run from text, their limits, their errors. */

#define LINE_RECIPE                                                                                            \
  "return recipe { format = 1, name = \"plain line\", about = \"One stone along a line.\",\n"                  \
  "  takes = { { \"line\", \"path\" }, { \"one\", \"stone\", default = \"ss20 clear\" },\n"                    \
  "    { \"gap\", \"length\", default = \"0.5 mm\", from = \"0 mm\", to = \"20 mm\", about = \"clear\" } },\n" \
  "  place = function (given)\n"                                                                               \
  "    return run { along = given.line, stones = { given.one }, gap = given.gap }\n"                           \
  "  end }\n"

typedef struct test_host {
  test_call test;
  girdle_host *host;
  girdle_host_options options;
  girdle_placement *placement;
  char log[4096];
  uint64_t logged;
  char faults[2048];
  int fault_count;
} test_host;

static int32_t keep_log(void *context, const void *bytes, uint64_t count) {
  test_host *at = context;
  if (at->logged + count >= sizeof at->log) return 1;
  memcpy(at->log + at->logged, bytes, count);
  at->logged += count;
  return 0;
}

static void keep_fault(void *context, const girdle_error *error) {
  test_host *at = context;
  size_t used = strlen(at->faults);
  at->fault_count++;
  snprintf(at->faults + used, sizeof at->faults - used, "%s:%d: %s\n", error->source, (int)error->line, error->message);
}

static girdle_call *begin(test_host *at) {
  memset(at, 0, sizeof *at);
  test_begin(&at->test);
  at->test.call.report.context = at;
  at->test.call.report.fault = keep_fault;
  girdle_host_options_init(&at->options, sizeof at->options);
  at->options.log.context = at;
  at->options.log.write = keep_log;
  at->options.most_seconds = 0.2;
  at->options.most_bytes = 8 << 20;
  assert_ok(&at->test, girdle_host_new(&at->test.call, &at->options, &at->host));
  return &at->test.call;
}

static void end(test_host *at) {
  girdle_placement_free(at->placement);
  girdle_host_free(at->host);
  assert_int_equal(at->test.live_bytes, 0);
}

static void add(test_host *at, int32_t layer, const char *file, const char *text) {
  assert_ok(&at->test, girdle_host_add_source(&at->test.call, at->host, layer, file, text, strlen(text)));
}

/* Runs a recipe named "attempt" whose placing function has the given body. */
static int32_t attempt(test_host *at, const char *body) {
  char text[8192];
  snprintf(text, sizeof text,
           "return recipe { format = 1, name = \"attempt\", takes = { }, place = function (given)\n%s\nend }\n", body);
  add(at, GIRDLE_LAYER_COSTUME, "attempt.lua", text);
  test_again(&at->test);
  girdle_placement_free(at->placement);
  at->placement = NULL;
  return girdle_host_place(&at->test.call, at->host, "attempt", NULL, 0, &at->placement);
}

/* 300 mm at a pitch of 4.7 + 0.5 mm: 58 gaps of 300 / 58 - 4.7 = 0.4724 mm are nearer to the wish than 57. */
static void host_place_counts_a_line(void **state) {
  test_host at;
  girdle_call *call = begin(&at);
  const girdle_given given[] = {{"line", "300 mm"}, {"one", "ss20 black"}};
  const girdle_stone *stones;
  uint32_t stone_count;
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  assert_ok(&at.test, girdle_host_place(call, at.host, "plain line", given, 2, &at.placement));
  assert_int_equal(girdle_placement_view(at.placement, NULL, &stones, &stone_count), 59);
  assert_int_equal(stone_count, 1);
  assert_string_equal(stones[0].colour, "black");
  end(&at);
}

static int32_t place_line(test_host *at, const char *recipe) {
  const girdle_given given[] = {{"line", "300 mm"}, {"one", "ss20 black"}};
  int32_t status;
  test_again(&at->test);
  status = girdle_host_place(&at->test.call, at->host, recipe, given, 2, &at->placement);
  girdle_placement_free(at->placement);
  at->placement = NULL;
  return status;
}

/* Sources of the two layers in turn, so that what is kept closes up. */
static void host_clear_forgets_one_layer(void **state) {
  static const char *const names[] = {"a", "b", "c", "d"};
  test_host at;
  begin(&at);
  (void)state;
  for (int round = 0; round < 2; round++) {
    for (int i = 0; i < 4; i++) {
      char file[16], text[1024];
      const char *rest = strstr(LINE_RECIPE, "name = \"plain line\"");
      assert_non_null(rest);
      snprintf(file, sizeof file, "%s.lua", names[i]);
      snprintf(text, sizeof text, "%.*sname = \"%s\"%s", (int)(rest - LINE_RECIPE), LINE_RECIPE, names[i],
               rest + strlen("name = \"plain line\""));
      add(&at, i % 2 ? GIRDLE_LAYER_HOUSE : GIRDLE_LAYER_COSTUME, file, text);
    }
    girdle_host_clear(at.host, GIRDLE_LAYER_COSTUME);
    for (int i = 0; i < 4; i++)
      assert_status(&at.test, place_line(&at, names[i]), i % 2 ? GIRDLE_OK : GIRDLE_UNKNOWN);
  }
  girdle_host_clear(at.host, GIRDLE_LAYER_HOUSE);
  assert_status(&at.test, place_line(&at, "b"), GIRDLE_UNKNOWN);
  end(&at);
}

static void host_place_names_the_parameter(void **state) {
  test_host at;
  girdle_call *call = begin(&at);
  const girdle_given given[] = {{"lne", "300 mm"}, {"gap", "25 mm"}};
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  assert_status(&at.test, girdle_host_place(call, at.host, "plain line", given, 2, &at.placement), GIRDLE_ARGUMENT);
  assert_int_equal(at.fault_count, 3);
  assert_non_null(strstr(at.faults, "line (path) is missing"));
  assert_non_null(strstr(at.faults, "gap must be 0 to 20 mm, not 25"));
  assert_non_null(strstr(at.faults, "unknown parameter 'lne', did you mean 'line'? For example line = \"32 cm\""));
  end(&at);
}

static void host_place_names_file_line_field_and_example(void **state) {
  static const struct {
    const char *field, *code, *expected, *nearest;
    int32_t status;
  } cases[] = {
      {"gpa", "return run { along = line(100), stones = 'ss20', gpa = 1 }",
       "did you mean 'gap'? For example gap = \"0.5 mm\"", "gap", GIRDLE_UNKNOWN},
      {"zeal", "return run { along = line(100), stones = 'ss20', zeal = 1 }", "; known are along, stones, gap,", "",
       GIRDLE_UNKNOWN},
      {"gap", "return run { along = line(100), stones = 'ss20', gap = '0,5 mm' }", "12.5 mm", "0.5 mm", GIRDLE_SYNTAX},
      {"stones", "return run { along = line(100), stones = 'ss21x' }", "did you mean 'ss21'", "ss21", GIRDLE_UNKNOWN},
      {"gap", "return run { along = line(100), stones = 'ss20', gap = -1 }", "gap = \"0.5 mm\"", "", GIRDLE_ARGUMENT},
      {"stones", "return run { along = line(100) }", "stones = { \"ss20 black\"", "", GIRDLE_ARGUMENT},
  };
  test_host at;
  begin(&at);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    assert_status(&at.test, attempt(&at, cases[i].code), cases[i].status);
    assert_string_equal(at.test.error.field, cases[i].field);
    assert_string_equal(at.test.error.source, "attempt.lua");
    assert_int_equal(at.test.error.line, 2);
    assert_string_equal(at.test.error.nearest, cases[i].nearest);
    assert_non_null(strstr(at.test.error.message, cases[i].expected));
  }
  end(&at);
}

static void host_place_ends_an_endless_recipe(void **state) {
  test_host at;
  begin(&at);
  (void)state;
  assert_status(&at.test, attempt(&at, "while true do end"), GIRDLE_LIMIT);
  assert_string_equal(at.test.error.source, "attempt.lua");
  assert_int_equal(at.test.error.line, 2);
  assert_non_null(strstr(at.test.error.message, "does a loop never end?"));
  assert_status(&at.test, attempt(&at, "while true do pcall(function () while true do end end) end"), GIRDLE_LIMIT);
  end(&at);
}

static void host_place_ends_a_recipe_that_wants_too_much_memory(void **state) {
  static const char *const bodies[] = {
      "local t = {} for i = 1, 1e9 do t[i] = i end",
      "local s = 'x' while true do s = s .. s end",
      "local t = {} while true do t = { t, run { along = line(1e4), stones = 'ss5' } } end",
  };
  test_host at;
  begin(&at);
  (void)state;
  at.options.most_seconds = 20; /* so that memory ends first on the slowest machine */
  girdle_host_free(at.host);
  assert_ok(&at.test, girdle_host_new(&at.test.call, &at.options, &at.host));
  for (size_t i = 0; i < sizeof bodies / sizeof bodies[0]; i++) {
    assert_status(&at.test, attempt(&at, bodies[i]), GIRDLE_LIMIT);
    assert_string_equal(at.test.error.field, "memory");
    assert_string_equal(at.test.error.source, "attempt.lua");
    assert_int_equal(at.test.error.line, 2);
  }
  assert_status(&at.test, attempt(&at, "return ('x'):rep(10 * 1024 * 1024 * 1024)"), GIRDLE_LIMIT);
  assert_non_null(strstr(at.test.error.message, "1 MiB"));
  end(&at);
}

static int32_t stop_after(void *context, uint64_t steps, double done) {
  uint64_t *left = context;
  (void)done;
  *left = steps < *left ? *left - steps : 0;
  return *left == 0;
}

static void host_place_stops_when_the_caller_wishes(void **state) {
  test_host at;
  uint64_t left = 100000;
  girdle_call *call = begin(&at);
  (void)state;
  call->watch.context = &left;
  call->watch.tick = stop_after;
  assert_status(&at.test, attempt(&at, "while true do pcall(error) end"), GIRDLE_STOPPED);
  end(&at);
}

static void host_place_limits_stones(void **state) {
  test_host at;
  begin(&at);
  (void)state;
  at.options.most_stones = 50;
  girdle_host_free(at.host);
  assert_ok(&at.test, girdle_host_new(&at.test.call, &at.options, &at.host));
  assert_status(&at.test, attempt(&at, "return run { along = line(300), stones = 'ss20', gap = 0.5 }"), GIRDLE_LIMIT);
  assert_string_equal(at.test.error.field, "stones");
  assert_status(&at.test, attempt(&at, "return run { along = line(300), stones = 'ss5', count = 51 }"), GIRDLE_LIMIT);
  assert_ok(&at.test, attempt(&at, "return run { along = line(200), stones = 'ss20', gap = 0.5 }"));
  end(&at);
}

static void host_place_writes_print_to_the_log(void **state) {
  test_host at;
  begin(&at);
  (void)state;
  assert_ok(&at.test,
            attempt(&at, "print('a', 1.5, {}, '\\27[31m') return run { along = line(100), stones = 'ss20' }"));
  assert_string_equal(at.log, "a\t1.5\ttable\t\\027[31m\n");
  assert_status(&at.test, attempt(&at, "while true do print('again and again') end"), GIRDLE_LIMIT);
  end(&at);
}

static void host_place_refuses_globals(void **state) {
  test_host at;
  begin(&at);
  (void)state;
  assert_status(&at.test, attempt(&at, "total = 1"), GIRDLE_ARGUMENT);
  assert_non_null(strstr(at.test.error.message, "local total"));
  assert_status(&at.test, attempt(&at, "return rnu { }"), GIRDLE_UNKNOWN);
  assert_string_equal(at.test.error.nearest, "run");
  assert_status(&at.test, attempt(&at, "return os.time()"), GIRDLE_UNKNOWN);
  assert_status(&at.test, attempt(&at, "run = nil"), GIRDLE_ARGUMENT);
  end(&at);
}

static void host_place_refuses_other_formats(void **state) {
  test_host at;
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "later.lua", "return recipe { format = 2, name = 'later', place = function () end }");
  assert_status(&at.test, girdle_host_place(call, at.host, "later", NULL, 0, &at.placement), GIRDLE_ARGUMENT);
  assert_non_null(strstr(at.test.error.message, "format 2"));
  assert_non_null(strstr(at.test.error.message, "format 1"));
  end(&at);
}

static void host_place_names_the_nearest_recipe_and_a_clash(void **state) {
  test_host at;
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  assert_status(&at.test, girdle_host_place(call, at.host, "plain lien", NULL, 0, &at.placement), GIRDLE_UNKNOWN);
  assert_string_equal(at.test.error.nearest, "plain line");
  add(&at, GIRDLE_LAYER_COSTUME, "plain_line.lua", LINE_RECIPE);
  test_again(&at.test);
  assert_status(&at.test, girdle_host_place(call, at.host, "plain line", NULL, 0, &at.placement), GIRDLE_ARGUMENT);
  assert_non_null(strstr(at.test.error.message, "twice"));
  end(&at);
}

static void host_place_knows_a_recipe_by_its_files_spelling(void **state) {
  test_host at;
  girdle_call *call = begin(&at);
  const girdle_given given[] = {{"line", "300 mm"}};
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  assert_ok(&at.test, girdle_host_place(call, at.host, "plain_line", given, 1, &at.placement));
  assert_true(girdle_placement_view(at.placement, NULL, NULL, NULL) > 0);
  girdle_placement_free(at.placement);
  at.placement = NULL;
  assert_status(&at.test, girdle_host_place(call, at.host, "plain_line_", given, 1, &at.placement), GIRDLE_UNKNOWN);
  end(&at);
}

static void host_add_source_refuses_paths_and_large_files(void **state) {
  static const char *const files[] = {"../plain_line.lua", "/etc/passwd", "a/b.lua", "line",     "",
                                      ".hidden.lua",       "a\nb.lua",    "c:x.lua", "..\\x.lua"};
  static char large[65537];
  test_host at;
  girdle_call *call = begin(&at);
  (void)state;
  for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
    test_again(&at.test);
    assert_status(&at.test, girdle_host_add_source(call, at.host, GIRDLE_LAYER_HOUSE, files[i], "", 0),
                  GIRDLE_ARGUMENT);
  }
  memset(large, ' ', sizeof large);
  test_again(&at.test);
  assert_status(&at.test, girdle_host_add_source(call, at.host, GIRDLE_LAYER_HOUSE, "a.lua", large, sizeof large),
                GIRDLE_LIMIT);
  end(&at);
}

static void host_add_source_takes_names_of_63_characters(void **state) {
  char file[80];
  test_host at;
  girdle_call *call = begin(&at);
  (void)state;
  memset(file, 'a', sizeof file);
  strcpy(file + 59, ".lua");
  assert_ok(&at.test, girdle_host_add_source(call, at.host, GIRDLE_LAYER_HOUSE, file, "return", 6));
  assert_ok(&at.test, girdle_host_add_source(call, at.host, GIRDLE_LAYER_HOUSE, "with a space.lua", "return", 6));
  strcpy(file + 59, "a.lua");
  assert_status(&at.test, girdle_host_add_source(call, at.host, GIRDLE_LAYER_HOUSE, file, "return", 6),
                GIRDLE_ARGUMENT);
  end(&at);
}

static void host_describe_lists_what_a_recipe_takes(void **state) {
  test_host at;
  girdle_recipe_sheet *sheet;
  const girdle_parameter *parameters;
  uint64_t count;
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  assert_ok(&at.test, girdle_host_describe(call, at.host, "plain line", &sheet));
  assert_int_equal(girdle_recipe_sheet_kind(sheet), GIRDLE_SOURCE_RECIPE);
  assert_string_equal(girdle_recipe_sheet_name(sheet), "plain line");
  assert_string_equal(girdle_recipe_sheet_about(sheet), "One stone along a line.");
  parameters = girdle_recipe_sheet_parameters(sheet, &count);
  assert_int_equal(count, 3);
  assert_string_equal(parameters[0].name, "line");
  assert_string_equal(parameters[0].kind, "path");
  assert_int_equal(parameters[0].required, 1);
  assert_string_equal(parameters[2].fallback, "0.5 mm");
  assert_string_equal(parameters[2].least, "0 mm");
  assert_string_equal(parameters[2].most, "20 mm");
  assert_string_equal(parameters[2].about, "clear");
  assert_int_equal(parameters[2].required, 0);
  girdle_recipe_sheet_free(sheet);
  end(&at);
}

static void host_describe_writes_each_kind_as_people_do(void **state) {
  static const struct {
    const char *row, *kind, *fallback, *least, *most, *choices;
  } cases[] = {
      {"'percent', default = '10 %', from = '5 %', to = '50 %'", "percent", "10 %", "5 %", "50 %", ""},
      {"'percent', default = 0.25", "percent", "25 %", "", "", ""},
      {"'angle', default = 30, from = -90, to = '90 deg'", "angle", "30 deg", "-90 deg", "90 deg", ""},
      {"'length', default = '1/2 in', to = '1 m'", "length", "1/2 in", "0 mm", "1000 mm", ""},
      {"'length', default = 12.5", "length", "12.5 mm", "0 mm", "", ""},
      {"'number', default = 1.5, from = 0", "number", "1.5", "0", "", ""},
      {"'integer', default = 3, to = 9", "integer", "3", "", "9", ""},
      {"'choice', choices = { 'left', 'right' }, default = 'left'", "choice", "left", "", "", "left|right"},
      {"'flag', default = true", "flag", "yes", "", "", ""},
      {"'flag', default = false", "flag", "no", "", "", ""},
      {"'point', default = { 10, '2 cm' }", "point", "10 mm, 2 cm", "", "", ""},
      {"'stones', default = { 'ss20', stone 'ss16 red' }", "stones", "ss20; ss16 red", "", "", ""},
      {"'path', default = line(30)", "path", "M 0 0L 30 0", "", "", ""},
      {"'text', default = 'x'", "text", "x", "", "", ""},
      {"'recipe', default = 'plain line'", "recipe", "plain line", "", "", ""},
      {"'seed', default = 7", "seed", "7", "", "", ""},
      {"'stone', optional = true", "stone", "", "", "", ""},
  };
  test_host at;
  girdle_call *call = begin(&at);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_recipe_sheet *sheet = NULL;
    const girdle_parameter *one;
    uint64_t count;
    char text[512];
    snprintf(text, sizeof text, "return recipe { format = 1, name = 'sheet', takes = { { 'it', %s } }, place = print }",
             cases[i].row);
    add(&at, GIRDLE_LAYER_HOUSE, "sheet.lua", text);
    assert_ok(&at.test, girdle_host_describe(call, at.host, "sheet", &sheet));
    one = girdle_recipe_sheet_parameters(sheet, &count);
    assert_int_equal(count, 1);
    assert_string_equal(one->kind, cases[i].kind);
    assert_string_equal(one->fallback, cases[i].fallback);
    assert_string_equal(one->least, cases[i].least);
    assert_string_equal(one->most, cases[i].most);
    assert_string_equal(one->choices, cases[i].choices);
    assert_int_equal(one->required, 0);
    girdle_recipe_sheet_free(sheet);
  }
  end(&at);
}

/* Found by fuzzing: a file that gives nothing back was taken for a recipe. */
static void host_describe_refuses_what_is_neither_recipe_nor_costume(void **state) {
  static const char *const texts[] = {"-- nothing", "return",          "return 5",
                                      "return {}",  "return line(10)", "return zone { 'a', recipe = 'b' }"};
  test_host at;
  girdle_recipe_sheet *sheet = NULL;
  girdle_call *call = begin(&at);
  (void)state;
  for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
    add(&at, GIRDLE_LAYER_HOUSE, "other.lua", texts[i]);
    test_again(&at.test);
    assert_status(&at.test, girdle_host_describe(call, at.host, "other", &sheet), GIRDLE_ARGUMENT);
    assert_non_null(strstr(at.test.error.message, "must end with: return recipe"));
  }
  end(&at);
}

static void host_describe_never_runs_the_placing_function(void **state) {
  test_host at;
  girdle_recipe_sheet *sheet;
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "loud.lua",
      "return recipe { format = 1, name = 'loud', place = function () print('placed') end }");
  assert_ok(&at.test, girdle_host_describe(call, at.host, "loud", &sheet));
  assert_int_equal(at.logged, 0);
  girdle_recipe_sheet_free(sheet);
  end(&at);
}

/* ---- parameters of every kind */

static const char kinds_text[] =
    "return recipe { format = 1, name = 'kinds', takes = {\n"
    "    { 'l', 'length' }, { 'p', 'path' }, { 'r', 'region' }, { 's', 'stone' }, { 'ss', 'stones' }, { 'n', 'number' "
    "},\n"
    "    { 'i', 'integer', from = 1, to = 9 }, { 'pc', 'percent', to = '50 %' }, { 'a', 'angle' },\n"
    "    { 'c', 'choice', choices = { 'up', 'down' } }, { 'f', 'flag' }, { 'sd', 'seed' }, { 'pt', 'point' },\n"
    "    { 't', 'text' }, { 'rc', 'recipe' }, { 'o', 'length', optional = true } },\n"
    "  place = function (g)\n"
    "    print(g.l, g.p, g.r, g.s, #g.ss, g.ss[2], g.n, g.i, g.pc, g.a, g.c, g.f, g.sd, g.pt[1], g.pt[2], g.t, g.rc, "
    "g.o)\n"
    "    return g.rc { line = g.p }\n"
    "  end }\n";

static const girdle_given all_kinds[] = {{"l", "3/8 in"},
                                         {"p", "30 cm"},
                                         {"r", "oval 8 cm x 6 cm"},
                                         {"s", "ss20 black"},
                                         {"ss", "ss20; ss16 red"},
                                         {"n", "-1.5"},
                                         {"i", "7"},
                                         {"pc", "10 %"},
                                         {"a", "-30 deg"},
                                         {"c", "down"},
                                         {"f", "yes"},
                                         {"sd", "7"},
                                         {"pt", "10 mm, 2 cm"},
                                         {"t", "any; text"},
                                         {"rc", "plain line"}};
enum { KINDS = sizeof all_kinds / sizeof all_kinds[0] };

static void host_place_reads_every_kind_of_parameter(void **state) {
  test_host at;
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  add(&at, GIRDLE_LAYER_HOUSE, "kinds.lua", kinds_text);
  assert_ok(&at.test, girdle_host_place(call, at.host, "kinds", all_kinds, KINDS, &at.placement));
  assert_string_equal(
      at.log,
      "9.525\tpath of 300 mm\tregion of 3769.91 mm2\tss20 black\t2\tss16 red\t-1.5\t7\t0.1\t-30.0\tdown\t"
      "true\t7\t10.0\t20.0\tany; text\trecipe 'plain line'\tnil\n");
  assert_int_equal(girdle_placement_view(at.placement, NULL, NULL, NULL), 59); /* placed by the recipe it took */
  end(&at);
}

static void host_place_refuses_each_kind_of_wrong_value(void **state) {
  static const struct {
    const char *name, *value, *says;
  } cases[] = {{"l", "12", "unit is missing"},
               {"l", "1,5 cm", "decimal mark"},
               {"l", "-1 mm", "at least 0"},
               {"l", "inf mm", "not a length"},
               {"p", "M0 0 Q", ""},
               {"r", "M0 0 L", ""},
               {"s", "ss21x", "ss21"},
               {"ss", "ss20; ", ""},
               {"n", "one", "not a number"},
               {"i", "1.5", "whole number"},
               {"i", "10", "1 to 9"},
               {"pc", "60 %", "at most 50 %, not 60"},
               {"pc", "0.1", "unit is missing"},
               {"a", "30", "unit is missing"},
               {"c", "dwon", "did you mean 'down'"},
               {"c", "sideways", "up|down"},
               {"f", "maybe", "true or false"},
               {"pt", "10 mm", "place like"},
               {"pt", "10 mm, 20", "unit is missing"},
               {"rc", "plain lien", "did you mean 'plain line'"}};
  test_host at;
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  add(&at, GIRDLE_LAYER_HOUSE, "kinds.lua", kinds_text);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_given given[KINDS];
    memcpy(given, all_kinds, sizeof given);
    for (size_t k = 0; k < KINDS; k++)
      if (strcmp(given[k].name, cases[i].name) == 0) given[k].value = cases[i].value;
    test_again(&at.test);
    if (girdle_host_place(call, at.host, "kinds", given, KINDS, &at.placement) == GIRDLE_OK)
      fail_msg("%s = '%s' was taken", cases[i].name, cases[i].value);
    if (!strstr(at.test.error.message, cases[i].says))
      fail_msg("%s = '%s': %s", cases[i].name, cases[i].value, at.test.error.message);
  }
  end(&at);
}

static void host_place_walks_tables_in_order(void **state) {
  test_host at;
  begin(&at);
  (void)state;
  assert_ok(
      &at.test,
      attempt(&at,
              "for k, v in pairs { zeta = 1, alpha = 2, [3] = 3, [1] = 4, [-2.5] = 5, [true] = 6, [false] = 7 } do\n"
              "print(k, v) end return run { along = line(100), stones = 'ss20' }"));
  assert_string_equal(at.log, "-2.5\t5\n1\t4\n3\t3\nalpha\t2\nzeta\t1\nfalse\t7\ntrue\t6\n");
  assert_status(&at.test, attempt(&at, "for k in pairs { [{}] = 1 } do end"), GIRDLE_ARGUMENT);
  end(&at);
}

/* The seed grows from the names of recipe (and costume and zone), not from what is given. */
static void host_place_draws_chance_from_the_names(void **state) {
  test_host at;
  char first[64];
  begin(&at);
  (void)state;
  assert_ok(&at.test,
            attempt(&at, "local s = stream() print(s:number()) return run { along = line(100), stones = 'ss20' }"));
  strcpy(first, at.log);
  at.logged = 0;
  memset(at.log, 0, sizeof at.log);
  assert_ok(&at.test, attempt(&at, "print(stream():number())\nreturn run { along = line(200), stones = 'ss16' }"));
  assert_string_equal(at.log, first);
  at.logged = 0;
  memset(at.log, 0, sizeof at.log);
  assert_ok(&at.test,
            attempt(&at, "print(stream('other'):number())\nreturn run { along = line(200), stones = 'ss16' }"));
  assert_string_not_equal(at.log, first);
  end(&at);
}

static void host_place_uses_recipes_eight_deep(void **state) {
  test_host at;
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  assert_ok(&at.test, attempt(&at, "return use('plain line', { line = '30 cm' })"));
  assert_int_equal(girdle_placement_view(at.placement, NULL, NULL, NULL), 59);
  add(&at, GIRDLE_LAYER_HOUSE, "again.lua",
      "return recipe { format = 1, name = 'again', place = function () return use('again', {}) end }");
  girdle_placement_free(at.placement);
  at.placement = NULL;
  assert_status(&at.test, girdle_host_place(call, at.host, "again", NULL, 0, &at.placement), GIRDLE_LIMIT);
  assert_non_null(strstr(at.test.error.message, "8 recipes deep"));
  add(&at, GIRDLE_LAYER_HOUSE, "ring.lua",
      "use('ring', {}) return recipe { format = 1, name = 'ring', place = print }");
  test_again(&at.test);
  assert_status(&at.test, girdle_host_place(call, at.host, "ring", NULL, 0, &at.placement), GIRDLE_ARGUMENT);
  assert_non_null(strstr(at.test.error.message, "needs itself"));
  end(&at);
}

/* ---- costumes */

static girdle_job *new_job(test_host *at, double neckline_mm) {
  girdle_job_head head;
  girdle_job *job;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "A1");
  strcpy(head.costume, "frost");
  assert_ok(&at->test, girdle_job_new(&at->test.call, &head, &job));
  if (neckline_mm > 0) assert_ok(&at->test, girdle_job_set_measure(&at->test.call, job, "neckline", neckline_mm));
  return job;
}

static int64_t zone_count(const girdle_job *job, uint64_t place) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  assert_true(place < count);
  return girdle_placement_view(zones[place].placement, NULL, NULL, NULL);
}

#define COSTUME                                                                                                        \
  "return costume { format = 1, name = 'frost', measures = { neckline = '34 cm', wrist = '14 cm' },\n"                 \
  "  fabric = { mass = '200 g/m2', lies = { across = '0 %' }, worn = { across = '25 %' } },\n"                         \
  "  zones = function (m, outline) return {\n"                                                                         \
  "    zone { 'collar', side = 'both', recipe = 'plain line', given = { line = loop(m.neckline), gap = '0.5 mm' } "    \
  "},\n"                                                                                                               \
  "    zone { 'cuffs', pair = true, recipe = 'plain line', given = { line = loop(m.wrist), gap = '2.5 mm worn' } },\n" \
  "  } end }\n"

static void host_costume_adds_zones_and_fabric(void **state) {
  test_host at;
  girdle_job *job;
  uint64_t count;
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  add(&at, GIRDLE_LAYER_COSTUME, "frost.lua", COSTUME);
  job = new_job(&at, 0);
  assert_ok(&at.test, girdle_host_costume(call, at.host, "frost", job));
  girdle_job_zones(job, &count);
  assert_int_equal(count, 3); /* collar, and the cuffs left and right */
  assert_int_equal(zone_count(job, 0), 65);
  assert_int_equal(zone_count(job, 1), zone_count(job, 2));
  /* 2.5 mm worn at 25 % more across is 2 mm where it is glued: 140 / (4.7 + 2) is 20.9, so 21 stones */
  assert_int_equal(zone_count(job, 1), 21);
  assert_near(girdle_job_head_of(job)->fabric.mass_g_m2, 200, 1e-9);
  girdle_job_free(job);
  job = new_job(&at, 520);
  assert_ok(&at.test, girdle_host_costume(call, at.host, "frost", job));
  assert_int_equal(zone_count(job, 0), 100); /* the wearer's own neckline: 520 / 5.2 */
  girdle_job_free(job);
  end(&at);
}

static void same_records(const girdle_zone *a, const girdle_zone *b) {
  const girdle_placed *first, *second;
  int64_t count = girdle_placement_view(a->placement, &first, NULL, NULL);
  assert_int_equal(count, girdle_placement_view(b->placement, &second, NULL, NULL));
  assert_memory_equal(first, second, (size_t)count * sizeof *first);
}

/* What is glued stays: changing, adding or dropping one zone never moves another. */
static void host_costume_keeps_the_other_zones(void **state) {
  static const char *const zones[] = {
      "zone { 'back', recipe = 'spread', given = { gap = 4 } }, zone { 'front', recipe = 'spread', given = {} }",
      "zone { 'front', recipe = 'spread', given = {} }",
      ("zone { 'hem', recipe = 'spread', given = {} }, zone { 'back', recipe = 'spread', given = { gap = 9 } }, "
       "zone { 'front', recipe = 'spread', given = {} }")};
  test_host at;
  girdle_job *jobs[3];
  const girdle_zone *first;
  uint64_t count;
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "spread.lua",
      "return recipe { format = 1, name = 'spread', takes = { { 'gap', 'length', default = 4 } }, place = function "
      "(given)\n"
      "return scatter { within = rectangle(100, 100), stones = 'ss20', gap = given.gap } end }");
  for (int i = 0; i < 3; i++) {
    char text[1024];
    snprintf(text, sizeof text, "return costume { format = 1, name = 'frost', zones = function () return { %s } end }",
             zones[i]);
    add(&at, GIRDLE_LAYER_COSTUME, "frost.lua", text);
    jobs[i] = new_job(&at, 0);
    assert_ok(&at.test, girdle_host_costume(call, at.host, "frost", jobs[i]));
  }
  first = &girdle_job_zones(jobs[0], &count)[1];
  same_records(first, &girdle_job_zones(jobs[1], &count)[0]);
  same_records(first, &girdle_job_zones(jobs[2], &count)[2]);
  /* and two zones are not spread alike */
  if (girdle_placement_view(first->placement, NULL, NULL, NULL) ==
      girdle_placement_view(girdle_job_zones(jobs[0], &count)[0].placement, NULL, NULL, NULL)) {
    const girdle_placed *a, *b;
    girdle_placement_view(first->placement, &a, NULL, NULL);
    girdle_placement_view(girdle_job_zones(jobs[0], &count)[0].placement, &b, NULL, NULL);
    assert_true(a[0].x_mm != b[0].x_mm || a[0].y_mm != b[0].y_mm);
  }
  for (int i = 0; i < 3; i++)
    girdle_job_free(jobs[i]);
  end(&at);
}

static void host_costume_names_measure_and_zone(void **state) {
  test_host at;
  girdle_job *job;
  uint64_t count;
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  add(&at, GIRDLE_LAYER_COSTUME, "frost.lua",
      "return costume { format = 1, name = 'frost', measures = { neckline = '34 cm' },\n"
      "  zones = function (m) return {\n"
      "    zone { 'collar', recipe = 'plain lien', given = { line = loop(m.neckline) } },\n"
      "    zone { 'hem', recipe = 'plain line', given = { line = loop(m.neckline), gap = '1' } },\n"
      "  } end }\n");
  job = new_job(&at, 0);
  assert_status(&at.test, girdle_host_costume(call, at.host, "frost", job), GIRDLE_UNKNOWN);
  assert_int_equal(at.fault_count, 2);
  assert_non_null(strstr(at.faults, "frost.lua:3:"));
  assert_non_null(strstr(at.faults, "frost.lua:4:"));
  girdle_job_zones(job, &count);
  assert_int_equal(count, 0);
  add(&at, GIRDLE_LAYER_COSTUME, "frost.lua",
      "return costume { format = 1, name = 'frost', measures = { neckline = '34 cm' },\n"
      "  zones = function (m) return { zone { 'collar', recipe = 'plain line', given = { line = loop(m.nekline) } } } "
      "end }\n");
  test_again(&at.test);
  assert_status(&at.test, girdle_host_costume(call, at.host, "frost", job), GIRDLE_UNKNOWN);
  assert_string_equal(at.test.error.nearest, "neckline");
  assert_int_equal(at.test.error.line, 2);
  girdle_job_free(job);
  end(&at);
}

/* ---- rows of a table of zones */

static girdle_zone_row row_of(const char *name, const char *recipe, const char *shape, const char *length,
                              const char *gap) {
  girdle_zone_row row;
  memset(&row, 0, sizeof row);
  strcpy(row.name, name);
  strcpy(row.recipe, recipe);
  strcpy(row.shape, shape);
  strcpy(row.length, length);
  strcpy(row.gap, gap);
  row.times = 1;
  row.line = 2;
  return row;
}

static void host_zones_fills_a_recipe_from_a_row(void **state) {
  test_host at;
  girdle_job *job;
  uint64_t count;
  const girdle_zone *zones;
  girdle_zone_row rows[5];
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  job = new_job(&at, 340);
  rows[0] = row_of("collar", "plain line", "loop", "neckline", "0.5 mm");
  rows[1] = row_of("strap", "plain line", "line", "30 cm", "0.5 mm");
  rows[2] = row_of("seam", "plain line", "", "30 cm", "");
  rows[3] = row_of("neck", "plain line", "loop neckline", "", "");
  rows[4] = row_of("by eye", "", "", "", "");
  strcpy(rows[1].stones, "ss16 red");
  strcpy(rows[4].already, "12 ss34 red; 2 gross ss20");
  assert_ok(&at.test, girdle_host_zones(call, at.host, "zones.csv", rows, 5, job));
  zones = girdle_job_zones(job, &count);
  assert_int_equal(count, 5);
  assert_int_equal(zone_count(job, 0), 65);
  assert_int_equal(zone_count(job, 2), 59);
  assert_int_equal(zone_count(job, 3), 65);
  assert_int_equal(zones[4].already_count, 2);
  assert_int_equal(zones[4].already_pieces[1], 288);
  girdle_job_free(job);
  end(&at);
}

static const char area_recipe[] =
    "return recipe { format = 1, name = 'mark', takes = { { 'within', 'region' }, { 'gap', 'length', default = 1 } },\n"
    "  place = function (given)\n"
    "    print(given.within:area())\n"
    "    return set { stones = 'ss20', at = { {0, 0} } }\n"
    "  end }\n";

/* Areas: w x h; pi/4 w h; the middle of a ring sector's arcs times its width. */
static void host_zones_reads_shapes_from_the_tape(void **state) {
  static const struct {
    const char *shape, *length, *width;
    double area_mm2;
  } cases[] = {
      {"rectangle", "20 cm", "8 cm", 16000},
      {"rectangle 20 cm x 8 cm", "", "", 16000},
      {"oval", "neckline", "10 cm", 26703.54},
      {"sleeve 16 cm x 30 cm x 55 cm", "", "", 126500},
      {"sleeve 16 cm x neckline x 55 cm", "", "", 137500},
      {"area 250 cm2", "", "", 25000},
      {"drawn", "", "", 100},
      {"drawn", "", "2 cm", 400},
      {"M0 0 H10 V10 H0 Z", "8 cm", "", 400},
  };
  test_host at;
  girdle_outline outline;
  girdle_path *path = NULL;
  girdle_call *call = begin(&at);
  (void)state;
  memset(&outline, 0, sizeof outline);
  strcpy(outline.name, "drawn");
  assert_ok(&at.test, girdle_path_parse(call, "M0 0 H10 V10 H0 Z", 17, &path));
  outline.path = path;
  assert_ok(&at.test, girdle_host_add_outlines(call, at.host, "frost.svg", &outline, 1));
  girdle_path_free(path);
  add(&at, GIRDLE_LAYER_HOUSE, "mark.lua", area_recipe);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_zone_row row = row_of("zone", "mark", cases[i].shape, cases[i].length, "");
    girdle_job *job = new_job(&at, 340);
    strcpy(row.width, cases[i].width);
    at.logged = 0;
    assert_ok(&at.test, girdle_host_zones(call, at.host, "zones.csv", &row, 1, job));
    at.log[at.logged] = '\0';
    assert_near(atof(at.log), cases[i].area_mm2, 0.01);
    girdle_job_free(job);
  }
  end(&at);
}

/* A path of so many points, as the drawing's only outline. */
static void add_drawn(test_host *at, int points) {
  girdle_outline outline;
  girdle_path *path = NULL;
  char *text = malloc((size_t)points * 12 + 16);
  size_t length = (size_t)sprintf(text, "M0 0");
  assert_non_null(text);
  for (int i = 1; i < points; i++)
    length += (size_t)sprintf(text + length, "L%d %d", i % 500, i % 7);
  assert_ok(&at->test, girdle_path_parse(&at->test.call, text, length, &path));
  free(text);
  memset(&outline, 0, sizeof outline);
  strcpy(outline.name, "drawn");
  outline.path = path;
  assert_ok(&at->test, girdle_host_add_outlines(&at->test.call, at->host, "frost.svg", &outline, 1));
  girdle_path_free(path);
}

/* Where a drawing takes the memory, fewer stones are no help. */
static void host_costume_says_that_a_drawing_is_large(void **state) {
  static const struct {
    int points;
    const char *line, *says;
  } cases[] = {
      {80000, "outline.drawn", "the drawing 'frost.svg' is large"}, /* not one copy of it finds room */
      {20000, "outline.drawn:fitted { length = 20 }:reversed():fitted { length = 30 }",
       "the drawing 'frost.svg' is large"},
      {10, "line(9000000)", "fewer stones take less"},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char text[1024];
    test_host at;
    girdle_job *job;
    begin(&at);
    at.options.most_seconds = 5;
    girdle_host_free(at.host);
    assert_ok(&at.test, girdle_host_new(&at.test.call, &at.options, &at.host));
    add_drawn(&at, cases[i].points);
    add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
    snprintf(text, sizeof text,
             "return costume { format = 1, name = 'frost', outlines = 'frost.svg', zones = function (m, outline)\n"
             "return { zone { 'a', recipe = 'plain line', given = { line = %s } } } end }",
             cases[i].line);
    add(&at, GIRDLE_LAYER_COSTUME, "frost.lua", text);
    job = new_job(&at, 340);
    assert_status(&at.test, girdle_host_costume(&at.test.call, at.host, "frost", job), GIRDLE_LIMIT);
    if (!strstr(at.faults, cases[i].says) && !strstr(at.test.error.message, cases[i].says))
      fail_msg("case %d: %s%s", (int)i, at.faults, at.test.error.message);
    girdle_job_free(job);
    end(&at);
  }
}

static void host_zones_reports_each_row(void **state) {
  test_host at;
  girdle_job *job;
  girdle_zone_row rows[4];
  girdle_call *call = begin(&at);
  (void)state;
  add(&at, GIRDLE_LAYER_HOUSE, "plain_line.lua", LINE_RECIPE);
  job = new_job(&at, 340);
  rows[0] = row_of("collar", "plain line", "loop", "neckline", "0.5");
  rows[1] = row_of("strap", "plain lien", "line", "30 cm", "0.5 mm");
  rows[2] = row_of("neck", "plain line", "loop", "nekline", "");
  rows[3] = row_of("hem", "plain line", "line", "30 cm", "");
  rows[1].line = 3;
  rows[2].line = 4;
  strcpy(rows[3].stones, "ss20; ss16");
  rows[3].line = 5;
  assert_true(girdle_host_zones(call, at.host, "zones.csv", rows, 4, job) != GIRDLE_OK);
  assert_int_equal(at.fault_count, 4);
  assert_non_null(strstr(at.faults, "zones.csv:2: "));
  assert_non_null(strstr(at.faults, "zones.csv:3: "));
  assert_non_null(strstr(at.faults, "did you mean 'plain line'"));
  assert_non_null(strstr(at.faults, "zones.csv:4: "));
  assert_non_null(strstr(at.faults, "did you mean 'neckline'"));
  assert_non_null(strstr(at.faults, "zones.csv:5: "));
  girdle_job_free(job);
  end(&at);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(host_place_counts_a_line),
      cmocka_unit_test(host_place_names_the_parameter),
      cmocka_unit_test(host_clear_forgets_one_layer),
      cmocka_unit_test(host_place_names_file_line_field_and_example),
      cmocka_unit_test(host_place_ends_an_endless_recipe),
      cmocka_unit_test(host_place_ends_a_recipe_that_wants_too_much_memory),
      cmocka_unit_test(host_place_stops_when_the_caller_wishes),
      cmocka_unit_test(host_place_limits_stones),
      cmocka_unit_test(host_place_writes_print_to_the_log),
      cmocka_unit_test(host_place_refuses_globals),
      cmocka_unit_test(host_place_refuses_other_formats),
      cmocka_unit_test(host_place_names_the_nearest_recipe_and_a_clash),
      cmocka_unit_test(host_place_knows_a_recipe_by_its_files_spelling),
      cmocka_unit_test(host_add_source_refuses_paths_and_large_files),
      cmocka_unit_test(host_add_source_takes_names_of_63_characters),
      cmocka_unit_test(host_describe_lists_what_a_recipe_takes),
      cmocka_unit_test(host_describe_writes_each_kind_as_people_do),
      cmocka_unit_test(host_describe_refuses_what_is_neither_recipe_nor_costume),
      cmocka_unit_test(host_describe_never_runs_the_placing_function),
      cmocka_unit_test(host_place_reads_every_kind_of_parameter),
      cmocka_unit_test(host_place_refuses_each_kind_of_wrong_value),
      cmocka_unit_test(host_place_walks_tables_in_order),
      cmocka_unit_test(host_place_draws_chance_from_the_names),
      cmocka_unit_test(host_place_uses_recipes_eight_deep),
      cmocka_unit_test(host_costume_adds_zones_and_fabric),
      cmocka_unit_test(host_costume_keeps_the_other_zones),
      cmocka_unit_test(host_costume_names_measure_and_zone),
      cmocka_unit_test(host_zones_fills_a_recipe_from_a_row),
      cmocka_unit_test(host_zones_reads_shapes_from_the_tape),
      cmocka_unit_test(host_costume_says_that_a_drawing_is_large),
      cmocka_unit_test(host_zones_reports_each_row),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
