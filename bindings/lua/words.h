/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_LUA_WORDS_H
#define GIRDLE_LUA_WORDS_H

/* words: the Lua layer's own common ground. The words are light C functions that keep nothing of their own: what
 * belongs to a state lies in its context. A core function returns a status; only this layer raises, with everything it
 * made held by a userdata, so that nothing leaks. */

#include <lauxlib.h>
#include <lua.h>
#include <stdint.h>

#include "common.h"
#include "girdle/place.h"

/* ---- the table of the API */

/* What a field or a parameter takes. Those before GIRDLE_KIND_PARAMETERS are the parameter kinds of format 1. */
enum {
  GIRDLE_KIND_LENGTH,
  GIRDLE_KIND_PATH,
  GIRDLE_KIND_REGION,
  GIRDLE_KIND_STONE,
  GIRDLE_KIND_STONES,
  GIRDLE_KIND_NUMBER,
  GIRDLE_KIND_INTEGER,
  GIRDLE_KIND_PERCENT,
  GIRDLE_KIND_ANGLE,
  GIRDLE_KIND_CHOICE,
  GIRDLE_KIND_FLAG,
  GIRDLE_KIND_SEED,
  GIRDLE_KIND_POINT,
  GIRDLE_KIND_TEXT,
  GIRDLE_KIND_RECIPE,
  GIRDLE_KIND_PARAMETERS,
  GIRDLE_KIND_WEIGHTED = GIRDLE_KIND_PARAMETERS, /* stones with their weights */
  GIRDLE_KIND_ROWS,                              /* a list of stones for each row */
  GIRDLE_KIND_PLACEMENT,
  GIRDLE_KIND_STRETCHES, /* { {from, to}, ... } along a path */
  GIRDLE_KIND_POINTS,    /* { {x, y, turn, scale}, ... } */
  GIRDLE_KIND_TURN,      /* "along" or an angle */
  GIRDLE_KIND_AREA,
  GIRDLE_KIND_AREAL_MASS,
  GIRDLE_KIND_MASS,
  GIRDLE_KIND_PIECES,
  GIRDLE_KIND_TABLE,
  GIRDLE_KIND_FUNCTION,
  GIRDLE_KIND_ANY,
  GIRDLE_KIND_END
};

enum { GIRDLE_FIELD_OPTIONAL, GIRDLE_FIELD_NEEDED };

/* One field of a table or one argument in its place. Arrays of fields end with a NULL name. */
typedef struct girdle_lua_field {
  const char *name; /* "1", "2" in a table: the value without a name in that place */
  int32_t kind, needed;
  double least, most;   /* mm, mm2, degrees or shares, whatever the kind measures */
  const char *choices;  /* CHOICE: the words, "left|right|both" */
  const char *fallback; /* what holds when it is absent, in words; NULL when needed */
  const char *example;  /* what could stand right of "name =" */
  const char *about;
  const struct girdle_lua_field *inner; /* TABLE: its own fields, or those of each of its rows; NULL: none are fixed */
} girdle_lua_field;

enum { GIRDLE_WORD_TABLE, GIRDLE_WORD_PLACES }; /* one table of fields, or arguments by place */

/* Whose word it is: a global, or a method of a kind of value. */
enum {
  GIRDLE_OF_ALL,
  GIRDLE_OF_SHAPE,
  GIRDLE_OF_PLACEMENT,
  GIRDLE_OF_STREAM,
  GIRDLE_OF_STONE,
  GIRDLE_OF_CATALOGUE,
  GIRDLE_OF_SCRIPT /* own scripts only, not in recipe and costume files */
};

typedef struct girdle_lua_word {
  const char *name;
  int32_t owner, style;
  lua_CFunction function;
  const girdle_lua_field *fields;
  const char *gives, *about;
  const char *errors;  /* beside a field that is wrong, unknown or missing; NULL when none */
  const char *example; /* runs as it stands */
} girdle_lua_word;

const girdle_lua_word *girdle_lua_words(uint64_t *count);
const girdle_lua_word *girdle_lua_word_of(int32_t owner, const char *name); /* NULL when not known */
const char *girdle_lua_kind_text(int32_t kind);                             /* "length", "path", ... */
int32_t girdle_lua_kind_find(const char *name);                             /* -1 when not known */
uint64_t girdle_lua_names(int32_t owner, const char **names, uint64_t capacity);

/* Puts the global words into the table on top; with the words for own scripts when `script`. */
void girdle_lua_put_words(lua_State *L, int script);
int girdle_lua_api(lua_State *L); /* the whole table as Lua values, for the manual */

/* ---- the context of a state */

enum {
  GIRDLE_LUA_FAULTS = 32,
  GIRDLE_LUA_DEPTH = 8,
  GIRDLE_LUA_STRING_BYTES = 1 << 20,
  GIRDLE_LUA_PLACES = 24,
  GIRDLE_LUA_PARAMETERS = 64, /* of a recipe */
  GIRDLE_LUA_ROW = 4,
  GIRDLE_LUA_STOCK = 64
};

typedef struct girdle_lua_context {
  girdle_allocator memory;                                   /* for what the core makes */
  girdle_watch watch;                                        /* charged by every word that loops; may be empty */
  const struct girdle_catalogue *own;                        /* of the call that runs the state; may be NULL */
  int64_t most_stones;                                       /* in one placement */
  uint64_t seed;                                             /* grown from the names of costume, zone and recipe */
  double glued_per_worn;                                     /* what a worn length becomes where it is glued */
  uint64_t made_bytes;                                       /* by the core since the collector was told */
  int32_t depth;                                             /* of recipes within recipes */
  int32_t limited;                                           /* 1 in a limited state */
  lua_CFunction stock[GIRDLE_LUA_STOCK];                     /* of Lua's own libraries, by girdle_lua_find_stock */
  void (*find)(lua_State *L, const char *name);              /* pushes the recipe of that name, or raises */
  int32_t (*stopped)(const struct girdle_lua_context *self); /* 1 when the state must end; may be NULL */
  int32_t (*print)(struct girdle_lua_context *self, const char *bytes, size_t count); /* may be NULL */
  char folder[256];   /* own scripts: of the file that is being used, with its slash */
  const char *source; /* where what is worked stands when no Lua line is running; may be NULL */
  int32_t line;
  const void *error_object; /* what was raised last by Lua itself, and where; see girdle_lua_note_place */
  char error_source[64];
  int32_t error_line;
  int32_t fault_count;
  girdle_error faults[GIRDLE_LUA_FAULTS]; /* of what was raised last */
  char raised[256];                       /* the beginning of its text */
} girdle_lua_context;

void girdle_lua_context_init(girdle_lua_context *context);
girdle_lua_context *girdle_lua_context_of(lua_State *L);
/* Makes the value at the top, a userdata that holds the context, the state's; pops it. */
void girdle_lua_context_set(lua_State *L);

/* One call into the core: its call and its error. */
typedef struct girdle_lua_work {
  girdle_call call;
  girdle_error error;
  girdle_lua_context *context;
} girdle_lua_work;

void girdle_lua_begin(lua_State *L, girdle_lua_work *work);
/* Tells the collector of what the core made, which it does not see by itself. */
void girdle_lua_pay(lua_State *L, girdle_lua_context *context);
/* Raises what the core said, in the name of a word; returns when status is GIRDLE_OK. */
void girdle_lua_check(lua_State *L, girdle_lua_work *work, int32_t status, const char *word);
/* Raises an error of our own. The text takes lua_pushfstring's format. */
int girdle_lua_fail(lua_State *L, int32_t status, const char *field, const char *format, ...);
/* Raises "unknown WHAT 'name', did you mean 'nearest'?" */
int girdle_lua_unknown(lua_State *L, const char *what, const char *name, const char *const *known, uint64_t count);
/* Charges steps to the watch, and raises when the state must end. */
void girdle_lua_charge(lua_State *L, uint64_t steps);
void girdle_lua_spend(lua_State *L, const girdle_lua_context *context, uint64_t steps); /* the same, context at hand */
/* Finds the first frame with a line: file and line, or "" and -1. */
int32_t girdle_lua_where(lua_State *L, char *source, size_t bytes);
/* A message handler: notes where an error was raised, for those whose text does not tell. */
int girdle_lua_note_place(lua_State *L);
uint64_t girdle_lua_seed_of(uint64_t seed, const char *name);

void girdle_lua_clean(char *text); /* control characters become "?" */

/* Faults gathered on the way, raised together. */
typedef struct girdle_lua_faults {
  const char *word;
  int32_t count, kept;
  girdle_error list[GIRDLE_LUA_FAULTS];
} girdle_lua_faults;
void girdle_lua_faults_begin(girdle_lua_faults *faults, const char *word);
void girdle_lua_fault(girdle_lua_faults *faults, const girdle_error *error, const girdle_lua_field *field);
/* Adds a fault of a field, NULL for none, in words of our own. */
void girdle_lua_fault_of(girdle_lua_faults *faults, const girdle_lua_field *field, int32_t status, const char *format,
                         ...) GIRDLE_PRINTF(4, 5);
void girdle_lua_faults_example(girdle_lua_faults *faults, const char *example); /* for the last, after a kept one */
/* Names whose the faults from place `from` on are: "gap: ..." becomes "parameter 'gap': gap: ...". */
void girdle_lua_faults_name(girdle_lua_faults *faults, int32_t from, const char *whose);
void girdle_lua_fault_unknown(girdle_lua_faults *faults, const char *what, const char *name, const char *const *known,
                              uint64_t count);
void girdle_lua_raise(lua_State *L, const girdle_lua_faults *faults); /* returns when there is none */
/* Whether an error's text, or NULL, is that of the faults the context keeps. */
int girdle_lua_is_raised(const girdle_lua_context *context, const char *text);

/* ---- values */

enum {
  GIRDLE_BOX_PATH,
  GIRDLE_BOX_REGION,
  GIRDLE_BOX_PLACEMENT,
  GIRDLE_BOX_STONE,
  GIRDLE_BOX_STREAM,
  GIRDLE_BOX_RECIPE,
  GIRDLE_BOX_COSTUME,
  GIRDLE_BOX_ZONE,
  GIRDLE_BOX_CATALOGUE,
  GIRDLE_BOX_END
};

const char *girdle_lua_box_text(int32_t kind);
/* Pushes an empty box of `bytes` with one user value; its handle, the first thing in it, is NULL. */
void *girdle_lua_box(lua_State *L, int32_t kind, size_t bytes);
void *girdle_lua_box_at(lua_State *L, int index, int32_t kind); /* NULL when it is something else */
void *girdle_lua_box_need(lua_State *L, int index, int32_t kind, const char *word);
int32_t girdle_lua_box_kind(lua_State *L, int index); /* -1 when it is no box of ours */

const girdle_path *girdle_lua_path_at(lua_State *L, int index); /* NULL when it is something else */
const girdle_region *girdle_lua_region_at(lua_State *L, int index);
const girdle_placement *girdle_lua_placement_at(lua_State *L, int index);
const girdle_stone *girdle_lua_stone_at(lua_State *L, int index);
girdle_path **girdle_lua_new_path(lua_State *L);
girdle_region **girdle_lua_new_region(lua_State *L);
girdle_placement **girdle_lua_new_placement(lua_State *L);
void girdle_lua_push_stone(lua_State *L, const girdle_stone *stone);
void girdle_lua_push_number(lua_State *L, double value, int32_t decimals); /* as text */

/* A value as it was read. Texts and arrays are held by what was left on the stack. */
typedef struct girdle_lua_value {
  int32_t given, choice;
  double number;   /* mm, degrees, shares; NaN when absent */
  int64_t integer; /* counts, seeds; 0 when absent */
  double x_mm, y_mm;
  const char *text;
  const void *handle; /* path, region, placement or box */
  const girdle_stone *stones;
  const double *numbers; /* weights, or GIRDLE_LUA_ROW a stretch or point */
  const uint64_t *counts;
  uint64_t count, rows;
} girdle_lua_value;

/* Reads the value on top of the stack as a field wants it and leaves in its place what holds it. A status, with the
 * error set, when it does not fit. */
int32_t girdle_lua_read(lua_State *L, girdle_lua_work *work, const girdle_lua_field *field, girdle_lua_value *value);
/* Reads the table at `index` by the fields of a word; unknown, missing and wrong ones are raised together. Leaves one
 * value a field on the stack. */
void girdle_lua_fields(lua_State *L, girdle_lua_work *work, int index, const char *word, const girdle_lua_field *fields,
                       girdle_lua_value *values);
/* The same where several tables are read: what is wrong is added to the faults. */
void girdle_lua_gather(lua_State *L, girdle_lua_work *work, int index, const girdle_lua_field *fields,
                       girdle_lua_value *values, girdle_lua_faults *faults);
/* Raises, with an example, when there is no table at `index`. */
void girdle_lua_need_table(lua_State *L, int index, const char *word, const girdle_lua_field *fields);
/* Reads the arguments from `index` on by place. */
void girdle_lua_places(lua_State *L, girdle_lua_work *work, int index, const char *word, const girdle_lua_field *fields,
                       girdle_lua_value *values);
/* Notes each key of a table that is no field's name, with what would be right. */
void girdle_lua_unknown_keys(lua_State *L, int index, const char *what, const girdle_lua_field *fields,
                             girdle_lua_faults *faults);
/* Replaces the value on top, read by girdle_lua_read, by what a recipe gets to see. */
void girdle_lua_seen(lua_State *L, int32_t kind, const girdle_lua_value *value);
/* Pushes the value at an index as people write it: "ss20 black; ss20 clear". */
void girdle_lua_written(lua_State *L, int index, int32_t kind);
const char *girdle_lua_type_text(lua_State *L, int index);

/* How fabric lies, from the table in a field of the table at `index`; flat as cut when there is none. */
girdle_lie girdle_lua_lie(lua_State *L, int index, const char *name);
/* The line set in from its edge, or by a negative distance to the walker's left. Pushes what holds it, unless the
 * distance is 0. */
const girdle_path *girdle_lua_set_in(lua_State *L, girdle_lua_work *work, const girdle_path *along, double distance_mm,
                                     const char *word);

/* What stone, likely_sizes and a stone's solid push, by tables and a catalogue (NULL: the tables alone). The first two
 * read their arguments from `index` on. */
int girdle_lua_push_stone_of(lua_State *L, int index, const girdle_catalogue *own);
int girdle_lua_push_likely(lua_State *L, int index, const girdle_catalogue *own);
int girdle_lua_push_solid(lua_State *L, const girdle_stone *stone, const girdle_catalogue *own);

/* ---- recipes and costumes */

typedef struct girdle_lua_recipe {
  void *handle;              /* always NULL */
  char name[64], source[64]; /* where it was made */
  int32_t line, reserved;
} girdle_lua_recipe; /* its user value is the table the file gave, checked */

/* Reads the parameter `place` (from 1) of the recipe at `index`: pushes its default and fills the field, whose texts
 * are held by the recipe. Returns 0 past the last. */
int girdle_lua_parameter(lua_State *L, int index, int place, girdle_lua_field *field);
/* Makes reading a name that the table on top lacks an error: "unknown WHAT 'name'". Names in the list at `absent` (0:
 * none) may be read and give nil. */
void girdle_lua_make_strict(lua_State *L, const char *what, int absent);
/* Raises what is wrong with the table of values at `given` for the recipe at `recipe`, which is not run. */
void girdle_lua_check_given(lua_State *L, int recipe, int given);
/* Calls the recipe at `recipe` with the table of values at `given` (0: none), and leaves the placement. */
void girdle_lua_call_recipe(lua_State *L, int recipe, int given);
void girdle_lua_find_beside(lua_State *L, const char *name);
void girdle_lua_refuse_compiled(lua_State *L, const char *file); /* compiled Lua could do anything: only text is read */
/* Runs the chunk on top of the stack, which must give a box of the kind (-1: a recipe or a costume); `file` for the
 * message. */
void girdle_lua_run_file(lua_State *L, int32_t kind, const char *file);

/* ---- the limited environment */

/* Finds the functions of Lua's own libraries that files may use: those that are loaded or, in a state made for that,
 * just opened. They hold for every state of the process. */
void girdle_lua_find_stock(lua_State *L, lua_CFunction *stock);
/* Pushes an environment of its own for one file. */
void girdle_lua_push_environment(lua_State *L);

/* The words, by file. */
int girdle_lua_path(lua_State *L);
int girdle_lua_line(lua_State *L);
int girdle_lua_loop(lua_State *L);
int girdle_lua_region(lua_State *L);
int girdle_lua_rectangle(lua_State *L);
int girdle_lua_oval(lua_State *L);
int girdle_lua_trapezoid(lua_State *L);
int girdle_lua_strip(lua_State *L);
int girdle_lua_triangle(lua_State *L);
int girdle_lua_teardrop(lua_State *L);
int girdle_lua_keyhole(lua_State *L);
int girdle_lua_yoke(lua_State *L);
int girdle_lua_sleeve(lua_State *L);
int girdle_lua_skirt(lua_State *L);
int girdle_lua_panel(lua_State *L);
int girdle_lua_area(lua_State *L);
int girdle_lua_shape_contains(lua_State *L);
int girdle_lua_shape_nearest(lua_State *L);
int girdle_lua_shape_corners(lua_State *L);
int girdle_lua_shape_meetings(lua_State *L);
int girdle_lua_shape_split(lua_State *L);
int girdle_lua_shape_flattened(lua_State *L);
int girdle_lua_shape_centre(lua_State *L);
int girdle_lua_shape_depth(lua_State *L);
int girdle_lua_shape_data(lua_State *L);
int girdle_lua_shape_length(lua_State *L);
int girdle_lua_shape_area(lua_State *L);
int girdle_lua_shape_perimeter(lua_State *L);
int girdle_lua_shape_at(lua_State *L);
int girdle_lua_shape_offset(lua_State *L);
int girdle_lua_shape_inset(lua_State *L);
int girdle_lua_shape_mirrored(lua_State *L);
int girdle_lua_shape_moved(lua_State *L);
int girdle_lua_shape_turned(lua_State *L);
int girdle_lua_shape_fitted(lua_State *L);
int girdle_lua_shape_stretched(lua_State *L);
int girdle_lua_shape_reversed(lua_State *L);
int girdle_lua_shape_part(lua_State *L);
int girdle_lua_shape_without(lua_State *L);
int girdle_lua_shape_box(lua_State *L);
int girdle_lua_shape_joined(lua_State *L);
int girdle_lua_shape_joined_to(lua_State *L);
int girdle_lua_shape_curvature(lua_State *L);
int girdle_lua_shape_closed(lua_State *L);
int girdle_lua_shape_subpaths(lua_State *L);
int girdle_lua_shape_holes(lua_State *L);
int girdle_lua_shape_set_in(lua_State *L);
int girdle_lua_shape_rim(lua_State *L);
int girdle_lua_shape_lower_edge(lua_State *L);
int girdle_lua_shape_transformed(lua_State *L);
int girdle_lua_run(lua_State *L);
int girdle_lua_band(lua_State *L);
int girdle_lua_cover(lua_State *L);
int girdle_lua_scatter(lua_State *L);
int girdle_lua_grade(lua_State *L);
int girdle_lua_fade(lua_State *L);
int girdle_lua_between(lua_State *L);
int girdle_lua_motif(lua_State *L);
int girdle_lua_set(lua_State *L);
int girdle_lua_count_along(lua_State *L);
int girdle_lua_count_over(lua_State *L);
int girdle_lua_placement_each(lua_State *L);
int girdle_lua_placement_counts(lua_State *L);
int girdle_lua_placement_notes(lua_State *L);
int girdle_lua_placement_mirrored(lua_State *L);
int girdle_lua_placement_folded(lua_State *L);
int girdle_lua_placement_moved(lua_State *L);
int girdle_lua_placement_turned(lua_State *L);
int girdle_lua_placement_without(lua_State *L);
int girdle_lua_placement_clear_of(lua_State *L);
int girdle_lua_placement_overlaps(lua_State *L);
int girdle_lua_placement_joined(lua_State *L);
int girdle_lua_stone(lua_State *L);
int girdle_lua_stone_index(lua_State *L);
int girdle_lua_recipe_word(lua_State *L);
int girdle_lua_recipe_called(lua_State *L);
int girdle_lua_recipe_index(lua_State *L);
int girdle_lua_costume(lua_State *L);
int girdle_lua_zone(lua_State *L);
int girdle_lua_use(lua_State *L);
int girdle_lua_use_file(lua_State *L);
int girdle_lua_reckon(lua_State *L);
int girdle_lua_sizes(lua_State *L);
int girdle_lua_likely_sizes(lua_State *L);
int girdle_lua_cuts(lua_State *L);
int girdle_lua_materials(lua_State *L);
int girdle_lua_tapes(lua_State *L);
int girdle_lua_body_measures(lua_State *L);
int girdle_lua_gap_as(lua_State *L);
int girdle_lua_catalogue(lua_State *L);
int girdle_lua_catalogue_stone(lua_State *L);
int girdle_lua_catalogue_likely_sizes(lua_State *L);
int girdle_lua_catalogue_solid(lua_State *L);
int girdle_lua_plausible(lua_State *L);
int girdle_lua_stone_weighed(lua_State *L);
int girdle_lua_stone_solid(lua_State *L);
int girdle_lua_stone_reach(lua_State *L);
int girdle_lua_stream(lua_State *L);
int girdle_lua_stream_number(lua_State *L);
int girdle_lua_stream_integer(lua_State *L);
int girdle_lua_stream_pick(lua_State *L);

#endif
