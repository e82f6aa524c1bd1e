/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_GIRDLE_H
#define GIRDLE_GIRDLE_H

/* The core in one line, in the order in which data flows. The outer libraries have their own: girdle/paper.h (reads and
 * writes drawings, tables and sheets) and girdle/host.h (runs recipe and costume files). */

#include "girdle/base.h"
#include "girdle/job.h"
#include "girdle/learn.h"
#include "girdle/order.h"
#include "girdle/place.h"
#include "girdle/price.h"
#include "girdle/quote.h"
#include "girdle/shape.h"
#include "girdle/stone.h"
#include "girdle/tally.h"
#include "girdle/work.h"

#endif
