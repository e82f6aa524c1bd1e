-- girdle count with no file, and what every command does with its options.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local run = command.run

describe("count with no file", function()
  it("counts along a line as a run does", function()
    -- a 300 mm line of ss20 (4.7 mm) wishing 0.5 mm: 59 stones at 300/58 - 4.7 = 0.472 mm
    local printed, words, status = run("count", "line=300 mm", "stone=ss20", "gap=0.5 mm")
    assert.equal(0, status, words)
    assert.equal("59 stones of ss20 clear along a line of 300 mm, 0.472 mm edge to edge\n", printed)
  end)

  it("counts round a loop", function()
    -- 340 mm round: 65 stones, edge to edge straight across
    local printed = run("count", "loop=34 cm", "stone=ss20", "gap=0.5 mm")
    assert.equal("65 stones of ss20 clear round a loop of 34 cm, 0.529 mm edge to edge\n", printed)
  end)

  it("shares a sequence out", function()
    local printed = run("count", "line=300 mm", "stones=ss20 black; ss20 clear", "gap=0.5 mm")
    assert.equal("59 stones (30 of ss20 black, 29 of ss20 clear) along a line of 300 mm, 0.472 mm edge to edge\n", printed)
  end)

  it("counts over an area with its bounds", function()
    local printed, words, status = run("count", "area=100 cm2", "perimeter=40 cm", "stone=ss20", "gap=0 mm", "--json")
    assert.equal(0, status, words)
    local expected, least, most = printed:match '"stones":(%d+),"least":(%d+),"most":(%d+)'
    assert.is_truthy(expected, printed)
    assert.is_true(tonumber(least) <= 492 and 492 <= tonumber(most), printed)
    assert.is_true(tonumber(least) <= tonumber(expected) and tonumber(expected) <= tonumber(most), printed)
  end)

  it("takes an area without its perimeter for a square, and the word recipes take", function()
    local square = run("count", "area=25 cm2", "stone=ss20", "perimeter=20 cm")
    local printed, words, status = run("count", "area=area 25 cm2", "stone=ss20")
    assert.equal(0, status, words)
    assert.equal(square:gsub("\n", " (as a square; perimeter= tells the true edge)\n"), printed)
  end)

  it("writes the counts as a table and as JSON", function()
    local table_text = run("count", "line=300 mm", "stone=ss20", "gap=0.5 mm", "--csv")
    assert.same({ { tag = "", zone = "line", side = "", stone = "ss20 clear", count = "59" } }, command.rows(table_text))
    local json = run("count", "line=300 mm", "stone=ss20", "gap=0.5 mm", "--json")
    assert.equal('{"line_mm":300,"stones":59,"gap_mm":0.472414,"counts":[{"stone":"ss20 clear","count":59}]}\n', json)
  end)

  local mistakes = {
    { "a length with no unit", { "line=32", "stone=ss20" }, 1, { "line", "32" } },
    { "a decimal comma", { "line=32 cm", "stone=ss20", "gap=0,5 mm" }, 1, { "gap", "0,5 mm" } },
    { "a size that does not exist", { "line=32 cm", "stone=ss21x" }, 1, { "stone", "ss21x" } },
    { "a negative length", { "line=-3 cm", "stone=ss20" }, 1, { "line", "-3" } },
    { "an infinite length", { "line=inf cm", "stone=ss20" }, 1, { "line", "inf" } },
    { "no stone", { "line=32 cm" }, 2, { "stone=ss20" } },
    { "no shape", { "stone=ss20" }, 2, { "line=" } },
    { "an unknown parameter", { "line=32 cm", "stone=ss20", "gpa=1 mm" }, 2, { "'gpa'", "'gap'" } },
    { "a parameter twice", { "line=32 cm", "line=33 cm", "stone=ss20" }, 2, { "twice" } },
    { "an area that is none", { "area=area", "stone=ss20" }, 1, { "area", "250 cm2" } },
    { "an unknown setting", { "area=10 cm2", "perimeter=13 cm", "stone=ss20", "setting=honycomb" }, 1, { "honeycomb" } },
  }
  for _, mistake in ipairs(mistakes) do
    it("refuses " .. mistake[1], function()
      local printed, words, status = run("count", table.unpack(mistake[2]))
      assert.equal("", printed)
      assert.equal(mistake[3], status, words)
      for _, part in ipairs(mistake[4]) do assert.is_truthy(words:find(part, 1, true), words) end
    end)
  end
end)

describe("the command line", function()
  it("lists its commands and tells more of each", function()
    local printed, _, status = run "--help"
    assert.equal(0, status)
    for _, name in ipairs { "count", "cost", "map", "club", "recipes" } do
      assert.is_truthy(printed:find("\n  " .. name, 1, true), name)
      local more, _, ended = run(name, "--help")
      assert.equal(0, ended)
      assert.is_truthy(more:find("usage: girdle " .. name, 1, true), more)
      for _, option in ipairs { "--csv", "--json", "--out", "--today", "--workers", "--quiet" } do
        assert.is_truthy(more:find(option, 1, true), option)
      end
    end
  end)

  it("stands in its manual page, every command and every option", function()
    local page, help = assert(command.read "bindings/command/girdle.1"), run "--help"
    local plain, commands = page:gsub("\\%-", "-"), 0
    for name in help:match "commands:\n(.-)\n\n":gmatch "\n?  (%l+) +[^\n]+" do
      commands = commands + 1
      assert.is_truthy(plain:find("\n.TP\n.B " .. name .. "\n", 1, true), name)
    end
    assert.is_true(commands >= 17)
    for option in help:match "options:\n(.*)":gmatch "(%-%-%l+)" do
      assert.is_truthy(plain:find(option, 1, true), option)
    end
  end)

  it("says its version", function()
    local printed, _, status = run "--version"
    assert.equal(0, status)
    assert.is_truthy(printed:match "^girdle %d+%.%d+%.%d+\nwith lua %d", printed)
  end)

  local mistakes = {
    { "no command", {}, "missing" },
    { "an unknown command", { "cuont" }, "'count'" },
    { "an unknown option", { "count", "--jsn" }, "--json" },
    { "an option without its value", { "count", "--out" }, "value" },
    { "a table and JSON at once", { "count", "line=1 cm", "stone=ss20", "--csv", "--json" }, "--csv" },
    { "no worker", { "count", "line=1 cm", "stone=ss20", "--workers", "0" }, "--workers 2" },
    { "a day in another order", { "count", "line=1 cm", "stone=ss20", "--today", "06/01/2031" }, "2031-01-06" },
    { "a day that is not", { "count", "line=1 cm", "stone=ss20", "--today", "2031-02-30" }, "2031-02-30" },
    { "two files", { "count", "a.lua", "b.lua" }, "b.lua" },
  }
  for _, mistake in ipairs(mistakes) do
    it("refuses " .. mistake[1], function()
      local printed, words, status = run(table.unpack(mistake[2]))
      assert.equal("", printed)
      assert.equal(2, status, words)
      assert.is_truthy(words:find(mistake[3], 1, true), words)
    end)
  end

  it("ends with 3 when its output cannot be written", function()
    local _, words, status = command.shell(command.girdle .. ' count line="1 cm" stone=ss20 >/dev/full')
    assert.equal(3, status)
    assert.is_truthy(words:find("standard output", 1, true), words)
  end)
end)

describe("a measure", function()
  it("is no parameter of a club", function()
    local _, words, status = run("cost", "recipes/demo", "tag=ada", "bust=80 cm")
    assert.equal(2, status)
    assert.is_truthy(words:find("bust= is a measure", 1, true), words)
  end)
end)

describe("what is given twice over", function()
  it("is refused, not dropped", function()
    local _, words, status = run("count", "line=30 cm", "stone=ss20", "stones=ss16; ss20")
    assert.equal(2, status)
    assert.is_truthy(words:find("give one of them", 1, true), words)
    _, words, status = run("count", "line=30 cm", "loop=30 cm", "stone=ss20")
    assert.equal(2, status)
    assert.is_truthy(words:find("give one of line=", 1, true), words)
  end)
end)

describe("the cost of one tag", function()
  it("is written as its quote, without the order of all", function()
    local out = command.folder()
    local _, words, status = run("cost", "recipes/demo", "tag=ada", "--today", "2031-01-06", "--out", out)
    assert.equal(0, status, words)
    assert.equal("cost.txt\n", (command.shell("ls -A " .. out)))
    _, words, status = run("cost", "recipes/demo", "tag=ada", "--today", "2031-01-06", "--csv")
    assert.equal(2, status)
    assert.is_truthy(words:find("whole club", 1, true), words)
  end)
end)
