/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_HTML_INTERNAL_H
#define GIRDLE_HTML_INTERNAL_H

/* What the pages for the browser share. A page is one file without anything from outside; its content security policy
 * says so, too. Text from outside the library always goes through girdle_write_xml. */

#include "map_internal.h"
#include "text_internal.h"

/* Everything up to <main>, and everything from </main> on. The script, which may be NULL, comes last. */
void girdle_html_begin(girdle_writer *out, const char *title, const char *style);
void girdle_html_end(girdle_writer *out, const char *script);

/* <name>text</name>, the text escaped. */
void girdle_html_element(girdle_writer *out, const char *name, const char *text);
/* The same of a phrase. */
void girdle_html_say(girdle_writer *out, const char *name, const char *english);
/* A phrase as the heading of a section with its anchor. */
void girdle_html_section(girdle_writer *out, const char *id, const char *heading);

/* The defs of the kinds in an svg that shows nothing, once a page; a swatch of one kind; one zone's picture, so many
 * dots of the screen a millimetre (GIRDLE_DOTS_TRUE: as large as it is, where 96 dots are an inch) when there is room.
 */
void girdle_html_kinds(girdle_writer *out, const girdle_kinds *kinds);
void girdle_html_swatch(girdle_writer *out, const girdle_kinds *kinds, uint64_t kind);
#define GIRDLE_DOTS_TRUE 3.78
int32_t girdle_html_zone(girdle_writer *out, const girdle_slot *slot, const girdle_kinds *kinds, double dots_a_mm);
/* All zones of a costume that have stones, small, to one scale and side by side, each over its name. The scale begins
 * with GIRDLE_DOTS_TRUE, and is made smaller for each costume that it has to do for. */
int32_t girdle_html_costume(girdle_writer *out, const girdle_job *job, const girdle_kinds *kinds, double dots_a_mm);
int32_t girdle_html_scale(girdle_writer *out, const girdle_job *job, double *dots_a_mm);
/* The plain figure seen from the front and from the back, with the zones' numbers where their names say they are. */
void girdle_html_figure(girdle_writer *out, const girdle_layout *layout);

/* Whether a photo can be shown: GIRDLE_SYNTAX, or GIRDLE_LIMIT when it is too large; and a good one with what it shows.
 */
int32_t girdle_photo_check(girdle_call *call, const void *bytes, uint64_t count);
void girdle_html_photo(girdle_writer *out, const void *bytes, uint64_t count, const char *english);

/* Each line of a reckoning's tally and its part of the spares that the order has of its stone: shared by their pieces,
 * by largest remainder, so that all of them add up to the order's. None without an order. Set to zero, it can be freed.
 */
typedef struct girdle_spare_parts {
  girdle_allocator memory;
  const girdle_tally_line *lines; /* the reckoning's */
  int64_t *of_line;
  uint64_t count;
} girdle_spare_parts;
int32_t girdle_spare_parts_make(girdle_call *call, const girdle_reckoning *reckoning, girdle_spare_parts *out);
void girdle_spare_parts_free(girdle_spare_parts *of);
/* All that one costume has of one stone. */
int64_t girdle_spare_parts_of(const girdle_spare_parts *of, const char *tag, const girdle_stone *stone);

/* The day on which an offer's costume is ready, INT64_MIN when none of the next ten years is; and whether that is
 * reckoned from today, because nobody said by when it is needed. */
int32_t girdle_offer_ready(girdle_call *call, const girdle_offer *offer, int64_t *day, int *from_today);

/* The style that all pages share. */
extern const char girdle_html_style[];

#endif
