/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/host.h"
#include "support.h"

/* Costume files and tables of zones that mean harm: each ends within its limits, with the right reason, and leaves the
 * job without a zone. */

static const char line_recipe[] =
    "return recipe { format = 1, name = 'plain line', takes = { { 'line', 'path' }, { 'gap', 'length', default = 1 } "
    "},\n"
    "  place = function (given) return run { along = given.line, stones = 'ss20', gap = given.gap } end }\n";

typedef struct stage {
  test_call test;
  girdle_host *host;
  girdle_job *job;
  int faults;
} stage;

static void count_fault(void *context, const girdle_error *error) {
  stage *at = context;
  at->faults++;
  assert_true(error->status != GIRDLE_OK);
  for (const char *c = error->message; *c; c++)
    assert_true((unsigned char)*c >= 32 && *c != 127);
}

static girdle_call *begin(stage *at) {
  girdle_host_options options;
  girdle_job_head head;
  memset(at, 0, sizeof *at);
  test_begin(&at->test);
  at->test.call.report.context = at;
  at->test.call.report.fault = count_fault;
  girdle_host_options_init(&options, sizeof options);
  options.most_seconds = 0.2;
  options.most_bytes = 32 << 20;
  options.most_stones = 100000;
  assert_ok(&at->test, girdle_host_new(&at->test.call, &options, &at->host));
  assert_ok(&at->test, girdle_host_add_source(&at->test.call, at->host, GIRDLE_LAYER_HOUSE, "plain_line.lua",
                                              line_recipe, sizeof line_recipe - 1));
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "A1");
  assert_ok(&at->test, girdle_job_new(&at->test.call, &head, &at->job));
  return &at->test.call;
}

static void end(stage *at) {
  uint64_t count;
  girdle_job_zones(at->job, &count);
  assert_int_equal(count, 0);
  girdle_job_free(at->job);
  girdle_host_free(at->host);
  assert_int_equal(at->test.live_bytes, 0);
}

static int32_t try_costume(stage *at, const char *text) {
  assert_ok(&at->test,
            girdle_host_add_source(&at->test.call, at->host, GIRDLE_LAYER_COSTUME, "frost.lua", text, strlen(text)));
  return girdle_host_costume(&at->test.call, at->host, "frost", at->job);
}

#define LIMIT (1 << GIRDLE_LIMIT)
#define ARGUMENT (1 << GIRDLE_ARGUMENT)
#define UNKNOWN (1 << GIRDLE_UNKNOWN)
#define SYNTAX (1 << GIRDLE_SYNTAX)

static void costumes_end(void **state) {
  static const struct {
    const char *name, *fields;
    int32_t expected;
    const char *says;
  } attacks[] = {
      {"endless zones", "zones = function () while true do end end", LIMIT, "seconds"},
      {"endless file", "zones = (function () while true do end end)()", LIMIT, "seconds"},
      {"zones that are none", "zones = function () return { 1, 2 } end", ARGUMENT, "zones"},
      {"no zones", "zones = function () end", ARGUMENT, "zones"},
      {"zones that are a text", "zones = function () return 'all' end", ARGUMENT, "zones"},
      {"a million zones",
       "zones = function () local t = {} for i = 1, 1e6 do t[i] = zone { 'z' .. i, recipe = 'plain line' } end return "
       "t end",
       LIMIT, NULL},
      {"a million of one zone",
       "zones = function () local z, t = zone { 'a', recipe = 'plain line' }, {} for i = 1, 1e6 do t[i] = z end return "
       "t end",
       ARGUMENT | LIMIT, NULL},
      {"two zones of one name",
       "zones = function () local z = zone { 'a', recipe = 'plain line', given = { line = line(100) } } return { z, z "
       "} end",
       ARGUMENT, NULL},
      {"a recipe outside", "zones = function () return { zone { 'a', recipe = '../plain_line' } } end", UNKNOWN, NULL},
      {"a recipe with control characters", "zones = function () return { zone { 'a', recipe = '\\27[2J' } } end",
       UNKNOWN, NULL},
      {"a zone with control characters", "zones = function () return { zone { '\\27[2J', recipe = 'plain lien' } } end",
       UNKNOWN, NULL},
      {"a costume as a recipe", "zones = function () return { zone { 'a', recipe = 'frost' } } end", ARGUMENT,
       "costume"},
      {"a long name", "zones = function () return { zone { ('x'):rep(1000), recipe = 'plain line' } } end", ARGUMENT,
       "63"},
      {"a drawing that is not there", "outlines = '../../etc/passwd', zones = function () return {} end", UNKNOWN,
       NULL},
      {"an outline that is not there", "zones = function (m, outline) return outline.cuff end", UNKNOWN, "cuff"},
      {"a measure that is none", "measures = { neckline = 'wide' }, zones = function () return {} end", SYNTAX,
       "neckline"},
      {"a measure without end", "measures = { neckline = 1 / 0 }, zones = function () return {} end", ARGUMENT,
       "neckline"},
      {"a million measures",
       "measures = (function () local t = {} for i = 1, 1e6 do t['m' .. i] = '1 mm' end return t end)(), zones = "
       "function () "
       "return {} end",
       LIMIT, NULL},
      {"a million of already",
       "zones = function () local t = {} for i = 1, 1e6 do t[i] = { 'ss20', 1 } end return { zone { 'a', already = t } "
       "} end",
       LIMIT, NULL},
      {"measures without names", "measures = { 1, 2 }, zones = function () return {} end", ARGUMENT, "by name"},
      {"changing the measures",
       "measures = { neckline = 1 }, zones = function (m) m.neckline = nil return m.neckline end", UNKNOWN, "neckline"},
      {"fabric that stretches for ever", "fabric = { lies = { across = 1e300 } }, zones = function () return {} end",
       ARGUMENT, "across"},
      {"fabric that is nothing", "fabric = { lies = { across = '-100 %' } }, zones = function () return {} end",
       ARGUMENT, "across"},
      {"times without end", "zones = function () return { zone { 'a', recipe = 'plain line', times = 1e18 } } end",
       ARGUMENT, "times"},
      {"already without end", "zones = function () return { zone { 'a', already = { {'ss20', 1e18} } } } end",
       ARGUMENT | LIMIT, "already"},
      {"already of nothing", "zones = function () return { zone { 'a', already = { 5 } } } end", ARGUMENT, "already"},
      {"another format", "format = 2, zones = function () return {} end", ARGUMENT, NULL},
  };
  (void)state;
  for (size_t i = 0; i < sizeof attacks / sizeof attacks[0]; i++) {
    char text[2048];
    stage at;
    int32_t status;
    begin(&at);
    snprintf(text, sizeof text, "return costume { format = 1, name = 'frost', %s }\n", attacks[i].fields);
    status = try_costume(&at, text);
    if (!(attacks[i].expected & 1 << status))
      fail_msg("%s gave %s: %s", attacks[i].name, girdle_status_text(status), at.test.error.message);
    if (attacks[i].says && !strstr(at.test.error.message, attacks[i].says) &&
        !strstr(at.test.error.field, attacks[i].says))
      fail_msg("%s: '%s' is not in '%s'", attacks[i].name, attacks[i].says, at.test.error.message);
    assert_true(at.test.error.message[0] != '\0');
    /* "two zones of one name": the job refuses the second; the first was taken, as girdle_job_add_zone says */
    if (strcmp(attacks[i].name, "two zones of one name") == 0) {
      girdle_job_free(at.job);
      girdle_host_free(at.host);
      assert_int_equal(at.test.live_bytes, 0);
      continue;
    }
    end(&at);
  }
}

/* Any text in any cell: an error or a zone, never a crash. */
static void rows_of_any_text_end(void **state) {
  static const char *const texts[] = {"",
                                      " ",
                                      "loop",
                                      "line",
                                      "loop neckline",
                                      "loop 34 cm",
                                      "sleeve x x x",
                                      "rectangle 1e300 m x 2 cm",
                                      "sleeve a x b x c",
                                      "M0 0 H1e300",
                                      "M0 0",
                                      "%s%n",
                                      "\033[2J",
                                      "-1 mm",
                                      "nan mm",
                                      "12",
                                      "1,5 cm",
                                      "; ; ;",
                                      "ss20; ss16",
                                      "12 ss20; x",
                                      "x ss20",
                                      "18 cm to 22 cm",
                                      "to",
                                      " to ",
                                      "plain line",
                                      "plain lien",
                                      "../up",
                                      "1e9 gross ss20",
                                      "gap = 1 mm; one = ss16; x",
                                      "=;= ;;=",
                                      "gap=1 mm;gap=2 mm",
                                      "line = M0 0 H1e300; gpa = 1 mm",
                                      "one = ss9 clear; ss6 clear; = ; line=loop 34 cm"};
  enum { TEXTS = sizeof texts / sizeof texts[0] };
  uint64_t seed = 3;
  (void)state;
  for (int round = 0; round < 200; round++) {
    stage at;
    girdle_zone_row row;
    char *cells[] = {row.recipe, row.shape,   row.length, row.width, row.stones,
                     row.gap,    row.already, row.leave,  row.given};
    size_t sizes[] = {sizeof row.recipe, sizeof row.shape,   sizeof row.length, sizeof row.width, sizeof row.stones,
                      sizeof row.gap,    sizeof row.already, sizeof row.leave,  sizeof row.given};
    girdle_call *call = begin(&at);
    int32_t status;
    memset(&row, 0, sizeof row);
    strcpy(row.name, "zone");
    strcpy(row.recipe, "plain line");
    for (int k = 0; k < 3; k++) {
      size_t cell = test_random(&seed) % 9;
      snprintf(cells[cell], sizes[cell], "%s", texts[test_random(&seed) % TEXTS]);
    }
    row.times = (int64_t)(test_random(&seed) % 3);
    status = girdle_host_zones(call, at.host, "zones.csv", &row, 1, at.job);
    if (status) assert_true(at.faults > 0 || at.test.error.message[0]);
    girdle_job_free(at.job);
    girdle_host_free(at.host);
    assert_int_equal(at.test.live_bytes, 0);
  }
}

static void more_rows_than_there_may_be_are_refused(void **state) {
  stage at;
  girdle_zone_row row;
  girdle_call *call = begin(&at);
  (void)state;
  memset(&row, 0, sizeof row);
  assert_status(&at.test, girdle_host_zones(call, at.host, "zones.csv", &row, 1000000, at.job), GIRDLE_LIMIT);
  end(&at);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(costumes_end),
      cmocka_unit_test(rows_of_any_text_end),
      cmocka_unit_test(more_rows_than_there_may_be_are_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
