/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TESTS_PAPER_SUPPORT_H
#define GIRDLE_TESTS_PAPER_SUPPORT_H

/* A small job and a small club for tests of what paper writes, and a sink that keeps the text. */

#include "support.h"

#include "girdle/paper.h"

/* Grows; ended by NUL. After `most` bytes (when not 0) it refuses. */
typedef struct kept {
  char *text;
  size_t bytes, room, most;
} kept;

static inline int32_t keep_piece(void *context, const void *bytes, uint64_t count) {
  kept *all = context;
  if (all->most && all->bytes + count > all->most) return 1;
  if (all->bytes + count + 1 > all->room) {
    all->room = 2 * (all->bytes + (size_t)count + 1);
    all->text = realloc(all->text, all->room);
    assert_non_null(all->text);
  }
  memcpy(all->text + all->bytes, bytes, (size_t)count);
  all->bytes += (size_t)count;
  all->text[all->bytes] = '\0';
  return 0;
}

static inline girdle_sink keep_in(kept *all) {
  girdle_sink sink = {all, keep_piece};
  memset(all, 0, sizeof *all);
  return sink;
}

static inline size_t count_of(const char *text, const char *part) {
  size_t count = 0;
  for (const char *at = strstr(text, part); at; at = strstr(at + strlen(part), part))
    count++;
  return count;
}

static inline void assert_has(const char *text, const char *part) {
  if (strstr(text, part)) return;
  print_error("'%s' is not in:\n%.4000s\n", part, text);
  fail();
}

/* A costume "t" without zones yet. */
static inline int32_t new_job(girdle_call *call, girdle_job **out) {
  girdle_job_head head;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "t");
  return girdle_job_new(call, &head, out);
}

static inline girdle_job *plain_job(test_call *test) {
  girdle_job *job;
  assert_ok(test, new_job(&test->call, &job));
  return job;
}

/* Stones in a row, ten millimetres apart, of the given kinds in turn. */
static inline int32_t sample_row(girdle_call *call, const char *const *texts, uint32_t kinds, uint32_t count,
                                 girdle_placement **out) {
  girdle_stone stones[4];
  girdle_placed records[200];
  memset(records, 0, sizeof records);
  for (uint32_t i = 0; i < kinds; i++) {
    int32_t status = girdle_stone_parse(call, texts[i], &stones[i]);
    if (status) return status;
  }
  for (uint32_t i = 0; i < count; i++) {
    records[i].x_mm = 10.0 * i - 3.1416;
    records[i].y_mm = -0.25 + 0.0001 * i;
    records[i].turn_deg = (float)(i % 4 * 22.5);
    records[i].stone = (uint16_t)(i % kinds);
    records[i].row = (uint16_t)(i / 3);
  }
  return girdle_placement_new(call, stones, kinds, records, count, out);
}

static inline int32_t sample_zone(girdle_call *call, girdle_job *job, const char *name, const char *side, int pair,
                                  int64_t times, const char *const *texts, uint32_t kinds, uint32_t count) {
  girdle_placement *placement;
  girdle_zone zone;
  int32_t status = sample_row(call, texts, kinds, count, &placement);
  if (status) return status;
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, name);
  strcpy(zone.side, side);
  zone.flags = pair ? GIRDLE_ZONE_PAIR : 0;
  zone.times = times;
  zone.placement = placement;
  status = girdle_job_add_zone(call, job, &zone);
  girdle_placement_free(placement);
  return status;
}

static inline int32_t sample_by_eye(girdle_call *call, girdle_job *job) {
  const int64_t pieces = 220;
  girdle_stone stone;
  girdle_zone zone;
  int32_t status = girdle_stone_parse(call, "ss16", &stone);
  if (status) return status;
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "hem");
  zone.already = &stone;
  zone.already_pieces = &pieces;
  zone.already_count = 1;
  return girdle_job_add_zone(call, job, &zone);
}

/* 9 + 2 x 5 + 2 x 4 placed stones of three round kinds and one fancy kind, and 220 set by eye. */
static inline int32_t sample_job_due(girdle_call *call, const char *tag, const char *costume, int64_t needed_by_day,
                                     girdle_job **out) {
  static const char *const collar[] = {"ss20 black", "ss20"}, *const cuffs[] = {"ss12 ice blue"};
  static const char *const bow[] = {"8 mm red navette", "ss20 black"};
  girdle_job_head head;
  int32_t status;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, tag);
  strcpy(head.costume, costume);
  strcpy(head.size, "140");
  strcpy(head.wearer, "A. Nobody");
  head.needed_by_day = needed_by_day;
  head.fabric.lies_across = 0.1;
  status = girdle_job_new(call, &head, out);
  if (status) return status;
  status = sample_zone(call, *out, "collar", "both", 0, 1, collar, 2, 9);
  if (!status) status = sample_zone(call, *out, "cuffs", "", 1, 1, cuffs, 1, 5);
  if (!status) status = sample_zone(call, *out, "bow, \"<big>\"", "front", 0, 2, bow, 2, 4);
  if (!status) status = sample_by_eye(call, *out);
  if (!status) return GIRDLE_OK;
  girdle_job_free(*out);
  *out = NULL;
  return status;
}

static inline int32_t sample_job(girdle_call *call, const char *tag, const char *costume, girdle_job **out) {
  return sample_job_due(call, tag, costume, 22352, out);
}

static const char *const sample_files[][2] = {
    {"suppliers.csv", "supplier,currency,shipping,delivery_days\nBead Barn,EUR,4.90,3\n'=Glint,EUR,,5\n"},
    {"prices.csv",
     "supplier,stone,pack,price,item\nBead Barn,ss20 black,1 gross,6.80,BB-1\nBead Barn,ss20,\" 1  gross\",5.90,\n"
     "'=Glint,ss12 ice blue,100,4.00,@g\n'=Glint,ss16,1 gross,4.40,\n"},
    {"rates.csv", "rate,value\nlabour a gross,30.00\ntax,19 %\ndeposit,50 %\nadhesive a tube,9.50\n"},
};

static inline int32_t sample_club_due(girdle_call *call, int64_t needed_by_day, girdle_club **out) {
  static const int32_t files[] = {GIRDLE_FILE_SUPPLIERS, GIRDLE_FILE_PRICES, GIRDLE_FILE_RATES};
  static const char *const tags[] = {"F-1", "F-2"};
  int32_t status = girdle_club_new(call, out);
  if (status) return status;
  for (int i = 0; i < 3 && !status; i++)
    status = girdle_paper_read_club(call, *out, files[i], sample_files[i][0], sample_files[i][1],
                                    strlen(sample_files[i][1]));
  for (int i = 0; i < 2 && !status; i++) {
    girdle_job *job = NULL;
    status = sample_job_due(call, tags[i], "frost", needed_by_day, &job);
    if (!status) status = girdle_club_add_job(call, *out, job);
    if (status) girdle_job_free(job);
  }
  if (status) girdle_club_free(*out);
  return status;
}

static inline int32_t sample_club(girdle_call *call, girdle_club **out) {
  return sample_club_due(call, 22352, out);
}

/* That club and its first job, reckoned from a day before it is needed. */
typedef struct desk {
  girdle_club *club;
  girdle_reckoning *reckoning;
  girdle_job *job;
} desk;

static inline int32_t set_desk_due(girdle_call *call, int64_t needed_by_day, desk *out) {
  int32_t status = sample_club_due(call, needed_by_day, &out->club);
  if (status) return status;
  out->job = girdle_club_job(out->club, 0);
  status = girdle_club_reckon(call, out->club, 22300, &out->reckoning);
  if (status) girdle_club_free(out->club);
  return status;
}

static inline int32_t set_desk(girdle_call *call, desk *out) {
  return set_desk_due(call, 22352, out);
}

static inline void clear_desk(desk *all) {
  girdle_reckoning_free(all->reckoning);
  girdle_club_free(all->club);
}

/* Every paper of a club, for what all of them must do. Of several costumes the first, but the last one's cost and
 * two offers. */
enum {
  PLACEMENTS,
  COUNTS,
  ORDER,
  COUNTS_JSON,
  CLUB_JSON,
  COUNTS_TEXT,
  COST_TEXT,
  ORDER_TEXT,
  CALENDAR_TEXT,
  CAUTIONS_TEXT,
  MAP,
  SHEET,
  BAGS,
  OFFER,
  CALENDAR,
  PAPERS
};

static inline int32_t write_page(girdle_call *call, const desk *d, int paper, const girdle_sink *sink) {
  const int one = girdle_club_jobs(d->club) == 1;
  const girdle_offer offers[] = {{one ? NULL : "LIGHT", d->club, 0, d->reckoning},
                                 {"FULL <B>", d->club, 1, d->reckoning}};
  switch (paper) {
    case MAP:
      return girdle_paper_map_svg(call, d->job, sink);
    case SHEET:
      return girdle_paper_sheet_html(call, d->club, 0, d->reckoning, NULL, sink);
    case BAGS:
      return girdle_paper_bags_html(call, d->reckoning, sink);
    case OFFER:
      return girdle_paper_offer_html(call, offers, one ? 1 : 2, sink);
    default:
      return girdle_paper_calendar_ics(call, girdle_reckoning_calendar(d->reckoning), 22300, sink);
  }
}

static inline int32_t write_paper(girdle_call *call, const desk *d, int paper, const girdle_sink *sink) {
  const girdle_tally *tally = girdle_reckoning_tally(d->reckoning);
  const girdle_order *order = girdle_reckoning_order(d->reckoning);
  switch (paper) {
    case PLACEMENTS:
      return girdle_paper_placements_csv(call, d->job, sink);
    case COUNTS:
      return girdle_paper_counts_csv(call, tally, sink);
    case ORDER:
      return girdle_paper_order_csv(call, order, sink);
    case COUNTS_JSON:
      return girdle_paper_counts_json(call, d->job, tally, sink);
    case CLUB_JSON:
      return girdle_paper_club_json(call, d->club, d->reckoning, sink);
    case COUNTS_TEXT:
      return girdle_paper_counts_text(call, d->job, tally, sink);
    case COST_TEXT:
      return girdle_paper_cost_text(call, d->club, girdle_club_jobs(d->club) - 1, d->reckoning, sink);
    case ORDER_TEXT:
      return girdle_paper_order_text(call, order, sink);
    case CALENDAR_TEXT:
      return girdle_paper_calendar_text(call, girdle_reckoning_calendar(d->reckoning), sink);
    case CAUTIONS_TEXT:
      return girdle_paper_cautions_text(call, tally, sink);
    default:
      return write_page(call, d, paper, sink);
  }
}

#endif
