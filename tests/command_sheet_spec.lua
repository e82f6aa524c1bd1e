-- What the maker works from and what the customer reads: sheet and offer.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local run, read, rows = command.run, command.read, command.rows

local today = "2031-01-06"
teardown(command.sweep)

local function has(text, part) return text:find(part, 1, true) ~= nil end

describe("sheet", function()
  it("is one page that needs nothing from outside, with the costume's counts", function()
    local page, words, status = run("sheet", "recipes/demo", "tag=cleo", "--today", today)
    assert.equal(0, status, words)
    assert.is_truthy(page:find "^<!DOCTYPE html>")
    assert.is_falsy(page:find '<script[^>]+src=' or page:find '<link[^>]+href="[^d]' or page:find '<img[^>]+src="http')
    local total = 0
    for _, row in ipairs(rows((run("count", "recipes/demo", "tag=cleo", "--csv")))) do
      total = total + tonumber(row.count)
      assert.is_true(has(page, row.zone), row.zone)
    end
    assert.is_true(page:find("%f[%d]" .. total .. "%f[%D]") ~= nil, total)
  end)

  it("counts, bags and ticks each half of a ring for itself", function()
    local folder, out = command.folder(), command.folder()
    command.write(folder .. "/zones.csv", "zone,side,shape,length,recipe,stones,gap\n" ..
      "waist,both,loop,62 cm,alternating line,ss20 moss; ss16 clear,1 mm\nfront waist,front,loop,62 cm,alternating line,ss20 moss; ss16 clear,1 mm\n")
    local sums = { waist = 0, ["front waist"] = 0 }
    for _, row in ipairs(rows((run("count", folder, "--csv")))) do
      assert.is_true(row.side == "front" or (row.zone == "waist" and row.side == "back"))
      sums[row.zone] = sums[row.zone] + tonumber(row.count)
      if row.zone == "waist" then assert.is_true(math.abs(tonumber(row.count) - 31) <= 2, row.count) end
    end
    assert.equal(sums["front waist"], sums.waist)
    command.write(folder .. "/club.csv", "tag,costume\nada,dress\n")
    assert(os.execute("mkdir " .. folder .. "/dress && mv " .. folder .. "/zones.csv " .. folder .. "/dress"))
    local _, words, status = run("sheet", folder, "--today", today, "--out", out)
    assert.equal(0, status, words)
    local page, bags = read(out .. "/ada.html"), read(out .. "/bags.html")
    for _, side in ipairs { "front", "back" } do
      assert.is_true(has(page, "ss20 moss, " .. side), side)
      assert.is_true(has(bags, "waist, " .. side), side)
    end
    assert.is_falsy(has(page, "ss20 moss, both") or has(bags, "front and back"))
  end)

  it("shows the wearer's name only when it is asked to", function()
    assert.is_falsy(has((run("sheet", "recipes/demo", "tag=cleo", "--today", today)), "Cleo"))
    assert.is_true(has((run("sheet", "recipes/demo", "tag=cleo", "--today", today, "--names")), "Cleo"))
  end)

  it("writes all a club works from, the same each time", function()
    local first, second = command.folder(), command.folder()
    local _, words, status = run("sheet", "recipes/demo", "--today", today, "--out", first)
    assert.equal(0, status, words)
    run("sheet", "recipes/demo", "--today", today, "--out", second, "--workers", "1")
    local expected = { "bags.html", "calendar.ics" }
    for _, wearer in ipairs(rows(read "recipes/demo/club.csv")) do
      expected[#expected + 1] = wearer.tag .. ".html"
      expected[#expected + 1] = wearer.tag .. "-guides.pdf"
    end
    table.sort(expected)
    assert.equal(table.concat(expected, "\n") .. "\n", (command.shell("ls " .. first .. " | LC_ALL=C sort")))
    for _, name in ipairs(expected) do assert.equal(read(first .. "/" .. name), read(second .. "/" .. name), name) end
    assert.is_true(has(read(first .. "/bags.html"), "cleo"))
    assert.equal("BEGIN:VCALENDAR", read(first .. "/calendar.ics"):sub(1, 15))
    assert.equal("%PDF", read(first .. "/cleo-guides.pdf"):sub(1, 4))
  end)

  it("wants a folder or one tag of a club", function()
    local printed, words, status = run("sheet", "recipes/demo", "--today", today)
    assert.equal(2, status)
    assert.equal("", printed)
    assert.is_true(has(words, "tag=TAG"), words)
  end)
end)

describe("a map", function()
  -- The places of the stones, zone by zone, out of an SVG: text, so that no digit is lost.
  local function places_in(svg)
    local found = {}
    for zone in svg:gmatch '<g class="zone">(.-)</g>\n</g>' do
      local name = zone:match "<title>(.-)</title>"
      for x, y, r in zone:gmatch '<circle class="stone" cx="([^"]*)" cy="([^"]*)" r="([^"]*)"/>' do
        found[#found + 1] = ("%s %.4f %.4f %.4f"):format(name, tonumber(x), tonumber(y), 2 * tonumber(r))
      end
    end
    table.sort(found)
    return found
  end

  it("gives back, read from its picture, the places that its table lists", function()
    for _, tag in ipairs { "ada", "cleo", "gil" } do
      local listed = {}
      for line in run("map", "recipes/demo", "tag=" .. tag, "--csv"):gmatch "\n([^\r\n]+)" do
        local zone, x, y, across = line:match "^([^,]*),%d+,[^,]*,([^,]*),([^,]*),([^,]*),"
        listed[#listed + 1] = ("%s %.4f %.4f %.4f"):format(zone, tonumber(x), tonumber(y), tonumber(across))
      end
      table.sort(listed)
      assert.is_true(#listed > 700)
      assert.same(listed, places_in((run("map", "recipes/demo", "tag=" .. tag))), tag)
    end
  end)

  it("is mirrored where it is drawn", function()
    local plain = run("map", "recipes/demo", "tag=cleo", "--pdf")
    local mirrored, words, status = run("map", "recipes/demo", "tag=cleo", "--pdf", "--mirrored")
    assert.equal(0, status, words)
    assert.equal("%PDF", mirrored:sub(1, 4))
    assert.are_not.equal(plain, mirrored)
    plain, mirrored = run("map", "recipes/demo", "tag=cleo"), run("map", "recipes/demo", "tag=cleo", "--mirrored")
    assert.are_not.equal(plain, mirrored)
    assert.is_true(has(mirrored, "Mirrored, for working from the back of the fabric."))
    assert.is_false(has(plain, "Mirrored"))
    for _, arguments in ipairs { { "map", "recipes/demo", "tag=cleo", "--csv", "--mirrored" }, { "sheet", "recipes/demo", "--pdf", "--mirrored" } } do
      _, words, status = run(table.unpack(arguments))
      assert.equal(2, status)
      assert.is_true(has(words, "--mirrored goes with map"), words)
    end
  end)
end)

describe("--photo", function()
  local folder = command.folder()
  local png = "\137PNG\r\n\26\n\0\0\0\0IEND\174B`\130"
  command.write(folder .. "/ada.png", png)
  command.write(folder .. "/not.jpg", "no photo at all")

  it("stands in the sheet instead of the figure, of many from a folder by tag", function()
    local page, words, status = run("sheet", "recipes/demo", "tag=bo", "--today", today, "--photo", folder .. "/ada.png")
    assert.equal(0, status, words)
    assert.is_true(has(page, 'src="data:image/png;base64,iVBORw0KGgoAAAAASUVORK5CYII="'), page:match "<img.->")
    local out = command.folder()
    _, words, status = run("sheet", "recipes/demo", "--today", today, "--photo", folder, "--out", out)
    assert.equal(0, status, words)
    assert.is_true(has(read(out .. "/ada.html"), "<img "))
    assert.is_false(has(read(out .. "/bo.html"), "<img "))
  end)

  it("wants a photo, and of many sheets a folder", function()
    local _, words, status = run("sheet", "recipes/demo", "tag=bo", "--today", today, "--photo", folder .. "/not.jpg")
    assert.equal(1, status)
    assert.is_true(has(words, "no whole JPEG or PNG"), words)
    _, words, status = run("sheet", "recipes/demo", "--today", today, "--photo", folder .. "/ada.png", "--out", command.folder())
    assert.equal(2, status)
    assert.is_true(has(words, "TAG.jpg"), words)
    _, words, status = run("sheet", "recipes/demo", "tag=bo", "--today", today, "--photo", folder .. "/missing.png")
    assert.equal(1, status)
    assert.is_true(has(words, "missing.png"), words)
  end)
end)

describe("--phrases", function()
  local folder = command.folder()
  command.write(folder .. "/phrases.csv", 'english,own\nLay ready,Klaar<b>leggen\n.,","\nPrice,Prijs\n')
  command.write(folder .. "/wrong.csv", "english,own\nLay redy,x\n")

  it("puts papers in one's own words, inert, with one's decimal mark", function()
    local page, words, status = run("sheet", "recipes/demo", "tag=cleo", "--today", today, "--phrases", folder .. "/phrases.csv")
    assert.equal(0, status, words)
    assert.is_true(has(page, "Klaar&lt;b&gt;leggen"))
    assert.is_falsy(has(page, "Lay ready"))
    assert.is_true(page:find "%d,%d g<" ~= nil)
    local text = run("cost", "recipes/demo", "tag=cleo", "--today", today, "--phrases", folder .. "/phrases.csv")
    assert.is_true(has(text, "Prijs"), text)
  end)

  it("starts from a table of all phrases, which as it is changes nothing", function()
    local table_of_all, words, status = run "phrases"
    assert.equal(0, status, words)
    assert.is_true(has(table_of_all, "Lay ready,\r\n"))
    command.write(folder .. "/all.csv", table_of_all)
    local plain = run("sheet", "recipes/demo", "tag=cleo", "--today", today)
    assert.is_true(plain == run("sheet", "recipes/demo", "tag=cleo", "--today", today, "--phrases", folder .. "/all.csv"))
  end)

  it("changes no table", function()
    local plain = run("count", "recipes/demo", "tag=cleo", "--csv")
    assert.equal(plain, (run("count", "recipes/demo", "tag=cleo", "--csv", "--phrases", folder .. "/phrases.csv")))
  end)

  it("names a phrase that is not", function()
    local printed, words, status = run("count", "recipes/demo", "tag=cleo", "--phrases", folder .. "/wrong.csv")
    assert.equal(1, status)
    assert.equal("", printed)
    assert.is_true(has(words, "wrong.csv:2:1") and has(words, "Lay ready"), words)
    _, words, status = run("count", "recipes/demo", "--phrases", folder .. "/none.csv")
    assert.is_true(status ~= 0 and has(words, "none.csv"), words)
  end)
end)

describe("the picture of the demo", function()
  it("is what the demo draws", function()
    local drawn, words, status = run("map", "recipes/demo", "tag=gil")
    assert.equal(0, status, words)
    assert.is_true(drawn == read "recipes/demo/map.svg", "renew it: build/girdle map recipes/demo tag=gil > recipes/demo/map.svg")
  end)
end)

describe("offer", function()
  it("holds versions of a costume side by side", function()
    local page, words, status = run("offer", "recipes/demo/ember.lua", "recipes/demo/fern", "bust=76 cm", "wrist=14 cm",
      "waist=60 cm", "neckline=50 cm", "--today", today)
    assert.equal(0, status, words)
    for _, part in ipairs { "ember", "fern", "EUR" } do assert.is_true(has(page, part), part) end
  end)

  it("shows versions to one scale, under a name that is all of theirs, with a repair kit each", function()
    local folder, wide = command.folder(), { light = "20 cm", medium = "30 cm", full = "40 cm" }
    assert(os.execute("cp recipes/demo/prices.csv recipes/demo/suppliers.csv recipes/demo/rates.csv " .. folder))
    local words = { "offer" }
    for _, name in ipairs { "light", "medium", "full" } do
      assert(os.execute(("mkdir %s/%s"):format(folder, name)))
      command.write(folder .. "/" .. name .. "/zones.csv",
        "zone,side,shape,length,recipe,stones\nneck,front,line," .. wide[name] .. ",alternating line,ss16 clear;ss16 red\n")
      words[#words + 1] = folder .. "/" .. name
    end
    words[#words + 1], words[#words + 2] = "--prices", folder
    words[#words + 1], words[#words + 2] = "--today", today
    local page, said, status = run(table.unpack(words))
    assert.equal(0, status, said)
    local scales = {}
    for dots, box in page:gmatch 'aria%-label="neck" stroke%-width=".12" width="(%d+)" viewBox="([^"]+)"' do
      scales[#scales + 1] = tonumber(dots) / tonumber(box:match "^%S+ %S+ (%S+)")
    end
    assert.equal(3, #scales)
    for _, scale in ipairs(scales) do assert.is_true(math.abs(scale / scales[1] - 1) < 0.03, scale) end
    assert.equal("The costume", page:match "<h1>(.-)</h1>")
    assert.equal("The costume", page:match "<title>(.-)</title>")
    for name in pairs(wide) do assert.is_true(has(page, "<h3>Repair kit: " .. name .. "</h3>"), name) end
  end)

  it("shows no cost prices", function()
    local page = run("offer", "recipes/demo", "tag=cleo", "--today", today)
    for _, part in ipairs { "Hollow Elm", "Saltcote", "Margin", "Overhead" } do assert.is_falsy(has(page, part), part) end
  end)

  it("says where prices are wanted", function()
    local folder = command.folder()
    command.write(folder .. "/zones.csv", "zone,shape,length,recipe\nneck,line,20 cm,alternating line\n")
    local _, words, status = run("offer", folder)
    assert.equal(1, status, words)
    assert.is_true(has(words, "--prices"), words)
  end)
end)
