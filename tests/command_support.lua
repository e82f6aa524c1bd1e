-- What the specs of the program share: running it, and folders that vanish when a spec ends.
local support = {}

local build = os.getenv "BUILD" or "build"
support.girdle = build .. "/girdle"

function support.quote(word)
  return "'" .. word:gsub("'", "'\\''") .. "'"
end

function support.read(path)
  local file = io.open(path, "rb")
  if not file then return nil end
  local text = file:read "a"
  file:close()
  return text
end

function support.write(path, text)
  local file = assert(io.open(path, "wb"))
  file:write(text)
  file:close()
end

-- A new folder under the system's own place for such; `support.sweep` removes all of them.
local folders = {}
function support.folder()
  local pipe = assert(io.popen "mktemp -d")
  local path = pipe:read "l"
  pipe:close()
  folders[#folders + 1] = path
  return path
end

function support.sweep()
  for _, path in ipairs(folders) do os.execute("rm -rf " .. support.quote(path)) end
  folders = {}
end

-- Runs a command line as the shell would; gives back what it printed, what it said, and its exit status.
function support.shell(line)
  local out, said = os.tmpname(), os.tmpname()
  local _, how, status = os.execute(("( %s ) >%s 2>%s </dev/null"):format(line, out, said))
  local printed, words = support.read(out), support.read(said)
  os.remove(out)
  os.remove(said)
  if how == "signal" then status = 128 + status end
  return printed, words, status
end

-- Runs the program with the given arguments, each one word whatever it holds.
function support.run(...)
  local words = { support.quote(support.girdle) }
  for _, word in ipairs { ... } do words[#words + 1] = support.quote(word) end
  return support.shell(table.concat(words, " "))
end

-- The rows of a table we wrote, by the names of its first line.
function support.rows(text)
  local rows, names = {}, nil
  for line in text:gmatch "[^\r\n]+" do
    local cells, at = {}, 1
    while at <= #line + 1 do
      local cell, after
      if line:sub(at, at) == '"' then
        local close = at
        repeat close = line:find('"', close + 1, true); local double = line:sub(close + 1, close + 1) == '"'
          if double then close = close + 1 end
        until not double
        cell, after = line:sub(at + 1, close - 1):gsub('""', '"'), close + 2
      else
        local comma = line:find(",", at, true) or #line + 1
        cell, after = line:sub(at, comma - 1), comma + 1
      end
      cells[#cells + 1] = cell
      at = after
    end
    if not names then
      names = cells
    else
      local row = {}
      for place, name in ipairs(names) do row[name] = cells[place] end
      rows[#rows + 1] = row
    end
  end
  return rows
end

return support
