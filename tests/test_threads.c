/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "support.h"

#include <pthread.h>

#include "common.h"
#include "girdle/host.h"
#include "girdle/paper.h"

/* Eight threads share one of each handle, read all of them and make new ones, each with a call and a host of its own.
 * Whatever they find is summed up, and must be what one thread alone finds. `make tsan` looks for races meanwhile. */

enum { THREADS = 8, ROUNDS = 3 };

typedef struct shared {
  girdle_stone stone;
  girdle_path *path;
  girdle_region *region;
  girdle_placement *placement;
  girdle_tally *tally;
  girdle_club *club;
  girdle_reckoning *reckoning;
  girdle_solid *solid;
  girdle_table *table;
  girdle_drawing *drawing;
} shared;

typedef struct finder {
  const shared *from;
  girdle_error error;
  int32_t status;
  uint64_t sum;
} finder;

static void mix(uint64_t *sum, const void *bytes, uint64_t count) {
  for (uint64_t i = 0; i < count; i++)
    *sum = (*sum ^ ((const unsigned char *)bytes)[i]) * 0x100000001b3u;
}
static void mix_number(uint64_t *sum, double value) {
  mix(sum, &value, sizeof value);
}
static void mix_whole(uint64_t *sum, int64_t value) {
  mix(sum, &value, sizeof value);
}
/* Takes over what was placed. */
static void mix_placement(uint64_t *sum, girdle_placement *placement) {
  const girdle_placed *records;
  int64_t count = girdle_placement_view(placement, &records, NULL, NULL);
  for (int64_t i = 0; i < count; i++)
    mix_number(sum, records[i].x_mm), mix_number(sum, records[i].y_mm);
  girdle_placement_free(placement);
}

/* ---- what each thread does */

static int32_t find_shapes(girdle_call *call, const shared *from, uint64_t *sum) {
  girdle_point_on point;
  girdle_path *parallel;
  double along, distance;
  GIRDLE_TRY(girdle_path_at(call, from->path, 70, &point));
  GIRDLE_TRY(girdle_path_nearest(call, from->path, 10, 10, &along, &distance));
  GIRDLE_TRY(girdle_path_offset(call, from->path, 5, &parallel));
  mix_number(sum, point.x_mm), mix_number(sum, along), mix_number(sum, distance);
  mix_number(sum, girdle_path_length_mm(parallel));
  mix_number(sum, girdle_region_depth_mm(from->region, 3, 4));
  mix_number(sum, girdle_region_area_mm2(from->region));
  girdle_path_free(parallel);
  return GIRDLE_OK;
}

static int32_t find_run(girdle_call *call, const shared *from, uint64_t *sum) {
  girdle_run_options options;
  girdle_placement *placed, *turned;
  int32_t status;
  girdle_run_options_init(&options, sizeof options);
  options.stones = &from->stone, options.stone_count = 1, options.gap_mm = 0.5;
  options.clear_of = from->placement;
  GIRDLE_TRY(girdle_run(call, from->path, &options, &placed));
  mix_placement(sum, placed);
  GIRDLE_TRY(girdle_placement_turned(call, from->placement, 30, &turned));
  status = girdle_placement_joined(call, turned, from->placement, &placed);
  girdle_placement_free(turned);
  if (!status) mix_placement(sum, placed);
  return status;
}

static int32_t find_areas(girdle_call *call, const shared *from, uint64_t *sum) {
  girdle_cover_options cover;
  girdle_scatter_options scatter;
  girdle_placement *placed;
  girdle_cover_options_init(&cover, sizeof cover);
  cover.stones = &from->stone, cover.stone_count = 1, cover.gap_mm = 0.5, cover.turn_deg = 0;
  GIRDLE_TRY(girdle_cover(call, from->region, &cover, &placed));
  mix_placement(sum, placed);
  girdle_scatter_options_init(&scatter, sizeof scatter);
  scatter.stones = &from->stone, scatter.stone_count = 1, scatter.gap_mm = 3, scatter.seed = 7;
  scatter.around = from->placement;
  GIRDLE_TRY(girdle_scatter(call, from->region, &scatter, &placed));
  mix_placement(sum, placed);
  return GIRDLE_OK;
}

static int32_t find_sums(girdle_call *call, const shared *from, uint64_t *sum) {
  girdle_tally *by_stone;
  girdle_tally_line all;
  girdle_reckoning *reckoning;
  girdle_order_total order;
  GIRDLE_TRY(girdle_tally_by_stone(call, from->tally, &by_stone));
  girdle_tally_total(by_stone, &all);
  girdle_tally_free(by_stone);
  mix_whole(sum, all.count), mix_number(sum, all.mass_mg[GIRDLE_NOMINAL]);
  GIRDLE_TRY(girdle_club_reckon(call, from->club, 0, &reckoning));
  girdle_order_sum(girdle_reckoning_order(reckoning), &order);
  mix_whole(sum, order.total_minor), mix_whole(sum, girdle_reckoning_quote(reckoning, 0)->total_minor);
  girdle_reckoning_free(reckoning);
  girdle_order_sum(girdle_reckoning_order(from->reckoning), &order);
  mix_whole(sum, order.total_minor);
  return GIRDLE_OK;
}

static int32_t to_sum(void *context, const void *bytes, uint64_t count) {
  mix(context, bytes, count);
  return 0;
}

static int32_t find_papers(girdle_call *call, const shared *from, uint64_t *sum) {
  girdle_sink sink = {sum, to_sum};
  uint64_t count;
  girdle_solid_sums solid;
  const girdle_path *outline = girdle_drawing_path(from->drawing, 0);
  girdle_solid_sum(from->solid, &solid);
  mix_number(sum, solid.volume_mm3), mix_number(sum, girdle_path_length_mm(outline));
  mix(sum, girdle_table_cell(from->table, 0, 0), 4);
  mix_whole(sum, girdle_sizes(&count)->certainty);
  return girdle_paper_order_text(call, girdle_reckoning_order(from->reckoning), &sink);
}

static int32_t find_recipe(girdle_call *call, uint64_t *sum) {
  static const char recipe[] =
      "return recipe { format = 1, name = 'one row', takes = { { 'line', 'path' } },\n"
      "  place = function (given) return run { along = given.line, stones = { 'ss20' }, gap = '1 mm' } end }";
  const girdle_given given = {"line", "loop 34 cm"};
  girdle_host_options options;
  girdle_host *host;
  girdle_placement *placed;
  int32_t status;
  girdle_host_options_init(&options, sizeof options);
  GIRDLE_TRY(girdle_host_new(call, &options, &host));
  status = girdle_host_add_source(call, host, GIRDLE_LAYER_HOUSE, "one_row.lua", recipe, sizeof recipe - 1);
  if (!status) status = girdle_host_place(call, host, "one row", &given, 1, &placed);
  if (!status) mix_placement(sum, placed);
  girdle_host_free(host);
  return status;
}

static void *find_all(void *context) {
  finder *one = context;
  girdle_call call;
  girdle_call_init(&call, sizeof call);
  girdle_error_init(&one->error, sizeof one->error);
  call.error = &one->error;
  one->sum = 0xcbf29ce484222325u;
  for (int i = 0; i < ROUNDS && !one->status; i++) {
    one->status = find_shapes(&call, one->from, &one->sum);
    if (!one->status) one->status = find_run(&call, one->from, &one->sum);
    if (!one->status) one->status = find_areas(&call, one->from, &one->sum);
    if (!one->status) one->status = find_sums(&call, one->from, &one->sum);
    if (!one->status) one->status = find_papers(&call, one->from, &one->sum);
    if (!one->status) one->status = find_recipe(&call, &one->sum);
  }
  return NULL;
}

/* ---- what they share */

static void make_shapes(test_call *test, shared *to) {
  static const char heart[] = "M50 90 C-20 40 10 0 50 25 C90 0 120 40 50 90 Z";
  girdle_run_options options;
  assert_ok(test, girdle_stone_parse(&test->call, "ss20 black", &to->stone));
  assert_ok(test, girdle_path_parse(&test->call, heart, sizeof heart - 1, &to->path));
  assert_ok(test, girdle_region_new(&test->call, to->path, 0, &to->region));
  girdle_run_options_init(&options, sizeof options);
  options.stones = &to->stone, options.stone_count = 1, options.gap_mm = 2;
  assert_ok(test, girdle_run(&test->call, to->path, &options, &to->placement));
  assert_ok(test, girdle_tally_new(&test->call, &to->tally));
  assert_ok(test, girdle_tally_add(&test->call, to->tally, "one", "heart", "", 2, to->placement));
  assert_ok(test, girdle_solid_of(&test->call, &to->stone, NULL, &to->solid));
}

static void make_club(test_call *test, shared *to) {
  girdle_supplier supplier = {
      .name = "Invented Stones", .currency = {"EUR", 2}, .shipping_minor = 450, .free_from_minor = -1};
  girdle_price_row price = {
      .supplier = "Invented Stones", .pack = "1 gross", .pack_pieces = 144, .price_minor = 950, .at_most = -1};
  girdle_job_head head;
  girdle_zone zone;
  girdle_job *job;
  price.stone = to->stone;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "one");
  girdle_zone_init(&zone, sizeof zone);
  strcpy(zone.name, "heart");
  zone.placement = to->placement;
  assert_ok(test, girdle_club_new(&test->call, &to->club));
  assert_ok(test, girdle_club_add_supplier(&test->call, to->club, &supplier));
  assert_ok(test, girdle_club_add_price(&test->call, to->club, &price));
  assert_ok(test, girdle_job_new(&test->call, &head, &job));
  assert_ok(test, girdle_job_add_zone(&test->call, job, &zone));
  assert_ok(test, girdle_club_add_job(&test->call, to->club, job));
  assert_ok(test, girdle_club_reckon(&test->call, to->club, 0, &to->reckoning));
}

static void make_papers(test_call *test, shared *to) {
  static const char csv[] = "supplier,pack\nInvented Stones,1 gross\n";
  static const char svg[] =
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100mm\" height=\"100mm\" viewBox=\"0 0 100 100\">"
      "<path id=\"front\" d=\"M0 0 H100 V100 Z\"/></svg>";
  assert_ok(test, girdle_table_read(&test->call, "prices.csv", csv, sizeof csv - 1, &to->table));
  assert_ok(test, girdle_paper_read_svg(&test->call, "front.svg", svg, sizeof svg - 1, &to->drawing));
}

static void free_shared(shared *all) {
  girdle_drawing_free(all->drawing);
  girdle_table_free(all->table);
  girdle_reckoning_free(all->reckoning);
  girdle_club_free(all->club);
  girdle_solid_free(all->solid);
  girdle_tally_free(all->tally);
  girdle_placement_free(all->placement);
  girdle_region_free(all->region);
  girdle_path_free(all->path);
}

static void threads_share_handles_and_find_the_same(void **state) {
  static finder finders[THREADS + 1];
  pthread_t threads[THREADS];
  shared all;
  test_call test;
  (void)state;
  memset(&all, 0, sizeof all);
  test_begin(&test);
  make_shapes(&test, &all);
  make_club(&test, &all);
  make_papers(&test, &all);
  for (int i = 0; i <= THREADS; i++)
    finders[i].from = &all;
  find_all(&finders[THREADS]); /* alone */
  for (int i = 0; i < THREADS; i++)
    assert_int_equal(pthread_create(&threads[i], NULL, find_all, &finders[i]), 0);
  for (int i = 0; i < THREADS; i++)
    pthread_join(threads[i], NULL);
  for (int i = 0; i <= THREADS; i++) {
    test_assert_status(finders[i].status, GIRDLE_OK, &finders[i].error, "a thread", __FILE__, __LINE__);
    assert_true(finders[i].sum == finders[THREADS].sum);
  }
  free_shared(&all);
  assert_int_equal(test.live_bytes, 0);
}

int main(void) {
  const struct CMUnitTest tests[] = {cmocka_unit_test(threads_share_handles_and_find_the_same)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
