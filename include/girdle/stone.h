/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_STONE_H
#define GIRDLE_STONE_H

/* stone: sizes, cuts, materials and masses. Stones are plain values. NULL as base.h says. */

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
  GIRDLE_ROUND,
  GIRDLE_OVAL,
  GIRDLE_PEAR,
  GIRDLE_NAVETTE,
  GIRDLE_SQUARE,
  GIRDLE_RECTANGLE,
  GIRDLE_HEART,
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
  uint32_t facets; /* the cut's main facets; 0: as the house cut */
  uint32_t flags;  /* GIRDLE_MASS_* */
  uint32_t lead;   /* GIRDLE_LEAD_* of its material */
  uint32_t reserved;
} girdle_stone;

/* Where a stone's mass comes from. Neither: from the model, as a range of what is usual. */
enum {
  GIRDLE_MASS_WEIGHED = 1, /* from weighing */
  GIRDLE_MASS_AT_LEAST = 2 /* from the least density the law demands: a lower bound, to be printed as "at least" */
};

/* A cut as a solid: a flat back, an upright girdle and a crown of `facets` main facets up to a flat table. The ratios
 * are of the diameter, least, nominal and most, none below the one before; the girdle's height is part of the stone's.
 * A turned table has its corners over the middles of the girdle's edges, which makes the crown of triangles; it may not
 * hang over the girdle (round: its ratio is at most the cosine of half a facet, 0.92 at 8 facets, 0.97 at 14). */
typedef struct girdle_cut {
  char name[24];
  int32_t facets, turned; /* 3 to 64; 1: the table is turned by half a facet */
  double table_ratio[3], height_ratio[3], girdle_ratio[3];
  char source[64]; /* where the proportions come from */
} girdle_cut;

/* What a material says of lead. It follows from the material alone, never from a colour's name. */
enum {
  GIRDLE_LEAD_NONE,    /* none is expected */
  GIRDLE_LEAD_UNKNOWN, /* glass that is not known to keep a limit: the supplier's test report says */
  GIRDLE_LEAD_MAY,     /* its definition allows lead */
  GIRDLE_LEAD_YES      /* its definition demands lead */
};

typedef struct girdle_material {
  char name[24];
  double density_g_cm3[3]; /* least, nominal, most: 0.01 to 100, none below the one before */
  int32_t minimum, lead;   /* minimum 1: the densities are what the law demands at least, so masses are lower bounds */
  char source[96];
} girdle_material;

/* Rows of a user's own, looked at before the tables. Only views: the rows must outlive the call. */
typedef struct girdle_catalogue {
  uint32_t struct_bytes, reserved;
  const girdle_size *sizes;
  uint64_t size_count;
  const girdle_cut *cuts;
  uint64_t cut_count;
  const girdle_material *materials;
  uint64_t material_count;
  /* Made by girdle_stone_weigh; their masses go to all stones of the same size, material, cut, outline and length
   * ratio, whatever their colour, finish and fix. */
  const girdle_stone *weighed;
  uint64_t weighed_count;
  /* Wherever swapped[i] is made or written, instead[i] is meant: what is taken of another size is so placed anew. */
  const girdle_stone *swapped, *instead;
  uint64_t swap_count;
} girdle_catalogue;

/* Checks every row: a name in each, ranges as beside the structs (a cut in a round outline), weighed stones that were
 * weighed. The message names the row. NULL has none. */
GIRDLE_API int32_t girdle_catalogue_check(girdle_call *call, const girdle_catalogue *own);

/* What a maker says of a stone; NULL texts and NaN numbers take the defaults: colour "clear", finish "foiled", material
 * "soda-lime", the house cut, round, glued, the outline's usual length ratio. Finishes are foiled, coated, plain and
 * matt. Texts are UTF-8. A size of two measures ("10 x 14 mm", "14 by 10 mm") is the width and the length of an outline
 * that is not round, in either order: its diameter is the width, its length ratio has four decimals. A given diameter
 * makes the size the user's own, and a size's name that means another diameter gives way to "5 mm"; one of least and
 * most that is not given is the nominal one, which they need beside them. A given mass (of one stone, by weighing)
 * overrides the model. */
typedef struct girdle_stone_spec {
  uint32_t struct_bytes;
  int32_t outline, fix; /* GIRDLE_ROUND and GIRDLE_GLUE by default */
  uint32_t reserved;
  const char *size, *colour, *finish, *material, *cut;
  double diameter_mm[3], height_mm, mass_mg[3], length_ratio;
  const girdle_catalogue *own; /* NULL: none */
} girdle_stone_spec;

/* Reads a size: "ss20", "SS20", "20ss", "20s", "ss 20", "pp10", or a diameter of 0.5 to 100 mm such as "5 mm", held in
 * whole 1e-4 mm. Unlisted sizes are GIRDLE_UNKNOWN with the nearest named, diameters out of range GIRDLE_ARGUMENT. */
GIRDLE_API int32_t girdle_size_parse(girdle_call *call, const char *text, girdle_size *out);

/* The sizes that a measured diameter fits, most likely first: those whose range, widened by error_mm (of the caliper, 0
 * to 1) on both sides, holds measured_mm, by the distance to their nominal diameter, then in the order of the table;
 * when there is none, the one or two whose ranges are nearest, which girdle_size_outside_mm tells from those that fit.
 * The user's own sizes (own may be NULL) come with the tables'. The nominal diameter of a size is what most of its
 * stones have, so measure several. Writes at most `capacity` of them; *count is how many there are. */
GIRDLE_API int32_t girdle_size_likely(girdle_call *call, double measured_mm, double error_mm,
                                      const girdle_catalogue *own, girdle_size *out, uint64_t capacity,
                                      uint64_t *count);

/* How far a measured diameter lies outside a size's range, in mm: 0 when it fits, NaN for a reading that is no number.
 */
GIRDLE_API double girdle_size_outside_mm(const girdle_size *size, double measured_mm);

/* "several charts", "one chart", "interpolated", "not confirmed", "given in millimetres"; never NULL. */
GIRDLE_API const char *girdle_certainty_text(int32_t certainty);

/* The table of sizes, in order of diameter, ss first and then pp; lives as long as the library. */
GIRDLE_API const girdle_size *girdle_sizes(uint64_t *count);

/* The materials and the ready cuts, the house cut first; live as long as the library. The cuts' proportions are common
 * practice without a source: a weighed gross or a cut of one's own replaces them. */
GIRDLE_API const girdle_material *girdle_materials(uint64_t *count);
/* All cuts known by name; they live as long as the library. */
GIRDLE_API const girdle_cut *girdle_cuts(uint64_t *count);

/* Fills in the defaults that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_stone_spec_init(girdle_stone_spec *spec, uint32_t struct_bytes);
/* Makes a stone from what is known of it; what the spec leaves out comes from its size and cut. */
GIRDLE_API int32_t girdle_stone_make(girdle_call *call, const girdle_stone_spec *spec, girdle_stone *out);

/* Reads "ss20 black": a size, then the colour in any number of words; words that name a finish ("matt"), a material
 * ("acrylic"), an outline with or without its length ratio ("pear 1.6"; after a size like "10 x 14 mm" without), a cut
 * ("12 facets"), "sewn", "glued" or "glued and sewn" may come last, each kind once; the same again ("sewn sewn") is
 * GIRDLE_SYNTAX unless every kind is named. No colour is "clear"; letters A to Z are read as small ones. */
GIRDLE_API int32_t girdle_stone_parse(girdle_call *call, const char *text, girdle_stone *out);
/* The same with sizes, cuts and materials of the user's own; NULL: none. */
GIRDLE_API int32_t girdle_stone_parse_own(girdle_call *call, const char *text, const girdle_catalogue *own,
                                          girdle_stone *out);

/* Writes a text that girdle_stone_parse reads back equal: size, colour ("clear" too), and what is not usual. A size,
 * cut or material of the user's own needs the same catalogue to be read. Two-call buffer: returns the length needed
 * without the NUL, writes at most `bytes` with it. */
GIRDLE_API uint64_t girdle_stone_text(const girdle_stone *stone, char *buffer, uint64_t bytes);

/* Weighs: `pieces` stones (1 or more; a gross is a good number) together have mass_mg, read to within error_mg. *out is
 * the stone with that mass, GIRDLE_MASS_WEIGHED set; *model_off, unless NULL, tells by what share its mass was off
 * before (0.1: it was a tenth too heavy). */
GIRDLE_API int32_t girdle_stone_weigh(girdle_call *call, const girdle_stone *stone, int64_t pieces, double mass_mg,
                                      double error_mg, girdle_stone *out, double *model_off);

/* The caution on lead that goes with a stone's material, to be printed with it; "" when none is due. Facts with their
 * sources' dates, not advice: local rules come first. Never NULL. */
GIRDLE_API const char *girdle_lead_caution(uint32_t lead);

/* 1 when equal, else 0. */
GIRDLE_API int32_t girdle_stone_equal(const girdle_stone *a, const girdle_stone *b);

/* 1 when one may stand where the other does, being of one nominal diameter, outline and length ratio, else 0. */
GIRDLE_API int32_t girdle_stone_same_place(const girdle_stone *a, const girdle_stone *b);

/* How a stone lies: its point is the middle of its outline's box, its length lies along x at turn 0, and the tip of a
 * pear or heart points to +x. Angles grow clockwise on the page, in degrees. */

/* How far a stone turned by turn_deg reaches from its point in the direction towards_deg, in mm: the outline's support
 * function at the nominal diameter, in closed form. Half the diameter for round stones. */
GIRDLE_API double girdle_stone_reach_mm(const girdle_stone *stone, double turn_deg, double towards_deg);
/* The radius in mm of the circle about the stone's point that holds its whole outline, however it is turned. */
GIRDLE_API double girdle_stone_circle_mm(const girdle_stone *stone);
/* The area in mm2 of the back, the polygon of the stone's cut at the nominal diameter. */
GIRDLE_API double girdle_stone_footprint_mm2(const girdle_stone *stone);
/* "round", "oval", "pear", "navette", "square", "rectangle", "heart"; "unknown" outside the range. Never NULL. */
GIRDLE_API const char *girdle_outline_text(int32_t outline);

/* ---- solids */

enum { GIRDLE_FACET_BACK, GIRDLE_FACET_GIRDLE, GIRDLE_FACET_CROWN, GIRDLE_FACET_TABLE, GIRDLE_FACET_END };

/* A facet of a solid; its corners are numbers of vertices and stand counter-clockwise as seen from outside. */
typedef struct girdle_facet {
  int32_t kind, corner_count;
  uint64_t first_corner; /* in girdle_solid_corners */
  double area_mm2;
} girdle_facet;

typedef struct girdle_solid_sums {
  double volume_mm3, height_mm;
  double centre_mm;                  /* height of the centre of gravity above the back */
  double area_mm2[GIRDLE_FACET_END]; /* of all facets of a kind; that of the back is the footprint */
  int32_t facets, facet_count;       /* main facets as cut; facets in all, back and table included */
} girdle_solid_sums;

/* A stone as a polyhedron: back in the plane z = 0, table above, x and y as the stone lies at turn 0. Immutable. */
typedef struct girdle_solid girdle_solid;

/* Builds the solid of a cut at its least, nominal or most ratios (`which`), in an outline of a width. The girdle's
 * corners lie on the outline at even shares of the way round (an ellipse's by its angle, which keeps tips and notch
 * corners), the table's on the same outline made smaller. Squares and rectangles have 4 main facets whatever the cut
 * says, navettes and hearts an even number (one more when it is odd); a heart's table is never turned. */
GIRDLE_API int32_t girdle_solid_new(girdle_call *call, const girdle_cut *cut, int32_t which, int32_t outline,
                                    double length_ratio, double diameter_mm, girdle_solid **out);
/* The nominal solid of a stone, at its own height; own (may be NULL) is the catalogue its cut is named in. */
GIRDLE_API int32_t girdle_solid_of(girdle_call *call, const girdle_stone *stone, const girdle_catalogue *own,
                                   girdle_solid **out);
GIRDLE_API void girdle_solid_free(girdle_solid *solid); /* NULL is fine */
/* x, y, z of each vertex in mm, one after another; *count vertices. Valid as long as the solid, like the next two. */
GIRDLE_API const double *girdle_solid_vertices(const girdle_solid *solid, uint64_t *count);
/* Its facets; each tells where its corners stand in girdle_solid_corners. */
GIRDLE_API const girdle_facet *girdle_solid_facets(const girdle_solid *solid, uint64_t *count);
/* The corners of all facets as numbers of vertices, one facet after another. */
GIRDLE_API const int32_t *girdle_solid_corners(const girdle_solid *solid, uint64_t *count);
/* Volume and centre by the divergence theorem over the facets. */
GIRDLE_API void girdle_solid_sum(const girdle_solid *solid, girdle_solid_sums *out);

#ifdef __cplusplus
}
#endif
#endif
