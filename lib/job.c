/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "job_internal.h"

struct girdle_job {
  girdle_allocator memory;
  girdle_job_head head;
  girdle_job_list measures; /* girdle_measure */
  girdle_job_list zones;    /* girdle_zone; the job owns what they point at */
  girdle_job_list weighed;  /* girdle_stone */
};

/* ---- lists */

int32_t girdle_job_append(girdle_call *call, const girdle_allocator *memory, girdle_job_list *list, const void *item,
                          uint64_t item_bytes) {
  GIRDLE_TRY(girdle_common_grow(call, memory, &list->items, &list->capacity, list->count + 1, item_bytes));
  memcpy((char *)list->items + list->count * item_bytes, item, item_bytes);
  list->count++;
  return GIRDLE_OK;
}

void girdle_job_release(const girdle_allocator *memory, girdle_job_list *list, uint64_t item_bytes) {
  girdle_common_release(memory, list->items, list->capacity * item_bytes);
  memset(list, 0, sizeof *list);
}

/* ---- defaults */

void girdle_job_head_init(girdle_job_head *head, uint32_t struct_bytes) {
  girdle_job_head plain;
  memset(&plain, 0, sizeof plain);
  plain.struct_bytes = struct_bytes;
  plain.needed_by_day = INT64_MIN;
  plain.fabric.mass_g_m2 = plain.fabric.worn_across = plain.fabric.worn_along = NAN;
  memset(head, 0, struct_bytes);
  memcpy(head, &plain, struct_bytes < sizeof plain ? struct_bytes : sizeof plain);
}

void girdle_zone_init(girdle_zone *zone, uint32_t struct_bytes) {
  girdle_zone plain;
  memset(&plain, 0, sizeof plain);
  plain.struct_bytes = struct_bytes;
  plain.times = 1;
  plain.area_mm2 = plain.edge_mm = NAN;
  plain.box = (girdle_box){NAN, NAN, NAN, NAN};
  memset(zone, 0, struct_bytes);
  memcpy(zone, &plain, struct_bytes < sizeof plain ? struct_bytes : sizeof plain);
}

/* ---- the job */

static int32_t check_share(girdle_call *call, const char *field, double share) {
  return isnan(share) ? GIRDLE_OK : girdle_common_range(call, field, share, -0.5, 4, "");
}

static int32_t check_fabric(girdle_call *call, const girdle_fabric *fabric) {
  if (!isnan(fabric->mass_g_m2))
    GIRDLE_TRY(girdle_common_range(call, "fabric mass", fabric->mass_g_m2, 0, 1e5, "g/m2"));
  GIRDLE_TRY(girdle_common_range(call, "lies across", fabric->lies_across, -0.5, 4, ""));
  GIRDLE_TRY(girdle_common_range(call, "lies along", fabric->lies_along, -0.5, 4, ""));
  GIRDLE_TRY(check_share(call, "worn across", fabric->worn_across));
  return check_share(call, "worn along", fabric->worn_along);
}

int32_t girdle_job_new(girdle_call *call, const girdle_job_head *head, girdle_job **out) {
  GIRDLE_GIVEN(call, head, out);
  girdle_job_head own;
  girdle_job *job;
  girdle_job_head_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, head);
  own.struct_bytes = sizeof own;
  if (!own.tag[0]) return girdle_common_fail(call, GIRDLE_ARGUMENT, "tag", "a costume needs a tag, like \"A7\"");
  GIRDLE_TRY(check_fabric(call, &own.fabric));
  GIRDLE_TRY(girdle_common_range(call, "own", (double)own.own_stones, 0, 1e12, "pieces"));
  GIRDLE_TRY(girdle_common_range(call, "extra", (double)own.extra_stones, 0, 1e12, "pieces"));
  job = girdle_common_new(call, sizeof *job);
  if (!job) return GIRDLE_MEMORY;
  job->memory = girdle_common_memory(call);
  job->head = own;
  *out = job;
  return GIRDLE_OK;
}

static void free_zone(const girdle_allocator *memory, girdle_zone *zone) {
  /* the job's own copies; only readers see them as constant */
  girdle_placement_free((girdle_placement *)(uintptr_t)zone->placement);
  girdle_common_release(memory, (void *)(uintptr_t)zone->already, zone->already_count * sizeof *zone->already);
  girdle_common_release(memory, (void *)(uintptr_t)zone->already_pieces,
                        zone->already_count * sizeof *zone->already_pieces);
}

void girdle_job_free(girdle_job *job) {
  girdle_allocator memory;
  if (!job) return;
  memory = job->memory;
  for (uint64_t i = 0; i < job->zones.count; i++)
    free_zone(&memory, (girdle_zone *)job->zones.items + i);
  girdle_job_release(&memory, &job->zones, sizeof(girdle_zone));
  girdle_job_release(&memory, &job->measures, sizeof(girdle_measure));
  girdle_job_release(&memory, &job->weighed, sizeof(girdle_stone));
  girdle_common_release(&memory, job, sizeof *job);
}

const girdle_job_head *girdle_job_head_of(const girdle_job *job) {
  return &job->head;
}

int32_t girdle_job_set_fabric(girdle_call *call, girdle_job *job, const girdle_fabric *fabric) {
  GIRDLE_GIVEN(call, job, fabric);
  GIRDLE_TRY(check_fabric(call, fabric));
  job->head.fabric = *fabric;
  return GIRDLE_OK;
}

/* ---- measures */

int32_t girdle_job_set_measure(girdle_call *call, girdle_job *job, const char *name, double mm) {
  GIRDLE_GIVEN(call, job, name);
  girdle_measure measure, *there = job->measures.items;
  memset(&measure, 0, sizeof measure);
  if (!*name || !girdle_common_text(measure.name, sizeof measure.name, name))
    return girdle_common_fail(call, GIRDLE_LIMIT, "measure", "a measure's name has 1 to 31 bytes, not '%.60s'", name);
  GIRDLE_TRY(girdle_common_range(call, measure.name, mm, 0.1, 1e6, "mm"));
  measure.mm = mm;
  for (uint64_t i = 0; i < job->measures.count; i++) {
    if (strcmp(there[i].name, measure.name) != 0) continue;
    there[i] = measure;
    return GIRDLE_OK;
  }
  return girdle_job_append(call, &job->memory, &job->measures, &measure, sizeof measure);
}

const girdle_measure *girdle_job_measures(const girdle_job *job, uint64_t *count) {
  *count = job->measures.count;
  return job->measures.items;
}

/* ---- zones */

static int32_t check_zone(girdle_call *call, const girdle_zone *zone) {
  static const char *const sides[] = {"front", "back", "left", "right", "both"};
  enum { SIDES = sizeof sides / sizeof *sides };
  int known = !zone->side[0];
  if (!zone->name[0]) return girdle_common_fail(call, GIRDLE_ARGUMENT, "zone", "a zone needs a name, like \"collar\"");
  for (int i = 0; i < SIDES; i++)
    known |= strcmp(zone->side, sides[i]) == 0;
  if (!known) return girdle_common_unknown(call, "side", zone->side, sides, SIDES);
  GIRDLE_TRY(girdle_common_range(call, "times", (double)zone->times, 1, 1e6, ""));
  if (!isnan(zone->area_mm2)) GIRDLE_TRY(girdle_common_range(call, "area", zone->area_mm2, 1e-3, 1e9, "mm2"));
  if (!isnan(zone->edge_mm)) GIRDLE_TRY(girdle_common_range(call, "edge", zone->edge_mm, 1e-3, 1e7, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "alike", zone->alike, 0, GIRDLE_ALIKE_END - 1, ""));
  GIRDLE_TRY(girdle_common_range(call, "already", (double)zone->already_count, 0, 65535, "stones"));
  for (uint64_t i = 0; i < zone->already_count; i++)
    GIRDLE_TRY(girdle_common_range(call, "already", (double)zone->already_pieces[i], 0, 1e9, "pieces"));
  return GIRDLE_OK;
}

/* Both sides are front and back. */
static int covers(const char *side, const char *other) {
  return strcmp(side, "both") == 0 && (strcmp(other, "front") == 0 || strcmp(other, "back") == 0);
}

static int same_side(const char *a, const char *b) {
  return strcmp(a, b) == 0 || covers(a, b) || covers(b, a);
}

static int32_t check_name(girdle_call *call, const girdle_job *job, const char *name, const char *side) {
  const girdle_zone *zones = job->zones.items;
  for (uint64_t i = 0; i < job->zones.count; i++)
    if (strcmp(zones[i].name, name) == 0 && same_side(zones[i].side, side))
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "zone", "zone '%s'%s%s is there already", name,
                                *side ? " on side " : "", side);
  return GIRDLE_OK;
}

/* The middle of the box that holds all stones. */
static double middle_x_mm(const girdle_placement *placement) {
  const girdle_placed *records;
  const girdle_stone *stones;
  double least = INFINITY, most = -INFINITY;
  int64_t count = girdle_placement_view(placement, &records, &stones, NULL);
  for (int64_t i = 0; i < count; i++) {
    const girdle_stone *stone = &stones[records[i].stone];
    least = fmin(least, records[i].x_mm - girdle_stone_reach_mm(stone, records[i].turn_deg, 180));
    most = fmax(most, records[i].x_mm + girdle_stone_reach_mm(stone, records[i].turn_deg, 0));
  }
  return count ? (least + most) / 2 : 0;
}

static int32_t copy_placement(girdle_call *call, const girdle_placement *from, int mirror,
                              const girdle_placement **out) {
  girdle_placement *copy = NULL;
  int32_t status = GIRDLE_OK;
  if (from)
    status = mirror ? girdle_placement_mirrored(call, from, middle_x_mm(from), &copy)
                    : girdle_placement_copy(call, from, &copy);
  *out = copy;
  return status;
}

/* In the job's memory, whatever allocator this call has. */
static void *copy_block(girdle_call *call, const girdle_allocator *memory, const void *from, uint64_t bytes) {
  void *block = girdle_common_resize(memory, NULL, 0, bytes);
  if (block)
    memcpy(block, from, bytes);
  else
    girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  return block;
}

/* The box of the second of a pair lies where its stones do. */
static void mirror_box(const girdle_zone *from, girdle_zone *out) {
  double twice = from->placement ? 2 * middle_x_mm(from->placement) : 0;
  out->box.left_mm = twice - from->box.right_mm;
  out->box.right_mm = twice - from->box.left_mm;
}

/* Copies all that a zone points at; on an error nothing is left. */
static int32_t copy_zone(girdle_call *call, const girdle_allocator *memory, const girdle_zone *from, int mirror,
                         girdle_zone *out) {
  uint64_t count = from->already_count;
  int32_t status;
  *out = *from;
  out->already = NULL;
  out->already_pieces = NULL;
  status = copy_placement(call, from->placement, mirror, &out->placement);
  if (!status && count) {
    out->already = copy_block(call, memory, from->already, count * sizeof *from->already);
    if (out->already) out->already_pieces = copy_block(call, memory, from->already_pieces, count * sizeof(int64_t));
    status = out->already_pieces ? GIRDLE_OK : GIRDLE_MEMORY;
  }
  if (mirror) mirror_box(from, out);
  if (status) free_zone(memory, out);
  return status;
}

static int32_t append_zone(girdle_call *call, girdle_job *job, const girdle_zone *zone, const char *side, int mirror) {
  girdle_zone copy;
  GIRDLE_TRY(copy_zone(call, &job->memory, zone, mirror, &copy));
  girdle_common_text(copy.side, sizeof copy.side, side);
  if (girdle_job_append(call, &job->memory, &job->zones, &copy, sizeof copy) == GIRDLE_OK) return GIRDLE_OK;
  free_zone(&job->memory, &copy);
  return GIRDLE_MEMORY;
}

static int32_t append_pair(girdle_call *call, girdle_job *job, const girdle_zone *zone) {
  girdle_zone *zones;
  int32_t status;
  GIRDLE_TRY(check_name(call, job, zone->name, "left"));
  GIRDLE_TRY(check_name(call, job, zone->name, "right"));
  GIRDLE_TRY(append_zone(call, job, zone, "left", 0));
  status = append_zone(call, job, zone, "right", 1);
  if (!status) return GIRDLE_OK;
  zones = job->zones.items;
  free_zone(&job->memory, &zones[--job->zones.count]);
  return status;
}

int32_t girdle_job_add_zone(girdle_call *call, girdle_job *job, const girdle_zone *zone) {
  GIRDLE_GIVEN(call, job, zone);
  girdle_zone own;
  girdle_zone_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, zone);
  own.struct_bytes = sizeof own;
  GIRDLE_TRY(check_zone(call, &own));
  GIRDLE_TRY(girdle_common_range(call, "zones", (double)job->zones.count, 0, 9998, ""));
  if (own.flags & GIRDLE_ZONE_PAIR) {
    memcpy(own.pair_side, own.side, sizeof own.pair_side);
    return append_pair(call, job, &own);
  }
  GIRDLE_TRY(check_name(call, job, own.name, own.side));
  return append_zone(call, job, &own, own.side, 0);
}

int32_t girdle_job_set_placement(girdle_call *call, girdle_job *job, uint64_t which,
                                 const girdle_placement *placement) {
  GIRDLE_GIVEN(call, job);
  girdle_zone *zones = job->zones.items;
  const girdle_placement *copy;
  if (which >= job->zones.count)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "zone", "there are %llu zones, and none of the number %llu",
                              (unsigned long long)job->zones.count, (unsigned long long)which);
  GIRDLE_TRY(copy_placement(call, placement, 0, &copy));
  girdle_placement_free((girdle_placement *)(uintptr_t)zones[which].placement);
  zones[which].placement = copy;
  return GIRDLE_OK;
}

girdle_zone *girdle_job_own_zones(girdle_job *job, uint64_t *count) {
  *count = job->zones.count;
  return job->zones.items;
}

const girdle_zone *girdle_job_zones(const girdle_job *job, uint64_t *count) {
  *count = job->zones.count;
  return job->zones.items;
}

/* ---- the tally */

int32_t girdle_job_set_weighed(girdle_call *call, girdle_job *job, const girdle_stone *weighed, uint64_t count) {
  GIRDLE_GIVEN(call, job, weighed || !count);
  GIRDLE_TRY(
      girdle_common_grow(call, &job->memory, &job->weighed.items, &job->weighed.capacity, count, sizeof *weighed));
  if (count) memcpy(job->weighed.items, weighed, count * sizeof *weighed);
  job->weighed.count = count;
  return GIRDLE_OK;
}

/* A ring is worked lying on its front and then on its back, so each half is counted for itself. */
static int32_t add_ring(girdle_call *call, const char *tag, const girdle_zone *zone, girdle_tally *tally) {
  girdle_placement *front, *back;
  int32_t status;
  GIRDLE_TRY(girdle_zone_split(call, zone->placement, &front, &back));
  status = girdle_tally_add(call, tally, tag, zone->name, "front", zone->times, front);
  if (!status) status = girdle_tally_add(call, tally, tag, zone->name, "back", zone->times, back);
  girdle_placement_free(front);
  girdle_placement_free(back);
  return status;
}

static int32_t add_placed(girdle_call *call, const char *tag, const girdle_zone *zone, girdle_tally *tally) {
  if (!zone->placement) return GIRDLE_OK;
  if (strcmp(zone->side, "both") == 0) return add_ring(call, tag, zone, tally);
  return girdle_tally_add(call, tally, tag, zone->name, zone->side, zone->times, zone->placement);
}

static int32_t add_zone(girdle_call *call, const girdle_job *job, const girdle_zone *zone, girdle_tally *tally) {
  const char *tag = job->head.tag;
  GIRDLE_TRY(add_placed(call, tag, zone, tally));
  for (uint64_t i = 0; i < zone->already_count; i++) /* both factors are limited; the product is checked as a count */
    GIRDLE_TRY(girdle_tally_add_pieces(call, tally, tag, zone->name, zone->side, &zone->already[i],
                                       zone->already_pieces[i] * zone->times));
  return GIRDLE_OK;
}

int32_t girdle_job_tally(girdle_call *call, const girdle_job *job, girdle_tally **out) {
  GIRDLE_GIVEN(call, job, out);
  const girdle_zone *zones = job->zones.items;
  girdle_tally *tally = NULL;
  int32_t status = girdle_tally_new(call, &tally);
  for (uint64_t i = 0; i < job->zones.count && !status; i++)
    status = add_zone(call, job, &zones[i], tally);
  if (status) {
    girdle_tally_free(tally);
    return status;
  }
  girdle_tally_reweigh(tally, job->weighed.items, job->weighed.count);
  *out = tally;
  return GIRDLE_OK;
}
