/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/stone.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base_cross_internal.h"
#include "common.h"
#include "stone_internal.h"

int girdle_stone_fold(char *field, uint64_t bytes, const char *text) {
  uint64_t length = 0;
  int space = 0;
  for (; *text; text++) {
    char c = *text;
    if (c == ' ' || c == '\t') {
      space = length > 0;
      continue;
    }
    if (length + (uint64_t)space + 1 >= bytes) break;
    if (space) field[length++] = ' ';
    space = 0;
    field[length++] = c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
  }
  field[length] = '\0';
  return !*text;
}

int girdle_stone_named(const char *name, const char *folded) {
  const char *start = folded;
  int space = 0;
  for (; *name; name++) {
    char c = *name;
    if (c == ' ' || c == '\t') {
      space = folded > start;
      continue;
    }
    if (space && *folded++ != ' ') return 0;
    space = 0;
    if ((c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c) != *folded++) return 0;
  }
  return !*folded;
}

/* ---- making */

void girdle_stone_spec_init(girdle_stone_spec *spec, uint32_t struct_bytes) {
  girdle_stone_spec plain;
  memset(&plain, 0, sizeof plain);
  plain.struct_bytes = struct_bytes;
  plain.height_mm = plain.length_ratio = NAN;
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    plain.diameter_mm[i] = plain.mass_mg[i] = NAN;
  memset(spec, 0, struct_bytes);
  memcpy(spec, &plain, struct_bytes < sizeof plain ? struct_bytes : sizeof plain);
}

/* How many bytes the UTF-8 character here has, or 0: no overlong forms, no surrogates, nothing above U+10FFFF. */
static int character_bytes(const unsigned char *at) {
  uint32_t value = at[0];
  int bytes = value < 0x80 ? 1 : value < 0xc2 ? 0 : value < 0xe0 ? 2 : value < 0xf0 ? 3 : value < 0xf5 ? 4 : 0;
  if (bytes > 1) value &= 0x7fu >> bytes;
  for (int i = 1; i < bytes; i++) {
    if ((at[i] & 0xc0) != 0x80) return 0;
    value = value << 6 | (at[i] & 0x3fu);
  }
  if (bytes == 3 && (value < 0x800 || (value >= 0xd800 && value < 0xe000))) return 0;
  return bytes == 4 && (value < 0x10000 || value > 0x10ffff) ? 0 : bytes;
}

static int is_utf8(const char *text) {
  const unsigned char *at = (const unsigned char *)text;
  int bytes = 1;
  while (*at && bytes) {
    bytes = character_bytes(at);
    at += bytes;
  }
  return bytes > 0;
}

/* Folds one text of a spec into a stone's field. */
static int32_t take_text(girdle_call *call, const char *name, const char *text, char *field, uint64_t bytes) {
  for (const char *at = text; *at; at++)
    if ((unsigned char)*at < ' ' && *at != '\t')
      return girdle_common_fail(call, GIRDLE_SYNTAX, name, "a %s must not hold control characters", name);
  if (!is_utf8(text)) return girdle_common_fail(call, GIRDLE_SYNTAX, name, "a %s must be written in UTF-8", name);
  if (!girdle_stone_fold(field, bytes, text))
    return girdle_common_fail(call, GIRDLE_LIMIT, name, "%s '%.40s' has more than %d bytes", name, text,
                              (int)bytes - 1);
  return GIRDLE_OK;
}

/* The ends of a range mean nothing without its middle. */
static int32_t check_middle(girdle_call *call, const char *name, const double given[3]) {
  if (!isnan(given[GIRDLE_NOMINAL]) || (isnan(given[GIRDLE_LEAST]) && isnan(given[GIRDLE_MOST]))) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_ARGUMENT, name, "the least or the most %s needs the usual %s beside it", name,
                            name);
}

/* "least diameter", "most diameter". */
static int32_t check_end(girdle_call *call, const char *which, const char *name, double value, double least,
                         double most, const char *unit) {
  char words[32];
  snprintf(words, sizeof words, "%s %s", which, name);
  return girdle_common_range(call, words, value, least, most, unit);
}

/* Missing ends of a range are its middle. */
static int32_t take_range(girdle_call *call, const char *name, const double given[3], double least, double most,
                          const char *unit, double out[3]) {
  GIRDLE_TRY(girdle_common_range(call, name, given[GIRDLE_NOMINAL], least, most, unit));
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    out[i] = isnan(given[i]) ? given[GIRDLE_NOMINAL] : given[i];
  GIRDLE_TRY(check_end(call, "least", name, out[GIRDLE_LEAST], least, out[GIRDLE_NOMINAL], unit));
  return check_end(call, "most", name, out[GIRDLE_MOST], out[GIRDLE_NOMINAL], most, unit);
}

/* "ss20" is the name of a stone of another diameter than the one given. */
static int is_other_size(const girdle_stone_spec *spec) {
  girdle_size size;
  return !girdle_size_find(NULL, spec->size, spec->own, &size) &&
         size.diameter_mm[GIRDLE_NOMINAL] != spec->diameter_mm[GIRDLE_NOMINAL];
}

/* "10 x 14 mm" says the diameter and the length ratio. */
static int32_t take_crossed(girdle_call *call, girdle_stone_spec *spec, girdle_stone *out) {
  girdle_size size;
  double ratio;
  GIRDLE_TRY(girdle_size_crossed(call, spec->size, &size, &ratio));
  if (!isnan(spec->diameter_mm[GIRDLE_NOMINAL]) || !isnan(spec->length_ratio))
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "size", "'%.40s' says width and length already; leave the %s out",
                              spec->size, isnan(spec->length_ratio) ? "diameter" : "length ratio");
  if (spec->outline == GIRDLE_ROUND && ratio != 1)
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "outline",
                              "a stone of '%.40s' is not round; name its outline, like "
                              "\"10 x 14 mm red oval\"",
                              spec->size);
  spec->length_ratio = ratio;
  memcpy(out->size, size.name, sizeof out->size);
  memcpy(out->diameter_mm, size.diameter_mm, sizeof out->diameter_mm);
  return GIRDLE_OK;
}

static int is_crossed(const girdle_stone_spec *spec) {
  girdle_size size;
  const char *behind;
  return spec->size && girdle_cross_find(spec->size, &behind) && girdle_size_find(NULL, spec->size, spec->own, &size);
}

static int32_t take_size(girdle_call *call, girdle_stone_spec *spec, girdle_stone *out) {
  girdle_size size;
  GIRDLE_TRY(check_middle(call, "diameter", spec->diameter_mm));
  if (is_crossed(spec)) return take_crossed(call, spec, out);
  if (isnan(spec->diameter_mm[GIRDLE_NOMINAL])) {
    if (!spec->size)
      return girdle_common_fail(call, GIRDLE_ARGUMENT, "size", "a stone needs a size, like \"ss20\" or \"5 mm\"");
    GIRDLE_TRY(girdle_size_find(call, spec->size, spec->own, &size));
    memcpy(out->size, size.name, sizeof out->size);
    return take_range(call, "diameter", size.diameter_mm, 0.5, 100, "mm", out->diameter_mm);
  }
  GIRDLE_TRY(take_range(call, "diameter", spec->diameter_mm, 0.5, 100, "mm", out->diameter_mm));
  if (spec->size && !is_other_size(spec)) return take_text(call, "size", spec->size, out->size, sizeof out->size);
  girdle_number_text(out->diameter_mm[GIRDLE_NOMINAL], 4, out->size, sizeof out->size - 3);
  strcat(out->size, " mm");
  return GIRDLE_OK;
}

/* Names few enough to be listed when none of them is near the word. */
static int32_t unknown_name(girdle_call *call, const char *field, const char *word, const char *const *names,
                            uint64_t count) {
  char known[160] = "";
  if (girdle_nearest(word, names, count)) return girdle_common_unknown(call, field, word, names, count);
  for (uint64_t i = 0; i < count; i++) {
    size_t length = strlen(known);
    snprintf(known + length, sizeof known - length, "%s%s", i ? ", " : "", names[i]);
  }
  return girdle_common_fail(call, GIRDLE_UNKNOWN, field, "unknown %s '%s'; write one like \"%s\"; known: %s", field,
                            word, names[0], known);
}

static int32_t take_finish(girdle_call *call, const char *finish, girdle_stone *out) {
  uint64_t count;
  const char *const *names = girdle_finish_names(&count);
  GIRDLE_TRY(take_text(call, "finish", finish ? finish : names[0], out->finish, sizeof out->finish));
  for (uint64_t i = 0; i < count; i++)
    if (strcmp(names[i], out->finish) == 0) return GIRDLE_OK;
  return unknown_name(call, "finish", out->finish, names, count);
}

static int32_t unknown_material(girdle_call *call, const char *name) {
  const char *names[16];
  uint64_t count;
  const girdle_material *rows = girdle_materials(&count);
  for (uint64_t i = 0; i < count; i++)
    names[i] = rows[i].name;
  names[count++] = "acrylic"; /* read as pmma */
  return unknown_name(call, "material", name, names, count);
}

static int32_t unknown_cut(girdle_call *call, const char *name) {
  const char *names[16];
  uint64_t count;
  const girdle_cut *rows = girdle_cuts(&count);
  for (uint64_t i = 0; i < count; i++)
    names[i] = rows[i].name;
  return unknown_name(call, "cut", name, names, count);
}

static int32_t take_outline(girdle_call *call, const girdle_stone_spec *spec, girdle_stone *out) {
  double ratio = spec->length_ratio;
  GIRDLE_TRY(girdle_common_range(call, "fix", spec->fix, 0, GIRDLE_FIX_END - 1, ""));
  GIRDLE_TRY(girdle_outline_check(call, spec->outline, 1));
  if (isnan(ratio)) ratio = girdle_outline_ratio(spec->outline);
  GIRDLE_TRY(girdle_outline_check(call, spec->outline, ratio));
  out->outline = spec->outline;
  out->fix = spec->fix;
  out->length_ratio = ratio;
  return GIRDLE_OK;
}

/* Whole 1e-6 mg, so that a last bit of a sine does not show. */
static double snapped_mg(double mass_mg) {
  return nearbyint(mass_mg * 1e6) / 1e6;
}

static void take_mass(const double mass_mg[3], girdle_stone *out) {
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    out->mass_mg[i] = mass_mg[i];
  out->flags = GIRDLE_MASS_WEIGHED;
}

static void model_mass(const girdle_cut *cut, const girdle_material *material, girdle_stone *out) {
  girdle_rings rings;
  girdle_rings_build(cut, out->outline, out->length_ratio, &rings);
  for (int32_t i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    out->mass_mg[i] =
        snapped_mg(girdle_rings_volume_mm3(&rings, cut, i, out->diameter_mm[i]) * material->density_g_cm3[i]);
  out->flags = material->minimum ? GIRDLE_MASS_AT_LEAST : 0;
}

/* By weighing this very stone, by weighing others like it, or by the model. */
static int32_t set_mass(girdle_call *call, const girdle_stone_spec *spec, const girdle_cut *cut,
                        const girdle_material *material, girdle_stone *out) {
  const girdle_stone *weighed = girdle_weighed_find(out, spec->own);
  double given[3];
  GIRDLE_TRY(check_middle(call, "mass", spec->mass_mg));
  if (!isnan(spec->mass_mg[GIRDLE_NOMINAL])) {
    GIRDLE_TRY(take_range(call, "mass", spec->mass_mg, 1e-6, 1e9, "mg", given));
    take_mass(given, out);
  } else if (weighed) {
    take_mass(weighed->mass_mg, out);
  } else {
    model_mass(cut, material, out);
  }
  return GIRDLE_OK;
}

/* The height given for a stone replaces its cut's. */
static int32_t own_height(girdle_call *call, const girdle_stone_spec *spec, const girdle_stone *stone,
                          girdle_cut *cut) {
  if (isnan(spec->height_mm)) return GIRDLE_OK;
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    cut->height_ratio[i] = spec->height_mm / stone->diameter_mm[GIRDLE_NOMINAL];
  GIRDLE_TRY(girdle_common_range(call, "height", spec->height_mm, 0.01, 300, "mm"));
  return girdle_cut_check(call, cut, stone->outline, stone->length_ratio);
}

static int32_t take_solid(girdle_call *call, const girdle_stone_spec *spec, girdle_stone *out) {
  girdle_cut room, cut;
  const girdle_cut *found;
  const girdle_material *material;
  GIRDLE_TRY(take_text(call, "cut", spec->cut ? spec->cut : "14 facets", out->cut, sizeof out->cut));
  GIRDLE_TRY(
      take_text(call, "material", spec->material ? spec->material : "soda-lime", out->material, sizeof out->material));
  found = girdle_cut_find(out->cut, spec->own, &room);
  material = girdle_material_find(out->material, spec->own);
  if (!found) return unknown_cut(call, out->cut);
  if (!material) return unknown_material(call, out->material);
  GIRDLE_TRY(girdle_material_check(call, material));
  cut = *found;
  GIRDLE_TRY(girdle_cut_check(call, &cut, out->outline, out->length_ratio));
  GIRDLE_TRY(own_height(call, spec, out, &cut));
  girdle_stone_fold(out->material, sizeof out->material, material->name);
  out->facets = (uint32_t)cut.facets;
  out->height_mm = cut.height_ratio[GIRDLE_NOMINAL] * out->diameter_mm[GIRDLE_NOMINAL];
  out->lead = (uint32_t)material->lead;
  return set_mass(call, spec, &cut, material, out);
}

/* 1 when the word at the start, or it and the next one, name a size: "ss20", "5 mm". A bare number does not. */
static int begins_with_size(const char *words) {
  size_t length = strcspn(words, " ");
  for (int count = 1; count <= 2; count++) {
    char name[64];
    girdle_size size;
    if (length >= sizeof name) return 0;
    memcpy(name, words, length);
    name[length] = '\0';
    if (name[strcspn(name, "0123456789")] && name[strcspn(name, "abcdefghijklmnopqrstuvwxyz\"")] &&
        !girdle_size_find(NULL, name, NULL, &size))
      return 1;
    if (!words[length]) return 0;
    length += 1 + strcspn(words + length + 1, " ");
  }
  return 0;
}

/* Several stones without the ';' between them would pass for one of a long colour. */
static int32_t check_one_stone(girdle_call *call, const char *colour) {
  int several = colour[strcspn(colour, ",;")] != '\0';
  for (const char *at = colour; at && !several; at = strchr(at, ' ')) {
    at += *at == ' ';
    several = begins_with_size(at);
  }
  if (!several) return GIRDLE_OK;
  return girdle_common_fail(call, GIRDLE_SYNTAX, "colour",
                            "a colour holds no comma, no semicolon and no size: '%s'; write several stones like \"ss20 "
                            "black; ss20 clear\"",
                            colour);
}

static int32_t take_colour(girdle_call *call, const char *colour, girdle_stone *out) {
  const char *behind;
  GIRDLE_TRY(take_text(call, "colour", colour && *colour ? colour : "clear", out->colour, sizeof out->colour));
  if (!out->colour[0]) strcpy(out->colour, "clear");
  if (girdle_cross_find(out->colour, &behind) == out->colour)
    return girdle_common_fail(call, GIRDLE_SYNTAX, "colour", "a colour cannot begin like a length, '%s'", out->colour);
  return check_one_stone(call, out->colour);
}

/* The first that fits; what comes of it is not swapped again. */
static void swap_stone(const girdle_catalogue *given, girdle_stone *stone) {
  girdle_catalogue own = {0};
  girdle_common_options(&own, sizeof own, given);
  for (uint64_t i = 0; i < own.swap_count; i++) {
    if (!girdle_stone_equal(stone, &own.swapped[i])) continue;
    *stone = own.instead[i];
    return;
  }
}

int32_t girdle_stone_make(girdle_call *call, const girdle_stone_spec *spec, girdle_stone *out) {
  GIRDLE_GIVEN(call, spec, out);
  girdle_stone_spec own;
  girdle_stone stone;
  girdle_stone_spec_init(&own, sizeof own);
  girdle_common_options(&own, sizeof own, spec);
  memset(&stone, 0, sizeof stone);
  GIRDLE_TRY(take_size(call, &own, &stone));
  GIRDLE_TRY(take_colour(call, own.colour, &stone));
  GIRDLE_TRY(take_finish(call, own.finish, &stone));
  GIRDLE_TRY(take_outline(call, &own, &stone));
  GIRDLE_TRY(take_solid(call, &own, &stone));
  if (own.own) swap_stone(own.own, &stone);
  *out = stone;
  return GIRDLE_OK;
}

int32_t girdle_stone_same_place(const girdle_stone *a, const girdle_stone *b) {
  return a->diameter_mm[GIRDLE_NOMINAL] == b->diameter_mm[GIRDLE_NOMINAL] && a->outline == b->outline &&
         a->length_ratio == b->length_ratio;
}

int32_t girdle_stone_equal(const girdle_stone *a, const girdle_stone *b) {
  return girdle_stone_same_place(a, b) && a->fix == b->fix && strcmp(a->size, b->size) == 0 &&
         strcmp(a->colour, b->colour) == 0 && strcmp(a->finish, b->finish) == 0 &&
         strcmp(a->material, b->material) == 0 && strcmp(a->cut, b->cut) == 0;
}

/* ---- weighing */

int32_t girdle_stone_weigh(girdle_call *call, const girdle_stone *stone, int64_t pieces, double mass_mg,
                           double error_mg, girdle_stone *out, double *model_off) {
  GIRDLE_GIVEN(call, stone, out);
  double count = (double)pieces, before = stone->mass_mg[GIRDLE_NOMINAL];
  GIRDLE_TRY(girdle_common_range(call, "pieces", count, 1, 1e9, ""));
  GIRDLE_TRY(girdle_common_range(call, "mass", mass_mg, 1e-6, 1e12, "mg"));
  GIRDLE_TRY(girdle_common_range(call, "error", error_mg, 0, 0.5 * mass_mg, "mg"));
  if (model_off) *model_off = before / (mass_mg / count) - 1;
  *out = *stone;
  take_mass((const double[]){(mass_mg - error_mg) / count, mass_mg / count, (mass_mg + error_mg) / count}, out);
  return GIRDLE_OK;
}

static int same_model(const girdle_stone *a, const girdle_stone *b) {
  return a->outline == b->outline && a->length_ratio == b->length_ratio && strcmp(a->size, b->size) == 0 &&
         a->diameter_mm[GIRDLE_NOMINAL] == b->diameter_mm[GIRDLE_NOMINAL] && strcmp(a->material, b->material) == 0 &&
         strcmp(a->cut, b->cut) == 0;
}

const girdle_stone *girdle_weighed_find(const girdle_stone *stone, const girdle_catalogue *own) {
  for (uint64_t i = 0; own && i < own->weighed_count; i++)
    if (same_model(stone, &own->weighed[i])) return &own->weighed[i];
  return NULL;
}
