/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <stdlib.h>
#include <string.h>

#include "common.h"

/* phrases: all that papers say, to be put in other words. tables: how many stones a length and an area take, for sizes
 * and gaps. */

/* ---- the lists that were asked for */

/* Calls `take` with each part of "a; b; c". */
static int32_t each_part(program *with, const char *text, int32_t (*take)(program *, const char *, void *), void *to) {
  char *copy = command_copy(text), *end;
  int32_t status = GIRDLE_OK;
  for (char *at = copy; at && !status; at = end) {
    end = strchr(at, ';');
    if (end) *end++ = '\0';
    while (*at == ' ')
      at++;
    for (size_t length = strlen(at); length && at[length - 1] == ' ';)
      at[--length] = '\0';
    status = take(with, at, to);
  }
  free(copy);
  return status;
}

enum { MOST = 100 };
typedef struct wanted {
  girdle_size sizes[MOST];
  double gaps[MOST];
  uint64_t size_count, gap_count;
} wanted;

static int32_t too_many(program *with, const char *name) {
  return girdle_common_fail(&with->call, GIRDLE_LIMIT, name, "%s: more than %d of them", name, MOST);
}

static int32_t take_size(program *with, const char *text, void *to) {
  wanted *all = to;
  int32_t status;
  if (all->size_count == MOST) return too_many(with, "stones");
  status = girdle_size_parse(&with->call, text, &all->sizes[all->size_count++]);
  girdle_common_at(&with->call, "stones", -1, -1, -1);
  return status;
}

static int32_t take_gap(program *with, const char *text, void *to) {
  wanted *all = to;
  int32_t status;
  if (all->gap_count == MOST) return too_many(with, "gap");
  status = girdle_quantity_parse(&with->call, text, GIRDLE_LENGTH, &all->gaps[all->gap_count]);
  if (!status) status = girdle_common_range(&with->call, "gap", all->gaps[all->gap_count], 0, 1000, "mm");
  girdle_common_at(&with->call, "gap", -1, -1, -1);
  all->gap_count++;
  return status;
}

/* ---- phrases */

int32_t verb_phrases(program *with) {
  uint64_t count;
  const char *const *english = girdle_paper_phrases(&count);
  GIRDLE_TRY(flags_only(with, NULL, 0));
  buffer_text(&with->result, "english,own\r\n");
  for (uint64_t at = 0; at < count; at++)
    buffer_csv_text(&with->result, english[at], ",\r\n");
  return GIRDLE_OK;
}

/* ---- tables */

static int32_t write_tables(program *with, const wanted *all) {
  girdle_sink sink = paper_sink(with, &with->result);
  girdle_print_options print;
  girdle_tables_options options;
  girdle_tables_options_init(&options, sizeof options);
  options.form = with->flags.csv    ? GIRDLE_FORM_CSV
                 : with->flags.json ? GIRDLE_FORM_JSON
                 : with->flags.pdf  ? GIRDLE_FORM_PDF
                                    : GIRDLE_FORM_TEXT;
  options.sizes = all->sizes;
  options.size_count = all->size_count;
  options.gaps_mm = all->gaps;
  options.gap_count = all->gap_count;
  GIRDLE_TRY(flags_print(with, &print));
  options.print = &print;
  return girdle_paper_tables(&with->call, &options, &sink);
}

int32_t verb_tables(program *with) {
  static const char *const known[] = {"stones", "gap"};
  const char *sizes = flags_given(with, "stones"), *gaps = flags_given(with, "gap");
  wanted *all = command_new(sizeof *all);
  int32_t status = flags_only(with, known, 2);
  if (!status)
    status = each_part(with, sizes ? sizes : "ss6; ss10; ss12; ss16; ss20; ss30; ss34; ss40", take_size, all);
  if (!status) status = each_part(with, gaps ? gaps : "0 mm; 1 mm; 2 mm", take_gap, all);
  if (!status) status = write_tables(with, all);
  free(all);
  return status;
}
