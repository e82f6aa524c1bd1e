/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/work.h"

#include <stdio.h>
#include <string.h>

#include "common.h"

/* Days are reckoned from 1 March of year 0, so that the leap day ends a year: 400 years are 146,097 days, 1970-01-01 is
 * day 719,468. */
enum { DAYS_OF_400_YEARS = 146097, EPOCH = 719468, YEAR_MOST = 9999, DAYS_MOST = 4000000 };

static int64_t floored(int64_t value, int64_t divisor) {
  return value / divisor - (value % divisor < 0);
}

static int64_t day_of(int64_t year, int64_t month, int64_t day) {
  int64_t from_march = month > 2 ? month - 3 : month + 9, y = month > 2 ? year : year - 1;
  int64_t era = floored(y, 400), of_era = y - era * 400;
  return era * DAYS_OF_400_YEARS + of_era * 365 + of_era / 4 - of_era / 100 + (153 * from_march + 2) / 5 + day - 1 -
         EPOCH;
}

static void civil_of(int64_t number, int64_t *year, int64_t *month, int64_t *day) {
  int64_t shifted = number + EPOCH, era = floored(shifted, DAYS_OF_400_YEARS);
  int64_t of_era = shifted - era * DAYS_OF_400_YEARS;
  int64_t years = (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
  int64_t of_year = of_era - (365 * years + years / 4 - years / 100), from_march = (5 * of_year + 2) / 153;
  *day = of_year - (153 * from_march + 2) / 5 + 1;
  *month = from_march < 10 ? from_march + 3 : from_march - 9;
  *year = years + era * 400 + (*month <= 2);
}

static int read_digits(const char *at, int digits, int64_t *out) {
  *out = 0;
  for (int i = 0; i < digits; i++) {
    if (at[i] < '0' || at[i] > '9') return 0;
    *out = *out * 10 + (at[i] - '0');
  }
  return 1;
}

int32_t girdle_date_parse(girdle_call *call, const char *text, int64_t *out_day) {
  GIRDLE_GIVEN(call, text, out_day);
  int64_t year, month, day, back[3], number;
  if (strlen(text) != 10 || text[4] != '-' || text[7] != '-' || !read_digits(text, 4, &year) ||
      !read_digits(text + 5, 2, &month) || !read_digits(text + 8, 2, &day))
    return girdle_common_fail(call, GIRDLE_SYNTAX, NULL,
                              "'%.40s' is not a date: write year, month and day like \"2031-03-14\"", text);
  number = month >= 1 && month <= 12 ? day_of(year, month, day) : 0;
  civil_of(number, &back[0], &back[1], &back[2]);
  if (back[0] != year || back[1] != month || back[2] != day)
    return girdle_common_fail(call, GIRDLE_SYNTAX, NULL, "there is no day '%.40s'; write one like \"2031-03-14\"",
                              text);
  *out_day = number;
  return GIRDLE_OK;
}

static int has_date(int64_t day) {
  return day > -DAYS_MOST && day < DAYS_MOST;
}

uint64_t girdle_date_text(int64_t day, char *buffer, uint64_t bytes) {
  char text[64] = "unknown";
  int64_t year, month, of_month;
  if (has_date(day)) {
    civil_of(day, &year, &month, &of_month);
    snprintf(text, sizeof text, "%s%04lld-%02lld-%02lld",
             year < 0           ? "-"
             : year > YEAR_MOST ? "+"
                                : "",
             (long long)(year < 0 ? -year : year), (long long)month, (long long)of_month);
  }
  if (bytes) girdle_common_text(buffer, bytes, text);
  return strlen(text);
}

int32_t girdle_date_weekday(int64_t day) {
  return (int32_t)(((day % 7) + 7 + 3) % 7) + 1; /* 1970-01-01 was a Thursday */
}

void girdle_date_week(int64_t day, int64_t *year, int32_t *week) {
  int64_t thursday, month, of_month;
  *year = *week = 0;
  if (!has_date(day)) return;
  thursday = day + 4 - girdle_date_weekday(day);
  civil_of(thursday, year, &month, &of_month); /* a week belongs to the year of its Thursday */
  *week = (int32_t)((thursday - day_of(*year, 1, 1)) / 7) + 1;
}
