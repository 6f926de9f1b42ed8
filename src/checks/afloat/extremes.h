/* Highest and deepest point of the boat as she lies. */
#pragma once

#include "checks/afloat/afloat.h"

typedef struct {
    const char *name; /* in the owner's words */
    double x_m, y_m, z_m;
    double above_m;  /* height above the water, negative below */
    double spread_m; /* of its height on the boat, 95 % */
} Extreme;

Extreme highest(const Afloat *afloat, const Case *c);
Extreme deepest(const Afloat *afloat, const Case *c); /* appendages included */
void find_extremes(const Afloat *afloat, Case *c);
