/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_BASE_H
#define GIRDLE_BASE_H

/* base: what every room shares: statuses, errors, the call, and numbers written by people.
 *
 * Every function that can fail takes a girdle_call first and its result last, and returns a status, 0 for success.
 * A NULL call means malloc, no limits, and the status alone. On any error nothing is made and nothing leaks.
 * Handles are immutable once made unless their header says otherwise, so threads may share them; a call belongs to
 * one thread at a time. Text is UTF-8 ended by NUL unless a length is given. No function touches the locale.
 *
 * NULL, in every header: where a pointer may be NULL, that is said. Any other NULL given to a function that returns a
 * status is GIRDLE_ARGUMENT, names the parameter and changes nothing. An array may be NULL where the number beside it
 * (a count, a capacity, a number of bytes) is 0. Functions that return anything else, or nothing, must not be given
 * NULL, but that every _free takes it, and that a buffer of 0 bytes may be NULL. The pointers within a struct must be
 * as said beside them; an array of 0 there may be NULL as well. */

#include <stdint.h>

#if defined(__GNUC__)
#define GIRDLE_API __attribute__((visibility("default")))
#else
#define GIRDLE_API
#endif

#ifdef __cplusplus
extern "C" {
#endif

/* Statuses, returned as int32_t. GIRDLE_STATUS_END is one past the last. */
enum {
  GIRDLE_OK,
  GIRDLE_MEMORY,   /* the allocator refused */
  GIRDLE_STOPPED,  /* the watch asked to stop */
  GIRDLE_ARGUMENT, /* a number or option is out of its range */
  GIRDLE_SYNTAX,   /* text could not be read */
  GIRDLE_UNKNOWN,  /* a name is not known */
  GIRDLE_GEOMETRY, /* the shape cannot carry what is asked */
  GIRDLE_LIMIT,    /* more than a stated limit */
  GIRDLE_OVERFLOW, /* the result does not fit its type */
  GIRDLE_INTERNAL, /* a fault of girdle's own */
  GIRDLE_STATUS_END
};

/* Lua's contract: new_bytes 0 frees and returns NULL; shrinking never fails; old_bytes is what was given before.
 * The allocator must outlive every object made with it. */
typedef struct girdle_allocator {
  void *context;
  void *(*resize)(void *context, void *block, uint64_t old_bytes, uint64_t new_bytes);
} girdle_allocator;

/* Progress, cancelling, a step budget or a deadline: long loops call tick with the steps done since the last tick and
 * the share done, 0 to 1, negative when not known. A non-zero answer stops the call with GIRDLE_STOPPED. */
typedef struct girdle_watch {
  void *context;
  int32_t (*tick)(void *context, uint64_t steps, double done);
} girdle_watch;

/* The first error of a call: the caller's storage, nothing to free. */
typedef struct girdle_error {
  uint32_t struct_bytes;
  int32_t status;
  int32_t line, column;      /* from 1; -1 when they do not apply */
  int64_t byte;              /* from 0; -1 when it does not apply */
  double value, least, most; /* NaN when they do not apply */
  char field[48], source[64], nearest[48], message[256];
} girdle_error;

/* Receives each fault of a file that has several, in order; the error is only valid during the call. */
typedef struct girdle_report {
  void *context;
  void (*fault)(void *context, const girdle_error *error);
} girdle_report;

struct girdle_catalogue; /* stone.h */
typedef struct girdle_call {
  uint32_t struct_bytes, reserved;
  girdle_allocator memory; /* copied into every object made; resize == NULL means malloc */
  girdle_watch watch;
  girdle_error *error; /* may be NULL */
  girdle_report report;
  const struct girdle_catalogue *own; /* sizes, cuts and materials of one's own, which texts of stones may name; only a
                                         view, NULL: none */
} girdle_call;

/* A sink takes what is written, whole pieces in order; a non-zero answer stops the writing with GIRDLE_STOPPED. */
typedef struct girdle_sink {
  void *context;
  int32_t (*write)(void *context, const void *bytes, uint64_t count);
} girdle_sink;

/* Fills a call with malloc, no limits and no error store. struct_bytes is sizeof(girdle_call) of the caller. */
GIRDLE_API void girdle_call_init(girdle_call *call, uint32_t struct_bytes);

/* Clears an error to "no error". struct_bytes is sizeof(girdle_error) of the caller. */
GIRDLE_API void girdle_error_init(girdle_error *error, uint32_t struct_bytes);

/* A short English text for a status; "unknown status" outside the range. Never NULL. */
GIRDLE_API const char *girdle_status_text(int32_t status);

/* The library's version, "major.minor.patch". Never NULL. */
GIRDLE_API const char *girdle_version(void);

/* What a quantity measures, and the unit in which it is given back. */
enum {
  GIRDLE_LENGTH,     /* mm; written mm cm m in ft yd, and " for inch */
  GIRDLE_AREA,       /* mm2; written mm2 cm2 m2 in2 */
  GIRDLE_ANGLE,      /* degrees; written deg or ° */
  GIRDLE_SHARE,      /* 1 = all; written % (10 % is 0.1) */
  GIRDLE_MASS,       /* mg; written mg g kg oz lb ct */
  GIRDLE_AREAL_MASS, /* g/m2; written g/m2 */
  GIRDLE_VOLUME,     /* ml; written ml l floz */
  GIRDLE_TIME,       /* seconds; written s min h days */
  GIRDLE_NUMBER,     /* no unit */
  GIRDLE_QUANTITY_END
};

/* Reads a number and its unit: "12.5 mm", "1 1/2 in", "3/8 in", "10 %". A missing unit, a decimal comma, a NaN, an
 * infinity or anything after the unit is GIRDLE_SYNTAX; the message carries a right example.
 * Conversions: the inch is 25.4 mm exactly, the ounce 28.349523125 g (NIST Handbook 44, Appendix C). */
GIRDLE_API int32_t girdle_quantity_parse(girdle_call *call, const char *text, int32_t kind, double *out);

/* Reads a plain decimal number of the given bytes, wholly, whatever the locale: correctly rounded, sign and exponent
 * allowed, no NaN, infinity, hexadecimal or white space. */
GIRDLE_API int32_t girdle_number_parse(girdle_call *call, const char *text, uint64_t bytes, double *out);

/* Writes a number with at most `decimals` (0 to 17) decimals and no trailing zeros, point as separator, whatever the
 * locale; "-0" is written "0". Returns the length needed without the NUL; writes at most `bytes` with the NUL. */
GIRDLE_API uint64_t girdle_number_text(double value, int32_t decimals, char *buffer, uint64_t bytes);

/* Reads a number of pieces: "40", "3 dozen", "2 1/2 gross", "1 great gross", "1/2 gross", and sums "4 gross + 30" or "4
 * gross and 30". A dozen is 12, a gross 144, a great gross 1728. What is not whole is GIRDLE_SYNTAX, above 1e12
 * GIRDLE_LIMIT. */
GIRDLE_API int32_t girdle_pieces_parse(girdle_call *call, const char *text, int64_t *out);

/* Writes pieces as people say them: "6 gross and 102" (966). Two-call buffer like girdle_number_text. */
GIRDLE_API uint64_t girdle_pieces_text(int64_t pieces, char *buffer, uint64_t bytes);

/* The known word nearest to `word` by edit distance, or NULL when none is near enough to be meant, as for NULL. */
GIRDLE_API const char *girdle_nearest(const char *word, const char *const *known, uint64_t count);

#ifdef __cplusplus
}
#endif
#endif
