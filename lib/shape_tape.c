/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/shape.h"

#include <math.h>
#include <string.h>

#include "shape_build_internal.h"

/* ---- shapes from a tape measure: the box of each begins at the origin */

enum { MOST_MEASURES = 4 };

typedef struct tape_shape {
  const char *word;
  uint64_t count;
  const char *measures[MOST_MEASURES];
  void (*draw)(girdle_strokes *strokes, const double *mm);
  const char *example;
} tape_shape;

static void draw_rectangle(girdle_strokes *strokes, const double *mm) {
  girdle_strokes_move(strokes, 0, 0);
  girdle_strokes_line(strokes, mm[0], 0);
  girdle_strokes_line(strokes, mm[0], mm[1]);
  girdle_strokes_line(strokes, 0, mm[1]);
  girdle_strokes_close(strokes);
}

static void draw_oval(girdle_strokes *strokes, const double *mm) {
  double a = mm[0] / 2, b = mm[1] / 2;
  girdle_strokes_move(strokes, a, 0);
  girdle_strokes_arc(strokes, a, b, 0, 0, 1, mm[0], b);
  girdle_strokes_arc(strokes, a, b, 0, 0, 1, a, mm[1]);
  girdle_strokes_arc(strokes, a, b, 0, 0, 1, 0, b);
  girdle_strokes_arc(strokes, a, b, 0, 0, 1, a, 0);
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

static const tape_shape rectangle = {"rectangle", 2, {"width", "height"}, draw_rectangle, "rectangle 10 cm x 20 cm"};
static const tape_shape oval = {"oval", 2, {"width", "height"}, draw_oval, "oval 8 cm x 6 cm"};
static const tape_shape strip = {"strip", 2, {"length", "depth"}, draw_rectangle, "strip 60 cm x 4 cm"};
static const tape_shape trapezoid = {
    "trapezoid", 3, {"top", "bottom", "height"}, draw_trapezoid, "trapezoid 20 cm x 30 cm x 15 cm"};
static const tape_shape *const shapes[] = {&rectangle, &oval, &strip, &trapezoid};
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
  int32_t status;
  GIRDLE_TRY(draw_shape(call, shape, mm, &outline));
  status = girdle_region_new(call, outline, GIRDLE_NONZERO, out);
  girdle_path_free(outline);
  return status;
}

int32_t girdle_region_rectangle(girdle_call *call, double width_mm, double height_mm, girdle_region **out) {
  const double mm[] = {width_mm, height_mm};
  return make_shape(call, &rectangle, mm, out);
}

int32_t girdle_region_oval(girdle_call *call, double width_mm, double height_mm, girdle_region **out) {
  const double mm[] = {width_mm, height_mm};
  return make_shape(call, &oval, mm, out);
}

int32_t girdle_region_trapezoid(girdle_call *call, double top_mm, double bottom_mm, double height_mm,
                                girdle_region **out) {
  const double mm[] = {top_mm, bottom_mm, height_mm};
  return make_shape(call, &trapezoid, mm, out);
}

int32_t girdle_region_strip(girdle_call *call, double length_mm, double depth_mm, girdle_region **out) {
  const double mm[] = {length_mm, depth_mm};
  return make_shape(call, &strip, mm, out);
}

/* ---- what people write */

static int is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static const char *skip_spaces(const char *at) {
  while (*at == ' ' || *at == '\t' || *at == '\n' || *at == '\r') at++;
  return at;
}

/* Path data begins with a lone m; every word we know has more letters. */
static int is_path_data(const char *text) {
  return (*text == 'm' || *text == 'M') && !is_letter(text[1]);
}

/* The first word in small letters; what follows it stands at *rest. */
static void first_word(const char *text, char word[32], const char **rest) {
  size_t length = 0;
  for (; is_letter(*text); text++)
    if (length < 31) word[length++] = (char)(*text | 0x20);
  word[length] = '\0';
  *rest = skip_spaces(text);
}

/* The end of one measure: a cross standing alone or the end of the text. */
static const char *measure_end(const char *at) {
  for (; *at; at++)
    if ((*at == ' ' && (at[1] == 'x' || at[1] == 'X') && at[2] == ' ')) return at;
  return at;
}

static int32_t bad_count(girdle_call *call, const tape_shape *shape) {
  return girdle_common_fail(call, GIRDLE_SYNTAX, shape->word, "a %s takes %d measures; write one like \"%s\"",
                            shape->word, (int)shape->count, shape->example);
}

static int32_t read_measures(girdle_call *call, const tape_shape *shape, const char *at, double *mm) {
  for (uint64_t i = 0; i < shape->count; i++) {
    const char *end = measure_end(at);
    char text[64];
    size_t length = (size_t)(end - at);
    if (length == 0 || length >= sizeof text) return bad_count(call, shape);
    memcpy(text, at, length);
    text[length] = '\0';
    GIRDLE_TRY(girdle_quantity_parse(call, text, GIRDLE_LENGTH, &mm[i]));
    if (!*end != (i + 1 == shape->count)) return bad_count(call, shape);
    at = *end ? skip_spaces(end + 2) : end;
  }
  return GIRDLE_OK;
}

static int32_t find_shape(girdle_call *call, const char *word, int path_too, const tape_shape **out) {
  const char *known[SHAPES + 2];
  uint64_t count = 0;
  for (int i = 0; i < SHAPES; i++) {
    known[count++] = shapes[i]->word;
    if (strcmp(word, shapes[i]->word) == 0) {
      *out = shapes[i];
      return GIRDLE_OK;
    }
  }
  if (path_too) {
    known[count++] = "line";
    known[count++] = "loop";
  }
  if (word[0]) return girdle_common_unknown(call, "shape", word, known, count);
  return girdle_common_fail(call, GIRDLE_SYNTAX, "shape", "a shape begins with its name, like \"%s\"", rectangle.example);
}

int32_t girdle_path_from_text(girdle_call *call, const char *text, girdle_path **out) {
  char word[32];
  const char *rest;
  const tape_shape *shape = NULL;
  double mm[MOST_MEASURES];
  text = skip_spaces(text);
  if (is_path_data(text)) return girdle_path_parse(call, text, strlen(text), out);
  first_word(text, word, &rest);
  if (!word[0] || strcmp(word, "line") == 0) {
    GIRDLE_TRY(girdle_quantity_parse(call, rest, GIRDLE_LENGTH, mm));
    return girdle_path_line(call, mm[0], out);
  }
  if (strcmp(word, "loop") == 0) {
    GIRDLE_TRY(girdle_quantity_parse(call, rest, GIRDLE_LENGTH, mm));
    return girdle_path_loop(call, mm[0], out);
  }
  GIRDLE_TRY(find_shape(call, word, 1, &shape));
  GIRDLE_TRY(read_measures(call, shape, rest, mm));
  return draw_shape(call, shape, mm, out);
}

int32_t girdle_region_from_text(girdle_call *call, const char *text, girdle_region **out) {
  char word[32];
  const char *rest;
  const tape_shape *shape = NULL;
  double mm[MOST_MEASURES];
  text = skip_spaces(text);
  if (is_path_data(text)) {
    girdle_path *outline = NULL;
    int32_t status;
    GIRDLE_TRY(girdle_path_parse(call, text, strlen(text), &outline));
    status = girdle_region_new(call, outline, GIRDLE_NONZERO, out);
    girdle_path_free(outline);
    return status;
  }
  first_word(text, word, &rest);
  GIRDLE_TRY(find_shape(call, word, 0, &shape));
  GIRDLE_TRY(read_measures(call, shape, rest, mm));
  return make_shape(call, shape, mm, out);
}
