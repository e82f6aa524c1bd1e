/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_internal.h"

/* Sorting without the C library's qsort, which may allocate and leaves the order of equals open. */

static int before(const girdle_span *a, const girdle_span *b) {
  return a->from < b->from || (a->from == b->from && a->change > b->change);
}

static void sift(girdle_span *spans, uint64_t root, uint64_t count) {
  girdle_span moving = spans[root];
  for (uint64_t child; (child = 2 * root + 1) < count; root = child) {
    if (child + 1 < count && before(&spans[child], &spans[child + 1])) child++;
    if (!before(&moving, &spans[child])) break;
    spans[root] = spans[child];
  }
  spans[root] = moving;
}

static void sort_by_heap(girdle_span *spans, uint64_t count) {
  for (uint64_t i = count / 2; i-- > 0;)
    sift(spans, i, count);
  for (uint64_t last = count; last-- > 1;) {
    girdle_span top = spans[0];
    spans[0] = spans[last];
    spans[last] = top;
    sift(spans, 0, last);
  }
}

static void sort_by_insertion(girdle_span *spans, uint64_t count) {
  for (uint64_t i = 1; i < count; i++) {
    girdle_span moving = spans[i];
    uint64_t j = i;
    for (; j > 0 && before(&moving, &spans[j - 1]); j--)
      spans[j] = spans[j - 1];
    spans[j] = moving;
  }
}

static void exchange(girdle_span *a, girdle_span *b) {
  girdle_span held = *a;
  *a = *b;
  *b = held;
}

/* The middle one of the first, the middle and the last. */
static girdle_span median(const girdle_span *spans, uint64_t count) {
  const girdle_span *a = spans, *b = spans + count / 2, *c = spans + count - 1;
  if (before(b, a)) {
    const girdle_span *held = a;
    a = b;
    b = held;
  }
  return before(c, a) ? *a : before(c, b) ? *c : *b;
}

/* Parts at a middle value (C. A. R. Hoare, 1961); the longer part goes on in the loop. What does not get shorter fast
 * enough goes to the heap. */
static void sort_by_parts(girdle_span *spans, uint64_t count, int depth) {
  while (count > 24) {
    girdle_span middle;
    uint64_t low = 0, high = count - 1;
    if (depth-- == 0) {
      sort_by_heap(spans, count);
      return;
    }
    for (middle = median(spans, count);; low++, high--) {
      while (before(&spans[low], &middle))
        low++;
      while (before(&middle, &spans[high]))
        high--;
      if (low >= high) break;
      exchange(&spans[low], &spans[high]);
    }
    if (low < count - low) {
      sort_by_parts(spans, low, depth);
      spans += low;
      count -= low;
    } else {
      sort_by_parts(spans + low, count - low, depth);
      count = low;
    }
  }
  sort_by_insertion(spans, count);
}

void girdle_place_sort(girdle_span *spans, uint64_t count) {
  sort_by_parts(spans, count, 64);
}
