/* What is out of balance when a loaded body lies at an attitude, and how that changes: the
 * equations of docs/methods/float.md 2.6 and 2.7 in these axes, liquids free to move. Used by
 * rest.c and the lever files only.
 *
 *     R1 = V - V0    R2 = V X_B - V0 X_G    R3 = V Y_B - V0 Y_G
 *
 * Derivatives: d zeta = -dc - X dtrim + Y cos(trim) dheel for every point, dX = (zeta + c) dtrim +
 * Y sin(trim) dheel, dY = -q dheel with q = y sin(heel) + z cos(heel). A liquid adds its own
 * surface, about its own centroid. */
#pragma once

#include <stdbool.h>

#include "physics/afloat/body.h"
#include "physics/afloat/load.h"
#include "physics/afloat/rest.h"

typedef struct {
    const Body *body;
    const Load *load;
    double density;  /* kg/m3 */
    double whole;    /* volume of the whole closed body, m3 */
    double v0;       /* volume to displace, m3 */
    double size;     /* breadth or height of the body, the larger, m: scales steps */
    double solid[3]; /* moments of what cannot flow over the water's density, m4 */
} Floater;

typedef struct {
    Immersed under;
    double r[3];
    double j[3][3]; /* d r / d (depth, trim, heel) */
    double g[3];    /* moments of the whole load over the water's density, body axes, m4 */
    double free_yy; /* slack surfaces about their own fore-and-aft axis, times density ratio, m4 */
} Poise;

/* REST_FOUND when the load can float at all, else why not. */
RestOutcome floater_make(const Body *body, const Load *load, double density_kg_per_m3,
                         Floater *floater);

void poise_at(const Floater *floater, const Attitude *at, Poise *poise);

/* The same where what is under water at this attitude is known; body and density alone decide it, not the load. */
void poise_of(const Floater *floater, const Attitude *at, const Immersed *under, Poise *poise);

/* How depth and trim follow the heel while volume and (trim free) trim stay in balance, per rad. */
typedef struct {
    double depth, trim;
} Follow;
Follow poise_follow(const Poise *poise, bool trim_free);

/* Newton's step in depth, trim and heel together; false without a water plane or where she would go over her end. */
typedef struct {
    double depth, trim, heel;
    bool rights; /* the lever grows with heel there */
} Step;
bool poise_step(const Poise *poise, Step *step);

/* Takes it, shortened to what the linear picture can bear. */
void step_take(const Floater *floater, const Step *step, Attitude *at);

/* Change of the righting lever with heel while volume and trim stay in balance, m/rad. */
double poise_lever_slope(const Floater *floater, const Poise *poise, bool trim_free);

/* Righting lever, m, positive when it turns a boat heeled to starboard back. */
double poise_lever_m(const Floater *floater, const Poise *poise);

/* Depth at which the given heel and trim displace the load, to a share of it. */
bool settle_depth(const Floater *floater, Attitude *at, double share);

/* Depth, and trim when free, at the given heel; *at is start and result. False when there is none.
 */
bool settle(const Floater *floater, bool trim_free, Attitude *at, Poise *poise);

/* The same at another heel, started along the tangent; *follow is that of *at, before and after. */
bool settle_onward(const Floater *floater, bool trim_free, double heel_rad, Attitude *at,
                   Follow *follow, Poise *poise);

/* A step is small enough to be the last: what remains is its square. */
bool step_is_last(const Floater *floater, const Poise *poise, double depth, double trim,
                  double heel);
