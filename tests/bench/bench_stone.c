/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
/* needs: libqhull-dev -lqhull_r */

/* Stones read and written a second, and volumes of cut stones beside a convex hull's, in one run. */

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <libqhull_r/qhull_ra.h>

#include "girdle/girdle.h"
#include "row.h"

enum { RUNS = 7, STONES = 20000, SOLIDS = 400 };

static double now_s(void) {
  struct timespec time;
  clock_gettime(CLOCK_MONOTONIC, &time);
  return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

static int by_value(const void *a, const void *b) {
  double left = *(const double *)a, right = *(const double *)b;
  return (left > right) - (left < right);
}

/* The median rate of several runs of `work`, which returns how much it did. */
static double rate_of(double (*work)(void)) {
  double rates[RUNS];
  for (int i = 0; i < RUNS; i++) {
    double start = now_s(), done = work();
    rates[i] = done / (now_s() - start);
  }
  qsort(rates, RUNS, sizeof rates[0], by_value);
  return rates[RUNS / 2];
}

static double checked; /* keeps results alive */

static double read_stones(void) {
  static const char *const texts[] = {"ss20 black", "ss16", "20ss ruby red matt", "5 mm pale blue pear 1.6 sewn"};
  for (int i = 0; i < STONES; i++) {
    girdle_stone stone;
    if (girdle_stone_parse(NULL, texts[i % 4], &stone)) exit(1);
    checked += stone.mass_mg[1];
  }
  return STONES;
}

static double write_stones(void) {
  girdle_stone stone;
  char text[192];
  if (girdle_stone_parse(NULL, "ss20 ruby red matt", &stone)) exit(1);
  for (int i = 0; i < STONES; i++)
    checked += (double)girdle_stone_text(&stone, text, sizeof text);
  return STONES;
}

static girdle_solid *solid_of(int i) {
  uint64_t count;
  const girdle_cut *cut = girdle_cuts(&count);
  girdle_solid *solid;
  if (girdle_solid_new(NULL, &cut[(uint64_t)i % count], GIRDLE_NOMINAL, GIRDLE_OVAL, 1.4, 5 + i % 7, &solid)) exit(1);
  return solid;
}

static double measure_solids(void) {
  for (int i = 0; i < SOLIDS * 20; i++) {
    girdle_solid *solid = solid_of(i);
    girdle_solid_sums sums;
    girdle_solid_sum(solid, &sums);
    checked += sums.volume_mm3;
    girdle_solid_free(solid);
  }
  return SOLIDS * 20;
}

static double measure_hulls(void) {
  for (int i = 0; i < SOLIDS; i++) {
    girdle_solid *solid = solid_of(i);
    uint64_t count;
    const double *vertices = girdle_solid_vertices(solid, &count);
    coordT points[3 * 3 * 64];
    char options[] = "qhull FA Pp";
    int left, blocks;
    qhT hull;
    memcpy(points, vertices, count * 3 * sizeof *points);
    qh_zero(&hull, stderr);
    if (qh_new_qhull(&hull, 3, (int)count, points, False, options, NULL, stderr)) exit(1);
    qh_getarea(&hull, hull.facet_list);
    checked += hull.totvol;
    qh_freeqhull(&hull, !qh_ALL);
    qh_memfreeshort(&hull, &left, &blocks);
    girdle_solid_free(solid);
  }
  return SOLIDS;
}

int main(void) {
  double solids = rate_of(measure_solids), hulls = rate_of(measure_hulls);
  printf("stone: read %.3g a second\n", rate_of(read_stones));
  printf("stone: written %.3g a second\n", rate_of(write_stones));
  printf("stone: solids with volume, centre and areas %.3g a second; Qhull's volume and area %.3g; %.1fx\n", solids,
         hulls, solids / hulls);
  bench_add((bench_row){
      .work = "solids measured", .unit = "solids/s", .figure = solids, .peer = "Qhull's volume", .peer_figure = hulls});
  return checked > 0 ? 0 : 1;
}
