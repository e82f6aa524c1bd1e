/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_support.h"

#include <ctype.h>

/* A table in which every phrase says its English in capitals, so that what is left in small letters was not asked for.
 */
static char *loud_table(void) {
  uint64_t count;
  const char *const *phrases = girdle_paper_phrases(&count);
  char *text = calloc(1, 100000), *at = text;
  assert_non_null(text);
  at += sprintf(at, "english,own\n");
  for (uint64_t i = 0; i < count; i++) {
    for (int own = 0; own < 2; own++) {
      at += sprintf(at, own ? ",\"" : "\"");
      for (const char *from = phrases[i]; *from; from++) {
        if (*from == '"') *at++ = '"';
        *at++ = own ? (char)toupper((unsigned char)*from) : *from;
      }
      *at++ = '"';
    }
    *at++ = '\n';
  }
  return text;
}

static girdle_phrases *read_good(test_call *test, const char *text) {
  girdle_phrases *phrases = NULL;
  assert_ok(test, girdle_paper_read_phrases(&test->call, "phrases.csv", text, strlen(text), &phrases));
  return phrases;
}

static char *flagged_text(const girdle_phrases *phrases, uint32_t flags, int paper) {
  test_call test;
  kept all;
  desk d;
  girdle_phrased with = {phrases, keep_in(&all), flags, 0};
  girdle_sink sink = girdle_phrased_sink(&with);
  test_begin(&test);
  assert_ok(&test, set_desk(&test.call, &d));
  assert_ok(&test, write_paper(&test.call, &d, paper, &sink));
  clear_desk(&d);
  assert_int_equal(test.live_bytes, 0);
  return all.text;
}

/* The text of a paper with phrases. */
static char *paper_text(const girdle_phrases *phrases, int paper) {
  return flagged_text(phrases, 0, paper);
}

/* ---- what is said */

static int is_data(const char *word, size_t length) {
  static const char *const data[] = {"frost", "collar", "cuffs",  "cuff", "bow",     "big", "hem", "ss",   "black",
                                     "clear", "ice",    "blue",   "red",  "navette", "ead", "arn", "lint", "mm",
                                     "gross", "quot",   "girdle", "cm",   "amp",     "lt",  "gt",  "id",   "g"};
  for (size_t i = 0; i < sizeof data / sizeof data[0]; i++)
    if (strlen(data[i]) == length && strncmp(data[i], word, length) == 0) return 1;
  return 0;
}

/* Small letters outside of tags, styles, scripts and data. */
static void assert_loud(const char *text, int markup) {
  const char *at = text;
  while (*at) {
    size_t length;
    if (markup && (strncmp(at, "<style", 6) == 0 || strncmp(at, "<script", 7) == 0))
      at = strstr(at, at[2] == 't' ? "</style" : "</script");
    if (markup && *at == '<') at += strcspn(at, ">");
    length = strspn(at, "abcdefghijklmnopqrstuvwxyz");
    if (length && !is_data(at, length)) {
      print_error("still in English: %.*s\n", 60, at > text + 20 ? at - 20 : text);
      fail();
    }
    at += length ? length : 1;
  }
}

static void paper_phrases_replace_every_text(void **state) {
  test_call test;
  girdle_phrases *phrases;
  char *table = loud_table();
  (void)state;
  test_begin(&test);
  phrases = read_good(&test, table);
  for (int paper = COUNTS_TEXT; paper < CALENDAR; paper++) {
    char *text = paper_text(phrases, paper);
    assert_loud(text, paper >= MAP);
    free(text);
  }
  girdle_phrases_free(phrases);
  free(table);
  assert_int_equal(test.live_bytes, 0);
}

static void paper_phrases_without_any_stay_english(void **state) {
  test_call test;
  girdle_phrases *phrases;
  (void)state;
  test_begin(&test);
  phrases = read_good(&test, "english,own\nzone,\n");
  for (int paper = COUNTS_TEXT; paper < PAPERS; paper++) {
    char *english = paper_text(NULL, paper), *same = paper_text(phrases, paper);
    assert_string_equal(english, same);
    free(english);
    free(same);
  }
  girdle_phrases_free(phrases);
}

static void paper_phrases_take_what_is_given(void **state) {
  static const char table[] =
      "english,own\n.,\",\"\nzone,strefa\n{1} stones at {2} a gross,{2} za gros: {1} kamieni\n"
      "Labour,Praca\nfront,prz\303\263d\n{1} gross and {2},{1} gros\303\263w i {2}\n"
      "\"Order by {1}, ready on {2}.\",\"{2} gotowe, zam\303\263wi\304\207 do {1}.\"\nFri,pt\nen,pl\n";
  test_call test;
  girdle_phrases *phrases;
  char *text;
  (void)state;
  test_begin(&test);
  phrases = read_good(&test, table);
  text = paper_text(phrases, COUNTS_TEXT);
  assert_has(text, "strefa");
  assert_has(text, "prz\303\263d  ss20 black");
  assert_has(text, "1 gros\303\263w i 103");
  free(text);
  text = paper_text(phrases, COST_TEXT);
  assert_has(text, "Praca");
  assert_has(text, "30,00 EUR za gros: 247 kamieni");
  assert_has(text, " 51,46\n");
  free(text);
  text = paper_text(phrases, CALENDAR_TEXT);
  assert_has(text, "2031-03-14 pt");
  assert_has(text, "gotowe, zam\303\263wi\304\207 do 20");
  free(text);
  text = paper_text(phrases, SHEET);
  assert_has(text, "<html lang=\"pl\">");
  free(text);
  girdle_phrases_free(phrases);
}

/* ss20 is 4.7 mm across, which is 0.185 in; the collar is 84.7 mm wide, 3.3 in. */
static void paper_lengths_are_in_inches_when_asked(void **state) {
  char *text = flagged_text(NULL, GIRDLE_PHRASED_INCHES, MAP);
  (void)state;
  assert_has(text, "0.185 in across");
  assert_has(text, "3.3 \303\227 0.2 in");
  assert_has(text, "100 mm and 4 in: lay a ruler here");
  assert_null(strstr(text, "mm across"));
  assert_null(strstr(text, " cm"));
  free(text);
  text = flagged_text(NULL, GIRDLE_PHRASED_INCHES, SHEET);
  assert_has(text, "0.185 in across");
  assert_null(strstr(text, " mm across"));
  free(text);
}

/* Of every number for people, also within the texts that a quote brings along; a phrase of one's own goes before. */
static void paper_numbers_have_a_decimal_comma_when_asked(void **state) {
  test_call test;
  girdle_phrases *phrases;
  char *text = flagged_text(NULL, GIRDLE_PHRASED_COMMA, COST_TEXT);
  (void)state;
  assert_has(text, " 51,46\n");
  assert_has(text, "30,00 EUR a gross");
  free(text);
  test_begin(&test);
  phrases = read_good(&test, "english,own\n.,\302\267\n");
  text = flagged_text(phrases, GIRDLE_PHRASED_COMMA, COST_TEXT);
  assert_has(text, " 51\302\26746\n");
  girdle_phrases_free(phrases);
  free(text);
}

/* Arguments that are missing leave their place as it is; a buffer too small is cut, and told how long it should be. */
static void phrase_text_fills_in(void **state) {
  const char *const pair[] = {"12", "3.5"};
  test_call test;
  girdle_phrases *phrases;
  girdle_phrased with = {NULL, {NULL, NULL}, GIRDLE_PHRASED_COMMA, 0};
  char text[40], little[4];
  (void)state;
  test_begin(&test);
  assert_int_equal(girdle_phrase_text(NULL, "{1} of {2}, {2}", pair, 2, text, sizeof text), 14);
  assert_string_equal(text, "12 of 3.5, 3.5");
  assert_int_equal(girdle_phrase_text(&with, ".", NULL, 0, text, sizeof text), 1);
  assert_string_equal(text, ",");
  assert_int_equal(girdle_phrase_text(&with, "no phrase, {1}{2}", pair, 1, little, sizeof little), 16);
  assert_string_equal(little, "no ");
  phrases = read_good(&test, "english,own\n\"{1}, {2} across\",{2} x {1}\n");
  with.phrases = phrases;
  assert_int_equal(girdle_phrase_text(&with, "{1}, {2} across", pair, 2, text, sizeof text), 8);
  assert_string_equal(text, "3.5 x 12");
  girdle_phrases_free(phrases);
}

/* ---- what is refused */

static void paper_read_phrases_refuses_what_it_does_not_know(void **state) {
  static const struct {
    const char *text;
    int32_t status;
    const char *message;
  } cases[] = {{"english,own\nzonee,x\n", GIRDLE_UNKNOWN, "there is no phrase 'zonee', did you mean 'zone'?"},
               {"english,own\nzone,{1}\n", GIRDLE_SYNTAX, "asks for {1}, but the English has only 0"},
               {"english,own\nzone,\"a\nb\"\n", GIRDLE_SYNTAX, "line breaks"},
               {"own\nx\n", GIRDLE_UNKNOWN, "the column 'english' is missing"}};
  test_call test;
  (void)state;
  test_begin(&test);
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    girdle_phrases *phrases = NULL;
    test_again(&test);
    assert_status(&test, girdle_paper_read_phrases(&test.call, "p", cases[i].text, strlen(cases[i].text), &phrases),
                  cases[i].status);
    assert_null(phrases);
    assert_has(test.error.message, cases[i].message);
    assert_string_equal(test.error.nearest, i ? "" : "zone");
    assert_int_equal(test.live_bytes, 0);
  }
}

static void paper_phrases_stand_once_each(void **state) {
  uint64_t count;
  const char *const *phrases = girdle_paper_phrases(&count);
  (void)state;
  assert_true(count > 100);
  for (uint64_t i = 0; i < count; i++)
    for (uint64_t k = 0; k < i; k++)
      assert_string_not_equal(phrases[i], phrases[k]);
}

static int32_t read_some(girdle_call *call) {
  static const char table[] = "english,own\nzone,strefa\nside,strona\n";
  girdle_phrases *phrases = NULL;
  int32_t status = girdle_paper_read_phrases(call, "p", table, sizeof table - 1, &phrases);
  girdle_phrases_free(phrases);
  return status;
}

static void paper_read_phrases_leaks_nothing_when_memory_is_refused(void **state) {
  (void)state;
  test_sweep_allocations(read_some);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_phrases_replace_every_text),
      cmocka_unit_test(paper_phrases_without_any_stay_english),
      cmocka_unit_test(paper_phrases_take_what_is_given),
      cmocka_unit_test(paper_lengths_are_in_inches_when_asked),
      cmocka_unit_test(paper_numbers_have_a_decimal_comma_when_asked),
      cmocka_unit_test(phrase_text_fills_in),
      cmocka_unit_test(paper_read_phrases_refuses_what_it_does_not_know),
      cmocka_unit_test(paper_phrases_stand_once_each),
      cmocka_unit_test(paper_read_phrases_leaks_nothing_when_memory_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
