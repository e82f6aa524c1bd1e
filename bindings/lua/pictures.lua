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

-- Measures that run along no edge, as ends in shares of the box, or in the shape's own measures.
local across = {
  oval = { width = { 0, 0.5, 1, 0.5 }, height = { 0.5, 0, 0.5, 1 } },
  trapezoid = { height = { 0.5, 0, 0.5, 1 } },
  triangle = { height = { 0.5, 0, 0.5, 1 } },
  teardrop = { width = { 0, 0.7, 1, 0.7 }, height = { 0.5, 0, 0.5, 1 } },
  keyhole = { width = { 0, 0.714, 1, 0.714 }, height = { 0.5, 0, 0.5, 1 } },
  ["circle skirt"] = { length = { 0, 0.5, 0.3846, 0.5 } },
}

-- The edges between corners: where each begins and ends along the path.
local function edges_of(path)
  local corners, edges = path:corners(20), {}
  for i, from in ipairs(corners) do edges[i] = { from, corners[i + 1] or path:length() } end
  return edges
end

local function edge_of(path, edges, length)
  for _, edge in ipairs(edges) do
    if math.abs(edge[2] - edge[1] - length) < 1e-3 * length and not edge.taken then
      edge.taken = true
      return path:part(edge[1], edge[2])
    end
  end
end

local function label(text, x, y, size)
  return ('<text x="%s" y="%s" font-size="%s" font-family="sans-serif" fill="#b3202f" stroke="#fff" stroke-width="%s" paint-order="stroke" text-anchor="middle">%s</text>\n')
    :format(number(x), number(y), number(size), number(size / 4), text)
end

local function measured(path, edges, tape, name, length)
  local left, top, right, bottom = path:box()
  local ends = across[tape.word] and across[tape.word][name]
  if ends then
    local w, h = right - left, bottom - top
    return girdle.path(("M%.3f %.3f L%.3f %.3f"):format(left + ends[1] * w, top + ends[2] * h, left + ends[3] * w, top + ends[4] * h))
  end
  if tape.word == "circle skirt" then return girdle.loop(length):moved((left + right) / 2, (top + bottom) / 2) end
  return edge_of(path, edges, length) or (math.abs(path:length() - length) < 1e-3 * length and path) or nil
end

function pictures.of_tape(tape)
  local path = girdle.path(tape.example)
  local left, top, right, bottom = path:box()
  local size = math.max(right - left, bottom - top) / 18
  local edges, body, place = edges_of(path), {}, 0
  body[1] = ('<path d="%s" fill="#f2f2ee" stroke="#55555e" stroke-width="%s" fill-rule="evenodd"/>\n'):format(path:data(), number(size / 20))
  for value in tape.example:gmatch "([%d.]+) cm" do
    place = place + 1
    local name = tape.measures[place]
    local line = measured(path, edges, tape, name, tonumber(value) * 10)
    if line then
      local x, y = line:at(line:length() * (place == 1 and 0.5 or 0.4))
      body[#body + 1] = ('<path d="%s" fill="none" stroke="#b3202f" stroke-width="%s"/>\n'):format(line:data(), number(size / 8))
      body[#body + 1] = label(name, x, y + size * 0.35, size)
    end
  end
  return frame(left, top, right, bottom, 2 * size, '<rect x="-1e5" y="-1e5" width="2e5" height="2e5" fill="#fff"/>\n' .. table.concat(body))
end

return pictures
