/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/host.h"
#include "support.h"

/* Rows of zones: what fills a recipe's parameters, and that a fault is told where it was written. */

typedef struct stage {
  test_call test;
  girdle_host *host;
  girdle_job *job;
  char faults[4096];
  int fault_count;
} stage;

static const char burst[] =
    "return recipe { format = 1, name = 'burst', takes = { { 'size', 'length', default = '16 cm', to = '1 m' },\n"
    "  { 'width', 'length', default = '5 mm' }, { 'rays', 'integer', default = 12, from = 3, to = 48 },\n"
    "  { 'centre', 'stone', default = 'ss40' }, { 'fillers', 'stones', default = 'ss9' },\n"
    "  { 'gap', 'length', default = '1 mm' }, { 'row_gap', 'length', default = '1 mm' },\n"
    "  { 'avoid', 'region', optional = true } },\n"
    "  place = function (given)\n"
    "    print(given.size, given.width, given.rays, given.centre, #given.fillers, given.row_gap,\n"
    "      given.avoid and given.avoid:area())\n"
    "    return set { stones = { given.centre }, at = { { 0, 0 } } }\n"
    "  end }\n";

static const char seam[] =
    "return recipe { format = 1, name = 'seam', takes = { { 'line', 'path' }, { 'one', 'stone', default = 'ss20' },\n"
    "  { 'gap', 'length', default = '1 mm' }, { 'leave', 'text', default = '' } },\n"
    "  place = function (given)\n"
    "    return run { along = given.line, stones = { given.one }, gap = given.gap, leave = given.leave }\n"
    "  end }\n";

static const char faulty[] =
    "return recipe { format = 1, name = 'faulty', takes = { { 'line', 'path' } },\n"
    "  place = function (given)\n"
    "    return run { along = given.line, stones = { 'ss21x' }, gpa = '1 mm', gap = '0,5 mm' }\n"
    "  end }\n";

static const char framed[] =
    "return recipe { format = 1, name = 'framed', takes = { { 'line', 'path' },\n"
    "  { 'edge', 'recipe', default = 'seam' } },\n"
    "  place = function (given) return given.edge { line = given.line } end }\n";

static char log_text[1024];

static int32_t keep_log(void *context, const void *bytes, uint64_t count) {
  (void)context;
  assert_true(count < sizeof log_text);
  memcpy(log_text, bytes, count);
  log_text[count] = '\0';
  return 0;
}

static void keep_fault(void *context, const girdle_error *error) {
  stage *at = context;
  size_t used = strlen(at->faults);
  at->fault_count++;
  snprintf(at->faults + used, sizeof at->faults - used, "%s:%d: %s\n", error->source, (int)error->line, error->message);
}

static void add(stage *at, int32_t layer, const char *file, const char *text) {
  assert_ok(&at->test, girdle_host_add_source(&at->test.call, at->host, layer, file, text, strlen(text)));
}

static void new_job(stage *at) {
  girdle_job_head head;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "A1");
  girdle_job_free(at->job);
  assert_ok(&at->test, girdle_job_new(&at->test.call, &head, &at->job));
  assert_ok(&at->test, girdle_job_set_measure(&at->test.call, at->job, "wrist", 140));
}

static void begin(stage *at) {
  girdle_host_options options;
  girdle_outline outline;
  girdle_path *path = NULL;
  memset(at, 0, sizeof *at);
  test_begin(&at->test);
  at->test.call.report.context = at;
  at->test.call.report.fault = keep_fault;
  girdle_host_options_init(&options, sizeof options);
  options.log.write = keep_log;
  assert_ok(&at->test, girdle_host_new(&at->test.call, &options, &at->host));
  add(at, GIRDLE_LAYER_HOUSE, "burst.lua", burst);
  add(at, GIRDLE_LAYER_HOUSE, "seam.lua", seam);
  add(at, GIRDLE_LAYER_HOUSE, "framed.lua", framed);
  add(at, GIRDLE_LAYER_COSTUME, "faulty.lua", faulty);
  memset(&outline, 0, sizeof outline);
  strcpy(outline.name, "seat");
  assert_ok(&at->test, girdle_path_parse(&at->test.call, "M0 0 H10 V10 H0 Z", 17, &path));
  outline.path = path;
  assert_ok(&at->test, girdle_host_add_outlines(&at->test.call, at->host, "frost.svg", &outline, 1));
  girdle_path_free(path);
  new_job(at);
}

static void end(stage *at) {
  girdle_job_free(at->job);
  girdle_host_free(at->host);
  assert_int_equal(at->test.live_bytes, 0);
}

static girdle_zone_row row_of(const char *recipe, const char *shape, const char *length, const char *width,
                              const char *given) {
  girdle_zone_row row;
  memset(&row, 0, sizeof row);
  strcpy(row.name, "zone");
  strcpy(row.recipe, recipe);
  strcpy(row.shape, shape);
  strcpy(row.length, length);
  strcpy(row.width, width);
  strcpy(row.given, given);
  row.times = row.need_shape = 1;
  row.line = 7;
  return row;
}

static int32_t work(stage *at, const girdle_zone_row *row) {
  test_again(&at->test);
  at->fault_count = 0;
  at->faults[0] = log_text[0] = '\0';
  new_job(at);
  return girdle_host_zones(&at->test.call, at->host, "zones.csv", row, 1, at->job);
}

/* A recipe that needs no shape takes lengths from the row's columns, and whatever else by its name. */
static void host_zones_gives_what_stands_under_given(void **state) {
  static const struct {
    const char *shape, *length, *width, *given, *log;
  } cases[] = {
      {"", "", "", "", "160.0\t5.0\t12\tss40 clear\t1\t1.0\tnil\n"},
      {"", "20 cm", "", "", "200.0\t5.0\t12\tss40 clear\t1\t1.0\tnil\n"},
      {"", "20 cm", "8 mm", "rays = 8", "200.0\t8.0\t8\tss40 clear\t1\t1.0\tnil\n"},
      {"", "", "", "size=wrist;rays=9", "140.0\t5.0\t9\tss40 clear\t1\t1.0\tnil\n"},
      {"", "", "", " Row Gap = 2 mm ; centre = ss30 red", "160.0\t5.0\t12\tss30 red\t1\t2.0\tnil\n"},
      {"", "", "", "fillers = ss9 clear; ss6 clear; ss5; rays = 5;", "160.0\t5.0\t5\tss40 clear\t3\t1.0\tnil\n"},
      {"", "", "", "avoid = seat", "160.0\t5.0\t12\tss40 clear\t1\t1.0\t100.0\n"},
      {"", "", "", "avoid = rectangle 2 cm x 3 cm", "160.0\t5.0\t12\tss40 clear\t1\t1.0\t600.0\n"},
      {"seat", "", "2 cm", "", "160.0\t5.0\t12\tss40 clear\t1\t1.0\t400.0\n"},
  };
  stage at;
  (void)state;
  begin(&at);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_zone_row row = row_of("burst", cases[i].shape, cases[i].length, cases[i].width, cases[i].given);
    assert_ok(&at.test, work(&at, &row));
    assert_string_equal(log_text, cases[i].log);
  }
  end(&at);
}

static void host_zones_tells_a_fault_where_it_was_written(void **state) {
  static const struct {
    const char *name, *recipe, *shape, *length, *given, *says;
  } cases[] = {
      {"a name", "burst", "", "", "ray = 3", "zones.csv:7: unknown parameter in given 'ray', did you mean 'rays'?"},
      {"no value", "burst", "", "", "size", "zones.csv:7: 'size' must be a name and a value, like size = 20 cm"},
      {"an empty value", "burst", "", "", "size = ; rays = 3", "'size' must be a name and a value"},
      {"twice", "burst", "", "20 cm", "size = 30 cm", "zones.csv:7: size is given twice"},
      {"a range", "burst", "", "", "rays = 2", "rays must be 3 to 48, not 2 (given as '2'); for example rays = 12"},
      {"a comma", "burst", "", "", "gap = 0,5 mm",
       "zones.csv:7: burst: gap: '0,5 mm' is not a length: the decimal mark is"
       " a point, did you mean '0.5 mm'? write one like \"12.5 mm\""},
      {"no outline", "burst", "", "", "avoid = seet", "zones.csv:7: burst: avoid:"},
      {"no shape", "seam", "", "20 cm", "",
       "zones.csv:7: shape is missing: recipe 'seam' needs a path, like loop 34 cm"},
      {"no shape at all", "seam", "", "", "", "zones.csv:7: shape is missing"},
      {"a recipe", "framed", "line", "20 cm", "edge = seem",
       "zones.csv:7: framed: edge: unknown recipe 'seem', did you mean 'seam'? For example edge = \"seam\""},
      {"within", "faulty", "line", "20 cm", "",
       "faulty.lua:3: run: stones: unknown size 'ss21x', did you mean 'ss21'? write one like \"ss20\" or \"5 mm\" "
       "(asked for in zones.csv:7)"},
      {"within, a field", "faulty", "line", "20 cm", "",
       "faulty.lua:3: run: unknown field 'gpa', did you mean 'gap'? For example gap = \"0.5 mm\" (asked for in"},
      {"within, a comma", "faulty", "line", "20 cm", "",
       "faulty.lua:3: run: gap: '0,5 mm' is not a length: the decimal mark is a point, did you mean '0.5 mm'? write "
       "one like \"12.5 mm\" (asked for in zones.csv:7)"},
  };
  stage at;
  (void)state;
  begin(&at);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_zone_row row = row_of(cases[i].recipe, cases[i].shape, cases[i].length, "", cases[i].given);
    assert_true(work(&at, &row) != GIRDLE_OK);
    if (!strstr(at.faults, cases[i].says)) fail_msg("%s: %s", cases[i].name, at.faults);
  }
  for (int length = 40; length < 60; length++) { /* a name longer than any may be */
    girdle_zone_row row = row_of("burst", "", "", "", "");
    memset(row.given, 'x', (size_t)length);
    strcpy(row.given + length, " = 1 mm");
    assert_status(&at.test, work(&at, &row), GIRDLE_UNKNOWN);
    assert_non_null(strstr(at.faults, "unknown parameter in given 'xxxxxxxx"));
  }
  end(&at);
}

/* What no parameter takes is refused with what the recipe does take. */
static void host_zones_refuses_what_nothing_takes(void **state) {
  stage at;
  girdle_zone_row row = row_of("burst", "", "", "", "");
  (void)state;
  begin(&at);
  strcpy(row.leave, "1 cm to 2 cm");
  assert_status(&at.test, work(&at, &row), GIRDLE_ARGUMENT);
  assert_non_null(strstr(at.faults,
                         "zones.csv:7: nothing is left that 'leave' could fill: recipe 'burst' takes size, "
                         "width, rays, centre, fillers, gap, row_gap, avoid"));
  row = row_of("seam", "line", "20 cm", "", "");
  strcpy(row.stones, "ss20; ss16");
  assert_status(&at.test, work(&at, &row), GIRDLE_ARGUMENT);
  assert_non_null(strstr(at.faults, "nothing is left that 'stones' could fill"));
  row = row_of("faulty", "line", "20 cm", "", "");
  strcpy(row.gap, "1 mm");
  assert_status(&at.test, work(&at, &row), GIRDLE_ARGUMENT);
  assert_non_null(strstr(at.faults, "nothing is left that 'gap' could fill: recipe 'faulty' takes line"));
  end(&at);
}

static void host_zones_reads_stretches_where_they_are_written(void **state) {
  static const char *const texts[][2] = {
      {"18 cm", "zones.csv:7: leave: '18 cm' is not a stretch; write one like \"18 cm to 22 cm\""},
      {"18 cm to x", "zones.csv:7: leave: 'x' is not a length"},
      {"5 cm to 6 cm; 7", "zones.csv:7: leave: '7' is not a stretch"},
      {"18 cm to 2,2 dm", "zones.csv:7: leave: '2,2 dm' is not a length"}};
  stage at;
  girdle_zone_row row = row_of("seam", "line", "30 cm", "", "");
  (void)state;
  begin(&at);
  for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
    strcpy(row.leave, texts[i][0]);
    assert_status(&at.test, work(&at, &row), GIRDLE_SYNTAX);
    if (!strstr(at.faults, texts[i][1])) fail_msg("%s: %s", texts[i][0], at.faults);
  }
  strcpy(row.leave, "5 cm to 6 cm; 10 cm to 12 cm");
  assert_ok(&at.test, work(&at, &row));
  end(&at);
}

/* What each column alone can have wrong. */
static void host_zones_refuses_each_column(void **state) {
  static const struct {
    const char *column, *text, *says;
  } cases[] = {
      {"name", " ", "zone is missing; write a name like collar"},
      {"recipe", " ", "recipe is missing; write one like alternating line"},
      {"shape", "loop", "loop"},
      {"width", "3 cm", "a loop has a length only"},
      {"gap", "1", "gap: '1' is not a length: its unit is missing"},
      {"gap", "wrst", "gap: 'wrst' is not a length"},
      {"stones", "ss21x", "stones: unknown size 'ss21x', did you mean 'ss21'?"},
      {"already", "x ss20", "already: 'x' is not a number of pieces"},
      {"already", "12", "'12' must be a number and a stone, like 12 ss34 red"},
      {"already", "12 ss21x", "already: unknown size 'ss21x', did you mean 'ss21'?"},
  };
  stage at;
  (void)state;
  begin(&at);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_zone_row row = row_of("seam", "loop", "30 cm", "", "");
    char *columns[] = {row.name, row.recipe, row.shape, row.width, row.gap, row.stones, row.already};
    static const char *const names[] = {"name", "recipe", "shape", "width", "gap", "stones", "already"};
    for (size_t k = 0; k < sizeof names / sizeof names[0]; k++)
      if (strcmp(names[k], cases[i].column) == 0) strcpy(columns[k], cases[i].text);
    if (strcmp(cases[i].column, "shape") == 0) row.length[0] = '\0';
    assert_true(work(&at, &row) != GIRDLE_OK);
    if (!strstr(at.faults, cases[i].says) || !strstr(at.faults, "zones.csv:7: "))
      fail_msg("%s = '%s': %s", cases[i].column, cases[i].text, at.faults);
  }
  end(&at);
}

/* A wearer's own measure stands for a length in every column that has one. */
static void host_zones_takes_measures_by_name(void **state) {
  stage at;
  int64_t alone, measured;
  uint64_t count;
  girdle_zone_row row = row_of("seam", "loop", "wrist", "", "");
  (void)state;
  begin(&at);
  strcpy(row.gap, "gap of hers");
  assert_status(&at.test, work(&at, &row), GIRDLE_SYNTAX);
  strcpy(row.gap, "2 mm");
  assert_ok(&at.test, work(&at, &row));
  alone = girdle_placement_view(girdle_job_zones(at.job, &count)->placement, NULL, NULL, NULL);
  strcpy(row.gap, "Wrist");
  new_job(&at);
  assert_ok(&at.test, girdle_job_set_measure(&at.test.call, at.job, "wrist", 140));
  test_again(&at.test);
  assert_ok(&at.test, girdle_host_zones(&at.test.call, at.host, "zones.csv", &row, 1, at.job));
  measured = girdle_placement_view(girdle_job_zones(at.job, &count)->placement, NULL, NULL, NULL);
  assert_int_equal(alone, 21);   /* 140 mm of ss20 wishing 2 mm: 21 of them, 1.97 mm */
  assert_int_equal(measured, 2); /* across: no two gaps round it are wider */
  row = row_of("seam", "sleeve wrist   x 30 cm  x   wrist  ", "", "", "");
  assert_ok(&at.test, work(&at, &row));
  row = row_of("burst", "", "", "", "size = wrist; width = Wrist");
  assert_ok(&at.test, work(&at, &row));
  assert_string_equal(log_text, "140.0\t140.0\t12\tss40 clear\t1\t1.0\tnil\n");
  end(&at);
}

static void host_zones_gives_stones_in_order(void **state) {
  stage at;
  girdle_zone_row row = row_of("burst", "", "", "", "");
  (void)state;
  begin(&at);
  strcpy(row.stones, "ss30 red; ss9 clear; ss6 clear");
  assert_ok(&at.test, work(&at, &row)); /* the first to centre, the rest to fillers */
  assert_string_equal(log_text, "160.0\t5.0\t12\tss30 red\t2\t1.0\tnil\n");
  row = row_of("", "", "", "", "");
  for (int i = 0; i < 33; i++)
    strcat(row.already, "1 ss5;");
  assert_status(&at.test, work(&at, &row), GIRDLE_LIMIT);
  assert_non_null(strstr(at.faults, "at most 32 stones can be listed"));
  end(&at);
}

/* Without need_shape, as in a job line, a length alone is a line. */
static void host_zones_takes_a_length_for_a_line(void **state) {
  stage at;
  girdle_zone_row row = row_of("seam", "", "30 cm", "", "");
  (void)state;
  begin(&at);
  row.need_shape = 0;
  assert_ok(&at.test, work(&at, &row));
  row = row_of("seam", "", "", "", "line = loop 34 cm");
  assert_ok(&at.test, work(&at, &row));
  end(&at);
}

/* The same three mistakes in a costume file, and in the recipe that it uses. */
static void host_costume_names_file_line_value_nearest_and_example(void **state) {
  static const char costume[] =
      "return costume { format = 1, name = 'frost', zones = function () return {\n"
      "  zone { 'a', recipe = 'seam', given = { line = 'loop 34 cm', gpa = '1 mm' } },\n"
      "  zone { 'b', recipe = 'seam', given = { line = 'loop 34 cm', gap = '0,5 mm' } },\n"
      "  zone { 'c', recipe = 'seam', given = { line = 'loop 34 cm', one = 'ss21x' } },\n"
      "  zone { 'd', recipe = 'faulty', given = { line = 'loop 34 cm' } } } end }\n";
  static const char *const says[] = {
      "frost.lua:2: seam: unknown parameter 'gpa', did you mean 'gap'? For example gap = \"1 mm\"\n",
      "frost.lua:3: seam: gap: '0,5 mm' is not a length: the decimal mark is a point, did you mean '0.5 mm'? write one "
      "like \"12.5 mm\"\n",
      "frost.lua:4: seam: one: unknown size 'ss21x', did you mean 'ss21'? write one like \"ss20\" or \"5 mm\"\n",
      "faulty.lua:3: run: unknown field 'gpa', did you mean 'gap'? For example gap = \"0.5 mm\" (asked for in "
      "frost.lua:5)\n"};
  stage at;
  (void)state;
  begin(&at);
  add(&at, GIRDLE_LAYER_COSTUME, "frost.lua", costume);
  assert_true(girdle_host_costume(&at.test.call, at.host, "frost", at.job) != GIRDLE_OK);
  for (size_t i = 0; i < sizeof says / sizeof says[0]; i++)
    if (!strstr(at.faults, says[i])) fail_msg("not '%s' but %s", says[i], at.faults);
  assert_int_equal(at.fault_count, 6);
  assert_string_equal(at.test.error.nearest, "gap");
  assert_string_equal(at.test.error.field, "gpa");
  end(&at);
}

static void host_costume_names_a_drawing_that_is_near(void **state) {
  stage at;
  (void)state;
  begin(&at);
  add(&at, GIRDLE_LAYER_COSTUME, "frost.lua",
      "return costume { format = 1, name = 'frost', outlines = 'frots.svg', zones = function () return {} end }");
  assert_status(&at.test, girdle_host_costume(&at.test.call, at.host, "frost", at.job), GIRDLE_UNKNOWN);
  assert_string_equal(at.test.error.nearest, "frost.svg");
  for (int i = 0; i < 80; i++) {
    char file[16];
    snprintf(file, sizeof file, "%d.svg", i);
    test_again(&at.test);
    assert_ok(&at.test, girdle_host_add_outlines(&at.test.call, at.host, file, NULL, 0));
  }
  assert_status(&at.test, girdle_host_costume(&at.test.call, at.host, "frost", at.job), GIRDLE_UNKNOWN);
  assert_status(&at.test, girdle_host_add_source(&at.test.call, at.host, 7, "a.lua", "", 0), GIRDLE_ARGUMENT);
  end(&at);
}

/* A message as long as it may be ends where its room does. */
static void host_zones_cuts_long_faults(void **state) {
  stage at;
  girdle_zone_row row = row_of("wordy", "", "", "", "");
  (void)state;
  begin(&at);
  add(&at, GIRDLE_LAYER_HOUSE, "wordy.lua",
      "return recipe { format = 1, name = 'wordy', place = function () error(('x'):rep(240)) end }");
  assert_status(&at.test, work(&at, &row), GIRDLE_ARGUMENT);
  assert_int_equal(strlen(at.test.error.message), sizeof at.test.error.message - 1);
  assert_non_null(strstr(at.test.error.message, "xxx (asked for"));
  end(&at);
}

/* As many parameters as there may be, each with a default that is shown when one is wrong. */
static void host_zones_shows_the_default_of_the_last_of_many(void **state) {
  char text[8192] = "return recipe { format = 1, name = 'many', takes = {";
  stage at;
  girdle_zone_row row = row_of("many", "", "", "", "p64 = 9 cm; p1 = 2 mm");
  (void)state;
  begin(&at);
  for (int i = 1; i <= 64; i++)
    snprintf(text + strlen(text), sizeof text - strlen(text), " { 'p%d', 'length', default = '%d mm', to = '64 mm' },",
             i, i);
  strcat(text, " }, place = function () return set { stones = 'ss20', at = { { 0, 0 } } } end }");
  add(&at, GIRDLE_LAYER_HOUSE, "many.lua", text);
  assert_status(&at.test, work(&at, &row), GIRDLE_ARGUMENT);
  assert_string_equal(at.faults,
                      "zones.csv:7: many: p64 must be 0 to 64 mm, not 90 (given as '9 cm'); for example p64 = "
                      "\"64 mm\"\n");
  strcpy(row.given, "p64 = 6 cm; p1 = 2 mm");
  assert_ok(&at.test, work(&at, &row));
  end(&at);
}

static int32_t check(stage *at, const girdle_zone_row *rows, uint64_t count) {
  uint64_t zones;
  int32_t status;
  test_again(&at->test);
  at->fault_count = 0;
  at->faults[0] = '\0';
  new_job(at);
  status = girdle_host_check_zones(&at->test.call, at->host, "zones.csv", rows, count, at->job);
  girdle_job_zones(at->job, &zones);
  assert_int_equal(zones, 0);
  return status;
}

/* A recipe that may be read, and must not place. */
static const char trap[] =
    "return recipe { format = 1, name = 'trap', takes = { { 'line', 'path' }, { 'deep', 'length', from = '1 cm', to = "
    "'20 cm', default = '2 cm' }, { 'gap', 'length', default = 1, to = 9 }, { 'long', 'length', optional = true } },\n"
    "  place = function () error 'placed' end }\n";

static void host_check_zones_tells_the_faults_of_all_rows_and_places_nothing(void **state) {
  stage at;
  girdle_zone_row rows[6];
  (void)state;
  begin(&at);
  add(&at, GIRDLE_LAYER_HOUSE, "trap.lua", trap);
  rows[0] = row_of("trap", "loop", "34 cm", "", "");
  rows[1] = row_of("trap", "lop 34 cm", "", "", "");
  rows[2] = row_of("trap", "loop", "34 cm", "", "deeq = 3 cm");
  rows[3] = row_of("trap", "loop", "34 cm", "", "deep = 30 cm");
  rows[4] = row_of("seam", "line", "30 cm", "", "");
  strcpy(rows[4].leave, "1 cm - 2 cm");
  rows[5] = row_of("trap", "loop", "wrist", "", "deep = wrist");
  for (int i = 0; i < 6; i++)
    rows[i].line = i + 2;
  assert_status(&at.test, check(&at, rows, 6), GIRDLE_UNKNOWN);
  assert_string_equal(at.faults,
                      "zones.csv:3: unknown shape 'lop', did you mean 'loop'?\n"
                      "zones.csv:4: unknown parameter in given 'deeq', did you mean 'deep'? For example deep = 2 cm\n"
                      "zones.csv:5: trap: deep must be 10 to 200 mm, not 300 (given as '30 cm'); for example deep = "
                      "\"2 cm\"\n"
                      "zones.csv:6: leave: '1 cm - 2 cm' is not a stretch; write one like \"18 cm to 22 cm\"\n");
  assert_ok(&at.test, check(&at, &rows[5], 1));
  assert_status(&at.test, work(&at, &rows[5]), GIRDLE_ARGUMENT);
  assert_non_null(strstr(at.faults, "placed"));
  assert_status(&at.test, check(&at, rows, 10001), GIRDLE_LIMIT);
  end(&at);
}

/* A measure that comes with the wearer is no fault, wherever a length may stand, and whatever range it has there. */
static void host_check_zones_leaves_room_for_measures_to_come(void **state) {
  static const char *const names[] = {"neckline", "my own way round", "2nd waist"};
  stage at;
  (void)state;
  begin(&at);
  add(&at, GIRDLE_LAYER_HOUSE, "trap.lua", trap);
  for (size_t i = 0; i < 3; i++) {
    girdle_zone_row row = row_of("trap", "loop", names[i], "", "");
    snprintf(row.given, sizeof row.given, "deep = %s; long = %s", names[i], names[i]);
    strcpy(row.gap, names[i]);
    assert_ok(&at.test, check(&at, &row, 1));
    assert_status(&at.test, work(&at, &row), GIRDLE_UNKNOWN);
  }
  end(&at);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(host_zones_gives_what_stands_under_given),
      cmocka_unit_test(host_zones_tells_a_fault_where_it_was_written),
      cmocka_unit_test(host_zones_refuses_what_nothing_takes),
      cmocka_unit_test(host_zones_reads_stretches_where_they_are_written),
      cmocka_unit_test(host_zones_refuses_each_column),
      cmocka_unit_test(host_zones_takes_measures_by_name),
      cmocka_unit_test(host_zones_gives_stones_in_order),
      cmocka_unit_test(host_zones_takes_a_length_for_a_line),
      cmocka_unit_test(host_costume_names_a_drawing_that_is_near),
      cmocka_unit_test(host_zones_cuts_long_faults),
      cmocka_unit_test(host_check_zones_tells_the_faults_of_all_rows_and_places_nothing),
      cmocka_unit_test(host_check_zones_leaves_room_for_measures_to_come),
      cmocka_unit_test(host_zones_shows_the_default_of_the_last_of_many),
      cmocka_unit_test(host_costume_names_file_line_value_nearest_and_example),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
