/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _DEFAULT_SOURCE /* mkstemps */
#include "paper_support.h"

#include <unistd.h>

static char *paper_text(int paper) {
  test_call test;
  kept all;
  desk d;
  girdle_sink sink = keep_in(&all);
  test_begin(&test);
  assert_ok(&test, set_desk(&test.call, &d));
  assert_ok(&test, write_paper(&test.call, &d, paper, &sink));
  clear_desk(&d);
  assert_int_equal(test.live_bytes, 0);
  return all.text;
}

/* Nothing is fetched, nothing of a name becomes markup, no name of a wearer is told. */
static void paper_pages_stand_alone(void **state) {
  (void)state;
  for (int paper = SHEET; paper <= OFFER; paper++) {
    char *text = paper_text(paper), *again = paper_text(paper);
    assert_string_equal(text, again);
    assert_int_equal(strncmp(text, "<!DOCTYPE html>\n<html lang=\"en\">", 32), 0);
    assert_has(text, "default-src 'none'");
    assert_null(strstr(text, "http://"));
    assert_null(strstr(text, "https://"));
    assert_null(strstr(text, "url(\""));
    assert_null(strstr(text, "<big>"));
    assert_null(strstr(text, "full <b>"));
    assert_null(strstr(text, "A. Nobody"));
    assert_int_equal(count_of(text, "<svg"), count_of(text, "</svg>"));
    assert_int_equal(count_of(text, "<section"), count_of(text, "</section>"));
    assert_int_equal(count_of(text, "<table"), count_of(text, "</table>"));
    assert_has(text, "</html>\n");
    free(text);
    free(again);
  }
}

static void paper_sheet_html_shows_every_stone(void **state) {
  char *text = paper_text(SHEET);
  (void)state;
  assert_int_equal(count_of(text, "class=\"stone\""), 9 + 2 * 5 + 4);
  assert_has(text, "bow, &quot;&lt;big&gt;&quot;");
  assert_has(text, "<dd>247 (1 gross and 103)</dd>");
  assert_has(text, "220 \303\227 ss16 clear");
  assert_has(text, "dry right through (cure)");
  assert_has(text, "safety data sheet");
  assert_has(text, "<th>had</th><th>bought</th><th>left</th><th>evenings</th><th>date</th>");
  assert_int_equal(count_of(text, "type=\"checkbox\" id=\"t"),
                   5 + 6 + 9); /* stones, tools, lines of zones: two more for the back of a ring */
  free(text);
}

static void paper_sheet_html_names_only_when_asked(void **state) {
  girdle_sheet_options options;
  test_call test;
  kept all;
  desk d;
  girdle_sink sink = keep_in(&all);
  (void)state;
  test_begin(&test);
  girdle_sheet_options_init(&options, sizeof options);
  options.flags = GIRDLE_SHEET_NAMES;
  assert_ok(&test, set_desk(&test.call, &d));
  assert_ok(&test, girdle_paper_sheet_html(&test.call, d.club, 0, d.reckoning, &options, &sink));
  assert_has(all.text, "A. Nobody");
  assert_status(&test, girdle_paper_sheet_html(&test.call, d.club, 9, d.reckoning, &options, &sink), GIRDLE_ARGUMENT);
  clear_desk(&d);
  free(all.text);
}

/* ---- a photo */

/* A camera's JPEG as far as the picture: what it is, a note that holds the orientation and a place, a comment. */
#define EXIF_OF(way) \
  "\377\341\000\052Exif\0\0II*\0\010\0\0\0\002\0\017\001\002\0\004\0\0\0home\022\001\003\0\001\0\0\0" way "\0\0\0"
static const char jpeg[] =
    "\377\330\377\340\000\004JF" EXIF_OF("\006") "\377\376\000\006home\377\332\000\004scan\377\331";
static const char upright[] = "\377\330\377\340\000\004JF" EXIF_OF("\001") "\377\332\000\004scan\377\331";
static const char png[] = "\211PNG\r\n\032\n\0\0\0\004IHDRabcd\1\2\3\4\0\0\0\004tEXthome\1\2\3\4\0\0\0\0IEND\1\2\3\4";

/* What the data address in a page holds. */
static size_t photo_of(const char *text, const char *kind, char *out) {
  static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  const char *at = strstr(text, kind);
  uint32_t group = 0;
  size_t bits = 0, bytes = 0;
  assert_non_null(at);
  for (at += strlen(kind); *at != '"' && *at != '='; at++) {
    group = group << 6 | (uint32_t)(strchr(letters, *at) - letters);
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    out[bytes++] = (char)(group >> bits & 255);
  }
  return bytes;
}

static int32_t write_photo(girdle_call *call, const desk *d, const void *photo, size_t bytes, kept *all) {
  girdle_sheet_options options;
  girdle_sink sink = keep_in(all);
  girdle_sheet_options_init(&options, sizeof options);
  options.photo = photo;
  options.photo_bytes = bytes;
  return girdle_paper_sheet_html(call, d->club, 0, d->reckoning, &options, &sink);
}

/* A photo and what is kept of it; `upright` and `png` without their notes. */
typedef struct photo_case {
  const char *photo, *kind, *kept;
  size_t bytes, kept_bytes;
} photo_case;
static const char plain[] = "\377\330\377\340\000\004JF\377\332\000\004scan\377\331";
static const char bare[] = "\211PNG\r\n\032\n\0\0\0\004IHDRabcd\1\2\3\4\0\0\0\0IEND\1\2\3\4";

static void paper_sheet_html_shows_a_photo_without_its_notes(void **state) {
  static const char turned[] =
      "\377\330\377\340\000\004JF\377\341\0\042Exif\0\0MM\0*\0\0\0\010\0\001\001\022\0\003\0\0\0\001"
      "\0\006\0\0\0\0\0\0\377\332\000\004scan\377\331";
  static const photo_case cases[] = {{jpeg, "data:image/jpeg;base64,", turned, sizeof jpeg - 1, sizeof turned - 1},
                                     {upright, "data:image/jpeg;base64,", plain, sizeof upright - 1, sizeof plain - 1},
                                     {png, "data:image/png;base64,", bare, sizeof png - 1, sizeof bare - 1}};
  test_call test;
  desk d;
  (void)state;
  test_begin(&test);
  assert_ok(&test, set_desk(&test.call, &d));
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char held[200];
    kept all;
    assert_ok(&test, write_photo(&test.call, &d, cases[i].photo, cases[i].bytes, &all));
    assert_int_equal(photo_of(all.text, cases[i].kind, held), cases[i].kept_bytes);
    assert_memory_equal(held, cases[i].kept, cases[i].kept_bytes);
    assert_has(all.text, "<img alt=\"The costume\"");
    assert_null(strstr(all.text, "<ellipse")); /* our figure's head */
    free(all.text);
  }
  clear_desk(&d);
  assert_int_equal(test.live_bytes, 0);
}

/* Phones append a second picture, with place and day of its own; notes may also stand between the scans of one. */
static void paper_sheet_html_ends_a_photo_where_its_picture_ends(void **state) {
  static const char scans[] =
      "\377\330\377\332\0\004hdA\377\0B\377\320C\377\377\376\0\006home\377\332\0\004hdD\377\331";
  static const char whole[] = "\377\330\377\332\0\004hdA\377\0B\377\320C\377\377\332\0\004hdD\377\331";
  static const photo_case cases[] = {{upright, "data:image/jpeg;base64,", plain, sizeof upright - 1, sizeof plain - 1},
                                     {scans, "data:image/jpeg;base64,", whole, sizeof scans - 1, sizeof whole - 1},
                                     {png, "data:image/png;base64,", bare, sizeof png - 1, sizeof bare - 1}};
  test_call test;
  desk d;
  (void)state;
  test_begin(&test);
  assert_ok(&test, set_desk(&test.call, &d));
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char held[200], longer[400];
    kept all;
    memcpy(longer, cases[i].photo, cases[i].bytes);
    memcpy(longer + cases[i].bytes, jpeg, sizeof jpeg);
    assert_ok(&test, write_photo(&test.call, &d, longer, cases[i].bytes + sizeof jpeg, &all));
    assert_int_equal(photo_of(all.text, cases[i].kind, held), cases[i].kept_bytes);
    assert_memory_equal(held, cases[i].kept, cases[i].kept_bytes);
    free(all.text);
  }
  clear_desk(&d);
}

/* The sheet of a costume with such zones on such sides. */
static char *figure_of(const char *const *zones, const char *const *sides, int count) {
  static const char *const stones[] = {"ss20"};
  test_call test;
  girdle_job_head head;
  desk d;
  kept all;
  girdle_sink sink = keep_in(&all);
  test_begin(&test);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "t");
  assert_ok(&test, girdle_job_new(&test.call, &head, &d.job));
  for (int i = 0; i < count; i++)
    assert_ok(&test, sample_zone(&test.call, d.job, zones[i], sides[i], 0, 1, stones, 1, 3));
  assert_ok(&test, girdle_club_new(&test.call, &d.club));
  assert_ok(&test, girdle_club_add_job(&test.call, d.club, d.job));
  assert_ok(&test, girdle_club_reckon(&test.call, d.club, 22300, &d.reckoning));
  assert_ok(&test, girdle_paper_sheet_html(&test.call, d.club, 0, d.reckoning, NULL, &sink));
  clear_desk(&d);
  return all.text;
}

/* Zones at one place of the body step aside, one over another does not; on the back none of them is seen. */
static void paper_sheet_html_numbers_zones_on_the_figure(void **state) {
  static const char *const zones[] = {"collar", "collar band", "waist", "left shoulder"};
  static const char *const sides[] = {"front", "front", "front", "left"};
  char *text = figure_of(zones, sides, 4);
  (void)state;
  assert_has(text, "<circle cx=\"50\" cy=\"37\" r=\"4.6\"");
  assert_has(text, "<circle cx=\"60\" cy=\"37\" r=\"4.6\"");
  assert_has(text, "<circle cx=\"50\" cy=\"87\" r=\"4.6\"");
  assert_has(text, "<circle cx=\"68\" cy=\"40\" r=\"4.6\""); /* the wearer's left is to the right */
  assert_int_equal(count_of(text, "r=\"4.6\""), 4);
  free(text);
}

/* Names that are not English say no place; their side does, and five of them stand in two rows. Without a side there is
 * no number. */
static void paper_sheet_html_numbers_zones_by_their_side(void **state) {
  static const char *const zones[] = {"a", "b", "c", "d", "e", "f", "g"};
  static const char *const sides[] = {"front", "front", "front", "front", "front", "left", ""};
  char *text = figure_of(zones, sides, 7);
  (void)state;
  assert_has(text, "<circle cx=\"50\" cy=\"74\" r=\"4.6\"");
  assert_has(text, "<circle cx=\"80\" cy=\"74\" r=\"4.6\"");
  assert_has(text, "<circle cx=\"50\" cy=\"84\" r=\"4.6\"");
  assert_has(text, "<circle cx=\"60\" cy=\"74\" r=\"4.6\"");
  assert_int_equal(count_of(text, "r=\"4.6\""), 6);
  free(text);
}

/* Cut anywhere before its last byte a photo is refused, as is anything else. */
static void paper_sheet_html_refuses_what_is_no_photo(void **state) {
  test_call test;
  desk d;
  kept all;
  (void)state;
  test_begin(&test);
  assert_ok(&test, set_desk(&test.call, &d));
  for (size_t bytes = 0; bytes < sizeof jpeg - 1; bytes++)
    assert_status(&test, write_photo(&test.call, &d, jpeg, bytes, &all), GIRDLE_SYNTAX);
  for (size_t bytes = 0; bytes < sizeof png - 1; bytes++)
    assert_status(&test, write_photo(&test.call, &d, png, bytes, &all), GIRDLE_SYNTAX);
  assert_status(&test, write_photo(&test.call, &d, "GIF89a", 6, &all), GIRDLE_SYNTAX);
  test_again(&test);
  assert_status(&test, write_photo(&test.call, &d, jpeg, (32u << 20) + 1, &all), GIRDLE_LIMIT);
  assert_has(test.error.message, "33554432");
  clear_desk(&d);
}

static void paper_bags_html_labels_every_bag(void **state) {
  char *text = paper_text(BAGS);
  (void)state;
  assert_int_equal(count_of(text, "<div class=\"label\">"), 2 * 9); /* a ring has a bag for each side */
  assert_has(text, "<span class=\"n\">220</span> \303\227 ss16 clear");
  assert_has(text, "as spares");
  assert_has(text, "fill to about");
  assert_has(text, "count them");
  assert_null(strstr(text, ">0 g<"));
  assert_has(text, "ss16 clear: 440 (3 gross and 8)");
  free(text);
}

static void paper_offer_html_shows_prices_but_no_costs(void **state) {
  char *text = paper_text(OFFER);
  (void)state;
  assert_has(text, "<h2>LIGHT</h2>");
  assert_has(text, "<h2>FULL &lt;B&gt;</h2>");
  assert_has(text, "deposit before starting");
  assert_has(text, "ready by");
  assert_has(text, "Glue it yourself");
  assert_has(text, "Hire, or buy one that is done");
  assert_has(text, "<h3>Repair kit: frost, LIGHT</h3>");
  assert_has(text, "<h3>Repair kit: frost, FULL &lt;B&gt;</h3>");
  assert_null(strstr(text, "Labour"));
  assert_null(strstr(text, "Overhead"));
  free(text);
}

/* Every zone that has stones is drawn, under its name; the kit holds as many of each stone as the order lays aside. */
static void paper_offer_html_shows_the_whole_costume(void **state) {
  char *text = paper_text(OFFER);
  (void)state;
  assert_int_equal(count_of(text, "<figcaption>"), 2 * 4);
  assert_int_equal(count_of(text, "class=\"stone\""), 2 * 23);
  assert_has(text, "<li>3 \303\227 ss20 black</li>");
  assert_has(text, "First tools are not in it: a pick-up tool");
  free(text);
}

static int64_t try_on_of(const girdle_calendar *calendar) {
  uint64_t count;
  const girdle_event *events = girdle_calendar_events(calendar, &count);
  while (count--)
    if (events[count].kind == GIRDLE_DAY_TRY_ON) return events[count].last_day;
  fail();
  return 0;
}

/* The first day, looking at one after the other, by which a costume can be had. */
static int64_t first_ready_day(const desk *d) {
  const girdle_work *work = girdle_reckoning_work(d->reckoning, 0);
  girdle_task task = {"F-1", 0, work->minutes, work->sides, work->back_millionths};
  for (int64_t day = girdle_reckoning_today(d->reckoning);; day++) {
    girdle_calendar_options options;
    girdle_calendar *calendar;
    girdle_calendar_sum sum;
    int64_t ready;
    girdle_calendar_options_init(&options, sizeof options);
    options.today = 22300;
    options.delivery_days = 5; /* the slower of the two suppliers */
    options.tasks = &task;
    options.task_count = 1;
    task.needed_by_day = day;
    assert_int_equal(girdle_calendar_plan(NULL, girdle_reckoning_rates(d->reckoning), &options, &calendar), GIRDLE_OK);
    girdle_calendar_total(calendar, &sum);
    ready = try_on_of(calendar);
    girdle_calendar_free(calendar);
    if (sum.late_days == 0) return ready;
  }
}

static char *offer_due(int64_t needed_by_day, int64_t *first_ready) {
  test_call test;
  kept all;
  desk d;
  girdle_sink sink = keep_in(&all);
  test_begin(&test);
  assert_ok(&test, set_desk_due(&test.call, needed_by_day, &d));
  assert_int_equal(girdle_reckoning_today(d.reckoning), 22300);
  *first_ready = first_ready_day(&d);
  assert_ok(&test, girdle_paper_offer_html(&test.call, &(girdle_offer){"full", d.club, 0, d.reckoning}, 1, &sink));
  clear_desk(&d);
  assert_int_equal(test.live_bytes, 0);
  return all.text;
}

static void paper_offer_html_names_a_day_from_reckoning_today(void **state) {
  int64_t first;
  char *text = offer_due(INT64_MIN, &first), day[16], expected[80];
  (void)state;
  girdle_date_text(first, day, sizeof day);
  assert_true(first > 22305 && first < 22340);
  snprintf(expected, sizeof expected, "ready by</span> %s ", day);
  assert_has(text, expected);
  assert_has(text, ", if it is ordered today");
  free(text);
  text = offer_due(22352, &first);
  assert_null(strstr(text, "if it is ordered today"));
  assert_has(text, "ready by</span> 2031-03-");
  free(text);
}

static void paper_offer_html_wants_one_to_six(void **state) {
  test_call test;
  kept all;
  desk d;
  girdle_sink sink = keep_in(&all);
  (void)state;
  test_begin(&test);
  assert_ok(&test, set_desk(&test.call, &d));
  const girdle_offer offers[] = {{"x", d.club, 5, d.reckoning}};
  assert_status(&test, girdle_paper_offer_html(&test.call, offers, 0, &sink), GIRDLE_ARGUMENT);
  test_again(&test);
  assert_status(&test, girdle_paper_offer_html(&test.call, offers, 1, &sink), GIRDLE_ARGUMENT);
  clear_desk(&d);
}

/* RFC 5545: CRLF, at most 75 bytes a line, the end of a day is the next day. */
static void paper_calendar_ics_follows_rfc_5545(void **state) {
  char *text = paper_text(CALENDAR), *line = text;
  (void)state;
  assert_int_equal(strncmp(text, "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:", 37), 0);
  assert_has(text, "DTSTAMP:20310121T000000Z\r\n");
  assert_has(text, "DTSTART;VALUE=DATE:20310314\r\nDTEND;VALUE=DATE:20310315\r\nSUMMARY:F-1: needed\r\n");
  assert_has(text, "lights\\, then peel"); /* a comma is escaped, wherever the line is folded */
  assert_int_equal(count_of(text, "\n"), count_of(text, "\r\n"));
  assert_int_equal(count_of(text, "BEGIN:VEVENT\r\n"), count_of(text, "END:VEVENT\r\n"));
  for (char *end = strstr(line, "\r\n"); end; line = end + 2, end = strstr(line, "\r\n"))
    assert_true(end - line <= 75);
  free(text);
}

/* ---- opened in a browser, when one is there */

static void paper_pages_open_without_complaint(void **state) {
  char name[] = "/tmp/girdle-test-XXXXXX.html", command[300], line[4000], *text;
  int file, stones = 0, complaints = 0;
  FILE *pipe;
  (void)state;
  if (system("chromium --version >/dev/null 2>&1") != 0) skip();
  text = paper_text(SHEET);
  file = mkstemps(name, 5);
  assert_true(file >= 0);
  assert_int_equal(write(file, text, strlen(text)), (ssize_t)strlen(text));
  close(file);
  snprintf(command, sizeof command,
           "chromium --headless --no-sandbox --disable-gpu --enable-logging=stderr --dump-dom file://%s 2>&1", name);
  pipe = popen(command, "r");
  while (fgets(line, sizeof line, pipe)) {
    stones += (int)count_of(line, "class=\"stone\"");
    complaints += strstr(line, "CONSOLE") != NULL;
  }
  pclose(pipe);
  unlink(name);
  free(text);
  assert_int_equal(stones, 9 + 2 * 5 + 4);
  assert_int_equal(complaints, 0);
}

static int32_t swallow(void *context, const void *bytes, uint64_t count) {
  (void)context, (void)bytes, (void)count;
  return 0;
}

/* A small club, because every refusal begins anew. */
static int32_t write_little(girdle_call *call, int paper) {
  static const char *const stones[] = {"8 mm red navette", "ss20"};
  const girdle_sink sink = {NULL, swallow};
  girdle_job_head head;
  girdle_job *job = NULL;
  desk d = {NULL, NULL, NULL};
  int32_t status = girdle_club_new(call, &d.club);
  if (status) return status;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "t");
  head.needed_by_day = 22352;
  status = girdle_job_new(call, &head, &job);
  if (!status) status = sample_zone(call, job, "collar", "", 0, 1, stones, 2, 3);
  if (!status) status = girdle_club_add_job(call, d.club, job);
  if (status) girdle_job_free(job);
  if (!status) status = girdle_club_reckon(call, d.club, 22300, &d.reckoning);
  if (!status && paper == OFFER)
    status = girdle_paper_offer_html(call, &(girdle_offer){"full", d.club, 0, d.reckoning}, 1, &sink);
  else if (!status)
    status = write_paper(call, &d, paper, &sink);
  clear_desk(&d);
  return status;
}

static int32_t write_sheet(girdle_call *call) {
  return write_little(call, SHEET);
}

static int32_t write_bags(girdle_call *call) {
  return write_little(call, BAGS);
}

static int32_t write_offer(girdle_call *call) {
  return write_little(call, OFFER);
}

static int32_t write_calendar(girdle_call *call) {
  return write_little(call, CALENDAR);
}

static void paper_pages_leak_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(write_sheet);
  test_sweep_allocations(write_bags);
  test_sweep_allocations(write_offer);
  test_sweep_allocations(write_calendar);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_pages_stand_alone),
      cmocka_unit_test(paper_sheet_html_shows_every_stone),
      cmocka_unit_test(paper_sheet_html_names_only_when_asked),
      cmocka_unit_test(paper_sheet_html_shows_a_photo_without_its_notes),
      cmocka_unit_test(paper_sheet_html_ends_a_photo_where_its_picture_ends),
      cmocka_unit_test(paper_sheet_html_numbers_zones_on_the_figure),
      cmocka_unit_test(paper_sheet_html_numbers_zones_by_their_side),
      cmocka_unit_test(paper_sheet_html_refuses_what_is_no_photo),
      cmocka_unit_test(paper_bags_html_labels_every_bag),
      cmocka_unit_test(paper_offer_html_shows_prices_but_no_costs),
      cmocka_unit_test(paper_offer_html_shows_the_whole_costume),
      cmocka_unit_test(paper_offer_html_names_a_day_from_reckoning_today),
      cmocka_unit_test(paper_offer_html_wants_one_to_six),
      cmocka_unit_test(paper_calendar_ics_follows_rfc_5545),
      cmocka_unit_test(paper_pages_open_without_complaint),
      cmocka_unit_test(paper_pages_leak_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
