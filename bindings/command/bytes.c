/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "bytes.h"

#include <string.h>

/* ---- writing */

void bytes_put_number(buffer *to, uint64_t number) {
  buffer_add(to, &number, sizeof number);
}

void bytes_put_bytes(buffer *to, const void *bytes, uint64_t count) {
  bytes_put_number(to, count);
  buffer_add(to, bytes, count);
}

void bytes_put_text(buffer *to, const char *text) {
  bytes_put_bytes(to, text, strlen(text) + 1);
}

/* ---- reading */

const char *bytes_take(bytes_reader *from, uint64_t count) {
  const char *bytes = from->at;
  if (from->unsound || count > from->left) {
    from->unsound = 1;
    return NULL;
  }
  from->at += count;
  from->left -= count;
  return bytes;
}

int bytes_take_into(bytes_reader *from, void *into, uint64_t count) {
  const char *bytes = bytes_take(from, count);
  if (bytes)
    memcpy(into, bytes, (size_t)count);
  else
    memset(into, 0, (size_t)count);
  return bytes != NULL;
}

uint64_t bytes_take_number(bytes_reader *from) {
  uint64_t number = 0;
  bytes_take_into(from, &number, sizeof number);
  return number;
}

/* How many items of a size follow; unsound when they cannot all be there. */
uint64_t bytes_take_count(bytes_reader *from, uint64_t item_bytes) {
  uint64_t count = bytes_take_number(from);
  if (count > from->left / item_bytes) from->unsound = 1;
  return from->unsound ? 0 : count;
}

/* A text with its NUL inside the message; "" when unsound. */
const char *bytes_take_text(bytes_reader *from) {
  uint64_t count = bytes_take_number(from);
  const char *text = count ? bytes_take(from, count) : NULL;
  if (text && memchr(text, 0, (size_t)count) == text + count - 1) return text;
  from->unsound = 1;
  return "";
}
