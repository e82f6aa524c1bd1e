-- A recipe of format 1 that uses every word, method and kind there was: it must open in every later version.
return recipe {
  format = 1, name = "every word", about = "All there is.",
  takes = {
    { "path", "path", default = "M0 0 C30 -20 70 -20 100 0" }, { "area", "region", default = "rectangle 8 cm x 6 cm" },
    { "one", "stone", default = "ss20 black" }, { "more", "stones", default = { "ss16 clear", "ss12 clear" } },
    { "gap", "length", default = "3 mm", from = "0 mm", to = "5 mm" }, { "share", "number", default = 2, from = 0, to = 10 },
    { "times", "integer", default = 3, from = 1, to = 9 }, { "wider", "percent", default = "10 %" },
    { "turn", "angle", default = "30 deg" }, { "side", "choice", choices = { "left", "right" }, default = "left" },
    { "whole", "flag", default = false }, { "seed", "seed", default = "old" }, { "at", "point", default = { 200, 0 } },
    { "leave", "text", default = "2 cm to 3 cm" }, { "other", "recipe", optional = true },
  },
  place = function (given)
    local x, y = given.at[1], given.at[2]
    local all = run { along = given.path, stones = { given.one }, gap = given.gap, whole = given.whole, ends = "inside",
                      corners = "30 deg", turn = "along", leave = given.leave, set_in = 1 }
    local function add(placement, down) all = all + placement:moved(0, down) end
    add(band { along = line(100), rows = { { given.one }, given.more }, gap = given.gap, row_gap = 1, stagger = true,
               side = given.side }, 100)
    add(cover { within = trapezoid(40, 60, 30), stones = "ss20", gap = given.gap, setting = "square", margin = 1, turn = 0 }, 200)
    local even = scatter { within = given.area, stones = { { given.one, 1 }, { "ss12 clear", given.share } }, gap = given.gap,
                           margin = 2, seed = given.seed }
    add(even, 300)
    add(grade { within = strip(80, 50), edge = line(80), stones = given.more, depth = 50, gap = given.gap, seed = 1 }, 400)
    add(fade { within = oval(80, 60), from = { 0, 0 }, to = { 80, 60 }, stones = given.more, gap = given.gap, seed = 2 }, 500)
    add(between { within = given.area, around = even, stones = { "ss6" }, gap = given.gap }, 300)
    add(motif { placement = set { stones = { given.one, "ss12" }, at = { { 0, 0 }, { 6, 0 } } }, along = line(100), gap = 5 }, 600)
    local shape = region("M0 0 H40 V30 H0 Z", { rule = "evenodd" }):without(oval(8, 6):moved(20, 15)):stretched { across = given.wider }
    add(scatter { within = shape:turned(given.turn):mirrored(0):fitted { width = 50 }, stones = "ss12", gap = given.gap, seed = 3 }, 700)
    local loop_part = (loop(100):part(0, 50):reversed() + line(10)):offset(1)
    local left, top, right, bottom = loop_part:box()
    local px, py, angle = loop_part:at(5)
    assert(left < right and top <= bottom and px and py and angle and loop_part:length() > 0)
    assert(rectangle(10, 10):inset(1):area() < 100 and rectangle(10, 10):perimeter() == 40)
    assert(count_along { length = 300, stones = "ss20", gap = 0.5 } == 59 and count_over { area = 1e4, perimeter = 400, stone = "ss20" } > 0)
    local chance = stream(7)
    add(set { stones = chance:pick { "ss5", "ss6" }, at = { { chance:number(0, 10), chance:integer(0, 10), given.turn, 1 } } }, 800)
    for i = 1, given.times do add(set { stones = { stone { size = "ss9", colour = "red" } }, at = { { x, y } } }:turned(i), 900 + 10 * i) end
    local half = run { along = line(40):moved(5, 0), stones = "ss9", gap = given.gap }
    add(half:folded(0, { snap = "0.1 mm" }):without(oval(20, 20):moved(20, -10)):clear_of(half, 0), 1000)
    assert(half:overlaps() == 0 and #half:counts() == 1 and half:notes().left_out == 0)
    for sx, sy, turn, s, row in half:each() do assert(sx and sy and turn and s.size == "ss9" and row == 1) end
    if given.other then add(given.other { line = line(50) }, 1100) end
    return all
  end,
}
