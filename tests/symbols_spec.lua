-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- Every name the libraries show bears the prefix, in static builds as well, and the module brings no Lua of its own.

local build = os.getenv "BUILD" or "build"

local function lines_of(command)
  local pipe = assert(io.popen(command .. " 2>&1"))
  local lines = {}
  for line in pipe:lines() do lines[#lines + 1] = line end
  assert(pipe:close(), command .. " failed: " .. (lines[#lines] or ""))
  return lines
end

local function defined_symbols(command)
  local symbols = {}
  for _, line in ipairs(lines_of(command)) do
    local kind, name = line:match "^%x+ (%a) (%S+)"
    if kind and kind ~= "U" then symbols[#symbols + 1] = name end
  end
  assert.is_true(#symbols > 0, "no symbols from: " .. command)
  return symbols
end

local function assert_prefixed(symbols, prefix)
  for _, name in ipairs(symbols) do
    assert.is_true(name:sub(1, #prefix) == prefix, name .. " does not begin with " .. prefix)
  end
end

local function public_functions()
  local public, text = {}, {}
  for _, header in ipairs(lines_of "ls include/girdle/*.h") do
    for line in io.lines(header) do text[#text + 1] = line end
  end
  for name in table.concat(text, "\n"):gmatch "GIRDLE_API[^;{]-(girdle_[%w_]+)%(" do public[name] = true end
  return public
end

-- What a static library's objects ask of others: name of the object, name of the symbol.
local function each_needed(library)
  local next_line = coroutine.wrap(function()
    for _, line in ipairs(lines_of("nm -A -u " .. build .. "/" .. library .. ".a")) do
      local object, name = line:match "([%w_]+%.o):%s+[Uw] ([%w_]+)"
      if name then coroutine.yield(object, name) end
    end
  end)
  return next_line
end

local libraries = { "libgirdle", "libgirdle-paper", "libgirdle-host" }

describe("symbols", function()
  for _, library in ipairs(libraries) do
    it("of " .. library .. ".a all bear the prefix", function()
      assert_prefixed(defined_symbols("nm -g --defined-only " .. build .. "/" .. library .. ".a"), "girdle_")
    end)
    it("of " .. library .. ".so are the public ones alone", function()
      local public = public_functions()
      for _, name in ipairs(defined_symbols("nm -D --defined-only " .. build .. "/" .. library .. ".so")) do
        assert.is_truthy(public[name], name .. " is shown but in no public header")
      end
    end)
  end

  it("that are public are each in one library", function()
    local public = public_functions()
    for _, library in ipairs(libraries) do
      for _, name in ipairs(defined_symbols("nm -D --defined-only " .. build .. "/" .. library .. ".so")) do
        assert.is_true(public[name], name .. " is in two libraries")
        public[name] = "found"
      end
    end
    for name, found in pairs(public) do assert.equal("found", found, name .. " is in no library") end
  end)

  it("of the allocator are asked for by common alone, so that a caller's own serves for everything", function()
    local plain = { malloc = true, calloc = true, realloc = true, free = true, strdup = true, strndup = true, aligned_alloc = true }
    for _, library in ipairs(libraries) do
      for object, name in each_needed(library) do
        assert.is_true(object == "common.o" or not plain[name], library .. ": " .. object .. " asks for " .. name)
      end
    end
  end)

  it("of the core ask nothing of files, locale, clock or process", function()
    local allowed = {}
    for name in ([[acos asin atan atan2 atanh cbrt ceil copysign cos erf erfc exp expm1 fabs floor fma fmax fmin fmod frexp hypot ldexp
      lgamma llround log log10 log1p log2 lround modf nearbyint pow remainder rint round sin sincos sqrt tan tgamma trunc
      free realloc memchr memcmp memcpy memmove memset snprintf vsnprintf strcat strchr strcmp strcpy strcspn strlen strncmp
      strncpy strrchr strspn strstr strtod]]):gmatch "%S+" do allowed[name] = true end
    for object, name in each_needed "libgirdle" do
      -- what the compiler or a sanitizer brings begins with two underscores
      assert.is_truthy(name:find "^girdle_" or name:find "^_" or allowed[name], object .. " asks for " .. name)
    end
  end)

  it("of all that is built ask for no network", function()
    local network = {}
    for name in ([[socket socketpair connect bind listen accept accept4 send sendto sendmsg recv recvfrom recvmsg getaddrinfo
      gethostbyname gethostbyname_r res_query]]):gmatch "%S+" do network[name] = true end
    for _, file in ipairs { "girdle", "libgirdle.so", "libgirdle-paper.so", "libgirdle-host.so", "lua/girdle.so" } do
      local seen = 0
      for _, line in ipairs(lines_of("nm -D --undefined-only " .. build .. "/" .. file)) do
        local name = line:match "[Uw] ([%w_]+)"
        assert.is_falsy(network[name], file .. " asks for " .. tostring(name))
        seen = seen + 1
      end
      assert.is_true(seen > 10)
    end
  end)

  it("of the Lua module are its entry points alone", function()
    assert_prefixed(defined_symbols("nm -D --defined-only " .. build .. "/lua/girdle.so"), "luaopen_girdle")
  end)

  it("of the Lua module need no liblua", function()
    for _, line in ipairs(lines_of("readelf -d " .. build .. "/lua/girdle.so")) do
      assert.is_nil(line:match "NEEDED.*liblua", line)
    end
  end)

  it("of the core need libm and libc alone", function()
    for _, line in ipairs(lines_of("readelf -d " .. build .. "/libgirdle.so")) do
      local needed = line:match "NEEDED.*%[(.-)%]"
      assert.is_truthy(not needed or needed:match "^libm%." or needed:match "^libc%.", line)
    end
  end)
end)
