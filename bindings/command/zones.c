/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <stdlib.h>
#include <string.h>

#include "command.h"
#include "common.h"

/* What can be seen of a table's zones before anything is placed: whether there are such recipes and such stones, and
 * whether the recipes can read the rest. */

enum { PART_BYTES = 256 }; /* as much as a cell of a row holds */

/* Takes the next part of "ss20 black; ss16 clear"; returns 0 when none is left. */
static int next_part(const char **at, char part[PART_BYTES]) {
  size_t length;
  *at += strspn(*at, " ;");
  length = strcspn(*at, ";");
  memcpy(part, *at, length);
  *at += length;
  while (length && part[length - 1] == ' ')
    length--;
  part[length] = '\0';
  return length > 0;
}

static int32_t stones_sound(program *with, const char *list) {
  char part[PART_BYTES];
  girdle_stone stone;
  while (next_part(&list, part))
    GIRDLE_TRY(girdle_stone_parse(&with->call, part, &stone));
  return GIRDLE_OK;
}

/* "12 ss34 red; 2 gross ss20" */
static int32_t pieces_sound(program *with, const char *list, const char *column) {
  char part[PART_BYTES];
  girdle_stone stone;
  int64_t pieces;
  while (next_part(&list, part)) {
    int32_t status = girdle_stone_pieces_parse(&with->call, part, &stone, &pieces);
    if (!status) continue;
    girdle_common_text(with->error.field, sizeof with->error.field, column);
    return status;
  }
  return GIRDLE_OK;
}

static uint64_t add_names(const folder *from, char (*names)[64], uint64_t count) {
  for (uint64_t at = 0; at < from->source_count; at++)
    source_recipe_name(from->sources[at].file, names[count++], sizeof names[0]);
  return count;
}

/* A recipe of the house, or one that lies beside the costume. */
static int32_t recipe_sound(program *with, const costume *of, const char *recipe) {
  uint64_t most = with->house.source_count + of->beside.source_count + 1, count;
  char(*names)[64] = command_new(most * sizeof *names);
  const char **known = command_new(most * sizeof *known);
  int32_t status = *recipe ? GIRDLE_UNKNOWN : GIRDLE_OK;
  count = add_names(&of->beside, names, add_names(&with->house, names, 0));
  for (uint64_t at = 0; at < count; at++) {
    known[at] = names[at];
    if (recipe_is_spelled(recipe, names[at])) status = GIRDLE_OK;
  }
  if (status) status = girdle_common_unknown(&with->call, "recipe", recipe, known, count);
  free(names);
  free(known);
  return status;
}

/* Says what is wrong with a cell, and keeps the first of several faults. */
static void judge(program *with, const costume *of, const girdle_zone_row *row, int32_t status, int32_t *first) {
  if (status) girdle_common_at(&with->call, of->zones_path, row->line, -1, -1);
  command_fault(with, status);
  if (!*first) *first = status;
}

/* Lets a worker look at rows as their recipes will read them: shapes, stretches, and whatever else is given. */
static int32_t rows_fit(program *with, const costume *of, const girdle_zone_row *rows, uint64_t count) {
  girdle_job_head head;
  girdle_job *job = NULL;
  task what;
  int32_t status;
  girdle_job_head_init(&head, sizeof head);
  girdle_common_text(head.tag, sizeof head.tag, of->name);
  girdle_common_text(head.costume, sizeof head.costume, of->name);
  GIRDLE_TRY(girdle_job_new(&with->call, &head, &job));
  wardrobe_task(of, job, &what);
  what.kind = TASK_CHECK;
  what.rows = rows;
  what.row_count = count;
  status = count ? pool_one(with, &what) : GIRDLE_OK;
  girdle_job_free(job);
  return status;
}

int32_t zones_sound(program *with, const costume *of) {
  uint64_t count = 0, kept = 0;
  const girdle_zone_row *rows = of->zones ? girdle_zone_rows_view(of->zones, &count) : NULL;
  girdle_zone_row *good = command_new((count + 1) * sizeof *good);
  int32_t first = GIRDLE_OK, status = count ? source_house(with) : GIRDLE_OK;
  for (uint64_t at = 0; at < count && !status; at++) {
    int32_t fault = GIRDLE_OK;
    judge(with, of, &rows[at], recipe_sound(with, of, rows[at].recipe), &fault);
    judge(with, of, &rows[at], stones_sound(with, rows[at].stones), &fault);
    judge(with, of, &rows[at], pieces_sound(with, rows[at].already, "already"), &fault);
    judge(with, of, &rows[at], pieces_sound(with, rows[at].pieces, "pieces"), &fault);
    if (!fault) good[kept++] = rows[at];
    if (!first) first = fault;
  }
  if (!status) status = command_fault(with, rows_fit(with, of, good, kept));
  free(good);
  return first ? first : status;
}
