/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "planned.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

enum { MOST_ROUNDS = 60, COPIED_BYTES = 1 << 20 };

/* A row of the table under search, in micrometres: `holds` is the widest gap known to hold the stones, `fails` the
 * narrowest known not to; -1: none yet. */
struct planned_row {
  girdle_zone_row row;
  planned_zone *zone; /* NULL: not planned, or by eye alone */
  int64_t written_um, most_um, holds_um, fails_um, gap_um;
  int has_gap, done;
  char written[48], meaning[8]; /* its gap as it stands; " worn" where it was meant so */
  girdle_job *trial, *best;
};

/* ---- the rows that are planned */

static planned_zone *zone_of(planned *in, const girdle_zone_row *row) {
  const char *side = row->pair ? "pair" : row->side;
  for (uint64_t at = 0; at < in->zone_count; at++)
    if (in->zones[at].name && strcmp(in->zones[at].name, row->name) == 0 && strcmp(in->zones[at].side, side) == 0)
      return &in->zones[at];
  return NULL;
}

/* The gap as it is written: a length, a measure of the wearer, or the recipe's own. */
static int written_gap(const planned *in, const char *text, planned_row *to, double *mm) {
  char plain[64];
  size_t length;
  uint64_t count;
  const girdle_measure *measures = girdle_job_measures(in->job, &count);
  for (uint64_t at = 0; at < count; at++)
    if (strcmp(measures[at].name, text) == 0) {
      *mm = measures[at].mm;
      return 1;
    }
  girdle_common_text(plain, sizeof plain, text);
  length = strlen(plain);
  for (int at = 0; at < 2; at++) {
    const char *meaning = at ? " glued" : " worn";
    size_t tail = strlen(meaning);
    if (length <= tail || strcmp(plain + length - tail, meaning) != 0) continue;
    plain[length - tail] = '\0';
    strcpy(to->meaning, meaning);
  }
  return girdle_quantity_parse(NULL, plain, GIRDLE_LENGTH, mm) == GIRDLE_OK;
}

static int32_t read_gap(planned *in, planned_row *to) {
  sheet takes = {0};
  double mm, most = 1000;
  int32_t status = pool_describe(in->with, to->row.recipe, &in->of.beside, &takes);
  for (uint64_t at = 0; at < takes.parameter_count && !status; at++) {
    const girdle_parameter *each = &takes.parameters[at];
    if (strcmp(each->name, "gap") != 0) continue;
    to->has_gap = written_gap(in, to->row.gap[0] ? to->row.gap : each->fallback, to, &mm);
    if (girdle_quantity_parse(NULL, each->most, GIRDLE_LENGTH, &most)) most = 1000;
  }
  to->written_um = to->gap_um = to->has_gap ? (int64_t)(mm * 1000 + 0.5) : 0;
  to->most_um = (int64_t)(most * 1000);
  sheet_free(&takes);
  return status;
}

static int32_t take_rows(planned *in) {
  uint64_t count = 0;
  const girdle_zone_row *rows = in->of.zones ? girdle_zone_rows_view(in->of.zones, &count) : NULL;
  in->rows = command_new((count + 1) * sizeof *in->rows);
  in->row_count = count;
  for (uint64_t at = 0; at < count; at++) {
    planned_row *to = &in->rows[at];
    to->row = rows[at];
    to->row.alike = GIRDLE_ALIKE_GAP;
    to->row.pieces[0] = '\0';
    strcpy(to->written, to->row.gap);
    to->holds_um = to->fails_um = -1;
    to->zone = to->row.recipe[0] ? zone_of(in, &to->row) : NULL;
    to->done = !to->zone || !to->zone->each;
    if (!to->done) GIRDLE_TRY(read_gap(in, to));
  }
  return GIRDLE_OK;
}

/* ---- one round: every row that is still under search, worked at its next gap */

/* As the written table will call itself, since scattered stones lie as the costume's name has them. */
static int32_t new_trial(const planned *in, planned_row *row) {
  girdle_job_head head = *girdle_job_head_of(in->job);
  uint64_t count;
  const girdle_measure *measures = girdle_job_measures(in->job, &count);
  girdle_job_free(row->trial);
  row->trial = NULL;
  if (in->with->flags.out) file_base_name(in->with->flags.out, head.costume, sizeof head.costume);
  GIRDLE_TRY(girdle_job_new(&in->with->call, &head, &row->trial));
  for (uint64_t at = 0; at < count; at++)
    GIRDLE_TRY(girdle_job_set_measure(&in->with->call, row->trial, measures[at].name, measures[at].mm));
  return GIRDLE_OK;
}

static void write_gap(planned_row *row) {
  char number[32];
  strcpy(row->row.gap, row->written);
  if (row->gap_um == row->written_um) return;
  girdle_number_text((double)row->gap_um / 1000, 3, number, sizeof number);
  snprintf(row->row.gap, sizeof row->row.gap, "%s mm%s", number, row->meaning);
}

static int round_task(void *context, uint64_t index, task *out) {
  planned *in = context;
  planned_row *row = &in->rows[index];
  if (index == in->row_count) return 0;
  memset(out, 0, sizeof *out);
  out->kind = TASK_NONE;
  if (row->done) return 1;
  write_gap(row);
  out->kind = TASK_COSTUME;
  out->name = "";
  out->beside = &in->of.beside;
  out->job = row->trial;
  out->zones_source = in->of.zones_path;
  out->rows = &row->row;
  out->row_count = 1;
  return 1;
}

static int64_t placed_like(const girdle_placement *in, const girdle_stone *stone) {
  const girdle_placed *records;
  const girdle_stone *stones;
  int64_t found = 0, count = girdle_placement_view(in, &records, &stones, NULL);
  for (int64_t at = 0; at < count; at++)
    found += girdle_stone_same_place(&stones[records[at].stone], stone);
  return found;
}

/* Whether there is room for all that is planned; colours of one size may change places. */
static int holds_all(const planned_zone *zone, const girdle_job *trial) {
  uint64_t count;
  const girdle_zone *worked = girdle_job_zones(trial, &count);
  if (!count || !worked[0].placement) return 0;
  for (uint64_t at = 0; at < zone->kind_count; at++) {
    int64_t wanted = 0;
    for (uint64_t other = 0; other < zone->kind_count; other++)
      if (girdle_stone_same_place(&zone->kinds[at], &zone->kinds[other])) wanted += zone->pieces[other];
    if (wanted > placed_like(worked[0].placement, &zone->kinds[at])) return 0;
  }
  return 1;
}

static int64_t stones_of(const girdle_job *trial) {
  uint64_t count;
  const girdle_zone *worked = girdle_job_zones(trial, &count);
  return count && worked[0].placement ? girdle_placement_view(worked[0].placement, NULL, NULL, NULL) : 0;
}

/* The next gap: half of one that fails, twice one that holds, then between the two. */
static void next_gap(planned_row *row) {
  if (row->holds_um < 0)
    row->gap_um = row->fails_um / 2;
  else if (row->fails_um < 0)
    row->gap_um = row->holds_um ? 2 * row->holds_um : 500;
  else
    row->gap_um = (row->holds_um + row->fails_um) / 2;
  if (row->gap_um > row->most_um) row->gap_um = row->most_um;
  row->done = !row->has_gap || row->gap_um == row->holds_um || row->gap_um == row->fails_um;
}

/* A gap so wide that the recipe refuses it holds nothing. */
static int32_t round_done(void *context, uint64_t index, const char *answer, uint64_t bytes) {
  planned *in = context;
  planned_row *row = &in->rows[index];
  task what;
  int32_t status;
  if (row->done) return GIRDLE_OK;
  round_task(context, index, &what);
  status = pool_answer(in->with, &what, answer, bytes, NULL);
  if (status && (!answer || command_interrupted)) return status;
  if (status) girdle_error_init(&in->with->error, sizeof in->with->error);
  if (!status && holds_all(row->zone, row->trial)) {
    row->holds_um = row->gap_um;
    girdle_job_free(row->best);
    row->best = row->trial;
    row->trial = NULL;
    row->done = stones_of(row->best) == row->zone->each;
  } else {
    row->fails_um = row->gap_um;
  }
  if (!row->done) next_gap(row);
  return GIRDLE_OK;
}

static int32_t one_round(planned *in, uint64_t *left) {
  task_list list = {in, in->row_count, -1, round_task, round_done};
  girdle_report report = in->with->call.report;
  int32_t status;
  *left = 0;
  for (uint64_t at = 0; at < in->row_count; at++)
    if (!in->rows[at].done) GIRDLE_TRY(new_trial(in, &in->rows[at]));
  memset(&in->with->call.report, 0, sizeof report);
  status = pool_run(in->with, &list);
  in->with->call.report = report;
  for (uint64_t at = 0; at < in->row_count; at++)
    *left += !in->rows[at].done;
  return status;
}

/* ---- what was found */

static int64_t rows_of(const girdle_placement *of) {
  const girdle_placed *records;
  int64_t count = girdle_placement_view(of, &records, NULL, NULL), most = 0;
  for (int64_t at = 0; at < count; at++)
    if (records[at].row > most) most = records[at].row;
  return count ? most + 1 : 0;
}

static void note_row(planned_row *row) {
  planned_zone *zone = row->zone;
  const girdle_placement *placement;
  uint64_t count;
  if (!row->best) return;
  placement = girdle_job_zones(row->best, &count)[0].placement;
  zone->rows = rows_of(placement);
  zone->left_out = girdle_placement_view(placement, NULL, NULL, NULL) - zone->each;
  zone->is_as_written = !row->has_gap;
  if (row->has_gap) zone->gap_mm = (double)row->holds_um / 1000;
  row->gap_um = row->holds_um;
  write_gap(row);
}

/* Without a table's row: by the length of the edge, or as if in a honeycomb over the area. */
static void estimate(planned_zone *zone) {
  double each = (double)zone->each, across = 0, pitch = NAN;
  const girdle_zone *of = zone->as_written;
  if (!zone->each) return;
  for (uint64_t at = 0; at < zone->kind_count; at++)
    across += zone->kinds[at].diameter_mm[GIRDLE_NOMINAL] * (double)zone->pieces[at] / each;
  if (isfinite(of->edge_mm))
    pitch = of->edge_mm / each;
  else if (isfinite(of->area_mm2))
    pitch = sqrt(2 * of->area_mm2 / (sqrt(3) * each));
  if (isfinite(pitch)) zone->gap_mm = fmax(pitch - across, 0);
  zone->is_about = 1;
}

static int32_t open_costume(planned *in, const char *file) {
  sheet takes = {0};
  int32_t status;
  if (work_is_club(in->with, file))
    status = source_costume_in_club(in->with, file, girdle_job_head_of(in->job)->costume, &in->of);
  else
    status = source_costume_file(in->with, file, &in->of);
  if (!status) status = wardrobe_describe(in->with, &in->of, &takes);
  sheet_free(&takes);
  return status;
}

int32_t planned_find(planned *in, const char *file) {
  uint64_t left = 1;
  for (uint64_t at = 0; at < in->zone_count; at++)
    in->zones[at].gap_mm = NAN;
  if (file_exists(file)) GIRDLE_TRY(open_costume(in, file));
  GIRDLE_TRY(take_rows(in));
  for (int round = 0; round < MOST_ROUNDS && left; round++)
    GIRDLE_TRY(one_round(in, &left));
  for (uint64_t at = 0; at < in->row_count; at++)
    if (in->rows[at].zone) note_row(&in->rows[at]);
  for (uint64_t at = 0; at < in->zone_count; at++)
    if (isnan(in->zones[at].gap_mm) && !in->zones[at].is_as_written) estimate(&in->zones[at]);
  return GIRDLE_OK;
}

/* ---- the table that gives just so many */

/* A list in a cell: "30 ss16 red; 31 ss16 clear". GIRDLE_LIMIT when it is longer than a cell may be. */
static int32_t add_counted(program *with, char *cell, size_t bytes, const girdle_stone *stone, int64_t pieces) {
  char text[160];
  size_t length = strlen(cell);
  if (!pieces) return GIRDLE_OK;
  girdle_stone_text(stone, text, sizeof text);
  if ((size_t)snprintf(cell + length, bytes - length, "%s%lld %s", length ? "; " : "", (long long)pieces, text) <
      bytes - length)
    return GIRDLE_OK;
  return girdle_common_fail(&with->call, GIRDLE_LIMIT, "pieces",
                            "a zone has more kinds of stones than a cell can list");
}

static int is_just_so(const planned_zone *zone, const girdle_placement *placement) {
  if (girdle_placement_view(placement, NULL, NULL, NULL) != zone->each) return 0;
  for (uint64_t at = 0; at < zone->kind_count; at++)
    if (girdle_placement_pieces(placement, &zone->kinds[at]) != zone->pieces[at]) return 0;
  return 1;
}

static int32_t set_pieces(planned *in, planned_row *row) {
  uint64_t count;
  planned_zone *zone = row->zone;
  if (is_just_so(zone, girdle_job_zones(row->best, &count)[0].placement)) return GIRDLE_OK;
  for (uint64_t at = 0; at < zone->kind_count; at++)
    GIRDLE_TRY(add_counted(in->with, row->row.pieces, sizeof row->row.pieces, &zone->kinds[at], zone->pieces[at]));
  return GIRDLE_OK;
}

static int32_t set_already(planned *in, planned_row *row, const planned_eye *eyes, uint64_t count) {
  const char *side = row->row.pair ? "left" : row->row.side; /* both halves have the same */
  row->row.already[0] = '\0';
  for (uint64_t at = 0; at < count; at++)
    if (strcmp(eyes[at].name, row->row.name) == 0 && strcmp(eyes[at].side, side) == 0)
      GIRDLE_TRY(add_counted(in->with, row->row.already, sizeof row->row.already, eyes[at].stone, eyes[at].each));
  return GIRDLE_OK;
}

/* The name of a measure by its length, as the table has no wearer: "loop neckline" is "loop 520 mm". */
static int32_t set_measures(planned *in, char *cell, size_t bytes) {
  uint64_t count;
  const girdle_measure *measures = girdle_job_measures(in->job, &count);
  for (uint64_t at = 0; at < count; at++) {
    size_t length = strlen(measures[at].name);
    for (char *found = strstr(cell, measures[at].name); found; found = strstr(found + 1, measures[at].name)) {
      char number[40], rest[256];
      size_t room = bytes - (size_t)(found - cell);
      if ((found > cell && !strchr(" =;", found[-1])) || !strchr(" ;", found[length])) continue;
      girdle_common_text(rest, sizeof rest, found + length);
      girdle_number_text(measures[at].mm, 6, number, sizeof number);
      if ((size_t)snprintf(found, room, "%s mm%s", number, rest) >= room)
        return girdle_common_fail(&in->with->call, GIRDLE_LIMIT, "shape", "'%.60s' is too long", cell);
    }
  }
  return GIRDLE_OK;
}

static int32_t set_row(planned *in, planned_row *row, const planned_eye *eyes, uint64_t count) {
  if (row->zone && row->zone->each && !row->best)
    return girdle_common_fail(&in->with->call, GIRDLE_GEOMETRY, "zone",
                              "%s: no gap holds the stones that are planned; choose another --out or another total",
                              row->row.name);
  if (row->best) GIRDLE_TRY(set_pieces(in, row));
  GIRDLE_TRY(set_already(in, row, eyes, count));
  GIRDLE_TRY(set_measures(in, row->row.length, sizeof row->row.length));
  GIRDLE_TRY(set_measures(in, row->row.width, sizeof row->row.width));
  GIRDLE_TRY(set_measures(in, row->row.shape, sizeof row->row.shape));
  GIRDLE_TRY(set_measures(in, row->row.given, sizeof row->row.given));
  return set_measures(in, row->row.gap, sizeof row->row.gap);
}

static void add_row(const planned_row *from, buffer *to) {
  const girdle_zone_row *row = &from->row;
  const int placed = from->best != NULL;
  buffer_csv_text(to, row->name, ",");
  buffer_text(to, "%s,%s,%lld,", row->side, row->pair ? "yes" : "", (long long)row->times);
  if (row->priority) buffer_text(to, "%d", (int)row->priority);
  buffer_text(to, ",");
  buffer_csv_text(to, placed ? row->shape : "", ",");
  buffer_csv_text(to, placed ? row->length : "", ",");
  buffer_csv_text(to, placed ? row->width : "", ",");
  buffer_csv_text(to, placed ? row->recipe : "", ",");
  buffer_csv_text(to, placed ? row->stones : "", ",");
  buffer_csv_text(to, placed ? row->gap : "", ",");
  buffer_csv_text(to, row->already, ",");
  buffer_csv_text(to, placed ? row->leave : "", ",");
  buffer_csv_text(to, placed ? row->given : "", ",");
  buffer_csv_text(to, placed ? row->pieces : "", "\r\n");
}

static int32_t make_table(planned *in, const planned_eye *eyes, uint64_t count, buffer *to) {
  buffer_text(to, "zone,side,pair,times,priority,shape,length,width,recipe,stones,gap,already,leave,given,pieces\r\n");
  for (uint64_t at = 0; at < in->row_count; at++) {
    GIRDLE_TRY(set_row(in, &in->rows[at], eyes, count));
    if (in->rows[at].best || in->rows[at].row.already[0]) add_row(&in->rows[at], to);
  }
  return GIRDLE_OK;
}

/* What is written is read and worked as `girdle count` will, and must be what was planned. */
static int32_t prove_zone(planned *in, const planned_zone *zone, const girdle_job *job) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  for (uint64_t at = 0; at < count; at++)
    if (strcmp(zones[at].name, zone->name) == 0 && zones[at].placement &&
        (strcmp(zone->side, "pair") == 0 ? strcmp(zones[at].pair_side, zones[at].side) != 0
                                         : strcmp(zones[at].side, zone->side) == 0) &&
        !is_just_so(zone, zones[at].placement))
      return girdle_common_fail(&in->with->call, GIRDLE_GEOMETRY, "zone",
                                "%s: no gap holds just what is planned where zones meet; choose another total",
                                zone->name);
  return GIRDLE_OK;
}

static int32_t prove(planned *in, const girdle_zone_rows *rows) {
  task what;
  girdle_job *job = NULL;
  girdle_job_head head = *girdle_job_head_of(in->job);
  int32_t status;
  file_base_name(in->with->flags.out, head.costume, sizeof head.costume);
  GIRDLE_TRY(girdle_job_new(&in->with->call, &head, &job));
  memset(&what, 0, sizeof what);
  what.kind = TASK_COSTUME;
  what.name = "";
  what.beside = &in->of.beside;
  what.job = job;
  what.zones_source = "zones.csv";
  what.rows = girdle_zone_rows_view(rows, &what.row_count);
  status = pool_one(in->with, &what);
  for (uint64_t at = 0; at < in->zone_count && !status; at++)
    if (in->zones[at].each) status = prove_zone(in, &in->zones[at], job);
  girdle_job_free(job);
  return status;
}

static int32_t copy_from(planned *in, const char *folder_path, const char *file) {
  char path[COMMAND_PATH];
  buffer text = {0}, *to;
  GIRDLE_TRY(file_join(in->with, folder_path, file, path, sizeof path));
  if (!file_is_plain(path)) return GIRDLE_OK;
  GIRDLE_TRY(file_read(in->with, path, COPIED_BYTES, &text));
  to = output_add(in->with, file);
  if (to) buffer_add(to, text.bytes, text.count);
  buffer_free(&text);
  return to ? GIRDLE_OK : GIRDLE_ARGUMENT;
}

/* The recipes that lie there, the fabric and the sizes of one's own, which a club has in its own folder. */
static int32_t copy_all_beside(planned *in) {
  const char *beside = in->of.beside.path, *file = in->with->flags.files[0];
  if (!beside[0]) return GIRDLE_OK;
  GIRDLE_TRY(copy_from(in, beside, "fabric.csv"));
  GIRDLE_TRY(copy_from(in, work_is_club(in->with, file) ? file : beside, "stones.csv"));
  for (uint64_t at = 0; at < in->of.beside.source_count; at++)
    GIRDLE_TRY(copy_from(in, beside, in->of.beside.sources[at].file));
  return GIRDLE_OK;
}

static int32_t all_in_table(const planned *in) {
  if (in->of.zones && !in->of.lua[0]) return GIRDLE_OK;
  return girdle_common_fail(&in->with->call, GIRDLE_ARGUMENT, "out",
                            "--out writes the plan of a table of zones; in a Lua file write the gaps yourself");
}

int32_t planned_write(planned *in, const planned_eye *eyes, uint64_t eye_count) {
  buffer table = {0}, *to;
  girdle_zone_rows *rows = NULL;
  int32_t status = all_in_table(in);
  if (!status) status = make_table(in, eyes, eye_count, &table);
  if (!status) status = girdle_paper_read_zones(&in->with->call, "zones.csv", table.bytes, table.count, &rows);
  if (!status) status = prove(in, rows);
  to = status ? NULL : output_add(in->with, "zones.csv");
  if (to) buffer_add(to, table.bytes, table.count);
  girdle_zone_rows_free(rows);
  buffer_free(&table);
  if (status) return status;
  return to ? copy_all_beside(in) : GIRDLE_ARGUMENT;
}

void planned_free(planned *of) {
  for (uint64_t at = 0; at < of->row_count; at++) {
    girdle_job_free(of->rows[at].trial);
    girdle_job_free(of->rows[at].best);
  }
  free(of->rows);
  source_costume_free(&of->of);
}
