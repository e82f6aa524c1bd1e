/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "text_internal.h"

#include <stdio.h>
#include <string.h>

/* ---- columns */

/* Control characters would move the cursor, colour the terminal or turn a line about. */
void girdle_write_plain(girdle_writer *out, const char *text) {
  int control;
  for (uint64_t left = strlen(text), length; left; text += length, left -= length) {
    length = girdle_common_character(text, left, &control);
    girdle_write_bytes(out, control ? " " : text, control ? 1 : length);
  }
}

void girdle_column_fit(uint64_t *width, const char *text) {
  uint64_t columns = girdle_text_columns(text);
  if (columns > *width) *width = columns;
}

void girdle_write_left(girdle_writer *out, const char *text, uint64_t width) {
  girdle_write_plain(out, text);
  girdle_write_pad(out, girdle_text_columns(text), width + 2);
}

void girdle_write_right(girdle_writer *out, const char *text, uint64_t width) {
  girdle_write_pad(out, girdle_text_columns(text), width);
  girdle_write_plain(out, text);
}

/* ---- head and sums */

static void add_word(girdle_writer *out, const char *phrase, const char *word) {
  char text[200];
  if (!word[0]) return;
  girdle_phrase_with(out->phrases, text, sizeof text, phrase, word);
  girdle_write(out, ", ");
  girdle_write_plain(out, text);
}

void girdle_write_job_head(girdle_writer *out, const girdle_job *job) {
  const girdle_job_head *head = girdle_job_head_of(job);
  char day[32] = "";
  if (head->needed_by_day != INT64_MIN) girdle_date_text(head->needed_by_day, day, sizeof day);
  girdle_write_plain(out, head->costume[0] ? head->costume : girdle_phrase(out->phrases, "Costume"));
  add_word(out, "{1}", head->tag);
  add_word(out, "size {1}", head->size);
  add_word(out, "needed by {1}", day);
  girdle_write(out, "\n\n");
}

void girdle_write_weight(girdle_writer *out, const double mass_mg[3]) {
  int32_t decimals = mass_mg[GIRDLE_NOMINAL] < 10000 ? 1 : 0; /* as many as the estimate is worth */
  char about[48], least[48], most[48];
  girdle_number_words(out->phrases, mass_mg[GIRDLE_NOMINAL] / 1000, decimals, about);
  girdle_number_words(out->phrases, mass_mg[GIRDLE_LEAST] / 1000, decimals, least);
  girdle_number_words(out->phrases, mass_mg[GIRDLE_MOST] / 1000, decimals, most);
  girdle_say_with(out, "About {1} g on the costume, likely between {2} and {3} g until a gross is weighed.", about,
                  least, most);
  girdle_write(out, "\n");
}

/* ---- counts */

typedef struct widths {
  uint64_t zone, side, stone, pieces;
} widths;

static int is_of(const girdle_tally_line *line, const char *tag) {
  return !tag || strcmp(line->tag, tag) == 0;
}

static void fit_line(const girdle_phrased *phrases, widths *wide, const girdle_tally_line *line) {
  char stone[GIRDLE_STONE_TEXT];
  girdle_stone_text(&line->stone, stone, GIRDLE_STONE_TEXT);
  girdle_column_fit(&wide->zone, line->zone);
  girdle_column_fit(&wide->side, girdle_side_words(phrases, line->side));
  girdle_column_fit(&wide->stone, stone);
}

static void write_pieces(girdle_writer *out, int64_t pieces, uint64_t width) {
  char digits[24], gross[64];
  girdle_number_text((double)pieces, 0, digits, sizeof digits);
  girdle_write_right(out, digits, width);
  if (pieces >= 144) {
    girdle_pieces_words(out->phrases, pieces, gross, sizeof gross);
    girdle_write(out, "  ");
    girdle_write(out, gross);
  }
  girdle_write(out, "\n");
}

static void write_row(girdle_writer *out, const widths *wide, const char *zone, const char *side, const char *stone,
                      int64_t pieces) {
  girdle_write_left(out, zone, wide->zone);
  if (wide->side) girdle_write_left(out, side, wide->side);
  girdle_write_left(out, stone, wide->stone);
  write_pieces(out, pieces, wide->pieces);
}

/* The zone is named on its first line only. */
static void write_lines(girdle_writer *out, const widths *wide, const girdle_tally_line *lines, uint64_t count,
                        const char *tag) {
  const girdle_tally_line *last = NULL;
  for (uint64_t i = 0; i < count && !out->status; i++) {
    char stone[GIRDLE_STONE_TEXT];
    int same = last && strcmp(last->zone, lines[i].zone) == 0 && strcmp(last->side, lines[i].side) == 0;
    if (!is_of(&lines[i], tag)) continue;
    girdle_stone_text(&lines[i].stone, stone, GIRDLE_STONE_TEXT);
    write_row(out, wide, same ? "" : lines[i].zone, same ? "" : girdle_side_words(out->phrases, lines[i].side), stone,
              lines[i].count);
    last = &lines[i];
  }
}

static int32_t tally_of(girdle_call *call, const girdle_tally *tally, const char *tag, girdle_tally **out) {
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &count);
  GIRDLE_TRY(girdle_tally_new(call, out));
  for (uint64_t i = 0; i < count; i++) {
    int32_t status = is_of(&lines[i], tag)
                         ? girdle_tally_add_pieces(call, *out, "", "", "", &lines[i].stone, lines[i].count)
                         : GIRDLE_OK;
    if (!status) continue;
    girdle_tally_free(*out);
    return status;
  }
  return GIRDLE_OK;
}

int32_t girdle_tally_of_tag(girdle_call *call, const girdle_tally *tally, const char *tag, girdle_tally **out) {
  girdle_tally *own;
  int32_t status;
  GIRDLE_TRY(tally_of(call, tally, tag, &own));
  status = girdle_tally_by_stone(call, own, out);
  girdle_tally_free(own);
  return status;
}

static void write_sums(girdle_writer *out, const widths *wide, const girdle_tally *sums) {
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(sums, &count);
  girdle_tally_line all;
  girdle_tally_total(sums, &all);
  girdle_write(out, "\n");
  for (uint64_t i = 0; i < count; i++) {
    char stone[GIRDLE_STONE_TEXT];
    girdle_stone_text(&lines[i].stone, stone, GIRDLE_STONE_TEXT);
    write_row(out, wide, i ? "" : girdle_phrase(out->phrases, "in all"), "", stone, lines[i].count);
  }
  if (count > 1) write_row(out, wide, girdle_phrase(out->phrases, "together"), "", "", all.count);
  girdle_write(out, "\n");
  if (all.count) girdle_write_weight(out, all.mass_mg);
}

static void fit_headings(const girdle_phrased *phrases, widths *wide) {
  static const char *const words[] = {"zone", "in all", "together"};
  for (size_t i = 0; i < 3; i++)
    girdle_column_fit(&wide->zone, girdle_phrase(phrases, words[i]));
  girdle_column_fit(&wide->stone, girdle_phrase(phrases, "stone"));
  girdle_column_fit(&wide->pieces, girdle_phrase(phrases, "pieces"));
}

int32_t girdle_paper_counts_text(girdle_call *call, const girdle_job *job, const girdle_tally *tally,
                                 const girdle_sink *sink) {
  GIRDLE_GIVEN(call, tally, sink);
  girdle_writer out;
  girdle_tally *sums;
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(tally, &count);
  const char *tag = job ? girdle_job_head_of(job)->tag : NULL;
  widths wide = {0, 0, 0, 6};
  GIRDLE_TRY(girdle_tally_of_tag(call, tally, tag, &sums));
  girdle_writer_begin(&out, call, sink);
  fit_headings(out.phrases, &wide);
  for (uint64_t i = 0; i < count; i++)
    if (is_of(&lines[i], tag)) fit_line(out.phrases, &wide, &lines[i]);
  if (job) girdle_write_job_head(&out, job);
  girdle_write_left(&out, girdle_phrase(out.phrases, "zone"), wide.zone);
  if (wide.side) girdle_write_left(&out, girdle_phrase(out.phrases, "side"), wide.side);
  girdle_write_left(&out, girdle_phrase(out.phrases, "stone"), wide.stone);
  girdle_write_right(&out, girdle_phrase(out.phrases, "pieces"), wide.pieces);
  girdle_write(&out, "\n");
  write_lines(&out, &wide, lines, count, tag);
  write_sums(&out, &wide, sums);
  girdle_tally_free(sums);
  return girdle_writer_end(&out);
}
