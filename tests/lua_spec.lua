-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- The words in one's own script.
local girdle = require "girdle"

local function message(f, ...)
  local good, text = pcall(f, ...)
  assert.is_false(good)
  return text
end

local function has(text, wanted)
  assert.is_truthy(text:find(wanted, 1, true), ("%q is not in %q"):format(wanted, text))
end

describe("require", function ()
  it("changes nothing in the caller's state", function ()
    assert.is_nil(rawget(_G, "girdle"))
    assert.is_nil(rawget(_G, "run"))
    assert.equal("function", type(("").gsub))
    assert.equal("string", type(girdle.version))
  end)
end)

describe("stone", function ()
  it("reads texts and fields alike", function ()
    local s = girdle.stone "ss20 black"
    assert.equal(s, girdle.stone { size = "ss20", colour = "black" })
    assert.equal(s, girdle.stone "20ss black")
    assert.equal("ss20 black", tostring(s))
    assert.equal("black", s.colour)
    assert.near(4.7, s.diameter_mm, 1e-9)
    assert.equal("clear", girdle.stone "ss20".colour)
    assert.equal("10 mm red oval", tostring(girdle.stone "14 × 10 mm red oval"))
    assert.equal(girdle.stone "10 by 14 mm oval", girdle.stone { size = "10 x 14 mm", outline = "oval" })
    assert.is_true(s.mass_least_mg < s.mass_mg and s.mass_mg < s.mass_most_mg)
  end)
  it("names the nearest size and field", function ()
    has(message(girdle.stone, "ss21x"), "did you mean 'ss21'")
    has(message(function () return girdle.stone "ss20".color end), "did you mean 'colour'")
    has(message(girdle.stone, { size = "ss20", color = "red" }), "did you mean 'colour'")
  end)
end)

describe("a stone's facts", function ()
  it("list sizes, cuts, materials, tapes and measures", function ()
    local known = {}
    for _, size in ipairs(girdle.sizes()) do known[size.name] = size end
    assert.near(4.7, known.ss20.diameter_nominal_mm, 1e-9)
    assert.equal("several charts", known.ss20.certainty)
    assert.equal("ss20", girdle.likely_sizes("4.7 mm")[1].name)
    assert.is_true(girdle.likely_sizes("4.83 mm")[1].fits) -- within the caliper's 0.05 mm
    assert.near(0.03, girdle.likely_sizes("4.83 mm")[2].outside_mm, 1e-9)
    assert.equal("ss48", girdle.likely_sizes("50 mm")[1].name)
    assert.is_false(girdle.likely_sizes("50 mm")[1].fits)
    assert.near(39, girdle.likely_sizes("50 mm")[1].outside_mm, 1e-9)
    assert.is_true(girdle.cuts()[1].height_ratio_least <= girdle.cuts()[1].height_ratio_most)
    assert.is_true(#girdle.materials() >= 4)
    assert.equal("rectangle", girdle.tapes()[1].word)
    assert.same({ "width", "height" }, girdle.tapes()[1].measures)
    assert.is_truthy(girdle.body_measures()[1].name)
  end)
  it("come from its solid and from weighing", function ()
    local s = girdle.stone "ss20"
    local solid = s:solid()
    assert.near(s.footprint_mm2, solid.back_mm2, 1e-9)
    local area = 0
    for _, facet in ipairs(solid.facets) do area = area + (facet.kind == "table" and facet.area_mm2 or 0) end
    assert.near(solid.table_mm2, area, 1e-9)
    -- Euler: corners less edges and facets make 2; each edge belongs to two facets
    local edges = 0
    for _, facet in ipairs(solid.facets) do edges = edges + #facet end
    assert.equal(2, #solid.vertices - edges // 2 + #solid.facets)
    local weighed, off = s:weighed { pieces = "1 gross", mass = "7.2 g" }
    assert.near(50, weighed.mass_mg, 1e-9)
    assert.near(s.mass_mg / 50 - 1, off, 1e-9)
    assert.near(2.35, s:reach(90), 1e-9)
    assert.equal("model", s.mass_from)
    assert.equal("weighing", weighed.mass_from)
    assert.equal("at least", girdle.stone "ss20 lead crystal".mass_from)
    has(message(function () return girdle.stone { size = "ss20", mass_least_mg = 50 } end), "usual mass")
    has(message(function () return girdle.stone { size = "ss20", diameter_least_mm = 4 } end), "usual diameter")
    has(message(function () return s:weight() end), "did you mean 'weighed'")
  end)
  it("tell a plausible measure by any of its names", function ()
    assert.same({ true, "wrist" }, { girdle.plausible("Wrist Girth", "14 cm"), (select(2, girdle.plausible("wrist_girth", 140))) })
    local good, name, least, most, warning = girdle.plausible("wrist", "9 cm")
    assert.same({ false, "wrist" }, { good, name })
    has(warning, "a wrist of 9 cm is far below what is usual")
    assert.equal("", (select(5, girdle.plausible("wrist", "12 cm"))))
    for _, measure in ipairs(girdle.body_measures()) do assert.is_true(#measure.tape > 10) end
    assert.is_true(least > 90 and most < 220)
    assert.is_true((girdle.plausible("hip", "1 cm"))) -- no child's figure is known
    has(message(girdle.plausible, "wirst", "14 cm"), "did you mean 'wrist'")
  end)
  it("turn gaps as the fabric lies", function ()
    local gap, angle = girdle.gap_as { gap = 1.25, from = { across = "25 %" } }
    assert.near(1, gap, 1e-12)
    assert.near(0, angle, 1e-12)
    assert.near(1.25, girdle.gap_as { gap = 1.25, angle = 90, from = { across = "25 %" } }, 1e-12)
  end)
end)

describe("a catalogue", function ()
  local low = girdle.cuts()[1]
  low.name, low.height_ratio_least, low.height_ratio_nominal, low.height_ratio_most = "Low dome", 0.2, 0.25, 0.3
  local mine = girdle.catalogue {
    sizes = { { name = "house 5", diameter_nominal_mm = 5.05, diameter_most_mm = 5.2 },
      { name = "ss16", diameter_nominal_mm = 4, certainty = "one chart" } },
    cuts = { low },
    materials = { { name = "house resin", density_nominal_g_cm3 = 1.3, lead = "none" },
      { name = "old crystal", density_nominal_g_cm3 = 3.1, minimum = true } },
    weighed = { { stone = "ss20", pieces = "1 gross", mass = "7.2 g" },
      { stone = "house 5 house resin", pieces = 10, mass = "0.5 g", error = "10 mg" } },
  }
  it("makes stones of one's own rows", function ()
    local s = mine:stone "house 5 sea green house resin low dome"
    assert.same({ "house 5", "sea green", "house resin", "low dome", "" }, { s.size, s.colour, s.material, s.cut, s.caution })
    assert.same({ 5.05, 5.05, 5.2 }, { s.diameter_least_mm, s.diameter_mm, s.diameter_most_mm })
    assert.near(0.25 * 5.05, s.height_mm, 1e-12)
    assert.equal(s, mine:stone { size = "House 5", colour = "sea green", material = "house resin", cut = "low dome" })
    assert.near(mine:solid(s).volume_mm3 * 1.3, s.mass_mg, 1e-5)
    assert.equal("at least", mine:stone "ss20 red old crystal".mass_from)
    assert.is_true(#mine:stone "ss20 old crystal".caution > 0)
  end)
  it("comes before the tables and changes them nowhere else", function ()
    assert.near(4, mine:stone "SS16".diameter_mm, 0)
    assert.near(3.9, girdle.stone "ss16".diameter_mm, 1e-12)
    assert.near(50, mine:stone "ss20 black".mass_mg, 1e-12)
    assert.equal("weighing", mine:stone "ss20 black".mass_from)
    assert.equal("model", mine:stone "ss20 black low dome".mass_from)
    local heavy = mine:stone { size = "house 5", colour = "red", material = "house resin" }
    assert.same({ 49, 50, 51 }, { heavy.mass_least_mg, heavy.mass_mg, heavy.mass_most_mg })
    assert.equal("house 5", mine:likely_sizes("5.05 mm", 0)[1].name)
    assert.equal("ss22", girdle.likely_sizes("5.05 mm", 0)[1].name)
    has(message(girdle.stone, "house 5 red"), "unknown size 'house'")
  end)
  it("can be used by every verb", function ()
    local p = girdle.run { along = girdle.line "20 cm", stones = { mine:stone "house 5 red low dome", "ss16" } }
    assert.near(5.05, p:counts()[1].stone.diameter_mm, 1e-12)
    assert.near(mine:solid(p:counts()[1].stone).volume_mm3, mine:solid(mine:stone "house 5 red low dome").volume_mm3, 0)
    has(message(function () return p:counts()[1].stone:solid() end), "unknown cut 'low dome'")
    assert.equal(mine:stone(mine:stone "house 5 red"), mine:stone "house 5 red")
    assert.equal("catalogue", tostring(mine))
  end)
  it("names the row that makes no stone", function ()
    local function bad(rows, wanted) has(message(girdle.catalogue, rows), wanted) end
    bad({ sizes = { { name = "a", diameter_nominal_mm = 5 }, { name = "b" } } }, "row 2 of sizes: diameter_nominal_mm is missing")
    bad({ sizes = { { name = "a", diameter_nominal_mm = 5, diameter_least_mm = 6 } } }, "row 1 of sizes: size 'a': diameter must be 6")
    bad({ sizes = { { name = "a name of sixteen", diameter_nominal_mm = 5 } } }, "more than 15 bytes")
    bad({ sizes = { { name = "", diameter_nominal_mm = 5 } } }, "row 1 of sizes: a size needs a name")
    bad({ sizes = { 5 } }, "row 1 of sizes takes one table")
    bad({ cuts = { { name = "a", facets = 2 } } }, "facets must be 3 to 64")
    bad({ cuts = { { name = "a", facets = 8, turned = true, table_ratio_nominal = 0.95, height_ratio_nominal = 0.4,
      girdle_ratio_nominal = 0.06 } } }, "row 1 of cuts: cut 'a': table ratio must be 0 to")
    bad({ materials = { { name = "a", density_nominal_g_cm3 = 1, led = "none" } } }, "did you mean 'lead'")
    bad({ materials = { { name = "a", density_nominal_g_cm3 = 1, source = ("x"):rep(96) } } }, "source")
    bad({ weighed = { { stone = "ss20x", pieces = 1, mass = "1 g" } } }, "did you mean 'ss20'")
    bad({ weighed = { { stone = "ss20", pieces = 144, mass = "1 g", error = "1 g" } } }, "row 1 of weighed: error must be 0 to 500")
    bad({ weighed = { { stone = 5, pieces = 1, mass = "1 g" } } }, "stone must be a text")
    bad({ cut = {} }, "did you mean 'cuts'")
    has(message(function () return mine:ston "ss20" end), "unknown method of a catalogue 'ston', did you mean 'stone'")
    has(message(mine.stone, 5), "stone works on a catalogue")
    has(message(function () return mine:stone() end), "stone takes a text")
    has(message(function () return mine:stone(true) end), "stone must be a text")
  end)
end)

describe("shapes", function ()
  it("measure themselves", function ()
    assert.near(380, girdle.line("38 cm"):length(), 1e-9)
    assert.near(340, girdle.loop(340):length(), 1e-9)
    assert.near(20000, girdle.rectangle("10 cm", "20 cm"):area(), 1e-6)
    assert.near(600, girdle.rectangle("10 cm", "20 cm"):perimeter(), 1e-9)
    assert.near(100, girdle.path("M0 0 H100"):length(), 1e-9)
    local x, y, angle = girdle.line(100):at(25)
    assert.same({ 25, 0, 0 }, { x, y, angle })
  end)
  it("keep their kind when they are moved, turned, fitted and stretched", function ()
    local box = girdle.rectangle(30, 20)
    assert.near(600, box:moved(5, 5):turned(30):mirrored(10):area(), 1e-9)
    assert.near(2400, box:fitted { width = 60 }:area(), 1e-9)
    assert.near(660, box:stretched { across = "10 %" }:area(), 1e-9)
    assert.near(200, girdle.line("38 cm"):part("5 cm", "25 cm"):length(), 1e-9)
    assert.near(150, (girdle.line(100) + girdle.line(50)):length(), 1e-9)
    assert.near(10000 - math.pi * 100, girdle.rectangle(100, 100):without(girdle.oval(20, 20):moved(50, 50)):area(), 1e-3)
  end)
  it("come from a tape measure", function ()
    local sleeve = girdle.sleeve { wrist = "16 cm", top = "30 cm", length = "55 cm" }
    assert.near((160 + 300) / 2 * 550, sleeve:area(), 1e-3) -- a ring sector: the middle of its arcs times its width
    local skirt = girdle.skirt { waist = 100 * math.pi, length = 100, fullness = 0.5 }
    assert.near(math.pi / 2 * (200 * 200 - 100 * 100), skirt:area(), 1e-3) -- half a ring of radii 100 and 200
    assert.near(150, girdle.triangle(20, 15):area(), 1e-9)
    assert.near(25000, girdle.area("250 cm2"):area(), 1e-6)
    assert.near(2000, girdle.panel { every = 50, widths = { 20, 20, 20 } }:area(), 1e-6)
  end)
  it("find places", function ()
    assert.is_true(girdle.oval(80, 60):contains(40, 30))
    assert.is_false(girdle.oval(80, 60):contains(1, 1))
    assert.same({ 25, 7 }, { girdle.line(100):nearest(25, 7) })
    assert.equal(4, #girdle.rectangle(30, 20):corners())
    assert.near(math.pi * 36, girdle.oval(10, 10):inset(-1):area(), 1e-3)
    local x, y = girdle.rectangle(30, 20):centre()
    assert.near(15, x, 1e-9)
    assert.near(10, y, 1e-9)
    assert.near(5, girdle.rectangle(30, 20):depth(5, 10), 1e-9)
    assert.near(-5, girdle.rectangle(30, 20):depth(-5, 10), 1e-9)
    local meeting = girdle.line(100):meetings(girdle.line(50):turned(90):moved(30, -20))
    assert.equal(1, #meeting)
    assert.same({ 30, 0, 30, 20, true },
      { meeting[1].x, meeting[1].y, meeting[1].along, meeting[1].along_other, meeting[1].crosses })
    local head, tail = girdle.line(100):split(30)
    assert.near(30, head:length(), 1e-9)
    assert.near(70, tail:length(), 1e-9)
    assert.near(340, girdle.loop(340):flattened(0.001):length(), 0.05)
  end)
  it("tell how they bend, and of how many lines they are made", function ()
    assert.near(2 * math.pi / 340, girdle.loop(340):curvature(50), 1e-12)
    assert.near(-2 * math.pi / 340, girdle.loop(340):reversed():curvature(50), 1e-12)
    assert.equal(0, girdle.line(100):curvature(20))
    local cusp = girdle.path "M0 0 C100 100 0 100 100 0"
    assert.is_nil(cusp:curvature(cusp:length() / 2))
    has(message(function () return girdle.line(100):curvature(200) end), "distance must be 0 to 100")
    assert.is_true(girdle.loop(340):closed())
    assert.is_true(girdle.oval(20, 30):closed())
    assert.is_false(girdle.line(20):closed())
    assert.equal(2, girdle.path "M0 0 H10 M0 5 H10":subpaths())
    local ring = girdle.rectangle(100, 100):without(girdle.oval(20, 20):moved(40, 40))
    assert.equal(1, ring:holes())
    assert.equal(2, ring:subpaths())
    assert.equal(0, girdle.rectangle(5, 5):holes())
    assert.near(ring:perimeter(), ring:rim():length(), 1e-9)
    assert.near(38, girdle.line(38):rim():length(), 1e-12)
    local along, turns = girdle.rectangle(30, 20):corners()
    assert.same({ 0, 30, 50, 80 }, along)
    assert.same({ 90, 90, 90, 90 }, turns)
    assert.near(-45, select(2, girdle.path "M0 0 H10 L20 -10":corners(30))[1], 1e-12)
  end)
  it("are set in, joined, slanted, and stretched there and back", function ()
    assert.near(340 - 2 * math.pi * 5, girdle.loop(340):set_in("5 mm"):length(), 1e-9)
    assert.near(340 + 2 * math.pi * 5, girdle.loop(340):set_in(-5):length(), 1e-9)
    assert.near(100, girdle.rectangle(35, 25):set_in(2.5):length(), 1e-9)
    local x, y = girdle.line(100):set_in(3):at(0)
    assert.same({ 0, 3 }, { x, y })
    assert.near(100, girdle.line(100):set_in(0):length(), 0)
    assert.near(80, girdle.line(50):joined(girdle.line(30):moved(50, 0)):length(), 1e-12)
    assert.equal(1, girdle.line(50):joined(girdle.line(30):moved(50, 0)):subpaths())
    assert.equal(2, girdle.line(50):joined "30 mm":subpaths())
    local slanted = girdle.rectangle(30, 20):transformed(1, 0, 0.5, 1, "1 cm", 5)
    assert.near(600, slanted:area(), 1e-9)
    assert.same({ 10, 5, 50, 25 }, { slanted:box() })
    has(message(function () return girdle.line(10):transformed(0, 0, 0, 0) end), "transformed")
    has(message(function () return girdle.line(10):transformed(1, 0) end), "c is missing")
    local worn = girdle.oval(80, 60):stretched { across = "25 %", along = "7 %" }
    assert.near(1.25 * 1.07 * math.pi * 1200, worn:area(), 1e-9)
    local flat = worn:stretched { from = { across = "25 %", along = "7 %" } }
    assert.near(1, flat:area() / girdle.oval(80, 60):area(), 1e-12)
    local glued = girdle.line(100):stretched { across = "10 %", from = { across = "25 %" } }
    assert.near(88, glued:length(), 1e-9)
    has(message(function () return girdle.line(10):stretched { from = { acros = 1 } } end), "did you mean 'across'")
    has(message(function () return girdle.line(10):stretched { from = { across = 10 } } end), "across must be -90 to 900 %, not 1000")
  end)
  it("say what was wrong", function ()
    has(message(girdle.line, -1), "length must be")
    has(message(girdle.line, 0 / 0), "finite")
    has(message(girdle.line, "38"), "unit is missing")
    has(message(girdle.line, {}), "not a table")
    has(message(girdle.path, "M0 0 Q"), "path")
    has(message(function () return girdle.line(30):area() end), "two ends")
    has(message(function () return girdle.line(30):lenght() end), "did you mean 'length'")
    has(message(function () return girdle.oval(8, 6):fitted { width = 5, length = 5 } end), "length alone")
    has(message(function () return girdle.oval(8, 6):fitted {} end), "needs a length")
    has(message(girdle.sleeve, { wrist = "16 cm", top = "30 cm" }), "length is missing")
    has(message(girdle.skirt, { waist = "66 cm", length = "35 cm", fullness = 2 }), "fullness must be 0.01 to 1")
  end)
  it("gives the lower edge of what is closed", function ()
    local edge = girdle.rectangle(30, 20):lower_edge()
    local x, y = edge:at(0)
    assert.same({ 30, 20 }, { x, y })
    assert.equal(30, edge:length())
    has(message(girdle.line(30).lower_edge, girdle.line(30)), "lower_edge needs a closed shape, and this path has two ends")
    has(message(girdle.line(30).lower_edge, 5), "lower_edge works on a path or a region")
  end)
end)

describe("run", function ()
  it("counts 59 stones on 300 mm and 65 round 340 mm", function ()
    local line = girdle.run { along = girdle.line "300 mm", stones = { "ss20" }, gap = "0.5 mm" }
    assert.equal(59, #line)
    assert.near(0.472, line:notes().gap_mm, 5e-4)
    local loop = girdle.run { along = girdle.loop "34 cm", stones = { "ss20" }, gap = "0.5 mm" }
    assert.equal(65, #loop)
    assert.near(0.5287, loop:notes().gap_mm, 5e-5)
  end)
  it("takes stretches as tables and as text", function ()
    local whole = girdle.run { along = girdle.line(300), stones = "ss20", gap = 0.5 }
    local cut = girdle.run { along = girdle.line(300), stones = "ss20", gap = 0.5, leave = { { "10 cm", "12 cm" } } }
    local same = girdle.run { along = girdle.line(300), stones = "ss20", gap = 0.5, leave = "10 cm to 12 cm" }
    assert.is_true(#cut < #whole)
    assert.equal(#cut, #same)
  end)
  it("reports several wrong fields at once", function ()
    local text = message(girdle.run, { along = 5, stnes = "ss20", gap = -1, gpa = 1 })
    has(text, "run has 5 faults")
    has(text, "along must be a path")
    has(text, "stones is missing")
    has(text, "gap must be 0 to")
    has(text, "unknown field 'gpa', did you mean 'gap'?")
    has(text, "unknown field 'stnes', did you mean 'stones'?")
  end)
  it("shows what is right", function ()
    has(message(girdle.run, { along = girdle.line(5), stones = "ss20", ends = "insid" }),
      [[unknown ends 'insid', did you mean 'inside'? For example ends = "inside"]])
    has(message(girdle.use, "recipes/alternating_line.lua", { line = "30 cm", one = "ss21x" }), "one: unknown size 'ss21x'")
  end)
  it("names the caller's line", function ()
    local text = message(function () return girdle.run { along = girdle.line(30) } end)
    assert.is_truthy(text:find("^[^:]*lua_spec%.lua:%d+: "), text)
  end)
end)

describe("cover", function ()
  it("holds at least 492 ss20 in a square of 100 mm", function ()
    assert.is_true(#girdle.cover { within = girdle.rectangle(100, 100), stones = "ss20", gap = 0 } >= 492)
  end)
end)

describe("a placement", function ()
  local p = girdle.run { along = girdle.line(20), stones = { "ss20", "ss16" } }
  it("is walked in order", function ()
    local rows = {}
    for x, y, turn, stone, row in p:each() do rows[#rows + 1] = { x, y, turn, tostring(stone), row } end
    assert.equal(#p, #rows)
    assert.same({ 0, 0, 0, "ss20 clear", 1 }, rows[1])
    assert.equal("ss16 clear", rows[2][4])
  end)
  it("counts its stones in order", function ()
    local counts = p:counts()
    assert.equal("ss20 clear", tostring(counts[1].stone))
    assert.equal(#p, counts[1].count + counts[2].count)
  end)
  it("is the same again after two mirrors", function ()
    local twice = p:mirrored("3 mm"):mirrored("3 mm")
    local other = twice:each()
    local walk, state = twice:each()
    for x, y in p:each() do
      local a, b = walk(state)
      assert.equal(x, a)
      assert.equal(y, b)
    end
    assert.equal("function", type(other))
  end)
  it("is joined, moved and cut", function ()
    assert.equal(2 * #p, #(p + p:moved(0, 10)))
    assert.equal(#p, #p:turned("90 deg"))
    assert.equal(0, #p:without(girdle.rectangle(100, 100):moved(-50, -50)))
    assert.equal(0, #p:clear_of(p, "1 mm"))
    has(message(function () return p + 5 end), "only placements")
  end)
  it("can be closed early", function ()
    do
      local q <close> = girdle.run { along = girdle.line(20), stones = "ss20" }
      assert.equal(5, #q)
    end
    local kept, placed
    do
      local shape <close> = girdle.line(20)
      local q <close> = girdle.run { along = shape, stones = "ss20" }
      kept, placed = shape, q
    end
    has(message(kept.length, kept), "this shape is closed")
    has(message(placed.counts, placed), "this placement is closed")
    has(message(function () return #placed end), "this placement is closed")
    has(message(girdle.run, { along = kept, stones = "ss20" }), "along must be a path")
  end)
  it("outlives its walk's caller", function ()
    local walk, state = girdle.run { along = girdle.line(200), stones = "ss20" }:each()
    collectgarbage()
    collectgarbage()
    local count = 0
    while walk(state) do count = count + 1 end
    assert.equal(43, count)
    has(message(walk, io.stdout), "for loops")
    has(message(walk, nil), "for loops")
  end)
end)

describe("stream", function ()
  it("gives the same on every run", function ()
    local a, b = girdle.stream(7), girdle.stream(7)
    for _ = 1, 100 do
      assert.equal(a:number(), b:number())
      local n = a:integer(1, 6)
      assert.equal(n, b:integer(1, 6))
      assert.is_true(n >= 1 and n <= 6)
    end
    assert.not_equal(girdle.stream(7):number(), girdle.stream(8):number())
    assert.not_equal(girdle.stream("left"):number(), girdle.stream("right"):number())
  end)
end)

describe("recipe", function ()
  local row = girdle.recipe {
    format = 1, name = "one row",
    takes = { { "line", "path" }, { "gap", "length", default = "0.5 mm", to = "20 mm" }, { "turn", "angle", optional = true } },
    place = function (given)
      assert(given.turn == nil)
      return girdle.run { along = given.line, stones = "ss20", gap = given.gap }
    end,
  }
  it("is called with its parameters", function ()
    assert.equal(59, #row { line = "300 mm" })
    assert.equal("recipe 'one row'", tostring(row))
    assert.equal("one row", row.name)
  end)
  it("refuses what it does not take", function ()
    has(message(row, { lin = "300 mm" }), "did you mean 'line'")
    has(message(row, { line = "300 mm", gap = "21 mm" }), "gap must be 0 to 20 mm")
  end)
  it("refuses to be misread", function ()
    local bad = girdle.recipe { format = 1, name = "bad", takes = { { "line", "path" } },
      place = function (given) return girdle.run { along = given.lnie, stones = "ss20" } end }
    has(message(bad, { line = "300 mm" }), "unknown parameter 'lnie', did you mean 'line'?")
    has(message(girdle.recipe, { format = 1, name = "bad", takes = { { "line", "lenght" } }, place = print }),
      "did you mean 'length'")
    has(message(girdle.recipe, { format = 2, name = "bad", place = print }), "format 2")
    local none = girdle.recipe { format = 1, name = "none", place = function () end }
    has(message(none, {}), "must return a placement, not nothing")
  end)
  -- What is wrong in a file is told at once, each with its place, what is allowed, what was meant and an example.
  it("tells all that is wrong with its parameters together", function ()
    local text = message(girdle.recipe, { format = 1, name = "bad*", plce = print, takes = {
      { "gap", "length", default = "0,5 mm" }, { "rows", "integer", default = 12, to = 9 },
      { "one", "stone", default = "ss21x" }, { "side", "choice", choices = { "left", "right" }, default = "lefd" },
      { "gap", "length", form = "1 mm" }, { "line", "pth" }, { "wide", "length", from = "2 cm", to = "1 cm" },
      { "turn", "angle", from = "x" }, { "way", "choice", choices = { "a|b" } }, { "two", "stone", from = 1 },
      { "many", "integer", choices = { "a" } }, 5, { 7, "length" }, { string.rep("x", 41), "flag" },
      { "deep", "length", default = "3 cm", to = "2 cm", from = "1 cm" } } })
    has(text, "lua_spec.lua:8: recipe has 19 faults:")
    for _, fault in ipairs {
      "place is missing; for example place = function",
      "unknown field 'plce', did you mean 'place'? For example place = function",
      "the name of a recipe has 1 to 59 letters, digits, spaces and hyphens",
      "parameter 1 (gap): default: '0,5 mm' is not a length: the decimal mark is a point, did you mean '0.5 mm'?",
      "parameter 2 (rows): default must be at most 9, not 12; for example default = 3",
      "parameter 3 (one): default: unknown size 'ss21x', did you mean 'ss21'? write one like \"ss20\"",
      "parameter 4 (side): unknown default 'lefd', did you mean 'left'? For example default = \"left\"",
      "parameter 5 (gap): unknown field 'form', did you mean 'from'? For example from = \"0 mm\"",
      "parameter 5 (gap): gap is taken twice",
      "parameter 6 (line): unknown kind of parameter 'pth', did you mean 'path'? For example { \"gap\", \"length\"",
      "parameter 7 (wide): from is more than to",
      "parameter 8 (turn): from: 'x' is not an angle",
      "parameter 9 (way): choices are 1 to 16 texts of 1 to 40 characters without '|', like choices = { \"left\"",
      "parameter 10 (two): from bounds numbers and measures; a stone has no bounds",
      "parameter 11 (many): choices are those of a choice, not of a integer",
      "parameter 12 is the number 5; each is a table, like { \"gap\", \"length\"",
      "parameter 13: 1 must be a text, not the number 7; for example 1 = \"gap\"",
      "parameter 14: the name of a parameter has 1 to 40 characters",
      "parameter 15 (deep): default must be 10 to 20 mm, not 30; for example default = \"10 mm\"",
    } do has(text, "\n  " .. fault) end
  end)
  it("refuses bounds of a choice, also before its choices are sound", function ()
    for _, choices in ipairs { { "left", "right" }, {} } do
      local text = message(girdle.recipe, { format = 1, name = "bad", place = print, takes = {
        { "side", "choice", choices = choices, default = "left", from = "0 mm", to = "20 mm" } } })
      has(text, "from bounds numbers and measures; a choice has no bounds")
      has(text, "to bounds numbers and measures; a choice has no bounds")
    end
  end)
  it("says that there is more than it tells", function ()
    local takes = {}
    for i = 1, 40 do takes[i] = { "p" .. i, "pth" } end
    local text = message(girdle.recipe, { format = 1, name = "bad", place = print, takes = takes })
    has(text, "recipe has 40 faults:")
    has(text, "parameter 32 (p32)")
    has(text, "\n  and more")
    assert.is_nil(text:find("p33", 1, true))
  end)
  it("takes its parameters as a list", function ()
    has(message(girdle.recipe, { format = 1, name = "bad", place = print, takes = { line = { "line", "path" } } }),
      "recipe: takes is a list of parameters, one after another, like { { \"line\", \"path\" } }")
  end)
  it("gives examples that lie within a parameter's range", function ()
    local far = girdle.recipe { format = 1, name = "far", place = print, takes = { { "wide", "length", from = "2 cm" },
      { "share", "percent", to = "5 %" }, { "way", "choice", choices = { "up", "down" } }, { "spot", "point" } } }
    local text = message(far, { wide = "1 mm", share = "50 %", way = "", spot = "10 mm" })
    has(text, "wide must be at least 20 mm, not 1 (given as '1 mm'); for example wide = \"20 mm\"")
    has(text, "share must be at most 5 %, not 50 (given as '50 %'); for example share = \"5 %\"")
    has(text, "way must be one of up|down, not ''; for example way = \"up\"")
    has(text, "spot must be a place like { 10, 20 } or \"10 mm, 20 mm\", not the text '10 mm'")
  end)
  it("lies at most eight deep", function ()
    local deep
    deep = girdle.recipe { format = 1, name = "deep", place = function () return deep {} end }
    has(message(deep, {}), "8 recipes deep")
    assert.equal(59, #row { line = "300 mm" })
  end)
  it("keeps what it checked", function ()
    local takes = { { "gap", "length", default = "1 mm" } }
    local kept = girdle.recipe { format = 1, name = "kept", takes = takes,
      place = function (given) return girdle.run { along = girdle.line(300), stones = "ss20", gap = given.gap } end }
    takes[1].kind = -1
    takes[1][2] = "stone"
    assert.is_true(#kept {} > 0)
  end)
end)

describe("use", function ()
  it("runs a recipe file", function ()
    local p = girdle.use("recipes/alternating_line.lua", { line = "30 cm", gap = "0.5 mm" })
    assert.equal(59, #p)
    assert.equal(30, p:counts()[1].count)
  end)
  it("lets a file use the recipes beside it, and no other file", function ()
    local name = os.tmpname()
    local function with(code)
      local file = assert(io.open(name, "w"))
      file:write("return recipe { format = 1, name = 'probe', place = function () " .. code .. " end }")
      file:close()
      return name
    end
    has(message(girdle.use, with "return use('/etc/passwd', {})"), "the name of a recipe has")
    has(message(girdle.use, with "return use('../x', {})"), "the name of a recipe has")
    has(message(girdle.use, with "return use('no such recipe here', {})"), "no_such_recipe_here.lua")
    os.remove(name)
    assert.is_true(#girdle.use("tests/old/every_word.lua", { other = "edged seam" }) > 300)
  end)
  it("shows the file the limited names alone", function ()
    local name = os.tmpname()
    local file = assert(io.open(name, "w"))
    file:write("return recipe { format = 1, name = 'probe', place = function () return io.open('/etc/passwd') end }")
    file:close()
    has(message(girdle.use, name, {}), "unknown name 'io'")
    assert.equal(1, select("#", girdle.use("recipes/alternating_line.lua", { line = "30 cm" })))
    file = assert(io.open(name, "w"))
    file:write(string.dump(function () end))
    file:close()
    has(message(girdle.use, name, {}), "is compiled Lua, which is not read: a recipe is a text, like return recipe {")
    os.remove(name)
    has(message(girdle.use, "recipes/no_such.lua", {}), "no_such.lua")
  end)
end)

describe("the table of words", function ()
  it("has help, an example and known kinds everywhere, and every example runs", function ()
    for _, word in ipairs(girdle.api()) do
      local what = word.owner .. " " .. word.name
      assert.is_truthy(word.about and word.gives, what)
      if word.example then
        local environment = setmetatable({ print = function () end }, { __index = function (_, name)
          local value = rawget(girdle, name)
          if value == nil then value = _G[name] end
          return value
        end })
        assert(load(word.example, "=" .. what, "t", environment))()
      end
    end
  end)
end)

describe("the module", function ()
  local file = (os.getenv "BUILD" or "build") .. "/lua/girdle.so"
  local function lines_of(command)
    local pipe, list = assert(io.popen(command)), {}
    for line in pipe:lines() do list[#list + 1] = line end
    pipe:close()
    return list
  end
  it("shows its entry alone", function ()
    local shown = lines_of("nm -D --defined-only " .. file)
    assert.equal(1, #shown)
    assert.is_truthy(shown[1]:find "luaopen_girdle$")
  end)
  it("is not linked with a Lua of its own", function ()
    for _, line in ipairs(lines_of("ldd " .. file)) do assert.is_nil(line:find "lua5?%.?4?.*%.so") end
    for _, line in ipairs(lines_of("nm -D --undefined-only " .. file)) do assert.is_nil(line:find " girdle_") end
  end)
  it("may be loaded in several states, and again", function ()
    package.loaded.girdle = nil
    local again = require "girdle"
    assert.equal(59, #again.run { along = again.line(300), stones = "ss20", gap = 0.5 })
    assert.equal(59, #girdle.run { along = again.line(300), stones = again.stone "ss20", gap = 0.5 })
  end)
  it("holds what it uses while everything is collected at each step", function ()
    debug.sethook(function () collectgarbage() end, "", 1)
    local p = girdle.run { along = girdle.loop "14 cm", stones = { "ss20 black", girdle.stone "ss16" }, gap = "0.5 mm" }
    local count = 0
    for x, y, turn, stone in (p + p:moved(0, 50)):each() do count = count + (stone.size and x and y and turn and 1) end
    local text = message(girdle.run, { along = girdle.loop "14 cm", stnes = {}, gap = "0,5 mm" })
    debug.sethook()
    assert.equal(2 * #p, count)
    has(text, "stnes")
  end)
end)
