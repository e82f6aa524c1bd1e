/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_PAPER_H
#define GIRDLE_PAPER_H

/* paper: reads drawings and tables, writes tables, maps and sheets. Buffers in, a sink out; no files, no network.
 *
 * NULL as base.h says. Besides, `source` may be NULL wherever something is read: then faults name none. */

#include "girdle/job.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What it links, with versions: "expat 2.5.0, libharu 2.3.0, jansson 2.14". Two-call buffer: returns the length needed
 * without the NUL; writes at most `bytes` with the NUL. */
GIRDLE_API uint64_t girdle_paper_libraries(char *buffer, uint64_t bytes);

/* A table read from CSV (RFC 4180; CRLF, quotes, a byte order mark; comma, semicolon or tab, found from the header).
 * Header names are folded to lower case, spaces to "_". Immutable. */
typedef struct girdle_table girdle_table;
/* Reads a table; `source` names it in errors, which carry line and column. The bytes are copied. */
GIRDLE_API int32_t girdle_table_read(girdle_call *call, const char *source, const char *text, uint64_t bytes,
                                     girdle_table **out);
GIRDLE_API void girdle_table_free(girdle_table *table); /* NULL is fine */
/* How many rows follow the header. */
GIRDLE_API uint64_t girdle_table_rows(const girdle_table *table);
/* How many columns the header has. */
GIRDLE_API uint64_t girdle_table_columns(const girdle_table *table);
GIRDLE_API const char *girdle_table_heading(const girdle_table *table, uint64_t column); /* NULL past the end */
GIRDLE_API int64_t girdle_table_column(const girdle_table *table, const char *heading);  /* -1 when missing, or NULL */
GIRDLE_API const char *girdle_table_cell(const girdle_table *table, uint64_t row, uint64_t column); /* never NULL */
GIRDLE_API int32_t girdle_table_line(const girdle_table *table, uint64_t row); /* line of the file, from 1 */

/* Reads zones.csv. The rows belong to *out, freed with girdle_zone_rows_free. */
typedef struct girdle_zone_rows girdle_zone_rows;
/* Reads a table of zones; each fault goes to the call's report, the status is that of the first. Freed with
 * girdle_zone_rows_free. Under length, width and gap a number with one word behind it must be a length (then perhaps
 * "worn" or "glued"); anything else may be the name of a measure. */
GIRDLE_API int32_t girdle_paper_read_zones(girdle_call *call, const char *source, const char *text, uint64_t bytes,
                                           girdle_zone_rows **out);
/* The rows in the order of the file; valid until they are freed. */
GIRDLE_API const girdle_zone_row *girdle_zone_rows_view(const girdle_zone_rows *rows, uint64_t *count);
GIRDLE_API void girdle_zone_rows_free(girdle_zone_rows *rows); /* NULL is fine */

/* The tables of a club's folder, in the order in which they must be read. */
enum {
  GIRDLE_FILE_SIZES,
  GIRDLE_FILE_CLUB,
  GIRDLE_FILE_SUPPLIERS,
  GIRDLE_FILE_PRICES,
  GIRDLE_FILE_COLOURS,
  GIRDLE_FILE_STOCK,
  GIRDLE_FILE_RATES,
  GIRDLE_FILE_LOG,
  GIRDLE_FILE_END
};
/* "sizes.csv" and so on; NULL past the end. */
GIRDLE_API const char *girdle_paper_club_file(int32_t file);
/* Reads one table into a club. Every fault of the file is reported to the call; the status is that of the first. On an
 * error the club may hold part of the file and is only good for freeing. */
GIRDLE_API int32_t girdle_paper_read_club(girdle_call *call, girdle_club *club, int32_t file, const char *source,
                                          const char *text, uint64_t bytes);

/* The named outlines of an SVG drawing, in millimetres, named by `id`, then by title. */
typedef struct girdle_drawing girdle_drawing;
/* Reads a drawing; `source` names it in errors. Of styles only `display: none` in a style attribute is followed; one
 * that sets a size or a place, and a style sheet that does or that hides, is GIRDLE_UNKNOWN with its line. No file and
 * no address that the drawing names is ever opened. */
GIRDLE_API int32_t girdle_paper_read_svg(girdle_call *call, const char *source, const char *text, uint64_t bytes,
                                         girdle_drawing **out);
/* Where bytes come from: writes at most `most` of them to the buffer and returns how many, 0 at the end, less than 0
 * when they cannot be read. */
typedef struct girdle_tap {
  void *context;
  int64_t (*read)(void *context, void *buffer, uint64_t most);
} girdle_tap;
/* The same of a file of any size, read piece by piece. All outlines together may have 1,000,000 points (GIRDLE_LIMIT),
 * half as many when the drawing's units are not millimetres: below 256 MB of memory, whatever the file holds.
 * GIRDLE_STOPPED when the tap fails. */
GIRDLE_API int32_t girdle_paper_read_svg_from(girdle_call *call, const char *source, const girdle_tap *from,
                                              girdle_drawing **out);
GIRDLE_API void girdle_drawing_free(girdle_drawing *drawing); /* NULL is fine */
/* How many outlines have a name. */
GIRDLE_API uint64_t girdle_drawing_count(const girdle_drawing *drawing);
/* The name of one outline; NULL past the end. Valid as long as the drawing. */
GIRDLE_API const char *girdle_drawing_name(const girdle_drawing *drawing, uint64_t index);
/* One outline; NULL past the end. It belongs to the drawing. */
GIRDLE_API const girdle_path *girdle_drawing_path(const girdle_drawing *drawing, uint64_t index);

/* Reads placements, as girdle_paper_placements_csv writes them, into zones of a job: one for each name, its rows side
 * by side. Columns may stand in any order and be quoted; turn_deg may be missing or empty. A diameter_mm that is not
 * the stone's is GIRDLE_ARGUMENT. Every fault is reported to the call; the status is that of the first. On an error the
 * job may hold some of the zones. */
GIRDLE_API int32_t girdle_paper_read_placements(girdle_call *call, const char *source, const char *text, uint64_t bytes,
                                                girdle_job *job);

/* Placements of all zones: zone,row,stone,x_mm,y_mm,diameter_mm,turn_deg. */
GIRDLE_API int32_t girdle_paper_placements_csv(girdle_call *call, const girdle_job *job, const girdle_sink *sink);
/* tag,zone,side,stone,count. */
GIRDLE_API int32_t girdle_paper_counts_csv(girdle_call *call, const girdle_tally *tally, const girdle_sink *sink);
/* supplier,stone,item,pack,packs,price,cost. */
GIRDLE_API int32_t girdle_paper_order_csv(girdle_call *call, const girdle_order *order, const girdle_sink *sink);
/* From which lot or supplier each line of the tally is worked: tag,zone,side,stone,pieces,from,lot,line. `from` is
 * "stock", "bought" or, for pieces that nobody has, empty; `line` is "whole", or for a part "mixed", "longer than any
 * lot" or "missing". */
GIRDLE_API int32_t girdle_paper_lots_csv(girdle_call *call, const girdle_order *order, const girdle_sink *sink);
/* A map at 1:1 in millimetres, one group a zone, a legend and a 100 mm ruler. Each stone is one
 * <circle class="stone"> (fancy ones <use class="stone">); nothing else bears that class. */
GIRDLE_API int32_t girdle_paper_map_svg(girdle_call *call, const girdle_job *job, const girdle_sink *sink);

/* How papers are printed. */
enum { GIRDLE_PAGE_A4, GIRDLE_PAGE_LETTER, GIRDLE_PAGE_END };
enum { GIRDLE_PRINT_MIRRORED = 1 /* zones as seen from the back of the fabric */ };
typedef struct girdle_print_options {
  uint32_t struct_bytes, flags;
  int32_t page, reserved;
  const void *font; /* the bytes of a TrueType font to embed; NULL: Latin letters only, in a font every reader has */
  uint64_t font_bytes;
  const void *other_font; /* another one beside it, for characters that `font` lacks; NULL none */
  uint64_t other_font_bytes;
} girdle_print_options;
/* Fills in the defaults that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_print_options_init(girdle_print_options *options, uint32_t struct_bytes);
/* girdle_paper_map_svg with the flags of these options, NULL for the defaults; it has no pages, and the reader's fonts.
 * A zone is mirrored within its own box, as in girdle_paper_map_pdf. */
GIRDLE_API int32_t girdle_paper_map_svg_with(girdle_call *call, const girdle_job *job,
                                             const girdle_print_options *options, const girdle_sink *sink);

/* The map as PDF at 1:1. The first page has the key, a map of the pages and a 100 mm ruler; a zone that fits on a page
 * stands whole, a larger one goes over several with 15 mm of overlap and crosses to lay on each other. A character that
 * the font lacks is printed "?" and named on the first page. The bytes are the same for the same job, options and
 * versions of libharu and zlib, whose own memory comes from malloc. options NULL: the defaults, here and below. */
GIRDLE_API int32_t girdle_paper_map_pdf(girdle_call *call, const girdle_job *job, const girdle_print_options *options,
                                        const girdle_sink *sink);

/* Guides at 1:1 for a dress that no map can be laid under: for each line of stones a strip to lay along the seam, for
 * each area a card with a square of 10 cm as dense as it is meant, and so many of each stone in it: on average, by all
 * of its stones and its area, so that they last to the edges; the square drawn is one of the placement, as near to that
 * as there is. */
GIRDLE_API int32_t girdle_paper_guides_pdf(girdle_call *call, const girdle_job *job,
                                           const girdle_print_options *options, const girdle_sink *sink);

/* How many stones a length and an area take, for sizes and gaps: per 10 cm and 10 x 10 cm, per inch and square inch, in
 * a line, in honeycomb and in square rows; far from any edge, where a line takes 1 / (size + gap). */
enum { GIRDLE_FORM_TEXT, GIRDLE_FORM_CSV, GIRDLE_FORM_JSON, GIRDLE_FORM_PDF, GIRDLE_FORM_END };
typedef struct girdle_tables_options {
  uint32_t struct_bytes;
  int32_t form; /* text for people, CSV, JSON, or a page on which each size is drawn as large as it is */
  const girdle_size *sizes;
  uint64_t size_count;
  const double *gaps_mm;             /* 0 to 1000 */
  uint64_t gap_count;                /* together at most 10,000 rows */
  const girdle_print_options *print; /* of the page; NULL: the defaults */
} girdle_tables_options;
/* Fills in the defaults: no sizes, no gaps, text; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_tables_options_init(girdle_tables_options *options, uint32_t struct_bytes);
/* Writes the tables that the options ask for; NULL: the defaults. */
GIRDLE_API int32_t girdle_paper_tables(girdle_call *call, const girdle_tables_options *options,
                                       const girdle_sink *sink);

/* What a maker's sheet shows beside the costume. */
enum { GIRDLE_SHEET_NAMES = 1 /* the wearer's name */ };
typedef struct girdle_sheet_options {
  uint32_t struct_bytes, flags;
  const void *photo; /* of the costume, PNG or JPEG, in place of our figure; its notes of place and day are left out, as
                      * is whatever follows the end of the picture */
  uint64_t photo_bytes; /* at most 32 MiB */
} girdle_sheet_options;
/* Fills in the defaults: no name, our figure; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_sheet_options_init(girdle_sheet_options *options, uint32_t struct_bytes);

/* The maker's sheet: one HTML file without anything from outside, for screen (light and dark) and print: counts, what
 * to lay ready, the zones with pictures and ticks that the browser remembers, weights, cautions, and a card to fill in.
 * options NULL: the defaults. */
GIRDLE_API int32_t girdle_paper_sheet_html(girdle_call *call, const girdle_club *club, uint64_t job,
                                           const girdle_reckoning *reckoning, const girdle_sheet_options *options,
                                           const girdle_sink *sink);

/* A club's bags as one HTML file to print: a picking list stone by stone, and a label for each bag (tag, zone, side,
 * stone, pieces, spares, grams to fill by scale). Wearers' names are not in it. */
GIRDLE_API int32_t girdle_paper_bags_html(girdle_call *call, const girdle_reckoning *reckoning,
                                          const girdle_sink *sink);

/* The customer's page as one HTML file: each offer with its price and the day it is ready, beside gluing it oneself and
 * hiring or buying one that is done; a care card and a label for each repair kit. All pictures are to one scale. Of
 * offers of several costumes none gives the page its name. It shows no cost prices. */
typedef struct girdle_offer {
  const char *label; /* "light", "medium", "full" */
  const girdle_club *club;
  uint64_t job;
  const girdle_reckoning *reckoning;
} girdle_offer;
GIRDLE_API int32_t girdle_paper_offer_html(girdle_call *call, const girdle_offer *offers, uint64_t count,
                                           const girdle_sink *sink); /* 1 to 6 offers */

/* The calendar as iCalendar (RFC 5545). today: days since 1970-01-01, the time stamp of its entries. Their UIDs hold a
 * hash of the club's tags and of what is worked on each, so that two clubs do not share one and the same club keeps its
 * own. */
GIRDLE_API int32_t girdle_paper_calendar_ics(girdle_call *call, const girdle_calendar *calendar, int64_t today,
                                             const girdle_sink *sink);

/* Phrases of one's own in place of the English ones, for every paper for people. They are read from a table with the
 * columns `english` and `own`, in which {1}, {2} ... stand for what is filled in; an English phrase that is not known
 * is GIRDLE_UNKNOWN with the nearest, a phrase that is missing or empty stays English. "." is the decimal mark. */
typedef struct girdle_phrases girdle_phrases;                        /* immutable */
GIRDLE_API const char *const *girdle_paper_phrases(uint64_t *count); /* all English phrases */
/* Reads such a table; `source` names it in errors. Freed with girdle_phrases_free. */
GIRDLE_API int32_t girdle_paper_read_phrases(girdle_call *call, const char *source, const char *text, uint64_t bytes,
                                             girdle_phrases **out);
GIRDLE_API void girdle_phrases_free(girdle_phrases *phrases); /* NULL is fine */
/* A sink through which papers speak with these phrases; both must outlive its use. */
enum {
  GIRDLE_PHRASED_INCHES = 1, /* lengths for people in inches; drawings stay at true size, tables for programs metric */
  GIRDLE_PHRASED_COMMA = 2   /* a decimal comma, when the phrases have no mark of their own */
};
typedef struct girdle_phrased {
  const girdle_phrases *phrases; /* NULL: English */
  girdle_sink sink;
  uint32_t flags, reserved; /* 0 */
} girdle_phrased;
/* The sink to hand to a paper; what it writes goes on, in these phrases, to the sink in `with`. */
GIRDLE_API girdle_sink girdle_phrased_sink(girdle_phrased *with);

/* One phrase in these words, with {1}, {2} ... filled in by the arguments (at most 9, NULL for none): for programs that
 * print beside papers. `with` NULL, or a phrase that is not in the table: as it is written. Two-call buffer: returns
 * the length needed without the NUL; writes at most `bytes` with the NUL. A text longer than 999 bytes is cut. */
GIRDLE_API uint64_t girdle_phrase_text(const girdle_phrased *with, const char *english, const char *const *arguments,
                                       uint64_t count, char *buffer, uint64_t bytes);

/* The counts as plain text for people; job NULL: those of every tag of the tally. */
GIRDLE_API int32_t girdle_paper_counts_text(girdle_call *call, const girdle_job *job, const girdle_tally *tally,
                                            const girdle_sink *sink);
/* What one job of a club costs and what to charge. */
GIRDLE_API int32_t girdle_paper_cost_text(girdle_call *call, const girdle_club *club, uint64_t job,
                                          const girdle_reckoning *reckoning, const girdle_sink *sink);
/* What to buy, where, and what stays over. */
GIRDLE_API int32_t girdle_paper_order_text(girdle_call *call, const girdle_order *order, const girdle_sink *sink);
/* The days from ordering to wearing. */
GIRDLE_API int32_t girdle_paper_calendar_text(girdle_call *call, const girdle_calendar *calendar,
                                              const girdle_sink *sink);
/* The cautions that belong beside any number here, by what the tally holds. */
GIRDLE_API int32_t girdle_paper_cautions_text(girdle_call *call, const girdle_tally *tally, const girdle_sink *sink);

/* The same as one JSON object each, ended by a line feed; bindings/command/papers.schema.json describes both. job NULL
 * as there. */
GIRDLE_API int32_t girdle_paper_counts_json(girdle_call *call, const girdle_job *job, const girdle_tally *tally,
                                            const girdle_sink *sink);
/* A whole club: order, work and quotes by tag. */
GIRDLE_API int32_t girdle_paper_club_json(girdle_call *call, const girdle_club *club, const girdle_reckoning *reckoning,
                                          const girdle_sink *sink);

#ifdef __cplusplus
}
#endif
#endif
