-- A row above the hem and, over it, stones that grow smaller and fewer upwards. Keep it off where one sits.
-- The outermost ring of the rim that reaches lowest, with the fabric to the right of its walker.
local function lowest_ring(within)
  local ring, lowest
  for _, data in ipairs(string.split(within:rim():data(), "M")) do
    local one = data ~= "" and path("M" .. data)
    local _, _, _, bottom = (one or within):box()
    if one and (not ring or bottom > lowest) then ring, lowest = one, bottom end
  end
  local x, y, angle = ring:at(0.618 * ring:length())
  local turn = math.rad(angle)
  local inside = within:contains(x - 0.01 * math.sin(turn), y + 0.01 * math.cos(turn))
  return inside and ring or ring:reversed()
end

-- From corner to corner where the middle lies lowest; the whole ring when it has no corners.
local function lower_edge(within)
  local ring = lowest_ring(within)
  local corners, length = ring:corners(), ring:length()
  local lowest, from, to = -math.huge, 0, length
  for i, start in ipairs(corners) do
    local stop = corners[i + 1] or corners[1] + length
    local _, y = ring:at((start + stop) / 2 % length)
    if y > lowest then lowest, from, to = y, start, stop end
  end
  if to <= length then return #corners > 0 and ring:part(from, to) or ring end
  return ring:part(from, length) + ring:part(0, to - length)
end

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
    local hem = given.hem or lower_edge(given.within)
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
