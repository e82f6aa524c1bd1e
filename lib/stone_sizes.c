/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/stone.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base_cross_internal.h"
#include "common.h"
#include "stone_internal.h"

/* Micrometres, so that the ends and the middle are each the double nearest to the decimal number. */
#define SIZE(name, least, most, certainty) \
  { name, {(least) / 1000.0, ((least) + (most)) / 2000.0, (most) / 1000.0}, certainty, 0 }

/* The ss and pp numbers in use, as public size charts of the trade give them (common practice, no standard).
 * SEVERAL: two or more charts agree on the range or on its middle. INTERPOLATED: an equal division of the gap between
 * listed neighbours. UNCONFIRMED: continues the pattern; for ss40 the upper end is not confirmed. ss42 and ss48 are
 * single values. */
static const girdle_size sizes[] = {
    SIZE("ss000", 800, 900, GIRDLE_ONE_CHART),       SIZE("ss00", 900, 1000, GIRDLE_ONE_CHART),
    SIZE("ss0", 1000, 1100, GIRDLE_ONE_CHART),       SIZE("ss1", 1100, 1200, GIRDLE_ONE_CHART),
    SIZE("ss2", 1200, 1350, GIRDLE_ONE_CHART),       SIZE("ss3", 1350, 1500, GIRDLE_ONE_CHART),
    SIZE("ss4", 1500, 1700, GIRDLE_ONE_CHART),       SIZE("ss5", 1700, 1900, GIRDLE_SEVERAL_CHARTS),
    SIZE("ss6", 1900, 2100, GIRDLE_SEVERAL_CHARTS),  SIZE("ss7", 2100, 2300, GIRDLE_ONE_CHART),
    SIZE("ss8", 2300, 2500, GIRDLE_SEVERAL_CHARTS),  SIZE("ss9", 2500, 2700, GIRDLE_SEVERAL_CHARTS),
    SIZE("ss10", 2700, 2900, GIRDLE_SEVERAL_CHARTS), SIZE("ss11", 2900, 3000, GIRDLE_INTERPOLATED),
    SIZE("ss12", 3000, 3200, GIRDLE_SEVERAL_CHARTS), SIZE("ss13", 3200, 3400, GIRDLE_INTERPOLATED),
    SIZE("ss14", 3400, 3600, GIRDLE_INTERPOLATED),   SIZE("ss15", 3600, 3800, GIRDLE_INTERPOLATED),
    SIZE("ss16", 3800, 4000, GIRDLE_SEVERAL_CHARTS), SIZE("ss17", 4000, 4200, GIRDLE_INTERPOLATED),
    SIZE("ss18", 4200, 4400, GIRDLE_INTERPOLATED),   SIZE("ss19", 4400, 4600, GIRDLE_INTERPOLATED),
    SIZE("ss20", 4600, 4800, GIRDLE_SEVERAL_CHARTS), SIZE("ss21", 4800, 4900, GIRDLE_ONE_CHART),
    SIZE("ss22", 4900, 5100, GIRDLE_ONE_CHART),      SIZE("ss23", 5100, 5270, GIRDLE_ONE_CHART),
    SIZE("ss24", 5270, 5440, GIRDLE_ONE_CHART),      SIZE("ss25", 5440, 5610, GIRDLE_ONE_CHART),
    SIZE("ss26", 5610, 5780, GIRDLE_ONE_CHART),      SIZE("ss27", 5780, 5960, GIRDLE_ONE_CHART),
    SIZE("ss28", 5960, 6140, GIRDLE_ONE_CHART),      SIZE("ss29", 6140, 6320, GIRDLE_ONE_CHART),
    SIZE("ss30", 6320, 6500, GIRDLE_SEVERAL_CHARTS), SIZE("ss31", 6500, 6680, GIRDLE_ONE_CHART),
    SIZE("ss32", 6680, 6870, GIRDLE_ONE_CHART),      SIZE("ss33", 6870, 7070, GIRDLE_ONE_CHART),
    SIZE("ss34", 7070, 7270, GIRDLE_SEVERAL_CHARTS), SIZE("ss35", 7270, 7480, GIRDLE_ONE_CHART),
    SIZE("ss36", 7480, 7700, GIRDLE_ONE_CHART),      SIZE("ss37", 7700, 7930, GIRDLE_ONE_CHART),
    SIZE("ss38", 7930, 8160, GIRDLE_ONE_CHART),      SIZE("ss39", 8160, 8410, GIRDLE_ONE_CHART),
    SIZE("ss40", 8410, 8670, GIRDLE_UNCONFIRMED),    SIZE("ss42", 9100, 9100, GIRDLE_ONE_CHART),
    SIZE("ss48", 11000, 11000, GIRDLE_ONE_CHART),    SIZE("pp1", 800, 900, GIRDLE_ONE_CHART),
    SIZE("pp2", 900, 1000, GIRDLE_ONE_CHART),        SIZE("pp3", 1000, 1100, GIRDLE_ONE_CHART),
    SIZE("pp4", 1100, 1200, GIRDLE_ONE_CHART),       SIZE("pp5", 1200, 1300, GIRDLE_ONE_CHART),
    SIZE("pp6", 1300, 1350, GIRDLE_ONE_CHART),       SIZE("pp7", 1350, 1400, GIRDLE_ONE_CHART),
    SIZE("pp8", 1400, 1500, GIRDLE_ONE_CHART),       SIZE("pp9", 1500, 1600, GIRDLE_ONE_CHART),
    SIZE("pp10", 1600, 1700, GIRDLE_ONE_CHART),      SIZE("pp11", 1700, 1800, GIRDLE_ONE_CHART),
    SIZE("pp12", 1800, 1900, GIRDLE_ONE_CHART),      SIZE("pp13", 1900, 2000, GIRDLE_ONE_CHART),
    SIZE("pp14", 2000, 2100, GIRDLE_ONE_CHART),      SIZE("pp15", 2100, 2200, GIRDLE_ONE_CHART),
    SIZE("pp16", 2200, 2300, GIRDLE_ONE_CHART),      SIZE("pp17", 2300, 2400, GIRDLE_ONE_CHART),
    SIZE("pp18", 2400, 2500, GIRDLE_ONE_CHART),      SIZE("pp19", 2500, 2600, GIRDLE_ONE_CHART),
    SIZE("pp20", 2600, 2700, GIRDLE_ONE_CHART),      SIZE("pp21", 2700, 2800, GIRDLE_UNCONFIRMED),
    SIZE("pp22", 2800, 2900, GIRDLE_UNCONFIRMED),    SIZE("pp23", 2900, 3000, GIRDLE_UNCONFIRMED),
    SIZE("pp24", 3000, 3100, GIRDLE_UNCONFIRMED),
};
enum { SIZE_COUNT = sizeof sizes / sizeof sizes[0] };

static const char EXAMPLE[] = "write one like \"ss20\" or \"5 mm\"";

const girdle_size *girdle_sizes(uint64_t *count) {
  *count = SIZE_COUNT;
  return sizes;
}

/* ---- reading */

/* "SS 20", "20ss" and "20s" become "ss20"; leading zeros go, except in ss0, ss00 and ss000. Returns 0 for what is not a
 * system and a number. */
static int canonical(const char *folded, char *name, size_t bytes) {
  char packed[16];
  size_t length = 0, start, digits;
  const char *system;
  for (; *folded; folded++) {
    if (*folded == ' ') continue;
    if (length + 1 >= sizeof packed) return 0;
    packed[length++] = *folded;
  }
  packed[length] = '\0';
  start = strspn(packed, "sp");
  digits = strspn(packed + start, "0123456789");
  if (digits == 0) return 0;
  system = start ? packed : packed + digits;
  if (start ? packed[start + digits] : system[strspn(system, "sp")]) return 0;
  if (strncmp(system, "pp", 2) != 0 && *system != 's') return 0;
  if (start ? start != 2 || system[0] != system[1]
            : strcmp(system, "s") && strcmp(system, "ss") && strcmp(system, "pp"))
    return 0;
  while (digits > 1 && packed[start] == '0' && strspn(packed + start, "0") < digits) {
    start++;
    digits--;
  }
  snprintf(name, bytes, "%c%c%.*s", *system, *system, (int)digits, packed + start);
  return 1;
}

static const girdle_size *find_name(const girdle_size *rows, uint64_t count, const char *name) {
  for (uint64_t i = 0; i < count; i++)
    if (girdle_stone_named(rows[i].name, name)) return &rows[i];
  return NULL;
}

/* A right number with a slip beside it says more than any distance between letters. */
static const char *nearest_name(const char *text) {
  const char *names[SIZE_COUNT], *number = text + strcspn(text, "0123456789");
  size_t digits = strspn(number, "0123456789");
  for (size_t i = 0; i < SIZE_COUNT; i++) {
    names[i] = sizes[i].name;
    if (digits && strlen(names[i]) == digits + 2 && memcmp(names[i] + 2, number, digits) == 0) return names[i];
  }
  return girdle_nearest(text, names, SIZE_COUNT);
}

/* "4,7": where a comma parts the decimals at home. */
static int32_t refuse_comma(girdle_call *call, const char *text) {
  size_t whole = strspn(text, "0123456789"), rest = strspn(text + whole + 1, "0123456789");
  return girdle_common_fail(call, GIRDLE_UNKNOWN, "size",
                            "'%.40s' has a comma for its decimal point; write one like \"%.*s.%.*s mm\"", text,
                            (int)whole, text, (int)rest, text + whole + 1);
}

static int has_comma(const char *text) {
  size_t whole = strspn(text, "0123456789");
  return whole && whole < 8 && text[whole] == ',' && strspn(text + whole + 1, "0123456789") - 1 < 8;
}

static int32_t refuse_word(girdle_call *call, const char *text) {
  const char *nearest = nearest_name(text);
  if (has_comma(text)) return refuse_comma(call, text);
  if (!nearest) return girdle_common_fail(call, GIRDLE_UNKNOWN, "size", "unknown size '%.40s'; %s", text, EXAMPLE);
  girdle_common_fail(call, GIRDLE_UNKNOWN, "size", "unknown size '%.40s', did you mean '%s'? %s", text, nearest,
                     EXAMPLE);
  if (call && call->error && !call->error->nearest[0])
    girdle_common_text(call->error->nearest, sizeof call->error->nearest, nearest);
  return GIRDLE_UNKNOWN;
}

/* A name holds at most fifteen digits. */
static int64_t number_of(const char *name) {
  int64_t value = 0;
  for (name += 2; *name; name++)
    value = value * 10 + (*name - '0');
  return value;
}

/* A number that no chart of ours lists: the listed numbers on both sides are named. */
static int32_t refuse_number(girdle_call *call, const char *name) {
  const girdle_size *below = NULL, *above = NULL, *nearest;
  char beside[64];
  for (size_t i = 0; i < SIZE_COUNT; i++) {
    if (sizes[i].name[0] != name[0]) continue;
    if (number_of(sizes[i].name) < number_of(name)) below = &sizes[i];
    if (number_of(sizes[i].name) > number_of(name) && !above) above = &sizes[i];
  }
  nearest = !above || (below && number_of(name) - number_of(below->name) <= number_of(above->name) - number_of(name))
                ? below
                : above;
  snprintf(beside, sizeof beside, "%s%s%s", below ? below->name : "", below && above ? " and " : "",
           above ? above->name : "");
  girdle_common_fail(call, GIRDLE_UNKNOWN, "size", "size '%s' is not listed; the nearest listed: %s; %s", name, beside,
                     EXAMPLE);
  if (call && call->error && nearest && !call->error->nearest[0])
    girdle_common_text(call->error->nearest, sizeof call->error->nearest, nearest->name);
  return GIRDLE_UNKNOWN;
}

static int32_t own_diameter(girdle_call *call, double mm, girdle_size *out) {
  GIRDLE_TRY(girdle_common_range(call, "diameter", mm, 0.5, 100, "mm"));
  mm = nearbyint(mm * 1e4) / 1e4;
  memset(out, 0, sizeof *out);
  girdle_number_text(mm, 4, out->name, sizeof out->name - 3);
  strcat(out->name, " mm");
  out->diameter_mm[GIRDLE_LEAST] = out->diameter_mm[GIRDLE_NOMINAL] = out->diameter_mm[GIRDLE_MOST] = mm;
  out->certainty = GIRDLE_OWN_SIZE;
  return GIRDLE_OK;
}

int32_t girdle_size_find(girdle_call *call, const char *text, const girdle_catalogue *own, girdle_size *out) {
  char folded[64], name[24];
  const girdle_size *found = NULL;
  double mm;
  if (!girdle_stone_fold(folded, sizeof folded, text)) return refuse_word(call, text);
  if (own) found = find_name(own->sizes, own->size_count, folded);
  if (!found && canonical(folded, name, sizeof name)) {
    if (own) found = find_name(own->sizes, own->size_count, name);
    if (!found) found = find_name(sizes, SIZE_COUNT, name);
    if (!found) return refuse_number(call, name);
  }
  if (!found) {
    if (girdle_quantity_parse(NULL, folded, GIRDLE_LENGTH, &mm)) return refuse_word(call, text);
    return own_diameter(call, mm, out);
  }
  *out = *found;
  return GIRDLE_OK;
}

int32_t girdle_size_crossed(girdle_call *call, const char *text, girdle_size *out, double *length_ratio) {
  double mm[2];
  uint64_t count;
  GIRDLE_TRY(girdle_cross_parse(call, text, mm, 2, &count));
  if (count != 2)
    return girdle_common_fail(call, GIRDLE_SYNTAX, "size",
                              "'%.40s' is not a width and a length; write one like "
                              "\"10 x 14 mm\"",
                              text);
  GIRDLE_TRY(own_diameter(call, fmin(mm[0], mm[1]), out));
  *length_ratio = nearbyint(fmax(mm[0], mm[1]) / fmin(mm[0], mm[1]) * 1e4) / 1e4;
  return GIRDLE_OK;
}

int32_t girdle_size_parse(girdle_call *call, const char *text, girdle_size *out) {
  GIRDLE_GIVEN(call, text, out);
  return girdle_size_find(call, text, NULL, out);
}

const char *girdle_certainty_text(int32_t certainty) {
  static const char *const texts[] = {"several charts", "one chart", "interpolated", "not confirmed",
                                      "given in millimetres"};
  return certainty >= 0 && certainty <= GIRDLE_OWN_SIZE ? texts[certainty] : "not known";
}

/* ---- from a caliper reading */

double girdle_size_outside_mm(const girdle_size *size, double measured_mm) {
  double below = size->diameter_mm[GIRDLE_LEAST] - measured_mm, above = measured_mm - size->diameter_mm[GIRDLE_MOST];
  return isnan(measured_mm) ? measured_mm : fmax(0, fmax(below, above));
}

static double off_mm(const girdle_size *size, double measured_mm) {
  return fabs(size->diameter_mm[GIRDLE_NOMINAL] - measured_mm);
}

static const girdle_size *row_at(const girdle_catalogue *own, uint64_t i) {
  uint64_t mine = own ? own->size_count : 0;
  return i < mine ? &own->sizes[i] : &sizes[i - mine];
}

/* Puts a size into its place among the best `capacity`; equals stay in the order they came. */
static void insert(girdle_size *best, uint64_t filled, uint64_t capacity, const girdle_size *size, double measured_mm) {
  uint64_t at = filled < capacity ? filled : capacity;
  while (at && off_mm(&best[at - 1], measured_mm) > off_mm(size, measured_mm) + 1e-9) {
    if (at < capacity) best[at] = best[at - 1];
    at--;
  }
  if (at < capacity) best[at] = *size;
}

int32_t girdle_size_likely(girdle_call *call, double measured_mm, double error_mm, const girdle_catalogue *own,
                           girdle_size *out, uint64_t capacity, uint64_t *count) {
  GIRDLE_GIVEN(call, out || !capacity, count);
  uint64_t rows = SIZE_COUNT + (own ? own->size_count : 0), found = 0;
  double nearest = INFINITY;
  GIRDLE_TRY(girdle_common_range(call, "diameter", measured_mm, 0.1, 100, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "error", error_mm, 0, 1, "mm"));
  for (uint64_t i = 0; i < rows; i++)
    nearest = fmin(nearest, girdle_size_outside_mm(row_at(own, i), measured_mm));
  /* a reading of 4.8 lies on the edge of ss20 and ss21, whatever its last bit says */
  if (nearest < error_mm) nearest = error_mm;
  for (uint64_t i = 0; i < rows; i++)
    if (girdle_size_outside_mm(row_at(own, i), measured_mm) <= nearest + 1e-9)
      insert(out, found++, capacity, row_at(own, i), measured_mm);
  *count = found;
  return GIRDLE_OK;
}
