/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

/* Money, packs, chances and dates against published values. */

/* ISO 4217, minor units as in the public data set derived from the maintenance agency's list. */
static void currency_parse_knows_iso_4217_exponents(void **state) {
  static const struct {
    const char *code;
    int32_t exponent;
  } published[] = {{"USD", 2}, {"EUR", 2}, {"GBP", 2}, {"CAD", 2}, {"AUD", 2}, {"CHF", 2}, {"SEK", 2},
                   {"INR", 2}, {"CNY", 2}, {"MXN", 2}, {"JPY", 0}, {"KRW", 0}, {"CLP", 0}, {"ISK", 0},
                   {"VND", 0}, {"KWD", 3}, {"BHD", 3}, {"JOD", 3}, {"OMR", 3}, {"TND", 3}, {"IQD", 3}};
  (void)state;
  for (size_t i = 0; i < sizeof published / sizeof published[0]; i++) {
    girdle_currency currency;
    assert_int_equal(girdle_currency_parse(NULL, published[i].code, &currency), GIRDLE_OK);
    assert_int_equal(currency.exponent, published[i].exponent);
    assert_string_equal(currency.code, published[i].code);
  }
}

/* From memory, not seen in the list: the two codes with four decimals. */
static void currency_parse_knows_four_decimals_from_memory(void **state) {
  girdle_currency currency;
  (void)state;
  assert_int_equal(girdle_currency_parse(NULL, "CLF", &currency), GIRDLE_OK);
  assert_int_equal(currency.exponent, 4);
  assert_int_equal(girdle_currency_parse(NULL, "UYW", &currency), GIRDLE_OK);
  assert_int_equal(currency.exponent, 4);
}

/* NIST SP 811 (2008), appendix B.7.1: half goes to the even digit, on the decimal digits and in one step. */
static void money_share_rounds_like_sp_811(void **state) {
  static const struct {
    int64_t digits, divisor, rounded;
  } published[] = {{69749515, 100000, 697}, {69749515, 1000, 69750}, {69749515, 10, 6974952}, {69749505, 10, 6974950}};
  (void)state;
  for (size_t i = 0; i < sizeof published / sizeof published[0]; i++) {
    int64_t minor;
    assert_int_equal(girdle_money_share(NULL, published[i].digits, 1, published[i].divisor, &minor), GIRDLE_OK);
    assert_int_equal(minor, published[i].rounded);
    assert_int_equal(girdle_money_share(NULL, -published[i].digits, 1, published[i].divisor, &minor), GIRDLE_OK);
    assert_int_equal(minor, -published[i].rounded);
  }
}

/* A university chemistry course's rounding rules; ISO 80000-1 annex B, rule A (from memory). */
static void money_share_rounds_like_the_textbooks(void **state) {
  static const struct {
    int64_t digits, divisor, rounded;
  } published[] = {{665, 10, 66},
                   {635, 10, 64},
                   {2745, 10, 274},
                   {2735, 10, 274},
                   {305, 10, 30},
                   {12223, 100, 122},
                   {12251, 100, 123},
                   {12275, 100, 123},
                   {1225, 10, 122},
                   {1235, 10, 124},
                   {2675, 10, 268} /* as a double it lies below the half */,
                   {25, 10, 2},
                   {15, 10, 2},
                   {5, 10, 0}};
  (void)state;
  for (size_t i = 0; i < sizeof published / sizeof published[0]; i++) {
    int64_t minor;
    assert_int_equal(girdle_money_share(NULL, published[i].digits, 1, published[i].divisor, &minor), GIRDLE_OK);
    assert_int_equal(minor, published[i].rounded);
  }
}

/* Largest remainder (Hamilton), and its paradox: D. Saari, American Mathematical Monthly, December 1978, as cited in
 * net.math (1982). With 51 seats instead of 49 the smallest party loses one. */
static void money_split_agrees_with_hamilton(void **state) {
  static const int64_t weights[] = {3, 7, 90};
  int64_t parts[3];
  (void)state;
  assert_int_equal(girdle_money_split(NULL, 49, weights, 3, parts), GIRDLE_OK);
  assert_true(parts[0] == 2 && parts[1] == 3 && parts[2] == 44);
  assert_int_equal(girdle_money_split(NULL, 51, weights, 3, parts), GIRDLE_OK);
  assert_true(parts[0] == 1 && parts[1] == 4 && parts[2] == 46);
}

/* The gross is 144; about 50 a gross for hired labour: common practice, no source. */
static void labour_by_gross_takes_parts_of_a_gross(void **state) {
  int64_t pieces, minor;
  (void)state;
  assert_int_equal(girdle_pieces_parse(NULL, "2 1/2 gross", &pieces), GIRDLE_OK);
  assert_int_equal(girdle_labour_by_gross(NULL, pieces, 5000, &minor), GIRDLE_OK);
  assert_int_equal(minor, 12500);
}

/* ---- packs */

/* The largest number that packs cannot make up exactly: MathWorld, "Frobenius Number"; with two packs ab - a - b. Every
 * piece costs the same, so the cheapest cover leaves nothing over exactly where the need can be made up. */
static void packs_cheapest_agrees_with_frobenius_numbers(void **state) {
  static const struct {
    int64_t packs[3], largest;
    uint64_t count;
  } published[] = {{{6, 9, 20}, 43, 3}, {{4, 9, 0}, 23, 2}, {{9, 20, 0}, 151, 2}, {{2, 5, 0}, 3, 2}};
  (void)state;
  for (size_t i = 0; i < sizeof published / sizeof published[0]; i++) {
    int64_t got[3], cost;
    for (int64_t need = published[i].largest; need < published[i].largest + 60; need++) {
      assert_int_equal(girdle_packs_cheapest(NULL, need, published[i].packs, published[i].packs, NULL,
                                             published[i].count, got, &cost),
                       GIRDLE_OK);
      if (need == published[i].largest)
        assert_true(cost > need);
      else
        assert_int_equal(cost, need);
    }
  }
}

/* Change for an amount with the fewest coins 1, 5, 10, 25 and with 1, 3, 4, where taking the largest first fails (6 is
 * 3 + 3): the coin problem, common textbook example. */
static void packs_cheapest_finds_fewest_coins(void **state) {
  static const int64_t coins[] = {1, 3, 4}, each[] = {1, 1, 1};
  int64_t got[3], cost;
  (void)state;
  assert_int_equal(girdle_packs_cheapest(NULL, 6, coins, each, NULL, 3, got, &cost), GIRDLE_OK);
  assert_int_equal(cost, 2);
  assert_int_equal(got[1], 2);
}

/* Unbounded knapsack with two limits, as on rosettacode.org: panacea, ichor and gold, of which no more than 25 of
 * weight and 0.25 of volume can be carried, are worth 54,500 at the most, in four ways. Gold weighs 2, so 11 of it
 * leave room for what the four ways hold beside it; then so much worth takes 0.247 of volume at least, and more does
 * not fit. */
static void packs_cheapest_agrees_with_the_knapsack(void **state) {
  static const int64_t worth[] = {30, 18, 25}, volume[] = {25, 15, 2}, at_most[] = {-1, -1, 11};
  static const double weight[] = {0.3, 0.2, 2.0};
  int64_t got[3], cost;
  double weighs = 0;
  (void)state;
  assert_int_equal(girdle_packs_cheapest(NULL, 545, worth, volume, at_most, 3, got, &cost), GIRDLE_OK);
  assert_int_equal(cost, 247);
  assert_true(got[0] == 9 && got[1] == 0 && got[2] == 11); /* of the four that with the fewest packs */
  for (int i = 0; i < 3; i++)
    weighs += (double)got[i] * weight[i];
  assert_true(weighs <= 25);
  assert_int_equal(girdle_packs_cheapest(NULL, 546, worth, volume, at_most, 3, got, &cost), GIRDLE_OK);
  assert_true(cost > 250);
}

/* Cutting rolls of 100 into 97 of 45, 610 of 36, 395 of 31 and 211 of 14 takes 453 rolls: Chvatal, Linear Programming
 * (1983), chapter 13. Not fewer: let them be worth 1/2, 1/2, 1/4 and 0; if no roll is worth more than 1, there are at
 * least 452.25. The cheapest cover of a worth of 5/4, by length, tells that none is. */
static void packs_cheapest_proves_the_least_number_of_rolls(void **state) {
  static const int64_t quarters[] = {2, 2, 1}, length[] = {45, 36, 31}, wanted[] = {97, 610, 395, 211};
  static const int64_t cut[4][5] = {{48, 2, 0, 0, 0}, {1, 1, 1, 0, 1}, {198, 0, 1, 2, 0}, {206, 0, 2, 0, 2}};
  int64_t got[3], shortest, made[4] = {0}, rolls = 0, worth = 0;
  (void)state;
  assert_int_equal(girdle_packs_cheapest(NULL, 5, quarters, length, NULL, 3, got, &shortest), GIRDLE_OK);
  assert_true(shortest > 100);
  assert_int_equal(girdle_packs_cheapest(NULL, 4, quarters, length, NULL, 3, got, &shortest), GIRDLE_OK);
  assert_true(shortest <= 100);
  for (int i = 0; i < 3; i++)
    worth += wanted[i] * quarters[i];
  assert_int_equal((worth + 3) / 4, 453);
  for (int roll = 0; roll < 4; roll++) { /* and so many do */
    rolls += cut[roll][0];
    for (int i = 0; i < 4; i++)
      made[i] += cut[roll][0] * cut[roll][i + 1];
  }
  assert_int_equal(rolls, 453);
  for (int i = 0; i < 4; i++)
    assert_true(made[i] >= wanted[i]);
}

/* ---- chances */

/* Abramowitz and Stegun, table 26.5. */
static void normal_quantile_agrees_with_tables(void **state) {
  static const double published[][2] = {{.75, 0.6744897502},  {.80, 0.8416212336},  {.90, 1.2815515655},
                                        {.95, 1.6448536270},  {.975, 1.9599639845}, {.99, 2.3263478740},
                                        {.995, 2.5758293035}, {.999, 3.0902323062}};
  (void)state;
  for (size_t i = 0; i < sizeof published / sizeof published[0]; i++) {
    assert_near(girdle_normal_quantile(published[i][0]), published[i][1], 6e-11);
    assert_near(girdle_normal_quantile(1 - published[i][0]), -published[i][1], 6e-11);
  }
  assert_true(girdle_normal_quantile(0.5) == 0);
  assert_true(isnan(girdle_normal_quantile(0)) && isnan(girdle_normal_quantile(1)) &&
              isnan(girdle_normal_quantile(NAN)));
}

/* Standard tables of Student's t, two-sided 5 %. With one degree of freedom it is tan(pi (p - 1/2)), exactly. */
static void student_quantile_agrees_with_tables(void **state) {
  static const double published[][2] = {{1, 12.7062}, {4, 2.7764}, {9, 2.2622}, {29, 2.0452}};
  (void)state;
  for (size_t i = 0; i < sizeof published / sizeof published[0]; i++)
    assert_near(girdle_student_quantile(0.975, published[i][0]), published[i][1], 5e-5);
  for (double p = 0.55; p < 1; p += 0.05)
    assert_near(girdle_student_quantile(p, 1), tan(acos(-1) * (p - 0.5)), 1e-9 * fabs(tan(acos(-1) * (p - 0.5))));
  assert_near(girdle_student_quantile(0.975, 1e9), 1.9599639845, 1e-8);
  assert_true(isnan(girdle_student_quantile(0.9, 0)));
}

/* Standard tables of the binomial distribution. */
static void binomial_below_agrees_with_tables(void **state) {
  static const struct {
    int64_t trials;
    double chance;
    int64_t successes;
    double published, within;
  } table[] = {{5, .1, 1, .91854, 1e-10}, {10, .5, 3, .171875, 1e-12}, {20, .05, 3, .984098, 5e-7},
               {14, .55, 9, .8328, 5e-5}, {14, .55, 3, .0114, 5e-5},   {20, .1, 4, .956826, 5e-7}};
  (void)state;
  for (size_t i = 0; i < sizeof table / sizeof table[0]; i++)
    assert_near(girdle_binomial_below(table[i].trials, table[i].chance, table[i].successes), table[i].published,
                table[i].within);
}

/* The newsvendor of the encyclopedias: price 7, cost 5, demand normal (50, 20): the critical ratio is 2/7, the best
 * quantity 38.68. */
static void worthwhile_confidence_agrees_with_the_newsvendor(void **state) {
  double ratio;
  (void)state;
  assert_int_equal(girdle_worthwhile_confidence(NULL, 7 - 5, 5, &ratio), GIRDLE_OK);
  assert_near(ratio, 0.285714, 5e-7);
  assert_near(50 + 20 * girdle_normal_quantile(ratio), 38.681, 5e-4);
}

/* ---- dates */

/* ISO 8601 week dates, as in the encyclopedias' notes on week notation. */
static void date_week_agrees_with_iso_8601(void **state) {
  static const struct {
    const char *date;
    int64_t year;
    int32_t week, weekday;
  } published[] = {{"2005-01-01", 2004, 53, 6}, {"2006-12-31", 2006, 52, 7}, {"2007-01-01", 2007, 1, 1},
                   {"2008-12-29", 2009, 1, 1},  {"2010-01-03", 2009, 53, 7}, {"2019-12-30", 2020, 1, 1}};
  (void)state;
  for (size_t i = 0; i < sizeof published / sizeof published[0]; i++) {
    int64_t day, year;
    int32_t week;
    assert_int_equal(girdle_date_parse(NULL, published[i].date, &day), GIRDLE_OK);
    girdle_date_week(day, &year, &week);
    assert_int_equal(year, published[i].year);
    assert_int_equal(week, published[i].week);
    assert_int_equal(girdle_date_weekday(day), published[i].weekday);
  }
}

/* 400 Gregorian years are 146,097 days, a whole number of weeks; 71 of 400 years have 53 weeks; 4 January always lies
 * in week 1. */
static void date_week_counts_the_long_years(void **state) {
  int64_t first, end, year;
  int32_t week, long_years = 0;
  (void)state;
  girdle_date_parse(NULL, "2000-01-01", &first);
  girdle_date_parse(NULL, "2400-01-01", &end);
  assert_int_equal(end - first, 146097);
  for (int64_t at = 2000; at < 2400; at++) {
    char text[16];
    int64_t day;
    snprintf(text, sizeof text, "%d-12-28", (int)at); /* always in the last week */
    girdle_date_parse(NULL, text, &day);
    girdle_date_week(day, &year, &week);
    assert_int_equal(year, at);
    long_years += week == 53;
    snprintf(text, sizeof text, "%d-01-04", (int)at);
    girdle_date_parse(NULL, text, &day);
    girdle_date_week(day, &year, &week);
    assert_int_equal(year, at);
    assert_int_equal(week, 1);
  }
  assert_int_equal(long_years, 71);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(currency_parse_knows_iso_4217_exponents),
      cmocka_unit_test(currency_parse_knows_four_decimals_from_memory),
      cmocka_unit_test(money_share_rounds_like_sp_811),
      cmocka_unit_test(money_share_rounds_like_the_textbooks),
      cmocka_unit_test(money_split_agrees_with_hamilton),
      cmocka_unit_test(labour_by_gross_takes_parts_of_a_gross),
      cmocka_unit_test(packs_cheapest_agrees_with_frobenius_numbers),
      cmocka_unit_test(packs_cheapest_finds_fewest_coins),
      cmocka_unit_test(packs_cheapest_agrees_with_the_knapsack),
      cmocka_unit_test(packs_cheapest_proves_the_least_number_of_rolls),
      cmocka_unit_test(normal_quantile_agrees_with_tables),
      cmocka_unit_test(student_quantile_agrees_with_tables),
      cmocka_unit_test(binomial_below_agrees_with_tables),
      cmocka_unit_test(worthwhile_confidence_agrees_with_the_newsvendor),
      cmocka_unit_test(date_week_agrees_with_iso_8601),
      cmocka_unit_test(date_week_counts_the_long_years),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
