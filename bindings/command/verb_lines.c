/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "lines.h"

#include <errno.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "common.h"

/* lines: one JSON job a line in, one JSON answer a line out, in order. A job is a costume of the FOLDER, or zones of
 * its own, or a recipe with what it is given:
 *
 *   {"tag":"ada","costume":"frost","size":"M","measures":{"neckline":"52 cm"}}
 *   {"tag":"bo","zones":[{"zone":"neckline","shape":"loop","length":"52 cm","recipe":"double row","gap":"1 mm"}]}
 *   {"recipe":"alternating line","given":{"line":"38 cm"}}
 *
 * An answer has tag, stones, grams, minutes, evenings and counts, with "places":true every stone's place, with
 * "cost":true what it costs by the FOLDER's tables; a line
 * that is wrong has line and error instead, and the rest go on. */

enum { MOST_LINE_BYTES = 1 << 20 };

typedef struct stream {
  program *with;
  job_line under_way[POOL_RING];
  buffer pending; /* read, not yet cut into lines */
  uint64_t at, number, wrong;
  int ended, skipping; /* skipping: the rest of a line that was answered as too long */
  line_folder folder;
} stream;

/* ---- lines in */

/* One read of what is there; never waits. */
static void fill(stream *in) {
  struct pollfd input = {0, POLLIN, 0};
  char piece[65536];
  ssize_t got;
  if (poll(&input, 1, 0) < 1) return;
  got = read(0, piece, sizeof piece);
  if (got < 0 && (errno == EINTR || errno == EAGAIN)) return;
  if (got <= 0)
    in->ended = 1;
  else
    buffer_add(&in->pending, piece, (uint64_t)got);
}

/* Drops what has been taken, once it is the larger part. */
static void compact(stream *in) {
  if (in->at < in->pending.count / 2 || !in->at) return;
  memmove(in->pending.bytes, in->pending.bytes + in->at, (size_t)(in->pending.count - in->at));
  in->pending.count -= in->at;
  in->at = 0;
}

/* Drops what is there of a line that is too long, up to its end. */
static void skip_line(stream *in) {
  const char *start = in->pending.bytes + in->at;
  uint64_t left = in->pending.count - in->at;
  const char *end = left ? memchr(start, '\n', (size_t)left) : NULL;
  in->at += end ? (uint64_t)(end - start) + 1 : left;
  in->skipping = !end;
  compact(in);
}

/* The next line that is not empty, of one that is too long no more than shows it; 1 there it is, 0 none will come, -1
 * not yet. */
static int next_line(stream *in, const char **text, uint64_t *bytes) {
  if (in->skipping) skip_line(in);
  for (;;) {
    const char *start = in->pending.bytes + in->at;
    uint64_t left = in->pending.count - in->at;
    const char *end = left ? memchr(start, '\n', (size_t)left) : NULL;
    if (!end && !in->ended && left <= MOST_LINE_BYTES + 1) return -1; /* one more, as that may be a \r */
    if (!end && !left) return 0;
    in->skipping = !end && left > MOST_LINE_BYTES + 1;
    *text = start;
    *bytes = end ? (uint64_t)(end - start) : left;
    in->at += *bytes + (end != NULL);
    in->number++;
    if (*bytes && (*text)[*bytes - 1] == '\r') --*bytes;
    if (*bytes) return 1;
  }
}

static void begin_line(stream *in, job_line *to, const char *text, uint64_t bytes) {
  int32_t status;
  memset(to, 0, sizeof *to);
  to->number = in->number;
  status = bytes > MOST_LINE_BYTES
               ? girdle_common_fail(&in->with->call, GIRDLE_LIMIT, "line", "a line of more than 1 MiB")
               : line_read(in->with, &in->folder, to, text, bytes);
  if (!status) return;
  to->error = in->with->error;
  to->error.status = status;
  girdle_error_init(&in->with->error, sizeof in->with->error);
}

static void line_task(const job_line *of, task *out) {
  if (of->error.status) {
    out->kind = TASK_NONE;
    return;
  }
  if (of->of) {
    wardrobe_task(of->of, of->job, out);
    return;
  }
  out->kind = of->rows ? TASK_COSTUME : TASK_PLACE;
  out->name = of->name;
  out->job = of->job;
  out->given = of->given;
  out->given_count = of->given_count;
  out->zones_source = "zones";
  out->rows = of->rows;
  out->row_count = of->row_count;
}

/* Asked again for a line that is under way, it says the same again. */
static int stream_task(void *context, uint64_t index, task *out) {
  stream *in = context;
  job_line *to = &in->under_way[index % POOL_RING];
  const char *text;
  uint64_t bytes;
  if (!to->number) {
    int there = next_line(in, &text, &bytes);
    if (there < 0) {
      fill(in);
      there = next_line(in, &text, &bytes);
    }
    if (there <= 0) return there;
    begin_line(in, to, text, bytes);
    compact(in);
  }
  line_task(to, out);
  return 1;
}

/* ---- answers out */

static void json_text(buffer *to, const char *before, const char *text) {
  buffer_text(to, "%s\"", before);
  buffer_json_text(to, text);
  buffer_text(to, "\"");
}

static void say_counts(const girdle_tally *tally, buffer *to) {
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &count);
  char stone[160];
  buffer_text(to, ",\"counts\":[");
  for (uint64_t at = 0; at < count; at++) {
    girdle_stone_text(&lines[at].stone, stone, sizeof stone);
    json_text(to, at ? ",{\"zone\":" : "{\"zone\":", lines[at].zone);
    json_text(to, ",\"side\":", lines[at].side);
    json_text(to, ",\"stone\":", stone);
    buffer_text(to, ",\"count\":%lld}", (long long)lines[at].count);
  }
  buffer_text(to, "]");
}

static int32_t say_cost(program *with, const job_line *of, buffer *to) {
  girdle_reckoning *reckoned = NULL;
  const girdle_quote *quote;
  const girdle_order *order;
  girdle_order_total total;
  GIRDLE_TRY(girdle_club_reckon(&with->call, of->club, with->today, &reckoned));
  quote = girdle_reckoning_quote(reckoned, 0);
  order = girdle_reckoning_order(reckoned);
  memset(&total, 0, sizeof total);
  if (order) girdle_order_sum(order, &total);
  buffer_text(to, ",\"cost\":{\"currency\":\"%s\",\"order_minor\":%lld,\"price_minor\":%lld", quote->currency.code,
              (long long)total.total_minor, (long long)quote->total_minor);
  buffer_text(to, ",\"deposit_minor\":%lld,\"complete\":%s}", (long long)quote->deposit_minor,
              order && !quote->incomplete ? "true" : "false");
  girdle_reckoning_free(reckoned);
  return GIRDLE_OK;
}

static void say_sums(const job_line *of, const girdle_tally *tally, const girdle_work *work, buffer *to) {
  girdle_tally_line total;
  girdle_tally_total(tally, &total);
  json_text(to, "{\"tag\":", girdle_job_head_of(of->job)->tag);
  buffer_text(to, ",\"stones\":%lld,\"grams\":", (long long)total.count);
  buffer_number(to, total.mass_mg[GIRDLE_NOMINAL] / 1000, 3);
  buffer_text(to, ",\"minutes\":");
  buffer_number(to, work->minutes, 1);
  buffer_text(to, ",\"evenings\":%lld", (long long)work->evenings);
}

static void say_places(const job_line *of, buffer *to) {
  buffer_text(to, ",\"zones\":");
  places_json(of->job, to);
}

/* Said only when all of it could be reckoned. */
static int32_t say_answer(program *with, const job_line *of, buffer *to) {
  girdle_tally *tally = NULL;
  girdle_work work;
  buffer cost = {0};
  int32_t status = girdle_job_tally(&with->call, of->job, &tally);
  if (!status) status = girdle_work_estimate(&with->call, tally, girdle_club_work_rates(of->club), &work);
  if (!status && line_wants(of, "cost")) status = say_cost(with, of, &cost);
  if (!status) {
    say_sums(of, tally, &work, to);
    say_counts(tally, to);
    buffer_add(to, cost.bytes, cost.count);
    if (line_wants(of, "places")) say_places(of, to);
    buffer_text(to, "}\n");
  }
  buffer_free(&cost);
  girdle_tally_free(tally);
  return status;
}

static void say_error(const job_line *of, const girdle_error *error, buffer *to) {
  buffer_text(to, "{\"line\":%llu", (unsigned long long)of->number);
  if (of->job) json_text(to, ",\"tag\":", girdle_job_head_of(of->job)->tag);
  json_text(to, ",\"error\":{\"kind\":", girdle_status_text(error->status));
  if (error->field[0]) json_text(to, ",\"field\":", error->field);
  if (error->nearest[0]) json_text(to, ",\"nearest\":", error->nearest);
  if (error->source[0]) json_text(to, ",\"source\":", error->source);
  if (error->line >= 0 && error->source[0]) buffer_text(to, ",\"line\":%d", (int)error->line);
  json_text(to, ",\"message\":", error->message);
  buffer_text(to, "}}\n");
}

static int32_t settle(stream *in, job_line *of, const char *answer, uint64_t bytes) {
  task what;
  memset(&what, 0, sizeof what);
  if (of->error.status) return of->error.status;
  line_task(of, &what);
  GIRDLE_TRY(pool_answer(in->with, &what, answer, bytes, NULL));
  return say_answer(in->with, of, &in->with->result);
}

/* Whether anyone waits for what is said now: nothing else is at hand. */
static int32_t stream_done(void *context, uint64_t index, const char *answer, uint64_t bytes) {
  stream *in = context;
  job_line *of = &in->under_way[index % POOL_RING];
  int32_t status = settle(in, of, answer, bytes);
  if (status && !of->error.status) of->error = in->with->error.status ? in->with->error : in->with->first_fault;
  if (status) {
    of->error.status = status;
    say_error(of, &of->error, &in->with->result);
    in->wrong++;
  }
  girdle_error_init(&in->with->error, sizeof in->with->error);
  in->with->first_fault.status = 0;
  line_forget(of);
  return command_flush(in->with);
}

/* ---- the verb */

static void keep_first(void *context, const girdle_error *error) {
  program *with = context;
  if (!with->first_fault.status) with->first_fault = *error;
}

static int32_t open_folder(program *with, const char *path, line_folder *out) {
  char file[COMMAND_PATH];
  if (!file_is_folder(path))
    return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "folder", "%.160s is no folder", path);
  GIRDLE_TRY(stones_read(with, path));
  GIRDLE_TRY(wardrobe_open(with, path, &out->costumes));
  for (int32_t table = 0; table < GIRDLE_FILE_END; table++) {
    GIRDLE_TRY(file_join(with, path, girdle_paper_club_file(table), file, sizeof file));
    if (table != GIRDLE_FILE_CLUB && file_exists(file))
      GIRDLE_TRY(file_read(with, file, 64 * 1024 * 1024, &out->tables[table]));
  }
  return GIRDLE_OK;
}

static void close_folder(line_folder *of) {
  wardrobe_close(&of->costumes);
  for (int32_t table = 0; table < GIRDLE_FILE_END; table++)
    buffer_free(&of->tables[table]);
}

static int32_t run_stream(stream *in) {
  program *with = in->with;
  girdle_report report = with->call.report;
  task_list list = {in, UINT64_MAX, 0, stream_task, stream_done};
  int32_t status;
  with->call.report.fault = keep_first;
  status = pool_run(with, &list);
  with->call.report = report;
  for (uint64_t at = 0; at < POOL_RING; at++)
    line_forget(&in->under_way[at]);
  return status;
}

int32_t verb_lines(program *with) {
  stream *in = command_new(sizeof *in);
  int32_t status = GIRDLE_OK;
  in->with = with;
  if (with->flags.given_count) status = command_usage(with, "lines takes no name=value");
  if (!status && with->flags.file_count) status = open_folder(with, with->flags.files[0], &in->folder);
  if (!status) status = run_stream(in);
  if (!status && in->wrong) {
    command_say(with, "girdle: %llu of %llu lines were answered with an error", (unsigned long long)in->wrong,
                (unsigned long long)in->number);
    status = COMMAND_ANSWERED;
  }
  close_folder(&in->folder);
  buffer_free(&in->pending);
  free(in);
  return status;
}
