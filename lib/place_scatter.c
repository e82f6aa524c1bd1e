/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/place.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* A scatter: stones of each size are sown in turn, the largest first. Of one size, as many as fit; of several, so many
 * that the shares hold. Which colour lies where is shared out afterwards, so that each is itself evenly spread. */

#define PI 3.14159265358979323846
#define JAMMED 0.69655      /* centres a square of the least distance when no more fit (measured, see the tests) */
#define DENSER 1.35         /* times as many, set beside each other (measured) */
#define NEARLY_JAMMED 0.55  /* the same when sown quickly, on the safe side */
#define CLOSER 0.8          /* times the spacing that would do, so that there is much to choose from (measured) */
#define SCARCE 0.95         /* times the least distance: a spacing below leaves too little to choose from (measured) */
#define SURPLUS 1.4         /* times as many as are kept of mixed sizes, at most, stand there before they are thinned */
#define COUNTED_SPACING 0.6 /* of the honeycomb's distance, promised when a count is asked for */
enum { TRIES = 8 };

/* Stones of one size across. */
typedef struct kind {
  double radius, weight;
  uint64_t first, count; /* in the order by size */
} kind;

typedef struct scatter {
  girdle_call *call;
  girdle_allocator memory;
  girdle_scatter_options options;
  girdle_field field;
  girdle_crowd around;
  girdle_sowing sowing;
  uint64_t stones;  /* of weight above 0 */
  uint16_t *number; /* of each stone, by falling size, in the placement */
  double *weights;  /* of each stone, in the same order */
  kind *kinds;
  uint64_t kind_count, *counts; /* of each kind, when shared out */
  double area_mm2, perimeter_mm;
} scatter;

/* ---- sizes */

static double weight_of(const girdle_scatter_options *options, uint64_t stone) {
  return options->weights ? options->weights[stone] : 1;
}

/* Largest first; stones alike in size stay in order. */
static void order_stones(scatter *work, girdle_span *order) {
  work->stones = 0;
  for (uint64_t i = 0; i < work->options.stone_count; i++) {
    girdle_span item = {-girdle_place_radius(&work->options.stones[i]), 0, (uint32_t)i, -(int32_t)i};
    if (weight_of(&work->options, i) > 0) order[work->stones++] = item;
  }
  girdle_place_sort(order, work->stones);
}

static void group_stones(scatter *work, const girdle_span *order, const uint16_t *index) {
  for (uint64_t i = 0; i < work->stones; i++) {
    kind *last = work->kind_count ? &work->kinds[work->kind_count - 1] : NULL;
    work->number[i] = index[order[i].layer];
    work->weights[i] = weight_of(&work->options, order[i].layer);
    if (!last || last->radius != -order[i].from) {
      kind next = {-order[i].from, 0, i, 0};
      last = &work->kinds[work->kind_count++];
      *last = next;
    }
    last->count++;
    last->weight += work->weights[i];
  }
}

static int32_t list_kinds(scatter *work, girdle_placement *placement) {
  uint64_t count = work->options.stone_count, order_bytes = count * sizeof(girdle_span);
  girdle_span *order = girdle_common_new(work->call, order_bytes);
  uint16_t *index = order ? girdle_common_new(work->call, count * sizeof *index) : NULL;
  int32_t status =
      index ? girdle_place_palette(work->call, placement, work->options.stones, count, index) : GIRDLE_MEMORY;
  if (!status) {
    order_stones(work, order);
    work->number = girdle_common_new(work->call, count * sizeof *work->number);
    work->weights = work->number ? girdle_common_new(work->call, count * sizeof *work->weights) : NULL;
    work->kinds = work->weights ? girdle_common_new(work->call, count * sizeof *work->kinds) : NULL;
    work->counts = work->kinds ? girdle_common_new(work->call, count * sizeof *work->counts) : NULL;
    status = work->counts ? GIRDLE_OK : GIRDLE_MEMORY;
  }
  if (!status) group_stones(work, order, index);
  girdle_common_release(&work->memory, order, order_bytes);
  girdle_common_release(&work->memory, index, count * sizeof *index);
  return status;
}

/* ---- sowing */

static uint64_t sown(const scatter *work, uint64_t bed) {
  const girdle_sowing *sowing = &work->sowing;
  uint64_t end = bed + 1 < sowing->bed_count ? sowing->beds[bed + 1].first_record : sowing->placement->count;
  return end - sowing->beds[bed].first_record;
}

static void undo_all(scatter *work) {
  while (work->sowing.bed_count)
    girdle_sow_undo(&work->sowing);
}

/* What a stone of this radius may have its middle in, nearly. */
static double open_area(const scatter *work, double radius) {
  double reach = radius + work->options.margin_mm;
  return fmax(work->area_mm2 - work->perimeter_mm * reach + PI * reach * reach, work->area_mm2 / 100);
}

/* How many are found goes with the spacing to the power of 2 where they are alone, and down to 1.3 between others. */
static double narrower(double spacing, uint64_t found, uint64_t wanted) {
  double share = (double)found / (double)wanted;
  return spacing * fmax(0.98 * sqrt(share * sqrt(share)), 0.7);
}

static double least_distance(const scatter *work, const kind *sort) {
  return 2 * sort->radius + work->options.gap_mm;
}

/* At least `wanted` of a kind when it can be, spread as far apart as may be: at narrower and narrower spacings until
 * there are enough, at the narrowest all that fit (first amply, if so `how` says). */
static int32_t sow_at_least(scatter *work, const kind *sort, uint64_t wanted, double spacing, int how) {
  double least = least_distance(work, sort);
  for (;; girdle_sow_undo(&work->sowing)) {
    uint64_t found;
    if (spacing <= least && how == GIRDLE_SOW_QUICKLY) how = GIRDLE_SOW_ALL;
    GIRDLE_TRY(girdle_sow(&work->sowing, sort->radius, spacing, how));
    found = sown(work, work->sowing.bed_count - 1);
    if (found >= wanted || how == GIRDLE_SOW_ALL) return GIRDLE_OK;
    if (spacing <= least) how = GIRDLE_SOW_ALL;
    spacing = narrower(spacing, found, wanted);
  }
}

static double honeycomb_spacing(double area, double count) {
  return sqrt(2 * area / (sqrt(3.0) * count));
}

/* ---- one size */

static int32_t sow_count(scatter *work, uint64_t *most) {
  const kind *only = &work->kinds[0];
  double literal = COUNTED_SPACING * honeycomb_spacing(work->area_mm2, (double)work->options.count);
  uint64_t wanted = (uint64_t)work->options.count;
  *most = 0;
  for (int try = 0; try < TRIES; try++) {
    uint64_t found;
    work->sowing.seed = girdle_random_mixed(work->options.seed, (uint64_t)try);
    GIRDLE_TRY(sow_at_least(work, only, wanted, literal, GIRDLE_SOW_QUICKLY));
    found = sown(work, 0);
    if (found > *most) *most = found;
    if (found >= wanted) return girdle_sow_thin(&work->sowing, 0, wanted, work->area_mm2);
    undo_all(work);
  }
  return GIRDLE_GEOMETRY;
}

static int32_t scatter_one_size(scatter *work, uint64_t *most) {
  if (work->options.count) return sow_count(work, most);
  GIRDLE_TRY(girdle_sow(&work->sowing, work->kinds[0].radius, 0,
                        work->options.flags & GIRDLE_DENSE ? GIRDLE_SOW_DENSELY : GIRDLE_SOW_ALL));
  work->sowing.placement->notes.flags |= GIRDLE_NOTE_MAXIMAL;
  work->sowing.placement->notes.undecided_mm2 = work->sowing.undecided_mm2;
  return GIRDLE_OK;
}

/* ---- mixed sizes */

static double weight_at(const scatter *work, uint64_t k) {
  return work->kinds[k].weight;
}

static void apportion_kinds(scatter *work, uint64_t n, double *weights) {
  for (uint64_t k = 0; k < work->kind_count; k++)
    weights[k] = weight_at(work, k);
  girdle_apportion(weights, work->kind_count, n, work->counts);
}

/* How many would cover about half of the open area, each with half its gap. */
static double likely_count(const scatter *work) {
  double weights = 0, cover = 0;
  for (uint64_t k = 0; k < work->kind_count; k++) {
    double reach = work->kinds[k].radius + work->options.gap_mm / 2;
    weights += work->kinds[k].weight;
    cover += work->kinds[k].weight * PI * reach * reach / open_area(work, work->kinds[k].radius);
  }
  return fmax(0.54 * weights / cover, 1);
}

/* The area that the kinds before leave open to one. Stones set at random would leave exp(-taken / area) of it; these
 * keep apart, so a few leave more room between them, and many leave less (the factors were fitted to 48 scatters of two
 * to four sizes). */
static double free_area(const scatter *work, uint64_t k) {
  double area = open_area(work, work->kinds[k].radius), taken = 0;
  for (uint64_t j = 0; j < k; j++) {
    double reach = work->kinds[j].radius + work->kinds[k].radius + work->options.gap_mm;
    taken += (double)work->counts[j] * PI * reach * reach / area;
  }
  return area * exp(-taken * (0.65 + 0.45 * taken));
}

/* The smallest kind as densely as it goes when the area is to be filled up; else more of it than are wanted, as where
 * it may stand is uneven, and only a choice among many spreads it evenly. */
static int32_t sow_last(scatter *work, uint64_t wanted, double spacing) {
  const kind *last = &work->kinds[work->kind_count - 1];
  if (work->options.flags & GIRDLE_FILL_UP && !work->options.count) spacing = 0;
  return sow_at_least(work, last, wanted, CLOSER * spacing,
                      spacing < SCARCE * least_distance(work, last) ? GIRDLE_SOW_ALL : GIRDLE_SOW_AMPLY);
}

/* Sows n stones in their shares, a few more that are thinned again. */
static int32_t sow_shares(scatter *work, uint64_t n, double *weights) {
  apportion_kinds(work, n, weights);
  for (uint64_t k = 0; k < work->kind_count; k++) {
    uint64_t wanted = work->counts[k];
    double spacing = sqrt(NEARLY_JAMMED * free_area(work, k) / ((double)wanted + 1));
    if (k + 1 == work->kind_count) return sow_last(work, wanted, spacing);
    GIRDLE_TRY(sow_at_least(work, &work->kinds[k], wanted, spacing, GIRDLE_SOW_QUICKLY));
    if (sown(work, k) > wanted) GIRDLE_TRY(girdle_sow_thin(&work->sowing, k, wanted, work->area_mm2));
  }
  return GIRDLE_OK;
}

/* The most stones whose shares are there. */
static uint64_t most_in_shares(scatter *work, double *weights) {
  double sum = 0, most = INFINITY;
  uint64_t n;
  for (uint64_t k = 0; k < work->kind_count; k++)
    sum += weights[k];
  for (uint64_t k = 0; k < work->kind_count; k++)
    most = fmin(most, ((double)sown(work, k) + 1) * sum / weights[k]);
  for (n = (uint64_t)most; n > 0; n--) {
    int holds = 1;
    apportion_kinds(work, n, weights);
    for (uint64_t k = 0; k < work->kind_count && holds; k++)
      holds = sown(work, k) >= work->counts[k];
    if (holds) break;
  }
  return n;
}

static int32_t thin_to_shares(scatter *work, uint64_t n, double *weights) {
  apportion_kinds(work, n, weights);
  for (uint64_t k = 0; k < work->kind_count; k++)
    GIRDLE_TRY(girdle_sow_thin(&work->sowing, k, work->counts[k], work->area_mm2));
  return GIRDLE_OK;
}

/* The greatest number, from n downwards, that is truly had when it is asked for. */
static int32_t find_most(scatter *work, uint64_t n, double *weights, uint64_t *most) {
  for (*most = n; *most > 0;) {
    uint64_t held;
    undo_all(work);
    GIRDLE_TRY(sow_shares(work, *most, weights));
    held = most_in_shares(work, weights);
    if (held >= *most) break;
    *most = held < *most - 1 ? held : *most - 1;
  }
  return GIRDLE_GEOMETRY;
}

static int32_t sow_mixed(scatter *work, double *weights, uint64_t *most) {
  girdle_notes *notes = &work->sowing.placement->notes;
  uint64_t wanted = (uint64_t)work->options.count, n = wanted ? wanted : (uint64_t)likely_count(work);
  GIRDLE_TRY(sow_shares(work, n, weights));
  if (work->options.flags & GIRDLE_FILL_UP && !wanted) {
    notes->flags |= GIRDLE_NOTE_MAXIMAL;
    notes->undecided_mm2 = work->sowing.undecided_mm2;
    return GIRDLE_OK;
  }
  *most = most_in_shares(work, weights);
  if (*most < wanted) return find_most(work, *most, weights, most);
  GIRDLE_TRY(thin_to_shares(work, wanted ? wanted : *most, weights));
  return girdle_sow_open(&work->sowing, work->kinds[work->kind_count - 1].radius, &notes->undecided_mm2);
}

static int32_t scatter_mixed(scatter *work, uint64_t *most) {
  uint64_t bytes = work->kind_count * sizeof(double);
  double *weights = girdle_common_new(work->call, bytes);
  int32_t status = weights ? sow_mixed(work, weights, most) : GIRDLE_MEMORY;
  girdle_common_release(&work->memory, weights, bytes);
  return status;
}

/* ---- colours */

static int32_t share_kind(scatter *work, uint64_t k) {
  const kind *sort = &work->kinds[k];
  uint64_t bytes = sort->count * sizeof(uint64_t), count = sown(work, k);
  uint64_t *counts = girdle_common_new(work->call, bytes);
  int32_t status;
  if (!counts) return GIRDLE_MEMORY;
  girdle_apportion(work->weights + sort->first, sort->count, count, counts);
  status = girdle_share(work->call, work->sowing.placement->records + work->sowing.beds[k].first_record, count, counts,
                        work->number + sort->first, sort->count, work->area_mm2);
  girdle_common_release(&work->memory, counts, bytes);
  return status;
}

static int32_t does_not_fit(scatter *work, uint64_t most) {
  char gap[32];
  girdle_number_text(work->options.gap_mm, 4, gap, sizeof gap);
  return girdle_common_fail(work->call, GIRDLE_GEOMETRY, "count",
                            "%lld stones do not fit with a gap of %s mm; the most found is %llu",
                            (long long)work->options.count, gap, (unsigned long long)most);
}

static int32_t check_dense(scatter *work) {
  if (!(work->options.flags & GIRDLE_DENSE) || (work->kind_count == 1 && !work->options.count)) return GIRDLE_OK;
  return girdle_common_fail(work->call, GIRDLE_ARGUMENT, "dense",
                            "dense is for stones of one size, and for as many as fit: leave out %s",
                            work->options.count ? "the count" : "dense, or all sizes but one");
}

static int32_t sow_all(scatter *work) {
  girdle_placement *placement = work->sowing.placement;
  uint64_t most = 0;
  int32_t status = work->kind_count == 1 ? scatter_one_size(work, &most) : scatter_mixed(work, &most);
  if (status == GIRDLE_GEOMETRY) return does_not_fit(work, most);
  GIRDLE_TRY(status);
  if (!placement->count)
    return girdle_place_too_large(work->call, work->kinds[work->kind_count - 1].radius + work->options.margin_mm);
  for (uint64_t k = 0; k < work->kind_count; k++)
    GIRDLE_TRY(share_kind(work, k));
  girdle_place_turn_by_seed(placement, work->options.seed);
  placement->notes.gap_mm = work->options.gap_mm;
  placement->notes.seed = work->options.seed;
  return GIRDLE_OK;
}

/* ---- what is there already */

static int32_t add_around(scatter *work, const girdle_placement *there) {
  for (uint64_t i = 0; there && i < there->count; i++) {
    const girdle_placed *record = &there->records[i];
    GIRDLE_TRY(girdle_crowd_add(work->call, &work->around, record->x_mm, record->y_mm,
                                girdle_place_radius(&there->stones[record->stone])));
  }
  return GIRDLE_OK;
}

static int32_t look_around(scatter *work) {
  const girdle_placement *around = work->options.around, *clear_of = work->options.clear_of;
  uint64_t there = (around ? around->count : 0) + (clear_of ? clear_of->count : 0);
  if (!there) return GIRDLE_OK;
  GIRDLE_TRY(girdle_crowd_new(work->call, &work->field.box, 2 * work->kinds[0].radius + work->options.gap_mm, there,
                              &work->around));
  GIRDLE_TRY(add_around(work, around));
  work->sowing.around = &work->around;
  return add_around(work, clear_of);
}

/* ---- asking */

void girdle_scatter_options_init(girdle_scatter_options *options, uint32_t struct_bytes) {
  memset(options, 0, struct_bytes);
  options->struct_bytes = struct_bytes;
}

static int32_t check(girdle_call *call, const girdle_scatter_options *options) {
  double sum = 0;
  GIRDLE_TRY(girdle_place_check(call, options->stones, options->stone_count, options->gap_mm, options->count));
  GIRDLE_TRY(girdle_common_range(call, "margin", options->margin_mm, 0, GIRDLE_GAP_MOST_MM, "mm"));
  for (uint64_t i = 0; i < options->stone_count; i++) {
    GIRDLE_TRY(girdle_common_range(call, "weight", weight_of(options, i), 0, 1e12, ""));
    sum += weight_of(options, i);
  }
  if (sum > 0) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "weight", "every weight is 0; one at least must be above 0");
}

static int32_t begin(scatter *work, const girdle_region *within) {
  const kind *smallest;
  double most;
  GIRDLE_TRY(list_kinds(work, work->sowing.placement));
  GIRDLE_TRY(check_dense(work));
  smallest = &work->kinds[work->kind_count - 1];
  GIRDLE_TRY(girdle_field_index(work->call, &work->field, 2 * smallest->radius + work->options.gap_mm));
  GIRDLE_TRY(look_around(work));
  work->area_mm2 = girdle_region_area_mm2(within);
  work->perimeter_mm = girdle_region_perimeter_mm(within);
  most = work->kind_count > 1 ? SURPLUS * likely_count(work)
                              : JAMMED * work->area_mm2 / pow(2 * smallest->radius + work->options.gap_mm, 2);
  if (work->options.flags & GIRDLE_DENSE) most *= DENSER;
  most += work->perimeter_mm / (2 * smallest->radius) + 16; /* the rim holds a few more */
  return girdle_place_reserve(work->call, work->sowing.placement, (uint64_t)fmin(most, 1e18));
}

static void clean(scatter *work) {
  uint64_t count = work->options.stone_count;
  girdle_sow_free(&work->sowing);
  girdle_common_release(&work->memory, work->number, count * sizeof *work->number);
  girdle_common_release(&work->memory, work->weights, count * sizeof *work->weights);
  girdle_common_release(&work->memory, work->kinds, count * sizeof *work->kinds);
  girdle_common_release(&work->memory, work->counts, count * sizeof *work->counts);
  if (work->around.head) girdle_crowd_free(&work->around);
  girdle_field_free(&work->field);
}

static int32_t scatter_in(scatter *work, const girdle_region *within) {
  int32_t status;
  work->sowing.call = work->call;
  work->sowing.field = &work->field;
  work->sowing.gap_mm = work->options.gap_mm;
  work->sowing.margin_mm = work->options.margin_mm;
  work->sowing.seed = work->options.seed;
  GIRDLE_TRY(girdle_place_new(work->call, 0, &work->sowing.placement));
  status = begin(work, within);
  return status ? status : sow_all(work);
}

int32_t girdle_scatter(girdle_call *call, const girdle_region *within, const girdle_scatter_options *options,
                       girdle_placement **out) {
  GIRDLE_GIVEN(call, within, options, out);
  scatter work;
  int32_t status;
  memset(&work, 0, sizeof work);
  work.call = call;
  work.memory = girdle_common_memory(call);
  girdle_scatter_options_init(&work.options, sizeof work.options);
  girdle_common_options(&work.options, sizeof work.options, options);
  GIRDLE_TRY(check(call, &work.options));
  GIRDLE_TRY(girdle_field_for_depths(call, within, GIRDLE_FLAT_MM, &work.field));
  status = scatter_in(&work, within);
  clean(&work);
  return girdle_place_finish(work.sowing.placement, status, out);
}
