/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_COMMAND_LINES_H
#define GIRDLE_COMMAND_LINES_H

#include <jansson.h>

#include "command.h"

/* What the jobs of a stream share: the folder's costumes, and its tables as they were read. */
typedef struct line_folder {
  wardrobe costumes;
  buffer tables[GIRDLE_FILE_END];
} line_folder;

/* A line under way: what must live until its answer is written. */
typedef struct job_line {
  uint64_t number;
  json_t *asked;
  girdle_club *club; /* owns the job */
  girdle_job *job;
  girdle_given *given;
  uint64_t given_count;
  girdle_zone_row *rows;
  uint64_t row_count;
  const costume *of;
  char name[64];
  girdle_error error; /* status other than 0: it is answered with this */
} job_line;

/* Makes a job of a line's JSON. On an error what was made so far is still the line's, for line_forget. */
int32_t line_read(program *with, const line_folder *in, job_line *to, const char *text, uint64_t bytes);
void line_forget(job_line *of);
/* Whether the line asks for something: "places", "cost". */
int line_wants(const job_line *of, const char *name);

#endif
