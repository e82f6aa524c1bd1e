-- What happens to a run outside the program: a full disk, a closed pipe, files that cannot be read, writes cut short, the
-- interrupt key, a killed process. Whatever it is, no file is ever half written, the status says what happened, and the same
-- command succeeds afterwards.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local quote, read, write, shell = command.quote, command.read, command.write, command.shell

local there

-- A club of one, whose costume can be told to never end.
local function club()
  local folder = command.folder()
  assert(os.execute("mkdir " .. folder .. "/dress"))
  write(folder .. "/club.csv", "tag,costume,needed_by,neckline\nada,dress,2031-06-01,47 cm\n")
  write(folder .. "/suppliers.csv", "supplier,currency\nAlder,EUR\n")
  write(folder .. "/prices.csv", "supplier,stone,pack,price\nAlder,ss20 red,1 gross,6.00\nAlder,ss16 clear,1 gross,4.00\n")
  write(folder .. "/stock.csv", "stone,on_hand\nss20 red,10\n")
  write(folder .. "/rates.csv", "rate,value\nspares,5 %\n")
  write(folder .. "/log.csv", "date,tag,zone,stone,planned,used,lost,fell_off,minutes\n2030-01-02,ada,neck,ss20 red,100,100,3,1,40\n")
  write(folder .. "/dress/zones.csv", "zone,side,shape,length,recipe,stones,gap,alike\nneck,front,loop,neckline,alternating line,ss20 red; ss16 clear,1 mm,count\n")
  write(folder .. "/answers", "\nmedium\nss20 red\n\n2 mm\nstrap\n34 cm\n\n\n")
  return folder
end

-- Each command that writes, in a club's folder C and into O.
local commands = {
  count = "count C --out O", cost = "cost C --out O", order = "order C --out O", map = "map C --out O",
  sheet = "sheet C --today 2031-01-06 --out O", club = "club C --today 2031-01-06 --out O",
  plan = "plan C/dress neckline='47 cm' pieces=30 --out O", offer = "offer C/dress neckline='47 cm' --prices C --today 2031-01-06 --out O",
  weigh = "weigh C --out O", alike = "alike C --out O", compare = "compare C C --today 2031-01-06 --out O", tables = "tables --out O",
  ask = "ask C/answers --out O", recipes = "recipes --out O", phrases = "phrases --out O",
  opening = "opening C head='57 cm' stretch='60 %' --out O", learn = "learn C --out O",
}
local names = {}
for name in pairs(commands) do names[#names + 1] = name end
table.sort(names)

local function line_of(name, folder, out)
  local line = commands[name]:gsub("%f[%w]C%f[%W]", (folder:gsub("%%", "%%%%"))):gsub("%f[%w]O%f[%W]", (out:gsub("%%", "%%%%")))
  return quote(command.girdle) .. " " .. line
end

-- All files below a folder and what is in them.
local function contents(folder)
  local files = {}
  for path in (shell(("cd %s 2>/dev/null && find . -type f | LC_ALL=C sort"):format(quote(folder)))):gmatch "[^\n]+" do
    files[path] = read(folder .. "/" .. path)
  end
  return files
end

-- What a command writes when nothing happens.
local function whole(name)
  there[name] = there[name] or (function()
    local out = command.folder() .. "/out"
    local _, words, status = shell(line_of(name, there.folder, out))
    assert(status == 0, name .. ": " .. words)
    local files = contents(out)
    assert(next(files), name .. " wrote nothing")
    return files
  end)()
  return there[name]
end

local function plain(files)
  local same = {}
  for path, text in pairs(files) do -- a folder's name stands in what ask says next and in titles of plans
    same[path] = text:gsub("/tmp/[%w./_-]*", "PATH")
  end
  return same
end

local function assert_succeeds(name, out)
  if name == "ask" then os.execute("rm -rf " .. quote(out)) end -- it never writes over a dress
  local _, words, status = shell(line_of(name, there.folder, out))
  assert.equal(0, status, name .. ": " .. words)
  assert.same(plain(whole(name)), plain(contents(out)), name)
end

setup(function()
  there = { folder = club() }
end)
teardown(command.sweep)

for _, name in ipairs(names) do
  describe(name, function()
    it("on a full disk ends with 3, names the file, leaves nothing, and succeeds when there is room", function()
      whole(name)
      local out = command.folder() .. "/out"
      local words = shell(("(ulimit -f 0; %s 2>&1 >/dev/null; echo status $?) | cat"):format(line_of(name, there.folder, out)))
      assert.is_truthy(words:find("status 3\n", 1, true), words)
      assert.is_truthy(words:find(out, 1, true), words)
      assert.is_nil(next(contents(out)))
      assert_succeeds(name, out)
    end)

    it("ends with 3 where standard output is full, and succeeds when it is not", function()
      local out = command.folder() .. "/out"
      local _, words, status = shell(line_of(name, there.folder, out) .. " >/dev/full")
      local printed = shell(line_of(name, there.folder, command.folder() .. "/out"))
      if printed ~= "" then
        assert.equal(3, status, words)
        assert.is_truthy(words:find("standard output", 1, true), words)
      end
      for path, text in pairs(plain(contents(out))) do assert.equal(plain(whole(name))[path], text, path) end
      assert_succeeds(name, out)
    end)

    it("ends with 3 and without a word when nobody reads on", function()
      local out = command.folder() .. "/out"
      local said = shell(("{ { sleep 0.05; %s --quiet 2>&1 >&3; echo status $? >&4; } 3>&1 | true; } 4>&1"):format(line_of(name, there.folder, out)))
      local printed = shell(line_of(name, there.folder, command.folder() .. "/out"))
      assert.equal(printed == "" and "status 0\n" or "status 3\n", said)
      assert_succeeds(name, out)
    end)
  end)
end

describe("a run that is interrupted", function()
  for _, name in ipairs { "count", "cost", "order", "map", "sheet", "club", "weigh", "alike", "compare" } do
    it("ends with 130 and leaves nothing: " .. name, function()
      local endless, out = club(), command.folder() .. "/out"
      write(endless .. "/dress/forever.lua", [[return recipe { format = 1, name = "forever", takes = { { "line", "path" } },
        place = function () while true do end end }]])
      write(endless .. "/dress/zones.csv", "zone,shape,length,recipe\nneck,line,neckline,forever\n")
      local _, words, status = shell(("timeout --preserve-status -s INT 0.4 %s"):format(line_of(name, endless, out)))
      assert.equal(130, status, words)
      assert.is_nil(next(contents(out)))
      assert_succeeds(name, out)
    end)
  end

  it("ends with 130 while ask waits for an answer", function()
    local out = command.folder()
    assert(os.execute("mkfifo " .. out .. "/nobody"))
    local _, words, status = shell(("sleep 2 > %s/nobody & timeout --preserve-status -s INT 0.4 %s ask --out %s/dress <%s/nobody"):format(
      out, quote(command.girdle), out, out))
    assert.equal(130, status, words)
    assert.is_nil(next(contents(out .. "/dress")))
  end)
end)

describe("a run that is killed", function()
  -- at the first file that takes its place, or at the second
  local can = select(3, shell "strace -o /dev/null -e inject=rename:signal=KILL:when=1 true") == 0

  for _, name in ipairs { "club", "sheet", "plan", "ask" } do
    for at = 1, 2 do
      it(("leaves whole files only, and the next one succeeds: %s at rename %d"):format(name, at), function()
        if not can then return pending "needs strace" end
        whole(name)
        local out = command.folder() .. "/out"
        shell(("strace -f -o /dev/null -e inject=rename:signal=KILL:when=%d %s"):format(at, line_of(name, there.folder, out)))
        for path, text in pairs(plain(contents(out))) do
          if not path:find("/.girdle-", 1, true) then assert.equal(plain(whole(name))[path], text, path) end
        end
        os.execute(("rm -f %s/.girdle-*"):format(quote(out)))
        assert_succeeds(name, out)
      end)
    end
  end

  it("leaves a whole log, the old or the new, and the next one succeeds: learn --write", function()
    if not can then return pending "needs strace" end
    for at = 1, 3 do
      local folder = club()
      local old = read(folder .. "/log.csv")
      local line = ("%s learn %s tag=spring gross=12 hours=9 --write --today 2031-01-06"):format(quote(command.girdle), folder)
      shell(("strace -f -o /dev/null -e inject=rename:signal=KILL:when=%d %s"):format(at, line))
      local now = read(folder .. "/log.csv")
      assert.is_true(now == old or (now:sub(1, #old) == old and now:find("spring", 1, true) ~= nil), at .. now)
      local _, words, status = shell(line)
      assert.equal(now == old and 0 or 1, status, words) -- what is there already is not added again
      assert.is_true(now == old or words:find("already", 1, true) ~= nil, words)
      assert.is_truthy(read(folder .. "/log.csv"):find("spring", 1, true))
    end
  end)

  it("leaves the old log whole where the disk is full: learn --write", function()
    local folder = club()
    local old = read(folder .. "/log.csv")
    local line = ("%s learn %s tag=spring gross=12 hours=9 --write --today 2031-01-06"):format(quote(command.girdle), folder)
    local words = shell(("(ulimit -f 0; %s 2>&1 >/dev/null; echo status $?) | cat"):format(line))
    assert.is_truthy(words:find("status 3\n", 1, true), words)
    assert.equal(old, read(folder .. "/log.csv"))
    assert.equal(0, (select(3, shell(line))))
  end)
end)

describe("a file that cannot be read", function()
  for _, name in ipairs { "club.csv", "prices.csv", "suppliers.csv", "stock.csv", "rates.csv", "log.csv", "dress/zones.csv" } do
    it("is named, and nothing is written: " .. name, function()
      local folder, out = club(), command.folder() .. "/out"
      assert(os.execute(("rm %s/%s && mkdir %s/%s"):format(folder, name, folder, name)))
      local _, words, status = shell(line_of("club", folder, out))
      assert.is_true(status == 1 or status == 3, status .. words)
      assert.is_truthy(words:find(name, 1, true), words)
      assert.is_nil(next(contents(out)))
    end)
  end
end)

describe("writes that the system cuts short", function()
  it("are gone on with, so that every file and what is printed are the same", function()
    local folder = command.folder()
    write(folder .. "/short.c", [[
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <unistd.h>
ssize_t write(int file, const void *bytes, size_t count) {
  static ssize_t (*whole)(int, const void *, size_t);
  static int turn;
  if (!whole) *(void **)&whole = dlsym(RTLD_NEXT, "write");
  if (++turn % 5 == 0) return errno = EINTR, -1;
  return whole(file, bytes, count > 1000 ? 777 : count);
}
]])
    local _, words, status = shell(("cc -shared -fPIC -o %s/short.so %s/short.c -ldl"):format(folder, folder))
    assert.equal(0, status, words)
    for _, name in ipairs { "club", "sheet", "map", "plan" } do
      whole(name)
      local out = folder .. "/" .. name .. "/out"
      local printed = shell(line_of(name, there.folder, command.folder() .. "/out"))
      local cut
      cut, words, status = shell(("LD_PRELOAD=%s/short.so %s"):format(folder, line_of(name, there.folder, out)))
      if words:find("AddressSanitizer", 1, true) or words:find("ASan", 1, true) then return pending "not under a sanitizer" end
      assert.equal(0, status, words)
      assert.equal(printed, cut)
      assert.same(plain(whole(name)), plain(contents(out)))
    end
  end)
end)
