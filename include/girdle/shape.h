/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_SHAPE_H
#define GIRDLE_SHAPE_H

/* shape: paths and regions in millimetres. SVG's axes (x right, y down); angles in degrees, clockwise on the page.
 *
 * Handles are immutable, own all they need, and may be shared by threads; what a function gives out is the caller's to
 * free. Coordinates lie within 1e9 mm (GIRDLE_ARGUMENT beyond); a path without length is GIRDLE_GEOMETRY.
 * NULL as base.h says. */

#include "girdle/base.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct girdle_path girdle_path; /* lines, quadratic and cubic curves, elliptical arcs; one subpath or more */
typedef struct girdle_region girdle_region; /* rings with holes, and areas left out */

typedef struct girdle_box {
  double left_mm, top_mm, right_mm, bottom_mm;
} girdle_box;

/* A point on a path. curvature_per_mm is positive when the path bends clockwise, and no number at a cusp. angle_deg is
 * the direction in which the path goes on, -180 to 180; at an open end that in which it arrives. */
typedef struct girdle_point_on {
  double x_mm, y_mm, angle_deg, curvature_per_mm;
} girdle_point_on;

enum { GIRDLE_NONZERO, GIRDLE_EVENODD };

/* Makes a path from SVG path data of the given bytes: the whole grammar of SVG 2, 9.3, with closepaths that complete a
 * segment. Radii that are too small grow (B.2.5), segments that go nowhere are left out, and arcs of more than a third
 * of a turn are kept in parts. Errors carry the byte, counted from 0, and say it; GIRDLE_SYNTAX for what is no path
 * data, nothing included. */
GIRDLE_API int32_t girdle_path_parse(girdle_call *call, const char *data, uint64_t bytes, girdle_path **out);

/* A straight line from the origin to the right, length 1e-3 to 1e7 mm. */
GIRDLE_API int32_t girdle_path_line(girdle_call *call, double length_mm, girdle_path **out);

/* A circle of a girth (a neckline, a wrist), centre at the origin, starting at the top, clockwise. */
GIRDLE_API int32_t girdle_path_loop(girdle_call *call, double girth_mm, girdle_path **out);

/* Reads what people write for a path: "38 cm" or "line 38 cm" (a line), "loop 34 cm", any closed shape that
 * girdle_region_from_text reads (its rim), else SVG path data. */
GIRDLE_API int32_t girdle_path_from_text(girdle_call *call, const char *text, girdle_path **out);

GIRDLE_API void girdle_path_free(girdle_path *path); /* NULL is fine */

/* Writes SVG path data that reads back equal. Two-call buffer: returns the length needed without the NUL. */
GIRDLE_API uint64_t girdle_path_text(const girdle_path *path, char *buffer, uint64_t bytes);

/* Right to 1e-9 of itself (Gauss rules between the branch points of the speed). */
GIRDLE_API double girdle_path_length_mm(const girdle_path *path);
GIRDLE_API int32_t girdle_path_is_closed(const girdle_path *path); /* 1 when every subpath is closed */
/* How many subpaths it has, 1 or more. */
GIRDLE_API uint64_t girdle_path_subpaths(const girdle_path *path);
GIRDLE_API void girdle_path_box(const girdle_path *path, girdle_box *out); /* exact extent of the curves */

/* The point at a distance along the path, 0 to its length (subpaths follow each other; where two pieces meet, the later
 * one's). Beyond is GIRDLE_ARGUMENT, but for rounding (1e-9 of the length). */
GIRDLE_API int32_t girdle_path_at(girdle_call *call, const girdle_path *path, double distance_mm, girdle_point_on *out);

/* The nearest point of the path: its distance along and its distance from (x, y), each within 1e9 mm of 0 (else
 * GIRDLE_ARGUMENT, as for NaN). */
GIRDLE_API int32_t girdle_path_nearest(girdle_call *call, const girdle_path *path, double x_mm, double y_mm,
                                       double *along_mm, double *distance_mm);

/* SVG's matrix(a b c d e f): x' = a x + c y + e, y' = b x + d y + f. Curves stay curves and arcs arcs. A matrix that
 * presses the shape flat is GIRDLE_ARGUMENT. */
GIRDLE_API int32_t girdle_path_transformed(girdle_call *call, const girdle_path *path, const double matrix[6],
                                           girdle_path **out);
/* The same path walked the other way; subpaths come in the other order, too. */
GIRDLE_API int32_t girdle_path_reversed(girdle_call *call, const girdle_path *path, girdle_path **out);

/* The part between two distances along. A single ring may have from after to: the part then runs through its start. */
GIRDLE_API int32_t girdle_path_part(girdle_call *call, const girdle_path *path, double from_mm, double to_mm,
                                    girdle_path **out);

/* Both one after the other: one line when the second begins where the first ends, else side by side. */
GIRDLE_API int32_t girdle_path_joined(girdle_call *call, const girdle_path *first, const girdle_path *second,
                                      girdle_path **out);

/* Cut in two at a distance along, which must lie between the ends. */
GIRDLE_API int32_t girdle_path_split(girdle_call *call, const girdle_path *path, double at_mm, girdle_path **head,
                                     girdle_path **tail);

/* The path in straight lines, no point of it farther than tolerance_mm from them. More than 1e8 lines: GIRDLE_LIMIT. */
GIRDLE_API int32_t girdle_path_flattened(girdle_call *call, const girdle_path *path, double tolerance_mm,
                                         girdle_path **out);

/* A place where the direction jumps: a corner, or a cusp of a curve. turn_deg is positive clockwise. */
typedef struct girdle_turn {
  double along_mm, x_mm, y_mm, turn_deg;
} girdle_turn;

/* Counts the corners that turn more than least_turn_deg (0 to 180) and writes up to `capacity` of them, in order; the
 * start of a closed subpath counts. found may be NULL when capacity is 0. */
GIRDLE_API int32_t girdle_path_turns(girdle_call *call, const girdle_path *path, double least_turn_deg,
                                     girdle_turn *found, uint64_t capacity, uint64_t *count);

/* A place where two paths, or two parts of one, meet: where it lies along each, and whether they cross or only touch.
 */
typedef struct girdle_meeting {
  double x_mm, y_mm, first_mm, second_mm;
  int32_t crosses, reserved;
} girdle_meeting;

/* Counts the meetings of a path with another (NULL: with itself, joints of its own pieces left out) and writes up to
 * `capacity` of them in order along the path. What comes nearer than 1e-8 of the path's extent meets, where it is
 * nearest; where two pieces run along each other the ends of that stretch are given. More than 65536 and 8 for each
 * piece: GIRDLE_LIMIT. */
GIRDLE_API int32_t girdle_path_meetings(girdle_call *call, const girdle_path *path, const girdle_path *other,
                                        girdle_meeting *found, uint64_t capacity, uint64_t *count);

/* Scaled to a measure: to a length, its start staying in place; or to the width and height of its box, the upper left
 * corner staying in place. NaN is not given; a width or a height alone scales both ways. Each 1e-3 to 1e7 mm. */
GIRDLE_API int32_t girdle_path_fitted(girdle_call *call, const girdle_path *path, double length_mm, double width_mm,
                                      double height_mm, girdle_path **out);

/* How fabric lies: stretched by a share across (x) and along (y); 0, 0 is flat as cut; each -0.9 to 9. */
typedef struct girdle_lie {
  double across, along;
} girdle_lie;

/* The path as it is when fabric that lay one way lies another (as glued on a board, as worn). */
GIRDLE_API int32_t girdle_path_stretched(girdle_call *call, const girdle_path *path, const girdle_lie *from,
                                         const girdle_lie *to, girdle_path **out);

/* The clear fabric between two stones when it lies another way: fabric under a stone does not stretch, so the gap
 * alone does. angle_deg is the direction from stone to stone while the fabric lies as `from`; girdle_angle_as turns it
 * into the direction when it lies as `to`, for the way back. */
GIRDLE_API int32_t girdle_gap_as(girdle_call *call, double gap_mm, double angle_deg, const girdle_lie *from,
                                 const girdle_lie *to, double *out_mm);
/* The direction between two stones when the fabric lies another way, in degrees clockwise. */
GIRDLE_API int32_t girdle_angle_as(girdle_call *call, double angle_deg, const girdle_lie *from, const girdle_lie *to,
                                   double *out_deg);

/* A line set in from an edge: the parallel inside a closed path, to the right of an open one; 0 to 1e7 mm. */
GIRDLE_API int32_t girdle_path_set_in(girdle_call *call, const girdle_path *path, double distance_mm,
                                      girdle_path **out);

/* The parallel at a distance: positive lies to the right of the walker (on the page), negative to the left; -1e7 to
 * 1e7. No point of the result is nearer to the path than |distance| less 1e-3 mm; it turns round corners in arcs and
 * may fall into several subpaths. When nothing is left: GIRDLE_GEOMETRY. Lines and arcs of circles are followed
 * exactly, other curves within 5e-6 mm; steps shorter than 1e-6 mm and a millionth of the distance are passed over.
 * Where too many edges lie within the distance of each other (5e7 looks, and 500 for each edge): GIRDLE_LIMIT. */
GIRDLE_API int32_t girdle_path_offset(girdle_call *call, const girdle_path *path, double distance_mm,
                                      girdle_path **out);

/* Makes a region from a path; each subpath is closed. Outlines that cross themselves or each other are GIRDLE_GEOMETRY,
 * the message naming the place; they may touch, and run along each other. What the fill rule leaves empty is no part.
 */
GIRDLE_API int32_t girdle_region_new(girdle_call *call, const girdle_path *outline, int32_t rule, girdle_region **out);

/* A rectangle whose upper left corner is the origin; sides 1e-3 to 1e7 mm. */
GIRDLE_API int32_t girdle_region_rectangle(girdle_call *call, double width_mm, double height_mm, girdle_region **out);
/* An ellipse whose box begins at the origin; width and height 1e-3 to 1e7 mm. */
GIRDLE_API int32_t girdle_region_oval(girdle_call *call, double width_mm, double height_mm, girdle_region **out);
/* A trapezoid with equal sides and horizontal edges, whose box begins at the origin; each 1e-3 to 1e7 mm. */
GIRDLE_API int32_t girdle_region_trapezoid(girdle_call *call, double top_mm, double bottom_mm, double height_mm,
                                           girdle_region **out);
/* A straight strip along an edge, from the origin to the right; length and depth 1e-3 to 1e7 mm. */
GIRDLE_API int32_t girdle_region_strip(girdle_call *call, double length_mm, double depth_mm, girdle_region **out);

/* A shape from a tape measure, by its word: what it is called, what is measured, and where the tape goes. The box of
 * each begins at the origin (a loop as a region too). Strings live as long as the library. */
typedef struct girdle_tape {
  const char *word;        /* "sleeve" */
  const char *measures[4]; /* "wrist", "top", "length"; NULL behind the last */
  uint64_t count;
  const char *example; /* "sleeve 16 cm x 30 cm x 55 cm" */
  const char *tape;    /* "round the wrist edge, round the top, down along the arm" */
} girdle_tape;

/* Fills in the shape of an index from 0 and returns 1; 0 past the last. The words: rectangle, oval, trapezoid, strip,
 * triangle, loop, teardrop, keyhole, yoke, sleeve, circle skirt, half circle skirt, quarter circle skirt; then line (a
 * path alone), panel and area, which only girdle_path_from_text and girdle_region_from_text read. */
GIRDLE_API int32_t girdle_tape_info(uint64_t index, girdle_tape *out);

/* A shape by its word and measures in millimetres (each 1e-3 to 1e7), in the order of girdle_tape. GIRDLE_UNKNOWN names
 * the nearest word; measures that make no shape are GIRDLE_GEOMETRY and name the measure.
 * A sleeve is a cone laid flat, its wrist and top edges arcs of the lengths given; a yoke likewise, narrow edge above.
 */
GIRDLE_API int32_t girdle_path_from_tape(girdle_call *call, const char *word, const double *measures_mm, uint64_t count,
                                         girdle_path **out);
/* The same as a region; a loop is the disc within. */
GIRDLE_API int32_t girdle_region_from_tape(girdle_call *call, const char *word, const double *measures_mm,
                                           uint64_t count, girdle_region **out);

/* A skirt cut from a share of a circle (1 = circle skirt, 0.5 = half; 0.01 to 1): waist edge along, length down. */
GIRDLE_API int32_t girdle_region_skirt(girdle_call *call, double waist_mm, double length_mm, double fullness,
                                       girdle_region **out);

/* A panel given by its width every step_mm (1e-3 to 1e6) down its middle: 2 to 10000 widths, each 1e-3 to 1e7 mm, but
 * for the first and the last, which may be 0. The edges are smooth and swing no farther than the widths (Fritsch and
 * Butland 1984). */
GIRDLE_API int32_t girdle_region_panel(girdle_call *call, double step_mm, const double *widths_mm, uint64_t count,
                                       girdle_region **out);

/* A square of an area, for what was counted on squared paper: only its area is meant. 1e-6 to 1e14 mm2. */
GIRDLE_API int32_t girdle_region_area(girdle_call *call, double area_mm2, girdle_region **out);

/* Reads what people write for a region: a word of girdle_tape and its measures with a cross (an x, a multiplication
 * sign or "by") between ("rectangle 10 cm x 20 cm", "rectangle 10 by 20 cm": a bare number takes the next one's unit),
 * "panel every 5 cm: 20 cm, 24 cm, 22 cm", "area 250 cm2" or "250 cm2", else SVG path data. */
GIRDLE_API int32_t girdle_region_from_text(girdle_call *call, const char *text, girdle_region **out);

GIRDLE_API void girdle_region_free(girdle_region *region); /* NULL is fine */
/* Exact, by Green's theorem on the true boundary, as are the perimeter and the centroid. */
GIRDLE_API double girdle_region_area_mm2(const girdle_region *region);
GIRDLE_API double girdle_region_perimeter_mm(const girdle_region *region); /* holes and areas left out included */
/* How many holes and areas left out it has. */
GIRDLE_API uint64_t girdle_region_holes(const girdle_region *region);
/* The centre of its area. */
GIRDLE_API void girdle_region_centroid(const girdle_region *region, double *x_mm, double *y_mm);
/* The exact extent of its rim. */
GIRDLE_API void girdle_region_box(const girdle_region *region, girdle_box *out);
/* 1 or 0; 0 for a point that is not a number or not finite. */
GIRDLE_API int32_t girdle_region_contains(const girdle_region *region, double x_mm, double y_mm);

/* Distance from a point to the boundary: positive inside, negative outside, NaN for a point that is not a number or not
 * finite. */
GIRDLE_API double girdle_region_depth_mm(const girdle_region *region, double x_mm, double y_mm);

/* As girdle_path_transformed. */
GIRDLE_API int32_t girdle_region_transformed(girdle_call *call, const girdle_region *region, const double matrix[6],
                                             girdle_region **out);

/* The region without another, which may reach beyond it: the area left out is tested on its own edges. When nothing is
 * left: GIRDLE_GEOMETRY. */
GIRDLE_API int32_t girdle_region_without(girdle_call *call, const girdle_region *region, const girdle_region *left_out,
                                         girdle_region **out);

/* As girdle_path_fitted and girdle_path_stretched. */
GIRDLE_API int32_t girdle_region_fitted(girdle_call *call, const girdle_region *region, double width_mm,
                                        double height_mm, girdle_region **out);
/* As girdle_path_stretched. */
GIRDLE_API int32_t girdle_region_stretched(girdle_call *call, const girdle_region *region, const girdle_lie *from,
                                           const girdle_lie *to, girdle_region **out);

/* The region shrunk by a distance, or grown by a negative one; GIRDLE_GEOMETRY when nothing is left. Curves are
 * followed within 5e-6 mm; lines and arcs of circles exactly. Where parts of the outline lie upon each other but for
 * rounding, the parallel may be one up to 1e-4 mm farther in (of shapes of more than a metre, 1e-7 of their extent), or
 * GIRDLE_LIMIT when none closes. */
GIRDLE_API int32_t girdle_region_inset(girdle_call *call, const girdle_region *region, double distance_mm,
                                       girdle_region **out);

/* The rim as a path: every ring, holes and areas left out included. The caller frees it. */
GIRDLE_API int32_t girdle_region_rim(girdle_call *call, const girdle_region *region, girdle_path **out);

/* The lower edge: of the ring that reaches lowest, the stretch from corner to corner (turns of more than 30 degrees)
 * whose middle lies lowest, with the fabric on the right of who walks it; the whole ring, closed, when it has less
 * than two corners. Of equals the first. The caller frees it. */
GIRDLE_API int32_t girdle_region_lower_edge(girdle_call *call, const girdle_region *region, girdle_path **out);

/* The name of a body measure of an index from 0, NULL past the last: the girths of ISO 8559 (head, neck, neck-base,
 * chest, bust, upper-arm, armscye, elbow, wrist, hand, waist, hip, thigh, mid-thigh, knee, lower-knee, calf,
 * minimum-leg, ankle), then neckline, armhole, leg opening, body loop. */
GIRDLE_API const char *girdle_measure_name(uint64_t index);

/* Where the tape goes for a body measure: "round the wrist, over its bones"; NULL past the last. Neck and bust as EN
 * 13402-1:2001 defines them, the others as is common practice. Measure the dress along its own edge first, the body
 * second. */
GIRDLE_API const char *girdle_measure_tape(uint64_t index);

/* The index of a name; capitals, hyphens and underscores do not matter, nor a "girth" at its end; hips, seat, biceps,
 * leg hole and trunk are taken, too. */
GIRDLE_API int32_t girdle_measure_find(girdle_call *call, const char *name, uint64_t *out);

/* 1 when a body measure is plausible, 0 when it lies far outside: below the mean of six-year-old girls less three
 * standard deviations (Ozturk et al. 2017), above the men's mean and four (Gordon et al. 2014). Worth a warning, never
 * an error. Gives the limits (0 and infinity where no figure was found); NULL results are skipped. */
GIRDLE_API int32_t girdle_measure_plausible(uint64_t index, double value_mm, double *least_mm, double *most_mm);

/* Writes that warning for a measure that is not plausible: "a wrist of 5 cm is far below what is usual, ..."; "" when
 * there is nothing to say. Two-call buffer: returns the length needed without the NUL. */
GIRDLE_API uint64_t girdle_measure_warning(uint64_t index, double value_mm, char *buffer, uint64_t bytes);

#ifdef __cplusplus
}
#endif
#endif
