/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _GNU_SOURCE /* close_range, where there is one */
#include "command.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

/* A worker is a child that runs strangers' recipes. Beside the host's own limits the system holds it: processor time,
 * memory, no new files, no bytes into files, no processes, no core. It keeps two pipes and standard error, no more. */

/* A sanitizer's shadow takes more address space than any limit that means something. */
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define SANITIZED 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
#define SANITIZED 1
#endif
#endif
#ifndef SANITIZED
#define SANITIZED 0
#endif

enum { MEMORY_BYTES = 1 << 30, STACK_BYTES = 16 << 20, CPU_MARGIN_SECONDS = 2 };

static void limit(unsigned what, rlim_t most) { /* unsigned: as glibc names them, an enum */
  struct rlimit now;
  if (getrlimit(what, &now)) return;
  if (now.rlim_max != RLIM_INFINITY && now.rlim_max < most) most = now.rlim_max;
  now.rlim_cur = most;
  if (what != RLIMIT_CPU && what != RLIMIT_STACK) now.rlim_max = most;
  setrlimit(what, &now);
}

static void confine(void) {
  limit(RLIMIT_STACK, STACK_BYTES);
#if !SANITIZED
  limit(RLIMIT_AS, MEMORY_BYTES);
#endif
  limit(RLIMIT_CORE, 0);
  limit(RLIMIT_FSIZE, 0);
  limit(RLIMIT_NOFILE, 0);
  limit(RLIMIT_NPROC, 0);
}

/* The clock of the limit counts the whole life of the process: each job moves it on by what a job may use. */
static void allow_seconds(double seconds) {
  struct rusage used;
  if (getrusage(RUSAGE_SELF, &used)) return;
  limit(RLIMIT_CPU, (rlim_t)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) + (rlim_t)seconds + CPU_MARGIN_SECONDS);
}

static void close_others(void) {
#if defined(__linux__) && defined(_GNU_SOURCE)
  if (close_range(3, ~0U, 0) == 0) return;
#endif
  for (int file = 3; file < 1024; file++)
    close(file);
}

static int read_whole(int file, char *into, uint64_t count) {
  while (count) {
    ssize_t got = read(file, into, (size_t)count);
    if (got < 0 && errno == EINTR) continue;
    if (got <= 0) return 0;
    into += got;
    count -= (uint64_t)got;
  }
  return 1;
}

static int write_whole(int file, const char *from, uint64_t count) {
  while (count) {
    ssize_t wrote = write(file, from, (size_t)count);
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote <= 0) return 0;
    from += wrote;
    count -= (uint64_t)wrote;
  }
  return 1;
}

static int answer_out(const buffer *answer) {
  return write_whole(1, (const char *)&answer->count, sizeof answer->count) &&
         write_whole(1, answer->bytes, answer->count);
}

/* A host that holds the house recipes. A source that it refuses is one that it will not find later. */
static girdle_host *make_host(const folder *house, double seconds, buffer *log) {
  girdle_host_options options;
  girdle_host *host = NULL;
  girdle_host_options_init(&options, sizeof options);
  if (seconds < options.most_seconds) options.most_seconds = seconds;
  options.log = buffer_sink(log);
  if (girdle_host_new(NULL, &options, &host)) _exit(3);
  for (uint64_t at = 0; at < house->source_count; at++)
    girdle_host_add_source(NULL, host, GIRDLE_LAYER_HOUSE, house->sources[at].file, house->sources[at].text.bytes,
                           house->sources[at].text.count);
  return host;
}

static void serve(const folder *house) {
  buffer log = {0};
  double held_to = 0;
  girdle_host *host = NULL;
  uint64_t count;
  while (read_whole(0, (char *)&count, sizeof count)) {
    buffer answer = {0};
    char *bytes = command_new(count);
    double seconds;
    if (!read_whole(0, bytes, count)) break;
    seconds = message_seconds_of(bytes, count);
    allow_seconds(seconds);
    if (!host || seconds != held_to) {
      girdle_host_free(host);
      host = make_host(house, seconds, &log);
      held_to = seconds;
    }
    log.count = 0;
    message_perform(host, bytes, count, &log, &answer);
    free(bytes);
    if (!answer_out(&answer)) break;
    buffer_free(&answer);
  }
}

void worker_serve(const folder *house, int in, int out) {
  signal(SIGINT, SIG_IGN); /* the parent hears it, and closes the pipes */
  signal(SIGTERM, SIG_DFL);
  if (dup2(in, 0) < 0 || dup2(out, 1) < 0) _exit(3);
  close_others();
  confine();
  serve(house);
  _exit(0);
}
