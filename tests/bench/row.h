/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TESTS_BENCH_ROW_H
#define GIRDLE_TESTS_BENCH_ROW_H

/* One figure of a benchmark, with its peer of the same run and its goal. `make bench` gathers the rows of all
 * benchmarks in BUILD/bench.csv, prints them as one table and names those that fall short. */

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

typedef struct bench_row {
  const char *work, *unit;
  double figure;
  const char *peer;   /* NULL: none */
  double peer_figure; /* in the same unit */
  double goal_ratio;  /* so many times as good as the peer; 0: no such goal */
  double goal_figure; /* so much at least, or at most where less is better; 0: no such goal */
  int less_is_better; /* a time or a size */
  double accuracy;    /* worst relative error; 0: not measured here */
  double exponent;    /* of growth; 0: not measured here */
  double goal_exponent;
} bench_row;

static inline double bench_ratio(const bench_row *of) {
  return of->less_is_better ? of->peer_figure / of->figure : of->figure / of->peer_figure;
}

static inline int bench_is_short(const bench_row *of) {
  int is_short = of->peer && of->goal_ratio > 0 && !(bench_ratio(of) >= of->goal_ratio);
  if (of->goal_figure > 0)
    is_short |= of->less_is_better ? !(of->figure <= of->goal_figure) : !(of->figure >= of->goal_figure);
  if (of->exponent > 0 && of->goal_exponent > 0) is_short |= !(of->exponent <= of->goal_exponent);
  return is_short;
}

/* A figure or nothing. */
static inline void bench_cell(FILE *file, double value) {
  if (value != 0 && isfinite(value)) fprintf(file, "%.4g", value);
  putc(',', file);
}

static inline void bench_add(bench_row row) {
  char path[4096];
  FILE *file;
  const char *build = getenv("BUILD");
  snprintf(path, sizeof path, "%s/bench.csv", build ? build : "build");
  file = fopen(path, "a");
  if (!file) return;
  fprintf(file, "\"%s\",%.4g,%s,\"%s\",", row.work, row.figure, row.unit, row.peer ? row.peer : "");
  bench_cell(file, row.peer ? row.peer_figure : 0);
  bench_cell(file, row.peer ? bench_ratio(&row) : 0);
  bench_cell(file, row.goal_ratio);
  bench_cell(file, row.goal_figure);
  bench_cell(file, row.accuracy);
  bench_cell(file, row.exponent);
  fprintf(file, "%s\n",
          bench_is_short(&row)                                                 ? "short"
          : row.goal_ratio > 0 || row.goal_figure > 0 || row.goal_exponent > 0 ? "reached"
                                                                               : "shown");
  fclose(file);
}

#endif
