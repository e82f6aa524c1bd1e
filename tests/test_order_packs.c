/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

/* Every combination, compared by the promise of girdle_packs_cheapest and nothing else. */
typedef struct trial {
  const int64_t *pieces, *prices, *at_most;
  uint64_t packs;
  int64_t need, chosen[8], best[8], best_cost, best_over, best_packs;
  int found;
} trial;

static int better(const trial *search, int64_t cost, int64_t over, int64_t packs) {
  if (!search->found) return 1;
  if (cost != search->best_cost) return cost < search->best_cost;
  if (over != search->best_over) return over < search->best_over;
  if (packs != search->best_packs) return packs < search->best_packs;
  for (uint64_t i = 0; i < search->packs; i++)
    if (search->chosen[i] != search->best[i]) return search->chosen[i] > search->best[i];
  return 0;
}

static void try_all(trial *search, uint64_t at, int64_t held, int64_t cost, int64_t packs) {
  if (at < search->packs) {
    int64_t most = (search->need - held > 0 ? search->need - held : 0) / search->pieces[at] + 1;
    if (search->at_most[at] >= 0 && most > search->at_most[at]) most = search->at_most[at];
    for (int64_t n = 0; n <= most; n++) {
      search->chosen[at] = n;
      try_all(search, at + 1, held + n * search->pieces[at], cost + n * search->prices[at], packs + n);
    }
    return;
  }
  if (held < search->need || !better(search, cost, held - search->need, packs)) return;
  search->found = 1;
  search->best_cost = cost;
  search->best_over = held - search->need;
  search->best_packs = packs;
  memcpy(search->best, search->chosen, sizeof search->best);
}

static void packs_cheapest_agrees_with_every_combination(void **state) {
  uint64_t seed = 5;
  int covered = 0;
  (void)state;
  for (int round = 0; round < 6000; round++) {
    int64_t pieces[8], prices[8], at_most[8], got[8], cost = -1;
    trial search = {
        pieces, prices, at_most, 1 + test_random(&seed) % 4, (int64_t)(test_random(&seed) % 60), {0}, {0}, 0, 0, 0, 0};
    int64_t unit = 1 + (int64_t)(test_random(&seed) % 3), largest = 2 + (int64_t)(test_random(&seed) % 14);
    int32_t status;
    for (uint64_t i = 0; i < search.packs; i++) {
      pieces[i] = unit * (1 + (int64_t)(test_random(&seed) % (uint64_t)largest));
      prices[i] = (int64_t)(test_random(&seed) % 4 ? test_random(&seed) % 20 : (uint64_t)pieces[i] * 2);
      at_most[i] = test_random(&seed) % 2 ? -1 : (int64_t)(test_random(&seed) % 12);
    }
    try_all(&search, 0, 0, 0, 0);
    status = girdle_packs_cheapest(NULL, search.need, pieces, prices, at_most, search.packs, got, &cost);
    assert_int_equal(status, search.found ? GIRDLE_OK : GIRDLE_GEOMETRY);
    if (!search.found) continue;
    covered++;
    assert_int_equal(cost, search.best_cost);
    for (uint64_t i = 0; i < search.packs; i++)
      assert_int_equal(got[i], search.best[i]);
  }
  assert_true(covered > 4000);
}

/* A need so large that most of it never enters the table costs no more than one reckoned the long way. */
static void packs_cheapest_takes_large_needs(void **state) {
  static const int64_t pieces[] = {100, 144, 1440}, prices[] = {210, 290, 2500};
  int64_t got[3], cost;
  (void)state;
  assert_int_equal(girdle_packs_cheapest(NULL, 1000000000, pieces, prices, NULL, 3, got, &cost), GIRDLE_OK);
  assert_true(100 * got[0] + 144 * got[1] + 1440 * got[2] >= 1000000000);
  assert_int_equal(cost, 210 * got[0] + 290 * got[1] + 2500 * got[2]);
  /* 694,444 of the large pack cover all but 640 pieces: 144 + 5 x 100 is 644, for 1,340 */
  assert_int_equal(cost, INT64_C(2500) * 694444 + 290 + 5 * 210);
}

static void packs_cheapest_keeps_limits_at_large_needs(void **state) {
  static const int64_t pieces[] = {7, 144, 1440}, prices[] = {30, 290, 2500}, at_most[] = {-1, 50000, 60000};
  int64_t got[3], cost;
  (void)state;
  assert_int_equal(girdle_packs_cheapest(NULL, 100000000, pieces, prices, at_most, 3, got, &cost), GIRDLE_OK);
  assert_int_equal(got[2], 60000);
  assert_int_equal(got[1], 50000);
  assert_int_equal(got[0], (100000000 - 144 * 50000 - 1440 * 60000 + 6) / 7);
}

static void packs_cheapest_refuses(void **state) {
  int64_t pieces[] = {144, 1440}, prices[] = {300, 2500}, at_most[] = {2, 0}, got[2] = {9, 9}, cost = 7;
  test_call test;
  test_begin(&test);
  (void)state;
  assert_status(&test, girdle_packs_cheapest(&test.call, 300, pieces, prices, at_most, 2, got, &cost), GIRDLE_GEOMETRY);
  assert_non_null(strstr(test.error.message, "288"));
  assert_int_equal(girdle_packs_cheapest(NULL, 300, pieces, prices, at_most, 0, got, &cost), GIRDLE_GEOMETRY);
  assert_int_equal(girdle_packs_cheapest(NULL, -1, pieces, prices, NULL, 2, got, &cost), GIRDLE_ARGUMENT);
  prices[1] = -1;
  assert_int_equal(girdle_packs_cheapest(NULL, 300, pieces, prices, NULL, 2, got, &cost), GIRDLE_ARGUMENT);
  prices[1] = INT64_MAX;
  assert_int_equal(girdle_packs_cheapest(NULL, 300, pieces, prices, NULL, 2, got, &cost), GIRDLE_OVERFLOW);
  pieces[0] = 0;
  assert_int_equal(girdle_packs_cheapest(NULL, 300, pieces, prices, NULL, 2, got, &cost), GIRDLE_ARGUMENT);
  pieces[0] = 1000000007;
  pieces[1] = 999999937;
  prices[1] = 2500;
  assert_int_equal(girdle_packs_cheapest(NULL, 900000000000, pieces, prices, NULL, 2, got, &cost), GIRDLE_LIMIT);
  assert_int_equal(got[0], 9);
  assert_int_equal(cost, 7);
}

static int32_t cover_with_packs(girdle_call *call) {
  static const int64_t pieces[] = {50, 72, 1440}, prices[] = {180, 250, 3900}, at_most[] = {20, -1, -1};
  int64_t got[3], cost;
  return girdle_packs_cheapest(call, 1500, pieces, prices, at_most, 3, got, &cost);
}

static void packs_cheapest_leaks_nothing(void **state) {
  (void)state;
  test_sweep_allocations(cover_with_packs);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(packs_cheapest_agrees_with_every_combination),
      cmocka_unit_test(packs_cheapest_takes_large_needs),
      cmocka_unit_test(packs_cheapest_keeps_limits_at_large_needs),
      cmocka_unit_test(packs_cheapest_refuses),
      cmocka_unit_test(packs_cheapest_leaks_nothing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
