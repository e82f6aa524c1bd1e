-- Dense at the wrist, sparser up the arm. Leave the inner arm clear, where it rubs against the body.

-- What lies within reach outside, to clip by.
local function outside(within)
  local left, top, right, bottom = within:box()
  return rectangle(right - left + 400, bottom - top + 400):moved(left - 200, top - 200):without(within)
end

return recipe {
  format = 1, name = "cuff", about = "Dense at the wrist, fading up the sleeve.",
  takes = {
    { "within", "region", about = "the cuff, wrist at the bottom, as strip 14 cm x 6 cm" },
    { "stone", "stone", default = "ss16 clear" },
    { "wrist_row", "stone", default = "ss20 clear", about = "of the row above the edge" },
    { "set_off", "length", default = "6 mm", from = "0 mm", to = "50 mm", about = "of that row, from the edge" },
    { "gap", "length", default = "0.5 mm", from = "0 mm", to = "50 mm",
      about = "the least clear fabric between stones" },
    { "avoid", "region", optional = true, about = "what stays clear: the inner arm, a zip" },
    { "seed", "seed", optional = true, about = "another number or text gives another spread" },
  },
  place = function (given)
    local _, top, _, bottom = given.within:box()
    local wrist = given.within:lower_edge()
    local inner = given.wrist_row.diameter_mm / 2 + 1
    local line = wrist:set_in(given.set_off)
    if not line:closed() then line = line:part(inner, line:length() - inner) end
    local first = run { along = line, stones = { given.wrist_row }, gap = given.gap }:without(outside(given.within))
    if given.avoid then first = first:without(given.avoid) end
    local area = given.avoid and given.within:without(given.avoid) or given.within
    return first + grade {
      within = area, edge = wrist, stones = { given.stone }, depth = bottom - top, gap = given.gap, margin = "2 mm",
      seed = given.seed, clear_of = first,
    }
  end,
}
