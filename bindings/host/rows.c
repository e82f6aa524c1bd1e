/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "costumes.h"

/* Rows of a table of zones: the shape fills the recipe's first path or region, `stones` its stones in order, `gap` and
 * `leave` the parameters of those names, `given` whatever else it takes. Lengths may be the names of measures. */

static int is_blank(const char *text) {
  return text[strspn(text, " \t")] == '\0';
}

static char plain_letter(char c) {
  return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c == '_' ? ' ' : c;
}

static int same_name(const char *a, const char *b) {
  for (; *a && plain_letter(*a) == plain_letter(*b); a++)
    b++;
  return !*a && !*b;
}

static const girdle_measure *measure_of(const girdle_job *job, const char *name) {
  uint64_t count;
  const girdle_measure *list = girdle_job_measures(job, &count);
  for (uint64_t i = 0; i < count; i++)
    if (same_name(list[i].name, name)) return &list[i];
  return NULL;
}

/* What a measure may be that comes with the wearer: the middle of what is usual. */
static double usual_mm(const char *name) {
  double least, most;
  uint64_t body;
  if (girdle_measure_find(NULL, name, &body)) return 300;
  girdle_measure_plausible(body, 0, &least, &most);
  return isfinite(most) ? (least + most) / 2 : 300;
}

/* A length has one word behind its number, and then how it is meant; "neckline" and "2nd waist" are names. */
static int is_name(const char *text) {
  const char *word = text + strspn(text, "0123456789.,/ -"), *last = strrchr(word, ' ');
  return *text && (word == text || (last && strcmp(last, " worn") != 0 && strcmp(last, " glued") != 0));
}

/* While rows are only looked at, a measure that the job lacks is to come. */
static int is_to_come(const costume_work *of, const char *text) {
  return of->checked && is_name(text) && !measure_of(of->job, text);
}

/* Pushes what stands for it in a recipe's parameter. */
static void push_usual(lua_State *L, const girdle_lua_field *field, const char *name) {
  lua_pushnumber(L, fmin(fmax(usual_mm(name), field->least), field->most));
}

static void unknown_measure(lua_State *L, const girdle_job *job, const char *field, const char *name) {
  const char *names[128];
  uint64_t count, known;
  const girdle_measure *list = girdle_job_measures(job, &count);
  for (known = 0; known < count && known < 128; known++)
    names[known] = list[known].name;
  if (!girdle_nearest(name, names, known))
    girdle_lua_fail(
        L, GIRDLE_UNKNOWN, field,
        "unknown measure in %s '%s': a wearer's own stand in club.csv; without one give it, like %s=\"60 cm\"", field,
        name, name);
  girdle_lua_unknown(L, lua_pushfstring(L, "measure in %s", field), name, names, known);
}

/* Pushes a length in mm: "52 cm", or the name of a measure. */
static void push_length(lua_State *L, const costume_work *of, const char *field, const char *text) {
  static const girdle_lua_field length = {"length", GIRDLE_KIND_LENGTH, 1, 1e-3, 1e7, NULL, NULL, "52 cm", NULL};
  girdle_lua_work work;
  girdle_lua_value value;
  const girdle_measure *measure = measure_of(of->job, text);
  if (measure || is_to_come(of, text)) {
    lua_pushnumber(L, measure ? measure->mm : usual_mm(text));
    return;
  }
  if (is_name(text)) unknown_measure(L, of->job, field, text);
  girdle_lua_begin(L, &work);
  lua_pushstring(L, text);
  girdle_lua_check(L, &work, girdle_lua_read(L, &work, &length, &value), field);
  lua_pushnumber(L, value.number);
  lua_replace(L, -2);
}

/* ---- shapes */

static const girdle_path *outline_of(const girdle_host *host, const char *name) {
  for (uint64_t i = 0; i < host->drawing_count; i++)
    for (uint64_t k = 0; k < host->drawings[i].count; k++)
      if (strcmp(host->drawings[i].outlines[k].name, name) == 0) return host->drawings[i].outlines[k].path;
  return NULL;
}

/* The word at the beginning of a shape's text, as many letters as it has; a panel and an area have their measures
 * behind the word, not in columns. */
static size_t word_length(const char *text, char word[32]) {
  girdle_tape tape;
  size_t longest = 0;
  for (uint64_t i = 0; girdle_tape_info(i, &tape); i++) {
    size_t length = strlen(tape.word);
    if (strcmp(tape.word, "panel") == 0 || strcmp(tape.word, "area") == 0) continue;
    if (length > longest && strncmp(text, tape.word, length) == 0 && (text[length] == ' ' || !text[length]))
      longest = length;
  }
  if (longest >= 32) return 0;
  memcpy(word, text, longest);
  word[longest] = '\0';
  return longest;
}

enum { MEASURES = 4 };

static double length_of(lua_State *L, const costume_work *of, const char *field, const char *text) {
  double length;
  push_length(L, of, field, text);
  length = lua_tonumber(L, -1);
  lua_pop(L, 1);
  return length;
}

/* "wrist x upper arm x 55 cm": lengths and names of measures with a cross between. */
static uint64_t measures_in(lua_State *L, const costume_work *of, const char *text, double *measures) {
  uint64_t count = 0;
  while (text && count < MEASURES) {
    const char *cross = strstr(text, " x ");
    size_t length = cross ? (size_t)(cross - text) : strlen(text);
    for (; length && *text == ' '; length--)
      text++;
    while (length && text[length - 1] == ' ')
      length--;
    lua_pushlstring(L, text, length);
    measures[count++] = length_of(L, of, "shape", lua_tostring(L, -1));
    lua_pop(L, 1);
    text = cross ? cross + 3 : NULL;
  }
  return count;
}

/* The measures of a shape's word: those written behind it, or else those in length and width. */
static uint64_t measures_of(lua_State *L, const costume_work *of, const girdle_zone_row *row, const char *behind,
                            double *measures) {
  uint64_t count = 0;
  if (!is_blank(behind)) return measures_in(L, of, behind, measures);
  if (!is_blank(row->length)) measures[count++] = length_of(L, of, "length", row->length);
  if (!is_blank(row->width)) measures[count++] = length_of(L, of, "width", row->width);
  return count;
}

static void push_line(lua_State *L, uint64_t count, const double *measures) {
  girdle_lua_work work;
  girdle_path **path;
  if (count != 1) girdle_lua_fail(L, GIRDLE_ARGUMENT, "length", "a line needs one length, like 38 cm");
  girdle_lua_begin(L, &work);
  path = girdle_lua_new_path(L);
  girdle_lua_check(L, &work, girdle_path_line(&work.call, measures[0], path), "line");
}

/* A path where the recipe wants one, so that a loop begins where loops begin. */
static void push_tape(lua_State *L, const char *word, uint64_t count, const double *measures, int32_t kind) {
  girdle_lua_work work;
  girdle_lua_begin(L, &work);
  if (kind == GIRDLE_KIND_PATH) {
    girdle_path **path = girdle_lua_new_path(L);
    girdle_lua_check(L, &work, girdle_path_from_tape(&work.call, word, measures, count, path), "shape");
  } else {
    girdle_region **region = girdle_lua_new_region(L);
    girdle_lua_check(L, &work, girdle_region_from_tape(&work.call, word, measures, count, region), "shape");
  }
}

static void set_length(lua_State *L, const costume_work *of, const char *field, const char *text) {
  push_length(L, of, field, text);
  lua_setfield(L, -2, field);
}

/* Scales the shape on top to what length and width say. */
static void fit_shape(lua_State *L, const costume_work *of, const girdle_zone_row *row) {
  int by_length = !is_blank(row->length), by_width = !is_blank(row->width);
  if (!by_length && !by_width) return;
  lua_pushcfunction(L, girdle_lua_shape_fitted);
  lua_insert(L, -2);
  lua_createtable(L, 0, 2);
  if (by_length) set_length(L, of, "length", row->length);
  if (by_width) set_length(L, of, "width", row->width);
  lua_call(L, 2, 1);
}

/* An outline of a drawing, or what is written, fitted. */
static void push_drawn(lua_State *L, const girdle_limited *run, const girdle_zone_row *row, int32_t kind) {
  const costume_work *job = run->job;
  girdle_lua_field field = {"shape", kind, 1, 0, 0, NULL, NULL, "loop 34 cm", NULL};
  const girdle_path *outline = outline_of(run->host, row->shape);
  girdle_lua_work work;
  girdle_lua_value value;
  girdle_lua_begin(L, &work);
  if (outline)
    girdle_host_push_outline(L, outline);
  else
    lua_pushstring(L, row->shape);
  girdle_lua_check(L, &work, girdle_lua_read(L, &work, &field, &value), "shape");
  fit_shape(L, job, row);
}

/* Pushes the row's shape, ready for a parameter of the kind. Returns whether it lies where the drawing has it: what the
 * tape measured lies somewhere on the costume, and so does what is fitted to a measure. */
static int push_shape(lua_State *L, const girdle_limited *run, const girdle_zone_row *row, int32_t kind) {
  const costume_work *job = run->job;
  const char *text = is_blank(row->shape) ? "line" : row->shape;
  char word[32];
  size_t length = outline_of(run->host, text) ? 0 : word_length(text, word);
  double measures[MEASURES];
  uint64_t count;
  if (length == 0) {
    push_drawn(L, run, row, kind);
    return is_blank(row->length) && is_blank(row->width);
  }
  count = measures_of(L, job, row, text + length, measures);
  if (strcmp(word, "loop") == 0 && count == 2 && !is_blank(row->width))
    girdle_lua_fail(L, GIRDLE_ARGUMENT, "width", "a loop has a length only: leave width empty, as in loop,34 cm,");
  if (strcmp(word, "line") == 0)
    push_line(L, count, measures);
  else
    push_tape(L, word, count, measures, kind);
  return 0;
}

/* ---- filling a recipe's parameters */

/* Takes the next stone's text off the list; returns 0 when none is left. */
static int next_text(const char **at, const char **text, size_t *length) {
  if (!*at) return 0;
  *at += strspn(*at, " ");
  *text = *at;
  *length = strcspn(*at, ";");
  *at = (*at)[*length] ? *at + *length + 1 : NULL;
  while (*length && (*text)[*length - 1] == ' ')
    (*length)--;
  return *length > 0;
}

/* A row's stones go by many names in recipes, so what is wrong with one is told by the name of its column. */
static void push_stone(lua_State *L, const char *text, size_t length) {
  girdle_lua_work work;
  girdle_stone stone;
  girdle_lua_begin(L, &work);
  lua_pushlstring(L, text, length);
  girdle_lua_check(L, &work, girdle_stone_parse(&work.call, lua_tostring(L, -1), &stone), "stones");
}

typedef struct filling {
  const girdle_zone_row *row;
  const char *stones;
  int shapes;                           /* whether it is to get one */
  int shape, gap, leave, length, width; /* whether the recipe took them */
  int drawn;                            /* whether the shape lies where the drawing has it */
} filling;

/* A wearer's own gap stands among her measures, so that one count may be alike for all. */
static void push_gap(lua_State *L, const girdle_limited *run, const girdle_lua_field *field, const char *text) {
  const costume_work *work = run->job;
  const girdle_measure *own = measure_of(work->job, text);
  if (own)
    lua_pushnumber(L, own->mm);
  else if (is_to_come(work, text))
    push_usual(L, field, text);
  else
    lua_pushstring(L, text);
}

/* What is wrong with a stretch is told where it was written, not where the recipe uses it. */
static void push_leave(lua_State *L, const char *text) {
  static const girdle_lua_field field = {"leave", GIRDLE_KIND_STRETCHES, 0, 0, 0, NULL, NULL, "18 cm to 22 cm", NULL};
  girdle_lua_work work;
  girdle_lua_value value;
  girdle_lua_begin(L, &work);
  lua_pushstring(L, text);
  lua_pushvalue(L, -1);
  girdle_lua_check(L, &work, girdle_lua_read(L, &work, &field, &value), "leave");
  lua_pop(L, 1);
}

static int is_shape(const girdle_lua_field *field) {
  return field->kind == GIRDLE_KIND_PATH || field->kind == GIRDLE_KIND_REGION;
}

/* The first path or region. Without a word of it the recipe has its own way, or needs one. */
static int fill_shape(lua_State *L, const girdle_limited *run, const girdle_lua_field *field, filling *from) {
  const girdle_zone_row *row = from->row;
  int measured = !is_blank(row->length) || !is_blank(row->width);
  from->shape = 1;
  if (!is_blank(row->shape) || (measured && !row->need_shape)) {
    from->drawn = push_shape(L, run, row, field->kind);
    return 1;
  }
  if (field->needed && (measured || is_blank(row->given)))
    girdle_lua_fail(L, GIRDLE_ARGUMENT, "shape", "shape is missing: recipe '%s' needs a %s, like %s", row->recipe,
                    girdle_lua_kind_text(field->kind),
                    field->kind == GIRDLE_KIND_PATH ? "loop 34 cm" : "oval 9 cm x 7 cm");
  return 0;
}

/* Where no shape takes them, width fills the length of that name, and length the first other one. */
static int fill_length(lua_State *L, const girdle_limited *run, const girdle_lua_field *field, filling *from) {
  const costume_work *job = run->job;
  int by_width = strcmp(field->name, "width") == 0, *taken = by_width ? &from->width : &from->length;
  const char *text = by_width ? from->row->width : from->row->length;
  if (from->shapes || field->kind != GIRDLE_KIND_LENGTH || *taken || is_blank(text)) return 0;
  *taken = 1;
  push_length(L, job, by_width ? "width" : "length", text);
  return 1;
}

/* Sets one parameter in the table at `given` from the row's own columns. */
static void fill(lua_State *L, girdle_limited *run, const girdle_lua_field *field, int given, filling *from) {
  const char *text;
  size_t length;
  if (is_shape(field) && from->shapes && !from->shape) {
    if (!fill_shape(L, run, field, from)) return;
  } else if (field->kind == GIRDLE_KIND_STONE && next_text(&from->stones, &text, &length)) {
    push_stone(L, text, length);
  } else if (field->kind == GIRDLE_KIND_STONES && from->stones && !is_blank(from->stones)) {
    lua_pushstring(L, from->stones);
    from->stones = NULL;
  } else if (strcmp(field->name, "gap") == 0 && !is_blank(from->row->gap)) {
    from->gap = 1;
    push_gap(L, run, field, from->row->gap);
  } else if (strcmp(field->name, "leave") == 0 && !is_blank(from->row->leave)) {
    from->leave = 1;
    push_leave(L, from->row->leave);
  } else if (!fill_length(L, run, field, from)) {
    return;
  }
  lua_setfield(L, given, field->name);
}

/* Pushes the names of what the recipe takes: "size, rays, gap". */
static const char *push_names(lua_State *L, int recipe) {
  girdle_lua_field field;
  lua_pushliteral(L, "");
  for (int place = 1; girdle_lua_parameter(L, recipe, place, &field); place++) {
    lua_pop(L, 1);
    lua_pushfstring(L, "%s%s%s", lua_tostring(L, -1), place > 1 ? ", " : "", field.name);
    lua_replace(L, -2);
  }
  return lua_tostring(L, -1);
}

static void refuse_rest(lua_State *L, int recipe, const filling *from) {
  const girdle_zone_row *row = from->row;
  const char *what = NULL;
  if (!from->shape && !is_blank(row->shape)) what = "shape";
  if (!from->gap && !is_blank(row->gap)) what = "gap";
  if (!from->leave && !is_blank(row->leave)) what = "leave";
  if (!from->shapes && !from->length && !is_blank(row->length)) what = "length";
  if (!from->shapes && !from->width && !is_blank(row->width)) what = "width";
  if (from->stones && !is_blank(from->stones)) what = "stones";
  if (what)
    girdle_lua_fail(L, GIRDLE_ARGUMENT, what, "nothing is left that '%s' could fill: recipe '%s' takes %s", what,
                    row->recipe, push_names(L, recipe));
}

/* ---- whatever else a recipe takes: "size = 20 cm; rays = 8" */

typedef struct pair {
  char name[48];
  const char *value; /* NULL where "=" is missing */
  size_t length;
} pair;

static size_t trimmed(const char *text, size_t length) {
  while (length && (text[length - 1] == ' ' || text[length - 1] == ';'))
    length--;
  return length;
}

/* Takes the next pair off the list; what has no "=" of its own belongs to the value before it, as in a list of stones.
 */
static int next_pair(const char **at, pair *out) {
  const char *text = *at + strspn(*at, " ;"), *mark = text + strcspn(text, "=;"), *next;
  size_t length = trimmed(text, (size_t)(mark - text));
  if (!*text) return 0;
  if (length >= sizeof out->name) length = sizeof out->name - 1;
  memcpy(out->name, text, length);
  out->name[length] = '\0';
  out->value = *mark == '=' ? mark + 1 + strspn(mark + 1, " ") : NULL;
  for (*at = mark + (*mark == '='); **at; *at = next) {
    next = *at + strcspn(*at, ";");
    next += *next == ';';
    if (next[strcspn(next, "=;")] != '=') continue;
    *at = next;
    break;
  }
  if (out->value) out->length = trimmed(out->value, (size_t)(*at - out->value));
  return 1;
}

/* Raises, with the nearest parameter as it could be written, by its default. */
static void unknown_parameter(lua_State *L, int recipe, const char *name, const char *const *names, uint64_t count) {
  const char *nearest = girdle_nearest(name, names, count);
  girdle_lua_faults faults;
  girdle_lua_field field;
  int top = lua_gettop(L);
  girdle_lua_faults_begin(&faults, NULL);
  girdle_lua_fault_unknown(&faults, "parameter in given", name, names, count);
  for (int place = 1; nearest && girdle_lua_parameter(L, recipe, place, &field); place++, lua_settop(L, top)) {
    girdle_lua_written(L, lua_gettop(L), field.kind);
    if (strcmp(field.name, nearest) == 0 && lua_rawlen(L, -1) > 0 && lua_rawlen(L, -1) <= 40)
      girdle_lua_faults_example(&faults, lua_pushfstring(L, "%s = %s", field.name, lua_tostring(L, -1)));
  }
  girdle_lua_raise(L, &faults);
}

/* Finds the recipe's parameter of that name; spaces may stand for "_". */
static void find_parameter(lua_State *L, int recipe, const char *name, girdle_lua_field *field) {
  const char *names[GIRDLE_LUA_PARAMETERS];
  uint64_t count = 0;
  for (; girdle_lua_parameter(L, recipe, (int)count + 1, field); names[count++] = field->name) {
    lua_pop(L, 1);
    if (same_name(field->name, name)) return;
  }
  unknown_parameter(L, recipe, name, names, count);
}

/* Pushes what a pair's value stands for: an outline or a measure by its name, or the text itself. */
static void push_value(lua_State *L, const girdle_limited *run, const girdle_lua_field *field, const pair *of) {
  const costume_work *job = run->job;
  const girdle_path *outline;
  const girdle_measure *measure;
  lua_pushlstring(L, of->value, of->length);
  outline = is_shape(field) ? outline_of(run->host, lua_tostring(L, -1)) : NULL;
  measure = field->kind == GIRDLE_KIND_LENGTH ? measure_of(job->job, lua_tostring(L, -1)) : NULL;
  if (outline)
    girdle_host_push_outline(L, outline);
  else if (measure)
    lua_pushnumber(L, measure->mm);
  else if (field->kind == GIRDLE_KIND_LENGTH && is_to_come(job, lua_tostring(L, -1)))
    push_usual(L, field, lua_tostring(L, -1));
  else
    return;
  lua_replace(L, -2);
}

static void fill_by_name(lua_State *L, const girdle_limited *run, int recipe, int given, const char *list) {
  girdle_lua_field field;
  pair next;
  while (next_pair(&list, &next)) {
    if (!next.value || !next.length)
      girdle_lua_fail(L, GIRDLE_SYNTAX, "given", "'%s' must be a name and a value, like size = 20 cm", next.name);
    find_parameter(L, recipe, next.name, &field);
    if (lua_getfield(L, given, field.name) != LUA_TNIL)
      girdle_lua_fail(L, GIRDLE_ARGUMENT, "given", "%s is given twice", field.name);
    lua_pop(L, 1);
    push_value(L, run, &field, &next);
    lua_setfield(L, given, field.name);
  }
}

/* ---- what a row that names some stones leaves to its recipe */

static uint64_t stones_in(const char *list) {
  const char *text;
  size_t length;
  uint64_t count = 0;
  while (next_text(&list, &text, &length))
    count++;
  return count;
}

/* The text of the default at the top; NULL when it has none. */
static const char *default_text(lua_State *L) {
  const girdle_stone *stone = girdle_lua_stone_at(L, -1);
  char text[160];
  if (lua_type(L, -1) == LUA_TSTRING) return lua_tostring(L, -1);
  if (!stone) return NULL;
  girdle_stone_text(stone, text, sizeof text);
  return lua_pushstring(L, text);
}

/* A line of the log that begins with GIRDLE_HOST_NOTE is ours, and may be said once for many wearers. */
static void note_stone(lua_State *L, girdle_limited *run, const girdle_zone_row *row, const char *name,
                       const char *stone) {
  const char *note =
      lua_pushfstring(L, GIRDLE_HOST_NOTE "%s:%d: %s: stones names %d, so '%s' of %s is %s\n", run->words.source,
                      (int)row->line, row->name, (int)stones_in(row->stones), name, row->recipe, stone);
  run->words.print(&run->words, note, strlen(note));
}

static void note_stones(lua_State *L, girdle_limited *run, int recipe, int given, const girdle_zone_row *row) {
  girdle_lua_field field;
  int top = lua_gettop(L);
  if (is_blank(row->stones) || !run->words.print || !run->words.source) return;
  for (int place = 1; girdle_lua_parameter(L, recipe, place, &field); place++, lua_settop(L, top)) {
    const char *text = field.kind == GIRDLE_KIND_STONE ? default_text(L) : NULL;
    if (text && lua_getfield(L, given, field.name) == LUA_TNIL) note_stone(L, run, row, field.name, text);
  }
}

/* Pushes the table of parameters for the recipe at `recipe`. Returns whether its shape lies on the drawing. */
static int push_given(lua_State *L, girdle_limited *run, int recipe, const girdle_zone_row *row) {
  filling from = {row, is_blank(row->stones) ? NULL : row->stones, 0, 0, 0, 0, 0, 0, 0};
  girdle_lua_field field;
  int given;
  lua_newtable(L);
  given = lua_gettop(L);
  for (int place = 1; girdle_lua_parameter(L, recipe, place, &field); place++, lua_pop(L, 1))
    from.shapes |= is_shape(&field) && (field.needed || !row->need_shape || !is_blank(row->shape));
  for (int place = 1; girdle_lua_parameter(L, recipe, place, &field); place++) {
    lua_pop(L, 1);
    fill(L, run, &field, given, &from);
  }
  refuse_rest(L, recipe, &from);
  fill_by_name(L, run, recipe, given, row->given);
  note_stones(L, run, recipe, given, row);
  return from.drawn;
}

/* ---- stones set by eye: "12 ss34 red; 2 gross ss20" */

static void read_already(lua_State *L, girdle_zone *zone, const char *list, int held) {
  enum { MOST = 32 };
  girdle_lua_work work;
  girdle_stone *stones = lua_newuserdatauv(L, MOST * (sizeof *stones + sizeof(int64_t)), 0);
  int64_t *pieces = (int64_t *)(void *)(stones + MOST);
  const char *text;
  size_t length;
  lua_rawseti(L, held, (lua_Integer)lua_rawlen(L, held) + 1);
  girdle_lua_begin(L, &work);
  memset(stones, 0, MOST * sizeof *stones);
  while (next_text(&list, &text, &length)) {
    if (zone->already_count == MOST)
      girdle_lua_fail(L, GIRDLE_LIMIT, "already", "at most %d stones can be listed", MOST);
    lua_pushlstring(L, text, length);
    girdle_lua_check(L, &work,
                     girdle_stone_pieces_parse(&work.call, lua_tostring(L, -1), &stones[zone->already_count],
                                               &pieces[zone->already_count]),
                     "already");
    lua_pop(L, 1);
    zone->already_count++;
  }
  zone->already = stones;
  zone->already_pieces = pieces;
}

/* ---- rows */

/* Works one row: { row, costume's name, held, girdle_zone }. */
static int work_row(lua_State *L) {
  girdle_limited *run = girdle_limited_of(L);
  const girdle_zone_row *row = lua_touserdata(L, 1);
  girdle_zone *zone = lua_touserdata(L, 4);
  if (is_blank(row->name))
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "zone", "zone is missing; write a name like collar");
  girdle_host_zone_begin(zone, row->name);
  girdle_common_text(zone->side, sizeof zone->side, row->side);
  girdle_common_text(zone->recipe, sizeof zone->recipe, row->recipe);
  if (row->pair) zone->flags |= GIRDLE_ZONE_PAIR;
  if (row->times > 0) zone->times = row->times;
  zone->priority = row->priority;
  zone->alike = row->alike;
  if (!is_blank(row->recipe)) {
    girdle_host_find_recipe(L, row->recipe);
    if (push_given(L, run, 5, row)) zone->flags |= GIRDLE_ZONE_DRAWN;
    lua_pushvalue(L, 5);
    if (((const costume_work *)run->job)->checked)
      girdle_lua_check_given(L, 5, 6);
    else
      girdle_host_zone_place(L, zone, 6, lua_tostring(L, 2), 3);
  } else if (is_blank(row->already)) {
    return girdle_lua_fail(L, GIRDLE_ARGUMENT, "recipe", "recipe is missing; write one like alternating line");
  }
  if (!is_blank(row->already)) read_already(L, zone, row->already, 3);
  return 0;
}

static int rows_body(lua_State *L) {
  girdle_limited *run = girdle_limited_of(L);
  costume_work *job = run->job;
  const girdle_job_head *head = girdle_job_head_of(job->job);
  girdle_zone *zones;
  run->words.find = girdle_host_find_recipe;
  run->words.glued_per_worn = girdle_host_glued_per_worn(&head->fabric);
  zones = lua_newuserdatauv(L, (size_t)(job->row_count + 1) * sizeof *zones, 0);
  lua_newtable(L);
  for (uint64_t i = 0; i < job->row_count; i++) {
    lua_pushcfunction(L, work_row);
    lua_pushlightuserdata(L, (void *)(uintptr_t)&job->rows[i]);
    lua_pushstring(L, head->costume);
    lua_pushvalue(L, 2);
    lua_pushlightuserdata(L, &zones[i]);
    if (girdle_host_zone_try(L, run, job->name, job->rows[i].line)) job->count++;
  }
  job->zones = zones; /* held by 1, what they point to by 2 */
  lua_createtable(L, 2, 0);
  lua_insert(L, 1);
  lua_rawseti(L, 1, 2);
  lua_rawseti(L, 1, 1);
  return 1;
}

static int32_t run_rows(girdle_call *call, girdle_host *host, costume_work *work,
                        int32_t (*take)(girdle_limited *run)) {
  if (work->row_count > GIRDLE_HOST_ZONES)
    return girdle_common_fail(call, GIRDLE_LIMIT, "zones", "%s has more than %d zones", work->name, GIRDLE_HOST_ZONES);
  return girdle_limited_run(host, call, &host->options, rows_body, take, work);
}

int32_t girdle_host_zones(girdle_call *call, girdle_host *host, const char *source, const girdle_zone_row *rows,
                          uint64_t count, girdle_job *job) {
  GIRDLE_GIVEN(call, host, source, rows || !count, job);
  costume_work work = {.name = source, .rows = rows, .row_count = count, .job = job};
  return run_rows(call, host, &work, girdle_host_take_zones);
}

int32_t girdle_host_check_zones(girdle_call *call, girdle_host *host, const char *source, const girdle_zone_row *rows,
                                uint64_t count, const girdle_job *job) {
  GIRDLE_GIVEN(call, host, source, rows || !count, job);
  costume_work work = {
      .name = source, .rows = rows, .row_count = count, .job = (girdle_job *)(uintptr_t)job, .checked = 1};
  return run_rows(call, host, &work, NULL);
}
