/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "svg_internal.h"

#include <math.h>
#include <string.h>

static const double mm_per_px = 25.4 / 96; /* CSS: 96 px are one inch */

const char *girdle_svg_attribute(const char **attributes, const char *name) {
  for (; *attributes; attributes += 2)
    if (strcmp(attributes[0], name) == 0) return attributes[1];
  return NULL;
}

/* ---- numbers and lengths */

static int is_space(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f';
}

static const char *skip_separators(const char *at) {
  while (is_space(*at) || *at == ',')
    at++;
  return at;
}

static const char *skip_digits(const char *at) {
  while (*at >= '0' && *at <= '9')
    at++;
  return at;
}

/* The end of the number at the start of `text`; an "e" counts only with digits behind it ("2em" is 2 of unit em). */
static const char *number_end(const char *text) {
  const char *at = text, *power;
  if (*at == '+' || *at == '-') at++;
  at = skip_digits(at);
  if (*at == '.') at = skip_digits(at + 1);
  if (*at != 'e' && *at != 'E') return at;
  power = at + 1;
  if (*power == '+' || *power == '-') power++;
  return skip_digits(power) > power ? skip_digits(power) : at;
}

static int scan_number(const char **at, double *out) {
  const char *end = number_end(*at);
  if (end == *at || girdle_number_parse(NULL, *at, (uint64_t)(end - *at), out) != GIRDLE_OK) return 0;
  *at = end;
  return 1;
}

int girdle_svg_is_pairs(const char *text) {
  const char *at = skip_separators(text);
  int count = 0;
  for (double number; *at && scan_number(&at, &number); at = skip_separators(at))
    count = !count;
  return !*at && !count;
}

/* Pieces that each number stands for behind a command's letter. An arc of 7 numbers, of which its two flags may stick
 * to the next, becomes up to three pieces. */
static double pieces_a_number(char command) {
  static const char letters[] = "mlthvqscaz";
  static const double shares[] = {1 / 2.0, 1 / 2.0, 1 / 2.0, 1, 1, 1 / 4.0, 1 / 4.0, 1 / 6.0, 3 / 5.0, 0};
  const char *found = strchr(letters, command | 0x20);
  return found ? shares[found - letters] : 1;
}

uint64_t girdle_svg_points(const char *data) {
  double pieces = 0, share = 1;
  for (const char *at = data; *at;) {
    const char *end = number_end(at);
    if (end > at) {
      pieces += share;
      at = end;
      continue;
    }
    if ((*at | 0x20) >= 'a' && (*at | 0x20) <= 'z') share = pieces_a_number(*at);
    pieces += (*at | 0x20) == 'z'   ? 1
              : (*at | 0x20) == 'm' ? -1
                                    : 0; /* the one closes by a line, the other draws none */
    at++;
  }
  return (uint64_t)ceil(fmax(pieces, 0));
}

/* Millimetres of a unit; 0 when it is not known. */
static double unit_mm(const char *unit) {
  static const struct {
    const char *name;
    double mm;
  } units[] = {{"", 25.4 / 96}, {"px", 25.4 / 96}, {"mm", 1},        {"cm", 10},
               {"in", 25.4},    {"pt", 25.4 / 72}, {"pc", 25.4 / 6}, {"Q", 0.25}};
  for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
    if (strcmp(unit, units[i].name) == 0) return units[i].mm;
  return 0;
}

static int32_t bad_length(girdle_call *call, const char *name, const char *text) {
  return girdle_common_fail(call, GIRDLE_SYNTAX, name,
                            "%s=\"%.40s\" is not a length; write a number, or one with mm, cm, in, px, pt or pc", name,
                            text);
}

static int32_t percent_of(girdle_call *call, const char *name, const char *text, double number, double of,
                          double *out) {
  if (isnan(of))
    return girdle_common_fail(call, GIRDLE_SYNTAX, name,
                              "%s=\"%.40s\" is a share of a size that the drawing does not tell; give it a viewBox",
                              name, text);
  *out = number / 100 * of;
  return GIRDLE_OK;
}

/* Splits a length into its number and its unit's name. */
static int32_t split_length(girdle_call *call, const char *name, const char *text, double *number, char unit[8]) {
  const char *at = skip_separators(text);
  memset(unit, 0, 8);
  if (!scan_number(&at, number)) return bad_length(call, name, text);
  for (size_t i = 0; i < 7 && *at && !is_space(*at); i++)
    unit[i] = *at++;
  if (*skip_separators(at) || (strcmp(unit, "%") != 0 && unit_mm(unit) == 0)) return bad_length(call, name, text);
  return GIRDLE_OK;
}

int32_t girdle_svg_length(girdle_call *call, const char **attributes, const char *name, double of, double fallback,
                          double *out) {
  const char *text = girdle_svg_attribute(attributes, name);
  char unit[8];
  double number;
  *out = fallback;
  if (!text || strcmp(text, "auto") == 0) return GIRDLE_OK;
  GIRDLE_TRY(split_length(call, name, text, &number, unit));
  if (strcmp(unit, "%") == 0) return percent_of(call, name, text, number, of, out);
  *out = *unit ? number * (unit_mm(unit) / mm_per_px) : number;
  return GIRDLE_OK;
}

/* ---- transforms */

void girdle_svg_multiply(const double a[6], const double b[6], double out[6]) {
  double product[6] = {a[0] * b[0] + a[2] * b[1], a[1] * b[0] + a[3] * b[1],        a[0] * b[2] + a[2] * b[3],
                       a[1] * b[2] + a[3] * b[3], a[0] * b[4] + a[2] * b[5] + a[4], a[1] * b[4] + a[3] * b[5] + a[5]};
  memcpy(out, product, sizeof product);
}

/* Sine and cosine of degrees, exact at right angles. */
static void turn_of(double degrees, double *sine, double *cosine) {
  static const double sines[] = {0, 1, 0, -1};
  double rest = fmod(degrees, 360);
  if (rest < 0) rest += 360;
  if (fmod(rest, 90) == 0) {
    int quarter = (int)(rest / 90) % 4;
    *sine = sines[quarter];
    *cosine = sines[(quarter + 1) % 4];
    return;
  }
  *sine = sin(rest * (3.14159265358979323846 / 180));
  *cosine = cos(rest * (3.14159265358979323846 / 180));
}

static void rotation(const double *n, int count, double out[6]) {
  double sine, cosine, x = count == 3 ? n[1] : 0, y = count == 3 ? n[2] : 0;
  turn_of(n[0], &sine, &cosine);
  out[0] = out[3] = cosine;
  out[1] = sine;
  out[2] = -sine;
  out[4] = x - cosine * x + sine * y;
  out[5] = y - sine * x - cosine * y;
}

enum { MATRIX, TRANSLATE, SCALE, ROTATE, SKEW_X, SKEW_Y, KINDS };

/* A function's kind by its name; KINDS when it is not known or takes another count of numbers. */
static int kind_of(const char *name, uint64_t length, int count) {
  static const struct {
    const char *name;
    int least, most; /* counts of numbers; nothing between them is allowed */
  } kinds[KINDS] = {{"matrix", 6, 6}, {"translate", 1, 2}, {"scale", 1, 2},
                    {"rotate", 1, 3}, {"skewX", 1, 1},     {"skewY", 1, 1}};
  int kind = 0;
  while (kind < KINDS && (strlen(kinds[kind].name) != length || memcmp(kinds[kind].name, name, length) != 0))
    kind++;
  return kind < KINDS && (count == kinds[kind].least || count == kinds[kind].most) ? kind : KINDS;
}

static void matrix_of(int kind, const double *n, int count, double out[6]) {
  const double identity[6] = {1, 0, 0, 1, 0, 0}, radians = 3.14159265358979323846 / 180;
  memcpy(out, kind == MATRIX ? n : identity, sizeof identity);
  if (kind == TRANSLATE) {
    out[4] = n[0];
    out[5] = count == 2 ? n[1] : 0;
  } else if (kind == SCALE) {
    out[0] = n[0];
    out[3] = count == 2 ? n[1] : n[0];
  } else if (kind == ROTATE) {
    rotation(n, count, out);
  } else if (kind == SKEW_X) {
    out[2] = tan(n[0] * radians);
  } else if (kind == SKEW_Y) {
    out[1] = tan(n[0] * radians);
  }
}

static const char *scan_function(const char *at, double out[6]) {
  const char *name = at, *name_end;
  double numbers[6] = {0};
  int count = 0, kind;
  while ((*at >= 'a' && *at <= 'z') || (*at >= 'A' && *at <= 'Z'))
    at++;
  name_end = at;
  while (is_space(*at))
    at++;
  if (*at++ != '(') return NULL;
  for (at = skip_separators(at); *at != ')'; at = skip_separators(at))
    if (count == 6 || !scan_number(&at, &numbers[count++])) return NULL;
  kind = kind_of(name, (uint64_t)(name_end - name), count);
  if (kind == KINDS) return NULL;
  matrix_of(kind, numbers, count, out);
  return at + 1;
}

int32_t girdle_svg_transform(girdle_call *call, const char *text, double matrix[6]) {
  const double identity[6] = {1, 0, 0, 1, 0, 0};
  const char *at = skip_separators(text);
  memcpy(matrix, identity, sizeof identity);
  while (*at) {
    double one[6];
    at = scan_function(at, one);
    if (!at)
      return girdle_common_fail(call, GIRDLE_SYNTAX, "transform",
                                "transform=\"%.80s\" cannot be read; write one like \"rotate(30) translate(10 0)\"",
                                text);
    girdle_svg_multiply(matrix, one, matrix);
    at = skip_separators(at);
  }
  return GIRDLE_OK;
}

/* ---- the root */

static int32_t scan_box(girdle_call *call, const char *text, double box[4]) {
  const char *at = skip_separators(text);
  int count = 0;
  while (count < 4 && scan_number(&at, &box[count])) {
    at = skip_separators(at);
    count++;
  }
  if (count == 4 && !*at && box[2] > 0 && box[3] > 0) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_SYNTAX, "viewBox",
                            "viewBox=\"%.40s\" cannot be read; write one like \"0 0 210 297\"", text);
}

/* The root's size in millimetres; NaN when it is missing or a percentage. */
static int32_t root_size(girdle_call *call, const char **attributes, const char *name, double *out) {
  const char *text = girdle_svg_attribute(attributes, name);
  char unit[8];
  double number;
  *out = NAN;
  if (!text || strcmp(text, "auto") == 0) return GIRDLE_OK;
  GIRDLE_TRY(split_length(call, name, text, &number, unit));
  if (strcmp(unit, "%") == 0) return GIRDLE_OK;
  if (!(number > 0)) return bad_length(call, name, text);
  *out = number * unit_mm(unit);
  return GIRDLE_OK;
}

/* Where 0, 1/2 or all of the room left over by a uniform scale goes, by preserveAspectRatio's "xMin", "xMid", "xMax".
 */
static double share_before(const char *aspect, const char *least, const char *most) {
  return strstr(aspect, least) ? 0 : strstr(aspect, most) ? 1 : 0.5;
}

static void fit_box(const char **attributes, const double box[4], double width, double height, double matrix[6]) {
  const char *aspect = girdle_svg_attribute(attributes, "preserveAspectRatio");
  double across = width / box[2], down = height / box[3], scale;
  if (!aspect) aspect = "xMidYMid";
  if (isnan(across) && isnan(down)) across = down = mm_per_px;
  if (isnan(across)) across = down;
  if (isnan(down)) down = across;
  scale = strstr(aspect, "slice") ? fmax(across, down) : fmin(across, down);
  matrix[0] = strstr(aspect, "none") ? across : scale;
  matrix[3] = strstr(aspect, "none") ? down : scale;
  matrix[4] = -box[0] * matrix[0] + (across - matrix[0]) * box[2] * share_before(aspect, "xMin", "xMax");
  matrix[5] = -box[1] * matrix[3] + (down - matrix[3]) * box[3] * share_before(aspect, "YMin", "YMax");
}

int32_t girdle_svg_root(girdle_svg_tree *tree, const char **attributes, double matrix[6]) {
  const char *text = girdle_svg_attribute(attributes, "viewBox");
  double box[4] = {0, 0, NAN, NAN}, width, height;
  const double plain[6] = {25.4 / 96, 0, 0, 25.4 / 96, 0, 0};
  memcpy(matrix, plain, sizeof plain);
  tree->box_width = tree->box_height = NAN;
  GIRDLE_TRY(root_size(tree->call, attributes, "width", &width));
  GIRDLE_TRY(root_size(tree->call, attributes, "height", &height));
  tree->box_width = width / mm_per_px;
  tree->box_height = height / mm_per_px;
  if (!text) return GIRDLE_OK;
  GIRDLE_TRY(scan_box(tree->call, text, box));
  tree->box_width = box[2];
  tree->box_height = box[3];
  fit_box(attributes, box, width, height, matrix);
  return GIRDLE_OK;
}
