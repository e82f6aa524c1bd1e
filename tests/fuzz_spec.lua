-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- Ten seconds of hostile input for each reader and verb, by clang's fuzzer; `make fuzz` goes on for a million runs.
local build = os.getenv "BUILD" or "build"
local folder = build .. "/fuzzing"

local function names()
  local found = {}
  for line in io.popen("ls tests/fuzz/fuzz_*.c"):lines() do found[#found + 1] = line:match "fuzz_(%l+)%.c" end
  return found
end

local function file_at(path)
  local file = io.open(path)
  local text = file and file:read "a"
  if file then file:close() end
  return text
end

describe("fuzz", function()
  local ran, answers
  setup(function()
    ran = os.execute(("[ -x %s/fuzzers/fuzz_path ]"):format(folder))
    if not ran then return end
    local out = io.popen(("tests/fuzz/run %s -max_total_time=10 2>&1"):format(folder))
    answers = out:read "a"
    out:close()
  end)
  for _, name in ipairs(names()) do
    it("finds nothing in ten seconds with " .. name, function()
      if not ran then return pending "clang's fuzzer is not here" end
      assert.is_truthy(answers:find("ok - fuzz " .. name .. ":", 1, true) and not answers:find("not ok - fuzz " .. name .. "\n", 1, true),
        file_at(folder .. "/status/" .. name .. ".log") or answers)
    end)
  end
end)
