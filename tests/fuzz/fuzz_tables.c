/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* For clang's fuzzer: the first byte says which table, the rest is the file. */

#include "fuzz.h"

#include "girdle/paper.h"

static void read_table(const char *text, uint64_t bytes) {
  girdle_table *table = NULL;
  int32_t status = girdle_table_read(NULL, "fuzz.csv", text, bytes, &table);
  if ((status == GIRDLE_OK) != (table != NULL)) abort();
  girdle_table_free(table);
}

static void read_zones(const char *text, uint64_t bytes) {
  girdle_zone_rows *rows = NULL;
  int32_t status = girdle_paper_read_zones(NULL, "zones.csv", text, bytes, &rows);
  if ((status == GIRDLE_OK) != (rows != NULL)) abort();
  girdle_zone_rows_free(rows);
}

static void read_club(int32_t file, const char *text, uint64_t bytes) {
  static const char suppliers[] = "supplier,currency\nBead Barn,EUR\nGlint,EUR\n";
  girdle_club *club;
  if (girdle_club_new(NULL, &club)) return;
  girdle_paper_read_club(NULL, club, GIRDLE_FILE_SUPPLIERS, "suppliers.csv", suppliers, sizeof suppliers - 1);
  girdle_paper_read_club(NULL, club, file, "fuzz.csv", text, bytes);
  girdle_club_free(club);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  const char *text = (const char *)data + 1;
  if (size < 1) return 0;
  if (data[0] % (GIRDLE_FILE_END + 2) == GIRDLE_FILE_END)
    read_table(text, size - 1);
  else if (data[0] % (GIRDLE_FILE_END + 2) == GIRDLE_FILE_END + 1)
    read_zones(text, size - 1);
  else
    read_club(data[0] % (GIRDLE_FILE_END + 2), text, size - 1);
  return 0;
}
