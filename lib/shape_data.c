/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/shape.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "shape_build_internal.h"

/* ---- reading: the grammar of SVG 2, 9.3.9, one function a rule */

typedef struct reader {
  girdle_call *call;
  const char *data, *at, *end;
  const char *segment; /* where the numbers of the last one begin */
  girdle_strokes strokes;
  double hand_x, hand_y; /* the last curve's second control point, for S and T */
  char command, before;  /* before: the command drawn last, in capitals */
  uint64_t drawn;
} reader;

static int32_t bad(reader *r, const char *what) {
  return girdle_common_fail(r->call, GIRDLE_SYNTAX, "path data", "%s", what);
}

/* Adds to a fault found in the data, by whomever, where it stands. */
static void say_where(const reader *r, girdle_error *error) {
  size_t length;
  girdle_common_at(r->call, NULL, -1, -1, r->at - r->data);
  if (!error || error->status == GIRDLE_MEMORY || error->status == GIRDLE_STOPPED) return;
  length = strlen(error->message);
  snprintf(error->message + length, sizeof error->message - length, ", at byte %lld of the path data",
           (long long)(r->at - r->data));
}

static int is_space(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f';
}

static int is_digit(char c) {
  return c >= '0' && c <= '9';
}

static void skip_spaces(reader *r) {
  while (r->at < r->end && is_space(*r->at))
    r->at++;
}

static void skip_comma(reader *r) {
  skip_spaces(r);
  if (r->at >= r->end || *r->at != ',') return;
  r->at++;
  skip_spaces(r);
}

/* A number as it is read: where it ends, and its digits as far as they are needed. */
typedef struct number {
  const char *end;  /* where it began when there is none */
  uint64_t digits;  /* all of them, when they are no more than 15 */
  int count, power; /* how many; value = digits x 10^power */
} number;

static const char *scan_digits(const char *at, const char *end, number *n) {
  for (; at < end && is_digit(*at); at++, n->count++)
    if (n->count < 16) n->digits = n->digits * 10 + (uint64_t)(*at - '0');
  return at;
}

static const char *scan_exponent(const char *at, const char *end, number *n) {
  const char *start = at;
  number exponent = {NULL, 0, 0, 0};
  int negative;
  if (at == end || (*at != 'e' && *at != 'E')) return start;
  negative = ++at < end && *at == '-';
  if (at < end && (*at == '+' || *at == '-')) at++;
  at = scan_digits(at, end, &exponent);
  if (exponent.count == 0) return start;
  if (exponent.count > 3) exponent.digits = 999;
  n->power += negative ? -(int)exponent.digits : (int)exponent.digits;
  return at;
}

static number scan_number(const char *start, const char *end) {
  number n = {start, 0, 0, 0};
  const char *at = start + (start < end && (*start == '+' || *start == '-'));
  at = scan_digits(at, end, &n);
  if (end - at > 1 && *at == '.' && is_digit(at[1])) { /* a point needs a digit after it */
    int whole = n.count;
    at = scan_digits(at + 1, end, &n);
    n.power = whole - n.count;
  }
  if (n.count > 0) n.end = scan_exponent(at, end, &n);
  return n;
}

/* Up to 15 digits and ten to the 22nd both factors are exact, so one operation rounds correctly; the rest is left to
 * the careful reader. */
static int32_t read_number(reader *r, double *out) {
  static const double tens[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
  number n = scan_number(r->at, r->end);
  if (n.end == r->at) return bad(r, "a number is missing");
  if (n.count <= 15 && n.power >= -22 && n.power <= 22) {
    double value = n.power < 0 ? (double)n.digits / tens[-n.power] : (double)n.digits * tens[n.power];
    *out = *r->at == '-' ? -value : value;
  } else {
    GIRDLE_TRY(girdle_number_parse(r->call, r->at, (uint64_t)(n.end - r->at), out));
  }
  r->at = n.end;
  return GIRDLE_OK;
}

static int32_t read_flag(reader *r, int *out) {
  if (r->at >= r->end || (*r->at != '0' && *r->at != '1')) return bad(r, "an arc's flag must be 0 or 1");
  *out = *r->at++ == '1';
  return GIRDLE_OK;
}

static int relative(const reader *r) {
  return r->command >= 'a';
}

static int32_t read_pair(reader *r, double *x, double *y) {
  GIRDLE_TRY(read_number(r, x));
  skip_comma(r);
  GIRDLE_TRY(read_number(r, y));
  if (!relative(r)) return GIRDLE_OK;
  *x += r->strokes.at_x;
  *y += r->strokes.at_y;
  return GIRDLE_OK;
}

/* The last pair of a segment may be a closepath: it ends where the subpath began (SVG 2, 9.3.4.1). */
static int32_t read_last_pair(reader *r, double *x, double *y) {
  if (r->at >= r->end || (*r->at != 'z' && *r->at != 'Z')) return read_pair(r, x, y);
  *x = r->strokes.start_x;
  *y = r->strokes.start_y;
  return GIRDLE_OK;
}

static int32_t read_move(reader *r) {
  double x, y;
  GIRDLE_TRY(read_pair(r, &x, &y));
  girdle_strokes_move(&r->strokes, x, y);
  r->command = relative(r) ? 'l' : 'L';
  return GIRDLE_OK;
}

static int32_t read_line(reader *r) {
  double x, y;
  GIRDLE_TRY(read_last_pair(r, &x, &y));
  girdle_strokes_line(&r->strokes, x, y);
  return GIRDLE_OK;
}

static int32_t read_level(reader *r) {
  double x;
  GIRDLE_TRY(read_number(r, &x));
  girdle_strokes_line(&r->strokes, relative(r) ? r->strokes.at_x + x : x, r->strokes.at_y);
  return GIRDLE_OK;
}

static int32_t read_upright(reader *r) {
  double y;
  GIRDLE_TRY(read_number(r, &y));
  girdle_strokes_line(&r->strokes, r->strokes.at_x, relative(r) ? r->strokes.at_y + y : y);
  return GIRDLE_OK;
}

/* The control point mirrored about the pen, or the pen itself when no such curve came before. */
static void mirrored_hand(const reader *r, const char *family, double *x, double *y) {
  int follows = r->before && strchr(family, r->before) != NULL;
  *x = follows ? 2 * r->strokes.at_x - r->hand_x : r->strokes.at_x;
  *y = follows ? 2 * r->strokes.at_y - r->hand_y : r->strokes.at_y;
}

static int32_t finish_cubic(reader *r, double x1, double y1) {
  double x, y;
  GIRDLE_TRY(read_pair(r, &r->hand_x, &r->hand_y));
  skip_comma(r);
  GIRDLE_TRY(read_last_pair(r, &x, &y));
  girdle_strokes_cubic(&r->strokes, x1, y1, r->hand_x, r->hand_y, x, y);
  return GIRDLE_OK;
}

static int32_t read_cubic(reader *r) {
  double x1, y1;
  GIRDLE_TRY(read_pair(r, &x1, &y1));
  skip_comma(r);
  return finish_cubic(r, x1, y1);
}

static int32_t read_smooth_cubic(reader *r) {
  double x1, y1;
  mirrored_hand(r, "CS", &x1, &y1);
  return finish_cubic(r, x1, y1);
}

static int32_t finish_quadratic(reader *r) {
  double x, y;
  GIRDLE_TRY(read_last_pair(r, &x, &y));
  girdle_strokes_quadratic(&r->strokes, r->hand_x, r->hand_y, x, y);
  return GIRDLE_OK;
}

static int32_t read_quadratic(reader *r) {
  GIRDLE_TRY(read_pair(r, &r->hand_x, &r->hand_y));
  skip_comma(r);
  return finish_quadratic(r);
}

static int32_t read_smooth_quadratic(reader *r) {
  double x, y;
  mirrored_hand(r, "QT", &x, &y);
  r->hand_x = x;
  r->hand_y = y;
  return finish_quadratic(r);
}

static int32_t read_arc(reader *r) {
  double radius_x, radius_y, tilt, x, y;
  int large = 0, sweep = 0;
  GIRDLE_TRY(read_number(r, &radius_x));
  skip_comma(r);
  GIRDLE_TRY(read_number(r, &radius_y));
  skip_comma(r);
  GIRDLE_TRY(read_number(r, &tilt));
  skip_comma(r);
  GIRDLE_TRY(read_flag(r, &large));
  skip_comma(r);
  GIRDLE_TRY(read_flag(r, &sweep));
  skip_comma(r);
  GIRDLE_TRY(read_last_pair(r, &x, &y));
  girdle_strokes_arc(&r->strokes, radius_x, radius_y, tilt, large, sweep, x, y);
  return GIRDLE_OK;
}

static const struct {
  char letter;
  int32_t (*read)(reader *r);
} segments[] = {{'M', read_move},  {'L', read_line},         {'H', read_level},     {'V', read_upright},
                {'C', read_cubic}, {'S', read_smooth_cubic}, {'Q', read_quadratic}, {'T', read_smooth_quadratic},
                {'A', read_arc}};

static char capital(char c) {
  return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

static int32_t read_segment(reader *r) {
  char letter = capital(r->command);
  if (++r->drawn % 1024 == 0)
    GIRDLE_TRY(girdle_common_tick(r->call, 1024, (double)(r->at - r->data) / (double)(r->end - r->data)));
  for (size_t i = 0; i < sizeof segments / sizeof segments[0]; i++) {
    if (segments[i].letter != letter) continue;
    r->segment = r->at;
    GIRDLE_TRY(segments[i].read(r));
    r->before = letter;
    if (r->strokes.status) r->at = r->segment;
    return r->strokes.status;
  }
  r->at--;
  return bad(r, "an unknown command");
}

static int starts_number(const reader *r) {
  return r->at < r->end && (is_digit(*r->at) || *r->at == '+' || *r->at == '-' || *r->at == '.');
}

/* Another set of numbers repeats the command; a comma promises one. */
static int32_t repeats(reader *r, int *again) {
  const char *comma;
  skip_spaces(r);
  comma = r->at < r->end && *r->at == ',' ? r->at : NULL;
  skip_comma(r);
  *again = starts_number(r);
  if (!comma || *again) return GIRDLE_OK;
  r->at = comma;
  return bad(r, "a comma that no number follows");
}

static int32_t read_command(reader *r) {
  int again = 1;
  r->command = *r->at++;
  skip_spaces(r);
  if (capital(r->command) == 'Z') {
    girdle_strokes_close(&r->strokes);
    r->before = 'Z';
    return r->strokes.status;
  }
  while (again) {
    GIRDLE_TRY(read_segment(r));
    GIRDLE_TRY(repeats(r, &again));
  }
  return GIRDLE_OK;
}

static int32_t read_all(reader *r) {
  skip_spaces(r);
  if (r->at == r->end) return bad(r, "nothing to draw");
  if (*r->at != 'M' && *r->at != 'm') return bad(r, "path data must begin with M or m; there is something else");
  for (; r->at < r->end; skip_spaces(r))
    GIRDLE_TRY(read_command(r));
  return GIRDLE_OK;
}

int32_t girdle_path_parse(girdle_call *call, const char *data, uint64_t bytes, girdle_path **out) {
  GIRDLE_GIVEN(call, data || !bytes, out);
  reader r = {.call = call, .data = data, .at = data, .end = data + bytes};
  girdle_error *error = call && call->error && !call->error->status ? call->error : NULL; /* an earlier one stands */
  int32_t status;
  girdle_strokes_begin(&r.strokes, call);
  status = r.strokes.status ? r.strokes.status : read_all(&r);
  if (!r.strokes.status) r.strokes.status = status;
  status = girdle_strokes_finish(&r.strokes, out);
  if (status) say_where(&r, error);
  return status;
}

/* ---- writing */

typedef struct writer {
  char *buffer;
  uint64_t bytes, length;
} writer;

static void put(writer *w, char c) {
  if (w->length + 1 < w->bytes) w->buffer[w->length] = c;
  w->length++;
}

/* The fewest digits that read back equal, with a point whatever the locale. */
static void put_number(writer *w, double value) {
  char text[40];
  double back = NAN;
  for (int digits = 15; digits <= 17 && back != value; digits++) {
    char *out = text, *in = text;
    snprintf(text, sizeof text, "%.*g", digits, value);
    for (; *in; in++) {
      int plain = is_digit(*in) || *in == '-' || *in == '+' || *in == 'e';
      if (plain || out == text || out[-1] != '.') *out++ = plain ? *in : '.';
    }
    *out = '\0';
    girdle_number_parse(NULL, text, strlen(text), &back);
  }
  for (const char *c = text; *c; c++)
    put(w, *c);
}

static void put_pair(writer *w, double x, double y) {
  put(w, ' ');
  put_number(w, x);
  put(w, ' ');
  put_number(w, y);
}

static void put_piece(writer *w, const girdle_piece *piece) {
  uint64_t points = girdle_piece_points(piece);
  put(w, "LQCA"[piece->kind]);
  if (piece->kind == GIRDLE_PIECE_ARC) {
    put_pair(w, piece->x[2], piece->y[2]);
    put(w, ' ');
    put_number(w, piece->x[3]);
    put_pair(w, 0, piece->sweep > 0);
  }
  for (uint64_t i = 1; i < points; i++)
    put_pair(w, piece->x[i], piece->y[i]);
}

uint64_t girdle_path_text(const girdle_path *path, char *buffer, uint64_t bytes) {
  writer w = {buffer, bytes, 0};
  for (uint64_t p = 0; p < path->part_count; p++) {
    const girdle_subpath *part = &path->parts[p];
    const girdle_piece *pieces = path->pieces + part->first;
    if (p > 0) put(&w, ' ');
    put(&w, 'M');
    put_pair(&w, pieces->x[0], pieces->y[0]);
    for (uint64_t i = 0; i < part->count; i++)
      put_piece(&w, &pieces[i]);
    if (part->closed) put(&w, 'Z');
  }
  if (bytes) buffer[w.length < bytes ? w.length : bytes - 1] = '\0';
  return w.length;
}
