/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "map_internal.h"

#include <string.h>

/* Everyday words for colours. The values are our own choice for white paper: strong enough to be seen as small dots. */
typedef struct named {
  const char *name;
  uint32_t rgb;
} named;

static const named words[] = {
    {"clear", 0xdfeaf2},     {"white", 0xfafafa},    {"ivory", 0xf5eeda},    {"cream", 0xf3e6c4},
    {"champagne", 0xe9d2a8}, {"silver", 0xc3c9cf},   {"grey", 0x8b9299},     {"gray", 0x8b9299},
    {"smoke", 0x6f757c},     {"pewter", 0x5f676e},   {"black", 0x1c1c20},    {"gold", 0xd2a62c},
    {"bronze", 0x8f6a2f},    {"copper", 0xb7703f},   {"brown", 0x70472a},    {"beige", 0xd9c3a0},
    {"sand", 0xd9c08c},      {"amber", 0xe09a1a},    {"yellow", 0xf2d024},   {"lemon", 0xf0e04a},
    {"orange", 0xee7f1d},    {"peach", 0xf4b184},    {"apricot", 0xf2a765},  {"coral", 0xee6f5b},
    {"salmon", 0xf08d78},    {"red", 0xc81e2d},      {"scarlet", 0xd92b1c},  {"crimson", 0xa81433},
    {"ruby", 0x9f1239},      {"wine", 0x6e1230},     {"burgundy", 0x6a1429}, {"garnet", 0x7d1a2b},
    {"pink", 0xf093b5},      {"rose", 0xe2729a},     {"fuchsia", 0xd01c7f},  {"magenta", 0xc21a86},
    {"plum", 0x6c2659},      {"purple", 0x6f2c91},   {"violet", 0x7548b5},   {"amethyst", 0x8a5bb8},
    {"lilac", 0xb996d6},     {"lavender", 0xb3a5dc}, {"blue", 0x2b62c4},     {"navy", 0x1b2a5a},
    {"royal", 0x2a48b0},     {"sapphire", 0x1f47a1}, {"cobalt", 0x2450b8},   {"sky", 0x86bfe8},
    {"ice", 0xc4e1ee},       {"frost", 0xd0e6ef},    {"aqua", 0x6fcfd6},     {"turquoise", 0x2fb3b5},
    {"teal", 0x14787c},      {"sea", 0x2a8c96},      {"mint", 0x9bdcc0},     {"green", 0x2b8f4a},
    {"emerald", 0x0e8a57},   {"lime", 0x9ccc2d},     {"olive", 0x77792a},    {"forest", 0x1f5a35},
    {"moss", 0x66783a},      {"pearl", 0xeee8dd},    {"opal", 0xdce6e4},     {"topaz", 0xc88a2d},
    {"honey", 0xdba13a},
};

static const named shades[] = {{"light", 1}, {"pale", 1}, {"soft", 1}, {"dark", 2}, {"deep", 2}, {"midnight", 2}};

static int find_word(const named *list, size_t count, const char *word, size_t length, uint32_t *out) {
  for (size_t i = 0; i < count; i++) {
    if (strlen(list[i].name) != length || memcmp(list[i].name, word, length) != 0) continue;
    *out = list[i].rgb;
    return 1;
  }
  return 0;
}

/* FNV-1a, so that a name that nobody knows still has one colour everywhere. */
static uint32_t colour_of_its_own(const char *name) {
  uint32_t hash = 2166136261u;
  for (; *name; name++)
    hash = (hash ^ (unsigned char)*name) * 16777619u;
  return 0x505050 + (hash & 0x7f) + ((hash >> 8 & 0x7f) << 8) + ((hash >> 16 & 0x7f) << 16);
}

/* a + (b - a) of a share in hundredths. */
static void blend(const uint8_t a[3], int b, int hundredths, uint8_t out[3]) {
  for (int i = 0; i < 3; i++)
    out[i] = (uint8_t)(a[i] + (b - a[i]) * hundredths / 100);
}

static void split(uint32_t rgb, uint8_t out[3]) {
  out[0] = (uint8_t)(rgb >> 16);
  out[1] = (uint8_t)(rgb >> 8);
  out[2] = (uint8_t)rgb;
}

/* Perceived lightness, 0 to 255 (weights of Rec. 601). */
static int lightness(const uint8_t rgb[3]) {
  return (299 * rgb[0] + 587 * rgb[1] + 114 * rgb[2]) / 1000;
}

void girdle_ink_of(const char *colour, girdle_ink *out) {
  uint32_t rgb = 0, shade = 0, found = 0;
  const char *at = colour;
  while (*at) {
    size_t length = strcspn(at, " ");
    found |= (uint32_t)find_word(words, sizeof words / sizeof words[0], at, length, &rgb);
    find_word(shades, sizeof shades / sizeof shades[0], at, length, &shade);
    at += length;
    at += strspn(at, " ");
  }
  split(found ? rgb : colour_of_its_own(colour), out->fill);
  if (shade == 1) blend(out->fill, 255, 45, out->fill);
  if (shade == 2) blend(out->fill, 0, 40, out->fill);
  /* marks and edges stand out from the fill whatever it is */
  blend(out->fill, lightness(out->fill) > 110 ? 0 : 255, lightness(out->fill) > 110 ? 52 : 62, out->mark);
  blend(out->fill, 0, lightness(out->fill) > 110 ? 45 : 30, out->edge);
}

const girdle_pattern *girdle_pattern_of(uint64_t kind) {
  static const girdle_pattern patterns[GIRDLE_PATTERNS] = {
      {0, 0, 0, {0}},                   /* plain */
      {1, 0, 1, {0.55}},                /* a dot */
      {0, 0, 1, {0.5}},                 /* halves side by side */
      {1, 0, 2, {0.3, 0.6}},            /* a ring */
      {0, 45, 2, {0.36, 0.64}},         /* a slanting bar */
      {0, 90, 1, {0.5}},                /* halves one above the other */
      {0, 0, 2, {0.36, 0.64}},          /* an upright bar */
      {1, 0, 3, {0.25, 0.5, 0.75}},     /* a ring and a dot */
      {0, 90, 4, {0.2, 0.4, 0.6, 0.8}}, /* two level bars */
      {0, 135, 1, {0.5}},               /* slanting halves */
      {0, 0, 4, {0.2, 0.4, 0.6, 0.8}},  /* two upright bars */
      {0, 135, 2, {0.36, 0.64}},        /* a bar slanting the other way */
  };
  return &patterns[kind % GIRDLE_PATTERNS];
}
