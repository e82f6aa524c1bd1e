-- The demo's sheets in a browser without a window: they count what was placed, keep their ticks, print, and need no
-- network. Skipped, and named, where there is no chromium.
package.path = "tests/?.lua;" .. package.path
local command = require "command_support"
local quote, read, shell = command.quote, command.read, command.shell

local today = "2031-01-06"
local _, _, missing = shell "command -v chromium && command -v pdfinfo && command -v pdftotext"
local function test(name, body)
  if missing == 0 then it(name, body) else pending(name .. " (needs chromium and poppler-utils)") end
end

local folder, profile = command.folder(), command.folder()
teardown(command.sweep)

local function browse(page, options)
  return shell(("timeout 60 chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run " ..
    "--disable-background-networking --disable-component-update --disable-sync --disable-extensions " ..
    "--enable-logging=stderr --user-data-dir=%s %s %s"):format(quote(profile), options, quote("file://" .. page)))
end

-- What the page's console said.
local function console(words)
  local said = {}
  for line in words:gmatch "[^\n]+" do
    if line:find("CONSOLE", 1, true) then said[#said + 1] = line end
  end
  return table.concat(said, "\n")
end

-- A copy of a sheet that goes through `script` once it has loaded, and shows what that returns as its title.
local function with_script(name, script)
  local text = read(folder .. "/" .. name)
  local added = ("<script>addEventListener('load',function(){document.title='said '+(function(){%s})()})</script></body>")
    :format(script)
  local changed, times = text:gsub("</body>", function() return added end)
  assert.equal(1, times)
  command.write(folder .. "/changed-" .. name, changed)
  return folder .. "/changed-" .. name
end

local function said_by(name, script)
  local page, words, status = browse(with_script(name, script), "--virtual-time-budget=4000 --dump-dom")
  assert.equal(0, status, words)
  assert.equal("", console(words))
  return page:match "<title>said (.-)</title>"
end

describe("the demo's sheets in a browser", function()
  local _, words, status = command.run("sheet", "recipes/demo", "--today", today, "--out", folder)
  assert.equal(0, status, words)

  test("count, zone by zone, what was placed, and draw as many stones", function()
    for _, tag in ipairs { "cleo", "gil" } do
      local expected, drawn = {}, 0
      for _, row in ipairs(command.rows((command.run("count", "recipes/demo", "tag=" .. tag, "--csv")))) do
        expected[#expected + 1] = row.count
      end
      for line in command.run("map", "recipes/demo", "tag=" .. tag, "--csv"):gmatch "\n[^\r\n]+" do
        drawn = drawn + (line ~= "" and 1 or 0)
      end
      local said = said_by(tag .. ".html", [[
        var counts=[];
        document.querySelectorAll('section.zone').forEach(function(zone){
          zone.querySelectorAll('tr').forEach(function(row){
            if(row.querySelector('.tick'))counts.push(row.querySelector('td.n').textContent)})});
        var stones=document.querySelectorAll('section.zone .picture circle, section.zone .picture use').length;
        return stones+' of '+counts.sort().join(' ')]])
      table.sort(expected)
      assert.equal(drawn .. " of " .. table.concat(expected, " "), said, tag)
    end
  end)

  test("ask the network for nothing", function()
    local said = said_by("cleo.html", "return performance.getEntriesByType('resource').length")
    assert.equal("0", said)
  end)

  test("remember their ticks when they are loaded again, and only on that sheet", function()
    local boxes = "var boxes=[].slice.call(document.querySelectorAll('input[type=checkbox]'));"
    local ticked = "return boxes.map(function(b){return b.checked?1:0}).join('')"
    -- reloaded once, in the same browser
    local said = said_by("ada.html", boxes ..
      "if(sessionStorage.getItem('again'))" .. ticked .. ";" ..
      "sessionStorage.setItem('again','1');boxes[0].click();boxes[3].click();location.reload();return 'too early'")
    assert.is_truthy(said:find "^10010*$", said)
    assert.is_truthy(said_by("bo.html", boxes .. ticked):find "^0+$")
  end)

  test("light the stones of a row that is pointed at or reached by the keyboard, and hold what is pressed", function()
    local said = said_by("cleo.html", [[
      var buttons=document.querySelectorAll('.key button'),lit=[];
      function look(){
        var shown=[].slice.call(document.querySelectorAll('.picture g[data-kind]')).filter(function(g){
          return getComputedStyle(g).opacity==='1'}).map(function(g){return g.dataset.kind});
        lit.push(shown.filter(function(k,i){return shown.indexOf(k)===i}).sort().join('+'))}
      look();
      buttons[1].dispatchEvent(new MouseEvent('mouseenter'));look();
      buttons[1].dispatchEvent(new MouseEvent('mouseleave'));look();
      buttons[2].focus();look();buttons[2].blur();look();
      buttons[2].click();look();buttons[2].blur();look();lit.push(buttons[2].getAttribute('aria-pressed'));
      buttons[2].click();buttons[2].blur();look();
      return lit.join(' ')]])
    local all = said:match "^%S+"
    assert.equal(("%s 1 %s 2 %s 2 2 true %s"):format(all, all, all, all), said)
    assert.is_truthy(all:find "^1%+2%+3")
  end)

  test("show one zone when it is asked for, and all again", function()
    local said = said_by("cleo.html", [[
      var filter=document.getElementById('filter'),zones=[].slice.call(document.querySelectorAll('section.zone'));
      function choose(value){filter.value=value;filter.dispatchEvent(new Event('change'));
        return zones.filter(function(z){return z.offsetHeight>0}).map(function(z){return z.id}).join('+')}
      return choose('zone2')+' '+(choose('').split('+').length===zones.length)]])
    assert.equal("zone2 true", said)
  end)

  test("fit a phone and a desk, to the width", function()
    -- a window is never so narrow as a phone, so each page stands in a frame and tells how far it reaches beyond it
    local offer = command.run("offer", "recipes/demo", "tag=ada", "--today", today)
    command.write(folder .. "/offer.html", offer)
    local long, times = read(folder .. "/ada.html"):gsub("<td>ada</td>", "<td>ensemble-2031-07</td>")
    assert.is_true(times > 1) -- the rows of the job card
    command.write(folder .. "/long.html", long)
    for _, page in ipairs { "ada.html", "long.html", "bags.html", "offer.html" } do
      with_script(page, [[var all=document.documentElement;parent.postMessage(all.scrollWidth-all.clientWidth,'*')]])
      for _, width in ipairs { 345, 360, 1440 } do
        command.write(folder .. "/frame.html", ([[<body><iframe src="changed-%s" style="border:0;width:%dpx;height:900px"></iframe>
          <script>addEventListener('message',function(e){document.title='said '+e.data})</script>]]):format(page, width))
        local dom, words, ended = browse(folder .. "/frame.html", "--window-size=1600,900 --virtual-time-budget=4000 --dump-dom")
        assert.equal(0, ended, words)
        assert.equal("0", dom:match "<title>said (.-)</title>", page .. " at " .. width)
      end
    end
  end)

  test("print as many pages as they are laid out for", function()
    -- whose it is and what to lay ready; where the zones are; the zones, two or three a page; weight and job card
    for tag, expected in pairs { ada = 5, cleo = 6, fenn = 6, gil = 5 } do
      local pdf = folder .. "/" .. tag .. ".pdf"
      local _, said, ended = browse(folder .. "/" .. tag .. ".html", "--no-pdf-header-footer --print-to-pdf=" .. quote(pdf))
      assert.equal(0, ended, said)
      assert.equal("", console(said))
      assert.equal(expected, tonumber((shell("pdfinfo " .. quote(pdf))):match "Pages:%s+(%d+)"), tag)
    end
  end)

  test("print the job card under its heading, wherever on a page it comes", function()
    local pdf = folder .. "/card.pdf"
    for _, space in ipairs { 0, 60, 120, 180 } do
      local text, times = read(folder .. "/ada.html"):gsub('<h2 id="weight">', ('<div style="height:%dmm"></div>%%0'):format(space))
      assert.equal(1, times)
      command.write(folder .. "/card.html", text)
      browse(folder .. "/card.html", "--no-pdf-header-footer --print-to-pdf=" .. quote(pdf))
      local cards = 0
      for page in (shell("pdftotext -layout " .. quote(pdf) .. " -")):gmatch "[^\f]+" do
        local has_table = page:find("planned +had +bought") ~= nil
        assert.equal(page:find("Job card", 1, true) ~= nil, has_table, space .. " mm")
        cards = cards + (has_table and 1 or 0)
      end
      assert.equal(1, cards)
    end
  end)
end)

-- WCAG 2.2 AA by axe-core, on every page, light and dark; only with GIRDLE_PROOF=1, for it takes its time.
describe("the pages, looked through for WCAG 2.2 AA", function()
  local checker = (os.getenv "BUILD" or "build") .. "/peers/node_modules/axe-core/axe.min.js"
  local have = missing == 0 and os.getenv "GIRDLE_PROOF" == "1" and io.open(checker)
  local reason = " (needs chromium, GIRDLE_PROOF=1 and make setup-peers)"
  local axe
  local look = [[
    axe.run(document,{runOnly:['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa','best-practice']}).then(function(r){
      document.title='said '+r.passes.length+' '+(matchMedia('(prefers-color-scheme: dark)').matches?'dark':'light')+' '+r.violations.map(function(v){
        return v.id+': '+v.nodes.map(function(n){return n.target.join(' ')+' '+n.failureSummary}).join(' | ')}).join(' || ')});]]

  local function check(name, scheme, flag)
    local text = read(folder .. "/" .. name)
    local changed = folder .. "/checked-" .. name
    text = text:gsub("</body>", function() return "<script>" .. axe .. look .. "</script></body>" end)
    command.write(changed, text)
    local page, words, status = browse(changed, flag .. " --virtual-time-budget=20000 --dump-dom")
    assert.equal(0, status, words)
    local passes, shown, faults = page:match "<title>said (%d+) (%a+) (.-)</title>"
    assert.is_true(tonumber(passes or 0) > 10, name .. ": the checker did not run")
    assert.equal(scheme, shown)
    assert.equal("", faults, name .. " " .. scheme)
  end

  if not have then return pending("none has a fault" .. reason) end
  axe = have:read "a"
  have:close()
  local schemes = { light = "--blink-settings=preferredColorScheme=1", dark = "--blink-settings=preferredColorScheme=0" }
  local page, words, status = command.run("offer", "recipes/demo", "tag=ada", "--today", today)
  assert.equal(0, status, words)
  command.write(folder .. "/offer.html", page)
  command.write(folder .. "/photo.png", "\137PNG\r\n\26\n\0\0\0\0IEND\174B`\130")
  page = command.run("sheet", "recipes/demo", "tag=ada", "--today", today, "--photo", folder .. "/photo.png")
  command.write(folder .. "/photo.html", page)
  for scheme, flag in pairs(schemes) do
    for _, name in ipairs { "ada.html", "gil.html", "bags.html", "offer.html", "photo.html" } do
      it("has no fault in " .. name .. ", " .. scheme, function() check(name, scheme, flag) end)
    end
  end
end)
