-- A row on the line and a second one beside it. On a straight line, stones of one size lie between each other.
return recipe {
  format = 1, name = "double row", about = "Two rows side by side; on a straight line, stones of one size lie between each other.",
  takes = {
    { "line", "path", about = "where the first row lies" },
    { "first", "stone", default = "ss20 clear" },
    { "second", "stone", default = "ss16 clear" },
    { "gap", "length", default = "0.5 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
    { "row_gap", "length", default = "0.5 mm", from = "0 mm", to = "50 mm", about = "clear fabric between the rows" },
    { "side", "choice", choices = { "left", "right" }, default = "right", about = "of the line, as one walks it" },
    { "leave", "text", default = "", about = "stretches without stones, as 18 cm to 22 cm: zip, underarm" },
  },
  place = function (given)
    return band {
      along = given.line, rows = { { given.first }, { given.second } }, gap = given.gap, row_gap = given.row_gap,
      stagger = true, side = given.side, leave = given.leave,
    }
  end,
}
