/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_MAP_INTERNAL_H
#define GIRDLE_MAP_INTERNAL_H

/* What every drawn paper shares: the kinds of stone of a job with their inks and patterns (map_kinds.c, map_ink.c), and
 * where its zones lie beside each other (map_layout.c). */

#include "paper_internal.h"

/* ---- inks: a stone's colour, the mark that tells it apart in black and white, and its edge */

typedef struct girdle_ink {
  uint8_t fill[3], mark[3], edge[3];
} girdle_ink;

/* The ink of a colour's name: its last known word ("sea blue": blue), lighter or darker as its other words say. A name
 * without a known word has a colour of its own, always the same. */
void girdle_ink_of(const char *colour, girdle_ink *out);

/* A pattern is bands of fill and mark across the stone (straight ones, the way across turned by an angle) or around its
 * middle (round ones). Stops are shares of the way from one side to the other, or from the rim to the middle; the
 * colour changes at each, and the fill comes first. */
typedef struct girdle_pattern {
  int32_t round, angle_deg, stop_count;
  double stops[4];
} girdle_pattern;
enum { GIRDLE_PATTERNS = 12 };
const girdle_pattern *girdle_pattern_of(uint64_t kind);

/* ---- kinds */

typedef struct girdle_kind {
  girdle_stone stone;
  girdle_ink ink;
  int64_t count; /* with what is worked several times and what is set by eye */
  char name[GIRDLE_STONE_TEXT];
} girdle_kind;

typedef struct girdle_kinds {
  girdle_allocator memory;
  girdle_kind *kinds; /* largest first */
  uint64_t count, capacity;
} girdle_kinds;

/* Of a tally, or of one job; on an error there is nothing to free, though freeing does no harm. */
int32_t girdle_kinds_of(girdle_call *call, const girdle_tally *tally, girdle_kinds *out);
int32_t girdle_kinds_make(girdle_call *call, const girdle_job *job, girdle_kinds *out);
void girdle_kinds_free(girdle_kinds *kinds);
/* The kind of a stone, by its number; `count` when it has none. */
uint64_t girdle_kinds_find(const girdle_kinds *kinds, const girdle_stone *stone);

/* ---- the layout: zones side by side without overlap */

typedef struct girdle_slot {
  const girdle_zone *zone;
  char name[GIRDLE_ZONE_TEXT];
  char caption[2][120];   /* under the name: how many, how large; what is to be known */
  girdle_box box;         /* of its stones, in the zone's own place */
  double wide_mm;         /* with its words; asked for at each place that is tried */
  double left_mm, top_mm; /* where the box's corner lies in the layout, or in its block */
  uint64_t block;         /* of a layout over pages */
  int64_t count;          /* stones drawn */
} girdle_slot;

typedef struct girdle_layout {
  girdle_allocator memory;
  girdle_slot *slots;
  uint64_t count, capacity;
  double width_mm, height_mm;
} girdle_layout;

/* Lays the zones of a job out in rows, `wide_mm` wide or as wide as makes it a little wider than high. */
int32_t girdle_layout_make(girdle_call *call, const girdle_job *job, const girdle_phrased *phrases, double wide_mm,
                           girdle_layout *out);
void girdle_layout_free(girdle_layout *layout);
/* The slots of a job without a place yet, and the room one needs with its words. */
int32_t girdle_layout_measure(girdle_call *call, const girdle_job *job, const girdle_phrased *phrases,
                              girdle_layout *out);
double girdle_slot_high_mm(const girdle_slot *slot);
/* Places the slot `index` among the slots `first` to `index` - 1, as high as it can go, in a width. */
void girdle_layout_place(girdle_layout *layout, uint64_t first, uint64_t index, double wide_mm);

/* The same over pages whose `wide_mm` x `high_mm` can be printed on. A block is what hangs together: one page with
 * whole zones, or several pages that overlap with zones larger than a page. Zones without a stone to draw are left out.
 */
typedef struct girdle_block {
  int32_t columns, rows, first_page, reserved; /* pages count from 0 */
} girdle_block;

typedef struct girdle_pages {
  girdle_layout layout; /* slots lie in their block */
  girdle_block *blocks;
  uint64_t count, capacity;
  double wide_mm, high_mm, overlap_mm;
  int32_t pages;
} girdle_pages;
int32_t girdle_pages_make(girdle_call *call, const girdle_job *job, const girdle_phrased *phrases, double wide_mm,
                          double high_mm, double overlap_mm, girdle_pages *out);
void girdle_pages_free(girdle_pages *pages);
/* Where a page's window begins in its block. */
void girdle_pages_window(const girdle_pages *pages, int32_t column, int32_t row, double *x, double *y);

/* "3 stones, 4.7 mm across" for the key: pieces, gross and odd, and the diameter. */
void girdle_kind_words(const girdle_phrased *phrases, const girdle_kind *kind, char *text, uint64_t bytes);
/* "F-07 · size 140 · needed by 2031-03-14". */
void girdle_head_words(const girdle_phrased *phrases, const girdle_job *job, char *text, uint64_t bytes);

/* A zone's records in order of their stones: `order` holds their numbers, `starts` where each stone's begin and, last,
 * where they end. */
typedef struct girdle_sorted {
  girdle_allocator memory;
  const girdle_placed *records;
  const girdle_stone *stones;
  uint64_t count, stone_count;
  uint32_t *order;
  uint64_t *starts;
} girdle_sorted;
int32_t girdle_sorted_make(girdle_call *call, const girdle_placement *placement, girdle_sorted *out);
void girdle_sorted_free(girdle_sorted *sorted);

/* How the costume lies on a map, in words: "as it lies while it is glued, stretched 10 % across". */
void girdle_state_words(const girdle_phrased *phrases, const girdle_job *job, char *text, uint64_t bytes);

/* ---- SVG parts that the map and the sheets share */

void girdle_svg_write_color(girdle_writer *out, const uint8_t rgb[3]);
/* The gradients "kind0", "kind1" ... and, for fancy stones, the outlines "cut0" ..., without <defs> round them. */
void girdle_svg_write_kinds(girdle_writer *out, const girdle_kinds *kinds);
/* Opens the group of a kind, with its fill, edge and title. */
void girdle_svg_begin_kind(girdle_writer *out, const girdle_kind *kind, uint64_t number);
/* The outline of a fancy stone as path data about its point, turn 0. */
void girdle_svg_write_outline(girdle_writer *out, const girdle_stone *stone);
/* One stone at its place. The class is left away when it is NULL. */
void girdle_svg_write_stone(girdle_writer *out, const girdle_stone *stone, uint64_t kind, const char *class_name,
                            double x_mm, double y_mm, double turn_deg);
/* All stones of a zone, one group a kind with its title, in the zone's own coordinates; or mirrored within its box. */
int32_t girdle_svg_write_zone(girdle_writer *out, const girdle_slot *slot, const girdle_kinds *kinds, int mirrored);
/* Where a stone of a zone lies, mirrored or not. */
girdle_placed girdle_slot_place(const girdle_slot *slot, const girdle_placed *record, int mirrored);

#endif
