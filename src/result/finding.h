/* A judgement about a path in the boat file. */
#pragma once

#include "result/working.h"

typedef enum { LEVEL_DANGER, LEVEL_FAULT, LEVEL_DOUBT, LEVEL_FINE } Level; /* worst first */
typedef enum {
    LINE_SINK,
    LINE_BURN,
    LINE_INSURABLE,
    LINE_DONE
} FrontLine; /* which of the five first lines it feeds */
typedef enum { AT_MOST, AT_LEAST } Sense;

typedef struct {                 /* what is known of a check without running it */
    const char *discipline, *id; /* "afloat", "openings" */
    const char *question;        /* in the owner's words */
    FrontLine line;
    const char *const *cautions; /* NULL ended; texts to print beside its findings */
    const char *reads;           /* a discipline before it whose answers it needs, or NULL */
} CheckInfo;

typedef enum {
    LEVER_MORE,
    LEVER_LESS,
    LEVER_EITHER,
    LEVER_CHOICE,
    LEVER_NEXT_SIZE_UP,
    LEVER_ADD_BALLAST,
    LEVER_BULKHEAD, /* a watertight one through a space: path is its range along */
    LEVER_HEAVIER,  /* an anode of the next usual mass, of the same proportions: path is its mass */
    LEVER_STEP_UP, /* a converter to the next usual voltage before a circuit, its device made for that: path is the circuit's `from` */
    LEVER_HIGHER_VOLTAGE, /* a bank and all that hangs on it, at the next usual voltage: path is the bank's */
    /* Of the work: */
    LEVER_LATER,      /* a day: path is a date */
    LEVER_EARLIER,    /* never before today */
    LEVER_OTHER_SLOT, /* of the same kind, later: path is its first day */
    LEVER_EVENINGS,   /* hours on days that are free: path is a hand's week */
    LEVER_HANDS,      /* somebody more: path is "hands" */
    LEVER_LEAVE_OUT,  /* a task that nothing needs: path is its state */
    LEVER_UNTIE /* a tie of a circle: path is `after` or `overrules` of the task it leads to */
} LeverWay;
typedef struct {
    const char *path; /* field a builder can change */
    LeverWay way;
    double low, high; /* SI range, NAN: the table's bounds */
} Lever;

typedef struct {
    const char *id; /* "afloat.openings.engine-vent" */
    Level level;
    const CheckInfo *check;
    const char *about; /* path, "" for the whole boat */
    const char
        *about_name; /* the thing in the owner's words: its `what`, else its id with blanks */
    const char *
        template_text; /* sentence with {about} {value} {limit} {margin} {situation} and {0}..{9} own words */
    const char *words[10];
    bool measured; /* value and limit mean something */
    double value, spread, limit;
    Sense sense;
    QuantityKind kind;
    Basis basis; /* least settled thing it rests on */
    Validity validity;
    Source source;           /* of the limit */
    const char *source_note; /* "verify in the standard", or NULL */
    const char *situation;
    const char *settle_path; /* of a doubt: the one measurement that settles it */
    const char *settle_text; /* "weigh the old engine", or NULL */
    const char *cause;       /* id of the finding that explains this one, or NULL */
    const Working *working;
    size_t levers;
    const Lever *lever;
} Finding;

const char *level_word(Level level); /* danger fault doubt fine */
