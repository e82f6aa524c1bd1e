/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "order_plan_internal.h"
#include "price_internal.h"
#include "sort_internal.h"

/* A row of the price book that offers a stone of the order. */
typedef struct candidate {
  uint64_t stone, supplier, row;
} candidate;

/* ---- suppliers */

/* Suppliers in the order of their names, so that ties do not depend on the order of a file. */
static void list_suppliers(girdle_ordering *ordering) {
  const girdle_supplier *given = ordering->options->suppliers;
  girdle_market *market = &ordering->market;
  market->suppliers = ordering->suppliers;
  market->supplier_count = ordering->options->supplier_count;
  for (uint64_t i = 0; i < market->supplier_count; i++) {
    uint64_t place = 0;
    for (uint64_t k = 0; k < market->supplier_count; k++)
      place += strcmp(given[k].name, given[i].name) < 0;
    ordering->supplier_at[place] = i;
    market->suppliers[place] =
        (girdle_market_supplier){given[i].shipping_minor, given[i].free_from_minor, given[i].least_order_minor};
  }
}

static int32_t find_supplier(girdle_ordering *ordering, const char *name, uint64_t *out) {
  const girdle_supplier *given = ordering->options->suppliers;
  const char *names[GIRDLE_MARKET_SUPPLIERS_MOST];
  for (uint64_t s = 0; s < ordering->market.supplier_count; s++) {
    names[s] = given[ordering->supplier_at[s]].name;
    if (strcmp(names[s], name) != 0) continue;
    *out = s;
    return GIRDLE_OK;
  }
  return girdle_common_unknown(ordering->call, "supplier", name, names, ordering->market.supplier_count);
}

/* ---- offers */

static int compare_candidates(const void *a, const void *b) {
  const candidate *one = a, *two = b;
  if (one->stone != two->stone) return one->stone < two->stone ? -1 : 1;
  if (one->supplier != two->supplier) return one->supplier < two->supplier ? -1 : 1;
  return one->row < two->row ? -1 : one->row > two->row;
}

static int32_t find_candidates(girdle_ordering *ordering, candidate *found, uint64_t *count) {
  const girdle_order *order = ordering->order;
  for (uint64_t i = 0; i < ordering->options->price_count; i++) {
    const girdle_price_row *row = &ordering->options->prices[i];
    candidate made = {girdle_order_find(order, &row->stone), 0, i};
    GIRDLE_TRY(girdle_common_tick(ordering->call, 1, -1));
    GIRDLE_TRY(find_supplier(ordering, row->supplier, &made.supplier));
    if (made.stone < order->stone_count && !row->sold_out && row->at_most != 0) found[(*count)++] = made;
  }
  girdle_sort(found, *count, sizeof *found, compare_candidates);
  return GIRDLE_OK;
}

static int64_t lacking(const girdle_order_stone *stone) {
  return stone->needed + stone->lost + stone->kit - stone->from_stock;
}

static int32_t add_pack(girdle_ordering *ordering, uint64_t row) {
  const girdle_price_row *of = &ordering->options->prices[row];
  girdle_market *market = &ordering->market;
  GIRDLE_TRY(girdle_common_grow(ordering->call, &ordering->memory, (void **)&market->packs, &ordering->pack_capacity,
                                market->pack_count + 1, sizeof *market->packs));
  market->packs[market->pack_count++] =
      (girdle_market_pack){of->pack_pieces, of->price_minor, of->at_most, 0, (int64_t)row};
  return GIRDLE_OK;
}

int32_t girdle_order_check_packs(girdle_call *call, uint64_t packs, const girdle_stone *stone, const char *supplier) {
  char text[160];
  if (packs <= GIRDLE_MARKET_PACKS_MOST) return GIRDLE_OK;
  girdle_stone_text(stone, text, sizeof text);
  return girdle_common_fail(call, GIRDLE_LIMIT, "packs", "'%s' offers '%s' in more than %d packs", supplier, text,
                            GIRDLE_MARKET_PACKS_MOST);
}

/* The cheapest cover of `need` by the offer's packs; GIRDLE_GEOMETRY, without an error, when they do not reach. */
static int32_t cover_offer(girdle_ordering *ordering, girdle_market_offer *offer, int64_t need) {
  girdle_market_pack *packs = ordering->market.packs + offer->first_pack;
  int64_t pieces[GIRDLE_MARKET_PACKS_MOST], prices[GIRDLE_MARKET_PACKS_MOST], most[GIRDLE_MARKET_PACKS_MOST],
      copies[GIRDLE_MARKET_PACKS_MOST], held = 0;
  GIRDLE_TRY(girdle_order_check_packs(ordering->call, offer->pack_count, &ordering->options->prices[packs->row].stone,
                                      ordering->options->prices[packs->row].supplier));
  for (uint64_t k = 0; k < offer->pack_count; k++) {
    pieces[k] = packs[k].pieces;
    prices[k] = packs[k].price;
    most[k] = packs[k].most;
    /* enough is enough: the sum stops growing there, so it cannot overflow */
    if (held < need) held = most[k] < 0 || most[k] > (need - held) / pieces[k] ? need : held + most[k] * pieces[k];
  }
  if (held < need) return GIRDLE_GEOMETRY;
  GIRDLE_TRY(
      girdle_packs_cheapest(ordering->call, need, pieces, prices, most, offer->pack_count, copies, &offer->cost));
  for (uint64_t k = 0; k < offer->pack_count; k++) {
    packs[k].copies = copies[k];
    offer->pieces += copies[k] * pieces[k];
  }
  return GIRDLE_OK;
}

/* Adds the offer made of candidates [first, end), unless it cannot cover the need and stones are not split. */
static int32_t add_offer(girdle_ordering *ordering, const candidate *found, uint64_t first, uint64_t end,
                         uint64_t market_stone, int64_t need) {
  girdle_market *market = &ordering->market;
  girdle_market_offer offer = {found[first].supplier, market_stone, market->pack_count, end - first, 0, 0, 0, 0};
  int32_t status;
  for (uint64_t i = first; i < end; i++)
    GIRDLE_TRY(add_pack(ordering, found[i].row));
  status = cover_offer(ordering, &offer, need);
  offer.alone = status == GIRDLE_OK;
  if (status != GIRDLE_GEOMETRY) GIRDLE_TRY(status);
  if (!offer.alone && !market->split) {
    market->pack_count = offer.first_pack;
    return GIRDLE_OK;
  }
  GIRDLE_TRY(girdle_common_grow(ordering->call, &ordering->memory, (void **)&market->offers, &ordering->offer_capacity,
                                market->offer_count + 1, sizeof *market->offers));
  market->offers[market->offer_count++] = offer;
  return GIRDLE_OK;
}

/* All pieces that an offer's packs hold, or what is needed when they hold more. */
static int64_t held_by(const girdle_market *market, const girdle_market_offer *offer, int64_t need) {
  int64_t held = offer->alone ? need : 0;
  for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count && held < need; k++)
    held += market->packs[k].most * market->packs[k].pieces; /* less than the need each, or it would do alone */
  return held;
}

/* Whether the last offers, those of this stone, hold enough: one alone, or all together. */
static int can_cover(const girdle_market *market, const girdle_market_stone *stone) {
  int64_t held = 0;
  for (uint64_t i = stone->first_offer; i < market->offer_count && held < stone->need; i++)
    held += held_by(market, &market->offers[i], stone->need);
  return held >= stone->need;
}

/* ---- lines of split stones */

static int compare_pieces(const void *a, const void *b) {
  const int64_t one = *(const int64_t *)a, two = *(const int64_t *)b;
  return one > two ? -1 : one < two;
}

/* The lines of the stone that one supplier could serve whole, were all packs bought. */
static int32_t keep_lines(girdle_ordering *ordering, girdle_market_stone *stone, uint64_t *chosen) {
  girdle_market *market = &ordering->market;
  int64_t held[GIRDLE_MARKET_SUPPLIERS_MOST], *lines = market->lines + stone->first_line;
  uint64_t kept = 0;
  for (uint64_t i = 0; i < stone->offer_count; i++)
    held[i] = held_by(market, &market->offers[stone->first_offer + i], stone->need);
  GIRDLE_TRY(girdle_lines_assign(ordering->call, lines, stone->line_count, held, stone->offer_count, chosen));
  for (uint64_t i = 0; i < stone->line_count; i++)
    if (chosen[i] != GIRDLE_NO_LOT) lines[kept++] = lines[i];
  stone->line_count = kept;
  girdle_sort(lines, kept, sizeof *lines, compare_pieces);
  return GIRDLE_OK;
}

/* Each line takes the spares that are bought for it from its own supplier: so many as its share by largest remainder.
 * Where spares alone are bought they are one line. */
static int32_t add_spares(girdle_ordering *ordering, girdle_market_stone *made, int64_t *parts) {
  int64_t *lines = ordering->market.lines + made->first_line, spares = made->need;
  for (uint64_t i = 0; i < made->line_count; i++)
    spares -= lines[i];
  if (!made->line_count) lines[made->line_count++] = 0;
  for (uint64_t i = 0; i < made->line_count; i++)
    parts[made->line_count + i] = lines[i] > 0 ? lines[i] : 1;
  GIRDLE_TRY(girdle_money_split(ordering->call, spares, parts + made->line_count, made->line_count, parts));
  for (uint64_t i = 0; i < made->line_count; i++)
    lines[i] += parts[i];
  return GIRDLE_OK;
}

static int32_t add_lines(girdle_ordering *ordering, uint64_t stone, girdle_market_stone *made) {
  girdle_market *market = &ordering->market;
  const uint64_t bytes = 2 * (ordering->line_count + 1) * sizeof(int64_t);
  void *room;
  int32_t status;
  made->first_line = market->line_count;
  if (!market->split) return GIRDLE_OK;
  for (uint64_t i = 0; i < ordering->line_count; i++)
    if (ordering->lines[i].stone == stone)
      market->lines[made->first_line + made->line_count++] = ordering->lines[i].pieces;
  room = girdle_common_new(ordering->call, bytes);
  status = room ? add_spares(ordering, made, room) : GIRDLE_MEMORY;
  if (!status) status = keep_lines(ordering, made, room);
  market->line_count += made->line_count;
  girdle_common_release(&ordering->memory, room, bytes);
  return status;
}

/* ---- stones of the market */

/* All offers of one stone, from the candidates that begin at *at. */
static int32_t add_stone(girdle_ordering *ordering, uint64_t stone, const candidate *found, uint64_t count,
                         uint64_t *at, int with_least) {
  girdle_market *market = &ordering->market;
  girdle_order_stone *of = &ordering->order->stones[stone];
  girdle_market_stone made = {.need = lacking(of), .first_offer = market->offer_count};
  for (uint64_t end; *at < count && found[*at].stone == stone; *at = end) {
    for (end = *at + 1; end < count && found[end].stone == stone && found[end].supplier == found[*at].supplier;)
      end++;
    if (made.need == 0 || (!with_least && market->suppliers[found[*at].supplier].least > 0)) continue;
    GIRDLE_TRY(add_offer(ordering, found, *at, end, market->stone_count, made.need));
  }
  if (made.need == 0) return GIRDLE_OK;
  made.offer_count = market->offer_count - made.first_offer;
  of->unpriced = !can_cover(market, &made);
  if (of->unpriced) {
    market->offer_count = made.first_offer;
    return GIRDLE_OK;
  }
  GIRDLE_TRY(add_lines(ordering, stone, &made));
  ordering->stone_at[market->stone_count] = stone;
  market->stones[market->stone_count++] = made;
  return GIRDLE_OK;
}

static int32_t list_offers(girdle_ordering *ordering, int with_least) {
  const uint64_t rows = ordering->options->price_count + 1;
  girdle_market *market = &ordering->market;
  candidate *found = girdle_common_new(ordering->call, rows * sizeof *found);
  uint64_t count = 0, at = 0;
  int32_t status = found ? find_candidates(ordering, found, &count) : GIRDLE_MEMORY;
  market->stone_count = market->offer_count = market->pack_count = market->line_count = 0;
  for (uint64_t i = 0; i < ordering->order->stone_count && !status; i++)
    status = add_stone(ordering, i, found, count, &at, with_least);
  girdle_common_release(&ordering->memory, found, rows * sizeof *found);
  return status;
}

/* ---- what is bought */

static int32_t add_line(girdle_ordering *ordering, const girdle_market_offer *offer, uint64_t pack) {
  girdle_order *order = ordering->order;
  const girdle_price_row *row = &ordering->options->prices[ordering->market.packs[pack].row];
  girdle_order_stone *stone = &order->stones[ordering->stone_at[offer->stone]];
  girdle_order_line *line;
  GIRDLE_TRY(girdle_common_grow(ordering->call, &order->memory, (void **)&order->lines, &order->line_capacity,
                                order->line_count + 1, sizeof *order->lines));
  line = &order->lines[order->line_count++];
  memset(line, 0, sizeof *line);
  girdle_common_text(line->supplier, sizeof line->supplier, row->supplier);
  girdle_common_text(line->pack, sizeof line->pack, row->pack);
  girdle_common_text(line->item, sizeof line->item, row->item);
  line->stone = row->stone;
  line->pack_pieces = row->pack_pieces;
  line->packs = ordering->copies[pack];
  line->price_minor = row->price_minor;
  GIRDLE_TRY(girdle_price_times(ordering->call, "price", line->packs, line->price_minor, &line->cost_minor));
  GIRDLE_TRY(girdle_price_add(ordering->call, "cost", stone->cost_minor, line->cost_minor, &stone->cost_minor));
  stone->bought += line->packs * line->pack_pieces;
  return GIRDLE_OK;
}

/* Lines and shipping of one supplier; nothing when nothing is bought there. */
static int32_t add_supplier(girdle_ordering *ordering, uint64_t supplier) {
  const girdle_market *market = &ordering->market;
  const girdle_supplier *given = &ordering->options->suppliers[ordering->supplier_at[supplier]];
  girdle_order *order = ordering->order;
  girdle_order_supplier *made;
  const uint64_t first = order->line_count;
  int64_t goods = 0;
  for (uint64_t i = 0; i < market->offer_count; i++) {
    const girdle_market_offer *offer = &market->offers[i];
    if (offer->supplier != supplier) continue;
    for (uint64_t k = offer->first_pack; k < offer->first_pack + offer->pack_count; k++)
      if (ordering->copies[k]) GIRDLE_TRY(add_line(ordering, offer, k));
  }
  if (order->line_count == first) return GIRDLE_OK;
  for (uint64_t i = first; i < order->line_count; i++)
    goods += order->lines[i].cost_minor;
  GIRDLE_TRY(girdle_common_grow(ordering->call, &order->memory, (void **)&order->suppliers, &order->supplier_capacity,
                                order->supplier_count + 1, sizeof *order->suppliers));
  made = &order->suppliers[order->supplier_count++];
  memset(made, 0, sizeof *made);
  girdle_common_text(made->supplier, sizeof made->supplier, given->name);
  made->goods_minor = goods;
  made->shipping_minor = given->free_from_minor >= 0 && goods >= given->free_from_minor ? 0 : given->shipping_minor;
  made->delivery_days = given->delivery_days;
  order->total.goods_minor += goods;
  order->total.shipping_minor += made->shipping_minor;
  return GIRDLE_OK;
}

static int32_t write_down(girdle_ordering *ordering) {
  girdle_order *order = ordering->order;
  for (uint64_t s = 0; s < ordering->market.supplier_count; s++)
    GIRDLE_TRY(add_supplier(ordering, s));
  if (ordering->options->supplier_count) order->total.currency = ordering->options->suppliers[0].currency;
  for (uint64_t i = 0; i < order->stone_count; i++) {
    girdle_order_stone *stone = &order->stones[i];
    order->total.unpriced_stones += stone->unpriced;
    if (!stone->unpriced) stone->left_over = stone->bought - lacking(stone);
  }
  if (order->total.total_minor == order->total.goods_minor + order->total.shipping_minor) return GIRDLE_OK;
  return girdle_common_fail(ordering->call, GIRDLE_INTERNAL, NULL, "the order does not add up");
}

static int32_t search(girdle_ordering *ordering) {
  girdle_market *market = &ordering->market;
  girdle_order_total *total = &ordering->order->total;
  girdle_common_release(&ordering->memory, ordering->copies, ordering->pack_capacity * sizeof *ordering->copies);
  ordering->copies = NULL;
  total->total_minor = total->bound_minor = 0;
  if (market->stone_count == 0) return GIRDLE_OK;
  ordering->copies = girdle_common_new(ordering->call, ordering->pack_capacity * sizeof *ordering->copies);
  if (!ordering->copies) return GIRDLE_MEMORY;
  market->most_labels = ordering->options->most_labels;
  return girdle_market_search(ordering->call, market, ordering->copies, &total->total_minor, &total->bound_minor);
}

int32_t girdle_order_buy(girdle_ordering *ordering) {
  const uint64_t stones = ordering->order->stone_count + 1;
  int32_t status;
  ordering->stone_at = girdle_common_new(ordering->call, stones * sizeof *ordering->stone_at);
  ordering->market.stones = girdle_common_new(ordering->call, stones * sizeof *ordering->market.stones);
  ordering->market.lines =
      girdle_common_new(ordering->call, (ordering->need_capacity + stones) * sizeof *ordering->market.lines);
  if (!ordering->stone_at || !ordering->market.stones || !ordering->market.lines) return GIRDLE_MEMORY;
  list_suppliers(ordering);
  ordering->market.split = (ordering->options->flags & GIRDLE_ORDER_SPLIT) != 0;
  GIRDLE_TRY(list_offers(ordering, 1));
  status = search(ordering);
  if (status == GIRDLE_GEOMETRY) { /* least orders out of reach: without the suppliers that ask for one */
    if (ordering->call && ordering->call->error)
      girdle_error_init(ordering->call->error, ordering->call->error->struct_bytes);
    GIRDLE_TRY(list_offers(ordering, 0));
    status = search(ordering);
  }
  GIRDLE_TRY(status);
  return write_down(ordering);
}
