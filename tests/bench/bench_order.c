/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
/* needs: libglpk-dev coinor-libcbc-dev -lglpk -lCbcSolver -lCbc -lOsiClp -lClp -lOsi -lCoinUtils */

/* The cheapest packs of one stone beside GLPK, and orders over four suppliers beside CBC, in alternation on the same
 * problems. Both peers prove their optimum (gap 0); every answer is compared. */

#include <time.h>

#include "row.h"
#include "solvers.h"

enum { PACK_PROBLEMS = 2000, ORDER_PROBLEMS = 30, ALONE_PROBLEMS = 500 };

static double now_us(void) {
  struct timespec time;
  clock_gettime(CLOCK_MONOTONIC, &time);
  return (double)time.tv_sec * 1e6 + (double)time.tv_nsec / 1e3;
}

static int by_value(const void *a, const void *b) {
  double left = *(const double *)a, right = *(const double *)b;
  return (left > right) - (left < right);
}

static double median(double *values, int count) {
  qsort(values, (size_t)count, sizeof values[0], by_value);
  return values[count / 2];
}

/* ---- packs */

static void bench_packs(void) {
  static double ours[PACK_PROBLEMS], theirs[PACK_PROBLEMS];
  uint64_t seed = 1;
  int differ = 0;
  double our_us, their_us;
  for (int i = 0; i < PACK_PROBLEMS; i++) {
    pack_problem problem = pack_problem_of(&seed);
    int64_t packs[6], cost = 0, other;
    double start = now_us();
    girdle_packs_cheapest(NULL, problem.need, problem.pieces, problem.prices, NULL, (uint64_t)problem.packs, packs,
                          &cost);
    ours[i] = now_us() - start;
    start = now_us();
    other = packs_by_glpk(&problem);
    theirs[i] = now_us() - start;
    differ += cost != other;
  }
  our_us = median(ours, PACK_PROBLEMS);
  their_us = median(theirs, PACK_PROBLEMS);
  printf(
      "packs of one stone, %d problems:   girdle %8.2f us, GLPK %10.1f us, %6.1f times as fast (medians), %d differ\n",
      PACK_PROBLEMS, our_us, their_us, their_us / our_us, differ);
  bench_add((bench_row){.work = "cheapest packs of one stone",
                        .unit = "us",
                        .figure = our_us,
                        .peer = "GLPK",
                        .peer_figure = their_us,
                        .less_is_better = 1,
                        .goal_ratio = 5});
}

/* ---- orders */

/* A random market in which every stone can be had. */
static void complete_market(random_market *market, uint64_t *seed, int stones, int sellers) {
  for (;;) {
    girdle_order *order = NULL;
    girdle_order_total total = {0};
    market_make(market, seed, stones, sellers);
    market->options.most_labels = 100;
    if (girdle_order_plan(NULL, market->tally, &market->options, &order) == GIRDLE_OK) girdle_order_sum(order, &total);
    girdle_order_free(order);
    market->options.most_labels = 0;
    if (order && total.unpriced_stones == 0) return;
    girdle_tally_free(market->tally);
  }
}

static girdle_order_total time_order(const random_market *market, double *us) {
  girdle_order *order = NULL;
  girdle_order_total total = {0};
  const double start = now_us();
  girdle_order_plan(NULL, market->tally, &market->options, &order);
  *us = now_us() - start;
  girdle_order_sum(order, &total);
  girdle_order_free(order);
  return total;
}

static void bench_orders(void) {
  static double ours[ORDER_PROBLEMS], theirs[ORDER_PROBLEMS];
  static random_market market;
  static program model;
  uint64_t seed = 2;
  int differ = 0, proved = 0;
  double our_us, their_us, worst = 0;
  for (int i = 0; i < ORDER_PROBLEMS; i++) {
    girdle_order_total total;
    double start;
    complete_market(&market, &seed, 25, 4);
    total = time_order(&market, &ours[i]);
    mip_make(&model, &market);
    start = now_us();
    int64_t other = order_by_cbc(&model);
    theirs[i] = now_us() - start;
    proved += total.bound_minor == total.total_minor;
    differ += other != total.total_minor;
    if (getenv("GIRDLE_EACH"))
      fprintf(stderr, "%2d %10.0f us %10.0f us  %lld (bound %lld) %lld\n", i, ours[i], theirs[i],
              (long long)total.total_minor, (long long)total.bound_minor, (long long)other);
    worst = fmax(worst, ours[i]);
    girdle_tally_free(market.tally);
  }
  our_us = median(ours, ORDER_PROBLEMS);
  their_us = median(theirs, ORDER_PROBLEMS);
  printf(
      "order, 25 stones, 4 suppliers, %d:  girdle %8.0f us, CBC  %10.0f us, %6.1f times as fast (medians), "
      "worst %.0f us, %d proved, %d differ\n",
      ORDER_PROBLEMS, our_us, their_us, their_us / our_us, worst, proved, differ);
  bench_add((bench_row){.work = "order of 25 stones, 4 suppliers",
                        .unit = "us",
                        .figure = our_us,
                        .peer = "CBC",
                        .peer_figure = their_us,
                        .less_is_better = 1,
                        .goal_ratio = 10});
}

/* Without a peer: how many of many are proved, and what the rest lacks. */
static void bench_proofs(int stones, int sellers, uint32_t flags, int problems) {
  static double ours[ALONE_PROBLEMS];
  static random_market market;
  char work[64];
  uint64_t seed = 3;
  int proved = 0;
  double worst = 0, widest = 0;
  for (int i = 0; i < problems; i++) {
    girdle_order_total total;
    complete_market(&market, &seed, stones, sellers);
    market.options.flags = flags;
    total = time_order(&market, &ours[i]);
    proved += total.bound_minor == total.total_minor;
    worst = fmax(worst, ours[i]);
    widest = fmax(widest, (double)(total.total_minor - total.bound_minor) / (double)total.total_minor);
    girdle_tally_free(market.tally);
  }
  snprintf(work, sizeof work, "orders of %d stones, %d suppliers%s proved", stones, sellers, flags ? ", split" : "");
  bench_add((bench_row){.work = work, .unit = "%", .figure = 100.0 * proved / problems, .goal_figure = 100});
  printf("order, %d stones, %d suppliers%s:  %d of %d proved, the widest gap %.2f %%; median %.0f us, worst %.0f us\n",
         stones, sellers, flags ? ", split" : "", proved, problems, 100 * widest, median(ours, problems), worst);
}

/* ---- a club */

enum { WEARERS = 300, STONES_EACH = 1500, KINDS = 15 };

/* What the wearers wear: 1,500 stones of 15 kinds in rows, front and back. */
static void add_wearer(girdle_club *club, const random_market *market, int number) {
  static girdle_placed placed[STONES_EACH];
  girdle_stone stones[KINDS];
  girdle_job *job;
  girdle_job_head head;
  girdle_zone zone;
  girdle_placement *placement;
  for (int k = 0; k < KINDS; k++) {
    int row = 0;
    while (market->stone_of[row] != k)
      row++;
    stones[k] = market->rows[row].stone;
  }
  for (int i = 0; i < STONES_EACH; i++)
    placed[i] = (girdle_placed){10.0 * (i % 50), 10.0 * (i / 50), 0, (uint16_t)((i + number) % KINDS), 0};
  girdle_job_head_init(&head, sizeof head);
  girdle_zone_init(&zone, sizeof zone);
  snprintf(head.tag, sizeof head.tag, "wearer %d", number);
  head.needed_by_day = 30000 + number % 30;
  girdle_job_new(NULL, &head, &job);
  girdle_placement_new(NULL, stones, KINDS, placed, STONES_EACH, &placement);
  zone.placement = placement;
  snprintf(zone.name, sizeof zone.name, "bodice");
  snprintf(zone.side, sizeof zone.side, "both");
  girdle_job_add_zone(NULL, job, &zone);
  girdle_placement_free(placement);
  girdle_club_add_job(NULL, club, job);
}

static void bench_club(void) {
  static random_market market;
  uint64_t seed = 4;
  girdle_club *club;
  girdle_reckoning *sums = NULL;
  girdle_order_total total = {0};
  girdle_calendar_sum days = {0};
  double start, us;
  complete_market(&market, &seed, KINDS, 4);
  girdle_club_new(NULL, &club);
  for (int s = 0; s < market.sellers; s++)
    girdle_club_add_supplier(NULL, club, &market.suppliers[s]);
  for (int r = 0; r < market.count; r++) {
    market.rows[r].at_most = -1; /* there is enough for all */
    girdle_club_add_price(NULL, club, &market.rows[r]);
  }
  girdle_club_set_rate(NULL, club, "hands", "40");
  girdle_club_set_rate(NULL, club, "places to dry", "100");
  for (int i = 0; i < WEARERS; i++)
    add_wearer(club, &market, i);
  start = now_us();
  girdle_club_reckon(NULL, club, 29000, &sums);
  us = now_us() - start;
  girdle_order_sum(girdle_reckoning_order(sums), &total);
  girdle_calendar_total(girdle_reckoning_calendar(sums), &days);
  printf("club of %d wearers, %d stones each:  costed, ordered and scheduled in %.0f ms; order %s, %lld days late\n",
         WEARERS, STONES_EACH, us / 1e3, total.total_minor == total.bound_minor ? "proved" : "not proved",
         (long long)days.late_days);
  bench_add((bench_row){.work = "club of 300 wearers of 1,500 stones, all of it",
                        .unit = "ms",
                        .figure = us / 1e3,
                        .less_is_better = 1,
                        .goal_figure = 1000});
  girdle_reckoning_free(sums);
  girdle_club_free(club);
  girdle_tally_free(market.tally);
}

int main(void) {
  bench_packs();
  fflush(stdout);
  bench_orders();
  fflush(stdout);
  bench_proofs(25, 4, 0, 500);
  bench_proofs(40, 6, 0, 50);
  bench_proofs(8, 3, GIRDLE_ORDER_SPLIT, 100);
  bench_proofs(25, 4, GIRDLE_ORDER_SPLIT, 20);
  bench_club();
  return 0;
}
