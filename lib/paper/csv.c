/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

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

static void write_record(girdle_writer *out, const char *zone, const girdle_placed *record, const girdle_stone *stone,
                         const char *stone_text) {
  write_text(out, zone);
  girdle_write_whole(out, record->row);
  comma(out);
  write_text(out, stone_text);
  girdle_write_fixed(out, record->x_mm, 4);
  comma(out);
  girdle_write_fixed(out, record->y_mm, 4);
  comma(out);
  girdle_write_number(out, stone->diameter_mm[GIRDLE_NOMINAL], 4);
  comma(out);
  girdle_write_number(out, (double)record->turn_deg, 2);
  girdle_write(out, "\n");
}

/* A stone's text is made once for every stretch of records with it. */
static void write_zone(girdle_writer *out, const girdle_zone *zone, const char *name) {
  const girdle_placed *records;
  const girdle_stone *stones;
  uint32_t stone_count, last = UINT32_MAX;
  int64_t count = girdle_placement_view(zone->placement, &records, &stones, &stone_count);
  char text[GIRDLE_STONE_TEXT];
  for (int64_t i = 0; i < count && !out->status; i++) {
    if (records[i].stone != last) {
      last = records[i].stone;
      girdle_stone_text(&stones[last], text, sizeof text);
    }
    write_record(out, name, &records[i], &stones[last], text);
  }
}

int32_t girdle_paper_placements_csv(girdle_call *call, const girdle_job *job, const girdle_sink *sink) {
  girdle_writer out;
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  girdle_writer_begin(&out, call, sink);
  girdle_write(&out, "zone,row,stone,x_mm,y_mm,diameter_mm,turn_deg\n");
  for (uint64_t i = 0; i < count && !out.status; i++) {
    char name[GIRDLE_ZONE_TEXT];
    girdle_zone_text(zones, count, i, name);
    if (zones[i].placement) write_zone(&out, &zones[i], name);
  }
  return girdle_writer_end(&out);
}

/* ---- counts */

int32_t girdle_paper_counts_csv(girdle_call *call, const girdle_tally *tally, const girdle_sink *sink) {
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
  girdle_writer out;
  girdle_order_total total;
  uint64_t count;
  const girdle_order_line *lines = girdle_order_lines(order, &count);
  girdle_order_sum(order, &total);
  girdle_writer_begin(&out, call, sink);
  girdle_write(&out, "supplier,stone,item,pack,packs,price,cost\n");
  for (uint64_t i = 0; i < count && !out.status; i++) write_line(&out, &lines[i], &total.currency);
  return girdle_writer_end(&out);
}
