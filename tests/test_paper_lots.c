/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_support.h"
#include "shop.h"

/* A costume whose front is worked from two suppliers, since it is longer than any lot, and whose sleeve lies there. */
static void open_dress(shop *at) {
  shop_open(at);
  at->options.flags = GIRDLE_ORDER_SPLIT;
  at->options.learned_jobs = 0;
  shop_line(at, "ada", "bodice", "front", "ss20 black", 120);
  shop_line(at, "ada", "sleeve", "back", "ss20 black", 30);
  shop_line(at, "bo", "hem", "", "ss16 clear", 10);
  shop_stock(at, "ss20 black", 30, "old tin");
  shop_supplier(at, "Anchor Beads and Fancy Goods of the Old Harbour", 0, -1, 0);
  shop_supplier(at, "Bell Glass", 0, -1, 0);
  shop_price(at, "Anchor Beads and Fancy Goods of the Old Harbour", "ss20 black", 70, 300)->at_most = 1;
  shop_price(at, "Bell Glass", "ss20 black", 50, 250)->at_most = 1;
  shop_price(at, "Bell Glass", "ss16 clear", 10, 250);
}

static void paper_lots_csv_names_the_lot_of_every_line(void **state) {
  shop at;
  kept all;
  girdle_sink sink = keep_in(&all);
  (void)state;
  open_dress(&at);
  assert_int_equal(girdle_paper_lots_csv(NULL, shop_plan(&at), &sink), GIRDLE_OK);
  assert_string_equal(all.text,
                      "tag,zone,side,stone,pieces,from,lot,line\n"
                      "ada,bodice,front,ss20 black,70,bought,Anchor Beads and Fancy Goods of the Old Harbour,"
                      "longer than any lot\n"
                      "ada,bodice,front,ss20 black,50,bought,Bell Glass,longer than any lot\n"
                      "ada,sleeve,back,ss20 black,30,stock,old tin,whole\n"
                      "bo,hem,,ss16 clear,10,bought,Bell Glass,whole\n");
  free(all.text);
  shop_close(&at);
}

static void paper_lots_csv_says_what_nobody_has(void **state) {
  shop at;
  kept all;
  girdle_sink sink = keep_in(&all);
  (void)state;
  shop_open(&at);
  shop_line(&at, "ada", "bodice", "front", "ss20 black", 7);
  assert_int_equal(girdle_paper_lots_csv(NULL, shop_plan(&at), &sink), GIRDLE_OK);
  assert_has(all.text, "ada,bodice,front,ss20 black,7,,,missing\n");
  free(all.text);
  shop_close(&at);
}

/* Of a stone that comes from one lot there is nothing to say. */
static void paper_order_text_names_lots_where_there_are_several(void **state) {
  shop at;
  kept all;
  girdle_sink sink = keep_in(&all);
  (void)state;
  open_dress(&at);
  assert_int_equal(girdle_paper_order_text(NULL, shop_plan(&at), &sink), GIRDLE_OK);
  assert_has(all.text, "Work each zone from the lot or supplier that is said here:\nss20 black\n");
  assert_has(all.text,
             "      70  bought from Anchor Beads and Fancy Goods of the Old Harbour  ada, bodice, front: a part, "
             "for it is longer than any lot\n");
  assert_has(all.text, "      30  lot old tin, in stock ");
  assert_has(all.text, "an assumption, until there is a log.");
  assert_null(strstr(all.text, "bo, hem"));
  free(all.text);
  sink = keep_in(&all);
  at.options.stock_count = 0;
  at.options.flags = 0;
  at.rows[0].at_most = -1;
  at.options.learned_jobs = 3;
  assert_int_equal(girdle_paper_order_text(NULL, shop_plan(&at), &sink), GIRDLE_OK);
  assert_null(strstr(all.text, "Work each zone"));
  assert_has(all.text, "learned from 3 jobs of the log");
  free(all.text);
  shop_close(&at);
}

static void paper_order_text_tells_stock_of_no_known_lot(void **state) {
  shop at;
  kept all;
  girdle_sink sink = keep_in(&all);
  (void)state;
  open_dress(&at);
  at.stock[0].lot[0] = 0;
  at.rows[1].at_most = 0;
  shop_line(&at, "ada", "train", "back", "ss20 black", 500);
  assert_int_equal(girdle_paper_order_text(NULL, shop_plan(&at), &sink), GIRDLE_OK);
  assert_has(all.text, "in stock, its lot not known");
  assert_has(all.text, "not to be had");
  free(all.text);
  sink = keep_in(&all);
  at.rows[0].at_most = 10;
  at.rows[0].pack_pieces = 61;
  at.stock[0].pieces = 40; /* 610 are bought, of which 500 and 120 cannot be worked */
  assert_int_equal(girdle_paper_order_text(NULL, shop_plan(&at), &sink), GIRDLE_OK);
  assert_has(all.text, "a part, mixed with another lot");
  free(all.text);
  shop_close(&at);
}

static int32_t write_lots(girdle_call *call) {
  shop at;
  kept all;
  const girdle_sink sink = keep_in(&all);
  int32_t status;
  open_dress(&at);
  status = girdle_paper_lots_csv(call, shop_plan(&at), &sink);
  free(all.text);
  shop_close(&at);
  return status;
}

static void paper_lots_csv_leaks_nothing(void **state) {
  (void)state;
  test_sweep_allocations(write_lots);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paper_lots_csv_names_the_lot_of_every_line),
      cmocka_unit_test(paper_lots_csv_says_what_nobody_has),
      cmocka_unit_test(paper_order_text_names_lots_where_there_are_several),
      cmocka_unit_test(paper_order_text_tells_stock_of_no_known_lot),
      cmocka_unit_test(paper_lots_csv_leaks_nothing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
