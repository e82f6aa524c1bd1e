-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- The rows that the benchmarks left in BUILD/bench.csv as one table, and which of them fall short of their goal.
-- usage: lua5.4 tests/bench/table.lua begin | end

local path = (os.getenv "BUILD" or "build") .. "/bench.csv"
local head = "work,figure,unit,peer,peer figure,ratio,goal ratio,goal,worst error,growth exponent,goal is"

if arg[1] == "begin" then
  local file = assert(io.open(path, "w"))
  file:write(head, "\n")
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
