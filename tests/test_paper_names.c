/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_support.h"

#include <jansson.h>

/* Names in any script stand in every paper, and whatever they hold, they are names: a page of names that mean something
 * to its format has the same elements as one of plain names. */

static const char *const names[] = {
    "\305\201ucja \305\273\303\263\305\202\304\207",    /* Polish */
    "\316\232\316\261\316\273\317\205\317\210\317\216", /* Greek */
    "\330\262\331\207\330\261\330\251",                 /* Arabic */
    "\346\241\234\343\201\256\350\241\243\350\243\205", /* Japanese */
    "<script>alert(1)</script>",
    "x\" onload=\"alert(1)",
    "x' onload='alert(1)",
    "a,b;c\td",
    "a\nb\r\nc",
    "--><b>&amp;]]>",
    "</title></style></svg>",
    "=1+1",
    "\"\"",
    "{1} \\u0000 %s",
};
enum { NAMES = sizeof names / sizeof names[0] };

/* A cell of a table; 200 bytes are enough for each of them. */
static const char *quoted(const char *name, char out[200]) {
  char *at = out;
  *at++ = '"';
  for (; *name; name++) {
    if (*name == '"') *at++ = '"';
    *at++ = *name;
  }
  strcpy(at, "\"");
  return out;
}

static void read_file(girdle_club *club, int32_t file, const char *format, const char *name) {
  char text[1000], cell[200];
  quoted(name, cell);
  snprintf(text, sizeof text, format, cell, cell);
  assert_int_equal(girdle_paper_read_club(NULL, club, file, "table", text, strlen(text)), GIRDLE_OK);
}

/* A club of one costume in which all that can be named bears one name. */
static void set_named(const char *name, desk *out) {
  static const char *const stones[] = {"ss20 black", "ss16"};
  girdle_job_head head;
  girdle_job_head_init(&head, sizeof head);
  snprintf(head.tag, sizeof head.tag, "%s", name);
  snprintf(head.costume, sizeof head.costume, "%s", name);
  snprintf(head.wearer, sizeof head.wearer, "%s", name);
  snprintf(head.routine, sizeof head.routine, "%s", name);
  snprintf(head.size, sizeof head.size, "%.15s", "M");
  head.needed_by_day = 22352;
  assert_int_equal(girdle_job_new(NULL, &head, &out->job), GIRDLE_OK);
  assert_int_equal(sample_zone(NULL, out->job, name, "front", 0, 1, stones, 2, 7), GIRDLE_OK);
  assert_int_equal(girdle_club_new(NULL, &out->club), GIRDLE_OK);
  read_file(out->club, GIRDLE_FILE_SUPPLIERS, "supplier,currency,delivery_days\n%s,EUR,3\n", name);
  read_file(out->club, GIRDLE_FILE_PRICES, "supplier,stone,pack,price,item\n%s,ss20 black,1 gross,6.80,%s\n", name);
  assert_int_equal(girdle_club_add_job(NULL, out->club, out->job), GIRDLE_OK);
  assert_int_equal(girdle_club_reckon(NULL, out->club, 22300, &out->reckoning), GIRDLE_OK);
}

/* Also the wearer's name, which a sheet tells when it is asked to. */
static char *paper_of(const char *name, int paper) {
  const girdle_sheet_options named = {sizeof named, GIRDLE_SHEET_NAMES, NULL, 0};
  desk d;
  kept all;
  const girdle_sink sink = keep_in(&all);
  set_named(name, &d);
  if (paper == SHEET)
    assert_int_equal(girdle_paper_sheet_html(NULL, d.club, 0, d.reckoning, &named, &sink), GIRDLE_OK);
  else
    assert_int_equal(write_paper(NULL, &d, paper, &sink), GIRDLE_OK);
  clear_desk(&d);
  assert_int_equal(strlen(all.text), all.bytes);
  return all.text;
}

/* ---- pages and drawings */

/* Past a quoted value, or to where something else stands. */
static const char *past_value(const char *at) {
  if (*at != '=') return at;
  assert_true(at[1] == '"');
  at = strchr(at + 2, '"');
  assert_non_null(at);
  return at + 1;
}

/* What a browser takes for elements and attributes: "<p class >" and so on, without what they say and hold. */
static char *skeleton(const char *text) {
  char *out = calloc(1, strlen(text) + 1), *to = out;
  assert_non_null(out);
  while ((text = strchr(text, '<')) != NULL) {
    const char *name = text;
    while (*text && *text != '>') {
      size_t length = strcspn(text, "=\" \n>");
      to += sprintf(to, "%.*s", (int)length, text);
      text = past_value(text + length);
      if (*text == ' ' || *text == '\n') *to++ = *text++;
    }
    *to++ = '>';
    if (strncmp(name, "<style", 6) == 0) text = strstr(text, "</style");
    if (strncmp(name, "<script", 7) == 0) text = strstr(text, "</script");
    assert_non_null(text);
  }
  return out;
}

/* The text with its entities taken back, as it is shown. */
static char *shown(const char *text) {
  static const char *const entities[][2] = {{"&amp;", "&"}, {"&lt;", "<"},   {"&gt;", ">"}, {"&quot;", "\""},
                                            {"&#39;", "'"}, {"&#10;", "\n"}, {"&#9;", "\t"}};
  char *out = calloc(1, strlen(text) + 1), *to = out;
  assert_non_null(out);
  while (*text) {
    size_t i = 0;
    while (i < 7 && strncmp(text, entities[i][0], strlen(entities[i][0])) != 0)
      i++;
    *to++ = i < 7 ? *entities[i][1] : *text;
    text += i < 7 ? strlen(entities[i][0]) : 1;
  }
  return out;
}

/* Carriage returns are left out of markup. */
static const char *without_returns(const char *name, char out[64]) {
  char *to = out;
  for (; *name; name++)
    if (*name != '\r') *to++ = *name;
  *to = '\0';
  return out;
}

static void paper_html_and_svg_hold_any_name(void **state) {
  (void)state;
  for (int paper = MAP; paper <= OFFER; paper++) {
    char *plain = paper_of("plain", paper), *expected = skeleton(plain);
    assert_true(strlen(expected) > 300);
    for (int i = 0; i < NAMES; i++) {
      char *text = paper_of(names[i], paper), *elements = skeleton(text), *words = shown(text), name[64];
      assert_string_equal(elements, expected);
      assert_has(words, without_returns(names[i], name));
      free(words);
      free(elements);
      free(text);
    }
    free(expected);
    free(plain);
  }
}

/* ---- tables */

/* Read back, the named cell is the name; and nothing in it begins like a formula. */
static void assert_cell(int paper, const char *column, const char *name) {
  char *text = paper_of(name, paper);
  girdle_table *table;
  int64_t at;
  assert_int_equal(girdle_table_read(NULL, "t", text, strlen(text), &table), GIRDLE_OK);
  at = girdle_table_column(table, column);
  assert_true(at >= 0 && girdle_table_rows(table) > 0);
  assert_string_equal(girdle_table_cell(table, 0, (uint64_t)at), name);
  for (const char *line = text; line; line = strchr(line, '\n')) {
    if (*line == '\n') line++;
    assert_true(*line != '=');
  }
  girdle_table_free(table);
  free(text);
}

static void paper_csv_holds_any_name(void **state) {
  (void)state;
  for (int i = 0; i < NAMES; i++) {
    assert_cell(PLACEMENTS, "zone", names[i]);
    assert_cell(COUNTS, "tag", names[i]);
    assert_cell(COUNTS, "zone", names[i]);
    assert_cell(ORDER, "supplier", names[i]);
    assert_cell(ORDER, "item", names[i]);
  }
}

/* ---- JSON */

static int holds(const json_t *in, const char *name) {
  size_t index;
  const char *key;
  json_t *item;
  int found = 0;
  if (json_is_string(in)) return strcmp(json_string_value(in), name) == 0;
  json_array_foreach((json_t *)in, index, item) found += holds(item, name);
  json_object_foreach((json_t *)in, key, item) found += holds(item, name);
  return found;
}

static void paper_json_holds_any_name(void **state) {
  (void)state;
  for (int paper = COUNTS_JSON; paper <= CLUB_JSON; paper++)
    for (int i = 0; i < NAMES; i++) {
      char *text = paper_of(names[i], paper);
      json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
      assert_non_null(root);
      assert_true(holds(root, names[i]) >= 2);
      json_decref(root);
      free(text);
    }
}

/* ---- text */

/* On a terminal nothing but line ends controls; a name's own become spaces. */
static void paper_text_holds_any_name(void **state) {
  (void)state;
  for (int paper = COUNTS_TEXT; paper <= ORDER_TEXT; paper++) {
    char *plain = paper_of("plain", paper);
    for (int i = 0; i < NAMES; i++) {
      char *text = paper_of(names[i], paper), name[64];
      snprintf(name, sizeof name, "%s", names[i]);
      for (char *at = name; *at; at++)
        if ((unsigned char)*at < 0x20) *at = ' ';
      assert_has(text, name);
      assert_int_equal(count_of(text, "\n"), count_of(plain, "\n"));
      for (const char *at = text; *at; at++)
        assert_true((unsigned char)*at >= 0x20 || *at == '\n');
      free(text);
    }
    free(plain);
  }
}

/* C1 controls drive terminals as well, and a turned direction of writing disguises what stands on the line. */
static void paper_text_lets_no_name_drive_a_terminal(void **state) {
  (void)state;
  for (int paper = COUNTS_TEXT; paper <= ORDER_TEXT; paper++) {
    char *text = paper_of("a\302\233b\342\200\256c\342\201\247d", paper);
    assert_has(text, "a b c d");
    assert_null(strstr(text, "\302\233"));
    assert_null(strstr(text, "\342\200\256"));
    assert_null(strstr(text, "\342\201\247"));
    free(text);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_html_and_svg_hold_any_name),
      cmocka_unit_test(paper_csv_holds_any_name),
      cmocka_unit_test(paper_json_holds_any_name),
      cmocka_unit_test(paper_text_holds_any_name),
      cmocka_unit_test(paper_text_lets_no_name_drive_a_terminal),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
