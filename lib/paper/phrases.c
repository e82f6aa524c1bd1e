/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

/* The one table of everything that paper says. The code names a phrase by its English, which stands when nothing else
 * is given. {1}, {2} ... are filled in; where one and several differ there are two phrases. */
static const char *const english[] = {
    /* the language's code for the browser; the decimal mark; numbers, sides, days */
    "en", ".", "{1} gross", "{1} gross and {2}", "{1} min", "{1} h {2} min", "{1} hours", "{1} days", "front", "back",
    "left", "right", "front and back", "elsewhere", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun",
    /* heads */
    "Costume", "size {1}", "needed by {1}", "as the costume lies flat while it is glued",
    "as the costume lies while it is glued, stretched {1}", "{1} % across", "{1} % along", "{1} and {2}",
    "Drawn at true size, {1}.", "Pictures show zones {1}; they are not to size on a screen.",
    /* counts and weight */
    "zone", "side", "stone", "pieces", "in all", "together",
    "About {1} g on the costume, likely between {2} and {3} g until a gross is weighed.", "{1} mm", "{1} in",
    "{1} \303\227 {2} cm", "{1} \303\227 {2} in", "{1}, {2} across", "{1} ({2}), {3} across", "{1} stone", "{1} stones", "\303\227 {1}: work it {1} times, {2} stones in all", "{1} {2} set by eye",
    "{1} left out where no room is",
    /* cost: labels and details of a quote, then what is said of it */
    "Stones", "Shipping", "Adhesive", "Consumables", "Labour", "Checking and sorting", "Overhead", "Margin", "Mark-up",
    "Rush", "Extra stones", "Rounding", "Tax", "{1} stones at {2} a gross", "{1} stones at {2} a stone",
    "{1} at {2} an hour", "{1} % of the price before tax", "{1} % of the cost", "{1} % of the above",
    "{1} stones of the customer's own", "{1} stones added after the deposit", "incomplete: some stones have no price",
    "Price", "Deposit before starting", "Then to pay", "Valid until {1}.",
    "INCOMPLETE: some stones have no price yet, see the order.",
    /* work */
    "{1} evening", "{1} evenings", "{1} tube", "{1} tubes", "Gluing: {1} stones in about {2}, {3}.",
    "Gluing: {1} stones in about {2} (and {3} sewn on), {4}.",
    "Adhesive: about {1} ml under the stones, {2} ml with what stays in the nozzle: {3}.",
    "Dot no more than {1} stones at a time, or the first dots skin over.",
    /* order */
    "{1}, delivers in {2} day", "{1}, delivers in {2} days", "shipping", "to pay there", "The whole order, {1}",
    "This is the cheapest order for these prices.", "At most {1} could still be saved; whether it can was not settled.",
    "needed", "spares", "repair kit", "on hand", "from stock", "bought", "left over", "no supplier offers enough",
    "Nothing is to be ordered.", "INCOMPLETE: no supplier offers enough of {1} kind of stone.",
    "INCOMPLETE: no supplier offers enough of {1} kinds of stone.",
    "Spares: {1} % of each stone is taken to be lost while working: an assumption, until there is a log.",
    "Spares: {1} % of each stone is taken to be lost while working, learned from {2} job of the log beside the rate.",
    "Spares: {1} % of each stone is taken to be lost while working, learned from {2} jobs of the log beside the rate.",
    "Stock of a named lot serves whole zones only, since lots can differ in shade.",
    "With them the chance of running short of a stone is at most {1} %; the repair kit holds {2} of each stone a costume.",
    /* calendar */
    "to", "all", "order the stones", "delivery", "alterations, before any gluing",
    "swatch on this fabric: look at it under the lights, then peel", "glue", "glue, about {1}",
    "dry right through (cure)", "try on", "days in hand", "Order by {1}, ready on {2}.", "Begin by {1}.",
    "TOO LATE by {1} day as planned.", "TOO LATE by {1} days as planned.",
    "What one change alone would do:", "No one change helps: take a later day.", "more hands: {1} gluing at once",
    "faster post: {1} days of delivery", "longer evenings: {1} minutes each",
    "more places: {1} costumes lying flat at once", "fewer stones: zones left out that are {1} % of the work",
    "larger stones: {1} % larger across, the same areas covered", "it can be met", "still {1} day too late",
    "still {1} days too late",
    /* cautions */
    "Before you begin", "The label and the safety data sheet of your adhesive come before every number here.",
    "Air the room well, wear gloves, keep flames and sparks away.",
    "Never glue on a person; let it dry right through before it is worn.",
    "Small stones are small parts: keep them from children under three.",
    "Mind needles and chipped glass; guard your eyes when you pick a chipped stone off.",
    "Rules of sports and shows change: check the current rulebook. A stone on the ice or floor is a hazard.",
    "All figures are estimates; local rules and qualified people come first.",
    "Glass may hold lead: for what a child wears there are legal limits; ask the supplier for a test report.",
    "Some of these stones may hold lead: for what a child wears there are legal limits; ask for a test report.",
    "Some of these stones are leaded crystal: for what a child wears there are legal limits; take other stones.",
    /* maps and guides */
    "100 mm: lay a ruler here before you trust the print;",
    "100 mm and 4 in: lay a ruler here before you trust the print;", "when it differs, print again at 100 % without fitting.",
    "Print at 100 %, without fitting to the page, and lay a ruler on this one first.",
    "Pages of one zone overlap: lay cross on cross, then tape them together.",
    "Mirrored, for working from the back of the fabric.", "MIRRORED, for the back of the fabric", "The pages",
    "{1}, {2} \302\267 page {3} of {4}", "goes on on page {1}", "The font lacks {1}: printed as \"?\".",
    "Guides to cut out and lay on.", "{1}: strip", "{1}: card",
    "in a square of 10 cm:", "in a square of 4 in:", "{1} edge to edge, {2} centre to centre",
    /* tables */
    "How many stones", "size", "across", "gap", "mm", "in", "10 cm", "10 x 10 cm", "1 inch", "1 square inch", "line",
    "honeycomb", "square", "A closed cover, far from its edges; near an edge stones are left out.",
    "A scatter takes far fewer.", "Rings are as large as the stones: print at 100 %, without fitting to the page.",
    /* the maker's sheet */
    "stones", "they weigh", "{1} to {2} g", "adhesive", "{1} ml, {2}", "work", "{1}, {2}", "The stones",
    "Point at a stone, or press it, to see where it goes.", "Lay ready", "{1} \303\227 {2}",
    "{1} \303\227 {2}, and {3} as spares", "Adhesive, with its label and safety data sheet read",
    "Gloves, a wipe, and a window that opens", "Pick-up tool, fine tip or syringe",
    "Card or baking paper between the layers, so that front and back stay apart",
    "Tape measure, chalk or a pen that vanishes", "A sample of the fabric, glued, dried and pulled at", "Zone by zone",
    "One side first. Leave it flat for {1} before you turn it, and let all of it dry right through (cure) for {2} "
    "before "
    "it is worn. Dot no more than {3} stones at a time.",
    "Where the zones are, front and back", "The costume", "Show", "all zones", "{1} of {2} ticked", "Take all ticks off",
    "Take all ticks off?", "done", "gross and odd", "loads of adhesive", "Weight", "where", "about", "{1} g",
    "Job card", "Fill this in when it is done; it makes the next estimate better.", "planned",
    "had: pieces there before; bought: pieces bought for it; left: pieces over at the end, 0 for none; "
    "evenings: of the whole job, in one row.",
    /* what is weighed and planned */
    "{1} stones  {2} g", ", {1} g/m2", ", {1} g/cm", ", one size smaller {1} g", "over the limit",
    "{1} g added, likely between {2} g and {3} g until a gross is weighed", "; {1} % of the plain dress",
    ", which is over the limit", "front {1} g, back {2} g; left {3} g, right {4} g", "; from the straps hang {1} g",
    "The zone to lighten is {1}, the heaviest:", "stones one size smaller would save {1} g;",
    "sewn there they would save the adhesive, about {1} g.", "light", "medium", "full",
    "together {1} of {2} ({3}), about {4} minutes, {5}", ", the order {1}", "{1} stops for want of {2}",
    "Light is the edges alone; medium the edges, and half of what the areas hold; full is all of it.",
    "Light, medium and full are a third, two thirds and all of what there can be.",
    /* bags */
    "Bags", "Grams are estimates: count one gross, weigh it, and trust that scale before these numbers.",
    "Picking list", "tag", "by scale", "in the bag", "{1}: {2}", "{1}: {2} ({3})", "Bag labels", "and {1} as spares",
    "fill to about {1}", "not for children under three",
    /* the customer's page */
    "Not complete: some stones have no price yet.", "deposit before starting", "ready by", "this price holds until",
    "Three ways to get there", "reckoned for", "Glue it yourself", "About {1} for a first time, {2}.",
    "Whole packs: {1} stones stay with you, some of them as spares.",
    "The time is yours, and so are the fumes: air the room, read the label.", "Have it made",
    "Stones, adhesive, work and a repair kit. You try it on before it is handed over.", "Hire, or buy one that is done",
    "ask for the price",
    "Often the quickest. Ask for the fee with cleaning and deposit, who pays for lost stones, and whether it fits "
    "without "
    "new seams. For a single show it may well be the best of the three.",
    "To cut out and keep", "Care",
    "The adhesive's label decides how soon and how it may be washed; until then keep it dry.",
    "Hand wash cold, with little soap; do not wring, tumble, iron or bleach.",
    "Dry and store it flat, inside out, with paper between the layers.",
    "A stone has come off? Keep it away from small children, let the place dry, and glue one from the repair kit.",
    "Before a show pull gently at the stones near seams, hems and hooks.", "Repair kit: {1}, {2}",
    "Small parts: not for children under three."};
enum { PHRASES = sizeof english / sizeof english[0], MOST_ARGUMENTS = 6 };

const char *const *girdle_paper_phrases(uint64_t *count) {
  *count = PHRASES;
  return english;
}

/* ---- phrases of one's own */

typedef struct pair {
  const char *english, *own;
} pair;

struct girdle_phrases {
  girdle_allocator memory;
  girdle_table *table; /* holds the texts of one's own */
  pair *pairs;         /* in order of the English */
  uint64_t count, room;
};

void girdle_phrases_free(girdle_phrases *phrases) {
  girdle_allocator memory;
  if (!phrases) return;
  memory = phrases->memory;
  girdle_table_free(phrases->table);
  girdle_common_release(&memory, phrases->pairs, phrases->room * sizeof *phrases->pairs);
  girdle_common_release(&memory, phrases, sizeof *phrases);
}

static int by_english(const void *a, const void *b) {
  return strcmp(((const pair *)a)->english, ((const pair *)b)->english);
}

static const char *find_english(const char *text) {
  for (size_t i = 0; i < PHRASES; i++)
    if (strcmp(english[i], text) == 0) return english[i];
  return NULL;
}

static int32_t highest_place(const char *text) {
  int32_t highest = 0;
  for (; (text = strchr(text, '{')) != NULL; text++)
    if (text[1] >= '1' && text[1] <= '9' && text[2] == '}' && text[1] - '0' > highest) highest = text[1] - '0';
  return highest;
}

static int32_t check_own(girdle_call *call, const char *known, const char *own) {
  for (const char *at = own; *at; at++)
    if ((unsigned char)*at < 0x20 || *at == 0x7f)
      return girdle_common_fail(call, GIRDLE_SYNTAX, "own", "a phrase may not hold line breaks or control characters");
  if (highest_place(own) <= highest_place(known)) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_SYNTAX, "own", "'%.60s' asks for {%d}, but the English has only %d to fill in",
                            own, (int)highest_place(own), (int)highest_place(known));
}

static int32_t unknown_phrase(girdle_call *call, const char *text) {
  const char *nearest = girdle_nearest(text, english, PHRASES);
  if (nearest)
    return girdle_common_fail(call, GIRDLE_UNKNOWN, "english", "there is no phrase '%.60s', did you mean '%.60s'?",
                              text, nearest);
  return girdle_common_fail(call, GIRDLE_UNKNOWN, "english", "there is no phrase '%.60s'", text);
}

static void read_row(girdle_rows *in, girdle_phrases *out) {
  const char *text = girdle_rows_cell(in, "english"), *own = girdle_rows_cell(in, "own");
  const char *known = find_english(text);
  if (!known) {
    girdle_rows_check(in, "english", unknown_phrase(in->call, text));
    return;
  }
  if (!*own || !girdle_rows_check(in, "own", check_own(in->call, known, own))) return;
  out->pairs[out->count++] = (pair){known, own};
}

static int32_t read_rows(girdle_call *call, const char *source, girdle_phrases *out) {
  static const char *const columns[] = {"english", "own"};
  girdle_rows in;
  out->room = girdle_table_rows(out->table) + 1;
  out->pairs = girdle_common_new(call, out->room * sizeof *out->pairs);
  if (!out->pairs) return GIRDLE_MEMORY;
  girdle_rows_begin(&in, call, source, out->table);
  girdle_rows_headings(&in, columns, 2, 2, 0);
  for (; in.row < girdle_table_rows(out->table) && !in.stop; in.row++)
    read_row(&in, out);
  if (out->count) qsort(out->pairs, (size_t)out->count, sizeof *out->pairs, by_english);
  return girdle_faults_end(&in.faults);
}

int32_t girdle_paper_read_phrases(girdle_call *call, const char *source, const char *text, uint64_t bytes,
                                  girdle_phrases **out) {
  girdle_phrases *phrases = girdle_common_new(call, sizeof *phrases);
  int32_t status;
  if (!phrases) return GIRDLE_MEMORY;
  phrases->memory = girdle_common_memory(call);
  status = girdle_table_read(call, source, text, bytes, &phrases->table);
  if (!status) status = read_rows(call, source, phrases);
  if (status)
    girdle_phrases_free(phrases);
  else
    *out = phrases;
  return status;
}

/* ---- a sink that knows them */

static int32_t write_through(void *context, const void *bytes, uint64_t count) {
  const girdle_phrased *with = context;
  return with->sink.write(with->sink.context, bytes, count);
}

girdle_sink girdle_phrased_sink(girdle_phrased *with) {
  girdle_sink sink = {with, write_through};
  return sink;
}

const girdle_phrased *girdle_sink_phrases(const girdle_sink *sink) {
  return sink->write == write_through ? sink->context : NULL;
}

/* ---- saying */

const char *girdle_phrase(const girdle_phrased *phrases, const char *text) {
  const girdle_phrases *own = phrases ? phrases->phrases : NULL;
  const pair key = {text, NULL}, *found = NULL;
  if (own && own->count) found = bsearch(&key, own->pairs, (size_t)own->count, sizeof key, by_english);
  if (found) return found->own;
  return phrases && phrases->flags & GIRDLE_PHRASED_COMMA && strcmp(text, ".") == 0 ? "," : text;
}

int girdle_in_inches(const girdle_phrased *phrases) {
  return phrases && phrases->flags & GIRDLE_PHRASED_INCHES;
}

static void fill_in(char *out, uint64_t bytes, const char *phrase, const char *const *arguments) {
  uint64_t used = 0;
  for (const char *at = phrase; *at && used + 1 < bytes; at++) {
    const char *argument = NULL;
    if (*at == '{' && at[1] >= '1' && at[1] <= '9' && at[2] == '}') argument = arguments[at[1] - '1'];
    if (!argument) {
      out[used++] = *at;
      continue;
    }
    girdle_common_text(out + used, bytes - used, argument);
    used += strlen(out + used);
    at += 2;
  }
  out[used] = '\0';
}

void girdle_phrase_list(const girdle_phrased *phrases, char *out, uint64_t bytes, const char *text, va_list list) {
  const char *arguments[9] = {NULL};
  int32_t count = highest_place(text);
  for (int32_t i = 0; i < count && i < MOST_ARGUMENTS; i++)
    arguments[i] = va_arg(list, const char *);
  fill_in(out, bytes, girdle_phrase(phrases, text), arguments);
}

void girdle_phrase_with(const girdle_phrased *phrases, char *out, uint64_t bytes, const char *text, ...) {
  va_list list;
  va_start(list, text);
  girdle_phrase_list(phrases, out, bytes, text, list);
  va_end(list);
}

uint64_t girdle_phrase_text(const girdle_phrased *with, const char *text, const char *const *arguments, uint64_t count,
                            char *buffer, uint64_t bytes) {
  const char *filled[9] = {NULL};
  char whole[1000];
  for (uint64_t i = 0; i < count && i < 9; i++)
    filled[i] = arguments[i];
  fill_in(whole, sizeof whole, girdle_phrase(with, text), filled);
  girdle_common_text(buffer, bytes, whole);
  return strlen(whole);
}

/* ---- texts that other rooms made: their English is taken apart again */

/* Splits a text by a pattern: what stands at its places goes into `pieces`. Each place takes as little as it can. */
static int take_apart(const char *pattern, const char *text, char pieces[MOST_ARGUMENTS][64]) {
  while (*pattern) {
    const char *rest, *next;
    size_t length;
    if (*pattern != '{') {
      if (*pattern++ != *text++) return 0;
      continue;
    }
    rest = pattern + 3;
    length = strcspn(rest, "{");
    next = *rest ? text : text + strlen(text);
    while (*rest && *next && strncmp(next, rest, length) != 0)
      next++;
    if ((*rest && !*next) || next == text || next - text > 63) return 0;
    memcpy(pieces[pattern[1] - '1'], text, (size_t)(next - text));
    pieces[pattern[1] - '1'][next - text] = '\0';
    pattern = rest;
    text = next;
  }
  return *text == '\0';
}

/* A number of another room's text gets one's own decimal mark. */
static void mark_decimals(const girdle_phrased *phrases, char piece[64]) {
  const char *mark = girdle_phrase(phrases, ".");
  size_t mark_bytes = strlen(mark);
  for (char *at = strchr(piece, '.'); at; at = strchr(at + 1, '.')) {
    size_t rest = strlen(at);
    if (at == piece || !strchr("0123456789", at[-1]) || !at[1] || !strchr("0123456789", at[1])) continue;
    if ((size_t)(at - piece) + mark_bytes + rest > 63) return;
    memmove(at + mark_bytes, at + 1, rest);
    memcpy(at, mark, mark_bytes);
  }
}

void girdle_phrase_again(const girdle_phrased *phrases, char *out, uint64_t bytes, const char *text) {
  static const char *const patterns[] = {"{1} stones at {2} a gross",
                                         "{1} stones at {2} a stone",
                                         "{1} at {2} an hour",
                                         "{1} % of the price before tax",
                                         "{1} % of the cost",
                                         "{1} % of the above",
                                         "{1} stones of the customer's own",
                                         "{1} stones added after the deposit"};
  char pieces[MOST_ARGUMENTS][64];
  const char *arguments[9] = {pieces[0], pieces[1], pieces[2]};
  for (size_t i = 0; phrases && i < sizeof patterns / sizeof patterns[0]; i++) {
    if (!take_apart(patterns[i], text, pieces)) continue;
    for (int32_t k = 0; k < highest_place(patterns[i]); k++)
      mark_decimals(phrases, pieces[k]);
    fill_in(out, bytes, girdle_phrase(phrases, patterns[i]), arguments);
    return;
  }
  girdle_common_text(out, bytes, girdle_phrase(phrases, text));
}

/* ---- numbers and pieces as people write them */

void girdle_number_words(const girdle_phrased *phrases, double value, int32_t decimals, char text[48]) {
  char plain[400], *point;
  const char *mark = girdle_phrase(phrases, ".");
  girdle_number_text(value, decimals, plain, sizeof plain);
  point = strchr(plain, '.');
  if (point) *point++ = '\0';
  girdle_common_text(text, 48, plain);
  if (!point || strlen(plain) + strlen(mark) + strlen(point) >= 48) return;
  strcat(text, mark);
  strcat(text, point);
}

static const double inch_mm = 25.4; /* exactly: NIST Handbook 44, Appendix C */

/* Three decimals of an inch, where two of a millimetre are asked for. */
void girdle_length_words(const girdle_phrased *phrases, double mm, int32_t decimals, char *text, uint64_t bytes) {
  int inches = girdle_in_inches(phrases);
  char number[48];
  girdle_number_words(phrases, inches ? mm / inch_mm : mm, inches ? decimals + 1 : decimals, number);
  girdle_phrase_with(phrases, text, bytes, inches ? "{1} in" : "{1} mm", number);
}

void girdle_extent_words(const girdle_phrased *phrases, double wide_mm, double high_mm, char *text, uint64_t bytes) {
  int inches = girdle_in_inches(phrases);
  double unit_mm = inches ? inch_mm : 10;
  char wide[48], high[48];
  girdle_number_words(phrases, wide_mm / unit_mm, 1, wide);
  girdle_number_words(phrases, high_mm / unit_mm, 1, high);
  girdle_phrase_with(phrases, text, bytes, inches ? "{1} \303\227 {2} in" : "{1} \303\227 {2} cm", wide, high);
}

void girdle_pieces_words(const girdle_phrased *phrases, int64_t pieces, char *text, uint64_t bytes) {
  char gross[24], odd[24];
  girdle_number_text((double)(pieces / 144), 0, gross, sizeof gross);
  girdle_number_text((double)(pieces % 144), 0, odd, sizeof odd);
  if (pieces < 144)
    girdle_common_text(text, bytes, odd);
  else if (pieces % 144 == 0)
    girdle_phrase_with(phrases, text, bytes, "{1} gross", gross);
  else
    girdle_phrase_with(phrases, text, bytes, "{1} gross and {2}", gross, odd);
}
