/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* A club reckoned whole, for growing numbers of costumes: eight zones of three stones each, from twenty-five kinds, two
 * suppliers, one order, work, quotes and calendar. Prints costumes a second and the exponent of growth. */

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "girdle/girdle.h"
#include "row.h"

enum { KINDS = 25, ZONES = 8 };

static girdle_stone kinds[KINDS];

static double now_s(void) {
  struct timespec time;
  clock_gettime(CLOCK_MONOTONIC, &time);
  return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

static girdle_error error;
static girdle_call call;

static void must(int32_t status) {
  if (!status) return;
  fprintf(stderr, "bench_job: %s\n", error.message);
  exit(1);
}

static void add_shop(girdle_club *club) {
  static const char *const names[] = {"Alder Street", "Quayside"};
  for (int i = 0; i < 2; i++) {
    girdle_supplier supplier = {.currency = {"EUR", 2}, .shipping_minor = 490 + 100 * i, .free_from_minor = -1};
    snprintf(supplier.name, sizeof supplier.name, "%s", names[i]);
    must(girdle_club_add_supplier(&call, club, &supplier));
  }
  for (int i = 0; i < 2 * KINDS; i++) {
    girdle_price_row row = {
        .pack_pieces = i % 2 ? 144 : 1440, .price_minor = i % 2 ? 900 + i : 8000 + i, .at_most = -1};
    snprintf(row.supplier, sizeof row.supplier, "%s", names[i % 2]);
    snprintf(row.pack, sizeof row.pack, "%d", (int)row.pack_pieces);
    row.stone = kinds[i / 2];
    must(girdle_club_add_price(&call, club, &row));
  }
}

static girdle_job *job_of(int number) {
  girdle_job_head head;
  girdle_job *job;
  girdle_job_head_init(&head, sizeof head);
  snprintf(head.tag, sizeof head.tag, "T%06d", number * 7919 % 1000003);
  must(girdle_job_new(&call, &head, &job));
  for (int i = 0; i < ZONES; i++) {
    int64_t pieces[3] = {40 + number % 7, 60 + i, 20};
    girdle_stone stones[3];
    girdle_zone zone;
    for (int k = 0; k < 3; k++)
      stones[k] = kinds[(number + i * 3 + k) % KINDS];
    girdle_zone_init(&zone, sizeof zone);
    snprintf(zone.name, sizeof zone.name, "zone %d", i);
    strcpy(zone.side, i % 2 ? "front" : "back");
    zone.already = stones;
    zone.already_pieces = pieces;
    zone.already_count = 3;
    must(girdle_job_add_zone(&call, job, &zone));
  }
  return job;
}

/* NaN when the club cannot be reckoned, which is printed. */
static double seconds_for(int jobs) {
  girdle_club *club;
  girdle_reckoning *reckoning = NULL;
  double start = now_s(), taken;
  int32_t status;
  must(girdle_club_new(&call, &club));
  add_shop(club);
  for (int i = 0; i < jobs; i++)
    must(girdle_club_add_job(&call, club, job_of(i)));
  status = girdle_club_reckon(&call, club, 22000, &reckoning);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
  taken = now_s() - start;
  if (status)
    printf("job: %d costumes: %s\n", jobs, error.message);
  else
    printf("job: %d costumes made and reckoned, %.3g a second\n", jobs, jobs / taken);
  return status ? NAN : taken;
}

int main(void) {
  double first, last;
  girdle_call_init(&call, sizeof call);
  girdle_error_init(&error, sizeof error);
  call.error = &error;
  for (int i = 0; i < KINDS; i++) {
    char text[64];
    snprintf(text, sizeof text, "ss%d colour %d", 12 + 4 * (i % 3), i);
    must(girdle_stone_parse(&call, text, &kinds[i]));
  }
  first = seconds_for(100);
  last = seconds_for(1000);
  printf("job: growth from 100 to 1,000 costumes has exponent %.2f\n", log10(last / first));
  last = seconds_for(10000);
  if (isnan(last)) return 1;
  printf("job: growth from 100 to 10,000 costumes has exponent %.2f\n", log10(last / first) / 2);
  bench_add((bench_row){.work = "club of 10,000 costumes reckoned, one order",
                        .unit = "costumes/s",
                        .figure = 10000 / last,
                        .goal_figure = 1000,
                        .exponent = log10(last / first) / 2,
                        .goal_exponent = 1.05});
  return 0;
}
