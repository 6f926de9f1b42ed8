/* Melting times of fuses. */
#include "physics/wiring/fuse.h"

#include "base/interpolate.h"
#include "physics/domain.h"

const Method fuse_time_method = {
    "Melting time between two points of a fuse",
    "t = t_1 * (t_2 / t_1)^(ln(I / I_1) / ln(I_2 / I_1))",
    {"docs/methods/wires.md 3.2, points and gates recalled", STANDING_MEMORY}};
const Method fuse_loop_method = {"Greatest fault loop that a fuse clears in time",
                                 "Z = U / I_fault",
                                 {"IEC 60364-4-41, as reproduced", STANDING_SECONDARY}};

enum { MOST_POINTS = 16 };

/* Along the points that state a time; NAN outside them. */
static double
time_along(size_t n, const double multiples[], const double time_s[], double multiple)
{
    double x[MOST_POINTS], y[MOST_POINTS], value = NAN;
    size_t points = 0;
    for (size_t i = 0; i < n && points < MOST_POINTS; i++)
        if (is_positive(time_s[i])) {
            x[points] = multiples[i];
            y[points++] = time_s[i];
        }
    if (points >= 2)
        interpolate_log(points, x, y, multiple, &value);
    return value;
}

Validity
fuse_time_points(size_t n, const double multiples[], const double fastest_s[],
                 const double slowest_s[], double multiple, FuseTime *out)
{
    *out = (FuseTime){NAN, NAN};
    if (!is_positive(multiple))
        return REFUSED;
    out->fastest_s = time_along(n, multiples, fastest_s, multiple);
    out->slowest_s = time_along(n, multiples, slowest_s, multiple);
    return isnan(out->fastest_s) || isnan(out->slowest_s) ? EXTRAPOLATED : VALID;
}

static double
through(double current_1_A, double time_1_s, double current_2_A, double time_2_s, double current_A)
{
    return time_1_s *
           pow(time_2_s / time_1_s, log(current_A / current_1_A) / log(current_2_A / current_1_A));
}

Validity
fuse_time_gates(const FuseGates *gates, double current_A, FuseTime *out)
{
    *out = (FuseTime){NAN, NAN};
    if (!is_positive(current_A))
        return REFUSED;
    out->fastest_s = through(gates->least_10_A, 10.0, gates->least_01_A, 0.1, current_A);
    out->slowest_s = through(gates->most_5_A, 5.0, gates->most_01_A, 0.1, current_A);
    bool inside = is_within(current_A, gates->least_10_A, gates->least_01_A) &&
                  is_within(current_A, gates->most_5_A, gates->most_01_A);
    return inside ? VALID : EXTRAPOLATED;
}

bool
fuse_selective(const FuseGates *upstream, const FuseGates *downstream)
{
    return upstream->least_01_A >= downstream->most_01_A;
}
