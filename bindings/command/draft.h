/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef COMMAND_DRAFT_H
#define COMMAND_DRAFT_H

/* draft: a costume's zones as a plan sees them: how many stones each can have at most, in which order of kinds. */

#include "planned.h"

enum { LIGHT, MEDIUM, FULL, RICHNESSES };

typedef struct rich {
  int64_t *counts; /* of each zone */
  girdle_plan_sum sum;
} rich;

/* A line of the plan: one half of a pair has half of what its zone is given. */
typedef struct draft_row {
  const char *name, *side;
  uint64_t zone;
  int64_t parts;
  const girdle_zone *of;
} draft_row;

typedef struct draft {
  draft_row *rows;
  uint64_t row_count, last_placed; /* the row of the zone that was placed last */
  girdle_plan_zone *zones;
  planned_zone *planned; /* of each zone; of stones set by eye nothing */
  int64_t *counts;
  uint64_t count;
  int *is_edge, *is_by_eye;
  rich by[RICHNESSES];
} draft;

/* Views the job, which must stay. */
void draft_of(const girdle_job *job, draft *out);
void draft_free(draft *of);
/* How many each of the pieces of a zone has, which are alike. */
int64_t draft_each(const draft *of, uint64_t zone);
/* Fills in draft.planned from the counts. */
void draft_plan(draft *of);
/* The zones that are ranked and the edges are planned from the drawer first; the areas then mix the kinds of one size
 * as what is left has them. */
int32_t draft_follow_drawer(program *with, const girdle_club *club, draft *of);

#endif
