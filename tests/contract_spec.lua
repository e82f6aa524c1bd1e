-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- The headers are the contract: every public function is described, is tested by its name, has a Lua word or a reason for
-- none, and, where it takes a call, meets an allocator that refuses. tests/contract.lua says which word, and why none.

local girdle = require "girdle"
local contract = dofile "tests/contract.lua"

local function files(pattern)
  local list = {}
  local pipe = assert(io.popen("ls " .. pattern))
  for name in pipe:lines() do list[#list + 1] = name end
  pipe:close()
  assert(list[1], pattern)
  return list
end

local function text_of(name)
  local file = assert(io.open(name))
  local text = file:read "a"
  file:close()
  return text
end

-- ---- the public functions: name, header, described, takes_call

local function functions_of(header, list)
  local before = ""
  for line in (text_of(header) .. "\n"):gmatch "(.-)\n" do
    if line:find "^GIRDLE_API" then
      list[#list + 1] = { header = header, described = before:find "%*/$" and not before:find "^GIRDLE_API", text = "" }
    end
    local open = list[#list]
    if open and open.header == header and not open.ended then
      open.text = open.text .. " " .. line
      open.ended = line:find ";" ~= nil
      open.described = open.described or (open.ended and line:find ";%s*/%*" ~= nil)
    end
    before = line
  end
end

local functions = {}
for _, header in ipairs(files "include/girdle/*.h") do functions_of(header, functions) end
for _, one in ipairs(functions) do
  one.name = assert(one.text:match "(girdle_[%w_]+)%(", one.text)
  one.takes_call = one.text:find "int32_t girdle_[%w_]+%(girdle_call %*call" ~= nil
end

-- ---- the C tests: names of tests, and what the functions under an allocation sweep mention

local sources = {}
for _, name in ipairs(files "tests/test_*.c tests/*/test_*.c") do sources[name] = text_of(name) end

local tests = {} -- name of a test: the file it is in
for file, text in pairs(sources) do
  for name in text:gmatch "cmocka_unit_test[%w_]*%(([%w_]+)" do tests[name] = file end
end

-- A test file with what it shares with others of its room.
local function with_support(text)
  for name in text:gmatch '#include "([%w_]+_support%.h)"' do text = text_of("tests/" .. name) .. text end
  return text
end

-- The bodies of a file's functions by name, and of its macros.
local function bodies_of(text)
  local bodies = {}
  for name, body in text:gmatch "\nstatic [^\n;=]-([%w_]+)(%b()%s*%b{})" do bodies[name] = body end
  for name, body in text:gmatch "\nSWEEP_TEST%(([%w_]+)%)%s*(%b{})" do bodies[name] = body end
  for name, body in text:gsub("\\\n", " "):gmatch "\n#define ([%w_]+)(%([^\n]+)" do bodies[name] = body end
  return bodies
end

-- Adds every girdle_ function that `name` or what it calls within the file mentions.
local function mentioned(bodies, name, found, seen)
  if seen[name] then return end
  seen[name] = true
  for word in (bodies[name] or ""):gmatch "[%a_][%w_]*" do
    if word:find "^girdle_" then found[word] = true end
    if bodies[word] then mentioned(bodies, word, found, seen) end
  end
end

local swept = {}
for _, text in pairs(sources) do
  local bodies = bodies_of(with_support(text))
  for by, name in text:gmatch "([%w_]*[sS][wW][eE][eE][pP][%w_]*)%(&?([%w_]+)%)" do
    mentioned(bodies, by, swept, {})
    mentioned(bodies, name, swept, {})
  end
end

-- ---- the exceptions

-- The first row of a list whose pattern matches; notes that the row is of use.
local function row_for(list, name)
  for _, row in ipairs(list) do
    if name:find("^" .. row[1] .. "$") then
      row.used = true
      return row
    end
  end
end

local function assert_none(list, what)
  table.sort(list)
  assert(#list == 0, #list .. " " .. what .. ":\n  " .. table.concat(list, "\n  "))
end

local function assert_all_used(list, what)
  local idle = {}
  for _, row in ipairs(list) do
    if not row.used then idle[#idle + 1] = row[1] end
  end
  assert_none(idle, what .. " no longer needed")
end

describe("every public function", function ()
  it("is described", function ()
    local bare = {}
    for _, one in ipairs(functions) do
      if not one.described then bare[#bare + 1] = one.header .. " " .. one.name end
    end
    assert_none(bare, "functions without a description")
  end)

  it("has a test: one that bears its name where it can fail", function ()
    local untested = {}
    for _, one in ipairs(functions) do
      local short, found = one.name:sub(8), false
      -- what cannot fail and only shows, frees or fills in need not be tested by itself
      if not one.takes_call then
        for _, text in pairs(sources) do found = found or text:find(one.name .. "%f[^%w_]") end
      end
      for test in pairs(tests) do found = found or test == short or test:sub(1, #short + 1) == short .. "_" end
      if not found then
        local row = row_for(contract.tested, one.name)
        local file = row and tests[row[2]]
        found = file and sources[file]:find(one.name .. "%f[^%w_]")
      end
      if not found then untested[#untested + 1] = one.name end
    end
    assert_none(untested, "functions without a test of their name")
    assert_all_used(contract.tested, "rows of tested")
  end)

  it("that returns a status is tried with NULL in the place of each pointer", function ()
    local untried, rows = {}, {}
    for place, name in sources["tests/test_contract_null.c"]:gmatch '%("([%w_]+)",%s*(girdle_[%w_]+)%(call' do
      rows[name .. " " .. place] = true
    end
    for _, one in ipairs(functions) do
      for place in (one.takes_call and one.text:match "girdle_call %*call,(.*)" or ""):gmatch "[^,]*%*+([%w_]+)" do
        if not rows[one.name .. " " .. place] then untried[#untried + 1] = one.name .. ": " .. place end
      end
    end
    assert_none(untried, "places of pointers without a test")
  end)

  it("has a Lua word, or a reason for none", function ()
    local words, wordless = {}, {}
    for _, word in ipairs(girdle.api()) do words[(word.owner ~= "" and word.owner .. ":" or "") .. word.name] = true end
    for _, one in ipairs(functions) do
      local row = row_for(contract.words, one.name)
      local word = row and one.name:gsub("^" .. row[1] .. "$", row[2])
      if not word or not (words[word] or word:find " ") then wordless[#wordless + 1] = one.name .. ": " .. (word or "") end
    end
    assert_none(wordless, "functions without a word or a reason")
    assert_all_used(contract.words, "rows of words")
  end)

  it("that takes a call meets an allocator that refuses", function ()
    local unswept = {}
    for _, one in ipairs(functions) do
      if one.takes_call and not swept[one.name] then unswept[#unswept + 1] = one.name end
    end
    assert_none(unswept, "functions without an allocation sweep")
  end)
end)
