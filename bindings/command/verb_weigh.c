/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

/* weigh: what the stones add to a costume, where, and whether that is over the limits that were given. */

typedef struct scale {
  girdle_weight_options options;
  girdle_weight sum;
  girdle_zone_weight *zones;
  uint64_t count;
} scale;

static int32_t take_mass(program *with, const char *name, int32_t kind, double *out) {
  const char *text = flags_take(with, name);
  int32_t status;
  if (!text) return GIRDLE_OK;
  status = girdle_quantity_parse(&with->call, text, kind, out);
  if (status) girdle_common_at(&with->call, name, -1, -1, -1);
  return status;
}

/* g/cm has no unit of its own among the quantities: a plain number, named so. */
static int32_t take_number(program *with, const char *name, double *out) {
  const char *text = flags_take(with, name);
  if (!text) return GIRDLE_OK;
  if (girdle_number_parse(NULL, text, strlen(text), out) || !(*out > 0))
    return girdle_common_fail(&with->call, GIRDLE_SYNTAX, name,
                              "%s takes a number above 0, such as %s=0.5, not '%.40s'", name, name, text);
  return GIRDLE_OK;
}

static int32_t read_options(program *with, girdle_weight_options *out) {
  girdle_weight_options_init(out, sizeof *out);
  GIRDLE_TRY(take_mass(with, "dress", GIRDLE_MASS, &out->dress_mg));
  GIRDLE_TRY(take_mass(with, "most share", GIRDLE_SHARE, &out->most_share));
  GIRDLE_TRY(take_mass(with, "most area", GIRDLE_AREAL_MASS, &out->most_g_m2));
  return take_number(with, "most g/cm", &out->most_g_cm);
}

/* ---- in each form */

static void grams(buffer *to, double mg, const char *after) {
  buffer_number(to, mg / 1000, 1);
  buffer_text(to, " g%s", after);
}

static void zone_text(const girdle_zone_weight *of, buffer *to) {
  buffer_text(to, "  %-18s %-6s %6lld stones  ", of->name, of->side, (long long)of->stones);
  grams(to, of->mass_mg[GIRDLE_NOMINAL], "");
  if (isfinite(of->g_m2)) buffer_text(to, ", "), buffer_number(to, of->g_m2, 0), buffer_text(to, " g/m2");
  if (isfinite(of->g_cm)) buffer_text(to, ", "), buffer_number(to, of->g_cm, 2), buffer_text(to, " g/cm");
  if (isfinite(of->smaller_mg)) buffer_text(to, ", one size smaller "), grams(to, of->smaller_mg, "");
  if (of->over) buffer_text(to, "  over the limit");
  buffer_text(to, "\n");
}

static void sum_text(const scale *of, buffer *to) {
  const girdle_weight *sum = &of->sum;
  grams(to, sum->added_mg[GIRDLE_NOMINAL], " added, likely between ");
  grams(to, sum->added_mg[GIRDLE_LEAST], " and ");
  grams(to, sum->added_mg[GIRDLE_MOST], " until a gross is weighed");
  if (isfinite(sum->dress_share[GIRDLE_NOMINAL])) {
    buffer_text(to, "; ");
    buffer_number(to, sum->dress_share[GIRDLE_NOMINAL] * 100, 1);
    buffer_text(to, " %% of the plain dress");
  }
  buffer_text(to, "%s.\nfront ", sum->over & GIRDLE_OVER_SHARE ? ", which is over the limit" : "");
  grams(to, sum->front_mg, ", back ");
  grams(to, sum->back_mg, "; left ");
  grams(to, sum->left_mg, ", right ");
  grams(to, sum->right_mg, isfinite(sum->hanging_mg) ? "; from the straps hang " : ".\n");
  if (isfinite(sum->hanging_mg)) grams(to, sum->hanging_mg, ".\n");
  if (of->count) buffer_text(to, "The heaviest zone is %s.\n", of->zones[sum->heaviest].name);
}

static void text(const girdle_job *job, const scale *of, buffer *to) {
  buffer_text(to, "%s\n", girdle_job_head_of(job)->tag);
  for (uint64_t at = 0; at < of->count; at++)
    zone_text(&of->zones[at], to);
  sum_text(of, to);
}

static void number_cell(buffer *to, double value, const char *after) {
  if (isfinite(value)) buffer_number(to, value, 4);
  buffer_text(to, "%s", after);
}

static void csv(const girdle_job *job, const scale *of, buffer *to) {
  for (uint64_t at = 0; at < of->count; at++) {
    const girdle_zone_weight *zone = &of->zones[at];
    buffer_csv_text(to, girdle_job_head_of(job)->tag, ",");
    buffer_csv_text(to, zone->name, ",");
    buffer_csv_text(to, zone->side, ",");
    buffer_text(to, "%lld,", (long long)zone->stones);
    for (int which = 0; which < 3; which++)
      number_cell(to, zone->mass_mg[which] / 1000, ",");
    number_cell(to, zone->g_m2, ",");
    number_cell(to, zone->g_cm, ",");
    number_cell(to, zone->smaller_mg / 1000, ",");
    buffer_text(to, "%s\r\n", zone->over ? "yes" : "no");
  }
}

static void json_text(buffer *to, const char *before, const char *words) {
  buffer_text(to, "%s\"", before);
  buffer_json_text(to, words);
  buffer_text(to, "\"");
}

static void json_number(buffer *to, const char *name, double value) {
  buffer_text(to, ",\"%s\":", name);
  if (isfinite(value))
    buffer_number(to, value, 6);
  else
    buffer_text(to, "null");
}

static void json_zone(const girdle_zone_weight *of, int first, buffer *to) {
  json_text(to, first ? "{\"zone\":" : ",{\"zone\":", of->name);
  json_text(to, ",\"side\":", of->side);
  buffer_text(to, ",\"stones\":%lld", (long long)of->stones);
  json_number(to, "grams", of->mass_mg[GIRDLE_NOMINAL] / 1000);
  json_number(to, "g_m2", of->g_m2);
  json_number(to, "g_cm", of->g_cm);
  json_number(to, "smaller_grams", of->smaller_mg / 1000);
  buffer_text(to, ",\"over\":%s}", of->over ? "true" : "false");
}

static void json(const girdle_job *job, const scale *of, buffer *to) {
  const girdle_weight *sum = &of->sum;
  json_text(to, "{\"tag\":", girdle_job_head_of(job)->tag);
  json_number(to, "least_grams", sum->added_mg[GIRDLE_LEAST] / 1000);
  json_number(to, "grams", sum->added_mg[GIRDLE_NOMINAL] / 1000);
  json_number(to, "most_grams", sum->added_mg[GIRDLE_MOST] / 1000);
  json_number(to, "dress_share", sum->dress_share[GIRDLE_NOMINAL]);
  json_number(to, "front_grams", sum->front_mg / 1000);
  json_number(to, "back_grams", sum->back_mg / 1000);
  json_number(to, "left_grams", sum->left_mg / 1000);
  json_number(to, "right_grams", sum->right_mg / 1000);
  json_number(to, "hanging_grams", sum->hanging_mg / 1000);
  buffer_text(to, ",\"over\":%s,\"zones\":[", sum->over ? "true" : "false");
  for (uint64_t at = 0; at < of->count; at++)
    json_zone(&of->zones[at], at == 0, to);
  buffer_text(to, "]}\n");
}

/* ---- the verb */

static int32_t weigh(program *with, const girdle_job *job, scale *of) {
  girdle_job_zones(job, &of->count);
  of->zones = command_new(of->count * sizeof *of->zones);
  return girdle_job_weigh(&with->call, job, &of->options, &of->sum, of->zones, of->count);
}

static int32_t say_one(program *with, const girdle_job *job, const girdle_weight_options *options) {
  scale of;
  int32_t status;
  memset(&of, 0, sizeof of);
  of.options = *options;
  status = weigh(with, job, &of);
  if (!status && with->flags.csv) csv(job, &of, &with->result);
  if (!status && with->flags.json) json(job, &of, &with->result);
  if (!status && !with->flags.csv && !with->flags.json) text(job, &of, &with->result);
  free(of.zones);
  return status;
}

static int32_t say_all(program *with, const girdle_club *club, const girdle_weight_options *options) {
  uint64_t from, to;
  GIRDLE_TRY(work_chosen(with, club, &from, &to));
  if (with->flags.csv)
    buffer_text(&with->result, "tag,zone,side,stones,least_g,nominal_g,most_g,g_m2,g_cm,smaller_g,over\r\n");
  for (uint64_t at = from; at < to; at++) {
    if (at > from && !with->flags.csv && !with->flags.json) buffer_text(&with->result, "\n");
    GIRDLE_TRY(say_one(with, girdle_club_job(club, at), options));
  }
  return GIRDLE_OK;
}

int32_t verb_weigh(program *with) {
  girdle_weight_options options;
  girdle_club *club = NULL;
  int32_t status;
  if (!with->flags.file_count) return command_usage(with, "which FILE?");
  GIRDLE_TRY(read_options(with, &options));
  GIRDLE_TRY(work_file(with, with->flags.files[0], WORK_CHOSEN, &club));
  status = say_all(with, club, &options);
  girdle_club_free(club);
  return status;
}
