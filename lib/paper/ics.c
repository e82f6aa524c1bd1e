/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "text_internal.h"

#include <stdio.h>
#include <string.h>

/* iCalendar (RFC 5545): whole days, lines ended by CRLF and folded at 75 bytes. */

typedef struct ics_line {
  girdle_writer *out;
  uint64_t used; /* bytes of this line */
} ics_line;

/* Folding must not cut a character, so whole characters are put. */
static void put(ics_line *line, const char *bytes, uint64_t count) {
  if (line->used + count > 75) {
    girdle_write(line->out, "\r\n ");
    line->used = 1;
  }
  girdle_write_bytes(line->out, bytes, count);
  line->used += count;
}

static void put_text(ics_line *line, const char *text, int escaped) {
  uint64_t left = strlen(text);
  while (left) {
    uint32_t character;
    uint64_t length = girdle_utf8_read(text, left, &character);
    if (!length)
      put(line, "?", 1); /* no UTF-8 */
    else if (escaped && *text == '\n')
      put(line, "\\n", 2);
    else if (escaped && strchr("\\;,", *text))
      put(line, (const char[]){'\\', *text}, 2);
    else if ((unsigned char)*text >= 0x20 && *text != 0x7f)
      put(line, text, length);
    length += !length;
    text += length;
    left -= length;
  }
}

/* name:value, the value escaped as TEXT (section 3.3.11). */
static void put_line(girdle_writer *out, const char *name, const char *value) {
  ics_line line = {out, 0};
  put_text(&line, name, 0);
  put_text(&line, ":", 0);
  put_text(&line, value, 1);
  girdle_write(out, "\r\n");
}

/* "20310314" */
static void day_of(int64_t day, char text[32]) {
  char plain[32];
  size_t used = 0;
  girdle_date_text(day, plain, sizeof plain);
  for (size_t i = 0; plain[i]; i++)
    if (plain[i] != '-') text[used++] = plain[i];
  text[used] = '\0';
}

static uint64_t hash_of(const char *text) {
  uint64_t hash = 0xcbf29ce484222325u;
  for (; *text; text++)
    hash = (hash ^ (unsigned char)*text) * 0x100000001b3u; /* FNV-1a */
  return hash;
}

/* What tells a club from others: its tags and the minutes that each is worked on, in whatever order and on whatever
 * days. */
static uint64_t club_of(const girdle_event *events, uint64_t count) {
  uint64_t sum = 0;
  for (uint64_t i = 0; i < count; i++) {
    char minutes[48], text[96];
    girdle_number_text(events[i].minutes, 3, minutes, sizeof minutes);
    snprintf(text, sizeof text, "%s\n%s", events[i].tag, events[i].kind == GIRDLE_DAY_GLUE ? minutes : "");
    sum += hash_of(text);
  }
  return sum;
}

/* "all" events and two clubs with the same tags may fall on one day, yet a UID is the only one in the world (section
 * 3.8.4.7). */
static void put_uid(girdle_writer *out, const girdle_event *event, const char *first, uint64_t club) {
  char text[300];
  snprintf(text, sizeof text, "%s-%s-%s-%08x%08x@girdle", first, girdle_day_text(event->kind),
           event->tag[0] ? event->tag : "all", (unsigned)(club >> 32), (unsigned)(club & 0xffffffffu));
  put_line(out, "UID", text);
}

static void put_event(girdle_writer *out, const girdle_event *event, uint64_t club, const char *stamp) {
  char first[32], after[32], text[300], time[64], words[200];
  day_of(event->first_day, first);
  day_of(event->last_day + 1, after); /* DTEND is the day after the last (section 3.6.1) */
  put_line(out, "BEGIN", "VEVENT");
  put_uid(out, event, first, club);
  put_line(out, "DTSTAMP", stamp);
  put_line(out, "DTSTART;VALUE=DATE", first);
  put_line(out, "DTEND;VALUE=DATE", after);
  girdle_minutes_words(out->phrases, event->minutes, time);
  girdle_common_text(words, sizeof words, girdle_phrase(out->phrases, girdle_event_words(event->kind)));
  if (event->kind == GIRDLE_DAY_GLUE) girdle_phrase_with(out->phrases, words, sizeof words, "glue, about {1}", time);
  snprintf(text, sizeof text, "%s%s%s", event->tag, event->tag[0] ? ": " : "", words);
  put_line(out, "SUMMARY", text);
  put_line(out, "TRANSP", "TRANSPARENT");
  put_line(out, "END", "VEVENT");
}

int32_t girdle_paper_calendar_ics(girdle_call *call, const girdle_calendar *calendar, int64_t today,
                                  const girdle_sink *sink) {
  GIRDLE_GIVEN(call, calendar, sink);
  girdle_writer out;
  char stamp[48];
  uint64_t count;
  const girdle_event *events = girdle_calendar_events(calendar, &count);
  const uint64_t club = club_of(events, count);
  day_of(today, stamp);
  strcat(stamp, "T000000Z");
  girdle_writer_begin(&out, call, sink);
  put_line(&out, "BEGIN", "VCALENDAR");
  put_line(&out, "VERSION", "2.0");
  put_line(&out, "PRODID", "-//girdle//girdle//EN");
  for (uint64_t i = 0; i < count && !out.status; i++)
    put_event(&out, &events[i], club, stamp);
  put_line(&out, "END", "VCALENDAR");
  return girdle_writer_end(&out);
}
