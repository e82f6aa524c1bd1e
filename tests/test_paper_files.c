/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

#include "girdle/paper.h"

typedef struct gathered {
  int count;
  char text[16384];
} gathered;

static void gather(void *context, const girdle_error *error) {
  gathered *all = context;
  size_t used = strlen(all->text);
  all->count++;
  snprintf(all->text + used, sizeof all->text - used, "%d:%d [%s] %s\n", (int)error->line, (int)error->column,
           error->field, error->message);
}

static void listen(test_call *test, gathered *all) {
  memset(all, 0, sizeof *all);
  test_again(test);
  test->call.report.context = all;
  test->call.report.fault = gather;
}

static void assert_says(const gathered *all, const char *part) {
  if (strstr(all->text, part)) return;
  print_error("'%s' is not in:\n%s\n", part, all->text);
  fail();
}

/* ---- zones.csv */

static int32_t read_zones(girdle_call *call, const char *text, girdle_zone_rows **out) {
  return girdle_paper_read_zones(call, "zones.csv", text, strlen(text), out);
}

static void paper_read_zones_reads_rows(void **state) {
  static const char text[] =
      "zone,side,pair,times,priority,shape,length_cm,width,recipe,stones,gap,already,leave\n"
      "collar,both,,,,loop,52.5,,alternating line,ss20 black; ss20 clear,1 mm worn,,\n"
      "cuffs,,yes,1,-2,strip,neckline,4 cm,even scatter,ss16,2 mm,,\"1 cm, 3 cm\"\n"
      "hem,front,no,2,,,,,,,,120 ss16 clear,\n";
  girdle_zone_rows *rows;
  const girdle_zone_row *view;
  uint64_t count;
  test_call test;
  (void)state;
  test_begin(&test);
  assert_ok(&test, read_zones(&test.call, text, &rows));
  view = girdle_zone_rows_view(rows, &count);
  assert_int_equal(count, 3);
  assert_string_equal(view[0].name, "collar");
  assert_string_equal(view[0].side, "both");
  assert_string_equal(view[0].length, "52.5 cm"); /* the unit of the heading */
  assert_string_equal(view[0].stones, "ss20 black; ss20 clear");
  assert_string_equal(view[0].gap, "1 mm worn");
  assert_int_equal(view[0].times, 1);
  assert_int_equal(view[0].pair, 0);
  assert_int_equal(view[0].line, 2);
  assert_int_equal(view[1].pair, 1);
  assert_int_equal(view[1].priority, -2);
  assert_string_equal(view[1].length, "neckline");
  assert_string_equal(view[1].width, "4 cm");
  assert_string_equal(view[1].leave, "1 cm, 3 cm");
  assert_int_equal(view[2].times, 2);
  assert_string_equal(view[2].already, "120 ss16 clear");
  girdle_zone_rows_free(rows);
  assert_int_equal(test.live_bytes, 0);
}

static void paper_read_zones_reports_every_fault(void **state) {
  static const char text[] =
      "zone,side,pair,times,shape,length,recipe\n"
      ",front,,,line,38 cm,r\n"
      "a,frnt,,,line,38 cm,r\n"
      "b,,maybe,,line,38 cm,r\n"
      "c,,,0,line,38 cm,r\n"
      "d,,,1.5,line,38 cm,r\n"
      "e,,,,line,38,r\n"
      "f,,,,,,r\n" /* whether r needs a shape is for r to say */
      "g,,,,line,38 cm,\n";
  girdle_zone_rows *rows = NULL;
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  listen(&test, &all);
  assert_status(&test, read_zones(&test.call, text, &rows), GIRDLE_SYNTAX);
  assert_null(rows);
  assert_int_equal(all.count, 7);
  assert_says(&all, "2:1 [zone] 'zone' is empty");
  assert_says(&all, "3:3 [side] unknown side 'frnt', did you mean 'front'?");
  assert_says(&all, "4:4 [pair] 'pair' says yes or no");
  assert_says(&all, "5:5 [times] times must be 1 to 1000000, not 0");
  assert_says(&all, "6:5 [times] '1.5' is not a whole number");
  assert_says(&all, "7:11 [length] '38' is not a length: its unit is missing; write one like \"12.5 mm\"");
  assert_says(&all, "9:17 [recipe] the zone needs a recipe");
  assert_int_equal(test.error.line, 2);
  assert_string_equal(test.error.source, "zones.csv");
  assert_int_equal(test.live_bytes, 0);
}

static void paper_read_zones_names_columns(void **state) {
  girdle_zone_rows *rows = NULL;
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  listen(&test, &all);
  assert_status(&test, read_zones(&test.call, "zones,shape,recipe\na,line,r\n", &rows), GIRDLE_UNKNOWN);
  assert_says(&all, "1:1 [zone] the column 'zone' is missing; is 'zones' meant for it?");
  assert_string_equal(test.error.nearest, "zones");
  listen(&test, &all);
  assert_status(&test, read_zones(&test.call, "zone,shape,recipie\na,line,r\n", &rows), GIRDLE_UNKNOWN);
  assert_says(&all, "1:12 [column] unknown column 'recipie', did you mean 'recipe'?");
  listen(&test, &all);
  assert_ok(&test, read_zones(&test.call, "zone,already,notes,weather\na,5 ss16,x,y\n", &rows));
  girdle_zone_rows_free(rows);
}

/* ---- a club's files */

static int32_t read_file(girdle_call *call, girdle_club *club, int32_t file, const char *text) {
  return girdle_paper_read_club(call, club, file, girdle_paper_club_file(file), text, strlen(text));
}

static const char *const good_files[GIRDLE_FILE_END] = {
    "size,neckline_cm,wrist\n140,50,14 cm\n152,52.5,15 cm\n",
    "Tag;Costume;size;needed_by;name;upper arm in\nF-1;frost;140;2031-03-14;Mia;\nF-2;frost;152;;;5 1/2 in\n",
    "supplier,currency,shipping,free_from,least_order,delivery_days\nBead Barn,EUR,4.90,60.00,,3\nGlint,EUR,,,20.00,\n",
    ("supplier,stone,pack,price,item,at_most,sold_out\nBead Barn,ss20 black,1 gross,6.80,,,\n"
     "Bead Barn,ss20,  1 gross ,5.90,BB-201,,\nGlint,ss16 ice blue,\"1 great gross \",38,,2,yes\n"),
    "colour,supplier,item\nBlack,Bead Barn,BB-777\nclear,Bead Barn,BB-9\n",
    "stone,on_hand,lot\nss20 black,2 1/2 gross,A\nss16 ice blue,52 g,\n",
    "rate,value\nLabour a gross,30.00\nadhesive_a_tube,9.50\nhands,2\n",
    "date,tag,zone,stone,planned,used,lost,fell_off,minutes\n2030-11-02,E-1,collar,ss20 black,1 gross,150,6,,55.5\n"};

static int32_t read_all(girdle_call *call) {
  girdle_club *club;
  int32_t status = girdle_club_new(call, &club);
  if (status) return status;
  for (int32_t file = 0; file < GIRDLE_FILE_END && !status; file++)
    status = read_file(call, club, file, good_files[file]);
  girdle_club_free(club);
  return status;
}

static void paper_club_file_names_every_file(void **state) {
  static const char *const names[] = {"sizes.csv",   "club.csv",  "suppliers.csv", "prices.csv",
                                      "colours.csv", "stock.csv", "rates.csv",     "log.csv"};
  (void)state;
  for (int32_t file = 0; file < GIRDLE_FILE_END; file++)
    assert_string_equal(girdle_paper_club_file(file), names[file]);
  assert_null(girdle_paper_club_file(-1));
  assert_null(girdle_paper_club_file(GIRDLE_FILE_END));
}

static void paper_read_club_fills_a_club(void **state) {
  girdle_club *club;
  const girdle_price_row *prices;
  const girdle_stock_row *stock;
  const girdle_supplier *suppliers;
  const girdle_measure *measures;
  const girdle_job_head *head;
  uint64_t count;
  test_call test;
  (void)state;
  test_begin(&test);
  assert_ok(&test, girdle_club_new(&test.call, &club));
  for (int32_t file = 0; file < GIRDLE_FILE_END; file++)
    assert_ok(&test, read_file(&test.call, club, file, good_files[file]));
  assert_int_equal(girdle_club_jobs(club), 2);
  head = girdle_job_head_of(girdle_club_job(club, 0));
  assert_string_equal(head->tag, "F-1");
  assert_string_equal(head->wearer, "Mia");
  assert_int_equal(head->needed_by_day, 22352); /* 61 years of 365 days, 15 leap days, 72 days */
  assert_int_equal(girdle_job_head_of(girdle_club_job(club, 1))->needed_by_day, INT64_MIN);
  measures = girdle_job_measures(girdle_club_job(club, 1), &count);
  assert_int_equal(count, 1);
  assert_string_equal(measures[0].name, "upper arm");
  assert_near(measures[0].mm, 5.5 * 25.4, 1e-9);
  assert_ok(&test, girdle_club_fit_sizes(&test.call, club));
  measures = girdle_job_measures(girdle_club_job(club, 1), &count);
  assert_int_equal(count, 3);
  suppliers = girdle_club_suppliers(club, &count);
  assert_int_equal(count, 2);
  assert_int_equal(suppliers[0].shipping_minor, 490);
  assert_int_equal(suppliers[0].free_from_minor, 6000);
  assert_int_equal(suppliers[1].free_from_minor, -1);
  assert_int_equal(suppliers[1].least_order_minor, 2000);
  prices = girdle_club_prices(club, &count);
  assert_int_equal(count, 3);
  assert_int_equal(prices[0].price_minor, 680);
  assert_string_equal(prices[0].item, "BB-777"); /* from colours.csv */
  assert_string_equal(prices[1].item, "BB-201"); /* its own stays */
  assert_string_equal(prices[1].pack, "1 gross");
  assert_string_equal(prices[2].pack, "1 great gross "); /* as it is written */
  assert_int_equal(prices[2].pack_pieces, 1728);
  assert_int_equal(prices[2].at_most, 2);
  assert_int_equal(prices[0].at_most, -1);
  assert_int_equal(prices[2].sold_out, 1);
  stock = girdle_club_stock(club, &count);
  assert_int_equal(stock[0].pieces, 360);
  assert_string_equal(stock[0].lot, "A");
  /* 52 g in stones of the greatest mass, so that none is counted that is not there */
  assert_int_equal(stock[1].pieces, (int64_t)(52000 / stock[1].stone.mass_mg[GIRDLE_MOST]));
  assert_int_equal(girdle_club_quote_rates(club)->labour_minor, 3000);
  assert_int_equal(girdle_club_work_rates(club)->hands, 2);
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

static void read_faulty(test_call *test, gathered *all, int32_t file, const char *text) {
  girdle_club *club;
  listen(test, all);
  assert_ok(test, girdle_club_new(&test->call, &club));
  assert_ok(test, read_file(&test->call, club, GIRDLE_FILE_SUPPLIERS, good_files[GIRDLE_FILE_SUPPLIERS]));
  assert_int_not_equal(read_file(&test->call, club, file, text), GIRDLE_OK);
  girdle_club_free(club);
  assert_int_equal(test->live_bytes, 0);
}

static void paper_read_club_refuses_dates_that_can_be_read_twice(void **state) {
  static const char *const dates[] = {"03/04/2031", "3.4.31", "3-4-2031", "13/04/31"};
  static const char *const plain[] = {"03/14/2031", "14.3.2031", "4/4/2031", "31/31/2031", "03/13/2031"};
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof dates / sizeof dates[0]; i++) {
    char text[200];
    snprintf(text, sizeof text, "tag,costume,needed_by\nA,frost,%s\n", dates[i]);
    read_faulty(&test, &all, GIRDLE_FILE_CLUB, text);
    assert_says(&all, "2:9 [needed_by]");
    assert_says(&all, "can be read as two dates; write year-month-day, like 2031-04-03");
  }
  for (size_t i = 0; i < sizeof plain / sizeof plain[0]; i++) {
    char text[200];
    snprintf(text, sizeof text, "tag,costume,needed_by\nA,frost,%s\n", plain[i]);
    read_faulty(&test, &all, GIRDLE_FILE_CLUB, text);
    assert_says(&all, "2:9 [needed_by]");
    assert_says(&all, "is not written year-month-day, like 2031-03-14");
  }
  read_faulty(&test, &all, GIRDLE_FILE_CLUB, "tag,costume,needed_by\nA,frost,2031-02-29\n");
  assert_says(&all, "2:9 [needed_by]");
}

static void paper_read_club_reports_every_fault(void **state) {
  static const struct {
    int32_t file;
    const char *text, *faults[4];
  } cases[] = {
      {GIRDLE_FILE_SIZES,
       "size,neckline\n140,50\n,51 cm\n152,51 cm\n160,51 sheep\n",
       {"2:5 [neckline] '50' is not a length: its unit is missing", "3:1 [size] 'size' is empty", "5:5 [neckline]"}},
      {GIRDLE_FILE_CLUB,
       "tag,costume,waist_cm\nA,frost,-3\nA2,,60\nB,frost,60\nB,frost,61\n",
       {"2:9 [waist_cm] waist must be 1 to 100000 mm, not -30", "3:4 [costume] 'costume' is empty",
        "5:1 [tag] tag 'B' is there"}},
      {GIRDLE_FILE_CLUB,
       "tag,custume\nA,frost\n",
       {"1:1 [costume] the column 'costume' is missing; is 'custume' meant"}},
      {GIRDLE_FILE_SUPPLIERS,
       "supplier,currency,shipping\nX,EURO,1\nY,EUR,1.234\nZ,EUR,-1\n",
       {"2:3 [currency]", "3:7 [shipping]", "4:7 [shipping] shipping must be 0 or more"}},
      {GIRDLE_FILE_PRICES,
       "supplier,stone,pack,price\nBead Bran,ss20,1 gross,5\nGlint,ss21x,1 gross,5\nGlint,ss20,1 "
       "grss,5\nGlint,ss20,144,5;00\n",
       {"2:1 [supplier] unknown supplier 'Bead Bran', did you mean 'Bead Barn'?", "3:7 [stone]", "4:12 [pack]",
        "5:16 [price]"}},
      {GIRDLE_FILE_PRICES,
       "supplier,stone,pack,price\nGlint,ss20,0,5\nGlint,,1,5\nGlint,ss20,1,\n",
       {"2:12 [pack] pack must be 1 to", "3:7 [stone] 'stone' is empty", "4:14 [price] 'price' is empty"}},
      {GIRDLE_FILE_COLOURS,
       "colour,supplier,item\nred,Nobody,1\nred,Glint,\n",
       {"2:5 [supplier] unknown supplier 'Nobody'", "3:11 [item] 'item' is empty"}},
      {GIRDLE_FILE_STOCK,
       "stone,on_hand\nss20,many\nss20,-3\nss20,1.5\n",
       {"2:6 [on_hand]", "3:6 [on_hand]", "4:6 [on_hand]"}},
      {GIRDLE_FILE_RATES,
       "rate,value\nlabor a gross,3\nhands,none\n",
       {"2:1 [rate] unknown rate 'labor a gross', did you mean 'labour a gross'?", "3:7 "}},
      {GIRDLE_FILE_LOG,
       "date,tag,stone,used,minutes\n2031-01-01,A,ss20,x,5\n,,ss20,5,-1\n",
       {"2:19 [used]", "3:2 [tag] 'tag' is empty", "3:10 [minutes]"}},
  };
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    int expected = 0;
    read_faulty(&test, &all, cases[i].file, cases[i].text);
    for (; expected < 4 && cases[i].faults[expected]; expected++)
      assert_says(&all, cases[i].faults[expected]);
    if (all.count != expected) print_error("%s\n", all.text);
    assert_int_equal(all.count, expected);
  }
}

/* Random bytes of a club's files changed: each is read wholly or refused with a message, and nothing leaks. */
static void paper_read_club_survives_mutation(void **state) {
  static const char spice[] = "\",;\t\r\n'=\xff\xc3 -0.9/";
  uint64_t stream = 2031, good = 0, bad = 0;
  test_call test;
  (void)state;
  for (int i = 0; i < 20000; i++) {
    int32_t file = (int32_t)(test_random(&stream) % GIRDLE_FILE_END);
    size_t bytes = strlen(good_files[file]);
    char text[400];
    girdle_club *club;
    memcpy(text, good_files[file], bytes + 1);
    for (uint64_t edits = 1 + test_random(&stream) % 3; edits; edits--)
      text[test_random(&stream) % bytes] = spice[test_random(&stream) % (sizeof spice - 1)];
    test_begin(&test);
    assert_ok(&test, girdle_club_new(&test.call, &club));
    assert_ok(&test,
              read_file(&test.call, club, GIRDLE_FILE_SUPPLIERS,
                        file == GIRDLE_FILE_SUPPLIERS ? "supplier,currency\n" : good_files[GIRDLE_FILE_SUPPLIERS]));
    if (girdle_paper_read_club(&test.call, club, file, "f", text, bytes) == GIRDLE_OK)
      good++;
    else
      bad += test.error.status != GIRDLE_OK && test.error.message[0];
    girdle_club_free(club);
    assert_int_equal(test.live_bytes, 0);
  }
  assert_int_equal(good + bad, 20000);
  assert_true(good > 200 && bad > 200);
}

static int32_t read_some_zones(girdle_call *call) {
  girdle_zone_rows *rows = NULL;
  int32_t status = read_zones(call, "zone,already\na,5 ss16\n", &rows);
  girdle_zone_rows_free(rows);
  return status;
}

static void paper_readers_leak_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(read_some_zones);
  test_sweep_allocations(read_all);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_read_zones_reads_rows),
      cmocka_unit_test(paper_read_zones_reports_every_fault),
      cmocka_unit_test(paper_read_zones_names_columns),
      cmocka_unit_test(paper_club_file_names_every_file),
      cmocka_unit_test(paper_read_club_fills_a_club),
      cmocka_unit_test(paper_read_club_refuses_dates_that_can_be_read_twice),
      cmocka_unit_test(paper_read_club_reports_every_fault),
      cmocka_unit_test(paper_read_club_survives_mutation),
      cmocka_unit_test(paper_readers_leak_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
