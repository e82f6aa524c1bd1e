-- girdle: counts, places, prices and plans flat-back stones on costumes.
-- SPDX-License-Identifier: MIT. Copyright the girdle contributors.

-- What tests/contract_spec.lua asks of each public function. The first row whose pattern is the whole name counts, and every
-- row must be of use.

-- Tested by a test of another name.
local tested = {
}

-- The Lua word that does it, or, in more than one word, why there is none.
local collected = "Lua's collector frees"
local by_fields = "a word's fields stand for the struct"
local by_reckon = "script:reckon"
local by_files = "the program and other tools read and write files; own scripts have Lua's io"
local hosting = "the host is what runs Lua"
local club = "a club is worked by the program from its folder"
local lists = "shown by the program: girdle club, girdle tables"
local text = "a text for papers and messages, which the program writes"
local log = "the log is read by the program: girdle learn"

local words = {
  { "girdle_.*_init", by_fields },
  { "girdle_.*_free", collected },
  -- base
  { "girdle_version", "it is the field version of the module" },
  { "girdle_status_text", "Lua's errors carry the whole message" },
  { "girdle_number_.*", "Lua reads and writes numbers" },
  { "girdle_nearest", "errors name the nearest word" },
  { "girdle_quantity_parse", "every field that measures reads its unit" },
  { "girdle_pieces_.*", "every field that counts reads pieces" },
  -- stone
  { "girdle_size_parse", "stone" },
  { "girdle_stone_pieces_parse", by_files },
  { "girdle_size_likely", "likely_sizes" },
  { "girdle_size_outside_mm", "likely_sizes" },
  { "girdle_sizes", "sizes" },
  { "girdle_certainty_text", "sizes" },
  { "girdle_cuts", "cuts" },
  { "girdle_materials", "materials" },
  { "girdle_lead_caution", "materials" },
  { "girdle_catalogue_check", "catalogue" },
  { "girdle_stone_weigh", "stone:weighed" },
  { "girdle_stone_reach_mm", "stone:reach" },
  { "girdle_stone_circle_mm", "stone:reach" },
  { "girdle_stone_equal", "it is the == of stones" },
  { "girdle_stone_same_place", "scripts compare diameter and outline" },
  { "girdle_stone_parse_own", "catalogue:stone" },
  { "girdle_stone_.*", "stone" },
  { "girdle_outline_text", "stone" },
  { "girdle_solid_.*", "stone:solid" },
  -- shape
  { "girdle_path_parse", "path" },
  { "girdle_path_line", "line" },
  { "girdle_path_loop", "loop" },
  { "girdle_path_from_.*", "path" },
  { "girdle_path_text", "shape:data" },
  { "girdle_path_length_mm", "shape:length" },
  { "girdle_path_is_closed", "shape:closed" },
  { "girdle_path_subpaths", "shape:subpaths" },
  { "girdle_path_box", "shape:box" },
  { "girdle_path_at", "shape:at" },
  { "girdle_path_nearest", "shape:nearest" },
  { "girdle_path_turns", "shape:corners" },
  { "girdle_path_([%a_]+)", "shape:%1" },
  { "girdle_gap_as", "gap_as" },
  { "girdle_angle_as", "gap_as" },
  { "girdle_tape_info", "tapes" },
  { "girdle_measure_name", "body_measures" },
  { "girdle_measure_tape", "body_measures" },
  { "girdle_measure_.*", "plausible" },
  { "girdle_region_new", "region" },
  { "girdle_region_from_.*", "region" },
  { "girdle_region_area_mm2", "shape:area" },
  { "girdle_region_perimeter_mm", "shape:perimeter" },
  { "girdle_region_holes", "shape:holes" },
  { "girdle_region_centroid", "shape:centre" },
  { "girdle_region_box", "shape:box" },
  { "girdle_region_contains", "shape:contains" },
  { "girdle_region_depth_mm", "shape:depth" },
  { "girdle_region_(transformed)", "shape:%1" },
  { "girdle_region_(without)", "shape:%1" },
  { "girdle_region_(fitted)", "shape:%1" },
  { "girdle_region_(stretched)", "shape:%1" },
  { "girdle_region_(inset)", "shape:%1" },
  { "girdle_region_(rim)", "shape:%1" },
  { "girdle_region_(lower_edge)", "shape:%1" },
  { "girdle_region_(%a+)", "%1" },
  -- place
  { "girdle_placement_new", "set" },
  { "girdle_placement_copy", "placements never change, so a second name will do" },
  { "girdle_placement_view", "placement:each" },
  { "girdle_placement_pieces", "placement:counts" },
  { "girdle_placement_joined", "it is the + of placements" },
  { "girdle_placement_(.*)", "placement:%1" },
  { "girdle_count_(.*)", "count_%1" },
  { "girdle_(run)", "%1" },
  { "girdle_(band)", "%1" },
  { "girdle_(cover)", "%1" },
  { "girdle_(scatter)", "%1" },
  { "girdle_(grade)", "%1" },
  { "girdle_(fade)", "%1" },
  { "girdle_(between)", "%1" },
  { "girdle_(motif)", "%1" },
  -- tally, order, work, quote
  { "girdle_tally_compare", "shown by the program: girdle compare" },
  { "girdle_tally_.*", by_reckon },
  { "girdle_currency_parse", by_reckon },
  { "girdle_money_.*", "Lua has whole numbers of minor units; the fields of reckon read amounts" },
  { "girdle_labour_by_gross", by_reckon },
  { "girdle_stock_weighed", "read by the program: the column twenty of stock.csv" },
  { "girdle_packs_cheapest", by_reckon },
  { "girdle_order_substitutes", "shown by the program beside an order" },
  { "girdle_order_.*", by_reckon },
  { "girdle_work_estimate", by_reckon },
  { "girdle_work_.*", lists },
  { "girdle_quote_make", by_reckon },
  { "girdle_quote_self_make", lists },
  { "girdle_date_.*", club },
  { "girdle_calendar_.*", club },
  { "girdle_.*_text", text },
  -- learn
  { "girdle_learn.*", log },
  { "girdle_log_.*", log },
  { "girdle_forecast_ratio", log },
  { "girdle_.*_quantile", "statistics of the log's own" },
  { "girdle_binomial_below", "statistics of the log's own" },
  { "girdle_spares", log },
  { "girdle_chance_short", log },
  { "girdle_repair_kit", log },
  { "girdle_worthwhile_confidence", log },
  -- job
  { "girdle_job_add_zone", "zone" },
  { "girdle_job_set_fabric", "costume" },
  { "girdle_job_set_measure", "costume" },
  { "girdle_job_.*", club },
  { "girdle_picture_carry", club },
  { "girdle_zone_split", club },
  { "girdle_zone_rows_.*", by_files },
  { "girdle_opening_try", "shown by the program with a costume" },
  { "girdle_club_.*", club },
  { "girdle_rate_names", "an unknown rate's error names the nearest" },
  { "girdle_reckoning_.*", by_reckon },
  -- the outer libraries
  { "girdle_host_.*", hosting },
  { "girdle_recipe_sheet_.*", hosting },
  { "girdle_paper_.*", by_files },
  { "girdle_table_.*", by_files },
  { "girdle_drawing_.*", by_files },
  { "girdle_phrase.*", by_files },
}

return { tested = tested, words = words }
