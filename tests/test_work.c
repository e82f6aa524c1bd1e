/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "stops.h"

static int64_t day_of(const char *text) {
  int64_t day = 0;
  assert_int_equal(girdle_date_parse(NULL, text, &day), GIRDLE_OK);
  return day;
}

static girdle_work_rates rates_of(void) {
  girdle_work_rates rates;
  girdle_work_rates_init(&rates, sizeof rates);
  return rates;
}

static void add(girdle_tally *tally, const char *tag, const char *zone, const char *text, int64_t pieces) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  assert_int_equal(girdle_tally_add_pieces(NULL, tally, tag, zone, "", &stone, pieces), GIRDLE_OK);
}

/* ---- adhesive and minutes */

static void work_estimate_adds_minutes_and_adhesive(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_tally *tally;
  girdle_work work;
  const girdle_tally_line *lines;
  uint64_t count;
  (void)state;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  add(tally, "A1", "collar", "ss20 black", 100);
  add(tally, "A1", "collar", "ss34 clear", 50);
  add(tally, "A1", "cuffs", "ss20 black", 20);
  add(tally, "A1", "cuffs", "ss34 red sewn", 10);
  assert_int_equal(girdle_work_estimate(NULL, tally, &rates, &work), GIRDLE_OK);
  assert_int_equal(work.glued, 170);
  assert_int_equal(work.sewn, 10);
  assert_int_equal(work.zones, 2);
  assert_int_equal(work.changes, 2);
  /* 120 small at 12 s, 50 large at 10 s, 10 sewn at 60 s, 2 zones at 600 s, 2 changes at 60 s */
  assert_near(work.minutes, (1440 + 500 + 600 + 1200 + 120) / 60.0, 1e-9);
  assert_int_equal(work.evenings, 1);
  lines = girdle_tally_lines(tally, &count); /* the sewn ones, last, take none */
  assert_near(work.adhesive_ml, (lines[0].covered_mm2 + lines[1].covered_mm2 + lines[2].covered_mm2) * 0.3 / 1000,
              1e-12);
  assert_near(work.adhesive_buy_ml, work.adhesive_ml / 0.75, 1e-12);
  assert_int_equal(work.tubes, 1);
  assert_near((double)work.tube_millionths, 1e6 * work.adhesive_buy_ml / 30, 1);
  assert_int_equal(work.dots_at_a_time, 26); /* 300 s at 1940 / 170 s each */
  girdle_tally_free(tally);
}

/* From the footprint and a film of 0.2 to 0.4 mm a gross of ss20 takes 0.5 to 1.0 ml: arithmetic, no source. A facetted
 * outline covers a little less than its circle, by which these were reckoned. */
static void work_estimate_gives_a_gross_its_adhesive(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_tally *tally;
  girdle_work work;
  (void)state;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  add(tally, "A1", "collar", "ss20 black", 144);
  rates.film_mm = 0.2;
  assert_int_equal(girdle_work_estimate(NULL, tally, &rates, &work), GIRDLE_OK);
  assert_near(work.adhesive_ml, 0.5, 0.02);
  rates.film_mm = 0.4;
  assert_int_equal(girdle_work_estimate(NULL, tally, &rates, &work), GIRDLE_OK);
  assert_near(work.adhesive_ml, 1.0, 0.04);
  girdle_tally_free(tally);
}

static void work_estimate_counts_what_stays_in_the_syringe(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_tally *tally;
  girdle_work work;
  (void)state;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  add(tally, "A1", "collar", "ss20 black", 400); /* 80 min of dotting: three loads of at most 30 min */
  add(tally, "A1", "left cuff", "ss20 black", 10);
  add(tally, "A1", "right cuff", "ss20 black", 10);
  rates.residue_ml = 1;
  assert_int_equal(girdle_work_estimate(NULL, tally, &rates, &work), GIRDLE_OK);
  assert_int_equal(work.loads, 5);
  assert_near(work.residue_ml, 5, 1e-12);
  assert_near(work.adhesive_buy_ml, work.adhesive_ml + 5, 1e-12);
  rates.opened_days = 1; /* and 110 min are an evening, 400 min four: a tube a day */
  rates.evening_s = 1800;
  assert_int_equal(girdle_work_estimate(NULL, tally, &rates, &work), GIRDLE_OK);
  assert_int_equal(work.tubes, work.evenings);
  girdle_tally_free(tally);
}

static void work_zones_add_up_to_the_estimate(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_tally *tally;
  girdle_work work;
  girdle_work_zone zones[4];
  uint64_t count;
  double minutes = 0, adhesive_ml = 0;
  int64_t loads = 0;
  (void)state;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  add(tally, "A1", "collar", "ss20 black", 400);
  add(tally, "A1", "collar", "ss34 clear", 50);
  add(tally, "A1", "cuffs", "ss20 black", 20);
  add(tally, "A1", "cuffs", "ss34 red sewn", 10);
  add(tally, "A2", "collar", "ss34 red sewn", 4);
  assert_int_equal(girdle_work_estimate(NULL, tally, &rates, &work), GIRDLE_OK);
  assert_int_equal(girdle_work_zones(NULL, tally, &rates, zones, 4, &count), GIRDLE_OK);
  assert_int_equal(count, 3);
  for (uint64_t i = 0; i < count; i++) {
    minutes += zones[i].minutes, adhesive_ml += zones[i].adhesive_ml, loads += zones[i].loads;
    assert_true((double)zones[i].loads * zones[i].load_ml >= zones[i].adhesive_ml * (1 - 1e-9));
    assert_true(zones[i].load_ml <= rates.syringe_ml);
  }
  assert_near(minutes, work.minutes, 1e-9);
  assert_near(adhesive_ml, work.adhesive_ml, 1e-9);
  assert_int_equal(loads, work.loads);
  assert_int_equal(zones[1].sewn, 10);
  assert_int_equal(zones[2].loads, 0);
  assert_int_equal(girdle_work_zones(NULL, tally, &rates, NULL, 0, &count), GIRDLE_OK);
  assert_int_equal(count, 3);
  girdle_tally_free(tally);
}

static void work_steps_follow_the_order_of_work(void **state) {
  static const int32_t expected[] = {GIRDLE_STEP_BARRIER, GIRDLE_STEP_MARK, GIRDLE_STEP_GLUE, GIRDLE_STEP_GLUE,
                                     GIRDLE_STEP_DRY,     GIRDLE_STEP_TURN, GIRDLE_STEP_MARK, GIRDLE_STEP_GLUE,
                                     GIRDLE_STEP_CURE,    GIRDLE_STEP_SEW};
  girdle_work_rates rates = rates_of();
  girdle_tally *tally;
  girdle_work_step steps[16];
  girdle_stone stone;
  uint64_t count;
  (void)state;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  assert_int_equal(girdle_stone_parse(NULL, "ss20 black", &stone), GIRDLE_OK);
  assert_int_equal(girdle_tally_add_pieces(NULL, tally, "A1", "yoke", "back", &stone, 30), GIRDLE_OK);
  add(tally, "A1", "collar", "ss20 black", 100);
  add(tally, "A1", "collar", "ss34 clear", 50);
  add(tally, "A1", "collar", "ss34 red sewn", 10);
  add(tally, "A2", "collar", "ss34 red sewn", 10);
  assert_int_equal(girdle_work_steps(NULL, tally, "A1", &rates, steps, 16, &count), GIRDLE_OK);
  assert_int_equal(count, sizeof expected / sizeof expected[0]);
  for (uint64_t i = 0; i < count; i++)
    assert_int_equal(steps[i].kind, expected[i]);
  assert_string_equal(steps[2].stone.size, "ss34"); /* large first */
  assert_string_equal(steps[3].stone.size, "ss20");
  assert_string_equal(steps[7].zone, "yoke");
  assert_near(steps[1].minutes, 10, 1e-9);
  assert_near(steps[2].minutes, 50 * 10 / 60.0, 1e-9);
  assert_near(steps[3].minutes, (100 * 12 + 60) / 60.0, 1e-9); /* and a change of stone */
  assert_near(steps[9].minutes, 10, 1e-9);
  assert_near(steps[4].minutes, 1440, 1e-9);
  assert_int_equal(steps[9].pieces, 10);
  for (int32_t kind = 0; kind < GIRDLE_STEP_END; kind++)
    assert_string_not_equal(girdle_step_text(kind), "unknown");
  assert_string_equal(girdle_step_text(GIRDLE_STEP_END), "unknown");
  assert_string_equal(girdle_step_text(-1), "unknown");
  assert_int_equal(girdle_work_steps(NULL, tally, "A2", &rates, steps, 16, &count), GIRDLE_OK);
  assert_int_equal(count, 4); /* one side alone is neither turned nor dried in between */
  assert_int_equal(steps[2].kind, GIRDLE_STEP_CURE);
  assert_int_equal(girdle_work_steps(NULL, tally, "nobody", &rates, steps, 16, &count), GIRDLE_OK);
  assert_int_equal(count, 0);
  girdle_tally_free(tally);
}

static int32_t list_work(girdle_call *call) {
  girdle_work_rates rates = rates_of();
  girdle_tally *tally;
  girdle_work_zone zones[2];
  girdle_work_step steps[2];
  uint64_t count;
  int32_t status;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  add(tally, "A1", "collar", "ss20 black", 100);
  status = girdle_work_zones(call, tally, &rates, zones, 2, &count);
  if (!status) status = girdle_work_steps(call, tally, "A1", &rates, steps, 2, &count);
  girdle_tally_free(tally);
  return status;
}

static void work_zones_and_steps_leak_nothing(void **state) {
  (void)state;
  test_sweep_allocations(list_work);
}

static void work_estimate_of_nothing_is_nothing(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_tally *tally;
  girdle_work work;
  (void)state;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  assert_int_equal(girdle_work_estimate(NULL, tally, &rates, &work), GIRDLE_OK);
  assert_int_equal(work.evenings, 0);
  assert_int_equal(work.tubes, 0);
  assert_true(work.minutes == 0);
  girdle_tally_free(tally);
}

static void work_rates_refuse_what_cannot_be(void **state) {
  static const double bad[] = {NAN, INFINITY, -1, 1e300};
  girdle_tally *tally;
  girdle_work work;
  (void)state;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    girdle_work_rates film = rates_of(), evening = rates_of(), small = rates_of();
    test_call test;
    test_begin(&test);
    film.film_mm = evening.evening_s = small.small_s = bad[i];
    assert_status(&test, girdle_work_estimate(&test.call, tally, &film, &work), GIRDLE_ARGUMENT);
    assert_string_equal(test.error.field, "film");
    assert_int_equal(girdle_work_estimate(NULL, tally, &evening, &work), GIRDLE_ARGUMENT);
    assert_int_equal(girdle_work_estimate(NULL, tally, &small, &work), GIRDLE_ARGUMENT);
  }
  girdle_tally_free(tally);
}

/* ---- dates */

#define AT(field) \
  { #field, offsetof(girdle_work_rates, field) }

/* What each may be at most is still taken, and one more is not. */
static void work_rates_take_what_they_may_be_at_most(void **state) {
  girdle_tally *tally;
  girdle_work work;
  (void)state;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  for (int more = 0; more < 2; more++)
    for (int i = 0; i < 6; i++) {
      girdle_work_rates rates = rates_of();
      if (i == 0) rates.hands = 1000 + more;
      if (i == 1) rates.places_to_dry = 10000 + more;
      if (i == 2) rates.alteration_days = 366 + more;
      if (i == 3) rates.spare_days = 366 + more;
      if (i == 4) rates.film_mm = 5 + more;
      if (i == 5) rates.evening_s = 86400 + more;
      assert_int_equal(girdle_work_estimate(NULL, tally, &rates, &work), more ? GIRDLE_ARGUMENT : GIRDLE_OK);
    }
  girdle_tally_free(tally);
}

/* Every rate of its own, below and far above what it may be. */
static void work_rates_refuse_each_number_that_cannot_be(void **state) {
  static const struct {
    const char *name;
    size_t at;
  } measures[] = {AT(film_mm),    AT(adhesive_waste), AT(skin_s),     AT(tube_ml),     AT(small_s),      AT(large_s),
                  AT(sewn_s),     AT(change_s),       AT(zone_s),     AT(evening_s),   AT(dry_s),        AT(cure_s),
                  AT(syringe_ml), AT(thicken_s),      AT(residue_ml), AT(opened_days), AT(large_from_mm)},
    counts[] = {AT(hands), AT(places_to_dry), AT(alteration_days), AT(swatch_days), AT(try_on_days), AT(spare_days)},
    days[] = {AT(glue_weekdays), AT(post_weekdays)};
  girdle_tally *tally;
  girdle_work work;
  girdle_work_rates rates;
  (void)state;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  for (size_t i = 0; i < sizeof measures / sizeof measures[0]; i++)
    for (int far = 0; far < 2; far++) {
      rates = rates_of();
      *(double *)((char *)&rates + measures[i].at) = far ? 1e9 : -1;
      if (girdle_work_estimate(NULL, tally, &rates, &work) != GIRDLE_ARGUMENT) fail_msg("%s", measures[i].name);
    }
  for (size_t i = 0; i < sizeof counts / sizeof counts[0]; i++)
    for (int far = 0; far < 2; far++) {
      rates = rates_of();
      *(int32_t *)((char *)&rates + counts[i].at) = far ? 100000 : -1;
      if (girdle_work_estimate(NULL, tally, &rates, &work) != GIRDLE_ARGUMENT) fail_msg("%s", counts[i].name);
    }
  for (size_t i = 0; i < sizeof days / sizeof days[0]; i++)
    for (int far = 0; far < 2; far++) {
      rates = rates_of();
      *(uint32_t *)((char *)&rates + days[i].at) = far ? 0x80 : 0;
      if (girdle_work_estimate(NULL, tally, &rates, &work) != GIRDLE_ARGUMENT) fail_msg("%s", days[i].name);
    }
  girdle_tally_free(tally);
}

static void date_parse_reads_only_whole_dates(void **state) {
  static const char *const bad[] = {"",           "2031-3-14",  "14.03.2031", "2031-03-14 ", "2031-02-29", "2031-13-01",
                                    "2031-00-10", "2031-04-31", "1900-02-29", "2031-01-00",  "20310314",   "abcd-ef-gh",
                                    "20x1-03-14", "2031-0x-14", "2031-03-1x", "203/-03-14"};
  (void)state;
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    test_call test;
    int64_t day = 42;
    test_begin(&test);
    assert_status(&test, girdle_date_parse(&test.call, bad[i], &day), GIRDLE_SYNTAX);
    assert_non_null(strstr(test.error.message, "2031-03-14"));
    assert_int_equal(day, 42);
  }
  assert_int_equal(day_of("1970-01-01"), 0);
  assert_int_equal(day_of("2000-02-29"), 11016);
}

static void date_text_writes_what_parse_reads(void **state) {
  char text[16];
  (void)state;
  for (int64_t day = day_of("0000-01-01"); day <= day_of("9999-12-31"); day += 97) {
    assert_int_equal(girdle_date_text(day, text, sizeof text), 10);
    assert_int_equal(day_of(text), day);
  }
}

/* ---- calendar */

static girdle_calendar *calendar_of(const girdle_work_rates *rates, const girdle_task *tasks, uint64_t count,
                                    const char *today, int32_t delivery_days) {
  girdle_calendar_options options;
  girdle_calendar *calendar = NULL;
  girdle_calendar_options_init(&options, sizeof options);
  options.today = day_of(today);
  options.delivery_days = delivery_days;
  options.tasks = tasks;
  options.task_count = count;
  assert_int_equal(girdle_calendar_plan(NULL, rates, &options, &calendar), GIRDLE_OK);
  return calendar;
}

static girdle_task task_of(const char *tag, const char *needed_by, double minutes, int32_t sides) {
  girdle_task task = {.needed_by_day = day_of(needed_by), .minutes = minutes, .sides = sides};
  snprintf(task.tag, sizeof task.tag, "%s", tag);
  return task;
}

/* The first event of a kind for a tag, which must be there. */
static girdle_event event_of(const girdle_calendar *calendar, const char *tag, int32_t kind) {
  uint64_t count;
  const girdle_event *events = girdle_calendar_events(calendar, &count);
  for (uint64_t i = 0; i < count; i++)
    if (events[i].kind == kind && strcmp(events[i].tag, tag) == 0) return events[i];
  print_error("no '%s' for '%s'\n", girdle_day_text(kind), tag);
  fail();
  return events[0];
}

#define assert_days(event, first, last)                 \
  do {                                                  \
    assert_int_equal((event).first_day, day_of(first)); \
    assert_int_equal((event).last_day, day_of(last));   \
  } while (0)

static void calendar_plan_works_back_from_the_day(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_task task = task_of("A1", "2031-03-14", 200, 1); /* a Friday; two evenings of 120 min */
  girdle_calendar *calendar = calendar_of(&rates, &task, 1, "2031-01-06", 3);
  girdle_calendar_sum sum;
  (void)state;
  girdle_calendar_total(calendar, &sum);
  assert_days(event_of(calendar, "A1", GIRDLE_DAY_NEEDED), "2031-03-14", "2031-03-14");
  assert_days(event_of(calendar, "A1", GIRDLE_DAY_IN_HAND), "2031-03-11", "2031-03-13");
  assert_days(event_of(calendar, "A1", GIRDLE_DAY_TRY_ON), "2031-03-10", "2031-03-10");
  assert_days(event_of(calendar, "A1", GIRDLE_DAY_DRY), "2031-03-07", "2031-03-09");
  assert_days(event_of(calendar, "A1", GIRDLE_DAY_GLUE), "2031-03-05", "2031-03-05");
  assert_near(event_of(calendar, "A1", GIRDLE_DAY_GLUE).minutes, 80, 1e-9); /* the rest of 120 on the 6th */
  assert_days(event_of(calendar, "A1", GIRDLE_DAY_ALTERATIONS), "2031-03-03", "2031-03-04");
  assert_days(event_of(calendar, "", GIRDLE_DAY_SWATCH), "2031-03-04", "2031-03-04");
  /* three days of post before Tuesday the 4th: Monday the 3rd, Friday, Thursday; so the order goes out on Wednesday */
  assert_days(event_of(calendar, "", GIRDLE_DAY_DELIVERY), "2031-02-27", "2031-03-03");
  assert_days(event_of(calendar, "", GIRDLE_DAY_ORDER), "2031-02-26", "2031-02-26");
  assert_int_equal(sum.order_by_day, day_of("2031-02-26"));
  assert_int_equal(sum.start_day, day_of("2031-02-26"));
  assert_int_equal(sum.ready_day, day_of("2031-03-11"));
  assert_int_equal(sum.late_days, 0);
  assert_int_equal(sum.hands_needed, 1);
  girdle_calendar_free(calendar);
}

static void calendar_plan_dries_between_sides(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_task task = task_of("A1", "2031-03-14", 200, 2);
  girdle_calendar *calendar = calendar_of(&rates, &task, 1, "2031-01-06", 0);
  (void)state;
  /* front 100 min on the 4th, dry on the 5th, back 100 min on the 6th */
  assert_days(event_of(calendar, "A1", GIRDLE_DAY_GLUE), "2031-03-04", "2031-03-04");
  assert_near(event_of(calendar, "A1", GIRDLE_DAY_GLUE).minutes, 100, 1e-9);
  assert_days(event_of(calendar, "A1", GIRDLE_DAY_DRY), "2031-03-05", "2031-03-05");
  girdle_calendar_free(calendar);
  task.back_millionths = 450000; /* the front, worked first, takes the other 110 min */
  calendar = calendar_of(&rates, &task, 1, "2031-01-06", 0);
  assert_near(event_of(calendar, "A1", GIRDLE_DAY_GLUE).minutes, 110, 1e-9);
  girdle_calendar_free(calendar);
}

/* Of the minutes each side has those of its own zones; what is on both counts half. */
static void work_estimate_tells_the_share_of_the_back(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_stone stone;
  girdle_tally *tally;
  girdle_work work;
  double front, back, both;
  (void)state;
  girdle_stone_parse(NULL, "ss20 black", &stone);
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  girdle_tally_add_pieces(NULL, tally, "A1", "chest", "front", &stone, 800);
  girdle_work_estimate(NULL, tally, &rates, &work);
  assert_int_equal(work.back_millionths, 0);
  girdle_tally_add_pieces(NULL, tally, "A1", "seat", "back", &stone, 100);
  girdle_work_estimate(NULL, tally, &rates, &work);
  front = 800 * rates.small_s + rates.zone_s;
  back = 100 * rates.small_s + rates.zone_s;
  assert_int_equal(work.back_millionths, (int32_t)nearbyint(1e6 * back / (front + back)));
  girdle_tally_add_pieces(NULL, tally, "A1", "hip", "both", &stone, 50);
  girdle_work_estimate(NULL, tally, &rates, &work);
  both = 50 * rates.small_s + rates.zone_s;
  assert_int_equal(work.back_millionths, (int32_t)nearbyint(1e6 * (back + both / 2) / (front + back + both)));
  girdle_tally_free(tally);
}

/* A quote and the calendar tell of the same evenings, for any work on one side or two, as long as a costume is alone.
 */
static void work_estimate_takes_as_many_evenings_as_the_calendar(void **state) {
  girdle_work_rates rates = rates_of();
  uint64_t seed = 5;
  (void)state;
  for (int round = 0; round < 200; round++) {
    girdle_stone stone;
    girdle_tally *tally;
    girdle_work work;
    girdle_calendar *calendar;
    girdle_task task = task_of("A1", "2031-03-14", 0, 1);
    const girdle_event *events;
    uint64_t count;
    int64_t evenings = 0;
    assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
    girdle_stone_parse(NULL, "ss20 black", &stone);
    girdle_tally_add_pieces(NULL, tally, "A1", "chest", round % 3 ? "both" : "front", &stone,
                            1 + (int64_t)(test_random(&seed) % 4000));
    if (round % 2) girdle_tally_add_pieces(NULL, tally, "A1", "seat", "back", &stone, 1 + round);
    rates.hands = 1 + round % 3;
    rates.dry_s = round % 5 ? 86400 : 0;
    assert_int_equal(girdle_work_estimate(NULL, tally, &rates, &work), GIRDLE_OK);
    assert_int_equal(work.sides, round % 3 || round % 2 ? 2 : 1);
    task.minutes = work.minutes;
    task.sides = work.sides;
    task.back_millionths = work.back_millionths;
    calendar = calendar_of(&rates, &task, 1, "2030-01-01", 3);
    events = girdle_calendar_events(calendar, &count);
    for (uint64_t i = 0; i < count; i++)
      evenings += events[i].kind == GIRDLE_DAY_GLUE;
    assert_int_equal(evenings, work.evenings);
    girdle_calendar_free(calendar);
    girdle_tally_free(tally);
  }
}

static void calendar_plan_shares_evenings_and_places(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_task tasks[3] = {task_of("A1", "2031-03-14", 60, 1), task_of("A2", "2031-03-14", 60, 1),
                          task_of("A3", "2031-03-14", 60, 1)};
  girdle_calendar *calendar = calendar_of(&rates, tasks, 3, "2031-01-06", 0);
  (void)state;
  assert_days(event_of(calendar, "A3", GIRDLE_DAY_GLUE), "2031-03-06", "2031-03-06");
  assert_days(event_of(calendar, "A2", GIRDLE_DAY_GLUE), "2031-03-06", "2031-03-06");
  /* both places are taken on the 6th and, drying, on the 7th: the third must be off its place by then */
  assert_days(event_of(calendar, "A1", GIRDLE_DAY_GLUE), "2031-03-04", "2031-03-04");
  girdle_calendar_free(calendar);
}

static void calendar_plan_keeps_weekdays(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_task task = task_of("A1", "2031-03-14", 240, 1);
  girdle_calendar *calendar;
  uint64_t count;
  const girdle_event *events;
  (void)state;
  rates.glue_weekdays = GIRDLE_WEEKDAY(6) | GIRDLE_WEEKDAY(7); /* Saturday and Sunday */
  calendar = calendar_of(&rates, &task, 1, "2031-01-06", 2);
  events = girdle_calendar_events(calendar, &count);
  for (uint64_t i = 0; i < count; i++) {
    int32_t weekday = girdle_date_weekday(events[i].first_day);
    if (events[i].kind == GIRDLE_DAY_GLUE) assert_true(weekday >= 6);
    if (events[i].kind == GIRDLE_DAY_ORDER) assert_true(weekday <= 5);
    assert_true(i == 0 || events[i].first_day >= events[i - 1].first_day);
  }
  assert_days(event_of(calendar, "A1", GIRDLE_DAY_GLUE), "2031-03-01", "2031-03-01");
  girdle_calendar_free(calendar);
}

static void calendar_plan_says_how_late_and_with_how_many_hands(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_task task = task_of("A1", "2031-03-14", 1200, 1); /* ten evenings for one */
  girdle_calendar *calendar = calendar_of(&rates, &task, 1, "2031-02-26", 0);
  girdle_calendar_sum sum;
  (void)state;
  girdle_calendar_total(calendar, &sum); /* gluing 25 February to 6 March, alterations from the 23rd */
  assert_int_equal(sum.late_days, 3);
  assert_int_equal(sum.hands_needed, 2); /* five evenings, from 2 March, alterations from 28 February */
  girdle_calendar_free(calendar);
  calendar = calendar_of(&rates, &task, 1, "2031-03-06", 0);
  girdle_calendar_total(calendar, &sum);
  assert_int_equal(sum.hands_needed, 0);
  assert_true(sum.late_days > 0);
  girdle_calendar_free(calendar);
}

static void calendar_alternatives_each_say_their_effect(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_task task = task_of("A1", "2031-03-14", 1200, 1);
  girdle_calendar *calendar = calendar_of(&rates, &task, 1, "2031-02-26", 0);
  const girdle_alternative *other;
  uint64_t count;
  (void)state;
  other = girdle_calendar_alternatives(calendar, &count);
  assert_int_equal(count, 4); /* nothing is posted, and one costume needs no second place */
  assert_int_equal(other[0].kind, GIRDLE_MORE_HANDS);
  assert_int_equal(other[0].value, 2);
  assert_int_equal(other[1].kind, GIRDLE_LONGER_EVENINGS);
  assert_int_equal(other[1].value, 180); /* seven evenings of 180 min instead of ten */
  assert_int_equal(other[2].kind, GIRDLE_FEWER_STONES);
  assert_int_equal(other[2].value, 30); /* seven evenings' work */
  assert_int_equal(other[3].kind, GIRDLE_LARGER_STONES);
  assert_int_equal(other[3].value, 20); /* 1 / 1.2 squared is 0.694 */
  for (uint64_t i = 0; i < count; i++)
    assert_int_equal(other[i].late_days, 0);
  assert_near(event_of(calendar, "A1", GIRDLE_DAY_NEEDED).minutes, 0, 0);
  girdle_calendar_free(calendar);
  rates.hands = 63; /* at most 64 are tried */
  task.minutes = 63 * 120 * 2 + 1;
  calendar = calendar_of(&rates, &task, 1, "2031-03-03", 0);
  other = girdle_calendar_alternatives(calendar, &count);
  assert_int_equal(other[0].kind, GIRDLE_MORE_HANDS);
  assert_int_equal(other[0].value, 64);
  rates.hands = 1;
  task.minutes = 1200;
  girdle_calendar_free(calendar);
  calendar = calendar_of(&rates, &task, 1, "2031-02-20", 20);
  other = girdle_calendar_alternatives(calendar, &count);
  assert_true(count > 1);
  assert_int_equal(other[1].kind, GIRDLE_FASTER_POST);
  assert_true(other[1].late_days < 24);
  for (uint64_t i = 0; i < count; i++) /* of what does not do, no more is asked than helps */
    if (other[i].kind == GIRDLE_MORE_HANDS) assert_true(other[i].late_days > 0 && other[i].value == 10);
  girdle_calendar_free(calendar);
  calendar = calendar_of(&rates, &task, 1, "2031-01-06", 0);
  girdle_calendar_alternatives(calendar, &count);
  assert_int_equal(count, 0);
  girdle_calendar_free(calendar);
}

static void alternative_text_covers_every_kind(void **state) {
  (void)state;
  for (int32_t kind = 0; kind < GIRDLE_ALTERNATIVE_END; kind++)
    assert_string_not_equal(girdle_alternative_text(kind), "unknown");
  assert_string_equal(girdle_alternative_text(-1), "unknown");
}

static void calendar_plan_refuses(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_task task = task_of("A1", "2031-03-14", 1e8, 1);
  girdle_calendar_options options;
  girdle_calendar *calendar;
  test_call test;
  (void)state;
  girdle_calendar_options_init(&options, sizeof options);
  options.tasks = &task;
  options.task_count = 1;
  test_begin(&test);
  assert_status(&test, girdle_calendar_plan(&test.call, &rates, &options, &calendar), GIRDLE_LIMIT);
  assert_int_equal(test.live_bytes, 0);
  task.minutes = NAN;
  test_again(&test);
  assert_status(&test, girdle_calendar_plan(&test.call, &rates, &options, &calendar), GIRDLE_ARGUMENT);
  task.minutes = 10;
  task.sides = 3;
  assert_int_equal(girdle_calendar_plan(NULL, &rates, &options, &calendar), GIRDLE_ARGUMENT);
  task.sides = 2;
  task.back_millionths = 1000000;
  assert_int_equal(girdle_calendar_plan(NULL, &rates, &options, &calendar), GIRDLE_ARGUMENT);
  task.back_millionths = 0;
  task.sides = 1;
  rates.glue_weekdays = 0;
  assert_int_equal(girdle_calendar_plan(NULL, &rates, &options, &calendar), GIRDLE_ARGUMENT);
}

static int32_t plan_calendar(girdle_call *call) {
  girdle_work_rates rates = rates_of();
  girdle_task tasks[3] = {task_of("A1", "2031-03-14", 600, 2), task_of("A2", "2031-03-20", 60, 1),
                          task_of("A3", "2031-03-14", 0, 1)};
  girdle_calendar_options options;
  girdle_calendar *calendar = NULL;
  int32_t status;
  girdle_calendar_options_init(&options, sizeof options);
  options.today = day_of("2031-03-01");
  options.tasks = tasks;
  options.task_count = 3;
  status = girdle_calendar_plan(call, &rates, &options, &calendar);
  girdle_calendar_free(calendar);
  return status;
}

static void calendar_plan_leaks_nothing(void **state) {
  (void)state;
  test_sweep_allocations(plan_calendar);
}

static void day_text_covers_every_kind(void **state) {
  (void)state;
  for (int32_t kind = 0; kind < GIRDLE_DAY_END; kind++)
    assert_string_not_equal(girdle_day_text(kind), "unknown");
  assert_string_equal(girdle_day_text(GIRDLE_DAY_END), "unknown");
}

/* ---- what may be NULL */

static void work_takes_the_defaults_for_no_rates(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_tally *tally;
  girdle_work work, by_default;
  girdle_work_zone zone;
  girdle_work_step step;
  uint64_t count, count_by_default;
  (void)state;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  add(tally, "A1", "collar", "ss20 black", 100);
  assert_int_equal(girdle_work_estimate(NULL, tally, &rates, &work), GIRDLE_OK);
  assert_int_equal(girdle_work_estimate(NULL, tally, NULL, &by_default), GIRDLE_OK);
  assert_memory_equal(&work, &by_default, sizeof work);
  assert_int_equal(girdle_work_zones(NULL, tally, NULL, &zone, 1, &count), GIRDLE_OK);
  assert_int_equal(count, 1);
  assert_near(zone.minutes, work.minutes, 1e-9);
  assert_int_equal(girdle_work_zones(NULL, tally, NULL, NULL, 0, &count), GIRDLE_OK);
  assert_int_equal(girdle_work_steps(NULL, tally, "A1", &rates, NULL, 0, &count), GIRDLE_OK);
  assert_int_equal(girdle_work_steps(NULL, tally, "A1", NULL, &step, 1, &count_by_default), GIRDLE_OK);
  assert_int_equal(count, count_by_default);
  girdle_tally_free(tally);
}

static void calendar_plan_takes_the_defaults_for_no_rates(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_task task = task_of("A1", "2031-03-14", 600, 2);
  girdle_calendar_options options;
  girdle_calendar *calendar, *by_default;
  girdle_calendar_sum sum, sum_by_default;
  (void)state;
  girdle_calendar_options_init(&options, sizeof options);
  options.today = day_of("2031-01-01");
  options.tasks = &task;
  options.task_count = 1;
  assert_int_equal(girdle_calendar_plan(NULL, &rates, &options, &calendar), GIRDLE_OK);
  assert_int_equal(girdle_calendar_plan(NULL, NULL, &options, &by_default), GIRDLE_OK);
  girdle_calendar_total(calendar, &sum);
  girdle_calendar_total(by_default, &sum_by_default);
  assert_memory_equal(&sum, &sum_by_default, sizeof sum);
  girdle_calendar_free(calendar);
  girdle_calendar_free(by_default);
  assert_int_equal(girdle_calendar_plan(NULL, NULL, NULL, &calendar), GIRDLE_ARGUMENT); /* no task */
  girdle_calendar_free(NULL);
}

/* Days so far away that no date is written for them have no week either. */
static void date_week_of_no_date_is_none(void **state) {
  static const int64_t days[] = {4000000, -4000000, INT64_MAX, INT64_MIN};
  (void)state;
  for (size_t i = 0; i < sizeof days / sizeof days[0]; i++) {
    int64_t year = 7;
    int32_t week = 7;
    char text[16];
    girdle_date_text(days[i], text, sizeof text);
    assert_string_equal(text, "unknown");
    girdle_date_week(days[i], &year, &week);
    assert_int_equal(year, 0);
    assert_int_equal(week, 0);
    assert_in_range(girdle_date_weekday(days[i]), 1, 7);
  }
}

static void calendar_plan_stops_wherever_it_is(void **state) {
  (void)state;
  test_sweep_stops(list_work);
  test_sweep_stops(plan_calendar);
}

/* Two costumes of one day and tag stand in the order in which they are given. */
static void calendar_plan_keeps_equals_in_their_order(void **state) {
  girdle_task tasks[2] = {task_of("A1", "2031-03-14", 60, 1), task_of("A1", "2031-03-14", 90, 1)};
  girdle_work_rates rates = rates_of();
  girdle_calendar_options options;
  girdle_calendar *calendar;
  const girdle_event *events;
  uint64_t count;
  double minutes = 0;
  (void)state;
  girdle_calendar_options_init(&options, sizeof options);
  options.today = day_of("2031-01-01");
  options.tasks = tasks;
  options.task_count = 2;
  assert_int_equal(girdle_calendar_plan(NULL, &rates, &options, &calendar), GIRDLE_OK);
  events = girdle_calendar_events(calendar, &count);
  for (uint64_t i = 0; i < count; i++)
    minutes += events[i].kind == GIRDLE_DAY_GLUE ? events[i].minutes : 0;
  assert_near(minutes, 150, 1e-9);
  girdle_calendar_free(calendar);
}

/* Each number of a task and of the options in turn. */
static void calendar_plan_refuses_each_number_that_cannot_be(void **state) {
  (void)state;
  for (int i = 0; i < 8; i++) {
    girdle_task task = task_of("A1", "2031-03-14", 60, 1);
    girdle_calendar_options options;
    girdle_calendar *calendar = NULL;
    girdle_calendar_options_init(&options, sizeof options);
    options.today = day_of("2031-01-01");
    options.tasks = &task;
    options.task_count = 1;
    if (i == 0) task.needed_by_day = 4000001;
    if (i == 1) task.minutes = NAN;
    if (i == 2) task.back_millionths = 1000000;
    if (i == 3) task.sides = 3;
    if (i == 4) options.today = -4000001;
    if (i == 5) options.delivery_days = 367;
    if (i == 6) options.task_count = 0;
    if (i == 7) task.sides = 0;
    assert_int_equal(girdle_calendar_plan(NULL, NULL, &options, &calendar), GIRDLE_ARGUMENT);
    assert_null(calendar);
  }
}

static void texts_of_no_kind_are_unknown(void **state) {
  (void)state;
  assert_string_equal(girdle_day_text(-1), "unknown");
  assert_string_equal(girdle_alternative_text(-1), "unknown");
  assert_string_equal(girdle_alternative_text(GIRDLE_ALTERNATIVE_END), "unknown");
}

/* Years before 0 and after 9999 bear their sign (ISO 8601, 4.1.2.4); a length is asked for without a buffer. */
static void date_text_writes_far_years(void **state) {
  static const struct {
    int64_t day;
    const char *text;
  } cases[] = {{-719529, "-0001-12-31"}, {-719528, "0000-01-01"}, {2932896, "9999-12-31"}, {2932897, "+10000-01-01"}};
  char text[32];
  int64_t day;
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    assert_int_equal(girdle_date_text(cases[i].day, NULL, 0), strlen(cases[i].text));
    girdle_date_text(cases[i].day, text, sizeof text);
    assert_string_equal(text, cases[i].text);
  }
  assert_int_equal(girdle_date_parse(NULL, "2031-00-10", &day), GIRDLE_SYNTAX);
  assert_int_equal(girdle_date_parse(NULL, "2031x03-14", &day), GIRDLE_SYNTAX);
  assert_int_equal(girdle_date_parse(NULL, "2031-03x14", &day), GIRDLE_SYNTAX);
  assert_int_equal(girdle_date_parse(NULL, "2031-03-1x", &day), GIRDLE_SYNTAX);
  assert_int_equal(girdle_date_parse(NULL, "2031-x3-14", &day), GIRDLE_SYNTAX);
}

/* Bad rates are refused wherever they are given; a buffer that is too small is filled as far as it goes. */
static void work_zones_and_steps_refuse_bad_rates(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_tally *tally;
  girdle_work_zone zones[2];
  girdle_work_step steps[2];
  uint64_t count;
  (void)state;
  assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
  add(tally, "A1", "collar", "ss20 black", 100);
  add(tally, "A1", "cuffs", "ss20 black", 100);
  add(tally, "A1", "cuffs", "ss20 red", 50); /* as large as the black, after which it stands */
  add(tally, "A1", "hem", "ss20 red sewn", 50);
  memset(zones, 0, sizeof zones);
  assert_int_equal(girdle_work_zones(NULL, tally, &rates, zones, 1, &count), GIRDLE_OK);
  assert_int_equal(count, 3);
  assert_string_equal(zones[0].zone, "collar");
  assert_string_equal(zones[1].zone, "");
  assert_int_equal(girdle_work_steps(NULL, tally, "A1", &rates, steps, 1, &count), GIRDLE_OK);
  assert_true(count > 6);
  rates.film_mm = NAN;
  assert_int_equal(girdle_work_zones(NULL, tally, &rates, zones, 1, &count), GIRDLE_ARGUMENT);
  assert_int_equal(girdle_work_steps(NULL, tally, "A1", &rates, steps, 1, &count), GIRDLE_ARGUMENT);
  girdle_tally_free(tally);
}

/* A stone as wide as a large one begins is a large one. */
static void work_estimate_takes_the_width_itself_as_large(void **state) {
  girdle_work_rates rates = rates_of();
  girdle_work work;
  (void)state;
  rates.zone_s = 0;
  for (int wide = 0; wide < 2; wide++) {
    girdle_tally *tally;
    assert_int_equal(girdle_tally_new(NULL, &tally), GIRDLE_OK);
    add(tally, "A1", "collar", wide ? "5 mm black" : "4.99 mm black", 60);
    assert_int_equal(girdle_work_estimate(NULL, tally, &rates, &work), GIRDLE_OK);
    assert_near(work.minutes, wide ? 10 : 12, 1e-9);
    girdle_tally_free(tally);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(work_estimate_adds_minutes_and_adhesive),
      cmocka_unit_test(work_estimate_gives_a_gross_its_adhesive),
      cmocka_unit_test(work_estimate_of_nothing_is_nothing),
      cmocka_unit_test(work_estimate_counts_what_stays_in_the_syringe),
      cmocka_unit_test(work_zones_add_up_to_the_estimate),
      cmocka_unit_test(work_steps_follow_the_order_of_work),
      cmocka_unit_test(work_zones_and_steps_leak_nothing),
      cmocka_unit_test(calendar_alternatives_each_say_their_effect),
      cmocka_unit_test(alternative_text_covers_every_kind),
      cmocka_unit_test(work_rates_refuse_what_cannot_be),
      cmocka_unit_test(date_parse_reads_only_whole_dates),
      cmocka_unit_test(date_text_writes_what_parse_reads),
      cmocka_unit_test(calendar_plan_works_back_from_the_day),
      cmocka_unit_test(calendar_plan_dries_between_sides),
      cmocka_unit_test(work_estimate_tells_the_share_of_the_back),
      cmocka_unit_test(work_estimate_takes_as_many_evenings_as_the_calendar),
      cmocka_unit_test(calendar_plan_shares_evenings_and_places),
      cmocka_unit_test(calendar_plan_keeps_weekdays),
      cmocka_unit_test(calendar_plan_says_how_late_and_with_how_many_hands),
      cmocka_unit_test(calendar_plan_refuses),
      cmocka_unit_test(calendar_plan_leaks_nothing),
      cmocka_unit_test(day_text_covers_every_kind),
      cmocka_unit_test(work_rates_refuse_each_number_that_cannot_be),
      cmocka_unit_test(work_rates_take_what_they_may_be_at_most),
      cmocka_unit_test(work_takes_the_defaults_for_no_rates),
      cmocka_unit_test(calendar_plan_takes_the_defaults_for_no_rates),
      cmocka_unit_test(date_week_of_no_date_is_none),
      cmocka_unit_test(calendar_plan_stops_wherever_it_is),
      cmocka_unit_test(calendar_plan_keeps_equals_in_their_order),
      cmocka_unit_test(calendar_plan_refuses_each_number_that_cannot_be),
      cmocka_unit_test(texts_of_no_kind_are_unknown),
      cmocka_unit_test(date_text_writes_far_years),
      cmocka_unit_test(work_zones_and_steps_refuse_bad_rates),
      cmocka_unit_test(work_estimate_takes_the_width_itself_as_large),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
