// girdle: counts, places, prices and plans flat-back stones on costumes.
// SPDX-License-Identifier: MIT. Copyright the girdle contributors.

// girdle from C++: handles in unique_ptr, statuses as exceptions. One neckline: its count, mass, order and quote.
// c++ -std=c++17 neckline.cpp $(pkg-config --cflags --libs girdle)

#include <cstdio>
#include <cstring>
#include <memory>
#include <stdexcept>

#include <girdle/girdle.h>

struct Call : girdle_call {
  girdle_error fault;
  Call() {
    girdle_call_init(this, sizeof(girdle_call));
    girdle_error_init(&fault, sizeof fault);
    error = &fault;
  }
  template <class F, class... A>
  void run(F function, A... arguments) {
    if (function(this, arguments...)) throw std::runtime_error(fault.message);
  }
  template <class T, class F, class... A>
  std::unique_ptr<T, void (*)(T *)> make(void (*release)(T *), F function, A... arguments) {
    T *handle = nullptr;
    run(function, arguments..., &handle);
    return {handle, release};
  }
};

int main() try {
  Call call;
  girdle_run_options options;
  girdle_stone stone;
  girdle_run_options_init(&options, sizeof options);
  call.run(girdle_stone_parse, "ss20 black", &stone);
  options.stones = &stone, options.stone_count = 1, options.gap_mm = 0.5;
  auto loop = call.make(girdle_path_free, girdle_path_loop, 340);
  auto stones = call.make(girdle_placement_free, girdle_run, loop.get(), &options);

  girdle_job_head head;
  girdle_zone zone;
  girdle_job_head_init(&head, sizeof head), std::strcpy(head.tag, "one");
  girdle_zone_init(&zone, sizeof zone), std::strcpy(zone.name, "neckline"), zone.placement = stones.get();
  auto job = call.make(girdle_job_free, girdle_job_new, &head);
  call.run(girdle_job_add_zone, job.get(), &zone);

  girdle_supplier supplier{"Invented Stones", {"EUR", 2}, 450, -1, 0, 0, 0};
  girdle_price_row price{"Invented Stones", stone, "1 gross", 144, 950, "", -1, 0, 0};
  auto club = call.make(girdle_club_free, girdle_club_new);
  call.run(girdle_club_add_supplier, club.get(), &supplier);
  call.run(girdle_club_add_price, club.get(), &price);
  call.run(girdle_club_set_rate, club.get(), "labour a gross", "50.00");
  call.run(girdle_club_add_job, club.get(), job.get());
  job.release(); // it is the club's now
  auto reckoning = call.make(girdle_reckoning_free, girdle_club_reckon, club.get(), 0);

  girdle_tally_line all;
  girdle_order_total cost;
  girdle_tally_total(girdle_reckoning_tally(reckoning.get()), &all);
  girdle_order_sum(girdle_reckoning_order(reckoning.get()), &cost);
  std::printf("count %lld\nmass_mg %.0f\norder_minor %lld\nquote_minor %lld\n", (long long)all.count,
              all.mass_mg[GIRDLE_NOMINAL], (long long)cost.total_minor,
              (long long)girdle_reckoning_quote(reckoning.get(), 0)->total_minor);
} catch (const std::exception &fault) {
  std::fprintf(stderr, "%s\n", fault.what());
  return 1;
}
