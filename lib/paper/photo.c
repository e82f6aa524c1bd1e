/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "html_internal.h"

#include <string.h>

/* A photo in a page, as base64 within the page itself. What a camera notes beside the picture (place, day, owner) is
 * left out, for a sheet goes from hand to hand; which way is up is kept. Segments of JPEG: ITU-T T.81, annex B; its
 * orientation: Exif 2.3, tag 0x112. Chunks of PNG: RFC 2083. */

enum { MOST_PHOTO_BYTES = 32 << 20 };

typedef struct photo {
  girdle_writer *out; /* NULL: only looked through */
  const unsigned char *bytes;
  uint64_t count;
  unsigned char held[3]; /* what waits to be a group of three */
  uint32_t held_count;
} photo;

/* ---- base64 (RFC 4648) */

static void write_group(photo *p) {
  static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  uint32_t group = (uint32_t)p->held[0] << 16 | (uint32_t)p->held[1] << 8 | p->held[2];
  char text[4];
  for (int i = 0; i < 4; i++)
    text[i] = (uint32_t)i <= p->held_count ? letters[group >> (18 - 6 * i) & 63] : '=';
  girdle_write_bytes(p->out, text, 4);
  memset(p->held, 0, sizeof p->held);
  p->held_count = 0;
}

static void keep(photo *p, const void *bytes, uint64_t count) {
  if (!p->out) return;
  for (uint64_t i = 0; i < count; i++) {
    p->held[p->held_count++] = ((const unsigned char *)bytes)[i];
    if (p->held_count == 3) write_group(p);
  }
}

/* ---- JPEG */

static uint32_t two_bytes(const unsigned char *at, int little) {
  return little ? (uint32_t)at[1] << 8 | at[0] : (uint32_t)at[0] << 8 | at[1];
}

static uint64_t four_bytes(const unsigned char *at, int little) {
  return little ? (uint64_t)two_bytes(at + 2, 1) << 16 | two_bytes(at, 1)
                : (uint64_t)two_bytes(at, 0) << 16 | two_bytes(at + 2, 0);
}

/* The orientation, 1 to 8, that an Exif segment's content names; 1 when it names none. */
static uint32_t orientation_of(const unsigned char *content, uint64_t bytes) {
  const unsigned char *tiff = content + 6;
  uint64_t at;
  int little;
  if (bytes < 14 || memcmp(content, "Exif\0", 6) != 0) return 1;
  bytes -= 6;
  little = tiff[0] == 'I';
  at = four_bytes(tiff + 4, little);
  if (at + 2 > bytes) return 1;
  for (uint32_t left = two_bytes(tiff + at, little); left && at + 14 <= bytes; left--, at += 12) {
    uint32_t value = two_bytes(tiff + at + 10, little);
    if (two_bytes(tiff + at + 2, little) == 0x112) return value >= 1 && value <= 8 ? value : 1;
  }
  return 1;
}

/* An Exif segment that holds the orientation and nothing else. */
static void keep_orientation(photo *p, uint32_t orientation) {
  unsigned char segment[] = {0xff, 0xe1, 0, 34, 'E', 'x', 'i', 'f', 0, 0, 'M', 'M', 0, 42, 0, 0, 0, 8,
                             0,    1,    1, 18, 0,   3,   0,   0,   0, 1, 0,   1,   0, 0,  0, 0, 0, 0};
  segment[29] = (unsigned char)orientation;
  if (orientation > 1) keep(p, segment, sizeof segment);
}

/* Segments 0xe0 (size) and 0xee (how colours are stored) are needed; the others of an application, and comments, are
 * notes. */
static int is_note(unsigned char marker) {
  return (marker > 0xe0 && marker < 0xf0 && marker != 0xee) || marker == 0xfe;
}

/* Where the coded part of a scan ends: at the next marker that is neither a stuffed byte nor a restart (B.1.1.2). */
static uint64_t scan_end(const photo *p, uint64_t at) {
  for (; at + 1 < p->count; at++) {
    const unsigned char next = p->bytes[at + 1];
    if (p->bytes[at] == 0xff && next != 0 && next != 0xff && (next < 0xd0 || next > 0xd7)) return at;
  }
  return p->count;
}

/* Goes from segment to segment up to the end of the image; what a camera appends to that (another picture, with its
 * own notes) is left out. 0 when it is no whole JPEG. */
static int read_jpeg(photo *p) {
  uint64_t at = 2;
  int scans = 0;
  keep(p, p->bytes, 2);
  while (at + 4 <= p->count && p->bytes[at] == 0xff) {
    const unsigned char *segment = p->bytes + at;
    uint64_t bytes = 2 + (uint64_t)two_bytes(segment + 2, 0);
    if (bytes < 4 || at + bytes > p->count) return 0;
    if (segment[1] == 0xe1) keep_orientation(p, orientation_of(segment + 4, bytes - 4));
    if (segment[1] == 0xda) bytes = scan_end(p, at + bytes) - at;
    scans += segment[1] == 0xda;
    if (!is_note(segment[1])) keep(p, segment, bytes);
    at += bytes;
    if (!scans || at + 2 > p->count || memcmp(p->bytes + at, "\377\331", 2) != 0) continue;
    keep(p, p->bytes + at, 2);
    return 1;
  }
  return 0;
}

/* ---- PNG */

static const char png_start[] = "\211PNG\r\n\032\n";

static int is_png_note(const unsigned char *name) {
  static const char *const notes[] = {"eXIf", "tEXt", "zTXt", "iTXt", "tIME"};
  for (size_t i = 0; i < sizeof notes / sizeof notes[0]; i++)
    if (memcmp(name, notes[i], 4) == 0) return 1;
  return 0;
}

static int read_png(photo *p) {
  uint64_t at = 8;
  keep(p, p->bytes, 8);
  while (at + 12 <= p->count) {
    const unsigned char *chunk = p->bytes + at;
    uint64_t bytes = 12 + four_bytes(chunk, 0);
    if (at + bytes > p->count) return 0;
    if (!is_png_note(chunk + 4)) keep(p, chunk, bytes);
    if (memcmp(chunk + 4, "IEND", 4) == 0) return 1;
    at += bytes;
  }
  return 0;
}

/* ---- the picture */

static int is_jpeg(const photo *p) {
  return p->count > 4 && memcmp(p->bytes, "\377\330\377", 3) == 0;
}

static int is_png(const photo *p) {
  return p->count > 8 && memcmp(p->bytes, png_start, 8) == 0;
}

static int read_photo(photo *p) {
  return is_jpeg(p) ? read_jpeg(p) : is_png(p) && read_png(p);
}

int32_t girdle_photo_check(girdle_call *call, const void *bytes, uint64_t count) {
  photo p = {NULL, bytes, count, {0}, 0};
  if (count > MOST_PHOTO_BYTES)
    return girdle_common_fail(call, GIRDLE_LIMIT, "photo", "the photo has %llu bytes, at most %d are taken",
                              (unsigned long long)count, (int)MOST_PHOTO_BYTES);
  if (!read_photo(&p)) return girdle_common_fail(call, GIRDLE_SYNTAX, "photo", "the photo is no whole JPEG or PNG");
  return GIRDLE_OK;
}

void girdle_html_photo(girdle_writer *out, const void *bytes, uint64_t count, const char *english) {
  photo p = {out, bytes, count, {0}, 0};
  girdle_write(out, "<div class=\"picture keep photo\"><img alt=\"");
  girdle_say_xml(out, english);
  girdle_write(out, is_jpeg(&p) ? "\" src=\"data:image/jpeg;base64," : "\" src=\"data:image/png;base64,");
  read_photo(&p);
  if (p.held_count) write_group(&p);
  girdle_write(out, "\"></div>\n");
}
