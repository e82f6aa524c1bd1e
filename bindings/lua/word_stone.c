/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "fields.h"
#include "words.h"

/* stone, and what can be read from one; the stream of chance. */

static const char *const outlines[] = {"round", "oval", "pear", "navette", "square", "rectangle", "heart"};
static const char *const fixes[] = {"glue", "sew", "both"};

static void set_range(double range[3], const girdle_lua_value *nominal, const girdle_lua_value *least,
                      const girdle_lua_value *most) {
  if (least->given) range[GIRDLE_LEAST] = least->number;
  if (nominal->given) range[GIRDLE_NOMINAL] = nominal->number;
  if (most->given) range[GIRDLE_MOST] = most->number;
}

static int stone_from_fields(lua_State *L, int index, const girdle_catalogue *own) {
  girdle_lua_work work;
  girdle_lua_value v[STONE_END];
  girdle_stone_spec spec;
  girdle_stone stone;
  girdle_lua_fields(L, &work, index, "stone", girdle_fields_stone, v);
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.own = own ? own : work.call.own;
  spec.size = v[STONE_SIZE].text;
  spec.colour = v[STONE_COLOUR].text;
  spec.finish = v[STONE_FINISH].text;
  spec.material = v[STONE_MATERIAL].text;
  spec.cut = v[STONE_CUT].text;
  spec.fix = v[STONE_FIX].choice;
  spec.outline = v[STONE_OUTLINE].choice;
  if (v[STONE_LENGTH_RATIO].given) spec.length_ratio = v[STONE_LENGTH_RATIO].number;
  if (v[STONE_HEIGHT].given) spec.height_mm = v[STONE_HEIGHT].number;
  set_range(spec.diameter_mm, &v[STONE_DIAMETER], &v[STONE_DIAMETER_LEAST], &v[STONE_DIAMETER_MOST]);
  set_range(spec.mass_mg, &v[STONE_MASS], &v[STONE_MASS_LEAST], &v[STONE_MASS_MOST]);
  memset(&stone, 0, sizeof stone);
  girdle_lua_check(L, &work, girdle_stone_make(&work.call, &spec, &stone), "stone");
  girdle_lua_push_stone(L, &stone);
  return 1;
}

static int stone_from_text(lua_State *L, int index, const girdle_catalogue *own) {
  static const girdle_lua_field text = {
      "stone", GIRDLE_KIND_TEXT, GIRDLE_FIELD_NEEDED, 0, 0, NULL, NULL, "\"ss20 black\"", NULL};
  girdle_lua_faults faults = {"stone", 0, 0, {{0}}};
  girdle_lua_work work;
  girdle_lua_value value;
  girdle_stone stone;
  girdle_lua_begin(L, &work);
  lua_settop(L, index);
  memset(&stone, 0, sizeof stone);
  if (girdle_lua_read(L, &work, &text, &value) ||
      girdle_stone_parse_own(&work.call, value.text, own ? own : work.call.own, &stone)) {
    girdle_lua_fault(&faults, &work.error, &text);
    girdle_lua_raise(L, &faults);
  }
  girdle_lua_push_stone(L, &stone);
  return 1;
}

/* Without a catalogue of its own by what the run knows, such as a club's own sizes. */
int girdle_lua_push_stone_of(lua_State *L, int index, const girdle_catalogue *own) {
  if (girdle_lua_stone_at(L, index)) {
    lua_settop(L, index);
    return 1;
  }
  if (lua_type(L, index) == LUA_TTABLE) return stone_from_fields(L, index, own);
  if (lua_isnoneornil(L, index))
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "stone", "stone takes a text like stone \"ss20 black\", or its fields");
  return stone_from_text(L, index, own);
}

/* stone "ss20 black", or stone { size = "ss20", colour = "black" } */
int girdle_lua_stone(lua_State *L) {
  return girdle_lua_push_stone_of(L, 1, NULL);
}

static const char *mass_from(const girdle_stone *stone) {
  return stone->flags & GIRDLE_MASS_WEIGHED ? "weighing" : stone->flags & GIRDLE_MASS_AT_LEAST ? "at least" : "model";
}

static int32_t text_field(const girdle_stone *stone, const char *name, const char **text) {
  *text = strcmp(name, "size") == 0        ? stone->size
          : strcmp(name, "colour") == 0    ? stone->colour
          : strcmp(name, "finish") == 0    ? stone->finish
          : strcmp(name, "material") == 0  ? stone->material
          : strcmp(name, "cut") == 0       ? stone->cut
          : strcmp(name, "outline") == 0   ? outlines[stone->outline]
          : strcmp(name, "fix") == 0       ? fixes[stone->fix]
          : strcmp(name, "caution") == 0   ? girdle_lead_caution(stone->lead)
          : strcmp(name, "mass_from") == 0 ? mass_from(stone)
                                           : NULL;
  return *text != NULL;
}

static int32_t number_field(const girdle_stone *stone, const char *name, double *number) {
  const struct {
    const char *name;
    double value;
  } known[] = {
      {"diameter_mm", stone->diameter_mm[GIRDLE_NOMINAL]},   {"diameter_least_mm", stone->diameter_mm[GIRDLE_LEAST]},
      {"diameter_most_mm", stone->diameter_mm[GIRDLE_MOST]}, {"height_mm", stone->height_mm},
      {"mass_mg", stone->mass_mg[GIRDLE_NOMINAL]},           {"mass_least_mg", stone->mass_mg[GIRDLE_LEAST]},
      {"mass_most_mg", stone->mass_mg[GIRDLE_MOST]},         {"length_ratio", stone->length_ratio},
      {"footprint_mm2", girdle_stone_footprint_mm2(stone)},  {"circle_mm", girdle_stone_circle_mm(stone)}};
  for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
    if (strcmp(known[i].name, name) != 0) continue;
    *number = known[i].value;
    return 1;
  }
  return 0;
}

static int unknown_field(lua_State *L, const char *name) {
  const char *names[64] = {"caution", "mass_from", "footprint_mm2", "circle_mm"};
  uint64_t count = 4;
  for (uint64_t i = 0; girdle_fields_stone[i].name; i++)
    names[count++] = girdle_fields_stone[i].name;
  count += girdle_lua_names(GIRDLE_OF_STONE, names + count, 16);
  return girdle_lua_unknown(L, "field of a stone", name, names, count);
}

int girdle_lua_stone_index(lua_State *L) {
  const girdle_stone *stone = girdle_lua_box_need(L, 1, GIRDLE_BOX_STONE, "stone");
  const char *name = lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : "", *text;
  const girdle_lua_word *method = girdle_lua_word_of(GIRDLE_OF_STONE, name);
  double number;
  if (text_field(stone, name, &text))
    lua_pushstring(L, text);
  else if (method)
    lua_pushcfunction(L, method->function);
  else if (number_field(stone, name, &number))
    lua_pushnumber(L, number);
  else
    return unknown_field(L, name);
  return 1;
}

/* ---- a stream of chance, the same on every run (splitmix64: Steele, Lea and Flood 2014, public domain) */

typedef struct stream {
  void *handle; /* always NULL */
  uint64_t state;
} stream;

static uint64_t next_of(stream *from) {
  uint64_t z = (from->state += 0x9e3779b97f4a7c15u);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

static double share_of(stream *from) {
  return (double)(next_of(from) >> 11) * 0x1p-53;
}

int girdle_lua_stream(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value seed[1];
  stream *made;
  girdle_lua_places(L, &work, 1, "stream", girdle_fields_stream, seed);
  made = girdle_lua_box(L, GIRDLE_BOX_STREAM, sizeof *made);
  made->state = seed[0].given ? (uint64_t)seed[0].integer : work.context->seed;
  return 1;
}

int girdle_lua_stream_number(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value ends[2];
  stream *from = girdle_lua_box_need(L, 1, GIRDLE_BOX_STREAM, "number");
  double least, most;
  girdle_lua_places(L, &work, 2, "number", girdle_fields_stream_number, ends);
  least = ends[0].given ? ends[0].number : 0;
  most = ends[1].given ? ends[1].number : 1;
  lua_pushnumber(L, least + (most - least) * share_of(from));
  return 1;
}

int girdle_lua_stream_integer(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value ends[2];
  stream *from = girdle_lua_box_need(L, 1, GIRDLE_BOX_STREAM, "integer");
  girdle_lua_places(L, &work, 2, "integer", girdle_fields_stream_integer, ends);
  if (ends[1].integer < ends[0].integer)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "to", "to must be at least from, like stream:integer(1, 6)");
  lua_pushinteger(L, (lua_Integer)(ends[0].integer +
                                   (int64_t)floor(share_of(from) * (double)(ends[1].integer - ends[0].integer + 1))));
  return 1;
}

int girdle_lua_stream_pick(lua_State *L) {
  stream *from = girdle_lua_box_need(L, 1, GIRDLE_BOX_STREAM, "pick");
  lua_Unsigned count = lua_type(L, 2) == LUA_TTABLE ? lua_rawlen(L, 2) : 0;
  if (count == 0)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "list",
                           "pick takes a list that is not empty, like stream:pick { 1, 2 }");
  lua_rawgeti(L, 2, 1 + (lua_Integer)floor(share_of(from) * (double)count));
  return 1;
}
