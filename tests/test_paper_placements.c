/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_support.h"

static char *csv_of(const girdle_job *job) {
  test_call test;
  kept all;
  girdle_sink sink = keep_in(&all);
  test_begin(&test);
  assert_ok(&test, girdle_paper_placements_csv(&test.call, job, &sink));
  return all.text;
}

/* Reads a table into a job that was empty, and writes it again. */
static char *again(const char *text) {
  test_call test;
  girdle_job *job;
  char *out;
  test_begin(&test);
  assert_ok(&test, new_job(&test.call, &job));
  assert_ok(&test, girdle_paper_read_placements(&test.call, "p.csv", text, strlen(text), job));
  out = csv_of(job);
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
  return out;
}

#define HEAD "zone,row,stone,x_mm,y_mm,diameter_mm,turn_deg\n"

/* What was written is read and written as the same bytes, names with commas and quotes among them. */
static void paper_read_placements_reads_what_was_written(void **state) {
  girdle_job *job;
  char *first, *second;
  (void)state;
  assert_int_equal(sample_job(NULL, "F-1", "frost", &job), GIRDLE_OK);
  first = csv_of(job);
  second = again(first);
  assert_string_equal(first, second);
  assert_has(first, "\"bow, \"\"<big>\"\"\",");
  free(second);
  second = again(HEAD
                 "a,0,ss20 black,1.5,-2.25,4.7,0\na,0,ss16 clear,7.0001,3,3.9,0\na,1,ss20 black,0,0,4.7,22.5\n"
                 "b,65535,ss20 black,-0.0001,900,4.7,0\n");
  assert_string_equal(second, HEAD
                      "a,0,ss20 black,1.5000,-2.2500,4.7,0\na,0,ss16 clear,7.0001,3.0000,3.9,0\n"
                      "a,1,ss20 black,0.0000,0.0000,4.7,22.5\nb,65535,ss20 black,-0.0001,900.0000,4.7,0\n");
  free(second);
  free(first);
  girdle_job_free(job);
}

/* As spreadsheets save it: other orders and separators, quotes, carriage returns, no turn, numbers of any length. */
static void paper_read_placements_reads_any_table(void **state) {
  static const char *const tables[] = {
      HEAD "a,0,ss20 clear,1.5,0,4.7,\r\n",
      HEAD "\"a\",0,ss20 clear,1.5,0,4.7,0\n",
      HEAD "a,0,ss20 clear,1.5,0,4.7,0",
      HEAD "a,0,ss20 clear,15e-1,0,4.70,0\n",
      HEAD "a,0, ss20 clear ,1.500000000000000000,0,4.7,0\n",
      HEAD "a,0,ss20 clear,1.5,0,4.7000,0\n",
      HEAD "\na,0,ss20 clear,+1.5,-0,4.7,0\n",
      "\xef\xbb\xbf" HEAD "a,0,ss20 clear,1.5,.0,4.7,0\n",
  };
  (void)state;
  for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
    char *out = again(tables[i]);
    assert_string_equal(out, HEAD "a,0,ss20 clear,1.5000,0.0000,4.7,0\n");
    free(out);
  }
}

static void paper_read_placements_keeps_four_decimals_exact(void **state) {
  char *text = malloc(200000), *at = text, *out;
  (void)state;
  assert_non_null(text);
  at += sprintf(at, HEAD);
  for (int i = 0; i < 4000; i++)
    at += sprintf(at, "z,%d,%s,%d.%04d,%s%d.%04d,%s,0\n", i % 7, i % 3 ? "ss20 red" : "ss12 clear", i, i * 7919 % 10000,
                  i % 2 ? "-" : "", i % 90 + 1, i * 104729 % 10000, i % 3 ? "4.7" : "3.1");
  out = again(text);
  assert_string_equal(out, text);
  free(out);
  free(text);
}

/* The diameter is written with four decimals and may be off by as much; a zone's name has at most 63 bytes. */
static void paper_read_placements_holds_its_limits(void **state) {
  static const struct {
    double across;
    int name_bytes;
    int32_t status;
  } cases[] = {{4.70009, 63, GIRDLE_OK},
               {4.69991, 1, GIRDLE_OK},
               {4.70011, 1, GIRDLE_ARGUMENT},
               {4.69989, 1, GIRDLE_ARGUMENT},
               {4.7, 64, GIRDLE_ARGUMENT}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char text[300], name[80];
    test_call test;
    girdle_job *job;
    memset(name, 'n', sizeof name);
    name[cases[i].name_bytes] = '\0';
    snprintf(text, sizeof text, HEAD "%s,0,ss20 clear,1,1,%.5f,0\n", name, cases[i].across);
    test_begin(&test);
    assert_ok(&test, new_job(&test.call, &job));
    assert_status(&test, girdle_paper_read_placements(&test.call, "p.csv", text, strlen(text), job), cases[i].status);
    girdle_job_free(job);
    assert_int_equal(test.live_bytes, 0);
  }
}

typedef struct gathered {
  int count;
  char text[4000];
} gathered;

static void gather(void *context, const girdle_error *error) {
  gathered *all = context;
  size_t used = strlen(all->text);
  all->count++;
  snprintf(all->text + used, sizeof all->text - used, "%d:%d %s\n", (int)error->line, (int)error->column,
           error->message);
}

static void paper_read_placements_names_every_fault(void **state) {
  static const struct {
    const char *text;
    int32_t status;
    const char *said;
  } cases[] = {
      {HEAD "a,0,ss20,1,1,4.7,0\na,0,ss99x,1,1,4.7,0\na,x,ss20,1,1,4.7,0\n", GIRDLE_UNKNOWN, "3:5"},
      {HEAD "a,0,ss20,1,1,5,0\n", GIRDLE_ARGUMENT, "2:14 ss20 is not as large as this row says"},
      {HEAD "a,0,ss20,1,1,4.7,0\na,0,ss20,1,1,4.8,0\n", GIRDLE_ARGUMENT, "3:14 ss20 is not as large"},
      {HEAD "a,0,ss20,1,1,4.7,0\nb,0,ss20,1,1,4.7,0\na,0,ss20,1,1,4.7,0\n", GIRDLE_SYNTAX, "4:1 the zone 'a' goes on"},
      {HEAD "a,0,ss20,1,nan,4.7,0\n", GIRDLE_SYNTAX, "2:12"},
      {HEAD "a,70000,ss20,1,1,4.7,0\n", GIRDLE_ARGUMENT, "2:3"},
      {HEAD "a,0.5,ss20,1,1,4.7,0\n", GIRDLE_SYNTAX, "2:3"},
      {HEAD ",0,ss20,1,1,4.7,0\n", GIRDLE_SYNTAX, "2:1"},
      {HEAD "a,0,ss20,1e300,1,4.7,0\n", GIRDLE_ARGUMENT, ""},
      {"zone,row,stone,x_mm,y_mm\n", GIRDLE_UNKNOWN, "the column 'diameter_mm' is missing"},
      {"", GIRDLE_SYNTAX, "empty"},
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_job *job;
    gathered all = {0, ""};
    int32_t status;
    test_begin(&test);
    assert_ok(&test, new_job(&test.call, &job));
    test.call.report = (girdle_report){&all, gather};
    status = girdle_paper_read_placements(&test.call, "p.csv", cases[i].text, strlen(cases[i].text), job);
    if (status == GIRDLE_OK || !strstr(all.text, cases[i].said))
      print_error("case %d: %d %s%s\n", (int)i, (int)status, all.text, test.error.message);
    assert_int_equal(status, cases[i].status);
    if (cases[i].said[0]) assert_has(all.text, cases[i].said);
    girdle_job_free(job);
    assert_int_equal(test.live_bytes, 0);
  }
}

static int32_t read_text(girdle_call *call, const char *text) {
  girdle_job *job;
  int32_t status = new_job(call, &job);
  if (status) return status;
  status = girdle_paper_read_placements(call, "p.csv", text, strlen(text), job);
  girdle_job_free(job);
  return status;
}

static int32_t read_plain(girdle_call *call) {
  return read_text(call, HEAD "a,0,ss20 clear,1,1,4.7,0\nb,0,ss16 red,2,2,3.9,0\n");
}

static int32_t read_quoted(girdle_call *call) {
  return read_text(call, HEAD "\"a\",0,ss20 clear,1,1,4.7,0\nb,0,ss16 red,2,2,3.9,0\n");
}

static void paper_read_placements_leaks_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(read_plain);
  test_sweep_allocations(read_quoted);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_read_placements_reads_what_was_written),
      cmocka_unit_test(paper_read_placements_reads_any_table),
      cmocka_unit_test(paper_read_placements_keeps_four_decimals_exact),
      cmocka_unit_test(paper_read_placements_holds_its_limits),
      cmocka_unit_test(paper_read_placements_names_every_fault),
      cmocka_unit_test(paper_read_placements_leaks_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
