/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _DEFAULT_SOURCE /* mkstemps */
#include "support.h"

#include <unistd.h>

#include "girdle/paper.h"

/* Drawings beside independent readers. Extents: librsvg draws each (rsvg-convert) and poppler renders that at ten dots
 * a millimetre (pdftoppm). Lengths: the npm package svg-path-properties. Drawings of others: the open icons of the npm
 * package feather-icons (make setup-peers). Left out where they are not there. */

#define HEAD "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' "
#define MM HEAD "width='100mm' height='100mm' viewBox='0 0 100 100'>"

static const char *const drawings[] = {
    MM "<rect x='10' y='20' width='30' height='15' rx='4'/></svg>",
    MM "<circle cx='40' cy='50' r='12.5'/><ellipse cx='60' cy='50' rx='20' ry='7' transform='rotate(30 60 50)'/></svg>",
    MM "<path d='M20 70C20 20 80 30 80 50S60 85 50 80'/></svg>",
    MM "<path d='M30 50a25 12 40 1 1 20 10z'/></svg>",
    MM "<path d='M10 40q40 60 60 0t10 20z'/></svg>",
    MM "<polygon points='15,15 80,25 40,85' transform='skewX(10)'/></svg>",
    MM "<polyline points='15 75 50 12 85 75'/></svg>",
    MM
    "<g transform='translate(10 5) scale(1.5 .5)'><g transform='rotate(-20)'><rect x='5' y='60' width='20' "
    "height='30'/>"
    "</g></g></svg>",
    MM
    "<defs><g id='a'><path d='M0 0L10 3 5 12z'/></g></defs><use href='#a' x='20' y='30' transform='scale(2)'/>"
    "<use xlink:href='#a' x='15' y='60'/></svg>",
    MM "<g display='none'><rect width='99' height='99'/></g><rect x='25%' y='30%' width='5mm' height='1cm'/></svg>",
    HEAD "width='4in' height='3in' viewBox='-10 -10 200 100'><rect x='0' y='0' width='180' height='80'/></svg>",
    HEAD
    "width='80mm' height='40mm' viewBox='0 0 10 10' preserveAspectRatio='xMaxYMin meet'><circle cx='5' cy='5' "
    "r='4'/></svg>",
    HEAD "width='300' height='200'><path d='M20 20h200v100H20z' transform='matrix(.8 .2 -.1 .9 20 10)'/></svg>",
};

/* The extent of all outlines of a drawing, and how long they are together. */
static void box_of(const char *text, girdle_box *out, double *length_mm) {
  girdle_drawing *drawing;
  girdle_box all = {INFINITY, INFINITY, -INFINITY, -INFINITY}, box;
  test_call test;
  test_begin(&test);
  assert_ok(&test, girdle_paper_read_svg(&test.call, "d.svg", text, strlen(text), &drawing));
  *length_mm = 0;
  for (uint64_t i = 0; i < girdle_drawing_count(drawing); i++) {
    girdle_path_box(girdle_drawing_path(drawing, i), &box);
    *length_mm += girdle_path_length_mm(girdle_drawing_path(drawing, i));
    all.left_mm = fmin(all.left_mm, box.left_mm);
    all.top_mm = fmin(all.top_mm, box.top_mm);
    all.right_mm = fmax(all.right_mm, box.right_mm);
    all.bottom_mm = fmax(all.bottom_mm, box.bottom_mm);
  }
  girdle_drawing_free(drawing);
  *out = all;
}

static void read_dots(FILE *pipe, girdle_box *out) {
  int width = 0, height = 0, most = 0;
  girdle_box all = {INFINITY, INFINITY, -INFINITY, -INFINITY};
  assert_int_equal(fscanf(pipe, "P5 %d %d %d", &width, &height, &most), 3);
  fgetc(pipe);
  for (int y = 0; y < height; y++) {
    for (int x = 0; x < width; x++) {
      if (fgetc(pipe) > 127) continue;
      all.left_mm = fmin(all.left_mm, x / 10.0);
      all.top_mm = fmin(all.top_mm, y / 10.0);
      all.right_mm = fmax(all.right_mm, (x + 1) / 10.0);
      all.bottom_mm = fmax(all.bottom_mm, (y + 1) / 10.0);
    }
  }
  *out = all;
}

static void box_by_rsvg(const char *text, girdle_box *out) {
  char name[] = "/tmp/girdle-test-XXXXXX.svg", command[300];
  int file = mkstemps(name, 4);
  FILE *pipe;
  assert_true(file >= 0);
  assert_int_equal(write(file, text, strlen(text)), (ssize_t)strlen(text));
  close(file);
  snprintf(command, sizeof command, "rsvg-convert -f pdf %s | pdftoppm -r 254 -gray - 2>/dev/null", name);
  pipe = popen(command, "r");
  assert_non_null(pipe);
  read_dots(pipe, out);
  pclose(pipe);
  unlink(name);
}

static int can_render(void) {
  return system("rsvg-convert --version >/dev/null 2>&1 && pdftoppm -v >/dev/null 2>&1") == 0;
}

/* Sharp points lose a little where less than half of a dot is covered. A stroke's half width lies around `text`. */
static void assert_same_box(const char *text, double half_stroke_mm) {
  girdle_box ours, theirs;
  double length_mm;
  box_of(text, &ours, &length_mm);
  box_by_rsvg(text, &theirs);
  assert_near(ours.left_mm - half_stroke_mm, theirs.left_mm, 0.25);
  assert_near(ours.top_mm - half_stroke_mm, theirs.top_mm, 0.25);
  assert_near(ours.right_mm + half_stroke_mm, theirs.right_mm, 0.25);
  assert_near(ours.bottom_mm + half_stroke_mm, theirs.bottom_mm, 0.25);
}

static void paper_read_svg_agrees_with_librsvg(void **state) {
  (void)state;
  if (!can_render()) skip();
  for (size_t i = 0; i < sizeof drawings / sizeof drawings[0]; i++)
    assert_same_box(drawings[i], 0);
}

/* ---- icons that others drew: 24 x 24 px, strokes of 2 px with round ends and joins */

static const double px_mm = 25.4 / 96;

static const char *peers(void) {
  static char folder[300];
  const char *build = getenv("BUILD");
  snprintf(folder, sizeof folder, "%s/peers/node_modules", build ? build : "build");
  return folder;
}

static char *read_icon(const char *name) {
  char path[600], *text = calloc(1, 10000);
  FILE *file;
  snprintf(path, sizeof path, "%s/feather-icons/dist/icons/%s", peers(), name);
  file = fopen(path, "rb");
  assert_true(file && text && fread(text, 1, 9999, file) > 0);
  fclose(file);
  return text;
}

/* Calls `with` for each icon's name and its length by the other reader, in px; 0 when these are not there. */
static int each_icon(void (*with)(const char *name, double length_px)) {
  char command[1000], name[200];
  double length_px;
  int count = 0;
  FILE *pipe;
  snprintf(command, sizeof command,
           "NODE_PATH='%s' node tests/outside/lengths.js '%s/feather-icons/dist/icons' 2>/dev/null", peers(), peers());
  pipe = popen(command, "r");
  assert_non_null(pipe);
  for (; fscanf(pipe, "%199s %lf", name, &length_px) == 2; count++)
    with(name, length_px);
  pclose(pipe);
  return count;
}

/* That package says of itself that it samples curves; its lengths are good to a thousandth. */
static void assert_length(const char *name, double length_px) {
  char *text = read_icon(name);
  girdle_box box;
  double length_mm;
  box_of(text, &box, &length_mm);
  if (fabs(length_mm / px_mm - length_px) > 1e-3 * length_px)
    fail_msg("%s is %.6f px long, not %.6f", name, length_px, length_mm / px_mm);
  free(text);
}

static void paper_read_svg_measures_icons_as_svg_path_properties_does(void **state) {
  int count;
  (void)state;
  count = each_icon(assert_length);
  if (count == 0) skip();
  assert_true(count > 250);
}

/* Every twelfth icon, or all with GIRDLE_PROOF=1, on paper that holds its strokes whole. */
static void assert_extent(const char *name, double length_px) {
  static int number;
  char *text, *larger, *at;
  (void)length_px;
  if (number++ % 12 && !getenv("GIRDLE_PROOF")) return;
  text = read_icon(name);
  larger = calloc(1, strlen(text) + 200);
  at = strstr(text, "width=\"24\"");
  assert_true(larger && at);
  sprintf(larger, "%.*swidth=\"28\" height=\"28\" viewBox=\"-2 -2 28 28\" %s", (int)(at - text), text,
          strstr(text, "fill="));
  assert_same_box(larger, px_mm);
  free(larger);
  free(text);
}

static void paper_read_svg_draws_icons_as_librsvg_does(void **state) {
  (void)state;
  if (!can_render() || each_icon(assert_extent) == 0) skip();
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_read_svg_agrees_with_librsvg),
      cmocka_unit_test(paper_read_svg_measures_icons_as_svg_path_properties_does),
      cmocka_unit_test(paper_read_svg_draws_icons_as_librsvg_does),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
