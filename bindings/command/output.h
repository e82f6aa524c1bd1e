/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_COMMAND_OUTPUT_H
#define GIRDLE_COMMAND_OUTPUT_H

#include <sys/stat.h>

#include "command.h"

/* Marks a file as read: no output may take its place. */
void output_remember_input(program *with, const struct stat *about);

#endif
