/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "map_internal.h"

#include <math.h>
#include <string.h>

void girdle_pages_free(girdle_pages *pages) {
  girdle_common_release(&pages->layout.memory, pages->blocks, pages->capacity * sizeof *pages->blocks);
  girdle_layout_free(&pages->layout);
}

/* How many windows with their overlap cover a length. */
static int32_t windows(double length, double window, double overlap) {
  double more = (length - window) / (window - overlap);
  return more > 0 ? 1 + (int32_t)ceil(fmin(more, 1e4) - 1e-9) : 1;
}

static int32_t add_block(girdle_call *call, girdle_pages *pages, double wide, double high) {
  girdle_block *block;
  GIRDLE_TRY(girdle_common_grow(call, &pages->layout.memory, (void **)&pages->blocks, &pages->capacity,
                                pages->count + 1, sizeof *pages->blocks));
  block = &pages->blocks[pages->count++];
  memset(block, 0, sizeof *block);
  block->columns = windows(wide, pages->wide_mm, pages->overlap_mm);
  block->rows = windows(high, pages->high_mm, pages->overlap_mm);
  block->first_page = pages->pages;
  if ((int64_t)block->columns * block->rows + pages->pages > 2000)
    return girdle_common_fail(call, GIRDLE_LIMIT, NULL, "the map needs more than 2000 pages");
  pages->pages += block->columns * block->rows;
  return GIRDLE_OK;
}

static int fits(const girdle_pages *pages, const girdle_slot *slot) {
  return slot->wide_mm <= pages->wide_mm && girdle_slot_high_mm(slot) <= pages->high_mm;
}

static double reach_of(double window, double overlap, int32_t count) {
  return window + (count - 1) * (window - overlap);
}

/* Tries a slot beside the others of the open block. A zone that fits on a page stays whole, so it only goes with its
 * like; and no block grows for a later one. */
static int place_beside(girdle_pages *pages, uint64_t first, uint64_t index) {
  girdle_slot *slot = &pages->layout.slots[index];
  const girdle_block *block = &pages->blocks[pages->count - 1];
  double wide = reach_of(pages->wide_mm, pages->overlap_mm, block->columns);
  double high = reach_of(pages->high_mm, pages->overlap_mm, block->rows);
  if (fits(pages, slot) != (block->columns * block->rows == 1) || slot->wide_mm > wide) return 0;
  girdle_layout_place(&pages->layout, first, index, wide);
  return slot->top_mm + slot->box.bottom_mm - slot->box.top_mm <= high;
}

/* Slots are in the order of their blocks. */
static int32_t lay_out(girdle_call *call, girdle_pages *pages) {
  girdle_layout *layout = &pages->layout;
  uint64_t first = 0;
  for (uint64_t i = 0; i < layout->count; i++) {
    girdle_slot *slot = &layout->slots[i];
    if (pages->count == 0 || !place_beside(pages, first, i)) {
      first = i;
      girdle_layout_place(layout, first, i, 0);
      GIRDLE_TRY(add_block(call, pages, slot->wide_mm, girdle_slot_high_mm(slot)));
    }
    slot->block = pages->count - 1;
  }
  return GIRDLE_OK;
}

/* A zone that is all set by eye, or has no stone, would take a page of nothing. */
static void leave_out_empty(girdle_layout *layout) {
  uint64_t kept = 0;
  for (uint64_t i = 0; i < layout->count; i++)
    if (layout->slots[i].count) layout->slots[kept++] = layout->slots[i];
  layout->count = kept;
}

int32_t girdle_pages_make(girdle_call *call, const girdle_job *job, const girdle_phrased *phrases, double wide_mm,
                          double high_mm, double overlap_mm, girdle_pages *out) {
  int32_t status;
  memset(out, 0, sizeof *out);
  out->wide_mm = wide_mm;
  out->high_mm = high_mm;
  out->overlap_mm = overlap_mm;
  GIRDLE_TRY(girdle_layout_measure(call, job, phrases, &out->layout));
  leave_out_empty(&out->layout);
  status = lay_out(call, out);
  if (status) girdle_pages_free(out);
  return status;
}

void girdle_pages_window(const girdle_pages *pages, int32_t column, int32_t row, double *x, double *y) {
  *x = column * (pages->wide_mm - pages->overlap_mm);
  *y = row * (pages->high_mm - pages->overlap_mm);
}
