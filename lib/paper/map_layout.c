/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "map_internal.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Round each zone: room for its name and captions above it, and for the lines at its corners. */
static const double between_mm = 12, above_mm = 17, least_wide_mm = 46;

/* ---- what a zone says */

static void add_box(girdle_box *box, double x, double y, double r) {
  box->left_mm = fmin(box->left_mm, x - r);
  box->top_mm = fmin(box->top_mm, y - r);
  box->right_mm = fmax(box->right_mm, x + r);
  box->bottom_mm = fmax(box->bottom_mm, y + r);
}

static void measure(girdle_slot *slot) {
  const girdle_placed *records;
  const girdle_stone *stones;
  uint32_t stone_count;
  girdle_box empty = {0, 0, 0, 0}, box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
  if (slot->zone->placement)
    slot->count = girdle_placement_view(slot->zone->placement, &records, &stones, &stone_count);
  for (int64_t i = 0; i < slot->count; i++)
    add_box(&box, records[i].x_mm, records[i].y_mm, girdle_stone_circle_mm(&stones[records[i].stone]));
  slot->box = slot->count ? box : empty;
}

static void say(char *text, size_t bytes, const char *piece) {
  size_t used = strlen(text);
  if (used && used < bytes) used += (size_t)snprintf(text + used, bytes - used, " \302\267 ");
  if (used < bytes) girdle_common_text(text + used, bytes - used, piece);
}

static void say_size(const girdle_phrased *phrases, const girdle_slot *slot, char *text, size_t bytes) {
  char piece[128];
  girdle_extent_words(phrases, slot->box.right_mm - slot->box.left_mm, slot->box.bottom_mm - slot->box.top_mm, piece,
                      sizeof piece);
  say(text, bytes, piece);
}

static void say_by_eye(const girdle_phrased *phrases, const girdle_zone *zone, char *text, size_t bytes) {
  for (uint64_t i = 0; i < zone->already_count; i++) {
    char stone[GIRDLE_STONE_TEXT], number[32], piece[GIRDLE_STONE_TEXT + 80];
    girdle_stone_text(&zone->already[i], stone, GIRDLE_STONE_TEXT);
    girdle_number_text((double)zone->already_pieces[i], 0, number, sizeof number);
    girdle_phrase_with(phrases, piece, sizeof piece, "{1} {2} set by eye", number, stone);
    say(text, bytes, piece);
  }
}

static void say_left_out(const girdle_phrased *phrases, const girdle_zone *zone, char *text, size_t bytes) {
  girdle_notes notes;
  char piece[120], number[32];
  memset(&notes, 0, sizeof notes);
  notes.struct_bytes = sizeof notes;
  if (!zone->placement || girdle_placement_notes(NULL, zone->placement, &notes) || notes.left_out <= 0) return;
  girdle_number_text((double)notes.left_out, 0, number, sizeof number);
  girdle_phrase_with(phrases, piece, sizeof piece, "{1} left out where no room is", number);
  say(text, bytes, piece);
}

/* Such a zone is drawn once. */
static void say_times(const girdle_phrased *phrases, const girdle_slot *slot, char *text, size_t bytes) {
  char piece[120], times[32], all[32];
  girdle_number_text((double)slot->zone->times, 0, times, sizeof times);
  girdle_number_text((double)slot->zone->times * (double)slot->count, 0, all, sizeof all);
  girdle_phrase_with(phrases, piece, sizeof piece, "\303\227 {1}: work it {1} times, {2} stones in all", times, all);
  if (slot->zone->times > 1) say(text, bytes, piece);
}

static void describe(const girdle_phrased *phrases, girdle_slot *slot) {
  const girdle_zone *zone = slot->zone;
  char piece[120], number[32];
  size_t bytes = sizeof slot->caption[0];
  girdle_number_text((double)slot->count, 0, number, sizeof number);
  girdle_phrase_with(phrases, piece, sizeof piece, slot->count == 1 ? "{1} stone" : "{1} stones", number);
  if (slot->count) say(slot->caption[0], bytes, piece);
  if (slot->count) say_size(phrases, slot, slot->caption[0], bytes);
  if (zone->side[0] && strcmp(slot->name, zone->name) == 0)
    say(slot->caption[0], bytes, girdle_side_words(phrases, zone->side));
  say_times(phrases, slot, slot->caption[1], bytes);
  say_by_eye(phrases, zone, slot->caption[1], bytes);
  say_left_out(phrases, zone, slot->caption[1], bytes);
}

/* ---- where it lies */

/* The room a zone needs: its stones, or its words where they are wider (a character of 3 mm type is about 1.7 mm). */
girdle_placed girdle_slot_place(const girdle_slot *slot, const girdle_placed *record, int mirrored) {
  girdle_placed place = *record;
  if (!mirrored) return place;
  place.x_mm = slot->box.left_mm + slot->box.right_mm - record->x_mm;
  place.turn_deg = (float)(180 - (double)record->turn_deg);
  return place;
}

static double wide_mm_of(const girdle_slot *slot) {
  double wide = fmax(slot->box.right_mm - slot->box.left_mm, least_wide_mm);
  wide = fmax(wide, 2.7 * (double)girdle_text_columns(slot->name));
  for (int i = 0; i < 2; i++)
    wide = fmax(wide, 1.7 * (double)girdle_text_columns(slot->caption[i]));
  return wide;
}

double girdle_slot_high_mm(const girdle_slot *slot) {
  return above_mm + slot->box.bottom_mm - slot->box.top_mm;
}

/* How far down a room of a width must go at x to lie below all earlier ones there. */
static double lowest_at(const girdle_layout *layout, uint64_t first, uint64_t index, double x, double wide) {
  double y = 0;
  for (uint64_t i = first; i < index; i++) {
    const girdle_slot *other = &layout->slots[i];
    double right = other->left_mm + other->wide_mm + between_mm;
    if (x >= right || x + wide + between_mm <= other->left_mm) continue;
    y = fmax(y, other->top_mm - above_mm + girdle_slot_high_mm(other) + between_mm);
  }
  return y;
}

/* Each zone goes as high as it can, and then as far to the left, beside the edges of those before it. Only the last
 * edges are tried, so that many zones stay quick. */
void girdle_layout_place(girdle_layout *layout, uint64_t first, uint64_t index, double wide_mm) {
  enum { EDGES = 64 };
  girdle_slot *slot = &layout->slots[index];
  double wide = slot->wide_mm, best_x = 0, best_y = lowest_at(layout, first, index, 0, wide);
  for (uint64_t i = index - first > EDGES ? index - EDGES : first; i < index; i++) {
    double x = layout->slots[i].left_mm + layout->slots[i].wide_mm + between_mm, y;
    if (x + wide > wide_mm) continue;
    y = lowest_at(layout, first, index, x, wide);
    if (y > best_y || (y == best_y && x >= best_x)) continue;
    best_x = x;
    best_y = y;
  }
  slot->left_mm = best_x;
  slot->top_mm = best_y + above_mm;
  layout->width_mm = fmax(layout->width_mm, best_x + wide);
  layout->height_mm = fmax(layout->height_mm, best_y + girdle_slot_high_mm(slot));
}

void girdle_layout_free(girdle_layout *layout) {
  girdle_common_release(&layout->memory, layout->slots, layout->capacity * sizeof *layout->slots);
}

int32_t girdle_layout_measure(girdle_call *call, const girdle_job *job, const girdle_phrased *phrases,
                              girdle_layout *out) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  memset(out, 0, sizeof *out);
  out->memory = girdle_common_memory(call);
  GIRDLE_TRY(girdle_common_grow(call, &out->memory, (void **)&out->slots, &out->capacity, count, sizeof *out->slots));
  out->count = count;
  for (uint64_t i = 0; i < count; i++) {
    memset(&out->slots[i], 0, sizeof out->slots[i]);
    out->slots[i].zone = &zones[i];
    girdle_zone_words(phrases, zones, count, i, out->slots[i].name);
    measure(&out->slots[i]);
    describe(phrases, &out->slots[i]);
    out->slots[i].wide_mm = wide_mm_of(&out->slots[i]);
  }
  return GIRDLE_OK;
}

/* A little wider than high: as wide as one and a half times the side of a square that holds all. */
static double good_width(const girdle_layout *layout) {
  double area = 0, widest = 0;
  for (uint64_t i = 0; i < layout->count; i++) {
    double wide = layout->slots[i].wide_mm;
    area += (wide + between_mm) * (girdle_slot_high_mm(&layout->slots[i]) + between_mm);
    widest = fmax(widest, wide);
  }
  return fmax(widest, 1.25 * sqrt(area));
}

int32_t girdle_layout_make(girdle_call *call, const girdle_job *job, const girdle_phrased *phrases, double wide_mm,
                           girdle_layout *out) {
  GIRDLE_TRY(girdle_layout_measure(call, job, phrases, out));
  wide_mm = fmax(wide_mm, good_width(out));
  for (uint64_t i = 0; i < out->count; i++)
    girdle_layout_place(out, 0, i, wide_mm);
  return GIRDLE_OK;
}

/* ---- in words */

void girdle_state_words(const girdle_phrased *phrases, const girdle_job *job, char *text, uint64_t bytes) {
  const girdle_fabric *fabric = &girdle_job_head_of(job)->fabric;
  char across[48], along[48], one[100], other[100], both[220];
  girdle_number_words(phrases, fabric->lies_across * 100, 1, across);
  girdle_number_words(phrases, fabric->lies_along * 100, 1, along);
  girdle_phrase_with(phrases, one, sizeof one, "{1} % across", across);
  girdle_phrase_with(phrases, other, sizeof other, "{1} % along", along);
  girdle_phrase_with(phrases, both, sizeof both, "{1} and {2}", one, other);
  if (fabric->lies_across != 0 || fabric->lies_along != 0)
    girdle_phrase_with(phrases, text, bytes, "as the costume lies while it is glued, stretched {1}",
                       fabric->lies_along == 0    ? one
                       : fabric->lies_across == 0 ? other
                                                  : both);
  else
    girdle_common_text(text, bytes, girdle_phrase(phrases, "as the costume lies flat while it is glued"));
}

void girdle_kind_words(const girdle_phrased *phrases, const girdle_kind *kind, char *text, uint64_t bytes) {
  char across[64], pieces[120], number[32];
  girdle_length_words(phrases, kind->stone.diameter_mm[GIRDLE_NOMINAL], 2, across, sizeof across);
  girdle_pieces_words(phrases, kind->count, pieces, sizeof pieces);
  girdle_number_text((double)kind->count, 0, number, sizeof number);
  if (kind->count >= 144)
    girdle_phrase_with(phrases, text, bytes, "{1} ({2}), {3} across", number, pieces, across);
  else
    girdle_phrase_with(phrases, text, bytes, "{1}, {2} across", number, across);
}

static void say_with(const girdle_phrased *phrases, char *text, size_t bytes, const char *phrase, const char *word) {
  char piece[160];
  girdle_phrase_with(phrases, piece, sizeof piece, phrase, word);
  if (word[0]) say(text, bytes, piece);
}

void girdle_head_words(const girdle_phrased *phrases, const girdle_job *job, char *text, uint64_t bytes) {
  const girdle_job_head *head = girdle_job_head_of(job);
  char day[32] = "";
  if (head->needed_by_day != INT64_MIN) girdle_date_text(head->needed_by_day, day, sizeof day);
  text[0] = '\0';
  if (strcmp(head->tag, head->costume) != 0) say_with(phrases, text, (size_t)bytes, "{1}", head->tag);
  say_with(phrases, text, (size_t)bytes, "size {1}", head->size);
  say_with(phrases, text, (size_t)bytes, "{1}", head->routine);
  say_with(phrases, text, (size_t)bytes, "needed by {1}", day);
}
