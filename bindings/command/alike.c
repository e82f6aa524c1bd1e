/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "alike.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

enum { MOST_HALVINGS = 40, MOST_GAP_UM = 1000000 };

/* ---- who wears the zone */

const girdle_zone_row *alike_row(const costume *of, const char *zone) {
  uint64_t count = 0;
  const girdle_zone_row *rows = of->zones ? girdle_zone_rows_view(of->zones, &count) : NULL;
  for (uint64_t at = 0; at < count; at++)
    if (strcmp(rows[at].name, zone) == 0 && rows[at].recipe[0]) return &rows[at];
  return NULL;
}

void alike_add(alike_search *to, girdle_job *job, const costume *of, const girdle_zone_row *row) {
  alike_wearer *added;
  to->wearers = command_grown(to->wearers, to->count, sizeof *to->wearers);
  added = &to->wearers[to->count++];
  memset(added, 0, sizeof *added);
  added->job = job;
  added->of = of;
  added->row = *row;
}

void alike_free(alike_search *of) {
  for (uint64_t at = 0; at < of->count; at++)
    girdle_job_free(of->wearers[at].trial);
  free(of->wearers);
  of->wearers = NULL;
  of->count = 0;
}

/* ---- one round: everybody's count at her present gap */

static int32_t new_trial(program *with, alike_wearer *one) {
  uint64_t count;
  const girdle_measure *measures = girdle_job_measures(one->job, &count);
  girdle_job_free(one->trial);
  one->trial = NULL;
  GIRDLE_TRY(girdle_job_new(&with->call, girdle_job_head_of(one->job), &one->trial));
  for (uint64_t at = 0; at < count; at++)
    GIRDLE_TRY(girdle_job_set_measure(&with->call, one->trial, measures[at].name, measures[at].mm));
  return GIRDLE_OK;
}

static void set_gap(alike_wearer *one) {
  char number[32];
  girdle_number_text((double)one->gap_um / 1000, 3, number, sizeof number);
  snprintf(one->row.gap, sizeof one->row.gap, "%s mm", number);
}

static int round_task(void *context, uint64_t index, task *out) {
  alike_search *in = context;
  alike_wearer *one = &in->wearers[index];
  if (index == in->count) return 0;
  out->kind = TASK_NONE;
  if (one->done) return 1;
  if (!in->as_written) set_gap(one);
  if (one->of->has_fabric) girdle_job_set_fabric(NULL, one->trial, &one->of->fabric);
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
  alike_search *in = context;
  alike_wearer *one = &in->wearers[index];
  task what;
  if (one->done) return GIRDLE_OK;
  memset(&what, 0, sizeof what);
  round_task(context, index, &what);
  GIRDLE_TRY(pool_answer(in->with, &what, answer, bytes, NULL));
  one->count = stones_of(one->trial);
  return GIRDLE_OK;
}

static int32_t one_round(alike_search *in) {
  task_list list = {in, in->count, -1, round_task, round_done};
  for (uint64_t at = 0; at < in->count; at++)
    if (!in->wearers[at].done) GIRDLE_TRY(new_trial(in->with, &in->wearers[at]));
  return pool_run(in->with, &list);
}

/* ---- halving */

int32_t alike_count(alike_search *in) {
  int known = in->wanted > 0;
  in->as_written = 1;
  GIRDLE_TRY(one_round(in));
  in->as_written = 0;
  for (uint64_t at = 0; at < in->count; at++) {
    alike_wearer *one = &in->wearers[at];
    one->written = one->count;
    if (!known && (at == 0 || one->count < in->wanted)) in->wanted = one->count;
    one->high_um = MOST_GAP_UM;
    one->gap_um = 2000;
  }
  return GIRDLE_OK;
}

/* Too many stones ask for a wider gap. Until some gap gave too few, the gap is doubled. */
static void halve(const alike_search *in, alike_wearer *one) {
  if (one->count == in->wanted || one->high_um - one->low_um <= 1) one->done = 1;
  if (one->done) return;
  *(one->count > in->wanted ? &one->low_um : &one->high_um) = one->gap_um;
  one->gap_um =
      one->high_um == MOST_GAP_UM && one->low_um < MOST_GAP_UM / 2 ? 2 * one->low_um : (one->low_um + one->high_um) / 2;
}

int32_t alike_find(alike_search *in) {
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

/* ---- kept over a club */

int alike_same_look(const girdle_job *a, const girdle_job *b) {
  const girdle_job_head *one = girdle_job_head_of(a), *other = girdle_job_head_of(b);
  return strcmp(one->costume, other->costume) == 0 && strcmp(one->routine, other->routine) == 0;
}

/* What a Lua file keeps is known once it is worked; one without the word keeps nothing. */
static int lua_may_keep(const costume *of) {
  for (uint64_t at = 0; of->lua[0] && at < of->beside.source_count; at++)
    if (strcmp(of->beside.sources[at].file, of->lua) == 0)
      return of->beside.sources[at].text.bytes && strstr(of->beside.sources[at].text.bytes, "alike") != NULL;
  return 0;
}

int alike_is_kept(const costume *of) {
  uint64_t count = 0;
  const girdle_zone_row *rows = of->zones ? girdle_zone_rows_view(of->zones, &count) : NULL;
  for (uint64_t at = 0; at < count; at++)
    if (rows[at].alike != GIRDLE_ALIKE_GAP) return 1;
  return lua_may_keep(of);
}

static int is_worked(const girdle_job *job) {
  uint64_t count;
  girdle_job_zones(job, &count);
  return count > 0;
}

/* Whether no job before this one looks like it. */
static int is_first(const girdle_club *club, uint64_t index) {
  for (uint64_t at = 0; at < index; at++)
    if (alike_same_look(girdle_club_job(club, at), girdle_club_job(club, index))) return 0;
  return 1;
}

/* Puts what was found in the place of the zone, of both halves of a pair. */
static int32_t take_trial(program *with, const alike_wearer *one) {
  uint64_t count, found, next = 0;
  const girdle_zone *zones = girdle_job_zones(one->job, &count), *trial = girdle_job_zones(one->trial, &found);
  for (uint64_t at = 0; at < count && next < found; at++)
    if (zones[at].placement && strcmp(zones[at].name, one->row.name) == 0)
      GIRDLE_TRY(girdle_job_set_placement(&with->call, one->job, at, trial[next++].placement));
  return GIRDLE_OK;
}

static int32_t take_counts(alike_search *in) {
  for (uint64_t at = 0; at < in->count; at++) {
    const alike_wearer *one = &in->wearers[at];
    if (one->count != in->wanted)
      command_say(in->with, "girdle: %s, %s: no gap gives just %lld stones; it has %lld",
                  girdle_job_head_of(one->job)->tag, one->row.name, (long long)in->wanted, (long long)one->count);
    if (one->written != in->wanted) GIRDLE_TRY(take_trial(in->with, one));
  }
  return GIRDLE_OK;
}

/* One zone of all who look alike: the least count that anyone has is everyone's. */
static int32_t keep_count(program *with, const girdle_club *club, uint64_t first, const costume *of,
                          const girdle_zone_row *row) {
  alike_search in = {with, NULL, 0, row->alike_count, 0};
  int32_t status;
  for (uint64_t at = first; at < girdle_club_jobs(club); at++) {
    girdle_job *job = girdle_club_job(club, at);
    if (is_worked(job) && alike_same_look(job, girdle_club_job(club, first))) alike_add(&in, job, of, row);
  }
  status = alike_count(&in);
  if (!status) status = alike_find(&in);
  if (!status) status = take_counts(&in);
  alike_free(&in);
  return status;
}

static int32_t keep_pictures(program *with, const girdle_club *club, uint64_t first) {
  const girdle_job *sample = girdle_club_job(club, first);
  for (uint64_t at = first + 1; at < girdle_club_jobs(club); at++)
    if (alike_same_look(girdle_club_job(club, at), sample))
      GIRDLE_TRY(girdle_job_keep_picture(&with->call, girdle_club_job(club, at), sample));
  return GIRDLE_OK;
}

static int32_t keep_look(program *with, const girdle_club *club, uint64_t first, const costume *of) {
  uint64_t count = 0;
  const girdle_zone_row *rows = of->zones ? girdle_zone_rows_view(of->zones, &count) : NULL;
  for (uint64_t at = 0; at < count; at++)
    if (rows[at].alike == GIRDLE_ALIKE_COUNT && rows[at].recipe[0])
      GIRDLE_TRY(keep_count(with, club, first, of, &rows[at]));
  return keep_pictures(with, club, first);
}

int32_t alike_keep(program *with, const girdle_club *club, const wardrobe *costumes) {
  for (uint64_t at = 0; at < girdle_club_jobs(club); at++) {
    const girdle_job *job = girdle_club_job(club, at);
    const costume *of = wardrobe_costume(costumes, girdle_job_head_of(job)->costume);
    if (of && is_worked(job) && alike_is_kept(of) && is_first(club, at)) GIRDLE_TRY(keep_look(with, club, at, of));
  }
  return GIRDLE_OK;
}
