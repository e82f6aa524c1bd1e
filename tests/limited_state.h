/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TESTS_LIMITED_STATE_H
#define GIRDLE_TESTS_LIMITED_STATE_H

/* A bare state that holds what a recipe sees, without limits, for tests that look into it. */

#include "../bindings/lua/words.h"
#include "support.h"

static inline void *plain_resize(void *context, void *block, size_t old_bytes, size_t new_bytes) {
  (void)context;
  (void)old_bytes;
  if (new_bytes) return realloc(block, new_bytes);
  free(block);
  return NULL;
}

static inline lua_State *limited_state(girdle_lua_context *context) {
  lua_State *L = lua_newstate(plain_resize, NULL);
  assert_non_null(L);
  girdle_lua_context_init(context);
  context->limited = 1;
  lua_pushlightuserdata(L, context);
  girdle_lua_context_set(L);
  girdle_lua_find_stock(L, context->stock);
  assert_int_equal(lua_gettop(L), 0);
  return L;
}

#endif
