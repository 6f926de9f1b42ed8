/* Where a loaded boat comes to rest: sinkage, trim and heel, liquids free to move.
 * Source   docs/methods/float.md 2.6, 2.7, 3 */
#pragma once

#include "base/source.h"
#include "base/validity.h"
#include "physics/afloat/body.h"
#include "physics/afloat/load.h"

typedef enum {
    REST_FOUND,
    REST_SINKS,    /* the whole closed body displaces less than the load */
    REST_UNSTABLE, /* no stable position within 90 deg of upright */
    REST_NO_PLANE, /* no water plane left */
    REST_PITCHES   /* longitudinally unstable */
} RestOutcome;

typedef struct {
    RestOutcome outcome;
    Attitude at;
    Immersed under; /* at rest */
    double volume_m3, lcb_m, tcb_m, vcb_m;
    double waterplane_m2, lcf_m, tcf_m; /* centre of the water plane, body axes */
    double inertia_t_m4, inertia_l_m4;  /* about its centroid */
    double bm_m, km_m; /* km: height of M above z = 0 (along the true vertical, from B's foot) */
    double bg_m;       /* height of G (liquids as they lie) above B along the true vertical */
    double free_surface_m; /* what slack tanks take from GM */
    double gm_m, gm_l_m;   /* gm: bm - bg - free_surface; gm_l without free surface */
    double solid_gm_m;     /* gm before free surface */
} Rest;

/* Three unknowns, the stable position nearest upright; with tcg = 0 and GM < 0 the loll to
 * starboard. REFUSED (outcome says why) when there is none. density in kg/m3. */
Validity rest_find(const Body *body, const Load *load, double density_kg_per_m3, Rest *rest);

/* The same, sought no farther than a heel: REST_UNSTABLE when there is none within it. */
Validity rest_find_within(double most_heel_rad, const Body *body, const Load *load,
                          double density_kg_per_m3, Rest *rest);

/* How a load like many others lies when it is held upright: where the search for each of them can begin. */
typedef struct {
    Attitude at; /* depth NAN: it does not lie upright */
    Immersed under;
} Upright;
void hold_upright(const Body *body, const Load *load, double density_kg_per_m3, Upright *upright);

/* rest_find begun there. What is found does not depend on it beyond the tolerance of the solution. */
Validity rest_find_from(const Upright *upright, const Body *body, const Load *load,
                        double density_kg_per_m3, Rest *rest);

/* At a given heel, free to sink and (trim_free) to trim; trim_rad is the start, or the fixed trim.
 * lever_m: righting lever, positive when it turns a boat heeled to starboard back. *at is start and
 * result. */
Validity rest_at_heel(const Body *body, const Load *load, double density_kg_per_m3, double heel_rad,
                      bool trim_free, Attitude *at, double *lever_m);

extern const Method rest_volume_method, rest_trim_method, rest_heel_method, gm_method, bm_method,
    km_method, free_surface_method;
