/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* The demo club from cold start to printed estimate: median time and the most memory of repeated runs of the program.
 */

#define _DEFAULT_SOURCE /* wait4 */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "row.h"

enum { RUNS = 11 };

static double now_ms(void) {
  struct timespec time;
  clock_gettime(CLOCK_MONOTONIC, &time);
  return (double)time.tv_sec * 1e3 + (double)time.tv_nsec / 1e6;
}

static int by_value(const void *a, const void *b) {
  double left = *(const double *)a, right = *(const double *)b;
  return (left > right) - (left < right);
}

static void become(char *const *arguments) {
  int null = open("/dev/null", O_WRONLY);
  dup2(null, STDOUT_FILENO);
  execv(arguments[0], arguments);
  _exit(127);
}

static int run_once(char *const *arguments, double *ms, long *kilobytes) {
  struct rusage usage;
  int status;
  double start = now_ms();
  pid_t child = fork();
  if (child == 0) become(arguments);
  if (child < 0 || wait4(child, &status, 0, &usage) != child) return 0;
  *ms = now_ms() - start;
  if (usage.ru_maxrss > *kilobytes) *kilobytes = usage.ru_maxrss;
  return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

static int measure(const char *what, double goal_ms, char *const *arguments) {
  double ms[RUNS];
  long kilobytes = 0;
  for (int i = 0; i < RUNS; i++)
    if (!run_once(arguments, &ms[i], &kilobytes)) return fprintf(stderr, "%s failed\n", arguments[0]), 1;
  qsort(ms, RUNS, sizeof ms[0], by_value);
  printf("%-42s %8.1f ms (median of %d), %.1f MB at most\n", what, ms[RUNS / 2], RUNS, (double)kilobytes / 1e3);
  bench_add(
      (bench_row){.work = what, .unit = "ms", .figure = ms[RUNS / 2], .less_is_better = 1, .goal_figure = goal_ms});
  return 0;
}

int main(void) {
  const char *build = getenv("BUILD") ? getenv("BUILD") : "build";
  char program[4096];
  snprintf(program, sizeof program, "%s/girdle", build);
  return measure("one line, no file, cold start", 30,
                 (char *[]){program, "count", "line=32 cm", "stone=ss20", "gap=1 mm", NULL}) ||
         measure("demo club, cold start to printed estimate", 8 * 30,
                 (char *[]){program, "club", "recipes/demo", "--today", "2031-01-06", NULL});
}
