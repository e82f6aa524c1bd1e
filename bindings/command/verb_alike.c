/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

/* alike: one zone with the same number of stones on every wearer, so that one bag is like another. Each wearer's gap is
 * found by halving: it is the wish that her count answers to. */

enum { MOST_HALVINGS = 40, MOST_GAP_UM = 1000000 };

typedef struct wearer {
  const girdle_job *job; /* the club's, for its head and measures */
  const costume *of;
  girdle_zone_row row; /* the zone as it is written */
  girdle_job *trial;
  int64_t written, count, low_um, high_um, gap_um; /* gap_um: what gives count; low_um gives too many */
  int done;
} wearer;

typedef struct search {
  program *with;
  girdle_club *club;
  wardrobe costumes;
  wearer *wearers;
  uint64_t count;
  const char *zone, *routine;
  int64_t wanted;
  int as_written; /* the first round: no gap but the written one */
} search;

/* ---- who wears the zone */

static const girdle_zone_row *row_of(const costume *of, const char *zone) {
  uint64_t count = 0;
  const girdle_zone_row *rows = of->zones ? girdle_zone_rows_view(of->zones, &count) : NULL;
  for (uint64_t at = 0; at < count; at++)
    if (strcmp(rows[at].name, zone) == 0 && rows[at].recipe[0]) return &rows[at];
  return NULL;
}

static int is_wanted(const search *in, const girdle_job_head *head) {
  return !in->routine || strcmp(in->routine, head->routine) == 0;
}

static int32_t read_costumes(search *in) {
  for (uint64_t at = 0; at < girdle_club_jobs(in->club); at++) {
    const girdle_job_head *head = girdle_job_head_of(girdle_club_job(in->club, at));
    if (is_wanted(in, head)) GIRDLE_TRY(wardrobe_need(in->with, &in->costumes, head->costume));
  }
  return GIRDLE_OK;
}

static int32_t find_wearers(search *in) {
  in->wearers = command_new((girdle_club_jobs(in->club) + 1) * sizeof *in->wearers);
  for (uint64_t at = 0; at < girdle_club_jobs(in->club); at++) {
    const girdle_job *job = girdle_club_job(in->club, at);
    const girdle_job_head *head = girdle_job_head_of(job);
    const costume *of = is_wanted(in, head) ? wardrobe_costume(&in->costumes, head->costume) : NULL;
    const girdle_zone_row *row = of ? row_of(of, in->zone) : NULL;
    wearer *one = &in->wearers[in->count];
    if (!row) continue;
    one->job = job;
    one->of = of;
    one->row = *row;
    in->count++;
  }
  if (in->count) return GIRDLE_OK;
  return girdle_common_fail(
      &in->with->call, GIRDLE_UNKNOWN, "zone",
      "nobody's table of zones has a zone '%.60s' with a recipe; a zone's name is wanted, such as "
      "zone=neckline",
      in->zone);
}

/* ---- one round: everybody's count at her present gap */

static int32_t new_trial(program *with, wearer *one) {
  uint64_t count;
  const girdle_measure *measures = girdle_job_measures(one->job, &count);
  girdle_job_free(one->trial);
  one->trial = NULL;
  GIRDLE_TRY(girdle_job_new(&with->call, girdle_job_head_of(one->job), &one->trial));
  for (uint64_t at = 0; at < count; at++)
    GIRDLE_TRY(girdle_job_set_measure(&with->call, one->trial, measures[at].name, measures[at].mm));
  return GIRDLE_OK;
}

static void set_gap(wearer *one) {
  char number[32];
  girdle_number_text((double)one->gap_um / 1000, 3, number, sizeof number);
  snprintf(one->row.gap, sizeof one->row.gap, "%s mm", number);
}

static int round_task(void *context, uint64_t index, task *out) {
  search *in = context;
  wearer *one = &in->wearers[index];
  if (index == in->count) return 0;
  out->kind = TASK_NONE;
  if (one->done) return 1;
  if (!in->as_written) set_gap(one);
  out->kind = TASK_COSTUME;
  out->name = "";
  out->beside = &one->of->beside;
  out->job = one->trial;
  out->zones_source = one->of->zones_path;
  out->rows = &one->row;
  out->row_count = 1;
  return 1;
}

/* Of a pair one side: both have the same. */
static int64_t stones_of(const girdle_job *job) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  return count && zones[0].placement ? girdle_placement_view(zones[0].placement, NULL, NULL, NULL) : 0;
}

static int32_t round_done(void *context, uint64_t index, const char *answer, uint64_t bytes) {
  search *in = context;
  wearer *one = &in->wearers[index];
  task what;
  if (one->done) return GIRDLE_OK;
  memset(&what, 0, sizeof what);
  round_task(context, index, &what);
  GIRDLE_TRY(pool_answer(in->with, &what, answer, bytes, NULL));
  one->count = stones_of(one->trial);
  return GIRDLE_OK;
}

static int32_t one_round(search *in) {
  task_list list = {in, in->count, -1, round_task, round_done};
  for (uint64_t at = 0; at < in->count; at++)
    if (!in->wearers[at].done) GIRDLE_TRY(new_trial(in->with, &in->wearers[at]));
  return pool_run(in->with, &list);
}

/* ---- halving */

static int32_t count_as_written(search *in) {
  in->as_written = 1;
  GIRDLE_TRY(one_round(in));
  in->as_written = 0;
  for (uint64_t at = 0; at < in->count; at++) {
    wearer *one = &in->wearers[at];
    one->written = one->count;
    if (!flags_given(in->with, "count") && (at == 0 || one->count < in->wanted)) in->wanted = one->count;
    one->high_um = MOST_GAP_UM;
    one->gap_um = 2000;
  }
  return GIRDLE_OK;
}

/* Too many stones ask for a wider gap. Until some gap gave too few, the gap is doubled. */
static void halve(const search *in, wearer *one) {
  if (one->count == in->wanted || one->high_um - one->low_um <= 1) one->done = 1;
  if (one->done) return;
  *(one->count > in->wanted ? &one->low_um : &one->high_um) = one->gap_um;
  one->gap_um =
      one->high_um == MOST_GAP_UM && one->low_um < MOST_GAP_UM / 2 ? 2 * one->low_um : (one->low_um + one->high_um) / 2;
}

static int32_t find_gaps(search *in) {
  for (int round = 0; round < MOST_HALVINGS; round++) {
    uint64_t left = 0;
    GIRDLE_TRY(one_round(in));
    for (uint64_t at = 0; at < in->count; at++) {
      halve(in, &in->wearers[at]);
      left += !in->wearers[at].done;
    }
    if (!left) return GIRDLE_OK;
  }
  return GIRDLE_OK;
}

/* ---- in each form */

static const girdle_job_head *head_of(const wearer *one) {
  return girdle_job_head_of(one->job);
}

static void say_text(const search *in, buffer *to) {
  const wearer *narrow = in->wearers, *wide = in->wearers;
  char gap[2][32];
  buffer_text(to, "%s, %lld stones for everyone\n%-16s %-6s %10s %14s %6s\n", in->zone, (long long)in->wanted, "tag",
              "size", "as written", "gap to write", "count");
  for (uint64_t at = 0; at < in->count; at++) {
    const wearer *one = &in->wearers[at];
    girdle_number_text((double)one->gap_um / 1000, 3, gap[0], sizeof gap[0]);
    buffer_text(to, "%-16s %-6s %10lld %11s mm %6lld%s\n", head_of(one)->tag, head_of(one)->size,
                (long long)one->written, gap[0], (long long)one->count,
                one->count == in->wanted ? "" : "  no gap gives just so many");
    if (one->gap_um < narrow->gap_um) narrow = one;
    if (one->gap_um > wide->gap_um) wide = one;
  }
  girdle_number_text((double)narrow->gap_um / 1000, 3, gap[0], sizeof gap[0]);
  girdle_number_text((double)wide->gap_um / 1000, 3, gap[1], sizeof gap[1]);
  buffer_text(to, "The smallest gap is %s mm (%s), the largest %s mm (%s).\n", gap[0], head_of(narrow)->tag, gap[1],
              head_of(wide)->tag);
  buffer_text(to, "Write each gap under \"%s gap\" in club.csv, and \"%s gap\" for this zone's gap in zones.csv.\n",
              in->zone, in->zone);
}

static void say_csv(const search *in, buffer *to) {
  buffer_text(to, "tag,size,as_written,gap_mm,count\r\n");
  for (uint64_t at = 0; at < in->count; at++) {
    const wearer *one = &in->wearers[at];
    buffer_csv_text(to, head_of(one)->tag, ",");
    buffer_csv_text(to, head_of(one)->size, ",");
    buffer_text(to, "%lld,", (long long)one->written);
    buffer_number(to, (double)one->gap_um / 1000, 3);
    buffer_text(to, ",%lld\r\n", (long long)one->count);
  }
}

static void say_json(const search *in, buffer *to) {
  buffer_text(to, "{\"zone\":\"");
  buffer_json_text(to, in->zone);
  buffer_text(to, "\",\"stones\":%lld,\"wearers\":[", (long long)in->wanted);
  for (uint64_t at = 0; at < in->count; at++) {
    const wearer *one = &in->wearers[at];
    buffer_text(to, "%s{\"tag\":\"", at ? "," : "");
    buffer_json_text(to, head_of(one)->tag);
    buffer_text(to, "\",\"as_written\":%lld,\"gap_mm\":", (long long)one->written);
    buffer_number(to, (double)one->gap_um / 1000, 3);
    buffer_text(to, ",\"count\":%lld}", (long long)one->count);
  }
  buffer_text(to, "]}\n");
}

/* ---- the verb */

static int32_t read_wishes(program *with, search *in) {
  static const char *const known[] = {"zone", "routine", "count"};
  const char *count = flags_given(with, "count");
  int32_t status = GIRDLE_OK;
  GIRDLE_TRY(flags_only(with, known, 3));
  in->zone = flags_given(with, "zone");
  in->routine = flags_given(with, "routine");
  if (!in->zone) return command_usage(with, "which zone? such as zone=neckline");
  if (count) status = girdle_pieces_parse(&with->call, count, &in->wanted);
  girdle_common_at(&with->call, "count", -1, -1, -1);
  return status;
}

static int32_t seek(program *with, search *in) {
  GIRDLE_TRY(read_wishes(with, in));
  GIRDLE_TRY(work_wearers(with, with->flags.files[0], &in->club));
  GIRDLE_TRY(read_costumes(in));
  GIRDLE_TRY(find_wearers(in));
  GIRDLE_TRY(count_as_written(in));
  return find_gaps(in);
}

int32_t verb_alike(program *with) {
  search *in = command_new(sizeof *in);
  int32_t status;
  in->with = with;
  if (!with->flags.file_count || !work_is_club(with, with->flags.files[0]))
    status = command_usage(with, "which CLUB? a folder with club.csv is wanted");
  else if (girdle_common_text(in->costumes.path, sizeof in->costumes.path, with->flags.files[0]))
    status = seek(with, in);
  else
    status = command_usage(with, "the path is too long");
  if (!status && with->flags.csv) say_csv(in, &with->result);
  if (!status && with->flags.json) say_json(in, &with->result);
  if (!status && !with->flags.csv && !with->flags.json) say_text(in, &with->result);
  for (uint64_t at = 0; at < in->count; at++)
    girdle_job_free(in->wearers[at].trial);
  free(in->wearers);
  wardrobe_close(&in->costumes);
  girdle_club_free(in->club);
  free(in);
  return status;
}
