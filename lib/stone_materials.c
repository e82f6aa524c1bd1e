/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/stone.h"

#include <stdio.h>
#include <string.h>

#include "common.h"
#include "stone_internal.h"

/* ---- materials */

#define DIRECTIVE "Council Directive 69/493/EEC, Annex I, category "

static const girdle_material materials[] = {
    {"soda-lime", {2.4, 2.5, 2.53}, 0, GIRDLE_LEAD_UNKNOWN, "EN 572-1: 2500 kg/m3; published densities 2.4 to 2.53"},
    {"full lead crystal", {3.0, 3.0, 3.0}, 1, GIRDLE_LEAD_YES, DIRECTIVE "1: at least 3.00"},
    {"lead crystal", {2.9, 2.9, 2.9}, 1, GIRDLE_LEAD_YES, DIRECTIVE "2: at least 2.90"},
    {"crystallin", {2.45, 2.45, 2.45}, 1, GIRDLE_LEAD_MAY, DIRECTIVE "3: at least 2.45"},
    {"crystal glass", {2.4, 2.4, 2.4}, 1, GIRDLE_LEAD_MAY, DIRECTIVE "4: at least 2.40"},
    {"pmma", {1.17, 1.19, 1.2}, 0, GIRDLE_LEAD_NONE, "ISO 1183 values of published polymer tables: 1.17 to 1.20"},
    {"polystyrene", {1.04, 1.05, 1.07}, 0, GIRDLE_LEAD_NONE, "CRC Handbook of Chemistry and Physics: 1.04 to 1.07"},
    {"epoxy", {1.12, 1.15, 1.18}, 0, GIRDLE_LEAD_NONE, "CRC Handbook of Chemistry and Physics: 1.12 to 1.18"},
};
enum { MATERIAL_COUNT = sizeof materials / sizeof materials[0] };

const girdle_material *girdle_materials(uint64_t *count) {
  *count = MATERIAL_COUNT;
  return materials;
}

static const girdle_material *find_row(const girdle_material *rows, uint64_t count, const char *name) {
  for (uint64_t i = 0; i < count; i++)
    if (girdle_stone_named(rows[i].name, name)) return &rows[i];
  return NULL;
}

const girdle_material *girdle_material_find(const char *name, const girdle_catalogue *own) {
  const girdle_material *found = own ? find_row(own->materials, own->material_count, name) : NULL;
  /* the trade's word for PMMA */
  return found ? found : find_row(materials, MATERIAL_COUNT, strcmp(name, "acrylic") == 0 ? "pmma" : name);
}

/* 15 USC 1278a and the agency's vote of July 2009 not to except glass and crystal stones; 16 CFR 1500.91 lists what is
 * held to be below the limit, glass not among it; Regulation (EC) 1907/2006, Annex XVII, entry 63; Directive
 * 69/493/EEC. */
const char *girdle_lead_caution(uint32_t lead) {
  switch (lead) {
    case GIRDLE_LEAD_UNKNOWN:
      return "Glass may hold traces of lead. Things for children have legal limits (US: 100 ppm since 2011; EU: 0.05 % "
             "in "
             "jewellery since 2013 and in what can be mouthed since 2016): ask the supplier for a test report, and "
             "check the rules where it is worn.";
    case GIRDLE_LEAD_MAY:
      return "This class of crystal glass may hold lead. Things for children have legal limits (US: 100 ppm since "
             "2011; EU: "
             "0.05 % with exceptions for crystal glass): ask the supplier for a test report before a child wears it, "
             "and "
             "check the rules where it is worn.";
    case GIRDLE_LEAD_YES:
      return "Lead crystal: 24 % of it or more is lead oxide. Not for things for children, which have legal limits "
             "(US: "
             "100 ppm since 2011, stones not excepted), nor where it may be mouthed. Wash your hands after work and "
             "check "
             "the rules where it is worn.";
    default:
      return "";
  }
}

/* ---- finishes */

const char *const *girdle_finish_names(uint64_t *count) {
  static const char *const names[] = {"foiled", "coated", "plain", "matt"};
  *count = sizeof names / sizeof names[0];
  return names;
}

/* ---- cuts */

/* Proportions of flat-backs: we know of none that are published. A weighed gross, or a cut of the user's own, replaces
 * them. */
#define CUT(name, facets, turned) \
  { name, facets, turned, {0.45, 0.525, 0.6}, {0.34, 0.39, 0.44}, {0.06, 0.06, 0.06}, "common practice, no source" }

static const girdle_cut cuts[] = {
    CUT("14 facets", GIRDLE_HOUSE_FACETS, 0),
    CUT("8 facets", 8, 0),
    CUT("12 facets", 12, 0),
    CUT("16 facets", 16, 0),
    CUT("14 facets turned", 14, 1),
    CUT("16 facets turned", 16, 1),
};
enum { CUT_COUNT = sizeof cuts / sizeof cuts[0] };

const girdle_cut *girdle_cuts(uint64_t *count) {
  *count = CUT_COUNT;
  return cuts;
}

static const girdle_cut *find_cut(const girdle_cut *rows, uint64_t count, const char *name) {
  for (uint64_t i = 0; i < count; i++)
    if (girdle_stone_named(rows[i].name, name)) return &rows[i];
  return NULL;
}

/* "n facets" and "n facets turned" for any n, in the ready cuts' proportions. */
static const girdle_cut *any_facets(const char *name, girdle_cut *room) {
  size_t digits = strspn(name, "0123456789");
  int turned = digits && strcmp(name + digits, " facets turned") == 0, facets = 0;
  if (digits == 0 || digits > 2 || name[0] == '0' || (!turned && strcmp(name + digits, " facets") != 0)) return NULL;
  for (size_t i = 0; i < digits; i++)
    facets = facets * 10 + (name[i] - '0');
  if (facets < 3 || facets > GIRDLE_FACETS_MOST) return NULL;
  *room = cuts[0];
  room->facets = facets;
  room->turned = turned;
  snprintf(room->name, sizeof room->name, "%s", name);
  return room;
}

const girdle_cut *girdle_cut_find(const char *name, const girdle_catalogue *own, girdle_cut *room) {
  const girdle_cut *found = own ? find_cut(own->cuts, own->cut_count, name) : NULL;
  if (!found) found = find_cut(cuts, CUT_COUNT, name);
  return found ? found : any_facets(name, room);
}

static int32_t check_rising(girdle_call *call, const char *field, const double value[3], double least, double most,
                            const char *unit) {
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    GIRDLE_TRY(girdle_common_range(call, field, value[i], i ? value[i - 1] : least, most, unit));
  return GIRDLE_OK;
}

int32_t girdle_material_check(girdle_call *call, const girdle_material *material) {
  GIRDLE_TRY(girdle_common_range(call, "lead", material->lead, GIRDLE_LEAD_NONE, GIRDLE_LEAD_YES, ""));
  return check_rising(call, "density", material->density_g_cm3, 0.01, 100, "g/cm3");
}

int girdle_cut_turns(const girdle_cut *cut, int32_t outline) {
  return cut->turned && outline != GIRDLE_HEART;
}

int32_t girdle_cut_check(girdle_call *call, const girdle_cut *cut, int32_t outline, double length_ratio) {
  GIRDLE_TRY(girdle_common_range(call, "facets", cut->facets, 3, GIRDLE_FACETS_MOST, ""));
  GIRDLE_TRY(check_rising(call, "table ratio", cut->table_ratio, 0.001, 1, ""));
  GIRDLE_TRY(check_rising(call, "height ratio", cut->height_ratio, 0.01, 3, ""));
  GIRDLE_TRY(check_rising(call, "girdle ratio", cut->girdle_ratio, 0, 2.9, ""));
  for (int i = GIRDLE_LEAST; i <= GIRDLE_MOST; i++)
    GIRDLE_TRY(girdle_common_range(call, "girdle ratio", cut->girdle_ratio[i], 0, 0.99 * cut->height_ratio[i], ""));
  return girdle_cut_turns(cut, outline)
             ? girdle_common_range(call, "table ratio", cut->table_ratio[GIRDLE_MOST], 0,
                                   girdle_outline_widest_table(outline, length_ratio, cut->facets), "")
             : GIRDLE_OK;
}

/* ---- catalogues */

static int32_t check_size(girdle_call *call, const girdle_size *size) {
  GIRDLE_TRY(girdle_common_range(call, "certainty", size->certainty, 0, GIRDLE_OWN_SIZE, ""));
  return check_rising(call, "diameter", size->diameter_mm, 0.5, 100, "mm");
}

static int32_t check_weighed(girdle_call *call, const girdle_stone *stone) {
  if (!(stone->flags & GIRDLE_MASS_WEIGHED))
    return girdle_common_fail(call, GIRDLE_ARGUMENT, "weighed", "its mass does not come from weighing");
  return check_rising(call, "mass", stone->mass_mg, 1e-6, 1e9, "mg");
}

/* "cut 'low': height ratio must be ..." */
static int32_t name_row(girdle_call *call, int32_t status, const char *kind, const char *name) {
  girdle_error *error = call ? call->error : NULL;
  char text[sizeof error->message];
  if (!status && name[0]) return GIRDLE_OK;
  if (!status) return girdle_common_fail(call, GIRDLE_ARGUMENT, "name", "a %s needs a name", kind);
  if (!error) return status;
  memcpy(text, error->message, sizeof text);
  snprintf(error->message, sizeof error->message, "%s '%s': %.200s", kind, name, text);
  return status;
}

int32_t girdle_catalogue_check(girdle_call *call, const girdle_catalogue *given) {
  girdle_catalogue own = {0};
  girdle_common_options(&own, sizeof own, given);
  for (uint64_t i = 0; i < own.size_count; i++)
    GIRDLE_TRY(name_row(call, check_size(call, &own.sizes[i]), "size", own.sizes[i].name));
  for (uint64_t i = 0; i < own.cut_count; i++)
    GIRDLE_TRY(name_row(call, girdle_cut_check(call, &own.cuts[i], GIRDLE_ROUND, 1), "cut", own.cuts[i].name));
  for (uint64_t i = 0; i < own.material_count; i++)
    GIRDLE_TRY(name_row(call, girdle_material_check(call, &own.materials[i]), "material", own.materials[i].name));
  for (uint64_t i = 0; i < own.weighed_count; i++)
    GIRDLE_TRY(name_row(call, check_weighed(call, &own.weighed[i]), "weighed stone", own.weighed[i].size));
  return GIRDLE_OK;
}
