/* When a miniature circuit breaker trips, by the bands its standard allows.
 *
 *     times by straight lines in ln t over ln I
 *     slowest: (1.45 In, conventional time) (2.55 In, 60 s or 120 s) (low, 45, 15 or 4 s) (high, 0.1 s), then 0.1 s
 *     fastest: (1.13 In, conventional time) (2.55 In, 1 s) (low, 0.1 s), then 0
 *
 * Given    curve; rating_A > 0; direct current: magnetic thresholds times 1.4; current_A >= 0 or NAN
 * Gives    the conventional currents and time, magnetic band, whether it trips, and both times (NAN where the
 *          breaker need not trip, or may never)
 * Returns  VALID, or REFUSED outside the ranges
 * Source   IEC 60898-1 Table 7 as read in two manuals; upper limits at the lower magnetic edge and the factor for
 *          direct current recalled
 * Checked  mcb-trip in tests/cases/wires.csv; monotony in tests/physics/test_protection.c */
#pragma once

#include <stdbool.h>

#include "base/source.h"
#include "base/validity.h"

typedef enum { BREAKER_B, BREAKER_C, BREAKER_D } BreakerCurve;
typedef enum { TRIPS_NO, TRIPS_MAY, TRIPS_YES } BreakerTrips;

typedef struct {
    double no_trip_A, trip_A, conventional_s, low_A, high_A;
    BreakerTrips trips; /* TRIPS_NO without a current */
    double fastest_s, slowest_s;
} BreakerTrip;

Validity breaker_trip(BreakerCurve curve, double rating_A, bool direct_current, double current_A,
                      BreakerTrip *out);

extern const Method breaker_band_method, breaker_loop_method;
