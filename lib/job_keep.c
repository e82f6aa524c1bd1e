/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"

#include <string.h>

#include "common.h"
#include "job_internal.h"

/* A zone brought down to so many stones of each kind: what a plan gives it, of what its gap lays out. */

static const double CELLS_MOST = 1e6;

/* Of a kind that was placed. */
typedef struct kind {
  int64_t there, left_out, turned; /* turned: become another kind of their size */
  int64_t seen, kept;
} kind;

typedef struct keeping {
  const girdle_placed *records;
  const girdle_stone *placed, *wanted;
  uint32_t placed_count;
  uint64_t wanted_count;
  int64_t record_count;
  kind *kinds;   /* placed_count of them */
  int64_t *lack; /* of each that is wanted: so many come from other kinds */
  int one_row;
} keeping;

static void count_kinds(keeping *k) {
  k->one_row = 1;
  for (int64_t i = 0; i < k->record_count; i++) {
    k->kinds[k->records[i].stone].there++;
    k->one_row &= k->records[i].row == k->records[0].row;
  }
}

static void match_kinds(keeping *k, const int64_t *pieces) {
  for (uint32_t i = 0; i < k->placed_count; i++)
    k->kinds[i].left_out = k->kinds[i].there;
  for (uint64_t w = 0; w < k->wanted_count; w++) {
    k->lack[w] = pieces[w];
    for (uint32_t i = 0; i < k->placed_count; i++) {
      int64_t same = k->kinds[i].left_out < k->lack[w] ? k->kinds[i].left_out : k->lack[w];
      if (!girdle_stone_equal(&k->placed[i], &k->wanted[w])) continue;
      k->kinds[i].left_out -= same;
      k->lack[w] -= same;
    }
  }
}

/* What is too many of one kind stands in for another of its size. */
static int64_t turn_kinds(keeping *k, uint64_t w) {
  int64_t left = k->lack[w];
  for (uint32_t i = 0; i < k->placed_count && left; i++) {
    int64_t turned = k->kinds[i].left_out < left ? k->kinds[i].left_out : left;
    if (!girdle_stone_same_place(&k->placed[i], &k->wanted[w])) continue;
    k->kinds[i].left_out -= turned;
    k->kinds[i].turned += turned;
    left -= turned;
  }
  return left;
}

static int32_t share_kinds(girdle_call *call, const char *zone, keeping *k, const int64_t *pieces) {
  char text[160];
  match_kinds(k, pieces);
  for (uint64_t w = 0; w < k->wanted_count; w++) {
    int64_t short_of = turn_kinds(k, w);
    if (!short_of) continue;
    girdle_stone_text(&k->wanted[w], text, sizeof text);
    return girdle_common_fail(
        call, GIRDLE_GEOMETRY, "pieces",
        "%.60s: there is room for %lld of the %lld %.60s that are wanted; a smaller gap holds more", zone,
        (long long)(pieces[w] - short_of), (long long)pieces[w], text);
  }
  return GIRDLE_OK;
}

/* Whether the next of `all`, the one after `before`, is among `few` that are spread evenly over them. */
static int is_among(int64_t before, int64_t few, int64_t all) {
  return ((before + 1) * few + all / 2) / all > (before * few + all / 2) / all;
}

/* In one row those that go are spread over it; of several rows the last ones go, so that no hole is left. */
static int stays(const keeping *k, kind *of) {
  int64_t before = of->seen++;
  return k->one_row ? !is_among(before, of->left_out, of->there) : before < of->there - of->left_out;
}

/* The kind of its size that lacks most. */
static uint64_t turned_to(const keeping *k, const girdle_stone *stone) {
  uint64_t best = k->wanted_count;
  for (uint64_t w = 0; w < k->wanted_count; w++)
    if (k->lack[w] > 0 && girdle_stone_same_place(stone, &k->wanted[w]) &&
        (best == k->wanted_count || k->lack[w] > k->lack[best]))
      best = w;
  k->lack[best]--;
  return best;
}

static uint64_t same_kind(const keeping *k, const girdle_stone *stone) {
  uint64_t w = 0;
  while (!girdle_stone_equal(stone, &k->wanted[w]))
    w++;
  return w;
}

static uint64_t keep_records(const keeping *k, girdle_placed *out) {
  uint64_t kept = 0;
  for (int64_t i = 0; i < k->record_count; i++) {
    const girdle_stone *stone = &k->placed[k->records[i].stone];
    kind *of = &k->kinds[k->records[i].stone];
    int64_t before;
    if (!stays(k, of)) continue;
    before = of->kept++;
    out[kept] = k->records[i];
    out[kept++].stone =
        (uint16_t)(is_among(before, of->turned, of->there - of->left_out) ? turned_to(k, stone) : same_kind(k, stone));
  }
  return kept;
}

static int32_t keep_in(girdle_call *call, const char *zone, keeping *k, const int64_t *pieces, girdle_placed *room,
                       girdle_placement **out) {
  count_kinds(k);
  GIRDLE_TRY(share_kinds(call, zone, k, pieces));
  return girdle_placement_new(call, k->wanted, (uint32_t)k->wanted_count, room, keep_records(k, room), out);
}

static int32_t check(girdle_call *call, const keeping *k, const int64_t *pieces) {
  GIRDLE_TRY(girdle_common_range(call, "pieces", (double)k->wanted_count, 0, 65535, "kinds"));
  GIRDLE_TRY(girdle_common_range(call, "pieces", (double)k->wanted_count * k->placed_count, 0, CELLS_MOST, "kinds"));
  for (uint64_t w = 0; w < k->wanted_count; w++) {
    GIRDLE_TRY(girdle_common_range(call, "pieces", (double)pieces[w], 0, 1e9, ""));
    for (uint64_t other = 0; other < w; other++)
      if (girdle_stone_equal(&k->wanted[w], &k->wanted[other]))
        return girdle_common_fail(call, GIRDLE_ARGUMENT, "pieces", "a stone is named twice");
  }
  return GIRDLE_OK;
}

static int32_t keep_of(girdle_call *call, const girdle_zone *zone, const girdle_stone *stones, const int64_t *pieces,
                       uint64_t count, girdle_placement **out) {
  girdle_allocator memory = girdle_common_memory(call);
  keeping k = {.wanted = stones, .wanted_count = count};
  uint64_t kinds_bytes, lack_bytes = (count + 1) * sizeof *k.lack, room_bytes;
  girdle_placed *room;
  int32_t status = GIRDLE_MEMORY;
  k.record_count = girdle_placement_view(zone->placement, &k.records, &k.placed, &k.placed_count);
  GIRDLE_TRY(check(call, &k, pieces));
  kinds_bytes = (k.placed_count + 1) * sizeof *k.kinds;
  room_bytes = ((uint64_t)k.record_count + 1) * sizeof *room;
  k.kinds = girdle_common_new(call, kinds_bytes);
  k.lack = k.kinds ? girdle_common_new(call, lack_bytes) : NULL;
  room = k.lack ? girdle_common_new(call, room_bytes) : NULL;
  if (room) status = keep_in(call, zone->name, &k, pieces, room, out);
  girdle_common_release(&memory, room, room_bytes);
  girdle_common_release(&memory, k.lack, lack_bytes);
  girdle_common_release(&memory, k.kinds, kinds_bytes);
  return status;
}

int32_t girdle_job_keep_pieces(girdle_call *call, girdle_job *job, uint64_t which, const girdle_stone *stones,
                               const int64_t *pieces, uint64_t count) {
  GIRDLE_GIVEN(call, job, stones || !count, pieces || !count);
  uint64_t zone_count;
  girdle_zone *zones = girdle_job_own_zones(job, &zone_count);
  girdle_placement *kept;
  if (which >= zone_count || !zones[which].placement)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "zone", "there is no zone of the number %llu with stones in place",
                              (unsigned long long)which);
  GIRDLE_TRY(keep_of(call, &zones[which], stones, pieces, count, &kept));
  girdle_placement_free((girdle_placement *)(uintptr_t)zones[which].placement); /* the job's own copy */
  zones[which].placement = kept;
  return GIRDLE_OK;
}
