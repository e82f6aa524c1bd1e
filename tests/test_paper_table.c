/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

#include "girdle/paper.h"

/* Gathers the faults of a file as "line:column field message" lines. */
typedef struct gathered {
  int count;
  char text[8192];
} gathered;

static void gather(void *context, const girdle_error *error) {
  gathered *all = context;
  size_t used = strlen(all->text);
  all->count++;
  snprintf(all->text + used, sizeof all->text - used, "%d:%d %s %s\n", (int)error->line, (int)error->column,
           error->field, error->message);
}

static girdle_table *read_good(test_call *test, const char *text) {
  girdle_table *table = NULL;
  assert_ok(test, girdle_table_read(&test->call, "t.csv", text, strlen(text), &table));
  return table;
}

static int32_t read_bad(test_call *test, gathered *all, const char *text, uint64_t bytes) {
  girdle_table *table = NULL;
  int32_t status;
  memset(all, 0, sizeof *all);
  test_again(test);
  test->call.report.context = all;
  test->call.report.fault = gather;
  status = girdle_table_read(&test->call, "t.csv", text, bytes, &table);
  assert_null(table);
  assert_int_equal(test->live_bytes, 0);
  return status;
}

/* RFC 4180, section 2: quotes, doubled quotes, separators and line breaks inside quotes, CRLF. */
static void table_read_takes_rfc_4180(void **state) {
  test_call test;
  girdle_table *table;
  (void)state;
  test_begin(&test);
  table = read_good(
      &test, "\xef\xbb\xbfZone Name,\"stones\",gap\r\n\"a,b\",\"say \"\"hi\"\"\r\nthere\",1 mm\r\nlast,,\"\"\r\n");
  assert_int_equal(girdle_table_rows(table), 2);
  assert_int_equal(girdle_table_columns(table), 3);
  assert_string_equal(girdle_table_heading(table, 0), "zone_name");
  assert_null(girdle_table_heading(table, 3));
  assert_int_equal(girdle_table_column(table, "gap"), 2);
  assert_int_equal(girdle_table_column(table, "Gap"), -1);
  assert_int_equal(girdle_table_column(table, "a,b"), -1); /* the first cell is no heading */
  assert_string_equal(girdle_table_cell(table, 0, 0), "a,b");
  assert_string_equal(girdle_table_cell(table, 0, 1), "say \"hi\"\r\nthere");
  assert_string_equal(girdle_table_cell(table, 1, 1), "");
  assert_string_equal(girdle_table_cell(table, 9, 9), "");
  assert_int_equal(girdle_table_line(table, 0), 2);
  assert_int_equal(girdle_table_line(table, 1), 4);
  girdle_table_free(table);
  assert_int_equal(test.live_bytes, 0);
}

static void table_read_finds_the_separator_and_the_line_ends(void **state) {
  static const char *const texts[] = {"a,b\n1 1/2 in,x",         "a;b\r\n1 1/2 in;x\r\n",
                                      "a\tb\r1 1/2 in\tx\r",     "\n\na , b\n\n  1 1/2 in ,x  \n,\n",
                                      "a;b;\n1 1/2 in;x;\n;;\n", "\"a,,,\";b\n1 1/2 in;x"};
  test_call test;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
    girdle_table *table = read_good(&test, texts[i]);
    assert_int_equal(girdle_table_columns(table), 2);
    assert_int_equal(girdle_table_rows(table), 1);
    assert_string_equal(girdle_table_cell(table, 0, 0), "1 1/2 in");
    assert_string_equal(girdle_table_cell(table, 0, 1), "x");
    girdle_table_free(table);
  }
}

/* An inch sign in a field without quotes stays what it is. */
static void table_read_keeps_an_inch_sign(void **state) {
  test_call test;
  girdle_table *table;
  (void)state;
  test_begin(&test);
  table = read_good(&test, "zone,length\ncuff,12\"\n");
  assert_string_equal(girdle_table_cell(table, 0, 1), "12\"");
  girdle_table_free(table);
}

static void table_read_takes_the_guard_off_formulas(void **state) {
  test_call test;
  girdle_table *table;
  (void)state;
  test_begin(&test);
  table = read_good(&test, "a,b,c,d\n'=1+1,''@x,'plain,\"'-5\"\n");
  assert_string_equal(girdle_table_cell(table, 0, 0), "=1+1");
  assert_string_equal(girdle_table_cell(table, 0, 1), "'@x");
  assert_string_equal(girdle_table_cell(table, 0, 2), "'plain");
  assert_string_equal(girdle_table_cell(table, 0, 3), "-5");
  girdle_table_free(table);
}

static void table_read_reports_every_fault_with_its_place(void **state) {
  static const char text[] = "a,b\n1,2,3\nok,ok\n4\nx,\"y\"z\né,\"never\nclosed";
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  assert_int_equal(read_bad(&test, &all, text, sizeof text - 1), GIRDLE_SYNTAX);
  assert_int_equal(all.count, 4);
  assert_non_null(strstr(all.text, "2:1  the row has 3 fields and the headings are 2"));
  assert_non_null(strstr(all.text, "4:1  the row has 1 field and"));
  assert_non_null(strstr(all.text, "5:6  text follows a closing quote"));
  assert_non_null(strstr(all.text, "6:3  a quote is opened here and never closed"));
  assert_int_equal(test.error.line, 2); /* the first stays as the call's error */
  assert_string_equal(test.error.source, "t.csv");
}

static void table_read_refuses_a_row_that_is_too_wide(void **state) {
  static const char text[] =
      "zone,times,gap,already,leave\nneck,2,1,5 mm,,\nhem,1,tight,,,\ncuff,2,1,5 mm,3 ss20,\n"
      "waist,1,2,3,4,5\n";
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  assert_int_equal(read_bad(&test, &all, text, sizeof text - 1), GIRDLE_SYNTAX);
  assert_int_equal(all.count, 4);
  assert_non_null(strstr(all.text, "2:1  the row has 6 fields and the headings are 5; if '1,5 mm' is one number"));
  assert_non_null(strstr(all.text, "3:1  the row has 6 fields and the headings are 5; a field with a separator"));
  assert_non_null(strstr(all.text, "4:1  the row has 6 fields and the headings are 5; if '1,5 mm' is one number"));
  assert_non_null(strstr(all.text, "5:1  the row has 6 fields and the headings are 5; if '1,2' is one number"));
}

static void table_read_refuses_what_is_no_utf8(void **state) {
  static const char latin[] = "a,b\nok,na\xc3\xafve \xe9t\xe9\nx,\xed\xa0\x80\nx,\xc0\x80\n";
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  assert_int_equal(read_bad(&test, &all, latin, sizeof latin - 1), GIRDLE_SYNTAX);
  assert_int_equal(all.count, 3); /* one a line */
  assert_non_null(strstr(all.text, "2:10  the byte 233 is not UTF-8"));
  assert_non_null(strstr(all.text, "3:3 "));
  assert_int_equal(read_bad(&test, &all, "a,\0b\n", 5), GIRDLE_SYNTAX);
  assert_int_equal(read_bad(&test, &all,
                            "\xff\xfe"
                            "a\0,\0",
                            6),
                   GIRDLE_SYNTAX);
  assert_non_null(strstr(test.error.message, "UTF-16"));
  assert_int_equal(read_bad(&test, &all, "a\0,\0b\0", 6), GIRDLE_SYNTAX);
  assert_non_null(strstr(test.error.message, "UTF-16"));
}

static void table_read_refuses_bad_headings(void **state) {
  static const struct {
    const char *text, *message;
  } cases[] = {{"", "the table is empty"},
               {"\n\r\n", "the table is empty"},
               {",,\n1,2,3\n", "the table is empty"},
               {"a,,b\n1,2,3\n", "column 2 has no heading"},
               {"a,A\n1,2\n", "two columns are headed 'a'"}};
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    assert_int_equal(read_bad(&test, &all, cases[i].text, strlen(cases[i].text)), GIRDLE_SYNTAX);
    assert_non_null(strstr(test.error.message, cases[i].message));
  }
}

static void table_read_stops_at_a_hundred_faults(void **state) {
  char text[2000] = "a,b\n";
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  for (int i = 0; i < 300; i++)
    strcat(text, "x\n");
  assert_int_equal(read_bad(&test, &all, text, strlen(text)), GIRDLE_SYNTAX);
  assert_int_equal(all.count, 100);
}

/* Random bytes changed, cut out and put in: a table comes out whole or not at all. */
static void table_read_survives_mutation(void **state) {
  static const char seed_text[] =
      "zone,side,shape\n\"a \"\"b\"\"\",front,\"loop 34 cm\"\r\ncuff;x,'=1,\xc3\xa9\xe3\x81\x82\n\nlast,,\n";
  static const char spice[] = "\",;\t\r\n'=\xff\xc3 a";
  uint64_t stream = 20310106, good = 0;
  test_call test;
  (void)state;
  for (int i = 0; i < 100000; i++) {
    char text[sizeof seed_text];
    uint64_t bytes = sizeof seed_text - 1;
    girdle_table *table = NULL;
    memcpy(text, seed_text, sizeof text);
    for (uint64_t edits = 1 + test_random(&stream) % 4; edits; edits--)
      text[test_random(&stream) % bytes] = spice[test_random(&stream) % (sizeof spice - 1)];
    if (test_random(&stream) % 4 == 0) bytes = test_random(&stream) % bytes;
    test_begin(&test);
    if (girdle_table_read(&test.call, "t.csv", text, bytes, &table) == GIRDLE_OK) {
      good++;
      assert_non_null(table);
      for (uint64_t row = 0; row < girdle_table_rows(table); row++)
        for (uint64_t column = 0; column < girdle_table_columns(table); column++)
          assert_true(strlen(girdle_table_cell(table, row, column)) <= bytes);
    } else {
      assert_null(table);
      assert_true(test.error.status != GIRDLE_OK && test.error.message[0]);
    }
    girdle_table_free(table);
    assert_int_equal(test.live_bytes, 0);
  }
  assert_true(good > 1000 && good < 99000);
}

static int32_t read_some(girdle_call *call) {
  static const char text[] = "a,b,c\n1,2,3\n4,5,6\n7,8,9\n";
  girdle_table *table = NULL;
  int32_t status = girdle_table_read(call, "t.csv", text, sizeof text - 1, &table);
  girdle_table_free(table);
  return status;
}

static void table_read_leaks_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(read_some);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(table_read_takes_rfc_4180),
      cmocka_unit_test(table_read_finds_the_separator_and_the_line_ends),
      cmocka_unit_test(table_read_keeps_an_inch_sign),
      cmocka_unit_test(table_read_takes_the_guard_off_formulas),
      cmocka_unit_test(table_read_reports_every_fault_with_its_place),
      cmocka_unit_test(table_read_refuses_a_row_that_is_too_wide),
      cmocka_unit_test(table_read_refuses_what_is_no_utf8),
      cmocka_unit_test(table_read_refuses_bad_headings),
      cmocka_unit_test(table_read_stops_at_a_hundred_faults),
      cmocka_unit_test(table_read_survives_mutation),
      cmocka_unit_test(table_read_leaks_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
