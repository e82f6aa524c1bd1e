-- Two stones in turn along a seam, a binding or a strap.
return recipe {
  format = 1, name = "alternating line", about = "Two stones in turn along one line.",
  takes = {
    { "line", "path", about = "a seam, a binding or the row below an edge" },
    { "one", "stone", default = "ss20 black" },
    { "two", "stone", default = "ss20 clear" },
    { "gap", "length", default = "0.5 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
    { "leave", "text", default = "", about = "stretches without stones, as 18 cm to 22 cm: zip, underarm" },
  },
  place = function (given)
    return run { along = given.line, stones = { given.one, given.two }, gap = given.gap, leave = given.leave }
  end,
}
