/* Which measurement settles an unsettled value: with what, how, how long, and how sure the value is afterwards.
 *
 * Nobody is sent to live alternating current, into a tank, or under a boat that is not propped: what could only be had there
 * has no measurement. */
#pragma once

#include "study/inputs.h"

typedef struct {
    const char *instrument, *how;
    double minutes;
    double left; /* spread that stays, SI; as a share of the value for masses */
    bool share;
    const char *verb; /* "weigh" */
} Instrument;

/* NULL: nothing to be measured. */
const Instrument *instrument_for(const Input *input);
/* How much of its spread stays once it is measured; 1: measuring does not help. */
double instrument_left(const Input *input);
