-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- The manual: made from the table of words, and true.
local girdle = require "girdle"
package.path = "bindings/lua/?.lua;" .. package.path
local build = os.getenv "BUILD" or "build"

local function read(name)
  local file = assert(io.open(name, "r"))
  local text = file:read "a"
  file:close()
  return text
end

local function write(name, text)
  local file = assert(io.open(name, "w"))
  file:write(text)
  file:close()
end

local function block(text, title)
  return assert(text:match("```lua " .. title:gsub("%p", "%%%0") .. "\n(.-)```"), title)
end

local function output_of(command)
  local pipe = assert(io.popen(command .. " 2>&1; echo status $?"))
  local text = pipe:read "a"
  pipe:close()
  return text:match "^(.*)status (%d+)\n$"
end

describe("the manual", function ()
  local saved = arg
  _G.arg = nil
  local manual = require "manual"
  _G.arg = saved
  it("is what the table of words makes", function ()
    for name, text in pairs(manual.texts "bindings/lua") do
      assert.is_true(text == read("bindings/lua/" .. name), name .. " is not up to date: make manual")
    end
  end)
  it("has examples that run", function ()
    local count = 0
    for example in read("bindings/lua/MANUAL.md"):gmatch "```lua example\n(.-)```" do
      local environment = setmetatable({ print = function () end }, { __index = function (_, name)
        local value = rawget(girdle, name)
        if value == nil then value = _G[name] end
        return value
      end })
      assert(load(example, "=example", "t", environment))()
      count = count + 1
    end
    local wanted = 0
    for _, word in ipairs(girdle.api()) do wanted = wanted + (word.example and 1 or 0) end
    assert.equal(wanted, count)
    assert.is_true(wanted >= #girdle.api() - 1)
  end)
  it("shows the fields of what stands in a table", function ()
    local text = read "bindings/lua/MANUAL.md"
    for _, shown in ipairs { "A row of `sizes`:", "A row of `prices`:", "A row of `takes`:", "The fields of `lies` and `worn`:" } do
      assert.is_truthy(text:find(shown, 1, true), shown)
    end
    for _, word in ipairs(girdle.api()) do
      for _, field in ipairs(word.fields) do
        for _, inner in ipairs(field.fields or {}) do
          assert.is_truthy(text:find("| `" .. (inner.name:match "^%d$" and "[" .. inner.name .. "]" or inner.name) .. "` | ", 1, true), inner.name)
          assert.is_truthy(inner.needed or inner.default, field.name .. " " .. inner.name)
        end
      end
    end
  end)
  it("has a stub and a linter's list that are Lua", function ()
    assert(loadfile "bindings/lua/stub.lua")()
    local names = assert(loadfile "bindings/lua/luacheck.lua")().read_globals
    local known = {}
    for _, name in ipairs(names) do known[name] = true end
    for _, word in ipairs(girdle.api()) do
      if word.owner == "" then assert.is_true(known[word.name]) end
    end
    assert.is_nil(known.os)
  end)
end)

describe("the tutorial", function ()
  local text = read "bindings/lua/tutorial.md"
  local folder = os.tmpname()
  os.remove(folder)
  assert(os.execute("mkdir " .. folder))
  local file = folder .. "/edged_seam.lua"
  local first = block(text, "edged_seam.lua")
  local second = first:gsub("  place = function.-\n  end,\n", function () return block(text, "place") end)
  local program = build .. "/girdle"

  it("counts its recipe", function ()
    write(file, first)
    assert.equal(59, #girdle.use(file, { line = "32 cm" }))
    local said, status = output_of(("%s count %s line='32 cm'"):format(program, file))
    assert.equal("0", status)
    assert.is_truthy(said:find("59", 1, true), said)
  end)
  it("adds rows and draws them", function ()
    write(file, second)
    local p = girdle.use(file, { line = "32 cm" })
    assert.is_true(#p > 3 * 59)
    assert.equal(0, (p:overlaps()))
    local said, status = output_of(("%s map %s line='M0 0 C60 -40 120 40 180 0'"):format(program, file))
    assert.equal("0", status)
    local _, circles = said:gsub('<circle class="stone"', "")
    assert.equal(#girdle.use(file, { line = "M0 0 C60 -40 120 40 180 0" }), circles)
  end)
  it("shows the three mistakes as they are told", function ()
    for _, mistake in ipairs { { "gap = given%.gap", "gpa = given.gap" }, { "gap = given%.gap", 'gap = "0,5 mm"' },
      { "stones = { given%.large }", 'stones = { "ss21x" }' } } do
      write(file, (second:gsub(mistake[1], mistake[2], 1)))
      local row = text:match("| `" .. mistake[2]:gsub("%p", "%%%0") .. "` | (.-) |\n")
      local said, status = output_of(("%s count %s line='32 cm'"):format(program, file))
      assert.equal("1", status)
      assert.is_truthy(said:find(row, 1, true), said .. "\nhas not\n" .. row)
      assert.is_truthy(said:find "edged_seam%.lua:12", said)
    end
  end)
  it("has a table of zones that counts", function ()
    write(folder .. "/zones.csv", assert(text:match "```csv zones\n(.-)```"))
    write(file, second)
    local said, status = output_of(("%s count %s --csv"):format(program, folder))
    os.remove(folder .. "/zones.csv")
    assert.equal("0", status, said)
    assert.is_truthy(said:find("collar,front,ss9 black", 1, true) and said:find("burst,front,ss6 red", 1, true), said)
  end)
  it("has a costume and a script that run", function ()
    local environment = setmetatable({}, { __index = girdle })
    assert.equal("costume 'frost'", tostring(assert(load(block(text, "costume"), "=costume", "t", environment))()))
    local lines = {}
    environment.print = function (...) for _, value in ipairs { ... } do lines[#lines + 1] = tostring(value) end end
    assert(load(block(text, "stones"), "=stones", "t", environment))()
    assert.same({ "house 5 red foiled house resin round low dome glued", "weighing" }, { lines[1], lines[3] })
    lines = {}
    environment = setmetatable({}, { __index = _G })
    environment.print = function (first_value) lines[#lines + 1] = tostring(first_value) end
    assert(load(block(text, "script"), "=script", "t", environment))()
    assert.same({ "59", "ss20 black", "ss20 clear", "59" }, lines)
  end)
  teardown(function () os.execute("rm -r " .. folder) end)
end)
