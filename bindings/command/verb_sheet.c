/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <stdio.h>
#include <string.h>

#include "common.h"

/* sheet and offer: what the maker works from, and what the customer reads. */

/* ---- sheet */

enum { MOST_PHOTO_BYTES = 32 << 20 };

/* The path of TAG's photo in a folder of them; 0 when there is none. */
static int find_photo(program *with, const char *tag, char *path, uint64_t bytes) {
  static const char *const endings[] = {"jpg", "jpeg", "png"};
  for (size_t at = 0; at < sizeof endings / sizeof endings[0]; at++) {
    char name[128];
    snprintf(name, sizeof name, "%s.%s", tag, endings[at]);
    if (strchr(tag, '/') || file_join(with, with->flags.photo, name, path, bytes)) return 0;
    if (file_exists(path)) return 1;
  }
  return 0;
}

static int32_t read_photo(program *with, const char *tag, buffer *out) {
  char path[COMMAND_PATH];
  const char *file = with->flags.photo;
  if (!file) return GIRDLE_OK;
  if (!file_is_folder(file)) return file_read(with, file, MOST_PHOTO_BYTES, out);
  return find_photo(with, tag, path, sizeof path) ? file_read(with, path, MOST_PHOTO_BYTES, out) : GIRDLE_OK;
}

static int32_t sheet_html(program *with, const girdle_club *club, uint64_t job, const girdle_reckoning *of,
                          buffer *to) {
  girdle_sink sink = paper_sink(with, to);
  girdle_sheet_options options;
  buffer photo = {0};
  int32_t status = read_photo(with, girdle_job_head_of(girdle_club_job(club, job))->tag, &photo);
  girdle_sheet_options_init(&options, sizeof options);
  options.flags = with->flags.names ? GIRDLE_SHEET_NAMES : 0;
  options.photo = photo.bytes;
  options.photo_bytes = photo.count;
  if (!status) status = girdle_paper_sheet_html(&with->call, club, job, of, &options, &sink);
  buffer_free(&photo);
  return status;
}

static int32_t guides_pdf(program *with, const girdle_job *job, buffer *to) {
  girdle_print_options options;
  girdle_sink sink = paper_sink(with, to);
  GIRDLE_TRY(flags_print(with, &options));
  return girdle_paper_guides_pdf(&with->call, job, &options, &sink);
}

static int32_t files_of(program *with, const girdle_club *club, uint64_t job, const girdle_reckoning *of) {
  const char *tag = girdle_job_head_of(girdle_club_job(club, job))->tag;
  char name[64];
  buffer *file;
  GIRDLE_TRY(output_name_check(with, tag));
  snprintf(name, sizeof name, "%s.html", tag);
  if (!(file = output_add(with, name))) return GIRDLE_ARGUMENT;
  GIRDLE_TRY(sheet_html(with, club, job, of, file));
  snprintf(name, sizeof name, "%s-guides.pdf", tag);
  if (!(file = output_add(with, name))) return GIRDLE_ARGUMENT;
  return guides_pdf(with, girdle_club_job(club, job), file);
}

static int32_t shared_files(program *with, const girdle_reckoning *of) {
  const girdle_calendar *calendar = girdle_reckoning_calendar(of);
  buffer *file = output_add(with, "bags.html");
  girdle_sink sink = paper_sink(with, file);
  if (!file) return GIRDLE_ARGUMENT;
  GIRDLE_TRY(girdle_paper_bags_html(&with->call, of, &sink));
  if (!calendar) return GIRDLE_OK;
  file = output_add(with, "calendar.ics");
  sink = paper_sink(with, file);
  return file ? girdle_paper_calendar_ics(&with->call, calendar, with->today, &sink) : GIRDLE_ARGUMENT;
}

static int32_t sheets(program *with, const girdle_club *club, const girdle_reckoning *of) {
  uint64_t from, to;
  GIRDLE_TRY(work_chosen(with, club, &from, &to));
  if (with->flags.photo && to - from > 1 && !file_is_folder(with->flags.photo))
    return command_usage(with, "of many sheets --photo is a folder of photos: TAG.jpg or TAG.png");
  if (!with->flags.out && to - from > 1)
    return command_usage(with, "a club has many sheets: give --out FOLDER, or choose one with tag=TAG");
  if (!with->flags.out && with->flags.pdf) return guides_pdf(with, girdle_club_job(club, from), &with->result);
  if (!with->flags.out) return sheet_html(with, club, from, of, &with->result);
  for (uint64_t at = from; at < to; at++)
    GIRDLE_TRY(files_of(with, club, at, of));
  return shared_files(with, of);
}

/* Prices are asked for only when they are named: a sheet needs none. */
static int32_t reckon(program *with, const char *file, int how, girdle_club **club, girdle_reckoning **out) {
  GIRDLE_TRY(work_file(with, file, how, club));
  return girdle_club_reckon(&with->call, *club, with->today, out);
}

int32_t verb_sheet(program *with) {
  girdle_club *club = NULL;
  girdle_reckoning *of = NULL;
  int32_t status;
  if (!with->flags.file_count) return command_usage(with, "which FILE?");
  if (with->flags.csv || with->flags.json) return command_usage(with, "a sheet is HTML, or with --pdf pages");
  status = reckon(with, with->flags.files[0], with->flags.prices ? WORK_PRICES : 0, &club, &of);
  if (!status) status = sheets(with, club, of);
  girdle_reckoning_free(of);
  girdle_club_free(club);
  return status;
}

/* ---- offer */

enum { MOST_OFFERS = 6 };

typedef struct offered {
  char label[64];
  girdle_club *club;
  girdle_reckoning *of;
} offered;

/* Of a club the one costume that tag=TAG names. */
static int32_t fill(program *with, uint64_t at, offered *one, girdle_offer *out) {
  const char *file = with->flags.files[at];
  uint64_t from, to;
  GIRDLE_TRY(reckon(with, file, WORK_PRICES, &one->club, &one->of));
  GIRDLE_TRY(work_chosen(with, one->club, &from, &to));
  if (to - from > 1) return command_usage(with, "a club has many costumes: choose one with tag=TAG");
  if (work_is_club(with, file)) /* whose folder has the club's name */
    girdle_common_text(one->label, sizeof one->label, girdle_job_head_of(girdle_club_job(one->club, from))->costume);
  else
    file_base_name(file, one->label, sizeof one->label);
  out->label = one->label;
  out->club = one->club;
  out->job = from;
  out->reckoning = one->of;
  return GIRDLE_OK;
}

int32_t verb_offer(program *with) {
  offered all[MOST_OFFERS];
  girdle_offer offers[MOST_OFFERS];
  girdle_sink sink = paper_sink(with, &with->result);
  int32_t status = GIRDLE_OK;
  memset(all, 0, sizeof all);
  memset(offers, 0, sizeof offers);
  if (!with->flags.file_count) return command_usage(with, "which FILE?");
  if (with->flags.csv || with->flags.json || with->flags.pdf) return command_usage(with, "an offer is an HTML page");
  for (uint64_t at = 0; at < with->flags.file_count && !status; at++)
    status = fill(with, at, &all[at], &offers[at]);
  if (!status) status = girdle_paper_offer_html(&with->call, offers, with->flags.file_count, &sink);
  for (uint64_t at = 0; at < with->flags.file_count; at++) {
    girdle_reckoning_free(all[at].of);
    girdle_club_free(all[at].club);
  }
  return status;
}
