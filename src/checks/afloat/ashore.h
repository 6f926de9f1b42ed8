/* Slings and blocks of the boat as she is lifted: one reckoning for the check and the picture. */
#pragma once

#include "checks/afloat/afloat.h"
#include "physics/afloat/grounding.h"
#include "physics/afloat/slings.h"

/* She is lifted and docked light: the uncrowded case in which she weighs least; NULL when none floats. */
const Case *ashore_case(const Afloat *afloat);

typedef struct {
    SlungBoat boat;
    Sling sling[2];
    bool assumed; /* a place was not settled: put where both bear alike */
    Validity validity;
    Slings found;             /* unset when REFUSED: G outside the slings */
    double load_kg[2];        /* NAN when REFUSED */
    double load_spread_kg[2]; /* 95 % */
    double crane_kg;          /* what to tell the crane: the upper figure, in hundreds */
} AshoreSlings;

AshoreSlings ashore_slings(const Afloat *afloat, const Case *c);

typedef struct {
    KeelBlock block;
    bool assumed; /* nobody said which block is first: the lowest point of the keel as she lies */
    KeelStep landing;
    double left_m;             /* metacentric height as the whole keel comes to bear */
    double reaction_spread_kg; /* 95 % */
} AshoreBlock;

/* False when a flat bottom stands by itself, or the whole keel never comes to bear. */
bool ashore_block(const Afloat *afloat, const Case *c, AshoreBlock *out);
