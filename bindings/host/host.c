/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/host.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "limited.h"

/* The host: its sources and drawings by name. */

enum { MOST_SOURCE_BYTES = 65536 };

void girdle_host_options_init(girdle_host_options *options, uint32_t struct_bytes) {
  girdle_host_options own;
  memset(&own, 0, sizeof own);
  own.struct_bytes = sizeof own;
  own.most_seconds = 3;
  own.most_bytes = 256u << 20;
  own.most_steps = 300000000;
  own.most_stones = 1000000;
  own.most_log_bytes = 65536;
  memset(options, 0, struct_bytes);
  memcpy(options, &own, struct_bytes < sizeof own ? struct_bytes : sizeof own);
  options->struct_bytes = struct_bytes;
}

static void *plain_resize(void *context, void *block, size_t old_bytes, size_t new_bytes) {
  const girdle_allocator *memory = context;
  if (!block) old_bytes = 0; /* Lua tells the kind of object there */
  if (!block && !new_bytes) return NULL;
  return girdle_common_resize(memory, block, old_bytes, new_bytes);
}

static int find_stock(lua_State *L) {
  girdle_lua_find_stock(L, lua_touserdata(L, 1));
  return 0;
}

/* A state for a moment, to learn the addresses of Lua's own functions; the runs need not open the libraries again. */
static int32_t learn_stock(girdle_call *call, girdle_host *host) {
  lua_State *L = lua_newstate(plain_resize, &host->memory);
  int status = LUA_ERRMEM;
  if (L) {
    lua_pushcfunction(L, find_stock);
    lua_pushlightuserdata(L, host->stock);
    status = lua_pcall(L, 1, 0, 0);
    lua_close(L);
  }
  return status ? girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory") : GIRDLE_OK;
}

int32_t girdle_host_new(girdle_call *call, const girdle_host_options *options, girdle_host **out) {
  GIRDLE_GIVEN(call, out);
  girdle_host *host;
  girdle_host_options own;
  girdle_host_options_init(&own, sizeof own);
  if (options) girdle_common_options(&own, sizeof own, options);
  GIRDLE_TRY(girdle_common_range(call, "most_seconds", own.most_seconds, 1e-3, 1e9, "s"));
  GIRDLE_TRY(girdle_common_range(call, "most_stones", (double)own.most_stones, 1, 1e15, ""));
  host = girdle_common_new(call, sizeof *host);
  if (!host) return GIRDLE_MEMORY;
  host->memory = girdle_common_memory(call);
  host->options = own;
  if (learn_stock(call, host)) {
    girdle_host_free(host);
    return GIRDLE_MEMORY;
  }
  *out = host;
  return GIRDLE_OK;
}

static void free_source(girdle_host *host, girdle_source *source) {
  girdle_common_release(&host->memory, source->text, source->bytes + 1);
}

static void free_drawing(girdle_host *host, girdle_drawing *drawing) {
  for (uint64_t i = 0; i < drawing->count; i++)
    girdle_path_free((girdle_path *)(uintptr_t)drawing->outlines[i].path);
  girdle_common_release(&host->memory, drawing->outlines, drawing->count * sizeof *drawing->outlines);
}

static void clear_drawings(girdle_host *host) {
  for (uint64_t i = 0; i < host->drawing_count; i++)
    free_drawing(host, &host->drawings[i]);
  host->drawing_count = 0;
}

void girdle_host_clear(girdle_host *host, int32_t layer) {
  uint64_t kept = 0;
  for (uint64_t i = 0; i < host->source_count; i++) {
    if (host->sources[i].layer == layer)
      free_source(host, &host->sources[i]);
    else
      host->sources[kept++] = host->sources[i];
  }
  host->source_count = kept;
  if (layer == GIRDLE_LAYER_COSTUME) clear_drawings(host);
}

void girdle_host_free(girdle_host *host) {
  girdle_allocator memory;
  if (!host) return;
  memory = host->memory;
  for (uint64_t i = 0; i < host->source_count; i++)
    free_source(host, &host->sources[i]);
  clear_drawings(host);
  girdle_common_release(&memory, host->sources, host->source_capacity * sizeof *host->sources);
  girdle_common_release(&memory, host->drawings, host->drawing_capacity * sizeof *host->drawings);
  girdle_common_release(&memory, host, sizeof *host);
}

/* A file's name is a bare name: no folder, no way up, nothing that a terminal would act on. */
static int32_t check_file(girdle_call *call, const char *file) {
  size_t length = strlen(file);
  int good = length > 0 && length < 64 && file[0] != '.';
  for (size_t i = 0; i < length && good; i++)
    good = (unsigned char)file[i] >= 32 && file[i] != 127 && file[i] != '/' && file[i] != '\\' && file[i] != ':';
  if (good) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "file",
                            "a source is named by a file name of at most 63 characters without a folder, like "
                            "\"alternating_line.lua\"");
}

static int32_t name_source(girdle_call *call, girdle_source *source, int32_t layer, const char *file) {
  size_t length;
  GIRDLE_TRY(check_file(call, file));
  if (layer != GIRDLE_LAYER_COSTUME && layer != GIRDLE_LAYER_HOUSE)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "layer", "layer %d is not known", (int)layer);
  length = strlen(file);
  if (length < 5 || strcmp(file + length - 4, ".lua") != 0)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "file", "'%s' does not end in .lua", file);
  source->layer = layer;
  girdle_common_text(source->file, sizeof source->file, file);
  girdle_common_text(source->name, sizeof source->name, file);
  source->name[length - 4] = '\0';
  for (char *at = source->name; *at; at++)
    if (*at == '_') *at = ' ';
  return GIRDLE_OK;
}

static girdle_source *find_in_layer(const girdle_host *host, int32_t layer, const char *name) {
  for (uint64_t i = 0; i < host->source_count; i++)
    if (host->sources[i].layer == layer && strcmp(host->sources[i].name, name) == 0) return &host->sources[i];
  return NULL;
}

int32_t girdle_host_add_source(girdle_call *call, girdle_host *host, int32_t layer, const char *file, const char *text,
                               uint64_t bytes) {
  GIRDLE_GIVEN(call, host, file, text || !bytes);
  girdle_source source, *same;
  void *items = host->sources;
  memset(&source, 0, sizeof source);
  GIRDLE_TRY(name_source(call, &source, layer, file));
  if (bytes >= 3 && memcmp(text, "\xef\xbb\xbf", 3) == 0) { /* the mark some editors begin a text with */
    text += 3;
    bytes -= 3;
  }
  if (bytes > MOST_SOURCE_BYTES)
    return girdle_common_fail(call, GIRDLE_LIMIT, "source", "%s is larger than 64 KiB", file);
  same = find_in_layer(host, layer, source.name);
  GIRDLE_TRY(
      girdle_common_grow(call, &host->memory, &items, &host->source_capacity, host->source_count + 1, sizeof source));
  host->sources = items;
  same = same ? find_in_layer(host, layer, source.name) : NULL;
  source.text = host->memory.resize(host->memory.context, NULL, 0, bytes + 1);
  if (!source.text) return girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  if (bytes) memcpy(source.text, text, (size_t)bytes);
  source.text[bytes] = '\0';
  source.bytes = bytes;
  if (same) {
    free_source(host, same);
    *same = source;
  } else {
    host->sources[host->source_count++] = source;
  }
  return GIRDLE_OK;
}

/* ---- drawings */

static int32_t copy_path(girdle_call *call, const girdle_path *from, girdle_path **out) {
  static const double same[6] = {1, 0, 0, 1, 0, 0};
  return girdle_path_transformed(call, from, same, out);
}

static int32_t fill_drawing(girdle_call *call, const girdle_allocator *memory, girdle_drawing *drawing,
                            const girdle_outline *outlines, uint64_t count) {
  girdle_call own;
  if (count == 0) return GIRDLE_OK;
  girdle_call_init(&own, sizeof own);
  if (call) own = *call;
  own.memory = *memory;
  drawing->outlines = memory->resize(memory->context, NULL, 0, count * sizeof *outlines);
  if (!drawing->outlines) return girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  memset(drawing->outlines, 0, (size_t)count * sizeof *outlines);
  drawing->count = count;
  for (uint64_t i = 0; i < count; i++) {
    girdle_path *path = NULL;
    GIRDLE_TRY(copy_path(&own, outlines[i].path, &path));
    girdle_common_text(drawing->outlines[i].name, sizeof drawing->outlines[i].name, outlines[i].name);
    drawing->outlines[i].path = path;
  }
  return GIRDLE_OK;
}

int32_t girdle_host_add_outlines(girdle_call *call, girdle_host *host, const char *file, const girdle_outline *outlines,
                                 uint64_t count) {
  GIRDLE_GIVEN(call, host, file, outlines || !count);
  girdle_drawing drawing;
  void *items = host->drawings;
  int32_t status;
  memset(&drawing, 0, sizeof drawing);
  GIRDLE_TRY(check_file(call, file));
  if (count > 10000) return girdle_common_fail(call, GIRDLE_LIMIT, "outlines", "%s has more than 10000 outlines", file);
  girdle_common_text(drawing.file, sizeof drawing.file, file);
  GIRDLE_TRY(girdle_common_grow(call, &host->memory, &items, &host->drawing_capacity, host->drawing_count + 1,
                                sizeof drawing));
  host->drawings = items;
  status = fill_drawing(call, &host->memory, &drawing, outlines, count);
  if (status) {
    free_drawing(host, &drawing);
    return status;
  }
  for (uint64_t i = 0; i < host->drawing_count; i++) {
    if (strcmp(host->drawings[i].file, file) != 0) continue;
    free_drawing(host, &host->drawings[i]);
    host->drawings[i] = drawing;
    return GIRDLE_OK;
  }
  host->drawings[host->drawing_count++] = drawing;
  return GIRDLE_OK;
}
