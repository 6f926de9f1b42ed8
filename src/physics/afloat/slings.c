/* Loads of two slings. Invariant: the two bear the whole boat, about G as about any point. */
#include "physics/afloat/slings.h"

#include "physics/domain.h"

#define STATICS                                                                                    \
    {                                                                                              \
        "statics; docs/methods/float.md 10.1", STANDING_DERIVED                                    \
    }
const Method sling_aft_method = {"Load of the aft sling", "F1 = m * g * (x2 - x_G) / (x2 - x1)",
                                 STATICS};
const Method sling_forward_method = {"Load of the forward sling",
                                     "F2 = m * g * (x_G - x1) / (x2 - x1)", STATICS};
const Method sling_leg_method = {"Force in each leg of a sling",
                                 "L = F * sqrt(1 + tan(a)^2 + tan(b)^2) / 2", STATICS};
const Method sling_squeeze_method = {"Force that squeezes the deck edge", "H = F * tan(a) / 2",
                                     STATICS};
const Method sling_places_method = {"Slings that bear alike", "x1 + x2 = 2 * x_G", STATICS};

static const double g = 9.80665;

/* rake: how far along the boat the legs run for each metre up. */
static SlingLoad
load_of(double force, double upper, double angle, double rake)
{
    double leg = 0.5 * sqrt(1.0 + tan(angle) * tan(angle) + rake * rake), side = 0.5 * tan(angle);
    return (SlingLoad){force, upper, leg * force, leg * upper, side * force, side * upper};
}

/* 95 % of sling i's load: what mass, centre and both places bring, first order, by squares. */
static double
spread_of(const SlungBoat *b, const Sling s[2], const double force[2], int i)
{
    double apart = s[1].x_m - s[0].x_m, whole = force[0] + force[1];
    double mass = force[i] * b->mass_spread_kg / b->mass_kg;
    double centre = whole * b->lcg_spread_m / apart;
    double here = force[i] * s[i].x_spread_m / apart;
    double there = force[1 - i] * s[1 - i].x_spread_m / apart;
    return sqrt(mass * mass + centre * centre + here * here + there * there);
}

static bool
usable(const SlungBoat *b, const Sling s[2])
{
    for (int i = 0; i < 2; i++)
        if (!is_within(s[i].x_m, -1e4, 1e4) || !is_not_negative(s[i].x_spread_m) ||
            !is_within(s[i].angle_rad, 0.0, degrees(80.0)))
            return false;
    return is_positive(b->mass_kg) && is_not_negative(b->mass_spread_kg) &&
           is_not_negative(b->lcg_spread_m) && b->lcg_m >= s[0].x_m && b->lcg_m <= s[1].x_m &&
           s[1].x_m - s[0].x_m > 1e-6 && (isnan(b->hook_above_m) || is_positive(b->hook_above_m));
}

Validity
slings(const SlungBoat *boat, const Sling sling[static 2], Slings *out)
{
    const SlingLoad none = {NAN, NAN, NAN, NAN, NAN, NAN};
    *out = (Slings){{none, none}, NAN};
    if (!usable(boat, sling))
        return REFUSED;
    const double arm[2] = {boat->lcg_m - sling[0].x_m, sling[1].x_m - boat->lcg_m};
    double weight = boat->mass_kg * g, apart = sling[1].x_m - sling[0].x_m;
    const double force[2] = {weight * arm[1] / apart, weight * arm[0] / apart};
    bool sure = true, one_hook = !isnan(boat->hook_above_m);
    for (int i = 0; i < 2; i++) {
        double upper = force[i] + spread_of(boat, sling, force, i);
        double rake = one_hook ? arm[i] / boat->hook_above_m : 0.0;
        out->sling[i] = load_of(force[i], upper, sling[i].angle_rad, rake);
        sure = sure && arm[i] > hypot(boat->lcg_spread_m, sling[i].x_spread_m);
    }
    if (one_hook)
        out->along_N = force[0] * arm[0] / boat->hook_above_m;
    return sure ? VALID : EXTRAPOLATED;
}

SlingPlaces
slings_alike(double lcg_m, double apart_m)
{
    if (!is_number(lcg_m) || !is_positive(apart_m))
        return (SlingPlaces){NAN, NAN};
    return (SlingPlaces){lcg_m - 0.5 * apart_m, lcg_m + 0.5 * apart_m};
}

SlingPlaces
slings_alike_with(double lcg_m, double x_settled_m)
{
    double other = 2.0 * lcg_m - x_settled_m;
    if (!is_number(lcg_m) || !is_number(x_settled_m) || other == x_settled_m)
        return (SlingPlaces){NAN, NAN};
    return (SlingPlaces){fmin(other, x_settled_m), fmax(other, x_settled_m)};
}
