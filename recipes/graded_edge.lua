-- Large stones along the edge of an area, smaller ones away from it.
return recipe {
  format = 1, name = "graded edge", about = "Large at an edge, small away from it.",
  takes = {
    { "within", "region", about = "the area; its edge is graded unless another line is given" },
    { "edge", "path", optional = true, about = "where the large stones lie" },
    { "stones", "stones", default = "ss30 clear; ss20 clear; ss12 clear", about = "from the largest to the smallest" },
    { "depth", "length", default = "6 cm", from = "5 mm", to = "1 m", about = "how far the grading reaches" },
    { "gap", "length", default = "2 mm", from = "0 mm", to = "50 mm", about = "the least clear fabric between stones" },
    { "margin", "length", default = "2 mm", from = "0 mm", to = "100 mm", about = "clear fabric along the edge" },
    { "avoid", "region", optional = true,
      about = "what stays clear: seat, inner arm, where a partner grips or a blade is held" },
    { "seed", "seed", optional = true, about = "another number or text gives another spread" },
  },
  place = function (given)
    return grade {
      within = given.avoid and given.within:without(given.avoid) or given.within, edge = given.edge or given.within,
      stones = given.stones, depth = given.depth, gap = given.gap, margin = given.margin, seed = given.seed,
    }
  end,
}
