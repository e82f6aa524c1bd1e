/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "job_internal.h"

/* One picture on a costume of another size: every stone goes where the box of its zone carries it and keeps its size.
 * Where a row has become too short for its stones, as few as must go are left out, evenly over the row, and the others
 * close up along it; what then still overlaps an earlier stone is left out, too. */

typedef struct picture {
  const girdle_placed *before; /* `count` of them */
  const girdle_stone *stones;
  uint64_t count;
  uint32_t stone_count;
  girdle_placed *carried, *records; /* carried: as the box carries them; records: where they come to stand */
  double *room; /* two numbers a stone: where along its row it was carried, and where it is to stand */
  unsigned char *gone;
  int64_t closed_up;
} picture;

/* A stretch of one row with its stones evenly apart; closed when its end meets its beginning. */
typedef struct stretch {
  uint64_t from, count;
  int closed;
} stretch;

static const double touch_mm = 2e-4; /* what a promise of no overlap allows */

static double apart(const girdle_placed *a, const girdle_placed *b) {
  return hypot(b->x_mm - a->x_mm, b->y_mm - a->y_mm);
}

static double radius_mm(const picture *p, uint64_t i) {
  return girdle_stone_circle_mm(&p->stones[p->before[i].stone]);
}

/* ---- finding rows */

/* Whether stone i + 1 stands to stone i as i does to i - 1: the next in a row, and no further off. */
static int goes_on(const picture *p, uint64_t i) {
  double last = apart(&p->before[i - 1], &p->before[i]), next = apart(&p->before[i], &p->before[i + 1]);
  return p->before[i + 1].row == p->before[i].row && next < 2 * last && last < 2 * next;
}

static stretch stretch_from(const picture *p, uint64_t from) {
  stretch row = {from, 1, 0};
  double first, last;
  if (from + 1 < p->count && p->before[from + 1].row == p->before[from].row) row.count = 2;
  while (row.count > 1 && from + row.count < p->count && goes_on(p, from + row.count - 1))
    row.count++;
  if (row.count < 4) return row;
  first = apart(&p->before[from], &p->before[from + 1]);
  last = apart(&p->before[from + row.count - 1], &p->before[from]);
  row.closed = last < 2 * first && first < 2 * last;
  return row;
}

/* ---- closing a row up */

static uint64_t after(const stretch *row, uint64_t place) {
  return row->from + (place + 1 < row->count ? place + 1 : 0);
}

static int is_tight(const picture *p, const stretch *row) {
  uint64_t pairs = row->count - !row->closed;
  for (uint64_t k = 0; k < pairs; k++) {
    uint64_t i = row->from + k, j = after(row, k);
    if (apart(&p->carried[i], &p->carried[j]) < radius_mm(p, i) + radius_mm(p, j) - touch_mm) return 1;
  }
  return 0;
}

/* Where each stone was carried, measured along the row; returns the row's length. */
static double measure(const picture *p, const stretch *row) {
  double along = 0;
  for (uint64_t k = 0; k < row->count; k++) {
    p->room[2 * k] = along;
    if (k + 1 < row->count || row->closed) along += apart(&p->carried[row->from + k], &p->carried[after(row, k)]);
  }
  return along;
}

/* The k-th of `kept` stones, evenly taken out of all of the row; an open row keeps both ends. */
static uint64_t kept_stone(const stretch *row, uint64_t kept, uint64_t k) {
  if (row->closed) return row->from + k * row->count / kept;
  return row->from + (kept > 1 ? (2 * k * (row->count - 1) + kept - 1) / (2 * (kept - 1)) : 0);
}

/* Sets so many stones along the row with one gap between them; returns 0 when there is no room. */
static int space(const picture *p, const stretch *row, uint64_t kept, double length_mm) {
  uint64_t gaps = kept - !row->closed;
  double taken = 0, gap, along = 0;
  for (uint64_t k = 0; k < gaps; k++)
    taken += radius_mm(p, kept_stone(row, kept, k)) + radius_mm(p, kept_stone(row, kept, (k + 1) % kept));
  gap = gaps ? (length_mm - taken) / (double)gaps : 0;
  if (gap < 0) return 0;
  for (uint64_t k = 0; k < kept; k++) {
    p->room[2 * k + 1] = along;
    along += radius_mm(p, kept_stone(row, kept, k)) + radius_mm(p, kept_stone(row, kept, (k + 1) % kept)) + gap;
  }
  return 1;
}

/* A place along the row as it was carried. */
static void place_along(const picture *p, const stretch *row, double along, girdle_placed *out) {
  uint64_t k = 0;
  double from, length;
  const girdle_placed *a, *b;
  while (k + 1 < row->count && p->room[2 * (k + 1)] <= along)
    k++;
  a = &p->carried[row->from + k];
  b = &p->carried[after(row, k)];
  from = p->room[2 * k];
  length = apart(a, b);
  along = length > 0 ? (along - from) / length : 0;
  out->x_mm = a->x_mm + (b->x_mm - a->x_mm) * along;
  out->y_mm = a->y_mm + (b->y_mm - a->y_mm) * along;
}

static int overlaps_next(const picture *p, const stretch *row, uint64_t kept) {
  for (uint64_t k = 0; k + !row->closed < kept; k++) {
    uint64_t i = kept_stone(row, kept, k), j = kept_stone(row, kept, (k + 1) % kept);
    if (i != j && apart(&p->records[i], &p->records[j]) < radius_mm(p, i) + radius_mm(p, j) - touch_mm) return 1;
  }
  return 0;
}

static void set_row(const picture *p, const stretch *row, uint64_t kept) {
  for (uint64_t k = 0; k < kept; k++)
    place_along(p, row, p->room[2 * k + 1], &p->records[kept_stone(row, kept, k)]);
}

static void drop_rest(picture *p, const stretch *row, uint64_t kept) {
  memset(p->gone + row->from, 1, (size_t)row->count);
  for (uint64_t k = 0; k < kept; k++)
    p->gone[kept_stone(row, kept, k)] = 0;
  p->closed_up += (int64_t)kept;
}

static int32_t close_up(girdle_call *call, picture *p, const stretch *row) {
  double length = measure(p, row);
  uint64_t kept = row->count;
  for (; kept > 1; kept--) {
    GIRDLE_TRY(girdle_common_tick(call, row->count, -1));
    if (!space(p, row, kept, length)) continue;
    set_row(p, row, kept);
    if (!overlaps_next(p, row, kept)) break;
  }
  drop_rest(p, row, kept);
  return GIRDLE_OK;
}

static int32_t close_rows(girdle_call *call, picture *p) {
  for (uint64_t from = 0; from < p->count;) {
    stretch row = stretch_from(p, from);
    if (row.count > 2 && is_tight(p, &row)) GIRDLE_TRY(close_up(call, p, &row));
    from += row.count;
  }
  return GIRDLE_OK;
}

/* ---- what still overlaps */

/* Moves the records that stay to the front. */
static uint64_t pack(picture *p) {
  uint64_t kept = 0;
  for (uint64_t i = 0; i < p->count; i++)
    if (!p->gone[i]) p->records[kept++] = p->records[i];
  memset(p->gone, 0, (size_t)p->count);
  return kept;
}

/* Pairs come in order of their first stone, so whether that stays is known by then. */
static int32_t drop_overlaps(girdle_call *call, picture *p, const girdle_placement *of) {
  girdle_allocator memory = girdle_common_memory(call);
  girdle_overlap *pairs;
  uint64_t count = 0, bytes;
  int32_t status;
  GIRDLE_TRY(girdle_placement_overlaps(call, of, NULL, 0, &count));
  bytes = (count + 1) * sizeof *pairs;
  pairs = girdle_common_new(call, bytes);
  if (!pairs) return GIRDLE_MEMORY;
  status = girdle_placement_overlaps(call, of, pairs, count, &count);
  for (uint64_t i = 0; i < count && !status; i++)
    if (!p->gone[pairs[i].first]) p->gone[pairs[i].second] = 1;
  girdle_common_release(&memory, pairs, bytes);
  return status;
}

static int32_t make(girdle_call *call, picture *p, girdle_placement **out) {
  girdle_placement *all = NULL;
  uint64_t kept = p->count = pack(p);
  int32_t status = girdle_placement_new(call, p->stones, p->stone_count, p->records, kept, &all);
  if (!status) status = drop_overlaps(call, p, all);
  girdle_placement_free(all);
  return status ? status : girdle_placement_new(call, p->stones, p->stone_count, p->records, pack(p), out);
}

/* ---- carrying */

static double carried(double at, double from_least, double from_most, double onto_least, double onto_most) {
  double from = from_most - from_least, onto = onto_most - onto_least;
  return onto_least + (at - from_least) * (from > touch_mm && onto > touch_mm ? onto / from : 1);
}

static void carry(picture *p, const girdle_box *from, const girdle_box *onto) {
  for (uint64_t i = 0; i < p->count; i++) {
    p->carried[i] = p->before[i];
    p->carried[i].x_mm = carried(p->before[i].x_mm, from->left_mm, from->right_mm, onto->left_mm, onto->right_mm);
    p->carried[i].y_mm = carried(p->before[i].y_mm, from->top_mm, from->bottom_mm, onto->top_mm, onto->bottom_mm);
    p->records[i] = p->carried[i];
  }
}

static int32_t check_box(girdle_call *call, const char *field, const girdle_box *box) {
  const double sides[4] = {box->left_mm, box->top_mm, box->right_mm, box->bottom_mm};
  for (int i = 0; i < 4; i++)
    GIRDLE_TRY(girdle_common_range(call, field, sides[i], -1e7, 1e7, "mm"));
  if (box->right_mm >= box->left_mm && box->bottom_mm >= box->top_mm) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, field, "%s: its right and bottom come before its left and top",
                            field);
}

/* One block for all that is needed meanwhile. */
static uint64_t room_bytes(uint64_t count) {
  return (count + 1) * (2 * sizeof(girdle_placed) + 2 * sizeof(double) + 1);
}

static void *take_room(girdle_call *call, picture *p) {
  char *room = girdle_common_new(call, room_bytes(p->count));
  if (!room) return NULL;
  p->carried = (girdle_placed *)(void *)room;
  p->records = p->carried + p->count;
  p->room = (double *)(void *)(p->records + p->count);
  p->gone = (unsigned char *)(p->room + 2 * p->count);
  return room;
}

int32_t girdle_picture_carry(girdle_call *call, const girdle_placement *from, const girdle_box *from_box,
                             const girdle_box *onto_box, int64_t *closed_up, girdle_placement **out) {
  GIRDLE_GIVEN(call, from, from_box, onto_box, closed_up, out);
  girdle_allocator memory = girdle_common_memory(call);
  picture p;
  uint64_t bytes;
  void *room;
  int32_t status;
  memset(&p, 0, sizeof p);
  GIRDLE_TRY(check_box(call, "from_box", from_box));
  GIRDLE_TRY(check_box(call, "onto_box", onto_box));
  p.count = (uint64_t)girdle_placement_view(from, &p.before, &p.stones, &p.stone_count);
  bytes = room_bytes(p.count);
  room = take_room(call, &p);
  if (!room) return GIRDLE_MEMORY;
  carry(&p, from_box, onto_box);
  status = close_rows(call, &p);
  if (!status) status = make(call, &p, out);
  if (!status) *closed_up = p.closed_up;
  girdle_common_release(&memory, room, bytes);
  return status;
}

/* ---- the zones of a costume */

static const girdle_zone *zone_like(const girdle_job *sample, const girdle_zone *zone) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(sample, &count);
  for (uint64_t i = 0; i < count; i++)
    if (zones[i].placement && strcmp(zones[i].name, zone->name) == 0 && strcmp(zones[i].side, zone->side) == 0)
      return &zones[i];
  return NULL;
}

/* Of the shape where it is known, otherwise of the stones' points. */
static int box_of(const girdle_zone *zone, girdle_box *out) {
  const girdle_placed *records;
  int64_t count = girdle_placement_view(zone->placement, &records, NULL, NULL);
  *out = zone->box;
  if (!isnan(out->left_mm)) return 1;
  *out = (girdle_box){INFINITY, INFINITY, -INFINITY, -INFINITY};
  for (int64_t i = 0; i < count; i++) {
    out->left_mm = fmin(out->left_mm, records[i].x_mm);
    out->top_mm = fmin(out->top_mm, records[i].y_mm);
    out->right_mm = fmax(out->right_mm, records[i].x_mm);
    out->bottom_mm = fmax(out->bottom_mm, records[i].y_mm);
  }
  return count > 0;
}

static int32_t keep_zone(girdle_call *call, girdle_zone *zone, const girdle_zone *like) {
  girdle_box from, onto;
  girdle_placement *made_new;
  if (!box_of(like, &from) || !box_of(zone, &onto)) return GIRDLE_OK;
  GIRDLE_TRY(girdle_picture_carry(call, like->placement, &from, &onto, &zone->closed_up, &made_new));
  zone->dropped =
      girdle_placement_view(like->placement, NULL, NULL, NULL) - girdle_placement_view(made_new, NULL, NULL, NULL);
  girdle_placement_free((girdle_placement *)(uintptr_t)zone->placement); /* the job's own copy */
  zone->placement = made_new;
  return GIRDLE_OK;
}

int32_t girdle_job_keep_picture(girdle_call *call, girdle_job *job, const girdle_job *sample) {
  GIRDLE_GIVEN(call, job, sample);
  uint64_t count;
  girdle_zone *zones = girdle_job_own_zones(job, &count);
  for (uint64_t i = 0; i < count && job != sample; i++) {
    const girdle_zone *like = zones[i].alike == GIRDLE_ALIKE_PICTURE ? zone_like(sample, &zones[i]) : NULL;
    if (like && zones[i].placement) GIRDLE_TRY(keep_zone(call, &zones[i], like));
  }
  return GIRDLE_OK;
}
