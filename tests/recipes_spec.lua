-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- The house recipes: names, help, defaults and pictures.
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
