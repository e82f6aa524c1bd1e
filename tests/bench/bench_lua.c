/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <lauxlib.h>
#include <lualib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "../../bindings/lua/words.h"
#include "girdle/host.h"
#include "row.h"

/* A million placements as a placement and as record tables, walking both; and a limited state with all words and one
 * recipe, made and closed. Medians of several runs in one process. */

enum { STONES = 1000000, RUNS = 7 };

static double now_s(void) {
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static int by_value(const void *a, const void *b) {
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double median(double *list, size_t count) {
  qsort(list, count, sizeof *list, by_value);
  return list[count / 2];
}

/* ---- placements */

static const char make_tables[] =
    "local p = ... local t = {} local i = 0\n"
    "for x, y, turn, stone, row in p:each() do i = i + 1 t[i] = { x = x, y = y, turn = turn, stone = stone, row = row "
    "} end\n"
    "return t";
static const char walk_tables[] =
    "local t = ... local sum = 0 for i = 1, #t do local r = t[i] sum = sum + r.x + r.y + r.turn + r.row end return sum";
static const char walk_placement[] =
    "local p = ... local sum = 0 for x, y, turn, stone, row in p:each() do sum = sum + x + y + turn + row end return "
    "sum";

/* Seconds for one call of a chunk with the value at 1; its result is left on the stack when it is wanted. */
static double time_call(lua_State *L, const char *chunk, int results) {
  double start;
  if (luaL_loadstring(L, chunk)) exit(1);
  lua_pushvalue(L, 1);
  start = now_s();
  if (lua_pcall(L, 1, results, 0)) {
    fprintf(stderr, "%s\n", lua_tostring(L, -1));
    exit(1);
  }
  return now_s() - start;
}

static girdle_placement *many_stones(void) {
  girdle_placed *records = calloc(STONES, sizeof *records);
  girdle_placement *made = NULL;
  girdle_stone stone;
  if (!records || girdle_stone_parse(NULL, "ss20", &stone)) exit(1);
  for (int i = 0; i < STONES; i++)
    records[i] = (girdle_placed){i % 1000 * 5.0, i / 1000 * 5.0, 0, 0, 0};
  if (girdle_placement_new(NULL, &stone, 1, records, STONES, &made)) exit(1);
  free(records);
  return made;
}

static void bench_placements(lua_State *L) {
  double fill[RUNS], tables[RUNS], walk[RUNS], walk_t[RUNS];
  girdle_placement *made = many_stones();
  size_t table_bytes = 0;
  for (int i = 0; i < RUNS; i++) {
    size_t before;
    double start;
    lua_settop(L, 0);
    lua_gc(L, LUA_GCCOLLECT);
    start = now_s();
    if (girdle_placement_copy(NULL, made, girdle_lua_new_placement(L))) exit(1);
    fill[i] = now_s() - start;
    walk[i] = time_call(L, walk_placement, 0);
    before = (size_t)lua_gc(L, LUA_GCCOUNT) * 1024;
    tables[i] = time_call(L, make_tables, 1);
    lua_gc(L, LUA_GCCOLLECT);
    table_bytes = (size_t)lua_gc(L, LUA_GCCOUNT) * 1024 - before;
    lua_replace(L, 1);
    walk_t[i] = time_call(L, walk_tables, 0);
  }
  girdle_placement_free(made);
  printf("1e6 placements to Lua: a placement %.1f ns and 24 B each, record tables %.0f ns and %zu B; ratio %.0f\n",
         median(fill, RUNS) * 1e9 / STONES, median(tables, RUNS) * 1e9 / STONES, table_bytes / STONES,
         median(tables, RUNS) / median(fill, RUNS));
  printf("walking them: p:each() %.1f ns, tables %.1f ns; ratio %.2f (goal 1.5)\n", median(walk, RUNS) * 1e9 / STONES,
         median(walk_t, RUNS) * 1e9 / STONES, median(walk, RUNS) / median(walk_t, RUNS));
  bench_add((bench_row){.work = "1e6 placements to Lua",
                        .unit = "ns each",
                        .figure = median(fill, RUNS) * 1e9 / STONES,
                        .peer = "record tables",
                        .peer_figure = median(tables, RUNS) * 1e9 / STONES,
                        .less_is_better = 1,
                        .goal_ratio = 20});
  bench_add((bench_row){.work = "walking placements in Lua",
                        .unit = "ns each",
                        .figure = median(walk, RUNS) * 1e9 / STONES,
                        .peer = "reading a table",
                        .peer_figure = median(walk_t, RUNS) * 1e9 / STONES,
                        .less_is_better = 1,
                        .goal_ratio = 1 / 1.5});
}

/* ---- limited states */

typedef struct meter {
  uint64_t live, most;
} meter;

static void *metered(void *context, void *block, uint64_t old_bytes, uint64_t new_bytes) {
  meter *at = context;
  at->live += new_bytes - (block ? old_bytes : 0);
  if (at->live > at->most) at->most = at->live;
  if (new_bytes) return realloc(block, new_bytes);
  free(block);
  return NULL;
}

static const char one_recipe[] =
    "return recipe { format = 1, name = 'one', about = 'One line.',\n"
    "  takes = { { 'line', 'path' }, { 'stone', 'stone', default = 'ss20' }, { 'gap', 'length', default = '0.5 mm' } "
    "},\n"
    "  place = function (given)\n"
    "    return run { along = given.line, stones = { given.stone }, gap = given.gap }\n"
    "  end }\n";

static void bench_states(void) {
  enum { STATES = 2000 };
  static double describe[STATES], place[STATES];
  const girdle_given given[] = {{"line", "6240 mm"}};
  girdle_call call;
  girdle_host *host;
  girdle_recipe_sheet *sheet;
  girdle_placement *placement;
  meter used = {0, 0};
  uint64_t before;
  int64_t count = 0;
  girdle_call_init(&call, sizeof call);
  call.memory.context = &used;
  call.memory.resize = metered;
  if (girdle_host_new(&call, NULL, &host)) exit(1);
  if (girdle_host_add_source(&call, host, GIRDLE_LAYER_HOUSE, "one.lua", one_recipe, sizeof one_recipe - 1)) exit(1);
  before = used.most = used.live;
  for (int i = 0; i < STATES; i++) {
    double start = now_s();
    if (girdle_host_describe(&call, host, "one", &sheet)) exit(1);
    girdle_recipe_sheet_free(sheet);
    describe[i] = now_s() - start;
  }
  printf("limited state with all words and one recipe: %.1f us, %.1f KB at most (goal 30 us, 24 KB)\n",
         median(describe, STATES) * 1e6, (double)(used.most - before) / 1024);
  bench_add((bench_row){.work = "limited Lua state with all words",
                        .unit = "us",
                        .figure = median(describe, STATES) * 1e6,
                        .less_is_better = 1,
                        .goal_figure = 30});
  bench_add((bench_row){.work = "limited Lua state with all words",
                        .unit = "KiB",
                        .figure = (double)(used.most - before) / 1024,
                        .less_is_better = 1,
                        .goal_figure = 24});
  for (int i = 0; i < 200; i++) {
    double start = now_s();
    if (girdle_host_place(&call, host, "one", given, 1, &placement)) exit(1);
    place[i] = now_s() - start;
    count = girdle_placement_view(placement, NULL, NULL, NULL);
    girdle_placement_free(placement);
  }
  printf("a recipe that runs %lld stones: %.0f us (goal 5000 us)\n", (long long)count, median(place, 200) * 1e6);
  bench_add((bench_row){.work = "recipe of twenty lines, 1,200 run stones",
                        .unit = "us",
                        .figure = median(place, 200) * 1e6,
                        .less_is_better = 1,
                        .goal_figure = 5000});
  girdle_host_free(host);
}

/* What the counting of instructions costs on a tight loop. */
static void count_nothing(lua_State *L, lua_Debug *frame) {
  (void)L;
  (void)frame;
}

static void bench_hook(lua_State *L) {
  static const char loop[] = "local n = 0 for i = 1, 2e6 do n = n + i % 7 end return n";
  double plain[RUNS], hooked[RUNS];
  lua_settop(L, 0);
  lua_pushnil(L);
  for (int i = 0; i < RUNS; i++) {
    lua_sethook(L, NULL, 0, 0);
    plain[i] = time_call(L, loop, 0);
    lua_sethook(L, count_nothing, LUA_MASKCOUNT, 100);
    hooked[i] = time_call(L, loop, 0);
  }
  lua_sethook(L, NULL, 0, 0);
  printf("the counting hook on a tight loop: %.2f times as long\n", median(hooked, RUNS) / median(plain, RUNS));
  bench_add((bench_row){.work = "Lua loop under the step limit",
                        .unit = "ms",
                        .figure = median(hooked, RUNS) * 1e3,
                        .peer = "without the limit",
                        .peer_figure = median(plain, RUNS) * 1e3,
                        .less_is_better = 1});
}

int main(void) {
  lua_State *L = luaL_newstate();
  luaL_openlibs(L);
  girdle_lua_context_init(lua_newuserdatauv(L, sizeof(girdle_lua_context), 0));
  girdle_lua_context_set(L);
  bench_placements(L);
  bench_hook(L);
  lua_close(L);
  bench_states();
  return 0;
}
