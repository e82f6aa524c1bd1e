/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "limited.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "common.h"

/* Lua's instructions are counted by a hook; what the words cost is charged by their watch; all memory, the state's and
 * the core's, goes through one allocator. Once stopped, the hook comes at each instruction, the allocator refuses, and
 * pcall does not catch; the reason is kept here, since the error that surfaces may be any. */

enum { HOOK_STEPS = 100, CLOCK_STEPS = 2000, LARGE_DRAWING_PART = 8 };

static double processor_s(void) {
  struct timespec now;
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

girdle_limited *girdle_limited_of(lua_State *L) {
  return (girdle_limited *)(void *)girdle_lua_context_of(L);
}

static void count_hook(lua_State *L, lua_Debug *frame);

/* Where the recipe stands; asks for no memory, so that an allocator may ask. */
static void note_place(girdle_limited *run) {
  lua_Debug frame;
  for (int level = 0; run->L && run->stop_line < 0 && lua_getstack(run->L, level, &frame); level++) {
    lua_getinfo(run->L, "Sl", &frame);
    if (frame.currentline <= 0 || frame.source[0] != '@') continue;
    run->stop_line = frame.currentline;
    girdle_common_text(run->stop_source, sizeof run->stop_source, frame.source + 1);
  }
}

void girdle_limited_stop(girdle_limited *run, int32_t reason) {
  if (run->reason) return;
  run->reason = reason;
  note_place(run);
  if (run->L) lua_sethook(run->L, count_hook, LUA_MASKCOUNT, 1);
}

void girdle_limited_look_at_clock(girdle_limited *run) {
  if (processor_s() > run->until_s) girdle_limited_stop(run, GIRDLE_LIMITED_TIME);
}

/* ---- steps */

static int32_t count(girdle_limited *run, uint64_t steps, double done) {
  const girdle_watch *watch = run->call ? &run->call->watch : NULL;
  if (run->reason) return 1;
  run->steps = steps > UINT64_MAX - run->steps ? UINT64_MAX : run->steps + steps;
  if (watch && watch->tick && watch->tick(watch->context, steps, done)) girdle_limited_stop(run, GIRDLE_LIMITED_CALLER);
  if (run->steps > run->limits.most_steps) girdle_limited_stop(run, GIRDLE_LIMITED_STEPS);
  if (run->steps - run->looked >= CLOCK_STEPS) {
    run->looked = run->steps;
    girdle_limited_look_at_clock(run);
  }
  return run->reason != GIRDLE_LIMITED_GOES_ON;
}

/* The watch of words that work. */
static int32_t tick(void *context, uint64_t steps, double done) {
  girdle_limited *run = context;
  int32_t goes_on = run->reason == GIRDLE_LIMITED_GOES_ON, stops = count(run, steps, done);
  if (goes_on && stops) run->in_word = 1;
  return stops;
}

static void count_hook(lua_State *L, lua_Debug *frame) {
  girdle_limited *run = girdle_limited_of(L);
  (void)frame;
  if (!count(run, HOOK_STEPS, -1)) return;
  lua_pushnil(L);
  lua_error(L);
}

static int32_t stopped(const girdle_lua_context *self) {
  return ((const girdle_limited *)(const void *)self)->reason != GIRDLE_LIMITED_GOES_ON;
}

/* ---- print */

static int32_t print(girdle_lua_context *self, const char *bytes, size_t count) {
  girdle_limited *run = (girdle_limited *)(void *)self;
  if (run->printed + count > run->limits.most_log_bytes) return 1;
  run->printed += count;
  return run->limits.log.write ? run->limits.log.write(run->limits.log.context, bytes, count) : 0;
}

/* ---- errors */

/* "file.lua:12: text" gives file and line; returns where the text begins. */
const char *girdle_limited_split(const char *text, girdle_error *error) {
  const char *colon = strchr(text, ':'), *end;
  char file[64];
  long line;
  if (!colon || colon == text || (size_t)(colon - text) >= sizeof file) return text;
  line = strtol(colon + 1, (char **)(void *)&end, 10);
  if (end == colon + 1 || *end != ':' || line < 1 || line > 1000000) return text;
  memcpy(file, text, (size_t)(colon - text));
  file[colon - text] = '\0';
  girdle_common_text(error->source, sizeof error->source, file);
  error->line = (int32_t)line;
  return end[1] == ' ' ? end + 2 : end + 1;
}

/* "stopped: it took more than the 3 s of processor time it may; ..." */
static int32_t over(girdle_error *error, const char *field, double most, const char *before, double shown,
                    const char *after) {
  char number[32];
  girdle_number_text(shown, 3, number, sizeof number);
  girdle_common_text(error->field, sizeof error->field, field);
  error->most = most;
  snprintf(error->message, sizeof error->message, "stopped: it %s %s %s", before, number, after);
  return GIRDLE_LIMIT;
}

/* Core memory refusals surface as a fault of a word; the reason is the limit all the same. */
static int is_memory_fault(const girdle_limited *run) {
  return run->words.fault_count && run->words.faults[0].status == GIRDLE_MEMORY;
}

/* What a word could not do within the limits was too much to place, nearly always, unless a drawing takes much of the
 * memory. */
static void advise(const girdle_limited *run, girdle_error *error, const char *otherwise) {
  size_t length = strlen(error->message);
  const int in_word = run->in_word || is_memory_fault(run);
  if (in_word && run->outline_bytes > run->limits.most_bytes / LARGE_DRAWING_PART)
    snprintf(error->message + length, sizeof error->message - length,
             "; the drawing '%s' is large: outlines with fewer points take less", run->drawing);
  else if (in_word)
    snprintf(error->message + length, sizeof error->message - length,
             "; fewer stones take less (%lld at most): a wider gap, larger ones or a smaller shape",
             (long long)run->limits.most_stones);
  else
    snprintf(error->message + length, sizeof error->message - length, "%s", otherwise);
}

static int32_t stop_status(const girdle_limited *run, girdle_error *error) {
  const girdle_host_options *limits = &run->limits;
  girdle_common_text(error->source, sizeof error->source, run->stop_source);
  error->line = run->stop_line;
  if (run->reason == GIRDLE_LIMITED_TIME || run->reason == GIRDLE_LIMITED_STEPS) {
    int by_time = run->reason == GIRDLE_LIMITED_TIME;
    double most = by_time ? limits->most_seconds : (double)limits->most_steps;
    over(error, by_time ? "seconds" : "steps", most, "took more than the", most,
         by_time ? "s of processor time it may" : "steps it may");
    advise(run, error, "; does a loop never end?");
    return GIRDLE_LIMIT;
  }
  if (run->reason == GIRDLE_LIMITED_CALLER) {
    girdle_common_text(error->message, sizeof error->message, "stopped before it was done");
    return GIRDLE_STOPPED;
  }
  if (run->outer_refused && !run->limit_refused) {
    girdle_common_text(error->message, sizeof error->message, "out of memory");
    return GIRDLE_MEMORY;
  }
  if (run->long_text)
    return over(error, "memory", GIRDLE_LUA_STRING_BYTES, "asked for a text longer than the",
                GIRDLE_LUA_STRING_BYTES / 1048576, "MiB a text may have");
  over(error, "memory", (double)limits->most_bytes, "asked for more memory than the",
       (double)limits->most_bytes / 1048576, "MiB it may use");
  advise(run, error, "");
  return GIRDLE_LIMIT;
}

/* What goes wrong within a recipe was asked for by a zone, in a costume or a table that may be another's: it is told
 * too. */
static void name_zone(const girdle_limited *run, girdle_error *error) {
  const girdle_lua_context *words = &run->words;
  size_t length = strlen(error->message);
  if (!words->source || strcmp(error->source, words->source) == 0) return;
  if (!error->source[0]) { /* an error without a place, such as a table's */
    girdle_common_text(error->source, sizeof error->source, words->source);
    error->line = words->line;
    return;
  }
  snprintf(error->message + length, sizeof error->message - length, " (asked for in %.63s:%d)", words->source,
           (int)words->line);
}

static void report_fault(girdle_limited *run, const girdle_error *fault) {
  girdle_error error = *fault;
  name_zone(run, &error);
  if (!run->failure.status) run->failure = error;
  if (run->call && run->call->report.fault) run->call->report.fault(run->call->report.context, &error);
}

/* The faults the words raised last, when that is what the text says. */
static int report_raised(girdle_limited *run, const char *text) {
  const girdle_lua_context *words = &run->words;
  if (!girdle_lua_is_raised(words, text)) return 0;
  for (int32_t i = 0; i < words->fault_count; i++)
    report_fault(run, &words->faults[i]);
  return 1;
}

/* Whether a refusal of memory ended the run. Lua's buffers raise theirs as a plain text. */
static int is_out_of_memory(const girdle_limited *run, int status, const char *text) {
  if (run->reason || status == LUA_ERRMEM) return 1;
  if (!text || !(run->limit_refused || run->outer_refused)) return 0;
  return is_memory_fault(run) || strcmp(text, "not enough memory") == 0;
}

/* A text of error's level 0, or what no text is, does not tell where it was raised. */
static void take_noted_place(lua_State *L, const girdle_lua_context *words, girdle_error *error) {
  if (words->error_object != lua_topointer(L, -1) || words->error_line <= 0) return;
  girdle_common_text(error->source, sizeof error->source, words->error_source);
  error->line = words->error_line;
}

static void note(lua_State *L, girdle_limited *run, int status) {
  const char *text = lua_type(L, -1) == LUA_TSTRING ? lua_tostring(L, -1) : NULL;
  girdle_error error;
  girdle_error_init(&error, sizeof error);
  if (is_out_of_memory(run, status, text)) {
    if (run->stop_line < 0 && is_memory_fault(run)) { /* the word knows where it was called */
      run->stop_line = run->words.faults[0].line;
      memcpy(run->stop_source, run->words.faults[0].source, sizeof run->stop_source);
    }
    error.status = stop_status(run, &error);
  } else if (text && report_raised(run, text)) {
    return;
  } else {
    error.status = status == LUA_ERRSYNTAX ? GIRDLE_SYNTAX : GIRDLE_ARGUMENT;
    girdle_common_text(error.message, sizeof error.message,
                       text ? girdle_limited_split(text, &error) : "the recipe raised an error that is not a text");
    if (error.line < 0) take_noted_place(L, &run->words, &error);
  }
  girdle_lua_clean(error.message);
  report_fault(run, &error);
}

void girdle_limited_note(lua_State *L, girdle_limited *run) {
  if (run->reason) lua_error(L);
  note(L, run, LUA_ERRRUN);
  lua_pop(L, 1);
}

/* ---- running */

static int protected_work(lua_State *L) {
  girdle_limited *run = lua_touserdata(L, 1);
  lua_CFunction work = lua_tocfunction(L, 2);
  luaL_checkversion(L);
  lua_settop(L, 0);
  lua_pushlightuserdata(L, run);
  girdle_lua_context_set(L);
  return work(L);
}

static void begin(girdle_limited *run, girdle_host *host, girdle_call *call, const girdle_host_options *limits,
                  void *job) {
  memset(run, 0, sizeof *run);
  girdle_lua_context_init(&run->words);
  run->words.memory.context = run;
  run->words.memory.resize = girdle_limited_core_resize;
  run->words.watch.context = run;
  run->words.watch.tick = tick;
  run->words.most_stones = limits->most_stones;
  run->words.limited = 1;
  memcpy(run->words.stock, host->stock, sizeof host->stock);
  run->words.stopped = stopped;
  run->words.print = print;
  run->host = host;
  run->call = call;
  run->words.own = call && call->struct_bytes >= sizeof *call ? call->own : NULL;
  run->outer = girdle_common_memory(call);
  run->limits = *limits;
  run->until_s = processor_s() + limits->most_seconds;
  run->stop_line = -1;
  run->job = job;
  girdle_error_init(&run->failure, sizeof run->failure);
}

static int32_t run_state(girdle_limited *run, lua_CFunction work, int32_t (*take)(girdle_limited *run)) {
  int status;
  lua_sethook(run->L, count_hook, LUA_MASKCOUNT, HOOK_STEPS);
  lua_pushcfunction(run->L, girdle_lua_note_place); /* light: none of these four allocates */
  lua_pushcfunction(run->L, protected_work);
  lua_pushlightuserdata(run->L, run);
  lua_pushcfunction(run->L, work);
  status = lua_pcall(run->L, 2, 1, 1);
  if (status) note(run->L, run, status);
  if (!run->failure.status && take) return take(run);
  if (run->failure.status && run->call && run->call->error && !run->call->error->status)
    *run->call->error = run->failure;
  return run->failure.status;
}

/* Numbers are read and written with a point, whatever the locale of the caller. */
int32_t girdle_limited_run(girdle_host *host, girdle_call *call, const girdle_host_options *limits, lua_CFunction work,
                           int32_t (*take)(girdle_limited *run), void *job) {
  girdle_limited run;
  locale_t plain, before;
  int32_t status;
  begin(&run, host, call, limits, job);
  plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
  before = plain ? uselocale(plain) : (locale_t)0;
  run.L = plain ? lua_newstate(girdle_limited_lua_resize, &run) : NULL;
  status = run.L ? run_state(&run, work, take) : girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  girdle_limited_free_all(&run); /* the state and all it holds: nothing in it owns anything but memory */
  if (plain) {
    uselocale(before);
    freelocale(plain);
  }
  return status;
}
