// girdle: counts, places, prices and plans flat-back stones on costumes.
// SPDX-License-Identifier: MIT. Copyright the girdle contributors.

// girdle from Node by koffi: one neckline, its count, mass, order and quote. argv[2] is the library.

const koffi = require('koffi');
const lib = koffi.load(process.argv[2]);
const text = (bytes) => koffi.array('char', bytes, 'String');
const three = koffi.array('double', 3, 'Array');

const Error_ = koffi.struct('Error', { struct_bytes: 'uint32', status: 'int32', line: 'int32', column: 'int32',
  byte: 'int64', value: 'double', least: 'double', most: 'double', field: text(48), source: text(64),
  nearest: text(48), message: text(256) });
const Call = koffi.struct('Call', { struct_bytes: 'uint32', reserved: 'uint32', memory: koffi.array('void *', 2),
  watch: koffi.array('void *', 2), error: 'void *', report: koffi.array('void *', 2) });
const Stone = koffi.struct('Stone', { size: text(16), colour: text(48), finish: text(16), material: text(24),
  cut: text(24), diameter_mm: three, height_mm: 'double', mass_mg: three, length_ratio: 'double', outline: 'int32',
  fix: 'int32', reserved: koffi.array('uint32', 4) });
const Currency = koffi.struct('Currency', { code: text(4), exponent: 'int32' });
const Run = koffi.struct('Run', { struct_bytes: 'uint32', flags: 'uint32', stones: 'void *', stone_count: 'uint64',
  gap_mm: 'double', count: 'int64', clear_of: 'void *', corner_deg: 'double', turn_deg: 'double', leave: 'void *',
  leave_count: 'uint64' });
const Line = koffi.struct('Line', { tag: text(32), zone: text(64), side: text(16), stone: Stone, count: 'int64',
  mass_mg: three, covered_mm2: 'double' });
const Price = koffi.struct('Price', { supplier: text(48), stone: Stone, pack: text(32), pack_pieces: 'int64',
  price_minor: 'int64', item: text(48), at_most: 'int64', sold_out: 'int32', reserved: 'int32' });
const Supplier = koffi.struct('Supplier', { name: text(48), currency: Currency, shipping_minor: 'int64',
  free_from_minor: 'int64', least_order_minor: 'int64', delivery_days: 'int32', reserved: 'int32' });
// the head is all that is set here; struct_bytes tells the library how much there is
const Options = koffi.struct('Options', { struct_bytes: 'uint32', flags: 'uint32', lost_share: 'double',
  kit_pieces: 'int64', prices: 'void *', price_count: 'uint64', suppliers: 'void *', supplier_count: 'uint64' });
const Total = koffi.struct('Total', { currency: Currency, goods: 'int64', shipping: 'int64', total: 'int64',
  bound: 'int64', unpriced: 'int64' });
const Rates = koffi.struct('Rates', { struct_bytes: 'uint32', labour_by: 'int32', currency: Currency,
  labour_minor: 'int64' });
const Asked = koffi.struct('Asked', { struct_bytes: 'uint32', reserved: 'uint32', stones: 'int64', materials: 'int64',
  shipping: 'int64', unpriced: 'int64', work: 'void *' });
const Quote = koffi.struct('Quote', { struct_bytes: 'uint32', incomplete: 'int32', currency: Currency,
  lines: koffi.array('uint8', 12 * 120), line_count: 'uint64', net: 'int64', tax: 'int64', total: 'int64',
  deposit: 'int64', balance: 'int64', cost: 'int64', valid_until_day: 'int64' });

const room = (type, value) => { const at = koffi.alloc(type, 1); if (value) koffi.encode(at, type, value); return at; };
const read = (at, type) => koffi.decode(at, type);
const f = (name, result, ...types) => lib.func(name, result, types);
function begin(name, type) {
  const at = room(type);
  f(name, 'void', 'void *', 'uint32')(at, koffi.sizeof(type));
  return at;
}

const error = begin('girdle_error_init', Error_);
const call = begin('girdle_call_init', Call);
koffi.encode(call, Call, { ...read(call, Call), error });
const check = (status) => { if (status) throw new Error(read(error, Error_).message); };
function make(name, types, ...values) {
  const out = [null];
  check(f(name, 'int32', 'void *', ...types, koffi.out('void **'))(call, ...values, out));
  return out[0];
}
const changed = (at, type, values) => { koffi.encode(at, type, { ...read(at, type), ...values }); return at; };

const stone = room(Stone);
check(f('girdle_stone_parse', 'int32', 'void *', 'str', 'void *')(call, 'ss20 black', stone));
const run = changed(begin('girdle_run_options_init', Run), Run, { stones: stone, stone_count: 1, gap_mm: 0.5 });
const loop = make('girdle_path_loop', ['double'], 340);
const stones = make('girdle_run', ['void *', 'void *'], loop, run);
const tally = make('girdle_tally_new', []);
check(f('girdle_tally_add', 'int32', 'void *', 'void *', 'str', 'str', 'str', 'int64', 'void *')(
  call, tally, 'one', 'neckline', '', 1, stones));

const supplier = room(Supplier, { name: 'Invented Stones', currency: { code: 'EUR', exponent: 2 }, shipping_minor: 450,
  free_from_minor: -1, least_order_minor: 0, delivery_days: 0, reserved: 0 });
const price = room(Price, { supplier: 'Invented Stones', stone: read(stone, Stone), pack: '1 gross', pack_pieces: 144,
  price_minor: 950, item: '', at_most: -1, sold_out: 0, reserved: 0 });
const options = changed(begin('girdle_order_options_init', Options), Options,
  { prices: price, price_count: 1, suppliers: supplier, supplier_count: 1 });
const order = make('girdle_order_plan', ['void *', 'void *'], tally, options);

const lineAt = room(Line), totalAt = room(Total);
f('girdle_tally_total', 'void', 'void *', 'void *')(tally, lineAt);
f('girdle_order_sum', 'void', 'void *', 'void *')(order, totalAt);
const line = read(lineAt, Line), total = read(totalAt, Total);

const pace = koffi.alloc('uint8', 256), work = koffi.alloc('uint8', 256); // only handed on
f('girdle_work_rates_init', 'void', 'void *', 'uint32')(pace, 256);
check(f('girdle_work_estimate', 'int32', 'void *', 'void *', 'void *', 'void *')(call, tally, pace, work));
const rates = changed(begin('girdle_quote_rates_init', Rates), Rates, { currency: total.currency, labour_minor: 5000 });
const asked = changed(begin('girdle_quote_input_init', Asked), Asked,
  { stones: line.count, materials: total.goods, shipping: total.shipping, work });
const quote = room(Quote);
check(f('girdle_quote_make', 'int32', 'void *', 'void *', 'void *', 'void *')(call, asked, rates, quote));

console.log(`count ${line.count}\nmass_mg ${line.mass_mg[1].toFixed(0)}\norder_minor ${total.total}\n` +
  `quote_minor ${read(quote, Quote).total}`);
for (const [name, handle] of [['order', order], ['tally', tally], ['placement', stones], ['path', loop]])
  f(`girdle_${name}_free`, 'void', 'void *')(handle);
