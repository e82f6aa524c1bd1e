/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "cross_internal.h"

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

const char *girdle_cross_find(const char *text, uint64_t *bytes) {
  for (; *text; text++) {
    *bytes = cross_bytes(text);
    if (*bytes && starts_number(text + *bytes)) return text;
  }
  return NULL;
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

/* One part as a text; without a unit of its own it gets the next one's, which stands from `at` on. */
static void copy_part(const char *part, uint64_t length, const char *at, char *text, uint64_t bytes) {
  uint64_t taken = length < bytes - 1 ? length : bytes - 1;
  memcpy(text, part, (size_t)taken);
  text[taken] = '\0';
  while (at && !has_unit(part, length)) {
    uint64_t cross = 0, number;
    const char *end = girdle_cross_find(at, &cross);
    part = at;
    length = end ? (uint64_t)(end - at) : strlen(at);
    number = number_bytes(part, length);
    at = end ? end + cross : NULL;
    if (has_unit(part, length) && taken + length - number < bytes) {
      memcpy(text + taken, part + number, (size_t)(length - number));
      text[taken + length - number] = '\0';
    }
  }
}

int32_t girdle_cross_parse(girdle_call *call, const char *text, double *out_mm, uint64_t capacity, uint64_t *count) {
  uint64_t found = 0;
  while (text && found <= capacity) {
    char part[80];
    double mm;
    uint64_t cross = 0;
    const char *end = girdle_cross_find(text, &cross), *next = end ? end + cross : NULL;
    copy_part(text, end ? (uint64_t)(end - text) : strlen(text), next, part, sizeof part);
    GIRDLE_TRY(girdle_quantity_parse(call, part, GIRDLE_LENGTH, &mm));
    if (found < capacity) out_mm[found] = mm;
    found++;
    text = next;
  }
  *count = found;
  return GIRDLE_OK;
}
