-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- Makes the manual, the editor's stub and the linter's list from the table of words.
-- usage: lua5.4 bindings/lua/manual.lua [FOLDER]     writes MANUAL.md, stub.lua, luacheck.lua and pictures there
local girdle = require "girdle"
package.path = ((arg and arg[0] or ""):match "^(.*/)[^/]*$" or "") .. "?.lua;" .. package.path
local pictures = require "pictures"

local function read(name)
  local file = assert(io.open(name, "r"))
  local text = file:read "a"
  file:close()
  return text
end

-- ---- the manual

local function number(value)
  if value == math.huge or value == -math.huge then return nil end
  if value == math.floor(value) and math.abs(value) < 1e15 then return ("%d"):format(value) end
  return ("%.6g"):format(value)
end

local units = { length = " mm", angle = " deg", area = " mm2", turn = " deg", ["mass per area"] = " g/m2", mass = " mg", pieces = " pieces" }

local function range(field)
  if field.choices then return "`" .. field.choices:gsub("|", "`, `") .. "`" end
  if not field.least then return "" end
  local least, most, unit = number(field.least), number(field.most), units[field.kind] or ""
  if field.kind == "percent" then
    least, most, unit = number(field.least * 100), number(field.most * 100), " %"
  end
  return ("%s to %s%s"):format(least, most, unit)
end

local function field_row(field)
  local name = field.name:match "^%d$" and "[" .. field.name .. "]" or field.name
  local default = field.needed and "must be given" or (field.default or "")
  return ("| `%s` | %s | %s | %s | `%s` | %s |"):format(
    name, field.kind, range(field), default, (field.example or ""):gsub("|", "\\|"), field.about or "")
end

local function call(word)
  local names = {}
  for _, field in ipairs(word.fields) do
    names[#names + 1] = word.style == "fields" and (field.name:match "^%d$" and "..." or field.name .. " =") or
      (field.needed and field.name or "[" .. field.name .. "]")
  end
  local before = word.owner ~= "" and word.owner ~= "script" and "value:" or ""
  if word.style == "fields" then return ("%s%s { %s }"):format(before, word.name, table.concat(names, ", ")) end
  return ("%s%s(%s)"):format(before, word.name, table.concat(names, ", "))
end

-- The fields of a table that stands in a field: `weighed`, or `lies` of `fabric`.
local function add_fields(out, fields, of)
  out[#out + 1] = of or ""
  out[#out + 1] = "| field | kind | range | when absent | example | |\n| --- | --- | --- | --- | --- | --- |"
  for _, field in ipairs(fields) do out[#out + 1] = field_row(field) end
  out[#out + 1] = ""
  local seen = {}
  for _, field in ipairs(fields) do
    local names = {}
    for _, other in ipairs(fields) do
      if other.fields and field.fields and other.fields[1].name == field.fields[1].name and #other.fields == #field.fields then
        names[#names + 1] = "`" .. other.name .. "`"
      end
    end
    local of_these = table.concat(names, " and ")
    if field.fields and not seen[of_these] then
      seen[of_these] = true
      local rows = field.example:find "^{ {" ~= nil
      add_fields(out, field.fields, ("%s of %s:\n"):format(rows and "A row" or "The fields", of_these))
    end
  end
end

local function add_word(out, word)
  out[#out + 1] = ("### %s%s\n"):format(word.owner ~= "" and word.owner ~= "script" and word.owner .. ":" or "", word.name)
  out[#out + 1] = word.about .. "\n"
  out[#out + 1] = ("`%s` gives: %s.\n"):format(call(word), word.gives)
  if #word.fields > 0 then
    add_fields(out, word.fields)
  end
  out[#out + 1] = ("Errors: a field that is unknown, missing or out of its range%s.\n"):format(
    word.errors and "; " .. word.errors or "")
  if word.example then out[#out + 1] = "```lua example\n" .. word.example .. "\n```\n" end
  if pictures.of_verb(word) then out[#out + 1] = ("![%s](pictures/%s.svg)\n"):format(word.name, word.name) end
end

local function owned(api, owner, wanted)
  local list = {}
  for _, word in ipairs(api) do
    if word.owner == owner and (not wanted or wanted(word)) then list[#list + 1] = word end
  end
  return list
end

local function add_group(out, title, words)
  out[#out + 1] = "## " .. title .. "\n"
  for _, word in ipairs(words) do add_word(out, word) end
end

-- A limit in whole centimetres; nothing where none is known.
local function in_cm(mm) return mm > 0 and mm < math.huge and ("%.1f cm"):format(mm / 10) or "" end

local function add_measures(out)
  out[#out + 1] = "### Body measures\n"
  out[#out + 1] = "Measure the dress along its own edge first, the body second. A measure far outside what is usual is told, and used all"
    .. "\nthe same: below the mean of girls of six less three standard deviations (Öztürk and others, 2017), above the mean of men"
    .. "\nand four (Gordon and others, 2014). Neck and bust are as EN 13402-1:2001 defines them, the names ISO 8559's and everyday"
    .. "\nones; hips, seat, biceps, leg hole and trunk are taken, too.\n"
  out[#out + 1] = "| measure | where the tape goes | worth a second look below | above |\n| --- | --- | --- | --- |"
  for _, measure in ipairs(girdle.body_measures()) do
    out[#out + 1] = ("| %s | %s | %s | %s |"):format(measure.name, measure.tape, in_cm(measure.least_mm), in_cm(measure.most_mm))
  end
  out[#out + 1] = ""
end

local function manual(api, tutorial)
  local out = { tutorial }
  local taken = {}
  local function take(wanted)
    return owned(api, "", function (word)
      if taken[word] or not wanted(word) then return false end
      taken[word] = true
      return true
    end)
  end
  local shapes = take(function (word) return word.gives == "path" or word.gives == "region" end)
  local rest = { recipe = true, costume = true, zone = true, use = true, stream = true }
  local verbs = take(function (word) return word.gives == "placement" and not rest[word.name] end)
  add_group(out, "Stones and quick counts", take(function (word) return not rest[word.name] end))
  add_group(out, "Methods of stones", owned(api, "stone"))
  add_group(out, "Methods of catalogues", owned(api, "catalogue"))
  add_group(out, "Shapes", shapes)
  out[#out + 1] = "### Where the tape goes\n"
  out[#out + 1] = "Measure the dress along its own edge first, the body second. As text: `\"" .. girdle.tapes()[1].example .. "\"`.\n"
  for _, tape in ipairs(girdle.tapes()) do
    out[#out + 1] = ("**%s**, `%s`: %s.\n\n![%s](pictures/tape_%s.svg)\n"):format(tape.word, tape.example, tape.tape,
      tape.word, (tape.word:gsub(" ", "_")))
  end
  add_measures(out)
  add_group(out, "Methods of shapes", owned(api, "shape"))
  add_group(out, "Verbs", verbs)
  add_group(out, "Methods of placements", owned(api, "placement"))
  add_group(out, "Chance", take(function (word) return word.name == "stream" end))
  add_group(out, "Methods of streams", owned(api, "stream"))
  add_group(out, "Files", take(function () return true end))
  add_group(out, "In own scripts only", owned(api, "script"))
  return (table.concat(out, "\n"):gsub("\n\n\n+", "\n\n"))
end

-- ---- the editor's stub (LuaCATS)

local types = {
  length = "number|string", path = "girdle.shape|string", region = "girdle.shape|string", stone = "girdle.stone|string",
  stones = "string|girdle.stone|(girdle.stone|string)[]", number = "number|string", integer = "integer|string",
  percent = "number|string", angle = "number|string", flag = "boolean", seed = "integer|string", point = "number[]|string",
  text = "string", recipe = "girdle.recipe|string", ["weighted stones"] = "string|girdle.stone|table[]", rows = "table[]",
  placement = "girdle.placement", stretches = "table[]|string", places = "table[]", turn = "number|string",
  area = "number|string", ["mass per area"] = "number|string", mass = "number|string", pieces = "integer|string",
  table = "table", ["function"] = "function", value = "any",
}

local results = {
  path = "girdle.shape", region = "girdle.shape", shape = "girdle.shape", placement = "girdle.placement",
  stone = "girdle.stone", stream = "girdle.stream", recipe = "girdle.recipe", costume = "girdle.costume",
  zone = "girdle.zone", catalogue = "girdle.catalogue", mm = "number", mm2 = "number", text = "string", table = "table", number = "number",
  ["path, path"] = "girdle.shape, girdle.shape", ["x, y"] = "number, number", ["stone, share"] = "girdle.stone, number",
  ["gap_mm, angle_deg"] = "number, number", ["true or false"] = "boolean", ["along, distance"] = "number, number", ["true or false, name, least_mm, most_mm, warning"] = "boolean, string, number, number, string", ["distances, turns_deg"] = "number[], number[]", ["per mm"] = "number?",
  ["whole number"] = "integer", value = "any", ["list of words"] = "table[]", ["count, gap_mm"] = "integer, number",
  ["expected, least, most"] = "integer, integer, integer", ["x, y, angle_deg"] = "number, number, number",
  ["left, top, right, bottom"] = "number, number, number, number",
  ["x, y, turn, stone, row, in a for loop"] = "fun(): number, number, number, girdle.stone, integer",
  ["list of { stone =, count = }"] = "{ stone: girdle.stone, count: integer }[]",
  ["count, list of { first =, second =, depth_mm = }"] = "integer, table[]",
}

local function field_type(field)
  if field.choices then return '"' .. field.choices:gsub("|", '"|"') .. '"' end
  return assert(types[field.kind], field.kind)
end

local function stub_fields(out, word)
  out[#out + 1] = ("---@class girdle.%s_fields"):format(word.name)
  for _, field in ipairs(word.fields) do
    local name = field.name:match "^%d$" and "[" .. field.name .. "]" or field.name
    out[#out + 1] = ("---@field %s%s %s %s"):format(name, field.needed and "" or "?", field_type(field), field.about or "")
  end
  out[#out + 1] = ""
end

local function stub_word(out, word, prefix)
  local names = {}
  if word.style == "fields" then stub_fields(out, word) end
  out[#out + 1] = "---" .. word.about
  if word.style == "fields" then
    out[#out + 1] = ("---@param fields girdle.%s_fields%s"):format(word.name, word.name == "stone" and "|string" or "")
    names[1] = "fields"
  else
    for _, field in ipairs(word.fields) do
      out[#out + 1] = ("---@param %s%s %s %s"):format(field.name, field.needed and "" or "?", field_type(field), field.about or "")
      names[#names + 1] = field.name
    end
  end
  local result = results[word.gives] or (word.gives:find "^list" and "table[]") or (word.gives:find "^[{]" and "table") or (word.gives:find "^table" and "table")
  out[#out + 1] = "---@return " .. assert(result, word.gives)
  out[#out + 1] = ("function %s%s(%s) end\n"):format(prefix, word.name, table.concat(names, ", "))
end

local classes = { shape = "girdle.shape", placement = "girdle.placement", stream = "girdle.stream", catalogue = "girdle.catalogue" }

local function add_classes(out, api)
  for _, owner in ipairs { "shape", "placement", "stream", "catalogue" } do
    local operator = (owner == "shape" or owner == "placement") and ("\n---@operator add(%s): %s"):format(classes[owner], classes[owner]) or ""
    out[#out + 1] = ("---@class %s%s\nlocal %s = {}\n"):format(classes[owner], operator, owner)
    for _, word in ipairs(owned(api, owner)) do stub_word(out, word, owner .. ":") end
  end
  out[#out + 1] = "---@class girdle.stone"
  for _, word in ipairs(owned(api, "", function (word) return word.name == "stone" end)) do
    for _, field in ipairs(word.fields) do
      out[#out + 1] = ("---@field %s %s"):format(field.name, field.kind == "number" and "number" or "string")
    end
  end
  out[#out + 1] = "---@field caution string\n---@field mass_from 'weighing'|'model'|'at least'\n---@field footprint_mm2 number\n---@field circle_mm number\nlocal stone_methods = {}\n"
  for _, word in ipairs(owned(api, "stone")) do stub_word(out, word, "stone_methods:") end
  out[#out + 1] = "\n---@class girdle.recipe\n---@field name string\n---@field about string\n"
  out[#out + 1] = "---@class girdle.costume\n\n---@class girdle.zone\n"
end

local function stub(api)
  local out = { "---@meta girdle", "-- Made from the table of words by manual.lua; the words as recipe files see them, and as",
    "-- the module has them.", "" }
  add_classes(out, api)
  for _, word in ipairs(owned(api, "")) do stub_word(out, word, "") end
  out[#out + 1] = "---@class girdle\n---@field version string"
  for _, word in ipairs(owned(api, "")) do out[#out + 1] = ("---@field %s function"):format(word.name) end
  for _, word in ipairs(owned(api, "script")) do out[#out + 1] = ("---@field %s function"):format(word.name) end
  out[#out + 1] = "local girdle = {}\nreturn girdle\n"
  return table.concat(out, "\n")
end

-- ---- the linter's list

local function luacheck(api)
  local out = { "-- Made from the table of words by manual.lua. In .luacheckrc: std = dofile \"luacheck.lua\"", "return {", "  read_globals = {" }
  for _, word in ipairs(owned(api, "")) do out[#out + 1] = ("    %q,"):format(word.name) end
  for _, name in ipairs { "assert", "error", "ipairs", "pairs", "pcall", "print", "rawequal", "rawlen", "select", "tonumber",
    "tostring", "type", "math", "string", "table", "utf8" } do
    out[#out + 1] = ("    %q,"):format(name)
  end
  out[#out + 1] = "  },\n}\n"
  return table.concat(out, "\n")
end

local made = {}
function made.texts(folder)
  local api = girdle.api()
  local texts = {
    ["MANUAL.md"] = manual(api, read(folder .. "/tutorial.md")), ["stub.lua"] = stub(api), ["luacheck.lua"] = luacheck(api),
  }
  for _, word in ipairs(api) do
    local picture = pictures.of_verb(word)
    if picture then texts["pictures/" .. word.name .. ".svg"] = picture end
  end
  for _, tape in ipairs(girdle.tapes()) do
    texts["pictures/tape_" .. tape.word:gsub(" ", "_") .. ".svg"] = pictures.of_tape(tape)
  end
  return texts
end

if not (arg and arg[0] and arg[0]:find "manual%.lua$") then return made end
local folder = arg[1] or arg[0]:match "^(.*)/[^/]*$" or "."
os.execute("mkdir -p '" .. folder .. "/pictures'")
for name, text in pairs(made.texts(folder)) do
  local file = assert(io.open(folder .. "/" .. name, "w"))
  file:write(text)
  file:close()
end
