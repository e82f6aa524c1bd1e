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

static void quick_text(const quick *of, buffer *to) {
  char stone[160], gross[64];
  int area = of->kind[0] == 'a';
  girdle_pieces_text(of->count.expected, gross, sizeof gross);
  buffer_text(to, "%s%lld stones ", area ? "about " : "", (long long)of->count.expected);
  if (of->count.expected >= 144) buffer_text(to, "(%s) ", gross);
  for (uint64_t at = 0; at < of->stone_count; at++) {
    girdle_stone_text(&of->stones[at], stone, sizeof stone);
    if (of->stone_count == 1)
      buffer_text(to, "of %s ", stone);
    else
      buffer_text(to, "%s%lld of %s", at ? ", " : "(", (long long)share_of(of, at), stone);
  }
  if (of->stone_count > 1) buffer_text(to, ") ");
  buffer_text(to,
              area                 ? "over %s%s"
              : of->kind[1] == 'o' ? "round a loop of %s%s"
                                   : "along a line of %s%s",
              of->size_text, area ? ", " : ", ");
  buffer_number(to, area ? of->gap_mm : of->count.gap_mm, 3);
  buffer_text(to, " mm edge to edge");
  if (area) buffer_text(to, "; never more than %lld", (long long)of->count.most);
  if (area && of->count.least > 0) buffer_text(to, ", %lld certainly fit", (long long)of->count.least);
  if (of->is_square) buffer_text(to, " (as a square; perimeter= tells the true edge)");
  buffer_text(to, "\n");
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
  if (!status && !with->flags.csv && !with->flags.json) quick_text(&all, &with->result);
  if (!status) status = counts_file(with, tally);
  girdle_tally_free(tally);
  return status;
}

/* ---- a file */

/* Where zones met, what the later one lost. */
static void say_left_out(const girdle_job *job, buffer *to) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  for (uint64_t at = 0; at < count; at++)
    if (zones[at].left_out)
      buffer_text(to, "%s%s%s: %lld left out where a zone of an earlier priority has its stones\n", zones[at].name,
                  zones[at].side[0] ? ", " : "", zones[at].side, (long long)zones[at].left_out);
}

/* Where a picture was too large for this size, what it lost. */
static void say_dropped(const girdle_job *job, buffer *to) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  for (uint64_t at = 0; at < count; at++)
    if (zones[at].dropped > 0)
      buffer_text(to, "%s%s%s: %lld stones of the picture find no room in this size; %lld close up\n", zones[at].name,
                  zones[at].side[0] ? ", " : "", zones[at].side, (long long)zones[at].dropped,
                  (long long)zones[at].closed_up);
}

static int32_t say_job(program *with, const girdle_job *job, girdle_tally *all) {
  girdle_sink sink = paper_sink(with, &with->result);
  girdle_tally *tally = NULL;
  int32_t status = girdle_job_tally(&with->call, job, &tally);
  if (!status) status = girdle_tally_add_all(&with->call, all, tally);
  if (!status && with->flags.json) status = girdle_paper_counts_json(&with->call, job, tally, &sink);
  if (!status && !with->flags.json && !with->flags.csv)
    status = girdle_paper_counts_text(&with->call, job, tally, &sink);
  if (!status && !with->flags.json && !with->flags.csv) {
    say_left_out(job, &with->result);
    say_dropped(job, &with->result);
  }
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
