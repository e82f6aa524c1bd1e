-- As much of JSON Schema as ours use.
local json = require "dkjson"
local support = {}

local types = { string = "string", boolean = "boolean", number = "number", object = "table", array = "table" }

local function is_of(value, kind)
  if kind == "null" then return value == json.null end
  if kind == "integer" then return math.type(value) == "integer" end
  return value ~= json.null and type(value) == types[kind]
end

-- Gives back where a value does not fit a rule of a schema, or nil.
function support.misfit(schema, value, rule, where)
  if rule["$ref"] then rule = schema["$defs"][rule["$ref"]:match "[^/]+$"] end
  local kinds, found = type(rule.type) == "table" and rule.type or { rule.type }, nil
  for _, kind in ipairs(kinds) do found = found or is_of(value, kind) and kind end
  if not found then return where .. " is no " .. table.concat(kinds, " or ") end
  for _, name in ipairs(found == "object" and rule.required or {}) do
    if value[name] == nil then return where .. " lacks " .. name end
  end
  for name, inner in pairs(found == "object" and value or {}) do
    local known = (rule.properties or {})[name] or rule.additionalProperties
    if not known then return where .. " has an unknown " .. name end
    local wrong = support.misfit(schema, inner, known, where .. "." .. name)
    if wrong then return wrong end
  end
  for at, inner in ipairs(found == "array" and value or {}) do
    local wrong = support.misfit(schema, inner, rule.items, where .. "[" .. at .. "]")
    if wrong then return wrong end
  end
end

return support
