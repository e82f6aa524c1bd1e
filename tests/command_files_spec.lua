-- Files in and out: bad input gets a clear error and loses nothing; outputs appear whole or not at all.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local run, read, write = command.run, command.read, command.write

teardown(command.sweep)

local recipe = [[
return recipe { format = 1, name = "plain line", about = "One stone along one line.",
  takes = { { "line", "path" }, { "one", "stone", default = "ss20" }, { "gap", "length", default = "0.5 mm" } },
  place = function (given) return run { along = given.line, stones = { given.one }, gap = given.gap } end }
]]

-- A copy of the demo club that a test may spoil.
local function club()
  local folder = command.folder()
  os.execute("cp -r recipes/demo/. " .. folder)
  return folder
end

local function spoil(folder, file, from, to)
  local text = read(folder .. "/" .. file)
  local at, last = text:find(from, 1, true)
  assert(at, from)
  write(folder .. "/" .. file, text:sub(1, at - 1) .. to .. text:sub(last + 1))
end

local function says(words, ...)
  for _, part in ipairs { ... } do assert.is_truthy(words:find(part, 1, true), part .. " is not in: " .. words) end
end

describe("a recipe file", function()
  it("is counted, mapped and listed by its path", function()
    local folder = command.folder()
    local file = folder .. "/plain_line.lua"
    write(file, recipe)
    local printed, words, status = run("count", file, "line=300 mm", "--csv")
    assert.equal(0, status, words)
    assert.same("59", command.rows(printed)[1].count)
    local svg = run("map", file, "line=300 mm")
    assert.equal(59, select(2, svg:gsub('<circle class="stone"', "")))
    local places = run("map", file, "line=300 mm", "--csv")
    assert.equal(59, #command.rows(places))
    says(run("recipes", file), "plain line", "line", "path", "must be given", "ss20", "0.5 mm")
  end)

  it("does not clash with itself when it is a house recipe", function()
    local printed, words, status = run("count", "recipes/alternating_line.lua", "line=300 mm", "--csv")
    assert.equal(0, status, words)
    assert.equal(printed:gsub("^[^\n]*\n", ""):match "%d+", run("count", "alternating line", "line=300 mm", "--csv")
      :gsub("^[^\n]*\n", ""):match "%d+")
  end)

  it("is asked for by the nearest name when unknown", function()
    local _, words, status = run("count", "alternatin line", "line=300 mm")
    assert.equal(1, status)
    says(words, "alternatin line", "'alternating line'")
  end)

  it("names file, line and field of a mistake", function()
    local folder = command.folder()
    local file = folder .. "/plain_line.lua"
    write(file, (recipe:gsub("gap = given", "gpa = given")))
    local printed, words, status = run("count", file, "line=300 mm")
    assert.equal("", printed)
    assert.equal(1, status)
    says(words, "plain_line.lua:3", "gpa", "'gap'")
  end)

  it("names the parameter, and shows what was typed", function()
    local file = command.folder() .. "/plain_line.lua"
    write(file, recipe)
    local cases = {
      { "one=ss5o", "one: unknown size 'ss5o'" }, { "line=-3 cm", "'-3 cm'" }, { "gap=3x", "gap: '3x'" },
    }
    for _, case in ipairs(cases) do
      local _, words, status = run("count", file, case[1], case[1]:find "line" and "gap=1 mm" or "line=30 cm")
      assert.equal(1, status, words)
      says(words, case[2])
    end
  end)

  it("may begin with the mark of UTF-8, as a table may", function()
    local file = command.folder() .. "/plain_line.lua"
    write(file, "\xef\xbb\xbf" .. recipe)
    local _, words, status = run("count", file, "line=300 mm")
    assert.equal(0, status, words)
  end)

  it("is not stopped by a folder or a pipe that is named like one", function()
    local folder = command.folder()
    write(folder .. "/plain_line.lua", recipe)
    os.execute(("mkdir %s/a.lua; mkfifo %s/b.lua"):format(folder, folder))
    local line = ("timeout 20 %s count %s/plain_line.lua line='30 cm'"):format(command.girdle, folder)
    local _, words, status = command.shell(line)
    assert.equal(0, status, words)
  end)

  it("that never ends is stopped by its limit", function()
    local folder = command.folder()
    local file = folder .. "/endless.lua"
    write(file, (recipe:gsub("plain line", "endless"):gsub("return run", "while true do end return run")))
    local _, words, status = run("count", file, "line=300 mm")
    assert.equal(3, status, words)
    says(words, "endless")
  end)

  it("that wants 10 GB is refused them", function()
    local folder = command.folder()
    local file = folder .. "/greedy.lua"
    write(file, (recipe:gsub("plain line", "greedy")
      :gsub("return run", 'local all = {} for i = 1, 1e9 do all[i] = { i } end return run')))
    local _, words, status = run("count", file, "line=300 mm")
    assert.equal(3, status, words)
  end)

  it("cannot be reached through a link that leaves its folder", function()
    local folder, away = command.folder(), command.folder()
    write(away .. "/other.lua", (recipe:gsub("plain line", "other")))
    os.execute(("ln -s %s/other.lua %s/other.lua"):format(away, folder))
    write(folder .. "/zones.csv", "zone,shape,length,recipe\nneck,line,20 cm,other\n")
    local _, words, status = run("count", folder)
    assert.equal(1, status)
    says(words, "other")
  end)
end)

describe("a costume's folder", function()
  it("is named by its own name, also as the place one stands in", function()
    local folder = command.folder() .. "/frost"
    os.execute("mkdir " .. folder)
    write(folder .. "/zones.csv", "zone,shape,length,recipe\nneck,line,20 cm,alternating line\n")
    local program = command.shell("realpath " .. command.girdle):gsub("%s+$", "")
    for _, path in ipairs { ".", "./", "../frost", folder .. "//" } do
      local printed, words, status = command.shell(("cd %s && '%s' count %s --csv"):format(folder, program, path))
      assert.equal(0, status, words)
      assert.equal("frost", command.rows(printed)[1].tag)
    end
  end)

  it("may be copied under another name, and be without a table", function()
    local folder = command.folder()
    write(folder .. "/costume.lua", 'return costume { format = 1, name = "frost", zones = function () return ' ..
      '{ zone { "neck", placement = run { along = line "20 cm", stones = { stone "ss20" } } } } end }')
    local _, words, status = run("count", folder)
    assert.equal(0, status, words)
  end)

  it("says how a measure is given, and what a loop has", function()
    local _, words, status = run("count", "recipes/demo/tide")
    assert.equal(1, status)
    says(words, "zones.csv:3", 'waist="60 cm"')
    local folder = command.folder()
    write(folder .. "/zones.csv", "zone,shape,length,width,recipe\nneck,loop,20 cm,3 cm,alternating line\n")
    _, words, status = run("count", folder)
    assert.equal(1, status)
    says(words, "zones.csv:2", "width", "loop,34 cm,")
  end)

  it("without a zone is refused", function()
    local folder = command.folder()
    write(folder .. "/costume.lua", 'return costume { format = 1, name = "frost", zones = function () return {} end }')
    local _, words, status = run("count", folder)
    assert.equal(1, status, words)
    says(words, "no zones")
    os.remove(folder .. "/costume.lua")
    write(folder .. "/zones.csv", "zone,shape,length,recipe\n")
    for _, verb in ipairs { "count", "check" } do
      _, words, status = run(verb, folder)
      assert.equal(1, status, words)
      says(words, "zones.csv has no zones")
    end
  end)
end)

describe("a missing or unreadable file", function()
  it("is named", function()
    for _, verb in ipairs { "count", "cost", "map", "club", "recipes" } do
      local printed, words, status = run(verb, "nowhere/at-all.lua")
      assert.equal("", printed)
      assert.equal(1, status, verb .. words)
      says(words, "nowhere/at-all.lua")
    end
  end)

  it("is no recipe when it is something else", function()
    local folder = command.folder()
    write(folder .. "/notes.txt", "hello")
    local _, words, status = run("count", folder .. "/notes.txt")
    assert.equal(1, status)
    says(words, "notes.txt", ".lua")
    _, words, status = run("count", folder)
    assert.equal(1, status)
    says(words, "zones.csv")
    _, words, status = run("club", folder)
    assert.equal(1, status)
    says(words, "club.csv")
  end)
end)

describe("a spoiled club", function()
  local mistakes = {
    { "a price that is no number", "prices.csv", ",1.58,", ",1.5x,", { "prices.csv:2", "price", "1.5x" } },
    { "a price with a comma", "prices.csv", ",1.58,", ',"1,58",', { "prices.csv:2", "price", "1,58" } },
    { "an unknown supplier", "prices.csv", "Hollow Elm Trimmings", "Hollow Elm Triming",
      { "prices.csv:2", "supplier", "'Hollow Elm Trimmings'" } },
    { "a missing column", "prices.csv", "pack,price", "pack,prize", { "prices.csv", "price" } },
    { "a size that no stone has", "stock.csv", "ss20 clear", "ss21x clear", { "stock.csv:2", "stone", "ss21x" } },
    { "a length without a unit", "club.csv", "78 cm", "78", { "club.csv:2", "bust", "78", "unit" } },
    { "a length of its own kind", "sizes.csv", "66 cm", "-66 cm", { "sizes.csv:2", "bust", "-66" } },
    { "an unknown size", "club.csv", "tide,M", "tide,XXS", { "club.csv:4", "XXS", "S, M, L" } },
    { "a misspelt measure", "club.csv", ",bust,", ",bsut,", { "club.csv:1", "unknown measure 'bsut'", "'bust'" } },
    { "a day read two ways", "club.csv", "2031-03-14", "03/04/2031", { "club.csv:2", "needed_by", "03/04/2031" } },
    { "a tag twice", "club.csv", "\nbo,", "\nada,", { "club.csv:3", "tag", "ada" } },
    { "an unknown costume", "club.csv", "ada,ember", "ada,embers", { "club.csv:2", "unknown costume 'embers'", "'ember'" } },
    { "a tag that leads away", "club.csv", "ada,ember", "../x,ember", { "club.csv:2", "tag", "../x" } },
    { "a tag that is a table", "club.csv", "ada,ember", "counts,ember", { "club.csv:2", "'counts-1'" } },
    { "a rate twice", "rates.csv", "rate,value\n", "rate,value\nhands,1\nhands,2\n", { "rates.csv:3", "hands", "line 2" } },
    { "zones without recipes", "tide/zones.csv", ",recipe,", ",recipes by hand,", { "column 'recipe' is missing" } },
    { "a long tag", "club.csv", "ada,ember", ("a"):rep(40) .. ",ember", { "club.csv:2", "tag" } },
    { "a costume that leads away", "club.csv", "ada,ember", "ada,../ember", { "../ember" } },
    { "an unknown recipe", "tide/zones.csv", "graded edge", "graded edg", { "zones.csv:4", "'graded edge'" } },
    { "an unknown rate", "rates.csv", "hands", "hnads", { "rates.csv", "hnads", "hands" } },
    { "a zone without a shape", "tide/zones.csv", "loop,neckline", ",neckline", { "zones.csv:2", "shape" } },
  }
  for _, mistake in ipairs(mistakes) do
    it("with " .. mistake[1] .. " is refused, and what was written before stays", function()
      local folder, out = club(), command.folder()
      write(out .. "/order.csv", "kept\n")
      spoil(folder, mistake[2], mistake[3], mistake[4])
      local printed, words, status = run("club", folder, "--out", out, "--today", "2031-01-06")
      assert.equal(1, status, words)
      assert.equal("", printed)
      says(words, table.unpack(mistake[5]))
      assert.equal("kept\n", read(out .. "/order.csv"))
      assert.equal("order.csv\n", (command.shell("ls -A " .. out)))
    end)
  end

  it("may have measures that only its own costumes know", function()
    local folder = club()
    write(folder .. "/club.csv", "tag,costume,thig,neckline,leg_opening,waist,wrist\n" ..
      "ada,tide,43 cm,50 cm,52 cm,60 cm,14 cm\n")
    local _, words, status = run("check", folder)
    assert.equal(1, status, words)
    says(words, "unknown measure 'thig'")
    spoil(folder, "tide/zones.csv", "loop,leg opening", "loop,thig")
    _, words, status = run("check", folder)
    assert.equal(0, status, words)
  end)

  it("with no wearer is refused", function()
    local folder = club()
    write(folder .. "/club.csv", read(folder .. "/club.csv"):match "^[^\n]*\n")
    for _, verb in ipairs { "club", "count", "cost", "map", "order", "sheet", "weigh", "offer", "check" } do
      local line = ("timeout 20 %s %s %s"):format(command.girdle, verb, folder)
      local _, words, status = command.shell(line)
      assert.equal(1, status, verb .. words)
      says(words, "club.csv has no wearer")
    end
  end)

  it("without suppliers says so once", function()
    local folder = club()
    os.remove(folder .. "/suppliers.csv")
    local _, words, status = run("check", folder)
    assert.equal(1, status)
    assert.equal(1, select(2, words:gsub("prices.csv:", "")), words)
    says(words, "suppliers.csv is missing")
  end)

  it("reports each fault once", function()
    local folder = club()
    spoil(folder, "prices.csv", ",1.58,", ",1.5x,")
    spoil(folder, "prices.csv", ",16.96,", ",,")
    local _, words = run("club", folder, "--today", "2031-01-06")
    assert.equal(1, select(2, words:gsub("prices.csv:2", "")), words)
    assert.equal(1, select(2, words:gsub("prices.csv:3", "")), words)
  end)
end)

describe("outputs", function()
  local line = { "count", "line=32 cm", "stone=ss20" }
  local function count(...)
    local words = { table.unpack(line) }
    for _, word in ipairs { ... } do words[#words + 1] = word end
    return run(table.unpack(words))
  end

  it("make their folder and leave nothing aside", function()
    local out = command.folder() .. "/a/b"
    local _, words, status = count("--out", out)
    assert.equal(0, status, words)
    assert.equal("counts.csv\n", (command.shell("ls -A " .. out)))
  end)

  it("never go into a club's folder, nor below it, nor through a link to it", function()
    local folder, away = club(), command.folder()
    os.execute(("ln -s %s %s/link"):format(folder, away))
    local before = command.shell("ls -lAR " .. folder)
    for _, out in ipairs { folder, folder .. "/new", folder .. "/tide/new", away .. "/link", away .. "/link/new" } do
      local _, words, status = run("club", folder, "--out", out, "--today", "2031-01-06")
      assert.equal(1, status, words)
      says(words, "club's folder")
      _, words, status = count("--out", out)
      assert.equal(1, status, words)
    end
    assert.equal(before, (command.shell("ls -lAR " .. folder)))
  end)

  it("never take the place of a file that was read", function()
    local folder = command.folder()
    write(folder .. "/order.csv", "zone,shape,length,recipe\nneck,line,20 cm,alternating line\n")
    os.execute(("cp recipes/demo/ember.svg recipes/demo/ember.lua %s"):format(folder))
    local drawing = read(folder .. "/ember.svg")
    local _, words, status = run("map", folder .. "/ember.lua", "bust=76 cm", "--out", folder)
    assert.equal(1, status, words)
    says(words, "ember.svg", "read")
    assert.equal(drawing, read(folder .. "/ember.svg"))
  end)

  it("are refused for a tag that would be another file", function()
    for _, tag in ipairs { "../evil", "counts", ".hidden", "a/b", "con", "-x" } do
      local folder, out = club(), command.folder() .. "/deep/out"
      spoil(folder, "club.csv", "ada,ember", tag .. ",ember")
      local _, words, status = run("club", folder, "--out", out, "--today", "2031-01-06")
      assert.equal(1, status, tag .. words)
      says(words, "tag", tag)
      assert.is_nil(read(out .. "/counts.csv"))
    end
  end)

  it("are refused for two tags that one file would hold", function()
    local folder = club()
    spoil(folder, "club.csv", "\nbo,", "\nADA,")
    local _, words, status = run("club", folder, "--out", command.folder(), "--today", "2031-01-06")
    assert.equal(1, status, words)
    says(words, "one name on some systems")
  end)

  it("cannot replace a folder, and then none is replaced", function()
    local out = command.folder()
    os.execute("mkdir " .. out .. "/order.csv")
    write(out .. "/counts.csv", "kept\n")
    local _, words, status = run("club", "recipes/demo", "--out", out, "--today", "2031-01-06")
    assert.equal(1, status, words)
    assert.equal("kept\n", read(out .. "/counts.csv"))
    assert.equal("counts.csv\norder.csv\n", (command.shell("ls -A " .. out)))
  end)

  it("leave nothing when the disk is full", function()
    local out = command.folder()
    write(out .. "/counts.csv", "kept\n")
    local _, words, status = command.shell(("ulimit -f 0; %s count line='32 cm' stone=ss20 --out %s")
      :format(command.girdle, out))
    assert.equal(3, status, words)
    words = command.shell(("(ulimit -f 0; %s count line='32 cm' stone=ss20 --out %s 2>&1) | cat")
      :format(command.girdle, out))
    says(words, out .. "/counts.csv")
    assert.equal("kept\n", read(out .. "/counts.csv"))
    assert.equal("counts.csv\n", (command.shell("ls -A " .. out)))
  end)

  it("hold what was printed where a command has no files of its own", function()
    local out = command.folder()
    local printed = run("tables", "stones=ss20", "--csv", "--out", out)
    assert.equal(printed, read(out .. "/tables.csv"))
    printed = run("recipes", "alternating line", "--json", "--out", out)
    assert.equal(printed, read(out .. "/recipes.json"))
    printed = run("tables", "--out", out)
    assert.equal(printed, read(out .. "/tables.txt"))
    assert.equal(1, select(3, run("tables", "--out", "recipes/demo/x")))
  end)

  it("are as open to others as any new file", function()
    local out = command.folder()
    command.shell(("umask 027; %s count line='32 cm' stone=ss20 --out %s"):format(command.girdle, out))
    assert.is_truthy((command.shell("ls -l " .. out)):find("-rw-r-----", 1, true))
  end)
end)

describe("zones.csv", function()
  it("tells a wrong stone by its column, whatever the recipe calls it", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", "zone,shape,length,recipe,stones,gap\nneck,line,20 cm,alternating line,ss20; ss21x,1 mm\n")
    local _, words, status = run("count", folder)
    assert.equal(1, status)
    says(words, "zones.csv:2", "stones", "ss21x")
  end)

  it("refuses a row with a decimal comma and says so", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", "zone,shape,length,recipe,stones,gap,already\nneck,line,20 cm,alternating line,ss20; ss16,1,5 mm,\n")
    local _, words, status = run("count", folder)
    assert.equal(1, status)
    says(words, "zones.csv:2", "'1,5 mm'", "decimal comma")
  end)
end)

describe("a club with a fault", function()
  -- Each fault in a copy of the demo, and what must be said of it.
  local function spoilt(file, from, to)
    local folder = command.folder()
    os.execute("cp -r recipes/demo/. " .. folder)
    local text, changes = command.read(folder .. "/" .. file):gsub(from, to, 1)
    assert.equal(1, changes)
    command.write(folder .. "/" .. file, text)
    return folder
  end
  local faults = {
    { "a delivery that takes too long", "suppliers.csv", ",4\n", ",9999\n", "suppliers.csv:2:39", "delivery_days", "3650", "9999" },
    { "a negative number of stones by eye", "tide/zones.csv", "120 ss16", "-5 ss16", "zones.csv:7", "already", "-5" },
    { "a mistyped year", "club.csv", "2031%-03%-14", "9999-12-31", "ada", "needed_by", "36500", "9999-12-31" },
    { "a measure out of range", "club.csv", "62 cm,54", "6200 m,54", "club.csv:2:40", "waist", "100000 mm", "6200000" },
    { "a negative place to dry", "rates.csv", "places to dry,3", "places to dry,-1", "rates.csv:18:15", "places to dry", "1 to 1000", "-1" },
    { "a tag that differs in capitals alone", "club.csv", "\nbo,", "\nADA,", "club.csv:3:1", "'ADA'", "'ada'" },
    { "a control character in a tag", "club.csv", "\nbo,", "\nb\27o,", "club.csv:3:1", "b\\x1bo" },
  }
  for _, fault in ipairs(faults) do
    it("names " .. fault[1] .. " by file, line, field, value and limit", function()
      local folder = spoilt(fault[2], fault[3], fault[4])
      local _, words, status = command.run("club", folder, "--today", "2031-01-06")
      assert.equal(1, status, words)
      for at = 5, #fault do assert.is_truthy(words:find(fault[at], 1, true), fault[at] .. " is not in: " .. words) end
      assert.is_falsy(words:find "[%c]" and words:gsub("[\n\t]", ""):find "%c")
    end)
  end

  it("says a faulty supplier once, not again for each of its prices", function()
    local _, words, status = command.run("check", spoilt("suppliers.csv", ",4\n", ",9999\n"))
    assert.equal(1, status)
    assert.equal(1, select(2, words:gsub("\n", "\n")), words)
  end)

  it("follows no link out of it", function()
    local folder, away = spoilt("rates.csv", "EUR", "EUR"), command.folder()
    os.execute(("cp -r %s/tide %s/tide && rm -r %s/tide && ln -s %s/tide %s/tide"):format(folder, away, folder, away, folder))
    local _, words, status = command.run("count", folder, "tag=cleo")
    assert.equal(1, status)
    assert.is_truthy(words:find("leads out of the club's folder", 1, true), words)
    os.execute(("rm %s/tide && mkdir %s/tide && ln -s %s/tide/zones.csv %s/tide/zones.csv"):format(folder, folder, away, folder))
    _, words, status = command.run("count", folder, "tag=cleo")
    assert.equal(1, status)
    assert.is_truthy(words:find("leads out of its folder", 1, true), words)
  end)
end)

describe("a folder made in vain", function()
  it("is taken away again, and a second run succeeds", function()
    local folder = command.folder()
    -- a limit on the size of files stands for a full disk
    local _, words, status = command.shell(("ulimit -f 1 && %s map recipes/demo --out %s/a/b"):format(command.girdle, folder))
    assert.equal(3, status)
    assert.is_falsy(words:find("8 maps", 1, true), words)
    assert.is_false(os.execute(("test -e %s/a"):format(folder)) == true)
    _, words, status = command.run("map", "recipes/demo", "--out", folder .. "/a/b")
    assert.equal(0, status, words)
    assert.is_truthy(words:find("8 maps", 1, true), words)
    assert.is_truthy(command.read(folder .. "/a/b/ada.svg"))
  end)
end)
