/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "shape_build_internal.h"

typedef struct heap {
  char *items;
  size_t bytes;
  int (*earlier)(const void *a, const void *b);
} heap;

static char *item(const heap *h, uint64_t index) {
  return h->items + index * h->bytes;
}

static void sift(const heap *h, uint64_t root, uint64_t count) {
  char held[64];
  memcpy(held, item(h, root), h->bytes);
  for (uint64_t child; (child = 2 * root + 1) < count; root = child) {
    if (child + 1 < count && h->earlier(item(h, child), item(h, child + 1))) child++;
    if (!h->earlier(held, item(h, child))) break;
    memcpy(item(h, root), item(h, child), h->bytes);
  }
  memcpy(item(h, root), held, h->bytes);
}

void girdle_shape_sort(void *items, uint64_t count, size_t bytes, int (*earlier)(const void *a, const void *b)) {
  heap h = {items, bytes, earlier};
  char held[64];
  for (uint64_t i = count / 2; i-- > 0;)
    sift(&h, i, count);
  for (uint64_t last = count; last-- > 1;) {
    memcpy(held, item(&h, 0), bytes);
    memcpy(item(&h, 0), item(&h, last), bytes);
    memcpy(item(&h, last), held, bytes);
    sift(&h, 0, last);
  }
}
