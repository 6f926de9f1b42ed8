/* The section at the opening that goes under first: at rest, and at the heel where water comes in.
 */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    Lie lie;     /* of the whole boat; the water line follows at the section's x */
    Spot b;      /* centre of buoyancy of the whole boat */
    double gz_m; /* NAN: at rest */
} SectionLie;

typedef struct {
    const char *caption, *situation;
    HalfSection section; /* x_m: where it is cut */
    size_t houses, openings;
    const Block *house;         /* those that the section cuts */
    const OpeningMark *opening; /* those to be shown; the worst first */
    Spot g;
    SectionLie rest,
        flooded; /* flooded: lie.heel NAN when nothing comes under, then only rest is drawn */
} HeeledSectionPicture;
