-- girdle learn: what a log says of the next job, and the one way in which a club's folder is ever changed.
local command = require "tests.command_support"
local run, write, read, rows = command.run, command.write, command.read, command.rows

local function says(text, ...)
  for _, words in ipairs { ... } do
    if not text:find(words, 1, true) then error(("%q is not in:\n%s"):format(words, text), 2) end
  end
end

local head = "date,tag,zone,stone,planned,used,lost,fell_off,minutes\n"
local card = "tag,stone,planned,had,bought,left,evenings\nada,ss20 red,400,52,394,20,3\nada,ss16,900,40,1034,100,\n"
local stock = "stone,on_hand,lot\nss16 clear,3 dozen,spring\nss20 red,30,old\n\nss20 red,30,newer\nss34 clear,12,\n"

-- A club's folder with a log and a stock, and a card outside of it.
local function club()
  local folder = command.folder()
  write(folder .. "/club.csv", "tag,costume,size\n")
  write(folder .. "/log.csv", head .. "2030-01-02,old,neck,ss20,100,100,10,5,20\n")
  write(folder .. "/stock.csv", stock)
  local beside = command.folder() .. "/card.csv"
  write(beside, card)
  return folder, beside
end

-- name -> bytes of everything in a folder.
local function all_of(folder)
  local files = {}
  local pipe = assert(io.popen("ls -A " .. command.quote(folder)))
  for name in pipe:lines() do files[name] = read(folder .. "/" .. name) end
  pipe:close()
  return files
end

local function count(text, what)
  local _, times = text:gsub(what, "")
  return times
end

describe("learn", function()
  after_each(command.sweep)

  it("tells what the next job is likely to take, and which job is unusual", function()
    local folder = command.folder()
    local lines = { head }
    for job, seconds in ipairs { 12, 13, 11, 12.5, 60 } do
      lines[#lines + 1] = ("2030-01-0%d,job %d,neck,ss20,1000,1050,%d,40,%g\n"):format(job, job, 48 + job, seconds * 1050 / 60)
    end
    write(folder .. "/log.csv", table.concat(lines))
    local text, words, status = run("learn", folder)
    assert.equal(0, status, words)
    says(text, "likely between", "19 times in 20", "Unusual: job 'job 5' took 60 s a stone", "neck: 3.8 % fell off",
      "chance of running short", "learned from the log")
    assert.is_nil(text:find("'job 4'", 1, true))
    local json = run("learn", folder, "--json")
    says(json, '"unusual":["job 5"]', '"pace_least_s":', '"taken_most":')
    local row = rows((run("learn", folder, "--csv")))[1]
    assert.is_true(tonumber(row.pace_least_s) < 12 and 60 > tonumber(row.pace_least_s) and tonumber(row.pace_most_s) > 30)
  end)

  it("calls the spares an assumption while there is no log", function()
    says((run("learn", command.folder())), "no log yet", "5 %, an assumption")
  end)

  -- Fills in the sheet's card, whose headings `names` turns into in English, and learns from it with the same `options`.
  local function fill_and_learn(names, ...)
    local folder = command.folder()
    local _, words, status = run("sheet", "recipes/demo", "tag=cleo", "--out", folder, ...)
    assert.equal(0, status, words)
    local page = read(folder .. "/cleo.html")
    local table_of = assert(page:match('<table class="card keep">(.-)</table>'))
    local lines, used = { {} }, 0
    for heading in table_of:match("<thead>(.-)</thead>"):gmatch("<th[ >].-</th>") do
      table.insert(lines[1], heading:match(">(.-)<"))
    end
    local filled = { had = "10", left = "4", evenings = "", date = "2031-01-07" }
    for row in table_of:match("<tbody>(.*)</tbody>"):gmatch("<tr>(.-)</tr>") do
      local line, printed = {}, row:gmatch("<td[^>]*>(.-)</td>")
      for at, heading in ipairs(lines[1]) do
        local cell = printed()
        heading = names[heading] or heading
        line[at] = filled[heading] or (heading == "bought" and "900") or cell
      end
      lines[#lines + 1], used = line, used + 906
    end
    local headings = lines[1]
    for at = 1, #lines do lines[at] = table.concat(lines[at], ",") end
    local beside = command.folder() .. "/card.csv"
    write(beside, table.concat(lines, "\n") .. "\n")
    assert.is_true(#lines > 3)
    write(folder .. "/club.csv", "tag,costume,size\n")
    assert.equal(0, select(3, run("learn", folder, beside, "--write", ...)))
    for _, row in ipairs(rows(read(folder .. "/log.csv"))) do
      assert.equal("cleo", row.tag)
      used = used - tonumber(row.used)
    end
    assert.equal(0, used)
    return table.concat(headings, ",")
  end

  it("reads the card printed on the maker's sheet once it is filled in", function()
    assert.equal("tag,stone,planned,had,bought,left,evenings,date", fill_and_learn {})
  end)

  it("reads a card whose headings are in one's own words", function()
    local folder = command.folder()
    write(folder .. "/own.csv", "english,own\nleft,links\nhad,vorher da\nbought,gekauft\nleft over,Rest\nevenings,Abende\ndate,Datum\n")
    local names = { ["vorher da"] = "had", gekauft = "bought", Rest = "left", Abende = "evenings", Datum = "date" }
    assert.equal("tag,stone,planned,vorher da,gekauft,Rest,Abende,Datum", fill_and_learn(names, "--phrases", folder .. "/own.csv"))
  end)

  it("counts a card and what is remembered without changing anything", function()
    local folder, beside = club()
    local before = all_of(folder)
    says((run("learn", folder, beside, "--today", "2031-03-01")), "2 jobs in the log")
    says((run("learn", folder, "tag=spring", "gross=12 1/2", "hours=9")), "2 jobs in the log")
    assert.same(before, all_of(folder))
  end)

  it("writes a card into the log and what is left into the stock", function()
    local folder, beside = club()
    local before = all_of(folder)
    local _, words, status = run("learn", folder, beside, "--write", "--today", "2031-03-01")
    assert.equal(0, status, words)
    says(words, "log.csv: 2 rows more; stock.csv: 2")
    local after = all_of(folder)
    -- used = had + bought - left, lost what that is beyond the plan; three evenings of two hours by what each used
    assert.equal(before["log.csv"] .. "2031-03-01,ada,,ss20 red,400,426,26,,109.5\n" ..
      "2031-03-01,ada,,ss16,900,974,74,,250.5\n", after["log.csv"])
    assert.equal("stone,on_hand,lot\nss16 clear,0,spring\nss20 red,0,old\n\nss20 red,8,newer\nss34 clear,12,\n" ..
      "ss20 red,20,ada 2031-03-01\nss16,100,ada 2031-03-01\n", after["stock.csv"])
    assert.equal(before["log.csv"], after["log.csv.bak"])
    assert.equal(before["stock.csv"], after["stock.csv.bak"])
    assert.equal(before["club.csv"], after["club.csv"])
    for name in pairs(after) do assert.is_truthy(before[name] or name:find "%.bak$", name) end
    says((run("learn", folder)), "2 jobs in the log")
  end)

  it("writes nothing twice", function()
    local folder, beside = club()
    run("learn", folder, beside, "--write", "--today", "2031-03-01")
    local once = all_of(folder)
    local _, words, status = run("learn", folder, beside, "--write", "--today", "2031-03-01")
    assert.equal(1, status)
    says(words, "already")
    assert.same(once, all_of(folder))
  end)

  it("writes as the table is written: its columns, semicolons and line ends", function()
    local folder, beside = club()
    write(folder .. "/log.csv", "tag;date;stone;lost;used\r\nold;2030-01-02;ss20;1;100")
    run("learn", folder, beside, "--write", "--today", "2031-03-01")
    assert.equal("tag;date;stone;lost;used\r\nold;2030-01-02;ss20;1;100\r\n" ..
      "ada;2031-03-01;ss20 red;26;426\r\nada;2031-03-01;ss16;74;974\r\n", read(folder .. "/log.csv"))
  end)

  it("makes the tables when there are none, and remembers a job of old", function()
    local folder = command.folder()
    local _, words, status = run("learn", folder, "tag=spring", "gross=12 1/2", "hours=9", "--write", "--today", "2031-03-01")
    assert.equal(0, status, words)
    assert.same({ ["log.csv"] = head .. "2031-03-01,spring,,,,1800,,,540\n" }, all_of(folder))
    says((run("learn", folder)), "18 s a stone")
    assert.equal(2, select(3, run("learn", folder, "--write")))
    assert.equal(2, select(3, run("learn", folder, "gross=3", "--write")))
  end)

  it("names what is wrong with a card, and changes nothing then", function()
    local folder, beside = club()
    local before = all_of(folder)
    for text, expected in pairs {
      ["tag,stone,planned,had,bought\na,ss20,1,1,1\n"] = "no column 'left'",
      ["tag,stone,planned,had,bought,left\na,ss20,1,1,1,9\n"] = "left",
      ["tag,stone,planned,had,bought,left\na,ss20,1,,1,0\n"] = "'had' is empty",
      ["tag,stone,planned,had,bought,left\na,ss2o,1,1,1,0\n"] = "card.csv:2",
      ["tag,stone,planned,had,bought,left,colr\na,ss20,1,1,1,0,\n"] = "unknown column 'colr'",
      ["tag,stone,planned,had,bought,left,minutes,evenings\na,ss20,1,1,1,0,5,1\n"] = "not both",
      ["tag,stone,planned,had,bought,left\n"] = "no row" } do
      write(beside, text)
      local _, words, status = run("learn", folder, beside, "--write")
      assert.equal(1, status, text)
      says(words, expected)
    end
    write(beside, card)
    write(folder .. "/stock.csv", "stone,on_hand\nss20,12\n")
    before["stock.csv"] = "stone,on_hand\nss20,12\n"
    says((select(2, run("learn", folder, beside, "--write"))), "no column 'lot'")
    assert.same(before, all_of(folder))
  end)

  it("loses no row when several write at once", function()
    local folder = club()
    local jobs = {}
    for job = 1, 12 do
      jobs[job] = ("%s learn %s tag=job-%d gross=%d --write --quiet --today 2031-03-01 >/dev/null &"):format(
        command.quote(command.girdle), command.quote(folder), job, job)
    end
    command.shell(table.concat(jobs, " ") .. " wait")
    local log = read(folder .. "/log.csv")
    assert.equal(14, count(log, "\n"))
    for job = 1, 12 do assert.equal(1, count(log, ("job%%-%d,"):format(job))) end
  end)

  it("leaves whole tables when it is killed, and finishes when it is run again", function()
    for run_number = 1, 12 do
      local folder, beside = club()
      local before = all_of(folder)
      local line = ("timeout -s KILL %.4f %s learn %s %s --write --quiet --today 2031-03-01 >/dev/null"):format(
        0.0008 * run_number, command.quote(command.girdle), command.quote(folder), command.quote(beside))
      command.shell("sh -c " .. command.quote(line) .. " 2>/dev/null")
      local log = read(folder .. "/log.csv")
      assert.is_true(log == before["log.csv"] or count(log, "ada") == 2, log)
      local there = read(folder .. "/stock.csv")
      assert.is_true(there == before["stock.csv"] or count(there, "ada") == 2, there)
      run("learn", folder, beside, "--write", "--today", "2031-03-01")
      assert.equal(2, count(read(folder .. "/log.csv"), "ada"))
      assert.equal(2, count(read(folder .. "/stock.csv"), "ada"))
      assert.equal(1, count(read(folder .. "/stock.csv"), "ss20 red,8,newer"))
    end
  end)
end)
