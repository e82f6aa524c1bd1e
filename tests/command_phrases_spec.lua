-- Every text for people can be put in one's own words: with a table in which each phrase says its English in capitals, what
-- stays in small letters was not asked for.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local run = command.run

teardown(command.sweep)

describe("a table of all phrases", function()
  local folder = command.folder()
  local loud, lines = folder .. "/loud.csv", { "english,own" }
  for _, row in ipairs(command.rows((run "phrases"))) do
    -- the language's code and the decimal mark are no words
    local own = (row.english == "en" or row.english == ".") and "" or row.english:upper()
    lines[#lines + 1] = ('"%s","%s"'):format(row.english:gsub('"', '""'), (own:gsub('"', '""')))
  end
  command.write(loud, table.concat(lines, "\r\n") .. "\r\n")

  -- Names of the demo's costumes, wearers, zones and stones, of files and commands, and units within amounts.
  local data = {}
  for word in ([[ada ember bodice skirt cuffs cuff back straps ss red gold orange clear aqua sea green neckline waist leg opening
    cleo tide both gross and frost csv zones girdle count plan pieces sheet out mm cm wrist collar fern posy rose hem edge
    black white blue strap rings front bea dot eve fay gil hal job one alpha garnet ice bo moss leaf dozen dara edie fenn hana gil recipes demo line loop area yoke sleeve
    spring autumn json]]):gmatch "%l+" do
    data[word] = true
  end

  local function assert_loud(text)
    for word in text:gmatch "%f[%w]%l%l+" do assert.is_true(data[word], word .. " in:\n" .. text) end
    assert.is_truthy(text:find "%u%u%u")
  end

  local function loudly(...)
    local words = { ... }
    words[#words + 1] = "--phrases"
    words[#words + 1] = loud
    local printed, said, status = run(table.unpack(words))
    assert.equal(0, status, said)
    return printed, said
  end

  local log = "date,tag,zone,stone,planned,used,lost,fell_off,minutes\n"
  local logged = command.folder()
  os.execute("cp -r recipes/demo/. " .. logged)
  for job = 1, 6 do
    log = log .. ("2030-0%d-01,job %d,neckline,ss20 black,400,%d,%d,8,%d\n"):format(job, job, job == 3 and 600 or 410, job == 3 and 200 or 10,
      job == 5 and 700 or 100)
  end
  command.write(logged .. "/log.csv", log)
  local empty = command.folder()
  os.execute(("cp -r recipes/demo/. %s; rm -f %s/log.csv"):format(empty, empty))

  for _, words in ipairs {
    { "weigh", "recipes/demo", "tag=ada", "dress=310 g", "most share=5 %" },
    { "plan", "recipes/demo", "tag=ada", "pieces=900", "--today", "2031-01-06" },
    { "plan", "recipes/demo", "tag=cleo", "drawer=all", "--today", "2031-01-06" },
    { "tables" },
    { "check", "recipes/demo" },
    { "count", "recipes/demo", "tag=cleo" },
    { "count", "line=32 cm", "stone=ss20", "gap=1 mm" },
    { "count", "loop=320 cm", "stones=ss20;ss16" },
    { "count", "area=25 cm2", "stone=ss20" },
    { "cost", "recipes/demo", "tag=cleo", "--today", "2031-01-06" },
    { "order", "recipes/demo", "--today", "2031-01-06" },
    { "club", "recipes/demo", "--today", "2031-01-06" },
    { "opening", "ring=15 cm", "through=22 cm", "stretch=60 %", "stone=ss20" },
    { "opening", "ring=15 cm", "through=40 cm", "stretch=60 %", "stone=ss20" },
    { "opening", "ring=52 cm", "through=57 cm", "stretch=60 %", "stone=ss20", "gap=20 mm" },
    { "alike", "recipes/demo" },
    { "alike", "recipes/demo", "zone=neckline" },
    { "compare", "recipes/demo", logged, "--today", "2031-01-06" },
    { "learn", logged, "--today", "2031-03-01" },
    { "learn", empty, "--today", "2031-03-01" },
  } do
    it("leaves nothing of " .. table.concat(words, " ", 1, math.min(#words, 3)) .. " in English", function()
      assert_loud((loudly(table.unpack(words))))
    end)
  end

  it("leaves nothing of a comparison in English", function()
    local other = command.folder()
    os.execute("cp -r recipes/demo/. " .. other)
    command.shell(("sed -i 's/ss20/ss16/;s/1 mm/2 mm/' %s/*.csv %s/*/zones.csv"):format(other, other))
    local text, said, status = run("compare", "recipes/demo", other, "--today", "2031-01-06", "--phrases", loud)
    assert.equal(3, status, said) -- a stone of the other size cannot be had
    assert_loud(text)
  end)

  it("leaves no question in English", function()
    local answers = { "15 cm", "11 cm", "12 cm", "medium", "ss20 black", "ss16 clear", "2 mm", "neckline, wrist", "both", "52 cm", "",
      "57 cm", "15 cm", "20 cm", "front, skirt", "12 mm", "oval", "16 cm", "12 cm", "front", "oval", "16 cm", "12 cm", "" }
    command.write(folder .. "/answers.txt", table.concat(answers, "\n") .. "\n")
    local printed, said = loudly("ask", folder .. "/answers.txt", "--out", folder .. "/frost")
    assert_loud((printed:gsub(folder:gsub("%p", "%%%0"), "")))
    assert_loud((said:gsub("%[[^%]]*%]", ""):gsub(folder:gsub("%p", "%%%0"), "")))
    assert.is_truthy(said:find("DOES THE FABRIC STRETCH", 1, true))
  end)

  -- What the code asks for by its English is in the table; a word that is not would stay as it is for ever.
  it("has every phrase that the code says", function()
    local has = {}
    for _, row in ipairs(command.rows((run "phrases"))) do has[row.english] = true end
    local said = 0
    for path in io.popen("ls lib/paper/*.c bindings/command/*.c"):lines() do
      local text = command.read(path):gsub('"%s*\n%s*"', "")
      for call, arguments in text:gmatch "%f[%w_]([%w_]+)%s*(%b())" do
        if call == "girdle_html_section" then arguments = arguments:gsub('"[a-z]+"', "", 1) end -- the anchor
        if call:find "^girdle_say" or call == "girdle_phrase_with" or call:find "^buffer_say" or call == "girdle_phrase" or
          call:find "^girdle_html_say" or call == "girdle_html_section" or call == "girdle_pdf_say" then
          for literal in arguments:gmatch '"(.-[^\\])"' do
            local phrase = literal:gsub("\\(%d%d%d)", function(octal) return string.char(tonumber(octal, 8)) end):gsub('\\"', '"')
            local is_markup = not phrase:find " " and #phrase < 4 or phrase:find "^girdle " or phrase:find "class=" or phrase:find "\\n"
            if not is_markup then
              assert.is_true(has[phrase], path .. ": " .. phrase)
              said = said + 1
            end
          end
        end
      end
    end
    assert.is_true(said > 100, tostring(said))
  end)

  it("keeps tables and JSON as they are", function()
    for _, form in ipairs { "--csv", "--json" } do
      assert.equal((run("weigh", "recipes/demo", "tag=ada", form)),
        (run("weigh", "recipes/demo", "tag=ada", form, "--phrases", loud, "--decimal-comma", "--inches")))
    end
  end)

  it("brings a decimal comma to what is weighed", function()
    local printed = run("weigh", "recipes/demo", "tag=ada", "--decimal-comma")
    assert.is_truthy(printed:find "%d,%d g added")
    assert.is_falsy(printed:find "%d%.%d")
  end)
end)
