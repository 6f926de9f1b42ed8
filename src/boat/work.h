/* Typed structs of the sections about the work: tasks, hands, slots, purchases, milestones, prices, log.
 * Labour and waits in h, money in the boat's currency, everything else SI; NAN where nobody stated it. */
#pragma once

#include "boat/boat.h"

typedef enum { WORK_TO_DO, WORK_DOING, WORK_DONE, WORK_DROPPED } WorkState;
/* Layers of a space from the plate inwards (docs/methods/work.md 3.1); -1: none. */
typedef enum {
    LAYER_STRUCTURE,
    LAYER_SURFACE,
    LAYER_SERVICES,
    LAYER_INSULATION,
    LAYER_LINING,
    LAYER_IN_FRONT
} WorkLayer;
typedef enum { SIDE_INSIDE, SIDE_OUTSIDE, SIDE_ON_DECK } WorkSide;
typedef enum { SPLIT_MAY, SPLIT_NOT } WorkSplit;
/* `kind`: bits in the order of its words. */
typedef enum {
    TAG_HOT = 1 << 0,
    TAG_DUSTY = 1 << 1,
    TAG_WET = 1 << 2,
    TAG_TEST = 1 << 3,
    TAG_HAUL = 1 << 4,
    TAG_LAUNCH = 1 << 5,
    TAG_MOVE = 1 << 6,
    TAG_LIFT = 1 << 7
} WorkTag;
/* `needs`: bits in the order of its words. */
typedef enum {
    NEED_AFLOAT = 1 << 0,
    NEED_ASHORE = 1 << 1,
    NEED_DRIED_OUT = 1 << 2,
    NEED_DRY = 1 << 3,
    NEED_WARM = 1 << 4,
    NEED_DAYLIGHT = 1 << 5,
    NEED_POWER = 1 << 6
} WorkNeed;

typedef struct { /* work.ID */
    const char *what;
    ThreePoint takes_h, cost_money;
    double people;
    List works_on, where, after, covers, opens, cuts, closes, supports, unsupports, passes;
    List who, needed_for;
    int layer, side, split, state;        /* WorkLayer or -1, WorkSide, WorkSplit, WorkState */
    unsigned kind, needs;                 /* WorkTag, WorkNeed */
    const char *skill, *hire;             /* one word; a thing that is hired or borrowed */
    const char *tools, *parts, *cautions; /* separated by commas */
    double wait_h, wait_at_K, wait_least_K, wait_most_h, launch_wait_h, airing_h, watch_h;
    double done_frac, took_h, spent_money;
    Date began, finished, not_before, due, start;
    Flag seen;
    Map overrules; /* a rule's word or a task: why */
} WorkSection;

typedef struct { /* work.ID.may-find.ID */
    const char *what;
    double chance_frac;
    ThreePoint takes_h, cost_money;
} MayFind;

typedef enum { HAND_OWNER, HAND_HELPER, HAND_TRADE } HandKind;
typedef struct { /* hands.ID */
    const char *who, *skills;
    int kind; /* HandKind */
    double hours_h, people, cost_money_per_h;
    Map week, away; /* day of the week: hours; name: days */
    Date from, until;
} Hand;

typedef enum { SLOT_HAUL_OUT, SLOT_LAUNCH, SLOT_LIFT } SlotKind;
typedef struct { /* berth.slots.ID */
    const char *what;
    int kind; /* SlotKind */
    Date from, until;
    double price_money;
    Flag booked;
} Slot;

typedef enum { PURCHASE_WANTED, PURCHASE_ORDERED, PURCHASE_IN_HAND } PurchaseState;
typedef struct { /* purchases.ID */
    const char *what, *seller;
    List for_tasks;
    int state; /* PurchaseState */
    ThreePoint price_money, delivery_h;
    Date ordered, due;
    double paid_money;
} Purchase;

typedef enum {
    MILESTONE_LAUNCH,
    MILESTONE_SLEEP_ABOARD,
    MILESTONE_SURVEY,
    MILESTONE_END_OF_BERTH,
    MILESTONE_SMALLEST_FINISH,
    MILESTONE_OTHER
} MilestoneKind;
typedef struct { /* milestones.ID */
    const char *what;
    int kind; /* MilestoneKind */
    Date date;
} Milestone;

typedef struct { /* prices.ID */
    const char *what, *per, *seller;
    double price_money;
    Date date;
} Price;

typedef struct { /* log.ID */
    Date date;
    Reference task, who;
    double hours_h;
    const char *found, *photos, *note;
} LogEntry;

extern const Section section_work, section_may_find, section_hands, section_slots,
    section_purchases, section_milestones, section_prices, section_log;

/* One of the sections above. */
bool section_is_work(const Section *section);

/* Hours of a day: `9:00 to 13:00, 14:00 to 17:00`; minutes from midnight, rising. */
typedef struct {
    int opens_min, closes_min;
} WorkHours;
enum { MAX_WORK_HOURS = 6 };
/* How many spans; 0 with *problem (g_free) when the text is none. */
size_t work_hours_parse(const char *text, WorkHours hours[static MAX_WORK_HOURS], char **problem);
/* A day, or the first and last of several: `2027-07-03 to 2027-07-17`. */
bool work_days_parse(const char *text, Date *first, Date *last, char **problem);
/* 0 for mon to 6 for sun, 0 for jan to 11 for dec; -1: no such word. */
int work_weekday(const char *word);
int work_month(const char *word);
/* The words that may be overruled: rules of docs/methods/work.md 3.2, by their number; 0: no such word. */
int work_rule_number(const char *word);
const char *work_rule_word(int number);
