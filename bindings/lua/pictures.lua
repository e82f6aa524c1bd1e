-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- The manual's pictures: what the example of each verb places, and where the tape goes on each shape.
local girdle = require "girdle"

local pictures = {}
local colours = { clear = "#dfeaf2", black = "#26262b", red = "#b3202f", gold = "#d9a514", white = "#ffffff" }

local function number(value) return (("%.2f"):format(value):gsub("%.?0+$", "")) end

local function frame(left, top, right, bottom, margin, body)
  local width, height = right - left + 2 * margin, bottom - top + 2 * margin
  return ('<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="%s %s %s %s">\n%s</svg>\n'):format(
    number(width), number(height), number(left - margin), number(top - margin), number(width), number(height), body)
end

-- ---- verbs

-- Runs an example and gives what the verb placed last, and the shapes it placed within or along.
local function placed_by(word)
  local placement, shapes = nil, {}
  local environment = setmetatable({ print = function () end }, { __index = function (_, name)
    local value = rawget(girdle, name)
    if value == nil then return _G[name] end
    if name ~= word.name then return value end
    return function (fields)
      shapes = { fields.within, fields.along, fields.edge }
      placement = value(fields)
      if fields.around then placement = fields.around + placement end
      return placement
    end
  end })
  assert(load(word.example, "=" .. word.name, "t", environment))()
  return placement, shapes
end

local function circles(placement)
  local out, left, top, right, bottom = {}, math.huge, math.huge, -math.huge, -math.huge
  for x, y, _, stone in placement:each() do
    local r = stone.diameter_mm / 2
    left, top, right, bottom = math.min(left, x - r), math.min(top, y - r), math.max(right, x + r), math.max(bottom, y + r)
    out[#out + 1] = ('<circle cx="%s" cy="%s" r="%s" fill="%s"/>'):format(number(x), number(y), number(r),
      colours[stone.colour] or "#9a9aa3")
  end
  return table.concat(out, "\n"), left, top, right, bottom
end

function pictures.of_verb(word)
  if word.owner ~= "" or word.gives ~= "placement" or not word.example then return nil end
  local placement, shapes = placed_by(word)
  local body, left, top, right, bottom = circles(placement)
  local lines = {}
  for _, shape in pairs(shapes) do
    if type(shape) == "userdata" then
      lines[#lines + 1] = ('<path d="%s" fill="none" stroke="#9a9aa3" stroke-width=".3"/>'):format(shape:data())
      local l, t, r, b = shape:box()
      left, top, right, bottom = math.min(left, l), math.min(top, t), math.max(right, r), math.max(bottom, b)
    end
  end
  table.sort(lines)
  return frame(left, top, right, bottom, 3, ('<rect x="-1e4" y="-1e4" width="2e4" height="2e4" fill="#fff"/>\n%s\n<g stroke="#55555e" stroke-width=".2">\n%s\n</g>\n')
    :format(table.concat(lines, "\n"), body))
end

-- ---- where the tape goes

-- Measures that run along no edge, as ends in shares of the box; where on the line the name stands, and on which side
-- as one walks it (1: right).
local across = {
  oval = { width = { 0, 0.5, 1, 0.5, at = 0.22, side = -1 }, height = { 0.5, 0, 0.5, 1, at = 0.22, side = -1 } },
  trapezoid = { height = { 0.5, 0, 0.5, 1, at = 0.5, side = -1 } },
  triangle = { height = { 0.5, 0, 0.5, 1, at = 0.6, side = -1 } },
  teardrop = { width = { 0, 0.7, 1, 0.7, at = 0.25, side = -1 }, height = { 0.5, 0, 0.5, 1, at = 0.83, side = -1 } },
  keyhole = { width = { 0, 0.714, 1, 0.714, at = 0.25, side = -1 }, height = { 0.5, 0, 0.5, 1, at = 0.775, side = -1 } },
  ["circle skirt"] = { length = { 0.6154, 0.5, 1, 0.5, at = 0.5, side = -1 } },
}

-- Edges that bend round too little room for a name.
local hollow = { waist = true, inner = true }

-- A picture on its way: what is drawn, and the box that holds it.
local function sheet(path, fill)
  local left, top, right, bottom = path:box()
  local size = math.max(right - left, bottom - top) / 18
  return { size = size, left = left, top = top, right = right, bottom = bottom, parts = {
    ('<path d="%s" fill="%s" stroke="#55555e" stroke-width="%s" fill-rule="evenodd"/>\n'):format(path:data(), fill,
      number(size / 16)) } }
end

local function add(on, left, top, right, bottom, part)
  on.left, on.top = math.min(on.left, left), math.min(on.top, top)
  on.right, on.bottom = math.max(on.right, right), math.max(on.bottom, bottom)
  on.parts[#on.parts + 1] = part
end

local function finish(on)
  return frame(on.left, on.top, on.right, on.bottom, on.size,
    '<rect x="-1e5" y="-1e5" width="2e5" height="2e5" fill="#fff"/>\n' .. table.concat(on.parts))
end

-- A text beside a point, its box wholly on the side of the direction (dx, dy).
local function label(on, text, x, y, dx, dy)
  local size = on.size
  local half = 0.28 * size * utf8.len(text)
  local away = size * 0.45 + math.abs(dx) * half + math.abs(dy) * size * 0.4
  x, y = x + dx * away, y + dy * away
  add(on, x - half, y - size * 0.5, x + half, y + size * 0.5,
    ('<text x="%s" y="%s" font-size="%s" font-family="sans-serif" fill="#b3202f" stroke="#fff" stroke-width="%s" paint-order="stroke" text-anchor="middle">%s</text>\n')
      :format(number(x), number(y + size * 0.35), number(size), number(size / 5), text))
end

-- The tape along a line, with a bar across each end.
local function tape_along(on, line)
  local size = on.size
  on.parts[#on.parts + 1] = ('<path d="%s" fill="none" stroke="#b3202f" stroke-width="%s"/>\n'):format(line:data(), number(size / 7))
  if line:closed() then return end
  for _, along in ipairs { 0, line:length() } do
    local x, y = line:at(along)
    local _, _, angle = line:at(math.abs(along - line:length() / 100)) -- a sliver of the next edge may lie at an end
    local c, s = math.cos(math.rad(angle)) * size * 0.35, math.sin(math.rad(angle)) * size * 0.35
    on.parts[#on.parts + 1] = ('<path d="M%s %s L%s %s" stroke="#b3202f" stroke-width="%s"/>\n'):format(number(x - s),
      number(y + c), number(x + s), number(y - c), number(size / 7))
  end
end

-- The name of a measure beside its line: on the side that is asked for, else where the shape is not.
local function name_along(on, text, line, region, where)
  local x, y, angle = line:at(line:length() * (where.at or 0.5))
  local dx, dy = -math.sin(math.rad(angle)), math.cos(math.rad(angle))
  local within = region and region:contains(x + dx * on.size * 0.2, y + dy * on.size * 0.2)
  local away = where.side or within ~= (where.within or false) and -1 or 1
  label(on, text, x, y, dx * away, dy * away)
end

-- The edge between two corners that has a length, each edge once.
local function edge_of(path, taken, length)
  local corners = path:corners(20)
  for i, from in ipairs(corners) do
    local to = corners[i + 1] or path:length()
    if math.abs(to - from - length) < 1e-3 * length and not taken[i] then
      taken[i] = true
      return path:part(from, to)
    end
  end
end

local function measured(path, taken, tape, name, length)
  local left, top, right, bottom = path:box()
  local ends = across[tape.word] and across[tape.word][name]
  if ends then
    local w, h = right - left, bottom - top
    return girdle.path(("M%.3f %.3f L%.3f %.3f"):format(left + ends[1] * w, top + ends[2] * h, left + ends[3] * w, top + ends[4] * h)), ends
  end
  if tape.word == "circle skirt" then -- its rim is two circles; the tape goes round the inner one
    return girdle.loop(length):moved((left + right) / 2, (top + bottom) / 2), { side = -1 }
  end
  return edge_of(path, taken, length) or (math.abs(path:length() - length) < 1e-3 * length and path) or nil,
    { within = hollow[name] and tape.word ~= "quarter circle skirt" }
end

local function of_lengths(tape)
  local path = girdle.path(tape.example)
  local on, taken, place = sheet(path, "#f2f2ee"), {}, 0
  local region = girdle.region(path)
  for value in tape.example:gmatch "([%d.]+) cm" do
    place = place + 1
    local name = tape.measures[place]
    local line, where = measured(path, taken, tape, name, tonumber(value) * 10)
    if line then
      tape_along(on, line)
      name_along(on, ("%d %s"):format(place, name), line, region, where)
    end
  end
  return finish(on)
end

-- ---- shapes that are not made of a fixed number of lengths

local function of_line()
  local path = girdle.path "M0 0 C60 -40 120 40 180 0":fitted { length = "38 cm" }
  local on = sheet(path, "none")
  tape_along(on, path)
  name_along(on, "length", path, nil, { at = 0.3, side = -1 })
  return finish(on)
end

local function of_panel()
  local widths, step = { 200, 240, 220 }, 50
  local path = girdle.path "panel every 5 cm: 20 cm, 24 cm, 22 cm"
  local left, _, right = path:box()
  local on, middle = sheet(path, "#f2f2ee"), (left + right) / 2
  for i, width in ipairs(widths) do
    local y = (i - 1) * step
    local line = girdle.line(width):moved(middle - width / 2, y)
    tape_along(on, line)
    label(on, ("%d width"):format(i), middle + width / 2, y, 1, 0)
    if i > 1 then
      tape_along(on, girdle.line(step):turned(90):moved(middle, y - step))
      label(on, "every", middle, y - step / 2, 1, 0)
    end
  end
  return finish(on)
end

-- Squared paper: a square counts when most of it, so to speak its middle, lies inside.
local function of_area()
  local path = girdle.path "M30 0 C60 -5 85 15 80 40 C76 62 40 55 18 60 C-5 64 -6 8 30 0 Z"
  local left, top, right, bottom = path:box()
  local on, region, count, cell = sheet(path, "#f2f2ee"), girdle.region(path), 0, 10
  local squares = {}
  for y = math.floor(top / cell) * cell, bottom, cell do
    for x = math.floor(left / cell) * cell, right, cell do
      local inside = region:contains(x + cell / 2, y + cell / 2)
      count = count + (inside and 1 or 0)
      squares[#squares + 1] = ('<rect x="%s" y="%s" width="%s" height="%s" fill="%s" stroke="#9a9aa3" stroke-width=".15"/>\n')
        :format(number(x), number(y), cell, cell, inside and "#f3d3d6" or "none")
      add(on, x, y, x + cell, y + cell, "")
    end
  end
  table.insert(on.parts, 2, table.concat(squares))
  on.parts[#on.parts + 1] = ('<path d="%s" fill="none" stroke="#b3202f" stroke-width=".7"/>\n'):format(path:data())
  label(on, ("%d squares of 1 cm: %d cm²"):format(count, count), (left + right) / 2, on.bottom, 0, 1)
  return finish(on)
end

local others = { line = of_line, panel = of_panel, area = of_area }
function pictures.of_tape(tape)
  return (others[tape.word] or of_lengths)(tape)
end

return pictures
