/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <stdlib.h>
#include <string.h>

#include "common.h"

const costume *wardrobe_costume(const wardrobe *in, const char *name) {
  for (uint64_t at = 0; at < in->count; at++)
    if (strcmp(in->costumes[at].name, name) == 0) return &in->costumes[at];
  return NULL;
}

/* A costume's drawing is named inside its source, so that is looked at first. */
int32_t wardrobe_describe(program *with, costume *of, sheet *out) {
  if (!of->lua[0]) return GIRDLE_OK;
  GIRDLE_TRY(pool_describe(with, of->source, of->beside.path[0] ? &of->beside : NULL, out));
  of->kind = out->kind;
  return out->outlines[0] ? source_drawing(with, of, out->outlines) : GIRDLE_OK;
}

void wardrobe_task(const costume *of, girdle_job *job, task *out) {
  memset(out, 0, sizeof *out);
  out->kind = TASK_COSTUME;
  out->name = of->source;
  out->beside = &of->beside;
  out->job = job;
  out->zones_source = of->zones_path;
  if (of->zones) out->rows = girdle_zone_rows_view(of->zones, &out->row_count);
  if (of->has_fabric) girdle_job_set_fabric(NULL, job, &of->fabric); /* its limits were looked at when it was read */
}

/* The name is there also when the rest fails, so that a costume is looked at, and complained of, once. */
int32_t wardrobe_need(program *with, wardrobe *in, const char *name) {
  costume *added;
  sheet takes = {0};
  int32_t status;
  if (wardrobe_costume(in, name)) return GIRDLE_OK;
  in->costumes = command_grown(in->costumes, in->count, sizeof *in->costumes);
  added = &in->costumes[in->count++];
  memset(added, 0, sizeof *added);
  girdle_common_text(added->name, sizeof added->name, name);
  status = source_costume_in_club(with, in->path, name, added);
  if (!status) status = wardrobe_describe(with, added, &takes);
  if (!status && added->lua[0] && added->kind != GIRDLE_SOURCE_COSTUME)
    status = girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "costume", "%s is a recipe, not a costume", added->lua);
  sheet_free(&takes);
  return status;
}

/* Whether an entry of the folder may be a costume: another folder with its files, or a Lua file. */
static int32_t is_candidate(program *with, const char *path, const char *entry, int *out) {
  char file[COMMAND_PATH], inside[COMMAND_PATH];
  size_t length = strlen(entry);
  *out = 0;
  GIRDLE_TRY(file_join(with, path, entry, file, sizeof file));
  if (!file_is_folder(file)) {
    *out = length > 4 && strcmp(entry + length - 4, ".lua") == 0;
    return GIRDLE_OK;
  }
  GIRDLE_TRY(file_join(with, file, "zones.csv", inside, sizeof inside));
  *out = file_exists(inside);
  GIRDLE_TRY(file_join(with, file, "costume.lua", inside, sizeof inside));
  *out = *out || file_exists(inside);
  return GIRDLE_OK;
}

/* A recipe that lies among the costumes is no fault; it is dropped again. */
static int32_t offer(program *with, wardrobe *to, const char *entry) {
  char name[64];
  int wanted;
  int32_t status;
  GIRDLE_TRY(is_candidate(with, to->path, entry, &wanted));
  if (!wanted) return GIRDLE_OK;
  file_base_name(entry, name, sizeof name);
  if (wardrobe_costume(to, name)) return GIRDLE_OK;
  status = wardrobe_need(with, to, name);
  if (status != GIRDLE_ARGUMENT || to->costumes[to->count - 1].kind != GIRDLE_SOURCE_RECIPE) return status;
  source_costume_free(&to->costumes[--to->count]);
  girdle_error_init(&with->error, sizeof with->error);
  return GIRDLE_OK;
}

int32_t wardrobe_open(program *with, const char *path, wardrobe *out) {
  char **names;
  uint64_t count;
  int32_t status;
  if (!girdle_common_text(out->path, sizeof out->path, path))
    return girdle_common_fail(&with->call, GIRDLE_LIMIT, "path", "the path %.100s... is too long", path);
  GIRDLE_TRY(file_list(with, path, "", &names, &count));
  status = GIRDLE_OK;
  for (uint64_t at = 0; at < count && !status; at++)
    status = offer(with, out, names[at]);
  file_list_free(names, count);
  return status;
}

int32_t wardrobe_unknown(program *with, const wardrobe *in, const char *name) {
  const char **known = command_new((in->count + 1) * sizeof *known);
  int32_t status;
  for (uint64_t at = 0; at < in->count; at++)
    known[at] = in->costumes[at].name;
  status = girdle_common_unknown(&with->call, "costume", name, known, in->count);
  free(known);
  return status;
}

void wardrobe_close(wardrobe *of) {
  for (uint64_t at = 0; at < of->count; at++)
    source_costume_free(&of->costumes[at]);
  free(of->costumes);
  of->costumes = NULL;
  of->count = 0;
}
