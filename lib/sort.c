/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "sort_internal.h"

#include <string.h>

typedef struct pile {
  char *items;
  uint64_t bytes;
  int (*compare)(const void *a, const void *b);
} pile;

static void swap(const pile *heap, uint64_t a, uint64_t b) {
  char kept[64], *one = heap->items + a * heap->bytes, *two = heap->items + b * heap->bytes;
  for (uint64_t done = 0, part; done < heap->bytes; done += part) {
    part = heap->bytes - done < sizeof kept ? heap->bytes - done : sizeof kept;
    memcpy(kept, one + done, part);
    memcpy(one + done, two + done, part);
    memcpy(two + done, kept, part);
  }
}

static int before(const pile *heap, uint64_t a, uint64_t b) {
  return heap->compare(heap->items + a * heap->bytes, heap->items + b * heap->bytes) < 0;
}

/* Lets the item at `at` sink until none of those below it, up to `end`, comes after it. */
static void sink(const pile *heap, uint64_t at, uint64_t end) {
  for (uint64_t below = 2 * at + 1; below < end; below = 2 * at + 1) {
    if (below + 1 < end && before(heap, below, below + 1)) below++;
    if (!before(heap, at, below)) return;
    swap(heap, at, below);
    at = below;
  }
}

void girdle_sort(void *items, uint64_t count, uint64_t item_bytes, int (*compare)(const void *a, const void *b)) {
  pile heap = {items, item_bytes, compare};
  for (uint64_t i = count / 2; i-- > 0;)
    sink(&heap, i, count);
  for (uint64_t end = count; end-- > 1;) {
    swap(&heap, 0, end);
    sink(&heap, 0, end);
  }
}
