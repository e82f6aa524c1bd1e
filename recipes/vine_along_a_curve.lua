-- A stem with leaves to its left and right in turn.
local function leaf_of(given)
  local l, w = given.leaf_length, given.leaf_length * 0.45
  local rim = path(("M0 0 C%.4f %.4f %.4f %.4f %.4f 0 C%.4f %.4f %.4f %.4f 0 0 Z"):format(
    l * 0.3, -w * 0.75, l * 0.7, -w * 0.6, l, l * 0.7, w * 0.6, l * 0.3, w * 0.75))
  return run { along = rim, stones = { given.leaf }, gap = given.gap }
end

return recipe {
  format = 1, name = "vine along a curve", about = "A stem with leaves on both sides in turn.",
  takes = {
    { "line", "path", about = "the stem" },
    { "stem", "stone", default = "ss16 leaf green" },
    { "leaf", "stone", default = "ss12 leaf green" },
    { "leaf_length", "length", default = "25 mm", from = "10 mm", to = "20 cm" },
    { "apart", "length", default = "22 mm", from = "5 mm", to = "50 cm", about = "from leaf to leaf along the stem" },
    { "lean", "angle", default = "50 deg", from = "10 deg", to = "90 deg",
      about = "of the leaves, away from the stem" },
    { "gap", "length", default = "0.8 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
    { "leave", "text", default = "", about = "stretches of the stem without stones, as 18 cm to 22 cm: zip, underarm" },
  },
  place = function (given)
    local vine = run { along = given.line, stones = { given.stem }, gap = given.gap, leave = given.leave }
    local leaf = leaf_of(given):moved(given.stem.diameter_mm / 2 + given.leaf.diameter_mm / 2 + given.gap, 0)
    local long, side = given.line:length(), 1
    for along = given.apart / 2, long - given.apart / 4, given.apart do
      local x, y, angle = given.line:at(along)
      vine = vine + leaf:turned(angle + side * given.lean):moved(x, y):clear_of(vine, given.gap / 2)
      side = -side
    end
    return vine
  end,
}
