/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/stone.h"

#include <math.h>
#include <string.h>

#include "stone_internal.h"

enum { BACK, GIRDLE_WALL, CROWN, TABLE };

/* ---- vertices */

/* One ring of vertices at a height; `shift` 0.5 puts them over the middles of the edges. */
static void add_ring(girdle_polyhedron *p, int32_t outline, double ratio, double half_width, double shift, double z) {
  for (int32_t i = 0; i < p->facets; i++) {
    double *vertex = p->vertices[p->vertex_count++];
    girdle_outline_point(outline, ratio, (i + shift) / p->facets, vertex);
    vertex[0] *= half_width;
    vertex[1] *= half_width;
    vertex[2] = z;
  }
  p->rings++;
}

/* ---- facets */

static void add_side(girdle_polyhedron *p, int32_t kind, int32_t corners, const int32_t *corner) {
  struct girdle_side *side = &p->sides[p->facet_count];
  side->kind = kind;
  side->corners = corners;
  side->first = p->facet_count ? side[-1].first + side[-1].corners : 0;
  memcpy(p->corner + side->first, corner, (size_t)corners * sizeof *corner);
  p->facet_count++;
}

static void add_polygon(girdle_polyhedron *p, int32_t kind, int32_t ring) {
  int32_t corner[GIRDLE_FACETS_MOST], n = p->facets;
  for (int32_t i = 0; i < n; i++) corner[i] = ring * n + (kind == BACK ? n - 1 - i : i);
  add_side(p, kind, n, corner);
}

/* The wall between a ring and the next above it: quadrilaterals, or pairs of triangles to a turned ring. With chords of
 * one convex curve that interleave, these triangles are the convex hull's. */
static void add_wall(girdle_polyhedron *p, int32_t kind, int32_t ring, int turned) {
  int32_t n = p->facets, low = ring * n, high = low + n;
  for (int32_t i = 0; i < n; i++) {
    int32_t next = (i + 1) % n;
    if (turned) {
      add_side(p, kind, 3, (const int32_t[]){low + i, low + next, high + i});
      add_side(p, kind, 3, (const int32_t[]){high + i, low + next, high + next});
    } else {
      add_side(p, kind, 4, (const int32_t[]){low + i, low + next, high + next, high + i});
    }
  }
}

/* ---- measures */

static void minus(const double a[3], const double b[3], double out[3]) {
  for (int k = 0; k < 3; k++) out[k] = a[k] - b[k];
}

static void cross(const double a[3], const double b[3], double out[3]) {
  out[0] = a[1] * b[2] - a[2] * b[1];
  out[1] = a[2] * b[0] - a[0] * b[2];
  out[2] = a[0] * b[1] - a[1] * b[0];
}

/* The facet as a fan of triangles; each makes a tetrahedron with the origin, which lies on the back (divergence theorem).
 * Area vectors add up over a plane facet, whatever its shape. */
static double measure_side(girdle_polyhedron *p, struct girdle_side *side) {
  const int32_t *corner = p->corner + side->first;
  const double *a = p->vertices[corner[0]];
  double area[3] = {0, 0, 0}, moment = 0;
  for (int32_t i = 1; i + 1 < side->corners; i++) {
    const double *b = p->vertices[corner[i]], *c = p->vertices[corner[i + 1]];
    double ab[3], ac[3], normal[3], sixfold;
    minus(b, a, ab);
    minus(c, a, ac);
    cross(ab, ac, normal);
    for (int k = 0; k < 3; k++) area[k] += normal[k] / 2;
    sixfold = normal[0] * a[0] + normal[1] * a[1] + normal[2] * a[2];
    p->volume_mm3 += sixfold / 6;
    moment += sixfold / 6 * (a[2] + b[2] + c[2]) / 4;
  }
  side->area_mm2 = sqrt(area[0] * area[0] + area[1] * area[1] + area[2] * area[2]);
  return moment;
}

void girdle_polyhedron_build(const girdle_cut *cut, int32_t which, int32_t outline, double length_ratio,
                             double diameter_mm, girdle_polyhedron *out) {
  double half = diameter_mm / 2, girdle = cut->girdle_ratio[which] * diameter_mm, moment = 0;
  int turned = cut->turned && outline != GIRDLE_HEART; /* a turned table would bridge the notch */
  out->facets = girdle_outline_facets(outline, cut->facets);
  out->rings = out->vertex_count = out->facet_count = 0;
  out->volume_mm3 = 0;
  add_ring(out, outline, length_ratio, half, 0, 0);
  if (girdle > 0) add_ring(out, outline, length_ratio, half, 0, girdle);
  add_ring(out, outline, length_ratio, half * cut->table_ratio[which], turned ? 0.5 : 0,
           cut->height_ratio[which] * diameter_mm);
  add_polygon(out, BACK, 0);
  if (girdle > 0) add_wall(out, GIRDLE_WALL, 0, 0);
  add_wall(out, CROWN, out->rings - 2, turned);
  add_polygon(out, TABLE, out->rings - 1);
  for (int32_t i = 0; i < out->facet_count; i++) moment += measure_side(out, &out->sides[i]);
  out->centre_mm = moment / out->volume_mm3;
}
