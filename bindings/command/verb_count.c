/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

/* ---- one line with no file */

enum { MOST_KINDS = 64 };

typedef struct quick {
  girdle_stone stones[MOST_KINDS];
  uint64_t stone_count;
  double gap_mm, size; /* size: mm of a line or loop, mm2 of an area */
  const char *kind, *size_text;
  girdle_count count;
  int is_square; /* an area without a perimeter is taken as a square, as recipes take it */
} quick;

static int32_t quantity(program *with, const char *name, int32_t kind, const char *fallback, double *out) {
  const char *text = flags_given(with, name);
  int32_t status = girdle_quantity_parse(&with->call, text ? text : fallback, kind, out);
  if (status) girdle_common_at(&with->call, name, -1, -1, -1);
  return status;
}

/* "ss20 black; ss20 clear": stones in turn. */
static int32_t read_stones(program *with, quick *to) {
  const char *text = flags_given(with, "stones");
  const char *name = text ? "stones" : "stone";
  char *copy, *at, *end;
  int32_t status = GIRDLE_OK;
  if (!text) text = flags_given(with, "stone");
  if (!text) return command_usage(with, "which stone? such as stone=ss20, or stones=\"ss20 black; ss20 clear\"");
  copy = command_copy(text);
  for (at = copy; at && !status; at = end) {
    end = strchr(at, ';');
    if (end) *end++ = '\0';
    while (*at == ' ')
      at++;
    if (to->stone_count == MOST_KINDS)
      status = girdle_common_fail(&with->call, GIRDLE_LIMIT, name, "more than %d stones in turn", MOST_KINDS);
    else
      status = girdle_stone_parse(&with->call, at, &to->stones[to->stone_count++]);
  }
  free(copy);
  if (status) girdle_common_at(&with->call, name, -1, -1, -1);
  return status;
}

/* "area 25 cm2", as recipes take it, is the same as "25 cm2". */
static int32_t read_area(program *with, quick *to) {
  static const char word[] = "area ";
  int32_t status;
  if (strncmp(to->size_text, word, sizeof word - 1) == 0) to->size_text += sizeof word - 1;
  status = girdle_quantity_parse(&with->call, to->size_text, GIRDLE_AREA, &to->size);
  if (status) girdle_common_at(&with->call, "area", -1, -1, -1);
  return status;
}

static int32_t over_area(program *with, quick *to) {
  static const char *const settings[] = {"honeycomb", "square"};
  const char *setting = flags_given(with, "setting"), *holes_text = flags_given(with, "holes");
  double perimeter, holes = 0;
  if (to->stone_count > 1) return command_usage(with, "an area is covered with one stone: write stone=, not stones=");
  GIRDLE_TRY(read_area(with, to));
  perimeter = 4 * sqrt(to->size);
  to->is_square = !flags_given(with, "perimeter");
  if (!to->is_square) GIRDLE_TRY(quantity(with, "perimeter", GIRDLE_LENGTH, "", &perimeter));
  if (holes_text && girdle_number_parse(NULL, holes_text, strlen(holes_text), &holes))
    return girdle_common_fail(&with->call, GIRDLE_SYNTAX, "holes", "holes '%.60s' is no number, such as holes=2",
                              holes_text);
  GIRDLE_TRY(girdle_common_range(&with->call, "holes", holes, 0, 1000000, ""));
  if (setting && strcmp(setting, "honeycomb") != 0 && strcmp(setting, "square") != 0)
    return girdle_common_unknown(&with->call, "setting", setting, settings, 2);
  return girdle_count_over(&with->call, to->size, perimeter, (int64_t)holes, to->stones, to->gap_mm,
                           setting && setting[0] == 's' ? GIRDLE_SQUARE_ROWS : GIRDLE_HONEYCOMB, &to->count);
}

static int32_t along(program *with, quick *to) {
  int closed = to->kind[1] == 'o';
  int32_t status;
  GIRDLE_TRY(quantity(with, to->kind, GIRDLE_LENGTH, "", &to->size));
  status = girdle_count_along(&with->call, to->size, closed, to->stones, to->stone_count, to->gap_mm, &to->count);
  if (status) girdle_common_at(&with->call, to->kind, -1, -1, -1);
  return status;
}

static int32_t quick_count(program *with, quick *to) {
  static const char *const line_known[] = {"line", "stone", "stones", "gap"};
  static const char *const loop_known[] = {"loop", "stone", "stones", "gap"};
  static const char *const area_known[] = {"area", "perimeter", "holes", "stone", "gap", "setting"};
  static const char *const all_known[] = {"line",  "loop",   "area", "perimeter", "holes",
                                          "stone", "stones", "gap",  "setting"};
  GIRDLE_TRY(flags_only(with, all_known, 9));
  if (flags_given(with, "stone") && flags_given(with, "stones"))
    return command_usage(with, "stone= and stones= are both given: give one of them");
  if (!!flags_given(with, "line") + !!flags_given(with, "loop") + !!flags_given(with, "area") > 1)
    return command_usage(with, "give one of line=, loop= and area=");
  for (size_t at = 0; at < 3 && !to->kind; at++)
    if (flags_given(with, all_known[at])) to->kind = all_known[at];
  if (!to->kind)
    return command_usage(with, "a FILE, or one of line=, loop= or area= is wanted, such as line=\"32 cm\" stone=ss20");
  to->size_text = flags_given(with, to->kind);
  GIRDLE_TRY(to->kind[1] == 'i'   ? flags_only(with, line_known, 4)
             : to->kind[1] == 'o' ? flags_only(with, loop_known, 4)
                                  : flags_only(with, area_known, 6));
  GIRDLE_TRY(read_stones(with, to));
  GIRDLE_TRY(quantity(with, "gap", GIRDLE_LENGTH, "0.5 mm", &to->gap_mm));
  return to->kind[0] == 'a' ? over_area(with, to) : along(with, to);
}

/* How many of the kinds of one text there are when they stand in turn. */
static int64_t share_of(const quick *of, uint64_t kind) {
  int64_t whole = of->count.expected / (int64_t)of->stone_count, rest = of->count.expected % (int64_t)of->stone_count;
  return whole + ((int64_t)kind < rest);
}

/* "30 of ss20 black, 29 of ss20 clear" */
static void say_shares(const program *with, const quick *of, buffer *to) {
  char stone[160], number[64];
  for (uint64_t at = 0; at < of->stone_count; at++) {
    girdle_stone_text(&of->stones[at], stone, sizeof stone);
    if (at) buffer_text(to, ", ");
    buffer_say(to, with, "{1} of {2}", number_words(with, (double)share_of(of, at), 0, number), stone);
  }
}

/* "59 stones of ss20 clear", "200 stones (1 gross and 56) of ss20 clear", "59 stones (30 of ss20 black, 29 of ss20
 * clear)" */
static void say_stones(const program *with, const quick *of, buffer *to) {
  const int several = of->stone_count > 1, is_gross = of->count.expected >= 144;
  char stone[160], number[64], gross[64];
  buffer shares = {0};
  number_words(with, (double)of->count.expected, 0, number);
  pieces_words(with, of->count.expected, gross);
  girdle_stone_text(&of->stones[0], stone, sizeof stone);
  say_shares(with, of, &shares);
  if (is_gross && several)
    buffer_say(to, with, "{1} stones ({2}) ({3})", number, gross, shares.bytes);
  else if (is_gross)
    buffer_say(to, with, "{1} stones ({2}) of {3}", number, gross, stone);
  else if (several)
    buffer_say(to, with, "{1} stones ({2})", number, shares.bytes);
  else
    buffer_say(to, with, of->count.expected == 1 ? "{1} stone of {2}" : "{1} stones of {2}", number, stone);
  buffer_free(&shares);
}

static void say_area(const program *with, const quick *of, const char *stones, buffer *to) {
  char gap[64], number[64];
  buffer_say(to, with, "about {1} over {2}, {3} edge to edge; never more than {4}", stones, of->size_text,
             length_words(with, of->gap_mm, 3, gap), number_words(with, (double)of->count.most, 0, number));
  if (of->count.least > 0)
    buffer_say(to, with, ", {1} certainly fit", number_words(with, (double)of->count.least, 0, number));
  if (of->is_square) buffer_text(to, " ");
  if (of->is_square) buffer_say(to, with, "(as a square; perimeter= tells the true edge)");
}

static void quick_text(const program *with, const quick *of, buffer *to) {
  char gap[64];
  buffer stones = {0};
  say_stones(with, of, &stones);
  if (of->kind[0] == 'a')
    say_area(with, of, stones.bytes, to);
  else
    buffer_say(
        to, with,
        of->kind[1] == 'o' ? "{1} round a loop of {2}, {3} edge to edge" : "{1} along a line of {2}, {3} edge to edge",
        stones.bytes, of->size_text, length_words(with, of->count.gap_mm, 3, gap));
  buffer_text(to, "\n");
  buffer_free(&stones);
}

static void quick_json(const quick *of, buffer *to) {
  char stone[160];
  buffer_text(to, "{\"%s_%s\":", of->kind, of->kind[0] == 'a' ? "mm2" : "mm");
  buffer_number(to, of->size, 6);
  buffer_text(to, ",\"stones\":%lld", (long long)of->count.expected);
  if (of->kind[0] == 'a')
    buffer_text(to, ",\"least\":%lld,\"most\":%lld", (long long)of->count.least, (long long)of->count.most);
  buffer_text(to, ",\"gap_mm\":");
  buffer_number(to, of->kind[0] == 'a' ? of->gap_mm : of->count.gap_mm, 6);
  buffer_text(to, ",\"counts\":[");
  for (uint64_t at = 0; at < of->stone_count; at++) {
    girdle_stone_text(&of->stones[at], stone, sizeof stone);
    buffer_text(to, "%s{\"stone\":\"", at ? "," : "");
    buffer_json_text(to, stone);
    buffer_text(to, "\",\"count\":%lld}", (long long)share_of(of, at));
  }
  buffer_text(to, "]}\n");
}

static int32_t quick_tally(program *with, const quick *of, girdle_tally **out) {
  int32_t status = girdle_tally_new(&with->call, out);
  for (uint64_t at = 0; at < of->stone_count && !status; at++)
    status = girdle_tally_add_pieces(&with->call, *out, "", of->kind, "", &of->stones[at], share_of(of, at));
  return status;
}

static int32_t counts_csv(program *with, const girdle_tally *tally, buffer *to) {
  girdle_sink sink = paper_sink(with, to);
  return girdle_paper_counts_csv(&with->call, tally, &sink);
}

static int32_t counts_file(program *with, const girdle_tally *tally) {
  buffer *file = with->flags.out ? output_add(with, "counts.csv") : NULL;
  if (!with->flags.out) return GIRDLE_OK;
  return file ? counts_csv(with, tally, file) : GIRDLE_ARGUMENT;
}

static int32_t no_file(program *with) {
  quick all;
  girdle_tally *tally = NULL;
  int32_t status;
  memset(&all, 0, sizeof all);
  GIRDLE_TRY(quick_count(with, &all));
  status = quick_tally(with, &all, &tally);
  if (!status && with->flags.csv) status = counts_csv(with, tally, &with->result);
  if (!status && with->flags.json) quick_json(&all, &with->result);
  if (!status && !with->flags.csv && !with->flags.json) quick_text(with, &all, &with->result);
  if (!status) status = counts_file(with, tally);
  girdle_tally_free(tally);
  return status;
}

/* ---- a file */

static void say_zone(const program *with, const girdle_zone *zone, buffer *to) {
  buffer_text(to, "%s%s", zone->name, zone->side[0] ? ", " : "");
  buffer_say(to, with, zone->side);
  buffer_text(to, ": ");
}

/* Where zones met, what the later one lost. */
static void say_left_out(const program *with, const girdle_zone *zone, buffer *to) {
  char number[64];
  if (!zone->left_out) return;
  say_zone(with, zone, to);
  buffer_say(to, with, "{1} left out where a zone of an earlier priority has its stones",
             number_words(with, (double)zone->left_out, 0, number));
  buffer_text(to, "\n");
}

/* Where a picture was too large for this size, what it lost. */
static void say_dropped(const program *with, const girdle_zone *zone, buffer *to) {
  char dropped[64], closed[64];
  if (zone->dropped <= 0) return;
  say_zone(with, zone, to);
  buffer_say(to, with, "{1} of the picture's stones find no room in this size; {2} close up",
             number_words(with, (double)zone->dropped, 0, dropped),
             number_words(with, (double)zone->closed_up, 0, closed));
  buffer_text(to, "\n");
}

static void say_notes(const program *with, const girdle_job *job, buffer *to) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  for (uint64_t at = 0; at < count; at++)
    say_left_out(with, &zones[at], to);
  for (uint64_t at = 0; at < count; at++)
    say_dropped(with, &zones[at], to);
}

static int32_t say_job(program *with, const girdle_job *job, girdle_tally *all) {
  girdle_sink sink = paper_sink(with, &with->result);
  girdle_tally *tally = NULL;
  int32_t status = girdle_job_tally(&with->call, job, &tally);
  if (!status) status = girdle_tally_add_all(&with->call, all, tally);
  if (!status && with->flags.json) status = girdle_paper_counts_json(&with->call, job, tally, &sink);
  if (!status && !with->flags.json && !with->flags.csv)
    status = girdle_paper_counts_text(&with->call, job, tally, &sink);
  if (!status && !with->flags.json && !with->flags.csv) say_notes(with, job, &with->result);
  girdle_tally_free(tally);
  return status;
}

static int32_t say_jobs(program *with, const girdle_club *club, girdle_tally *all) {
  uint64_t from, to;
  GIRDLE_TRY(work_chosen(with, club, &from, &to));
  for (uint64_t at = from; at < to; at++) {
    if (at > from && !with->flags.csv && !with->flags.json) buffer_text(&with->result, "\n");
    GIRDLE_TRY(say_job(with, girdle_club_job(club, at), all));
  }
  return GIRDLE_OK;
}

int32_t verb_count(program *with) {
  girdle_club *club = NULL;
  girdle_tally *all = NULL;
  int32_t status;
  if (!with->flags.file_count) return no_file(with);
  status = work_file(with, with->flags.files[0], WORK_CHOSEN, &club);
  if (!status) status = girdle_tally_new(&with->call, &all);
  if (!status) status = say_jobs(with, club, all);
  if (!status && with->flags.csv) status = counts_csv(with, all, &with->result);
  if (!status) status = counts_file(with, all);
  girdle_tally_free(all);
  girdle_club_free(club);
  return status;
}
