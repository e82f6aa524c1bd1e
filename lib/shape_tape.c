/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/shape.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base_cross_internal.h"
#include "shape_build_internal.h"

/* Shapes from a tape measure. The box of each begins at the origin. A shape that its measures cannot make fails while
 * it is drawn, naming the measure. */

static const double half_turn = 3.141592653589793238463;

enum { MOST_MEASURES = 4 };

typedef struct tape_shape {
  const char *word;
  uint64_t count;
  const char *measures[MOST_MEASURES];
  void (*draw)(girdle_strokes *strokes, const double *mm);
  const char *example, *tape;
} tape_shape;

static void refuse(girdle_strokes *strokes, const char *field, const char *why) {
  if (!strokes->status) strokes->status = girdle_common_fail(strokes->call, GIRDLE_GEOMETRY, field, "%s", why);
}

/* ---- straight ones */

static void draw_rectangle(girdle_strokes *strokes, const double *mm) {
  girdle_strokes_move(strokes, 0, 0);
  girdle_strokes_line(strokes, mm[0], 0);
  girdle_strokes_line(strokes, mm[0], mm[1]);
  girdle_strokes_line(strokes, 0, mm[1]);
  girdle_strokes_close(strokes);
}

static void draw_trapezoid(girdle_strokes *strokes, const double *mm) {
  double widest = fmax(mm[0], mm[1]);
  girdle_strokes_move(strokes, (widest - mm[0]) / 2, 0);
  girdle_strokes_line(strokes, (widest + mm[0]) / 2, 0);
  girdle_strokes_line(strokes, (widest + mm[1]) / 2, mm[2]);
  girdle_strokes_line(strokes, (widest - mm[1]) / 2, mm[2]);
  girdle_strokes_close(strokes);
}

static void draw_triangle(girdle_strokes *strokes, const double *mm) {
  girdle_strokes_move(strokes, mm[0] / 2, 0);
  girdle_strokes_line(strokes, mm[0], mm[1]);
  girdle_strokes_line(strokes, 0, mm[1]);
  girdle_strokes_close(strokes);
}

/* ---- round ones */

static void draw_oval(girdle_strokes *strokes, const double *mm) {
  double a = mm[0] / 2, b = mm[1] / 2;
  girdle_strokes_move(strokes, a, 0);
  girdle_strokes_arc(strokes, a, b, 0, 0, 1, mm[0], b);
  girdle_strokes_arc(strokes, a, b, 0, 0, 1, a, mm[1]);
  girdle_strokes_arc(strokes, a, b, 0, 0, 1, 0, b);
  girdle_strokes_arc(strokes, a, b, 0, 0, 1, a, 0);
  girdle_strokes_close(strokes);
}

static void draw_loop(girdle_strokes *strokes, const double *mm) {
  double across[2] = {mm[0] / half_turn, mm[0] / half_turn};
  draw_oval(strokes, across);
}

/* A circle below, and from the point above the two lines that touch it. */
static void draw_teardrop(girdle_strokes *strokes, const double *mm) {
  double r = mm[0] / 2, rise = mm[1] - r, x, y;
  if (mm[1] <= mm[0]) {
    refuse(strokes, "height", "a teardrop's height must be more than its width");
    return;
  }
  x = r * sqrt(1 - r / rise * (r / rise));
  y = rise - r * r / rise;
  girdle_strokes_move(strokes, r, 0);
  girdle_strokes_line(strokes, r + x, y);
  girdle_strokes_arc(strokes, r, r, 0, 0, 1, r, mm[1]);
  girdle_strokes_arc(strokes, r, r, 0, 0, 1, r - x, y);
  girdle_strokes_close(strokes);
}

/* A circle below a slit: width across the circle, height of it all, width of the slit. */
static void draw_keyhole(girdle_strokes *strokes, const double *mm) {
  double r = mm[0] / 2, half = mm[2] / 2, y = mm[1] - r - sqrt(fmax(r * r - half * half, 0));
  if (mm[2] >= mm[0]) {
    refuse(strokes, "slit", "a keyhole's slit must be narrower than its width");
    return;
  }
  if (mm[1] <= mm[0]) {
    refuse(strokes, "height", "a keyhole's height must be more than its width");
    return;
  }
  girdle_strokes_move(strokes, r - half, 0);
  girdle_strokes_line(strokes, r + half, 0);
  girdle_strokes_line(strokes, r + half, y);
  girdle_strokes_arc(strokes, r, r, 0, 0, 1, mm[0], mm[1] - r);
  girdle_strokes_arc(strokes, r, r, 0, 0, 1, r, mm[1]);
  girdle_strokes_arc(strokes, r, r, 0, 0, 1, 0, mm[1] - r);
  girdle_strokes_arc(strokes, r, r, 0, 0, 1, r - half, y);
  girdle_strokes_close(strokes);
}

/* ---- cones laid flat: parts of a ring */

static void arc_about(girdle_strokes *strokes, const double centre[2], double radius, double from, double turn) {
  int parts = (int)ceil(fabs(turn) / (half_turn / 2) - 1e-9);
  for (int i = 1; i <= parts; i++) {
    double angle = from + turn * i / parts;
    girdle_strokes_arc(strokes, radius, radius, 0, 0, turn > 0, centre[0] + radius * cos(angle),
                       centre[1] + radius * sin(angle));
  }
}

/* The part of a ring over an angle, about the upright; `up` when its outer edge lies above. */
static void draw_ring_part(girdle_strokes *strokes, double inner, double depth, double turn, int up) {
  double outer = inner + depth, half = turn / 2, pointing = up ? -half_turn / 2 : half_turn / 2;
  double reach = half >= half_turn / 2 ? outer : outer * sin(half);
  double near = half >= half_turn / 2 ? outer * cos(half) : inner * cos(half); /* towards the inner edge's side */
  double centre[2] = {reach, up ? outer : -near};
  girdle_strokes_move(strokes, centre[0] + inner * cos(pointing - half), centre[1] + inner * sin(pointing - half));
  girdle_strokes_line(strokes, centre[0] + outer * cos(pointing - half), centre[1] + outer * sin(pointing - half));
  arc_about(strokes, centre, outer, pointing - half, turn);
  girdle_strokes_line(strokes, centre[0] + inner * cos(pointing + half), centre[1] + inner * sin(pointing + half));
  arc_about(strokes, centre, inner, pointing + half, -turn);
  girdle_strokes_close(strokes);
}

/* Edges of two lengths a depth apart: radius and angle follow from both. */
static void draw_cone(girdle_strokes *strokes, double above, double below, double depth) {
  double turn = fabs(above - below) / depth, longest = fmax(above, below);
  if (turn >= 2 * half_turn * (1 - 1e-9)) {
    refuse(strokes, "length", "such edges do not lie flat: they differ too much for the length between them");
  } else if (turn * longest < 1e-9 * depth) {
    const double mm[] = {longest, depth};
    draw_rectangle(strokes, mm);
  } else {
    draw_ring_part(strokes, fmin(above, below) / turn, depth, turn, above > below);
  }
}

static void draw_sleeve(girdle_strokes *strokes, const double *mm) {
  draw_cone(strokes, mm[1], mm[0], mm[2]);
}

static void draw_yoke(girdle_strokes *strokes, const double *mm) {
  draw_cone(strokes, mm[0], mm[1], mm[2]);
}

/* A whole circle's skirt is a ring, the waist its hole; less of it is a part of a ring. */
static void draw_skirt(girdle_strokes *strokes, double waist, double length, double fullness) {
  double inner = waist / (2 * half_turn * fullness), outer = inner + length, centre[2] = {outer, outer};
  if (fullness < 1) {
    draw_ring_part(strokes, inner, length, 2 * half_turn * fullness, 0);
    return;
  }
  girdle_strokes_move(strokes, outer, 0);
  arc_about(strokes, centre, outer, -half_turn / 2, 2 * half_turn);
  girdle_strokes_close(strokes);
  girdle_strokes_move(strokes, outer, outer - inner);
  arc_about(strokes, centre, inner, -half_turn / 2, -2 * half_turn);
  girdle_strokes_close(strokes);
}

static void draw_circle_skirt(girdle_strokes *strokes, const double *mm) {
  draw_skirt(strokes, mm[0], mm[1], 1);
}

static void draw_half_skirt(girdle_strokes *strokes, const double *mm) {
  draw_skirt(strokes, mm[0], mm[1], 0.5);
}

static void draw_quarter_skirt(girdle_strokes *strokes, const double *mm) {
  draw_skirt(strokes, mm[0], mm[1], 0.25);
}

/* ---- the table */

enum { RECTANGLE, OVAL, TRAPEZOID, STRIP };

static const tape_shape shapes[] = {
    {"rectangle", 2, {"width", "height"}, draw_rectangle, "rectangle 10 cm x 20 cm", "across, then down"},
    {"oval", 2, {"width", "height"}, draw_oval, "oval 8 cm x 6 cm", "across the widest, then down the highest"},
    {"trapezoid",
     3,
     {"top", "bottom", "height"},
     draw_trapezoid,
     "trapezoid 20 cm x 30 cm x 15 cm",
     "along the top edge, along the bottom edge, straight down the middle"},
    {"strip", 2, {"length", "depth"}, draw_rectangle, "strip 60 cm x 4 cm", "along the strip, then across it"},
    {"triangle",
     2,
     {"width", "height"},
     draw_triangle,
     "triangle 20 cm x 15 cm",
     "along the bottom edge, then straight up to the point above its middle"},
    {"loop", 1, {"girth"}, draw_loop, "loop 34 cm", "once round"},
    {"teardrop",
     2,
     {"width", "height"},
     draw_teardrop,
     "teardrop 6 cm x 10 cm",
     "across the widest, then from the point to the bottom"},
    {"keyhole",
     3,
     {"width", "height", "slit"},
     draw_keyhole,
     "keyhole 8 cm x 14 cm x 1 cm",
     "across the round part, from the top of the slit to the bottom, across the slit"},
    {"yoke",
     3,
     {"inner", "outer", "depth"},
     draw_yoke,
     "yoke 40 cm x 90 cm x 12 cm",
     "along the neck edge, along the outer edge, straight from one to the other"},
    {"sleeve",
     3,
     {"wrist", "top", "length"},
     draw_sleeve,
     "sleeve 16 cm x 30 cm x 55 cm",
     "round the wrist edge, round the top, down along the arm"},
    {"circle skirt",
     2,
     {"waist", "length"},
     draw_circle_skirt,
     "circle skirt 66 cm x 35 cm",
     "round the waist edge, then down to the hem"},
    {"half circle skirt",
     2,
     {"waist", "length"},
     draw_half_skirt,
     "half circle skirt 66 cm x 35 cm",
     "round the waist edge, then down to the hem"},
    {"quarter circle skirt",
     2,
     {"waist", "length"},
     draw_quarter_skirt,
     "quarter circle skirt 66 cm x 35 cm",
     "round the waist edge, then down to the hem"},
};
enum { SHAPES = sizeof shapes / sizeof shapes[0] };

static int32_t draw_shape(girdle_call *call, const tape_shape *shape, const double *mm, girdle_path **out) {
  girdle_strokes strokes;
  for (uint64_t i = 0; i < shape->count; i++)
    GIRDLE_TRY(girdle_common_range(call, shape->measures[i], mm[i], 1e-3, 1e7, "mm"));
  girdle_strokes_begin(&strokes, call);
  shape->draw(&strokes, mm);
  return girdle_strokes_finish(&strokes, out);
}

static int32_t make_shape(girdle_call *call, const tape_shape *shape, const double *mm, girdle_region **out) {
  girdle_path *outline = NULL;
  GIRDLE_TRY(draw_shape(call, shape, mm, &outline));
  return girdle_region_of_rim(call, outline, out);
}

int32_t girdle_region_rectangle(girdle_call *call, double width_mm, double height_mm, girdle_region **out) {
  GIRDLE_GIVEN(call, out);
  const double mm[] = {width_mm, height_mm};
  return make_shape(call, &shapes[RECTANGLE], mm, out);
}

int32_t girdle_region_oval(girdle_call *call, double width_mm, double height_mm, girdle_region **out) {
  GIRDLE_GIVEN(call, out);
  const double mm[] = {width_mm, height_mm};
  return make_shape(call, &shapes[OVAL], mm, out);
}

int32_t girdle_region_trapezoid(girdle_call *call, double top_mm, double bottom_mm, double height_mm,
                                girdle_region **out) {
  GIRDLE_GIVEN(call, out);
  const double mm[] = {top_mm, bottom_mm, height_mm};
  return make_shape(call, &shapes[TRAPEZOID], mm, out);
}

int32_t girdle_region_strip(girdle_call *call, double length_mm, double depth_mm, girdle_region **out) {
  GIRDLE_GIVEN(call, out);
  const double mm[] = {length_mm, depth_mm};
  return make_shape(call, &shapes[STRIP], mm, out);
}

/* ---- by name */

/* What is not made of a fixed number of lengths; see the reading of text. */
static const girdle_tape others[] = {
    {"line", {"length"}, 1, "line 38 cm", "along the edge itself, from end to end"},
    {"panel",
     {"step", "widths"},
     2,
     "panel every 5 cm: 20 cm, 24 cm, 22 cm",
     "straight down the middle, and across at the top and at every step; the first and the last width may be 0"},
    {"area",
     {"area"},
     1,
     "area 250 cm2",
     "lay squared paper over it or under it and count the squares that lie inside for the most part"},
};
enum { OTHERS = sizeof others / sizeof others[0] };

int32_t girdle_tape_info(uint64_t index, girdle_tape *out) {
  if (index >= SHAPES + OTHERS) return 0;
  if (index >= SHAPES) {
    *out = others[index - SHAPES];
    return 1;
  }
  out->word = shapes[index].word;
  out->example = shapes[index].example;
  out->tape = shapes[index].tape;
  out->count = shapes[index].count;
  for (int i = 0; i < MOST_MEASURES; i++)
    out->measures[i] = shapes[index].measures[i];
  return 1;
}

static int32_t find_shape(girdle_call *call, const char *word, int path_too, const tape_shape **out) {
  const char *known[SHAPES + 2];
  uint64_t count = 0;
  for (int i = 0; i < SHAPES; i++) {
    known[count++] = shapes[i].word;
    if (strcmp(word, shapes[i].word) == 0) {
      *out = &shapes[i];
      return GIRDLE_OK;
    }
  }
  known[count++] = "panel";
  known[count++] = path_too ? "line" : "area";
  if (word[0]) return girdle_common_unknown(call, "shape", word, known, count);
  return girdle_common_fail(call, GIRDLE_SYNTAX, "shape", "a shape begins with its name, like \"%s\"",
                            shapes[RECTANGLE].example);
}

static int32_t bad_count(girdle_call *call, const tape_shape *shape) {
  const char *article = strchr("aeiou", shape->word[0]) ? "an" : "a";
  return girdle_common_fail(call, GIRDLE_SYNTAX, "measures", "%s %s takes %d measure%s; write one like \"%s\"", article,
                            shape->word, (int)shape->count, shape->count == 1 ? "" : "s", shape->example);
}

int32_t girdle_path_from_tape(girdle_call *call, const char *word, const double *measures_mm, uint64_t count,
                              girdle_path **out) {
  GIRDLE_GIVEN(call, word, measures_mm || !count, out);
  const tape_shape *shape = NULL;
  GIRDLE_TRY(find_shape(call, word, 0, &shape));
  if (count != shape->count) return bad_count(call, shape);
  return draw_shape(call, shape, measures_mm, out);
}

int32_t girdle_region_from_tape(girdle_call *call, const char *word, const double *measures_mm, uint64_t count,
                                girdle_region **out) {
  GIRDLE_GIVEN(call, word, measures_mm || !count, out);
  girdle_path *outline = NULL;
  GIRDLE_TRY(girdle_path_from_tape(call, word, measures_mm, count, &outline));
  return girdle_region_of_rim(call, outline, out);
}

int32_t girdle_region_skirt(girdle_call *call, double waist_mm, double length_mm, double fullness,
                            girdle_region **out) {
  GIRDLE_GIVEN(call, out);
  girdle_path *outline = NULL;
  girdle_strokes strokes;
  GIRDLE_TRY(girdle_common_range(call, "waist", waist_mm, 1e-3, 1e7, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "length", length_mm, 1e-3, 1e7, "mm"));
  GIRDLE_TRY(girdle_common_range(call, "fullness", fullness, 0.01, 1, ""));
  girdle_strokes_begin(&strokes, call);
  draw_skirt(&strokes, waist_mm, length_mm, fullness);
  GIRDLE_TRY(girdle_strokes_finish(&strokes, &outline));
  return girdle_region_of_rim(call, outline, out);
}

/* ---- a panel by its widths */

enum { MOST_WIDTHS = 10000 };

/* The slope at a width that keeps the edge from swinging beyond its neighbours: the harmonic mean of the slopes on both
 * sides, 0 at a turning point (Fritsch and Butland 1984). */
static double slope_at(const double *widths, uint64_t count, uint64_t i) {
  double before = i > 0 ? widths[i] - widths[i - 1] : 0, after = i + 1 < count ? widths[i + 1] - widths[i] : 0;
  if (i == 0) return after;
  if (i + 1 == count) return before;
  return before * after > 0 ? 2 * before * after / (before + after) : 0;
}

static void draw_edge(girdle_strokes *strokes, double middle, double step, const double *widths, uint64_t count,
                      int right) {
  double side = right ? 0.5 : -0.5;
  for (uint64_t k = 1; k < count; k++) {
    uint64_t from = right ? k - 1 : count - k, to = right ? k : count - k - 1;
    double third = (right ? 1 : -1) / 3.0;
    double x1 = widths[from] + third * slope_at(widths, count, from),
           x2 = widths[to] - third * slope_at(widths, count, to);
    girdle_strokes_cubic(strokes, middle + side * x1, step * ((double)from + third), middle + side * x2,
                         step * ((double)to - third), middle + side * widths[to], step * (double)to);
  }
}

static int32_t draw_panel(girdle_call *call, double step_mm, const double *widths_mm, uint64_t count,
                          girdle_path **out) {
  girdle_strokes strokes;
  double widest = 0;
  GIRDLE_TRY(girdle_common_range(call, "step", step_mm, 1e-3, 1e6, "mm"));
  if (count < 2 || count > MOST_WIDTHS)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "widths", "a panel takes 2 to 10000 widths");
  for (uint64_t i = 0; i < count; i++) {
    int end = i == 0 || i + 1 == count;
    char name[64];
    snprintf(name, sizeof name, end ? "width %llu" : "width %llu, which is no end,", (unsigned long long)i + 1);
    GIRDLE_TRY(girdle_common_range(call, name, widths_mm[i], end ? 0 : 1e-3, 1e7, "mm"));
    widest = fmax(widest, widths_mm[i]);
  }
  girdle_strokes_begin(&strokes, call);
  girdle_strokes_move(&strokes, (widest - widths_mm[0]) / 2, 0);
  girdle_strokes_line(&strokes, (widest + widths_mm[0]) / 2, 0);
  draw_edge(&strokes, widest / 2, step_mm, widths_mm, count, 1);
  girdle_strokes_line(&strokes, (widest - widths_mm[count - 1]) / 2, step_mm * (double)(count - 1));
  draw_edge(&strokes, widest / 2, step_mm, widths_mm, count, 0);
  girdle_strokes_close(&strokes);
  return girdle_strokes_finish(&strokes, out);
}

int32_t girdle_region_panel(girdle_call *call, double step_mm, const double *widths_mm, uint64_t count,
                            girdle_region **out) {
  GIRDLE_GIVEN(call, widths_mm || !count, out);
  girdle_path *outline = NULL;
  GIRDLE_TRY(draw_panel(call, step_mm, widths_mm, count, &outline));
  return girdle_region_of_rim(call, outline, out);
}

int32_t girdle_region_area(girdle_call *call, double area_mm2, girdle_region **out) {
  GIRDLE_GIVEN(call, out);
  GIRDLE_TRY(girdle_common_range(call, "area", area_mm2, 1e-6, 1e14, "mm2"));
  return girdle_region_rectangle(call, sqrt(area_mm2), sqrt(area_mm2), out);
}

/* ---- what people write */

static int is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static int is_space(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '_';
}

static const char *skip_spaces(const char *at) {
  while (is_space(*at))
    at++;
  return at;
}

/* Path data begins with a lone letter of its commands (rightly with m) and goes on with a number; every word we know
 * has more letters. Nothing at all is no path data either, and is told so there. */
static int is_path_data(const char *text) {
  const char *next;
  text = skip_spaces(text);
  if (!*text) return 1;
  next = skip_spaces(text + 1);
  if (!strchr("mlhvcsqtaz", *text | 0x20) || is_letter(text[1])) return 0;
  return strchr("mz", *text | 0x20) || !is_letter(*next);
}

/* The words before the first number, in small letters with one space between; what follows stands at *rest. */
static void first_words(const char *text, char words[48], const char **rest) {
  size_t length = 0;
  for (text = skip_spaces(text); is_letter(*text) || is_space(*text); text++) {
    if (length < 47 && is_letter(*text)) words[length++] = (char)(*text | 0x20);
    if (length < 47 && is_space(*text) && is_letter(*skip_spaces(text)) && words[length - 1] != ' ')
      words[length++] = ' ';
  }
  words[length] = '\0';
  *rest = text;
}

/* The widths behind a colon, with commas between; *at moves behind the next comma, or to NULL. */
static int32_t read_width(girdle_call *call, const char **at, double *out) {
  size_t length = strcspn(*at, ",");
  const char *end = *at + length;
  char text[80];
  if (length >= sizeof text)
    return girdle_common_fail(call, GIRDLE_SYNTAX, "widths", "'%.40s...' is too long for a length", *at);
  memcpy(text, *at, length);
  text[length] = '\0';
  GIRDLE_TRY(girdle_quantity_parse(call, text, GIRDLE_LENGTH, out));
  *at = *end ? skip_spaces(end + 1) : NULL;
  return GIRDLE_OK;
}

static int32_t read_measures(girdle_call *call, const tape_shape *shape, const char *rest, double *mm) {
  uint64_t count = 0;
  if (!*rest) return bad_count(call, shape);
  GIRDLE_TRY(girdle_cross_parse(call, rest, mm, shape->count, &count));
  return count == shape->count ? GIRDLE_OK : bad_count(call, shape);
}

/* "every 5 cm: 20 cm, 24 cm, 22 cm", the words already read. */
static int32_t read_panel(girdle_call *call, const char *rest, girdle_path **out) {
  static const char *const example = "write one like \"panel every 5 cm: 20 cm, 24 cm, 22 cm\"";
  const char *colon = strchr(rest, ':'), *at;
  double step, widths[200];
  uint64_t count = 0;
  char text[64];
  if (!colon || (size_t)(colon - rest) >= sizeof text)
    return girdle_common_fail(call, GIRDLE_SYNTAX, "panel", "a panel takes a step, a colon and widths; %s", example);
  memcpy(text, rest, (size_t)(colon - rest));
  text[colon - rest] = '\0';
  GIRDLE_TRY(girdle_quantity_parse(call, text, GIRDLE_LENGTH, &step));
  for (at = skip_spaces(colon + 1); at; count++) {
    if (count == sizeof widths / sizeof widths[0])
      return girdle_common_fail(call, GIRDLE_LIMIT, "panel", "a panel written as text takes at most 200 widths");
    GIRDLE_TRY(read_width(call, &at, &widths[count]));
  }
  return draw_panel(call, step, widths, count, out);
}

static int32_t read_outline(girdle_call *call, const char *words, const char *rest, int path_too, girdle_path **out) {
  const tape_shape *shape = NULL;
  double mm[MOST_MEASURES];
  if (strcmp(words, "panel") == 0 || strcmp(words, "panel every") == 0) return read_panel(call, rest, out);
  GIRDLE_TRY(find_shape(call, words, path_too, &shape));
  GIRDLE_TRY(read_measures(call, shape, rest, mm));
  return draw_shape(call, shape, mm, out);
}

int32_t girdle_path_from_text(girdle_call *call, const char *text, girdle_path **out) {
  GIRDLE_GIVEN(call, text, out);
  char words[48];
  const char *rest;
  double mm;
  if (is_path_data(text)) return girdle_path_parse(call, text, strlen(text), out);
  first_words(text, words, &rest);
  if (words[0] && strcmp(words, "line") != 0 && strcmp(words, "loop") != 0)
    return read_outline(call, words, rest, 1, out);
  GIRDLE_TRY(girdle_quantity_parse(call, rest, GIRDLE_LENGTH, &mm));
  return strcmp(words, "loop") == 0 ? girdle_path_loop(call, mm, out) : girdle_path_line(call, mm, out);
}

int32_t girdle_region_from_text(girdle_call *call, const char *text, girdle_region **out) {
  GIRDLE_GIVEN(call, text, out);
  char words[48];
  const char *rest;
  girdle_path *outline = NULL;
  int32_t status;
  if (!is_path_data(text)) {
    double mm2;
    first_words(text, words, &rest);
    if (!words[0] && !girdle_quantity_parse(NULL, rest, GIRDLE_AREA, &mm2)) return girdle_region_area(call, mm2, out);
    if (strcmp(words, "area") == 0) {
      GIRDLE_TRY(girdle_quantity_parse(call, rest, GIRDLE_AREA, &mm2));
      return girdle_region_area(call, mm2, out);
    }
    GIRDLE_TRY(read_outline(call, words, rest, 0, &outline));
    return girdle_region_of_rim(call, outline, out);
  }
  GIRDLE_TRY(girdle_path_parse(call, text, strlen(text), &outline));
  status = girdle_region_new(call, outline, GIRDLE_NONZERO, out);
  girdle_path_free(outline);
  return status;
}
