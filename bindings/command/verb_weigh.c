/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <math.h>
#include <stdio.h>
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

/* "0.2 g/cm": an edge's mass has no kind of its own among the quantities. */
static int32_t take_edge(program *with, double *out) {
  const char *text = flags_take(with, "most edge"), *unit = text ? strstr(text, " g/cm") : NULL;
  if (!text) return GIRDLE_OK;
  if (!unit || unit[5] || girdle_number_parse(NULL, text, (uint64_t)(unit - text), out) || !(*out > 0))
    return girdle_common_fail(&with->call, GIRDLE_SYNTAX, "most edge",
                              "'%.40s' is not the mass of an edge; write one like \"0.5 g/cm\"", text);
  return GIRDLE_OK;
}

enum { MOST_RESTS = 32 };

/* Zones by name with ";" between; `names` and the text they lie in live as long as the weighing. */
static int32_t take_rests(program *with, char *text, const char **names, girdle_weight_options *out) {
  char *at = text, *end;
  out->rests = names;
  for (; at; at = end) {
    end = strchr(at, ';');
    if (end) *end++ = '\0';
    at += strspn(at, " ");
    for (size_t length = strlen(at); length && at[length - 1] == ' ';)
      at[--length] = '\0';
    if (out->rest_count == MOST_RESTS)
      return girdle_common_fail(&with->call, GIRDLE_LIMIT, "rests", "rests= names more than %d zones", MOST_RESTS);
    names[out->rest_count++] = at;
  }
  return GIRDLE_OK;
}

/* A name that no zone bears would change nothing, and nobody would know. */
static int32_t check_rests(program *with, const girdle_job *job, const girdle_weight_options *options) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  const char **known = command_new((count + 1) * sizeof *known);
  int32_t status = GIRDLE_OK;
  for (uint64_t at = 0; at < count; at++)
    known[at] = zones[at].name;
  for (uint64_t each = 0; each < options->rest_count && !status; each++) {
    int found = 0;
    for (uint64_t at = 0; at < count; at++)
      found |= strcmp(known[at], options->rests[each]) == 0;
    if (!found) status = girdle_common_unknown(&with->call, "rests", options->rests[each], known, count);
  }
  free(known);
  return status;
}

static int32_t read_options(program *with, girdle_weight_options *out) {
  girdle_weight_options_init(out, sizeof *out);
  GIRDLE_TRY(take_mass(with, "dress", GIRDLE_MASS, &out->dress_mg));
  GIRDLE_TRY(take_mass(with, "most share", GIRDLE_SHARE, &out->most_share));
  GIRDLE_TRY(take_mass(with, "most area", GIRDLE_AREAL_MASS, &out->most_g_m2));
  return take_edge(with, &out->most_g_cm);
}

/* ---- in each form */

static void say_mass(program *with, const char *english, double mg, buffer *to) {
  char text[64];
  buffer_say(to, with, english, number_words(with, mg / 1000, 1, text));
}

static void say_gaps(program *with, const girdle_zone_weight *of, buffer *to) {
  char number[64];
  buffer mm[2] = {{0}, {0}};
  buffer_say(&mm[0], with, "{1} mm", number_words(with, of->glued_gap_mm, 2, number));
  buffer_say(&mm[1], with, "{1} mm", number_words(with, of->worn_gap_mm, 2, number));
  buffer_text(to, ", ");
  buffer_say(to, with, "edge to edge {1} as glued, {2} as worn", mm[0].bytes, mm[1].bytes);
  buffer_free(&mm[0]);
  buffer_free(&mm[1]);
}

static void say_touching(program *with, const girdle_zone_weight *of, buffer *to) {
  char number[64];
  buffer_text(to, "    ");
  buffer_say(to, with, "{1} stones would touch another, as glued or as worn",
             number_words(with, of->touching, 0, number));
  buffer_text(to, "\n");
}

static void zone_text(program *with, const girdle_fabric *fabric, const girdle_zone_weight *of, buffer *to) {
  char stones[24], number[64];
  buffer_text(to, "  ");
  buffer_padded(to, of->name, -19);
  buffer_say_in(to, with, of->side, -6);
  snprintf(stones, sizeof stones, " %6lld", (long long)of->stones);
  buffer_say(to, with, "{1} stones  {2} g", stones, number_words(with, of->mass_mg[GIRDLE_NOMINAL] / 1000, 1, number));
  if (isfinite(of->g_m2)) buffer_say(to, with, ", {1} g/m2", number_words(with, of->g_m2, 0, number));
  if (isfinite(of->g_cm)) buffer_say(to, with, ", {1} g/cm", number_words(with, of->g_cm, 2, number));
  if (isfinite(of->smaller_mg)) say_mass(with, ", one size smaller {1} g", of->smaller_mg, to);
  if (of->glued_gap_mm > 0 && (fabric->lies_across != 0 || of->worn_gap_mm != of->glued_gap_mm)) say_gaps(with, of, to);
  if (of->over) buffer_text(to, "  "), buffer_say(to, with, "over the limit");
  buffer_text(to, "\n");
  if (of->touching) say_touching(with, of, to);
}

static void sum_text(program *with, const scale *of, buffer *to) {
  const girdle_weight *sum = &of->sum;
  char text[4][64];
  buffer_say(to, with, "{1} g added, likely between {2} g and {3} g until a gross is weighed",
             number_words(with, sum->added_mg[GIRDLE_NOMINAL] / 1000, 1, text[0]),
             number_words(with, sum->added_mg[GIRDLE_LEAST] / 1000, 1, text[1]),
             number_words(with, sum->added_mg[GIRDLE_MOST] / 1000, 1, text[2]));
  if (isfinite(sum->dress_share[GIRDLE_NOMINAL]))
    buffer_say(to, with, "; {1} % of the plain dress",
               number_words(with, sum->dress_share[GIRDLE_NOMINAL] * 100, 1, text[0]));
  if (sum->over & GIRDLE_OVER_SHARE) buffer_say(to, with, ", which is over the limit");
  buffer_text(to, ".\n");
  buffer_say(to, with, "front {1} g, back {2} g; left {3} g, right {4} g",
             number_words(with, sum->front_mg / 1000, 1, text[0]), number_words(with, sum->back_mg / 1000, 1, text[1]),
             number_words(with, sum->left_mg / 1000, 1, text[2]), number_words(with, sum->right_mg / 1000, 1, text[3]));
  if (isfinite(sum->hanging_mg)) say_mass(with, "; from the straps hang {1} g", sum->hanging_mg, to);
  buffer_text(to, ".\n");
}

static void say_lighter(program *with, const girdle_zone_weight *zone, double adhesive_mg, buffer *to) {
  buffer name = {0};
  buffer_text(&name, "%s%s", zone->name, zone->side[0] ? ", " : "");
  buffer_say(&name, with, zone->side);
  buffer_say(to, with, "The zone to lighten is {1}, the heaviest:", name.bytes);
  buffer_text(to, " ");
  buffer_free(&name);
  if (isfinite(zone->smaller_mg)) {
    say_mass(with, "stones one size smaller would save {1} g;", zone->mass_mg[GIRDLE_NOMINAL] - zone->smaller_mg, to);
    buffer_text(to, " ");
  }
  say_mass(with, "sewn there they would save the adhesive, about {1} g.", adhesive_mg, to);
  buffer_text(to, "\n");
}

/* Which zone to lighten: the heaviest, and what would do it. Adhesive is taken as 1 g/ml (common practice, no source).
 */
static int32_t say_remedy(program *with, const girdle_job *job, const scale *of, buffer *to) {
  const girdle_zone_weight *zone = &of->zones[of->sum.heaviest];
  girdle_work_rates rates;
  girdle_work work;
  girdle_tally *tally = NULL, *alone = NULL;
  const girdle_tally_line *lines;
  uint64_t count = 0;
  int32_t status = girdle_job_tally(&with->call, job, &tally);
  if (!status) status = girdle_tally_new(&with->call, &alone);
  lines = status ? NULL : girdle_tally_lines(tally, &count);
  for (uint64_t at = 0; at < count && !status; at++)
    if (strcmp(lines[at].zone, zone->name) == 0 && strcmp(lines[at].side, zone->side) == 0)
      status = girdle_tally_add_pieces(&with->call, alone, "", zone->name, "", &lines[at].stone, lines[at].count);
  girdle_work_rates_init(&rates, sizeof rates);
  if (!status) status = girdle_work_estimate(&with->call, alone, &rates, &work);
  girdle_tally_free(tally);
  girdle_tally_free(alone);
  if (status) return status;
  say_lighter(with, zone, work.adhesive_ml * 1000, to);
  return GIRDLE_OK;
}

static void text(program *with, const girdle_job *job, const scale *of, buffer *to) {
  const girdle_job_head *head = girdle_job_head_of(job);
  buffer_text(to, "%s\n", head->tag);
  for (uint64_t at = 0; at < of->count; at++)
    zone_text(with, &head->fabric, &of->zones[at], to);
  sum_text(with, of, to);
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
    buffer_text(to, "%s,", zone->over ? "yes" : "no");
    number_cell(to, zone->glued_gap_mm, ",");
    number_cell(to, zone->worn_gap_mm, ",");
    buffer_text(to, "%d\r\n", (int)zone->touching);
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
  json_number(to, "glued_gap_mm", of->glued_gap_mm);
  json_number(to, "worn_gap_mm", of->worn_gap_mm);
  buffer_text(to, ",\"touching\":%d", (int)of->touching);
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
  GIRDLE_TRY(check_rests(with, job, options));
  memset(&of, 0, sizeof of);
  of.options = *options;
  status = weigh(with, job, &of);
  if (!status && with->flags.csv) csv(job, &of, &with->result);
  if (!status && with->flags.json) json(job, &of, &with->result);
  if (!status && !with->flags.csv && !with->flags.json) {
    text(with, job, &of, &with->result);
    if (of.count) status = say_remedy(with, job, &of, &with->result);
  }
  free(of.zones);
  return status;
}

static int32_t say_all(program *with, const girdle_club *club, const girdle_weight_options *options) {
  uint64_t from, to;
  GIRDLE_TRY(work_chosen(with, club, &from, &to));
  if (with->flags.csv)
    buffer_text(&with->result,
                "tag,zone,side,stones,least_g,nominal_g,most_g,g_m2,g_cm,smaller_g,over,"
                "glued_gap_mm,worn_gap_mm,touching\r\n");
  for (uint64_t at = from; at < to; at++) {
    if (at > from && !with->flags.csv && !with->flags.json) buffer_text(&with->result, "\n");
    GIRDLE_TRY(say_one(with, girdle_club_job(club, at), options));
  }
  return GIRDLE_OK;
}

int32_t verb_weigh(program *with) {
  girdle_weight_options options;
  girdle_club *club = NULL;
  const char *names[MOST_RESTS], *rests;
  char *text;
  int32_t status;
  if (!with->flags.file_count) return command_usage(with, "which FILE?");
  GIRDLE_TRY(read_options(with, &options));
  rests = flags_take(with, "rests");
  text = rests ? command_copy(rests) : NULL;
  status = take_rests(with, text, names, &options);
  if (!status) status = work_file(with, with->flags.files[0], WORK_CHOSEN, &club);
  if (!status) status = say_all(with, club, &options);
  girdle_club_free(club);
  free(text);
  return status;
}
