/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_HOST_LIMITED_H
#define GIRDLE_HOST_LIMITED_H

/* limited: one Lua state with limits of time, steps and memory, made for one run and closed after it. */

#include "../lua/words.h"
#include "girdle/host.h"

typedef struct girdle_source {
  char name[64], file[64]; /* "alternating line", "alternating_line.lua" */
  char *text;
  uint64_t bytes;
  int32_t layer, reserved;
} girdle_source;

typedef struct girdle_drawing {
  char file[64];
  girdle_outline *outlines; /* with paths of its own */
  uint64_t count;
} girdle_drawing;

struct girdle_host {
  girdle_allocator memory;
  girdle_host_options options;
  lua_CFunction stock[GIRDLE_LUA_STOCK]; /* of Lua's own libraries */
  girdle_source *sources;
  uint64_t source_count, source_capacity;
  girdle_drawing *drawings;
  uint64_t drawing_count, drawing_capacity;
};

/* Why a run was stopped. */
enum {
  GIRDLE_LIMITED_GOES_ON,
  GIRDLE_LIMITED_STEPS,
  GIRDLE_LIMITED_TIME,
  GIRDLE_LIMITED_MEMORY,
  GIRDLE_LIMITED_CALLER
};

typedef struct girdle_limited_block girdle_limited_block;
enum { GIRDLE_LIMITED_CLASSES = 33 }; /* of small blocks, in steps of 16 bytes */

typedef struct girdle_limited {
  girdle_lua_context words; /* first, so that a pointer to it is one to the whole */
  girdle_host *host;
  girdle_call *call; /* the caller's */
  girdle_allocator outer;
  lua_State *L;
  girdle_host_options limits;
  uint64_t bytes, steps, looked, refused, printed;
  double until_s;
  int32_t reason, outer_refused, limit_refused, long_text, stop_line;
  int32_t in_word, reserved;            /* stopped while a word worked, not between words */
  char stop_source[64], drawing[64];    /* drawing: of the outlines that took so much */
  uint64_t outline_bytes;               /* that outlines took; all there are when one was refused */
  girdle_limited_block *blocks;         /* all memory that is held */
  void *unused[GIRDLE_LIMITED_CLASSES]; /* small blocks of each class, one holding the address of the next */
  char *chunk;                          /* where the next small block is cut */
  size_t chunk_left;
  girdle_error failure; /* the first that was noted */
  void *job;
} girdle_limited;

/* Runs `work` in a new state, where it finds the run by girdle_limited_of, and leaves its result on the stack for
 * `take`, which runs after all has gone well and must not raise; `take` may be NULL. */
int32_t girdle_limited_run(girdle_host *host, girdle_call *call, const girdle_host_options *limits, lua_CFunction work,
                           int32_t (*take)(girdle_limited *run), void *job);
girdle_limited *girdle_limited_of(lua_State *L);

/* Ends the run: each step from now on fails. */
void girdle_limited_stop(girdle_limited *run, int32_t reason);
void girdle_limited_look_at_clock(girdle_limited *run); /* and ends the run when its time is over */
void *girdle_limited_core_resize(void *context, void *memory, uint64_t old_bytes, uint64_t new_bytes);
void *girdle_limited_lua_resize(void *context, void *block, size_t old_bytes, size_t new_bytes);
void girdle_limited_free_all(girdle_limited *run);

/* Notes the error on top of the stack as one fault of several, reports it and pops it; raises it again when the run
 * must end. */
void girdle_limited_note(lua_State *L, girdle_limited *run);

/* Takes the place from "file.lua:12: text" into the error; returns where the text begins. */
const char *girdle_limited_split(const char *text, girdle_error *error);

const girdle_source *girdle_host_source(lua_State *L, const girdle_host *host, const char *name); /* or raises */
/* Pushes what the source of that name gives, a box of the kind; -1 for either. */
void girdle_host_push_file(lua_State *L, const char *name, int32_t kind);
void girdle_host_find_recipe(lua_State *L, const char *name); /* pushes it, or raises */

#endif
