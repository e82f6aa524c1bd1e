/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "fuzz.h"

#include "girdle/host.h"

/* Any bytes as a recipe file, as the values of its parameters, and as the cells of a table of zones: an answer or an
 * error, never a crash, a leak or a run beyond its limits. The first byte says which. */

static const char kinds[] =
    "return recipe { format = 1, name = 'kinds', takes = { { 'length', 'length', default = 1 }, { 'path', 'path', "
    "default = '9 cm' },\n"
    "{ 'region', 'region', default = 'oval 8 cm x 6 cm' }, { 'stone', 'stone', default = 'ss20' }, { 'stones', "
    "'stones', default = 'ss20; ss16' },\n"
    "{ 'number', 'number', default = 1 }, { 'integer', 'integer', default = 1 }, { 'percent', 'percent', default = '10 "
    "%' },\n"
    "{ 'angle', 'angle', default = 1 }, { 'choice', 'choice', choices = { 'a', 'b' }, default = 'a' }, { 'flag', "
    "'flag', default = true },\n"
    "{ 'seed', 'seed', default = 1 }, { 'point', 'point', default = { 1, 2 } }, { 'text', 'text', default = '' },\n"
    "{ 'recipe', 'recipe', optional = true }, { 'gap', 'length', default = 1 }, { 'leave', 'text', default = '' } },\n"
    "place = function (g) return run { along = g.path, stones = g.stones, gap = g.gap, leave = g.leave } end }";
static const char *const names[] = {"length",  "path",    "region", "stone",  "stones", "number",
                                    "integer", "percent", "angle",  "choice", "flag",   "seed",
                                    "point",   "text",    "recipe", "gap",    "leave"};
enum { NAMES = sizeof names / sizeof names[0] };

static girdle_host *new_host(void) {
  girdle_host_options options;
  girdle_host *host = NULL;
  girdle_host_options_init(&options, sizeof options);
  options.most_seconds = 0.05;
  options.most_bytes = 8 << 20;
  options.most_steps = 200000;
  options.most_stones = 2000;
  if (girdle_host_new(NULL, &options, &host)) abort();
  if (girdle_host_add_source(NULL, host, GIRDLE_LAYER_HOUSE, "kinds.lua", kinds, sizeof kinds - 1)) abort();
  return host;
}

/* The next piece of the input, up to a NUL, as a text of its own. */
static const char *next_text(const uint8_t **data, size_t *size, char *buffer, size_t room) {
  size_t length = 0;
  while (length < *size && (*data)[length])
    length++;
  if (length >= room) length = room - 1;
  memcpy(buffer, *data, length);
  buffer[length] = '\0';
  *data += length;
  *size -= length;
  if (*size && !**data) {
    (*data)++;
    (*size)--;
  }
  return buffer;
}

static void fuzz_source(girdle_host *host, const uint8_t *data, size_t size) {
  girdle_recipe_sheet *sheet = NULL;
  girdle_placement *placement = NULL;
  if (girdle_host_add_source(NULL, host, GIRDLE_LAYER_COSTUME, "attempt.lua", (const char *)data, size)) return;
  girdle_host_describe(NULL, host, "attempt", &sheet);
  girdle_host_place(NULL, host, "attempt", NULL, 0, &placement);
  girdle_recipe_sheet_free(sheet);
  girdle_placement_free(placement);
}

static void fuzz_values(girdle_host *host, const uint8_t *data, size_t size) {
  char texts[4][512];
  girdle_given given[4];
  girdle_placement *placement = NULL;
  uint64_t count = 0;
  while (size > 1 && count < 4) {
    given[count].name = names[*data % NAMES];
    data++;
    size--;
    given[count].value = next_text(&data, &size, texts[count], sizeof texts[count]);
    count++;
  }
  girdle_host_place(NULL, host, "kinds", given, count, &placement);
  girdle_placement_free(placement);
}

static void fuzz_row(girdle_host *host, const uint8_t *data, size_t size) {
  girdle_zone_row row;
  girdle_job_head head;
  girdle_job *job = NULL;
  memset(&row, 0, sizeof row);
  strcpy(row.name, "zone");
  strcpy(row.recipe, "kinds");
  next_text(&data, &size, row.shape, sizeof row.shape);
  next_text(&data, &size, row.length, sizeof row.length);
  next_text(&data, &size, row.width, sizeof row.width);
  next_text(&data, &size, row.stones, sizeof row.stones);
  next_text(&data, &size, row.gap, sizeof row.gap);
  next_text(&data, &size, row.already, sizeof row.already);
  next_text(&data, &size, row.leave, sizeof row.leave);
  next_text(&data, &size, row.given, sizeof row.given);
  row.times = 1;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "A1");
  if (girdle_job_new(NULL, &head, &job)) abort();
  if (girdle_job_set_measure(NULL, job, "neckline", 340)) abort();
  girdle_host_zones(NULL, host, "zones.csv", &row, 1, job);
  girdle_job_free(job);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  girdle_host *host;
  if (size < 2) return 0;
  host = new_host();
  if (data[0] % 3 == 0)
    fuzz_source(host, data + 1, size - 1);
  else if (data[0] % 3 == 1)
    fuzz_values(host, data + 1, size - 1);
  else
    fuzz_row(host, data + 1, size - 1);
  girdle_host_free(host);
  return 0;
}
