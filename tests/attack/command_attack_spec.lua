-- Strangers' recipes through the whole program: each is ended within its limits, with a reason, and the worker lives.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local write = command.write

teardown(command.sweep)

-- Runs a hostile body inside a placing function, with a time that no honest limit needs.
local function attack(body, takes)
  local folder = command.folder()
  write(folder .. "/hostile.lua", ([[
local function text(part, count) return part:rep(count) end
return recipe { format = 1, name = "hostile", takes = { %s }, place = function (given) %s end }
]]):format(takes or "", body))
  local printed, words, status = command.shell(("timeout 60 %s count %s/hostile.lua --csv"):format(command.girdle, folder))
  assert.equal("", printed)
  assert.is_falsy(words:find("ended its worker process", 1, true), words)
  assert.is_falsy(words:find("damaged", 1, true), words)
  return words, status
end

local stopped = {
  { "catches its own stop", "while true do pcall(function () while true do end end) end" },
  { "grows a text for ever", "local all = 'x' while true do all = all .. all end" },
  { "places along a thousand thousand kilometres", "return run { along = line(1e7), stones = { 'ss20' }, gap = 0 }" },
  { "scatters dust", "return scatter { within = rectangle(1e5, 1e5), stones = { '0.5 mm' }, gap = '0.000001 mm' }" },
  { "covers a field with dust", "return cover { within = rectangle(1e6, 1e6), stones = { 'ss3' }, gap = 0 }" },
  { "prints for ever", "while true do print(text('x', 1000)) end" },
}

local refused = {
  { "repeats an empty text without end", "return (''):rep(math.maxinteger)" },
  { "opens a file", "io.open('/etc/passwd')" },
  { "starts a program", "os.execute('true')" },
  { "loads code", "load('return 1')()" },
  { "loads a file", "dofile('/etc/passwd')" },
  { "asks for a library", "require 'io'" },
  { "asks for the debugger", "debug.getinfo(1)" },
  { "makes a coroutine", "coroutine.wrap(print)()" },
  { "reaches for the metatable of texts", "getmetatable('').__index = nil" },
  { "writes a global", "leak = 1" },
  { "reads an unknown name", "return unknown_name" },
  { "gives back no placement", "return 7" },
  { "reads path data that ends early", "return run { along = path('M0 0 C1 1'), stones = { 'ss20' }, gap = 1 }" },
  { "reads 60 KB of path data", "return run { along = path('M0 0' .. text(' L1 1 L0 0', 6000)), stones = { 'ss20' }, gap = 1e9 }" },
  { "places at no number", "return run { along = line(0/0), stones = { 'ss20' }, gap = 1 }" },
  { "places at an infinite gap", "return run { along = line(10), stones = { 'ss20' }, gap = math.huge }" },
  { "raises a table", "error({})" },
  { "raises nothing", "error(nil)" },
  { "nests without end", "local f = '' for i = 1, 200 do f = f .. '(' end return path(f)" },
}

describe("a hostile recipe that", function()
  for _, one in ipairs(stopped) do
    it(one[1] .. " is stopped", function()
      local words, status = attack(one[2])
      assert.equal(3, status, words)
      assert.is_truthy(words:find("girdle: ", 1, true), words)
    end)
  end

  for _, one in ipairs(refused) do
    it(one[1] .. " is refused", function()
      local words, status = attack(one[2])
      assert.equal(1, status, words)
      assert.is_truthy(words:find("girdle: ", 1, true), words)
    end)
  end

  it("takes a million parameters is refused", function()
    local rows = {}
    for at = 1, 3000 do rows[at] = ("{'p%d','length'}"):format(at) end
    local words, status = attack("return 1", table.concat(rows, ","))
    assert.is_true(status == 1 or status == 3, words)
  end)

  it("names itself with control characters does not reach the terminal", function()
    local folder = command.folder()
    write(folder .. "/hostile.lua", 'return recipe { format = 1, name = "a\\27[31mb", takes = {}, place = function () end }')
    local printed, words, status = command.run("count", folder .. "/hostile.lua")
    assert.equal("", printed)
    assert.equal(1, status, words)
    assert.is_falsy(words:find("\27", 1, true))
  end)

  it("is byte code is refused", function()
    local folder = command.folder()
    write(folder .. "/hostile.lua", string.dump(function() return 1 end))
    local _, words, status = command.run("count", folder .. "/hostile.lua")
    assert.equal(1, status, words)
  end)
end)

-- The same attacks that the host withstands, as recipes in the program's standing workers: one stream of job lines, each
-- answered on its own with the right reason, and the same workers go on. Those that are stopped by a limit alone take
-- seconds each; without GIRDLE_PROOF every twelfth of them is tried.
describe("the attacks on the host", function()
  local groups = dofile "tests/attack/attacks.lua"
  local kinds = { limit = "over a limit", argument = "a number is out of its range", unknown = "not known",
                  syntax = "the text cannot be read", geometry = "the shape cannot carry it" }

  local function is_right(answer, statuses)
    local kind = answer:match '"error":{"kind":"([^"]*)"'
    for word in statuses:gmatch "%a+" do
      if kind and kinds[word] == kind or word == "done" and not kind then return true end
    end
    return false
  end

  -- The stones of one placing may be more in the program than the host's test allows.
  local function may_be_done(one) return one[3]:find "done" or one[2]:find "return %a+ {" end

  for _, group in ipairs(groups) do
    it("end in a worker: " .. group.group, function()
      local folder, tried, at = command.folder(), {}, 0
      for _, one in ipairs(group) do
        if one[3] == "limit" then at = at + 1 end
        if one[3] ~= "limit" or at % 12 == 4 or os.getenv "GIRDLE_PROOF" then tried[#tried + 1] = one end
      end
      local jobs = {}
      for place, one in ipairs(tried) do
        local name = "attack " .. place
        local code = one[2]:gsub("'attempt'", "'" .. name .. "'")
        write(folder .. "/" .. name:gsub(" ", "_") .. ".lua",
          ("return recipe { format = 1, name = '%s', place = function (given)\n%s\nend }\n"):format(name, code))
        jobs[place] = ('{"tag":"%d","zones":[{"zone":"z","recipe":"%s"}]}'):format(place, name)
      end
      write(folder .. "/jobs", table.concat(jobs, "\n") .. "\n")
      local printed, words = command.shell(("GIRDLE_RECIPES=%s timeout 900 %s lines <%s/jobs"):format(folder, command.girdle, folder))
      assert.is_falsy(words:find("ended its worker process", 1, true), words)
      local place = 0
      for answer in printed:gmatch "[^\n]+" do
        place = place + 1
        local one = tried[place]
        assert.is_truthy(answer:find(('"tag":"%d"'):format(place), 1, true), answer)
        assert.is_true(is_right(answer, may_be_done(one) and one[3] .. " done" or one[3]), one[1] .. ": " .. answer)
        assert.is_falsy(answer:find("worker", 1, true), answer)
        assert.is_falsy(answer:find "[%c]", answer)
      end
      assert.equal(#tried, place)
    end)
  end
end)

describe("a hostile costume", function()
  it("of a million zones is stopped or refused", function()
    local folder = command.folder()
    write(folder .. "/hostile.lua", [[return costume { format = 1, name = "hostile", zones = function ()
      local all = {}
      for at = 1, 1e6 do all[at] = zone { "z" .. at, recipe = "alternating line", given = { line = line "1 cm" } } end
      return all end }]])
    local _, words, status = command.shell(("timeout 60 %s count %s/hostile.lua --csv"):format(command.girdle, folder))
    assert.is_true(status == 1 or status == 3, words)
    assert.is_falsy(words:find("ended its worker process", 1, true), words)
  end)

  it("cannot name a drawing outside its folder", function()
    for _, name in ipairs { "../ember.svg", "/etc/passwd", "tide/../ember.svg" } do
      local folder = command.folder()
      write(folder .. "/hostile.lua", ('return costume { format = 1, name = "hostile", outlines = "%s", zones = function () return {} end }'):format(name))
      local _, words, status = command.run("count", folder .. "/hostile.lua")
      assert.equal(1, status, words)
      assert.is_truthy(words:find(name, 1, true), words)
    end
  end)

  it("cannot make a drawing swell", function()
    local folder = command.folder()
    write(folder .. "/hostile.lua", 'return costume { format = 1, name = "hostile", outlines = "a.svg", zones = function () return {} end }')
    local swelling = { '<!DOCTYPE svg [<!ENTITY a "xxxxxxxxxx">' }
    for at = 1, 9 do
      swelling[#swelling + 1] = ('<!ENTITY %s "%s">'):format(("abcdefghij"):sub(at + 1, at + 1), ("&%s;"):format(("abcdefghij"):sub(at, at)):rep(10))
    end
    swelling[#swelling + 1] = ']><svg xmlns="http://www.w3.org/2000/svg"><title>&j;</title></svg>'
    write(folder .. "/a.svg", table.concat(swelling))
    local _, words, status = command.shell(("timeout 20 %s count %s/hostile.lua"):format(command.girdle, folder))
    assert.equal(3, status, words) -- a limit
    assert.is_truthy(words:find("a.svg", 1, true), words)
  end)
end)
