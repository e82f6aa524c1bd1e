/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_PLACE_INTERNAL_H
#define GIRDLE_PLACE_INTERNAL_H

/* What the files of place share: a placement in the making, a region as edges, a crowd of discs, randomness. */

#include "girdle/place.h"
#include "shape_internal.h"

#define GIRDLE_PLACES_PER_MM 1e4    /* x and y are whole ten thousandths of a millimetre */
#define GIRDLE_TOLERANCE_MM 2e-4    /* how far a promise may be off after snapping */
#define GIRDLE_FLAT_MM 2e-5         /* how far a chord may lie from its curve */
#define GIRDLE_TOUCH_MM 3e-5        /* what touches is inside, measured from the chords */
#define GIRDLE_NEAR_ENOUGH_MM 1e-9  /* distances on the grid of places that differ by less are equal */
#define GIRDLE_STONES_MOST 20000000 /* of one placement */
#define GIRDLE_DIAMETER_MOST_MM 1000
#define GIRDLE_GAP_MOST_MM 1e6

struct girdle_placement {
  girdle_allocator memory;
  girdle_stone *stones;
  girdle_placed *records;
  uint64_t count, capacity, stone_count, stone_capacity;
  girdle_notes notes;
};

/* ---- place.c: making a placement */

/* The nearest whole ten thousandth, of halves the even one: a sum that only whole numbers survive rounds without a
 * call, alike on every machine. Exact up to 10^11 mm. */
static inline double girdle_place_snapped(double mm) {
  return (mm * GIRDLE_PLACES_PER_MM + 0x1.8p52 - 0x1.8p52) / GIRDLE_PLACES_PER_MM + 0.0;
}
float girdle_place_snapped_turn(double turn_deg);
/* Cosine and sine of an angle from nothing but + - x /, hence alike on every machine; exact at quarter turns. */
void girdle_place_direction(double turn_deg, double *cosine, double *sine);

/* An empty placement with room for `capacity` records. */
int32_t girdle_place_new(girdle_call *call, uint64_t capacity, girdle_placement **out);
/* Adds the stones that are not there yet; index[i], when asked for, is where stone i stands. */
int32_t girdle_place_palette(girdle_call *call, girdle_placement *placement, const girdle_stone *stones, uint64_t count,
                             uint16_t *index);
int32_t girdle_place_reserve(girdle_call *call, girdle_placement *placement, uint64_t capacity);
int32_t girdle_place_too_large(girdle_call *call, double reach_mm); /* the failure of a stone that fits nowhere */
int32_t girdle_place_too_many(girdle_call *call);                   /* the failure of more than GIRDLE_STONES_MOST */
/* Adds a record, snapped; GIRDLE_LIMIT above GIRDLE_STONES_MOST. */
int32_t girdle_place_put(girdle_call *call, girdle_placement *placement, double x_mm, double y_mm, double turn_deg,
                         uint64_t stone, uint64_t row);
/* Hands the finished placement over, or frees it when status is an error. */
int32_t girdle_place_finish(girdle_placement *placement, int32_t status, girdle_placement **out);
/* Drops, in place, the records whose flag is 0; returns how many were dropped. */
uint64_t girdle_place_keep(girdle_placement *placement, const uint8_t *kept);
/* Drops the records that come nearer than gap_mm to another placement; notes how many. */
int32_t girdle_place_clear(girdle_call *call, girdle_placement *placement, const girdle_placement *other,
                           double gap_mm);

void girdle_place_add_notes(girdle_notes *notes, const girdle_notes *more);

/* What is asked again and again with other numbers of stones: `fits` answers 1 when exactly `count` can be had; only
 * multiples of `step` can. */
typedef struct girdle_fitting {
  girdle_call *call; /* reports no errors */
  int32_t (*fits)(girdle_call *call, const void *context, int64_t count, int *answer);
  const void *context;
  double gap_mm; /* for the message */
  int64_t step;
} girdle_fitting;

/* The failure of a count that does not fit. It names the most that do, looked for from the likely number downwards, or,
 * when that is more than were asked for, the next that does. */
int32_t girdle_place_does_not_fit(girdle_call *call, const girdle_fitting *fit, int64_t count, int64_t likely);

/* Checks what every verb's options begin with. */
int32_t girdle_place_check(girdle_call *call, const girdle_stone *stones, uint64_t stone_count, double gap_mm,
                           int64_t count);
double girdle_place_radius(const girdle_stone *stone); /* of the circle around it */
double girdle_place_width(const girdle_stone *stone);  /* across */

/* ---- place_fancy.c: outlines that are not round */

typedef struct girdle_shape {
  double x, y, turn_deg;
  const girdle_stone *stone;
} girdle_shape;

/* Gives the stones that are not round turns at random. */
void girdle_place_turn_by_seed(girdle_placement *placement, uint64_t seed);
girdle_shape girdle_place_shape(const girdle_placement *placement, uint64_t record);
/* Clear fabric between two stones, negative when they overlap. */
double girdle_place_apart(const girdle_shape *a, const girdle_shape *b);

/* ---- place_sort.c */

/* A stretch of a row, or a mark on it. */
typedef struct girdle_span {
  double from, to;
  uint32_t layer;
  int32_t change;
} girdle_span;
void girdle_place_sort(girdle_span *spans, uint64_t count); /* by from, then by change downwards */

/* ---- place_field.c: a region as straight edges near enough to its curves */

typedef struct girdle_corner {
  double x, y;
} girdle_corner;

/* What an edge stands for: so many chords of a piece, from the first on. */
typedef struct girdle_chords {
  const girdle_piece *piece;
  double chords; /* of the whole piece */
  uint32_t first, count;
  uint64_t corner; /* where its corners stand, count + 1 of them */
  int64_t known;
} girdle_chords;

typedef struct girdle_edge {
  double x0, y0, x1, y1;
  double way_x, way_y, per_y; /* its direction, a unit vector; 1 / (y1 - y0), or 0 when it lies level */
  uint32_t layer, band;
} girdle_edge;

typedef struct girdle_field {
  girdle_allocator memory;
  girdle_edge *edges;
  uint64_t count, capacity;
  int32_t *rules, *winding; /* one a layer; winding is scratch */
  uint64_t layers;
  girdle_box box;
  double sag_mm;            /* how far a chord may lie from the edge that stands for it; 0: each edge is a chord */
  girdle_chords *stretches; /* of each edge, when it stands for several chords */
  girdle_corner *corners;   /* scratch: those known so far */
  uint64_t stretch_capacity, corner_count;
  uint32_t *band_first, *band_edges; /* edges by horizontal bands, in each by their left end */
  double *band_right;                /* how far right the edges of a band reach up to there */
  uint64_t bands, band_edge_count;
  double band_mm;
  girdle_span *scratch, *spans; /* of the last row */
  uint64_t scratch_capacity, span_count, span_capacity;
} girdle_field;

int32_t girdle_field_new(girdle_call *call, const girdle_region *region, double flat_mm, girdle_field *out);
/* As girdle_field_new, with edges that stand for several chords: for depths, which come out the same, in a fraction of
 * the time. Its rows are those of the edges, which lie within sag_mm. Looks at the region as long as it lives. */
int32_t girdle_field_for_depths(girdle_call *call, const girdle_region *region, double flat_mm, girdle_field *out);
/* The edges of a path, none farther than flat_mm from its curve, for distances only. */
int32_t girdle_field_of_path(girdle_call *call, const girdle_path *path, double flat_mm, girdle_field *out);
/* Turned about the origin by an angle with this cosine and sine. */
int32_t girdle_field_turned(girdle_call *call, const girdle_field *from, double cosine, double sine, girdle_field *out);
/* Sorts the edges into bands of about `height_mm`; needed before what follows. */
int32_t girdle_field_index(girdle_call *call, girdle_field *field, double height_mm);
void girdle_field_free(girdle_field *field);

/* Distance to the boundary, positive inside, negative outside, at most limit_mm either way. */
double girdle_field_depth(const girdle_field *field, double x, double y, double limit_mm);
/* Whether that is depth_mm at least. */
int girdle_field_holds(const girdle_field *field, double x, double y, double depth_mm);

uint64_t girdle_field_band(const girdle_field *field, double y);
/* Whether an edge passes the row at y, and which way; an end on the row belongs to the side below. */
static inline int girdle_field_crossing(double y0, double y1, double y) {
  return (y0 <= y) - (y1 <= y);
}
/* Whether the windings noted in field->winding lie inside the first layer and inside none of those left out. */
int girdle_field_is_inside(const girdle_field *field);

/* ---- place_row.c: where a row lies inside */

/* Cuts the row at y into spans: change 1: inside, at least radius_mm from every edge; change 0: nearer than that to an
 * edge. What no span covers is outside. They stand in field->spans, from left to right. */
int32_t girdle_field_row(girdle_call *call, girdle_field *field, double y, double radius_mm);

int girdle_field_is_convex(const girdle_field *field);

/* ---- place_lattice.c: a lattice laid as well as it goes */

typedef struct girdle_turned {
  girdle_field field;
  double turn_deg;
} girdle_turned;

typedef struct girdle_lattice {
  girdle_call *call;
  girdle_allocator memory;
  const girdle_field *fine, *coarse;
  double turn_deg;                          /* NaN: the best of several */
  int turns_stones;                         /* stones that are not round lie as the rows do */
  double pitch, row_pitch, odd_shift;       /* centre to centre along a row, row to row, shift of every other row */
  double reach;                             /* of a stone from its centre to the region's edge, the margin included */
  girdle_turned turned_fine, turned_coarse; /* turned so that the rows lie level */
  girdle_span *stays, *marks; /* stretches open to centres (layer: the row), shifts at which the number changes */
  uint64_t stay_count, stay_capacity, mark_capacity;
} girdle_lattice;

typedef struct girdle_laying {
  double turn_deg, first_row, shift;
  int64_t count;
} girdle_laying;

void girdle_lattice_begin(girdle_lattice *lattice, girdle_call *call, const girdle_field *fine,
                          const girdle_field *coarse, double turn_deg);
void girdle_lattice_set(girdle_lattice *lattice, double radius, double gap_mm, double margin_mm, int32_t setting);
/* The laying that holds most, or the first found that holds `enough` (INT64_MAX: the most). */
int32_t girdle_lattice_find(girdle_lattice *lattice, int64_t enough, girdle_laying *best);
int32_t girdle_lattice_lay(girdle_lattice *lattice, const girdle_laying *laid, const uint16_t *index, uint64_t kinds,
                           girdle_placement *placement);
double girdle_lattice_coarse_mm(void); /* how far the coarse copy's chords may lie from their curves */
void girdle_lattice_free(girdle_lattice *lattice);

/* ---- place_rings.c: rows along the edge, one inside the other */

int32_t girdle_rings_lay(girdle_call *call, const girdle_region *within, const girdle_field *field,
                         const girdle_cover_options *options, double gap_mm, girdle_placement *placement);

/* ---- place_crowd.c: discs that are there, and how far a point is from them */

typedef struct girdle_disc {
  double x, y, radius;
  const girdle_stone *stone; /* NULL: a plain disc */
  float turn_deg;
  uint32_t next;
} girdle_disc;

typedef struct girdle_crowd {
  girdle_allocator memory;
  double left, top, cell_mm, most_radius;
  uint64_t columns, rows;
  uint32_t *head; /* 1 + the last disc added to a cell */
  girdle_disc *discs;
  uint64_t count, capacity;
} girdle_crowd;

/* A crowd for discs about cell_mm across in a box (discs outside it are held, but found more slowly). */
int32_t girdle_crowd_new(girdle_call *call, const girdle_box *box, double cell_mm, uint64_t expected,
                         girdle_crowd *out);
int32_t girdle_crowd_of(girdle_call *call, const girdle_placement *placement, girdle_crowd *out);
int32_t girdle_crowd_add(girdle_call *call, girdle_crowd *crowd, double x, double y, double radius);
int32_t girdle_crowd_add_stone(girdle_call *call, girdle_crowd *crowd, const girdle_shape *shape);
void girdle_crowd_free(girdle_crowd *crowd);

/* A walk over the discs that lie in the cells within reach of a place; each step gives 1 + a disc, at the end 0. */
typedef struct girdle_cells {
  uint64_t left, right, bottom, column, row;
  uint32_t link;
} girdle_cells;
girdle_cells girdle_crowd_cells(const girdle_crowd *crowd, double x, double y, double reach);
uint32_t girdle_crowd_next(const girdle_crowd *crowd, girdle_cells *cells);

void girdle_box_take(girdle_box *box, double x, double y); /* grows the box to hold a point */

/* Clear fabric from the true outline of a stone to those of the others, at most limit_mm; those numbered in `pardoned`
 * do not count. */
double girdle_crowd_apart(const girdle_crowd *crowd, const girdle_shape *shape, double limit_mm,
                          const uint64_t *pardoned, int pardoned_count);
/* Whether a stone keeps the gap from the true outlines of the others; those numbered in `pardoned` it must only not
 * overlap. */
int girdle_crowd_has_room(const girdle_crowd *crowd, const girdle_shape *shape, double gap_mm, const uint64_t *pardoned,
                          int pardoned_count);
/* Clear fabric from a point to the nearest edge of a disc (negative inside one), at most limit_mm. */
double girdle_crowd_clearance(const girdle_crowd *crowd, double x, double y, double limit_mm);

/* ---- randomness */

static inline uint64_t girdle_random_bits(uint64_t z) {
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

/* The splitmix64 generator (Steele, Lea and Flood, 2014): one addition and a mixing of bits a number. */
static inline uint64_t girdle_random_next(uint64_t *state) {
  return girdle_random_bits(*state += 0x9e3779b97f4a7c15u);
}

/* In [0, 1). */
static inline double girdle_random_unit(uint64_t *state) {
  return (double)(int64_t)(girdle_random_next(state) >> 11) * 0x1p-53;
}

static inline uint64_t girdle_random_below(uint64_t *state, uint64_t limit) {
  return (uint64_t)(int64_t)(girdle_random_unit(state) * (double)limit);
}

/* A state from two numbers. */
static inline uint64_t girdle_random_mixed(uint64_t a, uint64_t b) {
  return girdle_random_bits(girdle_random_bits(a + 0x9e3779b97f4a7c15u) + b);
}

/* ---- place_walk.c: a subpath to walk along in straight steps */

#define GIRDLE_WALK_FLAT_MM 0.01

typedef struct girdle_track {
  girdle_allocator memory;
  const girdle_piece *pieces;
  struct girdle_vertex *points; /* a closed subpath twice round */
  uint64_t count, capacity;
} girdle_track;

/* A place on the track: between vertex `at` and the next, at the curve's parameter t. */
typedef struct girdle_foot {
  double x, y, t;
  uint64_t at;
} girdle_foot;

/* The marks, distances along the whole path in order, become vertices. */
int32_t girdle_track_new(girdle_call *call, const girdle_path *path, const girdle_subpath *part, const double *marks,
                         uint64_t mark_count, girdle_track *out);
void girdle_track_free(girdle_track *track);
uint64_t girdle_track_vertex(const girdle_track *track, double along_mm); /* the first at or after a distance */
girdle_foot girdle_track_foot(const girdle_track *track, uint64_t vertex);
double girdle_track_along(const girdle_track *track, const girdle_foot *foot);
void girdle_track_direction(const girdle_track *track, const girdle_foot *foot, double out[2]);
/* Moves to the first place after the foot that is a straight `step` away; 0, the foot unmoved, when the track ends
 * (at vertex `last`) before. */
int girdle_track_step(const girdle_track *track, uint64_t last, double step, girdle_foot *foot);

/* ---- place_leg.c: legs, and how many stones each bears */

/* How a leg ends: with a stone's centre on its end, with the edge of a stone there, or half a pitch away. */
enum { GIRDLE_END_CENTRE, GIRDLE_END_INSIDE, GIRDLE_END_HALF };

typedef struct girdle_leg {
  uint64_t first, last; /* vertices of the track */
  int32_t start, end;   /* GIRDLE_END_* */
  int32_t joined;       /* its first stone is the last of the leg before */
  int32_t closes;       /* its last stone is the first of the whole sequence */
  uint64_t begins,
      stones;    /* chosen: which stone of the sequence (running on) is the first, how many, both ends counted */
  double gap_mm; /* chosen */
  int32_t uneven, reserved;
  double leftover_mm;
} girdle_leg;

/* A sequence to lay along legs. */
typedef struct girdle_sequence {
  const girdle_stone *stones;
  uint64_t count;
  double gap_mm, turn_deg; /* turn_deg: NaN along the path */
  int whole, at_least;
  int fancy; /* not all stones are round */
} girdle_sequence;

typedef struct girdle_legs {
  girdle_track track;
  girdle_leg *items;
  uint64_t count, capacity;
  int32_t anchored, reserved; /* a closed subpath begins at a corner */
} girdle_legs;

/* One stone while walking: its place, direction along the path and number in the sequence, running on. */
typedef struct girdle_step {
  girdle_foot foot;
  uint64_t number;
} girdle_step;

/* Walks a leg of `stones` stones from number `begins` with one gap; steps, if not NULL, receives them. Returns how far
 * the walk went past the leg's end, negative when it ended before. */
double girdle_leg_walk(const girdle_legs *legs, const girdle_leg *leg, const girdle_sequence *sequence, uint64_t begins,
                       uint64_t stones, double gap_mm, girdle_step *steps);
double girdle_leg_turn(const girdle_track *track, const girdle_foot *foot, double turn_deg); /* NaN: along the path */
/* What a walk over so many stones counts in steps: each that is not round is walked to again and again. */
static inline uint64_t girdle_walk_steps(const girdle_sequence *sequence, uint64_t stones) {
  return stones * (sequence->fancy ? 16 : 1);
}
/* The one gap with which so many stones close the leg; NaN when none of 0 or more does. `steps` receives what that
 * took, in stones walked to. */
double girdle_leg_gap(const girdle_legs *legs, const girdle_leg *leg, const girdle_sequence *sequence, uint64_t begins,
                      uint64_t stones, uint64_t *steps);
/* How many stones stand on the leg with the wished gap before it is full; GIRDLE_LIMIT for more than a placement holds.
 */
int32_t girdle_leg_room(girdle_call *call, const girdle_legs *legs, const girdle_leg *leg,
                        const girdle_sequence *sequence, uint64_t begins, double gap_mm, uint64_t *stones);

/* ---- place_even.c: legs that bend alike all along */

/* The radius of the circle a leg lies on, INFINITY for a straight one; 0 when it bends otherwise. */
double girdle_even_radius(const girdle_legs *legs, const girdle_leg *leg);
/* As girdle_leg_walk without its steps, for round stones: above 0 when it goes past the leg's end. */
double girdle_even_miss(const girdle_legs *legs, const girdle_leg *leg, const girdle_sequence *sequence,
                        uint64_t begins, uint64_t stones, double gap_mm, double radius);
/* As girdle_leg_room. */
uint64_t girdle_even_room(const girdle_legs *legs, const girdle_leg *leg, const girdle_sequence *sequence,
                          uint64_t begins, double gap_mm, double radius);

/* Flags of a run's options beyond the public ones. */
enum { GIRDLE_AT_LEAST = 1 << 20 /* no gap below the wish */ };

/* ---- place_choose.c */

/* Chooses the legs' numbers together; count 0 takes the sequence's gap as the wish. GIRDLE_GEOMETRY when exactly
 * `count` or whole sequences cannot be had. */
int32_t girdle_legs_choose(girdle_call *call, girdle_legs *legs, const girdle_sequence *sequence, int64_t count);

/* ---- place_sow.c: stones at random places until no more fit */

/* Stones of one size: a grid of cells so small that each holds at most one centre. */
enum { GIRDLE_CELLS_AROUND = 25 };

typedef struct girdle_bed {
  double radius, spacing_mm; /* least distance between centres of its own */
  double cell_mm, per_mm;    /* the side of a cell, which holds one of its own at most; cells a millimetre */
  uint64_t columns, rows, first_record;
  uint32_t *cells; /* 1 + a record, 0 for none, the largest number when covered by earlier beds; a rim of none about */
  int64_t around[GIRDLE_CELLS_AROUND]; /* from a cell to it and those near it, in memory */
} girdle_bed;

typedef struct girdle_sowing {
  girdle_call *call;
  girdle_field *field;
  girdle_placement *placement;
  const girdle_crowd *around; /* or NULL */
  double gap_mm, margin_mm;
  uint64_t seed;
  girdle_bed *beds; /* sown one after another; the stones of earlier ones stay clear by the gap */
  uint64_t bed_count, bed_capacity;
  double undecided_mm2; /* of the last bed: where a stone might still find place */
} girdle_sowing;

/* Sows stones of one size, at least spacing_mm (and at least the gap) apart, until no more fit; quickly: until about
 * four in five of them are there; amply: some more, above all where room is scarce; densely: beside each other,
 * three in ten more than fit otherwise. Their stone is 0. */
enum { GIRDLE_SOW_QUICKLY = 1, GIRDLE_SOW_AMPLY, GIRDLE_SOW_ALL, GIRDLE_SOW_DENSELY };
int32_t girdle_sow(girdle_sowing *sowing, double radius, double spacing_mm, int how);
/* Thins the last bed to `keep` evenly spread stones; area_mm2 is what they spread over. */
int32_t girdle_sow_thin(girdle_sowing *sowing, uint64_t bed, uint64_t keep, double area_mm2);
/* Forgets the last bed and its stones. */
void girdle_sow_undo(girdle_sowing *sowing);
/* The area in which the middle of one more stone of this radius could lie, to within a few parts in a hundred.
 * Nothing is sown or thinned after that. */
int32_t girdle_sow_open(girdle_sowing *sowing, double radius, double *area_mm2);
void girdle_sow_free(girdle_sowing *sowing);

/* ---- place_thin.c */

/* Chooses `keep` of the records evenly: kept[i] is 1 for those. area_mm2 is what they spread over. */
int32_t girdle_thin(girdle_call *call, const girdle_placed *records, uint64_t count, uint64_t keep, double area_mm2,
                    uint8_t *kept);
/* ---- place_share.c */

/* Gives each of `count` records one of `kinds` stones, counts[k] times stone numbers[k], each evenly spread. */
int32_t girdle_share(girdle_call *call, girdle_placed *records, uint64_t count, const uint64_t *counts,
                     const uint16_t *numbers, uint64_t kinds, double area_mm2);
/* Shares n out by weights: to the last one, the largest remainders first (Hamilton's method). */
void girdle_apportion(const double *weights, uint64_t kinds, uint64_t n, uint64_t *counts);

/* ---- place_bound.c */

/* No more than so many centres `pitch` apart, each at least `reach` inside a region of this area and perimeter. */
int64_t girdle_bound_most(double area_mm2, double perimeter_mm, double pitch_mm, double reach_mm, int convex);
int64_t girdle_bound_least(double area_mm2, double perimeter_mm, int64_t holes, double pitch_mm, double reach_mm,
                           int32_t setting);

#endif
