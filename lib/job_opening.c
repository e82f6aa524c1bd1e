/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"

#include <math.h>
#include <string.h>

#include "common.h"

void girdle_opening_init(girdle_opening *opening, uint32_t struct_bytes) {
  girdle_opening plain;
  memset(&plain, 0, sizeof plain);
  plain.struct_bytes = struct_bytes;
  memset(opening, 0, struct_bytes);
  memcpy(opening, &plain, struct_bytes < sizeof plain ? struct_bytes : sizeof plain);
}

static int32_t check(girdle_call *call, const girdle_opening *ring) {
  GIRDLE_TRY(girdle_common_range(call, "ring", ring->ring_mm, 1, 1e5, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "through", ring->through_mm, 1, 1e5, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "lies", ring->lies, 0, 4, ""));
  GIRDLE_TRY(girdle_common_range(call, "stretch", ring->stretch_most, ring->lies, 4, ""));
  GIRDLE_TRY(girdle_common_range(call, "diameter", ring->diameter_mm, 0.5, 100, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "gap", ring->gap_mm, 0, 1e4, "mm"));
  return girdle_common_range(call, "stones", (double)ring->stones, 0,
                             floor(ring->ring_mm / ring->diameter_mm * (1 + 1e-9)), "");
}

static int32_t planned(girdle_call *call, const girdle_opening *ring, girdle_count *out) {
  girdle_stone stone;
  memset(&stone, 0, sizeof stone);
  out->expected = ring->stones;
  if (ring->stones) return GIRDLE_OK;
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    stone.diameter_mm[i] = ring->diameter_mm;
  stone.length_ratio = 1;
  return girdle_count_along(call, ring->ring_mm, 1, &stone, 1, ring->gap_mm, out);
}

static double reach_mm(const girdle_opening *ring, double factor, int64_t stones) {
  double stiff = (double)stones * ring->diameter_mm;
  return stiff + (ring->ring_mm - stiff) * factor;
}

/* The most stones whose ring still reaches; each takes d (factor - 1) from what the plain ring reaches. */
static int64_t most_stones(const girdle_opening *ring, double factor) {
  double spare = ring->ring_mm * factor - ring->through_mm, touching = floor(ring->ring_mm / ring->diameter_mm + 1e-9);
  if (spare < 0) return -1;
  if (factor == 1) return (int64_t)touching;
  return (int64_t)fmin(touching, floor(spare / (ring->diameter_mm * (factor - 1)) + 1e-9));
}

int32_t girdle_opening_try(girdle_call *call, const girdle_opening *opening, girdle_opening_check *out) {
  GIRDLE_GIVEN(call, opening, out);
  girdle_opening ring;
  girdle_opening_check result;
  girdle_count count;
  double factor;
  girdle_opening_init(&ring, sizeof ring);
  girdle_common_options(&ring, sizeof ring, opening);
  GIRDLE_TRY(check(call, &ring));
  GIRDLE_TRY(planned(call, &ring, &count));
  factor = (1 + ring.stretch_most) / (1 + ring.lies);
  memset(&result, 0, sizeof result);
  result.stones = count.expected;
  result.most_stones = most_stones(&ring, factor);
  result.reach_mm = reach_mm(&ring, factor, result.stones);
  result.passes = result.stones <= result.most_stones;
  result.least_gap_mm = NAN;
  if (result.most_stones >= 2) result.least_gap_mm = ring.ring_mm / (double)result.most_stones - ring.diameter_mm;
  if (result.most_stones < 0)
    result.open_mm = NAN;
  else if (!result.passes)
    result.open_mm = (double)(result.stones - result.most_stones) * ring.ring_mm / (double)result.stones;
  *out = result;
  return GIRDLE_OK;
}
