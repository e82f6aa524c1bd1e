-- The printed order against the tables that it was made from.
local command = require "tests.command_support"
local run, read, rows = command.run, command.read, command.rows

-- "12.50" in cents, without a float.
local function cents(text)
  local whole, part = text:match "^(%d+)%.(%d%d)$"
  return math.tointeger(whole) * 100 + math.tointeger(part)
end

-- The prices and suppliers of the demo club by what identifies them.
local function price_book(folder)
  local prices, suppliers = {}, {}
  for _, row in ipairs(rows(read(folder .. "/prices.csv"))) do
    prices[row.supplier .. "|" .. row.stone .. "|" .. row.pack] = row
  end
  for _, row in ipairs(rows(read(folder .. "/suppliers.csv"))) do suppliers[row.supplier] = row end
  return prices, suppliers
end

describe("the demo club's order", function()
  it("agrees to the cent with the price file, priced again by hand", function()
    local prices, suppliers = price_book "recipes/demo"
    local goods, total, lines = {}, 0, rows((run("order", "recipes/demo", "--today", "2031-01-06", "--csv")))
    assert.is_true(#lines > 10)
    for _, line in ipairs(lines) do
      local row = assert(prices[line.supplier .. "|" .. line.stone .. "|" .. line.pack], line.stone .. " " .. line.pack)
      assert.equal(row.item, line.item)
      assert.equal(row.price, line.price)
      assert.equal("", row.sold_out)
      local cost = math.tointeger(line.packs) * cents(row.price)
      assert.equal(cost, cents(line.cost))
      goods[line.supplier] = (goods[line.supplier] or 0) + cost
    end
    local text = run("order", "recipes/demo", "--today", "2031-01-06")
    for name, sum in pairs(goods) do
      local of = suppliers[name]
      local free = of.free_from ~= "" and sum >= cents(of.free_from)
      assert.is_true(of.least_order == "" or sum >= cents(of.least_order))
      total = total + sum + (free and 0 or cents(of.shipping))
    end
    assert.is_truthy(text:find(("%%f[%%d]%d%%.%02d\n"):format(total // 100, total % 100)), text)
    assert.is_truthy(text:find("This is the cheapest order for these prices.", 1, true))
  end)

  it("covers every stone: bought and from stock make up what is needed, spares and kits", function()
    local text = run("order", "recipes/demo", "--today", "2031-01-06")
    local seen = 0
    for needed, spares, kit, hand, stock, bought, left in
        text:gmatch "\n%S+ [%a ]- +(%d+) +(%d+) +(%d+) +(%d+) +(%d+) +(%d+) +(%d+)%f[\n]" do
      seen = seen + 1
      assert.equal(needed + spares + kit + left, stock + bought)
      assert.is_true(math.tointeger(stock) <= math.tointeger(hand))
    end
    assert.is_true(seen >= 10, text)
  end)

  it("says which share of spares it took, and why", function()
    local text = run("order", "recipes/demo", "--today", "2031-01-06")
    assert.is_truthy(text:find("Spares: 5 % of each stone is taken to be lost while working", 1, true), text)
    assert.is_truthy(text:find("learned from 3 jobs of the log", 1, true), text)
    local plain = command.folder()
    os.execute(("cp -r recipes/demo/. %s && rm %s/log.csv"):format(command.quote(plain), command.quote(plain)))
    text = run("order", plain, "--today", "2031-01-06")
    assert.is_truthy(text:find("Spares: 6 % of each stone is taken to be lost while working: an assumption", 1, true), text)
    command.sweep()
  end)

  it("is one for the whole club, so that no tag can be chosen", function()
    for _, given in ipairs { { "order" }, { "order", "--csv" }, { "club" }, { "cost", "--csv" }, { "cost", "--json" } } do
      local printed, words, status = run(given[1], "recipes/demo", "tag=cleo", table.unpack(given, 2))
      assert.equal(2, status)
      assert.equal("", printed)
      assert.is_truthy(words:find("one for the whole club", 1, true), words)
      printed, words, status = run(given[1], "recipes/demo", "tag=cle", table.unpack(given, 2))
      assert.equal(1, status)
      assert.equal("", printed)
      assert.is_truthy(words:find("unknown tag 'cle', did you mean 'cleo'?", 1, true), words)
    end
  end)

  it("turns grams into pieces by what twenty counted stones weigh", function()
    local club = command.folder()
    os.execute(("cp -r recipes/demo/. %s"):format(command.quote(club)))
    command.write(club .. "/stock.csv", "stone,on_hand,lot,twenty\nss20 red,26 g,,1.30 g\n")
    assert.is_truthy((run("order", club, "--today", "2031-01-06")):find "\nss20 red +406 +28 +12 +400 +355 +91 ")
    command.write(club .. "/stock.csv", "stone,on_hand,lot,twenty\nss20 red,26 g,,1.30\n")
    local _, words, status = run("order", club)
    assert.equal(1, status)
    assert.is_truthy(words:find("stock.csv:2", 1, true), words)
    command.sweep()
  end)
end)

describe("an order with stock of another lot", function()
  local folder = command.folder()
  os.execute(("cp -r recipes/demo/. %s"):format(folder))
  local out = folder .. "-out"
  local text, _, status = run("order", folder, "--today", "2031-01-06", "--out", out)

  it("says from which lot each zone is worked, in text, in lots.csv and in JSON alike", function()
    assert.equal(0, status)
    assert.is_truthy(text:find "\nss16 clear\n +%d+  bought from Saltcote Beadworks +cleo, neckline, front\n", text)
    assert.is_truthy(text:find("lot spring 2030, in stock", 1, true), text)
    local lots, counts, sums = rows(read(out .. "/lots.csv")), rows(read(out .. "/counts.csv")), {}
    for _, lot in ipairs(lots) do
      local line = lot.tag .. "|" .. lot.zone .. "|" .. lot.side .. "|" .. lot.stone
      sums[line] = (sums[line] or 0) + math.tointeger(lot.pieces)
      assert.equal("whole", lot.line)
      assert.is_true(lot.from == "bought" or lot.lot:find "2030" ~= nil, lot.lot)
    end
    for _, count in ipairs(counts) do
      assert.equal(math.tointeger(count.count), sums[count.tag .. "|" .. count.zone .. "|" .. count.side .. "|" .. count.stone])
    end
    local json = run("order", folder, "--today", "2031-01-06", "--json")
    local _, uses = json:gsub('"line":"whole"', "")
    assert.equal(#lots, uses)
  end)

  it("says what could stand in, in the text where it saves and in JSON all of it", function()
    assert.is_truthy(text:find "\nss20 red: ss20 clear could stand in, %d+ pieces %(%+0%), %+0 g, [%d.]+ EUR %(%-[%d.]+%), from ", text)
    local json = run("order", folder, "--today", "2031-01-06", "--json")
    assert.is_truthy(json:find '"substitutes":%[{"stone":"[^"]+","differs_in":"%a+","supplier":"[^"]+","pieces":%d+,"added_pieces":')
    assert.is_truthy(json:find '"spares":{"lost_share":0.0498')
  end)

  it("says on the picking list and on sheets what to pick and what the spares rest on", function()
    local sheets = folder .. "-sheets"
    run("sheet", folder, "--today", "2031-01-06", "--out", sheets)
    local bags = read(sheets .. "/bags.html")
    assert.is_truthy(bags:find("<td>lot spring 2030, in stock</td>", 1, true))
    assert.is_truthy(bags:find("learned from 3 jobs of the log", 1, true))
    assert.is_truthy(read(sheets .. "/ada.html"):find("learned from 3 jobs of the log", 1, true))
    os.execute(("rm -rf %s %s"):format(out, sheets))
  end)
end)

describe("a quote", function()
  it("takes rush, the wearer's own stones and what was added after the deposit from club.csv", function()
    local folder = command.folder()
    os.execute(("cp -r recipes/demo/. %s"):format(folder))
    local club = "tag,costume,needed_by,routine,rush,own,extra,bust,waist,neckline,wrist\n" ..
      "ada,ember,2031-03-14,Hearth,yes,2 gross,1 gross,78 cm,62 cm,54 cm,14.5 cm\n"
    command.write(folder .. "/club.csv", club)
    command.write(folder .. "/rates.csv", read(folder .. "/rates.csv") ..
      "rush,25 %\nextra gross,30.00\nown gross,1.50\nround to,5.00\n")
    local text, words, status = run("cost", folder, "tag=ada", "--today", "2031-01-06")
    assert.equal(0, status, words .. club)
    local lines, sum = {}, 0
    for label, amount in text:match "\n\n(.-)%-%-%-":gmatch "([^\n]+) ([%d.]+)\n" do
      lines[(label:match "^%S+ ?%l*":gsub(" $", ""))] = amount
      sum = sum + cents(amount)
    end
    assert.equal("3.00", lines["Checking and"])
    assert.equal("30.00", lines["Extra stones"])
    assert.is_truthy(lines["Rush"])
    assert.equal(sum, cents(text:match "\nPrice +EUR +([%d.]+)\n"))
    assert.equal(0, (sum - cents(lines["Tax"])) % 500)
    command.write(folder .. "/club.csv", (club:gsub("2 gross", "-3")))
    _, words, status = run("cost", folder, "tag=ada")
    assert.equal(1, status)
    assert.is_truthy(words:find("club.csv:2:", 1, true), words)
  end)
end)
