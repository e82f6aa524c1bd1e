/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _XOPEN_SOURCE 700 /* SIGXFSZ */
#include "command.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "common.h"

volatile int command_interrupted;

static const char general_help[] =
    "girdle: counts, places, prices and plans flat-back stones on costumes.\n\n"
    "usage: girdle COMMAND [FILE] [name=value]... [options]\n\n"
    "FILE is a recipe or a costume (a Lua file), a costume's folder, or a club's folder.\n\n";

static const char options_help[] =
    "options:\n"
    "  --csv              a table instead of text\n"
    "  --json             JSON instead of text\n"
    "  --out FOLDER       write files there, whole or not at all\n"
    "  --pdf              of a map: pages to print at true size\n"
    "  --mirrored         of a map: as seen from the back of the fabric\n"
    "  --page SIZE        of those pages: a4 (as it is when not given) or letter\n"
    "  --phrases FILE     papers and texts in your own words (a table: english, own)\n"
    "  --inches           lengths on paper in inches\n"
    "  --decimal-comma    a decimal comma on paper\n"
    "  --names            wearers' names on sheets\n"
    "  --photo FILE       of a sheet: your own photo in place of the figure; of many, a folder of TAG.jpg or TAG.png\n"
    "  --prices FOLDER    where prices.csv, suppliers.csv, stock.csv and rates.csv are\n"
    "  --today DATE       reckon from this day, such as 2031-01-06\n"
    "  --workers N        how many processes run recipes, 1 to 64\n"
    "  --quiet            no words on standard error but errors\n"
    "  --help, --version\n";

/* ---- words */

static const uint64_t NOTHING = 0xcbf29ce484222325u;

static uint64_t mix(uint64_t sum, const char *bytes, uint64_t count) {
  for (uint64_t at = 0; at < count; at++)
    sum = (sum ^ (unsigned char)bytes[at]) * 0x100000001b3u; /* FNV-1a */
  return sum;
}

/* Adds what is not there yet, of which it gives back 1. */
static int is_new(uint64_t **sums, uint64_t *count, uint64_t sum) {
  for (uint64_t at = 0; at < *count; at++)
    if ((*sums)[at] == sum) return 0;
  *sums = command_grown(*sums, *count, sizeof **sums);
  (*sums)[(*count)++] = sum;
  return 1;
}

/* A file with several faults has each reported, and gives back its first once more: nothing is said twice. */
static int is_said(program *with) {
  const girdle_error *now = &with->error;
  uint64_t sum = NOTHING + (uint64_t)now->line * 1000003 + (uint64_t)now->column;
  sum = mix(mix(sum, now->source, strlen(now->source)), now->message, strlen(now->message));
  return !is_new(&with->said, &with->faults, sum);
}

int command_note_is_new(program *with, const char *bytes, uint64_t count) {
  return is_new(&with->notes, &with->note_count, mix(NOTHING, bytes, count));
}

/* What a file holds must not drive the terminal. */
static void say_plain(const char *text) {
  command_say_bytes(text, strlen(text));
}

static void say_fault(const girdle_error *error) {
  fputs("girdle: ", stderr);
  if (error->source[0]) say_plain(error->source), fputc(':', stderr);
  if (error->source[0] && error->line >= 0) fprintf(stderr, "%d:", (int)error->line);
  if (error->source[0] && error->line >= 0 && error->column >= 0) fprintf(stderr, "%d:", (int)error->column);
  if (error->source[0]) fputc(' ', stderr);
  if (error->field[0] && !strstr(error->message, error->field)) say_plain(error->field), fputs(": ", stderr);
  say_plain(error->message);
  fputc('\n', stderr);
}

int32_t command_fault(program *with, int32_t status) {
  if (!status || !with->error.status) return status;
  if (!is_said(with)) say_fault(&with->error);
  girdle_error_init(&with->error, sizeof with->error);
  return status;
}

static void report_fault(void *context, const girdle_error *error) {
  program *with = context;
  girdle_error kept = with->error;
  with->error = *error;
  command_fault(with, error->status);
  with->error = kept;
}

int32_t command_usage(program *with, const char *format, ...) {
  va_list arguments;
  va_start(arguments, format);
  fputs("girdle: ", stderr);
  vfprintf(stderr, format, arguments);
  va_end(arguments);
  if (with->verb)
    fprintf(stderr, "\nusage: girdle %s %s\n", with->verb->name, with->verb->usage);
  else
    fputs("\n`girdle --help` lists the commands\n", stderr);
  return COMMAND_USAGE;
}

int32_t command_disk(program *with, const char *path, const char *doing) {
  (void)with;
  fprintf(stderr, "girdle: cannot %s %s: %s\n", doing, path, strerror(errno));
  return COMMAND_DISK;
}

void command_say(const program *with, const char *format, ...) {
  va_list arguments;
  if (with->flags.quiet) return;
  va_start(arguments, format);
  vfprintf(stderr, format, arguments);
  va_end(arguments);
  fputc('\n', stderr);
}

void command_say_bytes(const char *bytes, uint64_t count) {
  uint64_t length;
  int control;
  for (; count; bytes += length, count -= length) {
    length = girdle_common_character(bytes, count, &control);
    if (*bytes == '\n' || *bytes == '\t') control = 0;
    for (uint64_t at = 0; at < length; at++)
      fprintf(stderr, control ? "\\x%02x" : "%c", (unsigned char)bytes[at]);
  }
}

/* ---- starting */

static void interrupt(int signal_number) {
  (void)signal_number;
  command_interrupted = 1;
}

static int32_t watch_tick(void *context, uint64_t steps, double done) {
  (void)context;
  (void)steps;
  (void)done;
  return command_interrupted;
}

/* A signal that whoever started the program wants ignored stays so. */
static void catch_one(int signal_number, const struct sigaction *action) {
  struct sigaction before;
  if (sigaction(signal_number, NULL, &before) == 0 && before.sa_handler != SIG_IGN)
    sigaction(signal_number, action, NULL);
}

static void catch_signals(void) {
  struct sigaction action;
  memset(&action, 0, sizeof action);
  action.sa_handler = interrupt;
  catch_one(SIGINT, &action);
  catch_one(SIGTERM, &action);
  action.sa_handler = SIG_IGN;
  sigaction(SIGPIPE, &action, NULL);
  sigaction(SIGXFSZ, &action, NULL); /* a file grown too large is an error of write */
}

static void program_init(program *with) {
  memset(with, 0, sizeof *with);
  girdle_call_init(&with->call, sizeof with->call);
  girdle_error_init(&with->error, sizeof with->error);
  with->call.error = &with->error;
  with->call.report.context = with;
  with->call.report.fault = report_fault;
  with->call.watch.tick = watch_tick;
}

static int64_t local_today(void) {
  time_t now = time(NULL);
  struct tm local;
  char text[16];
  int64_t day = 0;
  if (localtime_r(&now, &local) && strftime(text, sizeof text, "%Y-%m-%d", &local)) girdle_date_parse(NULL, text, &day);
  return day;
}

static int32_t settle_today(program *with) {
  with->today = local_today();
  if (!with->flags.today || !girdle_date_parse(NULL, with->flags.today, &with->today)) return GIRDLE_OK;
  return command_usage(with, "--today takes a day written 2031-01-06, not '%s'", with->flags.today);
}

static int32_t settle_workers(program *with) {
  long processors = sysconf(_SC_NPROCESSORS_ONLN);
  double asked = processors < 1 ? 1 : processors > 8 ? 8 : (double)processors;
  const char *text = with->flags.workers;
  if (text &&
      (girdle_number_parse(NULL, text, strlen(text), &asked) || asked < 1 || asked > 64 || asked != (double)(int)asked))
    return command_usage(with, "--workers takes a whole number from 1 to 64, such as --workers 2, not '%s'", text);
  with->workers = (int)asked;
  return GIRDLE_OK;
}

/* A table of phrases stands for the English ones on every paper; its "." is the decimal mark. */
static int32_t settle_phrases(program *with) {
  const char *file = with->flags.phrases;
  buffer text = {0};
  int32_t status;
  if (!file) return GIRDLE_OK;
  status = file_read(with, file, 1 << 20, &text);
  if (!status) status = girdle_paper_read_phrases(&with->call, file, text.bytes, text.count, &with->phrases);
  buffer_free(&text);
  return status;
}

/* ---- ending */

int32_t command_flush(program *with) {
  buffer *result = &with->result;
  if (result->count && fwrite(result->bytes, 1, (size_t)result->count, stdout) != result->count)
    return errno == EPIPE ? COMMAND_DISK : command_disk(with, "standard output", "write");
  if (fflush(stdout)) return errno == EPIPE ? COMMAND_DISK : command_disk(with, "standard output", "write");
  result->count = 0;
  return GIRDLE_OK;
}

static int exit_status(const program *with, int32_t status) {
  if (command_interrupted || status == COMMAND_INTERRUPTED) return 130;
  (void)with;
  switch (status) {
    case GIRDLE_OK:
      return 0;
    case COMMAND_USAGE:
      return 2;
    case GIRDLE_MEMORY:
    case GIRDLE_STOPPED:
    case GIRDLE_LIMIT:
    case GIRDLE_INTERNAL:
    case COMMAND_DISK:
    case COMMAND_LACKING:
      return 3;
    default:
      return 1;
  }
}

static void explain(program *with, int32_t status) {
  if (command_interrupted) return;
  command_fault(with, status);
  if (status && status < GIRDLE_STATUS_END && !with->faults)
    fprintf(stderr, "girdle: %s\n", girdle_status_text(status));
}

/* Files are renamed into place only after everything could be reckoned, and words come last: a reader of standard
 * output never sees a result whose files could not be written. */
static int32_t work(program *with) {
  int32_t status = output_folder_check(with);
  if (!status) status = with->verb->run(with);
  if (!status && command_interrupted) status = COMMAND_INTERRUPTED;
  if (!status) status = output_result(with);
  if (!status) status = output_commit(with);
  if (!status) status = command_flush(with);
  if (!status && with->closing[0]) command_say(with, "%s", with->closing);
  return status ? status : with->lacks;
}

static int run_verb(program *with, int count, char **arguments) {
  int32_t status = flags_read(with, count, arguments);
  if (!status && with->flags.help) {
    printf("usage: girdle %s %s\n\n%s\n%s", with->verb->name, with->verb->usage, with->verb->help, options_help);
    return 0;
  }
  if (!status) status = settle_workers(with);
  if (!status) status = settle_today(with);
  if (!status) status = settle_phrases(with);
  if (!status) status = work(with);
  pool_stop(with);
  output_discard(with);
  explain(with, status);
  source_folder_free(&with->house);
  stones_forget(with);
  substitutes_forget(with);
  girdle_phrases_free(with->phrases);
  buffer_free(&with->result);
  for (int at = 0; at < 2; at++)
    buffer_free(&with->fonts[at]);
  free(with->flags.given);
  free(with->said);
  free(with->notes);
  return exit_status(with, status);
}

static int general(void) {
  fputs(general_help, stdout);
  puts("commands:");
  for (uint64_t at = 0; at < command_verb_count; at++)
    printf("  %-9s %s\n", command_verbs[at].name, command_verbs[at].summary);
  printf("\n%s\n`girdle COMMAND --help` tells more of one.\n", options_help);
  return 0;
}

static const verb *verb_named(const char *name) {
  for (uint64_t at = 0; at < command_verb_count; at++)
    if (strcmp(command_verbs[at].name, name) == 0) return &command_verbs[at];
  return NULL;
}

static int unknown_verb(program *with, const char *name) {
  const char *names[32];
  const char *nearest;
  for (uint64_t at = 0; at < command_verb_count; at++)
    names[at] = command_verbs[at].name;
  nearest = girdle_nearest(name, names, command_verb_count);
  if (nearest)
    command_usage(with, "unknown command '%s', did you mean '%s'?", name, nearest);
  else
    command_usage(with, "unknown command '%s'", name);
  return 2;
}

static int version(void) {
  char host[64], paper[128];
  girdle_host_libraries(host, sizeof host);
  girdle_paper_libraries(paper, sizeof paper);
  printf("girdle %s\nwith %s, %s\n", girdle_version(), host, paper);
  return 0;
}

int main(int count, char **arguments) {
  static program with; /* large: folders hold whole paths */
  const char *first = count > 1 ? arguments[1] : "";
  program_init(&with);
  catch_signals();
  if (strcmp(first, "--help") == 0 || (strcmp(first, "help") == 0 && count == 2)) return general();
  if (strcmp(first, "--version") == 0) return version();
  if (count < 2) {
    command_usage(&with, "a command is missing");
    return 2;
  }
  if (strcmp(first, "help") == 0) {
    arguments[1] = arguments[2];
    arguments[2] = "--help";
    first = arguments[1];
  }
  with.verb = verb_named(first);
  if (!with.verb) return unknown_verb(&with, first);
  return run_verb(&with, count - 1, arguments + 1);
}
