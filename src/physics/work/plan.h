/* The plan of a real refit: few hands with hours of their own, waits that run day and night, windows, work that excludes other work.
 *
 * A list of the tasks is replayed by the serial scheme: each in turn begins as early as its ties, its hands and all its hours allow, in
 * the gaps that the tasks before it in the list have left. Work is done in open hours only; it may be broken off by nights and by what is
 * already planned, unless it is unbroken; waits run on. A replay is quick (some 100 ns a task), so that a search may make a thousand and
 * a simulation ten thousand.
 *
 *     ties     FINISH_START  S_to >= F_from + lag     FINISH_FINISH  F_to >= F_from + lag
 *              START_START   S_to >= S_from + lag     START_FINISH   F_to >= S_from + lag
 *              NO_LATER      S_to <= F_from + lag
 *     span     other wholly before S_first or after F_last + lag
 *
 * Time is whole minutes (_min) from the midnight of first_day, as in calendar.h; PLAN_NEVER: it cannot be.
 *
 * Returns  PLAN_LOOP: the ties go round in a circle; PLAN_BAD: a number out of range, an index that leads nowhere, calendars of another
 *          stretch. *where is the task, tie or span
 * Misses   two tasks that one person does at once; a person who joins later
 * Source   serial schedule generation: Kelley 1963, Kolisch 1996 (memory); docs/methods/work.md 2.2, 2.9, 3.5
 * Checked  tests/physics/test_plan.c: the sheet's W3.4 to W3.9, and every rule above on random problems */
#pragma once

#include "physics/work/calendar.h"
#include "physics/work/wait_clock.h"

#define PLAN_NEVER INT32_MAX
#define PLAN_NONE ((size_t) -1)

enum { PLAN_CREW = 4, PLAN_CREWS = 24 }; /* most hands of a crew, most crews of a task */

typedef struct {
    size_t n;
    size_t hand[PLAN_CREW];
} PlanCrew;

typedef struct {
    int32_t work_min;     /* with the whole crew there */
    size_t n_crews;       /* 0: nobody is needed */
    const PlanCrew *crew; /* any of them will do; the first of those that finish soonest is taken */
    const Calendar *where; /* open besides the hours of the hands: daylight, a slot; NULL: always */
    bool
        unbroken; /* in one opening; longer than any opening: from the beginning of a longest one, over time */
    bool under_way; /* began already: a later beginning of the rest does not move it */
    bool weather;   /* not on a day lost to the weather */
    int32_t release_min, due_min; /* due PLAN_NEVER: none */
    unsigned
        turn; /* 0: as urgent as what waits for it; work of a higher turn stands behind all of a lower one where it may */
} PlanTask;

typedef enum { /* as TieKind of task_network.h */
               PLAN_FINISH_START,
               PLAN_START_START,
               PLAN_FINISH_FINISH,
               PLAN_START_FINISH,
               PLAN_NO_LATER
} PlanTieKind;

typedef struct {
    size_t from, to;
    PlanTieKind kind;
    int32_t lag_min;
    const WaitClock *
        clock; /* how fast the lag passes; NULL: as the clock on the wall. For ties from a finish */
} PlanTie;

typedef struct {
    size_t first, last; /* may be the same; last PLAN_NONE: for ever */
    size_t other;
    int32_t lag_min;
} PlanSpan;

typedef struct { /* what is to be planned; borrowed for as long as the plan lives */
    long first_day;
    size_t days; /* of all calendars */
    int32_t begin_min;
    size_t n_tasks, n_hands, n_ties, n_spans, n_targets;
    const PlanTask *task;
    const Calendar *const
        *hand; /* hours of each: a person, several who work as one, a hired thing */
    const PlanTie *tie;
    const PlanSpan *span;
    const size_t *target; /* tasks whose end is the end; none: all */
} PlanWork;

typedef enum { PLAN_READY, PLAN_LOOP, PLAN_BAD } PlanOutcome;

/* Made ready for replays; NULL unless PLAN_READY. */
typedef struct Plan Plan;
Plan *plan_new(const PlanWork *work, PlanOutcome *outcome, size_t *where);
void plan_free(Plan *plan);
const PlanWork *plan_work(const Plan *plan);

typedef enum { /* what a task waited for last */
               WAIT_FOR_NOTHING,
               WAIT_FOR_RELEASE,
               WAIT_FOR_TIE,  /* index of the tie */
               WAIT_FOR_SPAN, /* index of the span */
               WAIT_FOR_HAND, /* index of the hand, which was busy */
               WAIT_FOR_HOURS /* nobody, or no window, was open */
} PlanWait;

typedef struct {
    int32_t start_min, finish_min; /* PLAN_NEVER */
    size_t crew;                   /* PLAN_NONE: nobody was needed, or it never begins */
    PlanWait wait;
    size_t wait_index;
    PlanWait driver; /* the same without closed hours: what moved would move the task */
    size_t driver_index;
    int32_t ready_min; /* when ties, spans and dates let it begin */
    bool over_time;    /* unbroken work longer than any opening */
} PlanPlace;

typedef struct { /* a spell of work */
    size_t task, hand;
    int32_t from_min, to_min;
} PlanPiece;

typedef struct {
    size_t n;
    PlanPlace *place;   /* [n] */
    int32_t finish_min; /* of the targets; PLAN_NEVER: one of them cannot be done */
    int64_t late_min;   /* past their due dates, all tasks together */
    size_t n_broken;    /* greatest waits (NO_LATER) that are not kept */
    size_t broken_tie;  /* the first of them; PLAN_NONE */
    size_t n_pieces;    /* kept only if asked for */
    PlanPiece *piece;
} PlanDates;

/* A day may be lost to the weather: lost_frac of each day of the stretch, drawn from seed. NULL for a plan without. */
typedef struct {
    uint64_t seed;
    const double *lost_frac;
    int32_t begin_min; /* 0 or a later beginning than the work's */
} PlanChance;

/* One at a time per PlanReplay; the dates stand until the next. Keeps room for itself. */
typedef struct PlanReplay PlanReplay;
PlanReplay *plan_replay_new(const Plan *plan, bool pieces);
void plan_replay_free(PlanReplay *replay);
/* list[n]: every task once, none before one that it is tied to (plan_settle). work_min[n], or NULL for the tasks' own. */
const PlanDates *plan_replay(PlanReplay *replay, const uint32_t list[], const int32_t work_min[],
                             const PlanChance *chance);
/* Tasks that the finish of a replay hangs on, backwards from the end along what each waited for; true in critical[n]. */
void plan_drivers(const PlanReplay *replay, bool critical[]);

/* A list that keeps all ties, made from a rank of each task: of those that may be next the lowest rank. Work that a span excludes
 * stands before its first or after its last task. */
void plan_settle(const Plan *plan, const double rank[], uint32_t list[]);
/* Ranks by the latest start that the ties, the due dates and the usual share of open hours leave. */
void plan_latest(const Plan *plan, double rank[]);

typedef struct {
    size_t placements; /* tasks placed in all: 0 as many as usual */
    uint64_t seed;
    const double
        *risk; /* [n] how much of the doubt lies in each task, to be settled early; or NULL */
} PlanSearch;
/* A good list: the shortest found; of equally short ones that which brings risk early, then the nearest to the ranks of plan_latest, so
 * that a small change leaves the order alone. Fills list[n]. */
void plan_find(const Plan *plan, const PlanSearch *how, uint32_t list[]);
