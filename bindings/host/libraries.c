/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/host.h"

#include <lua.h>
#include <stdio.h>

/* Lua tells at run time no more than "5.4", so this is the release it was built with. */
uint64_t girdle_host_libraries(char *buffer, uint64_t bytes) {
  return (uint64_t)snprintf(buffer, (size_t)bytes, "lua %s.%s", LUA_VERSION_MAJOR "." LUA_VERSION_MINOR,
                            LUA_VERSION_RELEASE);
}
