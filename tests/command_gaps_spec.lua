-- Gaps meant as glued or as worn: both are told, and so are stones that would touch in one of the two states.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local run, read, write = command.run, command.read, command.write

teardown(command.sweep)

local head = "zone,side,pair,times,priority,shape,length,width,recipe,stones,gap,already,leave\n"
local function dress(fabric, ...)
  local folder = command.folder()
  local zones = head
  for number, gap in ipairs { ... } do
    zones = zones .. ("line %d,front,,,,line 30 cm,,,alternating line,ss20 black;ss20 clear,%s,,\n"):format(number, gap)
  end
  write(folder .. "/zones.csv", zones)
  if fabric then write(folder .. "/fabric.csv", "fabric,value\n" .. fabric) end
  return folder
end

-- Glued flat, worn half as long again: of 30 cm and 4.7 mm across, 54 stones leave 0.960 mm and 48 leave 1.683 mm.
local function stretchy() return dress("worn across,50 %\n", "1 mm", "2.5 mm worn") end

describe("weigh, where the fabric stretches", function()
  it("tells each zone's gap as glued and as worn", function()
    local printed, words = run("weigh", stretchy())
    assert.is_truthy(printed:find("line 1.*edge to edge 0.96 mm as glued, 1.44 mm as worn"), words .. printed)
    assert.is_truthy(printed:find("line 2.*edge to edge 1.68 mm as glued, 2.52 mm as worn"), printed)
    assert.is_falsy(printed:find("touch", 1, true))
  end)

  it("tells the gap along the row, however near the second row lies", function()
    local folder = command.folder()
    write(folder .. "/zones.csv", head .. "neck,both,,,,loop,52 cm,,double row,ss20; ss20,3 mm worn,,\n")
    write(folder .. "/fabric.csv", "fabric,value\nlies across,10 %\nworn across,20 %\n")
    local printed, words = run("weigh", folder)
    local glued, worn = printed:match "edge to edge ([%d.]+) mm as glued, ([%d.]+) mm as worn"
    assert.is_truthy(glued, words .. printed)
    assert.is_true(math.abs(glued - 2.75) < 0.06, glued)
    assert.is_true(math.abs(worn - 3) < 0.06, worn)
  end)

  it("tells both in JSON and CSV", function()
    local folder = stretchy()
    local json = run("weigh", folder, "--json")
    assert.is_truthy(json:find('"glued_gap_mm":0.9603,"worn_gap_mm":1.44045,"touching":0', 1, true), json)
    local row = command.rows((run("weigh", folder, "--csv")))[1]
    assert.same({ "0.9603", "1.4404", "0" }, { row.glued_gap_mm, row.worn_gap_mm, row.touching })
  end)

  it("tells both on the maker's sheet", function()
    local folder, out = stretchy(), command.folder()
    local _, words, status = run("sheet", folder, "--out", out)
    assert.equal(0, status, words)
    local name = folder:match "[^/]+$"
    local page = read(out .. "/" .. name .. ".html")
    assert.is_truthy(page:find("edge to edge 0.96 mm as glued, 1.44 mm as worn", 1, true))
    assert.is_truthy(page:find("edge to edge 1.68 mm as glued, 2.52 mm as worn", 1, true))
    run("sheet", folder, "--out", out, "--inches")
    assert.is_truthy(read(out .. "/" .. name .. ".html"):find("edge to edge 0.038 in as glued, 0.057 in as worn", 1, true))
  end)

  it("tells both alike where it is worn as it lies on the board", function()
    local printed = run("weigh", dress("lies across,20 %\n", "1 mm"))
    assert.is_truthy(printed:find("edge to edge 0.96 mm as glued, 0.96 mm as worn", 1, true), printed)
  end)

  it("does not speak of states where it lies flat and is worn so", function()
    local printed = run("weigh", dress(nil, "1 mm"))
    assert.is_falsy(printed:find("as worn", 1, true), printed)
  end)
end)

describe("stones that would touch", function()
  -- 64 stones leave 0.062 mm on 30 cm: worn back to flat from a board that stretches by 30 % it is 0.048 mm
  it("only as worn are told from zones.csv, in words, JSON and on the sheet", function()
    local folder, out = dress("lies across,30 %\nworn across,0 %\n", "0.06 mm", "1 mm"), command.folder()
    local printed = run("weigh", folder)
    assert.is_truthy(printed:find("line 1[^\n]*\n    64 stones would touch another, as glued or as worn\n  line 2"),
      printed)
    assert.equal(1, select(2, printed:gsub("would touch", "")))
    local json = run("weigh", folder, "--json")
    assert.is_truthy(json:find('"touching":64', 1, true), json)
    run("sheet", folder, "--out", out)
    local page = read(out .. "/" .. folder:match "[^/]+$" .. ".html")
    assert.is_truthy(page:find("64 stones would touch another, as glued or as worn", 1, true))
    assert.equal(1, select(2, page:gsub("would touch", "")))
  end)

  -- 66 stones on 306.8 mm have 65 gaps of 0.02 mm between
  it("only as glued are told, too", function()
    local folder = dress "worn across,50 %\n"
    write(folder .. "/zones.csv", head .. "rim,front,,,,line 306.8 mm,,,alternating line,ss20 black;ss20 clear,0.02 mm,,\n")
    local printed = run("weigh", folder)
    assert.is_truthy(printed:find("edge to edge 0.02 mm as glued, 0.03 mm as worn\n    66 stones would touch", 1, true), printed)
  end)

  it("in one state are told of no zone whose fabric keeps them apart in both", function()
    assert.is_falsy(run("weigh", dress("worn across,10 %\n", "0.06 mm")):find("would touch", 1, true))
  end)
end)
