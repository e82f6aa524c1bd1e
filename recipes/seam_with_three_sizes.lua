-- One line that swells and shrinks: large, medium, small, medium, and again from the large one.
return recipe {
  format = 1, name = "seam with three sizes", about = "One line: large, medium, small, medium, and on.",
  takes = {
    { "line", "path", about = "a seam, a strap or a binding" },
    { "large", "stone", default = "ss30 clear" },
    { "medium", "stone", default = "ss20 clear" },
    { "small", "stone", default = "ss12 clear" },
    { "gap", "length", default = "0.6 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
    { "whole", "flag", default = false, about = "end only after a whole sequence" },
    { "leave", "text", default = "", about = "stretches without stones, as 18 cm to 22 cm: zip, underarm" },
  },
  place = function (given)
    return run {
      along = given.line, stones = { given.large, given.medium, given.small, given.medium }, gap = given.gap,
      whole = given.whole, leave = given.leave,
    }
  end,
}
