/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <math.h>
#include <string.h>

#include "common.h"

/* opening: whether a ring of stones at neck, wrist, waist or leg still lets through what must pass. */

typedef struct ring {
  girdle_opening opening;
  girdle_opening_check check;
  girdle_stone stone;
} ring;

/* A quantity that must be given, or, with a fallback, may be. */
static int32_t read_one(program *with, const char *name, int32_t kind, const char *fallback, double *out) {
  const char *given = flags_given(with, name);
  int32_t status;
  if (!given && !fallback)
    return command_usage(with, "%s= is wanted, such as ring=\"15 cm\" through=\"22 cm\" stretch=\"60 %%\" stone=ss20",
                         name);
  status = girdle_quantity_parse(&with->call, given ? given : fallback, kind, out);
  if (status) girdle_common_at(&with->call, name, -1, -1, -1);
  return status;
}

static int32_t read_ring(program *with, ring *out) {
  static const char *const known[] = {"ring", "through", "stretch", "lies", "stone", "gap"};
  girdle_opening *to = &out->opening;
  const char *stone = flags_given(with, "stone");
  int32_t status;
  girdle_opening_init(to, sizeof *to);
  GIRDLE_TRY(flags_only(with, known, 6));
  GIRDLE_TRY(read_one(with, "ring", GIRDLE_LENGTH, NULL, &to->ring_mm));
  GIRDLE_TRY(read_one(with, "through", GIRDLE_LENGTH, NULL, &to->through_mm));
  GIRDLE_TRY(read_one(with, "stretch", GIRDLE_SHARE, NULL, &to->stretch_most));
  GIRDLE_TRY(read_one(with, "lies", GIRDLE_SHARE, "0 %", &to->lies));
  GIRDLE_TRY(read_one(with, "gap", GIRDLE_LENGTH, "0.5 mm", &to->gap_mm));
  if (!stone) return command_usage(with, "which stone? such as stone=ss20");
  status = girdle_stone_parse(&with->call, stone, &out->stone);
  if (status) girdle_common_at(&with->call, "stone", -1, -1, -1);
  to->diameter_mm = out->stone.diameter_mm[GIRDLE_NOMINAL];
  return status;
}

/* ---- in each form */

/* A girth: centimetres, or inches. */
static const char *girth_words(const program *with, double mm, char text[64]) {
  buffer words = {0};
  char number[64];
  const int inches = with->flags.inches;
  buffer_say(&words, with, inches ? "{1} in" : "{1} cm", number_words(with, inches ? mm / 25.4 : mm / 10, 1, number));
  girdle_common_text(text, 64, words.bytes);
  buffer_free(&words);
  return text;
}

static void say_remedies(const program *with, const girdle_opening_check *check, buffer *to) {
  char text[64];
  if (check->most_stones < 0) {
    buffer_say(to, with, "The plain ring is too tight already: it needs an opening.");
    buffer_text(to, "\n");
    return;
  }
  buffer_say(to, with, "It passes with at most {1} stones", number_words(with, (double)check->most_stones, 0, text));
  if (isfinite(check->least_gap_mm))
    buffer_say(to, with, ": {1} edge to edge or more", length_words(with, check->least_gap_mm, 2, text));
  if (check->open_mm > 0)
    buffer_say(to, with, "; or leave {1} of the ring without stones", girth_words(with, check->open_mm, text));
  buffer_text(to, ".\n");
}

static void say_text(const program *with, const ring *of, buffer *to) {
  char stone[160], number[64], reach[64], through[64];
  girdle_stone_text(&of->stone, stone, sizeof stone);
  buffer_say(to, with,
             of->check.passes ? "{1} stones of {2}: the ring reaches {3} at full stretch, and {4} passes."
                              : "{1} stones of {2}: the ring reaches {3} at full stretch, and {4} does not pass.",
             number_words(with, (double)of->check.stones, 0, number), stone,
             girth_words(with, of->check.reach_mm, reach), girth_words(with, of->opening.through_mm, through));
  buffer_text(to, "\n");
  if (!of->check.passes) say_remedies(with, &of->check, to);
  buffer_say(to, with, "The fabric under a stone is taken as not stretching. Try it on before you glue.");
  buffer_text(to, "\n");
}

int32_t opening_say(program *with, const girdle_opening *opening, const girdle_stone *stone) {
  ring of = {*opening, {0}, *stone};
  GIRDLE_TRY(girdle_opening_try(&with->call, &of.opening, &of.check));
  say_text(with, &of, &with->result);
  return GIRDLE_OK;
}

static void number_or_null(buffer *to, const char *before, double value) {
  buffer_text(to, "%s", before);
  if (isfinite(value))
    buffer_number(to, value, 4);
  else
    buffer_text(to, "null");
}

static void say_json(const ring *of, buffer *to) {
  buffer_text(to, "{\"passes\":%s,\"stones\":%lld", of->check.passes ? "true" : "false", (long long)of->check.stones);
  number_or_null(to, ",\"reach_mm\":", of->check.reach_mm);
  buffer_text(to, ",\"most_stones\":%lld", (long long)of->check.most_stones);
  number_or_null(to, ",\"least_gap_mm\":", of->check.least_gap_mm);
  number_or_null(to, ",\"open_mm\":", of->check.open_mm);
  buffer_text(to, "}\n");
}

static void cell(buffer *to, double value, const char *after) {
  if (isfinite(value)) buffer_number(to, value, 4);
  buffer_text(to, "%s", after);
}

static void say_csv(const ring *of, buffer *to) {
  buffer_text(to, "passes,stones,reach_mm,most_stones,least_gap_mm,open_mm\r\n%s,%lld,",
              of->check.passes ? "yes" : "no", (long long)of->check.stones);
  cell(to, of->check.reach_mm, ",");
  buffer_text(to, "%lld,", (long long)of->check.most_stones);
  cell(to, of->check.least_gap_mm, ",");
  cell(to, of->check.open_mm, "\r\n");
}

int32_t verb_opening(program *with) {
  ring of;
  memset(&of, 0, sizeof of);
  GIRDLE_TRY(read_ring(with, &of));
  GIRDLE_TRY(girdle_opening_try(&with->call, &of.opening, &of.check));
  if (with->flags.json)
    say_json(&of, &with->result);
  else if (with->flags.csv)
    say_csv(&of, &with->result);
  else
    say_text(with, &of, &with->result);
  return GIRDLE_OK;
}
