/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
/* needs: libgsl-dev libgeos-dev -lgeos_c -lgsl -lgslcblas -lm */

/* Placing beside general libraries, both sides by turns in one run: medians of processor time, the ratio, the goal, and
 * how the time grows with the number of stones, from a thousand to ten million. Those of npm are run by node where
 * `make setup-peers` has brought them. */

#include <geos_c.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "girdle/girdle.h"
#include "place_internal.h"
#include "row.h"

enum { RUNS = 5 };

static double now_s(void) {
  struct timespec time;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
  return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

static uint64_t seed = 7;

static double uniform(void) {
  return girdle_random_unit(&seed);
}

static int by_value(const void *a, const void *b) {
  double left = *(const double *)a, right = *(const double *)b;
  return (left > right) - (left < right);
}

/* The median rate of some runs; `work` gives what it did. */
static double rate_of(double (*work)(void)) {
  double rates[RUNS];
  for (int i = 0; i < RUNS; i++) {
    double start = now_s(), done = work();
    rates[i] = done / (now_s() - start);
  }
  qsort(rates, RUNS, sizeof rates[0], by_value);
  return rates[RUNS / 2];
}

static void print_row(bench_row row) {
  printf("%-46s %10.3g %s", row.work, row.figure, row.unit);
  if (row.peer) printf("; %s %.3g; ratio %.2f (goal %g)", row.peer, row.peer_figure, bench_ratio(&row), row.goal_ratio);
  if (row.goal_figure > 0) printf(" (goal %g)", row.goal_figure);
  if (row.exponent != 0) printf("; grows with exponent %.3f (goal %g)", row.exponent, row.goal_exponent);
  printf("\n");
  bench_add(row);
}

/* Seconds that the peers of npm take for some work, and what they count; NAN where they are not there. */
static double seconds_of_node(const char *what, const char *given, double *count) {
  const char *build = getenv("BUILD");
  char command[600];
  double seconds = NAN;
  FILE *pipe;
  snprintf(command, sizeof command, "NODE_PATH=%s/peers/node_modules node tests/bench/peers.js %s %s 2>/dev/null",
           build ? build : "build", what, given);
  pipe = popen(command, "r");
  if (!pipe) return NAN;
  if (fscanf(pipe, "%lf %lf", &seconds, count) != 2) seconds = NAN;
  pclose(pipe);
  if (isnan(seconds)) printf("  left out beside npm's (needs node and make setup-peers)\n");
  return seconds;
}

/* The slope of log time over log stones, by least squares. */
static double exponent(const double *stones, const double *seconds, int count) {
  double sx = 0, sy = 0, sxx = 0, sxy = 0;
  for (int i = 0; i < count; i++) {
    double x = log(stones[i]), y = log(seconds[i]);
    sx += x, sy += y, sxx += x * x, sxy += x * y;
  }
  return (count * sxy - sx * sy) / (count * sxx - sx * sx);
}

static girdle_stone round_stone(double diameter_mm) {
  girdle_stone stone;
  girdle_stone_parse(NULL, "ss20", &stone);
  for (int i = 0; i < 3; i++)
    stone.diameter_mm[i] = diameter_mm;
  return stone;
}

/* ---- records */

enum { RECORDS = 1000000 };
static girdle_placed *memory_records;

static double write_records(void) {
  for (int i = 0; i < RECORDS; i++) {
    girdle_placed record = {i * 0.1, i * 0.2, 0, 0, 0};
    memory_records[i] = record;
    __asm__ volatile("" ::: "memory");
  }
  return RECORDS;
}

static girdle_field square_field;
static girdle_lattice square_lattice;
static girdle_placement *square_placement;
static girdle_laying square_laying;

static double lay_records(void) {
  uint16_t index = 0;
  square_placement->count = 0;
  girdle_lattice_lay(&square_lattice, &square_laying, &index, 1, square_placement);
  return (double)square_placement->count;
}

static void bench_records(void) {
  girdle_region *region = NULL;
  double ours, theirs;
  memory_records = calloc(RECORDS, sizeof *memory_records);
  girdle_region_rectangle(NULL, 3000, 3000, &region);
  girdle_field_new(NULL, region, GIRDLE_FLAT_MM, &square_field);
  girdle_lattice_begin(&square_lattice, NULL, &square_field, &square_field, 0);
  girdle_lattice_set(&square_lattice, 1.5, 0, 0, GIRDLE_SQUARE_ROWS);
  girdle_place_new(NULL, RECORDS + 5000, &square_placement);
  square_laying.first_row = 1.5 + square_field.box.top_mm;
  square_laying.shift = 1.5 + square_field.box.left_mm;
  lay_records();
  ours = rate_of(lay_records);
  theirs = rate_of(write_records);
  print_row((bench_row){.work = "placement records, bulk",
                        .unit = "records/s",
                        .figure = ours,
                        .peer = "24 bytes each, warm memory",
                        .peer_figure = theirs,
                        .goal_ratio = 0.5});
  free(memory_records);
  girdle_region_free(region);
}

/* ---- run */

static girdle_path *wave;
static girdle_legs wave_legs;
static girdle_leg wave_leg;
static girdle_sequence wave_sequence;
static girdle_step *wave_steps;
enum { WAVE_STONES = 20000 };

static double walk_ours(void) {
  girdle_leg_walk(&wave_legs, &wave_leg, &wave_sequence, 0, WAVE_STONES, 0.5, wave_steps);
  return WAVE_STONES;
}

typedef struct crossing {
  const girdle_piece *piece;
  double x, y, step;
} crossing;

static double miss(double t, void *context) {
  const crossing *at = context;
  double point[2];
  girdle_piece_at(at->piece, t, point, NULL, NULL);
  return hypot(point[0] - at->x, point[1] - at->y) - at->step;
}

/* A bracket by walking the flattened copy, then Brent's method on the true curve. */
static double walk_brent(void) {
  const struct girdle_vertex *points = wave_legs.track.points;
  gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
  double x = points[0].x, y = points[0].y, step = wave_sequence.stones[0].diameter_mm[1] + 0.5, last_t = 0;
  uint64_t at = 0, last_piece = points[1].piece;
  for (int i = 1; i < WAVE_STONES; i++) {
    crossing here = {NULL, x, y, step};
    gsl_function function = {miss, &here};
    double low, high;
    while (hypot(points[at + 1].x - x, points[at + 1].y - y) < step)
      at++;
    here.piece = &wave_legs.track.pieces[points[at + 1].piece];
    low = points[at].piece == points[at + 1].piece ? points[at].t : 0;
    if (points[at + 1].piece == last_piece && last_t > low) low = last_t;
    high = points[at + 1].t;
    gsl_root_fsolver_set(solver, &function, low, high);
    do
      gsl_root_fsolver_iterate(solver);
    while (fabs(miss(gsl_root_fsolver_root(solver), &here)) > 1e-9 &&
           gsl_root_fsolver_x_upper(solver) > gsl_root_fsolver_x_lower(solver));
    last_t = gsl_root_fsolver_root(solver);
    last_piece = points[at + 1].piece;
    {
      double point[2];
      girdle_piece_at(here.piece, last_t, point, NULL, NULL);
      x = point[0];
      y = point[1];
    }
  }
  gsl_root_fsolver_free(solver);
  return WAVE_STONES;
}

static void bench_run(void) {
  static char text[400000];
  girdle_stone stone = round_stone(4.7);
  double ours, theirs, worst = 0;
  uint64_t parts;
  size_t used = (size_t)snprintf(text, sizeof text, "M0 0");
  for (int i = 0; i < 3000; i++)
    used += (size_t)snprintf(text + used, sizeof text - used, "c10 %d 30 %d 40 0", 10 + i % 17, -10 - i % 13);
  girdle_path_parse(NULL, text, used, &wave);
  girdle_track_new(NULL, wave, girdle_path_parts(wave, &parts), NULL, 0, &wave_legs.track);
  wave_leg.last = wave_legs.track.count - 1;
  wave_sequence.stones = &stone;
  wave_sequence.count = 1;
  wave_sequence.turn_deg = NAN;
  wave_steps = calloc(WAVE_STONES, sizeof *wave_steps);
  ours = rate_of(walk_ours);
  theirs = rate_of(walk_brent);
  walk_ours();
  for (int i = 1; i < WAVE_STONES; i++)
    worst = fmax(worst, fabs(hypot(wave_steps[i].foot.x - wave_steps[i - 1].foot.x,
                                   wave_steps[i].foot.y - wave_steps[i - 1].foot.y) -
                             5.2));
  print_row((bench_row){.work = "run: straight steps on the curve",
                        .unit = "stones/s",
                        .figure = ours,
                        .peer = "GSL Brent a stone",
                        .peer_figure = theirs,
                        .goal_ratio = 3});
  printf("  worst step off by %.1e mm\n", worst);
  free(wave_steps);
  girdle_track_free(&wave_legs.track);
  girdle_path_free(wave);
}

/* ---- hexagonal fill of a wavy disc with three holes */

static girdle_field fill_field;
static girdle_lattice fill_lattice;
static girdle_placement *fill_placement;
static girdle_laying fill_laying;
static GEOSContextHandle_t geos;
static GEOSGeometry *fill_polygon;
static int64_t fill_counts[2];

static double fill_ours(void) {
  uint16_t index = 0;
  fill_placement->count = 0;
  girdle_lattice_lay(&fill_lattice, &fill_laying, &index, 1, fill_placement);
  fill_counts[0] = (int64_t)fill_placement->count;
  return (double)fill_placement->count;
}

static int holds_point(const GEOSPreparedGeometry *prepared, double x, double y) {
  GEOSGeometry *point = GEOSGeom_createPointFromXY_r(geos, x, y);
  int held = GEOSPreparedContains_r(geos, prepared, point);
  GEOSGeom_destroy_r(geos, point);
  return held;
}

static double fill_geos(void) {
  GEOSGeometry *inner = GEOSBuffer_r(geos, fill_polygon, -fill_lattice.reach, 64);
  const GEOSPreparedGeometry *prepared = GEOSPrepare_r(geos, inner);
  const girdle_box *box = &fill_field.box;
  fill_counts[1] = 0;
  for (int row = 0; fill_laying.first_row + row * fill_lattice.row_pitch < box->bottom_mm; row++)
    for (double x = box->left_mm - 10 + row % 2 * fill_lattice.odd_shift; x < box->right_mm; x += fill_lattice.pitch)
      fill_counts[1] += holds_point(prepared, x, fill_laying.first_row + row * fill_lattice.row_pitch);
  GEOSPreparedGeom_destroy_r(geos, prepared);
  GEOSGeom_destroy_r(geos, inner);
  return (double)fill_counts[1];
}

static GEOSGeometry *geos_ring(double x, double y, double radius, int vertices) {
  GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, (unsigned)vertices + 1, 2);
  for (int i = 0; i <= vertices; i++) {
    double angle = 2 * 3.14159265358979 * (i % vertices) / vertices, r = radius * (1 + 0.1 * sin(7 * angle));
    GEOSCoordSeq_setXY_r(geos, points, (unsigned)i, x + r * cos(angle), y + r * sin(angle));
  }
  return GEOSGeom_createLinearRing_r(geos, points);
}

static size_t ring_text(char *text, double x, double y, double radius, int vertices) {
  size_t used = 0;
  for (int i = 0; i < vertices; i++) {
    double angle = 2 * 3.14159265358979 * i / vertices, r = radius * (1 + 0.1 * sin(7 * angle));
    used += (size_t)sprintf(text + used, "%s%.17g %.17g", i ? "L" : "M", x + r * cos(angle), y + r * sin(angle));
  }
  return used + (size_t)sprintf(text + used, "Z");
}

/* From some hundred stones to some millions. */
static double fill_exponent(void) {
  double stones[5], seconds[5];
  for (int i = 0; i < 5; i++) {
    double scale = pow(10, i / 2.0 - 1);
    girdle_lattice_set(&fill_lattice, 1.45 / scale, 0.6 / scale, 0, GIRDLE_HONEYCOMB);
    stones[i] = fill_ours();
    seconds[i] = stones[i] / rate_of(fill_ours);
  }
  return exponent(stones, seconds, 5);
}

static void bench_fill(int vertices, double goal) {
  static const double holes[3][2] = {{-200, -100}, {150, 200}, {220, -150}};
  char *text = malloc((size_t)vertices * 200), work[60];
  GEOSGeometry *rings[3];
  girdle_path *path = NULL;
  girdle_region *region = NULL;
  double ours, theirs;
  size_t used = ring_text(text, 0, 0, 500, vertices * 5 / 8);
  for (int i = 0; i < 3; i++)
    used += ring_text(text + used, holes[i][0], holes[i][1], 80, vertices / 8);
  girdle_path_parse(NULL, text, used, &path);
  if (girdle_region_new(NULL, path, GIRDLE_EVENODD, &region)) return;
  for (int i = 0; i < 3; i++)
    rings[i] = geos_ring(holes[i][0], holes[i][1], 80, vertices / 8);
  fill_polygon = GEOSGeom_createPolygon_r(geos, geos_ring(0, 0, 500, vertices * 5 / 8), rings, 3);
  girdle_field_new(NULL, region, GIRDLE_FLAT_MM, &fill_field);
  girdle_lattice_begin(&fill_lattice, NULL, &fill_field, &fill_field, 0);
  girdle_lattice_set(&fill_lattice, 1.45, 0.6, 0, GIRDLE_HONEYCOMB);
  girdle_place_new(NULL, 100000, &fill_placement);
  fill_laying.first_row = fill_field.box.top_mm + 3;
  fill_laying.shift = fill_field.box.left_mm - 10;
  ours = rate_of(fill_ours);
  theirs = rate_of(fill_geos);
  snprintf(work, sizeof work, "hexagonal fill, %d vertices", vertices);
  printf("  %lld stones, the peer %lld\n", (long long)fill_counts[0], (long long)fill_counts[1]);
  print_row((bench_row){.work = work,
                        .unit = "stones/s",
                        .figure = ours,
                        .peer = "GEOS buffer + prepared test",
                        .peer_figure = theirs,
                        .goal_ratio = goal,
                        .exponent = fill_exponent(),
                        .goal_exponent = 1.05});
  girdle_placement_free(fill_placement);
  girdle_lattice_free(&fill_lattice);
  girdle_field_free(&fill_field);
  GEOSGeom_destroy_r(geos, fill_polygon);
  girdle_region_free(region);
  girdle_path_free(path);
  free(text);
}

/* ---- scatter */

/* Memory that is asked for, and the most of it at one time. */
typedef struct account {
  uint64_t now, most;
} account;

static void *counted_resize(void *context, void *block, uint64_t old_bytes, uint64_t new_bytes) {
  account *kept = context;
  kept->now += new_bytes - (block ? old_bytes : 0);
  if (kept->now > kept->most) kept->most = kept->now;
  if (new_bytes) return realloc(block, new_bytes);
  free(block);
  return NULL;
}

static account scatter_account;

static uint32_t scatter_flags;

static double scatter(double side_mm, const girdle_stone *stones, uint64_t kinds, int64_t count,
                      girdle_placement **out) {
  girdle_region *region = NULL;
  girdle_scatter_options options;
  girdle_call call;
  double start;
  memset(&call, 0, sizeof call);
  call.memory.resize = counted_resize;
  call.memory.context = &scatter_account;
  scatter_account.now = scatter_account.most = 0;
  girdle_scatter_options_init(&options, sizeof options);
  options.stones = stones;
  options.stone_count = kinds;
  options.gap_mm = 0.5;
  options.count = count;
  options.flags = scatter_flags;
  girdle_region_rectangle(NULL, side_mm, side_mm, &region);
  start = now_s();
  if (girdle_scatter(&call, region, &options, out)) *out = NULL;
  start = now_s() - start;
  girdle_region_free(region);
  return start;
}

/* Mean distance to the nearest of the same stone over the honeycomb's, and the radially averaged power of the places at
 * fractions of the honeycomb's frequency: near 0 at low frequencies for an even spread, near 1 for one at random. */
static void print_evenness(const char *what, const girdle_placement *placement, uint16_t stone, double side_mm) {
  static const double fractions[] = {0.25, 0.5, 0.75, 1, 1.5, 3};
  const girdle_placed *records = placement->records;
  double n = 0, nearest = 0, spacing;
  for (uint64_t i = 0; i < placement->count; i++)
    n += records[i].stone == stone;
  spacing = sqrt(2 * side_mm * side_mm / (sqrt(3) * n));
  for (uint64_t i = 0; i < placement->count; i++) {
    double least = INFINITY;
    if (records[i].stone != stone) continue;
    for (uint64_t k = 0; k < placement->count; k++)
      if (k != i && records[k].stone == stone)
        least = fmin(least, hypot(records[i].x_mm - records[k].x_mm, records[i].y_mm - records[k].y_mm));
    nearest += least / n;
  }
  printf("  %-22s %5.0f stones, nearest %.3f of the honeycomb's; power", what, n, nearest / spacing);
  for (int f = 0; f < 6; f++) {
    double power = 0;
    for (int k = 0; k < 64; k++) { /* frequencies that fit the square, so that its outline does not show */
      double angle = k * 3.14159265358979 / 64, at = fractions[f] * side_mm / spacing, re = 0, im = 0;
      double u = nearbyint(at * cos(angle)) / side_mm, v = nearbyint(at * sin(angle)) / side_mm;
      for (uint64_t i = 0; i < placement->count; i++) {
        double phase = 6.28318530717958648 * (u * records[i].x_mm + v * records[i].y_mm);
        if (records[i].stone == stone) re += cos(phase), im += sin(phase);
      }
      power += (re * re + im * im) / n / 64;
    }
    printf(" %.2f@%g", power, fractions[f]);
  }
  printf("\n");
}

enum { SIZES = 5, PEER_AT = 2 };

/* Runs of some thousands of stones are repeated, and the best one counts. */
static double best_scatter(int power, const girdle_stone *stones, uint64_t kinds, girdle_placement **placement) {
  double side = sqrt(pow(10, power) / 0.69655) * 2.5, best = INFINITY;
  *placement = NULL;
  for (int run = 0; run < (power < 6 ? 3 : 1); run++) {
    girdle_placement_free(*placement);
    best = fmin(best, scatter(side, stones, kinds, 0, placement));
  }
  return best;
}

static void print_scatter(const girdle_placement *placement, double seconds, int mixed) {
  double count = (double)placement->count;
  printf("scatter, %s: %9.0f stones, %8.3g stones/s, %.0f B of working memory a stone",
         mixed ? "three sizes" : "one size", count, count / seconds, (double)scatter_account.most / count - 24);
  if (!mixed) printf(", undecided %.1e of (size + gap)^2", placement->notes.undecided_mm2 / 6.25);
  printf("\n");
}

/* Points a second of the peer on the square of a hundred thousand stones; NAN without it. */
static double rate_of_peer(void) {
  double side = sqrt(1e5 / 0.69655) * 2.5, points, seconds;
  char given[60];
  snprintf(given, sizeof given, "%.6f 2.5", side);
  seconds = seconds_of_node("scatter", given, &points);
  if (!isnan(seconds))
    printf("  the peer sets %.0f points, packing %.3f\n", points, points * 0.785398 * 6.25 / (side * side));
  return points / seconds;
}

static void print_beside_peer(const char *work, double rate, double peer, double goal, double growth) {
  bench_row row = {.work = work, .unit = "stones/s", .figure = rate, .exponent = growth, .goal_exponent = 1.05};
  if (!isnan(peer)) {
    row.peer = "npm fast-2d-poisson-disk-sampling";
    row.peer_figure = peer;
    row.goal_ratio = goal;
  }
  print_row(row);
}

/* Middles keep a radius off the edge, so the packing is that of the square they may lie in, and half a distance more.
 */
static void bench_dense(const girdle_stone *stone, double peer) {
  double stones[3], seconds[3], side = sqrt(1e5 / 0.69655) * 2.5 - 2 + 2.5;
  scatter_flags = GIRDLE_DENSE;
  for (int i = 0; i < 3; i++) {
    girdle_placement *placement;
    seconds[i] = best_scatter(4 + i, stone, 1, &placement);
    stones[i] = (double)placement->count;
    if (i == 1)
      printf("dense scatter: %.0f stones, packing %.4f (goal 0.66), undecided %.1e of (size + gap)^2\n", stones[i],
             stones[i] * 0.785398 * 6.25 / (side * side), placement->notes.undecided_mm2 / 6.25);
    girdle_placement_free(placement);
  }
  scatter_flags = 0;
  print_beside_peer("scatter, one size, dense, 1e5", stones[1] / seconds[1], peer, 2, exponent(stones, seconds, 3));
}

static void bench_scatter(void) {
  girdle_stone stone = round_stone(2), sizes[3] = {round_stone(3), round_stone(2), round_stone(1.5)};
  double stones[2][SIZES], seconds[2][SIZES], bytes[2], peer = rate_of_peer();
  for (int mixed = 0; mixed < 2; mixed++)
    for (int i = 0; i < SIZES; i++) {
      girdle_placement *placement;
      double side = sqrt(pow(10, 3 + i) / 0.69655) * 2.5;
      seconds[mixed][i] = best_scatter(3 + i, mixed ? sizes : &stone, mixed ? 3 : 1, &placement);
      stones[mixed][i] = (double)placement->count;
      bytes[mixed] = (double)scatter_account.most / stones[mixed][i] - 24;
      print_scatter(placement, seconds[mixed][i], mixed);
      if (i == 0) print_evenness(mixed ? "largest of three" : "one size", placement, 0, side);
      if (i == 0 && mixed) print_evenness("smallest of three", placement, 2, side);
      girdle_placement_free(placement);
    }
  print_beside_peer("scatter, one size, maximal, 1e5", stones[0][PEER_AT] / seconds[0][PEER_AT], peer, 1,
                    exponent(stones[0], seconds[0], SIZES));
  bench_dense(&stone, peer);
  print_row((bench_row){.work = "scatter, three sizes, 1e5",
                        .unit = "stones/s",
                        .figure = stones[1][PEER_AT] / seconds[1][PEER_AT],
                        .peer = "one size",
                        .peer_figure = stones[0][PEER_AT] / seconds[0][PEER_AT],
                        .goal_ratio = 0.5,
                        .exponent = exponent(stones[1], seconds[1], SIZES),
                        .goal_exponent = 1.05});
  print_row((bench_row){.work = "scatter, one size, working memory",
                        .unit = "B a stone",
                        .figure = bytes[0],
                        .goal_figure = 64,
                        .less_is_better = 1});
  print_row((bench_row){.work = "scatter, three sizes, working memory",
                        .unit = "B a stone",
                        .figure = bytes[1],
                        .goal_figure = 64,
                        .less_is_better = 1});
}

static double one_costume(void) {
  girdle_stone sizes[3] = {round_stone(3), round_stone(2), round_stone(1.5)};
  girdle_placement *placement = NULL;
  scatter(150, sizes, 3, 1500, &placement);
  girdle_placement_free(placement);
  return 1;
}

static double one_shade(void) {
  girdle_stone colours[3] = {round_stone(3), round_stone(3), round_stone(3)};
  girdle_placement *placement = NULL;
  for (int i = 1; i < 3; i++)
    snprintf(colours[i].colour, sizeof colours[i].colour, "%d", i);
  scatter(150, colours, 3, 0, &placement);
  print_evenness("one of three colours", placement, 1, 150);
  girdle_placement_free(placement);
  return 1;
}

/* ---- overlapping pairs */

static girdle_placement *crowd;
static uint64_t pairs_found[2];

static double pairs_ours(void) {
  girdle_placement_overlaps(NULL, crowd, NULL, 0, &pairs_found[0]);
  return (double)crowd->count;
}

typedef struct query {
  const girdle_placed *here;
  double radius;
} query;

static void meet(void *item, void *context) {
  const girdle_placed *other = item;
  const query *asked = context;
  double radius = crowd->stones[other->stone].diameter_mm[1] / 2;
  if (other > asked->here &&
      hypot(other->x_mm - asked->here->x_mm, other->y_mm - asked->here->y_mm) < radius + asked->radius - 2e-4)
    pairs_found[1]++;
}

static GEOSGeometry *box_about(const girdle_placed *record) {
  double radius = crowd->stones[record->stone].diameter_mm[1] / 2;
  return GEOSGeom_createRectangle_r(geos, record->x_mm - radius, record->y_mm - radius, record->x_mm + radius,
                                    record->y_mm + radius);
}

static double pairs_geos(void) {
  GEOSSTRtree *tree = GEOSSTRtree_create_r(geos, 10);
  GEOSGeometry **boxes = malloc(crowd->count * sizeof *boxes);
  pairs_found[1] = 0;
  for (uint64_t i = 0; i < crowd->count; i++) {
    boxes[i] = box_about(&crowd->records[i]);
    GEOSSTRtree_insert_r(geos, tree, boxes[i], &crowd->records[i]);
  }
  for (uint64_t i = 0; i < crowd->count; i++) {
    query asked = {&crowd->records[i], crowd->stones[crowd->records[i].stone].diameter_mm[1] / 2};
    GEOSSTRtree_query_r(geos, tree, boxes[i], meet, &asked);
  }
  for (uint64_t i = 0; i < crowd->count; i++)
    GEOSGeom_destroy_r(geos, boxes[i]);
  GEOSSTRtree_destroy_r(geos, tree);
  free(boxes);
  return (double)crowd->count;
}

static void write_discs(const char *path) {
  FILE *file = fopen(path, "wb");
  for (uint64_t i = 0; file && i < crowd->count; i++) {
    double disc[3] = {crowd->records[i].x_mm, crowd->records[i].y_mm,
                      crowd->stones[crowd->records[i].stone].diameter_mm[1] / 2};
    fwrite(disc, sizeof disc, 1, file);
  }
  if (file) fclose(file);
}

static void print_beside_kdbush(double ours) {
  const char *build = getenv("BUILD");
  char path[400];
  double found, seconds;
  snprintf(path, sizeof path, "%s/bench-discs.bin", build ? build : "build");
  write_discs(path);
  seconds = seconds_of_node("pairs", path, &found);
  remove(path);
  if (isnan(seconds)) return;
  if (found != (double)pairs_found[0]) printf("  npm kdbush finds %.0f pairs\n", found);
  print_row((bench_row){.work = "overlapping pairs, 1e+05 stones, beside kdbush",
                        .unit = "stones/s",
                        .figure = ours,
                        .peer = "npm kdbush",
                        .peer_figure = (double)crowd->count / seconds,
                        .goal_ratio = 20});
}

static void bench_pairs(void) {
  girdle_stone sizes[3] = {round_stone(2), round_stone(3), round_stone(7)};
  double stones[3], seconds[3];
  for (int i = 0; i < 3; i++) {
    uint64_t count = (uint64_t)pow(10, 4 + i);
    girdle_placed *records = calloc(count, sizeof *records);
    double side = sqrt((double)count) * 4, ours, theirs;
    char work[60];
    for (uint64_t k = 0; k < count; k++) {
      records[k].x_mm = uniform() * side;
      records[k].y_mm = uniform() * side;
      records[k].stone = (uint16_t)(uniform() * 3);
    }
    girdle_placement_new(NULL, sizes, 3, records, count, &crowd);
    ours = rate_of(pairs_ours);
    theirs = rate_of(pairs_geos);
    snprintf(work, sizeof work, "overlapping pairs, %.0e stones", (double)count);
    print_row((bench_row){.work = work,
                          .unit = "stones/s",
                          .figure = ours,
                          .peer = "GEOS STRtree",
                          .peer_figure = theirs,
                          .goal_ratio = 30});
    if (i == 1) print_beside_kdbush(ours);
    if (pairs_found[0] != pairs_found[1])
      printf("  the numbers of pairs differ: %g, %g\n", (double)pairs_found[0], (double)pairs_found[1]);
    stones[i] = (double)count;
    seconds[i] = (double)count / ours;
    girdle_placement_free(crowd);
    free(records);
  }
  printf("  growth exponent %.3f\n", exponent(stones, seconds, 3));
}

/* ---- cover */

static double cover_oval(void) {
  girdle_stone stone = round_stone(4.7);
  girdle_region *region = NULL;
  girdle_cover_options options;
  girdle_placement *placement = NULL;
  double count;
  girdle_region_oval(NULL, 100, 200, &region);
  girdle_cover_options_init(&options, sizeof options);
  options.stones = &stone;
  options.stone_count = 1;
  options.gap_mm = 0.5;
  girdle_cover(NULL, region, &options, &placement);
  count = (double)placement->count;
  girdle_placement_free(placement);
  girdle_region_free(region);
  return count;
}

int main(void) {
  geos = GEOS_init_r();
  gsl_set_error_handler_off();
  bench_records();
  bench_run();
  bench_fill(200, 80);
  bench_fill(5000, 15);
  printf("cover of an oval, 192 layings tried: %.3g stones/s\n", rate_of(cover_oval));
  bench_scatter();
  print_row((bench_row){.work = "1,500 scattered stones of three sizes",
                        .unit = "ms",
                        .figure = 1e3 / rate_of(one_costume),
                        .goal_figure = 5,
                        .less_is_better = 1});
  one_shade();
  bench_pairs();
  GEOS_finish_r(geos);
  return 0;
}
