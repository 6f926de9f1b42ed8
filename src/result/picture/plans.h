/* The base plan and every option side by side, each in the water as it would really lie. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    const char *name;  /* "the base plan", "electric drive" */
    const char *fault; /* why it cannot be drawn, or NULL; then nothing below is known */
    SideOutline hull;
    size_t houses;
    const Block *house;
    Lie lie; /* at rest; origin_depth NAN when she finds no position to rest in */
    double trim_rad, trim_spread_rad, list_rad, list_spread_rad; /* spreads 95 % */
    double freeboard_m, freeboard_spread_m;                      /* least, at the deck edge */
} PlanView;

typedef struct {
    const char *caption;
    size_t plans;
    const PlanView *plan; /* the base plan first */
} PlansPicture;
