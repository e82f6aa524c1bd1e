/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _XOPEN_SOURCE 700 /* realpath */
#include "output.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "common.h"

typedef struct input {
  dev_t device;
  ino_t node;
} input;

typedef struct output {
  char name[128];
  char aside[COMMAND_PATH]; /* the file it is written to before it is renamed; "" none yet */
  buffer bytes;
} output;

/* Outputs are allocated one by one, so that a buffer that was handed out stays where it is. Those that are done are
 * held in memory up to MOST_HELD_BYTES, and then written aside: a large club needs no more memory than a small one. */
enum { MOST_HELD_BYTES = 32 << 20 };
struct outputs {
  output **items;
  uint64_t count, written; /* so many of the first lie aside already */
  input *inputs;
  uint64_t input_count;
  char **folders; /* that were made for --out, the outer ones first; a run that writes nothing takes them away again */
  uint64_t folder_count;
};

/* For the way out when memory is refused: what lies aside is the parent's to sweep, never a worker's. */
static struct {
  const outputs *all;
  pid_t owner;
} sweeping;

static void sweep(void) {
  const outputs *all = sweeping.all;
  if (getpid() != sweeping.owner) return;
  for (uint64_t at = 0; all && at < all->count; at++)
    if (all->items[at]->aside[0]) unlink(all->items[at]->aside);
}

static outputs *outputs_of(program *with) {
  if (!with->outputs) {
    with->outputs = command_new(sizeof *with->outputs);
    sweeping.all = with->outputs;
    sweeping.owner = getpid();
    atexit(sweep);
  }
  return with->outputs;
}

void output_remember_input(program *with, const struct stat *about) {
  outputs *all = outputs_of(with);
  all->inputs = command_grown(all->inputs, all->input_count, sizeof *all->inputs);
  all->inputs[all->input_count].device = about->st_dev;
  all->inputs[all->input_count++].node = about->st_ino;
}

/* ---- names */

static int plain_character(unsigned char c) {
  return c >= 0x80 || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' ||
         c == '-' || c == ' ' || c == '.';
}

/* Names that some systems keep for themselves, and those of the tables written beside the maps. */
static int taken_name(const char *tag) {
  static const char *const taken[] = {"counts", "order", "lots", "bags", "con", "prn", "aux", "nul"};
  for (size_t at = 0; at < sizeof taken / sizeof taken[0]; at++)
    if (strcasecmp(tag, taken[at]) == 0) return 1;
  return 0;
}

int32_t output_name_check(program *with, const char *tag) {
  size_t length = strlen(tag);
  int plain = length > 0 && tag[0] != '.' && tag[0] != '-' && tag[0] != ' ' && tag[length - 1] != ' ' &&
              tag[length - 1] != '.' && !taken_name(tag);
  for (size_t at = 0; plain && at < length; at++)
    plain = plain_character((unsigned char)tag[at]);
  if (plain) return GIRDLE_OK;
  return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "tag",
                            "tag '%s' cannot be a file's name; use letters, digits, '-' and '_', such as 'ada-1'", tag);
}

/* Names that differ in capitals alone are one file on some systems. */
static int32_t name_is_free(program *with, const char *name) {
  outputs *all = outputs_of(with);
  for (uint64_t at = 0; at < all->count; at++)
    if (strcasecmp(all->items[at]->name, name) == 0)
      return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "tag", "%s and %s would be one file", name,
                                all->items[at]->name);
  return GIRDLE_OK;
}

/* ---- where it may be written */

/* The real path of the nearest part of `path` that exists. */
static int nearest_real(const char *path, char *real) {
  char part[COMMAND_PATH];
  if (strlen(path) >= sizeof part) return 0;
  strcpy(part, path);
  while (!realpath(part, real)) {
    char *slash = strrchr(part, '/');
    if (!slash) return realpath(".", real) != NULL;
    if (slash == part) slash++;
    *slash = '\0';
    if (strcmp(part, "/") == 0) return realpath("/", real) != NULL;
  }
  return 1;
}

static int holds_a_club(const char *real_folder) {
  char table[COMMAND_PATH + 16];
  snprintf(table, sizeof table, "%s/club.csv", real_folder);
  return file_exists(table);
}

/* Looks at every folder from `real` upwards. */
static int inside_a_club(const char *real) {
  char part[COMMAND_PATH];
  char *slash;
  strcpy(part, real);
  while (!holds_a_club(part)) {
    slash = strrchr(part, '/');
    if (!slash || slash == part) return 0;
    *slash = '\0';
  }
  return 1;
}

int32_t output_folder_check(program *with) {
  char real[COMMAND_PATH];
  const char *out = with->flags.out;
  if (!out) return GIRDLE_OK;
  if (!*out || !nearest_real(out, real)) return command_usage(with, "--out takes a folder, such as --out build/maps");
  if (file_exists(out) && !file_is_folder(out)) return command_usage(with, "--out %s is a file, not a folder", out);
  if (!inside_a_club(real)) return GIRDLE_OK;
  return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "out",
                            "--out %.120s lies in a club's folder, where nothing is written; use another, such as "
                            "--out maps",
                            out);
}

static int32_t target_check(program *with, const char *path) {
  const outputs *all = with->outputs;
  struct stat about;
  if (lstat(path, &about)) return GIRDLE_OK;
  if (S_ISDIR(about.st_mode))
    return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "out", "%.200s is a folder", path);
  for (uint64_t at = 0; at < all->input_count; at++)
    if (all->inputs[at].device == about.st_dev && all->inputs[at].node == about.st_ino)
      return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "out",
                                "%.160s was read and is not written over; use another folder for --out", path);
  return GIRDLE_OK;
}

/* ---- writing */

static int32_t make_folder(program *with, const char *path) {
  outputs *all = with->outputs;
  if (mkdir(path, 0777)) return errno == EEXIST ? GIRDLE_OK : command_disk(with, path, "make the folder");
  all->folders = command_grown(all->folders, all->folder_count, sizeof *all->folders);
  all->folders[all->folder_count++] = command_copy(path);
  return GIRDLE_OK;
}

/* What is not empty stays. */
static void forget_folders(outputs *all, int made_in_vain) {
  while (all->folder_count) {
    char *path = all->folders[--all->folder_count];
    if (made_in_vain) rmdir(path);
    command_release(path);
  }
}

static int32_t make_folders(program *with, const char *path) {
  char part[COMMAND_PATH];
  if (strlen(path) >= sizeof part) return command_usage(with, "--out %.60s... is too long", path);
  strcpy(part, path);
  for (char *at = part + 1; *at; at++) {
    if (*at != '/') continue;
    *at = '\0';
    GIRDLE_TRY(make_folder(with, part));
    *at = '/';
  }
  return make_folder(with, part);
}

static int write_all(int file, const buffer *from) {
  uint64_t done = 0;
  while (done < from->count) {
    ssize_t wrote = write(file, from->bytes + done, (size_t)(from->count - done));
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote <= 0) return 0;
    done += (uint64_t)wrote;
  }
  return 1;
}

/* As mkstemp makes a file only its owner may read, the mode is set to what a new file would get. */
static void plain_mode(int file) {
  mode_t mask = umask(0);
  umask(mask);
  fchmod(file, 0666 & ~mask);
}

static int32_t write_aside(program *with, output *item) {
  char path[COMMAND_PATH];
  int file, sound, reason;
  GIRDLE_TRY(file_join(with, with->flags.out, ".girdle-XXXXXX", item->aside, sizeof item->aside));
  file = mkstemp(item->aside);
  if (file < 0) {
    int32_t status = command_disk(with, with->flags.out, "write into");
    item->aside[0] = '\0';
    return status;
  }
  plain_mode(file);
  sound = write_all(file, &item->bytes);
  sound = close(file) == 0 && sound;
  if (sound) return GIRDLE_OK;
  reason = errno;
  GIRDLE_TRY(file_join(with, with->flags.out, item->name, path, sizeof path));
  errno = reason;
  return command_disk(with, path, "write");
}

static uint64_t held_bytes(const outputs *all) {
  uint64_t sum = 0;
  for (uint64_t at = all->written; at < all->count; at++)
    sum += all->items[at]->bytes.count;
  return sum;
}

static int32_t write_held(program *with) {
  outputs *all = with->outputs;
  if (!all->written) GIRDLE_TRY(make_folders(with, with->flags.out));
  for (; all->written < all->count; all->written++) {
    GIRDLE_TRY(write_aside(with, all->items[all->written]));
    buffer_free(&all->items[all->written]->bytes);
  }
  return GIRDLE_OK;
}

buffer *output_add(program *with, const char *file_name) {
  outputs *all = outputs_of(with);
  output *added;
  if (name_is_free(with, file_name)) return NULL;
  if (held_bytes(all) > MOST_HELD_BYTES && write_held(with)) return NULL;
  added = command_new(sizeof *added);
  girdle_common_text(added->name, sizeof added->name, file_name);
  all->items = command_grown(all->items, all->count, sizeof *all->items);
  all->items[all->count++] = added;
  return &added->bytes;
}

static int32_t settle(program *with, output *item) {
  char path[COMMAND_PATH];
  GIRDLE_TRY(file_join(with, with->flags.out, item->name, path, sizeof path));
  if (rename(item->aside, path)) return command_disk(with, path, "write");
  item->aside[0] = '\0';
  return GIRDLE_OK;
}

static const char *ending_of(const program *with) {
  const flags *of = &with->flags;
  if (of->csv) return "csv";
  if (of->json) return "json";
  if (of->pdf) return "pdf";
  return strcmp(with->verb->name, "offer") == 0 ? "html" : "txt";
}

int32_t output_result(program *with) {
  char name[64];
  buffer *file;
  if (!with->flags.out || !with->result.count || outputs_of(with)->count) return GIRDLE_OK;
  snprintf(name, sizeof name, "%s.%s", with->verb->name, ending_of(with));
  file = output_add(with, name);
  if (file) buffer_add(file, with->result.bytes, with->result.count);
  return file ? GIRDLE_OK : GIRDLE_ARGUMENT;
}

int32_t output_commit(program *with) {
  outputs *all = with->outputs;
  if (!all || !all->count || !with->flags.out) return GIRDLE_OK;
  for (uint64_t at = 0; at < all->count; at++) {
    char path[COMMAND_PATH];
    GIRDLE_TRY(file_join(with, with->flags.out, all->items[at]->name, path, sizeof path));
    GIRDLE_TRY(target_check(with, path));
  }
  GIRDLE_TRY(write_held(with));
  if (command_interrupted) return COMMAND_INTERRUPTED;
  for (uint64_t at = 0; at < all->count; at++)
    GIRDLE_TRY(settle(with, all->items[at]));
  forget_folders(all, 0);
  return GIRDLE_OK;
}

void output_discard(program *with) {
  outputs *all = with->outputs;
  if (!all) return;
  sweep();
  sweeping.all = NULL;
  forget_folders(all, 1);
  free(all->folders);
  for (uint64_t at = 0; at < all->count; at++) {
    buffer_free(&all->items[at]->bytes);
    free(all->items[at]);
  }
  free(all->items);
  free(all->inputs);
  free(all);
  with->outputs = NULL;
}
