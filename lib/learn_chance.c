/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/learn.h"

#include <math.h>

#include "common.h"

/* Distributions, from the incomplete beta function alone. */

/* log of the gamma function for x > 0: shifted above 10, then Stirling's series. libm's own writes to a global. */
static double log_gamma(double x) {
  const double half_log_two_pi = 0.91893853320467274178;
  double shift = 0, squared;
  for (; x < 10; x += 1)
    shift += log(x);
  squared = x * x;
  return (x - 0.5) * log(x) - x + half_log_two_pi - shift +
         (1.0 / 12 - (1.0 / 360 - (1.0 / 1260 - (1.0 / 1680 - 1.0 / (1188 * squared)) / squared) / squared) / squared) /
             x;
}

/* Lentz's method divides by this; for what beta_below asks it stays away from nought. */
static double kept_from_nought(double value) {
  return GIRDLE_NEVER(fabs(value) < 1e-300) ? 1e-300 : value;
}

/* The continued fraction of the incomplete beta function, by the modified Lentz method (Abramowitz and Stegun 26.5.8).
 */
static double beta_fraction(double a, double b, double x) {
  double c = 1, d = 1 - (a + b) * x / (a + 1), value;
  d = 1 / kept_from_nought(d);
  value = d;
  for (int m = 1; m < 100000; m++) {
    double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1)), factor;
    d = 1 / kept_from_nought(1 + even * d);
    c = kept_from_nought(1 + even / c);
    value *= d * c;
    d = 1 / kept_from_nought(1 + odd * d);
    c = kept_from_nought(1 + odd / c);
    factor = d * c;
    value *= factor;
    if (fabs(factor - 1) < 1e-15) break;
  }
  return value;
}

/* The regularised incomplete beta function I_x(a, b), a and b above 0, x from 0 to 1; y is 1 - x, given apart so that
 * neither loses digits. */
static double beta_below(double a, double b, double x, double y) {
  double front;
  if (x <= 0 || y <= 0) return x <= 0 ? 0 : 1;
  front = exp(log_gamma(a + b) - log_gamma(a) - log_gamma(b) + a * log(x) + b * log(y));
  if (x < (a + 1) / (a + b + 2)) return front * beta_fraction(a, b, x) / a;
  return 1 - front * beta_fraction(b, a, y) / b;
}

double girdle_binomial_below(int64_t trials, double chance, int64_t successes) {
  if (!(chance >= 0 && chance <= 1) || trials < 0) return NAN;
  if (successes < 0) return 0;
  if (successes >= trials) return 1;
  return beta_below((double)(trials - successes), (double)successes + 1, 1 - chance, chance);
}

/* P(T > t) for t of 0 or more. */
static double student_above(double t, double freedom) {
  double whole = freedom + t * t;
  return 0.5 * beta_below(freedom / 2, 0.5, freedom / whole, t * t / whole);
}

static double normal_above(double z) {
  return 0.5 * erfc(z / sqrt(2.0));
}

/* The point above 0 that a variable passes with chance `tail`, below a half: bracketed by doubling, then halved until
 * nothing lies between. `freedom` 0 means the normal. */
static double point_of(double tail, double freedom) {
  double low = 0, high = 1;
  while (high < 1e300 && (freedom > 0 ? student_above(high, freedom) : normal_above(high)) > tail)
    low = high, high *= 2;
  for (int i = 0; i < 200; i++) {
    double middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) break;
    if ((freedom > 0 ? student_above(middle, freedom) : normal_above(middle)) > tail)
      low = middle;
    else
      high = middle;
  }
  return low + (high - low) / 2;
}

static double quantile(double probability, double freedom) {
  if (!(probability > 0 && probability < 1)) return NAN;
  if (probability == 0.5) return 0;
  return probability < 0.5 ? -point_of(probability, freedom) : point_of(1 - probability, freedom);
}

double girdle_normal_quantile(double probability) {
  return quantile(probability, 0);
}

double girdle_student_quantile(double probability, double freedom) {
  double z;
  if (!(freedom > 0)) return NAN;
  if (freedom <= 1e6) return quantile(probability, freedom);
  z = quantile(probability, 0); /* Abramowitz and Stegun 26.7.5, whose next term is below 1e-12 here */
  return z + (z * z * z + z) / (4 * freedom);
}

/* ---- spares */

static int32_t check(girdle_call *call, int64_t pieces, double share) {
  GIRDLE_TRY(girdle_common_range(call, "pieces", (double)pieces, 0, 1e12, "pieces"));
  return girdle_common_range(call, "lost_share", share, 0, 1, "");
}

int32_t girdle_chance_short(girdle_call *call, int64_t pieces, double lost_share, int64_t spares, double *out_chance) {
  GIRDLE_GIVEN(call, out_chance);
  GIRDLE_TRY(check(call, pieces, lost_share));
  if (spares < 0)
    *out_chance = 1;
  else if (spares >= pieces || lost_share <= 0)
    *out_chance = 0;
  else /* the upper tail itself, not one less the lower */
    *out_chance = beta_below((double)spares + 1, (double)(pieces - spares), lost_share, 1 - lost_share);
  return GIRDLE_OK;
}

int32_t girdle_spares(girdle_call *call, int64_t pieces, double lost_share, double confidence, int64_t *out_pieces) {
  GIRDLE_GIVEN(call, out_pieces);
  int64_t low = 0, high = pieces;
  GIRDLE_TRY(check(call, pieces, lost_share));
  GIRDLE_TRY(girdle_common_range(call, "confidence", confidence, 0, 1 - 1e-12, ""));
  while (low < high) {
    int64_t middle = low + (high - low) / 2;
    /* decided on ten digits, so that another libm decides the same */
    if (nearbyint(1e10 * girdle_binomial_below(pieces, lost_share, middle)) >= nearbyint(1e10 * confidence))
      high = middle;
    else
      low = middle + 1;
  }
  *out_pieces = low;
  return GIRDLE_OK;
}

int32_t girdle_repair_kit(girdle_call *call, int64_t pieces, double fell_off_share, double confidence, int64_t least,
                          int64_t *out_pieces) {
  GIRDLE_GIVEN(call, out_pieces);
  int64_t wanted;
  GIRDLE_TRY(girdle_common_range(call, "kit", (double)least, 0, 1e12, "pieces"));
  GIRDLE_TRY(girdle_spares(call, pieces, fell_off_share, confidence, &wanted));
  *out_pieces = wanted > least ? wanted : least;
  return GIRDLE_OK;
}

int32_t girdle_worthwhile_confidence(girdle_call *call, int64_t short_minor, int64_t over_minor, double *out) {
  GIRDLE_GIVEN(call, out);
  GIRDLE_TRY(girdle_common_range(call, "short", (double)short_minor, 0, 9e18, ""));
  GIRDLE_TRY(girdle_common_range(call, "over", (double)over_minor, 0, 9e18, ""));
  if (short_minor == 0 && over_minor == 0)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "over",
                              "a stone too few and one too many cannot both cost nothing");
  *out = (double)short_minor / ((double)short_minor + (double)over_minor);
  return GIRDLE_OK;
}

/* ---- forecasts */

static int32_t check_ratios(girdle_call *call, const double *ratios, uint64_t count) {
  for (uint64_t i = 0; i < count; i++)
    GIRDLE_TRY(girdle_common_range(call, "ratio", ratios[i], 1e-12, 1e12, ""));
  return GIRDLE_OK;
}

int32_t girdle_forecast_ratio(girdle_call *call, const double *ratios, uint64_t count, double prior_ratio,
                              double prior_spread, double prior_jobs, double confidence, girdle_forecast *out) {
  GIRDLE_GIVEN(call, ratios || !count, out);
  const double jobs = (double)count, weight = prior_jobs + jobs;
  double mean = 0, squares, centre, reach;
  GIRDLE_TRY(check_ratios(call, ratios, count));
  GIRDLE_TRY(check_ratios(call, &prior_ratio, 1));
  GIRDLE_TRY(girdle_common_range(call, "prior_spread", prior_spread, 0, 10, ""));
  GIRDLE_TRY(girdle_common_range(call, "prior_jobs", prior_jobs, 0, 1e6, "jobs"));
  GIRDLE_TRY(girdle_common_range(call, "confidence", confidence, 1e-6, 1 - 1e-6, ""));
  for (uint64_t i = 0; i < count; i++)
    mean += log(ratios[i]) / jobs;
  centre = weight > 0 ? (prior_jobs * log(prior_ratio) + jobs * mean) / weight : log(prior_ratio);
  /* the prior jobs spread by prior_spread around the prior ratio, the seen ones around their own mean */
  squares = fmax(prior_jobs - 1, 0) * prior_spread * prior_spread;
  if (weight > 0) squares += prior_jobs * jobs / weight * (mean - log(prior_ratio)) * (mean - log(prior_ratio));
  for (uint64_t i = 0; i < count; i++)
    squares += (log(ratios[i]) - mean) * (log(ratios[i]) - mean);
  out->jobs = (int64_t)count;
  out->freedom = fmax(weight - 1, 0);
  out->likely = exp(centre);
  out->least = 0;
  out->most = INFINITY;
  if (out->freedom < 1) return GIRDLE_OK;
  reach = girdle_student_quantile(0.5 + confidence / 2, out->freedom) * sqrt(squares / out->freedom * (1 + 1 / weight));
  out->least = exp(centre - reach);
  out->most = exp(centre + reach);
  return GIRDLE_OK;
}
