/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

/* A costume with stones set by eye in one zone a stone. */
static int32_t add_job(girdle_call *call, girdle_club *club, const char *tag, int64_t needed_by,
                       const char *const *stones, const int64_t *pieces, size_t count) {
  girdle_job_head head;
  girdle_job *job = NULL;
  int32_t status;
  girdle_job_head_init(&head, sizeof head);
  snprintf(head.tag, sizeof head.tag, "%s", tag);
  head.needed_by_day = needed_by;
  status = girdle_job_new(call, &head, &job);
  for (size_t i = 0; i < count && !status; i++) {
    girdle_stone stone = stone_of(stones[i]);
    girdle_zone zone;
    girdle_zone_init(&zone, sizeof zone);
    snprintf(zone.name, sizeof zone.name, "zone %d", (int)i);
    strcpy(zone.side, i % 2 ? "back" : "front");
    zone.already = &stone;
    zone.already_pieces = &pieces[i];
    zone.already_count = 1;
    status = girdle_job_add_zone(call, job, &zone);
  }
  if (!status) status = girdle_club_add_job(call, club, job);
  if (status) girdle_job_free(job);
  return status;
}

static int32_t add_price(girdle_call *call, girdle_club *club, const char *supplier, const char *stone, int64_t pieces,
                         int64_t price) {
  girdle_price_row row;
  memset(&row, 0, sizeof row);
  strcpy(row.supplier, supplier);
  row.stone = stone_of(stone);
  snprintf(row.pack, sizeof row.pack, "%d", (int)pieces);
  row.pack_pieces = pieces;
  row.price_minor = price;
  row.at_most = -1;
  return girdle_club_add_price(call, club, &row);
}

static int32_t add_supplier(girdle_call *call, girdle_club *club, const char *name, int64_t shipping, int32_t days) {
  girdle_supplier supplier;
  memset(&supplier, 0, sizeof supplier);
  strcpy(supplier.name, name);
  strcpy(supplier.currency.code, "EUR");
  supplier.currency.exponent = 2;
  supplier.shipping_minor = shipping;
  supplier.free_from_minor = -1;
  supplier.delivery_days = days;
  return girdle_club_add_supplier(call, club, &supplier);
}

enum { NEEDED = 22400 }; /* a day in 2031 */

static int32_t three_costumes(girdle_call *call, girdle_club **out) {
  static const char *const all[] = {"ss20 black", "ss16", "ss34 red"};
  girdle_club *club = NULL;
  int32_t status = girdle_club_new(call, &club);
  if (!status) status = add_supplier(call, club, "Alder Street", 691, 4);
  if (!status) status = add_supplier(call, club, "Quayside", 455, 9);
  if (!status) status = add_price(call, club, "Alder Street", "ss20 black", 144, 1399);
  if (!status) status = add_price(call, club, "Alder Street", "ss16", 144, 899);
  if (!status) status = add_price(call, club, "Quayside", "ss34 red", 50, 1111);
  if (!status) status = add_job(call, club, "A1", NEEDED, all, (const int64_t[]){311, 205, 17}, 3);
  if (!status) status = add_job(call, club, "A2", NEEDED + 7, all, (const int64_t[]){97, 401}, 2);
  if (!status) status = add_job(call, club, "A3", INT64_MIN, all, (const int64_t[]){1}, 1);
  if (status) {
    girdle_club_free(club);
    return status;
  }
  *out = club;
  return GIRDLE_OK;
}

static int64_t line_of(const girdle_quote *quote, const char *label) {
  for (uint64_t i = 0; i < quote->line_count; i++)
    if (strcmp(quote->lines[i].label, label) == 0) return quote->lines[i].amount_minor;
  return 0;
}

static void club_reckon_shares_the_order_to_the_last_cent(void **state) {
  girdle_club *club;
  girdle_reckoning *reckoning;
  girdle_order_total total;
  int64_t goods = 0, shipping = 0, materials[3], parts[3];
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, three_costumes(&test.call, &club));
  assert_ok(&test, girdle_club_reckon(&test.call, club, NEEDED - 60, &reckoning));
  girdle_order_sum(girdle_reckoning_order(reckoning), &total);
  for (uint64_t i = 0; i < 3; i++) {
    const girdle_quote *quote = girdle_reckoning_quote(reckoning, i);
    goods += materials[i] = line_of(quote, "Stones");
    shipping += line_of(quote, "Shipping");
    assert_false(quote->incomplete);
    assert_int_equal(quote->valid_until_day, NEEDED - 60 + 30); /* a quote of the day it is reckoned from */
  }
  assert_true(total.goods_minor > 0 && total.shipping_minor == 691 + 455);
  assert_int_equal(goods, total.goods_minor);
  assert_int_equal(shipping, total.shipping_minor);
  assert_ok(&test, girdle_money_split(&test.call, shipping, materials, 3, parts));
  for (uint64_t i = 0; i < 3; i++)
    assert_int_equal(line_of(girdle_reckoning_quote(reckoning, i), "Shipping"), parts[i]);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

static void club_reckon_counts_every_costume_and_buys_enough(void **state) {
  girdle_club *club;
  girdle_reckoning *reckoning;
  girdle_tally_line total;
  const girdle_order_stone *stones;
  uint64_t count;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, three_costumes(&test.call, &club));
  assert_ok(&test, girdle_club_reckon(&test.call, club, NEEDED - 60, &reckoning));
  girdle_tally_total(girdle_reckoning_tally(reckoning), &total);
  assert_int_equal(total.count, 311 + 205 + 17 + 97 + 401 + 1);
  stones = girdle_order_stones(girdle_reckoning_order(reckoning), &count);
  assert_int_equal(count, 3);
  for (uint64_t i = 0; i < count; i++)
    assert_true(stones[i].bought + stones[i].from_stock >= stones[i].needed);
  assert_int_equal(girdle_reckoning_work(reckoning, 0)->glued, 533);
  assert_int_equal(girdle_reckoning_work(reckoning, 2)->glued, 1);
  assert_null(girdle_reckoning_work(reckoning, 3));
  assert_null(girdle_reckoning_quote(reckoning, 3));
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
}

static void club_reckon_waits_for_the_slowest_supplier_and_dries_both_sides(void **state) {
  girdle_club *club;
  girdle_reckoning *reckoning;
  const girdle_event *events;
  uint64_t count;
  int drying = 0, delivery = 0;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, three_costumes(&test.call, &club));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "post days", "Mon-Sun"));
  assert_ok(&test, girdle_club_reckon(&test.call, club, NEEDED - 60, &reckoning));
  assert_non_null(girdle_reckoning_calendar(reckoning));
  events = girdle_calendar_events(girdle_reckoning_calendar(reckoning), &count);
  for (uint64_t i = 0; i < count; i++) {
    assert_string_not_equal(events[i].tag, "A3"); /* nobody said when it is needed */
    drying += events[i].kind == GIRDLE_DAY_DRY && strcmp(events[i].tag, "A1") == 0;
    if (events[i].kind != GIRDLE_DAY_DELIVERY) continue;
    delivery++;
    assert_true(events[i].last_day - events[i].first_day + 1 >= 9);
  }
  assert_true(delivery > 0);
  assert_int_equal(drying, 2);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
}

static void club_reckon_shares_shipping_alike_where_stones_cost_nothing(void **state) {
  static const char *const all[] = {"ss20"};
  girdle_club *club;
  girdle_reckoning *reckoning;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  assert_ok(&test, add_supplier(&test.call, club, "Gift", 902, 3));
  assert_ok(&test, add_price(&test.call, club, "Gift", "ss20", 144, 0));
  for (int i = 0; i < 3; i++) {
    const char tag[3] = {'A', (char)('1' + i), 0};
    assert_ok(&test, add_job(&test.call, club, tag, INT64_MIN, all, (const int64_t[]){100 * (i + 1)}, 1));
  }
  assert_ok(&test, girdle_club_reckon(&test.call, club, 0, &reckoning));
  assert_int_equal(line_of(girdle_reckoning_quote(reckoning, 0), "Shipping"), 301);
  assert_int_equal(line_of(girdle_reckoning_quote(reckoning, 1), "Shipping"), 301);
  assert_int_equal(line_of(girdle_reckoning_quote(reckoning, 2), "Shipping"), 300);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
}

/* A supplier round the corner: one day of delivery more is one day earlier to order. */
static void club_reckon_orders_earlier_by_the_days_of_delivery(void **state) {
  static const char *const all[] = {"ss20"};
  int64_t order_by[3];
  test_call test;
  test_begin(&test);
  (void)state;
  for (int32_t days = 0; days < 3; days++) {
    girdle_club *club;
    girdle_reckoning *reckoning;
    girdle_calendar_sum sum;
    assert_ok(&test, girdle_club_new(&test.call, &club));
    assert_ok(&test, add_supplier(&test.call, club, "Corner", 0, days));
    assert_ok(&test, add_price(&test.call, club, "Corner", "ss20", 144, 900));
    assert_ok(&test, girdle_club_set_rate(&test.call, club, "post days", "Mon-Sun"));
    assert_ok(&test, add_job(&test.call, club, "A1", NEEDED, all, (const int64_t[]){200}, 1));
    assert_ok(&test, girdle_club_reckon(&test.call, club, NEEDED - 60, &reckoning));
    girdle_calendar_total(girdle_reckoning_calendar(reckoning), &sum);
    order_by[days] = sum.order_by_day;
    girdle_reckoning_free(reckoning);
    girdle_club_free(club);
  }
  assert_true(order_by[0] > order_by[1]);
  assert_int_equal(order_by[1] - order_by[2], 1);
}

/* A ring goes round both sides; a front alone is dry after one. */
static void club_reckon_counts_the_sides_to_glue(void **state) {
  static const struct {
    const char *sides[2];
    int drying;
  } cases[] = {{{"both", "front"}, 2}, {{"both", "both"}, 2},  {{"front", "left"}, 1},
               {{"back", ""}, 1},      {{"back", "front"}, 2}, {{"left", "right"}, 1}};
  test_call test;
  test_begin(&test);
  (void)state;
  for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
    girdle_stone stone = stone_of("ss20");
    const int64_t pieces = 50;
    girdle_club *club;
    girdle_job_head head;
    girdle_job *job;
    girdle_reckoning *reckoning;
    const girdle_event *events;
    uint64_t count;
    int drying = 0;
    girdle_job_head_init(&head, sizeof head);
    strcpy(head.tag, "A1");
    head.needed_by_day = NEEDED;
    assert_ok(&test, girdle_club_new(&test.call, &club));
    assert_ok(&test, girdle_job_new(&test.call, &head, &job));
    for (int i = 0; i < 2; i++) {
      girdle_zone zone;
      girdle_zone_init(&zone, sizeof zone);
      snprintf(zone.name, sizeof zone.name, "zone %d", i);
      strcpy(zone.side, cases[k].sides[i]);
      zone.already = &stone;
      zone.already_pieces = &pieces;
      zone.already_count = 1;
      assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
    }
    assert_ok(&test, girdle_club_add_job(&test.call, club, job));
    assert_ok(&test, girdle_club_reckon(&test.call, club, NEEDED - 60, &reckoning));
    events = girdle_calendar_events(girdle_reckoning_calendar(reckoning), &count);
    for (uint64_t i = 0; i < count; i++)
      drying += events[i].kind == GIRDLE_DAY_DRY;
    assert_int_equal(drying, cases[k].drying);
    girdle_reckoning_free(reckoning);
    girdle_club_free(club);
  }
  assert_int_equal(test.live_bytes, 0);
}

static void club_reckon_says_what_has_no_price(void **state) {
  static const char *const all[] = {"ss20 black", "ss48 gold"};
  girdle_club *club;
  girdle_reckoning *reckoning;
  girdle_order_total total;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, three_costumes(&test.call, &club));
  assert_ok(&test, add_job(&test.call, club, "B1", INT64_MIN, all, (const int64_t[]){10, 20}, 2));
  assert_ok(&test, girdle_club_reckon(&test.call, club, NEEDED - 60, &reckoning));
  girdle_order_sum(girdle_reckoning_order(reckoning), &total);
  assert_true(total.unpriced_stones > 0);
  assert_true(girdle_reckoning_quote(reckoning, 3)->incomplete);
  assert_false(girdle_reckoning_quote(reckoning, 0)->incomplete);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
}

static void club_reckon_does_without_prices_and_days(void **state) {
  static const char *const all[] = {"ss20 black"};
  girdle_club *club;
  girdle_reckoning *reckoning;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  assert_ok(&test, girdle_club_reckon(&test.call, club, 0, &reckoning)); /* and without jobs */
  girdle_reckoning_free(reckoning);
  assert_ok(&test, add_job(&test.call, club, "A1", INT64_MIN, all, (const int64_t[]){360}, 1));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "labour a gross", "50.00"));
  assert_ok(&test, girdle_club_reckon(&test.call, club, 0, &reckoning));
  assert_null(girdle_reckoning_order(reckoning));
  assert_null(girdle_reckoning_calendar(reckoning));
  assert_int_equal(girdle_reckoning_quote(reckoning, 0)->net_minor, 12500); /* 2 1/2 gross at 50.00 */
  assert_true(girdle_reckoning_quote(reckoning, 0)->incomplete);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

/* Ten jobs that lost every fifth stone outweigh the five per cent assumed without a log. */
static void club_reckon_learns_spares_from_the_log(void **state) {
  girdle_club *club;
  girdle_reckoning *reckoning;
  uint64_t count;
  int64_t before, after;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, three_costumes(&test.call, &club));
  assert_ok(&test, girdle_club_reckon(&test.call, club, 0, &reckoning));
  before = girdle_order_stones(girdle_reckoning_order(reckoning), &count)[0].lost;
  girdle_reckoning_free(reckoning);
  for (int i = 0; i < 10; i++) {
    girdle_log_row row;
    memset(&row, 0, sizeof row);
    snprintf(row.tag, sizeof row.tag, "old %d", i);
    row.stone = stone_of("ss20 black");
    row.planned = row.used = 1000;
    row.lost = 200;
    row.fell_off = -1;
    row.minutes = NAN;
    assert_ok(&test, girdle_club_add_log(&test.call, club, &row));
  }
  assert_ok(&test, girdle_club_reckon(&test.call, club, 0, &reckoning));
  after = girdle_order_stones(girdle_reckoning_order(reckoning), &count)[0].lost;
  assert_true(after > before);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
}

/* A log of as many jobs as the club waits for draws the times half-way to its pace. */
static void club_reckon_learns_the_pace_from_the_log(void **state) {
  girdle_club *club;
  girdle_reckoning *reckoning;
  const girdle_work_rates *plain;
  double before[3];
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, three_costumes(&test.call, &club));
  assert_ok(&test, girdle_club_reckon(&test.call, club, 0, &reckoning));
  for (uint64_t i = 0; i < 3; i++)
    before[i] = girdle_reckoning_work(reckoning, i)->minutes;
  girdle_reckoning_free(reckoning);
  plain = girdle_club_work_rates(club);
  for (int i = 0; i < 5; i++) {
    girdle_log_row row;
    memset(&row, 0, sizeof row);
    snprintf(row.tag, sizeof row.tag, "old %d", i);
    row.stone = stone_of("ss20 black");
    row.planned = row.used = 600;
    row.lost = row.fell_off = -1;
    row.minutes = 3 * (600 * plain->small_s + plain->zone_s) / 60; /* three times as slow */
    assert_ok(&test, girdle_club_add_log(&test.call, club, &row));
  }
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "jobs before the log counts", "5"));
  assert_ok(&test, girdle_club_reckon(&test.call, club, 0, &reckoning));
  assert_int_equal(girdle_reckoning_learned(reckoning)->jobs, 5);
  for (uint64_t i = 0; i < 3; i++)
    assert_near(girdle_reckoning_work(reckoning, i)->minutes, 2 * before[i], 1e-9 * before[i]);
  assert_near(girdle_reckoning_rates(reckoning)->small_s, 2 * girdle_club_work_rates(club)->small_s, 1e-9);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
}

static int32_t whole_reckoning(girdle_call *call) {
  girdle_club *club = NULL;
  girdle_reckoning *reckoning = NULL;
  int32_t status = three_costumes(call, &club);
  if (status) return status;
  status = girdle_club_reckon(call, club, NEEDED - 60, &reckoning);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
  return status;
}

static void club_reckon_survives_every_refused_allocation(void **state) {
  (void)state;
  test_sweep_allocations(whole_reckoning);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(club_reckon_shares_the_order_to_the_last_cent),
      cmocka_unit_test(club_reckon_counts_every_costume_and_buys_enough),
      cmocka_unit_test(club_reckon_waits_for_the_slowest_supplier_and_dries_both_sides),
      cmocka_unit_test(club_reckon_shares_shipping_alike_where_stones_cost_nothing),
      cmocka_unit_test(club_reckon_orders_earlier_by_the_days_of_delivery),
      cmocka_unit_test(club_reckon_counts_the_sides_to_glue),
      cmocka_unit_test(club_reckon_says_what_has_no_price),
      cmocka_unit_test(club_reckon_does_without_prices_and_days),
      cmocka_unit_test(club_reckon_learns_spares_from_the_log),
      cmocka_unit_test(club_reckon_learns_the_pace_from_the_log),
      cmocka_unit_test(club_reckon_survives_every_refused_allocation),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
