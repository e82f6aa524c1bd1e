/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"

#include <string.h>

#include "common.h"
#include "job_internal.h"

/* Where ranked zones meet on a drawing, the first keeps its stones and the others leave out those that would lie on
 * them, so that nothing is counted twice. */

static int is_pair(const girdle_zone *zone) {
  return (zone->flags & GIRDLE_ZONE_PAIR) != 0;
}

/* The right half of a pair is mirrored to its place on the body, and lies nowhere on the drawing: it follows the left.
 */
static int lies_on_drawing(const girdle_zone *zone) {
  return zone->placement && (zone->flags & GIRDLE_ZONE_DRAWN) && !(is_pair(zone) && strcmp(zone->side, "right") == 0);
}

static const char *drawn_side(const girdle_zone *zone) {
  return is_pair(zone) ? zone->pair_side : zone->side;
}

static int gives_way(const girdle_zone *zone, const girdle_zone *other) {
  return zone->priority && other->priority && other->priority < zone->priority && lies_on_drawing(zone) &&
         lies_on_drawing(other) && strcmp(drawn_side(zone), drawn_side(other)) == 0;
}

/* In what x both halves of a pair mirror each other; any stone shows it. */
static double middle_of(const girdle_zone *left) {
  const girdle_placed *a, *b;
  if (!girdle_placement_view(left[0].placement, &a, NULL, NULL)) return 0;
  girdle_placement_view(left[1].placement, &b, NULL, NULL);
  return (a[0].x_mm + b[0].x_mm) / 2;
}

static void replace(girdle_zone *zone, girdle_placement *with) {
  zone->left_out +=
      girdle_placement_view(zone->placement, NULL, NULL, NULL) - girdle_placement_view(with, NULL, NULL, NULL);
  girdle_placement_free((girdle_placement *)(uintptr_t)zone->placement); /* the job's own copy */
  zone->placement = with;
}

/* The zone, of a pair both halves, without the stones that lie on another. */
static int32_t clear(girdle_call *call, girdle_zone *zone, const girdle_placement *of) {
  girdle_placement *rest, *mirrored = NULL;
  int32_t status;
  GIRDLE_TRY(girdle_placement_clear_of(call, zone->placement, of, 0, &rest));
  status = is_pair(zone) ? girdle_placement_mirrored(call, rest, middle_of(zone), &mirrored) : GIRDLE_OK;
  if (status) {
    girdle_placement_free(rest);
    return status;
  }
  replace(zone, rest);
  if (mirrored) replace(zone + 1, mirrored);
  return GIRDLE_OK;
}

static int32_t settle_zone(girdle_call *call, girdle_zone *zones, uint64_t count, uint64_t which) {
  for (uint64_t i = 0; i < count; i++)
    if (gives_way(&zones[which], &zones[i])) GIRDLE_TRY(clear(call, &zones[which], zones[i].placement));
  return girdle_common_tick(call, count, (double)which / (double)count);
}

/* The least rank above `after` of a zone on the drawing; 0 when there is none. */
static int next_rank(const girdle_zone *zones, uint64_t count, int64_t after, int32_t *rank) {
  int64_t best = INT64_MAX;
  for (uint64_t i = 0; i < count; i++)
    if (zones[i].priority && zones[i].priority > after && zones[i].priority < best && lies_on_drawing(&zones[i]))
      best = zones[i].priority;
  *rank = (int32_t)best;
  return best != INT64_MAX;
}

/* By rank, so that a zone gives way only to stones that stay. */
int32_t girdle_job_settle(girdle_call *call, girdle_job *job) {
  GIRDLE_GIVEN(call, job);
  uint64_t count;
  girdle_zone *zones = girdle_job_own_zones(job, &count);
  int32_t rank;
  for (int64_t after = INT64_MIN; next_rank(zones, count, after, &rank); after = rank)
    for (uint64_t i = 0; i < count; i++)
      if (zones[i].priority == rank) GIRDLE_TRY(settle_zone(call, zones, count, i));
  return GIRDLE_OK;
}
