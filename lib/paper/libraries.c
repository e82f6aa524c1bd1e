/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "girdle/paper.h"

#include <expat.h>
#include <hpdf.h>
#include <jansson.h>
#include <stdio.h>
#include <string.h>

uint64_t girdle_paper_libraries(char *buffer, uint64_t bytes) {
  const char *expat = XML_ExpatVersion(); /* "expat_2.5.0" */
  const char *number = strchr(expat, '_');
  return (uint64_t)snprintf(buffer, (size_t)bytes, "expat %s, libharu %s, jansson %s", number ? number + 1 : expat,
                            HPDF_GetVersion(), jansson_version_str());
}
