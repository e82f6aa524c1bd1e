-- Rows that run down to a point and up again; each bears a stone at the tip, so that the point is sharp.
return recipe {
  format = 1, name = "v point", about = "Rows down to a point and up again, sharp at the tip; mind underarm and zip.",
  takes = {
    { "width", "length", default = "16 cm", from = "2 cm", to = "2 m", about = "between the two upper ends" },
    { "depth", "length", default = "12 cm", from = "1 cm", to = "2 m", about = "from the upper ends down to the tip" },
    { "first", "stone", default = "ss20 clear", about = "of the outer row" },
    { "second", "stone", default = "ss16 clear", about = "of the inner rows" },
    { "rows", "integer", default = 2, from = 1, to = 12 },
    { "gap", "length", default = "0.5 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
    { "row_gap", "length", default = "1 mm", from = "0 mm", to = "50 mm", about = "clear fabric between the rows" },
  },
  place = function (given)
    local rows = { { given.first } }
    for i = 2, given.rows do rows[i] = { given.second } end
    local data = ("M0 0 L%.4f %.4f L%.4f 0"):format(given.width / 2, given.depth, given.width)
    return band {
      along = path(data), rows = rows, gap = given.gap, row_gap = given.row_gap, side = "left", corners = "15 deg",
    }
  end,
}
