/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

typedef struct desk {
  girdle_work work;
  girdle_quote_input input;
  girdle_quote_rates rates;
} desk;

static void open_desk(desk *at) {
  memset(&at->work, 0, sizeof at->work);
  girdle_quote_input_init(&at->input, sizeof at->input);
  girdle_quote_rates_init(&at->rates, sizeof at->rates);
  at->input.work = &at->work;
}

/* A desk for each test, opened before it: *state is the desk. */
static int desk_setup(void **state) {
  static desk at;
  open_desk(&at);
  *state = &at;
  return 0;
}

static girdle_quote quote_of(const desk *at) {
  girdle_quote quote;
  test_call test;
  test_begin(&test);
  assert_ok(&test, girdle_quote_make(&test.call, &at->input, &at->rates, &quote));
  return quote;
}

/* The amount of the line with this label; INT64_MIN when there is none. */
static int64_t line_of(const girdle_quote *quote, const char *label) {
  for (uint64_t i = 0; i < quote->line_count; i++)
    if (strcmp(quote->lines[i].label, label) == 0) return quote->lines[i].amount_minor;
  return INT64_MIN;
}

static void quote_make_goes_from_cost_to_total(void **state) {
  desk *at = *state;
  girdle_quote quote;
  at->input.stones = 1500;
  at->input.materials_minor = 6240;
  at->input.shipping_minor = 310;
  at->work.tube_millionths = 250000;
  at->work.minutes = 300;
  at->rates.adhesive_minor = 980;
  at->rates.consumables_minor = 400;
  at->rates.labour_minor = 2500;
  at->rates.overhead_millionths = 100000;
  at->rates.margin_millionths = 200000;
  at->rates.tax_millionths = 190000;
  at->rates.deposit_millionths = 500000;
  quote = quote_of(at);
  assert_int_equal(line_of(&quote, "Stones"), 6240);
  assert_int_equal(line_of(&quote, "Shipping"), 310);
  assert_int_equal(line_of(&quote, "Adhesive"), 245);
  assert_int_equal(line_of(&quote, "Consumables"), 400);
  assert_int_equal(line_of(&quote, "Labour"), 26042);  /* 1500 / 144 x 25.00 = 260.41666... */
  assert_int_equal(line_of(&quote, "Overhead"), 3324); /* 10 % of 332.37 */
  assert_int_equal(quote.cost_minor, 36561);
  for (uint64_t i = 0; i < quote.line_count; i++)
    if (strcmp(quote.lines[i].label, "Margin") == 0)
      assert_non_null(strstr(quote.lines[i].detail, "of the price before tax"));
  assert_int_equal(line_of(&quote, "Margin"), 9140); /* a fifth of the price, a quarter of the cost: 91.4025 */
  assert_int_equal(quote.net_minor, 45701);
  assert_int_equal(quote.tax_minor, 8683);
  assert_int_equal(quote.total_minor, 54384);
  assert_int_equal(quote.deposit_minor, 27192);
  assert_int_equal(quote.balance_minor, 27192);
  assert_int_equal(quote.incomplete, 0);
}

static void quote_make_names_margin_and_markup_apart(void **state) {
  desk *at = *state;
  girdle_quote quote;
  at->input.materials_minor = 10000;
  at->rates.margin_millionths = 250000;
  quote = quote_of(at);
  assert_int_equal(line_of(&quote, "Margin"), 3333);
  assert_int_equal(line_of(&quote, "Mark-up"), INT64_MIN);
  at->rates.margin_millionths = 0;
  at->rates.markup_millionths = 250000;
  quote = quote_of(at);
  assert_int_equal(line_of(&quote, "Mark-up"), 2500);
  at->rates.margin_millionths = 1;
  assert_int_equal(girdle_quote_make(NULL, &at->input, &at->rates, &quote), GIRDLE_ARGUMENT);
}

static void quote_make_takes_labour_by_stone_and_by_hour(void **state) {
  desk *at = *state;
  girdle_quote quote;
  at->input.stones = 1500;
  at->work.minutes = 299.6;
  at->rates.labour_minor = 12;
  at->rates.labour_by = GIRDLE_BY_STONE;
  quote = quote_of(at);
  assert_int_equal(line_of(&quote, "Labour"), 18000);
  at->rates.labour_by = GIRDLE_BY_HOUR;
  at->rates.labour_minor = 1850;
  quote = quote_of(at);
  assert_int_equal(line_of(&quote, "Labour"), 9250);
  assert_string_equal(quote.lines[0].detail, "5 h 00 min at 18.50 EUR an hour");
}

static void quote_make_adds_rush_extra_own_and_rounding(void **state) {
  desk *at = *state;
  girdle_quote quote;
  at->input.materials_minor = 10000;
  at->input.own_stones = 288;
  at->input.extra_stones = 216;
  at->input.rush = 1;
  at->rates.own_gross_minor = 150;
  at->rates.extra_gross_minor = 3000;
  at->rates.rush_millionths = 250000;
  at->rates.round_to_minor = 500;
  quote = quote_of(at);
  assert_int_equal(line_of(&quote, "Checking and sorting"), 300);
  assert_int_equal(line_of(&quote, "Rush"), 2575);
  assert_int_equal(line_of(&quote, "Extra stones"), 4500);
  assert_int_equal(line_of(&quote, "Rounding"), 125); /* 173.75 becomes 175.00 */
  assert_int_equal(quote.total_minor, 17500);
  at->input.rush = 0;
  assert_int_equal(line_of(&quote, "Rush"), 2575);
  quote = quote_of(at);
  assert_int_equal(line_of(&quote, "Rush"), INT64_MIN);
}

static void quote_make_takes_no_deposit_of_extra_stones(void **state) {
  desk *at = *state;
  girdle_quote without, with;
  at->input.materials_minor = 10000;
  at->rates.deposit_millionths = 400000;
  at->rates.tax_millionths = 190000;
  at->rates.extra_gross_minor = 3000;
  at->rates.round_to_minor = 500;
  without = quote_of(at);
  at->input.extra_stones = 216;
  with = quote_of(at);
  assert_true(with.total_minor > without.total_minor && without.deposit_minor > 0);
  assert_int_equal(with.deposit_minor, without.deposit_minor);
  assert_int_equal(with.balance_minor, with.total_minor - without.deposit_minor);
}

static void quote_make_dates_and_says_what_is_missing(void **state) {
  desk *at = *state;
  girdle_quote quote;
  quote = quote_of(at);
  assert_true(quote.valid_until_day == INT64_MIN);
  at->input.quoted_day = 20000;
  at->input.unpriced = 12;
  at->input.materials_minor = 1;
  quote = quote_of(at);
  assert_int_equal(quote.valid_until_day, 20030);
  assert_int_equal(quote.incomplete, 1);
  assert_non_null(strstr(quote.lines[0].detail, "incomplete"));
}

static void quote_make_always_adds_up(void **state) {
  uint64_t seed = 3;
  (void)state;
  for (int round = 0; round < 20000; round++) {
    desk at;
    girdle_quote quote;
    int64_t sum = 0;
    open_desk(&at);
    at.input.stones = (int64_t)(test_random(&seed) % 20000);
    at.input.materials_minor = (int64_t)(test_random(&seed) % 1000000);
    at.input.shipping_minor = (int64_t)(test_random(&seed) % 2000);
    at.input.own_stones = (int64_t)(test_random(&seed) % 500);
    at.input.extra_stones = (int64_t)(test_random(&seed) % 500);
    at.input.rush = (int32_t)(test_random(&seed) & 1);
    at.work.minutes = test_uniform(&seed) * 5000;
    at.work.tube_millionths = (int64_t)(test_random(&seed) % 5000000);
    at.rates.labour_by = (int32_t)(test_random(&seed) % 3);
    at.rates.labour_minor = (int64_t)(test_random(&seed) % 5000);
    at.rates.adhesive_minor = (int64_t)(test_random(&seed) % 3000);
    at.rates.consumables_minor = (int64_t)(test_random(&seed) % 900);
    at.rates.overhead_millionths = (int64_t)(test_random(&seed) % 400000);
    *(test_random(&seed) & 1 ? &at.rates.margin_millionths : &at.rates.markup_millionths) =
        (int64_t)(test_random(&seed) % 900000);
    at.rates.tax_millionths = (int64_t)(test_random(&seed) % 300000);
    at.rates.deposit_millionths = (int64_t)(test_random(&seed) % 1000001);
    at.rates.rush_millionths = (int64_t)(test_random(&seed) % 500000);
    at.rates.extra_gross_minor = (int64_t)(test_random(&seed) % 5000);
    at.rates.own_gross_minor = (int64_t)(test_random(&seed) % 500);
    at.rates.round_to_minor = (int64_t)(test_random(&seed) % 1000);
    quote = quote_of(&at);
    assert_true(quote.line_count <= sizeof quote.lines / sizeof quote.lines[0]);
    for (uint64_t i = 0; i < quote.line_count; i++)
      sum += quote.lines[i].amount_minor;
    assert_int_equal(sum, quote.total_minor);
    assert_int_equal(quote.net_minor + quote.tax_minor, quote.total_minor);
    assert_int_equal(quote.deposit_minor + quote.balance_minor, quote.total_minor);
    if (at.rates.round_to_minor) assert_int_equal(quote.net_minor % at.rates.round_to_minor, 0);
  }
}

static void quote_make_refuses(void **state) {
  desk *at = *state;
  girdle_quote quote = {.total_minor = 77};
  test_call test;
  at->rates.margin_millionths = 1000000;
  assert_int_equal(girdle_quote_make(NULL, &at->input, &at->rates, &quote), GIRDLE_ARGUMENT);
  open_desk(at);
  at->rates.tax_millionths = -1;
  test_begin(&test);
  assert_status(&test, girdle_quote_make(&test.call, &at->input, &at->rates, &quote), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "tax");
  open_desk(at);
  at->input.work = NULL;
  assert_int_equal(girdle_quote_make(NULL, &at->input, &at->rates, &quote), GIRDLE_ARGUMENT);
  open_desk(at);
  at->work.minutes = NAN;
  assert_int_equal(girdle_quote_make(NULL, &at->input, &at->rates, &quote), GIRDLE_ARGUMENT);
  open_desk(at);
  at->input.materials_minor = at->input.shipping_minor = INT64_MAX;
  assert_int_equal(girdle_quote_make(NULL, &at->input, &at->rates, &quote), GIRDLE_OVERFLOW);
  open_desk(at);
  at->rates.labour_by = 3;
  assert_int_equal(girdle_quote_make(NULL, &at->input, &at->rates, &quote), GIRDLE_ARGUMENT);
  assert_int_equal(quote.total_minor, 77);
}

static void quote_self_make_counts_whole_tubes_tools_and_hours(void **state) {
  girdle_work work = {.tubes = 2, .minutes = 200};
  girdle_quote_self_input input;
  girdle_quote_rates rates;
  girdle_quote_self self;
  (void)state;
  girdle_quote_rates_init(&rates, sizeof rates);
  girdle_quote_self_input_init(&input, sizeof input);
  rates.adhesive_minor = 980;
  rates.consumables_minor = 400;
  rates.tools_minor = 1500;
  rates.labour_minor = 9999;
  input.materials_minor = 7000;
  input.shipping_minor = 490;
  input.left_over = 120;
  input.work = &work;
  assert_int_equal(girdle_quote_self_make(NULL, &input, &rates, &self), GIRDLE_OK);
  assert_int_equal(self.total_minor, 7000 + 490 + 1960 + 400 + 1500);
  assert_int_equal(self.left_over, 120);
  assert_near(self.minutes, 600, 1e-9);
  assert_int_equal(self.evenings, 5);
}

#define AT(type, field) \
  { #field, offsetof(type, field) }

typedef struct numbered {
  const char *name;
  size_t at;
} numbered;

/* Every amount and share of the rates, and every number of the input, below nothing; the shares far above all. */
static void quote_make_refuses_each_number_that_cannot_be(void **state) {
  static const numbered rates[] = {
      AT(girdle_quote_rates, labour_minor),      AT(girdle_quote_rates, adhesive_minor),
      AT(girdle_quote_rates, consumables_minor), AT(girdle_quote_rates, overhead_millionths),
      AT(girdle_quote_rates, margin_millionths), AT(girdle_quote_rates, markup_millionths),
      AT(girdle_quote_rates, tax_millionths),    AT(girdle_quote_rates, deposit_millionths),
      AT(girdle_quote_rates, rush_millionths),   AT(girdle_quote_rates, extra_gross_minor),
      AT(girdle_quote_rates, own_gross_minor),   AT(girdle_quote_rates, round_to_minor),
      AT(girdle_quote_rates, tools_minor),       AT(girdle_quote_rates, self_pace_millionths)};
  static const numbered inputs[] = {AT(girdle_quote_input, stones),         AT(girdle_quote_input, materials_minor),
                                    AT(girdle_quote_input, shipping_minor), AT(girdle_quote_input, unpriced),
                                    AT(girdle_quote_input, own_stones),     AT(girdle_quote_input, extra_stones)};
  static const numbered selves[] = {AT(girdle_quote_self_input, materials_minor),
                                    AT(girdle_quote_self_input, shipping_minor),
                                    AT(girdle_quote_self_input, left_over)};
  desk *at = *state;
  girdle_quote quote;
  girdle_quote_self self;
  girdle_quote_self_input alone;
  for (size_t i = 0; i < sizeof rates / sizeof rates[0]; i++) {
    open_desk(at);
    *(int64_t *)((char *)&at->rates + rates[i].at) = -1;
    if (girdle_quote_make(NULL, &at->input, &at->rates, &quote) != GIRDLE_ARGUMENT) fail_msg("%s", rates[i].name);
    if (!strstr(rates[i].name, "millionths")) continue;
    *(int64_t *)((char *)&at->rates + rates[i].at) = 100000001;
    if (girdle_quote_make(NULL, &at->input, &at->rates, &quote) != GIRDLE_ARGUMENT) fail_msg("%s", rates[i].name);
  }
  for (size_t i = 0; i < sizeof inputs / sizeof inputs[0]; i++) {
    open_desk(at);
    *(int64_t *)((char *)&at->input + inputs[i].at) = -1;
    if (girdle_quote_make(NULL, &at->input, &at->rates, &quote) != GIRDLE_ARGUMENT) fail_msg("%s", inputs[i].name);
  }
  for (int i = 0; i < 4; i++) {
    open_desk(at);
    if (i == 0) at->work.tubes = -1;
    if (i == 1) at->work.tube_millionths = -1;
    if (i == 2) at->input.quoted_day = 5000000;
    if (i == 3) at->rates.valid_days = -1;
    assert_int_equal(girdle_quote_make(NULL, &at->input, &at->rates, &quote), GIRDLE_ARGUMENT);
  }
  for (size_t i = 0; i <= sizeof selves / sizeof selves[0]; i++) {
    open_desk(at);
    girdle_quote_self_input_init(&alone, sizeof alone);
    alone.work = &at->work;
    if (i < sizeof selves / sizeof selves[0])
      *(int64_t *)((char *)&alone + selves[i].at) = -1;
    else
      alone.evening_s = 5;
    assert_int_equal(girdle_quote_self_make(NULL, &alone, &at->rates, &self), GIRDLE_ARGUMENT);
  }
}

/* A margin of all but a millionth, and a deposit of everything, are the most. */
static void quote_make_takes_what_shares_may_be_at_most(void **state) {
  desk *at = *state;
  girdle_quote quote;
  at->input.materials_minor = 1;
  at->rates.margin_millionths = 999999;
  at->rates.deposit_millionths = 1000000;
  quote = quote_of(at);
  assert_int_equal(quote.total_minor, 1000000);
  assert_int_equal(quote.balance_minor, 0);
  at->rates.deposit_millionths = 1000001;
  assert_int_equal(girdle_quote_make(NULL, &at->input, &at->rates, &quote), GIRDLE_ARGUMENT);
}

/* Each line in turn takes the sum beyond what int64 holds. */
static void quote_make_says_so_when_a_sum_does_not_fit(void **state) {
  const int64_t most = INT64_MAX;
  (void)state;
  for (int i = 0; i < 15; i++) {
    desk at;
    girdle_quote quote;
    open_desk(&at);
    at.input.materials_minor = i < 9 ? most - 1 : 0;
    at.input.stones = at.input.own_stones = at.input.extra_stones = 144;
    at.input.rush = 1;
    at.work.tube_millionths = 1000000;
    at.work.minutes = 60;
    if (i == 0) at.input.shipping_minor = 2;
    if (i == 1) at.rates.adhesive_minor = 2;
    if (i == 2) at.rates.consumables_minor = 2;
    if (i == 3) at.rates.labour_minor = 2;
    if (i == 4) at.rates.own_gross_minor = 2;
    if (i == 5) at.rates.overhead_millionths = 1000000;
    if (i == 6) at.rates.markup_millionths = 1000000;
    if (i == 7) at.rates.rush_millionths = 1000000;
    if (i == 8) at.rates.tax_millionths = 1000000;
    if (i == 9) at.input.materials_minor = most / 2, at.rates.margin_millionths = 900000;
    if (i == 10) at.rates.labour_by = GIRDLE_BY_HOUR, at.rates.labour_minor = most, at.work.minutes = 6000;
    if (i == 11) at.rates.labour_by = GIRDLE_BY_STONE, at.rates.labour_minor = most;
    if (i == 12) at.rates.adhesive_minor = most, at.work.tube_millionths = 5000000;
    if (i == 13) at.rates.extra_gross_minor = most, at.input.extra_stones = 288;
    if (i == 14) at.rates.own_gross_minor = most, at.input.own_stones = 288;
    if (girdle_quote_make(NULL, &at.input, &at.rates, &quote) != GIRDLE_OVERFLOW) fail_msg("line %d", i);
  }
}

static void quote_make_takes_the_defaults_for_no_rates(void **state) {
  desk *at = *state;
  girdle_quote quote, by_default;
  girdle_quote_self self;
  girdle_quote_self_input alone;
  at->input.materials_minor = 1234;
  quote = quote_of(at);
  assert_int_equal(girdle_quote_make(NULL, &at->input, NULL, &by_default), GIRDLE_OK);
  assert_int_equal(by_default.total_minor, quote.total_minor);
  assert_string_equal(by_default.currency.code, quote.currency.code);
  assert_int_equal(girdle_quote_make(NULL, NULL, &at->rates, &quote), GIRDLE_ARGUMENT); /* an input has its work */
  girdle_quote_self_input_init(&alone, sizeof alone);
  alone.work = &at->work;
  alone.materials_minor = 1234;
  assert_int_equal(girdle_quote_self_make(NULL, &alone, NULL, &self), GIRDLE_OK);
  assert_int_equal(self.total_minor, 1234);
  assert_int_equal(girdle_quote_self_make(NULL, NULL, NULL, &self), GIRDLE_ARGUMENT);
}

/* Labour is by gross, stone or hour; nothing below or above. */
static void quote_make_refuses_labour_by_something_else(void **state) {
  (void)state;
  for (int by = -1; by <= 3; by++) {
    desk at;
    girdle_quote quote;
    open_desk(&at);
    at.rates.labour_by = by;
    assert_int_equal(girdle_quote_make(NULL, &at.input, &at.rates, &quote),
                     by < GIRDLE_BY_GROSS || by > GIRDLE_BY_HOUR ? GIRDLE_ARGUMENT : GIRDLE_OK);
  }
}

static void quote_self_make_says_so_when_a_sum_does_not_fit(void **state) {
  girdle_work work = {.tubes = 2};
  (void)state;
  for (int i = 0; i < 5; i++) {
    girdle_quote_rates rates;
    girdle_quote_self_input input;
    girdle_quote_self self;
    girdle_quote_rates_init(&rates, sizeof rates);
    girdle_quote_self_input_init(&input, sizeof input);
    input.work = &work;
    input.materials_minor = INT64_MAX - 1;
    if (i == 0) input.shipping_minor = 2;
    if (i == 1) rates.adhesive_minor = 1;
    if (i == 2) rates.consumables_minor = 2;
    if (i == 3) rates.tools_minor = 2;
    if (i == 4) rates.adhesive_minor = INT64_MAX;
    assert_int_equal(girdle_quote_self_make(NULL, &input, &rates, &self), GIRDLE_OVERFLOW);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test_setup(quote_make_goes_from_cost_to_total, desk_setup),
      cmocka_unit_test_setup(quote_make_names_margin_and_markup_apart, desk_setup),
      cmocka_unit_test_setup(quote_make_takes_labour_by_stone_and_by_hour, desk_setup),
      cmocka_unit_test_setup(quote_make_adds_rush_extra_own_and_rounding, desk_setup),
      cmocka_unit_test_setup(quote_make_takes_no_deposit_of_extra_stones, desk_setup),
      cmocka_unit_test_setup(quote_make_dates_and_says_what_is_missing, desk_setup),
      cmocka_unit_test(quote_make_always_adds_up),
      cmocka_unit_test_setup(quote_make_refuses, desk_setup),
      cmocka_unit_test(quote_self_make_counts_whole_tubes_tools_and_hours),
      cmocka_unit_test_setup(quote_make_refuses_each_number_that_cannot_be, desk_setup),
      cmocka_unit_test(quote_make_says_so_when_a_sum_does_not_fit),
      cmocka_unit_test_setup(quote_make_takes_what_shares_may_be_at_most, desk_setup),
      cmocka_unit_test_setup(quote_make_takes_the_defaults_for_no_rates, desk_setup),
      cmocka_unit_test(quote_make_refuses_labour_by_something_else),
      cmocka_unit_test(quote_self_make_says_so_when_a_sum_does_not_fit),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
