// girdle: counts, places, prices and plans flat-back stones on costumes.
// SPDX-License-Identifier: MIT. Copyright the girdle contributors.

// girdle from Node by koffi, tables in and JSON out: one neckline, its count, mass, order and quote. argv[2] is the
// folder of the libraries.

const koffi = require('koffi');
const [host, paper] = ['host', 'paper'].map((name) => koffi.load(`${process.argv[2]}/libgirdle-${name}.so.0`));
const Call = koffi.struct('Call', { struct_bytes: 'uint32', reserved: 'uint32', hooks: koffi.array('void *', 4),
  error: 'void *', report: koffi.array('void *', 2) });
const Write = koffi.proto('int32 Write(void *context, void *bytes, uint64 count)');
const Sink = koffi.struct('Sink', { context: 'void *', write: koffi.pointer(Write) });

const place = 208, error = koffi.alloc('uint8', place + 256), call = koffi.alloc(Call, 1); // where, then what
host.func('void girdle_error_init(void *error, uint32 bytes)')(error, place + 256);
host.func('void girdle_call_init(void *call, uint32 bytes)')(call, koffi.sizeof(Call));
koffi.encode(call, Call, { ...koffi.decode(call, Call), error });

// A function of the library that may fail, by its declaration.
const fallible = (library, declared) => {
  const run = library.func(`int32 girdle_${declared}`);
  return (...values) => { if (run(call, ...values)) throw new Error(koffi.decode(error, place, 'char', -1)); };
};
const making = (library, declared) => {
  const run = fallible(library, declared);
  return (...values) => { const out = [null]; run(...values, out); return out[0]; };
};
const saying = (declared) => {
  const run = fallible(paper, declared);
  return (...values) => {
    const parts = [], keep = (context, bytes, count) => parts.push(koffi.decode(bytes, 'char', Number(count))) && 0;
    const write = koffi.register(keep, koffi.pointer(Write));
    run(...values, { context: null, write });
    koffi.unregister(write);
    return JSON.parse(parts.join(''));
  };
};

const recipe = `return recipe { format = 1, name = "one row", takes = { { "line", "path" }, { "one", "stone" }, { "gap", "length" } },
  place = function (given) return run { along = given.line, stones = { given.one }, gap = given.gap } end }`;
const tables = { 1: 'tag,costume\none,neckline\n', 2: 'supplier,currency,shipping\nInvented Stones,EUR,4.50\n',
  3: 'supplier,stone,pack,price\nInvented Stones,ss20 black,1 gross,9.50\n', 6: 'rate,value\nlabour a gross,50.00\n' };
const zones = 'zone,shape,length,recipe,stones,gap\nneckline,loop,34 cm,one row,ss20 black,0.5 mm\n';

const club = making(host, 'club_new(void *call, _Out_ void **out)')();
const read = fallible(paper, 'paper_read_club(void *call, void *club, int32 kind, str source, str text, uint64 bytes)');
for (const [kind, text] of Object.entries(tables)) read(club, Number(kind), 'table', text, text.length);
const rows = making(paper, 'paper_read_zones(void *call, str source, str text, uint64 bytes, _Out_ void **out)')(
  'zones', zones, zones.length);
const limited = making(host, 'host_new(void *call, void *options, _Out_ void **out)')(null);
fallible(host, 'host_add_source(void *call, void *host, int32 layer, str file, str text, uint64 bytes)')(
  limited, 1, 'one_row.lua', recipe, recipe.length);
const count = [0], view = paper.func('void *girdle_zone_rows_view(void *rows, _Out_ uint64 *count)')(rows, count);
const job = host.func('void *girdle_club_job(void *club, uint64 index)')(club, 0);
fallible(host, 'host_zones(void *call, void *host, str source, void *rows, uint64 count, void *job)')(
  limited, 'zones', view, count[0], job);
const reckoning = making(host, 'club_reckon(void *call, void *club, int64 today, _Out_ void **out)')(club, 0);
const tally = host.func('void *girdle_reckoning_tally(void *reckoning)')(reckoning);
const counts = saying('paper_counts_json(void *call, void *job, void *tally, Sink *sink)')(null, tally);
const sums = saying('paper_club_json(void *call, void *club, void *reckoning, Sink *sink)')(club, reckoning);
console.log(`count ${counts.pieces}\nmass_mg ${(counts.mass_g[1] * 1000).toFixed(0)}\n` +
  `order_minor ${sums.order.total_minor}\nquote_minor ${sums.costumes[0].quote.total_minor}`);
for (const [name, handle] of [['reckoning', reckoning], ['host', limited], ['club', club]])
  host.func(`void girdle_${name}_free(void *handle)`)(handle);
paper.func('void girdle_zone_rows_free(void *rows)')(rows);
