/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "map_internal.h"

#include <math.h>

/* ---- inks and patterns */

void girdle_svg_write_color(girdle_writer *out, const uint8_t rgb[3]) {
  girdle_write_format(out, "#%02x%02x%02x", rgb[0], rgb[1], rgb[2]);
}

static void write_stop(girdle_writer *out, double offset, const uint8_t rgb[3]) {
  girdle_write(out, "<stop offset=\"");
  girdle_write_fixed(out, offset, 2);
  girdle_write(out, "\" stop-color=\"");
  girdle_svg_write_color(out, rgb);
  girdle_write(out, "\"/>");
}

/* Two stops at one place are a hard edge. A round gradient runs from the middle, its pattern from the rim. */
static void write_stops(girdle_writer *out, const girdle_ink *ink, const girdle_pattern *pattern) {
  int32_t count = pattern->stop_count;
  int marked = pattern->round && count % 2;
  if (count == 0) write_stop(out, 0, ink->fill);
  for (int32_t i = 0; i < count; i++, marked = !marked) {
    double at = pattern->round ? 1 - pattern->stops[count - 1 - i] : pattern->stops[i];
    write_stop(out, at, marked ? ink->mark : ink->fill);
    write_stop(out, at, marked ? ink->fill : ink->mark);
  }
}

static void write_gradient(girdle_writer *out, uint64_t number, const girdle_ink *ink) {
  const girdle_pattern *pattern = girdle_pattern_of(number);
  const char *element = pattern->round ? "radialGradient" : "linearGradient";
  girdle_write_format(out, "<%s id=\"kind%llu\"", element, (unsigned long long)number);
  if (!pattern->round && pattern->angle_deg)
    girdle_write_format(out, " gradientTransform=\"rotate(%d 0.5 0.5)\"", (int)pattern->angle_deg);
  girdle_write(out, ">");
  write_stops(out, ink, pattern);
  girdle_write_format(out, "</%s>\n", element);
}

/* ---- outlines of fancy stones, as the stone room defines them: in half widths h, the tip at +x */

typedef struct pen {
  girdle_writer *out;
  double h;
} pen;

static void number(const pen *p, double value) {
  girdle_write(p->out, " ");
  girdle_write_number(p->out, value * p->h, 4);
}

static void move_to(const pen *p, double x, double y) {
  girdle_write(p->out, "M");
  number(p, x);
  number(p, y);
}

static void arc_to(const pen *p, double r, double x, double y) {
  girdle_write(p->out, "A");
  number(p, r);
  number(p, r);
  girdle_write(p->out, " 0 0 1");
  number(p, x);
  number(p, y);
}

/* Two sides of radius R that meet in a tip at c + T; behind the widest place (c, 1) a pear has a half circle, a heart
 * two lobes, a navette its sides again. */
static void write_arcs(const pen *p, int32_t outline, double ratio) {
  double back = outline == GIRDLE_NAVETTE ? ratio : outline == GIRDLE_PEAR ? 1 : 0.5;
  double c = back - ratio, tip = 2 * ratio - back, r = (tip * tip + 1) / 2;
  move_to(p, c + tip, 0);
  arc_to(p, r, c, 1);
  if (outline == GIRDLE_NAVETTE) {
    arc_to(p, r, -tip, 0);
    arc_to(p, r, c, -1);
  } else if (outline == GIRDLE_PEAR) {
    arc_to(p, 1, c - 1, 0);
    arc_to(p, 1, c, -1);
  } else {
    arc_to(p, 0.5, c, 0);
    arc_to(p, 0.5, c, -1);
  }
  arc_to(p, r, c + tip, 0);
  girdle_write(p->out, "Z");
}

void girdle_svg_write_outline(girdle_writer *out, const girdle_stone *stone) {
  pen p = {out, stone->diameter_mm[GIRDLE_NOMINAL] / 2};
  double ratio = stone->length_ratio;
  if (stone->outline == GIRDLE_OVAL || stone->outline == GIRDLE_ROUND) {
    move_to(&p, -ratio, 0);
    girdle_write(out, "a");
    number(&p, ratio);
    number(&p, 1);
    girdle_write(out, " 0 1 1");
    number(&p, 2 * ratio);
    girdle_write(out, " 0a");
    number(&p, ratio);
    number(&p, 1);
    girdle_write(out, " 0 1 1");
    number(&p, -2 * ratio);
    girdle_write(out, " 0Z");
  } else if (stone->outline == GIRDLE_SQUARE || stone->outline == GIRDLE_RECTANGLE) {
    move_to(&p, -ratio, -1);
    girdle_write(out, "H");
    number(&p, ratio);
    girdle_write(out, "V");
    number(&p, 1);
    girdle_write(out, "H");
    number(&p, -ratio);
    girdle_write(out, "Z");
  } else {
    write_arcs(&p, stone->outline, ratio);
  }
}

void girdle_svg_write_kinds(girdle_writer *out, const girdle_kinds *kinds) {
  for (uint64_t i = 0; i < kinds->count; i++) {
    const girdle_stone *stone = &kinds->kinds[i].stone;
    write_gradient(out, i, &kinds->kinds[i].ink);
    if (stone->outline == GIRDLE_ROUND) continue;
    girdle_write_format(out, "<path id=\"cut%llu\" d=\"", (unsigned long long)i);
    girdle_svg_write_outline(out, stone);
    girdle_write(out, "\"/>\n");
  }
}

/* ---- stones */

static void attribute(girdle_writer *out, const char *name, double value) {
  girdle_write_format(out, " %s=\"", name);
  girdle_write_number(out, value, 4);
  girdle_write(out, "\"");
}

static void write_class(girdle_writer *out, const char *name) {
  if (name) girdle_write_format(out, " class=\"%s\"", name);
}

static void write_fancy(girdle_writer *out, uint64_t kind, const char *class_name, double x, double y, double turn) {
  girdle_write(out, "<use");
  write_class(out, class_name);
  girdle_write_format(out, " href=\"#cut%llu\" transform=\"translate(", (unsigned long long)kind);
  girdle_write_number(out, x, 4);
  girdle_write(out, " ");
  girdle_write_number(out, y, 4);
  girdle_write(out, ") rotate(");
  girdle_write_number(out, turn, 2);
  girdle_write(out, ")\"/>\n");
}

void girdle_svg_write_stone(girdle_writer *out, const girdle_stone *stone, uint64_t kind, const char *class_name,
                            double x_mm, double y_mm, double turn_deg) {
  if (stone->outline != GIRDLE_ROUND) {
    write_fancy(out, kind, class_name, x_mm, y_mm, turn_deg);
    return;
  }
  girdle_write(out, "<circle");
  write_class(out, class_name);
  attribute(out, "cx", x_mm);
  attribute(out, "cy", y_mm);
  attribute(out, "r", stone->diameter_mm[GIRDLE_NOMINAL] / 2);
  girdle_write(out, "/>\n");
}

typedef struct drawing {
  const girdle_slot *slot;
  const girdle_sorted *sorted;
  int mirrored;
} drawing;

static void write_stones(girdle_writer *out, const drawing *of, uint64_t stone, uint64_t kind) {
  const girdle_sorted *sorted = of->sorted;
  for (uint64_t i = sorted->starts[stone]; i < sorted->starts[stone + 1] && !out->status; i++) {
    const girdle_placed at = girdle_slot_place(of->slot, &sorted->records[sorted->order[i]], of->mirrored);
    girdle_svg_write_stone(out, &sorted->stones[stone], kind, "stone", at.x_mm, at.y_mm, (double)at.turn_deg);
  }
}

void girdle_svg_begin_kind(girdle_writer *out, const girdle_kind *kind, uint64_t number) {
  girdle_write_format(out, "<g data-kind=\"%llu\" fill=\"url(#kind%llu)\" stroke=\"", (unsigned long long)number,
                      (unsigned long long)number);
  girdle_svg_write_color(out, kind->ink.edge);
  girdle_write(out, "\"><title>");
  girdle_write_xml(out, kind->name);
  girdle_write(out, "</title>\n");
}

int32_t girdle_svg_write_zone(girdle_writer *out, const girdle_slot *slot, const girdle_kinds *kinds, int mirrored) {
  girdle_sorted sorted;
  const drawing of = {slot, &sorted, mirrored};
  GIRDLE_TRY(girdle_sorted_make(out->call, slot->zone->placement, &sorted));
  for (uint64_t i = 0; i < sorted.stone_count && !out->status; i++) {
    uint64_t kind = girdle_kinds_find(kinds, &sorted.stones[i]);
    if (sorted.starts[i] == sorted.starts[i + 1] || kind == kinds->count) continue;
    girdle_svg_begin_kind(out, &kinds->kinds[kind], kind);
    write_stones(out, &of, i, kind);
    girdle_write(out, "</g>\n");
  }
  girdle_sorted_free(&sorted);
  return out->status;
}
