/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "asking.h"
#include "common.h"
#include "rings.h"

/* ask: asks about a dress in plain words, writes its folder (zones.csv, and fabric.csv where the fabric stretches) and
 * counts it. */

enum { MOST_RINGS = 8, MOST_EDGES = 7 };

/* A ring of stones that something must pass through. */
typedef struct passage {
  const char *zone, *what;
  girdle_opening opening;
} passage;

typedef struct dress {
  asking in;
  char fullness[16], first[112], second[112], gap[48], area_gap[48];
  int stretches;
  double lies, worn, most; /* shares stretched from flat */
  buffer zones, fabric;
  uint64_t zone_count, ring_count;
  passage rings[MOST_RINGS];
  char question[400], explained[400];
} dress;

static int is_full(const dress *of) {
  return of->fullness[0] == 'f';
}

static const char *by_fullness(const dress *of, const char *light, const char *medium, const char *full) {
  return of->fullness[0] == 'l' ? light : of->fullness[0] == 'm' ? medium : full;
}

static void keep(const asking *in, char *field, uint64_t bytes) {
  girdle_common_text(field, bytes, in->answer);
}

/* ---- the fabric */

/* The share by which an answered length of ten centimetres is stretched. */
static double share_of_ten(const asking *in) {
  double mm = 100;
  girdle_quantity_parse(NULL, in->answer, GIRDLE_LENGTH, &mm);
  return mm / 100 - 1;
}

static void fabric_row(dress *of, const char *name, double share) {
  buffer_text(&of->fabric, "%s,", name);
  buffer_number(&of->fabric, share * 100, 2);
  buffer_text(&of->fabric, " %%\n");
}

static int32_t ask_fabric(dress *of) {
  asking *in = &of->in;
  char lies[48];
  GIRDLE_TRY(ask(in, "Does the fabric stretch? Mark 10 cm of it and pull: how long do they become?",
                 "such as 15 cm; nothing when it does not stretch", "", check_ten_cm));
  if (!in->answer[0]) return GIRDLE_OK;
  of->stretches = 1;
  of->most = fmax(share_of_ten(in), 0);
  GIRDLE_TRY(ask(in, "How long are those 10 cm while you glue?",
                 "10 cm when the dress lies flat, more on a board inside it, such as 11 cm", "10 cm", check_ten_cm));
  of->lies = share_of_ten(in);
  keep(in, lies, sizeof lies);
  GIRDLE_TRY(
      ask(in, "And when the dress is worn?", "such as 12 cm: so much wider are the gaps then", lies, check_ten_cm));
  of->worn = share_of_ten(in);
  buffer_text(&of->fabric, "fabric,value\n");
  fabric_row(of, "lies across", of->lies);
  fabric_row(of, "worn across", of->worn);
  fabric_row(of, "stretches", of->most);
  return GIRDLE_OK;
}

/* ---- the stones and how close they stand */

static int32_t ask_stones(dress *of) {
  static const char *const known[] = {"light", "medium", "full"};
  asking *in = &of->in;
  GIRDLE_TRY(ask_choice(in, "How richly is it to be stoned?",
                        "light: one row along the edges, stones well apart, areas only sprinkled; "
                        "medium: one close row, areas scattered; full: two rows, areas covered",
                        "medium", known, 3));
  keep(in, of->fullness, sizeof of->fullness);
  GIRDLE_TRY(ask(in, "Which stone?", "a size and a colour, such as ss20 black", "ss20 clear", check_stone));
  keep(in, of->first, sizeof of->first);
  GIRDLE_TRY(ask(in, "And a second stone, in turn with the first?", "such as ss16 clear; nothing for one kind", "",
                 check_stone));
  keep(in, of->second, sizeof of->second);
  GIRDLE_TRY(ask(in, "How far apart along an edge, from the rim of one stone to the rim of the next?",
                 of->stretches ? "such as 2 mm as you glue it, or 2 mm worn as it is then seen" : "such as 2 mm",
                 by_fullness(of, "8 mm", "2 mm", "0.5 mm"), check_gap));
  keep(in, of->gap, sizeof of->gap);
  return GIRDLE_OK;
}

/* ---- rows of zones.csv */

typedef struct zone {
  const char *name, *side, *pair, *priority, *shape, *length, *width, *recipe, *stones, *gap, *leave;
} zone;

static void add_zone(dress *of, const zone *row) {
  const char *const cells[] = {row->name,  row->side,   row->pair,  "1",         row->priority,
                               row->shape, row->length, row->width, row->recipe, row->stones,
                               row->gap,   "",          row->leave};
  enum { CELLS = sizeof cells / sizeof cells[0] };
  for (int at = 0; at < CELLS; at++)
    buffer_csv_text(&of->zones, cells[at], at + 1 < CELLS ? "," : "\n");
  of->zone_count++;
}

/* ---- edges */

typedef struct edge {
  const char *name, *place;    /* "the wrist, over the sleeve" */
  const char *side;            /* where it is when nothing else is said; NULL: left and right, a pair */
  const char *around, *part;   /* an example of once round, and of a part */
  const char *through, *girth; /* what passes through its ring, with an example; NULL: nothing does */
} edge;

static const edge edges[MOST_EDGES] = {
    {"neckline", "the neckline", "front", "52 cm", "38 cm", "the head", "57 cm"},
    {"armhole", "one armhole", NULL, "40 cm", NULL, NULL, NULL},
    {"waist", "the waist", "both", "62 cm", "34 cm", "the hips", "94 cm"},
    {"wrist", "one wrist, over the sleeve", NULL, "15 cm", NULL, "the hand, thumb laid in", "20 cm"},
    {"leg opening", "one leg opening", NULL, "46 cm", NULL, "the heel and instep", "32 cm"},
    {"strap", "one strap", NULL, NULL, "34 cm", NULL, NULL},
    {"hem", "the hem of the skirt", "both", "140 cm", "70 cm", NULL, NULL},
};

/* A phrase with one thing filled in, which may be a phrase itself. */
static const char *filled(const dress *of, const char *english, const char *what, char *text, uint64_t bytes) {
  buffer inner = {0}, whole = {0};
  buffer_say(&inner, of->in.with, what);
  buffer_say(&whole, of->in.with, english, inner.bytes);
  girdle_common_text(text, bytes, whole.bytes);
  buffer_free(&inner);
  buffer_free(&whole);
  return text;
}

static const char *about(dress *of, const char *english, const char *place) {
  return filled(of, english, place, of->question, sizeof of->question);
}

static const char *such_as(dress *of, const char *english, const char *example) {
  return filled(of, english, example, of->explained, sizeof of->explained);
}

static int32_t ask_side(dress *of, const char *place, const char *explained, const char *fallback, char *side,
                        uint64_t bytes) {
  static const char *const known[] = {"front", "back", "both"};
  GIRDLE_TRY(ask_choice(&of->in, about(of, "Where is {1} stoned?", place), explained, fallback, known, 3));
  keep(&of->in, side, bytes);
  return GIRDLE_OK;
}

/* Where a fabric that stretches must let the body through a ring of stones; looked at when all is asked. */
static int32_t ask_passage(dress *of, const edge *at, const char *length) {
  passage *ring = &of->rings[of->ring_count];
  if (!of->stretches || !at->through) return GIRDLE_OK;
  GIRDLE_TRY(ask(&of->in, about(of, "How far is it round {1}, which must pass through there?", at->through),
                 such_as(of, "such as {1}; nothing where the ring opens", at->girth), "", check_length));
  if (!of->in.answer[0]) return GIRDLE_OK;
  girdle_opening_init(&ring->opening, sizeof ring->opening);
  girdle_quantity_parse(NULL, of->in.answer, GIRDLE_LENGTH, &ring->opening.through_mm);
  girdle_quantity_parse(NULL, length, GIRDLE_LENGTH, &ring->opening.ring_mm);
  ring->zone = at->name;
  ring->what = at->through;
  buffer_csv_text(&of->fabric, ring_passes(at->name), ",");
  buffer_csv_text(&of->fabric, of->in.answer, "\n");
  of->ring_count++;
  return GIRDLE_OK;
}

/* A zip or a seam, where the edge lies on one side or round the body. */
static int32_t ask_leave(dress *of, const edge *at, char *leave, uint64_t bytes) {
  leave[0] = '\0';
  if (!at->side) return GIRDLE_OK;
  GIRDLE_TRY(ask(&of->in, "Does a stretch of it stay plain, such as a zip?",
                 "from where the tape begins, such as 18 cm to 22 cm; nothing when none does", "", check_stretches));
  keep(&of->in, leave, bytes);
  return GIRDLE_OK;
}

static int32_t ask_edge(dress *of, const edge *at) {
  static const char hint[] =
      "the tape where the stones go, as the dress lies while you glue: such as {1}; nothing leaves it plain";
  char side[16] = "", length[48], leave[sizeof of->in.answer], stones[256];
  int ring;
  if (at->side) GIRDLE_TRY(ask_side(of, at->place, "front, back or both", at->side, side, sizeof side));
  ring = at->around && (!at->side || strcmp(side, "both") == 0);
  GIRDLE_TRY(ask(&of->in, about(of, ring ? "How far is it round {1}?" : "How long is {1}?", at->place),
                 such_as(of, hint, ring ? at->around : at->part), "", check_length));
  if (!of->in.answer[0]) return GIRDLE_OK;
  keep(&of->in, length, sizeof length);
  GIRDLE_TRY(ask_leave(of, at, leave, sizeof leave));
  snprintf(stones, sizeof stones, "%s; %s", of->first, of->second[0] ? of->second : of->first);
  add_zone(of, &(zone){at->name, side, at->side ? "" : "yes", "1", ring ? "loop" : "line", length, "",
                       is_full(of) ? "double row" : "alternating line", stones, of->gap, leave});
  return ring ? ask_passage(of, at, length) : GIRDLE_OK;
}

static int32_t ask_edges(dress *of) {
  const char *names[MOST_EDGES];
  char chosen[sizeof of->in.answer];
  for (int at = 0; at < MOST_EDGES; at++)
    names[at] = edges[at].name;
  GIRDLE_TRY(ask_list(&of->in, "Which edges get stones?",
                      "one or more of neckline, armhole, waist, wrist, leg opening, strap and hem, "
                      "such as neckline, wrist; nothing when none does",
                      names, MOST_EDGES));
  keep(&of->in, chosen, sizeof chosen);
  for (int at = 0; at < MOST_EDGES; at++)
    if (list_has(chosen, edges[at].name)) GIRDLE_TRY(ask_edge(of, &edges[at]));
  return GIRDLE_OK;
}

/* ---- areas */

typedef struct area {
  const char *name, *place, *side, *pair; /* side NULL: asked for */
} area;

static const area areas[] = {
    {"front", "the area on the front", "front", ""},
    {"back", "the area on the back", "back", ""},
    {"sleeve", "the area on one sleeve", "", "yes"},
    {"skirt", "the area on the skirt", NULL, ""},
};
enum { AREAS = sizeof areas / sizeof areas[0] };

static int32_t ask_area(dress *of, const area *at) {
  static const char *const shapes[] = {"oval", "rectangle", "triangle"};
  char side[16], shape[16], width[48], stones[400];
  const char *second;
  girdle_common_text(side, sizeof side, at->side ? at->side : "");
  if (!at->side)
    GIRDLE_TRY(ask_side(of, at->place, "front, back or both; both is one area round the body, half of it on each side",
                        "front", side, sizeof side));
  GIRDLE_TRY(ask_choice(&of->in, about(of, "What shape has {1}?", at->place), "oval, rectangle or triangle", "oval",
                        shapes, 3));
  keep(&of->in, shape, sizeof shape);
  GIRDLE_TRY(ask(&of->in, "How wide is it?", "such as 16 cm; nothing leaves it plain", "", check_length));
  if (!of->in.answer[0]) return GIRDLE_OK;
  keep(&of->in, width, sizeof width);
  GIRDLE_TRY(ask(&of->in, "And how deep, from top to bottom?", "such as 12 cm", width, check_length));
  second = of->second[0] ? of->second : of->first;
  snprintf(stones, sizeof stones, is_full(of) ? "%s; %s; %s" : "%s", of->first, second, second);
  add_zone(of, &(zone){at->name, side, at->pair, "", shape, width, of->in.answer,
                       is_full(of) ? "closed cover" : "even scatter", stones, of->area_gap, ""});
  return GIRDLE_OK;
}

static int32_t ask_areas(dress *of) {
  const char *names[AREAS];
  char chosen[sizeof of->in.answer];
  for (int at = 0; at < AREAS; at++)
    names[at] = areas[at].name;
  GIRDLE_TRY(ask_list(&of->in, "Which areas get stones?",
                      "one or more of front, back, sleeve and skirt, such as front; nothing when none does", names,
                      AREAS));
  keep(&of->in, chosen, sizeof chosen);
  if (!chosen[0]) return GIRDLE_OK;
  GIRDLE_TRY(ask(&of->in, "How far apart do stones stand in an area?",
                 by_fullness(of, "sprinkled: such as 25 mm", "scattered: such as 12 mm", "closed: such as 0.3 mm"),
                 by_fullness(of, "25 mm", "12 mm", "0.3 mm"), check_gap));
  keep(&of->in, of->area_gap, sizeof of->area_gap);
  for (int at = 0; at < AREAS; at++)
    if (list_has(chosen, areas[at].name)) GIRDLE_TRY(ask_area(of, &areas[at]));
  return GIRDLE_OK;
}

/* ---- stones set by eye */

static int32_t ask_by_eye(dress *of) {
  GIRDLE_TRY(ask(&of->in, "Are there stones you set by eye, that are only to be counted?",
                 "such as 40 ss16 clear; 1 gross ss20 black. Nothing when there are none", "", check_by_eye));
  if (!of->in.answer[0]) return GIRDLE_OK;
  buffer_text(&of->zones, "by eye,,,1,,,,,,,,");
  buffer_csv_text(&of->zones, of->in.answer, ",\n");
  of->zone_count++;
  return GIRDLE_OK;
}

/* ---- all of it */

static int32_t ask_all(dress *of) {
  buffer_text(&of->zones, "zone,side,pair,times,priority,shape,length,width,recipe,stones,gap,already,leave\n");
  GIRDLE_TRY(ask_fabric(of));
  GIRDLE_TRY(ask_stones(of));
  GIRDLE_TRY(ask_edges(of));
  GIRDLE_TRY(ask_areas(of));
  GIRDLE_TRY(ask_by_eye(of));
  if (of->zone_count) return GIRDLE_OK;
  return girdle_common_fail(&of->in.with->call, GIRDLE_ARGUMENT, "answers",
                            "nothing gets stones, so nothing is written");
}

/* ---- what comes of it */

static const girdle_zone *zone_of(const girdle_job *job, const char *name) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  for (uint64_t at = 0; at < count; at++)
    if (strcmp(zones[at].name, name) == 0) return &zones[at];
  return NULL;
}

/* With the stones that were counted, so that both say one number. */
static int32_t say_passage(dress *of, const passage *at, const girdle_zone *counted) {
  program *with = of->in.with;
  girdle_opening ring;
  buffer what = {0}, stones = {0};
  int32_t status;
  if (!ring_of(counted, 0, &ring)) return GIRDLE_OK;
  ring.lies = of->lies;
  ring.stretch_most = of->most;
  ring.through_mm = at->opening.through_mm;
  buffer_text(&with->result, "\n");
  buffer_say(&what, with, at->what);
  buffer_say(&with->result, with, "{1}, which {2} must pass:", at->zone, what.bytes);
  buffer_text(&with->result, " ");
  ring_text(counted, &stones);
  status = opening_say(with, &ring, stones.bytes);
  buffer_free(&what);
  buffer_free(&stones);
  return status;
}

static int32_t say_passages(dress *of, const girdle_job *job) {
  for (uint64_t at = 0; at < of->ring_count; at++)
    GIRDLE_TRY(say_passage(of, &of->rings[at], zone_of(job, of->rings[at].zone)));
  return GIRDLE_OK;
}

/* Counted from the very tables that are written. */
static int32_t count_tables(dress *of) {
  program *with = of->in.with;
  girdle_fabric fabric = {NAN, of->lies, 0, of->worn, NAN};
  girdle_zone_rows *rows = NULL;
  girdle_job *job = NULL;
  girdle_tally *tally = NULL;
  girdle_sink sink = paper_sink(with, &with->result);
  char name[64];
  int32_t status = girdle_paper_read_zones(&with->call, "zones.csv", of->zones.bytes, of->zones.count, &rows);
  file_base_name(with->flags.out, name, sizeof name);
  if (!status) status = work_zone_rows(with, name, rows, of->stretches ? &fabric : NULL, &job);
  if (!status) status = girdle_job_tally(&with->call, job, &tally);
  if (!status) status = girdle_paper_counts_text(&with->call, job, tally, &sink);
  if (!status) status = say_passages(of, job);
  girdle_tally_free(tally);
  girdle_job_free(job);
  girdle_zone_rows_free(rows);
  return status;
}

static int32_t write_file(program *with, const char *name, const buffer *table) {
  buffer *file = output_add(with, name);
  if (!file) return GIRDLE_ARGUMENT;
  buffer_add(file, table->bytes, table->count);
  return GIRDLE_OK;
}

static void say_next(program *with) {
  static const char *const next[][2] = {
      {"girdle count {1}", "counts it again"},
      {"girdle plan {1} pieces=\"5 gross\"", "fits it to a number, to money or to what you have"},
      {"girdle sheet {1} --out FOLDER", "gives a sheet to work from"}};
  buffer *to = &with->result;
  buffer_text(to, "\n");
  buffer_say(to, with, "{1}/zones.csv holds the costume: change it in any spreadsheet. Then", with->flags.out);
  for (size_t at = 0; at < sizeof next / sizeof next[0]; at++) {
    buffer command = {0};
    buffer_say(&command, with, next[at][0], with->flags.out);
    buffer_text(to, "\n  ");
    buffer_padded(to, command.bytes, -40);
    buffer_text(to, "  ");
    buffer_say(to, with, next[at][1]);
    buffer_free(&command);
  }
  buffer_text(to, "\n");
}

static int32_t write_folder(dress *of) {
  program *with = of->in.with;
  GIRDLE_TRY(write_file(with, "zones.csv", &of->zones));
  if (of->stretches) GIRDLE_TRY(write_file(with, "fabric.csv", &of->fabric));
  say_next(with);
  return GIRDLE_OK;
}

static int32_t refuse_existing(program *with) {
  static const char *const names[] = {"zones.csv", "fabric.csv", "costume.lua"};
  char path[COMMAND_PATH];
  for (int at = 0; at < 3; at++) {
    GIRDLE_TRY(file_join(with, with->flags.out, names[at], path, sizeof path));
    if (file_exists(path))
      return girdle_common_fail(&with->call, GIRDLE_ARGUMENT, "out",
                                "%.160s is there already and is not written over; choose another folder", path);
  }
  return GIRDLE_OK;
}

int32_t verb_ask(program *with) {
  dress *of;
  int32_t status;
  if (!with->flags.out) return command_usage(with, "say where the costume is to go, such as --out frost");
  if (with->flags.given_count) return command_usage(with, "ask takes no name=value");
  GIRDLE_TRY(refuse_existing(with));
  of = command_new(sizeof *of);
  status = asking_begin(&of->in, with);
  if (!status) status = ask_all(of);
  if (!status) status = count_tables(of);
  if (!status) status = write_folder(of);
  asking_end(&of->in);
  buffer_free(&of->zones);
  buffer_free(&of->fabric);
  free(of);
  return status;
}
