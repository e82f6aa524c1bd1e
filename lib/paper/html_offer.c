/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "html_internal.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What a customer is shown: prices and days, no costs. */

enum { MOST_OFFERS = 6 };

static const char style[] =
    ".offers{display:grid;grid-template-columns:repeat(auto-fit,minmax(15rem,1fr));gap:1rem;margin:1.2rem 0}\n"
    ".offer{background:var(--card);border:1px solid var(--line);border-radius:10px;padding:1rem;break-inside:avoid}\n"
    ".offer .price{font-family:serif;font-size:1.7rem;margin:.2rem 0}\n"
    ".offer h2{margin:0;padding:0;border:0;font-size:1.15rem}\n"
    ".costume{display:flex;flex-wrap:wrap;gap:.5rem;align-items:flex-end;margin:.6rem 0}\n"
    ".costume figure{margin:0;max-width:100%}.costume figcaption{color:var(--soft);font-size:.8rem}\n"
    ".costume .picture{padding:.3rem;margin:0}\n"
    ".plain{list-style:none;padding:0}.plain .swatch{width:1.2rem;height:1.2rem;vertical-align:-.25rem}\n"
    ".cuts{display:grid;grid-template-columns:repeat(auto-fit,minmax(15rem,1fr));gap:1rem;align-items:start}\n"
    ".cut{border:1px dashed var(--soft);border-radius:4px;padding:1rem;break-inside:avoid}\n"
    "@media print{.offers,.cuts{grid-template-columns:repeat(auto-fit,minmax(52mm,1fr));gap:4mm}h2{margin-top:1.6rem}"
    ".offer,.cut{padding:3mm}.costume svg{zoom:.55}}\n";

typedef struct page {
  girdle_writer *out;
  const girdle_offer *offers;
  uint64_t count;
  girdle_kinds kinds; /* of all offers */
  double dots_a_mm;   /* of all pictures, so that they can be compared */
} page;

static void say(girdle_writer *out, const char *name, const char *value) {
  girdle_write(out, "<p><span class=\"soft\">");
  girdle_say_xml(out, name);
  girdle_write(out, "</span> ");
  girdle_write_xml(out, value);
  girdle_write(out, "</p>\n");
}

/* ---- an offer */

static int32_t write_stones(girdle_writer *out, const girdle_job *job, const girdle_kinds *kinds) {
  girdle_kinds own;
  GIRDLE_TRY(girdle_kinds_make(out->call, job, &own));
  girdle_write(out, "<ul class=\"plain\">\n");
  for (uint64_t i = 0; i < own.count; i++) {
    uint64_t kind = girdle_kinds_find(kinds, &own.kinds[i].stone);
    girdle_write(out, "<li>");
    if (kind < kinds->count) girdle_html_swatch(out, kinds, kind);
    girdle_write_format(out, " %lld \303\227 ", (long long)own.kinds[i].count);
    girdle_write_xml(out, own.kinds[i].name);
    girdle_write(out, "</li>\n");
  }
  girdle_write(out, "</ul>\n");
  girdle_kinds_free(&own);
  return out->status;
}

static int32_t write_ready(girdle_writer *out, const girdle_offer *offer) {
  int64_t ready;
  int from_today;
  char day[64], words[200];
  GIRDLE_TRY(girdle_offer_ready(out->call, offer, &ready, &from_today));
  if (ready == INT64_MIN) {
    girdle_html_say(out, "p", "No day can be named: with these evenings it takes more than ten years.");
    return out->status;
  }
  girdle_day_words(out->phrases, ready, day);
  girdle_phrase_with(out->phrases, words, sizeof words, from_today ? "{1}, if it is ordered today" : "{1}", day);
  say(out, "ready by", words);
  return out->status;
}

static int32_t write_price(girdle_writer *out, const girdle_offer *offer) {
  const girdle_quote *quote = girdle_reckoning_quote(offer->reckoning, offer->job);
  char text[64], day[64];
  girdle_money_words(out->phrases, quote->total_minor, &quote->currency, 1, text);
  girdle_html_element(out, "p class=\"price\"", text);
  if (quote->incomplete) girdle_html_say(out, "p", "Not complete: some stones have no price yet.");
  if (quote->deposit_minor) {
    girdle_money_words(out->phrases, quote->deposit_minor, &quote->currency, 1, text);
    say(out, "deposit before starting", text);
  }
  GIRDLE_TRY(write_ready(out, offer));
  if (quote->valid_until_day != INT64_MIN) {
    girdle_day_words(out->phrases, quote->valid_until_day, day);
    say(out, "this price holds until", day);
  }
  return out->status;
}

static int32_t write_offer(const page *p, uint64_t index) {
  const girdle_offer *offer = &p->offers[index];
  const girdle_job *job = girdle_club_job(offer->club, offer->job);
  girdle_write(p->out, "<section class=\"offer\">\n");
  girdle_html_element(p->out, "h2", offer->label ? offer->label : girdle_job_head_of(job)->tag);
  GIRDLE_TRY(write_price(p->out, offer));
  GIRDLE_TRY(girdle_html_costume(p->out, job, &p->kinds, p->dots_a_mm));
  GIRDLE_TRY(write_stones(p->out, job, &p->kinds));
  girdle_write(p->out, "</section>\n");
  return p->out->status;
}

/* ---- gluing it oneself, having it made, getting one that is done */

/* What an order for this costume alone comes to: nobody else's packs, no stock of ours. */
static int32_t plan_alone(girdle_call *call, const girdle_offer *offer, girdle_order **out) {
  girdle_order_options options;
  girdle_tally *tally;
  int32_t status;
  girdle_order_options_init(&options, sizeof options);
  options.prices = girdle_club_prices(offer->club, &options.price_count);
  options.suppliers = girdle_club_suppliers(offer->club, &options.supplier_count);
  GIRDLE_TRY(girdle_job_tally(call, girdle_club_job(offer->club, offer->job), &tally));
  status = girdle_order_plan(call, tally, &options, out);
  girdle_tally_free(tally);
  return status;
}

static int32_t reckon_alone(girdle_call *call, const girdle_offer *offer, girdle_quote_self *out) {
  girdle_quote_self_input input;
  girdle_order_total total;
  girdle_order *order;
  uint64_t count;
  const girdle_order_stone *stones;
  GIRDLE_TRY(plan_alone(call, offer, &order));
  girdle_quote_self_input_init(&input, sizeof input);
  girdle_order_sum(order, &total);
  stones = girdle_order_stones(order, &count);
  for (uint64_t i = 0; i < count; i++)
    input.left_over += stones[i].left_over + stones[i].lost + stones[i].kit;
  input.materials_minor = total.goods_minor;
  input.shipping_minor = total.shipping_minor;
  input.unpriced = total.unpriced_stones;
  input.work = girdle_reckoning_work(offer->reckoning, offer->job);
  input.evening_s = girdle_club_work_rates(offer->club)->evening_s;
  girdle_order_free(order);
  return girdle_quote_self_make(call, &input, girdle_club_quote_rates(offer->club), out);
}

/* What is bought once and kept: in the price when the rates have one for it. */
static void write_tools(girdle_writer *out, const girdle_quote_self *self, const girdle_currency *currency) {
  char text[64], words[300];
  girdle_money_words(out->phrases, self->tools_minor, currency, 1, text);
  girdle_phrase_with(out->phrases, words, sizeof words,
                     self->tools_minor
                         ? "With {1} for first tools: a pick-up tool, fine tips or a syringe, a mat, gloves."
                         : "First tools are not in it: a pick-up tool, fine tips or a syringe, a mat, gloves.",
                     text);
  girdle_html_element(out, "p", words);
}

static void write_alone(girdle_writer *out, const girdle_quote_self *self, const girdle_currency *currency) {
  char text[64], time[64], evenings[64], left[24], words[300];
  girdle_write(out, "<section class=\"offer\">");
  girdle_html_say(out, "h3", "Glue it yourself");
  girdle_money_words(out->phrases, self->total_minor, currency, 1, text);
  girdle_html_element(out, "p class=\"price\"", text);
  girdle_minutes_words(out->phrases, self->minutes, time);
  girdle_count_words(out->phrases, self->evenings, "{1} evening", "{1} evenings", evenings, sizeof evenings);
  girdle_phrase_with(out->phrases, words, sizeof words, "About {1} for a first time, {2}.", time, evenings);
  girdle_html_element(out, "p", words);
  girdle_whole_words(self->left_over, left);
  girdle_phrase_with(out->phrases, words, sizeof words,
                     "Whole packs: {1} stones stay with you, some of them as spares.", left);
  girdle_html_element(out, "p", words);
  write_tools(out, self, currency);
  if (self->incomplete) girdle_html_say(out, "p", "Not complete: some stones have no price yet.");
  girdle_html_say(out, "p class=\"soft\"", "The time is yours, and so are the fumes: air the room, read the label.");
  girdle_write(out, "</section>\n");
}

static void write_done_one(girdle_writer *out) {
  girdle_write(out, "<section class=\"offer\">");
  girdle_html_say(out, "h3", "Hire, or buy one that is done");
  girdle_html_say(out, "p class=\"price\"", "ask for the price");
  girdle_html_say(
      out, "p",
      "Often the quickest. Ask for the fee with cleaning and deposit, who pays for lost stones, and whether "
      "it fits without new seams. For a single show it may well be the best of the three.");
  girdle_write(out, "</section>\n");
}

static int32_t write_ways(const page *p) {
  const girdle_offer *offer = &p->offers[p->count - 1];
  const girdle_quote *quote = girdle_reckoning_quote(offer->reckoning, offer->job);
  girdle_quote_self self;
  char text[64];
  GIRDLE_TRY(reckon_alone(p->out->call, offer, &self));
  girdle_write(p->out, "<section class=\"keep\">\n");
  girdle_html_section(p->out, "ways", "Three ways to get there");
  if (p->count > 1 && offer->label) say(p->out, "reckoned for", offer->label);
  girdle_write(p->out, "<div class=\"offers\">\n");
  write_alone(p->out, &self, &quote->currency);
  girdle_write(p->out, "<section class=\"offer\">");
  girdle_html_say(p->out, "h3", "Have it made");
  girdle_money_words(p->out->phrases, quote->total_minor, &quote->currency, 1, text);
  girdle_html_element(p->out, "p class=\"price\"", text);
  girdle_html_say(p->out, "p", "Stones, adhesive, work and a repair kit. You try it on before it is handed over.");
  girdle_write(p->out, "</section>\n");
  write_done_one(p->out);
  girdle_write(p->out, "</div></section>\n");
  return p->out->status;
}

/* ---- to cut out */

static void write_care(girdle_writer *out) {
  static const char *const words[] = {
      "The adhesive's label decides how soon and how it may be washed; until then keep it dry.",
      "Hand wash cold, with little soap; do not wring, tumble, iron or bleach.",
      "Dry and store it flat, inside out, with paper between the layers.",
      "A stone has come off? Keep it away from small children, let the place dry, and glue one from the repair kit.",
      "Before a show pull gently at the stones near seams, hems and hooks."};
  girdle_write(out, "<section class=\"keep\">\n");
  girdle_html_section(out, "care", "To cut out and keep");
  girdle_write(out, "<div class=\"cuts\"><div class=\"cut\">");
  girdle_html_say(out, "h3", "Care");
  girdle_write(out, "<ul>\n");
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
    girdle_html_say(out, "li", words[i]);
  girdle_write(out, "</ul></div>\n");
}

/* The order lays aside as many of each stone for every costume. */
static int64_t kit_pieces(const girdle_offer *offer) {
  const girdle_order *order = girdle_reckoning_order(offer->reckoning);
  girdle_order_basis basis = {.kit_pieces = 0};
  if (order) girdle_order_spares(order, &basis);
  return basis.kit_pieces;
}

static void write_kit_stone(girdle_writer *out, int64_t pieces, const char *name) {
  char number[24], words[GIRDLE_STONE_TEXT + 40];
  girdle_whole_words(pieces, number);
  girdle_phrase_with(out->phrases, words, sizeof words, "{1} \303\227 {2}", number, name);
  girdle_html_element(out, "li", words);
}

/* Whose kit it is: of several offers the costume and the offer's own name. */
static void write_kit_heading(const page *p, const girdle_offer *offer) {
  const girdle_job_head *head = girdle_job_head_of(girdle_club_job(offer->club, offer->job));
  const char *which = p->count > 1 && offer->label ? offer->label : head->tag;
  girdle_write(p->out, "<div class=\"cut\"><h3>");
  if (strcmp(head->costume, which) == 0)
    girdle_say_xml_with(p->out, "Repair kit: {1}", head->costume);
  else
    girdle_say_xml_with(p->out, "Repair kit: {1}, {2}", head->costume, which);
  girdle_write(p->out, "</h3><ul>\n");
}

static int32_t write_kit(const page *p, const girdle_offer *offer) {
  const girdle_job *job = girdle_club_job(offer->club, offer->job);
  const int64_t pieces = kit_pieces(offer);
  girdle_kinds own;
  if (!pieces) return GIRDLE_OK;
  GIRDLE_TRY(girdle_kinds_make(p->out->call, job, &own));
  write_kit_heading(p, offer);
  for (uint64_t i = 0; i < own.count; i++)
    write_kit_stone(p->out, pieces, own.kinds[i].name);
  girdle_write(p->out, "</ul>");
  girdle_html_say(p->out, "p", "Small parts: not for children under three.");
  girdle_write(p->out, "</div>\n");
  girdle_kinds_free(&own);
  return p->out->status;
}

/* ---- the page */

static int32_t check_offers(girdle_call *call, const girdle_offer *offers, uint64_t count) {
  if (count < 1 || count > MOST_OFFERS)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "offers", "a page shows 1 to %d offers, not %llu", MOST_OFFERS,
                              (unsigned long long)count);
  for (uint64_t i = 0; i < count; i++)
    if (!girdle_club_job(offers[i].club, offers[i].job) || !girdle_reckoning_quote(offers[i].reckoning, offers[i].job))
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "job", "costume %llu of %llu is asked for",
                                (unsigned long long)offers[i].job + 1,
                                (unsigned long long)girdle_club_jobs(offers[i].club));
  return GIRDLE_OK;
}

/* One list of kinds for all offers, so that a stone looks the same in each. */
static int32_t gather_kinds(girdle_call *call, page *p) {
  girdle_tally *all;
  int32_t status;
  GIRDLE_TRY(girdle_tally_new(call, &all));
  status = GIRDLE_OK;
  for (uint64_t i = 0; i < p->count && !status; i++) {
    girdle_tally *one;
    status = girdle_job_tally(call, girdle_club_job(p->offers[i].club, p->offers[i].job), &one);
    if (status) break;
    status = girdle_tally_add_all(call, all, one);
    girdle_tally_free(one);
  }
  if (!status) status = girdle_kinds_of(call, all, &p->kinds);
  girdle_tally_free(all);
  return status;
}

/* The costume's name and whose it is, as far as all offers have the same. */
static void head_of(const page *p, const char **name, char *words, uint64_t bytes) {
  for (uint64_t i = 0; i < p->count; i++) {
    const girdle_job *job = girdle_club_job(p->offers[i].club, p->offers[i].job);
    char own[400];
    girdle_head_words(p->out->phrases, job, own, sizeof own);
    if (i == 0) {
      *name = girdle_job_head_of(job)->costume;
      girdle_common_text(words, bytes, own);
    }
    if (strcmp(*name, girdle_job_head_of(job)->costume) != 0) *name = girdle_phrase(p->out->phrases, "The costume");
    if (strcmp(words, own) != 0) words[0] = '\0';
  }
}

static int32_t write_page(const page *p) {
  const char *name = "";
  char words[400] = "";
  head_of(p, &name, words, sizeof words);
  girdle_html_begin(p->out, name, style);
  girdle_html_kinds(p->out, &p->kinds);
  girdle_html_element(p->out, "h1", name);
  if (words[0]) girdle_html_element(p->out, "p", words);
  girdle_write(p->out, "<div class=\"offers\">\n");
  for (uint64_t i = 0; i < p->count; i++)
    GIRDLE_TRY(write_offer(p, i));
  girdle_write(p->out, "</div>\n");
  GIRDLE_TRY(write_ways(p));
  write_care(p->out);
  for (uint64_t i = 0; i < p->count; i++)
    GIRDLE_TRY(write_kit(p, &p->offers[i]));
  girdle_write(p->out, "</div></section>\n");
  girdle_html_end(p->out, NULL);
  return girdle_writer_end(p->out);
}

int32_t girdle_paper_offer_html(girdle_call *call, const girdle_offer *offers, uint64_t count,
                                const girdle_sink *sink) {
  GIRDLE_GIVEN(call, offers || !count, sink);
  girdle_writer out;
  page p;
  int32_t status;
  GIRDLE_TRY(check_offers(call, offers, count));
  memset(&p, 0, sizeof p);
  p.out = &out;
  p.offers = offers;
  p.count = count;
  p.kinds.memory = girdle_common_memory(call);
  girdle_writer_begin(&out, call, sink);
  p.dots_a_mm = GIRDLE_DOTS_TRUE;
  status = gather_kinds(call, &p);
  for (uint64_t i = 0; i < count && !status; i++)
    status = girdle_html_scale(&out, girdle_club_job(offers[i].club, offers[i].job), &p.dots_a_mm);
  if (!status) status = write_page(&p);
  girdle_kinds_free(&p.kinds);
  return status;
}
