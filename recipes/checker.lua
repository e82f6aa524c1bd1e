-- Two colours in turn, each row begun with the other one.
return recipe {
  format = 1, name = "checker", about = "Two colours in turn, row by row, like a board.",
  takes = {
    { "within", "region", about = "the area" },
    { "one", "stone", default = "ss20 black" },
    { "two", "stone", default = "ss20 clear", about = "as large as the first" },
    { "gap", "length", default = "0.5 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
    { "margin", "length", default = "1 mm", from = "0 mm", to = "50 mm", about = "clear fabric along the edge" },
    { "avoid", "region", optional = true,
      about = "what stays clear: seat, inner arm, where a partner grips or a blade is held" },
  },
  place = function (given)
    if math.abs(given.one.diameter_mm - given.two.diameter_mm) > 0.01 then
      error("one and two must be of one size, like one = \"ss20 black\", two = \"ss20 clear\"")
    end
    local pitch, size = given.one.diameter_mm + given.gap, given.one.diameter_mm
    local left, top, right, bottom = given.within:box()
    local columns = math.floor((right - left - 2 * given.margin + given.gap) / pitch)
    local rows = math.floor((bottom - top - 2 * given.margin + given.gap) / pitch)
    if columns < 2 or rows < 1 then
      error("within is too small for two stones side by side; for example within = \"rectangle 10 cm x 10 cm\"")
    end
    local x = (left + right - (columns - 1) * pitch) / 2
    local y = (top + bottom - (rows - 1) * pitch) / 2
    local row = line((columns - 1) * pitch)
    local even = run { along = row, stones = { given.one, given.two }, count = columns }
    local odd = run { along = row, stones = { given.two, given.one }, count = columns }
    local board
    for i = 0, rows - 1 do
      local next_row = (i % 2 == 0 and even or odd):moved(x, y + i * pitch)
      board = board and board + next_row or next_row
    end
    local frame = rectangle(right - left + 4 * size, bottom - top + 4 * size):moved(left - 2 * size, top - 2 * size)
    local inside = given.margin > 0 and given.within:inset(given.margin) or given.within
    board = board:without(frame:without(inside))
    return given.avoid and board:without(given.avoid) or board
  end,
}
