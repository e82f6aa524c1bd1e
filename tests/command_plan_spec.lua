-- The commands that look at a costume from a total, on the scales, and back on jobs done: plan, weigh, learn.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local run, read, write, rows = command.run, command.read, command.write, command.rows

teardown(command.sweep)

local function sum(list, column)
  local total = 0
  for _, row in ipairs(list) do total = total + tonumber(row[column]) end
  return total
end

local function says(words, ...)
  for _, part in ipairs { ... } do assert.is_truthy(words:find(part, 1, true), part .. " is not in: " .. words) end
end

describe("plan", function()
  local function plan(...) return run("plan", "recipes/demo", "tag=cleo", "--csv", ...) end

  it("shares so many pieces out, the first zones first, and last what is set by eye and ranked last", function()
    local planned = rows((plan "pieces=2 gross"))
    assert.equal(288, sum(planned, "planned"))
    for _, row in ipairs(planned) do
      if row.zone == "neckline" then assert.equal(row.at_most, row.planned)
      elseif row.zone == "waist" then assert.equal(288 - 191, tonumber(row.planned))
      else assert.equal("0", row.planned) end
      assert.is_true(tonumber(row.planned) <= tonumber(row.at_most))
    end
  end)

  it("gives what is set by eye its turn: by its rank, or without one among the edges that have none", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", "zone,priority,shape,length,width,recipe,stones,gap,already\n" ..
      "late,3,,,,,,,40 ss16\nloose,,,,,,,,40 ss16\nearly,1,,,,,,,40 ss16\n" ..
      "neck,2,line,445 mm,,alternating line,ss20; ss20,0.3 mm,\nfield,,rectangle,20 cm,10 cm,even scatter,ss30,9 mm,\n")
    for _, expected in ipairs { { 20, 0, 0, 20, 0 }, { 100, 0, 0, 40, 60 }, { 140, 10, 0, 40, 90 }, { 190, 40, 20, 40, 90 } } do
      local planned = rows((run("plan", folder, "pieces=" .. expected[1], "--csv")))
      for at = 1, 4 do assert.equal(expected[at + 1], tonumber(planned[at].planned), planned[at].zone) end
      assert.equal("0", planned[5].planned)
      assert.equal("40", planned[1].light)
    end
  end)

  it("never takes a stone away when there are more", function()
    local before
    for pieces = 200, 900, 60 do
      local now = rows((plan("pieces=" .. pieces)))
      assert.is_true(pieces - sum(now, "planned") <= 1) -- a pair grows by two
      for at, row in ipairs(before or {}) do assert.is_true(tonumber(row.planned) <= tonumber(now[at].planned)) end
      before = now
    end
  end)

  it("spends at most the money, and all of it that it can", function()
    local text, words, status = run("plan", "recipes/demo", "tag=cleo", "money=30.00")
    assert.equal(0, status, words)
    local pieces, cost = text:match "together (%d+) of.-the order ([%d.]+) EUR"
    assert.is_true(tonumber(cost) <= 30)
    local more, planned = nil, pieces
    for at = 1, 2 do -- a pair grows by two
      more = run("plan", "recipes/demo", "tag=cleo", "pieces=" .. math.tointeger(pieces + at))
      planned = more:match "together (%d+) of"
      if planned ~= pieces then break end
    end
    assert.is_true(tonumber(planned) > tonumber(pieces))
    assert.is_true(tonumber(more:match "planned.-the order ([%d.]+) EUR") > 30, more)
  end)

  it("fills one evening with one side, and says that two sides want two", function()
    local folder = command.folder()
    local area = "%s,%s,oval,16 cm,12 cm,closed cover,ss20; ss20; ss20,0.3 mm\n"
    write(folder .. "/zones.csv", "zone,side,shape,length,width,recipe,stones,gap\n" ..
      area:format("chest", "front") .. area:format("shoulders", "back"))
    local function evenings(...) return run("plan", folder, "--prices", "recipes/demo", ...) end
    local one, two = rows((evenings("evenings=1", "--csv"))), rows((evenings("evenings=2", "--csv")))
    assert.is_true(tonumber(one[1].planned) > 100, one[1].planned)
    assert.equal("0", one[2].planned)
    assert.is_true(tonumber(two[1].planned) > 100 and tonumber(two[2].planned) > 100, two[2].planned)
    local both = "evenings=2 has room for both"
    says(evenings "evenings=1", both)
    assert.is_falsy(evenings "evenings=2":find(both, 1, true))
  end)

  it("shows light, medium and full side by side", function()
    local text = run("plan", "recipes/demo", "tag=cleo", "evenings=1")
    says(text, "light  ", "medium ", "full   ", "Light is the edges alone")
    local planned = rows((plan "pieces=1"))
    for _, row in ipairs(planned) do
      local is_edge = row.zone == "back straps" or row.zone == "neckline" or row.zone == "waist" or row.zone == "leg opening"
      assert.equal(is_edge and row.at_most or "0", row.light, row.zone)
      local half = is_edge and tonumber(row.at_most) or tonumber(row.at_most) / 2
      assert.is_true(math.abs(tonumber(row.medium) - half) <= 1, row.zone)
    end
  end)

  it("makes both halves of a pair alike, and every one of identical pieces", function()
    for pieces = 604, 624 do
      local planned = rows((plan("pieces=" .. pieces)))
      assert.equal(planned[4].planned, planned[5].planned)
      assert.equal(0, tonumber(planned[6].planned) % 2)
    end
  end)

  it("is thirds where a costume is all edges", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", "zone,shape,length,recipe,stones,gap\nneck,line,445 mm,alternating line,ss20; ss20,0.3 mm\n")
    local text = run("plan", folder, "pieces=1")
    says(text, "a third, two thirds and all", "neck: leave 18 of the stones out")
    assert.is_truthy(text:find "neck +1 +20 mm +1 +30 +60 +90\n")
    says((run("plan", folder, "pieces=1", "--json")), '"light":{"pieces":30', '"medium":{"pieces":60', '"full":{"pieces":90')
  end)

  it("says for want of what a zone stops when the drawer is used up", function()
    local text, words, status = run("plan", "recipes/demo", "tag=cleo", "drawer=all")
    assert.equal(0, status, words)
    says(text, "neckline stops for want of ss20 sea green", "back straps stops for want of ss16 clear", "waist stops for want of ss20 sea green")
  end)

  -- The table that is written, counted by the program, has just what was planned, zone by zone and side by side.
  local function counted(folder)
    local sums = {}
    for _, row in ipairs(rows((run("count", folder, "--csv")))) do
      local half = row.side == "front" or row.side == "back"
      for _, key in ipairs { row.zone .. "/" .. row.side, half and row.zone .. "/both" or nil } do
        sums[key] = (sums[key] or 0) + tonumber(row.count)
      end
    end
    return sums
  end
  local dress = "zone,side,pair,times,priority,shape,length,width,recipe,stones,gap,already,leave,given\n" ..
    "neck,front,,1,1,loop,neckline,,double row,ss20 moss; ss16 clear,1 mm,,,\n" ..
    "waist,both,,1,2,loop,60 cm,,alternating line,ss20 moss; ss16 aqua,1.5 mm worn,12 ss30,,\n" ..
    "strap,,yes,2,,line,40 cm,,alternating line,ss12; ss12,0.4 mm,,18 cm to 22 cm,\n" ..
    "field,back,,1,,oval,20 cm,15 cm,mixed scatter,ss30; ss20; ss12,4 mm,,,mediums = 2\n" ..
    "yoke,front,,1,,rectangle neckline x 9 cm,,,even scatter,ss16 aqua,,,,\n" ..
    "star,front,,1,,,,,starburst,,,,,size = 12 cm\nbows,back,,1,,,,,,,,40 ss16; 1 gross ss12,,\n"

  it("writes a table of zones that counts to just what is planned", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", (dress:gsub("neckline x", "520 mm x"):gsub("neckline", "52 cm")))
    write(folder .. "/fabric.csv", "fabric,value\nlies across,0 %\nworn across,10 %\n")
    for pieces = 100, 1700, 200 do
      local out = command.folder() .. "/planned"
      local printed, words, status = run("plan", folder, "pieces=" .. pieces, "--csv", "--out", out)
      assert.equal(0, status, words)
      local sums, wanted = counted(out), {}
      for _, row in ipairs(rows(printed)) do
        local key = row.zone .. "/" .. row.side
        wanted[key] = (wanted[key] or 0) + tonumber(row.planned)
      end
      for key, count in pairs(wanted) do
        if key ~= "waist/both" then assert.equal(count, sums[key] or 0, pieces .. ": " .. key) end
      end
      assert.equal(wanted["waist/both"], (sums["waist/both"] or 0), "waist")
    end
  end)

  it("is fewer stones than the full costume, which compare takes off and buys nothing for", function()
    local folder, out = command.folder(), command.folder() .. "/planned"
    write(folder .. "/zones.csv", (dress:gsub("neckline x", "520 mm x"):gsub("neckline", "52 cm")))
    assert.equal(0, (select(3, run("plan", folder, "pieces=900", "--out", out))))
    says((run("compare", folder, out)), "take off", "to have beside what the old version used: nothing\n")
  end)

  it("tells a gap and rows for every zone that has stones in place", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", (dress:gsub("neckline x", "520 mm x"):gsub("neckline", "52 cm")))
    for _, row in ipairs(rows((run("plan", folder, "pieces=1250", "--csv")))) do
      if row.zone == "bows" or row.planned == "12" then -- by eye
        assert.equal("", row.gap_mm .. row.rows, row.zone)
      else
        assert.is_true(tonumber(row.gap_mm) > 0 and tonumber(row.rows) >= 1, row.zone)
      end
    end
    -- by hand: 20 stones of 4.7 mm on a line of 445 mm have their centres 445 / 19 = 23.42 mm apart
    write(folder .. "/zones.csv", "zone,shape,length,recipe,stones,gap\nneck,line,445 mm,alternating line,ss20; ss20,0.3 mm\n")
    local row = rows((run("plan", folder, "pieces=20", "--csv")))[1]
    assert.equal("20", row.planned)
    assert.is_true(math.abs(tonumber(row.gap_mm) - (445 / 19 - 4.7)) < 1, row.gap_mm)
  end)

  it("takes measures, recipes and sizes of one's own along", function()
    local folder, out = command.folder(), command.folder() .. "/planned"
    assert(os.execute("mkdir " .. folder .. "/dress"))
    write(folder .. "/club.csv", "tag,costume,neckline,waist\nada,dress,47 cm,58.5 cm\n")
    write(folder .. "/stones.csv", "size,across\nhouse20,4.9 mm\n")
    os.execute(("cp recipes/alternating_line.lua %s/dress/my_line.lua && sed -i 's/alternating line/my line/' %s/dress/my_line.lua"):format(folder, folder))
    write(folder .. "/dress/zones.csv", "zone,shape,length,recipe,stones,gap,already\nneck,loop,neckline,my line,house20 red; ss16,1 mm,\n" ..
      "waist,loop waist,,my line,ss12; ss12,waist gap,9 house20\n")
    local _, words, status = run("plan", folder, "tag=ada", "pieces=100", "--out", out)
    assert.equal(1, status)
    write(folder .. "/club.csv", "tag,costume,neckline,waist,waist gap\nada,dress,47 cm,58.5 cm,2 mm\n")
    local printed
    printed, words, status = run("plan", folder, "tag=ada", "pieces=100", "--csv", "--out", out)
    assert.equal(0, status, words)
    local sums = counted(out)
    for _, row in ipairs(rows(printed)) do
      if row.zone == "neck" then assert.equal(tonumber(row.planned), sums["neck/"]) end
    end
    assert.is_truthy(command.read(out .. "/my_line.lua") and command.read(out .. "/stones.csv"))
    assert.is_falsy(command.read(out .. "/zones.csv"):find("waist gap", 1, true))
    _, words, status = run("plan", "recipes/demo", "tag=ada", "pieces=900", "--out", out .. "2")
    assert.equal(1, status)
    says(words, "--out writes the plan of a table of zones")
    assert.is_falsy(command.read(out .. "2/zones.csv"))
  end)

  it("mixes an area's stones of one size as the drawer has them, and an edge's as they are written", function()
    local folder, out = command.folder(), command.folder() .. "/planned"
    write(folder .. "/two_colours.lua", [[return recipe { format = 1, name = "two colours",
      takes = { { "within", "region" }, { "one", "stone" }, { "two", "stone" }, { "gap", "length", default = "5 mm" } },
      place = function (given) return scatter { within = given.within, gap = given.gap,
        stones = { { given.one, 1 }, { given.two, 1 } } } end }]])
    write(folder .. "/zones.csv", "zone,shape,length,width,recipe,stones,gap\nneck,line,200 mm,,alternating line,ss16 red; ss16 blue,1 mm\n" ..
      "field,rectangle,20 cm,10 cm,two colours,ss16 red; ss16 blue,3 mm\n")
    write(folder .. "/prices.csv", "supplier,stone,pack,price\nAlder,ss16 red,1 gross,2.00\nAlder,ss16 blue,1 gross,2.00\n")
    write(folder .. "/suppliers.csv", "supplier,currency\nAlder,EUR\n")
    write(folder .. "/stock.csv", "stone,on_hand\nss16 red,200\nss16 blue,80\n")
    local printed, words, status = run("plan", folder, "drawer=all", "--csv", "--out", out)
    assert.equal(0, status, words)
    local have = {}
    for _, row in ipairs(rows((run("count", out, "--csv")))) do have[row.zone .. row.stone] = tonumber(row.count) end
    local neck = tonumber(rows(printed)[1].planned)
    assert.equal(neck // 2, have["neckss16 blue"])
    local red, blue = have["fieldss16 red"], have["fieldss16 blue"]
    assert.is_true(red <= 200 - have["neckss16 red"] and blue <= 80 - have["neckss16 blue"])
    assert.is_true(math.abs(red / blue - (200 - have["neckss16 red"]) / (80 - have["neckss16 blue"])) < 0.1, red .. " " .. blue)
  end)

  it("wants one total", function()
    for _, given in ipairs { {}, { "pieces=3", "money=4.00" }, { "drawer=some" } } do
      local _, words, status = plan(table.unpack(given))
      assert.equal(2, status, words)
    end
    local _, words, status = run("plan", "recipes/demo", "pieces=300")
    assert.equal(2, status)
    says(words, "tag=TAG")
    _, words, status = plan "money=4,00"
    assert.equal(1, status)
    says(words, "money", "4,00")
  end)
end)

describe("weigh", function()
  it("adds up by zone and by side", function()
    local zones = rows((run("weigh", "recipes/demo", "tag=ada", "--csv")))
    local text = run("weigh", "recipes/demo", "tag=ada", "dress=310 g")
    local total = sum(zones, "nominal_g")
    assert.is_true(math.abs(total - tonumber(text:match "([%d.]+) g added")) < 0.06)
    local front, back = text:match "front ([%d.]+) g, back ([%d.]+) g"
    assert.is_true(math.abs(front + back - total) < 0.11)
    local left, right = text:match "left ([%d.]+) g, right ([%d.]+) g"
    assert.equal(left, right)
    assert.is_true(math.abs(total / 310 * 100 - tonumber(text:match "([%d.]+) %% of the plain dress")) < 0.06)
  end)

  it("gives a verdict only where a limit is given", function()
    assert.is_falsy((run("weigh", "recipes/demo", "tag=ada", "dress=310 g")):find("limit", 1, true))
    says((run("weigh", "recipes/demo", "tag=ada", "dress=310 g", "most share=5 %")), "over the limit")
    assert.is_falsy((run("weigh", "recipes/demo", "tag=ada", "dress=310 g", "most share=90 %")):find("limit", 1, true))
  end)

  it("holds an edge against its limit, and says what to lighten and what hangs", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", "zone,side,shape,length,width,recipe,stones,gap\nneck,front,line,40 cm,,alternating line,ss20; ss20,1 mm\n" ..
      "field,front,rectangle,20 cm,10 cm,even scatter,ss30,5 mm\n")
    local text, words, status = run("weigh", folder, "most edge=0.05 g/cm", "most area=5000 g/m2", "dress=200 g", "rests=field")
    assert.equal(0, status, words)
    local neck, field = text:match "(  neck[^\n]+)", text:match "(  field[^\n]+)"
    says(neck, "g/cm", "over the limit")
    says(field, "g/m2")
    assert.is_falsy(field:find("over", 1, true))
    -- 71 stones along 40 cm; the field's own do not hang
    local grams = tonumber(neck:match "stones +([%d.]+) g")
    assert.is_true(math.abs(tonumber(neck:match "([%d.]+) g/cm") - grams / 40) < 0.006)
    assert.is_true(math.abs(tonumber(text:match "from the straps hang ([%d.]+) g") - 200 - grams) < 0.11)
    says(text, "The zone to lighten is field, front", "one size smaller would save", "save the adhesive, about")
    _, words, status = run("weigh", folder, "most edge=0.05")
    assert.equal(1, status)
    says(words, "0.5 g/cm")
    _, words, status = run("weigh", folder, "rests=feild")
    assert.equal(1, status)
    says(words, "did you mean 'field'")
  end)

  it("refuses a mass without a unit", function()
    local _, words, status = run("weigh", "recipes/demo", "tag=ada", "dress=310")
    assert.equal(1, status)
    says(words, "dress", "310")
  end)
end)

describe("JSON and tables", function()
  local json = require "dkjson"
  it("say the same as the words", function()
    local weighed = json.decode((run("weigh", "recipes/demo", "tag=ada", "dress=310 g", "--json")))
    assert.is_true(math.abs(weighed.grams - sum(rows((run("weigh", "recipes/demo", "tag=ada", "--csv"))), "nominal_g")) < 0.001)
    assert.is_true(math.abs(weighed.dress_share - weighed.grams / 310) < 1e-5)
    local planned = json.decode((run("plan", "recipes/demo", "tag=cleo", "pieces=300", "--json")))
    local total = 0
    for _, zone in ipairs(planned.zones) do total = total + zone.planned end
    assert.equal(300, total)
    assert.equal(300, planned.pieces)
    assert.equal("3", rows((run("learn", "recipes/demo", "--csv")))[1].jobs)
    assert.equal("no", rows((run("opening", "ring=150 mm", "through=22 cm", "stretch=60 %", "stone=ss20", "--csv")))[1].passes)
  end)
end)

describe("opening of a costume", function()
  local function club()
    local folder = command.folder()
    assert(os.execute("mkdir " .. folder .. "/dress"))
    write(folder .. "/club.csv", "tag,costume,neckline,wrist,head,hand,hips,foot\nada,dress,52 cm,15 cm,57 cm,22 cm,94 cm,31 cm\n" ..
      "bo,dress,54 cm,16 cm,56 cm,,,\n")
    write(folder .. "/dress/zones.csv", "zone,side,pair,shape,length,recipe,stones,gap\nneckline,both,,loop,neckline,double row,ss20; ss16,1 mm\n" ..
      "wrist,,yes,loop,wrist,alternating line,ss20; ss20,1 mm\nstrap,,yes,line,34 cm,alternating line,ss20; ss20,1 mm\n" ..
      "hem,both,,loop,140 cm,alternating line,ss20; ss20,1 mm\n")
    write(folder .. "/dress/fabric.csv", "fabric,value\nstretches,60 %\n")
    return folder
  end

  it("looks at every closed ring with each wearer's own girths", function()
    local folder = club()
    local printed, words, status = run("opening", folder, "--csv")
    assert.equal(0, status, words)
    local found = rows(printed)
    assert.equal(3, #found) -- ada's neckline and wrist, bo's neckline
    says(words, "bo, wrist", "hand=")
    assert.same({ "ada", "neckline", "ada", "wrist", "bo", "neckline" },
      { found[1].tag, found[1].zone, found[2].tag, found[2].zone, found[3].tag, found[3].zone })
    -- by hand: n stones of ss20 (4.7 mm) on 150 mm at 60 %
    local stones = tonumber(found[2].stones)
    assert.is_true(math.abs(stones * 4.7 + (150 - stones * 4.7) * 1.6 - tonumber(found[2].reach_mm)) < 1e-3)
    assert.equal("no", found[2].passes)
    local json = run("opening", folder, "tag=ada", "--json")
    assert.equal(2, select(2, json:gsub('"passes":', "")))
    says((run("opening", folder, "tag=ada")), "ada, neckline front and back: ", "It passes with at most", "Try it on before you glue")
    -- what is given stands before what club.csv has, for all
    local given = rows((run("opening", folder, "hand=16 cm", "--csv")))
    assert.equal(4, #given)
    assert.equal("yes", given[2].passes)
  end)

  it("takes a girth that fabric.csv has, after the wearer's own", function()
    local folder = club()
    write(folder .. "/dress/fabric.csv", "fabric,value\nstretches,60 %\nhand,16 cm\nhead,99 cm\n")
    local printed, words, status = run("opening", folder, "--csv")
    assert.equal(0, status, words)
    local found = rows(printed)
    assert.equal(4, #found, printed) -- bo's wrist as well
    assert.same({ "bo", "wrist", "yes" }, { found[4].tag, found[4].zone, found[4].passes })
    assert.equal("no", found[2].passes) -- ada has a hand of her own
  end)

  it("is refused where nothing is known, or nothing is a ring", function()
    local folder = club()
    os.remove(folder .. "/dress/fabric.csv")
    local _, words, status = run("opening", folder, "tag=ada")
    assert.equal(2, status)
    says(words, "stretch=")
    assert.equal(0, (select(3, run("opening", folder, "tag=ada", "stretch=60 %"))))
    _, words, status = run("opening", folder, "tag=ada", "stretch=60")
    assert.equal(1, status)
    says(words, "stretch")
    _, words, status = run("opening", folder, "tag=ada", "head=57")
    assert.equal(1, status)
    says(words, "head")
    write(folder .. "/club.csv", "tag,costume,neckline,wrist\nada,dress,52 cm,15 cm\n")
    _, words, status = run("opening", folder, "stretch=60 %")
    assert.equal(1, status)
    says(words, "no girth is known")
    write(folder .. "/dress/zones.csv", "zone,shape,length,recipe,stones,gap\nneckline,line,neckline,alternating line,ss20; ss20,1 mm\n")
    _, words, status = run("opening", folder, "stretch=60 %", "head=57 cm")
    assert.equal(1, status)
    says(words, "no zone is a closed ring")
  end)
end)

describe("opening", function()
  it("reckons as by hand", function()
    -- 150 mm of ss20 (4.7 mm) wishing 0.3 mm: 30 stones, 141 mm of them; 9 mm of fabric stretched by 60 % are 14.4 mm
    local json, words, status = run("opening", "ring=150 mm", "through=22 cm", "stretch=60 %", "stone=ss20", "gap=0.3 mm", "--json")
    assert.equal(0, status, words)
    says(json, '"passes":false', '"stones":30', '"reach_mm":155.4')
    -- n stones let 220 mm through when 4.7 n + (150 - 4.7 n) 1.6 >= 220: n <= 7.09
    says(json, '"most_stones":7')
    says((run("opening", "ring=150 mm", "through=22 cm", "stretch=60 %", "stone=ss20", "gap=0.3 mm")), "does not pass", "at most 7 stones")
    says((run("opening", "ring=150 mm", "through=15.5 cm", "stretch=60 %", "stone=ss20", "gap=0.3 mm")), "passes")
  end)

  it("says when the plain ring is too tight", function()
    says((run("opening", "ring=15 cm", "through=30 cm", "stretch=20 %", "stone=ss20")), "too tight already")
  end)

  it("wants its numbers with units", function()
    local _, words, status = run("opening", "ring=15 cm", "through=22 cm", "stone=ss20")
    assert.equal(2, status)
    says(words, "stretch=")
    _, words, status = run("opening", "ring=15", "through=22 cm", "stretch=60 %", "stone=ss20")
    assert.equal(1, status)
    says(words, "ring", "15")
  end)
end)

describe("alike", function()
  it("finds gaps that give every wearer the same count, once they are written down", function()
    local folder = command.folder()
    os.execute("cp -r recipes/demo/. " .. folder)
    local found = rows((run("alike", folder, "zone=waist", "routine=Undertow", "--csv")))
    assert.equal(4, #found)
    local gap_of, wanted = {}, math.huge
    for _, row in ipairs(found) do
      gap_of[row.tag] = row.gap_mm .. " mm"
      wanted = math.min(wanted, tonumber(row.as_written))
    end
    local lines = {}
    for line in command.read(folder .. "/club.csv"):gmatch "[^\n]+" do
      lines[#lines + 1] = line .. "," .. (#lines == 0 and "waist gap" or gap_of[line:match "^[^,]+"] or "")
    end
    write(folder .. "/club.csv", table.concat(lines, "\n") .. "\n")
    local zones, changes = command.read(folder .. "/tide/zones.csv"):gsub("(\nwaist,[^\n]-),1.5 mm", "%1,waist gap")
    assert.equal(1, changes)
    write(folder .. "/tide/zones.csv", zones)
    for tag in pairs(gap_of) do
      local counted = 0
      for _, row in ipairs(rows((run("count", folder, "tag=" .. tag, "--csv")))) do
        if row.zone == "waist" then counted = counted + tonumber(row.count) end
      end
      assert.equal(wanted, counted, tag)
    end
  end)

  it("takes a count, and names the smallest and the largest gap", function()
    local text, words, status = run("alike", "recipes/demo", "zone=waist", "routine=Undertow", "count=90")
    assert.equal(0, status, words)
    says(text, "90 stones for everyone", "The smallest gap is", "(fenn)", "(edie)")
    for _, row in ipairs(rows((run("alike", "recipes/demo", "zone=waist", "routine=Undertow", "count=90", "--csv")))) do
      assert.equal("90", row.count)
    end
  end)

  it("says where no gap gives just so many", function()
    says((run("alike", "recipes/demo", "zone=waist", "routine=Undertow", "count=2 gross")), "no gap gives just so many")
  end)

  it("refuses a zone that nobody has, and a folder that is no club", function()
    for _, zone in ipairs { "", "zone=neckline" } do
      local printed, unknown, failed = run("alike", "recipes/demo", "routine=Undertwo", zone ~= "" and zone or nil)
      assert.equal(1, failed, printed)
      says(unknown, "Undertwo", "Undertow")
    end
    local _, words, status = run("alike", "recipes/demo", "zone=nekline")
    assert.equal(1, status)
    says(words, "nekline")
    assert.equal(2, select(3, run("alike", "recipes/demo/tide", "zone=waist")))
  end)
end)

describe("alike in the tables", function()
  -- A wide and a narrow wearer of one routine, and one of another.
  local function club(alike, narrow)
    local folder = command.folder()
    write(folder .. "/club.csv", "tag,costume,routine,waist\nwide,band,Mist,60 cm\nnarrow,band,Mist," .. narrow ..
      "\nalone,band,Rain,50 cm\n")
    os.execute("mkdir " .. folder .. "/band")
    write(folder .. "/band/zones.csv", "zone,shape,length,recipe,stones,gap,alike\n" ..
      "waist,line,waist,alternating line,ss20 black; ss20 clear,1 mm," .. alike .. "\n")
    return folder
  end
  local function counts(folder, ...)
    local printed, words, status = run("count", folder, "--csv", ...)
    assert.equal(0, status, words)
    local of = {}
    for _, row in ipairs(rows(printed)) do of[row.tag] = (of[row.tag] or 0) + tonumber(row.count) end
    return of
  end

  it("keeps the gap when nothing is said", function()
    -- 600, 400 and 500 mm at 5.7 mm: 105.3, 70.2 and 87.7 steps
    assert.same({ wide = 106, narrow = 71, alone = 89 }, counts(club("", "40 cm")))
    assert.same({ wide = 106, narrow = 71, alone = 89 }, counts(club("gap", "40 cm")))
  end)

  it("keeps the count of the smallest, in its own routine alone", function()
    local folder = club("count", "40 cm")
    assert.same({ wide = 71, narrow = 71, alone = 89 }, counts(folder))
    assert.same({ wide = 71 }, counts(folder, "tag=wide"))
    local text = run("alike", folder)
    -- 600 / 70 - 4.7 and 400 / 70 - 4.7
    says(text, "the smallest gap is 1.014 mm (narrow), the largest 3.871 mm (wide)")
    assert.equal("3.871", rows((run("alike", folder, "--csv")))[1].gap_mm)
  end)

  it("holds a count that was settled when someone smaller joins late", function()
    local folder = club("count 71", "40 cm")
    write(folder .. "/club.csv", command.read(folder .. "/club.csv") .. "late,band,Mist,35 cm\n")
    assert.same({ wide = 71, narrow = 71, alone = 71, late = 71 }, counts(folder))
    says((run("alike", folder)), "write: count 71")
    local _, words, status = run("count", club("count many", "40 cm"))
    assert.equal(1, status)
    says(words, "zones.csv:2", "many")
  end)

  it("keeps the picture of the first, closed up and thinned where there is no room", function()
    -- 106 stones of 4.7 mm in 50 cm: 500 / 105 = 4.76, they just fit; in 40 cm 400 / 4.7 = 85.1 steps, 86 stones
    assert.same({ wide = 106, narrow = 106, alone = 89 }, counts(club("picture", "50 cm")))
    local folder = club("picture", "40 cm")
    assert.same({ wide = 106, narrow = 86, alone = 89 }, counts(folder))
    says((run("count", folder, "tag=narrow")), "waist: 20 of the picture's stones find no room in this size; 86 close up")
    local listed = rows((run("alike", folder, "--csv")))[2]
    assert.same({ "narrow", "picture", "86", "86" }, { listed.tag, listed.alike, listed.count, listed.closed_up })
    assert.is_truthy(listed.dropped:find "ss20 black" and listed.dropped:find "ss20 clear", listed.dropped)
    says((run("alike", folder, "--json")), '"closed_up":86', '"dropped":"')
    says((run("alike", folder)), "no room for ", "; 86 closed up")
  end)

  it("refuses another word, and says where none is kept", function()
    local _, words, status = run("count", club("pictures", "40 cm"))
    assert.equal(1, status)
    says(words, "zones.csv:2", "did you mean 'picture'")
    says((run("alike", club("", "40 cm"))), "No zone keeps its count")
    assert.equal(2, select(3, run("alike", club("", "40 cm"), "count=9")))
  end)
end)

describe("learn", function()
  it("reckons spares and pace from the log", function()
    local folder = command.folder()
    write(folder .. "/log.csv", "date,tag,zone,stone,planned,used,lost,fell_off,minutes\n" ..
      "2030-01-02,a,neck,ss20,100,100,10,5,20\n2030-01-03,b,neck,ss20,100,100,0,5,20\n")
    local json, words, status = run("learn", folder, "--json")
    assert.equal(0, status, words)
    says(json, '"jobs":2', '"fell_off_share":0.05', '"seconds_a_stone":12')
    says((run("learn", folder)), "2 jobs", "12 s a stone", "300 an hour")
  end)

  it("names the pace that is reckoned with, which is the same for a quote and a plan", function()
    local folder = command.folder()
    for _, name in ipairs { "club.csv", "colours.csv", "ember.lua", "ember.svg", "prices.csv", "rates.csv", "sizes.csv",
      "stock.csv", "suppliers.csv" } do write(folder .. "/" .. name, command.read("recipes/demo/" .. name)) end
    os.execute("cp -r recipes/demo/fern recipes/demo/tide " .. command.quote(folder))
    local rates, before = {}, 0
    for times = 1, 3, 2 do
      write(folder .. "/log.csv", "date,tag,zone,stone,planned,used,lost,fell_off,minutes\n" ..
        ("2030-01-02,a,neck,ss20 clear,500,500,10,5,%d\n"):format(120 * times))
      local small = tonumber((run("learn", folder, "--json")):match('"small_s":([%d.]+)'))
      local quoted = run("cost", folder, "tag=cleo", "--today", "2031-01-06")
      local hours, rest = quoted:match("in about (%d+) h (%d+) min")
      local plan = run("plan", folder, "tag=cleo", "pieces=100000", "--json")
      local planned = tonumber(plan:match('"full":{[^}]-"minutes":([%d.]+)'))
      assert.near(60 * hours + rest, planned, 1)
      assert.is_true(planned > before)
      before = planned
      rates[#rates + 1] = small
    end
    assert.is_true(rates[2] > rates[1])
  end)

  it("says that there is no log", function()
    says((run("learn", command.folder())), "no log yet")
  end)

  it("names a bad row", function()
    local folder = command.folder()
    write(folder .. "/log.csv", "date,tag,zone,stone,planned,used,lost,fell_off,minutes\n2030-13-02,a,neck,ss20,1,1,0,0,1\n")
    local _, words, status = run("learn", folder)
    assert.equal(1, status)
    says(words, "log.csv:2", "2030-13-02")
  end)
end)

describe("priority", function()
  -- Two lines of the drawing cross in their middles, where each has a stone.
  local drawing = [[<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="120mm" viewBox="0 0 120 120">
<path id="across" d="M0 50 H100"/><path id="down" d="M50 0 V100"/></svg>]]
  local costume = [[return costume { format = 1, name = "cross", outlines = "cross.svg",
  zones = function (m, outline)
    local function row(name) return run { along = outline[name], stones = "ss20", gap = "0.3 mm" } end
    return { zone { "across", side = "front", priority = %d, placement = row "across" },
             zone { "down", side = "%s", priority = %d, placement = row "down" } }
  end }]]
  local function counted(first, side, second)
    local folder = command.folder()
    command.write(folder .. "/cross.svg", drawing)
    command.write(folder .. "/costume.lua", costume:format(first, side, second))
    local printed, words, status = command.run("count", folder, "--csv")
    assert.equal(0, status, words)
    local counts = {}
    for _, row in ipairs(command.rows(printed)) do counts[row.zone] = tonumber(row.count) end
    return counts
  end

  it("leaves the stones where zones meet to the one that comes first, and counts none twice", function()
    -- 100 mm at a pitch of 5 mm: 21 stones each; the one in the middle belongs to both
    assert.same({ across = 21, down = 20 }, counted(1, "front", 2))
    assert.same({ across = 20, down = 21 }, counted(2, "front", 1))
  end)

  it("touches neither zones of one rank, nor other sides, nor those without a rank", function()
    assert.same({ across = 21, down = 21 }, counted(1, "front", 1))
    assert.same({ across = 21, down = 21 }, counted(1, "back", 2))
    assert.same({ across = 21, down = 21 }, counted(0, "front", 2))
  end)

  it("holds in a table of zones, too, where outlines of a drawing or path data say where they lie", function()
    local folder = command.folder()
    command.write(folder .. "/cross.svg", drawing)
    command.write(folder .. "/costume.lua", [[return costume { format = 1, name = "cross", outlines = "cross.svg",
      zones = function (m, outline) return { zone { "down", side = "front", priority = 3,
        placement = run { along = outline.down, stones = "ss20", gap = "0.3 mm" } } } end }]])
    command.write(folder .. "/zones.csv", "zone,side,priority,shape,length,recipe,stones,gap\n" ..
      "across,front,1,across,,alternating line,ss20; ss20,0.3 mm\n" ..
      "slant,front,2,M0 0 L100 100,,alternating line,ss20; ss20,0.3 mm\n" ..
      "tape,front,4,line,10 cm,alternating line,ss20; ss20,0.3 mm\n")
    local printed, words, status = command.run("count", folder, "--csv")
    assert.equal(0, status, words)
    local counts = {}
    for _, row in ipairs(command.rows(printed)) do counts[row.zone] = tonumber(row.count) end
    -- all three cross in the middle, where each has a stone. The slant's 141.4 mm bear 29, 5.05 mm apart: the middle one
    -- falls, and the two beside it, which are 3.85 mm from the next stone across. The costume file's zone comes last and
    -- loses its middle one; nobody knows where the tape lay
    assert.same({ across = 21, slant = 26, down = 20, tape = 21 }, counts)
    local text = command.run("count", folder)
    assert.is_truthy(text:find("slant, front: 3 left out where a zone of an earlier priority has its stones", 1, true), text)
    text = command.run("check", folder)
    assert.is_truthy(text:find("Where across and tape meet is not known", 1, true), text)
  end)

  it("is the order in which a plan fills: 1 first, what has none last", function()
    local folder = command.folder()
    command.write(folder .. "/zones.csv", "zone,priority,shape,length,recipe,stones,gap\n" ..
      "field,,line,10 cm,alternating line,ss20; ss20,0.3 mm\nhem,2,line,10 cm,alternating line,ss20; ss20,0.3 mm\n" ..
      "neckline,1,line,10 cm,alternating line,ss20; ss20,0.3 mm\n")
    local printed, words, status = command.run("plan", folder, "pieces=30", "--csv")
    assert.equal(0, status, words)
    local planned = {}
    for _, row in ipairs(command.rows(printed)) do planned[row.zone] = tonumber(row.planned) end
    assert.same({ neckline = 21, hem = 9, field = 0 }, planned)
  end)

  it("keeps the picture of a Lua file's zones, placed or by a recipe, and names what has no room", function()
    local folder = command.folder()
    write(folder .. "/frost.lua", [[return costume { format = 1, name = "frost", measures = { bust = "80 cm" },
      zones = function (m)
        local wide = m.bust / 4
        return { zone { "row", placement = run { along = line(wide), stones = { stone "ss20 red", stone "ss12" }, gap = "0.5 mm" }, alike = "picture" },
          zone { "seam", recipe = "alternating line", given = { line = line(wide), gap = "0.5 mm" }, alike = "picture" },
          zone { "collar", recipe = "alternating line", given = { line = line(m.bust / 2), gap = "1 mm" } } } end }]])
    write(folder .. "/club.csv", "tag,costume,bust\nada,frost,80 cm\nbo,frost,70 cm\nces,frost,90 cm\n")
    local found = {}
    for _, row in ipairs(rows((run("alike", folder, "--csv")))) do found[row.tag .. row.zone] = row end
    -- 200 mm has 46 in the row, 23 of 4.7 mm and 23 of 3.1; 175 mm less a stone's half at each end cannot: 45 do
    assert.same({ "46", "45", "46" }, { found.adarow.count, found.borow.count, found.cesrow.count })
    assert.equal("1 ss20 red", found.borow.dropped)
    assert.is_nil(found.adacollar)
    assert.equal(found.adaseam.count, found.cesseam.count)
    assert.is_true(tonumber(found.boseam.count) < tonumber(found.adaseam.count) and found.boseam.dropped ~= "")
    -- one alone looks as beside the others
    local alone = rows((run("count", folder, "tag=bo", "--csv")))
    local sum = 0
    for _, row in ipairs(alone) do if row.zone == "row" then sum = sum + tonumber(row.count) end end
    assert.equal(45, sum)
    write(folder .. "/frost.lua", (read(folder .. "/frost.lua"):gsub('alike = "picture"', 'alike = "count"', 1)))
    local _, words, status = run("count", folder)
    assert.equal(1, status)
    says(words, "frost.lua:4", "alike")
  end)
end)
