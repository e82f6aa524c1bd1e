-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- Files of format 1, as earlier versions wrote and read them: each must open in every later version. A word or field
-- that is added later is used in one of them once it is there, and never taken out again.
package.path = "tests/?.lua;" .. package.path
local girdle = require "girdle"
local support = require "command_support"

local function has(text, part)
  assert.is_truthy(text:find(part, 1, true), ("%q lacks %q"):format(text, part))
end

describe("a file of format 1", function ()
  teardown(support.sweep)
  it("opens: a recipe with every word", function ()
    assert.equal(288, #girdle.use("tests/old/more_words.lua", {}))
    assert.equal(387, #girdle.use("tests/old/more_words.lua", { edge = "edged seam", within = "oval 6 cm x 5 cm" }))
    assert.is_true(#girdle.use("tests/old/every_word.lua", {}) > 300)
  end)
  it("opens: a costume with every field, and a table of zones with every column", function ()
    local printed, said, status = support.run("count", "tests/old/frost", "wrist=14 cm", "upper arm=28 cm", "--csv")
    assert.equal(0, status, said)
    local sums = {}
    for _, row in ipairs(support.rows(printed)) do sums[row.zone] = (sums[row.zone] or 0) + tonumber(row.count) end
    assert.same({ collar = 38, bodice = 32, cuffs = 86, straps = 110, dots = 2, ["by eye"] = 300, waist = 107, sleeve = 210,
                  bust = 130, back = 432 }, sums)
  end)
  it("is there for every word and field", function ()
    local text = support.read "tests/old/every_word.lua" .. support.read "tests/old/more_words.lua" ..
      support.read "tests/old/frost/costume.lua" .. " use( "
    local function used(name) return text:find("%f[%w_]" .. name .. "%f[^%w_]") ~= nil end
    for _, word in ipairs(girdle.api()) do
      if word.owner ~= "script" then
        assert.is_true(used(word.name), word.name .. " is used in no file under tests/old")
        for _, field in ipairs(word.style == "fields" and word.fields or {}) do
          assert.is_true(tonumber(field.name) ~= nil or used(field.name),
            word.name .. " " .. field.name .. " is used in no file under tests/old")
        end
      end
    end
  end)
end)

-- What else such a file holds need not be known to this version.
describe("a file of another format", function ()
  local files = {
    { "recipe", 'return recipe { format = 2, name = "later", steps = { 1 }, layout = print }', "recipe is of format 2" },
    { "recipe with new kinds", 'return recipe { format = 2, name = "later", takes = { { "x", "hue" } }, place = print }', "format 2" },
    { "recipe as text", 'return recipe { format = "3", name = "later", place = print }', "recipe is of format 3" },
    { "costume", 'return costume { format = 2, name = "later", parts = {} }', "costume is of format 2" },
    { "recipe before the first", 'return recipe { format = 0, name = "later", place = print }', "recipe is of format 0" },
  }
  for _, case in ipairs(files) do
    it("is refused naming both versions: " .. case[1], function ()
      local path = support.folder() .. "/later.lua"
      support.write(path, case[2])
      for _, verb in ipairs { "check", "count" } do
        local _, said, status = support.run(verb, path)
        assert.equal(1, status)
        has(said, "later.lua:1: ")
        has(said, case[3])
        has(said, "this version of girdle reads format 1")
      end
      if not case[1]:find "costume" then
        local _, text = pcall(girdle.use, path)
        has(text, case[3])
      end
    end)
  end
  it("is refused when its format is missing or no whole number", function ()
    local path = support.folder() .. "/later.lua"
    support.write(path, 'return recipe { name = "later", place = print }')
    has(select(2, support.run("check", path)), "format is missing; for example format = 1")
    support.write(path, 'return recipe { format = 1.5, name = "later", place = print }')
    has(select(2, support.run("check", path)), "format must be a whole number")
  end)
end)

-- Listing says what there is to say, and runs the file only.
describe("listing a recipe", function ()
  it("shows every kind with default, range and help, and places nothing", function ()
    local path = support.folder() .. "/all_kinds.lua"
    support.write(path, [[
return recipe { format = 1, name = "all kinds", about = "Every kind there is.",
  takes = {
    { "a", "length", default = "5 mm", from = "1 mm", to = "2 cm", about = "help of a" },
    { "b", "path", default = "loop 34 cm", about = "help of b" },
    { "c", "region", default = "oval 9 cm x 7 cm", about = "help of c" },
    { "d", "stone", default = "ss20 black", about = "help of d" },
    { "e", "stones", default = "ss20 black; ss16 clear", about = "help of e" },
    { "f", "number", default = 1.5, from = 0, to = 9.5, about = "help of f" },
    { "g", "integer", default = 3, from = 1, to = 8, about = "help of g" },
    { "h", "percent", default = "10 %", from = "5 %", to = "50 %", about = "help of h" },
    { "i", "angle", default = "30 deg", from = "0 deg", to = "90 deg", about = "help of i" },
    { "j", "choice", choices = { "left", "right" }, default = "left", about = "help of j" },
    { "k", "flag", default = true, about = "help of k" },
    { "l", "seed", default = "rain", about = "help of l" },
    { "m", "point", default = { 10, 20 }, about = "help of m" },
    { "n", "text", default = "words", about = "help of n" },
    { "o", "recipe", default = "alternating line", about = "help of o" },
    { "p", "length", to = "5 cm" }, { "q", "stone", optional = true }, { "r", "number", default = 2, from = 1 },
    { "s", "angle", default = 0, to = "45 deg" },
  },
  place = function () while true do end end }]])
    local printed, said, status = support.run("check", path)
    assert.equal(0, status, said)
    for letter in ("abcdefghijklmno"):gmatch "." do has(printed, "help of " .. letter) end
    for _, part in ipairs { "5 mm", "1 mm", "20 mm", "loop 34 cm", "oval 9 cm x 7 cm", "ss20 black; ss16 clear", "1.5", "9.5", "10 %",
                            "50 %", "30 deg", "90 deg", "left", "yes", "rain", "10 mm, 20 mm", "words", "alternating line",
                            "must be given", "may be left out", "(left, right)", "(at least 1)", "(at most 45 deg)",
                            "(0 mm to 50 mm)" } do has(printed, part) end
  end)
end)
