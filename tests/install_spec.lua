-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- Installs into an empty prefix and looks at girdle as another tool's author does: pkg-config, five languages, uninstall.

local build = os.getenv "BUILD" or "build"

local function quoted(text) return "'" .. text:gsub("'", "'\\''") .. "'" end

-- Runs a shell command; gives back what it wrote and whether it ended well. Nothing of an outer make gets in.
local function try(command)
  local pipe = assert(io.popen("unset MAKEFLAGS MFLAGS MAKELEVEL; export LC_ALL=C; { " .. command .. "\n} 2>&1"))
  local text = pipe:read "a"
  return text, (pipe:close())
end
local function run(command)
  local text, good = try(command)
  assert.is_true(good == true, command .. "\n" .. text)
  return text
end
local function has(command) return select(2, try("command -v " .. command)) == true end
local function is_folder(path) return select(2, try("test -d " .. quoted(path))) == true end

local scratch = run "mktemp -d":gsub("\n", "")
local prefix = scratch .. "/a prefix"
local library = prefix .. "/lib"
local make = ("make -s BUILD=%s PREFIX=%s "):format(quoted(build), quoted(prefix))
local expected -- what the C program that runs a recipe prints

local function listed(folder) return run("cd " .. quoted(folder) .. " && find . | sort") end

-- Builds a program of tests/outside with what pkg-config says and nothing else, and runs it.
local function built(compiler, source, package, where, static)
  local program = scratch .. "/" .. source:gsub("%W", "_") .. (static and "_static" or "")
  local flags = ("$(PKG_CONFIG_PATH=%s pkg-config %s --cflags --libs %s)"):format(
    quoted(where .. "/lib/pkgconfig"), static and "--static" or "", package)
  -- pkg-config quotes the spaces of a path, so the shell has to read its answer
  run(("eval %s tests/outside/%s -o %s \"%s\""):format(compiler, source, quoted(program), flags))
  return program
end
local function with_libraries(command) return run("LD_LIBRARY_PATH=" .. quoted(library) .. " " .. command) end

setup(function ()
  run("mkdir " .. quoted(prefix) .. " && " .. make .. "install")
  expected = with_libraries(quoted(built("cc -std=c11", "neckline_host.c", "girdle-host", prefix)))
end)
teardown(function () run("rm -rf " .. quoted(scratch)) end)

describe("installed", function ()
  it("the five programs agree to the stone and the cent", function ()
    assert.is_truthy(expected:match "^count %d+\nmass_mg %d+\norder_minor %d+\nquote_minor %d+\n$", expected)
    local programs = {
      ["g++"] = function () return quoted(built("g++ -std=c++17 -Wall -Wextra -Werror", "neckline.cpp", "girdle", prefix)) end,
      python3 = function () return "python3 tests/outside/neckline.py " .. quoted(library) end,
      node = function ()
        local peers = quoted(build .. "/peers/node_modules")
        return "NODE_PATH=" .. peers .. " node tests/outside/neckline.js " .. quoted(library)
      end,
      ["lua5.4"] = function ()
        return "LUA_CPATH_5_4=" .. quoted(library .. "/lua/5.4/?.so") .. " lua5.4 tests/outside/neckline.lua"
      end,
    }
    local missing = {}
    for needed, program in pairs(programs) do
      if not has(needed) or (needed == "node" and not is_folder(build .. "/peers/node_modules/koffi")) then
        missing[#missing + 1] = needed == "node" and "node with koffi (make setup-peers)" or needed
      else
        assert.equal(expected, with_libraries(program()), needed)
      end
    end
    if missing[1] then pending("not here: " .. table.concat(missing, ", ")) end
  end)

  it("links statically as well", function ()
    local static = scratch .. "/static"
    run(("make -s install BUILD=%s PREFIX=%s && rm %s/lib/*.so*"):format(quoted(build), quoted(static), quoted(static)))
    local program = built("cc -std=c11", "neckline_host.c", "girdle-host", static, true)
    assert.equal(expected, run(quoted(program)))
    assert.is_nil(run("readelf -d " .. quoted(program)):find("libgirdle", 1, true))
  end)

  it("links what reads and writes files, both ways", function ()
    for _, static in ipairs { false, true } do
      local where = static and scratch .. "/static" or prefix
      local program = built("cc -std=c11", "caution.c", "girdle-paper", where, static)
      assert.is_truthy(with_libraries(quoted(program)):find("glue", 1, true))
    end
  end)

  it("headers are clean as C++17 and as C11, each by itself", function ()
    local languages = { "c -std=c11" }
    if has "g++" then languages[2] = "c++ -std=c++17" end
    for header in run("cd " .. quoted(prefix .. "/include") .. " && ls girdle/*.h"):gmatch "%S+" do
      for _, language in ipairs(languages) do
        run(("echo '#include <%s>' | cc -x %s -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Werror -fsyntax-only -I%s -")
          :format(header, language, quoted(prefix .. "/include")))
      end
    end
  end)

  it("the program finds the house recipes and knows its version and what it links", function ()
    local program = quoted(prefix .. "/bin/girdle")
    local version = run("sed -n 's/^Version: //p' " .. quoted(library .. "/pkgconfig/girdle.pc")):match "%S+"
    assert.is_truthy(run("cd / && " .. program .. " recipes"):find("alternating line", 1, true))
    local text = run(program .. " --version")
    assert.equal("girdle " .. version, text:match "^[^\n]+")
    for _, name in ipairs { "lua", "expat", "libharu", "jansson" } do
      assert.is_truthy(text:match(name .. " %d+%.%d+"), text)
    end
  end)

  it("the program leaves other folders named recipes alone", function ()
    local program = "cd / && " .. quoted(prefix .. "/bin/girdle") .. " recipes"
    local own, others = run(program), { scratch .. "/recipes", prefix .. "/recipes" }
    for _, other in ipairs(others) do
      run(("mkdir %s && cp recipes/alternating_line.lua %s && sed 's/alternating line/soup/' recipes/alternating_line.lua > %s")
        :format(quoted(other), quoted(other), quoted(other .. "/soup.lua")))
      assert.equal(own, run(program))
    end
    local share, aside = quoted(prefix .. "/share/girdle/recipes"), quoted(scratch .. "/aside")
    run("mv " .. share .. " " .. aside)
    for _, other in ipairs(others) do run("rm " .. quoted(other .. "/alternating_line.lua")) end
    local text = try(program)
    run("mv " .. aside .. " " .. share .. " && rm -r " .. quoted(others[1]) .. " " .. quoted(others[2]))
    assert.is_truthy(text:find("the house recipes are not found", 1, true), text)
  end)

  it("the manual pages read without a warning, and name what is installed", function ()
    local pages = run("cd " .. quoted(prefix) .. " && find share/man -type f | sort")
    assert.equal("share/man/man1/girdle.1\nshare/man/man5/girdle-files.5\nshare/man/man5/girdle-lines.5\n", pages)
    assert.is_truthy(run("cat " .. quoted(prefix .. "/share/girdle/lines.schema.json")):find('"$defs"', 1, true))
    if not has "groff" then return pending "not here: groff" end
    for page in pages:gmatch "%S+" do
      assert.equal("", run(("groff -man -Tutf8 -ww -z %s"):format(quoted(prefix .. "/" .. page))))
    end
  end)

  it("shared libraries carry a soname, and the module no liblua", function ()
    for _, name in ipairs { "girdle", "girdle-paper", "girdle-host" } do
      local text = run(("readelf -d %s"):format(quoted(("%s/lib%s.so"):format(library, name))))
      assert.is_truthy(text:find(("soname: [lib%s.so.0]"):format(name), 1, true), text)
    end
    assert.is_nil(run("readelf -d " .. quoted(library .. "/lua/5.4/girdle.so")):find("liblua", 1, true))
  end)
end)

describe("uninstall", function ()
  it("removes exactly what was put there", function ()
    local staged = scratch .. "/a stage"
    local stage = ("make -s BUILD=%s PREFIX=/opt/x DESTDIR=%s "):format(quoted(build), quoted(staged))
    run(("mkdir -p %s && touch %s"):format(quoted(staged .. "/opt/x/bin"), quoted(staged .. "/opt/x/other")))
    local before = listed(staged)
    run(stage .. "install && " .. stage .. "install")
    assert.is_truthy(listed(staged):find("./opt/x/lib/pkgconfig/girdle.pc", 1, true))
    assert.is_nil(run(("grep -rl %s %s || true"):format(quoted(staged), quoted(staged .. "/opt/x/lib/pkgconfig"))):match "%S")
    run(stage .. "uninstall && " .. stage .. "uninstall")
    assert.equal(before, listed(staged))
  end)
  it("leaves an empty prefix empty, but for what others put there", function ()
    run("touch " .. quoted(library .. "/lua/5.4/other.lua"))
    run(make .. "uninstall")
    assert.equal(".\n./lib\n./lib/lua\n./lib/lua/5.4\n./lib/lua/5.4/other.lua\n", listed(prefix))
  end)
  it("refuses a prefix that is not absolute", function ()
    local text, good = try(("make -s BUILD=%s PREFIX=here install"):format(quoted(build)))
    assert.is_falsy(good)
    assert.is_truthy(text:find("must be an absolute path", 1, true))
  end)
end)

describe("make", function ()
  it("hands CC, CPPFLAGS, CFLAGS and LDFLAGS on", function ()
    local text = run "make -n V=1 BUILD=build/none CC=some-cc CPPFLAGS=-Dcpp CFLAGS=-Oc LDFLAGS=-Lld all"
    local compiled, linked = 0, 0
    for line in text:gmatch "some%-cc[^\n]*" do
      if line:find(" -c ", 1, true) then
        compiled = compiled + 1
        assert.is_truthy(line:find("-Dcpp", 1, true) and line:find("-Oc", 1, true), line)
      else
        linked = linked + 1
        assert.is_truthy(line:find("-Lld", 1, true), line)
      end
    end
    assert.is_true(compiled > 50 and linked == 5, compiled .. " compiled, " .. linked .. " linked")
  end)
  it("packs an archive that builds and passes its tests away from git, in a path with spaces", function ()
    if not os.getenv "GIRDLE_PROOF" then return pending "GIRDLE_PROOF=1 builds the archive" end
    if not has "git" or not select(2, try "git rev-parse HEAD") then return pending "not a git clone" end
    local away = scratch .. "/a way"
    run(("make -s dist BUILD=%s && mkdir %s && tar xzf %s/girdle-*.tar.gz -C %s"):format(
      quoted(scratch), quoted(away), quoted(scratch), quoted(away)))
    local text = run("unset GIRDLE_PROOF; cd " .. quoted(away) .. "/girdle-* && make -j2 check")
    assert.is_truthy(text:find("%d+ passed, 0 failed\n$"), text:sub(-2000))
  end)
  it("packs the same archive twice", function ()
    if not has "git" or not select(2, try "git rev-parse HEAD") then return pending "not a git clone" end
    local archive = scratch .. "/girdle-*.tar.gz"
    local function pack() return run(("make -s dist BUILD=%s && cksum %s"):format(quoted(scratch), archive)) end
    assert.equal(pack(), pack())
    local names = run("tar tzf " .. archive)
    assert.is_truthy(names:find("/Makefile\n", 1, true) and names:find("/tests/outside/neckline.js\n", 1, true))
  end)
end)

describe("the rock", function ()
  local rockspec = run "ls bindings/lua/*.rockspec":match "%S+"
  it("bears the library's version", function ()
    local version = run "sed -n 's/.*return \"\\([0-9.]*\\)\";.*/\\1/p' lib/base.c":match "%S+"
    assert.is_truthy(rockspec:find("girdle-" .. version .. "-", 1, true), rockspec)
    assert.is_truthy(run("cat " .. rockspec):find('version = "' .. version .. "-", 1, true))
  end)
  it("installs and tests itself", function ()
    if not os.getenv "GIRDLE_PROOF" then return pending "GIRDLE_PROOF=1 builds a rock" end
    if not has "luarocks" then return pending "luarocks is not here" end
    local rocks = "luarocks --lua-version=5.4 --tree " .. quoted(scratch .. "/rocks") .. " "
    run(rocks .. "make " .. rockspec)
    run(("LUA_CPATH_5_4=%s %s test %s"):format(quoted(scratch .. "/rocks/lib/lua/5.4/?.so;;"), rocks, rockspec))
  end)
end)
