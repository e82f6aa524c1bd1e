/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/base.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

/* ---- call, error, status */

void girdle_call_init(girdle_call *call, uint32_t struct_bytes) {
  memset(call, 0, struct_bytes);
  call->struct_bytes = struct_bytes;
}

void girdle_error_init(girdle_error *error, uint32_t struct_bytes) {
  girdle_error none = {
      .struct_bytes = struct_bytes, .line = -1, .column = -1, .byte = -1, .value = NAN, .least = NAN, .most = NAN};
  memset(error, 0, struct_bytes);
  memcpy(error, &none, struct_bytes < sizeof none ? struct_bytes : sizeof none);
}

const char *girdle_status_text(int32_t status) {
  static const char *const texts[GIRDLE_STATUS_END] = {"done",
                                                       "out of memory",
                                                       "stopped",
                                                       "a number is out of its range",
                                                       "the text cannot be read",
                                                       "not known",
                                                       "the shape cannot carry it",
                                                       "over a limit",
                                                       "too large to hold",
                                                       "a fault in girdle"};
  return status >= 0 && status < GIRDLE_STATUS_END ? texts[status] : "unknown status";
}

const char *girdle_version(void) {
  return "0.1.0";
}

/* ---- plain numbers */

typedef struct decimal {
  uint64_t digits;     /* up to 19 significant digits */
  int32_t exponent;    /* value = digits x 10^exponent */
  int negative, exact; /* exact: no digit was dropped */
} decimal;

static int is_digit(char c) {
  return c >= '0' && c <= '9';
}

static const char *scan_digits(const char *at, const char *end, decimal *number, int behind_point, int *seen) {
  for (; at < end && is_digit(*at); at++, (*seen)++) {
    if (number->digits < 1000000000000000000u) {
      number->digits = number->digits * 10 + (uint64_t)(*at - '0');
      number->exponent -= behind_point;
    } else {
      number->exact &= *at == '0';
      number->exponent += !behind_point;
    }
  }
  return at;
}

static const char *scan_exponent(const char *at, const char *end, decimal *number) {
  const char *start = at;
  int32_t value = 0;
  int negative;
  if (at >= end || (*at != 'e' && *at != 'E')) return at;
  at++;
  negative = at < end && *at == '-';
  if (at < end && (*at == '-' || *at == '+')) at++;
  if (at >= end || !is_digit(*at)) return start;
  for (; at < end && is_digit(*at); at++)
    if (value < 100000) value = value * 10 + (*at - '0');
  number->exponent += negative ? -value : value;
  return at;
}

/* Reads the longest number at the start; NULL when there is none. */
static const char *scan_number(const char *at, const char *end, decimal *number) {
  int seen = 0;
  memset(number, 0, sizeof *number);
  number->exact = 1;
  number->negative = at < end && *at == '-';
  if (at < end && (*at == '-' || *at == '+')) at++;
  at = scan_digits(at, end, number, 0, &seen);
  if (at < end && *at == '.') at = scan_digits(at + 1, end, number, 1, &seen);
  return seen ? scan_exponent(at, end, number) : NULL;
}

/* strtod reads the separator of the thread's locale, so that is what the copy is given. */
static double slow_value(const char *text, size_t length) {
  char copy[1100], point[8];
  size_t out = 0;
  snprintf(point, sizeof point, "%.1f", 0.5);
  point[strlen(point) - 1] = '\0';
  for (size_t i = 0; i < length && out < sizeof copy - 8; i++) {
    if (text[i] == '.') {
      memcpy(copy + out, point + 1, strlen(point + 1));
      out += strlen(point + 1);
    } else {
      copy[out++] = text[i];
    }
  }
  copy[out] = '\0';
  return strtod(copy, NULL);
}

/* Up to 2^53 and ten to the 22nd both factors are exact doubles, so one operation rounds correctly (Clinger 1990). */
static double value_of(const decimal *number, const char *text, size_t length) {
  static const double tens[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
  double value = (double)number->digits;
  if (!number->exact || number->digits > 9007199254740992u || number->exponent < -22 || number->exponent > 22)
    return slow_value(text, length);
  value = number->exponent < 0 ? value / tens[-number->exponent] : value * tens[number->exponent];
  return number->negative ? -value : value;
}

int32_t girdle_number_parse(girdle_call *call, const char *text, uint64_t bytes, double *out) {
  GIRDLE_GIVEN(call, text || !bytes, out);
  decimal number;
  const char *end = text + bytes;
  double value;
  if (bytes > 1000) return girdle_common_fail(call, GIRDLE_LIMIT, NULL, "a number has more than 1000 characters");
  if (scan_number(text, end, &number) != end || bytes == 0)
    return girdle_common_fail(call, GIRDLE_SYNTAX, NULL, "'%.*s' is not a number; write one like 12.5",
                              (int)(bytes < 40 ? bytes : 40), text);
  value = value_of(&number, text, (size_t)bytes);
  if (!isfinite(value))
    return girdle_common_fail(call, GIRDLE_OVERFLOW, NULL, "'%.*s' is too large a number",
                              (int)(bytes < 40 ? bytes : 40), text);
  *out = value;
  return GIRDLE_OK;
}

static uint64_t give_text(const char *text, char *buffer, uint64_t bytes) {
  size_t length = strlen(text);
  if (bytes) {
    size_t take = length < bytes - 1 ? length : (size_t)bytes - 1;
    memcpy(buffer, text, take);
    buffer[take] = '\0';
  }
  return length;
}

static void fix_separator(char *text) {
  char *digit = text + (*text == '-');
  char *point;
  while (is_digit(*digit))
    digit++;
  if (!*digit) return;
  point = digit;
  while (*digit && !is_digit(*digit))
    digit++;
  *point++ = '.';
  memmove(point, digit, strlen(digit) + 1);
}

static void strip_zeros(char *text) {
  size_t length = strlen(text);
  if (!strchr(text, '.')) return;
  while (text[length - 1] == '0')
    length--;
  if (text[length - 1] == '.') length--;
  text[length] = '\0';
}

uint64_t girdle_number_text(double value, int32_t decimals, char *buffer, uint64_t bytes) {
  char text[400];
  if (isnan(value)) return give_text("nan", buffer, bytes);
  if (isinf(value)) return give_text(value < 0 ? "-inf" : "inf", buffer, bytes);
  decimals = decimals < 0 ? 0 : decimals > 17 ? 17 : decimals;
  snprintf(text, sizeof text, "%.*f", (int)decimals, value);
  fix_separator(text);
  strip_zeros(text);
  return give_text(strcmp(text, "-0") == 0 ? "0" : text, buffer, bytes);
}

/* ---- quantities with units */

typedef struct unit {
  int32_t kind;
  const char *name;
  double factor;
} unit;

static const unit units[] = {
    {GIRDLE_LENGTH, "mm", 1},
    {GIRDLE_LENGTH, "cm", 10},
    {GIRDLE_LENGTH, "m", 1000},
    {GIRDLE_LENGTH, "in", 25.4},
    {GIRDLE_LENGTH, "\"", 25.4},
    {GIRDLE_LENGTH, "inch", 25.4},
    {GIRDLE_LENGTH, "inches", 25.4},
    {GIRDLE_LENGTH, "ft", 304.8},
    {GIRDLE_LENGTH, "yd", 914.4},
    {GIRDLE_AREA, "mm2", 1},
    {GIRDLE_AREA, "cm2", 100},
    {GIRDLE_AREA, "m2", 1e6},
    {GIRDLE_AREA, "in2", 645.16},
    {GIRDLE_AREA, "mm\302\262", 1},
    {GIRDLE_AREA, "cm\302\262", 100},
    {GIRDLE_AREA, "m\302\262", 1e6},
    {GIRDLE_ANGLE, "deg", 1},
    {GIRDLE_ANGLE, "\302\260", 1},
    {GIRDLE_ANGLE, "degrees", 1},
    {GIRDLE_SHARE, "%", 100},
    {GIRDLE_MASS, "mg", 1},
    {GIRDLE_MASS, "g", 1e3},
    {GIRDLE_MASS, "kg", 1e6},
    {GIRDLE_MASS, "oz", 28349.523125},
    {GIRDLE_MASS, "lb", 453592.37},
    {GIRDLE_MASS, "ct", 200},
    {GIRDLE_AREAL_MASS, "g/m2", 1},
    {GIRDLE_AREAL_MASS, "g/m\302\262", 1},
    {GIRDLE_VOLUME, "ml", 1},
    {GIRDLE_VOLUME, "l", 1000},
    {GIRDLE_VOLUME, "floz", 29.5735295625},
    {GIRDLE_TIME, "s", 1},
    {GIRDLE_TIME, "min", 60},
    {GIRDLE_TIME, "h", 3600},
    {GIRDLE_TIME, "days", 86400},
    {GIRDLE_TIME, "day", 86400},
    {GIRDLE_NUMBER, "", 1},
};

static const char *const examples[GIRDLE_QUANTITY_END] = {"12.5 mm",  "250 cm2", "30 deg", "10 %", "1.5 g",
                                                          "200 g/m2", "30 ml",   "24 h",   "12.5"};
static const char *const kinds[GIRDLE_QUANTITY_END] = {"length",        "area",   "angle", "percentage", "mass",
                                                       "mass per area", "volume", "time",  "number"};

static const char *skip_spaces(const char *at) {
  while (*at == ' ' || *at == '\t')
    at++;
  return at;
}

/* "3/8", "1 1/2" or a decimal; what follows a whole number and a space is a fraction only with a slash in it. */
static const char *scan_mixed(const char *text, double *out) {
  decimal number, over, under;
  const char *end = text + strlen(text), *at = scan_number(text, end, &number), *next;
  double whole = 0, sign = 1;
  if (!at) return NULL;
  *out = value_of(&number, text, (size_t)(at - text));
  next = at;
  if (*at != '/') {
    if (at == skip_spaces(at) || !is_digit(*skip_spaces(at))) return at;
    text = skip_spaces(at);
    next = scan_number(text, end, &over);
    if (!next || *next != '/') return at;
    whole = fabs(*out);
    sign = number.negative ? -1 : 1;
    *out = value_of(&over, text, (size_t)(next - text));
  }
  text = next + 1;
  next = is_digit(*text) ? scan_number(text, end, &under) : NULL;
  if (!next || under.digits == 0) return NULL;
  *out = sign * (whole + *out / value_of(&under, text, (size_t)(next - text)));
  return next;
}

static int unit_matches(const unit *known, int32_t kind, const char *text, size_t length) {
  return known->kind == kind && strlen(known->name) == length && memcmp(known->name, text, length) == 0;
}

static const unit *find_unit(int32_t kind, const char *text) {
  size_t length = strlen(text);
  while (length && (text[length - 1] == ' ' || text[length - 1] == '\t'))
    length--;
  for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
    if (unit_matches(&units[i], kind, text, length)) return &units[i];
  return NULL;
}

static int32_t bad_quantity(girdle_call *call, const char *text, int32_t kind, const char *why) {
  const char *article = strchr("aeiou", kinds[kind][0]) ? "an" : "a";
  return girdle_common_fail(call, GIRDLE_SYNTAX, NULL, "'%.60s' is not %s %s: %s; write one like \"%s\"", text, article,
                            kinds[kind], why, examples[kind]);
}

/* Names the unit, and those that are known by a short plain name. */
static int32_t bad_unit(girdle_call *call, const char *text, const char *found, int32_t kind) {
  char why[120];
  const char *before = "";
  size_t length;
  if (kind == GIRDLE_NUMBER) return bad_quantity(call, text, kind, "a plain number has no unit");
  length = (size_t)snprintf(why, sizeof why, "there is no unit '%.20s', but ", found);
  for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
    const char *name = units[i].name;
    if (units[i].kind != kind || strlen(name) > 4 || name[0] == '"' || name[strlen(name) - 1] & 0x80) continue;
    length += (size_t)snprintf(why + length, sizeof why - length, "%s%s", before, name);
    before = ", ";
  }
  return bad_quantity(call, text, kind, why);
}

/* "0,5 mm" is asked back as "0.5 mm", where that is a quantity. */
static int32_t bad_mark(girdle_call *call, const char *text, int32_t kind) {
  const char *article = strchr("aeiou", kinds[kind][0]) ? "an" : "a";
  char right[48];
  double value;
  size_t length = strlen(text);
  if (length < sizeof right) {
    memcpy(right, text, length + 1);
    *strchr(right, ',') = '.';
  }
  if (length >= sizeof right || girdle_quantity_parse(NULL, right, kind, &value))
    return bad_quantity(call, text, kind, "the decimal mark is a point");
  girdle_common_fail(call, GIRDLE_SYNTAX, NULL,
                     "'%s' is not %s %s: the decimal mark is a point, did you mean '%s'? write one like \"%s\"", text,
                     article, kinds[kind], right, examples[kind]);
  if (call && call->error) memcpy(call->error->nearest, right, length + 1);
  return GIRDLE_SYNTAX;
}

int32_t girdle_quantity_parse(girdle_call *call, const char *text, int32_t kind, double *out) {
  GIRDLE_GIVEN(call, text, out);
  const char *at;
  const unit *found;
  double value;
  if (kind < 0 || kind >= GIRDLE_QUANTITY_END)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "kind", "kind %d of quantity is not known", (int)kind);
  if (strlen(text) > 200) return bad_quantity(call, text, kind, "it has more than 200 characters");
  at = scan_mixed(skip_spaces(text), &value);
  if (!at) return bad_quantity(call, text, kind, "it does not begin with a number");
  if (*at == ',') return bad_mark(call, text, kind);
  if (!isfinite(value)) return bad_quantity(call, text, kind, "the number is too large");
  at = skip_spaces(at);
  found = find_unit(kind, at);
  if (!found && *at) return bad_unit(call, text, at, kind);
  if (!found) return bad_quantity(call, text, kind, "its unit is missing");
  /* a percentage is divided, so that 10 % is the double nearest to 0.1 */
  value = kind == GIRDLE_SHARE ? value / found->factor : value * found->factor;
  if (!isfinite(value)) return bad_quantity(call, text, kind, "the number is too large");
  *out = value;
  return GIRDLE_OK;
}

/* ---- pieces */

static const struct {
  const char *name;
  int64_t pieces;
} groups[] = {{"great gross", 1728}, {"gross", 144}, {"dozens", 12}, {"dozen", 12}, {"doz", 12},
              {"pieces", 1},         {"stones", 1},  {"pcs", 1},     {"piece", 1},  {"stone", 1}};

static const char *scan_group(const char *at, int64_t *pieces) {
  *pieces = 1;
  for (size_t i = 0; i < sizeof groups / sizeof groups[0]; i++) {
    size_t length = strlen(groups[i].name);
    if (strncmp(at, groups[i].name, length) != 0) continue;
    *pieces = groups[i].pieces;
    return at + length;
  }
  return at;
}

static int32_t bad_pieces(girdle_call *call, const char *text, const char *why) {
  return girdle_common_fail(call, GIRDLE_SYNTAX, NULL,
                            "'%.60s' is not a number of pieces: %s; write one like \"2 1/2 gross\" or \"40\"", text,
                            why);
}

static int32_t scan_term(girdle_call *call, const char *text, const char **at, double *sum) {
  double value;
  int64_t pieces;
  const char *next = scan_mixed(skip_spaces(*at), &value);
  if (!next) return bad_pieces(call, text, "it does not begin with a number");
  if (value < 0) return bad_pieces(call, text, "it is negative");
  next = scan_group(skip_spaces(next), &pieces);
  value *= (double)pieces;
  if (!(value <= 1e12)) return girdle_common_fail(call, GIRDLE_LIMIT, NULL, "'%.60s' is more than 1e12 pieces", text);
  /* 1/3 of a gross is 48 although a third is no double, so whole is meant to within rounding */
  if (fabs(value - nearbyint(value)) > 1e-9 * (1 + value)) return bad_pieces(call, text, "it is not a whole number");
  *sum += nearbyint(value);
  *at = skip_spaces(next);
  return GIRDLE_OK;
}

/* Steps over what joins two terms: a plus, or the "and" that girdle_pieces_text writes. */
static int joins_more(const char **at) {
  int bytes = **at == '+' ? 1 : strncmp(*at, "and ", 4) == 0 ? 4 : 0;
  *at += bytes;
  return bytes;
}

int32_t girdle_pieces_parse(girdle_call *call, const char *text, int64_t *out) {
  GIRDLE_GIVEN(call, text, out);
  const char *at = text;
  double sum = 0;
  if (strlen(text) > 200) return bad_pieces(call, text, "it has more than 200 characters");
  GIRDLE_TRY(scan_term(call, text, &at, &sum));
  while (joins_more(&at))
    GIRDLE_TRY(scan_term(call, text, &at, &sum));
  if (*at) return bad_pieces(call, text, "what follows the number is not known");
  if (sum > 1e12) return girdle_common_fail(call, GIRDLE_LIMIT, NULL, "'%.60s' is more than 1e12 pieces", text);
  *out = (int64_t)sum;
  return GIRDLE_OK;
}

uint64_t girdle_pieces_text(int64_t pieces, char *buffer, uint64_t bytes) {
  char text[64];
  long long gross = pieces / 144, odd = pieces % 144;
  if (gross == 0)
    snprintf(text, sizeof text, "%lld", odd);
  else if (odd == 0)
    snprintf(text, sizeof text, "%lld gross", gross);
  else
    snprintf(text, sizeof text, "%lld gross and %lld", gross, odd);
  return give_text(text, buffer, bytes);
}

/* ---- nearest word */

enum { LONGEST_WORD = 47 };

static int smaller(int a, int b) {
  return a < b ? a : b;
}

static char folded(char c) {
  return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c == '_' ? ' ' : c;
}

/* Edit distance in which two neighbouring letters exchanged count once (optimal string alignment). */
static int edits(const char *a, size_t a_length, const char *b, size_t b_length) {
  int rows[3][LONGEST_WORD + 1];
  for (size_t j = 0; j <= b_length; j++)
    rows[0][j] = (int)j;
  for (size_t i = 1; i <= a_length; i++) {
    int *row = rows[i % 3], *above = rows[(i + 2) % 3], *higher = rows[(i + 1) % 3];
    row[0] = (int)i;
    for (size_t j = 1; j <= b_length; j++) {
      int same = folded(a[i - 1]) == folded(b[j - 1]);
      row[j] = smaller(smaller(above[j], row[j - 1]) + 1, above[j - 1] + !same);
      if (i > 1 && j > 1 && folded(a[i - 1]) == folded(b[j - 2]) && folded(a[i - 2]) == folded(b[j - 1]))
        row[j] = smaller(row[j], higher[j - 2] + 1);
    }
  }
  return rows[a_length % 3][b_length];
}

const char *girdle_nearest(const char *word, const char *const *known, uint64_t count) {
  const char *best = NULL;
  size_t length = word ? strlen(word) : 0;
  int least = (length < 4 ? 1 : length < 8 ? 2 : 3) + 1;
  if (length == 0 || length > LONGEST_WORD) return NULL;
  for (uint64_t i = 0; i < count; i++) {
    size_t other = strlen(known[i]);
    int distance = other <= LONGEST_WORD ? edits(word, length, known[i], other) : least;
    if (distance >= least || distance >= (int)other) continue;
    least = distance;
    best = known[i];
  }
  return best;
}
