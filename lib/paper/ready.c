/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "html_internal.h"

#include <string.h>

/* The day on which a costume is ready: of the club's calendar, or, when nobody said by when it is needed, of a calendar
 * of its own that begins today. */

enum { DAYS_AHEAD_MOST = 3650 };

static int64_t try_on_day(const girdle_calendar *calendar, const char *tag) {
  uint64_t count;
  const girdle_event *events = girdle_calendar_events(calendar, &count);
  int64_t day = INT64_MIN;
  for (uint64_t i = 0; i < count; i++)
    if (strcmp(events[i].tag, tag) == 0 && events[i].kind == GIRDLE_DAY_TRY_ON) day = events[i].last_day;
  return day;
}

static int32_t slowest_delivery(const girdle_order *order) {
  uint64_t count = 0;
  const girdle_order_supplier *suppliers = order ? girdle_order_suppliers(order, &count) : NULL;
  int32_t days = 0;
  while (count--)
    if (suppliers[count].delivery_days > days) days = suppliers[count].delivery_days;
  return days;
}

/* Plans the options' one task for a day; how many days too few that leaves, and the day it is ready. */
static int32_t try_day(girdle_call *call, const girdle_work_rates *rates, const girdle_calendar_options *options,
                       girdle_task *task, int64_t day, int64_t *late, int64_t *ready) {
  girdle_calendar *calendar;
  girdle_calendar_sum sum;
  task->needed_by_day = day;
  GIRDLE_TRY(girdle_calendar_plan(call, rates, options, &calendar));
  girdle_calendar_total(calendar, &sum);
  *late = sum.late_days;
  *ready = try_on_day(calendar, task->tag);
  girdle_calendar_free(calendar);
  return GIRDLE_OK;
}

/* Days too few are the least by which a day must move, so that none that would do is passed over. */
static int32_t earliest_day(girdle_call *call, const girdle_offer *offer, girdle_task *task, int64_t *out) {
  const int64_t today = girdle_reckoning_today(offer->reckoning);
  girdle_calendar_options options;
  int64_t late = 1, ahead = 0, ready = INT64_MIN;
  girdle_calendar_options_init(&options, sizeof options);
  options.today = today;
  options.delivery_days = slowest_delivery(girdle_reckoning_order(offer->reckoning));
  options.tasks = task;
  options.task_count = 1;
  for (; late > 0 && ahead < DAYS_AHEAD_MOST; ahead += late)
    GIRDLE_TRY(try_day(call, girdle_reckoning_rates(offer->reckoning), &options, task, today + ahead, &late, &ready));
  if (late == 0) *out = ready;
  return GIRDLE_OK;
}

int32_t girdle_offer_ready(girdle_call *call, const girdle_offer *offer, int64_t *day, int *from_today) {
  const girdle_calendar *calendar = girdle_reckoning_calendar(offer->reckoning);
  const girdle_work *work = girdle_reckoning_work(offer->reckoning, offer->job);
  girdle_task task = {.minutes = work->minutes, .sides = work->sides, .back_millionths = work->back_millionths};
  girdle_common_text(task.tag, sizeof task.tag, girdle_job_head_of(girdle_club_job(offer->club, offer->job))->tag);
  *day = calendar ? try_on_day(calendar, task.tag) : INT64_MIN;
  *from_today = *day == INT64_MIN;
  return *from_today ? earliest_day(call, offer, &task, day) : GIRDLE_OK;
}
