/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _XOPEN_SOURCE 700 /* realpath */
#include "alike.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

enum { TABLE_BYTES = 64 * 1024 * 1024 };

/* ---- tables */

static int32_t read_table(program *with, girdle_club *club, const char *folder_path, int32_t table, int required) {
  char path[COMMAND_PATH];
  buffer text = {0};
  int32_t status;
  GIRDLE_TRY(file_join(with, folder_path, girdle_paper_club_file(table), path, sizeof path));
  if (!required && !file_exists(path)) return GIRDLE_OK;
  GIRDLE_TRY(file_read(with, path, TABLE_BYTES, &text));
  status = girdle_paper_read_club(&with->call, club, table, path, text.bytes, text.count);
  buffer_free(&text);
  return status;
}

static int holds(program *with, const char *folder_path, const char *name) {
  char path[COMMAND_PATH];
  return !file_join(with, folder_path, name, path, sizeof path) && file_exists(path);
}

/* The price tables of one costume: where --prices says, in its own folder, or in the folder that lies in. */
static int32_t read_prices(program *with, girdle_club *club, const char *folder_path) {
  char above[COMMAND_PATH], from[COMMAND_PATH];
  GIRDLE_TRY(file_join(with, folder_path, "..", above, sizeof above));
  if (with->flags.prices)
    GIRDLE_TRY(file_join(with, with->flags.prices, ".", from, sizeof from));
  else
    strcpy(from, holds(with, folder_path, "prices.csv") ? folder_path : above);
  if (!holds(with, from, "prices.csv"))
    return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "prices",
                              "there is no prices.csv in %.80s; say where it is, such as --prices club",
                              with->flags.prices ? with->flags.prices : folder_path);
  for (int32_t table = GIRDLE_FILE_SUPPLIERS; table < GIRDLE_FILE_END; table++)
    GIRDLE_TRY(read_table(with, club, from, table, table == GIRDLE_FILE_PRICES));
  return GIRDLE_OK;
}

int32_t work_tables(program *with, const char *path, girdle_club **out) {
  girdle_club *club = NULL;
  int32_t status = GIRDLE_OK;
  if (!file_is_folder(path))
    return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "club", "%.160s is no club's folder", path);
  GIRDLE_TRY(girdle_club_new(&with->call, &club));
  for (int32_t table = GIRDLE_FILE_SUPPLIERS; table < GIRDLE_FILE_END && !status; table++)
    status = read_table(with, club, path, table, 0);
  if (status)
    girdle_club_free(club);
  else
    *out = club;
  return status;
}

/* ---- one costume or recipe */

static int32_t new_job(program *with, const char *name, girdle_job **out) {
  girdle_job_head head;
  girdle_job_head_init(&head, sizeof head);
  girdle_common_text(head.tag, sizeof head.tag, name);
  girdle_common_text(head.costume, sizeof head.costume, name);
  return girdle_job_new(&with->call, &head, out);
}

/* neckline="52 cm" on the command line. */
static int32_t give_measures(program *with, const sheet *takes, girdle_job *job) {
  const char **known = command_new((takes->parameter_count + 1) * sizeof *known);
  int32_t status = GIRDLE_OK;
  for (uint64_t at = 0; at < takes->parameter_count; at++)
    known[at] = takes->parameters[at].name;
  if (takes->parameter_count) status = flags_only(with, known, takes->parameter_count);
  for (uint64_t at = 0; at < with->flags.given_count && !status; at++) {
    double mm;
    status = girdle_quantity_parse(&with->call, with->flags.given[at].value, GIRDLE_LENGTH, &mm);
    if (status) girdle_common_at(&with->call, with->flags.given[at].name, -1, -1, -1);
    if (!status) status = girdle_job_set_measure(&with->call, job, with->flags.given[at].name, mm);
  }
  free(known);
  return status;
}

static int32_t place_recipe(program *with, const char *name, const folder *beside, girdle_job *job) {
  task what = {TASK_PLACE, name, beside, with->flags.given, with->flags.given_count, job, NULL, NULL, 0};
  return pool_one(with, &what);
}

static int32_t work_costume(program *with, const costume *of, const sheet *takes, girdle_job *job) {
  task what;
  if (of->lua[0] && of->kind == GIRDLE_SOURCE_RECIPE)
    return place_recipe(with, of->source, of->beside.path[0] ? &of->beside : NULL, job);
  GIRDLE_TRY(give_measures(with, takes, job));
  wardrobe_task(of, job, &what);
  return pool_one(with, &what);
}

int32_t work_zone_rows(program *with, const char *name, const girdle_zone_rows *rows, const girdle_fabric *fabric,
                       girdle_job **out) {
  task what = {TASK_COSTUME, "", NULL, NULL, 0, NULL, "zones.csv", NULL, 0};
  GIRDLE_TRY(new_job(with, name, out));
  if (fabric) GIRDLE_TRY(girdle_job_set_fabric(&with->call, *out, fabric));
  what.job = *out;
  what.rows = girdle_zone_rows_view(rows, &what.row_count);
  return pool_one(with, &what);
}

/* The house recipes are one layer already: named by a path they must not clash with themselves. */
static int32_t drop_house_layer(program *with, costume *of) {
  char house[COMMAND_PATH], own[COMMAND_PATH];
  GIRDLE_TRY(source_house(with));
  if (of->beside.path[0] && realpath(with->house.path, house) && realpath(of->beside.path, own) &&
      strcmp(house, own) == 0)
    source_folder_free(&of->beside);
  return GIRDLE_OK;
}

static int32_t one_costume(program *with, const char *file, girdle_job **job) {
  char lies_in[COMMAND_PATH];
  costume of;
  sheet takes = {0};
  int32_t status;
  memset(&of, 0, sizeof of);
  file_folder(file, lies_in, sizeof lies_in);
  GIRDLE_TRY(stones_read(with, file_is_folder(file) ? file : lies_in));
  status = source_costume_file(with, file, &of);
  if (!status) status = drop_house_layer(with, &of);
  if (!status) status = wardrobe_describe(with, &of, &takes);
  if (!status) status = new_job(with, of.name, job);
  if (!status) status = work_costume(with, &of, &takes, *job);
  sheet_free(&takes);
  source_costume_free(&of);
  return status;
}

/* A recipe is also known by its file's spelling, with _ for spaces. */
int recipe_is_spelled(const char *name, const char *recipe) {
  for (; *recipe && (*name == '_' ? ' ' : *name) == *recipe; recipe++)
    name++;
  return *name == *recipe;
}

int32_t recipe_is_known(program *with, const char *name) {
  char(*names)[64] = command_new((with->house.source_count + 1) * sizeof *names);
  const char **known = command_new((with->house.source_count + 1) * sizeof *known);
  const char *nearest;
  int32_t status = GIRDLE_UNKNOWN;
  for (uint64_t at = 0; at < with->house.source_count; at++) {
    source_recipe_name(with->house.sources[at].file, names[at], sizeof names[at]);
    known[at] = names[at];
    if (recipe_is_spelled(name, names[at])) status = GIRDLE_OK;
  }
  nearest = girdle_nearest(name, known, with->house.source_count);
  if (status && nearest)
    girdle_common_fail(&with->call, status, "file", "there is no file and no house recipe '%.80s', did you mean '%s'?",
                       name, nearest);
  else if (status)
    girdle_common_fail(&with->call, status, "file",
                       "there is no file and no house recipe '%.80s'; `girdle recipes` lists them", name);
  free(names);
  free(known);
  return status;
}

/* A word that is no file is a house recipe's name. */
static int32_t house_recipe(program *with, const char *name, girdle_job **job) {
  char tag[64], recipe[64];
  GIRDLE_TRY(source_house(with));
  GIRDLE_TRY(recipe_is_known(with, name));
  girdle_common_text(tag, sizeof tag, name);
  girdle_common_text(recipe, sizeof recipe, name);
  for (size_t at = 0; tag[at]; at++) {
    if (tag[at] == ' ') tag[at] = '_';
    if (recipe[at] == '_') recipe[at] = ' ';
  }
  GIRDLE_TRY(new_job(with, tag, job));
  return place_recipe(with, recipe, NULL, *job);
}

static int32_t work_one(program *with, const char *file, int tables, girdle_club *club) {
  char lies_in[COMMAND_PATH];
  girdle_job *job = NULL;
  int32_t status = file_exists(file) ? one_costume(with, file, &job) : house_recipe(with, file, &job);
  if (!status && tables) {
    if (!file_is_folder(file)) {
      file_folder(file, lies_in, sizeof lies_in);
      file = lies_in;
    }
    status = read_prices(with, club, file);
  }
  if (!status) status = girdle_club_add_job(&with->call, club, job);
  if (status) girdle_job_free(job);
  return status;
}

/* ---- a club */

typedef struct season {
  program *with;
  girdle_club *club;
  const char *only; /* the one tag that is worked; NULL: all */
  wardrobe costumes;
} season;

static const girdle_job_head *head_at(const girdle_club *club, uint64_t index) {
  return girdle_job_head_of(girdle_club_job(club, index));
}

/* Places an error that names no file at a tag's row of club.csv, which is read again for it. */
static void place_at_tag(program *with, const char *path, const char *tag) {
  char file[COMMAND_PATH];
  buffer text = {0};
  girdle_table *table = NULL;
  if (with->error.source[0] || file_join(with, path, "club.csv", file, sizeof file)) return;
  if (!file_read(with, file, TABLE_BYTES, &text) && !girdle_table_read(NULL, file, text.bytes, text.count, &table)) {
    int64_t column = girdle_table_column(table, "tag");
    for (uint64_t row = 0; column >= 0 && row < girdle_table_rows(table); row++)
      if (strcmp(girdle_table_cell(table, row, (uint64_t)column), tag) == 0)
        girdle_common_at(&with->call, file, girdle_table_line(table, row), -1, -1);
  }
  girdle_table_free(table);
  buffer_free(&text);
}

/* Words the error, and then for whom it was. */
static int32_t worded_for(program *with, const char *path, const girdle_job_head *head, int32_t status) {
  if (!status || command_interrupted) return status;
  if (with->error.status) place_at_tag(with, path, head->tag);
  command_fault(with, status);
  fprintf(stderr, "girdle: this was costume '%s' for tag '%s'\n", head->costume, head->tag);
  return status;
}

/* The core words a size that is not known after its wearer's tag. */
static int32_t placed_size(program *with, const char *path, const girdle_club *club, int32_t status) {
  for (uint64_t at = 0; status == GIRDLE_UNKNOWN && at < girdle_club_jobs(club); at++) {
    const girdle_job_head *head = head_at(club, at);
    char start[80];
    snprintf(start, sizeof start, "%s: size '%s'", head->tag, head->size);
    if (strncmp(with->error.message, start, strlen(start)) != 0) continue;
    place_at_tag(with, path, head->tag);
    break;
  }
  return status;
}

static int is_chosen(const season *all, uint64_t index) {
  return !all->only || strcmp(all->only, head_at(all->club, index)->tag) == 0;
}

/* With the one that is chosen all are worked that must look like it. */
static int is_worked(const season *all, uint64_t index) {
  const girdle_job *job = girdle_club_job(all->club, index);
  const costume *of = wardrobe_costume(&all->costumes, girdle_job_head_of(job)->costume);
  if (is_chosen(all, index)) return 1;
  if (!of || !alike_is_kept(of)) return 0;
  for (uint64_t at = 0; at < girdle_club_jobs(all->club); at++)
    if (is_chosen(all, at) && alike_same_look(job, girdle_club_job(all->club, at))) return 1;
  return 0;
}

static int season_task(void *context, uint64_t index, task *out) {
  season *all = context;
  girdle_job *job = girdle_club_job(all->club, index);
  if (!job) return 0;
  out->kind = TASK_NONE;
  if (is_worked(all, index))
    wardrobe_task(wardrobe_costume(&all->costumes, girdle_job_head_of(job)->costume), job, out);
  return 1;
}

static int32_t season_done(void *context, uint64_t index, const char *answer, uint64_t bytes) {
  season *all = context;
  task what;
  memset(&what, 0, sizeof what);
  season_task(context, index, &what);
  if (what.kind == TASK_NONE) return GIRDLE_OK;
  return worded_for(all->with, all->costumes.path, head_at(all->club, index),
                    pool_answer(all->with, &what, answer, bytes, NULL));
}

static int32_t work_season(season *all, const char *path) {
  task_list list = {all, girdle_club_jobs(all->club), -1, season_task, season_done};
  strcpy(all->costumes.path, path);
  for (uint64_t at = 0; at < list.most; at++) {
    const girdle_job_head *head = head_at(all->club, at);
    if (is_chosen(all, at))
      GIRDLE_TRY(worded_for(all->with, path, head, wardrobe_need(all->with, &all->costumes, head->costume)));
  }
  GIRDLE_TRY(substitutes_read(all->with, path, all->club));
  if (all->with->wished)
    GIRDLE_TRY(substitutes_add(all->with, all->club, all->with->wished[0], all->with->wished[1], all->with->wished[2]));
  GIRDLE_TRY(pool_run(all->with, &list));
  GIRDLE_TRY(alike_keep(all->with, all->club, &all->costumes));
  return substitutes_take(all->with, path, all->club);
}

static int32_t some_wearer(program *with, const char *path, const girdle_club *club) {
  if (girdle_club_jobs(club)) return GIRDLE_OK;
  return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "tag",
                            "%.160s/club.csv has no wearer; each has a row that begins with tag and costume", path);
}

/* The wearers' own columns are looked at before those of the sizes come to them. */
static int32_t fit_sizes(program *with, const char *path, girdle_club *club) {
  GIRDLE_TRY(measures_known(with, path, club));
  return placed_size(with, path, club, girdle_club_fit_sizes(&with->call, club));
}

/* The tables of a club, each wearer with the measures of her size. */
static int32_t read_club(program *with, const char *path, girdle_club *club) {
  GIRDLE_TRY(stones_read(with, path));
  for (int32_t table = 0; table < GIRDLE_FILE_END; table++)
    GIRDLE_TRY(read_table(with, club, path, table, table == GIRDLE_FILE_CLUB));
  GIRDLE_TRY(some_wearer(with, path, club));
  return fit_sizes(with, path, club);
}

int32_t work_wearers(program *with, const char *path, girdle_club **out) {
  girdle_club *club = NULL;
  int32_t status;
  GIRDLE_TRY(girdle_club_new(&with->call, &club));
  status = read_club(with, path, club);
  if (status)
    girdle_club_free(club);
  else
    *out = club;
  return status;
}

static int32_t work_club(program *with, const char *path, const char *only, girdle_club *club) {
  season *all = command_new(sizeof *all);
  int32_t status = read_club(with, path, club);
  all->with = with;
  all->club = club;
  all->only = only;
  if (!status) status = work_season(all, path);
  wardrobe_close(&all->costumes);
  free(all);
  return status;
}

/* Keeps the first of several. */
static void note(int32_t *first, int32_t status) {
  if (!*first) *first = status;
}

/* Rates that no quote takes, such as a margin beside a mark-up: a quote of nothing finds them. */
static int32_t rates_sound(program *with, const char *path, const girdle_club *club) {
  char file[COMMAND_PATH];
  girdle_quote_input input;
  girdle_quote quote;
  girdle_work work;
  int32_t status;
  memset(&work, 0, sizeof work);
  girdle_quote_input_init(&input, sizeof input);
  input.work = &work;
  quote.struct_bytes = sizeof quote;
  GIRDLE_TRY(file_join(with, path, girdle_paper_club_file(GIRDLE_FILE_RATES), file, sizeof file));
  status = girdle_quote_make(&with->call, &input, girdle_club_quote_rates(club), &quote);
  if (status) girdle_common_at(&with->call, file, -1, -1, -1);
  return status;
}

int32_t work_check_club(program *with, const char *path, girdle_club *club, uint64_t *costumes) {
  wardrobe *all = command_new(sizeof *all);
  int32_t first = command_fault(with, stones_read(with, path)), status, no_suppliers = 0;
  strcpy(all->path, path);
  for (int32_t table = 0; table < GIRDLE_FILE_END; table++) {
    if (no_suppliers && (table == GIRDLE_FILE_PRICES || table == GIRDLE_FILE_COLOURS)) continue;
    status = command_fault(with, read_table(with, club, path, table, table == GIRDLE_FILE_CLUB));
    no_suppliers |= status && table == GIRDLE_FILE_SUPPLIERS; /* whose names the others look up: one fault, one word */
    note(&first, status);
  }
  if (!first) first = command_fault(with, some_wearer(with, path, club));
  note(&first, command_fault(with, fit_sizes(with, path, club)));
  note(&first, command_fault(with, rates_sound(with, path, club)));
  if (girdle_club_jobs(club)) note(&first, command_fault(with, substitutes_read(with, path, club)));
  for (uint64_t at = 0; at < girdle_club_jobs(club); at++) {
    const girdle_job_head *head = head_at(club, at);
    if (!wardrobe_costume(all, head->costume))
      note(&first, worded_for(with, path, head, wardrobe_need(with, all, head->costume)));
  }
  for (uint64_t at = 0; at < all->count; at++)
    note(&first, command_fault(with, zones_sound(with, &all->costumes[at])));
  note(&first, measures_lacking(with, club, all));
  if (!first) first = substitutes_look(with, path, club, all); /* which finds no fault in what is sound */
  *costumes = all->count;
  wardrobe_close(all);
  free(all);
  return first;
}

int32_t work_is_club(program *with, const char *file) {
  return file_is_folder(file) && holds(with, file, "club.csv");
}

/* Measures are given to a lone costume; a wearer has hers. */
static int32_t no_measures(program *with) {
  uint64_t index;
  for (uint64_t at = 0; at < with->flags.given_count; at++)
    if (girdle_measure_find(NULL, with->flags.given[at].name, &index) == GIRDLE_OK)
      return command_usage(with, "%s= is a measure: those of a club's wearers stand in its club.csv",
                           with->flags.given[at].name);
  return GIRDLE_OK;
}

int32_t work_file(program *with, const char *file, int how, girdle_club **out) {
  girdle_club *club = NULL;
  int32_t status;
  stones_forget(with); /* of another file */
  substitutes_forget(with);
  GIRDLE_TRY(girdle_club_new(&with->call, &club));
  if (work_is_club(with, file)) {
    static const char *const known[] = {"tag"};
    status = no_measures(with);
    if (!status) status = flags_only(with, known, 1);
    if (!status) status = work_club(with, file, how & WORK_CHOSEN ? flags_given(with, "tag") : NULL, club);
  } else {
    status = work_one(with, file, how & WORK_PRICES, club);
  }
  if (!status) measures_doubted(with, club);
  if (status)
    girdle_club_free(club);
  else
    *out = club;
  return status;
}

int32_t work_describe(program *with, const char *file, sheet *out) {
  costume of;
  int32_t status;
  memset(&of, 0, sizeof of);
  if (!file_exists(file)) {
    GIRDLE_TRY(source_house(with));
    GIRDLE_TRY(recipe_is_known(with, file));
    return pool_describe(with, file, NULL, out);
  }
  status = source_costume_file(with, file, &of);
  if (!status) status = drop_house_layer(with, &of);
  if (!status && !of.lua[0])
    status = girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "file",
                                "%.160s is a table of zones, which takes only measures", file);
  if (!status) status = wardrobe_describe(with, &of, out);
  source_costume_free(&of);
  return status;
}

int32_t work_chosen(program *with, const girdle_club *club, uint64_t *from, uint64_t *to) {
  const char *tag = flags_given(with, "tag");
  uint64_t count = girdle_club_jobs(club);
  const char **known = command_new((count + 1) * sizeof *known);
  int32_t status = GIRDLE_OK;
  *from = 0;
  *to = count;
  if (!work_is_club(with, with->flags.files[0])) tag = NULL; /* there it is a measure or a parameter */
  for (uint64_t at = 0; at < count; at++)
    known[at] = girdle_job_head_of(girdle_club_job(club, at))->tag;
  for (*from = 0; tag && *from < count && strcmp(known[*from], tag) != 0;)
    ++*from;
  if (tag) *to = *from + 1;
  if (tag && *from == count) status = girdle_common_unknown(&with->call, "tag", tag, known, count);
  free(known);
  return status;
}
