/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <stddef.h>

/* Every stone's place as JSON, for map and lines. */

static void json_field(buffer *to, const char *before, const char *text) {
  buffer_text(to, "%s\"", before);
  buffer_json_text(to, text);
  buffer_text(to, "\"");
}

static void kinds(const girdle_stone *stones, uint32_t count, buffer *to) {
  char text[160];
  for (uint32_t at = 0; at < count; at++) {
    girdle_stone_text(&stones[at], text, sizeof text);
    json_field(to, at ? ",{\"stone\":" : "{\"stone\":", text);
    buffer_text(to, ",\"diameter_mm\":");
    buffer_number(to, stones[at].diameter_mm[GIRDLE_NOMINAL], 4);
    buffer_text(to, "}");
  }
}

/* x, y, turn, stone (its place in stones, from 0), row. */
static void record(const girdle_placed *of, int first, buffer *to) {
  buffer_text(to, first ? "[" : ",[");
  buffer_number(to, of->x_mm, 4);
  buffer_text(to, ",");
  buffer_number(to, of->y_mm, 4);
  buffer_text(to, ",");
  buffer_number(to, (double)of->turn_deg, 2);
  buffer_text(to, ",%u,%u]", (unsigned)of->stone, (unsigned)of->row);
}

static void zone_json(const girdle_zone *of, buffer *to) {
  const girdle_placed *records = NULL;
  const girdle_stone *stones = NULL;
  uint32_t count = 0;
  int64_t placed = of->placement ? girdle_placement_view(of->placement, &records, &stones, &count) : 0;
  json_field(to, "{\"zone\":", of->name);
  json_field(to, ",\"side\":", of->side);
  buffer_text(to, ",\"times\":%lld,\"stones\":[", (long long)of->times);
  kinds(stones, count, to);
  buffer_text(to, "],\"places\":[");
  for (int64_t at = 0; at < placed; at++)
    record(&records[at], at == 0, to);
  buffer_text(to, "]}");
}

void places_json(const girdle_job *job, buffer *to) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  buffer_text(to, "[");
  for (uint64_t at = 0; at < count; at++) {
    if (at) buffer_text(to, ",");
    zone_json(&zones[at], to);
  }
  buffer_text(to, "]");
}
