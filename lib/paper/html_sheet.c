/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "html_internal.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The maker's sheet: what to lay ready, the zones in the order of work with their pictures and ticks, and a card to
 * fill in at the end. */

typedef struct sheet {
  girdle_writer *out;
  const girdle_club *club;
  const girdle_job *job;
  const girdle_work *work;
  const girdle_reckoning *reckoning;
  const girdle_tally *tally; /* of this costume, by zone, side and stone */
  girdle_kinds kinds;
  girdle_layout layout;
  girdle_spare_parts spares;
  girdle_zone_weight *weights; /* of the zones, as many as the layout has */
  girdle_sheet_options options;
  int64_t ticks; /* boxes so far, each with a number of its own */
} sheet;

static const char style[] =
    ".key{display:grid;grid-template-columns:repeat(auto-fill,minmax(16rem,1fr));gap:.4rem;list-style:none;padding:0}\n"
    ".key "
    "button{display:flex;gap:.7rem;align-items:center;width:100%;text-align:left;background:var(--card);border:1px "
    "solid var(--line);border-radius:6px;padding:.45rem .6rem;cursor:pointer}\n"
    ".key button[aria-pressed=true]{border-color:var(--mark);box-shadow:inset 0 0 0 1px var(--mark)}\n"
    ".key b{font-weight:600}.key span span{display:block;color:var(--soft);font-size:.9rem}\n"
    ".lit .picture g[data-kind]{opacity:.13}\n"
    "section.zone{background:var(--card);border:1px solid var(--line);border-radius:8px;padding:1rem;margin:1rem 0}\n"
    "section.zone[hidden]{display:none}\n"
    "section.zone .picture svg{max-height:24rem;width:auto}\n"
    ".beside{display:flex;flex-wrap:wrap;gap:.6rem 2rem;align-items:flex-start}.beside .picture{flex:0 1 auto}"
    ".beside table{flex:1 1 19rem;width:auto;max-width:36rem}.beside td{vertical-align:middle}"
    ".beside td+td,.beside th{white-space:nowrap}.beside td:nth-child(3),.beside th:nth-child(3){padding-left:.8rem}\n"
    ".where{display:flex;flex-wrap:wrap;gap:1rem 2rem;align-items:center}.where>div:last-child{flex:1 1 18rem}"
    ".photo img{display:block;max-width:100%;max-height:30rem}#weight+table{max-width:24rem}\n"
    ".ticks{list-style:none;padding:0}\n"
    "label.tick{display:inline-flex;gap:.5rem;align-items:center;cursor:pointer}\n"
    "input[type=checkbox]{width:1.15rem;height:1.15rem;accent-color:var(--mark);flex:none}\n"
    ".bar{display:flex;flex-wrap:wrap;gap:.6rem;align-items:center}\n"
    ".bar select,.bar button{font:inherit;color:inherit;background:var(--card);border:1px solid var(--line);"
    "border-radius:6px;padding:.4rem .6rem}\n"
    ".columns{display:grid;grid-template-columns:repeat(auto-fit,minmax(18rem,1fr));gap:0 2rem}\n"
    ".card{width:calc(100% - 2px)}.card td{height:2.1rem}.card th,.card td{padding-left:.5rem;border:1px solid "
    "var(--line)}\n"
    "@media (max-width:34rem){.card th,.card td{padding:.35rem "
    ".15rem;font-size:.66rem;overflow-wrap:anywhere}section.zone{padding:.7rem}"
    ".beside td+td,.beside th{white-space:normal}}\n"
    "@media (max-width:22.4rem){.card th,.card td{padding:.35rem .08rem;font-size:.62rem}}\n"
    "@media print{section.zone{border:0;padding:0}.key button{border:0;padding:.1rem 0}"
    "section.zone .picture svg{max-height:68mm}.beside{flex-wrap:nowrap}.beside .picture{flex:0 1 38%}.beside "
    "table{font-size:9.5pt}"
    ".beside table{flex:1 1 40%}.photo img{max-height:80mm}.where{flex-wrap:nowrap}.where .picture{flex:0 1 55%}"
    ".where>div:last-child{flex:1 1 40%}ol a{color:inherit;text-decoration:none}}\n";

/* Ticks stay in this browser under the sheet's own key; where that is not allowed the page works without. */
static const char script[] =
    "(function(){'use strict';\n"
    "var root=document.documentElement,key='girdle:'+document.getElementById('sheet').dataset.sheet;\n"
    "var store={get:function(){try{return JSON.parse(localStorage.getItem(key))||{}}catch(e){return{}}},"
    "set:function(v){try{localStorage.setItem(key,JSON.stringify(v))}catch(e){}}};\n"
    "var done=store.get(),boxes=[].slice.call(document.querySelectorAll('input[type=checkbox]'));\n"
    "var left=document.getElementById('left');\n"
    "function count(){var n=boxes.filter(function(b){return b.checked}).length;"
    "left.textContent=left.dataset.says.replace('{1}',n).replace('{2}',boxes.length)}\n"
    "boxes.forEach(function(b){b.checked=!!done[b.id];b.addEventListener('change',function(){"
    "if(b.checked)done[b.id]=1;else delete done[b.id];store.set(done);count()})});count();\n"
    "document.getElementById('clear').addEventListener('click',function(e){if(!confirm(e.target.dataset.asks))return;"
    "done={};store.set(done);boxes.forEach(function(b){b.checked=false});count()});\n"
    "var buttons=[].slice.call(document.querySelectorAll('.key "
    "button')),held=null,sheet=document.createElement('style');"
    "document.head.appendChild(sheet);\n"
    "function light(k){root.classList.toggle('lit',k!==null);"
    "sheet.textContent=k===null?'':'.lit .picture g[data-kind=\"'+k+'\"]{opacity:1}'}\n"
    "buttons.forEach(function(b){var k=b.dataset.lights;\n"
    "b.addEventListener('mouseenter',function(){light(k)});b.addEventListener('mouseleave',function(){light(held)});\n"
    "b.addEventListener('focus',function(){light(k)});b.addEventListener('blur',function(){light(held)});\n"
    "b.addEventListener('click',function(){held=held===k?null:k;buttons.forEach(function(o){"
    "o.setAttribute('aria-pressed',String(o.dataset.lights===held))});light(held)})});\n"
    "var filter=document.getElementById('filter');filter.addEventListener('change',function(){"
    "document.querySelectorAll('section.zone').forEach(function(z){z.hidden=filter.value!==''&&z.id!==filter.value})});"
    "\n"
    "})();\n";

/* ---- small parts */

static void fact(girdle_writer *out, const char *name, const char *value) {
  girdle_write(out, "<div><dt>");
  girdle_say_xml(out, name);
  girdle_write(out, "</dt><dd>");
  girdle_write_xml(out, value);
  girdle_write(out, "</dd></div>\n");
}

static void tick(sheet *s, const char *words) {
  girdle_write_format(s->out, "<label class=\"tick\"><input type=\"checkbox\" id=\"t%lld\"> <span>",
                      (long long)++s->ticks);
  girdle_write_xml(s->out, words);
  girdle_write(s->out, "</span></label>");
}

static void tick_item(sheet *s, const char *words) {
  girdle_write(s->out, "<li>");
  tick(s, words);
  girdle_write(s->out, "</li>\n");
}

static void hours_words(const girdle_phrased *phrases, double seconds, char *text, uint64_t bytes) {
  char number[48];
  girdle_number_words(phrases, seconds >= 172800 ? seconds / 86400 : seconds / 3600, 1, number);
  girdle_phrase_with(phrases, text, bytes, seconds >= 172800 ? "{1} days" : "{1} hours", number);
}

static void heading_cell(girdle_writer *out, int number, const char *english) {
  girdle_html_say(out, number ? "th class=\"n\"" : "th", english);
}

/* ---- head */

static void say_stones(const sheet *s, int64_t count) {
  char text[200], number[24], pieces[120];
  girdle_whole_words(count, number);
  girdle_pieces_words(s->out->phrases, count, pieces, sizeof pieces);
  snprintf(text, sizeof text, count >= 144 ? "%s (%s)" : "%s", number, pieces);
  fact(s->out, "stones", text);
}

static void say_mass(const sheet *s, const double mass_mg[3]) {
  char text[160], least[48], most[48];
  girdle_number_words(s->out->phrases, mass_mg[GIRDLE_LEAST] / 1000, 0, least);
  girdle_number_words(s->out->phrases, mass_mg[GIRDLE_MOST] / 1000, 0, most);
  girdle_phrase_with(s->out->phrases, text, sizeof text, "{1} to {2} g", least, most);
  fact(s->out, "they weigh", text);
}

static void say_work(const sheet *s) {
  const girdle_phrased *phrases = s->out->phrases;
  char text[200], number[64], count[64];
  girdle_number_words(phrases, s->work->adhesive_buy_ml, 1, number);
  girdle_count_words(phrases, s->work->tubes, "{1} tube", "{1} tubes", count, sizeof count);
  girdle_phrase_with(phrases, text, sizeof text, "{1} ml, {2}", number, count);
  if (s->work->glued) fact(s->out, "adhesive", text);
  girdle_minutes_words(phrases, s->work->minutes, number);
  girdle_count_words(phrases, s->work->evenings, "{1} evening", "{1} evenings", count, sizeof count);
  girdle_phrase_with(phrases, text, sizeof text, "{1}, {2}", number, count);
  fact(s->out, "work", text);
}

static void write_facts(const sheet *s) {
  girdle_tally_line all;
  girdle_tally_total(s->tally, &all);
  girdle_write(s->out, "<dl class=\"facts\">\n");
  say_stones(s, all.count);
  say_mass(s, all.mass_mg);
  say_work(s);
  girdle_write(s->out, "</dl>\n");
}

static void write_head(const sheet *s) {
  const girdle_job_head *head = girdle_job_head_of(s->job);
  char words[400], state[300], line[400];
  girdle_head_words(s->out->phrases, s->job, words, sizeof words);
  girdle_state_words(s->out->phrases, s->job, state, sizeof state);
  girdle_phrase_with(s->out->phrases, line, sizeof line, "Pictures show zones {1}; they are not to size on a screen.",
                     state);
  girdle_html_element(s->out, "h1", head->costume[0] ? head->costume : head->tag);
  girdle_html_element(s->out, "p", words);
  if (s->options.flags & GIRDLE_SHEET_NAMES && head->wearer[0]) girdle_html_element(s->out, "p", head->wearer);
  girdle_html_element(s->out, "p class=\"soft\"", line);
  write_facts(s);
}

/* ---- key */

static void write_key(const sheet *s) {
  girdle_html_section(s->out, "stones", "The stones");
  girdle_html_say(s->out, "p class=\"soft screen\"", "Point at a stone, or press it, to see where it goes.");
  girdle_write(s->out, "<ul class=\"key\">\n");
  for (uint64_t i = 0; i < s->kinds.count; i++) {
    char words[160];
    girdle_kind_words(s->out->phrases, &s->kinds.kinds[i], words, sizeof words);
    girdle_write_format(s->out, "<li><button type=\"button\" aria-pressed=\"false\" data-lights=\"%llu\">",
                        (unsigned long long)i);
    girdle_html_swatch(s->out, &s->kinds, i);
    girdle_write(s->out, "<span><b>");
    girdle_write_xml(s->out, s->kinds.kinds[i].name);
    girdle_write(s->out, "</b><span>");
    girdle_write_xml(s->out, words);
    girdle_write(s->out, "</span></span></button></li>\n");
  }
  girdle_write(s->out, "</ul>\n");
}

/* ---- what to lay ready */

/* What the spares rest on; without an order there are none. */
static void write_basis(const sheet *s) {
  const girdle_order *order = girdle_reckoning_order(s->reckoning);
  char words[240];
  if (!order) return;
  girdle_basis_words(s->out->phrases, order, words, sizeof words);
  girdle_html_element(s->out, "p class=\"soft\"", words);
}

static void write_ready(sheet *s) {
  static const char *const tools[] = {"Adhesive, with its label and safety data sheet read",
                                      "Gloves, a wipe, and a window that opens",
                                      "Pick-up tool, fine tip or syringe",
                                      "Card or baking paper between the layers, so that front and back stay apart",
                                      "Tape measure, chalk or a pen that vanishes",
                                      "A sample of the fabric, glued, dried and pulled at"};
  girdle_html_section(s->out, "ready", "Lay ready");
  girdle_write(s->out, "<div class=\"columns\"><ul class=\"ticks\">\n");
  for (uint64_t i = 0; i < s->kinds.count; i++) {
    const girdle_kind *kind = &s->kinds.kinds[i];
    int64_t spares = girdle_spare_parts_of(&s->spares, girdle_job_head_of(s->job)->tag, &kind->stone);
    char words[GIRDLE_STONE_TEXT + 80], count[24], more[24];
    girdle_whole_words(kind->count, count);
    girdle_whole_words(spares, more);
    girdle_phrase_with(s->out->phrases, words, sizeof words,
                       spares ? "{1} \303\227 {2}, and {3} as spares" : "{1} \303\227 {2}", count, kind->name, more);
    tick_item(s, words);
  }
  girdle_write(s->out, "</ul><ul class=\"ticks\">\n");
  for (size_t i = 0; i < sizeof tools / sizeof tools[0]; i++)
    tick_item(s, girdle_phrase(s->out->phrases, tools[i]));
  girdle_write(s->out, "</ul></div>\n");
  write_basis(s);
}

/* ---- zones */

static int64_t loads_of(const sheet *s, const girdle_tally_line *line) {
  if (line->stone.fix == GIRDLE_SEW || s->work->dots_at_a_time < 1) return 0;
  return (line->count + s->work->dots_at_a_time - 1) / s->work->dots_at_a_time;
}

static void number_cell(girdle_writer *out, int64_t value) {
  girdle_write(out, "<td class=\"n\">");
  if (value) girdle_write_whole(out, value);
  girdle_write(out, "</td>");
}

/* Of a ring each half is ticked for itself. */
static void write_line(sheet *s, const girdle_tally_line *line, const char *zone_side) {
  char stone[GIRDLE_STONE_TEXT], words[GIRDLE_STONE_TEXT + 64], pieces[120] = "";
  const int half = strcmp(line->side, zone_side) != 0;
  girdle_stone_text(&line->stone, stone, GIRDLE_STONE_TEXT);
  snprintf(words, sizeof words, "%s%s%.60s", stone, half ? ", " : "",
           half ? girdle_side_words(s->out->phrases, line->side) : "");
  if (line->count >= 144) girdle_pieces_words(s->out->phrases, line->count, pieces, sizeof pieces);
  girdle_write(s->out, "<tr><td>");
  tick(s, words);
  girdle_write(s->out, "</td>");
  number_cell(s->out, line->count);
  girdle_write(s->out, "<td>");
  girdle_write_xml(s->out, pieces);
  girdle_write(s->out, "</td>");
  number_cell(s->out, loads_of(s, line));
  girdle_write(s->out, "</tr>\n");
}

static int is_of(const girdle_tally_line *line, const girdle_zone *zone) {
  if (strcmp(line->zone, zone->name) != 0) return 0;
  if (strcmp(line->side, zone->side) == 0) return 1;
  return strcmp(zone->side, "both") == 0 && (strcmp(line->side, "front") == 0 || strcmp(line->side, "back") == 0);
}

static void write_lines(sheet *s, const girdle_slot *slot) {
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(s->tally, &count);
  girdle_write(s->out, "<table><thead><tr>");
  heading_cell(s->out, 0, "done");
  heading_cell(s->out, 1, "pieces");
  heading_cell(s->out, 0, "gross and odd");
  heading_cell(s->out, 1, "loads of adhesive");
  girdle_write(s->out, "</tr></thead><tbody>\n");
  for (uint64_t i = 0; i < count; i++)
    if (is_of(&lines[i], slot->zone)) write_line(s, &lines[i], slot->zone->side);
  girdle_write(s->out, "</tbody></table>\n");
}

/* The gap in both states, where the fabric stretches, and what would touch in one of them. */
static void write_gaps(const sheet *s, const girdle_zone_weight *zone) {
  const girdle_phrased *phrases = s->out->phrases;
  char text[160], glued[64], worn[64];
  double lies = girdle_job_head_of(s->job)->fabric.lies_across;
  if (zone->glued_gap_mm > 0 && (lies != 0 || zone->worn_gap_mm != zone->glued_gap_mm)) {
    girdle_length_words(phrases, zone->glued_gap_mm, 2, glued, sizeof glued);
    girdle_length_words(phrases, zone->worn_gap_mm, 2, worn, sizeof worn);
    girdle_phrase_with(phrases, text, sizeof text, "edge to edge {1} as glued, {2} as worn", glued, worn);
    girdle_html_element(s->out, "p class=\"soft\"", text);
  }
  if (!zone->touching) return;
  girdle_whole_words(zone->touching, glued);
  girdle_phrase_with(phrases, text, sizeof text, "{1} stones would touch another, as glued or as worn", glued);
  girdle_html_element(s->out, "p", text);
}

static int32_t write_zone(sheet *s, uint64_t index) {
  const girdle_slot *slot = &s->layout.slots[index];
  girdle_write_format(s->out, "<section class=\"zone\" id=\"zone%llu\"><h3>%llu. ", (unsigned long long)index + 1,
                      (unsigned long long)index + 1);
  girdle_write_xml(s->out, slot->name);
  girdle_write(s->out, "</h3>\n");
  for (int i = 0; i < 2; i++)
    if (slot->caption[i][0]) girdle_html_element(s->out, "p class=\"soft\"", slot->caption[i]);
  write_gaps(s, &s->weights[index]);
  girdle_write(s->out, "<div class=\"beside\">\n");
  if (slot->count) GIRDLE_TRY(girdle_html_zone(s->out, slot, &s->kinds, GIRDLE_DOTS_TRUE));
  write_lines(s, slot);
  girdle_write(s->out, "</div></section>\n");
  return s->out->status;
}

static void write_filter(const sheet *s) {
  girdle_write(s->out, "<div class=\"bar screen\"><label>");
  girdle_say_xml(s->out, "Show");
  girdle_write(s->out, " <select id=\"filter\"><option value=\"\">");
  girdle_say_xml(s->out, "all zones");
  girdle_write(s->out, "</option>\n");
  for (uint64_t i = 0; i < s->layout.count; i++) {
    girdle_write_format(s->out, "<option value=\"zone%llu\">", (unsigned long long)i + 1);
    girdle_write_xml(s->out, s->layout.slots[i].name);
    girdle_write(s->out, "</option>\n");
  }
  /* what the script says it takes from the page */
  girdle_write(s->out, "</select></label> <span id=\"left\" class=\"soft\" role=\"status\" data-says=\"");
  girdle_say_xml(s->out, "{1} of {2} ticked");
  girdle_write(s->out, "\"></span> <button type=\"button\" id=\"clear\" data-asks=\"");
  girdle_say_xml(s->out, "Take all ticks off?");
  girdle_write(s->out, "\">");
  girdle_say_xml(s->out, "Take all ticks off");
  girdle_write(s->out, "</button></div>\n");
}

static void write_drying(const sheet *s) {
  const girdle_work_rates *rates = girdle_club_work_rates(s->club);
  char dry[80], cure[80], dots[24];
  hours_words(s->out->phrases, rates->dry_s, dry, sizeof dry);
  hours_words(s->out->phrases, rates->cure_s, cure, sizeof cure);
  girdle_whole_words(s->work->dots_at_a_time, dots);
  girdle_write(s->out, "<p>");
  girdle_say_xml_with(s->out,
                      "One side first. Leave it flat for {1} before you turn it, and let all of it dry right through "
                      "(cure) for {2} before it is worn. Dot no more than {3} stones at a time.",
                      dry, cure, dots);
  girdle_write(s->out, "</p>\n");
}

/* The zones in their order, which the figure's numbers stand for. */
static void write_order(const sheet *s) {
  girdle_write(s->out, "<ol>\n");
  for (uint64_t i = 0; i < s->layout.count; i++) {
    girdle_write_format(s->out, "<li><a href=\"#zone%llu\">", (unsigned long long)i + 1);
    girdle_write_xml(s->out, s->layout.slots[i].name);
    girdle_write(s->out, "</a></li>\n");
  }
  girdle_write(s->out, "</ol>\n");
}

static int32_t write_zones(sheet *s) {
  girdle_html_section(s->out, "zones", "Zone by zone");
  girdle_write(s->out, "<div class=\"where\">");
  if (s->options.photo)
    girdle_html_photo(s->out, s->options.photo, s->options.photo_bytes, "The costume");
  else
    girdle_html_figure(s->out, &s->layout);
  girdle_write(s->out, "<div>");
  write_drying(s);
  write_order(s);
  girdle_write(s->out, "</div>");
  girdle_write(s->out, "</div>\n");
  write_filter(s);
  for (uint64_t i = 0; i < s->layout.count; i++)
    GIRDLE_TRY(write_zone(s, i));
  return s->out->status;
}

/* ---- weight, cautions, card */

static void write_weights(const sheet *s) {
  static const char *const sides[] = {"front", "back", "left", "right", "both", ""};
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(s->tally, &count);
  girdle_html_section(s->out, "weight", "Weight");
  girdle_write(s->out, "<table><thead><tr>");
  heading_cell(s->out, 0, "where");
  heading_cell(s->out, 1, "about");
  girdle_write(s->out, "</tr></thead><tbody>\n");
  for (size_t k = 0; k < sizeof sides / sizeof sides[0]; k++) {
    double mg = 0;
    char grams[48];
    for (uint64_t i = 0; i < count; i++)
      if (strcmp(lines[i].side, sides[k]) == 0) mg += lines[i].mass_mg[GIRDLE_NOMINAL];
    if (mg <= 0) continue;
    girdle_number_words(s->out->phrases, mg / 1000, 1, grams);
    girdle_write(s->out, "<tr><td>");
    girdle_write_xml(s->out, girdle_side_words(s->out->phrases, sides[k][0] ? sides[k] : "elsewhere"));
    girdle_write(s->out, "</td><td class=\"n\">");
    girdle_say_xml_with(s->out, "{1} g", grams);
    girdle_write(s->out, "</td></tr>\n");
  }
  girdle_write(s->out, "</tbody></table>\n");
}

static void write_cautions(const sheet *s) {
  uint64_t count;
  const char *const *words = girdle_caution_words(&count), *lead = girdle_lead_words(s->tally);
  girdle_html_section(s->out, "cautions", "Before you begin");
  girdle_write(s->out, "<ul class=\"keep\">\n");
  for (uint64_t i = 0; i < count; i++)
    girdle_html_say(s->out, "li", words[i]);
  if (lead) girdle_html_say(s->out, "li", lead);
  girdle_write(s->out, "</ul>\n");
}

/* The columns of a filled card, which is read back by these names, or by those of the phrases. "left" is said of sides,
 * too, so in other words this one is what is left over. */
static void write_card_head(const sheet *s) {
  static const char *const columns[] = {"tag", "stone", "planned", "had", "bought", "left over", "evenings", "date"};
  girdle_write(s->out, "<table class=\"card keep\"><thead><tr>");
  for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++) {
    const char *word = girdle_phrase(s->out->phrases, columns[i]);
    girdle_write(s->out, i == 2 ? "<th class=\"n\">" : "<th>");
    girdle_write_xml(s->out, strcmp(word, "left over") == 0 ? "left" : word);
    girdle_write(s->out, "</th>");
  }
  girdle_write(s->out, "</tr></thead><tbody>\n");
}

static void write_card(const sheet *s) {
  girdle_write(s->out, "<section class=\"keep\">\n");
  girdle_html_section(s->out, "card", "Job card");
  girdle_html_say(s->out, "p class=\"soft\"", "Fill this in when it is done; it makes the next estimate better.");
  girdle_html_say(s->out, "p class=\"soft\"",
                  "had: pieces there before; bought: pieces bought for it; left: pieces over at the end, 0 for none; "
                  "evenings: of the whole job, in one row.");
  write_card_head(s);
  for (uint64_t i = 0; i < s->kinds.count; i++) {
    girdle_write(s->out, "<tr><td>");
    girdle_write_xml(s->out, girdle_job_head_of(s->job)->tag);
    girdle_write(s->out, "</td><td>");
    girdle_write_xml(s->out, s->kinds.kinds[i].name);
    girdle_write(s->out, "</td>");
    number_cell(s->out, s->kinds.kinds[i].count);
    girdle_write(s->out, "<td></td><td></td><td></td><td></td><td></td></tr>\n");
  }
  girdle_write(s->out, "</tbody></table></section>\n");
}

/* ---- the page */

static int32_t write_sheet(sheet *s) {
  const girdle_job_head *head = girdle_job_head_of(s->job);
  char title[128];
  snprintf(title, sizeof title, "%s, %s", head->costume, head->tag);
  girdle_html_begin(s->out, title, style);
  girdle_write(s->out, "<div id=\"sheet\" data-sheet=\"");
  girdle_write_xml(s->out, title);
  girdle_write(s->out, "\">\n");
  girdle_html_kinds(s->out, &s->kinds);
  write_head(s);
  write_key(s);
  write_cautions(s);
  write_ready(s);
  GIRDLE_TRY(write_zones(s));
  write_weights(s);
  write_card(s);
  girdle_write(s->out, "</div>\n");
  girdle_html_end(s->out, script);
  return girdle_writer_end(s->out);
}

static int32_t weigh(girdle_call *call, sheet *s) {
  girdle_weight_options options;
  girdle_weight sum;
  girdle_weight_options_init(&options, sizeof options);
  s->weights = girdle_common_new(call, (s->layout.count + 1) * sizeof *s->weights);
  if (!s->weights) return GIRDLE_MEMORY;
  return girdle_job_weigh(call, s->job, &options, &sum, s->weights, s->layout.count);
}

static int32_t prepare(girdle_call *call, sheet *s, girdle_tally **tally) {
  int32_t status = girdle_job_tally(call, s->job, tally);
  if (status) return status;
  s->tally = *tally;
  status = girdle_kinds_make(call, s->job, &s->kinds);
  if (!status) status = girdle_layout_make(call, s->job, s->out->phrases, 200, &s->layout);
  if (!status) status = girdle_spare_parts_make(call, s->reckoning, &s->spares);
  return status ? status : weigh(call, s);
}

void girdle_sheet_options_init(girdle_sheet_options *options, uint32_t struct_bytes) {
  memset(options, 0, struct_bytes);
  if (struct_bytes >= sizeof options->struct_bytes) options->struct_bytes = struct_bytes;
}

int32_t girdle_paper_sheet_html(girdle_call *call, const girdle_club *club, uint64_t job,
                                const girdle_reckoning *reckoning, const girdle_sheet_options *options,
                                const girdle_sink *sink) {
  GIRDLE_GIVEN(call, club, reckoning, sink);
  girdle_writer out;
  girdle_tally *tally = NULL;
  sheet s;
  int32_t status;
  memset(&s, 0, sizeof s);
  s.kinds.memory = s.layout.memory = s.spares.memory = girdle_common_memory(call);
  s.out = &out;
  s.club = club;
  girdle_sheet_options_init(&s.options, sizeof s.options);
  if (options) girdle_common_options(&s.options, sizeof s.options, options);
  s.job = girdle_club_job(club, job);
  s.work = girdle_reckoning_work(reckoning, job);
  s.reckoning = reckoning;
  if (!s.job || !s.work)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "job", "costume %llu of %llu is asked for",
                              (unsigned long long)job + 1, (unsigned long long)girdle_club_jobs(club));
  if (s.options.photo) GIRDLE_TRY(girdle_photo_check(call, s.options.photo, s.options.photo_bytes));
  girdle_writer_begin(&out, call, sink);
  status = prepare(call, &s, &tally);
  if (!status) status = write_sheet(&s);
  girdle_common_release(&s.layout.memory, s.weights, (s.layout.count + 1) * sizeof *s.weights);
  girdle_spare_parts_free(&s.spares);
  girdle_layout_free(&s.layout);
  girdle_kinds_free(&s.kinds);
  girdle_tally_free(tally);
  return status;
}
