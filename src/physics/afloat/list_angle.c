/* List and loll. Invariant: the root taken is the outermost on the side of the moment, where she
 * lies stable. */
#include "physics/afloat/list_angle.h"

#include "physics/domain.h"

const Method list_linear_method = {"List, small angles",
                                   "list = atan(M / (D * GM))",
                                   {"docs/methods/float.md 6, 9.5", STANDING_DERIVED}};
const Method list_method = {"List between vertical sides",
                            "M / D = GM * tan(list) + BM * tan(list)^3 / 2",
                            {"docs/methods/float.md 9.5", STANDING_DERIVED}};
const Method loll_method = {
    "Angle of loll",
    "loll = atan(sqrt(-2 * GM / BM))",
    {"Barrass and Derrett, Ship Stability for Masters and Mates, 5th ed., p. 229", STANDING_READ}};

/* Newton from above on a function that is convex and rising there: it comes down to the root and
 * never past it. */
static double
outer_root(double gm, double bm, double lever)
{
    double t = cbrt(2.0 * lever / bm) + (gm < 0.0 ? sqrt(-2.0 * gm / bm) : 0.0);
    for (int i = 0; i < 100 && t > 0.0; i++) {
        double step = (gm * t + 0.5 * bm * t * t * t - lever) / (gm + 1.5 * bm * t * t);
        t -= step;
        if (!(fabs(step) > 1e-15 * t))
            break;
    }
    return t;
}

Validity
list_angle(double mass_kg, double gm_m, double bm_m, double moment_kgm, ListAngle *list)
{
    *list = (ListAngle){NAN, NAN, NAN};
    if (!is_positive(mass_kg) || !is_number(gm_m) || !is_not_negative(bm_m) ||
        !is_number(moment_kgm) || (gm_m <= 0.0 && bm_m == 0.0))
        return REFUSED;
    double lever = fabs(moment_kgm) / mass_kg;
    if (gm_m > 0.0)
        list->linear_rad = atan(moment_kgm / (mass_kg * gm_m));
    double t = bm_m > 0.0 ? outer_root(gm_m, bm_m, lever) : lever / gm_m;
    double heel = atan(t);
    list->list_rad = moment_kgm < 0.0 ? -heel : heel;
    list->gm_at_list_m = (gm_m + 0.5 * bm_m * t * t) * cos(heel) +
                         bm_m * t * (1.0 + t * t) * sin(heel) + lever * sin(heel);
    return VALID;
}
