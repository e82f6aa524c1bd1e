/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef COMMAND_ASKING_H
#define COMMAND_ASKING_H

/* asking: one question and its answer, from the keyboard or one a line from a file. At a keyboard an answer that cannot
 * be read is asked for again and "?" explains once more; in a file it ends the work, and lines that begin with "#" are
 * passed over. */

#include <stdio.h>

#include "command.h"

typedef struct asking {
  program *with;
  FILE *from;
  const char *from_name;
  int line, at_keyboard;
  char answer[256];           /* to the last question; "" when it was left empty and has no fallback */
  const char *const *choices; /* what ask_choice and ask_list take */
  uint64_t choice_count;
} asking;

int32_t asking_begin(asking *in, program *with); /* from the first FILE, or standard input */
void asking_end(asking *in);

/* Whether an answer can be used; the call's error says why not. */
typedef int32_t checker(asking *in);
checker check_stone, check_length, check_gap, check_ten_cm, check_stretches, check_by_eye;

int32_t ask(asking *in, const char *question, const char *explained, const char *fallback, checker *check);
/* One of some words, or several of them with commas between. */
int32_t ask_choice(asking *in, const char *question, const char *explained, const char *fallback,
                   const char *const *choices, uint64_t count);
int32_t ask_list(asking *in, const char *question, const char *explained, const char *const *choices, uint64_t count);
/* Whether a list of words has a word. */
int list_has(const char *list, const char *word);

#endif
