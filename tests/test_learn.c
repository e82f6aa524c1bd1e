/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

static girdle_log_row row_of(const char *tag, const char *zone, int64_t used, int64_t lost, int64_t fell_off,
                             double minutes) {
  girdle_log_row row = {.planned = used, .used = used, .lost = lost, .fell_off = fell_off, .minutes = minutes};
  snprintf(row.tag, sizeof row.tag, "%s", tag);
  snprintf(row.zone, sizeof row.zone, "%s", zone);
  return row;
}

/* ---- shares and pace */

static void learn_draws_shares_towards_the_prior_while_jobs_are_few(void **state) {
  girdle_log_row rows[] = {row_of("A1", "collar", 1000, 100, 20, 200), row_of("A1", "cuffs", 200, 20, 4, 40),
                           row_of("A2", "collar", 1200, 120, 24, 240), row_of("A3", "collar", 1200, 120, -1, NAN)};
  girdle_learned learned;
  (void)state;
  assert_int_equal(girdle_learn(NULL, NULL, 0, 0.05, 2, &learned), GIRDLE_OK);
  assert_near(learned.lost_share, 0.05, 1e-15);
  assert_true(isnan(learned.seconds_a_stone));
  assert_int_equal(girdle_learn(NULL, rows, 2, 0.05, 2, &learned), GIRDLE_OK);
  assert_int_equal(learned.jobs, 1);
  assert_near(learned.lost_share, (0.1 + 2 * 0.05) / 3, 1e-12);
  assert_near(learned.seconds_a_stone, 12, 1e-12);
  assert_int_equal(girdle_learn(NULL, rows, 4, 0.05, 2, &learned), GIRDLE_OK);
  assert_int_equal(learned.jobs, 3);
  assert_near(learned.lost_share, (3 * 0.1 + 2 * 0.05) / 5, 1e-12);
  assert_near(learned.fell_off_share, 48.0 / 2400, 1e-12);
  assert_int_equal(girdle_learn(NULL, rows, 4, 0.05, 0, &learned), GIRDLE_OK);
  assert_near(learned.lost_share, 0.1, 1e-12);
}

static void learn_refuses_what_cannot_be(void **state) {
  girdle_log_row row = row_of("A1", "collar", 100, 5, 0, 20);
  girdle_learned learned;
  (void)state;
  assert_int_equal(girdle_learn(NULL, &row, 1, NAN, 2, &learned), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_learn(NULL, &row, 1, 0.05, -1, &learned), GIRDLE_ARGUMENT);
  row.lost = -2;
  assert_int_equal(girdle_learn(NULL, &row, 1, 0.05, 2, &learned), GIRDLE_ARGUMENT);
  row.lost = 5;
  row.minutes = INFINITY;
  assert_int_equal(girdle_learn(NULL, &row, 1, 0.05, 2, &learned), GIRDLE_ARGUMENT);
}

static void log_remembered_and_card_make_rows(void **state) {
  girdle_stone stone;
  girdle_log_row row;
  test_call test;
  (void)state;
  assert_int_equal(girdle_stone_parse(NULL, "ss20 black", &stone), GIRDLE_OK);
  assert_int_equal(girdle_log_remembered(NULL, "A1", 1440, 5, &row), GIRDLE_OK);
  assert_int_equal(row.used, 1440);
  assert_near(row.minutes, 300, 0);
  assert_int_equal(row.lost, -1);
  /* had 30, bought 288, 40 left: 278 used, of which 260 were planned */
  assert_int_equal(girdle_log_card(NULL, "A1", &stone, 260, 30, 288, 40, &row), GIRDLE_OK);
  assert_int_equal(row.used, 278);
  assert_int_equal(row.lost, 18);
  assert_int_equal(girdle_log_card(NULL, "A1", &stone, 300, 30, 288, 40, &row), GIRDLE_OK);
  assert_int_equal(row.used, 278);
  assert_int_equal(row.lost, 0);
  test_begin(&test);
  assert_status(&test, girdle_log_card(&test.call, "A1", &stone, 260, 30, 288, 319, &row), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "left");
}

/* Every number of a row, of a card and of what is remembered. */
static void log_rows_refuse_each_number_that_cannot_be(void **state) {
  girdle_learned learned;
  girdle_learned_part parts[1];
  girdle_stone stone;
  girdle_log_row made;
  uint64_t count;
  (void)state;
  girdle_stone_parse(NULL, "ss20 black", &stone);
  for (int i = 0; i < 6; i++) {
    girdle_log_row row = row_of("A1", "collar", 100, 5, 0, 20);
    if (i == 0) row.day = 5000000;
    if (i == 1) row.planned = -2;
    if (i == 2) row.used = INT64_MAX;
    if (i == 3) row.lost = -2;
    if (i == 4) row.fell_off = -2;
    if (i == 5) row.minutes = -1;
    assert_int_equal(girdle_learn(NULL, &row, 1, 0.05, 2, &learned), GIRDLE_ARGUMENT);
    assert_int_equal(girdle_learn_parts(NULL, &row, 1, 0, parts, 1, &count), GIRDLE_ARGUMENT);
  }
  for (int i = 0; i < 4; i++) {
    int64_t numbers[4] = {100, 10, 144, 20};
    numbers[i] = -1;
    assert_int_equal(girdle_log_card(NULL, "A1", &stone, numbers[0], numbers[1], numbers[2], numbers[3], &made),
                     GIRDLE_ARGUMENT);
  }
  assert_int_equal(girdle_log_remembered(NULL, "A1", 0, 5, &made), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_log_remembered(NULL, "A1", 144, -5, &made), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_log_remembered(NULL, "A1", 144, NAN, &made), GIRDLE_OK);
  assert_true(isnan(made.minutes));
}

/* ---- parts */

static void learn_parts_names_the_unusual_job(void **state) {
  girdle_log_row rows[8];
  girdle_learned_part parts[8];
  uint64_t count;
  (void)state;
  for (int i = 0; i < 6; i++) {
    char tag[16];
    snprintf(tag, sizeof tag, "A%d", i);
    rows[i] = row_of(tag, "collar", 1000, 50 + i, 10, 200 + 3 * i);
  }
  rows[6] = row_of("B1", "cuffs", 1000, 400, 10, 210);
  rows[7] = row_of("B2", "cuffs", 1000, 52, 80, 900);
  assert_int_equal(girdle_learn_parts(NULL, rows, 8, 0, parts, 8, &count), GIRDLE_OK);
  assert_int_equal(count, 8);
  for (int i = 0; i < 6; i++)
    assert_int_equal(parts[i].unusual, 0);
  assert_int_equal(parts[6].unusual, GIRDLE_UNUSUAL_LOSS);
  assert_int_equal(parts[7].unusual, GIRDLE_UNUSUAL_PACE);
  assert_string_equal(parts[7].name, "B2");
  assert_int_equal(girdle_learn_parts(NULL, rows, 8, 1, parts, 1, &count), GIRDLE_OK);
  assert_int_equal(count, 2);
  assert_string_equal(parts[0].name, "collar");
  assert_near(parts[0].fell_off_share, 0.01, 1e-12);
  assert_near(parts[0].seconds_a_stone, 60 * (6 * 200 + 3 * 15) / 6000.0, 1e-12);
}

/* What no job can need is named although there is nothing to compare it with; a few pieces prove nothing. */
static void learn_parts_names_what_is_beyond_belief(void **state) {
  static const struct {
    int64_t planned, used, lost;
    uint32_t unusual;
  } jobs[] = {{360, 860, 500, GIRDLE_UNUSUAL_LOSS},
              {-1, 100, 30, 0},
              {-1, 100, 31, GIRDLE_UNUSUAL_LOSS},
              {-1, 40, 23, 0},
              {100, 300, -1, 0},
              {100, 301, -1, GIRDLE_UNUSUAL_USE},
              {23, 300, -1, 0},
              {24, 300, 276, GIRDLE_UNUSUAL_LOSS | GIRDLE_UNUSUAL_USE}};
  (void)state;
  for (size_t i = 0; i < sizeof jobs / sizeof jobs[0]; i++) {
    girdle_log_row row = row_of("A1", "collar", jobs[i].used, jobs[i].lost, -1, NAN);
    girdle_learned_part part;
    uint64_t count;
    row.planned = jobs[i].planned;
    assert_int_equal(girdle_learn_parts(NULL, &row, 1, 0, &part, 1, &count), GIRDLE_OK);
    assert_int_equal(part.unusual, jobs[i].unusual);
  }
}

/* Of an even number of jobs the median lies midway between the two in the middle, here of logarithms of the pace. */
static void learn_parts_takes_the_middle_of_an_even_number(void **state) {
  static const double seconds[] = {100, 101, 102, 103, 104, 140};
  girdle_log_row rows[6];
  girdle_learned_part parts[6];
  uint64_t count;
  (void)state;
  for (int i = 0; i < 6; i++) {
    char tag[16];
    snprintf(tag, sizeof tag, "A%d", i);
    rows[i] = row_of(tag, "collar", 60, -1, -1, seconds[i]);
  }
  assert_int_equal(girdle_learn_parts(NULL, rows, 6, 0, parts, 6, &count), GIRDLE_OK);
  for (int i = 0; i < 6; i++)
    assert_int_equal(parts[i].unusual, i == 5 ? GIRDLE_UNUSUAL_PACE : 0);
  /* median 1.0250 as a logarithm 0.02469, scaled median deviation 1.4826 x 0.0146 = 0.0216, 3.5 of them 0.0757: 1.106
   */
  rows[5].minutes = 110;
  assert_int_equal(girdle_learn_parts(NULL, rows, 6, 0, parts, 6, &count), GIRDLE_OK);
  assert_int_equal(parts[5].unusual, 0);
  rows[5].minutes = 111.5;
  assert_int_equal(girdle_learn_parts(NULL, rows, 6, 0, parts, 6, &count), GIRDLE_OK);
  assert_int_equal(parts[5].unusual, GIRDLE_UNUSUAL_PACE);
}

static int32_t list_parts(girdle_call *call) {
  girdle_log_row rows[2] = {row_of("A1", "collar", 1000, 50, 10, 200), row_of("A2", "cuffs", 100, 5, 1, 20)};
  girdle_learned_part parts[2];
  uint64_t count;
  return girdle_learn_parts(call, rows, 2, 0, parts, 2, &count);
}

static void learn_parts_leaks_nothing(void **state) {
  (void)state;
  test_sweep_allocations(list_parts);
}

/* ---- forecasts */

static double normal(uint64_t *seed) {
  return sqrt(-2 * log(1 - test_uniform(seed))) * cos(2 * acos(-1) * test_uniform(seed));
}

/* Of 2,000 series each, the next job lies in the interval as often as it says: within four standard errors. */
static void forecast_ratio_covers_as_often_as_it_says(void **state) {
  static const double confidences[] = {0.5, 0.8, 0.95};
  uint64_t seed = 8;
  (void)state;
  for (uint64_t jobs = 2; jobs <= 12; jobs += 5)
    for (int c = 0; c < 3; c++) {
      int inside = 0;
      for (int round = 0; round < 2000; round++) {
        double ratios[12], next;
        girdle_forecast forecast;
        for (uint64_t i = 0; i < jobs; i++)
          ratios[i] = exp(2.3 + 0.3 * normal(&seed));
        next = exp(2.3 + 0.3 * normal(&seed));
        assert_int_equal(girdle_forecast_ratio(NULL, ratios, jobs, 1, 0.2, 0, confidences[c], &forecast), GIRDLE_OK);
        inside += next >= forecast.least && next <= forecast.most;
      }
      assert_near(inside / 2000.0, confidences[c], 4 * sqrt(confidences[c] * (1 - confidences[c]) / 2000));
    }
}

static void forecast_ratio_is_wide_while_jobs_are_few(void **state) {
  static const double ratios[] = {10, 11, 10.5, 9.8, 10.2, 10.9, 10.1, 10.4};
  girdle_forecast none, few, more, own;
  (void)state;
  assert_int_equal(girdle_forecast_ratio(NULL, NULL, 0, 12, 0.3, 2, 0.95, &none), GIRDLE_OK);
  assert_near(none.likely, 12, 1e-12);
  assert_int_equal(girdle_forecast_ratio(NULL, ratios, 3, 12, 0.3, 2, 0.95, &few), GIRDLE_OK);
  assert_int_equal(girdle_forecast_ratio(NULL, ratios, 8, 12, 0.3, 2, 0.95, &more), GIRDLE_OK);
  assert_true(none.most / none.least > few.most / few.least && few.most / few.least > more.most / more.least);
  assert_true(few.likely > more.likely && more.likely > 10.3); /* drawn towards 12 less and less */
  assert_near(few.freedom, 4, 0);
  assert_int_equal(girdle_forecast_ratio(NULL, ratios, 1, 12, 0.3, 0, 0.95, &own), GIRDLE_OK);
  assert_near(own.likely, 10, 1e-12);
  assert_true(own.least == 0 && isinf(own.most));
}

static void forecast_ratio_refuses_what_cannot_be(void **state) {
  static const double bad[] = {0, -1, NAN, INFINITY};
  girdle_forecast forecast;
  (void)state;
  for (int i = 0; i < 4; i++) {
    assert_int_equal(girdle_forecast_ratio(NULL, &bad[i], 1, 12, 0.3, 2, 0.95, &forecast), GIRDLE_ARGUMENT);
    assert_int_equal(girdle_forecast_ratio(NULL, NULL, 0, bad[i], 0.3, 2, 0.95, &forecast), GIRDLE_ARGUMENT);
  }
  assert_int_equal(girdle_forecast_ratio(NULL, NULL, 0, 12, 0.3, 2, 1, &forecast), GIRDLE_ARGUMENT);
}

/* ---- spares */

/* The binomial count added up term by term. */
static double below(int64_t trials, double chance, int64_t successes) {
  double term = pow(1 - chance, (double)trials), sum = term;
  for (int64_t k = 1; k <= successes; k++)
    sum += term *= (double)(trials - k + 1) / (double)k * chance / (1 - chance);
  return sum;
}

static void spares_are_the_fewest_that_suffice(void **state) {
  (void)state;
  for (int64_t pieces = 1; pieces < 800; pieces += 37)
    for (double share = 0.01; share < 0.3; share += 0.06) {
      int64_t spares;
      double chance;
      assert_int_equal(girdle_spares(NULL, pieces, share, 0.95, &spares), GIRDLE_OK);
      assert_true(below(pieces, share, spares) >= 0.95 - 1e-9);
      if (spares > 0) assert_true(below(pieces, share, spares - 1) < 0.95 + 1e-9);
      assert_int_equal(girdle_chance_short(NULL, pieces, share, spares, &chance), GIRDLE_OK);
      assert_near(chance, 1 - below(pieces, share, spares), 1e-9);
    }
}

static void spares_take_the_ends(void **state) {
  int64_t spares;
  double chance;
  (void)state;
  assert_int_equal(girdle_spares(NULL, 0, 0.05, 0.95, &spares), GIRDLE_OK);
  assert_int_equal(spares, 0);
  assert_int_equal(girdle_spares(NULL, 500, 0, 0.95, &spares), GIRDLE_OK);
  assert_int_equal(spares, 0);
  assert_int_equal(girdle_spares(NULL, 500, 1, 0.95, &spares), GIRDLE_OK);
  assert_int_equal(spares, 500);
  assert_int_equal(girdle_spares(NULL, 1000000000, 0.05, 0.95, &spares), GIRDLE_OK);
  assert_near((double)spares, 5e7 + 1.6448536 * sqrt(1e9 * 0.05 * 0.95), 2);
  assert_int_equal(girdle_chance_short(NULL, 500, 0.05, -1, &chance), GIRDLE_OK);
  assert_near(chance, 1, 0);
  assert_int_equal(girdle_spares(NULL, 500, 0.05, 1, &spares), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_spares(NULL, 500, NAN, 0.9, &spares), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_repair_kit(NULL, 40, 0.001, 0.95, 3, &spares), GIRDLE_OK);
  assert_int_equal(spares, 3);
  assert_int_equal(girdle_repair_kit(NULL, 1000, 0.02, 0.95, 3, &spares), GIRDLE_OK);
  assert_int_equal(spares, 28);
}

static void chances_refuse_what_cannot_be(void **state) {
  int64_t pieces;
  double chance;
  girdle_forecast forecast;
  (void)state;
  assert_int_equal(girdle_spares(NULL, -1, 0.05, 0.95, &pieces), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_spares(NULL, 10, 1.5, 0.95, &pieces), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_chance_short(NULL, 10, -0.1, 1, &chance), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_repair_kit(NULL, 10, 0.05, 0.95, -1, &pieces), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_repair_kit(NULL, 10, 2, 0.95, 3, &pieces), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_worthwhile_confidence(NULL, 0, 0, &chance), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_worthwhile_confidence(NULL, -1, 5, &chance), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_worthwhile_confidence(NULL, 5, -1, &chance), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_forecast_ratio(NULL, NULL, 0, 12, -1, 2, 0.95, &forecast), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_forecast_ratio(NULL, NULL, 0, 12, 0.3, -1, 0.95, &forecast), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_forecast_ratio(NULL, NULL, 0, 12, 0.3, 2, 0, &forecast), GIRDLE_ARGUMENT);
  assert_true(isnan(girdle_binomial_below(-1, 0.5, 1)) && isnan(girdle_binomial_below(5, 1.5, 1)));
  assert_true(isnan(girdle_binomial_below(5, NAN, 1)));
  assert_near(girdle_binomial_below(5, 0.5, -1), 0, 0);
  assert_near(girdle_binomial_below(5, 0.5, 5), 1, 0);
  assert_near(girdle_binomial_below(5, 0, 0), 1, 0);
  assert_near(girdle_binomial_below(5, 1, 4), 0, 0);
  assert_true(isnan(girdle_student_quantile(0.9, NAN)));
}

/* ---- the next job */

/* A club of one costume of 600 stones of one kind in one zone, bought by the piece. */
static girdle_club *fourth_job(void) {
  girdle_club *club;
  girdle_job *job;
  girdle_job_head head;
  girdle_zone zone;
  girdle_supplier supplier = {.name = "Anchor Beads", .free_from_minor = -1};
  girdle_price_row price = {.supplier = "Anchor Beads", .pack = "1", .pack_pieces = 1, .price_minor = 5, .at_most = -1};
  girdle_placed placed[600];
  assert_int_equal(girdle_club_new(NULL, &club), GIRDLE_OK);
  girdle_currency_parse(NULL, "EUR", &supplier.currency);
  girdle_stone_parse(NULL, "ss16 black", &price.stone);
  memset(placed, 0, sizeof placed);
  for (int i = 0; i < 600; i++)
    placed[i].x_mm = 10.0 * i;
  girdle_job_head_init(&head, sizeof head);
  girdle_zone_init(&zone, sizeof zone);
  snprintf(head.tag, sizeof head.tag, "fourth");
  snprintf(zone.name, sizeof zone.name, "collar");
  assert_int_equal(girdle_placement_new(NULL, &price.stone, 1, placed, 600, (girdle_placement **)&zone.placement),
                   GIRDLE_OK);
  assert_int_equal(girdle_job_new(NULL, &head, &job), GIRDLE_OK);
  assert_int_equal(girdle_job_add_zone(NULL, job, &zone), GIRDLE_OK);
  girdle_placement_free((girdle_placement *)zone.placement);
  assert_int_equal(girdle_club_add_job(NULL, club, job), GIRDLE_OK);
  assert_int_equal(girdle_club_add_supplier(NULL, club, &supplier), GIRDLE_OK);
  assert_int_equal(girdle_club_add_price(NULL, club, &price), GIRDLE_OK);
  return club;
}

/* What is learned: lost / used, the rate of 5 % weighing as much as 5 jobs of the log's size; and the pace of the log,
 * trusted as jobs / (jobs + 5), against the rates'. By hand, for three jobs of 1,000 stones that lost 10 % and took
 * twice as long. */
static void learn_from_three_jobs_changes_the_fourth(void **state) {
  girdle_club *club = fourth_job();
  girdle_reckoning *before, *after;
  const girdle_order_stone *stones;
  const double plain_s = 600 * 12 + 600; /* small stones of 12 s, and a zone of 10 minutes */
  uint64_t count;
  int64_t spares;
  (void)state;
  assert_int_equal(girdle_club_reckon(NULL, club, 0, &before), GIRDLE_OK);
  assert_near(girdle_reckoning_work(before, 0)->minutes, plain_s / 60, 1e-9);
  stones = girdle_order_stones(girdle_reckoning_order(before), &count);
  assert_int_equal(girdle_spares(NULL, 600, 0.05, 0.95, &spares), GIRDLE_OK);
  assert_int_equal(stones[0].lost, spares);
  for (int i = 0; i < 3; i++) {
    char tag[16];
    girdle_log_row row;
    snprintf(tag, sizeof tag, "old %d", i);
    row = row_of(tag, "collar", 1000, 100, -1, 2 * (1000 * 12 + 600) / 60.0);
    assert_int_equal(girdle_club_add_log(NULL, club, &row), GIRDLE_OK);
  }
  assert_string_equal(girdle_club_log(club, &count)[2].tag, "old 2");
  assert_int_equal(count, 3);
  assert_int_equal(girdle_club_reckon(NULL, club, 0, &after), GIRDLE_OK);
  assert_near(girdle_reckoning_learned(after)->lost_share, (3 * 100 + 5 * 1000 * 0.05) / (3000 + 5000), 1e-12);
  assert_int_equal(girdle_spares(NULL, 600, 0.06875, 0.95, &spares), GIRDLE_OK);
  stones = girdle_order_stones(girdle_reckoning_order(after), &count);
  assert_int_equal(stones[0].lost, spares);
  assert_near(girdle_reckoning_work(after, 0)->minutes, plain_s / 60 * (1 + 3.0 / (3 + 5) * (2 - 1)), 1e-9);
  girdle_reckoning_free(before);
  girdle_reckoning_free(after);
  girdle_club_free(club);
}

/* Of nothing there are no parts, and no room to write them into is needed. */
static void learn_takes_no_rows(void **state) {
  girdle_learned_part part;
  girdle_forecast forecast;
  girdle_log_row row = row_of("A1", "collar", 100, 5, 0, 20);
  uint64_t count = 7;
  (void)state;
  assert_int_equal(girdle_learn_parts(NULL, NULL, 0, 0, &part, 1, &count), GIRDLE_OK);
  assert_int_equal(count, 0);
  assert_int_equal(girdle_learn_parts(NULL, &row, 1, 1, NULL, 0, &count), GIRDLE_OK);
  assert_int_equal(count, 1);
  assert_int_equal(girdle_forecast_ratio(NULL, NULL, 0, 1, 0.3, 2, 0.95, &forecast), GIRDLE_OK);
  assert_int_equal(forecast.jobs, 0);
}

/* Where nothing costs anything there is nothing to weigh; where one side is free the answer is an end. */
static void worthwhile_confidence_takes_the_ends(void **state) {
  double ratio = 7;
  (void)state;
  assert_int_equal(girdle_worthwhile_confidence(NULL, 0, 0, &ratio), GIRDLE_ARGUMENT);
  assert_near(ratio, 7, 0);
  assert_int_equal(girdle_worthwhile_confidence(NULL, 0, 5, &ratio), GIRDLE_OK);
  assert_near(ratio, 0, 0);
  assert_int_equal(girdle_worthwhile_confidence(NULL, -1, 5, &ratio), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_worthwhile_confidence(NULL, 5, -1, &ratio), GIRDLE_ARGUMENT);
}

/* Of no jobs and no prior there is no interval, and the prior's ratio is what is likely. */
static void forecast_ratio_of_nothing_is_the_prior(void **state) {
  girdle_forecast forecast;
  (void)state;
  assert_int_equal(girdle_forecast_ratio(NULL, NULL, 0, 12, 0.3, 0, 0.95, &forecast), GIRDLE_OK);
  assert_near(forecast.likely, 12, 1e-12);
  assert_near(forecast.least, 0, 0);
  assert_true(isinf(forecast.most));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(learn_draws_shares_towards_the_prior_while_jobs_are_few),
      cmocka_unit_test(learn_refuses_what_cannot_be),
      cmocka_unit_test(log_remembered_and_card_make_rows),
      cmocka_unit_test(learn_parts_names_the_unusual_job),
      cmocka_unit_test(learn_parts_names_what_is_beyond_belief),
      cmocka_unit_test(learn_parts_leaks_nothing),
      cmocka_unit_test(forecast_ratio_covers_as_often_as_it_says),
      cmocka_unit_test(forecast_ratio_is_wide_while_jobs_are_few),
      cmocka_unit_test(forecast_ratio_refuses_what_cannot_be),
      cmocka_unit_test(spares_are_the_fewest_that_suffice),
      cmocka_unit_test(spares_take_the_ends),
      cmocka_unit_test(learn_from_three_jobs_changes_the_fourth),
      cmocka_unit_test(log_rows_refuse_each_number_that_cannot_be),
      cmocka_unit_test(chances_refuse_what_cannot_be),
      cmocka_unit_test(learn_parts_takes_the_middle_of_an_even_number),
      cmocka_unit_test(learn_takes_no_rows),
      cmocka_unit_test(worthwhile_confidence_takes_the_ends),
      cmocka_unit_test(forecast_ratio_of_nothing_is_the_prior),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
