/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _XOPEN_SOURCE 700 /* realpath */
#include "command.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "common.h"
#include "output.h"

int file_is_plain(const char *path) {
  struct stat about;
  return stat(path, &about) == 0 && S_ISREG(about.st_mode);
}

int file_is_folder(const char *path) {
  struct stat about;
  return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

int file_exists(const char *path) {
  struct stat about;
  return stat(path, &about) == 0;
}

int32_t file_join(program *with, const char *folder_path, const char *name, char *out, uint64_t bytes) {
  size_t length = strlen(folder_path);
  const char *between = length && folder_path[length - 1] == '/' ? "" : "/";
  int written = snprintf(out, (size_t)bytes, "%s%s%s", folder_path, between, name);
  if (written > 0 && (uint64_t)written < bytes) return GIRDLE_OK;
  return girdle_common_fail(&with->call, GIRDLE_LIMIT, "path", "the path %.100s/%.60s is too long", folder_path, name);
}

static int32_t cannot_open(program *with, const char *path) {
  if (errno != ENOENT && errno != ENOTDIR) return command_disk(with, path, "read");
  return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "file", "there is no file %.200s", path);
}

static int32_t read_all(program *with, int file, const char *path, uint64_t most, buffer *out) {
  char piece[16384];
  ssize_t got;
  while ((got = read(file, piece, sizeof piece)) != 0) {
    if (got < 0 && errno == EINTR && !command_interrupted) continue;
    if (got < 0) return command_disk(with, path, "read");
    buffer_add(out, piece, (uint64_t)got);
    if (out->count > most)
      return girdle_common_fail(&with->call, GIRDLE_LIMIT, "file", "%.160s is larger than %llu bytes", path,
                                (unsigned long long)most);
  }
  buffer_add(out, "", 0);
  return GIRDLE_OK;
}

/* Non-blocking, so that a named pipe put in the place of a file cannot hold the program up. */
int32_t file_open(program *with, const char *path, opened_file *out) {
  struct stat about;
  int32_t status = GIRDLE_OK;
  out->failed = 0;
  out->file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (out->file < 0) return cannot_open(with, path);
  if (fstat(out->file, &about))
    status = command_disk(with, path, "read");
  else if (!S_ISREG(about.st_mode))
    status = girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "file", "%.200s is not a file", path);
  else
    output_remember_input(with, &about);
  if (status) file_close(out);
  return status;
}

int64_t file_piece(void *context, void *bytes, uint64_t most) {
  opened_file *of = context;
  ssize_t got;
  do
    got = read(of->file, bytes, (size_t)most);
  while (got < 0 && errno == EINTR && !command_interrupted);
  of->failed |= got < 0;
  return got;
}

void file_close(opened_file *of) {
  close(of->file);
}

int32_t file_read(program *with, const char *path, uint64_t most, buffer *out) {
  opened_file opened;
  int32_t status;
  GIRDLE_TRY(file_open(with, path, &opened));
  status = read_all(with, opened.file, path, most, out);
  file_close(&opened);
  if (status) buffer_free(out);
  return status;
}

static int by_name(const void *a, const void *b) {
  return strcmp(*(char *const *)a, *(char *const *)b);
}

static int ends_in(const char *name, const char *ending) {
  size_t length = strlen(name), tail = strlen(ending);
  return name[0] != '.' && length > tail && strcmp(name + length - tail, ending) == 0;
}

void file_list_free(char **names, uint64_t count) {
  for (uint64_t at = 0; at < count; at++)
    free(names[at]);
  free(names);
}

int32_t file_list(program *with, const char *path, const char *ending, char ***names, uint64_t *count) {
  DIR *folder_stream = opendir(path);
  struct dirent *entry;
  *names = NULL;
  *count = 0;
  if (!folder_stream) return command_disk(with, path, "read");
  while ((entry = readdir(folder_stream)) != NULL && *count < 1000) {
    if (!ends_in(entry->d_name, ending)) continue;
    *names = command_grown(*names, *count, sizeof **names);
    (*names)[(*count)++] = command_copy(entry->d_name);
  }
  closedir(folder_stream);
  if (*count) qsort(*names, (size_t)*count, sizeof **names, by_name);
  return GIRDLE_OK;
}

int file_stays_inside(const char *folder_path, const char *name) {
  char joined[COMMAND_PATH], folder_real[COMMAND_PATH], real[COMMAND_PATH];
  size_t length;
  int written = snprintf(joined, sizeof joined, "%s/%s", folder_path, name);
  if (written < 0 || (size_t)written >= sizeof joined || strchr(name, '/')) return 0;
  if (!realpath(folder_path, folder_real) || !realpath(joined, real)) return 0;
  length = strlen(folder_real);
  return strncmp(real, folder_real, length) == 0 && (real[length] == '/' || length == 1);
}

void file_folder(const char *path, char *out, uint64_t bytes) {
  const char *slash = strrchr(path, '/');
  size_t length = slash ? (size_t)(slash - path) : 1;
  if (slash == path) length = 1;
  if (length >= bytes) length = (size_t)bytes - 1;
  memcpy(out, slash ? path : ".", length);
  out[length] = '\0';
}

void file_base_name(const char *path, char *out, uint64_t bytes) {
  size_t end = strlen(path), start;
  char name[COMMAND_PATH];
  while (end > 1 && path[end - 1] == '/')
    end--;
  for (start = end; start > 0 && path[start - 1] != '/'; start--)
    continue;
  if (end - start >= sizeof name) end = start + sizeof name - 1;
  memcpy(name, path + start, end - start);
  name[end - start] = '\0';
  if (end - start > 4 &&
      (strcmp(name + (end - start) - 4, ".lua") == 0 || strcmp(name + (end - start) - 4, ".csv") == 0))
    name[end - start - 4] = '\0';
  girdle_common_text(out, bytes, name);
}
