/* Bands of miniature circuit breakers. Invariant: the fastest time is never above the slowest. */
#include "physics/wiring/breaker.h"

#include "base/interpolate.h"
#include "physics/domain.h"

const Method breaker_band_method = {
    "Time between two points of a time-current curve",
    "t = t_1 * (t_2 / t_1)^(ln(I / I_1) / ln(I_2 / I_1))",
    {"IEC 60898-1 Table 7, points partly recalled; docs/methods/wires.md 3.2", STANDING_MEMORY}};
const Method breaker_loop_method = {"Greatest fault loop that trips a breaker at once",
                                    "Z = U / I_magnetic",
                                    {"IEC 60364-4-41, as reproduced", STANDING_SECONDARY}};

static const struct {
    double low, high,
        low_s; /* magnetic edges over the rating; slowest at the lower one, up to 32 A */
} curves[] = {{3, 5, 45}, {5, 10, 15}, {10, 20, 4}};

static double
slowest_s(const BreakerTrip *b, double rating_A, double low_s, double current_A)
{
    double slack = rating_A > 32.0 ? 2.0 : 1.0, time_s;
    const double at[] = {b->trip_A, 2.55 * rating_A, b->low_A, b->high_A};
    const double time[] = {b->conventional_s, 60.0 * slack, low_s * slack, 0.1};
    if (current_A >= b->high_A)
        return 0.1;
    interpolate_log(4, at, time, current_A, &time_s);
    return time_s;
}

static double
fastest_s(const BreakerTrip *b, double rating_A, double current_A)
{
    const double at[] = {b->no_trip_A, 2.55 * rating_A, b->low_A};
    const double time[] = {b->conventional_s, 1.0, 0.1};
    double time_s;
    if (current_A > b->low_A)
        return 0.0;
    interpolate_log(3, at, time, current_A, &time_s);
    return time_s;
}

Validity
breaker_trip(BreakerCurve curve, double rating_A, bool direct_current, double current_A,
             BreakerTrip *out)
{
    *out = (BreakerTrip){NAN, NAN, NAN, NAN, NAN, TRIPS_NO, NAN, NAN};
    if (!is_positive(rating_A) || (!isnan(current_A) && !is_not_negative(current_A)))
        return REFUSED;
    double magnetic_A = (direct_current ? 1.4 : 1.0) * rating_A;
    out->no_trip_A = 1.13 * rating_A;
    out->trip_A = 1.45 * rating_A;
    out->conventional_s = rating_A > 63.0 ? 7200.0 : 3600.0;
    out->low_A = curves[curve].low * magnetic_A;
    out->high_A = curves[curve].high * magnetic_A;
    if (isnan(current_A))
        return VALID;
    if (current_A >= out->no_trip_A)
        out->trips = current_A < out->trip_A ? TRIPS_MAY : TRIPS_YES;
    out->slowest_s = slowest_s(out, rating_A, curves[curve].low_s, current_A);
    out->fastest_s = fastest_s(out, rating_A, current_A);
    return VALID;
}
