/* Severe wind and rolling (weather criterion): a steady wind heels her, she rolls to windward, a
 * gust catches her there.
 *
 *     l_w1 = P A Z / (g m)    l_w2 = 1.5 l_w1    phi_1 = 109 k X1 X2 sqrt(r s) deg    T = 2 C B /
 * sqrt(GM) r = 0.73 + 0.6 OG/d    C = 0.373 + 0.023 B/d - 0.043 L/100    b >= a
 *
 * Given    mass_kg, area_m2, lever_m (centroid of the area above the middle of the underwater
 * side), lwl_m, beam_m, draught_m, block, gm_m (free surface deducted) > 0; vcg_m; keel_area_m2 >=
 * 0, both sides together curve of levers from 0 deg, ascending, read by straight lines and mirrored
 * to windward; n 0: none flooding_rad > 0; pressure_Pa > 0 (504) Gives    Weather; without a curve
 * the heels and areas are NAN and meets is false areas run to windward from the steady heel less
 * the roll, and out to the least of flooding, 50 deg, the second crossing of the gust lever and the
 * end of the curve meets  b >= a and a steady heel of at most 16 deg Returns  VALID; EXTRAPOLATED
 * when B/d >= 3.5, OG/d outside -0.3 to 0.5 or T >= 20 s (end values of the tables hold), or when
 *          the curve ends before the area b does; REFUSED outside the ranges, when the gust lever
 * lies above the whole curve, or when the curve does not reach to windward as far as she rolls
 * Source   2008 IS Code Part A 2.3, A.749(18) 3.2 for L >= 24 m; phi_1, r, T, C read in 46
 * CFR 28.575, X1 read in an order of the Russian Ministry of Transport of 21.04.2003; wind levers,
 * X2, k, s and the ranges from memory (docs/methods/float.md 5.2, float-weather-tables.csv) Checked
 * weather-criterion in tests/cases/float.csv */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef enum { BILGE_ROUND, BILGE_SHARP, BILGE_KEELS } Bilge;

typedef struct {
    double mass_kg, area_m2, lever_m, lwl_m, beam_m, draught_m, block, vcg_m, gm_m;
    Bilge bilge;
    double keel_area_m2;
    size_t n;
    const double *heel_rad, *gz_m;
    double flooding_rad, pressure_Pa;
} WeatherCase;

typedef struct {
    double steady_m, gust_m; /* wind levers */
    double coefficient, period_s, x1, x2, k, s, r, roll_rad;
    double steady_heel_rad, gust_heel_rad,
        gust_heel_2_rad;          /* second: falling side, NAN when not reached */
    double area_a, area_b, ratio; /* m rad; b / a */
    bool meets;
} Weather;

Validity weather_criterion(const WeatherCase *given, Weather *weather);

extern const Method weather_lever_method, weather_gust_method, weather_roll_method,
    weather_r_method, weather_ratio_method;
