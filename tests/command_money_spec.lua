-- What the program says of money and of the log where something is lacking, given twice, or out of all proportion.
local command = require "tests.command_support"
local run, write, read, rows = command.run, command.write, command.read, command.rows

local today = { "--today", "2031-01-06" }

local function says(text, ...)
  for _, words in ipairs { ... } do
    if not text:find(words, 1, true) then error(("%q is not in:\n%s"):format(words, text), 2) end
  end
end

local zones = "zone,shape,length,recipe,stones,gap\n"
local prices = "supplier,stone,pack,price\n"
local suppliers = "supplier,currency,shipping,free_from\nHollow Elm,EUR,0,\n"

-- A club's folder of the tables that are given by name; one costume "band" of the zones that are given.
local function club(tables)
  local folder = command.folder()
  os.execute("mkdir " .. folder .. "/band")
  write(folder .. "/club.csv", "tag,costume,size\nada,band,\n")
  write(folder .. "/suppliers.csv", suppliers)
  for name, text in pairs(tables) do write(folder .. "/" .. name, text) end
  return folder
end

local function demo()
  local folder = command.folder()
  os.execute("cp -r recipes/demo/. " .. folder)
  return folder
end

after_each(command.sweep)

describe("an order that lacks stones", function()
  local band = zones .. "neck,line,52 cm,alternating line,ss20 red; ss20 red,0.2 mm\n"

  it("is said by compare, of one costume with another stone", function()
    local given = { "routine=Hearth", "stone=ss20 red", "instead=ss20 purple" }
    local text, words, status = run("compare", "recipes/demo", given[1], given[2], given[3], table.unpack(today))
    assert.equal(3, status, text)
    says(text, "of ss20 purple: no supplier offers enough", "INCOMPLETE: no supplier offers enough of 1 kind of stone.")
    assert.is_nil(text:find("is enough", 1, true), text)
    assert.is_nil(text:find("the whole order", 1, true), text) -- what lacks stones is no cheaper for it
    says(words, "the order is not complete")
    for _, how in ipairs { "--csv", "--json" } do
      assert.equal(3, (select(3, run("compare", "recipes/demo", given[1], given[2], given[3], how, table.unpack(today)))))
    end
  end)

  it("is said by compare, of two costumes with prices", function()
    local folder = command.folder()
    os.execute(("mkdir %s/old %s/new %s/shop"):format(folder, folder, folder))
    write(folder .. "/shop/prices.csv", prices .. "Hollow Elm,ss20 red,1 gross,8.00\n")
    write(folder .. "/shop/suppliers.csv", suppliers)
    write(folder .. "/old/zones.csv", band)
    write(folder .. "/new/zones.csv", (band:gsub("ss20 red", "ss20 blue")))
    local text, _, status = run("compare", folder .. "/old", folder .. "/new", "--prices", folder .. "/shop", table.unpack(today))
    assert.equal(3, status, text)
    says(text, "of ss20 blue: no supplier offers enough", "INCOMPLETE")
    -- the other way nothing is lacking
    text, _, status = run("compare", folder .. "/new", folder .. "/old", "--prices", folder .. "/shop", table.unpack(today))
    assert.equal(0, status, text)
    says(text, "1 x 1 gross of ss20 red")
  end)

  it("ends order, cost and club alike", function()
    local folder = club { ["band/zones.csv"] = band, ["prices.csv"] = prices .. "Hollow Elm,ss16 red,1 gross,5.00\n" }
    for _, verb in ipairs { "order", "cost", "club" } do
      local text, words, status = run(verb, folder, table.unpack(today))
      assert.equal(3, status, verb .. text)
      says(text, "INCOMPLETE")
      says(words, "the order is not complete: no supplier offers enough of 1 kind of stone")
    end
    local out = command.folder()
    assert.equal(3, (select(3, run("club", folder, "--out", out, table.unpack(today)))))
    assert.is_truthy(read(out .. "/order.csv"))
    write(folder .. "/prices.csv", prices .. "Hollow Elm,ss20 red,1 gross,8.00\n")
    for _, verb in ipairs { "order", "cost", "club" } do assert.equal(0, (select(3, run(verb, folder, table.unpack(today)))), verb) end
  end)

  it("is no matter of another wearer's quote", function()
    local folder = club { ["band/zones.csv"] = band, ["prices.csv"] = prices .. "Hollow Elm,ss20 red,1 gross,8.00\n" }
    os.execute("mkdir " .. folder .. "/cuff")
    write(folder .. "/cuff/zones.csv", (band:gsub("ss20 red", "ss20 blue")))
    write(folder .. "/club.csv", "tag,costume,size\nada,band,\nbo,cuff,\n")
    assert.equal(0, (select(3, run("cost", folder, "tag=ada", table.unpack(today)))))
    assert.equal(3, (select(3, run("cost", folder, "tag=bo", table.unpack(today)))))
    assert.equal(3, (select(3, run("cost", folder, table.unpack(today)))))
  end)

  it("is not told a chance of running short", function()
    local folder = club { ["band/zones.csv"] = band, ["prices.csv"] = prices .. "Hollow Elm,ss16 red,1 gross,5.00\n" }
    local text = run("order", folder, table.unpack(today))
    says(text, "Stones are lacking, so there is not enough whatever is lost")
    assert.is_nil(text:find("chance of running short", 1, true))
    write(folder .. "/prices.csv", prices .. "Hollow Elm,ss20 red,1 gross,8.00\n")
    write(folder .. "/rates.csv", "rate,value\nspares,0 %\n")
    text = run("order", folder, table.unpack(today))
    says(text, "No stone is taken to be lost while working")
    assert.is_nil(text:find("chance of running short", 1, true))
    write(folder .. "/rates.csv", "rate,value\nspares,3 %\n")
    says((run("order", folder, table.unpack(today))), "the chance of running short of a stone is at most")
  end)

  it("is not said to have no prices.csv when that has no row", function()
    local folder = club { ["band/zones.csv"] = band, ["prices.csv"] = prices }
    local _, words, status = run("order", folder, table.unpack(today))
    assert.equal(1, status)
    says(words, "prices.csv has headings but no row")
    os.remove(folder .. "/prices.csv")
    says((select(2, run("order", folder, table.unpack(today)))), "has no prices.csv")
  end)
end)

describe("what is given to a command", function()
  it("names each routine once", function()
    local _, words = run("compare", "recipes/demo", "routine=Xyzzyplugh", "stone=ss20 red", "instead=ss16 red")
    says(words, "known are Hearth, Undertow")
  end)

  it("is a number of whole evenings", function()
    local _, words, status = run("plan", "recipes/demo", "tag=ada", "evenings=1.5", table.unpack(today))
    assert.equal(1, status)
    says(words, "'1.5' is not a number of whole evenings")
    assert.equal(0, (select(3, run("plan", "recipes/demo", "tag=ada", "evenings=3", table.unpack(today)))))
  end)

  it("is some hours, or none at all", function()
    local folder = club {}
    local _, words, status = run("learn", folder, "tag=old", "gross=3", "hours=0", "--write")
    assert.equal(1, status)
    says(words, "hours must be above 0")
    assert.is_nil(read(folder .. "/log.csv"))
  end)
end)

describe("a filled card", function()
  local head = "tag,stone,planned,had,bought,left,evenings,date\n"

  local function learned(tables, card, ...)
    local folder, beside = club(tables), command.folder() .. "/card.csv"
    write(beside, card)
    local text, words, status = run("learn", folder, beside, "--write", "--today", "2031-03-01", ...)
    assert.equal(0, status, words)
    return rows(read(folder .. "/log.csv")), folder, text
  end

  it("counts the minutes of every hand", function()
    for _, hands in ipairs { 1, 4 } do
      local log = learned({ ["rates.csv"] = "rate,value\nevening,2 h\nhands," .. hands .. "\n" },
        head .. "ada,ss20 red,400,0,430,0,3,\n")
      assert.equal(360 * hands, tonumber(log[1].minutes))
    end
    -- minutes that are written down stay what they are
    local log = learned({ ["rates.csv"] = "rate,value\nhands,4\n" }, "tag,stone,planned,had,bought,left,minutes\nada,ss20 red,400,0,430,0,300\n")
    assert.equal("300", log[1].minutes)
  end)

  it("has one date for a job", function()
    for _, dates in ipairs { { "2031-02-03", "" }, { "", "2031-02-03" }, { "2031-02-03", "2031-02-03" } } do
      local log, folder = learned({}, ("%sada,ss20 red,400,0,430,20,3,%s\nbo,ss20 red,9,0,9,0,,\nada,ss16,90,0,99,5,,%s\n"):format(
        head, dates[1], dates[2]))
      assert.equal("2031-02-03", log[1].date)
      assert.equal("2031-03-01", log[2].date)
      assert.equal("2031-02-03", log[3].date)
      for _, row in ipairs(rows(read(folder .. "/stock.csv"))) do
        assert.equal(row.on_hand == "0" and "bo 2031-03-01" or "ada 2031-02-03", row.lot)
      end
    end
    local folder, beside = club {}, command.folder() .. "/card.csv"
    write(beside, head .. "ada,ss20 red,400,0,430,0,3,2031-02-03\nada,ss16,90,0,99,0,,2031-02-04\n")
    local _, words, status = run("learn", folder, beside, "--write")
    assert.equal(1, status)
    says(words, "card.csv:3", "a job has one date")
    assert.is_nil(read(folder .. "/log.csv"))
  end)

  it("is no formula in the tables it is written into", function()
    local folder = club {}
    assert.equal(0, (select(3, run("learn", folder, "tag==1+1", "gross=12", "--write", "--today", "2031-03-01"))))
    says(read(folder .. "/log.csv"), "2031-03-01,'=1+1,,")
    -- read back it is the same job
    local _, words, status = run("learn", folder, "tag==1+1", "gross=12", "--write", "--today", "2031-03-01")
    assert.equal(1, status)
    says(words, "already")
    local _, stocked = learned({}, head .. "=2+2,ss20 red,400,0,430,30,3,\n")
    says(read(stocked .. "/stock.csv"), ",'=2+2 2031-03-01")
    says(read(stocked .. "/log.csv"), ",'=2+2,")
  end)

  it("takes its grams out of the grams that lie there", function()
    local function left(on_hand, twenty)
      local _, folder = learned({ ["stock.csv"] = ("stone,on_hand,lot,twenty\nss20 clear,%s,,%s\n"):format(on_hand, twenty) },
        head .. "ada,ss20 clear,150,150,0,0,,\n")
      return rows(read(folder .. "/stock.csv"))[1].on_hand, folder
    end
    -- twenty weigh 1.3 g, so 150 weigh 9.75 g
    assert.equal("190.25 g", (left("200 g", "1.30 g")))
    -- else by the stone's nominal mass: what lies there is read as before, less what was taken
    local girdle = require "girdle"
    local each = girdle.stone "ss20 clear".mass_mg
    local text = left("200 g", "")
    local grams = tonumber(text:match "^([%d.]+) g$")
    assert.is_true(grams > 190 and grams < 195, text)
    assert.is_true(math.abs(200 - grams - 150 * each / 1000) < 0.006, text)
    assert.equal("50", (left("200", "")))
    assert.equal("0 g", (left("5 g", "1.30 g"))) -- all of them
  end)

  it("leaves what is left in the lot it is of, when nothing was bought", function()
    local stock = "stone,on_hand,lot\nss20 red,100,spring\nss20 red,50,autumn\nss16 red,40,\n"
    local card = head .. "ada,ss20 red,50,80,0,30,3,2031-02-03\nada,ss16 red,20,40,0,15,,\n"
    local _, folder = learned({ ["stock.csv"] = stock }, card)
    local wanted = "stone,on_hand,lot\nss20 red,50,spring\nss20 red,50,autumn\nss16 red,0,\nss16 red,15,ada 2031-02-03\n"
    assert.equal(wanted, read(folder .. "/stock.csv"))
    local beside, log = command.folder() .. "/card.csv", read(folder .. "/log.csv")
    write(beside, card)
    assert.equal(1, (select(3, run("learn", folder, beside, "--write"))))
    assert.equal(wanted, read(folder .. "/stock.csv"))
    -- cut off after the stock was put in place: the log is ready aside, and the rest is done when it is run again
    os.remove(folder .. "/log.csv")
    write(folder .. "/log.csv.new", log)
    assert.equal(0, (select(3, run("learn", folder, beside, "--write"))))
    assert.equal(wanted, read(folder .. "/stock.csv"))
    assert.equal(log, read(folder .. "/log.csv"))
    assert.is_nil(read(folder .. "/log.csv.new"))
    -- more than the first lot holds is of no one lot
    _, folder = learned({ ["stock.csv"] = stock }, head .. "ada,ss20 red,50,120,0,30,3,2031-02-03\n")
    assert.equal("stone,on_hand,lot\nss20 red,0,spring\nss20 red,30,autumn\nss16 red,40,\nss20 red,30,ada 2031-02-03\n",
      read(folder .. "/stock.csv"))
  end)

  it("is named when it is beyond belief, though jobs are few", function()
    for had, use in pairs { [860] = true, [99999] = true, [500] = false } do
      local folder, beside = demo(), command.folder() .. "/card.csv"
      write(beside, head .. ("odd,ss20 red,360,%d,0,0,,\n"):format(had))
      local text = run("learn", folder, beside, "--today", "2031-03-01")
      assert.equal(use, text:find("Unusual: job 'odd' lost", 1, true) ~= nil, text)
      assert.equal(had > 1080, text:find("Unusual: job 'odd' used more than three times what was planned", 1, true) ~= nil, text)
      assert.is_nil(text:find("Unusual: job 'old", 1, true))
    end
  end)

  it("is no formula in what compare lists", function()
    local folder = command.folder()
    os.execute(("mkdir %s/old %s/new"):format(folder, folder))
    for name, length in pairs { old = 300, new = 400 } do
      write(("%s/%s/zones.csv"):format(folder, name), ("%s'=1+1,line,%d mm,alternating line,ss20 red; ss20 red,0.5 mm\n"):format(zones, length))
    end
    local text = run("compare", folder .. "/old", folder .. "/new", "--csv")
    says(text, ",'=1+1,")
  end)
end)

describe("the rates", function()
  local page, defaults, names = read "bindings/command/girdle-files.5", {}, {}
  local section = assert(page:match "\n%.SH RATES\n(.-)\n%.SH "):gsub("\\%-", "-")
  for name, default, meaning in section:gmatch '\n%.B "([^"]+)"\n([^:\n]+): ([^\n]+)' do
    assert.is_true(#meaning >= 4)
    defaults[name], names[#names + 1] = default, name
  end

  it("stand in the manual, every one and no other", function()
    local table_of = assert(read "lib/job_rates.c":match "static const rate_row rates%[%] = {\n(.-)\n};")
    local known = {}
    for name in table_of:gmatch '{"([^"]+)", ' do known[#known + 1] = name end
    assert.equal(43, #known)
    assert.same(known, names)
  end)

  it("have the defaults that the manual says", function()
    local plain = demo()
    os.remove(plain .. "/rates.csv")
    local given = { "rate,value" }
    for _, name in ipairs(names) do
      if defaults[name] ~= "-" then given[#given + 1] = name .. "," .. defaults[name] end
    end
    for _, verb in ipairs { { "club", "--json" }, { "order" }, { "learn", "--json" }, { "cost" } } do
      os.remove(plain .. "/rates.csv")
      local before = run(verb[1], plain, verb[2] or "--quiet", table.unpack(today))
      write(plain .. "/rates.csv", table.concat(given, "\n") .. "\n")
      local after, words, status = run(verb[1], plain, verb[2] or "--quiet", table.unpack(today))
      assert.equal(0, status, words)
      assert.equal(before, after)
    end
  end)

  it("are named when one is not known", function()
    local folder = demo()
    for name, meant in pairs {
      labour = "unknown rate 'labour'; known are labour a gross, labour a stone, labour an hour",
      labor = "known are labour a gross, labour a stone, labour an hour",
      ["vacation stones"] = "known are labour a stone, small stone, large stone", currencies = "did you mean 'currency'?", Xyzzyplugh = "such as labour a gross, spares",
    } do
      write(folder .. "/rates.csv", "rate,value\n" .. name .. ",5\n")
      local _, words, status = run("order", folder, table.unpack(today))
      assert.equal(1, status)
      says(words, "rates.csv:2", meant)
    end
  end)
end)
