/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TALLY_H
#define GIRDLE_TALLY_H

/* tally: counts by tag, zone, side and stone, made from placements and never kept beside them. A tally grows by adding
 * and belongs to one thread until it is finished. NULL as base.h says. */

#include "girdle/place.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct girdle_tally girdle_tally;

typedef struct girdle_tally_line {
  char tag[32], zone[64], side[16];
  girdle_stone stone;
  int64_t count;      /* with `times` already multiplied in */
  double mass_mg[3];  /* least, nominal, most: of all these stones together */
  double covered_mm2; /* footprint of all these stones */
} girdle_tally_line;

/* Reads pieces and their stone, "120 ss16 clear" or "2 1/2 gross ss20 red", whatever names the stone's size has, those
 * of the call's own among them. GIRDLE_SYNTAX when no number stands before a stone, else what is wrong with the stone.
 */
GIRDLE_API int32_t girdle_stone_pieces_parse(girdle_call *call, const char *text, girdle_stone *stone, int64_t *pieces);

/* Makes an empty tally, freed with girdle_tally_free. */
GIRDLE_API int32_t girdle_tally_new(girdle_call *call, girdle_tally **out);
GIRDLE_API void girdle_tally_free(girdle_tally *tally); /* NULL is fine */

/* Adds a placement, worked `times` (1 or more); lines of the same tag, zone, side and stone become one. On an error
 * the tally is as it was. A tag, zone or side of NULL is an empty one, here and below. */
GIRDLE_API int32_t girdle_tally_add(girdle_call *call, girdle_tally *tally, const char *tag, const char *zone,
                                    const char *side, int64_t times, const girdle_placement *placement);
/* Adds stones set by eye, which count, weigh and cost but are not placed. */
GIRDLE_API int32_t girdle_tally_add_pieces(girdle_call *call, girdle_tally *tally, const char *tag, const char *zone,
                                           const char *side, const girdle_stone *stone, int64_t pieces);
/* Adds every line of another tally. */
GIRDLE_API int32_t girdle_tally_add_all(girdle_call *call, girdle_tally *tally, const girdle_tally *from);

/* Gives the stones of a size, material, cut, outline and length ratio that was weighed (by girdle_stone_weigh) the mass
 * that was weighed, whatever their colour, finish and fix. */
GIRDLE_API void girdle_tally_reweigh(girdle_tally *tally, const girdle_stone *weighed, uint64_t weighed_count);

/* The lines in the order they were added; valid until the tally changes. */
GIRDLE_API const girdle_tally_line *girdle_tally_lines(const girdle_tally *tally, uint64_t *count);

/* A new tally with one line a stone (tag, zone and side empty), largest stones first, then by text. */
GIRDLE_API int32_t girdle_tally_by_stone(girdle_call *call, const girdle_tally *tally, girdle_tally **out);

/* What changes from one tally to another, line by line: two new tallies, of what is to be added and of what is to be
 * taken off, zones and stones told apart by tag, zone, side and stone. A stone in another colour is in both. */
GIRDLE_API int32_t girdle_tally_compare(girdle_call *call, const girdle_tally *before, const girdle_tally *after,
                                        girdle_tally **add, girdle_tally **take_off);

/* Sums over all lines; pieces, masses and covered area as one line with the stone zeroed. */
GIRDLE_API void girdle_tally_total(const girdle_tally *tally, girdle_tally_line *out);

#ifdef __cplusplus
}
#endif
#endif
