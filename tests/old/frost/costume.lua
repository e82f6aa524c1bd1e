-- A costume of format 1 that uses every field there was: it must open in every later version.
return costume {
  format = 1, name = "frost", about = "All that a costume says.",
  measures = { neckline = "52 cm", wrist = 140, ["upper arm"] = "11 in" },
  outlines = "frost.svg",
  fabric = { mass = "200 g/m2", lies = { across = "10 %", along = 0 }, worn = { across = "25 %", along = "5 %" } },
  zones = function (m, outline)
    local dots = set { stones = "ss30 red", at = { { 100, 100 }, { 200, 100, "30 deg" } } }
    return {
      zone { "collar", side = "front", priority = 1, recipe = "alternating line",
             given = { line = outline.neckline, gap = "1 mm worn", one = "ss20 black", two = "ss20 clear" } },
      zone { "bodice", side = "front", priority = 2, recipe = "even scatter",
             given = { within = outline.bodice, gap = "20 mm", margin = "5 mm", seed = 7 } },
      zone { "cuffs", pair = true, times = 1, recipe = "even scatter",
             given = { within = outline.cuff:fitted { width = m.wrist }, stone = "ss16", gap = "8 mm" } },
      zone { "straps", side = "back", times = 2, alike = "picture", recipe = "alternating line",
             given = { line = line(m.upper_arm) } },
      zone { "dots", side = "back", placement = dots },
      zone { "by eye", side = "both", already = { { "ss34 red", 12 }, { "ss20", "2 gross" } } },
    }
  end,
}
