/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/stone.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "stone_internal.h"

struct girdle_solid {
  girdle_allocator memory;
  double height_mm;
  girdle_polyhedron shape;
};

/* ---- vertices */

void girdle_rings_build(const girdle_cut *cut, int32_t outline, double length_ratio, girdle_rings *out) {
  int32_t n = out->facets = girdle_outline_facets(outline, cut->facets);
  for (int32_t i = 0; i < n; i++)
    girdle_outline_point(outline, length_ratio, (double)i / n, out->girdle[i]);
  if (girdle_cut_turns(cut, outline))
    for (int32_t i = 0; i < n; i++)
      girdle_outline_point(outline, length_ratio, (i + 0.5) / n, out->table[i]);
  else
    memcpy(out->table, out->girdle, sizeof out->table);
}

/* Twice the area of the triangle from the middle over a step. */
static double sweep(const double a[2], const double b[2]) {
  return a[0] * b[1] - a[1] * b[0];
}

double girdle_rings_volume_mm3(const girdle_rings *rings, const girdle_cut *cut, int32_t which, double diameter_mm) {
  int32_t n = rings->facets;
  double girdle = 0, table = 0, mixed = 0, ratio = cut->table_ratio[which], scale = diameter_mm / 2, crown;
  for (int32_t i = 0; i < n; i++) {
    const double *low = rings->girdle[i], *next = rings->girdle[(i + 1) % n], *high = rings->table[i];
    girdle += sweep(low, next) / 2;
    table += sweep(high, rings->table[(i + 1) % n]) / 2;
    mixed += (sweep(low, high) + sweep(high, next)) / 2;
  }
  crown = (girdle + ratio * mixed + ratio * ratio * table) / 3;
  return scale * scale * diameter_mm *
         (cut->girdle_ratio[which] * girdle + (cut->height_ratio[which] - cut->girdle_ratio[which]) * crown);
}

static void add_ring(girdle_polyhedron *p, const double (*points)[2], double half_width, double z) {
  for (int32_t i = 0; i < p->facets; i++) {
    double *vertex = p->vertices[p->vertex_count++];
    vertex[0] = points[i][0] * half_width;
    vertex[1] = points[i][1] * half_width;
    vertex[2] = z;
  }
  p->rings++;
}

/* ---- facets */

static void add_side(girdle_polyhedron *p, int32_t kind, int32_t corners, const int32_t *corner) {
  girdle_facet *side = &p->sides[p->facet_count];
  side->kind = kind;
  side->corner_count = corners;
  side->first_corner = p->facet_count ? side[-1].first_corner + (uint64_t)side[-1].corner_count : 0;
  memcpy(p->corner + side->first_corner, corner, (size_t)corners * sizeof *corner);
  p->facet_count++;
}

static void add_polygon(girdle_polyhedron *p, int32_t kind, int32_t ring) {
  int32_t corner[GIRDLE_FACETS_MOST] = {0}, n = p->facets;
  for (int32_t i = 0; i < n; i++)
    corner[i] = ring * n + (kind == GIRDLE_FACET_BACK ? n - 1 - i : i);
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
  for (int k = 0; k < 3; k++)
    out[k] = a[k] - b[k];
}

static void cross(const double a[3], const double b[3], double out[3]) {
  out[0] = a[1] * b[2] - a[2] * b[1];
  out[1] = a[2] * b[0] - a[0] * b[2];
  out[2] = a[0] * b[1] - a[1] * b[0];
}

/* The facet as a fan of triangles; each makes a tetrahedron with the origin, which lies on the back (divergence
 * theorem). Area vectors add up over a plane facet, whatever its shape. */
static double measure_side(girdle_polyhedron *p, girdle_facet *side) {
  const int32_t *corner = p->corner + side->first_corner;
  const double *a = p->vertices[corner[0]];
  double area[3] = {0, 0, 0}, moment = 0;
  for (int32_t i = 1; i + 1 < side->corner_count; i++) {
    const double *b = p->vertices[corner[i]], *c = p->vertices[corner[i + 1]];
    double ab[3], ac[3], normal[3], sixfold;
    minus(b, a, ab);
    minus(c, a, ac);
    cross(ab, ac, normal);
    for (int k = 0; k < 3; k++)
      area[k] += normal[k] / 2;
    sixfold = normal[0] * a[0] + normal[1] * a[1] + normal[2] * a[2];
    p->volume_mm3 += sixfold / 6;
    moment += sixfold / 6 * (a[2] + b[2] + c[2]) / 4;
  }
  side->area_mm2 = sqrt(area[0] * area[0] + area[1] * area[1] + area[2] * area[2]);
  return moment;
}

void girdle_polyhedron_build(const girdle_cut *cut, const girdle_rings *rings, int32_t which, double diameter_mm,
                             girdle_polyhedron *out) {
  double half = diameter_mm / 2, girdle = cut->girdle_ratio[which] * diameter_mm, moment = 0;
  int turned = memcmp(rings->girdle[0], rings->table[0], sizeof rings->table[0]) != 0;
  out->facets = rings->facets;
  out->rings = out->vertex_count = out->facet_count = 0;
  out->volume_mm3 = 0;
  add_ring(out, rings->girdle, half, 0);
  if (girdle > 0) add_ring(out, rings->girdle, half, girdle);
  add_ring(out, rings->table, half * cut->table_ratio[which], cut->height_ratio[which] * diameter_mm);
  add_polygon(out, GIRDLE_FACET_BACK, 0);
  if (girdle > 0) add_wall(out, GIRDLE_FACET_GIRDLE, 0, 0);
  add_wall(out, GIRDLE_FACET_CROWN, out->rings - 2, turned);
  add_polygon(out, GIRDLE_FACET_TABLE, out->rings - 1);
  for (int32_t i = 0; i < out->facet_count; i++)
    moment += measure_side(out, &out->sides[i]);
  out->centre_mm = moment / out->volume_mm3;
}

/* ---- handles */

int32_t girdle_solid_new(girdle_call *call, const girdle_cut *cut, int32_t which, int32_t outline, double length_ratio,
                         double diameter_mm, girdle_solid **out) {
  GIRDLE_GIVEN(call, cut, out);
  girdle_rings rings;
  girdle_solid *solid;
  GIRDLE_TRY(girdle_outline_check(call, outline, length_ratio));
  GIRDLE_TRY(girdle_cut_check(call, cut, outline, length_ratio));
  GIRDLE_TRY(girdle_common_range(call, "which", which, GIRDLE_LEAST, GIRDLE_MOST, ""));
  GIRDLE_TRY(girdle_common_range(call, "diameter", diameter_mm, 1e-3, 1000, "mm"));
  solid = girdle_common_new(call, sizeof *solid);
  if (!solid) return GIRDLE_MEMORY;
  solid->memory = girdle_common_memory(call);
  solid->height_mm = cut->height_ratio[which] * diameter_mm;
  girdle_rings_build(cut, outline, length_ratio, &rings);
  girdle_polyhedron_build(cut, &rings, which, diameter_mm, &solid->shape);
  *out = solid;
  return GIRDLE_OK;
}

int32_t girdle_solid_of(girdle_call *call, const girdle_stone *stone, const girdle_catalogue *own, girdle_solid **out) {
  GIRDLE_GIVEN(call, stone, out);
  girdle_cut room, cut;
  const girdle_cut *found = girdle_cut_find(stone->cut, own, &room);
  if (!found) return girdle_common_fail(call, GIRDLE_UNKNOWN, "cut", "unknown cut '%s'", stone->cut);
  cut = *found;
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    cut.height_ratio[i] = stone->height_mm / stone->diameter_mm[GIRDLE_NOMINAL];
  return girdle_solid_new(call, &cut, GIRDLE_NOMINAL, stone->outline, stone->length_ratio,
                          stone->diameter_mm[GIRDLE_NOMINAL], out);
}

void girdle_solid_free(girdle_solid *solid) {
  girdle_allocator memory;
  if (!solid) return;
  memory = solid->memory;
  girdle_common_release(&memory, solid, sizeof *solid);
}

const double *girdle_solid_vertices(const girdle_solid *solid, uint64_t *count) {
  *count = (uint64_t)solid->shape.vertex_count;
  return solid->shape.vertices[0];
}

const girdle_facet *girdle_solid_facets(const girdle_solid *solid, uint64_t *count) {
  *count = (uint64_t)solid->shape.facet_count;
  return solid->shape.sides;
}

const int32_t *girdle_solid_corners(const girdle_solid *solid, uint64_t *count) {
  const girdle_facet *last = &solid->shape.sides[solid->shape.facet_count - 1];
  *count = last->first_corner + (uint64_t)last->corner_count;
  return solid->shape.corner;
}

void girdle_solid_sum(const girdle_solid *solid, girdle_solid_sums *out) {
  const girdle_polyhedron *shape = &solid->shape;
  memset(out, 0, sizeof *out);
  out->volume_mm3 = shape->volume_mm3;
  out->height_mm = solid->height_mm;
  out->centre_mm = shape->centre_mm;
  out->facets = shape->facets;
  out->facet_count = shape->facet_count;
  for (int32_t i = 0; i < shape->facet_count; i++)
    out->area_mm2[shape->sides[i].kind] += shape->sides[i].area_mm2;
}
