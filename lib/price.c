/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/price.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "price_internal.h"

/* ---- currencies */

/* ISO 4217 codes by exponent: 0, then 3, then 4; every other one has 2. Codes, and the exponents of those with 2 or 3,
 * as in the standard's list; the 4 and the less common 0 are from memory. */
static const char *const codes[] = {
    "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND", "VUV", "XAF", "XOF",
    "XPF", "BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND", "CLF", "UYW", "AED", "AFN", "ALL", "AMD", "ANG", "AOA",
    "ARS", "AUD", "AWG", "AZN", "BAM", "BBD", "BDT", "BGN", "BMD", "BND", "BOB", "BRL", "BSD", "BTN", "BWP", "BYN",
    "BZD", "CAD", "CDF", "CHF", "CNY", "COP", "CRC", "CUP", "CVE", "CZK", "DKK", "DOP", "DZD", "EGP", "ERN", "ETB",
    "EUR", "FJD", "FKP", "GBP", "GEL", "GHS", "GIP", "GMD", "GTQ", "GYD", "HKD", "HNL", "HTG", "HUF", "IDR", "ILS",
    "INR", "IRR", "JMD", "KES", "KGS", "KHR", "KPW", "KYD", "KZT", "LAK", "LBP", "LKR", "LRD", "LSL", "MAD", "MDL",
    "MGA", "MKD", "MMK", "MNT", "MOP", "MRU", "MUR", "MVR", "MWK", "MXN", "MYR", "MZN", "NAD", "NGN", "NIO", "NOK",
    "NPR", "NZD", "PAB", "PEN", "PGK", "PHP", "PKR", "PLN", "QAR", "RON", "RSD", "RUB", "SAR", "SBD", "SCR", "SDG",
    "SEK", "SGD", "SHP", "SLE", "SOS", "SRD", "SSP", "STN", "SVC", "SYP", "SZL", "THB", "TJS", "TMT", "TOP", "TRY",
    "TTD", "TWD", "TZS", "UAH", "USD", "UYU", "UZS", "VES", "WST", "XCD", "YER", "ZAR", "ZMW"};
enum { CODES = sizeof codes / sizeof codes[0], FIRST_OF_THREE = 17, FIRST_OF_FOUR = 24, FIRST_OF_TWO = 26 };

static int32_t exponent_of(uint64_t index) {
  return index < FIRST_OF_THREE ? 0 : index < FIRST_OF_FOUR ? 3 : index < FIRST_OF_TWO ? 4 : 2;
}

int32_t girdle_currency_parse(girdle_call *call, const char *code, girdle_currency *out) {
  GIRDLE_GIVEN(call, code, out);
  for (uint64_t i = 0; i < CODES; i++) {
    if (strcmp(code, codes[i]) != 0) continue;
    memset(out, 0, sizeof *out);
    girdle_common_text(out->code, sizeof out->code, code);
    out->exponent = exponent_of(i);
    return GIRDLE_OK;
  }
  return girdle_common_unknown(call, "currency", code, codes, CODES);
}

/* ---- reading and writing */

static int is_digit(char c) {
  return c >= '0' && c <= '9';
}

static int32_t bad_money(girdle_call *call, const char *text, const girdle_currency *currency, const char *why) {
  return girdle_common_fail(call, GIRDLE_SYNTAX, NULL,
                            "'%.60s' is not an amount of money: %s; write one like \"%s %s\"", text, why,
                            currency->exponent == 0   ? "1250"
                            : currency->exponent == 2 ? "12.50"
                            : currency->exponent == 3 ? "12.500"
                                                      : "12.5000",
                            currency->code);
}

static int32_t too_much(girdle_call *call, const char *field) {
  return girdle_common_fail(call, GIRDLE_OVERFLOW, field, "an amount of money is too large to hold");
}

/* *sum = 10 x *sum + digit, kept at or below zero, where there is room for one more than above it. */
static int push_digit(int64_t *sum, int digit) {
  if (*sum < (INT64_MIN + digit) / 10) return 0;
  *sum = *sum * 10 - digit;
  return 1;
}

/* Reads digits with up to `exponent` decimals, missing ones as 0, into *sum (at or below zero); *at moves on. */
static int32_t scan_amount(girdle_call *call, const char *text, const char **at, const girdle_currency *currency,
                           int64_t *sum) {
  int32_t decimals = -1;
  if (!is_digit(**at)) return bad_money(call, text, currency, "it does not begin with a digit");
  for (; is_digit(**at) || (**at == '.' && decimals < 0); (*at)++) {
    if (**at != '.' && !push_digit(sum, **at - '0')) return too_much(call, NULL);
    if (**at == '.' || decimals >= 0) decimals++;
  }
  if (decimals == 0) return bad_money(call, text, currency, "no digit follows the point");
  if (decimals > currency->exponent) return bad_money(call, text, currency, "it has too many decimals");
  for (decimals = decimals < 0 ? 0 : decimals; decimals < currency->exponent; decimals++)
    if (!push_digit(sum, 0)) return too_much(call, NULL);
  return GIRDLE_OK;
}

int32_t girdle_money_parse(girdle_call *call, const char *text, const girdle_currency *currency, int64_t *out_minor) {
  GIRDLE_GIVEN(call, text, currency, out_minor);
  int64_t sum = 0;
  int negative = text[0] == '-';
  const char *at = text + negative;
  if (strlen(text) > 60) return bad_money(call, text, currency, "it has more than 60 characters");
  GIRDLE_TRY(scan_amount(call, text, &at, currency, &sum));
  if (*at == ',') return bad_money(call, text, currency, "the decimal mark is a point, and thousands are not marked");
  if (*at && *at != ' ') return bad_money(call, text, currency, "what follows the number is not known");
  if (*at && strcmp(at + 1, currency->code) != 0) return bad_money(call, text, currency, "its currency is another");
  if (!negative && sum == INT64_MIN) return too_much(call, NULL);
  *out_minor = negative ? sum : -sum;
  return GIRDLE_OK;
}

static uint64_t magnitude(int64_t value) {
  return value < 0 ? 0 - (uint64_t)value : (uint64_t)value;
}

uint64_t girdle_money_text(int64_t minor, const girdle_currency *currency, int32_t with_code, char *buffer,
                           uint64_t bytes) {
  char text[40], *at = text + sizeof text - 1;
  uint64_t left = magnitude(minor), length;
  *at = '\0';
  if (with_code) {
    for (size_t i = strlen(currency->code); i-- > 0;)
      *--at = currency->code[i];
    *--at = ' ';
  }
  for (int32_t place = 0; left || place <= currency->exponent; place++) {
    if (place == currency->exponent && place) *--at = '.';
    *--at = (char)('0' + left % 10);
    left /= 10;
  }
  if (minor < 0) *--at = '-';
  length = (uint64_t)(text + sizeof text - 1 - at);
  if (bytes) girdle_common_text(buffer, bytes, at);
  return length;
}

/* ---- shares */

/* a x b as two words. */
static void multiply(uint64_t a, uint64_t b, uint64_t *high, uint64_t *low) {
  uint64_t a0 = a & 0xffffffffu, a1 = a >> 32, b0 = b & 0xffffffffu, b1 = b >> 32;
  uint64_t middle = a1 * b0 + (a0 * b0 >> 32), other = a0 * b1 + (middle & 0xffffffffu);
  *high = a1 * b1 + (middle >> 32) + (other >> 32);
  *low = a * b;
}

int girdle_price_divide(uint64_t a, uint64_t b, uint64_t divisor, uint64_t *quotient, uint64_t *remainder) {
  uint64_t high, low;
  multiply(a, b, &high, &low);
  if (high >= divisor) return 0;
  *quotient = high ? 0 : low / divisor;
  *remainder = high ? high : low % divisor;
  /* long division, one bit at a time: only amounts near what int64 holds come here */
  for (int bit = high ? 63 : -1; bit >= 0; bit--) {
    int carry = (int)(*remainder >> 63);
    *remainder = *remainder << 1 | (low >> bit & 1);
    if (!carry && *remainder < divisor) continue;
    *remainder -= divisor;
    *quotient |= (uint64_t)1 << bit;
  }
  return 1;
}

int girdle_price_compare(uint64_t a, uint64_t b, uint64_t c, uint64_t d) {
  uint64_t one[2], two[2];
  multiply(a, b, &one[0], &one[1]);
  multiply(c, d, &two[0], &two[1]);
  if (one[0] != two[0]) return one[0] < two[0] ? -1 : 1;
  return one[1] == two[1] ? 0 : one[1] < two[1] ? -1 : 1;
}

int32_t girdle_money_share(girdle_call *call, int64_t minor, int64_t numerator, int64_t denominator,
                           int64_t *out_minor) {
  GIRDLE_GIVEN(call, out_minor);
  uint64_t quotient, remainder, divisor = (uint64_t)denominator;
  int negative = (minor < 0) != (numerator < 0);
  if (denominator <= 0)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "denominator", "denominator must be above 0, not %lld",
                              (long long)denominator);
  if (!girdle_price_divide(magnitude(minor), magnitude(numerator), divisor, &quotient, &remainder))
    return too_much(call, NULL);
  if (remainder > divisor - remainder || (remainder == divisor - remainder && (quotient & 1))) quotient++;
  if (quotient > INT64_MAX) return too_much(call, NULL);
  *out_minor = negative ? -(int64_t)quotient : (int64_t)quotient;
  return GIRDLE_OK;
}

int32_t girdle_price_add(girdle_call *call, const char *field, int64_t a, int64_t b, int64_t *out) {
  if (b > 0 ? a > INT64_MAX - b : a < INT64_MIN - b) return too_much(call, field);
  *out = a + b;
  return GIRDLE_OK;
}

int32_t girdle_price_times(girdle_call *call, const char *field, int64_t a, int64_t b, int64_t *out) {
  uint64_t high, low;
  multiply(magnitude(a), magnitude(b), &high, &low);
  if (high || low > INT64_MAX) return too_much(call, field);
  *out = (a < 0) != (b < 0) ? -(int64_t)low : (int64_t)low;
  return GIRDLE_OK;
}

/* ---- stock */

int32_t girdle_stock_weighed(girdle_call *call, double mass_mg, int64_t counted, double counted_mg,
                             int64_t *out_pieces) {
  GIRDLE_GIVEN(call, out_pieces);
  double pieces;
  GIRDLE_TRY(girdle_common_range(call, "mass", mass_mg, 0, 1e12, "mg"));
  GIRDLE_TRY(girdle_common_range(call, "counted", (double)counted, 1, 1e6, "pieces"));
  GIRDLE_TRY(girdle_common_range(call, "counted mass", counted_mg, 1e-3, 1e12, "mg"));
  pieces = floor(mass_mg * (double)counted / counted_mg * (1 + 1e-12)); /* a whole number stays one */
  if (pieces > 1e12) return girdle_common_fail(call, GIRDLE_LIMIT, "mass", "that is more than 1000000000000 stones");
  *out_pieces = (int64_t)pieces;
  return GIRDLE_OK;
}

/* ---- splitting */

static int32_t sum_weights(girdle_call *call, const int64_t *weights, uint64_t count, int64_t *sum) {
  *sum = 0;
  for (uint64_t i = 0; i < count; i++) {
    if (weights[i] < 0)
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "weight", "weight %llu must be 0 or more, not %lld",
                                (unsigned long long)i + 1, (long long)weights[i]);
    GIRDLE_TRY(girdle_price_add(call, "weights", *sum, weights[i], sum));
  }
  if (*sum) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "weights", "at least one weight must be above 0");
}

/* The largest remainder that at least `wanted` (1 or more, and no more than parts that have one) reach. */
static int64_t remainder_reached(const int64_t *remainders, uint64_t count, uint64_t wanted, int64_t most) {
  int64_t low = 1, high = most;
  while (low < high) {
    int64_t middle = high - (high - low) / 2;
    uint64_t reached = 0;
    for (uint64_t i = 0; i < count; i++)
      reached += remainders[i] >= middle;
    if (reached >= wanted)
      low = middle;
    else
      high = middle - 1;
  }
  return low;
}

int32_t girdle_money_split(girdle_call *call, int64_t minor, const int64_t *weights, uint64_t count,
                           int64_t *out_parts) {
  GIRDLE_GIVEN(call, weights || !count, out_parts || !count);
  uint64_t amount = magnitude(minor), left = amount, above = 0, share, rest;
  int64_t sum, least = INT64_MAX;
  GIRDLE_TRY(sum_weights(call, weights, count, &sum));
  for (uint64_t i = 0; i < count; i++) {
    girdle_price_divide(amount, (uint64_t)weights[i], (uint64_t)sum, &share, &rest);
    out_parts[i] = (int64_t)rest; /* the remainders wait here until the threshold is known */
    left -= share;
  }
  if (left) least = remainder_reached(out_parts, count, left, sum);
  for (uint64_t i = 0; i < count; i++)
    above += out_parts[i] > least;
  left -= left ? above : 0; /* what is still to give goes to the first of those that just reach it */
  for (uint64_t i = 0; i < count; i++) {
    int more = out_parts[i] > least || (out_parts[i] == least && left);
    left -= (uint64_t)(out_parts[i] == least && left);
    girdle_price_divide(amount, (uint64_t)weights[i], (uint64_t)sum, &share, &rest);
    share += (uint64_t)more;
    out_parts[i] = minor < 0 ? (int64_t)(0 - share) : (int64_t)share;
  }
  return GIRDLE_OK;
}
