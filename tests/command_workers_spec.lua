-- Recipes run in worker processes; whatever becomes of one, the program answers.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local run, write = command.run, command.write

teardown(command.sweep)

local function recipe(name, body)
  local folder = command.folder()
  local file = folder .. "/" .. name .. ".lua"
  write(file, ([[
return recipe { format = 1, name = "%s", takes = { { "line", "path" } },
  place = function (given) %s return run { along = given.line, stones = { "ss20" }, gap = 1 } end }
]]):format(name:gsub("_", " "), body))
  return file
end

describe("a worker", function()
  it("gives the same bytes whatever their number", function()
    local first = run("club", "recipes/demo", "--today", "2031-01-06", "--workers", "1")
    for _, number in ipairs { "2", "3", "16" } do
      assert.equal(first, (run("club", "recipes/demo", "--today", "2031-01-06", "--workers", number)))
    end
  end)

  it("passes on what a recipe prints, control characters escaped", function()
    local _, words, status = run("count", recipe("printing", [[print("seen\27[31m")]]), "line=10 cm")
    assert.equal(0, status, words)
    assert.is_truthy(words:find("seen", 1, true), words)
    assert.is_falsy(words:find("\27", 1, true))
    local _, quiet = run("count", recipe("printing", [[print("seen")]]), "line=10 cm", "--quiet")
    assert.equal("", quiet)
  end)

  it("answers once when a recipe is stopped by its limits", function()
    local started = os.time()
    local _, words, status = run("count", recipe("endless", "while true do end"), "line=10 cm")
    assert.equal(3, status, words)
    assert.equal(1, select(2, words:gsub("girdle: ", "")), words)
    assert.is_true(os.time() - started < 30)
  end)

  -- What a crash of the interpreter would do: the worker is gone without a word.
  local function with_losses(losses, body)
    local kills = ("sleep 0.25; kill -9 $(pgrep -P $one);"):rep(losses)
    return command.shell(("%s count %s line='30 cm' --csv & one=$!; %s wait $one"):format(command.girdle,
      recipe("slow", body), kills))
  end

  it("that is lost is replaced, and its recipe tried once more", function()
    local printed, words, status = with_losses(1, "for i = 1, 6e7 do end")
    assert.equal(0, status, words)
    assert.equal("54", printed:match "(%d+)%s*$") -- 300 mm in steps of about 5.7 mm: 53 of them, 54 stones
  end)

  it("that is lost twice is given up, with the recipe's name", function()
    local printed, words, status = with_losses(2, "while true do end")
    assert.equal(3, status, words)
    assert.equal("", printed)
    assert.is_truthy(words:find("'slow' ended its worker process", 1, true), words)
  end)

  it("ends with the program when it is interrupted", function()
    local file = recipe("endless", "while true do end")
    local _, words, status = command.shell(("timeout --preserve-status -s INT 0.4 %s count %s line='10 cm'"):format(
      command.girdle, file))
    assert.equal(130, status, words)
    local left = command.shell("sleep 0.1; pgrep -f '[c]ount " .. file .. "' || true")
    assert.equal("", left)
  end)
end)
