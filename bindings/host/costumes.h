/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_HOST_COSTUMES_H
#define GIRDLE_HOST_COSTUMES_H

/* costumes: what costume files and zone tables share. */

#include "limited.h"

enum { GIRDLE_HOST_ZONES = 10000 };

typedef struct costume_work {
  const char *name;            /* of the costume file, or of the table of zones for errors */
  const girdle_zone_row *rows; /* of a table of zones */
  uint64_t row_count;
  girdle_job *job;
  girdle_fabric fabric;
  int32_t has_fabric;
  int32_t checked;          /* 1: rows are only looked at, no recipe places */
  const girdle_zone *zones; /* held by the state, like all they point to */
  uint64_t count;
} costume_work;

double girdle_host_glued_per_worn(const girdle_fabric *fabric);
void girdle_host_push_outline(lua_State *L, const girdle_path *path);
void girdle_host_zone_begin(girdle_zone *zone, const char *name);
void girdle_host_zone_place(lua_State *L, girdle_zone *zone, int given, const char *costume, int held);
int girdle_host_zone_try(lua_State *L, girdle_limited *run, const char *source, int32_t line);
int32_t girdle_host_take_zones(girdle_limited *run);

#endif
