-- girdle lines: one JSON job a line in, one JSON answer a line out.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local json = require "dkjson"
local write, read, shell = command.write, command.read, command.shell

teardown(command.sweep)

local function lines(jobs, ...)
  local file = command.folder() .. "/jobs"
  write(file, jobs)
  local words = { command.quote(command.girdle), "lines" }
  for _, word in ipairs { ... } do words[#words + 1] = command.quote(word) end
  return shell(table.concat(words, " ") .. " <" .. file)
end

local function many(count)
  local jobs = {}
  for at = 1, count do
    jobs[at] = ('{"tag":"t%d","zones":[{"zone":"neckline","shape":"loop","length":"%d mm","recipe":"double row"},' ..
      '{"zone":"front","shape":"oval","length":"%d mm","width":"60 mm","recipe":"even scatter","gap":"3 mm"}]}')
      :format(at, 400 + at, 80 + at % 40)
  end
  return table.concat(jobs, "\n") .. "\n"
end

local schema = json.decode(assert(read "bindings/command/lines.schema.json"))
local function misfit(value, rule, where)
  return require "schema_support".misfit(schema, value, rule, where)
end

describe("the schema of lines", function()
  it("fits what is answered, to sound lines and to wrong ones", function()
    local printed = lines(many(3) .. '{"recipe":"alternatng line"}\nnot json\n' ..
      '{"tag":"x","zones":[{"zone":"n","shape":"loop","length":"nekc","recipe":"double row"}],"measures":{"neck":"1 m"}}\n' ..
      '{"recipe":"double row","given":{"line":"5 cm"},"places":true}\n')
    local seen = 0
    for line in printed:gmatch "[^\n]+" do
      seen = seen + 1
      assert.is_nil(misfit(json.decode(line), { ["$ref"] = "answer" }, "answer"))
    end
    assert.equal(7, seen)
  end)

  it("names only fields that a job and a zone may have", function()
    for name in pairs(schema["$defs"].job.properties) do
      local printed = lines('{"' .. name .. '":[]}\n')
      assert.is_falsy(printed:find("unknown field", 1, true), printed)
    end
    for name in pairs(schema["$defs"].zone.properties) do
      local printed = lines('{"zones":[{"' .. name .. '":[]}]}\n')
      assert.is_falsy(printed:find("unknown field", 1, true), printed)
    end
  end)
end)

describe("lines", function()
  it("answers a recipe as count does", function()
    local printed, words, status = lines '{"tag":"a","recipe":"alternating line","given":{"line":"300 mm"}}'
    assert.equal(0, status, words)
    assert.is_truthy(printed:find('^{"tag":"a","stones":59,'), printed)
    assert.is_truthy(printed:find('{"zone":"alternating line","side":"","stone":"ss20 black","count":30}', 1, true), printed)
  end)

  it("answers the example of its manual page", function()
    local example = read "bindings/command/girdle-lines.5":match "\necho '([^\n]+)' | girdle lines\n"
    assert.is_truthy(lines(example .. "\n"):find('^{"tag":"ada","stones":%d+,'))
  end)

  it("answers zones with measures, pairs and stones by eye", function()
    local printed, words, status = lines('{"tag":"a","measures":{"wrist":"14 cm"},"zones":[' ..
      '{"zone":"cuff","pair":true,"shape":"loop","length":"wrist","recipe":"alternating line"},' ..
      '{"zone":"back","already":"2 gross ss16 clear"}]}')
    assert.equal(0, status, words)
    local left = printed:match '"zone":"cuff","side":"left","stone":"ss20 black","count":(%d+)'
    assert.equal(left, printed:match '"zone":"cuff","side":"right","stone":"ss20 black","count":(%d+)')
    assert.is_truthy(printed:find('"zone":"back","side":"","stone":"ss16 clear","count":288', 1, true), printed)
  end)

  it("answers a costume of a folder in a size, as the club does", function()
    local printed, words, status = lines('{"tag":"dara","costume":"tide","size":"S"}', "recipes/demo")
    assert.equal(0, status, words)
    local club, sum = command.run("count", "recipes/demo", "tag=dara", "--csv"), 0
    for _, row in ipairs(command.rows(club)) do sum = sum + (row.tag == "dara" and tonumber(row.count) or 0) end
    assert.equal(tostring(sum), printed:match '"stones":(%d+)')
  end)

  it("answers with every stone's place when asked to", function()
    local printed = lines '{"tag":"a","recipe":"alternating line","given":{"line":"300 mm"},"places":true}'
    local answer = json.decode(printed)
    assert.equal(answer.stones, #answer.zones[1].places)
    local from_map = command.rows((command.run("map", "alternating line", "line=300 mm", "--csv")))
    for at, place in ipairs(answer.zones[1].places) do
      assert.equal(tonumber(from_map[at].x_mm), place[1])
      assert.equal(from_map[at].stone, answer.zones[1].stones[place[4] + 1].stone)
    end
  end)

  it("answers with what a costume costs alone, as cost says it", function()
    local printed, words, status = lines('{"costume":"tide","size":"M","cost":true}', "recipes/demo")
    assert.equal(0, status, words)
    local cost = json.decode(printed).cost
    assert.is_nil(misfit(json.decode(printed), { ["$ref"] = "answer" }, "answer"))
    assert.is_true(cost.complete)
    local text = command.run("cost", "recipes/demo/tide", "bust=74 cm", "waist=60 cm", "hips=78 cm", "neckline=52 cm",
      "wrist=14 cm", "leg opening=46 cm")
    local price = text:match "Price%s+EUR%s+([%d.]+)"
    assert.equal(price, ("%d.%02d"):format(cost.price_minor // 100, cost.price_minor % 100))
    assert.is_false(json.decode((lines '{"recipe":"alternating line","given":{"line":"1 m"},"cost":true}')).cost.complete)
  end)

  it("answers a bad line with its number and goes on", function()
    local good = '{"recipe":"alternating line","given":{"line":"300 mm"}}\n'
    local printed, words, status = lines(good .. '{"recipe":\n' .. good .. '\n{"tga":"x"}\n' .. good)
    assert.equal(1, status)
    assert.is_truthy(words:find("2 of", 1, true), words)
    local answers = {}
    for line in printed:gmatch "[^\n]+" do answers[#answers + 1] = line end
    assert.equal(5, #answers)
    assert.is_truthy(answers[2]:find('^{"line":2,"error"'), answers[2])
    assert.is_truthy(answers[4]:find('^{"line":5,"error"'), answers[4])
    assert.is_truthy(answers[4]:find('"nearest":"tag"', 1, true), answers[4])
    assert.equal(answers[1], answers[3])
    assert.equal(answers[1], answers[5])
  end)

  local mistakes = {
    { "an unknown recipe", '{"recipe":"alternatng line"}', "alternating line" },
    { "a length with no unit", '{"recipe":"alternating line","given":{"line":"32"}}', "32" },
    { "a number for a text", '{"recipe":"alternating line","given":{"line":32}}', "text" },
    { "an unknown costume", '{"costume":"tied"}', "tide" },
    { "a path for a costume", '{"costume":"../demo/tide"}', "../demo/tide" },
    { "two works at once", '{"costume":"tide","recipe":"even scatter"}', "one of them" },
    { "no work", '{"tag":"x"}', "one of them" },
    { "a measure with no unit", '{"costume":"tide","measures":{"waist":"62"}}', "62" },
    { "an unknown size", '{"costume":"tide","size":"XXS"}', "XXS" },
    { "a day in another order", '{"costume":"tide","needed_by":"03/04/2031"}', "2031" },
    { "something else than an object", "[1,2]", "object" },
    { "a name twice", '{"tag":"a","tag":"b"}', "JSON" },
    { "a text with a NUL", '{"tag":"a\\u0000b","recipe":"even scatter"}', "JSON" },
    { "an unknown field of a zone", '{"zones":[{"zone":"a","shpae":"loop"}]}', "shape" },
    { "a zone worked half a time", '{"zones":[{"zone":"a","times":0.5,"already":"3 ss20"}]}', "whole number" },
  }
  for _, mistake in ipairs(mistakes) do
    it("answers " .. mistake[1] .. " with an error", function()
      local printed, words, status = lines(mistake[2] .. "\n", "recipes/demo")
      assert.equal(1, status, words)
      assert.is_truthy(printed:find('"error":{"kind":"', 1, true), printed)
      assert.is_truthy(printed:find(mistake[3], 1, true), printed)
    end)
  end

  it("answers a line that is too long, and the next one", function()
    local printed, _, status = lines('{"tag":"' .. ("x"):rep(2000000) .. '"}\n{"recipe":"alternating line","given":{"line":"1 cm"}}\n')
    assert.equal(1, status)
    assert.is_truthy(printed:find('"error"', 1, true))
    assert.is_truthy(printed:find('"tag":"job","stones":', 1, true), printed:sub(-300))
  end)

  it("answers a line that is much too long once, and counts it as one", function()
    local sound = '{"recipe":"alternating line","given":{"line":"1 cm"}}\n'
    for _, bytes in ipairs { 1048577, 1048578, 3500000 } do
      local printed, _, status = lines(sound .. ("x"):rep(bytes) .. "\n" .. "not json\n")
      assert.equal(1, status)
      assert.equal(3, select(2, printed:gsub("\n", "")), printed)
      assert.is_truthy(printed:find('\n{"line":2,"error":{"kind":"over a limit"', 1, true), printed)
      assert.is_truthy(printed:find('\n{"line":3,', 1, true), printed)
    end
    local printed = lines(("x"):rep(3500000))
    assert.equal(1, select(2, printed:gsub("\n", "")), printed)
  end)

  it("takes a line of just 1 MiB, whatever ends it", function()
    local job = '{"recipe":"alternating line","given":{"line":"1 cm"}}'
    for _, ending in ipairs { "\n", "\r\n" } do
      local printed, words, status = lines(job .. (" "):rep(1048576 - #job) .. ending .. job .. "\n")
      assert.equal(0, status, words)
      assert.equal(2, select(2, printed:gsub("\n", "")), printed)
    end
  end)

  it("gives the same bytes for any number of workers", function()
    local jobs = many(60)
    local first, words, status = lines(jobs, "--workers", "1")
    assert.equal(0, status, words)
    assert.equal(60, select(2, first:gsub("\n", "")))
    assert.equal(first, (lines(jobs, "--workers", "2")))
    assert.equal(first, (lines(jobs, "--workers", "7")))
  end)

  it("gives the same bytes when a stream is spread over several processes", function()
    if not os.execute "command -v parallel >/dev/null 2>&1" then return pending "GNU parallel is not here" end
    local file = command.folder() .. "/jobs"
    write(file, many(60))
    local alone = shell(command.girdle .. " lines <" .. file)
    local spread, words = shell(("parallel --will-cite --pipe -k -N 7 -j 2 %s lines --workers 1 <%s"):format(command.girdle, file))
    assert.equal(alone, spread, words)
  end)

  it("answers each line as soon as it can", function()
    local folder = command.folder()
    os.execute("mkfifo " .. folder .. "/in")
    -- the second job is only written once the first answer has been read
    local printed = shell(([[%s lines --workers 2 <%s/in >%s/out & exec 3>%s/in
      echo '{"recipe":"alternating line","given":{"line":"10 cm"}}' >&3
      for wait in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20; do [ -s %s/out ] && break; sleep 0.1; done
      cat %s/out; echo --; exec 3>&-; wait]]):format(command.girdle, folder, folder, folder, folder, folder))
    assert.is_truthy(printed:find '^{"tag":"job".*%-%-', printed)
  end)
end)
