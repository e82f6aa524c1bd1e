-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- Does the stream of jobs last? Sends a million lines, one in a hundred hostile, through `girdle lines`, and holds each
-- answer against what the same job answers alone. Watches how much memory the program and its workers hold, and kills
-- a worker on the way. usage: lua5.4 tests/endurance.lua [LINES [WORKERS]]; BUILD is where the program was built.

local build = os.getenv "BUILD" or "build"
local role, count, workers = "lead", tonumber(arg[1] or "1000000"), tonumber(arg[2] or "2")
if arg[1] == "write" or arg[1] == "check" then role, count = arg[1], tonumber(arg[2]) end
local folder = arg[3] or os.tmpname() .. ".d"

-- Sound jobs, of few stones so that many can be sent; with their answers they are what is compared.
local function sound_jobs()
  local jobs = {}
  for at = 1, 40 do
    jobs[#jobs + 1] = ('{"tag":"a%d","recipe":"double row","given":{"line":"%d mm"}}'):format(at, 60 + at)
    jobs[#jobs + 1] = ('{"tag":"b%d","zones":[{"zone":"neck","shape":"loop","length":"neckline","recipe":"alternating line"}],"measures":{"neckline":"%d mm"}}')
      :format(at, 200 + 3 * at)
    jobs[#jobs + 1] = ('{"tag":"c%d","recipe":"alternating line","given":{"line":"%d mm"},"places":true}'):format(at, 40 + at)
  end
  return jobs
end

local function hostile_jobs()
  local deep = ("["):rep(5000)
  return { "not json", "{", deep, '{"a":' .. deep, '{"recipe":"alternatng line"}', "\0\1\2", '{"recipe":7}', '"text"',
    '{"recipe":"double row","given":{"line":"1e300 m"}}', '{"recipe":"double row","given":{"line":"0,5 cm"}}',
    '{"tag":"' .. ("x"):rep(9000) .. '","recipe":"double row"}', '{"recipe":"even scatter","given":{"area":"oval 900 m x 900 m","gap":"0.01 mm"}}',
    '{"zones":[{"zone":"n","shape":"loop","length":"nekc","recipe":"double row"}],"measures":{"neck":"1 m"}}',
    '{"zones":{}}', '{"recipe":"double row","recipe":"double row"}', '{"recipe":"../../etc/passwd"}', "\xff\xfe{}" }
end

-- Which job stands on a line: the same for writer and checker, and for each run.
local function chosen(number)
  local mixed = (number * 2654435761) % 4294967296
  if mixed % 100 == 7 then return "hostile", mixed // 100 end
  return "sound", mixed // 100
end

-- Where an answer names its line the number is left open.
local function open_line(answer) return (answer:gsub('^{"line":%d+', '{"line":0', 1)) end

local function shell(line) return os.execute(line) end

local function answers_alone(jobs)
  local answers = {}
  for at, job in ipairs(jobs) do
    local file = assert(io.open(folder .. "/job", "wb"))
    file:write(job, "\n")
    file:close()
    local out = io.popen(("%s/girdle lines --workers 1 <%s/job 2>/dev/null"):format(build, folder))
    answers[at] = open_line(out:read "a":gsub("\n$", ""))
    out:close()
  end
  return answers
end

local function write_lines()
  local kinds = { sound = sound_jobs(), hostile = hostile_jobs() }
  for number = 1, count do
    local kind, which = chosen(number)
    io.write(kinds[kind][which % #kinds[kind] + 1], "\n")
  end
end

local function first_line(path)
  local file = io.open(path)
  local line = file and file:read "l"
  if file then file:close() end
  return line
end

local function children_of(id)
  local found = {}
  for child in (first_line(("/proc/%d/task/%d/children"):format(id, id)) or ""):gmatch "%d+" do found[#found + 1] = tonumber(child) end
  return found
end

local function resident_kib(id)
  local file = io.open(("/proc/%d/status"):format(id))
  local text = file and file:read "a" or ""
  if file then file:close() end
  return tonumber(text:match "VmRSS:%s*(%d+)") or 0
end

local function watch(number, seen)
  local id = tonumber(first_line(folder .. "/id"))
  local total = resident_kib(id)
  for _, child in ipairs(children_of(id)) do total = total + resident_kib(child) end
  io.stderr:write(("line %7d: %d KiB resident in the program, %d KiB with its workers\n"):format(number, resident_kib(id), total))
  seen[#seen + 1] = { number = number, own = resident_kib(id), total = total }
end

local function kill_a_worker()
  local id = tonumber(first_line(folder .. "/id"))
  local victim = children_of(id)[1]
  if victim then shell(("kill -9 %d"):format(victim)) end
  io.stderr:write(victim and "a worker was killed\n" or "there was no worker to be killed\n")
end

local function load_answers(name)
  local answers = {}
  for line in io.lines(folder .. "/" .. name) do answers[#answers + 1] = line end
  return answers
end

local function check_lines()
  local right = { sound = load_answers "sound", hostile = load_answers "hostile" }
  local number, wrong, seen = 0, 0, {}
  for answer in io.lines() do
    number = number + 1
    local kind, which = chosen(number)
    local expected = right[kind][which % #right[kind] + 1]
    local said = tonumber(answer:match '^{"line":(%d+)')
    if open_line(answer) ~= expected or said and said ~= number then
      wrong = wrong + 1
      if wrong <= 5 then io.stderr:write(("line %d: %s\n  instead of %s\n"):format(number, answer:sub(1, 300), expected:sub(1, 300))) end
    end
    if number == count // 2 then kill_a_worker() end
    if number % (count // 10) == 0 and number < count then watch(number, seen) end
  end
  local grown = seen[#seen].own - seen[1].own
  print(("%d lines answered of %d, %d wrong; the program grew by %d KiB from line %d to line %d, with its workers by %d KiB")
    :format(number, count, wrong, grown, seen[1].number, seen[#seen].number, seen[#seen].total - seen[1].total))
  os.exit(number == count and wrong == 0 and grown < 1024)
end

local function save(name, answers)
  local file = assert(io.open(folder .. "/" .. name, "wb"))
  file:write(table.concat(answers, "\n"), "\n")
  file:close()
end

local function lead()
  shell("mkdir -p " .. folder)
  save("sound", answers_alone(sound_jobs()))
  save("hostile", answers_alone(hostile_jobs()))
  local began = os.time()
  local done = shell(("lua5.4 tests/endurance.lua write %d %s | sh -c 'echo $$ >%s/id; exec %s/girdle lines --workers %d' 2>%s/said | lua5.4 tests/endurance.lua check %d %s")
    :format(count, folder, folder, build, workers, folder, count, folder))
  print(("%d s"):format(os.time() - began))
  shell("rm -rf " .. folder)
  os.exit(done)
end

if role == "write" then write_lines() elseif role == "check" then check_lines() else lead() end
