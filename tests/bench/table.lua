-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- The rows that the benchmarks left in BUILD/bench.csv as one table, and which of them fall short of their goal.
-- usage: lua5.4 tests/bench/table.lua begin | end

local path = (os.getenv "BUILD" or "build") .. "/bench.csv"
local head = "work,figure,unit,peer,peer figure,ratio,goal ratio,goal,worst error,growth exponent,goal is"

-- What the library takes on a disk, without what only a debugger reads.
local function size_row(goal_kib)
  local library, stripped = path:gsub("bench.csv$", "libgirdle.so"), path:gsub("bench.csv$", "stripped.so")
  if not os.execute(("strip -o '%s' '%s' 2>/dev/null"):format(stripped, library)) then return "" end
  local file = assert(io.open(stripped, "rb"))
  local kib = file:seek "end" // 1024
  file:close()
  os.remove(stripped)
  return ('"libgirdle.so, stripped",%d,KiB,,,,,%d,,,%s\n'):format(kib, goal_kib, kib <= goal_kib and "reached" or "short")
end

if arg[1] == "begin" then
  local file = assert(io.open(path, "w"))
  file:write(head, "\n", size_row(256))
  file:close()
  return
end

-- A row's cells, some of them in quotes.
local function cells(line)
  local found, at = {}, 1
  while at <= #line + 1 do
    local quoted, after = line:match('^"([^"]*)",?()', at)
    local plain, next_at = line:match("^([^,]*),?()", at)
    found[#found + 1] = quoted or plain
    at = after or next_at
    if at == #line + 1 and line:sub(-1) ~= "," then break end
  end
  return found
end

local form = "%-46s %10s %-12s %-34s %10s %8s %8s %8s %9s %6s  %s"
local short = {}
print(form:format("work", "figure", "", "peer of the same run", "", "ratio", "goal x", "goal", "error", "growth", ""))
local first = true
for line in io.lines(path) do
  if not first then
    local row = cells(line)
    print((form:format(table.unpack(row, 1, 11))))
    if row[11] == "short" then short[#short + 1] = row[1] end
  end
  first = false
end
if #short == 0 then print "every row reaches its goal" else print("short of the goal: " .. table.concat(short, "; ")) end
