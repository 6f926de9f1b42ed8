/* The boat with the space open to the sea that brings the water nearest to the next opening. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    const char *caption;
    SideOutline hull;
    size_t houses, openings;
    const Block *house;
    const OpeningMark *opening; /* but those of the space itself; worst: the next to go under */
    Block space;
    Lie rest, flooded;     /* flooded: origin_depth NAN when she finds no position to float in */
    const char *next_name; /* "engine vent", "the deck edge"; NULL when she is lost anyway */
    Spot next;
    double height_m, spread_m; /* of it above the water then; negative: under */
} FloodedProfilePicture;
