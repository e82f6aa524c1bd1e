/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_support.h"

#include <jansson.h>
#include <locale.h>

/* ---- one of each paper, so that all can be asked the same questions */

/* The text of a paper; the caller frees it. */
static char *paper_text(int paper) {
  test_call test;
  kept all;
  desk d;
  girdle_sink sink = keep_in(&all);
  test_begin(&test);
  assert_ok(&test, set_desk(&test.call, &d));
  assert_ok(&test, write_paper(&test.call, &d, paper, &sink));
  clear_desk(&d);
  assert_int_equal(test.live_bytes, 0);
  return all.text;
}

/* ---- tables */

static void paper_placements_csv_writes_four_decimals(void **state) {
  char *text = paper_text(PLACEMENTS);
  (void)state;
  assert_true(strncmp(text,
                      "zone,row,stone,x_mm,y_mm,diameter_mm,turn_deg\ncollar,0,ss20 black,-3.1416,-0.2500,4.7,0\n"
                      "collar,0,ss20 clear,6.8584,-0.2499,4.7,22.5\n",
                      124) == 0);
  assert_int_equal(count_of(text, "\n"), 1 + 9 + 2 * 5 + 4);
  assert_has(text, "cuffs left,");
  assert_has(text, "cuffs right,");
  assert_has(text, "\"bow, \"\"<big>\"\"\",0,8 mm red navette,-3.1416,-0.2500,8,0\n");
  free(text);
}

/* What is written is read back equal, whatever the texts are. */
static void paper_placements_csv_reads_back(void **state) {
  static const char *const names[] = {"plain",
                                      "=1+1",
                                      "'=x",
                                      "a,b",
                                      "say \"hi\"",
                                      "two\nlines",
                                      " outer ",
                                      "-5",
                                      "@x",
                                      "\t=x",
                                      "\305\201\303\263d\305\272"};
  static const char *const stones[] = {"ss20 black"};
  test_call test;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
    girdle_job *job = plain_job(&test);
    girdle_table *table;
    kept all;
    girdle_sink sink = keep_in(&all);
    assert_ok(&test, sample_zone(&test.call, job, names[i], "", 0, 1, stones, 1, 2));
    assert_ok(&test, girdle_paper_placements_csv(&test.call, job, &sink));
    assert_ok(&test, girdle_table_read(&test.call, "p.csv", all.text, all.bytes, &table));
    assert_string_equal(girdle_table_cell(table, 1, 0), names[i]);
    assert_string_equal(girdle_table_cell(table, 1, 3), "6.8584");
    girdle_table_free(table);
    girdle_job_free(job);
    free(all.text);
  }
  assert_int_equal(test.live_bytes, 0);
}

static void paper_counts_csv_counts_what_is_worked_twice_twice(void **state) {
  char *text = paper_text(COUNTS);
  (void)state;
  assert_has(text, "tag,zone,side,stone,count\nF-1,collar,front,ss20 black,3\nF-1,collar,front,ss20 clear,2\n");
  assert_has(text, "F-1,collar,back,ss20 black,2\nF-1,collar,back,ss20 clear,2\n");
  assert_has(text, "F-1,cuffs,left,ss12 ice blue,5\nF-1,cuffs,right,ss12 ice blue,5\n");
  assert_has(text, "F-1,\"bow, \"\"<big>\"\"\",front,8 mm red navette,4\n");
  assert_has(text, "F-2,hem,,ss16 clear,220\n");
  free(text);
}

static void paper_order_csv_writes_packs_as_they_were_written(void **state) {
  char *text = paper_text(ORDER);
  (void)state;
  assert_has(text, "supplier,stone,item,pack,packs,price,cost\n");
  assert_has(text, "Bead Barn,ss20 clear,,\" 1  gross\",1,5.90,5.90\n");
  assert_has(text, "'=Glint,ss12 ice blue,'@g,100,1,4.00,4.00\n");
  free(text);
}

/* ---- texts */

static void paper_counts_text_uses_people_s_words(void **state) {
  char *text = paper_text(COUNTS_TEXT);
  (void)state;
  assert_has(text, "frost, F-1, size 140, needed by 2031-03-14\n");
  assert_has(text, "collar        front  ss20 black             3\n");
  assert_has(text, "together                                  247  1 gross and 103\n");
  assert_has(text, "ss16 clear           220  1 gross and 76\n");
  assert_has(text, "likely between");
  assert_null(strstr(text, "F-2"));
  assert_null(strstr(text, "A. Nobody")); /* a wearer's name is nobody else's business */
  free(text);
}

static void paper_counts_text_shows_no_control_characters(void **state) {
  static const char *const stones[] = {"ss20"};
  girdle_job_head head;
  girdle_job *job;
  girdle_tally *tally;
  test_call test;
  kept all;
  girdle_sink sink = keep_in(&all);
  (void)state;
  test_begin(&test);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "t\033[31m");
  strcpy(head.costume, "a\nb");
  assert_ok(&test, girdle_job_new(&test.call, &head, &job));
  assert_ok(&test, sample_zone(&test.call, job, "z\033]0;x\007", "", 0, 1, stones, 1, 2));
  assert_ok(&test, girdle_job_tally(&test.call, job, &tally));
  assert_ok(&test, girdle_paper_counts_text(&test.call, job, tally, &sink));
  assert_has(all.text, "a b, t [31m");
  assert_has(all.text, "z ]0;x ");
  assert_null(strchr(all.text, '\033'));
  girdle_tally_free(tally);
  girdle_job_free(job);
  free(all.text);
}

static void paper_cost_text_adds_up(void **state) {
  char *text = paper_text(COST_TEXT);
  (void)state;
  assert_has(text, "frost, F-2");
  assert_has(text, "247 stones at 30.00 EUR a gross        51.46\n");
  assert_has(text, "Deposit before starting");
  assert_has(text, "INCOMPLETE"); /* nobody sells the red navettes */
  assert_has(text, "evening");
  free(text);
}

static void paper_cost_text_refuses_a_costume_that_is_not_there(void **state) {
  test_call test;
  kept all;
  desk d;
  girdle_sink sink = keep_in(&all);
  (void)state;
  test_begin(&test);
  assert_ok(&test, set_desk(&test.call, &d));
  assert_status(&test, girdle_paper_cost_text(&test.call, d.club, 2, d.reckoning, &sink), GIRDLE_ARGUMENT);
  assert_has(test.error.message, "costume 3 of 2");
  clear_desk(&d);
}

static void paper_order_text_says_cheapest_only_when_it_is(void **state) {
  char *text = paper_text(ORDER_TEXT);
  (void)state;
  assert_has(text, "Bead Barn, delivers in 3 days\n");
  assert_has(text, "1 \303\227  1  gross");
  assert_has(text, "This is the cheapest order for these prices.");
  assert_has(text, "INCOMPLETE: no supplier offers enough of 1 kind of stone.");
  assert_has(text, "no supplier offers enough\n");
  assert_has(text, "spares");
  free(text);
}

static void paper_calendar_text_names_days(void **state) {
  char *text = paper_text(CALENDAR_TEXT);
  (void)state;
  assert_has(text, "2031-03-14 Fri");
  assert_has(text, "dry right through (cure)");
  assert_has(text, "Order by ");
  free(text);
}

/* Asked for two days before it is needed. */
static void paper_calendar_text_says_what_is_too_late(void **state) {
  girdle_reckoning *reckoning;
  girdle_club *club;
  test_call test;
  kept all;
  girdle_sink sink = keep_in(&all);
  (void)state;
  test_begin(&test);
  assert_ok(&test, sample_club(&test.call, &club));
  assert_ok(&test, girdle_club_reckon(&test.call, club, 22350, &reckoning));
  assert_ok(&test, girdle_paper_calendar_text(&test.call, girdle_reckoning_calendar(reckoning), &sink));
  assert_has(all.text, "TOO LATE by ");
  assert_has(all.text, " days as planned. ");
  assert_has(all.text, " What one change alone would do:\n- ");
  assert_has(all.text, "still ");
  assert_null(strstr(all.text, "it can be met"));
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
  free(all.text);
  assert_int_equal(test.live_bytes, 0);
}

/* A single short evening cannot be made shorter, and nothing is posted. */
static void paper_calendar_text_says_when_no_one_change_helps(void **state) {
  const girdle_task task = {.tag = "F-1", .needed_by_day = 22350, .minutes = 10, .sides = 1};
  girdle_calendar_options options;
  girdle_work_rates rates;
  girdle_calendar *calendar;
  test_call test;
  kept all;
  girdle_sink sink = keep_in(&all);
  (void)state;
  test_begin(&test);
  girdle_calendar_options_init(&options, sizeof options);
  options.today = 22350;
  options.tasks = &task;
  options.task_count = 1;
  girdle_work_rates_init(&rates, sizeof rates);
  assert_ok(&test, girdle_calendar_plan(&test.call, &rates, &options, &calendar));
  assert_ok(&test, girdle_paper_calendar_text(&test.call, calendar, &sink));
  assert_has(all.text, " days as planned. No one change helps: take a later day.\n");
  girdle_calendar_free(calendar);
  free(all.text);
  assert_int_equal(test.live_bytes, 0);
}

static void paper_cautions_text_defers_to_the_label(void **state) {
  char *text = paper_text(CAUTIONS_TEXT);
  (void)state;
  assert_has(text, "The label and the safety data sheet of your adhesive come before every number here.");
  assert_has(text, "children under three");
  assert_has(text, "ask the supplier for a test report"); /* glass */
  free(text);
}

/* ---- JSON */

static void paper_club_json_is_one_whole_object(void **state) {
  char *text = paper_text(CLUB_JSON);
  json_t *root = json_loads(text, 0, NULL), *costume, *quote, *lines;
  json_int_t sum = 0;
  (void)state;
  assert_non_null(root);
  assert_int_equal(count_of(text, "\n"), 1);
  assert_int_equal(json_integer_value(json_object_get(root, "format")), 1);
  assert_int_equal(json_array_size(json_object_get(root, "costumes")), 2);
  costume = json_array_get(json_object_get(root, "costumes"), 1);
  assert_string_equal(json_string_value(json_object_get(costume, "tag")), "F-2");
  assert_string_equal(json_string_value(json_object_get(costume, "needed_by")), "2031-03-14");
  quote = json_object_get(costume, "quote");
  lines = json_object_get(quote, "lines");
  for (size_t i = 0; i < json_array_size(lines); i++)
    sum += json_integer_value(json_object_get(json_array_get(lines, i), "amount_minor"));
  assert_int_equal(sum, json_integer_value(json_object_get(quote, "total_minor")));
  assert_true(json_is_true(json_object_get(quote, "incomplete")));
  assert_non_null(json_object_get(json_object_get(root, "calendar"), "events"));
  json_decref(root);
  free(text);
}

static void paper_counts_json_counts_one_costume(void **state) {
  char *text = paper_text(COUNTS_JSON);
  json_t *root = json_loads(text, 0, NULL);
  (void)state;
  assert_non_null(root);
  assert_int_equal(json_integer_value(json_object_get(root, "pieces")), 247);
  assert_int_equal(json_array_size(json_object_get(root, "counts")), 9);
  json_decref(root);
  free(text);
}

/* ---- all papers */

static void papers_do_not_know_the_locale(void **state) {
  (void)state;
  for (int paper = 0; paper < PAPERS; paper++) {
    char *plain = paper_text(paper), *comma;
    if (!setlocale(LC_ALL, "de_DE.UTF-8")) skip();
    assert_string_equal(localeconv()->decimal_point, ",");
    comma = paper_text(paper);
    setlocale(LC_ALL, "C");
    assert_string_equal(plain, comma);
    free(plain);
    free(comma);
  }
}

static void papers_stop_when_the_sink_is_full(void **state) {
  test_call test;
  desk d;
  (void)state;
  test_begin(&test);
  assert_ok(&test, set_desk(&test.call, &d));
  for (int paper = 0; paper < PAPERS; paper++) {
    kept all;
    girdle_sink sink = keep_in(&all);
    all.most = 10;
    test_again(&test);
    assert_status(&test, write_paper(&test.call, &d, paper, &sink), GIRDLE_STOPPED);
    assert_has(test.error.message, "could not be written");
    free(all.text);
  }
  clear_desk(&d);
  assert_int_equal(test.live_bytes, 0);
}

static int32_t swallow(void *context, const void *bytes, uint64_t count) {
  (void)context, (void)bytes, (void)count;
  return 0;
}

/* A costume large enough that each of its papers is handed over in several pieces. */
static int32_t set_large_desk(girdle_call *call, desk *d) {
  static const char *const stones[] = {"ss20 black", "ss20", "ss16", "ss12 ice blue"};
  int32_t status = sample_club(call, &d->club);
  if (status) return status;
  d->job = girdle_club_job(d->club, 0);
  for (int i = 0; i < 150 && !status; i++) {
    char name[60];
    snprintf(name, sizeof name, "a zone with a name that takes its room, number %d", i);
    status = sample_zone(call, d->job, name, "", 0, 1, stones, 4, 12);
  }
  if (!status) status = girdle_club_reckon(call, d->club, 22300, &d->reckoning);
  if (status) girdle_club_free(d->club);
  return status;
}

typedef struct counter {
  int pieces, refused; /* the number of the piece that is refused, from 1; 0: none */
} counter;

static int32_t count_piece(void *context, const void *bytes, uint64_t count) {
  counter *of = context;
  (void)bytes, (void)count;
  return ++of->pieces == of->refused;
}

/* Whichever piece is the first that is not taken, nothing is written after it. Later pieces are tried in growing steps.
 */
static void papers_stop_at_the_piece_that_is_refused(void **state) {
  test_call test;
  desk d;
  int pieces = 0;
  (void)state;
  test_begin(&test);
  assert_ok(&test, set_large_desk(&test.call, &d));
  for (int paper = 0; paper < PAPERS; paper++) {
    counter all = {0, 0};
    const girdle_sink sink = {&all, count_piece};
    int whole;
    assert_ok(&test, write_paper(&test.call, &d, paper, &sink));
    whole = all.pieces;
    pieces += whole;
    for (int refused = 1; refused <= whole; refused += 1 + refused / 16) {
      all = (counter){0, refused};
      test_again(&test);
      assert_status(&test, write_paper(&test.call, &d, paper, &sink), GIRDLE_STOPPED);
      assert_int_equal(all.pieces, refused);
    }
  }
  assert_true(pieces > 50);
  clear_desk(&d);
  assert_int_equal(test.live_bytes, 0);
}

/* ---- memory that jansson asks for, which it has from malloc */

static int asked, refused_at;
static size_t held;

static void *ask_for(size_t bytes) {
  size_t *block = ++asked == refused_at ? NULL : malloc(bytes + sizeof *block);
  if (!block) return NULL;
  held++;
  return block + 1;
}

static void give_back(void *block) {
  if (!block) return;
  held--;
  free((size_t *)block - 1);
}

static void papers_in_json_leak_nothing_when_jansson_has_no_memory(void **state) {
  const girdle_sink sink = {NULL, swallow};
  json_malloc_t usual_malloc;
  json_free_t usual_free;
  test_call test;
  desk d;
  (void)state;
  test_begin(&test);
  assert_ok(&test, set_desk(&test.call, &d));
  json_get_alloc_funcs(&usual_malloc, &usual_free);
  json_set_alloc_funcs(ask_for, give_back);
  for (int paper = COUNTS_JSON; paper <= CLUB_JSON; paper++) {
    int32_t status = GIRDLE_MEMORY;
    for (refused_at = 1; status == GIRDLE_MEMORY; refused_at++) {
      asked = 0;
      test_again(&test);
      status = write_paper(&test.call, &d, paper, &sink);
      assert_true(status == GIRDLE_OK || status == GIRDLE_MEMORY);
      assert_int_equal(held, 0);
    }
    assert_int_equal(status, GIRDLE_OK);
    assert_true(refused_at > 50);
  }
  json_set_alloc_funcs(usual_malloc, usual_free);
  clear_desk(&d);
  assert_int_equal(test.live_bytes, 0);
}

static int swept; /* the paper that is written */

static int32_t write_swept(girdle_call *call) {
  const girdle_sink sink = {NULL, swallow};
  desk d;
  int32_t status = set_desk(call, &d);
  if (status) return status;
  status = write_paper(call, &d, swept, &sink);
  clear_desk(&d);
  return status;
}

static void papers_leak_nothing_when_memory_is_refused(void **state) {
  (void)state;
  for (swept = 0; swept < PAPERS; swept++)
    test_sweep_allocations(write_swept);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_placements_csv_writes_four_decimals),
      cmocka_unit_test(paper_placements_csv_reads_back),
      cmocka_unit_test(paper_counts_csv_counts_what_is_worked_twice_twice),
      cmocka_unit_test(paper_order_csv_writes_packs_as_they_were_written),
      cmocka_unit_test(paper_counts_text_uses_people_s_words),
      cmocka_unit_test(paper_counts_text_shows_no_control_characters),
      cmocka_unit_test(paper_cost_text_adds_up),
      cmocka_unit_test(paper_cost_text_refuses_a_costume_that_is_not_there),
      cmocka_unit_test(paper_order_text_says_cheapest_only_when_it_is),
      cmocka_unit_test(paper_calendar_text_names_days),
      cmocka_unit_test(paper_calendar_text_says_what_is_too_late),
      cmocka_unit_test(paper_calendar_text_says_when_no_one_change_helps),
      cmocka_unit_test(paper_cautions_text_defers_to_the_label),
      cmocka_unit_test(paper_club_json_is_one_whole_object),
      cmocka_unit_test(paper_counts_json_counts_one_costume),
      cmocka_unit_test(papers_do_not_know_the_locale),
      cmocka_unit_test(papers_stop_when_the_sink_is_full),
      cmocka_unit_test(papers_stop_at_the_piece_that_is_refused),
      cmocka_unit_test(papers_in_json_leak_nothing_when_jansson_has_no_memory),
      cmocka_unit_test(papers_leak_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
