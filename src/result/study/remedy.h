/* What clears a finding: the smallest change of a lever, solved on the whole boat, with all else that it changes. Plain
 * data; made by study/remedies, freed by remedies_free. */
#pragma once

#include "result/finding.h"

typedef enum {
    REMEDY_NUMBER,
    REMEDY_CHOICE,
    REMEDY_BALLAST,
    REMEDY_BULKHEAD,
    REMEDY_ANODE,   /* heavier ones, of the same proportions */
    REMEDY_STEP_UP, /* a converter before the circuit of one device */
    REMEDY_VOLTAGE, /* a bank with all that hangs on it */
    /* Of the work: */
    REMEDY_DAY,     /* of a date: from_value and to_value are day numbers */
    REMEDY_SLOT,    /* path is the slot that is taken instead of that of from_value */
    REMEDY_EVENING, /* path is a hand's week, from the day, to its hours */
    REMEDY_HAND, /* from_value people more, to_value hours a week; to: what they must be able to do, or NULL */
    REMEDY_LEAVE_OUT, /* path is a task's state */
    REMEDY_UNTIE,     /* from and to are paths of tasks */
    REMEDY_OVERRULE   /* likewise */
} RemedyKind;

typedef struct { /* one lever that was moved, in words */
    RemedyKind kind;
    const char
        *path; /* of the field; of ballast, the new item's; of a voltage, the bank; of a step-up,
                            * the circuit */
    const char *from, *to; /* of a choice: words */
    double from_value,
        to_value; /* of a number, SI; of a bulkhead, the old end and where it stands */
    QuantityKind quantity;
    double mass_kg, x_m, y_m, z_m; /* of ballast */
    size_t bricks;                 /* of BRICK_KG each */
} RemedyPart;

#define BRICK_KG 3.15 /* dense brick of 215 x 102.5 x 65 mm; docs/methods/trade.md 2 */

typedef struct { /* as it is typed; path is where the file takes it, in an option if need be */
    const char *path, *value;
} RemedyEdit;

typedef struct {
    const char *answer;
    double before, after;
} RemedyMove;

typedef struct {
    size_t n_parts;
    const RemedyPart *part;
    size_t n_edits;
    const RemedyEdit *edit;
    Level level; /* of the finding afterwards; LEVEL_FINE when it is not made any more */
    double value, limit, spread; /* of the finding afterwards; NAN when it is not made any more */
    double kilos;                /* added */
    double money;                /* NAN: not known */
    size_t n_gained, n_lost; /* ids of findings that are worse, and that are better than before */
    const char *const *gained, *const *lost;
    size_t n_exchanged; /* of a voltage: paths of what must be made for it then */
    const char *const *exchanged;
    size_t n_moves; /* governing answers that move most, against their spread */
    const RemedyMove *move;
    const char *because; /* of a rejected one: id of the danger that it brings */
    /* Of a finding of the work: chance to be done in time and the day by which it is as likely as not, without it and with it;
     * NAN where nothing can be reckoned. */
    double chance_before_frac, chance_frac, p50_before_day, p50_day;
} Remedy;

typedef struct {
    const char *finding;
    size_t n_remedies, n_rejected;
    const Remedy *remedy, *rejected;
    size_t levers;       /* named by the check */
    const char *nothing; /* why there is none; NULL when there is one */
} RemediesOf;

typedef struct {
    size_t n;
    const RemediesOf *of; /* dangers and faults in the order of the result */
    size_t solves;
    void *owner;
} Remedies;

const RemediesOf *remedies_for(const Remedies *remedies, const char *finding); /* NULL */
