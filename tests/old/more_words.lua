-- A recipe of format 1 with the words that every_word.lua lacks: it must open in every later version.
return recipe {
  format = 1, name = "more words", about = "The rest.",
  takes = {
    { "within", "region", optional = true, about = "an area" }, { "edge", "recipe", optional = true },
    { "gap", "length", default = "2 mm", from = "0 mm", to = "20 mm", about = "clear fabric" },
  },
  place = function (given)
    local drop = stone {
      size = "ss20", colour = "red", finish = "matt", material = "acrylic", cut = "14 facets", fix = "sew",
      outline = "pear", length_ratio = 1.5, diameter_mm = 4.7, diameter_least_mm = 4.6, diameter_most_mm = 4.8,
      height_mm = 2, mass_mg = 55, mass_least_mg = 50, mass_most_mg = 60,
    }
    local weighed = stone "ss20":weighed { pieces = "1 gross", mass = "7.9 g", error = "0.1 g" }
    assert(drop:reach("90 deg") > 0 and weighed:solid().volume_mm3 > 0 and weighed.mass_mg > 0)
    assert(#sizes() > 0 and #cuts() > 0 and #materials() > 0 and #tapes() > 0 and #body_measures() > 0)
    assert(likely_sizes("4.7 mm", "0.05 mm")[1].name and #likely_sizes("50 mm") == 1)
    assert(gap_as { gap = "1 mm", angle = "90 deg", from = { across = "25 %" }, to = { across = "10 %", along = 0.1 } } > 0)

    local all = run { along = line(100), stones = { drop, weighed }, count = 9, clear_of = set { stones = "ss5", at = { { 0, 30 } } } }
    local function add(placement, down) all = all + placement:moved(0, down) end
    local areas = {
      triangle("6 cm", "8 cm"), teardrop("6 cm", "9 cm"), keyhole("6 cm", "12 cm", "2 cm"), yoke("6 cm", "4 cm", "30 cm"),
      sleeve { wrist = "16 cm", top = "30 cm", length = "20 cm" }, skirt { waist = "40 cm", length = "10 cm", fullness = 0.5 },
      panel { every = "5 cm", widths = { "20 cm", "24 cm", "22 cm" } }, area "25 cm2", given.within,
    }
    for i, within in ipairs(areas) do
      add(scatter { within = within, stones = "ss9", count = 20, seed = i, margin = "1 mm" }, 400 * i)
    end
    add(band { along = line(100), rows = { { "ss20" }, { "ss12" } }, count = 11, row_gap = 1, ends = "inside" }, 50)
    local closed = cover { within = oval(60, 40), stones = "ss20", count = 30, clear_of = set { stones = "ss9", at = { { 0, 0 } } } }
    add(closed, 100)
    add(scatter { within = oval(60, 40), stones = { { "ss16", 1 }, { "ss9", 2 } }, gap = given.gap, fill_up = true,
                  around = closed, seed = 1 }, 100)
    add(scatter { within = oval(40, 30), stones = "ss9", gap = given.gap, dense = true, seed = 3 }, 400)
    add(fade { within = oval(60, 40), from = { 0, 0 }, to = { "60 mm", 0 }, stones = { "ss9", "ss9 red" }, count = 20, seed = 2 }, 200)
    add(between { within = oval(60, 40), around = closed, stones = "ss6", gap = 0, margin = 1, count = 5 }, 100)
    add(motif { placement = set { stones = "ss9", at = { { 0, 0 }, { 5, 0 } } }, along = line(200), count = 3, collide = true }, 300)
    assert(count_along { length = "34 cm", stones = "ss20", gap = 0.5, closed = true } == 65)
    assert(count_over { area = "100 cm2", perimeter = "40 cm", holes = 1, stone = "ss20", setting = "square", convex = false } > 0)

    local long = line(100)
    local first, second = long:split("3 cm")
    assert(first:length() == 30 and second:length() == 70 and long:nearest(25, 7) == 25)
    assert(#long:meetings(line(50):turned(90):moved(30, -20)) == 1 and #path("M0 0 H10 V10"):corners("45 deg") == 1)
    assert(loop(100):flattened("0.1 mm"):length() < 100 and path("M0 0 H10"):data() ~= "")
    local square = rectangle(30, 20):fitted { width = 60, height = 40 }
    assert(square:contains(10, 10) and square:centre() and square:depth(10, 10) > 0)
    assert(loop(100):curvature(5) > 0 and loop(100):closed() and square:rim():subpaths() == 1)
    assert(rectangle(100, 100):without(oval(20, 20):moved(40, 40)):holes() == 1 and loop(100):set_in("1 mm"):length() < 100)
    assert(long:transformed(1, 0, 0.2, 1, "3 cm", 0):joined(long:moved(130, 0)):length() == 200)
    assert(long:stretched { across = "10 %", from = { across = "10 %" } }:length() == 100)
    assert(math.abs(rectangle(30, 20):lower_edge():length() - 30) < 1e-9)
    assert(plausible("wrist girth", "14 cm"))
    local low = cuts()[1]
    low.name = "low"
    local mine = catalogue {
      sizes = { { name = "house 5", diameter_least_mm = 4.9, diameter_nominal_mm = 5, diameter_most_mm = 5.1, certainty = "one chart" } },
      cuts = { low },
      materials = { { name = "house resin", density_least_g_cm3 = 1.2, density_nominal_g_cm3 = 1.3, density_most_g_cm3 = 1.4,
                      minimum = false, lead = "none", source = "weighed in water" } },
      weighed = { { stone = "ss20", pieces = "1 gross", mass = "7.9 g", error = "0.1 g" } },
    }
    assert(mine:solid(mine:stone "house 5 red house resin low").volume_mm3 > 0 and mine:likely_sizes("5 mm")[1].fits)
    return given.edge and all + given.edge { line = long } or all
  end,
}
