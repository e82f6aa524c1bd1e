/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "words.h"

/* The module for stock Lua 5.4: `local girdle = require "girdle"`. Nothing of the caller's state is changed beside the
 * registry, where the metatables and the context lie. */

int luaopen_girdle(lua_State *L);

GIRDLE_API int luaopen_girdle(lua_State *L) {
  girdle_lua_context *context;
  luaL_checkversion(L);
  context = lua_newuserdatauv(L, sizeof *context, 0);
  girdle_lua_context_init(context);
  context->find = girdle_lua_find_beside;
  girdle_lua_context_set(L);
  girdle_lua_find_stock(L, context->stock);
  lua_newtable(L);
  girdle_lua_put_words(L, 1);
  lua_pushstring(L, girdle_version());
  lua_setfield(L, -2, "version");
  return 1;
}
