/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#define _POSIX_C_SOURCE 200809L

/* Any bytes as a line of JSON that asks for a job, and as a worker's answer to one: a job or an error, never a crash, a
 * leak or a number out of its range. The first byte says which. The program's own sources are part of this, as they are
 * in no library. */
#include "../../bindings/command/buffer.c"
#include "../../bindings/command/bytes.c"
#include "../../bindings/command/lines.c"
#include "../../bindings/command/message.c"

#include "fuzz.h"

void command_say_bytes(const char *bytes, uint64_t count) {
  (void)bytes, (void)count;
}
int command_note_is_new(program *with, const char *bytes, uint64_t count) {
  (void)with, (void)bytes;
  return count > 0;
}
const costume *wardrobe_costume(const wardrobe *in, const char *name) {
  (void)in, (void)name;
  return NULL;
}
int32_t wardrobe_unknown(program *with, const wardrobe *in, const char *name) {
  (void)in;
  return girdle_common_fail(&with->call, GIRDLE_UNKNOWN, "costume", "there is no costume %.40s", name);
}

static void begin(program *to) {
  memset(to, 0, sizeof *to);
  girdle_call_init(&to->call, sizeof to->call);
  girdle_error_init(&to->error, sizeof to->error);
  to->call.error = &to->error;
}

static void read_line(const char *text, uint64_t bytes) {
  static const line_folder empty;
  program with;
  job_line line = {0};
  int32_t status;
  begin(&with);
  status = line_read(&with, &empty, &line, text, bytes);
  FUZZ_HOLDS(status >= GIRDLE_OK && status < GIRDLE_STATUS_END && status != GIRDLE_INTERNAL);
  if (status) FUZZ_HOLDS(with.error.message[0]);
  if (!status) FUZZ_HOLDS(line.job != NULL);
  line_forget(&line);
}

static void read_answer(int kind, const char *text, uint64_t bytes) {
  program with;
  task asked;
  sheet got = {0};
  girdle_job *job = NULL;
  girdle_job_head head;
  begin(&with);
  memset(&asked, 0, sizeof asked);
  girdle_job_head_init(&head, sizeof head);
  strcpy(head.tag, "ada");
  FUZZ_HOLDS(girdle_job_new(NULL, &head, &job) == GIRDLE_OK);
  asked.kind = kind;
  asked.job = job;
  message_read_answer(&with, &asked, text, bytes, &got);
  sheet_free(&got);
  girdle_job_free(job);
  buffer_free(&with.result);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  if (size < 1 || size > 100000) return 0;
  if (data[0] % 4 == 0)
    read_line((const char *)data + 1, size - 1);
  else
    read_answer(data[0] % 4 - 1, (const char *)data + 1, size - 1);
  return 0;
}
