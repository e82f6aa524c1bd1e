/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/job.h"

#include <string.h>

#include "common.h"
#include "job_internal.h"

int32_t girdle_club_new(girdle_call *call, girdle_club **out) {
  GIRDLE_GIVEN(call, out);
  girdle_club *club = girdle_common_new(call, sizeof *club);
  if (!club) return GIRDLE_MEMORY;
  club->memory = girdle_common_memory(call);
  girdle_job_rates_init(club);
  *out = club;
  return GIRDLE_OK;
}

void girdle_club_free(girdle_club *club) {
  girdle_allocator memory;
  if (!club) return;
  memory = club->memory;
  for (uint64_t i = 0; i < club->jobs.count; i++)
    girdle_job_free(((girdle_job **)club->jobs.items)[i]);
  girdle_job_release(&memory, &club->jobs, sizeof(girdle_job *));
  girdle_job_release(&memory, &club->by_tag, sizeof(uint64_t));
  girdle_job_release(&memory, &club->sizes, sizeof(girdle_size_measure));
  girdle_job_release(&memory, &club->prices, sizeof(girdle_price_row));
  girdle_job_release(&memory, &club->suppliers, sizeof(girdle_supplier));
  girdle_job_release(&memory, &club->stock, sizeof(girdle_stock_row));
  girdle_job_release(&memory, &club->log, sizeof(girdle_log_row));
  girdle_job_release(&memory, &club->weighings, sizeof(girdle_weighing));
  girdle_common_release(&memory, club, sizeof *club);
}

/* ---- jobs */

static const char *tag_of(const girdle_club *club, uint64_t number) {
  return girdle_job_head_of(((girdle_job *const *)club->jobs.items)[number])->tag;
}

/* Tags name files, and names that differ in capitals alone are one file on some systems. */
static int compare_tags(const char *a, const char *b) {
  for (;; a++, b++) {
    int x = *a >= 'A' && *a <= 'Z' ? *a - 'A' + 'a' : (unsigned char)*a;
    int y = *b >= 'A' && *b <= 'Z' ? *b - 'A' + 'a' : (unsigned char)*b;
    if (x != y || !x) return x - y;
  }
}

/* Where a tag stands, or would stand, in by_tag; 1 when it is there. */
static int find_tag(const girdle_club *club, const char *tag, uint64_t *at) {
  const uint64_t *order = club->by_tag.items;
  uint64_t low = 0, high = club->by_tag.count;
  while (low < high) {
    uint64_t middle = (low + high) / 2;
    if (compare_tags(tag_of(club, order[middle]), tag) < 0)
      low = middle + 1;
    else
      high = middle;
  }
  *at = low;
  return low < club->by_tag.count && compare_tags(tag_of(club, order[low]), tag) == 0;
}

int32_t girdle_club_add_job(girdle_call *call, girdle_club *club, girdle_job *job) {
  GIRDLE_GIVEN(call, club, job);
  const char *tag = girdle_job_head_of(job)->tag;
  uint64_t number = club->jobs.count, at, *order = club->by_tag.items;
  if (find_tag(club, tag, &at) && strcmp(tag_of(club, order[at]), tag) != 0)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "tag",
                              "tag '%s' is there already as '%s'; their files would have one name on some systems", tag,
                              tag_of(club, order[at]));
  if (find_tag(club, tag, &at))
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "tag", "tag '%s' is there already; every costume has its own",
                              tag);
  GIRDLE_TRY(
      girdle_common_grow(call, &club->memory, &club->by_tag.items, &club->by_tag.capacity, number + 1, sizeof number));
  GIRDLE_TRY(girdle_job_append(call, &club->memory, &club->jobs, &job, sizeof(girdle_job *)));
  order = club->by_tag.items;
  memmove(order + at + 1, order + at, (club->by_tag.count - at) * sizeof *order);
  order[at] = number;
  club->by_tag.count++;
  return GIRDLE_OK;
}

uint64_t girdle_club_jobs(const girdle_club *club) {
  return club->jobs.count;
}

girdle_job *girdle_club_job(const girdle_club *club, uint64_t index) {
  return index < club->jobs.count ? ((girdle_job *const *)club->jobs.items)[index] : NULL;
}

/* ---- sizes */

int32_t girdle_club_set_size(girdle_call *call, girdle_club *club, const char *size, const char *measure, double mm) {
  GIRDLE_GIVEN(call, club, size, measure);
  girdle_size_measure row, *rows = club->sizes.items;
  memset(&row, 0, sizeof row);
  if (!*size || !girdle_common_text(row.size, sizeof row.size, size))
    return girdle_common_fail(call, GIRDLE_LIMIT, "size", "a size's name has 1 to 15 bytes, not '%.40s'", size);
  if (!*measure || !girdle_common_text(row.measure.name, sizeof row.measure.name, measure))
    return girdle_common_fail(call, GIRDLE_LIMIT, "measure", "a measure's name has 1 to 31 bytes, not '%.60s'",
                              measure);
  GIRDLE_TRY(girdle_common_range(call, row.measure.name, mm, 0.1, 1e6, "mm"));
  row.measure.mm = mm;
  for (uint64_t i = 0; i < club->sizes.count; i++) {
    if (strcmp(rows[i].size, row.size) != 0 || strcmp(rows[i].measure.name, row.measure.name) != 0) continue;
    rows[i] = row;
    return GIRDLE_OK;
  }
  return girdle_job_append(call, &club->memory, &club->sizes, &row, sizeof row);
}

static int has_measure(const girdle_job *job, const char *name) {
  uint64_t count;
  const girdle_measure *measures = girdle_job_measures(job, &count);
  for (uint64_t i = 0; i < count; i++)
    if (strcmp(measures[i].name, name) == 0) return 1;
  return 0;
}

static int32_t unknown_size(girdle_call *call, const girdle_club *club, const girdle_job_head *head) {
  const char *names[64], *nearest;
  char list[100] = "";
  const girdle_size_measure *rows = club->sizes.items;
  uint64_t count = 0;
  for (uint64_t i = 0; i < club->sizes.count && count < 64; i++)
    if (!count || strcmp(names[count - 1], rows[i].size) != 0) names[count++] = rows[i].size;
  if (!count)
    return girdle_common_fail(call, GIRDLE_UNKNOWN, "size",
                              "%s: size '%s' is not known: no sizes are described, as sizes.csv does", head->tag,
                              head->size);
  nearest = girdle_nearest(head->size, names, count);
  for (uint64_t i = 0; i < count; i++) {
    size_t used = strlen(list);
    if (used + strlen(names[i]) + 3 > sizeof list) break;
    strcat(strcat(list, i ? ", " : " "), names[i]);
  }
  girdle_common_fail(call, GIRDLE_UNKNOWN, "size", "%s: size '%s' is not among the sizes%s%s%s%s", head->tag,
                     head->size, list, nearest ? "; did you mean '" : "", nearest ? nearest : "", nearest ? "'?" : "");
  if (nearest && call && call->error && !call->error->nearest[0])
    girdle_common_text(call->error->nearest, sizeof call->error->nearest, nearest);
  return GIRDLE_UNKNOWN;
}

/* A size that nobody describes is only a word when the wearer has measures of her own. */
static int32_t fit_job(girdle_call *call, const girdle_club *club, girdle_job *job) {
  const girdle_job_head *head = girdle_job_head_of(job);
  const girdle_size_measure *rows = club->sizes.items;
  uint64_t measures;
  int known = 0;
  girdle_job_measures(job, &measures);
  if (!head->size[0] || (club->sizes.count == 0 && measures)) return GIRDLE_OK;
  for (uint64_t i = 0; i < club->sizes.count; i++) {
    if (strcmp(rows[i].size, head->size) != 0) continue;
    known = 1;
    if (!has_measure(job, rows[i].measure.name))
      GIRDLE_TRY(girdle_job_set_measure(call, job, rows[i].measure.name, rows[i].measure.mm));
  }
  return known ? GIRDLE_OK : unknown_size(call, club, head);
}

static int32_t give_weighed(girdle_call *call, const girdle_club *club, girdle_job *job) {
  girdle_allocator memory = girdle_common_memory(call);
  const girdle_weighing *rows = club->weighings.items;
  uint64_t bytes = (club->weighings.count + 1) * sizeof(girdle_stone);
  girdle_stone *stones = girdle_common_new(call, bytes);
  int32_t status = stones ? GIRDLE_OK : GIRDLE_MEMORY;
  for (uint64_t i = 0; i < club->weighings.count && !status; i++)
    stones[i] = rows[i].stone;
  if (!status) status = girdle_job_set_weighed(call, job, stones, club->weighings.count);
  girdle_common_release(&memory, stones, bytes);
  return status;
}

int32_t girdle_club_fit_sizes(girdle_call *call, girdle_club *club) {
  GIRDLE_GIVEN(call, club);
  for (uint64_t i = 0; i < club->jobs.count; i++) {
    girdle_job *job = girdle_club_job(club, i);
    if (club->weighings.count) GIRDLE_TRY(give_weighed(call, club, job));
    GIRDLE_TRY(fit_job(call, club, job));
  }
  return GIRDLE_OK;
}

/* ---- prices, suppliers, stock, log */

int32_t girdle_club_add_price(girdle_call *call, girdle_club *club, const girdle_price_row *row) {
  GIRDLE_GIVEN(call, club, row);
  GIRDLE_TRY(girdle_common_range(call, "pack", (double)row->pack_pieces, 1, 1e12, "pieces"));
  GIRDLE_TRY(girdle_common_range(call, "price", (double)row->price_minor, 0, 1e15, ""));
  return girdle_job_append(call, &club->memory, &club->prices, row, sizeof *row);
}

int32_t girdle_club_set_item(girdle_call *call, girdle_club *club, const char *supplier, const char *colour,
                             const char *item) {
  GIRDLE_GIVEN(call, club, supplier, colour, item);
  girdle_price_row *rows = club->prices.items;
  char field[sizeof rows->item] = "";
  if (!girdle_common_text(field, sizeof field, item))
    return girdle_common_fail(call, GIRDLE_LIMIT, "item", "item '%.40s...' has more than %d bytes", item,
                              (int)sizeof field - 1);
  for (uint64_t i = 0; i < club->prices.count; i++) {
    int same = strcmp(rows[i].supplier, supplier) == 0 && strcmp(rows[i].stone.colour, colour) == 0;
    if (same && !rows[i].item[0]) memcpy(rows[i].item, field, sizeof field);
  }
  return GIRDLE_OK;
}

int32_t girdle_club_add_supplier(girdle_call *call, girdle_club *club, const girdle_supplier *supplier) {
  GIRDLE_GIVEN(call, club, supplier);
  const girdle_supplier *rows = club->suppliers.items;
  for (uint64_t i = 0; i < club->suppliers.count; i++)
    if (strcmp(rows[i].name, supplier->name) == 0)
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "supplier", "supplier '%s' is there already", supplier->name);
  GIRDLE_TRY(girdle_common_range(call, "delivery days", supplier->delivery_days, 0, 3650, "days"));
  GIRDLE_TRY(girdle_common_grow(call, &club->memory, &club->suppliers.items, &club->suppliers.capacity,
                                club->suppliers.count + 1, sizeof *supplier));
  GIRDLE_TRY(girdle_job_take_currency(call, club, &supplier->currency));
  return girdle_job_append(call, &club->memory, &club->suppliers, supplier, sizeof *supplier);
}

int32_t girdle_club_add_stock(girdle_call *call, girdle_club *club, const girdle_stock_row *row) {
  GIRDLE_GIVEN(call, club, row);
  GIRDLE_TRY(girdle_common_range(call, "on hand", (double)row->pieces, 0, 1e12, "pieces"));
  return girdle_job_append(call, &club->memory, &club->stock, row, sizeof *row);
}

int32_t girdle_club_add_log(girdle_call *call, girdle_club *club, const girdle_log_row *row) {
  GIRDLE_GIVEN(call, club, row);
  return girdle_job_append(call, &club->memory, &club->log, row, sizeof *row);
}

const girdle_weighing *girdle_club_weighings(const girdle_club *club, uint64_t *count) {
  *count = club->weighings.count;
  return club->weighings.items;
}

const girdle_price_row *girdle_club_prices(const girdle_club *club, uint64_t *count) {
  *count = club->prices.count;
  return club->prices.items;
}

const girdle_supplier *girdle_club_suppliers(const girdle_club *club, uint64_t *count) {
  *count = club->suppliers.count;
  return club->suppliers.items;
}

const girdle_stock_row *girdle_club_stock(const girdle_club *club, uint64_t *count) {
  *count = club->stock.count;
  return club->stock.items;
}

const girdle_log_row *girdle_club_log(const girdle_club *club, uint64_t *count) {
  *count = club->log.count;
  return club->log.items;
}

const girdle_work_rates *girdle_club_work_rates(const girdle_club *club) {
  return &club->work;
}

const girdle_quote_rates *girdle_club_quote_rates(const girdle_club *club) {
  return &club->quote;
}
