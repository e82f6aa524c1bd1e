// girdle: counts, places, prices and plans flat-back stones on costumes.
// SPDX-License-Identifier: MIT. Copyright the girdle contributors.

// girdle from C++: handles in unique_ptr, statuses as exceptions. One neckline: its count, mass, order and quote.
// c++ -std=c++17 neckline.cpp $(pkg-config --cflags --libs girdle)

#include <cstdio>
#include <cstring>
#include <memory>
#include <stdexcept>

#include <girdle/girdle.h>

template <auto release>
struct Releaser {
  template <class T>
  void operator()(T *handle) const { release(handle); }
};
template <class T, auto release>
using Handle = std::unique_ptr<T, Releaser<release>>;
using Path = Handle<girdle_path, girdle_path_free>;
using Placement = Handle<girdle_placement, girdle_placement_free>;
using Tally = Handle<girdle_tally, girdle_tally_free>;
using Order = Handle<girdle_order, girdle_order_free>;

struct Call : girdle_call {
  girdle_error fault;
  Call() {
    girdle_call_init(this, sizeof(girdle_call));
    girdle_error_init(&fault, sizeof fault);
    error = &fault;
  }
  void check(int32_t status) const {
    if (status) throw std::runtime_error(fault.message);
  }
  template <class H, class Make>
  H make(Make function) {
    typename H::pointer handle = nullptr;
    check(function(this, &handle));
    return H(handle);
  }
};

int main() try {
  Call call;
  girdle_stone stone;
  call.check(girdle_stone_parse(&call, "ss20 black", &stone));

  girdle_run_options run;
  girdle_run_options_init(&run, sizeof run);
  run.stones = &stone, run.stone_count = 1, run.gap_mm = 0.5;
  auto loop = call.make<Path>([](girdle_call *c, girdle_path **out) { return girdle_path_loop(c, 340, out); });
  auto stones = call.make<Placement>([&](auto *c, auto **out) { return girdle_run(c, loop.get(), &run, out); });
  auto tally = call.make<Tally>([](auto *c, auto **out) { return girdle_tally_new(c, out); });
  call.check(girdle_tally_add(&call, tally.get(), "one", "neckline", "", 1, stones.get()));

  girdle_supplier supplier{};
  std::strcpy(supplier.name, "Invented Stones");
  call.check(girdle_currency_parse(&call, "EUR", &supplier.currency));
  supplier.shipping_minor = 450, supplier.free_from_minor = -1;
  girdle_price_row price{};
  std::strcpy(price.supplier, supplier.name), std::strcpy(price.pack, "1 gross");
  price.stone = stone, price.pack_pieces = 144, price.price_minor = 950, price.at_most = -1;
  girdle_order_options options;
  girdle_order_options_init(&options, sizeof options);
  options.prices = &price, options.price_count = 1, options.suppliers = &supplier, options.supplier_count = 1;
  auto order = call.make<Order>([&](auto *c, auto **out) { return girdle_order_plan(c, tally.get(), &options, out); });

  girdle_tally_line all;
  girdle_order_total cost;
  girdle_tally_total(tally.get(), &all);
  girdle_order_sum(order.get(), &cost);
  girdle_work_rates pace;
  girdle_work work;
  girdle_work_rates_init(&pace, sizeof pace);
  call.check(girdle_work_estimate(&call, tally.get(), &pace, &work));
  girdle_quote_rates rates;
  girdle_quote_rates_init(&rates, sizeof rates);
  rates.currency = cost.currency, rates.labour_minor = 5000;
  girdle_quote_input input;
  girdle_quote_input_init(&input, sizeof input);
  input.stones = all.count, input.materials_minor = cost.goods_minor, input.shipping_minor = cost.shipping_minor;
  input.work = &work;
  girdle_quote quote{};
  quote.struct_bytes = sizeof quote;
  call.check(girdle_quote_make(&call, &input, &rates, &quote));
  std::printf("count %lld\nmass_mg %.0f\norder_minor %lld\nquote_minor %lld\n", (long long)all.count,
              all.mass_mg[GIRDLE_NOMINAL], (long long)cost.total_minor, (long long)quote.total_minor);
} catch (const std::exception &fault) {
  std::fprintf(stderr, "%s\n", fault.what());
  return 1;
}
