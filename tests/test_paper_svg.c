/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

#include "girdle/paper.h"

#define SVG "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' "
#define MM SVG "width='100mm' height='100mm' viewBox='0 0 100 100'>"

static girdle_drawing *read_good(test_call *test, const char *text) {
  girdle_drawing *drawing = NULL;
  assert_ok(test, girdle_paper_read_svg(&test->call, "d.svg", text, strlen(text), &drawing));
  return drawing;
}

static const girdle_path *find(const girdle_drawing *drawing, const char *name) {
  for (uint64_t i = 0; i < girdle_drawing_count(drawing); i++)
    if (strcmp(girdle_drawing_name(drawing, i), name) == 0) return girdle_drawing_path(drawing, i);
  print_error("no outline is named '%s'\n", name);
  fail();
  return NULL;
}

static void assert_box(const girdle_drawing *drawing, const char *name, double left, double top, double right,
                       double bottom) {
  girdle_box box;
  girdle_path_box(find(drawing, name), &box);
  assert_near(box.left_mm, left, 1e-6);
  assert_near(box.top_mm, top, 1e-6);
  assert_near(box.right_mm, right, 1e-6);
  assert_near(box.bottom_mm, bottom, 1e-6);
}

/* The extent of one rectangle of 10 x 20 user units at 5, 5, in drawings of different units. CSS Values 3: 96 px are an
 * inch, 72 pt, 6 pc. SVG 2 section 8: viewBox and preserveAspectRatio. */
static void paper_read_svg_knows_units(void **state) {
  static const struct {
    const char *root;
    double left, top, right, bottom;
  } cases[] = {
      {"width='100mm' height='100mm' viewBox='0 0 100 100'", 5, 5, 15, 25},
      {"width='10cm' height='10cm' viewBox='0 0 100 100'", 5, 5, 15, 25},
      {"width='1in' height='1in' viewBox='0 0 100 100'", 1.27, 1.27, 3.81, 6.35},
      {"width='72pt' height='6pc' viewBox='0 0 100 100'", 1.27, 1.27, 3.81, 6.35},
      {"width='101.6Q' height='2.54cm' viewBox='0 0 100 100'", 1.27, 1.27, 3.81, 6.35},
      {"width='96' height='96px'", 5 * 25.4 / 96, 5 * 25.4 / 96, 15 * 25.4 / 96, 25 * 25.4 / 96},
      {"viewBox='0 0 96 96'", 5 * 25.4 / 96, 5 * 25.4 / 96, 15 * 25.4 / 96, 25 * 25.4 / 96},
      {"width='100%' height='100%' viewBox='0 0 96 96'", 5 * 25.4 / 96, 5 * 25.4 / 96, 15 * 25.4 / 96, 25 * 25.4 / 96},
      {"width='200mm' viewBox='-5 -5 100 50'", 20, 20, 40, 60},
      {"width='200mm' height='100mm' viewBox='0 0 100 100'", 55, 5, 65, 25},
      {"width='200mm' height='100mm' viewBox='0 0 100 100' preserveAspectRatio='xMinYMid meet'", 5, 5, 15, 25},
      {"width='200mm' height='100mm' viewBox='0 0 100 100' preserveAspectRatio='xMaxYMax slice'", 10, -90, 30, -50},
      {"width='200mm' height='100mm' viewBox='0 0 100 100' preserveAspectRatio='none'", 10, 5, 30, 25},
  };
  test_call test;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char text[400];
    girdle_drawing *drawing;
    snprintf(text, sizeof text, SVG "%s><rect id='r' x='5' y='5' width='10' height='20'/></svg>", cases[i].root);
    drawing = read_good(&test, text);
    assert_box(drawing, "r", cases[i].left, cases[i].top, cases[i].right, cases[i].bottom);
    girdle_drawing_free(drawing);
  }
  assert_int_equal(test.live_bytes, 0);
}

static void paper_read_svg_takes_every_shape(void **state) {
  test_call test;
  girdle_drawing *drawing;
  (void)state;
  test_begin(&test);
  drawing = read_good(&test, MM
                      "<path id='p' d='M0 0h10v10z'/><line id='l' x1='1' y1='2' x2='4' y2='6'/>"
                      "<polyline id='pl' points='0,0 3,4 6,0'/><polygon id='pg' points='0 0 3 0 3 4'/>"
                      "<rect id='rr' width='20' height='10' rx='2'/><circle id='c' cx='50' cy='50' r='10%'/>"
                      "<ellipse id='e' cx='1cm' cy='50%' rx='5' ry='10'/></svg>");
  assert_int_equal(girdle_drawing_count(drawing), 7);
  assert_near(girdle_path_length_mm(find(drawing, "p")), 20 + sqrt(200), 1e-9);
  assert_near(girdle_path_length_mm(find(drawing, "l")), 5, 1e-9);
  assert_near(girdle_path_length_mm(find(drawing, "pl")), 10, 1e-9);
  assert_near(girdle_path_length_mm(find(drawing, "pg")), 12, 1e-9);
  assert_near(girdle_path_length_mm(find(drawing, "rr")), 2 * (16 + 6) + 4 * acos(-1), 1e-6);
  assert_near(girdle_path_length_mm(find(drawing, "c")), 20 * acos(-1), 1e-6);
  assert_box(drawing, "c", 40, 40, 60, 60);
  assert_near(girdle_path_is_closed(find(drawing, "c")), 1, 0);
  assert_near(girdle_path_is_closed(find(drawing, "l")), 0, 0);
  /* cx in cm is in px of the viewBox's unit: 10 mm are 37.7953 of them */
  assert_box(drawing, "e", 10 * 96 / 25.4 - 5, 40, 10 * 96 / 25.4 + 5, 60);
  girdle_drawing_free(drawing);
  assert_int_equal(test.live_bytes, 0);
}

/* Where the point 10, 0 of a small rectangle goes, worked by hand. */
static void paper_read_svg_applies_transforms(void **state) {
  static const struct {
    const char *transform;
    double left, top;
  } cases[] = {{"translate(3)", 13, 0},
               {"translate(3 4)", 13, 4},
               {"scale(2)", 20, 0},
               {"scale(2,3)translate(0,1)", 20, 3},
               {"rotate(90)", -1, 10},
               {"rotate(180 20 20)", 29, 39},
               {"matrix(1 0 0 1 -10 5)", 0, 5},
               {"skewX(45)", 10, 0},
               {"skewY(45) ", 10, 10},
               {" translate( 1e1 , 0 ) , rotate(-90) ", 10, -11}};
  test_call test;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char text[500];
    girdle_drawing *drawing;
    girdle_box box;
    snprintf(text, sizeof text, MM "<g transform='%s'><rect id='r' x='10' width='1' height='1'/></g></svg>",
             cases[i].transform);
    drawing = read_good(&test, text);
    girdle_path_box(find(drawing, "r"), &box);
    assert_near(box.left_mm, cases[i].left, 1e-9);
    assert_near(box.top_mm, cases[i].top, 1e-9);
    girdle_drawing_free(drawing);
  }
}

static void paper_read_svg_names_by_id_then_title(void **state) {
  test_call test;
  girdle_drawing *drawing;
  (void)state;
  test_begin(&test);
  drawing =
      read_good(&test, "<?xml version='1.0'?><!DOCTYPE svg [<!ENTITY who 'left'>]>" MM
                       "<title>a drawing</title><rect id='cuff' width='1' height='1'><title>not this</title></rect>"
                       "<rect width='1' height='1'><title>\n  &who;\n  yoke </title></rect><rect width='1' height='1'/>"
                       "<g id='hem'><rect width='1' height='1'/><g><rect width='1' height='1'/></g></g>"
                       "<g style='display : none'><text>no</text></g><rect display='none' width='1' height='1'/>"
                       "<defs><text>never</text><g id='star'><path d='M0 0h1'/><path id='ray' d='M0 0h1'/></g></defs>"
                       "<use href='#star' x='5'/><use id='left star' xlink:href='#star' x='9'/></svg>");
  assert_string_equal(girdle_drawing_name(drawing, 0), "cuff");
  assert_string_equal(girdle_drawing_name(drawing, 1), "left yoke");
  assert_string_equal(girdle_drawing_name(drawing, 2), "outline 1");
  assert_string_equal(girdle_drawing_name(drawing, 3), "hem");
  assert_string_equal(girdle_drawing_name(drawing, 4), "hem 2");
  assert_string_equal(girdle_drawing_name(drawing, 5), "star");
  assert_string_equal(girdle_drawing_name(drawing, 6), "ray");
  assert_string_equal(girdle_drawing_name(drawing, 7), "left star");
  assert_string_equal(girdle_drawing_name(drawing, 8), "left star 2");
  assert_int_equal(girdle_drawing_count(drawing), 9);
  assert_null(girdle_drawing_name(drawing, 9));
  assert_null(girdle_drawing_path(drawing, 9));
  assert_box(drawing, "star", 5, 0, 6, 0);
  assert_box(drawing, "left star", 9, 0, 10, 0);
  girdle_drawing_free(drawing);
  assert_int_equal(test.live_bytes, 0);
}

/* ---- what is refused */

typedef struct gathered {
  int count;
  char text[8192];
} gathered;

static void gather(void *context, const girdle_error *error) {
  gathered *all = context;
  size_t used = strlen(all->text);
  all->count++;
  snprintf(all->text + used, sizeof all->text - used, "%d: %s\n", (int)error->line, error->message);
}

static int32_t read_bad(test_call *test, gathered *all, const char *text, uint64_t bytes) {
  girdle_drawing *drawing = NULL;
  int32_t status;
  memset(all, 0, sizeof *all);
  test_again(test);
  test->call.report.context = all;
  test->call.report.fault = gather;
  status = girdle_paper_read_svg(&test->call, "d.svg", text, bytes, &drawing);
  assert_null(drawing);
  assert_int_equal(test->live_bytes, 0);
  return status;
}

/* Every attribute of every shape that is a length: what is none, and what is far from any drawing. */
static void paper_read_svg_names_the_length_that_is_wrong(void **state) {
  static const struct {
    const char *shape, *lengths[7];
  } cases[] = {{"rect", {"x", "y", "width", "height", "rx", "ry"}},
               {"circle", {"cx", "cy", "r"}},
               {"ellipse", {"cx", "cy", "rx", "ry"}},
               {"line", {"x1", "y1", "x2", "y2"}}};
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
    for (const char *const *name = cases[i].lengths; *name; name++) {
      char text[300], expected[60];
      snprintf(text, sizeof text, MM "<%s %s='1q'/></svg>", cases[i].shape, *name);
      snprintf(expected, sizeof expected, "%s=\"1q\" is not a length", *name);
      assert_int_not_equal(read_bad(&test, &all, text, strlen(text)), GIRDLE_OK);
      assert_non_null(strstr(all.text, expected));
      snprintf(text, sizeof text, MM "<%s %s='1000000001'/></svg>", cases[i].shape, *name);
      assert_int_not_equal(read_bad(&test, &all, text, strlen(text)), GIRDLE_OK);
      assert_non_null(strstr(all.text, "a length of the drawing"));
    }
}

/* SVG 2, chapter 10: a radius that is not given is the other one, none is larger than half its side; what has no
 * extent is not drawn. A quarter of a circle of 1 in place of each corner takes 2 - pi / 2 off a rectangle's outline.
 */
static void paper_read_svg_takes_what_shapes_leave_out(void **state) {
  static const struct {
    const char *shape;
    double length_mm; /* 0: it draws nothing */
  } cases[] = {{"<rect id='a' width='8' height='4' rx='1'/>", 24 - 4 * (2 - 1.5707963267948966)},
               {"<rect id='a' width='8' height='4' ry='1'/>", 24 - 4 * (2 - 1.5707963267948966)},
               {"<rect id='a' width='8' height='4' rx='9' ry='0'/>", 24},
               {"<rect id='a' width='8' height='4' rx='-1' ry='1'/>", 24},
               {"<rect id='a' width='4' height='4' rx='9'/>", 4 * 3.141592653589793},
               {"<rect id='a' width='8' height='0'/>", 0},
               {"<rect id='a' width='0' height='4'/>", 0},
               {"<rect id='a' height='4'/>", 0},
               {"<circle id='a' r='2'/>", 4 * 3.141592653589793},
               {"<circle id='a'/>", 0},
               {"<ellipse id='a' rx='2'/>", 4 * 3.141592653589793},
               {"<ellipse id='a' ry='2'/>", 4 * 3.141592653589793},
               {"<ellipse id='a'/>", 0},
               {"<ellipse id='a' rx='2' ry='0'/>", 0},
               {"<line id='a' x2='3' y2='4'/>", 5},
               {"<polyline id='a' points='0 0 3 4'/>", 5},
               {"<polygon id='a' points='0 0 3 0 3 4'/>", 12},
               {"<polyline id='a' points=' \n'/>", 0},
               {"<polygon id='a'/>", 0},
               {"<path id='a' d=' '/>", 0},
               {"<path id='a' d='none'/>", 0},
               {"<path id='a'/>", 0}};
  test_call test;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char text[300];
    girdle_drawing *drawing;
    snprintf(text, sizeof text, MM "%s<path id='z' d='M0 0h1'/></svg>", cases[i].shape);
    assert_ok(&test, girdle_paper_read_svg(&test.call, "d.svg", text, strlen(text), &drawing));
    assert_int_equal(girdle_drawing_count(drawing), cases[i].length_mm > 0 ? 2 : 1);
    if (cases[i].length_mm > 0)
      assert_near(girdle_path_length_mm(girdle_drawing_path(drawing, 0)), cases[i].length_mm, 1e-6);
    girdle_drawing_free(drawing);
  }
  assert_int_equal(test.live_bytes, 0);
}

static void paper_read_svg_names_what_it_cannot_read(void **state) {
  static const struct {
    const char *body, *message;
  } cases[] = {
      {"<text>hello</text>", "2: <text> is not read"},
      {"<image href='x.png'/>", "2: <image> is not read"},
      {"<g><switch/></g>", "2: <switch> is not read"},
      {"<path d='M0 0 L1'/>", "2: "},
      {"<rect width='2em' height='1'/>", "2: width=\"2em\" is not a length"},
      {"<rect width='10 mm' height='1'/>", "2: width=\"10 mm\" is not a length"},
      {"<g transform='rotate(30'/>", "2: transform=\"rotate(30\" cannot be read"},
      {"<g transform='turn(30)'/>", "2: transform=\"turn(30)\" cannot be read"},
      {"<g transform='translate(1 2 3)'/>", "2: transform="},
      {"<polygon points='0 0 url(x)'/>", "2: points=\"0 0 url(x)\" may only hold pairs of numbers"},
      {"<polyline points='0 0 1 1-'/>", "2: points=\"0 0 1 1-\" may only hold pairs of numbers"},
      {"<polyline points='0 0 1'/>", "2: points=\"0 0 1\" may only hold pairs of numbers"},
      {"<use href='#nothing'/>", "2: use refers to \"#nothing\""},
      {"<use href='other.svg#a'/>", "2: use refers to \"other.svg#a\""},
      {"<g id='ring'><use href='#ring'/></g>", "2: use goes through more than 16 others, or in a ring"},
      {"<path id='a' d='M0 0h1'/><path id='a' d='M0 0h1'/>", "2: the id 'a' stands twice"},
      {"<rect width='1' height='1'><title>b</title></rect>\n<rect id='b' width='1' height='1'/>",
       "3: two outlines are named 'b'"},
      {"<g>", "2: the drawing is not well-formed XML"},
      {"&lost;", "2: the drawing is not well-formed XML"},
  };
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char text[600];
    snprintf(text, sizeof text, MM "\n%s</svg>", cases[i].body);
    assert_int_not_equal(read_bad(&test, &all, text, strlen(text)), GIRDLE_OK);
    if (!strstr(all.text, cases[i].message)) print_error("%s gave: %s\n", cases[i].body, all.text);
    assert_non_null(strstr(all.text, cases[i].message));
    assert_true(strncmp(test.error.message, "", 1) != 0);
  }
}

/* What a style says of sizes and places is refused and named, at its line; the rest of styles says nothing here. */
static void paper_read_svg_names_styles_that_change_the_drawing(void **state) {
  static const char *const moving[] = {"transform", "translate", "rotate", "scale", "d", "x",  "y",
                                       "width",     "height",    "cx",     "cy",    "r", "rx", "ry"};
  static const struct {
    const char *body, *message;
  } cases[] = {
      {"<rect style='fill:red; WIDTH : 50px'/>", "2: <rect> has width in its style"},
      {"<g style='stroke:url(a;b:\";)\");/* ; */transform:scale(2)'/>", "2: <g> has transform in its style"},
      {"<style>.a{fill:red}\n.b , c>d{ fill:blue;DISPLAY:none!important}</style>",
       "3: <style> has a rule with display"},
      {"<defs><style><![CDATA[@media print{\n.a:hover{r:2}}]]></style></defs>", "3: <style> has a rule with r;"},
  };
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof moving / sizeof moving[0]; i++) {
    char text[300], expected[80];
    snprintf(text, sizeof text, MM "<g style='%s:none'/></svg>", moving[i]);
    snprintf(expected, sizeof expected, "1: <g> has %s in its style, where it is not read", moving[i]);
    assert_int_equal(read_bad(&test, &all, text, strlen(text)), GIRDLE_UNKNOWN);
    assert_non_null(strstr(all.text, expected));
  }
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char text[600];
    snprintf(text, sizeof text, MM "\n%s</svg>", cases[i].body);
    assert_int_equal(read_bad(&test, &all, text, strlen(text)), GIRDLE_UNKNOWN);
    if (!strstr(all.text, cases[i].message)) print_error("%s gave: %s\n", cases[i].body, all.text);
    assert_non_null(strstr(all.text, cases[i].message));
    assert_int_equal(all.count, 1);
  }
}

static void paper_read_svg_takes_styles_that_only_colour(void **state) {
  test_call test;
  girdle_drawing *drawing;
  (void)state;
  test_begin(&test);
  drawing = read_good(&test, MM
                      "<style>@import url(x.css); /* .a{display:none} */ .a{fill:red;stroke-width:2;content:'{r:1}'} "
                      ".b{display:inline}</style>"
                      "<rect id='a' width='1' height='1' style='stroke-width:3;-x-display:none;font:\"width:1;r:2\"'/>"
                      "<rect id='b' width='1' height='1' style='display:none;display:inline'/>"
                      "<rect id='c' width='1' height='1' style='fill:red;/* no */ display:none ;r:2'/></svg>");
  assert_int_equal(girdle_drawing_count(drawing), 2);
  assert_string_equal(girdle_drawing_name(drawing, 1), "b");
  girdle_drawing_free(drawing);
  assert_int_equal(test.live_bytes, 0);
}

static void paper_read_svg_reports_every_fault(void **state) {
  static const char text[] = MM "\n<text/>\n<rect width='x'/>\n<g><image/></g>\n</svg>";
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  assert_int_equal(read_bad(&test, &all, text, sizeof text - 1), GIRDLE_UNKNOWN);
  assert_int_equal(all.count, 3);
  assert_non_null(strstr(all.text, "2: <text>"));
  assert_non_null(strstr(all.text, "3: width=\"x\""));
  assert_non_null(strstr(all.text, "4: <image>"));
  assert_int_equal(test.error.line, 2);
  assert_string_equal(test.error.source, "d.svg");
}

static void paper_read_svg_needs_a_box_for_percentages(void **state) {
  static const char text[] = SVG "><rect width='10%' height='1'/></svg>";
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  assert_int_equal(read_bad(&test, &all, text, sizeof text - 1), GIRDLE_SYNTAX);
  assert_non_null(strstr(all.text, "give it a viewBox"));
}

/* ---- what would like to take the machine down */

static void paper_read_svg_stops_entity_bombs(void **state) {
  char text[4000] = "<!DOCTYPE svg [<!ENTITY a0 'M0 0 L1 1 '>";
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  for (int i = 1; i < 12; i++) {
    char line[200];
    snprintf(line, sizeof line, "<!ENTITY a%d '&a%d;&a%d;&a%d;&a%d;&a%d;&a%d;&a%d;&a%d;&a%d;&a%d;'>", i, i - 1, i - 1,
             i - 1, i - 1, i - 1, i - 1, i - 1, i - 1, i - 1, i - 1);
    strcat(text, line);
  }
  strcat(text, "]>" MM "<path d='&a11;'/></svg>");
  assert_int_equal(read_bad(&test, &all, text, strlen(text)), GIRDLE_LIMIT);
  assert_non_null(strstr(all.text, "entities"));
}

static void paper_read_svg_reads_nothing_outside(void **state) {
  static const char *const texts[] = {"<!DOCTYPE svg [<!ENTITY x SYSTEM 'file:///etc/passwd'>]>" MM
                                      "<title>&x;</title></svg>",
                                      "<!DOCTYPE svg [<!ENTITY % x SYSTEM 'http://192.0.2.1/x.dtd'>%x;]>" MM "</svg>"};
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < 2; i++) {
    assert_int_equal(read_bad(&test, &all, texts[i], strlen(texts[i])), GIRDLE_SYNTAX);
    assert_non_null(strstr(all.text, "'x' stands outside the file"));
  }
}

static char *repeated(const char *before, const char *piece, size_t times, const char *after) {
  size_t length = strlen(piece);
  char *text = malloc(strlen(before) + length * times + strlen(after) + 1), *at = text;
  assert_non_null(text);
  at += sprintf(at, "%s", before);
  for (size_t i = 0; i < times; i++, at += length)
    memcpy(at, piece, length);
  strcpy(at, after);
  return text;
}

static void paper_read_svg_limits_nesting_and_size(void **state) {
  static const struct {
    const char *before, *piece;
    size_t times;
    const char *after, *message;
  } cases[] = {{MM, "<g>", 100000, "</svg>", "more than 256 deep"},
               {MM "<path d='M0 0", " 1 1", 1000001, "'/></svg>", "more than 1000000 points"},
               {MM "<path d='M0 0", "h1v1", 500001, "'/></svg>", "more than 1000000 points"},
               {MM "<path d='M0 0", "a1 1 0 01.5.5", 333334, "'/></svg>", "more than 1000000 points"},
               {"<svg xmlns='http://www.w3.org/2000/svg' width='9px' height='9px'><path d='M0 0", "c1 1 2 1 3 0",
                500001, "'/></svg>", "more than 1000000 points; half as many"},
               {MM "<path d='M0 0", " 1.00000 1.00000", 1600000, "'/></svg>", "more than 24 MiB of path data"},
               {MM, "<g/>", 300000, "</svg>", "more than 200000 elements"},
               {MM, "<path d='M0 0h1'/>", 10001, "</svg>", "more than 10000 outlines"},
               {MM "<!--", "12345678", 5 << 20, "--></svg>", "longer than 32 MiB"}};
  test_call test;
  gathered all;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char *text = repeated(cases[i].before, cases[i].piece, cases[i].times, cases[i].after);
    assert_int_equal(read_bad(&test, &all, text, strlen(text)), GIRDLE_LIMIT);
    if (!strstr(all.text, cases[i].message)) print_error("expected %s: %s\n", cases[i].message, test.error.message);
    assert_non_null(strstr(test.error.message, cases[i].message));
    free(text);
  }
}

/* Points of each command up to the limit, so that none of them is counted for more than it makes. */
static void paper_read_svg_reads_a_million_points(void **state) {
  static const struct {
    const char *piece;
    size_t times;
  } cases[] = {{"l1 0 0 1", 500000}, {"h.5", 1000000}, {"c1 1 2 1 3 0", 1000000}, {"q1 1 2 0", 1000000}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char *text = repeated(MM "<path id='a' d='M0 0", cases[i].piece, cases[i].times, "'/></svg>");
    girdle_drawing *drawing;
    test_call test;
    test_begin(&test);
    assert_ok(&test, girdle_paper_read_svg(&test.call, "d.svg", text, strlen(text), &drawing));
    assert_true(girdle_path_length_mm(girdle_drawing_path(drawing, 0)) >= 500000);
    girdle_drawing_free(drawing);
    assert_int_equal(test.live_bytes, 0);
    free(text);
  }
}

/* A file in pieces of as many bytes as it happens to be given, long beside what is kept of it, or broken off. */
typedef struct dripping {
  const char *text;
  uint64_t left, at_once;
  int broken;
} dripping;

static int64_t drip(void *context, void *buffer, uint64_t most) {
  dripping *from = context;
  uint64_t take = from->left < from->at_once ? from->left : from->at_once;
  if (take > most) take = most;
  if (!take && from->broken) return -1;
  memcpy(buffer, from->text, take);
  from->text += take;
  from->left -= take;
  return (int64_t)take;
}

static void paper_read_svg_from_reads_piece_by_piece(void **state) {
  char *text = repeated(MM "<metadata>", "<a b='c'>words</a>", 400000, "</metadata><path id='a' d='M0 0h7'/></svg>");
  static const uint64_t at_once[] = {7, 4096, 1 << 30};
  (void)state;
  for (int i = 0; i < 6; i++) {
    dripping from = {text, strlen(text), at_once[i % 3], i >= 3};
    const girdle_tap tap = {&from, drip};
    girdle_drawing *drawing = NULL;
    test_call test;
    test_begin(&test);
    if (i >= 3) {
      from.left--; /* its last byte never comes */
      assert_status(&test, girdle_paper_read_svg_from(&test.call, "d.svg", &tap, &drawing), GIRDLE_STOPPED);
      assert_null(drawing);
    } else {
      assert_ok(&test, girdle_paper_read_svg_from(&test.call, "d.svg", &tap, &drawing));
      assert_int_equal(girdle_drawing_count(drawing), 1);
      assert_near(girdle_path_length_mm(girdle_drawing_path(drawing, 0)), 7, 1e-12);
    }
    girdle_drawing_free(drawing);
    assert_int_equal(test.live_bytes, 0);
  }
  free(text);
}

/* A stray click leaves a path that is but a point; it spoils neither the drawing nor the numbers of names. */
static void paper_read_svg_passes_over_points(void **state) {
  test_call test;
  girdle_drawing *drawing;
  (void)state;
  test_begin(&test);
  drawing = read_good(&test, MM
                      "<path d='M5 5'/><path id='dot' d='M5 5L5 5'/><line x1='3' y1='3' x2='3' y2='3'/>"
                      "<g id='hem'><path d='M2 2h0'/><path d='M0 0h9'/></g></svg>");
  assert_int_equal(girdle_drawing_count(drawing), 1);
  assert_string_equal(girdle_drawing_name(drawing, 0), "hem");
  girdle_drawing_free(drawing);
  assert_int_equal(test.live_bytes, 0);
}

/* Ten uses of ten uses of ... a thing: 1e12 of them, drawing something or nothing. */
static void paper_read_svg_limits_uses_of_uses(void **state) {
  static const char *const bases[] = {"<path id='u0' d='M0 0h1'/>", "<g id='u0'/>"};
  (void)state;
  for (size_t base = 0; base < 2; base++) {
    char *text = calloc(1, 20000);
    test_call test;
    gathered all;
    test_begin(&test);
    strcat(strcat(text, MM), bases[base]);
    for (int i = 1; i <= 12; i++) {
      sprintf(text + strlen(text), "<g id='u%d'>", i);
      for (int k = 0; k < 10; k++)
        sprintf(text + strlen(text), "<use href='#u%d'/>", i - 1);
      strcat(text, "</g>");
    }
    strcat(text, "</svg>");
    assert_int_equal(read_bad(&test, &all, text, strlen(text)), GIRDLE_LIMIT);
    free(text);
  }
}

static void paper_read_svg_survives_mutation(void **state) {
  static const char seed_text[] = MM
      "<g id='a' transform='rotate(9)'><path d='M0 0c1 2 3 4 5 6a1 1 0 0 1 2 2z'/>"
      "<rect width='5%' height='3mm' rx='1'/></g><use href='#a' x='3'/></svg>";
  static const char spice[] = "<>/'=#%0 9-eaMmzZ&;\xff";
  uint64_t stream = 77, good = 0;
  test_call test;
  (void)state;
  for (int i = 0; i < 20000; i++) {
    char text[sizeof seed_text];
    girdle_drawing *drawing = NULL;
    memcpy(text, seed_text, sizeof text);
    for (uint64_t edits = 1 + test_random(&stream) % 3; edits; edits--)
      text[test_random(&stream) % (sizeof text - 1)] = spice[test_random(&stream) % (sizeof spice - 1)];
    test_begin(&test);
    if (girdle_paper_read_svg(&test.call, "d.svg", text, sizeof text - 1, &drawing) == GIRDLE_OK)
      good++;
    else
      assert_null(drawing);
    girdle_drawing_free(drawing);
    assert_int_equal(test.live_bytes, 0);
  }
  assert_true(good > 500 && good < 19500);
}

static int32_t read_some(girdle_call *call) {
  static const char text[] = MM "<g id='a'><path d='M0 0h1'/><title>t</title></g><use id='b' href='#a'/></svg>";
  girdle_drawing *drawing = NULL;
  int32_t status = girdle_paper_read_svg(call, "d.svg", text, sizeof text - 1, &drawing);
  girdle_drawing_free(drawing);
  return status;
}

static int32_t read_dripping(girdle_call *call) {
  static const char text[] = MM "<path id='a' d='M0 0h1'/></svg>";
  dripping from = {text, sizeof text - 1, 16, 0};
  const girdle_tap tap = {&from, drip};
  girdle_drawing *drawing = NULL;
  int32_t status = girdle_paper_read_svg_from(call, "d.svg", &tap, &drawing);
  girdle_drawing_free(drawing);
  return status;
}

static void paper_read_svg_leaks_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(read_some);
  test_sweep_allocations(read_dripping);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_read_svg_knows_units),
      cmocka_unit_test(paper_read_svg_takes_every_shape),
      cmocka_unit_test(paper_read_svg_applies_transforms),
      cmocka_unit_test(paper_read_svg_names_by_id_then_title),
      cmocka_unit_test(paper_read_svg_names_the_length_that_is_wrong),
      cmocka_unit_test(paper_read_svg_takes_what_shapes_leave_out),
      cmocka_unit_test(paper_read_svg_names_what_it_cannot_read),
      cmocka_unit_test(paper_read_svg_reports_every_fault),
      cmocka_unit_test(paper_read_svg_names_styles_that_change_the_drawing),
      cmocka_unit_test(paper_read_svg_takes_styles_that_only_colour),
      cmocka_unit_test(paper_read_svg_needs_a_box_for_percentages),
      cmocka_unit_test(paper_read_svg_stops_entity_bombs),
      cmocka_unit_test(paper_read_svg_reads_nothing_outside),
      cmocka_unit_test(paper_read_svg_limits_nesting_and_size),
      cmocka_unit_test(paper_read_svg_reads_a_million_points),
      cmocka_unit_test(paper_read_svg_from_reads_piece_by_piece),
      cmocka_unit_test(paper_read_svg_passes_over_points),
      cmocka_unit_test(paper_read_svg_limits_uses_of_uses),
      cmocka_unit_test(paper_read_svg_survives_mutation),
      cmocka_unit_test(paper_read_svg_leaks_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
