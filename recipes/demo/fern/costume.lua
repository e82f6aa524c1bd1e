-- fern: a frond that grows from the left hip over the chest to the right shoulder. The tape measures of neckline, cuffs
-- and back are in zones.csv beside this file.
local stem_stone, rib, leaf = stone "ss20 leaf green", stone "ss16 moss", stone "ss12 leaf green"

-- One leaflet that points along x: its rim, and a rib in the middle where there is room for one.
local function leaflet(length)
  local width = length * 0.2
  local rim = path(("M0 0 C%.2f %.2f %.2f %.2f %.2f 0 C%.2f %.2f %.2f %.2f 0 0 Z"):format(
    length * 0.3, -width * 1.5, length * 0.7, -width, length, length * 0.7, width, length * 0.3, width * 1.5))
  local edge = run { along = rim, stones = { leaf }, gap = "0.8 mm" }
  local middle = path(("M%.2f 0 L%.2f 0"):format(length * 0.2, length * 0.85))
  return edge + run { along = middle, stones = { rib }, gap = "1.5 mm", clear_of = edge }
end

return costume {
  format = 1, name = "fern", about = "A frond over the chest, a double row at the neck.",
  measures = { bust = "80 cm" },
  outlines = "fern.svg",
  fabric = { mass = "240 g/m2" },
  zones = function (m, outline)
    local body = m.bust / 800
    local function fit(name) return outline[name]:stretched { across = body - 1, along = body - 1 } end
    local neckline = band { along = fit "neckline":offset(5), rows = { { stem_stone }, { leaf } }, gap = "0.8 mm" }
    local stem = fit "stem"
    local frond, side = run { along = stem, stones = { stem_stone }, gap = "1 mm", clear_of = neckline }, 1
    for step = 1, 19 do
      local along = step / 20
      local x, y, angle = stem:at(stem:length() * along)
      local length = body * (24 + 70 * math.sin(math.pi * along ^ 0.8))
      local piece = leaflet(length):moved(7, 0):turned(angle + side * (60 - 16 * along)):moved(x, y)
      frond = frond + piece:clear_of(frond, "0.5 mm"):clear_of(neckline, "1 mm")
      side = -side
    end
    return { zone { "front", side = "front", placement = neckline + frond } }
  end }
