/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "svg_internal.h"

#include <math.h>
#include <string.h>

/* Basic shapes as path data, in the order and direction that SVG 2 gives them (chapter 10). */

typedef struct data {
  char text[1024];
  uint64_t used;
} data;

static void put(data *out, const char *command, const double *numbers, int count) {
  uint64_t length = strlen(command);
  memcpy(out->text + out->used, command, length);
  out->used += length;
  for (int i = 0; i < count; i++) {
    out->text[out->used++] = ' ';
    out->used += girdle_number_text(numbers[i], 12, out->text + out->used, 32);
  }
}

/* A quarter of an ellipse, clockwise on the page, to x, y. */
static void put_arc(data *out, double rx, double ry, double x, double y) {
  put(out, "A", (double[]){rx, ry, 0, 0, 1, x, y}, 7);
}

/* The largest number that fits 32 bytes with its twelve decimals; far beyond any drawing. */
static int32_t check_sizes(girdle_call *call, const double *values, int count) {
  for (int i = 0; i < count; i++)
    GIRDLE_TRY(girdle_common_range(call, "a length of the drawing", values[i], -1e9, 1e9, ""));
  return GIRDLE_OK;
}

static double diagonal(const girdle_svg_tree *tree) {
  return sqrt((tree->box_width * tree->box_width + tree->box_height * tree->box_height) / 2);
}

static int32_t rectangle(girdle_svg_tree *tree, const char **attributes, data *out) {
  double x, y, w, h, rx, ry, across = tree->box_width, down = tree->box_height;
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "x", across, 0, &x));
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "y", down, 0, &y));
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "width", across, 0, &w));
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "height", down, 0, &h));
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "rx", across, NAN, &rx));
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "ry", down, NAN, &ry));
  rx = isnan(rx) ? isnan(ry) ? 0 : ry : rx;
  ry = isnan(ry) ? rx : ry;
  GIRDLE_TRY(check_sizes(tree->call, (double[]){x, y, w, h, rx, ry}, 6));
  if (!(w > 0 && h > 0)) return GIRDLE_OK;
  rx = fmin(fmax(rx, 0), w / 2);
  ry = fmin(fmax(ry, 0), h / 2);
  if (rx == 0 || ry == 0) {
    put(out, "M", (double[]){x, y, x + w, y, x + w, y + h, x, y + h}, 8);
    put(out, "Z", NULL, 0);
    return GIRDLE_OK;
  }
  put(out, "M", (double[]){x + rx, y, x + w - rx, y}, 4);
  put_arc(out, rx, ry, x + w, y + ry);
  put(out, "L", (double[]){x + w, y + h - ry}, 2);
  put_arc(out, rx, ry, x + w - rx, y + h);
  put(out, "L", (double[]){x + rx, y + h}, 2);
  put_arc(out, rx, ry, x, y + h - ry);
  put(out, "L", (double[]){x, y + ry}, 2);
  put_arc(out, rx, ry, x + rx, y);
  put(out, "Z", NULL, 0);
  return GIRDLE_OK;
}

static int32_t ellipse_of(girdle_svg_tree *tree, const char **attributes, double rx, double ry, data *out) {
  double x, y;
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "cx", tree->box_width, 0, &x));
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "cy", tree->box_height, 0, &y));
  GIRDLE_TRY(check_sizes(tree->call, (double[]){x, y, rx, ry}, 4));
  if (!(rx > 0 && ry > 0)) return GIRDLE_OK;
  put(out, "M", (double[]){x + rx, y}, 2);
  put_arc(out, rx, ry, x, y + ry);
  put_arc(out, rx, ry, x - rx, y);
  put_arc(out, rx, ry, x, y - ry);
  put_arc(out, rx, ry, x + rx, y);
  put(out, "Z", NULL, 0);
  return GIRDLE_OK;
}

static int32_t circle(girdle_svg_tree *tree, const char **attributes, data *out) {
  double r;
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "r", diagonal(tree), 0, &r));
  return ellipse_of(tree, attributes, r, r, out);
}

static int32_t ellipse(girdle_svg_tree *tree, const char **attributes, data *out) {
  double rx, ry;
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "rx", tree->box_width, NAN, &rx));
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "ry", tree->box_height, NAN, &ry));
  rx = isnan(rx) ? isnan(ry) ? 0 : ry : rx;
  ry = isnan(ry) ? rx : ry;
  return ellipse_of(tree, attributes, rx, ry, out);
}

static int32_t line(girdle_svg_tree *tree, const char **attributes, data *out) {
  double ends[4];
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "x1", tree->box_width, 0, &ends[0]));
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "y1", tree->box_height, 0, &ends[1]));
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "x2", tree->box_width, 0, &ends[2]));
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "y2", tree->box_height, 0, &ends[3]));
  GIRDLE_TRY(check_sizes(tree->call, ends, 4));
  put(out, "M", ends, 4);
  return GIRDLE_OK;
}

/* ---- texts that are path data, or nearly */

static int32_t check_data(girdle_svg_tree *tree, uint64_t bytes) {
  tree->data_bytes += bytes;
  if (tree->data_bytes <= GIRDLE_SVG_MOST_DATA) return GIRDLE_OK;
  return girdle_common_fail(tree->call, GIRDLE_LIMIT, "d", "the drawing holds more than %d MiB of path data",
                            GIRDLE_SVG_MOST_DATA >> 20);
}

static int32_t keep(girdle_svg_tree *tree, const char *text, uint64_t bytes, uint64_t *out) {
  GIRDLE_TRY(check_data(tree, bytes));
  *out = girdle_svg_keep(tree, text, bytes);
  return *out ? GIRDLE_OK : GIRDLE_MEMORY;
}

/* Points are the numbers of one "M" command, so nothing but numbers may stand in them. */
static int32_t points(girdle_svg_tree *tree, const char **attributes, int closed, uint64_t *out, uint64_t *bytes) {
  const char *text = girdle_svg_attribute(attributes, "points");
  uint64_t length = text ? strlen(text) : 0, last;
  if (!text || text[strspn(text, " \t\r\n\f")] == '\0') return GIRDLE_OK;
  if (!girdle_svg_is_pairs(text))
    return girdle_common_fail(tree->call, GIRDLE_SYNTAX, "points", "points=\"%.40s\" may only hold pairs of numbers",
                              text);
  GIRDLE_TRY(keep(tree, "M", 1, out));
  tree->text_used--; /* the texts that follow continue this one */
  GIRDLE_TRY(keep(tree, text, length, &last));
  if (closed) {
    tree->text_used--;
    GIRDLE_TRY(keep(tree, "Z", 1, &last));
  }
  *bytes = 1 + length + (closed ? 1 : 0);
  return GIRDLE_OK;
}

static int32_t path(girdle_svg_tree *tree, const char **attributes, uint64_t *out, uint64_t *bytes) {
  const char *text = girdle_svg_attribute(attributes, "d");
  if (!text || text[strspn(text, " \t\r\n\f")] == '\0' || strcmp(text, "none") == 0) return GIRDLE_OK;
  *bytes = strlen(text);
  return keep(tree, text, *bytes, out);
}

static const char *const elements[] = {"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"};

int girdle_svg_is_shape(const char *element) {
  for (size_t i = 0; i < sizeof elements / sizeof elements[0]; i++)
    if (strcmp(element, elements[i]) == 0) return 1;
  return 0;
}

int32_t girdle_svg_shape(girdle_svg_tree *tree, const char *element, const char **attributes, uint64_t *out,
                         uint64_t *bytes) {
  static int32_t (*const basic[])(girdle_svg_tree * tree, const char **attributes, data *out) = {NULL, rectangle,
                                                                                                 circle, ellipse, line};
  data made = {.used = 0};
  *out = *bytes = 0;
  if (strcmp(element, "path") == 0) return path(tree, attributes, out, bytes);
  if (strcmp(element, "polyline") == 0) return points(tree, attributes, 0, out, bytes);
  if (strcmp(element, "polygon") == 0) return points(tree, attributes, 1, out, bytes);
  for (size_t i = 1; i < 5; i++)
    if (strcmp(element, elements[i]) == 0) GIRDLE_TRY(basic[i](tree, attributes, &made));
  *bytes = made.used;
  return made.used ? keep(tree, made.text, made.used, out) : GIRDLE_OK;
}
