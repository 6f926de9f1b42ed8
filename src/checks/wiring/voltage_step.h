/* A bank and all that hangs on it, as one voltage system that can be moved to the next usual voltage. */
#pragma once

#include "checks/wiring/wiring.h"
#include "result/result.h"

#define VOLTAGE_STEP 2.0 /* 12 -> 24 -> 48 V: the usual ones */

typedef struct { /* arrays of const Record *, in the order of the places */
    double nominal_V;
    GPtrArray *banks;    /* battery roles */
    GPtrArray *loads;    /* load and heater roles */
    GPtrArray *sources;  /* what else gives direct current, by cable or by its `charges` */
    GPtrArray *chargers; /* mains sources that charge: only what they charge with moves */
    bool cranks;         /* a starter hangs on it */
} VoltageSystem;

/* What conductors that are usually joined reach from a place. false: no bank is there, banks or devices differ in voltage, or there is
 * no next voltage that makes sense: none above 48 V, and none above 24 V for a starter. */
bool voltage_system_find(const Wiring *wiring, size_t place, VoltageSystem *system);
void voltage_system_clear(VoltageSystem *system);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(VoltageSystem, voltage_system_clear)

/* Converters are sold up to about so much at their higher side (common practice, no source). */
#define STEP_UP_MOST_A 20.0

/* Names a converter before a device's own circuit as a lever of a finding about it: a pair that feeds nothing else, from 12 or 24 V, and
 * no more than a converter gives. */
void lever_step_up(const Wiring *wiring, const Cable *cable, Finding *f, Result *result);

/* Names the next voltage as a lever of a finding about a device there, when the finding is no fine one and the system has one. */
void lever_higher_voltage(const Wiring *wiring, size_t place, Finding *f, Result *result);
