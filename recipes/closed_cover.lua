-- An area closed with stones: a row of smaller ones along its edge, staggered rows inside, fillers where they meet.
return recipe {
  format = 1, name = "closed cover", about = "An area closed with stones, its edge tidied by a row of smaller ones.",
  takes = {
    { "within", "region", about = "the area" },
    { "stone", "stone", default = "ss20 clear" },
    { "edge", "stone", default = "ss12 clear", about = "of the row along the edge" },
    { "fillers", "stones", default = "ss9 clear; ss6 clear", about = "from the largest to the smallest" },
    { "gap", "length", default = "0.3 mm", from = "0 mm", to = "10 mm", about = "clear fabric between stones" },
    { "margin", "length", default = "1 mm", from = "0 mm", to = "50 mm", about = "clear fabric along the edge" },
    { "avoid", "region", optional = true,
      about = "what stays clear: seat, inner arm, where a partner grips or a blade is held" },
  },
  place = function (given)
    local edge_mm = given.edge.diameter_mm
    local rim = given.within:inset(given.margin + edge_mm / 2)
    local border = run { along = rim, stones = { given.edge }, gap = given.gap }
    local inner = cover {
      within = given.within, stones = { given.stone }, gap = given.gap,
      margin = given.margin + edge_mm + given.gap,
    }
    local both = border + inner:clear_of(border, given.gap)
    local closed = both + between {
      within = given.within, around = both, stones = given.fillers, gap = given.gap, margin = given.margin,
    }
    return given.avoid and closed:without(given.avoid) or closed
  end,
}
