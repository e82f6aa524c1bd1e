/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <getopt.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

enum {
  CSV = 1,
  JSON,
  PDF,
  OUT,
  PAGE,
  PHRASES,
  INCHES,
  COMMA,
  MIRRORED,
  NAMES,
  PHOTO,
  PRICES,
  TODAY,
  WORKERS,
  QUIET,
  WRITE,
  HELP
};

static const struct option options[] = {
    {"csv", no_argument, NULL, CSV},           {"json", no_argument, NULL, JSON},
    {"pdf", no_argument, NULL, PDF},           {"out", required_argument, NULL, OUT},
    {"page", required_argument, NULL, PAGE},   {"phrases", required_argument, NULL, PHRASES},
    {"inches", no_argument, NULL, INCHES},     {"decimal-comma", no_argument, NULL, COMMA},
    {"mirrored", no_argument, NULL, MIRRORED}, {"names", no_argument, NULL, NAMES},
    {"photo", required_argument, NULL, PHOTO}, {"prices", required_argument, NULL, PRICES},
    {"today", required_argument, NULL, TODAY}, {"workers", required_argument, NULL, WORKERS},
    {"quiet", no_argument, NULL, QUIET},       {"write", no_argument, NULL, WRITE},
    {"help", no_argument, NULL, HELP},         {NULL, 0, NULL, 0},
};

static int32_t unknown_option(program *with, const char *word) {
  const char *names[sizeof options / sizeof options[0]];
  const char *nearest;
  uint64_t count = 0;
  for (; options[count].name; count++)
    names[count] = options[count].name;
  while (*word == '-')
    word++;
  nearest = girdle_nearest(word, names, count);
  if (nearest) return command_usage(with, "unknown option --%s, did you mean --%s?", word, nearest);
  return command_usage(with, "unknown option --%s", word);
}

static void take_option(flags *to, int option) {
  switch (option) {
    case CSV:
      to->csv = 1;
      break;
    case JSON:
      to->json = 1;
      break;
    case PDF:
      to->pdf = 1;
      break;
    case NAMES:
      to->names = 1;
      break;
    case INCHES:
      to->inches = 1;
      break;
    case COMMA:
      to->comma = 1;
      break;
    case MIRRORED:
      to->mirrored = 1;
      break;
    case PHOTO:
      to->photo = optarg;
      break;
    case PAGE:
      to->page = optarg;
      break;
    case PHRASES:
      to->phrases = optarg;
      break;
    case OUT:
      to->out = optarg;
      break;
    case PRICES:
      to->prices = optarg;
      break;
    case TODAY:
      to->today = optarg;
      break;
    case WORKERS:
      to->workers = optarg;
      break;
    case QUIET:
      to->quiet = 1;
      break;
    case WRITE:
      to->write = 1;
      break;
    case HELP:
      to->help = 1;
      break;
  }
}

/* A word with "=" is a parameter unless there is such a file; names hold letters, digits, "_", "-" and spaces. */
static int is_given(const char *word) {
  size_t name = strspn(word, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_- ");
  return name > 0 && word[name] == '=' && !file_exists(word);
}

static int32_t take_given(program *with, char *word) {
  flags *to = &with->flags;
  char *equals = strchr(word, '=');
  *equals = '\0';
  if (flags_given(with, word)) return command_usage(with, "'%s' is given twice", word);
  to->given = command_grown(to->given, to->given_count, sizeof *to->given);
  to->given[to->given_count].name = word;
  to->given[to->given_count++].value = equals + 1;
  return GIRDLE_OK;
}

static int32_t take_word(program *with, char *word) {
  flags *to = &with->flags;
  if (is_given(word)) return take_given(with, word);
  if (!*word) return command_usage(with, "an empty word among the arguments");
  if (with->verb->most_files == 0) return command_usage(with, "'%s': this command takes no file", word);
  if (to->file_count == with->verb->most_files)
    return command_usage(with, "'%s' is one file too many; a parameter is written name=value", word);
  to->files[to->file_count++] = word;
  return GIRDLE_OK;
}

int32_t flags_read(program *with, int count, char **arguments) {
  int option;
  optind = 1;
  opterr = 0;
  while ((option = getopt_long(count, arguments, ":", options, NULL)) != -1) {
    if (option == '?') return unknown_option(with, arguments[optind - 1]);
    if (option == ':') return command_usage(with, "%s takes a value", arguments[optind - 1]);
    take_option(&with->flags, option);
  }
  for (; optind < count; optind++)
    GIRDLE_TRY(take_word(with, arguments[optind]));
  if (with->flags.mirrored && (with->flags.csv || with->flags.json || strcmp(with->verb->name, "map") != 0))
    return command_usage(with, "--mirrored goes with map, as a drawing or with --pdf, which is laid under the fabric");
  if (with->flags.csv && with->flags.json) return command_usage(with, "--csv and --json exclude each other");
  return GIRDLE_OK;
}

const char *flags_given(const program *with, const char *name) {
  for (uint64_t at = 0; at < with->flags.given_count; at++)
    if (strcmp(with->flags.given[at].name, name) == 0) return with->flags.given[at].value;
  return NULL;
}

const char *flags_take(program *with, const char *name) {
  flags *from = &with->flags;
  const char *value = NULL;
  uint64_t kept = 0;
  for (uint64_t at = 0; at < from->given_count; at++) {
    if (strcmp(from->given[at].name, name) == 0)
      value = from->given[at].value;
    else
      from->given[kept++] = from->given[at];
  }
  from->given_count = kept;
  return value;
}

static int is_known(const char *name, const char *const *known, uint64_t count) {
  for (uint64_t at = 0; at < count; at++)
    if (strcmp(known[at], name) == 0) return 1;
  return 0;
}

int32_t flags_only(program *with, const char *const *known, uint64_t count) {
  for (uint64_t at = 0; at < with->flags.given_count; at++) {
    const char *name = with->flags.given[at].name;
    const char *nearest = girdle_nearest(name, known, count);
    if (is_known(name, known, count)) continue;
    if (nearest) return command_usage(with, "unknown parameter '%s', did you mean '%s'?", name, nearest);
    return command_usage(with, "unknown parameter '%s'", name);
  }
  return GIRDLE_OK;
}

/* A font that is not there, or not to be read, is done without: the page then names what it lacks. */
static int32_t read_font(program *with, const char *path, buffer *out) {
  enum { MOST_FONT_BYTES = 64 << 20 };
  int32_t status;
  if (out->count || !file_is_plain(path)) return GIRDLE_OK;
  status = file_read(with, path, MOST_FONT_BYTES, out);
  return status == COMMAND_INTERRUPTED ? status : GIRDLE_OK;
}

static int32_t choose_fonts(program *with, girdle_print_options *out) {
  GIRDLE_TRY(read_font(with, "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf", &with->fonts[0]));
  GIRDLE_TRY(read_font(with, "/usr/share/fonts/truetype/vlgothic/VL-PGothic-Regular.ttf", &with->fonts[1]));
  if (!with->fonts[0].count) return GIRDLE_OK;
  out->font = with->fonts[0].bytes;
  out->font_bytes = with->fonts[0].count;
  out->other_font = with->fonts[1].count ? with->fonts[1].bytes : NULL;
  out->other_font_bytes = with->fonts[1].count;
  return GIRDLE_OK;
}

int32_t flags_print(program *with, girdle_print_options *out) {
  const char *page = with->flags.page;
  girdle_print_options_init(out, sizeof *out);
  GIRDLE_TRY(choose_fonts(with, out));
  if (with->flags.mirrored) out->flags |= GIRDLE_PRINT_MIRRORED;
  if (!page || strcmp(page, "a4") == 0) return GIRDLE_OK;
  out->page = GIRDLE_PAGE_LETTER;
  return strcmp(page, "letter") == 0 ? GIRDLE_OK : command_usage(with, "--page is a4 or letter, not '%s'", page);
}
