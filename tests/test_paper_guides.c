/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "pdf_support.h"

/* What a zone is made of: rows of stones at a gap, and stones strewn without order. */
typedef struct parts {
  int rows, row_stones, strewn;
  double gap_mm;
  int turned;      /* a row with a ss16 after each ss20; 0: none */
  double area_cm2; /* of a shape 24 cm x 12 cm, in whose left half the strewn stones are; 0: not known */
} parts;

enum { SS20, SS16 };

/* Rows of ss20 (4.7 mm) 12 mm apart, then ss16 within 90 mm x 90 mm below them. */
static int32_t add_zone(girdle_call *call, girdle_job *job, const char *name, const parts *of) {
  static girdle_placed records[2000];
  girdle_stone stones[2];
  girdle_placement *placement;
  girdle_zone zone;
  uint32_t count = 0, chance = 1;
  int32_t status = girdle_stone_parse(call, "ss20 red", &stones[SS20]);
  if (!status) status = girdle_stone_parse(call, "ss16", &stones[SS16]);
  if (status) return status;
  memset(records, 0, sizeof records);
  for (int row = 0; row < of->rows; row++)
    for (int i = 0; i < of->row_stones; i++, count++) {
      const int turns = of->turned && row == of->turned;
      records[count].x_mm = i * ((turns ? (4.7 + 3.9) / 2 : 4.7) + of->gap_mm);
      records[count].stone = turns && i % 2 ? SS16 : SS20;
      records[count].y_mm = 12.0 * row;
      records[count].row = (uint16_t)row;
    }
  for (int i = 0; i < of->strewn; i++, count++) {
    records[count].x_mm = (chance = chance * 1103515245 + 12345) % 9000 / 100.0;
    records[count].y_mm = 200 + (chance = chance * 1103515245 + 12345) % 9000 / 100.0;
    records[count].stone = SS16;
    records[count].row = (uint16_t)of->rows;
  }
  status = girdle_placement_new(call, stones, 2, records, count, &placement);
  if (status) return status;
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, name);
  if (of->area_cm2 > 0) {
    zone.area_mm2 = 100 * of->area_cm2;
    zone.box = (girdle_box){0, 200, 240, 320};
  }
  zone.placement = placement;
  status = girdle_job_add_zone(call, job, &zone);
  girdle_placement_free(placement);
  return status;
}

static int32_t draw(girdle_call *call, const parts *of, uint32_t flags, kept *all) {
  girdle_phrased with = {NULL, keep_in(all), flags, 0};
  girdle_sink sink = girdle_phrased_sink(&with);
  girdle_job *job;
  int32_t status = new_job(call, &job);
  if (status) return status;
  status = add_zone(call, job, "yoke", of);
  if (!status) status = girdle_paper_guides_pdf(call, job, NULL, &sink);
  girdle_job_free(job);
  return status;
}

static char *guides_words(const parts *of, uint32_t flags) {
  test_call test;
  kept pdf;
  char *words;
  test_begin(&test);
  assert_ok(&test, draw(&test.call, of, flags, &pdf));
  assert_int_equal(test.live_bytes, 0);
  words = words_of(&pdf);
  free(pdf.text);
  return words;
}

static void paper_guides_pdf_has_a_strip_for_each_rhythm_and_a_card_for_the_rest(void **state) {
  static const struct {
    parts of;
    size_t strips, cards;
  } cases[] = {{{1, 10, 0, 1}, 1, 0}, {{3, 10, 0, 1}, 1, 0}, {{3, 10, 0, 1, 1}, 2, 0}, {{2, 10, 60, 1}, 1, 1},
               {{0, 0, 60, 1}, 0, 1}, {{9, 20, 0, 1}, 0, 1}, /* so many rows alike fill an area */
               {{1, 2, 0, 1}, 0, 1}};
  (void)state;
  if (!can_render()) skip();
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char *words = guides_words(&cases[i].of, 0);
    assert_int_equal(count_of(words, "yoke: strip"), cases[i].strips);
    assert_int_equal(count_of(words, "yoke: card"), cases[i].cards);
    free(words);
  }
}

static void paper_guides_pdf_says_gaps_and_numbers(void **state) {
  const parts of = {1, 10, 60, 1.3};
  char *words;
  (void)state;
  if (!can_render()) skip();
  words = guides_words(&of, 0);
  assert_has(words, "1.3 mm edge to edge, 6 mm centre to centre");
  assert_has(words, "60 \303\227 ss16 clear"); /* all of them lie within the square */
  assert_has(words, "in a square of 10 cm:");
  free(words);
  words = guides_words(&of, GIRDLE_PHRASED_INCHES);
  assert_has(words, "0.05 in edge to edge, 0.24 in centre to centre");
  assert_has(words, "in a square of 4 in:");
  free(words);
}

/* All stones by all of the area: 200 stones on 288 cm2 are 69 on 100 cm2, however dense they lie at the left. */
static void paper_guides_pdf_says_how_many_last_for_the_whole_area(void **state) {
  const parts of = {0, 0, 200, 0, 0, 288}, few = {0, 0, 20, 0, 0, 288}, small = {0, 0, 60, 0, 0, 99};
  char *words;
  const char *drawn;
  (void)state;
  if (!can_render()) skip();
  words = guides_words(&of, 0);
  assert_has(words, "on average in a square of 10 cm:");
  assert_has(words, "69 \303\227 ss16 clear");
  drawn = strstr(words, "drawn here: ");
  assert_non_null(drawn);
  assert_in_range(atoi(drawn + 12), 69, 150);
  free(words);
  words = guides_words(&of, GIRDLE_PHRASED_INCHES);
  assert_has(words, "on average in a square of 4 in:");
  assert_has(words, "72 \303\227 ss16 clear"); /* 103.2 cm2 */
  free(words);
  words = guides_words(&few, 0);
  assert_has(words, "6.9 \303\227 ss16 clear");
  free(words);
  words = guides_words(&small, 0);
  assert_has(words, "60 \303\227 ss16 clear");
  assert_null(strstr(words, "drawn here"));
  free(words);
}

/* The ticks at the lower edge of a strip, 4.7 mm + the gap apart, and the square of a card: dark columns and rows. */
static void paper_guides_pdf_is_drawn_at_true_size(void **state) {
  const parts of = {1, 10, 60, 1.3};
  test_call test;
  kept pdf;
  picture page;
  int first = 0, last = 0, ticks = 0, wide = 0;
  (void)state;
  if (!can_render()) skip();
  test_begin(&test);
  assert_ok(&test, draw(&test.call, &of, 0, &pdf));
  page = render(&pdf, 1);
  for (int y = 815; y < 845 && !ticks; y++) { /* the strip ends 85 mm down */
    int seen = 0, from = 0, to = 0;
    for (int x = 110; x < 1990; x++) {
      if (page.dots[y * page.width + x] > 110 || page.dots[y * page.width + x - 1] <= 110) continue;
      from = seen++ ? from : x;
      to = x;
    }
    if (seen == 10) first = from, last = to, ticks = 10;
  }
  assert_int_equal(ticks, 10);
  assert_near((last - first) / 10.0, 9 * 6.0, 0.2);
  for (int y = 900; y < page.height; y++) {
    int dark = 0;
    for (int x = 0; x < page.width; x++)
      dark += page.dots[y * page.width + x] < 110;
    if (dark > wide && dark < 1500) wide = dark;
  }
  assert_near(wide / 10.0, 100, 0.4); /* with half a line on either side */
  free(page.dots);
  free(pdf.text);
}

static int32_t draw_little(girdle_call *call) {
  const parts of = {1, 3, 3, 1};
  kept all;
  int32_t status = draw(call, &of, 0, &all);
  free(all.text);
  return status;
}

static void paper_guides_pdf_leaks_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(draw_little);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_guides_pdf_has_a_strip_for_each_rhythm_and_a_card_for_the_rest),
      cmocka_unit_test(paper_guides_pdf_says_gaps_and_numbers),
      cmocka_unit_test(paper_guides_pdf_says_how_many_last_for_the_whole_area),
      cmocka_unit_test(paper_guides_pdf_is_drawn_at_true_size),
      cmocka_unit_test(paper_guides_pdf_leaks_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
