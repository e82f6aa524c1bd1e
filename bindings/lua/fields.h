/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_LUA_FIELDS_H
#define GIRDLE_LUA_FIELDS_H

/* The fields of the words, defined once in api.c, and the places in which each word finds them. */

#include "words.h"

extern const girdle_lua_field girdle_fields_path[], girdle_fields_line[], girdle_fields_loop[], girdle_fields_region[],
    girdle_fields_region_rule[], girdle_fields_rectangle[], girdle_fields_strip[], girdle_fields_trapezoid[],
    girdle_fields_keyhole[], girdle_fields_yoke[], girdle_fields_sleeve[], girdle_fields_skirt[], girdle_fields_panel[],
    girdle_fields_area[], girdle_fields_place[], girdle_fields_corners[], girdle_fields_at[], girdle_fields_offset[],
    girdle_fields_inset[], girdle_fields_mirrored[], girdle_fields_moved[], girdle_fields_turned[],
    girdle_fields_fitted[], girdle_fields_stretched[], girdle_fields_part[], girdle_fields_without[],
    girdle_fields_run[], girdle_fields_band[], girdle_fields_cover[], girdle_fields_scatter[], girdle_fields_grade[],
    girdle_fields_fade[], girdle_fields_between[], girdle_fields_motif[], girdle_fields_set[],
    girdle_fields_count_along[], girdle_fields_count_over[], girdle_fields_folded[], girdle_fields_folded_snap[],
    girdle_fields_clear_of[], girdle_fields_stone[], girdle_fields_recipe[], girdle_fields_takes[],
    girdle_fields_costume[], girdle_fields_fabric[], girdle_fields_state[], girdle_fields_zone[], girdle_fields_use[],
    girdle_fields_use_file[], girdle_fields_reckon[], girdle_fields_supplier[], girdle_fields_price[],
    girdle_fields_stock[], girdle_fields_rate[], girdle_fields_stream[], girdle_fields_stream_number[],
    girdle_fields_stream_integer[], girdle_fields_stream_pick[], girdle_fields_none[], girdle_fields_likely_sizes[],
    girdle_fields_gap_as[], girdle_fields_weighed[], girdle_fields_reach[], girdle_fields_meetings[],
    girdle_fields_flattened[], girdle_fields_lie[], girdle_fields_set_in[], girdle_fields_transformed[],
    girdle_fields_joined[], girdle_fields_catalogue[], girdle_fields_own_size[], girdle_fields_own_cut[],
    girdle_fields_own_material[], girdle_fields_own_stone[], girdle_fields_own_weighed[], girdle_fields_solid[],
    girdle_fields_plausible[];

extern const girdle_lua_field girdle_lua_measure_field; /* one of a costume's measures, under its name */

/* The verbs' common beginning, in this order. */
enum { VERB_SHAPE, VERB_STONES, VERB_GAP, VERB_COUNT, VERB_CLEAR_OF, VERB_END };
/* The common end of run and band, counted from its first. */
enum { LINE_ENDS, LINE_CORNERS, LINE_TURN, LINE_LEAVE, LINE_SET_IN, LINE_END };
enum {
  RUN_WHOLE = VERB_END,
  RUN_LINE,
  RUN_END = RUN_LINE + LINE_END,
  BAND_ROW_GAP = VERB_END,
  BAND_STAGGER,
  BAND_SIDE,
  BAND_LINE,
  BAND_END = BAND_LINE + LINE_END,
  COVER_MARGIN = VERB_END,
  COVER_SETTING,
  COVER_TURN,
  COVER_END,
  SCATTER_MARGIN = VERB_END,
  SCATTER_AROUND,
  SCATTER_FILL_UP,
  SCATTER_DENSE,
  SCATTER_SEED,
  SCATTER_END,
  FADE_MARGIN = VERB_END,
  FADE_FROM,
  FADE_TO,
  FADE_SEED,
  FADE_END,
  BETWEEN_MARGIN = VERB_END,
  BETWEEN_AROUND,
  BETWEEN_END
};
enum {
  GRADE_WITHIN,
  GRADE_STONES,
  GRADE_GAP,
  GRADE_EDGE,
  GRADE_DEPTH,
  GRADE_MARGIN,
  GRADE_CLEAR_OF,
  GRADE_SEED,
  GRADE_END
};
enum { MOTIF_PLACEMENT, MOTIF_ALONG, MOTIF_AT, MOTIF_GAP, MOTIF_COUNT, MOTIF_CLEAR_OF, MOTIF_COLLIDE, MOTIF_END };
enum { GAP_AS_GAP, GAP_AS_ANGLE, GAP_AS_FROM, GAP_AS_TO, GAP_AS_END };
enum { WEIGHED_PIECES, WEIGHED_MASS, WEIGHED_ERROR, WEIGHED_END };
enum { CATALOGUE_SIZES, CATALOGUE_CUTS, CATALOGUE_MATERIALS, CATALOGUE_WEIGHED, CATALOGUE_END };
/* Of three in a row: least, nominal, most. */
enum { OWN_SIZE_NAME, OWN_SIZE_LEAST, OWN_SIZE_CERTAINTY = OWN_SIZE_LEAST + 3, OWN_SIZE_END };
enum {
  OWN_CUT_NAME,
  OWN_CUT_FACETS,
  OWN_CUT_TURNED,
  OWN_CUT_TABLE_LEAST,
  OWN_CUT_HEIGHT_LEAST = OWN_CUT_TABLE_LEAST + 3,
  OWN_CUT_GIRDLE_LEAST = OWN_CUT_HEIGHT_LEAST + 3,
  OWN_CUT_SOURCE = OWN_CUT_GIRDLE_LEAST + 3,
  OWN_CUT_END
};
enum {
  OWN_MATERIAL_NAME,
  OWN_MATERIAL_LEAST,
  OWN_MATERIAL_MINIMUM = OWN_MATERIAL_LEAST + 3,
  OWN_MATERIAL_LEAD,
  OWN_MATERIAL_SOURCE,
  OWN_MATERIAL_END
};
enum { OWN_WEIGHED_STONE, OWN_WEIGHED_PIECES, OWN_WEIGHED_MASS, OWN_WEIGHED_ERROR, OWN_WEIGHED_END };
enum { SET_STONES, SET_AT, SET_END };
enum { ALONG_LENGTH, ALONG_STONES, ALONG_GAP, ALONG_CLOSED, ALONG_END };
enum { OVER_AREA, OVER_PERIMETER, OVER_HOLES, OVER_STONE, OVER_GAP, OVER_SETTING, OVER_CONVEX, OVER_END };
enum { SLEEVE_WRIST, SLEEVE_TOP, SLEEVE_LENGTH, SLEEVE_END };
enum { SKIRT_WAIST, SKIRT_LENGTH, SKIRT_FULLNESS, SKIRT_END };
enum { PANEL_EVERY, PANEL_WIDTHS, PANEL_END };
enum { FITTED_LENGTH, FITTED_WIDTH, FITTED_HEIGHT, FITTED_END };
enum { STRETCHED_ACROSS, STRETCHED_ALONG, STRETCHED_FROM, STRETCHED_END };
enum {
  STONE_SIZE,
  STONE_COLOUR,
  STONE_FINISH,
  STONE_MATERIAL,
  STONE_CUT,
  STONE_FIX,
  STONE_OUTLINE,
  STONE_LENGTH_RATIO,
  STONE_DIAMETER,
  STONE_DIAMETER_LEAST,
  STONE_DIAMETER_MOST,
  STONE_HEIGHT,
  STONE_MASS,
  STONE_MASS_LEAST,
  STONE_MASS_MOST,
  STONE_END
};
enum { RECIPE_FORMAT, RECIPE_NAME, RECIPE_ABOUT, RECIPE_TAKES, RECIPE_PLACE, RECIPE_END };
enum {
  TAKES_NAME,
  TAKES_KIND,
  TAKES_DEFAULT,
  TAKES_FROM,
  TAKES_TO,
  TAKES_CHOICES,
  TAKES_OPTIONAL,
  TAKES_ABOUT,
  TAKES_END
};
enum {
  COSTUME_FORMAT,
  COSTUME_NAME,
  COSTUME_ABOUT,
  COSTUME_MEASURES,
  COSTUME_OUTLINES,
  COSTUME_FABRIC,
  COSTUME_ZONES,
  COSTUME_END
};
enum { FABRIC_MASS, FABRIC_LIES, FABRIC_WORN, FABRIC_END };
enum {
  ZONE_NAME,
  ZONE_SIDE,
  ZONE_RECIPE,
  ZONE_GIVEN,
  ZONE_PLACEMENT,
  ZONE_PAIR,
  ZONE_TIMES,
  ZONE_PRIORITY,
  ZONE_ALREADY,
  ZONE_ALIKE,
  ZONE_END
};
enum { RECKON_OF, RECKON_PRICES, RECKON_SUPPLIERS, RECKON_STOCK, RECKON_RATES, RECKON_END };
enum {
  SUPPLIER_NAME,
  SUPPLIER_CURRENCY,
  SUPPLIER_SHIPPING,
  SUPPLIER_FREE_FROM,
  SUPPLIER_LEAST_ORDER,
  SUPPLIER_DELIVERY_DAYS,
  SUPPLIER_END
};
enum { PRICE_SUPPLIER, PRICE_STONE, PRICE_PACK, PRICE_PRICE, PRICE_ITEM, PRICE_AT_MOST, PRICE_SOLD_OUT, PRICE_END };
enum { STOCK_STONE, STOCK_ON_HAND, STOCK_LOT, STOCK_END };

#endif
