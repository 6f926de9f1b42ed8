/* The unsettled inputs of a boat: every number that is assumed, by eye, or known within a spread, and how to move it.
 *
 * A place already carries the doubt of the mark it is measured from, so marks are not moved themselves. The number of
 * people is never moved; what a person weighs (85 kg +- 10 kg) is. */
#pragma once

#include <glib.h>

#include "boat/boat.h"
#include "checks/solve.h"

typedef enum {
    PART_NUMBER, /* the field itself */
    PART_LOW,    /* ends of a range */
    PART_HIGH,
    PART_SHIFT,    /* both ends of a range: the thing is as large as it is, but lies elsewhere */
    PART_TYPICAL,  /* mass of an item that nobody weighed: typical of its kind */
    PART_BREADTHS, /* all half-breadths of a station */
    PART_HEIGHTS,  /* all heights of a station */
    PART_ENTRY,    /* an entry of a map */
    PART_READING,  /* a reading of the water, against which she is weighed */
    PART_STRAY, /* breadths of a hull that was drawn from a few numbers, or by string and plumb line */
    PART_RISE,  /* its heights */
    PART_MOMENT /* place of what is set aside for growth, carried by an item */
} InputPart;

enum {
    INPUT_ALONE,
    INPUT_BY_EYE,
    INPUT_CATALOGUE,
    N_INPUT_GROUPS
}; /* inputs of one group err together */

typedef struct {
    const char *path;    /* what is unsettled */
    const char *measure; /* what a measurement would be typed into; NULL: nothing can be measured */
    const Record *record;
    const Field *field;
    const char *discipline; /* that reads it */
    bool
        low_voltage; /* of the wiring: known to be less than 60 V, so that a meter may be held to it */
    InputPart part;
    size_t entry;         /* of a map */
    double value, spread; /* SI, 95 % */
    double low, high;     /* it cannot lie outside */
    int group;
    double
        weight; /* of the place of a plain item: mass times spread; 0: effects of unlike size, never bundled */
} Input;

typedef struct {
    GArray *input; /* Input */
    GStringChunk *texts;
} Inputs;

Inputs *inputs_of(const SolveInput *solve);
void inputs_free(Inputs *inputs);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Inputs, inputs_free)

/* Moves the input on a copy of the boat to value + delta, held within its bounds; delta 0 puts it back. */
void input_move(const Input *input, Boat *copy, double delta);
