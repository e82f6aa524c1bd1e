/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

#include <string.h>

void girdle_faults_begin(girdle_faults *faults, girdle_call *call, const char *source) {
  memset(faults, 0, sizeof *faults);
  faults->call = call;
  faults->source = source;
}

static int is_final(int32_t status) {
  return status == GIRDLE_MEMORY || status == GIRDLE_STOPPED || status == GIRDLE_INTERNAL;
}

int girdle_faults_take(girdle_faults *faults, int32_t status, int32_t line, int32_t column) {
  girdle_error *error = faults->call ? faults->call->error : NULL;
  if (status == GIRDLE_OK) return 0;
  girdle_common_at(faults->call, faults->source, line, column, -1);
  /* out of memory is never one of several: it takes the place of what was found before */
  if (!faults->status || is_final(status)) {
    faults->status = status;
    if (error) faults->first = *error;
  }
  girdle_common_report(faults->call);
  return ++faults->count >= GIRDLE_MOST_FAULTS || is_final(status);
}

int32_t girdle_faults_end(girdle_faults *faults) {
  if (faults->status && faults->call && faults->call->error) *faults->call->error = faults->first;
  return faults->status;
}
