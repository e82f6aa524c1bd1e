/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "base_cross_internal.h"

#include <string.h>

#include "common.h"

/* No unit of length has an x or a "by" with a number behind it, so a cross needs no spaces. */

static int is_digit(char c) {
  return c >= '0' && c <= '9';
}

static int is_space(char c) {
  return c == ' ' || c == '\t';
}

static int starts_number(const char *at) {
  while (is_space(*at))
    at++;
  if (*at == '-') at++;
  if (*at == '.') at++;
  return is_digit(*at);
}

static uint64_t cross_bytes(const char *at) {
  if ((*at | 0x20) == 'x') return 1;
  if (strncmp(at, "\303\227", 2) == 0) return 2;
  return (at[0] | 0x20) == 'b' && (at[1] | 0x20) == 'y' ? 2 : 0;
}

const char *girdle_cross_find(const char *text, const char **behind) {
  for (; *text; text++) {
    *behind = text + cross_bytes(text);
    if (*behind > text && starts_number(*behind)) return text;
  }
  *behind = NULL;
  return NULL;
}

static uint64_t part_bytes(const char *part, const char **next) {
  const char *cross = girdle_cross_find(part, next);
  return cross ? (uint64_t)(cross - part) : strlen(part);
}

/* Where the number of a part ends: behind its last digit or point. */
static uint64_t number_bytes(const char *part, uint64_t bytes) {
  while (bytes && !is_digit(part[bytes - 1]) && part[bytes - 1] != '.')
    bytes--;
  return bytes;
}

static int has_unit(const char *part, uint64_t bytes) {
  while (bytes && is_space(part[bytes - 1]))
    bytes--;
  return number_bytes(part, bytes) < bytes;
}

/* The unit of the first of the parts from `at` on that has one; "" when none has. */
static const char *unit_behind(const char *at, uint64_t *bytes) {
  while (at) {
    const char *part = at;
    uint64_t length = part_bytes(part, &at), number = number_bytes(part, length);
    if (!has_unit(part, length)) continue;
    *bytes = length - number;
    return part + number;
  }
  return "";
}

static int32_t read_part(girdle_call *call, const char *part, uint64_t length, const char *next, double *out_mm) {
  char text[80];
  uint64_t unit_bytes = 0;
  const char *unit = has_unit(part, length) ? "" : unit_behind(next, &unit_bytes);
  if (length + unit_bytes >= sizeof text)
    return girdle_common_fail(call, GIRDLE_SYNTAX, NULL, "'%.40s...' is too long for a length", part);
  memcpy(text, part, (size_t)length);
  memcpy(text + length, unit, (size_t)unit_bytes);
  text[length + unit_bytes] = '\0';
  return girdle_quantity_parse(call, text, GIRDLE_LENGTH, out_mm);
}

int32_t girdle_cross_parse(girdle_call *call, const char *text, double *out_mm, uint64_t capacity, uint64_t *count) {
  uint64_t found = 0;
  while (text && found <= capacity) {
    const char *next;
    double mm;
    uint64_t length = part_bytes(text, &next);
    GIRDLE_TRY(read_part(call, text, length, next, &mm));
    if (found < capacity) out_mm[found] = mm;
    found++;
    text = next;
  }
  *count = found;
  return GIRDLE_OK;
}
