-- Round an opening shaped like a keyhole, its slit above: stones set off the edge, and small ones in the gaps outside.
return recipe {
  format = 1, name = "keyhole outline", about = "Stones round a keyhole opening, with fillers outside.",
  takes = {
    { "width", "length", default = "6 cm", from = "1 cm", to = "50 cm", about = "of the round part" },
    { "height", "length", default = "12 cm", from = "2 cm", to = "1 m",
      about = "from the top of the slit to the bottom" },
    { "slit", "length", default = "2 cm", from = "1 mm", to = "20 cm",
      about = "across the slit above it, the zip's tapes included" },
    { "stone", "stone", default = "ss20 clear" },
    { "fillers", "stones", default = "ss9 clear; ss6 clear", about = "from the largest to the smallest" },
    { "set_off", "length", default = "6 mm", from = "1 mm", to = "50 mm", about = "from the edge of the opening" },
    { "gap", "length", default = "1 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
  },
  place = function (given)
    local inner = keyhole(given.width, given.height, given.slit):inset(-given.set_off)
    local outline = run { along = inner, stones = { given.stone }, gap = given.gap }
    local outside = inner:inset(-given.stone.diameter_mm):without(inner)
    return outline + between { within = outside, around = outline, stones = given.fillers, gap = given.gap / 2 }
  end,
}
