/* What floats: lofted closed bodies and appendages, and how they lie in the water.
 *
 * Body axes: x forward from the stern, y to port, z up from the bottom, metres. Heel + to starboard
 * (starboard side down), trim + by the bow (bow down). A point stands
 *     zeta = -x sin(trim) + y sin(heel) cos(trim) + z cos(heel) cos(trim) - origin_depth
 * above the water.
 * Source   docs/methods/float.md 0, 2.1 (surface model R) */
#pragma once

#include <stdbool.h>
#include <stddef.h>

/* Ruled loft: point j of one station joined to point j of the next; symmetric about y = y_mid_m; a
 * flat deck at deck-edge height and plane end sections close it. All stations have the same number
 * of points. */
typedef struct {
    size_t stations, points;
    const double *x_m; /* [stations], strictly increasing */
    const double
        *y_m; /* [stations * points] half-breadth from y_mid_m, >= 0, bottom to deck edge */
    const double *z_m; /* [stations * points] */
    double y_mid_m;
} Loft;

/* An appendage: a volume at a place, taken as a ball so that emerging is smooth. */
typedef struct {
    double x_m, y_m, z_m; /* centre */
    double volume_m3;     /* >= 0 */
} Ball;

typedef struct {
    size_t lofts, balls;
    const Loft *loft; /* the hull first, then houses that count as closed volume */
    const Ball *ball;
    double whole_m3; /* its whole volume, by body_volume_m3; 0: to be reckoned where it is asked */
} Body;

typedef struct {
    double origin_depth_m; /* depth of the body origin below the water along the true vertical */
    double heel_rad, trim_rad;
} Attitude;

/* Height of a body point above the water, m (negative: under water). */
double attitude_height_m(const Attitude *at, double x_m, double y_m, double z_m);

/* The same for many points at one attitude: height = x * up.x + y * up.y + z * up.z - up.depth. */
typedef struct {
    double x, y, z, depth_m;
} WaterPlane;
WaterPlane attitude_plane(const Attitude *at);

/* Draught on the centreline at x, along the body's z axis, m. */
double attitude_draught_m(const Attitude *at, double x_m);

/* Volume and moments of what is under water, body axes; and the water plane as it lies. */
typedef struct {
    double volume_m3;
    double x_m4, y_m4, z_m4; /* first moments of the volume, body axes */
    double plane_m2;         /* area of the water plane */
    double plane_X_m3,
        plane_Y_m3; /* its first moments in earth axes: X along the ship, Y horizontal
                     * to port, both from the vertical through the body origin */
    double plane_XX_m4, plane_YY_m4, plane_XY_m4;
} Immersed;

void body_immersed(const Body *body, const Attitude *at, Immersed *out);

/* Wetted shell (sides, bottom, wet ends; not the deck), m2. */
double body_wetted_m2(const Body *body, const Attitude *at);

/* Volume of the whole closed body, m3. */
double body_volume_m3(const Body *body);

/* Whole-section area below height z at x, its moment about z = 0 and the half-breadth there (NAN
 * where the section does not reach z). Of the first loft only; false outside its length. */
bool loft_section(const Loft *loft, double x_m, double z_m, double *area_m2, double *moment_m3,
                  double *half_breadth_m);

/* Section points of a loft at x (straight interpolation), y from y_mid; false outside. y, z have
 * loft->points. */
bool loft_points(const Loft *loft, double x_m, double *y_m, double *z_m);

/* Height of the deck edge at x, m; NAN outside. */
double loft_deck_m(const Loft *loft, double x_m);

/* Why a loft cannot be used: NULL when it can. A sentence for the calculator; no station ids. */
const char *loft_fault(const Loft *loft);
