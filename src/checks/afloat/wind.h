/* Wind on her side: what the weather criterion, the other wind rules and the lever picture share. */
#pragma once

#include "checks/afloat/afloat.h"
#include "physics/afloat/weather.h"

typedef struct {
    double steady_m, gust_m; /* heeling levers */
    double
        roll_back_rad; /* where the roll to windward ends, on the scale of the weaker side (negative) */
} Wind;

/* False when the criterion does not apply to her waters or cannot be reckoned. */
bool wind_of_weather(const Afloat *afloat, Wind *wind);

/* The weather criterion for the governing case. */
Validity weather_of(const Afloat *afloat, Weather *weather);

/* From the centre of the side above water to the centre of the side below, m. */
double wind_lever_arm_m(const SideView *view);
double mean_draught_m(const Afloat *afloat, const Case *c);

/* Heel (>= 0, to the given side) at which her righting lever equals a heeling lever; NAN past 60 degrees. *at is how she lies. */
double heel_under_lever_rad(const Afloat *afloat, const Case *c, double lever_m, int side,
                            Attitude *at);
