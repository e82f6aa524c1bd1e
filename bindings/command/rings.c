/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "rings.h"

#include <math.h>
#include <string.h>

#include "common.h"

const char *const girth_names[GIRTHS] = {"head", "hand", "hips", "foot"};

/* One row of a zone: its records from `first`, before `end`. */
typedef struct row {
  const girdle_placed *records;
  const girdle_stone *stones;
  int64_t first, end;
} row;

static double across(const row *of, int64_t at) {
  return of->stones[of->records[at].stone].diameter_mm[GIRDLE_NOMINAL];
}

static double stiff_mm(const row *of) {
  double sum = 0;
  for (int64_t at = of->first; at < of->end; at++)
    sum += across(of, at);
  return sum;
}

/* The row on which most of the edge lies under stones. */
static int fullest_row(const girdle_zone *zone, row *out) {
  row each = {NULL, NULL, 0, 0};
  int64_t count = zone->placement ? girdle_placement_view(zone->placement, &each.records, &each.stones, NULL) : 0;
  *out = each;
  for (each.first = 0; each.first < count; each.first = each.end) {
    for (each.end = each.first + 1; each.end < count && each.records[each.end].row == each.records[each.first].row;)
      each.end++;
    if (stiff_mm(&each) > stiff_mm(out)) *out = each;
  }
  return out->end > out->first;
}

static double step_mm(const row *of, int64_t a, int64_t b) {
  return hypot(of->records[b].x_mm - of->records[a].x_mm, of->records[b].y_mm - of->records[a].y_mm);
}

/* The last stone stands beside the first, as near as any two neighbours do. */
static int is_closed(const row *of) {
  double widest = 0;
  for (int64_t at = of->first + 1; at < of->end; at++)
    widest = fmax(widest, step_mm(of, at - 1, at));
  return of->end - of->first >= 3 && step_mm(of, of->end - 1, of->first) <= 1.2 * widest;
}

int ring_of(const girdle_zone *zone, int closed, girdle_opening *out) {
  row of;
  if (!isfinite(zone->edge_mm) || !fullest_row(zone, &of) || (closed && !is_closed(&of))) return 0;
  girdle_opening_init(out, sizeof *out);
  out->stones = of.end - of.first;
  out->ring_mm = zone->edge_mm;
  out->diameter_mm = stiff_mm(&of) / (double)out->stones;
  return 1;
}

void ring_text(const girdle_zone *zone, buffer *to) {
  char stone[160];
  uint32_t kinds;
  int said = 0;
  row of;
  if (!fullest_row(zone, &of)) return;
  girdle_placement_view(zone->placement, NULL, NULL, &kinds);
  for (uint32_t kind = 0; kind < kinds; kind++) {
    int is_there = 0;
    for (int64_t at = of.first; at < of.end; at++)
      is_there |= of.records[at].stone == kind;
    if (!is_there) continue;
    girdle_stone_text(&of.stones[kind], stone, sizeof stone);
    buffer_text(to, "%s%s", said++ ? ", " : "", stone);
  }
}

const char *ring_passes(const char *zone) {
  static const char *const words[][2] = {{"neck", "head"},  {"collar", "head"}, {"wrist", "hand"}, {"cuff", "hand"},
                                         {"waist", "hips"}, {"leg", "foot"},    {"ankle", "foot"}};
  for (size_t at = 0; at < sizeof words / sizeof words[0]; at++)
    if (strstr(zone, words[at][0])) return words[at][1];
  return NULL;
}
