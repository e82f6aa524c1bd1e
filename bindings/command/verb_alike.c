/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "alike.h"
#include "common.h"

/* alike: one zone with the same number of stones on every wearer, so that one bag is like another; or, when no zone is
 * named, what the zones that say so in their tables keep over the sizes. */

typedef struct search {
  program *with;
  girdle_club *club;
  wardrobe costumes;
  alike_search of;
  const char *zone, *routine;
} search;

/* ---- who wears the zone */

static int is_wanted(const search *in, const girdle_job_head *head) {
  return !in->routine || strcmp(in->routine, head->routine) == 0;
}

static int32_t read_costumes(search *in) {
  for (uint64_t at = 0; at < girdle_club_jobs(in->club); at++) {
    const girdle_job_head *head = girdle_job_head_of(girdle_club_job(in->club, at));
    if (is_wanted(in, head)) GIRDLE_TRY(wardrobe_need(in->with, &in->costumes, head->costume));
  }
  return GIRDLE_OK;
}

static int32_t find_wearers(search *in) {
  for (uint64_t at = 0; at < girdle_club_jobs(in->club); at++) {
    girdle_job *job = girdle_club_job(in->club, at);
    const girdle_job_head *head = girdle_job_head_of(job);
    const costume *of = is_wanted(in, head) ? wardrobe_costume(&in->costumes, head->costume) : NULL;
    const girdle_zone_row *row = of ? alike_row(of, in->zone) : NULL;
    if (row) alike_add(&in->of, job, of, row);
  }
  if (in->of.count) return GIRDLE_OK;
  return girdle_common_fail(
      &in->with->call, GIRDLE_UNKNOWN, "zone",
      "nobody's table of zones has a zone '%.60s' with a recipe; a zone's name is wanted, such as "
      "zone=neckline",
      in->zone);
}

/* ---- in each form */

static const girdle_job_head *head_of(const alike_wearer *one) {
  return girdle_job_head_of(one->job);
}

static void say_headings(const alike_search *in, const program *with, const char *zone, buffer *to) {
  static const char *const headings[] = {"tag", "size", "as written", "gap to write", "count"};
  static const int widths[] = {-16, -6, 10, 14, 6};
  char number[64];
  buffer_say(to, with, "{1}, {2} stones for everyone", zone, number_words(with, (double)in->wanted, 0, number));
  for (int at = 0; at < 5; at++) {
    buffer_text(to, at ? " " : "\n");
    buffer_say_in(to, with, headings[at], widths[at]);
  }
  buffer_text(to, "\n");
}

/* A gap to write into a table is in millimetres, with a point. */
static const char *gap_text(const alike_wearer *of, char text[48]) {
  girdle_number_text((double)of->gap_um / 1000, 3, text, 40);
  return strcat(text, " mm");
}

static void say_wearer(const alike_search *in, const program *with, const alike_wearer *one, buffer *to) {
  char gap[48];
  buffer_padded(to, head_of(one)->tag, -16);
  buffer_text(to, " ");
  buffer_padded(to, head_of(one)->size, -6);
  buffer_text(to, " %10lld %14s %6lld", (long long)one->written, gap_text(one, gap), (long long)one->count);
  if (one->count != in->wanted) buffer_text(to, "  "), buffer_say(to, with, "no gap gives just so many");
  buffer_text(to, "\n");
}

static void say_text(const alike_search *in, const program *with, const char *zone, buffer *to) {
  const alike_wearer *narrow = in->wearers, *wide = in->wearers;
  char gap[2][48];
  say_headings(in, with, zone, to);
  for (uint64_t at = 0; at < in->count; at++) {
    const alike_wearer *one = &in->wearers[at];
    say_wearer(in, with, one, to);
    if (one->gap_um < narrow->gap_um) narrow = one;
    if (one->gap_um > wide->gap_um) wide = one;
  }
  buffer_say(to, with, "The smallest gap is {1} ({2}), the largest {3} ({4}).", gap_text(narrow, gap[0]),
             head_of(narrow)->tag, gap_text(wide, gap[1]), head_of(wide)->tag);
  buffer_text(to, "\n");
  buffer_say(to, with,
             "Write each gap under \"{1} gap\" in club.csv, and \"{1} gap\" for this zone's gap in zones.csv.", zone);
  buffer_text(to, "\n");
}

static void say_csv(const alike_search *in, buffer *to) {
  buffer_text(to, "tag,size,as_written,gap_mm,count\r\n");
  for (uint64_t at = 0; at < in->count; at++) {
    const alike_wearer *one = &in->wearers[at];
    buffer_csv_text(to, head_of(one)->tag, ",");
    buffer_csv_text(to, head_of(one)->size, ",");
    buffer_text(to, "%lld,", (long long)one->written);
    buffer_number(to, (double)one->gap_um / 1000, 3);
    buffer_text(to, ",%lld\r\n", (long long)one->count);
  }
}

static void say_json(const alike_search *in, const char *zone, buffer *to) {
  buffer_text(to, "{\"zone\":\"");
  buffer_json_text(to, zone);
  buffer_text(to, "\",\"stones\":%lld,\"wearers\":[", (long long)in->wanted);
  for (uint64_t at = 0; at < in->count; at++) {
    const alike_wearer *one = &in->wearers[at];
    buffer_text(to, "%s{\"tag\":\"", at ? "," : "");
    buffer_json_text(to, head_of(one)->tag);
    buffer_text(to, "\",\"as_written\":%lld,\"gap_mm\":", (long long)one->written);
    buffer_number(to, (double)one->gap_um / 1000, 3);
    buffer_text(to, ",\"count\":%lld}", (long long)one->count);
  }
  buffer_text(to, "]}\n");
}

static void say_found(const program *with, const search *in, buffer *to) {
  if (with->flags.csv)
    say_csv(&in->of, to);
  else if (with->flags.json)
    say_json(&in->of, in->zone, to);
  else
    say_text(&in->of, with, in->zone, to);
}

/* ---- what tables keep, when no zone is named */

/* The narrowest between stones that follow each other in a row. */
static double gap_of(const girdle_zone *zone) {
  const girdle_placed *records;
  const girdle_stone *stones;
  double gap = INFINITY;
  int64_t count = girdle_placement_view(zone->placement, &records, &stones, NULL);
  for (int64_t at = 1; at < count; at++) {
    const girdle_placed *a = &records[at - 1], *b = &records[at];
    if (a->row == b->row)
      gap = fmin(gap, hypot(b->x_mm - a->x_mm, b->y_mm - a->y_mm) - girdle_stone_circle_mm(&stones[a->stone]) -
                          girdle_stone_circle_mm(&stones[b->stone]));
  }
  return isfinite(gap) ? gap : 0;
}

static const char *const kept_words[GIRDLE_ALIKE_END] = {"gap", "count", "picture"};

static const girdle_zone *zone_of(const girdle_job *job, const girdle_zone *like) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  for (uint64_t at = 0; at < count; at++)
    if (strcmp(zones[at].name, like->name) == 0 && strcmp(zones[at].side, like->side) == 0 && zones[at].placement)
      return &zones[at];
  return NULL;
}

/* "2 ss20 black, 1 ss16 clear": what the picture has and this zone has not. */
static void say_dropped(const girdle_zone *zone, const girdle_zone *picture, buffer *to) {
  const girdle_stone *stones;
  char text[160];
  uint32_t kinds;
  int said = 0;
  girdle_placement_view(picture->placement, NULL, &stones, &kinds);
  for (uint32_t at = 0; at < kinds; at++) {
    int64_t less = girdle_placement_pieces(picture->placement, &stones[at]) -
                   girdle_placement_pieces(zone->placement, &stones[at]);
    if (less <= 0) continue;
    girdle_stone_text(&stones[at], text, sizeof text);
    buffer_text(to, "%s%lld %s", said++ ? ", " : "", (long long)less, text);
  }
}

static void kept_columns(const program *with, const girdle_job_head *head, const girdle_zone *zone, buffer *to) {
  buffer_padded(to, head->tag, -17);
  buffer_padded(to, head->size, -7);
  buffer_padded(to, zone->name, -17);
  buffer_say_in(to, with, zone->side, -7);
  buffer_say_in(to, with, kept_words[zone->alike], -9);
  buffer_text(to, "%6lld", (long long)girdle_placement_view(zone->placement, NULL, NULL, NULL));
}

static void kept_text(const program *with, const girdle_job_head *head, const girdle_zone *zone,
                      const girdle_zone *picture, buffer *to) {
  buffer dropped = {0};
  char text[64];
  kept_columns(with, head, zone, to);
  if (zone->alike == GIRDLE_ALIKE_COUNT) {
    buffer_text(to, "  ");
    buffer_say(to, with, "{1} edge to edge", length_words(with, gap_of(zone), 3, text));
  }
  if (zone->dropped > 0) {
    say_dropped(zone, picture, &dropped);
    buffer_text(to, "  ");
    buffer_say(to, with, "no room for {1}", dropped.count ? dropped.bytes : "");
  }
  if (zone->closed_up > 0)
    buffer_say(to, with, "; {1} closed up", number_words(with, (double)zone->closed_up, 0, text));
  buffer_text(to, "\n");
  buffer_free(&dropped);
}

static void kept_csv(const girdle_job_head *head, const girdle_zone *zone, const girdle_zone *picture, buffer *to) {
  buffer dropped = {0};
  buffer_csv_text(to, head->tag, ",");
  buffer_csv_text(to, head->size, ",");
  buffer_csv_text(to, zone->name, ",");
  buffer_text(to, "%s,%s,%lld,", zone->side, kept_words[zone->alike],
              (long long)girdle_placement_view(zone->placement, NULL, NULL, NULL));
  if (zone->alike == GIRDLE_ALIKE_COUNT) buffer_number(to, gap_of(zone), 3);
  buffer_text(to, ",%lld,", (long long)zone->closed_up);
  say_dropped(zone, picture, &dropped);
  buffer_csv_text(to, dropped.count ? dropped.bytes : "", "\r\n");
  buffer_free(&dropped);
}

static void kept_json(const girdle_job_head *head, const girdle_zone *zone, const girdle_zone *picture, buffer *to) {
  buffer dropped = {0};
  buffer_text(to, "%s{\"tag\":\"", to->count > 1 ? ",\n" : "");
  buffer_json_text(to, head->tag);
  buffer_text(to, "\",\"zone\":\"");
  buffer_json_text(to, zone->name);
  buffer_text(to, "\",\"side\":\"%s\",\"alike\":\"%s\",\"count\":%lld,\"gap_mm\":", zone->side, kept_words[zone->alike],
              (long long)girdle_placement_view(zone->placement, NULL, NULL, NULL));
  if (zone->alike == GIRDLE_ALIKE_COUNT)
    buffer_number(to, gap_of(zone), 3);
  else
    buffer_text(to, "null");
  say_dropped(zone, picture, &dropped);
  buffer_text(to, ",\"closed_up\":%lld,\"dropped\":\"", (long long)zone->closed_up);
  buffer_json_text(to, dropped.count ? dropped.bytes : "");
  buffer_text(to, "\"}");
  buffer_free(&dropped);
}

static void say_kept_zones(const search *in, const girdle_job *job, const girdle_job *sample, buffer *to) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  const flags *as = &in->with->flags;
  for (uint64_t at = 0; at < count; at++) {
    const girdle_zone *picture = zones[at].alike != GIRDLE_ALIKE_GAP ? zone_of(sample, &zones[at]) : NULL;
    if (!picture || !zones[at].placement) continue;
    if (as->csv || as->json)
      (as->csv ? kept_csv : kept_json)(girdle_job_head_of(job), &zones[at], picture, to);
    else
      kept_text(in->with, girdle_job_head_of(job), &zones[at], picture, to);
  }
}

/* The first who looks so is the one whose picture it is. */
static const girdle_job *sample_of(const girdle_club *club, const girdle_job *job) {
  uint64_t at = 0;
  while (!alike_same_look(girdle_club_job(club, at), job))
    at++;
  return girdle_club_job(club, at);
}

/* "collar of frost, waltz: " */
static void say_whose(const program *with, const girdle_zone *zone, const girdle_job *sample, buffer *to) {
  const girdle_job_head *head = girdle_job_head_of(sample);
  char look[160];
  snprintf(look, sizeof look, "%s%s%s", head->costume, head->routine[0] ? ", " : "", head->routine);
  buffer_say(to, with, "{1} of {2}", zone->name, look);
  buffer_text(to, ": ");
}

/* Of each zone that keeps its count, over all who look like its first wearer: who has it narrowest and widest. */
static void say_range(const search *in, uint64_t first, const girdle_zone *zone, buffer *to) {
  char gap[2][64];
  const girdle_job *sample = girdle_club_job(in->club, first), *narrow = sample, *wide = sample;
  for (uint64_t at = first; at < girdle_club_jobs(in->club); at++) {
    const girdle_job *job = girdle_club_job(in->club, at);
    const girdle_zone *own = alike_same_look(job, sample) ? zone_of(job, zone) : NULL;
    if (own && gap_of(own) < gap_of(zone_of(narrow, zone))) narrow = job;
    if (own && gap_of(own) > gap_of(zone_of(wide, zone))) wide = job;
  }
  say_whose(in->with, zone, sample, to);
  buffer_say(to, in->with, "the smallest gap is {1} ({2}), the largest {3} ({4}).",
             length_words(in->with, gap_of(zone_of(narrow, zone)), 3, gap[0]), girdle_job_head_of(narrow)->tag,
             length_words(in->with, gap_of(zone_of(wide, zone)), 3, gap[1]), girdle_job_head_of(wide)->tag);
  buffer_text(to, " ");
  buffer_say(to, in->with, "To hold it when someone joins late, write: count {1}",
             number_words(in->with, (double)girdle_placement_view(zone->placement, NULL, NULL, NULL), 0, gap[0]));
  buffer_text(to, "\n");
}

static void say_ranges(const search *in, buffer *to) {
  for (uint64_t at = 0; at < girdle_club_jobs(in->club); at++) {
    const girdle_job *job = girdle_club_job(in->club, at);
    uint64_t count;
    const girdle_zone *zones = girdle_job_zones(job, &count);
    if (sample_of(in->club, job) != job || !is_wanted(in, girdle_job_head_of(job))) continue;
    for (uint64_t each = 0; each < count; each++) /* of a pair one half says it */
      if (zones[each].alike == GIRDLE_ALIKE_COUNT && zones[each].placement && strcmp(zones[each].side, "right") != 0)
        say_range(in, at, &zones[each], to);
  }
}

static int32_t say_kept(search *in) {
  buffer *to = &in->with->result;
  const flags *as = &in->with->flags;
  if (as->csv) buffer_text(to, "tag,size,zone,side,alike,count,gap_mm,closed_up,dropped\r\n");
  if (as->json) buffer_text(to, "[");
  for (uint64_t at = 0; at < girdle_club_jobs(in->club); at++) {
    const girdle_job *job = girdle_club_job(in->club, at);
    if (is_wanted(in, girdle_job_head_of(job))) say_kept_zones(in, job, sample_of(in->club, job), to);
  }
  if (as->json) buffer_text(to, "]\n");
  if (!as->csv && !as->json) say_ranges(in, to);
  if (!to->count) {
    buffer_say(to, in->with,
               "No zone keeps its count or its picture: write count or picture under `alike` in a zones.csv, or name a "
               "zone=.");
    buffer_text(to, "\n");
  }
  return GIRDLE_OK;
}

/* ---- the verb */

static int32_t read_wishes(program *with, search *in) {
  static const char *const known[] = {"zone", "routine", "count"};
  const char *count = flags_given(with, "count");
  int32_t status = GIRDLE_OK;
  GIRDLE_TRY(flags_only(with, known, 3));
  in->zone = flags_given(with, "zone");
  in->routine = flags_given(with, "routine");
  if (count && !in->zone) return command_usage(with, "count= of which zone? such as zone=neckline");
  if (count) status = girdle_pieces_parse(&with->call, count, &in->of.wanted);
  girdle_common_at(&with->call, "count", -1, -1, -1);
  return status;
}

static int32_t seek(program *with, search *in) {
  GIRDLE_TRY(read_wishes(with, in));
  if (!in->zone) {
    with->flags.given_count = 0; /* routine= was read, and a club takes none */
    GIRDLE_TRY(work_file(with, with->flags.files[0], 0, &in->club));
    if (in->routine) GIRDLE_TRY(routine_is_known(with, in->club, in->routine));
    return say_kept(in);
  }
  GIRDLE_TRY(work_wearers(with, with->flags.files[0], &in->club));
  if (in->routine) GIRDLE_TRY(routine_is_known(with, in->club, in->routine));
  GIRDLE_TRY(read_costumes(in));
  GIRDLE_TRY(find_wearers(in));
  GIRDLE_TRY(alike_count(&in->of));
  GIRDLE_TRY(alike_find(&in->of));
  say_found(with, in, &with->result);
  return GIRDLE_OK;
}

int32_t verb_alike(program *with) {
  search *in = command_new(sizeof *in);
  int32_t status;
  in->with = in->of.with = with;
  if (!with->flags.file_count || !work_is_club(with, with->flags.files[0]))
    status = command_usage(with, "which CLUB? a folder with club.csv is wanted");
  else if (girdle_common_text(in->costumes.path, sizeof in->costumes.path, with->flags.files[0]))
    status = seek(with, in);
  else
    status = command_usage(with, "the path is too long");
  alike_free(&in->of);
  wardrobe_close(&in->costumes);
  girdle_club_free(in->club);
  free(in);
  return status;
}
