/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "svg_internal.h"

#define XML_DTD 1 /* only then expat.h declares the limits against entity bombs */
#include <expat.h>
#include <string.h>

/* expat takes its own memory from malloc: its allocator has no context. Entities of the file itself are allowed within
 * expat's limits, lowered; nothing outside the file is ever read. */

enum { ENTITY_BYTES = 1 << 20, ENTITY_GROWTH = 8, TITLE_BYTES = 255 /* more than a name may have */ };

typedef struct loader {
  girdle_svg_tree *tree;
  XML_Parser parser;
  uint32_t current;   /* the node that is open */
  int32_t depth;      /* of all open elements */
  int32_t skip_depth; /* inside an element whose content is passed over: its depth, else 0 */
  int32_t in_title, title_bytes;
  int32_t in_sheet; /* in a style element, read into `sheet` */
  girdle_svg_style sheet;
  char title[TITLE_BYTES + 1];
} loader;

/* ---- the tree */

uint64_t girdle_svg_keep(girdle_svg_tree *tree, const char *text, uint64_t bytes) {
  uint64_t offset = tree->text_used;
  if (girdle_common_grow(tree->call, &tree->memory, (void **)&tree->text, &tree->text_capacity, offset + bytes + 1, 1))
    return 0;
  memcpy(tree->text + offset, text, (size_t)bytes);
  tree->text[offset + bytes] = '\0';
  tree->text_used += bytes + 1;
  return offset;
}

void girdle_svg_free(girdle_svg_tree *tree) {
  girdle_common_release(&tree->memory, tree->nodes, tree->node_capacity * sizeof *tree->nodes);
  girdle_common_release(&tree->memory, tree->text, tree->text_capacity);
}

static int32_t add_node(girdle_svg_tree *tree, uint32_t parent, const girdle_svg_node *node) {
  uint32_t index = (uint32_t)tree->node_count;
  if (index == GIRDLE_SVG_MOST_NODES)
    return girdle_common_fail(tree->call, GIRDLE_LIMIT, NULL, "the drawing has more than %d elements",
                              GIRDLE_SVG_MOST_NODES);
  GIRDLE_TRY(girdle_common_grow(tree->call, &tree->memory, (void **)&tree->nodes, &tree->node_capacity, index + 1,
                                sizeof *tree->nodes));
  tree->nodes[index] = *node;
  tree->nodes[index].parent = parent;
  tree->node_count++;
  if (index == 0) return GIRDLE_OK;
  if (tree->nodes[parent].last)
    tree->nodes[tree->nodes[parent].last].next = index;
  else
    tree->nodes[parent].first = index;
  tree->nodes[parent].last = index;
  return GIRDLE_OK;
}

/* ---- faults */

static void fault(loader *in, int32_t status) {
  int32_t line = (int32_t)XML_GetCurrentLineNumber(in->parser);
  int32_t column = (int32_t)XML_GetCurrentColumnNumber(in->parser) + 1;
  if (!girdle_faults_take(&in->tree->faults, status, line, column)) return;
  in->tree->stop = 1;
  XML_StopParser(in->parser, XML_FALSE);
}

/* ---- elements */

static const char svg_space[] = "http://www.w3.org/2000/svg ";

/* The name without SVG's namespace; NULL for another one's. A file without namespaces is taken as SVG. */
static const char *svg_name(const char *name) {
  if (strncmp(name, svg_space, sizeof svg_space - 1) == 0) return name + sizeof svg_space - 1;
  return strchr(name, ' ') ? NULL : name;
}

static int is_one_of(const char *name, const char *const *names) {
  for (; *names; names++)
    if (strcmp(name, *names) == 0) return 1;
  return 0;
}

/* What is not drawn where it stands, or only tells how or when to draw. */
static int is_passed_over(const char *name) {
  static const char *const names[] = {
      "desc",          "metadata", "style",          "script",           "clipPath", "mask",
      "marker",        "pattern",  "linearGradient", "radialGradient",   "filter",   "cursor",
      "view",          "animate",  "animateMotion",  "animateTransform", "set",      "font",
      "color-profile", NULL};
  return is_one_of(name, names);
}

static int32_t refuse(loader *in, const char *name) {
  return girdle_common_fail(in->tree->call, GIRDLE_UNKNOWN, name,
                            "<%.40s> is not read: only path, rect, circle, ellipse, line, polyline, polygon, g and use "
                            "are; turn it into a path, or hide it",
                            name);
}

static int is_hidden(const char **attributes) {
  const char *display = girdle_svg_attribute(attributes, "display");
  const char *style = girdle_svg_attribute(attributes, "style");
  if (display && strcmp(display, "none") == 0) return 1;
  return style && girdle_svg_style_of(style).hides;
}

/* Sizes and places are read from attributes alone; what a style says otherwise must not be passed over in silence. */
static int32_t check_style(loader *in, const char *name, const char **attributes) {
  const char *text = girdle_svg_attribute(attributes, "style");
  girdle_svg_style style;
  if (!text) return GIRDLE_OK;
  style = girdle_svg_style_of(text);
  if (!style.moves[0]) return GIRDLE_OK;
  return girdle_common_fail(in->tree->call, GIRDLE_UNKNOWN, "style",
                            "<%.40s> has %s in its style, where it is not read: write it as an attribute", name,
                            style.moves);
}

/* A fault as soon as a rule is through that hides something or changes its size or place. */
static int32_t check_sheet(loader *in) {
  const char *found = in->sheet.moves[0] ? in->sheet.moves : "display: none";
  if (!in->sheet.moves[0] && !in->sheet.hides) return GIRDLE_OK;
  in->in_sheet = 0;
  return girdle_common_fail(in->tree->call, GIRDLE_UNKNOWN, "style",
                            "<style> has a rule with %s; style sheets are not read: write it as an attribute of the "
                            "elements that it is for",
                            found);
}

/* Offsets of the attributes that every node has. */
static int32_t keep_attributes(loader *in, const char **attributes, girdle_svg_node *node) {
  girdle_svg_tree *tree = in->tree;
  const char *id = girdle_svg_attribute(attributes, "id"), *href = girdle_svg_attribute(attributes, "href");
  const char *transform = girdle_svg_attribute(attributes, "transform");
  if (!href) href = girdle_svg_attribute(attributes, "http://www.w3.org/1999/xlink href");
  if (!href) href = girdle_svg_attribute(attributes, "xlink:href");
  if (id && *id && !(node->id = girdle_svg_keep(tree, id, strlen(id)))) return GIRDLE_MEMORY;
  if (href && !(node->href = girdle_svg_keep(tree, href, strlen(href)))) return GIRDLE_MEMORY;
  return girdle_svg_transform(tree->call, transform ? transform : "", node->matrix);
}

static int32_t use_place(loader *in, const char **attributes, girdle_svg_node *node) {
  double shift[6] = {1, 0, 0, 1, 0, 0};
  girdle_svg_tree *tree = in->tree;
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "x", tree->box_width, 0, &shift[4]));
  GIRDLE_TRY(girdle_svg_length(tree->call, attributes, "y", tree->box_height, 0, &shift[5]));
  girdle_svg_multiply(node->matrix, shift, node->matrix);
  return GIRDLE_OK;
}

static int32_t root_node(loader *in, const char *name, const char **attributes, girdle_svg_node *node) {
  double matrix[6];
  if (!name || strcmp(name, "svg") != 0)
    return girdle_common_fail(in->tree->call, GIRDLE_SYNTAX, NULL, "the file holds XML, but not an SVG drawing");
  GIRDLE_TRY(girdle_svg_root(in->tree, attributes, matrix));
  girdle_svg_multiply(matrix, node->matrix, node->matrix);
  node->id = 0; /* the whole drawing names no outline */
  return GIRDLE_OK;
}

/* Fills a node from an element that draws or groups; what is neither is refused. */
static int32_t make_node(loader *in, const char *name, const char **attributes, girdle_svg_node *node) {
  static const char *const groups[] = {"g", "a", "defs", NULL};
  GIRDLE_TRY(check_style(in, in->depth == 1 ? "svg" : name, attributes));
  GIRDLE_TRY(keep_attributes(in, attributes, node));
  if (in->depth == 1) return root_node(in, name, attributes, node);
  node->hidden = strcmp(name, "defs") == 0;
  if (is_one_of(name, groups)) return GIRDLE_OK;
  node->kind = strcmp(name, "use") == 0 ? GIRDLE_SVG_USE : GIRDLE_SVG_SHAPE;
  if (node->kind == GIRDLE_SVG_USE) return use_place(in, attributes, node);
  if (!girdle_svg_is_shape(name)) return refuse(in, name);
  return girdle_svg_shape(in->tree, name, attributes, &node->data, &node->data_bytes);
}

static void skip_from_here(loader *in) {
  in->skip_depth = in->depth;
}

static int is_in_defs(const loader *in) {
  const girdle_svg_node *nodes = in->tree->nodes;
  uint32_t at = in->current;
  while (at && !nodes[at].hidden)
    at = nodes[at].parent;
  return at != 0;
}

/* What `defs` hold is only read where a `use` draws it, so nothing in them is refused. */
static int must_skip(loader *in, const char *name, const char **attributes) {
  static const char *const read[] = {"g", "a", "defs", "use", NULL};
  if (in->depth == 1) return 0;
  if (!name || is_passed_over(name) || is_hidden(attributes)) return 1;
  return !is_one_of(name, read) && !girdle_svg_is_shape(name) && is_in_defs(in);
}

/* White space around and inside a title becomes single spaces. Called in titles only: all other text, which may be the
 * most of a large file, is nobody's. */
static void XMLCALL characters(void *context, const char *text, int length) {
  loader *in = context;
  for (int i = 0; i < length && in->title_bytes < TITLE_BYTES; i++) {
    int space = strchr(" \t\r\n", text[i]) != NULL;
    if (space && (in->title_bytes == 0 || in->title[in->title_bytes - 1] == ' ')) continue;
    in->title[in->title_bytes++] = space ? ' ' : text[i];
  }
}

static void XMLCALL sheet_characters(void *context, const char *text, int length) {
  loader *in = context;
  for (int i = 0; i < length && in->in_sheet; i++) {
    girdle_svg_style_take(&in->sheet, text + i, 1);
    if (text[i] == ';' || text[i] == '}') fault(in, check_sheet(in));
  }
}

/* What is passed over is read all the same where it is a title or a style sheet. */
static void skip_element(loader *in, const char *name) {
  in->in_sheet = !in->in_title && name && strcmp(name, "style") == 0;
  if (in->in_title) XML_SetCharacterDataHandler(in->parser, characters);
  if (in->in_sheet) XML_SetCharacterDataHandler(in->parser, sheet_characters);
  memset(&in->sheet, 0, sizeof in->sheet);
  skip_from_here(in);
}

static void XMLCALL start(void *context, const char *full_name, const char **attributes) {
  loader *in = context;
  const char *name;
  girdle_svg_node node;
  int32_t status;
  in->depth++;
  if (in->tree->stop) return;
  if (in->depth > GIRDLE_SVG_MOST_DEPTH) {
    in->tree->stop = 1;
    fault(in, girdle_common_fail(in->tree->call, GIRDLE_LIMIT, NULL, "elements stand more than %d deep in each other",
                                 GIRDLE_SVG_MOST_DEPTH));
    XML_StopParser(in->parser, XML_FALSE);
    return;
  }
  if (in->skip_depth) return;
  name = svg_name(full_name);
  in->in_title = in->depth > 1 && name && strcmp(name, "title") == 0;
  if (in->in_title || must_skip(in, name, attributes)) {
    skip_element(in, name);
    return;
  }
  memset(&node, 0, sizeof node);
  node.line = (int32_t)XML_GetCurrentLineNumber(in->parser);
  node.column = (int32_t)XML_GetCurrentColumnNumber(in->parser) + 1;
  status = make_node(in, name, attributes, &node);
  if (!status) status = add_node(in->tree, in->current, &node);
  if (status) {
    skip_from_here(in);
    fault(in, status);
    return;
  }
  in->current = (uint32_t)in->tree->node_count - 1;
}

static void keep_title(loader *in) {
  girdle_svg_node *node = &in->tree->nodes[in->current];
  in->in_title = 0;
  if (in->title_bytes && in->title[in->title_bytes - 1] == ' ') in->title_bytes--;
  if (node->title || in->current == 0 || in->title_bytes == 0) return;
  node->title = girdle_svg_keep(in->tree, in->title, (uint64_t)in->title_bytes);
  if (!node->title) fault(in, GIRDLE_MEMORY);
}

static void XMLCALL end(void *context, const char *full_name) {
  loader *in = context;
  (void)full_name;
  if (in->skip_depth == in->depth) {
    in->skip_depth = 0;
    if (in->in_title) keep_title(in);
    in->in_sheet = 0;
    XML_SetCharacterDataHandler(in->parser, NULL);
    in->title_bytes = 0;
  } else if (!in->skip_depth && !in->tree->stop) {
    in->current = in->tree->nodes[in->current].parent;
  }
  in->depth--;
}

static void XMLCALL entity(void *context, const char *name, int is_parameter, const char *value, int value_length,
                           const char *base, const char *system_id, const char *public_id, const char *notation) {
  loader *in = context;
  (void)is_parameter, (void)value, (void)value_length, (void)base, (void)notation;
  if (!system_id && !public_id) return;
  in->tree->stop = 1;
  fault(in, girdle_common_fail(in->tree->call, GIRDLE_SYNTAX, NULL,
                               "the entity '%.40s' stands outside the file; nothing outside a drawing is read", name));
  XML_StopParser(in->parser, XML_FALSE);
}

/* ---- the whole file */

static int32_t parse_fault(loader *in) {
  enum XML_Error code = XML_GetErrorCode(in->parser);
  if (code == XML_ERROR_NO_MEMORY) return girdle_common_fail(in->tree->call, GIRDLE_MEMORY, NULL, "out of memory");
  if (code == XML_ERROR_AMPLIFICATION_LIMIT_BREACH)
    return girdle_common_fail(in->tree->call, GIRDLE_LIMIT, NULL, "the entities of the drawing grow too large");
  return girdle_common_fail(in->tree->call, GIRDLE_SYNTAX, NULL, "the drawing is not well-formed XML: %s",
                            XML_ErrorString(code));
}

/* Reads the next piece of the file; its bytes, or -1 with the fault taken. */
static int64_t fill(loader *in, const girdle_tap *from) {
  enum { PIECE = 1 << 18 };
  girdle_call *call = in->tree->call;
  void *room = XML_GetBuffer(in->parser, PIECE);
  int64_t got = room ? from->read(from->context, room, PIECE) : 0;
  int32_t status = GIRDLE_OK;
  if (!room)
    status = girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  else if (got < 0 || got > PIECE)
    status = girdle_common_fail(call, GIRDLE_STOPPED, NULL, "the drawing could not be read to its end");
  if (!status) status = girdle_common_tick(call, (uint64_t)got / 64 + 1, -1);
  if (!status) return got;
  fault(in, status);
  return -1;
}

/* expat keeps the bytes of a tag until it ends. */
static int is_tag_too_long(loader *in, int64_t read) {
  int64_t begun = (int64_t)XML_GetCurrentByteIndex(in->parser);
  if (read - (begun > 0 ? begun : 0) <= GIRDLE_SVG_MOST_TAG) return 0;
  fault(in, girdle_common_fail(in->tree->call, GIRDLE_LIMIT, NULL, "an element of the drawing is longer than %d MiB",
                               GIRDLE_SVG_MOST_TAG >> 20));
  return 1;
}

static void parse(loader *in, const girdle_tap *from) {
  enum XML_Status status = XML_STATUS_OK;
  int64_t got, read = 0;
  XML_SetUserData(in->parser, in);
  XML_SetElementHandler(in->parser, start, end);
  XML_SetEntityDeclHandler(in->parser, entity);
  XML_SetBillionLaughsAttackProtectionActivationThreshold(in->parser, ENTITY_BYTES);
  XML_SetBillionLaughsAttackProtectionMaximumAmplification(in->parser, ENTITY_GROWTH);
  do {
    got = fill(in, from);
    if (got < 0) return;
    status = XML_ParseBuffer(in->parser, (int)got, got == 0);
    read += got;
  } while (got && status == XML_STATUS_OK && !is_tag_too_long(in, read));
  if (status != XML_STATUS_OK && !in->tree->stop) fault(in, parse_fault(in));
}

static int32_t begin(girdle_svg_tree *tree, girdle_call *call, const char *source) {
  memset(tree, 0, sizeof *tree);
  tree->call = call;
  tree->memory = girdle_common_memory(call);
  girdle_faults_begin(&tree->faults, call, source);
  /* offset 0 means "no text", so something stands there */
  if (girdle_common_grow(call, &tree->memory, (void **)&tree->text, &tree->text_capacity, 1, 1)) return GIRDLE_MEMORY;
  tree->text[tree->text_used++] = '\0';
  return GIRDLE_OK;
}

int32_t girdle_svg_read(girdle_call *call, const char *source, const girdle_tap *from, girdle_svg_tree *tree) {
  loader in;
  GIRDLE_TRY(begin(tree, call, source));
  memset(&in, 0, sizeof in);
  in.tree = tree;
  in.parser = XML_ParserCreateNS(NULL, ' ');
  if (!in.parser) return girdle_common_fail(call, GIRDLE_MEMORY, NULL, "out of memory");
  parse(&in, from);
  XML_ParserFree(in.parser);
  return tree->faults.status;
}
