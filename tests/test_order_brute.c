/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "shop.h"

/* Small random markets, against every combination of packs there is. */

enum { LINES = 3 };

typedef struct trial {
  const shop *shop;
  uint64_t rows;
  int64_t packs[SHOP_ROWS], needs[4], lines[4][LINES];
  int64_t cost, left, suppliers;
  int found;
} trial;

/* The number in a stone's colour is its place in needs. */
static int place_of(const girdle_price_row *row) {
  return row->stone.colour[strlen(row->stone.colour) - 1] - 'a';
}

static int one_supplier_a_stone(const trial *brute) {
  const char *from[4] = {0};
  for (uint64_t r = 0; r < brute->rows; r++) {
    const girdle_price_row *row = &brute->shop->rows[r];
    int place = place_of(row);
    if (brute->packs[r] == 0) continue;
    if (from[place] && strcmp(from[place], row->supplier) != 0) return 0;
    from[place] = row->supplier;
  }
  return 1;
}

/* Whether lines [at, LINES) come whole from suppliers who hold so much. */
static int come_whole(const int64_t *lines, int at, int64_t *held, uint64_t suppliers) {
  if (at == LINES) return 1;
  for (uint64_t s = 0; s < suppliers; s++) {
    int whole;
    held[s] -= lines[at];
    whole = held[s] >= 0 && come_whole(lines, at + 1, held, suppliers);
    held[s] += lines[at];
    if (whole) return 1;
  }
  return 0;
}

/* Whether all lines come whole from so many packs of each row. */
static int lines_come_whole(const trial *brute, const int64_t *packs, int stones) {
  for (int i = 0; i < stones; i++) {
    int64_t held[SHOP_SUPPLIERS] = {0};
    for (uint64_t r = 0; r < brute->rows; r++)
      for (uint64_t s = 0; s < brute->shop->options.supplier_count; s++)
        if (place_of(&brute->shop->rows[r]) == i &&
            strcmp(brute->shop->rows[r].supplier, brute->shop->suppliers[s].name) == 0)
          held[s] += packs[r] * brute->shop->rows[r].pack_pieces;
    if (!come_whole(brute->lines[i], 0, held, brute->shop->options.supplier_count)) return 0;
  }
  return 1;
}

static void weigh(trial *brute, int stones) {
  int64_t held[4] = {0}, cost = 0, left = 0, suppliers = 0;
  if (!(brute->shop->options.flags & GIRDLE_ORDER_SPLIT) && !one_supplier_a_stone(brute)) return;
  if (!lines_come_whole(brute, brute->packs, stones)) return;
  for (uint64_t s = 0; s < brute->shop->options.supplier_count; s++) {
    const girdle_supplier *of = &brute->shop->suppliers[s];
    int64_t goods = 0, packs = 0;
    for (uint64_t r = 0; r < brute->rows; r++) {
      const girdle_price_row *row = &brute->shop->rows[r];
      if (strcmp(row->supplier, of->name) != 0) continue;
      goods += brute->packs[r] * row->price_minor;
      packs += brute->packs[r];
      held[place_of(row)] += brute->packs[r] * row->pack_pieces;
    }
    if (packs == 0) continue;
    if (goods < of->least_order_minor) return;
    suppliers++;
    cost += goods + (of->free_from_minor >= 0 && goods >= of->free_from_minor ? 0 : of->shipping_minor);
  }
  for (int i = 0; i < stones; i++) {
    if (held[i] < brute->needs[i]) return;
    left += held[i] - brute->needs[i];
  }
  if (brute->found && (cost > brute->cost || (cost == brute->cost && left > brute->left) ||
                       (cost == brute->cost && left == brute->left && suppliers >= brute->suppliers)))
    return;
  brute->found = 1;
  brute->cost = cost;
  brute->left = left;
  brute->suppliers = suppliers;
}

/* Five packs of 15 or more come to the largest threshold, 75, and cover the largest need, 15, by threes. */
static void try_packs(trial *brute, uint64_t row, int stones) {
  int64_t most;
  if (row == brute->rows) {
    weigh(brute, stones);
    return;
  }
  most = brute->shop->rows[row].at_most < 0 ? 5 : brute->shop->rows[row].at_most;
  for (int64_t n = 0; n <= most; n++) {
    brute->packs[row] = n;
    try_packs(brute, row + 1, stones);
  }
}

/* A stone's need is that of up to three lines. */
static void random_need(trial *brute, shop *at, uint64_t *seed, int stone, const char *text) {
  static const char *const zones[LINES] = {"bodice", "sleeve", "hem"};
  const int parts = 1 + (int)(test_random(seed) % LINES);
  for (int i = 0; i < LINES; i++) {
    brute->lines[stone][i] = i < parts ? 1 + (int64_t)(test_random(seed) % (uint64_t)(15 / parts)) : 0;
    brute->needs[stone] += brute->lines[stone][i];
    if (i < parts) shop_line(at, "A1", zones[i], "front", text, brute->lines[stone][i]);
  }
}

static void random_shop(trial *brute, shop *at, uint64_t *seed, int stones) {
  static const char *const colours[] = {"ss20 shade a", "ss16 shade b", "ss10 shade c"};
  static const char *const names[] = {"Anchor Beads", "Brightside", "Coral Lane"};
  const int sellers = 1 + (int)(test_random(seed) % 3);
  shop_open(at);
  for (int s = 0; s < sellers; s++) { /* one draw a statement, so that every compiler draws the same */
    girdle_supplier *made = shop_supplier(at, names[s], (int64_t)(test_random(seed) % 60), -1, 0);
    if (test_random(seed) % 3) made->free_from_minor = (int64_t)(test_random(seed) % 75);
    if (test_random(seed) % 3 == 0) made->least_order_minor = (int64_t)(test_random(seed) % 60);
  }
  for (int i = 0; i < stones; i++) {
    random_need(brute, at, seed, i, colours[i]);
    for (int s = 0; s < sellers; s++)
      if (at->options.price_count < 6 && test_random(seed) % 5) {
        girdle_price_row *row = shop_price(at, names[s], colours[i], 3 + (int64_t)(test_random(seed) % 9), 15);
        row->price_minor += (int64_t)(test_random(seed) % 40);
        if (test_random(seed) % 3 == 0) row->at_most = (int64_t)(test_random(seed) % 5);
      }
  }
}

static void order_plan_agrees_with_every_combination(void **state) {
  uint64_t seed = 77;
  int compared = 0, bound_by_thresholds = 0;
  (void)state;
  for (int round = 0; round < 1500; round++) {
    shop at;
    trial brute = {.shop = &at};
    int stones = 1 + (int)(test_random(&seed) % 3);
    const girdle_order *order;
    girdle_order_total total;
    const girdle_order_stone *of;
    int64_t left = 0;
    uint64_t count;
    random_shop(&brute, &at, &seed, stones);
    brute.rows = at.options.price_count;
    try_packs(&brute, 0, stones);
    order = shop_plan(&at);
    total = sum_of(order);
    of = girdle_order_stones(order, &count);
    for (uint64_t i = 0; i < count; i++)
      left += of[i].left_over;
    if (brute.found) {
      compared++;
      bound_by_thresholds += total.shipping_minor == 0;
      assert_int_equal(total.unpriced_stones, 0);
      assert_int_equal(total.total_minor, brute.cost);
      assert_int_equal(total.bound_minor, brute.cost);
      assert_int_equal(left, brute.left);
      girdle_order_suppliers(order, &count);
      assert_int_equal(count, brute.suppliers);
    }
    shop_close(&at);
  }
  assert_true(compared > 700);
  assert_true(bound_by_thresholds > 100);
}

/* All the packs that there are; where there is no limit, enough for everything. */
static int could_come_whole(const trial *brute, int stones) {
  int64_t all[SHOP_ROWS];
  for (uint64_t r = 0; r < brute->rows; r++)
    all[r] = brute->shop->rows[r].at_most < 0 ? 100 : brute->shop->rows[r].at_most;
  return lines_come_whole(brute, all, stones);
}

/* Split stones: each line whole from one supplier, as cheap as can be, and proved. */
static void order_plan_of_split_stones_agrees_with_every_combination(void **state) {
  uint64_t seed = 78;
  int compared = 0, proved = 0;
  (void)state;
  for (int round = 0; round < 2000; round++) {
    shop at;
    trial brute = {.shop = &at};
    int stones = 1 + (int)(test_random(&seed) % 3);
    const girdle_order *order;
    girdle_order_total total;
    const girdle_order_stone *of;
    int64_t left = 0;
    uint64_t count;
    random_shop(&brute, &at, &seed, stones);
    at.options.flags = GIRDLE_ORDER_SPLIT;
    brute.rows = at.options.price_count;
    try_packs(&brute, 0, stones);
    order = shop_plan(&at);
    total = sum_of(order);
    of = girdle_order_stones(order, &count);
    for (uint64_t i = 0; i < count; i++)
      left += of[i].left_over;
    if (brute.found && total.unpriced_stones == 0 && could_come_whole(&brute, stones)) {
      compared++;
      proved += total.bound_minor == total.total_minor;
      assert_int_equal(brute.cost, total.total_minor);
      assert_int_equal(brute.left, left);
    }
    shop_close(&at);
  }
  assert_true(compared > 1000);
  assert_int_equal(proved, compared);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(order_plan_agrees_with_every_combination),
      cmocka_unit_test(order_plan_of_split_stones_agrees_with_every_combination),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
