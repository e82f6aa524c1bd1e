/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/work.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "sort_internal.h"
#include "work_internal.h"

/* ---- zones */

typedef struct zone_sum {
  girdle_work_zone zone;
  double seconds, dotted_s;
  uint64_t first; /* line of the tally */
} zone_sum;

/* A line of the tally and where it stands in it. */
typedef struct numbered_line {
  const girdle_tally_line *line;
  uint64_t index;
} numbered_line;

static int compare_zone_names(const girdle_tally_line *one, const girdle_tally_line *two) {
  const int by_tag = strcmp(one->tag, two->tag), by_zone = by_tag ? by_tag : strcmp(one->zone, two->zone);
  return by_zone ? by_zone : strcmp(one->side, two->side);
}

static int compare_lines(const void *a, const void *b) {
  const numbered_line *one = a, *two = b;
  const int by_name = compare_zone_names(one->line, two->line);
  return by_name ? by_name : one->index < two->index ? -1 : one->index > two->index;
}

static int compare_zones(const void *a, const void *b) {
  const zone_sum *one = a, *two = b;
  return one->first < two->first ? -1 : one->first > two->first;
}

static void begin_zone(zone_sum *sum, const numbered_line *from) {
  memset(sum, 0, sizeof *sum);
  sum->first = from->index;
  girdle_common_text(sum->zone.tag, sizeof sum->zone.tag, from->line->tag);
  girdle_common_text(sum->zone.zone, sizeof sum->zone.zone, from->line->zone);
  girdle_common_text(sum->zone.side, sizeof sum->zone.side, from->line->side);
  sum->zone.changes = -1; /* the first stone is no change */
}

static void add_line(zone_sum *sum, const girdle_tally_line *line, const girdle_work_rates *rates) {
  const int glued = line->stone.fix != GIRDLE_SEW;
  sum->seconds += (double)line->count * girdle_work_seconds(rates, &line->stone);
  sum->zone.changes++;
  sum->zone.glued += glued ? line->count : 0;
  sum->zone.sewn += line->stone.fix != GIRDLE_GLUE ? line->count : 0;
  if (!glued) return;
  sum->dotted_s += (double)line->count * girdle_work_dot_seconds(rates, &line->stone);
  sum->zone.adhesive_ml += line->covered_mm2 * rates->film_mm / 1000;
}

static void finish_zone(zone_sum *sum, const girdle_work_rates *rates) {
  girdle_work_zone *zone = &sum->zone;
  zone->minutes = (sum->seconds + rates->zone_s + (double)zone->changes * rates->change_s) / 60;
  zone->loads = girdle_work_loads(rates, zone->adhesive_ml, sum->dotted_s, &zone->load_ml);
  if (zone->glued == 0 || sum->dotted_s <= 0) return;
  zone->dots_at_a_time = (int64_t)fmax(1, floor(rates->skin_s * (double)zone->glued / sum->dotted_s));
}

static int32_t sum_zones(girdle_call *call, const girdle_tally *tally, const girdle_work_rates *rates,
                         numbered_line *numbered, zone_sum *zones, uint64_t *count) {
  uint64_t line_count;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &line_count);
  for (uint64_t i = 0; i < line_count; i++)
    numbered[i] = (numbered_line){&lines[i], i};
  girdle_sort(numbered, line_count, sizeof *numbered, compare_lines);
  for (uint64_t i = 0; i < line_count; i++) {
    GIRDLE_TRY(girdle_common_tick(call, 1, -1));
    if (i == 0 || compare_zone_names(numbered[i - 1].line, numbered[i].line) != 0)
      begin_zone(&zones[(*count)++], &numbered[i]);
    add_line(&zones[*count - 1], numbered[i].line, rates);
  }
  for (uint64_t i = 0; i < *count; i++)
    finish_zone(&zones[i], rates);
  girdle_sort(zones, *count, sizeof *zones, compare_zones);
  return GIRDLE_OK;
}

int32_t girdle_work_zones(girdle_call *call, const girdle_tally *tally, const girdle_work_rates *rates,
                          girdle_work_zone *zones, uint64_t capacity, uint64_t *count) {
  GIRDLE_GIVEN(call, tally, zones || !capacity, count);
  const girdle_allocator memory = girdle_common_memory(call);
  girdle_work_rates own;
  uint64_t lines, found = 0;
  numbered_line *numbered;
  zone_sum *sums;
  int32_t status;
  GIRDLE_TRY(girdle_work_read_rates(call, rates, &own));
  girdle_tally_lines(tally, &lines);
  sums = girdle_common_new(call, (lines + 1) * sizeof *sums);
  numbered = girdle_common_new(call, (lines + 1) * sizeof *numbered);
  status = sums && numbered ? sum_zones(call, tally, &own, numbered, sums, &found) : GIRDLE_MEMORY;
  for (uint64_t i = 0; i < found && i < capacity && !status; i++)
    zones[i] = sums[i].zone;
  if (!status) *count = found;
  girdle_common_release(&memory, sums, (lines + 1) * sizeof *sums);
  girdle_common_release(&memory, numbered, (lines + 1) * sizeof *numbered);
  return status;
}

/* ---- steps */

/* A line to be worked: on which side, in the how-manieth zone, where in the tally. */
typedef struct piece_of_work {
  const girdle_tally_line *line;
  uint64_t zone, index;
  int back;
} piece_of_work;

static int compare_work(const void *a, const void *b) {
  const piece_of_work *one = a, *two = b;
  const double wide_one = one->line->stone.diameter_mm[GIRDLE_NOMINAL];
  const double wide_two = two->line->stone.diameter_mm[GIRDLE_NOMINAL];
  if (one->back != two->back) return one->back - two->back;
  if (one->zone != two->zone) return one->zone < two->zone ? -1 : 1;
  if (wide_one != wide_two) return wide_one > wide_two ? -1 : 1;
  return one->index < two->index ? -1 : one->index > two->index;
}

typedef struct writer {
  girdle_work_step *steps;
  uint64_t capacity, count;
  const girdle_work_rates *rates;
} writer;

static void write_step(writer *scribe, int32_t kind, const girdle_tally_line *line, double seconds) {
  girdle_work_step *step;
  if (scribe->count++ >= scribe->capacity) return;
  step = &scribe->steps[scribe->count - 1];
  memset(step, 0, sizeof *step);
  step->kind = kind;
  step->minutes = seconds / 60;
  if (!line) return;
  girdle_common_text(step->zone, sizeof step->zone, line->zone);
  girdle_common_text(step->side, sizeof step->side, line->side);
  if (kind != GIRDLE_STEP_GLUE && kind != GIRDLE_STEP_SEW) return;
  step->stone = line->stone;
  step->pieces = line->count;
  step->adhesive_ml = kind == GIRDLE_STEP_GLUE ? line->covered_mm2 * scribe->rates->film_mm / 1000 : 0;
}

/* The glued stones of one side, zone by zone. */
static void write_side(writer *scribe, const piece_of_work *work, uint64_t first, uint64_t end) {
  const girdle_work_rates *rates = scribe->rates;
  for (uint64_t i = first; i < end; i++) {
    const int begins = i == first || work[i].zone != work[i - 1].zone;
    girdle_stone glued = work[i].line->stone;
    if (begins) write_step(scribe, GIRDLE_STEP_MARK, work[i].line, rates->zone_s);
    if (glued.fix == GIRDLE_SEW) continue;
    glued.fix = GIRDLE_GLUE; /* the sewing of those that are both has its own step */
    write_step(scribe, GIRDLE_STEP_GLUE, work[i].line,
               (double)work[i].line->count * girdle_work_seconds(rates, &glued) + (begins ? 0 : rates->change_s));
  }
}

static void write_sewing(writer *scribe, const piece_of_work *work, uint64_t count) {
  for (uint64_t i = 0; i < count; i++)
    if (work[i].line->stone.fix != GIRDLE_GLUE)
      write_step(scribe, GIRDLE_STEP_SEW, work[i].line, (double)work[i].line->count * scribe->rates->sewn_s);
}

static void write_steps(writer *scribe, const piece_of_work *work, uint64_t count) {
  uint64_t back = 0;
  if (count == 0) return;
  while (back < count && !work[back].back)
    back++;
  write_step(scribe, GIRDLE_STEP_BARRIER, NULL, 0);
  write_side(scribe, work, 0, back);
  if (back > 0 && back < count) {
    write_step(scribe, GIRDLE_STEP_DRY, NULL, scribe->rates->dry_s);
    write_step(scribe, GIRDLE_STEP_TURN, NULL, 0);
  }
  write_side(scribe, work, back, count);
  write_step(scribe, GIRDLE_STEP_CURE, NULL, scribe->rates->cure_s);
  write_sewing(scribe, work, count);
}

/* The lines of the tag, numbered by zone in the order the zones are first named. */
static uint64_t list_work(const girdle_tally *tally, const char *tag, piece_of_work *work) {
  uint64_t line_count, count = 0;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &line_count);
  for (uint64_t i = 0; i < line_count; i++) {
    uint64_t like = 0;
    if (strcmp(lines[i].tag, tag) != 0) continue;
    while (like < count &&
           (strcmp(work[like].line->zone, lines[i].zone) || strcmp(work[like].line->side, lines[i].side)))
      like++;
    work[count] =
        (piece_of_work){&lines[i], like < count ? work[like].zone : count, i, strcmp(lines[i].side, "back") == 0};
    count++;
  }
  girdle_sort(work, count, sizeof *work, compare_work);
  return count;
}

int32_t girdle_work_steps(girdle_call *call, const girdle_tally *tally, const char *tag, const girdle_work_rates *rates,
                          girdle_work_step *steps, uint64_t capacity, uint64_t *count) {
  GIRDLE_GIVEN(call, tally, tag, steps || !capacity, count);
  const girdle_allocator memory = girdle_common_memory(call);
  girdle_work_rates own;
  uint64_t lines;
  piece_of_work *work;
  writer scribe = {steps, capacity, 0, &own};
  GIRDLE_TRY(girdle_work_read_rates(call, rates, &own));
  girdle_tally_lines(tally, &lines);
  work = girdle_common_new(call, (lines + 1) * sizeof *work);
  if (!work) return GIRDLE_MEMORY;
  write_steps(&scribe, work, list_work(tally, tag, work));
  *count = scribe.count;
  girdle_common_release(&memory, work, (lines + 1) * sizeof *work);
  return GIRDLE_OK;
}

const char *girdle_step_text(int32_t kind) {
  static const char *const texts[GIRDLE_STEP_END] = {
      "Put the barrier in between the layers, and lay the costume flat and even.",
      "Lay out and mark the zone, beginning on the side away from your working hand.",
      "Dot and place, large stones first, working towards your working hand.",
      "Leave it lying flat until it may be turned.",
      "Turn it over with the barrier in.",
      "Sew on, when all adhesive is dry right through.",
      "Leave it until it is dry right through before it is worn."};
  return kind >= 0 && kind < GIRDLE_STEP_END ? texts[kind] : "unknown";
}
