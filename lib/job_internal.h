/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_JOB_INTERNAL_H
#define GIRDLE_JOB_INTERNAL_H

/* What the files of job share. */

#include "girdle/job.h"

/* A growing array; the owner's allocator. */
typedef struct girdle_job_list {
  void *items;
  uint64_t count, capacity;
} girdle_job_list;

int32_t girdle_job_append(girdle_call *call, const girdle_allocator *memory, girdle_job_list *list, const void *item,
                          uint64_t item_bytes);
void girdle_job_release(const girdle_allocator *memory, girdle_job_list *list, uint64_t item_bytes);

enum { GIRDLE_RATE_MONEY_MOST = 16 };

typedef struct girdle_size_measure {
  char size[16];
  girdle_measure measure;
} girdle_size_measure;

struct girdle_club {
  girdle_allocator memory;
  girdle_job_list jobs;   /* girdle_job * */
  girdle_job_list by_tag; /* uint64_t, the jobs' numbers in order of tag */
  girdle_job_list sizes;  /* girdle_size_measure */
  girdle_job_list prices, suppliers, stock, log;
  girdle_job_list weighings; /* girdle_weighing */
  girdle_work_rates work;
  girdle_quote_rates quote;
  double lost_share, prior_jobs;
  int64_t kit_pieces;
  int32_t split, currency_known;
  char money[GIRDLE_RATE_MONEY_MOST][40]; /* sums of money as they were written, for when the currency comes later */
};

/* The job's own zones, to be changed. */
girdle_zone *girdle_job_own_zones(girdle_job *job, uint64_t *count);
/* What an order of the club starts from. */
void girdle_job_order_options(const girdle_club *club, const girdle_learned *learned, girdle_order_options *out);
/* What the club's log says, and the rates at its pace. Without a log: its own. */
int32_t girdle_job_learn(girdle_call *call, const girdle_club *club, girdle_learned *learned, girdle_work_rates *rates);
/* The rates of a new club. */
void girdle_job_rates_init(girdle_club *club);
/* Takes a currency for all money of the club; GIRDLE_ARGUMENT when another is known already. */
int32_t girdle_job_take_currency(girdle_call *call, girdle_club *club, const girdle_currency *currency);

#endif
