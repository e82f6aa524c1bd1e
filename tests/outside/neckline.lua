-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- girdle from stock Lua 5.4: one neckline, its count, mass, order and quote. The module must be on package.cpath.
local girdle = require "girdle"

local neckline = girdle.run { along = girdle.loop "34 cm", stones = { "ss20 black" }, gap = "0.5 mm" }
local sums = girdle.reckon {
  of = neckline,
  prices = { { supplier = "Invented Stones", stone = "ss20 black", pack = "1 gross", price = "9.50" } },
  suppliers = { { supplier = "Invented Stones", currency = "EUR", shipping = "4.50" } },
  rates = { { "labour a gross", "50.00" } },
}
assert(sums.count == #neckline)
print("count " .. sums.count)
print(("mass_mg %.0f"):format(sums.mass_mg))
print("order_minor " .. sums.order.total_minor)
print("quote_minor " .. sums.quote.total_minor)
