/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

#include "common.h"
#include "girdle/host.h"
#include "girdle/paper.h"

/* Small calls of every room: what they give, and that they leave nothing behind when memory is refused. Each test is
 * run again and again with the 1st, 2nd, ... allocation refused, until one run has all it asks for. */

#define SWEEP_TEST(name)                         \
  static int32_t name##_work(girdle_call *call); \
  static void name(void **state) {               \
    (void)state;                                 \
    test_sweep_allocations(name##_work);         \
  }                                              \
  static int32_t name##_work(girdle_call *call)

/* ---- shapes */

static const girdle_lie flat = {0, 0}, wider = {1, 0};

SWEEP_TEST(angle_as_turns_with_the_fabric) {
  double angle = 0, gap = 0;
  GIRDLE_TRY(girdle_angle_as(call, 45, &flat, &wider, &angle));
  assert_near(angle, 26.565051177077990, 1e-9); /* atan 1/2 */
  GIRDLE_TRY(girdle_gap_as(call, 2, 0, &flat, &wider, &gap));
  assert_near(gap, 4, 1e-9);
  return GIRDLE_OK;
}

SWEEP_TEST(path_joined_keeps_both) {
  girdle_path *first = NULL, *second = NULL, *both = NULL;
  int32_t status = girdle_path_line(call, 100, &first);
  if (!status) status = girdle_path_line(call, 50, &second);
  if (!status) status = girdle_path_joined(call, first, second, &both);
  if (!status) assert_near(girdle_path_length_mm(both), 150, 1e-9);
  if (!status) assert_int_equal(girdle_path_subpaths(both), 2);
  girdle_path_free(both);
  girdle_path_free(second);
  girdle_path_free(first);
  return status;
}

SWEEP_TEST(path_reversed_begins_at_the_end) {
  girdle_path *path = NULL, *back = NULL;
  girdle_point_on point;
  girdle_turn turn;
  double along, distance;
  uint64_t turns = 9;
  int32_t status = girdle_path_line(call, 100, &path);
  if (!status) status = girdle_path_reversed(call, path, &back);
  if (!status) status = girdle_path_at(call, back, 0, &point);
  if (!status) assert_near(point.x_mm, 100, 1e-9);
  if (!status) status = girdle_path_nearest(call, back, 30, 4, &along, &distance);
  if (!status) assert_near(along, 70, 1e-9);
  if (!status) status = girdle_path_turns(call, back, 10, &turn, 1, &turns);
  if (!status) assert_int_equal(turns, 0);
  girdle_path_free(back);
  girdle_path_free(path);
  return status;
}

SWEEP_TEST(path_from_tape_is_the_rim) {
  const double sides[] = {100, 200};
  girdle_path *rim = NULL;
  GIRDLE_TRY(girdle_path_from_tape(call, "rectangle", sides, 2, &rim));
  assert_near(girdle_path_length_mm(rim), 600, 1e-9);
  girdle_path_free(rim);
  return GIRDLE_OK;
}

static void take_area(girdle_region **region, double area) {
  assert_near(girdle_region_area_mm2(*region), area, 1e-9 * area);
  girdle_region_free(*region);
  *region = NULL;
}

SWEEP_TEST(region_from_tape_is_what_it_says) {
  const double sides[] = {100, 200};
  girdle_region *region;
  GIRDLE_TRY(girdle_region_from_tape(call, "rectangle", sides, 2, &region));
  take_area(&region, 20000);
  GIRDLE_TRY(girdle_region_oval(call, 80, 60, &region));
  take_area(&region, 3.14159265358979323846 / 4 * 80 * 60);
  return GIRDLE_OK;
}
SWEEP_TEST(region_rectangle_has_its_area) {
  girdle_region *region;
  GIRDLE_TRY(girdle_region_rectangle(call, 100, 200, &region));
  take_area(&region, 20000);
  return GIRDLE_OK;
}
SWEEP_TEST(region_strip_has_its_area) {
  girdle_region *region;
  GIRDLE_TRY(girdle_region_strip(call, 600, 40, &region));
  take_area(&region, 24000);
  return GIRDLE_OK;
}
SWEEP_TEST(region_trapezoid_has_its_area) {
  girdle_region *region;
  GIRDLE_TRY(girdle_region_trapezoid(call, 200, 300, 150, &region));
  take_area(&region, 37500);
  return GIRDLE_OK;
}

typedef int32_t change_of_region(girdle_call *call, const girdle_region *from, girdle_region **out);
static int32_t changed(girdle_call *call, change_of_region *change, double area) {
  girdle_region *from, *to = NULL;
  int32_t status;
  GIRDLE_TRY(girdle_region_rectangle(call, 100, 200, &from));
  status = change(call, from, &to);
  girdle_region_free(from);
  if (!status) take_area(&to, area);
  return status;
}
static int32_t stretch(girdle_call *call, const girdle_region *from, girdle_region **out) {
  return girdle_region_stretched(call, from, &flat, &wider, out);
}
static int32_t transform(girdle_call *call, const girdle_region *from, girdle_region **out) {
  static const double matrix[6] = {2, 0, 0, 3, 5, 7};
  return girdle_region_transformed(call, from, matrix, out);
}
static int32_t rim_and_back(girdle_call *call, const girdle_region *from, girdle_region **out) {
  girdle_path *rim = NULL;
  int32_t status = girdle_region_rim(call, from, &rim);
  if (!status) assert_near(girdle_path_length_mm(rim), 600, 1e-9);
  if (!status) status = girdle_region_new(call, rim, GIRDLE_NONZERO, out);
  girdle_path_free(rim);
  return status;
}
SWEEP_TEST(region_stretched_grows_with_the_fabric) {
  return changed(call, stretch, 40000);
}
SWEEP_TEST(region_transformed_grows_both_ways) {
  return changed(call, transform, 120000);
}
SWEEP_TEST(region_rim_makes_the_region_again) {
  return changed(call, rim_and_back, 20000);
}

/* ---- stones and placements */

SWEEP_TEST(stone_parse_own_knows_the_users_sizes) {
  const girdle_size sizes[] = {{"big6", {5.9, 6, 6.1}, 0, 0}};
  girdle_catalogue own = {.struct_bytes = sizeof own, .sizes = sizes, .size_count = 1};
  girdle_stone stone, weighed;
  girdle_size found, likely[2];
  uint64_t count;
  GIRDLE_TRY(girdle_catalogue_check(call, &own));
  GIRDLE_TRY(girdle_stone_parse_own(call, "big6 red", &own, &stone));
  assert_near(stone.diameter_mm[GIRDLE_NOMINAL], 6, 1e-12);
  GIRDLE_TRY(girdle_stone_weigh(call, &stone, 144, 14400, 10, &weighed, NULL));
  assert_near(weighed.mass_mg[GIRDLE_NOMINAL], 100, 1e-9);
  GIRDLE_TRY(girdle_size_parse(call, "ss20", &found));
  GIRDLE_TRY(girdle_size_likely(call, 4.7, 0.05, NULL, likely, 2, &count));
  assert_true(count >= 1);
  return GIRDLE_OK;
}

SWEEP_TEST(stone_make_and_its_solid) {
  uint64_t cuts;
  const girdle_cut *cut = girdle_cuts(&cuts);
  girdle_stone_spec spec;
  girdle_stone stone;
  girdle_solid *solid;
  girdle_stone_spec_init(&spec, sizeof spec);
  spec.size = "ss20";
  GIRDLE_TRY(girdle_stone_make(call, &spec, &stone));
  GIRDLE_TRY(girdle_solid_new(call, cut, GIRDLE_NOMINAL, GIRDLE_ROUND, 1, 4.7, &solid));
  girdle_solid_free(solid);
  return GIRDLE_OK;
}

static int32_t some_run(girdle_call *call, girdle_placement **out) {
  girdle_run_options options;
  girdle_stone stone;
  girdle_path *path = NULL;
  int32_t status = girdle_stone_parse(call, "ss20 black", &stone);
  girdle_run_options_init(&options, sizeof options);
  options.stones = &stone, options.stone_count = 1, options.gap_mm = 0.5;
  if (!status) status = girdle_path_line(call, 300, &path);
  if (!status) status = girdle_run(call, path, &options, out);
  girdle_path_free(path);
  return status;
}

SWEEP_TEST(placement_copy_outlives_what_was_copied) {
  girdle_placement *first = NULL, *copy = NULL;
  const girdle_placed *records;
  int64_t count = 0;
  int32_t status = some_run(call, &first);
  if (!status) status = girdle_placement_copy(call, first, &copy);
  if (!status) count = girdle_placement_view(first, NULL, NULL, NULL);
  girdle_placement_free(first);
  if (status) return status;
  assert_true(count > 50);
  assert_int_equal(girdle_placement_view(copy, &records, NULL, NULL), count);
  assert_near(records[count - 1].x_mm, 300, 1e-3);
  girdle_placement_free(copy);
  return GIRDLE_OK;
}

SWEEP_TEST(placement_notes_fit_the_callers_size) {
  girdle_placement *placement = NULL;
  girdle_notes notes;
  memset(&notes, 0, sizeof notes);
  GIRDLE_TRY(some_run(call, &placement));
  assert_int_equal(girdle_placement_notes(call, placement, &notes), GIRDLE_ARGUMENT);
  girdle_error_init(call->error, sizeof *call->error);
  notes.struct_bytes = offsetof(girdle_notes, gap_mm);
  assert_int_equal(girdle_placement_notes(call, placement, &notes), GIRDLE_OK);
  assert_true(notes.gap_mm == 0); /* beyond the size told */
  notes.struct_bytes = sizeof notes;
  assert_int_equal(girdle_placement_notes(call, placement, &notes), GIRDLE_OK);
  assert_true(notes.gap_mm > 0.4 && notes.gap_mm < 0.6);
  girdle_placement_free(placement);
  return GIRDLE_OK;
}

SWEEP_TEST(zone_split_gives_all_of_it) {
  girdle_placement *both = NULL, *front = NULL, *back = NULL;
  int32_t status = some_run(call, &both);
  if (!status) status = girdle_zone_split(call, both, &front, &back);
  if (!status)
    assert_int_equal(girdle_placement_view(front, NULL, NULL, NULL) + girdle_placement_view(back, NULL, NULL, NULL),
                     girdle_placement_view(both, NULL, NULL, NULL));
  girdle_placement_free(front);
  girdle_placement_free(back);
  girdle_placement_free(both);
  return status;
}

SWEEP_TEST(counts_without_a_shape_agree) {
  girdle_stone stone;
  girdle_count along, over;
  GIRDLE_TRY(girdle_stone_parse(call, "ss20", &stone));
  GIRDLE_TRY(girdle_count_along(call, 300, 0, &stone, 1, 0.5, &along));
  assert_true(along.least <= along.expected && along.expected <= along.most);
  GIRDLE_TRY(girdle_count_over(call, 20000, 600, 0, &stone, 0.5, GIRDLE_HONEYCOMB, &over));
  assert_true(over.least <= over.expected && over.expected <= over.most);
  return GIRDLE_OK;
}

/* ---- tallies, work, quotes */

SWEEP_TEST(tally_new_is_empty) {
  girdle_tally *tally;
  uint64_t count = 9;
  GIRDLE_TRY(girdle_tally_new(call, &tally));
  girdle_tally_lines(tally, &count);
  assert_int_equal(count, 0);
  girdle_tally_free(tally);
  return GIRDLE_OK;
}

static int32_t dozen(girdle_call *call, girdle_stone *stone, girdle_tally **tally) {
  int32_t status = girdle_stone_parse(call, "ss20 black", stone);
  if (!status) status = girdle_tally_new(call, tally);
  if (!status) status = girdle_tally_add_pieces(call, *tally, "one", "hem", "", stone, 12);
  return status;
}

SWEEP_TEST(tally_add_pieces_adds_up_and_is_weighed) {
  girdle_stone stone, weighed;
  girdle_tally *tally = NULL;
  girdle_tally_line all;
  int32_t status = dozen(call, &stone, &tally);
  if (!status) status = girdle_tally_add_pieces(call, tally, "one", "hem", "", &stone, 12);
  if (!status) status = girdle_stone_weigh(call, &stone, 144, 14400, 0, &weighed, NULL);
  if (!status) {
    girdle_tally_reweigh(tally, &weighed, 1);
    girdle_tally_total(tally, &all);
    assert_int_equal(all.count, 24);
    assert_near(all.mass_mg[GIRDLE_NOMINAL], 2400, 1e-6);
  }
  girdle_tally_free(tally);
  return status;
}

SWEEP_TEST(work_and_quotes_of_a_dozen) {
  girdle_stone stone;
  girdle_tally *tally = NULL;
  girdle_work_rates pace;
  girdle_work work;
  girdle_quote_rates rates;
  girdle_quote_input input;
  girdle_quote_self_input self;
  girdle_quote quote;
  girdle_quote_self alone;
  int32_t status = dozen(call, &stone, &tally);
  girdle_work_rates_init(&pace, sizeof pace);
  girdle_quote_rates_init(&rates, sizeof rates);
  girdle_quote_input_init(&input, sizeof input);
  girdle_quote_self_input_init(&self, sizeof self);
  input.stones = 12, input.work = self.work = &work;
  if (!status) status = girdle_work_estimate(call, tally, &pace, &work);
  if (!status) assert_int_equal(work.glued, 12);
  if (!status) status = girdle_quote_make(call, &input, &rates, &quote);
  if (!status) assert_int_equal(quote.net_minor + quote.tax_minor, quote.total_minor);
  if (!status) status = girdle_quote_self_make(call, &self, &rates, &alone);
  girdle_tally_free(tally);
  return status;
}

SWEEP_TEST(money_and_numbers_need_no_memory) {
  const girdle_currency euro = {"EUR", 2};
  const int64_t weights[] = {1, 2};
  int64_t minor, parts[2], pieces;
  double value;
  GIRDLE_TRY(girdle_money_parse(call, "12.50", &euro, &minor));
  GIRDLE_TRY(girdle_money_share(call, minor, 1, 4, &minor));
  GIRDLE_TRY(girdle_stock_weighed(call, 52000, 20, 1150, &pieces));
  assert_int_equal(minor, 312); /* 3.125, half to even */
  GIRDLE_TRY(girdle_money_split(call, 100, weights, 2, parts));
  assert_int_equal(parts[0] + parts[1], 100);
  GIRDLE_TRY(girdle_labour_by_gross(call, 360, 5000, &minor));
  assert_int_equal(minor, 12500);
  GIRDLE_TRY(girdle_number_parse(call, "1.5", 3, &value));
  GIRDLE_TRY(girdle_quantity_parse(call, "1 1/2 in", GIRDLE_LENGTH, &value));
  assert_near(value, 38.1, 1e-12);
  GIRDLE_TRY(girdle_pieces_parse(call, "2 1/2 gross", &pieces));
  assert_int_equal(pieces, 360);
  return GIRDLE_OK;
}

/* ---- the log */

/* The binomial distribution by its own terms. */
static double more_than(int64_t most, int64_t pieces, double share) {
  double term = pow(1 - share, (double)pieces), below = 0;
  for (int64_t k = 0; k <= most; k++) {
    below += term;
    term *= (double)(pieces - k) / (double)(k + 1) * share / (1 - share);
  }
  return 1 - below;
}

SWEEP_TEST(chance_short_is_the_binomial_tail) {
  double chance, confidence;
  int64_t spares;
  GIRDLE_TRY(girdle_chance_short(call, 100, 0.05, 5, &chance));
  assert_near(chance, more_than(5, 100, 0.05), 1e-9);
  GIRDLE_TRY(girdle_spares(call, 100, 0.05, 0.95, &spares));
  assert_true(more_than(spares, 100, 0.05) <= 0.05 && more_than(spares - 1, 100, 0.05) > 0.05);
  GIRDLE_TRY(girdle_worthwhile_confidence(call, 300, 100, &confidence));
  assert_near(confidence, 0.75, 1e-12);
  return GIRDLE_OK;
}

SWEEP_TEST(repair_kit_is_never_below_the_least) {
  int64_t pieces;
  GIRDLE_TRY(girdle_repair_kit(call, 100, 0, 0.95, 3, &pieces));
  assert_int_equal(pieces, 3);
  GIRDLE_TRY(girdle_repair_kit(call, 1000, 0.02, 0.95, 3, &pieces));
  assert_true(pieces > 20);
  return GIRDLE_OK;
}

SWEEP_TEST(log_card_tells_what_was_lost) {
  girdle_stone stone;
  girdle_log_row rows[2];
  girdle_learned learned;
  girdle_forecast forecast;
  const double ratios[] = {1.05, 1.1, 1.02};
  GIRDLE_TRY(girdle_stone_parse(call, "ss20", &stone));
  GIRDLE_TRY(girdle_log_card(call, "A1", &stone, 100, 20, 144, 50, &rows[0]));
  assert_int_equal(rows[0].planned, 100);
  assert_int_equal(rows[0].lost, 14); /* 20 + 144 - 50 taken, 100 planned */
  GIRDLE_TRY(girdle_log_remembered(call, "A2", 500, 3, &rows[1]));
  GIRDLE_TRY(girdle_learn(call, rows, 2, 0.05, 3, &learned));
  assert_int_equal(learned.jobs, 2);
  return girdle_forecast_ratio(call, ratios, 3, 1.05, 2, 0.1, 0.95, &forecast);
}

/* ---- clubs and jobs */

static int32_t club_of_one(girdle_call *call, girdle_club **club) {
  girdle_job_head head;
  girdle_job *job = NULL;
  int32_t status = girdle_club_new(call, club);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "A1");
  strcpy(head.size, "M");
  if (!status) status = girdle_job_new(call, &head, &job);
  if (!status) status = girdle_club_add_job(call, *club, job);
  if (status) girdle_job_free(job);
  return status;
}

SWEEP_TEST(club_new_has_no_jobs) {
  girdle_club *club;
  GIRDLE_TRY(girdle_club_new(call, &club));
  assert_int_equal(girdle_club_jobs(club), 0);
  assert_null(girdle_club_job(club, 0));
  girdle_club_free(club);
  return GIRDLE_OK;
}

SWEEP_TEST(club_set_size_fits_the_wearers) {
  girdle_club *club = NULL;
  const girdle_measure *measures;
  uint64_t count;
  int32_t status = club_of_one(call, &club);
  if (!status) status = girdle_club_set_size(call, club, "M", "neckline", 340);
  if (!status) status = girdle_club_fit_sizes(call, club);
  if (!status) {
    measures = girdle_job_measures(girdle_club_job(club, 0), &count);
    assert_int_equal(count, 1);
    assert_string_equal(measures[0].name, "neckline");
    assert_near(measures[0].mm, 340, 1e-12);
  }
  girdle_club_free(club);
  return status;
}

static int32_t add_rows(girdle_call *call, girdle_club *club) {
  girdle_stock_row stock;
  girdle_log_row log;
  girdle_supplier supplier;
  girdle_price_row price;
  memset(&stock, 0, sizeof stock);
  memset(&supplier, 0, sizeof supplier);
  memset(&price, 0, sizeof price);
  strcpy(supplier.name, "Invented Stones"), strcpy(price.supplier, supplier.name), strcpy(price.pack, "1 gross");
  price.pack_pieces = 144, price.price_minor = 950, price.at_most = -1;
  GIRDLE_TRY(girdle_stone_parse(call, "ss20 black", &stock.stone));
  stock.pieces = 40, price.stone = stock.stone;
  GIRDLE_TRY(girdle_currency_parse(call, "EUR", &supplier.currency));
  GIRDLE_TRY(girdle_log_remembered(call, "A0", 500, 3, &log));
  GIRDLE_TRY(girdle_club_add_stock(call, club, &stock));
  GIRDLE_TRY(girdle_club_add_log(call, club, &log));
  GIRDLE_TRY(girdle_club_add_supplier(call, club, &supplier));
  GIRDLE_TRY(girdle_club_add_price(call, club, &price));
  return girdle_club_set_item(call, club, "Invented Stones", "black", "K");
}

SWEEP_TEST(club_add_stock_keeps_a_copy) {
  girdle_club *club = NULL;
  uint64_t count;
  int32_t status = club_of_one(call, &club);
  if (!status) status = add_rows(call, club);
  if (!status) {
    assert_int_equal(girdle_club_stock(club, &count)->pieces, 40);
    assert_int_equal(count, 1);
    assert_string_equal(girdle_club_prices(club, &count)->item, "K");
  }
  girdle_club_free(club);
  return status;
}

SWEEP_TEST(club_add_log_teaches_the_reckoning) {
  girdle_club *club = NULL;
  girdle_reckoning *reckoning = NULL;
  int32_t status = club_of_one(call, &club);
  if (!status) status = add_rows(call, club);
  if (!status) status = girdle_club_reckon(call, club, 0, &reckoning);
  if (!status) assert_int_equal(girdle_reckoning_learned(reckoning)->jobs, 1);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
  return status;
}

static int32_t weighed_job(girdle_call *call, girdle_job *job) {
  const girdle_fabric fabric = {200, 0, 0, NAN, NAN};
  const int64_t pieces = 12;
  girdle_stone stone, weighed;
  girdle_zone zone;
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "hem");
  GIRDLE_TRY(girdle_stone_parse(call, "ss20 black", &stone));
  zone.already = &stone, zone.already_pieces = &pieces, zone.already_count = 1;
  GIRDLE_TRY(girdle_job_set_fabric(call, job, &fabric));
  GIRDLE_TRY(girdle_job_add_zone(call, job, &zone));
  GIRDLE_TRY(girdle_stone_weigh(call, &stone, 144, 14400, 0, &weighed, NULL));
  return girdle_job_set_weighed(call, job, &weighed, 1);
}

SWEEP_TEST(job_set_weighed_goes_into_the_tally) {
  girdle_job_head head;
  girdle_job *job = NULL;
  girdle_tally *tally = NULL;
  girdle_tally_line all;
  int32_t status;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "A1");
  status = girdle_job_new(call, &head, &job);
  if (!status) status = weighed_job(call, job);
  if (!status) status = girdle_job_tally(call, job, &tally);
  if (!status) {
    girdle_tally_total(tally, &all);
    assert_near(all.mass_mg[GIRDLE_NOMINAL], 1200, 1e-6);
  }
  girdle_tally_free(tally);
  girdle_job_free(job);
  return status;
}

SWEEP_TEST(opening_and_measures_need_no_memory) {
  girdle_opening opening;
  girdle_opening_check check;
  uint64_t index;
  girdle_opening_init(&opening, sizeof opening);
  opening.ring_mm = 300, opening.through_mm = 350, opening.stretch_most = 0.5, opening.diameter_mm = 4.7,
  opening.gap_mm = 5;
  GIRDLE_TRY(girdle_opening_try(call, &opening, &check));
  assert_int_equal(check.passes, 1);
  GIRDLE_TRY(girdle_measure_find(call, "Upper_Arm girth", &index));
  assert_string_equal(girdle_measure_name(index), "upper-arm");
  return GIRDLE_OK;
}

/* ---- the outer libraries */

static const char costume[] =
    "return costume { format = 1, name = 'frost', outlines = 'frost.svg', zones = function (m, outline) return { zone "
    "{\n"
    "  'cuff', placement = run { along = outline.cuff, stones = 'ss16' } } } end }";

static int32_t describe(girdle_call *call, girdle_host *host) {
  girdle_recipe_sheet *sheet;
  GIRDLE_TRY(girdle_host_add_source(call, host, GIRDLE_LAYER_COSTUME, "frost.lua", costume, sizeof costume - 1));
  GIRDLE_TRY(girdle_host_describe(call, host, "frost", &sheet));
  assert_string_equal(girdle_recipe_sheet_outlines(sheet), "frost.svg");
  girdle_recipe_sheet_free(sheet);
  return GIRDLE_OK;
}

SWEEP_TEST(host_new_takes_the_defaults_and_host_clear_forgets) {
  girdle_host *host;
  girdle_recipe_sheet *sheet;
  int32_t status;
  GIRDLE_TRY(girdle_host_new(call, NULL, &host));
  status = describe(call, host);
  girdle_host_clear(host, GIRDLE_LAYER_COSTUME);
  if (!status) status = girdle_host_describe(call, host, "frost", &sheet);
  girdle_host_free(host);
  if (status == GIRDLE_MEMORY) return status;
  assert_int_equal(status, GIRDLE_UNKNOWN);
  return GIRDLE_OK;
}

static int32_t work_cuff(girdle_call *call, girdle_host *host, girdle_job *job) {
  girdle_outline cuff = {.name = "cuff"};
  girdle_path *path;
  int32_t status;
  GIRDLE_TRY(girdle_path_loop(call, 140, &path));
  cuff.path = path;
  status = girdle_host_add_outlines(call, host, "frost.svg", &cuff, 1);
  girdle_path_free(path);
  if (!status)
    status = girdle_host_add_source(call, host, GIRDLE_LAYER_COSTUME, "frost.lua", costume, sizeof costume - 1);
  return status ? status : girdle_host_costume(call, host, "frost", job);
}

SWEEP_TEST(host_add_outlines_copies_the_paths) {
  girdle_job_head head;
  girdle_job *job = NULL;
  girdle_host *host = NULL;
  uint64_t zones;
  int32_t status = girdle_host_new(call, NULL, &host);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "A1");
  if (!status) status = girdle_job_new(call, &head, &job);
  if (!status) status = work_cuff(call, host, job);
  if (!status) assert_true(girdle_placement_view(girdle_job_zones(job, &zones)->placement, NULL, NULL, NULL) > 20);
  girdle_job_free(job);
  girdle_host_free(host);
  return status;
}

static void libraries_tell_their_versions(void **state) {
  char host[64], paper[128], little[4];
  uint64_t bytes;
  (void)state;
  bytes = girdle_host_libraries(host, sizeof host);
  assert_int_equal(bytes, strlen(host));
  assert_memory_equal(host, "lua 5.4.", 8);
  bytes = girdle_paper_libraries(paper, sizeof paper);
  assert_int_equal(bytes, strlen(paper));
  assert_non_null(strstr(paper, "expat "));
  assert_non_null(strstr(paper, "libharu "));
  assert_non_null(strstr(paper, "jansson "));
  assert_int_equal(girdle_host_libraries(little, sizeof little), strlen(host));
  assert_string_equal(little, "lua");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(angle_as_turns_with_the_fabric),
      cmocka_unit_test(path_joined_keeps_both),
      cmocka_unit_test(path_reversed_begins_at_the_end),
      cmocka_unit_test(path_from_tape_is_the_rim),
      cmocka_unit_test(region_from_tape_is_what_it_says),
      cmocka_unit_test(region_rectangle_has_its_area),
      cmocka_unit_test(region_strip_has_its_area),
      cmocka_unit_test(region_trapezoid_has_its_area),
      cmocka_unit_test(region_stretched_grows_with_the_fabric),
      cmocka_unit_test(region_transformed_grows_both_ways),
      cmocka_unit_test(region_rim_makes_the_region_again),
      cmocka_unit_test(stone_parse_own_knows_the_users_sizes),
      cmocka_unit_test(stone_make_and_its_solid),
      cmocka_unit_test(placement_copy_outlives_what_was_copied),
      cmocka_unit_test(placement_notes_fit_the_callers_size),
      cmocka_unit_test(zone_split_gives_all_of_it),
      cmocka_unit_test(counts_without_a_shape_agree),
      cmocka_unit_test(tally_new_is_empty),
      cmocka_unit_test(tally_add_pieces_adds_up_and_is_weighed),
      cmocka_unit_test(work_and_quotes_of_a_dozen),
      cmocka_unit_test(money_and_numbers_need_no_memory),
      cmocka_unit_test(chance_short_is_the_binomial_tail),
      cmocka_unit_test(repair_kit_is_never_below_the_least),
      cmocka_unit_test(log_card_tells_what_was_lost),
      cmocka_unit_test(club_new_has_no_jobs),
      cmocka_unit_test(club_set_size_fits_the_wearers),
      cmocka_unit_test(club_add_stock_keeps_a_copy),
      cmocka_unit_test(club_add_log_teaches_the_reckoning),
      cmocka_unit_test(job_set_weighed_goes_into_the_tally),
      cmocka_unit_test(opening_and_measures_need_no_memory),
      cmocka_unit_test(host_new_takes_the_defaults_and_host_clear_forgets),
      cmocka_unit_test(host_add_outlines_copies_the_paths),
      cmocka_unit_test(libraries_tell_their_versions),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
