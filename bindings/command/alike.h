/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef COMMAND_ALIKE_H
#define COMMAND_ALIKE_H

/* alike: what a zone keeps over the sizes of a club: a count, found by halving each wearer's gap, or a picture. */

#include "command.h"

typedef struct alike_wearer {
  girdle_job *job; /* the club's, for its head and measures */
  const costume *of;
  girdle_zone_row row; /* the zone as it is written */
  girdle_job *trial;
  int64_t written, count, low_um, high_um, gap_um; /* gap_um: what gives count; low_um gives too many */
  int done;
} alike_wearer;

typedef struct alike_search {
  program *with;
  alike_wearer *wearers;
  uint64_t count;
  int64_t wanted;
  int as_written; /* the first round: no gap but the written one */
} alike_search;

/* The row of a zone that a recipe works; NULL when the costume's table has none of that name. */
const girdle_zone_row *alike_row(const costume *of, const char *zone);
void alike_add(alike_search *to, girdle_job *job, const costume *of, const girdle_zone_row *row);
/* Counts as written; the least of those is wanted when nothing is yet. */
int32_t alike_count(alike_search *in);
/* Finds each wearer's gap for the count that is wanted. */
int32_t alike_find(alike_search *in);
void alike_free(alike_search *of);

/* Whether two costumes are to look alike: the same costume in the same routine. */
int alike_same_look(const girdle_job *a, const girdle_job *b);
/* Whether a costume has a zone that may keep its count or picture over the sizes. */
int alike_is_kept(const costume *of);
/* Keeps counts and pictures over all jobs of a club that were worked. */
int32_t alike_keep(program *with, const girdle_club *club, const wardrobe *costumes);

#endif
