/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "text_internal.h"

#include <stdio.h>
#include <string.h>

void girdle_day_words(const girdle_phrased *phrases, int64_t day, char text[64]) {
  static const char *const names[] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
  char date[24];
  girdle_date_text(day, date, sizeof date);
  snprintf(text, 64, "%s %.32s", date, girdle_phrase(phrases, names[(girdle_date_weekday(day) + 6) % 7]));
}

const char *girdle_event_words(int32_t kind) {
  static const char *const words[GIRDLE_DAY_END] = {"order the stones",
                                                    "delivery",
                                                    "alterations, before any gluing",
                                                    "swatch on this fabric: look at it under the lights, then peel",
                                                    "glue",
                                                    "dry right through (cure)",
                                                    "try on",
                                                    "days in hand",
                                                    "needed"};
  return kind >= 0 && kind < GIRDLE_DAY_END ? words[kind] : girdle_day_text(kind);
}

static void write_event(girdle_writer *out, const girdle_event *event, uint64_t wide) {
  char first[64], last[64] = "", time[64];
  const char *to = girdle_phrase(out->phrases, "to");
  girdle_day_words(out->phrases, event->first_day, first);
  if (event->last_day != event->first_day) girdle_day_words(out->phrases, event->last_day, last);
  girdle_write_left(out, first, 14);
  girdle_write_left(out, last[0] ? to : "", girdle_text_columns(to));
  girdle_write_left(out, last, 14);
  girdle_write_left(out, event->tag[0] ? event->tag : girdle_phrase(out->phrases, "all"), wide);
  girdle_minutes_words(out->phrases, event->minutes, time);
  if (event->kind == GIRDLE_DAY_GLUE)
    girdle_say_with(out, "glue, about {1}", time);
  else
    girdle_say(out, girdle_event_words(event->kind));
  girdle_write(out, "\n");
}

static const char *alternative_phrase(int32_t kind) {
  static const char *const phrases[GIRDLE_ALTERNATIVE_END] = {
      "more hands: {1} gluing at once",
      "faster post: {1} days of delivery",
      "longer evenings: {1} minutes each",
      "more places: {1} costumes lying flat at once",
      "fewer stones: zones left out that are {1} % of the work",
      "larger stones: {1} % larger across, the same areas covered"};
  return phrases[kind];
}

/* What one change alone would do, with all else as it is. */
static void write_alternative(girdle_writer *out, const girdle_alternative *of) {
  char value[24], late[120];
  girdle_whole_words(of->value, value);
  girdle_write(out, "- ");
  girdle_say_with(out, alternative_phrase(of->kind), value);
  girdle_write(out, ": ");
  girdle_count_words(out->phrases, of->late_days, "still {1} day too late", "still {1} days too late", late,
                     sizeof late);
  girdle_write(out, of->late_days > 0 ? late : girdle_phrase(out->phrases, "it can be met"));
  girdle_write(out, "\n");
}

static void write_late(girdle_writer *out, const girdle_calendar *calendar, const girdle_calendar_sum *sum) {
  char text[120];
  uint64_t count;
  const girdle_alternative *others = girdle_calendar_alternatives(calendar, &count);
  girdle_count_words(out->phrases, sum->late_days, "TOO LATE by {1} day as planned.",
                     "TOO LATE by {1} days as planned.", text, sizeof text);
  girdle_write(out, text);
  girdle_write(out, " ");
  girdle_say(out, count ? "What one change alone would do:" : "No one change helps: take a later day.");
  girdle_write(out, "\n");
  for (uint64_t i = 0; i < count; i++)
    write_alternative(out, &others[i]);
}

static void write_sum(girdle_writer *out, const girdle_calendar *calendar, const girdle_calendar_sum *sum) {
  char order[64], start[64], ready[64];
  girdle_day_words(out->phrases, sum->order_by_day, order);
  girdle_day_words(out->phrases, sum->start_day, start);
  girdle_day_words(out->phrases, sum->ready_day, ready);
  girdle_write(out, "\n");
  girdle_say_with(out, "Order by {1}, ready on {2}.", order, ready);
  girdle_write(out, "\n");
  if (sum->start_day != sum->order_by_day) {
    girdle_say_with(out, "Begin by {1}.", start);
    girdle_write(out, "\n");
  }
  if (sum->late_days > 0) write_late(out, calendar, sum);
}

int32_t girdle_paper_calendar_text(girdle_call *call, const girdle_calendar *calendar, const girdle_sink *sink) {
  GIRDLE_GIVEN(call, calendar, sink);
  girdle_writer out;
  girdle_calendar_sum sum;
  uint64_t count, wide = 0;
  const girdle_event *events = girdle_calendar_events(calendar, &count);
  girdle_calendar_total(calendar, &sum);
  girdle_writer_begin(&out, call, sink);
  girdle_column_fit(&wide, girdle_phrase(out.phrases, "all"));
  for (uint64_t i = 0; i < count; i++)
    girdle_column_fit(&wide, events[i].tag);
  for (uint64_t i = 0; i < count && !out.status; i++)
    write_event(&out, &events[i], wide);
  write_sum(&out, calendar, &sum);
  return girdle_writer_end(&out);
}

/* ---- cautions */

static int32_t lead_of(const girdle_stone *stone) {
  uint64_t count;
  const girdle_material *materials = girdle_materials(&count);
  for (uint64_t i = 0; i < count; i++)
    if (strcmp(materials[i].name, stone->material) == 0) return materials[i].lead;
  return GIRDLE_LEAD_UNKNOWN;
}

static int32_t worst_lead(const girdle_tally *tally) {
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &count);
  int32_t worst = GIRDLE_LEAD_NONE;
  for (uint64_t i = 0; i < count; i++)
    if (lead_of(&lines[i].stone) > worst) worst = lead_of(&lines[i].stone);
  return worst;
}

const char *girdle_lead_words(const girdle_tally *tally) {
  static const char *const words[] = {
      NULL, "Glass may hold lead: for what a child wears there are legal limits; ask the supplier for a test report.",
      "Some of these stones may hold lead: for what a child wears there are legal limits; ask for a test report.",
      "Some of these stones are leaded crystal: for what a child wears there are legal limits; take other stones."};
  return words[worst_lead(tally)];
}

const char *const *girdle_caution_words(uint64_t *count) {
  static const char *const words[] = {
      "The label and the safety data sheet of your adhesive come before every number here.",
      "Air the room well, wear gloves, keep flames and sparks away.",
      "Never glue on a person; let it dry right through before it is worn.",
      "Small stones are small parts: keep them from children under three.",
      "Mind needles and chipped glass; guard your eyes when you pick a chipped stone off.",
      "Rules of sports and shows change: check the current rulebook. A stone on the ice or floor is a hazard.",
      "All figures are estimates; local rules and qualified people come first."};
  *count = sizeof words / sizeof words[0];
  return words;
}

static void write_caution(girdle_writer *out, const char *phrase) {
  girdle_write(out, "- ");
  girdle_say(out, phrase);
  girdle_write(out, "\n");
}

int32_t girdle_paper_cautions_text(girdle_call *call, const girdle_tally *tally, const girdle_sink *sink) {
  GIRDLE_GIVEN(call, tally, sink);
  girdle_writer out;
  uint64_t count;
  const char *const *words = girdle_caution_words(&count);
  const char *lead = girdle_lead_words(tally);
  girdle_writer_begin(&out, call, sink);
  girdle_say(&out, "Before you begin");
  girdle_write(&out, "\n");
  for (uint64_t i = 0; i < count; i++)
    write_caution(&out, words[i]);
  if (lead) write_caution(&out, lead);
  return girdle_writer_end(&out);
}
