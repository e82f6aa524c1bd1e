-- A recipe of format 1 as it was first written: it must open in every later version.
return recipe {
  format = 1, name = "edged seam", about = "Large stones along a seam, small ones along each side.",
  takes = {
    { "line", "path", about = "the seam" },
    { "large", "stone", default = "ss20 clear" },
    { "small", "stone", default = "ss9 black" },
    { "gap", "length", default = "0.8 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
  },
  place = function (given)
    local middle = run { along = given.line, stones = { given.large }, gap = given.gap }
    local away = given.large.diameter_mm / 2 + given.gap + given.small.diameter_mm / 2
    local right = run { along = given.line:offset(away), stones = { given.small }, gap = given.gap }
    local left = run { along = given.line:offset(-away), stones = { given.small }, gap = given.gap }
    return middle + right:clear_of(middle, given.gap / 2) + left:clear_of(middle, given.gap / 2)
  end,
}
