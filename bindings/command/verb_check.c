/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <string.h>

#include "common.h"

static void say_count(buffer *to, const program *with, uint64_t count, const char *one, const char *many) {
  char number[64];
  if (to->count) buffer_text(to, ", ");
  buffer_say(to, with, count == 1 ? one : many, number_words(with, (double)count, 0, number));
}

static int32_t check_club(program *with, const char *path) {
  girdle_club *club = NULL;
  uint64_t costumes = 0, count;
  int32_t status;
  GIRDLE_TRY(girdle_club_new(&with->call, &club));
  status = work_check_club(with, path, club, &costumes);
  if (!status) {
    buffer holds = {0};
    say_count(&holds, with, girdle_club_jobs(club), "{1} tag", "{1} tags");
    say_count(&holds, with, costumes, "{1} costume", "{1} costumes");
    girdle_club_suppliers(club, &count);
    say_count(&holds, with, count, "{1} supplier", "{1} suppliers");
    girdle_club_prices(club, &count);
    say_count(&holds, with, count, "{1} price", "{1} prices");
    buffer_say(&with->result, with, "{1} is sound: {2}. Nothing was placed.", path, holds.bytes);
    buffer_text(&with->result, "\n");
    buffer_free(&holds);
  }
  girdle_club_free(club);
  return status;
}

static void describe_row(const program *with, const girdle_zone_row *row, buffer *to) {
  char number[64];
  buffer_text(to, "  %-16s", row->name);
  if (row->recipe[0] || row->already[0]) buffer_text(to, " ");
  if (row->recipe[0])
    buffer_say(to, with, row->shape[0] ? "{1} on {2} {3}" : "{1}", row->recipe, row->shape, row->length);
  if (row->recipe[0] && row->already[0]) buffer_text(to, ", ");
  if (row->already[0]) buffer_say(to, with, "{1} by eye", row->already);
  if (row->pair) buffer_text(to, ", "), buffer_say(to, with, "left and right");
  if (row->times > 1)
    buffer_text(to, ", "), buffer_say(to, with, "{1} times", number_words(with, (double)row->times, 0, number));
}

/* The table may be a stranger's. */
static void say_row(const program *with, const girdle_zone_row *row, buffer *to) {
  buffer words = {0};
  describe_row(with, row, &words);
  girdle_common_clean(words.bytes, ' ');
  buffer_text(to, "%s\n", words.bytes);
  buffer_free(&words);
}

/* Whether stones of two rows could lie on each other without anyone knowing: both have a rank, on one side. */
static int may_meet(const girdle_zone_row *a, const girdle_zone_row *b) {
  return a->priority && b->priority && a->priority != b->priority && a->recipe[0] && b->recipe[0] &&
         strcmp(a->side, b->side) == 0;
}

/* What a tape measured lies nowhere; what is drawn, and not fitted, lies where it is drawn. */
static int is_measured(const girdle_zone_row *row) {
  return row->length[0] || row->width[0] || strstr(row->shape, " cm") || strstr(row->shape, " mm");
}

static void say_meetings(const program *with, const girdle_zone_row *rows, uint64_t count, buffer *to) {
  for (uint64_t a = 0; a < count; a++)
    for (uint64_t b = a + 1; b < count; b++) {
      if (!may_meet(&rows[a], &rows[b]) || !(is_measured(&rows[a]) || is_measured(&rows[b]))) continue;
      buffer_say(to, with,
                 "Where {1} and {2} meet is not known, as a tape measure does not say where they lie: stones on that "
                 "spot are counted in both. Leave it out of one, under `leave`, or draw both.",
                 rows[a].name, rows[b].name);
      buffer_text(to, "\n");
      return; /* one example says it */
    }
}

/* The zones of a costume that is a folder or a table. */
static int32_t check_zones(program *with, const char *path) {
  costume of;
  sheet takes = {0};
  buffer zones = {0};
  uint64_t count = 0;
  const girdle_zone_row *rows;
  int32_t status;
  memset(&of, 0, sizeof of);
  if (file_is_folder(path)) GIRDLE_TRY(stones_read(with, path));
  status = source_costume_file(with, path, &of);
  if (!status && of.zones) status = wardrobe_describe(with, &of, &takes); /* a drawing that the rows may name */
  if (!status) status = zones_sound(with, &of);
  if (!status && of.zones) {
    rows = girdle_zone_rows_view(of.zones, &count);
    buffer_text(&with->result, "%s: ", of.zones_path);
    say_count(&zones, with, count, "{1} zone", "{1} zones");
    buffer_text(&with->result, "%s\n", zones.bytes);
    buffer_free(&zones);
    for (uint64_t at = 0; at < count; at++)
      say_row(with, &rows[at], &with->result);
    say_meetings(with, rows, count, &with->result);
  }
  sheet_free(&takes);
  source_costume_free(&of);
  return status;
}

static int has_source(program *with, const char *path) {
  char source_path[COMMAND_PATH];
  if (!file_is_folder(path)) return strlen(path) < 4 || strcmp(path + strlen(path) - 4, ".csv") != 0;
  return !file_join(with, path, "costume.lua", source_path, sizeof source_path) && file_exists(source_path);
}

static int32_t check_one(program *with, const char *path) {
  sheet takes = {0};
  if (file_exists(path)) GIRDLE_TRY(check_zones(with, path));
  if (has_source(with, path)) {
    GIRDLE_TRY(work_describe(with, path, &takes));
    sheet_text(with, &takes, &with->result);
    sheet_free(&takes);
  }
  buffer_say(&with->result, with, "{1} is sound as far as it can be seen without placing anything.", path);
  buffer_text(&with->result, "\n");
  return GIRDLE_OK;
}

int32_t verb_check(program *with) {
  const char *path = with->flags.files[0];
  if (!with->flags.file_count) return command_usage(with, "which FILE?");
  if (with->flags.given_count) return command_usage(with, "check takes no name=value");
  return work_is_club(with, path) ? check_club(with, path) : check_one(with, path);
}
