/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* For clang's fuzzer: any bytes as a drawing. What comes out must be whole; sanitizers watch the rest. Built as
 *   clang -g -O1 -fsanitize=fuzzer,address,undefined -Iinclude -Ilib tests/fuzz/fuzz_svg.c lib/paper/svg_*.c \
 *     lib/paper/writer.c lib/paper/faults.c lib/base.c lib/common.c lib/sort.c lib/shape*.c lib/stone*.c -lexpat -lm */

#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include "girdle/paper.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  girdle_drawing *drawing = NULL;
  int32_t status = girdle_paper_read_svg(NULL, "fuzz.svg", (const char *)data, size, &drawing);
  if ((status == GIRDLE_OK) != (drawing != NULL) || status == GIRDLE_INTERNAL) abort();
  for (uint64_t i = 0; drawing && i < girdle_drawing_count(drawing); i++) {
    if (!girdle_drawing_name(drawing, i) || !girdle_drawing_path(drawing, i)) abort();
    if (!(girdle_path_length_mm(girdle_drawing_path(drawing, i)) >= 0)) abort();
  }
  girdle_drawing_free(drawing);
  return 0;
}
