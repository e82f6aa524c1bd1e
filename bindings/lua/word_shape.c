/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>

#include "fields.h"
#include "words.h"

/* The words for shapes. A shape is a path or a region; a method gives back the kind it was called on. */

typedef struct shape {
  const girdle_path *path; /* one of the two is set */
  const girdle_region *region;
} shape;

static shape shape_at(lua_State *L, int index, const char *word) {
  shape found = {girdle_lua_path_at(L, index), girdle_lua_region_at(L, index)};
  if (!found.path && !found.region && girdle_lua_box_kind(L, index) >= 0 &&
      girdle_lua_box_kind(L, index) <= GIRDLE_BOX_REGION)
    girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "this shape is closed");
  if (!found.path && !found.region)
    girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "%s works on a path or a region, not on %s; write shape:%s(...)", word,
                    girdle_lua_type_text(L, index), word);
  return found;
}

/* The region's rim, or the path itself; what holds it is pushed. */
static const girdle_path *as_path(lua_State *L, girdle_lua_work *work, shape from, const char *word) {
  girdle_path **rim;
  if (from.path) {
    lua_pushnil(L);
    return from.path;
  }
  rim = girdle_lua_new_path(L);
  girdle_lua_check(L, work, girdle_region_rim(&work->call, from.region, rim), word);
  return *rim;
}

static const girdle_region *as_region(lua_State *L, girdle_lua_work *work, shape from, const char *word) {
  girdle_region **region;
  if (from.region) {
    lua_pushnil(L);
    return from.region;
  }
  if (!girdle_path_is_closed(from.path))
    girdle_lua_fail(L, GIRDLE_GEOMETRY, NULL, "%s needs a closed shape, and this path has two ends", word);
  region = girdle_lua_new_region(L);
  girdle_lua_check(L, work, girdle_region_new(&work->call, from.path, GIRDLE_NONZERO, region), word);
  return *region;
}

static int transformed(lua_State *L, girdle_lua_work *work, shape from, const double matrix[6], const char *word) {
  girdle_path **path;
  girdle_region **region;
  if (from.path) {
    path = girdle_lua_new_path(L);
    girdle_lua_check(L, work, girdle_path_transformed(&work->call, from.path, matrix, path), word);
  } else {
    region = girdle_lua_new_region(L);
    girdle_lua_check(L, work, girdle_region_transformed(&work->call, from.region, matrix, region), word);
  }
  return 1;
}

/* ---- making */

int girdle_lua_path(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value text[1];
  girdle_path **path;
  girdle_lua_places(L, &work, 1, "path", girdle_fields_path, text);
  path = girdle_lua_new_path(L);
  girdle_lua_check(L, &work, girdle_path_from_text(&work.call, text[0].text, path), "path");
  return 1;
}

typedef int32_t path_of_length(girdle_call *call, double length_mm, girdle_path **out);

static int path_by_length(lua_State *L, const char *word, const girdle_lua_field *fields, path_of_length *make) {
  girdle_lua_work work;
  girdle_lua_value length[1];
  girdle_path **path;
  girdle_lua_places(L, &work, 1, word, fields, length);
  path = girdle_lua_new_path(L);
  girdle_lua_check(L, &work, make(&work.call, length[0].number, path), word);
  return 1;
}

int girdle_lua_line(lua_State *L) {
  return path_by_length(L, "line", girdle_fields_line, girdle_path_line);
}

int girdle_lua_loop(lua_State *L) {
  return path_by_length(L, "loop", girdle_fields_loop, girdle_path_loop);
}

/* A text reads as it does for a region anywhere else, so it may be an area, too. */
static int region_from_text(lua_State *L) {
  girdle_lua_field outline = girdle_fields_region[0];
  girdle_lua_faults faults = {"region", 0, 0, {{0}}};
  girdle_lua_work work;
  girdle_lua_value value;
  girdle_lua_begin(L, &work);
  lua_settop(L, 1);
  outline.kind = GIRDLE_KIND_REGION;
  if (girdle_lua_read(L, &work, &outline, &value)) {
    girdle_lua_fault(&faults, &work.error, &outline);
    girdle_lua_raise(L, &faults);
  }
  return 1;
}

/* region("M...z", { rule = "evenodd" }), or region(path) */
int girdle_lua_region(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value outline[2], rule[1] = {{0}};
  girdle_region **region;
  if (lua_type(L, 1) == LUA_TSTRING && lua_gettop(L) <= 2 && lua_isnoneornil(L, 2)) return region_from_text(L);
  girdle_lua_places(L, &work, 1, "region", girdle_fields_region, outline);
  if (outline[1].given) girdle_lua_fields(L, &work, 2, "region", girdle_fields_region_rule, rule);
  region = girdle_lua_new_region(L);
  girdle_lua_check(L, &work, girdle_region_new(&work.call, outline[0].handle, rule[0].choice, region), "region");
  return 1;
}

/* A shape from a tape measure, its measures in their places. */
static int region_by_places(lua_State *L, const char *word, const girdle_lua_field *fields) {
  girdle_lua_work work;
  girdle_lua_value values[4];
  double measures[4];
  uint64_t count = 0;
  girdle_region **region;
  girdle_lua_places(L, &work, 1, word, fields, values);
  for (; fields[count].name; count++)
    measures[count] = values[count].number;
  region = girdle_lua_new_region(L);
  girdle_lua_check(L, &work, girdle_region_from_tape(&work.call, word, measures, count, region), word);
  return 1;
}

int girdle_lua_rectangle(lua_State *L) {
  return region_by_places(L, "rectangle", girdle_fields_rectangle);
}

int girdle_lua_oval(lua_State *L) {
  return region_by_places(L, "oval", girdle_fields_rectangle);
}

int girdle_lua_strip(lua_State *L) {
  return region_by_places(L, "strip", girdle_fields_strip);
}

int girdle_lua_trapezoid(lua_State *L) {
  return region_by_places(L, "trapezoid", girdle_fields_trapezoid);
}

int girdle_lua_triangle(lua_State *L) {
  return region_by_places(L, "triangle", girdle_fields_rectangle);
}

int girdle_lua_teardrop(lua_State *L) {
  return region_by_places(L, "teardrop", girdle_fields_rectangle);
}

int girdle_lua_keyhole(lua_State *L) {
  return region_by_places(L, "keyhole", girdle_fields_keyhole);
}

int girdle_lua_yoke(lua_State *L) {
  return region_by_places(L, "yoke", girdle_fields_yoke);
}

int girdle_lua_sleeve(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[SLEEVE_END];
  girdle_region **region;
  girdle_lua_fields(L, &work, 1, "sleeve", girdle_fields_sleeve, v);
  region = girdle_lua_new_region(L);
  girdle_lua_check(
      L, &work,
      girdle_region_from_tape(&work.call, "sleeve",
                              (const double[]){v[SLEEVE_WRIST].number, v[SLEEVE_TOP].number, v[SLEEVE_LENGTH].number},
                              3, region),
      "sleeve");
  return 1;
}

int girdle_lua_skirt(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[SKIRT_END];
  girdle_region **region;
  girdle_lua_fields(L, &work, 1, "skirt", girdle_fields_skirt, v);
  region = girdle_lua_new_region(L);
  girdle_lua_check(L, &work,
                   girdle_region_skirt(&work.call, v[SKIRT_WAIST].number, v[SKIRT_LENGTH].number,
                                       v[SKIRT_FULLNESS].given ? v[SKIRT_FULLNESS].number : 1, region),
                   "skirt");
  return 1;
}

/* The widths of a panel from the list at an index. Pushes what holds them. */
static const double *read_widths(lua_State *L, girdle_lua_work *work, int list, uint64_t *count) {
  static const girdle_lua_field width = {"widths", GIRDLE_KIND_LENGTH,         1,   0, 1e7, NULL,
                                         NULL,     "{ \"20 cm\", \"24 cm\" }", NULL};
  double *widths;
  girdle_lua_value value;
  *count = lua_rawlen(L, list);
  if (*count > 10000) girdle_lua_fail(L, GIRDLE_LIMIT, "widths", "a panel has at most 10000 widths");
  widths = lua_newuserdatauv(L, (size_t)(*count + 1) * sizeof *widths, 0);
  for (uint64_t i = 0; i < *count; i++) {
    lua_rawgeti(L, list, (lua_Integer)i + 1);
    girdle_lua_check(L, work, girdle_lua_read(L, work, &width, &value), "panel");
    widths[i] = value.given ? value.number : 0;
    lua_pop(L, 1);
  }
  return widths;
}

int girdle_lua_panel(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[PANEL_END];
  const double *widths;
  uint64_t count;
  girdle_region **region;
  lua_settop(L, 1);
  girdle_lua_fields(L, &work, 1, "panel", girdle_fields_panel, v);
  lua_getfield(L, 1, "widths");
  widths = read_widths(L, &work, lua_gettop(L), &count);
  region = girdle_lua_new_region(L);
  girdle_lua_check(L, &work, girdle_region_panel(&work.call, v[PANEL_EVERY].number, widths, count, region), "panel");
  return 1;
}

int girdle_lua_area(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[1];
  girdle_region **region;
  girdle_lua_places(L, &work, 1, "area", girdle_fields_area, v);
  region = girdle_lua_new_region(L);
  girdle_lua_check(L, &work, girdle_region_area(&work.call, v[0].number, region), "area");
  return 1;
}

/* ---- measuring */

int girdle_lua_shape_length(lua_State *L) {
  shape from = shape_at(L, 1, "length");
  lua_pushnumber(L, from.path ? girdle_path_length_mm(from.path) : girdle_region_perimeter_mm(from.region));
  return 1;
}

int girdle_lua_shape_area(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_begin(L, &work);
  lua_pushnumber(L, girdle_region_area_mm2(as_region(L, &work, shape_at(L, 1, "area"), "area")));
  return 1;
}

int girdle_lua_shape_perimeter(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_begin(L, &work);
  lua_pushnumber(L, girdle_region_perimeter_mm(as_region(L, &work, shape_at(L, 1, "perimeter"), "perimeter")));
  return 1;
}

int girdle_lua_shape_at(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value distance[1];
  girdle_point_on point;
  shape from = shape_at(L, 1, "at");
  girdle_lua_places(L, &work, 2, "at", girdle_fields_at, distance);
  girdle_lua_check(L, &work, girdle_path_at(&work.call, as_path(L, &work, from, "at"), distance[0].number, &point),
                   "at");
  lua_pushnumber(L, point.x_mm);
  lua_pushnumber(L, point.y_mm);
  lua_pushnumber(L, point.angle_deg);
  return 3;
}

/* Nothing at a cusp, where it is no number. */
int girdle_lua_shape_curvature(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value distance[1];
  girdle_point_on point;
  shape from = shape_at(L, 1, "curvature");
  girdle_lua_places(L, &work, 2, "curvature", girdle_fields_at, distance);
  girdle_lua_check(L, &work,
                   girdle_path_at(&work.call, as_path(L, &work, from, "curvature"), distance[0].number, &point),
                   "curvature");
  if (isfinite(point.curvature_per_mm))
    lua_pushnumber(L, point.curvature_per_mm);
  else
    lua_pushnil(L);
  return 1;
}

int girdle_lua_shape_closed(lua_State *L) {
  shape from = shape_at(L, 1, "closed");
  lua_pushboolean(L, !from.path || girdle_path_is_closed(from.path));
  return 1;
}

int girdle_lua_shape_subpaths(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_begin(L, &work);
  lua_pushinteger(L, (lua_Integer)girdle_path_subpaths(as_path(L, &work, shape_at(L, 1, "subpaths"), "subpaths")));
  return 1;
}

int girdle_lua_shape_holes(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_begin(L, &work);
  lua_pushinteger(L, (lua_Integer)girdle_region_holes(as_region(L, &work, shape_at(L, 1, "holes"), "holes")));
  return 1;
}

int girdle_lua_shape_box(lua_State *L) {
  shape from = shape_at(L, 1, "box");
  girdle_box box;
  if (from.path)
    girdle_path_box(from.path, &box);
  else
    girdle_region_box(from.region, &box);
  lua_pushnumber(L, box.left_mm);
  lua_pushnumber(L, box.top_mm);
  lua_pushnumber(L, box.right_mm);
  lua_pushnumber(L, box.bottom_mm);
  return 4;
}

int girdle_lua_shape_contains(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value at[2];
  shape from = shape_at(L, 1, "contains");
  girdle_lua_places(L, &work, 2, "contains", girdle_fields_place, at);
  lua_pushboolean(L, girdle_region_contains(as_region(L, &work, from, "contains"), at[0].number, at[1].number));
  return 1;
}

int girdle_lua_shape_nearest(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value at[2];
  double along_mm, distance_mm;
  shape from = shape_at(L, 1, "nearest");
  girdle_lua_places(L, &work, 2, "nearest", girdle_fields_place, at);
  girdle_lua_check(L, &work,
                   girdle_path_nearest(&work.call, as_path(L, &work, from, "nearest"), at[0].number, at[1].number,
                                       &along_mm, &distance_mm),
                   "nearest");
  lua_pushnumber(L, along_mm);
  lua_pushnumber(L, distance_mm);
  return 2;
}

/* The distances along the path of its corners, and how much each turns. */
int girdle_lua_shape_corners(lua_State *L) {
  enum { MOST = 10000 };
  girdle_lua_work work;
  girdle_lua_value least[1];
  girdle_turn *turns;
  uint64_t count;
  const girdle_path *path;
  shape from = shape_at(L, 1, "corners");
  girdle_lua_places(L, &work, 2, "corners", girdle_fields_corners, least);
  path = as_path(L, &work, from, "corners");
  turns = lua_newuserdatauv(L, MOST * sizeof *turns, 0);
  girdle_lua_check(L, &work,
                   girdle_path_turns(&work.call, path, least[0].given ? least[0].number : 30, turns, MOST, &count),
                   "corners");
  if (count > MOST) count = MOST;
  lua_createtable(L, (int)count, 0);
  lua_createtable(L, (int)count, 0);
  for (uint64_t i = 0; i < count; i++) {
    lua_pushnumber(L, turns[i].along_mm);
    lua_rawseti(L, -3, (lua_Integer)i + 1);
    lua_pushnumber(L, turns[i].turn_deg);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 2;
}

/* Where two paths meet, or one itself: a list of places. */
int girdle_lua_shape_meetings(lua_State *L) {
  enum { MOST = 10000 };
  girdle_lua_work work;
  girdle_lua_value other[1];
  girdle_meeting *found;
  uint64_t count;
  const girdle_path *path;
  shape from = shape_at(L, 1, "meetings");
  girdle_lua_places(L, &work, 2, "meetings", girdle_fields_meetings, other);
  path = as_path(L, &work, from, "meetings");
  found = lua_newuserdatauv(L, MOST * sizeof *found, 0);
  girdle_lua_check(L, &work, girdle_path_meetings(&work.call, path, other[0].handle, found, MOST, &count), "meetings");
  lua_createtable(L, (int)(count < MOST ? count : MOST), 0);
  for (uint64_t i = 0; i < count && i < MOST; i++) {
    const double numbers[] = {found[i].x_mm, found[i].y_mm, found[i].first_mm, found[i].second_mm};
    static const char *const names[] = {"x", "y", "along", "along_other"};
    lua_createtable(L, 0, 5);
    for (int k = 0; k < 4; k++) {
      lua_pushnumber(L, numbers[k]);
      lua_setfield(L, -2, names[k]);
    }
    lua_pushboolean(L, found[i].crosses);
    lua_setfield(L, -2, "crosses");
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

int girdle_lua_shape_centre(lua_State *L) {
  girdle_lua_work work;
  double x_mm, y_mm;
  girdle_lua_begin(L, &work);
  girdle_region_centroid(as_region(L, &work, shape_at(L, 1, "centre"), "centre"), &x_mm, &y_mm);
  lua_pushnumber(L, x_mm);
  lua_pushnumber(L, y_mm);
  return 2;
}

int girdle_lua_shape_depth(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value at[2];
  shape from = shape_at(L, 1, "depth");
  girdle_lua_places(L, &work, 2, "depth", girdle_fields_place, at);
  lua_pushnumber(L, girdle_region_depth_mm(as_region(L, &work, from, "depth"), at[0].number, at[1].number));
  return 1;
}

/* SVG path data that reads back equal. */
int girdle_lua_shape_data(lua_State *L) {
  girdle_lua_work work;
  const girdle_path *path;
  uint64_t bytes;
  char *text;
  girdle_lua_begin(L, &work);
  path = as_path(L, &work, shape_at(L, 1, "data"), "data");
  bytes = girdle_path_text(path, NULL, 0) + 1;
  if (bytes > GIRDLE_LUA_STRING_BYTES)
    return girdle_lua_fail(L, GIRDLE_LIMIT, "data", "the path's data would be longer than 1 MiB");
  girdle_lua_charge(L, bytes);
  text = lua_newuserdatauv(L, (size_t)bytes, 0);
  girdle_path_text(path, text, bytes);
  lua_pushstring(L, text);
  return 1;
}

/* ---- changing */

int girdle_lua_shape_offset(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value distance[1];
  const girdle_path *from;
  girdle_path **path;
  shape given = shape_at(L, 1, "offset");
  girdle_lua_places(L, &work, 2, "offset", girdle_fields_offset, distance);
  from = as_path(L, &work, given, "offset");
  path = girdle_lua_new_path(L);
  girdle_lua_check(L, &work, girdle_path_offset(&work.call, from, distance[0].number, path), "offset");
  return 1;
}

const girdle_path *girdle_lua_set_in(lua_State *L, girdle_lua_work *work, const girdle_path *along, double distance_mm,
                                     const char *word) {
  girdle_path **inner;
  if (distance_mm == 0) return along;
  inner = girdle_lua_new_path(L);
  if (distance_mm > 0)
    girdle_lua_check(L, work, girdle_path_set_in(&work->call, along, distance_mm, inner), word);
  else
    girdle_lua_check(L, work, girdle_path_offset(&work->call, along, distance_mm, inner), word);
  return *inner;
}

int girdle_lua_shape_set_in(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value distance[1];
  shape given = shape_at(L, 1, "set_in");
  girdle_lua_places(L, &work, 2, "set_in", girdle_fields_set_in, distance);
  if (!given.path)
    as_path(L, &work, given, "set_in");
  else
    lua_pushvalue(L, 1);
  girdle_lua_set_in(L, &work, girdle_lua_path_at(L, -1), distance[0].number, "set_in");
  return 1;
}

/* The rim of a region; a path is its own. */
int girdle_lua_shape_rim(lua_State *L) {
  girdle_lua_work work;
  shape from = shape_at(L, 1, "rim");
  girdle_lua_begin(L, &work);
  if (from.path)
    lua_pushvalue(L, 1);
  else
    as_path(L, &work, from, "rim");
  return 1;
}

int girdle_lua_shape_lower_edge(lua_State *L) {
  girdle_lua_work work;
  const girdle_region *of;
  girdle_path **edge;
  girdle_lua_begin(L, &work);
  of = as_region(L, &work, shape_at(L, 1, "lower_edge"), "lower_edge");
  edge = girdle_lua_new_path(L);
  girdle_lua_check(L, &work, girdle_region_lower_edge(&work.call, of, edge), "lower_edge");
  return 1;
}

/* A closed path gives back a path, a region a region. */
int girdle_lua_shape_inset(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value distance[1];
  const girdle_region *from;
  girdle_region **region;
  girdle_path **rim;
  shape given = shape_at(L, 1, "inset");
  girdle_lua_places(L, &work, 2, "inset", girdle_fields_inset, distance);
  from = as_region(L, &work, given, "inset");
  region = girdle_lua_new_region(L);
  girdle_lua_check(L, &work, girdle_region_inset(&work.call, from, distance[0].number, region), "inset");
  if (given.region) return 1;
  rim = girdle_lua_new_path(L);
  girdle_lua_check(L, &work, girdle_region_rim(&work.call, *region, rim), "inset");
  return 1;
}

int girdle_lua_shape_mirrored(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value x[1];
  shape from = shape_at(L, 1, "mirrored");
  girdle_lua_places(L, &work, 2, "mirrored", girdle_fields_mirrored, x);
  return transformed(L, &work, from, (const double[6]){-1, 0, 0, 1, 2 * (x[0].given ? x[0].number : 0), 0}, "mirrored");
}

int girdle_lua_shape_moved(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value by[2];
  shape from = shape_at(L, 1, "moved");
  girdle_lua_places(L, &work, 2, "moved", girdle_fields_moved, by);
  return transformed(L, &work, from, (const double[6]){1, 0, 0, 1, by[0].number, by[1].number}, "moved");
}

/* Quarter turns are exact. */
static void turn_matrix(double deg, double matrix[6]) {
  double rest = fmod(deg, 360), quarter = fmod(rest / 90 + 4, 4);
  double c = cos(deg * 3.14159265358979323846 / 180), s = sin(deg * 3.14159265358979323846 / 180);
  static const double cosines[] = {1, 0, -1, 0}, sines[] = {0, 1, 0, -1};
  if (quarter == floor(quarter)) {
    c = cosines[(int)quarter];
    s = sines[(int)quarter];
  }
  matrix[0] = matrix[3] = c;
  matrix[1] = s;
  matrix[2] = -s;
  matrix[4] = matrix[5] = 0;
}

int girdle_lua_shape_turned(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value turn[1];
  double matrix[6];
  shape from = shape_at(L, 1, "turned");
  girdle_lua_places(L, &work, 2, "turned", girdle_fields_turned, turn);
  turn_matrix(turn[0].number, matrix);
  return transformed(L, &work, from, matrix, "turned");
}

/* SVG's matrix(a b c d e f). */
int girdle_lua_shape_transformed(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[6];
  double matrix[6];
  shape from = shape_at(L, 1, "transformed");
  girdle_lua_places(L, &work, 2, "transformed", girdle_fields_transformed, v);
  for (int i = 0; i < 6; i++)
    matrix[i] = v[i].given ? v[i].number : 0;
  return transformed(L, &work, from, matrix, "transformed");
}

static int fit_region(lua_State *L, girdle_lua_work *work, const girdle_region *from, const girdle_lua_value *sizes) {
  girdle_region **region;
  girdle_box box;
  double width_mm = sizes[FITTED_WIDTH].number;
  if (sizes[FITTED_LENGTH].given && (sizes[FITTED_WIDTH].given || sizes[FITTED_HEIGHT].given))
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "length", "fitted takes a length alone, or a width, a height or both");
  if (sizes[FITTED_LENGTH].given) {
    girdle_region_box(from, &box);
    width_mm = (box.right_mm - box.left_mm) * sizes[FITTED_LENGTH].number / girdle_region_perimeter_mm(from);
  }
  region = girdle_lua_new_region(L);
  girdle_lua_check(L, work, girdle_region_fitted(&work->call, from, width_mm, sizes[FITTED_HEIGHT].number, region),
                   "fitted");
  return 1;
}

int girdle_lua_shape_fitted(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value sizes[FITTED_END];
  girdle_path **path;
  shape from = shape_at(L, 1, "fitted");
  girdle_lua_fields(L, &work, 2, "fitted", girdle_fields_fitted, sizes);
  if (!sizes[FITTED_LENGTH].given && !sizes[FITTED_WIDTH].given && !sizes[FITTED_HEIGHT].given)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "fitted",
                           "fitted needs a length, a width or a height, like shape:fitted { width = \"20 cm\" }");
  if (from.region) return fit_region(L, &work, from.region, sizes);
  path = girdle_lua_new_path(L);
  girdle_lua_check(L, &work,
                   girdle_path_fitted(&work.call, from.path, sizes[FITTED_LENGTH].number, sizes[FITTED_WIDTH].number,
                                      sizes[FITTED_HEIGHT].number, path),
                   "fitted");
  return 1;
}

/* Lies as the fields say and lay as `from` did, flat as cut unless given. */
int girdle_lua_shape_stretched(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value by[STRETCHED_END];
  girdle_lie from, to;
  shape given = shape_at(L, 1, "stretched");
  girdle_path **path;
  girdle_region **region;
  lua_settop(L, 2);
  girdle_lua_fields(L, &work, 2, "stretched", girdle_fields_stretched, by);
  from = girdle_lua_lie(L, 2, "from");
  to.across = by[STRETCHED_ACROSS].given ? by[STRETCHED_ACROSS].number : 0;
  to.along = by[STRETCHED_ALONG].given ? by[STRETCHED_ALONG].number : 0;
  if (given.path) {
    path = girdle_lua_new_path(L);
    girdle_lua_check(L, &work, girdle_path_stretched(&work.call, given.path, &from, &to, path), "stretched");
  } else {
    region = girdle_lua_new_region(L);
    girdle_lua_check(L, &work, girdle_region_stretched(&work.call, given.region, &from, &to, region), "stretched");
  }
  return 1;
}

static girdle_path **path_from(lua_State *L, girdle_lua_work *work, const char *word, const girdle_path **from) {
  *from = as_path(L, work, shape_at(L, 1, word), word);
  return girdle_lua_new_path(L);
}

int girdle_lua_shape_reversed(lua_State *L) {
  girdle_lua_work work;
  const girdle_path *from;
  girdle_path **path;
  girdle_lua_begin(L, &work);
  path = path_from(L, &work, "reversed", &from);
  girdle_lua_check(L, &work, girdle_path_reversed(&work.call, from, path), "reversed");
  return 1;
}

int girdle_lua_shape_part(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value ends[2];
  const girdle_path *from;
  girdle_path **path;
  girdle_lua_places(L, &work, 2, "part", girdle_fields_part, ends);
  path = path_from(L, &work, "part", &from);
  girdle_lua_check(L, &work, girdle_path_part(&work.call, from, ends[0].number, ends[1].number, path), "part");
  return 1;
}

int girdle_lua_shape_split(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value at[1];
  const girdle_path *from;
  girdle_path **head, **tail;
  girdle_lua_places(L, &work, 2, "split", girdle_fields_at, at);
  head = path_from(L, &work, "split", &from);
  tail = girdle_lua_new_path(L);
  girdle_lua_check(L, &work, girdle_path_split(&work.call, from, at[0].number, head, tail), "split");
  return 2;
}

int girdle_lua_shape_flattened(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value tolerance[1];
  const girdle_path *from;
  girdle_path **path;
  girdle_lua_places(L, &work, 2, "flattened", girdle_fields_flattened, tolerance);
  path = path_from(L, &work, "flattened", &from);
  girdle_lua_check(L, &work,
                   girdle_path_flattened(&work.call, from, tolerance[0].given ? tolerance[0].number : 0.01, path),
                   "flattened");
  return 1;
}

int girdle_lua_shape_without(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value other[1];
  const girdle_region *from;
  girdle_region **region;
  shape given = shape_at(L, 1, "without");
  girdle_lua_places(L, &work, 2, "without", girdle_fields_without, other);
  from = as_region(L, &work, given, "without");
  region = girdle_lua_new_region(L);
  girdle_lua_check(L, &work, girdle_region_without(&work.call, from, other[0].handle, region), "without");
  return 1;
}

int girdle_lua_shape_joined(lua_State *L) {
  girdle_lua_work work;
  const girdle_path *first = girdle_lua_path_at(L, 1), *second = girdle_lua_path_at(L, 2);
  girdle_path **path;
  if (!first || !second)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "only a path can be joined to a path with +, not %s to %s",
                           girdle_lua_type_text(L, 2), girdle_lua_type_text(L, 1));
  girdle_lua_begin(L, &work);
  path = girdle_lua_new_path(L);
  girdle_lua_check(L, &work, girdle_path_joined(&work.call, first, second, path), "+");
  return 1;
}

/* As +, in a chain of methods. */
int girdle_lua_shape_joined_to(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value other[1];
  const girdle_path *from;
  girdle_path **path;
  shape given = shape_at(L, 1, "joined");
  girdle_lua_places(L, &work, 2, "joined", girdle_fields_joined, other);
  from = as_path(L, &work, given, "joined");
  path = girdle_lua_new_path(L);
  girdle_lua_check(L, &work, girdle_path_joined(&work.call, from, other[0].handle, path), "joined");
  return 1;
}
