/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static girdle_currency currency(const char *code) {
  girdle_currency made;
  assert_int_equal(girdle_currency_parse(NULL, code, &made), GIRDLE_OK);
  return made;
}

static void currency_parse_names_the_nearest(void **state) {
  test_call test;
  girdle_currency made;
  test_begin(&test);
  (void)state;
  assert_status(&test, girdle_currency_parse(&test.call, "EUX", &made), GIRDLE_UNKNOWN);
  assert_non_null(strstr(test.error.message, "EUX"));
  assert_true(test.error.nearest[0] != '\0');
  assert_int_equal(girdle_currency_parse(NULL, "eur", &made), GIRDLE_UNKNOWN);
  assert_int_equal(girdle_currency_parse(NULL, "", &made), GIRDLE_UNKNOWN);
}

static void money_parse_reads_by_the_exponent(void **state) {
  static const struct {
    const char *code, *text;
    int64_t minor;
  } cases[] = {{"EUR", "12.50", 1250},
               {"EUR", "12.5", 1250},
               {"EUR", "12", 1200},
               {"EUR", "0.05 EUR", 5},
               {"EUR", "-3.10", -310},
               {"JPY", "1250", 1250},
               {"JPY", "1250 JPY", 1250},
               {"KWD", "1.005", 1005},
               {"KWD", "1.5 KWD", 1500},
               {"CLF", "2.0001", 20001},
               {"EUR", "92233720368547758.07", INT64_MAX},
               {"EUR", "-92233720368547758.08", INT64_MIN},
               {"EUR", "007.10", 710}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_currency of = currency(cases[i].code);
    int64_t minor = 42;
    assert_ok(&test, girdle_money_parse(&test.call, cases[i].text, &of, &minor));
    assert_int_equal(minor, cases[i].minor);
  }
}

static void money_parse_refuses_with_an_example(void **state) {
  static const char *const bad[] = {"",         "12,50", "1,250.00", "12.505", ".50",    "12.",      "12.50 USD",
                                    "12.50EUR", "1e3",   "12.5.0",   "twelve", "--1",    " 12",      "12.50 EUR ",
                                    "nan",      "inf",   "0x10",     "+5",     "12.50 ", "12.50 eur"};
  girdle_currency euro = currency("EUR");
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    int64_t minor = 42;
    test_again(&test);
    assert_status(&test, girdle_money_parse(&test.call, bad[i], &euro, &minor), GIRDLE_SYNTAX);
    assert_non_null(strstr(test.error.message, "12.50 EUR"));
    assert_int_equal(minor, 42);
  }
}

static void money_parse_refuses_what_does_not_fit(void **state) {
  girdle_currency euro = currency("EUR");
  int64_t minor = 42;
  (void)state;
  assert_int_equal(girdle_money_parse(NULL, "92233720368547758.08", &euro, &minor), GIRDLE_OVERFLOW);
  assert_int_equal(girdle_money_parse(NULL, "-92233720368547758.09", &euro, &minor), GIRDLE_OVERFLOW);
  assert_int_equal(girdle_money_parse(NULL, "922337203685477580", &euro, &minor), GIRDLE_OVERFLOW);
  assert_int_equal(minor, 42);
}

static void money_text_writes_what_parse_reads(void **state) {
  static const char *const codes[] = {"JPY", "EUR", "KWD", "CLF"};
  static const int64_t amounts[] = {0, 1, -1, 9, 10, 99, 100, 1250, -1250, 123456789, INT64_MAX, INT64_MIN};
  (void)state;
  for (size_t c = 0; c < 4; c++)
    for (size_t i = 0; i < sizeof amounts / sizeof amounts[0]; i++) {
      girdle_currency of = currency(codes[c]);
      char text[48];
      int64_t back;
      uint64_t length = girdle_money_text(amounts[i], &of, (int32_t)(i & 1), text, sizeof text);
      assert_int_equal(length, strlen(text));
      assert_int_equal(girdle_money_parse(NULL, text, &of, &back), GIRDLE_OK);
      assert_int_equal(back, amounts[i]);
    }
}

static void money_text_pads_and_cuts(void **state) {
  girdle_currency euro = currency("EUR"), yen = currency("JPY"), dinar = currency("KWD");
  char text[32], small[4];
  (void)state;
  girdle_money_text(5, &euro, 1, text, sizeof text);
  assert_string_equal(text, "0.05 EUR");
  girdle_money_text(-1250, &euro, 0, text, sizeof text);
  assert_string_equal(text, "-12.50");
  girdle_money_text(1250, &yen, 1, text, sizeof text);
  assert_string_equal(text, "1250 JPY");
  girdle_money_text(1, &dinar, 0, text, sizeof text);
  assert_string_equal(text, "0.001");
  assert_int_equal(girdle_money_text(123456, &euro, 0, small, sizeof small), 7);
  assert_string_equal(small, "123");
  assert_int_equal(girdle_money_text(123456, &euro, 0, NULL, 0), 7);
}

static void money_share_refuses_what_does_not_fit(void **state) {
  int64_t minor = 42;
  (void)state;
  assert_int_equal(girdle_money_share(NULL, INT64_MAX, 2, 1, &minor), GIRDLE_OVERFLOW);
  assert_int_equal(girdle_money_share(NULL, INT64_MAX, INT64_MAX, 1, &minor), GIRDLE_OVERFLOW);
  assert_int_equal(girdle_money_share(NULL, 1, 1, 0, &minor), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_money_share(NULL, 1, 1, -5, &minor), GIRDLE_ARGUMENT);
  assert_int_equal(minor, 42);
}

static void money_share_is_exact_where_products_need_two_words(void **state) {
  int64_t minor;
  (void)state;
  assert_int_equal(girdle_money_share(NULL, INT64_MAX, INT64_MAX, INT64_MAX, &minor), GIRDLE_OK);
  assert_int_equal(minor, INT64_MAX);
  assert_int_equal(girdle_money_share(NULL, INT64_MAX, -1000000, 2000000, &minor), GIRDLE_OK);
  assert_int_equal(minor, -(INT64_MAX / 2) - 1); /* ...903.5 goes to the even ...904 */
  assert_int_equal(girdle_money_share(NULL, 9000000000000000001, 3000000, 1000000000, &minor), GIRDLE_OK);
  assert_int_equal(minor, 27000000000000000);
  assert_int_equal(girdle_money_share(NULL, INT64_MIN, 1, 2, &minor), GIRDLE_OK);
  assert_int_equal(minor, INT64_MIN / 2);
}

static void money_split_never_loses_a_unit(void **state) {
  uint64_t seed = 11;
  (void)state;
  for (int round = 0; round < 20000; round++) {
    int64_t weights[12], parts[12], sum = 0, weight = 0,
                                    amount = (int64_t)(test_random(&seed) >> (1 + test_random(&seed) % 62));
    uint64_t count = 1 + test_random(&seed) % 12;
    if (test_random(&seed) & 1) amount = -amount;
    for (uint64_t i = 0; i < count; i++) {
      weights[i] = (int64_t)(test_random(&seed) % (test_random(&seed) % 4 ? 50 : 1000000000000));
      weight += weights[i];
    }
    if (weight == 0) weights[0] = weight = 1;
    assert_int_equal(girdle_money_split(NULL, amount, weights, count, parts), GIRDLE_OK);
    for (uint64_t i = 0; i < count; i++) {
      double fair = (double)amount * ((double)weights[i] / (double)weight);
      sum += parts[i];
      assert_near((double)parts[i], fair, 1 + 1e-9 * fabs(fair));
      assert_true(weights[i] || parts[i] == 0);
    }
    assert_int_equal(sum, amount);
  }
}

static void money_split_gives_ties_to_the_earlier(void **state) {
  static const int64_t alike[] = {1, 1, 1};
  int64_t parts[3];
  (void)state;
  assert_int_equal(girdle_money_split(NULL, 100, alike, 3, parts), GIRDLE_OK);
  assert_int_equal(parts[0], 34);
  assert_int_equal(parts[1], 33);
  assert_int_equal(parts[2], 33);
  assert_int_equal(girdle_money_split(NULL, -101, alike, 3, parts), GIRDLE_OK);
  assert_int_equal(parts[0], -34);
  assert_int_equal(parts[1], -34);
  assert_int_equal(parts[2], -33);
}

static void money_split_refuses_bad_weights(void **state) {
  static const int64_t none[] = {0, 0}, below[] = {5, -1}, large[] = {INT64_MAX, 1};
  int64_t parts[2] = {7, 7};
  (void)state;
  assert_int_equal(girdle_money_split(NULL, 100, none, 2, parts), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_money_split(NULL, 100, none, 0, parts), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_money_split(NULL, 100, below, 2, parts), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_money_split(NULL, 100, large, 2, parts), GIRDLE_OVERFLOW);
  assert_int_equal(parts[0], 7);
}

/* 52 g of stones of which twenty weigh 1.15 g are 904.3. */
static void stock_weighed_counts_by_twenty_counted_stones(void **state) {
  static const struct {
    double mass_mg, counted_mg;
    int64_t counted, pieces;
  } known[] = {{52000, 1150, 20, 904}, {1150, 1150, 20, 20}, {1149, 1150, 20, 19}, {0, 1150, 20, 0},
               {3000, 100, 1, 30},     {300, 0.1, 1, 3000},  {7, 10, 20, 14}};
  static const struct {
    double mass_mg, counted_mg;
    int64_t counted;
  } bad[] = {{-1, 10, 20}, {NAN, 10, 20}, {10, 0, 20}, {10, NAN, 20}, {10, INFINITY, 20}, {10, 10, 0}};
  int64_t pieces;
  (void)state;
  for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
    assert_int_equal(girdle_stock_weighed(NULL, known[i].mass_mg, known[i].counted, known[i].counted_mg, &pieces),
                     GIRDLE_OK);
    assert_int_equal(pieces, known[i].pieces);
  }
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
    assert_int_equal(girdle_stock_weighed(NULL, bad[i].mass_mg, bad[i].counted, bad[i].counted_mg, &pieces),
                     GIRDLE_ARGUMENT);
  assert_int_equal(girdle_stock_weighed(NULL, 1e12, 1000000, 1e-3, &pieces), GIRDLE_LIMIT);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(currency_parse_names_the_nearest),
      cmocka_unit_test(money_parse_reads_by_the_exponent),
      cmocka_unit_test(money_parse_refuses_with_an_example),
      cmocka_unit_test(money_parse_refuses_what_does_not_fit),
      cmocka_unit_test(money_text_writes_what_parse_reads),
      cmocka_unit_test(money_text_pads_and_cuts),
      cmocka_unit_test(money_share_refuses_what_does_not_fit),
      cmocka_unit_test(money_share_is_exact_where_products_need_two_words),
      cmocka_unit_test(money_split_never_loses_a_unit),
      cmocka_unit_test(money_split_gives_ties_to_the_earlier),
      cmocka_unit_test(money_split_refuses_bad_weights),
      cmocka_unit_test(stock_weighed_counts_by_twenty_counted_stones),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
