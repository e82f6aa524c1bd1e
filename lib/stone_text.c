/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/stone.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base_cross_internal.h"
#include "common.h"
#include "stone_internal.h"

/* A stone's text: size, colour, then what may come last. Reading takes the size from the front and qualities from the
 * back, each kind once; what is left in the middle is the colour. So a colour that ends in a quality's name ("pale
 * matt") is written with that kind named once more behind it. */

enum {
  WORDS_MOST = 24,
  TEXT_MOST = 200,
  CROSS_WORDS = 9, /* "1 1/2 in x 2 1/4 in" has eight */
  TAKEN_FINISH = 1 << 0,
  TAKEN_MATERIAL = 1 << 1,
  TAKEN_OUTLINE = 1 << 2,
  TAKEN_CUT = 1 << 3,
  TAKEN_FIX = 1 << 4, /* in the order of take_last */
  TAKEN_ALL = (1 << 5) - 1
};

typedef struct reading {
  char text[TEXT_MOST + 1];       /* folded, words parted by single spaces */
  uint16_t word[WORDS_MOST + 1];  /* where each word begins; the last is one past the end */
  int32_t words, from, to, taken; /* the words that are not taken yet; kinds taken */
  char size[64], finish[16], material[24], cut[24];
  girdle_stone_spec spec;
} reading;

/* ---- words */

static int32_t split(girdle_call *call, const char *text, reading *r) {
  memset(r, 0, sizeof *r);
  if (!girdle_stone_fold(r->text, sizeof r->text, text))
    return girdle_common_fail(call, GIRDLE_LIMIT, "stone", "'%.40s...' has more than %d bytes", text, TEXT_MOST);
  for (uint16_t at = 0; r->text[at]; at++) {
    if (at && r->text[at - 1] != ' ') continue;
    if (r->words == WORDS_MOST)
      return girdle_common_fail(call, GIRDLE_LIMIT, "stone", "'%.40s...' has more than %d words", text, WORDS_MOST);
    r->word[r->words++] = at;
  }
  r->word[r->words] = (uint16_t)(strlen(r->text) + 1);
  r->to = r->words;
  return GIRDLE_OK;
}

/* Copies words [from, to) with their spaces; returns 0 when they do not fit. */
static int phrase(const reading *r, int32_t from, int32_t to, char *out, size_t bytes) {
  size_t length = (size_t)(r->word[to] - r->word[from]) - 1;
  if (length >= bytes) return 0;
  memcpy(out, r->text + r->word[from], length);
  out[length] = '\0';
  return 1;
}

/* ---- the size, from the front */

/* How many words at the beginning are a width and a length, "10 x 14 mm"; 0 when they are none. */
static int32_t crossed_words(const reading *r) {
  char words[64];
  const char *behind;
  if (!girdle_cross_find(r->text, &behind)) return 0;
  for (int32_t count = r->words < CROSS_WORDS ? r->words : CROSS_WORDS; count > 0; count--) {
    girdle_size size;
    double ratio;
    if (phrase(r, 0, count, words, sizeof words) && girdle_cross_find(words, &behind) &&
        girdle_size_crossed(NULL, words, &size, &ratio) != GIRDLE_SYNTAX) /* what is out of range is refused later */
      return count;
  }
  return 0;
}

static int32_t read_size(girdle_call *call, const girdle_catalogue *own, reading *r) {
  girdle_size size;
  int32_t shown = 1;
  const char *behind;
  r->from = crossed_words(r);
  if (r->from && phrase(r, 0, r->from, r->size, sizeof r->size)) return GIRDLE_OK;
  for (int32_t count = 1; count <= 3 && count <= r->words; count++) {
    r->from = count;
    if (phrase(r, 0, count, r->size, sizeof r->size) && !girdle_size_find(NULL, r->size, own, &size)) return GIRDLE_OK;
  }
  if (r->words == 0)
    return girdle_common_fail(call, GIRDLE_SYNTAX, "stone", "a stone needs a size, like \"ss20 black\"");
  if (phrase(r, 0, r->words < 4 ? r->words : 4, r->size, sizeof r->size) && girdle_cross_find(r->size, &behind) &&
      strspn(r->size, "0123456789.") > 0) /* "10 x 14 red" */
    return girdle_common_fail(call, GIRDLE_SYNTAX, "size",
                              "'%s' is not a width and a length; write one like \"10 x 14 "
                              "mm oval\"",
                              r->size);
  phrase(r, 0, 1, r->size, sizeof r->size);
  if (r->words > 1 && (strspn(r->size, "sp") == strlen(r->size) || strspn(r->size, "0123456789.") == strlen(r->size)))
    shown = 2; /* "ss 41", "500 mm" */
  if (!phrase(r, 0, shown, r->size, sizeof r->size)) strcpy(r->size, "...");
  return girdle_size_find(call, r->size, own, &size);
}

/* ---- qualities, from the back */

static int take_finish(reading *r, const char *words) {
  uint64_t count;
  const char *const *names = girdle_finish_names(&count);
  for (uint64_t i = 0; i < count; i++) {
    if (strcmp(names[i], words) != 0) continue;
    r->spec.finish = names[i];
    return 1;
  }
  return 0;
}

static int take_fix(reading *r, const char *words) {
  static const char *const names[GIRDLE_FIX_END] = {"glued", "sewn", "glued and sewn"};
  for (int32_t i = 0; i < GIRDLE_FIX_END; i++) {
    if (strcmp(names[i], words) != 0) continue;
    r->spec.fix = i;
    return 1;
  }
  return 0;
}

static int take_outline(reading *r, const char *words) {
  size_t name = strcspn(words, " ");
  for (int32_t i = 0; i < GIRDLE_OUTLINE_END; i++) {
    const char *outline = girdle_outline_text(i);
    double ratio = NAN;
    if (strlen(outline) != name || strncmp(outline, words, name) != 0) continue;
    if (words[name] && girdle_number_parse(NULL, words + name + 1, strlen(words + name + 1), &ratio)) return 0;
    r->spec.outline = i;
    r->spec.length_ratio = ratio;
    return 1;
  }
  return 0;
}

static int take_material(reading *r, const char *words) {
  if (strlen(words) >= sizeof r->material || !girdle_material_find(words, r->spec.own)) return 0;
  strcpy(r->material, words);
  r->spec.material = r->material;
  return 1;
}

static int take_cut(reading *r, const char *words) {
  girdle_cut room;
  if (strlen(words) >= sizeof r->cut || !girdle_cut_find(words, r->spec.own, &room)) return 0;
  strcpy(r->cut, words);
  r->spec.cut = r->cut;
  return 1;
}

/* Takes the longest quality at the end whose kind is not taken yet; 0 when there is none. */
static int take_last(reading *r) {
  static int (*const takers[])(reading *, const char *) = {take_finish, take_material, take_outline, take_cut,
                                                           take_fix};
  for (int32_t count = r->to - r->from < 3 ? r->to - r->from : 3; count > 0; count--) {
    char words[32];
    if (!phrase(r, r->to - count, r->to, words, sizeof words)) continue;
    for (int i = 0; i < 5; i++) {
      if (r->taken & (1 << i) || !takers[i](r, words)) continue;
      r->taken |= 1 << i;
      r->to -= count;
      return 1;
    }
  }
  return 0;
}

static int same_quality(const reading *a, const reading *b, int32_t kind) {
  switch (kind) {
    case TAKEN_FINISH:
      return a->spec.finish == b->spec.finish;
    case TAKEN_MATERIAL:
      return strcmp(a->material, b->material) == 0;
    case TAKEN_OUTLINE:
      return a->spec.outline == b->spec.outline;
    case TAKEN_CUT:
      return strcmp(a->cut, b->cut) == 0;
    default:
      return 1; /* glued and sewn are no colours */
  }
}

/* "sewn sewn" is a slip, not a colour, unless every kind has been named behind it. */
static int32_t check_twice(girdle_call *call, const reading *r) {
  reading again = *r;
  char words[TEXT_MOST + 1];
  again.taken = 0;
  if (r->taken == TAKEN_ALL || !take_last(&again) || !(r->taken & again.taken) || !same_quality(r, &again, again.taken))
    return GIRDLE_OK;
  phrase(r, again.to, r->words, words, sizeof words);
  return girdle_common_fail(call, GIRDLE_SYNTAX, "stone",
                            "'%.60s' says the same thing twice, or two things that cannot "
                            "both be",
                            words);
}

/* "65 facets" where a cut is looked for is a slip, not a colour. */
static int32_t check_facets(girdle_call *call, const reading *r) {
  const char *last = r->text + r->word[r->to - 1];
  int32_t facets = r->to - (r->to - r->from > 2 && strncmp(last, "turned", 6) == 0 ? 2 : 1), digits;
  if (r->taken & TAKEN_CUT || r->to - r->from < 2 || strncmp(r->text + r->word[facets], "facets", 6) != 0 ||
      r->word[facets + 1] - r->word[facets] != 7)
    return GIRDLE_OK;
  last = r->text + r->word[facets - 1];
  digits = (int32_t)strspn(last, "0123456789.-");
  if (last[digits] != ' ') return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, "cut", "a cut has 3 to %d facets, not %.*s", GIRDLE_FACETS_MOST,
                            digits > 20 ? 20 : digits, last);
}

/* mass_mg NaN: by the model. */
static int32_t read_stone(girdle_call *call, const char *text, const girdle_catalogue *own, double mass_mg,
                          girdle_stone *out) {
  reading r;
  char colour[TEXT_MOST + 1];
  GIRDLE_TRY(split(call, text, &r));
  girdle_stone_spec_init(&r.spec, sizeof r.spec);
  r.spec.own = own;
  r.spec.mass_mg[GIRDLE_NOMINAL] = mass_mg;
  GIRDLE_TRY(read_size(call, own, &r));
  while (take_last(&r))
    continue;
  GIRDLE_TRY(check_twice(call, &r));
  GIRDLE_TRY(check_facets(call, &r));
  r.spec.size = r.size;
  if (r.from < r.to && phrase(&r, r.from, r.to, colour, sizeof colour)) r.spec.colour = colour;
  return girdle_stone_make(call, &r.spec, out);
}

int32_t girdle_stone_parse_own(girdle_call *call, const char *text, const girdle_catalogue *own, girdle_stone *out) {
  GIRDLE_GIVEN(call, text, out);
  return read_stone(call, text, own, NAN, out);
}

/* The call's, when its struct is one that has it. */
static const girdle_catalogue *own_of(const girdle_call *call) {
  return call && call->struct_bytes >= sizeof *call ? call->own : NULL;
}

int32_t girdle_stone_parse(girdle_call *call, const char *text, girdle_stone *out) {
  return girdle_stone_parse_own(call, text, own_of(call), out);
}

/* ---- writing */

static void add_word(char *text, size_t bytes, const char *word) {
  size_t length = strlen(text);
  snprintf(text + length, bytes - length, "%s%s", length ? " " : "", word);
}

/* The fewest decimals that read back as the same number. */
static void add_number(char *text, size_t bytes, double value) {
  char number[32];
  double back = NAN;
  for (int32_t decimals = 0; decimals <= 17 && back != value; decimals++) {
    uint64_t length = girdle_number_text(value, decimals, number, sizeof number);
    if (girdle_number_parse(NULL, number, length, &back)) return;
  }
  add_word(text, bytes, number);
}

/* With every quality named (all 1), or size, colour and what is not usual: the same words on paper, in tables and in
 * what people write, so that a spreadsheet finds them. */
static void compose(const girdle_stone *stone, int all, char *text, size_t bytes) {
  static const char *const fixes[GIRDLE_FIX_END] = {"glued", "sewn", "glued and sewn"};
  int32_t fix = stone->fix >= 0 && stone->fix < GIRDLE_FIX_END ? stone->fix : GIRDLE_GLUE;
  text[0] = '\0';
  add_word(text, bytes, stone->size);
  add_word(text, bytes, stone->colour);
  if (all || strcmp(stone->finish, "foiled") != 0) add_word(text, bytes, stone->finish);
  if (all || strcmp(stone->material, "soda-lime") != 0) add_word(text, bytes, stone->material);
  if (all || stone->outline != GIRDLE_ROUND) add_word(text, bytes, girdle_outline_text(stone->outline));
  if (stone->length_ratio != girdle_outline_ratio(stone->outline)) add_number(text, bytes, stone->length_ratio);
  if (all || strcmp(stone->cut, "14 facets") != 0) add_word(text, bytes, stone->cut);
  if (all || fix != GIRDLE_GLUE) add_word(text, bytes, fixes[fix]);
}

uint64_t girdle_stone_text(const girdle_stone *stone, char *buffer, uint64_t bytes) {
  char text[TEXT_MOST + 56];
  girdle_stone back;
  compose(stone, 0, text, sizeof text);
  /* equality does not look at masses, so none is reckoned */
  if (read_stone(NULL, text, NULL, 1, &back) || !girdle_stone_equal(stone, &back)) compose(stone, 1, text, sizeof text);
  if (bytes) girdle_common_text(buffer, bytes, text);
  return strlen(text);
}
