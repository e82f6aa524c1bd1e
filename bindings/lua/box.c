/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <stdio.h>
#include <string.h>

#include "words.h"

/* Boxes: the userdata in which Lua holds what the core made. A box is there first and empty; the core then fills its
 * handle, so an error on the way leaves nothing behind. */

static const struct {
  const char *text;
  int32_t methods; /* whose words are its methods; -1 when it has none */
} boxes[GIRDLE_BOX_END] = {
    {"path", GIRDLE_OF_SHAPE},
    {"region", GIRDLE_OF_SHAPE},
    {"placement", GIRDLE_OF_PLACEMENT},
    {"stone", -1},
    {"stream", GIRDLE_OF_STREAM},
    {"recipe", -1},
    {"costume", -1},
    {"zone", -1},
    {"catalogue", GIRDLE_OF_CATALOGUE},
};

const char *girdle_lua_box_text(int32_t kind) {
  return boxes[kind].text;
}

static void make_metatable(lua_State *L, int32_t kind);

/* The registry's keys of the metatables are the addresses of the rows above. One is made with the first value of its
 * kind, so that a short recipe does not wait for what it never uses. */
static void push_metatable(lua_State *L, int32_t kind) {
  if (lua_rawgetp(L, LUA_REGISTRYINDEX, &boxes[kind]) == LUA_TTABLE) return;
  lua_pop(L, 1);
  make_metatable(L, kind);
  lua_pushvalue(L, -1);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &boxes[kind]);
}

void *girdle_lua_box(lua_State *L, int32_t kind, size_t bytes) {
  void *box = lua_newuserdatauv(L, bytes, 1);
  memset(box, 0, bytes);
  push_metatable(L, kind);
  lua_setmetatable(L, -2);
  return box;
}

void *girdle_lua_box_at(lua_State *L, int index, int32_t kind) {
  int same;
  if (lua_type(L, index) != LUA_TUSERDATA || !lua_getmetatable(L, index)) return NULL;
  lua_rawgetp(L, LUA_REGISTRYINDEX, &boxes[kind]);
  same = lua_rawequal(L, -1, -2);
  lua_pop(L, 2);
  return same ? lua_touserdata(L, index) : NULL;
}

int32_t girdle_lua_box_kind(lua_State *L, int index) {
  for (int32_t kind = 0; kind < GIRDLE_BOX_END; kind++)
    if (girdle_lua_box_at(L, index, kind)) return kind;
  return -1;
}

void *girdle_lua_box_need(lua_State *L, int index, int32_t kind, const char *word) {
  void *box = girdle_lua_box_at(L, index, kind);
  if (!box)
    girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "%s works on a %s, not on %s; write value:%s()", word, boxes[kind].text,
                    girdle_lua_type_text(L, index), word);
  return box;
}

static void *handle_at(lua_State *L, int index, int32_t kind) {
  void **box = girdle_lua_box_at(L, index, kind);
  return box ? *box : NULL;
}

const girdle_path *girdle_lua_path_at(lua_State *L, int index) {
  return handle_at(L, index, GIRDLE_BOX_PATH);
}

const girdle_region *girdle_lua_region_at(lua_State *L, int index) {
  return handle_at(L, index, GIRDLE_BOX_REGION);
}

const girdle_placement *girdle_lua_placement_at(lua_State *L, int index) {
  return handle_at(L, index, GIRDLE_BOX_PLACEMENT);
}

const girdle_stone *girdle_lua_stone_at(lua_State *L, int index) {
  return girdle_lua_box_at(L, index, GIRDLE_BOX_STONE);
}

girdle_path **girdle_lua_new_path(lua_State *L) {
  return girdle_lua_box(L, GIRDLE_BOX_PATH, sizeof(girdle_path *));
}

girdle_region **girdle_lua_new_region(lua_State *L) {
  return girdle_lua_box(L, GIRDLE_BOX_REGION, sizeof(girdle_region *));
}

girdle_placement **girdle_lua_new_placement(lua_State *L) {
  return girdle_lua_box(L, GIRDLE_BOX_PLACEMENT, sizeof(girdle_placement *));
}

void girdle_lua_push_stone(lua_State *L, const girdle_stone *stone) {
  memcpy(girdle_lua_box(L, GIRDLE_BOX_STONE, sizeof *stone), stone, sizeof *stone);
}

void girdle_lua_push_number(lua_State *L, double value, int32_t decimals) {
  char text[64];
  girdle_number_text(value, decimals, text, sizeof text);
  lua_pushstring(L, text);
}

/* ---- metamethods */

static int free_box(lua_State *L) {
  void **box = lua_touserdata(L, 1);
  switch (girdle_lua_box_kind(L, 1)) {
    case GIRDLE_BOX_PATH:
      girdle_path_free(*box);
      break;
    case GIRDLE_BOX_REGION:
      girdle_region_free(*box);
      break;
    case GIRDLE_BOX_PLACEMENT:
      girdle_placement_free(*box);
      break;
    default:
      return 0;
  }
  *box = NULL;
  return 0;
}

static int push_measured(lua_State *L, const char *name, double value, const char *unit) {
  girdle_lua_push_number(L, value, 2);
  lua_pushfstring(L, "%s of %s %s", name, lua_tostring(L, -1), unit);
  return 1;
}

static int stone_tostring(lua_State *L) {
  char text[256];
  girdle_stone_text(lua_touserdata(L, 1), text, sizeof text);
  lua_pushstring(L, text);
  return 1;
}

/* Free of addresses, so that what is printed is the same on every run. */
static int box_tostring(lua_State *L) {
  int32_t kind = girdle_lua_box_kind(L, 1);
  void **box = lua_touserdata(L, 1);
  if (kind == GIRDLE_BOX_STONE) return stone_tostring(L);
  if (kind == GIRDLE_BOX_RECIPE || kind == GIRDLE_BOX_COSTUME || kind == GIRDLE_BOX_ZONE) {
    lua_pushfstring(L, "%s '%s'", boxes[kind].text, ((girdle_lua_recipe *)(void *)box)->name);
    return 1;
  }
  if (kind >= 0 && *box && kind == GIRDLE_BOX_PATH) return push_measured(L, "path", girdle_path_length_mm(*box), "mm");
  if (kind >= 0 && *box && kind == GIRDLE_BOX_REGION)
    return push_measured(L, "region", girdle_region_area_mm2(*box), "mm2");
  if (kind >= 0 && *box && kind == GIRDLE_BOX_PLACEMENT)
    return push_measured(L, "placement", (double)girdle_placement_view(*box, NULL, NULL, NULL), "stones");
  lua_pushstring(L, kind < 0 ? "nothing" : boxes[kind].text);
  return 1;
}

static int placement_length(lua_State *L) {
  girdle_placement **box = girdle_lua_box_need(L, 1, GIRDLE_BOX_PLACEMENT, "#");
  if (!*box) return girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "this placement is closed");
  lua_pushinteger(L, (lua_Integer)girdle_placement_view(*box, NULL, NULL, NULL));
  return 1;
}

static int stones_equal(lua_State *L) {
  const girdle_stone *a = girdle_lua_stone_at(L, 1), *b = girdle_lua_stone_at(L, 2);
  lua_pushboolean(L, a && b && girdle_stone_equal(a, b));
  return 1;
}

/* ---- methods */

/* A method that was not asked for yet is put into the table at 1; other names are no method. */
static int find_method(lua_State *L, int32_t owner, const char *what) {
  const char *names[64];
  const char *name = lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : girdle_lua_type_text(L, 2);
  const girdle_lua_word *word = girdle_lua_word_of(owner, name);
  if (!word) return girdle_lua_unknown(L, what, name, names, girdle_lua_names(owner, names, 64));
  lua_pushcfunction(L, word->function);
  lua_pushvalue(L, 2);
  lua_pushvalue(L, -2);
  lua_rawset(L, 1);
  return 1;
}

static int find_of_shape(lua_State *L) {
  return find_method(L, GIRDLE_OF_SHAPE, "method of a shape");
}

static int find_of_placement(lua_State *L) {
  return find_method(L, GIRDLE_OF_PLACEMENT, "method of a placement");
}

static int find_of_stream(lua_State *L) {
  return find_method(L, GIRDLE_OF_STREAM, "method of a stream");
}

static int find_of_catalogue(lua_State *L) {
  return find_method(L, GIRDLE_OF_CATALOGUE, "method of a catalogue");
}

/* By owner; a stone's methods are found with its fields. */
static const lua_CFunction finders[] = {NULL,           find_of_shape, find_of_placement,
                                        find_of_stream, NULL,          find_of_catalogue};

/* Paths and regions have one table, so it is kept by its owner. */
static void push_methods(lua_State *L, int32_t owner) {
  if (lua_rawgetp(L, LUA_REGISTRYINDEX, &finders[owner]) == LUA_TTABLE) return;
  lua_pop(L, 1);
  lua_newtable(L);
  lua_createtable(L, 0, 2);
  lua_pushcfunction(L, finders[owner]);
  lua_setfield(L, -2, "__index");
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  lua_setmetatable(L, -2);
  lua_pushvalue(L, -1);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &finders[owner]);
}

/* ---- metatables */

static void put_function(lua_State *L, const char *name, lua_CFunction function) {
  lua_pushcfunction(L, function);
  lua_setfield(L, -2, name);
}

static void make_metatable(lua_State *L, int32_t kind) {
  luaL_checkstack(L, 8, NULL);
  lua_createtable(L, 0, kind <= GIRDLE_BOX_PLACEMENT ? 8 : 4); /* as many as it will have */
  lua_pushstring(L, boxes[kind].text);
  lua_setfield(L, -2, "__name");
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  put_function(L, "__tostring", box_tostring);
  if (kind <= GIRDLE_BOX_PLACEMENT) {
    put_function(L, "__gc", free_box);
    put_function(L, "__close", free_box);
    put_function(L, "__add", kind == GIRDLE_BOX_PLACEMENT ? girdle_lua_placement_joined : girdle_lua_shape_joined);
  }
  if (kind == GIRDLE_BOX_PLACEMENT) put_function(L, "__len", placement_length);
  if (kind == GIRDLE_BOX_STONE) {
    put_function(L, "__eq", stones_equal);
    put_function(L, "__index", girdle_lua_stone_index);
  }
  if (kind == GIRDLE_BOX_RECIPE) {
    put_function(L, "__call", girdle_lua_recipe_called);
    put_function(L, "__index", girdle_lua_recipe_index);
  }
  if (boxes[kind].methods >= 0) {
    push_methods(L, boxes[kind].methods);
    lua_setfield(L, -2, "__index");
  }
}
