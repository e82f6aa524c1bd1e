/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "rings.h"

#include <math.h>
#include <string.h>

#include "common.h"

/* opening: whether a ring of stones at neck, wrist, waist or leg still lets through what must pass. */

typedef struct ring {
  girdle_opening opening;
  girdle_opening_check check;
  char stones[256]; /* what stands on it */
} ring;

/* A quantity that must be given, or, with a fallback, may be. */
static int32_t read_one(program *with, const char *name, int32_t kind, const char *fallback, double *out) {
  const char *given = flags_given(with, name);
  int32_t status;
  if (!given && !fallback)
    return command_usage(with, "%s= is wanted, such as ring=\"15 cm\" through=\"22 cm\" stretch=\"60 %%\" stone=ss20",
                         name);
  status = girdle_quantity_parse(&with->call, given ? given : fallback, kind, out);
  if (status) girdle_common_at(&with->call, name, -1, -1, -1);
  return status;
}

static int32_t read_ring(program *with, ring *out) {
  static const char *const known[] = {"ring", "through", "stretch", "lies", "stone", "gap"};
  girdle_opening *to = &out->opening;
  const char *text = flags_given(with, "stone");
  girdle_stone stone;
  int32_t status;
  girdle_opening_init(to, sizeof *to);
  GIRDLE_TRY(flags_only(with, known, 6));
  GIRDLE_TRY(read_one(with, "ring", GIRDLE_LENGTH, NULL, &to->ring_mm));
  GIRDLE_TRY(read_one(with, "through", GIRDLE_LENGTH, NULL, &to->through_mm));
  GIRDLE_TRY(read_one(with, "stretch", GIRDLE_SHARE, NULL, &to->stretch_most));
  GIRDLE_TRY(read_one(with, "lies", GIRDLE_SHARE, "0 %", &to->lies));
  GIRDLE_TRY(read_one(with, "gap", GIRDLE_LENGTH, "0.5 mm", &to->gap_mm));
  if (!text) return command_usage(with, "which stone? such as stone=ss20");
  status = girdle_stone_parse(&with->call, text, &stone);
  if (status) girdle_common_at(&with->call, "stone", -1, -1, -1);
  if (status) return status;
  to->diameter_mm = stone.diameter_mm[GIRDLE_NOMINAL];
  girdle_stone_text(&stone, out->stones, sizeof out->stones);
  return GIRDLE_OK;
}

/* ---- in each form */

/* A girth: centimetres, or inches. */
static const char *girth_words(const program *with, double mm, char text[64]) {
  buffer words = {0};
  char number[64];
  const int inches = with->flags.inches;
  buffer_say(&words, with, inches ? "{1} in" : "{1} cm", number_words(with, inches ? mm / 25.4 : mm / 10, 1, number));
  girdle_common_text(text, 64, words.bytes);
  buffer_free(&words);
  return text;
}

static void say_remedies(const program *with, const girdle_opening_check *check, buffer *to) {
  char text[64];
  if (check->most_stones < 0) {
    buffer_say(to, with, "The plain ring is too tight already: it needs an opening.");
    buffer_text(to, "\n");
    return;
  }
  buffer_say(to, with, "It passes with at most {1} stones", number_words(with, (double)check->most_stones, 0, text));
  if (isfinite(check->least_gap_mm))
    buffer_say(to, with, ": {1} edge to edge or more", length_words(with, check->least_gap_mm, 2, text));
  if (check->open_mm > 0)
    buffer_say(to, with, "; or leave {1} of the ring without stones", girth_words(with, check->open_mm, text));
  buffer_text(to, ".\n");
}

static void say_text(const program *with, const ring *of, buffer *to) {
  char number[64], reach[64], through[64];
  buffer_say(to, with,
             of->check.passes ? "{1} stones of {2}: the ring reaches {3} at full stretch, and {4} passes."
                              : "{1} stones of {2}: the ring reaches {3} at full stretch, and {4} does not pass.",
             number_words(with, (double)of->check.stones, 0, number), of->stones,
             girth_words(with, of->check.reach_mm, reach), girth_words(with, of->opening.through_mm, through));
  buffer_text(to, "\n");
  if (!of->check.passes) say_remedies(with, &of->check, to);
}

static void say_caution(program *with) {
  buffer_say(&with->result, with, "The fabric under a stone is taken as not stretching. Try it on before you glue.");
  buffer_text(&with->result, "\n");
}

int32_t opening_say(program *with, const girdle_opening *opening, const char *stones) {
  ring of = {*opening, {0}, ""};
  girdle_common_text(of.stones, sizeof of.stones, stones);
  GIRDLE_TRY(girdle_opening_try(&with->call, &of.opening, &of.check));
  say_text(with, &of, &with->result);
  say_caution(with);
  return GIRDLE_OK;
}

static void number_or_null(buffer *to, const char *before, double value) {
  buffer_text(to, "%s", before);
  if (isfinite(value))
    buffer_number(to, value, 4);
  else
    buffer_text(to, "null");
}

static void json_check(const ring *of, buffer *to) {
  buffer_text(to, "\"passes\":%s,\"stones\":%lld", of->check.passes ? "true" : "false", (long long)of->check.stones);
  number_or_null(to, ",\"reach_mm\":", of->check.reach_mm);
  buffer_text(to, ",\"most_stones\":%lld", (long long)of->check.most_stones);
  number_or_null(to, ",\"least_gap_mm\":", of->check.least_gap_mm);
  number_or_null(to, ",\"open_mm\":", of->check.open_mm);
}

static void cell(buffer *to, double value, const char *after) {
  if (isfinite(value)) buffer_number(to, value, 4);
  buffer_text(to, "%s", after);
}

static const char csv_columns[] = "passes,stones,reach_mm,most_stones,least_gap_mm,open_mm\r\n";

static void csv_check(const ring *of, buffer *to) {
  buffer_text(to, "%s,%lld,", of->check.passes ? "yes" : "no", (long long)of->check.stones);
  cell(to, of->check.reach_mm, ",");
  buffer_text(to, "%lld,", (long long)of->check.most_stones);
  cell(to, of->check.least_gap_mm, ",");
  cell(to, of->check.open_mm, "\r\n");
}

static int32_t one_ring(program *with) {
  ring of;
  memset(&of, 0, sizeof of);
  GIRDLE_TRY(read_ring(with, &of));
  GIRDLE_TRY(girdle_opening_try(&with->call, &of.opening, &of.check));
  if (with->flags.json) {
    buffer_text(&with->result, "{");
    json_check(&of, &with->result);
    buffer_text(&with->result, "}\n");
  } else if (with->flags.csv) {
    buffer_text(&with->result, "%s", csv_columns);
    csv_check(&of, &with->result);
  } else {
    say_text(with, &of, &with->result);
    say_caution(with);
  }
  return GIRDLE_OK;
}

/* ---- all rings of a costume, or of a club's */

/* Of a costume's fabric.csv; NaN where it does not say. */
typedef struct told {
  double girth_mm[GIRTHS], stretch;
} told;

typedef struct body {
  program *with;
  double girth_mm[GIRTHS], stretch; /* NaN: not given */
  const char *costume;              /* the last that was read; NULL: none yet */
  told by;                          /* what it told */
  uint64_t rings, unknown;
} body;

/* Taken before the costume is read, which would take them for its measures. */
static int32_t take_body(body *in) {
  const char *stretch = flags_take(in->with, "stretch");
  in->stretch = NAN;
  if (stretch) {
    int32_t status = girdle_quantity_parse(&in->with->call, stretch, GIRDLE_SHARE, &in->stretch);
    girdle_common_at(&in->with->call, "stretch", -1, -1, -1);
    GIRDLE_TRY(status);
  }
  for (int at = 0; at < GIRTHS; at++) {
    const char *girth = flags_take(in->with, girth_names[at]);
    int32_t status =
        girth ? girdle_quantity_parse(&in->with->call, girth, GIRDLE_LENGTH, &in->girth_mm[at]) : GIRDLE_OK;
    if (!girth) in->girth_mm[at] = NAN;
    girdle_common_at(&in->with->call, girth_names[at], -1, -1, -1);
    GIRDLE_TRY(status);
  }
  return GIRDLE_OK;
}

/* Once for all wearers and rings of a costume that follow each other. */
static int32_t read_told(body *in, const girdle_job *job) {
  program *with = in->with;
  const char *file = with->flags.files[0], *name = girdle_job_head_of(job)->costume;
  told *out = &in->by;
  costume of;
  int32_t status = GIRDLE_OK;
  if (in->costume && strcmp(in->costume, name) == 0) return GIRDLE_OK;
  in->costume = name;
  out->stretch = NAN;
  for (int at = 0; at < GIRTHS; at++)
    out->girth_mm[at] = NAN;
  if (!file_exists(file)) return GIRDLE_OK;
  memset(&of, 0, sizeof of);
  if (work_is_club(with, file))
    status = source_costume_in_club(with, file, name, &of);
  else
    status = source_costume_file(with, file, &of);
  if (!status && of.has_fabric) {
    out->stretch = of.stretch_most;
    memcpy(out->girth_mm, of.girth_mm, sizeof out->girth_mm);
  }
  source_costume_free(&of);
  return status;
}

/* As it is given for all, or as the wearer's own measure of that name, or as the costume says. */
static double girth_of(const body *in, const girdle_job *job, const char *part) {
  uint64_t count;
  const girdle_measure *measures = girdle_job_measures(job, &count);
  int which = 0;
  while (strcmp(girth_names[which], part) != 0)
    which++;
  if (isfinite(in->girth_mm[which])) return in->girth_mm[which];
  for (uint64_t at = 0; at < count; at++)
    if (strcmp(measures[at].name, part) == 0) return measures[at].mm;
  return in->by.girth_mm[which];
}

static void name_ring(const body *in, const girdle_job *job, const girdle_zone *zone, buffer *to) {
  const char *tag = girdle_job_head_of(job)->tag;
  if (in->with->flags.csv) {
    buffer_csv_text(to, tag, ",");
    buffer_csv_text(to, zone->name, ",");
    buffer_csv_text(to, zone->side, ",");
  } else if (in->with->flags.json) {
    buffer_text(to, "%s{\"tag\":\"", in->rings ? ",\n" : "");
    buffer_json_text(to, tag);
    buffer_text(to, "\",\"zone\":\"");
    buffer_json_text(to, zone->name);
    buffer_text(to, "\",\"side\":\"%s\",", zone->side);
  } else {
    buffer_text(to, "%s, %s%s", tag, zone->name, zone->side[0] ? " " : "");
    buffer_say(to, in->with, strcmp(zone->side, "both") == 0 ? "front and back" : zone->side);
    buffer_text(to, ": ");
  }
}

static void say_ring(body *in, const girdle_job *job, const girdle_zone *zone, const ring *of) {
  buffer *to = &in->with->result;
  name_ring(in, job, zone, to);
  if (in->with->flags.csv)
    csv_check(of, to);
  else if (in->with->flags.json)
    json_check(of, to), buffer_text(to, "}");
  else
    say_text(in->with, of, to);
  in->rings++;
}

/* Both of a pair are alike; what is not known to let anything through is no opening. */
static int32_t check_zone(body *in, const girdle_job *job, const girdle_zone *zone) {
  const char *part = ring_passes(zone->name);
  buffer stones = {0};
  ring of;
  memset(&of, 0, sizeof of);
  if (!part || strcmp(zone->side, "right") == 0 || !ring_of(zone, 1, &of.opening)) return GIRDLE_OK;
  GIRDLE_TRY(read_told(in, job));
  of.opening.through_mm = girth_of(in, job, part);
  if (isnan(of.opening.through_mm)) {
    command_say(in->with,
                "girdle: %s, %s: how far is it round what must pass? give %s=, a column %s in club.csv or a row %s in "
                "fabric.csv",
                girdle_job_head_of(job)->tag, zone->name, part, part, part);
    in->unknown++;
    return GIRDLE_OK;
  }
  of.opening.stretch_most = isfinite(in->stretch) ? in->stretch : in->by.stretch;
  if (isnan(of.opening.stretch_most))
    return command_usage(in->with, "how far does the fabric stretch? give stretch=, or stretches in fabric.csv");
  of.opening.lies = girdle_job_head_of(job)->fabric.lies_across;
  GIRDLE_TRY(girdle_opening_try(&in->with->call, &of.opening, &of.check));
  ring_text(zone, &stones);
  girdle_common_text(of.stones, sizeof of.stones, stones.bytes);
  buffer_free(&stones);
  say_ring(in, job, zone, &of);
  return GIRDLE_OK;
}

static int32_t check_jobs(body *in, const girdle_club *club) {
  uint64_t from, to, count;
  GIRDLE_TRY(work_chosen(in->with, club, &from, &to));
  if (in->with->flags.csv) buffer_text(&in->with->result, "tag,zone,side,%s", csv_columns);
  if (in->with->flags.json) buffer_text(&in->with->result, "[");
  for (uint64_t at = from; at < to; at++) {
    const girdle_job *job = girdle_club_job(club, at);
    const girdle_zone *zones = girdle_job_zones(job, &count);
    for (uint64_t each = 0; each < count; each++)
      GIRDLE_TRY(check_zone(in, job, &zones[each]));
  }
  if (in->with->flags.json) buffer_text(&in->with->result, "]\n");
  if (in->rings && !in->with->flags.csv && !in->with->flags.json) say_caution(in->with);
  if (in->rings) return GIRDLE_OK;
  return girdle_common_fail(&in->with->call, GIRDLE_ARGUMENT, "zone",
                            in->unknown ? "no ring could be looked at: no girth is known of what must pass"
                                        : "no zone is a closed ring of stones at a neck, wrist, waist or leg");
}

static int32_t all_rings(program *with) {
  girdle_club *club = NULL;
  body in = {.with = with};
  int32_t status = take_body(&in);
  if (!status) status = work_file(with, with->flags.files[0], WORK_CHOSEN, &club);
  if (!status) status = check_jobs(&in, club);
  girdle_club_free(club);
  return status;
}

int32_t verb_opening(program *with) {
  return with->flags.file_count ? all_rings(with) : one_ring(with);
}
