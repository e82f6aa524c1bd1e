/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static girdle_job *job_of(girdle_call *call, const char *tag, const char *size) {
  girdle_job_head head;
  girdle_job *job;
  girdle_job_head_init(&head, sizeof head);
  snprintf(head.tag, sizeof head.tag, "%s", tag);
  snprintf(head.size, sizeof head.size, "%s", size);
  assert_int_equal(girdle_job_new(call, &head, &job), GIRDLE_OK);
  return job;
}

static double measure_of(const girdle_job *job, const char *name) {
  uint64_t count;
  const girdle_measure *measures = girdle_job_measures(job, &count);
  for (uint64_t i = 0; i < count; i++)
    if (strcmp(measures[i].name, name) == 0) return measures[i].mm;
  return NAN;
}

static girdle_supplier supplier_of(const char *name, const char *code) {
  girdle_supplier supplier;
  memset(&supplier, 0, sizeof supplier);
  strcpy(supplier.name, name);
  assert_int_equal(girdle_currency_parse(NULL, code, &supplier.currency), GIRDLE_OK);
  supplier.free_from_minor = -1;
  return supplier;
}

/* ---- jobs */

static void club_add_job_takes_it_over_and_keeps_tags_apart(void **state) {
  static const char *const tags[] = {"M2", "A1", "Z9", "B4", "M1"};
  girdle_club *club;
  girdle_job *twin;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  for (int i = 0; i < 5; i++)
    assert_ok(&test, girdle_club_add_job(&test.call, club, job_of(&test.call, tags[i], "")));
  for (int i = 0; i < 5; i++) {
    twin = job_of(&test.call, tags[i], "");
    test_again(&test);
    assert_status(&test, girdle_club_add_job(&test.call, club, twin), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, "tag");
    girdle_job_free(twin);
  }
  assert_int_equal(girdle_club_jobs(club), 5);
  for (uint64_t i = 0; i < 5; i++)
    assert_string_equal(girdle_job_head_of(girdle_club_job(club, i))->tag, tags[i]);
  assert_null(girdle_club_job(club, 5));
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

/* ---- sizes */

static void club_fit_sizes_fills_in_what_a_wearer_lacks(void **state) {
  girdle_club *club;
  girdle_job *own;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  assert_ok(&test, girdle_club_set_size(&test.call, club, "128", "neckline", 480));
  assert_ok(&test, girdle_club_set_size(&test.call, club, "128", "wrist", 130));
  assert_ok(&test, girdle_club_set_size(&test.call, club, "140", "neckline", 500));
  assert_ok(&test, girdle_club_set_size(&test.call, club, "128", "neckline", 490)); /* replaced */
  own = job_of(&test.call, "A1", "128");
  assert_ok(&test, girdle_job_set_measure(&test.call, own, "wrist", 145));
  assert_ok(&test, girdle_club_add_job(&test.call, club, own));
  assert_ok(&test, girdle_club_add_job(&test.call, club, job_of(&test.call, "A2", "140")));
  assert_ok(&test, girdle_club_add_job(&test.call, club, job_of(&test.call, "A3", "")));
  assert_ok(&test, girdle_club_fit_sizes(&test.call, club));
  assert_true(measure_of(girdle_club_job(club, 0), "neckline") == 490);
  assert_true(measure_of(girdle_club_job(club, 0), "wrist") == 145);
  assert_true(measure_of(girdle_club_job(club, 1), "neckline") == 500);
  assert_true(isnan(measure_of(girdle_club_job(club, 2), "neckline")));
  assert_ok(&test, girdle_club_add_job(&test.call, club, job_of(&test.call, "A4", "141")));
  assert_status(&test, girdle_club_fit_sizes(&test.call, club), GIRDLE_UNKNOWN);
  assert_non_null(strstr(test.error.message, "A4"));
  assert_string_equal(test.error.nearest, "140");
  girdle_club_free(club);
  assert_ok(&test, girdle_club_new(&test.call, &club));
  assert_ok(&test, girdle_club_set_size(test_again(&test), club, "small", "neckline", 480));
  assert_ok(&test, girdle_club_set_size(&test.call, club, "large", "neckline", 520));
  assert_ok(&test, girdle_club_add_job(&test.call, club, job_of(&test.call, "A5", "smal")));
  assert_status(&test, girdle_club_fit_sizes(&test.call, club), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.nearest, "small");
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

static void club_fit_sizes_takes_a_size_as_a_word_where_there_are_none(void **state) {
  girdle_club *club;
  girdle_job *job;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  job = job_of(&test.call, "A1", "small");
  assert_ok(&test, girdle_job_set_measure(&test.call, job, "wrist", 145));
  assert_ok(&test, girdle_club_add_job(&test.call, club, job));
  assert_ok(&test, girdle_club_fit_sizes(&test.call, club));
  assert_ok(&test, girdle_club_add_job(&test.call, club, job_of(&test.call, "A2", "small")));
  assert_status(&test, girdle_club_fit_sizes(&test.call, club), GIRDLE_UNKNOWN);
  girdle_club_free(club);
}

/* ---- rows */

static int32_t price_of(girdle_call *call, girdle_club *club, int64_t pieces, int64_t price) {
  girdle_price_row row;
  memset(&row, 0, sizeof row);
  row.pack_pieces = pieces;
  row.price_minor = price;
  return girdle_club_add_price(call, club, &row);
}

static void club_add_price_checks_its_numbers(void **state) {
  girdle_club *club;
  const girdle_price_row *rows;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  assert_ok(&test, price_of(&test.call, club, 1, 0));
  assert_ok(&test, price_of(&test.call, club, 144, 999));
  assert_status(&test, price_of(&test.call, club, 0, 999), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "pack");
  test_again(&test);
  assert_status(&test, price_of(&test.call, club, 144, -1), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "price");
  rows = girdle_club_prices(club, &count);
  assert_int_equal(count, 2);
  assert_int_equal(rows[1].pack_pieces, 144);
  girdle_club_free(club);
}

static void club_set_item_fills_in_what_a_row_lacks(void **state) {
  static const struct {
    const char *supplier, *colour, *item, *expected;
  } rows[] = {
      {"Alder", "red", "", "R7"}, {"Alder", "red", "X", "X"}, {"Alder", "blue", "", ""}, {"Quay", "red", "", ""}};
  girdle_club *club;
  const girdle_price_row *view;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  for (size_t i = 0; i < 4; i++) {
    girdle_price_row row;
    memset(&row, 0, sizeof row);
    row.pack_pieces = 1;
    strcpy(row.supplier, rows[i].supplier);
    strcpy(row.stone.colour, rows[i].colour);
    strcpy(row.item, rows[i].item);
    assert_ok(&test, girdle_club_add_price(&test.call, club, &row));
  }
  assert_ok(&test, girdle_club_set_item(&test.call, club, "Alder", "red", "R7"));
  view = girdle_club_prices(club, &count);
  for (uint64_t i = 0; i < count; i++)
    assert_string_equal(view[i].item, rows[i].expected);
  girdle_club_free(club);
}

static void club_add_supplier_and_stock_check_their_numbers(void **state) {
  girdle_club *club;
  girdle_supplier supplier = supplier_of("Alder Street", "EUR");
  girdle_stock_row stock;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  memset(&stock, 0, sizeof stock);
  assert_ok(&test, girdle_club_new(&test.call, &club));
  assert_ok(&test, girdle_club_add_supplier(&test.call, club, &supplier));
  assert_status(&test, girdle_club_add_supplier(&test.call, club, &supplier), GIRDLE_ARGUMENT);
  assert_non_null(strstr(test.error.message, "there already"));
  strcpy(supplier.name, "Quayside");
  supplier.delivery_days = -1;
  test_again(&test);
  assert_status(&test, girdle_club_add_supplier(&test.call, club, &supplier), GIRDLE_ARGUMENT);
  girdle_club_suppliers(club, &count);
  assert_int_equal(count, 1);
  assert_ok(&test, girdle_club_add_stock(&test.call, club, &stock));
  stock.pieces = -1;
  test_again(&test);
  assert_status(&test, girdle_club_add_stock(&test.call, club, &stock), GIRDLE_ARGUMENT);
  girdle_club_stock(club, &count);
  assert_int_equal(count, 1);
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

/* ---- rates */

static void club_set_rate_reads_every_kind(void **state) {
  girdle_club *club;
  const girdle_work_rates *work;
  const girdle_quote_rates *quote;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  work = girdle_club_work_rates(club);
  quote = girdle_club_quote_rates(club);
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "adhesive film", "0.25 mm"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "Adhesive_Waste", "30 %"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "hands", "3"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "evening", "2.5 h"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "tube", "1 floz"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "margin", "12.5 %"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "tax", "8.1 %"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "labour a gross", "50.00"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "gluing days", "Tue Thu-Sat"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "post days", "Sat-Mon"));
  assert_true(work->film_mm == 0.25);
  assert_true(work->adhesive_waste == 0.3);
  assert_int_equal(work->hands, 3);
  assert_true(work->evening_s == 9000);
  assert_near(work->tube_ml, 29.5735295625, 1e-12);
  assert_int_equal(quote->margin_millionths, 125000);
  assert_int_equal(quote->tax_millionths, 81000);
  assert_int_equal(quote->labour_minor, 5000);
  assert_int_equal(quote->labour_by, GIRDLE_BY_GROSS);
  assert_int_equal(work->glue_weekdays, 2 + 8 + 16 + 32);
  assert_int_equal(work->post_weekdays, 32 + 64 + 1);
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "gluing days", "Mon, Wed,Sun"));
  assert_int_equal(work->glue_weekdays, 1 + 4 + 64);
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "labour an hour", "18.50"));
  assert_int_equal(quote->labour_minor, 1850);
  assert_int_equal(quote->labour_by, GIRDLE_BY_HOUR);
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

/* Every name that is offered is known, and says what it wants. */
static void club_set_rate_knows_every_name_it_offers(void **state) {
  static const char *const values[] = {"0.3 mm", "10 %",  "100 %", "60 s", "30 ml",
                                       "3",      "12.00", "yes",   "EUR",  "Mon-Fri"};
  uint64_t count;
  const char *const *names = girdle_rate_names(&count);
  girdle_club *club;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  for (uint64_t i = 0; i < count; i++) {
    int taken = 0;
    for (size_t k = 0; k < sizeof values / sizeof values[0]; k++) {
      int32_t status;
      test_again(&test);
      status = girdle_club_set_rate(&test.call, club, names[i], values[k]);
      assert_string_not_equal(test.error.field, "rate");
      taken += status == GIRDLE_OK;
    }
    if (!taken) print_error("no value suits '%s'\n", names[i]);
    assert_true(taken > 0);
    test_again(&test);
    assert_int_not_equal(girdle_club_set_rate(&test.call, club, names[i], "what?"), GIRDLE_OK);
    assert_true(test.error.message[0] && test.error.field[0]);
  }
  girdle_club_free(club);
}

static void club_set_rate_refuses(void **state) {
  static const struct {
    const char *name, *value;
    int32_t status;
  } cases[] = {
      {"adhesive flim", "0.3 mm", GIRDLE_UNKNOWN},
      {"adhesive film", "0.3", GIRDLE_SYNTAX},
      {"adhesive film", "-1 mm", GIRDLE_ARGUMENT},
      {"hands", "0", GIRDLE_ARGUMENT},
      {"hands", "1.5", GIRDLE_SYNTAX},
      {"margin", "100 %", GIRDLE_ARGUMENT},
      {"tax", "8.12345 %", GIRDLE_SYNTAX},
      {"tax", "8.1", GIRDLE_SYNTAX},
      {"labour a gross", "-5.00", GIRDLE_ARGUMENT},
      {"labour a gross", "5,00", GIRDLE_SYNTAX},
      {"split", "perhaps", GIRDLE_SYNTAX},
      {"gluing days", "Mon-Tue-Wed", GIRDLE_SYNTAX},
      {"gluing days", "", GIRDLE_SYNTAX},
      {"gluing days", "Mo", GIRDLE_SYNTAX},
      {"evening", "99 days", GIRDLE_ARGUMENT},
      {"spares", "120 %", GIRDLE_ARGUMENT},
  };
  girdle_club *club;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_again(&test);
    assert_status(&test, girdle_club_set_rate(&test.call, club, cases[i].name, cases[i].value), cases[i].status);
    assert_true(test.error.message[0] != '\0');
    assert_true(test.error.field[0] != '\0');
  }
  test_again(&test);
  assert_status(&test, girdle_club_set_rate(&test.call, club, "adhesive flim", "0.3 mm"), GIRDLE_UNKNOWN);
  assert_string_equal(test.error.nearest, "adhesive film");
  girdle_club_free(club);
}

/* The yen has no decimals (ISO 4217), so a sum means something else once the currency is known. */
static void club_set_rate_takes_the_currency_before_or_after_the_sums(void **state) {
  girdle_club *club;
  girdle_supplier yen = supplier_of("Kitami Beads", "JPY"), dinar = supplier_of("Nuwair", "KWD");
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "labour a gross", "5000"));
  assert_int_equal(girdle_club_quote_rates(club)->labour_minor, 500000);
  assert_ok(&test, girdle_club_add_supplier(&test.call, club, &yen));
  assert_int_equal(girdle_club_quote_rates(club)->labour_minor, 5000);
  assert_string_equal(girdle_club_quote_rates(club)->currency.code, "JPY");
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "consumables", "300 JPY"));
  assert_status(&test, girdle_club_add_supplier(&test.call, club, &dinar), GIRDLE_ARGUMENT);
  assert_non_null(strstr(test.error.message, "JPY"));
  girdle_club_free(club);

  assert_ok(&test, girdle_club_new(&test.call, &club));
  test_again(&test);
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "consumables", "4.250 KWD"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "adhesive a tube", "2.5"));
  assert_int_equal(girdle_club_quote_rates(club)->consumables_minor, 4250);
  assert_int_equal(girdle_club_quote_rates(club)->adhesive_minor, 2500);
  girdle_club_free(club);

  assert_ok(&test, girdle_club_new(&test.call, &club)); /* every sum is kept apart until then */
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "labour a stone", "0.12"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "adhesive a tube", "7.90"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "consumables", "3.50"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "tools", "21"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "currency", "KWD"));
  assert_int_equal(girdle_club_quote_rates(club)->labour_minor, 120);
  assert_int_equal(girdle_club_quote_rates(club)->adhesive_minor, 7900);
  assert_int_equal(girdle_club_quote_rates(club)->consumables_minor, 3500);
  assert_int_equal(girdle_club_quote_rates(club)->tools_minor, 21000);
  assert_int_equal(girdle_club_quote_rates(club)->extra_gross_minor, 0);
  girdle_club_free(club);

  assert_ok(&test, girdle_club_new(&test.call, &club));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "consumables", "4.25"));
  assert_status(&test, girdle_club_add_supplier(&test.call, club, &yen), GIRDLE_SYNTAX); /* no hundredths of a yen */
  assert_int_equal(girdle_club_quote_rates(club)->consumables_minor, 425);
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

/* Weighed, the stones of every costume weigh what the scale said, in any colour. */
static void club_set_rate_takes_a_weighed_gross(void **state) {
  girdle_club *club;
  girdle_job *job;
  girdle_stone red, small;
  girdle_zone zone;
  girdle_tally *tally;
  girdle_tally_line total;
  const girdle_weighing *weighings;
  const int64_t pieces = 288;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_stone_parse(&test.call, "ss20 red matt", &red));
  assert_ok(&test, girdle_stone_parse(&test.call, "ss16", &small));
  assert_ok(&test, girdle_club_new(&test.call, &club));
  job = job_of(&test.call, "A1", "");
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "hem");
  zone.already = &red;
  zone.already_pieces = &pieces;
  zone.already_count = 1;
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  strcpy(zone.name, "cuff");
  zone.already = &small;
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  assert_ok(&test, girdle_club_add_job(&test.call, club, job));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "gross of ss20", "9 g"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "Gross of 20SS", "7.2 g")); /* weighed better */
  weighings = girdle_club_weighings(club, &count);
  assert_int_equal(count, 1);
  assert_near(weighings[0].stone.mass_mg[GIRDLE_NOMINAL], 50, 1e-12);
  assert_near(weighings[0].model_off, red.mass_mg[GIRDLE_NOMINAL] / 50 - 1, 1e-12);
  assert_ok(&test, girdle_club_fit_sizes(&test.call, club));
  assert_ok(&test, girdle_job_tally(&test.call, job, &tally));
  girdle_tally_total(tally, &total);
  assert_near(total.mass_mg[GIRDLE_NOMINAL], 288 * (50 + small.mass_mg[GIRDLE_NOMINAL]), 1e-6);
  assert_near(total.mass_mg[GIRDLE_MOST], 288 * (50 + small.mass_mg[GIRDLE_MOST]), 1e-6);
  assert_int_equal(girdle_tally_lines(tally, &count)[0].stone.flags, GIRDLE_MASS_WEIGHED);
  girdle_tally_free(tally);
  assert_status(&test, girdle_club_set_rate(&test.call, club, "gross of ss20", "7.2"), GIRDLE_SYNTAX);
  test_again(&test);
  assert_status(&test, girdle_club_set_rate(&test.call, club, "gross of ss41", "7.2 g"), GIRDLE_UNKNOWN);
  test_again(&test);
  assert_status(&test, girdle_club_set_rate(&test.call, club, "gross of", "7.2 g"), GIRDLE_UNKNOWN);
  test_again(&test);
  assert_status(&test, girdle_club_set_rate(&test.call, club, "gross of ss20", "-1 g"), GIRDLE_ARGUMENT);
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

static int32_t whole_club(girdle_call *call) {
  girdle_club *club = NULL;
  girdle_supplier supplier = supplier_of("Alder Street", "EUR");
  girdle_price_row price;
  int32_t status = girdle_club_new(call, &club);
  memset(&price, 0, sizeof price);
  price.pack_pieces = 144;
  for (int i = 0; i < 10 && !status; i++) {
    girdle_job_head head;
    girdle_job *job = NULL;
    girdle_job_head_init(&head, sizeof head);
    snprintf(head.tag, sizeof head.tag, "T%d", i);
    strcpy(head.size, "128");
    snprintf(supplier.name, sizeof supplier.name, "supplier %d", i);
    status = girdle_job_new(call, &head, &job);
    if (!status) status = girdle_club_add_job(call, club, job);
    if (status) {
      girdle_job_free(job);
      break;
    }
    status = girdle_club_set_size(call, club, "128", head.tag, 100 + i);
    if (!status) status = girdle_club_add_supplier(call, club, &supplier);
    if (!status) status = girdle_club_add_price(call, club, &price);
  }
  if (!status) status = girdle_club_set_rate(call, club, "gross of ss20", "7 g");
  if (!status) status = girdle_club_fit_sizes(call, club);
  girdle_club_free(club);
  return status;
}

static void club_survives_every_refused_allocation(void **state) {
  (void)state;
  test_sweep_allocations(whole_club);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(club_add_job_takes_it_over_and_keeps_tags_apart),
      cmocka_unit_test(club_fit_sizes_fills_in_what_a_wearer_lacks),
      cmocka_unit_test(club_fit_sizes_takes_a_size_as_a_word_where_there_are_none),
      cmocka_unit_test(club_add_price_checks_its_numbers),
      cmocka_unit_test(club_set_item_fills_in_what_a_row_lacks),
      cmocka_unit_test(club_add_supplier_and_stock_check_their_numbers),
      cmocka_unit_test(club_set_rate_reads_every_kind),
      cmocka_unit_test(club_set_rate_knows_every_name_it_offers),
      cmocka_unit_test(club_set_rate_refuses),
      cmocka_unit_test(club_set_rate_takes_the_currency_before_or_after_the_sums),
      cmocka_unit_test(club_set_rate_takes_a_weighed_gross),
      cmocka_unit_test(club_survives_every_refused_allocation),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
