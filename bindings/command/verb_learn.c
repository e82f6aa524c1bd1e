/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <string.h>

#include "common.h"
#include "learn.h"

/* learn: what the club's log says of spares and pace, and what is reckoned with because of it. */

/* How sure an interval is; and what stands for the jobs that are not in the log yet: common practice, no source. */
static const double CONFIDENCE = 0.95, PRIOR_JOBS = 2, PACE_SPREAD = 0.3, TAKEN_SPREAD = 0.05;
enum { KIT_PIECES = 3, STONES_SHOWN = 100 };

static const char *percent(const program *with, double share, char text[64]) {
  return number_words(with, share * 100, 1, text);
}

/* ---- the next job */

/* The jobs and zones of the log, and what the next job is likely to come to. */
typedef struct outlook {
  girdle_learned_part *jobs, *zones;
  uint64_t job_count, zone_count;
  girdle_forecast pace, taken; /* seconds a stone; pieces taken a piece planned */
} outlook;

static int32_t list_parts(program *with, const girdle_log_row *rows, uint64_t count, int32_t by_zone,
                          girdle_learned_part **out, uint64_t *out_count) {
  *out = command_new((count + 1) * sizeof **out);
  return girdle_learn_parts(&with->call, rows, count, by_zone, *out, count, out_count);
}

/* What each job took a piece planned. */
static uint64_t taken_ratios(const girdle_log_row *rows, uint64_t count, const outlook *of, double *ratios) {
  uint64_t known = 0;
  for (uint64_t j = 0; j < of->job_count; j++) {
    double planned = 0, taken = 0;
    for (uint64_t i = 0; i < count; i++) {
      if (strcmp(rows[i].tag, of->jobs[j].name) != 0 || rows[i].planned < 0 || rows[i].used < 0) continue;
      planned += (double)rows[i].planned;
      taken += (double)rows[i].used;
    }
    if (planned > 0 && taken > 0) ratios[known++] = taken / planned;
  }
  return known;
}

static int32_t look_ahead(program *with, const girdle_club *club, const girdle_work_rates *rates, double lost_share,
                          outlook *out) {
  uint64_t count, known = 0;
  const girdle_log_row *rows = girdle_club_log(club, &count);
  double *ratios = command_new((count + 1) * sizeof *ratios);
  int32_t status = list_parts(with, rows, count, 0, &out->jobs, &out->job_count);
  if (!status) status = list_parts(with, rows, count, 1, &out->zones, &out->zone_count);
  for (uint64_t j = 0; j < out->job_count && !status; j++)
    if (out->jobs[j].seconds_a_stone > 0) ratios[known++] = out->jobs[j].seconds_a_stone;
  if (!status)
    status = girdle_forecast_ratio(&with->call, ratios, known, fmax(rates->small_s, 1), PACE_SPREAD, PRIOR_JOBS,
                                   CONFIDENCE, &out->pace);
  if (!status) {
    known = taken_ratios(rows, count, out, ratios);
    status = girdle_forecast_ratio(&with->call, ratios, known, 1 + lost_share, TAKEN_SPREAD, PRIOR_JOBS, CONFIDENCE,
                                   &out->taken);
  }
  command_release(ratios);
  return status;
}

static void forget(outlook *of) {
  command_release(of->jobs);
  command_release(of->zones);
}

/* ---- in words */

static void say_interval(const program *with, const char *english, const girdle_forecast *of, int32_t decimals,
                         buffer *to) {
  char least[64], most[64];
  buffer_say(to, with, english, number_words(with, of->least, decimals, least),
             number_words(with, of->most, decimals, most));
  buffer_text(to, "\n");
}

static void say_unusual(const program *with, const outlook *of, buffer *to) {
  char text[64];
  for (uint64_t j = 0; j < of->job_count; j++) {
    const girdle_learned_part *job = &of->jobs[j];
    if (job->unusual & GIRDLE_UNUSUAL_LOSS) {
      buffer_say(to, with, "Unusual: job '{1}' lost {2} %. It still counts; look whether its row is right.", job->name,
                 percent(with, job->lost_share, text));
      buffer_text(to, "\n");
    }
    if (job->unusual & GIRDLE_UNUSUAL_USE) {
      buffer_say(to, with,
                 "Unusual: job '{1}' used more than three times what was planned. It still counts; look whether its "
                 "row is right.",
                 job->name);
      buffer_text(to, "\n");
    }
    if (job->unusual & GIRDLE_UNUSUAL_PACE) {
      buffer_say(to, with, "Unusual: job '{1}' took {2} s a stone. It still counts; look whether its row is right.",
                 job->name, number_words(with, job->seconds_a_stone, 1, text));
      buffer_text(to, "\n");
    }
  }
}

/* A repair kit by zone, from what fell off there. */
static int32_t say_zones(program *with, const outlook *of, buffer *to) {
  for (uint64_t z = 0; z < of->zone_count; z++) {
    const girdle_learned_part *zone = &of->zones[z];
    char share[64], stones[64], pieces[64];
    int64_t kit;
    if (!zone->name[0] || !isfinite(zone->fell_off_share)) continue;
    GIRDLE_TRY(girdle_repair_kit(&with->call, STONES_SHOWN, zone->fell_off_share, CONFIDENCE, KIT_PIECES, &kit));
    buffer_text(to, "  ");
    buffer_say(to, with, "{1}: {2} % fell off; a repair kit for {3} stones there holds {4}.", zone->name,
               percent(with, zone->fell_off_share, share), number_words(with, STONES_SHOWN, 0, stones),
               number_words(with, (double)kit, 0, pieces));
    buffer_text(to, "\n");
  }
  return GIRDLE_OK;
}

/* How many spares suffice, and the chance to run short with fewer. */
static int32_t say_spares(program *with, double lost_share, buffer *to) {
  char stones[64], enough[64];
  int64_t spares;
  GIRDLE_TRY(girdle_spares(&with->call, STONES_SHOWN, lost_share, CONFIDENCE, &spares));
  buffer_say(to, with, "For {1} stones {2} spares suffice 19 times in 20; the chance of running short with",
             number_words(with, STONES_SHOWN, 0, stones), number_words(with, (double)spares, 0, enough));
  for (int64_t less = spares > 4 ? spares - 4 : 0; less <= spares; less += 2) {
    char fewer[64], share[64];
    double chance;
    GIRDLE_TRY(girdle_chance_short(&with->call, STONES_SHOWN, lost_share, less, &chance));
    buffer_text(to, " ");
    buffer_say(to, with, "{1}: {2} %", number_words(with, (double)less, 0, fewer), percent(with, chance, share));
    if (less + 2 <= spares) buffer_text(to, ",");
  }
  buffer_text(to, ".\n");
  return GIRDLE_OK;
}

static void say_rates(const program *with, const girdle_work_rates *rates, buffer *to) {
  char small[64], large[64];
  buffer_say(to, with,
             "Reckoned with: a small stone {1} s, a large one {2} s. The more jobs the log has, the more it counts "
             "against the rates.",
             number_words(with, rates->small_s, 1, small), number_words(with, rates->large_s, 1, large));
  buffer_text(to, "\n");
}

static int32_t say_no_log(program *with, double lost_share, buffer *to) {
  char share[64];
  buffer_say(to, with,
             "There is no log yet: write log.csv (date, tag, zone, stone, planned, used, lost, fell_off, minutes).");
  buffer_text(to, "\n");
  buffer_say(to, with, "Spares for stones lost while working: {1} %, an assumption: nothing was learned yet.",
             percent(with, lost_share, share));
  buffer_text(to, "\n");
  return say_spares(with, lost_share, to);
}

static void say_jobs(const program *with, const girdle_learned *of, buffer *to) {
  char text[64];
  buffer_say(to, with, of->jobs == 1 ? "{1} job in the log." : "{1} jobs in the log.",
             number_words(with, (double)of->jobs, 0, text));
  buffer_text(to, "\n");
  buffer_say(to, with, "Spares for stones lost while working: {1} %, learned from the log and the rate together.",
             percent(with, of->lost_share, text));
  buffer_text(to, "\n");
}

static void say_pace(const program *with, const girdle_learned *of, const outlook *ahead, buffer *to) {
  char stone[64], hour[64];
  if (!isfinite(of->seconds_a_stone)) return;
  buffer_say(to, with, "Pace: {1} s a stone, {2} an hour.", number_words(with, of->seconds_a_stone, 1, stone),
             number_words(with, 3600 / of->seconds_a_stone, 0, hour));
  buffer_text(to, "\n");
  say_interval(with, "Seconds a stone, the next job: likely between {1} and {2} s, 19 times in 20.", &ahead->pace, 1,
               to);
}

static int32_t say_text(program *with, const girdle_learned *of, const girdle_work_rates *rates, const outlook *ahead,
                        buffer *to) {
  char share[64];
  if (!of->jobs) return say_no_log(with, of->lost_share, to);
  say_jobs(with, of, to);
  GIRDLE_TRY(say_spares(with, of->lost_share, to));
  say_interval(with, "Pieces taken a piece planned, the next job: likely between {1} and {2}, 19 times in 20.",
               &ahead->taken, 2, to);
  buffer_say(to, with, "Fell off once worn: {1} %.", percent(with, of->fell_off_share, share));
  buffer_text(to, "\n");
  GIRDLE_TRY(say_zones(with, ahead, to));
  say_pace(with, of, ahead, to);
  say_unusual(with, ahead, to);
  say_rates(with, rates, to);
  return GIRDLE_OK;
}

/* ---- for other tools */

static void field(buffer *to, const char *name, double value) {
  buffer_text(to, ",\"%s\":", name);
  if (isfinite(value))
    buffer_number(to, value, 6);
  else
    buffer_text(to, "null");
}

static void say_json(const girdle_learned *of, const girdle_work_rates *rates, const outlook *ahead, buffer *to) {
  const char *between = "";
  buffer_text(to, "{\"jobs\":%lld", (long long)of->jobs);
  field(to, "lost_share", of->lost_share);
  field(to, "fell_off_share", of->fell_off_share);
  field(to, "seconds_a_stone", of->seconds_a_stone);
  field(to, "small_s", rates->small_s);
  field(to, "large_s", rates->large_s);
  field(to, "pace_least_s", ahead->pace.least);
  field(to, "pace_most_s", ahead->pace.most);
  field(to, "taken_least", ahead->taken.least);
  field(to, "taken_most", ahead->taken.most);
  buffer_text(to, ",\"unusual\":[");
  for (uint64_t j = 0; j < ahead->job_count; j++) {
    if (!ahead->jobs[j].unusual) continue;
    buffer_text(to, "%s\"", between);
    buffer_json_text(to, ahead->jobs[j].name);
    buffer_text(to, "\"");
    between = ",";
  }
  buffer_text(to, "]}\n");
}

static void cell(buffer *to, double value, const char *after) {
  if (isfinite(value)) buffer_number(to, value, 6);
  buffer_text(to, "%s", after);
}

static void say_csv(const girdle_learned *of, const girdle_work_rates *rates, const outlook *ahead, buffer *to) {
  buffer_text(to,
              "jobs,lost_share,fell_off_share,seconds_a_stone,small_s,large_s,pace_least_s,pace_most_s,taken_least,"
              "taken_most\r\n%lld,",
              (long long)of->jobs);
  cell(to, of->lost_share, ",");
  cell(to, of->fell_off_share, ",");
  cell(to, of->seconds_a_stone, ",");
  cell(to, rates->small_s, ",");
  cell(to, rates->large_s, ",");
  cell(to, ahead->pace.least, ",");
  cell(to, ahead->pace.most, ",");
  cell(to, ahead->taken.least, ",");
  cell(to, ahead->taken.most, "\r\n");
}

/* ---- the verb */

static int32_t say(program *with, const girdle_club *club, const girdle_reckoning *of) {
  const girdle_learned *learned = girdle_reckoning_learned(of);
  const girdle_work_rates *rates = girdle_reckoning_rates(of);
  outlook ahead = {0};
  int32_t status = look_ahead(with, club, rates, learned->lost_share, &ahead);
  if (!status && with->flags.json)
    say_json(learned, rates, &ahead, &with->result);
  else if (!status && with->flags.csv)
    say_csv(learned, rates, &ahead, &with->result);
  else if (!status)
    status = say_text(with, learned, rates, &ahead, &with->result);
  forget(&ahead);
  return status;
}

/* The log is read with the club's tables; no costume need be worked. */
static int32_t learn(program *with, girdle_club *club, lesson *of) {
  girdle_reckoning *sums = NULL;
  const girdle_work_rates *rates = girdle_club_work_rates(club);
  int32_t status = lesson_read(with, rates->evening_s * rates->hands, of);
  for (uint64_t i = 0; i < of->row_count && !status; i++)
    status = girdle_club_add_log(&with->call, club, &of->rows[i]);
  if (!status) status = girdle_club_reckon(&with->call, club, with->today, &sums);
  if (!status) status = say(with, club, sums);
  girdle_reckoning_free(sums);
  return status;
}

int32_t verb_learn(program *with) {
  const char *club_path = with->flags.files[0];
  girdle_club *club = NULL;
  lesson of = {0};
  int32_t status;
  if (!with->flags.file_count) return command_usage(with, "which CLUB?");
  if (with->flags.write && with->flags.file_count < 2 && !with->flags.given_count)
    return command_usage(with, "--write takes a card, or what is remembered: tag=TAG gross=N hours=H");
  GIRDLE_TRY(work_tables(with, club_path, &club));
  status = learn(with, club, &of);
  if (!status && with->flags.write) status = lesson_write(with, club_path, &of);
  lesson_free(&of);
  girdle_club_free(club);
  return status;
}
