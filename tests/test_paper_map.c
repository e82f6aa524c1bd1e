/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_support.h"

#include <expat.h>

/* Draws a job, which it frees; the caller frees the text. */
static char *drawn_as(test_call *test, girdle_job *job, const girdle_print_options *options, uint32_t flags) {
  kept all;
  girdle_phrased with = {NULL, keep_in(&all), flags, 0};
  const girdle_sink sink = girdle_phrased_sink(&with);
  assert_ok(test, options ? girdle_paper_map_svg_with(&test->call, job, options, &sink)
                          : girdle_paper_map_svg(&test->call, job, &sink));
  girdle_job_free(job);
  assert_int_equal(test->live_bytes, 0);
  return all.text;
}

static char *drawn(test_call *test, girdle_job *job) {
  return drawn_as(test, job, NULL, 0);
}

static char *printed_map_of(const char *costume, const girdle_print_options *options) {
  girdle_job *job;
  test_call test;
  test_begin(&test);
  assert_ok(&test, sample_job(&test.call, "F-1", costume, &job));
  return drawn_as(&test, job, options, 0);
}

static char *map_of(const char *costume) {
  return printed_map_of(costume, NULL);
}

static void paper_map_svg_draws_each_stone_once(void **state) {
  char *text = map_of("frost");
  (void)state;
  /* 9 + 2 x 5 round ones and half of the bow's 4; the zone worked twice is drawn once, what is set by eye never */
  assert_int_equal(count_of(text, "<circle class=\"stone\""), 9 + 10 + 2);
  assert_int_equal(count_of(text, "<use class=\"stone\""), 2);
  assert_int_equal(count_of(text, "class=\"stone\""), 23);
  assert_has(text, "cx=\"-3.1416\" cy=\"-0.25\" r=\"2.35\"");
  assert_has(text, "href=\"#cut0\" transform=\"translate(16.8584 -0.2498) rotate(45)\"");
  assert_has(text, "\303\227 2: work it 2 times");
  assert_has(text, "220 ss16 clear set by eye");
  free(text);
}

static void paper_map_svg_keeps_the_class_to_the_zones(void **state) {
  char *text = map_of("frost"), *key = strstr(text, "<g id=\"key\""), *zone = strstr(text, "<g class=\"zone\""),
       *ruler = strstr(text, "<g id=\"ruler\"");
  (void)state;
  assert_true(key && zone && ruler && key < zone && zone < ruler);
  assert_null(strstr(ruler, "class=\"stone\""));
  *zone = '\0';
  assert_null(strstr(text, "class=\"stone\""));
  assert_int_equal(count_of(key, "<circle"), 4); /* ss20 twice, ss16, ss12: larger ones first */
  assert_true(strstr(key, "8 mm red navette") < strstr(key, "ss20 black"));
  assert_true(strstr(key, "ss20 black") < strstr(key, "ss16 clear"));
  free(text);
}

static void paper_map_svg_says_what_it_shows(void **state) {
  char *text = map_of("frost");
  (void)state;
  assert_has(text, "Drawn at true size, as the costume lies while it is glued, stretched 10 % across.");
  assert_has(text, "F-1 \302\267 size 140 \302\267 needed by 2031-03-14");
  assert_has(text, "<title>ss20 black</title>");
  assert_has(text, "h100\"/>"); /* the ruler's edge */
  assert_has(text, "width=\"228mm\"");
  assert_has(text, "viewBox=\"0 0 228 ");
  assert_null(strstr(text, "A. Nobody"));
  assert_null(strstr(text, "http://www.w3.org/1999")); /* one name space, nothing from outside */
  free(text);
}

/* The x of the first stone behind each of two places of text, which move on behind it; 0 when there is none. */
static int next_stones(char **at, char **other, double x[2], double y[2]) {
  char **texts[2] = {at, other};
  for (int i = 0; i < 2; i++) {
    char *stone = strstr(*texts[i], "<circle class=\"stone\"");
    if (!stone) return 0;
    if (sscanf(stone, "<circle class=\"stone\" cx=\"%lf\" cy=\"%lf\"", &x[i], &y[i]) != 2) return 0;
    *texts[i] = stone + 1;
  }
  return 1;
}

/* A row keeps its box: what lay to the left lies as far to the right, at the same height. */
static void paper_map_svg_with_mirrors_each_zone(void **state) {
  girdle_print_options options;
  char *plain = map_of("frost"), *mirrored, *same, *at = plain, *other;
  double x[2], y[2], sum = 0;
  int stones = 0;
  (void)state;
  girdle_print_options_init(&options, sizeof options);
  same = printed_map_of("frost", &options);
  assert_string_equal(plain, same);
  options.flags = GIRDLE_PRINT_MIRRORED;
  mirrored = other = printed_map_of("frost", &options);
  for (; next_stones(&at, &other, x, y); stones++) {
    if (stones == 0) sum = x[0] + x[1];
    if (stones < 5) assert_true(fabs(x[0] + x[1] - sum) < 2e-4); /* all of one kind, in one zone */
    assert_true(y[0] == y[1]);
  }
  assert_int_equal(stones, 21);
  assert_has(plain, "rotate(45)");
  assert_has(mirrored, "rotate(135)");
  assert_has(mirrored, "Mirrored, for working from the back of the fabric.");
  assert_null(strstr(plain, "Mirrored"));
  free(plain);
  free(mirrored);
  free(same);
}

static void paper_map_svg_is_the_same_every_time(void **state) {
  char *once = map_of("frost"), *again = map_of("frost");
  (void)state;
  assert_string_equal(once, again);
  free(once);
  free(again);
}

/* Names of every script, and names that would like to be markup, come out as they went in. */
static void paper_map_svg_makes_names_inert(void **state) {
  static const char *const names[] = {"<script>alert(1)</script>", "a \"b\" & 'c' ]]>",
                                      "\305\201\303\263d\305\272 \316\261 \330\271 \346\227\245",
                                      "new\nline\ttab\001x"};
  (void)state;
  for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
    char *text = map_of(names[i]);
    XML_Parser parser = XML_ParserCreate(NULL);
    assert_int_equal(XML_Parse(parser, text, (int)strlen(text), 1), XML_STATUS_OK);
    XML_ParserFree(parser);
    assert_null(strstr(text, "<script"));
    free(text);
  }
}

/* ---- the layout: boxes of circles of different zones do not touch */

typedef struct seen {
  int depth, zone_depth, zones;
  double x[64], y[64], left[64], right[64], top[64], bottom[64];
} seen;

static double value_of(const char **attributes, const char *name) {
  for (; *attributes; attributes += 2)
    if (strcmp(attributes[0], name) == 0) return strtod(attributes[1], NULL);
  return NAN;
}

static void XMLCALL on_start(void *context, const char *name, const char **attributes) {
  seen *all = context;
  int zone = all->zones - 1;
  all->depth++;
  if (strcmp(name, "g") == 0 && *attributes && strcmp(attributes[0], "class") == 0) {
    all->zones++;
    all->zone_depth = all->depth;
    all->left[zone + 1] = all->top[zone + 1] = INFINITY;
    all->right[zone + 1] = all->bottom[zone + 1] = -INFINITY;
  }
  if (!all->zone_depth || all->depth <= all->zone_depth) return;
  if (strcmp(name, "g") == 0 && strcmp(attributes[0], "transform") == 0)
    assert_int_equal(sscanf(attributes[1], "translate(%lf %lf)", &all->x[zone], &all->y[zone]), 2);
  if (strcmp(name, "circle") != 0) return;
  all->left[zone] = fmin(all->left[zone], all->x[zone] + value_of(attributes, "cx") - value_of(attributes, "r"));
  all->right[zone] = fmax(all->right[zone], all->x[zone] + value_of(attributes, "cx") + value_of(attributes, "r"));
  all->top[zone] = fmin(all->top[zone], all->y[zone] + value_of(attributes, "cy") - value_of(attributes, "r"));
  all->bottom[zone] = fmax(all->bottom[zone], all->y[zone] + value_of(attributes, "cy") + value_of(attributes, "r"));
}

static void XMLCALL on_end(void *context, const char *name) {
  seen *all = context;
  (void)name;
  if (all->depth == all->zone_depth) all->zone_depth = 0;
  all->depth--;
}

/* A job of zones of the given numbers of stones in a row. */
static char *map_of_rows(const uint32_t *counts, int zones) {
  static const char *const stones[] = {"ss20"};
  test_call test;
  girdle_job *job;
  test_begin(&test);
  job = plain_job(&test);
  for (int i = 0; i < zones; i++) {
    char name[16];
    snprintf(name, sizeof name, "z%d", i);
    assert_ok(&test, sample_zone(&test.call, job, name, "", 0, 1, stones, 1, counts[i]));
  }
  return drawn(&test, job);
}

/* The map of three stones of one kind. */
static char *map_of_kind(const char *stone) {
  test_call test;
  girdle_job *job;
  test_begin(&test);
  job = plain_job(&test);
  assert_ok(&test, sample_zone(&test.call, job, "z", "", 0, 1, &stone, 1, 3));
  return drawn(&test, job);
}

static void paper_map_svg_lays_zones_side_by_side(void **state) {
  uint64_t stream = 7;
  (void)state;
  for (int round = 0; round < 50; round++) {
    uint32_t counts[64];
    int zones = 1 + (int)(test_random(&stream) % 30);
    char *text;
    seen all;
    XML_Parser parser = XML_ParserCreate(NULL);
    for (int i = 0; i < zones; i++)
      counts[i] = 1 + (uint32_t)(test_random(&stream) % 60);
    text = map_of_rows(counts, zones);
    memset(&all, 0, sizeof all);
    XML_SetUserData(parser, &all);
    XML_SetElementHandler(parser, on_start, on_end);
    assert_int_equal(XML_Parse(parser, text, (int)strlen(text), 1), XML_STATUS_OK);
    XML_ParserFree(parser);
    assert_int_equal(all.zones, zones);
    for (int a = 0; a < zones; a++)
      for (int b = a + 1; b < zones; b++)
        assert_true(all.right[a] + 5 < all.left[b] || all.right[b] + 5 < all.left[a] ||
                    all.bottom[a] + 5 < all.top[b] || all.bottom[b] + 5 < all.top[a]);
    free(text);
  }
}

static void paper_map_svg_draws_a_job_without_stones(void **state) {
  char *text = map_of_rows(NULL, 0);
  (void)state;
  assert_int_equal(count_of(text, "class=\"stone\""), 0);
  assert_has(text, "</svg>");
  free(text);
}

static int32_t swallow(void *context, const void *bytes, uint64_t count) {
  (void)context, (void)bytes, (void)count;
  return 0;
}

/* The outline of the one kind of fancy stone on a map; the caller frees it. */
static girdle_path *outline_on(const char *map) {
  static const char begins[] = "<path id=\"cut0\" d=\"";
  const char *data = strstr(map, begins);
  girdle_path *path;
  assert_non_null(data);
  data += strlen(begins);
  assert_int_equal(girdle_path_parse(NULL, data, strcspn(data, "\""), &path), GIRDLE_OK);
  return path;
}

/* The drawn outline of each cut reaches as far as the stone room says: half its length behind and before its point,
 * half its width beside it. Four decimals of a millimetre are enough. */
static void paper_map_svg_draws_the_outlines_of_cuts(void **state) {
  static const char *const cuts[] = {"oval", "pear", "navette", "square", "rectangle", "heart"};
  (void)state;
  for (size_t i = 0; i < sizeof cuts / sizeof cuts[0]; i++) {
    char text[40], *map;
    girdle_path *path;
    girdle_stone stone;
    girdle_box box;
    snprintf(text, sizeof text, "8 mm red %s", cuts[i]);
    assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
    map = map_of_kind(text);
    assert_int_equal(count_of(map, "<use class=\"stone\" href=\"#cut0\""), 3);
    path = outline_on(map);
    assert_true(girdle_path_is_closed(path));
    girdle_path_box(path, &box);
    assert_near(box.bottom_mm - box.top_mm, stone.diameter_mm[GIRDLE_NOMINAL], 1e-3);
    assert_near(box.right_mm, girdle_stone_reach_mm(&stone, 0, 0), 1e-3);
    assert_near(box.right_mm - box.left_mm, stone.diameter_mm[GIRDLE_NOMINAL] * stone.length_ratio, 1e-3);
    girdle_path_free(path);
    free(map);
  }
}

/* The outline of a heart has more decimals than anyone can draw. */
static void paper_map_svg_writes_four_decimals(void **state) {
  char *map = map_of_kind("7.77 mm red heart"), *data = strstr(map, "<path id=\"cut0\" d=\"");
  size_t digits = 0, most = 0;
  (void)state;
  assert_non_null(data);
  for (const char *at = strstr(data, " d=\"") + 4; *at != '"'; at++) {
    digits = *at == '.' || digits ? digits + 1 : 0;
    if (*at != '.' && !(*at >= '0' && *at <= '9')) digits = 0;
    most = digits > most ? digits : most;
  }
  assert_int_equal(most, 5); /* with the point */
  free(map);
}

/* A quarter of an inch, and four inches: 14 + 6.35 and 14 + 101.6 mm. */
static void paper_map_svg_has_a_ruler_in_inches(void **state) {
  test_call test;
  char *metric = map_of_rows(NULL, 0), *inches;
  (void)state;
  test_begin(&test);
  inches = drawn_as(&test, plain_job(&test), NULL, GIRDLE_PHRASED_INCHES);
  assert_null(strstr(metric, "id=\"inches\""));
  assert_has(inches, "id=\"inches\"");
  assert_has(inches, "M20.35 ");
  assert_has(strstr(inches, "id=\"inches\""), "M115.6 ");
  free(metric);
  free(inches);
}

/* Stretched along, across, both ways, and by how much. */
static void paper_map_svg_says_how_the_costume_lies(void **state) {
  static const struct {
    double across, along;
    const char *said;
  } cases[] = {{0, 0, "as the costume lies flat while it is glued."},
               {0.08, 0, "stretched 8 % across."},
               {0, 0.125, "stretched 12.5 % along."},
               {0.1, 0.05, "stretched 10 % across and 5 % along."}};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_job_head head;
    girdle_job *job;
    test_call test;
    char *text;
    test_begin(&test);
    girdle_job_head_init(&head, sizeof head);
    strcpy(head.tag, "t");
    head.fabric.lies_across = cases[i].across;
    head.fabric.lies_along = cases[i].along;
    assert_ok(&test, girdle_job_new(&test.call, &head, &job));
    text = drawn(&test, job);
    assert_has(text, cases[i].said);
    free(text);
  }
}

/* Shades of a colour's name, and a name that nobody knows, which has one colour everywhere. */
static void paper_map_svg_inks_every_colour(void **state) {
  static const char *const names[] = {"ss20 blue", "ss20 light blue", "ss20 dark blue", "ss20 grumbleflax"};
  char inks[4][8];
  (void)state;
  for (int i = 0; i < 4; i++) {
    char *map = map_of_kind(names[i]);
    assert_int_equal(sscanf(strstr(map, "stop-color=\""), "stop-color=\"%7s", inks[i]), 1);
    for (int k = 0; k < i; k++)
      assert_memory_not_equal(inks[i], inks[k], 7);
    free(map);
  }
  assert_memory_equal(inks[0], "#2b62c4", 7);
  assert_memory_equal(inks[1], "#8aa8de", 7); /* 45 % of the way to white: 0x2b + (255 - 0x2b) x 45 / 100 */
  assert_memory_equal(inks[2], "#1a3b76", 7); /* 40 % of the way to black */
}

static int32_t draw_some(girdle_call *call) {
  const girdle_sink sink = {NULL, swallow};
  girdle_job *job;
  int32_t status = sample_job(call, "t", "frost", &job);
  if (status) return status;
  status = girdle_paper_map_svg(call, job, &sink);
  if (!status) status = girdle_paper_map_svg_with(call, job, NULL, &sink);
  girdle_job_free(job);
  return status;
}

static void paper_map_svg_leaks_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(draw_some);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_map_svg_draws_each_stone_once),
      cmocka_unit_test(paper_map_svg_keeps_the_class_to_the_zones),
      cmocka_unit_test(paper_map_svg_says_what_it_shows),
      cmocka_unit_test(paper_map_svg_with_mirrors_each_zone),
      cmocka_unit_test(paper_map_svg_is_the_same_every_time),
      cmocka_unit_test(paper_map_svg_makes_names_inert),
      cmocka_unit_test(paper_map_svg_lays_zones_side_by_side),
      cmocka_unit_test(paper_map_svg_draws_a_job_without_stones),
      cmocka_unit_test(paper_map_svg_draws_the_outlines_of_cuts),
      cmocka_unit_test(paper_map_svg_writes_four_decimals),
      cmocka_unit_test(paper_map_svg_has_a_ruler_in_inches),
      cmocka_unit_test(paper_map_svg_says_how_the_costume_lies),
      cmocka_unit_test(paper_map_svg_inks_every_colour),
      cmocka_unit_test(paper_map_svg_leaks_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
