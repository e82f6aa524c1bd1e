-- ember: a skating dress with flames that rise from the waist, embers along the hem and flames on both cuffs.
-- The drawing is of a bust of 76 cm and a wrist of 14 cm; every wearer's own dress is that drawing, larger or smaller.
local large, red, orange = stone "ss20 red", stone "ss16 red", stone "ss16 orange"
local gold, spark = stone "ss20 gold", stone "ss12 gold"

-- A tongue of flame: its rim in small stones, large and red at the foot, small and gold at the tip.
local function flame(tongue)
  local left, top, right, bottom = tongue:box()
  local rim = run { along = tongue, stones = { spark }, gap = "1.2 mm" }
  local foot = path(("M%.2f %.2f L%.2f %.2f"):format(left, bottom, right, bottom))
  return rim + grade { within = tongue, edge = foot, depth = (bottom - top) * 0.8, margin = "2.5 mm",
                       stones = { red, orange, spark }, gap = "1.2 mm", clear_of = rim }
end

return costume {
  format = 1, name = "ember", about = "Flames from the waist, embers along the hem.",
  measures = { bust = "76 cm", wrist = "14 cm" },
  outlines = "ember.svg",
  fabric = { mass = "220 g/m2", lies = { across = "8 %" }, worn = { across = "20 %" } },
  zones = function (m, outline)
    local body = m.bust / 760
    local function fit(shape) return shape:stretched { across = body - 1, along = body - 1 } end
    local skirt, hem, cuff = fit(outline.skirt), fit(outline.hem), outline.cuff
    local lower_edge = run { along = hem:offset(5), stones = { large, gold }, gap = "2 mm" }
    local flames = flame(fit(outline["flame-inner"])) + flame(fit(outline["flame-outer"]))
    local arm = m.wrist / 140
    return {
      zone { "neckline", side = "front", placement =
        band { along = fit(outline.neckline):offset(5), rows = { { large }, { spark } }, gap = "0.8 mm", side = "right" } },
      zone { "armholes", side = "front", placement =
        run { along = fit(outline.armhole):offset(4), stones = { spark }, gap = "1.5 mm" }:folded(0) },
      zone { "waist", side = "front", placement =
        run { along = fit(outline.waist):offset(-4), stones = { large, gold }, gap = "1 mm" } },
      zone { "flames", side = "front", placement = flame(fit(outline["flame-centre"])) + flames:folded(0) },
      zone { "hem", side = "front", placement = lower_edge },
      zone { "skirt", side = "front", placement =
        grade { within = skirt, edge = hem, stones = { large, orange, spark }, depth = 120 * body, gap = "5 mm",
                margin = "4 mm", clear_of = lower_edge } },
      zone { "cuffs", pair = true, placement =
        flame(cuff:moved(-378, -444):stretched { across = arm - 1, along = arm - 1 }:moved(378 * body, 444 * body)) },
      zone { "back straps", side = "back", already = { { "ss20 red", 48 }, { "ss16 orange", 60 } } },
    }
  end }
