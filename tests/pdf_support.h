/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TESTS_PDF_SUPPORT_H
#define GIRDLE_TESTS_PDF_SUPPORT_H

/* Reading a PDF again by an independent reader, poppler's tools: its words, and its pages as pictures of ten dots a
 * millimetre. */

#include <unistd.h>

#include "paper_support.h"

static inline int can_render(void) {
  return system("pdftoppm -v >/dev/null 2>&1") == 0;
}

/* Gives a tool the PDF as a file between two parts of its command line. */
static inline FILE *read_pdf(const kept *pdf, const char *tool, const char *after, char name[24]) {
  char command[200];
  FILE *pipe;
  int file;
  strcpy(name, "/tmp/girdle-test-XXXXXX");
  file = mkstemp(name);
  assert_true(file >= 0);
  assert_int_equal(write(file, pdf->text, pdf->bytes), (ssize_t)pdf->bytes);
  close(file);
  snprintf(command, sizeof command, "%s %s %s", tool, name, after);
  pipe = popen(command, "r");
  assert_non_null(pipe);
  return pipe;
}

/* What it says; the caller frees. */
static inline char *words_of(const kept *pdf) {
  char name[24], *words = calloc(1, 20000);
  FILE *pipe = read_pdf(pdf, "pdftotext -layout -enc UTF-8", "- 2>&1", name);
  assert_true(words && fread(words, 1, 19999, pipe) > 0);
  pclose(pipe);
  unlink(name);
  assert_null(strstr(words, "Syntax ")); /* what the reader complains about */
  return words;
}

typedef struct picture {
  int width, height;
  unsigned char *dots;
} picture;

static inline picture render(const kept *pdf, int page) {
  char name[24], tool[100];
  int most;
  picture out;
  FILE *pipe;
  snprintf(tool, sizeof tool, "pdftoppm -r 254 -gray -f %d -l %d", page, page);
  pipe = read_pdf(pdf, tool, "2>/dev/null", name);
  assert_int_equal(fscanf(pipe, "P5 %d %d %d", &out.width, &out.height, &most), 3);
  fgetc(pipe);
  out.dots = malloc((size_t)out.width * (size_t)out.height);
  assert_int_equal(fread(out.dots, 1, (size_t)out.width * (size_t)out.height, pipe),
                   (size_t)out.width * (size_t)out.height);
  pclose(pipe);
  unlink(name);
  return out;
}

#endif
