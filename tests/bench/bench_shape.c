/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
/* needs: libgsl-dev libgeos-dev -lgeos_c -lgsl -lgslcblas -lm */

/* Shapes beside general libraries, both sides by turns in one run: medians of processor time, the ratio, the worst
 * relative error, and the goal. Peers of npm run in node, when `make setup-peers` has brought them. */

#include <geos_c.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "girdle/girdle.h"
#include "row.h"
#include "shape_build_internal.h"

enum { PATHS = 1000, CUBICS = 8, RUNS = 9, POINTS = 20000, GSL_POINTS = 200 };

static double now_s(void) {
  struct timespec time;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
  return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

static uint64_t seed = 20;
static double uniform(void) {
  uint64_t z = (seed += 0x9e3779b97f4a7c15u);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return (double)((z ^ (z >> 31)) >> 11) * 0x1p-53;
}

static int by_value(const void *a, const void *b) {
  double left = *(const double *)a, right = *(const double *)b;
  return (left > right) - (left < right);
}

/* Runs both by turns; each gives the work it did, and its rate is the median. */
static void race(double (*ours)(void), double (*theirs)(void), double *our_rate, double *their_rate) {
  double own[RUNS], other[RUNS];
  for (int i = 0; i < RUNS; i++) {
    double start = now_s(), done = ours();
    own[i] = done / (now_s() - start);
    start = now_s();
    done = theirs();
    other[i] = done / (now_s() - start);
  }
  qsort(own, RUNS, sizeof own[0], by_value);
  qsort(other, RUNS, sizeof other[0], by_value);
  *our_rate = own[RUNS / 2];
  *their_rate = other[RUNS / 2];
}

/* Prints and notes a row; `error` and `peer_error` are worst relative errors. */
static void show(bench_row row, double peer_error) {
  printf("%-28s %9.3g %s, %-28s %9.3g, ratio %6.2f (goal %g); worst error %.1e, peer's %.1e\n", row.work, row.figure,
         row.unit, row.peer, row.peer_figure, bench_ratio(&row), row.goal_ratio, row.accuracy, peer_error);
  bench_add(row);
}

/* ---- peers of npm */

/* Processor seconds that a peer takes for what a file holds, NAN where it is not there; what it found is in `found`. */
static double seconds_of_node(const char *what, const char *file, const char *found) {
  const char *build = getenv("BUILD");
  char command[600];
  double seconds = NAN, count;
  FILE *pipe;
  snprintf(command, sizeof command,
           "NODE_PATH=%s/peers/node_modules node tests/bench/peers_shape.js %s %s %s 2>/dev/null",
           build ? build : "build", what, file, found);
  pipe = popen(command, "r");
  if (!pipe) return NAN;
  if (fscanf(pipe, "%lf %lf", &seconds, &count) != 2) seconds = NAN;
  pclose(pipe);
  return seconds;
}

/* A file name in the build's folder. */
static const char *scratch(const char *name, char path[300]) {
  const char *build = getenv("BUILD");
  snprintf(path, 300, "%s/%s", build ? build : "build", name);
  return path;
}

/* Ours and the peer by turns; 0 when the peer is not there. */
static int race_node(double (*ours)(void), const char *what, const char *file, const char *found, double *our_rate,
                     double *their_seconds) {
  double own[3], other[3];
  for (int i = 0; i < 3; i++) {
    double start = now_s(), done = ours();
    own[i] = done / (now_s() - start);
    other[i] = seconds_of_node(what, file, found);
    if (isnan(other[i])) {
      printf("  left out beside npm's: %s (needs node and make setup-peers)\n", what);
      return 0;
    }
  }
  qsort(own, 3, sizeof own[0], by_value);
  qsort(other, 3, sizeof other[0], by_value);
  *our_rate = own[2];
  *their_seconds = other[0];
  return 1;
}

/* ---- length of cubic paths */

static girdle_piece cubics[PATHS * CUBICS];
static double lengths[PATHS * CUBICS], gsl_lengths[PATHS * CUBICS];
static gsl_integration_workspace *workspace;

static void make_cubics(void) {
  double x = 0, y = 0;
  for (int i = 0; i < PATHS * CUBICS; i++) {
    girdle_piece *piece = &cubics[i];
    piece->kind = GIRDLE_PIECE_CUBIC;
    piece->x[0] = x;
    piece->y[0] = y;
    for (int k = 1; k < 4; k++) {
      piece->x[k] = 100 * uniform();
      piece->y[k] = 100 * uniform();
    }
    x = piece->x[3];
    y = piece->y[3];
  }
}

static double own_lengths(void) {
  for (int i = 0; i < PATHS * CUBICS; i++)
    lengths[i] = girdle_piece_between_mm(&cubics[i], 0, 1);
  return PATHS;
}

typedef struct hodograph {
  double x[3], y[3];
} hodograph;

static hodograph derivative(const girdle_piece *p) {
  hodograph d = {{3 * (p->x[1] - p->x[0]), 6 * (p->x[2] - 2 * p->x[1] + p->x[0]),
                  3 * (p->x[3] - 3 * p->x[2] + 3 * p->x[1] - p->x[0])},
                 {3 * (p->y[1] - p->y[0]), 6 * (p->y[2] - 2 * p->y[1] + p->y[0]),
                  3 * (p->y[3] - 3 * p->y[2] + 3 * p->y[1] - p->y[0])}};
  return d;
}

static double speed(double t, void *context) {
  const hodograph *d = context;
  double x = d->x[0] + t * (d->x[1] + t * d->x[2]), y = d->y[0] + t * (d->y[1] + t * d->y[2]);
  return sqrt(x * x + y * y);
}

static double gsl_length(const girdle_piece *piece, double from, double to, double relative) {
  hodograph d = derivative(piece);
  gsl_function f = {speed, &d};
  double length, error;
  gsl_integration_qag(&f, from, to, 0, relative, 1000, GSL_INTEG_GAUSS21, workspace, &length, &error);
  return length;
}

static double their_lengths(void) {
  for (int i = 0; i < PATHS * CUBICS; i++)
    gsl_lengths[i] = gsl_length(&cubics[i], 0, 1, 1e-9);
  return PATHS;
}

static void bench_length(void) {
  double ours, theirs, worst = 0, peer_worst = 0;
  race(own_lengths, their_lengths, &ours, &theirs);
  for (int i = 0; i < PATHS * CUBICS; i++) {
    double exact = gsl_length(&cubics[i], 0, 1, 5e-14);
    worst = fmax(worst, fabs(lengths[i] / exact - 1));
    peer_worst = fmax(peer_worst, fabs(gsl_lengths[i] / exact - 1));
  }
  show((bench_row){.work = "length of 8 cubics",
                   .unit = "paths/s",
                   .figure = ours,
                   .peer = "GSL qag 21 at 1e-9",
                   .peer_figure = theirs,
                   .goal_ratio = 2.5,
                   .accuracy = worst},
       peer_worst);
}

/* ---- path data read and measured */

static char data[PATHS][CUBICS * 80 + 40];
static double parsed[PATHS];

static void write_data(void) {
  for (int i = 0; i < PATHS; i++) {
    const girdle_piece *p = &cubics[i * CUBICS];
    size_t length = (size_t)sprintf(data[i], "M%.3f,%.3f", p->x[0], p->y[0]);
    for (int k = 0; k < CUBICS; k++, p++)
      length += (size_t)sprintf(data[i] + length, "C%.3f,%.3f %.3f,%.3f %.3f,%.3f", p->x[1], p->y[1], p->x[2], p->y[2],
                                p->x[3], p->y[3]);
  }
}

static double own_parsing(void) {
  for (int i = 0; i < PATHS; i++) {
    girdle_path *path;
    girdle_path_parse(NULL, data[i], strlen(data[i]), &path);
    parsed[i] = girdle_path_length_mm(path);
    girdle_path_free(path);
  }
  return PATHS;
}

/* The plainest reader of such data: strtod number by number, then GSL. */
static double their_parsing(void) {
  for (int i = 0; i < PATHS; i++) {
    char *at = data[i] + 1;
    girdle_piece piece = {.kind = GIRDLE_PIECE_CUBIC};
    double sum = 0;
    piece.x[3] = strtod(at, &at);
    piece.y[3] = strtod(at + 1, &at);
    while (*at) {
      piece.x[0] = piece.x[3];
      piece.y[0] = piece.y[3];
      for (int k = 1; k < 4; k++) {
        piece.x[k] = strtod(at + 1, &at);
        piece.y[k] = strtod(at + 1, &at);
      }
      sum += gsl_length(&piece, 0, 1, 1e-9);
    }
    gsl_lengths[i] = sum;
  }
  return PATHS;
}

static void bench_parsing_beside_npm(double worst) {
  char in[300], out[300];
  double ours, seconds, peer_worst = 0;
  FILE *file = fopen(scratch("bench_paths.txt", in), "w");
  if (!file) return;
  for (int i = 0; i < PATHS; i++)
    fprintf(file, "%s\n", data[i]);
  fclose(file);
  if (!race_node(own_parsing, "lengths", in, scratch("bench_lengths.txt", out), &ours, &seconds)) return;
  file = fopen(out, "r");
  for (int i = 0; file && i < PATHS; i++) {
    double length;
    if (fscanf(file, "%lf", &length) == 1) peer_worst = fmax(peer_worst, fabs(length / gsl_lengths[i] - 1));
  }
  if (file) fclose(file);
  show((bench_row){.work = "path data read and measured",
                   .unit = "paths/s",
                   .figure = ours,
                   .peer = "npm svg-path-properties",
                   .peer_figure = PATHS / seconds,
                   .goal_ratio = 5,
                   .accuracy = worst},
       peer_worst);
}

static void bench_parsing(void) {
  double ours, theirs, worst = 0;
  race(own_parsing, their_parsing, &ours, &theirs);
  for (int i = 0; i < PATHS; i++)
    worst = fmax(worst, fabs(parsed[i] / gsl_lengths[i] - 1));
  show((bench_row){.work = "path data read and measured",
                   .unit = "paths/s",
                   .figure = ours,
                   .peer = "strtod and GSL qag",
                   .peer_figure = theirs,
                   .accuracy = worst},
       0);
  bench_parsing_beside_npm(worst);
}

/* ---- points at lengths */

static girdle_path *prepared;
static double wanted[POINTS];
static girdle_point_on points[POINTS], gsl_points[GSL_POINTS];

static double own_points(void) {
  for (int i = 0; i < POINTS; i++)
    girdle_path_at(NULL, prepared, wanted[i], &points[i]);
  return POINTS;
}

typedef struct target {
  const girdle_piece *piece;
  double length;
} target;

static double miss(double t, void *context) {
  const target *goal = context;
  return gsl_length(goal->piece, 0, t, 1e-12) - goal->length;
}

static double gsl_parameter(const girdle_piece *piece, double length) {
  gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
  target goal = {piece, length};
  gsl_function f = {miss, &goal};
  gsl_root_fsolver_set(solver, &f, 0, 1);
  for (int k = 0; k < 60 && gsl_root_fsolver_iterate(solver) == GSL_SUCCESS; k++)
    if (gsl_root_fsolver_x_upper(solver) - gsl_root_fsolver_x_lower(solver) < 1e-13) break;
  double t = gsl_root_fsolver_root(solver);
  gsl_root_fsolver_free(solver);
  return t;
}

static double their_points(void) {
  uint64_t count;
  const girdle_piece *pieces = girdle_path_pieces(prepared, &count);
  for (int i = 0; i < GSL_POINTS; i++) {
    uint64_t at = 0;
    double point[2];
    while (at + 1 < count && pieces[at + 1].start_mm <= wanted[i])
      at++;
    girdle_piece_at(&pieces[at], gsl_parameter(&pieces[at], wanted[i] - pieces[at].start_mm), point, NULL, NULL);
    gsl_points[i].x_mm = point[0];
    gsl_points[i].y_mm = point[1];
  }
  return GSL_POINTS;
}

static void bench_points_beside_npm(double worst) {
  char in[300], out[300];
  double ours, seconds, peer_worst = 0;
  FILE *file = fopen(scratch("bench_points.txt", in), "w");
  if (!file) return;
  fprintf(file, "%s\n", data[0]);
  for (int i = 0; i < POINTS; i++)
    fprintf(file, "%.9f%c", wanted[i], i < POINTS - 1 ? ' ' : '\n');
  fclose(file);
  if (!race_node(own_points, "points", in, scratch("bench_found.txt", out), &ours, &seconds)) return;
  file = fopen(out, "r");
  for (int i = 0; file && i < POINTS; i++) {
    double x, y;
    if (fscanf(file, "%lf %lf", &x, &y) == 2)
      peer_worst = fmax(peer_worst, hypot(points[i].x_mm - x, points[i].y_mm - y));
  }
  if (file) fclose(file);
  show((bench_row){.work = "point at a length",
                   .unit = "points/s",
                   .figure = ours,
                   .peer = "npm canvaskit-wasm",
                   .peer_figure = POINTS / seconds,
                   .goal_ratio = 1.2,
                   .accuracy = worst},
       peer_worst / girdle_path_length_mm(prepared));
}

static void bench_points(void) {
  double ours, theirs, worst = 0;
  girdle_path_parse(NULL, data[0], strlen(data[0]), &prepared);
  for (int i = 0; i < POINTS; i++)
    wanted[i] = uniform() * girdle_path_length_mm(prepared);
  race(own_points, their_points, &ours, &theirs);
  for (int i = 0; i < GSL_POINTS; i++)
    worst = fmax(worst, hypot(points[i].x_mm - gsl_points[i].x_mm, points[i].y_mm - gsl_points[i].y_mm));
  worst /= girdle_path_length_mm(prepared);
  show((bench_row){.work = "point at a length",
                   .unit = "points/s",
                   .figure = ours,
                   .peer = "GSL Brent on qag",
                   .peer_figure = theirs,
                   .accuracy = worst},
       0);
  bench_points_beside_npm(worst);
  girdle_path_free(prepared);
}

/* ---- parallel offset */

static const double distances[] = {-8, -3, -1, 1, 3, 8};
static girdle_path *rings[4];
static GEOSGeometry *geos_rings[4];
static GEOSContextHandle_t geos;

/* A ring of n corners: a circle of radius 60 swung by a few waves. */
static void make_ring(int which, int n, int waves) {
  GEOSCoordSequence *sequence = GEOSCoordSeq_create_r(geos, (unsigned)n + 1, 2);
  girdle_strokes strokes;
  girdle_strokes_begin(&strokes, NULL);
  for (int i = 0; i < n; i++) {
    double angle = 6.283185307179586 * i / n, radius = 60 + 18 * sin(waves * angle) + 6 * cos(3 * waves * angle);
    double x = radius * cos(angle), y = radius * sin(angle);
    if (i == 0)
      girdle_strokes_move(&strokes, x, y);
    else
      girdle_strokes_line(&strokes, x, y);
    GEOSCoordSeq_setXY_r(geos, sequence, (unsigned)i, x, y);
    if (i == 0) GEOSCoordSeq_setXY_r(geos, sequence, (unsigned)n, x, y);
  }
  girdle_strokes_close(&strokes);
  girdle_strokes_finish(&strokes, &rings[which]);
  geos_rings[which] = GEOSGeom_createLineString_r(geos, sequence);
}

static int at_hand;

static double own_offsets(void) {
  double done = 0;
  for (size_t k = 0; k < sizeof distances / sizeof distances[0]; k++, done++) {
    girdle_path *out = NULL;
    girdle_path_offset(NULL, rings[at_hand], distances[k], &out);
    girdle_path_free(out);
  }
  return done;
}

static double their_offsets(void) {
  double done = 0;
  for (size_t k = 0; k < sizeof distances / sizeof distances[0]; k++, done++)
    GEOSGeom_destroy_r(geos, GEOSOffsetCurve_r(geos, geos_rings[at_hand], -distances[k], 16, GEOSBUF_JOIN_ROUND, 5));
  return done;
}

static double their_buffers(void) {
  double done = 0;
  for (size_t k = 0; k < sizeof distances / sizeof distances[0]; k += 2, done += 2)
    GEOSGeom_destroy_r(geos, GEOSBuffer_r(geos, geos_rings[at_hand], fabs(distances[k]), 16));
  return done;
}

static double worst_offset(void) {
  double worst = 0;
  for (size_t k = 0; k < sizeof distances / sizeof distances[0]; k++) {
    girdle_path *out = NULL;
    if (girdle_path_offset(NULL, rings[at_hand], distances[k], &out)) continue;
    for (int i = 0; i < 2000; i++) {
      girdle_point_on at;
      double along, distance;
      girdle_path_at(NULL, out, girdle_path_length_mm(out) * i / 2000, &at);
      girdle_path_nearest(NULL, rings[at_hand], at.x_mm, at.y_mm, &along, &distance);
      worst = fmax(worst, fabs(distance - fabs(distances[k])));
    }
    girdle_path_free(out);
  }
  return worst;
}

/* How many of its curves come nearer to their ring than the distance, beyond what chords in place of arcs explain. */
static int faults_of_geos(void) {
  int faults = 0;
  for (size_t k = 0; k < sizeof distances / sizeof distances[0]; k++) {
    double reach = fabs(distances[k]), least = INFINITY, x, y;
    GEOSGeometry *curve = GEOSOffsetCurve_r(geos, geos_rings[at_hand], -distances[k], 16, GEOSBUF_JOIN_ROUND, 5);
    for (int g = 0; g < GEOSGetNumGeometries_r(geos, curve); g++) {
      const GEOSCoordSequence *at = GEOSGeom_getCoordSeq_r(geos, GEOSGetGeometryN_r(geos, curve, g));
      unsigned count = 0;
      GEOSCoordSeq_getSize_r(geos, at, &count);
      for (unsigned i = 0; i < count; i++) {
        double along, distance;
        GEOSCoordSeq_getXY_r(geos, at, i, &x, &y);
        girdle_path_nearest(NULL, rings[at_hand], x, y, &along, &distance);
        least = fmin(least, distance);
      }
    }
    faults += least < reach * cos(3.14159265 / 64) - 1e-3;
    GEOSGeom_destroy_r(geos, curve);
  }
  return faults;
}

/* The slope of log time over log corners, by least squares. */
static double exponent_of(const int *corners, const double *rates, int count) {
  double sx = 0, sy = 0, sxx = 0, sxy = 0;
  for (int i = 0; i < count; i++) {
    double x = log(corners[i]), y = -log(rates[i]);
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  return (count * sxy - sx * sy) / (count * sxx - sx * sx);
}

static void bench_offset(void) {
  static const int corners[] = {200, 1000, 2000, 5000};
  static const char *const works[] = {"parallel of 200 corners", "parallel of 1,000 corners",
                                      "parallel of 2,000 corners", "parallel of 5,000 corners"};
  double ours[4], theirs[4];
  for (at_hand = 0; at_hand < 4; at_hand++) {
    double worst, buffers, own;
    make_ring(at_hand, corners[at_hand], 7);
    race(own_offsets, their_offsets, &ours[at_hand], &theirs[at_hand]);
    worst = worst_offset();
    show((bench_row){.work = works[at_hand],
                     .unit = "curves/s",
                     .figure = ours[at_hand],
                     .peer = "GEOSOffsetCurve",
                     .peer_figure = theirs[at_hand],
                     .goal_ratio = 1,
                     .accuracy = worst},
         NAN);
    printf("  faulty: ours %d, GEOSOffsetCurve %d of %d\n", worst > 1e-3, faults_of_geos(),
           (int)(sizeof distances / sizeof distances[0]));
    race(own_offsets, their_buffers, &own, &buffers);
    show((bench_row){.work = works[at_hand],
                     .unit = "curves/s",
                     .figure = own,
                     .peer = "GEOSBuffer (both sides)",
                     .peer_figure = buffers,
                     .accuracy = worst},
         NAN);
    girdle_path_free(rings[at_hand]);
    GEOSGeom_destroy_r(geos, geos_rings[at_hand]);
  }
  printf("  time grows with corners at exponent %.2f, GEOSOffsetCurve's at %.2f\n", exponent_of(corners, ours, 4),
         exponent_of(corners, theirs, 4));
}

int main(void) {
  workspace = gsl_integration_workspace_alloc(1000);
  gsl_set_error_handler_off();
  geos = GEOS_init_r();
  make_cubics();
  write_data();
  bench_length();
  bench_parsing();
  bench_points();
  bench_offset();
  GEOS_finish_r(geos);
  gsl_integration_workspace_free(workspace);
  return 0;
}
