/* What the boat weighs: total mass and centre, liquids included as they lie with the boat upright
 * and level, and the tanks whose liquid may move. */
#pragma once

#include <stddef.h>

#include "physics/afloat/liquid.h"

typedef struct {
    double mass_kg; /* > 0, liquids included */
    double lcg_m, tcg_m, vcg_m;
    size_t tanks;
    const Tank *tank;
} Load;
