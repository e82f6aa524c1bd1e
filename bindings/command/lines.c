/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "lines.h"

#include <stdlib.h>
#include <string.h>

#include "common.h"

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
  static const char *const known[] = {"zone",   "side",   "pair", "times",   "priority", "shape", "length", "width",
                                      "recipe", "stones", "gap",  "already", "leave",    "given", "pieces"};
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
  GIRDLE_TRY(text_of(with, zone, "given", row->given, sizeof row->given));
  GIRDLE_TRY(text_of(with, zone, "pieces", row->pieces, sizeof row->pieces));
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

/* Rates always, sizes for a wearer of a size, and for a cost all that prices come from. */
static int32_t read_tables(program *with, const line_folder *in, const job_line *to, const girdle_job_head *head) {
  int priced = line_wants(to, "cost");
  for (int32_t table = 0; table < GIRDLE_FILE_END; table++) {
    const buffer *text = &in->tables[table];
    int wanted = table == GIRDLE_FILE_RATES || (table == GIRDLE_FILE_SIZES && head->size[0]) ||
                 (table != GIRDLE_FILE_SIZES && table != GIRDLE_FILE_CLUB && priced);
    if (wanted && text->count)
      GIRDLE_TRY(girdle_paper_read_club(&with->call, to->club, table, girdle_paper_club_file(table), text->bytes,
                                        text->count));
  }
  return GIRDLE_OK;
}

static int32_t new_club(program *with, const line_folder *in, job_line *to, const girdle_job_head *head) {
  girdle_call *call = &with->call;
  girdle_job *job = NULL;
  int32_t status;
  GIRDLE_TRY(girdle_club_new(call, &to->club));
  GIRDLE_TRY(read_tables(with, in, to, head));
  GIRDLE_TRY(girdle_job_new(call, head, &job));
  status = read_measures(with, to->asked, job);
  if (!status) status = girdle_club_add_job(call, to->club, job);
  if (status) {
    girdle_job_free(job);
    return status;
  }
  to->job = job;
  return head->size[0] ? girdle_club_fit_sizes(call, to->club) : GIRDLE_OK;
}

/* Which of the three kinds of job it is. */
static int32_t read_work(program *with, const line_folder *in, job_line *to, const char *costume_name) {
  json_t *recipe = json_object_get(to->asked, "recipe"), *zones = json_object_get(to->asked, "zones");
  if ((recipe != NULL) + (zones != NULL) + (costume_name[0] != 0) != 1)
    return refuse(with, "costume", "or zones or recipe, one of them, says what is to be worked");
  if (zones) return read_zones(with, zones, to);
  if (recipe) {
    GIRDLE_TRY(text_of(with, to->asked, "recipe", to->name, sizeof to->name));
    return read_given(with, json_object_get(to->asked, "given"), to);
  }
  to->of = wardrobe_costume(&in->costumes, costume_name);
  return to->of ? GIRDLE_OK : wardrobe_unknown(with, &in->costumes, costume_name);
}

int32_t line_read(program *with, const line_folder *in, job_line *to, const char *text, uint64_t bytes) {
  static const char *const known[] = {"tag",      "costume", "size",   "name",  "routine", "needed_by",
                                      "measures", "zones",   "recipe", "given", "places",  "cost"};
  json_error_t fault;
  girdle_job_head head;
  to->asked = json_loadb(text, (size_t)bytes, JSON_REJECT_DUPLICATES, &fault);
  if (!to->asked)
    return girdle_common_fail(&with->call, GIRDLE_SYNTAX, "line", "this is no JSON: %.120s at byte %d", fault.text,
                              fault.position);
  if (!json_is_object(to->asked)) return refuse(with, "line", "must be an object, such as {\"costume\":\"frost\"}");
  GIRDLE_TRY(only_known(with, to->asked, known, sizeof known / sizeof known[0]));
  GIRDLE_TRY(read_head(with, to->asked, &head));
  GIRDLE_TRY(new_club(with, in, to, &head));
  return read_work(with, in, to, head.costume);
}

void line_forget(job_line *of) {
  json_decref(of->asked);
  girdle_club_free(of->club);
  free(of->given);
  free(of->rows);
  memset(of, 0, sizeof *of);
}

int line_wants(const job_line *of, const char *name) {
  return json_is_true(json_object_get(of->asked, name));
}
