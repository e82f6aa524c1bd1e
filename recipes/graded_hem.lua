-- A row above the hem and, over it, stones that grow smaller and fewer upwards. Keep it off where one sits.

-- What lies within reach outside, to clip by.
local function outside(within)
  local left, top, right, bottom = within:box()
  return rectangle(right - left + 400, bottom - top + 400):moved(left - 200, top - 200):without(within)
end

return recipe {
  format = 1, name = "graded hem", about = "A row above the hem, and over it stones growing smaller.",
  takes = {
    { "within", "region", about = "the lower part of the skirt, hem at the bottom" },
    { "hem", "path", optional = true, about = "the hem, when it is not the lowest edge from corner to corner" },
    { "stones", "stones", default = "ss20 clear; ss16 clear; ss12 clear", about = "from the largest to the smallest" },
    { "set_off", "length", default = "8 mm", from = "0 mm", to = "100 mm", about = "of the row, from the hem" },
    { "depth", "length", default = "10 cm", from = "1 cm", to = "1 m", about = "how far the grading reaches" },
    { "gap", "length", default = "3 mm", from = "0 mm", to = "50 mm", about = "the least clear fabric between stones" },
    { "avoid", "region", optional = true, about = "what stays clear: the seat" },
    { "seed", "seed", optional = true, about = "another number or text gives another spread" },
  },
  place = function (given)
    local hem = given.hem or given.within:lower_edge()
    local inner = given.stones[1].diameter_mm / 2 + 1
    local line = hem:set_in(given.set_off)
    if not line:closed() then line = line:part(inner, line:length() - inner) end
    local first = run { along = line, stones = { given.stones[1] }, gap = given.gap }:without(outside(given.within))
    local area = given.avoid and given.within:without(given.avoid) or given.within
    if given.avoid then first = first:without(given.avoid) end
    return first + grade {
      within = area, edge = hem, stones = given.stones, depth = given.depth, gap = given.gap, margin = "3 mm",
      seed = given.seed, clear_of = first,
    }
  end,
}
