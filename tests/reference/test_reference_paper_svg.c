/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _DEFAULT_SOURCE /* mkstemps */
#include "support.h"

#include <unistd.h>

#include "girdle/paper.h"

/* Extents of drawings beside an independent reader of SVG: librsvg draws each (rsvg-convert) and poppler renders that
 * at ten dots a millimetre (pdftoppm). Left out where the two programs are not there. */

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

static void box_of(const char *text, girdle_box *out) {
  girdle_drawing *drawing;
  girdle_box all = {INFINITY, INFINITY, -INFINITY, -INFINITY}, box;
  test_call test;
  test_begin(&test);
  assert_ok(&test, girdle_paper_read_svg(&test.call, "d.svg", text, strlen(text), &drawing));
  for (uint64_t i = 0; i < girdle_drawing_count(drawing); i++) {
    girdle_path_box(girdle_drawing_path(drawing, i), &box);
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

static void paper_read_svg_agrees_with_librsvg(void **state) {
  (void)state;
  if (system("rsvg-convert --version >/dev/null 2>&1 && pdftoppm -v >/dev/null 2>&1") != 0) skip();
  for (size_t i = 0; i < sizeof drawings / sizeof drawings[0]; i++) {
    girdle_box ours, theirs;
    box_of(drawings[i], &ours);
    box_by_rsvg(drawings[i], &theirs);
    /* sharp points lose a little where less than half of a dot is covered */
    assert_near(ours.left_mm, theirs.left_mm, 0.25);
    assert_near(ours.top_mm, theirs.top_mm, 0.25);
    assert_near(ours.right_mm, theirs.right_mm, 0.25);
    assert_near(ours.bottom_mm, theirs.bottom_mm, 0.25);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {cmocka_unit_test(paper_read_svg_agrees_with_librsvg)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
