-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- Body measures far outside what is usual: said, and used all the same.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local run = command.run

teardown(command.sweep)

local function warnings(words)
  local _, count = words:gsub("measure again", "")
  return count
end

describe("a body measure", function()
  local folder = command.folder()
  os.execute("cp -r recipes/demo/. " .. folder)
  local function wearers(bust, wrist)
    command.write(folder .. "/club.csv", "tag,costume,size,needed_by,bust,wrist\n"
      .. ("ada,ember,S,2031-03-14,%s,%s\n"):format(bust, wrist))
  end

  it("is used and doubted when it lies far outside", function()
    local _, words, status = run("count", "recipes/demo/ember.lua", "wrist=5 cm")
    assert.equal(0, status, words)
    assert.is_truthy(words:find("ember: a wrist of 5 cm is far below what is usual, 9.7 to 21.2 cm; measure again, round the wrist",
      1, true), words)
    _, words = run("count", "recipes/demo/ember.lua", "wrist=5 cm", "--quiet")
    assert.equal("", words)
  end)
  it("is taken without a word when a child or a grown man has it", function()
    for _, wrist in ipairs { "9.8 cm", "21 cm" } do
      local _, words, status = run("count", "recipes/demo/ember.lua", "wrist=" .. wrist)
      assert.equal(0, status)
      assert.equal(0, warnings(words))
    end
  end)
  it("is doubted in a club's table for its wearer alone", function()
    wearers("78 cm", "9 cm")
    local _, words, status = run("count", folder, "tag=ada")
    assert.equal(0, status, words)
    assert.is_truthy(words:find("ada: a wrist of 9 cm is far below", 1, true), words)
    assert.equal(1, warnings(words))
    wearers("150 cm", "12 cm")
    _, words = run("count", folder)
    assert.is_truthy(words:find("ada: a bust of 150 cm is far above what is usual, at most 140.8 cm", 1, true), words)
    assert.equal(1, warnings(words))
  end)
end)
