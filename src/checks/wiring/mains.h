/* The mains side from inside: which source feeds which place in each situation, what flows, and the way back to the source.
 *
 * A mains side is a tree in every situation: each live place is fed by one other, or is itself the source. */
#pragma once

#include "checks/wiring/wiring.h"

enum { MAINS_DEVICES = 16 }; /* protection on one way that is looked at */

typedef struct {
    const char *situation;     /* id; NULL: one source tried alone, and nothing runs */
    const List *sources;       /* of the situation; NULL: the one tried alone */
    const Record *only, *load; /* that source; the one load that is tried with it, or NULL */
    size_t *order, live;       /* live places, each behind what feeds it */
    size_t *root, *above,
        *feeder;   /* [places]: source, place and mains cable that feed; NO_PLACE: none, bolted */
    bool *running; /* [places] */
    bool *unknown; /* [places]: something at or beyond it draws nobody knows how much */
    double *real_W, *reactive_var, *spread_W; /* [places]: drawn at it and beyond it */
    Basis *basis;                  /* [places]: the least settled of what is drawn there */
    double *voltage_V;             /* [places]: NAN: dead or not known */
    double *inverts_W, *charges_W; /* [places] of sources: from the battery, and to charge it */
} MainsFlow;

/* Steps of wiring_new. */
void mains_flow_all(Wiring *wiring);
void mains_flow_free(gpointer flow);
/* What inverters take from their batteries in that situation, into the network of direct current. */
void mains_draw_direct(const Wiring *wiring, Flow *flow);

/* A charger whose way from the mains is in the file is off while nothing reaches it. */
bool mains_charger_works(const Wiring *wiring, const char *situation, const Record *charger);

const Cable *mains_cable(const Wiring *wiring, size_t i);
const MainsFlow *mains_flow(const Wiring *wiring, size_t i);
bool mains_is_structure(const MainsFlow *flow); /* a source alone, without any load */
bool mains_live(const MainsFlow *flow, size_t place);
bool mains_is_on(const MainsFlow *flow, const Record *source); /* the situation names it */
/* The cable carries the current that its far end draws in this flow. */
bool mains_feeds(const Wiring *wiring, const MainsFlow *flow, size_t cable);
double mains_current_A(const MainsFlow *flow, size_t place); /* NAN: not known */
double mains_power_factor(const MainsFlow *flow, size_t place);
bool mains_is_load(const Wiring *wiring, size_t place);  /* an item that draws */
bool mains_is_final(const Wiring *wiring, size_t cable); /* ends at an item */
double mains_drop_V(const Wiring *wiring, const MainsFlow *flow, size_t cable);

/* ---- sources ---- */

const SourceSection *mains_source(const Place *place); /* what gives mains voltage there, or NULL */
double mains_source_V(const Wiring *wiring, const Place *place);
double mains_source_limit_A(const Wiring *wiring, const Place *place); /* NAN: not known */

typedef struct { /* a loop from line to earth, or to neutral, back to the source */
    double ohm, spread_ohm;
    Basis basis;
    const char *path; /* what settles it */
} MainsLoop;
/* At the terminals of a source: as measured, else from the current it can drive into a short. */
MainsLoop mains_source_loop(const Wiring *wiring, const Place *place);
/* At a live place: warm, through the earth conductor; cold (the greatest current), by the better way back. */
MainsLoop mains_loop(const Wiring *wiring, const MainsFlow *flow, size_t place, bool cold);

/* ---- protection ---- */

/* Protections between the load side of a cable and its source, nearest first. */
size_t mains_devices(const Wiring *wiring, const MainsFlow *flow, size_t cable,
                     const Record *device[static MAINS_DEVICES]);
/* The nearest that breaks too much current; NULL: none. */
const Record *mains_breaker(const Wiring *wiring, const MainsFlow *flow, size_t cable);
/* The flow of one source alone in which the cable is live, shore first; NULL: nothing reaches it. */
const MainsFlow *mains_alone(const Wiring *wiring, size_t cable);
/* The flow in which the cable carries most, with *amperes; NULL: it carries nothing. */
const MainsFlow *mains_worst(const Wiring *wiring, size_t cable, double *amperes);
