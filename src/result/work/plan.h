/* The work as it stands: tasks, what ties them, what must not overlap, who works when, what the yard allows. Plain data;
 * made by checks/work from the boat, freed by work_plan_free. Nothing is scheduled here.
 *
 * Labour and waits in h, money in the boat's currency, days as Julian day numbers (0: none), temperatures in K. Indices
 * point into the arrays of the same plan; NO_TASK is none. Texts are the plan's or its boat's, which must outlive it. */
#pragma once

#include "base/source.h"
#include "boat/work.h"
#include "result/work/kept.h"

#define NO_TASK ((size_t) -1)

/* Numbers of docs/methods/work.md 3.2; what the owner said himself has none. Words: work_rule_word. */
typedef enum {
    RULE_STATED,
    RULE_COVER,
    RULE_HEAT,
    RULE_TEST,
    RULE_SUPPORT,
    RULE_INTEGRITY,
    RULE_ASHORE,
    RULE_CURE,
    RULE_IMMERSION,
    RULE_AIRING,
    RULE_FIRE_WATCH,
    RULE_PASSAGE,
    RULE_PERSON,
    N_WORK_RULES
} WorkRule;

typedef struct {
    size_t n;
    const size_t *at; /* indices */
} WorkIndices;

typedef struct { /* what opening up may bring to light */
    const char *path, *name;
    double chance_frac;
    ThreePoint takes_h, cost_money; /* cost NAN: not said */
} WorkFind;

typedef struct {
    const char *id, *path, *name; /* "drain", "work.drain", "Run a bucket through the drain" */
    const Record *record;         /* NULL: proposed */
    bool stated;                  /* by the owner; else proposed from the boat, hours assumed */
    const char
        *about; /* path of the thing it was proposed for, or that it works on first; or NULL */
    int state;  /* WorkState */
    ThreePoint takes_h; /* of the whole task; NAN: nobody knows */
    ThreePoint left_h;  /* what is left of it: 0 when done or dropped */
    Basis basis;
    Source source;             /* of its hours; text NULL: the owner's */
    double spent_h, done_frac; /* hours spent so far (0: none) */
    double people;             /* at once */
    unsigned needs, tags;      /* WorkNeed, WorkTag */
    const char *skill, *hire;  /* or NULL */
    WorkIndices
        who; /* hands that do it, as stated or because trades are left out; none: anybody with the skill */
    WorkIndices spaces;       /* it is done in, or on the outside of; none: the whole boat */
    int layer, side;          /* WorkLayer or -1, WorkSide */
    double x_m, y_m, z_m;     /* NAN: nowhere in particular */
    double wait_h, wait_at_K; /* after it, at that temperature; 0: none */
    double wait_least_K;      /* colder it never cures; NAN: not said */
    double wait_most_h;       /* what follows begins within; NAN: no matter */
    double launch_wait_h;     /* before she goes into the water; 0: none */
    double airing_h, watch_h; /* of wet work, of hot work */
    int stay; /* of the times ashore that are still to come, from 0: that it is done in, or before */
    bool unbroken;               /* in one spell */
    int not_before_day, due_day; /* 0: none */
    int start_day;               /* fixed by the owner; 0: free */
    int began_day, finished_day; /* 0: not said */
    ThreePoint cost_money;       /* without purchases; NAN: not said */
    double spent_money;          /* 0: nothing */
    const char *tools, *parts;   /* with commas between; or NULL */
    size_t n_cautions;
    const char *const *caution; /* "ST1", ... */
    WorkIndices needed_for;     /* milestones */
    const List *covers, *opens; /* of the boat file; NULL: none */
    size_t n_finds;
    const WorkFind *find;
} WorkTask;

typedef enum {
    WORK_TIE_AFTER,   /* to begins lag after the end of from */
    WORK_TIE_NO_LATER /* to begins no later than lag after the end of from */
} WorkTieKind;

typedef struct {
    size_t from, to;
    WorkTieKind kind;
    double lag_h;    /* elapsed, at the temperature of from's wait where cures is set */
    bool cures;      /* the lag goes with temperature: factor 2 in 10 K, never below the least */
    WorkRule rule;   /* the first that asks for it */
    const char *why; /* one plain sentence */
    const char *overruled; /* the owner's reason: the tie then does not hold; or NULL */
} WorkTie; /* reduced: none follows from others, save those with a lag and those that are overruled */

typedef enum {
    EXCLUDE_AIRING,    /* other not between the start of `first` and `lag_h` after its end */
    EXCLUDE_INTEGRITY, /* other not between the start of `first` and the end of `last` */
    EXCLUDE_ASHORE /* the same: first hauls her out, last launches her, other needs her afloat */
} WorkExclusionKind;

typedef struct {
    size_t first, last; /* the same of an airing; last NO_TASK: for ever, nothing closes it */
    size_t other;
    WorkExclusionKind kind;
    double lag_h;
    WorkRule rule;
    const char *why;
    const char *overruled;
} WorkExclusion;

typedef struct {
    const char *id, *path, *name;
    double low_x_m, high_x_m, y_m, z_m; /* NAN where not said */
    WorkIndices tasks;                  /* in it or on it, open ones, by layer */
    WorkIndices keeps_open;             /* open tasks before whose end it may not be closed up */
    WorkIndices closing;                /* open tasks that close it up: lining, covers */
} WorkSpace;

typedef struct {
    const char *id, *path, *name;
    int kind;       /* HandKind */
    double hours_h; /* a week; NAN: the week's spans say */
    size_t n_spans[7];
    WorkHours span[7][MAX_WORK_HOURS]; /* monday first; none at all: hours_h */
    int from_day, until_day;           /* 0: open */
    size_t n_away;
    const int (*away)[2]; /* first and last day */
    const char *skills;   /* with commas between, or NULL */
    double people, cost_money_per_h;
} WorkHand;

typedef struct {
    const char *id, *path, *name;
    int kind; /* SlotKind */
    int from_day, until_day;
    double price_money; /* NAN: not said */
    bool booked;
} WorkSlot;

typedef struct {
    const char *id, *path, *name, *seller;
    WorkIndices tasks;                  /* that cannot begin without it */
    int state;                          /* PurchaseState */
    ThreePoint price_money, delivery_h; /* NAN: not said */
    int ordered_day, due_day;
    double paid_money;
} WorkPurchase;

typedef struct {
    const char *id, *path, *name;
    int kind, day;
    WorkIndices tasks; /* needed for it */
} WorkMilestone;

typedef struct { /* a finished task: what one's own estimates are worth */
    size_t task;
    double estimate_h, actual_h, ratio;
} WorkPace;

typedef struct {
    const Boat *boat;
    int today; /* day; 0: not given */
    size_t n_tasks, n_ties, n_exclusions, n_spaces, n_hands, n_slots, n_purchases, n_milestones,
        n_paces;
    WorkTask *task;
    WorkTie *tie;
    WorkExclusion *exclusion;
    WorkSpace *space;
    WorkHand *hand;
    WorkSlot *slot;
    WorkPurchase *purchase;
    WorkMilestone *milestone;
    WorkPace *pace;
    /* Of the berth: */
    int lies;                                         /* BerthLies */
    int until_day;                                    /* 0: without end */
    double cost_money_per_day, overrun_money_per_day; /* NAN: not said */
    double chance_frac;                               /* that the owner wants to have */
    double air_K[12], indoors_K;                      /* by month; indoors NAN: as the air */
    bool air_stated;                                  /* else usual ones are taken */
    double latitude_rad, longitude_rad;               /* NAN: not said */
    const char *zone;                                 /* of its clock; NULL: not said */
    size_t n_yard_spans[7]; /* hours of the yard, monday first; all 0: always */
    WorkHours yard_span[7][MAX_WORK_HOURS];
    size_t n_closed;
    const int (*closed)[2];
    /* When it cannot be done at all: the shortest circle. Tie i leads from task i to the next one, the last to the first. */
    size_t n_cycle;
    const size_t *cycle, *cycle_tie;
    size_t n_stays; /* times ashore, this one included; 0 and 1: one, to which all belong */
    WorkKept kept;  /* owns arrays and texts */
} WorkPlan;

WorkPlan *work_plan_new(const Boat *boat);
void work_plan_free(WorkPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(WorkPlan, work_plan_free)

/* For who fills it. Zeroed, freed with the plan. */
void *work_plan_block(WorkPlan *plan, size_t n, size_t size);
WorkIndices work_plan_indices(WorkPlan *plan, const GArray *indices); /* a copy of size_t */
const char *work_plan_text(WorkPlan *plan, const char *format, ...) G_GNUC_PRINTF(2, 3);
/* Texts up to NULL, one after the other: for what is said thousands of times. */
const char *work_plan_joined(WorkPlan *plan, const char *first, ...) G_GNUC_NULL_TERMINATED;

size_t work_plan_find(const WorkPlan *plan, const char *id); /* NO_TASK: there is none */
/* Open tasks that no other task and no milestone waits for, and that neither hold her together, test her nor move her; g_free. */
bool *work_plan_may_be_left_out(const WorkPlan *plan);
/* Why, where both tasks are named already; NULL: nothing says it. */
const char *work_tie_reason(const WorkTie *tie);
/* To do or being done. */
bool work_task_is_open(const WorkTask *task);
/* Whether the hand bears the skill; no skill asked: everybody. */
bool work_hand_has_skill(const WorkHand *hand, const char *skill);
/* Whether the owner named that hand for the task; whether it is named, or, where nobody is, has the skill. */
bool work_hand_is_named(const WorkTask *task, size_t hand);
bool work_hand_may_do(const WorkPlan *plan, const WorkTask *task, size_t hand);
/* Factor by which a wait grows at another temperature: 2^((at - T) / 10 K); INFINITY below the least one. */
double work_wait_factor(double at_K, double least_K, double temperature_K);
/* Temperature that counts for a task begun in that month (0..11). */
double work_plan_temperature_K(const WorkPlan *plan, const WorkTask *task, int month);
