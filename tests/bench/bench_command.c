/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* The program as a whole: one costume from cold start, the round trip of a job through a standing worker, and a stream
 * of costumes over one worker and two. */

#define _DEFAULT_SOURCE /* wait4 */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "row.h"

enum { RUNS = 7, JOBS = 2000, COSTUMES = 200 };

static double now_ms(void) {
  struct timespec time;
  clock_gettime(CLOCK_MONOTONIC, &time);
  return (double)time.tv_sec * 1e3 + (double)time.tv_nsec / 1e6;
}

static int by_value(const void *a, const void *b) {
  double left = *(const double *)a, right = *(const double *)b;
  return (left > right) - (left < right);
}

static void become(const char *input, char *const *arguments) {
  int null = open("/dev/null", O_WRONLY), from = open(input, O_RDONLY);
  dup2(from, STDIN_FILENO);
  dup2(null, STDOUT_FILENO);
  execv(arguments[0], arguments);
  _exit(127);
}

static struct rusage used; /* by the last run and its workers */

/* Milliseconds of a run, or -1 when it failed. */
static double run_once(const char *input, char *const *arguments) {
  int status;
  double start = now_ms();
  pid_t child = fork();
  if (child == 0) become(input, arguments);
  if (child < 0 || wait4(child, &status, 0, &used) != child) return -1;
  return WIFEXITED(status) && WEXITSTATUS(status) == 0 ? now_ms() - start : -1;
}

/* Processor time, which a busy machine lengthens less. */
static double processor_ms(void) {
  return (double)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) * 1e3 +
         (double)(used.ru_utime.tv_usec + used.ru_stime.tv_usec) / 1e3;
}

static double median(const char *input, char *const *arguments) {
  double ms[RUNS];
  for (int at = 0; at < RUNS; at++)
    ms[at] = run_once(input, arguments);
  qsort(ms, RUNS, sizeof ms[0], by_value);
  return ms[0] < 0 ? -1 : ms[RUNS / 2];
}

enum { RUNS_ONLY = 1, SCATTER_ONLY, BOTH };

/* One costume of eight zones, about 1,200 stones run and 260 scattered, each a little larger than the last; or only its
 * seven runs, or only its scatter. */
static void write_costume(FILE *to, int number, int parts) {
  static const int lengths[] = {520, 620, 460, 460, 1400, 340, 800};
  fprintf(to, "{\"tag\":\"t%d\",\"zones\":[", number);
  for (int at = 0; at < 7 && parts & RUNS_ONLY; at++)
    fprintf(to,
            "%s{\"zone\":\"z%d\",\"shape\":\"%s\",\"length\":\"%d mm\",\"recipe\":\"alternating line\","
            "\"stones\":\"ss16; ss16 red\"}",
            at ? "," : "", at, at < 5 ? "loop" : "line", lengths[at] + number % 50);
  if (parts & SCATTER_ONLY)
    fprintf(to,
            "%s{\"zone\":\"front\",\"shape\":\"oval\",\"length\":\"%d mm\",\"width\":\"140 mm\",\"gap\":\"3 mm\","
            "\"recipe\":\"even scatter\",\"stones\":\"ss16\"}",
            parts & RUNS_ONLY ? "," : "", 180 + number % 50);
  fprintf(to, "]}\n");
}

static int write_costumes(const char *path, int costumes, int parts) {
  FILE *to = fopen(path, "w");
  if (!to) return 0;
  for (int at = 0; at < costumes; at++)
    write_costume(to, at, parts);
  return fclose(to) == 0;
}

static int write_jobs(const char *path) {
  FILE *to = fopen(path, "w");
  if (!to) return 0;
  for (int at = 0; at < JOBS; at++)
    fputs("{\"recipe\":\"alternating line\",\"given\":{\"line\":\"1 cm\"}}\n", to);
  return fclose(to) == 0;
}

/* Costumes by tens from 20 to 2,000: the slope of log time over log number without the start, and the memory of the
 * first and the last. */
static void bench_growth(const char *path, char *const *arguments, double start_ms) {
  double ms[3];
  long kilobytes[3];
  for (int i = 0, costumes = 20; i < 3; i++, costumes *= 10) {
    if (!write_costumes(path, costumes, BOTH)) return;
    run_once(path, arguments);
    ms[i] = fmax(processor_ms() - start_ms, 1e-3);
    kilobytes[i] = used.ru_maxrss;
  }
  printf("%-58s %8.3f (goal 1.05)\n", "program: growth from 20 to 2,000 costumes, exponent", log10(ms[2] / ms[0]) / 2);
  printf("%-58s %8.1f MB; %.1f MB at 20\n", "program: most memory at 2,000 costumes", (double)kilobytes[2] / 1024,
         (double)kilobytes[0] / 1024);
  bench_add((bench_row){.work = "memory of 2,000 costumes",
                        .unit = "MB",
                        .figure = (double)kilobytes[2] / 1024,
                        .peer = "of 20",
                        .peer_figure = (double)kilobytes[0] / 1024,
                        .less_is_better = 1,
                        .goal_ratio = 0.9,
                        .exponent = log10(ms[2] / ms[0]) / 2,
                        .goal_exponent = 1.05});
}

/* What a costume's processor time is made of: the work of its words, and the way there and back with its JSON. */
static void bench_parts(const char *path, char *const *arguments, double start_ms) {
  static const char *const names[] = {"", "its seven runs alone", "its scatter alone"};
  for (int parts = RUNS_ONLY; parts <= SCATTER_ONLY; parts++) {
    char line[80];
    if (!write_costumes(path, COSTUMES, parts)) return;
    median(path, arguments);
    snprintf(line, sizeof line, "program: of that, %s", names[parts]);
    printf("%-58s %8.3f ms\n", line, (processor_ms() - start_ms) / COSTUMES);
  }
}

int main(void) {
  const char *build = getenv("BUILD") ? getenv("BUILD") : "build";
  char program[4096], small[4096], large[4096];
  double start, start_processor, one, two;
  snprintf(program, sizeof program, "%s/girdle", build);
  snprintf(small, sizeof small, "%s/bench-small.jsonl", build);
  snprintf(large, sizeof large, "%s/bench-large.jsonl", build);
  if (!write_jobs(small) || !write_costumes(large, COSTUMES, BOTH)) return 1;
  char *const tide[] = {program,       "count",       "recipes/demo/tide", "neckline=52 cm",
                        "waist=60 cm", "wrist=14 cm", "leg opening=46 cm", NULL};
  char *const quick[] = {program, "count", "line=32 cm", "stone=ss20", NULL};
  char *const with_one[] = {program, "lines", "--workers", "1", NULL};
  char *const with_two[] = {program, "lines", "--workers", "2", NULL};
  start = median("/dev/null", quick);
  start_processor = processor_ms();
  printf("%-58s %8.2f ms\n", "program: a line counted with no file, cold", start);
  printf("%-58s %8.2f ms (goal 30)\n", "program: one costume of 944 stones, cold", median("/dev/null", tide));
  one = median(small, with_one);
  printf("%-58s %8.1f us\n", "program: a small job through one worker, with its JSON", (one - start) * 1e3 / JOBS);
  one = median(large, with_one);
  printf("%-58s %8.3f ms\n", "program: a costume of those, processor time",
         (processor_ms() - start_processor) / COSTUMES);
  bench_parts(large, with_one, start_processor);
  if (!write_costumes(large, COSTUMES, BOTH)) return 1;
  two = median(large, with_two);
  printf("%-58s %8.0f a second (goal 1000)\n", "program: costumes of 8 zones and 1,450 stones, one worker",
         COSTUMES * 1e3 / one);
  printf("%-58s %8.2f times one (goal 1.8)\n", "program: the same over two workers", one / two);
  bench_add((bench_row){.work = "costumes of 8 zones, one worker",
                        .unit = "a second",
                        .figure = COSTUMES * 1e3 / one,
                        .goal_figure = 1000});
  bench_add((bench_row){.work = "costumes of 8 zones, two workers",
                        .unit = "a second",
                        .figure = COSTUMES * 1e3 / two,
                        .peer = "one worker",
                        .peer_figure = COSTUMES * 1e3 / one,
                        .goal_ratio = 1.8});
  bench_growth(large, with_one, start_processor);
  return 0;
}
