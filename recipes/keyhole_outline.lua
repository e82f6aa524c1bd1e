-- Round an opening shaped like a keyhole: stones on its outline, set off the edge, and small ones in the gaps outside.
local function outline_of(width, height)
  local r, slot = width / 2, width / 4
  local neck = math.sqrt(r * r - slot * slot)
  return path(("M%.4f %.4f A%.4f %.4f 0 1 1 %.4f %.4f L%.4f %.4f L%.4f %.4f Z"):format(
    -slot, neck, r, r, slot, neck, slot, height - r, -slot, height - r))
end

return recipe {
  format = 1, name = "keyhole outline", about = "Stones round a keyhole opening, with fillers outside.",
  takes = {
    { "width", "length", default = "6 cm", from = "1 cm", to = "50 cm", about = "of the round part" },
    { "height", "length", default = "12 cm", from = "2 cm", to = "1 m", about = "of the whole opening" },
    { "stone", "stone", default = "ss20 clear" },
    { "fillers", "stones", default = "ss9 clear; ss6 clear", about = "from the largest to the smallest" },
    { "set_off", "length", default = "6 mm", from = "1 mm", to = "50 mm", about = "from the edge of the opening" },
    { "gap", "length", default = "1 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
  },
  place = function (given)
    if given.height < given.width * 1.05 then error("height must be more than width, like height = \"12 cm\"", 0) end
    local edge = outline_of(given.width, given.height)
    local outline = run { along = edge:offset(-given.set_off), stones = { given.stone }, gap = given.gap }
    local ring = given.stone.diameter_mm
    local outside = region(edge:offset(-given.set_off - ring)):without(region(edge:offset(-given.set_off)))
    return outline + between { within = outside, around = outline, stones = given.fillers, gap = given.gap / 2 }
  end,
}
