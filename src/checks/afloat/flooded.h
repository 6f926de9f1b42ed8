/* One space open to the sea: one reckoning for the check and the picture. */
#pragma once

#include "checks/afloat/afloat.h"
#include "checks/afloat/sensitivity.h"
#include "physics/afloat/flooding.h"

/* The heaviest situation in which nobody crowds and no opening is under before anything happens; NULL when there is none. */
const Case *flooded_case(const Afloat *afloat);

typedef struct {
    Compartment open;
    Validity validity; /* REFUSED: she finds no position to float in; what follows is then unset */
    Rest rest;
    double height_m, spread_m; /* lowest opening or deck edge above the water then */
    const Inlet *next;         /* that opening; NULL: the deck edge */
    Spread settle;             /* what to measure */
} Flooded;

/* False when nobody said where the space lies, or it stands above the deck. result may be NULL: settle then has no text. */
bool flooded_space(const Afloat *afloat, const Case *c, const Record *space, Result *result,
                   Flooded *out);
