/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* girdle-paper from C: the cautions that belong beside any number, written to standard output by a sink.
 * cc -std=c11 caution.c $(pkg-config --cflags --libs girdle-paper) */

#include <stdio.h>

#include <girdle/girdle.h>
#include <girdle/paper.h>

static int32_t to_file(void *context, const void *bytes, uint64_t count) {
  return fwrite(bytes, 1, (size_t)count, context) == count ? 0 : 1;
}

int main(void) {
  girdle_call call;
  girdle_error error;
  girdle_sink sink = {NULL, to_file};
  girdle_stone stone;
  girdle_tally *tally = NULL;
  int32_t status;
  girdle_call_init(&call, sizeof call);
  girdle_error_init(&error, sizeof error);
  call.error = &error;
  sink.context = stdout;
  status = girdle_stone_parse(&call, "ss20 black", &stone);
  if (!status) status = girdle_tally_new(&call, &tally);
  if (!status) status = girdle_tally_add_pieces(&call, tally, "one", "neckline", "", &stone, 65);
  if (!status) status = girdle_paper_cautions_text(&call, tally, &sink);
  girdle_tally_free(tally);
  if (status) fprintf(stderr, "%s\n", error.message);
  return status ? 1 : 0;
}
