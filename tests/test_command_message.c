/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _POSIX_C_SOURCE 200809L

/* What a worker sends back is read as a stranger's file: whatever the bytes, the program neither crashes nor takes in a
 * number out of its range. The program's own sources are part of this test, as they are in no library. */
#include "../bindings/command/buffer.c"
#include "../bindings/command/bytes.c"
#include "../bindings/command/message.c"
#include "../bindings/command/perform.c"

#include "support.h"

static int printed;
void command_say_bytes(const char *bytes, uint64_t count) {
  (void)bytes;
  printed += count > 0;
}

int command_note_is_new(program *with, const char *bytes, uint64_t count) {
  (void)with;
  (void)bytes;
  return count > 0;
}

static const char recipe_text[] =
    "return recipe { format = 1, name = 'plain line', about = 'One stone along one line.',\n"
    "  takes = { { 'line', 'path' }, { 'one', 'stone', default = 'ss20' } },\n"
    "  place = function (given) return run { along = given.line, stones = { given.one }, gap = 0.5 } end }\n";

typedef struct bench {
  program with;
  folder house;
  source own;
  girdle_host *host;
  girdle_job *job;
} bench;

static void begin(bench *to) {
  girdle_job_head head;
  girdle_host_options options;
  memset(to, 0, sizeof *to);
  girdle_host_options_init(&options, sizeof options);
  girdle_call_init(&to->with.call, sizeof to->with.call);
  girdle_error_init(&to->with.error, sizeof to->with.error);
  to->with.call.error = &to->with.error;
  to->own.text.bytes = (char *)recipe_text;
  to->own.text.count = sizeof recipe_text - 1;
  strcpy(to->own.file, "plain_line.lua");
  to->house.sources = &to->own;
  to->house.source_count = 1;
  assert_int_equal(girdle_host_new(NULL, &options, &to->host), GIRDLE_OK);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "ada");
  assert_int_equal(girdle_job_new(NULL, &head, &to->job), GIRDLE_OK);
}

static void end(bench *of) {
  girdle_host_free(of->host);
  girdle_job_free(of->job);
}

/* An answer as a sound worker gives it. */
static void answer_to(bench *of, const task *what, buffer *answer) {
  buffer message = {0}, log = {0};
  message_write_task(&message, what, 3);
  message_perform(of->host, message.bytes, message.count, &log, answer);
  buffer_free(&message);
}

static task line_task(const bench *of, const girdle_given *given) {
  task what = {TASK_PLACE, "plain line", &of->house, given, 1, of->job, NULL, NULL, 0};
  return what;
}

static int64_t stones_of(const girdle_job *job) {
  uint64_t count;
  int64_t sum = 0;
  const girdle_zone *zones = girdle_job_zones(job, &count);
  for (uint64_t at = 0; at < count; at++) {
    const girdle_placed *records;
    const girdle_stone *stones;
    uint32_t stone_count;
    int64_t placed = girdle_placement_view(zones[at].placement, &records, &stones, &stone_count);
    for (int64_t one = 0; one < placed; one++)
      assert_true(records[one].stone < stone_count);
    sum += placed;
  }
  return sum;
}

static void message_read_answer_gives_the_zones(void **state) {
  girdle_given given = {"line", "300 mm"};
  bench of;
  task what;
  buffer answer = {0};
  (void)state;
  begin(&of);
  what = line_task(&of, &given);
  answer_to(&of, &what, &answer);
  assert_int_equal(message_read_answer(&of.with, &what, answer.bytes, answer.count, NULL), GIRDLE_OK);
  assert_int_equal(stones_of(of.job), 59);
  buffer_free(&answer);
  end(&of);
}

static void message_read_answer_gives_the_sheet(void **state) {
  bench of;
  task what;
  sheet takes = {0};
  buffer answer = {0};
  (void)state;
  begin(&of);
  what = line_task(&of, NULL);
  what.kind = TASK_DESCRIBE;
  what.given_count = 0;
  what.job = NULL;
  answer_to(&of, &what, &answer);
  assert_int_equal(message_read_answer(&of.with, &what, answer.bytes, answer.count, &takes), GIRDLE_OK);
  assert_string_equal(takes.name, "plain line");
  assert_int_equal(takes.parameter_count, 2);
  assert_string_equal(takes.parameters[1].fallback, "ss20");
  sheet_free(&takes);
  buffer_free(&answer);
  end(&of);
}

static void message_read_answer_passes_an_error_on(void **state) {
  girdle_given given = {"line", "300"};
  bench of;
  task what;
  buffer answer = {0};
  (void)state;
  begin(&of);
  what = line_task(&of, &given);
  answer_to(&of, &what, &answer);
  assert_int_not_equal(message_read_answer(&of.with, &what, answer.bytes, answer.count, NULL), GIRDLE_OK);
  assert_non_null(strstr(of.with.error.message, "300"));
  buffer_free(&answer);
  end(&of);
}

/* Reads damaged bytes into a job of their own. */
static int32_t read_damaged(bench *of, const task *like, const char *bytes, uint64_t count) {
  girdle_job_head head;
  task what = *like;
  char *copy = malloc((size_t)count + 1); /* exactly as long, so that a sanitizer sees a step beyond it */
  int32_t status;
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "ada");
  assert_int_equal(girdle_job_new(NULL, &head, &what.job), GIRDLE_OK);
  memcpy(copy, bytes, (size_t)count);
  girdle_error_init(&of->with.error, sizeof of->with.error);
  status = message_read_answer(&of->with, &what, copy, count, NULL);
  if (!status) stones_of(what.job);
  girdle_job_free(what.job);
  free(copy);
  return status;
}

static void message_read_answer_refuses_every_cut(void **state) {
  girdle_given given = {"line", "40 mm"};
  bench of;
  task what;
  buffer answer = {0};
  (void)state;
  begin(&of);
  what = line_task(&of, &given);
  answer_to(&of, &what, &answer);
  for (uint64_t count = 0; count < answer.count; count++)
    assert_int_not_equal(read_damaged(&of, &what, answer.bytes, count), GIRDLE_OK);
  buffer_free(&answer);
  end(&of);
}

static void message_read_answer_survives_any_bytes(void **state) {
  girdle_given given = {"line", "60 mm"};
  bench of;
  task what;
  buffer answer = {0};
  uint64_t seed = 20310106;
  int refused = 0;
  (void)state;
  begin(&of);
  what = line_task(&of, &given);
  answer_to(&of, &what, &answer);
  for (int round = 0; round < 20000; round++) {
    uint64_t changes = 1 + test_random(&seed) % 4;
    buffer damaged = {0};
    buffer_add(&damaged, answer.bytes, answer.count);
    for (uint64_t at = 0; at < changes; at++) {
      uint64_t value = test_random(&seed), where = test_random(&seed) % (damaged.count - 8);
      uint64_t width = test_random(&seed) % 2 ? 1 : 8;
      memcpy(damaged.bytes + where, &value, (size_t)width);
    }
    refused += read_damaged(&of, &what, damaged.bytes, damaged.count) != GIRDLE_OK;
    buffer_free(&damaged);
  }
  assert_true(refused > 1000);
  buffer_free(&answer);
  end(&of);
}

/* Numbers that only a hostile worker would send, each in its place. */
static void message_read_answer_refuses_what_is_out_of_range(void **state) {
  girdle_given given = {"line", "40 mm"};
  girdle_placed first;
  bench of;
  task what;
  buffer answer = {0};
  char *record = NULL;
  (void)state;
  begin(&of);
  what = line_task(&of, &given);
  answer_to(&of, &what, &answer);
  record = answer.bytes + answer.count - sizeof(uint64_t) - sizeof first; /* the last; then come no stones by eye */
  memcpy(&first, record, sizeof first);
  assert_near(first.x_mm, 40, 1e-3);
  first.x_mm = NAN;
  memcpy(record, &first, sizeof first);
  assert_int_equal(read_damaged(&of, &what, answer.bytes, answer.count), GIRDLE_INTERNAL);
  first.x_mm = 40;
  first.stone = 1;
  memcpy(record, &first, sizeof first);
  assert_int_equal(read_damaged(&of, &what, answer.bytes, answer.count), GIRDLE_INTERNAL);
  first.stone = 0;
  first.turn_deg = 1e9f;
  memcpy(record, &first, sizeof first);
  assert_int_equal(read_damaged(&of, &what, answer.bytes, answer.count), GIRDLE_INTERNAL);
  first.turn_deg = 0;
  memcpy(record, &first, sizeof first);
  assert_int_equal(read_damaged(&of, &what, answer.bytes, answer.count), GIRDLE_OK);
  buffer_free(&answer);
  end(&of);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(message_read_answer_gives_the_zones),
      cmocka_unit_test(message_read_answer_gives_the_sheet),
      cmocka_unit_test(message_read_answer_passes_an_error_on),
      cmocka_unit_test(message_read_answer_refuses_every_cut),
      cmocka_unit_test(message_read_answer_survives_any_bytes),
      cmocka_unit_test(message_read_answer_refuses_what_is_out_of_range),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
