/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <errno.h>
#include <jansson.h>
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
 * An answer has tag, stones, grams, minutes, evenings and counts, and with "places":true every stone's place; a line
 * that is wrong has line and error instead, and the rest go on. */

enum { MOST_LINE_BYTES = 1 << 20 };

/* A line under way: what must live until its answer is written. */
typedef struct job_line {
  uint64_t number;
  json_t *asked;
  girdle_club *club; /* owns the job */
  girdle_job *job;
  girdle_given *given;
  uint64_t given_count;
  girdle_zone_row *rows;
  uint64_t row_count;
  const costume *of;
  char name[64];
  girdle_error error; /* status other than 0: it is answered with this */
} job_line;

typedef struct stream {
  program *with;
  job_line under_way[POOL_RING];
  buffer pending; /* read, not yet cut into lines */
  uint64_t at, number, wrong;
  int ended;
  wardrobe season;
  buffer sizes; /* sizes.csv of the folder */
} stream;

/* ---- reading a job */

static int32_t refuse(program *with, const char *field, const char *words) {
  return girdle_common_fail(&with->call, GIRDLE_SYNTAX, field, "%s %s", field, words);
}

static int32_t only_known(program *with, json_t *object, const char *const *known, uint64_t count) {
  const char *name;
  json_t *value;
  json_object_foreach(object, name, value) {
    int found = 0;
    for (uint64_t at = 0; at < count && !found; at++)
      found = strcmp(known[at], name) == 0;
    if (!found) return girdle_common_unknown(&with->call, "field", name, known, count);
  }
  return GIRDLE_OK;
}

/* A text of an object into a field; "" when it is not there. */
static int32_t text_of(program *with, json_t *object, const char *name, char *out, uint64_t bytes) {
  json_t *value = json_object_get(object, name);
  out[0] = '\0';
  if (!value) return GIRDLE_OK;
  if (!json_is_string(value) || strlen(json_string_value(value)) != json_string_length(value))
    return refuse(with, name, "must be a text, such as \"52 cm\"");
  if (girdle_common_text(out, bytes, json_string_value(value))) return GIRDLE_OK;
  return girdle_common_fail(&with->call, GIRDLE_LIMIT, name, "%s is longer than %llu bytes", name,
                            (unsigned long long)bytes - 1);
}

static int32_t read_head(program *with, json_t *asked, girdle_job_head *head) {
  char day[32];
  girdle_job_head_init(head, sizeof *head);
  GIRDLE_TRY(text_of(with, asked, "tag", head->tag, sizeof head->tag));
  GIRDLE_TRY(text_of(with, asked, "costume", head->costume, sizeof head->costume));
  GIRDLE_TRY(text_of(with, asked, "size", head->size, sizeof head->size));
  GIRDLE_TRY(text_of(with, asked, "name", head->wearer, sizeof head->wearer));
  GIRDLE_TRY(text_of(with, asked, "routine", head->routine, sizeof head->routine));
  GIRDLE_TRY(text_of(with, asked, "needed_by", day, sizeof day));
  if (!head->tag[0]) girdle_common_text(head->tag, sizeof head->tag, head->costume[0] ? head->costume : "job");
  return day[0] ? girdle_date_parse(&with->call, day, &head->needed_by_day) : GIRDLE_OK;
}

static int32_t read_measures(program *with, json_t *asked, girdle_job *job) {
  json_t *measures = json_object_get(asked, "measures"), *value;
  const char *name;
  if (measures && !json_is_object(measures)) return refuse(with, "measures", "must be like {\"neckline\":\"52 cm\"}");
  json_object_foreach(measures, name, value) {
    double mm;
    if (!json_is_string(value)) return refuse(with, name, "must be a text with its unit, such as \"52 cm\"");
    GIRDLE_TRY(girdle_quantity_parse(&with->call, json_string_value(value), GIRDLE_LENGTH, &mm));
    GIRDLE_TRY(girdle_job_set_measure(&with->call, job, name, mm));
  }
  return GIRDLE_OK;
}

static int32_t read_zone(program *with, json_t *zone, girdle_zone_row *row) {
  static const char *const known[] = {"zone",  "side",   "pair",   "times", "priority", "shape", "length",
                                      "width", "recipe", "stones", "gap",   "already",  "leave"};
  json_t *times = json_object_get(zone, "times"), *priority = json_object_get(zone, "priority");
  if (!json_is_object(zone)) return refuse(with, "zones", "must be a list of objects");
  GIRDLE_TRY(only_known(with, zone, known, sizeof known / sizeof known[0]));
  GIRDLE_TRY(text_of(with, zone, "zone", row->name, sizeof row->name));
  GIRDLE_TRY(text_of(with, zone, "side", row->side, sizeof row->side));
  GIRDLE_TRY(text_of(with, zone, "shape", row->shape, sizeof row->shape));
  GIRDLE_TRY(text_of(with, zone, "length", row->length, sizeof row->length));
  GIRDLE_TRY(text_of(with, zone, "width", row->width, sizeof row->width));
  GIRDLE_TRY(text_of(with, zone, "recipe", row->recipe, sizeof row->recipe));
  GIRDLE_TRY(text_of(with, zone, "stones", row->stones, sizeof row->stones));
  GIRDLE_TRY(text_of(with, zone, "gap", row->gap, sizeof row->gap));
  GIRDLE_TRY(text_of(with, zone, "already", row->already, sizeof row->already));
  GIRDLE_TRY(text_of(with, zone, "leave", row->leave, sizeof row->leave));
  if (!row->name[0]) return refuse(with, "zone", "must be named, such as \"neckline\"");
  if ((times && !json_is_integer(times)) || (priority && !json_is_integer(priority)))
    return refuse(with, times && !json_is_integer(times) ? "times" : "priority", "must be a whole number, such as 2");
  row->times = times ? json_integer_value(times) : 1;
  GIRDLE_TRY(girdle_common_range(&with->call, "times", (double)row->times, 1, 1000000, ""));
  row->priority = priority ? (int32_t)json_integer_value(priority) : 0;
  row->pair = json_is_true(json_object_get(zone, "pair"));
  return GIRDLE_OK;
}

static int32_t read_zones(program *with, json_t *zones, job_line *to) {
  if (!json_is_array(zones) || json_array_size(zones) > 10000)
    return refuse(with, "zones", "must be a list of at most 10000 objects");
  to->row_count = json_array_size(zones);
  to->rows = command_new(to->row_count * sizeof *to->rows);
  for (uint64_t at = 0; at < to->row_count; at++) {
    to->rows[at].line = (int32_t)at + 1;
    GIRDLE_TRY(read_zone(with, json_array_get(zones, (size_t)at), &to->rows[at]));
  }
  return GIRDLE_OK;
}

static int32_t read_given(program *with, json_t *given, job_line *to) {
  const char *name;
  json_t *value;
  if (given && !json_is_object(given)) return refuse(with, "given", "must be like {\"line\":\"38 cm\"}");
  to->given = command_new((json_object_size(given) + 1) * sizeof *to->given);
  json_object_foreach(given, name, value) {
    if (!json_is_string(value)) return refuse(with, name, "must be a text, such as \"38 cm\"");
    to->given[to->given_count].name = name; /* lives as long as the line's JSON */
    to->given[to->given_count++].value = json_string_value(value);
  }
  return GIRDLE_OK;
}

static int32_t new_club(stream *in, job_line *to, const girdle_job_head *head) {
  girdle_call *call = &in->with->call;
  girdle_job *job = NULL;
  int32_t status;
  GIRDLE_TRY(girdle_club_new(call, &to->club));
  if (head->size[0] && in->sizes.count)
    GIRDLE_TRY(
        girdle_paper_read_club(call, to->club, GIRDLE_FILE_SIZES, "sizes.csv", in->sizes.bytes, in->sizes.count));
  GIRDLE_TRY(girdle_job_new(call, head, &job));
  status = read_measures(in->with, to->asked, job);
  if (!status) status = girdle_club_add_job(call, to->club, job);
  if (status) {
    girdle_job_free(job);
    return status;
  }
  to->job = job;
  return head->size[0] ? girdle_club_fit_sizes(call, to->club) : GIRDLE_OK;
}

/* Which of the three kinds of job it is. */
static int32_t read_work(stream *in, job_line *to, const char *costume_name) {
  json_t *recipe = json_object_get(to->asked, "recipe"), *zones = json_object_get(to->asked, "zones");
  if ((recipe != NULL) + (zones != NULL) + (costume_name[0] != 0) != 1)
    return refuse(in->with, "costume", "or zones or recipe, one of them, says what is to be worked");
  if (zones) return read_zones(in->with, zones, to);
  if (recipe) {
    GIRDLE_TRY(text_of(in->with, to->asked, "recipe", to->name, sizeof to->name));
    return read_given(in->with, json_object_get(to->asked, "given"), to);
  }
  to->of = wardrobe_costume(&in->season, costume_name);
  return to->of ? GIRDLE_OK : wardrobe_unknown(in->with, &in->season, costume_name);
}

static int32_t read_job(stream *in, job_line *to, const char *text, uint64_t bytes) {
  static const char *const known[] = {"tag",      "costume", "size",   "name",  "routine", "needed_by",
                                      "measures", "zones",   "recipe", "given", "places"};
  json_error_t fault;
  girdle_job_head head;
  to->asked = json_loadb(text, (size_t)bytes, JSON_REJECT_DUPLICATES, &fault);
  if (!to->asked)
    return girdle_common_fail(&in->with->call, GIRDLE_SYNTAX, "line", "this is no JSON: %.120s at byte %d", fault.text,
                              fault.position);
  if (!json_is_object(to->asked)) return refuse(in->with, "line", "must be an object, such as {\"costume\":\"frost\"}");
  GIRDLE_TRY(only_known(in->with, to->asked, known, sizeof known / sizeof known[0]));
  GIRDLE_TRY(read_head(in->with, to->asked, &head));
  GIRDLE_TRY(new_club(in, to, &head));
  return read_work(in, to, head.costume);
}

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

/* The next line that is not empty; 1 there it is, 0 none will come, -1 not yet. */
static int next_line(stream *in, const char **text, uint64_t *bytes) {
  for (;;) {
    const char *start = in->pending.bytes + in->at;
    uint64_t left = in->pending.count - in->at;
    const char *end = left ? memchr(start, '\n', (size_t)left) : NULL;
    if (!end && !in->ended && left <= MOST_LINE_BYTES) return -1;
    if (!end && !left) return 0;
    *text = start;
    *bytes = end ? (uint64_t)(end - start) : left;
    in->at += *bytes + (end != NULL);
    in->number++;
    if (*bytes && (*text)[*bytes - 1] == '\r') --*bytes;
    if (*bytes) return 1;
  }
}

static void forget(job_line *of) {
  json_decref(of->asked);
  girdle_club_free(of->club);
  free(of->given);
  free(of->rows);
  memset(of, 0, sizeof *of);
}

static void begin_line(stream *in, job_line *to, const char *text, uint64_t bytes) {
  int32_t status;
  memset(to, 0, sizeof *to);
  to->number = in->number;
  status = bytes > MOST_LINE_BYTES
               ? girdle_common_fail(&in->with->call, GIRDLE_LIMIT, "line", "a line of more than 1 MiB")
               : read_job(in, to, text, bytes);
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

static int32_t say_answer(program *with, const job_line *of, buffer *to) {
  girdle_tally *tally = NULL;
  girdle_tally_line total;
  girdle_work work;
  int32_t status = girdle_job_tally(&with->call, of->job, &tally);
  if (!status) status = girdle_work_estimate(&with->call, tally, girdle_club_work_rates(of->club), &work);
  if (!status) {
    girdle_tally_total(tally, &total);
    json_text(to, "{\"tag\":", girdle_job_head_of(of->job)->tag);
    buffer_text(to, ",\"stones\":%lld,\"grams\":", (long long)total.count);
    buffer_number(to, total.mass_mg[GIRDLE_NOMINAL] / 1000, 3);
    buffer_text(to, ",\"minutes\":");
    buffer_number(to, work.minutes, 1);
    buffer_text(to, ",\"evenings\":%lld", (long long)work.evenings);
    say_counts(tally, to);
    if (json_is_true(json_object_get(of->asked, "places"))) {
      buffer_text(to, ",\"zones\":");
      places_json(of->job, to);
    }
    buffer_text(to, "}\n");
  }
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
  forget(of);
  return command_flush(in->with);
}

/* ---- the verb */

static void keep_first(void *context, const girdle_error *error) {
  program *with = context;
  if (!with->first_fault.status) with->first_fault = *error;
}

static int32_t read_sizes(program *with, const char *path, buffer *out) {
  char file[COMMAND_PATH];
  GIRDLE_TRY(file_join(with, path, "sizes.csv", file, sizeof file));
  return file_exists(file) ? file_read(with, file, 64 * 1024 * 1024, out) : GIRDLE_OK;
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
    forget(&in->under_way[at]);
  return status;
}

int32_t verb_lines(program *with) {
  stream *in = command_new(sizeof *in);
  int32_t status = GIRDLE_OK;
  in->with = with;
  if (with->flags.given_count) status = command_usage(with, "lines takes no name=value");
  if (!status && with->flags.file_count) status = wardrobe_open(with, with->flags.files[0], &in->season);
  if (!status && with->flags.file_count) status = read_sizes(with, with->flags.files[0], &in->sizes);
  if (!status) status = run_stream(in);
  if (!status && in->wrong) {
    command_say(with, "girdle: %llu of %llu lines were answered with an error", (unsigned long long)in->wrong,
                (unsigned long long)in->number);
    status = COMMAND_ANSWERED;
  }
  wardrobe_close(&in->season);
  buffer_free(&in->sizes);
  buffer_free(&in->pending);
  free(in);
  return status;
}
