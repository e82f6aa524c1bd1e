-- A row of larger stones on the line with a row of smaller ones on each side.
return recipe {
  format = 1, name = "triple row", about = "A row on the line and a smaller one on each side of it.",
  takes = {
    { "line", "path", about = "where the middle row lies: a seam or a binding" },
    { "middle", "stone", default = "ss20 clear" },
    { "outer", "stone", default = "ss12 clear" },
    { "gap", "length", default = "0.5 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
    { "row_gap", "length", default = "0.5 mm", from = "0 mm", to = "50 mm", about = "clear fabric between the rows" },
    { "leave", "text", default = "", about = "stretches without stones, as 18 cm to 22 cm: zip, underarm" },
  },
  place = function (given)
    return band {
      along = given.line, rows = { { given.middle }, { given.outer } }, gap = given.gap, row_gap = given.row_gap,
      side = "both", leave = given.leave,
    }
  end,
}
