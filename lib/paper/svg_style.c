/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "svg_internal.h"

#include <string.h>

/* Styles are looked through character by character for the few properties that change which outlines there are or where
 * they lie (SVG 2, section 4.4 and chapter 8); colours and lines are nobody's here. What a declaration is: CSS Syntax
 * 3, section 5; escapes within names are not undone. */

static char lower(char c) {
  return (char)(c >= 'A' && c <= 'Z' ? c + 'a' - 'A' : c);
}

static int is_space(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f';
}

/* What is longer than its room is kept longer than any word that is looked for. */
static void append(char *text, size_t room, char c) {
  size_t used = strlen(text);
  if ((used == 0 && is_space(c)) || used + 1 >= room) return;
  text[used] = is_space(c) ? ' ' : lower(c);
  text[used + 1] = '\0';
}

static int is_geometry(const char *name) {
  static const char *const names[] = {"transform", "translate", "rotate", "scale", "d", "x",  "y",
                                      "width",     "height",    "cx",     "cy",    "r", "rx", "ry"};
  for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
    if (strcmp(name, names[i]) == 0) return 1;
  return 0;
}

static int is_none(const char *value) {
  return strncmp(value, "none", 4) == 0 && (!value[4] || value[4] == ' ' || value[4] == '!');
}

static void begin_declaration(girdle_svg_style *of) {
  of->name[0] = of->value[0] = '\0';
  of->in_value = of->parentheses = 0;
}

/* Outside of any block, as with "@import ...;", there are no declarations. */
static void end_declaration(girdle_svg_style *of) {
  size_t length = strlen(of->name);
  while (length && of->name[length - 1] == ' ')
    of->name[--length] = '\0';
  if (of->depth > 0 && of->in_value) {
    if (strcmp(of->name, "display") == 0) of->hides = is_none(of->value);
    if (is_geometry(of->name) && !of->moves[0]) strcpy(of->moves, of->name);
  }
  begin_declaration(of);
}

static void take(girdle_svg_style *of, char c) {
  if (c == '(') of->parentheses++;
  if (c == ')' && of->parentheses) of->parentheses--;
  if (c == '{') {
    begin_declaration(of); /* that was a selector */
    of->depth++;
  } else if (c == '}' || (c == ';' && !of->parentheses)) {
    end_declaration(of);
    of->depth -= c == '}';
  } else if (c == ':' && !of->in_value) {
    of->in_value = 1;
  } else if (of->in_value) {
    append(of->value, sizeof of->value, c);
  } else {
    append(of->name, sizeof of->name, c);
  }
}

void girdle_svg_style_take(girdle_svg_style *of, const char *text, uint64_t bytes) {
  for (uint64_t i = 0; i < bytes; i++) {
    const char c = text[i], before = of->before;
    of->before = c;
    if (of->in_comment) {
      of->in_comment = !(before == '*' && c == '/');
      if (!of->in_comment) of->before = '\0';
    } else if (of->quote) {
      if (c == of->quote && before != '\\') of->quote = '\0';
    } else if (c == '"' || c == '\'') {
      of->quote = c;
    } else if (before == '/' && c == '*') {
      of->in_comment = 1;
      of->before = '\0';
    } else if (c != '/') {
      take(of, c);
    }
  }
}

girdle_svg_style girdle_svg_style_of(const char *attribute) {
  girdle_svg_style of = {.depth = 1};
  girdle_svg_style_take(&of, attribute, strlen(attribute));
  girdle_svg_style_take(&of, ";", 1);
  return of;
}
