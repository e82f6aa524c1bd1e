/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "order_internal.h"
#include "sort_internal.h"

/* Lines of a tally over lots, each line from one lot (bin packing with given bins). Lines are tried the largest first;
 * what does not lead on is taken back. */

enum { STEPS_MOST = 8192 /* of one question; then it stays open */ };

typedef struct ranked {
  int64_t pieces;
  uint64_t line;
} ranked;

/* ---- whether it can be done */

/* Whether the lots that can still take the smallest line hold too little for what is left to place. */
static int is_hopeless(const int64_t *left, uint64_t lots, int64_t smallest, int64_t remaining) {
  for (uint64_t i = 0; i < lots && remaining > 0; i++)
    if (left[i] >= smallest) remaining -= left[i];
  return remaining > 0;
}

/* The first lot from `from` on that holds enough and is not like one before it; `lots` when there is none. */
static uint64_t next_lot(const int64_t *left, uint64_t lots, uint64_t from, int64_t pieces) {
  for (uint64_t at = from; at < lots; at++) {
    uint64_t like = from;
    while (left[like] != left[at])
      like++;
    if (left[at] >= pieces && like == at) return at;
  }
  return lots;
}

int girdle_lines_fit(const int64_t *lines, uint64_t count, int64_t *left, uint64_t lots, uint64_t *chosen) {
  int64_t remaining = 0, steps = 0;
  uint64_t at = 0;
  for (uint64_t i = 0; i < count; i++)
    remaining += lines[i];
  if (count) chosen[0] = 0;
  while (at < count && steps < STEPS_MOST + 2 * (int64_t)count) {
    const uint64_t lot =
        is_hopeless(left, lots, lines[count - 1], remaining) ? lots : next_lot(left, lots, chosen[at], lines[at]);
    steps++;
    if (lot < lots) {
      chosen[at] = lot;
      left[lot] -= lines[at];
      remaining -= lines[at++];
      if (at < count) chosen[at] = lines[at] == lines[at - 1] ? lot : 0; /* equal lines need no other order */
    } else {
      if (at == 0) return GIRDLE_FIT_NOT;
      at--;
      left[chosen[at]] += lines[at];
      remaining += lines[at];
      chosen[at]++;
    }
  }
  for (uint64_t i = 0; i < at; i++)
    left[chosen[i]] += lines[i];
  return at == count ? GIRDLE_FIT_ALL : GIRDLE_FIT_OPEN;
}

/* ---- which line from which lot */

typedef struct fitting {
  const int64_t *lines; /* those that show most first */
  uint64_t count, lots;
  int64_t *left, *pieces;    /* of each lot; of the lines that are kept whole, the largest first */
  uint64_t *chosen, *places; /* places: of girdle_lines_fit */
  ranked *ranked;            /* lines that are kept whole, the largest first */
  uint64_t kept;
} fitting;

static int compare_ranked(const void *a, const void *b) {
  const ranked *one = a, *two = b;
  if (one->pieces != two->pieces) return one->pieces > two->pieces ? -1 : 1;
  return one->line < two->line ? -1 : one->line > two->line;
}

/* Whether all kept lines but those marked by `without` fit; `count` for none. */
static int fits_without(fitting *of, uint64_t without) {
  uint64_t count = 0;
  for (uint64_t i = 0; i < of->kept; i++)
    if (of->ranked[i].line != without) of->pieces[count++] = of->ranked[i].pieces;
  return girdle_lines_fit(of->pieces, count, of->left, of->lots, of->places) == GIRDLE_FIT_ALL;
}

static void drop(fitting *of, uint64_t line) {
  uint64_t kept = 0;
  for (uint64_t i = 0; i < of->kept; i++)
    if (of->ranked[i].line != line) of->ranked[kept++] = of->ranked[i];
  of->kept = kept;
}

/* Every line from the first lot that still holds enough of it. */
static int take_first(fitting *of) {
  for (uint64_t i = 0; i < of->count; i++) {
    uint64_t lot = 0;
    while (lot < of->lots && of->left[lot] < of->lines[i])
      lot++;
    if (lot == of->lots) return 0;
    of->chosen[i] = lot;
    of->left[lot] -= of->lines[i];
  }
  return 1;
}

/* Keeps the lines of which one lot holds enough, and drops as few more as it takes for the rest to fit: of single ones
 * that do the one that shows least. */
static int32_t keep_what_fits(girdle_call *call, fitting *of) {
  of->kept = 0;
  for (uint64_t i = 0; i < of->count; i++) {
    of->chosen[i] = GIRDLE_NO_LOT;
    for (uint64_t lot = 0; lot < of->lots; lot++)
      if (of->left[lot] >= of->lines[i]) {
        of->ranked[of->kept++] = (ranked){of->lines[i], i};
        break;
      }
  }
  girdle_sort(of->ranked, of->kept, sizeof *of->ranked, compare_ranked);
  while (!fits_without(of, of->count)) {
    uint64_t least = of->count, last = 0;
    for (uint64_t i = 0; i < of->kept; i++) {
      const uint64_t line = of->ranked[i].line;
      if (line > last) last = line;
      GIRDLE_TRY(girdle_common_tick(call, STEPS_MOST / 64, -1));
      if ((least == of->count || line > least) && fits_without(of, line)) least = line;
    }
    drop(of, least < of->count ? least : last);
  }
  return GIRDLE_OK;
}

/* The lines that show most from the first lots, as far as the rest then still fits. */
static int32_t take_visible_first(girdle_call *call, fitting *of) {
  for (uint64_t i = 0; i < of->kept; i++) /* good enough where a question below stays open */
    of->chosen[of->ranked[i].line] = of->places[i];
  for (uint64_t i = 0; i < of->count; i++) {
    const uint64_t planned = of->chosen[i];
    uint64_t lot = 0;
    if (planned == GIRDLE_NO_LOT) continue;
    drop(of, i);
    for (; lot < of->lots; lot++) {
      if (of->left[lot] < of->lines[i]) continue;
      of->left[lot] -= of->lines[i];
      GIRDLE_TRY(girdle_common_tick(call, STEPS_MOST / 64, -1));
      if (fits_without(of, of->count)) break;
      of->left[lot] += of->lines[i];
    }
    if (lot == of->lots) return GIRDLE_OK;
    of->chosen[i] = lot;
    for (uint64_t k = 0; k < of->kept; k++)
      of->chosen[of->ranked[k].line] = of->places[k];
  }
  return GIRDLE_OK;
}

static int32_t assign(girdle_call *call, fitting *of, const int64_t *lots) {
  memcpy(of->left, lots, of->lots * sizeof *lots);
  if (take_first(of)) return GIRDLE_OK;
  memcpy(of->left, lots, of->lots * sizeof *lots);
  GIRDLE_TRY(keep_what_fits(call, of));
  return take_visible_first(call, of);
}

int32_t girdle_lines_assign(girdle_call *call, const int64_t *lines, uint64_t count, const int64_t *lots,
                            uint64_t lot_count, uint64_t *chosen) {
  const girdle_allocator memory = girdle_common_memory(call);
  const uint64_t numbers = lot_count + 2 * count + 1, bytes = numbers * sizeof(int64_t),
                 rank_bytes = (count + 1) * sizeof(ranked);
  int64_t *room = girdle_common_new(call, bytes);
  ranked *ranks = room ? girdle_common_new(call, rank_bytes) : NULL;
  int32_t status = GIRDLE_MEMORY;
  if (ranks) {
    fitting of = {lines, count, lot_count, room, room + lot_count, chosen, NULL, ranks, 0};
    of.places = (uint64_t *)(room + lot_count + count);
    status = assign(call, &of, lots);
  }
  girdle_common_release(&memory, ranks, rank_bytes);
  girdle_common_release(&memory, room, bytes);
  return status;
}
