/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "../lua/fields.h"
#include "common.h"
#include "costumes.h"

/* Costume files: measures and outlines in, zones out. All zones are worked in the state first and then given to the
 * job, so that a fault in one leaves the job as it was. */

/* ---- the fabric */

static double share_or(const girdle_lua_value *value, double otherwise) {
  return value->given ? value->number : otherwise;
}

/* Reads { across =, along = } at the top, if it is there, and pops it. */
static void read_state(lua_State *L, const char *word, double *across, double *along) {
  girdle_lua_work work;
  girdle_lua_value v[2];
  int top = lua_gettop(L);
  if (!lua_isnil(L, top)) {
    girdle_lua_fields(L, &work, top, word, girdle_fields_state, v);
    *across = share_or(&v[0], 0);
    *along = share_or(&v[1], 0);
  }
  lua_settop(L, top - 1);
}

/* Reads the costume's fabric, if it names one, over what is known already. */
static int read_fabric(lua_State *L, int costume, girdle_fabric *fabric) {
  girdle_lua_work work;
  girdle_lua_value v[FABRIC_END];
  int top = lua_gettop(L);
  lua_getfield(L, costume, "fabric");
  if (lua_isnil(L, -1)) {
    lua_settop(L, top);
    return 0;
  }
  girdle_lua_fields(L, &work, top + 1, "fabric", girdle_fields_fabric, v);
  *fabric = (girdle_fabric){v[FABRIC_MASS].number, 0, 0, NAN, NAN};
  lua_getfield(L, top + 1, "lies");
  read_state(L, "lies", &fabric->lies_across, &fabric->lies_along);
  lua_getfield(L, top + 1, "worn");
  read_state(L, "worn", &fabric->worn_across, &fabric->worn_along);
  lua_settop(L, top);
  return 1;
}

/* What a length meant as worn is where it is glued. */
double girdle_host_glued_per_worn(const girdle_fabric *fabric) {
  double lies = isnan(fabric->lies_across) ? 0 : fabric->lies_across;
  double worn = isnan(fabric->worn_across) ? lies : fabric->worn_across;
  return (1 + lies) / (1 + worn);
}

/* ---- what the zones function gets */

/* Sets a measure under its name and, where it has spaces, under the name with _ as well. */
static void set_measure(lua_State *L, int table, const char *name, double mm) {
  char other[64];
  lua_pushnumber(L, mm);
  lua_setfield(L, table, name);
  girdle_common_text(other, sizeof other, name);
  for (char *at = other; *at; at++)
    if (*at == ' ') *at = '_';
  lua_pushnumber(L, mm);
  lua_setfield(L, table, other);
}

/* Pushes the measures: the costume's own, and over them the wearer's. */
static void push_measures(lua_State *L, int costume, const girdle_job *job) {
  girdle_lua_work work;
  girdle_lua_value value;
  uint64_t count;
  const girdle_measure *list = girdle_job_measures(job, &count);
  int table;
  girdle_lua_begin(L, &work);
  lua_newtable(L);
  table = lua_gettop(L);
  lua_getfield(L, costume, "measures");
  for (lua_pushnil(L); lua_type(L, table + 1) == LUA_TTABLE && lua_next(L, table + 1); lua_settop(L, table + 2)) {
    if (lua_type(L, -2) != LUA_TSTRING)
      girdle_lua_fail(L, GIRDLE_ARGUMENT, "measures", "measures are given by name, like { neckline = \"52 cm\" }");
    if (girdle_lua_read(L, &work, &girdle_lua_measure_field, &value))
      girdle_lua_check(L, &work, work.error.status, lua_pushfstring(L, "measure '%s'", lua_tostring(L, table + 2)));
    set_measure(L, table, lua_tostring(L, table + 2), value.number);
  }
  lua_settop(L, table);
  for (uint64_t i = 0; i < count; i++)
    set_measure(L, table, list[i].name, list[i].mm);
  girdle_lua_make_strict(L, "measure", 0);
}

static const char *file_of(const girdle_host *host, const girdle_path *path) {
  for (uint64_t i = 0; i < host->drawing_count; i++)
    for (uint64_t k = 0; k < host->drawings[i].count; k++)
      if (host->drawings[i].outlines[k].path == path) return host->drawings[i].file;
  return "";
}

/* Pushes a path of the state's own. */
void girdle_host_push_outline(lua_State *L, const girdle_path *path) {
  static const double same[6] = {1, 0, 0, 1, 0, 0};
  girdle_limited *run = girdle_limited_of(L);
  girdle_lua_work work;
  girdle_path **copy;
  uint64_t before;
  int32_t status;
  girdle_lua_begin(L, &work);
  copy = girdle_lua_new_path(L);
  before = run->bytes;
  girdle_common_text(run->drawing, sizeof run->drawing, file_of(run->host, path));
  status = girdle_path_transformed(&work.call, path, same, copy);
  if (status == GIRDLE_MEMORY)
    run->outline_bytes = run->limits.most_bytes;
  else if (run->bytes > before) /* the collector may have come between */
    run->outline_bytes += run->bytes - before;
  girdle_lua_check(L, &work, status, "outline");
}

static const girdle_drawing *drawing_of(lua_State *L, const girdle_host *host, const char *file) {
  const char *names[64];
  uint64_t count = 0;
  for (uint64_t i = 0; i < host->drawing_count; i++) {
    if (strcmp(host->drawings[i].file, file) == 0) return &host->drawings[i];
    if (count < 64) names[count++] = host->drawings[i].file;
  }
  girdle_lua_unknown(L, "drawing", file, names, count);
  return NULL;
}

static void push_outlines(lua_State *L, int costume, const girdle_host *host) {
  const girdle_drawing *drawing = NULL;
  lua_getfield(L, costume, "outlines");
  if (!lua_isnil(L, -1)) drawing = drawing_of(L, host, lua_tostring(L, -1));
  lua_newtable(L);
  for (uint64_t i = 0; drawing && i < drawing->count; i++) {
    girdle_host_push_outline(L, drawing->outlines[i].path);
    lua_setfield(L, -2, drawing->outlines[i].name);
  }
  lua_replace(L, -2);
  girdle_lua_make_strict(L, "outline", 0);
}

/* ---- zones */

/* Keeps in the list at `held` what must live until the zone is given to the job. */
static void hold(lua_State *L, int held) {
  lua_rawseti(L, held, (lua_Integer)lua_rawlen(L, held) + 1);
}

void girdle_host_zone_begin(girdle_zone *zone, const char *name) {
  girdle_zone_init(zone, sizeof *zone);
  girdle_common_text(zone->name, sizeof zone->name, name);
}

/* Notes the box of the recipe's first shape, and the length of the edge or the area that it is. */
static void measure_zone(lua_State *L, girdle_zone *zone, int recipe, int given) {
  girdle_lua_field field;
  girdle_lua_work work;
  girdle_lua_value value;
  int top = lua_gettop(L);
  for (int place = 1; girdle_lua_parameter(L, recipe, place, &field); place++, lua_settop(L, top)) {
    if (field.kind != GIRDLE_KIND_PATH && field.kind != GIRDLE_KIND_REGION) continue;
    lua_getfield(L, given, field.name);
    if (lua_isnil(L, -1)) break;
    girdle_lua_begin(L, &work);
    girdle_lua_check(L, &work, girdle_lua_read(L, &work, &field, &value), field.name);
    if (field.kind == GIRDLE_KIND_PATH) {
      zone->edge_mm = girdle_path_length_mm(value.handle);
      girdle_path_box(value.handle, &zone->box);
    } else {
      zone->area_mm2 = girdle_region_area_mm2(value.handle);
      girdle_region_box(value.handle, &zone->box);
    }
    break;
  }
  lua_settop(L, top);
}

/* Places by the recipe on top with the values at `given` (0: none); the zone holds the placement, and `held` keeps it.
 */
void girdle_host_zone_place(lua_State *L, girdle_zone *zone, int given, const char *costume, int held) {
  girdle_lua_context *words = girdle_lua_context_of(L);
  uint64_t seed = words->seed;
  int recipe = lua_gettop(L);
  words->seed = girdle_lua_seed_of(girdle_lua_seed_of(seed, costume), zone->name);
  girdle_lua_call_recipe(L, recipe, given);
  words->seed = seed;
  zone->placement = girdle_lua_placement_at(L, -1);
  hold(L, held);
  if (given) measure_zone(L, zone, recipe, given);
}

/* Stones set by eye: a list of { stone, pieces } at the top, which it pops. */
static void read_already(lua_State *L, girdle_zone *zone, int held) {
  static const girdle_lua_field stone_field = {"already", GIRDLE_KIND_STONE,        1,   0, 0, NULL,
                                               NULL,      "{ {\"ss34 red\", 12} }", NULL};
  static const girdle_lua_field pieces_field = {"already", GIRDLE_KIND_PIECES,       1,   1, 1e12, NULL,
                                                NULL,      "{ {\"ss34 red\", 12} }", NULL};
  girdle_lua_work work;
  girdle_lua_value stone, pieces;
  int list = lua_gettop(L);
  lua_Integer count = (lua_Integer)lua_rawlen(L, list);
  girdle_stone *stones;
  int64_t *numbers;
  if (count > 1000) girdle_lua_fail(L, GIRDLE_LIMIT, "already", "already lists more than 1000 stones");
  stones = lua_newuserdatauv(L, (size_t)count * (sizeof *stones + sizeof *numbers) + 1, 0);
  numbers = (int64_t *)(void *)(stones + count);
  girdle_lua_begin(L, &work);
  for (lua_Integer i = 0; i < count; i++, lua_settop(L, list + 1)) {
    if (lua_rawgeti(L, list, i + 1) != LUA_TTABLE)
      girdle_lua_fail(L, GIRDLE_ARGUMENT, "already", "already is a list like { {\"ss34 red\", 12} }");
    lua_rawgeti(L, -1, 1);
    girdle_lua_check(L, &work, girdle_lua_read(L, &work, &stone_field, &stone), "already");
    lua_rawgeti(L, list + 2, 2);
    girdle_lua_check(L, &work, girdle_lua_read(L, &work, &pieces_field, &pieces), "already");
    if (!stone.given || !pieces.given)
      girdle_lua_fail(L, GIRDLE_ARGUMENT, "already", "already is a list like { {\"ss34 red\", 12} }");
    stones[i] = *stone.stones;
    numbers[i] = pieces.integer;
  }
  zone->already = stones;
  zone->already_pieces = numbers;
  zone->already_count = (uint64_t)count;
  hold(L, held);
  lua_settop(L, list - 1);
}

/* Works the zone box at 1 of { zone, costume's name, held, girdle_zone }. */
static int work_zone(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[ZONE_END];
  const girdle_lua_recipe *box = lua_touserdata(L, 1);
  girdle_zone *zone = lua_touserdata(L, 4);
  int table = 5;
  lua_getiuservalue(L, 1, 1);
  girdle_lua_fields(L, &work, table, "zone", girdle_fields_zone, v);
  girdle_host_zone_begin(zone, box->name);
  if (v[ZONE_SIDE].given) girdle_common_text(zone->side, sizeof zone->side, v[ZONE_SIDE].text);
  if (v[ZONE_PAIR].choice) zone->flags |= GIRDLE_ZONE_PAIR;
  if (v[ZONE_TIMES].given) zone->times = v[ZONE_TIMES].integer;
  zone->priority = (int32_t)v[ZONE_PRIORITY].integer;
  zone->alike = v[ZONE_ALIKE].choice ? GIRDLE_ALIKE_PICTURE : GIRDLE_ALIKE_GAP;
  zone->placement = v[ZONE_PLACEMENT].handle;
  lua_getfield(L, table, "placement");
  if (zone->placement) hold(L, 3);
  if (v[ZONE_RECIPE].given) {
    girdle_common_text(zone->recipe, sizeof zone->recipe, v[ZONE_RECIPE].text);
    lua_settop(L, table);
    lua_getfield(L, table, "given");
    girdle_host_find_recipe(L, zone->recipe);
    girdle_host_zone_place(L, zone, lua_isnil(L, table + 1) ? 0 : table + 1, lua_tostring(L, 2), 3);
  }
  lua_getfield(L, table, "already");
  if (!lua_isnil(L, -1)) read_already(L, zone, 3);
  return 0;
}

/* Calls the function and four values on top; a fault is noted, with the place where none is known. */
int girdle_host_zone_try(lua_State *L, girdle_limited *run, const char *source, int32_t line) {
  int status, depth = run->words.depth;
  uint64_t seed = run->words.seed;
  run->words.source = source;
  run->words.line = line;
  lua_pushcfunction(L, girdle_lua_note_place);
  lua_insert(L, -6);
  status = lua_pcall(L, 4, 0, -6);
  run->words.depth = depth;
  run->words.seed = seed;
  if (status) girdle_limited_note(L, run);
  lua_pop(L, 1);
  run->words.source = NULL;
  return status == LUA_OK;
}

/* The list of zones at the top: each one worked, its faults noted. */
static void work_zones(lua_State *L, costume_work *job, const char *costume, int drawn) {
  girdle_limited *run = girdle_limited_of(L);
  int list = lua_gettop(L), held;
  lua_Integer count = lua_type(L, list) == LUA_TTABLE ? (lua_Integer)lua_rawlen(L, list) : -1;
  girdle_zone *zones;
  if (count < 0 || count > GIRDLE_HOST_ZONES)
    girdle_lua_fail(L, GIRDLE_ARGUMENT, "zones", "zones must return a list of at most %d zones, like { zone { ... } }",
                    GIRDLE_HOST_ZONES);
  lua_newtable(L);
  held = lua_gettop(L);
  zones = lua_newuserdatauv(L, (size_t)(count + 1) * sizeof *zones, 0);
  hold(L, held);
  for (lua_Integer i = 0; i < count; i++) {
    const girdle_lua_recipe *box;
    lua_pushcfunction(L, work_zone);
    lua_rawgeti(L, list, i + 1);
    box = girdle_lua_box_at(L, -1, GIRDLE_BOX_ZONE);
    if (!box)
      girdle_lua_fail(L, GIRDLE_ARGUMENT, "zones", "zones must return a list of zones; place %I holds %s", i + 1,
                      girdle_lua_type_text(L, -1));
    lua_pushstring(L, costume);
    lua_pushvalue(L, held);
    lua_pushlightuserdata(L, &zones[i]);
    if (girdle_host_zone_try(L, run, box->source, box->line)) job->count++;
  }
  for (uint64_t i = 0; drawn && i < job->count; i++)
    zones[i].flags |= GIRDLE_ZONE_DRAWN;
  job->zones = zones;
  lua_settop(L, held);
}

static int costume_body(lua_State *L) {
  girdle_limited *run = girdle_limited_of(L);
  costume_work *job = run->job;
  char costume[64];
  int drawn;
  run->words.find = girdle_host_find_recipe;
  girdle_host_push_file(L, job->name, GIRDLE_BOX_COSTUME);
  girdle_common_text(costume, sizeof costume, ((girdle_lua_recipe *)lua_touserdata(L, 1))->name);
  lua_getiuservalue(L, 1, 1);
  job->fabric = girdle_job_head_of(job->job)->fabric;
  job->has_fabric = read_fabric(L, 2, &job->fabric);
  run->words.glued_per_worn = girdle_host_glued_per_worn(&job->fabric);
  lua_getfield(L, 2, "zones");
  push_measures(L, 2, job->job);
  push_outlines(L, 2, run->host);
  run->words.seed = girdle_lua_seed_of(run->words.seed, costume);
  lua_call(L, 2, 1);
  girdle_lua_context_of(L)->seed = girdle_lua_seed_of(0, "");
  lua_getfield(L, 2, "outlines");
  drawn = !lua_isnil(L, -1);
  lua_pop(L, 1);
  work_zones(L, job, costume, drawn);
  return 1;
}

int32_t girdle_host_take_zones(girdle_limited *run) {
  const costume_work *job = run->job;
  if (job->has_fabric) GIRDLE_TRY(girdle_job_set_fabric(run->call, job->job, &job->fabric));
  for (uint64_t i = 0; i < job->count; i++)
    GIRDLE_TRY(girdle_job_add_zone(run->call, job->job, &job->zones[i]));
  return girdle_job_settle(run->call, job->job);
}

int32_t girdle_host_costume(girdle_call *call, girdle_host *host, const char *name, girdle_job *job) {
  GIRDLE_GIVEN(call, host, name, job);
  costume_work work;
  memset(&work, 0, sizeof work);
  work.name = name;
  work.job = job;
  return girdle_limited_run(host, call, &host->options, costume_body, girdle_host_take_zones, &work);
}
