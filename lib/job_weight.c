/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

void girdle_weight_options_init(girdle_weight_options *options, uint32_t struct_bytes) {
  girdle_weight_options plain;
  memset(&plain, 0, sizeof plain);
  plain.struct_bytes = struct_bytes;
  plain.dress_mg = plain.most_share = plain.most_g_m2 = plain.most_g_cm = NAN;
  memset(options, 0, struct_bytes);
  memcpy(options, &plain, struct_bytes < sizeof plain ? struct_bytes : sizeof plain);
}

/* ---- splitting at the side seams */

typedef struct span {
  double least, most;
} span;

static void stretch(span *s, double from, double to) {
  s->least = fmin(s->least, from);
  s->most = fmax(s->most, to);
}

/* 1 for the front. */
static int is_front(const girdle_placed *at, const span *x, const span *y) {
  if (y->most - y->least < (x->most - x->least) / 4) return at->x_mm <= (x->least + x->most) / 2;
  return at->y_mm >= (y->least + y->most) / 2;
}

static int32_t pick(girdle_call *call, const girdle_placement *from, int front, girdle_placed *room,
                    girdle_placement **out) {
  const girdle_placed *records;
  const girdle_stone *stones;
  uint32_t stone_count;
  int64_t count = girdle_placement_view(from, &records, &stones, &stone_count);
  uint64_t kept = 0;
  span x = {INFINITY, -INFINITY}, y = {INFINITY, -INFINITY};
  for (int64_t i = 0; i < count; i++) {
    stretch(&x, records[i].x_mm, records[i].x_mm);
    stretch(&y, records[i].y_mm, records[i].y_mm);
  }
  for (int64_t i = 0; i < count; i++)
    if (is_front(&records[i], &x, &y) == front) room[kept++] = records[i];
  return girdle_placement_new(call, stones, stone_count, room, kept, out);
}

int32_t girdle_zone_split(girdle_call *call, const girdle_placement *both, girdle_placement **front,
                          girdle_placement **back) {
  GIRDLE_GIVEN(call, both, front, back);
  girdle_allocator memory = girdle_common_memory(call);
  uint64_t bytes = ((uint64_t)girdle_placement_view(both, NULL, NULL, NULL) + 1) * sizeof(girdle_placed);
  girdle_placed *room = girdle_common_new(call, bytes);
  girdle_placement *first = NULL, *second = NULL;
  int32_t status = room ? pick(call, both, 1, room, &first) : GIRDLE_MEMORY;
  if (!status) status = pick(call, both, 0, room, &second);
  girdle_common_release(&memory, room, bytes);
  if (status) {
    girdle_placement_free(first);
    return status;
  }
  *front = first;
  *back = second;
  return GIRDLE_OK;
}

/* ---- one zone */

/* The nominal diameter of the next smaller size that several charts agree on; NaN when there is none. */
static double smaller_mm(double diameter_mm) {
  uint64_t count;
  const girdle_size *sizes = girdle_sizes(&count);
  double best = NAN;
  for (uint64_t i = 0; i < count; i++) {
    double nominal = sizes[i].diameter_mm[GIRDLE_NOMINAL];
    if (sizes[i].certainty != GIRDLE_SEVERAL_CHARTS || nominal >= diameter_mm - 1e-9) continue;
    if (!(best > nominal)) best = nominal;
  }
  return best;
}

/* Solids of one cut are alike in shape, so masses go by the cube. */
static void add_line(const girdle_tally_line *line, girdle_zone_weight *out, int32_t *at_least) {
  double diameter = line->stone.diameter_mm[GIRDLE_NOMINAL], shrunk = smaller_mm(diameter) / diameter;
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    out->mass_mg[i] += line->mass_mg[i];
  out->smaller_mg += line->mass_mg[GIRDLE_NOMINAL] * shrunk * shrunk * shrunk;
  out->stones += line->count;
  if (line->stone.flags & GIRDLE_MASS_AT_LEAST) *at_least = 1;
}

/* A zone's stones on both sides are counted on each. */
static int is_of(const girdle_tally_line *line, const girdle_zone_weight *zone) {
  if (strcmp(line->zone, zone->name) != 0) return 0;
  if (strcmp(line->side, zone->side) == 0) return 1;
  return strcmp(zone->side, "both") == 0 && (strcmp(line->side, "front") == 0 || strcmp(line->side, "back") == 0);
}

static void add_lines(const girdle_tally *tally, girdle_zone_weight *out, int32_t *at_least) {
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &count);
  for (uint64_t i = 0; i < count; i++)
    if (is_of(&lines[i], out)) add_line(&lines[i], out, at_least);
}

/* How much clear fabric grows from lying to being worn. */
static double worn_factor(const girdle_fabric *fabric) {
  double worn = isnan(fabric->worn_across) ? fabric->lies_across : fabric->worn_across;
  return (1 + worn) / (1 + fabric->lies_across);
}

/* The narrowest between stones that follow each other in a row; NaN where no row has two. */
static double narrowest_in_rows(const girdle_placement *placement) {
  const girdle_placed *records;
  uint64_t count = (uint64_t)girdle_placement_view(placement, &records, NULL, NULL);
  double least = INFINITY;
  for (uint64_t i = 1; i < count; i++) {
    girdle_shape a, b;
    if (records[i - 1].row != records[i].row) continue;
    a = girdle_place_shape(placement, i - 1);
    b = girdle_place_shape(placement, i);
    least = fmin(least, girdle_place_apart(&a, &b));
  }
  return isfinite(least) ? least : NAN;
}

/* The narrowest gap between any two stones, and how many stones have another nearer than the reach. */
static int32_t look_between(girdle_call *call, const girdle_placement *placement, double reach_mm, double *narrowest_mm,
                            int32_t *nearer) {
  static const double farthest_mm = 1e4;
  uint64_t count = (uint64_t)girdle_placement_view(placement, NULL, NULL, NULL);
  double least = farthest_mm;
  girdle_crowd crowd;
  int32_t status = GIRDLE_OK;
  GIRDLE_TRY(girdle_crowd_of(call, placement, &crowd));
  for (uint64_t i = 0; i < count && !status; i++) {
    girdle_shape stone = girdle_place_shape(placement, i);
    double gap = girdle_crowd_apart(&crowd, &stone, fmax(least, reach_mm), &i, 1);
    least = fmin(least, gap);
    if (gap < reach_mm && *nearer < INT32_MAX) ++*nearer;
    if (i % 1024 == 1023) status = girdle_common_tick(call, 1024, -1);
  }
  girdle_crowd_free(&crowd);
  *narrowest_mm = least < farthest_mm ? least : NAN;
  return status;
}

/* Along an edge the gap is that of its rows, however near another row lies. */
static int32_t add_gaps(girdle_call *call, const girdle_zone *zone, const girdle_fabric *fabric,
                        girdle_zone_weight *out) {
  double factor = worn_factor(fabric), in_rows;
  out->glued_gap_mm = out->worn_gap_mm = NAN;
  if (!zone->placement) return GIRDLE_OK;
  GIRDLE_TRY(
      look_between(call, zone->placement, GIRDLE_TOUCHING_MM / fmin(factor, 1), &out->glued_gap_mm, &out->touching));
  in_rows = isfinite(zone->edge_mm) ? narrowest_in_rows(zone->placement) : NAN;
  if (isfinite(in_rows)) out->glued_gap_mm = in_rows;
  out->worn_gap_mm = out->glued_gap_mm > 0 ? out->glued_gap_mm * factor : out->glued_gap_mm;
  return GIRDLE_OK;
}

static void judge_zone(const girdle_zone *zone, const girdle_weight_options *options, girdle_zone_weight *out) {
  double grams = out->mass_mg[GIRDLE_NOMINAL] / 1000 / (double)zone->times; /* of one piece */
  out->g_m2 = grams / (zone->area_mm2 / 1e6);
  out->g_cm = grams / (zone->edge_mm / 10);
  if (out->g_m2 > options->most_g_m2) out->over |= GIRDLE_OVER_AREA;
  if (out->g_cm > options->most_g_cm) out->over |= GIRDLE_OVER_EDGE;
}

static int32_t weigh_zone(girdle_call *call, const girdle_job *job, const girdle_zone *zone, const girdle_tally *tally,
                          const girdle_weight_options *options, girdle_zone_weight *out, int32_t *at_least) {
  memset(out, 0, sizeof *out);
  memcpy(out->name, zone->name, sizeof out->name);
  memcpy(out->side, zone->side, sizeof out->side);
  add_lines(tally, out, at_least);
  GIRDLE_TRY(add_gaps(call, zone, &girdle_job_head_of(job)->fabric, out));
  judge_zone(zone, options, out);
  return GIRDLE_OK;
}

/* ---- sides */

static int32_t mass_of(girdle_call *call, const girdle_placement *placement, double *mass_mg) {
  girdle_tally *tally;
  girdle_tally_line total;
  int32_t status;
  GIRDLE_TRY(girdle_tally_new(call, &tally));
  status = girdle_tally_add(call, tally, "", "", "", 1, placement);
  girdle_tally_total(tally, &total);
  *mass_mg = total.mass_mg[GIRDLE_NOMINAL];
  girdle_tally_free(tally);
  return status;
}

static int32_t split_share(girdle_call *call, const girdle_placement *placement, double *share) {
  girdle_placement *front, *back;
  double front_mg = 0, back_mg = 0;
  int32_t status;
  GIRDLE_TRY(girdle_zone_split(call, placement, &front, &back));
  status = mass_of(call, front, &front_mg);
  if (!status) status = mass_of(call, back, &back_mg);
  if (front_mg + back_mg > 0) *share = front_mg / (front_mg + back_mg);
  girdle_placement_free(front);
  girdle_placement_free(back);
  return status;
}

/* The share of a zone's mass that is at the front; what is set by eye lies as what is placed. */
static int32_t front_share(girdle_call *call, const girdle_zone *zone, double *share) {
  *share = strcmp(zone->side, "front") == 0 ? 1 : strcmp(zone->side, "back") == 0 ? 0 : 0.5;
  if (strcmp(zone->side, "both") != 0 || !zone->placement) return GIRDLE_OK;
  return split_share(call, zone->placement, share);
}

static int rests(const girdle_weight_options *options, const char *name) {
  for (uint64_t i = 0; i < options->rest_count; i++)
    if (strcmp(options->rests[i], name) == 0) return 1;
  return 0;
}

static int32_t add_zone(girdle_call *call, const girdle_zone *zone, const girdle_zone_weight *weight,
                        const girdle_weight_options *options, girdle_weight *sum) {
  double mass = weight->mass_mg[GIRDLE_NOMINAL], front,
         left = strcmp(zone->side, "left") == 0    ? 1
                : strcmp(zone->side, "right") == 0 ? 0
                                                   : 0.5;
  GIRDLE_TRY(front_share(call, zone, &front));
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    sum->added_mg[i] += weight->mass_mg[i];
  sum->stones += weight->stones;
  sum->front_mg += mass * front;
  sum->back_mg += mass * (1 - front);
  sum->left_mg += mass * left;
  sum->right_mg += mass * (1 - left);
  if (!rests(options, zone->name)) sum->hanging_mg += mass;
  return GIRDLE_OK;
}

/* ---- the whole */

static int32_t check(girdle_call *call, const girdle_weight_options *options) {
  if (!isnan(options->dress_mg)) GIRDLE_TRY(girdle_common_range(call, "dress", options->dress_mg, 1, 1e9, "mg"));
  if (!isnan(options->most_share)) GIRDLE_TRY(girdle_common_range(call, "most share", options->most_share, 0, 100, ""));
  if (!isnan(options->most_g_m2))
    GIRDLE_TRY(girdle_common_range(call, "most by area", options->most_g_m2, 0, 1e6, "g/m2"));
  return isnan(options->most_g_cm) ? GIRDLE_OK
                                   : girdle_common_range(call, "most by edge", options->most_g_cm, 0, 1e6, "g/cm");
}

static void judge(const girdle_weight_options *options, girdle_weight *sum) {
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    sum->dress_share[i] = sum->added_mg[i] / options->dress_mg;
  if (!isnan(options->dress_mg)) sum->hanging_mg += options->dress_mg;
  if (sum->dress_share[GIRDLE_NOMINAL] > options->most_share) sum->over |= GIRDLE_OVER_SHARE;
}

static int32_t weigh_zones(girdle_call *call, const girdle_job *job, const girdle_tally *tally,
                           const girdle_weight_options *options, girdle_weight *sum, girdle_zone_weight *zones,
                           uint64_t capacity) {
  uint64_t count;
  const girdle_zone *rows = girdle_job_zones(job, &count);
  double heaviest = -1;
  for (uint64_t i = 0; i < count; i++) {
    girdle_zone_weight weight;
    GIRDLE_TRY(weigh_zone(call, job, &rows[i], tally, options, &weight, &sum->at_least));
    GIRDLE_TRY(add_zone(call, &rows[i], &weight, options, sum));
    sum->over |= weight.over;
    if (weight.mass_mg[GIRDLE_NOMINAL] > heaviest) {
      heaviest = weight.mass_mg[GIRDLE_NOMINAL];
      sum->heaviest = i;
    }
    if (i < capacity) zones[i] = weight;
  }
  return GIRDLE_OK;
}

int32_t girdle_job_weigh(girdle_call *call, const girdle_job *job, const girdle_weight_options *options,
                         girdle_weight *out, girdle_zone_weight *zones, uint64_t capacity) {
  GIRDLE_GIVEN(call, job, out, zones || !capacity);
  girdle_weight_options own;
  girdle_weight sum;
  girdle_tally *tally = NULL;
  int32_t status;
  girdle_weight_options_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, options);
  memset(&sum, 0, sizeof sum);
  GIRDLE_TRY(check(call, &own));
  GIRDLE_TRY(girdle_job_tally(call, job, &tally));
  status = weigh_zones(call, job, tally, &own, &sum, zones, capacity);
  girdle_tally_free(tally);
  if (status) return status;
  judge(&own, &sum);
  *out = sum;
  return GIRDLE_OK;
}
