/* Networks for tests and timings: put together by hand, or drawn as a boat's by a seed. */
#pragma once

#include <stdint.h>

#include "physics/wiring/network.h"

enum { DRAFT_MOST = 2400 };

typedef struct {
    Network net;
    NetworkElement element[DRAFT_MOST];
    double voltage[DRAFT_MOST], current[DRAFT_MOST];
    ElementState state[DRAFT_MOST];
    NetworkSolution out;
} Draft;

/* One block, given back by free(). */
Draft *draft_new(size_t nodes);
void draft_add(Draft *draft, NetworkElement element);

#define BATTERY(a, b, e, r)                                                                        \
    ((NetworkElement){.kind = ELEMENT_BATTERY, .from = a, .to = b, .voltage_V = e, .ohm = r})
#define CHARGER(a, b, e, r, i)                                                                     \
    ((NetworkElement){                                                                             \
        .kind = ELEMENT_CHARGER, .from = a, .to = b, .voltage_V = e, .ohm = r, .current_A = i})
#define RESISTOR(a, b, r) ((NetworkElement){.kind = ELEMENT_RESISTOR, .from = a, .to = b, .ohm = r})
#define CURRENT(a, b, i)                                                                           \
    ((NetworkElement){.kind = ELEMENT_CURRENT_LOAD, .from = a, .to = b, .current_A = i})
#define POWER(a, b, p, c)                                                                          \
    ((NetworkElement){.kind = ELEMENT_POWER_LOAD, .from = a, .to = b, .power_W = p, .cutoff_V = c})
#define FAN(a, b, c, m)                                                                            \
    ((NetworkElement){                                                                             \
        .kind = ELEMENT_POWER_LAW, .from = a, .to = b, .coefficient = c, .exponent = m})
#define MOTOR(a, b, e, r)                                                                          \
    ((NetworkElement){.kind = ELEMENT_MOTOR, .from = a, .to = b, .voltage_V = e, .ohm = r})
#define DIODE(a, b, i, n)                                                                          \
    ((NetworkElement){.kind = ELEMENT_DIODE, .from = a, .to = b, .saturation_A = i, .ideality = n})

/* From 0 up to 1. */
double draft_draw(uint64_t *seed);

enum { WITH_CURVES = 1, WITH_CHARGERS = 2, SMALLER_TOO = 4 };

/* Positive nodes 1 to `half`, returns from there on: a tree of cables on each side, some meshes, three banks, a load at every
 * node. load_share scales the power loads. SMALLER_TOO: half is drawn too, 4 and more. */
Draft *draft_boat(uint64_t *seed, size_t half, double load_share, unsigned with);
