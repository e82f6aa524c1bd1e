/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_PAPER_INTERNAL_H
#define GIRDLE_PAPER_INTERNAL_H

/* What the parts of paper share: gathering the faults of a file, reading typed cells of a table, and writing to a
 * sink. */

#include <stdarg.h>

#include "common.h"
#include "girdle/paper.h"

/* ---- faults of a file: each is reported as it is found, and the first is the call's error in the end. */

enum { GIRDLE_MOST_FAULTS = 100, GIRDLE_MOST_COLUMNS = 1000 };

typedef struct girdle_faults {
  girdle_call *call;
  const char *source;
  int32_t status; /* of the first fault; GIRDLE_OK while there is none */
  int32_t count;
  girdle_error first;
} girdle_faults;

void girdle_faults_begin(girdle_faults *faults, girdle_call *call, const char *source);
/* Takes `status` and the call's error as one fault at a place of the file. Returns non-zero when reading must not go
 * on: out of memory, stopped, or too many faults. GIRDLE_OK is no fault. */
int girdle_faults_take(girdle_faults *faults, int32_t status, int32_t line, int32_t column);
/* The status of the first fault, which becomes the call's error again. */
int32_t girdle_faults_end(girdle_faults *faults);

/* ---- tables */

/* Line and column (characters from 1) of a cell; the heading's for row UINT64_MAX. */
void girdle_table_place(const girdle_table *table, uint64_t row, uint64_t column, int32_t *line, int32_t *character);

/* Writes a heading as tables keep it: small letters, "_" for blanks. */
void girdle_table_fold(char *heading);

/* A table being read row by row. */
typedef struct girdle_rows {
  girdle_call *call;
  const girdle_table *table;
  girdle_faults faults;
  uint64_t row;
  int stop;
} girdle_rows;

void girdle_rows_begin(girdle_rows *rows, girdle_call *call, const char *source, const girdle_table *table);
/* Checks the headings: the first `required` of the known ones must be there; a heading close to a known one but not
 * equal is a fault unless others_allowed (they are measures). */
void girdle_rows_headings(girdle_rows *rows, const char *const *known, uint64_t count, uint64_t required,
                          int others_allowed);
/* The cell under a heading in the current row, "" when the column is missing. */
const char *girdle_rows_cell(const girdle_rows *rows, const char *heading);
/* Takes a status as a fault of the cell under a heading; returns 1 when it was GIRDLE_OK. */
int girdle_rows_check(girdle_rows *rows, const char *heading, int32_t status);
/* Each reads one cell, takes what is wrong with it as a fault, and returns 1 when the value is good. */
int girdle_rows_text(girdle_rows *rows, const char *heading, char *field, uint64_t bytes, int required);
int girdle_rows_whole(girdle_rows *rows, const char *heading, int64_t least, int64_t most, int64_t fallback,
                      int64_t *out);
int girdle_rows_yes(girdle_rows *rows, const char *heading, int32_t *out);
int girdle_rows_date(girdle_rows *rows, const char *heading, int64_t fallback, int64_t *out);
int girdle_rows_stone(girdle_rows *rows, const char *heading, girdle_stone *out);

/* The unit a heading ends in ("neckline_cm": "cm"), and its length without; NULL when it ends in none. */
const char *girdle_heading_unit(const char *heading, uint64_t *stem_bytes);

/* ---- phrases: English is what the code says; what it becomes is looked up. `phrases` is the sink's, or NULL. */

extern const char *const girdle_english[]; /* the table of all phrases (phrases_english.c) */
extern const uint64_t girdle_english_count;
const girdle_phrased *girdle_sink_phrases(const girdle_sink *sink); /* NULL when the sink has none */
const char *girdle_phrase(const girdle_phrased *phrases, const char *english);
/* {1}, {2} ... are filled with the arguments, const char * each, as many as the English has. */
void girdle_phrase_with(const girdle_phrased *phrases, char *out, uint64_t bytes, const char *english, ...);
void girdle_phrase_list(const girdle_phrased *phrases, char *out, uint64_t bytes, const char *english, va_list list);
/* A text that another room made of a phrase and its arguments. */
void girdle_phrase_again(const girdle_phrased *phrases, char *out, uint64_t bytes, const char *text);
/* A number with the decimal mark of one's own; pieces as "6 gross and 102". */
void girdle_number_words(const girdle_phrased *phrases, double value, int32_t decimals, char text[48]);
void girdle_pieces_words(const girdle_phrased *phrases, int64_t pieces, char *text, uint64_t bytes);

/* Whether lengths are given in inches; a length as "4.7 mm" or "0.185 in"; an extent as "12.3 x 4.5 cm". */
int girdle_in_inches(const girdle_phrased *phrases);
void girdle_length_words(const girdle_phrased *phrases, double mm, int32_t decimals, char *text, uint64_t bytes);
void girdle_extent_words(const girdle_phrased *phrases, double wide_mm, double high_mm, char *text, uint64_t bytes);

/* ---- what several papers say */

enum { GIRDLE_STONE_TEXT = 256, GIRDLE_ZONE_TEXT = 96 };

/* A zone as paper calls it: its name, with its side behind when the job has that name on several sides. */
void girdle_zone_text(const girdle_zone *zones, uint64_t count, uint64_t index, char text[GIRDLE_ZONE_TEXT]);
/* The same with the side in one's own words. */
void girdle_zone_words(const girdle_phrased *phrases, const girdle_zone *zones, uint64_t count, uint64_t index,
                       char text[GIRDLE_ZONE_TEXT]);
/* "both" as people say it: "front and back". */
const char *girdle_side_words(const girdle_phrased *phrases, const char *side);

/* ---- writing: gathered in a buffer, handed to the sink in pieces. The first failure stays and later calls do
 * nothing, so only the end needs looking at. */

typedef struct girdle_writer {
  girdle_call *call;
  const girdle_sink *sink;
  const girdle_phrased *phrases; /* the sink's */
  int32_t status, reserved;
  uint64_t used;
  char buffer[16384];
} girdle_writer;

void girdle_writer_begin(girdle_writer *writer, girdle_call *call, const girdle_sink *sink);
int32_t girdle_writer_end(girdle_writer *writer);
void girdle_write_bytes(girdle_writer *writer, const void *bytes, uint64_t count);
/* Room for at most `bytes` (up to 8192) at the end of the buffer, and how much of it was used. */
char *girdle_writer_room(girdle_writer *writer, uint64_t bytes);
void girdle_writer_take(girdle_writer *writer, uint64_t bytes);
void girdle_write(girdle_writer *writer, const char *text);
/* Like printf, up to 1000 bytes; never with %f, %e or %g. */
void girdle_write_format(girdle_writer *writer, const char *format, ...) GIRDLE_PRINTF(2, 3);
void girdle_write_whole(girdle_writer *writer, int64_t value);
/* At most `decimals` decimals, no trailing zeros. */
void girdle_write_number(girdle_writer *writer, double value, int32_t decimals);
/* Exactly `decimals` (0 to 6) decimals, rounded half away from zero; for values below 1e12. */
void girdle_write_fixed(girdle_writer *writer, double value, int32_t decimals);
/* The same into a buffer, without a NUL; returns its length. */
uint64_t girdle_fixed_text(double value, int32_t decimals, char text[32]);
/* The same without trailing zeros. */
uint64_t girdle_short_text(double value, int32_t decimals, char text[32]);
/* Text as XML and HTML take it, in elements and in quoted attributes alike. */
void girdle_write_xml(girdle_writer *writer, const char *text);
/* A phrase as plain text; with arguments; and the same as XML. */
void girdle_say(girdle_writer *writer, const char *english);
void girdle_say_with(girdle_writer *writer, const char *english, ...);
void girdle_say_xml(girdle_writer *writer, const char *english);
void girdle_say_xml_with(girdle_writer *writer, const char *english, ...);
/* One CSV field, quoted when it must be, defused when a spreadsheet would take it for a formula. */
void girdle_write_cell(girdle_writer *writer, const char *text);
/* Spaces (or what `fill` is) so that text of so many columns fills `width`. */
void girdle_write_pad(girdle_writer *writer, uint64_t have, uint64_t width);
/* Columns a terminal needs for UTF-8 text: combining marks none, wide characters two. */
uint64_t girdle_text_columns(const char *text);

/* One character of UTF-8: its length in bytes and its number; 0 when the bytes are no UTF-8. */
uint64_t girdle_utf8_read(const char *text, uint64_t bytes, uint32_t *character);

/* A cell that a spreadsheet would take for a formula is written with an apostrophe before it; reading takes it off.
 * 1 when `text`, after any apostrophes, begins like a formula. */
int girdle_looks_like_formula(const char *text);

#endif
