/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_PLACE_H
#define GIRDLE_PLACE_H

/* place: wishes turned into stones at places. A placement is immutable and owns its stones and records; counts are
 * never stored beside it. Gap is edge to edge, measured straight across; a promise of gap, margin or no overlap holds
 * within 2e-4 mm. NULL as base.h says; the options of a verb hold its stones and must be given. */

#include "girdle/shape.h"
#include "girdle/stone.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One stone at its place: x, y whole 1e-4 mm; turn whole 0.01 degrees, 0 <= turn < 360. Frozen for ABI 1: 24 bytes. */
typedef struct girdle_placed {
  double x_mm, y_mm;
  float turn_deg;
  uint16_t stone, row; /* index into this placement's stones; row from 0, renumbered by join */
} girdle_placed;

typedef struct girdle_placement girdle_placement;

/* What a verb did and could not do. Numbers that do not apply are 0 (counts) or NaN (measures). */
enum {
  GIRDLE_NOTE_UNEVEN = 1,   /* a leg that no gap closes keeps the wished gap */
  GIRDLE_NOTE_LEFT_OUT = 2, /* stones were left out; see left_out */
  GIRDLE_NOTE_MAXIMAL = 4,  /* no further stone of this size fits, but for undecided_mm2 */
  GIRDLE_NOTE_SURPLUS = 8   /* more would have fitted than were asked for */
};
typedef struct girdle_notes {
  uint32_t struct_bytes, flags;
  int64_t left_out, bound_least, bound_most;
  double gap_mm, leftover_mm, undecided_mm2; /* gap_mm: the narrowest gap made */
  uint64_t seed;
} girdle_notes;

/* Flags of the options. */
enum {
  GIRDLE_WHOLE = 1,       /* run: only whole sequences */
  GIRDLE_ENDS_INSIDE = 2, /* run, band: end stones lie inside the ends, not centred on them */
  GIRDLE_STAGGER = 4,     /* band: odd rows are shifted by half a pitch */
  GIRDLE_FILL_UP = 8,     /* scatter: maximal in mixed sizes, giving up the shares */
  GIRDLE_COLLIDE = 16,    /* motif: copies may overlap each other */
  GIRDLE_DENSE = 32       /* scatter of one size without a count: stones beside each other, three in ten more */
};
enum { GIRDLE_SIDE_LEFT, GIRDLE_SIDE_RIGHT, GIRDLE_SIDE_BOTH };
enum { GIRDLE_HONEYCOMB, GIRDLE_SQUARE_ROWS, GIRDLE_EDGE_ROWS };

/* A stretch of a path without stones (a closure, a strap). Along a single ring it may run across the start: from_mm is
 * then more than to_mm. */
typedef struct girdle_stretch {
  double from_mm, to_mm;
} girdle_stretch;

/* Every verb's options begin alike. The stones are a repeating sequence of 1 to 65535. gap_mm is at least 0. A count of
 * 0 places by gap; a positive one asks for exactly that many and takes the gap as the least allowed.
 * Stones that would come nearer than the gap to a stone of clear_of (may be NULL) are left out and noted; none of them
 * counts towards a count. */
typedef struct girdle_run_options {
  uint32_t struct_bytes, flags;
  const girdle_stone *stones;
  uint64_t stone_count;
  double gap_mm;
  int64_t count;
  const girdle_placement *clear_of;
  double corner_deg; /* 30: a corner that turns more bears a stone */
  double turn_deg;   /* NaN: fancy stones turn along the path; else fixed */
  const girdle_stretch *leave;
  uint64_t leave_count;
} girdle_run_options;

/* Rows side by side along a path, each with its own sequence. stones holds the rows' sequences one after another. */
typedef struct girdle_band_options {
  uint32_t struct_bytes, flags;
  const girdle_stone *stones;
  uint64_t stone_count;
  double gap_mm;
  int64_t count;
  const girdle_placement *clear_of;
  double corner_deg, turn_deg;
  const girdle_stretch *leave;
  uint64_t leave_count;
  const uint64_t *row_counts; /* how many stones each row's sequence has; they add up to stone_count */
  uint64_t rows;              /* 1 to 1000 */
  double row_gap_mm;          /* NaN: as gap_mm */
  int32_t side, reserved;     /* GIRDLE_SIDE_*: where the rows after the first lie */
} girdle_band_options;

typedef struct girdle_cover_options {
  uint32_t struct_bytes, flags;
  const girdle_stone *stones; /* one diameter; several alternate along the row */
  uint64_t stone_count;
  double gap_mm;
  int64_t count;
  const girdle_placement *clear_of;
  double margin_mm; /* 0: clear fabric between a stone's edge and the region's */
  double turn_deg;  /* NaN: the best of at least 12 */
  int32_t setting, reserved;
} girdle_cover_options;

typedef struct girdle_scatter_options {
  uint32_t struct_bytes, flags;
  const girdle_stone *stones;
  uint64_t stone_count;
  double gap_mm;
  int64_t count;
  const girdle_placement *clear_of;
  double margin_mm;
  const double *weights;          /* one a stone, 0 or more, not all 0; NULL: all alike */
  const girdle_placement *around; /* what is already there keeps its place and is not part of the result */
  uint64_t seed;
} girdle_scatter_options;

/* Large or dense at an edge, small or sparse away from it: stones from the largest to the smallest. At the share u of
 * the depth a square millimetre (of those where its middle may lie) wants 0.45 w / (diameter + gap)^2 of each stone:
 * with several, w goes over from each stone to the next in equal steps and adds up to 1; with one, w is 1 - u. */
typedef struct girdle_grade_options {
  uint32_t struct_bytes, flags;
  const girdle_stone *stones;
  uint64_t stone_count;
  double gap_mm;
  int64_t count; /* must be 0 */
  const girdle_placement *clear_of;
  double margin_mm;
  double depth_mm; /* how far the grading reaches from the edge */
  const girdle_path *edge;
  uint64_t seed;
} girdle_grade_options;

/* Colour or size shifting across an area, from one point to another: the stones in the order of the ramp, 2 or more.
 * The mix at a place goes over from each stone to the next in equal steps; before `from` and beyond `to` it stays. */
typedef struct girdle_fade_options {
  uint32_t struct_bytes, flags;
  const girdle_stone *stones;
  uint64_t stone_count;
  double gap_mm;
  int64_t count; /* 0: as many as the gap allows */
  const girdle_placement *clear_of;
  double margin_mm;
  double from_x_mm, from_y_mm, to_x_mm, to_y_mm;
  uint64_t seed;
} girdle_fade_options;

/* Smaller stones in the gaps of what is there; each gap takes the largest of the stones that it holds. */
typedef struct girdle_between_options {
  uint32_t struct_bytes, flags;
  const girdle_stone *stones;
  uint64_t stone_count;
  double gap_mm;
  int64_t count; /* 0: all that fit; else at most so many, the widest gaps first */
  const girdle_placement *clear_of;
  double margin_mm;
  const girdle_placement *around; /* must not be NULL; not part of the result */
} girdle_between_options;

/* Where a copy of a motif goes: the middle of its box, its turn clockwise, and how much its distances grow (0.1 to 100;
 * stones keep their size). */
typedef struct girdle_motif_place {
  double x_mm, y_mm, turn_deg, scale;
} girdle_motif_place;

/* A placed group repeated along a path (`along`, upright across it, closed evenly) or at given places (`at`): exactly
 * one of the two. Unless GIRDLE_COLLIDE is set, a copy that would overlap an earlier one (`at`: come nearer than the
 * gap) is left out whole and its stones are noted. */
typedef struct girdle_motif_options {
  uint32_t struct_bytes, flags;
  const girdle_path *along;
  const girdle_motif_place *at;
  uint64_t at_count;
  double gap_mm; /* between copies, edge to edge along the path */
  int64_t count; /* copies along the path; 0 places by gap */
  const girdle_placement *clear_of;
} girdle_motif_options;

/* Fills in the defaults of girdle_run, those that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_run_options_init(girdle_run_options *options, uint32_t struct_bytes);
/* Fills in the defaults of girdle_band, those that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_band_options_init(girdle_band_options *options, uint32_t struct_bytes);
/* Fills in the defaults of girdle_cover, those that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_cover_options_init(girdle_cover_options *options, uint32_t struct_bytes);
/* Fills in the defaults of girdle_scatter, those that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_scatter_options_init(girdle_scatter_options *options, uint32_t struct_bytes);
/* Fills in the defaults of girdle_grade, those that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_grade_options_init(girdle_grade_options *options, uint32_t struct_bytes);
/* Fills in the defaults of girdle_fade, those that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_fade_options_init(girdle_fade_options *options, uint32_t struct_bytes);
/* Fills in the defaults of girdle_between, those that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_between_options_init(girdle_between_options *options, uint32_t struct_bytes);
/* Fills in the defaults of girdle_motif, those that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_motif_options_init(girdle_motif_options *options, uint32_t struct_bytes);

/* A repeating sequence along a path. A leg lies between anchors (the ends, and each corner of more than corner_deg,
 * which bears a stone); each leg has one gap, and the legs' counts are chosen together for the least worst difference
 * from the wished gap, then the least sum of squares, then fewer stones. With a count the wish is what one gap for all
 * legs would be, and no leg's is below gap_mm; stones that would be left out make it not fit. What does not fit is
 * GIRDLE_GEOMETRY and names the most that do, or the next number that does. With GIRDLE_WHOLE a count must be whole
 * sequences. */
GIRDLE_API int32_t girdle_run(girdle_call *call, const girdle_path *along, const girdle_run_options *options,
                              girdle_placement **out);
/* Rows side by side along a path. They lie on the true parallels of the path; inner rows lose stones rather than
 * overlap. A stretch to be left is left by every row, square across the path. A count is shared out over the rows by
 * what they hold at the wished gap, and does not fit as that of a run does not. */
GIRDLE_API int32_t girdle_band(girdle_call *call, const girdle_path *along, const girdle_band_options *options,
                               girdle_placement **out);
/* Closed cover; every stone wholly inside by its margin; never above the proved bound. Honeycomb and square rows are
 * tried at 12 turns (unless one is given) and 16 row phases each, with the best shift along the rows; edge rows lie one
 * inside the other along the rim. A count takes the widest gap found that holds so many; if too many are asked for, the
 * error (GIRDLE_GEOMETRY) names the most found. Stones that are not round count by the circle about them. */
GIRDLE_API int32_t girdle_cover(girdle_call *call, const girdle_region *within, const girdle_cover_options *options,
                                girdle_placement **out);
/* Even irregular spread, clear of `around` and `clear_of`. One size: maximal. Mixed sizes: shares within one stone, the
 * area still open to the smallest in the notes. One size set densely: maximal too, stones beside each other, three in
 * ten more of them. A count is exact, or the error (GIRDLE_GEOMETRY) names the most found; of one size no two centres
 * are then nearer than 0.6 of the honeycomb's distance for so many. Stones that are not round count by the circle about
 * them and turn by the seed. */
GIRDLE_API int32_t girdle_scatter(girdle_call *call, const girdle_region *within, const girdle_scatter_options *options,
                                  girdle_placement **out);
/* Large or dense at an edge, small or sparse away from it. A band at least two pitches deep that wants n stones gets n
 * within 2 + sqrt(n)/2. */
GIRDLE_API int32_t girdle_grade(girdle_call *call, const girdle_region *within, const girdle_grade_options *options,
                                girdle_placement **out);
/* In any stretch of the ramp each stone's number is within 2 of the ramp's. Places are scattered as for the widest of
 * the stones. */
GIRDLE_API int32_t girdle_fade(girdle_call *call, const girdle_region *within, const girdle_fade_options *options,
                               girdle_placement **out);
/* Smaller stones in the gaps of what is there (`around`), which is not part of the result. The gap holds for every
 * pair. */
GIRDLE_API int32_t girdle_between(girdle_call *call, const girdle_region *within, const girdle_between_options *options,
                                  girdle_placement **out);
/* A placed group repeated along a path or at places. Stones keep their size; copies do not overlap unless
 * GIRDLE_COLLIDE is set. */
GIRDLE_API int32_t girdle_motif(girdle_call *call, const girdle_placement *group, const girdle_motif_options *options,
                                girdle_placement **out);

/* Makes a placement from stones and records (snapped to the grid of girdle_placed; both are copied). */
GIRDLE_API int32_t girdle_placement_new(girdle_call *call, const girdle_stone *stones, uint32_t stone_count,
                                        const girdle_placed *records, uint64_t record_count, girdle_placement **out);
/* The same stones and records, with memory from this call. */
GIRDLE_API int32_t girdle_placement_copy(girdle_call *call, const girdle_placement *from, girdle_placement **out);
/* Returns the number of records and points the non-NULL results at what the placement owns. */
GIRDLE_API int64_t girdle_placement_view(const girdle_placement *placement, const girdle_placed **records,
                                         const girdle_stone **stones, uint32_t *stone_count);
/* How many of its records are of a stone, as girdle_stone_equal has it. */
GIRDLE_API int64_t girdle_placement_pieces(const girdle_placement *placement, const girdle_stone *stone);
/* What the verb noted that made it. notes begins with its own size, set by the caller. */
GIRDLE_API int32_t girdle_placement_notes(girdle_call *call, const girdle_placement *placement, girdle_notes *notes);
GIRDLE_API void girdle_placement_free(girdle_placement *placement); /* NULL is fine */

/* Both one after the other; rows of the second follow those of the first; equal stones become one. Notes add up. */
GIRDLE_API int32_t girdle_placement_joined(girdle_call *call, const girdle_placement *first,
                                           const girdle_placement *second, girdle_placement **out);
/* Mirrored about the upright line x = x_mm; twice is the identity. */
GIRDLE_API int32_t girdle_placement_mirrored(girdle_call *call, const girdle_placement *from, double x_mm,
                                             girdle_placement **out);
/* Both halves about the line x = x_mm; a stone within snap_mm moves onto it and stands once. */
GIRDLE_API int32_t girdle_placement_folded(girdle_call *call, const girdle_placement *from, double x_mm, double snap_mm,
                                           girdle_placement **out);
/* Moved to the right and down. */
GIRDLE_API int32_t girdle_placement_moved(girdle_call *call, const girdle_placement *from, double dx_mm, double dy_mm,
                                          girdle_placement **out);
/* Turned clockwise about the origin. */
GIRDLE_API int32_t girdle_placement_turned(girdle_call *call, const girdle_placement *from, double turn_deg,
                                           girdle_placement **out);
/* Without the stones that reach into a region; one that only touches it stays. */
GIRDLE_API int32_t girdle_placement_without(girdle_call *call, const girdle_placement *from,
                                            const girdle_region *left_out, girdle_placement **out);
/* Without the stones nearer than gap_mm to another placement's; the other wins. */
GIRDLE_API int32_t girdle_placement_clear_of(girdle_call *call, const girdle_placement *from,
                                             const girdle_placement *other, double gap_mm, girdle_placement **out);

/* Two stones of one placement that overlap by more than 2e-4 mm. */
typedef struct girdle_overlap {
  uint64_t first, second; /* records, first < second */
  double depth_mm;
} girdle_overlap;
/* Counts all overlapping pairs and writes up to `capacity` of them, in order of first and second. */
GIRDLE_API int32_t girdle_placement_overlaps(girdle_call *call, const girdle_placement *placement,
                                             girdle_overlap *pairs, uint64_t capacity, uint64_t *count);

/* Quick counts without a shape: what to expect, and proved bounds. */
typedef struct girdle_count {
  int64_t expected, least, most;
  double gap_mm; /* the gap the expected count closes with; NaN over an area */
} girdle_count;
/* Along a line (closed 0) or a loop (closed 1) of a length, counted as girdle_run counts: `least` stones leave no gap
 * below the wish, `most` none above it. */
GIRDLE_API int32_t girdle_count_along(girdle_call *call, double length_mm, int32_t closed, const girdle_stone *stones,
                                      uint64_t stone_count, double gap_mm, girdle_count *out);
enum { GIRDLE_CONVEX = -1 }; /* instead of a number of holes: none, and the area is convex */
/* Over an area with its perimeter and number of holes. Upper bound: a cell argument, which holds for any area, and for
 * a convex one also that of Groemer (1960) and Oler (1961); lower: a lattice holds at least so many, or 0. */
GIRDLE_API int32_t girdle_count_over(girdle_call *call, double area_mm2, double perimeter_mm, int64_t holes,
                                     const girdle_stone *stone, double gap_mm, int32_t setting, girdle_count *out);

#ifdef __cplusplus
}
#endif
#endif
