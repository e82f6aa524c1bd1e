# girdle: counts, places, prices and plans flat-back stones on costumes.
# SPDX-License-Identifier: MIT. Copyright the girdle contributors.

# girdle from Python by ctypes alone: one neckline, its count, mass, order and quote. argv[1] is the library.

import sys
from ctypes import (CDLL, POINTER, Structure, addressof, byref, c_char, c_double, c_int32, c_int64, c_uint32, c_uint64,
                    c_void_p, create_string_buffer, sizeof)

lib = CDLL(sys.argv[1])


class Error(Structure):
    _fields_ = [("struct_bytes", c_uint32), ("status", c_int32), ("line", c_int32), ("column", c_int32),
                ("byte", c_int64), ("value", c_double), ("least", c_double), ("most", c_double),
                ("field", c_char * 48), ("source", c_char * 64), ("nearest", c_char * 48), ("message", c_char * 256)]


class Call(Structure):
    _fields_ = [("struct_bytes", c_uint32), ("reserved", c_uint32), ("memory", c_void_p * 2), ("watch", c_void_p * 2),
                ("error", POINTER(Error)), ("report", c_void_p * 2)]


class Stone(Structure):
    _fields_ = [("size", c_char * 16), ("colour", c_char * 48), ("finish", c_char * 16), ("material", c_char * 24),
                ("cut", c_char * 24), ("diameter_mm", c_double * 3), ("height_mm", c_double), ("mass_mg", c_double * 3),
                ("length_ratio", c_double), ("outline", c_int32), ("fix", c_int32), ("reserved", c_uint32 * 4)]


class Currency(Structure):
    _fields_ = [("code", c_char * 4), ("exponent", c_int32)]


class RunOptions(Structure):
    _fields_ = [("struct_bytes", c_uint32), ("flags", c_uint32), ("stones", POINTER(Stone)), ("stone_count", c_uint64),
                ("gap_mm", c_double), ("count", c_int64), ("clear_of", c_void_p), ("corner_deg", c_double),
                ("turn_deg", c_double), ("leave", c_void_p), ("leave_count", c_uint64)]


class TallyLine(Structure):
    _fields_ = [("tag", c_char * 32), ("zone", c_char * 64), ("side", c_char * 16), ("stone", Stone),
                ("count", c_int64), ("mass_mg", c_double * 3), ("covered_mm2", c_double)]


class PriceRow(Structure):
    _fields_ = [("supplier", c_char * 48), ("stone", Stone), ("pack", c_char * 32), ("pack_pieces", c_int64),
                ("price_minor", c_int64), ("item", c_char * 48), ("at_most", c_int64), ("sold_out", c_int32),
                ("reserved", c_int32)]


class Supplier(Structure):
    _fields_ = [("name", c_char * 48), ("currency", Currency), ("shipping_minor", c_int64),
                ("free_from_minor", c_int64), ("least_order_minor", c_int64), ("delivery_days", c_int32),
                ("reserved", c_int32)]


class OrderOptions(Structure):  # the head is all that is set here; struct_bytes tells the library how much there is
    _fields_ = [("struct_bytes", c_uint32), ("flags", c_uint32), ("lost_share", c_double), ("kit_pieces", c_int64),
                ("prices", POINTER(PriceRow)), ("price_count", c_uint64), ("suppliers", POINTER(Supplier)),
                ("supplier_count", c_uint64)]


class OrderTotal(Structure):
    _fields_ = [("currency", Currency), ("goods", c_int64), ("shipping", c_int64), ("total", c_int64),
                ("bound", c_int64), ("unpriced", c_int64)]


class QuoteRates(Structure):  # a head again
    _fields_ = [("struct_bytes", c_uint32), ("labour_by", c_int32), ("currency", Currency), ("labour_minor", c_int64)]


class QuoteInput(Structure):
    _fields_ = [("struct_bytes", c_uint32), ("reserved", c_uint32), ("stones", c_int64), ("materials", c_int64),
                ("shipping", c_int64), ("unpriced", c_int64), ("work", c_void_p)]


class Quote(Structure):
    _fields_ = [("struct_bytes", c_uint32), ("incomplete", c_int32), ("currency", Currency),
                ("lines", c_char * (12 * 120)), ("line_count", c_uint64)] + [
        (name, c_int64) for name in ("net", "tax", "total", "deposit", "balance", "cost", "valid_until_day")]


def begin(kind, init):
    made = kind()
    init(byref(made), sizeof(made))
    return made


error = begin(Error, lib.girdle_error_init)
call = begin(Call, lib.girdle_call_init)
call.error = POINTER(Error)(error)


def check(status):
    if status:
        raise ValueError(error.message.decode())


def make(name, *arguments):
    handle = c_void_p()
    check(getattr(lib, name)(byref(call), *arguments, byref(handle)))
    return handle


stone = Stone()
check(lib.girdle_stone_parse(byref(call), b"ss20 black", byref(stone)))
run = begin(RunOptions, lib.girdle_run_options_init)
run.stones, run.stone_count, run.gap_mm = POINTER(Stone)(stone), 1, 0.5
loop = make("girdle_path_loop", c_double(340))
stones = make("girdle_run", loop, byref(run))
tally = make("girdle_tally_new")
check(lib.girdle_tally_add(byref(call), tally, b"one", b"neckline", b"", c_int64(1), stones))

supplier = Supplier(name=b"Invented Stones", shipping_minor=450, free_from_minor=-1)
check(lib.girdle_currency_parse(byref(call), b"EUR", byref(supplier, Supplier.currency.offset)))
price = PriceRow(supplier=supplier.name, stone=stone, pack=b"1 gross", pack_pieces=144, price_minor=950, at_most=-1)
options = begin(OrderOptions, lib.girdle_order_options_init)
options.prices, options.price_count = POINTER(PriceRow)(price), 1
options.suppliers, options.supplier_count = POINTER(Supplier)(supplier), 1
order = make("girdle_order_plan", tally, byref(options))

line, cost = TallyLine(), OrderTotal()
lib.girdle_tally_total(tally, byref(line))
lib.girdle_order_sum(order, byref(cost))

pace, work = create_string_buffer(256), create_string_buffer(256)  # only handed on
lib.girdle_work_rates_init(pace, len(pace))
check(lib.girdle_work_estimate(byref(call), tally, pace, work))
rates = begin(QuoteRates, lib.girdle_quote_rates_init)
rates.currency, rates.labour_minor = cost.currency, 5000
asked = begin(QuoteInput, lib.girdle_quote_input_init)
asked.stones, asked.materials, asked.shipping, asked.work = line.count, cost.goods, cost.shipping, addressof(work)
quote = Quote(sizeof(Quote))
check(lib.girdle_quote_make(byref(call), byref(asked), byref(rates), byref(quote)))

print(f"count {line.count}\nmass_mg {line.mass_mg[1]:.0f}\norder_minor {cost.total}\nquote_minor {quote.total}")
for name, handle in (("order", order), ("tally", tally), ("placement", stones), ("path", loop)):
    getattr(lib, f"girdle_{name}_free")(handle)
