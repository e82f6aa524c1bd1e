/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "command.h"
#include "common.h"

/* substitutes.csv, in a club's folder: a stone that cannot be had, and what is taken instead by every costume of a
 * routine, or, with no routine, of the club; never by one costume alone, since they stand side by side. Another colour
 * takes the place of what it stands in for; of another size the zones are placed anew, with counts of their own.
 *
 *   routine,stone,instead
 *   Hearth,ss20 red,ss20 orange */

enum { TABLE_BYTES = 1 << 20 };

typedef struct substitutes {
  program *with;
  const girdle_club *club;
  const girdle_table *table;
  const char *path;
  const wardrobe *costumes; /* when nothing is placed */
} substitutes;

static const char *cell(const substitutes *in, uint64_t row, const char *column) {
  int64_t at = girdle_table_column(in->table, column);
  return at < 0 ? "" : girdle_table_cell(in->table, row, (uint64_t)at);
}

int32_t routine_is_known(program *with, const girdle_club *club, const char *routine) {
  const char *known[64];
  uint64_t count = 0, same;
  for (uint64_t at = 0; at < girdle_club_jobs(club); at++) {
    const char *own = girdle_job_head_of(girdle_club_job(club, at))->routine;
    if (strcmp(own, routine) == 0) return GIRDLE_OK;
    for (same = 0; same < count && strcmp(known[same], own) != 0;)
      same++;
    if (own[0] && same == count && count < 64) known[count++] = own;
  }
  return girdle_common_unknown(&with->call, "routine", routine, known, count);
}

static int32_t read_swap(program *with, const girdle_club *club, const char *routine, const char *stone,
                         const char *instead, swap *out) {
  if (!girdle_common_text(out->routine, sizeof out->routine, routine))
    return girdle_common_fail(&with->call, GIRDLE_LIMIT, "routine", "'%.60s...' is too long", routine);
  if (routine[0]) GIRDLE_TRY(routine_is_known(with, club, routine));
  GIRDLE_TRY(girdle_stone_parse(&with->call, stone, &out->stone));
  return girdle_stone_parse(&with->call, instead, &out->instead);
}

static void keep_swap(program *with, const swap *of) {
  with->swaps = command_grown(with->swaps, with->swap_count, sizeof *with->swaps);
  with->swaps[with->swap_count++] = *of;
}

int32_t substitutes_add(program *with, const girdle_club *club, const char *routine, const char *stone,
                        const char *instead) {
  swap added;
  GIRDLE_TRY(read_swap(with, club, routine, stone, instead, &added));
  keep_swap(with, &added);
  return GIRDLE_OK;
}

void substitutes_forget(program *with) {
  free(with->swaps);
  with->swaps = NULL;
  with->swap_count = 0;
}

static int32_t swap_in(const substitutes *in, uint64_t row, swap *out) {
  return read_swap(in->with, in->club, cell(in, row, "routine"), cell(in, row, "stone"), cell(in, row, "instead"), out);
}

/* ---- before the costumes are worked */

static int32_t read_row(substitutes *in, uint64_t row) {
  swap of;
  GIRDLE_TRY(swap_in(in, row, &of));
  if (!girdle_stone_same_place(&of.stone, &of.instead)) keep_swap(in->with, &of);
  return GIRDLE_OK;
}

/* ---- when they are */

static int64_t pieces_of(const girdle_zone *zone, const girdle_stone *stone) {
  int64_t found = zone->placement ? girdle_placement_pieces(zone->placement, stone) : 0;
  for (uint64_t at = 0; at < zone->already_count; at++)
    if (girdle_stone_equal(&zone->already[at], stone)) found += zone->already_pieces[at];
  return found;
}

/* Another size stands where it was placed anew. */
static int32_t take_in(substitutes *in, const swap *of, girdle_job *job, int64_t *pieces) {
  uint64_t count;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  if (girdle_stone_same_place(&of->stone, &of->instead))
    return girdle_job_substitute(&in->with->call, job, &of->stone, &of->instead, pieces);
  *pieces = 0;
  for (uint64_t at = 0; at < count; at++)
    *pieces += pieces_of(&zones[at], &of->instead);
  return GIRDLE_OK;
}

static void say_nobody(const substitutes *in, uint64_t row) {
  command_say(in->with, "girdle: %s:%d: nobody wears %s, so nothing is taken instead", in->path,
              (int)girdle_table_line(in->table, row), cell(in, row, "stone"));
}

/* The jobs that are worked take it; those of others have no zones yet. */
static int32_t take_row(substitutes *in, uint64_t row) {
  swap of;
  int64_t pieces = 0, more;
  uint64_t idle = 0, count;
  GIRDLE_TRY(swap_in(in, row, &of));
  for (uint64_t at = 0; at < girdle_club_jobs(in->club); at++) {
    girdle_job *job = girdle_club_job(in->club, at);
    if (!swap_is_of(&of, job)) continue;
    GIRDLE_TRY(take_in(in, &of, job, &more));
    girdle_job_zones(job, &count);
    idle += count == 0;
    pieces += more;
  }
  if (!idle && !pieces) say_nobody(in, row);
  return GIRDLE_OK;
}

/* ---- when nothing is placed: whether anyone wears a stone, as far as tables of zones tell */

/* Whether "ss20 black; 12 ss16 clear" or "two = ss16 blue" names the stone. */
static int lists(const program *with, const char *list, const girdle_stone *stone) {
  girdle_call quiet = with->call;
  char part[256];
  girdle_stone own;
  int64_t pieces;
  quiet.error = NULL;
  for (size_t length; *list; list += length + (list[length] == ';')) {
    const char *equals;
    length = strcspn(list, ";");
    snprintf(part, sizeof part, "%.*s", (int)length, list);
    equals = strchr(part, '=');
    equals = equals ? equals + 1 : part;
    if (!girdle_stone_parse(&quiet, equals, &own) && girdle_stone_equal(&own, stone)) return 1;
    if (!girdle_stone_pieces_parse(&quiet, equals, &own, &pieces) && girdle_stone_equal(&own, stone)) return 1;
  }
  return 0;
}

/* Where a row names fewer stones than its recipe takes, the recipe's own stand. */
static int32_t look_in_row(program *with, const costume *of, const girdle_zone_row *row, const girdle_stone *stone,
                           int *found) {
  const char *const lists_of[] = {row->stones, row->already, row->pieces, row->given};
  sheet takes = {0};
  int32_t status = GIRDLE_OK;
  for (size_t at = 0; at < sizeof lists_of / sizeof lists_of[0]; at++)
    *found |= lists(with, lists_of[at], stone);
  if (!*found && row->recipe[0]) status = pool_describe(with, row->recipe, &of->beside, &takes);
  for (uint64_t at = 0; at < takes.parameter_count && !status; at++)
    *found |= lists(with, takes.parameters[at].fallback, stone);
  sheet_free(&takes);
  return status;
}

/* What a Lua file places is not known. */
static int32_t look_in_costume(program *with, const costume *of, const girdle_stone *stone, int *found) {
  uint64_t count = 0;
  const girdle_zone_row *rows = of && of->zones ? girdle_zone_rows_view(of->zones, &count) : NULL;
  *found |= !of || of->lua[0];
  for (uint64_t at = 0; at < count && !*found; at++)
    GIRDLE_TRY(look_in_row(with, of, &rows[at], stone, found));
  return GIRDLE_OK;
}

static int32_t look_for_row(substitutes *in, uint64_t row) {
  swap of;
  int found = 0;
  GIRDLE_TRY(swap_in(in, row, &of));
  for (uint64_t at = 0; at < girdle_club_jobs(in->club) && !found; at++) {
    const girdle_job *job = girdle_club_job(in->club, at);
    if (swap_is_of(&of, job))
      GIRDLE_TRY(look_in_costume(in->with, wardrobe_costume(in->costumes, girdle_job_head_of(job)->costume), &of.stone,
                                 &found));
  }
  if (!found) say_nobody(in, row);
  return GIRDLE_OK;
}

/* ---- the table */

static int32_t each_row(substitutes *in, int32_t (*act)(substitutes *in, uint64_t row)) {
  int32_t first = GIRDLE_OK;
  if (girdle_table_column(in->table, "stone") < 0 || girdle_table_column(in->table, "instead") < 0) {
    girdle_common_fail(&in->with->call, GIRDLE_UNKNOWN, "stone", "the columns are routine, stone and instead");
    girdle_common_at(&in->with->call, in->path, 1, -1, -1);
    return GIRDLE_UNKNOWN;
  }
  for (uint64_t row = 0; row < girdle_table_rows(in->table); row++) {
    int32_t status = act(in, row);
    if (status) girdle_common_at(&in->with->call, in->path, girdle_table_line(in->table, row), -1, -1);
    command_fault(in->with, status);
    if (!first) first = status;
  }
  return first;
}

static int32_t with_table(program *with, const char *folder_path, const girdle_club *club, const wardrobe *costumes,
                          int32_t (*act)(substitutes *in, uint64_t row)) {
  char path[COMMAND_PATH];
  buffer text = {0};
  girdle_table *table = NULL;
  substitutes in = {with, club, NULL, path, costumes};
  int32_t status;
  GIRDLE_TRY(file_join(with, folder_path, "substitutes.csv", path, sizeof path));
  if (!file_exists(path)) return GIRDLE_OK;
  GIRDLE_TRY(file_read(with, path, TABLE_BYTES, &text));
  status = girdle_table_read(&with->call, path, text.bytes, text.count, &table);
  in.table = table;
  if (!status) status = each_row(&in, act);
  girdle_table_free(table);
  buffer_free(&text);
  return status;
}

int32_t substitutes_read(program *with, const char *folder_path, const girdle_club *club) {
  return with_table(with, folder_path, club, NULL, read_row);
}

int32_t substitutes_look(program *with, const char *folder_path, const girdle_club *club, const wardrobe *costumes) {
  return with_table(with, folder_path, club, costumes, look_for_row);
}

int32_t substitutes_take(program *with, const char *folder_path, const girdle_club *club) {
  return with_table(with, folder_path, club, NULL, take_row);
}

/* ---- what could be taken */

/* "(+22)" of pieces, "(-3.48)" of money: by how much more. */
static const char *signed_words(const char *text, char *out, size_t bytes) {
  snprintf(out, bytes, "%s%s", text[0] == '-' ? "" : "+", text);
  return out;
}

static void say_one(program *with, const girdle_stone *own, const girdle_substitute *of,
                    const girdle_currency *currency) {
  char was[160], is[160], cost[48], more[48], dearer[50], pieces[24], added[24], added_signed[26], grams[64], mass[66];
  const int priced = of->added_cost_minor != INT64_MIN;
  girdle_stone_text(own, was, sizeof was);
  girdle_stone_text(&of->stone, is, sizeof is);
  girdle_money_text(of->cost_minor, currency, 1, cost, sizeof cost);
  girdle_money_text(priced ? of->added_cost_minor : 0, currency, 0, more, sizeof more);
  snprintf(pieces, sizeof pieces, "%lld", (long long)of->pieces);
  snprintf(added, sizeof added, "%lld", (long long)of->added_pieces);
  buffer_say(&with->result, with,
             priced ? "{1}: {2} could stand in, {3} pieces ({4}), {5} g, {6} ({8}), from {7}"
                    : "{1}: {2} could stand in, {3} pieces ({4}), {5} g, {6}, from {7}",
             was, is, pieces, signed_words(added, added_signed, sizeof added_signed),
             signed_words(number_words(with, of->added_mass_mg / 1000, 1, grams), mass, sizeof mass), cost,
             of->supplier, signed_words(more, dearer, sizeof dearer));
  buffer_text(&with->result, "\n");
}

/* Of a stone that is to be had, the cheapest that would save something; of one that is not, all. */
static uint64_t worth_saying(const girdle_order_stone *stone, const girdle_substitute *all, uint64_t count) {
  if (stone->unpriced) return count;
  return count && all[0].added_cost_minor < 0 && all[0].added_cost_minor != INT64_MIN;
}

static int32_t say_all_of(program *with, const girdle_club *club, const girdle_order *order, uint64_t at,
                          uint64_t *said) {
  girdle_order_options options;
  girdle_order_total sum;
  girdle_substitute *all;
  uint64_t count, stones, shown;
  const girdle_order_stone *stone = girdle_order_stones(order, &stones) + at;
  int32_t status;
  girdle_order_sum(order, &sum);
  girdle_order_options_init(&options, sizeof options);
  options.prices = girdle_club_prices(club, &options.price_count);
  options.suppliers = girdle_club_suppliers(club, &options.supplier_count);
  GIRDLE_TRY(girdle_order_substitutes(&with->call, order, at, &options, NULL, 0, &count));
  all = command_new((count + 1) * sizeof *all);
  status = girdle_order_substitutes(&with->call, order, at, &options, all, count, &count);
  shown = status ? 0 : worth_saying(stone, all, count);
  for (uint64_t each = 0; each < shown; each++) {
    if (!(*said)++) {
      buffer_text(&with->result, "\n");
      buffer_say(&with->result, with,
                 "What could stand in, and what that changes (nothing is taken unasked; --json lists all):");
      buffer_text(&with->result, "\n");
    }
    say_one(with, &stone->stone, &all[each], &sum.currency);
  }
  free(all);
  return status;
}

int32_t substitutes_say(program *with, const girdle_club *club, const girdle_reckoning *of) {
  uint64_t count, said = 0;
  const girdle_order *order = girdle_reckoning_order(of);
  girdle_order_stones(order, &count);
  for (uint64_t at = 0; at < count; at++)
    GIRDLE_TRY(say_all_of(with, club, order, at, &said));
  if (!said) return GIRDLE_OK;
  buffer_say(&with->result, with,
             "What is taken instead goes into substitutes.csv (routine, stone, instead), for all of a routine or for "
             "none; another size is placed anew: girdle compare CLUB stone= instead= says what that changes.");
  buffer_text(&with->result, "\n");
  return GIRDLE_OK;
}
