/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

/* compare: what to add, take off and buy when one version of a costume or club becomes another. */

typedef struct version {
  girdle_club *club;
  girdle_reckoning *reckoned;
} version;

typedef struct change {
  const girdle_tally_line *line; /* of either version: they agree on tag, zone, side and stone */
  int64_t before, after;
} change;

typedef struct changes {
  change *items;
  uint64_t count;
} changes;

/* ---- the changes by zone and stone */

static int is_same(const girdle_tally_line *a, const girdle_tally_line *b, int by_tag) {
  return (!by_tag || strcmp(a->tag, b->tag) == 0) && strcmp(a->zone, b->zone) == 0 && strcmp(a->side, b->side) == 0 &&
         girdle_stone_equal(&a->stone, &b->stone);
}

static change *change_of(changes *in, const girdle_tally_line *line, int by_tag) {
  change *added;
  for (uint64_t at = 0; at < in->count; at++)
    if (is_same(in->items[at].line, line, by_tag)) return &in->items[at];
  in->items = command_grown(in->items, in->count, sizeof *in->items);
  added = &in->items[in->count++];
  added->line = line;
  added->before = added->after = 0;
  return added;
}

/* Two versions of one costume may bear two tags: then zones and stones alone are held against each other. */
static void gather(changes *in, const girdle_tally *before, const girdle_tally *after, int by_tag) {
  uint64_t count;
  const girdle_tally_line *lines = girdle_tally_lines(before, &count);
  for (uint64_t at = 0; at < count; at++)
    change_of(in, &lines[at], by_tag)->before += lines[at].count;
  lines = girdle_tally_lines(after, &count);
  for (uint64_t at = 0; at < count; at++)
    change_of(in, &lines[at], by_tag)->after += lines[at].count;
}

/* ---- in each form */

static void text_change(const program *with, const change *of, buffer *to) {
  const girdle_tally_line *line = of->line;
  const int64_t more = of->after - of->before;
  char stone[160], number[64];
  buffer where = {0};
  girdle_stone_text(&line->stone, stone, sizeof stone);
  buffer_text(&where, "%s%s%s%s", line->tag, line->tag[0] ? ", " : "", line->zone, line->side[0] ? " " : "");
  buffer_say(&where, with, line->side);
  buffer_text(to, "  ");
  buffer_padded(to, where.bytes, -37);
  buffer_padded(to, stone, -25);
  buffer_text(to, "%6lld -> %6lld  ", (long long)of->before, (long long)of->after);
  buffer_say(to, with, more > 0 ? "add {1}" : "take off {1}", number_words(with, fabs((double)more), 0, number));
  buffer_text(to, "\n");
  buffer_free(&where);
}

/* A number with its sign, plus as well. */
static const char *signed_words(const program *with, double value, int32_t decimals, char text[66]) {
  *text = '+';
  number_words(with, value, decimals, text + (value > 0));
  return text;
}

static double grams(const version *of) {
  girdle_tally_line total;
  girdle_tally_total(girdle_reckoning_tally(of->reckoned), &total);
  return total.mass_mg[GIRDLE_NOMINAL] / 1000;
}

static double minutes(const version *of) {
  double sum = 0;
  for (uint64_t at = 0; at < girdle_club_jobs(of->club); at++)
    sum += girdle_reckoning_work(of->reckoned, at)->minutes;
  return sum;
}

static int64_t evenings(const version *of) {
  int64_t sum = 0;
  for (uint64_t at = 0; at < girdle_club_jobs(of->club); at++)
    sum += girdle_reckoning_work(of->reckoned, at)->evenings;
  return sum;
}

static const char *day(int64_t which, char text[16]) {
  girdle_date_text(which, text, 16);
  return text;
}

/* Where both have a calendar: what becomes of its days. */
static void days_text(const program *with, const version *before, const version *after, buffer *to) {
  char order[2][16], ready[2][16], number[64];
  const girdle_calendar *old = girdle_reckoning_calendar(before->reckoned),
                        *now = girdle_reckoning_calendar(after->reckoned);
  girdle_calendar_sum was, is;
  if (!old || !now) return;
  girdle_calendar_total(old, &was);
  girdle_calendar_total(now, &is);
  buffer_say(to, with, "order by {1}, was {2}; ready on {3}, was {4}", day(is.order_by_day, order[0]),
             day(was.order_by_day, order[1]), day(is.ready_day, ready[0]), day(was.ready_day, ready[1]));
  if (is.late_days > 0)
    buffer_say(to, with, is.late_days == 1 ? "; {1} day late" : "; {1} days late",
               number_words(with, (double)is.late_days, 0, number));
  buffer_text(to, "\n");
}

static void sums_text(const program *with, const version *before, const version *after, buffer *to) {
  char weight[66], time[66], nights[66];
  girdle_order_total was = {.unpriced_stones = 0}, is = was;
  const girdle_order *old = girdle_reckoning_order(before->reckoned), *now = girdle_reckoning_order(after->reckoned);
  buffer_say(to, with, "weight {1} g, {2} minutes, {3} evenings",
             signed_words(with, grams(after) - grams(before), 1, weight),
             signed_words(with, minutes(after) - minutes(before), 0, time),
             signed_words(with, (double)(evenings(after) - evenings(before)), 0, nights));
  if (old && now) {
    girdle_order_sum(old, &was);
    girdle_order_sum(now, &is);
  }
  if (old && now && !was.unpriced_stones && !is.unpriced_stones) { /* what lacks stones is no cheaper for it */
    char money[49] = "+";
    girdle_money_text(is.total_minor - was.total_minor, &is.currency, 1, money + (is.total_minor > was.total_minor),
                      48);
    buffer_say(to, with, ", the whole order {1}", money);
  }
  buffer_text(to, "\n");
  days_text(with, before, after, to);
}

/* ---- what to buy when the old order was bought already */

/* All that was bought then is in stock now; what is still to be bought is an order of its own. None where one of the
 * versions has none. */
static int32_t order_beside(program *with, const version *before, version *after, girdle_reckoning **out) {
  uint64_t count;
  const girdle_order_stone *stones;
  girdle_stock_row row;
  if (!girdle_reckoning_order(before->reckoned) || !girdle_reckoning_order(after->reckoned)) return GIRDLE_OK;
  stones = girdle_order_stones(girdle_reckoning_order(before->reckoned), &count);
  memset(&row, 0, sizeof row);
  for (uint64_t at = 0; at < count; at++) {
    if (stones[at].bought == 0) continue;
    row.stone = stones[at].stone;
    row.pieces = stones[at].bought;
    GIRDLE_TRY(girdle_club_add_stock(&with->call, after->club, &row));
  }
  return girdle_club_reckon(&with->call, after->club, with->today, out);
}

/* What nobody sells enough of. */
static void lacking_lines(const program *with, const girdle_order *order, buffer *to) {
  uint64_t count;
  const girdle_order_stone *stones = girdle_order_stones(order, &count);
  char stone[160], pieces[64];
  for (uint64_t at = 0; at < count; at++) {
    const girdle_order_stone *of = &stones[at];
    if (!of->unpriced) continue;
    girdle_stone_text(&of->stone, stone, sizeof stone);
    buffer_text(to, "  ");
    buffer_say(to, with, "{1} of {2}", pieces_words(with, of->needed + of->lost + of->kit - of->from_stock, pieces),
               stone);
    buffer_text(to, ": ");
    buffer_say(to, with, "no supplier offers enough");
    buffer_text(to, "\n");
  }
}

static void say_lacking(const program *with, const girdle_order *order, int64_t kinds, buffer *to) {
  char number[64];
  if (!kinds) return;
  lacking_lines(with, order, to);
  buffer_say(to, with,
             kinds == 1 ? "INCOMPLETE: no supplier offers enough of {1} kind of stone."
                        : "INCOMPLETE: no supplier offers enough of {1} kinds of stone.",
             number_words(with, (double)kinds, 0, number));
  buffer_text(to, "\n");
}

static void order_lines(const program *with, const girdle_order *order, buffer *to) {
  uint64_t count;
  const girdle_order_line *lines = girdle_order_lines(order, &count);
  girdle_order_total total;
  char stone[160], money[48], number[64];
  girdle_order_sum(order, &total);
  for (uint64_t at = 0; at < count; at++) {
    girdle_stone_text(&lines[at].stone, stone, sizeof stone);
    buffer_text(to, "  ");
    buffer_say(to, with, "{1} x {2} of {3}, {4}", number_words(with, (double)lines[at].packs, 0, number),
               lines[at].pack, stone, lines[at].supplier);
    buffer_text(to, "\n");
  }
  girdle_money_text(total.total_minor, &total.currency, 1, money, sizeof money);
  if (count || !total.unpriced_stones) {
    buffer_text(to, "  ");
    buffer_say(to, with, count ? "{1} with shipping" : "nothing: what the old order left over is enough", money);
    buffer_text(to, "\n");
  }
  say_lacking(with, order, total.unpriced_stones, to);
}

static void say_order(program *with, const girdle_reckoning *beside) {
  if (!beside) return;
  buffer_say(&with->result, with, "to buy, when the old order was bought already:");
  buffer_text(&with->result, "\n");
  order_lines(with, girdle_reckoning_order(beside), &with->result);
}

/* What the new version needs more of, over all zones: this is what is to be bought beside what was bought before. */
static void buy_text(const program *with, const changes *all, buffer *to) {
  int64_t more;
  char stone[160], pieces[64];
  uint64_t said = 0;
  buffer_say(to, with, "to have beside what the old version used:");
  for (uint64_t at = 0; at < all->count; at++) {
    more = all->items[at].after - all->items[at].before;
    if (more <= 0) continue;
    girdle_stone_text(&all->items[at].line->stone, stone, sizeof stone);
    buffer_text(to, said++ ? ", " : " ");
    buffer_say(to, with, "{1} of {2}", pieces_words(with, more, pieces), stone);
  }
  if (!said) buffer_text(to, " "), buffer_say(to, with, "nothing");
  buffer_text(to, "\n");
}

static int32_t by_stone(program *with, const version *of, girdle_tally **out) {
  return girdle_tally_by_stone(&with->call, girdle_reckoning_tally(of->reckoned), out);
}

static int32_t say_buys(program *with, const version *before, const version *after) {
  girdle_tally *old = NULL, *now = NULL;
  changes all = {NULL, 0};
  int32_t status = by_stone(with, before, &old);
  if (!status) status = by_stone(with, after, &now);
  if (!status) {
    gather(&all, old, now, 0);
    buy_text(with, &all, &with->result);
  }
  free(all.items);
  girdle_tally_free(old);
  girdle_tally_free(now);
  return status;
}

static int is_changed(const changes *all) {
  for (uint64_t at = 0; at < all->count; at++)
    if (all->items[at].before != all->items[at].after) return 1;
  return 0;
}

static int32_t as_text(program *with, const changes *all, const version *before, const version *after,
                       const girdle_reckoning *beside) {
  if (!is_changed(all)) {
    buffer_say(&with->result, with, "Nothing changes.");
    buffer_text(&with->result, "\n");
    return GIRDLE_OK;
  }
  for (uint64_t at = 0; at < all->count; at++)
    if (all->items[at].before != all->items[at].after) text_change(with, &all->items[at], &with->result);
  GIRDLE_TRY(say_buys(with, before, after));
  say_order(with, beside);
  sums_text(with, before, after, &with->result);
  return GIRDLE_OK;
}

static void as_csv(const changes *all, buffer *to) {
  char stone[160];
  buffer_text(to, "tag,zone,side,stone,before,after,add,take_off\r\n");
  for (uint64_t at = 0; at < all->count; at++) {
    const change *of = &all->items[at];
    long long more = (long long)(of->after - of->before);
    girdle_stone_text(&of->line->stone, stone, sizeof stone);
    buffer_csv_text(to, of->line->tag, ",");
    buffer_csv_text(to, of->line->zone, ",");
    buffer_csv_text(to, of->line->side, ",");
    buffer_csv_text(to, stone, ",");
    buffer_text(to, "%lld,%lld,%lld,%lld\r\n", (long long)of->before, (long long)of->after, more > 0 ? more : 0,
                more < 0 ? -more : 0);
  }
}

static void as_json(const changes *all, const version *before, const version *after, buffer *to) {
  char stone[160];
  buffer_text(to, "{\"changes\":[");
  for (uint64_t at = 0; at < all->count; at++) {
    const change *of = &all->items[at];
    girdle_stone_text(&of->line->stone, stone, sizeof stone);
    buffer_text(to, "%s{\"tag\":\"", at ? ",\n" : "");
    buffer_json_text(to, of->line->tag);
    buffer_text(to, "\",\"zone\":\"");
    buffer_json_text(to, of->line->zone);
    buffer_text(to, "\",\"side\":\"");
    buffer_json_text(to, of->line->side);
    buffer_text(to, "\",\"stone\":\"");
    buffer_json_text(to, stone);
    buffer_text(to, "\",\"before\":%lld,\"after\":%lld}", (long long)of->before, (long long)of->after);
  }
  buffer_text(to, "],\"grams\":");
  buffer_number(to, grams(after) - grams(before), 3);
  buffer_text(to, ",\"minutes\":");
  buffer_number(to, minutes(after) - minutes(before), 1);
  buffer_text(to, ",\"evenings\":%lld}\n", (long long)(evenings(after) - evenings(before)));
}

/* ---- the verb */

static int32_t read_version(program *with, uint64_t which, version *out) {
  GIRDLE_TRY(work_file(with, with->flags.files[which], with->flags.prices ? WORK_PRICES : 0, &out->club));
  return girdle_club_reckon(&with->call, out->club, with->today, &out->reckoned);
}

static void version_free(version *of) {
  girdle_reckoning_free(of->reckoned);
  girdle_club_free(of->club);
}

/* One club beside itself with another stone for all of a routine, or for all. */
static int32_t read_substituted(program *with, version *before, version *after) {
  const char *wished[3] = {flags_take(with, "routine"), flags_take(with, "stone"), flags_take(with, "instead")};
  int32_t status;
  if (!wished[1] || !wished[2] || !work_is_club(with, with->flags.files[0]))
    return command_usage(with, "compare takes two files, the old and the new; or a CLUB with stone= and instead=");
  if (!wished[0]) wished[0] = "";
  GIRDLE_TRY(read_version(with, 0, before));
  with->wished = wished;
  status = read_version(with, 0, after);
  with->wished = NULL;
  return status;
}

static int32_t read_versions(program *with, version *before, version *after) {
  if (!with->flags.file_count) return command_usage(with, "compare takes two files, the old and the new");
  if (with->flags.file_count == 1) return read_substituted(with, before, after);
  GIRDLE_TRY(read_version(with, 0, before));
  return read_version(with, 1, after);
}

static int32_t say(program *with, const changes *all, const version *before, const version *after,
                   const girdle_reckoning *beside) {
  if (with->flags.csv)
    as_csv(all, &with->result);
  else if (with->flags.json)
    as_json(all, before, after, &with->result);
  else
    GIRDLE_TRY(as_text(with, all, before, after, beside));
  if (beside) note_lacking(with, beside);
  return GIRDLE_OK;
}

int32_t verb_compare(program *with) {
  version before = {NULL, NULL}, after = {NULL, NULL};
  changes all = {NULL, 0};
  girdle_reckoning *beside = NULL;
  int32_t status = read_versions(with, &before, &after);
  if (!status) {
    int by_tag = girdle_club_jobs(before.club) > 1 || girdle_club_jobs(after.club) > 1;
    gather(&all, girdle_reckoning_tally(before.reckoned), girdle_reckoning_tally(after.reckoned), by_tag);
    if (is_changed(&all)) status = order_beside(with, &before, &after, &beside);
  }
  if (!status) status = say(with, &all, &before, &after, beside);
  girdle_reckoning_free(beside);
  free(all.items);
  version_free(&after);
  version_free(&before);
  return status;
}
