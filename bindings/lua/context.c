/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "common.h"
#include "words.h"

/* The context of a state, and how errors are raised: always with the file and line of the recipe, the field, the value,
 * the nearest known name and a right example; several faults of one call together. */

static const char context_key = 0;

void girdle_lua_context_init(girdle_lua_context *context) {
  memset(context, 0, sizeof *context);
  context->most_stones = INT64_MAX;
  context->seed = girdle_lua_seed_of(0, "");
  context->glued_per_worn = 1;
}

girdle_lua_context *girdle_lua_context_of(lua_State *L) {
  girdle_lua_context *context;
  lua_rawgetp(L, LUA_REGISTRYINDEX, &context_key);
  context = lua_touserdata(L, -1);
  lua_pop(L, 1);
  return context;
}

void girdle_lua_context_set(lua_State *L) {
  lua_rawsetp(L, LUA_REGISTRYINDEX, &context_key);
}

void girdle_lua_begin(lua_State *L, girdle_lua_work *work) {
  work->context = girdle_lua_context_of(L);
  girdle_call_init(&work->call, sizeof work->call);
  girdle_error_init(&work->error, sizeof work->error);
  work->call.error = &work->error;
  work->call.memory = work->context->memory;
  work->call.watch = work->context->watch;
  work->call.own = work->context->own;
}

void girdle_lua_charge(lua_State *L, uint64_t steps) {
  girdle_lua_spend(L, girdle_lua_context_of(L), steps);
}

void girdle_lua_spend(lua_State *L, const girdle_lua_context *context, uint64_t steps) {
  if (context->watch.tick && context->watch.tick(context->watch.context, steps, -1))
    girdle_lua_fail(L, GIRDLE_STOPPED, NULL, "stopped before it was done");
}

/* FNV-1a over the name and its closing NUL (public domain, Fowler, Noll and Vo), so that "ab","c" and "a","bc" differ.
 */
uint64_t girdle_lua_seed_of(uint64_t seed, const char *name) {
  uint64_t hash = seed ? seed : 0xcbf29ce484222325u;
  for (size_t i = 0;; i++) {
    hash = (hash ^ (unsigned char)name[i]) * 0x100000001b3u;
    if (!name[i]) return hash;
  }
}

int32_t girdle_lua_where(lua_State *L, char *source, size_t bytes) {
  lua_Debug frame;
  for (int level = 0; lua_getstack(L, level, &frame); level++) {
    lua_getinfo(L, "Sl", &frame);
    if (frame.currentline <= 0) continue;
    girdle_common_text(source, bytes, frame.source[0] == '@' ? frame.source + 1 : frame.short_src);
    return frame.currentline;
  }
  girdle_common_text(source, bytes, girdle_lua_context_of(L)->source ? girdle_lua_context_of(L)->source : "");
  return source[0] ? girdle_lua_context_of(L)->line : -1;
}

/* The object stays as it is: a recipe may catch it. An outer handler, which sees it raised again, changes nothing. */
int girdle_lua_note_place(lua_State *L) {
  girdle_lua_context *context = girdle_lua_context_of(L);
  const void *object = lua_topointer(L, 1);
  char source[sizeof context->error_source];
  int32_t line;
  if (object && object == context->error_object) return 1;
  line = girdle_lua_where(L, source, sizeof source);
  if (line <= 0) return 1;
  context->error_object = object;
  context->error_line = line;
  memcpy(context->error_source, source, sizeof source);
  return 1;
}

/* ---- faults */

static girdle_error *next_fault(girdle_lua_faults *faults) {
  faults->count++;
  return faults->kept < GIRDLE_LUA_FAULTS ? &faults->list[faults->kept++] : NULL;
}

/* No control characters, which could disguise a line on a terminal. */
void girdle_lua_clean(char *text) {
  girdle_common_clean(text, '?');
}

/* "gap must be ..." or "unknown gap ...": nowhere else, where a field's name may be a word of the sentence. */
static int begins_with(const char *message, const char *name) {
  size_t length = strlen(name);
  if (strncmp(message, "unknown ", 8) == 0) message += 8;
  return strncmp(message, name, length) == 0 && (message[length] == ' ' || message[length] == ':');
}

/* "gap: '0,5 mm' is not a length: ...; for example gap = "0.5 mm"" */
static void explain(girdle_error *error, const girdle_lua_field *field) {
  char text[sizeof error->message];
  size_t length = strlen(error->message);
  int asks = length && error->message[length - 1] == '?';
  int named = field && field->name && !begins_with(error->message, field->name);
  int shown = field && field->example && !strstr(error->message, " like ");
  memcpy(text, error->message, sizeof text);
  if (field && field->name) girdle_common_text(error->field, sizeof error->field, field->name);
  snprintf(error->message, sizeof error->message, "%s%s%.180s%s%s%s%s", named ? field->name : "", named ? ": " : "",
           text,
           !shown ? ""
           : asks ? " For example "
                  : "; for example ",
           shown ? field->name : "", shown ? " = " : "", shown ? field->example : "");
}

void girdle_lua_faults_begin(girdle_lua_faults *faults, const char *word) {
  faults->word = word;
  faults->count = faults->kept = 0;
}

void girdle_lua_fault(girdle_lua_faults *faults, const girdle_error *error, const girdle_lua_field *field) {
  girdle_error *kept = next_fault(faults);
  if (!kept) return;
  *kept = *error;
  explain(kept, field);
  girdle_lua_clean(kept->message);
}

void girdle_lua_fault_of(girdle_lua_faults *faults, const girdle_lua_field *field, int32_t status, const char *format,
                         ...) {
  girdle_error error;
  va_list arguments;
  girdle_error_init(&error, sizeof error);
  error.status = status;
  va_start(arguments, format);
  vsnprintf(error.message, sizeof error.message, format, arguments);
  va_end(arguments);
  girdle_lua_fault(faults, &error, field);
}

void girdle_lua_faults_example(girdle_lua_faults *faults, const char *example) {
  girdle_error *error = &faults->list[faults->kept - 1];
  size_t length = strlen(error->message);
  if (faults->count > faults->kept) return; /* it was not kept */
  snprintf(error->message + length, sizeof error->message - length, "%s%s",
           error->message[length - 1] == '?' ? " For example " : "; for example ", example);
}

void girdle_lua_faults_name(girdle_lua_faults *faults, int32_t from, const char *whose) {
  char text[sizeof faults->list[0].message];
  for (int32_t i = from; i < faults->kept; i++) {
    memcpy(text, faults->list[i].message, sizeof text);
    snprintf(faults->list[i].message, sizeof text, "%.60s: %.190s", whose, text);
    girdle_lua_clean(faults->list[i].message);
  }
}

void girdle_lua_fault_unknown(girdle_lua_faults *faults, const char *what, const char *name, const char *const *known,
                              uint64_t count) {
  girdle_error *error = next_fault(faults);
  girdle_call call;
  if (!error) return;
  girdle_error_init(error, sizeof *error);
  girdle_call_init(&call, sizeof call);
  call.error = error;
  girdle_common_unknown(&call, what, name, known, count);
  girdle_common_text(error->field, sizeof error->field, name);
  girdle_lua_clean(error->field);
  girdle_lua_clean(error->message);
}

/* "gap: ..." becomes "run: gap: ...", unless the word is named already. */
static void name_word(girdle_error *error, const char *word) {
  char text[sizeof error->message];
  if (!word || strstr(error->message, word)) return;
  memcpy(text, error->message, sizeof text);
  snprintf(error->message, sizeof error->message, "%.60s: %.190s", word, text);
}

static void keep_raised(lua_State *L, const girdle_lua_faults *faults, const char *source, int32_t line) {
  girdle_lua_context *context = girdle_lua_context_of(L);
  context->fault_count = faults->kept;
  memcpy(context->faults, faults->list, (size_t)faults->kept * sizeof *faults->list);
  for (int32_t i = 0; i < faults->kept; i++) {
    girdle_error *error = &context->faults[i];
    name_word(error, faults->word);
    if (!error->source[0]) girdle_common_text(error->source, sizeof error->source, source);
    if (error->line < 0) error->line = line;
  }
}

/* One fault after its word; several in lines of their own, under the word. */
static void add_messages(luaL_Buffer *out, const girdle_lua_faults *faults, const girdle_error *named) {
  for (int32_t i = 0; i < faults->kept; i++) {
    if (faults->count > 1) luaL_addstring(out, "\n  ");
    luaL_addstring(out, faults->count > 1 ? faults->list[i].message : named[i].message);
  }
  if (faults->count > faults->kept) luaL_addstring(out, "\n  and more");
}

void girdle_lua_raise(lua_State *L, const girdle_lua_faults *faults) {
  char source[64];
  luaL_Buffer out;
  int32_t line;
  if (!faults->count) return;
  line = girdle_lua_where(L, source, sizeof source);
  if (faults->list[0].source[0]) { /* it knows better where it stands */
    memcpy(source, faults->list[0].source, sizeof source);
    line = faults->list[0].line;
  }
  keep_raised(L, faults, source, line);
  luaL_checkstack(L, 12, NULL);
  luaL_buffinit(L, &out);
  if (line > 0) {
    lua_pushfstring(L, "%s:%d: ", source, (int)line);
    luaL_addvalue(&out);
  }
  if (faults->count > 1) {
    lua_pushfstring(L, "%s has %d faults:", faults->word, (int)faults->count);
    luaL_addvalue(&out);
  }
  add_messages(&out, faults, girdle_lua_context_of(L)->faults);
  luaL_pushresult(&out);
  girdle_common_text(girdle_lua_context_of(L)->raised, sizeof girdle_lua_context_of(L)->raised, lua_tostring(L, -1));
  lua_error(L);
}

int girdle_lua_is_raised(const girdle_lua_context *context, const char *text) {
  return text && context->fault_count && context->raised[0] &&
         strncmp(text, context->raised, strlen(context->raised)) == 0;
}

void girdle_lua_pay(lua_State *L, girdle_lua_context *context) {
  uint64_t made_kib = context->made_bytes / 1024;
  if (made_kib < 16) return;
  context->made_bytes = 0;
  lua_gc(L, LUA_GCSTEP, made_kib < 1 << 20 ? (int)made_kib : 1 << 20);
}

static void raise_one(lua_State *L, const girdle_error *error, const char *word) {
  girdle_lua_faults faults;
  girdle_lua_faults_begin(&faults, word);
  girdle_lua_fault(&faults, error, NULL);
  girdle_lua_raise(L, &faults);
}

void girdle_lua_check(lua_State *L, girdle_lua_work *work, int32_t status, const char *word) {
  if (!status) {
    girdle_lua_pay(L, work->context);
    return;
  }
  if (!work->error.status) { /* the core answered without words */
    work->error.status = status;
    girdle_common_text(work->error.message, sizeof work->error.message, girdle_status_text(status));
  }
  raise_one(L, &work->error, word);
}

int girdle_lua_fail(lua_State *L, int32_t status, const char *field, const char *format, ...) {
  girdle_error error;
  va_list arguments;
  girdle_error_init(&error, sizeof error);
  error.status = status;
  va_start(arguments, format);
  girdle_common_text(error.message, sizeof error.message, lua_pushvfstring(L, format, arguments));
  va_end(arguments);
  if (field) girdle_common_text(error.field, sizeof error.field, field);
  raise_one(L, &error, NULL);
  return 0;
}

int girdle_lua_unknown(lua_State *L, const char *what, const char *name, const char *const *known, uint64_t count) {
  girdle_lua_faults faults;
  girdle_lua_faults_begin(&faults, NULL);
  girdle_lua_fault_unknown(&faults, what, name, known, count);
  girdle_lua_raise(L, &faults);
  return 0;
}
