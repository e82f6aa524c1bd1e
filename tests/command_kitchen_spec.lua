-- The commands for the kitchen table: tables, ask, check, compare.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local run, read, write = command.run, command.read, command.write

teardown(command.sweep)

describe("tables", function()
  it("agrees with what is published for touching stones per square inch", function()
    -- 67.14, 42.41, 29.20 and 15.68 a square inch for ss12, ss16, ss20 and ss30 stand on several makers' pages (common
    -- practice, no single source): the square grid of touching stones
    local printed, words, status = run("tables", "stones=ss12; ss16; ss20; ss30", "gap=0 mm", "--csv")
    assert.equal(0, status, words)
    local published = { ss12 = 67.14, ss16 = 42.41, ss20 = 29.20, ss30 = 15.68 }
    for _, row in ipairs(command.rows(printed)) do
      assert.is_true(math.abs(tonumber(row.square_1_in_square) - published[row.size]) < 0.03, row.size)
      -- honeycomb over square: 2 / sqrt(3), exactly
      assert.is_true(math.abs(tonumber(row.honeycomb_1_in_square) / tonumber(row.square_1_in_square) - 2 / math.sqrt(3)) < 1e-4)
    end
  end)

  it("reckons by hand what a line takes", function()
    local row = command.rows((run("tables", "stones=ss20", "gap=0.3 mm", "--csv")))[1]
    assert.equal("20", row.line_10_cm) -- 100 / (4.7 + 0.3)
    assert.equal("400", row.square_10_cm_square)
    assert.equal("5.08", row.line_1_in)
  end)

  it("prints sizes and gaps in columns, and as JSON", function()
    local printed = run("tables", "stones=ss20", "gap=0 mm; 1 mm")
    assert.is_truthy(printed:find("ss20    4.70  0.00   21.3", 1, true), printed)
    local json = run("tables", "stones=ss20", "gap=0 mm; 1 mm", "--json")
    assert.equal(2, select(2, json:gsub('"size":"ss20"', "")))
  end)

  it("refuses a size or a gap that is not", function()
    local _, words, status = run("tables", "stones=ss20; ss21x")
    assert.equal(1, status)
    assert.is_truthy(words:find("ss21x", 1, true), words)
    _, words, status = run("tables", "gap=1")
    assert.equal(1, status)
    assert.is_truthy(words:find("gap", 1, true), words)
  end)
end)

describe("ask", function()
  -- no stretch; full, two stones; neckline at the front and both wrists; an oval at the front; two dozen by eye
  local answers = "\nfull\nss20 black\nss16 clear\n1 mm\nwrist, neckline\n\n38 cm\n\n15 cm\nfront\n\n\n16 cm\n12 cm\n" ..
    "2 dozen ss30 clear\n"

  it("ranks edges before the area, as a plan fills them", function()
    local folder = command.folder()
    write(folder .. "/answers", answers)
    run("ask", folder .. "/answers", "--out", folder .. "/dress")
    local printed, words, status = run("plan", folder .. "/dress", "pieces=274", "--csv")
    assert.equal(0, status, words)
    -- two dozen by eye and the edges take all they can, the rest of the 274 goes to the front
    local edges, area = 0, 0
    for _, row in ipairs(command.rows(printed)) do
      if row.zone == "front" then area = tonumber(row.planned)
      else assert.equal(row.at_most, row.planned) edges = edges + tonumber(row.planned) end
    end
    assert.equal(274, edges + area)
    assert.is_true(edges > 200 and area > 0)
  end)

  it("writes a costume that counts the same", function()
    local folder = command.folder()
    write(folder .. "/answers", answers)
    local printed, words, status = run("ask", folder .. "/answers", "--out", folder .. "/frost", "--quiet")
    assert.equal(0, status, words)
    assert.equal("", words)
    local zones = command.rows(read(folder .. "/frost/zones.csv"))
    assert.same({ "neckline", "wrist", "front", "by eye" }, { zones[1].zone, zones[2].zone, zones[3].zone, zones[4].zone })
    assert.equal("yes", zones[2].pair)
    local counts = command.rows((run("count", folder .. "/frost", "--csv")))
    local sum, by_eye = 0, nil
    for _, row in ipairs(counts) do
      sum = sum + tonumber(row.count)
      if row.zone == "by eye" then by_eye = row.count end
    end
    assert.equal("24", by_eye)
    assert.is_truthy(printed:find("%f[%d]" .. sum .. "%f[%D]"), printed)
  end)

  it("asks in plain words with an example", function()
    local folder = command.folder()
    write(folder .. "/answers", answers)
    local _, words = run("ask", folder .. "/answers", "--out", folder .. "/frost")
    for line in words:gmatch "[^\n]+" do assert.is_true(#line <= 90, line) end
    words = words:gsub("%s+", " ") -- wherever its lines are broken
    for _, part in ipairs { "neckline", "such as 38 cm", "light", "medium", "full", "How far apart", "stretch" } do
      assert.is_truthy(words:find(part, 1, true), part)
    end
  end)

  it("writes the fabric, plain stretches and gaps as worn, and says what does not pass", function()
    local folder = command.folder()
    write(folder .. "/answers", "# a stretch dress\n15 cm\n10 cm\n12 cm\nlight\nss20 black\n\n1 mm worn\nneckline\n" ..
      "both\n52 cm\n20 cm to 22 cm\n57 cm\n\n\n")
    local printed, words, status = run("ask", folder .. "/answers", "--out", folder .. "/frost")
    assert.equal(0, status, words)
    assert.same({ { fabric = "lies across", value = "0 %" }, { fabric = "worn across", value = "20 %" },
      { fabric = "stretches", value = "50 %" }, { fabric = "head", value = "57 cm" } }, command.rows(read(folder .. "/frost/fabric.csv")))
    local row = command.rows(read(folder .. "/frost/zones.csv"))[1]
    assert.same({ "both", "loop", "52 cm", "1 mm worn", "20 cm to 22 cm" },
      { row.side, row.shape, row.length, row.gap, row.leave })
    -- 1 mm worn at 20 % is 0.833 mm glued: 520 / 5.533 is 94 stones, of which the zip takes the four that would reach into its
    -- 20 mm: 90 are 423 mm, and 423 + 97 * 1.5 = 568.5 mm; the folder counts the same
    assert.is_truthy(printed:find("90 stones of ss20 black: the ring reaches 56.9 cm at full stretch, and 57 cm does not pass", 1, true), printed)
    assert.is_truthy(printed:find("ss20 black +90\n"), printed)
    assert.is_truthy((run("count", folder .. "/frost")):find("ss20 black +90\n"))
  end)

  it("says that an area on both sides is one, half of it on each", function()
    local folder = command.folder()
    write(folder .. "/answers", "\nmedium\nss20 black\n\n2 mm\n\nskirt\n12 mm\nboth\noval\n80 cm\n20 cm\n\n")
    local printed, words, status = run("ask", folder .. "/answers", "--out", folder .. "/frost")
    assert.equal(0, status, words)
    assert.is_truthy(words:gsub("%s+", " "):find("both is one area round the body, half of it on each side", 1, true), words)
    assert.equal("both", command.rows(read(folder .. "/frost/zones.csv"))[1].side)
    local front, back = printed:match "skirt +front +ss20 black +(%d+)", printed:match "skirt +back +ss20 black +(%d+)"
    assert.is_true(front and back and math.abs(front - back) < 0.1 * front, printed)
  end)

  it("holds a ring of two kinds against the head by the stones that are counted", function()
    local folder = command.folder()
    write(folder .. "/answers", "15 cm\n\n\nmedium\nss20 black\nss16 clear\n2 mm\nneckline\nboth\n52 cm\n\n57 cm\n\n\n")
    local printed, words, status = run("ask", folder .. "/answers", "--out", folder .. "/frost")
    assert.equal(0, status, words)
    local count = printed:match "(%d+) stones of ss20 black, ss16 clear: the ring reaches"
    assert.equal(printed:match "together +(%d+)", count)
    -- the girth is kept, so that opening says the same of the folder alone
    local reach, verdict = printed:match "the ring reaches ([%d.]+ cm) at full stretch, and (57 cm [%l ]+)%."
    printed, words, status = run("opening", folder .. "/frost")
    assert.equal(0, status, words)
    assert.is_truthy(printed:find("the ring reaches " .. reach .. " at full stretch, and " .. verdict, 1, true), printed)
  end)

  it("says which stone a recipe brings of its own, once, where a row names fewer than it takes", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", "zone,shape,length,recipe,stones,given\nneck,line,38 cm,alternating line,ss16 red,\n" ..
      "hem,line,38 cm,alternating line,,\nband,line,38 cm,alternating line,ss16 red,two = ss16 blue\nback,line,38 cm,alternating line,ss16 red; ss16,\n")
    local _, words, status = run("count", folder)
    assert.equal(0, status, words)
    assert.is_truthy(words:find("zones.csv:2: neck: stones names 1, so 'two' of alternating line is ss20 clear", 1, true), words)
    assert.equal(1, select(2, words:gsub("\n", "")))
    assert.equal("", (select(2, run("count", folder, "--quiet"))))
  end)

  it("names a fault in fabric.csv by its line, all of them", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", "zone,shape,length,recipe\nneck,line,38 cm,alternating line\n")
    write(folder .. "/fabric.csv", "fabric,value\nlies acros,10 %\nstretches,60\nstretches,900 %\nworn across,10 %\nworn across,11 %\n")
    local _, words, status = run("count", folder)
    assert.equal(1, status)
    for _, part in ipairs { "fabric.csv:2", "'lies across'", "fabric.csv:3", "fabric.csv:4", "fabric.csv:6", "line 5" } do
      assert.is_truthy(words:find(part, 1, true), part .. words)
    end
    write(folder .. "/fabric.csv", "stuff,value\n")
    _, words = run("count", folder)
    assert.is_truthy(words:find("fabric.csv:1", 1, true) and words:find("fabric and value", 1, true), words)
  end)

  it("takes the word nothing for an empty line where it is offered", function()
    local folder, written = command.folder(), {}
    for _, none in ipairs { "", "nothing", "Nothing" } do
      write(folder .. "/answers", ("NONE\nfull\nss20\nNONE\n1 mm\nneckline, strap\nfront\n38 cm\nNONE\nNONE\nNONE\nNONE\n")
        :gsub("NONE", none))
      local _, words, status = run("ask", folder .. "/answers", "--out", folder .. "/dress" .. none, "--quiet")
      assert.equal(0, status, words)
      written[none] = read(folder .. "/dress" .. none .. "/zones.csv")
      assert.equal(written[""], written[none])
    end
    assert.is_truthy(written[""]:find("neckline", 1, true))
    assert.is_falsy(written[""]:find("strap", 1, true))
    write(folder .. "/answers", "nothing\nnothing\n")
    local _, words, status = run("ask", folder .. "/answers", "--out", folder .. "/none", "--quiet")
    assert.equal(1, status)
    assert.is_truthy(words:find("answers:2", 1, true) and words:find("'nothing'", 1, true), words)
  end)

  local mistakes = {
    { "a length with no unit", "\nfull\nss20\n\n1 mm\nneckline\nfront\n38\n", 8, "38" },
    { "a size that is not", "\nfull\nss21x\n", 3, "ss21x" },
    { "another richness", "\nrich\n", 2, "rich" },
    { "an edge that is not", "\nfull\nss20\n\n1 mm\nneckline, hemm\n", 6, "did you mean 'hem'" },
    { "a shape that is not", "\nfull\nss20\n\n1 mm\n\nfront\n\nround\n", 9, "round" },
    { "a stretch that is none", "\nfull\nss20\n\n1 mm\nneckline\nfront\n38 cm\n18 cm\n", 9, "18 cm to 22 cm" },
    { "ten centimetres that are none", "2 cm\n", 1, "10 cm" },
    { "stones by eye that are none", "\nfull\nss20\n\n1 mm\n\n\nmany\n", 8, "many" },
    { "too few answers", "\nfull\nss20\n", 4, "answers end" },
    { "nothing at all", "\nfull\nss20\n\n1 mm\n\n\n\n", nil, "nothing gets stones" },
  }
  for _, mistake in ipairs(mistakes) do
    it("refuses " .. mistake[1] .. " and writes nothing", function()
      local folder = command.folder()
      write(folder .. "/answers", mistake[2])
      local printed, words, status = run("ask", folder .. "/answers", "--out", folder .. "/frost", "--quiet")
      assert.equal(1, status, words)
      assert.equal("", printed)
      assert.is_truthy(words:find(mistake[4], 1, true), words)
      if mistake[3] then assert.is_truthy(words:find("answers:" .. mistake[3], 1, true), words) end
      assert.is_nil(read(folder .. "/frost/zones.csv"))
    end)
  end

  it("never writes over a costume that is there", function()
    local folder = command.folder()
    write(folder .. "/answers", answers)
    write(folder .. "/zones.csv", "kept\n")
    local _, words, status = run("ask", folder .. "/answers", "--out", folder)
    assert.equal(1, status, words)
    assert.equal("kept\n", read(folder .. "/zones.csv"))
  end)
end)

describe("check", function()
  it("says what a club, a costume and a recipe hold, placing nothing", function()
    local printed, words, status = run("check", "recipes/demo")
    assert.equal(0, status, words)
    assert.is_truthy(printed:find("8 tags, 3 costumes, 2 suppliers, 99 prices", 1, true), printed)
    printed = run("check", "recipes/demo/tide")
    assert.is_truthy(printed:find("leg opening", 1, true) and printed:find("2 times", 1, true), printed)
    printed = run("check", "recipes/alternating_line.lua")
    assert.is_truthy(printed:find("gap", 1, true), printed)
  end)

  it("never runs the function that places", function()
    local folder = command.folder()
    write(folder .. "/trap.lua", [[return recipe { format = 1, name = "trap", takes = {},
      place = function () print "placed" while true do end end }]])
    local _, words, status = run("check", folder .. "/trap.lua")
    assert.equal(0, status, words)
    assert.is_falsy(words:find("placed", 1, true))
  end)

  it("tells all that is wrong with a costume's measures and fabric at its place, as count does", function()
    local folder = command.folder()
    write(folder .. "/costume.lua", [[
return costume { format = 1, name = "dawn", measures = { wrist = "14,5 cm", cuff = 0, [1] = "2 cm" },
  fabric = { mass = "200 g", lies = { alng = "5 %" }, worn = { across = "900 %" }, colour = "red" },
  zones = function (m) return { zone { "a", recipe = "alternating line", given = { line = line(m.wrist) } } } end }]])
    os.execute("mv " .. folder .. " " .. folder .. "_dawn && mkdir " .. folder .. " && mv " .. folder .. "_dawn " .. folder .. "/dawn")
    for _, verb in ipairs { "check", "count" } do
      local printed, words, status = run(verb, folder .. "/dawn")
      assert.equal(1, status, printed)
      for _, part in ipairs { "measure 'wrist': measure: '14,5 cm' is not a length", "measure 'cuff': measure must be",
        "measures are given by name", "fabric: mass: '200 g' is not a mass per area", "lies: unknown field 'alng', did you mean 'along'",
        "worn: across must be", "fabric: unknown field 'colour'" } do
        local line = words:match("[^\n]*" .. part:gsub("%p", "%%%0") .. "[^\n]*")
        assert.is_truthy(line, part .. "\n" .. words)
        assert.is_truthy(line:find("^girdle: costume.lua:%d+: "), line)
      end
      assert.is_truthy(words:find("'cuff'", 1, true) < words:find("'wrist'", 1, true), words)
    end
    write(folder .. "/dawn/costume.lua", [[return costume { format = 1, name = "dawn", fabric = { worn = 5 }, measures = 5,
      zones = function () return {} end }]])
    local _, words = run("check", folder .. "/dawn")
    assert.is_truthy(words:find("worn must be a table", 1, true) and words:find("measures must be a table", 1, true), words)
  end)

  -- ESC, BEL, U+009B (C1), U+202E and U+2066 (they turn the direction of writing), and a lone byte 9b
  local function drives_a_terminal(text)
    for _, mark in ipairs { "\27", "\7", "\194\155", "\226\128\174", "\226\129\166", "[^\128-\255]\155" } do
      if text:find(mark) then return mark end
    end
  end

  it("shows a stranger's words, as recipes does, without what could drive a terminal", function()
    local folder = command.folder()
    write(folder .. "/strange.lua", [[return recipe { format = 1, name = "strange", about = "x\27[31m\194\155y\226\128\174\155z\nw",
      takes = { { "line", "path", default = "line 5 cm" }, { "how", "choice", choices = { "a\27[1m", "b" }, default = "b",
        about = "\226\129\166q" }, { "words", "text", default = "\27]0;pwned\7" } }, place = print }]])
    for _, given in ipairs { { "check" }, { "recipes" }, { "recipes", "--csv" }, { "recipes", "--json" } } do
      local printed, words, status = run(given[1], folder .. "/strange.lua", given[2])
      assert.equal(0, status, words)
      assert.is_nil(drives_a_terminal(printed), printed)
      if given[2] ~= "--csv" then assert.is_truthy(printed:find("x [31m y  z w", 1, true), printed) end
      assert.is_truthy(printed:find(" ]0;pwned ", 1, true), printed)
    end
  end)

  it("shows a stranger's zones without what could drive a terminal", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", "zone,side,recipe,shape\n\"a\27[31m\226\128\174b\",front,alternating line,line 5 cm\n")
    local printed, words, status = run("check", folder)
    assert.is_nil(drives_a_terminal(printed .. words), printed .. words)
    assert.equal(status == 0, printed:find("a [31m b", 1, true) ~= nil, printed .. words)
  end)

  it("refuses a parameter whose name is no plain word", function()
    local folder = command.folder()
    for _, name in ipairs { "a\27[31m", "a\194\155", "a\226\128\174b", "a=b", "a;b", "'a'" } do
      write(folder .. "/strange.lua", ("return recipe { format = 1, name = 'strange', takes = { { %q, 'length', default = 1 } }, place = print }"):format(name))
      for _, verb in ipairs { "check", "recipes" } do
        local printed, words, status = run(verb, folder .. "/strange.lua")
        assert.equal(1, status, name)
        assert.is_nil(drives_a_terminal(printed .. words), words)
        assert.is_truthy(words:find("the name of a parameter has 1 to 40 characters: letters", 1, true), words)
        assert.is_truthy(words:find("strange.lua:1: ", 1, true), words)
      end
    end
    write(folder .. "/strange.lua", "return recipe { format = 1, name = 'strange', takes = { { 'große_weite 2-b', 'length', default = 1 } }, place = print }")
    assert.equal(0, select(3, run("check", folder .. "/strange.lua")))
  end)

  it("escapes in what a recipe prints, and marks in what it raises, what could drive a terminal", function()
    local folder = command.folder()
    write(folder .. "/strange.lua", [[return recipe { format = 1, name = "strange", takes = {},
      place = function () print("é\194\155\226\128\174\226\129\166\155") error("é\194\155\226\128\174\226\129\166") end }]])
    local _, words, status = run("count", folder .. "/strange.lua")
    assert.equal(1, status)
    assert.is_nil(drives_a_terminal(words), words)
    assert.is_truthy(words:find([[é\194\155\226\128\174\226\129\166\155]], 1, true), words)
    assert.is_truthy(words:find("é???\n", 1, true), words)
  end)

  it("names a measure that a wearer lacks, placing nothing", function()
    local folder = command.folder()
    os.execute("cp -r recipes/demo/. " .. folder)
    write(folder .. "/club.csv", read(folder .. "/club.csv") .. "late,tide,,2031-03-21,Late,Undertow,70 cm,56 cm,,14 cm\n")
    local _, words, status = run("check", folder)
    assert.equal(1, status)
    for _, part in ipairs { "zones.csv:2: ", "'neckline'", "'late'", "zones.csv:6: ", "'leg opening'" } do
      assert.is_truthy(words:find(part, 1, true), part .. words)
    end
    assert.is_falsy(words:find("'waist'", 1, true))
  end)

  it("finds lengths that are none as count does, and takes measures and what is meant as worn", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", "zone;shape;length;recipe;stones;gap\nneck;line;60 cm;alternating line;ss20, ss16;1,5 mm\n" ..
      "hem;line;2 q;alternating line;ss20, ss16;2 bananas\ncuff;line;20 cm;alternating line;ss20, ss16;2mmm worn\n")
    for _, verb in ipairs { "check", "count", "plan" } do
      local printed, words, status = run(verb, folder, verb == "plan" and "pieces=9" or nil)
      assert.equal(1, status)
      assert.equal("", printed)
      for _, part in ipairs { "zones.csv:2:", "gap: '1,5 mm'", "did you mean '1.5 mm'", "zones.csv:3:", "'2 q'",
        "gap: '2 bananas'", "zones.csv:4:", "'2mmm'" } do
        assert.is_truthy(words:find(part, 1, true), part .. words)
      end
    end
    write(folder .. "/zones.csv", "zone,shape,length,recipe,stones,gap\nneck,loop,2nd waist,alternating line,ss20; ss16,1 mm worn\n" ..
      "hem,loop,1 1/2 m,alternating line,ss20; ss16,5mm glued\nband,loop,neckline,alternating line,ss20; ss16,1/16 in\n")
    for _, given in ipairs { { "check" }, { "count", "2nd waist=60 cm", "neckline=40 cm" } } do
      local _, words, status = run(given[1], folder, table.unpack(given, 2))
      assert.equal(0, status, words)
    end
  end)

  it("finds recipes and stones that there are not, of a costume and of a club's", function()
    local folder, club = command.folder(), command.folder()
    local zones = "zone,shape,length,recipe,stones,gap,already\nneck,line,60 cm,alternatin line,ss20; ss16,1 mm,\n" ..
      "hem,line,50 cm,alternating line,ss20 black; ss99,1 mm,\nband,,,,,,many ss20\nbow,,,,,,12 pearls\n"
    os.execute("cp -r recipes/demo/. " .. club)
    write(club .. "/tide/zones.csv", zones)
    write(folder .. "/zones.csv", zones)
    for _, path in ipairs { folder, club, folder .. "/zones.csv" } do
      local printed, words, status = run("check", path)
      assert.equal(1, status)
      assert.equal("", printed)
      for _, part in ipairs { "zones.csv:2: unknown recipe 'alternatin line', did you mean 'alternating line'?",
        "zones.csv:3: size 'ss99'", "zones.csv:4: already: 'many'", "zones.csv:5: already: '12 pearls'" } do
        assert.is_truthy(words:find(part, 1, true), part .. words)
      end
    end
  end)

  it("knows sizes of one's own, recipes beside the costume, and a recipe by its file's spelling", function()
    local folder = command.folder()
    write(folder .. "/stones.csv", "size,across\nhouse20,4.9 mm\n")
    os.execute("cp recipes/alternating_line.lua " .. folder .. "/my_line.lua && sed -i 's/alternating line/my line/' " .. folder .. "/my_line.lua")
    write(folder .. "/zones.csv", "zone,shape,length,recipe,stones,gap,already\nneck,line,60 cm,my line,house20 red; ss16,1 mm,\n" ..
      "hem,line,50 cm,alternating_line,house20; ss16,1 mm,2 gross ss20; 3 pp24 red\n")
    for _, verb in ipairs { "check", "count" } do
      local _, words, status = run(verb, folder)
      assert.equal(0, status, words)
    end
  end)

  it("says every fault of every table", function()
    local folder = command.folder()
    os.execute("cp -r recipes/demo/. " .. folder)
    write(folder .. "/rates.csv", read(folder .. "/rates.csv"):gsub("hands", "hnads"))
    write(folder .. "/stock.csv", read(folder .. "/stock.csv"):gsub("ss20 clear", "ss21x"))
    write(folder .. "/tide/zones.csv", read(folder .. "/tide/zones.csv"):gsub("front", "frnot"))
    local printed, words, status = run("check", folder)
    assert.equal(1, status)
    assert.equal("", printed)
    for _, part in ipairs { "rates.csv:", "hnads", "stock.csv:2", "ss21x", "zones.csv:2", "frnot" } do
      assert.is_truthy(words:find(part, 1, true), part .. words)
    end
  end)
end)

describe("compare", function()
  it("lists what to add, take off and buy", function()
    local folder = command.folder()
    local head = "zone,shape,length,recipe,stones,gap\n"
    os.execute("mkdir " .. folder .. "/old " .. folder .. "/new")
    write(folder .. "/old/zones.csv", head .. "neck,line,300 mm,alternating line,ss20 black; ss20 clear,0.5 mm\n" ..
      "waist,line,200 mm,alternating line,ss16 red; ss16 red,0.5 mm\n")
    write(folder .. "/new/zones.csv", head .. "neck,line,400 mm,alternating line,ss20 black; ss20 clear,0.5 mm\n")
    local printed, words, status = run("compare", folder .. "/old", folder .. "/new", "--csv")
    assert.equal(0, status, words)
    local by_zone = {}
    for _, row in ipairs(command.rows(printed)) do by_zone[row.zone .. " " .. row.stone] = row end
    assert.equal("30", by_zone["neck ss20 black"].before)
    -- 400 mm in 5.2 mm steps is 76.9: 77 legs, 78 stones
    assert.equal("39", by_zone["neck ss20 black"].after)
    assert.equal("9", by_zone["neck ss20 black"].add)
    assert.equal("0", by_zone["waist ss16 red"].after)
    assert.equal(by_zone["waist ss16 red"].before, by_zone["waist ss16 red"].take_off)
    local text = run("compare", folder .. "/old", folder .. "/new")
    for _, part in ipairs { "add 9", "take off", "weight", "minutes", "9 of ss20 black" } do
      assert.is_truthy(text:find(part, 1, true), part .. text)
    end
    local json = run("compare", folder .. "/old", folder .. "/new", "--json")
    assert.is_truthy(json:find('"before":30,"after":39', 1, true), json)
  end)

  it("says what a late joiner adds, and what to buy when the old order was bought", function()
    local old, new = command.folder(), command.folder()
    os.execute("cp -r recipes/demo/. " .. old .. " && cp -r recipes/demo/. " .. new)
    write(new .. "/club.csv", read(new .. "/club.csv") .. "late,tide,S,2031-03-21,Late,Undertow,,,,\n")
    local text, words, status = run("compare", old, new, "--today", "2031-01-06")
    assert.equal(0, status, words)
    for line in text:gmatch "[^\n]+" do
      assert.is_falsy(line:find "take off", line)
      if line:find("%->") then assert.is_truthy(line:find("late, ", 1, true), line) end
    end
    for _, part in ipairs { "to buy, when the old order was bought already", "with shipping", "the whole order +",
      "order by 2031-", ", was 2031-", "ready on " } do
      assert.is_truthy(text:find(part, 1, true), part .. text)
    end
    -- what was bought for more can be left over: then nothing is to be bought
    text = run("compare", new, old, "--today", "2031-01-06")
    assert.is_truthy(text:find("nothing: what the old order left over is enough", 1, true), text)
  end)

  it("says that nothing changes", function()
    assert.equal("Nothing changes.\n", (run("compare", "recipes/demo/fern", "recipes/demo/fern", "neckline=50 cm",
      "wrist=14 cm", "waist=60 cm")))
  end)

  it("wants two files", function()
    local _, words, status = run("compare", "recipes/demo/fern")
    assert.equal(2, status)
    assert.is_truthy(words:find("two files", 1, true), words)
  end)
end)
