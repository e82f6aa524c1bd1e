-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- What stones placed in one's own script come to.
local girdle = require "girdle"

local stones = girdle.run { along = girdle.line "30 cm", stones = { "ss20 black" }, gap = "0.5 mm" }

local function message(given)
  given.of = given.of or stones
  local good, text = pcall(girdle.reckon, given)
  assert.is_false(good)
  return text
end

local function has(text, wanted)
  assert.is_truthy(text:find(wanted, 1, true), ("%q is not in %q"):format(wanted, text))
end

describe("reckon", function ()
  it("counts and weighs without any price", function ()
    local sums = girdle.reckon { of = stones }
    assert.equal(#stones, sums.count)
    assert.near(#stones * girdle.stone "ss20 black".mass_mg, sums.mass_mg, 1e-6)
    assert.is_nil(sums.order)
    assert.is_true(sums.quote.incomplete)
    assert.is_true(sums.work.minutes > 10)
  end)
  it("buys what is missing and quotes it", function ()
    -- a line of 59 stones is worked from one lot, so the 40 that are there only serve as spares (3) and for the kit (3)
    -- and two packs of 50 are bought
    local sums = girdle.reckon {
      of = stones, stock = { { stone = "ss20 black", on_hand = "40" } },
      prices = {
        { supplier = "Invented Stones", stone = "ss20 black", pack = "50", price = "4.00", item = "K20" },
        { supplier = "Invented Stones", stone = "ss20 black", pack = "1 gross", price = "9.50" },
      },
      suppliers = { { supplier = "Invented Stones", currency = "EUR", shipping = "4.50", free_from = "100.00", delivery_days = 5 } },
      rates = { { "labour a gross", "50.00" }, { "tax", "20 %" } },
    }
    assert.same({ 800, 450, 1250, "EUR" }, { sums.order.goods_minor, sums.order.shipping_minor, sums.order.total_minor, sums.order.currency })
    assert.equal(1, #sums.order.lines)
    assert.same({ "50", 2, "K20" }, { sums.order.lines[1].pack, sums.order.lines[1].packs, sums.order.lines[1].item })
    assert.equal(girdle.stone "ss20 black", sums.order.lines[1].stone)
    local total = 0
    for _, line in ipairs(sums.quote.lines) do total = total + line.amount_minor end
    assert.equal(sums.quote.total_minor, total)
    assert.equal(sums.quote.net_minor + sums.quote.tax_minor, sums.quote.total_minor)
  end)
  it("names the row and what was meant", function ()
    has(message { prices = { { suplier = "A", stone = "ss20", pack = "10", price = "1" } } }, "did you mean 'supplier'")
    has(message { rates = { { "tax", "20 %" }, { "labor a gross", "9" } } }, "row 2 of rates: unknown rate 'labor a gross'")
    has(message { suppliers = { { supplier = "A", shipping = "4,50" } } }, "row 1 of suppliers")
    has(message { of = 3 }, "of must be a placement")
    has(message { stocks = {} }, "did you mean 'stock'")
  end)
  it("leaves nothing behind when a row is wrong", function ()
    local function used()
      collectgarbage()
      collectgarbage()
      return collectgarbage "count"
    end
    local before = used()
    for _ = 1, 200 do message { rates = { { "no such rate", "1" } } } end
    assert.is_true(used() - before < 64)
  end)
end)
