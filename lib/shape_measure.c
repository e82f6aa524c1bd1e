/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "common.h"
#include "girdle/shape.h"

/* Names: the girths of ISO 8559, and what makers say. Limits of plausibility: below, the mean of six-year-old girls
 * less three standard deviations (Ozturk et al., J Clin Res Pediatr Endocrinol 9(4), 2017); above, the men's mean and
 * four standard deviations (Gordon et al., NATICK/TR-15/007, 2014). 0 and infinity where neither gives a figure. */
#define NO_MOST INFINITY
static const struct {
  const char *name;
  double least_mm, most_mm;
} measures[] = {
    {"head", 0, 574.4 + 4 * 16.1},
    {"neck", 0, 397.7 + 4 * 25.8},
    {"neck-base", 0, 434.6 + 4 * 25.7},
    {"chest", 0, 1058.7 + 4 * 87.4},
    {"bust", 0, 1058.7 + 4 * 87.4},
    {"upper-arm", 0, NO_MOST},
    {"armscye", 0, NO_MOST},
    {"elbow", 0, NO_MOST},
    {"wrist", 124.8 - 3 * 9.3, 175.9 + 4 * 9.0},
    {"hand", 0, NO_MOST},
    {"waist", 0, 940.6 + 4 * 111.7},
    {"hip", 0, 1019.5 + 4 * 76.7},
    {"thigh", 0, NO_MOST},
    {"mid-thigh", 0, NO_MOST},
    {"knee", 0, NO_MOST},
    {"lower-knee", 0, NO_MOST},
    {"calf", 0, NO_MOST},
    {"minimum-leg", 0, NO_MOST},
    {"ankle", 0, 229.3 + 4 * 14.7},
    {"neckline", 0, NO_MOST},
    {"armhole", 0, NO_MOST},
    {"leg opening", 0, NO_MOST},
    {"body loop", 0, NO_MOST},
};
enum { MEASURES = sizeof measures / sizeof measures[0] };

const char *girdle_measure_name(uint64_t index) {
  return index < MEASURES ? measures[index].name : NULL;
}

static char folded(char c) {
  return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c == '_' || c == '-' ? ' ' : c;
}

/* Capitals, hyphens and underscores do not matter, nor does a "girth" at the end. */
static int names(const char *known, const char *word) {
  for (; *known; known++, word++)
    if (folded(*known) != folded(*word)) return 0;
  if (!*word) return 1;
  for (const char *end = " girth"; *end; end++, word++)
    if (*end != folded(*word)) return 0;
  return !*word;
}

int32_t girdle_measure_find(girdle_call *call, const char *name, uint64_t *out) {
  const char *known[MEASURES];
  for (uint64_t i = 0; i < MEASURES; i++) {
    known[i] = measures[i].name;
    if (!names(measures[i].name, name)) continue;
    *out = i;
    return GIRDLE_OK;
  }
  return girdle_common_unknown(call, "measure", name, known, MEASURES);
}

int32_t girdle_measure_plausible(uint64_t index, double value_mm, double *least_mm, double *most_mm) {
  double least = index < MEASURES ? measures[index].least_mm : 0;
  double most = index < MEASURES ? measures[index].most_mm : NO_MOST;
  if (least_mm) *least_mm = least;
  if (most_mm) *most_mm = most;
  return value_mm >= least && value_mm <= most;
}
