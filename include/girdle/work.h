/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_WORK_H
#define GIRDLE_WORK_H

/* work: adhesive, minutes and the calendar. Every default is common practice without a source and can be changed; the
 * adhesive's own label and safety data sheet come before any number here. NULL as base.h says. */

#include "girdle/tally.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct girdle_work_rates {
  uint32_t struct_bytes, reserved;
  double film_mm;          /* 0.3: adhesive film under a stone */
  double adhesive_waste;   /* 0.25: share lost in nozzle and tube */
  double skin_s;           /* 300: adhesive is workable this long after it is dotted */
  double tube_ml;          /* 30 */
  double small_s, large_s; /* seconds a glued stone below and from large_from_mm on: 12 and 10 */
  double large_from_mm;    /* 5 */
  double sewn_s;           /* 60: seconds a sewn stone */
  double change_s;         /* 60: seconds a change of stone */
  double zone_s;           /* 600: laying out and marking a zone */
  double evening_s;        /* 7200: work in one evening */
  double dry_s;            /* 86400: before a costume may be turned or packed */
  double cure_s;           /* 259200: before wearing, dry right through */
  int32_t hands;           /* 1: people gluing at once */
  int32_t places_to_dry;   /* 2: costumes that can lie flat at once */
  int32_t alteration_days; /* 2: fitting and alterations before gluing */
  int32_t swatch_days;     /* 1 */
  int32_t try_on_days;     /* 1 */
  int32_t spare_days;      /* 3: days in hand */
  uint32_t glue_weekdays;  /* 0x7f: days on which there is gluing; bit 0 Monday to bit 6 Sunday */
  uint32_t post_weekdays;  /* 0x1f: days that count as days of delivery, and on which an order can go out */
  double syringe_ml;       /* 3: what a syringe or dispenser holds */
  double thicken_s;        /* 1800: adhesive drawn up is used within this time, before it thickens */
  double residue_ml;       /* 0.1: what stays in syringe and nozzle of each load */
  double opened_days;      /* 60: an opened tube is used up within so many days of work, or another is opened */
} girdle_work_rates;

typedef struct girdle_work {
  int64_t glued, sewn, changes, zones;
  double adhesive_ml;     /* under the stones */
  double adhesive_buy_ml; /* with waste */
  int64_t tubes;          /* whole tubes to buy */
  int64_t dots_at_a_time; /* how many dots before the first skins, at this pace */
  double minutes;
  int64_t evenings;        /* for this costume alone with all hands: as many as a calendar of it alone takes */
  int64_t tube_millionths; /* adhesive_buy_ml in tubes: 1000000 is one whole tube */
  int64_t loads;           /* syringes drawn up, zone by zone */
  double residue_ml;       /* what stays in syringes and nozzles; part of adhesive_buy_ml */
  int32_t sides;           /* 2 when both front and back are worked, one after the other; else 1 */
  int32_t back_millionths; /* with two sides: the back's share of the minutes, 1 to 999999; else 0 */
} girdle_work;

/* The work of one zone of one costume. */
typedef struct girdle_work_zone {
  char tag[32], zone[64], side[16];
  int64_t glued, sewn, changes;
  double adhesive_ml; /* under the stones */
  double load_ml;     /* how much to draw up at a time: no more than is used before it thickens */
  int64_t loads;
  int64_t dots_at_a_time; /* at this zone's pace */
  double minutes;
} girdle_work_zone;

/* Steps of one costume's work, in their order. */
enum {
  GIRDLE_STEP_BARRIER, /* put the barrier in between the layers */
  GIRDLE_STEP_MARK,    /* lay out and mark the zone */
  GIRDLE_STEP_GLUE,    /* one stone of the zone */
  GIRDLE_STEP_DRY,     /* leave it lying until it can be turned */
  GIRDLE_STEP_TURN,
  GIRDLE_STEP_SEW,  /* one stone of the zone, when all adhesive is dry right through */
  GIRDLE_STEP_CURE, /* leave it until it is dry right through */
  GIRDLE_STEP_END
};
typedef struct girdle_work_step {
  int32_t kind, reserved;
  char zone[64], side[16];
  girdle_stone stone; /* GLUE and SEW */
  int64_t pieces;
  double minutes; /* of work; of waiting for DRY and CURE */
  double adhesive_ml;
} girdle_work_step;

/* One day of the week in a mask of weekdays: 1 Monday to 7 Sunday. */
#define GIRDLE_WEEKDAY(weekday) (1u << ((weekday)-1))

/* Fills in the defaults that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_work_rates_init(girdle_work_rates *rates, uint32_t struct_bytes);
/* Work for all lines of a tally. Here and below rates NULL: the defaults. */
GIRDLE_API int32_t girdle_work_estimate(girdle_call *call, const girdle_tally *tally, const girdle_work_rates *rates,
                                        girdle_work *out);

/* The same zone by zone, in the order the tally first names them. Two-call buffer: *count receives how many there are,
 * at most `capacity` are written. */
GIRDLE_API int32_t girdle_work_zones(girdle_call *call, const girdle_tally *tally, const girdle_work_rates *rates,
                                     girdle_work_zone *zones, uint64_t capacity, uint64_t *count);
/* The order of work for the lines of one tag: the back last, after drying and turning; in a zone the largest stones
 * first; sewn stones when everything is dry right through. Two-call buffer as above. */
GIRDLE_API int32_t girdle_work_steps(girdle_call *call, const girdle_tally *tally, const char *tag,
                                     const girdle_work_rates *rates, girdle_work_step *steps, uint64_t capacity,
                                     uint64_t *count);
/* What a step says to do, as a sentence of common practice. Never NULL. */
GIRDLE_API const char *girdle_step_text(int32_t kind);

/* Dates are days since 1970-01-01 in the proleptic Gregorian calendar. "2031-03-14" and nothing else (ISO 8601). */
GIRDLE_API int32_t girdle_date_parse(girdle_call *call, const char *text, int64_t *out_day);
/* Writes a day as girdle_date_parse reads it; "unknown" for one 4,000,000 days or more from 1970-01-01. Two-call
 * buffer: returns the length needed without the NUL. */
GIRDLE_API uint64_t girdle_date_text(int64_t day, char *buffer, uint64_t bytes);
GIRDLE_API int32_t girdle_date_weekday(int64_t day); /* 1 Monday to 7 Sunday */
/* The ISO 8601 week date; year and week 0 for a day that girdle_date_text has no date for. */
GIRDLE_API void girdle_date_week(int64_t day, int64_t *year, int32_t *week);

/* A costume to be stoned. */
typedef struct girdle_task {
  char tag[32];
  int64_t needed_by_day;
  double minutes;
  int32_t sides;           /* 1 or 2: two sides are glued one after the other, drying in between */
  int32_t back_millionths; /* with two sides: the share of the minutes that the second takes; 0: half of them */
} girdle_task;

enum {
  GIRDLE_DAY_ORDER,
  GIRDLE_DAY_DELIVERY,
  GIRDLE_DAY_ALTERATIONS,
  GIRDLE_DAY_SWATCH,
  GIRDLE_DAY_GLUE,
  GIRDLE_DAY_DRY,
  GIRDLE_DAY_TRY_ON,
  GIRDLE_DAY_IN_HAND,
  GIRDLE_DAY_NEEDED,
  GIRDLE_DAY_END
};
typedef struct girdle_event {
  char tag[32]; /* empty: for all */
  int32_t kind, reserved;
  int64_t first_day, last_day;
  double minutes; /* work planned, GLUE only */
} girdle_event;

typedef struct girdle_calendar girdle_calendar;
typedef struct girdle_calendar_options {
  uint32_t struct_bytes, reserved;
  int64_t today;
  int32_t delivery_days, reserved2; /* the slowest of the suppliers used */
  const girdle_task *tasks;
  uint64_t task_count;
} girdle_calendar_options;

/* What the calendar comes to. late_days 0: it can be met; else how many days too few there are, and what would do. */
typedef struct girdle_calendar_sum {
  int64_t order_by_day, start_day, ready_day, late_days;
  int32_t hands_needed; /* hands with which it can be met; 0 when no number of hands does */
  int32_t reserved;
} girdle_calendar_sum;

/* What would do when the calendar cannot be met; each alone, with all else as it is. */
enum {
  GIRDLE_MORE_HANDS,      /* value: people gluing */
  GIRDLE_FASTER_POST,     /* value: days of delivery */
  GIRDLE_LONGER_EVENINGS, /* value: minutes an evening, up to twice as long */
  GIRDLE_MORE_PLACES,     /* value: places to lie flat */
  GIRDLE_FEWER_STONES,    /* value: per cent of the work to leave out, by leaving zones out */
  GIRDLE_LARGER_STONES,   /* value: per cent by which stones must be larger across, the same areas covered: n stones of
                             d across and n / k of d x sqrt(k) cover as much */
  GIRDLE_ALTERNATIVE_END
};
typedef struct girdle_alternative {
  int32_t kind, reserved;
  int64_t value;     /* the least that does; when nothing does, the least that helps as much as any */
  int64_t late_days; /* what is still too few days with it; 0: it can be met */
} girdle_alternative;

/* Fills in the defaults that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_calendar_options_init(girdle_calendar_options *options, uint32_t struct_bytes);
/* Worked back from each costume's day, latest first. GIRDLE_OK also when it cannot be met: see late_days. rates NULL:
 * the defaults. GIRDLE_ARGUMENT without a task, options NULL among that. */
GIRDLE_API int32_t girdle_calendar_plan(girdle_call *call, const girdle_work_rates *rates,
                                        const girdle_calendar_options *options, girdle_calendar **out);
GIRDLE_API void girdle_calendar_free(girdle_calendar *calendar); /* NULL is fine */
/* What happens when; valid as long as the calendar. */
GIRDLE_API const girdle_event *girdle_calendar_events(const girdle_calendar *calendar, uint64_t *count);
/* The days that matter, and whether they can be met. */
GIRDLE_API void girdle_calendar_total(const girdle_calendar *calendar, girdle_calendar_sum *out);
/* None when the calendar can be met. */
GIRDLE_API const girdle_alternative *girdle_calendar_alternatives(const girdle_calendar *calendar, uint64_t *count);
/* "more hands", "faster post", "longer evenings", "more places to lie flat", "fewer stones", "larger stones". Never
 * NULL. */
GIRDLE_API const char *girdle_alternative_text(int32_t kind);
/* "order", "delivery", "alterations", "swatch", "glue", "dry", "try-on", "in hand", "needed". Never NULL. */
GIRDLE_API const char *girdle_day_text(int32_t kind);

#ifdef __cplusplus
}
#endif
#endif
