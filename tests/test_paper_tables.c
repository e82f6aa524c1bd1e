/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "pdf_support.h"

/* Two sizes at two gaps. The line's figure is 100 / (4.7 + 0.3) = 20 by hand; honeycomb holds 2 / sqrt(3) times as many
 * as square rows. */
static int32_t write_tables(girdle_call *call, int32_t form, uint32_t flags, kept *all) {
  static const double gaps[] = {0, 0.3};
  girdle_phrased with = {NULL, keep_in(all), flags, 0};
  girdle_sink sink = girdle_phrased_sink(&with);
  girdle_size sizes[2];
  girdle_tables_options options;
  girdle_tables_options_init(&options, sizeof options);
  if (girdle_size_parse(NULL, "ss16", &sizes[0]) || girdle_size_parse(NULL, "ss20", &sizes[1])) fail();
  options.form = form;
  options.sizes = sizes;
  options.size_count = 2;
  options.gaps_mm = gaps;
  options.gap_count = 2;
  return girdle_paper_tables(call, &options, &sink);
}

static char *tables_text(int32_t form, uint32_t flags) {
  test_call test;
  kept all;
  test_begin(&test);
  assert_ok(&test, write_tables(&test.call, form, flags, &all));
  assert_int_equal(test.live_bytes, 0);
  return all.text;
}

static void paper_tables_stand_in_columns(void **state) {
  char *text = tables_text(GIRDLE_FORM_TEXT, 0);
  (void)state;
  assert_has(text, "size      mm    mm   line   honeycomb      square    line      honeycomb         square\n");
  assert_has(text, "ss20    4.70  0.30   20.0         462         400     5.1           29.8           25.8\n");
  assert_int_equal(count_of(text, "\n"), 2 + 4 + 1);
  free(text);
  text = tables_text(GIRDLE_FORM_TEXT, GIRDLE_PHRASED_INCHES | GIRDLE_PHRASED_COMMA);
  assert_has(text, "size      in     in   line");
  assert_has(text, "ss20   0,185  0,012   20,0         462         400     5,1           29,8           25,8\n");
  free(text);
}

static void paper_tables_for_programs_do_not_change_with_words(void **state) {
  for (uint32_t flags = 0; flags < 4; flags += 3) {
    char *csv = tables_text(GIRDLE_FORM_CSV, flags), *json = tables_text(GIRDLE_FORM_JSON, flags);
    assert_has(csv,
               "size,diameter_mm,gap_mm,line_10_cm,honeycomb_10_cm_square,square_10_cm_square,line_1_in,"
               "honeycomb_1_in_square,square_1_in_square\r\n");
    assert_has(csv, "ss20,4.7,0.3,20,461.8802,400,5.08,29.7987,25.8064\r\n");
    assert_has(json, "[{\"size\":\"ss16\",\"diameter_mm\":3.9,\"gap_mm\":0,");
    assert_has(json,
               "{\"size\":\"ss20\",\"diameter_mm\":4.7,\"gap_mm\":0.3,\"line_10_cm\":20,"
               "\"honeycomb_10_cm_square\":461.8802,\"square_10_cm_square\":400,\"line_1_in\":5.08,"
               "\"honeycomb_1_in_square\":29.7987,\"square_1_in_square\":25.8064}]\n");
    free(csv);
    free(json);
  }
  (void)state;
}

/* The outer edges of the first ring, whose size is ss16: dark dots in a row through its middle. */
static double ring_across_mm(const picture *page) {
  double widest = 0;
  for (int y = 400; y < 700; y++) {
    int first = -1, last = -1;
    for (int x = 140; x < 300; x++) {
      if (page->dots[y * page->width + x] > 127) continue;
      if (first < 0) first = x;
      last = x;
    }
    if (first > 180 && last < 260) widest = fmax(widest, (last - first + 1) / 10.0);
  }
  return widest;
}

static void paper_tables_draw_each_size_as_large_as_it_is(void **state) {
  test_call test;
  kept pdf;
  char *words;
  picture page;
  (void)state;
  if (!can_render()) skip();
  test_begin(&test);
  assert_ok(&test, write_tables(&test.call, GIRDLE_FORM_PDF, 0, &pdf));
  words = words_of(&pdf);
  assert_has(words, "How many stones");
  assert_has(words, "462");
  assert_has(words, "ss16");
  assert_has(words, "29.8");
  page = render(&pdf, 1);
  assert_near(ring_across_mm(&page), 4.7, 0.2); /* the larger of the two */
  free(page.dots);
  free(words);
  free(pdf.text);
}

static void paper_tables_refuse_what_they_cannot_show(void **state) {
  const double gaps[] = {0, NAN}, far = 1e9;
  girdle_tables_options options;
  girdle_size size;
  kept all;
  girdle_sink sink = keep_in(&all);
  test_call test;
  (void)state;
  test_begin(&test);
  assert_ok(&test, girdle_size_parse(&test.call, "ss20", &size));
  girdle_tables_options_init(&options, sizeof options);
  options.sizes = &size;
  options.size_count = 1;
  options.gaps_mm = gaps;
  options.gap_count = 2;
  assert_status(&test, girdle_paper_tables(&test.call, &options, &sink), GIRDLE_ARGUMENT);
  assert_has(test.error.message, "gap");
  options.gaps_mm = &far;
  options.gap_count = 1;
  test_again(&test);
  assert_status(&test, girdle_paper_tables(&test.call, &options, &sink), GIRDLE_ARGUMENT);
  options.gap_count = 10001;
  test_again(&test);
  assert_status(&test, girdle_paper_tables(&test.call, &options, &sink), GIRDLE_LIMIT);
  options.gap_count = 0;
  options.form = GIRDLE_FORM_END;
  test_again(&test);
  assert_status(&test, girdle_paper_tables(&test.call, &options, &sink), GIRDLE_ARGUMENT);
  size.diameter_mm[GIRDLE_NOMINAL] = 0;
  options.form = GIRDLE_FORM_TEXT;
  test_again(&test);
  assert_status(&test, girdle_paper_tables(&test.call, &options, &sink), GIRDLE_ARGUMENT);
  assert_null(all.text);
}

/* Many rows go on over pages, each with the words over its columns. */
static void paper_tables_go_on_over_pages(void **state) {
  double gaps[150];
  girdle_tables_options options;
  girdle_size size;
  kept pdf;
  girdle_sink sink = keep_in(&pdf);
  test_call test;
  char *words;
  (void)state;
  if (!can_render()) skip();
  test_begin(&test);
  assert_ok(&test, girdle_size_parse(&test.call, "ss20", &size));
  for (int i = 0; i < 150; i++)
    gaps[i] = 0.1 * i;
  girdle_tables_options_init(&options, sizeof options);
  options.form = GIRDLE_FORM_PDF;
  options.sizes = &size;
  options.size_count = 1;
  options.gaps_mm = gaps;
  options.gap_count = 150;
  assert_ok(&test, girdle_paper_tables(&test.call, &options, &sink));
  words = words_of(&pdf);
  assert_int_equal(count_of(words, "1 square inch"), count_of(words, "\f"));
  assert_int_equal(count_of(words, "ss20"), count_of(words, "\f"));
  assert_has(words, "14.90");
  free(words);
  free(pdf.text);
}

static int32_t write_form(girdle_call *call, int32_t form) {
  kept all;
  int32_t status = write_tables(call, form, 0, &all);
  free(all.text);
  return status;
}

static int32_t write_text(girdle_call *call) {
  return write_form(call, GIRDLE_FORM_TEXT);
}

static int32_t write_pdf(girdle_call *call) {
  return write_form(call, GIRDLE_FORM_PDF);
}

static void paper_tables_leak_nothing_when_memory_is_refused(void **state) {
  test_call test;
  (void)state;
  test_begin(&test);
  assert_ok(&test, write_text(&test.call)); /* asks for no memory at all */
  assert_int_equal(test.live_bytes, 0);
  test_sweep_allocations(write_pdf);
}

/* However little of the struct its caller knows: its size is the first of it. */
static void tables_options_init_keeps_within_the_struct(void **state) {
  union {
    girdle_tables_options options;
    unsigned char bytes[sizeof(girdle_tables_options)];
  } room;
  (void)state;
  memset(&room, 0xa5, sizeof room);
  girdle_tables_options_init(&room.options, 4);
  assert_int_equal(room.options.struct_bytes, 4);
  assert_int_equal(room.bytes[4], 0xa5);
  memset(&room, 0xa5, sizeof room);
  girdle_tables_options_init(&room.options, 3);
  assert_int_equal(room.bytes[2], 0);
  assert_int_equal(room.bytes[3], 0xa5);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_tables_stand_in_columns),
      cmocka_unit_test(tables_options_init_keeps_within_the_struct),
      cmocka_unit_test(paper_tables_for_programs_do_not_change_with_words),
      cmocka_unit_test(paper_tables_draw_each_size_as_large_as_it_is),
      cmocka_unit_test(paper_tables_refuse_what_they_cannot_show),
      cmocka_unit_test(paper_tables_go_on_over_pages),
      cmocka_unit_test(paper_tables_leak_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
