/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "fields.h"
#include "words.h"

/* The table of the API: the one place where words, fields, kinds, limits, help and examples stand. It registers the
 * words, checks their fields, knows what was meant by a wrong name, and is what the manual, the editor's stub and the
 * linter's list are made from. */

#define NEED GIRDLE_FIELD_NEEDED
#define MAY GIRDLE_FIELD_OPTIONAL
#define END \
  { NULL, 0, 0, 0, 0, NULL, NULL, NULL, NULL }
enum {
  LENGTH = GIRDLE_KIND_LENGTH,
  PATH = GIRDLE_KIND_PATH,
  REGION = GIRDLE_KIND_REGION,
  STONE = GIRDLE_KIND_STONE,
  STONES = GIRDLE_KIND_STONES,
  NUMBER = GIRDLE_KIND_NUMBER,
  INTEGER = GIRDLE_KIND_INTEGER,
  PERCENT = GIRDLE_KIND_PERCENT,
  ANGLE = GIRDLE_KIND_ANGLE,
  CHOICE = GIRDLE_KIND_CHOICE,
  FLAG = GIRDLE_KIND_FLAG,
  SEED = GIRDLE_KIND_SEED,
  POINT = GIRDLE_KIND_POINT,
  POINTS = GIRDLE_KIND_POINTS,
  TEXT = GIRDLE_KIND_TEXT,
  WEIGHTED = GIRDLE_KIND_WEIGHTED,
  ROWS = GIRDLE_KIND_ROWS,
  PLACEMENT = GIRDLE_KIND_PLACEMENT,
  STRETCHES = GIRDLE_KIND_STRETCHES,
  TURN = GIRDLE_KIND_TURN,
  AREA = GIRDLE_KIND_AREA,
  MASS_PER_AREA = GIRDLE_KIND_AREAL_MASS,
  MASS = GIRDLE_KIND_MASS,
  PIECES = GIRDLE_KIND_PIECES,
  TABLE = GIRDLE_KIND_TABLE,
  FUNCTION = GIRDLE_KIND_FUNCTION,
  ANY = GIRDLE_KIND_ANY
};
#define LONGEST 1e7
#define SMALLEST 1e-3
#define MOST_PIECES 1e12

/* ---- shapes */

const girdle_lua_field girdle_fields_none[] = {END};
const girdle_lua_field girdle_fields_path[] = {
    {"data", TEXT, NEED, 0, 0, NULL, NULL, "\"M0 0 C30 -20 70 -20 100 0\"",
     "SVG path data in millimetres, or \"38 cm\", \"loop 34 cm\", \"oval 8 cm x 6 cm\""},
    END};
const girdle_lua_field girdle_fields_line[] = {
    {"length", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"38 cm\"", "how long it is"}, END};
const girdle_lua_field girdle_fields_loop[] = {
    {"girth", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"34 cm\"", "how long once round"}, END};
const girdle_lua_field girdle_fields_region[] = {
    {"outline", PATH, NEED, 0, 0, NULL, NULL, "\"M0 0 H100 V80 H0 Z\"", "a closed path, or its data"},
    {"options", TABLE, MAY, 0, 0, NULL, "none", "{ rule = \"evenodd\" }", "rule: which points are inside",
     girdle_fields_region_rule},
    END};
const girdle_lua_field girdle_fields_region_rule[] = {
    {"rule", CHOICE, MAY, 0, 0, "nonzero|evenodd", "nonzero", "\"evenodd\"", "SVG's fill rule"}, END};
const girdle_lua_field girdle_fields_rectangle[] = {
    {"width", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"10 cm\"", "from left to right"},
    {"height", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"20 cm\"", "from top to bottom"},
    END};
const girdle_lua_field girdle_fields_strip[] = {
    {"length", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"60 cm\"", "along the edge"},
    {"depth", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"4 cm\"", "away from the edge"},
    END};
const girdle_lua_field girdle_fields_trapezoid[] = {
    {"top", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"20 cm\"", "width at the top"},
    {"bottom", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"30 cm\"", "width at the bottom"},
    {"height", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"15 cm\"", "from top to bottom"},
    END};
const girdle_lua_field girdle_fields_keyhole[] = {
    {"width", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"8 cm\"", "across the round part"},
    {"height", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"14 cm\"", "down the whole opening"},
    {"slit", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"1 cm\"", "across the slit"},
    END};
const girdle_lua_field girdle_fields_yoke[] = {
    {"inner", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"40 cm\"", "along the narrow edge, above"},
    {"outer", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"90 cm\"", "along the wide edge, below"},
    {"depth", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"12 cm\"", "from edge to edge"},
    END};
const girdle_lua_field girdle_fields_sleeve[] = {
    {"wrist", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"16 cm\"", "round the wrist edge"},
    {"top", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"30 cm\"", "round the top"},
    {"length", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"55 cm\"", "down along the arm"},
    END};
const girdle_lua_field girdle_fields_skirt[] = {
    {"waist", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"66 cm\"", "along the waist edge"},
    {"length", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"35 cm\"", "down to the hem"},
    {"fullness", NUMBER, MAY, 0.01, 1, NULL, "1", "0.5", "share of a whole circle: 1 circle skirt, 0.5 half"},
    END};
const girdle_lua_field girdle_fields_panel[] = {
    {"every", LENGTH, NEED, SMALLEST, 1e6, NULL, NULL, "\"5 cm\"", "from width to width, down the middle"},
    {"widths", TABLE, NEED, 0, 0, NULL, NULL, "{ \"20 cm\", \"24 cm\", \"22 cm\" }",
     "from the top, 0.001 to 10000000 mm each; the first and the last may be 0"},
    END};
const girdle_lua_field girdle_fields_area[] = {
    {"area", AREA, NEED, 1e-6, 1e14, NULL, NULL, "\"250 cm2\"", "as counted on squared paper"}, END};
const girdle_lua_field girdle_fields_place[] = {
    {"x", LENGTH, NEED, -LONGEST, LONGEST, NULL, NULL, "\"3 cm\"", "to the right"},
    {"y", LENGTH, NEED, -LONGEST, LONGEST, NULL, NULL, "\"2 cm\"", "down"},
    END};
const girdle_lua_field girdle_fields_corners[] = {
    {"least", ANGLE, MAY, 0, 180, NULL, "30 deg", "\"45 deg\"", "what turns more is a corner"}, END};
const girdle_lua_field girdle_fields_at[] = {
    {"distance", LENGTH, NEED, 0, LONGEST, NULL, NULL, "\"5 cm\"", "along the path from its start"}, END};
const girdle_lua_field girdle_fields_offset[] = {{"distance", LENGTH, NEED, -LONGEST, LONGEST, NULL, NULL, "\"5 mm\"",
                                                  "to the right of the walker; negative to the left"},
                                                 END};
const girdle_lua_field girdle_fields_inset[] = {{"distance", LENGTH, NEED, -LONGEST, LONGEST, NULL, NULL, "\"5 mm\"",
                                                 "how far in from the edge; negative outwards"},
                                                END};
const girdle_lua_field girdle_fields_set_in[] = {
    {"distance", LENGTH, NEED, -1e6, 1e6, NULL, NULL, "\"5 mm\"",
     "inside a closed path, to the right of an open one; negative to the left of the walker"},
    END};
const girdle_lua_field girdle_fields_transformed[] = {
    {"a", NUMBER, NEED, -1e6, 1e6, NULL, NULL, "1", "of x, in x' = a x + c y + e"},
    {"b", NUMBER, NEED, -1e6, 1e6, NULL, NULL, "0", "of x, in y' = b x + d y + f"},
    {"c", NUMBER, NEED, -1e6, 1e6, NULL, NULL, "0.2", "of y, in x'"},
    {"d", NUMBER, NEED, -1e6, 1e6, NULL, NULL, "1", "of y, in y'"},
    {"e", LENGTH, MAY, -LONGEST, LONGEST, NULL, "0", "\"3 cm\"", "to the right"},
    {"f", LENGTH, MAY, -LONGEST, LONGEST, NULL, "0", "\"2 cm\"", "down"},
    END};
const girdle_lua_field girdle_fields_joined[] = {
    {"other", PATH, NEED, 0, 0, NULL, NULL, "line(\"38 cm\")", "the path that follows; of a region, its rim"}, END};
const girdle_lua_field girdle_fields_mirrored[] = {
    {"x", LENGTH, MAY, -LONGEST, LONGEST, NULL, "0", "\"10 cm\"", "where the upright mirror line stands"}, END};
const girdle_lua_field girdle_fields_moved[] = {
    {"dx", LENGTH, NEED, -LONGEST, LONGEST, NULL, NULL, "\"3 cm\"", "to the right"},
    {"dy", LENGTH, NEED, -LONGEST, LONGEST, NULL, NULL, "\"2 cm\"", "down"},
    END};
const girdle_lua_field girdle_fields_turned[] = {
    {"turn", ANGLE, NEED, -1e6, 1e6, NULL, NULL, "\"30 deg\"", "clockwise about the origin"}, END};
const girdle_lua_field girdle_fields_fitted[] = {
    {"length", LENGTH, MAY, SMALLEST, LONGEST, NULL, "none", "\"40 cm\"", "along the path, or all round"},
    {"width", LENGTH, MAY, SMALLEST, LONGEST, NULL, "none", "\"20 cm\"", "width of its box"},
    {"height", LENGTH, MAY, SMALLEST, LONGEST, NULL, "none", "\"20 cm\"", "height of its box"},
    END};
const girdle_lua_field girdle_fields_stretched[] = {
    {"across", PERCENT, MAY, -0.9, 9, NULL, "0", "\"10 %\"", "how much wider"},
    {"along", PERCENT, MAY, -0.9, 9, NULL, "0", "\"5 %\"", "how much higher"},
    {"from", TABLE, MAY, 0, 0, NULL, "flat as cut", "{ across = \"25 %\" }", "how it lies before, for the way back",
     girdle_fields_lie},
    END};
const girdle_lua_field girdle_fields_lie[] = {
    {"across", PERCENT, MAY, -0.9, 9, NULL, "0", "\"10 %\"", "wider than cut"},
    {"along", PERCENT, MAY, -0.9, 9, NULL, "0", "\"5 %\"", "longer than cut"},
    END};
const girdle_lua_field girdle_fields_part[] = {
    {"from", LENGTH, NEED, 0, LONGEST, NULL, NULL, "\"5 cm\"", "where it begins, along the path"},
    {"to", LENGTH, NEED, 0, LONGEST, NULL, NULL, "\"25 cm\"", "where it ends"},
    END};
const girdle_lua_field girdle_fields_without[] = {
    {"region", REGION, NEED, 0, 0, NULL, NULL, "oval(\"3 cm\", \"5 cm\")", "what is left out"}, END};

/* ---- verbs */

#define GAP \
  { "gap", LENGTH, MAY, 0, 1e6, NULL, "0", "\"0.5 mm\"", "clear fabric between two stones, edge to edge" }
#define COUNT                                                       \
  {                                                                 \
    "count", PIECES, MAY, 1, MOST_PIECES, NULL, "by the gap", "60", \
        "exactly so many stones; the gap is then the least allowed" \
  }
#define CLEAR_OF                                                                \
  {                                                                             \
    "clear_of", PLACEMENT, MAY, 0, 0, NULL, "none", "collar",                   \
        "stones already there: what would come nearer than the gap is left out" \
  }
#define MARGIN \
  { "margin", LENGTH, MAY, 0, 1e6, NULL, "0", "\"2 mm\"", "clear fabric between a stone and the region's edge" }
#define SEED_FIELD                                                                           \
  {                                                                                          \
    "seed", SEED, MAY, -9e15, 9e15, NULL, "from the names of costume, zone and recipe", "7", \
        "another number or text gives another spread"                                        \
  }
#define ALONG \
  { "along", PATH, NEED, 0, 0, NULL, NULL, "line(\"38 cm\")", "the path; of a region, its rim" }
#define WITHIN \
  { "within", REGION, NEED, 0, 0, NULL, NULL, "rectangle(\"10 cm\", \"20 cm\")", "the region, or a closed path" }
#define ENDS                                                                     \
  {                                                                              \
    "ends", CHOICE, MAY, 0, 0, "centre|inside", "centre", "\"inside\"",          \
        "of an open path: a stone's centre on each end, or stones wholly inside" \
  }
#define CORNERS \
  { "corners", ANGLE, MAY, 0, 180, NULL, "30 deg", "\"45 deg\"", "a corner that turns more bears a stone" }
#define RUN_TURN_FIELD                                                   \
  {                                                                      \
    "turn", TURN, MAY, -1e6, 1e6, NULL, "along", "\"along\"",            \
        "of stones that are not round: along the path, or a fixed angle" \
  }
#define LEAVE                                                                                           \
  {                                                                                                     \
    "leave", STRETCHES, MAY, 0, 0, NULL, "none", "{ {\"18 cm\", \"22 cm\"} }",                          \
        "stretches of the path without stones; on a loop { \"32 cm\", \"2 cm\" } runs across the start" \
  }
#define SET_IN                                                                                                        \
  {                                                                                                                   \
    "set_in", LENGTH, MAY, -1e6, 1e6, NULL, "0", "\"5 mm\"",                                                          \
        "sets the line off its edge: inside a closed path, to the right of an open one; negative to the left of the " \
        "walker"                                                                                                      \
  }

#define HEAD GAP, COUNT, CLEAR_OF /* behind shape and stones */
#define LINE_TAIL ENDS, CORNERS, RUN_TURN_FIELD, LEAVE, SET_IN

const girdle_lua_field girdle_fields_run[] = {
    ALONG,
    {"stones", STONES, NEED, 0, 0, NULL, NULL, "{ \"ss20 black\", \"ss20 clear\" }", "the sequence, repeated"},
    HEAD,
    {"whole", FLAG, MAY, 0, 0, NULL, "false", "true", "only whole sequences"},
    LINE_TAIL,
    END};
const girdle_lua_field girdle_fields_band[] = {
    ALONG,
    {"rows", ROWS, NEED, 0, 0, NULL, NULL, "{ {\"ss30 black\"}, {\"ss16 clear\"} }", "the sequence of each row"},
    HEAD,
    {"row_gap", LENGTH, MAY, 0, 1e6, NULL, "as gap", "\"0.5 mm\"", "clear fabric between two rows"},
    {"stagger", FLAG, MAY, 0, 0, NULL, "false", "true", "every other row is shifted by half a pitch"},
    {"side", CHOICE, MAY, 0, 0, "left|right|both", "right", "\"left\"",
     "where the rows after the first lie, as one walks"},
    LINE_TAIL,
    END};
const girdle_lua_field girdle_fields_cover[] = {
    WITHIN,
    {"stones", STONES, NEED, 0, 0, NULL, NULL, "{ \"ss16 clear\" }",
     "stones of one diameter; several alternate along the row"},
    HEAD,
    MARGIN,
    {"setting", CHOICE, MAY, 0, 0, "honeycomb|square|edge", "honeycomb", "\"square\"",
     "rows staggered, in a grid, or along the edge"},
    {"turn", ANGLE, MAY, -1e6, 1e6, NULL, "the best found", "0", "of the rows"},
    END};
const girdle_lua_field girdle_fields_scatter[] = {
    WITHIN,
    {"stones", WEIGHTED, NEED, 0, 0, NULL, NULL, "{ {\"ss20 clear\", 2}, {\"ss12 black\", 5} }",
     "stones, or pairs of a stone and its weight"},
    HEAD,
    MARGIN,
    {"around", PLACEMENT, MAY, 0, 0, NULL, "none", "motifs", "what is already there and keeps its place"},
    {"fill_up", FLAG, MAY, 0, 0, NULL, "false", "true", "until no stone fits any more, giving up the weights"},
    {"dense", FLAG, MAY, 0, 0, NULL, "false", "true", "one size set beside each other, three in ten more of them"},
    SEED_FIELD,
    END};
const girdle_lua_field girdle_fields_grade[] = {
    WITHIN,
    {"stones", STONES, NEED, 0, 0, NULL, NULL, "{ \"ss34\", \"ss20\", \"ss12\" }",
     "from the largest, at the edge, to the smallest"},
    GAP,
    {"edge", PATH, NEED, 0, 0, NULL, NULL, "line(\"30 cm\")", "where the large stones lie"},
    {"depth", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"8 cm\"", "how far the grading reaches from the edge"},
    MARGIN,
    CLEAR_OF,
    SEED_FIELD,
    END};
const girdle_lua_field girdle_fields_fade[] = {
    WITHIN,
    {"stones", STONES, NEED, 0, 0, NULL, NULL, "{ \"ss16 red\", \"ss16 gold\" }", "in the order of the ramp"},
    HEAD,
    MARGIN,
    {"from", POINT, NEED, 0, 0, NULL, NULL, "{ 0, 0 }", "where the first stone stands alone"},
    {"to", POINT, NEED, 0, 0, NULL, NULL, "{ 0, \"20 cm\" }", "where the last stone stands alone"},
    SEED_FIELD,
    END};
const girdle_lua_field girdle_fields_between[] = {
    WITHIN,
    {"stones", STONES, NEED, 0, 0, NULL, NULL, "{ \"ss9\", \"ss6\" }", "each gap takes the largest that it holds"},
    GAP,
    {"count", PIECES, MAY, 1, MOST_PIECES, NULL, "all that fit", "60", "at most so many, the widest gaps first"},
    CLEAR_OF,
    MARGIN,
    {"around", PLACEMENT, NEED, 0, 0, NULL, NULL, "stones", "what is there already; it is not part of the result"},
    END};
const girdle_lua_field girdle_fields_motif[] = {
    {"placement", PLACEMENT, NEED, 0, 0, NULL, NULL, "star", "the group that is repeated"},
    {"along", PATH, MAY, 0, 0, NULL, "none", "line(\"38 cm\")", "upright across a path, closed evenly"},
    {"at", POINTS, MAY, 0, 0, NULL, "none", "{ {0, 0}, {\"8 cm\", 0, \"30 deg\", 1.5} }",
     "the middle of each copy's box, its turn, and how much its distances grow"},
    {"gap", LENGTH, MAY, 0, 1e6, NULL, "0", "\"10 mm\"", "between copies, edge to edge along the path"},
    {"count", PIECES, MAY, 1, MOST_PIECES, NULL, "by the gap", "7", "copies along the path"},
    CLEAR_OF,
    {"collide", FLAG, MAY, 0, 0, NULL, "false", "true", "copies may come nearer than the gap to each other"},
    END};
const girdle_lua_field girdle_fields_set[] = {
    {"stones", STONES, NEED, 0, 0, NULL, NULL, "\"ss34 red\"", "the sequence, repeated"},
    {"at", POINTS, NEED, 0, 0, NULL, NULL, "{ {0, 0}, {\"8 cm\", 0, \"30 deg\"} }",
     "the middle of each stone, and its turn"},
    END};
const girdle_lua_field girdle_fields_count_along[] = {
    {"length", LENGTH, NEED, SMALLEST, LONGEST, NULL, NULL, "\"38 cm\"", "of the line or loop"},
    {"stones", STONES, NEED, 0, 0, NULL, NULL, "\"ss20\"", "the sequence, repeated"},
    GAP,
    {"closed", FLAG, MAY, 0, 0, NULL, "false", "true", "a loop"},
    END};
const girdle_lua_field girdle_fields_count_over[] = {
    {"area", AREA, NEED, 0, 1e14, NULL, NULL, "\"250 cm2\"", "of the region"},
    {"perimeter", LENGTH, NEED, 0, LONGEST, NULL, NULL, "\"70 cm\"", "all its edges together"},
    {"holes", INTEGER, MAY, 0, 1e9, NULL, "0", "1", "how many holes it has"},
    {"stone", STONE, NEED, 0, 0, NULL, NULL, "\"ss16\"", "of one size"},
    GAP,
    {"setting", CHOICE, MAY, 0, 0, "honeycomb|square", "honeycomb", "\"square\"", "rows staggered, or in a grid"},
    {"convex", FLAG, MAY, 0, 0, NULL, "false", "true", "without holes or dents: its bound is nearer"},
    END};
const girdle_lua_field girdle_fields_folded[] = {
    {"x", LENGTH, MAY, -LONGEST, LONGEST, NULL, "0", "\"10 cm\"", "where the upright fold stands"},
    {"options", TABLE, MAY, 0, 0, NULL, "none", "{ snap = \"0.1 mm\" }", "snap: how near a stone moves onto the fold",
     girdle_fields_folded_snap},
    END};
const girdle_lua_field girdle_fields_folded_snap[] = {{"snap", LENGTH, MAY, 0, 1e6, NULL, "0.1 mm", "\"0.1 mm\"",
                                                       "a stone so near to the fold moves onto it and stands once"},
                                                      END};
const girdle_lua_field girdle_fields_clear_of[] = {
    {"other", PLACEMENT, NEED, 0, 0, NULL, NULL, "collar", "what was there earlier"},
    {"gap", LENGTH, MAY, 0, 1e6, NULL, "0", "\"0.5 mm\"", "clear fabric between the two"},
    END};

/* ---- stones, chance */

const girdle_lua_field girdle_fields_stone[] = {
    {"size", TEXT, MAY, 0, 0, NULL, "from diameter_mm", "\"ss20\"", "a size, or a diameter such as \"5 mm\""},
    {"colour", TEXT, MAY, 0, 0, NULL, "clear", "\"black\"", "in any words"},
    {"finish", TEXT, MAY, 0, 0, NULL, "foiled", "\"matt\"", "foiled, coated, plain or matt"},
    {"material", TEXT, MAY, 0, 0, NULL, "soda-lime", "\"acrylic\"", "which its mass follows from"},
    {"cut", TEXT, MAY, 0, 0, NULL, "the house cut", "\"14 facets\"", "which its height and mass follow from"},
    {"fix", CHOICE, MAY, 0, 0, "glue|sew|both", "glue", "\"sew\"", "how it is held"},
    {"outline", CHOICE, MAY, 0, 0, "round|oval|pear|navette|square|rectangle|heart", "round", "\"pear\"",
     "seen from above"},
    {"length_ratio", NUMBER, MAY, 1, 5, NULL, "the outline's own", "1.5", "length over width"},
    {"diameter_mm", NUMBER, MAY, 0.5, 100, NULL, "the size's", "4.7", "width across"},
    {"diameter_least_mm", NUMBER, MAY, 0.5, 100, NULL, "as diameter_mm", "4.6", "the narrowest of a lot"},
    {"diameter_most_mm", NUMBER, MAY, 0.5, 100, NULL, "as diameter_mm", "4.8", "the widest of a lot"},
    {"height_mm", NUMBER, MAY, 0.01, 300, NULL, "the cut's", "2", "from the back to the table"},
    {"mass_mg", NUMBER, MAY, 0.001, 1e6, NULL, "the cut's", "55", "of one stone, by weighing"},
    {"mass_least_mg", NUMBER, MAY, 0.001, 1e6, NULL, "as mass_mg", "50", "the lightest of a lot"},
    {"mass_most_mg", NUMBER, MAY, 0.001, 1e6, NULL, "as mass_mg", "60", "the heaviest of a lot"},
    END};
/* The rows of a catalogue bear the names that sizes, cuts and materials give. */
#define OWN_RANGE(name, unit, from, to, example)                                                     \
  {name "_least" unit, NUMBER, MAY, from, to, NULL, "as nominal", example, "the least of a lot"},    \
      {name "_nominal" unit, NUMBER, NEED, from, to, NULL, NULL, example, "as most of a lot are"}, { \
    name "_most" unit, NUMBER, MAY, from, to, NULL, "as nominal", example, "the most of a lot"       \
  }
const girdle_lua_field girdle_fields_catalogue[] = {
    {"sizes", TABLE, MAY, 0, 0, NULL, "none", "{ { name = \"house 5\", diameter_nominal_mm = 5 } }",
     "a row for each, named as sizes() names them: name, diameter_least_mm, diameter_nominal_mm, diameter_most_mm, "
     "certainty",
     girdle_fields_own_size},
    {"cuts", TABLE, MAY, 0, 0, NULL, "none",
     "{ { name = \"low\", facets = 10, table_ratio_nominal = 0.4, height_ratio_nominal = 0.3, girdle_ratio_nominal = "
     "0.05 } }",
     "a row for each, named as cuts() names them: name, facets, turned, the ratios of the table, the height and the "
     "girdle to the diameter, source",
     girdle_fields_own_cut},
    {"materials", TABLE, MAY, 0, 0, NULL, "none", "{ { name = \"house resin\", density_nominal_g_cm3 = 1.3 } }",
     "a row for each: name, density_least_g_cm3, density_nominal_g_cm3, density_most_g_cm3, minimum, lead, source",
     girdle_fields_own_material},
    {"weighed", TABLE, MAY, 0, 0, NULL, "none", "{ { stone = \"ss20\", pieces = \"1 gross\", mass = \"7.9 g\" } }",
     "a row for each weighing: stone, pieces, mass, error; the mass goes to all of the same size, cut, material and "
     "outline",
     girdle_fields_own_weighed},
    END};
const girdle_lua_field girdle_fields_own_size[] = {
    {"name", TEXT, NEED, 0, 0, NULL, NULL, "\"house 5\"", "as it is written in a stone's text"},
    OWN_RANGE("diameter", "_mm", 0.5, 100, "5"),
    {"certainty", CHOICE, MAY, 0, 0, "several charts|one chart|interpolated|not confirmed|given in millimetres",
     "given in millimetres", "\"one chart\"", "how well it is known"},
    END};
const girdle_lua_field girdle_fields_own_cut[] = {
    {"name", TEXT, NEED, 0, 0, NULL, NULL, "\"low\"", "as it is written in a stone's text"},
    {"facets", INTEGER, NEED, 3, 64, NULL, NULL, "10", "main facets"},
    {"turned", FLAG, MAY, 0, 0, NULL, "false", "true", "the table is turned by half a facet"},
    OWN_RANGE("table_ratio", "", 0.001, 1, "0.4"),
    OWN_RANGE("height_ratio", "", 0.01, 3, "0.3"),
    OWN_RANGE("girdle_ratio", "", 0, 2.9, "0.05"),
    {"source", TEXT, MAY, 0, 0, NULL, "the user's own", "\"measured by us\"", "where the ratios come from"},
    END};
const girdle_lua_field girdle_fields_own_material[] = {
    {"name", TEXT, NEED, 0, 0, NULL, NULL, "\"house resin\"", "as it is written in a stone's text"},
    OWN_RANGE("density", "_g_cm3", 0.01, 100, "1.3"),
    {"minimum", FLAG, MAY, 0, 0, NULL, "false", "true", "the density is a lower bound, and so are the masses"},
    {"lead", CHOICE, MAY, 0, 0, "none|unknown|may|yes", "unknown", "\"none\"", "which caution goes with it"},
    {"source", TEXT, MAY, 0, 0, NULL, "the user's own", "\"weighed in water\"", "where the density comes from"},
    END};
#define WEIGHING                                                                                 \
  {"pieces", PIECES, NEED, 1, 1e9, NULL, NULL, "\"1 gross\"", "how many were weighed together"}, \
      {"mass", MASS, NEED, 1e-3, 1e12, NULL, NULL, "\"7.9 g\"", "of them all"}, {                \
    "error", MASS, MAY, 0, 1e9, NULL, "0", "\"0.1 g\"", "of the scales"                          \
  }
const girdle_lua_field girdle_fields_own_weighed[] = {
    {"stone", ANY, NEED, 0, 0, NULL, NULL, "\"ss20\"", "a text, or the fields of the word stone"}, WEIGHING, END};
const girdle_lua_field girdle_fields_own_stone[] = {
    {"stone", ANY, NEED, 0, 0, NULL, NULL, "\"house 5 red\"", "a text, or the fields of the word stone"}, END};
const girdle_lua_field girdle_fields_solid[] = {
    {"stone", STONE, NEED, 0, 0, NULL, NULL, "\"ss20\"", "the stone, its cut one of the catalogue's or of the tables'"},
    END};
const girdle_lua_field girdle_fields_stream[] = {SEED_FIELD, END};
const girdle_lua_field girdle_fields_stream_number[] = {
    {"from", NUMBER, MAY, -1e15, 1e15, NULL, "0", "0.5", "the least"},
    {"to", NUMBER, MAY, -1e15, 1e15, NULL, "1", "2", "the most, never reached"},
    END};
const girdle_lua_field girdle_fields_stream_integer[] = {
    {"from", INTEGER, NEED, -1e15, 1e15, NULL, NULL, "1", "the least"},
    {"to", INTEGER, NEED, -1e15, 1e15, NULL, NULL, "6", "the most"},
    END};
const girdle_lua_field girdle_fields_stream_pick[] = {
    {"list", TABLE, NEED, 0, 0, NULL, NULL, "{ \"ss16\", \"ss20\" }", "not empty"}, END};

/* ---- facts */

const girdle_lua_field girdle_fields_likely_sizes[] = {
    {"diameter", LENGTH, NEED, 0.1, 100, NULL, NULL, "\"4.7 mm\"", "as measured across the girdle"},
    {"error", LENGTH, MAY, 0, 1, NULL, "0.05 mm", "\"0.05 mm\"", "of the caliper"},
    END};
const girdle_lua_field girdle_fields_plausible[] = {
    {"measure", TEXT, NEED, 0, 0, NULL, NULL, "\"wrist\"", "its name: everyday, or a girth of ISO 8559"},
    {"length", LENGTH, NEED, -LONGEST, LONGEST, NULL, NULL, "\"14 cm\"", "as measured"},
    END};
const girdle_lua_field girdle_fields_gap_as[] = {
    {"gap", LENGTH, NEED, 0, 1e6, NULL, NULL, "\"1 mm\"", "clear fabric between two stones"},
    {"angle", ANGLE, MAY, -1e6, 1e6, NULL, "0: across", "\"90 deg\"", "from stone to stone, while it lies as `from`"},
    {"from", TABLE, MAY, 0, 0, NULL, "flat as cut", "{ across = \"25 %\" }",
     "how the fabric lies where the gap is meant", girdle_fields_lie},
    {"to", TABLE, MAY, 0, 0, NULL, "flat as cut", "{ across = \"10 %\" }", "how it lies where the gap is wanted",
     girdle_fields_lie},
    END};
const girdle_lua_field girdle_fields_weighed[] = {WEIGHING, END};
const girdle_lua_field girdle_fields_reach[] = {
    {"towards", ANGLE, NEED, -1e6, 1e6, NULL, NULL, "\"90 deg\"", "the direction"},
    {"turn", ANGLE, MAY, -1e6, 1e6, NULL, "0", "\"30 deg\"", "of the stone"},
    END};
const girdle_lua_field girdle_fields_meetings[] = {
    {"other", PATH, MAY, 0, 0, NULL, "itself", "line(\"38 cm\")", "the other path"}, END};
const girdle_lua_field girdle_fields_flattened[] = {
    {"tolerance", LENGTH, MAY, 1e-6, 1e6, NULL, "0.01 mm", "\"0.1 mm\"", "no point lies farther from the lines"}, END};

/* ---- recipes and costumes */

const girdle_lua_field girdle_fields_recipe[] = {
    {"format", INTEGER, NEED, 1, 1e6, NULL, NULL, "1", "of the file"},
    {"name", TEXT, NEED, 0, 0, NULL, NULL, "\"alternating line\"", "the file's name, with spaces for _"},
    {"about", TEXT, MAY, 0, 0, NULL, "none", "\"Two stones in turn.\"", "one line of help"},
    {"takes", TABLE, MAY, 0, 0, NULL, "none", "{ { \"line\", \"path\" } }", "the parameters, in order",
     girdle_fields_takes},
    {"place", FUNCTION, NEED, 0, 0, NULL, NULL,
     "function (given) return run { along = given.line, stones = \"ss20\" } end",
     "gets the parameters, gives a placement"},
    END};
const girdle_lua_field girdle_fields_takes[] = {
    {"1", TEXT, NEED, 0, 0, NULL, NULL, "\"gap\"", "its name"},
    {"2", TEXT, NEED, 0, 0, NULL, NULL, "\"length\"", "its kind"},
    {"default", ANY, MAY, 0, 0, NULL, "none: it must be given", "\"0.5 mm\"", "what holds when it is not given"},
    {"from", ANY, MAY, 0, 0, NULL, "0 for a length, else none", "\"0 mm\"", "the least allowed"},
    {"to", ANY, MAY, 0, 0, NULL, "none", "\"20 mm\"", "the most allowed"},
    {"choices", TABLE, MAY, 0, 0, NULL, "none", "{ \"left\", \"right\" }", "of a choice"},
    {"optional", FLAG, MAY, 0, 0, NULL, "false", "true", "may be left out without a default"},
    {"about", TEXT, MAY, 0, 0, NULL, "none", "\"clear fabric between stones\"", "one line of help"},
    END};
const girdle_lua_field girdle_fields_costume[] = {
    {"format", INTEGER, NEED, 1, 1e6, NULL, NULL, "1", "of the file"},
    {"name", TEXT, NEED, 0, 0, NULL, NULL, "\"frost\"", "the file's name, with spaces for _"},
    {"about", TEXT, MAY, 0, 0, NULL, "none", "\"Blue and clear.\"", "one line of help"},
    {"measures", TABLE, MAY, 0, 0, NULL, "none", "{ neckline = \"52 cm\" }",
     "what holds for a wearer without a measure of her own"},
    {"outlines", TEXT, MAY, 0, 0, NULL, "none", "\"frost.svg\"", "the drawing beside the file"},
    {"fabric", TABLE, MAY, 0, 0, NULL, "flat", "{ mass = \"200 g/m2\" }", "mass, lies and worn", girdle_fields_fabric},
    {"zones", FUNCTION, NEED, 0, 0, NULL, NULL, "function (m, outline) return { } end",
     "gets measures in mm and outlines, gives a list of zones"},
    END};
const girdle_lua_field girdle_fields_fabric[] = {
    {"mass", MASS_PER_AREA, MAY, 0, 1e5, NULL, "not known", "\"200 g/m2\"", "of the fabric"},
    {"lies", TABLE, MAY, 0, 0, NULL, "flat", "{ across = \"10 %\" }", "stretched so much while it is glued",
     girdle_fields_state},
    {"worn", TABLE, MAY, 0, 0, NULL, "as it lies", "{ across = \"25 %\" }", "stretched so much on the body",
     girdle_fields_state},
    END};
const girdle_lua_field girdle_fields_state[] = {
    {"across", PERCENT, MAY, -0.5, 4, NULL, "0", "\"10 %\"", "wider than cut"},
    {"along", PERCENT, MAY, -0.5, 4, NULL, "0", "\"5 %\"", "longer than cut"},
    END};
const girdle_lua_field girdle_fields_zone[] = {
    {"1", TEXT, NEED, 0, 0, NULL, NULL, "\"collar\"", "its name"},
    {"side", CHOICE, MAY, 0, 0, "front|back|left|right|both", "none", "\"both\"", "of the costume"},
    {"recipe", TEXT, MAY, 0, 0, NULL, "none", "\"alternating line\"", "its name"},
    {"given", TABLE, MAY, 0, 0, NULL, "its defaults", "{ gap = \"1 mm\" }", "the recipe's parameters"},
    {"placement", PLACEMENT, MAY, 0, 0, NULL, "by the recipe", "collar", "stones placed already, in place of a recipe"},
    {"pair", FLAG, MAY, 0, 0, NULL, "false", "true", "worked left and, mirrored, right"},
    {"times", INTEGER, MAY, 1, 10000, NULL, "1", "2", "identical pieces, drawn once and counted so often"},
    {"priority", INTEGER, MAY, -1000000, 1000000, NULL, "0, no rank", "1",
     "1 comes first: it keeps its stones where ranked zones of a side meet on a drawing, and is filled first in a "
     "plan"},
    {"already", TABLE, MAY, 0, 0, NULL, "none", "{ {\"ss34 red\", 12} }",
     "stones set by eye: pairs of a stone and a number"},
    {"alike", CHOICE, MAY, 0, 0, "gap|picture", "\"gap\"", "\"picture\"",
     "what stays over the sizes of a routine: the gap, or the picture that its first wearer has, carried to each size, "
     "where stones close up and what finds no room is left out and named"},
    END};
const girdle_lua_field girdle_fields_use[] = {
    {"recipe", TEXT, NEED, 0, 0, NULL, NULL, "\"alternating line\"", "its name"},
    {"given", TABLE, MAY, 0, 0, NULL, "its defaults", "{ line = \"32 cm\" }", "the recipe's parameters"},
    END};
const girdle_lua_field girdle_fields_use_file[] = {
    {"file", TEXT, NEED, 0, 0, NULL, NULL, "\"recipes/alternating_line.lua\"", "of the recipe"},
    {"given", TABLE, MAY, 0, 0, NULL, "its defaults", "{ line = \"32 cm\" }", "the recipe's parameters"},
    END};

/* ---- what it comes to: the columns of a club's tables */

const girdle_lua_field girdle_fields_reckon[] = {
    {"of", PLACEMENT, NEED, 0, 0, NULL, NULL, "collar + cuffs", "the stones of one costume"},
    {"prices", TABLE, MAY, 0, 0, NULL, "none: nothing is ordered",
     "{ { supplier = \"Invented Stones\", stone = \"ss20\", pack = \"1 gross\", price = \"9.50\" } }",
     "a row for each pack: supplier, stone, pack, price, item, at_most, sold_out", girdle_fields_price},
    {"suppliers", TABLE, MAY, 0, 0, NULL, "no shipping",
     "{ { supplier = \"Invented Stones\", currency = \"EUR\", shipping = \"4.50\" } }",
     "a row for each: supplier, currency, shipping, free_from, least_order, delivery_days", girdle_fields_supplier},
    {"stock", TABLE, MAY, 0, 0, NULL, "none", "{ { stone = \"ss20\", on_hand = \"1/2 gross\" } }",
     "what lies in the drawer: stone, on_hand, lot", girdle_fields_stock},
    {"rates", TABLE, MAY, 0, 0, NULL, "the usual", "{ { \"labour a gross\", \"50.00\" } }",
     "pairs of a rate's name and its value", girdle_fields_rate},
    END};
const girdle_lua_field girdle_fields_supplier[] = {
    {"supplier", TEXT, NEED, 0, 0, NULL, NULL, "\"Invented Stones\"", NULL},
    {"currency", TEXT, MAY, 0, 0, NULL, "EUR", "\"EUR\"", "ISO 4217 code"},
    {"shipping", TEXT, MAY, 0, 0, NULL, "0", "\"4.50\"", NULL},
    {"free_from", TEXT, MAY, 0, 0, NULL, "never", "\"60.00\"", "goods of this value ship free"},
    {"least_order", TEXT, MAY, 0, 0, NULL, "0", "\"10.00\"", NULL},
    {"delivery_days", INTEGER, MAY, 0, 366, NULL, "0", "5", NULL},
    END};
const girdle_lua_field girdle_fields_price[] = {
    {"supplier", TEXT, NEED, 0, 0, NULL, NULL, "\"Invented Stones\"", NULL},
    {"stone", STONE, NEED, 0, 0, NULL, NULL, "\"ss20 black\"", NULL},
    {"pack", TEXT, NEED, 0, 0, NULL, NULL, "\"1 gross\"", "as the supplier writes it"},
    {"price", TEXT, NEED, 0, 0, NULL, NULL, "\"9.50\"", "of one pack"},
    {"item", TEXT, MAY, 0, 0, NULL, "none", "\"A-20-K\"", "the supplier's item code"},
    {"at_most", PIECES, MAY, 0, 1e9, NULL, "no limit", "3", "packs on hand there"},
    {"sold_out", FLAG, MAY, 0, 0, NULL, "false", "true", NULL},
    END};
const girdle_lua_field girdle_fields_stock[] = {
    {"stone", STONE, NEED, 0, 0, NULL, NULL, "\"ss20 black\"", NULL},
    {"on_hand", PIECES, NEED, 0, MOST_PIECES, NULL, NULL, "\"1/2 gross\"", NULL},
    {"lot", TEXT, MAY, 0, 0, NULL, "none", "\"7\"", NULL},
    END};
const girdle_lua_field girdle_fields_rate[] = {
    {"1", TEXT, NEED, 0, 0, NULL, NULL, "\"labour a gross\"", "its name"},
    {"2", TEXT, NEED, 0, 0, NULL, NULL, "\"50.00\"", "its value with its unit"},
    END};

/* ---- the words */

#define ALL GIRDLE_OF_ALL
#define SHAPE GIRDLE_OF_SHAPE
#define PLACED GIRDLE_OF_PLACEMENT
#define STREAM GIRDLE_OF_STREAM
#define STONES_OWN GIRDLE_OF_STONE
#define OF_CATALOGUE GIRDLE_OF_CATALOGUE
#define SCRIPT GIRDLE_OF_SCRIPT
#define FIELDS GIRDLE_WORD_TABLE
#define PLACES GIRDLE_WORD_PLACES

static const girdle_lua_word words[] = {
    {"stone", ALL, FIELDS, girdle_lua_stone, girdle_fields_stone, "stone",
     "A stone, from a text such as \"ss20 black\" or from its fields. All of them can be read, s.size, s.diameter_mm, "
     "and "
     "s.caution (on lead), s.footprint_mm2, s.circle_mm, and s.mass_from: \"weighing\", \"model\", or \"at least\" "
     "where "
     "the law gives a least density alone and the mass is a lower bound.",
     "a size that is not listed (the nearest is named)",
     "print(stone \"ss20 black\", stone { size = \"ss20\", colour = \"black\" }.diameter_mm)"},
    {"path", ALL, PLACES, girdle_lua_path, girdle_fields_path, "path", "A path from SVG path data, in millimetres.",
     "path data that cannot be read, naming the byte (the first is byte 0)", "print(path(\"M0 0 H100\"):length())"},
    {"line", ALL, PLACES, girdle_lua_line, girdle_fields_line, "path", "A straight line from left to right.", NULL,
     "print(line(\"38 cm\"):length())"},
    {"loop", ALL, PLACES, girdle_lua_loop, girdle_fields_loop, "path",
     "A circle of a girth (a neckline, a wrist), from its top, clockwise.", NULL, "print(loop(\"34 cm\"):length())"},
    {"region", ALL, PLACES, girdle_lua_region, girdle_fields_region, "region", "The region inside a closed outline.",
     "an outline that crosses itself, naming the place",
     "print(region(\"M0 0 H100 V80 H0 Z\", { rule = \"evenodd\" }):area())"},
    {"rectangle", ALL, PLACES, girdle_lua_rectangle, girdle_fields_rectangle, "region", "A rectangle.", NULL,
     "print(rectangle(\"10 cm\", \"20 cm\"):area())"},
    {"oval", ALL, PLACES, girdle_lua_oval, girdle_fields_rectangle, "region", "An oval (an ellipse).", NULL,
     "print(oval(\"8 cm\", \"6 cm\"):perimeter())"},
    {"trapezoid", ALL, PLACES, girdle_lua_trapezoid, girdle_fields_trapezoid, "region", "A trapezoid with equal sides.",
     NULL, "print(trapezoid(\"20 cm\", \"30 cm\", \"15 cm\"):area())"},
    {"strip", ALL, PLACES, girdle_lua_strip, girdle_fields_strip, "region", "A straight strip along an edge.", NULL,
     "print(strip(\"60 cm\", \"4 cm\"):area())"},

    {"triangle", ALL, PLACES, girdle_lua_triangle, girdle_fields_rectangle, "region",
     "A triangle, its tip in the middle.", NULL, "print(triangle(\"20 cm\", \"15 cm\"):area())"},
    {"teardrop", ALL, PLACES, girdle_lua_teardrop, girdle_fields_rectangle, "region", "A teardrop, its tip above.",
     "a width that is too great for the height", "print(teardrop(\"6 cm\", \"10 cm\"):area())"},
    {"keyhole", ALL, PLACES, girdle_lua_keyhole, girdle_fields_keyhole, "region",
     "A round opening with a slit above it.", "measures that make no keyhole",
     "print(keyhole(\"8 cm\", \"14 cm\", \"1 cm\"):area())"},
    {"yoke", ALL, PLACES, girdle_lua_yoke, girdle_fields_yoke, "region", "A ring-shaped piece, its narrow edge above.",
     "measures that make no yoke", "print(yoke(\"40 cm\", \"90 cm\", \"12 cm\"):area())"},
    {"sleeve", ALL, FIELDS, girdle_lua_sleeve, girdle_fields_sleeve, "region",
     "A sleeve laid flat: its wrist and top edges are arcs of the lengths given.", "measures that make no sleeve",
     "print(sleeve { wrist = \"16 cm\", top = \"30 cm\", length = \"55 cm\" }:area())"},
    {"skirt", ALL, FIELDS, girdle_lua_skirt, girdle_fields_skirt, "region", "A skirt cut from a share of a circle.",
     NULL, "print(skirt { waist = \"66 cm\", length = \"35 cm\", fullness = 0.5 }:area())"},
    {"panel", ALL, FIELDS, girdle_lua_panel, girdle_fields_panel, "region",
     "A panel given by its width every so far down its middle.", "fewer than two widths",
     "print(panel { every = \"5 cm\", widths = { \"20 cm\", \"24 cm\", \"22 cm\" } }:area())"},
    {"area", ALL, PLACES, girdle_lua_area, girdle_fields_area, "region", "A square of an area: only its area is meant.",
     NULL, "print(area(\"250 cm2\"):area())"},

    {"run", ALL, FIELDS, girdle_lua_run, girdle_fields_run, "placement",
     "One line of stones along a path. Each leg between two corners has one gap, as near to the wished one as it can "
     "be.",
     "a count that does not fit (the most that does is named)",
     "local p = run { along = line \"12 cm\", stones = { \"ss20 black\", \"ss20 clear\" }, gap = \"0.5 mm\" "
     "}\nprint(#p)"},
    {"band", ALL, FIELDS, girdle_lua_band, girdle_fields_band, "placement",
     "Rows side by side along a path, each with its own sequence.", "a count that does not fit",
     "local p = band { along = line \"12 cm\", rows = { {\"ss30 black\"}, {\"ss16 clear\"} }, gap = \"0.5 mm\" "
     "}\nprint(#p)"},
    {"cover", ALL, FIELDS, girdle_lua_cover, girdle_fields_cover, "placement",
     "Closed cover of a region with stones of one diameter, every stone wholly inside.",
     "stones of mixed sizes; a count that does not fit",
     "local p = cover { within = rectangle(\"5 cm\", \"5 cm\"), stones = \"ss16 clear\", gap = \"0.2 mm\" "
     "}\nprint(#p)"},
    {"scatter", ALL, FIELDS, girdle_lua_scatter, girdle_fields_scatter, "placement",
     "An even, irregular spread of one size or of mixed stones.", "a count that does not fit",
     "local p = scatter { within = oval(\"8 cm\", \"6 cm\"), stones = { {\"ss20 clear\", 1}, {\"ss12 clear\", 3} }, "
     "gap = \"3 mm\" }\nprint(#p > 0)"},
    {"grade", ALL, FIELDS, girdle_lua_grade, girdle_fields_grade, "placement",
     "Large or dense at an edge, small or sparse away from it.", NULL,
     "local p = grade { within = strip(\"20 cm\", \"6 cm\"), edge = line \"20 cm\", stones = { \"ss30\", \"ss20\", "
     "\"ss12\" },\n  depth = \"6 cm\", gap = \"1 mm\" }\nprint(#p > 0)"},
    {"fade", ALL, FIELDS, girdle_lua_fade, girdle_fields_fade, "placement",
     "Colour or size shifting across an area, from one place to another.", "fewer than two stones",
     "local p = fade { within = rectangle(\"8 cm\", \"12 cm\"), from = { 0, 0 }, to = { 0, \"12 cm\" },\n  stones = { "
     "\"ss16 red\", \"ss16 gold\" }, gap = \"4 mm\" }\nprint(#p > 0)"},
    {"between", ALL, FIELDS, girdle_lua_between, girdle_fields_between, "placement",
     "Smaller stones in the gaps of what is there.", NULL,
     "local r = rectangle(\"6 cm\", \"6 cm\")\nlocal p = cover { within = r, stones = \"ss30\", setting = \"square\" "
     "}\nprint(#between { within = r, around = p, stones = { \"ss9\", \"ss6\" } } > 0)"},
    {"motif", ALL, FIELDS, girdle_lua_motif, girdle_fields_motif, "placement",
     "A placed group repeated along a path or at places; stones keep their size.", "a group without stones",
     "local star = run { along = loop \"5 cm\", stones = \"ss12\" }\nprint(#motif { placement = star, along = line "
     "\"30 cm\", gap = \"10 mm\" } > 0)"},
    {"set", ALL, FIELDS, girdle_lua_set, girdle_fields_set, "placement",
     "Stones at places given one by one; nothing is moved apart.", NULL,
     "print(#set { stones = \"ss34 red\", at = { {0, 0}, {12, 0}, {\"2 cm\", 8} } })"},
    {"count_along", ALL, FIELDS, girdle_lua_count_along, girdle_fields_count_along, "count, gap_mm",
     "How many stones run counts along a line or loop of a length, and the gap they then have.", NULL,
     "print(count_along { length = \"30 cm\", stones = \"ss20\", gap = \"0.5 mm\" })"},
    {"count_over", ALL, FIELDS, girdle_lua_count_over, girdle_fields_count_over, "expected, least, most",
     "How many stones to expect over an area, with proved bounds.", NULL,
     "print(count_over { area = \"100 cm2\", perimeter = \"40 cm\", stone = \"ss20\" })"},
    {"sizes", ALL, PLACES, girdle_lua_sizes, girdle_fields_none,
     "list of { name =, diameter_least_mm =, diameter_nominal_mm =, diameter_most_mm =, certainty = }",
     "The table of sizes, and how well each is known.", NULL, "print(#sizes(), sizes()[1].name)"},
    {"likely_sizes", ALL, PLACES, girdle_lua_likely_sizes, girdle_fields_likely_sizes, "list like that of sizes",
     "The sizes that a measured diameter fits, most likely first. Measure several stones. When none fits, the nearest: "
     "fits is then false, and outside_mm says by how much the measure lies outside the size's range.",
     NULL, "print(likely_sizes(\"4.7 mm\")[1].name, likely_sizes(\"50 mm\")[1].fits)"},
    {"cuts", ALL, PLACES, girdle_lua_cuts, girdle_fields_none, "list of { name =, facets =, turned =, ... }",
     "The ready cuts, the house cut first, with their ratios and where these come from.", NULL,
     "print(cuts()[1].name)"},
    {"materials", ALL, PLACES, girdle_lua_materials, girdle_fields_none,
     "list of { name =, density_nominal_g_cm3 =, ... }", "The materials with their densities, cautions and sources.",
     NULL, "print(#materials() > 0)"},
    {"tapes", ALL, PLACES, girdle_lua_tapes, girdle_fields_none, "list of { word =, measures =, example =, tape = }",
     "The shapes from a tape measure: what is measured, and where the tape goes. Measure the dress along its own edge "
     "first, the body second.",
     NULL, "for _, shape in ipairs(tapes()) do print(shape.example, shape.tape) end"},
    {"body_measures", ALL, PLACES, girdle_lua_body_measures, girdle_fields_none,
     "list of { name =, tape =, least_mm =, most_mm = }",
     "The names of body measures, where the tape goes, and limits outside which one is worth a second look.", NULL,
     "print(body_measures()[1].name)"},
    {"plausible", ALL, PLACES, girdle_lua_plausible, girdle_fields_plausible,
     "true or false, name, least_mm, most_mm, warning",
     "Whether a body measure lies within the limits of its kind; outside it is worth a second look, no more.",
     "a measure that is not known", "print(plausible(\"wrist girth\", \"14 cm\"))"},
    {"catalogue", ALL, FIELDS, girdle_lua_catalogue, girdle_fields_catalogue, "catalogue",
     "Sizes, cuts and materials of one's own, and stones that were weighed. Its rows come before those of the tables.",
     "a row that makes no stone, naming it",
     "local mine = catalogue { sizes = { { name = \"house 5\", diameter_nominal_mm = 5 } },\n"
     "  materials = { { name = \"house resin\", density_nominal_g_cm3 = 1.3, lead = \"none\" } } }\n"
     "print(mine:stone(\"house 5 red house resin\").mass_mg)"},
    {"gap_as", ALL, FIELDS, girdle_lua_gap_as, girdle_fields_gap_as, "gap_mm, angle_deg",
     "What a gap becomes when the fabric lies another way: fabric under a stone does not stretch, the gap alone does.",
     NULL, "print(gap_as { gap = \"1 mm\", from = { across = \"25 %\" }, to = { across = \"10 %\" } })"},
    {"stream", ALL, PLACES, girdle_lua_stream, girdle_fields_stream, "stream",
     "A stream of chance that is the same on every run.", NULL, "local s = stream(7)\nprint(s:integer(1, 6) <= 6)"},
    {"recipe", ALL, FIELDS, girdle_lua_recipe_word, girdle_fields_recipe, "recipe",
     "What a recipe file returns. It can be called with a table of its parameters.", "a file of another format",
     "local r = recipe { format = 1, name = \"one row\", takes = { { \"line\", \"path\" } },\n  place = function "
     "(given) return run { along = given.line, stones = \"ss20\" } end }\nprint(#r { line = \"20 cm\" })"},
    {"costume", ALL, FIELDS, girdle_lua_costume, girdle_fields_costume, "costume", "What a costume file returns.",
     "a file of another format",
     "print(costume { format = 1, name = \"frost\", zones = function (m, outline) return {} end })"},
    {"zone", ALL, FIELDS, girdle_lua_zone, girdle_fields_zone, "zone", "A part of a costume.", NULL,
     "print(zone { \"collar\", side = \"both\", recipe = \"alternating line\", given = { line = loop \"52 cm\" } })"},
    {"use", ALL, PLACES, girdle_lua_use, girdle_fields_use, "placement",
     "Runs a recipe by its name: from the costume's folder or the house recipes; from an own script's recipe file, "
     "from the folder of that file.",
     "a recipe that is not known, that is there twice, or that lies more than eight deep", NULL},

    {"length", SHAPE, PLACES, girdle_lua_shape_length, girdle_fields_none, "mm", "Length along the path, or all round.",
     NULL, "print(line(\"38 cm\"):length())"},
    {"area", SHAPE, PLACES, girdle_lua_shape_area, girdle_fields_none, "mm2", "Area inside.", "an open path",
     "print(rectangle(30, 20):area())"},
    {"perimeter", SHAPE, PLACES, girdle_lua_shape_perimeter, girdle_fields_none, "mm", "All edges together.",
     "an open path", "print(rectangle(30, 20):perimeter())"},
    {"box", SHAPE, PLACES, girdle_lua_shape_box, girdle_fields_none, "left, top, right, bottom",
     "The box around it, in mm.", NULL, "print(line(\"5 cm\"):box())"},
    {"at", SHAPE, PLACES, girdle_lua_shape_at, girdle_fields_at, "x, y, angle_deg", "The point at a distance along it.",
     "a distance beyond its end", "print(line(\"38 cm\"):at(\"5 cm\"))"},
    {"curvature", SHAPE, PLACES, girdle_lua_shape_curvature, girdle_fields_at, "per mm",
     "How much it bends at a distance along it, one over the radius: positive clockwise, nil at a cusp.",
     "a distance beyond its end", "print(1 / loop(\"34 cm\"):curvature(\"5 cm\"))"},
    {"closed", SHAPE, PLACES, girdle_lua_shape_closed, girdle_fields_none, "true or false",
     "Whether each of its lines comes back to its start.", NULL, "print(loop(\"34 cm\"):closed())"},
    {"subpaths", SHAPE, PLACES, girdle_lua_shape_subpaths, girdle_fields_none, "whole number",
     "How many lines it is made of; of a region, rings.", NULL, "print(path(\"M0 0 H10 M0 5 H10\"):subpaths())"},
    {"holes", SHAPE, PLACES, girdle_lua_shape_holes, girdle_fields_none, "whole number",
     "How many holes and areas left out it has.", "an open path",
     "print(rectangle(100, 100):without(oval(20, 20):moved(40, 40)):holes())"},
    {"rim", SHAPE, PLACES, girdle_lua_shape_rim, girdle_fields_none, "path",
     "The rim of a region as a path, holes and areas left out included; a path is its own.", NULL,
     "print(rectangle(30, 20):rim():length())"},
    {"lower_edge", SHAPE, PLACES, girdle_lua_shape_lower_edge, girdle_fields_none, "path",
     "The hem of a skirt, the wrist of a cuff: the edge from corner to corner whose middle lies lowest, walked with "
     "the "
     "fabric on the right; with less than two corners the whole ring.",
     "an open path", "print(sleeve({ wrist = 160, top = 300, length = 550 }):lower_edge():length())"},
    {"contains", SHAPE, PLACES, girdle_lua_shape_contains, girdle_fields_place, "true or false",
     "Whether a place lies inside.", "an open path", "print(oval(80, 60):contains(40, 30))"},
    {"nearest", SHAPE, PLACES, girdle_lua_shape_nearest, girdle_fields_place, "along, distance",
     "The nearest place on the path: how far along it, and how far away.", NULL, "print(line(100):nearest(25, 7))"},
    {"corners", SHAPE, PLACES, girdle_lua_shape_corners, girdle_fields_corners, "distances, turns_deg",
     "How far along the path its corners lie, and by how much each turns, positive clockwise; at most 10000 of them.",
     NULL, "local along, turns = rectangle(30, 20):corners()\nprint(#along, turns[1])"},
    {"offset", SHAPE, PLACES, girdle_lua_shape_offset, girdle_fields_offset, "path", "The parallel at a distance.",
     "nothing is left", "print(line(\"38 cm\"):offset(\"5 mm\"):length())"},
    {"set_in", SHAPE, PLACES, girdle_lua_shape_set_in, girdle_fields_set_in, "path",
     "The line set in from its edge, as set_in does in a run; its length follows.", "nothing is left",
     "print(loop(\"34 cm\"):set_in(\"5 mm\"):length())"},
    {"inset", SHAPE, PLACES, girdle_lua_shape_inset, girdle_fields_inset, "shape",
     "The shape shrunk, or grown, by a distance.", "nothing is left; an open path",
     "print(rectangle(30, 20):inset(5):area())"},
    {"mirrored", SHAPE, PLACES, girdle_lua_shape_mirrored, girdle_fields_mirrored, "shape",
     "Mirrored about an upright line.", NULL, "print(line(\"5 cm\"):mirrored(0):box())"},
    {"moved", SHAPE, PLACES, girdle_lua_shape_moved, girdle_fields_moved, "shape", "Moved.", NULL,
     "print(line(\"5 cm\"):moved(10, 20):box())"},
    {"turned", SHAPE, PLACES, girdle_lua_shape_turned, girdle_fields_turned, "shape",
     "Turned clockwise about the origin.", NULL, "print(line(\"5 cm\"):turned(90):at(50))"},
    {"transformed", SHAPE, PLACES, girdle_lua_shape_transformed, girdle_fields_transformed, "shape",
     "Changed by SVG's matrix(a b c d e f): slanted, scaled, turned. Curves stay curves.",
     "a matrix that presses the shape flat", "print(rectangle(30, 20):transformed(1, 0, 0.2, 1):area())"},
    {"fitted", SHAPE, FIELDS, girdle_lua_shape_fitted, girdle_fields_fitted, "shape",
     "Scaled to a length, its start staying, or to a width, a height or both, its upper left corner staying.",
     "a length beside a width or height", "print(oval(8, 6):fitted { width = \"16 cm\" }:area())"},
    {"stretched", SHAPE, FIELDS, girdle_lua_shape_stretched, girdle_fields_stretched, "shape",
     "Stretched across and along, as fabric is; with from, as fabric that lay so lies now.", NULL,
     "print(rectangle(30, 20):stretched { across = \"10 %\" }:area())"},
    {"reversed", SHAPE, PLACES, girdle_lua_shape_reversed, girdle_fields_none, "path", "Walked the other way.", NULL,
     "print(line(\"5 cm\"):reversed():at(0))"},
    {"joined", SHAPE, PLACES, girdle_lua_shape_joined_to, girdle_fields_joined, "path",
     "Both one after the other, as with +: one line where the second begins at the first one's end.", NULL,
     "print(line(\"5 cm\"):joined(line(\"3 cm\"):moved(\"5 cm\", 0)):length())"},
    {"part", SHAPE, PLACES, girdle_lua_shape_part, girdle_fields_part, "path", "A part of the path.",
     "ends outside the path", "print(line(\"38 cm\"):part(\"5 cm\", \"25 cm\"):length())"},
    {"without", SHAPE, PLACES, girdle_lua_shape_without, girdle_fields_without, "region",
     "The region without another one.", NULL, "print(rectangle(100, 100):without(oval(20, 20)):area())"},

    {"split", SHAPE, PLACES, girdle_lua_shape_split, girdle_fields_at, "path, path",
     "Cut in two at a distance along it.", "a distance that is not between its ends",
     "print(line(\"38 cm\"):split(\"5 cm\"))"},
    {"flattened", SHAPE, PLACES, girdle_lua_shape_flattened, girdle_fields_flattened, "path",
     "The path in straight lines.", "too many lines", "print(loop(\"34 cm\"):flattened(\"0.1 mm\"):length())"},
    {"meetings", SHAPE, PLACES, girdle_lua_shape_meetings, girdle_fields_meetings,
     "list of { x =, y =, along =, along_other =, crosses = }",
     "Where it meets another path, or itself; at most 10000 places.", NULL,
     "print(line(100):meetings(line(50):turned(90):moved(30, -20))[1].x)"},
    {"centre", SHAPE, PLACES, girdle_lua_shape_centre, girdle_fields_none, "x, y", "The middle of its area.",
     "an open path", "print(rectangle(30, 20):centre())"},
    {"depth", SHAPE, PLACES, girdle_lua_shape_depth, girdle_fields_place, "mm",
     "How far a place lies from the edge: positive inside, negative outside.", "an open path",
     "print(rectangle(30, 20):depth(5, 10))"},
    {"data", SHAPE, PLACES, girdle_lua_shape_data, girdle_fields_none, "text", "SVG path data that reads back equal.",
     "data longer than 1 MiB", "print(rectangle(30, 20):data())"},

    {"weighed", STONES_OWN, FIELDS, girdle_lua_stone_weighed, girdle_fields_weighed, "stone, share",
     "The stone with the mass that weighing gave, and by what share its mass was off before.", NULL,
     "print(stone \"ss20\":weighed { pieces = \"1 gross\", mass = \"7.9 g\" })"},
    {"solid", STONES_OWN, PLACES, girdle_lua_stone_solid, girdle_fields_none,
     "{ volume_mm3 =, height_mm =, centre_mm =, back_mm2 =, girdle_mm2 =, crown_mm2 =, table_mm2 =, main_facets =, "
     "vertices =, facets = }",
     "The stone as a polyhedron: its measures, its corners and its facets.", NULL,
     "print(stone \"ss20\":solid().volume_mm3)"},
    {"reach", STONES_OWN, PLACES, girdle_lua_stone_reach, girdle_fields_reach, "mm",
     "How far the stone reaches from its middle in a direction.", NULL, "print(stone \"ss20 clear pear\":reach(90))"},

    {"stone", OF_CATALOGUE, PLACES, girdle_lua_catalogue_stone, girdle_fields_own_stone, "stone",
     "A stone as the word stone makes it, from the catalogue's rows and the tables.", "a size that is not listed",
     "print(catalogue { sizes = { { name = \"house 5\", diameter_nominal_mm = 5 } } }:stone \"house 5 red\")"},
    {"likely_sizes", OF_CATALOGUE, PLACES, girdle_lua_catalogue_likely_sizes, girdle_fields_likely_sizes,
     "list like that of sizes", "As the word likely_sizes, the catalogue's sizes among them.", NULL,
     "print(catalogue { sizes = { { name = \"house 5\", diameter_nominal_mm = 5.05 } } }:likely_sizes(\"5.05 "
     "mm\")[1].name)"},
    {"solid", OF_CATALOGUE, PLACES, girdle_lua_catalogue_solid, girdle_fields_solid,
     "table like that of a stone's solid", "A stone's solid, its cut looked for in the catalogue first.", NULL,
     "local low = cuts()[1]\nlow.name, low.height_ratio_least, low.height_ratio_nominal = \"low\", 0.3, 0.35\n"
     "local mine = catalogue { cuts = { low } }\nprint(mine:solid(mine:stone \"ss20 red low\").volume_mm3)"},

    {"each", PLACED, PLACES, girdle_lua_placement_each, girdle_fields_none, "x, y, turn, stone, row, in a for loop",
     "Walks over the stones, in order.", NULL,
     "for x, y, turn, stone, row in run { along = line(20), stones = \"ss20\" }:each() do print(x, y, turn, stone, "
     "row) end"},
    {"counts", PLACED, PLACES, girdle_lua_placement_counts, girdle_fields_none, "list of { stone =, count = }",
     "How many of which stone.", NULL,
     "for _, line in ipairs(run { along = line(200), stones = { \"ss20\", \"ss16\" } }:counts()) do print(line.stone, "
     "line.count) end"},
    {"notes", PLACED, PLACES, girdle_lua_placement_notes, girdle_fields_none, "table",
     "What the verb did and could not do: left_out, gap_mm, leftover_mm, uneven, maximal, surplus, undecided_mm2, "
     "bound_least, bound_most, seed.",
     NULL, "print(run { along = line \"30 cm\", stones = \"ss20\", gap = \"0.5 mm\" }:notes().gap_mm)"},
    {"mirrored", PLACED, PLACES, girdle_lua_placement_mirrored, girdle_fields_mirrored, "placement",
     "Mirrored about an upright line; twice is the same again.", NULL,
     "print(#run { along = line(200), stones = \"ss20\" }:mirrored(0))"},
    {"folded", PLACED, PLACES, girdle_lua_placement_folded, girdle_fields_folded, "placement",
     "Both halves about an upright line.", NULL,
     "print(#run { along = line(200), stones = \"ss20\" }:folded(0, { snap = \"0.1 mm\" }))"},
    {"moved", PLACED, PLACES, girdle_lua_placement_moved, girdle_fields_moved, "placement", "Moved.", NULL,
     "print(#run { along = line(200), stones = \"ss20\" }:moved(10, 0))"},
    {"turned", PLACED, PLACES, girdle_lua_placement_turned, girdle_fields_turned, "placement",
     "Turned clockwise about the origin.", NULL,
     "print(#run { along = line(200), stones = \"ss20\" }:turned(\"90 deg\"))"},
    {"without", PLACED, PLACES, girdle_lua_placement_without, girdle_fields_without, "placement",
     "Without the stones that touch a region.", NULL,
     "print(#run { along = line(200), stones = \"ss20\" }:without(oval(20, 20)))"},
    {"clear_of", PLACED, PLACES, girdle_lua_placement_clear_of, girdle_fields_clear_of, "placement",
     "Without the stones that come too near to another placement's.", NULL,
     "local p = run { along = line(200), stones = \"ss20\" }\nprint(#p:clear_of(p:moved(100, 0), \"1 mm\"))"},
    {"overlaps", PLACED, PLACES, girdle_lua_placement_overlaps, girdle_fields_none,
     "count, list of { first =, second =, depth_mm = }",
     "The pairs of stones that overlap; the list has the first 1000.", NULL,
     "print((run { along = line(200), stones = \"ss20\" }:overlaps()))"},

    {"number", STREAM, PLACES, girdle_lua_stream_number, girdle_fields_stream_number, "number",
     "A number between two; without them between 0 and 1.", NULL, "print(stream(7):number(1, 2) < 2)"},
    {"integer", STREAM, PLACES, girdle_lua_stream_integer, girdle_fields_stream_integer, "whole number",
     "A whole number between two, both included.", NULL, "print(stream(7):integer(1, 6) <= 6)"},
    {"pick", STREAM, PLACES, girdle_lua_stream_pick, girdle_fields_stream_pick, "value", "One value of a list.", NULL,
     "print(stream(7):pick { 5, 5, 5 })"},

    {"reckon", SCRIPT, FIELDS, girdle_lua_reckon, girdle_fields_reckon, "table: count, mass_mg, order, work, quote",
     "What placed stones come to: how many, what they weigh, what to buy, the adhesive and the time, what to charge. "
     "Money is in minor units (cents).",
     "a price, pack or rate that cannot be read, naming its row",
     "local girdle = require \"girdle\"\nlocal sums = girdle.reckon { of = girdle.run { along = girdle.line \"30 cm\", "
     "stones = \"ss20\" },\n"
     "  prices = { { supplier = \"Invented Stones\", stone = \"ss20\", pack = \"1 gross\", price = \"9.50\" } },\n"
     "  suppliers = { { supplier = \"Invented Stones\", shipping = \"4.50\" } }, rates = { { \"labour a gross\", "
     "\"50.00\" } } }\n"
     "print(sums.count, sums.mass_mg, sums.order.total_minor, sums.quote.total_minor)"},
    {"use", SCRIPT, PLACES, girdle_lua_use_file, girdle_fields_use_file, "placement",
     "Runs a recipe file, which sees the names of recipe files alone.", "a file that cannot be read or is no recipe",
     "print(#require \"girdle\".use(\"recipes/alternating_line.lua\", { line = \"32 cm\" }))"},
    {"api", SCRIPT, PLACES, girdle_lua_api, girdle_fields_none, "list of words",
     "This manual as a table: what the manual, the editor's stub and the linter's list are made from.", NULL,
     "print(#require \"girdle\".api() > 0)"},
};

const girdle_lua_word *girdle_lua_words(uint64_t *count) {
  *count = sizeof words / sizeof words[0];
  return words;
}

const girdle_lua_word *girdle_lua_word_of(int32_t owner, const char *name) {
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
    if (words[i].owner == owner && strcmp(words[i].name, name) == 0) return &words[i];
  return NULL;
}

uint64_t girdle_lua_names(int32_t owner, const char **names, uint64_t capacity) {
  uint64_t count = 0;
  for (size_t i = 0; i < sizeof words / sizeof words[0] && count < capacity; i++)
    if (words[i].owner == owner) names[count++] = words[i].name;
  return count;
}

void girdle_lua_put_words(lua_State *L, int script) {
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
    if (words[i].owner != ALL && !(script && words[i].owner == SCRIPT)) continue;
    lua_pushcfunction(L, words[i].function);
    lua_setfield(L, -2, words[i].name);
  }
}

/* ---- the table as Lua values */

static void set_text(lua_State *L, const char *name, const char *text) {
  if (!text) return;
  lua_pushstring(L, text);
  lua_setfield(L, -2, name);
}

static void set_bound(lua_State *L, const char *name, double value, int used) {
  if (!used) return;
  lua_pushnumber(L, value);
  lua_setfield(L, -2, name);
}

static void push_fields(lua_State *L, const girdle_lua_field *fields);

static void push_field(lua_State *L, const girdle_lua_field *field) {
  lua_newtable(L);
  set_text(L, "name", field->name);
  set_text(L, "kind", girdle_lua_kind_text(field->kind));
  set_text(L, "choices", field->choices);
  set_text(L, "default", field->fallback);
  set_text(L, "example", field->example);
  set_text(L, "about", field->about);
  set_bound(L, "least", field->least, field->least != field->most);
  set_bound(L, "most", field->most, field->least != field->most);
  lua_pushboolean(L, field->needed);
  lua_setfield(L, -2, "needed");
  if (field->inner) push_fields(L, field->inner);
}

/* Puts them as a list into the table on top, as its fields. */
static void push_fields(lua_State *L, const girdle_lua_field *fields) {
  luaL_checkstack(L, 8, NULL);
  lua_newtable(L);
  for (int i = 0; fields[i].name; i++) {
    push_field(L, &fields[i]);
    lua_rawseti(L, -2, i + 1);
  }
  lua_setfield(L, -2, "fields");
}

static void push_word(lua_State *L, const girdle_lua_word *word) {
  static const char *const owners[] = {"", "shape", "placement", "stream", "stone", "catalogue", "script"};
  lua_newtable(L);
  set_text(L, "name", word->name);
  set_text(L, "owner", owners[word->owner]);
  set_text(L, "style", word->style == FIELDS ? "fields" : "places");
  set_text(L, "gives", word->gives);
  set_text(L, "about", word->about);
  set_text(L, "errors", word->errors);
  set_text(L, "example", word->example);
  push_fields(L, word->fields);
}

int girdle_lua_api(lua_State *L) {
  lua_newtable(L);
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
    push_word(L, &words[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}
