-- ember: a skating dress with flames that rise from the waist, embers along the hem and flames on both cuffs.
-- The drawing is of a bust of 76 cm and a wrist of 14 cm; every wearer's own dress is that drawing, larger or smaller,
-- with the rows at the neck as long as her own neckline, of which the front has 64 in 100.
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
  measures = { bust = "76 cm", wrist = "14 cm", neckline = "54 cm" },
  outlines = "ember.svg",
  fabric = { mass = "220 g/m2", lies = { across = "8 %" }, worn = { across = "20 %" } },
  zones = function (m, outline)
    local function scaled(shape, by) return shape:stretched { across = by - 1, along = by - 1 } end
    local function fit(name) return scaled(outline[name], m.bust / 760) end
    local left, _, right = fit "bodice":box()
    local centre_front = (left + right) / 2

    local front_neck = outline.neckline:fitted { length = m.neckline * 0.64 }
    local neckline = band { along = front_neck:offset(5), rows = { { large }, { spark } }, gap = "0.8 mm" }
    local waist = run { along = fit "waist":offset(-4), stones = { large, gold }, gap = "1 mm" }
    local one_side = run { along = fit "armhole":offset(4), stones = { spark }, gap = "1.5 mm" }
      + flame(fit "flame-inner") + flame(fit "flame-outer")
    local hem = run { along = fit "hem":offset(5), stones = { large, gold }, gap = "2 mm" }
    local embers = grade { within = fit "skirt", edge = fit "hem", stones = { large, orange, spark },
                           depth = m.bust * 0.18, gap = "4 mm", margin = "4 mm", clear_of = hem }
    return {
      zone { "bodice", side = "front", placement =
        neckline + one_side:folded(centre_front) + flame(fit "flame-centre") + waist },
      zone { "skirt", side = "front", placement = hem + embers },
      zone { "cuffs", pair = true, placement = flame(scaled(outline.cuff, m.wrist / 140)) },
      zone { "back straps", side = "back", already = { { red, 48 }, { orange, 60 } } },
    }
  end }
