-- Every text for people can be put in one's own words: with a table in which each phrase says its English in capitals, what
-- stays in small letters was not asked for.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local run = command.run

teardown(command.sweep)

describe("a table of all phrases", function()
  local folder = command.folder()
  local loud, lines = folder .. "/loud.csv", { "english,own" }
  for _, row in ipairs(command.rows((run "phrases"))) do
    -- the language's code and the decimal mark are no words
    local own = (row.english == "en" or row.english == ".") and "" or row.english:upper()
    lines[#lines + 1] = ('"%s","%s"'):format(row.english:gsub('"', '""'), (own:gsub('"', '""')))
  end
  command.write(loud, table.concat(lines, "\r\n") .. "\r\n")

  -- Names of the demo's costumes, wearers, zones and stones, and units within amounts.
  local data = { "ada", "ember", "bodice", "skirt", "cuffs", "cuff", "back", "straps", "ss", "red", "gold", "orange", "clear", "aqua", "sea",
    "green", "neckline", "waist", "leg", "opening", "cleo", "tide", "both", "gross", "and" }
  local known = {}
  for _, word in ipairs(data) do known[word] = true end

  for _, words in ipairs {
    { "weigh", "recipes/demo", "tag=ada", "dress=310 g", "most share=5 %" },
    { "plan", "recipes/demo", "tag=ada", "pieces=900", "--today", "2031-01-06" },
    { "plan", "recipes/demo", "tag=cleo", "drawer=all", "--today", "2031-01-06" },
    { "tables" },
    { "count", "recipes/demo", "tag=cleo" },
    { "cost", "recipes/demo", "tag=cleo", "--today", "2031-01-06" },
  } do
    it("leaves nothing of " .. words[1] .. " in English", function()
      words[#words + 1] = "--phrases"
      words[#words + 1] = loud
      local printed, said, status = run(table.unpack(words))
      assert.equal(0, status, said)
      for word in printed:gmatch "%f[%l]%l%l%l*" do
        assert.is_true(known[word], word .. " in:\n" .. printed)
      end
      assert.is_truthy(printed:find "%u%u%u")
    end)
  end

  it("keeps tables and JSON as they are", function()
    for _, form in ipairs { "--csv", "--json" } do
      assert.equal((run("weigh", "recipes/demo", "tag=ada", form)),
        (run("weigh", "recipes/demo", "tag=ada", form, "--phrases", loud, "--decimal-comma", "--inches")))
    end
  end)

  it("brings a decimal comma to what is weighed", function()
    local printed = run("weigh", "recipes/demo", "tag=ada", "--decimal-comma")
    assert.is_truthy(printed:find "%d,%d g added")
    assert.is_falsy(printed:find "%d%.%d")
  end)
end)
