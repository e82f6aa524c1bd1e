/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

static girdle_stone black, clear, red;

static girdle_plan_zone zone_of(const char *name, int32_t priority, int64_t most, const girdle_stone *stones,
                                uint64_t count) {
  girdle_plan_zone zone;
  memset(&zone, 0, sizeof zone);
  strcpy(zone.name, name);
  zone.priority = priority;
  zone.most = most;
  zone.stones = stones;
  zone.stone_count = count;
  return zone;
}

static int32_t add_price(girdle_call *call, girdle_club *club, const girdle_stone *stone, int64_t pieces,
                         int64_t price) {
  girdle_price_row row;
  memset(&row, 0, sizeof row);
  strcpy(row.supplier, "Alder Street");
  row.stone = *stone;
  strcpy(row.pack, "pack");
  row.pack_pieces = pieces;
  row.price_minor = price;
  row.at_most = -1;
  return girdle_club_add_price(call, club, &row);
}

static int32_t add_stock(girdle_call *call, girdle_club *club, const girdle_stone *stone, int64_t pieces) {
  girdle_stock_row row;
  memset(&row, 0, sizeof row);
  row.stone = *stone;
  row.pieces = pieces;
  return girdle_club_add_stock(call, club, &row);
}

static int32_t shop(girdle_call *call, girdle_club **out) {
  girdle_supplier supplier;
  int32_t status;
  memset(&supplier, 0, sizeof supplier);
  strcpy(supplier.name, "Alder Street");
  strcpy(supplier.currency.code, "EUR");
  supplier.currency.exponent = 2;
  supplier.shipping_minor = 500;
  supplier.free_from_minor = -1;
  black = stone_of("ss20 black");
  clear = stone_of("ss16");
  red = stone_of("ss34 red");
  status = girdle_club_new(call, out);
  if (status) return status;
  status = girdle_club_add_supplier(call, *out, &supplier);
  if (!status) status = add_price(call, *out, &black, 10, 137);
  if (!status) status = add_price(call, *out, &clear, 25, 201);
  if (!status) status = add_price(call, *out, &red, 4, 300);
  if (status) girdle_club_free(*out);
  return status;
}

/* More rounds where there is time for them. */
static int rounds(int usual) {
  return getenv("GIRDLE_PROOF") ? 20 * usual : usual;
}

/* ---- how pieces are shared out */

static void club_plan_fills_the_first_zones_first(void **state) {
  girdle_plan_zone zones[4];
  int64_t counts[4];
  girdle_plan_sum plan;
  girdle_club *club;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, shop(&test.call, &club));
  zones[0] = zone_of("field", 2, 600, &clear, 1);
  zones[1] = zone_of("edge", 1, 100, &black, 1);
  zones[2] = zone_of("hem", 2, 300, &clear, 1);
  zones[3] = zone_of("nothing", 0, 0, &clear, 1);
  assert_ok(&test, girdle_club_plan(&test.call, club, zones, 4, GIRDLE_PLAN_PIECES, 60, counts, &plan));
  assert_true(counts[0] == 0 && counts[1] == 60 && counts[2] == 0 && counts[3] == 0);
  assert_ok(&test, girdle_club_plan(&test.call, club, zones, 4, GIRDLE_PLAN_PIECES, 400, counts, &plan));
  assert_true(counts[0] == 200 && counts[1] == 100 && counts[2] == 100);
  assert_int_equal(plan.pieces, 400);
  assert_int_equal(plan.pieces_most, 1000);
  assert_ok(&test, girdle_club_plan(&test.call, club, zones, 4, GIRDLE_PLAN_PIECES, 5000, counts, &plan));
  assert_true(counts[0] == 600 && counts[1] == 100 && counts[2] == 300 && plan.pieces == 1000);
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

/* One stone more goes to one zone, and none is taken away: beside the plain rule worked one stone at a time. */
static void club_plan_grows_one_stone_at_a_time(void **state) {
  uint64_t random = 9;
  girdle_club *club;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  black = stone_of("ss20 black");
  for (int round = 0; round < 40; round++) {
    girdle_plan_zone zones[6];
    int64_t counts[6], expected[6] = {0}, sum = 0;
    uint64_t n = 1 + test_random(&random) % 6;
    girdle_plan_sum plan;
    for (uint64_t i = 0; i < n; i++) {
      zones[i] = zone_of("zone", 1, (int64_t)(test_random(&random) % 40), &black, 1);
      sum += zones[i].most;
    }
    for (int64_t pieces = 1; pieces <= sum; pieces++) {
      uint64_t best = 0;
      for (uint64_t i = 1; i < n; i++)
        if (zones[i].most * (2 * expected[best] + 1) > zones[best].most * (2 * expected[i] + 1)) best = i;
      expected[best]++;
      assert_ok(&test, girdle_club_plan(&test.call, club, zones, n, GIRDLE_PLAN_PIECES, pieces, counts, &plan));
      assert_memory_equal(counts, expected, n * sizeof *counts);
    }
    for (uint64_t i = 0; i < n; i++)
      assert_true(expected[i] == zones[i].most || sum == 0);
  }
  girdle_club_free(club);
}

/* ---- the greatest plan, beside trying every number of pieces */

static int64_t cost_of(girdle_call *call, const girdle_club *club, const girdle_plan_zone *zones, uint64_t n,
                       int64_t pieces) {
  int64_t counts[4];
  girdle_plan_sum plan;
  assert_int_equal(girdle_club_plan(call, club, zones, n, GIRDLE_PLAN_PIECES, pieces, counts, &plan), GIRDLE_OK);
  return plan.cost_minor;
}

static void club_plan_spends_money_to_the_last_stone(void **state) {
  girdle_plan_zone zones[2];
  girdle_stone mixed[3];
  girdle_club *club;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, shop(&test.call, &club));
  assert_ok(&test, add_stock(&test.call, club, &clear, 13));
  mixed[0] = black;
  mixed[1] = clear;
  mixed[2] = clear;
  zones[0] = zone_of("edge", 1, 30, &red, 1);
  zones[1] = zone_of("field", 2, 90, mixed, 3);
  for (int64_t money = 0; money < 6000; money += 371) {
    int64_t counts[2], greatest = 0;
    girdle_plan_sum plan;
    for (int64_t pieces = 1; pieces <= 120; pieces++)
      if (cost_of(&test.call, club, zones, 2, pieces) <= money) greatest = pieces;
    assert_ok(&test, girdle_club_plan(&test.call, club, zones, 2, GIRDLE_PLAN_MONEY, money, counts, &plan));
    assert_int_equal(plan.pieces, greatest);
    assert_int_equal(counts[0] + counts[1], greatest);
    assert_true(greatest == 0 || plan.cost_minor <= money);
    if (greatest < 120) assert_true(cost_of(&test.call, club, zones, 2, greatest + 1) > money);
  }
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

static void club_plan_costs_nothing_where_all_is_there(void **state) {
  girdle_plan_zone zone;
  girdle_club *club;
  int64_t count;
  girdle_plan_sum plan;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, shop(&test.call, &club));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "spares", "0 %"));
  assert_ok(&test, girdle_club_set_rate(&test.call, club, "repair kit", "0"));
  assert_ok(&test, add_stock(&test.call, club, &clear, 40));
  zone = zone_of("edge", 1, 90, &clear, 1);
  assert_ok(&test, girdle_club_plan(&test.call, club, &zone, 1, GIRDLE_PLAN_MONEY, 0, &count, &plan));
  assert_int_equal(count, 40);
  assert_int_equal(plan.cost_minor, 0);
  girdle_club_free(club);
}

static void club_plan_uses_up_the_drawer(void **state) {
  girdle_plan_zone zones[2];
  girdle_stone mixed[3];
  girdle_club *club;
  int64_t counts[2], blacks, clears;
  girdle_plan_sum plan;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, shop(&test.call, &club));
  assert_ok(&test, add_stock(&test.call, club, &black, 50));
  assert_ok(&test, add_stock(&test.call, club, &clear, 70));
  assert_ok(&test, add_stock(&test.call, club, &clear, 5)); /* another lot */
  mixed[0] = black;
  mixed[1] = clear;
  mixed[2] = clear;
  zones[0] = zone_of("edge", 1, 20, &black, 1);
  zones[1] = zone_of("field", 2, 500, mixed, 3);
  assert_ok(&test, girdle_club_plan(&test.call, club, zones, 2, GIRDLE_PLAN_STOCK, 0, counts, &plan));
  assert_int_equal(counts[0], 20);
  blacks = 20 + (counts[1] + 2) / 3;
  clears = counts[1] - (counts[1] + 2) / 3;
  assert_true(blacks <= 50 && clears <= 75);
  assert_true(50 - blacks < 1 || 75 - clears < 2); /* less than one sequence is left of the scarcest */
  assert_int_equal(counts[1], 90);
  girdle_club_free(club);
}

static int64_t blacks_of(int64_t edge, int64_t field) {
  return edge + (field + 2) / 3;
}

/* What the first zone lacks does not stop the others: here the edge runs out of red stones. */
static void club_plan_goes_on_where_one_kind_is_used_up(void **state) {
  uint64_t random = 5;
  girdle_club *club;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int round = 0; round < 30; round++) {
    girdle_plan_zone zones[3];
    girdle_stone mixed[3];
    int64_t counts[3], reds = (int64_t)(test_random(&random) % 30), blacks = (int64_t)(test_random(&random) % 40),
                       clears = (int64_t)(test_random(&random) % 40);
    girdle_plan_sum plan;
    assert_ok(&test, shop(&test.call, &club));
    assert_ok(&test, add_stock(&test.call, club, &red, reds));
    assert_ok(&test, add_stock(&test.call, club, &black, blacks));
    assert_ok(&test, add_stock(&test.call, club, &clear, clears));
    mixed[0] = black;
    mixed[1] = clear;
    mixed[2] = clear;
    zones[0] = zone_of("edge", 1, 20, &red, 1);
    zones[1] = zone_of("field", 1, 60, mixed, 3);
    zones[2] = zone_of("hem", 2, 25, &black, 1);
    assert_ok(&test, girdle_club_plan(&test.call, club, zones, 3, GIRDLE_PLAN_STOCK, 0, counts, &plan));
    /* no kind is exceeded, and each zone is at its most or lacks its very next stone */
    assert_true(counts[0] <= reds && blacks_of(counts[2], counts[1]) <= blacks);
    assert_true(counts[1] - (counts[1] + 2) / 3 <= clears);
    assert_true(counts[0] == 20 || counts[0] == reds);
    assert_true(counts[2] == 25 || blacks_of(counts[2], counts[1]) == blacks);
    if (counts[1] < 60 && counts[1] % 3 == 0) assert_true(blacks_of(counts[2], counts[1]) == blacks);
    if (counts[1] < 60 && counts[1] % 3) assert_true(counts[1] - (counts[1] + 2) / 3 == clears);
    assert_int_equal(plan.pieces, counts[0] + counts[1] + counts[2]);
    girdle_club_free(club);
  }
  assert_int_equal(test.live_bytes, 0);
}

/* Of one kind, what so many stones of a zone take out of the drawer: each of its pieces begins the sequence anew. */
static int64_t taken(const girdle_plan_zone *zone, int64_t count, const girdle_stone *kind) {
  int64_t alike = zone->alike > 1 ? zone->alike : 1, sum = 0;
  for (int64_t at = 0; at < count / alike; at++)
    sum += girdle_stone_equal(&zone->stones[at % (int64_t)zone->stone_count], kind) ? alike : 0;
  return sum;
}

static int64_t left_of(const girdle_plan_zone *zones, const int64_t *counts, uint64_t n, const girdle_stone *kind,
                       int64_t stock) {
  for (uint64_t i = 0; i < n; i++)
    stock -= taken(&zones[i], counts[i], kind);
  return stock;
}

/* No kind is exceeded, and each zone is at its most or lacks the next stone of one of its pieces. */
static void assert_used_up(const girdle_plan_zone *zones, const int64_t *counts, uint64_t n, const int64_t *stock) {
  const girdle_stone *const kinds[] = {&black, &clear, &red};
  for (uint64_t kind = 0; kind < 3; kind++) {
    int64_t left = left_of(zones, counts, n, kinds[kind], stock[kind]);
    assert_true(left >= 0);
    for (uint64_t i = 0; i < n; i++) {
      int64_t alike = zones[i].alike > 1 ? zones[i].alike : 1;
      const girdle_stone *next = &zones[i].stones[counts[i] / alike % (int64_t)zones[i].stone_count];
      if (counts[i] < zones[i].most && girdle_stone_equal(next, kinds[kind])) assert_true(left < alike);
    }
  }
}

static void club_plan_takes_no_stone_for_a_pair_that_has_none(void **state) {
  girdle_plan_zone zones[2];
  girdle_club *club;
  int64_t counts[2];
  girdle_plan_sum plan;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, shop(&test.call, &club));
  assert_ok(&test, add_stock(&test.call, club, &red, 5));
  zones[0] = zone_of("cuff", 1, 40, &black, 1);
  strcpy(zones[0].side, "pair");
  zones[0].alike = 2;
  zones[1] = zone_of("back", 2, 100, &clear, 1);
  assert_ok(&test, girdle_club_plan(&test.call, club, zones, 2, GIRDLE_PLAN_STOCK, 0, counts, &plan));
  assert_true(counts[0] == 0 && counts[1] == 0 && plan.pieces == 0);
  assert_int_equal(plan.cost_minor, 0);
  girdle_club_free(club);
}

static void club_plan_uses_up_the_drawer_beside_pieces_that_are_alike(void **state) {
  uint64_t random = 11;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int round = 0; round < rounds(120); round++) {
    girdle_plan_zone zones[4];
    girdle_stone mixed[3];
    girdle_club *club;
    int64_t counts[4], stock[3];
    girdle_plan_sum plan;
    assert_ok(&test, shop(&test.call, &club));
    mixed[0] = black;
    mixed[1] = clear;
    mixed[2] = red;
    for (int kind = 0; kind < 3; kind++) {
      stock[kind] = (int64_t)(test_random(&random) % 60);
      assert_ok(&test, add_stock(&test.call, club, &mixed[kind], stock[kind]));
    }
    for (int i = 0; i < 4; i++) {
      int alike = 1 + (int)(test_random(&random) % 4);
      uint64_t first = test_random(&random) % 3;
      zones[i] = zone_of("zone", 1 + (int32_t)(test_random(&random) % 3), alike * (int64_t)(test_random(&random) % 50),
                         mixed + first, 1 + test_random(&random) % (3 - first));
      zones[i].alike = alike;
    }
    assert_ok(&test, girdle_club_plan(&test.call, club, zones, 4, GIRDLE_PLAN_STOCK, 0, counts, &plan));
    assert_used_up(zones, counts, 4, stock);
    assert_int_equal(plan.pieces, counts[0] + counts[1] + counts[2] + counts[3]);
    girdle_club_free(club);
  }
  assert_int_equal(test.live_bytes, 0);
}

/* One zone after one sequence: no kind is exceeded, and of the scarcest less than one sequence is left. */
static void club_plan_leaves_less_than_a_sequence_of_the_scarcest(void **state) {
  uint64_t random = 5;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int round = 0; round < rounds(300); round++) {
    girdle_stone kinds[3], sequence[6];
    int64_t stock[3], in_sequence[3] = {0}, used[3] = {0}, count;
    uint64_t length = 1 + test_random(&random) % 6;
    girdle_plan_zone zone;
    girdle_plan_sum plan;
    girdle_club *club;
    int scarce = 0;
    assert_ok(&test, shop(&test.call, &club));
    kinds[0] = black, kinds[1] = clear, kinds[2] = red;
    for (int kind = 0; kind < 3; kind++) {
      stock[kind] = (int64_t)(test_random(&random) % 90);
      assert_ok(&test, add_stock(&test.call, club, &kinds[kind], stock[kind]));
    }
    for (uint64_t at = 0; at < length; at++) {
      uint64_t kind = test_random(&random) % 3;
      sequence[at] = kinds[kind];
      in_sequence[kind]++;
    }
    zone = zone_of("field", 1, 10000, sequence, length);
    assert_ok(&test, girdle_club_plan(&test.call, club, &zone, 1, GIRDLE_PLAN_STOCK, 0, &count, &plan));
    for (int64_t at = 0; at < count; at++)
      for (int kind = 0; kind < 3; kind++)
        used[kind] += girdle_stone_equal(&sequence[(uint64_t)at % length], &kinds[kind]);
    for (int kind = 0; kind < 3; kind++) {
      assert_true(used[kind] <= stock[kind]);
      scarce |= in_sequence[kind] > 0 && stock[kind] - used[kind] < in_sequence[kind];
    }
    assert_true(scarce);
    girdle_club_free(club);
  }
  assert_int_equal(test.live_bytes, 0);
}

/* Shops with shipping that falls away, a least order and packs that run out, beside every number of pieces. */
static void club_plan_is_the_greatest_in_any_shop(void **state) {
  uint64_t random = 77;
  test_call test;
  test_begin(&test);
  (void)state;
  for (int round = 0; round < rounds(12); round++) {
    girdle_plan_zone zones[2];
    girdle_supplier other;
    girdle_price_row row;
    girdle_club *club;
    assert_ok(&test, shop(&test.call, &club));
    memset(&other, 0, sizeof other);
    strcpy(other.name, "Birch Lane");
    strcpy(other.currency.code, "EUR");
    other.currency.exponent = 2;
    other.shipping_minor = 300 + (int64_t)(test_random(&random) % 400);
    other.free_from_minor = 700 + (int64_t)(test_random(&random) % 1500);
    other.least_order_minor = (int64_t)(test_random(&random) % 900);
    assert_ok(&test, girdle_club_add_supplier(&test.call, club, &other));
    memset(&row, 0, sizeof row);
    strcpy(row.supplier, other.name);
    strcpy(row.pack, "pack");
    row.pack_pieces = 6 + (int64_t)(test_random(&random) % 20);
    row.price_minor = 40 + (int64_t)(test_random(&random) % 200);
    row.at_most = (int64_t)(test_random(&random) % 6);
    row.stone = clear;
    assert_ok(&test, girdle_club_add_price(&test.call, club, &row));
    zones[0] = zone_of("edge", 1, 20, &red, 1);
    zones[1] = zone_of("field", 2, 60, &clear, 1);
    zones[1].alike = 2;
    for (int64_t money = 0; money < 4000; money += 577) {
      int64_t counts[2], greatest = 0;
      girdle_plan_sum plan;
      for (int64_t pieces = 1; pieces <= 80; pieces++) {
        int64_t cost = cost_of(&test.call, club, zones, 2, pieces);
        if (cost >= 0 && cost <= money) greatest = pieces <= 20 ? pieces : pieces - pieces % 2;
      }
      assert_ok(&test, girdle_club_plan(&test.call, club, zones, 2, GIRDLE_PLAN_MONEY, money, counts, &plan));
      assert_int_equal(plan.pieces, greatest);
      assert_int_equal(counts[1] % 2, 0);
    }
    girdle_club_free(club);
  }
  assert_int_equal(test.live_bytes, 0);
}

/* Beside the plain rule worked one step at a time. */
static void club_plan_grows_pieces_that_are_alike_together(void **state) {
  uint64_t random = 3;
  girdle_club *club;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, girdle_club_new(&test.call, &club));
  black = stone_of("ss20 black");
  for (int round = 0; round < 40; round++) {
    girdle_plan_zone zones[5];
    int64_t counts[5], expected[5] = {0}, sum = 0, planned = 0;
    uint64_t n = 1 + test_random(&random) % 5;
    girdle_plan_sum plan;
    for (uint64_t i = 0; i < n; i++) {
      int32_t alike = 1 + (int32_t)(test_random(&random) % 4);
      zones[i] = zone_of("zone", 1, alike * (int64_t)(test_random(&random) % 20), &black, 1);
      zones[i].alike = alike;
      sum += zones[i].most;
    }
    for (int64_t pieces = 1; pieces <= sum; pieces++) {
      uint64_t best = 0;
      for (uint64_t i = 1; i < n; i++)
        if (zones[i].most * (2 * expected[best] + zones[best].alike) >
            zones[best].most * (2 * expected[i] + zones[i].alike))
          best = i;
      if (planned + zones[best].alike <= pieces) {
        expected[best] += zones[best].alike;
        planned += zones[best].alike;
      }
      assert_ok(&test, girdle_club_plan(&test.call, club, zones, n, GIRDLE_PLAN_PIECES, pieces, counts, &plan));
      assert_memory_equal(counts, expected, n * sizeof *counts);
      assert_int_equal(plan.pieces, planned);
    }
  }
  girdle_club_free(club);
}

/* The work of a planned pair is that of the two zones it is worked as. */
static void club_plan_takes_a_pair_for_two_zones(void **state) {
  girdle_plan_zone pair, two[2];
  girdle_plan_sum as_pair, as_two;
  girdle_club *club;
  int64_t counts[2];
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, shop(&test.call, &club));
  pair = zone_of("cuff", 1, 80, &clear, 1);
  pair.alike = 2;
  strcpy(pair.side, "pair");
  two[0] = two[1] = zone_of("cuff", 1, 40, &clear, 1);
  strcpy(two[0].side, "left");
  strcpy(two[1].side, "right");
  assert_ok(&test, girdle_club_plan(&test.call, club, &pair, 1, GIRDLE_PLAN_PIECES, 61, counts, &as_pair));
  assert_int_equal(counts[0], 60);
  assert_ok(&test, girdle_club_plan(&test.call, club, two, 2, GIRDLE_PLAN_PIECES, 60, counts, &as_two));
  assert_true(as_pair.minutes == as_two.minutes && as_pair.cost_minor == as_two.cost_minor);
  pair.alike = 3;
  assert_status(&test, girdle_club_plan(&test.call, club, &pair, 1, GIRDLE_PLAN_PIECES, 60, counts, &as_pair),
                GIRDLE_ARGUMENT);
  pair.alike = 6;
  pair.most = 81;
  test_again(&test);
  assert_status(&test, girdle_club_plan(&test.call, club, &pair, 1, GIRDLE_PLAN_PIECES, 60, counts, &as_pair),
                GIRDLE_ARGUMENT);
  pair.alike = -1;
  test_again(&test);
  assert_status(&test, girdle_club_plan(&test.call, club, &pair, 1, GIRDLE_PLAN_PIECES, 60, counts, &as_pair),
                GIRDLE_ARGUMENT);
  girdle_club_free(club);
}

static void club_plan_keeps_to_the_evenings(void **state) {
  girdle_plan_zone zone;
  girdle_club *club;
  int64_t count, more;
  girdle_plan_sum plan, next;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, shop(&test.call, &club));
  zone = zone_of("field", 1, 100000, &clear, 1);
  for (int64_t evenings = 1; evenings < 6; evenings++) {
    assert_ok(&test, girdle_club_plan(&test.call, club, &zone, 1, GIRDLE_PLAN_EVENINGS, evenings, &count, &plan));
    assert_int_equal(plan.evenings, evenings);
    assert_ok(&test, girdle_club_plan(&test.call, club, &zone, 1, GIRDLE_PLAN_PIECES, count + 1, &more, &next));
    assert_int_equal(next.evenings, evenings + 1);
  }
  assert_ok(&test, girdle_club_plan(&test.call, club, &zone, 1, GIRDLE_PLAN_EVENINGS, 0, &count, &plan));
  assert_int_equal(count, 0);
  girdle_club_free(club);
}

/* So many evenings for so many stones of each zone. */
static int64_t evenings_of(girdle_call *call, const girdle_club *club, const girdle_plan_zone *zones,
                           const int64_t *pieces, uint64_t n) {
  girdle_plan_zone just[4];
  int64_t counts[4], sum = 0;
  girdle_plan_sum plan;
  for (uint64_t i = 0; i < n; i++) {
    just[i] = zones[i];
    just[i].most = pieces[i];
    sum += pieces[i];
  }
  assert_int_equal(girdle_club_plan(call, club, just, n, GIRDLE_PLAN_PIECES, sum, counts, &plan), GIRDLE_OK);
  assert_memory_equal(counts, pieces, n * sizeof *counts);
  return plan.evenings;
}

static int32_t shop_of_short_evenings(girdle_call *call, girdle_club **out) {
  int32_t status = shop(call, out);
  return status ? status : girdle_club_set_rate(call, *out, "evening", "15 min");
}

/* Each side begins on an evening of its own: one evening is one side's, and is filled. */
static void club_plan_fills_one_evening_with_one_side(void **state) {
  girdle_plan_zone zones[2];
  girdle_club *club;
  int64_t counts[2], best = 0;
  girdle_plan_sum plan;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, shop_of_short_evenings(&test.call, &club));
  zones[0] = zone_of("front", 1, 90, &clear, 1);
  zones[1] = zone_of("back", 1, 90, &clear, 1);
  strcpy(zones[0].side, "front");
  strcpy(zones[1].side, "back");
  for (int64_t front = 0; front <= 90; front++)
    for (int64_t back = 0; back <= 90; back++)
      if (front + back > best && evenings_of(&test.call, club, zones, (int64_t[]){front, back}, 2) <= 1)
        best = front + back;
  assert_ok(&test, girdle_club_plan(&test.call, club, zones, 2, GIRDLE_PLAN_EVENINGS, 1, counts, &plan));
  print_message("front %lld, back %lld, at best %lld\n", (long long)counts[0], (long long)counts[1], (long long)best);
  assert_in_range(best, 10, 89);
  assert_int_equal(plan.pieces, best);
  assert_int_equal(plan.evenings, 1);
  girdle_club_free(club);
}

/* No zone could have a step more. */
static void club_plan_leaves_no_room_in_its_evenings(void **state) {
  static const char *const sides[] = {"front", "back", "both", "pair", ""};
  uint64_t random = 5;
  girdle_club *club;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, shop_of_short_evenings(&test.call, &club));
  for (int round = 0; round < rounds(60); round++) {
    girdle_plan_zone zones[4];
    int64_t counts[4];
    int64_t evenings = 1 + (int64_t)(test_random(&random) % 4);
    uint64_t n = 1 + test_random(&random) % 4;
    girdle_plan_sum plan;
    for (uint64_t i = 0; i < n; i++) {
      zones[i] = zone_of("zone", (int32_t)(test_random(&random) % 3), 2 * (int64_t)(test_random(&random) % 60),
                         test_random(&random) % 2 ? &clear : &black, 1);
      zones[i].name[0] = (char)('a' + i);
      strcpy(zones[i].side, sides[test_random(&random) % 5]);
      zones[i].alike = strcmp(zones[i].side, "pair") == 0 ? 2 : 1;
    }
    assert_ok(&test, girdle_club_plan(&test.call, club, zones, n, GIRDLE_PLAN_EVENINGS, evenings, counts, &plan));
    assert_in_range(plan.evenings, 0, evenings);
    for (uint64_t i = 0; i < n; i++) {
      if (counts[i] == zones[i].most) continue;
      counts[i] += zones[i].alike;
      assert_true(evenings_of(&test.call, club, zones, counts, n) > evenings);
      counts[i] -= zones[i].alike;
    }
  }
  girdle_club_free(club);
}

static void club_plan_refuses(void **state) {
  girdle_plan_zone zone;
  girdle_stone gold = stone_of("ss48 gold");
  girdle_club *club;
  int64_t count;
  girdle_plan_sum plan;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_ok(&test, shop(&test.call, &club));
  zone = zone_of("field", 1, 100, &gold, 1);
  assert_status(&test, girdle_club_plan(&test.call, club, &zone, 1, GIRDLE_PLAN_MONEY, 9999, &count, &plan),
                GIRDLE_GEOMETRY);
  test_again(&test);
  assert_ok(&test, girdle_club_plan(&test.call, club, &zone, 1, GIRDLE_PLAN_PIECES, 10, &count, &plan));
  assert_int_equal(plan.cost_minor, -1);
  assert_status(&test, girdle_club_plan(&test.call, club, &zone, 1, GIRDLE_PLAN_END, 1, &count, &plan),
                GIRDLE_ARGUMENT);
  assert_status(&test, girdle_club_plan(&test.call, club, &zone, 1, GIRDLE_PLAN_PIECES, -1, &count, &plan),
                GIRDLE_ARGUMENT);
  assert_status(&test, girdle_club_plan(&test.call, club, &zone, 0, GIRDLE_PLAN_PIECES, 1, &count, &plan),
                GIRDLE_ARGUMENT);
  zone.most = 0; /* nothing wished, nothing planned */
  assert_ok(&test, girdle_club_plan(test_again(&test), club, &zone, 1, GIRDLE_PLAN_PIECES, 10, &count, &plan));
  assert_int_equal(plan.pieces, 0);
  zone.most = -5;
  assert_status(&test, girdle_club_plan(&test.call, club, &zone, 1, GIRDLE_PLAN_PIECES, 1, &count, &plan),
                GIRDLE_ARGUMENT);
  zone.most = 5;
  zone.stone_count = 0;
  assert_status(&test, girdle_club_plan(&test.call, club, &zone, 1, GIRDLE_PLAN_PIECES, 1, &count, &plan),
                GIRDLE_ARGUMENT);
  girdle_club_free(club);
}

static int32_t plan_all(girdle_call *call) {
  girdle_plan_zone zone;
  girdle_club *club = NULL;
  int64_t count;
  girdle_plan_sum plan;
  int32_t status = shop(call, &club);
  if (status) return status;
  zone = zone_of("field", 1, 9, &clear, 1);
  status = girdle_club_plan(call, club, &zone, 1, GIRDLE_PLAN_MONEY, 900, &count, &plan);
  if (!status) status = girdle_club_plan(call, club, &zone, 1, GIRDLE_PLAN_STOCK, 0, &count, &plan);
  girdle_club_free(club);
  return status;
}

static void club_plan_survives_every_refused_allocation(void **state) {
  (void)state;
  test_sweep_allocations(plan_all);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(club_plan_fills_the_first_zones_first),
      cmocka_unit_test(club_plan_grows_one_stone_at_a_time),
      cmocka_unit_test(club_plan_spends_money_to_the_last_stone),
      cmocka_unit_test(club_plan_costs_nothing_where_all_is_there),
      cmocka_unit_test(club_plan_uses_up_the_drawer),
      cmocka_unit_test(club_plan_goes_on_where_one_kind_is_used_up),
      cmocka_unit_test(club_plan_takes_no_stone_for_a_pair_that_has_none),
      cmocka_unit_test(club_plan_uses_up_the_drawer_beside_pieces_that_are_alike),
      cmocka_unit_test(club_plan_leaves_less_than_a_sequence_of_the_scarcest),
      cmocka_unit_test(club_plan_is_the_greatest_in_any_shop),
      cmocka_unit_test(club_plan_grows_pieces_that_are_alike_together),
      cmocka_unit_test(club_plan_takes_a_pair_for_two_zones),
      cmocka_unit_test(club_plan_keeps_to_the_evenings),
      cmocka_unit_test(club_plan_fills_one_evening_with_one_side),
      cmocka_unit_test(club_plan_leaves_no_room_in_its_evenings),
      cmocka_unit_test(club_plan_refuses),
      cmocka_unit_test(club_plan_survives_every_refused_allocation),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
