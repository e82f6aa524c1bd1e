/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "job_internal.h"
#include "work_internal.h"

/* What a job takes of the order. */
typedef struct job_share {
  int64_t stones, unpriced, materials_minor, shipping_minor;
} job_share;

struct girdle_reckoning {
  girdle_allocator memory;
  int64_t today;           /* the quotes are of this day */
  girdle_learned learned;  /* jobs 0 without a log */
  girdle_work_rates rates; /* at the learned pace */
  uint64_t jobs;
  girdle_tally **tallies; /* one a job */
  girdle_tally *tally;    /* of all jobs */
  girdle_order *order;
  girdle_work *works;
  girdle_quote *quotes;
  girdle_calendar *calendar;
};

void girdle_reckoning_free(girdle_reckoning *reckoning) {
  girdle_allocator memory;
  uint64_t jobs;
  if (!reckoning) return;
  memory = reckoning->memory;
  jobs = reckoning->jobs;
  for (uint64_t i = 0; reckoning->tallies && i < jobs; i++)
    girdle_tally_free(reckoning->tallies[i]);
  girdle_tally_free(reckoning->tally);
  girdle_order_free(reckoning->order);
  girdle_calendar_free(reckoning->calendar);
  girdle_common_release(&memory, reckoning->tallies, (jobs + 1) * sizeof *reckoning->tallies);
  girdle_common_release(&memory, reckoning->works, (jobs + 1) * sizeof *reckoning->works);
  girdle_common_release(&memory, reckoning->quotes, (jobs + 1) * sizeof *reckoning->quotes);
  girdle_common_release(&memory, reckoning, sizeof *reckoning);
}

static girdle_reckoning *new_reckoning(girdle_call *call, uint64_t jobs, int64_t today) {
  girdle_reckoning *reckoning = girdle_common_new(call, sizeof *reckoning);
  if (!reckoning) return NULL;
  reckoning->memory = girdle_common_memory(call);
  reckoning->jobs = jobs;
  reckoning->today = today;
  reckoning->tallies = girdle_common_new(call, (jobs + 1) * sizeof *reckoning->tallies);
  if (reckoning->tallies) reckoning->works = girdle_common_new(call, (jobs + 1) * sizeof *reckoning->works);
  if (reckoning->works) reckoning->quotes = girdle_common_new(call, (jobs + 1) * sizeof *reckoning->quotes);
  if (reckoning->quotes) return reckoning;
  girdle_reckoning_free(reckoning);
  return NULL;
}

/* ---- counting */

static int32_t count_all(girdle_call *call, const girdle_club *club, girdle_reckoning *r) {
  GIRDLE_TRY(girdle_tally_new(call, &r->tally));
  for (uint64_t i = 0; i < r->jobs; i++) {
    GIRDLE_TRY(girdle_job_tally(call, girdle_club_job(club, i), &r->tallies[i]));
    GIRDLE_TRY(girdle_tally_add_all(call, r->tally, r->tallies[i]));
    GIRDLE_TRY(girdle_common_tick(call, 1, (double)i / (double)r->jobs));
  }
  return GIRDLE_OK;
}

/* ---- the log */

static int zone_is_new(const girdle_log_row *rows, uint64_t at) {
  for (uint64_t i = at; i-- > 0;)
    if (strcmp(rows[i].tag, rows[at].tag) == 0 && strcmp(rows[i].zone, rows[at].zone) == 0) return 0;
  return 1;
}

/* What the rates alone would give a row of the log; one that names no stone is taken for small stones. */
static double modelled_seconds(const girdle_club *club, uint64_t at) {
  const girdle_log_row *rows = club->log.items, *row = &rows[at];
  const int64_t pieces = row->used >= 0 ? row->used : row->planned;
  return (double)pieces * girdle_work_seconds(&club->work, &row->stone) +
         (zone_is_new(rows, at) ? club->work.zone_s : club->work.change_s);
}

/* How much longer than by the rates alone the jobs of the log took, drawn towards them while jobs are few. It is the
 * log's alone, so that every costume is worked at one pace, whatever else is reckoned beside it. */
static int32_t pace_factor(girdle_call *call, const girdle_club *club, const girdle_learned *learned, double *out) {
  const girdle_log_row *rows = club->log.items;
  const double jobs = (double)learned->jobs, trust = jobs / (jobs + club->prior_jobs);
  double spent = 0, modelled = 0;
  *out = 1;
  if (!(jobs > 0)) return GIRDLE_OK;
  for (uint64_t i = 0; i < club->log.count; i++) {
    GIRDLE_TRY(girdle_common_tick(call, i + 1, -1));
    if (isnan(rows[i].minutes) || (rows[i].used < 0 && rows[i].planned < 0)) continue;
    spent += 60 * rows[i].minutes;
    modelled += modelled_seconds(club, i);
  }
  if (spent > 0 && modelled > 0) *out = 1 + trust * (fmin(fmax(spent / modelled, 0.1), 10) - 1);
  return GIRDLE_OK;
}

int32_t girdle_job_learn(girdle_call *call, const girdle_club *club, girdle_learned *learned,
                         girdle_work_rates *rates) {
  double factor;
  memset(learned, 0, sizeof *learned);
  *rates = club->work;
  learned->lost_share = club->lost_share;
  if (club->log.count == 0) return GIRDLE_OK;
  GIRDLE_TRY(girdle_learn(call, club->log.items, club->log.count, club->lost_share, club->prior_jobs, learned));
  GIRDLE_TRY(girdle_work_read_rates(call, &club->work, rates));
  GIRDLE_TRY(pace_factor(call, club, learned, &factor));
  rates->small_s *= factor;
  rates->large_s *= factor;
  rates->sewn_s *= factor;
  rates->change_s *= factor;
  rates->zone_s *= factor;
  return GIRDLE_OK;
}

/* ---- the order */

void girdle_job_order_options(const girdle_club *club, const girdle_learned *learned, girdle_order_options *out) {
  girdle_order_options_init(out, sizeof *out);
  out->lost_share = learned->lost_share;
  out->learned_jobs = learned->jobs;
  out->kit_pieces = club->kit_pieces;
  if (club->split) out->flags |= GIRDLE_ORDER_SPLIT;
  out->prices = girdle_club_prices(club, &out->price_count);
  out->suppliers = girdle_club_suppliers(club, &out->supplier_count);
  out->stock = girdle_club_stock(club, &out->stock_count);
}

static int32_t plan_order(girdle_call *call, const girdle_club *club, girdle_reckoning *r) {
  girdle_order_options options;
  if (club->prices.count == 0) return GIRDLE_OK;
  girdle_job_order_options(club, &r->learned, &options);
  return girdle_order_plan(call, r->tally, &options, &r->order);
}

/* ---- each job's share of it */

static int64_t pieces_of(const girdle_tally *tally, const girdle_stone *stone) {
  uint64_t count;
  int64_t pieces = 0;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &count);
  for (uint64_t i = 0; i < count; i++)
    if (girdle_stone_equal(&lines[i].stone, stone)) pieces += lines[i].count;
  return pieces;
}

/* A stone's packs are paid by those who wear it, by their pieces. */
static int32_t share_stone(girdle_call *call, const girdle_reckoning *r, const girdle_order_stone *stone,
                           int64_t *weights, int64_t *parts, job_share *shares) {
  for (uint64_t i = 0; i < r->jobs; i++) {
    weights[i] = pieces_of(r->tallies[i], &stone->stone);
    if (stone->unpriced) shares[i].unpriced += weights[i];
  }
  if (stone->cost_minor == 0) return GIRDLE_OK;
  GIRDLE_TRY(girdle_money_split(call, stone->cost_minor, weights, r->jobs, parts));
  for (uint64_t i = 0; i < r->jobs; i++)
    shares[i].materials_minor += parts[i];
  return girdle_common_tick(call, r->jobs, -1);
}

/* Shipping goes by materials; when all was given away, everyone pays alike. */
static int32_t share_shipping(girdle_call *call, const girdle_reckoning *r, int64_t *weights, int64_t *parts,
                              job_share *shares) {
  girdle_order_total total;
  int64_t sum = 0;
  girdle_order_sum(r->order, &total);
  if (total.shipping_minor == 0) return GIRDLE_OK;
  for (uint64_t i = 0; i < r->jobs; i++)
    sum += weights[i] = shares[i].materials_minor;
  for (uint64_t i = 0; i < r->jobs && sum == 0; i++)
    weights[i] = 1;
  GIRDLE_TRY(girdle_money_split(call, total.shipping_minor, weights, r->jobs, parts));
  for (uint64_t i = 0; i < r->jobs; i++)
    shares[i].shipping_minor = parts[i];
  return GIRDLE_OK;
}

static int32_t share_order(girdle_call *call, const girdle_reckoning *r, int64_t *room, job_share *shares) {
  uint64_t count;
  const girdle_order_stone *stones = girdle_order_stones(r->order, &count);
  for (uint64_t i = 0; i < count; i++)
    GIRDLE_TRY(share_stone(call, r, &stones[i], room, room + r->jobs, shares));
  return share_shipping(call, r, room, room + r->jobs, shares);
}

/* ---- work and quotes */

static int32_t quote_job(girdle_call *call, const girdle_club *club, girdle_reckoning *r, uint64_t job,
                         const job_share *share) {
  const girdle_job_head *head = girdle_job_head_of(girdle_club_job(club, job));
  girdle_quote_input input;
  GIRDLE_TRY(girdle_work_estimate(call, r->tallies[job], &r->rates, &r->works[job]));
  girdle_quote_input_init(&input, sizeof input);
  input.stones = share->stones;
  input.materials_minor = share->materials_minor;
  input.shipping_minor = share->shipping_minor;
  input.unpriced = share->unpriced;
  input.work = &r->works[job];
  input.quoted_day = r->today;
  input.own_stones = head->own_stones;
  input.extra_stones = head->extra_stones;
  input.rush = head->rush;
  return girdle_quote_make(call, &input, &club->quote, &r->quotes[job]);
}

static int32_t quote_jobs(girdle_call *call, const girdle_club *club, girdle_reckoning *r, int64_t *room,
                          job_share *shares) {
  for (uint64_t i = 0; i < r->jobs; i++) {
    girdle_tally_line total;
    girdle_tally_total(r->tallies[i], &total);
    shares[i].stones = total.count;
    if (!r->order) shares[i].unpriced = total.count;
  }
  if (r->order && r->jobs) GIRDLE_TRY(share_order(call, r, room, shares));
  for (uint64_t i = 0; i < r->jobs; i++)
    GIRDLE_TRY(quote_job(call, club, r, i, &shares[i]));
  return GIRDLE_OK;
}

static int32_t quote_all(girdle_call *call, const girdle_club *club, girdle_reckoning *r) {
  girdle_allocator memory = girdle_common_memory(call);
  uint64_t shares_bytes = (r->jobs + 1) * sizeof(job_share), room_bytes = (2 * r->jobs + 1) * sizeof(int64_t);
  job_share *shares = girdle_common_new(call, shares_bytes);
  int64_t *room = shares ? girdle_common_new(call, room_bytes) : NULL;
  int32_t status = room ? quote_jobs(call, club, r, room, shares) : GIRDLE_MEMORY;
  girdle_common_release(&memory, room, room_bytes);
  girdle_common_release(&memory, shares, shares_bytes);
  return status;
}

/* ---- the calendar */

static int32_t slowest_days(const girdle_order *order) {
  uint64_t count = 0;
  int32_t days = 0;
  const girdle_order_supplier *used = order ? girdle_order_suppliers(order, &count) : NULL;
  for (uint64_t i = 0; i < count; i++)
    if (used[i].delivery_days > days) days = used[i].delivery_days;
  return days;
}

/* A year that was mistyped is told by its tag. */
static int32_t check_day(girdle_call *call, const girdle_job_head *head, int64_t today) {
  enum { DAYS_MOST = 36500 };
  char day[16], now[16];
  double away = (double)head->needed_by_day - (double)today;
  if (fabs(away) <= DAYS_MOST) return GIRDLE_OK;
  girdle_date_text(head->needed_by_day, day, sizeof day);
  girdle_date_text(today, now, sizeof now);
  girdle_common_fail(call, GIRDLE_ARGUMENT, "needed_by",
                     "tag '%s': needed_by %s is more than %d days from %s, the day it is reckoned from", head->tag, day,
                     DAYS_MOST, now);
  if (call && call->error) {
    call->error->value = away;
    call->error->least = -DAYS_MOST;
    call->error->most = DAYS_MOST;
  }
  return GIRDLE_ARGUMENT;
}

static int32_t check_days(girdle_call *call, const girdle_club *club, int64_t today) {
  for (uint64_t i = 0; i < club->jobs.count; i++) {
    const girdle_job_head *head = girdle_job_head_of(girdle_club_job(club, i));
    if (head->needed_by_day != INT64_MIN) GIRDLE_TRY(check_day(call, head, today));
  }
  return GIRDLE_OK;
}

static uint64_t set_tasks(const girdle_club *club, const girdle_reckoning *r, girdle_task *tasks) {
  uint64_t count = 0;
  for (uint64_t i = 0; i < r->jobs; i++) {
    const girdle_job_head *head = girdle_job_head_of(girdle_club_job(club, i));
    if (head->needed_by_day == INT64_MIN) continue;
    memcpy(tasks[count].tag, head->tag, sizeof tasks[count].tag);
    tasks[count].needed_by_day = head->needed_by_day;
    tasks[count].minutes = r->works[i].minutes;
    tasks[count].back_millionths = r->works[i].back_millionths;
    tasks[count++].sides = r->works[i].sides;
  }
  return count;
}

static int32_t plan_days(girdle_call *call, const girdle_club *club, int64_t today, girdle_reckoning *r) {
  girdle_allocator memory = girdle_common_memory(call);
  uint64_t bytes = (r->jobs + 1) * sizeof(girdle_task);
  girdle_task *tasks = girdle_common_new(call, bytes);
  girdle_calendar_options options;
  int32_t status = GIRDLE_OK;
  if (!tasks) return GIRDLE_MEMORY;
  girdle_calendar_options_init(&options, sizeof options);
  options.today = today;
  options.delivery_days = slowest_days(r->order);
  options.tasks = tasks;
  options.task_count = set_tasks(club, r, tasks);
  if (options.task_count) status = girdle_calendar_plan(call, &r->rates, &options, &r->calendar);
  girdle_common_release(&memory, tasks, bytes);
  return status;
}

/* ---- all */

int32_t girdle_club_reckon(girdle_call *call, const girdle_club *club, int64_t today, girdle_reckoning **out) {
  GIRDLE_GIVEN(call, club, out);
  girdle_reckoning *r;
  int32_t status;
  GIRDLE_TRY(check_days(call, club, today));
  r = new_reckoning(call, club->jobs.count, today);
  status = r ? count_all(call, club, r) : GIRDLE_MEMORY;
  if (!status) status = girdle_job_learn(call, club, &r->learned, &r->rates);
  if (!status) status = plan_order(call, club, r);
  if (!status) status = quote_all(call, club, r);
  if (!status) status = plan_days(call, club, today, r);
  if (status)
    girdle_reckoning_free(r);
  else
    *out = r;
  return status;
}

int64_t girdle_reckoning_today(const girdle_reckoning *reckoning) {
  return reckoning->today;
}

const girdle_tally *girdle_reckoning_tally(const girdle_reckoning *reckoning) {
  return reckoning->tally;
}

const girdle_learned *girdle_reckoning_learned(const girdle_reckoning *reckoning) {
  return &reckoning->learned;
}

const girdle_work_rates *girdle_reckoning_rates(const girdle_reckoning *reckoning) {
  return &reckoning->rates;
}

const girdle_order *girdle_reckoning_order(const girdle_reckoning *reckoning) {
  return reckoning->order;
}

const girdle_work *girdle_reckoning_work(const girdle_reckoning *reckoning, uint64_t job) {
  return job < reckoning->jobs ? &reckoning->works[job] : NULL;
}

const girdle_quote *girdle_reckoning_quote(const girdle_reckoning *reckoning, uint64_t job) {
  return job < reckoning->jobs ? &reckoning->quotes[job] : NULL;
}

const girdle_calendar *girdle_reckoning_calendar(const girdle_reckoning *reckoning) {
  return reckoning->calendar;
}
