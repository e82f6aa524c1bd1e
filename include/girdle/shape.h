/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_SHAPE_H
#define GIRDLE_SHAPE_H

/* shape: paths and regions in millimetres. SVG's axes (x right, y down); angles in degrees, clockwise on the page.
 * Handles are immutable. */

#include "girdle/base.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct girdle_path girdle_path;     /* lines, quadratic and cubic curves, elliptical arcs; one subpath or more */
typedef struct girdle_region girdle_region; /* rings with holes, and areas left out */

typedef struct girdle_box {
  double left_mm, top_mm, right_mm, bottom_mm;
} girdle_box;

/* A point on a path. `curvature_per_mm` is positive when the path bends clockwise. */
typedef struct girdle_point_on {
  double x_mm, y_mm, angle_deg, curvature_per_mm;
} girdle_point_on;

enum { GIRDLE_NONZERO, GIRDLE_EVENODD };

/* Makes a path from SVG path data of the given bytes (the whole SVG 2 grammar). Errors carry the byte. */
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

GIRDLE_API double girdle_path_length_mm(const girdle_path *path);
GIRDLE_API int32_t girdle_path_is_closed(const girdle_path *path); /* 1 when every subpath is closed */
GIRDLE_API uint64_t girdle_path_subpaths(const girdle_path *path);
GIRDLE_API void girdle_path_box(const girdle_path *path, girdle_box *out); /* exact extent of the curves */

/* The point at a distance along the path, 0 to its length (subpaths follow each other). */
GIRDLE_API int32_t girdle_path_at(girdle_call *call, const girdle_path *path, double distance_mm, girdle_point_on *out);

/* The nearest point of the path: its distance along and its distance from (x, y). */
GIRDLE_API int32_t girdle_path_nearest(girdle_call *call, const girdle_path *path, double x_mm, double y_mm,
                                       double *along_mm, double *distance_mm);

/* SVG's matrix(a b c d e f): x' = a x + c y + e, y' = b x + d y + f. */
GIRDLE_API int32_t girdle_path_transformed(girdle_call *call, const girdle_path *path, const double matrix[6],
                                           girdle_path **out);
GIRDLE_API int32_t girdle_path_reversed(girdle_call *call, const girdle_path *path, girdle_path **out);
GIRDLE_API int32_t girdle_path_part(girdle_call *call, const girdle_path *path, double from_mm, double to_mm,
                                    girdle_path **out);
GIRDLE_API int32_t girdle_path_joined(girdle_call *call, const girdle_path *first, const girdle_path *second,
                                      girdle_path **out);

/* The parallel at a distance: positive lies to the right of the walker (on the page), negative to the left. No point of
 * the result is nearer to the path than |distance| less 1e-3 mm; it may fall into several subpaths or, when nothing is
 * left, be GIRDLE_GEOMETRY. */
GIRDLE_API int32_t girdle_path_offset(girdle_call *call, const girdle_path *path, double distance_mm, girdle_path **out);

/* Makes a region from a path; each subpath is closed. Outlines that cross themselves are an error naming the place. */
GIRDLE_API int32_t girdle_region_new(girdle_call *call, const girdle_path *outline, int32_t rule, girdle_region **out);

GIRDLE_API int32_t girdle_region_rectangle(girdle_call *call, double width_mm, double height_mm, girdle_region **out);
GIRDLE_API int32_t girdle_region_oval(girdle_call *call, double width_mm, double height_mm, girdle_region **out);
GIRDLE_API int32_t girdle_region_trapezoid(girdle_call *call, double top_mm, double bottom_mm, double height_mm,
                                           girdle_region **out);
GIRDLE_API int32_t girdle_region_strip(girdle_call *call, double length_mm, double depth_mm, girdle_region **out);

/* Reads what people write for a region: "rectangle 10 cm x 20 cm", "oval 8 cm x 6 cm", "strip 60 cm x 4 cm", "trapezoid
 * 20 cm x 30 cm x 15 cm" (the words are those of the shapes above), else SVG path data. */
GIRDLE_API int32_t girdle_region_from_text(girdle_call *call, const char *text, girdle_region **out);

GIRDLE_API void girdle_region_free(girdle_region *region); /* NULL is fine */
GIRDLE_API double girdle_region_area_mm2(const girdle_region *region);      /* exact, by Green's theorem */
GIRDLE_API double girdle_region_perimeter_mm(const girdle_region *region);  /* holes and areas left out included */
GIRDLE_API uint64_t girdle_region_holes(const girdle_region *region);
GIRDLE_API void girdle_region_centroid(const girdle_region *region, double *x_mm, double *y_mm);
GIRDLE_API void girdle_region_box(const girdle_region *region, girdle_box *out);
GIRDLE_API int32_t girdle_region_contains(const girdle_region *region, double x_mm, double y_mm); /* 1 or 0 */

/* Distance from a point to the boundary: positive inside, negative outside. */
GIRDLE_API double girdle_region_depth_mm(const girdle_region *region, double x_mm, double y_mm);

GIRDLE_API int32_t girdle_region_transformed(girdle_call *call, const girdle_region *region, const double matrix[6],
                                             girdle_region **out);

/* The region without another: the area left out is tested on its own edges. */
GIRDLE_API int32_t girdle_region_without(girdle_call *call, const girdle_region *region, const girdle_region *left_out,
                                         girdle_region **out);

/* The region shrunk by a distance; GIRDLE_GEOMETRY when nothing is left. */
GIRDLE_API int32_t girdle_region_inset(girdle_call *call, const girdle_region *region, double distance_mm,
                                       girdle_region **out);

/* The rim as a path: every ring, holes and areas left out included. The caller frees it. */
GIRDLE_API int32_t girdle_region_rim(girdle_call *call, const girdle_region *region, girdle_path **out);

#ifdef __cplusplus
}
#endif
#endif
