-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- Do the tests notice? Changes one comparison, constant or sign of lib/ at a time, chosen by seed, and runs the tests of
-- that room. A mutant that no test notices survives and must be killed by a better test, or explained in
-- tests/mutants_explained.txt by its line "FILE: the changed line, trimmed".
-- usage: lua5.4 tests/mutants.lua [COUNT [SEED [FILE-PATTERN]]]; BUILD is where the tests were built.

local count = tonumber(arg[1] or "500")
local seed = tonumber(arg[2] or "1")
local pattern = arg[3] or "."
local build = os.getenv "BUILD" or "build"
local cc = os.getenv "CC" or "cc"
local folder = build .. "/mutants"
io.stdout:setvbuf "line" -- survivors are seen while it runs

local swaps = {
  { "<=", "<" }, { ">=", ">" }, { "==", "!=" }, { "!=", "==" }, { "&&", "||" }, { "||", "&&" },
  { " < ", " <= " }, { " > ", " >= " }, { " + ", " - " }, { " - ", " + " }, { " += ", " -= " }, { " -= ", " += " },
  { " * ", " / " },
}

local function lines_of(command)
  local lines = {}
  for line in assert(io.popen(command)):lines() do lines[#lines + 1] = line end
  return lines
end

local function read_lines(path)
  local lines = {}
  for line in io.lines(path) do lines[#lines + 1] = line end
  return lines
end

-- Code alone: strings, character constants and comments become blanks of the same length.
local function code_of(line, inside)
  local blank = function(text) return (" "):rep(#text) end
  if inside then
    local _, stop = line:find("*/", 1, true)
    if not stop then return blank(line), true end
    line = blank(line:sub(1, stop)) .. line:sub(stop + 1)
  end
  line = line:gsub('"[^"\\]*(\\.[^"\\]*)*"', blank):gsub('"[^"]*"', blank):gsub("'[^']*'", blank):gsub("//.*", blank)
  line = line:gsub("/%*.-%*/", blank)
  local start = line:find("/*", 1, true)
  if start then return line:sub(1, start - 1), true end
  return line, false
end

local function add_swaps(points, file, number, line, code)
  for _, swap in ipairs(swaps) do
    local at = 1
    while true do
      local from, to = code:find(swap[1], at, true)
      if not from then break end
      local alone = #swap[1] > 2 or not code:sub(from - 1, from - 1):match "[<>=!&|]" and not code:sub(to + 1, to + 1):match "[=&|<>]"
      if alone then
        points[#points + 1] = { file = file, number = number, text = line:sub(1, from - 1) .. swap[2] .. line:sub(to + 1) }
      end
      at = to + 1
    end
  end
end

local function add_constants(points, file, number, line, code)
  for from, digits, to in code:gmatch "()%f[%w_.](%d+)%f[^%w.]()" do
    local changed = tostring(math.tointeger(tonumber(digits)) + 1)
    points[#points + 1] = { file = file, number = number, text = line:sub(1, from - 1) .. changed .. line:sub(to) }
  end
end

local function points_of(file)
  local points, inside = {}, false
  for number, line in ipairs(read_lines(file)) do
    local code
    code, inside = code_of(line, inside)
    if not code:match "^%s*#" and not code:match "^static const" and not code:match "GIRDLE_NEVER" and not code:match "^%s*{" then
      add_swaps(points, file, number, line, code)
      add_constants(points, file, number, line, code)
    end
  end
  return points
end

-- The rooms whose tests look at a file: common ground is looked at by the tests of base.
local function room_of(file)
  local room = file:match "lib/paper/" and "paper" or file:match "lib/(%l+)"
  return (room == "common" or room == "sort") and "base" or room
end

local function shared_head(a, b)
  local length = 0
  while length < #a and a:byte(length + 1) == b:byte(length + 1) do length = length + 1 end
  return length
end

local function libraries_of(source)
  local needs = lines_of(("sed -n '1,6s|^/\\* needs: *\\(.*[^ ]\\) *\\*/$|\\1|p' %s"):format(source))[1] or ""
  return ((" " .. needs):gsub("%s[^-%s]%S*", ""))
end

local function test_of(name)
  local source = "tests/" .. name:sub(#build + 8) .. ".c"
  return { object = name .. ".mutants.o", program = name, source = source, libraries = libraries_of(source) }
end

-- The tests of a file's room, the likeliest to notice first: those whose names begin as the file's does.
local function tests_of(file)
  local room, stem, tests = room_of(file), file:match "([%l_]+)%.c$", {}
  local listing = ("ls %s/tests/test_%s* %s/tests/reference/test_reference_%s* 2>/dev/null"):format(build, room, build, room)
  for _, name in ipairs(lines_of(listing)) do
    if not name:match "%.%l+$" then tests[#tests + 1] = test_of(name) end
  end
  local near = function(test) return shared_head(test.source:match "test_([%l_]+)%.c$", stem) end
  table.sort(tests, function(a, b) return near(a) > near(b) or near(a) == near(b) and a.source < b.source end)
  return tests
end

local kept = {}
local function tests_kept(file)
  kept[file] = kept[file] or tests_of(file)
  return kept[file]
end

-- One shell line that builds the mutant and each test of its room with it; it fails when a test does. A test's own
-- object is compiled anew when make has built the test again since.
local function command_of(point, work)
  local parts = { ("%s -std=c11 -ffp-contract=off -O1 -w -fsanitize=address,undefined -fno-sanitize-recover=all -Iinclude -Ilib -Ilib/paper -c -o %s/mutant.o %s/mutant.c"):format(cc, work, work) }
  parts[1] = "{ " .. parts[1] .. " || exit 100; }"
  for _, test in ipairs(tests_kept(point.file)) do
    parts[#parts + 1] = ("{ [ %s -nt %s ] || %s -std=c11 -D_POSIX_C_SOURCE=200809L -O1 -w -Iinclude -Ilib -Ilib/paper -Itests -c -o %s %s; }")
      :format(test.object, test.program, cc, test.object, test.source)
    parts[#parts + 1] = ("%s -fsanitize=address,undefined -o %s/test %s %s/mutant.o %s/libgirdle-paper.a %s/libgirdle.a -lexpat -lhpdf -ljansson -lcmocka %s -lm 2>%s/link")
      :format(cc, work, test.object, work, build, build, test.libraries, work)
    parts[#parts + 1] = ("timeout 60 %s/test >/dev/null 2>&1"):format(work)
  end
  return table.concat(parts, " && ")
end

local function explained()
  local known = {}
  local file = io.open "tests/mutants_explained.txt"
  if not file then return known end
  for line in file:lines() do known[line] = true end
  file:close()
  return known
end

local function try(point, work)
  local lines = read_lines(point.file)
  lines[point.number] = point.text
  local file = assert(io.open(work .. "/mutant.c", "wb"))
  file:write('#line 1 "', point.file, '"\n', table.concat(lines, "\n"), "\n")
  file:close()
  local _, _, status = os.execute("( " .. command_of(point, work) .. " )")
  return status == 100 and "does not compile" or status == 0 and "survived" or "killed"
end

local points = {}
for _, file in ipairs(lines_of "ls lib/*.c lib/paper/*.c 2>/dev/null") do
  if file:match(pattern) then table.move(points_of(file), 1, #points_of(file), #points + 1, points) end
end
math.randomseed(seed)
for i = #points, 2, -1 do
  local j = math.random(i)
  points[i], points[j] = points[j], points[i]
end

os.execute("mkdir -p " .. folder)
local known, tried, tally = explained(), 0, { killed = 0, survived = 0, explained = 0 }
for _, point in ipairs(points) do
  if tried == count then break end
  local result = try(point, folder)
  local line = point.file .. ": " .. point.text:match "^%s*(.-)%s*$"
  if result == "survived" and known[line] then result = "explained" end
  if result ~= "does not compile" then
    tried = tried + 1
    tally[result] = tally[result] + 1
    if result == "survived" then print(("survived %s:%d: %s"):format(point.file, point.number, point.text:match "^%s*(.-)%s*$")) end
  end
end
print(("%d mutants of %d places: %d killed, %d explained, %d survived (%.1f %% killed)"):format(
  tried, #points, tally.killed, tally.explained, tally.survived, tally.killed / math.max(tried, 1) * 100))
os.exit(tally.survived == 0)
