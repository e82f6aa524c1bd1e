/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/order.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "girdle/learn.h"
#include "order_plan_internal.h"
#include "price_internal.h"
#include "sort_internal.h"

static const double PIECES_MOST = 1e12;

void girdle_order_options_init(girdle_order_options *options, uint32_t struct_bytes) {
  girdle_order_options own = {.struct_bytes = struct_bytes, .lost_share = 0.05, .kit_pieces = 3, .confidence = 0.95};
  memset(options, 0, struct_bytes);
  memcpy(options, &own, struct_bytes < sizeof own ? struct_bytes : sizeof own);
}

/* ---- options */

static int32_t check_amount(girdle_call *call, const char *field, const char *name, int64_t value, int64_t least) {
  if (value >= least) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, field, "%s of '%s' must be %lld or more, not %lld", field, name,
                            (long long)least, (long long)value);
}

static int32_t check_supplier(girdle_call *call, const girdle_order_options *options, uint64_t at) {
  const girdle_supplier *supplier = &options->suppliers[at], *first = &options->suppliers[0];
  GIRDLE_TRY(check_amount(call, "shipping", supplier->name, supplier->shipping_minor, 0));
  GIRDLE_TRY(check_amount(call, "free_from", supplier->name, supplier->free_from_minor, -1));
  GIRDLE_TRY(check_amount(call, "least_order", supplier->name, supplier->least_order_minor, 0));
  GIRDLE_TRY(check_amount(call, "delivery_days", supplier->name, supplier->delivery_days, 0));
  if (strcmp(supplier->currency.code, first->currency.code) != 0)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "currency",
                              "one order takes one currency: '%s' sells in %s, '%s' in %s", first->name,
                              first->currency.code, supplier->name, supplier->currency.code);
  for (uint64_t i = 0; i < at; i++)
    if (strcmp(options->suppliers[i].name, supplier->name) == 0)
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "supplier", "supplier '%s' stands twice", supplier->name);
  return GIRDLE_OK;
}

static int32_t check_price(girdle_call *call, const girdle_price_row *row) {
  GIRDLE_TRY(check_amount(call, "price", row->supplier, row->price_minor, 0));
  GIRDLE_TRY(check_amount(call, "pack", row->supplier, row->pack_pieces, 1));
  return check_amount(call, "at_most", row->supplier, row->at_most, -1);
}

static int32_t check_options(girdle_call *call, const girdle_order_options *options) {
  GIRDLE_TRY(girdle_common_range(call, "lost_share", options->lost_share, 0, 1, ""));
  GIRDLE_TRY(girdle_common_range(call, "confidence", options->confidence, 0, 1 - 1e-12, ""));
  GIRDLE_TRY(girdle_common_range(call, "kit_pieces", (double)options->kit_pieces, 0, 1e6, "pieces"));
  GIRDLE_TRY(girdle_common_range(call, "most_labels", (double)options->most_labels, 0, 1e9, ""));
  GIRDLE_TRY(girdle_common_range(call, "learned_jobs", (double)options->learned_jobs, 0, 1e12, "jobs"));
  GIRDLE_TRY(
      girdle_common_range(call, "suppliers", (double)options->supplier_count, 0, GIRDLE_MARKET_SUPPLIERS_MOST, ""));
  for (uint64_t i = 0; i < options->supplier_count; i++)
    GIRDLE_TRY(check_supplier(call, options, i));
  for (uint64_t i = 0; i < options->price_count; i++)
    GIRDLE_TRY(check_price(call, &options->prices[i]));
  for (uint64_t i = 0; i < options->stock_count; i++)
    GIRDLE_TRY(check_amount(call, "on_hand", options->stock[i].stone.size, options->stock[i].pieces, 0));
  return GIRDLE_OK;
}

/* ---- needs */

uint64_t girdle_order_find(const girdle_order *order, const girdle_stone *stone) {
  uint64_t at = 0;
  while (at < order->stone_count && !girdle_stone_equal(&order->stones[at].stone, stone))
    at++;
  return at;
}

static uint64_t hash_of(const char *text) {
  uint64_t hash = 0xcbf29ce484222325u;
  for (; *text; text++)
    hash = (hash ^ (unsigned char)*text) * 0x100000001b3u; /* FNV-1a */
  return hash;
}

/* The place of a tag in order->shares, made when it is new. */
static int32_t find_tag(girdle_ordering *ordering, const char *tag, uint64_t *out) {
  girdle_order *order = ordering->order;
  uint64_t at = hash_of(tag) & (ordering->slot_count - 1), *slots = ordering->slots;
  while (slots[at] && strcmp(order->shares[slots[at] - 1].tag, tag) != 0)
    at = (at + 1) & (ordering->slot_count - 1);
  if (!slots[at]) {
    GIRDLE_TRY(girdle_common_grow(ordering->call, &order->memory, (void **)&order->shares, &order->share_capacity,
                                  order->share_count + 1, sizeof *order->shares));
    memset(&order->shares[order->share_count], 0, sizeof *order->shares);
    girdle_common_text(order->shares[order->share_count].tag, sizeof order->shares->tag, tag);
    slots[at] = ++order->share_count;
  }
  *out = slots[at] - 1;
  return GIRDLE_OK;
}

static int compare_needs(const void *a, const void *b) {
  const girdle_order_need *one = a, *two = b;
  if (one->stone != two->stone) return one->stone < two->stone ? -1 : 1;
  if (one->tag != two->tag) return one->tag < two->tag ? -1 : 1;
  return one->pieces < two->pieces ? -1 : one->pieces > two->pieces;
}

/* One need for each stone and tag. */
static void join_needs(girdle_ordering *ordering) {
  girdle_order_need *needs = ordering->needs;
  uint64_t kept = 0;
  girdle_sort(needs, ordering->need_count, sizeof *needs, compare_needs);
  for (uint64_t i = 0; i < ordering->need_count; i++) {
    if (kept && needs[kept - 1].stone == needs[i].stone && needs[kept - 1].tag == needs[i].tag)
      needs[kept - 1].pieces += needs[i].pieces;
    else
      needs[kept++] = needs[i];
  }
  ordering->need_count = kept;
}

static int32_t read_needs(girdle_ordering *ordering, const girdle_tally *tally) {
  girdle_order *order = ordering->order;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &ordering->need_capacity);
  for (ordering->slot_count = 8; ordering->slot_count < 2 * ordering->need_capacity;)
    ordering->slot_count *= 2;
  ordering->slots = girdle_common_new(ordering->call, ordering->slot_count * sizeof *ordering->slots);
  ordering->needs = girdle_common_new(ordering->call, (ordering->need_capacity + 1) * sizeof *ordering->needs);
  ordering->lines = girdle_common_new(ordering->call, (ordering->need_capacity + 1) * sizeof *ordering->lines);
  if (!ordering->slots || !ordering->needs || !ordering->lines) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < ordering->need_capacity; i++) {
    girdle_order_need *need = &ordering->needs[ordering->need_count++];
    GIRDLE_TRY(girdle_common_tick(ordering->call, 1, -1));
    need->stone = girdle_order_find(order, &lines[i].stone);
    need->pieces = lines[i].count;
    GIRDLE_TRY(find_tag(ordering, lines[i].tag, &need->tag));
    order->shares[need->tag].stones += need->pieces;
  }
  join_needs(ordering);
  return GIRDLE_OK;
}

/* ---- stones */

static int32_t list_stones(girdle_ordering *ordering, const girdle_tally *tally) {
  girdle_tally *by_stone;
  const girdle_tally_line *lines;
  uint64_t count;
  GIRDLE_TRY(girdle_tally_by_stone(ordering->call, tally, &by_stone));
  lines = girdle_tally_lines(by_stone, &count);
  ordering->order->stones = girdle_common_new(ordering->call, (count + 1) * sizeof(girdle_order_stone));
  for (uint64_t i = 0; i < count && ordering->order->stones; i++) {
    ordering->order->stones[i].stone = lines[i].stone;
    ordering->order->stones[i].needed = lines[i].count;
  }
  ordering->order->stone_count = ordering->order->stones ? count : 0;
  girdle_tally_free(by_stone);
  return ordering->order->stones ? GIRDLE_OK : GIRDLE_MEMORY;
}

static int64_t wanted_of(const girdle_order_stone *stone) {
  return stone->needed + stone->lost + stone->kit;
}

static int32_t add_spares(girdle_ordering *ordering) {
  const girdle_order_options *options = ordering->options;
  girdle_order *order = ordering->order;
  for (uint64_t i = 0; i < ordering->need_count; i++)
    order->stones[ordering->needs[i].stone].kit += options->kit_pieces;
  for (uint64_t i = 0; i < order->stone_count; i++) {
    girdle_order_stone *stone = &order->stones[i];
    GIRDLE_TRY(girdle_common_range(ordering->call, "pieces", (double)stone->needed, 0, PIECES_MOST, "pieces"));
    if (options->confidence > 0)
      GIRDLE_TRY(girdle_spares(ordering->call, stone->needed, options->lost_share, options->confidence, &stone->lost));
    else /* 5 % of 100 are 5 pieces, although 0.05 is no double */
      stone->lost = (int64_t)ceil((double)stone->needed * options->lost_share * (1 - 1e-12));
    GIRDLE_TRY(girdle_common_range(ordering->call, "pieces", (double)wanted_of(stone), 0, PIECES_MOST, "pieces"));
  }
  return GIRDLE_OK;
}

static int64_t lesser(int64_t a, int64_t b) {
  return a < b ? a : b;
}

/* What stock of no known lot is used for, of the lines that show least: only the rest of them is to be bought. */
static void leave_out(girdle_ordering *ordering, uint64_t stone, int64_t loose) {
  uint64_t kept = 0;
  for (uint64_t i = ordering->line_count; i-- > 0;) {
    girdle_order_row *line = &ordering->lines[i];
    const int64_t taken = line->stone == stone ? lesser(loose, line->pieces) : 0;
    loose -= taken;
    line->pieces -= taken;
  }
  for (uint64_t i = 0; i < ordering->line_count; i++)
    if (ordering->lines[i].pieces > 0) ordering->lines[kept++] = ordering->lines[i];
  ordering->line_count = kept;
}

/* Lots can differ in shade, so what a lot holds counts only as far as it serves whole lines of the tally; what is left
 * as spares counts piece by piece, and so does stock of which no lot is known where lines may be split. */
static int64_t usable(const girdle_order_stone *stone, int64_t loose, int64_t served) {
  return served + loose + lesser(stone->on_hand - served - loose, stone->lost + stone->kit);
}

static int32_t count_stock(girdle_ordering *ordering, int64_t *unnamed) {
  girdle_order *order = ordering->order;
  for (uint64_t i = 0; i < ordering->options->stock_count; i++) {
    const girdle_stock_row *row = &ordering->options->stock[i];
    const uint64_t at = girdle_order_find(order, &row->stone);
    if (at == order->stone_count) continue;
    GIRDLE_TRY(
        girdle_price_add(ordering->call, "stock", order->stones[at].on_hand, row->pieces, &order->stones[at].on_hand));
    if (!row->lot[0] && ordering->options->flags & GIRDLE_ORDER_SPLIT) unnamed[at] += row->pieces;
  }
  return GIRDLE_OK;
}

static int32_t take_stock(girdle_ordering *ordering, const girdle_tally *tally) {
  girdle_order *order = ordering->order;
  const uint64_t bytes = 2 * (order->stone_count + 1) * sizeof(int64_t);
  int64_t *unnamed = girdle_common_new(ordering->call, bytes), *served;
  int32_t status = unnamed ? GIRDLE_OK : GIRDLE_MEMORY;
  if (status) return status;
  served = unnamed + order->stone_count + 1;
  status = count_stock(ordering, unnamed);
  if (!status) status = girdle_order_serve(ordering, tally, served);
  for (uint64_t i = 0; i < order->stone_count && !status; i++) {
    const int64_t loose = lesser(unnamed[i], order->stones[i].needed - served[i]);
    order->stones[i].from_stock = usable(&order->stones[i], loose, served[i]);
    if (loose) leave_out(ordering, i, loose);
  }
  girdle_common_release(&ordering->memory, unnamed, bytes);
  return status;
}

static int32_t reckon_chances(girdle_ordering *ordering) {
  for (uint64_t i = 0; i < ordering->order->stone_count; i++) {
    girdle_order_stone *stone = &ordering->order->stones[i];
    const int64_t spares = stone->from_stock + stone->bought - stone->needed - stone->kit;
    GIRDLE_TRY(girdle_chance_short(ordering->call, stone->needed, ordering->options->lost_share, spares,
                                   &stone->chance_short));
    if (!stone->unpriced && stone->chance_short > ordering->order->basis.most_chance_short)
      ordering->order->basis.most_chance_short = stone->chance_short;
  }
  return GIRDLE_OK;
}

/* ---- shares */

/* Splits what stone `at` costs over its needs [first, end). */
static int32_t share_stone(girdle_ordering *ordering, uint64_t first, uint64_t end, int64_t *weights, int64_t *parts) {
  girdle_order *order = ordering->order;
  const girdle_order_stone *stone = &order->stones[ordering->needs[first].stone];
  for (uint64_t i = first; i < end; i++)
    weights[i - first] = ordering->needs[i].pieces;
  if (stone->needed == 0) weights[0] = 1;
  GIRDLE_TRY(girdle_money_split(ordering->call, stone->cost_minor, weights, end - first, parts));
  for (uint64_t i = first; i < end; i++) {
    girdle_order_share *share = &order->shares[ordering->needs[i].tag];
    share->materials_minor += parts[i - first];
    share->unpriced += stone->unpriced ? ordering->needs[i].pieces : 0;
  }
  return GIRDLE_OK;
}

/* Everyone the same share, or shipping by what the materials come to (by head when they come to nothing). */
static int32_t share_total(girdle_ordering *ordering, int64_t *weights, int64_t *parts) {
  girdle_order *order = ordering->order;
  const int alike = (ordering->options->flags & GIRDLE_ORDER_ALIKE) != 0;
  for (uint64_t i = 0; i < order->share_count; i++)
    weights[i] = alike || order->total.goods_minor == 0 ? 1 : order->shares[i].materials_minor;
  GIRDLE_TRY(girdle_money_split(ordering->call, order->total.shipping_minor, weights, order->share_count, parts));
  for (uint64_t i = 0; i < order->share_count; i++)
    order->shares[i].shipping_minor = parts[i];
  if (!alike) return GIRDLE_OK;
  GIRDLE_TRY(girdle_money_split(ordering->call, order->total.goods_minor, weights, order->share_count, parts));
  for (uint64_t i = 0; i < order->share_count; i++)
    order->shares[i].materials_minor = parts[i];
  return GIRDLE_OK;
}

static int32_t share_costs(girdle_ordering *ordering) {
  girdle_order *order = ordering->order;
  const uint64_t bytes = 2 * order->share_count * sizeof(int64_t);
  int64_t *weights;
  int32_t status = GIRDLE_OK;
  if (order->share_count == 0) return GIRDLE_OK;
  weights = girdle_common_new(ordering->call, bytes);
  if (!weights) return GIRDLE_MEMORY;
  for (uint64_t first = 0, end; first < ordering->need_count && !status; first = end) {
    for (end = first + 1; end < ordering->need_count && ordering->needs[end].stone == ordering->needs[first].stone;)
      end++;
    status = share_stone(ordering, first, end, weights, weights + order->share_count);
  }
  if (!status) status = share_total(ordering, weights, weights + order->share_count);
  girdle_common_release(&ordering->memory, weights, bytes);
  return status;
}

/* ---- the order */

static int32_t make(girdle_ordering *ordering, const girdle_tally *tally) {
  const girdle_order_options *options = ordering->options;
  GIRDLE_TRY(check_options(ordering->call, options));
  ordering->order->basis =
      (girdle_order_basis){options->lost_share, options->confidence, options->kit_pieces, options->learned_jobs, 0};
  GIRDLE_TRY(list_stones(ordering, tally));
  GIRDLE_TRY(read_needs(ordering, tally));
  GIRDLE_TRY(add_spares(ordering));
  GIRDLE_TRY(take_stock(ordering, tally));
  GIRDLE_TRY(girdle_order_buy(ordering));
  GIRDLE_TRY(reckon_chances(ordering));
  GIRDLE_TRY(share_costs(ordering));
  return girdle_order_share_out(ordering);
}

static void clean(girdle_ordering *ordering) {
  const girdle_market *market = &ordering->market;
  const girdle_allocator *memory = &ordering->memory;
  const uint64_t stones = ordering->order->stone_count + 1;
  girdle_order_close_room(ordering);
  girdle_common_release(memory, ordering->needs, (ordering->need_capacity + 1) * sizeof *ordering->needs);
  girdle_common_release(memory, ordering->lines, (ordering->need_capacity + 1) * sizeof *ordering->lines);
  girdle_common_release(memory, ordering->slots, ordering->slot_count * sizeof *ordering->slots);
  girdle_common_release(memory, ordering->stone_at, stones * sizeof *ordering->stone_at);
  girdle_common_release(memory, market->stones, stones * sizeof *market->stones);
  girdle_common_release(memory, market->lines, (ordering->need_capacity + stones) * sizeof *market->lines);
  girdle_common_release(memory, market->offers, ordering->offer_capacity * sizeof *market->offers);
  girdle_common_release(memory, market->packs, ordering->pack_capacity * sizeof *market->packs);
  girdle_common_release(memory, ordering->copies, ordering->pack_capacity * sizeof *ordering->copies);
}

int32_t girdle_order_plan(girdle_call *call, const girdle_tally *needs, const girdle_order_options *options,
                          girdle_order **out) {
  GIRDLE_GIVEN(call, needs, out);
  girdle_order_options own;
  girdle_ordering ordering = {.call = call, .memory = girdle_common_memory(call), .options = &own};
  int32_t status;
  girdle_order_options_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, options);
  ordering.order = girdle_common_new(call, sizeof *ordering.order);
  if (!ordering.order) return GIRDLE_MEMORY;
  ordering.order->memory = ordering.memory;
  status = make(&ordering, needs);
  clean(&ordering);
  if (status)
    girdle_order_free(ordering.order);
  else
    *out = ordering.order;
  return status;
}

void girdle_order_free(girdle_order *order) {
  girdle_allocator memory;
  if (!order) return;
  memory = order->memory;
  girdle_common_release(&memory, order->lines, order->line_capacity * sizeof *order->lines);
  girdle_common_release(&memory, order->stones, (order->stone_count + 1) * sizeof *order->stones);
  girdle_common_release(&memory, order->suppliers, order->supplier_capacity * sizeof *order->suppliers);
  girdle_common_release(&memory, order->shares, order->share_capacity * sizeof *order->shares);
  girdle_common_release(&memory, order->uses, (order->use_count + 1) * sizeof *order->uses);
  girdle_common_release(&memory, order, sizeof *order);
}

const girdle_order_line *girdle_order_lines(const girdle_order *order, uint64_t *count) {
  *count = order->line_count;
  return order->lines;
}

const girdle_order_stone *girdle_order_stones(const girdle_order *order, uint64_t *count) {
  *count = order->stone_count;
  return order->stones;
}

const girdle_order_supplier *girdle_order_suppliers(const girdle_order *order, uint64_t *count) {
  *count = order->supplier_count;
  return order->suppliers;
}

const girdle_order_share *girdle_order_shares(const girdle_order *order, uint64_t *count) {
  *count = order->share_count;
  return order->shares;
}

void girdle_order_spares(const girdle_order *order, girdle_order_basis *out) {
  *out = order->basis;
}

void girdle_order_sum(const girdle_order *order, girdle_order_total *out) {
  *out = order->total;
}
