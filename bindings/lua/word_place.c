/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "fields.h"
#include "words.h"

/* The verbs, and the methods of what they place. */

/* ---- what all verbs share */

/* What was placed stays in the box on top. In an own script the core's memory is not counted, so it is told here. */
static int placed(lua_State *L, girdle_lua_work *work, girdle_placement **box, int32_t status, const char *word) {
  int64_t count;
  girdle_lua_check(L, work, status, word);
  count = girdle_placement_view(*box, NULL, NULL, NULL);
  if (count > work->context->most_stones)
    return girdle_lua_fail(L, GIRDLE_LIMIT, "stones", "%s places %I stones, more than the limit of %I", word,
                           (lua_Integer)count, (lua_Integer)work->context->most_stones);
  if (!work->context->limited) work->context->made_bytes += (uint64_t)count * sizeof(girdle_placed);
  girdle_lua_pay(L, work->context);
  return 1;
}

static int64_t wished_count(lua_State *L, girdle_lua_work *work, const girdle_lua_value *value) {
  if (value->integer > work->context->most_stones)
    girdle_lua_fail(L, GIRDLE_LIMIT, "count", "count is %I, more than the limit of %I stones",
                    (lua_Integer)value->integer, (lua_Integer)work->context->most_stones);
  return value->integer;
}

static double number_or(const girdle_lua_value *value, double otherwise) {
  return value->given ? value->number : otherwise;
}

static uint32_t flag_of(const girdle_lua_value *value, uint32_t flag) {
  return value->choice ? flag : 0;
}

static const girdle_path *set_in(lua_State *L, girdle_lua_work *work, const girdle_path *along,
                                 const girdle_lua_value *by, const char *word) {
  return girdle_lua_set_in(L, work, along, by->given ? by->number : 0, word);
}

/* Pairs of lengths, as the core wants them. Pushes what holds them. */
static const girdle_stretch *stretches(lua_State *L, const girdle_lua_value *leave) {
  girdle_stretch *list;
  if (!leave->count) return NULL;
  list = lua_newuserdatauv(L, (size_t)leave->count * sizeof *list, 0);
  for (uint64_t i = 0; i < leave->count; i++) {
    list[i].from_mm = leave->numbers[GIRDLE_LUA_ROW * i];
    list[i].to_mm = leave->numbers[GIRDLE_LUA_ROW * i + 1];
  }
  return list;
}

static uint64_t seed_of(const girdle_lua_work *work, const girdle_lua_value *seed) {
  return seed->given ? (uint64_t)seed->integer : work->context->seed;
}

/* The fields all verbs begin with, into options that name them alike. */
#define TAKE_HEAD(options, v)                                   \
  do {                                                          \
    (options).stones = (v)[VERB_STONES].stones;                 \
    (options).stone_count = (v)[VERB_STONES].count;             \
    (options).gap_mm = number_or(&(v)[VERB_GAP], 0);            \
    (options).count = wished_count(L, &work, &(v)[VERB_COUNT]); \
    (options).clear_of = (v)[VERB_CLEAR_OF].handle;             \
  } while (0)

/* What lies along a line and ends at stretches, corners and ends: run and band. `first` is the place of ends. */
#define TAKE_LINE(options, v, first, flag)                                                \
  do {                                                                                    \
    (options).flags = (flag) | flag_of(&(v)[(first) + LINE_ENDS], GIRDLE_ENDS_INSIDE);    \
    (options).corner_deg = number_or(&(v)[(first) + LINE_CORNERS], (options).corner_deg); \
    (options).turn_deg = (v)[(first) + LINE_TURN].number;                                 \
    (options).leave = stretches(L, &(v)[(first) + LINE_LEAVE]);                           \
    (options).leave_count = (v)[(first) + LINE_LEAVE].count;                              \
  } while (0)

/* ---- verbs */

int girdle_lua_run(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[RUN_END];
  girdle_run_options options;
  const girdle_path *along;
  girdle_placement **out;
  girdle_lua_fields(L, &work, 1, "run", girdle_fields_run, v);
  girdle_run_options_init(&options, sizeof options);
  TAKE_HEAD(options, v);
  TAKE_LINE(options, v, RUN_LINE, flag_of(&v[RUN_WHOLE], GIRDLE_WHOLE));
  along = set_in(L, &work, v[VERB_SHAPE].handle, &v[RUN_LINE + LINE_SET_IN], "run");
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_run(&work.call, along, &options, out), "run");
}

int girdle_lua_band(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[BAND_END];
  girdle_band_options options;
  const girdle_path *along;
  girdle_placement **out;
  girdle_lua_fields(L, &work, 1, "band", girdle_fields_band, v);
  girdle_band_options_init(&options, sizeof options);
  TAKE_HEAD(options, v);
  options.row_counts = v[VERB_STONES].counts;
  options.rows = v[VERB_STONES].rows;
  options.row_gap_mm = v[BAND_ROW_GAP].number;
  options.side = v[BAND_SIDE].given ? v[BAND_SIDE].choice : GIRDLE_SIDE_RIGHT;
  TAKE_LINE(options, v, BAND_LINE, flag_of(&v[BAND_STAGGER], GIRDLE_STAGGER));
  along = set_in(L, &work, v[VERB_SHAPE].handle, &v[BAND_LINE + LINE_SET_IN], "band");
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_band(&work.call, along, &options, out), "band");
}

int girdle_lua_cover(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[COVER_END];
  girdle_cover_options options;
  girdle_placement **out;
  girdle_lua_fields(L, &work, 1, "cover", girdle_fields_cover, v);
  girdle_cover_options_init(&options, sizeof options);
  TAKE_HEAD(options, v);
  options.margin_mm = number_or(&v[COVER_MARGIN], 0);
  options.setting = v[COVER_SETTING].choice;
  options.turn_deg = v[COVER_TURN].number;
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_cover(&work.call, v[VERB_SHAPE].handle, &options, out), "cover");
}

int girdle_lua_scatter(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[SCATTER_END];
  girdle_scatter_options options;
  girdle_placement **out;
  girdle_lua_fields(L, &work, 1, "scatter", girdle_fields_scatter, v);
  girdle_scatter_options_init(&options, sizeof options);
  TAKE_HEAD(options, v);
  options.weights = v[VERB_STONES].numbers;
  options.margin_mm = number_or(&v[SCATTER_MARGIN], 0);
  options.around = v[SCATTER_AROUND].handle;
  options.flags = flag_of(&v[SCATTER_FILL_UP], GIRDLE_FILL_UP) | flag_of(&v[SCATTER_DENSE], GIRDLE_DENSE);
  options.seed = seed_of(&work, &v[SCATTER_SEED]);
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_scatter(&work.call, v[VERB_SHAPE].handle, &options, out), "scatter");
}

int girdle_lua_grade(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[GRADE_END];
  girdle_grade_options options;
  girdle_placement **out;
  girdle_lua_fields(L, &work, 1, "grade", girdle_fields_grade, v);
  girdle_grade_options_init(&options, sizeof options);
  options.stones = v[GRADE_STONES].stones;
  options.stone_count = v[GRADE_STONES].count;
  options.gap_mm = number_or(&v[GRADE_GAP], 0);
  options.edge = v[GRADE_EDGE].handle;
  options.depth_mm = number_or(&v[GRADE_DEPTH], options.depth_mm);
  options.margin_mm = number_or(&v[GRADE_MARGIN], 0);
  options.clear_of = v[GRADE_CLEAR_OF].handle;
  options.seed = seed_of(&work, &v[GRADE_SEED]);
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_grade(&work.call, v[GRADE_WITHIN].handle, &options, out), "grade");
}

int girdle_lua_fade(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[FADE_END];
  girdle_fade_options options;
  girdle_placement **out;
  girdle_lua_fields(L, &work, 1, "fade", girdle_fields_fade, v);
  girdle_fade_options_init(&options, sizeof options);
  TAKE_HEAD(options, v);
  options.margin_mm = number_or(&v[FADE_MARGIN], 0);
  options.from_x_mm = v[FADE_FROM].x_mm;
  options.from_y_mm = v[FADE_FROM].y_mm;
  options.to_x_mm = v[FADE_TO].x_mm;
  options.to_y_mm = v[FADE_TO].y_mm;
  options.seed = seed_of(&work, &v[FADE_SEED]);
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_fade(&work.call, v[VERB_SHAPE].handle, &options, out), "fade");
}

int girdle_lua_between(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[BETWEEN_END];
  girdle_between_options options;
  girdle_placement **out;
  girdle_lua_fields(L, &work, 1, "between", girdle_fields_between, v);
  girdle_between_options_init(&options, sizeof options);
  TAKE_HEAD(options, v);
  options.margin_mm = number_or(&v[BETWEEN_MARGIN], 0);
  options.around = v[BETWEEN_AROUND].handle;
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_between(&work.call, v[VERB_SHAPE].handle, &options, out), "between");
}

/* Where copies go, as the core wants it. Pushes what holds it. */
static const girdle_motif_place *motif_places(lua_State *L, const girdle_lua_value *at) {
  girdle_motif_place *list = lua_newuserdatauv(L, (size_t)(at->count + 1) * sizeof *list, 0);
  for (uint64_t i = 0; i < at->count; i++) {
    const double *row = &at->numbers[GIRDLE_LUA_ROW * i];
    list[i] = (girdle_motif_place){row[0], row[1], row[2], row[3]};
  }
  return list;
}

int girdle_lua_motif(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[MOTIF_END];
  girdle_motif_options options;
  girdle_placement **out;
  girdle_lua_fields(L, &work, 1, "motif", girdle_fields_motif, v);
  if (v[MOTIF_ALONG].given == v[MOTIF_AT].given)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "along",
                           "motif takes either along or at, like motif { placement = star, along = line(\"38 cm\") }");
  girdle_motif_options_init(&options, sizeof options);
  options.along = v[MOTIF_ALONG].handle;
  options.at = v[MOTIF_AT].given ? motif_places(L, &v[MOTIF_AT]) : NULL;
  options.at_count = v[MOTIF_AT].count;
  options.gap_mm = number_or(&v[MOTIF_GAP], 0);
  options.count = wished_count(L, &work, &v[MOTIF_COUNT]);
  options.clear_of = v[MOTIF_CLEAR_OF].handle;
  options.flags = flag_of(&v[MOTIF_COLLIDE], GIRDLE_COLLIDE);
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_motif(&work.call, v[MOTIF_PLACEMENT].handle, &options, out), "motif");
}

/* Stones in turn at places given one by one. */
int girdle_lua_set(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[SET_END];
  girdle_placed *records;
  girdle_placement **out;
  girdle_lua_fields(L, &work, 1, "set", girdle_fields_set, v);
  records = lua_newuserdatauv(L, (size_t)(v[SET_AT].count + 1) * sizeof *records, 0);
  for (uint64_t i = 0; i < v[SET_AT].count; i++) {
    const double *row = &v[SET_AT].numbers[GIRDLE_LUA_ROW * i];
    double turn = fmod(row[2], 360);
    records[i] =
        (girdle_placed){row[0], row[1], (float)(turn < 0 ? turn + 360 : turn), (uint16_t)(i % v[SET_STONES].count), 0};
  }
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out,
                girdle_placement_new(&work.call, v[SET_STONES].stones, (uint32_t)v[SET_STONES].count, records,
                                     v[SET_AT].count, out),
                "set");
}

/* ---- quick counts */

int girdle_lua_count_along(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[ALONG_END];
  girdle_count count;
  girdle_lua_fields(L, &work, 1, "count_along", girdle_fields_count_along, v);
  girdle_lua_check(
      L, &work,
      girdle_count_along(&work.call, v[ALONG_LENGTH].number, v[ALONG_CLOSED].choice, v[ALONG_STONES].stones,
                         v[ALONG_STONES].count, number_or(&v[ALONG_GAP], 0), &count),
      "count_along");
  lua_pushinteger(L, (lua_Integer)count.expected);
  lua_pushnumber(L, count.gap_mm);
  return 2;
}

int girdle_lua_count_over(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[OVER_END];
  girdle_count count;
  girdle_lua_fields(L, &work, 1, "count_over", girdle_fields_count_over, v);
  if (v[OVER_CONVEX].choice && v[OVER_HOLES].integer)
    girdle_lua_fail(L, GIRDLE_ARGUMENT, "convex", "count_over: an area with holes is not convex");
  if (v[OVER_CONVEX].choice) v[OVER_HOLES].integer = GIRDLE_CONVEX;
  girdle_lua_check(L, &work,
                   girdle_count_over(&work.call, v[OVER_AREA].number, v[OVER_PERIMETER].number, v[OVER_HOLES].integer,
                                     v[OVER_STONE].stones, number_or(&v[OVER_GAP], 0), v[OVER_SETTING].choice, &count),
                   "count_over");
  lua_pushinteger(L, (lua_Integer)count.expected);
  lua_pushinteger(L, (lua_Integer)count.least);
  lua_pushinteger(L, (lua_Integer)count.most);
  return 3;
}

/* ---- reading a placement */

static const girdle_placement *placement_at(lua_State *L, int index, const char *word) {
  girdle_placement **box = girdle_lua_box_need(L, index, GIRDLE_BOX_PLACEMENT, word);
  if (!*box) girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "this placement is closed");
  return *box;
}

/* The stones of a placement as a list, its first user value once made, so that a walk makes no garbage. Pushes it. */
static void push_stones(lua_State *L, int index) {
  const girdle_stone *stones;
  uint32_t count;
  if (lua_getiuservalue(L, index, 1) == LUA_TTABLE) return;
  lua_pop(L, 1);
  girdle_placement_view(girdle_lua_placement_at(L, index), NULL, &stones, &count);
  lua_createtable(L, (int)count, 0);
  for (uint32_t i = 0; i < count; i++) {
    girdle_lua_push_stone(L, &stones[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_pushvalue(L, -1);
  lua_setiuservalue(L, index, 1);
}

/* A walk over the records. Its user values keep the placement and the list of its stones. */
typedef struct walk {
  const void *mark; /* &walk_mark, so that a userdata of somebody else's is not taken for a walk */
  const girdle_placed *records;
  int64_t count, next;
} walk;
static const char walk_mark = 0;

static int walk_next(lua_State *L) {
  walk *at = lua_touserdata(L, 1);
  const girdle_placed *record;
  if (!at || lua_rawlen(L, 1) != sizeof *at || at->mark != &walk_mark)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "each is for loops: for x, y, turn, stone, row in p:each() do");
  if (at->next >= at->count) return 0;
  record = &at->records[at->next++];
  lua_pushnumber(L, record->x_mm);
  lua_pushnumber(L, record->y_mm);
  lua_pushnumber(L, record->turn_deg);
  lua_getiuservalue(L, 1, 2);
  lua_rawgeti(L, -1, (lua_Integer)record->stone + 1);
  lua_replace(L, -2);
  lua_pushinteger(L, (lua_Integer)record->row + 1);
  return 5;
}

int girdle_lua_placement_each(lua_State *L) {
  const girdle_placement *placement = placement_at(L, 1, "each");
  walk *at;
  lua_pushcfunction(L, walk_next);
  at = lua_newuserdatauv(L, sizeof *at, 2);
  memset(at, 0, sizeof *at);
  at->mark = &walk_mark;
  at->count = girdle_placement_view(placement, &at->records, NULL, NULL);
  lua_pushvalue(L, 1);
  lua_setiuservalue(L, -2, 1);
  push_stones(L, 1);
  lua_setiuservalue(L, -2, 2);
  return 2;
}

int girdle_lua_placement_counts(lua_State *L) {
  const girdle_placed *records;
  uint32_t stone_count;
  int64_t count = girdle_placement_view(placement_at(L, 1, "counts"), &records, NULL, &stone_count), *sums;
  lua_Integer place = 1;
  sums = lua_newuserdatauv(L, (size_t)stone_count * sizeof *sums + 1, 0);
  memset(sums, 0, (size_t)stone_count * sizeof *sums);
  for (int64_t i = 0; i < count; i++)
    sums[records[i].stone]++;
  girdle_lua_charge(L, (uint64_t)count);
  push_stones(L, 1);
  lua_createtable(L, (int)stone_count, 0);
  for (uint32_t i = 0; i < stone_count; i++) {
    if (!sums[i]) continue;
    lua_createtable(L, 0, 2);
    lua_rawgeti(L, -3, (lua_Integer)i + 1);
    lua_setfield(L, -2, "stone");
    lua_pushinteger(L, (lua_Integer)sums[i]);
    lua_setfield(L, -2, "count");
    lua_rawseti(L, -2, place++);
  }
  return 1;
}

static void set_number(lua_State *L, const char *name, double value) {
  if (isnan(value)) return;
  lua_pushnumber(L, value);
  lua_setfield(L, -2, name);
}

static void set_integer(lua_State *L, const char *name, int64_t value) {
  lua_pushinteger(L, (lua_Integer)value);
  lua_setfield(L, -2, name);
}

static void set_flag(lua_State *L, const char *name, uint32_t flag) {
  lua_pushboolean(L, flag != 0);
  lua_setfield(L, -2, name);
}

int girdle_lua_placement_notes(lua_State *L) {
  girdle_lua_work work;
  girdle_notes notes;
  const girdle_placement *placement = placement_at(L, 1, "notes");
  girdle_lua_begin(L, &work);
  memset(&notes, 0, sizeof notes);
  notes.struct_bytes = sizeof notes;
  girdle_lua_check(L, &work, girdle_placement_notes(&work.call, placement, &notes), "notes");
  lua_createtable(L, 0, 10);
  set_flag(L, "uneven", notes.flags & GIRDLE_NOTE_UNEVEN);
  set_flag(L, "maximal", notes.flags & GIRDLE_NOTE_MAXIMAL);
  set_flag(L, "surplus", notes.flags & GIRDLE_NOTE_SURPLUS);
  set_integer(L, "left_out", notes.left_out);
  set_integer(L, "bound_least", notes.bound_least);
  set_integer(L, "bound_most", notes.bound_most);
  set_integer(L, "seed", (int64_t)notes.seed);
  set_number(L, "gap_mm", notes.gap_mm);
  set_number(L, "leftover_mm", notes.leftover_mm);
  set_number(L, "undecided_mm2", notes.undecided_mm2);
  return 1;
}

int girdle_lua_placement_overlaps(lua_State *L) {
  girdle_lua_work work;
  girdle_overlap *pairs;
  uint64_t count;
  enum { MOST = 1000 };
  const girdle_placement *placement = placement_at(L, 1, "overlaps");
  girdle_lua_begin(L, &work);
  pairs = lua_newuserdatauv(L, MOST * sizeof *pairs, 0);
  girdle_lua_check(L, &work, girdle_placement_overlaps(&work.call, placement, pairs, MOST, &count), "overlaps");
  lua_pushinteger(L, (lua_Integer)count);
  lua_createtable(L, (int)(count < MOST ? count : MOST), 0);
  for (uint64_t i = 0; i < count && i < MOST; i++) {
    lua_createtable(L, 0, 3);
    set_integer(L, "first", (int64_t)pairs[i].first + 1);
    set_integer(L, "second", (int64_t)pairs[i].second + 1);
    set_number(L, "depth_mm", pairs[i].depth_mm);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 2;
}

/* ---- changing a placement */

int girdle_lua_placement_joined(lua_State *L) {
  girdle_lua_work work;
  girdle_placement **out;
  const girdle_placement *first = girdle_lua_placement_at(L, 1), *second = girdle_lua_placement_at(L, 2);
  if (!first || !second)
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, NULL, "only placements can be joined with +, not %s and %s",
                           girdle_lua_type_text(L, 1), girdle_lua_type_text(L, 2));
  girdle_lua_begin(L, &work);
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_placement_joined(&work.call, first, second, out), "+");
}

int girdle_lua_placement_mirrored(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value x[1];
  girdle_placement **out;
  const girdle_placement *from = placement_at(L, 1, "mirrored");
  girdle_lua_places(L, &work, 2, "mirrored", girdle_fields_mirrored, x);
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_placement_mirrored(&work.call, from, number_or(x, 0), out), "mirrored");
}

int girdle_lua_placement_folded(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value x[2], snap[1] = {{0}};
  girdle_placement **out;
  const girdle_placement *from = placement_at(L, 1, "folded");
  girdle_lua_places(L, &work, 2, "folded", girdle_fields_folded, x);
  if (x[1].given) girdle_lua_fields(L, &work, 3, "folded", girdle_fields_folded_snap, snap);
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_placement_folded(&work.call, from, number_or(x, 0), number_or(snap, 0.1), out),
                "folded");
}

int girdle_lua_placement_moved(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value by[2];
  girdle_placement **out;
  const girdle_placement *from = placement_at(L, 1, "moved");
  girdle_lua_places(L, &work, 2, "moved", girdle_fields_moved, by);
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_placement_moved(&work.call, from, by[0].number, by[1].number, out), "moved");
}

int girdle_lua_placement_turned(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value turn[1];
  girdle_placement **out;
  const girdle_placement *from = placement_at(L, 1, "turned");
  girdle_lua_places(L, &work, 2, "turned", girdle_fields_turned, turn);
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_placement_turned(&work.call, from, turn[0].number, out), "turned");
}

int girdle_lua_placement_without(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value region[1];
  girdle_placement **out;
  const girdle_placement *from = placement_at(L, 1, "without");
  girdle_lua_places(L, &work, 2, "without", girdle_fields_without, region);
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_placement_without(&work.call, from, region[0].handle, out), "without");
}

int girdle_lua_placement_clear_of(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[2];
  girdle_placement **out;
  const girdle_placement *from = placement_at(L, 1, "clear_of");
  girdle_lua_places(L, &work, 2, "clear_of", girdle_fields_clear_of, v);
  out = girdle_lua_new_placement(L);
  return placed(L, &work, out, girdle_placement_clear_of(&work.call, from, v[0].handle, number_or(&v[1], 0), out),
                "clear_of");
}
