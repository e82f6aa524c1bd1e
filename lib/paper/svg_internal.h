/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_SVG_INTERNAL_H
#define GIRDLE_SVG_INTERNAL_H

/* Reading SVG in three steps: the file becomes a tree of nodes (svg_read.c, by svg_attributes.c), and walking the tree
 * gives the outlines in millimetres (svg_walk.c). */

#include "paper_internal.h"

enum {
  /* A point takes 232 bytes as a piece of a path, and once more while it is turned or scaled. With what expat and the
   * tree take, a drawing stays below 256 MB whatever a file holds. */
  GIRDLE_SVG_MOST_POINTS = 1000000, /* of all outlines together */
  GIRDLE_SVG_MOST_DATA = 24 << 20,  /* bytes of all path data, as it is written */
  GIRDLE_SVG_MOST_TAG = 32 << 20,   /* bytes of one element with its attributes, which expat holds whole */
  GIRDLE_SVG_MOST_NODES = 200000,
  GIRDLE_SVG_MOST_DEPTH = 256,      /* of elements */
  GIRDLE_SVG_MOST_USES = 16,        /* of `use` through `use` */
  GIRDLE_SVG_MOST_VISITS = 1000000, /* of nodes, while walking */
  GIRDLE_SVG_MOST_OUTLINES = 10000
};

enum { GIRDLE_SVG_GROUP, GIRDLE_SVG_SHAPE, GIRDLE_SVG_USE };

/* An element that draws or holds what draws. Texts are offsets into the tree's text, 0 for none. */
typedef struct girdle_svg_node {
  int32_t kind, line, column;
  int32_t hidden;                     /* defs: only drawn through `use` */
  uint32_t parent, first, last, next; /* nodes; 0 for none, since node 0 is the root */
  int32_t named;                      /* outlines that took this node's name so far */
  double matrix[6];
  uint64_t id, title, href, data, data_bytes;
} girdle_svg_node;

typedef struct girdle_svg_tree {
  girdle_call *call;
  girdle_allocator memory;
  girdle_faults faults;
  girdle_svg_node *nodes;
  uint64_t node_count, node_capacity;
  char *text;
  uint64_t text_used, text_capacity, data_bytes;
  double box_width, box_height; /* what percentages are of, in user units; NaN when not known */
  int stop;
} girdle_svg_tree;

/* Fills a tree from a file; on an error the tree still wants freeing. */
int32_t girdle_svg_read(girdle_call *call, const char *source, const girdle_tap *from, girdle_svg_tree *tree);
void girdle_svg_free(girdle_svg_tree *tree);
/* Keeps a text; its offset, or 0 with the error set. */
uint64_t girdle_svg_keep(girdle_svg_tree *tree, const char *text, uint64_t bytes);

/* ---- attributes: name, value, name, value, ... NULL, as expat gives them */

const char *girdle_svg_attribute(const char **attributes, const char *name);
/* The root's matrix from user units to millimetres, and what percentages are of. */
int32_t girdle_svg_root(girdle_svg_tree *tree, const char **attributes, double matrix[6]);
int32_t girdle_svg_transform(girdle_call *call, const char *text, double matrix[6]);
/* An attribute's length in user units; `of` is what 100 % is (NaN: not known); `fallback` when it is missing. */
int32_t girdle_svg_length(girdle_call *call, const char **attributes, const char *name, double of, double fallback,
                          double *out);
/* Path data of a basic shape or path, written to the tree's text; *out is 0 when the shape draws nothing. */
int32_t girdle_svg_shape(girdle_svg_tree *tree, const char *element, const char **attributes, uint64_t *out,
                         uint64_t *bytes);
int girdle_svg_is_shape(const char *element);
/* Whether a text is pairs of numbers, as points are. */
int girdle_svg_is_pairs(const char *text);
/* How many pieces path data make at most. */
uint64_t girdle_svg_points(const char *data);

/* ---- styles: what of CSS changes which outlines there are (svg_style.c). All zero: at the start of a style sheet. */

typedef struct girdle_svg_style {
  int32_t depth; /* of blocks that are open */
  int32_t parentheses, in_value, in_comment;
  char name[16], value[8]; /* of the declaration that is being read */
  char quote, before;      /* the open quotation mark, the last character */
  int32_t hides;           /* display: none */
  char moves[16];          /* the first property that changes a size or a place; "" none */
} girdle_svg_style;

/* Reads on; declarations count as far as they have ended. */
void girdle_svg_style_take(girdle_svg_style *of, const char *text, uint64_t bytes);
/* A whole style attribute. */
girdle_svg_style girdle_svg_style_of(const char *attribute);

/* a after b: first b, then a. `out` may be either. */
void girdle_svg_multiply(const double a[6], const double b[6], double out[6]);

#endif
