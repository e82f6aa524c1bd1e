-- In the folder of the sources: luarocks --lua-version=5.4 make bindings/lua/girdle-0.1.0-1.rockspec
rockspec_format = "3.0"
package = "girdle"
version = "0.1.0-1"
source = { url = "git+file://." }
description = {
  summary = "Counts, places, prices and plans flat-back stones on costumes",
  license = "MIT",
}
dependencies = { "lua ~> 5.4" }
build = {
  type = "make",
  build_target = "build/lua/girdle.so",
  build_variables = { CFLAGS = "$(CFLAGS)", LUA_INCLUDE = "-I$(LUA_INCDIR)" },
  install_pass = false,
  install = { lib = { girdle = "build/lua/girdle.so" } },
}
-- of the installed module: luarocks --lua-version=5.4 test bindings/lua/girdle-0.1.0-1.rockspec
test = { type = "command", command = "busted --lua=lua5.4 tests/lua_spec.lua tests/lua_market_spec.lua" }
