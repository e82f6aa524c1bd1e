-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- Every example in README.md is run: a ```lua block is saved under the file name that stands in backquotes in the last
-- line of text before it, and each command of a ```console block must print just what stands below it.

local build = os.getenv "BUILD" or "build"

local function read_all(path)
  local file = assert(io.open(path, "rb"))
  local text = file:read "a"
  file:close()
  return text
end

local function output_of(command)
  local pipe = assert(io.popen(command .. " 2>&1"))
  local text = pipe:read "a"
  pipe:close()
  return text
end

local function blocks_of(text)
  local blocks, block, before = {}, nil, ""
  for line in text:gmatch "([^\n]*)\n" do
    local fence = line:match "^```(.*)$"
    if fence and not block then
      block = { kind = fence, before = before, lines = {} }
    elseif fence then
      blocks[#blocks + 1], block = block, nil
    elseif block then
      block.lines[#block.lines + 1] = line
    elseif line ~= "" then
      before = line
    end
  end
  return blocks
end

local function commands_of(block)
  local commands = {}
  for _, line in ipairs(block.lines) do
    local command = line:match "^%$ (.*)$"
    if command then
      commands[#commands + 1] = { command = command, expected = "" }
    else
      local last = commands[#commands]
      last.expected = last.expected .. line .. "\n"
    end
  end
  return commands
end

describe("README", function()
  local folder, root = output_of("mktemp -d"):gsub("\n", ""), output_of("pwd"):gsub("\n", "")
  local absolute = build:sub(1, 1) == "/" and build or root .. "/" .. build
  os.execute(("ln -s '%s' '%s/build' && ln -s '%s/recipes' '%s/recipes'"):format(absolute, folder, root, folder))

  for _, block in ipairs(blocks_of(read_all "README.md")) do
    if block.kind == "lua" then
      local name = block.before:match "`([%w_]+%.lua)`"
      it("names the file of its recipe " .. tostring(name), function()
        assert.is_string(name, "no file name before a lua block: " .. block.before)
      end)
      local file = assert(io.open(folder .. "/" .. (name or "unnamed.lua"), "wb"))
      file:write(table.concat(block.lines, "\n"), "\n")
      file:close()
    elseif block.kind == "console" then
      for _, each in ipairs(commands_of(block)) do
        it("prints what it says for: " .. each.command, function()
          assert.are.equal(each.expected, output_of(("cd '%s' && %s"):format(folder, each.command)))
        end)
      end
    end
  end
  teardown(function() os.execute(("rm -r '%s'"):format(folder)) end)
end)
