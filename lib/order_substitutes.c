/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "order_plan_internal.h"
#include "sort_internal.h"

static const double WIDER_MOST = 1.25;

typedef struct asked {
  girdle_call *call;
  const girdle_order_options *options;
  const girdle_order_stone *of;
} asked;

/* ---- prices */

/* The cheapest cover of a need by one supplier's packs of a stone; *cost stays when they do not reach. */
static int32_t cover_by(const asked *inquiry, const char *supplier, const girdle_stone *stone, int64_t need,
                        int64_t *cost) {
  const girdle_order_options *options = inquiry->options;
  int64_t pieces[GIRDLE_MARKET_PACKS_MOST], prices[GIRDLE_MARKET_PACKS_MOST], most[GIRDLE_MARKET_PACKS_MOST],
      copies[GIRDLE_MARKET_PACKS_MOST], held = 0;
  uint64_t count = 0;
  for (uint64_t i = 0; i < options->price_count; i++) {
    const girdle_price_row *row = &options->prices[i];
    if (row->sold_out || row->at_most == 0 || strcmp(row->supplier, supplier) != 0) continue;
    if (!girdle_stone_equal(&row->stone, stone)) continue;
    GIRDLE_TRY(girdle_order_check_packs(inquiry->call, count + 1, stone, supplier));
    pieces[count] = row->pack_pieces;
    prices[count] = row->price_minor;
    most[count++] = row->at_most;
    if (held < need)
      held = row->at_most < 0 || row->at_most > (need - held) / row->pack_pieces
                 ? need
                 : held + row->at_most * row->pack_pieces;
  }
  if (held < need) return GIRDLE_OK;
  return girdle_packs_cheapest(inquiry->call, need, pieces, prices, most, count, copies, cost);
}

/* The cheapest supplier for a need, the first in the list among equals; INT64_MIN when nobody has enough. */
static int32_t cheapest(const asked *inquiry, const girdle_stone *stone, int64_t need, int64_t *cost,
                        const char **supplier) {
  const girdle_order_options *options = inquiry->options;
  *cost = INT64_MIN;
  for (uint64_t s = 0; s < options->supplier_count; s++) {
    int64_t here = INT64_MIN;
    GIRDLE_TRY(cover_by(inquiry, options->suppliers[s].name, stone, need, &here));
    if (here == INT64_MIN || (*cost != INT64_MIN && here >= *cost)) continue;
    *cost = here;
    *supplier = options->suppliers[s].name;
  }
  return GIRDLE_OK;
}

/* ---- stones */

/* In what a stone differs, when it is in one thing that may differ; else 0. */
static int32_t difference(const girdle_stone *a, const girdle_stone *b) {
  const int size = strcmp(a->size, b->size) != 0, colour = strcmp(a->colour, b->colour) != 0;
  const int material = strcmp(a->material, b->material) != 0;
  const double ratio = b->diameter_mm[GIRDLE_NOMINAL] / a->diameter_mm[GIRDLE_NOMINAL];
  if (strcmp(a->finish, b->finish) != 0 || strcmp(a->cut, b->cut) != 0) return 0;
  if (a->outline != b->outline || a->fix != b->fix || size + colour + material != 1) return 0;
  if (size) return ratio <= WIDER_MOST && ratio >= 1 / WIDER_MOST ? GIRDLE_OTHER_SIZE : 0;
  return colour ? GIRDLE_OTHER_COLOUR : GIRDLE_OTHER_MATERIAL;
}

static int64_t scaled(int64_t pieces, double ratio) {
  return (int64_t)ceil((double)pieces * ratio * (1 - 1e-12));
}

static int32_t describe(const asked *inquiry, const girdle_stone *stone, int32_t kind, int64_t own_cost,
                        girdle_substitute *out) {
  const girdle_order_stone *of = inquiry->of;
  const double ratio =
      kind == GIRDLE_OTHER_SIZE ? of->stone.diameter_mm[GIRDLE_NOMINAL] / stone->diameter_mm[GIRDLE_NOMINAL] : 1;
  const int64_t before = of->needed + of->lost + of->kit, worn = scaled(of->needed, ratio);
  const char *supplier = "";
  memset(out, 0, sizeof *out);
  out->stone = *stone;
  out->kind = kind;
  out->pieces = worn + scaled(of->lost, ratio) + of->kit;
  out->added_pieces = out->pieces - before;
  out->added_mass_mg =
      (double)worn * stone->mass_mg[GIRDLE_NOMINAL] - (double)of->needed * of->stone.mass_mg[GIRDLE_NOMINAL];
  GIRDLE_TRY(cheapest(inquiry, stone, out->pieces, &out->cost_minor, &supplier));
  girdle_common_text(out->supplier, sizeof out->supplier, supplier);
  out->added_cost_minor =
      own_cost == INT64_MIN || out->cost_minor == INT64_MIN ? INT64_MIN : out->cost_minor - own_cost;
  return GIRDLE_OK;
}

static int compare_substitutes(const void *a, const void *b) {
  const girdle_substitute *one = a, *two = b;
  char text_one[160], text_two[160];
  if (one->cost_minor != two->cost_minor) return one->cost_minor < two->cost_minor ? -1 : 1;
  girdle_stone_text(&one->stone, text_one, sizeof text_one);
  girdle_stone_text(&two->stone, text_two, sizeof text_two);
  return strcmp(text_one, text_two);
}

/* 1 when the book names the stone of this row first here. */
static int named_first(const girdle_order_options *options, uint64_t row) {
  for (uint64_t i = 0; i < row; i++)
    if (girdle_stone_equal(&options->prices[i].stone, &options->prices[row].stone)) return 0;
  return 1;
}

static int32_t find_all(const asked *inquiry, girdle_substitute *found, uint64_t *count) {
  const girdle_order_stone *of = inquiry->of;
  const char *ignored;
  int64_t own_cost;
  GIRDLE_TRY(cheapest(inquiry, &of->stone, of->needed + of->lost + of->kit, &own_cost, &ignored));
  for (uint64_t i = 0; i < inquiry->options->price_count; i++) {
    const girdle_stone *stone = &inquiry->options->prices[i].stone;
    const int32_t kind = difference(&of->stone, stone);
    GIRDLE_TRY(girdle_common_tick(inquiry->call, 1, -1));
    if (!kind || !named_first(inquiry->options, i)) continue;
    GIRDLE_TRY(describe(inquiry, stone, kind, own_cost, &found[*count]));
    *count += found[*count].cost_minor != INT64_MIN;
  }
  girdle_sort(found, *count, sizeof *found, compare_substitutes);
  return GIRDLE_OK;
}

int32_t girdle_order_substitutes(girdle_call *call, const girdle_order *order, uint64_t at,
                                 const girdle_order_options *options, girdle_substitute *substitutes, uint64_t capacity,
                                 uint64_t *count) {
  GIRDLE_GIVEN(call, order, substitutes || !capacity, count);
  const girdle_allocator memory = girdle_common_memory(call);
  girdle_order_options own;
  asked inquiry = {call, &own, NULL};
  girdle_substitute *found;
  uint64_t bytes, found_count = 0;
  int32_t status;
  GIRDLE_TRY(girdle_common_range(call, "at", (double)at, 0, (double)order->stone_count - 1, ""));
  girdle_order_options_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, options);
  inquiry.of = &order->stones[at];
  bytes = (own.price_count + 1) * sizeof *found;
  found = girdle_common_new(call, bytes);
  status = found ? find_all(&inquiry, found, &found_count) : GIRDLE_MEMORY;
  for (uint64_t i = 0; i < found_count && i < capacity && !status; i++)
    substitutes[i] = found[i];
  if (!status) *count = found_count;
  girdle_common_release(&memory, found, bytes);
  return status;
}
