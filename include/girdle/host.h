/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_HOST_H
#define GIRDLE_HOST_H

/* host: runs recipe and costume files, which may be a stranger's, in a limited Lua state, and gives back placements and
 * jobs. It opens no files: the caller hands it sources as text. Each run has a state of its own; the host itself only
 * holds sources and belongs to one thread, whose stack is 8 MiB or more (a deeply chained source needs 4 to be read).
 *
 * A run that is ended by one of its limits gives GIRDLE_LIMIT with the field "seconds", "steps", "memory", "stones" or
 * "print"; one that the caller's watch ends, GIRDLE_STOPPED; a refusal of the caller's allocator, GIRDLE_MEMORY. Other
 * errors name the recipe's file and line, the field, the value and the nearest known name. NULL as base.h says. */

#include "girdle/job.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct girdle_host girdle_host;

/* A line of the log that begins so is said by the host, such as which stone a recipe brings where a row names fewer
 * than it takes. It is the same for every wearer. */
#define GIRDLE_HOST_NOTE "\1"

/* Limits of one run. */
typedef struct girdle_host_options {
  uint32_t struct_bytes, reserved;
  double most_seconds;     /* 3: processor time */
  uint64_t most_bytes;     /* 256 MiB: memory of the state and of what it places */
  uint64_t most_steps;     /* 300,000,000: Lua instructions and what C words cost */
  int64_t most_stones;     /* 1,000,000 */
  uint64_t most_log_bytes; /* 64 KiB of print */
  girdle_sink log;         /* where print goes, and lines of ours that begin with GIRDLE_HOST_NOTE; none: dropped */
} girdle_host_options;

enum { GIRDLE_LAYER_COSTUME, GIRDLE_LAYER_HOUSE };

/* A value given to a recipe, as people write it: "32 cm", "ss20 black; ss20 clear", "loop 34 cm". */
typedef struct girdle_given {
  const char *name, *value;
} girdle_given;

/* A named outline of a drawing, in millimetres. */
typedef struct girdle_outline {
  char name[64];
  const girdle_path *path;
} girdle_outline;

/* What a recipe takes. */
typedef struct girdle_parameter {
  char name[48], kind[16], about[160];
  char fallback[256]; /* the default as people write it; "" when required */
  char least[32], most[32];
  int32_t required, reserved;
  char choices[256]; /* of a choice, separated by "|": "left|right"; else "" */
} girdle_parameter;
typedef struct girdle_recipe_sheet girdle_recipe_sheet;

/* What it links, with its version: "lua 5.4.4". Two-call buffer: returns the length needed without the NUL; writes at
 * most `bytes` with the NUL. */
GIRDLE_API uint64_t girdle_host_libraries(char *buffer, uint64_t bytes);

/* Fills in the defaults that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_host_options_init(girdle_host_options *options, uint32_t struct_bytes);
/* Makes a host without sources; options may be NULL for the defaults. Freed with girdle_host_free; belongs to one
 * thread. */
GIRDLE_API int32_t girdle_host_new(girdle_call *call, const girdle_host_options *options, girdle_host **out);
GIRDLE_API void girdle_host_free(girdle_host *host); /* NULL is fine */

/* Hands over a source by its file name, "alternating_line.lua"; the recipe's name has spaces for "_". The same name in
 * both layers is a clash, reported when it is asked for. */
GIRDLE_API int32_t girdle_host_add_source(girdle_call *call, girdle_host *host, int32_t layer, const char *file,
                                          const char *text, uint64_t bytes);
/* Hands over the outlines of a drawing by its file name; the paths are copied. */
GIRDLE_API int32_t girdle_host_add_outlines(girdle_call *call, girdle_host *host, const char *file,
                                            const girdle_outline *outlines, uint64_t count);
/* Forgets the sources and drawings of a layer. */
GIRDLE_API void girdle_host_clear(girdle_host *host, int32_t layer);

/* What a source is, found without running its placing function. */
enum { GIRDLE_SOURCE_RECIPE, GIRDLE_SOURCE_COSTUME };
/* Reads what a recipe or costume takes. The sheet is freed with girdle_recipe_sheet_free. */
GIRDLE_API int32_t girdle_host_describe(girdle_call *call, girdle_host *host, const char *name,
                                        girdle_recipe_sheet **out);
GIRDLE_API void girdle_recipe_sheet_free(girdle_recipe_sheet *sheet);          /* NULL is fine */
GIRDLE_API int32_t girdle_recipe_sheet_kind(const girdle_recipe_sheet *sheet); /* GIRDLE_SOURCE_* */
/* The recipe's or costume's name; valid as long as the sheet, like all that a sheet gives. */
GIRDLE_API const char *girdle_recipe_sheet_name(const girdle_recipe_sheet *sheet);
/* Its one line of help, "" without one. */
GIRDLE_API const char *girdle_recipe_sheet_about(const girdle_recipe_sheet *sheet);
GIRDLE_API const char *girdle_recipe_sheet_outlines(const girdle_recipe_sheet *sheet); /* costume: drawing, or "" */
/* What a recipe takes, in order; NULL and *count 0 when it takes nothing. */
GIRDLE_API const girdle_parameter *girdle_recipe_sheet_parameters(const girdle_recipe_sheet *sheet, uint64_t *count);

/* Runs a recipe by its name ("alternating line") with values by name. */
GIRDLE_API int32_t girdle_host_place(girdle_call *call, girdle_host *host, const char *recipe,
                                     const girdle_given *given, uint64_t count, girdle_placement **out);

/* Runs a costume source and adds its zones and fabric to a job, whose measures stand before the costume's own. Every
 * zone is tried; each fault goes to the call's report, and on a fault the job has no zone of this costume. */
GIRDLE_API int32_t girdle_host_costume(girdle_call *call, girdle_host *host, const char *name, girdle_job *job);

/* Works the rows of a zones table and adds the zones to a job. `source` names the file in errors. How a row is read:
 * - shape fills the recipe's first path or region. It is a shape's word (girdle_tape, or line) whose measures stand
 *   behind it with a cross between ("sleeve wrist x upper arm x 55 cm") or in length and width ("loop" and "neckline";
 *   "rectangle", "20 cm" and "8 cm"); or an outline's name in any drawing; or what girdle_path_from_text and
 *   girdle_region_from_text read. An outline or a text is fitted to a length or width. A length without a shape is a
 *   line, unless the row's need_shape is set.
 * - length and width are lengths with a unit, or names of the job's measures. Where no shape takes them, length fills
 *   the recipe's first length, and width the one named width.
 * - stones, separated by ";", fill its stones in order, gap its `gap` ("1 mm worn" by the job's fabric, or the name of
 *   a measure), leave its `leave` ("18 cm to 22 cm; 30 cm to 31 cm"). What the recipe does not take is an error.
 * - given says whatever else the recipe takes, by name: "size = 20 cm; rays = 8; fillers = ss9 clear; ss6 clear". A
 *   path or region may be an outline's name, a length a measure's.
 * - already lists stones set by eye: "12 ss34 red; 2 gross ss20". Without a recipe they are the whole zone.
 * Every row is tried; each fault goes to the call's report. On an error the job has no zone of this table. */
GIRDLE_API int32_t girdle_host_zones(girdle_call *call, girdle_host *host, const char *source,
                                     const girdle_zone_row *rows, uint64_t count, girdle_job *job);

/* Looks at the rows of a zones table as girdle_host_zones would, with the measures and the fabric of `job`, but runs no
 * placing function: shapes, stones, stretches and whatever is given are read and held against what the recipes take. A
 * measure that the job lacks stands for a usual length, since it may come with the wearer. Each fault goes to the
 * call's report, and the first is the status; `job` stays as it is. */
GIRDLE_API int32_t girdle_host_check_zones(girdle_call *call, girdle_host *host, const char *source,
                                           const girdle_zone_row *rows, uint64_t count, const girdle_job *job);

#ifdef __cplusplus
}
#endif
#endif
