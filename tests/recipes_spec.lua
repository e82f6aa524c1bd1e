-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- The house recipes: names, help, defaults and pictures.
package.path = "tests/?.lua;" .. package.path
local girdle = require "girdle"

local function read(name)
  local file = assert(io.open(name, "r"))
  local text = file:read "a"
  file:close()
  return text
end

local files = {}
local pipe = assert(io.popen "ls recipes/*.lua")
for name in pipe:lines() do files[#files + 1] = name end
pipe:close()

-- What a file gives to recipe, read without placing anything.
local function sheet_of(name)
  local sheet
  local environment = setmetatable({ recipe = function (fields)
    sheet = fields
    return girdle.recipe(fields)
  end }, { __index = function (_, word) return girdle[word] or _G[word] end })
  assert(loadfile(name, "t", environment))()
  return sheet
end

describe("each house recipe", function ()
  it("is there", function () assert.is_true(#files >= 18) end)
  for _, name in ipairs(files) do
    it("is named, helped and defaulted: " .. name, function ()
      local sheet = sheet_of(name)
      assert.equal(name:match "([^/]*)%.lua$", (sheet.name:gsub(" ", "_")))
      assert.is_truthy(sheet.about:find "%.$")
      assert.is_truthy(read(name):find "^%-%- %u")
      for place, parameter in ipairs(sheet.takes) do
        local needed = parameter.default == nil and not parameter.optional
        assert.is_true(not needed or place == 1, parameter[1] .. " has no default")
        if parameter[2] == "length" then assert.is_truthy(parameter.from and parameter.to, parameter[1] .. " has no range") end
      end
    end)
    it("is drawn as it is counted: " .. name, function ()
      local short = name:match "([^/]*)%.lua$"
      local count = read "tests/old/placements.txt":match("recipes/" .. short .. "%.lua |.-| (%d+) |")
      local _, circles = read("recipes/pictures/" .. short .. ".svg"):gsub('<circle class="stone"', "")
      assert.equal(tonumber(count), circles, "recipes/draw draws it anew")
    end)
  end
end)

-- A coach has a table of zones and no Lua: each recipe must do with what stands there.
describe("a table of zones", function ()
  local support = require "command_support"
  teardown(support.sweep)
  local shapes = { path = { "loop 34 cm", "loop", "34 cm", "" }, region = { "oval 12 cm x 10 cm", "oval", "12 cm", "10 cm" } }

  local function write_zones(folder, rows)
    local lines = { "zone,shape,length,width,recipe,given" }
    for _, row in ipairs(rows) do lines[#lines + 1] = table.concat(row, ",") end
    support.write(folder .. "/zones.csv", table.concat(lines, "\n") .. "\n")
  end

  it("can use every house recipe", function ()
    local folder, rows, wanted = support.folder(), {}, {}
    for _, name in ipairs(files) do
      local sheet = sheet_of(name)
      local first = sheet.takes[1]
      local shape = first.default == nil and not first.optional and shapes[first[2]] or { "", "", "", "" }
      rows[#rows + 1] = { sheet.name, shape[2], shape[3], shape[4], sheet.name, first[2] == "region" and "gap = 3 mm" or "" }
      wanted[sheet.name] = true
    end
    write_zones(folder, rows)
    local printed, said, status = support.run("count", folder, "--csv")
    assert.equal(0, status, said)
    for _, row in ipairs(support.rows(printed)) do wanted[row.zone] = nil end
    assert.is_nil(next(wanted))
  end)
  it("gives what has no column by its name, and lengths to what has no shape", function ()
    local function counted(...)
      local folder = support.folder()
      write_zones(folder, { { "one", ... } })
      local printed, said, status = support.run("count", folder, "--csv")
      assert.equal(0, status, said)
      local sum = 0
      for _, row in ipairs(support.rows(printed)) do sum = sum + tonumber(row.count) end
      return sum
    end
    local function used(name, given) return #girdle.use("recipes/" .. name .. ".lua", given) end
    assert.equal(used("starburst", { size = "20 cm", rays = 8 }), counted("", "20 cm", "", "starburst", "rays = 8"))
    assert.equal(used("v_point", { width = "20 cm", depth = "9 cm", rows = 3 }),
      counted("", "9 cm", "20 cm", "v point", "rows = 3"))
    assert.equal(used("keyhole_outline", { width = "5 cm", height = "9 cm", slit = "15 mm", fillers = "ss9; ss6; ss5" }),
      counted("", "9 cm", "5 cm", "keyhole outline", "slit = 15 mm; fillers = ss9; ss6; ss5"))
    assert.equal(used("snowflake_motif", { size = "8 cm" }), counted("", "8 cm", "", "snowflake motif", ""))
    assert.equal(used("snowflake_motif", { size = "8 cm", line = "60 cm" }),
      counted("line", "60 cm", "", "snowflake motif", "size = 8 cm"))
  end)
end)

describe("a house recipe", function ()
  local kept_clear = girdle.rectangle("3 cm", "3 cm")
  local function takes(name, wanted)
    for _, parameter in ipairs(sheet_of(name).takes) do
      if parameter[1] == wanted then return parameter end
    end
  end
  for _, name in ipairs(files) do
    if takes(name, "within") then
      it("keeps an area clear: " .. name, function ()
        assert.is_table(takes(name, "avoid"))
        local whole = girdle.use(name, { within = "rectangle 12 cm x 10 cm", seed = takes(name, "seed") and 1 })
        local clear = girdle.use(name,
          { within = "rectangle 12 cm x 10 cm", avoid = kept_clear, seed = takes(name, "seed") and 1 })
        assert.is_true(#clear > 0 and #clear < #whole)
        for x, y in clear:each() do assert.is_false(kept_clear:contains(x, y)) end
      end)
    elseif takes(name, "line") and takes(name, "line").optional ~= true then
      it("leaves a stretch free: " .. name, function ()
        assert.is_table(takes(name, "leave"))
        local whole = girdle.use(name, { line = "30 cm" })
        assert.is_true(#girdle.use(name, { line = "30 cm", leave = "10 cm to 14 cm" }) < #whole)
      end)
    end
  end
end)
