/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* Tables of a club that were spoilt at random: each is read whole, every row of it, or not at all and told where it is
 * wrong. Ten thousand of them; with GIRDLE_PROOF=1 a hundred thousand. */

#include <stdlib.h>

#include "paper_support.h"

typedef struct text {
  char bytes[4096];
  size_t count;
} text;

static const char *const sound[GIRDLE_FILE_END] = {
    "size,waist,wrist_cm\nS,56 cm,13\nM,60 cm,14\n",
    "tag,costume,size,needed_by,name,routine,waist\nada,tide,S,2031-03-14,\"Ada \"\"A\"\"\",Mist,62 cm\n"
    "bo,tide,,2031-03-14,Bo,Mist,58 cm\ncleo,tide,M,,Cleo,,\n",
    "supplier,currency,shipping,free_from,least_order,delivery_days\nAlder,EUR,6.50,120.00,,4\n\"Birch, "
    "Lane\",EUR,4.20,,15.00,9\n",
    "supplier,stone,pack,price,item,at_most,sold_out\nAlder,ss20 red,1 gross,8.30,A20,,\n\"Birch, Lane\",ss16 clear,10 "
    "gross,41.00,B16,6,yes\nAlder,ss16 clear,1,0.05,,,\n",
    "colour,supplier,item\nred,Alder,R\nclear,\"Birch, Lane\",C\n",
    "stone,on_hand,lot\nss20 red,2 1/2 gross,spring\nss16 clear,52 g,autumn\n",
    "rate,value\ncurrency,EUR\nlabour a gross,16.00\nspares,6 %\nhands,2\ngluing days,Mon-Fri\n",
    "date,tag,zone,stone,planned,used,lost,fell_off,minutes\n2030-02-11,old,neck,ss20 red,180,184,6,4,48\n"
    "2030-02-12,old,hem,ss16 clear,640,655,22,15,150\n",
};
static const char zones[] =
    "zone,side,pair,times,priority,shape,length,width,recipe,stones,gap,already,leave,alike\n"
    "collar,both,,1,1,loop,neckline,,alternating line,ss16 moss; ss16 clear,1 mm,,18 cm to 22 cm,count\n"
    "cuff,,yes,2,,strip,14 cm,4 cm,graded edge,\"ss20; ss12\",2 mm worn,,,picture\nback,back,,1,4,,,,,,,36 ss30 "
    "clear,,\n";

/* ---- spoiling */

static void put(text *to, size_t at, const char *piece, size_t bytes) {
  if (to->count + bytes > sizeof to->bytes) return;
  memmove(to->bytes + at + bytes, to->bytes + at, to->count - at);
  memcpy(to->bytes + at, piece, bytes);
  to->count += bytes;
}

static void cut(text *of, size_t at, size_t bytes) {
  if (bytes > of->count - at) bytes = of->count - at;
  memmove(of->bytes + at, of->bytes + at + bytes, of->count - at - bytes);
  of->count -= bytes;
}

static void spoil(text *of, uint64_t *random) {
  static const char *const pieces[] = {"\"",
                                       ",",
                                       ";",
                                       "\t",
                                       "\n",
                                       "\r\n",
                                       "\xEF\xBB\xBF",
                                       "\xFF\xFE",
                                       "\xC3",
                                       "-",
                                       "=1+1",
                                       "03/04/2031",
                                       "1e999",
                                       "nan",
                                       "9999999999999999999",
                                       "0",
                                       " ",
                                       "gross",
                                       "\"\"",
                                       "ss",
                                       "\x1b[2J",
                                       "../",
                                       "'",
                                       "@"};
  size_t at = of->count ? (size_t)(test_random(random) % of->count) : 0,
         length = 1 + (size_t)(test_random(random) % 12);
  char byte = (char)test_random(random);
  const char *piece = pieces[test_random(random) % (sizeof pieces / sizeof pieces[0])];
  switch (test_random(random) % 6) {
    case 0:
      if (of->count) of->bytes[at] = byte;
      break;
    case 1:
      cut(of, at, length);
      break;
    case 2:
      put(of, at, &byte, 1);
      break;
    case 3: { /* a part twice over */
      char copy[12];
      if (length > of->count - at) length = of->count - at;
      memcpy(copy, of->bytes + at, length);
      put(of, at, copy, length);
      break;
    }
    case 4:
      if (test_random(random) % 8 == 0) of->count = at; /* the rest is lost */
      break;
    default:
      put(of, at, piece, strlen(piece));
  }
}

static text spoilt(const char *from, uint64_t *random) {
  text of;
  of.count = strlen(from);
  memcpy(of.bytes, from, of.count);
  for (uint64_t left = 1 + test_random(random) % 4; left; left--)
    spoil(&of, random);
  return of;
}

/* ---- reading */

typedef struct faults {
  int count, placed;
} faults;

static void count_fault(void *context, const girdle_error *error) {
  faults *all = context;
  all->count++;
  all->placed += error->line >= 1 && error->source[0];
}

static uint64_t rows_of(const text *of) {
  girdle_table *table = NULL;
  uint64_t rows;
  assert_int_equal(girdle_table_read(NULL, "t", of->bytes, of->count, &table), GIRDLE_OK);
  rows = girdle_table_rows(table);
  girdle_table_free(table);
  return rows;
}

/* What a table that was read whole has brought. */
static void read_whole(const girdle_club *club, int32_t file, uint64_t rows) {
  uint64_t count = 0;
  if (file == GIRDLE_FILE_CLUB) assert_int_equal(girdle_club_jobs(club), rows);
  if (file == GIRDLE_FILE_PRICES) girdle_club_prices(club, &count), assert_int_equal(count, rows);
  if (file == GIRDLE_FILE_SUPPLIERS) girdle_club_suppliers(club, &count), assert_int_equal(count, rows);
  if (file == GIRDLE_FILE_STOCK) girdle_club_stock(club, &count), assert_int_equal(count, rows);
}

static void read_club_table(int32_t file, const text *of, int64_t *read, int64_t *refused) {
  faults all = {0, 0};
  girdle_club *club;
  test_call test;
  int32_t status;
  test_begin(&test);
  assert_ok(&test, girdle_club_new(&test.call, &club));
  for (int32_t before = 0; before < file; before++)
    assert_ok(&test, girdle_paper_read_club(&test.call, club, before, girdle_paper_club_file(before), sound[before],
                                            strlen(sound[before])));
  test.call.report.context = &all;
  test.call.report.fault = count_fault;
  status = girdle_paper_read_club(&test.call, club, file, girdle_paper_club_file(file), of->bytes, of->count);
  if (status) {
    ++*refused;
    assert_int_equal(test.error.status, status);
    assert_true(test.error.message[0] && test.error.source[0]);
  } else {
    ++*read;
    assert_int_equal(all.count, 0);
    read_whole(club, file, rows_of(of));
  }
  girdle_club_free(club);
  assert_int_equal(test.live_bytes, 0);
}

static void read_zones(const text *of, int64_t *read, int64_t *refused) {
  girdle_zone_rows *rows = NULL;
  uint64_t count;
  test_call test;
  int32_t status;
  test_begin(&test);
  status = girdle_paper_read_zones(&test.call, "zones.csv", of->bytes, of->count, &rows);
  if (status) {
    ++*refused;
    assert_null(rows);
    assert_true(test.error.message[0] && test.error.source[0]);
  } else {
    ++*read;
    girdle_zone_rows_view(rows, &count);
    assert_int_equal(count, rows_of(of));
  }
  girdle_zone_rows_free(rows);
  assert_int_equal(test.live_bytes, 0);
}

static void tables_that_are_spoilt_are_read_whole_or_refused(void **state) {
  int64_t left = getenv("GIRDLE_PROOF") ? 100000 : 10000, read = 0, refused = 0;
  uint64_t random = 2031;
  (void)state;
  for (int32_t file = 0; left; left--, file = (file + 1) % (GIRDLE_FILE_END + 1)) {
    text of = spoilt(file == GIRDLE_FILE_END ? zones : sound[file], &random);
    if (file == GIRDLE_FILE_END)
      read_zones(&of, &read, &refused);
    else
      read_club_table(file, &of, &read, &refused);
  }
  print_message("%lld read, %lld refused\n", (long long)read, (long long)refused);
  assert_true(read > 1000 && refused > 1000);
}

static void tables_as_they_are_are_read(void **state) {
  int64_t read = 0, refused = 0;
  (void)state;
  for (int32_t file = 0; file < GIRDLE_FILE_END; file++) {
    text of;
    of.count = strlen(sound[file]);
    memcpy(of.bytes, sound[file], of.count);
    read_club_table(file, &of, &read, &refused);
  }
  assert_int_equal(read, GIRDLE_FILE_END);
  assert_int_equal(refused, 0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(tables_as_they_are_are_read),
      cmocka_unit_test(tables_that_are_spoilt_are_read_whole_or_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
