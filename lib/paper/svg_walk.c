/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "svg_internal.h"

#include <stdlib.h>
#include <string.h>

typedef struct outline {
  char name[64];
  girdle_path *path;
} outline;

struct girdle_drawing {
  girdle_allocator memory;
  outline *outlines;
  uint64_t count, capacity;
};

/* An id and its node, in order of ids. */
typedef struct entry {
  const char *id;
  uint32_t node;
} entry;

typedef struct walker {
  girdle_svg_tree *tree;
  girdle_drawing *drawing;
  entry *entries;
  uint64_t entry_count, entry_capacity;
  int64_t unnamed, visits;
  uint64_t points; /* of all outlines so far */
  int32_t uses;    /* open ones */
} walker;

static const char too_large[] = "the drawing is too large once every use is drawn";
static const double identity[6] = {1, 0, 0, 1, 0, 0};

static int is_identity(const double matrix[6]) {
  int same = 1;
  for (int i = 0; i < 6; i++)
    same &= matrix[i] == identity[i];
  return same;
}

/* ---- ids */

static int by_id(const void *a, const void *b) {
  const entry *first = a, *second = b;
  int order = strcmp(first->id, second->id);
  return order ? order : first->node < second->node ? -1 : 1;
}

static int32_t gather_ids(walker *in) {
  girdle_svg_tree *tree = in->tree;
  for (uint32_t i = 0; i < tree->node_count; i++) {
    if (!tree->nodes[i].id) continue;
    GIRDLE_TRY(girdle_common_grow(tree->call, &tree->memory, (void **)&in->entries, &in->entry_capacity,
                                  in->entry_count + 1, sizeof *in->entries));
    in->entries[in->entry_count++] = (entry){tree->text + tree->nodes[i].id, i};
  }
  if (in->entry_count) qsort(in->entries, (size_t)in->entry_count, sizeof *in->entries, by_id);
  return GIRDLE_OK;
}

static void fault_at(walker *in, const girdle_svg_node *node, int32_t status) {
  in->tree->stop |= girdle_faults_take(&in->tree->faults, status, node->line, node->column);
}

static void report_twins(walker *in) {
  for (uint64_t i = 1; i < in->entry_count && !in->tree->stop; i++) {
    const girdle_svg_node *node = &in->tree->nodes[in->entries[i].node];
    if (strcmp(in->entries[i - 1].id, in->entries[i].id) != 0) continue;
    fault_at(in, node,
             girdle_common_fail(in->tree->call, GIRDLE_SYNTAX, "id", "the id '%.60s' stands twice", in->entries[i].id));
  }
}

static int compare_id(const void *key, const void *element) {
  return strcmp(key, ((const entry *)element)->id);
}

static int32_t find_target(walker *in, const girdle_svg_node *use, uint32_t *out) {
  const char *href = use->href ? in->tree->text + use->href : "";
  const entry *found = NULL;
  if (href[0] == '#' && in->entry_count)
    found = bsearch(href + 1, in->entries, (size_t)in->entry_count, sizeof *in->entries, compare_id);
  if (!found)
    return girdle_common_fail(in->tree->call, GIRDLE_UNKNOWN, "href",
                              "use refers to \"%.60s\", which is no outline or group of this drawing", href);
  *out = found->node;
  return GIRDLE_OK;
}

/* ---- outlines */

static const char *own_name(const walker *in, uint32_t index) {
  const girdle_svg_node *node = &in->tree->nodes[index];
  uint64_t name = node->id ? node->id : node->title;
  return name ? in->tree->text + name : NULL;
}

/* The first outline that takes a group's name has it alone, the next ones with a number behind. */
static int32_t name_outline(walker *in, int64_t namer, char *field, uint64_t bytes) {
  girdle_svg_tree *tree = in->tree;
  const char *name = namer < 0 ? "outline" : own_name(in, (uint32_t)namer);
  int64_t number = namer < 0 ? ++in->unnamed : ++tree->nodes[namer].named;
  char digits[24];
  girdle_number_text((double)number, 0, digits, sizeof digits);
  if (strlen(name) + strlen(digits) + 2 > bytes)
    return girdle_common_fail(tree->call, GIRDLE_LIMIT, "id", "the name '%.40s...' is longer than %d bytes", name,
                              (int)bytes - 4);
  strcpy(field, name);
  if (number == 1 && namer >= 0) return GIRDLE_OK;
  strcat(field, " ");
  strcat(field, digits);
  return GIRDLE_OK;
}

static int32_t check_name(walker *in, const char *name) {
  for (uint64_t i = 0; i < in->drawing->count; i++)
    if (strcmp(in->drawing->outlines[i].name, name) == 0)
      return girdle_common_fail(in->tree->call, GIRDLE_SYNTAX, "id", "two outlines are named '%.60s'", name);
  return GIRDLE_OK;
}

/* A path that is but a point, as a stray click leaves it, draws nothing: *out is NULL. */
static int32_t make_path(walker *in, const girdle_svg_node *node, const double matrix[6], girdle_path **out) {
  girdle_call *call = in->tree->call;
  const char *data = in->tree->text + node->data;
  int as_it_is = is_identity(matrix);
  uint64_t points = girdle_svg_points(data);
  girdle_path *plain;
  int32_t status;
  in->points += points;
  if (in->points + (as_it_is ? 0 : points) > GIRDLE_SVG_MOST_POINTS)
    return girdle_common_fail(call, GIRDLE_LIMIT, "d",
                              "the outlines of the drawing have more than %d points; half as many when the drawing's "
                              "units are not millimetres",
                              GIRDLE_SVG_MOST_POINTS);
  status = girdle_path_parse(call, data, node->data_bytes, &plain);
  if (status || as_it_is) {
    *out = status ? NULL : plain;
    return status == GIRDLE_GEOMETRY ? GIRDLE_OK : status;
  }
  status = girdle_path_transformed(call, plain, matrix, out);
  girdle_path_free(plain);
  return status;
}

static int32_t add_outline(walker *in, const girdle_svg_node *node, const double matrix[6], int64_t namer) {
  girdle_svg_tree *tree = in->tree;
  girdle_drawing *drawing = in->drawing;
  outline made = {.path = NULL};
  int32_t status;
  if (drawing->count == GIRDLE_SVG_MOST_OUTLINES)
    return girdle_common_fail(tree->call, GIRDLE_LIMIT, NULL, "the drawing has more than %d outlines",
                              GIRDLE_SVG_MOST_OUTLINES);
  GIRDLE_TRY(girdle_common_tick(tree->call, drawing->count + node->data_bytes, -1));
  GIRDLE_TRY(girdle_common_grow(tree->call, &drawing->memory, (void **)&drawing->outlines, &drawing->capacity,
                                drawing->count + 1, sizeof made));
  GIRDLE_TRY(make_path(in, node, matrix, &made.path));
  if (!made.path) return GIRDLE_OK;
  status = name_outline(in, namer, made.name, sizeof made.name);
  if (!status) status = check_name(in, made.name);
  if (status)
    girdle_path_free(made.path);
  else
    drawing->outlines[drawing->count++] = made;
  return status;
}

/* ---- walking. Recursion goes as deep as elements nest, times uses within uses; both are limited. */

static void walk(walker *in, uint32_t index, const double outer[6], int64_t namer, int through_use);

static void walk_use(walker *in, uint32_t index, const double matrix[6], int64_t namer, int through_use) {
  const girdle_svg_node *node = &in->tree->nodes[index];
  uint32_t target = 0;
  int32_t status = find_target(in, node, &target);
  if (!status && in->uses == GIRDLE_SVG_MOST_USES)
    status = girdle_common_fail(in->tree->call, GIRDLE_LIMIT, "use",
                                "use goes through more than %d others, or in a ring", GIRDLE_SVG_MOST_USES);
  if (status) {
    fault_at(in, node, status);
    return;
  }
  in->uses++;
  walk(in, target, matrix, namer, through_use || namer == (int64_t)index);
  in->uses--;
}

/* `namer` is the nearest named node above; through a named use, its name stands for whatever is in it. */
static void walk(walker *in, uint32_t index, const double outer[6], int64_t namer, int through_use) {
  girdle_svg_node *node = &in->tree->nodes[index];
  double matrix[6];
  if (in->tree->stop || node->hidden) return;
  if (++in->visits > GIRDLE_SVG_MOST_VISITS) {
    in->tree->stop = 1; /* uses of uses may multiply without drawing anything */
    fault_at(in, node, girdle_common_fail(in->tree->call, GIRDLE_LIMIT, "use", "%s", too_large));
    return;
  }
  if (!through_use && own_name(in, index)) namer = index;
  girdle_svg_multiply(outer, node->matrix, matrix);
  if (node->kind == GIRDLE_SVG_USE) {
    walk_use(in, index, matrix, namer, through_use);
  } else if (node->kind == GIRDLE_SVG_SHAPE) {
    if (node->data) fault_at(in, node, add_outline(in, node, matrix, namer));
  } else {
    for (uint32_t child = node->first; child && !in->tree->stop; child = in->tree->nodes[child].next)
      walk(in, child, matrix, namer, through_use);
  }
}

static int32_t walk_all(girdle_svg_tree *tree, girdle_drawing *drawing) {
  walker in;
  int32_t status;
  memset(&in, 0, sizeof in);
  in.tree = tree;
  in.drawing = drawing;
  status = gather_ids(&in);
  if (status) girdle_faults_take(&tree->faults, status, -1, -1);
  if (!status) report_twins(&in);
  if (!status) walk(&in, 0, identity, -1, 0);
  girdle_common_release(&tree->memory, in.entries, in.entry_capacity * sizeof *in.entries);
  return tree->faults.status;
}

/* ---- the drawing */

static int32_t make_drawing(girdle_call *call, girdle_svg_tree *tree, girdle_drawing **out) {
  girdle_drawing *drawing = girdle_common_new(call, sizeof *drawing);
  if (!drawing) return GIRDLE_MEMORY;
  drawing->memory = girdle_common_memory(call);
  if (walk_all(tree, drawing)) {
    girdle_drawing_free(drawing);
    return tree->faults.status;
  }
  *out = drawing;
  return GIRDLE_OK;
}

int32_t girdle_paper_read_svg_from(girdle_call *call, const char *source, const girdle_tap *from,
                                   girdle_drawing **out) {
  GIRDLE_GIVEN(call, from, out);
  girdle_svg_tree tree;
  int32_t status = girdle_svg_read(call, source, from, &tree);
  if (!status) status = make_drawing(call, &tree, out);
  girdle_svg_free(&tree);
  if (status && !tree.faults.status) girdle_faults_take(&tree.faults, status, -1, -1);
  return girdle_faults_end(&tree.faults);
}

typedef struct left {
  const char *text;
  uint64_t bytes;
} left;

static int64_t read_text(void *context, void *buffer, uint64_t most) {
  left *of = context;
  uint64_t take = of->bytes < most ? of->bytes : most;
  if (take) memcpy(buffer, of->text, (size_t)take);
  of->text += take;
  of->bytes -= take;
  return (int64_t)take;
}

int32_t girdle_paper_read_svg(girdle_call *call, const char *source, const char *text, uint64_t bytes,
                              girdle_drawing **out) {
  GIRDLE_GIVEN(call, text || !bytes, out);
  left of = {text, bytes};
  const girdle_tap from = {&of, read_text};
  return girdle_paper_read_svg_from(call, source, &from, out);
}

void girdle_drawing_free(girdle_drawing *drawing) {
  girdle_allocator memory;
  if (!drawing) return;
  memory = drawing->memory;
  for (uint64_t i = 0; i < drawing->count; i++)
    girdle_path_free(drawing->outlines[i].path);
  girdle_common_release(&memory, drawing->outlines, drawing->capacity * sizeof *drawing->outlines);
  girdle_common_release(&memory, drawing, sizeof *drawing);
}

uint64_t girdle_drawing_count(const girdle_drawing *drawing) {
  return drawing->count;
}

const char *girdle_drawing_name(const girdle_drawing *drawing, uint64_t index) {
  return index < drawing->count ? drawing->outlines[index].name : NULL;
}

const girdle_path *girdle_drawing_path(const girdle_drawing *drawing, uint64_t index) {
  return index < drawing->count ? drawing->outlines[index].path : NULL;
}
