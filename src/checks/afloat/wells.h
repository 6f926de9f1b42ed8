/* Where water from above may lie: wells, decks between bulwarks, open holds, open boats; and how she lies with it. */
#pragma once

#include "checks/afloat/afloat.h"
#include "checks/afloat/sensitivity.h"
#include "physics/afloat/deck_water.h"

typedef struct {
    const Record *record; /* NULL: an open boat as a whole */
    const char *path, *name;
    Loft *loft; /* owned; what basin points at */
    Basin basin;
    double opening_m2; /* open to the sky */
    bool floored;      /* has a floor of its own above the bottom of the boat: could drain itself */
    double scuppers_m2;  /* NAN: nobody said */
    double floor_spread; /* of the floor's height, 95 % */
    Cover cover;
} Well;

/* GPtrArray of Well, in the order of the file; empty without a hull. */
GPtrArray *wells_of(const Afloat *afloat);

/* She drains it by herself: holes, and a floor of its own. */
bool well_drains(const Well *well);

typedef struct {
    DeckWater water;
    double
        height_m; /* of the next opening, gunwale or deck edge above the water that threatens it */
    const Inlet *next; /* NULL: the deck edge */
    bool inside;       /* it is the water in the well that threatens it */
} Awash;

/* What is next to go under as she lies with the water of out->water in it. */
void awash_look(const Afloat *afloat, const Well *well, Awash *out);

/* Spread of that height, and what to measure; result may be NULL. */
Spread awash_spread(const Afloat *afloat, const Case *c, const Awash *awash, Result *result);

/* "the deck edge" or the opening in the owner's words. */
const char *awash_words(Result *result, const Awash *awash);

/* Steps up to the position of rest with the water in: rho, M, v, rho_w, m1, heel, trim, depth. */
void awash_working(Working *w, const Afloat *afloat, const Case *c, const Well *well,
                   const Awash *awash, double water_kg_per_m3);
