/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bytes.h"
#include "common.h"

/* The parent's side of a message: a task goes out, an answer comes in. The worker trusts its parent; the parent trusts
 * nothing: every length is held against what is left, every text against its field, every number against its range,
 * before any of it is used. */

/* ---- a task, parent to worker */

static void put_folder(buffer *to, const folder *beside) {
  bytes_put_number(to, beside ? beside->source_count : 0);
  for (uint64_t at = 0; beside && at < beside->source_count; at++) {
    bytes_put_text(to, beside->sources[at].file);
    bytes_put_bytes(to, beside->sources[at].text.bytes, beside->sources[at].text.count);
  }
  bytes_put_text(to, beside ? beside->drawing : "");
  bytes_put_number(to, beside ? beside->outline_count : 0);
  for (uint64_t at = 0; beside && at < beside->outline_count; at++) {
    bytes_put_text(to, beside->outlines[at].name);
    bytes_put_bytes(to, beside->outlines[at].data.bytes, beside->outlines[at].data.count);
  }
}

static void put_job(buffer *to, const girdle_job *job) {
  uint64_t count;
  const girdle_measure *measures = girdle_job_measures(job, &count);
  buffer_add(to, girdle_job_head_of(job), sizeof(girdle_job_head));
  bytes_put_number(to, count);
  buffer_add(to, measures, count * sizeof *measures);
}

static void put_rows(buffer *to, const void *rows, uint64_t count, uint64_t bytes) {
  bytes_put_number(to, count);
  buffer_add(to, rows, count * bytes);
}

static void put_own(buffer *to, const girdle_catalogue *given) {
  static const girdle_catalogue none = {.struct_bytes = sizeof none};
  const girdle_catalogue *own = given ? given : &none;
  put_rows(to, own->sizes, own->size_count, sizeof *own->sizes);
  put_rows(to, own->cuts, own->cut_count, sizeof *own->cuts);
  put_rows(to, own->materials, own->material_count, sizeof *own->materials);
}

/* Of the swaps those that are the routine's. */
static void put_swaps(buffer *to, const swap *swaps, uint64_t count, const girdle_job *job) {
  uint64_t taken = 0;
  for (uint64_t at = 0; at < count; at++)
    taken += job && swap_is_of(&swaps[at], job);
  bytes_put_number(to, taken);
  for (uint64_t at = 0; at < count; at++) {
    if (!job || !swap_is_of(&swaps[at], job)) continue;
    buffer_add(to, &swaps[at].stone, sizeof swaps[at].stone);
    buffer_add(to, &swaps[at].instead, sizeof swaps[at].instead);
  }
}

void message_write_task(buffer *to, const task *of, double most_seconds) {
  buffer_add(to, &most_seconds, sizeof most_seconds);
  bytes_put_number(to, (uint64_t)of->kind);
  bytes_put_text(to, of->name);
  put_own(to, of->own);
  put_swaps(to, of->swaps, of->swap_count, of->job);
  put_folder(to, of->beside);
  bytes_put_number(to, of->given_count);
  for (uint64_t at = 0; at < of->given_count; at++) {
    bytes_put_text(to, of->given[at].name);
    bytes_put_text(to, of->given[at].value);
  }
  if (of->job) put_job(to, of->job);
  bytes_put_text(to, of->zones_source ? of->zones_source : "");
  bytes_put_number(to, of->row_count);
  buffer_add(to, of->rows, of->row_count * sizeof *of->rows);
}

double message_seconds_of(const char *bytes, uint64_t count) {
  double seconds = 0;
  if (count >= sizeof seconds) memcpy(&seconds, bytes, sizeof seconds);
  return seconds;
}

/* ---- the parent's side: an answer as a stranger's */

static int is_text(const char *field, uint64_t bytes) {
  return memchr(field, 0, (size_t)bytes) != NULL;
}

static int is_within(double value, double least, double most) {
  return value >= least && value <= most; /* a NaN is not */
}

static int is_plain_stone(const girdle_stone *stone) {
  int sound = is_text(stone->size, sizeof stone->size) && is_text(stone->colour, sizeof stone->colour) &&
              is_text(stone->finish, sizeof stone->finish) && is_text(stone->material, sizeof stone->material) &&
              is_text(stone->cut, sizeof stone->cut);
  for (int at = 0; at < 3; at++)
    sound = sound && is_within(stone->diameter_mm[at], 1e-3, 1e3) && is_within(stone->mass_mg[at], 0, 1e9);
  return sound && is_within(stone->height_mm, 0, 1e3) && is_within(stone->length_ratio, 1, 1e3) &&
         stone->outline >= 0 && stone->outline < GIRDLE_OUTLINE_END && stone->fix >= 0 && stone->fix < GIRDLE_FIX_END;
}

static girdle_stone *take_stones(bytes_reader *from, uint64_t count) {
  girdle_stone *stones;
  if (count > from->left / sizeof *stones) from->unsound = 1;
  if (from->unsound) return NULL;
  stones = command_new(count * sizeof *stones);
  bytes_take_into(from, stones, count * sizeof *stones);
  for (uint64_t at = 0; at < count; at++)
    if (!is_plain_stone(&stones[at])) from->unsound = 1;
  return stones;
}

static girdle_placed *take_records(bytes_reader *from, uint64_t count, uint64_t stone_count) {
  girdle_placed *records = command_new(count * sizeof *records);
  bytes_take_into(from, records, count * sizeof *records);
  for (uint64_t at = 0; at < count; at++)
    if (!is_within(records[at].x_mm, -1e8, 1e8) || !is_within(records[at].y_mm, -1e8, 1e8) ||
        !is_within((double)records[at].turn_deg, 0, 360) || records[at].stone >= stone_count)
      from->unsound = 1;
  return records;
}

static int32_t take_placement(program *with, bytes_reader *from, girdle_placement **out) {
  uint64_t there = bytes_take_number(from), stone_count = bytes_take_count(from, sizeof(girdle_stone)), record_count;
  girdle_stone *stones = take_stones(from, stone_count);
  girdle_placed *records;
  int32_t status = GIRDLE_OK;
  *out = NULL;
  record_count = bytes_take_count(from, sizeof *records);
  records = take_records(from, record_count, stone_count);
  if (stone_count > 65535) from->unsound = 1;
  if (there && !from->unsound)
    status = girdle_placement_new(&with->call, stones, (uint32_t)stone_count, records, record_count, out);
  free(stones);
  free(records);
  return status;
}

static int size_or_nan(double size) {
  return size != size || is_within(size, 0, 1e16);
}

static int is_plain_zone(const girdle_zone *zone) {
  return size_or_nan(zone->area_mm2) && size_or_nan(zone->edge_mm) && is_text(zone->name, sizeof zone->name) &&
         is_text(zone->side, sizeof zone->side) && is_text(zone->recipe, sizeof zone->recipe) && zone->times >= 1 &&
         zone->times <= 1000000 && zone->left_out >= 0 && zone->alike >= 0 && zone->alike < GIRDLE_ALIKE_END &&
         is_text(zone->pair_side, sizeof zone->pair_side);
}

/* The pair was made two zones by the worker's job, so that flag has done its work. */
static void plain_zone(girdle_zone *zone, bytes_reader *from) {
  bytes_take_into(from, zone, sizeof *zone);
  if (!is_plain_zone(zone)) from->unsound = 1;
  zone->struct_bytes = sizeof *zone;
  zone->flags &= GIRDLE_ZONE_DRAWN;
  zone->placement = NULL;
  zone->already = NULL;
  zone->already_pieces = NULL;
  zone->already_count = 0;
}

static int64_t *take_pieces(bytes_reader *from, uint64_t count) {
  int64_t *pieces = command_new(count * sizeof *pieces);
  bytes_take_into(from, pieces, count * sizeof *pieces);
  for (uint64_t at = 0; at < count; at++)
    if (pieces[at] < 0 || pieces[at] > 1000000000000) from->unsound = 1;
  return pieces;
}

static int32_t take_zone(program *with, bytes_reader *from, girdle_job *job) {
  girdle_zone zone;
  girdle_placement *placement = NULL;
  girdle_stone *already = NULL;
  int64_t *pieces = NULL;
  int32_t status;
  plain_zone(&zone, from);
  status = take_placement(with, from, &placement);
  zone.placement = placement;
  zone.already_count = bytes_take_count(from, sizeof *already + sizeof *pieces);
  already = take_stones(from, zone.already_count);
  pieces = take_pieces(from, zone.already_count);
  zone.already = already;
  zone.already_pieces = pieces;
  if (!status && !from->unsound) status = girdle_job_add_zone(&with->call, job, &zone);
  girdle_placement_free(placement);
  free(already);
  free(pieces);
  return status;
}

static int share_or_nan(double share) {
  return share != share || is_within(share, -0.99, 10);
}

static int32_t take_zones(program *with, bytes_reader *from, girdle_job *job) {
  girdle_fabric fabric;
  uint64_t count;
  int32_t status = GIRDLE_OK;
  bytes_take_into(from, &fabric, sizeof fabric);
  if (!share_or_nan(fabric.lies_across) || !share_or_nan(fabric.lies_along) || !share_or_nan(fabric.worn_across) ||
      !share_or_nan(fabric.worn_along))
    from->unsound = 1;
  count = bytes_take_count(from, sizeof(girdle_zone));
  if (!from->unsound) status = girdle_job_set_fabric(&with->call, job, &fabric);
  for (uint64_t at = 0; at < count && !status && !from->unsound; at++)
    status = take_zone(with, from, job);
  return status;
}

void sheet_free(sheet *of) {
  free(of->parameters);
  memset(of, 0, sizeof *of);
}

static int is_plain_parameter(const girdle_parameter *parameter) {
  return is_text(parameter->name, sizeof parameter->name) && is_text(parameter->kind, sizeof parameter->kind) &&
         is_text(parameter->about, sizeof parameter->about) &&
         is_text(parameter->fallback, sizeof parameter->fallback) &&
         is_text(parameter->least, sizeof parameter->least) && is_text(parameter->most, sizeof parameter->most) &&
         is_text(parameter->choices, sizeof parameter->choices);
}

/* A stranger's words are shown on a terminal: line ends are spaces there, and so is what could drive it. */
static void clean_parameter(girdle_parameter *of) {
  girdle_common_clean(of->name, ' ');
  girdle_common_clean(of->about, ' ');
  girdle_common_clean(of->fallback, ' ');
  girdle_common_clean(of->choices, ' ');
}

static int32_t take_sheet(bytes_reader *from, sheet *out) {
  out->kind = (int32_t)bytes_take_number(from);
  girdle_common_text(out->name, sizeof out->name, bytes_take_text(from));
  girdle_common_text(out->about, sizeof out->about, bytes_take_text(from));
  girdle_common_text(out->outlines, sizeof out->outlines, bytes_take_text(from));
  girdle_common_clean(out->name, ' ');
  girdle_common_clean(out->about, ' ');
  girdle_common_clean(out->outlines, ' ');
  out->parameter_count = bytes_take_count(from, sizeof *out->parameters);
  out->parameters = command_new(out->parameter_count * sizeof *out->parameters);
  bytes_take_into(from, out->parameters, out->parameter_count * sizeof *out->parameters);
  for (uint64_t at = 0; at < out->parameter_count; at++)
    if (is_plain_parameter(&out->parameters[at]))
      clean_parameter(&out->parameters[at]);
    else
      from->unsound = 1;
  return GIRDLE_OK;
}

static int is_plain_error(const girdle_error *error) {
  return is_text(error->field, sizeof error->field) && is_text(error->source, sizeof error->source) &&
         is_text(error->nearest, sizeof error->nearest) && is_text(error->message, sizeof error->message) &&
         error->struct_bytes == sizeof *error && error->status >= 0 && error->status < GIRDLE_STATUS_END;
}

static void take_error(bytes_reader *from, girdle_error *error) {
  bytes_take_into(from, error, sizeof *error);
  if (from->unsound || !is_plain_error(error)) {
    from->unsound = 1;
    girdle_error_init(error, sizeof *error);
  }
  girdle_common_clean(error->message, '?'); /* words that came from a recipe must not drive the terminal */
  girdle_common_clean(error->source, '?');
}

static void take_faults(program *with, bytes_reader *from) {
  uint64_t count = bytes_take_count(from, sizeof(girdle_error));
  girdle_error error;
  for (uint64_t at = 0; at < count && !from->unsound; at++) {
    take_error(from, &error);
    if (!from->unsound && with->call.report.fault) with->call.report.fault(with->call.report.context, &error);
  }
}

/* Notes of the host are said once, whoever's they are. */
static void say_log(program *with, bytes_reader *from) {
  uint64_t count = bytes_take_number(from), length;
  const char *bytes = bytes_take(from, count);
  for (const char *at = bytes; at && count && !with->flags.quiet; at += length, count -= length) {
    const char *end = memchr(at, '\n', (size_t)count);
    length = end ? (uint64_t)(end - at) + 1 : count;
    if (*at != GIRDLE_HOST_NOTE[0]) {
      command_say_bytes(at, length);
    } else if (command_note_is_new(with, at, length)) {
      fputs("girdle: ", stderr);
      command_say_bytes(at + 1, length - 1);
    }
  }
}

int32_t message_read_answer(program *with, const task *of, const char *bytes, uint64_t count, sheet *out) {
  bytes_reader from = {bytes, count, 0};
  uint64_t said = bytes_take_number(&from);
  int32_t status = said < GIRDLE_STATUS_END ? (int32_t)said : GIRDLE_INTERNAL;
  girdle_error error;
  take_faults(with, &from);
  take_error(&from, &error);
  if (status && !from.unsound) with->error = error;
  say_log(with, &from);
  if (!status && of->kind == TASK_DESCRIBE && out) take_sheet(&from, out);
  if (!status && (of->kind == TASK_PLACE || of->kind == TASK_COSTUME)) status = take_zones(with, &from, of->job);
  if (!from.unsound && (status || !from.left)) return status;
  return girdle_common_fail(&with->call, GIRDLE_INTERNAL, NULL, "a worker's answer was damaged and is not used");
}
