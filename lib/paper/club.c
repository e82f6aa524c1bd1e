/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

#include <math.h>
#include <string.h>

/* The tables of a club's folder. Each reads its own rows; what all share is at the end. */

/* Suppliers named in the other tables must stand in suppliers.csv. */
static const girdle_supplier *find_supplier(girdle_rows *in, const girdle_club *club) {
  const char *name = girdle_rows_cell(in, "supplier"), *names[200];
  uint64_t count;
  const girdle_supplier *suppliers = girdle_club_suppliers(club, &count);
  if (!count) { /* one word for all rows */
    girdle_rows_check(
        in, "supplier",
        girdle_common_fail(in->call, GIRDLE_UNKNOWN, "supplier",
                           "supplier '%.60s' is not known: suppliers.csv is missing or has no row", name));
    in->stop = 1;
    return NULL;
  }
  for (uint64_t i = 0; i < count; i++) {
    if (strcmp(suppliers[i].name, name) == 0) return &suppliers[i];
    if (i < 200) names[i] = suppliers[i].name;
  }
  girdle_rows_check(in, "supplier",
                    girdle_common_unknown(in->call, "supplier", name, names, count < 200 ? count : 200));
  return NULL;
}

/* Money in a currency; an empty cell is `fallback`. */
static int read_money(girdle_rows *in, const char *heading, const girdle_currency *currency, int64_t fallback,
                      int64_t *out) {
  const char *text = girdle_rows_cell(in, heading);
  int32_t status = GIRDLE_OK;
  *out = fallback;
  if (!*text) return 1;
  status = girdle_money_parse(in->call, text, currency, out);
  if (!status && *out < 0)
    status = girdle_common_fail(in->call, GIRDLE_ARGUMENT, heading, "%s must be 0 or more, not %.40s", heading, text);
  return girdle_rows_check(in, heading, status);
}

/* ---- measures: the column's name without its unit, "_" as space */

typedef struct measure_column {
  char name[32];
  const char *heading, *unit;
} measure_column;

static int32_t measure_of(girdle_call *call, const char *heading, measure_column *out) {
  uint64_t stem = strlen(heading);
  out->heading = heading;
  out->unit = girdle_heading_unit(heading, &stem);
  if (stem >= sizeof out->name)
    return girdle_common_fail(call, GIRDLE_LIMIT, heading, "the measure '%.40s' is longer than %d bytes", heading,
                              (int)sizeof out->name - 1);
  memset(out->name, 0, sizeof out->name);
  for (uint64_t i = 0; i < stem; i++)
    out->name[i] = heading[i] == '_' ? ' ' : heading[i];
  return GIRDLE_OK;
}

static int32_t parse_measure(girdle_call *call, const char *text, const measure_column *column, double *mm) {
  double number, unit_mm;
  char one[8] = "1 ";
  if (column->unit && girdle_number_parse(NULL, text, strlen(text), &number) == GIRDLE_OK) {
    memcpy(one + 2, column->unit, strlen(column->unit) + 1);
    GIRDLE_TRY(girdle_quantity_parse(call, one, GIRDLE_LENGTH, &unit_mm));
    *mm = number * unit_mm;
  } else {
    GIRDLE_TRY(girdle_quantity_parse(call, text, GIRDLE_LENGTH, mm));
  }
  /* a wearer's own gap, "waist gap", may stand among the measures */
  return girdle_common_range(call, column->name, *mm, strstr(column->name, "gap") ? 0 : 1, 1e5, "mm");
}

static int is_named(const char *heading, const char *const *names, size_t count) {
  for (size_t i = 0; i < count; i++)
    if (strcmp(heading, names[i]) == 0) return 1;
  return strncmp(heading, "note", 4) == 0;
}

/* Calls `set` with each measure of the current row; empty cells are skipped. */
static void read_measures(girdle_rows *in, const char *const *names, size_t count,
                          int32_t (*set)(girdle_rows *in, void *target, const char *name, double mm), void *target) {
  for (uint64_t i = 0; i < girdle_table_columns(in->table) && !in->stop; i++) {
    const char *heading = girdle_table_heading(in->table, i), *text = girdle_table_cell(in->table, in->row, i);
    measure_column column;
    double mm;
    int32_t status;
    if (!*text || is_named(heading, names, count)) continue;
    status = measure_of(in->call, heading, &column);
    if (!status) status = parse_measure(in->call, text, &column, &mm);
    if (!status) status = set(in, target, column.name, mm);
    girdle_rows_check(in, heading, status);
  }
}

/* ---- sizes.csv */

static const char *const size_columns[] = {"size"};

static int32_t set_size(girdle_rows *in, void *target, const char *name, double mm) {
  return girdle_club_set_size(in->call, target, girdle_rows_cell(in, "size"), name, mm);
}

static void read_size(girdle_rows *in, girdle_club *club) {
  char size[16];
  if (girdle_rows_text(in, "size", size, sizeof size, 1)) read_measures(in, size_columns, 1, set_size, club);
}

/* ---- club.csv */

static const char *const club_columns[] = {"tag",     "costume", "size", "needed_by", "name",
                                           "routine", "rush",    "own",  "extra"};

static int32_t set_measure(girdle_rows *in, void *target, const char *name, double mm) {
  return girdle_job_set_measure(in->call, target, name, mm);
}

/* A tag names the files of its costume beside the tables. */
static int32_t check_tag(girdle_call *call, const char *tag) {
  static const char *const tables[] = {"counts", "order", "lots", "bags"};
  for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++)
    if (strcmp(tag, tables[i]) == 0)
      return girdle_common_fail(
          call, GIRDLE_ARGUMENT, "tag",
          "tag '%s' is the name of a table that is written beside the maps; use another, such as '%s-1'", tag, tag);
  for (const char *at = tag; *at; at++)
    if ((unsigned char)*at < 32 || *at == 127 || *at == '/' || *at == '\\')
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "tag",
                                "tag '%s' cannot be a file's name; use letters, digits, '-' and '_', such as 'ada-1'",
                                tag);
  return GIRDLE_OK;
}

/* Pieces, as "40" or "2 1/2 gross"; none when the cell is empty. */
static int read_pieces(girdle_rows *in, const char *heading, int64_t *out) {
  const char *text = girdle_rows_cell(in, heading);
  *out = 0;
  return !*text || girdle_rows_check(in, heading, girdle_pieces_parse(in->call, text, out));
}

static int read_head(girdle_rows *in, girdle_job_head *head) {
  int good = 1;
  girdle_job_head_init(head, sizeof *head);
  good &= girdle_rows_text(in, "tag", head->tag, sizeof head->tag, 1);
  good &= girdle_rows_text(in, "costume", head->costume, sizeof head->costume, 1);
  good &= girdle_rows_text(in, "size", head->size, sizeof head->size, 0);
  good &= girdle_rows_text(in, "name", head->wearer, sizeof head->wearer, 0);
  good &= girdle_rows_text(in, "routine", head->routine, sizeof head->routine, 0);
  good &= girdle_rows_date(in, "needed_by", INT64_MIN, &head->needed_by_day);
  good &= girdle_rows_yes(in, "rush", &head->rush);
  good &= read_pieces(in, "own", &head->own_stones);
  good &= read_pieces(in, "extra", &head->extra_stones);
  return good;
}

static void read_job(girdle_rows *in, girdle_club *club) {
  girdle_job_head head;
  girdle_job *job = NULL;
  int32_t before;
  if (!read_head(in, &head) || !girdle_rows_check(in, "tag", check_tag(in->call, head.tag))) return;
  if (!girdle_rows_check(in, "tag", girdle_job_new(in->call, &head, &job))) return;
  before = in->faults.count;
  read_measures(in, club_columns, sizeof club_columns / sizeof club_columns[0], set_measure, job);
  if (in->faults.count > before || !girdle_rows_check(in, "tag", girdle_club_add_job(in->call, club, job)))
    girdle_job_free(job);
}

/* ---- suppliers.csv */

static const char *const supplier_columns[] = {"supplier",  "currency",    "shipping",
                                               "free_from", "least_order", "delivery_days"};

static void read_supplier(girdle_rows *in, girdle_club *club) {
  girdle_supplier supplier;
  int64_t days;
  int good;
  memset(&supplier, 0, sizeof supplier);
  good = girdle_rows_text(in, "supplier", supplier.name, sizeof supplier.name, 1);
  if (!girdle_rows_check(in, "currency",
                         girdle_currency_parse(in->call, girdle_rows_cell(in, "currency"), &supplier.currency)))
    return;
  good &= read_money(in, "shipping", &supplier.currency, 0, &supplier.shipping_minor);
  good &= read_money(in, "free_from", &supplier.currency, -1, &supplier.free_from_minor);
  good &= read_money(in, "least_order", &supplier.currency, 0, &supplier.least_order_minor);
  good &= girdle_rows_whole(in, "delivery_days", 0, 3650, 0, &days);
  supplier.delivery_days = (int32_t)days;
  if (good) girdle_rows_check(in, "supplier", girdle_club_add_supplier(in->call, club, &supplier));
}

/* ---- prices.csv */

static const char *const price_columns[] = {"supplier", "stone", "pack", "price", "item", "at_most", "sold_out"};

static int read_pack(girdle_rows *in, girdle_price_row *row) {
  int32_t status;
  if (!girdle_rows_text(in, "pack", row->pack, sizeof row->pack, 1)) return 0;
  status = girdle_pieces_parse(in->call, row->pack, &row->pack_pieces);
  if (!status) status = girdle_common_range(in->call, "pack", (double)row->pack_pieces, 1, 1e9, "pieces");
  return girdle_rows_check(in, "pack", status);
}

static void read_price(girdle_rows *in, girdle_club *club) {
  girdle_price_row row;
  const girdle_supplier *supplier = find_supplier(in, club);
  int good = supplier != NULL;
  memset(&row, 0, sizeof row);
  good &= girdle_rows_text(in, "supplier", row.supplier, sizeof row.supplier, 1);
  good &= girdle_rows_stone(in, "stone", &row.stone);
  good &= read_pack(in, &row);
  good &= girdle_rows_text(in, "item", row.item, sizeof row.item, 0);
  good &= girdle_rows_whole(in, "at_most", 0, 1000000000, -1, &row.at_most);
  good &= girdle_rows_yes(in, "sold_out", &row.sold_out);
  if (supplier && !*girdle_rows_cell(in, "price"))
    good = girdle_rows_check(in, "price", girdle_common_fail(in->call, GIRDLE_SYNTAX, "price", "'price' is empty"));
  else if (supplier)
    good &= read_money(in, "price", &supplier->currency, 0, &row.price_minor);
  if (good) girdle_rows_check(in, "stone", girdle_club_add_price(in->call, club, &row));
}

/* ---- colours.csv: the item of a supplier for a colour, read after prices.csv */

static const char *const colour_columns[] = {"colour", "supplier", "item"};

static void read_colour(girdle_rows *in, girdle_club *club) {
  char colour[48], item[48];
  const girdle_supplier *supplier = find_supplier(in, club);
  int good = supplier != NULL;
  good &= girdle_rows_text(in, "colour", colour, sizeof colour, 1);
  good &= girdle_rows_text(in, "item", item, sizeof item, 1);
  for (char *at = colour; good && *at; at++) /* as stones are read */
    if (*at >= 'A' && *at <= 'Z') *at = (char)(*at - 'A' + 'a');
  if (good) girdle_rows_check(in, "item", girdle_club_set_item(in->call, club, supplier->name, colour, item));
}

/* ---- stock.csv: pieces, gross, packs of them, or grams */

static const char *const stock_columns[] = {"stone", "on_hand", "lot", "twenty"};

/* By weight the number is rounded down, so that nobody counts on a stone that is not there. */
static int32_t pieces_by_mass(girdle_call *call, double mg, const girdle_stone *stone, int64_t *pieces) {
  GIRDLE_TRY(girdle_common_range(call, "on_hand", mg, 0, 1e12, "mg"));
  if (!(stone->mass_mg[GIRDLE_MOST] > 0))
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "on_hand", "the stone's mass is not known; give pieces");
  *pieces = (int64_t)floor(mg / stone->mass_mg[GIRDLE_MOST] * (1 + 1e-12));
  return GIRDLE_OK;
}

/* By what twenty counted stones weigh, where that is told. */
static int32_t parse_on_hand(girdle_call *call, const char *text, const char *twenty, const girdle_stone *stone,
                             int64_t *pieces) {
  double mg, twenty_mg;
  if (girdle_quantity_parse(NULL, text, GIRDLE_MASS, &mg) == GIRDLE_OK) {
    if (!*twenty) return pieces_by_mass(call, mg, stone, pieces);
    GIRDLE_TRY(girdle_quantity_parse(call, twenty, GIRDLE_MASS, &twenty_mg));
    return girdle_stock_weighed(call, mg, 20, twenty_mg, pieces);
  }
  return girdle_pieces_parse(call, text, pieces);
}

static void read_stock(girdle_rows *in, girdle_club *club) {
  girdle_stock_row row;
  memset(&row, 0, sizeof row);
  if (!girdle_rows_stone(in, "stone", &row.stone)) return;
  if (!girdle_rows_check(in, "on_hand",
                         parse_on_hand(in->call, girdle_rows_cell(in, "on_hand"), girdle_rows_cell(in, "twenty"),
                                       &row.stone, &row.pieces)))
    return;
  if (girdle_rows_text(in, "lot", row.lot, sizeof row.lot, 0))
    girdle_rows_check(in, "stone", girdle_club_add_stock(in->call, club, &row));
}

/* ---- rates.csv */

static const char *const rate_columns[] = {"rate", "value"};

/* The line of an earlier row for the same rate; 0 when there is none. */
static int32_t rate_before(const girdle_rows *in, const char *name) {
  int64_t column = girdle_table_column(in->table, "rate");
  for (uint64_t row = 0; column >= 0 && row < in->row; row++)
    if (strcmp(girdle_table_cell(in->table, row, (uint64_t)column), name) == 0)
      return girdle_table_line(in->table, row);
  return 0;
}

static void read_rate(girdle_rows *in, girdle_club *club) {
  const char *name = girdle_rows_cell(in, "rate");
  int32_t before = rate_before(in, name), status;
  if (before) {
    girdle_rows_check(in, "rate",
                      girdle_common_fail(in->call, GIRDLE_ARGUMENT, "rate",
                                         "the rate '%.60s' is given twice; line %d has it", name, (int)before));
    return;
  }
  status = girdle_club_set_rate(in->call, club, name, girdle_rows_cell(in, "value"));
  girdle_rows_check(in, status == GIRDLE_UNKNOWN ? "rate" : "value", status);
}

/* ---- log.csv */

static const char *const log_columns[] = {"date", "tag",  "stone",    "zone",   "planned",
                                          "used", "lost", "fell_off", "minutes"};

/* What is remembered of an old job, or the evenings of a whole one, names no stone. */
static int read_logged_stone(girdle_rows *in, girdle_stone *stone) {
  return !*girdle_rows_cell(in, "stone") || girdle_rows_stone(in, "stone", stone);
}

static int read_minutes(girdle_rows *in, double *minutes) {
  const char *text = girdle_rows_cell(in, "minutes");
  int32_t status;
  *minutes = NAN;
  if (!*text) return 1;
  status = girdle_number_parse(in->call, text, strlen(text), minutes);
  if (!status) status = girdle_common_range(in->call, "minutes", *minutes, 0, 1e6, "minutes");
  return girdle_rows_check(in, "minutes", status);
}

static int read_logged(girdle_rows *in, const char *heading, int64_t *pieces) {
  const char *text = girdle_rows_cell(in, heading);
  *pieces = -1;
  return !*text || girdle_rows_check(in, heading, girdle_pieces_parse(in->call, text, pieces));
}

static void read_log(girdle_rows *in, girdle_club *club) {
  girdle_log_row row;
  int good;
  memset(&row, 0, sizeof row);
  good = girdle_rows_date(in, "date", 0, &row.day);
  good &= girdle_rows_text(in, "tag", row.tag, sizeof row.tag, 1);
  good &= girdle_rows_text(in, "zone", row.zone, sizeof row.zone, 0);
  good &= read_logged_stone(in, &row.stone);
  good &= read_logged(in, "planned", &row.planned);
  good &= read_logged(in, "used", &row.used);
  good &= read_logged(in, "lost", &row.lost);
  good &= read_logged(in, "fell_off", &row.fell_off);
  good &= read_minutes(in, &row.minutes);
  if (good) girdle_rows_check(in, "tag", girdle_club_add_log(in->call, club, &row));
}

/* ---- all of them */

typedef struct club_table {
  const char *file;
  const char *const *columns;
  uint64_t count, required;
  int others_allowed; /* every other column is a measure */
  void (*read)(girdle_rows *in, girdle_club *club);
} club_table;

#define COLUMNS(names) names, sizeof names / sizeof names[0]
static const club_table tables[GIRDLE_FILE_END] = {
    {"sizes.csv", COLUMNS(size_columns), 1, 1, read_size},
    {"club.csv", COLUMNS(club_columns), 2, 1, read_job},
    {"suppliers.csv", COLUMNS(supplier_columns), 2, 0, read_supplier},
    {"prices.csv", COLUMNS(price_columns), 4, 0, read_price},
    {"colours.csv", COLUMNS(colour_columns), 3, 0, read_colour},
    {"stock.csv", COLUMNS(stock_columns), 2, 0, read_stock},
    {"rates.csv", COLUMNS(rate_columns), 2, 0, read_rate},
    {"log.csv", COLUMNS(log_columns), 3, 0, read_log},
};

const char *girdle_paper_club_file(int32_t file) {
  return file >= 0 && file < GIRDLE_FILE_END ? tables[file].file : NULL;
}

int32_t girdle_paper_read_club(girdle_call *call, girdle_club *club, int32_t file, const char *source, const char *text,
                               uint64_t bytes) {
  GIRDLE_GIVEN(call, club, text || !bytes);
  const club_table *kind;
  girdle_table *table;
  girdle_rows in;
  int32_t status;
  if (file < 0 || file >= GIRDLE_FILE_END)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "file", "file %d of a club is not known", (int)file);
  kind = &tables[file];
  GIRDLE_TRY(girdle_table_read(call, source, text, bytes, &table));
  girdle_rows_begin(&in, call, source, table);
  girdle_rows_headings(&in, kind->columns, kind->count, kind->required, kind->others_allowed);
  for (; in.row < girdle_table_rows(table) && !in.stop; in.row++)
    kind->read(&in, club);
  status = girdle_faults_end(&in.faults);
  girdle_table_free(table);
  return status;
}
