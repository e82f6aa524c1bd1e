/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_STONE_H
#define GIRDLE_STONE_H

/* stone: sizes, cuts, materials and masses. Stones are plain values. */

#include "girdle/base.h"

#ifdef __cplusplus
extern "C" {
#endif

/* How well a size's diameter is known. */
enum {
  GIRDLE_SEVERAL_CHARTS,
  GIRDLE_ONE_CHART,
  GIRDLE_INTERPOLATED,
  GIRDLE_UNCONFIRMED,
  GIRDLE_OWN_SIZE /* given in millimetres by the user */
};

/* Outlines seen from above. All but ROUND carry a turn; length_ratio is length over width, 1 or more. */
enum {
  GIRDLE_ROUND, GIRDLE_OVAL, GIRDLE_PEAR, GIRDLE_NAVETTE, GIRDLE_SQUARE, GIRDLE_RECTANGLE, GIRDLE_HEART,
  GIRDLE_OUTLINE_END
};

/* How a stone is held. Sewn stones take no adhesive. */
enum { GIRDLE_GLUE, GIRDLE_SEW, GIRDLE_GLUE_AND_SEW, GIRDLE_FIX_END };

/* Index of a range of three. */
enum { GIRDLE_LEAST, GIRDLE_NOMINAL, GIRDLE_MOST };

typedef struct girdle_size {
  char name[16];         /* "ss20", "pp10", or "5 mm" */
  double diameter_mm[3]; /* least, nominal (middle of the range), most */
  int32_t certainty, reserved;
} girdle_size;

/* A stone as a value, frozen for ABI 1. Equal when all texts, nominal diameter, length_ratio, outline and fix are
 * equal. The diameter is the width across for outlines other than round. */
typedef struct girdle_stone {
  char size[16], colour[48], finish[16], material[24], cut[24];
  double diameter_mm[3], height_mm, mass_mg[3]; /* [3]: least, nominal, most */
  double length_ratio;
  int32_t outline, fix;
  uint32_t reserved[4];
} girdle_stone;

/* What a maker says of a stone; NULL texts and NaN numbers take the defaults: colour "clear", finish "foiled", material
 * "soda-lime", the house cut, round, glued. A given mass (of one stone, by weighing) overrides the model. */
typedef struct girdle_stone_spec {
  uint32_t struct_bytes;
  int32_t outline, fix; /* GIRDLE_ROUND and GIRDLE_GLUE by default */
  uint32_t reserved;
  const char *size, *colour, *finish, *material, *cut;
  double diameter_mm[3], height_mm, mass_mg[3], length_ratio;
} girdle_stone_spec;

/* Reads a size: "ss20", "SS20", "20ss", "20s", "ss 20", "pp10", or a diameter such as "5 mm". Unlisted sizes are
 * GIRDLE_UNKNOWN with the nearest named. */
GIRDLE_API int32_t girdle_size_parse(girdle_call *call, const char *text, girdle_size *out);

/* The table of sizes, in order of diameter, ss first and then pp; lives as long as the library. */
GIRDLE_API const girdle_size *girdle_sizes(uint64_t *count);

GIRDLE_API void girdle_stone_spec_init(girdle_stone_spec *spec, uint32_t struct_bytes);
GIRDLE_API int32_t girdle_stone_make(girdle_call *call, const girdle_stone_spec *spec, girdle_stone *out);

/* Reads "ss20 black": a size, then the colour in any number of words; words that name a finish, a material, an outline
 * or "sewn" may come last. No colour is "clear". */
GIRDLE_API int32_t girdle_stone_parse(girdle_call *call, const char *text, girdle_stone *out);

/* Writes the shortest text that girdle_stone_parse reads back equal, e.g. "ss20 black". Two-call buffer: returns the
 * length needed without the NUL, writes at most `bytes` with it. */
GIRDLE_API uint64_t girdle_stone_text(const girdle_stone *stone, char *buffer, uint64_t bytes);

/* 1 when equal, else 0. */
GIRDLE_API int32_t girdle_stone_equal(const girdle_stone *a, const girdle_stone *b);

#ifdef __cplusplus
}
#endif
#endif
