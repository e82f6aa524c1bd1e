/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

#include "girdle/host.h"
#include "girdle/paper.h"

/* NULL in every place of every function that returns a status: what must be given is asked for by its name, before
 * anything else is looked at; what may be NULL is tried, too. tests/contract_spec.lua holds the rows against the
 * headers. */

static test_call test;
static girdle_call *call;

/* Stands for whatever else a call wants, since a missing pointer is found first. */
static double anything[6];
static void *const any = anything;

#define MISSING(name, expression) assert_missing(name, expression, #expression)
static void assert_missing(const char *name, int32_t status, const char *what) {
  char message[80];
  snprintf(message, sizeof message, "%s must not be NULL", name);
  if (status != GIRDLE_ARGUMENT || strcmp(test.error.field, name) != 0 || strcmp(test.error.message, message) != 0)
    fail_msg("%s gave status %d, field '%s': %s", what, (int)status, test.error.field, test.error.message);
  assert_int_equal(test.live_bytes, 0);
  test_again(&test);
}

/* The name is there for tests/contract_spec.lua. */
#define MAY_BE(name, expression, expected) assert_allowed(name, expression, expected, #expression)
static void assert_allowed(const char *name, int32_t status, int32_t expected, const char *what) {
  if (status != expected) fail_msg("%s with no %s gave status %d: %s", what, name, (int)status, test.error.message);
  test_again(&test);
}

static int begin(void **state) {
  (void)state;
  call = test_begin(&test);
  return 0;
}

/* ---- what must be given */

static void null_is_named_by_numbers(void **state) {
  (void)state;
  MISSING("text", girdle_quantity_parse(call, NULL, 1, any));
  MISSING("out", girdle_quantity_parse(call, any, 1, NULL));
  MISSING("text", girdle_number_parse(call, NULL, 1, any));
  MISSING("out", girdle_number_parse(call, any, 1, NULL));
  MISSING("text", girdle_pieces_parse(call, NULL, any));
  MISSING("out", girdle_pieces_parse(call, any, NULL));
}

static void null_is_named_by_hosts(void **state) {
  (void)state;
  MISSING("out", girdle_host_new(call, any, NULL));
  MISSING("host", girdle_host_add_source(call, NULL, 1, any, any, 1));
  MISSING("file", girdle_host_add_source(call, any, 1, NULL, any, 1));
  MISSING("text", girdle_host_add_source(call, any, 1, any, NULL, 1));
  MISSING("host", girdle_host_add_outlines(call, NULL, any, any, 1));
  MISSING("file", girdle_host_add_outlines(call, any, NULL, any, 1));
  MISSING("outlines", girdle_host_add_outlines(call, any, any, NULL, 1));
  MISSING("host", girdle_host_describe(call, NULL, any, any));
  MISSING("name", girdle_host_describe(call, any, NULL, any));
  MISSING("out", girdle_host_describe(call, any, any, NULL));
  MISSING("host", girdle_host_place(call, NULL, any, any, 1, any));
  MISSING("recipe", girdle_host_place(call, any, NULL, any, 1, any));
  MISSING("given", girdle_host_place(call, any, any, NULL, 1, any));
  MISSING("out", girdle_host_place(call, any, any, any, 1, NULL));
  MISSING("host", girdle_host_costume(call, NULL, any, any));
  MISSING("name", girdle_host_costume(call, any, NULL, any));
  MISSING("job", girdle_host_costume(call, any, any, NULL));
  MISSING("host", girdle_host_zones(call, NULL, any, any, 1, any));
  MISSING("source", girdle_host_zones(call, any, NULL, any, 1, any));
  MISSING("rows", girdle_host_zones(call, any, any, NULL, 1, any));
  MISSING("job", girdle_host_zones(call, any, any, any, 1, NULL));
  MISSING("host", girdle_host_check_zones(call, NULL, any, any, 1, any));
  MISSING("source", girdle_host_check_zones(call, any, NULL, any, 1, any));
  MISSING("rows", girdle_host_check_zones(call, any, any, NULL, 1, any));
  MISSING("job", girdle_host_check_zones(call, any, any, any, 1, NULL));
}

static void null_is_named_by_jobs(void **state) {
  (void)state;
  MISSING("head", girdle_job_new(call, NULL, any));
  MISSING("out", girdle_job_new(call, any, NULL));
  MISSING("job", girdle_job_set_fabric(call, NULL, any));
  MISSING("fabric", girdle_job_set_fabric(call, any, NULL));
  MISSING("job", girdle_job_set_measure(call, NULL, any, 1));
  MISSING("name", girdle_job_set_measure(call, any, NULL, 1));
  MISSING("job", girdle_job_add_zone(call, NULL, any));
  MISSING("zone", girdle_job_add_zone(call, any, NULL));
  MISSING("job", girdle_job_settle(call, NULL));
  MISSING("from", girdle_picture_carry(call, NULL, any, any, any, any));
  MISSING("from_box", girdle_picture_carry(call, any, NULL, any, any, any));
  MISSING("onto_box", girdle_picture_carry(call, any, any, NULL, any, any));
  MISSING("closed_up", girdle_picture_carry(call, any, any, any, NULL, any));
  MISSING("out", girdle_picture_carry(call, any, any, any, any, NULL));
  MISSING("job", girdle_job_keep_picture(call, NULL, any));
  MISSING("sample", girdle_job_keep_picture(call, any, NULL));
  MISSING("job", girdle_job_set_placement(call, NULL, 1, any));
  MISSING("job", girdle_job_keep_pieces(call, NULL, 1, any, any, 1));
  MISSING("stones", girdle_job_keep_pieces(call, any, 1, NULL, any, 1));
  MISSING("pieces", girdle_job_keep_pieces(call, any, 1, any, NULL, 1));
  MISSING("job", girdle_job_substitute(call, NULL, any, any, any));
  MISSING("stone", girdle_job_substitute(call, any, NULL, any, any));
  MISSING("instead", girdle_job_substitute(call, any, any, NULL, any));
  MISSING("pieces", girdle_job_substitute(call, any, any, any, NULL));
  MISSING("job", girdle_job_set_weighed(call, NULL, any, 1));
  MISSING("weighed", girdle_job_set_weighed(call, any, NULL, 1));
  MISSING("job", girdle_job_tally(call, NULL, any));
  MISSING("out", girdle_job_tally(call, any, NULL));
  MISSING("job", girdle_job_weigh(call, NULL, any, any, any, 1));
  MISSING("out", girdle_job_weigh(call, any, any, NULL, any, 1));
  MISSING("zones", girdle_job_weigh(call, any, any, any, NULL, 1));
  MISSING("both", girdle_zone_split(call, NULL, any, any));
  MISSING("front", girdle_zone_split(call, any, NULL, any));
  MISSING("back", girdle_zone_split(call, any, any, NULL));
  MISSING("opening", girdle_opening_try(call, NULL, any));
  MISSING("out", girdle_opening_try(call, any, NULL));
}

static void null_is_named_by_clubs(void **state) {
  (void)state;
  MISSING("out", girdle_club_new(call, NULL));
  MISSING("club", girdle_club_add_job(call, NULL, any));
  MISSING("job", girdle_club_add_job(call, any, NULL));
  MISSING("club", girdle_club_set_size(call, NULL, any, any, 1));
  MISSING("size", girdle_club_set_size(call, any, NULL, any, 1));
  MISSING("measure", girdle_club_set_size(call, any, any, NULL, 1));
  MISSING("club", girdle_club_fit_sizes(call, NULL));
  MISSING("club", girdle_club_add_price(call, NULL, any));
  MISSING("row", girdle_club_add_price(call, any, NULL));
  MISSING("club", girdle_club_set_item(call, NULL, any, any, any));
  MISSING("supplier", girdle_club_set_item(call, any, NULL, any, any));
  MISSING("colour", girdle_club_set_item(call, any, any, NULL, any));
  MISSING("item", girdle_club_set_item(call, any, any, any, NULL));
  MISSING("club", girdle_club_add_supplier(call, NULL, any));
  MISSING("supplier", girdle_club_add_supplier(call, any, NULL));
  MISSING("club", girdle_club_add_stock(call, NULL, any));
  MISSING("row", girdle_club_add_stock(call, any, NULL));
  MISSING("club", girdle_club_add_log(call, NULL, any));
  MISSING("row", girdle_club_add_log(call, any, NULL));
  MISSING("club", girdle_club_set_rate(call, NULL, any, any));
  MISSING("name", girdle_club_set_rate(call, any, NULL, any));
  MISSING("value", girdle_club_set_rate(call, any, any, NULL));
  MISSING("club", girdle_club_plan(call, NULL, any, 1, 1, 1, any, any));
  MISSING("zones", girdle_club_plan(call, any, NULL, 1, 1, 1, any, any));
  MISSING("counts", girdle_club_plan(call, any, any, 1, 1, 1, NULL, any));
  MISSING("out", girdle_club_plan(call, any, any, 1, 1, 1, any, NULL));
  MISSING("club", girdle_club_reckon(call, NULL, 1, any));
  MISSING("out", girdle_club_reckon(call, any, 1, NULL));
}

static void null_is_named_by_logs(void **state) {
  (void)state;
  MISSING("rows", girdle_learn(call, NULL, 1, 1, 1, any));
  MISSING("out", girdle_learn(call, any, 1, 1, 1, NULL));
  MISSING("tag", girdle_log_remembered(call, NULL, 1, 1, any));
  MISSING("out", girdle_log_remembered(call, any, 1, 1, NULL));
  MISSING("tag", girdle_log_card(call, NULL, any, 1, 1, 1, 1, any));
  MISSING("stone", girdle_log_card(call, any, NULL, 1, 1, 1, 1, any));
  MISSING("out", girdle_log_card(call, any, any, 1, 1, 1, 1, NULL));
  MISSING("rows", girdle_learn_parts(call, NULL, 1, 1, any, 1, any));
  MISSING("parts", girdle_learn_parts(call, any, 1, 1, NULL, 1, any));
  MISSING("count", girdle_learn_parts(call, any, 1, 1, any, 1, NULL));
  MISSING("ratios", girdle_forecast_ratio(call, NULL, 1, 1, 1, 1, 1, any));
  MISSING("out", girdle_forecast_ratio(call, any, 1, 1, 1, 1, 1, NULL));
  MISSING("out_pieces", girdle_spares(call, 1, 1, 1, NULL));
  MISSING("out_chance", girdle_chance_short(call, 1, 1, 1, NULL));
  MISSING("out_pieces", girdle_repair_kit(call, 1, 1, 1, 1, NULL));
  MISSING("out", girdle_worthwhile_confidence(call, 1, 1, NULL));
}

static void null_is_named_by_orders(void **state) {
  (void)state;
  MISSING("pack_pieces", girdle_packs_cheapest(call, 1, NULL, any, any, 1, any, any));
  MISSING("price_minor", girdle_packs_cheapest(call, 1, any, NULL, any, 1, any, any));
  MISSING("packs_out", girdle_packs_cheapest(call, 1, any, any, any, 1, NULL, any));
  MISSING("cost_minor", girdle_packs_cheapest(call, 1, any, any, any, 1, any, NULL));
  MISSING("needs", girdle_order_plan(call, NULL, any, any));
  MISSING("out", girdle_order_plan(call, any, any, NULL));
  MISSING("order", girdle_order_substitutes(call, NULL, 1, any, any, 1, any));
  MISSING("substitutes", girdle_order_substitutes(call, any, 1, any, NULL, 1, any));
  MISSING("count", girdle_order_substitutes(call, any, 1, any, any, 1, NULL));
  MISSING("order", girdle_order_lots(call, NULL, any, any, any, 1, any));
  MISSING("uses", girdle_order_lots(call, any, any, any, NULL, 1, any));
  MISSING("count", girdle_order_lots(call, any, any, any, any, 1, NULL));
}

static void null_is_named_by_papers_read(void **state) {
  (void)state;
  MISSING("text", girdle_table_read(call, any, NULL, 1, any));
  MISSING("out", girdle_table_read(call, any, any, 1, NULL));
  MISSING("text", girdle_paper_read_zones(call, any, NULL, 1, any));
  MISSING("out", girdle_paper_read_zones(call, any, any, 1, NULL));
  MISSING("club", girdle_paper_read_club(call, NULL, 1, any, any, 1));
  MISSING("text", girdle_paper_read_club(call, any, 1, any, NULL, 1));
  MISSING("text", girdle_paper_read_svg(call, any, NULL, 1, any));
  MISSING("out", girdle_paper_read_svg(call, any, any, 1, NULL));
  MISSING("from", girdle_paper_read_svg_from(call, any, NULL, any));
  MISSING("out", girdle_paper_read_svg_from(call, any, any, NULL));
  MISSING("text", girdle_paper_read_placements(call, any, NULL, 1, any));
  MISSING("job", girdle_paper_read_placements(call, any, any, 1, NULL));
  MISSING("text", girdle_paper_read_phrases(call, any, NULL, 1, any));
  MISSING("out", girdle_paper_read_phrases(call, any, any, 1, NULL));
}

static void null_is_named_by_papers_written(void **state) {
  (void)state;
  MISSING("job", girdle_paper_placements_csv(call, NULL, any));
  MISSING("sink", girdle_paper_placements_csv(call, any, NULL));
  MISSING("tally", girdle_paper_counts_csv(call, NULL, any));
  MISSING("sink", girdle_paper_counts_csv(call, any, NULL));
  MISSING("order", girdle_paper_order_csv(call, NULL, any));
  MISSING("sink", girdle_paper_order_csv(call, any, NULL));
  MISSING("order", girdle_paper_lots_csv(call, NULL, any));
  MISSING("sink", girdle_paper_lots_csv(call, any, NULL));
  MISSING("job", girdle_paper_map_svg(call, NULL, any));
  MISSING("sink", girdle_paper_map_svg(call, any, NULL));
  MISSING("job", girdle_paper_map_svg_with(call, NULL, any, any));
  MISSING("sink", girdle_paper_map_svg_with(call, any, any, NULL));
  MISSING("job", girdle_paper_map_pdf(call, NULL, any, any));
  MISSING("sink", girdle_paper_map_pdf(call, any, any, NULL));
  MISSING("job", girdle_paper_guides_pdf(call, NULL, any, any));
  MISSING("sink", girdle_paper_guides_pdf(call, any, any, NULL));
  MISSING("sink", girdle_paper_tables(call, any, NULL));
  MISSING("club", girdle_paper_sheet_html(call, NULL, 1, any, any, any));
  MISSING("reckoning", girdle_paper_sheet_html(call, any, 1, NULL, any, any));
  MISSING("sink", girdle_paper_sheet_html(call, any, 1, any, any, NULL));
  MISSING("reckoning", girdle_paper_bags_html(call, NULL, any));
  MISSING("sink", girdle_paper_bags_html(call, any, NULL));
  MISSING("offers", girdle_paper_offer_html(call, NULL, 1, any));
  MISSING("sink", girdle_paper_offer_html(call, any, 1, NULL));
  MISSING("calendar", girdle_paper_calendar_ics(call, NULL, 1, any));
  MISSING("sink", girdle_paper_calendar_ics(call, any, 1, NULL));
  MISSING("tally", girdle_paper_counts_text(call, any, NULL, any));
  MISSING("sink", girdle_paper_counts_text(call, any, any, NULL));
  MISSING("club", girdle_paper_cost_text(call, NULL, 1, any, any));
  MISSING("reckoning", girdle_paper_cost_text(call, any, 1, NULL, any));
  MISSING("sink", girdle_paper_cost_text(call, any, 1, any, NULL));
  MISSING("order", girdle_paper_order_text(call, NULL, any));
  MISSING("sink", girdle_paper_order_text(call, any, NULL));
  MISSING("calendar", girdle_paper_calendar_text(call, NULL, any));
  MISSING("sink", girdle_paper_calendar_text(call, any, NULL));
  MISSING("tally", girdle_paper_cautions_text(call, NULL, any));
  MISSING("sink", girdle_paper_cautions_text(call, any, NULL));
  MISSING("tally", girdle_paper_counts_json(call, any, NULL, any));
  MISSING("sink", girdle_paper_counts_json(call, any, any, NULL));
  MISSING("club", girdle_paper_club_json(call, NULL, any, any));
  MISSING("reckoning", girdle_paper_club_json(call, any, NULL, any));
  MISSING("sink", girdle_paper_club_json(call, any, any, NULL));
}

static void null_is_named_by_verbs(void **state) {
  (void)state;
  MISSING("along", girdle_run(call, NULL, any, any));
  MISSING("options", girdle_run(call, any, NULL, any));
  MISSING("out", girdle_run(call, any, any, NULL));
  MISSING("along", girdle_band(call, NULL, any, any));
  MISSING("options", girdle_band(call, any, NULL, any));
  MISSING("out", girdle_band(call, any, any, NULL));
  MISSING("within", girdle_cover(call, NULL, any, any));
  MISSING("options", girdle_cover(call, any, NULL, any));
  MISSING("out", girdle_cover(call, any, any, NULL));
  MISSING("within", girdle_scatter(call, NULL, any, any));
  MISSING("options", girdle_scatter(call, any, NULL, any));
  MISSING("out", girdle_scatter(call, any, any, NULL));
  MISSING("within", girdle_grade(call, NULL, any, any));
  MISSING("options", girdle_grade(call, any, NULL, any));
  MISSING("out", girdle_grade(call, any, any, NULL));
  MISSING("within", girdle_fade(call, NULL, any, any));
  MISSING("options", girdle_fade(call, any, NULL, any));
  MISSING("out", girdle_fade(call, any, any, NULL));
  MISSING("within", girdle_between(call, NULL, any, any));
  MISSING("options", girdle_between(call, any, NULL, any));
  MISSING("out", girdle_between(call, any, any, NULL));
  MISSING("group", girdle_motif(call, NULL, any, any));
  MISSING("options", girdle_motif(call, any, NULL, any));
  MISSING("out", girdle_motif(call, any, any, NULL));
}

static void null_is_named_by_placements(void **state) {
  (void)state;
  MISSING("stones", girdle_placement_new(call, NULL, 1, any, 1, any));
  MISSING("records", girdle_placement_new(call, any, 1, NULL, 1, any));
  MISSING("out", girdle_placement_new(call, any, 1, any, 1, NULL));
  MISSING("from", girdle_placement_copy(call, NULL, any));
  MISSING("out", girdle_placement_copy(call, any, NULL));
  MISSING("placement", girdle_placement_notes(call, NULL, any));
  MISSING("notes", girdle_placement_notes(call, any, NULL));
  MISSING("first", girdle_placement_joined(call, NULL, any, any));
  MISSING("second", girdle_placement_joined(call, any, NULL, any));
  MISSING("out", girdle_placement_joined(call, any, any, NULL));
  MISSING("from", girdle_placement_mirrored(call, NULL, 1, any));
  MISSING("out", girdle_placement_mirrored(call, any, 1, NULL));
  MISSING("from", girdle_placement_folded(call, NULL, 1, 1, any));
  MISSING("out", girdle_placement_folded(call, any, 1, 1, NULL));
  MISSING("from", girdle_placement_moved(call, NULL, 1, 1, any));
  MISSING("out", girdle_placement_moved(call, any, 1, 1, NULL));
  MISSING("from", girdle_placement_turned(call, NULL, 1, any));
  MISSING("out", girdle_placement_turned(call, any, 1, NULL));
  MISSING("from", girdle_placement_without(call, NULL, any, any));
  MISSING("left_out", girdle_placement_without(call, any, NULL, any));
  MISSING("out", girdle_placement_without(call, any, any, NULL));
  MISSING("from", girdle_placement_clear_of(call, NULL, any, 1, any));
  MISSING("other", girdle_placement_clear_of(call, any, NULL, 1, any));
  MISSING("out", girdle_placement_clear_of(call, any, any, 1, NULL));
  MISSING("placement", girdle_placement_overlaps(call, NULL, any, 1, any));
  MISSING("pairs", girdle_placement_overlaps(call, any, NULL, 1, any));
  MISSING("count", girdle_placement_overlaps(call, any, any, 1, NULL));
  MISSING("stones", girdle_count_along(call, 1, 1, NULL, 1, 1, any));
  MISSING("out", girdle_count_along(call, 1, 1, any, 1, 1, NULL));
  MISSING("stone", girdle_count_over(call, 1, 1, 1, NULL, 1, 1, any));
  MISSING("out", girdle_count_over(call, 1, 1, 1, any, 1, 1, NULL));
}

static void null_is_named_by_money(void **state) {
  (void)state;
  MISSING("code", girdle_currency_parse(call, NULL, any));
  MISSING("out", girdle_currency_parse(call, any, NULL));
  MISSING("text", girdle_money_parse(call, NULL, any, any));
  MISSING("currency", girdle_money_parse(call, any, NULL, any));
  MISSING("out_minor", girdle_money_parse(call, any, any, NULL));
  MISSING("out_minor", girdle_money_share(call, 1, 1, 1, NULL));
  MISSING("weights", girdle_money_split(call, 1, NULL, 1, any));
  MISSING("out_parts", girdle_money_split(call, 1, any, 1, NULL));
  MISSING("out_pieces", girdle_stock_weighed(call, 1, 1, 1, NULL));
}

static void null_is_named_by_quotes(void **state) {
  (void)state;
  MISSING("input", girdle_quote_make(call, NULL, any, any));
  MISSING("out", girdle_quote_make(call, any, any, NULL));
  MISSING("input", girdle_quote_self_make(call, NULL, any, any));
  MISSING("out", girdle_quote_self_make(call, any, any, NULL));
  MISSING("out_minor", girdle_labour_by_gross(call, 1, 1, NULL));
}

static void null_is_named_by_paths(void **state) {
  (void)state;
  MISSING("data", girdle_path_parse(call, NULL, 1, any));
  MISSING("out", girdle_path_parse(call, any, 1, NULL));
  MISSING("out", girdle_path_line(call, 1, NULL));
  MISSING("out", girdle_path_loop(call, 1, NULL));
  MISSING("text", girdle_path_from_text(call, NULL, any));
  MISSING("out", girdle_path_from_text(call, any, NULL));
  MISSING("path", girdle_path_at(call, NULL, 1, any));
  MISSING("out", girdle_path_at(call, any, 1, NULL));
  MISSING("path", girdle_path_nearest(call, NULL, 1, 1, any, any));
  MISSING("along_mm", girdle_path_nearest(call, any, 1, 1, NULL, any));
  MISSING("distance_mm", girdle_path_nearest(call, any, 1, 1, any, NULL));
  MISSING("path", girdle_path_transformed(call, NULL, any, any));
  MISSING("matrix", girdle_path_transformed(call, any, NULL, any));
  MISSING("out", girdle_path_transformed(call, any, any, NULL));
  MISSING("path", girdle_path_reversed(call, NULL, any));
  MISSING("out", girdle_path_reversed(call, any, NULL));
  MISSING("path", girdle_path_part(call, NULL, 1, 1, any));
  MISSING("out", girdle_path_part(call, any, 1, 1, NULL));
  MISSING("first", girdle_path_joined(call, NULL, any, any));
  MISSING("second", girdle_path_joined(call, any, NULL, any));
  MISSING("out", girdle_path_joined(call, any, any, NULL));
  MISSING("path", girdle_path_split(call, NULL, 1, any, any));
  MISSING("head", girdle_path_split(call, any, 1, NULL, any));
  MISSING("tail", girdle_path_split(call, any, 1, any, NULL));
  MISSING("path", girdle_path_flattened(call, NULL, 1, any));
  MISSING("out", girdle_path_flattened(call, any, 1, NULL));
  MISSING("path", girdle_path_turns(call, NULL, 1, any, 1, any));
  MISSING("found", girdle_path_turns(call, any, 1, NULL, 1, any));
  MISSING("count", girdle_path_turns(call, any, 1, any, 1, NULL));
  MISSING("path", girdle_path_meetings(call, NULL, any, any, 1, any));
  MISSING("found", girdle_path_meetings(call, any, any, NULL, 1, any));
  MISSING("count", girdle_path_meetings(call, any, any, any, 1, NULL));
  MISSING("path", girdle_path_fitted(call, NULL, 1, 1, 1, any));
  MISSING("out", girdle_path_fitted(call, any, 1, 1, 1, NULL));
  MISSING("path", girdle_path_stretched(call, NULL, any, any, any));
  MISSING("from", girdle_path_stretched(call, any, NULL, any, any));
  MISSING("to", girdle_path_stretched(call, any, any, NULL, any));
  MISSING("out", girdle_path_stretched(call, any, any, any, NULL));
  MISSING("from", girdle_gap_as(call, 1, 1, NULL, any, any));
  MISSING("to", girdle_gap_as(call, 1, 1, any, NULL, any));
  MISSING("out_mm", girdle_gap_as(call, 1, 1, any, any, NULL));
  MISSING("from", girdle_angle_as(call, 1, NULL, any, any));
  MISSING("to", girdle_angle_as(call, 1, any, NULL, any));
  MISSING("out_deg", girdle_angle_as(call, 1, any, any, NULL));
  MISSING("path", girdle_path_set_in(call, NULL, 1, any));
  MISSING("out", girdle_path_set_in(call, any, 1, NULL));
  MISSING("path", girdle_path_offset(call, NULL, 1, any));
  MISSING("out", girdle_path_offset(call, any, 1, NULL));
}

static void null_is_named_by_regions(void **state) {
  (void)state;
  MISSING("outline", girdle_region_new(call, NULL, 1, any));
  MISSING("out", girdle_region_new(call, any, 1, NULL));
  MISSING("out", girdle_region_rectangle(call, 1, 1, NULL));
  MISSING("out", girdle_region_oval(call, 1, 1, NULL));
  MISSING("out", girdle_region_trapezoid(call, 1, 1, 1, NULL));
  MISSING("out", girdle_region_strip(call, 1, 1, NULL));
  MISSING("word", girdle_path_from_tape(call, NULL, any, 1, any));
  MISSING("measures_mm", girdle_path_from_tape(call, any, NULL, 1, any));
  MISSING("out", girdle_path_from_tape(call, any, any, 1, NULL));
  MISSING("word", girdle_region_from_tape(call, NULL, any, 1, any));
  MISSING("measures_mm", girdle_region_from_tape(call, any, NULL, 1, any));
  MISSING("out", girdle_region_from_tape(call, any, any, 1, NULL));
  MISSING("out", girdle_region_skirt(call, 1, 1, 1, NULL));
  MISSING("widths_mm", girdle_region_panel(call, 1, NULL, 1, any));
  MISSING("out", girdle_region_panel(call, 1, any, 1, NULL));
  MISSING("out", girdle_region_area(call, 1, NULL));
  MISSING("text", girdle_region_from_text(call, NULL, any));
  MISSING("out", girdle_region_from_text(call, any, NULL));
  MISSING("region", girdle_region_transformed(call, NULL, any, any));
  MISSING("matrix", girdle_region_transformed(call, any, NULL, any));
  MISSING("out", girdle_region_transformed(call, any, any, NULL));
  MISSING("region", girdle_region_without(call, NULL, any, any));
  MISSING("left_out", girdle_region_without(call, any, NULL, any));
  MISSING("out", girdle_region_without(call, any, any, NULL));
  MISSING("region", girdle_region_fitted(call, NULL, 1, 1, any));
  MISSING("out", girdle_region_fitted(call, any, 1, 1, NULL));
  MISSING("region", girdle_region_stretched(call, NULL, any, any, any));
  MISSING("from", girdle_region_stretched(call, any, NULL, any, any));
  MISSING("to", girdle_region_stretched(call, any, any, NULL, any));
  MISSING("out", girdle_region_stretched(call, any, any, any, NULL));
  MISSING("region", girdle_region_inset(call, NULL, 1, any));
  MISSING("out", girdle_region_inset(call, any, 1, NULL));
  MISSING("region", girdle_region_rim(call, NULL, any));
  MISSING("out", girdle_region_rim(call, any, NULL));
  MISSING("region", girdle_region_lower_edge(call, NULL, any));
  MISSING("out", girdle_region_lower_edge(call, any, NULL));
  MISSING("name", girdle_measure_find(call, NULL, any));
  MISSING("out", girdle_measure_find(call, any, NULL));
}

static void null_is_named_by_stones(void **state) {
  (void)state;
  MISSING("text", girdle_size_parse(call, NULL, any));
  MISSING("out", girdle_size_parse(call, any, NULL));
  MISSING("out", girdle_size_likely(call, 1, 1, any, NULL, 1, any));
  MISSING("count", girdle_size_likely(call, 1, 1, any, any, 1, NULL));
  MISSING("spec", girdle_stone_make(call, NULL, any));
  MISSING("out", girdle_stone_make(call, any, NULL));
  MISSING("text", girdle_stone_parse(call, NULL, any));
  MISSING("out", girdle_stone_parse(call, any, NULL));
  MISSING("text", girdle_stone_parse_own(call, NULL, any, any));
  MISSING("out", girdle_stone_parse_own(call, any, any, NULL));
  MISSING("stone", girdle_stone_weigh(call, NULL, 1, 1, 1, any, any));
  MISSING("out", girdle_stone_weigh(call, any, 1, 1, 1, NULL, any));
  MISSING("cut", girdle_solid_new(call, NULL, 1, 1, 1, 1, any));
  MISSING("out", girdle_solid_new(call, any, 1, 1, 1, 1, NULL));
  MISSING("stone", girdle_solid_of(call, NULL, any, any));
  MISSING("out", girdle_solid_of(call, any, any, NULL));
}

static void null_is_named_by_tallies(void **state) {
  (void)state;
  MISSING("text", girdle_stone_pieces_parse(call, NULL, any, any));
  MISSING("stone", girdle_stone_pieces_parse(call, any, NULL, any));
  MISSING("pieces", girdle_stone_pieces_parse(call, any, any, NULL));
  MISSING("out", girdle_tally_new(call, NULL));
  MISSING("tally", girdle_tally_add(call, NULL, any, any, any, 1, any));
  MISSING("placement", girdle_tally_add(call, any, any, any, any, 1, NULL));
  MISSING("tally", girdle_tally_add_pieces(call, NULL, any, any, any, any, 1));
  MISSING("stone", girdle_tally_add_pieces(call, any, any, any, any, NULL, 1));
  MISSING("tally", girdle_tally_add_all(call, NULL, any));
  MISSING("from", girdle_tally_add_all(call, any, NULL));
  MISSING("tally", girdle_tally_by_stone(call, NULL, any));
  MISSING("out", girdle_tally_by_stone(call, any, NULL));
  MISSING("before", girdle_tally_compare(call, NULL, any, any, any));
  MISSING("after", girdle_tally_compare(call, any, NULL, any, any));
  MISSING("add", girdle_tally_compare(call, any, any, NULL, any));
  MISSING("take_off", girdle_tally_compare(call, any, any, any, NULL));
}

static void null_is_named_by_work(void **state) {
  (void)state;
  MISSING("tally", girdle_work_estimate(call, NULL, any, any));
  MISSING("out", girdle_work_estimate(call, any, any, NULL));
  MISSING("tally", girdle_work_zones(call, NULL, any, any, 1, any));
  MISSING("zones", girdle_work_zones(call, any, any, NULL, 1, any));
  MISSING("count", girdle_work_zones(call, any, any, any, 1, NULL));
  MISSING("tally", girdle_work_steps(call, NULL, any, any, any, 1, any));
  MISSING("tag", girdle_work_steps(call, any, NULL, any, any, 1, any));
  MISSING("steps", girdle_work_steps(call, any, any, any, NULL, 1, any));
  MISSING("count", girdle_work_steps(call, any, any, any, any, 1, NULL));
  MISSING("text", girdle_date_parse(call, NULL, any));
  MISSING("out_day", girdle_date_parse(call, any, NULL));
  MISSING("options", girdle_calendar_plan(call, any, NULL, any));
  MISSING("out", girdle_calendar_plan(call, any, any, NULL));
}

static void null_is_refused_without_a_call(void **state) {
  girdle_path *path = any;
  double number = 7;
  (void)state;
  assert_int_equal(girdle_path_line(NULL, 5, NULL), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_path_from_text(NULL, NULL, &path), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_quantity_parse(NULL, NULL, GIRDLE_LENGTH, &number), GIRDLE_ARGUMENT);
  assert_ptr_equal(path, any); /* as they were */
  assert_near(number, 7, 0);
}

/* ---- what may be NULL */

static void null_is_allowed_for_shapes(void **state) {
  girdle_path *line;
  uint64_t count;
  double number;
  (void)state;
  assert_ok(&test, girdle_path_line(call, 100, &line));
  MAY_BE("other", girdle_path_meetings(call, line, NULL, any, 0, &count), GIRDLE_OK);
  MAY_BE("found", girdle_path_meetings(call, line, line, NULL, 0, &count), GIRDLE_OK);
  MAY_BE("found", girdle_path_turns(call, line, 30, NULL, 0, &count), GIRDLE_OK);
  girdle_path_free(line);
  MAY_BE("data", girdle_path_parse(call, NULL, 0, &line), GIRDLE_SYNTAX);
  MAY_BE("measures_mm", girdle_path_from_tape(call, "loop", NULL, 0, any), GIRDLE_SYNTAX);
  MAY_BE("measures_mm", girdle_region_from_tape(call, "loop", NULL, 0, any), GIRDLE_SYNTAX);
  MAY_BE("widths_mm", girdle_region_panel(call, 10, NULL, 0, any), GIRDLE_ARGUMENT);
  MAY_BE("text", girdle_number_parse(call, NULL, 0, &number), GIRDLE_SYNTAX);
}

static void null_is_allowed_for_stones(void **state) {
  girdle_stone stone;
  girdle_solid *solid;
  uint64_t count;
  (void)state;
  MAY_BE("own", girdle_catalogue_check(call, NULL), GIRDLE_OK);
  MAY_BE("own", girdle_stone_parse_own(call, "ss20", NULL, &stone), GIRDLE_OK);
  MAY_BE("own", girdle_size_likely(call, 5, 0, NULL, any, 0, &count), GIRDLE_OK);
  MAY_BE("out", girdle_size_likely(call, 5, 0, NULL, NULL, 0, &count), GIRDLE_OK);
  MAY_BE("model_off", girdle_stone_weigh(call, &stone, 10, 300, 1, &stone, NULL), GIRDLE_OK);
  MAY_BE("own", girdle_solid_of(call, &stone, NULL, &solid), GIRDLE_OK);
  girdle_solid_free(solid);
}

static void null_is_allowed_for_placements_and_tallies(void **state) {
  girdle_placement *none;
  girdle_tally *tally;
  girdle_work work;
  girdle_order *order;
  girdle_stone stone;
  uint64_t count;
  (void)state;
  assert_ok(&test, girdle_stone_parse(call, "ss20", &stone));
  MAY_BE("stones", girdle_placement_new(call, NULL, 0, any, 0, &none), GIRDLE_OK);
  girdle_placement_free(none);
  MAY_BE("records", girdle_placement_new(call, &stone, 1, NULL, 0, &none), GIRDLE_OK);
  MAY_BE("pairs", girdle_placement_overlaps(call, none, NULL, 0, &count), GIRDLE_OK);
  MAY_BE("stones", girdle_count_along(call, 100, 0, NULL, 0, 1, any), GIRDLE_ARGUMENT);
  assert_ok(&test, girdle_tally_new(call, &tally));
  MAY_BE("tag", girdle_tally_add(call, tally, NULL, "cuff", "left", 1, none), GIRDLE_OK);
  MAY_BE("zone", girdle_tally_add(call, tally, "A1", NULL, "left", 1, none), GIRDLE_OK);
  MAY_BE("side", girdle_tally_add(call, tally, "A1", "cuff", NULL, 1, none), GIRDLE_OK);
  MAY_BE("tag", girdle_tally_add_pieces(call, tally, NULL, "cuff", "left", &stone, 3), GIRDLE_OK);
  MAY_BE("zone", girdle_tally_add_pieces(call, tally, "A1", NULL, "left", &stone, 3), GIRDLE_OK);
  MAY_BE("side", girdle_tally_add_pieces(call, tally, "A1", "cuff", NULL, &stone, 3), GIRDLE_OK);
  MAY_BE("rates", girdle_work_estimate(call, tally, NULL, &work), GIRDLE_OK);
  MAY_BE("rates", girdle_work_zones(call, tally, NULL, any, 0, &count), GIRDLE_OK);
  MAY_BE("zones", girdle_work_zones(call, tally, NULL, NULL, 0, &count), GIRDLE_OK);
  MAY_BE("rates", girdle_work_steps(call, tally, "A1", NULL, any, 0, &count), GIRDLE_OK);
  MAY_BE("steps", girdle_work_steps(call, tally, "A1", NULL, NULL, 0, &count), GIRDLE_OK);
  MAY_BE("options", girdle_order_plan(call, tally, NULL, &order), GIRDLE_OK);
  MAY_BE("options", girdle_order_substitutes(call, order, 0, NULL, any, 0, &count), GIRDLE_OK);
  MAY_BE("substitutes", girdle_order_substitutes(call, order, 0, NULL, NULL, 0, &count), GIRDLE_OK);
  MAY_BE("needs", girdle_order_lots(call, order, NULL, any, any, 0, &count), GIRDLE_OK);
  MAY_BE("options", girdle_order_lots(call, order, tally, NULL, any, 0, &count), GIRDLE_OK);
  MAY_BE("uses", girdle_order_lots(call, order, tally, NULL, NULL, 0, &count), GIRDLE_OK);
  girdle_order_free(order);
  girdle_tally_free(tally);
  girdle_placement_free(none);
}

static void null_is_allowed_for_money_logs_and_days(void **state) {
  const int64_t ten = 10;
  const girdle_work work = {.glued = 1};
  girdle_task task = {.needed_by_day = 400, .minutes = 60, .sides = 1};
  girdle_calendar_options options;
  girdle_calendar *calendar;
  girdle_quote_input input;
  girdle_quote_self_input self_input;
  girdle_quote quote;
  girdle_quote_self self;
  girdle_learned learned;
  girdle_forecast forecast;
  int64_t packs, cost;
  uint64_t count;
  (void)state;
  girdle_quote_input_init(&input, sizeof input);
  girdle_quote_self_input_init(&self_input, sizeof self_input);
  girdle_calendar_options_init(&options, sizeof options);
  input.work = self_input.work = &work;
  options.tasks = &task;
  options.task_count = 1;
  MAY_BE("rates", girdle_quote_make(call, &input, NULL, &quote), GIRDLE_OK);
  MAY_BE("rates", girdle_quote_self_make(call, &self_input, NULL, &self), GIRDLE_OK);
  MAY_BE("rates", girdle_calendar_plan(call, NULL, &options, &calendar), GIRDLE_OK);
  girdle_calendar_free(calendar);
  MAY_BE("at_most", girdle_packs_cheapest(call, 25, &ten, &ten, NULL, 1, &packs, &cost), GIRDLE_OK);
  MAY_BE("pack_pieces", girdle_packs_cheapest(call, 0, NULL, &ten, NULL, 0, &packs, &cost), GIRDLE_OK);
  MAY_BE("price_minor", girdle_packs_cheapest(call, 0, &ten, NULL, NULL, 0, &packs, &cost), GIRDLE_OK);
  MAY_BE("packs_out", girdle_packs_cheapest(call, 0, &ten, &ten, NULL, 0, NULL, &cost), GIRDLE_OK);
  MAY_BE("weights", girdle_money_split(call, 10, NULL, 0, &packs), GIRDLE_ARGUMENT);
  MAY_BE("out_parts", girdle_money_split(call, 10, &ten, 0, NULL), GIRDLE_ARGUMENT);
  MAY_BE("rows", girdle_learn(call, NULL, 0, 0.05, 1, &learned), GIRDLE_OK);
  MAY_BE("rows", girdle_learn_parts(call, NULL, 0, 0, any, 0, &count), GIRDLE_OK);
  MAY_BE("parts", girdle_learn_parts(call, any, 0, 0, NULL, 0, &count), GIRDLE_OK);
  MAY_BE("ratios", girdle_forecast_ratio(call, NULL, 0, 12, 0.3, 5, 0.9, &forecast), GIRDLE_OK);
}

static int32_t drop(void *context, const void *bytes, uint64_t count) {
  (void)context, (void)bytes, (void)count;
  return 0;
}
static const girdle_sink sink = {NULL, drop};

static girdle_job *cuff_job(void) {
  girdle_stone stone;
  const girdle_placed record = {.x_mm = 5};
  girdle_placement *one;
  girdle_job_head head;
  girdle_zone zone;
  girdle_job *job;
  girdle_job_head_init(&head, sizeof head);
  girdle_zone_init(&zone, sizeof zone);
  strcpy(head.tag, "A1");
  strcpy(zone.name, "cuff");
  assert_ok(&test, girdle_stone_parse(call, "ss20", &stone));
  assert_ok(&test, girdle_placement_new(call, &stone, 1, &record, 1, &one));
  zone.placement = one;
  assert_ok(&test, girdle_job_new(call, &head, &job));
  assert_ok(&test, girdle_job_add_zone(call, job, &zone));
  girdle_placement_free(one);
  return job;
}

static void null_is_allowed_for_jobs_and_hosts(void **state) {
  girdle_job *job = cuff_job();
  girdle_club *club;
  girdle_plan_sum sum;
  girdle_weight weight;
  girdle_host *host;
  girdle_placement *none;
  const int64_t piece = 1;
  (void)state;
  MAY_BE("options", girdle_job_weigh(call, job, NULL, &weight, any, 0), GIRDLE_OK);
  MAY_BE("zones", girdle_job_weigh(call, job, NULL, &weight, NULL, 0), GIRDLE_OK);
  MAY_BE("weighed", girdle_job_set_weighed(call, job, NULL, 0), GIRDLE_OK);
  MAY_BE("stones", girdle_job_keep_pieces(call, job, 0, NULL, &piece, 0), GIRDLE_OK);
  MAY_BE("pieces", girdle_job_keep_pieces(call, job, 0, any, NULL, 0), GIRDLE_OK);
  MAY_BE("placement", girdle_job_set_placement(call, job, 0, NULL), GIRDLE_OK);
  assert_ok(&test, girdle_club_new(call, &club));
  MAY_BE("zones", girdle_club_plan(call, club, NULL, 0, GIRDLE_PLAN_PIECES, 5, any, &sum), GIRDLE_ARGUMENT);
  MAY_BE("counts", girdle_club_plan(call, club, any, 0, GIRDLE_PLAN_PIECES, 5, NULL, &sum), GIRDLE_ARGUMENT);
  girdle_club_free(club);
  MAY_BE("options", girdle_host_new(call, NULL, &host), GIRDLE_OK);
  MAY_BE("text", girdle_host_add_source(call, host, GIRDLE_LAYER_HOUSE, "a.lua", NULL, 0), GIRDLE_OK);
  MAY_BE("outlines", girdle_host_add_outlines(call, host, "a.svg", NULL, 0), GIRDLE_OK);
  MAY_BE("given", girdle_host_place(call, host, "nothing of it", NULL, 0, &none), GIRDLE_UNKNOWN);
  MAY_BE("rows", girdle_host_zones(call, host, "zones.csv", NULL, 0, job), GIRDLE_OK);
  MAY_BE("rows", girdle_host_check_zones(call, host, "zones.csv", NULL, 0, job), GIRDLE_OK);
  girdle_host_free(host);
  girdle_job_free(job);
}

static int64_t read_nothing(void *context, void *buffer, uint64_t most) {
  (void)context, (void)buffer, (void)most;
  return 0;
}

/* Without a source a fault has none, wherever it is found. */
static void null_is_allowed_for_papers_read(void **state) {
  const girdle_tap tap = {NULL, read_nothing};
  girdle_job *job = cuff_job();
  girdle_club *club;
  girdle_table *table;
  girdle_zone_rows *rows;
  girdle_drawing *drawing;
  girdle_phrases *phrases;
  (void)state;
  assert_ok(&test, girdle_club_new(call, &club));
  MAY_BE("source", girdle_table_read(call, NULL, "a,b\n\"1", 6, &table), GIRDLE_SYNTAX);
  MAY_BE("source", girdle_paper_read_zones(call, NULL, "zone\n\"", 6, &rows), GIRDLE_SYNTAX);
  MAY_BE("source", girdle_paper_read_club(call, club, GIRDLE_FILE_CLUB, NULL, "tag,\n", 5), GIRDLE_UNKNOWN);
  MAY_BE("source", girdle_paper_read_svg(call, NULL, "<svg>", 5, &drawing), GIRDLE_SYNTAX);
  MAY_BE("source", girdle_paper_read_svg_from(call, NULL, &tap, &drawing), GIRDLE_SYNTAX);
  MAY_BE("source", girdle_paper_read_placements(call, NULL, "zone\n", 5, job), GIRDLE_UNKNOWN);
  MAY_BE("source", girdle_paper_read_phrases(call, NULL, "english,own\nzzz,b\n", 18, &phrases), GIRDLE_UNKNOWN);
  MAY_BE("text", girdle_table_read(call, "a.csv", NULL, 0, &table), GIRDLE_SYNTAX);
  MAY_BE("text", girdle_paper_read_zones(call, "a.csv", NULL, 0, &rows), GIRDLE_SYNTAX);
  MAY_BE("text", girdle_paper_read_club(call, club, GIRDLE_FILE_CLUB, "a.csv", NULL, 0), GIRDLE_SYNTAX);
  MAY_BE("text", girdle_paper_read_svg(call, "a.svg", NULL, 0, &drawing), GIRDLE_SYNTAX);
  MAY_BE("text", girdle_paper_read_placements(call, "a.csv", NULL, 0, job), GIRDLE_SYNTAX);
  MAY_BE("text", girdle_paper_read_phrases(call, "a.csv", NULL, 0, &phrases), GIRDLE_SYNTAX);
  girdle_club_free(club);
  girdle_job_free(job);
}

static void null_is_allowed_for_papers_written(void **state) {
  girdle_job *job = cuff_job();
  girdle_club *club;
  girdle_reckoning *reckoning;
  const girdle_tally *tally;
  (void)state;
  assert_ok(&test, girdle_club_new(call, &club));
  assert_ok(&test, girdle_club_add_job(call, club, job));
  assert_ok(&test, girdle_club_reckon(call, club, 20000, &reckoning));
  tally = girdle_reckoning_tally(reckoning);
  MAY_BE("options", girdle_paper_map_svg_with(call, job, NULL, &sink), GIRDLE_OK);
  MAY_BE("options", girdle_paper_map_pdf(call, job, NULL, &sink), GIRDLE_OK);
  MAY_BE("options", girdle_paper_guides_pdf(call, job, NULL, &sink), GIRDLE_OK);
  MAY_BE("options", girdle_paper_tables(call, NULL, &sink), GIRDLE_OK);
  MAY_BE("options", girdle_paper_sheet_html(call, club, 0, reckoning, NULL, &sink), GIRDLE_OK);
  MAY_BE("offers", girdle_paper_offer_html(call, NULL, 0, &sink), GIRDLE_ARGUMENT);
  MAY_BE("job", girdle_paper_counts_text(call, NULL, tally, &sink), GIRDLE_OK);
  MAY_BE("job", girdle_paper_counts_json(call, NULL, tally, &sink), GIRDLE_OK);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
}

static void null_is_nothing_to_free(void **state) {
  (void)state;
  girdle_path_free(NULL);
  girdle_region_free(NULL);
  girdle_solid_free(NULL);
  girdle_placement_free(NULL);
  girdle_tally_free(NULL);
  girdle_order_free(NULL);
  girdle_calendar_free(NULL);
  girdle_job_free(NULL);
  girdle_club_free(NULL);
  girdle_reckoning_free(NULL);
  girdle_table_free(NULL);
  girdle_zone_rows_free(NULL);
  girdle_drawing_free(NULL);
  girdle_phrases_free(NULL);
  girdle_recipe_sheet_free(NULL);
  girdle_host_free(NULL);
}

/* The length alone is asked for. */
static void null_is_a_buffer_of_no_bytes(void **state) {
  const girdle_currency euro = {"EUR", 2};
  girdle_stone stone;
  girdle_path *line;
  uint64_t wrist;
  (void)state;
  assert_ok(&test, girdle_measure_find(call, "wrist", &wrist));
  assert_ok(&test, girdle_path_line(call, 10, &line));
  assert_ok(&test, girdle_stone_parse(call, "ss20", &stone));
  assert_true(girdle_path_text(line, NULL, 0) > 0);
  assert_true(girdle_stone_text(&stone, NULL, 0) > 0);
  assert_int_equal(girdle_number_text(12.5, 2, NULL, 0), 4);
  assert_int_equal(girdle_pieces_text(966, NULL, 0), strlen("6 gross and 102"));
  assert_int_equal(girdle_money_text(1250, &euro, 1, NULL, 0), strlen("12.50 EUR"));
  assert_int_equal(girdle_date_text(0, NULL, 0), strlen("1970-01-01"));
  assert_true(girdle_measure_warning(wrist, 50, NULL, 0) > 0);
  assert_true(girdle_paper_libraries(NULL, 0) > 0);
  assert_true(girdle_host_libraries(NULL, 0) > 0);
  assert_int_equal(girdle_phrase_text(NULL, "zone", NULL, 0, NULL, 0), 4);
  girdle_path_free(line);
}

static void null_is_no_word(void **state) {
  girdle_table *table;
  (void)state;
  assert_ok(&test, girdle_table_read(call, "a.csv", "a,b\n1,2\n", 8, &table));
  assert_int_equal(girdle_table_column(table, NULL), -1);
  assert_int_equal(girdle_table_column(table, "b"), 1);
  girdle_table_free(table);
  assert_null(girdle_nearest(NULL, NULL, 0));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(null_is_named_by_numbers),
      cmocka_unit_test(null_is_named_by_hosts),
      cmocka_unit_test(null_is_named_by_jobs),
      cmocka_unit_test(null_is_named_by_clubs),
      cmocka_unit_test(null_is_named_by_logs),
      cmocka_unit_test(null_is_named_by_orders),
      cmocka_unit_test(null_is_named_by_papers_read),
      cmocka_unit_test(null_is_named_by_papers_written),
      cmocka_unit_test(null_is_named_by_verbs),
      cmocka_unit_test(null_is_named_by_placements),
      cmocka_unit_test(null_is_named_by_money),
      cmocka_unit_test(null_is_named_by_quotes),
      cmocka_unit_test(null_is_named_by_paths),
      cmocka_unit_test(null_is_named_by_regions),
      cmocka_unit_test(null_is_named_by_stones),
      cmocka_unit_test(null_is_named_by_tallies),
      cmocka_unit_test(null_is_named_by_work),
      cmocka_unit_test(null_is_refused_without_a_call),
      cmocka_unit_test(null_is_allowed_for_shapes),
      cmocka_unit_test(null_is_allowed_for_stones),
      cmocka_unit_test(null_is_allowed_for_placements_and_tallies),
      cmocka_unit_test(null_is_allowed_for_money_logs_and_days),
      cmocka_unit_test(null_is_allowed_for_jobs_and_hosts),
      cmocka_unit_test(null_is_allowed_for_papers_read),
      cmocka_unit_test(null_is_allowed_for_papers_written),
      cmocka_unit_test(null_is_nothing_to_free),
      cmocka_unit_test(null_is_a_buffer_of_no_bytes),
      cmocka_unit_test(null_is_no_word),
  };
  return cmocka_run_group_tests(tests, begin, NULL);
}
