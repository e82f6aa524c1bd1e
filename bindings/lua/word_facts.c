/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "fields.h"
#include "words.h"

/* What is known of sizes, cuts, materials, tapes and body measures, as lists; and what a stone is like as a solid. */

static void set_text(lua_State *L, const char *name, const char *text) {
  lua_pushstring(L, text);
  lua_setfield(L, -2, name);
}

static void set_number(lua_State *L, const char *name, double value) {
  if (isnan(value)) return;
  lua_pushnumber(L, value);
  lua_setfield(L, -2, name);
}

static void set_flag(lua_State *L, const char *name, int32_t value) {
  lua_pushboolean(L, value != 0);
  lua_setfield(L, -2, name);
}

/* Three numbers as NAME_least, NAME_nominal and NAME_most, with the unit behind. */
static void set_range(lua_State *L, const char *name, const double range[3], const char *unit) {
  static const char *const words[3] = {"least", "nominal", "most"};
  for (int i = 0; i < 3; i++) {
    lua_pushfstring(L, "%s_%s%s", name, words[i], unit);
    lua_pushnumber(L, range[i]);
    lua_rawset(L, -3);
  }
}

/* ---- lists */

static void push_size(lua_State *L, const girdle_size *size) {
  lua_createtable(L, 0, 5);
  set_text(L, "name", size->name);
  set_range(L, "diameter", size->diameter_mm, "_mm");
  set_text(L, "certainty", girdle_certainty_text(size->certainty));
}

int girdle_lua_sizes(lua_State *L) {
  uint64_t count;
  const girdle_size *sizes = girdle_sizes(&count);
  lua_createtable(L, (int)count, 0);
  for (uint64_t i = 0; i < count; i++) {
    push_size(L, &sizes[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

int girdle_lua_push_likely(lua_State *L, int index, const girdle_catalogue *own) {
  enum { MOST = 32 };
  girdle_lua_work work;
  girdle_lua_value v[2];
  girdle_size found[MOST];
  double error_mm;
  uint64_t count;
  girdle_lua_places(L, &work, index, "likely_sizes", girdle_fields_likely_sizes, v);
  error_mm = v[1].given ? v[1].number : 0.05;
  girdle_lua_check(L, &work, girdle_size_likely(&work.call, v[0].number, error_mm, own, found, MOST, &count),
                   "likely_sizes");
  lua_createtable(L, (int)count, 0);
  for (uint64_t i = 0; i < count && i < MOST; i++) {
    double outside_mm = girdle_size_outside_mm(&found[i], v[0].number);
    push_size(L, &found[i]);
    set_number(L, "outside_mm", outside_mm);
    set_flag(L, "fits", outside_mm <= error_mm + 1e-9);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

int girdle_lua_likely_sizes(lua_State *L) {
  return girdle_lua_push_likely(L, 1, NULL);
}

int girdle_lua_cuts(lua_State *L) {
  uint64_t count;
  const girdle_cut *cuts = girdle_cuts(&count);
  lua_createtable(L, (int)count, 0);
  for (uint64_t i = 0; i < count; i++) {
    lua_createtable(L, 0, 13);
    set_text(L, "name", cuts[i].name);
    set_number(L, "facets", cuts[i].facets);
    set_flag(L, "turned", cuts[i].turned);
    set_range(L, "table_ratio", cuts[i].table_ratio, "");
    set_range(L, "height_ratio", cuts[i].height_ratio, "");
    set_range(L, "girdle_ratio", cuts[i].girdle_ratio, "");
    set_text(L, "source", cuts[i].source);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

int girdle_lua_materials(lua_State *L) {
  static const char *const leads[] = {"none", "unknown", "may", "yes"};
  uint64_t count;
  const girdle_material *materials = girdle_materials(&count);
  lua_createtable(L, (int)count, 0);
  for (uint64_t i = 0; i < count; i++) {
    lua_createtable(L, 0, 7);
    set_text(L, "name", materials[i].name);
    set_range(L, "density", materials[i].density_g_cm3, "_g_cm3");
    set_flag(L, "minimum", materials[i].minimum);
    set_text(L, "lead", leads[materials[i].lead]);
    set_text(L, "caution", girdle_lead_caution((uint32_t)materials[i].lead));
    set_text(L, "source", materials[i].source);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

int girdle_lua_tapes(lua_State *L) {
  girdle_tape tape;
  lua_newtable(L);
  for (uint64_t i = 0; girdle_tape_info(i, &tape); i++) {
    lua_createtable(L, 0, 4);
    set_text(L, "word", tape.word);
    set_text(L, "example", tape.example);
    set_text(L, "tape", tape.tape);
    lua_createtable(L, (int)tape.count, 0);
    for (uint64_t k = 0; k < tape.count; k++) {
      lua_pushstring(L, tape.measures[k]);
      lua_rawseti(L, -2, (lua_Integer)k + 1);
    }
    lua_setfield(L, -2, "measures");
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

/* The names, and the limits outside which a measure is worth a second look. */
int girdle_lua_body_measures(lua_State *L) {
  const char *name;
  lua_newtable(L);
  for (uint64_t i = 0; (name = girdle_measure_name(i)) != NULL; i++) {
    double least_mm, most_mm;
    girdle_measure_plausible(i, 0, &least_mm, &most_mm);
    lua_createtable(L, 0, 4);
    set_text(L, "name", name);
    set_text(L, "tape", girdle_measure_tape(i));
    set_number(L, "least_mm", least_mm);
    set_number(L, "most_mm", most_mm);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

/* By any of a measure's names: whether it is plausible, the name, the limits, what to say when it is not. */
int girdle_lua_plausible(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[2];
  uint64_t index;
  double least_mm, most_mm;
  char warning[256];
  girdle_lua_places(L, &work, 1, "plausible", girdle_fields_plausible, v);
  girdle_lua_check(L, &work, girdle_measure_find(&work.call, v[0].text, &index), "plausible");
  lua_pushboolean(L, girdle_measure_plausible(index, v[1].number, &least_mm, &most_mm));
  lua_pushstring(L, girdle_measure_name(index));
  lua_pushnumber(L, least_mm);
  lua_pushnumber(L, most_mm);
  girdle_measure_warning(index, v[1].number, warning, sizeof warning);
  lua_pushstring(L, warning);
  return 5;
}

/* ---- gaps as the fabric lies */

girdle_lie girdle_lua_lie(lua_State *L, int index, const char *name) {
  girdle_lua_work work;
  girdle_lua_value v[2];
  girdle_lie lie = {0, 0};
  int top = lua_gettop(L);
  lua_pushstring(L, name);
  lua_rawget(L, index);
  if (!lua_isnil(L, -1)) {
    girdle_lua_fields(L, &work, top + 1, name, girdle_fields_lie, v);
    lie.across = v[0].given ? v[0].number : 0;
    lie.along = v[1].given ? v[1].number : 0;
  }
  lua_settop(L, top);
  return lie;
}

int girdle_lua_gap_as(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[GAP_AS_END];
  girdle_lie from, to;
  double angle_deg, gap_mm, other_deg;
  lua_settop(L, 1);
  girdle_lua_fields(L, &work, 1, "gap_as", girdle_fields_gap_as, v);
  from = girdle_lua_lie(L, 1, "from");
  to = girdle_lua_lie(L, 1, "to");
  angle_deg = v[GAP_AS_ANGLE].given ? v[GAP_AS_ANGLE].number : 0;
  girdle_lua_check(L, &work, girdle_gap_as(&work.call, v[GAP_AS_GAP].number, angle_deg, &from, &to, &gap_mm), "gap_as");
  girdle_lua_check(L, &work, girdle_angle_as(&work.call, angle_deg, &from, &to, &other_deg), "gap_as");
  lua_pushnumber(L, gap_mm);
  lua_pushnumber(L, other_deg);
  return 2;
}

/* ---- methods of stones */

int girdle_lua_stone_weighed(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[WEIGHED_END];
  girdle_stone weighed;
  double model_off;
  const girdle_stone *stone = girdle_lua_box_need(L, 1, GIRDLE_BOX_STONE, "weighed");
  girdle_lua_fields(L, &work, 2, "weighed", girdle_fields_weighed, v);
  memset(&weighed, 0, sizeof weighed);
  girdle_lua_check(L, &work,
                   girdle_stone_weigh(&work.call, stone, v[WEIGHED_PIECES].integer, v[WEIGHED_MASS].number,
                                      v[WEIGHED_ERROR].given ? v[WEIGHED_ERROR].number : 0, &weighed, &model_off),
                   "weighed");
  girdle_lua_push_stone(L, &weighed);
  lua_pushnumber(L, model_off);
  return 2;
}

int girdle_lua_stone_reach(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[2];
  const girdle_stone *stone = girdle_lua_box_need(L, 1, GIRDLE_BOX_STONE, "reach");
  girdle_lua_places(L, &work, 2, "reach", girdle_fields_reach, v);
  lua_pushnumber(L, girdle_stone_reach_mm(stone, v[1].given ? v[1].number : 0, v[0].number));
  return 1;
}

/* A solid on its way into a table; held by a userdata, so that an error leaves nothing behind. */
static int close_solid(lua_State *L) {
  girdle_solid **solid = lua_touserdata(L, 1);
  girdle_solid_free(*solid);
  *solid = NULL;
  return 0;
}

static girdle_solid **new_solid(lua_State *L) {
  girdle_solid **solid = lua_newuserdatauv(L, sizeof *solid, 0);
  *solid = NULL;
  lua_createtable(L, 0, 1);
  lua_pushcfunction(L, close_solid);
  lua_setfield(L, -2, "__gc");
  lua_setmetatable(L, -2);
  return solid;
}

static void set_vertices(lua_State *L, const girdle_solid *solid) {
  uint64_t count;
  const double *vertices = girdle_solid_vertices(solid, &count);
  lua_createtable(L, (int)count, 0);
  for (uint64_t i = 0; i < count; i++) {
    lua_createtable(L, 3, 0);
    for (uint64_t k = 0; k < 3; k++) {
      lua_pushnumber(L, vertices[3 * i + k]);
      lua_rawseti(L, -2, (lua_Integer)k + 1);
    }
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "vertices");
}

static void set_facets(lua_State *L, const girdle_solid *solid) {
  static const char *const kinds[GIRDLE_FACET_END] = {"back", "girdle", "crown", "table"};
  uint64_t count, corner_count;
  const girdle_facet *facets = girdle_solid_facets(solid, &count);
  const int32_t *corners = girdle_solid_corners(solid, &corner_count);
  lua_createtable(L, (int)count, 0);
  for (uint64_t i = 0; i < count; i++) {
    lua_createtable(L, facets[i].corner_count, 2);
    set_text(L, "kind", kinds[facets[i].kind]);
    set_number(L, "area_mm2", facets[i].area_mm2);
    for (int32_t k = 0; k < facets[i].corner_count; k++) {
      lua_pushinteger(L, (lua_Integer)corners[facets[i].first_corner + (uint64_t)k] + 1);
      lua_rawseti(L, -2, k + 1);
    }
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "facets");
}

int girdle_lua_push_solid(lua_State *L, const girdle_stone *stone, const girdle_catalogue *own) {
  girdle_lua_work work;
  girdle_solid_sums sums;
  girdle_solid **solid;
  girdle_lua_begin(L, &work);
  solid = new_solid(L);
  girdle_lua_check(L, &work, girdle_solid_of(&work.call, stone, own, solid), "solid");
  girdle_solid_sum(*solid, &sums);
  lua_createtable(L, 0, 10);
  set_number(L, "volume_mm3", sums.volume_mm3);
  set_number(L, "height_mm", sums.height_mm);
  set_number(L, "centre_mm", sums.centre_mm);
  set_number(L, "back_mm2", sums.area_mm2[GIRDLE_FACET_BACK]);
  set_number(L, "girdle_mm2", sums.area_mm2[GIRDLE_FACET_GIRDLE]);
  set_number(L, "crown_mm2", sums.area_mm2[GIRDLE_FACET_CROWN]);
  set_number(L, "table_mm2", sums.area_mm2[GIRDLE_FACET_TABLE]);
  lua_pushinteger(L, (lua_Integer)sums.facets);
  lua_setfield(L, -2, "main_facets");
  set_vertices(L, *solid);
  set_facets(L, *solid);
  return 1;
}

int girdle_lua_stone_solid(lua_State *L) {
  return girdle_lua_push_solid(L, girdle_lua_box_need(L, 1, GIRDLE_BOX_STONE, "solid"), NULL);
}
