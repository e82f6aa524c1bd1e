/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "common.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- memory */

static void *malloc_resize(void *context, void *block, uint64_t old_bytes, uint64_t new_bytes) {
  (void)context;
  (void)old_bytes;
  if (new_bytes == 0) {
    free(block);
    return NULL;
  }
  if (new_bytes > SIZE_MAX / 2) return NULL;
  return realloc(block, (size_t)new_bytes);
}

girdle_allocator girdle_common_memory(const girdle_call *call) {
  girdle_allocator plain = {NULL, malloc_resize};
  return call && call->memory.resize ? call->memory : plain;
}

void *girdle_common_resize(const girdle_allocator *memory, void *block, uint64_t old_bytes, uint64_t new_bytes) {
  void *moved = memory->resize(memory->context, block, old_bytes, new_bytes);
  return !moved && new_bytes && new_bytes <= old_bytes ? block : moved;
}

void girdle_common_release(const girdle_allocator *memory, void *block, uint64_t bytes) {
  if (block) memory->resize(memory->context, block, bytes, 0);
}

void *girdle_common_new(girdle_call *call, uint64_t bytes) {
  girdle_allocator memory = girdle_common_memory(call);
  void *block = memory.resize(memory.context, NULL, 0, bytes);
  if (block)
    memset(block, 0, (size_t)bytes);
  else
    girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  return block;
}

void *girdle_common_copy(girdle_call *call, const void *from, uint64_t bytes) {
  void *block = girdle_common_new(call, bytes);
  if (block) memcpy(block, from, (size_t)bytes);
  return block;
}

int32_t girdle_common_grow(girdle_call *call, const girdle_allocator *memory, void **items, uint64_t *capacity,
                           uint64_t needed, uint64_t item_bytes) {
  uint64_t wanted = *capacity ? *capacity : 8;
  void *moved;
  if (needed <= *capacity) return GIRDLE_OK;
  if (needed > UINT64_MAX / 4 / item_bytes) return girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  while (wanted < needed)
    wanted *= 2;
  moved = girdle_common_resize(memory, *items, *capacity * item_bytes, wanted * item_bytes);
  if (!moved) return girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  *items = moved;
  *capacity = wanted;
  return GIRDLE_OK;
}

/* ---- failing */

static girdle_error *store_of(girdle_call *call) {
  return call ? call->error : NULL;
}

int32_t girdle_common_fail(girdle_call *call, int32_t status, const char *field, const char *format, ...) {
  girdle_error *error = store_of(call);
  va_list arguments;
  if (!error || error->status) return status;
  error->status = status;
  if (field) girdle_common_text(error->field, sizeof error->field, field);
  va_start(arguments, format);
  vsnprintf(error->message, sizeof error->message, format, arguments);
  va_end(arguments);
  return status;
}

int32_t girdle_common_missing(girdle_call *call, const char *list, uint64_t index) {
  char name[sizeof call->error->field];
  for (; index > 0; index--)
    list = strchr(list, ',') + 2;
  snprintf(name, sizeof name, "%.*s", (int)strcspn(list, ", "), list);
  return girdle_common_fail(call, GIRDLE_ARGUMENT, name, "%s must not be NULL", name);
}

static void set_numbers(girdle_call *call, double value, double least, double most) {
  girdle_error *error = store_of(call);
  if (!error) return;
  error->value = value;
  error->least = least;
  error->most = most;
}

/* Numbers of more than 15 digits as "1e300". */
static void write_limit(double value, char *text, uint64_t bytes) {
  int tens = fabs(value) >= 1e15 && isfinite(value) ? (int)floor(log10(fabs(value))) : 0;
  uint64_t length = girdle_number_text(tens ? value / pow(10, tens) : value, tens ? 3 : 6, text, bytes);
  if (tens) snprintf(text + length, bytes - length, "e%d", tens);
}

int32_t girdle_common_range(girdle_call *call, const char *field, double value, double least, double most,
                            const char *unit) {
  char numbers[3][32];
  const char *space = unit[0] ? " " : "", *more;
  if (value >= least && value <= most) return GIRDLE_OK;
  if (store_of(call) && store_of(call)->status) return GIRDLE_ARGUMENT;
  write_limit(value, numbers[0], sizeof numbers[0]);
  write_limit(least, numbers[1], sizeof numbers[1]);
  write_limit(most, numbers[2], sizeof numbers[2]);
  more = least > 0 && strcmp(numbers[1], "0") == 0 ? "more than " : "";
  if (most == INFINITY)
    girdle_common_fail(call, GIRDLE_ARGUMENT, field, "%s must be %s%s%s%s, not %s", field, *more ? more : "at least ",
                       numbers[1], space, unit, numbers[0]);
  else if (least == -INFINITY)
    girdle_common_fail(call, GIRDLE_ARGUMENT, field, "%s must be at most %s%s%s, not %s", field, numbers[2], space,
                       unit, numbers[0]);
  else
    girdle_common_fail(call, GIRDLE_ARGUMENT, field, "%s must be %s%s to %s%s%s, not %s", field, more, numbers[1],
                       numbers[2], space, unit, numbers[0]);
  set_numbers(call, value, least, most);
  return GIRDLE_ARGUMENT;
}

/* With none near, a few known names are told: "; known are front, back, left". */
static void show_known(girdle_error *error, const char *const *known, uint64_t count) {
  size_t used = strlen(error->message), length = 0;
  for (uint64_t i = 0; i < count; i++)
    length += strlen(known[i]) + 2;
  if (count < 2 || count > 8 || used + length + 10 >= sizeof error->message) return;
  for (uint64_t i = 0; i < count; i++)
    used += (size_t)snprintf(error->message + used, sizeof error->message - used, "%s%s", i ? ", " : "; known are ",
                             known[i]);
}

int32_t girdle_common_unknown(girdle_call *call, const char *field, const char *word, const char *const *known,
                              uint64_t count) {
  const char *nearest = girdle_nearest(word, known, count);
  girdle_error *error = store_of(call);
  if (!error || error->status) return GIRDLE_UNKNOWN;
  if (nearest) {
    girdle_common_fail(call, GIRDLE_UNKNOWN, field, "unknown %s '%s', did you mean '%s'?", field, word, nearest);
    girdle_common_text(error->nearest, sizeof error->nearest, nearest);
    return GIRDLE_UNKNOWN;
  }
  girdle_common_fail(call, GIRDLE_UNKNOWN, field, "unknown %s '%s'", field, word);
  show_known(error, known, count);
  return GIRDLE_UNKNOWN;
}

void girdle_common_at(girdle_call *call, const char *source, int32_t line, int32_t column, int64_t byte) {
  girdle_error *error = store_of(call);
  if (!error || !error->status) return;
  if (source && !error->source[0]) girdle_common_text(error->source, sizeof error->source, source);
  if (error->line < 0) error->line = line;
  if (error->column < 0) error->column = column;
  if (error->byte < 0) error->byte = byte;
}

void girdle_common_report(girdle_call *call) {
  girdle_error *error = store_of(call);
  if (!error || !error->status) return;
  if (call->report.fault) call->report.fault(call->report.context, error);
  girdle_error_init(error, error->struct_bytes);
}

int32_t girdle_common_tick(girdle_call *call, uint64_t steps, double done) {
  if (!call || !call->watch.tick || !call->watch.tick(call->watch.context, steps, done)) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_STOPPED, NULL, "stopped before it was done");
}

/* ---- small things */

int girdle_common_text(char *field, uint64_t bytes, const char *text) {
  size_t length = strlen(text), room = (size_t)bytes - 1;
  if (length <= room) {
    memcpy(field, text, length + 1);
    return 1;
  }
  while (room && ((unsigned char)text[room] & 0xc0) == 0x80)
    room--;
  memcpy(field, text, room);
  field[room] = '\0';
  return 0;
}

static uint64_t character_bytes(const unsigned char *at, uint64_t bytes) {
  uint64_t length = at[0] < 0xc2 || at[0] >= 0xf5 ? 1 : at[0] < 0xe0 ? 2 : at[0] < 0xf0 ? 3 : 4;
  for (uint64_t i = 1; i < length; i++)
    if (i >= bytes || (at[i] & 0xc0) != 0x80) return 1;
  return length;
}

uint64_t girdle_common_character(const char *text, uint64_t bytes, int *control) {
  const unsigned char *at = (const unsigned char *)text;
  uint64_t length = character_bytes(at, bytes);
  if (length == 1)
    *control = at[0] < 0x20 || (at[0] >= 0x7f && at[0] < 0xa0);
  else if (length == 2)
    *control = at[0] == 0xc2 && at[1] < 0xa0;
  else /* U+202x lies at e2 80 ax, U+206x at e2 81 ax */
    *control = at[0] == 0xe2 &&
               ((at[1] == 0x80 && at[2] >= 0xaa && at[2] <= 0xae) || (at[1] == 0x81 && at[2] >= 0xa6 && at[2] <= 0xa9));
  return length;
}

void girdle_common_clean(char *text, char instead) {
  uint64_t left = strlen(text), length;
  char *to = text;
  int control;
  for (; left; text += length, left -= length) {
    length = girdle_common_character(text, left, &control);
    if (control)
      *to++ = instead;
    else
      to = (char *)memmove(to, text, (size_t)length) + length;
  }
  *to = '\0';
}

void girdle_common_options(void *own, uint64_t own_bytes, const void *given) {
  uint32_t given_bytes;
  if (!given) return;
  memcpy(&given_bytes, given, sizeof given_bytes);
  memcpy(own, given, (size_t)(given_bytes < own_bytes ? given_bytes : own_bytes));
}
