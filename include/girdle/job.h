/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_JOB_H
#define GIRDLE_JOB_H

/* job: one costume for one wearer as plain data, a club of them, and everything reckoned from it: tally, order, work,
 * quotes, calendar. Jobs and clubs are built by one thread and then only read. NULL as base.h says. */

#include "girdle/learn.h"
#include "girdle/order.h"
#include "girdle/quote.h"
#include "girdle/tally.h"
#include "girdle/work.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct girdle_job girdle_job;
typedef struct girdle_club girdle_club;

/* A body or garment measure by its everyday or ISO 8559 name, spaces as written: "neckline", "upper arm". */
typedef struct girdle_measure {
  char name[32];
  double mm;
} girdle_measure;

/* How the costume lies while it is glued, and how it is worn, as shares stretched from flat (0.1 = 10 %). */
typedef struct girdle_fabric {
  double mass_g_m2; /* NaN when not known */
  double lies_across, lies_along;
  double worn_across, worn_along; /* NaN: as it lies */
} girdle_fabric;

typedef struct girdle_job_head {
  uint32_t struct_bytes, reserved;
  char tag[32], costume[64], size[16], wearer[64], routine[64];
  int64_t needed_by_day; /* INT64_MIN when not known */
  girdle_fabric fabric;
  int64_t
      own_stones; /* pieces that the wearer brings: their checking and sorting is in the quote; they are in the stock */
  int64_t extra_stones;    /* pieces added after the deposit was paid, at the price of an extra gross */
  int32_t rush, reserved2; /* 1: the quote has the share for rush */
} girdle_job_head;

enum {
  GIRDLE_ZONE_PAIR = 1,
  GIRDLE_ZONE_DRAWN = 2 /* lies where the costume's drawing has it, so that its stones and another's may meet */
};

/* What stays alike in a zone when it is worked for another size. */
enum {
  GIRDLE_ALIKE_GAP,     /* the gap: there are more stones or fewer */
  GIRDLE_ALIKE_COUNT,   /* the number of stones: the same bag for everyone, the gaps differ */
  GIRDLE_ALIKE_PICTURE, /* rows and motifs: the stones stand where one costume has them, carried to the other's size */
  GIRDLE_ALIKE_END
};

/* A part of the costume with its stones. */
typedef struct girdle_zone {
  uint32_t struct_bytes, flags;
  char name[64], side[16]; /* side: "front", "back", "left", "right", "both" or "" */
  char recipe[64];
  int64_t times;                     /* identical pieces: drawn once, counted so often; 1 */
  int32_t priority, reserved;        /* rank: the least number first; 0: none, after all that have one */
  const girdle_placement *placement; /* may be NULL when all is set by eye */
  const girdle_stone *already;       /* stones set by eye, counted but not placed */
  const int64_t *already_pieces;
  uint64_t already_count;
  double area_mm2, edge_mm;   /* of one piece: the area that is stoned, the length of the edge; NaN where not known */
  char pair_side[16];         /* in a job, of both halves of a pair: the side that was given */
  int64_t left_out;           /* stones that girdle_job_settle left out */
  girdle_box box;             /* of the shape of one piece; NaN when not known */
  int32_t alike, reserved2;   /* GIRDLE_ALIKE_* */
  int64_t dropped, closed_up; /* by girdle_job_keep_picture: stones that found no room, stones moved together */
} girdle_zone;

/* A row of zones.csv as it was written; shapes and lengths are read when it is worked. Texts are never NULL. */
typedef struct girdle_zone_row {
  char name[64], side[16], recipe[64], shape[256], length[48], width[48], stones[256], gap[48], already[256],
      leave[256];
  int64_t times;
  int32_t pair, priority, line; /* priority: 1 first, 0 none; line: of the file, for errors */
  int32_t need_shape;           /* 1: without a shape a recipe that needs one is refused; 0: it gets a line */
  char given[256];              /* whatever else the recipe takes: "size = 20 cm; rays = 8" */
  int32_t alike;                /* GIRDLE_ALIKE_* */
  int32_t alike_count;          /* of GIRDLE_ALIKE_COUNT: so many; 0: as many as the smallest takes */
  char pieces[256]; /* "30 ss16 red; 31 ss16": so many stay of what was placed, by girdle_job_keep_pieces; "": all */
} girdle_zone_row;

/* Fills in the defaults of a head, a tag wanting; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_job_head_init(girdle_job_head *head, uint32_t struct_bytes);
/* Fills in the defaults of a zone; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_zone_init(girdle_zone *zone, uint32_t struct_bytes);

/* Makes a job without zones; the head, which needs a tag, is copied. */
GIRDLE_API int32_t girdle_job_new(girdle_call *call, const girdle_job_head *head, girdle_job **out);
GIRDLE_API void girdle_job_free(girdle_job *job); /* NULL is fine */
/* The head it was made with, with the fabric set since; valid as long as the job. */
GIRDLE_API const girdle_job_head *girdle_job_head_of(const girdle_job *job);
/* How the costume's fabric is known only once its file is read. */
GIRDLE_API int32_t girdle_job_set_fabric(girdle_call *call, girdle_job *job, const girdle_fabric *fabric);

/* Sets a measure, replacing one of the same name. */
GIRDLE_API int32_t girdle_job_set_measure(girdle_call *call, girdle_job *job, const char *name, double mm);
/* The measures in the order they were first set; valid until the job changes. */
GIRDLE_API const girdle_measure *girdle_job_measures(const girdle_job *job, uint64_t *count);

/* Adds a zone; everything is copied. A pair becomes two zones, left as it is and right mirrored about the middle of its
 * box, each with the same times and the same stones set by eye; the side given is kept as pair_side. A name that is
 * there already on the same side, or with "both" on front or back, is an error. */
GIRDLE_API int32_t girdle_job_add_zone(girdle_call *call, girdle_job *job, const girdle_zone *zone);
/* The zones in the order they were added; valid until the job changes. */
GIRDLE_API const girdle_zone *girdle_job_zones(const girdle_job *job, uint64_t *count);

/* Settles where zones meet, so that nothing is counted twice: of those that have a rank, lie on the drawing
 * (GIRDLE_ZONE_DRAWN) and on the same side, the one of the least number keeps its stones, and the others leave out
 * those that would lie on them. A pair is settled where it is drawn, as its left half, on the side that was given; its
 * right half follows. Zones of one rank leave each other alone. Settling twice is settling once. On an error some zones
 * may be settled already, each of them wholly. */
GIRDLE_API int32_t girdle_job_settle(girdle_call *call, girdle_job *job);

/* Carries a placement, a picture, from one box to another: each stone goes where the box does and keeps its size and
 * turn. Where a row became too short for its stones, as few as must go are left out, evenly over the row, and the
 * others close up along it (*closed_up of them stand in such rows); what still overlaps an earlier stone is left out. A
 * box without width or height, as of a straight line, only moves. Boxes reach 1e7 mm. Free *out with
 * girdle_placement_free. */
GIRDLE_API int32_t girdle_picture_carry(girdle_call *call, const girdle_placement *from, const girdle_box *from_box,
                                        const girdle_box *onto_box, int64_t *closed_up, girdle_placement **out);
/* Gives each zone of a job that keeps the picture (GIRDLE_ALIKE_PICTURE) the picture that the zone of the same name and
 * side has in the sample, carried from its box to the job's, and notes what was dropped and closed up. Zones that the
 * sample lacks stay as they are; so does the sample itself. */
GIRDLE_API int32_t girdle_job_keep_picture(girdle_call *call, girdle_job *job, const girdle_job *sample);
/* Gives zone number `which` the stones of another placement (copied), which may be NULL. */
GIRDLE_API int32_t girdle_job_set_placement(girdle_call *call, girdle_job *job, uint64_t which,
                                            const girdle_placement *placement);

/* Brings zone number `which` down to so many stones of each of `count` kinds, none of which is named twice: those of a
 * kind that is not named go, too. Where a kind lacks some, others of its diameter and outline that would go take its
 * colour. Those that go are spread evenly where the zone is one row, and are the last ones where it has several.
 * GIRDLE_GEOMETRY, naming the kind, where there are not so many: then the zone stays as it is. */
GIRDLE_API int32_t girdle_job_keep_pieces(girdle_call *call, girdle_job *job, uint64_t which,
                                          const girdle_stone *stones, const int64_t *pieces, uint64_t count);

/* Puts one stone in the place of another in every zone, also among those set by eye; *pieces of them. Both must have
 * one diameter and outline, as another size would have another place: GIRDLE_ARGUMENT. On another error some zones may
 * have it already. To be done for all who stand side by side, or for none. */
GIRDLE_API int32_t girdle_job_substitute(girdle_call *call, girdle_job *job, const girdle_stone *stone,
                                         const girdle_stone *instead, int64_t *pieces);

/* Stones that were weighed (copied): their masses go into the job's tally. Replaces those given before. */
GIRDLE_API int32_t girdle_job_set_weighed(girdle_call *call, girdle_job *job, const girdle_stone *weighed,
                                          uint64_t count);

/* Counts all zones under the job's tag. What is placed on side "both" is counted on front and back, as
 * girdle_zone_split splits it; what is set by eye there stays on "both". */
GIRDLE_API int32_t girdle_job_tally(girdle_call *call, const girdle_job *job, girdle_tally **out);

/* ---- weight */

typedef struct girdle_weight_options {
  uint32_t struct_bytes, reserved;
  double dress_mg; /* the plain dress as weighed; NaN when it was not */
  double most_share, most_g_m2,
      most_g_cm;            /* limits: added of the dress, a zone by area, an edge; NaN: none, no verdict */
  const char *const *rests; /* zones whose stones do not hang from the straps, by name */
  uint64_t rest_count;
} girdle_weight_options;

enum { GIRDLE_OVER_SHARE = 1, GIRDLE_OVER_AREA = 2, GIRDLE_OVER_EDGE = 4 };

/* Stones alone; adhesive adds a little. Masses of three: least, nominal, most; single ones are nominal. */
typedef struct girdle_weight {
  double added_mg[3];
  double dress_share[3];                       /* added of the plain dress; NaN without it */
  double front_mg, back_mg, left_mg, right_mg; /* what no side tells apart counts half to each */
  double hanging_mg;                           /* dress and stones that hang from the straps */
  int64_t stones;
  uint64_t heaviest;      /* number of the zone with the most mass */
  int32_t over, at_least; /* GIRDLE_OVER_*; 1: some masses are lower bounds */
} girdle_weight;

/* Nearer than this no hand sets stones apart, and they touch (common practice, no source). */
#define GIRDLE_TOUCHING_MM 0.05

typedef struct girdle_zone_weight {
  char name[64], side[16];
  int64_t stones;
  double mass_mg[3];
  double g_m2, g_cm; /* nominal, by the zone's area and edge; NaN where those are not known */
  double smaller_mg; /* if every stone were the next smaller size that several charts agree on; NaN if none */
  double glued_gap_mm, worn_gap_mm; /* between the two nearest stones, where edge_mm is known of those that follow each
                                       other in a row; as glued and as worn; NaN for fewer than two */
  int32_t over;
  int32_t touching; /* stones of one piece with another nearer than GIRDLE_TOUCHING_MM, as glued or as worn */
} girdle_zone_weight;

/* Fills in the defaults that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_weight_options_init(girdle_weight_options *options, uint32_t struct_bytes);
/* Weighs a job's stones. A zone with side "both" is split as girdle_zone_split does. Writes at most `capacity` zones in
 * their order. The fabric under a stone is taken as not stretching, so a gap grows as the clear fabric does across.
 * options NULL: the defaults. */
GIRDLE_API int32_t girdle_job_weigh(girdle_call *call, const girdle_job *job, const girdle_weight_options *options,
                                    girdle_weight *out, girdle_zone_weight *zones, uint64_t capacity);

/* Splits a placement that goes round the body at its side seams, the two together being all of it: a ring laid out as
 * one at the ends of its box's upright middle, the lower half being the front; what is drawn flat (lower than a quarter
 * of its width) at the middle of its length, the half on the left being the front. */
GIRDLE_API int32_t girdle_zone_split(girdle_call *call, const girdle_placement *both, girdle_placement **front,
                                     girdle_placement **back);

/* ---- openings */

/* A ring of stones that something must pass through: neck, wrist, waist, leg. Shares are stretched from flat. */
typedef struct girdle_opening {
  uint32_t struct_bytes, reserved;
  double ring_mm;             /* its length as it is glued */
  double through_mm;          /* girth of the head, the hand, the hips, the foot */
  double lies, stretch_most;  /* how it lies while it is glued, 0; how far the fabric stretches at most */
  double diameter_mm, gap_mm; /* the stones along the ring, of several the mean; edge to edge as glued */
  int64_t stones;             /* so many stand on it, whatever the gap; 0: as many as girdle_run counts at the gap */
} girdle_opening;

typedef struct girdle_opening_check {
  int32_t passes, reserved;
  int64_t stones, most_stones; /* as planned; the most that let it through, -1: too tight without any */
  double reach_mm;             /* the ring's girth at full stretch with the planned stones */
  double least_gap_mm;         /* from this gap on it passes; NaN when no gap with two stones or more does */
  double open_mm;              /* so much of the ring left without stones, at the planned gap; 0 when it passes */
} girdle_opening_check;

/* Fills in the defaults that stand beside the fields; struct_bytes is the caller's sizeof. */
GIRDLE_API void girdle_opening_init(girdle_opening *opening, uint32_t struct_bytes);
/* Checks an opening, the fabric under a stone being taken as not stretching: n stones of diameter d on a ring of length
 * L reach n d + (L - n d) (1 + stretch_most) / (1 + lies). */
GIRDLE_API int32_t girdle_opening_try(girdle_call *call, const girdle_opening *opening, girdle_opening_check *out);

/* A club: wearers' jobs and what they share. It owns the jobs given to it. */
GIRDLE_API int32_t girdle_club_new(girdle_call *call, girdle_club **out);
GIRDLE_API void girdle_club_free(girdle_club *club); /* NULL is fine; frees its jobs */
/* Takes the job over on success only. A tag that is there already, capitals aside, is an error. Jobs keep the order
 * they came in. */
GIRDLE_API int32_t girdle_club_add_job(girdle_call *call, girdle_club *club, girdle_job *job);
/* How many jobs it has. */
GIRDLE_API uint64_t girdle_club_jobs(const girdle_club *club);
GIRDLE_API girdle_job *girdle_club_job(const girdle_club *club, uint64_t index); /* NULL past the end */

/* A size's measure, used by the wearers of that size who have none of their own. */
GIRDLE_API int32_t girdle_club_set_size(girdle_call *call, girdle_club *club, const char *size, const char *measure,
                                        double mm);
/* Gives every job the stones that were weighed and the measures of its size that it lacks; a size not known is an error
 * naming the tag. Where the club has no sizes at all, a size is only a word beside measures of the wearer's own. */
GIRDLE_API int32_t girdle_club_fit_sizes(girdle_call *call, girdle_club *club);

/* Adds a row of the price book (copied); its supplier is looked for when the club is reckoned. */
GIRDLE_API int32_t girdle_club_add_price(girdle_call *call, girdle_club *club, const girdle_price_row *row);
/* The item under which a supplier sells stones of a colour: given to its price rows of that colour, added before, that
 * name no item of their own. */
GIRDLE_API int32_t girdle_club_set_item(girdle_call *call, girdle_club *club, const char *supplier, const char *colour,
                                        const char *item);
/* Adds a supplier (copied). All suppliers sell in the club's one currency: the first one named, by a supplier or a
 * rate. A name that is there already is an error. */
GIRDLE_API int32_t girdle_club_add_supplier(girdle_call *call, girdle_club *club, const girdle_supplier *supplier);
/* Adds pieces on hand (copied), one row a stone or a lot. */
GIRDLE_API int32_t girdle_club_add_stock(girdle_call *call, girdle_club *club, const girdle_stock_row *row);
/* Adds a row of the job log (copied). */
GIRDLE_API int32_t girdle_club_add_log(girdle_call *call, girdle_club *club, const girdle_log_row *row);
/* The views of what was added, valid until the club changes. */
GIRDLE_API const girdle_price_row *girdle_club_prices(const girdle_club *club, uint64_t *count);
/* The suppliers in the order they were added; valid until the club changes. */
GIRDLE_API const girdle_supplier *girdle_club_suppliers(const girdle_club *club, uint64_t *count);
/* The stock as it was added; valid until the club changes. */
GIRDLE_API const girdle_stock_row *girdle_club_stock(const girdle_club *club, uint64_t *count);
/* The log as it was added; valid until the club changes. */
GIRDLE_API const girdle_log_row *girdle_club_log(const girdle_club *club, uint64_t *count);

/* Sets a rate by the name people use for it ("labour a gross", "adhesive film", "hands"; capitals and "_" for a space
 * do not matter); the value carries its unit: "0.3 mm", "2 h", "12.5 %", "50.00" or "50.00 EUR", "3", "yes", "Mon-Fri".
 * Sums without a code are in the club's currency, whether it comes before or after them (EUR when it never comes).
 * Unknown names are GIRDLE_UNKNOWN with the nearest. Of the three labour rates the one set last counts. */
GIRDLE_API int32_t girdle_club_set_rate(girdle_call *call, girdle_club *club, const char *name, const char *value);
/* The stones that were weighed, with their weighed mass; lives until the club changes. model_off of girdle_stone_weigh.
 */
typedef struct girdle_weighing {
  girdle_stone stone;
  double model_off;
} girdle_weighing;
/* The weighings in the order they were set; valid until the club changes. */
GIRDLE_API const girdle_weighing *girdle_club_weighings(const girdle_club *club, uint64_t *count);
/* The names of all rates, in order, but for "gross of". */
GIRDLE_API const char *const *girdle_rate_names(uint64_t *count);
/* The rates of work with what was set; valid until the club changes. */
GIRDLE_API const girdle_work_rates *girdle_club_work_rates(const girdle_club *club);
/* The rates of quotes with what was set; valid until the club changes. */
GIRDLE_API const girdle_quote_rates *girdle_club_quote_rates(const girdle_club *club);

/* ---- planning from a total */

/* A zone as it could be at most: so many pieces of a repeating sequence of stones. */
typedef struct girdle_plan_zone {
  char name[64],
      side[16];     /* "pair": left and right, two pieces alike or a multiple of two; "both": half at each side */
  int32_t priority; /* zones of the least number are filled first; those alike grow together, by their most */
  int32_t alike; /* so many pieces of the costume are the same, such as two of a pair, and get as many each; 0 is 1 */
  int64_t most;  /* on all of them together */
  const girdle_stone *stones;
  uint64_t stone_count;
} girdle_plan_zone;

enum {
  GIRDLE_PLAN_PIECES,   /* so many pieces */
  GIRDLE_PLAN_MONEY,    /* an order, spares and shipping included, of at most so many minor units */
  GIRDLE_PLAN_EVENINGS, /* at most so many evenings with all hands */
  GIRDLE_PLAN_STOCK,    /* what the club has in stock; the amount is not looked at, no spares are kept back */
  GIRDLE_PLAN_END
};

typedef struct girdle_plan_sum {
  int64_t pieces, pieces_most; /* planned; of all zones at their most */
  int64_t cost_minor; /* of the order with its spares and shipping; -1 without prices, or where one is missing */
  double minutes;
  int64_t evenings;
} girdle_plan_sum;

/* Plans how many pieces each zone gets (counts[i], zone_count of them) from a total of a kind. Zones grow one stone at
 * a time (one on each of the pieces that are alike): those of the least priority first, zones of the same priority each
 * by its most (Sainte-Lague's divisors, so that a greater total never takes a stone away again). The plan is the
 * greatest that fits: with the next stone, the order costs more than the money or cannot be had, or the work takes more
 * evenings. From stock, a zone whose next stone is used up stays as it is and the others go on, so that in the end each
 * zone is at its most or lacks its next stone. So it is with evenings, as front and back each begin on one of their
 * own: a single evening is filled with one side. The prices, suppliers, stock, rates and log are the club's.
 * GIRDLE_GEOMETRY when money is given and a stone has no price. */
GIRDLE_API int32_t girdle_club_plan(girdle_call *call, const girdle_club *club, const girdle_plan_zone *zones,
                                    uint64_t zone_count, int32_t kind, int64_t amount, int64_t *counts,
                                    girdle_plan_sum *out);

/* Everything that follows from a club's jobs. Owns all it gives out; immutable.
 * One order for all. With a log, its spares are learned from it, and the times of the rates are brought to the pace it
 * shows, the more the more jobs it has against the rate "jobs before the log counts". A stone's packs are paid by those
 * who wear it, by their pieces, and the shipping by those materials (alike when they cost nothing), both by largest
 * remainder, so that the shares add up to the order exactly. Without prices every stone is unpriced. A costume with
 * zones at the front and at the back has two sides to glue. Delivery takes as long as the slowest supplier used.
 * GIRDLE_ARGUMENT, naming the tag, where one is needed more than 36500 days from today. */
typedef struct girdle_reckoning girdle_reckoning;
/* today: days since 1970-01-01; the quotes are of this day. */
GIRDLE_API int32_t girdle_club_reckon(girdle_call *call, const girdle_club *club, int64_t today,
                                      girdle_reckoning **out);
GIRDLE_API void girdle_reckoning_free(girdle_reckoning *reckoning); /* NULL is fine */
/* The day it was reckoned from, as it was given. */
GIRDLE_API int64_t girdle_reckoning_today(const girdle_reckoning *reckoning);
/* The stones of all jobs, by tag. */
GIRDLE_API const girdle_tally *girdle_reckoning_tally(const girdle_reckoning *reckoning);
/* What the log says; jobs 0 and the club's own spares without one. */
GIRDLE_API const girdle_learned *girdle_reckoning_learned(const girdle_reckoning *reckoning);
/* The rates the work was reckoned by: the club's, at the pace of the log. */
GIRDLE_API const girdle_work_rates *girdle_reckoning_rates(const girdle_reckoning *reckoning);
/* NULL when the club has no prices. */
GIRDLE_API const girdle_order *girdle_reckoning_order(const girdle_reckoning *reckoning);
/* The work of one job, by its number in the club; NULL past the end. */
GIRDLE_API const girdle_work *girdle_reckoning_work(const girdle_reckoning *reckoning, uint64_t job);
/* The quote of one job, by its number in the club; NULL past the end. */
GIRDLE_API const girdle_quote *girdle_reckoning_quote(const girdle_reckoning *reckoning, uint64_t job);
/* NULL when no job says when it is needed. */
GIRDLE_API const girdle_calendar *girdle_reckoning_calendar(const girdle_reckoning *reckoning);

#ifdef __cplusplus
}
#endif
#endif
