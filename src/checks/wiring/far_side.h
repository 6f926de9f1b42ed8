/* What feeds a conductor from its far end: batteries and chargers that reach it there without passing the conductor itself. */
#pragma once

#include "checks/wiring/wiring.h"

typedef struct {
    const Place *bank;    /* reaches it with no fuse or breaker between, or NULL */
    GPtrArray *devices;   /* const Record *: protection nearest to it, behind which a bank is */
    double devices_A;     /* sum of their ratings; NAN: of one it is not known */
    double chargers_A;    /* most that chargers give there with no device between; NAN: not known */
    const Place *charger; /* the first of those, or NULL */
} FarSide;

/* All that is usually joined, way out; g_array_unref. */
GArray *far_side_joins(const Wiring *wiring);

/* place: the end that is looked at. The cable may be one of those usually joined or a link that is usually apart. */
FarSide far_side_of(const Wiring *wiring, const GArray *joins, const Cable *cable, size_t place);
void far_side_clear(FarSide *side);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(FarSide, far_side_clear)

/* Whether its two ends are joined without it, through devices or not. */
bool far_side_joined(const Wiring *wiring, const GArray *joins, const Cable *cable);

/* The bank on that side and, added to *ohm, what the cables of the shortest way to it have, cold; NULL: none. */
const Record *far_side_bank(const Wiring *wiring, const GArray *joins, const Cable *cable,
                            size_t place, double *ohm);
