-- Three sizes spread evenly, many small ones for each large one, so that the light never flashes all at once.
return recipe {
  format = 1, name = "mixed scatter", about = "Three sizes spread evenly over an area.",
  takes = {
    { "within", "region", about = "the area" },
    { "large", "stone", default = "ss30 clear" },
    { "medium", "stone", default = "ss20 clear" },
    { "small", "stone", default = "ss12 clear" },
    { "mediums", "number", default = 3, from = 0, to = 100, about = "for each large stone" },
    { "smalls", "number", default = 6, from = 0, to = 100, about = "for each large stone" },
    { "gap", "length", default = "8 mm", from = "0 mm", to = "200 mm",
      about = "the least clear fabric between stones" },
    { "margin", "length", default = "5 mm", from = "0 mm", to = "100 mm", about = "clear fabric along the edge" },
    { "avoid", "region", optional = true,
      about = "what stays clear: seat, inner arm, where a partner grips or a blade is held" },
    { "seed", "seed", optional = true, about = "another number or text gives another spread" },
  },
  place = function (given)
    local area = given.avoid and given.within:without(given.avoid) or given.within
    return scatter {
      within = area, gap = given.gap, margin = given.margin, seed = given.seed,
      stones = { { given.large, 1 }, { given.medium, given.mediums }, { given.small, given.smalls } },
    }
  end,
}
