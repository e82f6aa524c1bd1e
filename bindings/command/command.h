/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_COMMAND_H
#define GIRDLE_COMMAND_H

/* command: the program. Flags, files and worker processes around the libraries. Recipes and costumes are run only in
 * worker processes (worker.c); what comes back from them is checked like a stranger's file (message.c).
 *
 *   flags.c  what was asked        files.c   files read, and outputs that appear whole or not at all
 *   source.c recipes and costumes  wardrobe.c the costumes of a folder
 *   pool.c, message.c  workers, the parent's side       worker.c, perform.c  their own
 *   work.c   a FILE into a club    verb_*.c  one command each */

#include <stdarg.h>
#include <stdint.h>
#include <string.h>

#include "girdle/host.h"
#include "girdle/paper.h"

/* What a verb returns beside girdle's own statuses. */
enum {
  COMMAND_USAGE = GIRDLE_STATUS_END,
  COMMAND_DISK,
  COMMAND_INTERRUPTED,
  COMMAND_ANSWERED, /* with errors, to whoever reads them */
  COMMAND_LACKING   /* all was said, but not everything can be had */
};

/* The folders and paths of files on this system are cut at this length, with an error. */
enum { COMMAND_PATH = 4096 };

/* ---- memory: a program may end when there is none left, the libraries may not */

void *command_new(uint64_t bytes); /* zeroed; ends the program with exit status 3 when refused */
void *command_grown(void *items, uint64_t count, uint64_t item_bytes); /* room for one more: call before each append */
char *command_copy(const char *text);
void command_release(void *block);

struct program;

/* Bytes that grow. Zeroed memory is an empty one. */
typedef struct buffer {
  char *bytes; /* ended by NUL beyond count, once anything was added */
  uint64_t count, capacity;
  girdle_phrased spoken; /* what paper_sink needs a place for */
} buffer;
void buffer_add(buffer *to, const void *bytes, uint64_t count);
void buffer_text(buffer *to, const char *format, ...) __attribute__((format(printf, 2, 3))); /* no %f, %e, %g */
void buffer_number(buffer *to, double value, int32_t decimals);
void buffer_csv_text(buffer *to, const char *text, const char *after); /* quoted and defused where it must be */
void buffer_json_text(buffer *to, const char *text);                   /* what stands between the quotes */
void buffer_free(buffer *to);
/* A phrase of the table of phrases in the user's words; {1}, {2} ... are filled with as many texts. A number with the
 * user's decimal mark, a length in mm or inches, pieces as gross and odd; a text or phrase padded to so many columns of
 * a terminal, its words on the left side (below 0) or the right. */
void buffer_say(buffer *to, const struct program *with, const char *english, ...);
const char *number_words(const struct program *with, double value, int32_t decimals, char text[64]);
const char *length_words(const struct program *with, double mm, int32_t decimals, char text[64]);
const char *pieces_words(const struct program *with, int64_t pieces, char text[64]);
void buffer_padded(buffer *to, const char *text, int width);
void buffer_say_in(buffer *to, const struct program *with, const char *english, int width);
girdle_sink buffer_sink(buffer *to);
/* The same for papers: they speak as --phrases, --inches and --decimal-comma say. `to` must stay where it is while it
 * is used. */
girdle_sink paper_sink(const struct program *with, buffer *to);

/* ---- what was asked */

typedef struct flags {
  int csv, json, pdf, names, mirrored, inches, comma, quiet, write, help;
  const char *out, *today, *prices, *workers, *page, *phrases, *photo;
  const char *files[6]; /* FILE, and more of them for the verbs that take several */
  uint64_t file_count;
  girdle_given *given; /* name=value, in order */
  uint64_t given_count;
} flags;

typedef struct pool pool;
typedef struct outputs outputs;
typedef struct program program;

typedef struct verb {
  const char *name, *summary, *usage, *help;
  int32_t (*run)(program *with);
  uint64_t most_files;
} verb;

/* A recipe or costume file as it was read. */
typedef struct source {
  char file[256];
  buffer text;
} source;

/* What lies beside a costume or recipe: its own layer of sources, and the outlines of its drawing as path data. */
typedef struct outline_text {
  char name[64];
  buffer data;
} outline_text;
typedef struct folder {
  char path[COMMAND_PATH];
  source *sources;
  uint64_t source_count;
  char drawing[256]; /* its file name; "" none */
  outline_text *outlines;
  uint64_t outline_count;
} folder;

/* A stone that another stands in for, in one routine or, with none, in all. */
typedef struct swap {
  char routine[64];
  girdle_stone stone, instead;
} swap;
static inline int swap_is_of(const swap *of, const girdle_job *job) {
  return !of->routine[0] || strcmp(girdle_job_head_of(job)->routine, of->routine) == 0;
}

struct program {
  girdle_call call;
  girdle_error error;
  uint64_t *said; /* a sum of each fault that was printed already */
  uint64_t faults;
  uint64_t *notes; /* the same of the host's notes */
  uint64_t note_count;
  girdle_error first_fault; /* of a line under way */
  const verb *verb;
  flags flags;
  int64_t today;
  int workers;
  folder house;
  pool *pool;
  outputs *outputs;
  girdle_phrases *phrases; /* of --phrases; NULL: English */
  buffer fonts[2];         /* of printed pages, once they were read */
  buffer result;           /* what standard output gets, once all is done */
  girdle_catalogue own;    /* of stones.csv; the call has a view of it */
  swap *swaps;             /* of other sizes, which the workers place anew */
  uint64_t swap_count;
  const char *const *wished; /* by compare: routine, stone, instead; NULL: nothing more than the tables say */
  char closing[256];         /* words for when all is written */
  int32_t lacks; /* the status to end with when all else went well: COMMAND_LACKING where a supplier has not enough */
};

/* Reads the command line after the verb. COMMAND_USAGE with the reason said. */
int32_t flags_read(program *with, int count, char **arguments);
/* The value of a parameter, or NULL; the first of that name. */
const char *flags_given(const program *with, const char *name);
/* Takes a parameter that is the command's own out of the list, so that a costume does not see it; NULL when not given.
 */
const char *flags_take(program *with, const char *name);
/* COMMAND_USAGE unless every parameter's name is among the known ones; names the nearest. */
int32_t flags_only(program *with, const char *const *known, uint64_t count);

/* Words on standard error: "girdle: ...", always ended by a line feed. */
int32_t command_usage(program *with, const char *format, ...) __attribute__((format(printf, 2, 3)));
int32_t command_disk(program *with, const char *path, const char *doing); /* with errno's reason */
void command_say(const program *with, const char *format, ...) __attribute__((format(printf, 2, 3))); /* not if quiet */
/* What a recipe printed, control characters escaped. */
void command_say_bytes(const char *bytes, uint64_t count);
/* Whether a note of the host was not said yet; it counts as said from then on. */
int command_note_is_new(program *with, const char *bytes, uint64_t count);
/* Words the call's error for a file as the reader knows it. Returns the status. */
int32_t command_fault(program *with, int32_t status);
extern const verb command_verbs[];
extern const uint64_t command_verb_count;

/* ---- files */

/* Reads a whole file of at most `most` bytes; remembers it, so that no output replaces it. GIRDLE_UNKNOWN when it is
 * not there, COMMAND_DISK when it cannot be read, GIRDLE_LIMIT when it is larger. */
int32_t file_read(program *with, const char *path, uint64_t most, buffer *out);
/* The same file by file, in pieces: file_piece is the tap of an open file, `failed` tells that the disk did. */
typedef struct opened_file {
  int file, failed;
} opened_file;
int32_t file_open(program *with, const char *path, opened_file *out);
int64_t file_piece(void *opened, void *buffer, uint64_t most);
void file_close(opened_file *of);
int file_is_folder(const char *path);
int file_is_plain(const char *path); /* neither a folder nor a pipe or device */
int file_exists(const char *path);
/* folder "/" name; GIRDLE_LIMIT when longer than `bytes` holds. */
int32_t file_join(program *with, const char *folder_path, const char *name, char *out, uint64_t bytes);
/* The names in a folder that end in `ending`, sorted, at most 1000. The caller frees each and the list. */
int32_t file_list(program *with, const char *path, const char *ending, char ***names, uint64_t *count);
void file_list_free(char **names, uint64_t count);
/* 1 when folder/name is a file that lies in the folder itself, links followed. */
int file_stays_inside(const char *folder_path, const char *name);
/* The folder a file lies in; "." for a bare name. */
void file_folder(const char *path, char *out, uint64_t bytes);
/* "frost" of "a/b/frost.lua" and of "a/frost/". */
void file_base_name(const char *path, char *out, uint64_t bytes);

/* Outputs of one run: computed wholly, then written aside in their folder and renamed. */
int32_t output_folder_check(program *with); /* --out must not lie in any club's folder */
/* Begins the next output, "TAG.svg" (its tag checked by output_name_check); the one before is done. NULL, with the
 * error set, when two would be one file or the disk is full. */
buffer *output_add(program *with, const char *file_name);
int32_t output_name_check(program *with, const char *tag);
/* Where no output was begun, what standard output gets is one: VERB.txt, .csv, .json, .html or .pdf. */
int32_t output_result(program *with);
int32_t output_commit(program *with);
void output_discard(program *with); /* safe in a signal handler's aftermath and twice */

/* ---- recipes and costumes */

enum { GIRTHS = 4 }; /* head, hand, hips and foot */

/* A costume's files: a Lua file, a zones table, or both. */
typedef struct costume {
  char name[64];    /* as club.csv says it */
  char lua[256];    /* file name of the costume source in `beside`; "" none */
  char source[256]; /* what the host calls it: "frost" for frost.lua */
  int32_t kind;     /* of the Lua file, once it was looked at: GIRDLE_SOURCE_* */
  char zones_path[COMMAND_PATH];
  folder beside;
  girdle_zone_rows *zones;
  girdle_fabric fabric;    /* of fabric.csv, when it has one */
  double stretch_most;     /* NaN: not known */
  double girth_mm[GIRTHS]; /* of what passes through its rings, as girth_names has them; NaN: not known */
  int has_fabric;
} costume;

/* "alternating line" of "alternating_line.lua". */
void source_recipe_name(const char *file, char *out, uint64_t bytes);
int32_t source_house(program *with); /* finds and reads the house recipes, once */
int32_t source_folder(program *with, const char *path, folder *out);
void source_folder_free(folder *of);
/* Finds what a path is and reads it as a costume (COMMAND_PATH long). `name` is what it is called in messages. */
int32_t source_costume_file(program *with, const char *path, costume *out);
int32_t source_costume_in_club(program *with, const char *club_path, const char *name, costume *out);
void source_costume_free(costume *of);
/* Reads a costume's fabric.csv. */
int32_t fabric_read(program *with, const char *path, costume *to);
/* Reads the drawing that a costume's Lua file names. */
int32_t source_drawing(program *with, costume *of, const char *file);

/* ---- work for the workers */

enum { TASK_DESCRIBE, TASK_PLACE, TASK_COSTUME, TASK_CHECK, TASK_NONE }; /* CHECK: looks at rows, places nothing */

typedef struct task {
  int32_t kind;
  const char *name;     /* the recipe or costume by its name; "" for a zones table alone */
  const folder *beside; /* may be NULL: house recipes only */
  const girdle_given *given;
  uint64_t given_count;
  girdle_job *job;          /* PLACE, COSTUME: gets the zones; CHECK: whose measures and fabric they are */
  const char *zones_source; /* COSTUME, CHECK: the zones table's name in errors, or NULL */
  const girdle_zone_row *rows;
  uint64_t row_count;
  const girdle_catalogue *own; /* whose sizes texts of stones may name; may be NULL */
  const swap *swaps;           /* of all routines */
  uint64_t swap_count;
} task;

/* What a recipe or costume takes, as a worker said it. */
typedef struct sheet {
  int32_t kind, reserved;
  char name[64], about[256], outlines[256];
  girdle_parameter *parameters;
  uint64_t parameter_count;
} sheet;
void sheet_free(sheet *of);
void sheet_text(const program *with, const sheet *of, buffer *to); /* for people */

/* Messages. A worker's answer is read as a stranger's. */
void message_write_task(buffer *to, const task *of, double most_seconds);
/* In the worker: `log` is what print wrote meanwhile, as the host's sink. */
void message_perform(girdle_host *host, const char *bytes, uint64_t count, const buffer *log, buffer *answer);
int32_t message_read_answer(program *with, const task *of, const char *bytes, uint64_t count, sheet *out);
double message_seconds_of(const char *bytes, uint64_t count);

/* Tasks spread over the workers; `done` hears of each in order and its status stops the rest. An answer is NULL when
 * the task was TASK_NONE, or when its worker was lost twice. */
typedef struct task_list {
  void *context;
  uint64_t most; /* no more than so many tasks; so many workers at most are started */
  int wait_file; /* more tasks may come when this can be read; -1: all are known */
  int (*task_at)(void *context, uint64_t index, task *out); /* 1 there it is, 0 there are no more, -1 not yet */
  int32_t (*done)(void *context, uint64_t index, const char *answer, uint64_t bytes);
} task_list;
enum { POOL_RING = 256 }; /* so many tasks are under way at most */
int32_t pool_run(program *with, const task_list *list);
/* Reads an answer, or words that there was none (NULL). */
int32_t pool_answer(program *with, const task *what, const char *answer, uint64_t bytes, sheet *out);
int32_t pool_describe(program *with, const char *name, const folder *beside, sheet *out);
int32_t pool_one(program *with, const task *what);
void pool_stop(program *with);
extern volatile int command_interrupted;

/* The child: confined, it answers jobs until its input ends. Never returns. */
void worker_serve(const folder *house, int in, int out) __attribute__((noreturn));

/* ---- the costumes of a club's folder, each read once */

typedef struct wardrobe {
  char path[COMMAND_PATH];
  costume *costumes;
  uint64_t count;
} wardrobe;
/* Reads all that are there: Lua files that hold costumes, and folders. */
int32_t wardrobe_open(program *with, const char *path, wardrobe *out);
/* Reads one by its name, unless it is there already. */
int32_t wardrobe_need(program *with, wardrobe *in, const char *name);
const costume *wardrobe_costume(const wardrobe *in, const char *name); /* NULL: not there; moves when one is added */
int32_t wardrobe_unknown(program *with, const wardrobe *in, const char *name);
void wardrobe_close(wardrobe *of);
/* Looks at what its Lua file takes, if it has one, and reads the drawing that is named there. */
int32_t wardrobe_describe(program *with, costume *of, sheet *out);
/* What a worker is to do for a costume, and for whom. */
void wardrobe_task(const costume *of, girdle_job *job, task *out);

/* GIRDLE_UNKNOWN, naming the nearest body measure, when a wearer has a measure that neither bodies nor the club's sizes
 * have, and none of its costumes speaks of; where none is near it is only said. */
int32_t measures_known(program *with, const char *path, const girdle_club *club);
/* Says which body measures lie far outside what is usual; they are used all the same. */
void measures_doubted(const program *with, const girdle_club *club);

/* Reads the sizes of one's own of a folder's stones.csv, when there is one, in place of those read before. */
int32_t stones_read(program *with, const char *folder_path);
void stones_forget(program *with);

/* GIRDLE_UNKNOWN, each said, where a row of a table of zones wants a measure that its wearer lacks. */
int32_t measures_lacking(program *with, const girdle_club *club, const wardrobe *costumes);

/* Reads a club's substitutes.csv before its costumes are worked: what is of another size is placed anew by the workers.
 */
/* GIRDLE_UNKNOWN, naming those there are, for a routine that no wearer is in. */
int32_t routine_is_known(program *with, const girdle_club *club, const char *routine);
int32_t substitutes_read(program *with, const char *folder_path, const girdle_club *club);
/* Says which stones nobody wears, as far as tables of zones tell. */
int32_t substitutes_look(program *with, const char *folder_path, const girdle_club *club, const wardrobe *costumes);
void substitutes_forget(program *with);
/* Adds one; COMMAND_USAGE or the fault when routine or stones are not known. */
int32_t substitutes_add(program *with, const girdle_club *club, const char *routine, const char *stone,
                        const char *instead);
/* Once all is worked: takes those of the same size, for all of a routine; says what nobody wears. */
int32_t substitutes_take(program *with, const char *folder_path, const girdle_club *club);
/* Says what could stand in for what an order lacks. */
int32_t substitutes_say(program *with, const girdle_club *club, const girdle_reckoning *of);

/* Every zone with its stones and their places, a JSON list. */
void places_json(const girdle_job *job, buffer *to);

/* ---- a FILE into a club of jobs with zones */

/* Works a table of zones alone, under a name; `fabric` may be NULL. */
int32_t work_zone_rows(program *with, const char *name, const girdle_zone_rows *rows, const girdle_fabric *fabric,
                       girdle_job **out);
/* Tries a ring of stones and says what comes of it. */
int32_t opening_say(program *with, const girdle_opening *ring, const char *stones);
/* A club's tables of suppliers, prices, stock, rates and log, with nobody to wear anything. */
int32_t work_tables(program *with, const char *path, girdle_club **out);
/* A club's wearers with their measures, and all its tables; nothing is worked yet. */
int32_t work_wearers(program *with, const char *path, girdle_club **out);
int32_t work_is_club(program *with, const char *file);
/* An order that lacks something is written, and the program says so at its end (COMMAND_LACKING). */
void note_lacking(program *with, const girdle_reckoning *of);
/* Reads all of a club's tables and looks at each costume, placing nothing; goes on after a fault, so that all are said.
 * The status is that of the first. */
int32_t work_check_club(program *with, const char *path, girdle_club *club, uint64_t *costumes);
/* Reads what a recipe, a costume or a house recipe's name takes, placing nothing. */
int32_t work_describe(program *with, const char *file, sheet *out);
/* Says what is wrong with the rows of a costume's table, as far as it is seen without placing; the status is the first.
 */
int32_t zones_sound(program *with, const costume *of);
/* Whether a name is a recipe's, also with _ for its spaces. */
int recipe_is_spelled(const char *name, const char *recipe);
/* GIRDLE_OK when a house recipe has this name; else an error naming the nearest. */
int32_t recipe_is_known(program *with, const char *name);
/* Reads FILE with its parameters: a recipe, a costume, or a club's folder; each becomes a club, of one job or more.
 * Of a club, with WORK_CHOSEN, only the costume that tag=TAG names is worked. With WORK_PRICES the price tables of a
 * lone costume are read too; a club's are always. */
enum { WORK_PRICES = 1, WORK_CHOSEN = 2 };
int32_t work_file(program *with, const char *file, int how, girdle_club **out);

/* The jobs that are to be shown: all, or the one that tag=TAG names. From `from`, before `to`. */
int32_t work_chosen(program *with, const girdle_club *club, uint64_t *from, uint64_t *to);

/* Writes out what standard output is to get so far. */
int32_t command_flush(program *with);

/* The print options that --page gives, with the fonts of Debian's fonts-dejavu-core and fonts-vlgothic where they are
 * there; COMMAND_USAGE when it is no page. */
int32_t flags_print(program *with, girdle_print_options *out);

int32_t verb_count(program *with);
int32_t verb_cost(program *with);
int32_t verb_order(program *with);
int32_t verb_map(program *with);
int32_t verb_sheet(program *with);
int32_t verb_offer(program *with);
int32_t verb_club(program *with);
int32_t verb_recipes(program *with);
int32_t verb_phrases(program *with);
int32_t verb_tables(program *with);
int32_t verb_check(program *with);
int32_t verb_ask(program *with);
int32_t verb_compare(program *with);
int32_t verb_lines(program *with);
int32_t verb_weigh(program *with);
int32_t verb_plan(program *with);
int32_t verb_opening(program *with);
int32_t verb_alike(program *with);
int32_t verb_learn(program *with);

#endif
