/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef COMMAND_RINGS_H
#define COMMAND_RINGS_H

/* rings: the zones of a costume that go round a neck, wrist, waist or leg, and what must pass through them. */

#include "command.h"

extern const char *const girth_names[GIRTHS];

/* Whether a zone's stones stand along an edge of a known length, with `closed` all round it; then its fullest row, as
 * an opening without girth. */
int ring_of(const girdle_zone *zone, int closed, girdle_opening *out);
/* "ss20 black, ss16 clear": the kinds of that row. */
void ring_text(const girdle_zone *zone, buffer *to);
/* What passes there, as the zone's name has it: "head", "hand", "hips", "foot"; NULL: not known. */
const char *ring_passes(const char *zone);

#endif
