-- What papers print as JSON is as their schema says, and the schema says no more than they print.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local json = require "dkjson"
local run = command.run
local misfit = require "schema_support".misfit

local schema = json.decode(assert(command.read "bindings/command/papers.schema.json"))
teardown(command.sweep)

local function printed(...)
  local text, words, status = run(...)
  assert.equal(0, status, words)
  return json.decode(text, 1, json.null)
end

describe("the schema of papers", function()
  local soon = { "club", "recipes/demo", "--json", "--today", "2031-01-06" }
  local late = { "club", "recipes/demo", "--json", "--today", "2031-03-10" }

  it("fits a costume's counts", function()
    assert.is_nil(misfit(schema, printed("count", "recipes/demo", "tag=cleo", "--json"), schema["$defs"].counts, "counts"))
  end)

  it("fits a club that has time, one that has not, and its order", function()
    for _, words in ipairs { soon, late, { "order", "recipes/demo", "--json", "--today", "2031-01-06" } } do
      assert.is_nil(misfit(schema, printed(table.unpack(words)), schema["$defs"].club, words[1]))
    end
    assert.is_true(#printed(table.unpack(late)).calendar.alternatives > 0)
  end)

  it("fits stand-ins of a stone that has no price, whose difference is not known", function()
    local folder = command.folder()
    assert(os.execute("cp -r recipes/demo/. " .. folder))
    local lines = {}
    for line in command.read(folder .. "/prices.csv"):gmatch "[^\r\n]+" do
      if not line:find("ss16 clear", 1, true) then lines[#lines + 1] = line end
    end
    command.write(folder .. "/prices.csv", table.concat(lines, "\n") .. "\n")
    for _, verb in ipairs { "cost", "order", "club" } do
      local club, unknown = json.decode((run(verb, folder, "--json", "--today", "2031-01-06")), 1, json.null), 0
      for _, stone in ipairs(club.order.stones) do
        for _, other in ipairs(stone.substitutes) do
          if other.added_cost_minor == json.null then unknown = unknown + (stone.unpriced and 1 or 0) end
        end
      end
      assert.is_true(unknown > 0, verb)
      assert.is_nil(misfit(schema, club, schema["$defs"].club, verb))
    end
  end)

  it("finds what does not fit", function()
    local club = printed(table.unpack(soon))
    club.order.lines[1].packs = "2"
    assert.equal("club.order.lines[1].packs is no integer", misfit(schema, club, schema["$defs"].club, "club"))
    club.order.lines[1].packs = 2
    club.calendar.more = 1
    assert.equal("club.calendar has an unknown more", misfit(schema, club, schema["$defs"].club, "club"))
  end)
end)
