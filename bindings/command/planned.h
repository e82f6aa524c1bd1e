/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef COMMAND_PLANNED_H
#define COMMAND_PLANNED_H

/* planned: what a plan's numbers mean on the costume: the widest gap at which each zone still holds its stones, and a
 * table of zones that gives just those. */

#include "command.h"

/* A zone as it is planned: so many of each kind on each of its pieces. */
typedef struct planned_zone {
  const char *name, *side; /* of a pair "pair"; the name NULL: nothing is placed, as stones are set by eye */
  const girdle_stone *kinds;
  int64_t *pieces;
  uint64_t kind_count;
  int64_t each; /* all of them together */
  const girdle_zone *as_written;
  /* what is found */
  double gap_mm;               /* NaN: not known */
  int64_t rows, left_out;      /* of the layout at that gap; rows 0: in no rows */
  int is_about, is_as_written; /* the gap by arithmetic alone; the zone's layout has no gap to change */
} planned_zone;

typedef struct planned_row planned_row;
typedef struct planned {
  program *with;
  const girdle_job *job;
  costume of;
  planned_zone *zones;
  uint64_t zone_count;
  planned_row *rows; /* of the costume's table */
  uint64_t row_count;
} planned;

/* Finds the gaps of all zones. `zones` and what they point at stay the caller's. */
int32_t planned_find(planned *in, const char *file);
/* Stones set by eye, `zone` and its side, are planned as so many pieces: for the table. */
typedef struct planned_eye {
  const char *name, *side;
  const girdle_stone *stone;
  int64_t each;
} planned_eye;
/* Adds a table of zones, and what lies beside the costume, to the outputs. */
int32_t planned_write(planned *in, const planned_eye *eyes, uint64_t eye_count);
void planned_free(planned *of);

#endif
