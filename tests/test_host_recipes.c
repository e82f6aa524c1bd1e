/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/host.h"
#include "support.h"

#include <locale.h>

/* The house recipes and the recipes of earlier versions: what they count, that nothing overlaps, and that the same
 * bytes come out of every build, also where the decimal mark is a comma. tests/old/placements.txt has a line for each
 * case: file | values | stones | hash of the placement. GIRDLE_WRITE_PLACEMENTS=FILE writes the list anew. */

typedef struct placement_case {
  char file[64], values[200], hash[24];
  int64_t count;
} placement_case;

static char *trimmed(char *text) {
  while (*text == ' ')
    text++;
  for (size_t n = strlen(text); n && (text[n - 1] == ' ' || text[n - 1] == '\n'); n--)
    text[n - 1] = '\0';
  return text;
}

static size_t read_cases(placement_case *cases, size_t most) {
  FILE *list = fopen("tests/old/placements.txt", "r");
  char line[512];
  size_t count = 0;
  assert_non_null(list);
  for (; fgets(line, sizeof line, list); count++) {
    char *file = strtok(line, "|"), *values = strtok(NULL, "|"), *stones = strtok(NULL, "|"), *hash = strtok(NULL, "|");
    assert_true(count < most);
    assert_non_null(hash);
    snprintf(cases[count].file, sizeof cases[count].file, "%s", trimmed(file));
    snprintf(cases[count].values, sizeof cases[count].values, "%s", trimmed(values));
    snprintf(cases[count].hash, sizeof cases[count].hash, "%s", trimmed(hash));
    cases[count].count = atoll(stones);
  }
  fclose(list);
  return count;
}

/* FNV-1a over the stones' texts and the records, as bytes. */
static uint64_t add_bytes(uint64_t hash, const void *bytes, size_t count) {
  const unsigned char *at = bytes;
  for (size_t i = 0; i < count; i++)
    hash = (hash ^ at[i]) * 0x100000001b3u;
  return hash;
}

static void hash_of(const girdle_placement *placement, char *out, size_t bytes) {
  const girdle_placed *records;
  const girdle_stone *stones;
  uint32_t stone_count;
  int64_t count = girdle_placement_view(placement, &records, &stones, &stone_count);
  uint64_t hash = 0xcbf29ce484222325u;
  for (uint32_t i = 0; i < stone_count; i++) {
    char text[256];
    girdle_stone_text(&stones[i], text, sizeof text);
    hash = add_bytes(hash, text, strlen(text));
  }
  for (int64_t i = 0; i < count; i++) {
    int64_t whole[3] = {llround(records[i].x_mm * 1e4), llround(records[i].y_mm * 1e4),
                        lround(records[i].turn_deg * 100)};
    hash = add_bytes(hash, whole, sizeof whole);
    hash = add_bytes(hash, &records[i].stone, sizeof records[i].stone);
    hash = add_bytes(hash, &records[i].row, sizeof records[i].row);
  }
  snprintf(out, bytes, "%016llx", (unsigned long long)hash);
}

/* ---- running */

static void add_file(test_call *test, girdle_host *host, const char *path) {
  static char text[70000];
  FILE *file = fopen(path, "r");
  size_t bytes;
  assert_non_null(file);
  bytes = fread(text, 1, sizeof text, file);
  fclose(file);
  assert_ok(test, girdle_host_add_source(&test->call, host, GIRDLE_LAYER_HOUSE, strrchr(path, '/') + 1, text, bytes));
}

/* "line=30 cm, gap=1 mm" in place. */
static uint64_t split_values(char *text, girdle_given *given) {
  uint64_t count = 0;
  for (char *at = strtok(text, ","); at; at = strtok(NULL, ",")) {
    char *equals = strchr(at, '=');
    if (!equals) continue;
    *equals = '\0';
    given[count++] = (girdle_given){trimmed(at), trimmed(equals + 1)};
  }
  return count;
}

static girdle_placement *place_case(test_call *test, const placement_case *one) {
  girdle_given given[8];
  char values[200], name[64];
  girdle_host *host;
  girdle_placement *placement = NULL;
  uint64_t count;
  test_begin(test);
  strcpy(values, one->values);
  count = split_values(values, given);
  assert_ok(test, girdle_host_new(&test->call, NULL, &host));
  add_file(test, host, "recipes/alternating_line.lua");
  if (strcmp(one->file, "recipes/alternating_line.lua") != 0) add_file(test, host, one->file);
  snprintf(name, sizeof name, "%s", strrchr(one->file, '/') + 1);
  name[strlen(name) - 4] = '\0';
  for (char *at = name; *at; at++)
    if (*at == '_') *at = ' ';
  assert_ok(test, girdle_host_place(&test->call, host, name, given, count, &placement));
  girdle_host_free(host);
  return placement;
}

static void check_case(const placement_case *one, FILE *write) {
  test_call test;
  girdle_placement *placement = place_case(&test, one);
  int64_t count = girdle_placement_view(placement, NULL, NULL, NULL);
  uint64_t overlaps = 0;
  char hash[24];
  hash_of(placement, hash, sizeof hash);
  assert_ok(&test, girdle_placement_overlaps(&test.call, placement, NULL, 0, &overlaps));
  girdle_placement_free(placement);
  assert_int_equal(test.live_bytes, 0);
  if (write) {
    fprintf(write, "%s | %s | %lld | %s\n", one->file, one->values, (long long)count, hash);
    return;
  }
  if (overlaps && !strstr(one->file, "every_word"))
    fail_msg("%s: %llu overlaps", one->file, (unsigned long long)overlaps);
  if (count != one->count)
    fail_msg("%s with %s: %lld stones, expected %lld", one->file, one->values, (long long)count, (long long)one->count);
  if (strcmp(hash, one->hash) != 0)
    fail_msg("%s with %s: hash %s, expected %s", one->file, one->values, hash, one->hash);
}

static void check_all(const char *name) {
  static placement_case cases[64];
  size_t count = read_cases(cases, 64);
  FILE *write = name ? fopen(name, "w") : NULL;
  assert_true(count >= 20);
  for (size_t i = 0; i < count; i++)
    check_case(&cases[i], write);
  if (write) fclose(write);
}

static void recipes_place_the_same_bytes_everywhere(void **state) {
  (void)state;
  check_all(getenv("GIRDLE_WRITE_PLACEMENTS"));
}

/* The locale is made for the test in the build's folder, so that none need be installed. */
static void recipes_place_the_same_bytes_with_a_decimal_comma(void **state) {
  const char *build = getenv("BUILD") ? getenv("BUILD") : "build";
  char command[1024], folder[256];
  (void)state;
  snprintf(folder, sizeof folder, "%.200s/locale", build);
  snprintf(
      command, sizeof command,
      "mkdir -p %s && { test -d %s/de_DE.UTF-8 || localedef -c -i de_DE -f UTF-8 %s/de_DE.UTF-8; } >/dev/null 2>&1",
      folder, folder, folder);
  if (system(command) == -1) fail_msg("cannot run localedef");
  setenv("LOCPATH", folder, 1);
  if (!setlocale(LC_ALL, "de_DE.UTF-8")) fail_msg("the locale de_DE.UTF-8 cannot be made: install the package locales");
  assert_string_equal(localeconv()->decimal_point, ",");
  check_all(NULL);
  assert_string_equal(localeconv()->decimal_point, ",");
  setlocale(LC_ALL, "C");
}

/* By arithmetic: on 300 mm, n gaps of 300 / n less the diameter; of the two nearest numbers the one nearer to the wish.
 */
static void recipes_count_as_reckoned(void **state) {
  static const struct {
    placement_case one;
    int64_t count;
  } cases[] = {
      {{"recipes/alternating_line.lua", "line=300 mm", "", 0}, 59},      /* ss20 at 0.5 mm: 58 gaps of 0.472 */
      {{"recipes/alternating_line.lua", "line=loop 34 cm", "", 0}, 65},  /* the same round: 65 gaps of 0.529 */
      {{"recipes/triple_row.lua", "line=300 mm", "", 0}, 59 + 2 * 84},   /* ss12: 83 gaps of 0.514 */
      {{"recipes/snowflake_motif.lua", "", "", 0}, 1 + 6 * (6 + 2 * 4)}, /* each arm alike */
      {{"recipes/checker.lua", "within=rectangle 10 cm x 8 cm, margin=0 mm, gap=0.3 mm", "", 0},
       20 * 16}, /* pitch 5 mm */
  };
  (void)state;
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    test_call test;
    girdle_placement *placement = place_case(&test, &cases[i].one);
    if (girdle_placement_view(placement, NULL, NULL, NULL) != cases[i].count)
      fail_msg("%s: %lld stones, reckoned %lld", cases[i].one.file,
               (long long)girdle_placement_view(placement, NULL, NULL, NULL), (long long)cases[i].count);
    girdle_placement_free(placement);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(recipes_count_as_reckoned),
      cmocka_unit_test(recipes_place_the_same_bytes_everywhere),
      cmocka_unit_test(recipes_place_the_same_bytes_with_a_decimal_comma),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
