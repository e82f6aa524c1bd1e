-- The demo club from end to end: every sheet tells the same number.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local run, read, rows = command.run, command.read, command.rows

local today = "2031-01-06"
local out, again, printed, printed_again

setup(function()
  local words, status
  out, again = command.folder(), command.folder()
  printed, words, status = run("club", "recipes/demo", "--today", today, "--out", out)
  assert(status == 0, words)
  printed_again = run("club", "recipes/demo", "--today", today, "--out", again, "--workers", "1")
end)
teardown(command.sweep)

local function files_of(folder)
  local names, pipe = {}, assert(io.popen("ls " .. folder))
  for name in pipe:lines() do names[#names + 1] = name end
  pipe:close()
  return names
end

-- Counts by tag and by stone from counts.csv; with the zones' rows beside.
local function counted()
  local by_tag, by_stone, lines = {}, {}, rows(read(out .. "/counts.csv"))
  for _, row in ipairs(lines) do
    local count = math.tointeger(tonumber(row.count))
    by_tag[row.tag] = (by_tag[row.tag] or 0) + count
    by_stone[row.stone] = (by_stone[row.stone] or 0) + count
  end
  return by_tag, by_stone, lines
end

-- What the demo's costumes say: zones worked twice, drawn once; and the stones that are set by eye, never drawn.
local twice = { tide = { ["leg opening"] = 2 }, ember = {}, fern = {} }
local by_eye = { tide = 120 + 24, ember = 48 + 60, fern = 36 + 144 }

describe("the demo club", function()
  it("has at least six wearers and three costumes", function()
    local wearers, costumes = rows(read "recipes/demo/club.csv"), {}
    for _, row in ipairs(wearers) do costumes[row.costume] = true end
    assert.is_true(#wearers >= 6)
    local kinds = 0
    for _ in pairs(costumes) do kinds = kinds + 1 end
    assert.is_true(kinds >= 3)
  end)

  it("writes a map and a list for each tag, the counts, the order and its lots, and nothing else", function()
    local expected = { "counts.csv", "lots.csv", "order.csv" }
    for _, row in ipairs(rows(read "recipes/demo/club.csv")) do
      expected[#expected + 1] = row.tag .. ".csv"
      expected[#expected + 1] = row.tag .. ".svg"
    end
    table.sort(expected)
    local found = files_of(out)
    table.sort(found)
    assert.same(expected, found)
  end)

  it("is the same to the byte when run again, with any number of workers", function()
    assert.equal(printed, printed_again)
    for _, name in ipairs(files_of(out)) do assert.equal(read(out .. "/" .. name), read(again .. "/" .. name), name) end
  end)

  it("draws, lists and counts the same stones", function()
    local by_tag = counted()
    for _, wearer in ipairs(rows(read "recipes/demo/club.csv")) do
      local places = rows(read(out .. "/" .. wearer.tag .. ".csv"))
      local svg = read(out .. "/" .. wearer.tag .. ".svg")
      local _, circles = svg:gsub('<circle class="stone"', "")
      local _, uses = svg:gsub('<use class="stone"', "")
      assert.equal(#places, circles + uses, wearer.tag)
      local expected = by_eye[wearer.costume]
      for _, place in ipairs(places) do expected = expected + (twice[wearer.costume][place.zone] or 1) end
      assert.equal(expected, by_tag[wearer.tag], wearer.tag)
    end
  end)

  it("counts each costume as a real one is stoned: 700 to 3,000 stones", function()
    for tag, count in pairs((counted())) do
      assert.is_true(count >= 700 and count <= 3000, tag .. " has " .. count)
    end
  end)

  it("buys at least what is counted and not in stock", function()
    local _, by_stone = counted()
    local bought, stock = {}, {}
    for _, row in ipairs(rows(read(out .. "/order.csv"))) do
      local number, unit = row.pack:match "^(%d+) ?(%a*)$"
      local pieces = number * assert(({ [""] = 1, dozen = 12, gross = 144 })[unit], row.pack)
      bought[row.stone] = (bought[row.stone] or 0) + pieces * tonumber(row.packs)
    end
    local known = { ["ss20 clear"] = 360, ["ss16 clear"] = 36, ["ss12 aqua"] = 144, ["ss20 red"] = 52 }
    for stone, count in pairs(by_stone) do
      assert.is_true((bought[stone] or 0) + (known[stone] or 0) >= count, stone)
    end
  end)

  it("draws a pair twice, mirrored, with the same count", function()
    local _, _, lines = counted()
    local left, right = {}, {}
    for _, row in ipairs(lines) do
      local key = row.tag .. row.zone .. row.stone
      if row.side == "left" then left[key] = row.count end
      if row.side == "right" then right[key] = row.count end
    end
    assert.is_truthy(next(left))
    assert.same(left, right)
  end)

  it("prints a quote for each, one order and a calendar", function()
    for _, wearer in ipairs(rows(read "recipes/demo/club.csv")) do
      assert.is_truthy(printed:find(wearer.tag, 1, true), wearer.tag)
    end
    assert.is_truthy(printed:find("Hollow Elm Trimmings", 1, true))
    assert.is_truthy(printed:find("2031-03-14", 1, true))
  end)

  it("changes one wearer's count and the order when her neckline changes", function()
    local copy, changed = command.folder(), command.folder()
    os.execute("cp -r recipes/demo/. " .. copy)
    local club = read(copy .. "/club.csv")
    command.write(copy .. "/club.csv", (club:gsub("47 cm", "62 cm")))
    local _, words, status = run("club", copy, "--today", today, "--out", changed)
    assert.equal(0, status, words)
    local before, after = counted(), {}
    for _, row in ipairs(rows(read(changed .. "/counts.csv"))) do
      after[row.tag] = (after[row.tag] or 0) + tonumber(row.count)
    end
    for tag, count in pairs(before) do
      if tag == "fenn" then
        assert.is_true(after[tag] > count)
      else
        assert.equal(count, after[tag], tag)
      end
    end
    assert.are_not.equal(read(out .. "/order.csv"), read(changed .. "/order.csv"))
  end)

  it("counts, costs and maps one wearer", function()
    local counts = run("count", "recipes/demo", "--csv")
    assert.equal(read(out .. "/counts.csv"), counts)
    local text, words, status = run("cost", "recipes/demo", "tag=cleo", "--today", today)
    assert.equal(0, status, words)
    assert.is_truthy(text:find("cleo", 1, true))
    assert.is_falsy(text:find("dara", 1, true))
    assert.equal(read(out .. "/cleo.svg"), run("map", "recipes/demo", "tag=cleo"))
    assert.equal(read(out .. "/cleo.csv"), run("map", "recipes/demo", "tag=cleo", "--csv"))
  end)

  it("dates a quote from --today, in text, data and on the offer", function()
    assert.is_truthy((run("cost", "recipes/demo", "tag=cleo", "--today", today)):find("Valid until 2031-02-05 Wed.", 1, true))
    local json = run("club", "recipes/demo", "--today", today, "--json")
    assert.equal(8, select(2, json:gsub('"valid_until":"2031%-02%-05"', "")))
    local offer = run("offer", "recipes/demo/ember.lua", "--prices", "recipes/demo", "--today", today)
    assert.is_truthy(offer:find("this price holds until</span> 2031-02-05 Wed", 1, true))
  end)

  it("puts into bags and lays ready as many spares as the order has", function()
    local folder, ordered, bagged, ready, stone = command.folder(), {}, {}, {}, nil
    local _, words, status = run("sheet", "recipes/demo", "--today", today, "--out", folder)
    assert.equal(0, status, words)
    local json = run("club", "recipes/demo", "--today", today, "--json")
    for name, spares in json:gmatch('"stone":"([^"]*)","needed":%d+,"spares":(%d+)') do ordered[name] = tonumber(spares) end
    local picking = read(folder .. "/bags.html"):match('id="picking".-</table>')
    for row in picking:gmatch("<tr>(.-)</tr>") do
      stone = row:match('scope="rowgroup">(.-): ') or stone
      local spares = row:match('<td class="n">%d+</td><td class="n">(%d+)</td>')
      if spares then bagged[stone] = (bagged[stone] or 0) + tonumber(spares) end
    end
    for _, name in ipairs(files_of(folder)) do
      if name:find("^%a+%.html$") and name ~= "bags.html" then
        for what, spares in read(folder .. "/" .. name):gmatch("\u{d7} ([^,<]+), and (%d+) as spares") do
          ready[what] = (ready[what] or 0) + tonumber(spares)
        end
      end
    end
    assert.is_true(ordered["ss20 gold"] > 0)
    assert.same(ordered, bagged)
    assert.same(ordered, ready)
  end)

  it("shows what each change alone would do where a day cannot be met", function()
    local text = run("club", "recipes/demo", "--today", "2031-02-20")
    assert.is_truthy(text:find("What one change alone would do:\n%- more hands: %d+ gluing at once: still %d days too late\n"))
    assert.is_truthy(text:find("- faster post: 5 days of delivery: it can be met\n", 1, true))
    for _, change in ipairs { "longer evenings", "fewer stones", "larger stones" } do
      assert.is_truthy(text:find("\n%- " .. change .. ": [^\n]+: still %d days too late"), change)
    end
    local json = run("club", "recipes/demo", "--today", "2031-02-20", "--json")
    assert.is_truthy(json:find('{"what":"faster post","value":5,"late_days":0}', 1, true))
    assert.is_falsy((run("club", "recipes/demo", "--today", today)):find("one change", 1, true))
  end)

  it("orders by itself what the whole club orders", function()
    local order, words, status = run("order", "recipes/demo", "--csv", "--today", today)
    assert.equal(0, status, words)
    assert.equal(read(out .. "/order.csv"), order)
    assert.is_truthy((run("order", "recipes/demo", "--today", today)):find("Saltcote Beadworks", 1, true))
  end)

  it("makes pages to print, the same each time", function()
    local first, words, status = run("map", "recipes/demo", "tag=bo", "--pdf")
    assert.equal(0, status, words)
    assert.equal("%PDF", first:sub(1, 4))
    assert.equal(first, (run("map", "recipes/demo", "tag=bo", "--pdf", "--page", "a4")))
    assert.are_not.equal(first, (run("map", "recipes/demo", "tag=bo", "--pdf", "--page", "letter")))
    local folder = command.folder()
    run("map", "recipes/demo", "tag=bo", "--pdf", "--out", folder)
    assert.equal(first, read(folder .. "/bo.pdf"))
    assert.equal(2, select(3, run("map", "recipes/demo", "tag=bo", "--pdf", "--page", "a5")))
  end)

  it("leaves nothing behind when it is interrupted", function()
    local copy, folder = command.folder(), command.folder()
    os.execute("cp -r recipes/demo/. " .. copy)
    command.write(copy .. "/ember.lua", 'return costume { format = 1, name = "ember", zones = function () while true do end end }')
    local _, words, ended = command.shell(("timeout --preserve-status -s INT 0.4 %s club %s --today %s --out %s"):format(
      command.girdle, copy, today, folder))
    assert.equal(130, ended, words)
    assert.same({}, files_of(folder))
  end)

  it("gives JSON that names every tag", function()
    local json, words, status = run("club", "recipes/demo", "--json", "--today", today)
    assert.equal(0, status, words)
    for _, wearer in ipairs(rows(read "recipes/demo/club.csv")) do
      assert.is_truthy(json:find('"' .. wearer.tag .. '"', 1, true), wearer.tag)
    end
  end)
end)

describe("a club's adhesive", function()
  it("is told for all together, in tubes that one costume after the other uses up", function()
    local printed = command.run("club", "recipes/demo", "--today", "2031-01-06")
    local ml, tubes = printed:match "Adhesive for all together: about (%d+) ml, (%d+) tubes"
    local sum = 0
    for each in printed:gmatch "Adhesive: about [%d.]+ ml under the stones, ([%d.]+) ml" do sum = sum + tonumber(each) end
    assert.is_true(math.abs(sum - tonumber(ml)) < 1, printed)
    assert.equal(math.ceil(sum / 30), tonumber(tubes))
  end)
end)

describe("money beyond reckoning", function()
  it("is named by file and line", function()
    local folder = command.folder()
    os.execute("cp -r recipes/demo/. " .. folder)
    command.write(folder .. "/rates.csv", "rate,value\nspares,5 %\nlabour a gross,92233720368547758.00\n")
    local _, words, status = command.run("cost", folder)
    assert.equal(1, status)
    assert.is_truthy(words:find("rates.csv:3:", 1, true) and words:find("labour a gross", 1, true), words)
  end)
end)

describe("a stone that cannot be had", function()
  local function without_red()
    local folder = command.folder()
    os.execute("cp -r recipes/demo/. " .. folder)
    local kept = {}
    for line in command.read(folder .. "/prices.csv"):gmatch "[^\n]+" do
      if not line:find("ss20 red", 1, true) then kept[#kept + 1] = line end
    end
    command.write(folder .. "/prices.csv", table.concat(kept, "\n") .. "\n")
    return folder
  end

  it("is ordered around, named, and ends with 3", function()
    local folder = without_red()
    local printed, words, status = command.run("order", folder)
    assert.equal(3, status)
    assert.is_truthy(words:find("not complete", 1, true), words)
    assert.is_truthy(printed:find("ss20 red: ss20 gold could stand in, %d+ pieces %(%+0%), %+0 g, [%d.]+ EUR, from Hollow Elm"), printed)
    -- what there is, is written all the same
    _, _, status = command.run("order", folder, "--csv", "--out", folder .. "-out")
    assert.equal(3, status)
    assert.is_truthy(command.read(folder .. "-out/order.csv"))
    os.execute("rm -rf " .. folder .. "-out")
  end)

  it("is substituted for a whole routine or for none", function()
    local folder = without_red()
    command.write(folder .. "/substitutes.csv", "routine,stone,instead\nHearth,ss20 red,ss20 gold\n")
    assert.equal(0, select(3, command.run("order", folder)))
    local reds, golds = {}, {}
    for _, row in ipairs(command.rows((command.run("count", folder, "--csv")))) do
      if row.stone == "ss20 red" then reds[row.tag] = true end
      if row.stone == "ss20 gold" then golds[row.tag] = true end
    end
    assert.same({}, reds)
    assert.same({ ada = true, bo = true }, golds)
    assert.equal(0, select(3, command.run("check", folder)))
  end)

  it("is priced by a margin or by a mark-up, as check says too", function()
    local folder = without_red()
    command.write(folder .. "/rates.csv", "rate,value\nmargin,20 %\nmark-up,30 %\n")
    for _, verb in ipairs { "check", "cost" } do
      local _, words, status = command.run(verb, folder)
      assert.equal(1, status, verb)
      assert.is_truthy(words:find("not both", 1, true), words)
    end
    command.write(folder .. "/rates.csv", "rate,value\nmargin,20 %\n")
    assert.equal(0, select(3, command.run("check", folder)))
  end)

  it("is said to be worn by nobody before anything is placed", function()
    local folder = without_red()
    local function words(rows)
      command.write(folder .. "/substitutes.csv", "routine,stone,instead\n" .. rows)
      local _, said, status = command.run("check", folder)
      assert.equal(0, status, said)
      return said
    end
    assert.equal("", words "Hearth,ss20 red,ss20 gold\n")
    os.execute("mkdir " .. folder .. "/plain")
    command.write(folder .. "/plain/zones.csv", "zone,shape,length,recipe,stones,already,given\n" ..
      "a,line,20 cm,alternating line,ss34 red,3 ss30 red,\nb,line,20 cm,alternating line,,,two = ss40 red\n")
    command.write(folder .. "/club.csv", "tag,costume,routine\nada,plain,Hearth\n")
    local worn = words ",ss34 red,ss34 gold\n,ss30 red,ss30 gold\n,ss40 red,ss40 gold\n,ss20 clear,ss20 gold\n"
    assert.is_falsy(worn:find("nobody wears", 1, true), worn)
    assert.is_truthy(words(",ss34 blue,ss34 gold\n"):find("substitutes.csv:2: nobody wears ss34 blue", 1, true))
  end)

  it("is substituted by nothing that is not known", function()
    local folder = without_red()
    command.write(folder .. "/substitutes.csv", "routine,stone,instead\nHerth,ss20 red,ss20 gold\n" ..
      "Hearth,ss20 red,ss16x gold\nHearth,ss21x,ss20\n,ss48 red,ss48 gold\n")
    for _, verb in ipairs { "check", "order" } do
      local _, words, status = command.run(verb, folder)
      assert.equal(1, status)
      for _, part in ipairs { "substitutes.csv:2", "did you mean 'Hearth'", "substitutes.csv:3", "'ss16x'", "substitutes.csv:4", "ss21x" } do
        assert.is_truthy(words:find(part, 1, true), part .. words)
      end
    end
    for _, instead in ipairs { "ss48 gold", "ss40 gold" } do
      command.write(folder .. "/substitutes.csv", "routine,stone,instead\n,ss48 red," .. instead .. "\n")
      assert.is_truthy((select(2, command.run("count", folder))):find("nobody wears ss48 red", 1, true))
    end
    command.write(folder .. "/substitutes.csv", "a,b\n1,2\n")
    assert.is_truthy((select(2, command.run("check", folder))):find("routine, stone and instead", 1, true))
  end)

  it("is placed anew where its substitute has another size, on all of a routine, in tables and in Lua", function()
    local folder = command.folder()
    os.execute("cp -r recipes/demo/. " .. folder)
    local function counts(...)
      local sums = {}
      for _, row in ipairs(command.rows((command.run("count", folder, "--csv", ...)))) do
        local key = row.tag .. "/" .. row.zone .. "/" .. row.stone
        sums[key] = (sums[key] or 0) + tonumber(row.count)
      end
      return sums
    end
    local wears = {}
    for key, count in pairs(counts()) do
      local tag, _, stone = key:match "(.-)/(.-)/(.*)"
      wears[stone] = wears[stone] or {}
      wears[stone][tag] = (wears[stone][tag] or 0) + count
    end
    for _, stone in ipairs { "ss20 sea green", "ss20 leaf green" } do -- worn in zones.csv; in costume.lua as well
      assert.is_truthy(wears[stone], stone)
      local instead = stone:gsub("ss20", "ss16"):gsub("green", "gold")
      command.write(folder .. "/substitutes.csv", ("routine,stone,instead\n,%s,%s\n"):format(stone, instead))
      local now = {}
      for key, count in pairs(counts()) do
        local tag, _, worn = key:match "(.-)/(.-)/(.*)"
        assert.are_not.equal(stone, worn)
        if worn == instead then now[tag] = (now[tag] or 0) + count end
      end
      for tag, count in pairs(wears[stone]) do assert.is_true(now[tag] > count, tag) end -- smaller ones: more of them
    end
    os.remove(folder .. "/substitutes.csv")
    local printed, words, status = command.run("compare", folder, "stone=ss20 sea green", "instead=ss16 sea green", "--csv")
    assert.equal(0, status, words)
    local off, add = 0, 0
    for _, row in ipairs(command.rows(printed)) do
      if row.stone == "ss20 sea green" then off = off + tonumber(row.take_off); assert.equal("0", row.after)
      elseif row.stone == "ss16 sea green" then add = add + tonumber(row.add) end
    end
    local all = 0
    for _, count in pairs(wears["ss20 sea green"]) do all = all + count end
    assert.equal(all, off)
    assert.is_true(add > off)
    printed = command.run("compare", folder, "stone=ss20 sea green", "instead=ss16 sea green", "--today", "2031-01-06")
    for _, part in ipairs { "weight -", "minutes", "the whole order" } do assert.is_truthy(printed:find(part, 1, true), part) end
    _, words, status = command.run("compare", folder, "routine=Herth", "stone=ss20 sea green", "instead=ss16")
    assert.equal(1, status, words)
    assert.is_truthy(words:find("Herth", 1, true), words)
    assert.equal(2, (select(3, command.run("compare", folder, "stone=ss20"))))
    assert.equal(2, (select(3, command.run("compare", "recipes/alternating_line.lua", "stone=ss20", "instead=ss16"))))
  end)
end)
