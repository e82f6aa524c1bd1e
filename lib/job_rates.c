/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"

#include <math.h>
#include <string.h>

#include "common.h"
#include "job_internal.h"

/* Rates by the names people use: what is written, where it goes, and its limits. */

enum { MEASURE, COUNT, JOBS, SHARE, MILLIONTHS, MONEY, PIECES, YES, WEEKDAYS, CURRENCY };

typedef struct rate_row {
  const char *name;
  int32_t kind, quantity; /* quantity: of a MEASURE; of MONEY its labour_by, or -1 */
  size_t at;              /* in girdle_club */
  double least, most;     /* in the unit the field holds */
  const char *unit;
} rate_row;

#define WORK(field) offsetof(girdle_club, work.field)
#define QUOTE(field) offsetof(girdle_club, quote.field)
#define OWN(field) offsetof(girdle_club, field)

/* In the order of girdle_rate_names. */
static const rate_row rates[] = {
    {"currency", CURRENCY, 0, QUOTE(currency), 0, 0, ""},
    {"labour a gross", MONEY, GIRDLE_BY_GROSS, QUOTE(labour_minor), 0, 0, ""},
    {"labour a stone", MONEY, GIRDLE_BY_STONE, QUOTE(labour_minor), 0, 0, ""},
    {"labour an hour", MONEY, GIRDLE_BY_HOUR, QUOTE(labour_minor), 0, 0, ""},
    {"adhesive a tube", MONEY, -1, QUOTE(adhesive_minor), 0, 0, ""},
    {"consumables", MONEY, -1, QUOTE(consumables_minor), 0, 0, ""},
    {"overhead", MILLIONTHS, 0, QUOTE(overhead_millionths), 0, 10e6, ""},
    {"margin", MILLIONTHS, 0, QUOTE(margin_millionths), 0, 999999, ""},
    {"mark-up", MILLIONTHS, 0, QUOTE(markup_millionths), 0, 100e6, ""},
    {"tax", MILLIONTHS, 0, QUOTE(tax_millionths), 0, 10e6, ""},
    {"deposit", MILLIONTHS, 0, QUOTE(deposit_millionths), 0, 1e6, ""},
    {"rush", MILLIONTHS, 0, QUOTE(rush_millionths), 0, 10e6, ""},
    {"extra gross", MONEY, -1, QUOTE(extra_gross_minor), 0, 0, ""},
    {"own gross", MONEY, -1, QUOTE(own_gross_minor), 0, 0, ""},
    {"round to", MONEY, -1, QUOTE(round_to_minor), 0, 0, ""},
    {"tools", MONEY, -1, QUOTE(tools_minor), 0, 0, ""},
    {"first-timer pace", MILLIONTHS, 0, QUOTE(self_pace_millionths), 1e6, 100e6, ""},
    {"quote valid", COUNT, 0, QUOTE(valid_days), 0, 3650, "days"},
    {"spares", SHARE, 0, OWN(lost_share), 0, 1, ""},
    {"repair kit", PIECES, 0, OWN(kit_pieces), 0, 1e6, "pieces"},
    {"split", YES, 0, OWN(split), 0, 1, ""},
    {"jobs before the log counts", JOBS, 0, OWN(prior_jobs), 0, 1000, "jobs"},
    {"adhesive film", MEASURE, GIRDLE_LENGTH, WORK(film_mm), 0.01, 5, "mm"},
    {"adhesive waste", SHARE, 0, WORK(adhesive_waste), 0, 0.95, ""},
    {"adhesive skins", MEASURE, GIRDLE_TIME, WORK(skin_s), 1, 86400, "s"},
    {"tube", MEASURE, GIRDLE_VOLUME, WORK(tube_ml), 0.1, 100000, "ml"},
    {"small stone", MEASURE, GIRDLE_TIME, WORK(small_s), 0.1, 3600, "s"},
    {"large stone", MEASURE, GIRDLE_TIME, WORK(large_s), 0.1, 3600, "s"},
    {"large from", MEASURE, GIRDLE_LENGTH, WORK(large_from_mm), 0, 100, "mm"},
    {"sewn stone", MEASURE, GIRDLE_TIME, WORK(sewn_s), 0.1, 3600, "s"},
    {"change of stone", MEASURE, GIRDLE_TIME, WORK(change_s), 0, 86400, "s"},
    {"zone layout", MEASURE, GIRDLE_TIME, WORK(zone_s), 0, 86400, "s"},
    {"evening", MEASURE, GIRDLE_TIME, WORK(evening_s), 60, 86400, "s"},
    {"dry", MEASURE, GIRDLE_TIME, WORK(dry_s), 0, 2592000, "s"},
    {"cure", MEASURE, GIRDLE_TIME, WORK(cure_s), 0, 2592000, "s"},
    {"hands", COUNT, 0, WORK(hands), 1, 1000, "hands"},
    {"places to dry", COUNT, 0, WORK(places_to_dry), 1, 1000, "places"},
    {"alteration days", COUNT, 0, WORK(alteration_days), 0, 365, "days"},
    {"swatch days", COUNT, 0, WORK(swatch_days), 0, 365, "days"},
    {"try-on days", COUNT, 0, WORK(try_on_days), 0, 365, "days"},
    {"days in hand", COUNT, 0, WORK(spare_days), 0, 365, "days"},
    {"gluing days", WEEKDAYS, 0, WORK(glue_weekdays), 0, 0, ""},
    {"post days", WEEKDAYS, 0, WORK(post_weekdays), 0, 0, ""},
};
enum { RATE_COUNT = sizeof rates / sizeof rates[0] };

const char *const *girdle_rate_names(uint64_t *count) {
  /* in the order above; a test sets every one of them */
  static const char *const names[] = {"currency",
                                      "labour a gross",
                                      "labour a stone",
                                      "labour an hour",
                                      "adhesive a tube",
                                      "consumables",
                                      "overhead",
                                      "margin",
                                      "mark-up",
                                      "tax",
                                      "deposit",
                                      "rush",
                                      "extra gross",
                                      "own gross",
                                      "round to",
                                      "tools",
                                      "first-timer pace",
                                      "quote valid",
                                      "spares",
                                      "repair kit",
                                      "split",
                                      "jobs before the log counts",
                                      "adhesive film",
                                      "adhesive waste",
                                      "adhesive skins",
                                      "tube",
                                      "small stone",
                                      "large stone",
                                      "large from",
                                      "sewn stone",
                                      "change of stone",
                                      "zone layout",
                                      "evening",
                                      "dry",
                                      "cure",
                                      "hands",
                                      "places to dry",
                                      "alteration days",
                                      "swatch days",
                                      "try-on days",
                                      "days in hand",
                                      "gluing days",
                                      "post days"};
  *count = sizeof names / sizeof names[0];
  return names;
}

void girdle_job_rates_init(girdle_club *club) {
  girdle_order_options order;
  girdle_work_rates_init(&club->work, sizeof club->work);
  girdle_quote_rates_init(&club->quote, sizeof club->quote);
  girdle_order_options_init(&order, sizeof order);
  club->lost_share = order.lost_share;
  club->kit_pieces = order.kit_pieces;
  club->prior_jobs = 5; /* common practice, no source */
}

/* ---- reading values */

static int32_t read_measure(girdle_call *call, const rate_row *rate, const char *value, double *out) {
  double number;
  GIRDLE_TRY(girdle_quantity_parse(call, value, rate->kind == SHARE ? GIRDLE_SHARE : rate->quantity, &number));
  GIRDLE_TRY(girdle_common_range(call, rate->name, number, rate->least, rate->most, rate->unit));
  *out = number;
  return GIRDLE_OK;
}

/* Whole millionths, so that percents stay exact: at most four decimals. */
static int32_t read_millionths(girdle_call *call, const rate_row *rate, const char *value, int64_t *out) {
  double share, whole;
  GIRDLE_TRY(girdle_quantity_parse(call, value, GIRDLE_SHARE, &share));
  GIRDLE_TRY(girdle_common_range(call, rate->name, share, rate->least / 1e6, rate->most / 1e6, ""));
  whole = nearbyint(share * 1e6);
  if (fabs(share * 1e6 - whole) > 1e-3)
    return girdle_common_fail(call, GIRDLE_SYNTAX, rate->name, "%s '%.40s' has more than four decimals", rate->name,
                              value);
  *out = (int64_t)whole;
  return GIRDLE_OK;
}

static int32_t read_count(girdle_call *call, const rate_row *rate, const char *value, double *out) {
  int64_t number;
  double plain;
  if (girdle_number_parse(NULL, value, strlen(value), &plain) == GIRDLE_OK && plain < 0)
    GIRDLE_TRY(girdle_common_range(call, rate->name, plain, rate->least, rate->most, rate->unit));
  GIRDLE_TRY(girdle_pieces_parse(call, value, &number));
  GIRDLE_TRY(girdle_common_range(call, rate->name, (double)number, rate->least, rate->most, rate->unit));
  *out = (double)number;
  return GIRDLE_OK;
}

static int weekday_of(const char *text) {
  static const char *const days[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
  for (int i = 0; i < 7; i++) {
    int same = 1;
    for (int k = 0; k < 3 && same; k++)
      same = (text[k] | 0x20) == days[i][k];
    if (same) return i + 1;
  }
  return 0;
}

/* "Mon-Fri", "Tue Thu Sat-Sun": three letters each; a stretch may run over the Sunday. */
static int32_t read_weekdays(girdle_call *call, const rate_row *rate, const char *value, uint32_t *out) {
  uint32_t mask = 0;
  int first = 0, day = weekday_of(value);
  for (const char *at = value; day; day = weekday_of(at)) {
    for (int i = first ? first : day; i != day; i = i % 7 + 1)
      mask |= GIRDLE_WEEKDAY(i);
    mask |= GIRDLE_WEEKDAY(day);
    at += 3;
    if (!*at) {
      *out = mask;
      return GIRDLE_OK;
    }
    if (*at != ' ' && *at != ',' && (*at != '-' || first)) break;
    first = *at == '-' ? day : 0;
    at += 1 + (*at == ',' && at[1] == ' ');
  }
  return girdle_common_fail(call, GIRDLE_SYNTAX, rate->name,
                            "%s '%.40s' are not weekdays; write them like \"Mon-Fri Sun\"", rate->name, value);
}

static int32_t read_yes(girdle_call *call, const rate_row *rate, const char *value, int32_t *out) {
  int yes = strcmp(value, "yes") == 0;
  if (!yes && strcmp(value, "no") != 0)
    return girdle_common_fail(call, GIRDLE_SYNTAX, rate->name, "%s is \"yes\" or \"no\", not '%.40s'", rate->name,
                              value);
  *out = yes;
  return GIRDLE_OK;
}

/* ---- money */

/* So that what is reckoned with it is not too large where nobody knows any more which rate it was. */
static const int64_t RATE_MOST_MINOR = 1000000000000;

static int money_slot(const rate_row *wanted) {
  int slot = 0;
  for (const rate_row *at = rates; at < wanted; at++)
    slot += at->kind == MONEY && at->at != at[1].at;
  return slot;
}

static int32_t read_money(girdle_call *call, girdle_club *club, const rate_row *rate, const char *value) {
  int64_t minor;
  const char *code = strrchr(value, ' ');
  if (strlen(value) >= sizeof club->money[0])
    return girdle_common_fail(call, GIRDLE_LIMIT, rate->name, "%s '%.20s...' is too long", rate->name, value);
  if (!club->currency_known && code && strlen(code + 1) == 3) {
    girdle_currency currency;
    GIRDLE_TRY(girdle_currency_parse(call, code + 1, &currency));
    GIRDLE_TRY(girdle_money_parse(call, value, &currency, &minor));
    GIRDLE_TRY(girdle_job_take_currency(call, club, &currency));
  }
  GIRDLE_TRY(girdle_money_parse(call, value, &club->quote.currency, &minor));
  if (minor < 0)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, rate->name, "%s must not be below 0: %s", rate->name, value);
  if (minor > RATE_MOST_MINOR)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, rate->name, "%s must be below a million million cents: %s",
                              rate->name, value);
  memcpy((char *)club + rate->at, &minor, sizeof minor);
  strcpy(club->money[money_slot(rate)], value);
  if (rate->quantity >= 0) club->quote.labour_by = rate->quantity;
  return GIRDLE_OK;
}

/* Reads all sums again, now in the currency; on an error nothing is changed. */
static int32_t reread_money(girdle_call *call, const girdle_club *club, const girdle_currency *currency,
                            int64_t minor[GIRDLE_RATE_MONEY_MOST]) {
  for (int i = 0; i < GIRDLE_RATE_MONEY_MOST; i++) {
    minor[i] = 0;
    if (club->money[i][0]) GIRDLE_TRY(girdle_money_parse(call, club->money[i], currency, &minor[i]));
  }
  return GIRDLE_OK;
}

int32_t girdle_job_take_currency(girdle_call *call, girdle_club *club, const girdle_currency *currency) {
  int64_t minor[GIRDLE_RATE_MONEY_MOST];
  const char *known = club->quote.currency.code;
  if (club->currency_known && strcmp(known, currency->code) != 0)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "currency", "a club reckons in one currency: %s, not %s", known,
                              currency->code);
  if (club->currency_known) return GIRDLE_OK;
  GIRDLE_TRY(reread_money(call, club, currency, minor));
  for (size_t i = 0; i < RATE_COUNT; i++)
    if (rates[i].kind == MONEY) memcpy((char *)club + rates[i].at, &minor[money_slot(&rates[i])], sizeof(int64_t));
  club->quote.currency = *currency;
  club->currency_known = 1;
  return GIRDLE_OK;
}

static int32_t read_currency(girdle_call *call, girdle_club *club, const char *value) {
  girdle_currency currency;
  GIRDLE_TRY(girdle_currency_parse(call, value, &currency));
  return girdle_job_take_currency(call, club, &currency);
}

/* ---- setting */

static int same_name(const char *known, const char *name) {
  for (; *known && *name; known++, name++) {
    char c = *name >= 'A' && *name <= 'Z' ? (char)(*name - 'A' + 'a') : *name == '_' ? ' ' : *name;
    if (c != *known) return 0;
  }
  return *known == *name;
}

/* A whole number into an int32, an int64 or a double. */
static int32_t set_count(girdle_call *call, const rate_row *rate, const char *value, void *field) {
  double number;
  GIRDLE_TRY(read_count(call, rate, value, &number));
  if (rate->kind == JOBS)
    memcpy(field, &number, sizeof number);
  else if (rate->kind == PIECES)
    memcpy(field, &(int64_t){(int64_t)number}, sizeof(int64_t));
  else
    memcpy(field, &(int32_t){(int32_t)number}, sizeof(int32_t));
  return GIRDLE_OK;
}

static int32_t set(girdle_call *call, girdle_club *club, const rate_row *rate, const char *value) {
  void *field = (char *)club + rate->at;
  switch (rate->kind) {
    case MEASURE:
    case SHARE:
      return read_measure(call, rate, value, field);
    case MILLIONTHS:
      return read_millionths(call, rate, value, field);
    case COUNT:
    case JOBS:
    case PIECES:
      return set_count(call, rate, value, field);
    case WEEKDAYS:
      return read_weekdays(call, rate, value, field);
    case YES:
      return read_yes(call, rate, value, field);
    case CURRENCY:
      return read_currency(call, club, value);
    default:
      return read_money(call, club, rate, value);
  }
}

/* ---- weighing */

static const char GROSS_OF[] = "gross of ";

static int is_weighing(const char *name) {
  char start[sizeof GROSS_OF];
  if (strlen(name) < sizeof GROSS_OF) return 0;
  memcpy(start, name, sizeof start - 1);
  start[sizeof start - 1] = '\0';
  return same_name(GROSS_OF, start);
}

/* Weighing a stone again replaces what was weighed before. */
static int32_t set_weighed(girdle_call *call, girdle_club *club, const char *text, const char *value) {
  girdle_weighing weighing, *there = club->weighings.items;
  girdle_stone stone;
  double mass_mg;
  GIRDLE_TRY(girdle_stone_parse(call, text, &stone));
  GIRDLE_TRY(girdle_quantity_parse(call, value, GIRDLE_MASS, &mass_mg));
  GIRDLE_TRY(girdle_stone_weigh(call, &stone, 144, mass_mg, 0, &weighing.stone, &weighing.model_off));
  for (uint64_t i = 0; i < club->weighings.count; i++) {
    if (!girdle_stone_equal(&there[i].stone, &stone)) continue;
    there[i] = weighing;
    return GIRDLE_OK;
  }
  return girdle_job_append(call, &club->memory, &club->weighings, &weighing, sizeof weighing);
}

/* ---- a name that no rate has */

enum { NEAR_MOST = 8, WORD_START = 4 };

/* Whether a word of one begins with the first letters of a word of the other: "labor" of "labour a stone". */
static int shares_a_word(const char *known, const char *name) {
  for (const char *word = name; word; word = strchr(word, ' ')) {
    word += *word == ' ';
    for (const char *at = known; at; at = strchr(at, ' ')) {
      at += *at == ' ';
      if (strlen(word) >= WORD_START && strncmp(at, word, WORD_START) == 0) return 1;
    }
  }
  return 0;
}

static int32_t unknown_rate(girdle_call *call, const char *name) {
  uint64_t all, count = 0;
  const char *const *names = girdle_rate_names(&all);
  const char *near[NEAR_MOST];
  if (girdle_nearest(name, names, all)) return girdle_common_unknown(call, "rate", name, names, all);
  for (uint64_t i = 0; i < all && count < NEAR_MOST; i++)
    if (shares_a_word(names[i], name)) near[count++] = names[i];
  if (count > 1) return girdle_common_unknown(call, "rate", name, near, count);
  girdle_common_fail(
      call, GIRDLE_UNKNOWN, "rate",
      count ? "unknown rate '%.60s', did you mean '%s'?" : "unknown rate '%.60s'; there are others, such as %s", name,
      count ? near[0] : "labour a gross, spares, repair kit, small stone, evening and hands");
  return GIRDLE_UNKNOWN;
}

int32_t girdle_club_set_rate(girdle_call *call, girdle_club *club, const char *name, const char *value) {
  GIRDLE_GIVEN(call, club, name, value);
  for (size_t i = 0; i < RATE_COUNT; i++) {
    int32_t status;
    if (!same_name(rates[i].name, name)) continue;
    status = set(call, club, &rates[i], value);
    if (status && call && call->error && !call->error->field[0])
      girdle_common_text(call->error->field, sizeof call->error->field, rates[i].name);
    return status;
  }
  if (is_weighing(name)) return set_weighed(call, club, name + sizeof GROSS_OF - 1, value);
  return unknown_rate(call, name);
}
