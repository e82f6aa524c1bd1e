/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

#include <string.h>

/* Tables out. Text goes through girdle_write_cell, which quotes and defuses; numbers are written as they are. */

static void write_stone(girdle_writer *out, const girdle_stone *stone) {
  char text[GIRDLE_STONE_TEXT];
  girdle_stone_text(stone, text, sizeof text);
  girdle_write_cell(out, text);
}

static void comma(girdle_writer *out) {
  girdle_write_bytes(out, ",", 1);
}

static void write_text(girdle_writer *out, const char *text) {
  girdle_write_cell(out, text);
  comma(out);
}

/* ---- placements */

/* A sink into a small text; what does not fit is refused. */
typedef struct piece {
  char text[2 * GIRDLE_STONE_TEXT + 64];
  uint64_t used;
} piece;

static int32_t add_to_piece(void *context, const void *bytes, uint64_t count) {
  piece *of = context;
  if (of->used + count > sizeof of->text) return 1;
  memcpy(of->text + of->used, bytes, (size_t)count);
  of->used += count;
  return 0;
}

/* What is the same for many records is made once: the zone's cell, and a stone's before and after its place. */
static int32_t make_zone_piece(girdle_call *call, const char *zone, piece *out) {
  const girdle_sink sink = {out, add_to_piece};
  girdle_writer writer;
  out->used = 0;
  girdle_writer_begin(&writer, call, &sink);
  write_text(&writer, zone);
  return girdle_writer_end(&writer);
}

static int32_t make_stone_pieces(girdle_call *call, const girdle_stone *stone, piece *before, piece *after) {
  const girdle_sink first = {before, add_to_piece}, last = {after, add_to_piece};
  girdle_writer writer;
  before->used = after->used = 0;
  girdle_writer_begin(&writer, call, &first);
  comma(&writer);
  write_stone(&writer, stone);
  comma(&writer);
  GIRDLE_TRY(girdle_writer_end(&writer));
  girdle_writer_begin(&writer, call, &last);
  comma(&writer);
  girdle_write_number(&writer, stone->diameter_mm[GIRDLE_NOMINAL], 4);
  comma(&writer);
  return girdle_writer_end(&writer);
}

/* A piece is mostly short, and there is room for more than it: so many bytes are copied without a call. */
static char *append(char *at, const piece *of) {
  enum { SHORT = 32 };
  if (of->used <= SHORT)
    memcpy(at, of->text, SHORT);
  else
    memcpy(at, of->text, (size_t)of->used);
  return at + of->used;
}

/* Everything in one stretch of the writer's buffer. */
static void write_record(girdle_writer *out, const girdle_placed *record, const piece *zone, const piece *before,
                         const piece *after) {
  char *start = girdle_writer_room(out, 3 * sizeof zone->text + 200), *at = append(start, zone);
  at += girdle_fixed_text(record->row, 0, at);
  at = append(at, before);
  at += girdle_fixed_text(record->x_mm, 4, at);
  *at++ = ',';
  at += girdle_fixed_text(record->y_mm, 4, at);
  at = append(at, after);
  if (record->turn_deg == 0)
    *at++ = '0';
  else
    at += girdle_short_text((double)record->turn_deg, 2, at);
  *at++ = '\n';
  girdle_writer_take(out, (uint64_t)(at - start));
}

/* Stones in turn change with every record, so the last few are kept. */
enum { KEPT = 8 };
typedef struct shelf {
  piece zone, before[KEPT], after[KEPT];
  uint32_t stone[KEPT];
} shelf;

static int32_t write_records(girdle_writer *out, const girdle_zone *zone, shelf *kept) {
  const girdle_placed *records;
  const girdle_stone *stones;
  int64_t count = girdle_placement_view(zone->placement, &records, &stones, NULL);
  for (int k = 0; k < KEPT; k++)
    kept->stone[k] = UINT32_MAX;
  for (int64_t i = 0; i < count && !out->status; i++) {
    uint32_t stone = records[i].stone, k = stone % KEPT;
    if (kept->stone[k] != stone) {
      GIRDLE_TRY(make_stone_pieces(out->call, &stones[stone], &kept->before[k], &kept->after[k]));
      kept->stone[k] = stone;
    }
    write_record(out, &records[i], &kept->zone, &kept->before[k], &kept->after[k]);
  }
  return out->status;
}

static int32_t write_zone(girdle_writer *out, const girdle_zone *zone, const char *name) {
  shelf kept;
  memset(&kept, 0, sizeof kept);
  GIRDLE_TRY(make_zone_piece(out->call, name, &kept.zone));
  return write_records(out, zone, &kept);
}

int32_t girdle_paper_placements_csv(girdle_call *call, const girdle_job *job, const girdle_sink *sink) {
  GIRDLE_GIVEN(call, job, sink);
  girdle_writer out;
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  girdle_writer_begin(&out, call, sink);
  girdle_write(&out, "zone,row,stone,x_mm,y_mm,diameter_mm,turn_deg\n");
  for (uint64_t i = 0; i < count && !out.status; i++) {
    char name[GIRDLE_ZONE_TEXT];
    girdle_zone_text(zones, count, i, name);
    if (zones[i].placement) GIRDLE_TRY(write_zone(&out, &zones[i], name));
  }
  return girdle_writer_end(&out);
}

/* ---- counts */

int32_t girdle_paper_counts_csv(girdle_call *call, const girdle_tally *tally, const girdle_sink *sink) {
  GIRDLE_GIVEN(call, tally, sink);
  girdle_writer out;
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &count);
  girdle_writer_begin(&out, call, sink);
  girdle_write(&out, "tag,zone,side,stone,count\n");
  for (uint64_t i = 0; i < count && !out.status; i++) {
    write_text(&out, lines[i].tag);
    write_text(&out, lines[i].zone);
    write_text(&out, lines[i].side);
    write_stone(&out, &lines[i].stone);
    comma(&out);
    girdle_write_whole(&out, lines[i].count);
    girdle_write(&out, "\n");
  }
  return girdle_writer_end(&out);
}

/* ---- order */

static void write_money(girdle_writer *out, int64_t minor, const girdle_currency *currency) {
  char text[64];
  girdle_money_text(minor, currency, 0, text, sizeof text);
  girdle_write(out, text);
}

static void write_line(girdle_writer *out, const girdle_order_line *line, const girdle_currency *currency) {
  write_text(out, line->supplier);
  write_stone(out, &line->stone);
  comma(out);
  write_text(out, line->item);
  write_text(out, line->pack);
  girdle_write_whole(out, line->packs);
  comma(out);
  write_money(out, line->price_minor, currency);
  comma(out);
  write_money(out, line->cost_minor, currency);
  girdle_write(out, "\n");
}

int32_t girdle_paper_order_csv(girdle_call *call, const girdle_order *order, const girdle_sink *sink) {
  GIRDLE_GIVEN(call, order, sink);
  girdle_writer out;
  girdle_order_total total;
  uint64_t count;
  const girdle_order_line *lines = girdle_order_lines(order, &count);
  girdle_order_sum(order, &total);
  girdle_writer_begin(&out, call, sink);
  girdle_write(&out, "supplier,stone,item,pack,packs,price,cost\n");
  for (uint64_t i = 0; i < count && !out.status; i++)
    write_line(&out, &lines[i], &total.currency);
  return girdle_writer_end(&out);
}
