/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
/* needs: libical-dev -lical */
#include "paper_support.h"

#include <libical/ical.h>

/* The calendar as iCalendar, held against RFC 5545 line by line, and read again by an independent reader. */

/* Polish, Greek, Arabic, Japanese; what the format itself is made of; markup. */
static const char *const tags[] = {"\305\201ucja \305\273\303\263\305\202\304\207",
                                   "\316\232\316\261\316\273\317\205\317\210\317\216",
                                   "\330\262\331\207\330\261\330\251",
                                   "\346\241\234\343\201\256\350\241\243\350\243\205",
                                   "a,b;c\\d:\"e\"",
                                   "x\r\nEND:VEVENT\nBEGIN:VALARM",
                                   "<script>alert(1)</script>",
                                   "\\n\\,\\",
                                   "\001\177\t.",
                                   "\xff\xc3(\303\274"};
enum { TAGS = sizeof tags / sizeof tags[0], NEEDED_BY = 22352, TODAY = 22250 };

static girdle_calendar *plan_of(const char *first_tag, double minutes) {
  girdle_calendar_options options;
  girdle_work_rates rates;
  girdle_calendar *calendar;
  girdle_task tasks[TAGS];
  memset(tasks, 0, sizeof tasks);
  for (int i = 0; i < TAGS; i++) {
    strcpy(tasks[i].tag, tags[i]);
    tasks[i].needed_by_day = NEEDED_BY + i;
    tasks[i].minutes = i ? 200 : minutes;
    tasks[i].sides = 1 + i % 2;
  }
  if (first_tag) strcpy(tasks[0].tag, first_tag);
  girdle_work_rates_init(&rates, sizeof rates);
  girdle_calendar_options_init(&options, sizeof options);
  options.today = TODAY;
  options.delivery_days = 4;
  options.tasks = tasks;
  options.task_count = TAGS;
  assert_int_equal(girdle_calendar_plan(NULL, &rates, &options, &calendar), GIRDLE_OK);
  return calendar;
}

static girdle_calendar *plan(void) {
  return plan_of(NULL, 200);
}

static kept written_in(const girdle_calendar *calendar, const girdle_phrases *phrases) {
  kept all;
  girdle_phrased with = {phrases, keep_in(&all), 0, 0};
  const girdle_sink sink = girdle_phrased_sink(&with);
  assert_int_equal(girdle_paper_calendar_ics(NULL, calendar, TODAY, &sink), GIRDLE_OK);
  assert_int_equal(strlen(all.text), all.bytes);
  return all;
}

static kept written(const girdle_calendar *calendar) {
  return written_in(calendar, NULL);
}

/* ---- line by line */

static int is_utf8(const unsigned char *at, const unsigned char *end) {
  while (at < end) {
    int more = *at < 0x80                  ? 0
               : *at >= 0xc2 && *at < 0xe0 ? 1
               : *at >= 0xe0 && *at < 0xf0 ? 2
               : *at >= 0xf0 && *at < 0xf5 ? 3
                                           : -1;
    if (more < 0 || end - at <= more) return 0;
    for (at++; more; more--, at++)
      if ((*at & 0xc0) != 0x80) return 0;
  }
  return 1;
}

/* Section 3.1: lines end in CRLF and have at most 75 octets; here none is cut within a character. Nothing else
 * controls. */
static void paper_calendar_ics_folds_lines(void **state) {
  static const char own[] =
      "english,own\ntry on,"
      "\350\241\243\350\243\205\343\202\222\347\235\200\343\201\246\343\201\277"
      "\343\201\246\343\200\201\347\237\263\343\201\214\345\217\226\343\202\214"
      "\343\201\246\343\201\204\343\201\252\343\201\204\343\201\213\350\246\213\343\202\213\n";
  girdle_calendar *calendar = plan();
  girdle_phrases *phrases;
  kept all;
  const char *line;
  int folded = 0;
  (void)state;
  assert_int_equal(girdle_paper_read_phrases(NULL, "own", own, sizeof own - 1, &phrases), GIRDLE_OK);
  all = written_in(calendar, phrases);
  line = all.text;
  while (*line) {
    const char *end = strstr(line, "\r\n");
    assert_non_null(end);
    assert_true(end - line <= 75);
    assert_true(is_utf8((const unsigned char *)line, (const unsigned char *)end));
    for (const char *at = line; at < end; at++)
      assert_true((unsigned char)*at >= 0x20 && *at != 0x7f);
    folded += *line == ' ';
    line = end + 2;
  }
  assert_true(folded > 5); /* after tags of several lengths */
  free(all.text);
  girdle_phrases_free(phrases);
  girdle_calendar_free(calendar);
}

/* The folds taken out again: section 3.1. */
static char *unfolded(const char *text) {
  char *out = calloc(1, strlen(text) + 1), *to = out;
  assert_non_null(out);
  for (; *text; text++) {
    if (strncmp(text, "\r\n ", 3) == 0)
      text += 2;
    else
      *to++ = *text;
  }
  return out;
}

/* Section 3.6.1: each event has one UID and one DTSTAMP (UTC, section 3.8.7.2) and begins on a day (section 3.3.4).
 * Section 3.3.11: of a text, backslash, semicolon, comma and line break are escaped. */
static void paper_calendar_ics_says_what_each_event_must(void **state) {
  girdle_calendar *calendar = plan();
  kept all = written(calendar);
  char *text = unfolded(all.text);
  uint64_t count;
  (void)state;
  girdle_calendar_events(calendar, &count);
  assert_int_equal(count_of(text, "\r\nBEGIN:VEVENT\r\n"), count);
  assert_int_equal(count_of(text, "\r\nEND:VEVENT\r\n"), count);
  assert_int_equal(count_of(text, "\r\nUID:"), count);
  assert_int_equal(count_of(text, "\r\nDTSTAMP:20301202T000000Z\r\n"), count);
  assert_int_equal(count_of(text, "\r\nDTSTART;VALUE=DATE:2031"), count_of(text, "\r\nDTEND;VALUE=DATE:2031"));
  assert_int_equal(count_of(text, "\r\nDTSTART;VALUE=DATE:203"), count);
  assert_int_equal(count_of(text, "\r\nBEGIN:VALARM"), 0);
  assert_has(text, "\r\nSUMMARY:a\\,b\\;c\\\\d:\"e\": try on\r\n");
  assert_has(text, "\r\nSUMMARY:x\\nEND:VEVENT\\nBEGIN:VALARM: try on\r\n");
  assert_has(text, "\r\nSUMMARY:\\\\n\\\\\\,\\\\: try on\r\n");
  free(text);
  free(all.text);
  girdle_calendar_free(calendar);
}

/* The UID of the club's order, which is for all and so says no tag. */
static void order_uid(const char *first_tag, double minutes, char uid[80]) {
  girdle_calendar *calendar = plan_of(first_tag, minutes);
  kept all = written(calendar);
  char *text = unfolded(all.text), *at = strstr(text, "-order-all-");
  assert_non_null(at);
  while (at[-1] != ':')
    at--;
  snprintf(uid, 80, "%.*s", (int)strcspn(at, "\r"), at);
  free(text);
  free(all.text);
  girdle_calendar_free(calendar);
}

/* Section 3.8.4.7: globally unique, yet the same whenever the same club is written. */
static void paper_calendar_ics_tells_clubs_apart_by_uid(void **state) {
  char uid[80], again[80], other_tag[80], other_work[80];
  (void)state;
  order_uid(NULL, 200, uid);
  order_uid(NULL, 200, again);
  order_uid("somebody else", 200, other_tag);
  order_uid(NULL, 201, other_work);
  assert_string_equal(uid, again);
  assert_int_equal(strncmp(uid, other_work, 20), 0); /* the same day */
  assert_string_not_equal(uid, other_tag);
  assert_string_not_equal(uid, other_work);
}

/* ---- read again */

/* What a name becomes: control characters are left away but for line breaks, and bytes that are no UTF-8 become "?". */
static const char *const read_again[TAGS] = {NULL, NULL, NULL, NULL,           NULL, "x\nEND:VEVENT\nBEGIN:VALARM",
                                             NULL, NULL, ".",  "\?\?(\303\274"};

static int32_t day_of(icaltimetype time) {
  assert_true(time.is_date);
  return (int32_t)(icaltime_as_timet(time) / 86400);
}

/* Whether an event tries on the costume of this number. */
static int is_try_on(icalcomponent *event, int number) {
  const char *name = read_again[number] ? read_again[number] : tags[number];
  char expected[80];
  snprintf(expected, sizeof expected, "%s: try on", name);
  return strcmp(icalcomponent_get_summary(event), expected) == 0;
}

static void paper_calendar_ics_is_read_by_others(void **state) {
  girdle_calendar *calendar = plan();
  kept all = written(calendar);
  icalcomponent *root = icalparser_parse_string(all.text), *event;
  uint64_t count, seen = 0;
  const girdle_event *events = girdle_calendar_events(calendar, &count);
  int tried[TAGS] = {0};
  (void)state;
  assert_non_null(root);
  assert_int_equal(icalcomponent_isa(root), ICAL_VCALENDAR_COMPONENT);
  assert_true(icalrestriction_check(root));
  assert_int_equal(icalcomponent_count_errors(root), 0);
  for (event = icalcomponent_get_first_component(root, ICAL_VEVENT_COMPONENT); event && seen < count;
       event = icalcomponent_get_next_component(root, ICAL_VEVENT_COMPONENT), seen++) {
    assert_int_equal(day_of(icalcomponent_get_dtstart(event)), events[seen].first_day);
    assert_int_equal(day_of(icalcomponent_get_dtend(event)), events[seen].last_day + 1);
    for (int i = 0; i < TAGS; i++)
      tried[i] += is_try_on(event, i);
  }
  assert_null(event);
  assert_int_equal(seen, count);
  for (int i = 0; i < TAGS; i++)
    assert_int_equal(tried[i], 1);
  icalcomponent_free(root);
  free(all.text);
  girdle_calendar_free(calendar);
}

/* Section 3.8.4.7: no two events have the same. */
static void paper_calendar_ics_names_each_event_once(void **state) {
  girdle_calendar *calendar = plan();
  kept all = written(calendar);
  icalcomponent *root = icalparser_parse_string(all.text), *event;
  const char *names[1000];
  int count = 0;
  (void)state;
  for (event = icalcomponent_get_first_component(root, ICAL_VEVENT_COMPONENT); event && count < 1000;
       event = icalcomponent_get_next_component(root, ICAL_VEVENT_COMPONENT)) {
    names[count] = icalcomponent_get_uid(event);
    for (int i = 0; i < count; i++)
      assert_string_not_equal(names[i], names[count]);
    count++;
  }
  assert_true(count > 50);
  icalcomponent_free(root);
  free(all.text);
  girdle_calendar_free(calendar);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_calendar_ics_folds_lines),
      cmocka_unit_test(paper_calendar_ics_says_what_each_event_must),
      cmocka_unit_test(paper_calendar_ics_is_read_by_others),
      cmocka_unit_test(paper_calendar_ics_tells_clubs_apart_by_uid),
      cmocka_unit_test(paper_calendar_ics_names_each_event_once),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
