/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_COMMAND_BYTES_H
#define GIRDLE_COMMAND_BYTES_H

#include "command.h"

/* What messages are made of: plain structs, and texts and lists led by their length, as both sides are one program. A
 * reader that meets what cannot be there becomes unsound and gives nothing more: zeros, empty texts, no items. */

void bytes_put_number(buffer *to, uint64_t number);
void bytes_put_bytes(buffer *to, const void *bytes, uint64_t count);
void bytes_put_text(buffer *to, const char *text);

typedef struct bytes_reader {
  const char *at;
  uint64_t left;
  int unsound;
} bytes_reader;

const char *bytes_take(bytes_reader *from, uint64_t count); /* NULL when there are not so many */
int bytes_take_into(bytes_reader *from, void *into, uint64_t count);
uint64_t bytes_take_number(bytes_reader *from);
/* How many items of a size follow; unsound when they cannot all be there. */
uint64_t bytes_take_count(bytes_reader *from, uint64_t item_bytes);
const char *bytes_take_text(bytes_reader *from); /* inside the message; "" when unsound */

#endif
