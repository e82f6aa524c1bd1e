/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <string.h>

#include "common.h"
#include "limited.h"

/* The memory of a run, the state's and the core's. All of it is held in one list of blocks and given back at once when
 * the run ends, with no finalizer to call: one could not be called at all for want of memory. Small blocks of Lua's are
 * cut from chunks. */

enum { CLOCK_BYTES = 65536, STEP_BYTES = 16, CHUNK_BYTES = 4096, LARGE_CHUNK_BYTES = 65536 };

struct girdle_limited_block {
  girdle_limited_block *before, *after;
  uint64_t bytes, padding; /* of the whole; a block's own memory begins on a multiple of 16 */
};

/* ---- blocks */

static void *take_bytes(girdle_limited *run, void *block, uint64_t old_bytes, uint64_t new_bytes) {
  void *moved = girdle_common_resize(&run->outer, block, old_bytes, new_bytes);
  if (moved || new_bytes == 0)
    run->bytes = run->bytes - old_bytes + new_bytes;
  else
    run->outer_refused = 1;
  return moved;
}

static void *resize(girdle_limited *run, void *block, uint64_t old_bytes, uint64_t new_bytes) {
  if (new_bytes <= old_bytes) return take_bytes(run, block, old_bytes, new_bytes);
  if (new_bytes > CLOCK_BYTES) girdle_limited_look_at_clock(run);
  if (run->reason) return NULL;
  if (new_bytes > run->limits.most_bytes || run->bytes - old_bytes > run->limits.most_bytes - new_bytes) {
    run->limit_refused = 1;
    return NULL;
  }
  return take_bytes(run, block, old_bytes, new_bytes);
}

static void enlist(girdle_limited *run, girdle_limited_block *block) {
  if (!block) return;
  block->before = NULL;
  block->after = run->blocks;
  if (run->blocks) run->blocks->before = block;
  run->blocks = block;
}

static void delist(girdle_limited *run, girdle_limited_block *block) {
  if (!block) return;
  if (block->after) block->after->before = block->before;
  if (block->before)
    block->before->after = block->after;
  else
    run->blocks = block->after;
}

void girdle_limited_free_all(girdle_limited *run) {
  while (run->blocks) {
    girdle_limited_block *block = run->blocks;
    delist(run, block);
    resize(run, block, block->bytes, 0);
  }
  run->L = NULL;
}

/* Makes, resizes or, with 0 bytes, frees a block by what follows its head; NULL when refused. */
static void *resize_block(girdle_limited *run, void *memory, uint64_t new_bytes) {
  girdle_limited_block *block = memory ? (girdle_limited_block *)memory - 1 : NULL, *moved;
  if (new_bytes > UINT64_MAX / 2) return NULL;
  if (new_bytes) new_bytes += sizeof *block;
  delist(run, block);
  moved = resize(run, block, block ? block->bytes : 0, new_bytes);
  if (moved) moved->bytes = new_bytes;
  enlist(run, moved ? moved : new_bytes ? block : NULL);
  return moved ? moved + 1 : NULL;
}

/* ---- the core's */

/* A refusal by the limit has all that is no longer used collected, and is asked once more. */
void *girdle_limited_core_resize(void *context, void *memory, uint64_t old_bytes, uint64_t new_bytes) {
  girdle_limited *run = context;
  int32_t refused = run->limit_refused;
  void *moved;
  if (!memory) old_bytes = 0;
  if (!memory && !new_bytes) return NULL;
  if (new_bytes > old_bytes) run->words.made_bytes += new_bytes - old_bytes;
  moved = resize_block(run, memory, new_bytes);
  if (moved || !new_bytes || run->reason || new_bytes > run->limits.most_bytes / 2) return moved;
  run->limit_refused = refused;
  lua_gc(run->L, LUA_GCCOLLECT);
  return resize_block(run, memory, new_bytes);
}

/* ---- Lua's */

static size_t class_of(size_t bytes) {
  return (bytes + STEP_BYTES - 1) / STEP_BYTES;
}

static int is_small(size_t bytes) {
  return bytes > 0 && class_of(bytes) < GIRDLE_LIMITED_CLASSES;
}

static int new_chunk(girdle_limited *run) {
  size_t bytes = run->bytes < LARGE_CHUNK_BYTES ? CHUNK_BYTES : LARGE_CHUNK_BYTES;
  char *chunk = resize_block(run, NULL, bytes);
  if (!chunk) return 0;
  run->chunk = chunk;
  run->chunk_left = bytes;
  return 1;
}

static void *new_small(girdle_limited *run, size_t bytes) {
  size_t class = class_of(bytes);
  void *block = run->unused[class];
  if (run->reason) return NULL;
  if (block) {
    memcpy(&run->unused[class], block, sizeof block);
    return block;
  }
  if (run->chunk_left < class * STEP_BYTES && !new_chunk(run)) return NULL;
  block = run->chunk;
  run->chunk += class * STEP_BYTES;
  run->chunk_left -= class * STEP_BYTES;
  return block;
}

static void free_small(girdle_limited *run, void *block, size_t bytes) {
  memcpy(block, &run->unused[class_of(bytes)], sizeof block);
  run->unused[class_of(bytes)] = block;
}

static void *new_of(girdle_limited *run, size_t bytes) {
  return is_small(bytes) ? new_small(run, bytes) : resize_block(run, NULL, bytes);
}

static void free_of(girdle_limited *run, void *block, size_t bytes) {
  if (is_small(bytes))
    free_small(run, block, bytes);
  else
    resize_block(run, block, 0);
}

static void *moved_of(girdle_limited *run, void *block, size_t old_bytes, size_t new_bytes) {
  void *moved;
  if (!is_small(old_bytes) && !is_small(new_bytes)) return resize_block(run, block, new_bytes);
  if (is_small(old_bytes) && is_small(new_bytes) && class_of(old_bytes) == class_of(new_bytes)) return block;
  moved = new_of(run, new_bytes);
  if (!moved) return NULL;
  memcpy(moved, block, old_bytes < new_bytes ? old_bytes : new_bytes);
  free_of(run, block, old_bytes);
  return moved;
}

static void *lua_block(girdle_limited *run, void *block, size_t old_bytes, size_t new_bytes) {
  if (!block || old_bytes == 0) return new_bytes ? new_of(run, new_bytes) : NULL;
  if (new_bytes) return moved_of(run, block, old_bytes, new_bytes);
  free_of(run, block, old_bytes);
  return NULL;
}

/* Lua answers a refusal with a full collection and asks once more; a second refusal of the same size ends the run, or
 * asking again and again would cost a collection each. A block that shrinks into a chunk may be refused too: Lua 5.4
 * then raises an error of memory. */
void *girdle_limited_lua_resize(void *context, void *block, size_t old_bytes, size_t new_bytes) {
  girdle_limited *run = context;
  int long_text = !block && old_bytes == LUA_TSTRING && new_bytes > GIRDLE_LUA_STRING_BYTES + 64;
  void *moved = long_text ? NULL : lua_block(run, block, block ? old_bytes : 0, new_bytes);
  if (moved || new_bytes == 0) return moved;
  run->limit_refused |= long_text;
  if (!run->reason) run->long_text = long_text; /* what is refused on the way out is no reason */
  if (run->refused == new_bytes) girdle_limited_stop(run, GIRDLE_LIMITED_MEMORY);
  run->refused = new_bytes;
  return NULL;
}
