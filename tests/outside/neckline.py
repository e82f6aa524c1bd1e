# girdle: counts, places, prices and plans flat-back stones on costumes.
# SPDX-License-Identifier: MIT. Copyright the girdle contributors.

# girdle from Python by ctypes alone, tables in and JSON out: one neckline, its count, mass, order and quote. argv[1] is
# the folder of the libraries.

import json
import sys
from ctypes import (CDLL, CFUNCTYPE, POINTER, Structure, addressof, byref, c_char, c_int32, c_int64, c_uint32, c_uint64,
                    c_void_p, sizeof, string_at)

host, paper = (CDLL(f"{sys.argv[1]}/libgirdle-{name}.so.0") for name in ("host", "paper"))
write_type = CFUNCTYPE(c_int32, c_void_p, c_void_p, c_uint64)
host.girdle_club_job.restype = paper.girdle_zone_rows_view.restype = host.girdle_reckoning_tally.restype = c_void_p


class Error(Structure):  # where, then what
    _fields_ = [("place", c_char * 208), ("message", c_char * 256)]


class Call(Structure):
    _fields_ = [("struct_bytes", c_uint32), ("reserved", c_uint32), ("hooks", c_void_p * 4), ("error", POINTER(Error)),
                ("report", c_void_p * 2)]


error, call = Error(), Call()
host.girdle_error_init(byref(error), sizeof(error))
host.girdle_call_init(byref(call), sizeof(call))
call.error = POINTER(Error)(error)


def do(function, *arguments):
    if function(byref(call), *arguments):
        raise ValueError(error.message.decode())


def make(function, *arguments):
    handle = c_void_p()
    do(function, *arguments, byref(handle))
    return handle


def said(function, *arguments):
    parts = []
    write = write_type(lambda context, data, count: parts.append(string_at(data, count)) or 0)
    do(function, *arguments, (c_void_p * 2)(None, c_void_p.from_buffer(write).value))
    return json.loads(b"".join(parts))


recipe = b"""return recipe { format = 1, name = "one row", takes = { { "line", "path" }, { "one", "stone" }, { "gap", "length" } },
  place = function (given) return run { along = given.line, stones = { given.one }, gap = given.gap } end }"""
tables = {1: b"tag,costume\none,neckline\n", 2: b"supplier,currency,shipping\nInvented Stones,EUR,4.50\n",
          3: b"supplier,stone,pack,price\nInvented Stones,ss20 black,1 gross,9.50\n", 6: b"rate,value\nlabour a gross,50.00\n"}
zones = b"zone,shape,length,recipe,stones,gap\nneckline,loop,34 cm,one row,ss20 black,0.5 mm\n"

club = make(host.girdle_club_new)
for kind, text in tables.items():
    do(paper.girdle_paper_read_club, club, kind, b"table", text, c_uint64(len(text)))
rows, count = make(paper.girdle_paper_read_zones, b"zones", zones, c_uint64(len(zones))), c_uint64()
limited = make(host.girdle_host_new, None)
do(host.girdle_host_add_source, limited, 1, b"one_row.lua", recipe, c_uint64(len(recipe)))
view = c_void_p(paper.girdle_zone_rows_view(rows, byref(count)))
do(host.girdle_host_zones, limited, b"zones", view, count, c_void_p(host.girdle_club_job(club, c_uint64(0))))
reckoning = make(host.girdle_club_reckon, club, c_int64(0))
counts = said(paper.girdle_paper_counts_json, None, c_void_p(host.girdle_reckoning_tally(reckoning)))
sums = said(paper.girdle_paper_club_json, club, reckoning)
print(f"count {counts['pieces']}\nmass_mg {counts['mass_g'][1] * 1000:.0f}\norder_minor {sums['order']['total_minor']}\n"
      f"quote_minor {sums['costumes'][0]['quote']['total_minor']}")
for name, handle in (("reckoning", reckoning), ("host", limited), ("club", club)):
    getattr(host, f"girdle_{name}_free")(handle)
paper.girdle_zone_rows_free(rows)
