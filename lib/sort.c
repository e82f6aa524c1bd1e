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
  char *one = heap->items + a * heap->bytes, *two = heap->items + b * heap->bytes;
  uint64_t kept, other, done = 0;
  for (; done + sizeof kept <= heap->bytes; done += sizeof kept) {
    memcpy(&kept, one + done, sizeof kept);
    memcpy(&other, two + done, sizeof kept);
    memcpy(one + done, &other, sizeof kept);
    memcpy(two + done, &kept, sizeof kept);
  }
  for (; done < heap->bytes; done++) {
    char byte = one[done];
    one[done] = two[done];
    two[done] = byte;
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

static void sort_heap(pile heap, uint64_t from, uint64_t end) {
  uint64_t count = end - from;
  heap.items += from * heap.bytes;
  for (uint64_t i = count / 2; i-- > 0;)
    sink(&heap, i, count);
  for (uint64_t last = count; last-- > 1;) {
    swap(&heap, 0, last);
    sink(&heap, 0, last);
  }
}

static void sort_few(const pile *heap, uint64_t from, uint64_t end) {
  for (uint64_t i = from + 1; i < end; i++)
    for (uint64_t k = i; k > from && before(heap, k, k - 1); k--)
      swap(heap, k, k - 1);
}

/* Brings the middle one of three to the front, and around it what comes before and after; returns where it then is. */
static uint64_t part(const pile *heap, uint64_t from, uint64_t end) {
  uint64_t middle = from + (end - from) / 2, i = from, k = end;
  if (before(heap, middle, from)) swap(heap, middle, from);
  if (before(heap, end - 1, from)) swap(heap, end - 1, from);
  if (before(heap, end - 1, middle)) swap(heap, end - 1, middle);
  swap(heap, from, middle);
  for (;;) {
    do
      i++;
    while (i < end && before(heap, i, from));
    do
      k--;
    while (before(heap, from, k));
    if (i >= k) break;
    swap(heap, i, k);
  }
  swap(heap, from, k);
  return k;
}

/* The larger part is gone on with, so that the smaller ones nest no deeper than the count has bits; parts that stay
 * large are left to the heap, which is never slow. */
static void sort_range(const pile *heap, uint64_t from, uint64_t end, int patience) {
  while (end - from > 12) {
    uint64_t at;
    if (patience-- == 0) {
      sort_heap(*heap, from, end);
      return;
    }
    at = part(heap, from, end);
    if (at - from < end - at) {
      sort_range(heap, from, at, patience);
      from = at + 1;
    } else {
      sort_range(heap, at + 1, end, patience);
      end = at;
    }
  }
  sort_few(heap, from, end);
}

void girdle_sort(void *items, uint64_t count, uint64_t item_bytes, int (*compare)(const void *a, const void *b)) {
  pile heap = {items, item_bytes, compare};
  int patience = 0;
  for (uint64_t i = count; i; i /= 2)
    patience += 2;
  if (count) sort_range(&heap, 0, count, patience);
}
