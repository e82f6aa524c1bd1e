-- Rows below a neckline: large stones at the seam, smaller ones away from it, all set off the edge that scrapes.
return recipe {
  format = 1, name = "collar band", about = "Rows at a neckline, large at the seam and small away from it.",
  takes = {
    { "line", "path", about = "the neckline" },
    { "large", "stone", default = "ss30 clear", about = "at the seam" },
    { "medium", "stone", default = "ss20 clear" },
    { "small", "stone", default = "ss12 clear", about = "farthest from the seam" },
    { "set_off", "length", default = "6 mm", from = "0 mm", to = "50 mm",
      about = "from the edge, which scrapes the skin" },
    { "side", "choice", choices = { "left", "right" }, default = "left",
      about = "where the fabric lies as one walks the line; outside a loop is left" },
    { "gap", "length", default = "0.8 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
    { "row_gap", "length", default = "0.8 mm", from = "0 mm", to = "50 mm", about = "clear fabric between the rows" },
    { "leave", "text", default = "", about = "stretches without stones, as 18 cm to 22 cm: the zip, a closure" },
  },
  place = function (given)
    return band {
      along = given.line, rows = { { given.large }, { given.medium }, { given.small } },
      set_in = given.side == "right" and given.set_off or -given.set_off,
      gap = given.gap, row_gap = given.row_gap, side = given.side, leave = given.leave,
    }
  end,
}
