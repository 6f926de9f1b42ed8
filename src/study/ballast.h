/* Places low in the bilge where fixed ballast could lie. */
#pragma once

#include "checks/solve.h"

typedef struct {
    double x_m, y_m; /* middle of the bed */
    double floor_m;  /* height of the plating below it */
    double bed_m2;   /* how much floor it covers */
    double most_kg;  /* as the bed takes, and no more than a share of what she weighs */
} BallastPlace;

enum { MOST_BALLAST_PLACES = 9 };

/* Up to nine: aft, amidships and forward; port, centre and starboard. Returns how many she has. */
size_t ballast_places(const SolveInput *solve, BallastPlace place[static MOST_BALLAST_PLACES]);
/* Height of its centre when so much lies on the bed. */
double ballast_height_m(const BallastPlace *place, double mass_kg);
