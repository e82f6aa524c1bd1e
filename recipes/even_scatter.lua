-- Stones of one size spread evenly, never in rows. Keep it off the seat, the inner arm and wherever a partner grips.
return recipe {
  format = 1, name = "even scatter", about = "One stone spread evenly over an area.",
  takes = {
    { "within", "region", about = "the area, without seat, inner arm and where a partner grips" },
    { "stone", "stone", default = "ss20 clear" },
    { "gap", "length", default = "15 mm", from = "0 mm", to = "200 mm",
      about = "the least clear fabric between stones" },
    { "margin", "length", default = "5 mm", from = "0 mm", to = "100 mm", about = "clear fabric along the edge" },
    { "avoid", "region", optional = true,
      about = "what stays clear: seat, inner arm, where a partner grips or a blade is held" },
    { "seed", "seed", optional = true, about = "another number or text gives another spread" },
  },
  place = function (given)
    return scatter {
      within = given.avoid and given.within:without(given.avoid) or given.within, stones = { given.stone },
      gap = given.gap, margin = given.margin, seed = given.seed,
    }
  end,
}
