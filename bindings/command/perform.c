/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <stdlib.h>
#include <string.h>

#include "bytes.h"
#include "common.h"

/* The worker's side of a message: a task is read and done with the host, and what came of it is written as an answer.
 */

typedef struct performing {
  girdle_call call;
  girdle_error error;
  buffer faults;
  uint64_t fault_count;
  bytes_reader from;
  girdle_catalogue own;
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
  uint64_t count = bytes_take_count(&in->from, 16);
  girdle_outline *outlines = command_new(count * sizeof *outlines);
  int32_t status = GIRDLE_OK;
  for (uint64_t at = 0; at < count && !status; at++) {
    const char *name = bytes_take_text(&in->from);
    uint64_t bytes = bytes_take_number(&in->from);
    const char *data = bytes_take(&in->from, bytes);
    girdle_common_text(outlines[at].name, sizeof outlines[at].name, name);
    status = girdle_path_parse(&in->call, data ? data : "", data ? bytes : 0, (girdle_path **)&outlines[at].path);
  }
  if (!status && drawing[0]) status = girdle_host_add_outlines(&in->call, host, drawing, outlines, count);
  for (uint64_t at = 0; at < count; at++)
    girdle_path_free((girdle_path *)outlines[at].path);
  free(outlines);
  return status;
}

static int32_t take_folder(performing *in, girdle_host *host) {
  uint64_t count = bytes_take_count(&in->from, 16);
  const char *drawing;
  girdle_host_clear(host, GIRDLE_LAYER_COSTUME);
  for (uint64_t at = 0; at < count; at++) {
    const char *file = bytes_take_text(&in->from);
    uint64_t bytes = bytes_take_number(&in->from);
    const char *text = bytes_take(&in->from, bytes);
    if (text) GIRDLE_TRY(girdle_host_add_source(&in->call, host, GIRDLE_LAYER_COSTUME, file, text, bytes));
  }
  drawing = bytes_take_text(&in->from);
  return take_outlines(in, host, drawing);
}

static int32_t take_job(performing *in, girdle_job **out) {
  girdle_job_head head;
  girdle_measure measure;
  uint64_t count;
  int32_t status;
  bytes_take_into(&in->from, &head, sizeof head);
  count = bytes_take_count(&in->from, sizeof measure);
  status = girdle_job_new(&in->call, &head, out);
  for (uint64_t at = 0; at < count && !status; at++) {
    bytes_take_into(&in->from, &measure, sizeof measure);
    status = girdle_job_set_measure(&in->call, *out, measure.name, measure.mm);
  }
  return status;
}

static void put_placement(buffer *to, const girdle_placement *placement) {
  const girdle_placed *records = NULL;
  const girdle_stone *stones = NULL;
  uint32_t stone_count = 0;
  int64_t count = placement ? girdle_placement_view(placement, &records, &stones, &stone_count) : 0;
  bytes_put_number(to, placement != NULL);
  bytes_put_number(to, stone_count);
  buffer_add(to, stones, stone_count * sizeof *stones);
  bytes_put_number(to, (uint64_t)count);
  buffer_add(to, records, (uint64_t)count * sizeof *records);
}

static void put_zones(buffer *to, const girdle_job *job) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  buffer_add(to, &girdle_job_head_of(job)->fabric, sizeof(girdle_fabric));
  bytes_put_number(to, count);
  for (uint64_t at = 0; at < count; at++) {
    buffer_add(to, &zones[at], sizeof zones[at]);
    put_placement(to, zones[at].placement);
    bytes_put_number(to, zones[at].already_count);
    buffer_add(to, zones[at].already, zones[at].already_count * sizeof *zones[at].already);
    buffer_add(to, zones[at].already_pieces, zones[at].already_count * sizeof *zones[at].already_pieces);
  }
}

static void put_sheet(buffer *to, const girdle_recipe_sheet *of) {
  uint64_t count;
  const girdle_parameter *parameters = girdle_recipe_sheet_parameters(of, &count);
  bytes_put_number(to, (uint64_t)girdle_recipe_sheet_kind(of));
  bytes_put_text(to, girdle_recipe_sheet_name(of));
  bytes_put_text(to, girdle_recipe_sheet_about(of));
  bytes_put_text(to, girdle_recipe_sheet_outlines(of));
  bytes_put_number(to, count);
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

/* ---- what stays of a zone: "30 ss16 red; 31 ss16" */

enum { PIECES_KINDS = 64, PIECES_BYTES = sizeof(((girdle_zone_row *)0)->pieces) };

static int32_t read_pieces(performing *in, const girdle_zone_row *row, girdle_stone *stones, int64_t *pieces,
                           uint64_t *count) {
  char list[PIECES_BYTES], *next;
  girdle_common_text(list, sizeof list, row->pieces);
  *count = 0;
  for (char *at = list; at; at = next) {
    next = strchr(at, ';');
    if (next) *next++ = '\0';
    if (at[strspn(at, " ")] == '\0') continue;
    if (*count == PIECES_KINDS)
      return girdle_common_fail(&in->call, GIRDLE_LIMIT, "pieces", "more than %d kinds", PIECES_KINDS);
    GIRDLE_TRY(girdle_stone_pieces_parse(&in->call, at + strspn(at, " "), &stones[*count], &pieces[*count]));
    ++*count;
  }
  return GIRDLE_OK;
}

/* Of a pair both halves. */
static int is_of_row(const girdle_zone *zone, const girdle_zone_row *row) {
  return zone->placement && strcmp(zone->name, row->name) == 0 &&
         strcmp(row->pair ? zone->pair_side : zone->side, row->side) == 0 &&
         !(zone->flags & GIRDLE_ZONE_PAIR) == !row->pair;
}

static int32_t keep_pieces(performing *in, const girdle_zone_row *row, girdle_job *job) {
  girdle_stone *stones = command_new(PIECES_KINDS * sizeof *stones);
  int64_t pieces[PIECES_KINDS];
  uint64_t count, kinds;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  int32_t status = read_pieces(in, row, stones, pieces, &kinds);
  for (uint64_t at = 0; at < count && !status; at++)
    if (is_of_row(&zones[at], row)) status = girdle_job_keep_pieces(&in->call, job, at, stones, pieces, kinds);
  if (status) girdle_common_text(in->error.field, sizeof in->error.field, "pieces");
  free(stones);
  return status;
}

static int32_t keep_all_pieces(performing *in, const char *table, const girdle_zone_row *rows, uint64_t count,
                               girdle_job *job) {
  int32_t status = GIRDLE_OK;
  for (uint64_t at = 0; at < count && !status; at++) {
    if (rows[at].pieces[0]) status = keep_pieces(in, &rows[at], job);
    if (status) girdle_common_at(&in->call, table, rows[at].line, -1, -1);
  }
  return status;
}

/* ---- zones */

static int32_t costume_zones(performing *in, girdle_host *host, const char *name, girdle_job *job) {
  const char *table = bytes_take_text(&in->from);
  uint64_t count = bytes_take_count(&in->from, sizeof(girdle_zone_row));
  girdle_zone_row *rows = command_new(count * sizeof *rows);
  int32_t status = GIRDLE_OK;
  bytes_take_into(&in->from, rows, count * sizeof *rows);
  if (name[0]) status = girdle_host_costume(&in->call, host, name, job);
  if (!status && count) status = girdle_host_zones(&in->call, host, table, rows, count, job);
  if (!status) status = keep_all_pieces(in, table, rows, count, job);
  free(rows);
  if (!status) girdle_job_zones(job, &count);
  if (!status && !count)
    status = girdle_common_fail(&in->call, GIRDLE_ARGUMENT, "zones", "costume '%s' has no zones; give it one at least",
                                girdle_job_head_of(job)->costume);
  return status;
}

static int32_t check_zones(performing *in, girdle_host *host, const girdle_job *job) {
  const char *table = bytes_take_text(&in->from);
  uint64_t count = bytes_take_count(&in->from, sizeof(girdle_zone_row));
  girdle_zone_row *rows = command_new(count * sizeof *rows);
  int32_t status;
  bytes_take_into(&in->from, rows, count * sizeof *rows);
  status = girdle_host_check_zones(&in->call, host, table, rows, count, job);
  free(rows);
  return status;
}

static int32_t zones(performing *in, girdle_host *host, int32_t kind, const char *name, const girdle_given *given,
                     uint64_t given_count, buffer *payload) {
  girdle_job *job = NULL;
  int32_t status = take_job(in, &job);
  if (!status && kind == TASK_PLACE) status = place(in, host, name, given, given_count, job);
  if (!status && kind == TASK_COSTUME) status = costume_zones(in, host, name, job);
  if (!status && kind == TASK_CHECK)
    status = check_zones(in, host, job);
  else if (!status)
    put_zones(payload, job);
  girdle_job_free(job);
  return status;
}

static void *take_rows(performing *in, uint64_t *count, uint64_t bytes) {
  void *rows;
  *count = bytes_take_count(&in->from, bytes);
  rows = command_new((*count + 1) * bytes);
  bytes_take_into(&in->from, rows, *count * bytes);
  return rows;
}

static void take_swaps(performing *in) {
  uint64_t count = bytes_take_count(&in->from, 2 * sizeof(girdle_stone));
  girdle_stone *swapped = command_new((count + 1) * sizeof *swapped),
               *instead = command_new((count + 1) * sizeof *instead);
  for (uint64_t at = 0; at < count; at++) {
    bytes_take_into(&in->from, &swapped[at], sizeof *swapped);
    bytes_take_into(&in->from, &instead[at], sizeof *instead);
  }
  in->own.swapped = swapped;
  in->own.instead = instead;
  in->own.swap_count = count;
}

/* What is one's own stays until the task is done. */
static void take_own(performing *in) {
  in->own.struct_bytes = sizeof in->own;
  in->own.sizes = take_rows(in, &in->own.size_count, sizeof *in->own.sizes);
  in->own.cuts = take_rows(in, &in->own.cut_count, sizeof *in->own.cuts);
  in->own.materials = take_rows(in, &in->own.material_count, sizeof *in->own.materials);
  take_swaps(in);
  in->call.own = &in->own;
}

static void release_own(const girdle_catalogue *own) {
  free((void *)(uintptr_t)own->sizes);
  free((void *)(uintptr_t)own->cuts);
  free((void *)(uintptr_t)own->materials);
  free((void *)(uintptr_t)own->swapped);
  free((void *)(uintptr_t)own->instead);
}

static int32_t perform(performing *in, girdle_host *host, buffer *payload) {
  int32_t kind, status;
  const char *name;
  girdle_given *given;
  uint64_t count;
  bytes_take(&in->from, sizeof(double));
  kind = (int32_t)bytes_take_number(&in->from);
  name = bytes_take_text(&in->from);
  take_own(in);
  GIRDLE_TRY(take_folder(in, host));
  count = bytes_take_count(&in->from, 16);
  given = command_new(count * sizeof *given);
  for (uint64_t at = 0; at < count; at++) {
    given[at].name = bytes_take_text(&in->from);
    given[at].value = bytes_take_text(&in->from);
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
  bytes_put_number(answer, (uint64_t)status);
  bytes_put_number(answer, in.fault_count);
  buffer_add(answer, in.faults.bytes, in.faults.count);
  buffer_add(answer, &in.error, sizeof in.error);
  bytes_put_bytes(answer, log->bytes, log->count);
  if (!status) buffer_add(answer, payload.bytes, payload.count);
  release_own(&in.own);
  buffer_free(&in.faults);
  buffer_free(&payload);
}
