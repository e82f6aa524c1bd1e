/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "pdf_support.h"

static girdle_print_options plain_options(void) {
  girdle_print_options options;
  girdle_print_options_init(&options, sizeof options);
  return options;
}

typedef int32_t (*writer_of_pdf)(girdle_call *call, const girdle_job *job, const girdle_print_options *options,
                                 const girdle_sink *sink);
static const writer_of_pdf writers[] = {girdle_paper_map_pdf, girdle_paper_guides_pdf};

static kept pdf_of(writer_of_pdf write, const girdle_print_options *options, const char *costume) {
  girdle_job *job;
  test_call test;
  kept all;
  girdle_sink sink = keep_in(&all);
  test_begin(&test);
  assert_ok(&test, sample_job(&test.call, "F-1", costume, &job));
  assert_ok(&test, write(&test.call, job, options, &sink));
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
  return all;
}

static void paper_pdfs_are_whole_and_the_same_every_time(void **state) {
  (void)state;
  for (int i = 0; i < 2; i++) {
    kept once = pdf_of(writers[i], NULL, "frost"), again = pdf_of(writers[i], NULL, "frost");
    assert_memory_equal(once.text, "%PDF-1", 6);
    assert_non_null(strstr(once.text + once.bytes - 8, "%%EOF"));
    assert_int_equal(once.bytes, again.bytes);
    assert_memory_equal(once.text, again.text, once.bytes);
    free(once.text);
    free(again.text);
  }
}

static void paper_pdfs_know_their_page(void **state) {
  girdle_print_options options = plain_options();
  (void)state;
  for (int i = 0; i < 2; i++) {
    kept a4 = pdf_of(writers[i], &options, "frost"), letter;
    options.page = GIRDLE_PAGE_LETTER;
    letter = pdf_of(writers[i], &options, "frost");
    options.page = GIRDLE_PAGE_A4;
    assert_true(a4.bytes != letter.bytes || memcmp(a4.text, letter.text, a4.bytes) != 0);
    free(a4.text);
    free(letter.text);
  }
}

static void paper_pdfs_refuse_what_they_do_not_know(void **state) {
  girdle_print_options options = plain_options();
  girdle_job *job;
  test_call test;
  kept all;
  girdle_sink sink = keep_in(&all);
  (void)state;
  test_begin(&test);
  assert_ok(&test, sample_job(&test.call, "F-1", "frost", &job));
  for (int i = 0; i < 2; i++) {
    test_again(&test);
    options.page = 7;
    assert_status(&test, writers[i](&test.call, job, &options, &sink), GIRDLE_ARGUMENT);
    options = plain_options();
    options.font = "no font at all";
    options.font_bytes = 14;
    test_again(&test);
    assert_status(&test, writers[i](&test.call, job, &options, &sink), GIRDLE_SYNTAX);
    options = plain_options();
    all.most = 10;
    test_again(&test);
    assert_status(&test, writers[i](&test.call, job, &options, &sink), GIRDLE_STOPPED);
    all.most = 0;
  }
  girdle_job_free(job);
  free(all.text);
  assert_int_equal(test.live_bytes, 0);
}

/* Debian's fonts-dejavu-core and fonts-vlgothic, where they are there. */
static const char dejavu[] = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf";
static const char vlgothic[] = "/usr/share/fonts/truetype/vlgothic/VL-PGothic-Regular.ttf";

static char *read_font(const char *path, uint64_t *bytes) {
  FILE *file = fopen(path, "rb");
  char *font = malloc(1 << 23);
  if (!file) {
    free(font);
    return NULL;
  }
  assert_non_null(font);
  *bytes = fread(font, 1, 1 << 23, file);
  fclose(file);
  return font;
}

/* Polish, Greek and Arabic have glyphs in that font; Japanese has none, which makes the first page longer by a line
 * that names them. Without a font only Latin letters are there. */
static void paper_map_pdf_embeds_a_font_and_names_what_it_lacks(void **state) {
  girdle_print_options options = plain_options();
  uint64_t bytes = 0;
  char *font = read_font(dejavu, &bytes);
  kept all, other;
  (void)state;
  if (!font) skip();
  options.font = font;
  options.font_bytes = bytes;
  all = pdf_of(girdle_paper_map_pdf, &options, "\305\201\303\263d\305\272 \316\261\316\262 \330\271");
  assert_true(all.bytes > 20000); /* the font is in it */
  other = pdf_of(girdle_paper_map_pdf, &options, "\346\227\245\346\234\254");
  assert_true(other.bytes > 20000);
  free(all.text);
  free(other.text);
  all = pdf_of(girdle_paper_map_pdf, NULL, "\346\227\245\346\234\254");
  assert_true(all.bytes < 100000);
  free(all.text);
  free(font);
}

/* What a second font has beside the first: both are in the file, and what neither has is named. From right to left
 * written words stand so, which the reader turns about again. */
static void paper_map_pdf_takes_a_second_font_for_what_the_first_lacks(void **state) {
  static const char name[] =
      "\305\201\303\263d\305\272 \316\261\316\262 \330\262\331\207\330\261 \346\241\234\346\227\245";
  girdle_print_options options = plain_options();
  char *font = read_font(dejavu, &options.font_bytes), *other = read_font(vlgothic, &options.other_font_bytes), *words;
  kept all;
  (void)state;
  if (!font || !other || !can_render()) skip();
  options.font = font;
  all = pdf_of(girdle_paper_map_pdf, &options, name);
  words = words_of(&all);
  assert_has(words, "The font lacks U+685C, U+65E5: printed as \"?\".");
  assert_has(words, "\330\262\331\207\330\261");
  free(words);
  free(all.text);
  options.other_font = other;
  for (int i = 0; i < 2; i++) {
    all = pdf_of(writers[i], &options, name);
    words = words_of(&all);
    assert_null(strstr(words, "The font lacks"));
    assert_has(words, "\346\241\234\346\227\245");
    free(words);
    free(all.text);
  }
  all = pdf_of(girdle_paper_guides_pdf, &options, "\360\237\216\200 bow");
  words = words_of(&all);
  assert_has(words, "The font lacks U+1F380");
  free(words);
  free(all.text);
  free(font);
  free(other);
}

/* A second font that is none is found out once it is needed. */
static void paper_map_pdf_refuses_a_second_font_that_is_none(void **state) {
  girdle_print_options options = plain_options();
  char *font = read_font(dejavu, &options.font_bytes);
  girdle_job *job;
  test_call test;
  kept all;
  girdle_sink sink = keep_in(&all);
  (void)state;
  if (!font) skip();
  options.font = font;
  options.other_font = "no font at all";
  options.other_font_bytes = 14;
  test_begin(&test);
  assert_ok(&test, sample_job(&test.call, "F-1", "frost", &job));
  assert_ok(&test, girdle_paper_map_pdf(&test.call, job, &options, &sink));
  girdle_job_free(job);
  assert_ok(&test, sample_job(&test.call, "F-1", "\346\241\234", &job));
  assert_status(&test, girdle_paper_map_pdf(&test.call, job, &options, &sink), GIRDLE_SYNTAX);
  assert_string_equal(test.error.field, "other_font");
  girdle_job_free(job);
  free(all.text);
  free(font);
  assert_int_equal(test.live_bytes, 0);
}

static void paper_map_pdf_names_characters_without_a_glyph(void **state) {
  kept all;
  char *words;
  (void)state;
  if (!can_render()) skip();
  all = pdf_of(girdle_paper_map_pdf, NULL, "na\303\257ve \346\227\245");
  words = words_of(&all);
  assert_has(words, "na\303\257ve ?");
  assert_has(words, "The font lacks U+65E5: printed as \"?\".");
  assert_has(words, "page 2 of 2");
  free(words);
  free(all.text);
}

/* ---- rendered, at ten dots a millimetre */

static int is_dark(const picture *from, int x, int y) {
  return from->dots[y * from->width + x] < 110;
}

/* From the middle of the first dark stretch of a row of dots to that of the last, in millimetres, when there are
 * `count` of them; else 0. */
static double first_to_last(const picture *from, int y, int count) {
  double first = 0, last = 0;
  int seen = 0;
  for (int x = 0, start = -1; x < from->width; x++) {
    if (is_dark(from, x, y) && start < 0) start = x;
    if (is_dark(from, x, y) || start < 0) continue;
    last = (start + x - 1) / 20.0;
    if (seen++ == 0) first = last;
    start = -1;
  }
  return seen == count ? last - first : 0;
}

static void paper_map_pdf_draws_a_ruler_of_100_mm(void **state) {
  kept pdf;
  picture page;
  double length = 0;
  (void)state;
  if (!can_render()) skip();
  pdf = pdf_of(girdle_paper_map_pdf, NULL, "frost");
  page = render(&pdf, 2);
  assert_int_equal(page.width, 2100);
  for (int y = page.height - 250; y < page.height; y++)
    length = fmax(length, first_to_last(&page, y, 101));
  assert_near(length, 100, 0.2);
  free(page.dots);
  free(pdf.text);
}

/* The first zone's corner is at 10 mm, its captions take 17: there each black stone has ink, and white lies between. */
static void paper_map_pdf_puts_stones_where_they_are(void **state) {
  kept pdf;
  picture page;
  (void)state;
  if (!can_render()) skip();
  pdf = pdf_of(girdle_paper_map_pdf, NULL, "frost");
  page = render(&pdf, 2);
  for (int i = 0; i < 9; i += 2) {
    double x = 10 + 2.35 + 10.0 * i, y = 10 + 17 + 2.35 + 0.0001 * i;
    /* half of the pattern's mark is lighter than the fill; the fill is to the upper left */
    assert_true(is_dark(&page, (int)((x - 0.8) * 10), (int)((y - 0.8) * 10)) ||
                is_dark(&page, (int)((x + 0.8) * 10), (int)((y + 0.8) * 10)));
    for (double angle = 0.7854; angle < 6.28; angle += 1.5708) /* its rim is round between the quarters, too */
      assert_true(is_dark(&page, (int)((x + 2.33 * cos(angle)) * 10), (int)((y + 2.33 * sin(angle)) * 10)) ||
                  is_dark(&page, (int)((x + 2.38 * cos(angle)) * 10), (int)((y + 2.38 * sin(angle)) * 10)));
    for (double angle = 0; angle < 6.28; angle += 0.3)
      assert_false(is_dark(&page, (int)((x + 2.56 * cos(angle)) * 10), (int)((y + 2.56 * sin(angle)) * 10)));
  }
  free(page.dots);
  free(pdf.text);
}

/* ---- over several pages */

/* A zone of 21 x 19 stones, 20 mm apart: 404.7 x 364.7 mm over windows of 190 x 264 mm that overlap by 15: 3 x 2 pages.
 */
static int32_t draw_wide(girdle_call *call, const girdle_print_options *options, kept *out) {
  static girdle_placed records[21 * 19];
  girdle_sink sink = keep_in(out);
  girdle_placement *placement = NULL;
  girdle_job_head head;
  girdle_zone zone;
  girdle_stone stone;
  girdle_job *job;
  int32_t status = girdle_stone_parse(call, "ss20 black", &stone);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "wide");
  if (!status) status = girdle_job_new(call, &head, &job);
  if (status) return status;
  for (int i = 0; i < 21 * 19; i++) {
    records[i].x_mm = i % 21 * 20;
    records[i].y_mm = i / 21 * 20;
  }
  status = girdle_placement_new(call, &stone, 1, records, 21 * 19, &placement);
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "cape");
  zone.placement = placement;
  if (!status) status = girdle_job_add_zone(call, job, &zone);
  if (!status) status = girdle_paper_map_pdf(call, job, options, &sink);
  girdle_placement_free(placement);
  girdle_job_free(job);
  return status;
}

static int is_stone(const picture *page, double x, double y) {
  int dark = 0;
  for (int k = -1; k <= 1; k++)
    dark += is_dark(page, (int)((x + 1.4 * k) * 10), (int)((y + 1.4) * 10));
  return dark == 3;
}

static void paper_map_pdf_goes_over_pages_that_overlap(void **state) {
  girdle_print_options options = plain_options();
  (void)state;
  if (!can_render()) skip();
  for (int mirrored = 0; mirrored < 2; mirrored++) {
    test_call test;
    kept pdf;
    char *words;
    picture first, second, third;
    options.flags = mirrored ? GIRDLE_PRINT_MIRRORED : 0;
    test_begin(&test);
    assert_ok(&test, draw_wide(&test.call, &options, &pdf));
    assert_int_equal(test.live_bytes, 0);
    words = words_of(&pdf);
    assert_int_equal(count_of(words, "\f"), 7); /* the key, and six */
    assert_has(words, "page 7 of 7");
    assert_int_equal(count_of(words, "goes on on page 3"), 3); /* from its left, its right and below */
    assert_int_equal(count_of(words, "MIRRORED"), mirrored ? 6 : 0);
    first = render(&pdf, 2);
    second = render(&pdf, 3);
    /* the eighth stone of the second row lies in the overlap: 175 mm further to the left on the next page */
    assert_true(is_stone(&first, 10 + 2.35 + 180, 10 + 17 + 2.35 + 20));
    assert_true(is_stone(&second, 10 + 2.35 + 180 - 175, 10 + 17 + 2.35 + 20));
    /* crosses in the middle of the overlap, on both pages */
    assert_true(is_dark(&first, (int)((10 + 182.5) * 10), (int)((10 + 249 + 7.5 + 1.5) * 10)) &&
                is_dark(&second, (int)((10 + 7.5) * 10), (int)((10 + 249 + 7.5 + 1.5) * 10)));
    /* the first page of the second row has the cross it shares with the page above at its top */
    third = render(&pdf, 5);
    assert_true(is_dark(&third, (int)((10 + 182.5 + 2.5) * 10), (int)((10 + 7.5) * 10)));
    free(first.dots);
    free(second.dots);
    free(third.dots);
    free(words);
    free(pdf.text);
  }
}

/* A zone without a stone to draw takes no page, and a costume that is named as its tag is named once. */
static void paper_map_pdf_leaves_out_what_is_set_by_eye(void **state) {
  static const char *const stones[] = {"ss20 red"};
  const int64_t pieces = 12;
  girdle_print_options options = plain_options();
  test_call test;
  girdle_job_head head;
  girdle_stone stone;
  girdle_zone zone;
  girdle_job *job;
  kept pdf;
  girdle_sink sink = keep_in(&pdf);
  char *words;
  (void)state;
  if (!can_render()) skip();
  test_begin(&test);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "tile");
  strcpy(head.costume, "tile");
  assert_ok(&test, girdle_job_new(&test.call, &head, &job));
  assert_ok(&test, girdle_stone_parse(&test.call, "ss30", &stone));
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "by eye");
  zone.already = &stone;
  zone.already_pieces = &pieces;
  zone.already_count = 1;
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  assert_ok(&test, sample_zone(&test.call, job, "collar", "front", 0, 1, stones, 1, 3));
  assert_ok(&test, girdle_paper_map_pdf(&test.call, job, &options, &sink));
  words = words_of(&pdf);
  assert_int_equal(count_of(words, "\f"), 2); /* the key, and the collar */
  assert_has(words, "tile \302\267 page 2 of 2");
  assert_null(strstr(words, "tile, tile"));
  free(words);
  free(pdf.text);
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
}

/* A key of many kinds goes on over pages. */
static void paper_map_pdf_has_room_for_many_kinds(void **state) {
  girdle_job_head head;
  girdle_job *job;
  test_call test;
  kept pdf;
  girdle_sink sink = keep_in(&pdf);
  char *words;
  (void)state;
  if (!can_render()) skip();
  test_begin(&test);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "many");
  assert_ok(&test, girdle_job_new(&test.call, &head, &job));
  for (int i = 0; i < 90; i++) {
    char stone[40], zone[32];
    const char *const stones[] = {stone};
    snprintf(stone, sizeof stone, "ss%d shade %c%c", i % 2 ? 16 : 20, 'a' + i / 26, 'a' + i % 26);
    snprintf(zone, sizeof zone, "zone %d", i);
    assert_ok(&test, sample_zone(&test.call, job, zone, "", 0, 1, stones, 1, 3));
  }
  assert_ok(&test, girdle_paper_map_pdf(&test.call, job, NULL, &sink));
  words = words_of(&pdf);
  for (int i = 0; i < 90; i += 7) {
    char name[24];
    snprintf(name, sizeof name, "shade %c%c", 'a' + i / 26, 'a' + i % 26);
    assert_has(words, name);
  }
  assert_has(words, "The pages");
  free(words);
  free(pdf.text);
  girdle_job_free(job);
}

static int32_t swallow(void *context, const void *bytes, uint64_t count) {
  (void)context, (void)bytes, (void)count;
  return 0;
}

static int32_t draw_little(girdle_call *call, writer_of_pdf writer) {
  static const char *const stones[] = {"8 mm red navette", "ss20"};
  const girdle_sink sink = {NULL, swallow};
  girdle_job *job;
  int32_t status = new_job(call, &job);
  if (status) return status;
  status = sample_zone(call, job, "z", "", 0, 1, stones, 2, 3);
  if (!status) status = writer(call, job, NULL, &sink);
  girdle_job_free(job);
  return status;
}

static int32_t draw_map(girdle_call *call) {
  return draw_little(call, girdle_paper_map_pdf);
}

static int32_t draw_guides(girdle_call *call) {
  return draw_little(call, girdle_paper_guides_pdf);
}

static void paper_pdfs_leak_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(draw_map);
  test_sweep_allocations(draw_guides);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_pdfs_are_whole_and_the_same_every_time),
      cmocka_unit_test(paper_pdfs_know_their_page),
      cmocka_unit_test(paper_pdfs_refuse_what_they_do_not_know),
      cmocka_unit_test(paper_map_pdf_embeds_a_font_and_names_what_it_lacks),
      cmocka_unit_test(paper_map_pdf_takes_a_second_font_for_what_the_first_lacks),
      cmocka_unit_test(paper_map_pdf_refuses_a_second_font_that_is_none),
      cmocka_unit_test(paper_map_pdf_names_characters_without_a_glyph),
      cmocka_unit_test(paper_map_pdf_draws_a_ruler_of_100_mm),
      cmocka_unit_test(paper_map_pdf_puts_stones_where_they_are),
      cmocka_unit_test(paper_map_pdf_goes_over_pages_that_overlap),
      cmocka_unit_test(paper_map_pdf_leaves_out_what_is_set_by_eye),
      cmocka_unit_test(paper_map_pdf_has_room_for_many_kinds),
      cmocka_unit_test(paper_pdfs_leak_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
