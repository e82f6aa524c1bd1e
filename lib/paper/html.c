/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "html_internal.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char girdle_html_style[] =
    ":root{color-scheme:light "
    "dark;--ink:#26262b;--soft:#5b5b66;--paper:#fdfcf9;--line:#d8d4ca;--card:#fff;--mark:#8a3b12}\n"
    "@media "
    "(prefers-color-scheme:dark){:root{--ink:#ece9e2;--soft:#b3afa6;--paper:#191a1e;--line:#3b3c43;--card:#22242a;"
    "--mark:#f0b48a}}\n"
    "*{box-sizing:border-box}\n"
    "body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.5 sans-serif}\n"
    "main{max-width:70rem;margin:0 auto;padding:1.5rem 1rem 4rem}\n"
    "h1,h2,h3{font-family:serif;font-weight:normal;line-height:1.2}\n"
    "h1{font-size:2.2rem;margin:.5rem 0 .2rem}\n"
    "h2{font-size:1.4rem;margin:2.6rem 0 .8rem;padding-top:.6rem;border-top:1px solid var(--line)}\n"
    "h3{font-size:1.15rem;margin:0 0 .3rem}\n"
    "p{margin:.4rem 0}.soft{color:var(--soft)}\n"
    "table{border-collapse:collapse;width:100%}\n"
    "th,td{text-align:left;padding:.35rem .6rem .35rem 0;border-bottom:1px solid var(--line);vertical-align:baseline}\n"
    "th{font-weight:normal;color:var(--soft);font-size:.9rem}td.n,th.n{text-align:right;font-variant-numeric:tabular-"
    "nums}\n"
    "ul,ol{padding-left:1.3rem;margin:.4rem 0}li{margin:.25rem 0}\n"
    ".facts{display:grid;grid-template-columns:repeat(auto-fit,minmax(9rem,1fr));gap:.8rem;margin:1rem 0;padding:0}\n"
    ".facts div{border-left:3px solid var(--mark);padding-left:.7rem}\n"
    ".facts dt{color:var(--soft);font-size:.85rem}.facts dd{margin:0;font-size:1.15rem}\n"
    ".picture{background:#fff;border:1px solid var(--line);border-radius:6px;padding:.6rem;margin:.4rem "
    "0;width:fit-content;max-width:100%}\n"
    ".picture svg{display:block;max-width:100%;height:auto}\n"
    ".swatch{flex:none;background:#fff;border-radius:50%}.swatch g{stroke-width:.1}\n"
    "button{font:inherit;color:inherit}button:focus-visible,input:focus-visible,select:focus-visible,a:focus-visible"
    "{outline:3px solid var(--mark);outline-offset:2px}\n"
    "a{color:var(--mark)}\n"
    ".hidden-defs{position:absolute;width:0;height:0}\n"
    "@media (max-width:34rem){main{padding:1rem .8rem 3rem}table{font-size:.85rem}"
    "th,td{padding-right:.35rem;overflow-wrap:break-word}th{font-size:.8rem}}\n"
    "@media print{:root{--ink:#000;--soft:#444;--paper:#fff;--line:#bbb;--card:#fff;--mark:#000}"
    "body{font-size:10.5pt}main{max-width:none;padding:0}.screen{display:none!important}"
    "h2{break-after:avoid}section.zone,.keep{break-inside:avoid}@page{margin:14mm}}\n";

void girdle_html_begin(girdle_writer *out, const char *title, const char *style) {
  girdle_write(out, "<!DOCTYPE html>\n<html lang=\"");
  girdle_say_xml(out, "en");
  girdle_write(out,
               "\">\n<head>\n<meta charset=\"utf-8\">\n"
               "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n"
               "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src "
               "'unsafe-inline'; "
               "script-src 'unsafe-inline'\">\n<link rel=\"icon\" href=\"data:,\">\n<title>");
  girdle_write_xml(out, title);
  girdle_write(out, "</title>\n<style>\n");
  girdle_write(out, girdle_html_style);
  girdle_write(out, style);
  girdle_write(out, "</style>\n</head>\n<body>\n<main>\n");
}

void girdle_html_end(girdle_writer *out, const char *script) {
  girdle_write(out, "</main>\n");
  if (script) {
    girdle_write(out, "<script>\n");
    girdle_write(out, script);
    girdle_write(out, "</script>\n");
  }
  girdle_write(out, "</body>\n</html>\n");
}

void girdle_html_element(girdle_writer *out, const char *name, const char *text) {
  girdle_write_format(out, "<%s>", name);
  girdle_write_xml(out, text);
  girdle_write_format(out, "</%.*s>\n", (int)strcspn(name, " "), name);
}

void girdle_html_say(girdle_writer *out, const char *name, const char *english) {
  girdle_html_element(out, name, girdle_phrase(out->phrases, english));
}

void girdle_html_section(girdle_writer *out, const char *id, const char *heading) {
  girdle_write_format(out, "<h2 id=\"%s\">", id);
  girdle_say_xml(out, heading);
  girdle_write(out, "</h2>\n");
}

/* ---- pictures */

void girdle_html_kinds(girdle_writer *out, const girdle_kinds *kinds) {
  girdle_write(out, "<svg class=\"hidden-defs\" aria-hidden=\"true\" focusable=\"false\"><defs>\n");
  girdle_svg_write_kinds(out, kinds);
  girdle_write(out, "</defs></svg>\n");
}

static void view_box(girdle_writer *out, const girdle_box *box, double edge) {
  const double numbers[4] = {box->left_mm - edge, box->top_mm - edge, box->right_mm - box->left_mm + 2 * edge,
                             box->bottom_mm - box->top_mm + 2 * edge};
  girdle_write(out, " viewBox=\"");
  for (int i = 0; i < 4; i++) {
    if (i) girdle_write(out, " ");
    girdle_write_number(out, numbers[i], 3);
  }
  girdle_write(out, "\"");
}

void girdle_html_swatch(girdle_writer *out, const girdle_kinds *kinds, uint64_t kind) {
  const girdle_stone *stone = &kinds->kinds[kind].stone;
  double reach = girdle_stone_circle_mm(stone);
  const girdle_box box = {-reach, -reach, reach, reach};
  girdle_write(out, "<svg class=\"swatch\" width=\"28\" height=\"28\" aria-hidden=\"true\"");
  view_box(out, &box, 0.3);
  girdle_write(out, ">");
  girdle_svg_begin_kind(out, &kinds->kinds[kind], kind);
  girdle_svg_write_stone(out, stone, kind, NULL, 0, 0, 0);
  girdle_write(out, "</g></svg>");
}

int32_t girdle_html_zone(girdle_writer *out, const girdle_slot *slot, const girdle_kinds *kinds, double dots_a_mm) {
  double wide = slot->box.right_mm - slot->box.left_mm + 4;
  int32_t status;
  girdle_write(out, "<div class=\"picture\"><svg role=\"img\" aria-label=\"");
  girdle_write_xml(out, slot->name);
  girdle_write(out, "\" stroke-width=\".12\"");
  girdle_write_format(out, " width=\"%d\"", (int)ceil(fmin(wide * dots_a_mm, 1e4)));
  view_box(out, &slot->box, 2);
  girdle_write(out, ">\n");
  status = girdle_svg_write_zone(out, slot, kinds, 0);
  girdle_write(out, "</svg></div>\n");
  return status;
}

/* What the longest side of all zones takes, in dots: it fits a card of the page, so that no picture is made smaller
 * than the others. */
enum { MOST_DOTS = 180 };

int32_t girdle_html_scale(girdle_writer *out, const girdle_job *job, double *dots_a_mm) {
  girdle_layout layout;
  int32_t status = girdle_layout_measure(out->call, job, out->phrases, &layout);
  for (uint64_t i = 0; i < layout.count; i++) {
    const girdle_box *box = &layout.slots[i].box;
    const double longest = fmax(box->right_mm - box->left_mm, box->bottom_mm - box->top_mm);
    *dots_a_mm = fmin(*dots_a_mm, MOST_DOTS / fmax(longest, 1));
  }
  girdle_layout_free(&layout);
  return status;
}

int32_t girdle_html_costume(girdle_writer *out, const girdle_job *job, const girdle_kinds *kinds, double dots_a_mm) {
  girdle_layout layout;
  int32_t status = girdle_layout_measure(out->call, job, out->phrases, &layout);
  girdle_write(out, "<div class=\"costume\">\n");
  for (uint64_t i = 0; i < layout.count && !status; i++) {
    if (!layout.slots[i].count) continue;
    girdle_write(out, "<figure>");
    status = girdle_html_zone(out, &layout.slots[i], kinds, dots_a_mm);
    girdle_html_element(out, "figcaption", layout.slots[i].name);
    girdle_write(out, "</figure>\n");
  }
  girdle_write(out, "</div>\n");
  girdle_layout_free(&layout);
  return status;
}

/* ---- the figure */

/* Where a zone is worn, by a word in its name, on a figure 100 wide and 200 high; x is on the wearer's right. */
static const struct {
  const char *word;
  double x, y;
} places[] = {{"hair", 50, 8},      {"head", 50, 8},    {"crown", 50, 6},   {"collar", 50, 37}, {"neck", 50, 37},
              {"shoulder", 32, 40}, {"strap", 38, 41},  {"yoke", 50, 47},   {"cuff", 17, 100},  {"wrist", 17, 100},
              {"glove", 14, 108},   {"sleeve", 24, 72}, {"arm", 26, 66},    {"bodice", 50, 62}, {"chest", 50, 56},
              {"top", 50, 56},      {"back", 50, 60},   {"waist", 50, 87},  {"belt", 50, 87},   {"sash", 50, 90},
              {"hip", 40, 101},     {"skirt", 50, 124}, {"panel", 50, 116}, {"hem", 50, 150},   {"leg", 42, 176},
              {"ankle", 42, 188},   {"boot", 42, 192}};

/* A name in other words tells no place; then the side does: amid the front or back, or on the hip. */
static int find_by_side(const girdle_slot *slot, double *x, double *y) {
  const char *side = slot->zone->side;
  *x = strcmp(side, "left") == 0 || strcmp(side, "right") == 0 ? 40 : 50;
  *y = 74;
  return side[0] != '\0';
}

static int find_place(const girdle_slot *slot, double *x, double *y) {
  for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
    if (!strstr(slot->zone->name, places[i].word)) continue;
    *x = places[i].x;
    *y = places[i].y;
    return 1;
  }
  return find_by_side(slot, x, y);
}

static void draw_body(girdle_writer *out, double x, const char *name) {
  girdle_write_format(out, "<g transform=\"translate(%d 0)\">", (int)x);
  girdle_write(
      out,
      "<g fill=\"none\" stroke=\"#8d8d96\" stroke-width=\".8\" stroke-linejoin=\"round\">"
      "<ellipse cx=\"50\" cy=\"15\" rx=\"8\" ry=\"10\"/><path d=\"M46 24v6M54 24v6M42 153l1.5 38M58 153l-1.5 38\"/>"
      "<path d=\"M42 31Q50 40 58 31L70 37Q80 66 86 99L79 102Q72 80 66 62Q65 77 62 87Q70 104 84 150Q50 160 16 150Q30 "
      "104 38 87Q35 77 34 62Q28 80 21 102L14 99Q20 66 30 37Z\"/></g>");
  girdle_write(out, "<text x=\"50\" y=\"203\" font-size=\"6\" text-anchor=\"middle\" fill=\"#55555e\">");
  girdle_say_xml(out, name);
  girdle_write(out, "</text>");
}

static void draw_dot(girdle_writer *out, double x, double y, uint64_t number) {
  girdle_write(out, "<circle cx=\"");
  girdle_write_number(out, x, 2);
  girdle_write(out, "\" cy=\"");
  girdle_write_number(out, y, 2);
  girdle_write(out, "\" r=\"4.6\" fill=\"#8a3b12\"/><text fill=\"#fff\" font-size=\"5.4\" text-anchor=\"middle\" x=\"");
  girdle_write_number(out, x, 2);
  girdle_write(out, "\" y=\"");
  girdle_write_number(out, y + 1.9, 2);
  girdle_write_format(out, "\">%llu</text>", (unsigned long long)number);
}

static int is_on(const girdle_slot *slot, int back) {
  const char *side = slot->zone->side;
  return strcmp(side, back ? "front" : "back") != 0 &&
         (!back || strcmp(side, "both") == 0 || strcmp(side, "back") == 0);
}

/* Numbers of zones at one place step aside, four in a row. The wearer's left is to the right from the front, to the
 * left from behind.
 */
static void draw_dots(girdle_writer *out, const girdle_layout *layout, int back) {
  for (uint64_t i = 0; i < layout->count; i++) {
    double x, y, other_x, other_y;
    int left = strcmp(layout->slots[i].zone->side, "left") == 0, before = 0;
    if (!is_on(&layout->slots[i], back) || !find_place(&layout->slots[i], &x, &y)) continue;
    for (uint64_t k = 0; k < i; k++)
      before += is_on(&layout->slots[k], back) && find_place(&layout->slots[k], &other_x, &other_y) && other_x == x &&
                other_y == y && strcmp(layout->slots[k].zone->side, layout->slots[i].zone->side) == 0;
    draw_dot(out, (left != back ? 100 - x : x) + 10 * (before % 4), y + 10 * (before / 4), i + 1);
  }
}

void girdle_html_figure(girdle_writer *out, const girdle_layout *layout) {
  girdle_write(out, "<div class=\"picture keep\"><svg role=\"img\" aria-label=\"");
  girdle_say_xml(out, "Where the zones are, front and back");
  girdle_write(out, "\" width=\"440\" viewBox=\"0 0 220 208\">");
  draw_body(out, 0, "front");
  draw_dots(out, layout, 0);
  girdle_write(out, "</g>");
  draw_body(out, 120, "back");
  draw_dots(out, layout, 1);
  girdle_write(out, "</g></svg></div>\n");
}
