/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "fields.h"
#include "girdle/job.h"
#include "words.h"

/* reckon: what stones placed in one's own script come to: count and mass, order, work, quote. The rows of prices,
 * suppliers, stock and rates have the names and the spelling of the columns of a club's tables. */

/* What is made on the way; held by a userdata, so that an error leaves nothing behind. */
typedef struct desk {
  girdle_club *club;
  girdle_job *job; /* NULL once the club has it */
  girdle_reckoning *sums;
} desk;

static int close_desk(lua_State *L) {
  desk *at = lua_touserdata(L, 1);
  girdle_reckoning_free(at->sums);
  girdle_job_free(at->job);
  girdle_club_free(at->club);
  memset(at, 0, sizeof *at);
  return 0;
}

static desk *open_desk(lua_State *L) {
  desk *at = lua_newuserdatauv(L, sizeof *at, 0);
  memset(at, 0, sizeof *at);
  lua_createtable(L, 0, 1);
  lua_pushcfunction(L, close_desk);
  lua_setfield(L, -2, "__gc");
  lua_setmetatable(L, -2);
  return at;
}

/* ---- rows in */

enum { FIRST = 2 }; /* where the values of the word's fields stand on the stack: after its table */

typedef int32_t row_taker(girdle_lua_work *work, desk *at, const girdle_lua_value *row);

static void text_into(char *field, size_t bytes, const girdle_lua_value *value) {
  girdle_common_text(field, bytes, value->given ? value->text : "");
}

static int32_t money_or(girdle_lua_work *work, const girdle_lua_value *value, const girdle_currency *currency,
                        int64_t otherwise, int64_t *out_minor) {
  *out_minor = otherwise;
  return value->given ? girdle_money_parse(&work->call, value->text, currency, out_minor) : GIRDLE_OK;
}

static int32_t take_supplier(girdle_lua_work *work, desk *at, const girdle_lua_value *row) {
  girdle_supplier supplier;
  memset(&supplier, 0, sizeof supplier);
  text_into(supplier.name, sizeof supplier.name, &row[SUPPLIER_NAME]);
  GIRDLE_TRY(girdle_currency_parse(&work->call, row[SUPPLIER_CURRENCY].given ? row[SUPPLIER_CURRENCY].text : "EUR",
                                   &supplier.currency));
  GIRDLE_TRY(money_or(work, &row[SUPPLIER_SHIPPING], &supplier.currency, 0, &supplier.shipping_minor));
  GIRDLE_TRY(money_or(work, &row[SUPPLIER_FREE_FROM], &supplier.currency, -1, &supplier.free_from_minor));
  GIRDLE_TRY(money_or(work, &row[SUPPLIER_LEAST_ORDER], &supplier.currency, 0, &supplier.least_order_minor));
  supplier.delivery_days = (int32_t)row[SUPPLIER_DELIVERY_DAYS].integer;
  return girdle_club_add_supplier(&work->call, at->club, &supplier);
}

/* In the currency of the suppliers, which are taken first. */
static int32_t take_price(girdle_lua_work *work, desk *at, const girdle_lua_value *row) {
  girdle_price_row price;
  memset(&price, 0, sizeof price);
  text_into(price.supplier, sizeof price.supplier, &row[PRICE_SUPPLIER]);
  text_into(price.pack, sizeof price.pack, &row[PRICE_PACK]);
  text_into(price.item, sizeof price.item, &row[PRICE_ITEM]);
  price.stone = row[PRICE_STONE].stones[0];
  price.at_most = row[PRICE_AT_MOST].given ? row[PRICE_AT_MOST].integer : -1;
  price.sold_out = row[PRICE_SOLD_OUT].choice;
  GIRDLE_TRY(girdle_pieces_parse(&work->call, price.pack, &price.pack_pieces));
  GIRDLE_TRY(money_or(work, &row[PRICE_PRICE], &girdle_club_quote_rates(at->club)->currency, 0, &price.price_minor));
  return girdle_club_add_price(&work->call, at->club, &price);
}

static int32_t take_stock(girdle_lua_work *work, desk *at, const girdle_lua_value *row) {
  girdle_stock_row stock;
  memset(&stock, 0, sizeof stock);
  stock.stone = row[STOCK_STONE].stones[0];
  stock.pieces = row[STOCK_ON_HAND].integer;
  text_into(stock.lot, sizeof stock.lot, &row[STOCK_LOT]);
  return girdle_club_add_stock(&work->call, at->club, &stock);
}

static int32_t take_rate(girdle_lua_work *work, desk *at, const girdle_lua_value *row) {
  return girdle_club_set_rate(&work->call, at->club, row[0].text, row[1].text);
}

/* Takes each row of the list at an index; nil is an empty list. */
static void take_rows(lua_State *L, desk *at, int list, const girdle_lua_field *fields, row_taker *take) {
  girdle_lua_value row[GIRDLE_LUA_PLACES];
  girdle_lua_work work;
  int top = lua_gettop(L);
  for (lua_Integer i = 1; !lua_isnil(L, list) && lua_rawgeti(L, list, i) != LUA_TNIL; i++) {
    const char *word = lua_pushfstring(L, "row %I of %s", i, girdle_fields_reckon[list - FIRST].name);
    girdle_lua_charge(L, 1);
    girdle_lua_fields(L, &work, top + 1, word, fields, row);
    girdle_lua_check(L, &work, take(&work, at, row), word);
    lua_settop(L, top);
  }
  lua_settop(L, top);
}

/* ---- sums out */

static void set_text(lua_State *L, const char *name, const char *text) {
  lua_pushstring(L, text);
  lua_setfield(L, -2, name);
}

static void set_whole(lua_State *L, const char *name, int64_t value) {
  lua_pushinteger(L, (lua_Integer)value);
  lua_setfield(L, -2, name);
}

static void set_number(lua_State *L, const char *name, double value) {
  lua_pushnumber(L, value);
  lua_setfield(L, -2, name);
}

static void set_order(lua_State *L, const girdle_order *order) {
  girdle_order_total sum;
  uint64_t count;
  const girdle_order_line *lines = girdle_order_lines(order, &count);
  girdle_order_sum(order, &sum);
  lua_newtable(L);
  set_text(L, "currency", sum.currency.code);
  set_whole(L, "goods_minor", sum.goods_minor);
  set_whole(L, "shipping_minor", sum.shipping_minor);
  set_whole(L, "total_minor", sum.total_minor);
  set_whole(L, "bound_minor", sum.bound_minor);
  set_whole(L, "unpriced_stones", sum.unpriced_stones);
  lua_newtable(L);
  for (uint64_t i = 0; i < count; i++) {
    lua_newtable(L);
    set_text(L, "supplier", lines[i].supplier);
    set_text(L, "item", lines[i].item);
    set_text(L, "pack", lines[i].pack);
    set_whole(L, "packs", lines[i].packs);
    set_whole(L, "cost_minor", lines[i].cost_minor);
    girdle_lua_push_stone(L, &lines[i].stone);
    lua_setfield(L, -2, "stone");
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "lines");
  lua_setfield(L, -2, "order");
}

static void set_work(lua_State *L, const girdle_work *work) {
  lua_newtable(L);
  set_whole(L, "glued", work->glued);
  set_whole(L, "sewn", work->sewn);
  set_number(L, "adhesive_ml", work->adhesive_ml);
  set_whole(L, "tubes", work->tubes);
  set_whole(L, "dots_at_a_time", work->dots_at_a_time);
  set_number(L, "minutes", work->minutes);
  set_whole(L, "evenings", work->evenings);
  lua_setfield(L, -2, "work");
}

static void set_quote(lua_State *L, const girdle_quote *quote) {
  lua_newtable(L);
  set_text(L, "currency", quote->currency.code);
  set_whole(L, "net_minor", quote->net_minor);
  set_whole(L, "tax_minor", quote->tax_minor);
  set_whole(L, "total_minor", quote->total_minor);
  set_whole(L, "deposit_minor", quote->deposit_minor);
  set_whole(L, "balance_minor", quote->balance_minor);
  lua_pushboolean(L, quote->incomplete);
  lua_setfield(L, -2, "incomplete");
  lua_newtable(L);
  for (uint64_t i = 0; i < quote->line_count; i++) {
    lua_newtable(L);
    set_text(L, "label", quote->lines[i].label);
    set_text(L, "detail", quote->lines[i].detail);
    set_whole(L, "amount_minor", quote->lines[i].amount_minor);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "lines");
  lua_setfield(L, -2, "quote");
}

static void push_sums(lua_State *L, const girdle_reckoning *sums) {
  girdle_tally_line all;
  girdle_tally_total(girdle_reckoning_tally(sums), &all);
  lua_newtable(L);
  set_whole(L, "count", all.count);
  set_number(L, "mass_mg", all.mass_mg[GIRDLE_NOMINAL]);
  set_number(L, "mass_least_mg", all.mass_mg[GIRDLE_LEAST]);
  set_number(L, "mass_most_mg", all.mass_mg[GIRDLE_MOST]);
  if (girdle_reckoning_order(sums)) set_order(L, girdle_reckoning_order(sums));
  set_work(L, girdle_reckoning_work(sums, 0));
  set_quote(L, girdle_reckoning_quote(sums, 0));
}

/* ---- the word */

static int32_t take_job(girdle_lua_work *work, desk *at, const girdle_placement *stones) {
  girdle_job_head head;
  girdle_zone zone;
  girdle_job_head_init(&head, sizeof head);
  girdle_zone_init(&zone, sizeof zone);
  girdle_common_text(head.tag, sizeof head.tag, "one");
  girdle_common_text(zone.name, sizeof zone.name, "all");
  zone.placement = stones;
  GIRDLE_TRY(girdle_job_new(&work->call, &head, &at->job));
  GIRDLE_TRY(girdle_job_add_zone(&work->call, at->job, &zone));
  GIRDLE_TRY(girdle_club_add_job(&work->call, at->club, at->job));
  at->job = NULL;
  return girdle_club_reckon(&work->call, at->club, 0, &at->sums);
}

int girdle_lua_reckon(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[RECKON_END];
  desk *at;
  lua_settop(L, 1);
  girdle_lua_fields(L, &work, 1, "reckon", girdle_fields_reckon, v);
  at = open_desk(L);
  girdle_lua_check(L, &work, girdle_club_new(&work.call, &at->club), "reckon");
  take_rows(L, at, FIRST + RECKON_SUPPLIERS, girdle_fields_supplier, take_supplier);
  take_rows(L, at, FIRST + RECKON_PRICES, girdle_fields_price, take_price);
  take_rows(L, at, FIRST + RECKON_STOCK, girdle_fields_stock, take_stock);
  take_rows(L, at, FIRST + RECKON_RATES, girdle_fields_rate, take_rate);
  girdle_lua_check(L, &work, take_job(&work, at, v[RECKON_OF].handle), "reckon");
  push_sums(L, at->sums);
  return 1;
}
