/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "common.h"
#include "girdle/shape.h"

/* Names: the girths of ISO 8559, and what makers say.
 *
 * Limits, from means and standard deviations in mm. CHILD: girls of six years, the least of the groups measured, less
 * three deviations (Ozturk et al., J Clin Res Pediatr Endocrinol 9(4):329-336, 2017; n = 4330). MEN: the mean and four
 * deviations of 4082 men (Gordon et al., NATICK/TR-15/007, 2014). NONE where neither gives a figure.
 *
 * Where the tape goes: neck and bust as EN 13402-1:2001 defines them, the others as is common practice. */
#define CHILD(mean, deviation) ((mean)-3 * (deviation))
#define MEN(mean, deviation) ((mean) + 4 * (deviation))
#define NO_LEAST 0
#define NO_MOST INFINITY
static const struct {
  const char *name;
  double least_mm, most_mm;
  const char *tape;
} measures[] = {
    {"head", NO_LEAST, MEN(574.4, 16.1), "level round the head, over the forehead and the widest part behind"},
    {"neck", NO_LEAST, MEN(397.7, 25.8), "2 cm below the Adam's apple and over the seventh neck vertebra"},
    {"neck-base", NO_LEAST, MEN(434.6, 25.7), "round the root of the neck, where a plain neckline lies"},
    {"chest", NO_LEAST, MEN(1058.7, 87.4), "level round the body, close under the armpits"},
    {"bust", NO_LEAST, MEN(1058.7, 87.4),
     "level round the fullest part, under the armpits and across the bust, breathing as usual"},
    {"upper-arm", NO_LEAST, NO_MOST, "round the arm half-way between shoulder and elbow"},
    {"armscye", NO_LEAST, NO_MOST, "over the end of the shoulder and under the armpit"},
    {"elbow", NO_LEAST, NO_MOST, "round the elbow, the arm bent"},
    {"wrist", CHILD(124.8, 9.3), MEN(175.9, 9.0), "round the wrist, over its bones"},
    {"hand", NO_LEAST, NO_MOST, "round the knuckles, the thumb left out"},
    {"waist", NO_LEAST, MEN(940.6, 111.7), "level round the waist, where a band would settle"},
    {"hip", NO_LEAST, MEN(1019.5, 76.7), "level round the fullest part of the seat"},
    {"thigh", NO_LEAST, NO_MOST, "round the leg at the top, where it is thickest"},
    {"mid-thigh", NO_LEAST, NO_MOST, "round the leg half-way between hip and knee"},
    {"knee", NO_LEAST, NO_MOST, "round the knee over the kneecap, the leg straight"},
    {"lower-knee", NO_LEAST, NO_MOST, "round the leg just below the kneecap"},
    {"calf", NO_LEAST, NO_MOST, "round the calf where it is thickest"},
    {"minimum-leg", NO_LEAST, NO_MOST, "round the leg above the ankle, where it is thinnest"},
    {"ankle", NO_LEAST, MEN(229.3, 14.7), "round the ankle, over its bones"},
    {"neckline", NO_LEAST, NO_MOST, "along the dress's own edge at the neck"},
    {"armhole", NO_LEAST, NO_MOST, "along the dress's own edge at the arm"},
    {"leg opening", NO_LEAST, NO_MOST, "along the dress's own edge at the leg"},
    {"body loop", NO_LEAST, NO_MOST, "from a shoulder down in front, between the legs and up the back to the shoulder"},
};
enum { MEASURES = sizeof measures / sizeof measures[0] };

/* What else makers call them. */
static const char *const aliases[][2] = {
    {"hips", "hip"}, {"seat", "hip"}, {"biceps", "upper-arm"}, {"leg hole", "leg opening"}, {"trunk", "body loop"}};
enum { ALIASES = sizeof aliases / sizeof aliases[0] };

const char *girdle_measure_name(uint64_t index) {
  return index < MEASURES ? measures[index].name : NULL;
}

const char *girdle_measure_tape(uint64_t index) {
  return index < MEASURES ? measures[index].tape : NULL;
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
  GIRDLE_GIVEN(call, name, out);
  const char *known[MEASURES];
  for (int i = 0; i < ALIASES; i++)
    if (names(aliases[i][0], name)) name = aliases[i][1];
  for (uint64_t i = 0; i < MEASURES; i++) {
    known[i] = measures[i].name;
    if (!names(measures[i].name, name)) continue;
    *out = i;
    return GIRDLE_OK;
  }
  return girdle_common_unknown(call, "measure", name, known, MEASURES);
}

int32_t girdle_measure_plausible(uint64_t index, double value_mm, double *least_mm, double *most_mm) {
  double least = index < MEASURES ? measures[index].least_mm : NO_LEAST;
  double most = index < MEASURES ? measures[index].most_mm : NO_MOST;
  if (least_mm) *least_mm = least;
  if (most_mm) *most_mm = most;
  return value_mm >= least && value_mm <= most;
}

static void write_cm(double mm, char *text, uint64_t bytes) {
  girdle_number_text(mm / 10, 1, text, bytes);
}

uint64_t girdle_measure_warning(uint64_t index, double value_mm, char *buffer, uint64_t bytes) {
  char value[32], from[32], to[32], text[256] = "";
  double least, most;
  if (index < MEASURES && !girdle_measure_plausible(index, value_mm, &least, &most)) {
    write_cm(value_mm, value, sizeof value);
    write_cm(least, from, sizeof from);
    write_cm(most, to, sizeof to);
    snprintf(text, sizeof text, "%s %s of %s cm is far %s what is usual, %s%s%s cm; measure again, %s",
             strchr("aeiou", measures[index].name[0]) ? "an" : "a", measures[index].name, value,
             value_mm < least ? "below" : "above", least > 0 ? from : "", least > 0 ? " to " : "at most ", to,
             measures[index].tape);
  }
  if (bytes) girdle_common_text(buffer, bytes, text);
  return strlen(text);
}
