/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <math.h>

#include "common.h"

/* learn: what the club's log says of spares and pace, and what is reckoned with because of it. */

static void percent(buffer *to, double share) {
  buffer_number(to, share * 100, 1);
  buffer_text(to, " %%");
}

static void say_text(const girdle_learned *of, const girdle_work_rates *rates, buffer *to) {
  if (!of->jobs) {
    buffer_text(
        to, "There is no log yet: write log.csv (date, tag, zone, stone, planned, used, lost, fell_off, minutes).\n");
    return;
  }
  buffer_text(to, "%lld job%s in the log.\nSpares for stones lost while working: ", (long long)of->jobs,
              of->jobs == 1 ? "" : "s");
  percent(to, of->lost_share);
  buffer_text(to, ".\nFell off once worn: ");
  percent(to, of->fell_off_share);
  if (isfinite(of->seconds_a_stone)) {
    buffer_text(to, ".\nPace: ");
    buffer_number(to, of->seconds_a_stone, 1);
    buffer_text(to, " s a stone, ");
    buffer_number(to, 3600 / of->seconds_a_stone, 0);
    buffer_text(to, " an hour");
  }
  buffer_text(to, ".\nReckoned with: a small stone ");
  buffer_number(to, rates->small_s, 1);
  buffer_text(to, " s, a large one ");
  buffer_number(to, rates->large_s, 1);
  buffer_text(to, " s. The more jobs the log has, the more it counts against the rates.\n");
}

static void field(buffer *to, const char *name, double value) {
  buffer_text(to, ",\"%s\":", name);
  if (isfinite(value))
    buffer_number(to, value, 6);
  else
    buffer_text(to, "null");
}

static void say_json(const girdle_learned *of, const girdle_work_rates *rates, buffer *to) {
  buffer_text(to, "{\"jobs\":%lld", (long long)of->jobs);
  field(to, "lost_share", of->lost_share);
  field(to, "fell_off_share", of->fell_off_share);
  field(to, "seconds_a_stone", of->seconds_a_stone);
  field(to, "small_s", rates->small_s);
  field(to, "large_s", rates->large_s);
  buffer_text(to, "}\n");
}

static void cell(buffer *to, double value, const char *after) {
  if (isfinite(value)) buffer_number(to, value, 6);
  buffer_text(to, "%s", after);
}

static void say_csv(const girdle_learned *of, const girdle_work_rates *rates, buffer *to) {
  buffer_text(to, "jobs,lost_share,fell_off_share,seconds_a_stone,small_s,large_s\r\n%lld,", (long long)of->jobs);
  cell(to, of->lost_share, ",");
  cell(to, of->fell_off_share, ",");
  cell(to, of->seconds_a_stone, ",");
  cell(to, rates->small_s, ",");
  cell(to, rates->large_s, "\r\n");
}

static void say(program *with, const girdle_reckoning *of) {
  const girdle_learned *learned = girdle_reckoning_learned(of);
  const girdle_work_rates *rates = girdle_reckoning_rates(of);
  if (with->flags.json)
    say_json(learned, rates, &with->result);
  else if (with->flags.csv)
    say_csv(learned, rates, &with->result);
  else
    say_text(learned, rates, &with->result);
}

/* The log is read with the club's tables; no costume need be worked. */
int32_t verb_learn(program *with) {
  girdle_club *club = NULL;
  girdle_reckoning *of = NULL;
  int32_t status;
  if (!with->flags.file_count) return command_usage(with, "which CLUB?");
  GIRDLE_TRY(work_tables(with, with->flags.files[0], &club));
  status = girdle_club_reckon(&with->call, club, with->today, &of);
  if (!status) say(with, of);
  girdle_reckoning_free(of);
  girdle_club_free(club);
  return status;
}
