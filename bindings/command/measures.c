/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <stdlib.h>
#include <string.h>

#include "command.h"
#include "common.h"

enum { TABLE_BYTES = 64 * 1024 * 1024 };

/* Every column of a club that is no column of ours is a measure, so a misspelt one would leave a wearer with the
 * costume's own measure and nobody would know. A measure is therefore one that bodies have, a column of the
 * sizes, or one that a costume's files speak of. */

typedef struct seen {
  const char **names;
  uint64_t count;
} seen;

static void see(seen *all, const char *name) {
  for (uint64_t at = 0; at < all->count; at++)
    if (strcmp(all->names[at], name) == 0) return;
  all->names = command_grown(all->names, all->count, sizeof *all->names);
  all->names[all->count++] = name;
}

/* The measures of all wearers that are no body measures, each once. */
static void see_strange(const girdle_club *club, seen *all) {
  for (uint64_t at = 0; at < girdle_club_jobs(club); at++) {
    uint64_t count, body;
    const girdle_measure *measures = girdle_job_measures(girdle_club_job(club, at), &count);
    for (uint64_t each = 0; each < count; each++)
      if (girdle_measure_find(NULL, measures[each].name, &body)) see(all, measures[each].name);
  }
}

/* ---- words in a costume's files */

static char folded(char c) {
  return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c == '_' || c == '-' ? ' ' : c;
}

static int is_letter(char c) {
  c = folded(c);
  return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || (unsigned char)c >= 0x80;
}

/* Length of `word` when the text begins with it, capitals, hyphens and underscores aside, and it ends there. */
static size_t begins_with(const char *text, const char *word) {
  size_t length = 0;
  for (; word[length]; length++)
    if (folded(text[length]) != folded(word[length])) return 0;
  return is_letter(text[length]) ? 0 : length;
}

static int speaks_of(const char *text, const char *word) {
  for (const char *at = text; at && *at; at++)
    if ((at == text || !is_letter(at[-1])) && begins_with(at, word)) return 1;
  return 0;
}

static int row_speaks_of(const girdle_zone_row *row, const char *word) {
  return speaks_of(row->shape, word) || speaks_of(row->length, word) || speaks_of(row->width, word) ||
         speaks_of(row->gap, word);
}

static int costume_speaks_of(const costume *of, const char *word) {
  uint64_t count = 0;
  const girdle_zone_row *rows = of->zones ? girdle_zone_rows_view(of->zones, &count) : NULL;
  for (uint64_t at = 0; at < count; at++)
    if (row_speaks_of(&rows[at], word)) return 1;
  for (uint64_t at = 0; at < of->beside.source_count; at++)
    if (speaks_of(of->beside.sources[at].text.bytes, word)) return 1;
  return 0;
}

/* ---- the costumes of a club */

/* Reads them without a word: what is wrong with a costume is said when it is worked. */
static void read_costumes(program *with, const girdle_club *club, wardrobe *to) {
  girdle_report report = with->call.report;
  memset(&with->call.report, 0, sizeof with->call.report);
  for (uint64_t at = 0; at < girdle_club_jobs(club); at++) {
    const char *name = girdle_job_head_of(girdle_club_job(club, at))->costume;
    costume *added;
    if (wardrobe_costume(to, name)) continue;
    to->costumes = command_grown(to->costumes, to->count, sizeof *to->costumes);
    added = &to->costumes[to->count++];
    memset(added, 0, sizeof *added);
    girdle_common_text(added->name, sizeof added->name, name);
    source_costume_in_club(with, to->path, name, added);
    girdle_error_init(&with->error, sizeof with->error);
  }
  with->call.report = report;
}

static int is_used(const wardrobe *in, const char *word) {
  for (uint64_t at = 0; at < in->count; at++)
    if (costume_speaks_of(&in->costumes[at], word)) return 1;
  return 0;
}

/* A column of sizes.csv is known there, whether a costume uses it or not. */
static int is_size_column(program *with, const char *path, const char *word) {
  char file[COMMAND_PATH];
  buffer text = {0};
  int found = 0;
  if (file_join(with, path, girdle_paper_club_file(GIRDLE_FILE_SIZES), file, sizeof file) || !file_exists(file))
    return 0;
  if (!file_read(with, file, TABLE_BYTES, &text) && text.bytes) {
    text.bytes[strcspn(text.bytes, "\r\n")] = '\0';
    found = speaks_of(text.bytes, word);
  }
  buffer_free(&text);
  return found;
}

static int32_t strange(program *with, const char *file, const char *word) {
  const char *known[64];
  uint64_t count = 0;
  if (strcmp(word, "foot") == 0) return GIRDLE_OK; /* round heel and instep, which an opening is held against */
  while (count < 64 && (known[count] = girdle_measure_name(count)) != NULL)
    count++;
  if (!girdle_nearest(word, known, count)) {
    command_say(with, "girdle: %s: no costume uses the measure '%s'", file, word);
    return GIRDLE_OK;
  }
  girdle_common_unknown(&with->call, "measure", word, known, count);
  girdle_common_at(&with->call, file, 1, -1, -1);
  return GIRDLE_UNKNOWN;
}

int32_t measures_known(program *with, const char *path, const girdle_club *club) {
  seen all = {0};
  char file[COMMAND_PATH];
  wardrobe *costumes = command_new(sizeof *costumes);
  int32_t status = file_join(with, path, girdle_paper_club_file(GIRDLE_FILE_CLUB), file, sizeof file);
  girdle_common_text(costumes->path, sizeof costumes->path, path);
  if (!status) see_strange(club, &all);
  if (all.count) read_costumes(with, club, costumes);
  for (uint64_t at = 0; at < all.count && !status; at++)
    if (!is_used(costumes, all.names[at]) && !is_size_column(with, path, all.names[at]))
      status = strange(with, file, all.names[at]);
  wardrobe_close(costumes);
  free(costumes);
  free(all.names);
  return status;
}

/* ---- measures that are worth a second look */

void measures_doubted(const program *with, const girdle_club *club) {
  for (uint64_t at = 0; at < girdle_club_jobs(club); at++) {
    const girdle_job *job = girdle_club_job(club, at);
    uint64_t count, body;
    const girdle_measure *measures = girdle_job_measures(job, &count);
    for (uint64_t each = 0; each < count; each++) {
      char warning[256];
      if (!girdle_measure_find(NULL, measures[each].name, &body) &&
          girdle_measure_warning(body, measures[each].mm, warning, sizeof warning))
        command_say(with, "girdle: %s: %s", girdle_job_head_of(job)->tag, warning);
    }
  }
}

/* ---- measures that a wearer lacks */

static int has_measure(const girdle_job *job, const char *word) {
  uint64_t count;
  const girdle_measure *measures = girdle_job_measures(job, &count);
  for (uint64_t at = 0; at < count; at++) {
    size_t length = begins_with(word, measures[at].name);
    if (length && !word[length]) return 1;
  }
  return 0;
}

/* A length with no digit is the name of a measure. */
static int lacks(const girdle_job *job, const char *length) {
  return length[0] && !strpbrk(length, "0123456789") && !has_measure(job, length);
}

static int32_t one_lacking(program *with, const costume *of, const girdle_job *job, const girdle_zone_row *row) {
  const char *length = lacks(job, row->length) ? row->length : lacks(job, row->width) ? row->width : NULL;
  if (!length || !row->recipe[0]) return GIRDLE_OK;
  girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "length",
                     "zone '%s' wants the measure '%s', which tag '%s' has neither in club.csv nor by a size",
                     row->name, length, girdle_job_head_of(job)->tag);
  girdle_common_at(&with->call, of->zones_path, row->line, -1, -1);
  return command_fault(with, GIRDLE_UNKNOWN);
}

int32_t measures_lacking(program *with, const girdle_club *club, const wardrobe *costumes) {
  int32_t first = GIRDLE_OK;
  for (uint64_t at = 0; at < girdle_club_jobs(club); at++) {
    const girdle_job *job = girdle_club_job(club, at);
    const costume *of = wardrobe_costume(costumes, girdle_job_head_of(job)->costume);
    uint64_t count = 0;
    const girdle_zone_row *rows = of && of->zones ? girdle_zone_rows_view(of->zones, &count) : NULL;
    for (uint64_t each = 0; each < count; each++) {
      int32_t status = one_lacking(with, of, job, &rows[each]);
      if (!first) first = status;
    }
  }
  return first;
}
