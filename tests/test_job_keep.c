/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

enum { MOST = 64 };

static girdle_stone stone_of(const char *text) {
  girdle_stone stone;
  assert_int_equal(girdle_stone_parse(NULL, text, &stone), GIRDLE_OK);
  return stone;
}

/* A zone whose stones are drawn as letters: a small red, b small clear, c large clear; "/" begins another row. */
static int32_t job_of(girdle_call *call, const char *drawn, girdle_job **out) {
  girdle_stone stones[3] = {stone_of("ss16 red"), stone_of("ss16"), stone_of("ss20")};
  girdle_placed records[MOST];
  girdle_placement *placement = NULL;
  girdle_job_head head;
  girdle_zone zone;
  uint64_t count = 0;
  uint16_t row = 0;
  int32_t status;
  for (size_t at = 0; drawn[at]; at++) {
    if (drawn[at] == '/')
      row++;
    else
      records[count++] = (girdle_placed){10.0 * (double)at, 10.0 * row, 0, (uint16_t)(drawn[at] - 'a'), row};
  }
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "ada");
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "neck");
  status = girdle_job_new(call, &head, out);
  if (!status) status = girdle_placement_new(call, stones, 3, records, count, &placement);
  zone.placement = placement;
  if (!status) status = girdle_job_add_zone(call, *out, &zone);
  girdle_placement_free(placement);
  return status;
}

/* The zone drawn again, a blank where a stone is gone. */
static void draw(const girdle_job *job, char *out) {
  const girdle_stone letters[3] = {stone_of("ss16 red"), stone_of("ss16"), stone_of("ss20")};
  const girdle_placed *records;
  const girdle_stone *stones;
  uint64_t zones;
  int64_t count = girdle_placement_view(girdle_job_zones(job, &zones)[0].placement, &records, &stones, NULL);
  size_t end = 0;
  memset(out, ' ', MOST);
  for (int64_t i = 0; i < count; i++) {
    size_t at = (size_t)(records[i].x_mm / 10 + 0.5);
    int letter = 0;
    while (!girdle_stone_equal(&letters[letter], &stones[records[i].stone]))
      letter++;
    out[at] = (char)('a' + letter);
    end = at + 1;
  }
  out[end] = '\0';
}

static const struct {
  const char *what, *drawn;
  int64_t a, b, c;
  const char *expected;
} cases[] = {
    {"all stay", "abcabc", 2, 2, 2, "abcabc"},
    {"one of five goes from the middle", "aaaaa", 4, 0, 0, "aa aa"},
    {"two of eight go from within", "aaaaaaaa", 6, 0, 0, "a aaa aa"},
    {"of several rows the last go", "aaaa/aaaa", 6, 0, 0, "aaaa aa"},
    {"each kind for itself", "abababab", 3, 4, 0, "ab babab"},
    {"one kind goes wholly", "acacac", 3, 0, 0, "a a a"},
    {"another colour of the size takes the place", "aaaabbbb", 2, 6, 0, "bababbbb"},
    {"and never another size", "aaaacccc", 4, 0, 4, "aaaacccc"},
    {"a colour that was not there", "aaaa", 2, 2, 0, "baba"},
    {"some go and some change", "aaaaaabb", 2, 4, 0, "b ab abb"},
    {"nothing stays", "abc", 0, 0, 0, ""},
};

static void job_keep_pieces_leaves_so_many(void **state) {
  const girdle_stone stones[3] = {stone_of("ss16 red"), stone_of("ss16"), stone_of("ss20")};
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    const int64_t pieces[3] = {cases[i].a, cases[i].b, cases[i].c};
    char drawn[MOST + 2];
    girdle_job *job;
    test_call test;
    test_begin(&test);
    assert_ok(&test, job_of(&test.call, cases[i].drawn, &job));
    assert_ok(&test, girdle_job_keep_pieces(&test.call, job, 0, stones, pieces, 3));
    draw(job, drawn);
    if (strcmp(drawn, cases[i].expected) != 0) print_error("%s\n", cases[i].what);
    assert_string_equal(drawn, cases[i].expected);
    girdle_job_free(job);
    assert_int_equal(test.live_bytes, 0);
  }
}

/* The colour that lacks most comes first, so that colours alternate as long as they can. */
static void job_keep_pieces_gives_the_place_to_the_colour_that_lacks_most(void **state) {
  const girdle_stone stones[3] = {stone_of("ss16 gold"), stone_of("ss16 blue"), stone_of("ss16 red")};
  const int64_t pieces[3] = {1, 3, 2};
  const char *const expected[6] = {"blue", "red", "blue", "gold", "red", "blue"};
  const girdle_placed *records;
  const girdle_stone *kept;
  uint64_t zones;
  girdle_job *job;
  test_call test;
  (void)state;
  test_begin(&test);
  assert_ok(&test, job_of(&test.call, "aaaaaa", &job));
  assert_ok(&test, girdle_job_keep_pieces(&test.call, job, 0, stones, pieces, 3));
  assert_int_equal(girdle_placement_view(girdle_job_zones(job, &zones)[0].placement, &records, &kept, NULL), 6);
  for (int i = 0; i < 6; i++)
    assert_string_equal(kept[records[i].stone].colour, expected[i]);
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
}

/* Any numbers that a brute look finds room for are kept exactly; any others are refused and change nothing. */
static void job_keep_pieces_keeps_exactly_or_refuses(void **state) {
  const girdle_stone stones[3] = {stone_of("ss16 red"), stone_of("ss16"), stone_of("ss20")};
  uint64_t random = 4;
  (void)state;
  for (int round = 0; round < 2000; round++) {
    char drawn[24] = "", before[MOST + 2], after[MOST + 2];
    int64_t there[3] = {0}, pieces[3], left[3] = {0};
    uint64_t length = 1 + test_random(&random) % 20;
    girdle_job *job;
    test_call test;
    int fits;
    for (uint64_t at = 0; at < length; at++) {
      uint64_t which = test_random(&random) % 3;
      drawn[at] = (char)('a' + which);
      there[which]++;
    }
    if (round % 2 && length > 2) drawn[length / 2] = '/', there[0] = there[1] = there[2] = 0;
    for (uint64_t at = 0; at < length && round % 2 && length > 2; at++)
      if (drawn[at] != '/') there[drawn[at] - 'a']++;
    for (int i = 0; i < 3; i++)
      pieces[i] = (int64_t)(test_random(&random) % 8);
    fits = pieces[0] + pieces[1] <= there[0] + there[1] && pieces[2] <= there[2];
    test_begin(&test);
    assert_ok(&test, job_of(&test.call, drawn, &job));
    draw(job, before);
    assert_status(&test, girdle_job_keep_pieces(&test.call, job, 0, stones, pieces, 3),
                  fits ? GIRDLE_OK : GIRDLE_GEOMETRY);
    draw(job, after);
    if (!fits) assert_string_equal(after, before);
    for (char *at = after; *at; at++)
      if (*at >= 'a' && *at <= 'c') left[*at - 'a']++;
    for (int i = 0; i < 3 && fits; i++)
      assert_int_equal(left[i], pieces[i]);
    girdle_job_free(job);
    assert_int_equal(test.live_bytes, 0);
  }
}

static void job_keep_pieces_refuses(void **state) {
  girdle_stone stones[2] = {stone_of("ss16"), stone_of("ss16")};
  int64_t pieces[2] = {1, 1};
  girdle_job *job;
  girdle_zone zone;
  test_call test;
  (void)state;
  test_begin(&test);
  assert_ok(&test, job_of(&test.call, "abc", &job));
  assert_status(&test, girdle_job_keep_pieces(&test.call, job, 1, stones, pieces, 1), GIRDLE_ARGUMENT);
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "bow");
  test_again(&test);
  assert_ok(&test, girdle_job_add_zone(&test.call, job, &zone));
  assert_status(&test, girdle_job_keep_pieces(&test.call, job, 1, stones, pieces, 1), GIRDLE_ARGUMENT);
  test_again(&test);
  assert_status(&test, girdle_job_keep_pieces(&test.call, job, 0, stones, pieces, 2), GIRDLE_ARGUMENT);
  assert_non_null(strstr(test.error.message, "twice"));
  test_again(&test);
  pieces[0] = -1;
  assert_status(&test, girdle_job_keep_pieces(&test.call, job, 0, stones, pieces, 1), GIRDLE_ARGUMENT);
  assert_string_equal(test.error.field, "pieces");
  test_again(&test);
  pieces[0] = 4;
  assert_status(&test, girdle_job_keep_pieces(&test.call, job, 0, stones, pieces, 1), GIRDLE_GEOMETRY);
  assert_non_null(strstr(test.error.message, "neck: there is room for 2 of the 4 ss16 clear"));
  girdle_job_free(job);
  assert_int_equal(test.live_bytes, 0);
}

static int32_t kept(girdle_call *call) {
  girdle_stone stone = {0};
  const int64_t pieces = 3;
  girdle_job *job = NULL;
  int32_t status = job_of(call, "aabbcc", &job);
  girdle_stone_parse(NULL, "ss16", &stone);
  if (!status) status = girdle_job_keep_pieces(call, job, 0, &stone, &pieces, 1);
  girdle_job_free(job);
  return status;
}

static void job_keep_pieces_survives_every_refused_allocation(void **state) {
  (void)state;
  test_sweep_allocations(kept);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(job_keep_pieces_leaves_so_many),
      cmocka_unit_test(job_keep_pieces_gives_the_place_to_the_colour_that_lacks_most),
      cmocka_unit_test(job_keep_pieces_keeps_exactly_or_refuses),
      cmocka_unit_test(job_keep_pieces_refuses),
      cmocka_unit_test(job_keep_pieces_survives_every_refused_allocation),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
