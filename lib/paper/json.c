/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "text_internal.h"

#include <jansson.h>
#include <math.h>
#include <string.h>

/* Values are built whole by jansson (its memory is malloc's: it has no context) and then written. Every function takes
 * over the values it is given; NULL stands for "out of memory" and goes through all of them. Money is whole minor units
 * beside its currency, masses are [least, nominal, most]. */

static json_t *day_of(int64_t day) {
  char text[32];
  if (day == INT64_MIN) return json_null();
  girdle_date_text(day, text, sizeof text);
  return json_string(text);
}

static json_t *stone_of(const girdle_stone *stone) {
  char text[GIRDLE_STONE_TEXT];
  girdle_stone_text(stone, text, sizeof text);
  return json_string(text);
}

/* Rounded to the milligram's thousandth, so that the text does not run to seventeen digits. */
static json_t *masses_of(const double mass_mg[3]) {
  json_t *out = json_array();
  for (int i = 0; i < 3; i++) {
    if (!out || json_array_append_new(out, json_real(nearbyint(mass_mg[i] * 1000) / 1e6)) == 0) continue;
    json_decref(out);
    out = NULL;
  }
  return out;
}

/* A list of `count` values that `make` gives for each index. */
static json_t *list_of(uint64_t count, json_t *(*make)(const void *from, uint64_t index), const void *from) {
  json_t *out = json_array();
  for (uint64_t i = 0; i < count && out; i++) {
    if (json_array_append_new(out, make(from, i)) == 0) continue;
    json_decref(out);
    out = NULL;
  }
  return out;
}

static int write_piece(const char *bytes, size_t count, void *context) {
  girdle_write_bytes(context, bytes, count);
  return ((girdle_writer *)context)->status ? -1 : 0;
}

static int32_t write_value(girdle_call *call, json_t *value, const girdle_sink *sink) {
  girdle_writer out;
  int refused;
  if (!value) return girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  girdle_writer_begin(&out, call, sink);
  refused = json_dump_callback(value, write_piece, &out, JSON_COMPACT | JSON_REAL_PRECISION(12));
  json_decref(value);
  girdle_write(&out, "\n");
  if (!out.status && refused) return girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  return girdle_writer_end(&out);
}

/* ---- counts */

static json_t *count_of(const girdle_tally_line *line) {
  return json_pack("{s:s,s:s,s:s,s:o,s:I,s:o}", "tag", line->tag, "zone", line->zone, "side", line->side, "stone",
                   stone_of(&line->stone), "count", (json_int_t)line->count, "mass_g", masses_of(line->mass_mg));
}

/* The lines of a tag; all for NULL. */
static json_t *counts_of(const girdle_tally *tally, const char *tag) {
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &count);
  json_t *out = json_array();
  for (uint64_t i = 0; i < count && out; i++) {
    if (tag && strcmp(lines[i].tag, tag) != 0) continue;
    if (json_array_append_new(out, count_of(&lines[i])) == 0) continue;
    json_decref(out);
    out = NULL;
  }
  return out;
}

static json_t *head_of(const girdle_job *job) {
  const girdle_job_head *head = girdle_job_head_of(job);
  return json_pack("{s:s,s:s,s:s,s:s,s:o}", "tag", head->tag, "costume", head->costume, "size", head->size, "routine",
                   head->routine, "needed_by", day_of(head->needed_by_day));
}

int32_t girdle_paper_counts_json(girdle_call *call, const girdle_job *job, const girdle_tally *tally,
                                 const girdle_sink *sink) {
  GIRDLE_GIVEN(call, tally, sink);
  const char *tag = job ? girdle_job_head_of(job)->tag : NULL;
  girdle_tally_line all;
  girdle_tally *own;
  GIRDLE_TRY(girdle_tally_of_tag(call, tally, tag, &own));
  girdle_tally_total(own, &all);
  girdle_tally_free(own);
  return write_value(
      call,
      json_pack("{s:i,s:o,s:o,s:I,s:o}", "format", 1, "costume", job ? head_of(job) : json_null(), "counts",
                counts_of(tally, tag), "pieces", (json_int_t)all.count, "mass_g", masses_of(all.mass_mg)),
      sink);
}

/* ---- one costume's work and quote */

static json_t *work_of(const girdle_work *work) {
  return json_pack("{s:I,s:I,s:f,s:f,s:I,s:I,s:f,s:I}", "glued", (json_int_t)work->glued, "sewn",
                   (json_int_t)work->sewn, "adhesive_ml", nearbyint(work->adhesive_ml * 1e3) / 1e3, "adhesive_buy_ml",
                   nearbyint(work->adhesive_buy_ml * 1e3) / 1e3, "tubes", (json_int_t)work->tubes, "dots_at_a_time",
                   (json_int_t)work->dots_at_a_time, "minutes", nearbyint(work->minutes * 1e3) / 1e3, "evenings",
                   (json_int_t)work->evenings);
}

static json_t *quote_line_of(const void *from, uint64_t index) {
  const girdle_quote_line *line = (const girdle_quote_line *)from + index;
  return json_pack("{s:s,s:s,s:I}", "label", line->label, "detail", line->detail, "amount_minor",
                   (json_int_t)line->amount_minor);
}

static json_t *quote_of(const girdle_quote *quote) {
  return json_pack("{s:s,s:i,s:o,s:I,s:I,s:I,s:I,s:b,s:o}", "currency", quote->currency.code, "exponent",
                   (int)quote->currency.exponent, "lines", list_of(quote->line_count, quote_line_of, quote->lines),
                   "net_minor", (json_int_t)quote->net_minor, "tax_minor", (json_int_t)quote->tax_minor, "total_minor",
                   (json_int_t)quote->total_minor, "deposit_minor", (json_int_t)quote->deposit_minor, "incomplete",
                   (int)quote->incomplete, "valid_until", day_of(quote->valid_until_day));
}

typedef struct whole_club {
  const girdle_club *club;
  const girdle_reckoning *reckoning;
} whole_club;

static json_t *costume_of(const void *from, uint64_t index) {
  const whole_club *all = from;
  const girdle_work *work = girdle_reckoning_work(all->reckoning, index);
  const girdle_quote *quote = girdle_reckoning_quote(all->reckoning, index);
  json_t *out = head_of(girdle_club_job(all->club, index));
  int failed = out == NULL;
  if (!failed) failed |= json_object_set_new(out, "work", work ? work_of(work) : json_null());
  if (!failed) failed |= json_object_set_new(out, "quote", quote ? quote_of(quote) : json_null());
  if (!failed) return out;
  json_decref(out);
  return NULL;
}

/* ---- order */

/* What could stand in for the stones of an order: all in one list, and which part of it is of each stone. */
typedef struct stand_ins {
  girdle_allocator memory;
  girdle_substitute *of;
  uint64_t count, capacity, *first, stones;
} stand_ins;

typedef struct whole_order {
  const girdle_order *order;
  const stand_ins *others;
} whole_order;

static int32_t list_stand_ins(girdle_call *call, const girdle_club *club, const girdle_order *order, stand_ins *out) {
  girdle_order_options options;
  girdle_order_options_init(&options, sizeof options);
  options.prices = girdle_club_prices(club, &options.price_count);
  options.suppliers = girdle_club_suppliers(club, &options.supplier_count);
  out->memory = girdle_common_memory(call);
  girdle_order_stones(order, &out->stones);
  out->first = girdle_common_new(call, (out->stones + 1) * sizeof *out->first);
  if (!out->first) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < out->stones; i++) {
    uint64_t more;
    GIRDLE_TRY(girdle_order_substitutes(call, order, i, &options, NULL, 0, &more));
    GIRDLE_TRY(
        girdle_common_grow(call, &out->memory, (void **)&out->of, &out->capacity, out->count + more, sizeof *out->of));
    GIRDLE_TRY(girdle_order_substitutes(call, order, i, &options, out->of + out->count, more, &more));
    out->count += more;
    out->first[i + 1] = out->count;
  }
  return GIRDLE_OK;
}

static void free_stand_ins(const stand_ins *of) {
  girdle_common_release(&of->memory, of->of, of->capacity * sizeof *of->of);
  girdle_common_release(&of->memory, of->first, (of->stones + 1) * sizeof *of->first);
}

static json_t *stand_in_of(const void *from, uint64_t index) {
  static const char *const differs[] = {"", "size", "colour", "material"};
  const girdle_substitute *other = (const girdle_substitute *)from + index;
  json_t *added =
      other->added_cost_minor == INT64_MIN ? json_null() : json_integer((json_int_t)other->added_cost_minor);
  return json_pack("{s:o,s:s,s:s,s:I,s:I,s:o,s:I,s:o}", "stone", stone_of(&other->stone), "differs_in",
                   differs[other->kind], "supplier", other->supplier, "pieces", (json_int_t)other->pieces,
                   "added_pieces", (json_int_t)other->added_pieces, "added_mass_g",
                   json_real(nearbyint(other->added_mass_mg * 1000) / 1e6), "cost_minor", (json_int_t)other->cost_minor,
                   "added_cost_minor", added);
}

static json_t *use_of(const void *from, uint64_t index) {
  const whole_order *all = from;
  uint64_t count;
  const girdle_lot_use *use = girdle_order_uses(all->order, &count) + index;
  char lot[120];
  girdle_lot_words(NULL, all->order, use, lot, sizeof lot);
  return json_pack("{s:s,s:s,s:s,s:o,s:I,s:s,s:b,s:s,s:s}", "tag", use->tag, "zone", use->zone, "side", use->side,
                   "stone", stone_of(&use->stone), "pieces", (json_int_t)use->pieces, "lot", use->lot, "bought",
                   (int)use->bought, "from", lot, "line", girdle_line_words(use));
}

static json_t *spares_of(const girdle_order *order) {
  girdle_order_basis basis;
  char words[240];
  girdle_order_spares(order, &basis);
  girdle_basis_words(NULL, order, words, sizeof words);
  return json_pack("{s:f,s:f,s:I,s:I,s:b,s:f,s:s}", "lost_share", basis.lost_share, "confidence", basis.confidence,
                   "repair_kit_each", (json_int_t)basis.kit_pieces, "learned_jobs", (json_int_t)basis.learned_jobs,
                   "assumed", basis.learned_jobs == 0, "most_chance_short", basis.most_chance_short, "basis", words);
}

static json_t *order_line_of(const void *from, uint64_t index) {
  const girdle_order_line *line = (const girdle_order_line *)from + index;
  return json_pack("{s:s,s:o,s:s,s:s,s:I,s:I,s:I,s:I}", "supplier", line->supplier, "stone", stone_of(&line->stone),
                   "item", line->item, "pack", line->pack, "pack_pieces", (json_int_t)line->pack_pieces, "packs",
                   (json_int_t)line->packs, "price_minor", (json_int_t)line->price_minor, "cost_minor",
                   (json_int_t)line->cost_minor);
}

static json_t *order_stone_of(const void *from, uint64_t index) {
  const whole_order *all = from;
  const stand_ins *others = all->others;
  uint64_t count;
  const girdle_order_stone *stone = girdle_order_stones(all->order, &count) + index;
  return json_pack(
      "{s:o,s:I,s:I,s:I,s:I,s:I,s:I,s:I,s:b,s:f,s:o}", "stone", stone_of(&stone->stone), "needed",
      (json_int_t)stone->needed, "spares", (json_int_t)stone->lost, "repair_kit", (json_int_t)stone->kit, "on_hand",
      (json_int_t)stone->on_hand, "from_stock", (json_int_t)stone->from_stock, "bought", (json_int_t)stone->bought,
      "left_over", (json_int_t)stone->left_over, "unpriced", (int)stone->unpriced, "chance_short", stone->chance_short,
      "substitutes",
      list_of(others->first[index + 1] - others->first[index], stand_in_of, others->of + others->first[index]));
}

static json_t *order_supplier_of(const void *from, uint64_t index) {
  const girdle_order_supplier *supplier = (const girdle_order_supplier *)from + index;
  return json_pack("{s:s,s:I,s:I,s:i}", "supplier", supplier->supplier, "goods_minor",
                   (json_int_t)supplier->goods_minor, "shipping_minor", (json_int_t)supplier->shipping_minor,
                   "delivery_days", (int)supplier->delivery_days);
}

static json_t *order_of(const girdle_order *order, const stand_ins *others) {
  const whole_order all = {order, others};
  uint64_t lines, stones, suppliers, uses;
  const girdle_order_line *line;
  const girdle_order_supplier *supplier;
  girdle_order_total total;
  if (!order) return json_null();
  line = girdle_order_lines(order, &lines);
  girdle_order_stones(order, &stones);
  girdle_order_uses(order, &uses);
  supplier = girdle_order_suppliers(order, &suppliers);
  girdle_order_sum(order, &total);
  return json_pack("{s:s,s:i,s:o,s:o,s:o,s:o,s:o,s:I,s:I,s:I,s:I,s:I}", "currency", total.currency.code, "exponent",
                   (int)total.currency.exponent, "lines", list_of(lines, order_line_of, line), "suppliers",
                   list_of(suppliers, order_supplier_of, supplier), "stones", list_of(stones, order_stone_of, &all),
                   "spares", spares_of(order), "lots", list_of(uses, use_of, &all), "goods_minor",
                   (json_int_t)total.goods_minor, "shipping_minor", (json_int_t)total.shipping_minor, "total_minor",
                   (json_int_t)total.total_minor, "bound_minor", (json_int_t)total.bound_minor, "unpriced_stones",
                   (json_int_t)total.unpriced_stones);
}

/* ---- calendar */

static json_t *event_of(const void *from, uint64_t index) {
  const girdle_event *event = (const girdle_event *)from + index;
  int worked = event->kind == GIRDLE_DAY_GLUE;
  json_t *minutes = worked ? json_real(nearbyint(event->minutes * 1e3) / 1e3) : json_null();
  return json_pack("{s:s,s:s,s:o,s:o,s:o}", "tag", event->tag, "what", girdle_day_text(event->kind), "first",
                   day_of(event->first_day), "last", day_of(event->last_day), "minutes", minutes);
}

static json_t *alternative_of(const void *from, uint64_t index) {
  const girdle_alternative *other = (const girdle_alternative *)from + index;
  return json_pack("{s:s,s:I,s:I}", "what", girdle_alternative_text(other->kind), "value", (json_int_t)other->value,
                   "late_days", (json_int_t)other->late_days);
}

static json_t *calendar_of(const girdle_calendar *calendar) {
  uint64_t count, other_count;
  girdle_calendar_sum sum;
  const girdle_event *events;
  const girdle_alternative *others;
  if (!calendar) return json_null();
  events = girdle_calendar_events(calendar, &count);
  others = girdle_calendar_alternatives(calendar, &other_count);
  girdle_calendar_total(calendar, &sum);
  return json_pack("{s:o,s:o,s:o,s:o,s:I,s:i,s:o}", "events", list_of(count, event_of, events), "order_by",
                   day_of(sum.order_by_day), "start", day_of(sum.start_day), "ready", day_of(sum.ready_day),
                   "late_days", (json_int_t)sum.late_days, "hands_needed", (int)sum.hands_needed, "alternatives",
                   list_of(other_count, alternative_of, others));
}

int32_t girdle_paper_club_json(girdle_call *call, const girdle_club *club, const girdle_reckoning *reckoning,
                               const girdle_sink *sink) {
  GIRDLE_GIVEN(call, club, reckoning, sink);
  const whole_club all = {club, reckoning};
  const girdle_order *order = girdle_reckoning_order(reckoning);
  stand_ins others = {.memory = girdle_common_memory(call)};
  int32_t status = order ? list_stand_ins(call, club, order, &others) : GIRDLE_OK;
  if (!status)
    status = write_value(
        call,
        json_pack("{s:i,s:o,s:o,s:o,s:o}", "format", 1, "costumes", list_of(girdle_club_jobs(club), costume_of, &all),
                  "counts", counts_of(girdle_reckoning_tally(reckoning), NULL), "order", order_of(order, &others),
                  "calendar", calendar_of(girdle_reckoning_calendar(reckoning))),
        sink);
  free_stand_ins(&others);
  return status;
}
