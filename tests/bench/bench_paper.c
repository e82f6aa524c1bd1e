/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
/* needs: libcsv-dev -lcsv */

/* Placements as CSV out and in beside sprintf and libcsv with strtod; a map and a sheet of a usual and a large size. */

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <csv.h>

#include "girdle/paper.h"
#include "row.h"

enum { RUNS = 7, STONES = 100000, USUAL = 1500 };

static double now_s(void) {
  struct timespec time;
  clock_gettime(CLOCK_MONOTONIC, &time);
  return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

static int by_value(const void *a, const void *b) {
  double left = *(const double *)a, right = *(const double *)b;
  return (left > right) - (left < right);
}

/* The median time of several runs of `work`. */
static double time_of(void (*work)(void)) {
  double times[RUNS];
  for (int i = 0; i < RUNS; i++) {
    double start = now_s();
    work();
    times[i] = now_s() - start;
  }
  qsort(times, RUNS, sizeof times[0], by_value);
  return times[RUNS / 2];
}

static void must(int32_t status, const char *what) {
  if (!status) return;
  fprintf(stderr, "%s: %s\n", what, girdle_status_text(status));
  exit(1);
}

/* ---- what is written and read */

static struct {
  char *bytes;
  size_t used, room;
} text;

static int32_t keep(void *context, const void *bytes, uint64_t count) {
  (void)context;
  if (text.used + count > text.room) {
    text.room = 2 * (text.used + count);
    text.bytes = realloc(text.bytes, text.room);
    if (!text.bytes) return 1;
  }
  memcpy(text.bytes + text.used, bytes, count);
  text.used += count;
  return 0;
}

static const girdle_sink sink = {NULL, keep};
static girdle_club *club;
static girdle_reckoning *reckoning;
static girdle_job *job;

/* Rows of stones of three kinds, as a cover of a large cloth would be. */
static girdle_placement *cloth(uint32_t count) {
  static const char *const names[] = {"ss20 black", "ss20", "ss16 ice blue"};
  girdle_placed *records = calloc(count, sizeof *records);
  girdle_stone stones[3];
  girdle_placement *placement;
  for (int i = 0; i < 3; i++)
    must(girdle_stone_parse(NULL, names[i], &stones[i]), "stone");
  for (uint32_t i = 0; i < count; i++) {
    records[i].x_mm = i % 300 * 5.1234;
    records[i].y_mm = i / 300 * 4.4321;
    records[i].stone = (uint16_t)(i % 3);
    records[i].row = (uint16_t)(i / 300);
  }
  must(girdle_placement_new(NULL, stones, 3, records, count, &placement), "placement");
  free(records);
  return placement;
}

static void make_club(uint32_t count) {
  girdle_job_head head;
  girdle_zone zone;
  girdle_placement *placement = cloth(count);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "bench");
  must(girdle_job_new(NULL, &head, &job), "job");
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "cloth");
  zone.placement = placement;
  must(girdle_job_add_zone(NULL, job, &zone), "zone");
  girdle_placement_free(placement);
  must(girdle_club_new(NULL, &club), "club");
  must(girdle_club_add_job(NULL, club, job), "club");
  must(girdle_club_reckon(NULL, club, 20000, &reckoning), "reckoning");
}

static void free_club(void) {
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
}

/* ---- CSV */

static void write_ours(void) {
  text.used = 0;
  must(girdle_paper_placements_csv(NULL, job, &sink), "csv");
}

static void write_peer(void) {
  uint64_t count;
  const girdle_zone *zone = girdle_job_zones(job, &count);
  const girdle_placed *records;
  const girdle_stone *stones;
  int64_t stone_count = girdle_placement_view(zone->placement, &records, &stones, NULL);
  text.used = 0;
  for (int64_t i = 0; i < stone_count; i++) {
    char line[200];
    int length = sprintf(line, "%s,%d,%s %s,%.4f,%.4f,%.4g,%g\n", zone->name, records[i].row,
                         stones[records[i].stone].size, stones[records[i].stone].colour, records[i].x_mm,
                         records[i].y_mm, stones[records[i].stone].diameter_mm[1], (double)records[i].turn_deg);
    keep(NULL, line, (uint64_t)length);
  }
}

static double sum;

static void read_ours(void) {
  girdle_job_head head;
  girdle_job *read;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "bench");
  must(girdle_job_new(NULL, &head, &read), "job");
  must(girdle_paper_read_placements(NULL, "p.csv", text.bytes, text.used, read), "placements");
  girdle_job_free(read);
}

static void peer_field(void *field, size_t length, void *context) {
  int *column = context;
  (void)length;
  if (*column >= 3) sum += strtod(field, NULL);
  ++*column;
}

static void peer_row(int end, void *context) {
  (void)end;
  *(int *)context = 0;
}

static void read_peer(void) {
  struct csv_parser parser;
  int column = 0;
  csv_init(&parser, CSV_APPEND_NULL);
  csv_parse(&parser, text.bytes, text.used, peer_field, peer_row, &column);
  csv_fini(&parser, peer_field, peer_row, &column);
  csv_free(&parser);
}

static void compare(const char *what, void (*ours)(void), void (*peers)(void), const char *peer, double goal_ratio) {
  double our_time = time_of(ours), peer_time = time_of(peers);
  printf("%-24s %10.3g rows/s, %s %10.3g rows/s, ratio %.2f\n", what, STONES / our_time, peer, STONES / peer_time,
         peer_time / our_time);
  bench_add((bench_row){.work = what,
                        .unit = "rows/s",
                        .figure = STONES / our_time,
                        .peer = peer,
                        .peer_figure = STONES / peer_time,
                        .goal_ratio = goal_ratio});
}

/* ---- drawings */

static void draw_map(void) {
  text.used = 0;
  must(girdle_paper_map_svg(NULL, job, &sink), "map");
}

static void draw_pdf(void) {
  text.used = 0;
  must(girdle_paper_map_pdf(NULL, job, NULL, &sink), "pdf");
}

static void draw_sheet(void) {
  text.used = 0;
  must(girdle_paper_sheet_html(NULL, club, 0, reckoning, NULL, &sink), "sheet");
}

/* One paper's time; adds to a sum. */
static void draw_one(const char *what, uint32_t count, void (*paper)(void), double *sum_ms) {
  char work[64];
  double ms = 1e3 * time_of(paper);
  *sum_ms += ms;
  snprintf(work, sizeof work, "%s of %u stones", what, count);
  printf("%-40s %8.1f ms\n", work, ms);
  bench_add((bench_row){.work = work, .unit = "ms", .figure = ms, .less_is_better = 1});
}

static void draw(uint32_t count, double goal_ms) {
  char work[64];
  double sum_ms = 0;
  make_club(count);
  draw_one("map as SVG", count, draw_map, &sum_ms);
  draw_one("sheet", count, draw_sheet, &sum_ms);
  draw_one("map as PDF", count, draw_pdf, &sum_ms);
  snprintf(work, sizeof work, "all papers of %u stones", count);
  bench_add((bench_row){.work = work, .unit = "ms", .figure = sum_ms, .less_is_better = 1, .goal_figure = goal_ms});
  free_club();
}

int main(void) {
  make_club(STONES);
  write_ours();
  compare("placements written", write_ours, write_peer, "sprintf", 10);
  write_ours();
  compare("placements read", read_ours, read_peer, "libcsv and strtod", 6);
  free_club();
  draw(USUAL, 50);
  draw(STONES, 1000);
  free(text.bytes);
  return isnan(sum);
}
