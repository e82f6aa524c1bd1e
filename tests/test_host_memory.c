/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/host.h"
#include "support.h"

/* The host with every allocation refused once, and with every memory limit: never an abort, never a leak. */

static const char recipe_text[] =
    "return recipe { format = 1, name = 'plain line',\n"
    "  takes = { { 'line', 'path' }, { 'stones', 'stones', default = 'ss20 clear; ss16 black' },\n"
    "    { 'gap', 'length', default = '0.5 mm', from = '0 mm', to = '20 mm' } },\n"
    "  place = function (given)\n"
    "    local p = run { along = given.line, stones = given.stones, gap = given.gap }\n"
    "    for k, v in pairs { a = 1, b = 2 } do print(k, v) end\n"
    "    return (p + p:moved(0, 10)):mirrored(0)\n"
    "  end }\n";

static const char costume_text[] =
    "return costume { format = 1, name = 'frost', measures = { neckline = '34 cm' }, outlines = 'frost.svg',\n"
    "  fabric = { mass = '200 g/m2', lies = { across = '10 %' } },\n"
    "  zones = function (m, outline) return {\n"
    "    zone { 'collar', pair = true, recipe = 'plain line', given = { line = loop(m.neckline), gap = '1 mm worn' } "
    "},\n"
    "    zone { 'cuff', placement = run { along = outline.cuff, stones = 'ss16' }, already = { {'ss34', 12} } },\n"
    "  } end }\n";

static int32_t fill_host(girdle_call *call, girdle_host *host) {
  girdle_path *path = NULL;
  girdle_outline outline;
  int32_t status;
  memset(&outline, 0, sizeof outline);
  strcpy(outline.name, "cuff");
  status = girdle_path_loop(call, 140, &path);
  outline.path = path;
  if (!status) status = girdle_host_add_outlines(call, host, "frost.svg", &outline, 1);
  if (!status) status = girdle_host_add_outlines(call, host, "frost.svg", &outline, 1); /* replaces it */
  girdle_path_free(path);
  if (!status)
    status =
        girdle_host_add_source(call, host, GIRDLE_LAYER_HOUSE, "plain_line.lua", recipe_text, sizeof recipe_text - 1);
  if (!status)
    status =
        girdle_host_add_source(call, host, GIRDLE_LAYER_COSTUME, "frost.lua", costume_text, sizeof costume_text - 1);
  return status;
}

static int32_t new_host(girdle_call *call, const girdle_host_options *options, girdle_host **out) {
  int32_t status = girdle_host_new(call, options, out);
  if (status) return status;
  status = fill_host(call, *out);
  if (status) girdle_host_free(*out);
  return status;
}

static int32_t place(girdle_call *call, girdle_host *host) {
  const girdle_given given[] = {{"line", "300 mm"}, {"gap", "1 mm"}};
  girdle_placement *placement = NULL;
  int32_t status = girdle_host_place(call, host, "plain line", given, 2, &placement);
  if (!status) assert_int_equal(girdle_placement_view(placement, NULL, NULL, NULL) % 2, 0);
  girdle_placement_free(placement);
  return status;
}

static int32_t describe(girdle_call *call, girdle_host *host) {
  girdle_recipe_sheet *sheet = NULL;
  int32_t status = girdle_host_describe(call, host, "plain line", &sheet);
  girdle_recipe_sheet_free(sheet);
  return status;
}

static int32_t new_job(girdle_call *call, girdle_job **out) {
  girdle_job_head head;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "A1");
  strcpy(head.costume, "frost");
  return girdle_job_new(call, &head, out);
}

static int32_t costume(girdle_call *call, girdle_host *host) {
  girdle_job *job = NULL;
  int32_t status = new_job(call, &job);
  if (!status) status = girdle_host_costume(call, host, "frost", job);
  girdle_job_free(job);
  return status;
}

static girdle_zone_row collar(void) {
  girdle_zone_row row;
  memset(&row, 0, sizeof row);
  strcpy(row.name, "collar");
  strcpy(row.recipe, "plain line");
  strcpy(row.shape, "cuff");
  strcpy(row.length, "15 cm");
  strcpy(row.already, "12 ss34 red");
  row.times = row.line = 1;
  return row;
}

static int32_t check_zones(girdle_call *call, girdle_host *host) {
  girdle_zone_row row = collar();
  girdle_job *job = NULL;
  int32_t status = new_job(call, &job);
  if (!status) status = girdle_host_check_zones(call, host, "zones.csv", &row, 1, job);
  girdle_job_free(job);
  return status;
}

static int32_t zones(girdle_call *call, girdle_host *host) {
  girdle_zone_row row = collar();
  girdle_job *job = NULL;
  int32_t status = new_job(call, &job);
  if (!status) status = girdle_host_zones(call, host, "zones.csv", &row, 1, job);
  girdle_job_free(job);
  return status;
}

static int32_t (*const works[])(girdle_call *call, girdle_host *host) = {place, describe, costume, zones, check_zones};
enum { WORKS = sizeof works / sizeof works[0] };

static int32_t work_of(girdle_call *call, int32_t (*work)(girdle_call *call, girdle_host *host)) {
  girdle_host *host;
  int32_t status = new_host(call, NULL, &host);
  if (status) return status;
  status = work(call, host);
  girdle_host_free(host);
  return status;
}

#define SWEEP(name)                                           \
  static int32_t name##_work(girdle_call *call) {             \
    return work_of(call, name);                               \
  }                                                           \
  static void host_##name##_survives_refusals(void **state) { \
    (void)state;                                              \
    test_sweep_allocations(name##_work);                      \
  }
SWEEP(place)
SWEEP(describe)
SWEEP(costume)
SWEEP(zones)
SWEEP(check_zones)

/* With n bytes allowed, n from 0 in odd steps until it is enough for all. */
static void host_ends_cleanly_at_each_memory_limit(void **state) {
  girdle_host_options options;
  int done = 0;
  (void)state;
  girdle_host_options_init(&options, sizeof options);
  for (options.most_bytes = 0; done < WORKS; options.most_bytes += 1023) {
    test_call test;
    girdle_host *host;
    test_begin(&test);
    assert_ok(&test, new_host(&test.call, &options, &host));
    done = 0;
    for (int i = 0; i < WORKS; i++) {
      int32_t status;
      test_again(&test);
      status = works[i](&test.call, host);
      if (status == GIRDLE_OK) {
        done++;
      } else if (status == GIRDLE_LIMIT) {
        assert_string_equal(test.error.field, "memory");
      } else {
        assert_status(&test, status, GIRDLE_MEMORY); /* not even the state could be made */
      }
    }
    girdle_host_free(host);
    assert_int_equal(test.live_bytes, 0);
    assert_true(options.most_bytes < 8 << 20);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(host_place_survives_refusals),       cmocka_unit_test(host_describe_survives_refusals),
      cmocka_unit_test(host_costume_survives_refusals),     cmocka_unit_test(host_zones_survives_refusals),
      cmocka_unit_test(host_check_zones_survives_refusals), cmocka_unit_test(host_ends_cleanly_at_each_memory_limit),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
