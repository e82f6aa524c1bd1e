/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* girdle from C, with a recipe: one neckline placed by the host, its count, mass, order and quote.
 * cc -std=c11 neckline_host.c $(pkg-config --cflags --libs girdle-host) */

#include <stdio.h>
#include <string.h>

#include <girdle/girdle.h>
#include <girdle/host.h>

static const char recipe[] =
    "return recipe { format = 1, name = 'one row', takes = { { 'line', 'path' }, { 'one', 'stone' }, { 'gap', 'length' "
    "} },\n"
    "  place = function (given) return run { along = given.line, stones = { given.one }, gap = given.gap } end }";

/* A club of one costume with its neckline, and what it is bought and charged by; the caller frees both. */
static int32_t fill(girdle_call *call, girdle_host *host, girdle_club *club) {
  const girdle_supplier supplier = {"Invented Stones", {"EUR", 2}, .shipping_minor = 450, .free_from_minor = -1};
  const girdle_zone_row row = {"neckline",      "",        "one row", "loop", "34 cm", .stones = "ss20 black",
                               .gap = "0.5 mm", .times = 1};
  girdle_price_row price = {"Invented Stones", .pack = "1 gross", .pack_pieces = 144, .price_minor = 950,
                            .at_most = -1};
  girdle_job_head head;
  girdle_job *job = NULL;
  int32_t status = girdle_stone_parse(call, "ss20 black", &price.stone);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "one");
  if (!status) status = girdle_host_add_source(call, host, GIRDLE_LAYER_HOUSE, "one_row.lua", recipe, strlen(recipe));
  if (!status) status = girdle_job_new(call, &head, &job);
  if (!status) status = girdle_host_zones(call, host, "neckline", &row, 1, job);
  if (!status) status = girdle_club_add_supplier(call, club, &supplier);
  if (!status) status = girdle_club_add_price(call, club, &price);
  if (!status) status = girdle_club_set_rate(call, club, "labour a gross", "50.00");
  if (!status) status = girdle_club_add_job(call, club, job);
  if (status) girdle_job_free(job);
  return status;
}

static void print(const girdle_reckoning *of) {
  girdle_tally_line all;
  girdle_order_total cost;
  girdle_tally_total(girdle_reckoning_tally(of), &all);
  girdle_order_sum(girdle_reckoning_order(of), &cost);
  printf("count %lld\nmass_mg %.0f\norder_minor %lld\nquote_minor %lld\n", (long long)all.count,
         all.mass_mg[GIRDLE_NOMINAL], (long long)cost.total_minor,
         (long long)girdle_reckoning_quote(of, 0)->total_minor);
}

int main(void) {
  girdle_call call;
  girdle_error error;
  girdle_host *host = NULL;
  girdle_club *club = NULL;
  girdle_reckoning *reckoning = NULL;
  int32_t status;
  girdle_call_init(&call, sizeof call);
  girdle_error_init(&error, sizeof error);
  call.error = &error;
  status = girdle_host_new(&call, NULL, &host);
  if (!status) status = girdle_club_new(&call, &club);
  if (!status) status = fill(&call, host, club);
  if (!status) status = girdle_club_reckon(&call, club, 0, &reckoning);
  if (!status) print(reckoning);
  if (status) fprintf(stderr, "%s\n", error.message);
  girdle_reckoning_free(reckoning);
  girdle_club_free(club);
  girdle_host_free(host);
  return status != 0;
}
