/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */

/* For clang's fuzzer: any bytes as a drawing. What comes out must be whole; sanitizers watch the rest. */

#include "fuzz.h"

#include "girdle/paper.h"

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
