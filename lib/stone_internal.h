/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_STONE_INTERNAL_H
#define GIRDLE_STONE_INTERNAL_H

/* What the files of stone share. */

#include "girdle/stone.h"

enum { GIRDLE_FACETS_MOST = 64, GIRDLE_HOUSE_FACETS = 14 };

/* ---- outlines, in half widths: the width is 2, the length 2 x ratio */

/* The usual length ratio of an outline (common practice, no source; changed by the spec). */
double girdle_outline_ratio(int32_t outline);
/* Whether the length ratio of an outline is always 1. */
int girdle_outline_is_even(int32_t outline);
/* How many main facets an outline has when a cut says `facets`: a square and a rectangle have 4, a navette and a heart
 * an even number. */
int32_t girdle_outline_facets(int32_t outline, int32_t facets);
/* The point of the outline at the share s of the way round, 0 at the tip, at +x, or at a rectangle's corner. */
void girdle_outline_point(int32_t outline, double ratio, double s, double point[2]);
/* The widest turned table that does not hang over an edge of the girdle, as a ratio: cos(180 degrees / n) when round.
 */
double girdle_outline_widest_table(int32_t outline, double ratio, int32_t facets);

/* ---- solids */

/* A cut stone as a polyhedron: rings of `facets` vertices one after another, the back first, then (unless the girdle
 * has no height) the top of the girdle, then the table. Every facet is seen from outside counter-clockwise. */
typedef struct girdle_polyhedron {
  int32_t facets, rings, vertex_count, facet_count;
  double vertices[3 * GIRDLE_FACETS_MOST][3];
  girdle_facet sides[3 * GIRDLE_FACETS_MOST + 2];
  int32_t corner[12 * GIRDLE_FACETS_MOST];
  double volume_mm3, centre_mm;
} girdle_polyhedron;

/* The girdle's and the table's corners in half widths, the same for all sizes and heights. */
typedef struct girdle_rings {
  int32_t facets, reserved;
  double girdle[GIRDLE_FACETS_MOST][2], table[GIRDLE_FACETS_MOST][2];
} girdle_rings;

/* The cut has been checked in this outline. */
void girdle_rings_build(const girdle_cut *cut, int32_t outline, double length_ratio, girdle_rings *out);
/* The volume alone of a cut at one of its three ratios (GIRDLE_LEAST ...), in closed form: half-way up the crown lies
 * the Minkowski mean of girdle and table, whose area the two areas and the mixed area give, and Simpson's rule is
 * exact. */
double girdle_rings_volume_mm3(const girdle_rings *rings, const girdle_cut *cut, int32_t which, double diameter_mm);
/* Builds the solid of a cut at one of its three ratios. */
void girdle_polyhedron_build(const girdle_cut *cut, const girdle_rings *rings, int32_t which, double diameter_mm,
                             girdle_polyhedron *out);

/* ---- looking up, the user's own rows first */

/* "14 facets" as well as "14  FACETS": spaces collapsed, letters small. Returns 1 when it fitted, 0 when it was cut. */
int girdle_stone_fold(char *field, uint64_t bytes, const char *text);
/* Whether a name would be folded to this. */
int girdle_stone_named(const char *name, const char *folded);
int32_t girdle_size_find(girdle_call *call, const char *text, const girdle_catalogue *own, girdle_size *out);
/* Reads "10 x 14 mm": the lesser is the width and becomes the size, the other the length, as a ratio to it of four
 * decimals. The size may lie outside the range of sizes. */
int32_t girdle_size_crossed(girdle_call *call, const char *text, girdle_size *out, double *length_ratio);
/* NULL when there is none. The result of girdle_cut_find is written to `room` when the cut is an "n facets". */
const girdle_material *girdle_material_find(const char *name, const girdle_catalogue *own);
const girdle_cut *girdle_cut_find(const char *name, const girdle_catalogue *own, girdle_cut *room);
/* The outline and its ratio have been checked. */
int32_t girdle_cut_check(girdle_call *call, const girdle_cut *cut, int32_t outline, double length_ratio);
int32_t girdle_material_check(girdle_call *call, const girdle_material *material);
/* Whether the table is turned in this outline: a heart's would bridge the notch. */
int girdle_cut_turns(const girdle_cut *cut, int32_t outline);
int32_t girdle_outline_check(girdle_call *call, int32_t outline, double length_ratio);
/* The weighed stone whose mass a stone takes, or NULL. */
const girdle_stone *girdle_weighed_find(const girdle_stone *stone, const girdle_catalogue *own);
/* The names of finishes; *count is how many. */
const char *const *girdle_finish_names(uint64_t *count);

#endif
