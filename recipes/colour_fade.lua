-- One colour turning into another across an area.
return recipe {
  format = 1, name = "colour fade", about = "One colour turning into another across an area.",
  takes = {
    { "within", "region", about = "the area" },
    { "stones", "stones", default = "ss16 black; ss16 grey; ss16 clear",
      about = "two or more, in the order of the fade" },
    { "towards", "choice", choices = { "down", "up", "right", "left" }, default = "down",
      about = "where the last colour is" },
    { "gap", "length", default = "4 mm", from = "0 mm", to = "100 mm",
      about = "the least clear fabric between stones" },
    { "margin", "length", default = "4 mm", from = "0 mm", to = "100 mm", about = "clear fabric along the edge" },
    { "avoid", "region", optional = true,
      about = "what stays clear: seat, inner arm, where a partner grips or a blade is held" },
    { "seed", "seed", optional = true, about = "another number or text gives another spread" },
  },
  place = function (given)
    local left, top, right, bottom = given.within:box()
    local ends = {
      down = { { left, top }, { left, bottom } }, up = { { left, bottom }, { left, top } },
      right = { { left, top }, { right, top } }, left = { { right, top }, { left, top } },
    }
    local ramp = ends[given.towards]
    return fade {
      within = given.avoid and given.within:without(given.avoid) or given.within, from = ramp[1], to = ramp[2],
      stones = given.stones, gap = given.gap, margin = given.margin, seed = given.seed,
    }
  end,
}
