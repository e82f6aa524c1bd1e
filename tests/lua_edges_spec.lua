-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- The words in one's own script, at their ends: what is written, refused and said.
local girdle = require "girdle"

local function message(f, ...)
  local good, text = pcall(f, ...)
  assert.is_false(good)
  return text
end

local function has(text, wanted)
  assert.is_truthy(text:find(wanted, 1, true), ("%q is not in %q"):format(wanted, text))
end

describe("recipes and zones", function ()
  local recipe = girdle.recipe { format = 1, name = "plain", place = function () return girdle.run { along = "9 cm", stones = "ss5" } end }
  it("refuse what they do not take", function ()
    has(message(recipe, 5), "a recipe takes one table of parameters, not the number 5")
    assert.is_true(#recipe() > 0)
    local many = {}
    for i = 1, 65 do many[i] = { "p" .. i, "length" } end
    has(message(girdle.recipe, { format = 1, name = "many", place = print, takes = many }), "takes at most 64 parameters, not 65")
    many[65] = nil
    assert.equal("recipe 'many'", tostring(girdle.recipe { format = 1, name = "many", place = print, takes = many }))
    has(message(girdle.use, ("x/"):rep(200) .. "y.lua", {}), "the name of the file's folder is longer than 255 bytes")
    has(message(girdle.zone, { "a", recipe = "plain", placement = recipe() }), "zone 'a' takes a recipe or a placement, not both")
    has(message(girdle.zone, { "a" }), "zone 'a' needs a recipe, like recipe = \"alternating line\"")
    has(message(girdle.zone, { "" }), "the name of a zone has 1 to 63 characters")
    has(message(girdle.zone, { ("a"):rep(64), recipe = "plain" }), "the name of a zone has 1 to 63 characters")
    assert.equal("zone '" .. ("a"):rep(63) .. "'", tostring(girdle.zone { ("a"):rep(63), recipe = "plain" }))
  end)
end)

describe("values", function ()
  it("are written without addresses", function ()
    local p = girdle.run { along = girdle.line(20), stones = "ss20" }
    assert.equal("placement of 5 stones", tostring(p))
    assert.equal("path of 20 mm", tostring(girdle.line(20)))
    assert.equal("region of 600 mm2", tostring(girdle.rectangle(30, 20)))
    assert.equal("stream", tostring(girdle.stream(1)))
    assert.equal("catalogue", tostring(girdle.catalogue {}))
    p:each()
    do local closed <close> = p end
    assert.equal("placement", tostring(p))
  end)
  it("are named by kind and value when they do not fit", function ()
    for value, said in pairs { [1.25] = "the number 1.25", [7] = "the number 7", [true] = "true", [false] = "false",
      [print] = "a function", [io.stdout] = "a value of another kind", [("x"):rep(61)] = "a long text",
      [girdle.line(5)] = "a path" } do
      has(message(girdle.run, { along = girdle.line(30), stones = "ss20", clear_of = value }), "clear_of must be a placement, not " .. said)
    end
    has(message(girdle.run, { along = girdle.line(30), stones = "ss20", gap = "1\0 mm" }), "gap holds a NUL byte")
    has(message(girdle.count_over, { area = 100, perimeter = 40, holes = 1.5, stone = "ss20" }), "holes must be a whole number")
    has(message(girdle.rectangle, 1, 2, 3), "rectangle takes at most 2 values, not 3")
  end)
end)

describe("fields", function ()
  it("take a turn along or fixed", function ()
    local function turn_of(turn)
      local p = girdle.run { along = girdle.path "M0 0 V50", stones = "10 mm red pear", turn = turn }
      for _, _, value in p:each() do return value end
    end
    assert.near(90, turn_of "along", 1e-6)
    assert.near(30, turn_of "30 deg", 1e-6)
    assert.near(30, turn_of(30), 1e-6)
  end)
  it("are read by region as by every field", function ()
    assert.near(25000, girdle.region("area 250 cm2"):area(), 1e-9)
    assert.near(25000, girdle.region("250 cm2", nil):area(), 1e-9)
    assert.near(240 * 100, girdle.region("rectangle 24 cm x 10 cm"):area(), 1e-9)
    assert.equal("region of 12.5 mm2", tostring(girdle.region "M0 0H5V5Z"))
    has(message(girdle.region, "area 250 cm"), "region: outline: '250 cm' is not an area")
    has(message(girdle.region, "aria 250 cm2"), "unknown shape 'aria', did you mean 'area'?")
    has(message(girdle.region, "M0 0H5"), "region: outline: ")
    has(message(girdle.region, "M0 0H5V5Z", nil, 3), "region takes at most 2 values, not 3")
  end)
  it("take closed paths as regions, and no open ones", function ()
    local p = girdle.cover { within = girdle.path "M0 0 H50 V50 H0 Z", stones = "ss20" }
    assert.equal(#p, #girdle.cover { within = girdle.rectangle(50, 50), stones = "ss20" })
    has(message(girdle.cover, { within = girdle.line(50), stones = "ss20" }), "within must be closed: this path has two ends")
    has(message(girdle.cover, { within = 5, stones = "ss20" }), "within must be a region, not the number 5")
  end)
  it("take lists of stones in one text", function ()
    local p = girdle.run { along = girdle.line(100), stones = " ss20 black ;  ss16 ; ss20" }
    assert.equal("ss16 clear", tostring(p:counts()[2].stone))
    has(message(girdle.run, { along = girdle.line(100), stones = {} }), "stones must hold 1 to 65535 stones, not 0")
    has(message(girdle.run, { along = girdle.line(100), stones = "ss20; ;ss16" }), "a stone needs a size")
    has(message(girdle.run, { along = girdle.line(100), stones = { "ss20", 5 } }), "a stone, not the number 5")
  end)
  it("take weights, and rows of stones", function ()
    has(message(girdle.scatter, { within = "oval 8 cm x 6 cm", stones = { { "ss20", "many" } } }), "'many' is not a number")
    has(message(girdle.scatter, { within = "oval 8 cm x 6 cm", stones = { { "ss20", -1 } } }), "weight must be 0 to")
    has(message(girdle.band, { along = girdle.line(50), rows = { { "ss20" }, { "ss21x" } } }), "did you mean 'ss21'")
    has(message(girdle.band, { along = girdle.line(50), rows = {} }), "a list of 1 to 1000 rows")
    local many = {}
    for i = 1, 40000 do many[i] = "ss20" end
    has(message(girdle.band, { along = girdle.line(50), rows = { many, many } }), "rows hold more than 65535 stones")
  end)
  it("take places and stretches", function ()
    has(message(girdle.set, { stones = "ss20", at = { 5 } }), "a list of places like")
    has(message(girdle.set, { stones = "ss20", at = { { 0 } } }), "a place must be length, not nothing")
    has(message(girdle.run, { along = girdle.line(50), stones = "ss20", leave = 5 }), "a list of stretches like")
    has(message(girdle.run, { along = girdle.line(50), stones = "ss20", leave = "1 cm" }), "'1 cm' is not a stretch")
    assert.equal(11, #girdle.run { along = girdle.line(50), stones = "ss20", leave = "" })
    has(message(girdle.fade, { within = "oval 8 cm x 6 cm", from = "0 mm, 1 cm", to = 5, stones = "ss16; ss20" }), "a place like { 10, 20 }")
    assert.is_true(#girdle.fade { within = "oval 8 cm x 6 cm", from = "0 mm, 1 cm", to = { 80, 10 }, stones = "ss16; ss16 red", gap = 5 } > 0)
  end)
end)

describe("shapes", function ()
  it("change their kind where a word needs it", function ()
    local square = girdle.path "M0 0 H40 V40 H0 Z"
    assert.near(1600, square:area(), 1e-9)
    assert.near(160, square:perimeter(), 1e-9)
    local inner = square:inset(5)
    assert.near(120, inner:length(), 1e-9)
    assert.near(900, square:without(girdle.rectangle(50, 50):moved(30, 0)):without(girdle.rectangle(50, 50):moved(0, 30)):area(), 1e-9)
    assert.near(0, (square:centre()) - 20, 1e-9)
    has(message(function () return girdle.line(5) + 7 end), "not the number 7 to a path")
    has(message(function () return girdle.rectangle(5, 5) + girdle.line(5) end), "only a path can be joined")
    has(message(girdle.line(5).at, 5, 1), "at works on a path or a region, not on the number 5; write shape:at(...)")
    has(message(function () return girdle.line(5):inset(1) end), "inset needs a closed shape, and this path has two ends")
  end)
  it("write no data beyond 1 MiB", function ()
    has(message(function () return girdle.loop("3000 m"):flattened("0.0001 mm"):data() end), "longer than 1 MiB")
  end)
end)

describe("verbs", function ()
  it("know a motif's two ways apart", function ()
    local star = girdle.set { stones = "ss12", at = { { 0, 0 }, { 4, 0 } } }
    assert.equal(4, #girdle.motif { placement = star, at = { { 0, 0 }, { "8 cm", 0, "30 deg", 1.5 } } })
    has(message(girdle.motif, { placement = star }), "motif takes either along or at")
    has(message(girdle.motif, { placement = star, along = girdle.line(50), at = { { 0, 0 } } }), "motif takes either along or at")
  end)
  it("tell which stones overlap", function ()
    local count, pairs_of = girdle.set { stones = "ss20", at = { { 0, 0 }, { 4, 0 }, { 50, 0 } } }:overlaps()
    assert.equal(1, count)
    assert.same({ 1, 2 }, { pairs_of[1].first, pairs_of[1].second })
    assert.near(0.7, pairs_of[1].depth_mm, 1e-6)
  end)
end)

describe("chance", function ()
  it("refuses what it cannot draw from", function ()
    local s = girdle.stream(7)
    has(message(s.integer, s, 6, 1), "to must be at least from")
    has(message(s.pick, s, {}), "pick takes a list that is not empty")
    has(message(s.pick, s, 5), "pick takes a list that is not empty")
    has(message(s.number, girdle.line(5)), "number works on a stream, not on a path")
    for _ = 1, 50 do
      local value = s:number(3, 4)
      assert.is_true(value >= 3 and value < 4)
      assert.is_true(({ a = true, b = true })[s:pick { "a", "b" }])
    end
  end)
end)
