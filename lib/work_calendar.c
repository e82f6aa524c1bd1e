/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/work.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "sort_internal.h"
#include "work_internal.h"

/* Days are kept by how far they lie before the last day of all, so that a plan can grow backwards. */
enum { DAY_S = 86400, DAYS_BACK_MOST = 36600, HANDS_MOST = 64, PLACES_MORE_MOST = 32, TASKS_MOST = 1000000 };

struct girdle_calendar {
  girdle_allocator memory;
  girdle_event *events;
  uint64_t count, capacity;
  girdle_calendar_sum sum;
  girdle_alternative alternatives[GIRDLE_ALTERNATIVE_END];
  uint64_t alternative_count;
};

/* What an alternative changes. */
typedef struct terms {
  int64_t hands, places, delivery_days;
  double evening_s, share; /* share of the minutes that is worked */
} terms;

typedef struct evening {
  double seconds_left;
  int32_t places_left, reserved;
} evening;

typedef struct planner {
  girdle_call *call;
  girdle_allocator memory;
  const girdle_work_rates *rates;
  const girdle_calendar_options *options;
  girdle_calendar *calendar; /* receives the events; NULL when only the dates are asked for */
  const girdle_task **order; /* the tasks, latest needed first */
  evening *days;
  uint64_t day_count, day_capacity;
  terms now;
  int64_t last_day, first_glue, first_alteration, ready_day;
} planner;

/* ---- events */

static int32_t note(planner *plan, const char *tag, int32_t kind, int64_t first, int64_t last, double minutes) {
  girdle_calendar *calendar = plan->calendar;
  girdle_event *event;
  if (!calendar || last < first) return GIRDLE_OK;
  GIRDLE_TRY(girdle_common_grow(plan->call, &calendar->memory, (void **)&calendar->events, &calendar->capacity,
                                calendar->count + 1, sizeof *event));
  event = &calendar->events[calendar->count++];
  memset(event, 0, sizeof *event);
  girdle_common_text(event->tag, sizeof event->tag, tag);
  event->kind = kind;
  event->first_day = first;
  event->last_day = last;
  event->minutes = minutes;
  return GIRDLE_OK;
}

static int compare_events(const void *a, const void *b) {
  const girdle_event *one = a, *two = b;
  if (one->first_day != two->first_day) return one->first_day < two->first_day ? -1 : 1;
  if (one->kind != two->kind) return one->kind < two->kind ? -1 : 1;
  if (one->last_day != two->last_day) return one->last_day < two->last_day ? -1 : 1;
  return strcmp(one->tag, two->tag);
}

/* ---- days */

static int is_weekday(uint32_t weekdays, int64_t number) {
  return (weekdays & GIRDLE_WEEKDAY(girdle_date_weekday(number))) != 0;
}

/* The day `number`, made with all its evening and places when it is new. */
static int32_t find_day(planner *plan, int64_t number, evening **out) {
  uint64_t back = (uint64_t)(plan->last_day - number);
  if (back >= DAYS_BACK_MOST)
    return girdle_common_fail(plan->call, GIRDLE_LIMIT, "calendar", "the work needs more than %d days", DAYS_BACK_MOST);
  GIRDLE_TRY(girdle_common_grow(plan->call, &plan->memory, (void **)&plan->days, &plan->day_capacity, back + 1,
                                sizeof(evening)));
  for (; plan->day_count <= back; plan->day_count++) {
    int works = is_weekday(plan->rates->glue_weekdays, plan->last_day - (int64_t)plan->day_count);
    evening made = {works ? plan->now.evening_s * (double)plan->now.hands : 0, (int32_t)plan->now.places, 0};
    plan->days[plan->day_count] = made;
  }
  *out = &plan->days[back];
  return GIRDLE_OK;
}

static int64_t whole_days(double seconds) {
  return (int64_t)ceil(seconds / DAY_S);
}

/* ---- one costume */

/* Where the gluing of a costume that ends on a given evening would begin; or, when that evening or a place to lie flat
 * is taken, which earlier evening to try. */
typedef struct gluing {
  int64_t first_glue, end, retry;
  int fits;
} gluing;

static int32_t glue_evening(planner *plan, const girdle_task *task, int64_t number, double seconds, evening *day) {
  day->seconds_left -= seconds;
  return seconds > 0 ? note(plan, task->tag, GIRDLE_DAY_GLUE, number, number, seconds / 60) : GIRDLE_OK;
}

/* Walks back from the last day the costume lies flat, over the evenings of one side after the other. With `take` the
 * evenings and places are taken, else only looked at. */
static int32_t walk(planner *plan, const girdle_task *task, int take, gluing *stretch) {
  const int64_t dry = whole_days(plan->rates->dry_s);
  const double all_s = 60 * task->minutes * plan->now.share;
  const double last_s = girdle_work_last_side(all_s, task->sides, task->back_millionths);
  double left = last_s;
  int64_t pause = dry;
  stretch->fits = 0;
  for (int64_t number = stretch->end + dry, sides = task->sides;; number--) {
    evening *day = NULL;
    double used;
    GIRDLE_TRY(find_day(plan, number, &day));
    stretch->retry = number - dry - 1;
    if (day->places_left == 0) return GIRDLE_OK;
    day->places_left -= take;
    if (pause-- > 0) continue;
    used = fmin(left, day->seconds_left);
    stretch->retry = number - 1;
    if (number == stretch->end && used <= 0) return GIRDLE_OK;
    if (take) GIRDLE_TRY(glue_evening(plan, task, number, used, day));
    left -= used;
    if (left > 1e-6) continue;
    stretch->first_glue = number;
    if (--sides == 0) break;
    left = all_s - last_s;
    pause = dry;
    if (take) GIRDLE_TRY(note(plan, task->tag, GIRDLE_DAY_DRY, number - dry, number - 1, 0));
  }
  stretch->fits = 1;
  return GIRDLE_OK;
}

static int32_t glue_back(planner *plan, const girdle_task *task, gluing *stretch) {
  for (stretch->fits = 0; !stretch->fits; stretch->end = stretch->fits ? stretch->end : stretch->retry) {
    GIRDLE_TRY(girdle_common_tick(plan->call, 1, -1));
    GIRDLE_TRY(walk(plan, task, 0, stretch));
  }
  return walk(plan, task, 1, stretch);
}

static int64_t earlier(int64_t a, int64_t b) {
  return a < b ? a : b;
}

static int32_t plan_task(planner *plan, const girdle_task *task) {
  const girdle_work_rates *rates = plan->rates;
  const int64_t settle = whole_days(fmax(rates->cure_s, rates->dry_s));
  const int64_t in_hand = task->needed_by_day - rates->spare_days, try_on = in_hand - rates->try_on_days;
  gluing stretch = {.end = try_on - settle - 1};
  GIRDLE_TRY(note(plan, task->tag, GIRDLE_DAY_NEEDED, task->needed_by_day, task->needed_by_day, 0));
  GIRDLE_TRY(note(plan, task->tag, GIRDLE_DAY_IN_HAND, in_hand, task->needed_by_day - 1, 0));
  GIRDLE_TRY(note(plan, task->tag, GIRDLE_DAY_TRY_ON, try_on, in_hand - 1, 0));
  plan->ready_day = plan->ready_day > in_hand ? plan->ready_day : in_hand;
  if (!(task->minutes > 0)) return GIRDLE_OK;
  GIRDLE_TRY(glue_back(plan, task, &stretch));
  GIRDLE_TRY(note(plan, task->tag, GIRDLE_DAY_DRY, stretch.end + 1, stretch.end + settle, 0));
  GIRDLE_TRY(note(plan, task->tag, GIRDLE_DAY_ALTERATIONS, stretch.first_glue - rates->alteration_days,
                  stretch.first_glue - 1, 0));
  plan->first_glue = earlier(plan->first_glue, stretch.first_glue);
  plan->first_alteration = earlier(plan->first_alteration, stretch.first_glue - rates->alteration_days);
  return GIRDLE_OK;
}

/* ---- all costumes */

/* The day from which `days` days of post are over before `arrived`. */
static int64_t posted_by(const planner *plan, int64_t arrived, int64_t days) {
  int64_t number = arrived;
  for (; days > 0; days -= is_weekday(plan->rates->post_weekdays, number))
    number--;
  while (plan->now.delivery_days && !is_weekday(plan->rates->post_weekdays, number - 1))
    number--;
  return number - (plan->now.delivery_days > 0);
}

/* Swatch, delivery and order come once, before the first evening of all. */
static int32_t plan_order(planner *plan, girdle_calendar_sum *sum) {
  const int64_t swatch = plan->first_glue - plan->rates->swatch_days;
  GIRDLE_TRY(note(plan, "", GIRDLE_DAY_SWATCH, swatch, plan->first_glue - 1, 0));
  sum->order_by_day = posted_by(plan, swatch, plan->now.delivery_days);
  GIRDLE_TRY(note(plan, "", GIRDLE_DAY_DELIVERY, sum->order_by_day + 1, swatch - 1, 0));
  GIRDLE_TRY(note(plan, "", GIRDLE_DAY_ORDER, sum->order_by_day, sum->order_by_day, 0));
  sum->start_day = earlier(sum->order_by_day, plan->first_alteration);
  return GIRDLE_OK;
}

static int32_t plan_all(planner *plan, const terms *with, girdle_calendar_sum *sum) {
  plan->now = *with;
  plan->day_count = 0;
  plan->first_glue = plan->first_alteration = INT64_MAX;
  plan->ready_day = INT64_MIN;
  for (uint64_t i = 0; i < plan->options->task_count; i++)
    GIRDLE_TRY(plan_task(plan, plan->order[i]));
  memset(sum, 0, sizeof *sum);
  sum->order_by_day = sum->start_day = plan->last_day; /* with nothing to glue, nothing has to begin */
  if (plan->first_glue != INT64_MAX) GIRDLE_TRY(plan_order(plan, sum));
  sum->ready_day = plan->ready_day;
  sum->late_days = sum->start_day < plan->options->today ? plan->options->today - sum->start_day : 0;
  return GIRDLE_OK;
}

/* ---- alternatives */

static terms terms_as_given(const planner *plan) {
  terms given = {plan->rates->hands, plan->rates->places_to_dry, plan->options->delivery_days, plan->rates->evening_s,
                 1};
  return given;
}

/* The terms with alternative `kind` taken `steps` steps far. Returns its value, or -1 past the last step. */
static int64_t take_steps(const planner *plan, int32_t kind, int64_t steps, terms *out) {
  *out = terms_as_given(plan);
  switch (kind) {
    case GIRDLE_MORE_HANDS:
      return out->hands + steps > HANDS_MOST ? -1 : (out->hands += steps);
    case GIRDLE_FASTER_POST:
      return out->delivery_days < steps ? -1 : (out->delivery_days -= steps);
    case GIRDLE_LONGER_EVENINGS:
      out->evening_s += 900 * (double)steps;
      return out->evening_s > 2 * plan->rates->evening_s ? -1 : (int64_t)(out->evening_s / 60);
    case GIRDLE_MORE_PLACES:
      return steps > PLACES_MORE_MOST ? -1 : (out->places += steps);
    case GIRDLE_FEWER_STONES:
      out->share = 1 - (double)steps / 100;
      return steps > 90 ? -1 : steps;
    default: /* larger stones: s per cent larger across, (1 + s)^-2 as many */
      out->share = 1 / ((1 + (double)steps / 100) * (1 + (double)steps / 100));
      return steps > 200 ? -1 : steps;
  }
}

/* Goes as far with one alternative as is needed, or as far as it goes; what goes further but helps no more is left. */
static int32_t try_alternative(planner *plan, int32_t kind, const girdle_calendar_sum *as_it_is,
                               girdle_calendar *calendar) {
  girdle_alternative made = {kind, 0, -1, as_it_is->late_days};
  terms tried;
  for (int64_t steps = 1, value; made.late_days > 0 && (value = take_steps(plan, kind, steps, &tried)) >= 0; steps++) {
    girdle_calendar_sum with;
    GIRDLE_TRY(plan_all(plan, &tried, &with));
    if (with.late_days < made.late_days) made.value = value, made.late_days = with.late_days;
  }
  if (made.late_days < as_it_is->late_days) calendar->alternatives[calendar->alternative_count++] = made;
  return GIRDLE_OK;
}

/* Each alternative that helps at all, and with how many hands it can be met. */
static int32_t find_alternatives(planner *plan, girdle_calendar_sum *sum) {
  girdle_calendar *calendar = plan->calendar;
  sum->hands_needed = plan->rates->hands;
  if (sum->late_days == 0) return GIRDLE_OK;
  plan->calendar = NULL;
  sum->hands_needed = 0;
  for (int32_t kind = 0; kind < GIRDLE_ALTERNATIVE_END; kind++)
    GIRDLE_TRY(try_alternative(plan, kind, sum, calendar));
  plan->calendar = calendar;
  if (calendar->alternative_count && calendar->alternatives[0].kind == GIRDLE_MORE_HANDS &&
      calendar->alternatives[0].late_days == 0)
    sum->hands_needed = (int32_t)calendar->alternatives[0].value;
  return GIRDLE_OK;
}

/* ---- the calendar */

static int compare_tasks(const void *a, const void *b) {
  const girdle_task *one = *(const girdle_task *const *)a, *two = *(const girdle_task *const *)b;
  int by_tag = strcmp(two->tag, one->tag);
  if (one->needed_by_day != two->needed_by_day) return one->needed_by_day > two->needed_by_day ? -1 : 1;
  return by_tag ? by_tag : one < two ? -1 : one > two;
}

static int32_t check_task(girdle_call *call, const girdle_task *task) {
  GIRDLE_TRY(girdle_common_range(call, "needed_by_day", (double)task->needed_by_day, -4000000, 4000000, ""));
  GIRDLE_TRY(girdle_common_range(call, "minutes", task->minutes, 0, 1e9, "min"));
  GIRDLE_TRY(girdle_common_range(call, "back_millionths", task->back_millionths, 0, 999999, ""));
  return girdle_common_range(call, "sides", task->sides, 1, 2, "");
}

static int32_t list_tasks(planner *plan) {
  const girdle_calendar_options *options = plan->options;
  GIRDLE_TRY(girdle_common_range(plan->call, "today", (double)options->today, -4000000, 4000000, ""));
  GIRDLE_TRY(girdle_common_range(plan->call, "delivery_days", options->delivery_days, 0, 366, "days"));
  GIRDLE_TRY(girdle_common_range(plan->call, "tasks", (double)options->task_count, 1, TASKS_MOST, ""));
  plan->order = girdle_common_new(plan->call, options->task_count * sizeof(girdle_task *));
  if (!plan->order) return GIRDLE_MEMORY;
  for (uint64_t i = 0; i < options->task_count; i++) {
    GIRDLE_TRY(check_task(plan->call, &options->tasks[i]));
    plan->order[i] = &options->tasks[i];
  }
  girdle_sort(plan->order, options->task_count, sizeof(girdle_task *), compare_tasks);
  plan->last_day = plan->order[0]->needed_by_day;
  return GIRDLE_OK;
}

static int32_t make(planner *plan) {
  girdle_calendar *calendar = plan->calendar;
  terms given;
  GIRDLE_TRY(list_tasks(plan));
  given = terms_as_given(plan);
  GIRDLE_TRY(plan_all(plan, &given, &calendar->sum));
  GIRDLE_TRY(find_alternatives(plan, &calendar->sum));
  girdle_sort(calendar->events, calendar->count, sizeof(girdle_event), compare_events);
  return GIRDLE_OK;
}

void girdle_calendar_options_init(girdle_calendar_options *options, uint32_t struct_bytes) {
  memset(options, 0, struct_bytes);
  options->struct_bytes = struct_bytes;
}

int32_t girdle_calendar_plan(girdle_call *call, const girdle_work_rates *rates, const girdle_calendar_options *options,
                             girdle_calendar **out) {
  GIRDLE_GIVEN(call, options, out);
  girdle_work_rates own;
  girdle_calendar_options given = {0};
  planner plan = {.call = call, .memory = girdle_common_memory(call), .rates = &own, .options = &given};
  int32_t status;
  girdle_common_options(&given, sizeof given, options);
  GIRDLE_TRY(girdle_work_read_rates(call, rates, &own));
  plan.calendar = girdle_common_new(call, sizeof *plan.calendar);
  if (!plan.calendar) return GIRDLE_MEMORY;
  *out = plan.calendar;
  plan.calendar->memory = plan.memory;
  status = make(&plan);
  girdle_common_release(&plan.memory, plan.order, given.task_count * sizeof(girdle_task *));
  girdle_common_release(&plan.memory, plan.days, plan.day_capacity * sizeof(evening));
  if (!status) return GIRDLE_OK;
  girdle_calendar_free(*out);
  *out = NULL;
  return status;
}

void girdle_calendar_free(girdle_calendar *calendar) {
  girdle_allocator memory;
  if (!calendar) return;
  memory = calendar->memory;
  girdle_common_release(&memory, calendar->events, calendar->capacity * sizeof(girdle_event));
  girdle_common_release(&memory, calendar, sizeof *calendar);
}

const girdle_event *girdle_calendar_events(const girdle_calendar *calendar, uint64_t *count) {
  *count = calendar->count;
  return calendar->events;
}

void girdle_calendar_total(const girdle_calendar *calendar, girdle_calendar_sum *out) {
  *out = calendar->sum;
}

const girdle_alternative *girdle_calendar_alternatives(const girdle_calendar *calendar, uint64_t *count) {
  *count = calendar->alternative_count;
  return calendar->alternatives;
}

const char *girdle_alternative_text(int32_t kind) {
  static const char *const texts[GIRDLE_ALTERNATIVE_END] = {
      "more hands", "faster post", "longer evenings", "more places to lie flat", "fewer stones", "larger stones"};
  return kind >= 0 && kind < GIRDLE_ALTERNATIVE_END ? texts[kind] : "unknown";
}

const char *girdle_day_text(int32_t kind) {
  static const char *const texts[GIRDLE_DAY_END] = {"order", "delivery", "alterations", "swatch", "glue",
                                                    "dry",   "try-on",   "in hand",     "needed"};
  return kind >= 0 && kind < GIRDLE_DAY_END ? texts[kind] : "unknown";
}
