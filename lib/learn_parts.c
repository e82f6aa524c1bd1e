/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/learn.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "learn_internal.h"
#include "sort_internal.h"

/* Jobs and zones one by one, and which jobs are unusual. */

static const double UNUSUAL_FROM = 3.5, DEVIATION_SCALE = 1.4826; /* the latter makes it a normal's deviation */
enum { JOBS_TO_COMPARE = 5 };
/* What is beyond belief however few jobs there are: common practice, no source. A few pieces prove nothing. */
static const double LOST_BELIEVED = 0.3, USED_BELIEVED = 3;
enum { PIECES_THAT_TELL = 24 };

/* A part in the making: what stood beside each number. */
typedef struct gathering {
  girdle_learned_part part;
  double used_with_lost, used_with_fell_off, used_with_minutes, seconds;
  double planned, used_of_planned; /* of rows that tell both */
} gathering;

static gathering *find(gathering *all, uint64_t *count, const char *name) {
  uint64_t at = *count;
  /* rows of one job mostly stand together, so the last part is looked at first */
  while (at-- > 0)
    if (strcmp(all[at].part.name, name) == 0) return &all[at];
  memset(&all[*count], 0, sizeof *all);
  girdle_common_text(all[*count].part.name, sizeof all->part.name, name);
  return &all[(*count)++];
}

static void gather(gathering *into, const girdle_log_row *row) {
  const int64_t used = girdle_learn_used(row);
  into->part.used += used;
  if (row->planned > 0 && row->used >= 0)
    into->planned += (double)row->planned, into->used_of_planned += (double)row->used;
  if (row->lost >= 0) into->part.lost += row->lost, into->used_with_lost += (double)used;
  if (row->fell_off >= 0) into->part.fell_off += row->fell_off, into->used_with_fell_off += (double)used;
  if (!isnan(row->minutes)) into->seconds += 60 * row->minutes, into->used_with_minutes += (double)used;
}

static double ratio(double part, double whole) {
  return whole > 0 ? part / whole : NAN;
}

static void finish(gathering *all, uint64_t count) {
  for (uint64_t i = 0; i < count; i++) {
    girdle_learned_part *part = &all[i].part;
    part->lost_share = ratio((double)part->lost, all[i].used_with_lost);
    part->fell_off_share = ratio((double)part->fell_off, all[i].used_with_fell_off);
    part->seconds_a_stone = ratio(all[i].seconds, all[i].used_with_minutes);
  }
}

/* ---- unusual ones */

static int compare_numbers(const void *a, const void *b) {
  const double one = *(const double *)a, two = *(const double *)b;
  return (one > two) - (one < two);
}

static double median(double *values, uint64_t count) {
  girdle_sort(values, count, sizeof *values, compare_numbers);
  return count % 2 ? values[count / 2] : (values[count / 2 - 1] + values[count / 2]) / 2;
}

static double measure_of(const girdle_learned_part *part, uint32_t kind) {
  return kind == GIRDLE_UNUSUAL_LOSS ? log1p(part->lost_share) : log(part->seconds_a_stone);
}

/* Marks what needs no other job to be seen. */
static void mark_unbelievable(gathering *all, uint64_t count) {
  for (uint64_t i = 0; i < count; i++) {
    girdle_learned_part *part = &all[i].part;
    if (part->lost >= PIECES_THAT_TELL && part->lost_share > LOST_BELIEVED) part->unusual |= GIRDLE_UNUSUAL_LOSS;
    if (all[i].planned >= PIECES_THAT_TELL && all[i].used_of_planned > USED_BELIEVED * all[i].planned)
      part->unusual |= GIRDLE_UNUSUAL_USE;
  }
}

/* Marks the jobs whose measure lies far from the others'. `values` has room for one number a job. */
static void mark_unusual(gathering *all, uint64_t count, uint32_t kind, double *values) {
  uint64_t known = 0;
  double middle, deviation;
  for (uint64_t i = 0; i < count; i++)
    if (isfinite(measure_of(&all[i].part, kind))) values[known++] = measure_of(&all[i].part, kind);
  if (known < JOBS_TO_COMPARE) return;
  middle = median(values, known);
  for (uint64_t i = 0; i < known; i++)
    values[i] = fabs(values[i] - middle);
  deviation = DEVIATION_SCALE * median(values, known);
  if (deviation <= 0) return; /* more than half are alike: there is no scale to judge by */
  for (uint64_t i = 0; i < count; i++)
    if (fabs(measure_of(&all[i].part, kind) - middle) > UNUSUAL_FROM * deviation) all[i].part.unusual |= kind;
}

/* ---- */

static int32_t gather_all(girdle_call *call, const girdle_log_row *rows, uint64_t row_count, int32_t by_zone,
                          gathering *all, double *values, uint64_t *count) {
  for (uint64_t i = 0; i < row_count; i++) {
    GIRDLE_TRY(girdle_common_tick(call, *count + 1, -1));
    GIRDLE_TRY(girdle_learn_check(call, &rows[i]));
    gather(find(all, count, by_zone ? rows[i].zone : rows[i].tag), &rows[i]);
  }
  finish(all, *count);
  if (by_zone) return GIRDLE_OK;
  mark_unbelievable(all, *count);
  mark_unusual(all, *count, GIRDLE_UNUSUAL_LOSS, values);
  mark_unusual(all, *count, GIRDLE_UNUSUAL_PACE, values);
  return GIRDLE_OK;
}

int32_t girdle_learn_parts(girdle_call *call, const girdle_log_row *rows, uint64_t row_count, int32_t by_zone,
                           girdle_learned_part *parts, uint64_t capacity, uint64_t *count) {
  GIRDLE_GIVEN(call, rows || !row_count, parts || !capacity, count);
  const girdle_allocator memory = girdle_common_memory(call);
  const uint64_t bytes = (row_count + 1) * sizeof(gathering), value_bytes = (row_count + 1) * sizeof(double);
  gathering *all = girdle_common_new(call, bytes);
  double *values = girdle_common_new(call, value_bytes);
  uint64_t found = 0;
  int32_t status = all && values ? gather_all(call, rows, row_count, by_zone, all, values, &found) : GIRDLE_MEMORY;
  if (!status) {
    for (uint64_t i = 0; i < found && i < capacity; i++)
      parts[i] = all[i].part;
    *count = found;
  }
  girdle_common_release(&memory, all, bytes);
  girdle_common_release(&memory, values, value_bytes);
  return status;
}
