/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "place_internal.h"

/* A grid of cells, each heading a chain of the discs whose centres lie in it. Discs outside the box go to the cells
 * of its rim. */

static uint64_t cells_along(double extent, double cell) {
  return (uint64_t)(extent / cell) + 1;
}

int32_t girdle_crowd_new(girdle_call *call, const girdle_box *box, double cell_mm, uint64_t expected,
                         girdle_crowd *out) {
  double width = box->right_mm - box->left_mm, height = box->bottom_mm - box->top_mm;
  double most_cells = 4.0 * (double)expected + 64;
  memset(out, 0, sizeof *out);
  out->memory = girdle_common_memory(call);
  out->left = box->left_mm;
  out->top = box->top_mm;
  out->cell_mm = cell_mm;
  while ((width / out->cell_mm + 1) * (height / out->cell_mm + 1) > most_cells)
    out->cell_mm *= 1.5;
  out->columns = cells_along(width, out->cell_mm);
  out->rows = cells_along(height, out->cell_mm);
  out->head = girdle_common_new(call, out->columns * out->rows * sizeof *out->head);
  return out->head ? GIRDLE_OK : GIRDLE_MEMORY;
}

void girdle_crowd_free(girdle_crowd *crowd) {
  girdle_common_release(&crowd->memory, crowd->head, crowd->columns * crowd->rows * sizeof *crowd->head);
  girdle_common_release(&crowd->memory, crowd->discs, crowd->capacity * sizeof *crowd->discs);
}

static uint64_t cell_of(double offset, double cell, uint64_t cells) {
  double index = floor(offset / cell);
  return index <= 0 ? 0 : index >= (double)cells - 1 ? cells - 1 : (uint64_t)index;
}

int32_t girdle_crowd_add(girdle_call *call, girdle_crowd *crowd, double x, double y, double radius) {
  uint64_t column = cell_of(x - crowd->left, crowd->cell_mm, crowd->columns);
  uint64_t row = cell_of(y - crowd->top, crowd->cell_mm, crowd->rows);
  uint32_t *head = &crowd->head[row * crowd->columns + column];
  girdle_disc disc = {x, y, radius, *head, 0};
  GIRDLE_TRY(girdle_common_grow(call, &crowd->memory, (void **)&crowd->discs, &crowd->capacity, crowd->count + 1,
                                sizeof disc));
  crowd->discs[crowd->count++] = disc;
  *head = (uint32_t)crowd->count;
  if (radius > crowd->most_radius) crowd->most_radius = radius;
  return GIRDLE_OK;
}

static girdle_box box_of(const girdle_placement *placement) {
  girdle_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
  for (uint64_t i = 0; i < placement->count; i++) {
    box.left_mm = fmin(box.left_mm, placement->records[i].x_mm);
    box.right_mm = fmax(box.right_mm, placement->records[i].x_mm);
    box.top_mm = fmin(box.top_mm, placement->records[i].y_mm);
    box.bottom_mm = fmax(box.bottom_mm, placement->records[i].y_mm);
  }
  return box;
}

int32_t girdle_crowd_of(girdle_call *call, const girdle_placement *placement, girdle_crowd *out) {
  girdle_box none = {0, 0, 0, 0}, box = placement->count ? box_of(placement) : none;
  double most = 0.1;
  int32_t status;
  for (uint64_t i = 0; i < placement->stone_count; i++)
    most = fmax(most, girdle_place_radius(&placement->stones[i]));
  status = girdle_crowd_new(call, &box, 2 * most, placement->count, out);
  for (uint64_t i = 0; i < placement->count && !status; i++) {
    const girdle_placed *record = &placement->records[i];
    status =
        girdle_crowd_add(call, out, record->x_mm, record->y_mm, girdle_place_radius(&placement->stones[record->stone]));
  }
  if (status) girdle_crowd_free(out);
  return status;
}

static int is_pardoned(uint64_t disc, const uint64_t *pardoned, int count) {
  for (int i = 0; i < count; i++)
    if (pardoned[i] == disc) return 1;
  return 0;
}

double girdle_crowd_clearance(const girdle_crowd *crowd, double x, double y, double limit_mm, const uint64_t *pardoned,
                              int pardoned_count) {
  double reach = limit_mm + crowd->most_radius, least = limit_mm;
  uint64_t first = cell_of(x - reach - crowd->left, crowd->cell_mm, crowd->columns);
  uint64_t last = cell_of(x + reach - crowd->left, crowd->cell_mm, crowd->columns);
  uint64_t top = cell_of(y - reach - crowd->top, crowd->cell_mm, crowd->rows);
  uint64_t bottom = cell_of(y + reach - crowd->top, crowd->cell_mm, crowd->rows);
  for (uint64_t row = top; row <= bottom; row++)
    for (uint64_t column = first; column <= last; column++)
      for (uint32_t link = crowd->head[row * crowd->columns + column]; link;) {
        const girdle_disc *disc = &crowd->discs[link - 1];
        double dx = disc->x - x, dy = disc->y - y, near = least + disc->radius, square = dx * dx + dy * dy;
        if (near > 0 && square < near * near && !is_pardoned(link - 1, pardoned, pardoned_count))
          least = sqrt(square) - disc->radius;
        link = disc->next;
      }
  return least;
}
