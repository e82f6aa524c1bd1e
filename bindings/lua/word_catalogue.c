/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "fields.h"
#include "words.h"

/* catalogue: sizes, cuts and materials of one's own, and stones that were weighed; the stones made from them. The rows
 * have the names that sizes(), cuts() and materials() give, so that a row from there can be changed and used. */

typedef struct catalogue {
  void *handle; /* always NULL */
  girdle_catalogue rows;
} catalogue; /* its user value is a table that holds the rows */

enum { FIRST = 2, MOST_ROWS = 10000 }; /* where the values of the word's fields stand: after its table */

/* ---- rows in */

/* One list on its way in. */
typedef struct list {
  int32_t field; /* of the word */
  const girdle_lua_field *fields;
  size_t row_bytes;
  /* Fills a row, and the catalogue that is to be checked with that row alone. The values stand on the stack from
   * `first` on. */
  int32_t (*take)(lua_State *L, girdle_lua_work *work, const girdle_lua_value *v, int first, void *row,
                  girdle_catalogue *alone);
} list;

static int32_t take_name(girdle_lua_work *work, const girdle_lua_value *v, const char *field, char *out, size_t bytes) {
  const char *text = v->given ? v->text : "the user's own";
  if (girdle_common_text(out, bytes, text)) return GIRDLE_OK;
  return girdle_common_fail(&work->call, GIRDLE_LIMIT, field, "%s '%.40s' has more than %d bytes", field, text,
                            (int)bytes - 1);
}

/* Least, nominal and most from three values in this order; missing ends are the nominal one. */
static void take_range(const girdle_lua_value *v, double out[3]) {
  for (int i = 0; i < 3; i++)
    out[i] = v[i].given ? v[i].number : v[1].number;
}

static int32_t take_size(lua_State *L, girdle_lua_work *work, const girdle_lua_value *v, int first, void *row,
                         girdle_catalogue *alone) {
  girdle_size *size = row;
  (void)L;
  (void)first;
  take_range(&v[OWN_SIZE_LEAST], size->diameter_mm);
  size->certainty = v[OWN_SIZE_CERTAINTY].given ? v[OWN_SIZE_CERTAINTY].choice : GIRDLE_OWN_SIZE;
  alone->sizes = size;
  alone->size_count = 1;
  return take_name(work, &v[OWN_SIZE_NAME], "name", size->name, sizeof size->name);
}

static int32_t take_cut(lua_State *L, girdle_lua_work *work, const girdle_lua_value *v, int first, void *row,
                        girdle_catalogue *alone) {
  girdle_cut *cut = row;
  (void)L;
  (void)first;
  cut->facets = (int32_t)v[OWN_CUT_FACETS].integer;
  cut->turned = v[OWN_CUT_TURNED].choice;
  take_range(&v[OWN_CUT_TABLE_LEAST], cut->table_ratio);
  take_range(&v[OWN_CUT_HEIGHT_LEAST], cut->height_ratio);
  take_range(&v[OWN_CUT_GIRDLE_LEAST], cut->girdle_ratio);
  alone->cuts = cut;
  alone->cut_count = 1;
  GIRDLE_TRY(take_name(work, &v[OWN_CUT_SOURCE], "source", cut->source, sizeof cut->source));
  return take_name(work, &v[OWN_CUT_NAME], "name", cut->name, sizeof cut->name);
}

static int32_t take_material(lua_State *L, girdle_lua_work *work, const girdle_lua_value *v, int first, void *row,
                             girdle_catalogue *alone) {
  girdle_material *material = row;
  (void)L;
  (void)first;
  take_range(&v[OWN_MATERIAL_LEAST], material->density_g_cm3);
  material->minimum = v[OWN_MATERIAL_MINIMUM].choice;
  material->lead = v[OWN_MATERIAL_LEAD].given ? v[OWN_MATERIAL_LEAD].choice : GIRDLE_LEAD_UNKNOWN;
  alone->materials = material;
  alone->material_count = 1;
  GIRDLE_TRY(take_name(work, &v[OWN_MATERIAL_SOURCE], "source", material->source, sizeof material->source));
  return take_name(work, &v[OWN_MATERIAL_NAME], "name", material->name, sizeof material->name);
}

/* What was weighed is a stone of this catalogue: `alone` has its other rows. */
static int32_t take_weighed(lua_State *L, girdle_lua_work *work, const girdle_lua_value *v, int first, void *row,
                            girdle_catalogue *alone) {
  girdle_stone *weighed = row;
  lua_pushvalue(L, first);
  girdle_lua_push_stone_of(L, lua_gettop(L), alone);
  return girdle_stone_weigh(&work->call, girdle_lua_stone_at(L, -1), v[OWN_WEIGHED_PIECES].integer,
                            v[OWN_WEIGHED_MASS].number, v[OWN_WEIGHED_ERROR].given ? v[OWN_WEIGHED_ERROR].number : 0,
                            weighed, NULL);
}

static const list lists[CATALOGUE_END] = {
    {CATALOGUE_SIZES, girdle_fields_own_size, sizeof(girdle_size), take_size},
    {CATALOGUE_CUTS, girdle_fields_own_cut, sizeof(girdle_cut), take_cut},
    {CATALOGUE_MATERIALS, girdle_fields_own_material, sizeof(girdle_material), take_material},
    {CATALOGUE_WEIGHED, girdle_fields_own_weighed, sizeof(girdle_stone), take_weighed},
};

/* Reads the list that stands in the place of a field and puts what holds its rows there. */
static const void *take_rows(lua_State *L, const list *from, const girdle_catalogue *so_far, uint64_t *count) {
  girdle_lua_value v[GIRDLE_LUA_PLACES];
  girdle_lua_work work;
  const char *name = girdle_fields_catalogue[from->field].name;
  char *rows;
  int place = FIRST + from->field, top;
  *count = lua_isnil(L, place) ? 0 : lua_rawlen(L, place);
  if (*count > MOST_ROWS) girdle_lua_fail(L, GIRDLE_LIMIT, name, "%s has more than %d rows", name, MOST_ROWS);
  rows = lua_newuserdatauv(L, (size_t)*count * from->row_bytes + 1, 0);
  memset(rows, 0, (size_t)*count * from->row_bytes);
  top = lua_gettop(L);
  for (uint64_t i = 0; i < *count; i++) {
    girdle_catalogue alone = *so_far;
    const char *word;
    lua_rawgeti(L, place, (lua_Integer)i + 1);
    word = lua_pushfstring(L, "row %I of %s", (lua_Integer)i + 1, name);
    girdle_lua_charge(L, 1);
    girdle_lua_fields(L, &work, top + 1, word, from->fields, v);
    girdle_lua_check(L, &work, from->take(L, &work, v, top + 3, rows + i * from->row_bytes, &alone), word);
    girdle_lua_check(L, &work, girdle_catalogue_check(&work.call, &alone), word);
    lua_settop(L, top);
  }
  lua_replace(L, place);
  return rows;
}

int girdle_lua_catalogue(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value v[CATALOGUE_END];
  girdle_catalogue none = {.struct_bytes = sizeof none}, rows = none;
  catalogue *made;
  uint64_t weighed_count;
  lua_settop(L, 1);
  girdle_lua_fields(L, &work, 1, "catalogue", girdle_fields_catalogue, v);
  rows.sizes = take_rows(L, &lists[CATALOGUE_SIZES], &none, &rows.size_count);
  rows.cuts = take_rows(L, &lists[CATALOGUE_CUTS], &none, &rows.cut_count);
  rows.materials = take_rows(L, &lists[CATALOGUE_MATERIALS], &none, &rows.material_count);
  rows.weighed = take_rows(L, &lists[CATALOGUE_WEIGHED], &rows, &weighed_count);
  rows.weighed_count = weighed_count; /* not before its rows are there */
  made = girdle_lua_box(L, GIRDLE_BOX_CATALOGUE, sizeof *made);
  made->rows = rows;
  lua_createtable(L, CATALOGUE_END, 0);
  for (int i = 0; i < CATALOGUE_END; i++) {
    lua_pushvalue(L, FIRST + i);
    lua_rawseti(L, -2, i + 1);
  }
  lua_setiuservalue(L, -2, 1);
  return 1;
}

/* ---- methods */

static const girdle_catalogue *own_at(lua_State *L, const char *word) {
  return &((const catalogue *)girdle_lua_box_need(L, 1, GIRDLE_BOX_CATALOGUE, word))->rows;
}

int girdle_lua_catalogue_stone(lua_State *L) {
  return girdle_lua_push_stone_of(L, 2, own_at(L, "stone"));
}

int girdle_lua_catalogue_likely_sizes(lua_State *L) {
  return girdle_lua_push_likely(L, 2, own_at(L, "likely_sizes"));
}

int girdle_lua_catalogue_solid(lua_State *L) {
  girdle_lua_work work;
  girdle_lua_value stone[1];
  const girdle_catalogue *own = own_at(L, "solid");
  girdle_lua_places(L, &work, 2, "solid", girdle_fields_solid, stone);
  return girdle_lua_push_solid(L, stone[0].stones, own);
}
