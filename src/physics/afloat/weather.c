/* Weather criterion. Invariant: the curve is one broken line; crossings and areas are those of that
 * line, exactly. */
#include "physics/afloat/weather.h"

#include "base/interpolate.h"
#include "physics/afloat/roll_period.h"
#include "physics/domain.h"

#define CODE "2008 IS Code Part A 2.3; docs/methods/float.md 5.2"
const Method weather_lever_method = {"Lever of the steady wind",
                                     "l_w1 = P * A * Z / (9.81 * m)",
                                     {CODE " (as remembered)", STANDING_MEMORY}};
const Method weather_gust_method = {
    "Lever of the gust", "l_w2 = 1.5 * l_w1", {CODE " (as remembered)", STANDING_MEMORY}};
const Method weather_r_method = {"Factor of the centre of gravity",
                                 "r = 0.73 + 0.6 * OG / d",
                                 {"46 CFR 28.575; " CODE, STANDING_READ}};
const Method weather_roll_method = {
    "Roll to windward",
    "phi_1 = 109 * k * X1 * X2 * sqrt(r * s) * 0.017453292519943295",
    {"46 CFR 28.575; tables X2, k, s of " CODE " as remembered", STANDING_MEMORY}};
const Method weather_ratio_method = {"Area beyond the gust over area to windward",
                                     "ratio = b / a",
                                     {CODE " (as remembered)", STANDING_MEMORY}};

/* float-weather-tables.csv; X1 read, the others from memory. */
static const double x1_at[] = {2.4, 2.5, 2.6, 2.7, 2.8, 2.9, 3.0, 3.1, 3.2, 3.3, 3.4, 3.5};
static const double x1_is[] = {1.00, 0.98, 0.96, 0.95, 0.93, 0.91,
                               0.90, 0.88, 0.86, 0.84, 0.82, 0.80};
static const double x2_at[] = {0.45, 0.50, 0.55, 0.60, 0.65, 0.70};
static const double x2_is[] = {0.75, 0.82, 0.89, 0.95, 0.97, 1.00};
static const double k_at[] = {0.0, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0};
static const double k_is[] = {1.00, 0.98, 0.95, 0.88, 0.79, 0.74, 0.72, 0.70};
static const double s_at[] = {6, 7, 8, 12, 14, 16, 18, 20};
static const double s_is[] = {0.100, 0.098, 0.093, 0.065, 0.053, 0.044, 0.038, 0.035};

static const double gravity = 9.81; /* m/s2, the rule's own */

static double
bilge_factor(const WeatherCase *c)
{
    double k = c->bilge == BILGE_ROUND ? 1.0 : 0.7;
    if (c->bilge == BILGE_KEELS)
        interpolate_linear(8, k_at, k_is, 100.0 * c->keel_area_m2 / (c->lwl_m * c->beam_m), &k);
    return k;
}

static Validity
roll(const WeatherCase *c, Weather *w)
{
    double b_d = c->beam_m / c->draught_m, og_d = (c->vcg_m - c->draught_m) / c->draught_m;
    w->steady_m = c->pressure_Pa * c->area_m2 * c->lever_m / (gravity * c->mass_kg);
    w->gust_m = 1.5 * w->steady_m;
    w->coefficient = roll_coefficient(c->beam_m, c->draught_m, c->lwl_m);
    w->period_s = 2.0 * w->coefficient * c->beam_m / sqrt(c->gm_m);
    interpolate_linear(12, x1_at, x1_is, b_d, &w->x1);
    interpolate_linear(6, x2_at, x2_is, c->block, &w->x2);
    interpolate_linear(8, s_at, s_is, w->period_s, &w->s);
    w->k = bilge_factor(c);
    w->r = 0.73 + 0.6 * og_d;
    if (!(w->r > 0.0) || !(w->coefficient > 0.0))
        return REFUSED;
    w->roll_rad = degrees(109.0 * w->k * w->x1 * w->x2 * sqrt(w->r * w->s));
    bool inside = b_d < 3.5 && og_d > -0.3 && og_d < 0.5 && w->period_s < 20.0;
    return inside ? VALID : EXTRAPOLATED;
}

/* Lever at any heel: mirrored to windward. */
static double
lever_at(const WeatherCase *c, double heel)
{
    double gz = NAN;
    interpolate_linear(c->n, c->heel_rad, c->gz_m, fabs(heel), &gz);
    return heel < 0.0 ? -gz : gz;
}

/* Heel past `from` where the curve comes up through (rising) or falls through the wind lever. */
static double
crossing(const WeatherCase *c, double lever, double from, bool rising)
{
    for (size_t i = 0; i + 1 < c->n; i++) {
        double h0 = c->heel_rad[i], h1 = c->heel_rad[i + 1];
        double d0 = c->gz_m[i] - lever, d1 = c->gz_m[i + 1] - lever;
        bool passes = rising ? d0 < 0.0 && d1 >= 0.0 : d0 >= 0.0 && d1 < 0.0;
        if (passes && h1 > from) {
            double heel = h0 + (h1 - h0) * d0 / (d0 - d1);
            if (heel >= from)
                return heel;
        }
    }
    return NAN;
}

/* Area between curve and wind lever: trapezoids between all corners of the mirrored line. */
static double
area_over(const WeatherCase *c, double lever, double from, double to)
{
    double sum = 0.0, at = from;
    while (at < to) {
        double next = to;
        for (size_t i = 0; i < c->n; i++) {
            const double corner[] = {c->heel_rad[i], -c->heel_rad[i]};
            for (size_t k = 0; k < 2; k++)
                if (corner[k] > at + 1e-14 && corner[k] < next)
                    next = corner[k];
        }
        sum += (next - at) * (0.5 * (lever_at(c, at) + lever_at(c, next)) - lever);
        at = next;
    }
    return sum;
}

static Validity
balance(const WeatherCase *c, Weather *w)
{
    const double end = c->heel_rad[c->n - 1];
    w->steady_heel_rad = c->gz_m[0] >= w->steady_m ? 0.0 : crossing(c, w->steady_m, 0.0, true);
    w->gust_heel_rad = c->gz_m[0] >= w->gust_m ? 0.0 : crossing(c, w->gust_m, 0.0, true);
    if (isnan(w->steady_heel_rad) || isnan(w->gust_heel_rad))
        return REFUSED;
    double windward = w->steady_heel_rad - w->roll_rad;
    if (windward < -end)
        return REFUSED;
    w->gust_heel_2_rad = crossing(c, w->gust_m, w->gust_heel_rad, false);
    double out = fmin(c->flooding_rad, degrees(50.0));
    if (!isnan(w->gust_heel_2_rad))
        out = fmin(out, w->gust_heel_2_rad);
    w->area_a = -area_over(c, w->gust_m, windward, w->gust_heel_rad);
    w->area_b = area_over(c, w->gust_m, w->gust_heel_rad, fmin(out, end));
    w->ratio = w->area_a > 0.0 ? w->area_b / w->area_a : NAN;
    w->meets = w->area_b >= w->area_a && w->steady_heel_rad <= degrees(16.0);
    return out > end + 1e-12 ? EXTRAPOLATED : VALID;
}

static bool
usable(const WeatherCase *c)
{
    if (!is_positive(c->mass_kg) || !is_positive(c->area_m2) || !is_positive(c->lever_m) ||
        !is_positive(c->lwl_m) || !is_positive(c->beam_m) || !is_positive(c->draught_m) ||
        !is_positive(c->block) || !is_number(c->vcg_m) || !is_positive(c->gm_m) ||
        !is_not_negative(c->keel_area_m2) || !(c->flooding_rad > 0.0) ||
        !is_positive(c->pressure_Pa) || c->n == 1)
        return false;
    for (size_t i = 0; i < c->n; i++)
        if (!is_number(c->heel_rad[i]) || !is_number(c->gz_m[i]) ||
            (i > 0 && !(c->heel_rad[i] > c->heel_rad[i - 1])))
            return false;
    return c->n == 0 || fabs(c->heel_rad[0]) < 1e-9;
}

Validity
weather_criterion(const WeatherCase *given, Weather *weather)
{
    const Weather none = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN,  NAN,
                          NAN, NAN, NAN, NAN, NAN, NAN, NAN, false};
    *weather = none;
    if (!usable(given))
        return REFUSED;
    Validity validity = roll(given, weather);
    if (validity != REFUSED && given->n > 0)
        validity = validity_worse(validity, balance(given, weather));
    if (validity == REFUSED)
        *weather = none;
    return validity;
}
