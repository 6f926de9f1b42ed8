/* Beds for ballast, found on the hull.
 * Invariant: a bed lies inside the plating, no higher above the lowest plating of its section than a low floor. */
#include "study/ballast.h"

#include <math.h>

#include "checks/afloat/afloat.h"

#define STACKED_KG_PER_M3 2000.0 /* dense brick, laid dry */
#define DEEPEST_M 0.5            /* below a liftable floor */
#define BED_STEP_M 0.25
#define LEAST_BED_M 2.0
#define FLAT_M 0.12          /* a bed ends where its floor rises by so much */
#define BED_FRAC (1.0 / 3.0) /* of her length, at most */
#define OVER_PLATING_M 0.15
#define LEAST_HALF_BREADTH_M 0.3
#define LARGEST_SHARE 0.4 /* of what she weighs: beyond, it is another boat */

static double
lowest_m(const Loft *hull, double x_m)
{
    g_autofree double *point = g_new(double, 2 * hull->points);
    if (!loft_points(hull, x_m, point, point + hull->points))
        return NAN;
    double lowest = INFINITY;
    for (size_t i = 0; i < hull->points; i++)
        lowest = fmin(lowest, point[hull->points + i]);
    return lowest;
}

static double
half_breadth_m(const Loft *hull, double x_m, double z_m)
{
    double area, moment, half;
    return loft_section(hull, x_m, z_m, &area, &moment, &half) ? half : 0.0;
}

/* From an end towards the middle, the first place that is broad enough to lay bricks. */
static double
broad_enough(const Afloat *afloat, double from_frac, double step_frac)
{
    double aft = afloat->hull->x_m[0];
    for (int i = 0; i < 8; i++) {
        double x = aft + (from_frac + i * step_frac) * afloat->length_m;
        double floor = lowest_m(afloat->hull, x);
        if (half_breadth_m(afloat->hull, x, floor + OVER_PLATING_M) >= LEAST_HALF_BREADTH_M)
            return x;
    }
    return NAN;
}

/* How far a bed reaches along: as far as floor and breadth stay. */
static double
bed_length_m(const Loft *hull, double x_m, double most_m)
{
    double floor = lowest_m(hull, x_m), half = half_breadth_m(hull, x_m, floor + OVER_PLATING_M);
    double reach = LEAST_BED_M / 2.0; /* so long it can be stepped up a rising floor */
    for (; 2.0 * (reach + BED_STEP_M) <= most_m; reach += BED_STEP_M)
        for (int way = -1; way <= 1; way += 2) {
            double x = x_m + way * (reach + BED_STEP_M), at = lowest_m(hull, x);
            if (!(fabs(at - floor) <= FLAT_M) ||
                half_breadth_m(hull, x, floor + OVER_PLATING_M) < 0.75 * half)
                return 2.0 * reach;
        }
    return 2.0 * reach;
}

static double
weight_kg(const Afloat *afloat)
{
    double mass = 0.0;
    for (guint i = 0; i < afloat->ship->len; i++)
        mass += g_array_index(afloat->ship, Mass, i).ledger.mass_kg;
    return mass;
}

size_t
ballast_places(const SolveInput *solve, BallastPlace place[static MOST_BALLAST_PLACES])
{
    g_autoptr(Afloat) afloat =
        afloat_new(solve->boat, solve->catalog, solve->stage, solve->situation, false);
    size_t n = 0;
    if (afloat->hull == NULL || afloat->cases->len == 0)
        return 0;
    const double along[] = {broad_enough(afloat, 0.10, 0.05), broad_enough(afloat, 0.50, 0.05),
                            broad_enough(afloat, 0.90, -0.05)};
    double all = weight_kg(afloat);
    for (size_t i = 0; i < G_N_ELEMENTS(along); i++) {
        if (isnan(along[i]))
            continue;
        double floor = lowest_m(afloat->hull, along[i]);
        double half = half_breadth_m(afloat->hull, along[i], floor + OVER_PLATING_M);
        double length = bed_length_m(afloat->hull, along[i], BED_FRAC * afloat->length_m);
        for (int side = -1; side <= 1; side++) {
            double breadth = side == 0 ? 1.6 * half : 0.6 * half;
            double bed = length * breadth;
            place[n++] = (BallastPlace){
                .x_m = round(along[i] * 10.0) / 10.0,
                .y_m = side * round(0.6 * half * 20.0) / 20.0,
                .floor_m = floor + 0.02,
                .bed_m2 = bed,
                .most_kg = fmin(bed * DEEPEST_M * STACKED_KG_PER_M3, LARGEST_SHARE * all)};
        }
    }
    return n;
}

double
ballast_height_m(const BallastPlace *place, double mass_kg)
{
    return place->floor_m + mass_kg / STACKED_KG_PER_M3 / place->bed_m2 / 2.0;
}
