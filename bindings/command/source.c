/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _XOPEN_SOURCE 700 /* readlink */
#include "command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "common.h"

enum { SOURCE_BYTES = 64 * 1024, TABLE_BYTES = 64 * 1024 * 1024 };

/* ---- folders of sources */

static int32_t add_source(program *with, folder *to, const char *path, const char *file) {
  source *added;
  to->sources = command_grown(to->sources, to->source_count, sizeof *to->sources);
  added = &to->sources[to->source_count];
  memset(added, 0, sizeof *added);
  if (!girdle_common_text(added->file, sizeof added->file, file)) return GIRDLE_OK;
  GIRDLE_TRY(file_read(with, path, SOURCE_BYTES, &added->text));
  to->source_count++;
  return GIRDLE_OK;
}

/* A recipe that is too large spoils nothing but itself: it is passed over aloud. */
static int32_t offer_source(program *with, folder *to, const char *name) {
  char path[COMMAND_PATH];
  int32_t status;
  GIRDLE_TRY(file_join(with, to->path, name, path, sizeof path));
  if (!file_is_plain(path)) return GIRDLE_OK; /* a folder or a pipe that is named so */
  status = add_source(with, to, path, name);
  if (status != GIRDLE_LIMIT) return status;
  girdle_error_init(&with->error, sizeof with->error);
  command_say(with, "girdle: %s is larger than a recipe may be (64 KiB) and is not used", path);
  return GIRDLE_OK;
}

/* So is a link that leaves the folder. */
int32_t source_folder(program *with, const char *path, folder *out) {
  char **names;
  uint64_t count;
  int32_t status;
  if (!girdle_common_text(out->path, sizeof out->path, path))
    return girdle_common_fail(&with->call, GIRDLE_LIMIT, "path", "the path %.100s... is too long", path);
  status = file_list(with, path, ".lua", &names, &count);
  for (uint64_t at = 0; !status && at < count; at++) {
    if (!file_stays_inside(path, names[at])) {
      command_say(with, "girdle: %s/%s leads out of its folder and is not used", path, names[at]);
      continue;
    }
    status = offer_source(with, out, names[at]);
  }
  file_list_free(names, count);
  return status;
}

void source_folder_free(folder *of) {
  for (uint64_t at = 0; at < of->source_count; at++)
    buffer_free(&of->sources[at].text);
  for (uint64_t at = 0; at < of->outline_count; at++)
    buffer_free(&of->outlines[at].data);
  free(of->sources);
  free(of->outlines);
  memset(of, 0, sizeof *of);
}

/* ---- house recipes */

void source_recipe_name(const char *file, char *out, uint64_t bytes) {
  file_base_name(file, out, bytes);
  for (; *out; out++)
    if (*out == '_') *out = ' ';
}

static int holds_house(const char *path) {
  char known[COMMAND_PATH];
  int written = snprintf(known, sizeof known, "%s/alternating_line.lua", path);
  return written > 0 && (size_t)written < sizeof known && file_exists(known);
}

/* In the share folder of where it is installed; else beside the program when it was built here (build/girdle or
 * build/asan/girdle, and recipes). A folder of that name may be anybody's, so it must hold a recipe that comes with the
 * program.
 */
static int find_house(char *out, uint64_t bytes) {
  static const char *const places[] = {"/../share/girdle/recipes", "/../recipes", "/../../recipes"};
  const char *own = getenv("GIRDLE_RECIPES");
  char program_path[COMMAND_PATH];
  ssize_t length;
  if (own && *own) return girdle_common_text(out, bytes, own);
  length = readlink("/proc/self/exe", program_path, sizeof program_path - 1);
  if (length <= 0) return 0;
  program_path[length] = '\0';
  *strrchr(program_path, '/') = '\0';
  for (size_t at = 0; at < sizeof places / sizeof places[0]; at++) {
    int written = snprintf(out, (size_t)bytes, "%s%s", program_path, places[at]);
    if (written > 0 && (uint64_t)written < bytes && holds_house(out)) return 1;
  }
  return 0;
}

int32_t source_house(program *with) {
  char path[COMMAND_PATH];
  if (with->house.path[0]) return GIRDLE_OK;
  if (find_house(path, sizeof path)) return source_folder(with, path, &with->house);
  return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "GIRDLE_RECIPES",
                            "the house recipes are not found; say where with GIRDLE_RECIPES=FOLDER");
}

/* ---- costumes */

static int32_t read_zones(program *with, const char *path, costume *to) {
  buffer text = {0};
  uint64_t count = 0;
  int32_t status;
  girdle_common_text(to->zones_path, sizeof to->zones_path, path);
  GIRDLE_TRY(file_read(with, path, TABLE_BYTES, &text));
  status = girdle_paper_read_zones(&with->call, path, text.bytes, text.count, &to->zones);
  if (!status) girdle_zone_rows_view(to->zones, &count);
  if (!status && !count)
    status = girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "zone",
                                "%.160s has no zones; each has a row below the headings", path);
  buffer_free(&text);
  return status;
}

static void set_source(costume *of, const char *file) {
  girdle_common_text(of->lua, sizeof of->lua, file);
  source_recipe_name(file, of->source, sizeof of->source);
}

/* 1 when the table lies in the folder, not behind a link that leaves it. */
static int32_t has_table(program *with, const char *path, const char *name, char *file, uint64_t bytes, int *there) {
  GIRDLE_TRY(file_join(with, path, name, file, bytes));
  *there = file_exists(file);
  if (!*there || file_stays_inside(path, name)) return GIRDLE_OK;
  return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "costume", "%.160s leads out of its folder and is not used",
                            file);
}

/* The recipes and the costume source of a folder; `lua` may be missing there. */
static int32_t costume_folder(program *with, const char *path, costume *out) {
  char file[COMMAND_PATH];
  int there;
  GIRDLE_TRY(source_folder(with, path, &out->beside));
  GIRDLE_TRY(file_join(with, path, "costume.lua", file, sizeof file));
  if (file_exists(file)) set_source(out, "costume.lua");
  GIRDLE_TRY(has_table(with, path, "fabric.csv", file, sizeof file, &there));
  if (there) GIRDLE_TRY(fabric_read(with, file, out));
  GIRDLE_TRY(has_table(with, path, "zones.csv", file, sizeof file, &there));
  if (there) return read_zones(with, file, out);
  if (out->lua[0]) return GIRDLE_OK;
  return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "costume",
                            "%.120s holds neither costume.lua nor zones.csv nor club.csv", path);
}

static int ends_in(const char *path, const char *ending) {
  size_t length = strlen(path), tail = strlen(ending);
  return length > tail && strcmp(path + length - tail, ending) == 0;
}

/* A source named by the user is read whatever it is; the recipes beside it come with it. */
static int32_t lua_file(program *with, const char *path, costume *out) {
  char lies_in[COMMAND_PATH];
  const char *slash = strrchr(path, '/');
  const char *file = slash ? slash + 1 : path;
  if (strlen(file) >= sizeof out->lua || strlen(path) >= sizeof lies_in)
    return girdle_common_fail(&with->call, GIRDLE_LIMIT, "file", "the file name %.100s... is too long", file);
  set_source(out, file);
  file_folder(path, lies_in, sizeof lies_in);
  GIRDLE_TRY(source_folder(with, lies_in, &out->beside));
  for (uint64_t at = 0; at < out->beside.source_count; at++)
    if (strcmp(out->beside.sources[at].file, file) == 0) return GIRDLE_OK;
  return add_source(with, &out->beside, path, file);
}

int32_t source_costume_file(program *with, const char *path, costume *out) {
  char real[COMMAND_PATH];
  file_base_name(realpath(path, real) ? real : path, out->name, sizeof out->name); /* "." has a name too */
  if (file_is_folder(path)) return costume_folder(with, path, out);
  if (!file_exists(path))
    return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "file", "there is no file %.200s", path);
  if (ends_in(path, ".csv")) return read_zones(with, path, out);
  if (ends_in(path, ".lua")) return lua_file(with, path, out);
  return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "file",
                            "%.140s is no recipe or costume: those are Lua files, such as frost.lua, or folders", path);
}

/* A costume's name comes from a table, so it must not lead anywhere. */
static int plain_name(const char *name) {
  for (const char *at = name; *at; at++)
    if (*at == '/' || *at == '\\' || (unsigned char)*at < 0x20) return 0;
  return name[0] && name[0] != '.' && strlen(name) < 64;
}

static int32_t no_costume(program *with, const char *club_path, const char *file, const char *name) {
  char **names, nearest[64] = "", base[64];
  uint64_t count = 0;
  const char *near;
  GIRDLE_TRY(file_list(with, club_path, "", &names, &count));
  for (uint64_t at = 0; at < count; at++)
    if (ends_in(names[at], ".lua")) names[at][strlen(names[at]) - 4] = '\0';
  near = girdle_nearest(name, (const char *const *)names, count);
  if (near) girdle_common_text(nearest, sizeof nearest, near);
  file_list_free(names, count);
  file_base_name(club_path, base, sizeof base);
  return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "costume",
                            "unknown costume '%s'%s%s%s: there is no %s and no folder %s in %.80s", name,
                            nearest[0] ? ", did you mean '" : "", nearest, nearest[0] ? "'?" : "", file, name, base);
}

int32_t source_costume_in_club(program *with, const char *club_path, const char *name, costume *out) {
  char file[128], path[COMMAND_PATH];
  if (!plain_name(name))
    return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "costume",
                              "costume '%s' is no plain name, such as 'frost' for frost.lua or the folder frost", name);
  snprintf(file, sizeof file, "%s.lua", name);
  for (char *at = file; *at; at++)
    if (*at == ' ') *at = '_';
  GIRDLE_TRY(file_join(with, club_path, file, path, sizeof path));
  if (!file_exists(path)) GIRDLE_TRY(file_join(with, club_path, name, path, sizeof path));
  if (!file_exists(path)) return no_costume(with, club_path, file, name);
  if (!file_stays_inside(club_path, path + strlen(club_path) + 1))
    return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "costume",
                              "costume '%s' leads out of the club's folder and is not used; copy it there", name);
  GIRDLE_TRY(source_costume_file(with, path, out));
  girdle_common_text(out->name, sizeof out->name, name);
  return GIRDLE_OK;
}

void source_costume_free(costume *of) {
  girdle_zone_rows_free(of->zones);
  source_folder_free(&of->beside);
  memset(of, 0, sizeof *of);
}

/* ---- drawings */

static void take_outline(folder *to, const char *name, const girdle_path *path) {
  outline_text *added;
  uint64_t length = girdle_path_text(path, NULL, 0);
  char *data = command_new(length + 1);
  girdle_path_text(path, data, length + 1);
  to->outlines = command_grown(to->outlines, to->outline_count, sizeof *to->outlines);
  added = &to->outlines[to->outline_count++];
  memset(added, 0, sizeof *added);
  girdle_common_text(added->name, sizeof added->name, name);
  buffer_add(&added->data, data, length);
  free(data);
}

int32_t source_drawing(program *with, costume *of, const char *file) {
  char path[COMMAND_PATH];
  opened_file opened;
  const girdle_tap from = {&opened, file_piece};
  girdle_drawing *drawing = NULL;
  int32_t status;
  if (!file_stays_inside(of->beside.path, file))
    return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "outlines",
                              "%s: its drawing '%.80s' must be a file beside it, such as \"frost.svg\"", of->lua, file);
  GIRDLE_TRY(file_join(with, of->beside.path, file, path, sizeof path));
  GIRDLE_TRY(file_open(with, path, &opened));
  status = girdle_paper_read_svg_from(&with->call, path, &from, &drawing);
  file_close(&opened);
  if (status) return opened.failed ? command_disk(with, path, "read") : status;
  girdle_common_text(of->beside.drawing, sizeof of->beside.drawing, file);
  for (uint64_t at = 0; at < girdle_drawing_count(drawing); at++)
    take_outline(&of->beside, girdle_drawing_name(drawing, at), girdle_drawing_path(drawing, at));
  girdle_drawing_free(drawing);
  return GIRDLE_OK;
}
