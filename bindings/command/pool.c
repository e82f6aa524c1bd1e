/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "common.h"

/* The parent's side of the workers: a job goes to whoever is idle, answers are handed on in the order of the jobs.
 *
 * A worker that dies without an answer is replaced and its job tried once more, in what is left of the job's time;
 * then the job is answered as an error. A worker that says nothing for WALL_SECONDS is ended as if it had died. */

enum { MOST_WORKERS = 64, WALL_SECONDS = 300, IDLE = -1 };
#define JOB_SECONDS 3.0
#define MOST_ANSWER_BYTES (256ull << 20)

typedef struct worker {
  pid_t process; /* 0: none */
  int in, out;   /* the pipes as the parent holds them */
  int64_t job;   /* index of the task, or IDLE */
  int tries;
  double left_seconds;
  struct timespec since;
  buffer answer;
} worker;

struct pool {
  worker workers[MOST_WORKERS];
  int count;
};

/* A job's answer that waits for its turn. */
typedef struct slot {
  buffer answer;
  int ready;
} slot;

typedef struct run {
  program *with;
  const task_list *list;
  slot *slots; /* a ring */
  uint64_t ring, next_job, next_done;
  int no_more, not_yet, bar_shown;
  struct timespec started;
} run;

/* ---- starting and ending a worker */

static void close_pair(const int pair[2]) {
  close(pair[0]);
  close(pair[1]);
}

static int32_t cannot_start(program *with) {
  return girdle_common_fail(&with->call, GIRDLE_MEMORY, NULL, "cannot start a worker process: %s", strerror(errno));
}

static int32_t start(program *with, worker *one) {
  int jobs[2], answers[2];
  if (pipe(jobs)) return cannot_start(with);
  if (pipe(answers)) {
    close_pair(jobs);
    return cannot_start(with);
  }
  fflush(stderr);
  one->process = fork();
  if (one->process < 0) {
    one->process = 0;
    close_pair(jobs);
    close_pair(answers);
    return cannot_start(with);
  }
  if (one->process == 0) worker_serve(&with->house, jobs[0], answers[1]);
  close(jobs[0]);
  close(answers[1]);
  one->in = answers[0];
  one->out = jobs[1];
  one->job = IDLE;
  return GIRDLE_OK;
}

/* Closing the pipe ends an idle worker; one that is at work is told by a signal. */
static void end(worker *one) {
  if (!one->process) return;
  close(one->in);
  close(one->out);
  if (one->job != IDLE) kill(one->process, SIGKILL);
  while (waitpid(one->process, NULL, 0) < 0 && errno == EINTR)
    continue;
  buffer_free(&one->answer);
  memset(one, 0, sizeof *one);
  one->job = IDLE;
}

void pool_stop(program *with) {
  if (!with->pool) return;
  for (int at = 0; at < with->pool->count; at++)
    end(&with->pool->workers[at]);
  free(with->pool);
  with->pool = NULL;
}

static int32_t start_workers(program *with, uint64_t jobs) {
  int wanted = (uint64_t)with->workers < jobs ? with->workers : (int)jobs;
  if (!with->pool) with->pool = command_new(sizeof *with->pool);
  while (with->pool->count < wanted) {
    with->pool->workers[with->pool->count].job = IDLE;
    GIRDLE_TRY(start(with, &with->pool->workers[with->pool->count]));
    with->pool->count++;
  }
  return GIRDLE_OK;
}

/* ---- a job to a worker */

static int write_whole(int file, const char *from, uint64_t count) {
  while (count) {
    ssize_t wrote = write(file, from, (size_t)count);
    if (wrote < 0 && errno == EINTR && !command_interrupted) continue;
    if (wrote <= 0) return 0;
    from += wrote;
    count -= (uint64_t)wrote;
  }
  return 1;
}

static int task_of(const run *all, uint64_t index, task *out) {
  int there;
  memset(out, 0, sizeof *out);
  there = all->list->task_at(all->list->context, index, out);
  out->own = all->with->call.own;
  out->swaps = all->with->swaps;
  out->swap_count = all->with->swap_count;
  return there;
}

/* An idle worker reads until it has all, so this cannot block for long; a worker that died meanwhile is seen when its
 * answer is read. */
static void send(run *all, worker *one) {
  buffer message = {0};
  task what;
  uint64_t count;
  task_of(all, (uint64_t)one->job, &what);
  message_write_task(&message, &what, one->left_seconds);
  count = message.count;
  if (write_whole(one->out, (const char *)&count, sizeof count)) write_whole(one->out, message.bytes, message.count);
  buffer_free(&message);
  one->answer.count = 0;
  clock_gettime(CLOCK_MONOTONIC, &one->since);
}

static slot *slot_of(const run *all, uint64_t job) {
  return &all->slots[job % all->ring];
}

static worker *idle_worker(pool *of) {
  for (int at = 0; at < of->count; at++)
    if (of->workers[at].job == IDLE && of->workers[at].process) return &of->workers[at];
  return NULL;
}

/* Gives out what there is; stops when nobody is idle, when the oldest answer is still awaited, or when there is no
 * more. */
static void hand_out(run *all, pool *of) {
  worker *one;
  task what;
  all->not_yet = 0;
  while (!all->no_more && all->next_job - all->next_done < all->ring && (one = idle_worker(of)) != NULL) {
    int there = task_of(all, all->next_job, &what);
    all->no_more = there == 0;
    all->not_yet = there < 0;
    if (there <= 0) return;
    if (what.kind == TASK_NONE) {
      slot_of(all, all->next_job++)->ready = 1;
      continue;
    }
    one->job = (int64_t)all->next_job++;
    one->tries = 1;
    one->left_seconds = JOB_SECONDS;
    send(all, one);
  }
}

/* ---- an answer from a worker */

static double seconds_since(const struct timespec *then) {
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)(now.tv_sec - then->tv_sec) + (double)(now.tv_nsec - then->tv_nsec) * 1e-9;
}

/* The job's answer is that its worker was lost: an empty one. */
static void give_up(run *all, worker *one) {
  slot_of(all, (uint64_t)one->job)->ready = 1;
  one->job = IDLE;
}

static int32_t lost(run *all, worker *one) {
  int64_t job = one->job;
  int tries = one->tries;
  double left = one->left_seconds - seconds_since(&one->since);
  end(one);
  GIRDLE_TRY(start(all->with, one));
  one->job = job;
  if (tries == 2 || left < 0.05) {
    give_up(all, one);
    return GIRDLE_OK;
  }
  one->tries = tries + 1;
  one->left_seconds = left;
  send(all, one);
  return GIRDLE_OK;
}

/* 1 when the answer is whole, 0 when more must come, -1 when the worker broke the rules. */
static int is_whole(const buffer *answer) {
  uint64_t count;
  if (answer->count < sizeof count) return 0;
  memcpy(&count, answer->bytes, sizeof count);
  if (count > MOST_ANSWER_BYTES || answer->count > sizeof count + count) return -1;
  return answer->count == sizeof count + count;
}

static void finish(run *all, worker *one) {
  slot *to = slot_of(all, (uint64_t)one->job);
  to->answer = one->answer;
  to->ready = 1;
  memset(&one->answer, 0, sizeof one->answer);
  one->job = IDLE;
}

static int32_t listen_to(run *all, worker *one) {
  char piece[65536];
  ssize_t got = read(one->in, piece, sizeof piece);
  int whole;
  if (got < 0 && (errno == EINTR || errno == EAGAIN)) return GIRDLE_OK;
  if (got <= 0 || one->job == IDLE) return lost(all, one);
  buffer_add(&one->answer, piece, (uint64_t)got);
  whole = is_whole(&one->answer);
  if (whole < 0) return lost(all, one);
  if (whole) finish(all, one);
  return GIRDLE_OK;
}

static int32_t hear(run *all, const struct pollfd *ends, worker *const *whose, nfds_t count) {
  for (nfds_t at = 0; at < count; at++) {
    if (ends[at].revents)
      GIRDLE_TRY(listen_to(all, whose[at]));
    else if (seconds_since(&whose[at]->since) > WALL_SECONDS)
      GIRDLE_TRY(lost(all, whose[at]));
  }
  return GIRDLE_OK;
}

/* Waits for an answer, or for more tasks to come. */
static int32_t wait_for_one(run *all, pool *of) {
  struct pollfd ends[MOST_WORKERS + 1];
  worker *whose[MOST_WORKERS];
  nfds_t count = 0, busy;
  for (int at = 0; at < of->count; at++) {
    if (of->workers[at].job == IDLE) continue;
    whose[count] = &of->workers[at];
    ends[count].fd = of->workers[at].in;
    ends[count].events = POLLIN;
    ends[count++].revents = 0;
  }
  busy = count;
  if (all->not_yet) {
    ends[count].fd = all->list->wait_file;
    ends[count].events = POLLIN;
    ends[count++].revents = 0;
  }
  if (!count) return GIRDLE_OK; /* all is answered already */
  if (poll(ends, count, 1000) < 0 && errno != EINTR) return cannot_start(all->with);
  return command_interrupted ? COMMAND_INTERRUPTED : hear(all, ends, whose, busy);
}

/* ---- a list of jobs */

/* On a terminal, how far it is, once it has taken a second. */
static void show_bar(run *all) {
  if (all->with->flags.quiet || all->list->most == UINT64_MAX || !isatty(2) || seconds_since(&all->started) < 1) return;
  fprintf(stderr, "\r%llu of %llu ", (unsigned long long)all->next_done, (unsigned long long)all->list->most);
  all->bar_shown = 1;
}

static void hide_bar(const run *all) {
  if (all->bar_shown) fputs("\r                                        \r", stderr);
}

static int32_t hand_on(run *all) {
  while (all->next_done < all->next_job && slot_of(all, all->next_done)->ready) {
    slot *from = slot_of(all, all->next_done);
    const char *bytes = from->answer.count ? from->answer.bytes + sizeof(uint64_t) : NULL;
    int32_t status =
        all->list->done(all->list->context, all->next_done, bytes, bytes ? from->answer.count - sizeof(uint64_t) : 0);
    buffer_free(&from->answer);
    from->ready = 0;
    all->next_done++;
    if (status) return status;
    show_bar(all);
  }
  return GIRDLE_OK;
}

static int32_t go(run *all, pool *of) {
  for (;;) {
    if (command_interrupted) return COMMAND_INTERRUPTED;
    hand_out(all, of);
    GIRDLE_TRY(hand_on(all));
    if (all->no_more && all->next_done == all->next_job) return GIRDLE_OK;
    GIRDLE_TRY(wait_for_one(all, of));
    GIRDLE_TRY(hand_on(all));
  }
}

/* What is still out when a run ends early is of no use to the next. */
static void clear(run *all, pool *of) {
  for (int at = 0; at < of->count; at++)
    if (of->workers[at].job != IDLE) end(&of->workers[at]);
  for (int at = of->count - 1; at >= 0; at--)
    if (!of->workers[at].process) of->workers[at] = of->workers[--of->count];
  for (uint64_t at = 0; at < all->ring; at++)
    buffer_free(&all->slots[at].answer);
  free(all->slots);
}

int32_t pool_run(program *with, const task_list *list) {
  run all;
  int32_t status;
  if (!list->most) return GIRDLE_OK; /* no worker would be started, and none could say that nothing is left */
  memset(&all, 0, sizeof all);
  all.with = with;
  all.list = list;
  GIRDLE_TRY(source_house(with));
  GIRDLE_TRY(start_workers(with, list->most));
  all.ring = 4 * (uint64_t)with->workers < POOL_RING ? 4 * (uint64_t)with->workers : POOL_RING;
  all.slots = command_new(all.ring * sizeof *all.slots);
  clock_gettime(CLOCK_MONOTONIC, &all.started);
  status = go(&all, with->pool);
  hide_bar(&all);
  clear(&all, with->pool);
  return status;
}

/* ---- one job */

typedef struct single {
  program *with;
  const task *what;
  sheet *out;
} single;

static int single_at(void *context, uint64_t index, task *out) {
  *out = *((single *)context)->what;
  return index == 0;
}

static int32_t single_done(void *context, uint64_t index, const char *answer, uint64_t bytes) {
  single *one = context;
  (void)index;
  return pool_answer(one->with, one->what, answer, bytes, one->out);
}

int32_t pool_answer(program *with, const task *what, const char *answer, uint64_t bytes, sheet *out) {
  if (answer) return message_read_answer(with, what, answer, bytes, out);
  return girdle_common_fail(&with->call, GIRDLE_INTERNAL, NULL, "'%s' ended its worker process and was given up",
                            what->name[0] ? what->name : what->zones_source);
}

static int32_t do_one(program *with, const task *what, sheet *out) {
  single one = {with, what, out};
  task_list list = {&one, 1, -1, single_at, single_done};
  return pool_run(with, &list);
}

int32_t pool_one(program *with, const task *what) {
  return do_one(with, what, NULL);
}

int32_t pool_describe(program *with, const char *name, const folder *beside, sheet *out) {
  task what;
  memset(&what, 0, sizeof what);
  what.kind = TASK_DESCRIBE;
  what.name = name;
  what.beside = beside;
  return do_one(with, &what, out);
}
