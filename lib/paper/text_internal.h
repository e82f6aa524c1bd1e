/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TEXT_INTERNAL_H
#define GIRDLE_TEXT_INTERNAL_H

/* What the plain texts share: columns by display width, heads, money. */

#include "paper_internal.h"

/* Text without control characters, which become spaces. */
void girdle_write_plain(girdle_writer *out, const char *text);
/* Widens a column to a text. */
void girdle_column_fit(uint64_t *width, const char *text);
/* Text in a column: to its left side with two spaces behind, or to its right side. */
void girdle_write_left(girdle_writer *out, const char *text, uint64_t width);
void girdle_write_right(girdle_writer *out, const char *text, uint64_t width);

/* "Frost, F-07, size 140, needed by 2031-03-14" and an empty line. */
void girdle_write_job_head(girdle_writer *out, const girdle_job *job);
/* "About 5.2 g on the costume, likely between 4.4 and 6.1 g until a gross is weighed." */
void girdle_write_weight(girdle_writer *out, const double mass_mg[3]);
/* "2031-03-14 Fri". */
void girdle_day_words(const girdle_phrased *phrases, int64_t day, char text[64]);
/* "2 h 05 min", or "45 min". */
void girdle_minutes_words(const girdle_phrased *phrases, double minutes, char text[64]);
/* "3 evenings": one phrase for one, another for several. */
void girdle_count_words(const girdle_phrased *phrases, int64_t count, const char *one, const char *several, char *text,
                        uint64_t bytes);
/* An amount, with or without its code, with the decimal mark of one's own. */
void girdle_money_words(const girdle_phrased *phrases, int64_t minor, const girdle_currency *currency,
                        int32_t with_code, char text[64]);
/* A whole number as text. */
void girdle_whole_words(int64_t value, char text[24]);

/* "Spares: 5 % of each stone ...", and whether that is an assumption or learned from so many jobs. */
void girdle_basis_words(const girdle_phrased *phrases, const girdle_order *order, char *text, uint64_t bytes);
/* From where a use is worked: "lot autumn 2030, in stock". */
void girdle_lot_words(const girdle_phrased *phrases, const girdle_order *order, const girdle_lot_use *use, char *text,
                      uint64_t bytes);
/* For tables: "whole", or why a line is worked in parts. */
const char *girdle_line_words(const girdle_lot_use *use);
/* How many of the order's uses, from number `at` on, are of one line of the tally. They stand in the tally's order. */
uint64_t girdle_lot_uses_of(const girdle_order *order, const girdle_tally_line *line, uint64_t at);
/* The lots of each stone that is worked from more than one. */
void girdle_write_lots(girdle_writer *out, const girdle_order *order);

/* What a day of the calendar is for, as its English phrase. */
const char *girdle_event_words(int32_t kind);
/* The English phrases of the cautions that always apply, and of the one about lead that these stones want; NULL when
 * none does. */
const char *const *girdle_caution_words(uint64_t *count);
const char *girdle_lead_words(const girdle_tally *tally);

/* One line a stone of the lines of a tag; NULL: of all. */
int32_t girdle_tally_of_tag(girdle_call *call, const girdle_tally *tally, const char *tag, girdle_tally **out);

#endif
