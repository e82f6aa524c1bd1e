/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_COMMAND_LEARN_H
#define GIRDLE_COMMAND_LEARN_H

/* What one job adds to a club's log and stock: read from a filled card (learn_card.c), written into the club's folder
 * (learn_write.c). */

#include "command.h"

/* What is left of a stone, of so many that were in stock. */
typedef struct leftover {
  girdle_stone stone;
  char name[192], lot[32]; /* the stone as the card writes it */
  int64_t had, bought, left;
} leftover;

typedef struct lesson {
  girdle_log_row *rows;
  char (*stones)[192]; /* of each row, as the card writes it; "" none */
  leftover *leftovers;
  uint64_t row_count, leftover_count;
} lesson;

/* Reads the card of the command line, or what is remembered of an old job; empty when neither is given. `evening_s` is
 * how long an evening is, of all hands together. */
int32_t lesson_read(program *with, double evening_s, lesson *out);
void lesson_free(lesson *of);
/* Appends the rows to log.csv and puts what is left back into stock.csv, whole or not at all. What stands there already
 * is not written twice: a run that was cut off can be repeated. */
int32_t lesson_write(program *with, const char *club_path, const lesson *of);

#endif
