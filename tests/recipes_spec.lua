-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- The house recipes: names, help, defaults and pictures.
package.path = "tests/?.lua;" .. package.path
local girdle = require "girdle"

local function read(name)
  local file = assert(io.open(name, "r"))
  local text = file:read "a"
  file:close()
  return text
end

local files = {}
local pipe = assert(io.popen "ls recipes/*.lua")
for name in pipe:lines() do files[#files + 1] = name end
pipe:close()

-- What a file gives to recipe, read without placing anything.
local function sheet_of(name)
  local sheet
  local environment = setmetatable({ recipe = function (fields)
    sheet = fields
    return girdle.recipe(fields)
  end }, { __index = function (_, word) return girdle[word] or _G[word] end })
  assert(loadfile(name, "t", environment))()
  return sheet
end

describe("each house recipe", function ()
  it("is there", function () assert.is_true(#files >= 18) end)
  for _, name in ipairs(files) do
    it("is named, helped and defaulted: " .. name, function ()
      local sheet = sheet_of(name)
      assert.equal(name:match "([^/]*)%.lua$", (sheet.name:gsub(" ", "_")))
      assert.is_truthy(sheet.about:find "%.$")
      assert.is_truthy(read(name):find "^%-%- %u")
      local help = { sheet.about }
      for _, parameter in ipairs(sheet.takes) do help[#help + 1] = parameter.about end
      help = table.concat(help, " ")
      assert.is_truthy(help:find "zip" or help:find "seat" or help:find "inner arm", "where stones would hurt is not asked")
      for place, parameter in ipairs(sheet.takes) do
        local needed = parameter.default == nil and not parameter.optional
        assert.is_true(not needed or place == 1, parameter[1] .. " has no default")
        if parameter[2] == "length" then assert.is_truthy(parameter.from and parameter.to, parameter[1] .. " has no range") end
      end
    end)
    it("is drawn as it is counted: " .. name, function ()
      local short = name:match "([^/]*)%.lua$"
      local count = read "tests/old/placements.txt":match("recipes/" .. short .. "%.lua |.-| (%d+) |")
      local _, circles = read("recipes/pictures/" .. short .. ".svg"):gsub('<circle class="stone"', "")
      assert.equal(tonumber(count), circles, "recipes/draw draws it anew")
    end)
  end
end)

-- A coach has a table of zones and no Lua: each recipe must do with what stands there.
describe("a table of zones", function ()
  local support = require "command_support"
  teardown(support.sweep)
  local shapes = { path = { "loop 34 cm", "loop", "34 cm", "" }, region = { "oval 12 cm x 10 cm", "oval", "12 cm", "10 cm" } }

  local function write_zones(folder, rows)
    local lines = { "zone,shape,length,width,recipe,given" }
    for _, row in ipairs(rows) do lines[#lines + 1] = table.concat(row, ",") end
    support.write(folder .. "/zones.csv", table.concat(lines, "\n") .. "\n")
  end

  it("can use every house recipe", function ()
    local folder, rows, wanted = support.folder(), {}, {}
    for _, name in ipairs(files) do
      local sheet = sheet_of(name)
      local first = sheet.takes[1]
      local shape = first.default == nil and not first.optional and shapes[first[2]] or { "", "", "", "" }
      rows[#rows + 1] = { sheet.name, shape[2], shape[3], shape[4], sheet.name, first[2] == "region" and "gap = 3 mm" or "" }
      wanted[sheet.name] = true
    end
    write_zones(folder, rows)
    local printed, said, status = support.run("count", folder, "--csv")
    assert.equal(0, status, said)
    for _, row in ipairs(support.rows(printed)) do wanted[row.zone] = nil end
    assert.is_nil(next(wanted))
  end)
  it("is told of each recipe's columns", function ()
    local function told(recipe) return (support.run("recipes", recipe)):match "in a row of zones.csv\n(.*)$" end
    assert.equal("  length         size\n  stones         centre; large; medium; small\n  gap            gap\n" ..
      "  given          rays = 12\n", told "starburst")
    assert.equal("  length         depth\n  width          width\n  stones         first; second\n  gap            gap\n" ..
      "  given          rows = 2; row_gap = 1 mm\n", told "v point")
    assert.equal("  shape          line\n  stones         one; two\n  gap            gap\n  leave          leave\n", told "alternating line")
    assert.equal("  shape          within\n  stones         stone; edge; fillers\n  gap            gap\n" ..
      "  given          margin = 1 mm; avoid = ...\n", told "closed cover")
  end)
  it("is looked at before anything is placed", function ()
    local folder = support.folder()
    support.write(folder .. "/trap.lua", [[return recipe { format = 1, name = "trap",
      takes = { { "line", "path" }, { "size", "length", default = "2 cm", to = "5 cm" }, { "leave", "text", optional = true } },
      place = function () error "placed" end }]])
    support.write(folder .. "/zones.csv", "zone,shape,length,recipe,leave,given\n" ..
      "a,loop,neckline,trap,,size = my own\nb,lop 34 cm,,trap,,\nc,line,34 cm,trap,3 cm - 4 cm,\n" ..
      "d,line,34 cm,trap,,sise = 2 cm\ne,line,34 cm,trap,,size = 6 cm\nf,line,34 cm,trp,,\n")
    local _, said, status = support.run("check", folder)
    assert.equal(1, status)
    for _, fault in ipairs { "zones.csv:3: unknown shape 'lop', did you mean 'loop'?",
      "zones.csv:4: leave: '3 cm - 4 cm' is not a stretch; write one like \"18 cm to 22 cm\"",
      "zones.csv:5: unknown parameter in given 'sise', did you mean 'size'?",
      "zones.csv:6: trap: size must be 0 to 50 mm, not 60 (given as '6 cm'); for example size = \"2 cm\"",
      "zones.csv:7: unknown recipe 'trp', did you mean 'trap'?" } do
      assert.is_truthy(said:find(fault, 1, true), said)
    end
    assert.equal(5, select(2, said:gsub("\n", "")))
  end)
  it("gives what has no column by its name, and lengths to what has no shape", function ()
    local function counted(...)
      local folder = support.folder()
      write_zones(folder, { { "one", ... } })
      local printed, said, status = support.run("count", folder, "--csv")
      assert.equal(0, status, said)
      local sum = 0
      for _, row in ipairs(support.rows(printed)) do sum = sum + tonumber(row.count) end
      return sum
    end
    local function used(name, given) return #girdle.use("recipes/" .. name .. ".lua", given) end
    assert.equal(used("starburst", { size = "20 cm", rays = 8 }), counted("", "20 cm", "", "starburst", "rays = 8"))
    assert.equal(used("v_point", { width = "20 cm", depth = "9 cm", rows = 3 }),
      counted("", "9 cm", "20 cm", "v point", "rows = 3"))
    assert.equal(used("keyhole_outline", { width = "5 cm", height = "9 cm", slit = "15 mm", fillers = "ss9; ss6; ss5" }),
      counted("", "9 cm", "5 cm", "keyhole outline", "slit = 15 mm; fillers = ss9; ss6; ss5"))
    assert.equal(used("snowflake_motif", { size = "8 cm" }), counted("", "8 cm", "", "snowflake motif", ""))
    assert.equal(used("snowflake_motif", { size = "8 cm", line = "60 cm" }),
      counted("line", "60 cm", "", "snowflake motif", "size = 8 cm"))
  end)
end)

describe("a house recipe", function ()
  local kept_clear = girdle.rectangle("3 cm", "3 cm")
  local function takes(name, wanted)
    for _, parameter in ipairs(sheet_of(name).takes) do
      if parameter[1] == wanted then return parameter end
    end
  end
  for _, name in ipairs(files) do
    if takes(name, "within") then
      it("keeps an area clear: " .. name, function ()
        assert.is_table(takes(name, "avoid"))
        local whole = girdle.use(name, { within = "rectangle 12 cm x 10 cm", seed = takes(name, "seed") and 1 })
        local clear = girdle.use(name,
          { within = "rectangle 12 cm x 10 cm", avoid = kept_clear, seed = takes(name, "seed") and 1 })
        assert.is_true(#clear > 0 and #clear < #whole)
        for x, y in clear:each() do assert.is_false(kept_clear:contains(x, y)) end
      end)
    elseif takes(name, "line") and takes(name, "line").optional ~= true then
      it("leaves a stretch free: " .. name, function ()
        assert.is_table(takes(name, "leave"))
        local whole = girdle.use(name, { line = "30 cm" })
        assert.is_true(#girdle.use(name, { line = "30 cm", leave = "10 cm to 14 cm" }) < #whole)
      end)
    end
  end
end)

-- A hem or a wrist is seldom straight: whatever the outline, no stone may lie over the edge, and the row follows it.
describe("a recipe that follows the lower edge", function ()
  local outlines = { "M0 0V100H200V0Z" }
  for _, tape in ipairs(girdle.tapes()) do
    if tape.word ~= "line" then outlines[#outlines + 1] = tape.example end -- a line has no inside
  end
  local lower_mm = { -- the edge from corner to corner
    ["M0 0V100H200V0Z"] = 200, ["area 250 cm2"] = math.sqrt(25000), ["yoke 40 cm x 90 cm x 12 cm"] = 900,
    ["circle skirt 66 cm x 35 cm"] = 660 + 2 * math.pi * 350, ["half circle skirt 66 cm x 35 cm"] = 660 + math.pi * 350,
    ["quarter circle skirt 66 cm x 35 cm"] = 660 + math.pi * 175, ["sleeve 16 cm x 30 cm x 55 cm"] = 160,
  }
  for _, name in ipairs { "graded_hem", "cuff" } do
    for _, outline in ipairs(outlines) do
      it("stays on the fabric: " .. name .. " on " .. outline, function ()
        local within = girdle.region(outline)
        local placed, row = girdle.use("recipes/" .. name .. ".lua", { within = within, set_off = "7 mm" }), 0
        assert.is_true(#placed > 0)
        for x, y, _, stone in placed:each() do
          local depth = within:depth(x, y)
          assert.is_true(depth > stone.diameter_mm / 2 - 1e-9)
          if math.abs(depth - 7) < 1e-4 and stone.size == "ss20" then row = row + 1 end
        end
        local pitch = girdle.stone("ss20").diameter_mm + (name == "cuff" and 0.5 or 3)
        if lower_mm[outline] then assert.is_true(math.abs(row - lower_mm[outline] / pitch) < 2 + 0.06 * row) end
      end)
    end
  end
  it("clips a hem that is given where it leaves the fabric", function ()
    local within = girdle.oval("20 cm", "20 cm")
    local placed = girdle.use("recipes/graded_hem.lua", { within = within, hem = "M250 180 H-50" })
    assert.is_true(#placed > 0)
    for x, y, _, stone in placed:each() do assert.is_true(within:depth(x, y) > stone.diameter_mm / 2 - 1e-9) end
  end)
end)

describe("a house recipe that has no room", function ()
  local function told(name, given)
    local good, text = pcall(girdle.use, "recipes/" .. name .. ".lua", given)
    assert.is_false(good)
    return text
  end
  local function placed(name, given) return #girdle.use("recipes/" .. name .. ".lua", given) end

  -- The size that is named is the least that does.
  for _, case in ipairs { { "snowflake_motif", {} }, { "snowflake_motif", { gap = "8 mm", centre = "ss40" } },
    { "snowflake_motif", { branch = "ss16" } }, { "starburst", {} }, { "starburst", { large = "ss34", gap = "3 mm" } } } do
    it("names the size that has: " .. case[1] .. " of " .. tostring(next(case[2])), function ()
      local name, given = case[1], case[2]
      given.size = name == "starburst" and "4 cm" or "2 cm"
      local text = told(name, given)
      local file, least, size, example = text:match(
        '([%w_]+%.lua):%d+: size must be at least (%d+) mm for these stones and this gap, not (%d+) mm; ' ..
        'for example size = "(%d+) mm"$')
      assert.equal(name .. ".lua", file, text)
      assert.equal(least, example)
      assert.equal(name == "starburst" and "40" or "20", size)
      given.size = least .. " mm"
      assert.is_true(placed(name, given) > 1)
      given.size = (least - 1) .. " mm"
      assert.is_truthy(told(name, given):find("size must be at least " .. least, 1, true))
    end)
  end
  it("says at which line a checker needs two of one size, and an area for them", function ()
    local text = told("checker", { within = "rectangle 10 cm x 10 cm", one = "ss16" })
    assert.is_truthy(text:match 'checker%.lua:%d+: one and two must be of one size, like one = "ss20 black"')
    text = told("checker", { within = "rectangle 1 cm x 1 mm" })
    assert.is_truthy(text:match 'checker%.lua:%d+: within is too small .* within = "rectangle 10 cm x 10 cm"$')
  end)
end)

-- What each says of itself, reckoned from its stones.
describe("a house recipe keeps its word", function ()
  local function used(name, given) return girdle.use("recipes/" .. name .. ".lua", given) end
  local function stones(placement)
    local list = {}
    for x, y, turn, stone, row in placement:each() do
      list[#list + 1] = { x = x, y = y, turn = turn, row = row, size = stone.size, colour = stone.colour, r = stone.diameter_mm / 2 }
    end
    return list
  end
  local function share(list, test)
    local count = 0
    for _, one in ipairs(list) do if test(one) then count = count + 1 end end
    return count
  end

  it("alternating line: two stones in turn", function ()
    for i, one in ipairs(stones(used("alternating_line", { line = "30 cm" }))) do
      assert.equal(i % 2 == 1 and "black" or "clear", one.colour)
    end
  end)
  it("seam with three sizes: large, medium, small, medium", function ()
    local wanted = { "ss30", "ss20", "ss12", "ss20" }
    for i, one in ipairs(stones(used("seam_with_three_sizes", { line = "30 cm" }))) do assert.equal(wanted[(i - 1) % 4 + 1], one.size) end
  end)
  it("double row: as many between as there are gaps round a loop, or one more or less", function ()
    local list = stones(used("double_row", { line = "30 cm", first = "ss20", second = "ss20" }))
    assert.equal(59 + 58, #list)
    local along = { {}, {} }
    for _, one in ipairs(list) do table.insert(along[one.row], one.x) end
    for _, row in ipairs(along) do table.sort(row) end
    for i, x in ipairs(along[2]) do assert.near((along[1][i] + along[1][i + 1]) / 2, x, 1e-3) end
  end)
  it("collar band: large at the seam, all set off it", function ()
    local radius = 340 / (2 * math.pi)
    local line = girdle.loop "34 cm"
    local least = { ss30 = 6, ss20 = 6 + 6.41, ss12 = 6 + 6.41 + 4.7 }
    for _, one in ipairs(stones(used("collar_band", { line = line, set_off = "6 mm" }))) do
      local _, away = line:nearest(one.x, one.y)
      assert.is_true(away - one.r >= least[one.size] - 6.41 / 2 - 0.001, one.size .. " stands " .. away .. " mm off")
    end
    assert.is_true(radius > 0)
  end)
  it("v point: a stone of every row on the middle line", function ()
    local tips = share(stones(used("v_point", { rows = 4 })), function (one) return math.abs(one.x - 80) < 1e-3 end)
    assert.equal(4, tips)
  end)
  it("keyhole outline: nothing nearer to the opening than it is set off", function ()
    local opening = girdle.keyhole("6 cm", "12 cm", "2 cm")
    for _, one in ipairs(stones(used("keyhole_outline", {}))) do
      assert.is_false(opening:contains(one.x, one.y))
      assert.is_true(-opening:depth(one.x, one.y) >= 6 - 0.001)
    end
  end)
  it("starburst: every other ray is shorter, and each of a length is alike", function ()
    local rays = {}
    for _, one in ipairs(stones(used("starburst", { rays = 12 }))) do
      local far = math.sqrt(one.x ^ 2 + one.y ^ 2)
      if far > 1 then
        local ray = math.floor(math.deg(math.atan(one.y, one.x)) / 30 + 0.5) % 12
        rays[ray] = rays[ray] or { count = 0, far = 0 }
        rays[ray].count, rays[ray].far = rays[ray].count + 1, math.max(rays[ray].far, far)
      end
    end
    for ray = 2, 11 do
      assert.equal(rays[ray % 2].count, rays[ray].count)
      assert.near(rays[ray % 2].far, rays[ray].far, 0.001)
    end
    assert.is_true(rays[1].far < rays[0].far)
  end)
  it("cuff: denser at the wrist than up the sleeve", function ()
    local list = stones(used("cuff", { within = "strip 14 cm x 6 cm" }))
    local low = share(list, function (one) return one.size == "ss16" and one.y > 30 end)
    local high = share(list, function (one) return one.size == "ss16" and one.y <= 30 end)
    assert.is_true(low > 1.3 * high, low .. " and " .. high)
  end)
  it("colour fade: the first colour above, the last below", function ()
    local list = stones(used("colour_fade", { within = "rectangle 10 cm x 20 cm" }))
    local function third(colour, from, to)
      return share(list, function (one) return one.colour == colour and one.y >= from and one.y < to end)
    end
    assert.is_true(third("black", 0, 66) > 5 * third("black", 134, 201))
    assert.is_true(third("clear", 134, 201) > 5 * third("clear", 0, 66))
    assert.is_true(third("grey", 66, 134) > third("grey", 0, 66))
  end)
  it("checker: no neighbour of the same colour", function ()
    local list = stones(used("checker", { within = "rectangle 10 cm x 8 cm" }))
    for i, a in ipairs(list) do
      for k = i + 1, #list do
        local b = list[k]
        if math.abs(math.sqrt((a.x - b.x) ^ 2 + (a.y - b.y) ^ 2) - 5.2) < 0.01 then assert.not_equal(a.colour, b.colour) end
      end
    end
  end)
  it("closed cover: small stones all round the edge", function ()
    local rim = girdle.oval("10 cm", "8 cm")
    for _, one in ipairs(stones(used("closed_cover", { within = rim, margin = "1 mm" }))) do
      assert.is_true(rim:depth(one.x, one.y) - one.r >= 1 - 0.001)
      if one.size == "ss20" then assert.is_true(rim:depth(one.x, one.y) >= 1 + 3.1 + 0.3 + one.r - 0.001) end
    end
  end)
  it("graded edge and hem: the mean size falls away from the edge", function ()
    local rim = girdle.rectangle("20 cm", "20 cm")
    local near, far = { 0, 0 }, { 0, 0 }
    for _, one in ipairs(stones(used("graded_edge", { within = rim, seed = 1 }))) do
      local into = rim:depth(one.x, one.y) < 20 and near or rim:depth(one.x, one.y) > 40 and far or nil
      if into then into[1], into[2] = into[1] + one.r, into[2] + 1 end
    end
    assert.is_true(near[1] / near[2] > 1.2 * far[1] / far[2])
    local hem = stones(used("graded_hem", { within = "rectangle 40 cm x 15 cm", seed = 1 }))
    local row = share(hem, function (one) return math.abs(one.y - 142) < 0.01 end)
    assert.is_true(row >= 40 and row <= 60, row .. " in the row above the hem")
  end)
  it("mixed scatter: so many medium and small ones for each large one", function ()
    local list = stones(used("mixed_scatter", { within = "rectangle 30 cm x 30 cm", seed = 1 }))
    local function of(size) return share(list, function (one) return one.size == size end) end
    assert.near(3 * of "ss30", of "ss20", 2)
    assert.near(6 * of "ss30", of "ss12", 3)
  end)
  it("vine along a curve: leaves on both sides in turn", function ()
    local list = stones(used("vine_along_a_curve", { line = "30 cm" }))
    local above = share(list, function (one) return one.y < -4 end)
    local below = share(list, function (one) return one.y > 4 end)
    assert.is_true(above > 20 and math.abs(above - below) <= 0.2 * above, above .. " and " .. below)
  end)
  it("even scatter and triple row: what arithmetic gives", function ()
    assert.equal(59 + 2 * 84, #used("triple_row", { line = "300 mm" }))
    local list = stones(used("even_scatter", { within = "rectangle 20 cm x 20 cm", seed = 1 }))
    for i, a in ipairs(list) do
      for k = i + 1, #list do
        assert.is_true((a.x - list[k].x) ^ 2 + (a.y - list[k].y) ^ 2 >= (4.7 + 15 - 0.0003) ^ 2)
      end
    end
  end)
end)
