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
  double most_cells = fmin(4.0 * (double)expected + 64, 1 << 24); /* not more memory than the stones will take */
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
  double index = offset / cell;
  return index <= 0 ? 0 : index >= (double)cells - 1 ? cells - 1 : (uint64_t)(int64_t)index;
}

static int32_t add(girdle_call *call, girdle_crowd *crowd, girdle_disc disc) {
  uint64_t column = cell_of(disc.x - crowd->left, crowd->cell_mm, crowd->columns);
  uint64_t row = cell_of(disc.y - crowd->top, crowd->cell_mm, crowd->rows);
  uint32_t *head = &crowd->head[row * crowd->columns + column];
  GIRDLE_TRY(girdle_common_grow(call, &crowd->memory, (void **)&crowd->discs, &crowd->capacity, crowd->count + 1,
                                sizeof disc));
  disc.next = *head;
  crowd->discs[crowd->count++] = disc;
  *head = (uint32_t)crowd->count;
  if (disc.radius > crowd->most_radius) crowd->most_radius = disc.radius;
  return GIRDLE_OK;
}

int32_t girdle_crowd_add(girdle_call *call, girdle_crowd *crowd, double x, double y, double radius) {
  girdle_disc disc = {x, y, radius, NULL, 0, 0};
  return add(call, crowd, disc);
}

int32_t girdle_crowd_add_stone(girdle_call *call, girdle_crowd *crowd, const girdle_shape *shape) {
  girdle_disc disc = {shape->x, shape->y, girdle_place_radius(shape->stone), shape->stone, (float)shape->turn_deg, 0};
  return add(call, crowd, disc);
}

void girdle_box_take(girdle_box *box, double x, double y) {
  box->left_mm = fmin(box->left_mm, x);
  box->right_mm = fmax(box->right_mm, x);
  box->top_mm = fmin(box->top_mm, y);
  box->bottom_mm = fmax(box->bottom_mm, y);
}

static girdle_box box_of(const girdle_placement *placement) {
  girdle_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
  for (uint64_t i = 0; i < placement->count; i++)
    girdle_box_take(&box, placement->records[i].x_mm, placement->records[i].y_mm);
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
    girdle_shape shape = girdle_place_shape(placement, i);
    status = girdle_crowd_add_stone(call, out, &shape);
  }
  if (status) girdle_crowd_free(out);
  return status;
}

girdle_cells girdle_crowd_cells(const girdle_crowd *crowd, double x, double y, double reach) {
  uint64_t left = cell_of(x - reach - crowd->left, crowd->cell_mm, crowd->columns);
  uint64_t top = cell_of(y - reach - crowd->top, crowd->cell_mm, crowd->rows);
  girdle_cells cells = {left,
                        cell_of(x + reach - crowd->left, crowd->cell_mm, crowd->columns),
                        cell_of(y + reach - crowd->top, crowd->cell_mm, crowd->rows),
                        left,
                        top,
                        crowd->head[top * crowd->columns + left]};
  return cells;
}

uint32_t girdle_crowd_next(const girdle_crowd *crowd, girdle_cells *cells) {
  uint32_t link;
  while (!cells->link) {
    if (cells->column++ == cells->right) {
      cells->column = cells->left;
      if (cells->row++ == cells->bottom) return 0;
    }
    cells->link = crowd->head[cells->row * crowd->columns + cells->column];
  }
  link = cells->link;
  cells->link = crowd->discs[link - 1].next;
  return link;
}

double girdle_crowd_clearance(const girdle_crowd *crowd, double x, double y, double limit_mm) {
  girdle_cells cells = girdle_crowd_cells(crowd, x, y, limit_mm + crowd->most_radius);
  double least = limit_mm;
  for (uint32_t link; (link = girdle_crowd_next(crowd, &cells)) != 0;) {
    const girdle_disc *disc = &crowd->discs[link - 1];
    double dx = disc->x - x, dy = disc->y - y, near = least + disc->radius, square = dx * dx + dy * dy;
    if (near > 0 && square < near * near) least = sqrt(square) - disc->radius;
  }
  return least;
}

static double apart(const girdle_shape *shape, const girdle_disc *disc) {
  girdle_shape other = {disc->x, disc->y, (double)disc->turn_deg, disc->stone};
  return girdle_place_apart(shape, &other);
}

static int is_pardoned(uint64_t disc, const uint64_t *pardoned, int count) {
  for (int i = 0; i < count; i++)
    if (pardoned[i] == disc) return 1;
  return 0;
}

double girdle_crowd_apart(const girdle_crowd *crowd, const girdle_shape *shape, double limit_mm,
                          const uint64_t *pardoned, int pardoned_count) {
  double radius = girdle_place_radius(shape->stone), least = limit_mm;
  girdle_cells cells = girdle_crowd_cells(crowd, shape->x, shape->y, limit_mm + radius + crowd->most_radius);
  for (uint32_t link; (link = girdle_crowd_next(crowd, &cells)) != 0;) {
    const girdle_disc *disc = &crowd->discs[link - 1];
    double dx = disc->x - shape->x, dy = disc->y - shape->y, near = least + radius + disc->radius;
    if (near > 0 && dx * dx + dy * dy < near * near && !is_pardoned(link - 1, pardoned, pardoned_count))
      least = fmin(least, apart(shape, disc));
  }
  return least;
}

int girdle_crowd_has_room(const girdle_crowd *crowd, const girdle_shape *shape, double gap_mm, const uint64_t *pardoned,
                          int pardoned_count) {
  double radius = girdle_place_radius(shape->stone);
  girdle_cells cells = girdle_crowd_cells(crowd, shape->x, shape->y, gap_mm + radius + crowd->most_radius);
  for (uint32_t link; (link = girdle_crowd_next(crowd, &cells)) != 0;) {
    const girdle_disc *disc = &crowd->discs[link - 1];
    double needed = is_pardoned(link - 1, pardoned, pardoned_count) ? 0 : gap_mm;
    double dx = disc->x - shape->x, dy = disc->y - shape->y, near = needed + radius + disc->radius;
    if (dx * dx + dy * dy < near * near && apart(shape, disc) < needed - GIRDLE_TOLERANCE_MM) return 0;
  }
  return 1;
}
