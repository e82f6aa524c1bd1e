/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

/* A message is a row of plain structs and of texts led by their length, as both sides are one program. The worker
 * trusts its parent; the parent trusts nothing: every length is held against what is left, every text against its
 * field, every number against its range, before any of it is used. */

/* ---- writing */

static void put_number(buffer *to, uint64_t number) {
  buffer_add(to, &number, sizeof number);
}

static void put_bytes(buffer *to, const void *bytes, uint64_t count) {
  put_number(to, count);
  buffer_add(to, bytes, count);
}

static void put_text(buffer *to, const char *text) {
  put_bytes(to, text, strlen(text) + 1);
}

/* ---- reading */

typedef struct reader {
  const char *at;
  uint64_t left;
  int unsound;
} reader;

static const char *take(reader *from, uint64_t count) {
  const char *bytes = from->at;
  if (from->unsound || count > from->left) {
    from->unsound = 1;
    return NULL;
  }
  from->at += count;
  from->left -= count;
  return bytes;
}

static int take_into(reader *from, void *into, uint64_t count) {
  const char *bytes = take(from, count);
  if (bytes)
    memcpy(into, bytes, (size_t)count);
  else
    memset(into, 0, (size_t)count);
  return bytes != NULL;
}

static uint64_t take_number(reader *from) {
  uint64_t number = 0;
  take_into(from, &number, sizeof number);
  return number;
}

/* How many items of a size follow; unsound when they cannot all be there. */
static uint64_t take_count(reader *from, uint64_t item_bytes) {
  uint64_t count = take_number(from);
  if (count > from->left / item_bytes) from->unsound = 1;
  return from->unsound ? 0 : count;
}

/* A text with its NUL inside the message; "" when unsound. */
static const char *take_text(reader *from) {
  uint64_t count = take_number(from);
  const char *text = count ? take(from, count) : NULL;
  if (text && memchr(text, 0, (size_t)count) == text + count - 1) return text;
  from->unsound = 1;
  return "";
}

/* ---- a task, parent to worker */

static void put_folder(buffer *to, const folder *beside) {
  put_number(to, beside ? beside->source_count : 0);
  for (uint64_t at = 0; beside && at < beside->source_count; at++) {
    put_text(to, beside->sources[at].file);
    put_bytes(to, beside->sources[at].text.bytes, beside->sources[at].text.count);
  }
  put_text(to, beside ? beside->drawing : "");
  put_number(to, beside ? beside->outline_count : 0);
  for (uint64_t at = 0; beside && at < beside->outline_count; at++) {
    put_text(to, beside->outlines[at].name);
    put_bytes(to, beside->outlines[at].data.bytes, beside->outlines[at].data.count);
  }
}

static void put_job(buffer *to, const girdle_job *job) {
  uint64_t count;
  const girdle_measure *measures = girdle_job_measures(job, &count);
  buffer_add(to, girdle_job_head_of(job), sizeof(girdle_job_head));
  put_number(to, count);
  buffer_add(to, measures, count * sizeof *measures);
}

void message_write_task(buffer *to, const task *of, double most_seconds) {
  buffer_add(to, &most_seconds, sizeof most_seconds);
  put_number(to, (uint64_t)of->kind);
  put_text(to, of->name);
  put_folder(to, of->beside);
  put_number(to, of->given_count);
  for (uint64_t at = 0; at < of->given_count; at++) {
    put_text(to, of->given[at].name);
    put_text(to, of->given[at].value);
  }
  if (of->job) put_job(to, of->job);
  put_text(to, of->zones_source ? of->zones_source : "");
  put_number(to, of->row_count);
  buffer_add(to, of->rows, of->row_count * sizeof *of->rows);
}

double message_seconds_of(const char *bytes, uint64_t count) {
  double seconds = 0;
  if (count >= sizeof seconds) memcpy(&seconds, bytes, sizeof seconds);
  return seconds;
}

/* ---- the worker's side */

typedef struct performing {
  girdle_call call;
  girdle_error error;
  buffer faults;
  uint64_t fault_count;
  reader from;
} performing;

static void keep_fault(void *context, const girdle_error *error) {
  performing *in = context;
  if (in->fault_count == 100) return; /* as many as anyone reads */
  buffer_add(&in->faults, error, sizeof *error);
  in->fault_count++;
}

static void work_init(performing *in, const char *bytes, uint64_t count) {
  memset(in, 0, sizeof *in);
  girdle_call_init(&in->call, sizeof in->call);
  girdle_error_init(&in->error, sizeof in->error);
  in->call.error = &in->error;
  in->call.report.context = in;
  in->call.report.fault = keep_fault;
  in->from.at = bytes;
  in->from.left = count;
}

static int32_t take_outlines(performing *in, girdle_host *host, const char *drawing) {
  uint64_t count = take_count(&in->from, 16);
  girdle_outline *outlines = command_new(count * sizeof *outlines);
  int32_t status = GIRDLE_OK;
  for (uint64_t at = 0; at < count && !status; at++) {
    const char *name = take_text(&in->from);
    uint64_t bytes = take_number(&in->from);
    const char *data = take(&in->from, bytes);
    girdle_common_text(outlines[at].name, sizeof outlines[at].name, name);
    status = girdle_path_parse(&in->call, data ? data : "", data ? bytes : 0, (girdle_path **)&outlines[at].path);
  }
  if (!status && drawing[0]) status = girdle_host_add_outlines(&in->call, host, drawing, outlines, count);
  for (uint64_t at = 0; at < count; at++) girdle_path_free((girdle_path *)outlines[at].path);
  free(outlines);
  return status;
}

static int32_t take_folder(performing *in, girdle_host *host) {
  uint64_t count = take_count(&in->from, 16);
  const char *drawing;
  girdle_host_clear(host, GIRDLE_LAYER_COSTUME);
  for (uint64_t at = 0; at < count; at++) {
    const char *file = take_text(&in->from);
    uint64_t bytes = take_number(&in->from);
    const char *text = take(&in->from, bytes);
    if (text) GIRDLE_TRY(girdle_host_add_source(&in->call, host, GIRDLE_LAYER_COSTUME, file, text, bytes));
  }
  drawing = take_text(&in->from);
  return take_outlines(in, host, drawing);
}

static int32_t take_job(performing *in, girdle_job **out) {
  girdle_job_head head;
  girdle_measure measure;
  uint64_t count;
  int32_t status;
  take_into(&in->from, &head, sizeof head);
  count = take_count(&in->from, sizeof measure);
  status = girdle_job_new(&in->call, &head, out);
  for (uint64_t at = 0; at < count && !status; at++) {
    take_into(&in->from, &measure, sizeof measure);
    status = girdle_job_set_measure(&in->call, *out, measure.name, measure.mm);
  }
  return status;
}

static void put_placement(buffer *to, const girdle_placement *placement) {
  const girdle_placed *records = NULL;
  const girdle_stone *stones = NULL;
  uint32_t stone_count = 0;
  int64_t count = placement ? girdle_placement_view(placement, &records, &stones, &stone_count) : 0;
  put_number(to, placement != NULL);
  put_number(to, stone_count);
  buffer_add(to, stones, stone_count * sizeof *stones);
  put_number(to, (uint64_t)count);
  buffer_add(to, records, (uint64_t)count * sizeof *records);
}

static void put_zones(buffer *to, const girdle_job *job) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  buffer_add(to, &girdle_job_head_of(job)->fabric, sizeof(girdle_fabric));
  put_number(to, count);
  for (uint64_t at = 0; at < count; at++) {
    buffer_add(to, &zones[at], sizeof zones[at]);
    put_placement(to, zones[at].placement);
    put_number(to, zones[at].already_count);
    buffer_add(to, zones[at].already, zones[at].already_count * sizeof *zones[at].already);
    buffer_add(to, zones[at].already_pieces, zones[at].already_count * sizeof *zones[at].already_pieces);
  }
}

static void put_sheet(buffer *to, const girdle_recipe_sheet *of) {
  uint64_t count;
  const girdle_parameter *parameters = girdle_recipe_sheet_parameters(of, &count);
  put_number(to, (uint64_t)girdle_recipe_sheet_kind(of));
  put_text(to, girdle_recipe_sheet_name(of));
  put_text(to, girdle_recipe_sheet_about(of));
  put_text(to, girdle_recipe_sheet_outlines(of));
  put_number(to, count);
  buffer_add(to, parameters, count * sizeof *parameters);
}

static int32_t describe(performing *in, girdle_host *host, const char *name, buffer *payload) {
  girdle_recipe_sheet *of = NULL;
  GIRDLE_TRY(girdle_host_describe(&in->call, host, name, &of));
  put_sheet(payload, of);
  girdle_recipe_sheet_free(of);
  return GIRDLE_OK;
}

/* One zone that bears the recipe's name. */
static int32_t place(performing *in, girdle_host *host, const char *name, const girdle_given *given, uint64_t count,
                     girdle_job *job) {
  girdle_placement *placement = NULL;
  girdle_zone zone;
  int32_t status;
  GIRDLE_TRY(girdle_host_place(&in->call, host, name, given, count, &placement));
  girdle_zone_init(&zone, sizeof zone);
  girdle_common_text(zone.name, sizeof zone.name, name);
  girdle_common_text(zone.recipe, sizeof zone.recipe, name);
  zone.placement = placement;
  status = girdle_job_add_zone(&in->call, job, &zone);
  girdle_placement_free(placement);
  return status;
}

static int32_t costume_zones(performing *in, girdle_host *host, const char *name, girdle_job *job) {
  const char *table = take_text(&in->from);
  uint64_t count = take_count(&in->from, sizeof(girdle_zone_row));
  girdle_zone_row *rows = command_new(count * sizeof *rows);
  int32_t status = GIRDLE_OK;
  take_into(&in->from, rows, count * sizeof *rows);
  if (name[0]) status = girdle_host_costume(&in->call, host, name, job);
  if (!status && count) status = girdle_host_zones(&in->call, host, table, rows, count, job);
  free(rows);
  return status;
}

static int32_t zones(performing *in, girdle_host *host, int32_t kind, const char *name, const girdle_given *given,
                     uint64_t given_count, buffer *payload) {
  girdle_job *job = NULL;
  int32_t status = take_job(in, &job);
  if (!status && kind == TASK_PLACE) status = place(in, host, name, given, given_count, job);
  if (!status && kind == TASK_COSTUME) status = costume_zones(in, host, name, job);
  if (!status) put_zones(payload, job);
  girdle_job_free(job);
  return status;
}

static int32_t perform(performing *in, girdle_host *host, buffer *payload) {
  int32_t kind, status;
  const char *name;
  girdle_given *given;
  uint64_t count;
  take(&in->from, sizeof(double));
  kind = (int32_t)take_number(&in->from);
  name = take_text(&in->from);
  GIRDLE_TRY(take_folder(in, host));
  count = take_count(&in->from, 16);
  given = command_new(count * sizeof *given);
  for (uint64_t at = 0; at < count; at++) {
    given[at].name = take_text(&in->from);
    given[at].value = take_text(&in->from);
  }
  if (kind == TASK_DESCRIBE)
    status = describe(in, host, name, payload);
  else
    status = zones(in, host, kind, name, given, count, payload);
  free(given);
  return status;
}

void message_perform(girdle_host *host, const char *bytes, uint64_t count, const buffer *log, buffer *answer) {
  performing in;
  buffer payload = {0};
  int32_t status;
  work_init(&in, bytes, count);
  status = perform(&in, host, &payload);
  if (!status && in.from.unsound)
    status = girdle_common_fail(&in.call, GIRDLE_INTERNAL, NULL, "a worker could not read its job");
  put_number(answer, (uint64_t)status);
  put_number(answer, in.fault_count);
  buffer_add(answer, in.faults.bytes, in.faults.count);
  buffer_add(answer, &in.error, sizeof in.error);
  put_bytes(answer, log->bytes, log->count);
  if (!status) buffer_add(answer, payload.bytes, payload.count);
  buffer_free(&in.faults);
  buffer_free(&payload);
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

static girdle_stone *take_stones(reader *from, uint64_t count) {
  girdle_stone *stones;
  if (count > from->left / sizeof *stones) from->unsound = 1;
  if (from->unsound) return NULL;
  stones = command_new(count * sizeof *stones);
  take_into(from, stones, count * sizeof *stones);
  for (uint64_t at = 0; at < count; at++)
    if (!is_plain_stone(&stones[at])) from->unsound = 1;
  return stones;
}

static girdle_placed *take_records(reader *from, uint64_t count, uint64_t stone_count) {
  girdle_placed *records = command_new(count * sizeof *records);
  take_into(from, records, count * sizeof *records);
  for (uint64_t at = 0; at < count; at++)
    if (!is_within(records[at].x_mm, -1e8, 1e8) || !is_within(records[at].y_mm, -1e8, 1e8) ||
        !is_within((double)records[at].turn_deg, 0, 360) || records[at].stone >= stone_count)
      from->unsound = 1;
  return records;
}

static int32_t take_placement(program *with, reader *from, girdle_placement **out) {
  uint64_t there = take_number(from), stone_count = take_count(from, sizeof(girdle_stone)), record_count;
  girdle_stone *stones = take_stones(from, stone_count);
  girdle_placed *records;
  int32_t status = GIRDLE_OK;
  *out = NULL;
  record_count = take_count(from, sizeof *records);
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
  return size_or_nan(zone->area_mm2) && size_or_nan(zone->edge_mm) && is_text(zone->name, sizeof zone->name) && is_text(zone->side, sizeof zone->side) &&
         is_text(zone->recipe, sizeof zone->recipe) && zone->times >= 1 && zone->times <= 1000000;
}

/* The pair was made two zones by the worker's job, so the flag has done its work. */
static void plain_zone(girdle_zone *zone, reader *from) {
  take_into(from, zone, sizeof *zone);
  if (!is_plain_zone(zone)) from->unsound = 1;
  zone->struct_bytes = sizeof *zone;
  zone->flags = 0;
  zone->placement = NULL;
  zone->already = NULL;
  zone->already_pieces = NULL;
  zone->already_count = 0;
}

static int64_t *take_pieces(reader *from, uint64_t count) {
  int64_t *pieces = command_new(count * sizeof *pieces);
  take_into(from, pieces, count * sizeof *pieces);
  for (uint64_t at = 0; at < count; at++)
    if (pieces[at] < 0 || pieces[at] > 1000000000000) from->unsound = 1;
  return pieces;
}

static int32_t take_zone(program *with, reader *from, girdle_job *job) {
  girdle_zone zone;
  girdle_placement *placement = NULL;
  girdle_stone *already = NULL;
  int64_t *pieces = NULL;
  int32_t status;
  plain_zone(&zone, from);
  status = take_placement(with, from, &placement);
  zone.placement = placement;
  zone.already_count = take_count(from, sizeof *already + sizeof *pieces);
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

static int32_t take_zones(program *with, reader *from, girdle_job *job) {
  girdle_fabric fabric;
  uint64_t count;
  int32_t status = GIRDLE_OK;
  take_into(from, &fabric, sizeof fabric);
  if (!share_or_nan(fabric.lies_across) || !share_or_nan(fabric.lies_along) || !share_or_nan(fabric.worn_across) ||
      !share_or_nan(fabric.worn_along))
    from->unsound = 1;
  count = take_count(from, sizeof(girdle_zone));
  if (!from->unsound) status = girdle_job_set_fabric(&with->call, job, &fabric);
  for (uint64_t at = 0; at < count && !status && !from->unsound; at++) status = take_zone(with, from, job);
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
         is_text(parameter->least, sizeof parameter->least) && is_text(parameter->most, sizeof parameter->most);
}

static int32_t take_sheet(reader *from, sheet *out) {
  out->kind = (int32_t)take_number(from);
  girdle_common_text(out->name, sizeof out->name, take_text(from));
  girdle_common_text(out->about, sizeof out->about, take_text(from));
  girdle_common_text(out->outlines, sizeof out->outlines, take_text(from));
  out->parameter_count = take_count(from, sizeof *out->parameters);
  out->parameters = command_new(out->parameter_count * sizeof *out->parameters);
  take_into(from, out->parameters, out->parameter_count * sizeof *out->parameters);
  for (uint64_t at = 0; at < out->parameter_count; at++)
    if (!is_plain_parameter(&out->parameters[at])) from->unsound = 1;
  return GIRDLE_OK;
}

static int is_plain_error(const girdle_error *error) {
  return is_text(error->field, sizeof error->field) && is_text(error->source, sizeof error->source) &&
         is_text(error->nearest, sizeof error->nearest) && is_text(error->message, sizeof error->message) &&
         error->struct_bytes == sizeof *error && error->status >= 0 && error->status < GIRDLE_STATUS_END;
}

/* Words that came from a recipe must not drive the terminal. */
static void without_controls(char *text) {
  for (; *text; text++)
    if ((unsigned char)*text < 0x20 || *text == 0x7f) *text = '?';
}

static void take_error(reader *from, girdle_error *error) {
  take_into(from, error, sizeof *error);
  if (from->unsound || !is_plain_error(error)) {
    from->unsound = 1;
    girdle_error_init(error, sizeof *error);
  }
  without_controls(error->message);
  without_controls(error->source);
}

static void take_faults(program *with, reader *from) {
  uint64_t count = take_count(from, sizeof(girdle_error));
  girdle_error error;
  for (uint64_t at = 0; at < count && !from->unsound; at++) {
    take_error(from, &error);
    if (!from->unsound && with->call.report.fault) with->call.report.fault(with->call.report.context, &error);
  }
}

static void say_log(const program *with, reader *from) {
  uint64_t count = take_number(from);
  const char *bytes = take(from, count);
  if (!bytes || with->flags.quiet) return;
  command_say_bytes(bytes, count);
}

int32_t message_read_answer(program *with, const task *of, const char *bytes, uint64_t count, sheet *out) {
  reader from = {bytes, count, 0};
  uint64_t said = take_number(&from);
  int32_t status = said < GIRDLE_STATUS_END ? (int32_t)said : GIRDLE_INTERNAL;
  girdle_error error;
  take_faults(with, &from);
  take_error(&from, &error);
  if (status && !from.unsound) with->error = error;
  say_log(with, &from);
  if (!status && of->kind == TASK_DESCRIBE && out) take_sheet(&from, out);
  if (!status && of->kind != TASK_DESCRIBE) status = take_zones(with, &from, of->job);
  if (!from.unsound && (status || !from.left)) return status;
  return girdle_common_fail(&with->call, GIRDLE_INTERNAL, NULL, "a worker's answer was damaged and is not used");
}
